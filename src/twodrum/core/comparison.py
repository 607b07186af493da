"""Whether two periods of readings differ by more than chance, and what a mean is worth."""

from __future__ import annotations

import math
import statistics
from collections.abc import Sequence
from typing import NamedTuple

from .inputs import InputError, require, require_series
from .quantiles import t_probability


class Difference(NamedTuple):
    """How two means differ.

    Attributes
    ----------
    difference : float
        First mean less second. [as the values]
    statistic : float
        Difference over its standard error. [1]
    degrees_of_freedom : float
        Of the statistic. [1]
    probability : float
        Of a difference at least so large, either way, where the true means are the same. [1]
    """

    difference: float
    statistic: float
    degrees_of_freedom: float
    probability: float


def difference_of_means(values: Sequence[float], others: Sequence[float]) -> Difference:
    """Difference of two means where both periods may scatter differently.

        t = (x̄ - ȳ) / sqrt(s_x²/n + s_y²/m),   ν by Welch and Satterthwaite

    Parameters
    ----------
    values : sequence of float
        At least 2. [any]
    others : sequence of float
        At least 2, not all the same where the values are all the same. [as the values]

    Returns
    -------
    Difference
        Difference, statistic, degrees of freedom, probability.

    Valid for
    ---------
    Independent readings that scatter about normally; for drifting ones see
    `effective_reading_count`.

    Source
    ------
    B. L. Welch 1947 (from memory).

    Example
    -------
    >>> found = difference_of_means([27.1, 22.0, 20.8, 23.4], [17.0, 17.9, 16.9, 20.1])
    >>> round(found.statistic, 3), round(found.degrees_of_freedom, 2), round(found.probability, 4)
    (3.441, 4.63, 0.0208)
    """
    require_series("values", values)
    require_series("others", others)
    first = statistics.variance(values) / len(values)
    second = statistics.variance(others) / len(others)
    whole = first + second
    if whole == 0:
        raise InputError("others", others[0], "not all the same")
    difference = statistics.fmean(values) - statistics.fmean(others)
    statistic = difference / math.sqrt(whole)
    # Shares of the variance, so that the unit of the readings plays no part.
    one, other = first / whole, second / whole
    freedom = 1 / (one**2 / (len(values) - 1) + other**2 / (len(others) - 1))
    return Difference(difference, statistic, freedom, 2 * t_probability(-abs(statistic), freedom))


# So many readings on either side may be alike.
NEIGHBOURS = 4


def design_effect(series: Sequence[Sequence[float]], fitted: float) -> float:
    """How much more the mean of readings scatters, squared, than that of independent ones.

        1 + 2 sum (r_k + p/n), k = 1 to 4, at least 1

    Parameters
    ----------
    series : sequence of sequences of float
        What is left of readings in the order in which they were taken, mean or curve taken off;
        in each series neighbours may be alike, between series nothing is; any numbers.
    fitted : float
        p: means or other values that were taken off, 0 or more. [1]

    Returns
    -------
    float
        Ratio of the variances; 1 where nothing is left over. [1]

    Valid for
    ---------
    Clusters of up to some five readings; small series say little of it, and hide a part.

    Source
    ------
    Variance of the mean of a stationary series (JCGM 100:2008, 4.2.7 asks for it), each
    autocorrelation r_k corrected for what a fitted mean takes off it.

    Example
    -------
    Pairs that are alike:

    >>> round(design_effect([[1.0, 1.0, -1.0, -1.0] * 5], 1.0), 2)
    1.2
    """
    require("fitted", fitted, at_least=0)
    squares = math.fsum(value * value for row in series for value in row)
    count = sum(len(row) for row in series)
    if not squares:
        return 1.0
    effect = 1.0
    for lag in range(1, NEIGHBOURS + 1):
        pairs = (x * y for row in series for x, y in zip(row, row[lag:]))
        effect += 2 * (math.fsum(pairs) / squares + fitted / count)
    return max(1.0, effect)


def sample_deviation(values: Sequence[float]) -> float:
    """Standard deviation of the population that some values were drawn from.

        s = sqrt(Σ (x - x̄)² / (n - 1))

    Parameters
    ----------
    values : sequence of float
        At least 2. [any]

    Returns
    -------
    float
        Standard deviation. [as the values]

    Source
    ------
    JCGM 100, 4.2.2.

    Example
    -------
    >>> round(sample_deviation([5.1, 4.7, 5.6, 4.9, 5.2]), 6)
    0.339116
    """
    require_series("values", values)
    return statistics.stdev(values)
