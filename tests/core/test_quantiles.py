"""Distributions and estimates against scipy."""

import random

import pytest
from scipy import stats

from twodrum.core.quantiles import (
    incomplete_beta,
    prediction_limit_factor,
    t_probability,
    t_quantile,
)
from twodrum.core.reconcile import chi_square_tail

DRAW = random.Random(41)


def test_t_quantile__scipy() -> None:
    for freedom in (1, 2, 5, 18, 40, 200):
        for probability in (0.6, 0.9, 0.975, 0.99865, 0.02):
            expected = stats.t.ppf(probability, freedom)
            assert t_quantile(probability, freedom) == pytest.approx(expected, rel=1e-9)
            assert t_probability(expected, freedom) == pytest.approx(probability, rel=1e-11)


@pytest.mark.parametrize(("count", "factor"), [(20, 3.5323287), (40, 3.243952)])
def test_prediction_limit_factor__reference_k_t20_and_k_t40(count: int, factor: float) -> None:
    # The rows use 0.99865 for each side, which is 0.9973 of both.
    assert prediction_limit_factor(count, 0.9973) == pytest.approx(factor, rel=1e-6)


def test_incomplete_beta__300_values__scipy() -> None:
    for _ in range(300):
        a, b, x = DRAW.uniform(0.1, 60), DRAW.uniform(0.1, 60), DRAW.uniform(-0.1, 1.1)
        expected = stats.beta.cdf(x, a, b)
        assert incomplete_beta(a, b, x) == pytest.approx(expected, rel=1e-9, abs=1e-14)


def test_chi_square_tail_far_out__scipy() -> None:
    for freedom in (1.0, 2.5, 30.0, 4000.0, 9e5):
        for share in (0.5, 0.99, 1.01, 1.5):
            expected = stats.chi2.sf(freedom * share, freedom)
            found = chi_square_tail(freedom * share, freedom)
            assert found == pytest.approx(expected, rel=1e-6, abs=1e-12)


def test_t_near_its_middle_and_far_out__scipy() -> None:
    for freedom in (1.0, 3.0, 5.0, 60.0):
        for chance in (1e-17, 1e-15, 1e-10, 1e-4, 0.2499, 0.2501, 0.5 - 1e-9, 0.5 - 1e-12):
            expected = stats.t.ppf(chance, freedom)
            assert t_quantile(chance, freedom) == pytest.approx(expected, rel=2e-6)
            assert t_probability(expected, freedom) == pytest.approx(chance, rel=1e-9)
        assert t_quantile(0.5, freedom) == 0.0
        assert t_probability(1e-8, freedom) - 0.5 == pytest.approx(
            1e-8 * stats.t.pdf(0, freedom), rel=1e-6
        )


def three_points() -> tuple[float, float, float]:
    least, likeliest, most = sorted(DRAW.uniform(0, 50) for _ in range(3))
    return least, likeliest, most
