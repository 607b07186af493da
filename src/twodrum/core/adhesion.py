"""Tests on the cured film: pull-off stress and candidate voltages of a holiday test."""

from __future__ import annotations

import math

from .inputs import InputError, require
from .quantiles import prediction_limit_factor

THIN_UP_TO, THICK_FROM = 1.016e-3, 1.041e-3


def pull_off_stress(force: float, dolly_diameter: float) -> float:
    """Stress at which a glued dolly came off.

        σ = 4 F / (π d²)

    Parameters
    ----------
    force : float
        0 or more. [N]
    dolly_diameter : float
        Above 0. [m]

    Returns
    -------
    float
        Stress. [Pa]

    Valid for
    ---------
    Record how it broke: a failure of the glue is only a lower bound.

    Source
    ------
    Definition; dollies of ISO 4624 and ASTM D4541.

    Example
    -------
    >>> round(pull_off_stress(2000.0, 0.020) / 1e6, 6)
    6.366198
    """
    require("force", force, at_least=0)
    require("dolly_diameter", dolly_diameter, above=0)
    return 4 * force / (math.pi * dolly_diameter**2)


def characteristic_value_factor(count: float) -> float:
    """Standard deviations below the mean at which 5 % of further values are expected.

        k_n = t(0.95, n - 1) sqrt(1 + 1/n)

    Parameters
    ----------
    count : float
        Tests, at least 2. [1]

    Returns
    -------
    float
        Factor. [1]

    Valid for
    ---------
    Values that scatter normally, spread not known beforehand.

    Source
    ------
    EN 1990, Annex D (from memory; its table rounds).

    Example
    -------
    >>> round(characteristic_value_factor(10.0), 4)
    1.9226
    """
    return prediction_limit_factor(count, 0.9)


def spark_voltage_by_root(film_thickness: float) -> float:
    """Candidate voltage of a holiday test by the square root of the film.

        V = 250 sqrt(t in µm)

    Parameters
    ----------
    film_thickness : float
        Above 0. [m]

    Returns
    -------
    float
        Candidate: confirm in the specification, and stay below the supplier's limit. [V]

    Valid for
    ---------
    Films that are dry and cured; rules differ by a factor of two.

    Source
    ------
    Form of NACE SP0274 and AS 3894.1.

    Example
    -------
    >>> round(spark_voltage_by_root(0.002))
    11180
    """
    require("film_thickness", film_thickness, above=0)
    return 250 * math.sqrt(film_thickness * 1e6)


def spark_voltage_of_pipeline(film_thickness: float) -> float:
    """Candidate voltage of a holiday test by the older rule for pipelines.

        V = 3294 sqrt(t in mm) below 1.016 mm, 7843 sqrt(t in mm) above 1.041 mm

    Parameters
    ----------
    film_thickness : float
        Above 0, not between 1.016 and 1.041 mm, where the rule says nothing. [m]

    Returns
    -------
    float
        Candidate: confirm in the specification, and stay below the supplier's limit. [V]

    Valid for
    ---------
    Pipelines; the newest edition has another scope.

    Source
    ------
    ASTM G62, older edition (from memory).

    Example
    -------
    >>> round(spark_voltage_of_pipeline(0.002))
    11092
    """
    require("film_thickness", film_thickness, above=0)
    if THIN_UP_TO < film_thickness < THICK_FROM:
        raise InputError("film_thickness", film_thickness, "at least", THICK_FROM)
    factor = 3294 if film_thickness <= THIN_UP_TO else 7843
    return factor * math.sqrt(film_thickness * 1000)


def spark_voltage_by_thickness(film_thickness: float, volts_per_thickness: float) -> float:
    """Candidate voltage of a holiday test by so much for each thickness.

        V = t v

    Parameters
    ----------
    film_thickness : float
        Above 0. [m]
    volts_per_thickness : float
        Above 0; 100 V/mil for thick elastomers, 125 to 150 V/mil for thin epoxy. [V/m]

    Returns
    -------
    float
        Candidate: confirm in the specification, and stay below the supplier's limit. [V]

    Source
    ------
    Common practice, no source.

    Example
    -------
    >>> round(spark_voltage_by_thickness(0.002, 100 / 25.4e-6))
    7874
    """
    require("film_thickness", film_thickness, above=0)
    require("volts_per_thickness", volts_per_thickness, above=0)
    return film_thickness * volts_per_thickness


def spark_voltage_of_line_pipe(film_thickness: float) -> float:
    """Candidate voltage of a holiday test by the practice for plastic-coated line pipe.

        V = 5 kV + 5 kV/mm t, at most 20 kV

    Parameters
    ----------
    film_thickness : float
        Above 0. [m]

    Returns
    -------
    float
        Candidate: confirm in the specification, and stay below the supplier's limit. [V]

    Source
    ------
    Practice for line pipe as printed by the trade.

    Example
    -------
    >>> spark_voltage_of_line_pipe(0.002)
    15000.0
    """
    require("film_thickness", film_thickness, above=0)
    return min(20e3, 5e3 + 5e6 * film_thickness)
