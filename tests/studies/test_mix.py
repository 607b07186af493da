"""The mix by drums, levels and strokes, what could not be shown, the words."""

from pathlib import Path
from typing import Any

import pytest

from tests.workbook.day import SPRAYING, WEATHER, si, told, whole_day

PANEL = {"time": 0.375, **SPRAYING, **WEATHER, "event": "test panel"}


def drum(number: str, holds: str, on: float, off: float | None, **more: Any) -> dict[str, Any]:
    return {
        "drum_number": number,
        "holds": holds,
        "opening_weight": on,
        "closing_weight": off,
    } | more


# Iso 1120 kg/m³: 224 kg are 200 L. Resin 1010 kg/m³: 202 kg are 200 L.
DRUMS = [
    drum("I1", "iso", 248.0, 24.0),
    drum("R1", "resin", 225.0, 23.0),
]
STIRRED = {"stirring_time": 0}


def rows(folder: Path, names: dict[str, Any], **tables: Any) -> list[tuple[Any, ...]]:
    return whole_day(folder, {**STIRRED, **names}, **tables).values.studies["mix"]


def test_the_ledger_by_weights__by_hand(tmp_path: Path) -> None:
    filled = whole_day(tmp_path, STIRRED, [PANEL], drums=DRUMS)
    assert si(filled, "iso_used") == pytest.approx(0.2)
    assert si(filled, "resin_used") == pytest.approx(0.2)
    assert si(filled, "off_ratio") == pytest.approx(0, abs=1e-12)
    # 0.5 kg at each weighing: 0.707 kg of 224 and of 202 kg; 1.95996 standard uncertainties.
    u = ((0.5 * 2**0.5 / 224) ** 2 + (0.5 * 2**0.5 / 202) ** 2) ** 0.5
    assert si(filled, "ratio_uncertainty") == pytest.approx(1.959964 * u, rel=1e-6)
    assert si(filled, "ratio_shown_from") == pytest.approx((1.959964 + 1.281552) * u, rel=1e-6)
    assert told(filled) == []


def test_a_drum_that_is_not_closed_leaves_its_side_to_the_levels(tmp_path: Path) -> None:
    readings = [
        {**PANEL, "iso_left": 200, "resin_left": 200},
        {"time": 0.4, **SPRAYING, "iso_left": 150, "resin_left": 148},
    ]
    drums = [drum("I1", "iso", 248.0, None), DRUMS[1]]
    filled = whole_day(tmp_path, STIRRED, readings, drums=drums)
    assert si(filled, "iso_ledger") is None
    assert si(filled, "iso_used") == pytest.approx(0.050)
    assert si(filled, "resin_used") == pytest.approx(0.200)
    # They need not cover the same hours: no ratio of the day is told.
    assert filled.values.studies["mix"][0] == (
        "The day",
        None,
        None,
        None,
        "Not judged: iso by levels, resin by scale or drums; they need not cover the same hours.",
    )
    assert si(filled, "off_ratio") is None
    # The drums count, and that the levels are of a part of the day only is told.
    assert [words.split(";")[0] for words in told(filled)] == [
        "Quantities!B21: what tells of the resin used does not agree"
    ]


def test_a_mix_that_is_surely_off_is_told(tmp_path: Path) -> None:
    # 181.8 kg of resin are 180 L, 221.76 kg of iso 198 L: 10 % above.
    drums = [drum("I1", "iso", 245.76, 24.0), drum("R1", "resin", 204.8, 23.0)]
    filled = whole_day(tmp_path, STIRRED, [PANEL], drums=drums)
    assert si(filled, "off_ratio") == pytest.approx(0.10)
    assert filled.values.studies["mix"][0][-1] == (
        "198 L of iso and 180 L of resin: off its ratio: iso is 10.0 % above its ratio, "
        "uncertainty ± 1.1 %; 5.0 % are allowed."
    )
    lines = told(filled)
    assert len(lines) == 1
    assert lines[0].startswith("Quantities!B")
    assert "off its ratio: iso is 10.0 % above" in lines[0]


def test_dips_that_prove_nothing_say_so(tmp_path: Path) -> None:
    readings = [
        {**PANEL, "iso_left": 200, "resin_left": 200},
        {"time": 0.45, **SPRAYING, "iso_left": 150, "resin_left": 149},
    ]
    found = rows(tmp_path, {}, readings=readings)
    words = found[1][-1]
    assert found[1][0] == "09:00 to 10:48, by levels"
    assert "inside 5.0 %, not proved; less than" in words
    # Levels read to 2 L, 2.83 L for each drop: 3.2415 times the root of both shares.
    u = ((2 * 2**0.5 / 50) ** 2 + (2 * 2**0.5 / 51) ** 2) ** 0.5 * (50 / 51)
    assert found[1][3] == pytest.approx(3.241516 * u, rel=1e-6)


def test_a_drum_change_begins_a_period(tmp_path: Path) -> None:
    readings = [
        {**PANEL, "iso_left": 100, "resin_left": 100},
        {"time": 0.40, **SPRAYING, "iso_left": 50, "resin_left": 50},
        {"time": 0.41, "phase": "standing", "event": "drum change both", "iso_left": 205},
        {"time": 0.42, **SPRAYING, "iso_left": 200, "resin_left": 200},
        {"time": 0.45, **SPRAYING, "iso_left": 160, "resin_left": 160},
    ]
    readings[2]["resin_left"] = 205
    found = rows(tmp_path, {}, readings=readings)
    assert [row[0] for row in found[1:]] == [
        "09:00 to 09:36, by levels",
        "09:50 to 10:48, by levels",
    ]


STROKES = [
    {"time": 0.35, "phase": "warming", "strokes": 1000, "resin_strokes": 1000},
    {"time": 0.37, "phase": "standing", "strokes": 1800, "resin_strokes": 1800},
    {**PANEL, "strokes": 1800, "resin_strokes": 1800, "iso_left": 200, "resin_left": 200},
    {"time": 0.40, **SPRAYING, "strokes": 2300, "resin_strokes": 2200},
    {
        "time": 0.42,
        "phase": "standing",
        "event": "air purge",
        "strokes": 2310,
        "resin_strokes": 2210,
    },
    {"time": 0.45, **SPRAYING, "strokes": 2310, "iso_left": 149, "resin_left": 149},
]


def test_strokes_on_one_drive_tell_what_each_side_delivers(tmp_path: Path) -> None:
    # 510 strokes of 100 mL while spraying or purging; recirculated ones go back to the drum.
    found = rows(tmp_path, {"stroke_volume": 100}, readings=STROKES)
    words = {row[0]: row[-1] for row in found}
    assert words["Iso, by strokes"].startswith(
        "51 L by 510 strokes while spraying or purging: each delivered 100.0 % of a stroke,"
    )
    assert "this tells no ratio" in words["Iso, by strokes"]


def test_levels_of_other_hours_are_not_compared(tmp_path: Path) -> None:
    readings = [
        {**PANEL, "iso_left": 200, "resin_left": 200},
        {"time": 0.4, **SPRAYING, "iso_left": 150, "resin_left": 150},
        {"time": 0.45, **SPRAYING, "iso_left": 100},
    ]
    found = rows(tmp_path, {}, readings=readings)
    assert found[0][-1] == ("Not judged: the levels of iso and resin do not cover the same hours.")
    assert len(found) == 2


def test_a_counter_that_was_set_back_is_left_out_on_both_sides(tmp_path: Path) -> None:
    counts = [(1000, 1000), (1500, 1500), (0, 2000), (500, 2500)]
    readings = [
        {
            **(PANEL if n == 0 else SPRAYING),
            "time": 0.375 + n / 48,
            "strokes": i,
            "resin_strokes": r,
        }
        for n, (i, r) in enumerate(counts)
    ]
    names = {"stroke_volume": 100, "pump_drive": "each on its own"}
    row = rows(tmp_path, names, readings=readings)[-1]
    assert row[1] == pytest.approx(0, abs=1e-12)
    one_drive = rows(tmp_path, {"stroke_volume": 100}, readings=readings, drums=DRUMS)
    assert [line[0] for line in one_drive] == ["The day"]


def test_strokes_of_pumps_of_their_own_tell_a_ratio(tmp_path: Path) -> None:
    names = {"stroke_volume": 100, "pump_drive": "each on its own"}
    found = rows(tmp_path, names, readings=STROKES)
    row = found[-1]
    assert row[0] == "Strokes while spraying or purging"
    # 510 against 410 strokes.
    assert row[1] == pytest.approx(510 / 410 - 1)


def test_the_index_of_the_day__reference_pp_idx1(tmp_path: Path) -> None:
    # Reference PP-IDX1: 15.5 % NCO at 1.12, equivalent weight 256.7 at 1.01, 1:1: 105.00964.
    names = {"iso_nco_share": 15.5, "resin_equivalent_weight": 256.7, **STIRRED}
    filled = whole_day(tmp_path, names, [PANEL], drums=DRUMS)
    assert si(filled, "mix_index") == pytest.approx(1.0500964, rel=1e-6)
