"""Readings that look mistyped or missing are told for what they look like."""

from pathlib import Path
from typing import Any

import pytest

from tests.workbook.day import SPRAYING, WEATHER, day, readings_of, told

PANEL = {"time": 0.375, **SPRAYING, **WEATHER, "event": "test panel"}
WARMER = {"iso_temperature": 70, "resin_temperature": 60}


def row(time: float, **more: Any) -> dict[str, Any]:
    return {"time": time, **SPRAYING, **more}


def verdict(folder: Path, *rows: dict[str, Any], **names: Any) -> str:
    return str(readings_of(day(folder, names, [PANEL, *rows]), "verdict")[-1])


def test_a_gap_is_told(tmp_path: Path) -> None:
    assert "No reading for 2.4 h before this one" in verdict(tmp_path, row(0.475))
    assert "No reading" not in verdict(tmp_path, row(0.42))


def test_swapped_pressures_are_told(tmp_path: Path) -> None:
    found = verdict(tmp_path, row(0.4, iso_pressure=140, resin_pressure=160))
    assert "Pressures of iso and resin look swapped" in found


def test_swapped_temperatures_are_told(tmp_path: Path) -> None:
    rows = [row(0.39, **WARMER), row(0.4, iso_temperature=60, resin_temperature=70)]
    assert "Temperatures of iso and resin look swapped" in verdict(tmp_path, *rows)


def test_sides_that_stand_close_are_never_swapped(tmp_path: Path) -> None:
    rows = [row(0.39, iso_pressure=141), row(0.4, iso_pressure=139)]
    assert "swapped" not in verdict(tmp_path, *rows)


@pytest.mark.parametrize(
    ("cells", "names", "words"),
    [
        ({"iso_pressure": 16}, {}, "it looks as if it was read in MPa"),
        ({"iso_pressure": 160}, {"readings_iso_pressure_unit": "psi"}, "read in bar"),
        ({"iso_temperature": 149}, {}, "it looks as if it was read in °F"),
    ],
)
def test_a_number_read_in_another_unit_is_told(
    cells: dict[str, Any], names: dict[str, Any], words: str, tmp_path: Path
) -> None:
    panel = dict(PANEL)
    if names:
        panel["iso_pressure"] = 2320
    rows = [panel, row(0.4, **cells)]
    found = readings_of(day(tmp_path, names, rows), "verdict")[-1]
    assert words in found


def test_a_gauge_that_stands_still_while_it_warms_is_told(tmp_path: Path) -> None:
    rows = [row(0.38 + n / 100, iso_temperature=60 + 2 * n, iso_pressure=160) for n in range(5)]
    for n, one in enumerate(rows):
        one["resin_pressure"] = 140 + n / 10
    found = verdict(tmp_path, *rows)
    assert "Iso pressure stands at 160 bar in" in found
    assert "look whether it works" in found
    assert "Resin pressure stands" not in found


def test_a_machine_that_holds_both_pressures_is_no_fault(tmp_path: Path) -> None:
    rows = [row(0.38 + n / 100, iso_temperature=60 + 2 * n) for n in range(6)]
    assert "stands at" not in verdict(tmp_path, *rows)


def test_a_steady_gauge_at_a_steady_temperature_is_no_stuck_one(tmp_path: Path) -> None:
    rows = [row(0.38 + n / 100) for n in range(8)]
    assert verdict(tmp_path, *rows) == "Nothing found"


def test_what_looks_mistyped_is_no_baseline_and_no_neighbour(tmp_path: Path) -> None:
    rows = [row(0.38, iso_pressure=140, resin_pressure=160), row(0.39), row(0.40)]
    filled = day(tmp_path, {}, [PANEL, *rows])
    found = readings_of(filled, "verdict")
    assert "swapped" in found[1]
    assert found[2:] == ["Nothing found"] * 2
    assert len(told(filled)) == 1
