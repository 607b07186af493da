"""The heated hose: what it holds, loses and passes on."""

from __future__ import annotations

import math

from .heating import COLDEST, HOTTEST, NO_LOSS, power_phase
from .inputs import require

WALL_SPECIFIC_HEAT = 1500.0


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
    if heat_loss_per_length < NO_LOSS:
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


def hose_warm_up_time(
    heat_capacity_per_length: float,
    heating_per_length: float,
    heat_loss_per_length: float,
    air_temperature: float,
    start_temperature: float,
    target_temperature: float,
) -> float:
    """Time that a filled hose at rest needs to warm up.

        t = C'/U' ln((E - T_0)/(E - T_1)),   E = T_air + q'/U'

    Parameters
    ----------
    heat_capacity_per_length : float
        Of wall and liquid, above 0. [J/(m·K)]
    heating_per_length : float
        Above 0. [W/m]
    heat_loss_per_length : float
        0 or more. [W/(m·K)]
    air_temperature : float
        200 to 500. [K]
    start_temperature : float
        200 to 500. [K]
    target_temperature : float
        Below the temperature at which warming stops. [K]

    Returns
    -------
    float
        Time; 0 where it is warm already. [s]

    Valid for
    ---------
    A hose at rest and open at one end: never heat a shut, full one.

    Source
    ------
    Heat balance, integrated in closed form.

    Example
    -------
    >>> round(hose_warm_up_time(668.65157, 40.0, 0.6, 283.15, 283.15, 333.15), 2)
    1544.91
    """
    require("heat_capacity_per_length", heat_capacity_per_length, above=0)
    require("heating_per_length", heating_per_length, above=0)
    require("heat_loss_per_length", heat_loss_per_length, at_least=0)
    require("air_temperature", air_temperature, at_least=COLDEST, at_most=HOTTEST)
    require("start_temperature", start_temperature, at_least=COLDEST, at_most=HOTTEST)
    require("target_temperature", target_temperature, at_least=COLDEST, at_most=HOTTEST)
    if target_temperature <= start_temperature:
        return 0.0
    if heat_loss_per_length >= NO_LOSS:
        limit = air_temperature + heating_per_length / heat_loss_per_length
        require("target_temperature", target_temperature, below=limit)
    return power_phase(
        heat_capacity_per_length,
        heat_loss_per_length,
        heating_per_length,
        air_temperature,
        start_temperature,
        target_temperature,
    )


def hose_heat_capacity(
    iso_density: float,
    iso_specific_heat: float,
    resin_density: float,
    resin_specific_heat: float,
    bore: float,
    wall_mass_per_length: float,
) -> float:
    """Heat that each length of a filled pair of hoses takes for each kelvin.

        C' = π d²/4 (ρ_iso c_iso + ρ_resin c_resin) + m' 1500 J/(kg K)

    Parameters
    ----------
    iso_density : float
        Above 0. [kg/m³]
    iso_specific_heat : float
        Above 0. [J/(kg·K)]
    resin_density : float
        Above 0. [kg/m³]
    resin_specific_heat : float
        Above 0. [J/(kg·K)]
    bore : float
        Of each hose, above 0. [m]
    wall_mass_per_length : float
        Of both walls together, 0 or more; about 0.7 kg/m (from memory). [kg/m]

    Returns
    -------
    float
        Heat capacity of each length. [J/(m·K)]

    Source
    ------
    Heat balance; walls of plastic of 1500 J/(kg K) (from memory).

    Example
    -------
    >>> round(hose_heat_capacity(1100.0, 1800.0, 1000.0, 2000.0, 0.009525, 0.7), 2)
    1333.6
    """
    require("iso_density", iso_density, above=0)
    require("iso_specific_heat", iso_specific_heat, above=0)
    require("resin_density", resin_density, above=0)
    require("resin_specific_heat", resin_specific_heat, above=0)
    require("bore", bore, above=0)
    require("wall_mass_per_length", wall_mass_per_length, at_least=0)
    liquids = iso_density * iso_specific_heat + resin_density * resin_specific_heat
    return math.pi * bore**2 / 4 * liquids + wall_mass_per_length * WALL_SPECIFIC_HEAT
