"""Two drums warmed from one supply."""

from __future__ import annotations

import math
from collections.abc import Sequence
from typing import NamedTuple, Optional, Tuple

from .heating import COLDEST, HOTTEST, warm_up_time
from .inputs import InputError, require

# Steps in the time constant of a heated drum, and the rate in K/s of a drum at rest.
STEPS = 400
MOST_STEPS = 100_000
AT_REST = 1e-7


def shared_warm_up_time(
    heat_capacity: float,
    heat_loss: float,
    heater_power: float,
    flow_heat_rate: float,
    other_heat_capacity: float | None,
    other_heat_loss: float | None,
    other_heater_power: float | None,
    other_flow_heat_rate: float | None,
    supply_power: float | None,
    set_point: float,
    air_temperature: float,
    start_temperature: float,
    target_temperature: float,
    other_set_point: float | None = None,
    other_target_temperature: float | None = None,
    other_later_set_point: float | None = None,
) -> float:
    """Time to warm one of two drums whose heaters share a supply that may be too small.

        Q_i = min(P_i, K_i (T_set - T_i)) f,   f = min(1, P_supply / Σ wanted)

    Parameters
    ----------
    heat_capacity : float
        Of this drum, above 0. [J/K]
    heat_loss : float
        Of this drum, 0 or more. [W/K]
    heater_power : float
        Of this side, 0 or more. [W]
    flow_heat_rate : float
        Of this side, 0 or more. [W/K]
    other_heat_capacity : float, optional
        Of the other drum, above 0; without one of its four values there is no other drum. [J/K]
    other_heat_loss : float, optional
        Of the other drum, 0 or more. [W/K]
    other_heater_power : float, optional
        Of the other side, 0 or more. [W]
    other_flow_heat_rate : float, optional
        Of the other side, 0 or more. [W/K]
    supply_power : float, optional
        Left for both heaters, 0 or more; left out: enough for both. [W]
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
    other_target_temperature : float, optional
        Of the other drum, 200 to 500; there its set point is brought to a later one. [K]
    other_later_set_point : float, optional
        Of the other heater from then on, 200 to 500; 200 switches it off. [K]

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
    require("heat_capacity", heat_capacity, above=0)
    require("heat_loss", heat_loss, at_least=0)
    require("heater_power", heater_power, at_least=0)
    require("flow_heat_rate", flow_heat_rate, at_least=0)
    if supply_power is not None:
        require("supply_power", supply_power, at_least=0)
    if other_heat_capacity is not None:
        require("other_heat_capacity", other_heat_capacity, above=0)
    others = {
        "other_heat_loss": other_heat_loss,
        "other_heater_power": other_heater_power,
        "other_flow_heat_rate": other_flow_heat_rate,
    }
    for name, given in others.items():
        if given is not None:
            require(name, given, at_least=0)
    for name, temperature in (
        ("set_point", set_point),
        ("air_temperature", air_temperature),
        ("start_temperature", start_temperature),
        ("target_temperature", target_temperature),
    ):
        require(name, temperature, at_least=COLDEST, at_most=HOTTEST)
    if other_set_point is None:
        other_set_point = set_point
    optional = {
        "other_set_point": other_set_point,
        "other_target_temperature": other_target_temperature,
        "other_later_set_point": other_later_set_point,
    }
    for name, given in optional.items():
        if given is not None:
            require(name, given, at_least=COLDEST, at_most=HOTTEST)

    def alone(power: float) -> float:
        return warm_up_time(
            heat_capacity,
            heat_loss,
            power,
            flow_heat_rate,
            set_point,
            air_temperature,
            start_temperature,
            target_temperature,
        )

    if (
        other_heat_capacity is None
        or other_heat_loss is None
        or other_heater_power is None
        or other_flow_heat_rate is None
    ):
        return alone(heater_power if supply_power is None else min(heater_power, supply_power))
    if supply_power is None or supply_power >= heater_power + other_heater_power:
        return alone(heater_power)
    if supply_power == 0 or heater_power == 0 or flow_heat_rate == 0:
        return alone(0.0)
    if target_temperature <= start_temperature:
        return 0.0
    drum = Drum(
        heat_capacity, heat_loss, heater_power, flow_heat_rate, set_point, target_temperature
    )
    other = Drum(
        other_heat_capacity,
        other_heat_loss,
        other_heater_power,
        other_flow_heat_rate,
        other_set_point,
        math.inf if other_target_temperature is None else other_target_temperature,
        other_later_set_point,
    )
    pair = _Pair(drum, other, supply_power, air_temperature, start_temperature)
    scale = min(_time_constant(one) for one in pair.drums)
    steps = 0
    while pair.reached[0] is None:
        steps += 1
        if steps > MOST_STEPS:
            raise InputError(
                "other_heat_capacity", other_heat_capacity, "of a drum that warms about as fast"
            )
        # Long after the start nothing but the slow approach to rest is left.
        pair.advance(scale / (STEPS if pair.time < 20 * scale else STEPS / 10))
        if max(abs(rate) for rate in pair.rates(pair.temperatures)) < AT_REST:
            raise InputError(
                "target_temperature", target_temperature, "less than", pair.temperatures[0]
            )
    return pair.reached[0]


class Drum(NamedTuple):
    """One drum: its set point is ``later_set_point`` from ``target`` on (None: as before)."""

    heat_capacity: float
    heat_loss: float
    heater_power: float
    flow_heat_rate: float
    set_point: float
    target: float = math.inf
    later_set_point: Optional[float] = None


Two = Tuple[float, float]


def _time_constant(drum: Drum) -> float:
    rate = drum.flow_heat_rate + drum.heat_loss
    return drum.heat_capacity / rate if rate > 0 else math.inf


class _Pair:
    """Two drums on one supply at their temperatures; both demands are cut by one share."""

    def __init__(
        self, drum: Drum, other: Drum, supply_power: float, air_temperature: float, start: float
    ) -> None:
        self.drums = (drum, other)
        self.supply_power = supply_power
        self.air_temperature = air_temperature
        self.temperatures: Two = (start, start)
        self.time = 0.0
        # When each drum reached its target.
        self.reached: list[float | None] = [None, None]
        self._note(self.temperatures)

    def _note(self, temperatures: Two) -> None:
        for index, drum in enumerate(self.drums):
            if self.reached[index] is None and temperatures[index] >= drum.target:
                self.reached[index] = self.time

    def _wanted(self, index: int, temperature: float) -> float:
        drum = self.drums[index]
        point = drum.set_point
        if self.reached[index] is not None and drum.later_set_point is not None:
            point = drum.later_set_point
        return max(0.0, min(drum.heater_power, drum.flow_heat_rate * (point - temperature)))

    def rates(self, temperatures: Two) -> Two:
        """How fast both drums warm."""
        this, other = temperatures
        mine, others = self._wanted(0, this), self._wanted(1, other)
        total = mine + others
        share = min(1.0, self.supply_power / total) if total > 0 else 0.0
        a, b = self.drums
        lost = a.heat_loss * (this - self.air_temperature)
        other_lost = b.heat_loss * (other - self.air_temperature)
        return (
            (mine * share - lost) / a.heat_capacity,
            (others * share - other_lost) / b.heat_capacity,
        )

    def _stepped(self, h: float) -> Two:
        def moved(rate: Two, share: float) -> Two:
            return a + share * h * rate[0], b + share * h * rate[1]

        a, b = self.temperatures
        first = self.rates((a, b))
        second = self.rates(moved(first, 0.5))
        third = self.rates(moved(second, 0.5))
        fourth = self.rates(moved(third, 1.0))
        total = [w + 2 * x + 2 * y + z for w, x, y, z in zip(first, second, third, fourth)]
        return a + h / 6 * total[0], b + h / 6 * total[1]

    def _passes(self, temperatures: Two) -> bool:
        return any(
            now >= drum.target
            for drum, reached, now in zip(self.drums, self.reached, temperatures)
            if reached is None
        )

    def advance(self, step: float) -> None:
        """Move on by a step, stopping at each target on the way, where a set point changes."""
        while step > 0:
            new = self._stepped(step)
            part = step
            if self._passes(new):
                low = 0.0
                for _ in range(60):
                    middle = (low + part) / 2
                    if self._passes(self._stepped(middle)):
                        part = middle
                    else:
                        low = middle
                new = self._stepped(part)
            self.time += part
            self.temperatures = new
            self._note(new)
            step -= part


def shared_course(
    drum: Drum,
    other: Drum,
    supply_power: float,
    air_temperature: float,
    start_temperature: float,
    times: Sequence[float],
) -> list[tuple[float, float]]:
    """Temperatures of two drums on one supply at rising times, for a chart.

        Q_i = min(P_i, K_i (T_set - T_i)) f,   f = min(1, P_supply / Σ wanted)

    Parameters
    ----------
    drum, other : Drum
        As in `shared_warm_up_time`.
    supply_power : float
        Left for both heaters, above 0. [W]
    air_temperature : float
        200 to 500. [K]
    start_temperature : float
        Of both drums, 200 to 500. [K]
    times : sequence of float
        0 or more, rising. [s]

    Returns
    -------
    list of (float, float)
        Temperatures of both drums at each time. [K]

    Valid for
    ---------
    Mixed drums; both demands are cut by the same share.

    Source
    ------
    Heat balance, integrated by the classical Runge-Kutta method of fourth order.

    Example
    -------
    >>> one = Drum(411707.0, 12.0, 7000.0, 134.4, 348.15)
    >>> course = shared_course(one, one, 9500.0, 283.15, 283.15, [0.0, 1800.0])
    >>> [round(first - 273.15, 1) for first, _ in course]
    [10.0, 30.2]
    """
    pair = _Pair(drum, other, supply_power, air_temperature, start_temperature)
    longest = min(_time_constant(one) for one in pair.drums)
    course = []
    for time in times:
        steps = max(1, math.ceil((time - pair.time) / longest * 50))
        length = (time - pair.time) / steps
        for _ in range(steps):
            pair.advance(length)
        course.append(pair.temperatures)
    return course


def warm_up_energy(
    heat_capacity: float, start_temperature: float, target_temperature: float
) -> float:
    """Heat that stays in a drum when it is warmed; losses come on top.

        E = C max(0, T_1 - T_0)

    Parameters
    ----------
    heat_capacity : float
        Of drum and liquid, above 0. [J/K]
    start_temperature : float
        200 to 500. [K]
    target_temperature : float
        200 to 500. [K]

    Returns
    -------
    float
        Energy; 0 where the drum is warm already. [J]

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
    require("target_temperature", target_temperature, at_least=COLDEST, at_most=HOTTEST)
    return heat_capacity * max(0.0, target_temperature - start_temperature)
