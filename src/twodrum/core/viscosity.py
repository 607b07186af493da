"""Viscosity of a liquid against its temperature, from two or three points of its data sheet."""

from __future__ import annotations

import math

from .heating import COLDEST, HOTTEST
from .inputs import InputError, require


def _require_points(*points: tuple[float, float]) -> None:
    for number, (temperature, viscosity) in enumerate(points, 1):
        name = f"temperature_{number}"
        require(name, temperature, at_least=COLDEST, at_most=HOTTEST)
        if number > 1:
            require(name, temperature, above=points[number - 2][0])
        require(f"viscosity_{number}", viscosity, above=0)
        if number > 1:
            require(f"viscosity_{number}", viscosity, below=points[number - 2][1])


def viscosity_slope(
    temperature_1: float, viscosity_1: float, temperature_2: float, viscosity_2: float
) -> float:
    """Slope of the logarithm of viscosity over the inverse of temperature.

        B = ln(μ_1/μ_2) / (1/T_1 - 1/T_2)

    Parameters
    ----------
    temperature_1 : float
        Colder point, 200 to 500. [K]
    viscosity_1 : float
        There, above 0. [Pa·s]
    temperature_2 : float
        Warmer point, above the first. [K]
    viscosity_2 : float
        There, below the first. [Pa·s]

    Returns
    -------
    float
        Slope B. [K]

    Source
    ------
    E. N. da C. Andrade's form ln μ = A + B/T (from memory).

    Example
    -------
    >>> round(viscosity_slope(298.15, 0.8, 338.15, 0.08), 2)
    5803.63
    """
    _require_points((temperature_1, viscosity_1), (temperature_2, viscosity_2))
    return math.log(viscosity_1 / viscosity_2) / (1 / temperature_1 - 1 / temperature_2)


def viscosity_from_two_points(
    temperature: float,
    temperature_1: float,
    viscosity_1: float,
    temperature_2: float,
    viscosity_2: float,
) -> float:
    """Viscosity between two known points.

        μ = μ_1 exp(B (1/T - 1/T_1))

    Parameters
    ----------
    temperature : float
        Wanted, 200 to 500. [K]
    temperature_1 : float
        Colder point, 200 to 500. [K]
    viscosity_1 : float
        There, above 0. [Pa·s]
    temperature_2 : float
        Warmer point, above the first. [K]
    viscosity_2 : float
        There, below the first. [Pa·s]

    Returns
    -------
    float
        Dynamic viscosity. [Pa·s]

    Valid for
    ---------
    Between the points; outside them glycerol is off by 20 % within 20 K.

    Source
    ------
    E. N. da C. Andrade's form ln μ = A + B/T (from memory).

    Example
    -------
    >>> round(viscosity_from_two_points(328.15, 298.15, 0.6, 338.15, 0.045) * 1000, 4)
    81.0469
    """
    require("temperature", temperature, at_least=COLDEST, at_most=HOTTEST)
    slope = viscosity_slope(temperature_1, viscosity_1, temperature_2, viscosity_2)
    return viscosity_1 * math.exp(slope * (1 / temperature - 1 / temperature_1))


def viscosity_from_three_points(
    temperature: float,
    temperature_1: float,
    viscosity_1: float,
    temperature_2: float,
    viscosity_2: float,
    temperature_3: float,
    viscosity_3: float,
) -> float:
    """Viscosity from three known points.

        ln μ = A + B/(T - T_0) through the three points

    Parameters
    ----------
    temperature : float
        Wanted, 200 to 500. [K]
    temperature_1 : float
        Coldest point, 200 to 500. [K]
    viscosity_1 : float
        There, above 0. [Pa·s]
    temperature_2 : float
        Above the first. [K]
    viscosity_2 : float
        There, below the first. [Pa·s]
    temperature_3 : float
        Above the second. [K]
    viscosity_3 : float
        There, below the second. [Pa·s]

    Returns
    -------
    float
        Dynamic viscosity. [Pa·s]

    Valid for
    ---------
    Points whose T_0 lies below the coldest of them and the wanted temperature; where they
    do not bend that way, the two outer points serve, as in `viscosity_from_two_points`.

    Source
    ------
    Form of Vogel, Fulcher and Tammann (from memory), solved in closed form.

    Example
    -------
    Glycerol at 20, 40 and 60 °C gives at 50 °C, in mPa s:

    >>> found = viscosity_from_three_points(
    ...     323.15, 293.15, 1.41, 313.15, 0.284, 333.15, 0.0813)
    >>> round(found * 1000, 3)
    146.535
    """
    require("temperature", temperature, at_least=COLDEST, at_most=HOTTEST)
    first = (temperature_1, viscosity_1)
    second = (temperature_2, viscosity_2)
    third = (temperature_3, viscosity_3)
    _require_points(first, second, third)
    y1, y2, y3 = (math.log(point[1]) for point in (first, second, third))
    ratio = (y1 - y2) / (y2 - y3) * (temperature_3 - temperature_2)
    bend = ratio / (temperature_2 - temperature_1)
    if bend > 1:
        pole = (bend * temperature_1 - temperature_3) / (bend - 1)
        if pole < min(temperature_1, temperature):
            spread = 1 / (temperature_1 - pole) - 1 / (temperature_3 - pole)
            slope = (y1 - y3) / spread
            return math.exp(y1 + slope * (1 / (temperature - pole) - 1 / (temperature_1 - pole)))
    return viscosity_from_two_points(temperature, *first, *third)


def equal_viscosity_temperature(
    viscosity: float,
    temperature_1: float,
    viscosity_1: float,
    temperature_2: float,
    viscosity_2: float,
) -> float:
    """Temperature at which a liquid has a wanted viscosity, from two known points.

        1/T = 1/T_1 + ln(μ/μ_1) / B

    Parameters
    ----------
    viscosity : float
        Wanted, above 0. [Pa·s]
    temperature_1 : float
        Colder point, 200 to 500. [K]
    viscosity_1 : float
        There, above 0. [Pa·s]
    temperature_2 : float
        Warmer point, above the first. [K]
    viscosity_2 : float
        There, below the first. [Pa·s]

    Returns
    -------
    float
        Temperature. [K]

    Valid for
    ---------
    Between the points.

    Source
    ------
    E. N. da C. Andrade's form ln μ = A + B/T (from memory), solved for the temperature.

    Example
    -------
    >>> found = equal_viscosity_temperature(0.08, 298.15, 0.6, 338.15, 0.045)
    >>> round(found - 273.15, 4)
    55.2146
    """
    require("viscosity", viscosity, above=0)
    slope = viscosity_slope(temperature_1, viscosity_1, temperature_2, viscosity_2)
    inverse = 1 / temperature_1 + math.log(viscosity / viscosity_1) / slope
    if inverse <= 1 / HOTTEST:
        bound = viscosity_1 * math.exp(slope * (1 / HOTTEST - 1 / temperature_1))
        raise InputError("viscosity", viscosity, "more than", bound)
    return 1 / inverse


def viscosity_at(
    temperature: float,
    temperature_1: float,
    viscosity_1: float,
    temperature_2: float,
    viscosity_2: float,
    temperature_3: float | None = None,
    viscosity_3: float | None = None,
) -> float:
    """Viscosity from the points of a data sheet, two or three of them.

        `viscosity_from_three_points` where there are three, else `viscosity_from_two_points`

    Parameters
    ----------
    temperature : float
        Wanted, 200 to 500. [K]
    temperature_1 : float
        Coldest point, 200 to 500. [K]
    viscosity_1 : float
        There, above 0. [Pa·s]
    temperature_2 : float
        Above the first. [K]
    viscosity_2 : float
        There, below the first. [Pa·s]
    temperature_3 : float, optional
        Above the second. [K]
    viscosity_3 : float, optional
        There, below the second. [Pa·s]

    Returns
    -------
    float
        Dynamic viscosity. [Pa·s]

    Valid for
    ---------
    Between the points.

    Source
    ------
    Forms of Andrade and of Vogel, Fulcher and Tammann (from memory).

    Example
    -------
    >>> round(viscosity_at(328.15, 298.15, 0.6, 338.15, 0.045) * 1000, 4)
    81.0469
    """
    points = (temperature_1, viscosity_1, temperature_2, viscosity_2)
    if temperature_3 is None and viscosity_3 is None:
        return viscosity_from_two_points(temperature, *points)
    if temperature_3 is None:
        raise InputError("temperature_3", None, "given", "beside the third viscosity")
    if viscosity_3 is None:
        raise InputError("viscosity_3", None, "given", "beside the third temperature")
    return viscosity_from_three_points(temperature, *points, temperature_3, viscosity_3)
