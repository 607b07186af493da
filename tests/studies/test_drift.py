"""A creeping difference: what quiet readings give, how soon a creep is found, which side."""

import math
import random
from pathlib import Path

import pytest

from tests.workbook.day import SPRAYING, WEATHER, day, readings_of
from twodrum.core.control import cumulative_sums
from twodrum.studies.drift import Drift


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


def test_a_creep_is_found_and_its_side_named() -> None:
    falling = [0.0] * 5 + [-0.5 * n for n in range(1, 12)]
    drift, warned = fed(falling)
    assert 6 < warned[0] < 15
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


# Montgomery and Runger, 3rd ed., example 16-6: target 99, slack 1, limit 10, no signal.
PUBLISHED = (
    *(102, 94.8, 98.3, 98.4, 102, 98.5, 99, 97.7, 100, 98.1),
    *(101.3, 98.7, 101.1, 98.4, 97, 96.7, 100.3, 101.4, 97.2, 101),
)


def test_a_published_chart_through_the_workbook__montgomery_runger_16_6(tmp_path: Path) -> None:
    # Differences whose distances from the mean of those before are the published ones; with a
    # scatter of 2 the slack of half of it is 1 and the limit of five of it is 10, as printed.
    differences = [20.0]
    for value in PUBLISHED:
        count = len(differences)
        mean = sum(differences) / count
        differences.append(mean + (value - 99) / math.sqrt(count / (count + 1)))
    rows = [
        {**SPRAYING, **WEATHER, "time": 0.3 + n / 96, "iso_pressure": 140 + x}
        for n, x in enumerate(differences)
    ]
    rows[0]["event"] = "test panel"
    names = {"gauge_scatter": 2, "change_limit": 100, "difference_limit": 100}
    verdicts = readings_of(day(tmp_path, names, rows), "verdict")
    assert verdicts[1:] == ["Nothing found"] * len(PUBLISHED)
    drift = Drift(2.0)
    for n, x in enumerate(differences):
        drift.add(900.0 * n, {"iso": 140 + x, "resin": 140.0})
    sums = cumulative_sums(drift.steps, 0.0, 1.0)
    # Printed: upper sums after readings 1, 6, 18 and 20, lower ones after 2, 4 and 16.
    upper = [sums[n - 1][0] for n in (1, 6, 18, 20)]
    assert upper == pytest.approx([2, 0.5, 1.7, 1], abs=1e-9)
    assert [sums[n - 1][1] for n in (2, 4, 16)] == pytest.approx([3.2, 2.5, 2.3], abs=1e-9)
