"""Series of readings: moving range, exponentially weighted mean, cumulative sum.

Every function takes the values in the order in which they were read, all of one unit.
"""

from __future__ import annotations

import math
from collections.abc import Sequence

from .inputs import require, require_series

# Mean range of two normal values over their standard deviation as handbooks print it: 2/sqrt(pi).


def weighted_means(values: Sequence[float], start: float, weight: float) -> list[float]:
    """Exponentially weighted mean after every reading.

        z_i = λ x_i + (1 - λ) z_(i-1),   z_0 = start

    Parameters
    ----------
    values : sequence of float
        At least 1. [any]
    start : float
        The mean that is expected, any number. [as the values]
    weight : float
        0 < λ <= 1; 0.3 is usual here. [1]

    Returns
    -------
    list of float
        One for each reading. [as the values]

    Source
    ------
    NIST/SEMATECH e-Handbook of Statistical Methods, section 6.3.2.4.

    Example
    -------
    >>> weighted_means([52.0], 50.0, 0.3)
    [50.6]
    """
    require_series("values", values, 1)
    require("start", start)
    require("weight", weight, above=0, at_most=1)
    found, mean = [], start
    for value in values:
        mean = weight * value + (1 - weight) * mean
        found.append(mean)
    return found


def weighted_mean_reach(
    standard_deviation: float, weight: float, width: float, count: int | None = None
) -> float:
    """How far a weighted mean may stand from its centre.

        L σ sqrt(λ/(2 - λ) (1 - (1 - λ)^(2 i)))

    Parameters
    ----------
    standard_deviation : float
        Of single readings, 0 or more. [any]
    weight : float
        0 < λ <= 1. [1]
    width : float
        Above 0; 2.7 with λ = 0.3 alarms falsely about once in 193 readings. [1]
    count : int, optional
        Readings so far, at least 1; left out: many. [1]

    Returns
    -------
    float
        Distance. [as the standard deviation]

    Source
    ------
    NIST/SEMATECH e-Handbook of Statistical Methods, section 6.3.2.4.

    Example
    -------
    >>> round(50 + weighted_mean_reach(2.0539, 0.3, 3.0), 4)
    52.5884
    """
    require("standard_deviation", standard_deviation, at_least=0)
    require("weight", weight, above=0, at_most=1)
    require("width", width, above=0)
    square = weight / (2 - weight)
    if count is not None:
        require("count", count, at_least=1)
        square *= -math.expm1(2 * count * math.log1p(-weight)) if weight < 1 else 1.0
    return width * standard_deviation * math.sqrt(square)


def cumulative_sums(
    values: Sequence[float], target: float, slack: float
) -> list[tuple[float, float]]:
    """Sums of what lies above and below a target, after every reading.

        S⁺ = max(0, x - (μ + K) + S⁺),   S⁻ = max(0, (μ - K) - x + S⁻)

    Parameters
    ----------
    values : sequence of float
        At least 1. [any]
    target : float
        μ, any number. [as the values]
    slack : float
        K, 0 or more: half of the shift that is to be found. [as the values]

    Returns
    -------
    list of tuple of float
        Upper and lower sum for each reading. [as the values]

    Source
    ------
    D. C. Montgomery and G. C. Runger, 3rd ed., example 16-6.

    Example
    -------
    >>> cumulative_sums([102.0], 99.0, 1.0)
    [(2.0, 0.0)]
    """
    require_series("values", values, 1)
    require("target", target)
    require("slack", slack, at_least=0)
    found, upper, lower = [], 0.0, 0.0
    for value in values:
        upper = max(0.0, value - (target + slack) + upper)
        lower = max(0.0, (target - slack) - value + lower)
        found.append((upper, lower))
    return found
