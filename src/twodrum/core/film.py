"""Film thickness wet and dry, and the volume that a film holds."""

from __future__ import annotations

from .inputs import ceiling, require


def dry_film_thickness(wet_film_thickness: float, volume_solids: float) -> float:
    """Film that stays when the volatile part of a wet film has left.

        DFT = WFT VS

    Parameters
    ----------
    wet_film_thickness : float
        Thickness as applied, above 0. [m]
    volume_solids : float
        Share of the volume that stays, 0 < VS <= 1. [1]

    Returns
    -------
    float
        Dry film thickness. [m]

    Valid for
    ---------
    Films that shrink only by what evaporates.

    Source
    ------
    Volume balance.

    Example
    -------
    250 µm wet at 50 % solids:

    >>> round(dry_film_thickness(250e-6, 0.5) * 1e6, 6)
    125.0
    """
    require("wet_film_thickness", wet_film_thickness, above=0)
    require("volume_solids", volume_solids, above=0, at_most=1)
    return wet_film_thickness * volume_solids


def wet_film_thickness(film_thickness: float, volume_solids: float) -> float:
    """Film to apply wet so that the wanted dry film stays.

        WFT = DFT / VS

    Parameters
    ----------
    film_thickness : float
        Dry film thickness, above 0. [m]
    volume_solids : float
        Share of the volume that stays, 0 < VS <= 1. [1]

    Returns
    -------
    float
        Wet film thickness. [m]

    Valid for
    ---------
    Films that shrink only by what evaporates.

    Source
    ------
    Volume balance.

    Example
    -------
    >>> round(wet_film_thickness(125e-6, 0.5) * 1e6, 6)
    250.0
    """
    require("film_thickness", film_thickness, above=0)
    require("volume_solids", volume_solids, above=0, at_most=1)
    return film_thickness / volume_solids


def spreading_rate(film_thickness: float, volume_solids: float) -> float:
    """Area that one volume of coating covers, without loss.

        S = VS / DFT

    Parameters
    ----------
    film_thickness : float
        Dry film thickness, above 0. [m]
    volume_solids : float
        Share of the volume that stays, 0 < VS <= 1. [1]

    Returns
    -------
    float
        Theoretical spreading rate. [m²/m³]

    Valid for
    ---------
    A smooth surface and no loss.

    Source
    ------
    Volume balance.

    Example
    -------
    65 % solids at 75 µm, in m² per litre:

    >>> round(spreading_rate(75e-6, 0.65) / 1000, 4)
    8.6667
    """
    require("film_thickness", film_thickness, above=0)
    require("volume_solids", volume_solids, above=0, at_most=1)
    return volume_solids / film_thickness


def coating_volume(area: float, film_thickness: float, volume_solids: float) -> float:
    """Volume of coating that the film itself holds, before any loss.

        V = A DFT / VS

    Parameters
    ----------
    area : float
        Area to coat, 0 or more. [m²]
    film_thickness : float
        Dry film thickness, 0 or more (0: this coat is not asked for). [m]
    volume_solids : float
        Share of the volume that stays, 0 < VS <= 1. [1]

    Returns
    -------
    float
        Theoretical volume. [m³]

    Valid for
    ---------
    A smooth surface; see `profile_volume` for a blasted one.

    Source
    ------
    Volume balance.

    Example
    -------
    100 ft² at 80 mil is 4.987 US gal:

    >>> round(coating_volume(9.290304, 0.002032, 1.0) / 0.003785411784, 3)
    4.987
    """
    require("area", area, at_least=0)
    require("film_thickness", film_thickness, at_least=0)
    require("volume_solids", volume_solids, above=0, at_most=1)
    return area * film_thickness / volume_solids


def pass_count(film_thickness: float, pass_build: float, ceiling_guard: float) -> int:
    """Passes needed to build a film.

        n = ceil(DFT / build - guard)

    Parameters
    ----------
    film_thickness : float
        Dry film thickness, above 0. [m]
    pass_build : float
        Film that one pass builds, overlap included, above 0. [m]
    ceiling_guard : float
        Smallest excess that counts as one more pass, 0 or more. [1]

    Returns
    -------
    int
        Number of passes. [1]

    Valid for
    ---------
    Passes of equal build; the first one is often sprayed lighter.

    Source
    ------
    Volume balance.

    Example
    -------
    >>> pass_count(0.0015, 0.0004, 1e-9)
    4
    """
    require("film_thickness", film_thickness, above=0)
    require("pass_build", pass_build, above=0)
    require("ceiling_guard", ceiling_guard, at_least=0, below=1)
    return ceiling(film_thickness / pass_build, ceiling_guard)
