"""A second lining on its own days: all that holds for a first one holds for it, by its own data.

The job of one lining is the measure: the same figures typed for a second lining, beside a first
one that has nothing of them, have to come to the same plan, verdicts, litres and mix.
"""

from pathlib import Path
from typing import Any

import pytest

from tests.workbook.day import MATERIALS, NAMES, READINGS, SPRAYING, WEATHER, whole_day
from tests.workbook.job_values import evaluated
from twodrum.books.whole import JOB
from twodrum.commands.fill import Filled
from twodrum.studies.linings import LININGS, SECOND_LINING, TYPED

# What the quote says of each iso and resin, beside what the day says of it.
QUOTED: dict[str, Any] = {"ratio_part": 1, "volume_solids": 100, "drum_volume": 200, "residue": 3}
# A first lining that is nothing like it.
OTHER = [
    {"density": 1300, "density_temperature": 20, "thermal_expansion": 0.001, "spray_low": 20},
    {"density": 900, "density_temperature": 20, "thermal_expansion": 0.001, "spray_low": 20},
]


def _materials(rows: list[dict[str, Any]]) -> dict[str, Any]:
    return {
        f"materials.{key}@{at}": value for at, row in enumerate(rows) for key, value in row.items()
    }


def _of_second(names: dict[str, Any]) -> dict[str, Any]:
    """What is typed of a lining, as that of a second one."""
    return {TYPED.get(name, name): value for name, value in names.items()}


def _first(tmp_path: Path, readings: list[dict[str, Any]], **tables: Any) -> Filled:
    return whole_day(
        tmp_path, _materials([{**QUOTED, **row} for row in MATERIALS]), readings, **tables
    )


def _second(
    tmp_path: Path,
    readings: list[dict[str, Any]],
    more: dict[str, Any] | None = None,
    **tables: Any,
) -> Filled:
    """The same job, its lining typed as a second one that the surface asks for."""
    own = [
        {"component": component, **QUOTED, **row}
        for component, row in zip(("second iso", "second resin"), MATERIALS)
    ]
    blank = {name: None for name in TYPED if name in NAMES}
    names = {
        **blank,
        **_of_second(NAMES),
        "planned_lining": SECOND_LINING,
        "system_2_lining": SECOND_LINING,
        "areas.system@0": "system 2",
        **_materials([*OTHER, *own]),
        **(more or {}),
    }
    begun = {"lining": SECOND_LINING, **readings[0]}
    return whole_day(tmp_path, names, [begun, *readings[1:]], **tables)


DAY: list[dict[str, Any]] = [
    {"time": 0.3, "phase": "warming", "iso_drum": 15, "resin_drum": 15, **WEATHER},
    {"time": 0.32, "phase": "warming", "iso_drum": 24, "resin_drum": 23},
    {"time": 0.34, "phase": "warming", "iso_drum": 33, "resin_drum": 31},
    {"time": 0.35, "phase": "warming", "iso_drum": 37, "resin_drum": 34.5},
    {"time": 0.355, "phase": "warming", "iso_drum": 39, "resin_drum": 36.25},
    {"time": 0.36, "phase": "warming", "iso_drum": 41, "resin_drum": 38},
    {"time": 0.37, "phase": "warming", "iso_drum": 45, "resin_drum": 41},
    *READINGS,
    {"time": 0.475, **SPRAYING, "iso_pressure": 199, "iso_left": 90, "resin_left": 120},
    {"time": 0.5, **SPRAYING, "iso_temperature": 82, "resin_temperature": 45},
    {"time": 0.52, "phase": "standing", "event": "drum change both", "strokes": 400},
    {"time": 0.54, **SPRAYING, "iso_pressure": 260, "resin_drum": 58},
]
PLAN = ("Warm-up", "Balance")


def _plan(filled: Filled) -> dict[str, Any]:
    cells = (c for b in filled.model.results if b.sheet in PLAN for c in b.cells)
    return {c.name: filled.values.names[c.name].si for c in cells if c.kind != "text"}


@pytest.mark.parametrize("readings", [READINGS, DAY], ids=["calm", "eventful"])
def test_a_second_lining_is_planned_and_judged_as_the_same_lining_would_be_as_the_first(
    tmp_path: Path, readings: list[dict[str, Any]]
) -> None:
    first, second = _first(tmp_path, readings), _second(tmp_path, readings)
    assert _plan(second) == pytest.approx(_plan(first))
    known = [name for name, value in _plan(first).items() if value is not None]
    assert len(known) > 40
    for study in ("course", "balance", "curves", "judge"):
        assert second.values.studies[study] == first.values.studies[study], study
    of_both = second.values.studies["warm_up"]
    assert of_both[0][0] == "Second lining"
    assert of_both[1:] == first.values.studies["warm_up"]
    for column in ("verdict", "change", "by_viscosity", "reading_dew_margin"):
        told = [
            [row[column].si for row in filled.values.tables["readings"].rows]
            for filled in (first, second)
        ]
        assert told[0] == told[1], column


DRUMS: list[dict[str, Any]] = [
    {"holds": "iso", "drum_number": "A1", "batch": "k7", "on_at": 0.3, "off_at": 0.52},
    {"holds": "resin", "drum_number": "B1", "batch": "m2", "on_at": 0.3, "off_at": 0.52},
    {"holds": "iso", "drum_number": "A2", "batch": "k8", "on_at": 0.52},
    {"holds": "resin", "drum_number": "B2", "stirred": 20, "on_at": 0.52},
]
PLACED = [{**row, "place": "Floor"} if row["time"] == 0.375 else row for row in DAY]
LEVELS = [*PLACED, {"time": 0.56, **SPRAYING, "iso_left": 190, "resin_left": 188}]


def _of_second_drums(drums: list[dict[str, Any]]) -> list[dict[str, Any]]:
    return [{**drum, "holds": f"second {drum['holds']}"} for drum in drums]


def test_drums_levels_mix_and_batches_of_a_second_lining_are_told_as_those_of_a_first(
    tmp_path: Path,
) -> None:
    names = {"areas.surface@0": "Floor"}
    first = whole_day(
        tmp_path,
        {**_materials([{**QUOTED, **row} for row in MATERIALS]), **names},
        LEVELS,
        drums=DRUMS,
    )
    second = _second(tmp_path, LEVELS, names, drums=_of_second_drums(DRUMS))
    for filled, lining in zip((first, second), LININGS):
        assert [day[1] for day in filled.values.studies["usage"]] == [lining]
    without = [
        [(day[0], *day[2:]) for day in filled.values.studies["usage"]] for filled in (first, second)
    ]
    assert without[0] == without[1]
    assert second.values.studies["batches"] == first.values.studies["batches"]
    assert any(
        "A1 (batch k7), A2 (batch k8)" in map(str, row) for row in first.values.studies["batches"]
    )
    measured = [first.values.names[f"{side}_levels"].si for side in ("iso", "resin")]
    assert measured == [
        second.values.names[f"second_{side}_levels"].si for side in ("iso", "resin")
    ]
    assert second.values.names["second_used"].si == pytest.approx(sum(measured))
    assert second.values.names["iso_levels"].si is None
    told = [row for row in first.values.studies["mix"] if row.mix_off is not None]
    of_second = [row for row in second.values.studies["mix"] if row.mix_off is not None]
    assert told
    assert [row[1:] for row in told] == [row[1:] for row in of_second]
    assert all(row.mix_period.startswith("Second lining, ") for row in of_second)
    drums = [[row["verdict"].si for row in f.values.tables["drums"].rows] for f in (first, second)]
    assert drums[0] == drums[1]
    assert "Stirred 20 min, 60 min planned" in str(drums[1][3])


def _both(tmp_path: Path, readings: list[dict[str, Any]], **more: Any) -> Filled:
    """A job in which a wall has the first lining and a floor the second one."""
    own = [
        {"component": component, **QUOTED, **row, "spray_low": 60, "spray_high": 62}
        for component, row in zip(("second iso", "second resin"), MATERIALS)
    ]
    first = [{**QUOTED, **row} for row in MATERIALS]
    names = {
        **_of_second({name: NAMES[name] for name in TYPED if name in NAMES}),
        "system_2_lining": SECOND_LINING,
        "areas.surface@0": "Wall",
        "areas.surface@1": "Floor",
        "areas.shape@1": "rectangle",
        "areas.length@1": 4,
        "areas.width@1": 5,
        "areas.system@1": "system 2",
        "work_date": 46000,
        **_materials([*first, *own]),
    }
    return whole_day(tmp_path, {**names, **more}, readings)


def _verdicts(filled: Filled) -> list[str]:
    return [str(row["verdict"].si) for row in filled.values.tables["readings"].rows]


def test_each_day_is_judged_by_the_lining_that_was_in_the_machine(tmp_path: Path) -> None:
    one, two = READINGS, [{**row} for row in READINGS]
    two[0] = {**two[0], "date": 46001, "lining": SECOND_LINING, "place": "Floor"}
    one = [{**one[0], "place": "Wall"}, *one[1:]]
    back = [{**READINGS[0], "date": 46002, "lining": LININGS[0], "place": "Wall"}]
    both = _both(tmp_path, [*one, *two, *back])
    told = _verdicts(both)
    assert told[: len(one)] == _verdicts(_first(tmp_path, one))
    # 65 °C are inside the window of the first lining and outside that of the second.
    windows = ["62 °C of the data sheet" in words for words in told]
    assert windows == [False] * len(one) + [True] * len(two) + [False]
    assert [tuple(row[:2]) for row in both.values.studies["usage"]] == [
        (46000, LININGS[0]),
        (46001, LININGS[1]),
        (46002, LININGS[0]),
    ]
    assert not [p for p in both.problems if p.code == "other-lining"]


def test_another_lining_in_the_afternoon_begins_anew_in_the_same_weather(tmp_path: Path) -> None:
    warm = {"iso_temperature": 61, "resin_temperature": 61}
    later = [{**row, **warm, "time": row["time"] + 0.2} for row in READINGS[1:]]
    later[0] = {**later[0], "lining": SECOND_LINING, "event": "test panel"}
    both = _both(tmp_path, [*READINGS, *later])
    told = _verdicts(both)
    assert "Baseline starts here" in told[4]
    assert "Weather incomplete" not in told[4]
    assert "Weather was read" in told[4]
    # Without a date the last is shown; of one date that of the lining which is planned.
    assert both.values.names["charted_lining"].si == SECOND_LINING
    for lining in LININGS:
        names = {"shown_date": 46000, "planned_lining": lining}
        shown = _both(tmp_path, [*READINGS, *later], **names)
        assert shown.values.names["charted_lining"].si == lining


def test_a_lining_that_goes_in_past_midnight_is_sprayed_in_the_weather_of_its_shift(
    tmp_path: Path,
) -> None:
    night = {**SPRAYING, "iso_temperature": 61, "resin_temperature": 61}
    rows = [
        {"date": 46000, "time": 0.9, **SPRAYING, **WEATHER},
        {"date": 46001, "time": 0.05, **night, "lining": SECOND_LINING},
        # After a rest the weather is another one.
        {"date": 46001, "time": 0.6, **SPRAYING, "lining": LININGS[0]},
    ]
    told = ["Weather incomplete" in words for words in _verdicts(_both(tmp_path, rows))]
    assert told == [False, False, True]


@pytest.mark.parametrize("place, at_fault", [("Floor", True), ("Wall", False)])
def test_a_surface_sprayed_with_the_lining_of_another_is_told(
    tmp_path: Path, place: str, at_fault: bool
) -> None:
    rows = [{**READINGS[0], "place": place}, *READINGS[1:]]
    found = [p for p in _both(tmp_path, rows).problems if p.code == "other-lining"]
    assert bool(found) == at_fault
    if at_fault:
        assert "Floor is sprayed while iso and resin are in the machine" in str(found[0])


def test_rows_below_a_lining_that_was_refused_wait_for_it(tmp_path: Path) -> None:
    rows = [*READINGS[:2], {**READINGS[2], "lining": "the other one"}, READINGS[3]]
    found = _both(tmp_path, rows)
    told = [words.startswith("Not fully judged") for words in _verdicts(found)]
    assert told == [False, False, True, True]
    # So do litres and mix; nothing is said of a ratio that nobody knows.
    where = "Readings!T9"
    for name in ("iso_levels", "resin_levels", "second_iso_levels", "used_volume"):
        assert found.values.names[name].roots == (where,), name
    assert not any("ratio" in str(problem) for problem in found.problems)
    assert all(row.mix_off is None for row in found.values.studies["mix"])


def test_what_was_drawn_of_a_second_lining_counts_though_no_area_asks_for_it(
    tmp_path: Path,
) -> None:
    later = {**READINGS[0], "time": 0.5, "lining": SECOND_LINING}
    rows = [READINGS[0], READINGS[2], later, {**READINGS[2], "time": 0.6}]
    found = _both(tmp_path, rows, **{"areas.system@1": None})
    assert found.values.names["second_used"].si == pytest.approx(0.1)
    assert found.values.names["used_volume"].si == pytest.approx(0.2)


def test_a_second_lining_in_the_machine_that_materials_lacks_is_told(tmp_path: Path) -> None:
    rows = [{**READINGS[0], "lining": SECOND_LINING}, *READINGS[1:]]
    for names, readings in (({}, rows), ({"planned_lining": SECOND_LINING}, READINGS)):
        found = whole_day(tmp_path, {"work_date": 46000, **names}, readings).problems
        assert [p.code for p in found if "Materials has no second" in str(p)] == ["lacks-material"]


def test_drums_alone_tell_the_mix_of_a_second_lining(tmp_path: Path) -> None:
    drawn = {"opening_level": 200, "closing_level": 50}
    drums = [
        {"holds": "second iso", "drum_number": "A", **drawn},
        {"holds": "second resin", "drum_number": "B", **drawn, "closing_level": 150},
    ]
    told = _second(tmp_path, [{"time": 0.3, "phase": "standing", "lining": None}], drums=drums)
    offs = [row.mix_off for row in told.values.studies["mix"] if row.mix_off is not None]
    assert offs == pytest.approx([2.0])


PRICES = {"iso": 9.0, "resin": 8.0, "second iso": 15.0, "second resin": 12.0}
USED = {"iso": 130.0, "resin": 128.0, "second iso": 95.0, "second resin": 90.0}


def _reconciled(used: dict[str, float], prices: dict[str, float]) -> dict[str, Any]:
    """Two linings accepted at PRICES, then used so and paid so: what stands on Reconcile."""
    rows = [
        {
            "component": component,
            **QUOTED,
            "ratio_part": 2 if component == "second resin" else 1,
            "volume_solids": 90 if component.startswith("second") else 100,
        }
        for component in PRICES
    ]
    names: dict[str, Any] = {
        "system_2_lining": SECOND_LINING,
        "system_2_fixed": 6,
        "fixed_volume": 12,
    }
    areas = [
        {"surface": f"Bay {n}", "shape": "rectangle", "length": 7 + n, "width": 4, "system": system}
        for n, system in enumerate((None, "system 2"))
    ]
    drums = [
        {"holds": component, "drum_number": component, "opening_level": litres, "closing_level": 0}
        for component, litres in used.items()
    ]

    def of(prices: dict[str, float], **more: Any) -> dict[str, Any]:
        priced = [{**row, "volume_price": prices[str(row["component"])]} for row in rows]
        found = evaluated(names, priced, [], areas=areas, **more)
        return {name: value.si for name, value in found.names.items()}

    quoted = of(PRICES)
    accepted = {name: quoted[name] for name in JOB.accepted if quoted[name] is not None}
    return {**of(prices, accepted=accepted, drums=drums), "quoted": quoted}


@pytest.mark.parametrize(
    "prices", [PRICES, {**PRICES, "second iso": 16.5, "resin": 7.5}], ids=["as quoted", "dearer"]
)
def test_each_lining_counts_at_its_own_price_when_the_job_is_done(prices: dict[str, float]) -> None:
    found = _reconciled(USED, prices)
    quoted, litres = found["quoted"], 1000.0
    first, second = quoted["first_volume"] * litres, quoted["second_there"] * litres
    asked = first / 2 * (PRICES["iso"] + PRICES["resin"])
    asked += second / 3 * (PRICES["second iso"] + 2 * PRICES["second resin"])
    # The second one is not held against its ratio: at the price of its mix, as iso and resin are
    # at theirs up to what is beyond the ratio.
    paid = USED["iso"] * prices["iso"] + USED["resin"] * prices["resin"]
    of_second = (prices["second iso"] + 2 * prices["second resin"]) / 3
    paid += (USED["second iso"] + USED["second resin"]) * of_second
    assert float(found["material_over_quote"]) == pytest.approx(paid - asked, abs=0.1)
    mean = asked / (first + second)
    shares = 256 * (8.5 - mean) + 185 * (13 - mean)
    assert float(found["lining_money"]) == pytest.approx(shares, abs=0.01)
    volumes = [found[f"{name}_used"] for name in ("iso", "resin", "second")]
    assert [volume * litres for volume in volumes] == pytest.approx([130, 128, 185])


def test_what_is_hotter_or_higher_in_a_second_lining_raises_its_cautions(tmp_path: Path) -> None:
    def raised(filled: Filled) -> str:
        return str([row[:3] for row in filled.values.studies["cautions"]])

    cool = {"iso_set_point": 35, "resin_set_point": 35, "hose_set_point": 35}
    cool |= {"iso_drum_target": 30, "resin_drum_target": 30}
    hot = {**cool, "second_resin_set_point": 90, "second_resin_heat_limit": 95}
    found = [raised(whole_day(tmp_path, names)) for names in (cool, hot)]
    assert ["Second resin set point while warming" in words for words in found] == [
        False,
        True,
    ]
