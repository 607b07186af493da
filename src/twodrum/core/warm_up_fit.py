"""Power and heat loss of a drum learned from a log of its warm-up, with their uncertainty."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from statistics import NormalDist

from .comparison import design_effect
from .heating import COLDEST, HOTTEST
from .inputs import InputError, require
from .linear_equations import solution
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
        Readings less two; less three where the start is fitted too. [1]
    follows : float
        How much more the errors count because readings follow the one before. [1]
    rise : float
        Of the drum from its first reading to its last while heated. [K]
    """

    power: float
    power_error: float
    heat_loss: float
    heat_loss_error: float
    scatter: float
    degrees_of_freedom: int
    follows: float = 1.0
    rise: float = 0.0

    def reach(
        self, capacity_uncertainty: float, air_uncertainty: float, probability: float = 0.95
    ) -> tuple[float, float]:
        """Half the widths of intervals that hold what no reading shows: power and heat loss.

        Parameters
        ----------
        capacity_uncertainty : float
            Standard deviation of the heat capacity over its value, 0 or more: power and loss are
            in proportion to it. [1]
        air_uncertainty : float
            How far the air may have moved while the drum warmed, 0 or more. [K]
        probability : float, optional
            Of the interval, between 0 and 1. [1]

        Returns
        -------
        tuple of float
            For the power [W] and for the heat loss [W/K].

        Valid for
        ---------
        Readings that follow the one before, too: their errors count more.

        Source
        ------
        JCGM 100:2008, sums of squares; air that moves with the drum hides its share of the rise.
        """
        require("capacity_uncertainty", capacity_uncertainty, at_least=0)
        require("air_uncertainty", air_uncertainty, at_least=0)
        freedom = max(2.0, self.degrees_of_freedom / self.follows)
        factor = t_quantile((1 + probability) / 2, freedom) * math.sqrt(self.follows)
        shared = NormalDist().inv_cdf((1 + probability) / 2) * capacity_uncertainty
        loss = abs(self.heat_loss)
        hidden = loss * air_uncertainty / self.rise if self.rise > 0 else math.inf
        power = math.hypot(factor * self.power_error, shared * self.power, loss * air_uncertainty)
        return power, math.hypot(factor * self.heat_loss_error, shared * loss, hidden)

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
    require("start_temperature", start_temperature, at_least=COLDEST, at_most=HOTTEST)
    heating, cooling = (heating_times, heating_temperatures), (cooling_times, cooling_temperatures)
    _require_log(heat_capacity, air_temperature, heating, cooling)
    rise = heating_temperatures[-1] - start_temperature
    if rise <= 0:
        raise InputError(
            "heating_temperatures", heating_temperatures[-1], "more than", start_temperature
        )
    known = _Log(heat_capacity, air_temperature, heating, cooling, start_temperature)
    return known.fit()


def fit_warm_up_and_start(
    heat_capacity: float,
    air_temperature: float,
    heating_times: Sequence[float],
    heating_temperatures: Sequence[float],
    cooling_times: Sequence[float] = (),
    cooling_temperatures: Sequence[float] = (),
) -> WarmUpFit:
    """The same where the start is read no better than the rest: it is fitted too.

        as `fit_warm_up`, with T_0 a third unknown

    Parameters
    ----------
    heat_capacity : float
        Of drum and liquid, above 0. [J/K]
    air_temperature : float
        200 to 500. [K]
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
        Power and heat loss with their standard errors; readings less three are free.

    Errors
    ------
    InputError where there are too few readings, or where they are too flat to say anything.

    Valid for
    ---------
    As `fit_warm_up`.

    Source
    ------
    Heat balance of one body; least squares by Gauss and Newton, errors from the Jacobian.

    Example
    -------
    >>> from math import exp
    >>> times = range(0, 3601, 600)
    >>> log = [283.15 + 5000 / 12 * (1 - exp(-12 * t / 4e5)) for t in times]
    >>> fit = fit_warm_up_and_start(4e5, 283.15, times, log)
    >>> round(fit.power), fit.degrees_of_freedom
    (5000, 4)
    """
    heating, cooling = (heating_times, heating_temperatures), (cooling_times, cooling_temperatures)
    _require_log(heat_capacity, air_temperature, heating, cooling)
    first, last = heating_temperatures[0], heating_temperatures[-1]
    if last <= first:
        raise InputError("heating_temperatures", last, "more than", first)
    return _Log(heat_capacity, air_temperature, heating, cooling, None).fit()


Series = tuple[Sequence[float], Sequence[float]]


def _require_log(heat_capacity: float, air: float, heating: Series, cooling: Series) -> None:
    require("heat_capacity", heat_capacity, above=0)
    require("air_temperature", air, at_least=COLDEST, at_most=HOTTEST)
    require("number of heating_times", len(heating[0]), at_least=FEWEST)
    for phase, (times, temperatures) in (("heating", heating), ("cooling", cooling)):
        named = f"{phase}_temperatures"
        require(f"number of {named}", len(temperatures), at_least=len(times), at_most=len(times))
        for time, temperature in zip(times, temperatures):
            require(f"{phase}_times", time, at_least=0)
            require(named, temperature, at_least=COLDEST, at_most=HOTTEST)
    require("heating_times", heating[0][-1], above=0, at_least=max(heating[0]))


@dataclass(frozen=True)
class _Log:
    """A log and what explains it: power, loss, and the start where it is not known."""

    heat_capacity: float
    air: float
    heating: Series
    cooling: Series
    start: float | None

    @property
    def last(self) -> float:
        return self.heating[0][-1]

    @property
    def measured(self) -> list[float]:
        return [*self.heating[1], *self.cooling[1]]

    def predicted(self, unknown: Sequence[float]) -> list[float]:
        power, loss = unknown[:2]
        start = unknown[2] if self.start is None else self.start

        def heated(time: float) -> float:
            if abs(loss) * time < 1e-9 * self.heat_capacity:
                return start + power * time / self.heat_capacity
            share = -math.expm1(-loss * time / self.heat_capacity)
            return start + (self.air + power / loss - start) * share

        off = heated(self.last) - self.air
        found = [heated(time) for time in self.heating[0]]
        found += [
            self.air + off * math.exp(-loss * time / self.heat_capacity) for time in self.cooling[0]
        ]
        return found

    def fit(self) -> WarmUpFit:
        capacity, last = self.heat_capacity, self.last
        first = self.heating[1][0] if self.start is None else self.start
        unknown = [capacity * (self.heating[1][-1] - first) / last, 1e-3 * capacity / last]
        unknown += [first] if self.start is None else []
        unexplained = InputError(
            "heating_temperatures", self.heating[1][-1], "of a log that one power and loss explain"
        )
        for _ in range(100):
            try:
                products, along = self._normal(unknown)
            except OverflowError:
                raise unexplained from None
            step = _solved(products, along, self.heating[1][-1])
            unknown = [value + change for value, change in zip(unknown, step)]
            # Far below any standard error, and above the noise of slopes that are differences.
            small = (
                1e-7 * abs(unknown[0]),
                1e-7 * abs(unknown[1]) + 1e-9 * capacity / last,
                1e-6,
            )
            if all(abs(change) <= limit for change, limit in zip(step, small)):
                break
        else:
            raise unexplained
        products, _ = self._normal(unknown)
        freedom = len(self.measured) - len(unknown)
        errors = [x - y for x, y in zip(self.measured, self.predicted(unknown))]
        variance = math.fsum(error * error for error in errors) / freedom
        power_error, loss_error = (
            math.sqrt(variance * _solved(products, one, self.heating[1][-1])[place])
            for place, one in enumerate(_unit_vectors(len(unknown))[:2])
        )
        return WarmUpFit(
            *(unknown[0], power_error, unknown[1], loss_error, math.sqrt(variance), freedom),
            follows=design_effect([errors], len(unknown)),
            rise=self.heating[1][-1] - first,
        )

    def _normal(self, unknown: list[float]) -> tuple[list[list[float]], list[float]]:
        """Products of the slopes by each unknown, and of each with what is left over."""
        steps = [1e-4 * abs(unknown[0]), 1e-4 * (abs(unknown[1]) + 1e-2), 1e-2]
        slopes = []
        for place, step in zip(range(len(unknown)), steps):
            up, down = (
                self.predicted([*unknown[:place], unknown[place] + way, *unknown[place + 1 :]])
                for way in (step, -step)
            )
            slopes.append([(x - y) / (2 * step) for x, y in zip(up, down)])
        left = [x - y for x, y in zip(self.measured, self.predicted(unknown))]
        products = [[math.fsum(x * y for x, y in zip(a, b)) for b in slopes] for a in slopes]
        return products, [math.fsum(x * y for x, y in zip(slope, left)) for slope in slopes]


def _unit_vectors(count: int) -> list[list[float]]:
    return [[float(row == column) for column in range(count)] for row in range(count)]


def _solved(products: list[list[float]], right: Sequence[float], last: float) -> list[float]:
    """Solution of the normal equations, scaled so that flatness shows in small pivots."""
    flat = InputError("heating_temperatures", last, "of a log that is less flat")
    scales = [math.sqrt(products[place][place]) for place in range(len(products))]
    if not all(scales):
        raise flat
    scaled = [
        [value / (scales[i] * scales[j]) for j, value in enumerate(row)]
        for i, row in enumerate(products)
    ]
    if _determinant(scaled) <= 1e-12:
        raise flat
    found = solution(scaled, [value / scale for value, scale in zip(right, scales)])
    return [value / scale for value, scale in zip(found, scales)]


def _determinant(rows: list[list[float]]) -> float:
    """Of two or three rows."""
    if len(rows) == 2:
        return rows[0][0] * rows[1][1] - rows[0][1] * rows[1][0]
    first, others = rows[0], rows[1:]
    minors = ([[*row[:place], *row[place + 1 :]] for row in others] for place in range(3))
    signs = (1.0, -1.0, 1.0)
    return math.fsum(
        sign * value * _determinant(minor) for sign, value, minor in zip(signs, first, minors)
    )
