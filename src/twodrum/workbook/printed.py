"""What of a long table is printed: its rows in use."""

from __future__ import annotations

import re
from functools import lru_cache
from html import unescape

from ..engine.evaluate import Values
from ..engine.model import Model
from ..xlsx.book import Book, TableRead, unquoted
from .pattern import our_sheets, template_book

PRINTED = re.compile(
    rb"(<(?:[\w.-]+:)?definedName\b[^>]*\bname=[\"']_xlnm\.Print_Area[\"'][^>]*>)([^<]*)(?=</)"
)
AREA = re.compile(r"(?P<sheet>.+)!(?P<from>\$A\$1:\$[A-Z]+\$)(?P<bottom>\d+)")


def with_print_areas(book: Book, model: Model, values: Values) -> Book:
    """A book whose print of each sheet with a table or a study's block ends behind its last row.

    Of a table without a row the heads are printed and one row; what people set otherwise stays.
    """
    ours = our_sheets(model, book)
    ends: dict[str, tuple[range, int]] = {}
    for table in model.tables:
        read, blank = book.tables.get(table.name), template_book(model.name).tables[table.name]
        if table.keys or read is None or ours.get(table.sheet) != read.area.sheet:
            continue
        typed = [read.columns[f.label] for f in table.fields if f.label in read.columns]
        end = max(read.area.first_row, _last_used(book, read, typed))
        ends[read.area.sheet] = range(blank.area.first_row, read.end_row + 1), end
    typed_on = {table.sheet for table in model.tables if not table.keys}
    blocks: dict[str, list[tuple[int, int, int]]] = {}
    for study in model.studies:
        read = book.tables.get(study.name)
        if not study.columns or read is None or ours.get(study.sheet) != read.area.sheet:
            continue
        if study.sheet not in typed_on:
            found = (read.area.first_row, read.end_row, len(values.studies.get(study.name, ())))
            blocks.setdefault(read.area.sheet, []).append(found)
    for sheet, places in blocks.items():
        places.sort()
        # To the last row of the lowest that has one.
        first, _, count = next((p for p in reversed(places) if p[2]), places[0])
        ends[sheet] = range(places[0][0], places[-1][1] + 1), first - 1 + max(1, count)
    usual = {ours[title]: cells for title, cells in _usual(model).items() if title in ours}
    data = book.package.read(book.workbook_part)

    def put(found: re.Match[bytes]) -> bytes:
        area = AREA.fullmatch(unescape(found[2].decode()))
        sheet = unquoted(area["sheet"]) if area else ""
        bottoms, end = ends.get(sheet, (range(0), 0))
        if area is None or area["from"] != usual.get(sheet) or int(area["bottom"]) not in bottoms:
            return found[0]
        return found[1] + found[2][: -len(area["bottom"])] + str(end).encode()

    book.package.replace(book.workbook_part, PRINTED.sub(put, data))
    return book


@lru_cache(maxsize=8)
def _usual(model: Model) -> dict[str, str]:
    """The columns that a template prints of each sheet."""
    blank = template_book(model.name)
    printed = PRINTED.findall(blank.package.read(blank.workbook_part))
    areas = [AREA.fullmatch(unescape(text.decode())) for _, text in printed]
    return {unquoted(area["sheet"]): area["from"] for area in areas if area}


def _last_used(book: Book, read: TableRead, columns: list[int]) -> int:
    """The last row of a table in which something is typed; 0 where none is."""
    rows = range(read.end_row, read.area.first_row - 1, -1)
    return next(
        (r for r in rows if any(not book.is_blank(read.area.sheet, r, c) for c in columns)), 0
    )
