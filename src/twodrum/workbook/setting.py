"""How pages are set: the size of the paper, and the order of day, month and year."""

from __future__ import annotations

import re

from ..engine.evaluate import Values
from ..engine.model import Line, Model
from ..xlsx.book import Book
from ..xlsx.formats import DATE
from ..xlsx.restyle import Styles
from ..xlsx.write import Address, Write, splice_cells
from .layout import said_name
from .pattern import our_sheets

# Sizes of paper as a sheet part counts them: ECMA-376 part 1, 18.3.1.63.
SIZES = {"A4": b"9", "Letter": b"1"}
PAPER = re.compile(rb"(<(?:[\w.-]+:)?pageSetup\b[^>]*?\spaperSize=)([\"'])\d+\2")
ORDERS = {
    "year-month-day": "yyyy-mm-dd",
    "day.month.year": "dd.mm.yyyy",
    # A bare slash is what stands between the parts of a date where the program is at home.
    "day/month/year": r"dd\/mm\/yyyy",
    "month/day/year": r"mm\/dd\/yyyy",
}
# What programs add to a code, or leave out of it, when they save.
ADDED = re.compile(r"\[[^\]]*\]|\\|;@")


def with_setting(book: Book, model: Model, values: Values) -> Book:
    """A book whose sheets of ours are set as Job says; where it says nothing, as they were."""
    paper, order = (
        str(values.names[name].si) if name in values.names else ""
        for name in ("paper", "date_order")
    )
    if paper in SIZES:
        for sheet in our_sheets(model, book).values():
            part = book.sheets[sheet]
            data = book.package.read(part)
            changed = PAPER.sub(rb'\g<1>"' + SIZES[paper] + b'"', data)
            if changed != data:
                book.package.replace(part, changed)
    return _with_dates(book, model, ORDERS[order]) if order in ORDERS else book


def _with_dates(book: Book, model: Model, code: str) -> Book:
    """The same with the dates on its pages in one order."""
    fresh = Book(book.package)
    styles = Styles(fresh)
    writes: dict[Address, Write] = {}
    for page in model.pages:
        dates = (line.name for line in page.lines if isinstance(line, Line) and line.name)
        for name in dates:
            cell = fresh.named(said_name(page.sheet, name))
            if cell is None or fresh.look(cell).shape != DATE:
                continue
            if ADDED.sub("", fresh.look(cell).code) == ADDED.sub("", code):
                continue
            style = styles.like(cell.style, code, unlocked=False)
            writes[cell.sheet, cell.row, cell.column] = Write(None, style=style, keep=True)
    if writes:
        styles.keep()
        splice_cells(fresh, writes, set())
    return fresh
