"""Estimates from three values: the least, the likeliest, the most."""

from __future__ import annotations

import math
from collections.abc import Sequence
from statistics import NormalDist

from .inputs import require, require_series
from .quantiles import incomplete_beta
from .roots import root


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
    _require_three(least, likeliest, most)
    # Distances of the mean from both ends, exact where all three are the same.
    below = (4 * (likeliest - least) + (most - least)) / 6
    above = ((most - least) + 4 * (most - likeliest)) / 6
    return math.sqrt(max(0.0, below * above / 7))


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
    probability = min(1.0, max(0.0, probability))
    if probability * width <= likeliest - least:
        return least + math.sqrt(probability * width * (likeliest - least))
    return most - math.sqrt((1 - probability) * width * (most - likeliest))


def three_point_quantile(least: float, likeliest: float, most: float, probability: float) -> float:
    """Value below which a three-point estimate lies with a probability, by its beta distribution.

        a + (b - a) x with I_x(α, β) = p,   α = 1 + 4 (m - a)/(b - a), β = 1 + 4 (b - m)/(b - a)

    Parameters
    ----------
    least : float
        Any number. [1]
    likeliest : float
        At least the least. [1]
    most : float
        At least the likeliest. [1]
    probability : float
        0 <= p <= 1. [1]

    Returns
    -------
    float
        Quantile. [1]

    Source
    ------
    PERT's beta estimate (from memory).

    Example
    -------
    >>> round(three_point_quantile(8.0, 10.0, 15.0, 0.8), 4)
    11.6259
    """
    _require_three(least, likeliest, most)
    require("probability", probability, at_least=0, at_most=1)
    length = most - least
    if length == 0:
        return least
    probability = min(1.0, max(0.0, probability))
    a = 1 + 4 * (likeliest - least) / length
    b = 1 + 4 * (most - likeliest) / length
    share = root(lambda x: incomplete_beta(a, b, x) - probability, 0.0, 1.0)
    return least + length * share


def range_deviation(least: float, most: float) -> float:
    """Standard deviation that a range is taken for by rule.

        (b - a) / 6

    Parameters
    ----------
    least : float
        Any number. [1]
    most : float
        At least the least. [1]

    Returns
    -------
    float
        Standard deviation. [1]

    Valid for
    ---------
    A convention; `three_point_deviation` is that of the distribution.

    Source
    ------
    PERT's convention.

    Example
    -------
    >>> round(range_deviation(8.0, 15.0), 6)
    1.166667
    """
    require("least", least)
    require("most", most, at_least=least)
    return (most - least) / 6


def triangular_deviation(least: float, likeliest: float, most: float) -> float:
    """Standard deviation of a triangular estimate.

        sqrt((a² + b² + m² - a b - a m - b m) / 18)

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
        Standard deviation. [1]

    Source
    ------
    Triangular distribution.

    Example
    -------
    >>> round(triangular_deviation(8.0, 10.0, 15.0), 6)
    1.47196
    """
    _require_three(least, likeliest, most)
    left, right = likeliest - least, most - likeliest
    return math.sqrt((left**2 + left * right + right**2) / 18)


def sum_quantile(
    means: Sequence[float],
    deviations: Sequence[float],
    correlation: float,
    probability: float,
) -> float:
    """Value below which a sum of estimates lies with a probability.

        Σ μ_i + z(p) sqrt((1 - ρ) Σ σ_i² + ρ (Σ σ_i)²)

    Parameters
    ----------
    means : sequence of float
        At least 1. [any]
    deviations : sequence of float
        As many, each 0 or more. [as the means]
    correlation : float
        Of every two estimates, 0 (independent) to 1 (they err together). [1]
    probability : float
        0 < p < 1. [1]

    Returns
    -------
    float
        Quantile. [as the means]

    Valid for
    ---------
    Sums that are about normal: several parts of like size.

    Source
    ------
    Variance of a sum; normal law.

    Example
    -------
    >>> round(sum_quantile([10500, 4000, 2500], [1166.667, 300, 400], 0.0, 0.8), 2)
    18068.27
    """
    require_series("means", means, 1)
    require("number of deviations", len(deviations), at_least=len(means), at_most=len(means))
    for value in deviations:
        require("deviations", value, at_least=0)
    require("correlation", correlation, at_least=0, at_most=1)
    require("probability", probability, above=0, below=1)
    alone = sum(value * value for value in deviations)
    together = sum(deviations) ** 2
    deviation = math.sqrt((1 - correlation) * alone + correlation * together)
    return sum(means) + NormalDist().inv_cdf(probability) * deviation


def percentile_contingency(base: float, quantile: float) -> float:
    """Share to add to a base so that it reaches a quantile of the estimate.

        c = Q/B - 1

    Parameters
    ----------
    base : float
        Above 0. [1]
    quantile : float
        0 or more; below the base the share is negative. [1]

    Returns
    -------
    float
        Share of the base. [1]

    Source
    ------
    Definition.

    Example
    -------
    >>> round(percentile_contingency(17000.0, 18068.27), 4)
    0.0628
    """
    require("base", base, above=0)
    require("quantile", quantile, at_least=0)
    return quantile / base - 1
