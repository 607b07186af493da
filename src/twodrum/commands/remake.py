"""A workbook made anew from today's template: parts added, taken out, a version caught up with.

All that people typed is carried over: numbers, words, formulas, picked units, rows, the accepted
quote, what came from the office. Sheets, macros and pictures of their own stay as they are; our
sheets are put between them again. What can't be carried is refused, or told and kept in the copy
that stays beside the file.
"""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping, Set
from dataclasses import dataclass, field
from pathlib import Path

from .. import __version__
from ..books.office import OFFICE
from ..books.parts import PARTS, TAKES, fitting, job_of, model_of
from ..engine.model import Model
from ..workbook.brought import brought, brought_writes
from ..workbook.layout import accepted_name, slug, units_picked
from ..workbook.mend import put_right
from ..workbook.pattern import our_sheets
from ..workbook.version import know_former, made_by
from ..xlsx.book import Book, CellRead
from ..xlsx.files import at_work, copy_beside, refuse_open_file, write_whole
from ..xlsx.moved import Moves, following, whole_formula
from ..xlsx.naming import Naming
from ..xlsx.package import Package, PackageError
from ..xlsx.write import Address, Content, Write, content_of, write_cells
from .beside import Known, called, has_more, put_in, refuse_hanging, refuse_used, taken_out
from .fill import fill_book, is_job, is_month, is_office
from .new import Typed, in_unit, made_job, pick, template

# What can stand before a name and behind the title of a sheet.
WORD = re.compile(r"[A-Za-z][A-Za-z0-9 ]{0,11}")
# Sheets that nobody types into.
KEPT = ("Accepted", "Record", "Snapshot")
# So many cells that are left behind are named.
NAMED = 5


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
        return pick(self.office, names, ("machines",))


def add(path: Path, wanted: tuple[str, ...], wish: Wish | None = None) -> Remade:
    """Give a job more parts, or put parts into a workbook of others.

    PackageError says why it cannot be, PickError what of the office is not there.
    """
    return _remade(path, "add", wish or Wish(), wanted)


def upgrade(path: Path) -> Remade:
    """Bring a job or an office workbook to today's version."""
    return _remade(path, "upgrade", Wish())


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
        elif not wanted or is_month(book) or is_office(book):
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
            fresh, made.notes = carried(book, before, after, wish)
            if after.parts:
                put, notes = put_right(fresh, after)
                filled = fill_book(put, after, put=notes)
                fresh, made.state = put, filled.state
            made.changes = [] if made.before == __version__ else _changes(fresh, made.before)
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


def _put_into(book: Book, wanted: tuple[str, ...], wish: Wish, made: Remade) -> Book:
    """A workbook of others with parts of ours behind its sheets."""
    parts = fitting(wanted)
    fresh, typed = made_job(wish.office, wish.picks, wish.system, None, parts)
    word = slug(wish.word) if wish.word else "td"
    naming = called(fresh, f"{word}_", {}, book.all_sheets(), wish.word)
    made.parts, made.before = parts, __version__
    made.notes = [str(problem) for problem in typed.problems]
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
    known = _known(book, before)
    refuse_used(book, ours, known)
    made.gone = True
    return taken_out(book, ours, known)


def _known(book: Book, before: Model) -> Known:
    return Known(frozenset(template(before).names), made_by(book) != __version__)


def carried(
    book: Book, before: Model, after: Model, wish: Wish | None = None
) -> tuple[Book, list[str]]:
    """Today's sheets with all that was typed into a book, and what is not as it was.

    What is picked of an office is for the parts that the book did not have.
    """
    wish = wish or Wish()
    fresh = template(after)
    know_former(book, after)
    ours = our_sheets(before, book)
    own = set(ours.values())
    if not own:
        raise PackageError("the names of its sheets are lost; take a copy from before")
    refuse_hanging(book, own)
    more = has_more(book, own)
    staying = {title: now for title, now in ours.items() if title in fresh.sheets and more}
    taken = [title for title in book.all_sheets() if title not in own]
    naming = called(fresh, book.prefix, staying, taken, wish.word)
    places = dict(_places(book, fresh, before, after))
    pairs = {**places, **dict(_results(book, fresh, after))}
    titles = {now: naming.sheets.get(title, title) for title, now in ours.items()}
    moves = Moves({old: _called(new, naming) for old, new in pairs.items()}, titles)
    writes = dict(_for_new(book, fresh, before, after, wish.typed()))
    links: dict[Address, Write] = {}
    notes = []
    for old, new in places.items():
        cell = book.cell(*old)
        if cell.kind == "blank":
            continue
        writes[new] = Write(_content(cell))
        if cell.formula:
            text = following(whole_formula(book, cell), cell.sheet, moves, own)
            if text is None:
                notes.append(f"{cell.where}: its formula ={cell.formula_text} is its value now")
            else:
                links[_called(new, naming)] = Write(_content(cell), formula=text, live=True)
    notes += [str(problem) for problem in write_cells(fresh, writes)]
    notes += _left_behind(book, before, set(places))
    # Read again: what was read of it before does not hold any more.
    fresh = Book(Package(fresh.package.to_bytes()))
    if more:
        at = min(place for place, title in enumerate(book.all_sheets()) if title in own)
        states = {title: book.sheet_states()[now] for title, now in staying.items()}
        alone = taken_out(book, own, _known(book, before), moves)
        fresh = put_in(alone, fresh, naming, at, states)
    notes += [str(problem) for problem in write_cells(fresh, links)]
    return Book(Package(fresh.package.to_bytes())), notes


def _called(address: Address, naming: Naming) -> Address:
    sheet, row, column = address
    return naming.sheets.get(sheet, sheet), row, column


def _for_new(
    book: Book, fresh: Book, before: Model, after: Model, picked: Typed
) -> Iterator[tuple[Address, Write]]:
    """What the inputs begin with that a book does not have: its units, and what was picked."""
    system = _system(book, after)
    for name, item in units_picked(after):
        area = fresh.area(f"{name}_unit")
        if area is not None and book.area(f"{name}_unit") is None:
            yield area.first, Write(item.unit(system))
    known = {item.name for item in before.fields()}
    for item in after.fields():
        area = fresh.area(item.name)
        if area is not None and item.name not in known and item.name in picked.names:
            yield area.first, Write(in_unit(item, picked.names[item.name], system))
    new = [one for one in picked.brought if one.key not in known]
    yield from brought_writes(fresh, [*brought(book, after.today), *new])


def _system(book: Book, model: Model) -> str:
    """The system of units that most of a book is in."""
    votes = []
    for name, item in units_picked(model):
        cell, metric, us = book.named(f"{name}_unit"), item.unit("metric"), item.unit("us")
        if cell is not None and metric != us and cell.value in (metric, us):
            votes.append(cell.value == us)
    return "us" if sum(votes) * 2 > len(votes) else "metric"


def _places(
    book: Book, fresh: Book, before: Model, after: Model
) -> Iterator[tuple[Address, Address]]:
    """Where each cell that people fill stands in a book, and where it belongs in the new one."""
    names = [item.name for item in after.fields()]
    names += [f"{name}_unit" for name, _ in units_picked(after)]
    if after.accepted:
        names += ["accepted_date", *(f"{accepted_name(name)}_si" for name in after.accepted)]
    for name in names:
        old, new = book.area(name), fresh.area(name)
        if old is not None and new is not None:
            yield old.first, new.first
    for table in after.tables:
        read, made = book.tables.get(table.name), fresh.tables[table.name]
        if read is None or table.keys:
            continue
        labels = [item.label for item in table.fields if item.label in read.columns]
        rows = read.area.last_row - read.area.first_row + 1
        room = made.area.last_row - made.area.first_row + 1
        for row in range(rows):
            cells = [(read.area.sheet, read.area.first_row + row, read.columns[n]) for n in labels]
            if row >= room:
                if any(book.cell(*cell).kind != "blank" for cell in cells):
                    raise PackageError(
                        f"its table {table.label} has more than {room} rows, and there is room "
                        f"for {room}; nothing was written; split the job"
                    )
                continue
            at = made.area.first_row + row
            yield from zip(cells, ((made.area.sheet, at, made.columns[n]) for n in labels))


def _results(book: Book, fresh: Book, after: Model) -> Iterator[tuple[Address, Address]]:
    """The same of the results, for formulas that point at them."""
    for cell in after.cells:
        for name in (cell.name, f"{cell.name}_si"):
            old, new = book.area(name), fresh.area(name)
            if old is not None and new is not None:
                yield old.first, new.first
    for name, made in fresh.tables.items():
        read = book.tables.get(name)
        if read is None:
            continue
        for label in made.columns.keys() & read.columns.keys():
            rows = zip(
                range(read.area.first_row, read.area.last_row + 1),
                range(made.area.first_row, made.area.last_row + 1),
            )
            for old_row, new_row in rows:
                yield (
                    (read.area.sheet, old_row, read.columns[label]),
                    (made.area.sheet, new_row, made.columns[label]),
                )


def _content(cell: CellRead) -> Content:
    """A truth value goes along as the text that it shows."""
    return str(cell.value).upper() if cell.kind == "bool" else content_of(cell)


def _left_behind(book: Book, before: Model, places: Set[Address]) -> Iterator[str]:
    """What people typed that has no place any more, where the version tells which cells are ours.

    Beside what is ours, or into an input that is a result now.
    """
    if made_by(book) != __version__ or not before.parts:
        return
    blank = template(before)
    ours: set[Address] = {old for old, _ in _places(book, blank, before, before)}
    told = [book.cell(*old) for old in sorted(ours - places)]
    found = [f"{cell.where} '{cell.value}'" for cell in told if cell.kind != "blank"]
    if found:
        yield f"worked out from now on, and in the copy as typed: {_some(found)}"
    fill_book(book, before, write=lambda _, writes, __: ours.update(writes))
    found = []
    for title, sheet in our_sheets(before, book).items():
        if title in KEPT:
            continue
        for row, column in sorted(book.scan(sheet).cells):
            cell = book.cell(sheet, row, column)
            typed = cell.kind != "blank" and not cell.formula and (sheet, row, column) not in ours
            if typed and blank.cell(title, row, column).kind == "blank":
                found.append(f"{cell.where} '{cell.value}'")
    if found:
        yield f"left in the copy: {_some(found)}"


def _some(found: list[str]) -> str:
    """The first of many, and how many more there are."""
    more = f" and {len(found) - NAMED} more" if len(found) > NAMED else ""
    return f"{', '.join(found[:NAMED])}{more}"


def _changes(book: Book, before: str) -> list[str]:
    """What changed since a version, as Record tells it."""
    start = book.area("state_record")
    if start is None:
        return []
    found, newer = [], False
    rows = sorted({row for row, _ in book.scan(start.sheet).cells})
    for row in rows:
        first, third = (book.cell(start.sheet, row, column).value for column in (1, 3))
        if first == "Version":
            newer = True
        elif newer and first == before:
            break
        elif newer and isinstance(third, str):
            found.append(f"{first}: {third}")
    return found
