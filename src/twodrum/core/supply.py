"""Two drums warmed from one supply."""

from __future__ import annotations

import math
from collections.abc import Callable, Sequence

from .heating import COLDEST, HOTTEST, warm_up_time
from .inputs import InputError, require

STEPS = 4000


def shared_warm_up_time(
    heat_capacity: float,
    heat_loss: float,
    heater_power: float,
    flow_heat_rate: float,
    other_heat_capacity: float,
    other_heat_loss: float,
    other_heater_power: float,
    other_flow_heat_rate: float,
    supply_power: float,
    set_point: float,
    air_temperature: float,
    start_temperature: float,
    target_temperature: float,
    other_set_point: float | None = None,
) -> float:
    """Time to warm one of two drums whose heaters share a supply that is too small.

        Q_i = min(P_i, K_i (T_set - T_i)) f,   f = min(1, P_supply / Σ wanted)

    Parameters
    ----------
    heat_capacity : float
        Of this drum, above 0. [J/K]
    heat_loss : float
        Of this drum, 0 or more. [W/K]
    heater_power : float
        Of this side, above 0. [W]
    flow_heat_rate : float
        Of this side, above 0. [W/K]
    other_heat_capacity : float
        Of the other drum, above 0. [J/K]
    other_heat_loss : float
        Of the other drum, 0 or more. [W/K]
    other_heater_power : float
        Of the other side, 0 or more. [W]
    other_flow_heat_rate : float
        Of the other side, 0 or more. [W/K]
    supply_power : float
        Left for both heaters, above 0. [W]
    set_point : float
        Of this heater, 200 to 500. [K]
    air_temperature : float
        200 to 500. [K]
    start_temperature : float
        Of both drums, 200 to 500. [K]
    target_temperature : float
        Of this drum, 200 to 500. [K]
    other_set_point : float, optional
        Of the other heater, 200 to 500; the same where left out. [K]

    Returns
    -------
    float
        Time. [s]

    Valid for
    ---------
    Mixed drums; both demands are cut by the same share. A supply that carries both heaters
    leaves each side to itself, in closed form as in `warm_up_time`.

    Source
    ------
    Heat balance, integrated by the classical Runge-Kutta method of fourth order.

    Example
    -------
    >>> round(shared_warm_up_time(411707.0, 12.0, 7000.0, 134.4, 412507.0, 12.0, 7000.0,
    ...     134.66667, 9500.0, 348.15, 283.15, 283.15, 323.15))
    3862
    """
    positive = {
        "heat_capacity": heat_capacity,
        "heater_power": heater_power,
        "flow_heat_rate": flow_heat_rate,
        "other_heat_capacity": other_heat_capacity,
        "supply_power": supply_power,
    }
    for name, value in positive.items():
        require(name, value, above=0)
    require("heat_loss", heat_loss, at_least=0)
    require("other_heat_loss", other_heat_loss, at_least=0)
    require("other_heater_power", other_heater_power, at_least=0)
    require("other_flow_heat_rate", other_flow_heat_rate, at_least=0)
    for name, temperature in (
        ("set_point", set_point),
        ("air_temperature", air_temperature),
        ("start_temperature", start_temperature),
        ("target_temperature", target_temperature),
    ):
        require(name, temperature, at_least=COLDEST, at_most=HOTTEST)
    if other_set_point is None:
        other_set_point = set_point
    require("other_set_point", other_set_point, at_least=COLDEST, at_most=HOTTEST)
    if target_temperature <= start_temperature:
        return 0.0
    if supply_power >= heater_power + other_heater_power:
        return warm_up_time(
            heat_capacity,
            heat_loss,
            heater_power,
            flow_heat_rate,
            set_point,
            air_temperature,
            start_temperature,
            target_temperature,
        )
    slopes = _slopes(
        (heat_capacity, heat_loss, heater_power, flow_heat_rate, set_point),
        (
            other_heat_capacity,
            other_heat_loss,
            other_heater_power,
            other_flow_heat_rate,
            other_set_point,
        ),
        supply_power,
        air_temperature,
    )
    scale = heat_capacity / (flow_heat_rate + heat_loss)
    longest = 200 * (scale + heat_capacity * HOTTEST / min(heater_power, supply_power))
    step = scale / STEPS * 4
    return _time_to(slopes, start_temperature, target_temperature, step, longest)


Drum = tuple[float, float, float, float, float]
Slopes = Callable[[float, float], tuple[float, float]]


def _slopes(drum: Drum, other_drum: Drum, supply_power: float, air_temperature: float) -> Slopes:
    """How fast two drums warm at their temperatures; both demands are cut by one share."""

    def wanted(one: Drum, temperature: float) -> float:
        return max(0.0, min(one[2], one[3] * (one[4] - temperature)))

    def slopes(this: float, other: float) -> tuple[float, float]:
        mine, others = wanted(drum, this), wanted(other_drum, other)
        total = mine + others
        share = min(1.0, supply_power / total) if total > 0 else 0.0
        return (
            (mine * share - drum[1] * (this - air_temperature)) / drum[0],
            (others * share - other_drum[1] * (other - air_temperature)) / other_drum[0],
        )

    return slopes


def shared_course(
    drum: Drum,
    other_drum: Drum,
    supply_power: float,
    air_temperature: float,
    start_temperature: float,
    times: Sequence[float],
) -> list[tuple[float, float]]:
    """Temperatures of two drums on one supply at rising times, for a chart.

    A drum is (heat capacity [J/K], loss [W/K], power [W], flow heat rate [W/K], set point [K]).
    """
    slopes = _slopes(drum, other_drum, supply_power, air_temperature)
    longest = min(one[0] / (one[1] + one[3]) for one in (drum, other_drum)) / 50
    this = other = start_temperature
    course, now = [], 0.0
    for time in times:
        steps = max(1, math.ceil((time - now) / longest))
        for _ in range(steps):
            this, other = _stepped(slopes, this, other, (time - now) / steps)
        now = time
        course.append((this, other))
    return course


def _time_to(
    slopes: Slopes,
    start: float,
    target: float,
    step: float,
    longest: float,
) -> float:
    time, this, other = 0.0, start, start
    while time < longest:
        new_this, new_other = _stepped(slopes, this, other, step)
        if new_this >= target:
            return time + _within(slopes, this, other, target, step)
        if new_this - this <= 1e-12 * step:
            break
        time, this, other = time + step, new_this, new_other
    raise InputError("target_temperature", target, "less than", this)


def _stepped(slopes: Slopes, a: float, b: float, h: float) -> tuple[float, float]:
    a1, b1 = slopes(a, b)
    a2, b2 = slopes(a + h / 2 * a1, b + h / 2 * b1)
    a3, b3 = slopes(a + h / 2 * a2, b + h / 2 * b2)
    a4, b4 = slopes(a + h * a3, b + h * b3)
    return a + h / 6 * (a1 + 2 * a2 + 2 * a3 + a4), b + h / 6 * (b1 + 2 * b2 + 2 * b3 + b4)


def _within(
    slopes: Slopes,
    this: float,
    other: float,
    target: float,
    step: float,
) -> float:
    low, high = 0.0, step
    for _ in range(60):
        middle = (low + high) / 2
        if _stepped(slopes, this, other, middle)[0] < target:
            low = middle
        else:
            high = middle
    return high


def warm_up_energy(
    heat_capacity: float, start_temperature: float, target_temperature: float
) -> float:
    """Heat that stays in a drum when it is warmed; losses come on top.

        E = C (T_1 - T_0)

    Parameters
    ----------
    heat_capacity : float
        Of drum and liquid, above 0. [J/K]
    start_temperature : float
        200 to 500. [K]
    target_temperature : float
        At least the start, at most 500. [K]

    Returns
    -------
    float
        Energy. [J]

    Source
    ------
    Heat balance.

    Example
    -------
    Both drums by 40 K, in kWh:

    >>> round(warm_up_energy(411707.0 + 412507.0, 283.15, 323.15) / 3.6e6, 6)
    9.157933
    """
    require("heat_capacity", heat_capacity, above=0)
    require("start_temperature", start_temperature, at_least=COLDEST, at_most=HOTTEST)
    require("target_temperature", target_temperature, at_least=start_temperature, at_most=HOTTEST)
    return heat_capacity * (target_temperature - start_temperature)
