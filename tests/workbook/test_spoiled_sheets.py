"""Bad workbooks of drums, film, pull-off tests and the machine: the right cell, nothing lost."""

from pathlib import Path

import pytest

from tests.workbook.day import SPRAYING, WEATHER, day_cells
from tests.workbook.job_values import job_template
from tests.workbook.spoiling import Spoiled, check_names_the_cell, judge, spoil
from tests.workbook.typing import Cells, typed
from twodrum.commands.fill import check_file

NAMES = {
    "work_date": 46350,
    "recirculation_flow": 20,
    "iso_drum_target": 38,
    "resin_drum_target": 38,
    "iso_nco_share": 15,
    "resin_equivalent_weight": 260,
    "stroke_volume": 100,
    "next_break": 0.5,
    "least_adhesion": 2,
    "film_most": 4,
    "readings_whole": "no",
}


def base_cells() -> Cells:
    """A day with a warm-up, drums, film and pull-off tests, and nothing wrong with any of them."""
    warming = [
        {
            "time": 0.2 + index / 288,
            "phase": "warming",
            "iso_drum": 15 + 4 * index,
            "resin_drum": 15 + 3.5 * index,
            "strokes": 100 * index,
        }
        for index in range(7)
    ]
    panel = {"time": 0.375, **SPRAYING, **WEATHER, "event": "test panel"}
    readings = [
        *warming,
        {**panel, "iso_left": 200, "resin_left": 200},
        {"time": 0.4, **SPRAYING},
        {"time": 0.425, **SPRAYING, "iso_left": 150, "resin_left": 150},
    ]
    on = {"expiry": 46500, "on_at": 0.3, "off_at": 0.5}
    iso = {"holds": "iso", "drum_number": "I1", "opening_weight": 248, "closing_weight": 24}
    resin = {"holds": "resin", "drum_number": "R1", "opening_weight": 225, "closing_weight": 23}
    primer = {"holds": "primer", "drum_number": "P1", "opening_level": 15, "closing_level": 5}
    film = [
        {"film_surface": "Floor", "film_place": f"strip {n}", "reading_1": 2.1 + n / 100}
        for n in range(30)
    ]
    return day_cells(
        NAMES,
        readings,
        drums=[{**iso, **on}, {**resin, **on, "stirred": 60}, {**primer, "expiry": 46500}],
        film=film,
        pulls=[
            {"pull_surface": "Floor", "stress_read": 3.0, "broke": "in the lining"},
            {"pull_surface": "Floor", "stress_read": 3.2},
        ],
    )


SPOILED = (
    Spoiled(
        "drum without a number",
        {"drums.drum_number@0": None},
        ("Drums!B7: Drum is blank; a text is wanted",),
        (),
        (
            "passes",
            "total_price",
            "iso_gauge",
            "used_per_area",
            "off_ratio",
            "ratio_uncertainty",
            "iso_learned_power",
            "switch_on",
        ),
    ),
    Spoiled(
        "drum without what it holds",
        {"drums.holds@0": None},
        (
            "Drums!A7: Holds is blank; pick one of: iso, resin, primer, top coat, second iso, "
            "second resin, second primer",
        ),
        (
            "resin_ledger",
            "resin_scaled",
            "resin_used",
            "used_volume",
            "used_per_area",
            "off_ratio",
            "mix_index",
        ),
        ("passes", "total_price", "iso_gauge", "iso_learned_power", "switch_on"),
    ),
    Spoiled(
        "drum that holds something unknown",
        {"drums.holds@1": "part B"},
        (
            "Drums!A8: Holds is 'part B'; it must be one of: iso, resin, primer, top coat, "
            "second iso, second resin, second primer",
        ),
        (
            "iso_ledger",
            "iso_scaled",
            "iso_used",
            "used_volume",
            "used_per_area",
            "off_ratio",
            "mix_index",
        ),
        ("passes", "total_price", "iso_gauge", "iso_learned_power", "switch_on"),
    ),
    Spoiled(
        "weight off above weight on",
        {"drums.closing_weight@0": 300},
        ("Drums!L7: Weight at end is 300 kg; it must be at most 248 kg",),
        (
            "iso_ledger",
            "iso_scaled",
            "iso_used",
            "used_volume",
            "used_per_area",
            "off_ratio",
            "mix_index",
        ),
        ("passes", "total_price", "iso_gauge", "iso_learned_power", "switch_on"),
    ),
    Spoiled(
        "weight below the empty drum",
        {"drums.closing_weight@0": 12},
        ("Drums!L7: Weight at end is 12 kg; it must be at least 18.1 kg",),
        (),
        (
            "passes",
            "total_price",
            "iso_gauge",
            "used_per_area",
            "off_ratio",
            "ratio_uncertainty",
            "iso_learned_power",
            "switch_on",
        ),
    ),
    Spoiled(
        "weight as a text",
        {"drums.opening_weight@0": "248 kg"},
        (
            "Drums!K7: Weight at start is the text '248 kg'; it must be a number, its unit "
            "stands in K5; type 248 as a number",
        ),
        (
            "iso_ledger",
            "iso_scaled",
            "iso_used",
            "used_volume",
            "used_per_area",
            "off_ratio",
            "mix_index",
        ),
        ("passes", "total_price", "iso_gauge", "iso_learned_power", "switch_on"),
    ),
    Spoiled(
        "weight negative",
        {"drums.opening_weight@0": -248},
        ("Drums!K7: Weight at start is -248 kg; it must be from 0 to 2500 kg",),
        (
            "iso_ledger",
            "iso_scaled",
            "iso_used",
            "used_volume",
            "used_per_area",
            "off_ratio",
            "mix_index",
        ),
        ("passes", "total_price", "iso_gauge", "iso_learned_power", "switch_on"),
    ),
    Spoiled(
        "weight with a decimal comma",
        {"drums.closing_weight@1": "23,5"},
        (
            "Drums!L8: Weight at end is the text '23,5'; it must be a number, its unit "
            "stands in L5; write 23.5",
        ),
        (
            "resin_ledger",
            "resin_scaled",
            "resin_used",
            "used_volume",
            "used_per_area",
            "off_ratio",
            "mix_index",
        ),
        ("passes", "total_price", "iso_gauge", "iso_learned_power", "switch_on"),
    ),
    Spoiled(
        "level off above level on",
        {"drums.closing_level@2": 210},
        ("Drums!N9: Volume at end is 210 L; it must be at most 15 L",),
        (),
        (
            "passes",
            "total_price",
            "iso_gauge",
            "used_per_area",
            "off_ratio",
            "ratio_uncertainty",
            "iso_learned_power",
            "switch_on",
        ),
    ),
    Spoiled(
        "level as a text",
        {"drums.opening_level@2": "full"},
        (
            "Drums!M9: Volume at start is the text 'full'; it must be a number, its unit stands "
            "in M5",
        ),
        (),
        (
            "passes",
            "total_price",
            "iso_gauge",
            "used_per_area",
            "off_ratio",
            "ratio_uncertainty",
            "iso_learned_power",
            "switch_on",
        ),
    ),
    Spoiled(
        "expiry as a text",
        {"drums.expiry@0": "May 2027"},
        ("Drums!E7: Use before is the text 'May 2027'; it must be a date",),
        (),
        (
            "passes",
            "total_price",
            "iso_gauge",
            "used_per_area",
            "off_ratio",
            "ratio_uncertainty",
            "iso_learned_power",
            "switch_on",
        ),
    ),
    Spoiled(
        "expiry as a year",
        {"drums.expiry@0": 2027},
        ("Drums!E7: Use before is 2027; it must be a date as it stands on the drum",),
        (),
        (
            "passes",
            "total_price",
            "iso_gauge",
            "used_per_area",
            "off_ratio",
            "ratio_uncertainty",
            "iso_learned_power",
            "switch_on",
        ),
    ),
    Spoiled(
        "received as a text",
        {"drums.received@0": "last week"},
        ("Drums!D7: Received is the text 'last week'; it must be a date",),
        (),
        (
            "passes",
            "total_price",
            "iso_gauge",
            "used_per_area",
            "off_ratio",
            "ratio_uncertainty",
            "iso_learned_power",
            "switch_on",
        ),
    ),
    Spoiled(
        "time on as a number of hours",
        {"drums.on_at@0": 7},
        ("Drums!H7: Connected is 7; it must be a time of day such as 08:30",),
        (),
        (
            "passes",
            "total_price",
            "iso_gauge",
            "used_per_area",
            "off_ratio",
            "ratio_uncertainty",
            "iso_learned_power",
            "switch_on",
        ),
    ),
    Spoiled(
        "time off as a text",
        {"drums.off_at@0": "noon"},
        ("Drums!J7: Removed is the text 'noon'; it must be a time of day such as 08:30",),
        (),
        (
            "passes",
            "total_price",
            "iso_gauge",
            "used_per_area",
            "off_ratio",
            "ratio_uncertainty",
            "iso_learned_power",
            "switch_on",
        ),
    ),
    Spoiled(
        "stirring as a clock text",
        {"drums.stirred@1": "1:00"},
        ("Drums!F8: Stirred for is the text '1:00'; it must be a number, its unit stands in F5",),
        (),
        (
            "passes",
            "total_price",
            "iso_gauge",
            "used_per_area",
            "off_ratio",
            "ratio_uncertainty",
            "iso_learned_power",
            "switch_on",
        ),
    ),
    Spoiled(
        "stirring negative",
        {"drums.stirred@1": -60},
        ("Drums!F8: Stirred for is -60 min; it must be from 0 to 1440 min",),
        (),
        (
            "passes",
            "total_price",
            "iso_gauge",
            "used_per_area",
            "off_ratio",
            "ratio_uncertainty",
            "iso_learned_power",
            "switch_on",
        ),
    ),
    Spoiled(
        "unit of the weights wrong",
        {"drums_opening_weight_unit": "stone"},
        ("Drums!K5: unit is 'stone'; a mass is wanted: kg, g, t, lb",),
        (
            "iso_ledger",
            "iso_scaled",
            "iso_used",
            "resin_ledger",
            "resin_scaled",
            "resin_used",
            "used_volume",
            "used_per_area",
            "off_ratio",
            "mix_index",
        ),
        ("passes", "total_price", "iso_gauge", "iso_learned_power", "switch_on"),
    ),
    Spoiled(
        "film without a surface",
        {"film.film_surface@0": None},
        ("Film!A7: Surface is blank; a text is wanted",),
        (),
        (
            "passes",
            "total_price",
            "iso_gauge",
            "used_per_area",
            "off_ratio",
            "ratio_uncertainty",
            "iso_learned_power",
            "switch_on",
        ),
    ),
    Spoiled(
        "film with a surface unknown",
        {"film.film_surface@0": "Flor"},
        ("Film!A7: Areas has no surface 'Flor': not judged",),
        (),
        (
            "passes",
            "total_price",
            "iso_gauge",
            "used_per_area",
            "off_ratio",
            "ratio_uncertainty",
            "iso_learned_power",
            "switch_on",
        ),
        "OK",
    ),
    Spoiled(
        "film reading as a text",
        {"film.reading_1@0": "2.1 mm"},
        (
            "Film!C7: Reading 1 is the text '2.1 mm'; it must be a number, its unit "
            "stands in C5; type 2.1 as a number",
        ),
        (),
        (
            "passes",
            "total_price",
            "iso_gauge",
            "used_per_area",
            "off_ratio",
            "ratio_uncertainty",
            "iso_learned_power",
            "switch_on",
        ),
    ),
    Spoiled(
        "film reading with a comma",
        {"film.reading_1@1": "2,1"},
        (
            "Film!C8: Reading 1 is the text '2,1'; it must be a number, its unit "
            "stands in C5; write 2.1",
        ),
        (),
        (
            "passes",
            "total_price",
            "iso_gauge",
            "used_per_area",
            "off_ratio",
            "ratio_uncertainty",
            "iso_learned_power",
            "switch_on",
        ),
    ),
    Spoiled(
        "film reading blank",
        {"film.reading_1@2": None, "film.reading_2@2": 2.1},
        ("Film!C9: Reading 1 is blank; it must be from 0 to 50 mm",),
        (),
        (
            "passes",
            "total_price",
            "iso_gauge",
            "used_per_area",
            "off_ratio",
            "ratio_uncertainty",
            "iso_learned_power",
            "switch_on",
        ),
    ),
    Spoiled(
        "film reading negative",
        {"film.reading_1@0": -2.1},
        ("Film!C7: Reading 1 is -2.1 mm; it must be from 0 to 50 mm",),
        (),
        (
            "passes",
            "total_price",
            "iso_gauge",
            "used_per_area",
            "off_ratio",
            "ratio_uncertainty",
            "iso_learned_power",
            "switch_on",
        ),
    ),
    Spoiled(
        "film reading in another unit",
        {"film.reading_1@0": 2100},
        ("Film!C7: Reading 1 is 2100 mm; it must be from 0 to 50 mm",),
        (),
        (
            "passes",
            "total_price",
            "iso_gauge",
            "used_per_area",
            "off_ratio",
            "ratio_uncertainty",
            "iso_learned_power",
            "switch_on",
        ),
    ),
    Spoiled(
        "second reading as a word",
        {"film.reading_2@0": "ditto"},
        ("Film!D7: Reading 2 is the text 'ditto'; it must be a number, its unit stands in D5",),
        (),
        (
            "passes",
            "total_price",
            "iso_gauge",
            "used_per_area",
            "off_ratio",
            "ratio_uncertainty",
            "iso_learned_power",
            "switch_on",
        ),
    ),
    Spoiled(
        "unit of the film wrong",
        {"film_reading_1_unit": "mils dry"},
        ("Film!C5: unit is 'mils dry'; a thickness is wanted: mm, µm, mil, in",),
        (),
        (
            "passes",
            "total_price",
            "iso_gauge",
            "used_per_area",
            "off_ratio",
            "ratio_uncertainty",
            "iso_learned_power",
            "switch_on",
        ),
    ),
    Spoiled(
        "rule unknown",
        {"film_rule": "five rings"},
        (
            "Job!B94: Rule is 'five rings'; it must be one of: single readings, as "
            "ISO 19840, spots, as SSPC-PA 2, nine tenths, as IMO PSPC",
        ),
        (),
        (
            "passes",
            "total_price",
            "iso_gauge",
            "used_per_area",
            "off_ratio",
            "ratio_uncertainty",
            "iso_learned_power",
            "switch_on",
        ),
    ),
    Spoiled(
        "rule of the low readings unknown",
        {"low_readings": "some"},
        (
            "Job!B95: Readings below nominal, single readings is 'some'; it must be "
            "one of: fewer than a fifth, at most a fifth",
        ),
        (),
        (
            "passes",
            "total_price",
            "iso_gauge",
            "used_per_area",
            "off_ratio",
            "ratio_uncertainty",
            "iso_learned_power",
            "switch_on",
        ),
    ),
    Spoiled(
        "level of restriction as a number",
        {"restriction_level": 3},
        (
            "Job!B96: Level of restriction, spots is '3'; it must be one of: level "
            "1, level 2, level 3, level 4, level 5",
        ),
        (),
        (
            "passes",
            "total_price",
            "iso_gauge",
            "used_per_area",
            "off_ratio",
            "ratio_uncertainty",
            "iso_learned_power",
            "switch_on",
        ),
    ),
    Spoiled(
        "profile grade unknown",
        {"profile_grade": "rough"},
        (
            "Job!B97: Gauge set on smooth steel, profile is 'rough'; it must be one "
            "of: none, fine, medium, coarse",
        ),
        (),
        (
            "passes",
            "total_price",
            "iso_gauge",
            "used_per_area",
            "off_ratio",
            "ratio_uncertainty",
            "iso_learned_power",
            "switch_on",
        ),
    ),
    Spoiled(
        "film most below the film",
        {"film_most": 1},
        (
            "Job!B19: Dry film thickness, at most is 1 mm; it must not be below Dry "
            "film thickness, 2 mm",
        ),
        (),
        (
            "passes",
            "total_price",
            "iso_gauge",
            "used_per_area",
            "off_ratio",
            "ratio_uncertainty",
            "iso_learned_power",
            "switch_on",
        ),
    ),
    Spoiled(
        "film most as a text",
        {"film_most": "twice"},
        (
            "Job!B19: Dry film thickness, at most is the text 'twice'; it must be a "
            "number, its unit stands in C19",
        ),
        (),
        (
            "passes",
            "total_price",
            "iso_gauge",
            "used_per_area",
            "off_ratio",
            "ratio_uncertainty",
            "iso_learned_power",
            "switch_on",
        ),
    ),
    Spoiled(
        "pull without a surface",
        {"pulls.pull_surface@0": None},
        ("Adhesion!A7: Surface is blank; a text is wanted",),
        (),
        (
            "passes",
            "total_price",
            "iso_gauge",
            "used_per_area",
            "off_ratio",
            "ratio_uncertainty",
            "iso_learned_power",
            "switch_on",
        ),
    ),
    Spoiled(
        "stress as a text",
        {"pulls.stress_read@0": "3 MPa"},
        (
            "Adhesion!C7: Stress read is the text '3 MPa'; it must be a number, its "
            "unit stands in C5; type 3 as a number",
        ),
        (),
        (
            "passes",
            "total_price",
            "iso_gauge",
            "used_per_area",
            "off_ratio",
            "ratio_uncertainty",
            "iso_learned_power",
            "switch_on",
        ),
    ),
    Spoiled(
        "dolly of nothing",
        {"pulls.stress_read@0": None, "pulls.pull_force@0": 1000, "pulls.dolly@0": 0},
        ("Adhesion!E7: Dolly is 0 mm; it must be from 5 to 200 mm",),
        (),
        (
            "passes",
            "total_price",
            "iso_gauge",
            "used_per_area",
            "off_ratio",
            "ratio_uncertainty",
            "iso_learned_power",
            "switch_on",
        ),
    ),
    Spoiled(
        "failure unknown",
        {"pulls.broke@0": "somewhere"},
        (
            "Adhesion!F7: Failure is 'somewhere'; it must be one of: in the "
            "lining, between coats, at the surface, in the concrete or steel below, "
            "in the glue",
        ),
        (),
        (
            "passes",
            "total_price",
            "iso_gauge",
            "used_per_area",
            "off_ratio",
            "ratio_uncertainty",
            "iso_learned_power",
            "switch_on",
        ),
    ),
    Spoiled(
        "least strength negative",
        {"least_adhesion": -2},
        ("Job!B98: Pull-off strength, at least is -2 MPa; it must be from 0 to 50 MPa",),
        (),
        (
            "passes",
            "total_price",
            "iso_gauge",
            "used_per_area",
            "off_ratio",
            "ratio_uncertainty",
            "iso_learned_power",
            "switch_on",
        ),
    ),
    Spoiled(
        "drum temperature as a text",
        {"readings.iso_drum@1": "25 C"},
        (
            "Readings!I8: Iso drum temperature is the text '25 C'; it must be a number, its "
            "unit stands in I5; type 25 as a number",
        ),
        (
            "iso_warmed_in",
            "iso_warm_up_off",
            "iso_learned_power",
            "iso_learned_power_low",
            "iso_learned_power_high",
            "iso_learned_share",
            "iso_learned_loss",
            "iso_learned_loss_low",
            "iso_learned_loss_high",
        ),
        (
            "passes",
            "total_price",
            "iso_gauge",
            "used_per_area",
            "off_ratio",
            "ratio_uncertainty",
            "switch_on",
        ),
    ),
    Spoiled(
        "drum temperature too hot",
        {"readings.resin_drum@1": 300},
        ("Readings!J8: Resin drum temperature is 300 °C; it must be from -50 to 150 °C",),
        (
            "resin_warmed_in",
            "resin_warm_up_off",
            "resin_learned_power",
            "resin_learned_power_low",
            "resin_learned_power_high",
            "resin_learned_share",
            "resin_learned_loss",
            "resin_learned_loss_low",
            "resin_learned_loss_high",
        ),
        (
            "passes",
            "total_price",
            "iso_gauge",
            "used_per_area",
            "off_ratio",
            "ratio_uncertainty",
            "iso_learned_power",
            "switch_on",
        ),
    ),
    Spoiled(
        "strokes falling with a comma",
        {"readings.strokes@1": "1,5"},
        ("Readings!Q8: Strokes is the text '1,5'; it must be a number; write 1.5",),
        (),
        (
            "passes",
            "total_price",
            "iso_gauge",
            "used_per_area",
            "off_ratio",
            "ratio_uncertainty",
            "iso_learned_power",
            "switch_on",
        ),
    ),
    Spoiled(
        "strokes not whole",
        {"readings.strokes@1": 1.5},
        ("Readings!Q8: Strokes is 1.5 pcs; it must be a whole number",),
        (),
        (
            "passes",
            "total_price",
            "iso_gauge",
            "used_per_area",
            "off_ratio",
            "ratio_uncertainty",
            "iso_learned_power",
            "switch_on",
        ),
    ),
    Spoiled(
        "scatter of nothing",
        {"gauge_scatter": 0},
        (
            "Equipment!B54: Pressure difference, scatter of a reading is 0 bar; it "
            "must be from 0.01 to 50 bar",
        ),
        (),
        (
            "passes",
            "total_price",
            "iso_gauge",
            "used_per_area",
            "off_ratio",
            "ratio_uncertainty",
            "iso_learned_power",
            "switch_on",
        ),
    ),
    Spoiled(
        "stroke of a litre as a text",
        {"stroke_volume": "100 mL"},
        (
            "Equipment!B40: One stroke of each side delivers is the text '100 mL'; "
            "it must be a number, its unit stands in C40; type 100 as a number",
        ),
        ("used_per_area",),
        (
            "passes",
            "total_price",
            "iso_gauge",
            "off_ratio",
            "ratio_uncertainty",
            "iso_learned_power",
            "switch_on",
        ),
    ),
    Spoiled(
        "drive unknown",
        {"pump_drive": "electric"},
        (
            "Equipment!B41: Pumps of iso and resin is 'electric'; it must be one of: "
            "on one drive, each on its own",
        ),
        ("used_per_area",),
        (
            "passes",
            "total_price",
            "iso_gauge",
            "off_ratio",
            "ratio_uncertainty",
            "iso_learned_power",
            "switch_on",
        ),
    ),
    Spoiled(
        "NCO content above what there is",
        {"iso_nco_share": 80},
        ("Processing!B20: Iso, NCO content is 80 %; it must be from 1 to 60 %",),
        ("mix_index",),
        (
            "passes",
            "total_price",
            "iso_gauge",
            "used_per_area",
            "off_ratio",
            "ratio_uncertainty",
            "iso_learned_power",
            "switch_on",
        ),
    ),
    Spoiled(
        "equivalent weight as a text",
        {"resin_equivalent_weight": "about 260"},
        ("Processing!B34: Resin, equivalent weight is the text 'about 260'; it must be a number",),
        ("mix_index",),
        (
            "passes",
            "total_price",
            "iso_gauge",
            "off_ratio",
            "ratio_uncertainty",
            "iso_learned_power",
            "switch_on",
        ),
    ),
    Spoiled(
        "break as a text",
        {"next_break": "at noon"},
        ("Job!B104: Next break at is the text 'at noon'; it must be a time of day such as 08:30",),
        (),
        (
            "passes",
            "total_price",
            "iso_gauge",
            "used_per_area",
            "off_ratio",
            "ratio_uncertainty",
            "iso_learned_power",
            "switch_on",
        ),
    ),
    Spoiled(
        "day of the readings as a text",
        {"work_date": "Tuesday"},
        ("Job!B101: Day of the readings is the text 'Tuesday'; it must be a date",),
        (),
        (
            "passes",
            "total_price",
            "iso_gauge",
            "used_per_area",
            "off_ratio",
            "ratio_uncertainty",
            "iso_learned_power",
            "switch_on",
        ),
    ),
)


@pytest.mark.parametrize("spoiled", SPOILED, ids=lambda one: one.name)
def test_it_names_the_cell_refuses_what_depends_on_it_and_fills_the_rest(
    spoiled: Spoiled, tmp_path: Path
) -> None:
    judge(base_cells(), spoiled, tmp_path)


def test_the_base_has_nothing_wrong(tmp_path: Path) -> None:
    path = spoil(base_cells(), Spoiled("none", {}, ()), tmp_path)
    check_names_the_cell(path, Spoiled("none", {}, ()))


def test_at_least_forty_workbooks_are_spoiled() -> None:
    assert len({one.name for one in SPOILED}) == len(SPOILED) >= 40


def test_rows_below_a_table_are_told_once(tmp_path: Path) -> None:
    area = job_template().tables["film"].area
    below = {
        (area.sheet, area.last_row + 1 + n, column): "Floor"
        for n in range(193)
        for column in (1, 2)
    }
    path = typed({**base_cells(), **below}, tmp_path / "job.xlsx")
    assert [str(problem) for problem in check_file(path).problems] == [
        "Film!A207: 193 rows down to row 399 stand below the table film; only rows inside the "
        "table are read; type in the same row what each row needs (surface, reading 1) and fill "
        "takes it in"
    ]
