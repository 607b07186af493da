"""Volume used, from levels, weights and strokes, with its doubt; and the share that stayed."""

from __future__ import annotations

import math

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


def volume_uncertainty_from_level(
    drum_diameter: float,
    level_drop: float,
    diameter_uncertainty: float,
    level_uncertainty: float,
) -> float:
    """Standard uncertainty of a volume from two readings of a level.

        u = sqrt((2 V u_D/D)² + 2 (π/4 D² u_h)²)

    Parameters
    ----------
    drum_diameter : float
        Inside, above 0. [m]
    level_drop : float
        0 or more. [m]
    diameter_uncertainty : float
        Standard uncertainty, 0 or more. [m]
    level_uncertainty : float
        Standard uncertainty of one reading, 0 or more. [m]

    Returns
    -------
    float
        Standard uncertainty. [m³]

    Valid for
    ---------
    Readings that err independently.

    Source
    ------
    JCGM 100, law of propagation of uncertainty.

    Example
    -------
    >>> round(volume_uncertainty_from_level(0.5715, 0.640, 0.001, 0.002) * 1000, 3)
    0.925
    """
    volume = volume_from_level(drum_diameter, level_drop)
    require("diameter_uncertainty", diameter_uncertainty, at_least=0)
    require("level_uncertainty", level_uncertainty, at_least=0)
    width = 2 * volume * diameter_uncertainty / drum_diameter
    level = math.pi / 4 * drum_diameter**2 * level_uncertainty
    return math.sqrt(width**2 + 2 * level**2)


def volume_from_weight(mass: float, density: float) -> float:
    """Volume of a liquid from its weight.

        V = m/ρ

    Parameters
    ----------
    mass : float
        0 or more. [kg]
    density : float
        At the temperature at which the volume is wanted, above 0. [kg/m³]

    Returns
    -------
    float
        Volume. [m³]

    Source
    ------
    Definition of density.

    Example
    -------
    >>> round(volume_from_weight(450.0, 1100.0) * 1000, 3)
    409.091
    """
    require("mass", mass, at_least=0)
    require("density", density, above=0)
    return mass / density


def volume_uncertainty_from_weight(
    mass: float, density: float, mass_uncertainty: float, density_uncertainty: float
) -> float:
    """Standard uncertainty of a volume from a weight.

        u = sqrt((u_m/ρ)² + (m u_ρ/ρ²)²)

    Parameters
    ----------
    mass : float
        0 or more. [kg]
    density : float
        Above 0. [kg/m³]
    mass_uncertainty : float
        Standard uncertainty, 0 or more. [kg]
    density_uncertainty : float
        Standard uncertainty, 0 or more. [kg/m³]

    Returns
    -------
    float
        Standard uncertainty. [m³]

    Source
    ------
    JCGM 100, law of propagation of uncertainty.

    Example
    -------
    >>> round(volume_uncertainty_from_weight(450.0, 1100.0, 0.5, 5.0) * 1000, 4)
    1.9143
    """
    volume = volume_from_weight(mass, density)
    require("mass_uncertainty", mass_uncertainty, at_least=0)
    require("density_uncertainty", density_uncertainty, at_least=0)
    return math.hypot(mass_uncertainty, volume * density_uncertainty) / density


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


def volume_uncertainty_from_strokes(
    strokes: float,
    stroke_volume: float,
    strokes_uncertainty: float,
    stroke_volume_uncertainty: float,
) -> float:
    """Standard uncertainty of a volume from strokes.

        u = sqrt((V_s u_n)² + (n u_V)²)

    Parameters
    ----------
    strokes : float
        0 or more. [1]
    stroke_volume : float
        Above 0. [m³]
    strokes_uncertainty : float
        Standard uncertainty of the count, 0 or more. [1]
    stroke_volume_uncertainty : float
        Standard uncertainty of one stroke, 0 or more; it is the same for all strokes. [m³]

    Returns
    -------
    float
        Standard uncertainty. [m³]

    Source
    ------
    JCGM 100, law of propagation of uncertainty.

    Example
    -------
    >>> round(volume_uncertainty_from_strokes(1600.0, 0.25e-3, 1.0, 4e-6) * 1000, 4)
    6.4049
    """
    volume_from_strokes(strokes, stroke_volume)
    require("strokes_uncertainty", strokes_uncertainty, at_least=0)
    require("stroke_volume_uncertainty", stroke_volume_uncertainty, at_least=0)
    return math.hypot(stroke_volume * strokes_uncertainty, strokes * stroke_volume_uncertainty)


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


def transfer_yield_uncertainty(
    area: float,
    film_thickness: float,
    volume_solids: float,
    used_volume: float,
    area_uncertainty: float,
    film_uncertainty: float,
    used_volume_uncertainty: float,
) -> float:
    """Standard uncertainty of the share that stayed on the surface.

        u/η = sqrt((u_A/A)² + (u_t/t)² + (u_V/V)²)

    Parameters
    ----------
    area : float
        Covered, above 0. [m²]
    film_thickness : float
        Mean dry film measured, above 0. [m]
    volume_solids : float
        0 < VS <= 1. [1]
    used_volume : float
        Mixed, above 0. [m³]
    area_uncertainty : float
        Standard uncertainty, 0 or more. [m²]
    film_uncertainty : float
        Standard uncertainty of the mean, 0 or more. [m]
    used_volume_uncertainty : float
        Standard uncertainty, 0 or more. [m³]

    Returns
    -------
    float
        Standard uncertainty. [1]

    Valid for
    ---------
    Area, film and volume that err independently.

    Source
    ------
    JCGM 100, law of propagation of uncertainty.

    Example
    -------
    >>> round(transfer_yield_uncertainty(180, 0.00205, 1, 0.4045, 2, 6e-5, 0.00236), 4)
    0.0291
    """
    share = transfer_yield(area, film_thickness, volume_solids, used_volume)
    require("area", area, above=0)
    require("film_thickness", film_thickness, above=0)
    require("area_uncertainty", area_uncertainty, at_least=0)
    require("film_uncertainty", film_uncertainty, at_least=0)
    require("used_volume_uncertainty", used_volume_uncertainty, at_least=0)
    return share * math.hypot(
        area_uncertainty / area,
        film_uncertainty / film_thickness,
        used_volume_uncertainty / used_volume,
    )
