"""The quotes that an office issued: their numbers counted on, a row for each in its workbook."""

from __future__ import annotations

import re
from datetime import date
from pathlib import Path
from typing import Any

from ..books.office import OFFICE, QUOTES
from ..engine.evaluate import Values
from ..workbook.grow import lengthened
from ..workbook.in_units import in_chosen_unit
from ..workbook.issued import Revision
from ..workbook.read import Inputs
from ..workbook.version import is_office
from ..xlsx.book import Book
from ..xlsx.files import write_whole
from ..xlsx.package import PackageError
from ..xlsx.write import Write, write_cells

YEAR, COUNTED = "YYYY", re.compile(r"#+")


class Register:
    """The sheet Quotes of an office workbook; PackageError says why it cannot be added to."""

    def __init__(self, office: Path) -> None:
        self.office, self.book = office, Book.open(office)
        if not is_office(self.book):
            raise PackageError("it is not an office workbook; make one with twodrum office")
        if QUOTES.name not in self.book.tables:
            raise PackageError("it has no sheet Quotes; run twodrum upgrade on it")
        self.inputs = Inputs(OFFICE, self.book)
        self.values = self.inputs.read()

    def next(self, on: date) -> str:
        """The number of the next quote; "" where the office has no pattern for them."""
        patterns = [row["quote_pattern"].si for row in self.values.tables["rates"].rows]
        pattern = next((str(text) for text in patterns if text is not None), "")
        if not pattern:
            return ""
        if not COUNTED.search(pattern):
            raise PackageError(
                f"it has the quote numbers '{pattern}', in which nothing is counted; write "
                "# where the number belongs, as in Q-YYYY-###; nothing was written"
            )
        pattern = pattern.replace(YEAR, f"{on.year}")
        before, after = COUNTED.split(pattern, maxsplit=1)
        wide = len(COUNTED.search(pattern)[0])  # type: ignore[index]
        like = re.compile(rf"{re.escape(before)}(\d+){re.escape(after)}")
        rows = self.values.tables[QUOTES.name].rows
        found = [like.fullmatch(str(row["quoted_number"].si)) for row in rows]
        last = max((int(one[1]) for one in found if one), default=0)
        return f"{before}{last + 1:0{wide}d}{after}"

    def enter(self, one: Revision, values: Values, new: bool = True) -> None:
        """Write a row for a revision of a job; the file is replaced whole.

        One that was issued before is entered where it is not yet.
        """
        for row in self.values.tables[QUOTES.name].rows:
            if (row["quoted_number"].si, row["quoted_revision"].si) == (one.number, one.revision):
                if not new:
                    return
                raise PackageError(
                    f"revision {one.revision} of quote {one.number} is entered already, for "
                    f"{row['quoted_customer'].si}; nothing was written; type another number on "
                    "Job, or clear it to have it counted on"
                )
        taken = self.inputs.rows[QUOTES.name]
        first = self.book.tables[QUOTES.name].area.first_row
        place = max(taken, default=first - 1) + 1
        book = lengthened(self.book, OFFICE, {QUOTES.name: place - first + 1})
        told: dict[str, Any] = {
            "quoted_number": one.number,
            "quoted_revision": one.revision,
            "quoted_on": one.issued_on,
            "quoted_job": values.names["job_title"].si,
            "quoted_customer": values.names["customer"].si,
            "quoted_price": one.values["net_price"],
            "quoted_currency": one.currency,
        }
        read, writes = book.tables[QUOTES.name], {}
        for item in QUOTES.fields:
            if told.get(item.name) is not None:
                unit = self.inputs.units.get(f"{QUOTES.name}.{item.name}", item.unit("metric"))
                content = in_chosen_unit(item, told[item.name], unit)
                writes[read.area.sheet, place, read.columns[item.label]] = Write(content)
        barred = write_cells(book, writes)
        if barred:
            raise PackageError(f"{barred[0]}; nothing was written")
        write_whole(self.office, book.package.to_bytes(), book.package.data)
