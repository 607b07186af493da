"""Power and heat loss of a drum learned from a log of its warm-up, with their doubt."""

from __future__ import annotations

import math
from collections.abc import Callable, Sequence
from dataclasses import dataclass

from .heating import COLDEST, HOTTEST
from .inputs import InputError, require
from .quantiles import t_quantile

FEWEST = 5


@dataclass(frozen=True)
class WarmUpFit:
    """What a log says of a drum.

    Attributes
    ----------
    power, power_error : float
        Power that reaches the liquid and its standard error. [W]
    heat_loss, heat_loss_error : float
        Heat lost for each kelvin above the air and its standard error. [W/K]
    scatter : float
        Standard deviation of the readings about the curve. [K]
    degrees_of_freedom : int
        Readings less two. [1]
    """

    power: float
    power_error: float
    heat_loss: float
    heat_loss_error: float
    scatter: float
    degrees_of_freedom: int

    def power_interval(self, probability: float = 0.95) -> tuple[float, float]:
        """Lower and upper end for the power. [W]"""
        return self._interval(self.power, self.power_error, probability)

    def heat_loss_interval(self, probability: float = 0.95) -> tuple[float, float]:
        """Lower and upper end for the heat loss. [W/K]"""
        return self._interval(self.heat_loss, self.heat_loss_error, probability)

    @property
    def power_low(self) -> float:
        """Lower end of the 95 % interval for the power. [W]"""
        return self.power_interval()[0]

    @property
    def power_high(self) -> float:
        """Upper end of the 95 % interval for the power. [W]"""
        return self.power_interval()[1]

    @property
    def heat_loss_low(self) -> float:
        """Lower end of the 95 % interval for the heat loss. [W/K]"""
        return self.heat_loss_interval()[0]

    @property
    def heat_loss_high(self) -> float:
        """Upper end of the 95 % interval for the heat loss. [W/K]"""
        return self.heat_loss_interval()[1]

    def _interval(self, value: float, error: float, probability: float) -> tuple[float, float]:
        factor = t_quantile((1 + probability) / 2, self.degrees_of_freedom)
        return value - factor * error, value + factor * error


def fit_warm_up(
    heat_capacity: float,
    air_temperature: float,
    start_temperature: float,
    heating_times: Sequence[float],
    heating_temperatures: Sequence[float],
    cooling_times: Sequence[float] = (),
    cooling_temperatures: Sequence[float] = (),
) -> WarmUpFit:
    """Power and heat loss that explain a log best, by least squares.

        heating: T = E - (E - T_0) exp(-UA t/C),   E = T_air + P/UA
        cooling: T = T_air + (T_off - T_air) exp(-UA t/C),   T_off the last of the heating

    Parameters
    ----------
    heat_capacity : float
        Of drum and liquid, above 0. [J/K]
    air_temperature : float
        200 to 500. [K]
    start_temperature : float
        Of the drum when the heaters came on, 200 to 500. [K]
    heating_times : sequence of float
        Since the heaters came on, at least 5 readings, the last one the latest. [s]
    heating_temperatures : sequence of float
        Of the drum at these times, as many. [K]
    cooling_times : sequence of float, optional
        Since heaters and flow went off, each 0 or more; may be empty. [s]
    cooling_temperatures : sequence of float, optional
        Of the drum at these times, as many. [K]

    Returns
    -------
    WarmUpFit
        Power and heat loss with their standard errors.

    Errors
    ------
    InputError where there are too few readings, or where they are too flat to say anything.

    Valid for
    ---------
    A heater that its set point does not limit while it heats; steady air. A log of heating
    alone hardly tells the loss; one stretch of cooling does.

    Source
    ------
    Heat balance of one body; least squares by Gauss and Newton, errors from the Jacobian.

    Example
    -------
    A drum of 400 kJ/K, 5 kW and 12 W/K, read without scatter:

    >>> from math import exp
    >>> times = range(0, 3601, 600)
    >>> log = [283.15 + 5000 / 12 * (1 - exp(-12 * t / 4e5)) for t in times]
    >>> fit = fit_warm_up(4e5, 283.15, 283.15, times, log)
    >>> round(fit.power), round(fit.heat_loss, 3)
    (5000, 12.0)
    """
    require("heat_capacity", heat_capacity, above=0)
    require("air_temperature", air_temperature, at_least=COLDEST, at_most=HOTTEST)
    require("start_temperature", start_temperature, at_least=COLDEST, at_most=HOTTEST)
    require("number of heating_times", len(heating_times), at_least=FEWEST)
    for phase, times, temperatures in (
        ("heating", heating_times, heating_temperatures),
        ("cooling", cooling_times, cooling_temperatures),
    ):
        named = f"{phase}_temperatures"
        require(f"number of {named}", len(temperatures), at_least=len(times), at_most=len(times))
        for time, temperature in zip(times, temperatures):
            require(f"{phase}_times", time, at_least=0)
            require(named, temperature, at_least=COLDEST, at_most=HOTTEST)
    last = heating_times[-1]
    require("heating_times", last, above=0, at_least=max(heating_times))
    rise = heating_temperatures[-1] - start_temperature
    if rise <= 0:
        raise InputError(
            "heating_temperatures", heating_temperatures[-1], "more than", start_temperature
        )

    def predicted(power: float, loss: float) -> list[float]:
        def heated(time: float) -> float:
            if abs(loss) * time < 1e-9 * heat_capacity:
                return start_temperature + power * time / heat_capacity
            share = -math.expm1(-loss * time / heat_capacity)
            return start_temperature + (air_temperature + power / loss - start_temperature) * share

        off = heated(last) - air_temperature
        found = [heated(time) for time in heating_times]
        found += [
            air_temperature + off * math.exp(-loss * time / heat_capacity) for time in cooling_times
        ]
        return found

    measured = [*heating_temperatures, *cooling_temperatures]
    unexplained = InputError(
        "heating_temperatures", heating_temperatures[-1], "of a log that one power and loss explain"
    )
    power, loss = heat_capacity * rise / last, 1e-3 * heat_capacity / last
    for _ in range(100):
        try:
            (a, b), (c, d), residual = _normal(predicted, measured, power, loss)
        except OverflowError:
            raise unexplained from None
        determinant = a * d - b * c
        if determinant <= 1e-12 * a * d:
            raise InputError(
                "heating_temperatures", heating_temperatures[-1], "of a log that is less flat"
            )
        first, second = residual
        step = ((d * first - b * second) / determinant, (a * second - c * first) / determinant)
        power, loss = power + step[0], loss + step[1]
        # Far below any standard error, and above the noise of slopes that are differences.
        small = 1e-7 * abs(loss) + 1e-9 * heat_capacity / last
        if abs(step[0]) <= 1e-7 * abs(power) and abs(step[1]) <= small:
            break
    else:
        raise unexplained
    (a, b), (c, d), _ = _normal(predicted, measured, power, loss)
    determinant = a * d - b * c
    freedom = len(measured) - 2
    errors = [x - y for x, y in zip(measured, predicted(power, loss))]
    variance = sum(error * error for error in errors) / freedom
    return WarmUpFit(
        power,
        math.sqrt(variance * d / determinant),
        loss,
        math.sqrt(variance * a / determinant),
        math.sqrt(variance),
        freedom,
    )


Pair = tuple[float, float]


def _normal(
    predicted: Callable[[float, float], list[float]],
    measured: list[float],
    power: float,
    loss: float,
) -> tuple[Pair, Pair, Pair]:
    """Products of the slopes of a curve by its two numbers, and with what is left over."""
    by_power, by_loss = 1e-4 * abs(power), 1e-4 * (abs(loss) + 1e-2)
    up, down = predicted(power + by_power, loss), predicted(power - by_power, loss)
    slopes = [(x - y) / (2 * by_power) for x, y in zip(up, down)]
    up, down = predicted(power, loss + by_loss), predicted(power, loss - by_loss)
    others = [(x - y) / (2 * by_loss) for x, y in zip(up, down)]
    left = [x - y for x, y in zip(measured, predicted(power, loss))]
    a = sum(s * s for s in slopes)
    b = sum(s * o for s, o in zip(slopes, others))
    d = sum(o * o for o in others)
    along = (sum(s * x for s, x in zip(slopes, left)), sum(o * x for o, x in zip(others, left)))
    return (a, b), (b, d), along
