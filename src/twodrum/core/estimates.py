"""Estimates from three values: the least, the likeliest, the most."""

from __future__ import annotations

import math

from .inputs import require


def _require_three(least: float, likeliest: float, most: float) -> None:
    require("least", least)
    require("likeliest", likeliest, at_least=least)
    require("most", most, at_least=likeliest)


def three_point_mean(least: float, likeliest: float, most: float) -> float:
    """Mean of a three-point estimate that trusts the likeliest value most.

        (a + 4 m + b) / 6

    Parameters
    ----------
    least : float
        Any number. [1]
    likeliest : float
        At least the least. [1]
    most : float
        At least the likeliest. [1]

    Returns
    -------
    float
        Mean. [1]

    Source
    ------
    PERT's beta estimate (from memory).

    Example
    -------
    >>> three_point_mean(8.0, 10.0, 15.0)
    10.5
    """
    _require_three(least, likeliest, most)
    return (least + 4 * likeliest + most) / 6


def three_point_deviation(least: float, likeliest: float, most: float) -> float:
    """Standard deviation of the beta distribution behind a three-point estimate.

        sqrt((μ - a)(b - μ) / 7),   μ = (a + 4 m + b)/6

    Parameters
    ----------
    least : float
        Any number. [1]
    likeliest : float
        At least the least. [1]
    most : float
        At least the likeliest. [1]

    Returns
    -------
    float
        Standard deviation; the rule (b - a)/6 is an approximation of it. [1]

    Source
    ------
    Beta distribution of shape 1 + 4 (m - a)/(b - a) and 1 + 4 (b - m)/(b - a).

    Example
    -------
    >>> round(three_point_deviation(8.0, 10.0, 15.0), 6)
    1.267731
    """
    mean = three_point_mean(least, likeliest, most)
    return math.sqrt((mean - least) * (most - mean) / 7)


def triangular_mean(least: float, likeliest: float, most: float) -> float:
    """Mean of a triangular distribution.

        (a + m + b) / 3

    Parameters
    ----------
    least : float
        Any number. [1]
    likeliest : float
        At least the least. [1]
    most : float
        At least the likeliest. [1]

    Returns
    -------
    float
        Mean. [1]

    Source
    ------
    Definition.

    Example
    -------
    >>> triangular_mean(8.0, 10.0, 15.0)
    11.0
    """
    _require_three(least, likeliest, most)
    return (least + likeliest + most) / 3


def triangular_quantile(least: float, likeliest: float, most: float, probability: float) -> float:
    """Value that a triangular distribution does not pass with a probability.

        a + sqrt(p (b - a)(m - a)) up to p = (m - a)/(b - a), then b - sqrt((1 - p)(b - a)(b - m))

    Parameters
    ----------
    least : float
        Any number. [1]
    likeliest : float
        At least the least. [1]
    most : float
        At least the likeliest. [1]
    probability : float
        0 to 1. [1]

    Returns
    -------
    float
        Quantile. [1]

    Source
    ------
    Inverse of the distribution.

    Example
    -------
    >>> round(triangular_quantile(8.0, 10.0, 15.0, 0.8), 4)
    12.3542
    """
    _require_three(least, likeliest, most)
    require("probability", probability, at_least=0, at_most=1)
    width = most - least
    if probability * width <= likeliest - least:
        return least + math.sqrt(probability * width * (likeliest - least))
    return most - math.sqrt((1 - probability) * width * (most - likeliest))
