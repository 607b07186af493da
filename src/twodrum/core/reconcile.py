"""Several answers to one question combined, and a difference split among its causes."""

from __future__ import annotations

import math
from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass
from itertools import combinations

from .inputs import InputError, require


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
    Measurements that err independently; a probability below 0.05 says that one is odd.

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
        require("value", value)
        require("uncertainty", uncertainty, above=0)
    weights = [1 / u**2 for u in uncertainties]
    total = sum(weights)
    mean = sum(w * x for w, x in zip(weights, values)) / total
    distances = [w * (x - mean) ** 2 for w, x in zip(weights, values)]
    freedom = len(values) - 1
    # Against the mean of the others the variance is that of both.
    odd = [
        abs(x - (total * mean - w * x) / (total - w)) / math.sqrt(1 / w + 1 / (total - w))
        for w, x in zip(weights, values)
    ]
    chi_square = sum(distances)
    return Combined(
        mean,
        1 / math.sqrt(total),
        chi_square,
        chi_square_tail(chi_square, float(freedom)),
        odd.index(max(odd)),
        freedom,
    )


def chi_square_tail(value: float, degrees_of_freedom: float) -> float:
    """Probability that a sum of squared standard normal values is at least so large.

        Q(ν/2, x/2), the regularised upper incomplete gamma function

    Parameters
    ----------
    value : float
        0 or more. [1]
    degrees_of_freedom : float
        Above 0. [1]

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
    require("degrees_of_freedom", degrees_of_freedom, above=0)
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
    for i in range(1, 1000):
        step = -i * (i - a)
        b += 2
        d = step * d + b
        d = 1 / (d if abs(d) > tiny else tiny)
        c = b + step / c
        c = c if abs(c) > tiny else tiny
        fraction *= c * d
        if abs(c * d - 1) < 1e-15:
            break
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


def shapley_split(
    result: Callable[[Mapping[str, float]], float],
    before: Mapping[str, float],
    after: Mapping[str, float],
) -> dict[str, float]:
    """A difference split among its causes so that the parts add up, whatever their order.

        φ_i = Σ_S |S|! (n - |S| - 1)!/n! (f(S and i after) - f(S after))

    Parameters
    ----------
    result : function of a mapping to float
        What the causes make together.
    before, after : mapping of str to float
        The same causes, at least 1 and at most 12, before and after.

    Returns
    -------
    dict of str to float
        Part of each cause; their sum is result(after) - result(before). [as the result]

    Source
    ------
    L. S. Shapley 1953 (from memory).

    Example
    -------
    >>> parts = shapley_split(lambda x: x["a"] * x["b"], {"a": 2.0, "b": 3.0}, {"a": 3.0, "b": 5.0})
    >>> parts
    {'a': 4.0, 'b': 5.0}
    """
    names = list(before)
    if set(names) != set(after):
        raise InputError("after", ", ".join(after), "one of", tuple(names))
    require("number of causes", len(names), at_least=1, at_most=12)
    for value in (*before.values(), *after.values()):
        require("cause", value)
    count = len(names)
    parts = {}
    for name in names:
        others = [other for other in names if other != name]
        part = 0.0
        for size in range(count):
            weight = math.factorial(size) * math.factorial(count - size - 1)
            for chosen in combinations(others, size):
                moved = {**before, **{other: after[other] for other in chosen}}
                step = result({**moved, name: after[name]}) - result(moved)
                part += weight * step
        parts[name] = part / math.factorial(count)
    return parts
