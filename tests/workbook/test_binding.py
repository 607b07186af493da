"""Inputs are found by names and tables: sheets may be moved, renamed, restyled, extended."""

import re
from pathlib import Path

import openpyxl
import pytest

from tests.libreoffice.calc import recalculate
from tests.workbook.recalculated import live_cells_that_change
from tests.workbook.typing import small_job
from twodrum.books.month import MONTH
from twodrum.books.office import OFFICE
from twodrum.books.whole import JOB
from twodrum.commands.fill import Filled, check_file, fill_file
from twodrum.engine.model import Model
from twodrum.xlsx.book import Book
from twodrum.xlsx.package import Package


@pytest.fixture
def job(tmp_path: Path) -> Path:
    return small_job(tmp_path / "job.xlsx")


def price(filled: Filled) -> object:
    assert [str(problem) for problem in filled.problems] == []
    return filled.values.names["total_price"].si


def test_a_sheet_renamed_and_moved_still_fills(job: Path) -> None:
    before = price(check_file(job))
    package = Package.open(job)
    for name in package.names():
        if name.endswith(".xml"):
            data = package.read(name)
            data = data.replace(b'name="Job"', b'name="Our job 7"')
            data = data.replace(b"Job!", b"'Our job 7'!")
            package.replace(name, data)
    book = package.read("xl/workbook.xml")
    sheets = book[book.index(b"<sheets>") + 8 : book.index(b"</sheets>")]
    each = sheets.replace(b"/><sheet ", b"/>\n<sheet ").split(b"\n")
    package.replace("xl/workbook.xml", book.replace(sheets, b"".join(reversed(each))))
    job.write_bytes(package.to_bytes())
    filled = fill_file(job)
    assert price(filled) == before
    assert next(iter(Book.open(job).sheets)) == "Workings"
    assert filled.values.names["film_thickness"].where == "'Our job 7'!B17"


def test_restyled_cells_still_fill(job: Path) -> None:
    before = price(check_file(job))
    package = Package.open(job)
    for part in Book(package).sheets.values():
        package.replace(part, re.sub(rb' s="\d+"', b' s="0"', package.read(part)))
    job.write_bytes(package.to_bytes())
    assert price(fill_file(job)) == before
    assert b' s="5"' not in Book.open(job).scan("Areas").data


def test_a_book_saved_by_libreoffice_with_a_sheet_renamed_and_moved_still_fills(
    job: Path, tmp_path: Path
) -> None:
    before = price(fill_file(job))
    saved = tmp_path / "saved.xlsx"
    case = {"move": [["Areas", "Take-off of Ann", 0]], "save": str(saved)}
    recalculate(job, [case])
    filled = fill_file(saved)
    assert price(filled) == before
    assert filled.state == "OK"
    assert "Take-off of Ann" in Book.open(saved).sheets
    first = saved.read_bytes()
    assert not fill_file(saved).changed
    assert saved.read_bytes() == first


def test_a_sheet_of_the_office_in_the_same_book_survives_byte_for_byte(
    job: Path, tmp_path: Path
) -> None:
    workbook = openpyxl.load_workbook(job)
    sheet = workbook.create_sheet("Our notes")
    sheet["B3"] = "=net_price*2"
    sheet["B4"] = "Ask about the crane"
    workbook.save(job)
    book = Book.open(job)
    part = book.sheets["Our notes"]
    before = book.package.read(part)
    fill_file(job)
    again = Book.open(job)
    assert again.package.read(part) == before


@pytest.mark.parametrize(
    ("name", "message"),
    [
        (
            "lining_volume",
            "Mixed lining to supply: the name lining_volume is lost; one cell carries it; "
            "undo what removed it, or start from a new job",
        ),
    ],
)
def test_a_lost_name_is_told_and_the_rest_is_computed(name: str, message: str, job: Path) -> None:
    package = Package.open(job)
    book = package.read("xl/workbook.xml")
    start = book.index(f'<definedName name="{name}"'.encode())
    end = book.index(b"</definedName>", start) + len(b"</definedName>")
    package.replace("xl/workbook.xml", book[:start] + book[end:])
    job.write_bytes(package.to_bytes())
    checked = check_file(job)
    assert [str(problem) for problem in checked.problems] == [message]
    assert checked.values.names["measured_area_total"].si == 124.0
    assert fill_file(job).state == "CHECK"


def test_a_lost_column_is_told_and_the_rest_is_computed(job: Path) -> None:
    package = Package.open(job)
    for name in package.names():
        if "tables/" in name and b'displayName="areas"' in package.read(name):
            data = package.read(name).replace(b'name="Height"', b'name="Tallness"')
            package.replace(name, data)
    job.write_bytes(package.to_bytes())
    told = [str(problem) for problem in check_file(job).problems]
    assert told == [
        "Areas!A6: the table areas has no column 'Height'; its heading must stand as in the "
        "template; undo what removed it, or start from a new job"
    ]
    assert check_file(job).values.names["passes"].si == 5


def test_a_lost_table_is_told(job: Path) -> None:
    package = Package.open(job)
    for name in package.names():
        if "tables/" in name and b'displayName="areas"' in package.read(name):
            package.replace(name, package.read(name).replace(b'"areas"', b'"fields_of_corn"'))
    job.write_bytes(package.to_bytes())
    told = [str(problem) for problem in check_file(job).problems]
    assert told == [
        "Areas: the table areas is lost; it holds the rows; "
        "undo what removed it, or start from a new job"
    ]


def test_columns_of_a_table_may_change_places(job: Path) -> None:
    before = price(check_file(job))
    workbook = openpyxl.load_workbook(job)
    sheet = workbook["Areas"]
    for row in range(5, 27):
        length, width = sheet[f"D{row}"], sheet[f"E{row}"]
        length.value, width.value = width.value, length.value
    columns = sheet.tables["areas"].tableColumns
    columns[3].name, columns[4].name = columns[4].name, columns[3].name
    workbook.save(job)
    checked = check_file(job)
    assert checked.values.names["total_price"].si == before
    assert checked.problem_count == 0
    assert checked.values.tables["areas"].rows[0]["length"].where == "Areas!E7"


@pytest.mark.parametrize("model", [JOB, OFFICE, MONTH], ids=lambda model: model.name)
def test_no_name_is_declared_twice(model: Model) -> None:
    names = [item.name for item in model.fields()] + [cell.name for cell in model.cells]
    assert len(names) == len(set(names))


def renamed(job: Path, pattern: bytes, by: bytes) -> None:
    """The list of names of a job changed once."""
    package = Package.open(job)
    data, count = re.subn(pattern, by, package.read("xl/workbook.xml"))
    assert count == 1
    package.replace("xl/workbook.xml", data)
    job.write_bytes(package.to_bytes())


@pytest.mark.parametrize("name", ["film_thickness_si", "job_unit_column", "cost_unit_column"])
def test_a_lost_name_that_follows_from_others_is_put_back(name: str, job: Path) -> None:
    before = price(fill_file(job))
    renamed(job, rb'<definedName name="%s">[^<]*</definedName>' % name.encode(), b"")
    filled = fill_file(job)
    assert (filled.problem_count, filled.values.names["total_price"].si) == (0, before)
    assert Book.open(job).named_itself(name)
    assert live_cells_that_change(job)[0] == []


def test_a_row_that_was_put_between_inputs_leaves_the_book_up_to_date(
    job: Path, tmp_path: Path
) -> None:
    before, saved = price(fill_file(job)), tmp_path / "saved.xlsx"
    recalculate(job, [{"insert": [["Job", "Rows", 20]], "save": str(saved)}])
    # The first one tells that rules were put right.
    fill_file(saved)
    filled = fill_file(saved)
    assert (filled.state, price(filled)) == ("OK", before)
    assert live_cells_that_change(saved)[0] == []
    assert not fill_file(saved).changed


def test_a_column_that_was_put_between_a_value_and_its_unit_moves_no_number(
    job: Path, tmp_path: Path
) -> None:
    before, saved = price(fill_file(job)), tmp_path / "saved.xlsx"
    recalculate(job, [{"insert": [["Job", "Columns", 2]], "save": str(saved)}])
    filled = check_file(saved)
    assert (filled.problem_count, price(filled)) == (0, before)
    unit = Book.open(saved).named("film_thickness_unit")
    assert unit is not None and (unit.where, unit.value) == ("Job!D17", "mm")


def test_rows_put_between_units_and_heads_of_a_table_leave_its_units_where_they_are(
    job: Path, tmp_path: Path
) -> None:
    before, saved = price(fill_file(job)), tmp_path / "saved.xlsx"
    rows = [["Areas", "Rows", 5], ["Areas", "Rows", 5], ["Materials", "Rows", 5]]
    recalculate(job, [{"insert": rows, "save": str(saved)}])
    checked = check_file(saved)
    assert (checked.problem_count, checked.values.names["total_price"].si) == (0, before)
    length = checked.values.tables["areas"].rows[0]["length"]
    assert (length.where, length.unit) == ("Areas!D9", "m")
    fill_file(saved)
    assert (fill_file(saved).state, live_cells_that_change(saved)[0]) == ("OK", [])
