"""Switching on, loads and shared supplies against the calendar and a second route."""

import random
from datetime import datetime, timedelta

import pytest

from twodrum.core.heating import warm_up_time
from twodrum.core.inputs import InputError
from twodrum.core.schedule import switch_on
from twodrum.core.supply import shared_warm_up_time

DRUM = (411707.0, 12.0, 6000.0, 134.4)
TARGET = (348.15, 288.15, 288.15, 323.15)
ALONE = warm_up_time(*DRUM, *TARGET)


def test_switch_on__500_days__datetime_of_the_standard_library() -> None:
    source = random.Random(5)
    for _ in range(500):
        ready = source.randrange(1440)
        parts = [60.0 * source.randrange(0, 3000) for _ in range(3)]
        moment = datetime(2026, 1, 10) + timedelta(minutes=ready, seconds=-sum(parts))
        found = switch_on(ready / 1440, *parts)
        assert round(found * 1440) == moment.hour * 60 + moment.minute
        assert 0 <= found < 1


def test_switch_on__cut_to_the_minute_before() -> None:
    assert switch_on(0.5, 0.0, 0.0, 1.0) == pytest.approx((12 * 60 - 1) / 1440, abs=1e-12)


@pytest.mark.parametrize("missing", range(4))
def test_shared_warm_up__without_another_drum_it_is_alone(missing: int) -> None:
    other: list[float | None] = [*DRUM]
    other[missing] = None
    assert shared_warm_up_time(*DRUM, *other, None, *TARGET) == ALONE
    # Even then a supply gives no more than it has.
    weak = shared_warm_up_time(*DRUM, *other, 3000.0, *TARGET)
    assert weak == warm_up_time(*DRUM[:2], 3000.0, DRUM[3], *TARGET) > ALONE


def test_shared_warm_up__a_supply_that_is_not_known_carries_both() -> None:
    assert shared_warm_up_time(*DRUM, *DRUM, None, *TARGET) == ALONE


def test_shared_warm_up__nothing_left_for_heaters_warms_by_the_air_alone() -> None:
    warm_air = (348.15, 330.15, 288.15, 323.15)
    found = shared_warm_up_time(*DRUM, *DRUM, 0.0, *warm_air)
    assert found == warm_up_time(*DRUM[:2], 0.0, DRUM[3], *warm_air)
    with pytest.raises(InputError, match=r"target_temperature is 323\.15; it must be less than"):
        shared_warm_up_time(*DRUM, *DRUM, 0.0, *TARGET)
