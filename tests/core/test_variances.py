"""Standard costing against worked answers; a split that loses nothing."""

import random
from collections.abc import Callable
from decimal import Decimal

import pytest

from twodrum.core.inputs import InputError
from twodrum.core.variances import Variances, material_variances, split_amount


def test_chemical_mixture__worked_textbook_answer_est_05() -> None:
    found = material_variances([35, 65], [25, 36], 95, [125, 275], [27, 34], 365)
    # 300 F, 165 A, 507.63 A, total 372.63 A.
    assert found.price == pytest.approx(300, abs=0.005)
    assert found.mix == pytest.approx(-165, abs=0.005)
    assert found.yield_ == pytest.approx(-507.631578947368, abs=0.005)
    assert found.total == pytest.approx(-372.631578947368, abs=0.005)


def test_three_materials__examination_answer_est_06() -> None:
    standard = ([50, 40, 20], [10, 5, 9], 100)
    found = material_variances(*standard, [13200, 7600, 5600], [10, 5, 9], 23180)
    assert found.mix == pytest.approx(-9200, abs=1e-6)
    assert found.yield_ == pytest.approx(-7216, abs=1e-6)
    assert found.price == 0


def test_two_ingredients__lecture_answer_est_08() -> None:
    found = material_variances([5, 5], [2, 4], 1, [600, 900], [2, 4], 100)
    assert found.mix == pytest.approx(-300, abs=1e-6)
    assert found.yield_ == pytest.approx(-1500, abs=1e-6)
    assert found.usage == pytest.approx(-1800, abs=1e-6)


def test_two_compounds__est_07() -> None:
    assert material_variances([5, 10], [2, 3], 1, [500, 730], [2, 3], 80).mix == pytest.approx(90)


def test_the_parts_are_the_whole_difference__200_cases() -> None:
    draw = random.Random(9)
    for _ in range(200):
        count = draw.randint(1, 4)
        sq, sp, aq, ap = ([draw.uniform(1, 90) for _ in range(count)] for _ in range(4))
        out, actual = draw.uniform(1, 50), draw.uniform(1, 500)
        found = material_variances(sq, sp, out, aq, ap, actual)
        standard = sum(q * p for q, p in zip(sq, sp, strict=True)) * actual / out
        cost = sum(q * p for q, p in zip(aq, ap, strict=True))
        assert found.total == pytest.approx(standard - cost, rel=1e-9, abs=1e-6)
    assert Variances(1.0, 2.0, 3.0).total == 6


def test_split_amount__rnd_10() -> None:
    assert split_amount(100.0, [1, 1, 1], 2) == [Decimal(t) for t in ("33.34", "33.33", "33.33")]


def test_split_amount__adds_up_and_stays_within_a_cent__300_cases() -> None:
    draw = random.Random(10)
    for _ in range(300):
        decimals = draw.choice([0, 2, 3])
        unit = Decimal(1).scaleb(-decimals)
        amount = Decimal(draw.randint(0, 10**7)) * unit
        shares = [draw.choice([0.0, draw.uniform(0, 9)]) for _ in range(draw.randint(1, 7))]
        if not sum(shares):
            continue
        parts = split_amount(amount, shares, decimals)
        assert sum(parts, Decimal(0)) == amount
        for part, share in zip(parts, shares, strict=True):
            fair = float(amount) * share / sum(shares)
            assert abs(float(part) - fair) <= float(unit) * (1 + 1e-6)


@pytest.mark.parametrize(
    "call",
    [
        lambda: material_variances([0], [1], 1, [1], [1], 1),
        lambda: material_variances([1, 1], [1], 1, [1, 1], [1, 1], 1),
        lambda: material_variances([1], [1], 0, [1], [1], 1),
        lambda: split_amount(-1.0, [1], 2),
        lambda: split_amount(1.005, [1], 2),
        lambda: split_amount(1.0, [0.0], 2),
        lambda: split_amount(1.0, [], 2),
    ],
)
def test_what_cannot_be_is_refused(call: Callable[[], object]) -> None:
    with pytest.raises(InputError):
        call()
