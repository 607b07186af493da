"""A workbook made anew from today's template: parts added, taken out, a version caught up with.

All that people typed is carried over: numbers, words, formulas, picked units, rows, the accepted
quote, what came from the office. Sheets, macros and pictures of their own stay as they are; our
sheets are put between them again. What can't be carried is refused, or told and kept in the copy
that stays beside the file.
"""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field
from itertools import takewhile
from pathlib import Path

from .. import __version__
from ..books.office import OFFICE
from ..books.parts import PARTS, TAKES, fitting, job_of, model_of
from ..changelog import entries
from ..engine.model import Model
from ..workbook.issued import ISSUED_AS
from ..workbook.layout import slug
from ..workbook.mend import put_right
from ..workbook.pattern import our_sheets
from ..workbook.version import is_job, is_month, is_office, made_by
from ..xlsx.book import Book
from ..xlsx.files import at_work, copy_beside, refuse_open_file, write_whole
from ..xlsx.package import PackageError
from .beside import called, put_in, refuse_used, taken_out
from .carry import carried, known_names
from .fill import Filled, fill_book
from .new import Typed, made_job, pick

# What can stand before a name and behind the title of a sheet.
WORD = re.compile(r"[A-Za-z][A-Za-z0-9 ]{0,11}")


@dataclass
class Remade:
    """What became of a workbook: its parts, the version before, what to know of it."""

    path: Path
    parts: tuple[str, ...] = ()
    before: str = ""
    copy: Path | None = None
    state: str = ""
    notes: list[str] = field(default_factory=list)
    changes: list[str] = field(default_factory=list)
    # Whether all of ours was taken out.
    gone: bool = False

    @property
    def changed(self) -> bool:
        return self.copy is not None

    def said(self) -> list[str]:
        """What to tell of it, line by line."""
        has = f"has the parts {', '.join(self.parts)}" if self.parts else "is an office workbook"
        if self.gone:
            return [f"{self.path}: holds nothing of twodrum any more; as it was: {self.copy}"]
        if not self.changed:
            return [f"{self.path}: {has}, all of this version; nothing was written"]
        now = " now" if self.before == __version__ else f", of {__version__} now"
        state = f"; state {self.state}" if self.state else ""
        lines = [f"{self.path}: {has}{now}{state}; as it was: {self.copy}"]
        lines += [f"note: {note}" for note in self.notes]
        if self.changes:
            lines.append(f"What changed since {self.before or 'it was made'}:")
            lines += [f"  {line}" for line in self.changes]
        return lines


@dataclass(frozen=True)
class Wish:
    """What of an office a new part begins with, in which units, and how it is told apart."""

    office: Path | None = None
    picks: Mapping[str, str] = field(default_factory=dict)
    system: str = "metric"
    word: str = ""

    def typed(self) -> Typed:
        """What was picked for a job that is there."""
        if self.office is None:
            return Typed()
        names = {name: self.picks.get(name, "") for name in ("system", "machine")}
        return pick(self.office, names, ("materials", "machines"))


def add(path: Path, wanted: tuple[str, ...], wish: Wish | None = None) -> Remade:
    """Give a job more parts, or put parts into a workbook of others.

    PackageError says why it cannot be, PickError what of the office is not there.
    """
    return _remade(path, "add", wish or Wish(), wanted)


def upgrade(path: Path) -> Remade:
    """Bring a job or an office workbook to today's version."""
    return _remade(path, "upgrade", Wish())


def upgraded(path: Path) -> tuple[list[str], bool]:
    """What to tell of a workbook that was upgraded, or why it was not and that it went wrong."""
    try:
        return upgrade(path).said(), False
    except PackageError as error:
        return [f"{path}: {error}"], True


def upgrade_died(path: Path) -> tuple[list[str], bool]:
    """The same of a workbook that ended its process twice."""
    return [f"{path}: its process ended twice while it was upgraded; it is as it was before"], True


def remove(path: Path, unwanted: tuple[str, ...]) -> Remade:
    """Take parts out of a workbook, all of them or some."""
    return _remade(path, "remove", Wish(), (), unwanted)


def _remade(
    path: Path,
    command: str,
    wish: Wish,
    wanted: tuple[str, ...] = (),
    unwanted: tuple[str, ...] = (),
) -> Remade:
    if wish.word and not WORD.fullmatch(wish.word):
        raise PackageError(
            f"'{wish.word}' can't stand in a name; --as takes up to 12 letters, digits and blanks, "
            "and begins with a letter"
        )
    refuse_open_file(path)
    with at_work(path):
        book = Book.open(path)
        read = book.package.data
        made = Remade(path)
        before: Model | None = None
        after: Model | None = None
        if is_job(book):
            before = model_of(book)
            unwanted = before.parts if unwanted == PARTS else unwanted
            left = tuple(part for part in before.parts if part not in unwanted)
            if unwanted:
                _refuse_needed(before.parts, left, unwanted)
            after = job_of(fitting((*left, *wanted))) if left else None
        elif is_office(book) and command == "upgrade":
            before = after = OFFICE
        elif is_month(book):
            raise PackageError("it is a month workbook; twodrum month FOLDER makes it anew")
        elif not wanted or is_office(book):
            raise PackageError("it is no job of twodrum; make one with twodrum new")
        made.before = made_by(book)
        if before is not None and after is before and made.before == __version__:
            made.parts = before.parts
            return made
        if before is None:
            fresh = _put_into(book, wanted, wish, made)
        elif after is None:
            fresh = _without(book, before, made)
        else:
            made.parts = after.parts
            fresh, notes = carried(book, before, after, wish.typed(), wish.word)
            made.notes = [*_came_too(after.parts, (*before.parts, *wanted)), *notes]
            if after.parts:
                put, told = put_right(fresh, after)
                filled = fill_book(put, after, put=told)
                fresh, made.state = put, filled.state
                made.notes += _draft_again(book, filled)
            made.changes = [] if made.before == __version__ else _changes(made.before)
        made.copy = copy_beside(path, command, read)
        write_whole(path, fresh.package.to_bytes(), read)
    return made


def _refuse_needed(
    parts: tuple[str, ...], left: tuple[str, ...], unwanted: tuple[str, ...]
) -> None:
    """Refuse to take out a part that is not there, or from which another takes."""
    lacking = [part for part in unwanted if part not in parts]
    if lacking:
        raise PackageError(f"it has no part {lacking[0]}; it has {', '.join(parts)}")
    for part in left:
        needed = [one for one in TAKES[part] if one in unwanted]
        if needed:
            raise PackageError(
                f"its part {part} takes from {needed[0]}; nothing was written; name both"
            )


def _came_too(parts: tuple[str, ...], asked: tuple[str, ...]) -> Iterator[str]:
    """Which parts came that nobody asked for, and why."""
    for part in parts:
        takers = [one for one in parts if part in TAKES[one] and one in asked]
        if part not in asked and takers:
            yield f"its part {part} came too: {takers[0]} takes from it"


def _put_into(book: Book, wanted: tuple[str, ...], wish: Wish, made: Remade) -> Book:
    """A workbook of others with parts of ours behind its sheets."""
    parts = fitting(wanted)
    fresh, typed = made_job(wish.office, wish.picks, wish.system, None, parts)
    word = slug(wish.word) if wish.word else "td"
    naming = called(fresh, f"{word}_", {}, book.all_sheets(), wish.word)
    made.parts, made.before = parts, __version__
    made.notes = [*_came_too(parts, wanted), *map(str, typed.problems)]
    made.notes.append(f"names of ours begin with {word}_, such as {naming.name('film_thickness')}")
    return put_in(book, fresh, naming)


def _without(book: Book, before: Model, made: Remade) -> Book:
    """A workbook of others without anything of ours."""
    ours = set(our_sheets(before, book).values())
    left = [title for title in book.all_sheets() if title not in ours]
    if not left:
        raise PackageError("it holds nothing but the job; nothing was written; delete the file")
    if all(book.sheet_states()[title] != "visible" for title in left):
        raise PackageError(
            "every other sheet of it is hidden, and a workbook shows one; show one first; nothing "
            "was written"
        )
    known = known_names(book, before)
    refuse_used(book, ours, known)
    made.gone = True
    return taken_out(book, ours, known)


def _draft_again(book: Book, filled: Filled) -> Iterator[str]:
    """That a quote is not the revision any more that it was, where that is so."""
    was = book.named(ISSUED_AS)
    if was is not None and was.kind == "number" and was.value and not filled.revision:
        yield (
            f"its quote was revision {was.value:g} as it was issued and is a DRAFT now: parts that "
            "came or went are part of what was issued; what was accepted stays accepted"
        )


def _changes(before: str) -> list[str]:
    """What changed since a version, newest first."""
    newer = takewhile(lambda entry: entry[0] != before, entries())
    return [f"{version}: {' '.join(lines)}" for version, _, lines in newer]
