"""Distributions and estimates against scipy."""

import random
import statistics

import pytest
from scipy import stats

from twodrum.core import estimates
from twodrum.core.inputs import InputError
from twodrum.core.quantiles import (
    incomplete_beta,
    prediction_limit_factor,
    t_probability,
    t_quantile,
    tolerance_factor,
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


def test_tolerance_factor__60_factors__scipy_noncentral_t() -> None:
    for count in (3, 4, 5, 8, 10, 20, 35, 100, 400):
        for share, confidence in ((0.95, 0.95), (0.9, 0.75), (0.999, 0.99), (0.5, 0.9)):
            z = statistics.NormalDist().inv_cdf(share)
            expected = stats.nct.ppf(confidence, count - 1, z * count**0.5) / count**0.5
            found = tolerance_factor(count, share, confidence)
            assert found == pytest.approx(expected, rel=1e-7)


@pytest.mark.parametrize(("count", "factor"), [(5, 4.203), (10, 2.911), (20, 2.396), (50, 2.065)])
def test_tolerance_factor_95_95__printed_tables__from_memory(count: int, factor: float) -> None:
    assert tolerance_factor(count, 0.95, 0.95) == pytest.approx(factor, abs=6e-4)


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


def test_half_of_all_with_a_confidence_of_one_half_is_the_mean() -> None:
    for count in (3.0, 10.0, 100.0, 1000.0):
        assert tolerance_factor(count, 0.5, 0.5) == pytest.approx(0.0, abs=1e-12)


def test_a_certain_estimate_has_no_spread() -> None:
    for cents in range(1, 2000):
        sure = cents / 100
        assert estimates.three_point_deviation(sure, sure, sure) == 0.0
    assert estimates.triangular_quantile(8.0, 10.0, 15.0, 1 + 2e-16) == 15.0


def test_a_tolerance_limit_holds_as_often_as_it_says__4000_samples() -> None:
    factor = tolerance_factor(8, 0.9, 0.95)
    held = 0
    for _ in range(4000):
        values = [DRAW.gauss(0, 1) for _ in range(8)]
        limit = statistics.fmean(values) - factor * statistics.stdev(values)
        held += limit <= statistics.NormalDist().inv_cdf(0.1)
    # Exact: 3800 expected, the standard deviation is 14.
    assert abs(held - 3800) <= 60


def three_points() -> tuple[float, float, float]:
    least, likeliest, most = sorted(DRAW.uniform(0, 50) for _ in range(3))
    return least, likeliest, most


def test_three_point_and_triangular_estimates__200_cases__scipy() -> None:
    for _ in range(200):
        a, m, b = three_points()
        shape = (1 + 4 * (m - a) / (b - a), 1 + 4 * (b - m) / (b - a))
        beta = stats.beta(*shape, loc=a, scale=b - a)
        assert estimates.three_point_mean(a, m, b) == pytest.approx(beta.mean(), rel=1e-9)
        assert estimates.three_point_deviation(a, m, b) == pytest.approx(beta.std(), rel=1e-9)
        triangle = stats.triang((m - a) / (b - a), a, b - a)
        assert estimates.triangular_deviation(a, m, b) == pytest.approx(triangle.std(), rel=1e-7)
        for probability in (0.05, 0.5, 0.8, 0.97):
            found = estimates.three_point_quantile(a, m, b, probability)
            assert found == pytest.approx(beta.ppf(probability), rel=1e-9)
    assert estimates.three_point_quantile(3.0, 3.0, 3.0, 0.8) == 3.0
    assert estimates.three_point_quantile(8.0, 10.0, 15.0, 0.0) == 8.0
    assert estimates.three_point_quantile(8.0, 10.0, 15.0, 1.0) == 15.0


def test_sum_quantile__alone_and_together__20000_simulated_sums() -> None:
    means, deviations = [100.0, 50.0, 80.0], [9.0, 6.0, 12.0]
    for correlation in (0.0, 0.5, 1.0):
        limit = estimates.sum_quantile(means, deviations, correlation, 0.8)
        below = 0
        for _ in range(20000):
            common = DRAW.gauss(0, 1)
            total = 0.0
            for mean, deviation in zip(means, deviations, strict=True):
                own = DRAW.gauss(0, 1)
                step = correlation**0.5 * common + (1 - correlation) ** 0.5 * own
                total += mean + deviation * step
            below += total <= limit
        assert below / 20000 == pytest.approx(0.8, abs=0.012)
    with pytest.raises(InputError):
        estimates.sum_quantile(means, deviations[:2], 0.0, 0.8)
