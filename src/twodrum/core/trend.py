"""Whether readings drift with time, and how fast, whatever a few odd ones say."""

from __future__ import annotations

import math
import statistics
from collections import Counter
from collections.abc import Sequence
from statistics import NormalDist

from .inputs import InputError, require, require_series

# With so many readings the normal law is as good as counting every order.
EXACT_UP_TO = 33


def robust_slope(times: Sequence[float], values: Sequence[float]) -> float:
    """Slope of readings over time that one odd reading does not upset.

        median of (x_j - x_i)/(t_j - t_i) over all pairs with t_j > t_i

    Parameters
    ----------
    times : sequence of float
        At least 2, not all the same. [any]
    values : sequence of float
        As many as times. [any]

    Returns
    -------
    float
        Slope. [values over times]

    Source
    ------
    H. Theil 1950 and P. K. Sen 1968 (from memory).

    Example
    -------
    >>> robust_slope([0.0, 1.0, 2.0, 3.0], [0.0, 1.0, 9.0, 3.0])
    1.0
    """
    return statistics.median(_slopes(times, values))


def _slopes(times: Sequence[float], values: Sequence[float]) -> list[float]:
    require_series("times", times)
    require_series("values", values)
    require("number of values", len(values), at_least=len(times), at_most=len(times))
    points = list(zip(times, values))
    slopes = sorted((x - y) / (t - u) for t, x in points for u, y in points if t > u)
    if not slopes:
        raise InputError("times", times[0], "not all the same")
    return slopes


def _ties(times: Sequence[float], values: Sequence[float]) -> list[list[int]]:
    """How many are the same, group by group, among the times and among the values."""
    return [[n for n in Counter(series).values() if n > 1] for series in (times, values)]


def _score_variance(times: Sequence[float], values: Sequence[float]) -> float:
    """Variance of pairs that rise less pairs that fall, where there is no trend, with ties."""
    count = len(times)
    ties = _ties(times, values)
    pairs = [sum(n * (n - 1) / 2 for n in group) for group in ties]
    triples = [sum(n * (n - 1) * (n - 2) for n in group) for group in ties]
    score = count * (count - 1) * (2 * count + 5)
    score -= sum(n * (n - 1) * (2 * n + 5) for group in ties for n in group)
    variance = score / 18 + 4 * pairs[0] * pairs[1] / (2 * count * (count - 1))
    return variance + triples[0] * triples[1] / (9 * count * (count - 1) * (count - 2))


def kendall_tau(times: Sequence[float], values: Sequence[float]) -> float:
    """How far readings only rise (1) or only fall (-1) with time.

        τ_b = (C - D) / sqrt((P - T_t)(P - T_x)),   P = n(n - 1)/2

    Parameters
    ----------
    times : sequence of float
        At least 2, not all the same. [any]
    values : sequence of float
        As many as times, not all the same. [any]

    Returns
    -------
    float
        Rank correlation. [1]

    Source
    ------
    M. G. Kendall, with ties (from memory).

    Example
    -------
    >>> kendall_tau([0.0, 1.0, 2.0], [3.0, 5.0, 9.0])
    1.0
    """
    require_series("times", times)
    require("number of values", len(values), at_least=len(times), at_most=len(times))
    require_series("values", values)
    score = same_time = same_value = pairs = 0
    points = list(zip(times, values))
    for index, (t, x) in enumerate(points):
        for u, y in points[:index]:
            pairs += 1
            same_time += t == u
            same_value += x == y
            score += (t > u) * (x > y) + (t < u) * (x < y)
            score -= (t > u) * (x < y) + (t < u) * (x > y)
    rest = (pairs - same_time) * (pairs - same_value)
    if rest == 0:
        raise InputError("values", values[0], "not all the same")
    return score / math.sqrt(rest)


def trend_probability(times: Sequence[float], values: Sequence[float]) -> float:
    """Probability of a rank correlation at least so far from 0 where there is no trend.

        share of all orders with |S| as large,   from 33 readings or with ties 2 (1 - Φ(|S|/σ))

    Parameters
    ----------
    times : sequence of float
        At least 4, not all the same. [any]
    values : sequence of float
        As many as times, not all the same. [any]

    Returns
    -------
    float
        Probability, two-sided. [1]

    Valid for
    ---------
    Readings that err independently; with ties about 10 of them or more. Four can never show a
    trend at 5 %.

    Source
    ------
    M. G. Kendall: exact without ties up to 33 readings, else normal with ties (from memory).

    Example
    -------
    >>> round(trend_probability(range(10), [1, 3, 2, 5, 4, 6, 8, 7, 9, 10]), 4)
    0.0001
    """
    require("number of times", len(times), at_least=4)
    tau = kendall_tau(times, values)
    count = len(times)
    pairs = count * (count - 1) / 2
    ties = _ties(times, values)
    same = [sum(n * (n - 1) / 2 for n in group) for group in ties]
    score = tau * math.sqrt((pairs - same[0]) * (pairs - same[1]))
    if not any(ties) and count <= EXACT_UP_TO:
        return _exact_probability(count, round((pairs - abs(score)) / 2))
    return 2 * NormalDist().cdf(-abs(score) / math.sqrt(_score_variance(times, values)))


def _exact_probability(count: int, fewest: int) -> float:
    """Share of all orders with at most so many pairs that fall, or as many that rise."""
    ways = [1]
    for n in range(2, count + 1):
        longer = [0] * (len(ways) + n - 1)
        for falls, number in enumerate(ways):
            for more in range(n):
                longer[falls + more] += number
        ways = longer
    return min(1.0, 2 * sum(ways[: fewest + 1]) / math.factorial(count))
