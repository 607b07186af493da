"""From coat to coat: what followed too soon or too late by the windows that were typed."""

from pathlib import Path
from typing import Any

import pytest

from tests.workbook.day import SPRAYING, WEATHER, day
from twodrum.commands.fill import Filled

SURFACE = {"areas.surface@0": "Wall", "work_date": 46000}
PRIMED = {"time": 0.4, "phase": "standing", "event": "primer on", "place": "Wall"}


def _sprayed(day_of: int, time: float, **more: Any) -> dict[str, Any]:
    return {"date": day_of, "time": time, **SPRAYING, **WEATHER, "place": "Wall", **more}


def _told(filled: Filled) -> list[str]:
    return [row.recoat_words for row in filled.values.studies["recoats"]]


@pytest.mark.parametrize(
    "hours, words",
    [
        (2.4, "its data sheet asks for 4 h at least"),
        (6, "as its data sheet asks for"),
        (28.8, "its data sheet allows 24 h at most"),
    ],
)
def test_a_lining_that_follows_its_primer_too_soon_or_too_late_is_told(
    tmp_path: Path, hours: float, words: str
) -> None:
    names = {**SURFACE, "primer_recoat_from": 4, "primer_recoat_to": 24}
    later = 0.4 + hours / 24
    rows = [PRIMED, _sprayed(46000 + int(later), later % 1)]
    found = day(tmp_path, names, rows)
    assert len(_told(found)) == 1
    assert words in _told(found)[0]
    assert found.values.studies["recoats"][0].recoat_after == pytest.approx(hours * 3600)
    assert [p.code for p in found.problems if p.code == "recoat"] == (
        [] if hours == 6 else ["recoat"]
    )


def test_another_pass_of_the_same_lining_is_never_too_soon_and_can_be_too_late(
    tmp_path: Path,
) -> None:
    names = {**SURFACE, "lining_recoat_from": 4, "lining_recoat_to": 12}
    rows = [
        _sprayed(46000, 0.4),
        {"time": 0.42, "phase": "standing"},
        {"time": 0.44, **SPRAYING},
        {"time": 0.46, "phase": "standing"},
        _sprayed(46001, 0.4),
    ]
    told = _told(day(tmp_path, names, rows))
    assert [" at most" in words for words in told] == [True]
    assert told[0].startswith("Iso and resin 23 h after")
    # A long pause of one day is one as a night is.
    pause = [*rows[:2], {"time": 0.95, **SPRAYING}]
    assert [" at most" in words for words in _told(day(tmp_path, names, pause))] == [True]


def test_a_coat_between_two_passes_is_held_against_the_one_before_it(tmp_path: Path) -> None:
    names = {**SURFACE, "lining_recoat_from": 1}
    rows = [
        _sprayed(46000, 0.4),
        {**PRIMED, "time": 0.5, "event": "top coat on"},
        _sprayed(46000, 0.6),
    ]
    (told,) = day(tmp_path, names, rows).values.studies["recoats"]
    assert told.recoat_place == "Wall"
    assert told.recoat_after == pytest.approx(2.4 * 3600)


def test_a_coat_on_one_surface_moves_the_gun_from_no_other(tmp_path: Path) -> None:
    names = {**SURFACE, "areas.surface@1": "Floor", "areas.shape@1": "rectangle"}
    names |= {"areas.length@1": 4, "areas.width@1": 5, "areas.height@1": None}
    rows = [
        _sprayed(46000, 0.4, place="Floor"),
        {**PRIMED, "time": 0.42},
        {"time": 0.44, **SPRAYING},
    ]
    drums = [{"holds": "iso", "drum_number": "A1", "on_at": 0.3}]
    found = day(tmp_path, {**names, "primer_recoat_from": 4}, rows, drums=drums)
    assert not _told(found)
    assert [row[0] for row in found.values.studies["batches"]] == ["Floor"]


def test_a_coat_without_its_surface_is_asked_for(tmp_path: Path) -> None:
    found = day(tmp_path, SURFACE, [{**PRIMED, "place": None}])
    assert [p.code for p in found.problems if "Spraying on" in str(p)] == ["recoat"]


def test_a_top_coat_is_held_against_the_window_of_the_lining(tmp_path: Path) -> None:
    names = {**SURFACE, "lining_recoat_from": 4}
    rows = [_sprayed(46000, 0.4), {**PRIMED, "time": 0.5, "event": "top coat on"}]
    told = _told(day(tmp_path, names, rows))
    assert len(told) == 1
    assert told[0].startswith("Top coat 2.4 h after the iso and resin")


def test_nothing_is_told_where_no_window_was_typed(tmp_path: Path) -> None:
    rows = [PRIMED, _sprayed(46000, 0.6)]
    assert not _told(day(tmp_path, SURFACE, rows))
