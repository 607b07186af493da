"""How long a chart of readings runs before it warns: falsely, or after a shift."""

from __future__ import annotations

import math
from statistics import NormalDist

from .inputs import InputError, require
from .linear_equations import solution
from .quadrature import POINTS, gauss_points

# The longest run that the integral equation tells.
LONGEST = 1e9
STANDARD = NormalDist()


def false_alarm_probability(width: float, count: float) -> float:
    """Probability of at least one false alarm among readings that are all good.

        1 - (1 - p)^n,   p = 2 (1 - Φ(k))

    Parameters
    ----------
    width : float
        Distance of the limits from the centre, above 0, in standard deviations. [1]
    count : float
        Readings, at least 1. [1]

    Returns
    -------
    float
        Probability. [1]

    Valid for
    ---------
    A standard deviation that is known; limits from a few readings alarm more often.

    Source
    ------
    Binomial law on normal readings.

    Example
    -------
    >>> round(false_alarm_probability(3.0, 40), 6)
    0.102496
    """
    require("width", width, above=0)
    require("count", count, at_least=1)
    outside = 2 * STANDARD.cdf(-width)
    return 1.0 if outside >= 1 else -math.expm1(count * math.log1p(-outside))


def individuals_run_length(width: float, shift: float) -> float:
    """Mean number of readings until one stands outside its limits.

        1 / (1 - Φ(k - δ) + Φ(-k - δ))

    Parameters
    ----------
    width : float
        Distance of the limits from the centre, above 0, at most 6, in standard deviations. [1]
    shift : float
        Of the mean, -10 to 10, in standard deviations. [1]

    Returns
    -------
    float
        Readings. [1]

    Valid for
    ---------
    Normal, independent readings of known standard deviation.

    Source
    ------
    D. C. Montgomery and G. C. Runger, "Applied Statistics and Probability for Engineers,"
    3rd ed. (value seen, its section from memory).

    Example
    -------
    >>> round(individuals_run_length(3.0, 0.0), 1), round(individuals_run_length(3.0, 1.0), 1)
    (370.4, 43.9)
    """
    require("width", width, above=0, at_most=6)
    require("shift", shift, at_least=-10, at_most=10)
    return 1 / (STANDARD.cdf(shift - width) + STANDARD.cdf(-width - shift))


def weighted_mean_run_length(weight: float, width: float, shift: float) -> float:
    """Mean number of readings until an exponentially weighted mean leaves its limits.

        L(u) = 1 + ∫ L(x) φ((x - (1 - λ) u)/λ - δ) dx / λ   over the limits ± k sqrt(λ/(2 - λ))

    Parameters
    ----------
    weight : float
        0.05 <= λ <= 1. [1]
    width : float
        Distance of the limits from the centre, above 0, at most 4, in standard deviations of
        the weighted mean. [1]
    shift : float
        Of the mean, -10 to 10, in standard deviations of a reading. [1]

    Returns
    -------
    float
        Readings, from the centre and with the limits of many readings. [1]

    Valid for
    ---------
    Normal, independent readings of known standard deviation.

    Source
    ------
    Integral equation of S. V. Crowder 1987 (from memory), by the Gauss-Legendre rule;
    tables of J. M. Lucas and M. S. Saccucci 1990.

    Example
    -------
    >>> round(weighted_mean_run_length(0.3, 2.7, 0.0)), weighted_mean_run_length(0.3, 2.7, 1.0) < 9
    (193, True)
    """
    require("weight", weight, at_least=0.05, at_most=1)
    require("width", width, above=0, at_most=4)
    require("shift", shift, at_least=-10, at_most=10)
    if weight == 1:
        return individuals_run_length(width, shift)
    reach = width * math.sqrt(weight / (2 - weight))
    # The kernel is as wide as the weight: so many points that none of it is missed.
    count = max(POINTS, math.ceil(8 * reach / weight))
    places = [(reach * x, reach * w) for x, w in gauss_points(count)]

    def density(x: float, u: float) -> float:
        return STANDARD.pdf((x - (1 - weight) * u) / weight - shift) / weight

    matrix = [
        [(n == k) - w * density(x, u) for k, (x, w) in enumerate(places)]
        for n, (u, _) in enumerate(places)
    ]
    lengths = solution(matrix, [1.0] * count)
    return 1 + sum(w * density(x, 0.0) * length for (x, w), length in zip(places, lengths))


def _one_sided_run_length(slack: float, limit: float, shift: float) -> float:
    """Of a cumulative sum that starts at 0; it rests at 0 while readings lie below."""
    places = [(limit / 2 * (1 + x), limit / 2 * w) for x, w in gauss_points()]
    matrix = []
    for n, u in enumerate([0.0, *(place for place, _ in places)]):
        rests = STANDARD.cdf(slack - u - shift)
        row = [w * STANDARD.pdf(x - u + slack - shift) for x, w in places]
        matrix.append([(n == k) - value for k, value in enumerate([rests, *row])])
    try:
        found = solution(matrix, [1.0] * (POINTS + 1))[0]
    except InputError:
        found = math.inf
    if 0 < found < LONGEST:
        return found
    # So long that the equations no longer tell it from for ever: Siegmund's approximation.
    drop, reach = slack - shift, limit + 1.166
    return max(LONGEST, math.exp(2 * drop * reach) / (2 * drop * drop))


def cumulative_sum_run_length(slack: float, limit: float, shift: float) -> float:
    """Mean number of readings until one of two cumulative sums passes its limit.

        1/L = 1/L⁺ + 1/L⁻,   L(u) = 1 + L(0) Φ(k - u - δ) + ∫_0^h L(x) φ(x - u + k - δ) dx

    Parameters
    ----------
    slack : float
        k, above 0, at most 1, in standard deviations. [1]
    limit : float
        h, above 0, at most 10, in standard deviations. [1]
    shift : float
        Of the mean, -5 to 5, in standard deviations. [1]

    Returns
    -------
    float
        Readings. [1]

    Valid for
    ---------
    Normal, independent readings of known standard deviation; above 1e9 readings only the
    order of magnitude.

    Source
    ------
    Integral equation of E. S. Page 1954, D. Siegmund's approximation for the longest runs (both
    from memory).

    Example
    -------
    >>> round(cumulative_sum_run_length(0.5, 4.0, 1.0), 2)
    8.38
    """
    require("slack", slack, above=0, at_most=1)
    require("limit", limit, above=0, at_most=10)
    require("shift", shift, at_least=-5, at_most=5)
    sides = (_one_sided_run_length(slack, limit, side) for side in (shift, -shift))
    return 1 / sum(1 / length for length in sides)
