"""Drum and machine as two bodies, a band heater, and whether a drum mixes by itself."""

from __future__ import annotations

import math

from .heating import COLDEST, HOTTEST
from .inputs import require
from .losses import GRAVITY


def _two_bodies(
    drum_heat_capacity: float,
    machine_heat_capacity: float,
    drum_heat_loss: float,
    machine_heat_loss: float,
    flow_heat_rate: float,
    heater_power: float,
    air_temperature: float,
    drum_temperature: float,
    machine_temperature: float,
    time: float,
) -> tuple[float, float]:
    require("drum_heat_capacity", drum_heat_capacity, above=0)
    require("machine_heat_capacity", machine_heat_capacity, above=0)
    require("drum_heat_loss", drum_heat_loss, above=0)
    require("machine_heat_loss", machine_heat_loss, at_least=0)
    require("flow_heat_rate", flow_heat_rate, above=0)
    require("heater_power", heater_power, at_least=0)
    require("air_temperature", air_temperature, at_least=COLDEST, at_most=HOTTEST)
    require("drum_temperature", drum_temperature, at_least=COLDEST, at_most=HOTTEST)
    require("machine_temperature", machine_temperature, at_least=COLDEST, at_most=HOTTEST)
    require("time", time, at_least=0)
    k, ua1, ua2 = flow_heat_rate, drum_heat_loss, machine_heat_loss
    # At rest: K (T2 - T1) = UA1 θ1 and P = UA1 θ1 + UA2 θ2, θ counted from the air.
    rest1 = heater_power / (ua1 + ua2 * (1 + ua1 / k))
    rest2 = rest1 * (1 + ua1 / k)
    a, b = -(k + ua1) / drum_heat_capacity, k / drum_heat_capacity
    c, d = k / machine_heat_capacity, -(k + ua2) / machine_heat_capacity
    spread = math.sqrt((a - d) ** 2 + 4 * b * c)
    fast = (a + d - spread) / 2
    # Not (a + d + spread)/2: where the flow is large nearly nothing would be left of it.
    rest = ua1 * (ua2 + k) + ua2 * k
    slow = rest / drum_heat_capacity / machine_heat_capacity / fast
    x = drum_temperature - air_temperature - rest1
    y = machine_temperature - air_temperature - rest2
    # exp(A t) = (e1 (A - λ2) - e2 (A - λ1)) / (λ1 - λ2) for a matrix of two real eigenvalues.
    e1, e2 = math.exp(slow * time) / spread, math.exp(fast * time) / spread
    drum = e1 * ((a - fast) * x + b * y) - e2 * ((a - slow) * x + b * y)
    machine = e1 * (c * x + (d - fast) * y) - e2 * (c * x + (d - slow) * y)
    return air_temperature + rest1 + drum, air_temperature + rest2 + machine


def drum_beside_machine_temperature(
    drum_heat_capacity: float,
    machine_heat_capacity: float,
    drum_heat_loss: float,
    machine_heat_loss: float,
    flow_heat_rate: float,
    heater_power: float,
    air_temperature: float,
    drum_temperature: float,
    machine_temperature: float,
    time: float,
) -> float:
    """Temperature of a drum that is recirculated through a machine with a mass of its own.

        C_1 T_1' = K (T_2 - T_1) - UA_1 (T_1 - T_air)
        C_2 T_2' = K (T_1 - T_2) - UA_2 (T_2 - T_air) + P

    Parameters
    ----------
    drum_heat_capacity : float
        Of drum and liquid, above 0. [J/K]
    machine_heat_capacity : float
        Of machine and hose with what is in them, above 0. [J/K]
    drum_heat_loss : float
        Above 0. [W/K]
    machine_heat_loss : float
        0 or more. [W/K]
    flow_heat_rate : float
        Of the recirculated flow, above 0. [W/K]
    heater_power : float
        That reaches the liquid, 0 or more. [W]
    air_temperature : float
        200 to 500. [K]
    drum_temperature : float
        At the start, 200 to 500. [K]
    machine_temperature : float
        At the start, 200 to 500. [K]
    time : float
        0 or more. [s]

    Returns
    -------
    float
        Temperature. [K]

    Valid for
    ---------
    A heater that its set point does not limit, or one that is off.

    Source
    ------
    Heat balance of two bodies, solved by the exponential of their matrix.

    Example
    -------
    15 min with the heaters off cool the machine, hardly the drum:

    >>> now = drum_beside_machine_temperature(
    ...     411707.0, 25000.0, 12.0, 15.0, 134.4, 0.0, 293.15, 318.15, 339.15, 900.0)
    >>> round(now - 273.15, 3)
    44.863
    """
    return _two_bodies(
        drum_heat_capacity,
        machine_heat_capacity,
        drum_heat_loss,
        machine_heat_loss,
        flow_heat_rate,
        heater_power,
        air_temperature,
        drum_temperature,
        machine_temperature,
        time,
    )[0]


def machine_beside_drum_temperature(
    drum_heat_capacity: float,
    machine_heat_capacity: float,
    drum_heat_loss: float,
    machine_heat_loss: float,
    flow_heat_rate: float,
    heater_power: float,
    air_temperature: float,
    drum_temperature: float,
    machine_temperature: float,
    time: float,
) -> float:
    """Temperature of machine and hose through which a drum is recirculated.

        C_1 T_1' = K (T_2 - T_1) - UA_1 (T_1 - T_air)
        C_2 T_2' = K (T_1 - T_2) - UA_2 (T_2 - T_air) + P

    Parameters
    ----------
    drum_heat_capacity : float
        Of drum and liquid, above 0. [J/K]
    machine_heat_capacity : float
        Of machine and hose with what is in them, above 0. [J/K]
    drum_heat_loss : float
        Above 0. [W/K]
    machine_heat_loss : float
        0 or more. [W/K]
    flow_heat_rate : float
        Of the recirculated flow, above 0. [W/K]
    heater_power : float
        That reaches the liquid, 0 or more. [W]
    air_temperature : float
        200 to 500. [K]
    drum_temperature : float
        At the start, 200 to 500. [K]
    machine_temperature : float
        At the start, 200 to 500. [K]
    time : float
        0 or more. [s]

    Returns
    -------
    float
        Temperature. [K]

    Valid for
    ---------
    A heater that its set point does not limit, or one that is off.

    Source
    ------
    Heat balance of two bodies, solved by the exponential of their matrix.

    Example
    -------
    >>> now = machine_beside_drum_temperature(
    ...     411707.0, 25000.0, 12.0, 15.0, 134.4, 4500.0, 288.15, 288.15, 288.15, 300.0)
    >>> round(now - 273.15, 3)
    40.719
    """
    return _two_bodies(
        drum_heat_capacity,
        machine_heat_capacity,
        drum_heat_loss,
        machine_heat_loss,
        flow_heat_rate,
        heater_power,
        air_temperature,
        drum_temperature,
        machine_temperature,
        time,
    )[1]


def band_heater_flux(power: float, diameter: float, width: float) -> float:
    """Heat that a band around a drum presses through its wall.

        q = P / (π D w)

    Parameters
    ----------
    power : float
        0 or more. [W]
    diameter : float
        Of the drum, above 0. [m]
    width : float
        Of the band, above 0. [m]

    Returns
    -------
    float
        Heat flux. [W/m²]

    Valid for
    ---------
    The wall stands q/h above the liquid, 60 to 120 K for 1 kW on a narrow band: local
    overheating of isocyanate is to be avoided.

    Source
    ------
    Definition.

    Example
    -------
    >>> round(band_heater_flux(1000.0, 0.573, 0.15), 1)
    3703.4
    """
    require("power", power, at_least=0)
    require("diameter", diameter, above=0)
    require("width", width, above=0)
    return power / (math.pi * diameter * width)


def richardson_number(
    thermal_expansion: float,
    temperature_difference: float,
    height: float,
    diameter: float,
    volume_flow: float,
) -> float:
    """Whether a drum stays in layers: buoyancy of the warm return against its motion.

        Ri = g β ΔT H / u²,   u = q / (π D²/4)

    Parameters
    ----------
    thermal_expansion : float
        Of the liquid, 0 to 0.005. [1/K]
    temperature_difference : float
        Between the return and the drum, 0 or more. [K]
    height : float
        Of the liquid, above 0. [m]
    diameter : float
        Of the drum, above 0. [m]
    volume_flow : float
        Recirculated, above 0. [m³/s]

    Returns
    -------
    float
        Richardson number; far above 1 means layers, so stir. [1]

    Source
    ------
    Definition.

    Example
    -------
    >>> round(richardson_number(8e-4, 20.0, 0.851, 0.573, 4e-3 / 60) / 1e6, 3)
    1.998
    """
    require("thermal_expansion", thermal_expansion, at_least=0, at_most=0.005)
    require("temperature_difference", temperature_difference, at_least=0)
    require("height", height, above=0)
    require("diameter", diameter, above=0)
    require("volume_flow", volume_flow, above=0)
    speed = volume_flow / (math.pi * diameter**2 / 4)
    return GRAVITY * thermal_expansion * temperature_difference * height / speed**2
