"""Several answers to one question combined, and whether they agree."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

from .inputs import InputError, require
from .linear_equations import solution


@dataclass(frozen=True)
class Combined:
    """Several measurements of one quantity taken together.

    Attributes
    ----------
    value, uncertainty : float
        Mean weighted by the inverse variances, its standard uncertainty. [as measured]
    chi_square : float
        Squared distances from the mean over the variances. [1]
    probability : float
        Of so large a sum or a larger one where all measure the same. [1]
    odd_one : int
        Index of the measurement that stands farthest from the others for its uncertainty.
    degrees_of_freedom : int
        Measurements less one.
    """

    value: float
    uncertainty: float
    chi_square: float
    probability: float
    odd_one: int
    degrees_of_freedom: int

    @property
    def birge_ratio(self) -> float:
        """How much more they scatter than their uncertainties say; about 1 where they agree."""
        return math.sqrt(self.chi_square / self.degrees_of_freedom)

    @property
    def odd_position(self) -> int:
        """Which measurement stands farthest from the others, the first being 1."""
        return self.odd_one + 1


def combined(values: Sequence[float], uncertainties: Sequence[float]) -> Combined:
    """Mean of independent measurements, each weighted by its inverse variance.

        x̄ = Σ x_i/u_i² / Σ 1/u_i²,   u = 1/sqrt(Σ 1/u_i²),   χ² = Σ (x_i - x̄)²/u_i²

    Parameters
    ----------
    values : sequence of float
        At least 2. [any]
    uncertainties : sequence of float
        Standard uncertainties, as many, each above 0. [as the values]

    Returns
    -------
    Combined
        Mean, uncertainty, and whether the measurements agree.

    Valid for
    ---------
    Measurements that err independently. A probability below 0.05 says that they disagree or that
    an uncertainty is too small; one good set in twenty does that by chance. Of two, both stand
    equally far from each other: the odd one means something from three on.

    Source
    ------
    JCGM 100; W. G. Cochran's chi-square test of agreement (from memory).

    Example
    -------
    >>> found = combined([412.0, 405.0, 398.0], [6.0, 3.0, 5.0])
    >>> round(found.value, 3), round(found.uncertainty, 4), round(found.probability, 4)
    (404.522, 2.3643, 0.194)
    """
    require("number of values", len(values), at_least=2)
    require(
        "number of uncertainties", len(uncertainties), at_least=len(values), at_most=len(values)
    )
    for value, uncertainty in zip(values, uncertainties):
        require("values", value)
        require("uncertainties", uncertainty, above=0)
    # Weights over the largest one, which is 1.
    finest = min(uncertainties)
    weights = [(finest / u) ** 2 for u in uncertainties]
    total = sum(weights)
    mean = sum(w * x for w, x in zip(weights, values)) / total
    chi_square = sum(((x - mean) / u) ** 2 for x, u in zip(values, uncertainties))
    freedom = len(values) - 1
    odd = [_distance_from_others(values, uncertainties, index) for index in range(len(values))]
    return Combined(
        mean,
        finest / math.sqrt(total),
        chi_square,
        chi_square_tail(chi_square, float(freedom)),
        odd.index(max(odd)),
        freedom,
    )


def _distance_from_others(
    values: Sequence[float], uncertainties: Sequence[float], index: int
) -> float:
    """How far a value stands from the mean of the others, for the uncertainty of both."""
    others = [(x, u) for n, (x, u) in enumerate(zip(values, uncertainties)) if n != index]
    finest = min(u for _, u in others)
    weights = [(finest / u) ** 2 for _, u in others]
    total = sum(weights)
    mean = sum(w * x for w, (x, _) in zip(weights, others)) / total
    spread = math.hypot(finest / math.sqrt(total), uncertainties[index])
    return abs(values[index] - mean) / spread


def combined_correlated(
    values: Sequence[float], covariances: Sequence[float]
) -> tuple[float, float]:
    """Mean of measurements that err together in part, weighted so that it errs least.

        x̄ = (1ᵀ C⁻¹ x)/(1ᵀ C⁻¹ 1),   u = 1/sqrt(1ᵀ C⁻¹ 1)

    Parameters
    ----------
    values : sequence of float
        n of them, at least 2. [any]
    covariances : sequence of float
        n² of them, row by row; the variances stand on the diagonal. [square of the values]

    Returns
    -------
    tuple of float
        Mean and its standard uncertainty. [as the values]

    Errors
    ------
    InputError where the covariances are not symmetric or contradict each other.

    Valid for
    ---------
    Covariances that are known; a value may get a weight of 0 or less where it only repeats
    another one less well.

    Source
    ------
    Generalised least squares.

    Example
    -------
    >>> shared = [36, 9, 0, 9, 9, 0, 0, 0, 25]
    >>> mean, uncertainty = combined_correlated([412, 405, 398], shared)
    >>> round(mean, 3), round(uncertainty, 4)
    (403.147, 2.5725)
    """
    size = len(values)
    require("number of values", size, at_least=2)
    require("number of covariances", len(covariances), at_least=size**2, at_most=size**2)
    for value in values:
        require("values", value)
    for value in covariances:
        require("covariances", value)
    rows = [list(covariances[size * n : size * (n + 1)]) for n in range(size)]
    for i in range(size):
        require("covariances", rows[i][i], above=0)
        for k in range(i):
            if abs(rows[i][k] - rows[k][i]) > 1e-12 * math.sqrt(rows[i][i] * rows[k][k]):
                raise InputError("covariances", rows[i][k], "the same in both orders")
    # In units of each value's own uncertainty, so that their sizes play no part.
    units = [math.sqrt(rows[i][i]) for i in range(size)]
    rows = [[rows[i][k] / units[i] / units[k] for k in range(size)] for i in range(size)]
    weights = [w / u for w, u in zip(solution(rows, [1 / u for u in units]), units)]
    total = sum(weights)
    # Positive eigenvalues of all leading blocks: nothing has a negative variance.
    for part in range(2, size + 1):
        block = [row[:part] for row in rows[:part]]
        last = solution(block, [0.0] * (part - 1) + [1.0])[-1]
        if last <= 0:
            raise InputError("covariances", rows[part - 1][0], "in agreement with each other")
    return sum(w * x for w, x in zip(weights, values)) / total, 1 / math.sqrt(total)


def chi_square_tail(value: float, degrees_of_freedom: float) -> float:
    """Probability that a sum of squared standard normal values is at least so large.

        Q(ν/2, x/2), the regularised upper incomplete gamma function

    Parameters
    ----------
    value : float
        0 or more. [1]
    degrees_of_freedom : float
        Above 0, at most 1e6. [1]

    Returns
    -------
    float
        Probability. [1]

    Source
    ------
    Definition; series below ν/2 + 1, continued fraction above.

    Example
    -------
    >>> round(chi_square_tail(5.991465, 2.0), 6)
    0.05
    """
    require("value", value, at_least=0)
    require("degrees_of_freedom", degrees_of_freedom, above=0, at_most=1e6)
    a, x = degrees_of_freedom / 2, value / 2
    if x == 0:
        return 1.0
    front = math.exp(a * math.log(x) - x - math.lgamma(a))
    if x < a + 1:
        term = total = 1 / a
        n = a
        while term > total * 1e-17:
            n += 1
            term *= x / n
            total += term
        return max(0.0, 1 - front * total)
    tiny = 1e-300
    b = x + 1 - a
    c, d = 1 / tiny, 1 / b
    fraction = d
    change, i = 0.0, 0
    while abs(change - 1) > 1e-15:
        i += 1
        step = -i * (i - a)
        b += 2
        d = step * d + b
        d = 1 / (d if abs(d) > tiny else tiny)
        c = b + step / c
        c = c if abs(c) > tiny else tiny
        change = c * d
        fraction *= change
    return front * fraction


def normalised_error(
    value: float, uncertainty: float, other_value: float, other_uncertainty: float
) -> float:
    """Whether two results agree within their expanded uncertainties: up to 1 they do.

        E_n = |x_1 - x_2| / sqrt(U_1² + U_2²)

    Parameters
    ----------
    value : float
        Any number. [1]
    uncertainty : float
        Expanded, k = 2, above 0. [1]
    other_value : float
        Any number. [1]
    other_uncertainty : float
        Expanded, k = 2, above 0. [1]

    Returns
    -------
    float
        E_n. [1]

    Source
    ------
    ISO/IEC 17043 (from memory).

    Example
    -------
    >>> round(normalised_error(412.0, 12.0, 398.0, 10.0), 4)
    0.8963
    """
    require("value", value)
    require("other_value", other_value)
    require("uncertainty", uncertainty, above=0)
    require("other_uncertainty", other_uncertainty, above=0)
    return abs(value - other_value) / math.hypot(uncertainty, other_uncertainty)
