"""Warming drums by recirculation: one mixed drum with its steel, a heater, losses to the air.

    C dT/dt = Q(T) - UA (T - T_air),   Q(T) = min(P, K (T_set - T)), never below 0

A heater gives its power until the liquid leaves it at the set point; from then on the set
point limits it. Both phases have a closed form.
"""

from __future__ import annotations

import math

from .inputs import InputError, require

COLDEST, HOTTEST = 200.0, 500.0
# A smaller heat loss, in W/K, is none: what is divided by it would overflow.
NO_LOSS = 1e-12


def drum_heat_capacity(
    volume: float, density: float, specific_heat: float, steel_mass: float
) -> float:
    """Heat that a filled steel drum takes for each kelvin.

        C = V ρ c + m_steel 470 J/(kg K)

    Parameters
    ----------
    volume : float
        Liquid in the drum, 0 or more. [m³]
    density : float
        Of the liquid, above 0. [kg/m³]
    specific_heat : float
        Of the liquid, above 0. [J/(kg·K)]
    steel_mass : float
        Empty drum, 0 or more. [kg]

    Returns
    -------
    float
        Heat capacity. [J/K]

    Valid for
    ---------
    A mixed drum; steel of 460 to 490 J/(kg K) (from memory).

    Source
    ------
    Heat balance.

    Example
    -------
    >>> drum_heat_capacity(0.2, 1120.0, 1800.0, 18.1)
    411707.0
    """
    require("volume", volume, at_least=0)
    require("density", density, above=0)
    require("specific_heat", specific_heat, above=0)
    require("steel_mass", steel_mass, at_least=0)
    return volume * density * specific_heat + steel_mass * STEEL_SPECIFIC_HEAT


STEEL_SPECIFIC_HEAT = 470.0


def recirculation_heat_rate(density: float, specific_heat: float, volume_flow: float) -> float:
    """Heat that a flow carries for each kelvin.

        K = ρ c q

    Parameters
    ----------
    density : float
        Above 0. [kg/m³]
    specific_heat : float
        Above 0. [J/(kg·K)]
    volume_flow : float
        Recirculated flow of one side, 0 or more. [m³/s]

    Returns
    -------
    float
        Heat rate of the flow. [W/K]

    Source
    ------
    Heat balance.

    Example
    -------
    4 L/min of iso:

    >>> round(recirculation_heat_rate(1120.0, 1800.0, 4e-3 / 60), 6)
    134.4
    """
    require("density", density, above=0)
    require("specific_heat", specific_heat, above=0)
    require("volume_flow", volume_flow, at_least=0)
    return density * specific_heat * volume_flow


def _require_drum(
    heat_capacity: float,
    heat_loss: float,
    heater_power: float,
    flow_heat_rate: float,
    set_point: float,
    air_temperature: float,
    start_temperature: float,
) -> None:
    require("heat_capacity", heat_capacity, above=0)
    require("heat_loss", heat_loss, at_least=0)
    require("heater_power", heater_power, at_least=0)
    require("flow_heat_rate", flow_heat_rate, at_least=0)
    require("set_point", set_point, at_least=COLDEST, at_most=HOTTEST)
    require("air_temperature", air_temperature, at_least=COLDEST, at_most=HOTTEST)
    require("start_temperature", start_temperature, at_least=COLDEST, at_most=HOTTEST)


def warm_up_limit(
    heat_loss: float,
    heater_power: float,
    flow_heat_rate: float,
    set_point: float,
    air_temperature: float,
) -> float:
    """Temperature at which warming stops: the heater then only covers the losses.

        T_end = min(T_air + P/UA, (K T_set + UA T_air) / (K + UA))

    Parameters
    ----------
    heat_loss : float
        Heat lost for each kelvin above the air, UA, 0 or more. [W/K]
    heater_power : float
        Power that reaches the liquid, 0 or more. [W]
    flow_heat_rate : float
        Heat rate of the recirculated flow, K, 0 or more. [W/K]
    set_point : float
        Heater set point, 200 to 500. [K]
    air_temperature : float
        Air around the drum, 200 to 500. [K]

    Returns
    -------
    float
        Temperature that is never passed; the air's where nothing heats, or where the air is
        warmer than the set point. [K]

    Source
    ------
    Heat balance at rest.

    Example
    -------
    400 W against 12 W/K in air of 5 °C:

    >>> round(warm_up_limit(12.0, 400.0, 134.4, 348.15, 278.15) - 273.15, 6)
    38.333333
    """
    require("heat_loss", heat_loss, at_least=0)
    require("heater_power", heater_power, at_least=0)
    require("flow_heat_rate", flow_heat_rate, at_least=0)
    require("set_point", set_point, at_least=COLDEST, at_most=HOTTEST)
    require("air_temperature", air_temperature, at_least=COLDEST, at_most=HOTTEST)
    if heater_power == 0 or flow_heat_rate == 0:
        return air_temperature
    if heat_loss < NO_LOSS:
        return set_point
    if set_point <= air_temperature:
        return air_temperature
    total = flow_heat_rate + heat_loss
    by_set_point = (flow_heat_rate * set_point + heat_loss * air_temperature) / total
    return min(air_temperature + heater_power / heat_loss, by_set_point)


def power_phase(
    heat_capacity: float,
    heat_loss: float,
    heater_power: float,
    air_temperature: float,
    start: float,
    end: float,
) -> float:
    """Time between two temperatures while a constant power heats against losses.

        t = C/UA ln((P - UA (T_0 - T_air)) / (P - UA (T_1 - T_air)))

    Parameters
    ----------
    heat_capacity : float
        Above 0. [J/K]
    heat_loss : float
        0 or more. [W/K]
    heater_power : float
        More than is lost at the end, above 0. [W]
    air_temperature : float
        200 to 500. [K]
    start : float
        200 to 500. [K]
    end : float
        At least the start, below the temperature at which the losses take all. [K]

    Returns
    -------
    float
        Time. [s]

    Source
    ------
    Heat balance of one body.

    Example
    -------
    >>> round(power_phase(411707.0, 12.0, 6000.0, 288.15, 288.15, 303.15), 2)
    1045.02
    """
    require("heat_capacity", heat_capacity, above=0)
    require("heat_loss", heat_loss, at_least=0)
    require("end", end, at_least=start)
    require("heater_power", heater_power, above=heat_loss * (end - air_temperature))
    if heat_loss < NO_LOSS:
        return heat_capacity * (end - start) / heater_power
    # log1p keeps its digits where the losses are small against the power.
    lost = heat_loss * (end - start) / (heater_power - heat_loss * (end - air_temperature))
    return heat_capacity / heat_loss * math.log1p(lost)


def warm_up_time(
    heat_capacity: float,
    heat_loss: float,
    heater_power: float,
    flow_heat_rate: float,
    set_point: float,
    air_temperature: float,
    start_temperature: float,
    target_temperature: float,
) -> float:
    """Time to warm a drum by recirculation; 0 where it is warm already.

        up to T_x = T_set - P/K by power, then by set point, above it by warmer air:
        t = C/UA ln((E - T_0)/(E - T_x)) + C/(K + UA) ln((E' - T_x)/(E' - T_1))

    Parameters
    ----------
    heat_capacity : float
        Of drum and liquid, above 0. [J/K]
    heat_loss : float
        Heat lost for each kelvin above the air, 0 or more. [W/K]
    heater_power : float
        Power that reaches the liquid, 0 or more. [W]
    flow_heat_rate : float
        Heat rate of the recirculated flow, 0 or more. [W/K]
    set_point : float
        Heater set point, 200 to 500. [K]
    air_temperature : float
        Air around the drum, 200 to 500. [K]
    start_temperature : float
        Of the drum, 200 to 500. [K]
    target_temperature : float
        Wanted, below the temperature at which warming stops. [K]

    Returns
    -------
    float
        Time. [s]

    Valid for
    ---------
    A mixed drum: stir it, or the warm return floats and the reading depends on its depth.
    An uncertainty of 10 % in the specific heat is 10 % in the time.

    Source
    ------
    Heat balance, integrated in closed form by phases.

    Example
    -------
    15 to 50 °C with 6 kW, set point 75 °C:

    >>> round(warm_up_time(411707.0, 12.0, 6000.0, 134.4, 348.15, 288.15, 288.15, 323.15), 2)
    2988.65
    """
    _require_drum(
        heat_capacity,
        heat_loss,
        heater_power,
        flow_heat_rate,
        set_point,
        air_temperature,
        start_temperature,
    )
    require("target_temperature", target_temperature, at_least=COLDEST, at_most=HOTTEST)
    if target_temperature <= start_temperature:
        return 0.0
    heats = heater_power > 0 and flow_heat_rate > 0
    limit = warm_up_limit(heat_loss, heater_power, flow_heat_rate, set_point, air_temperature)
    if not heats and heat_loss < NO_LOSS:
        limit = start_temperature
    if target_temperature >= limit:
        raise InputError("target_temperature", target_temperature, "less than", limit)
    time, now = 0.0, start_temperature
    if heats and now < set_point - heater_power / flow_heat_rate:
        end = min(set_point - heater_power / flow_heat_rate, target_temperature)
        time += power_phase(heat_capacity, heat_loss, heater_power, air_temperature, now, end)
        now = end
    if heats and now < min(set_point, target_temperature):
        total = flow_heat_rate + heat_loss
        rest = (flow_heat_rate * set_point + heat_loss * air_temperature) / total
        end = min(set_point, target_temperature)
        time += heat_capacity / total * math.log((rest - now) / (rest - end))
        now = end
    if now < target_temperature:
        # Above the set point only warmer air warms the drum on.
        left = (air_temperature - now) / (air_temperature - target_temperature)
        time += heat_capacity / heat_loss * math.log(left)
    return time


def warm_up_temperature(
    heat_capacity: float,
    heat_loss: float,
    heater_power: float,
    flow_heat_rate: float,
    set_point: float,
    air_temperature: float,
    start_temperature: float,
    time: float,
) -> float:
    """Temperature of a drum after a time of recirculation.

        T = E - (E - T_0) exp(-t/τ), by power, then by set point

    Parameters
    ----------
    heat_capacity : float
        Of drum and liquid, above 0. [J/K]
    heat_loss : float
        Heat lost for each kelvin above the air, 0 or more. [W/K]
    heater_power : float
        Power that reaches the liquid, 0 or more. [W]
    flow_heat_rate : float
        Heat rate of the recirculated flow, 0 or more. [W/K]
    set_point : float
        Heater set point, 200 to 500. [K]
    air_temperature : float
        Air around the drum, 200 to 500. [K]
    start_temperature : float
        Of the drum, 200 to 500. [K]
    time : float
        0 or more. [s]

    Returns
    -------
    float
        Temperature. [K]

    Valid for
    ---------
    A mixed drum.

    Source
    ------
    Heat balance, integrated in closed form by phases.

    Example
    -------
    >>> now = warm_up_temperature(411707.0, 12.0, 6000.0, 134.4, 348.15, 288.15, 288.15, 900.0)
    >>> round(now - 273.15, 3)
    27.946
    """
    _require_drum(
        heat_capacity,
        heat_loss,
        heater_power,
        flow_heat_rate,
        set_point,
        air_temperature,
        start_temperature,
    )
    require("time", time, at_least=0)
    heats = heater_power > 0 and flow_heat_rate > 0
    temperature = start_temperature
    if heats and temperature < set_point - heater_power / flow_heat_rate:
        change = set_point - heater_power / flow_heat_rate
        if heat_loss < NO_LOSS or change < air_temperature + heater_power / heat_loss:
            phase = power_phase(
                heat_capacity, heat_loss, heater_power, air_temperature, temperature, change
            )
        else:
            phase = math.inf
        if time <= phase:
            return _by_power(
                heat_capacity, heat_loss, heater_power, air_temperature, temperature, time
            )
        time, temperature = time - phase, change
    if heats and temperature >= set_point > air_temperature and heat_loss >= NO_LOSS:
        # The heater waits until the air has cooled the drum to its set point.
        warmer = (temperature - air_temperature) / (set_point - air_temperature)
        until = heat_capacity / heat_loss * math.log(warmer)
        if time <= until:
            return _by_power(heat_capacity, heat_loss, 0.0, air_temperature, temperature, time)
        return _held(
            heat_capacity,
            heat_loss,
            heater_power,
            flow_heat_rate,
            set_point,
            air_temperature,
            set_point,
            time - until,
        )
    if heats and temperature < set_point:
        total = flow_heat_rate + heat_loss
        end = (flow_heat_rate * set_point + heat_loss * air_temperature) / total
        until = math.inf
        if end > set_point:
            # The heater only helps up to its set point; warmer air does the rest.
            left = (end - temperature) / (end - set_point)
            until = heat_capacity / total * math.log(left)
        if time <= until:
            return end - (end - temperature) * math.exp(-total * time / heat_capacity)
        time, temperature = time - until, set_point
    return _by_power(heat_capacity, heat_loss, 0.0, air_temperature, temperature, time)


def _held(
    heat_capacity: float,
    heat_loss: float,
    heater_power: float,
    flow_heat_rate: float,
    set_point: float,
    air_temperature: float,
    temperature: float,
    time: float,
) -> float:
    """A drum that falls toward what its heater holds; where that takes more power, by power."""
    total = flow_heat_rate + heat_loss
    end = (flow_heat_rate * set_point + heat_loss * air_temperature) / total
    change = set_point - heater_power / flow_heat_rate
    until = math.inf
    if change > end:
        until = heat_capacity / total * math.log((temperature - end) / (change - end))
    if time <= until:
        return end - (end - temperature) * math.exp(-total * time / heat_capacity)
    return _by_power(heat_capacity, heat_loss, heater_power, air_temperature, change, time - until)


def _by_power(
    heat_capacity: float,
    heat_loss: float,
    heater_power: float,
    air_temperature: float,
    start: float,
    time: float,
) -> float:
    if heat_loss < NO_LOSS:
        return start + heater_power * time / heat_capacity
    share = -math.expm1(-heat_loss * time / heat_capacity)
    return start + (air_temperature + heater_power / heat_loss - start) * share


def cool_down_temperature(
    heat_capacity: float,
    heat_loss: float,
    hose_heat_loss: float,
    flow_heat_rate: float,
    air_temperature: float,
    start_temperature: float,
    time: float,
) -> float:
    """Temperature of a drum that is recirculated with the heaters off.

        UA' = UA + K (1 - exp(-UA_hose/K)),   T = T_air + (T_0 - T_air) exp(-UA' t/C)

    Parameters
    ----------
    heat_capacity : float
        Of drum and liquid, above 0. [J/K]
    heat_loss : float
        Of the drum for each kelvin above the air, 0 or more. [W/K]
    hose_heat_loss : float
        Of the hose for each kelvin above the air, 0 or more. [W/K]
    flow_heat_rate : float
        Heat rate of the recirculated flow, 0 or more. [W/K]
    air_temperature : float
        200 to 500. [K]
    start_temperature : float
        200 to 500. [K]
    time : float
        0 or more. [s]

    Returns
    -------
    float
        Temperature. [K]

    Valid for
    ---------
    A mixed drum; the machine's own mass left out.

    Source
    ------
    Heat balance; the hose as a heat exchanger of one stream.

    Example
    -------
    15 min of recirculation cool the hose, hardly the drum:

    >>> now = cool_down_temperature(411707.0, 12.0, 15.0, 134.4, 293.15, 318.15, 900.0)
    >>> round(now - 273.15, 3)
    43.609
    """
    _require_drum(
        heat_capacity, heat_loss, 0.0, flow_heat_rate, HOTTEST, air_temperature, start_temperature
    )
    require("hose_heat_loss", hose_heat_loss, at_least=0)
    require("time", time, at_least=0)
    through_hose = 0.0
    if flow_heat_rate > 0:
        through_hose = -flow_heat_rate * math.expm1(-hose_heat_loss / flow_heat_rate)
    total = heat_loss + through_hose
    return _by_power(heat_capacity, total, 0.0, air_temperature, start_temperature, time)


def power_for_warm_up(
    heat_capacity: float,
    heat_loss: float,
    air_temperature: float,
    start_temperature: float,
    target_temperature: float,
    time: float,
) -> float:
    """Power that must reach the liquid to warm a drum in a given time.

        P = UA ((T_1 - T_air) - (T_0 - T_air) e) / (1 - e),   e = exp(-UA t/C)

    Parameters
    ----------
    heat_capacity : float
        Of drum and liquid, above 0. [J/K]
    heat_loss : float
        Heat lost for each kelvin above the air, 0 or more. [W/K]
    air_temperature : float
        200 to 500. [K]
    start_temperature : float
        200 to 500. [K]
    target_temperature : float
        At least the start, at most 500. [K]
    time : float
        Above 0. [s]

    Returns
    -------
    float
        Power. [W]

    Valid for
    ---------
    A heater that its set point does not limit before the target: check it.

    Source
    ------
    Heat balance, solved for the power.

    Example
    -------
    >>> round(power_for_warm_up(411707.0, 12.0, 288.15, 288.15, 323.15, 3600.0), 3)
    4216.379
    """
    _require_drum(heat_capacity, heat_loss, 0.0, 0.0, HOTTEST, air_temperature, start_temperature)
    require("target_temperature", target_temperature, at_least=start_temperature, at_most=HOTTEST)
    require("time", time, above=0)
    if heat_loss < NO_LOSS:
        return heat_capacity * (target_temperature - start_temperature) / time
    left = math.exp(-heat_loss * time / heat_capacity)
    warm, cold = target_temperature - air_temperature, start_temperature - air_temperature
    return heat_loss * (warm - cold * left) / -math.expm1(-heat_loss * time / heat_capacity)
