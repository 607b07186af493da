"""The logo of the office: a picture on its sheet Rates, small at the head of what is sent."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path

from ..engine.model import Model
from ..workbook.layout import make_layout
from ..xlsx.book import Book
from ..xlsx.package import PackageError
from ..xlsx.pictures import Picture, pictures_on, put_pictures

ON = "Rates"
# A pixel of a screen in EMU (ECMA-376 part 1, 20.1.2.1: 914,400 an inch, 96 pixels an inch).
PIXEL = 9525
# The room beside number, sender and customer, over the two columns of amounts.
COLUMN, WIDE, HIGH = 3, 213 * PIXEL, 100 * PIXEL


def logo_of(office: Book) -> Picture | None:
    """The largest picture on the sheet of rates of an office workbook; None where it has none."""
    found = pictures_on(office, ON) if ON in office.sheets else []
    return max(found, key=lambda one: one.wide * one.high, default=None)


def logo_of_file(office: Path) -> Picture | None:
    """The same of a file; None where it can't be read, which is told where more is taken of it."""
    try:
        return logo_of(Book.open(office))
    except PackageError:
        return None


def put_logo(book: Book, model: Model, logo: Picture) -> None:
    """Put the logo at the head of each letter of a job, no larger than it was nor than fits."""
    scale = min(1.0, WIDE / logo.wide, HIGH / logo.high)
    wide, high = round(logo.wide * scale), round(logo.high * scale)
    for page in model.pages:
        if page.letter and page.sheet in book.sheets:
            row = make_layout(model).page_rows[page.sheet][0]
            placed = replace(logo, row=row, column=COLUMN, right=WIDE - wide, down=0)
            put_pictures(book, page.sheet, [replace(placed, wide=wide, high=high)])
