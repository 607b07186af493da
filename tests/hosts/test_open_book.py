"""A job that is open in Excel, behind xlwings' public objects, filled as the file is."""

import shutil
from pathlib import Path
from typing import Any

import pytest
import xlwings

from tests.hosts.engine import open_book
from tests.workbook.day import day_cells
from tests.workbook.typing import Cells, address, plain_cells, typed
from twodrum.books.job import JOB
from twodrum.books.office import OFFICE
from twodrum.commands.fill import Filled, fill_file
from twodrum.commands.new import template
from twodrum.hosts import excel
from twodrum.hosts.excel_book import OpenBook, fill_open
from twodrum.xlsx.book import Book


def spoiled() -> Cells:
    """A day with a text for a number, an impossible share, a yes where a number belongs."""
    cells = day_cells()
    book = template(JOB)
    cells[address(book, "film_thickness")] = "80 mil"
    cells[address(book, "margin_share")] = 130
    cells[address(book, "materials.volume_solids", 1)] = "0,9"
    cells[address(book, "air_temperature")] = None
    return cells


def both(cells: Cells, folder: Path) -> tuple[Filled, OpenBook, Filled, Book]:
    """The same job filled while it is open, and as a file."""
    path = typed(cells, folder / "job.xlsx")
    copy = Path(shutil.copy(path, folder / "copy.xlsx"))
    book = open_book(path)
    live, _ = fill_open(book)
    assert live is not None
    filed = fill_file(copy)
    return live, OpenBook(book), filed, Book.open(copy)


def held(cell: Any) -> tuple[str, Any]:
    """What a cell holds; an empty text is as blank as a blank."""
    return ("blank", None) if cell.value in (None, "") else (cell.kind, cell.value)


@pytest.mark.parametrize(
    "cells",
    [lambda: plain_cells(template(JOB)), day_cells, spoiled],
    ids=["a plain job", "a day at the machine", "spoiled"],
)
def test_every_cell_that_is_no_formula_is_that_of_the_filled_file(
    cells: Any, tmp_path: Path
) -> None:
    live, opened, filed, book = both(cells(), tmp_path)
    assert live.state == filed.state
    assert [str(problem) for problem in live.problems] == [str(p) for p in filed.problems]
    compared, unlike = 0, []
    for sheet in book.sheets:
        for row, column in book.scan(sheet).cells:
            here, there = opened.cell(sheet, row, column), book.cell(sheet, row, column)
            assert here.formula == there.formula, here.where
            if not here.formula:
                compared += 1
                if held(here) != held(there):
                    unlike.append((here.where, here.value, there.value))
    assert compared > 5000
    assert unlike == []


def test_filled_again_nothing_is_written(tmp_path: Path) -> None:
    book = open_book(typed(day_cells(), tmp_path / "job.xlsx"))
    fill_open(book)
    kept = {
        sheet.title: [cell.value for row in sheet.iter_rows() for cell in row]
        for sheet in book.impl.file
    }
    written = []
    original = OpenBook.put

    def counted(self: OpenBook, writes: Any, barred: Any) -> int:
        written.append(original(self, writes, barred))
        return written[-1]

    OpenBook.put = counted  # type: ignore[method-assign]
    try:
        fill_open(book)
    finally:
        OpenBook.put = original  # type: ignore[method-assign]
    assert written == [0]
    for sheet in book.impl.file:
        assert [cell.value for row in sheet.iter_rows() for cell in row] == kept[sheet.title]


def test_run_python__fills_the_caller_and_says_so(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    book = open_book(typed(spoiled(), tmp_path / "job.xlsx"))
    monkeypatch.setattr(xlwings.Book, "caller", classmethod(lambda cls: book))
    excel.fill_open_book()
    (said,) = book.impl.app.said
    assert said.startswith("job.xlsx is filled: ")
    assert "to mend, see the sheet Start" in said


def test_another_workbook_is_left_alone(tmp_path: Path) -> None:
    path = tmp_path / "office.xlsx"
    path.write_bytes(template(OFFICE).package.to_bytes())
    book = open_book(path)
    filled, said = fill_open(book)
    assert filled is None
    assert said.startswith("Office.xlsx: it is an office workbook")
