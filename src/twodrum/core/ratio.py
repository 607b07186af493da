"""Ratio iso to resin as drums, scales and pumps show it, with its uncertainty."""

from __future__ import annotations

import math
from statistics import NormalDist

from .inputs import require

# Nearer to certainty a float can't tell the tail of the normal law from nothing.
MOST_CONFIDENCE = 1 - 1e-9


def off_ratio(iso_volume: float, resin_volume: float, iso_part: float, resin_part: float) -> float:
    """By which share more iso was drawn for the resin than the data sheet asks for.

        (V_iso / V_resin) / (a / b) - 1

    Parameters
    ----------
    iso_volume : float
        Drawn, 0 or more. [m³]
    resin_volume : float
        Drawn, above 0. [m³]
    iso_part : float
        Parts of iso by volume, above 0. [1]
    resin_part : float
        Parts of resin by volume, above 0. [1]

    Returns
    -------
    float
        Share; below 0 where there is too little iso. [1]

    Valid for
    ---------
    Both volumes at one temperature.

    Source
    ------
    Definition.

    Example
    -------
    >>> round(off_ratio(0.204, 0.2, 1.0, 1.0), 6)
    0.02
    """
    require("iso_volume", iso_volume, at_least=0)
    require("resin_volume", resin_volume, above=0)
    require("iso_part", iso_part, above=0)
    require("resin_part", resin_part, above=0)
    return iso_volume / resin_volume * resin_part / iso_part - 1


def off_ratio_uncertainty(
    iso_volume: float,
    resin_volume: float,
    iso_part: float,
    resin_part: float,
    iso_uncertainty: float,
    resin_uncertainty: float,
) -> float:
    """Standard uncertainty of how far a mix is off its ratio.

        u = (1 + r) sqrt((u_iso / V_iso)² + (u_resin / V_resin)²)

    Parameters
    ----------
    iso_volume : float
        Drawn, above 0. [m³]
    resin_volume : float
        Drawn, above 0. [m³]
    iso_part : float
        Parts of iso by volume, above 0. [1]
    resin_part : float
        Parts of resin by volume, above 0. [1]
    iso_uncertainty : float
        Standard uncertainty of the iso drawn, 0 or more. [m³]
    resin_uncertainty : float
        Standard uncertainty of the resin drawn, 0 or more. [m³]

    Returns
    -------
    float
        Standard uncertainty of the share. [1]

    Valid for
    ---------
    Volumes that err independently, by little.

    Source
    ------
    JCGM 100, law of propagation of uncertainty.

    Example
    -------
    >>> round(off_ratio_uncertainty(0.2, 0.2, 1.0, 1.0, 0.003, 0.004), 6)
    0.025
    """
    require("iso_volume", iso_volume, above=0)
    require("iso_uncertainty", iso_uncertainty, at_least=0)
    require("resin_uncertainty", resin_uncertainty, at_least=0)
    off = off_ratio(iso_volume, resin_volume, iso_part, resin_part)
    return (1 + off) * math.hypot(iso_uncertainty / iso_volume, resin_uncertainty / resin_volume)


def ratio_from_levels(
    iso_drop: float, iso_diameter: float, resin_drop: float, resin_diameter: float
) -> float:
    """Ratio iso to resin by volume from how far the levels of two drums fell.

        R = Δh_iso D_iso² / (Δh_resin D_resin²)

    Parameters
    ----------
    iso_drop : float
        Fall of the level, 0 or more. [m]
    iso_diameter : float
        Of the drum inside, above 0. [m]
    resin_drop : float
        Fall of the level, above 0. [m]
    resin_diameter : float
        Of the drum inside, above 0. [m]

    Returns
    -------
    float
        Ratio. [1]

    Valid for
    ---------
    Both drums at the temperature of metering. Dipping opens an iso drum to moisture.

    Source
    ------
    Volume of a cylinder.

    Example
    -------
    >>> round(ratio_from_levels(0.1, 0.573, 0.098, 0.573), 6)
    1.020408
    """
    require("iso_drop", iso_drop, at_least=0)
    require("iso_diameter", iso_diameter, above=0)
    require("resin_drop", resin_drop, above=0)
    require("resin_diameter", resin_diameter, above=0)
    return iso_drop * iso_diameter**2 / (resin_drop * resin_diameter**2)


def ratio_from_weights(
    iso_mass: float, iso_density: float, resin_mass: float, resin_density: float
) -> float:
    """Ratio iso to resin by volume from what two drums lost in weight.

        R = (Δm_iso / ρ_iso) / (Δm_resin / ρ_resin)

    Parameters
    ----------
    iso_mass : float
        Lost by the iso drum, 0 or more. [kg]
    iso_density : float
        At the temperature of metering, above 0. [kg/m³]
    resin_mass : float
        Lost by the resin drum, above 0. [kg]
    resin_density : float
        At the temperature of metering, above 0. [kg/m³]

    Returns
    -------
    float
        Ratio. [1]

    Source
    ------
    Mass balance.

    Example
    -------
    >>> round(ratio_from_weights(112.0, 1120.0, 101.0, 1010.0), 6)
    1.0
    """
    require("iso_mass", iso_mass, at_least=0)
    require("iso_density", iso_density, above=0)
    require("resin_mass", resin_mass, above=0)
    require("resin_density", resin_density, above=0)
    return (iso_mass / iso_density) / (resin_mass / resin_density)


def ratio_from_strokes(
    iso_strokes: float,
    iso_stroke_volume: float,
    resin_strokes: float,
    resin_stroke_volume: float,
) -> float:
    """Ratio iso to resin by volume from what two pumps moved.

        R = n_iso V_iso / (n_resin V_resin)

    Parameters
    ----------
    iso_strokes : float
        0 or more. [1]
    iso_stroke_volume : float
        Delivered by one stroke, above 0. [m³]
    resin_strokes : float
        Above 0. [1]
    resin_stroke_volume : float
        Delivered by one stroke, above 0. [m³]

    Returns
    -------
    float
        Ratio. [1]

    Valid for
    ---------
    Pumps that are driven each by itself and that deliver what their strokes say; on one drive
    both always make as many strokes, and this shows nothing.

    Source
    ------
    Volume balance.

    Example
    -------
    >>> ratio_from_strokes(1600.0, 0.25e-3, 1600.0, 0.25e-3)
    1.0
    """
    require("iso_strokes", iso_strokes, at_least=0)
    require("iso_stroke_volume", iso_stroke_volume, above=0)
    require("resin_strokes", resin_strokes, above=0)
    require("resin_stroke_volume", resin_stroke_volume, above=0)
    return iso_strokes * iso_stroke_volume / (resin_strokes * resin_stroke_volume)


def detectable_difference(uncertainty: float, confidence: float, power: float) -> float:
    """Smallest true difference that a measurement would show as one.

        δ = (z((1 + c)/2) + z(w)) u

    Parameters
    ----------
    uncertainty : float
        Standard uncertainty of the measurement, 0 or more. [1]
    confidence : float
        Two-sided, that nothing is called a difference, 0.5 <= c < 1; 0.95 is usual. [1]
    power : float
        Probability that the difference is found, 0.5 to 0.999; 0.9 is usual. [1]

    Returns
    -------
    float
        Difference. [1]

    Valid for
    ---------
    A measurement that errs normally.

    Source
    ------
    Power of a test on a normal value.

    Example
    -------
    Levels that tell the ratio to 3 % show an error of 10 % nine times of ten, a smaller one
    less often:

    >>> round(detectable_difference(0.031, 0.95, 0.9), 4)
    0.1005
    """
    require("uncertainty", uncertainty, at_least=0)
    require("confidence", confidence, at_least=0.5, below=1)
    require("confidence", confidence, at_most=MOST_CONFIDENCE)
    require("power", power, at_least=0.5, at_most=0.999)
    normal = NormalDist()
    return (normal.inv_cdf((1 + confidence) / 2) + normal.inv_cdf(power)) * uncertainty
