"""A log over several days: each judged, mixed and counted by itself, all together for drums."""

from pathlib import Path
from typing import Any

import pytest

from tests.workbook.day import (
    READINGS,
    SPRAYING,
    WEATHER,
    day_cells,
    readings_of,
    told,
    whole_day,
)
from tests.workbook.typing import typed
from twodrum.commands.fill import fill_file
from twodrum.xlsx.book import Book

# 2026-11-23, a Monday; day numbers as a spreadsheet counts them.
MONDAY = 46349
PANEL = READINGS[0]


def log(*days: tuple[int | None, list[dict[str, Any]]]) -> list[dict[str, Any]]:
    """Rows of days; the first row of each carries its date."""
    rows: list[dict[str, Any]] = []
    for date, of_day in days:
        first, *rest = of_day
        rows += [{**first, "date": date} if date else first, *rest]
    return rows


def sprayed(time: float, iso: float = 160, **more: Any) -> dict[str, Any]:
    return {"time": time, **SPRAYING, "iso_pressure": iso, **more}


MORNING = [PANEL, *(sprayed(0.40 + n / 48) for n in range(3))]


def each(filled: Any) -> list[Any]:
    return list(filled.values.studies["usage"])


def test_a_date_begins_a_day_and_holds_for_the_rows_below_it(tmp_path: Path) -> None:
    rows = log((MONDAY, MORNING), (MONDAY + 1, MORNING), (MONDAY + 4, MORNING))
    filled = whole_day(tmp_path, {"work_date": MONDAY}, rows)
    assert told(filled) == []
    days = each(filled)
    assert [one.each_date for one in days] == [MONDAY, MONDAY + 1, MONDAY + 4]
    assert [one.each_readings for one in days] == [4, 4, 4]
    # 09:00 to 10:36: from each reading of spraying to the next.
    assert [one.each_spraying for one in days] == pytest.approx(
        [(0.40 + 2 / 48 - 0.375) * 86400] * 3
    )


def test_a_morning_after_an_evening_is_refused_without_its_date(tmp_path: Path) -> None:
    # 16:30 to 08:00 is less than half a day back: what day it is cannot be guessed.
    rows = [{**PANEL, "time": 16 / 24}, sprayed(16.5 / 24), sprayed(8 / 24, **WEATHER)]
    found = told(whole_day(tmp_path, {"work_date": MONDAY}, rows))
    assert found[0].startswith("Readings!B9: Time is 08:00")
    assert "type the date where a new day begins" in found[0]
    rows[2]["date"] = MONDAY + 1
    assert told(whole_day(tmp_path, {"work_date": MONDAY}, rows)) == []


def test_a_date_before_the_row_above_is_refused_with_its_date(tmp_path: Path) -> None:
    rows = log((MONDAY + 1, MORNING), (MONDAY, MORNING))
    found = told(whole_day(tmp_path, {"work_date": MONDAY}, rows))
    assert found[0].startswith("Readings!B11: Time is 09:00 on 2026-11-23; it must fit between")


def test_a_night_past_midnight_is_one_day_typed_either_way(tmp_path: Path) -> None:
    night = [{**PANEL, "time": 22 / 24}, sprayed(23 / 24), sprayed(0.2 / 24), sprayed(1 / 24)]
    night[2] |= WEATHER
    found = []
    for dates in ((None, None), (MONDAY, None), (MONDAY, MONDAY + 1), (MONDAY, MONDAY)):
        rows = [dict(row) for row in night]
        for place, date in zip((0, 2), dates):
            rows[place]["date"] = date
        filled = whole_day(tmp_path, {"work_date": MONDAY}, rows)
        assert told(filled) == []
        found.append((each(filled), readings_of(filled, "verdict")))
    assert len(found[0][0]) == 1 and found[0][0][0].each_readings == 4
    assert all(one == found[0] for one in found)


def test_each_day_is_held_against_its_own_baseline(tmp_path: Path) -> None:
    # The second day runs 8 bar higher on the iso side from its panel on: no change within a day.
    higher = [{**PANEL, "iso_pressure": 168}, *(sprayed(0.40 + n / 48, 168) for n in range(3))]
    rows = log((MONDAY, MORNING), (MONDAY + 1, higher))
    filled = whole_day(tmp_path, {"work_date": MONDAY}, rows)
    change = readings_of(filled, "change")
    assert change == pytest.approx([0.0] * 8, abs=1e-6)
    # Without dates it is one day, and its rise is told.
    assert max(
        readings_of(
            whole_day(
                tmp_path,
                {},
                log(
                    (None, MORNING),
                    (None, [{**row, "time": row["time"] + 0.2, "event": None} for row in higher]),
                ),
            ),
            "change",
        )
    ) == pytest.approx(8e5)


def test_weather_of_yesterday_says_nothing_of_today(tmp_path: Path) -> None:
    bare = [{k: v for k, v in PANEL.items() if k not in ("air", "humidity", "surface_reading")}]
    rows = log((MONDAY, MORNING), (MONDAY + 1, bare))
    filled = whole_day(tmp_path, {"work_date": MONDAY}, rows)
    assert readings_of(filled, "weather_age")[-1] is None
    assert "Weather incomplete" in readings_of(filled, "verdict")[-1]


def test_litres_of_each_day_add_up_to_those_of_the_job__by_hand(tmp_path: Path) -> None:
    first = [
        {**PANEL, "iso_left": 200, "resin_left": 200},
        sprayed(0.5, iso_left=150, resin_left=148),
    ]
    second = [
        {**PANEL, "iso_left": 150, "resin_left": 148},
        sprayed(0.45, iso_left=60, resin_left=62),
        sprayed(0.5, event="drum change both", iso_left=205, resin_left=205),
        sprayed(0.6, iso_left=185, resin_left=180),
    ]
    rows = log((MONDAY, first), (MONDAY + 1, second))
    filled = whole_day(tmp_path, {"work_date": MONDAY}, rows)
    days = each(filled)
    residue = {
        side: next(
            row["residue"].si
            for row in filled.values.tables["order"].rows
            if row["component"].si == side
        )
        for side in ("iso", "resin")
    }
    # Litres: the old drums end with what no pump gets out.
    by_hand = {
        "iso": [50e-3, 90e-3 + 60e-3 - residue["iso"] + 20e-3],
        "resin": [52e-3, 86e-3 + 62e-3 - residue["resin"] + 25e-3],
    }
    for side, litres in by_hand.items():
        found = [getattr(one, f"each_{side}") for one in days]
        assert found == pytest.approx(litres)
        assert sum(found) == pytest.approx(filled.values.names[f"{side}_levels"].si)
    # Periods of the mix never reach over a night.
    periods = [row.mix_period for row in filled.values.studies["mix"] if "levels" in row.mix_period]
    assert [period[:10] for period in periods if period[:4] == "2026"] == [
        "2026-11-23",
        "2026-11-24",
        "2026-11-24",
    ]


def test_the_day_that_is_shown_is_the_one_asked_for_or_the_last(tmp_path: Path) -> None:
    later = [{**PANEL, "time": 0.5}, sprayed(0.55)]
    rows = log((MONDAY, MORNING), (MONDAY + 1, later))

    def times(shown: int | None) -> list[float]:
        names = {"work_date": MONDAY, "shown_date": shown}
        return [row.day_time for row in whole_day(tmp_path, names, rows).values.studies["judge"]]

    assert times(None) == pytest.approx([0.5, 0.55])
    assert times(MONDAY + 1) == pytest.approx([0.5, 0.55])
    assert times(MONDAY) == pytest.approx([0.375, 0.40, 0.40 + 1 / 48, 0.40 + 2 / 48])
    filled = whole_day(tmp_path, {"work_date": MONDAY, "shown_date": MONDAY + 9}, rows)
    notes = [str(problem) for problem in filled.problems if "has no row of" in problem.text]
    assert len(notes) == 1 and "Readings has no row of 2026-12-02" in notes[0]


def test_each_sheet_shows_the_day_picked_on_it_and_warm_up_that_of_balance_else(
    tmp_path: Path,
) -> None:
    later = [{**PANEL, "time": 0.5}, sprayed(0.55)]
    rows = log((MONDAY, MORNING), (MONDAY + 1, later))

    def days(**picked: int) -> tuple[Any, ...]:
        values = whole_day(tmp_path, {"work_date": MONDAY, **picked}, rows).values.names
        return values["charted_day"].si, values["learned_day"].si

    assert days() == (MONDAY + 1, MONDAY + 1)
    assert days(shown_date=MONDAY) == (MONDAY, MONDAY)
    assert days(learned_date=MONDAY) == (MONDAY + 1, MONDAY)
    assert days(shown_date=MONDAY, learned_date=MONDAY + 1) == (MONDAY, MONDAY + 1)
    filled = whole_day(tmp_path, {"work_date": MONDAY, "learned_date": MONDAY + 9}, rows)
    (note,) = [problem for problem in filled.problems if "has no row of" in problem.text]
    assert note.where.startswith("'Warm-up'!") and filled.values.names["learned_day"].si is None


def test_the_day_of_a_plan_is_picked_on_the_day_sheet_and_printed_below(tmp_path: Path) -> None:
    cells = day_cells({"planned_date": MONDAY + 1}, log((MONDAY, MORNING)))
    job = typed(cells, tmp_path / "job.xlsx")
    assert not fill_file(job).refused
    book = Book.open(job)
    picked, said = book.area("planned_date"), book.area("day_sheet_planned_date_said")
    assert picked is not None and said is not None and picked.sheet == said.sheet == "Day sheet"
    assert said.first_row > picked.first_row
    assert book.cell(*said.first).value == MONDAY + 1


def test_drums_of_several_days_are_told_where_they_went(tmp_path: Path) -> None:
    def drum(holds: str, number: str, **more: Any) -> dict[str, Any]:
        return {"holds": holds, "drum_number": number, "batch": f"B{number}", **more}

    drums = [
        drum("iso", "I1", on_date=MONDAY, on_at=0.3, off_date=MONDAY + 1, off_at=0.42),
        drum("iso", "I2", on_date=MONDAY + 1, on_at=0.43),
        drum("resin", "R1", on_date=MONDAY, on_at=0.3, off_at=0.7),
        drum("resin", "R2", on_date=MONDAY + 1, on_at=0.3),
    ]
    floor = [{**PANEL, "place": "Floor"}, sprayed(0.41)]
    sump = [{**PANEL, "place": "Floor"}, sprayed(0.44, place="Sump"), sprayed(0.5)]
    rows = log((MONDAY, floor), (MONDAY + 1, sump))
    filled = whole_day(tmp_path, {"work_date": MONDAY}, rows, drums=drums)
    found = [
        (b.batch_place, b.batch_day, b.batch_iso, b.batch_resin)
        for b in filled.values.studies["batches"]
    ]
    assert found == [
        ("Floor", MONDAY, "I1 (batch BI1)", "R1 (batch BR1)"),
        ("Floor", MONDAY + 1, "I1 (batch BI1), I2 (batch BI2)", "R2 (batch BR2)"),
        ("Sump", MONDAY + 1, "I2 (batch BI2)", "R2 (batch BR2)"),
    ]
    assert not [p for p in filled.problems if p.code == "drum" and "taken off before" in p.text]


def test_a_refused_date_leaves_the_rows_below_it_open_and_is_told_once(tmp_path: Path) -> None:
    rows = log((MONDAY, MORNING), (MONDAY + 1, MORNING), (MONDAY + 2, MORNING))
    rows[4]["date"] = "Tuesday"
    filled = whole_day(tmp_path, {"work_date": MONDAY}, rows)
    found = told(filled)
    assert len(found) == 1 and found[0].startswith("Readings!A11: Date is the text 'Tuesday'")
    assert len(each(filled)) == 2


def test_hours_of_the_crew_add_up_day_by_day__by_hand(tmp_path: Path) -> None:
    crew = [
        {"crew_date": MONDAY, "on_site": 7.5},
        {"crew_date": MONDAY + 1, "on_site": 9, "persons": 2},
        {"crew_date": MONDAY + 2, "on_site": 0},
    ]
    # The crew of the job is three persons.
    filled = whole_day(tmp_path, {"work_date": MONDAY}, MORNING, crew_days=crew)
    assert filled.values.names["hours_worked"].si == pytest.approx((7.5 * 3 + 9 * 2) * 3600)
    planned = filled.values.names["labour_time"].si
    over = filled.values.names["hours_over_plan"].si
    assert over == pytest.approx((7.5 * 3 + 9 * 2) * 3600 - planned)
    assert whole_day(tmp_path, {}, MORNING).values.names["hours_worked"].si is None
    lost = whole_day(tmp_path, {}, MORNING, crew_days=[{**crew[0], "on_site": "long"}])
    assert lost.values.names["hours_worked"].roots == ("Hours!B7",)


# What fresh eyes found.
def test_nights_are_days_of_their_own_whether_midnight_is_dated_or_not(tmp_path: Path) -> None:
    def night(date: int, evening: bool, midnight: bool) -> list[dict[str, Any]]:
        rows = [
            {**PANEL, "time": 22 / 24},
            sprayed(0.5 / 24, **WEATHER),
            sprayed(5 / 24, **WEATHER),
        ]
        rows[0] |= {"date": date} if evening else {}
        rows[1] |= {"date": date + 1} if midnight else {}
        return rows

    for evening, midnight in ((True, True), (True, False), (False, True)):
        rows = [*night(MONDAY, True, midnight), *night(MONDAY + 1, evening, midnight)]
        days = each(whole_day(tmp_path, {"work_date": MONDAY}, rows))
        assert [one.each_readings for one in days] == [3, 3], (evening, midnight)
        assert [one.each_date for one in days] == [MONDAY, MONDAY + 1]


def test_a_pause_over_midnight_is_no_new_day(tmp_path: Path) -> None:
    rows = log((MONDAY, [{**PANEL, "time": 22 / 24}, sprayed(23 / 24)]))
    rows.append(sprayed(2.5 / 24, date=MONDAY + 1, **WEATHER))
    assert len(each(whole_day(tmp_path, {"work_date": MONDAY}, rows))) == 1


def test_a_day_without_two_levels_says_no_litres(tmp_path: Path) -> None:
    levels = {"iso_left": 200, "resin_left": 200}
    rows = log(
        (MONDAY, [{**PANEL, **levels}, sprayed(0.5)]),
        (MONDAY + 1, [PANEL | {"iso_left": None, "resin_left": None}, sprayed(0.5)]),
        (
            MONDAY + 2,
            [{**PANEL, "iso_left": 90, "resin_left": 90}, sprayed(0.5, iso_left=50, resin_left=50)],
        ),
    )
    days = each(whole_day(tmp_path, {"work_date": MONDAY}, rows))
    assert [one.each_iso for one in days] == [None, None, pytest.approx(0.04)]


def test_a_date_with_a_time_of_day_is_its_day_and_one_in_time_counts(tmp_path: Path) -> None:
    rows = log((None, [dict(row) for row in MORNING]), (None, [dict(row) for row in MORNING]))
    rows[0]["date"], rows[4]["date"] = MONDAY + 0.5, MONDAY + 1.25
    names = {"work_date": MONDAY, "shown_date": MONDAY + 0.5}
    drums = [{"holds": "iso", "drum_number": "I1", "on_date": MONDAY + 0.5, "on_at": 0.3}]
    rows[0]["place"] = "Floor"
    filled = whole_day(tmp_path, names, rows, drums=drums)
    assert [one.each_from for one in each(filled)] == pytest.approx([0.375, 0.375])
    assert filled.values.studies["batches"][0].batch_iso == "I1"
    assert len(filled.values.studies["judge"]) == 4
    pasted = [
        {**row, "time": MONDAY + n // 4 + row["time"], "date": None} for n, row in enumerate(rows)
    ]
    assert [
        one.each_readings for one in each(whole_day(tmp_path, {"work_date": MONDAY}, pasted))
    ] == [
        4,
        4,
    ]


@pytest.mark.parametrize(
    ("names", "drum", "late"),
    [
        ({"work_date": MONDAY}, {"on_date": MONDAY + 10, "expiry": MONDAY + 5}, 5),
        ({"work_date": MONDAY}, {"on_date": MONDAY + 10, "on_at": 0.3, "expiry": MONDAY + 5}, 5),
        ({}, {"on_date": MONDAY, "on_at": 0.3, "expiry": MONDAY - 30}, 30),
    ],
)
def test_a_drum_is_held_against_the_day_that_it_is_on(
    names: dict[str, Any], drum: dict[str, Any], late: int, tmp_path: Path
) -> None:
    row = {"holds": "iso", "drum_number": "I1", **drum}
    filled = whole_day(tmp_path, names, log((MONDAY, MORNING)), drums=[row])
    verdict = filled.values.tables["drums"].rows[0]["verdict"].si
    assert verdict.startswith(f"{late} days past its date")


def test_rows_above_the_first_date_are_of_a_day_that_nobody_knows(tmp_path: Path) -> None:
    rows = log((None, MORNING), (MONDAY + 1, MORNING))
    filled = whole_day(tmp_path, {}, rows)
    assert told(filled) == []
    assert [one.each_date for one in each(filled)] == [None, MONDAY + 1]


def test_a_date_in_a_row_without_a_time_begins_its_day(tmp_path: Path) -> None:
    rows = [*log((MONDAY, MORNING)), {"date": MONDAY + 1, "phase": "standing", "iso_left": 100}]
    days = each(whole_day(tmp_path, {"work_date": MONDAY}, rows))
    assert [one.each_date for one in days] == [MONDAY, MONDAY + 1]


def test_the_date_behind_midnight_shows_the_shift_that_holds_it(tmp_path: Path) -> None:
    rows = log((MONDAY, [{**PANEL, "time": 22 / 24}, sprayed(23 / 24)]))
    rows.append(sprayed(0.2 / 24, date=MONDAY + 1, **WEATHER))
    filled = whole_day(tmp_path, {"work_date": MONDAY, "shown_date": MONDAY + 1}, rows)
    assert len(filled.values.studies["judge"]) == 3
    assert not [p for p in filled.problems if "has no row of" in p.text]
