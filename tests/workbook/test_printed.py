"""How much of a table is printed after a fill, and what people set themselves."""

import re
import subprocess
from pathlib import Path

import pytest
from openpyxl import load_workbook

from tests.libreoffice import calc
from tests.workbook.day import day_cells
from tests.workbook.typing import address, small_job, typed
from twodrum.books.parts import PARTS, QUOTE, WHAT_IFS
from twodrum.books.whole import JOB
from twodrum.commands.fill import check_file, fill_file
from twodrum.workbook.layout import CHART_ROWS, make_layout
from twodrum.xlsx.book import Book


def print_area(path: Path, sheet: str) -> str:
    """What of a sheet is printed, as the workbook writes it."""
    book = Book.open(path)
    at = str(book.all_sheets().index(sheet))
    found = book.xml(book.workbook_part).iterfind(".//{*}definedName[@localSheetId]")
    named = (e for e in found if e.attrib["name"] == "_xlnm.Print_Area")
    return next(str(e.text) for e in named if e.attrib["localSheetId"] == at)


def bottom(path: Path, sheet: str) -> int:
    """The last row of a sheet that is printed."""
    return int(print_area(path, sheet).rpartition("$")[2])


def test_a_table_is_printed_to_its_last_row_in_use(tmp_path: Path) -> None:
    job = small_job(tmp_path / "job.xlsx")
    whole = Book.open(job).tables["areas"].area.last_row
    assert bottom(job, "Areas") == whole
    fill_file(job)
    last = address(Book.open(job), "areas.surface", 1)[1]
    assert bottom(job, "Areas") == last < whole
    assert not fill_file(job).changed
    # More rows are printed when more are in use.
    typed({("Areas", whole, 1): "Far wall"}, job, source=job)
    fill_file(job)
    assert bottom(job, "Areas") == whole


def test_what_a_fill_writes_is_printed_to_its_last_row(tmp_path: Path) -> None:
    job = small_job(tmp_path / "job.xlsx")
    fill_file(job)
    rows = check_file(job).values.studies["drum_plan"]
    first = Book.open(job).tables["drum_plan"].area.first_row
    assert rows and bottom(job, "Order") == first + len(rows) - 1


@pytest.mark.parametrize("own", ["A1:D9", "B2:W20"])
def test_what_people_set_is_printed_as_they_set_it(own: str, tmp_path: Path) -> None:
    job = small_job(tmp_path / "job.xlsx")
    book = load_workbook(job)
    book["Areas"].print_area = own
    book.save(job)
    fill_file(job)
    assert load_workbook(job)["Areas"].print_area.replace("$", "").endswith(own)


def test_a_table_without_a_row_is_printed_with_its_heads_alone(tmp_path: Path) -> None:
    job = small_job(tmp_path / "job.xlsx", PARTS)
    fill_file(job)
    read = Book.open(job).tables["film"]
    assert bottom(job, "Film") == read.area.first_row < read.end_row
    assert QUOTE in check_file(job).model.parts


def ranges(path: Path, sheet: str) -> list[tuple[int, int]]:
    """The first and the last row of each range of a sheet that is printed."""
    areas = print_area(path, sheet).split(",")
    ends = [re.findall(r"\$(\d+)", area) for area in areas]
    return [(int(first), int(last)) for first, last in ends]


def test_a_chart_that_draws_nothing_is_not_printed_and_comes_back(tmp_path: Path) -> None:
    job = small_job(tmp_path / "job.xlsx", PARTS)
    tops = make_layout(JOB).chart_tops
    fill_file(job)
    # Neither curves nor readings: nothing above the first block of single values.
    below = tops["judge"] + 3 * CHART_ROWS
    assert ranges(job, "Balance")[0][0] == below
    filled = typed(day_cells(), tmp_path / "day.xlsx")
    fill_file(filled)
    assert ranges(filled, "Balance")[0][0] == 1
    # Curves without readings: their chart alone.
    for name in ("time", "phase", "iso_pressure", "resin_pressure"):
        for row in range(4):
            typed(
                {address(Book.open(filled), f"readings.{name}", row): None}, filled, source=filled
            )
    fill_file(filled)
    found = ranges(filled, "Balance")
    assert found[0] == (1, tops["judge"] - 1) and found[1][0] == below
    assert not fill_file(filled).changed


def hidden(path: Path, sheet: str, table: str) -> list[int]:
    """Rows of a block on a sheet that are out of sight."""
    rows, read = load_workbook(path)[sheet].row_dimensions, Book.open(path).tables[table]
    return [r for r in range(read.area.first_row, read.end_row + 1) if rows[r].hidden]


def test_rows_that_hold_nothing_stand_between_no_two_blocks(tmp_path: Path) -> None:
    job = small_job(tmp_path / "job.xlsx")
    fill_file(job)
    used = len(check_file(job).values.studies["drum_plan"])
    plan = Book.open(job).tables["drum_plan"]
    free = range(plan.area.first_row + used, plan.end_row + 1)
    assert used and hidden(job, "Order", "drum_plan") == list(free)
    # An empty block between two others shows its heads and one row.
    assert hidden(job, "Order", "systems") == [
        *range(*(Book.open(job).tables["systems"].area.first_row + n for n in (1, 3)))
    ]
    assert not fill_file(job).changed
    # What the office keeps beside a row stays in sight.
    typed({("Order", free[2], 12): "ours"}, job, source=job)
    # So do rows that are needed again.
    typed({address(Book.open(job), "loss_share"): 60}, job, source=job)
    fill_file(job)
    more = len(check_file(job).values.studies["drum_plan"])
    assert more > used
    now = range(plan.area.first_row + more, plan.end_row + 1)
    assert hidden(job, "Order", "drum_plan") == [row for row in now if row != free[2]]


def test_a_quote_prints_seven_pages(tmp_path: Path) -> None:
    job = small_job(tmp_path / "job.xlsx", filled=True)
    calc.require()
    folder = tmp_path / "profile"
    command = ("soffice", "--headless", f"-env:UserInstallation={folder.as_uri()}")
    to_pdf = ("--convert-to", "pdf", "--outdir", str(tmp_path), str(job))
    subprocess.run([*command, *to_pdf], check=True, capture_output=True)
    pages = subprocess.run(
        ["pdfinfo", str(tmp_path / "job.pdf")], check=True, capture_output=True, text=True
    ).stdout
    assert re.search(r"Pages:\s+7\n", pages), pages


def test_systems_are_printed_where_one_is_described(tmp_path: Path) -> None:
    job = small_job(tmp_path / "job.xlsx")
    often = bottom(job, "Job")
    place = Book.open(job).area("system_2_words")
    assert place is not None and often < place.first_row
    fill_file(job)
    assert bottom(job, "Job") == often
    typed({address(Book.open(job), "system_3_film"): 3}, job, source=job)
    fill_file(job)
    last = Book.open(job).area("system_3_top_coat")
    assert last is not None and bottom(job, "Job") == last.first_row
    typed({address(Book.open(job), "system_3_film"): None}, job, source=job)
    fill_file(job)
    assert bottom(job, "Job") == often


def test_options_are_printed_where_there_is_one(tmp_path: Path) -> None:
    job = small_job(tmp_path / "job.xlsx", (QUOTE, WHAT_IFS))
    read = Book.open(job).tables["options"]
    nothing = [(read.end_row + 2, read.end_row + 2)]
    assert ranges(job, "Options") == nothing
    fill_file(job)
    assert ranges(job, "Options") == nothing
    at = {address(Book.open(job), "options.option", 1): "option 2"}
    typed(at, job, source=job)
    fill_file(job)
    assert ranges(job, "Options") == [(1, read.area.first_row + 1)]
    typed(dict.fromkeys(at), job, source=job)
    fill_file(job)
    assert ranges(job, "Options") == nothing
