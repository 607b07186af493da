"""A straight line through points, with the doubt of both of its numbers."""

from __future__ import annotations

import math
from collections.abc import Sequence
from typing import NamedTuple

from .inputs import InputError, require, require_series
from .quantiles import t_quantile


class StraightLine(NamedTuple):
    """A line fitted by least squares.

    Attributes
    ----------
    intercept, intercept_error : float
        Value at 0 and its standard error. [as the values]
    slope, slope_error : float
        Rise for each unit of the places, and its standard error. [values over places]
    scatter : float
        Standard deviation of the points about the line. [as the values]
    determination : float
        Share of the variance that the line explains. [1]
    degrees_of_freedom : float
        Points less two. [1]
    """

    intercept: float
    intercept_error: float
    slope: float
    slope_error: float
    scatter: float
    determination: float
    degrees_of_freedom: float

    def slope_interval(self, probability: float) -> tuple[float, float]:
        """Lower and upper end for the slope. [values over places]"""
        reach = t_quantile((1 + probability) / 2, self.degrees_of_freedom) * self.slope_error
        return self.slope - reach, self.slope + reach


def straight_line(places: Sequence[float], values: Sequence[float]) -> StraightLine:
    """Line through points that lies nearest to them in the values.

        b = Σ (x - x̄)(y - ȳ) / Σ (x - x̄)²,   a = ȳ - b x̄,   s² = Σ (y - a - b x)² / (n - 2)

    Parameters
    ----------
    places : sequence of float
        At least 3, not all the same. [any]
    values : sequence of float
        As many as places. [any]

    Returns
    -------
    StraightLine
        Both numbers, their standard errors, scatter and share explained.

    Errors
    ------
    InputError where the places are all the same.

    Valid for
    ---------
    Values that scatter alike everywhere, places that are exact.

    Source
    ------
    NIST/SEMATECH e-Handbook of Statistical Methods, chapter 4; certified data of NIST StRD.

    Example
    -------
    >>> line = straight_line([0.0, 1.0, 2.0, 3.0], [1.0, 3.1, 4.9, 7.0])
    >>> round(line.intercept, 3), round(line.slope, 3), round(line.slope_error, 4)
    (1.03, 1.98, 0.0424)
    """
    require_series("places", places, 3)
    require_series("values", values, 3)
    count = len(places)
    require("number of values", len(values), at_least=count, at_most=count)
    x_mean, y_mean = math.fsum(places) / count, math.fsum(values) / count
    across = math.fsum((x - x_mean) ** 2 for x in places)
    if min(places) == max(places) or across == 0:
        raise InputError("places", places[0], "not all the same")
    slope = math.fsum((x - x_mean) * (y - y_mean) for x, y in zip(places, values)) / across
    intercept = y_mean - slope * x_mean
    left = math.fsum((y - intercept - slope * x) ** 2 for x, y in zip(places, values))
    total = math.fsum((y - y_mean) ** 2 for y in values)
    scatter = math.sqrt(left / (count - 2))
    return StraightLine(
        intercept,
        scatter * math.sqrt(1 / count + x_mean**2 / across),
        slope,
        scatter / math.sqrt(across),
        scatter,
        # A level line through values that are all the same leaves nothing to explain.
        1.0 if min(values) == max(values) or total == 0 else 1 - left / total,
        float(count - 2),
    )
