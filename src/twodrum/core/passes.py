"""Spraying in passes: film of a pass, gun speed, and how even overlapping passes are."""

from __future__ import annotations

import math

from .inputs import require, require_one_of

FANS = ("triangular", "parabolic", "uniform")


def film_per_pass(
    pump_output: float,
    transfer_share: float,
    volume_solids: float,
    fan_width: float,
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
    fan_width : float
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
    require("fan_width", fan_width, above=0)
    require("gun_speed", gun_speed, above=0)
    require("overlap", overlap, at_least=0, below=1)
    landed = pump_output * transfer_share * volume_solids
    return landed / (fan_width * gun_speed * (1 - overlap))


def gun_speed(
    pump_output: float,
    transfer_share: float,
    volume_solids: float,
    fan_width: float,
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
    fan_width : float
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
    return film_per_pass(pump_output, transfer_share, volume_solids, fan_width, pass_build, overlap)


def overlap_unevenness(fan: str, overlap: float) -> float:
    """Spread of the film under many parallel strokes, as a share of its mean.

        triangular: CV² = -1 + 10 S/3 - 4 S² + 2 S³ - S⁴/3
        parabolic:  CV² = -1 + 9 S/5 - 3 S³/2 + 3 S⁴/4 - 3 S⁶/80,   S = 2 (1 - o)
        uniform:    CV = sqrt(φ (1 - φ))/r,   r = 1/(1 - o),   φ = r - floor r

    Parameters
    ----------
    fan : str
        "triangular", "parabolic" or "uniform".
    overlap : float
        0 to 0.5. [1]

    Returns
    -------
    float
        Coefficient of variation of the film. [1]

    Valid for
    ---------
    A what-if: a flat surface and a fan of just this profile. The data sheet's overlap holds.

    Source
    ------
    Exact integrals over one stroke spacing.

    Example
    -------
    >>> round(overlap_unevenness("parabolic", 0.5), 6)
    0.111803
    """
    require_one_of("fan", fan, FANS)
    require("overlap", overlap, at_least=0, at_most=0.5)
    s = 2 * (1 - overlap)
    if fan == "uniform":
        r = 1 / (1 - overlap)
        part = r - math.floor(r + 1e-12)
        return math.sqrt(max(0.0, part * (1 - part))) / r
    if fan == "triangular":
        square = -1 + 10 * s / 3 - 4 * s**2 + 2 * s**3 - s**4 / 3
    else:
        square = -1 + 9 * s / 5 - 3 * s**3 / 2 + 3 * s**4 / 4 - 3 * s**6 / 80
    # Rounding leaves about 1e-16 where the true value is 0.
    return math.sqrt(square) if square > 1e-14 else 0.0
