"""Series against the handbooks' printed examples and scipy."""

import random

import pytest
from scipy import stats

from twodrum.core import control, trend
from twodrum.core.inputs import InputError

# D. C. Montgomery and G. C. Runger, 3rd ed., Table 16-3 and example 16-6 (seen).
BOOK = [102, 94.8, 98.3, 98.4, 102, 98.5, 99, 97.7, 100, 98.1]
BOOK += [101.3, 98.7, 101.1, 98.4, 97, 96.7, 100.3, 101.4, 97.2, 101]
# NIST/SEMATECH e-Handbook 6.3.2.4 and 6.3.2.2 (data from memory).
NIST = [52, 47, 53, 49.3, 50.1, 47, 51, 50.1, 51.2, 50.5]
FLOW = [49.6, 47.6, 49.9, 51.3, 47.8, 51.2, 52.6, 52.4, 53.6, 52.1]
# Reference TS-SLOPE: a drift of a pressure difference with one odd reading.
HOURS = [index / 2 for index in range(20)]
DRIFT = [120, 127, 122, 116, 125, 120, 289, 161, 137, 138, 157, 158, 158, 145, 162, 175]
DRIFT += [148, 164, 145, 158]


def test_weighted_means__nist_6_3_2_4() -> None:
    found = control.weighted_means(NIST + FLOW, 50.0, 0.3)
    assert found[0] == pytest.approx(50.6, abs=0.006)
    assert found[-1] == pytest.approx(51.99, abs=0.006)


def test_weighted_mean_reach__nist_6_3_2_4() -> None:
    reach = control.weighted_mean_reach(2.0539, 0.3, 3.0)
    assert 50 + reach == pytest.approx(52.5884, abs=1e-3)
    assert 50 - reach == pytest.approx(47.4115, abs=1e-3)
    # Reference SPC-EWMA-V5: the factor after five readings.
    assert control.weighted_mean_reach(1.0, 0.3, 1.0, 5) == pytest.approx(0.41410836, rel=1e-6)
    assert control.weighted_mean_reach(1.0, 1.0, 3.0, 1) == 3.0


def test_cumulative_sums__montgomery_runger_example_16_6() -> None:
    found = control.cumulative_sums(BOOK, 99.0, 1.0)
    upper = {1: 2, 6: 0.5, 18: 1.7, 20: 1}
    lower = {2: 3.2, 4: 2.5, 16: 2.3}
    for index, value in upper.items():
        assert found[index - 1][0] == pytest.approx(value, abs=1e-9)
    for index, value in lower.items():
        assert found[index - 1][1] == pytest.approx(value, abs=1e-9)
    # The book's limit is 10: no reading signals.
    assert max(max(pair) for pair in found) <= 10


def test_cumulative_sums__nist_6_3_2_3__the_14th_group_signals() -> None:
    # Data, limit and slack from memory.
    groups = [324.925, 324.675, 324.725, 324.35, 325.35, 325.225, 324.125, 324.525, 325.225]
    groups += [324.6, 324.625, 325.15, 328.325, 327.25, 327.825, 328.5, 326.675, 327.775]
    groups += [326.875, 328.35]
    found = control.cumulative_sums(groups, 325.0, 0.3175)
    assert next(n for n, (upper, _) in enumerate(found, 1) if upper > 4.1959) == 14
    assert found[-1][0] == pytest.approx(19.035, abs=1e-6)


def test_robust_slope_and_tau__reference_drift__scipy() -> None:
    assert trend.robust_slope(HOURS, DRIFT) == pytest.approx(4.0, rel=1e-6)
    assert trend.kendall_tau(HOURS, DRIFT) == pytest.approx(0.46404125, rel=1e-6)


def test_robust_slope_and_tau__200_series__scipy() -> None:
    draw = random.Random(5)
    for _ in range(200):
        count = draw.randint(4, 40)
        times = sorted(draw.uniform(0, 10) for _ in range(count))
        values = [round(draw.gauss(0, 2), 1) for _ in range(count)]
        slope = stats.theilslopes(values, times)[0]
        assert trend.robust_slope(times, values) == pytest.approx(slope, rel=1e-9, abs=1e-12)
        tau = stats.kendalltau(times, values).statistic
        assert trend.kendall_tau(times, values) == pytest.approx(tau, rel=1e-9, abs=1e-12)


@pytest.mark.parametrize(
    "call",
    [
        lambda: control.weighted_means([], 0.0, 0.3),
        lambda: control.weighted_means([1.0], 0.0, 1.5),
        lambda: control.weighted_mean_reach(-1.0, 0.3, 3.0),
        lambda: control.weighted_mean_reach(1.0, 0.3, 3.0, 0),
        lambda: control.cumulative_sums([1.0], 0.0, -1.0),
        lambda: trend.robust_slope([1.0, 1.0], [1.0, 2.0]),
        lambda: trend.robust_slope([1.0, 2.0], [1.0]),
    ],
)
def test_what_cannot_be_a_series_is_refused(call) -> None:  # type: ignore[no-untyped-def]
    with pytest.raises(InputError):
        call()
