"""How pages are set: the size of the paper, the order of a date, the decimals of an amount."""

from __future__ import annotations

import re
from collections.abc import Iterator

from ..engine.evaluate import Values
from ..engine.model import Line, Model
from ..xlsx.book import Book, CellRead
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
# An amount, by its decimals; more than one are shown as they are.
AMOUNTS = {0: "#,##0", 1: "#,##0.0"}
AMOUNT = "#,##0.00##"
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
    return _with_codes(book, list(_codes(book, model, values, ORDERS.get(order, ""))))


def _codes(
    book: Book, model: Model, values: Values, of_dates: str
) -> Iterator[tuple[CellRead, str]]:
    """The cells whose number is to be shown otherwise, and how."""
    singles = [cell.name for cell in model.cells if cell.kind == "money" and not cell.working]
    of_pages = [
        (line.name, said_name(page.sheet, line.name))
        for page in model.pages
        for line in page.lines
        if isinstance(line, Line) and line.name
    ]
    decimals = values.names["money_decimals"].si if "money_decimals" in values.names else None
    amount = None if decimals is None else AMOUNTS.get(int(decimals), AMOUNT)
    for name, shown in [*((name, name) for name in singles), *of_pages]:
        cell = book.named(shown)
        if cell is None:
            continue
        look = book.look(cell)
        code, wanted = look.code or look.usual, ""
        if look.shape == DATE:
            wanted = of_dates
        elif code in (AMOUNT, *AMOUNTS.values()) and amount:
            # Another format than ours is theirs.
            known = values.names.get(name)
            wanted = amount if known is not None and known.kind == "money" else ""
        if wanted and ADDED.sub("", code) != ADDED.sub("", wanted):
            yield cell, wanted


def _with_codes(book: Book, codes: list[tuple[CellRead, str]]) -> Book:
    """The same with these numbers shown so."""
    if not codes:
        return book
    fresh = Book(book.package)
    styles = Styles(fresh)
    writes: dict[Address, Write] = {}
    for cell, code in codes:
        style = styles.like(cell.style, code, unlocked=False)
        writes[cell.sheet, cell.row, cell.column] = Write(None, style=style, keep=True)
    styles.keep()
    splice_cells(fresh, writes, set())
    return fresh
