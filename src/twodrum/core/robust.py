"""How far a value stands from the others where a few of them may be odd."""

from __future__ import annotations

import statistics
from collections.abc import Sequence

from .inputs import InputError, require_series

# The median absolute deviation of a normal distribution is so much of its standard deviation.
OF_NORMAL = 0.6745
# Farther than this stands out.
STANDS_OUT = 3.5


def robust_scores(values: Sequence[float]) -> list[float]:
    """How many robust standard deviations each value stands from the median.

        M_i = 0.6745 (x_i - median) / MAD

    Parameters
    ----------
    values : sequence of float
        At least 3, more than half of them not the same. [any]

    Returns
    -------
    list of float
        One score for each value; beyond 3.5 either way it stands out. [1]

    Errors
    ------
    InputError where more than half of the values are the same.

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
        raise InputError("values", middle, "not the same for more than half of them")
    return [OF_NORMAL * (value - middle) / spread for value in values]
