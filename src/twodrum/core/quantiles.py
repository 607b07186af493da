"""Student's t distribution, and how far the next reading may stand from those before it."""

from __future__ import annotations

import math

from .inputs import require


def _incomplete_beta(a: float, b: float, x: float) -> float:
    """Regularised incomplete beta function by its continued fraction (Lentz's method)."""
    if x <= 0:
        return 0.0
    if x >= 1:
        return 1.0
    if x > (a + 1) / (a + b + 2):
        return 1.0 - _incomplete_beta(b, a, 1 - x)
    front = math.exp(
        math.lgamma(a + b) - math.lgamma(a) - math.lgamma(b) + a * math.log(x) + b * math.log1p(-x)
    )
    tiny = 1e-300
    c, d = 1.0, 1 / max(1 - (a + b) * x / (a + 1), tiny)
    fraction = d
    for m in range(1, 500):
        for step in (
            m * (b - m) * x / ((a + 2 * m - 1) * (a + 2 * m)),
            -(a + m) * (a + b + m) * x / ((a + 2 * m) * (a + 2 * m + 1)),
        ):
            d = 1 + step * d
            d = 1 / (d if abs(d) > tiny else tiny)
            c = 1 + step / c
            c = c if abs(c) > tiny else tiny
            change = c * d
            fraction *= change
        if abs(change - 1) < 1e-15:
            break
    return front * fraction / a


def t_probability(value: float, degrees_of_freedom: float) -> float:
    """Probability that a value of Student's t distribution is not above another.

        P(t <= x) = 1 - I_z(ν/2, 1/2)/2,   z = ν/(ν + x²),   x >= 0

    Parameters
    ----------
    value : float
        Any number. [1]
    degrees_of_freedom : float
        Above 0. [1]

    Returns
    -------
    float
        Probability. [1]

    Source
    ------
    Definition; the incomplete beta function by its continued fraction.

    Example
    -------
    >>> round(t_probability(2.100922, 18.0), 6)
    0.975
    """
    require("value", value)
    require("degrees_of_freedom", degrees_of_freedom, above=0)
    square = value * value
    z = degrees_of_freedom / (degrees_of_freedom + square)
    tail = _incomplete_beta(degrees_of_freedom / 2, 0.5, z) / 2
    return 1 - tail if value >= 0 else tail


def t_quantile(probability: float, degrees_of_freedom: float) -> float:
    """Value below which Student's t distribution has a probability.

        P(t <= x) = p, solved for x

    Parameters
    ----------
    probability : float
        0 < p < 1. [1]
    degrees_of_freedom : float
        At least 1. [1]

    Returns
    -------
    float
        Quantile. [1]

    Source
    ------
    Definition, solved by halving.

    Example
    -------
    >>> round(t_quantile(0.975, 18.0), 6)
    2.100922
    """
    require("probability", probability, above=0, below=1)
    require("degrees_of_freedom", degrees_of_freedom, at_least=1)
    if probability < 0.5:
        return -t_quantile(1 - probability, degrees_of_freedom)
    low, high = 0.0, 1.0
    while t_probability(high, degrees_of_freedom) < probability:
        low, high = high, 2 * high
    for _ in range(200):
        middle = (low + high) / 2
        if middle in (low, high):
            break
        if t_probability(middle, degrees_of_freedom) < probability:
            low = middle
        else:
            high = middle
    return (low + high) / 2


def prediction_limit_factor(count: float, probability: float) -> float:
    """How many standard deviations of earlier readings the next one may stand from their mean.

        k = t(1 - (1 - p)/2, n - 1) sqrt(1 + 1/n)

    Parameters
    ----------
    count : float
        Earlier readings, at least 2. [1]
    probability : float
        That a good reading stays inside, 0 < p < 1; 0.9973 is that of three sigma. [1]

    Returns
    -------
    float
        Factor. [1]

    Valid for
    ---------
    Readings that scatter normally and independently.

    Source
    ------
    Prediction interval of one further value (from memory).

    Example
    -------
    >>> round(prediction_limit_factor(20.0, 0.9973), 4)
    3.5323
    """
    require("count", count, at_least=2)
    require("probability", probability, above=0, below=1)
    return t_quantile(1 - (1 - probability) / 2, count - 1) * math.sqrt(1 + 1 / count)
