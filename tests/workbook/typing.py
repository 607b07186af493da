"""Type values into a job as a person would: cell by cell, in the units on the sheet."""

from datetime import date
from functools import lru_cache
from pathlib import Path
from tempfile import TemporaryDirectory
from typing import Any

from twodrum.books.month import MONTH
from twodrum.books.office import OFFICE
from twodrum.books.parts import ALONE, PROOF, QUOTE, SETS, job_of
from twodrum.books.whole import JOB
from twodrum.commands.deal import LATEST, Deal
from twodrum.commands.fill import fill_file, with_cached_values
from twodrum.commands.new import template
from twodrum.engine.model import Model
from twodrum.workbook.version import know_former
from twodrum.xlsx.book import Book
from twodrum.xlsx.package import Package
from twodrum.xlsx.write import Write, write_cells

Cells = dict[tuple[str, int, int], Any]


def address(book: Book, key: str, row: int = 0, model: Model = JOB) -> tuple[str, int, int]:
    """Where "film_thickness", "film_thickness_unit" or "areas.length" (row) is typed."""
    if "." in key:
        table, name = key.split(".")
        read = book.tables[table]
        label = model.column_item(table, name).label
        return read.area.sheet, read.area.first_row + row, read.columns[label]
    know_former(book, model)
    area = book.area(key)
    if area is None and key.endswith("_si"):
        # What is shown in the one unit that it has stands in one cell.
        area = book.area(key[: -len("_si")])
    assert area is not None, key
    return area.sheet, area.first_row, area.first_column


@lru_cache(maxsize=8)
def _blank(name: str) -> bytes:
    """A new job: the template with the values that a recalculation gives."""
    model = next(one for one in (*map(job_of, SETS), OFFICE, MONTH) if one.name == name)
    book = template(model)
    if model.parts:
        with_cached_values(book, model)
    return book.package.to_bytes()


def typed(cells: Cells, target: Path, model: Model = JOB, source: Path | None = None) -> Path:
    """A job workbook with raw values in raw cells."""
    book = Book.open(source) if source else Book(Package(_blank(model.name)))
    troubles = write_cells(book, {where: Write(value) for where, value in cells.items()})
    assert not troubles
    target.write_bytes(book.package.to_bytes())
    return target


PLAIN: dict[str, Any] = {
    "film_thickness": 2,
    "pass_build": 0.4,
    "loss_share": 25,
    "spraying_share": 50,
    "pump_output": 4,
    "preparation_time": 6,
    "crew_size": 3,
    "labour_rate": 40,
    "margin_share": 30,
}
# What a quote needs before it is issued, in the units of the sheet.
QUOTED: dict[str, Any] = {
    "contractor": "Example Linings (invented)",
    "customer": "Example Works (invented)",
    "quote_number": "2026-014 (invented)",
    # So late that its last day is not past when the tests are run: 2099-11-10.
    "quote_date": 73000,
    "tax_share": 0,
}


def accept_on(day: date) -> Deal:
    """A quote issued and accepted on one day."""
    return Deal(day, issue=True, accept=LATEST)


LINING = {
    "ratio_part": 1,
    "volume_solids": 100,
    "drum_volume": 205,
    "residue": 5,
    "volume_price": 9,
}
ROWS: dict[str, list[dict[str, Any]]] = {
    "areas": [
        {"surface": "Floor", "shape": "rectangle", "length": 12, "width": 5},
        {"surface": "Sump", "shape": "pit", "length": 6, "width": 4, "height": 2},
    ],
    "materials": [
        {"component": "iso", **LINING},
        {"component": "resin", **LINING},
    ],
}


def plain_cells(book: Book) -> Cells:
    """A small job without mistakes, in the template's metric units."""
    cells = {address(book, name): value for name, value in PLAIN.items() if book.area(name)}
    for table, rows in ROWS.items():
        if table not in book.tables:
            continue
        columns = book.tables[table].columns
        for index, row in enumerate(rows):
            for name, value in row.items():
                if JOB.column_item(table, name).label in columns:
                    cells[address(book, f"{table}.{name}", index)] = value
    return cells


@lru_cache(maxsize=16)
def _small(parts: tuple[str, ...], filled: bool) -> bytes:
    model = job_of(parts)
    with TemporaryDirectory() as folder:
        book = template(model)
        cells = plain_cells(book)
        if parts in ALONE and PROOF in parts:
            # What the quote would say of them.
            told = {address(book, "areas.measured_area", row): a for row, a in enumerate((60, 64))}
            cells.update(told)
        job = typed(cells, Path(folder) / "job.xlsx", model)
        if filled:
            assert fill_file(job).state == "OK"
        return job.read_bytes()


def small_job(target: Path, parts: tuple[str, ...] = (QUOTE,), filled: bool = False) -> Path:
    """The small job in a workbook of these parts; made once, as it is never written to here."""
    target.write_bytes(_small(parts, filled))
    return target
