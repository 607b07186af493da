"""Workbooks that are not filled, each with what to do instead."""

from __future__ import annotations

from ..engine.model import Model
from ..workbook.layout import MOST_ROWS
from ..workbook.version import is_job, is_month, is_office, older_version
from ..xlsx.book import Book
from ..xlsx.package import PackageError

MONTHLY, OF_OFFICE = "a month workbook", "an office workbook"
# A book that lacks so many inputs is one of another version, not one to mend cell by cell.
TOO_MANY = 10


class OtherBookError(PackageError):
    """Another workbook of ours where a job is wanted; says which."""

    def __init__(self, kind: str, text: str) -> None:
        super().__init__(text)
        self.kind = kind


def refuse_others(book: Book) -> None:
    """Refuse what is not a job, with what to do instead."""
    if is_office(book):
        raise OtherBookError(
            OF_OFFICE, "it is an office workbook; pick from it with twodrum new --office"
        )
    if is_month(book):
        raise OtherBookError(
            MONTHLY, "it is a month workbook; twodrum month makes it anew from its jobs"
        )
    if not is_job(book):
        raise PackageError(
            "it has none of the names of a twodrum job; make one with twodrum new, or put the "
            "parts into this one with twodrum add"
        )


def refuse_unlike(model: Model, book: Book) -> None:
    """Refuse a book that is another one of ours, of another version, or none of ours."""
    for table in model.tables:
        read = book.tables.get(table.name)
        rows = read.area.last_row - read.area.first_row + 1 if read else 0
        if rows > MOST_ROWS:
            raise PackageError(
                f"its table {table.name} reaches over {rows:,} rows and {MOST_ROWS:,} are read at "
                "most; end it behind its last row, or split the job; nothing was written"
            )
    older = older_version(book)
    needed = (item.name for item in model.fields() if item.required or not older)
    lost = [name for name in needed if book.area(name) is None]
    if len(lost) >= TOO_MANY:
        mend = "run twodrum upgrade on it" if older else "take a copy from before"
        raise PackageError(
            f"it lacks {len(lost)} of the inputs of this version, such as {lost[0]}: it was made "
            f"by another version, or a sheet was deleted; nothing was written; {mend}"
        )
