"""The heated hose: what it holds, loses and passes on."""

from __future__ import annotations

import math

from .heating import COLDEST, HOTTEST
from .inputs import require


def hose_volume(length: float, bore: float) -> float:
    """Liquid that one side of a hose holds.

        V = π d² L / 4

    Parameters
    ----------
    length : float
        0 or more. [m]
    bore : float
        Inside diameter, above 0. [m]

    Returns
    -------
    float
        Volume of one side. [m³]

    Source
    ------
    Solid geometry; the stretch of the hose left out.

    Example
    -------
    3/8 inch bore, in mL for each metre:

    >>> round(hose_volume(1.0, 0.009525) * 1e6, 4)
    71.2557
    """
    require("length", length, at_least=0)
    require("bore", bore, above=0)
    return math.pi * bore**2 / 4 * length


def residence_time(length: float, bore: float, volume_flow: float) -> float:
    """Time that liquid needs through a hose: the gun feels a change that much later.

        t = V / q

    Parameters
    ----------
    length : float
        0 or more. [m]
    bore : float
        Inside diameter, above 0. [m]
    volume_flow : float
        Of one side, above 0. [m³/s]

    Returns
    -------
    float
        Time. [s]

    Source
    ------
    Volume balance.

    Example
    -------
    >>> round(residence_time(60.0, 0.009525, 2e-3 / 60), 2)
    128.26
    """
    require("volume_flow", volume_flow, above=0)
    return hose_volume(length, bore) / volume_flow


def hose_outlet_temperature(
    inlet_temperature: float,
    air_temperature: float,
    heating_per_length: float,
    heat_loss_per_length: float,
    flow_heat_rate: float,
    length: float,
) -> float:
    """Temperature at the end of a heated hose.

        T = T_air + q'/U' + (T_in - T_air - q'/U') exp(-U' L/K);   U' = 0: T_in + q' L/K

    Parameters
    ----------
    inlet_temperature : float
        200 to 500. [K]
    air_temperature : float
        200 to 500. [K]
    heating_per_length : float
        Heat put into one side for each metre, 0 or more. [W/m]
    heat_loss_per_length : float
        Lost for each metre and kelvin, 0 or more. [W/(m·K)]
    flow_heat_rate : float
        Heat rate of the flow, above 0. [W/K]
    length : float
        0 or more. [m]

    Returns
    -------
    float
        Outlet temperature, not clamped: a thermostat that fails shows here. [K]

    Valid for
    ---------
    Steady flow; 0.3 to 0.8 W/(m K) is a prudent range in the field (from memory).

    Source
    ------
    Heat balance along the hose.

    Example
    -------
    >>> out = hose_outlet_temperature(338.15, 293.15, 0.0, 0.6, 67.2, 60.0)
    >>> round(out - 273.15, 4)
    46.3363
    """
    require("inlet_temperature", inlet_temperature, at_least=COLDEST, at_most=HOTTEST)
    require("air_temperature", air_temperature, at_least=COLDEST, at_most=HOTTEST)
    require("heating_per_length", heating_per_length, at_least=0)
    require("heat_loss_per_length", heat_loss_per_length, at_least=0)
    require("flow_heat_rate", flow_heat_rate, above=0)
    require("length", length, at_least=0)
    if heat_loss_per_length == 0:
        return inlet_temperature + heating_per_length * length / flow_heat_rate
    rest = air_temperature + heating_per_length / heat_loss_per_length
    decay = math.exp(-heat_loss_per_length * length / flow_heat_rate)
    return rest + (inlet_temperature - rest) * decay


def trapped_pressure_rise(
    thermal_expansion: float, bulk_modulus: float, temperature_difference: float
) -> float:
    """Pressure that a shut, liquid-full hose gains when it warms, if it could not stretch.

        Δp = β K ΔT

    Parameters
    ----------
    thermal_expansion : float
        Of the liquid, 0 to 0.005. [1/K]
    bulk_modulus : float
        Of the liquid, above 0; about 1.6 GPa (from memory). [Pa]
    temperature_difference : float
        Warming, 0 or more. [K]

    Returns
    -------
    float
        Upper bound of the pressure rise; the hose's stretch lowers it. [Pa]

    Valid for
    ---------
    A rigid, full, shut volume. Never heat one: follow the machine's manual.

    Source
    ------
    Definitions of expansion and bulk modulus.

    Example
    -------
    >>> trapped_pressure_rise(8e-4, 1.6e9, 1.0)
    1280000.0
    """
    require("thermal_expansion", thermal_expansion, at_least=0, at_most=0.005)
    require("bulk_modulus", bulk_modulus, above=0)
    require("temperature_difference", temperature_difference, at_least=0)
    return thermal_expansion * bulk_modulus * temperature_difference
