"""Volume used, from levels, weights and strokes, its uncertainty, and the share that stayed."""

from __future__ import annotations

import math
from typing import Optional

from .inputs import require


def volume_from_level(drum_diameter: float, level_drop: float) -> float:
    """Volume that left an upright drum, from the fall of its level.

        V = π/4 D² Δh

    Parameters
    ----------
    drum_diameter : float
        Inside, above 0. [m]
    level_drop : float
        0 or more. [m]

    Returns
    -------
    float
        Volume at the drum's temperature. [m³]

    Valid for
    ---------
    A drum without ribs or dents. Dipping opens an iso drum to moisture: prefer weight.

    Source
    ------
    Volume of a cylinder.

    Example
    -------
    >>> round(volume_from_level(0.5715, 0.640) * 1000, 3)
    164.173
    """
    require("drum_diameter", drum_diameter, above=0)
    require("level_drop", level_drop, at_least=0)
    return math.pi / 4 * drum_diameter**2 * level_drop


def volume_from_strokes(strokes: float, stroke_volume: float) -> float:
    """Volume that a pump delivered.

        V = n V_s

    Parameters
    ----------
    strokes : float
        While spraying or purging, 0 or more; recirculated strokes come back. [1]
    stroke_volume : float
        Delivered by one stroke, above 0. [m³]

    Returns
    -------
    float
        Volume. [m³]

    Source
    ------
    Volume balance.

    Example
    -------
    >>> round(volume_from_strokes(1600.0, 0.25e-3) * 1000, 6)
    400.0
    """
    require("strokes", strokes, at_least=0)
    require("stroke_volume", stroke_volume, above=0)
    return strokes * stroke_volume


def transfer_yield(
    area: float, film_thickness: float, volume_solids: float, used_volume: float
) -> float:
    """Share of the volume used that stayed on the surface as film.

        η = A t / (VS V)

    Parameters
    ----------
    area : float
        Covered, 0 or more. [m²]
    film_thickness : float
        Mean dry film measured, 0 or more. [m]
    volume_solids : float
        0 < VS <= 1. [1]
    used_volume : float
        Mixed, above 0. [m³]

    Returns
    -------
    float
        Share; above 1 one of the four is wrong. [1]

    Source
    ------
    Volume balance.

    Example
    -------
    >>> round(transfer_yield(180.0, 0.00205, 1.0, 0.40452174), 4)
    0.9122
    """
    require("area", area, at_least=0)
    require("film_thickness", film_thickness, at_least=0)
    require("volume_solids", volume_solids, above=0, at_most=1)
    require("used_volume", used_volume, above=0)
    return area * film_thickness / (volume_solids * used_volume)


def accounted_volume(
    surface_volume: float, sprayed_volume: float, lost_volume: Optional[float] = None
) -> float:
    """What can be accounted for: on the surface and lost, or all where the loss was not measured.

        S = N + V_lost where it was measured, else S = V

    Parameters
    ----------
    surface_volume : float
        On the surface, 0 or more. [m³]
    sprayed_volume : float
        Mixed and sprayed, 0 or more. [m³]
    lost_volume : float, optional
        Lost, where it was measured, 0 to what was sprayed. [m³]

    Returns
    -------
    float
        Volume. [m³]

    Source
    ------
    Volume balance.

    Example
    -------
    >>> round(accounted_volume(0.5, 0.7, 0.15), 6)
    0.65
    """
    require("surface_volume", surface_volume, at_least=0)
    require("sprayed_volume", sprayed_volume, at_least=0)
    if lost_volume is None:
        return sprayed_volume
    require("lost_volume", lost_volume, at_least=0, at_most=sprayed_volume)
    return surface_volume + lost_volume
