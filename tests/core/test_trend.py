"""Trends, lines and means of two periods against scipy, statsmodels and numpy."""

import random

import numpy as np
import pytest
from scipy import optimize, stats
from statsmodels.stats.weightstats import ttest_ind

from twodrum.core import comparison, linear_equations, quadrature, roots, trend
from twodrum.core.inputs import InputError

DRAW = random.Random(21)


def series(count: int, ties: bool) -> tuple[list[float], list[float]]:
    times = sorted(DRAW.uniform(0, 10) for _ in range(count))
    values = [0.2 * t + DRAW.gauss(0, 2) for t in times]
    return times, [round(value) for value in values] if ties else values


@pytest.mark.parametrize("ties", [False, True])
def test_trend_probability__100_series__scipy_kendalltau(ties: bool) -> None:
    for _ in range(100):
        times, values = series(DRAW.randint(5, 40), ties)
        expected = stats.kendalltau(times, values, method="auto").pvalue
        assert trend.trend_probability(times, values) == pytest.approx(expected, rel=1e-9)


def test_difference_of_means__100_pairs__statsmodels_and_scipy() -> None:
    for _ in range(100):
        values = [DRAW.gauss(5, 1) for _ in range(DRAW.randint(2, 20))]
        others = [DRAW.gauss(6, 3) for _ in range(DRAW.randint(2, 20))]
        found = comparison.difference_of_means(values, others)
        statistic, probability, freedom = ttest_ind(values, others, usevar="unequal")
        assert found.difference == pytest.approx(np.mean(values) - np.mean(others), rel=1e-9)
        assert found.statistic == pytest.approx(statistic, rel=1e-9)
        assert found.degrees_of_freedom == pytest.approx(freedom, rel=1e-9)
        assert found.probability == pytest.approx(probability, rel=1e-8)


def test_difference_of_means__does_not_depend_on_the_unit() -> None:
    values, others = [1.0, 2.0, 4.0], [1.0, 3.0, 2.5]
    found = comparison.difference_of_means(values, others)
    tiny = comparison.difference_of_means([v * 1e-90 for v in values], [v * 1e-90 for v in others])
    assert tiny[1:] == pytest.approx(found[1:], rel=1e-9)


def test_difference_of_means__of_values_without_any_scatter_is_refused() -> None:
    with pytest.raises(InputError) as refused:
        comparison.difference_of_means([1.0, 1.0], [2.0, 2.0])
    assert str(refused.value) == "others is 2.0; it must be not all the same"


def test_solution__100_systems__numpy() -> None:
    generator = np.random.default_rng(5)
    for _ in range(100):
        size = int(generator.integers(1, 12))
        matrix, right = generator.normal(size=(size, size)), generator.normal(size=size)
        expected = np.linalg.solve(matrix, right)
        found = linear_equations.solution(matrix.tolist(), right.tolist())
        assert found == pytest.approx(expected.tolist(), rel=1e-6, abs=1e-9)


def test_solution__equations_that_say_the_same_are_refused() -> None:
    with pytest.raises(InputError):
        linear_equations.solution([[1.0, 2.0], [2.0, 4.0]], [1.0, 2.0])


def test_root__100_functions__scipy_brentq() -> None:
    for _ in range(100):
        power, wanted = DRAW.uniform(0.2, 6), DRAW.uniform(0.01, 20)
        high = wanted ** (1 / power) * DRAW.uniform(1.01, 30)

        def function(x: float, power: float = power, wanted: float = wanted) -> float:
            return x**power - wanted

        expected = optimize.brentq(function, 0.0, high, xtol=1e-15)
        assert roots.root(function, 0.0, high) == pytest.approx(expected, rel=1e-12)
    assert roots.root(lambda x: x - 1, 1.0, 2.0) == 1.0
    assert roots.root(lambda x: x - 2, 1.0, 2.0) == 2.0
    # A jump has no root: the place of the jump is found.
    assert roots.root(lambda x: -1.0 if x < 0.3 else 1.0, 0.0, 1.0) == pytest.approx(0.3)
    with pytest.raises(InputError):
        roots.root(lambda x: x + 1, 0.0, 1.0)


def test_gauss_points__numpy_leggauss() -> None:
    places, weights = np.polynomial.legendre.leggauss(quadrature.POINTS)
    found = sorted(quadrature.gauss_points())
    assert [x for x, _ in found] == pytest.approx(places.tolist(), rel=1e-13)
    assert [w for _, w in found] == pytest.approx(weights.tolist(), rel=1e-12)


def test_trend__few_readings_never_overclaim() -> None:
    # Four rising readings are one of 24 orders, their fall another.
    assert trend.trend_probability(range(4), [1, 2, 3, 4]) == pytest.approx(2 / 24)
