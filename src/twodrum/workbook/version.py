"""Which version made a workbook."""

from __future__ import annotations

import re

from .. import __version__
from ..xlsx.book import Book

# Start says its version in one of so many rows.
HEAD = 20


def made_by(book: Book) -> str:
    """The version that made a book, as its first sheet says; "" where it does not."""
    start = book.area("state_start")
    if start is None:
        return ""
    for row in range(1, HEAD):
        if book.cell(start.sheet, row, 1).value == "Template version":
            return str(book.cell(start.sheet, row, 2).value)
    return ""


def older_version(book: Book) -> str:
    """The version that made a book where it is older than this one; else ""."""
    found = made_by(book)
    return found if found and _numbers(found) < _numbers(__version__) else ""


def _numbers(version: str) -> list[int]:
    return [int(part) for part in re.findall(r"\d+", version)]
