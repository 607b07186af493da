"""Litres used: weighed, or by levels through drum changes; hand-worked volume balances."""

from pathlib import Path
from typing import Any

import pytest

from tests.workbook.day import si, told, whole_day

# Drums of 205 L that leave 5 L.


def levels(*rows: tuple[float, str, float | None, float | None]) -> list[dict[str, Any]]:
    names = ("time", "event", "iso_left", "resin_left")
    given = [{k: v for k, v in zip(names, row, strict=True) if v not in (None, "")} for row in rows]
    return [{"phase": "standing", **row} for row in given]


def test_a_fall_of_the_level_is_used(tmp_path: Path) -> None:
    filled = whole_day(tmp_path, {}, levels((0.4, "", 200, 190), (0.5, "", 150, 150)))
    assert si(filled, "iso_used") == pytest.approx(0.050)
    assert si(filled, "resin_used") == pytest.approx(0.040)
    assert si(filled, "used_volume") == pytest.approx(0.090)
    # 60 m² of floor and 64 m² of sump are billed.
    assert si(filled, "used_per_area") == pytest.approx(0.090 / si(filled, "billed_area_total"))


def test_a_changed_drum_is_emptied_to_its_residue_and_the_new_one_starts_at_its_level(
    tmp_path: Path,
) -> None:
    rows = levels((0.4, "", 25, 200), (0.5, "drum change iso", 203, 180), (0.6, "", 153, 130))
    filled = whole_day(tmp_path, {}, rows)
    # Iso: 25 to the residue of 5, then 203 to 153. Resin: 200 to 130.
    assert si(filled, "iso_used") == pytest.approx(0.020 + 0.050)
    assert si(filled, "resin_used") == pytest.approx(0.070)
    assert told(filled) == []


def test_a_new_drum_without_a_level_counts_as_full(tmp_path: Path) -> None:
    rows = levels((0.4, "", 25, 25), (0.5, "drum change both", None, None), (0.6, "", 155, 165))
    filled = whole_day(tmp_path, {}, rows)
    assert si(filled, "iso_used") == pytest.approx(0.020 + 0.050)
    assert si(filled, "resin_used") == pytest.approx(0.020 + 0.040)


def test_a_short_drum_is_told_with_what_it_lacks(tmp_path: Path) -> None:
    rows = levels((0.4, "", 25, 25), (0.5, "drum change iso", 185, None), (0.6, "", 165, 20))
    filled = whole_day(tmp_path, {}, rows)
    assert told(filled) == [
        "Readings!O8: the new iso drum starts at 185 L; a full one holds 205 L: it is 20 L short"
    ]
    assert si(filled, "iso_used") == pytest.approx(0.020 + 0.020)


FORGOTTEN = (
    "Readings!O9: Iso remaining is 10 L after a drum change; a new drum holds 205 L: its level "
    "was not "
    "set right; type the true level in a row with the event level set right"
)


def test_a_level_not_set_right_is_told_and_the_use_refused(tmp_path: Path) -> None:
    rows = levels((0.4, "", 25, 100), (0.5, "drum change iso", None, None), (0.6, "", 10, 90))
    filled = whole_day(tmp_path, {}, rows)
    assert told(filled) == [FORGOTTEN]
    value = filled.values.names["iso_levels"]
    assert value.why == (
        "not computed: the iso level was not set right after a drum change, see Readings!O9"
    )
    assert filled.values.names["used_per_area"].refused
    assert si(filled, "resin_used") == pytest.approx(0.010)


def test_one_set_right_late_makes_it_good(tmp_path: Path) -> None:
    rows = levels(
        (0.4, "", 25, None),
        (0.5, "drum change iso", None, None),
        (0.6, "", 10, None),
        (0.65, "level set right", 165, None),
        (0.7, "", 145, None),
    )
    filled = whole_day(tmp_path, {}, rows)
    assert told(filled) == [FORGOTTEN]
    # 20 L of the old drum, 205 to 165 and 165 to 145 of the new one.
    assert si(filled, "iso_used") == pytest.approx(0.020 + 0.040 + 0.020)


def test_what_was_weighed_goes_before_the_levels(tmp_path: Path) -> None:
    rows = levels((0.4, "", 200, 200), (0.5, "", 150, 150))
    filled = whole_day(tmp_path, {"iso_weighed": 61}, rows)
    assert si(filled, "iso_used") == pytest.approx(0.061)
    assert si(filled, "resin_used") == pytest.approx(0.050)


@pytest.mark.parametrize("rows", [[], levels((0.4, "", 200, 200))])
def test_one_level_says_nothing_of_use(tmp_path: Path, rows: list[dict[str, Any]]) -> None:
    filled = whole_day(tmp_path, {}, rows)
    assert si(filled, "iso_used") is None
    assert si(filled, "used_per_area") is None
    assert not filled.values.names["iso_used"].refused


def test_a_drum_changed_while_nearly_full_is_not_told(tmp_path: Path) -> None:
    rows = levels((0.4, "", 205, None), (0.5, "drum change iso", 205, None), (0.6, "", 150, None))
    filled = whole_day(tmp_path, {}, rows)
    assert told(filled) == []
    assert si(filled, "iso_used") == pytest.approx(0.200 + 0.055)
    rows = levels((0.4, "", 205, None), (0.5, "drum change iso", None, None), (0.6, "", 150, None))
    assert told(whole_day(tmp_path, {}, rows)) == []


def test_a_level_set_right_is_taken_as_told_even_where_it_is_lower(tmp_path: Path) -> None:
    rows = levels(
        (0.4, "", 60, None),
        (0.5, "drum change iso", None, None),
        (0.6, "", 50, None),
        (0.65, "Level Reset", 40, None),  # as older workbooks say it
    )
    filled = whole_day(tmp_path, {}, rows)
    # 55 L of the old drum, 205 to 40 of the new one.
    assert si(filled, "iso_used") == pytest.approx(0.055 + 0.165)


def test_more_than_a_drum_holds_is_refused(tmp_path: Path) -> None:
    rows = levels((0.4, "", 205, None), (0.5, "drum change iso", 400, None), (0.6, "", 150, None))
    filled = whole_day(tmp_path, {}, rows)
    assert told(filled) == ["Readings!O8: Iso remaining is 400 L; a full drum holds 205 L"]
    assert filled.values.names["iso_used"].refused


def test_an_event_that_was_refused_may_have_been_a_drum_change(tmp_path: Path) -> None:
    rows = levels((0.4, "", 200, 200), (0.5, "drum chnge iso", None, None), (0.6, "", 100, 100))
    filled = whole_day(tmp_path, {}, rows)
    assert filled.values.names["iso_used"].roots == ("Readings!D8",)
