"""Rows of a study's block that hold nothing stand out of sight where another block follows."""

from __future__ import annotations

import re
from collections.abc import Collection, Mapping, Set

from ..engine.evaluate import Values
from ..engine.model import Model
from ..xlsx.book import Book, TableRead
from .layout import hosts
from .pattern import our_sheets

ROW = re.compile(rb"<(?:[\w.-]+:)?row\b[^>]*>")
NUMBER = re.compile(rb"\sr=[\"'](\d+)[\"']")
HIDDEN = re.compile(rb"\shidden=[\"'][^\"']*[\"']")


def study_blocks(
    book: Book, model: Model, values: Values, apart: Collection[str]
) -> dict[str, list[tuple[TableRead, int]]]:
    """The blocks of studies on sheets of ours that do not stand apart, and the rows of each."""
    ours = our_sheets(model, book)
    blocks: dict[str, list[tuple[TableRead, int]]] = {}
    for study in model.studies:
        read = book.tables.get(study.name)
        if not study.columns or read is None or ours.get(study.sheet) != read.area.sheet:
            continue
        if study.sheet not in apart:
            block = read, len(values.studies.get(study.name, ()))
            blocks.setdefault(read.area.sheet, []).append(block)
    for places in blocks.values():
        places.sort(key=lambda block: block[0].area.first_row)
    return blocks


def with_unused_rows_hidden(
    book: Book, model: Model, values: Values, unseen: Mapping[str, Mapping[int, bool]]
) -> Book:
    """A filled book whose blocks follow each other without rows that hold nothing.

    Of an empty block the heads and one row are seen. A row in which people keep something of
    their own stays in sight. Of letters the rows that are ``unseen`` stand out of sight too.
    """
    ours = our_sheets(model, book)
    for title, rows in unseen.items():
        if title in ours:
            _hide(book, ours[title], rows)
    for sheet, places in study_blocks(book, model, values, hosts(model).keys()).items():
        unused: dict[int, bool] = {}
        for read, count in places[:-1]:
            first = read.area.first_row + max(1, count)
            unused |= {row: row >= first for row in range(read.area.first_row, read.end_row + 1)}
        filled = book.scan(sheet).filled_in({row for row, hide in unused.items() if hide})
        for read, _ in places[:-1]:
            unused |= dict.fromkeys(_theirs(book, read, filled), False)
        _hide(book, sheet, unused)
    return book


def _hide(book: Book, sheet: str, rows: Mapping[int, bool]) -> None:
    """Rows of a sheet out of sight or in sight."""
    if not rows:
        return
    part = book.sheets[sheet]
    data = book.package.read(part)
    changed = _hidden(data, rows)
    if changed != data:
        book.package.replace(part, changed)


def _theirs(book: Book, read: TableRead, filled: Set[tuple[int, int]]) -> set[int]:
    """Rows of a block in which, of what stands there, something was put by no fill."""
    area = read.area
    inside = range(area.first_column, area.last_column + 1)
    # What shows a value in another unit is a formula of ours, in each row.
    shown = {c for c in inside if book.has_formula(area.sheet, area.first_row, c)}
    found = set()
    for row, column in filled:
        if area.first_row <= row <= read.end_row:
            live = book.has_formula(area.sheet, row, column)
            found |= set() if column in (shown if live else inside) else {row}
    return found


def _hidden(data: bytes, unused: Mapping[int, bool]) -> bytes:
    """A sheet part with these rows out of sight or in sight."""

    def put(found: re.Match[bytes]) -> bytes:
        number = NUMBER.search(found[0])
        hide = unused.get(int(number[1])) if number else None
        if hide is None:
            return found[0]
        said = HIDDEN.search(found[0])
        if hide == (said is not None and said[0].endswith((b'"1"', b'"true"', b"'1'", b"'true'"))):
            return found[0]
        plain = HIDDEN.sub(b"", found[0])
        return re.sub(rb"\s*/?>$", rb' hidden="1"\g<0>', plain) if hide else plain

    return ROW.sub(put, data)
