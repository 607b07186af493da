"""What is done with a quote: issued as a revision, accepted as it was issued, withdrawn."""

from __future__ import annotations

import hashlib
from collections.abc import Callable, Iterator, Mapping
from dataclasses import dataclass, field, replace
from datetime import date

from ..books.parts import QUOTE, WHAT_IFS, job_of
from ..engine.evaluate import Value, Values
from ..engine.model import Model
from ..problems import PROBLEM, Problem, in_order, sentence
from ..studies.options import faults_of
from ..workbook.issued import (
    ACCEPTANCE,
    BLOCK,
    MOST_REVISIONS,
    Revision,
    revision_writes,
    revisions,
)
from ..workbook.layout import LATER, accepted_name
from ..workbook.pattern import our_sheets
from ..workbook.version import older_version
from ..worksheet.cells import serial
from ..xlsx.book import Book
from ..xlsx.lists import prefix_of, with_states
from ..xlsx.package import PackageError
from ..xlsx.write import Address, Content, Write, write_cells
from .choose import chosen

# What the page of a quote cannot do without, and what it says there.
NEEDED = {
    "contractor": "a quote says whose it is",
    "customer": "a quote says for whom it is",
    "quote_number": "a quote is known by its number",
    "quote_date": "a quote has a date, and holds from it",
    "tax_share": "a quote says what tax comes to; 0 where there is none",
}
LATEST = 0


class NotIssuedError(PackageError):
    """A quote that cannot be issued; has everything that is missing."""

    def __init__(self, problems: list[Problem]) -> None:
        count = f"{len(problems)} things are" if len(problems) > 1 else "one thing is"
        super().__init__(f"its quote is not issued: {count} missing; nothing was written")
        self.problems = problems


@dataclass(frozen=True)
class Deal:
    """What is to be done with a quote, and the day on which it is."""

    on: date
    issue: bool = False
    # The revision that is accepted; LATEST the last one; None: none.
    accept: int | None = None
    withdraw: bool = False
    # The number of a quote that has none, and who is told of a revision before it is written.
    number: str = ""
    enter: Callable[[Revision, Values, bool], None] | None = None
    # The option that becomes the job.
    option: str = ""

    def begun(self, book: Book, model: Model) -> Book:
        """The book with what is typed into it first: an option, a number."""
        return self._numbered(chosen(book, model, self.option) if self.option else book)

    def _numbered(self, book: Book) -> Book:
        """The book with that number, where none is typed."""
        cell, area = book.named("quote_number"), book.area("quote_number")
        if not self.number or area is None or cell is None or cell.kind != "blank":
            return book
        write_cells(book, {area.first: Write(self.number)})
        return Book(book.package)


@dataclass(frozen=True)
class Settled:
    """What became of it: the revisions, what counts as accepted, cells to write, words."""

    kept: list[Revision]
    # By name, in SI; nothing by each name where it was withdrawn. None: as it was.
    accepted: Mapping[str, float | None] | None = None
    writes: dict[Address, Write] = field(default_factory=dict)
    said: str = ""
    # The revision that was issued, now or before, and whether it is new.
    issued: Revision | None = None
    new: bool = False


def settled(deal: Deal | None, book: Book, model: Model, values: Values) -> Settled:
    """Do it; PackageError where it cannot be done."""
    kept = revisions(book, model.today) if model.accepted else []
    if deal is None:
        return Settled(kept)
    if not model.accepted:
        raise PackageError("it has no quote; nothing was written; twodrum add gives it one")
    names = [BLOCK, *ACCEPTANCE, *(f"{accepted_name(name)}_si" for name in model.accepted)]
    lost = [name for name in names if book.area(name) is None]
    if lost:
        mend = "run twodrum upgrade on it first" if older_version(book) else "take a copy of before"
        raise PackageError(
            f"its sheet Accepted lacks {', '.join(lost[:3])}; nothing was written; {mend}"
        )
    done = Settled(kept)
    if deal.option:
        price = f"{values.names['net_price'].si or 0:,} {values.names['currency'].si}"
        which = f"option {deal.option}" if deal.option.isdecimal() else deal.option
        rest = "; the other options follow it" if len(values.tables["options"].rows) > 1 else ""
        done = Settled(kept, said=f"{which} is the job now, at {price} before tax{rest}")
    if deal.issue:
        done = _issued(deal, book, model, values, kept)
    if deal.accept is not None:
        done = _accepted(deal, book, model, done)
    return _withdrawn(deal, book, model, kept) if deal.withdraw else done


def issued_as(model: Model, values: Values, kept: list[Revision]) -> int:
    """The revision that a workbook is, by all that is typed for its quote; 0: none of them."""
    if not kept:
        return 0
    now = digest(model, values)
    return next((one.revision for one in reversed(kept) if one.digest == now), 0)


def digest(model: Model, values: Values) -> str:
    """A short text that is another one where anything that is typed for a quote is another."""
    text = "\n".join(sorted(_typed(model, values)))
    return hashlib.sha256(text.encode()).hexdigest()[:20]


def with_change_order(book: Book, model: Model, seen: bool) -> None:
    """Show the sheets that belong to an accepted quote, or hide them again."""
    ours = our_sheets(model, book)
    states = {ours[title]: "visible" if seen else "hidden" for title in LATER if title in ours}
    lists = book.package.read(book.workbook_part)
    book.package.replace(book.workbook_part, with_states(lists, prefix_of(lists), states))


def _typed(model: Model, values: Values) -> Iterator[str]:
    quote = job_of((QUOTE, WHAT_IFS))
    here = {item.name for item in quote.fields()}
    for item in model.fields():
        if item.name in here:
            yield from _said(item.name, values.names[item.name])
    for table in quote.tables:
        if table.keys or table.name == "shelf" or table.name not in values.tables:
            continue
        for place, row in enumerate(values.tables[table.name].rows):
            if "option_offered" in row and row["option_offered"].blank:
                # What is weighed in the office alone is no part of the quote.
                continue
            for item in table.fields:
                # What is measured when the job is done was never part of the quote.
                if item.name in row and item.name != "area_after":
                    yield from _said(f"{table.name}.{item.name}@{place}", row[item.name])


def _said(key: str, value: Value) -> Iterator[str]:
    if not value.blank:
        si = value.si
        yield f"{key}={float(si):.12g}" if isinstance(si, (int, float)) else f"{key}={si}"


def _issued(deal: Deal, book: Book, model: Model, values: Values, kept: list[Revision]) -> Settled:
    lacks = _lacking(deal, model, values)
    if lacks:
        raise NotIssuedError(lacks)
    now = digest(model, values)
    if kept and kept[-1].digest == now:
        said = f"revision {kept[-1].revision} as it was issued"
        return Settled(kept, said=said, issued=kept[-1])
    if len(kept) == MOST_REVISIONS:
        raise PackageError(
            f"it has {MOST_REVISIONS} revisions and no room for another; nothing was written; "
            "twodrum new --from begins a new job with its quote"
        )
    until = values.names["valid_until"].si
    new = Revision(
        kept[-1].revision + 1 if kept else 1,
        str(values.names["quote_number"].si),
        serial(deal.on),
        float(until) if isinstance(until, (int, float)) else None,
        str(values.names["currency"].si),
        now,
        values={name: float(values.names[name].si) for name in model.accepted},
    )
    made = [*kept, new]
    said = f"quote {new.number} issued as revision {new.revision}"
    return Settled(made, writes=dict(revision_writes(book, made)), said=said, issued=new, new=True)


def _lacking(deal: Deal, model: Model, values: Values) -> list[Problem]:
    """Everything that keeps a quote from being issued."""
    found = []
    for name, why in NEEDED.items():
        value = values.names[name]
        if value.blank:
            text = sentence(f"{value.label} is blank", why, "type it")
            found.append(Problem("quote-lacks", value.where, text, position=value.position))
    results = [values.names[name] for name in (*NEEDED, *model.accepted, "valid_until")]
    roots = {root for value in results for root in value.roots}
    found += [p for p in values.problems if p.severity == PROBLEM and p.where in roots]
    told = {problem.where for problem in found}
    for name in model.accepted:
        value = values.names[name]
        if value.si is None and told.isdisjoint(value.roots):
            text = sentence(f"{value.label} is not worked out", "a quote rests on it", value.why)
            found.append(Problem("quote-lacks", value.where, text, position=value.position))
    for row in values.tables["options"].rows if "options" in values.tables else ():
        if not row["option_offered"].blank:
            found += [
                Problem("quote-lacks", at.where or "Options", words, position=at.position)
                for at, words in faults_of(values, row, on_quote=True)
            ]
    until = values.names["valid_until"]
    if isinstance(until.si, (int, float)) and until.si < serial(deal.on):
        text = sentence(
            "the last day of the quote is past",
            f"it is issued on {deal.on.isoformat()}",
            "type another date of the quote, or more days on Job",
        )
        found.append(Problem("quote-lacks", until.where, text, position=until.position))
    return in_order(found)


def _accepted(deal: Deal, book: Book, model: Model, done: Settled) -> Settled:
    there = book.named("accepted_date")
    if there is not None and there.kind != "blank":
        number = book.named("accepted_revision")
        which = f"revision {number.value:g}" if number and number.kind == "number" else "a quote"
        raise PackageError(
            f"{which} of it is accepted already; nothing was written; twodrum accept --withdraw "
            "takes that back"
        )
    if not done.kept:
        raise PackageError(
            "no quote of it was issued, and what is accepted is what the customer was sent; "
            "nothing was written; run twodrum issue first"
        )
    found = [one for one in done.kept if deal.accept in (LATEST, one.revision)]
    if not found:
        known = ", ".join(str(one.revision) for one in done.kept)
        raise PackageError(f"it has no revision {deal.accept}; it has {known}; nothing was written")
    one = found[-1]
    lacks = [name for name in model.accepted if name not in one.values]
    if lacks:
        raise PackageError(
            f"its revision {one.revision} was issued by an older version and lacks {lacks[0]}; "
            "nothing was written; issue it again and accept that"
        )
    kept = [_became(r, f"accepted {deal.on.isoformat()}") if r is one else r for r in done.kept]
    values: dict[str, float | None] = {name: one.values[name] for name in model.accepted}
    said = f"revision {one.revision} of quote {one.number} is accepted"
    if one.holds_until is not None and serial(deal.on) > one.holds_until:
        said += ", after its last day"
    contents = (serial(deal.on), one.number or None, one.revision)
    writes = {**done.writes, **dict(revision_writes(book, kept))}
    writes |= _acceptance(book, model, contents, values, one.currency)
    said = f"{done.said}; {said}" if done.said else said
    return replace(done, kept=kept, accepted=values, writes=writes, said=said)


def _withdrawn(deal: Deal, book: Book, model: Model, kept: list[Revision]) -> Settled:
    there, number = book.named("accepted_date"), book.named("accepted_revision")
    if there is None or there.kind == "blank":
        raise PackageError("no quote of it is accepted; nothing was written")
    which = number.value if number else None
    now = [
        _became(r, f"withdrawn {deal.on.isoformat()}") if r.revision == which else r for r in kept
    ]
    values: dict[str, float | None] = dict.fromkeys(model.accepted)
    writes = dict(revision_writes(book, now))
    writes |= _acceptance(book, model, (None, None, None), values, None)
    return Settled(now, values, writes, "its acceptance is withdrawn")


def _became(one: Revision, what: str) -> Revision:
    return replace(one, became=f"{one.became}; {what}" if one.became else what)


def _acceptance(
    book: Book,
    model: Model,
    contents: tuple[Content, ...],
    values: Mapping[str, float | None],
    currency: str | None,
) -> dict[Address, Write]:
    """Cells that say what is accepted."""
    named = dict(zip(ACCEPTANCE, contents))
    for name, si in values.items():
        own = accepted_name(name)
        named[f"{own}_si"] = si
        if model.item(name).kind == "money":
            named[f"{own}_unit"] = currency
    places = {name: book.area(name) for name in named}
    return {place.first: Write(named[name]) for name, place in places.items() if place is not None}
