"""Means of groups with few values each, drawn toward what all groups have in common."""

from __future__ import annotations

import math
from collections.abc import Sequence
from typing import NamedTuple

from .inputs import require, require_series
from .quantiles import t_quantile
from .roots import root


class Shrunk(NamedTuple):
    """What to expect of each group.

    Attributes
    ----------
    values : list of float
        Mean of each group, drawn toward the common one. [as the means]
    uncertainties : list of float
        Their standard uncertainties. [as the means]
    common : float
        Mean that the groups scatter about. [as the means]
    common_uncertainty : float
        Its standard uncertainty. [as the means]
    between : float
        Standard deviation of the groups' true means. [as the means]
    weights : list of float
        How much of its own mean each group keeps. [1]
    """

    values: list[float]
    uncertainties: list[float]
    common: float
    common_uncertainty: float
    between: float
    weights: list[float]


def shrunk_means(means: Sequence[float], uncertainties: Sequence[float]) -> Shrunk:
    """Means of groups, each drawn toward the common one the more the less is known of it.

        θ_i = B_i μ + (1 - B_i) y_i,   B_i = (k - 3)/(k - 1) V_i/(V_i + A),
        Σ (y_i - μ)²/(V_i + A) = k - 1

    Parameters
    ----------
    means : sequence of float
        Mean of each group, at least 1. [any]
    uncertainties : sequence of float
        Standard uncertainties of the means, as many, each above 0. [as the means]

    Returns
    -------
    Shrunk
        Expected values, uncertainties, and how the groups scatter.

    Valid for
    ---------
    Groups whose true means scatter about normally. With fewer than four groups their scatter is
    hardly known: each is then drawn without the factor for it.

    Source
    ------
    C. N. Morris 1983, parametric empirical Bayes inference; R. C. Paule and J. Mandel 1982 for
    the scatter between the groups (both from memory).

    Example
    -------
    >>> found = shrunk_means([0.20, 0.24, 0.18, 0.33, 0.22], [0.02, 0.02, 0.01, 0.03, 0.04])
    >>> [round(value, 3) for value in found.values]
    [0.202, 0.239, 0.181, 0.318, 0.222]
    """
    require_series("means", means, 1)
    count = len(means)
    require("number of uncertainties", len(uncertainties), at_least=count, at_most=count)
    for value in uncertainties:
        require("uncertainties", value, above=0)
    variances = [value**2 for value in uncertainties]
    between = _between(means, variances)
    common, common_variance = _common(means, variances, between)
    factor = (count - 3) / (count - 1) if count > 3 else 1.0
    values, uncertainties, kept = [], [], []
    for mean, variance in zip(means, variances):
        drawn = factor * variance / (variance + between) if count > 1 else 0.0
        of_scatter = 0.0
        if count > 3:
            of_scatter = 2 / (count - 3) * drawn**2 * (mean - common) ** 2
        values.append(common + (1 - drawn) * (mean - common))
        own = variance * (1 - drawn) + drawn**2 * common_variance
        uncertainties.append(math.sqrt(own + of_scatter))
        kept.append(1 - drawn)
    return Shrunk(
        values, uncertainties, common, math.sqrt(common_variance), math.sqrt(between), kept
    )


def _common(
    means: Sequence[float], variances: Sequence[float], between: float
) -> tuple[float, float]:
    weights = [1 / (variance + between) for variance in variances]
    total = math.fsum(weights)
    return math.fsum(w * y for w, y in zip(weights, means)) / total, 1 / total


def _between(means: Sequence[float], variances: Sequence[float]) -> float:
    """Variance between the groups at which they scatter as much as they should."""
    freedom = len(means) - 1

    def scatter(between: float) -> float:
        common, _ = _common(means, variances, between)
        squares = ((y - common) ** 2 / (v + between) for y, v in zip(means, variances))
        return math.fsum(squares) - freedom

    if freedom == 0 or scatter(0.0) <= 0:
        return 0.0
    most = max(variances) + max((y - means[0]) ** 2 for y in means) * len(means)
    return root(scatter, 0.0, most)


def pooled_deviation(groups: Sequence[Sequence[float]]) -> float:
    """Standard deviation of single values about the mean of their group, over all groups.

        s = sqrt(Σ Σ (x - x̄_i)² / Σ (n_i - 1))

    Parameters
    ----------
    groups : sequence of sequence of float
        At least one of them with 2 values or more. [any]

    Returns
    -------
    float
        Standard deviation. [as the values]

    Source
    ------
    Pooled variance.

    Example
    -------
    >>> round(pooled_deviation([[0.2, 0.24], [0.3, 0.26, 0.28]]), 5)
    0.02309
    """
    require("number of groups", len(groups), at_least=1)
    squares, freedom = 0.0, 0
    for group in groups:
        for value in group:
            require("values", value)
        if len(group) > 1:
            mean = math.fsum(group) / len(group)
            squares += math.fsum((value - mean) ** 2 for value in group)
            freedom += len(group) - 1
    require("number of values beyond one for each group", freedom, at_least=1)
    return math.sqrt(squares / freedom)


def interval(
    value: float, uncertainty: float, degrees_of_freedom: float, confidence: float
) -> tuple[float, float]:
    """Within which values the true one lies with a confidence.

        x ± t(ν) u

    Parameters
    ----------
    value : float
        Any number. [1]
    uncertainty : float
        Standard uncertainty, 0 or more. [1]
    degrees_of_freedom : float
        Behind the uncertainty, at least 1. [1]
    confidence : float
        0 < p < 1. [1]

    Returns
    -------
    tuple of float
        Lower and upper end. [1]

    Source
    ------
    Student's law.

    Example
    -------
    >>> [round(end, 3) for end in interval(0.2, 0.01, 10.0, 0.95)]
    [0.178, 0.222]
    """
    require("value", value)
    require("uncertainty", uncertainty, at_least=0)
    require("degrees_of_freedom", degrees_of_freedom, at_least=1)
    require("confidence", confidence, above=0, below=1)
    reach = t_quantile((1 + confidence) / 2, degrees_of_freedom) * uncertainty
    return value - reach, value + reach
