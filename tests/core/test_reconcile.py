"""Combination and split against the reference, scipy, and what must add up."""

import random

import pytest
from scipy import stats

from twodrum.core import cause_split, reconcile
from twodrum.core.inputs import InputError


def test_combined__reference_rec_04_and_05() -> None:
    found = reconcile.combined([412, 405, 398], [6, 3, 5])
    assert found.value == pytest.approx(404.52173913, rel=1e-9)
    assert found.uncertainty == pytest.approx(2.3643312187, rel=1e-9)
    assert found.chi_square == pytest.approx(3.28019323671498, rel=1e-8)
    assert found.probability == pytest.approx(0.193961301163203, rel=1e-8)
    assert found.birge_ratio == pytest.approx(1.28066257006188, rel=1e-8)
    outlier = reconcile.combined([412, 380, 398], [6, 3, 5])
    assert outlier.probability == pytest.approx(1.417e-06, rel=1e-3)
    assert outlier.uncertainty == pytest.approx(2.364331, rel=1e-6)


def test_combined__published_weighted_mean__rec_11() -> None:
    variances = [0.0025, 0.0225, 0.0100, 0.0625, 0.5625, 0.0006]
    found = reconcile.combined([1.2, 1.3, 1.4, 1.2, 1.3, 1.4], [v**0.5 for v in variances])
    assert found.value == pytest.approx(1.3606, abs=5e-5)


def test_combined__the_outlier_is_named() -> None:
    assert reconcile.combined([400, 402, 380], [3, 3, 3]).outlier == 2
    assert reconcile.combined([400, 360, 402], [3, 40, 1]).outlier == 1


def test_chi_square_tail__200_values__scipy() -> None:
    draw = random.Random(4)
    for _ in range(200):
        value, freedom = draw.uniform(0, 60), draw.randint(1, 30)
        expected = stats.chi2.sf(value, freedom)
        assert reconcile.chi_square_tail(value, freedom) == pytest.approx(expected, rel=1e-9)
    assert reconcile.chi_square_tail(0, 3) == 1


def cost(x: dict[str, float]) -> float:
    return x["area"] * x["film"] / x["yield"] * x["price"]


BEFORE = {"area": 500.0, "film": 2.0, "yield": 0.80, "price": 8.0}
AFTER = {"area": 520.0, "film": 2.3, "yield": 0.72, "price": 8.4}


def test_shapley_split__reference_est_10() -> None:
    parts = cause_split.shapley_split(cost, BEFORE, AFTER)  # type: ignore[arg-type]
    assert parts["area"] == pytest.approx(466.268518518519, abs=1e-6)
    assert parts["price"] == pytest.approx(579.87962962963, abs=1e-6)
    assert parts["yield"] == pytest.approx(1250.26851851852, abs=1e-6)
    assert sum(parts.values()) == pytest.approx(cost(AFTER) - cost(BEFORE), rel=1e-12)


def test_shapley_split__parts_add_up_whatever_the_causes__100_cases() -> None:
    draw = random.Random(6)
    for _ in range(100):
        before = {name: draw.uniform(0.5, 9) for name in BEFORE}
        after = {name: draw.uniform(0.5, 9) for name in BEFORE}
        parts = cause_split.shapley_split(cost, before, after)  # type: ignore[arg-type]
        difference = cost(after) - cost(before)
        assert sum(parts.values()) == pytest.approx(difference, rel=1e-9, abs=1e-9)
    same = cause_split.shapley_split(cost, BEFORE, {**BEFORE, "area": 520.0})  # type: ignore[arg-type]
    assert same["film"] == same["price"] == 0


@pytest.mark.parametrize(
    "call",
    [
        lambda: reconcile.combined([1.0], [1.0]),
        lambda: reconcile.combined([1.0, 2.0], [1.0]),
        lambda: reconcile.combined([1.0, 2.0], [1.0, 0.0]),
        lambda: cause_split.shapley_split(cost, BEFORE, {"area": 1.0}),  # type: ignore[arg-type]
    ],
)
def test_what_cannot_be_is_refused(call) -> None:  # type: ignore[no-untyped-def]
    with pytest.raises(InputError):
        call()
