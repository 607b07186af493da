"""The quote as it was issued: one row for each revision, kept as numbers that no fill changes."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping
from dataclasses import dataclass, field, fields
from datetime import date

from ..worksheet.cells import serial
from ..xlsx.book import Book
from ..xlsx.write import Address, Content, Write

# The heads with the rows below them; there is room for so many revisions.
BLOCK = "issued_rows"
MOST_REVISIONS = 40
# What is kept of a revision besides its values.
HEADS = ("revision", "number", "issued_on", "holds_until", "currency", "digest", "became")
# What is kept of an acceptance besides its values.
ACCEPTANCE = ("accepted_date", "accepted_number", "accepted_revision")
# What a page says of the workbook itself, with the name of its cell.
ISSUED_AS, EXPIRED, AS_ISSUED, WORD, SHOWN = (
    "issued_as",
    "quote_expired",
    "quote_as_issued",
    "quote_word",
    "quote_revision",
)
DRAFT, PAST, STALE = "DRAFT", "EXPIRED", "STALE"
# Live formulas of these, in the order in which they stand below each other.
FORMULAS = {
    EXPIRED: f'=IF(AND(ISNUMBER(valid_until),valid_until<TODAY()),"{PAST}","")',
    AS_ISSUED: f'=IF(stale_state="{STALE}","{STALE}",{EXPIRED})',
    WORD: f'=IF({ISSUED_AS}>0,{AS_ISSUED},"{DRAFT}")',
    SHOWN: f'=IF({ISSUED_AS}>0,{ISSUED_AS},"")',
}


@dataclass(frozen=True)
class Revision:
    """A quote as it was issued: what the customer was sent, and what it rests on."""

    revision: int
    number: str
    issued_on: float
    holds_until: float | None
    currency: str
    # Of all that was typed for it.
    digest: str
    # Accepted and withdrawn, with the days.
    became: str = ""
    # In SI, by their names.
    values: Mapping[str, float] = field(default_factory=dict)


def revisions(book: Book, today: Callable[[str], str] = str) -> list[Revision]:
    """The revisions that a workbook keeps, the first one first."""
    area = book.area(BLOCK)
    if area is None:
        return []
    columns = range(area.first_column, area.last_column + 1)
    heads = [book.cell(area.sheet, area.first_row, column).value for column in columns]
    found = []
    for row in range(area.first_row + 1, area.last_row + 1):
        cells = [book.cell(area.sheet, row, column).value for column in columns]
        kept = {today(head): cell for head, cell in zip(heads, cells) if isinstance(head, str)}
        number, issued_on = kept.pop("revision", None), kept.get("issued_on")
        if not isinstance(number, float) or not isinstance(issued_on, float):
            break
        until = kept.get("holds_until")
        said = {name: str(kept.get(name) or "") for name in ("number", "currency", "digest")}
        values = {name: si for name, si in kept.items() if isinstance(si, float)}
        found.append(
            Revision(
                int(number),
                issued_on=issued_on,
                holds_until=until if isinstance(until, float) else None,
                became=str(kept.get("became") or ""),
                values={name: si for name, si in values.items() if name not in HEADS},
                **said,
            )
        )
    return found


def revision_writes(book: Book, kept: list[Revision]) -> Iterator[tuple[Address, Write]]:
    """Cells that hold these revisions; those that were not there before come last."""
    area = book.area(BLOCK)
    if area is None:
        return
    columns = range(area.first_column, area.last_column + 1)
    heads = [book.cell(area.sheet, area.first_row, column).value for column in columns]
    own = {one.name for one in fields(Revision)} - {"values"}
    for row, one in enumerate(kept[:MOST_REVISIONS], area.first_row + 1):
        for head, column in zip(heads, columns):
            name = str(head)
            content: Content = getattr(one, name) if name in own else one.values.get(name)
            yield (area.sheet, row, column), Write(None if content == "" else content)


def page_words(issued_as: int, until: Content, stale: bool) -> dict[str, Content]:
    """What the live formulas say of a quote that is revision so and so, or 0: none."""
    past = isinstance(until, (int, float)) and until < serial(date.today())
    expired = PAST if past else ""
    as_issued = STALE if stale else expired
    return {
        EXPIRED: expired,
        AS_ISSUED: as_issued,
        WORD: as_issued if issued_as else DRAFT,
        SHOWN: issued_as or "",
    }
