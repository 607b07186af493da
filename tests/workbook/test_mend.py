"""What cut, paste and older versions did to a book is put right, told, and nothing else changes."""

import re
from pathlib import Path
from typing import Any

import openpyxl
import pytest

from tests.workbook.typing import small_job
from twodrum.books.month import MONTH
from twodrum.books.office import OFFICE
from twodrum.books.parts import QUOTE, WHAT_IFS, job_of
from twodrum.books.whole import JOB
from twodrum.commands.fill import Filled, check_file, fill_file
from twodrum.commands.new import template
from twodrum.engine.model import Model
from twodrum.workbook.entry import Rule
from twodrum.workbook.mend import put_right
from twodrum.workbook.pattern import Pattern, same_formula, template_formulas
from twodrum.workbook.validations import Wanted, put_in
from twodrum.xlsx.book import Book
from twodrum.xlsx.package import Package


@pytest.fixture
def job(tmp_path: Path) -> Path:
    return small_job(tmp_path / "job.xlsx")


def edited(path: Path, part: str, old: bytes, new: bytes) -> None:
    """One piece of one part replaced; the piece has to be there once."""
    package = Package.open(path)
    name = Book(package).sheets.get(part, part)
    data = package.read(name)
    assert data.count(old) == 1, (part, old, data.count(old))
    package.replace(name, data.replace(old, new))
    path.write_bytes(package.to_bytes())


def said(filled: Filled) -> list[str]:
    return [str(problem) for problem in filled.problems]


@pytest.mark.parametrize("model", [JOB, OFFICE, MONTH], ids=lambda m: m.name)
def test_a_template_expects_the_formulas_that_it_has(model: Model) -> None:
    book = template(model)
    expected = dict(Pattern(model, book).expected())
    found = {
        (sheet, row, column): text
        for sheet, formulas in template_formulas(model.name).items()
        for (row, column), text in formulas.items()
    }
    assert expected == found
    again, notes = put_right(book, model)
    assert again is book and notes == []


@pytest.mark.parametrize("points_at", [b"#REF!", b"Job!$B$21", b"Job!$H$40"])
def test_a_name_that_a_cut_or_a_paste_moved_is_put_back(points_at: bytes, job: Path) -> None:
    before = check_file(job).values.names["total_price"].si
    name = b'name="film_thickness">'
    edited(job, "xl/workbook.xml", name + b"Job!$B$17", name + points_at)
    filled = fill_file(job)
    assert filled.values.names["total_price"].si == before
    assert len(said(filled)) == 1
    assert said(filled)[0].startswith("Job!B17: the ")
    assert said(filled)[0].endswith("it was put back here; look whether it is right")
    area = Book.open(job).area("film_thickness")
    assert area is not None and (area.first_row, area.first_column) == (17, 2)
    assert said(fill_file(job)) == []


def test_a_formula_that_was_dragged_along_is_put_back(job: Path) -> None:
    before = check_file(job).values.names["total_price"].si
    cell = Book.open(job).cell("Areas", 8, Book.open(job).tables["areas"].columns["Height SI"])
    # What a cut of G8 onto G9 does to a formula that reads G8 by itself.
    old = cell.formula_text.encode().replace(b"&", b"&amp;").replace(b"<", b"&lt;")
    book = openpyxl.load_workbook(job)
    where = cell.where.split("!")[1]
    book["Areas"][where].value = "=" + cell.formula_text.replace("ROW()", "ROW()+1")
    book.save(job)
    assert old
    filled = fill_file(job)
    assert filled.values.names["total_price"].si == before
    told = "a live formula was dragged along by cut and paste, or changed; put back"
    assert f"Areas!{where}: {told}" in said(filled)
    again = Book.open(job).cell("Areas", cell.row, cell.column)
    assert again.formula_text == cell.formula_text


def test_an_input_that_lost_its_lock_and_format_gets_them_back(job: Path) -> None:
    data = Package.open(job).read(Book.open(job).sheets["Job"])
    found = re.search(rb'<c r="B24" s="\d+"', data)
    assert found is not None
    edited(job, "Job", found[0], b'<c r="B24" s="0"')
    assert Book.open(job).look(Book.open(job).cell("Job", 24, 2)).locked
    fill_file(job)
    book = Book.open(job)
    look = book.look(book.cell("Job", 24, 2))
    assert (look.locked, look.code) == (False, "General;-General")


@pytest.mark.parametrize(
    ("sheet", "cell", "typed_as", "stands"),
    [
        ("Job", "C17", " mm ", "mm"),
        ("Job", "C17", "mils", "mil"),
        ("Areas", "D5", "feet", "ft"),
        ("Areas", "B7", "Rectangle ", "rectangle"),
        ("Areas", "B7", " rectangle", "rectangle"),
    ],
)
def test_words_of_a_list_are_written_as_the_list_spells_them(
    sheet: str, cell: str, typed_as: str, stands: str, job: Path
) -> None:
    book = openpyxl.load_workbook(job)
    book[sheet][cell].value = typed_as
    book.save(job)
    filled = fill_file(job)
    assert any(f"{sheet}!{cell}: '{typed_as}' was typed" in text for text in said(filled))
    again = openpyxl.load_workbook(job)
    assert again[sheet][cell].value == stands
    assert not filled.refused


def test_a_unit_changed_while_the_number_stayed_is_told(job: Path) -> None:
    assert said(fill_file(job)) == []
    book = openpyxl.load_workbook(job)
    book["Job"]["C17"].value = "mil"
    book["Areas"]["D5"].value = "ft"
    book.save(job)
    told = said(fill_file(job))
    assert (
        "Job!C17: the unit was changed from mm to mil and the number stayed 2; "
        "it counts as 2 mil now; look whether that is meant" in told
    )
    assert any(text.startswith("Areas!D5: the unit was changed from m to ft") for text in told)
    assert said(fill_file(job)) == [], "a unit that was filled is meant"


def test_nothing_of_a_book_that_needs_no_mending_is_touched(job: Path) -> None:
    fill_file(job)
    before = job.read_bytes()
    again, notes = put_right(Book.open(job), job_of((QUOTE,)))
    assert notes == [] and again.package.to_bytes() == before


def test_formulas_move_with_rows_columns_and_sheets(job: Path) -> None:
    """A row inserted into the take-off, and its sheet renamed, as a spreadsheet program does it."""
    book = Book.open(job)
    pattern = Pattern(job_of((QUOTE,)), book)
    areas = pattern.shifts["Areas"]
    areas.swapped = {4: 5, 5: 4}
    text = 'IF($Q7,INDEX($D:$D,ROW())*Workings!$E$9+SUM(areas[Length]),"D7")'
    moved = pattern.moved("Areas", text, 7)
    assert moved.replace("\x00", "12") == (
        'IF($Q12,INDEX($E:$E,ROW())*Workings!$E$9+SUM(areas[Length]),"D7")'
    )


@pytest.mark.parametrize(
    ("one", "other", "same"),
    [
        ("=SUM(A1, B2)", "sum(a1,b2)", True),
        ('IF(A1="a b",1,0)', 'IF(A1="ab",1,0)', False),
        ("SUM(A1:B2)", "SUM(A1:B3)", False),
    ],
)
def test_formulas_are_the_same_but_for_blanks_and_capitals(one: str, other: str, same: Any) -> None:
    assert same_formula(one, other) is same


def test_a_mark_that_was_cut_away_comes_back(job: Path) -> None:
    package = Package.open(job)
    part = Book(package).sheets["Job"]
    data = package.read(part)
    mark = re.compile(rb'<conditionalFormatting sqref="B17">.*?</conditionalFormatting>', re.DOTALL)
    found = mark.search(data)
    assert found is not None and b"AND(ISERROR($D17),NOT(ISBLANK(B17)))" in found[0]
    package.replace(part, data.replace(found[0], b""))
    job.write_bytes(package.to_bytes())
    fill_file(job)
    again = mark.search(Package.open(job).read(part))
    assert again is not None and b"AND(ISERROR($D17),NOT(ISBLANK(B17)))" in again[0]
    look = re.compile(rb"dxfId=.(\d+).")
    assert look.search(again[0])[1] == look.search(found[0])[1]  # type: ignore[index]


def test_rules_that_a_program_keeps_in_an_extension_are_taken_out_where_they_are_ours() -> None:
    def extended(cell: bytes) -> bytes:
        return (
            b'<x14:dataValidation type="decimal"><x14:formula1><xm:f>between</xm:f></x14:formula1>'
            b"<xm:sqref>" + cell + b"</xm:sqref></x14:dataValidation>"
        )

    def sheet(*cells: bytes) -> bytes:
        rules = b"".join(map(extended, cells))
        return (
            b"<worksheet><sheetData/><pageMargins/><extLst><ext uri='a'><x14:dataValidations "
            b'count="%d">'
            % len(cells)
            + rules
            + b"</x14:dataValidations></ext></extLst></worksheet>"
        )

    ours = Wanted((17, 2, 17, 2), Rule("decimal", "1", "2", "between"))
    kept = put_in(sheet(b"B17", b"H40"), "", [ours])
    assert extended(b"H40") in kept and extended(b"B17") not in kept
    assert b'count="1"' in kept
    none_left = put_in(sheet(b"B17"), "", [ours])
    assert b"extLst" not in none_left and b'sqref="B17"' in none_left


def test_a_book_of_an_older_version_says_in_one_note_what_it_has_no_place_for(
    tmp_path: Path,
) -> None:
    path = small_job(tmp_path / "job.xlsx", (QUOTE, WHAT_IFS))
    fill_file(path)
    book = openpyxl.load_workbook(path)
    start = next(r for r in range(1, 20) if book["Start"].cell(r, 1).value == "Template version")
    book["Start"].cell(start, 2).value = "0.9.0"
    for end in ("", "_si"):
        del book.defined_names[f"coats_time{end}"]
    sheet = book["Workings"]
    table = sheet.tables["scenarios"]
    column = next(c for c in table.tableColumns if c.name == "Iso: For the lining SI")
    head = sheet.cell(6, table.tableColumns.index(column) + 1)
    assert head.value == column.name
    column.name = head.value = "Iso needed SI"
    read = Book.open(path).tables["fields"]
    keys, blank = (read.columns[head] for head in ("Name", "If blank in SI"))
    row = next(r for r in range(1, 400) if sheet.cell(r, keys).value == "pass_build")
    sheet.cell(row, blank).value = 0.0004
    book.save(path)
    asked = check_file(path)
    assert asked.problem_count == 0
    told = [str(problem) for problem in asked.problems]
    assert [line for line in told if "made by twodrum 0.9.0" in line] == [
        "Start: it was made by twodrum 0.9.0 and has no place for 2 inputs and results of today, "
        "such as Iso: For the lining; what stands there in their stead is left as it is; "
        "twodrum upgrade brings them"
    ]
    assert any("1 values for blank cells were those of twodrum 0.9.0" in line for line in told)
    before = Book.open(path).cell("Workings", 7, head.column).formula_text
    fill_file(path)
    filled = Book.open(path)
    assert filled.cell("Workings", row, blank).formula_text == '""'
    assert filled.cell("Workings", 7, head.column).formula_text == before
    assert not [p for p in check_file(path).problems if "values for blank cells" in p.text]
