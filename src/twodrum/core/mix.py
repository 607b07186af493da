"""Iso and resin: ratio and volumes."""

from __future__ import annotations

from .inputs import require, require_one_of

LINING = ("iso", "resin")
# The two that a second lining of the same job is mixed from.
SECOND = ("second iso", "second resin")
COATS = ("primer", "top coat", "second primer")
COMPONENTS = (*LINING, "primer", "top coat", *SECOND, "second primer")
OTHER_SIDE = {"iso": "resin", "resin": "iso"}


def lining_ratio(component: str, ratio_part: float) -> float:
    """Parts of a component in the mix of its lining; a coat of its own has none.

        a for iso and resin, 0 for anything else

    Parameters
    ----------
    component : str
        One of `COMPONENTS`.
    ratio_part : float
        Parts by volume, more than 0; 0 for primers and top coat. [1]

    Returns
    -------
    float
        Parts by volume. [1]

    Source
    ------
    Definition.

    Example
    -------
    >>> lining_ratio("iso", 1.0)
    1.0
    """
    require_one_of("component", component, COMPONENTS)
    if component in COATS:
        require("ratio_part", ratio_part, at_least=0, at_most=0)
    else:
        require("ratio_part", ratio_part, above=0)
    return ratio_part


def own_coat_film(component: str, coat_film: float) -> float:
    """Film of a coat of its own: primer and top coat have one, iso and resin have none.

        0 for iso and resin, above 0 for anything else

    Parameters
    ----------
    component : str
        One of `COMPONENTS`.
    coat_film : float
        Dry film of the coat, 0 or more. [m]

    Returns
    -------
    float
        Dry film of the coat, 0 or more. [m]

    Source
    ------
    Definition.

    Example
    -------
    >>> own_coat_film("primer", 75e-6)
    7.5e-05
    """
    require_one_of("component", component, COMPONENTS)
    if component in COATS:
        require("coat_film", coat_film, above=0)
    else:
        require("coat_film", coat_film, at_least=0, at_most=0)
    return coat_film


def coat_is_there(area: float, coat_film: float) -> float:
    """1; refused where an area asks for a coat that there is none of.

        1, where the film of the coat is above 0 or no area asks for it

    Parameters
    ----------
    area : float
        Area that asks for the coat, 0 or more. [m²]
    coat_film : float
        Dry film of the coat; 0 where there is none. [m]

    Returns
    -------
    float
        1. [1]

    Source
    ------
    Definition.

    Example
    -------
    >>> coat_is_there(40.0, 75e-6)
    1.0
    """
    require("area", area, at_least=0)
    if area > 0:
        require("coat_film", coat_film, above=0)
    return 1.0


def loss_over_all(on_surface: float, supplied: float) -> float:
    """Share of what is supplied that is lost, where it was supplied at several losses.

        L = 1 - V / S, 0 where nothing is supplied

    Parameters
    ----------
    on_surface : float
        Volume on the surface, 0 or more. [m³]
    supplied : float
        Volume supplied for it, not below it but for noise. [m³]

    Returns
    -------
    float
        Loss as a share of what is supplied. [1]

    Source
    ------
    Definition.

    Example
    -------
    >>> loss_over_all(0.375, 0.5)
    0.25
    """
    require("on_surface", on_surface, at_least=0)
    require("supplied", supplied, at_least=0)
    return max(0.0, 1.0 - on_surface / supplied) if supplied > 0 else 0.0


def volume_for_each_part(volume: float, parts: float) -> float:
    """Volume of a mix for each of its parts; none of what is not mixed.

        V / p, 0 where V is 0

    Parameters
    ----------
    volume : float
        Volume of the mix, 0 or more. [m³]
    parts : float
        Parts by volume together; above 0 where there is any volume. [1]

    Returns
    -------
    float
        Volume for each part. [m³]

    Source
    ------
    Definition.

    Example
    -------
    >>> volume_for_each_part(0.3, 2.0)
    0.15
    """
    require("volume", volume, at_least=0)
    if volume == 0:
        return 0.0
    require("parts", parts, above=0)
    return volume / parts


def mixed_density(
    iso_part: float, resin_part: float, iso_density: float, resin_density: float
) -> float:
    """Density of the mix when volumes add up.

        ρ = (a ρ_a + b ρ_b) / (a + b)

    Parameters
    ----------
    iso_part : float
        Parts of iso by volume, above 0. [1]
    resin_part : float
        Parts of resin by volume, above 0. [1]
    iso_density : float
        Above 0. [kg/m³]
    resin_density : float
        At the same temperature, above 0. [kg/m³]

    Returns
    -------
    float
        Density of the mix. [kg/m³]

    Source
    ------
    Mass balance; no volume change on mixing and curing.

    Example
    -------
    >>> mixed_density(1.0, 1.0, 1120.0, 1020.0)
    1070.0
    """
    require("iso_density", iso_density, above=0)
    require("resin_density", resin_density, above=0)
    total = _parts(iso_part, resin_part)
    return (iso_part * iso_density + resin_part * resin_density) / total


def mixed_volume_solids(
    iso_part: float, resin_part: float, iso_solids: float, resin_solids: float
) -> float:
    """Volume solids of the mix when volumes add up.

        VS = (a VS_a + b VS_b) / (a + b)

    Parameters
    ----------
    iso_part : float
        Parts of iso by volume, above 0. [1]
    resin_part : float
        Parts of resin by volume, above 0. [1]
    iso_solids : float
        Volume solids of iso, 0 < VS <= 1. [1]
    resin_solids : float
        Volume solids of resin, 0 < VS <= 1. [1]

    Returns
    -------
    float
        Volume solids of the mix. [1]

    Source
    ------
    Volume balance; no volume change on mixing and curing.

    Example
    -------
    >>> round(mixed_volume_solids(1.0, 1.0, 1.0, 0.96), 6)
    0.98
    """
    require("iso_solids", iso_solids, above=0, at_most=1)
    require("resin_solids", resin_solids, above=0, at_most=1)
    total = _parts(iso_part, resin_part)
    return (iso_part * iso_solids + resin_part * resin_solids) / total


def mixed_yield(
    iso_volume: float, resin_volume: float, iso_part: float, resin_part: float
) -> float:
    """Mixed volume that a given stock of both components gives.

        V = (a + b) min(V_a / a, V_b / b)

    Parameters
    ----------
    iso_volume : float
        Usable iso, 0 or more. [m³]
    resin_volume : float
        Usable resin, 0 or more. [m³]
    iso_part : float
        Parts of iso by volume, above 0. [1]
    resin_part : float
        Parts of resin by volume, above 0. [1]

    Returns
    -------
    float
        Mixed volume. [m³]

    Source
    ------
    Volume balance; the scarcer component decides.

    Example
    -------
    >>> round(mixed_yield(0.6, 0.5, 1.0, 1.0), 6)
    1.0
    """
    require("iso_volume", iso_volume, at_least=0)
    require("resin_volume", resin_volume, at_least=0)
    total = _parts(iso_part, resin_part)
    return total * min(iso_volume / iso_part, resin_volume / resin_part)


def _parts(iso_part: float, resin_part: float) -> float:
    require("iso_part", iso_part, above=0)
    require("resin_part", resin_part, above=0)
    return iso_part + resin_part
