"""A creeping difference: what quiet readings give, how soon a creep is found, which side."""

import math
import random

import pytest

from twodrum.core.run_lengths import weighted_mean_run_length
from twodrum.studies.drift import WEIGHT, WIDTH, Drift


def fed(values: list[float], scatter: float = 1.0, other: float = 140.0) -> tuple[Drift, list[int]]:
    drift = Drift(scatter)
    warned = []
    for index, value in enumerate(values):
        if drift.add(1800.0 * index, {"iso": 160.0, "resin": other + value}):
            warned.append(index)
    return drift, warned


def test_quiet_readings_leave_steps_that_scatter_as_known() -> None:
    # Each reading against the mean of those before it: independent, of the same scatter.
    chance = random.Random(1)
    steps: list[list[float]] = []
    for _ in range(2000):
        drift = Drift(1e6)
        for index in range(12):
            drift.add(float(index), {"iso": chance.gauss(0, 1), "resin": 0.0})
        steps.append(drift.steps)
    for place in range(11):
        column = [row[place] for row in steps]
        assert sum(column) / 2000 == pytest.approx(0, abs=4 / math.sqrt(2000))
        assert sum(x * x for x in column) / 2000 == pytest.approx(1, abs=4 * math.sqrt(2 / 2000))
        if place:
            before = [row[place - 1] for row in steps]
            product = sum(a * b for a, b in zip(column, before, strict=True)) / 2000
            assert product == pytest.approx(0, abs=4 / math.sqrt(2000))


def test_run_length_of_the_weighted_mean__reference_arl_e32() -> None:
    # Reference ARL-E32, a Markov chain: 193.08 quiet readings before it warns; limits here open
    # with the first readings, so single runs are a little shorter.
    chance = random.Random(2)
    assert weighted_mean_run_length(WEIGHT, WIDTH, 0.0) == pytest.approx(193.07913, rel=0.01)
    runs = []
    for _ in range(400):
        mean, count = 0.0, 0
        while True:
            count += 1
            mean = WEIGHT * chance.gauss(0, 1) + (1 - WEIGHT) * mean
            share = WEIGHT / (2 - WEIGHT) * (1 - (1 - WEIGHT) ** (2 * count))
            if abs(mean) > WIDTH * math.sqrt(share):
                break
        runs.append(count)
    assert sum(runs) / len(runs) == pytest.approx(190, abs=4 * 190 / math.sqrt(400))


def test_a_creep_is_found_and_its_side_named() -> None:
    falling = [0.0] * 5 + [-0.5 * n for n in range(1, 12)]
    drift, warned = fed(falling)
    assert 6 < warned[0] < 13
    side, moved = drift.side()
    assert side == "resin"
    assert moved < 0
    # Once it warns it goes on warning: the mean does not follow what it warned of.
    assert warned == list(range(warned[0], len(falling)))


def test_the_limit_is_reached_when_a_straight_line_says_so() -> None:
    # Half a unit for each half hour: eight units from the first mean after sixteen half hours.
    falling = [-0.5 * n for n in range(12)]
    drift, _ = fed(falling)
    assert drift.slope() == pytest.approx(0.5 / 1800)
    reached = drift.reaches(8.0)
    assert reached is not None
    assert reached / 1800 == pytest.approx(16.0 + 0.5, abs=1.0)


def test_readings_that_scatter_more_count_with_their_own_scatter() -> None:
    chance = random.Random(5)
    wild = [chance.gauss(0, 5) for _ in range(20)]
    assert fed(wild)[0].used_scatter > 3
    unknown = sum(bool(fed([chance.gauss(0, 5) for _ in range(20)])[1]) for _ in range(200))
    known = sum(bool(fed([chance.gauss(0, 5) for _ in range(20)], 5.0)[1]) for _ in range(200))
    # Five times the scatter told: learned from few readings it alarms more often, not always.
    assert known < 30
    assert known < unknown < 100


def test_a_restart_forgets() -> None:
    drift, _ = fed([0.0, 5.0, 9.0])
    drift.restart()
    assert not drift.add(0.0, {"iso": 1.0, "resin": 2.0})
    assert drift.steps == []
