"""Uncertainty of what is computed from uncertain numbers."""

from __future__ import annotations

import math
from collections.abc import Sequence

from .inputs import InputError, require, require_series


def propagated_covariance(
    sensitivities: Sequence[float],
    other_sensitivities: Sequence[float],
    uncertainties: Sequence[float],
    correlations: Sequence[float] = (),
) -> float:
    """Covariance of two results that come from the same uncertain inputs.

        Σ_i Σ_k c_i d_k u_i u_k r_ik

    Parameters
    ----------
    sensitivities : sequence of float
        Change of the first result with each input, at least 1. [result over input]
    other_sensitivities : sequence of float
        Of the second result, as many. [result over input]
    uncertainties : sequence of float
        Standard uncertainty of each input, as many, each 0 or more. [as the inputs]
    correlations : sequence of float, optional
        -1 to 1 for each two inputs: first with second, with third, ..., second with third, ...;
        left out: none. [1]

    Returns
    -------
    float
        Covariance. [as both results]

    Errors
    ------
    InputError where the correlations contradict each other.

    Valid for
    ---------
    Results that are nearly straight in their inputs over one standard uncertainty.

    Source
    ------
    JCGM 100:2008, equations 13 and H.9.

    Example
    -------
    >>> propagated_covariance([1.0, 1.0], [1.0, -1.0], [3.0, 4.0])
    -7.0
    """
    count = len(uncertainties)
    require_series("uncertainties", uncertainties, 1)
    pairs = count * (count - 1) // 2
    for name, series, wanted in (
        ("sensitivities", sensitivities, count),
        ("other_sensitivities", other_sensitivities, count),
        ("correlations", correlations, pairs if correlations else 0),
    ):
        require(f"number of {name}", len(series), at_least=wanted, at_most=wanted)
        for value in series:
            require(name, value)
    for value in uncertainties:
        require("uncertainties", value, at_least=0)
    for value in correlations:
        require("correlations", value, at_least=-1, at_most=1)
    _require_consistent(correlations, count)
    first = [c * u for c, u in zip(sensitivities, uncertainties)]
    second = [c * u for c, u in zip(other_sensitivities, uncertainties)]
    total = sum(a * b for a, b in zip(first, second))
    together = iter(correlations)
    if correlations:
        for i in range(count):
            for k in range(i + 1, count):
                total += next(together) * (first[i] * second[k] + first[k] * second[i])
    return total


def _require_consistent(correlations: Sequence[float], count: int) -> None:
    """Refuse correlations that no three quantities can have: a matrix with a negative pivot."""
    if not correlations:
        return
    together = iter(correlations)
    rows = [[1.0] * count for _ in range(count)]
    for i in range(count):
        for k in range(i + 1, count):
            rows[i][k] = rows[k][i] = next(together)
    for column in range(count):
        pivot = rows[column][column]
        below = rows[column + 1 :]
        if pivot < -1e-9 or (pivot < 1e-9 and any(abs(line[column]) > 1e-6 for line in below)):
            raise InputError("correlations", min(correlations), "in agreement with each other")
        for line in below:
            factor = line[column] / pivot if pivot > 1e-9 else 0.0
            for k in range(column, count):
                line[k] -= factor * rows[column][k]


def propagated_uncertainty(
    sensitivities: Sequence[float],
    uncertainties: Sequence[float],
    correlations: Sequence[float] = (),
) -> float:
    """Standard uncertainty of a result from those of its inputs.

        u² = Σ c_i² u_i² + 2 Σ_(i<k) c_i c_k u_i u_k r_ik

    Parameters
    ----------
    sensitivities : sequence of float
        Change of the result with each input, at least 1. [result over input]
    uncertainties : sequence of float
        Standard uncertainty of each input, as many, each 0 or more. [as the inputs]
    correlations : sequence of float, optional
        -1 to 1 for each two inputs: first with second, with third, ..., second with third, ...;
        left out: none. [1]

    Returns
    -------
    float
        Standard uncertainty. [as the result]

    Errors
    ------
    InputError where the correlations contradict each other.

    Valid for
    ---------
    Results that are nearly straight in their inputs over one standard uncertainty.

    Source
    ------
    JCGM 100:2008, equation 13.

    Example
    -------
    >>> propagated_uncertainty([1.0, 1.0], [3.0, 4.0])
    5.0
    """
    square = propagated_covariance(sensitivities, sensitivities, uncertainties, correlations)
    return math.sqrt(max(0.0, square))


def effective_degrees_of_freedom(
    uncertainties: Sequence[float], degrees_of_freedom: Sequence[float]
) -> float:
    """Degrees of freedom of a combined uncertainty.

        ν = u⁴ / Σ (u_i⁴/ν_i),   u² = Σ u_i²

    Parameters
    ----------
    uncertainties : sequence of float
        Contribution of each input to the result, at least 1, each 0 or more, not all 0.
        [as the result]
    degrees_of_freedom : sequence of float
        Of each, as many, each above 0. [1]

    Returns
    -------
    float
        Degrees of freedom. [1]

    Valid for
    ---------
    Inputs that err independently.

    Source
    ------
    JCGM 100:2008, equation G.2b (Welch and Satterthwaite).

    Example
    -------
    >>> round(effective_degrees_of_freedom([25.0, 9.7, 2.9, 16.6], [18, 25.6, 50, 2]), 2)
    16.76
    """
    count = len(uncertainties)
    require_series("uncertainties", uncertainties, 1)
    require("number of degrees_of_freedom", len(degrees_of_freedom), at_least=count, at_most=count)
    for value in uncertainties:
        require("uncertainties", value, at_least=0)
    for value in degrees_of_freedom:
        require("degrees_of_freedom", value, above=0)
    largest = max(uncertainties)
    require("uncertainties", largest, above=0)
    shares = [u / largest for u in uncertainties]
    fourth = sum(share**4 / freedom for share, freedom in zip(shares, degrees_of_freedom))
    return sum(share**2 for share in shares) ** 2 / fourth
