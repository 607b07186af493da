"""Moist air: dew point, its margin and the water that the air carries."""

from __future__ import annotations

import math

from .inputs import require

KELVIN_AT_0_C = 273.15
MAGNUS_PRESSURE = 611.2
MAGNUS_FACTOR = 17.62
MAGNUS_TEMPERATURE = 243.12
VAPOUR_GAS_CONSTANT = 461.52
ICE_FACTOR = 22.46
ICE_TEMPERATURE = 272.62


def vapour_pressure(air_temperature: float, relative_humidity: float) -> float:
    """Partial pressure of the water vapour in the air.

        e = rh 611.2 exp(17.62 θ / (243.12 + θ)),   θ = T - 273.15

    Parameters
    ----------
    air_temperature : float
        Dry-bulb temperature, 228.15 to 333.15. [K]
    relative_humidity : float
        Relative to saturation over liquid water, 0 < rh <= 1. [1]

    Returns
    -------
    float
        Vapour pressure. [Pa]

    Valid for
    ---------
    -45 to 60 °C, over liquid water.

    Source
    ------
    World Meteorological Organization, "Guide to Meteorological Instruments
    and Methods of Observation," WMO-No. 8, Annex 4.B.

    Example
    -------
    20 °C and 50 %:

    >>> round(vapour_pressure(293.15, 0.50), 1)
    1166.3
    """
    require("air_temperature", air_temperature, at_least=228.15, at_most=333.15)
    require("relative_humidity", relative_humidity, above=0, at_most=1)
    theta = air_temperature - KELVIN_AT_0_C
    return (
        MAGNUS_PRESSURE
        * relative_humidity
        * math.exp(MAGNUS_FACTOR * theta / (MAGNUS_TEMPERATURE + theta))
    )


def dew_point_at_vapour_pressure(vapour_pressure: float) -> float:
    """Temperature at which air with this vapour pressure is saturated.

        g = ln(e / 611.2),   T_dew = 273.15 + 243.12 g / (17.62 - g)

    Parameters
    ----------
    vapour_pressure : float
        Partial pressure of water vapour, above 0, at most 20 000. [Pa]

    Returns
    -------
    float
        Dew point over liquid water. [K]

    Valid for
    ---------
    Dew points of about -60 to 60 °C.

    Source
    ------
    World Meteorological Organization, WMO-No. 8, Annex 4.B (solved for the temperature).

    Example
    -------
    >>> round(dew_point_at_vapour_pressure(611.2), 2)
    273.15
    """
    require("vapour_pressure", vapour_pressure, above=0, at_most=20000)
    g = math.log(vapour_pressure / MAGNUS_PRESSURE)
    return KELVIN_AT_0_C + MAGNUS_TEMPERATURE * g / (MAGNUS_FACTOR - g)


def dew_point(air_temperature: float, relative_humidity: float) -> float:
    """Temperature at which this air would start to leave water on a surface.

        T_dew of e(T, rh)

    Parameters
    ----------
    air_temperature : float
        Dry-bulb temperature, 228.15 to 333.15. [K]
    relative_humidity : float
        Relative to saturation over liquid water, 0 < rh <= 1. [1]

    Returns
    -------
    float
        Dew point over liquid water. [K]

    Valid for
    ---------
    -45 to 60 °C, over liquid water.

    Source
    ------
    World Meteorological Organization, WMO-No. 8, Annex 4.B.

    Example
    -------
    20 °C and 50 %:

    >>> round(dew_point(293.15, 0.50) - 273.15, 2)
    9.26
    """
    return dew_point_at_vapour_pressure(vapour_pressure(air_temperature, relative_humidity))


def weather_keeps_limits(
    air_temperature: float,
    relative_humidity: float,
    surface_temperature: float,
    least_margin: float,
    most_humidity: float,
) -> bool:
    """Whether a surface keeps its distance to the dew point and the air is dry enough.

        T_surface - T_dew >= ΔT and rh <= rh_most;   below freezing T_frost instead of T_dew

    Parameters
    ----------
    air_temperature : float
        228.15 to 333.15. [K]
    relative_humidity : float
        0 < rh <= 1. [1]
    surface_temperature : float
        150 to 450. [K]
    least_margin : float
        0 or more; 3 is usual, common practice. [K]
    most_humidity : float
        0 < rh <= 1; 0.85 is usual, common practice. [1]

    Returns
    -------
    bool
        False: stop. True is no permission: the data sheet and the surface decide.

    Source
    ------
    Common limits of specifications; WMO-No. 8 for the dew point, and for the frost point where
    that lies below freezing, because frost comes first there.

    Example
    -------
    >>> weather_keeps_limits(283.15, 0.80, 282.75, 3.0, 0.85)
    False
    """
    require("least_margin", least_margin, at_least=0)
    require("most_humidity", most_humidity, above=0, at_most=1)
    wet = dew_point(air_temperature, relative_humidity)
    if wet < KELVIN_AT_0_C:
        wet = frost_point(air_temperature, relative_humidity)
    margin = dew_margin(surface_temperature, wet)
    return margin >= least_margin and relative_humidity <= most_humidity


def dew_margin(surface_temperature: float, dew_point: float) -> float:
    """How far a surface stands above the dew point; negative means wet.

        ΔT = T_surface - T_dew

    Parameters
    ----------
    surface_temperature : float
        Temperature of the surface to coat, 150 to 450. [K]
    dew_point : float
        Dew point of the air at the surface, 150 to 450. [K]

    Returns
    -------
    float
        Temperature difference. [K]

    Valid for
    ---------
    Any surface; how large it must be stands on the data sheet.

    Source
    ------
    Definition.

    Example
    -------
    >>> round(dew_margin(285.15, 282.15), 3)
    3.0
    """
    require("surface_temperature", surface_temperature, at_least=150, at_most=450)
    require("dew_point", dew_point, at_least=150, at_most=450)
    return surface_temperature - dew_point


def absolute_humidity(air_temperature: float, relative_humidity: float) -> float:
    """Mass of water vapour in a volume of air.

        ρ_v = e / (R_v T),   R_v = 461.52 J/(kg K)

    Parameters
    ----------
    air_temperature : float
        Dry-bulb temperature, 228.15 to 333.15. [K]
    relative_humidity : float
        Relative to saturation over liquid water, 0 < rh <= 1. [1]

    Returns
    -------
    float
        Absolute humidity. [kg/m³]

    Valid for
    ---------
    -45 to 60 °C, ideal gas.

    Source
    ------
    World Meteorological Organization, WMO-No. 8, Annex 4.B, and the ideal-gas law.

    Example
    -------
    20 °C and 50 %, in g/m³:

    >>> round(absolute_humidity(293.15, 0.50) * 1000, 2)
    8.62
    """
    pressure = vapour_pressure(air_temperature, relative_humidity)
    return pressure / (VAPOUR_GAS_CONSTANT * air_temperature)


def frost_point(air_temperature: float, relative_humidity: float) -> float:
    """Temperature at which this air would start to leave frost on a cold surface.

        g = ln(e / 611.2),   T_frost = 273.15 + 272.62 g / (22.46 - g)

    Parameters
    ----------
    air_temperature : float
        Dry-bulb temperature, 228.15 to 333.15. [K]
    relative_humidity : float
        Relative to saturation over liquid water, 0 < rh <= 1. [1]

    Returns
    -------
    float
        Frost point over ice, where it is below 273.16. [K]

    Valid for
    ---------
    Frost points of -65 to 0.01 °C; a warmer one is refused: see `dew_point`.

    Source
    ------
    World Meteorological Organization, WMO-No. 8, Annex 4.B (ice, from memory).

    Example
    -------
    >>> round(frost_point(263.15, 0.80) - 273.15, 3)
    -11.387
    """
    pressure = vapour_pressure(air_temperature, relative_humidity)
    most = MAGNUS_PRESSURE / vapour_pressure(air_temperature, 1.0)
    require("relative_humidity", relative_humidity, at_most=most)
    g = math.log(pressure / MAGNUS_PRESSURE)
    return KELVIN_AT_0_C + ICE_TEMPERATURE * g / (ICE_FACTOR - g)


def highest_humidity(
    air_temperature: float, surface_temperature: float, least_margin: float
) -> float:
    """Humidity up to which a surface keeps its distance to the dew point.

        rh = e_w(T_surface - ΔT) / e_w(T_air), at most 1

    Parameters
    ----------
    air_temperature : float
        228.15 to 333.15. [K]
    surface_temperature : float
        Less the margin, 228.15 to 333.15. [K]
    least_margin : float
        0 or more; 3 is usual, common practice. [K]

    Returns
    -------
    float
        Relative humidity over water. [1]

    Valid for
    ---------
    Surfaces above freezing; below it frost comes first.

    Source
    ------
    World Meteorological Organization, WMO-No. 8, Annex 4.B.

    Example
    -------
    >>> round(highest_humidity(293.15, 293.15, 3.0) * 100, 2)
    82.88
    """
    require("least_margin", least_margin, at_least=0)
    require(
        "surface_temperature",
        surface_temperature,
        at_least=228.15 + least_margin,
        at_most=333.15 + least_margin,
    )
    wet = vapour_pressure(surface_temperature - least_margin, 1.0)
    return min(1.0, wet / vapour_pressure(air_temperature, 1.0))
