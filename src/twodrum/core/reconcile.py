"""Several answers to one question combined, and whether they agree."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

from .inputs import require


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
    outlier : int
        Index of the measurement that stands farthest from the others for its uncertainty.
    degrees_of_freedom : int
        Measurements less one.
    """

    value: float
    uncertainty: float
    chi_square: float
    probability: float
    outlier: int
    degrees_of_freedom: int

    @property
    def birge_ratio(self) -> float:
        """How much more they scatter than their uncertainties say; about 1 where they agree."""
        return math.sqrt(self.chi_square / self.degrees_of_freedom)

    @property
    def outlier_position(self) -> int:
        """Which measurement stands farthest from the others, the first being 1."""
        return self.outlier + 1


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
    total = math.fsum(weights)
    mean = math.fsum(w * x for w, x in zip(weights, values)) / total
    chi_square = math.fsum(((x - mean) / u) ** 2 for x, u in zip(values, uncertainties))
    freedom = len(values) - 1
    outlier = [_distance_from_others(values, uncertainties, index) for index in range(len(values))]
    return Combined(
        mean,
        finest / math.sqrt(total),
        chi_square,
        chi_square_tail(chi_square, float(freedom)),
        outlier.index(max(outlier)),
        freedom,
    )


def _distance_from_others(
    values: Sequence[float], uncertainties: Sequence[float], index: int
) -> float:
    """How far a value stands from the mean of the others, for the uncertainty of both."""
    others = [(x, u) for n, (x, u) in enumerate(zip(values, uncertainties)) if n != index]
    finest = min(u for _, u in others)
    weights = [(finest / u) ** 2 for _, u in others]
    total = math.fsum(weights)
    mean = math.fsum(w * x for w, (x, _) in zip(weights, others)) / total
    spread = math.hypot(finest / math.sqrt(total), uncertainties[index])
    return abs(values[index] - mean) / spread


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
