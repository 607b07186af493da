"""Where each cell of ours stands in a book, and where it belongs in today's sheets."""

from __future__ import annotations

from collections.abc import Iterator

from ..books.job import BASE
from ..engine.model import Line, Model
from ..workbook.issued import ACCEPTANCE
from ..workbook.layout import accepted_name, apart, said_name, units_picked, words_name
from ..xlsx.book import Book
from ..xlsx.write import Address

# What the area of a surface is called where it is told, and as one of the sizes of a shape.
MEASURED = BASE.column_item("areas", "measured_area").label
KNOWN = BASE.column_item("areas", "known_area").label


def places(
    book: Book, fresh: Book, before: Model, after: Model
) -> Iterator[tuple[Address, Address]]:
    """Where each cell that people fill stands in a book, and where it belongs in the new one."""
    names = [item.name for item in after.fields()]
    names += [f"{name}_unit" for name, _ in units_picked(after)]
    if after.accepted:
        names += [*ACCEPTANCE, *(f"{accepted_name(name)}_si" for name in after.accepted)]
    for name in names:
        old, new = book.area(name), fresh.area(name)
        if old is not None and new is not None:
            yield old.first, new.first
    for table in after.tables:
        read, made = book.tables.get(table.name), fresh.tables[table.name]
        if read is None or table.keys:
            continue
        labels = {item.label: item.label for item in table.fields if item.label in read.columns}
        if table.name == "areas" and told_areas(before, after):
            labels[MEASURED] = KNOWN
            yield _units_of_areas(book, fresh)
        for row in range(read.area.last_row - read.area.first_row + 1):
            cells = [(read.area.sheet, read.area.first_row + row, read.columns[n]) for n in labels]
            at = made.area.first_row + row
            yield from zip(cells, ((made.area.sheet, at, made.columns[n]) for n in labels.values()))


def told_areas(before: Model, after: Model) -> bool:
    """Whether the area of a surface was told and is worked out from its shape now."""
    then, now = (
        {item.name for table in model.tables if table.name == "areas" for item in table.fields}
        for model in (before, after)
    )
    return "measured_area" in then and "measured_area" not in now and "known_area" in now


def _units_of_areas(book: Book, fresh: Book) -> tuple[Address, Address]:
    then, now = book.area("areas_measured_area_unit"), fresh.area("areas_known_area_unit")
    assert then is not None and now is not None
    return then.first, now.first


def results(book: Book, fresh: Book, after: Model) -> Iterator[tuple[Address, Address]]:
    """The same of results, and what stands beside values, for formulas that point at them."""
    beside = [f"{item.name}_note" for item in after.fields()]
    beside += [f"{cell.name}_{what}" for cell in after.cells for what in ("unit", "note")]
    for page in after.pages:
        for line in (line for line in page.lines if isinstance(line, Line)):
            said = said_name(page.sheet, line.name)
            beside += [said, f"{said}_unit"] if line.name else []
            changes = line.conditional or line.words.startswith("=")
            beside += [words_name(page.sheet, line.key)] if changes else []
    pairs = [(name, name) for name in beside]
    for cell in after.cells:
        pairs += [(cell.name, cell.name), (f"{cell.name}_si", f"{cell.name}_si")]
        # What an older version had a cell beside for formulas is read where it is shown.
        pairs += [(f"{cell.name}_si", cell.name)] if cell.name not in apart(after) else []
    for then, now in pairs:
        old, new = book.area(then), fresh.area(now)
        if old is not None and new is not None:
            yield old.first, new.first
    for name, made in fresh.tables.items():
        read = book.tables.get(name)
        if read is None:
            continue
        for label in made.columns.keys() & read.columns.keys():
            rows = zip(
                range(read.area.first_row, read.area.last_row + 1),
                range(made.area.first_row, made.area.last_row + 1),
            )
            for old_row, new_row in rows:
                yield (
                    (read.area.sheet, old_row, read.columns[label]),
                    (made.area.sheet, new_row, made.columns[label]),
                )
