"""A workbook of ours made anew from today's template: parts added, a version caught up with.

All that people typed is carried over: numbers, words, formulas, picked units, rows, the accepted
quote, what came from the office. What can't be is refused, or told and kept in the copy that
stays beside the file.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field
from pathlib import Path

from .. import __version__
from ..books.office import OFFICE
from ..books.parts import job_of, model_of, with_needed
from ..engine.model import Model
from ..workbook.brought import brought, brought_writes
from ..workbook.layout import accepted_name, units_picked
from ..workbook.mend import put_right
from ..workbook.pattern import our_sheets
from ..workbook.version import made_by
from ..xlsx.book import Book, CellRead
from ..xlsx.files import at_work, copy_beside, refuse_open_file, write_whole
from ..xlsx.moved import pointing
from ..xlsx.package import Package, PackageError
from ..xlsx.write import Address, Content, Write, content_of, write_cells
from .fill import fill_book, is_job, is_office
from .new import Typed, in_unit, template

# Parts of a package that are not ours, and what people call them.
FOREIGN = {
    "vbaproject": "macros",
    "/comments": "comments",
    "/threadedcomments": "comments",
    "/externallinks/": "links to other workbooks",
    "/pivot": "pivot tables",
    "/media/": "pictures",
    "/querytables/": "queries",
    "connections.xml": "connections",
    "/slicer": "slicers",
    "/embeddings/": "embedded files",
}
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

    @property
    def changed(self) -> bool:
        return self.copy is not None

    def said(self) -> list[str]:
        """What to tell of it, line by line."""
        has = f"has the parts {', '.join(self.parts)}" if self.parts else "is an office workbook"
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


def add(path: Path, wanted: tuple[str, ...], picked: Typed | None = None) -> Remade:
    """Give a job more parts, with what was picked of an office for them.

    PackageError says why it cannot be.
    """
    return _remade(path, wanted, "add", picked or Typed())


def upgrade(path: Path) -> Remade:
    """Bring a job or an office workbook to today's version."""
    return _remade(path, (), "upgrade", Typed())


def _remade(path: Path, wanted: tuple[str, ...], command: str, picked: Typed) -> Remade:
    refuse_open_file(path)
    with at_work(path):
        book = Book.open(path)
        if is_office(book) and not wanted:
            before, after = OFFICE, OFFICE
        elif is_job(book):
            before = model_of(book)
            after = job_of(with_needed((*before.parts, *wanted)))
        else:
            raise PackageError("it is no job of twodrum; make one with twodrum new")
        made = Remade(path, after.parts, made_by(book))
        if after is before and made.before == __version__:
            return made
        _refuse_foreign(book, before)
        fresh, made.notes = carried(book, before, after, picked)
        if after.parts:
            put, notes = put_right(fresh, after)
            filled = fill_book(put, after, put=notes)
            fresh, made.state = put, filled.state
        made.changes = [] if made.before == __version__ else _changes(fresh, made.before)
        made.copy = copy_beside(path, command, book.package.data)
        write_whole(path, fresh.package.to_bytes(), book.package.data)
    return made


def _refuse_foreign(book: Book, before: Model) -> None:
    """Refuse what would be lost: sheets, macros, pictures of the office's own."""
    ours = our_sheets(before, book).values()
    own = [sheet for sheet in book.sheets if sheet not in ours]
    if own:
        raise PackageError(
            f"it has sheets of its own ({', '.join(own[:3])}), which would be lost; move them to "
            "a workbook of their own first; nothing was written"
        )
    parts = [f"/{name}" for name in book.package.names()]
    found = {word for mark, word in FOREIGN.items() if any(mark in part for part in parts)}
    if found:
        raise PackageError(
            f"it has {', '.join(sorted(found))}, which would be lost; take them out first; "
            "nothing was written"
        )


def carried(
    book: Book, before: Model, after: Model, picked: Typed | None = None
) -> tuple[Book, list[str]]:
    """Today's template with all that was typed into a book, and what is not as it was.

    What is picked of an office is for the parts that the book did not have.
    """
    fresh = template(after)
    places = dict(_places(book, fresh, before, after))
    moved = {**places, **dict(_results(book, fresh, after))}
    writes, notes = dict(_for_new(book, fresh, before, after, picked or Typed())), []
    for old, new in places.items():
        cell = book.cell(*old)
        if cell.kind == "blank":
            continue
        write = Write(_content(cell))
        if cell.formula:
            text = pointing(cell, moved)
            if text is None:
                notes.append(f"{cell.where}: its formula ={cell.formula_text} is its value now")
            else:
                write = Write(_content(cell), formula=text, live=True)
        writes[new] = write
    for problem in write_cells(fresh, writes):
        notes.append(str(problem))
    notes += _left_behind(book, before, places)
    # Read again: what was read of it before does not hold any more.
    return Book(Package(fresh.package.to_bytes())), notes


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
    yield from brought_writes(fresh, [*brought(book), *new])


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


def _left_behind(book: Book, before: Model, places: Mapping[Address, Address]) -> Iterator[str]:
    """Cells that people typed beside what is ours, where the version tells which those are."""
    if made_by(book) != __version__:
        return
    blank = template(before)
    found = []
    for sheet in blank.sheets:
        if sheet not in book.sheets or sheet in ("Record", "Snapshot"):
            continue
        for row, column in sorted(book.scan(sheet).cells):
            address = (sheet, row, column)
            cell = book.cell(*address)
            typed = cell.kind != "blank" and not cell.formula and address not in places
            there = blank.cell(*address)
            if typed and there.kind == "blank" and not _ours(cell, there):
                found.append(f"{cell.where} '{cell.value}'")
    if found:
        more = f" and {len(found) - NAMED} more" if len(found) > NAMED else ""
        yield f"left in the copy: {', '.join(found[:NAMED])}{more}"


def _ours(cell: CellRead, there: CellRead) -> bool:
    """Whether a filled cell has the look of one that the filler writes."""
    return there.style == cell.style and there.style != 0


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
