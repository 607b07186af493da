"""Rows that were typed below a table, taken into it: formulas, formats, lists and all.

A row is one of the table when all stands in it that each row needs, and nothing where a result
of ours belongs. At what else stands below, a sum or a table of the office say, it ends.
"""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping, Sequence, Set
from html import unescape

from ..engine.model import Field, Model, Table
from ..problems import WARNING, Problem, sentence
from ..xlsx.book import Area, Book, CellRead, TableRead, unquoted
from ..xlsx.markup import escape
from ..xlsx.moved import shifted, whole_formula
from ..xlsx.scan import column_letters, column_number, parse_area
from ..xlsx.write import Address, Write, recalculate_on_load, splice_cells
from .layout import MOST_ROWS, below_name
from .pattern import template_book
from .version import know_former

SQREF = re.compile(rb"\bsqref=([\"'])([^\"']*)\1")
NAME = re.compile(rb"(<(?:[\w.-]+:)?definedName\b[^>]*>)([^<]*)(?=</)")
AREA = re.compile(
    r"(?P<sheet>.+)!(?P<first>\$?[A-Z]+\$?)(?P<top>\d+):(?P<last>\$?[A-Z]+\$?)(?P<bottom>\d+)"
)


def rows_below(book: Book, read: TableRead, columns: Sequence[int]) -> Iterator[int]:
    """Each row below a table in which something stands."""
    last = min(book.bottom(read.area.sheet, columns), read.end_row + MOST_ROWS)
    for row in range(read.end_row + 1, last + 1):
        if not all(book.is_blank(read.area.sheet, row, column) for column in columns):
            yield row


def grown(book: Book, model: Model) -> tuple[Book, list[Problem]]:
    """The book with its tables as long as what was typed, and what was taken in."""
    know_former(book, model)
    there = [t for t in model.tables if not t.keys and t.name in book.tables]
    lasts = {table.name: _last(book, model, table) for table in there}
    notes = [_taken(book, book.tables[name], last) for name, last in lasts.items() if last]
    firsts = {name: book.tables[name].area.first_row for name in lasts}
    return lengthened(book, model, {n: lasts[n] - first + 1 for n, first in firsts.items()}), notes


def lengthened(book: Book, model: Model, rows: Mapping[str, int]) -> Book:
    """The book with room for so many rows in its tables, where they had less."""
    reads = {name: book.tables[name] for name in rows if name in book.tables}
    lasts = {name: read.area.first_row + rows[name] - 1 for name, read in reads.items()}
    longer = {name: read for name, read in reads.items() if lasts[name] > read.area.last_row}
    if not longer:
        return book
    writes: dict[Address, Write] = {}
    for name, read in longer.items():
        labels = [item.label for item in model.table(name).fields]
        typed = {read.columns[label] for label in labels if label in read.columns}
        writes.update(_row_cells(book, read, lasts[name], typed))
    splice_cells(book, writes, set())
    for name, read in longer.items():
        _stretch(book, read, lasts[name])
    fresh = Book(book.package)
    know_former(fresh, model)
    return fresh


def _last(book: Book, model: Model, table: Table) -> int:
    """The last row below a table that belongs to it; 0 where there is none."""
    read = book.tables[table.name]
    if read.end_row != read.area.last_row:
        # A row of totals stands there.
        return 0
    below = list(rows_below(book, read, sorted(read.columns.values())))
    if not below:
        return 0
    sheet, last = read.area.sheet, 0
    columns = {f.label: read.columns[f.label] for f in table.fields if f.label in read.columns}
    needed = [f for f in table.fields if f.required and f.label in columns]
    ours = template_book(model.name).tables[table.name].columns
    results = [at for head, at in read.columns.items() if head in ours and head not in columns]
    barred = _barred(book, read)
    for row in below:
        cells = [(item, book.cell(sheet, row, columns[item.label])) for item in needed]
        if row >= barred or any(cell.kind == "blank" for _, cell in cells):
            break
        if any(_unknown(model, item, cell) for item, cell in cells):
            break
        if not all(book.is_blank(sheet, row, column) for column in results):
            break
        last = row
    return last


def _barred(book: Book, read: TableRead) -> int:
    """The first row below a table that another table, or merged cells, reach into."""
    area = read.area
    others = [
        re.search(rb"\bref=[\"']([A-Z]+[0-9]+:[A-Z]+[0-9]+)", book.package.read(target))
        for kind, target in book.relations(book.sheets[area.sheet]).values()
        if kind.endswith("/table")
    ]
    below = [parse_area(found[1].decode()) for found in others if found]
    below += book.scan(area.sheet).merges
    tops = [
        top
        for top, left, _, right in below
        if top > area.last_row and left <= area.last_column and right >= area.first_column
    ]
    return min(tops, default=area.last_row + MOST_ROWS + 1)


def _unknown(model: Model, item: Field, cell: CellRead) -> bool:
    """Whether a word stands there that its list does not have."""
    if item.kind not in model.choices or cell.formula:
        return False
    return " ".join(str(cell.value).split()).casefold() not in model.spelled[item.kind]


def _row_cells(
    book: Book, read: TableRead, last: int, typed: Set[int]
) -> Iterator[tuple[Address, Write]]:
    """The cells of the new rows, each as that of the last row: its format, its formula."""
    area = read.area
    above = [book.cell(area.sheet, area.last_row, column) for column in read.columns.values()]
    texts = [
        whole_formula(book, one) if one.formula and one.column not in typed else "" for one in above
    ]
    for row in range(area.last_row + 1, last + 1):
        for one, text in zip(above, texts):
            there, style = (area.sheet, row, one.column), str(one.style)
            if not book.is_blank(*there):
                yield there, Write(None, style=style, keep=True)
            elif text:
                formula = shifted(text, row - area.last_row, 0)
                yield there, Write(None, formula=formula, live=True, style=style)
            else:
                yield there, Write(None, style=style)


def _taken(book: Book, read: TableRead, last: int) -> Problem:
    first = read.area.last_row + 1
    cell = book.cell(read.area.sheet, first, min(read.columns.values()))
    rows = f"rows {first} to {last} stand" if last > first else f"row {first} stands"
    found = f"{rows} below the table {read.name}"
    text = sentence(found, "counted with its rows", "a fill takes them in")
    return Problem("taken-in", cell.where, text, WARNING, cell.position)


def _stretch(book: Book, read: TableRead, last: int) -> None:
    """Let everything that ends with a table end with its new last row."""
    package, area = book.package, read.area
    part = book.sheets[area.sheet]
    for kind, target in book.relations(part).values():
        if kind.endswith("/table"):
            data = package.read(target)
            if _name_of(data) == read.name.casefold():
                package.replace(target, _refs(data, area.last_row, last))

    def longer(found: re.Match[bytes]) -> bytes:
        areas = [_longer(text, read, last) for text in found[2].decode().split()]
        return b'sqref="%b"' % " ".join(areas).encode()

    data = package.read(part)
    at = max(0, data.rfind(b"sheetData>"))
    package.replace(part, data[:at] + SQREF.sub(longer, data[at:]))

    below = below_name(read.name).encode()

    def name(found: re.Match[bytes]) -> bytes:
        named = AREA.fullmatch(unescape(found[2].decode()))
        if named is None:
            return found[0]
        if unquoted(named["sheet"]).casefold() != area.sheet.casefold():
            return found[0]
        top, bottom = int(named["top"]), int(named["bottom"])
        if b'"%b"' % below in found[1]:
            top, bottom = last + 1, bottom + last - area.last_row
        elif bottom == area.last_row and _inside(named["first"], named["last"], area):
            bottom = last
        text = f"{named['sheet']}!{named['first']}{top}:{named['last']}{bottom}"
        return found[1] + escape(text).encode("ascii", "xmlcharrefreplace")

    workbook = package.read(book.workbook_part)
    package.replace(book.workbook_part, recalculate_on_load(NAME.sub(name, workbook)))


def _inside(first: str, last: str, area: Area) -> bool:
    """Whether columns are those of a table, or some of them."""
    left, right = (column_number(letters.replace("$", "")) for letters in (first, last))
    return area.first_column <= left and right <= area.last_column


def _longer(text: str, read: TableRead, last: int) -> str:
    """An area that ends with the table inside its columns, as it reads now."""
    try:
        top, left, bottom, right = parse_area(text)
    except ValueError:
        return text
    area = read.area
    inside = area.first_column <= left and right <= area.last_column and top >= area.first_row
    if not inside or bottom != area.last_row:
        return text
    return f"{column_letters(left)}{top}:{column_letters(right)}{last}"


def _name_of(data: bytes) -> str:
    found = re.search(rb"\bdisplayName=[\"']([^\"']*)", data)
    return unescape(found[1].decode()).casefold() if found else ""


def _refs(data: bytes, then: int, now: int) -> bytes:
    """A table part whose areas end with another row."""

    def put(found: re.Match[bytes]) -> bytes:
        return b"%b%d%b" % (found[1], now, found[2])

    return re.sub(rb"(\bref=[\"'][A-Z]+\d+:[A-Z]+)%d([\"'])" % then, put, data)
