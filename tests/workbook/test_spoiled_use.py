"""The block "When the job is done" spoiled, and an accepted quote that lost a part."""

from datetime import date
from pathlib import Path

import pytest

from tests.workbook.job_values import job_template
from tests.workbook.spoiling import Spoiled, judge
from tests.workbook.test_spoiled_sheets import base_cells
from tests.workbook.typing import QUOTED, accept_on, address, typed
from twodrum.commands.fill import check_file, fill_file
from twodrum.xlsx.book import Book
from twodrum.xlsx.scan import column_letters
from twodrum.xlsx.write import Write, write_cells

USED = ("iso_combined", "iso_used", "used_volume", "film_yield", "matched_volume")
OF_BOTH = (*USED, "resin_used")
KEPT = ("passes", "total_price", "iso_measured", "measured_build", "switch_on")

SPOILED = (
    Spoiled(
        "taken as a text",
        {"iso_taken": "three drums"},
        (
            "Job!B116: Iso taken to the job is the text 'three drums'; it must be a number, its "
            "unit stands in C116",
        ),
        USED,
        (*KEPT, "resin_used"),
    ),
    Spoiled(
        "taken negative",
        {"resin_taken": -5},
        ("Job!B117: Resin taken to the job is -5 L; it must be from 0 to 100000 L",),
        ("resin_combined", "resin_used", "used_volume"),
        (*KEPT, "iso_used"),
    ),
    Spoiled(
        "more brought back than taken",
        {"iso_taken": 205, "iso_returned": 410},
        ("Job!B118: Iso brought back is 410 L; it must be at most Iso taken to the job, 205 L",),
        USED,
        (*KEPT, "resin_used"),
    ),
    Spoiled(
        "brought back of nothing taken",
        {"iso_returned": 50},
        ("Job!B118: Iso brought back is 50 L; Iso taken to the job is blank: type it",),
        USED,
        (*KEPT, "resin_used"),
    ),
    Spoiled(
        "taken in kilograms",
        {"iso_taken": 205, "iso_taken_unit": "kg"},
        ("Job!C116: unit is 'kg'; a volume is wanted: L, mL, m³, US gal, imp gal",),
        USED,
        (*KEPT, "resin_used"),
    ),
    Spoiled(
        "lost with a comma",
        {"lost_volume": "12,5"},
        (
            "Job!B120: Lost, where it was measured is the text '12,5'; it must be a number, its "
            "unit stands in C120; write 12.5",
        ),
        ("accounted", "found_supply", "loss_found"),
        (*KEPT, "iso_used"),
    ),
    Spoiled(
        "more lost than was sprayed",
        {"lost_volume": 600},
        ("Job!B120: Lost, where it was measured is 600 L; it must be at most 400 L",),
        ("accounted", "found_supply", "loss_found"),
        (*KEPT, "iso_used"),
    ),
    Spoiled(
        "readings perhaps",
        {"readings_whole": "perhaps"},
        ("Job!B121: Readings cover the whole job is 'perhaps'; it must be one of: no, yes",),
        OF_BOTH,
        KEPT,
    ),
    Spoiled(
        "density uncertainty below a percent",
        {"density_uncertainty": 0.5},
        (
            "Job!B124: Densities, standard deviation is 0.5 %; less than 1 % is surely not meant; "
            "write 50 for 50 %, or pick fraction and write 0.005 for 0.5 %",
        ),
        OF_BOTH,
        KEPT,
    ),
    Spoiled(
        "stroke known to all of it",
        {"stroke_uncertainty": 100},
        (
            "Job!B123: Volume of a stroke, standard deviation is 100 %; it must be from 0.01 to "
            "30 %",
        ),
        OF_BOTH,
        KEPT,
    ),
    Spoiled(
        "area uncertainty as a text",
        {"measure_uncertainty": "small"},
        (
            "Job!B125: Measured area, standard deviation is the text 'small'; it must be a number, "
            "its unit stands in C125",
        ),
        (),
        (*KEPT, "iso_used"),
    ),
    Spoiled(
        "gauge uncertainty negative",
        {"gauge_uncertainty": -1},
        ("Job!B126: Film gauge, standard deviation is -1 %; it must be from 0.01 to 30 %",),
        ("measured_build", "mean_film", "film_yield"),
        ("passes", "total_price", "iso_used", "switch_on"),
    ),
)


@pytest.mark.parametrize("spoiled", SPOILED, ids=lambda one: one.name)
def test_it_names_the_cell_refuses_what_depends_on_it_and_fills_the_rest(
    spoiled: Spoiled, tmp_path: Path
) -> None:
    judge(base_cells(), spoiled, tmp_path)


def test_an_accepted_quote_that_lost_a_part_is_told(tmp_path: Path) -> None:
    cells = base_cells()
    book = job_template()
    cells.update({address(book, name): value for name, value in QUOTED.items()})
    path = typed(cells, tmp_path / "job.xlsx")
    fill_file(path, deal=accept_on(date(2026, 11, 25)))
    assert check_file(path).problem_count == 0
    book = Book.open(path)
    sheet, row, column = where = address(book, "accepted_iso_price_si")
    write_cells(book, {where: Write(None)})
    path.write_bytes(book.package.to_bytes())
    told = [str(p) for p in check_file(path).problems if p.severity == "problem"]
    assert told == [
        f"{sheet}!{column_letters(column)}{row}: Iso price, accepted is gone; a quote is kept "
        "whole when it is accepted; undo what removed it, or start from a new job"
    ]
