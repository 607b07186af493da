"""The film of each surface under its rule: published cases typed into the workbook."""

from pathlib import Path
from typing import Any

import pytest

from tests.workbook.day import day, si, told
from twodrum.commands.fill import Filled

MIL = 25.4e-6


def film(surface: str, *spots: Any) -> list[dict[str, Any]]:
    """Rows of single readings, or of spots of three."""
    rows = []
    for spot in spots:
        readings = spot if isinstance(spot, tuple) else (spot,)
        named = {f"reading_{n}": reading for n, reading in enumerate(readings, 1)}
        rows.append({"film_surface": surface, "film_place": f"at {len(rows) + 1}", **named})
    return rows


def surfaces(filled: Filled) -> dict[str, tuple[Any, ...]]:
    return {row[0]: row[1:] for row in filled.values.studies["film_check"]}


def verdicts(filled: Filled) -> list[Any]:
    return [row["verdict"].si for row in filled.values.tables["film"].rows]


# The floor of the small job has 60 m²: 30 readings. Film 2 mm.
def test_single_readings__three_of_twenty_may_be_low__iso_19840_as_explained(
    tmp_path: Path,
) -> None:
    rows = film("Floor", *[1.9] * 3, *[2.2] * 17)
    filled = day(tmp_path, {}, film=rows)
    found = surfaces(filled)["Floor"]
    assert found[0].startswith("Passes so far: mean 2.15 mm, 3 of 20 below the film asked for.")
    assert found[0].endswith("10 readings are still to be taken.")
    assert found[1:5] == pytest.approx((20, 0.002155, 0.0019, 0.0022))
    assert verdicts(filled)[0] == "Nothing found; counts among the low ones"
    assert told(filled) == []


def test_single_readings__four_of_twenty_fail_or_pass_by_how_the_rule_is_read(
    tmp_path: Path,
) -> None:
    rows = film("Floor", *[1.9] * 6, *[2.2] * 24)
    strict = surfaces(day(tmp_path, {}, film=rows))["Floor"][0]
    assert strict.startswith("Fails: 6 of 30 are below nominal, 5 may be.")
    names = {"low_readings": "at most a fifth"}
    lenient = surfaces(day(tmp_path, names, film=rows))["Floor"][0]
    assert lenient.startswith("Passes: ")


def test_a_rule_of_counts_is_open_while_readings_are_owed(tmp_path: Path) -> None:
    # One of four is a quarter; of the thirty that are wanted five may be low.
    filled = day(tmp_path, {}, film=film("Floor", 1.9, *[2.2] * 3))
    found = surfaces(filled)["Floor"][0]
    assert found.startswith("Not yet: 1 of 4 are below nominal, 0 may be.")
    assert told(filled) == []


def test_a_reading_below_80_percent_is_sprayed_again(tmp_path: Path) -> None:
    rows = film("Floor", 1.59, *[2.4] * 29)
    filled = day(tmp_path, {}, film=rows)
    assert verdicts(filled)[0] == "Too thin: 1.59 mm, 1.6 mm is the least; spray again"
    assert surfaces(filled)["Floor"][0].startswith("Fails: 1 of 30 are below 1.6 mm.")
    again = filled.values.studies["spray_again"]
    assert again == [("Floor", "Too thin: 1.59 mm, 1.6 mm is the least; spray again.", "at 1")]
    assert told(filled) == [
        "Areas!A7: the film of Floor fails its rule; where to spray again is told"
    ]


def test_a_mean_below_nominal_fails(tmp_path: Path) -> None:
    rows = film("Floor", *[1.99] * 30)
    found = surfaces(day(tmp_path, {}, film=rows))["Floor"][0]
    assert "the mean 1.99 mm is below the 2 mm asked for" in found
    assert "30 of 30 are below nominal, 5 may be" in found


def test_a_film_above_the_most_is_told(tmp_path: Path) -> None:
    rows = film("Floor", 4.2, *[2.4] * 29)
    filled = day(tmp_path, {"film_most": 4}, film=rows)
    assert verdicts(filled)[0] == "Too thick: 4.2 mm, 4 mm is the most; ask"
    assert "the thickest 4.2 mm is above 4 mm" in surfaces(filled)["Floor"][0]


def test_a_minimum_lets_no_reading_below(tmp_path: Path) -> None:
    rows = film("Floor", 1.99, *[2.4] * 29)
    names = {"film_basis": "minimum"}
    filled = day(tmp_path, names, film=rows)
    assert verdicts(filled)[0] == "Too thin: 1.99 mm, 2 mm is the least; spray again"
    assert surfaces(filled)["Floor"][0].startswith("Fails")


# SSPC-PA 2, level 3, from excerpts: 8 to 12 mil asked for, a spot may be 6.4 to 14.4, the mean
# of an area has to lie within the range.
PA2 = {
    "film_rule": "spots, as SSPC-PA 2",
    "film_thickness": 8,
    "film_thickness_unit": "mil",
    "film_most": 12,
    "film_most_unit": "mil",
    **{f"film_reading_{n}_unit": "mil" for n in (1, 2, 3)},
}


@pytest.mark.parametrize(
    ("spots", "said"),
    [
        ((6.5, 8.2, 8.0, 9.1, 9.0), "Passes so far"),
        ((6.3, 8.2, 8.2, 9.2, 9.2), "Fails: 1 of 5 are below 6.4 mil"),
        ((6.5, 7.9, 8.0, 8.1, 9.0), "Not yet: the mean of spots 1 to 5, 7.9 mil, is below 8 mil"),
        ((14.3, 10, 10, 10, 10), "Passes so far"),
        ((14.5, 10, 10, 10, 10), "Fails: the thickest 14.5 mil is above 14.4 mil"),
        ((13.0,) * 5, "Not yet: the mean of spots 1 to 5, 13 mil, is above 12 mil"),
        # One spot of the next five is no area yet.
        ((9.0, 9.0, 9.0, 9.0, 9.0, 7.5), "Passes so far"),
    ],
)
def test_spots__level_3__sspc_pa_2_excerpts(
    spots: tuple[float, ...], said: str, tmp_path: Path
) -> None:
    rows = film("Floor", *((spot - 0.1, spot, spot + 0.1) for spot in spots))
    found = surfaces(day(tmp_path, PA2, film=rows))["Floor"]
    assert found[0].startswith(said)
    # 60 m² are 646 ft²: three areas of five spots.
    assert found[0].endswith(f"{15 - len(spots)} spots are still to be taken.")
    assert found[2] == pytest.approx(sum(spots) / len(spots) * MIL)


def test_a_spot_of_one_reading_says_that_it_takes_three(tmp_path: Path) -> None:
    found = verdicts(day(tmp_path, PA2, film=film("Floor", 9.0)))
    assert found == ["Nothing found. A spot is the mean of three readings"]


def test_nine_tenths__imo_msc_215(tmp_path: Path) -> None:
    names = {"film_rule": "nine tenths, as IMO PSPC"}
    good = film("Floor", 1.81, *[2.1] * 9)
    assert surfaces(day(tmp_path, names, film=good))["Floor"][0].startswith("Passes")
    bad = film("Floor", 1.79, *[2.1] * 9)
    assert surfaces(day(tmp_path, names, film=bad))["Floor"][0].startswith("Fails")


def test_the_profile_is_taken_off_each_reading(tmp_path: Path) -> None:
    names = {"profile_grade": "medium", "film_thickness": 300, "film_thickness_unit": "µm"}
    names |= {f"film_reading_{n}_unit": "µm" for n in (1, 2, 3)}
    # 25 µm off 320 µm leave 295 µm, below 300 µm.
    found = surfaces(day(tmp_path, names, film=film("Floor", *[320] * 30)))["Floor"]
    assert found[2] == pytest.approx(295e-6)
    assert found[0].startswith("Fails")


def test_a_surface_that_is_not_on_areas_is_told(tmp_path: Path) -> None:
    filled = day(tmp_path, {}, film=film("Roof", 2.1))
    assert verdicts(filled) == ["Areas has no surface 'Roof': not judged"]
    assert told(filled) == ["Film!A7: Areas has no surface 'Roof': not judged"]


def test_a_refused_reading_leaves_its_row_out_and_says_so(tmp_path: Path) -> None:
    rows = film("Floor", "2,1", *[2.4] * 29)
    filled = day(tmp_path, {}, film=rows)
    assert surfaces(filled)["Floor"][0].startswith(
        "Not fully judged, 1 rows have something to mend. Mean 2.4 mm"
    )
    assert filled.values.tables["film"].rows[0]["verdict"].refused


def pull(stress: float | None, broke: str | None = None, **more: Any) -> dict[str, Any]:
    return {"pull_surface": "Floor", "stress_read": stress, "broke": broke, **more}


def test_pull_off__force_and_dolly__hand_worked_adh(tmp_path: Path) -> None:
    # Reference: 1000 N on 20 mm are 3.18310 MPa; five tests, k = 2.3353.
    rows = [pull(None, pull_force=1000, dolly=20), *(pull(s) for s in (3.0, 3.2, 3.4, 2.8))]
    filled = day(tmp_path, {"least_adhesion": 2.5}, pulls=rows)
    stresses = [row["stress"].si for row in filled.values.tables["pulls"].rows]
    assert stresses[0] == pytest.approx(3.18310e6, rel=1e-5)
    _, words, count, mean, low, five = filled.values.studies["adhesion"][0]
    values = [3.183099, 3.0, 3.2, 3.4, 2.8]
    average = sum(values) / 5
    deviation = (sum((v - average) ** 2 for v in values) / 4) ** 0.5
    assert (count, mean, low) == pytest.approx((5, average * 1e6, 2.8e6), rel=1e-6)
    assert five == pytest.approx((average - 2.3353 * deviation) * 1e6, rel=1e-4)
    assert "0 of 5 show less than the 2.5 MPa asked for" in words


def test_a_break_in_the_glue_is_a_lower_bound(tmp_path: Path) -> None:
    rows = [pull(3.0, "in the glue"), pull(2.0, "in the glue"), pull(2.0, "in the lining")]
    filled = day(tmp_path, {"least_adhesion": 2.5}, pulls=rows)
    found = [row["verdict"].si for row in filled.values.tables["pulls"].rows]
    assert found == [
        "Nothing found; came off in the glue, the lining holds at least this",
        "Came off in the glue before 2.5 MPa: says nothing of the lining, repeat",
        "Below the 2.5 MPa asked for",
    ]
    words = filled.values.studies["adhesion"][0][1]
    assert "1 of 3 show less than the 2.5 MPa asked for, 1 came off in the glue below it" in words
    assert told(filled) == ["Adhesion!H9: below the 2.5 MPa asked for"]


def test_names_may_have_blanks_around_them(tmp_path: Path) -> None:
    filled = day(tmp_path, {}, film=film(" floor ", 2.1), pulls=[pull(3.0)])
    assert verdicts(filled) == ["Nothing found"]
    assert told(filled) == []


def test_a_surface_that_stands_twice_is_told(tmp_path: Path) -> None:
    names = {"areas.surface@1": "floor"}
    assert told(day(tmp_path, names, film=film("Floor", 2.1))) == [
        "Areas!A8: floor stands here a second time; its film is judged by the row of Areas!A7"
    ]


def test_a_surface_that_asks_for_more_than_may_be_is_told_and_not_judged(tmp_path: Path) -> None:
    names = {"film_most": 4, "areas.film_override@0": 5}
    filled = day(tmp_path, names, film=[*film("Floor", 5.1), *film("Sump", 2.1)])
    assert verdicts(filled) == [
        "Asked for is more than the film may ever be, see Areas: not judged",
        "Nothing found",
    ]
    assert told(filled) == [
        "Areas!M7: the film of this surface is 5 mm; it may never be more than 4 mm"
    ]


def test_holiday_voltages_are_candidates__reference_hol(tmp_path: Path) -> None:
    rows = day(tmp_path, {"volts_per_thickness": 100 / 25.4}).values.studies["voltages"]
    found = {row.voltage_rule: row.voltage for row in rows}
    # Reference at 2 mm: root law 11.18 kV, older pipeline rule 11092 V, 100 V/mil 7.9 kV, 15 kV.
    assert found["Root of the film, as SP0274"] == pytest.approx(11180, abs=1)
    assert found["Older pipelines, as ASTM G62"] == pytest.approx(11092, abs=1)
    assert found["Volts for each thickness"] == pytest.approx(7874, abs=1)
    assert found["Practice for line pipe"] == pytest.approx(15000)
    assert all("candidate to confirm" in row.voltage_words for row in rows[:4])
    assert rows[4].voltage_words.startswith("High voltage: trained people")


def test_volts_for_each_thickness_wait_for_the_specification(tmp_path: Path) -> None:
    rows = day(tmp_path).values.studies["voltages"]
    words = "Type the volts that the specification gives for each thickness."
    assert rows[2] == ("Volts for each thickness", 0.002, words, None)


def test_between_the_ends_of_the_pipeline_rule_it_says_nothing(tmp_path: Path) -> None:
    rows = day(tmp_path, {"film_thickness": 1.03}).values.studies["voltages"]
    assert rows[1][2:] == ("Between 1.016 and 1.041 mm this rule says nothing.", None)


def test_each_system_has_its_own_holiday_voltages__reference_hol(tmp_path: Path) -> None:
    names = {"system_2_film": 1, "system_3_film": 4, "areas.system@0": "system 2"}
    rows = day(tmp_path, names).values.studies["voltages"]
    found = {(r.voltage_film, r.voltage_rule): r.voltage for r in rows if r.voltage is not None}
    # The root law again: half the voltage at a quarter of the film; system 3 is named nowhere.
    rule = "Root of the film, as SP0274"
    films = sorted({film for film, _ in found})
    assert films == pytest.approx([0.001, 0.002])
    thin, thick = (found[film, rule] for film in films)
    assert thin == pytest.approx(thick / 2**0.5)


def test_the_gun_speed_on_the_day_sheet__reference_spr_01(tmp_path: Path) -> None:
    # Reference SPR-01: 4 L/min, 0.9 landing, 0.30 m, half overlap: 0.5 mm at 0.8 m/s.
    names = {"pump_output": 4, "loss_share": 10, "pattern_width": 300, "pass_build": 0.5}
    assert si(day(tmp_path, names), "gun_speed") == pytest.approx(0.8)
    assert si(day(tmp_path, {"pattern_width": None}), "gun_speed") is None
