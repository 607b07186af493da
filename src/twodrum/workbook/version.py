"""Which workbook of ours one is, and which version made it."""

from __future__ import annotations

import re

from .. import __version__
from ..engine.model import Model
from ..xlsx.book import Book
from .layout import SI_SUFFIX, heads_of_units

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


def know_former(book: Book, model: Model) -> None:
    """Have a book know its names, and columns of its tables, by what they are called now too.

    And the units of columns, which stand above their heads.
    """
    book.know_heads(heads_of_units(model))
    if made_by(book) == __version__:
        return
    book.know({model.today(name): name for name in book.names})
    for name in [name for name in book.tables if model.today(name) not in book.tables]:
        book.tables[model.today(name)] = book.tables[name]
    for name in (*(table.name for table in model.tables), *(s.name for s in model.studies)):
        columns = book.tables[name].columns if name in book.tables else {}
        for now, then in model.former_heads.items():
            for behind in ("", SI_SUFFIX):
                if then + behind in columns and now + behind not in columns:
                    columns[now + behind] = columns[then + behind]
                    book.head_aliases.add(f"[{now}{behind}]")


def _numbers(version: str) -> list[int]:
    return [int(part) for part in re.findall(r"\d+", version)]


def is_job(book: Book) -> bool:
    """Whether a book has the names of a job."""
    signs = [book.area(name) is not None for name in ("film_thickness", "overall_state")]
    return sum((*signs, *(name in book.tables for name in ("areas", "order")))) > 1


def is_month(book: Book) -> bool:
    """Whether a book has the tables of a month."""
    return {"jobs", "unread"} <= set(book.tables)


def is_office(book: Book) -> bool:
    """Whether a book has the tables of an office."""
    return {"crews", "machines", "rates"} <= set(book.tables)
