"""Spraying in passes: film of a pass and the gun speed that builds it."""

from __future__ import annotations

from .inputs import require


def film_per_pass(
    pump_output: float,
    transfer_share: float,
    volume_solids: float,
    pattern_width: float,
    gun_speed: float,
    overlap: float,
) -> float:
    """Mean film that one coverage in one direction builds.

        t = q η VS / (w v (1 - o))

    Parameters
    ----------
    pump_output : float
        Both sides together, 0 or more. [m³/s]
    transfer_share : float
        Share that lands on the surface, 0 < η <= 1. [1]
    volume_solids : float
        0 < VS <= 1. [1]
    pattern_width : float
        Full width of the fan on the surface, above 0. [m]
    gun_speed : float
        Above 0. [m/s]
    overlap : float
        Share of the width that the next stroke covers again, 0 <= o < 1. [1]

    Returns
    -------
    float
        Dry film. [m]

    Valid for
    ---------
    A flat surface, steady speed and distance.

    Source
    ------
    Volume balance.

    Example
    -------
    >>> round(film_per_pass(4e-3 / 60, 0.9, 1.0, 0.30, 0.8, 0.5) * 1000, 6)
    0.5
    """
    require("pump_output", pump_output, at_least=0)
    require("transfer_share", transfer_share, above=0, at_most=1)
    require("volume_solids", volume_solids, above=0, at_most=1)
    require("pattern_width", pattern_width, above=0)
    require("gun_speed", gun_speed, above=0)
    require("overlap", overlap, at_least=0, below=1)
    landed = pump_output * transfer_share * volume_solids
    return landed / (pattern_width * gun_speed * (1 - overlap))


def gun_speed(
    pump_output: float,
    transfer_share: float,
    volume_solids: float,
    pattern_width: float,
    pass_build: float,
    overlap: float,
) -> float:
    """Speed of the gun that builds a wanted film in one pass.

        v = q η VS / (w t (1 - o))

    Parameters
    ----------
    pump_output : float
        Both sides together, 0 or more. [m³/s]
    transfer_share : float
        Share that lands on the surface, 0 < η <= 1. [1]
    volume_solids : float
        0 < VS <= 1. [1]
    pattern_width : float
        Full width of the fan on the surface, above 0. [m]
    pass_build : float
        Dry film of one pass, above 0. [m]
    overlap : float
        Share of the width that the next stroke covers again, 0 <= o < 1. [1]

    Returns
    -------
    float
        Gun speed. [m/s]

    Valid for
    ---------
    A flat surface, steady speed and distance.

    Source
    ------
    Volume balance.

    Example
    -------
    >>> round(gun_speed(4e-3 / 60, 0.9, 1.0, 0.30, 0.0004, 0.5), 9)
    1.0
    """
    require("pass_build", pass_build, above=0)
    # The balance is symmetric in film and speed.
    return film_per_pass(
        pump_output, transfer_share, volume_solids, pattern_width, pass_build, overlap
    )


def area_rate(
    pump_output: float, transfer_share: float, volume_solids: float, film_thickness: float
) -> float:
    """Area of finished lining that a gun makes in a time while it sprays.

        Ȧ = q η VS / t

    Parameters
    ----------
    pump_output : float
        Both sides together, 0 or more. [m³/s]
    transfer_share : float
        Share that lands on the surface, 0 < η <= 1. [1]
    volume_solids : float
        0 < VS <= 1. [1]
    film_thickness : float
        Dry film of all passes together, above 0. [m]

    Returns
    -------
    float
        Area in each time; overlap and passes do not change it. [m²/s]

    Source
    ------
    Volume balance.

    Example
    -------
    4 L/min, 90 % landing, 1.5 mm, in m²/min:

    >>> round(area_rate(4e-3 / 60, 0.9, 1.0, 0.0015) * 60, 9)
    2.4
    """
    require("pump_output", pump_output, at_least=0)
    require("transfer_share", transfer_share, above=0, at_most=1)
    require("volume_solids", volume_solids, above=0, at_most=1)
    require("film_thickness", film_thickness, above=0)
    return pump_output * transfer_share * volume_solids / film_thickness
