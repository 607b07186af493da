"""Run rules and limits from few readings against simulated and printed run lengths."""

import random
from collections.abc import Callable
from itertools import count, pairwise

import numpy as np
import pytest
from scipy import stats

from twodrum.core import control, quantiles, run_lengths, run_rules


@pytest.mark.parametrize(
    ("values", "signals"),
    [
        ([0.0, 3.1], [0, 1]),
        ([-3.1, 0.0], [1, 0]),
        ([2.1, 0.0, 2.1], [0, 0, 2]),
        # Two of three beyond 2 σ, but on both sides.
        ([2.1, -2.1, 0.0], [0, 0, 0]),
        # The newest reading is not one of the two: it signalled before.
        ([2.1, 2.1, 0.1], [0, 2, 0]),
        ([1.1, 1.2, 0.5, 1.3, 1.4], [0, 0, 0, 0, 3]),
        ([-1.1, -1.2, -0.5, -1.3, -1.4], [0, 0, 0, 0, 3]),
        ([0.1] * 8, [0] * 7 + [4]),
        ([0.1] * 7 + [-0.1] + [0.1] * 7, [0] * 15),
    ],
)
def test_run_rule_signals__worked_by_hand(values: list[float], signals: list[int]) -> None:
    assert run_rules.run_rule_signals(values, 0.0, 1.0) == signals
    moved = [50 + 2 * value for value in values]
    assert run_rules.run_rule_signals(moved, 50.0, 2.0) == signals


def test_run_length_of_all_four_rules__champ_and_woodall_1987_91_75__1500_runs() -> None:
    # Memory: 91.75; our reference simulated 92.9 with a standard error of 1.7.
    draw = random.Random(12)
    lengths = []
    for _ in range(1500):
        last: list[float] = []
        for index in count(1):
            last = [*last[-7:], draw.gauss(0, 1)]
            if run_rules.run_rule_signals(last, 0.0, 1.0)[-1]:
                lengths.append(index)
                break
    # The standard error of 1500 runs is 2.3.
    assert sum(lengths) / len(lengths) == pytest.approx(91.75, abs=5)


def share_of_false_alarms(limits: Callable[[list[float]], tuple[float, float]], few: int) -> float:
    """How often one of 20 good readings stands outside limits set by a few good ones."""
    draw = random.Random(few)
    alarms = 0
    for _ in range(20000):
        low, high = limits([draw.gauss(0, 1) for _ in range(few)])
        alarms += any(not low <= draw.gauss(0, 1) <= high for _ in range(20))
    return alarms / 20000


@pytest.mark.parametrize(("few", "share"), [(10, 0.239), (20, 0.155), (40, 0.104)])
def test_false_alarms_of_limits_from_a_moving_range__reference_fa_mr(
    few: int, share: float
) -> None:
    # Standard error 0.003; the rows are simulated too, to 0.01.
    found = share_of_false_alarms(control.individuals_limits, few)
    assert found == pytest.approx(share, abs=0.012)


@pytest.mark.parametrize(("few", "share"), [(10, 0.038), (20, 0.045), (40, 0.050)])
def test_false_alarms_of_prediction_limits__reference_fa_t(few: int, share: float) -> None:
    factor = quantiles.prediction_limit_factor(few, 0.9973)

    def limits(values: list[float]) -> tuple[float, float]:
        mean = sum(values) / few
        reach = factor * (sum((x - mean) ** 2 for x in values) / (few - 1)) ** 0.5
        return mean - reach, mean + reach

    assert share_of_false_alarms(limits, few) == pytest.approx(share, abs=0.012)


def test_baseline_advice_changes_at_10_and_40() -> None:
    found = [run_rules.baseline_advice(n) for n in (0, 9, 10, 39, 40, 400)]
    assert found == ["too few", "too few", "few", "few", "enough", "enough"]


@pytest.mark.parametrize(
    ("slack", "limit", "shift", "length"),
    [
        (0.5, 4, 0.0, 168),
        (0.5, 4, 1.0, 8.38),
        (0.5, 5, 0.0, 465),
        (0.5, 5, 1.0, 10.4),
        (0.5, 5, 2.0, 4.01),
    ],
)
def test_cumulative_sum_run_length__textbook_table__from_memory(
    slack: float, limit: float, shift: float, length: float
) -> None:
    found = run_lengths.cumulative_sum_run_length(slack, limit, shift)
    assert found == pytest.approx(length, rel=0.004)


@pytest.mark.parametrize(
    ("weight", "width", "shift", "length"),
    [(0.2, 2.962, 0, 500), (0.2, 2.962, 1, 10.5), (1.0, 3.0, 0, 370.4), (1.0, 3.0, 2, 6.3)],
)
def test_weighted_mean_run_length__lucas_and_saccucci_1990__from_memory(
    weight: float, width: float, shift: float, length: float
) -> None:
    found = run_lengths.weighted_mean_run_length(weight, width, shift)
    assert found == pytest.approx(length, rel=0.005)


def test_run_lengths_agree_with_simulated_charts__3000_runs() -> None:
    draw = random.Random(4)
    ewma, cusum = [], []
    reach = control.weighted_mean_reach(1.0, 0.3, 2.7)
    for _ in range(3000):
        mean, upper, lower = 0.0, 0.0, 0.0
        for index in count(1):
            mean = 0.3 * draw.gauss(1, 1) + 0.7 * mean
            if abs(mean) > reach:
                ewma.append(index)
                break
        for index in count(1):
            value = draw.gauss(1, 1)
            upper, lower = max(0, upper + value - 0.5), max(0, lower - value - 0.5)
            if max(upper, lower) > 4:
                cusum.append(index)
                break
    # Standard errors of about 0.1.
    found = run_lengths.weighted_mean_run_length(0.3, 2.7, 1.0)
    assert sum(ewma) / 3000 == pytest.approx(found, abs=0.4)
    found = run_lengths.cumulative_sum_run_length(0.5, 4.0, 1.0)
    assert sum(cusum) / 3000 == pytest.approx(found, abs=0.4)


@pytest.mark.parametrize(
    ("weight", "width", "shift"), [(0.05, 4, 0.0), (0.1, 4, 0.0), (0.08, 4, 0.25), (0.05, 3, 0.5)]
)
def test_weighted_mean_run_length__small_weights__markov_chain(
    weight: float, width: float, shift: float
) -> None:
    found = run_lengths.weighted_mean_run_length(weight, width, shift)
    assert found == pytest.approx(markov_run_length(weight, width, shift), rel=0.01)


def markov_run_length(weight: float, width: float, shift: float) -> float:
    """Brook and Evans' chain of 401 states, by numpy."""
    count = 401
    reach = width * (weight / (2 - weight)) ** 0.5
    step = 2 * reach / count
    middles = np.linspace(-reach + step / 2, reach - step / 2, count)
    high = (middles[None, :] + step / 2 - (1 - weight) * middles[:, None]) / weight - shift
    chain = stats.norm.cdf(high) - stats.norm.cdf(high - step / weight)
    lengths = np.linalg.solve(np.eye(count) - chain, np.ones(count))
    return float(lengths[count // 2])


def test_cumulative_sum_run_length__no_jump_where_the_method_changes() -> None:
    found = [run_lengths.cumulative_sum_run_length(1.0, 8.5 + n / 20, 0.0) for n in range(30)]
    steps = [later / former for former, later in pairwise(found)]
    assert all(1.0 <= step < 1.3 for step in steps)


def test_a_shift_away_from_one_sum_is_found_by_the_other() -> None:
    # Five deviations at once pass the limit of 4 at the first reading, nearly always.
    for shift in (-5.0, 5.0):
        found = run_lengths.cumulative_sum_run_length(0.5, 4.0, shift)
        assert 1.0 < found < 1.4
        assert run_lengths.cumulative_sum_run_length(1.0, 10.0, shift) > 2
    # The other sum's equations no longer tell its unknowns apart: it plays no part.
    one = run_lengths.cumulative_sum_run_length(0.001, 10.0, 2.9675992142163956)
    assert one == pytest.approx(run_lengths.cumulative_sum_run_length(0.001, 10.0, 2.96), rel=0.01)


def test_the_longest_runs_keep_their_order_of_magnitude() -> None:
    # Across the change from the integral equation to Siegmund's approximation.
    found = [run_lengths.cumulative_sum_run_length(1.0, h / 10, 0.0) for h in range(60, 101, 2)]
    assert found == sorted(found)
    steps = [later / former for former, later in pairwise(found)]
    # e^(2 * 0.2) for each step of the limit.
    assert all(1.3 < step < 1.7 for step in steps)
