"""Limits from few readings against simulated shares of false alarms."""

import random
from collections.abc import Callable

import pytest

from twodrum.core import quantiles


def share_of_false_alarms(limits: Callable[[list[float]], tuple[float, float]], few: int) -> float:
    """How often one of 20 good readings stands outside limits set by a few good ones."""
    draw = random.Random(few)
    alarms = 0
    for _ in range(20000):
        low, high = limits([draw.gauss(0, 1) for _ in range(few)])
        alarms += any(not low <= draw.gauss(0, 1) <= high for _ in range(20))
    return alarms / 20000


@pytest.mark.parametrize(("few", "share"), [(10, 0.038), (20, 0.045), (40, 0.050)])
def test_false_alarms_of_prediction_limits__reference_fa_t(few: int, share: float) -> None:
    factor = quantiles.prediction_limit_factor(few, 0.9973)

    def limits(values: list[float]) -> tuple[float, float]:
        mean = sum(values) / few
        reach = factor * (sum((x - mean) ** 2 for x in values) / (few - 1)) ** 0.5
        return mean - reach, mean + reach

    assert share_of_false_alarms(limits, few) == pytest.approx(share, abs=0.012)
