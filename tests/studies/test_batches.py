"""Drums against the day: dates, stirring, two at once; how long they last; which went where."""

from pathlib import Path
from typing import Any

import pytest

from tests.workbook.day import SPRAYING, WEATHER, day, told
from twodrum.commands.fill import Filled

PANEL = {"time": 0.375, **SPRAYING, **WEATHER, "event": "test panel"}
# 2026-11-24.
DAY = {"work_date": 46350}
LEVELS = {"opening_level": 205, "closing_level": 5}


def drum(number: str, holds: str, **more: Any) -> dict[str, Any]:
    stirred = {"stirred": 60} if holds == "resin" else {}
    return {"drum_number": number, "holds": holds, "expiry": 46400, **stirred, **more}


def checked(folder: Path, drums: list[dict[str, Any]], rows: Any = None, **names: Any) -> Filled:
    return day(folder, {**DAY, **names}, rows or [PANEL], drums=drums)


def verdicts(filled: Filled) -> list[str]:
    return [row["verdict"].si for row in filled.values.tables["drums"].rows]


def test_a_drum_without_fault_has_nothing_found(tmp_path: Path) -> None:
    drums = [drum("I1", "iso"), drum("R1", "resin"), drum("I2", "iso", expiry=None)]
    filled = checked(tmp_path, drums)
    assert verdicts(filled) == [
        *["Nothing found"] * 2,
        "Nothing found; no date to use it before",
    ]
    assert told(filled) == []


@pytest.mark.parametrize(
    ("one", "words"),
    [
        (
            drum("I1", "iso", expiry=46349),
            "1 day past its date on the day that it was on: ask the supplier before it is used",
        ),
        (
            drum("R1", "resin", stirred=30),
            "Stirred 30 min, 60 min planned; resin that settled sprays off its ratio",
        ),
        (
            drum("R1", "resin", stirred=None, on_at=0.4),
            "No stirring noted, 60 min planned; resin that settled sprays off its ratio",
        ),
        (
            drum("I1", "iso", stirred=10),
            "Iso was stirred: look for moisture, never in an open drum",
        ),
        (
            drum("I1", "iso", off_at=0.5, **LEVELS),
            "Taken off without a time when it was put on",
        ),
        (
            drum("I1", "iso", on_at=0.4, off_at=0.5),
            "Taken off, but neither its weights nor its levels say what was drawn",
        ),
        (
            drum("I1", "iso", on_at=0.25, off_at=0.2, **LEVELS),
            "Taken off before it was put on, or 23 h later",
        ),
        (
            drum("I1", "iso", opening_level=250, closing_level=100),
            "It held 250 L, a full drum holds 205 L",
        ),
    ],
)
def test_what_is_wrong_with_a_drum_is_told(one: dict[str, Any], words: str, tmp_path: Path) -> None:
    filled = checked(tmp_path, [one])
    assert verdicts(filled) == [words]
    assert len(told(filled)) == 1
    assert told(filled)[0].startswith("Drums!")


def test_two_drums_of_one_side_at_once_are_told(tmp_path: Path) -> None:
    drums = [
        drum("I1", "iso", on_at=0.30, off_at=0.50, **LEVELS),
        drum("I2", "iso", on_at=0.45),
        drum("R1", "resin", on_at=0.45),
        drum("I3", "iso", on_at=0.60),
    ]
    found = verdicts(checked(tmp_path, drums))
    assert found[0].startswith("Still on when drum I2 was put on: one drum feeds a side")
    assert found[1] == "No time when it was taken off, but drum I3 was put on at 14:24"
    assert found[2:] == ["Nothing found"] * 2


def test_a_night_counts_on_past_midnight(tmp_path: Path) -> None:
    drums = [
        drum("I1", "iso", batch="A", on_at=20 / 24, off_at=2 / 24, **LEVELS),
        drum("R1", "resin", batch="C", on_at=20 / 24, off_at=0.25 / 24, **LEVELS),
        drum("R2", "resin", batch="D", on_at=0.25 / 24),
    ]
    rows = [
        {**PANEL, "time": 21 / 24, "place": "Floor"},
        {"time": 23 / 24, **SPRAYING},
        {"time": 0.1 / 24, "phase": "standing"},
        {"time": 0.5 / 24, **SPRAYING, "place": "Sump"},
        {"time": 1.5 / 24, **SPRAYING},
    ]
    filled = checked(tmp_path, drums, rows)
    assert verdicts(filled) == ["Nothing found"] * 3
    found = filled.values.studies["batches"]
    assert [row[4:] for row in found] == [
        ("I1 (batch A)", "R1 (batch C)"),
        ("I1 (batch A)", "R2 (batch D)"),
    ]


def test_a_surface_that_is_not_on_areas_is_told(tmp_path: Path) -> None:
    filled = checked(tmp_path, [], [{**PANEL, "place": "Sumpp"}])
    assert told(filled) == ["Readings!S7: Areas has no surface 'Sumpp'"]


def test_a_refused_cell_is_named_in_the_verdict(tmp_path: Path) -> None:
    found = verdicts(checked(tmp_path, [drum("I1", "iso", opening_level="120 L")]))
    assert found == ["Not fully judged: see Drums!M7"]


def test_a_number_that_stands_twice_is_told(tmp_path: Path) -> None:
    found = verdicts(checked(tmp_path, [drum("I1", "iso"), drum("I1", "iso")]))
    assert found[1] == "Drum I1 stands here a second time; the first is Drums!B7"


def levels(*pairs: tuple[float, float, float]) -> list[dict[str, Any]]:
    first, *rest = pairs
    rows = [{**PANEL, "time": first[0], "iso_left": first[1], "resin_left": first[2]}]
    rows += [{"time": t, **SPRAYING, "iso_left": i, "resin_left": r} for t, i, r in rest]
    return rows


def test_how_long_the_drums_last__by_hand(tmp_path: Path) -> None:
    # 60 L an hour: 100 - 5 L of iso last 95 min from 10:00; resin at 30 L an hour lasts longer.
    rows = levels((9 / 24, 160, 130), (10 / 24, 100, 100))
    found = checked(tmp_path, [], rows, next_break=12 / 24).values.studies["ledger"]
    assert found[0][1:4] == pytest.approx((0.1, 60e-3 / 3600, (10 + 95 / 60) / 24))
    assert "lasts until about 11:35, before the break at 12:00" in found[0][-1]
    assert "have the next one warm, its dryer ready" in found[0][-1]
    assert found[1][3] == pytest.approx((10 + 95 / 30) / 24)
    assert "past the break at 12:00" in found[1][-1]


def test_a_rate_counts_from_the_last_change(tmp_path: Path) -> None:
    rows = levels((0.30, 100, 100), (0.35, 20, 90))
    rows += [{"time": 0.36, "phase": "standing", "event": "drum change iso", "iso_left": 205}]
    rows += [{"time": 0.36 + 1 / 24, **SPRAYING, "iso_left": 175, "resin_left": 60}]
    found = checked(tmp_path, [], rows).values.studies["ledger"]
    assert found[0][2] == pytest.approx(30e-3 / 3600)


def test_which_batch_went_where(tmp_path: Path) -> None:
    drums = [
        drum("I1", "iso", batch="A", on_at=0.30, off_at=0.42, **LEVELS),
        drum("I2", "iso", batch="B", on_at=0.43),
        drum("R1", "resin", batch="C", on_at=0.30),
    ]
    rows: list[dict[str, Any]] = [
        {**PANEL, "place": "Floor"},
        {"time": 0.40, **SPRAYING},
        {"time": 0.44, **SPRAYING},
        {"time": 0.46, **SPRAYING, "place": "Sump"},
        {"time": 0.50, **SPRAYING},
    ]
    found = checked(tmp_path, drums, rows).values.studies["batches"]
    assert [row[0] for row in found] == ["Floor", "Sump"]
    assert found[0][2:4] == pytest.approx((0.375, 0.46))
    assert found[0][4:] == ("I1 (batch A), I2 (batch B)", "R1 (batch C)")
    assert found[1][4:] == ("I2 (batch B)", "R1 (batch C)")


def test_a_drum_without_its_time_leaves_the_batch_open(tmp_path: Path) -> None:
    drums = [drum("I1", "iso", on_at=0.3, off_at=0.4), drum("I2", "iso"), drum("R1", "resin")]
    found = checked(tmp_path, drums, [{**PANEL, "place": "Floor"}]).values.studies["batches"]
    assert found[0][4:] == ("not known: 'Connected' of drum I2 is blank", "R1")


def test_without_a_surface_the_drums_of_the_day_are_listed(tmp_path: Path) -> None:
    found = checked(tmp_path, [drum("I1", "iso")]).values.studies["batches"]
    assert found == [
        ("The day, no surface noted on Readings", None, None, None, "I1", "no drum noted")
    ]
