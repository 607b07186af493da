"""How much of a table is printed after a fill, and what people set themselves."""

from pathlib import Path

import pytest
from openpyxl import load_workbook

from tests.workbook.typing import address, small_job, typed
from twodrum.books.parts import PARTS, QUOTE
from twodrum.commands.fill import check_file, fill_file
from twodrum.xlsx.book import Book


def bottom(path: Path, sheet: str) -> int:
    """The last row of a sheet that is printed."""
    return int(load_workbook(path)[sheet].print_area.rpartition("$")[2])


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
