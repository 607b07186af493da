"""The surfaces of a quote, listed on its page however many they are."""

from __future__ import annotations

import re
from html import unescape

from ..engine.model import Listing, Model
from ..xlsx.book import Area, Book, TableRead
from ..xlsx.markup import escape
from ..xlsx.moved import shifted, whole_formula
from ..xlsx.scan import column_letters
from ..xlsx.write import Address, Write, splice_cells
from .grow import NAME
from .layout import listing_name
from .printed import last_used
from .version import know_former

# Made for one page until there is more than that holds.
ONE_PAGE = re.compile(rb'(<(?:[\w.-]+:)?pageSetup\b[^>]*?\sfitToHeight=)"1"')


def with_listings(book: Book, model: Model) -> Book:
    """A book whose letters list every row of their tables; nothing of theirs below is moved."""
    found = [
        (listing_name(page.sheet, line.table), book.tables[line.table])
        for page in model.pages
        for line in page.lines
        if page.letter and isinstance(line, Listing) and line.table in book.tables
    ]
    longer = [(name, rows) for name, read in found if (rows := _more_rows(book, name, read))]
    if not longer:
        return book
    for name, last in longer:
        area = book.area(name)
        assert area is not None
        splice_cells(book, _row_cells(book, area, last), set())
        _stretch(book, name, area, last)
    fresh = Book(book.package)
    know_former(fresh, model)
    return fresh


def _more_rows(book: Book, name: str, read: TableRead) -> int:
    """The last row that a list has to have, where it has less; 0 where it is long enough."""
    area = book.area(name)
    if area is None:
        return 0
    used = last_used(book, read, [read.area.first_column])
    last = area.first_row + used - read.area.first_row
    columns = range(area.first_column, area.last_column + 1)
    free = all(
        book.is_blank(area.sheet, row, column)
        for row in range(area.last_row + 1, last + 1)
        for column in columns
    )
    return last if last > area.last_row and free else 0


def _row_cells(book: Book, area: Area, last: int) -> dict[Address, Write]:
    """The cells of the new rows, each as that of the last row."""
    columns = range(area.first_column, area.last_column + 1)
    above = [book.cell(area.sheet, area.last_row, column) for column in columns]
    texts = [whole_formula(book, one) for one in above]
    return {
        (area.sheet, row, one.column): Write(
            None, formula=shifted(text, row - area.last_row, 0), live=True, style=str(one.style)
        )
        for row in range(area.last_row + 1, last + 1)
        for one, text in zip(above, texts)
    }


def _stretch(book: Book, name: str, area: Area, last: int) -> None:
    """Let the list end with another row, on as many pages as it takes."""
    part = book.sheets[area.sheet]
    data = ONE_PAGE.sub(rb'\1"0"', book.package.read(part))
    book.package.replace(part, data)
    own = f'"{book.prefix}{name}"'.encode()
    ends = f"${column_letters(area.last_column)}${last}"

    def put(found: re.Match[bytes]) -> bytes:
        if own.lower() not in found[1].lower():
            return found[0]
        first = unescape(found[2].decode()).rpartition(":")[0]
        return found[1] + escape(f"{first}:{ends}").encode("ascii", "xmlcharrefreplace")

    lists = book.package.read(book.workbook_part)
    book.package.replace(book.workbook_part, NAME.sub(put, lists))
