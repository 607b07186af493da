"""How far a value stands from the others where a few of them may be outlier."""

from __future__ import annotations

import math
import statistics
from collections.abc import Sequence

from .inputs import InputError, require, require_series
from .quantiles import t_quantile

# The median absolute deviation of a normal distribution is so much of its standard deviation.
OF_NORMAL = 0.6745
# The standard deviation of a normal distribution is so much of its mean absolute deviation.
OF_MEAN = 1.253314
# Farther than this stands out, where there are many values.
STANDS_OUT = 3.5
# The median absolute deviation of a sample tells as much as the standard deviation of so many.
EFFICIENCY = 0.37


def standing_out(count: float, comparisons: float, chance: float) -> float:
    """Score beyond which a value stands out from so many that are all alike.

        max(3.5, t with 0.37 n degrees of freedom at 1 - p/(2 m))

    Parameters
    ----------
    count : float
        Values that are compared, at least 3. [1]
    comparisons : float
        Scores that are looked at in all, at least 1. [1]
    chance : float
        Of any of them standing out by chance, 0 < p < 1. [1]

    Returns
    -------
    float
        Score. [1]

    Valid for
    ---------
    An approximation: it treats the median absolute deviation like a standard deviation of fewer
    values.

    Source
    ------
    B. Iglewicz and D. Hoaglin 1993 for 3.5, Bonferroni for many scores, efficiency of the median
    absolute deviation (from memory).

    Example
    -------
    >>> round(standing_out(40.0, 200.0, 0.05), 2)
    4.78
    """
    require("count", count, at_least=3)
    require("comparisons", comparisons, at_least=1)
    require("chance", chance, above=0, below=1)
    freedom = max(1.0, EFFICIENCY * count)
    return max(STANDS_OUT, t_quantile(1 - chance / (2 * comparisons), freedom))


def robust_scores(values: Sequence[float]) -> list[float]:
    """How many robust standard deviations each value stands from the median.

        M_i = 0.6745 (x_i - median) / MAD,
        where that is 0 (x_i - median) / (1.2533 mean |x - median|)

    Parameters
    ----------
    values : sequence of float
        At least 3, not all the same. [any]

    Returns
    -------
    list of float
        One score for each value; beyond 3.5 either way it stands out. [1]

    Errors
    ------
    InputError where all values are the same.

    Valid for
    ---------
    Values that are about normal but for a few.

    Source
    ------
    B. Iglewicz and D. Hoaglin 1993, as NIST/SEMATECH e-Handbook, 1.3.5.17 (from memory).

    Example
    -------
    >>> [round(score, 3) for score in robust_scores([2.1, 2.3, 2.0, 2.2, 3.9])]
    [-0.675, 0.674, -1.349, 0.0, 11.466]
    """
    require_series("values", values, 3)
    middle = statistics.median(values)
    spread = statistics.median(abs(value - middle) for value in values)
    if spread == 0:
        # More than half are the same.
        mean = math.fsum(abs(value - middle) for value in values) / len(values)
        if mean == 0:
            raise InputError("values", middle, "not all the same")
        return [(value - middle) / (OF_MEAN * mean) for value in values]
    return [OF_NORMAL * (value - middle) / spread for value in values]
