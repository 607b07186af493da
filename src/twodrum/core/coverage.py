"""Loss, surface profile and the volume to supply."""

from __future__ import annotations

from .inputs import require


def supplied_volume(theoretical_volume: float, loss_share: float) -> float:
    """Volume to supply when the loss is a share of what is supplied.

        V_supplied = V / (1 - L)

    Parameters
    ----------
    theoretical_volume : float
        Volume that must arrive on the surface, 0 or more. [m³]
    loss_share : float
        Lost share of the volume supplied, 0 <= L < 1. [1]

    Returns
    -------
    float
        Volume supplied. [m³]

    Valid for
    ---------
    Loss as a share of the supplied volume. An allowance added to the
    theoretical volume is another number: `volume_with_allowance`.

    Source
    ------
    Volume balance.

    Example
    -------
    1 m³ on the surface at 25 % loss:

    >>> round(supplied_volume(1.0, 0.25), 6)
    1.333333
    """
    require("theoretical_volume", theoretical_volume, at_least=0)
    require("loss_share", loss_share, at_least=0, below=1)
    return theoretical_volume / (1 - loss_share)


def volume_with_allowance(theoretical_volume: float, allowance_added: float) -> float:
    """Volume to supply when an allowance is added to the theoretical volume.

        V_supplied = V (1 + a)

    Parameters
    ----------
    theoretical_volume : float
        Volume that must arrive on the surface, 0 or more. [m³]
    allowance_added : float
        Allowance as a share of the theoretical volume, 0 or more. [1]

    Returns
    -------
    float
        Volume supplied. [m³]

    Valid for
    ---------
    Allowance as a share of the theoretical volume, not of the supplied one.

    Source
    ------
    Volume balance.

    Example
    -------
    >>> round(volume_with_allowance(1.0, 0.25), 6)
    1.25
    """
    require("theoretical_volume", theoretical_volume, at_least=0)
    require("allowance_added", allowance_added, at_least=0)
    return theoretical_volume * (1 + allowance_added)


def allowance_equal_to_loss(loss_share: float) -> float:
    """Allowance added that supplies as much as a loss share of the supplied volume.

        a = L / (1 - L)

    Parameters
    ----------
    loss_share : float
        Lost share of the volume supplied, 0 <= L < 1. [1]

    Returns
    -------
    float
        Allowance as a share of the theoretical volume. [1]

    Valid for
    ---------
    0 <= L < 1.

    Source
    ------
    Volume balance.

    Example
    -------
    >>> round(allowance_equal_to_loss(0.30), 6)
    0.428571
    """
    require("loss_share", loss_share, at_least=0, below=1)
    return loss_share / (1 - loss_share)


def profile_volume(
    area: float, profile_height: float, profile_fill: float, volume_solids: float
) -> float:
    """Coating that fills the valleys of a blasted surface below the peaks.

        V = A k h / VS

    Parameters
    ----------
    area : float
        Blasted area, 0 or more. [m²]
    profile_height : float
        Peak to valley height, 0 or more. [m]
    profile_fill : float
        Share of the height that must be filled, 0 to 1: 1/2 for a symmetric
        profile (saw-tooth, sine); trade documents use 1/2 to 1. [1]
    volume_solids : float
        Share of the volume that stays, 0 < VS <= 1. [1]

    Returns
    -------
    float
        Volume of coating. [m³]

    Valid for
    ---------
    A film that is measured above the peaks.

    Source
    ------
    Volume balance.

    Example
    -------
    50 µm profile, half filled, in mL for each m²:

    >>> round(profile_volume(1.0, 50e-6, 0.5, 1.0) * 1e6, 6)
    25.0
    """
    require("area", area, at_least=0)
    require("profile_height", profile_height, at_least=0)
    require("profile_fill", profile_fill, at_least=0, at_most=1)
    require("volume_solids", volume_solids, above=0, at_most=1)
    return area * profile_height * profile_fill / volume_solids


def lining_volume(
    film_volume: float, profile_volume: float, loss_share: float, fixed_volume: float
) -> float:
    """Mixed lining to supply: film and valleys grossed up by the loss, plus fixed volumes.

        V = (V_film + V_profile) / (1 - L) + V_fixed

    Parameters
    ----------
    film_volume : float
        Theoretical volume of the film, 0 or more. [m³]
    profile_volume : float
        Volume of the surface profile, 0 or more. [m³]
    loss_share : float
        Lost share of the volume supplied for spraying, 0 <= L < 1. [1]
    fixed_volume : float
        Test panels, purging and hose fill, 0 or more; no loss on top. [m³]

    Returns
    -------
    float
        Volume of mixed lining. [m³]

    Valid for
    ---------
    Loss as a share of the supplied volume.

    Source
    ------
    Volume balance.

    Example
    -------
    >>> round(lining_volume(0.9, 0.0, 0.25, 0.02), 6)
    1.22
    """
    require("film_volume", film_volume, at_least=0)
    require("profile_volume", profile_volume, at_least=0)
    require("loss_share", loss_share, at_least=0, below=1)
    require("fixed_volume", fixed_volume, at_least=0)
    return (film_volume + profile_volume) / (1 - loss_share) + fixed_volume


def volume_per_area(volume: float, area: float) -> float:
    """Volume used or supplied for each unit of area.

        v = V / A

    Parameters
    ----------
    volume : float
        Volume, 0 or more. [m³]
    area : float
        Area, above 0. [m²]

    Returns
    -------
    float
        Volume for each unit of area. [m³/m²]

    Valid for
    ---------
    Any area above 0.

    Source
    ------
    Volume balance.

    Example
    -------
    >>> volume_per_area(3.0, 2.0)
    1.5
    """
    require("volume", volume, at_least=0)
    require("area", area, above=0)
    return volume / area
