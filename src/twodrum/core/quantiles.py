"""Student's t distribution, and how far the next reading may stand from those before it."""

from __future__ import annotations

import math

from .inputs import require
from .roots import root


def incomplete_beta(a: float, b: float, x: float) -> float:
    """Probability that a value of the beta distribution is not above another.

        I_x(a, b), the regularised incomplete beta function

    Parameters
    ----------
    a : float
        Above 0, at most 1e6. [1]
    b : float
        Above 0, at most 1e6. [1]
    x : float
        0 or less gives 0, 1 or more gives 1. [1]

    Returns
    -------
    float
        Probability. [1]

    Source
    ------
    Definition; continued fraction by Lentz's method.

    Example
    -------
    >>> round(incomplete_beta(2.0, 3.0, 0.5), 9)
    0.6875
    """
    require("a", a, above=0, at_most=1e6)
    require("b", b, above=0, at_most=1e6)
    require("x", x)
    if x <= 0:
        return 0.0
    if x >= 1:
        return 1.0
    if x > (a + 1) / (a + b + 2):
        return 1.0 - incomplete_beta(b, a, 1 - x)
    front = math.exp(
        math.lgamma(a + b) - math.lgamma(a) - math.lgamma(b) + a * math.log(x) + b * math.log1p(-x)
    )
    tiny = 1e-300
    c, d = 1.0, 1 / max(1 - (a + b) * x / (a + 1), tiny)
    fraction = d
    change, m = 0.0, 0
    while abs(change - 1) > 1e-15:
        m += 1
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
    return front * fraction / a


def t_probability(value: float, degrees_of_freedom: float) -> float:
    """Probability that a value of Student's t distribution is not above another.

        P(t <= x) = 1 - I_z(ν/2, 1/2)/2,   z = ν/(ν + x²),   x >= 0

    Parameters
    ----------
    value : float
        Any number. [1]
    degrees_of_freedom : float
        At least 1. [1]

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
    require("degrees_of_freedom", degrees_of_freedom, at_least=1)
    tail = _t_tail(abs(value), degrees_of_freedom)
    if tail > 0.25:
        middle = _t_middle(abs(value), degrees_of_freedom)
        return 0.5 + middle if value >= 0 else 0.5 - middle
    return 1 - tail if value >= 0 else tail


def _t_tail(value: float, degrees_of_freedom: float) -> float:
    """Probability above a value of 0 or more; beyond a million degrees it is the normal law."""
    freedom = min(degrees_of_freedom, 1e6)
    return incomplete_beta(freedom / 2, 0.5, freedom / (freedom + value * value)) / 2


def _t_middle(value: float, degrees_of_freedom: float) -> float:
    """Probability between 0 and a value, without what would be lost beside a half."""
    freedom = min(degrees_of_freedom, 1e6)
    return incomplete_beta(0.5, freedom / 2, value * value / (freedom + value * value)) / 2


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
    Definition, solved.

    Example
    -------
    >>> round(t_quantile(0.975, 18.0), 6)
    2.100922
    """
    require("probability", probability, above=0, below=1)
    require("degrees_of_freedom", degrees_of_freedom, at_least=1)
    if probability > 0.5:
        return -t_quantile(1 - probability, degrees_of_freedom)
    high = 1.0
    while _t_tail(high, degrees_of_freedom) > probability:
        high *= 2
    if probability > 0.25:
        wanted = 0.5 - probability
        return -root(lambda x: _t_middle(x, degrees_of_freedom) - wanted, 0.0, high)
    return -root(lambda x: _t_tail(x, degrees_of_freedom) - probability, 0.0, high)


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
