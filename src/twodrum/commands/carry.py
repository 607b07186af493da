"""All that was typed into a book, carried into today's sheets of it."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Set
from dataclasses import replace

from .. import __version__
from ..books.job import BASE
from ..core.takeoff import KNOWN_AREA
from ..engine.model import Model, result_key
from ..workbook.brought import brought, brought_writes
from ..workbook.grow import lengthened
from ..workbook.in_units import in_unit
from ..workbook.issued import revision_writes, revisions
from ..workbook.layout import FORMER_SHEETS, HIDDEN, ON, hosts, units_picked
from ..workbook.pattern import our_sheets
from ..workbook.version import know_former, made_by
from ..xlsx.book import Book, CellRead
from ..xlsx.comments import of_sheet, put_on
from ..xlsx.lists import prefix_of, with_states
from ..xlsx.merge import ours_by_name
from ..xlsx.moved import Moves, following, whole_formula
from ..xlsx.naming import Naming
from ..xlsx.package import Package, PackageError
from ..xlsx.pictures import Picture, pictures_on, put_pictures
from ..xlsx.write import Address, Content, Write, content_of, write_cells
from .beside import Known, called, has_more, put_in, refuse_hanging, taken_out
from .fill import fill_book
from .looks import Looks, keep_dress
from .new import Typed, template
from .places import KNOWN, places, results, told_areas

# So many cells that are left behind are named.
NAMED = 5


def carried(
    book: Book,
    before: Model,
    after: Model,
    picked: Typed | None = None,
    word: str = "",
    alone: bool = False,
    letterhead: bool = True,
) -> tuple[Book, list[str]]:
    """Today's sheets with all that was typed into a book, and what is not as it was.

    What is picked of an office is for the parts that the book did not have; ``word`` stands
    behind a title that others have. ``alone`` makes a book of our sheets only, without the
    pictures of its letters where ``letterhead`` says so.
    """
    know_former(book, after)
    fresh = _long_enough(template(after), book, after)
    ours = our_sheets(before, book)
    own = set(ours.values())
    if not own:
        raise PackageError("the names of its sheets are lost; take a copy from before")
    pictures = _pictures(book, ours, after, alone, letterhead)
    more = not alone and has_more(book, own)
    apart = {**hosts(before), **FORMER_SHEETS}
    # What stood beside others on a sheet may have one of its own now; the host keeps its title.
    staying = {
        title: now
        for title, now in ours.items()
        if title in fresh.sheets and more and title not in apart
    }
    taken = [title for title in book.all_sheets() if title not in own]
    naming = called(fresh, book.prefix, staying, taken, word)
    typed_at = dict(places(book, fresh, before, after))
    pairs = {**typed_at, **dict(results(book, fresh, after))}
    titles = _followed(ours, apart, hosts(after), naming)
    # Whole rows and columns of a sheet that went are no rows and columns of another.
    whole = {now: title for now, title in titles.items() if now not in _gone(ours)}
    moves = _moves(book, fresh, before, naming, pairs, whole)
    comments = {title: of_sheet(book, title) for title in titles if not alone}
    notes: list[str] = []
    writes = dict(_for_new(book, fresh, before, after, picked or Typed()))
    writes.update(_typed(book, typed_at))
    links = dict(_linked(book, typed_at, moves, own, alone, notes))
    if told_areas(before, after):
        writes.update(_as_known_areas(fresh, writes))
    notes += _told_now(book, before, after)
    looks = Looks(book, fresh)
    in_sight = {old: new for old, new in pairs.items() if new[0] not in HIDDEN}
    looks.keep_odd_formats(in_sight, writes)
    others = _beside(looks, _theirs(book, before), _titles(before, book), moves, own, writes, notes)
    beside = dict(others)
    notes += [str(problem) for problem in write_cells(fresh, {**writes, **beside})]
    links |= {at: write._replace(style="") for at, write in beside.items() if write.formula}
    links = {_called(at, naming): write for at, write in links.items()}
    # Read again: what was read of it before does not hold any more.
    fresh = Book(Package(fresh.package.to_bytes()))
    here = {title: now for title, now in ours.items() if title in fresh.sheets}
    seen = {title: now for title, now in here.items() if title not in HIDDEN}
    keep_dress(book, fresh, seen, pairs, made_by(book) == __version__)
    notes += _put_again(fresh, pictures, titles, moves, naming)
    states = {title: book.sheet_states()[now] for title, now in here.items()}
    if not more:
        _show(fresh, states)
    else:
        at = min(place for place, title in enumerate(book.all_sheets()) if title in own)
        rest = taken_out(book, own, known_names(book, before), moves)
        fresh = put_in(rest, fresh, naming, at, states)
    notes += [str(problem) for problem in write_cells(fresh, links)]
    fresh = Book(Package(fresh.package.to_bytes()))
    for title, data in comments.items():
        if titles[title] in fresh.sheets:
            notes += put_on(fresh, data, title, titles[title], moves.beside)
    return Book(Package(fresh.package.to_bytes())), notes


def _typed(book: Book, typed_at: Mapping[Address, Address]) -> Iterator[tuple[Address, Write]]:
    """What stands in the cells that people fill."""
    for old, new in typed_at.items():
        cell = book.cell(*old)
        if cell.kind != "blank":
            yield new, Write(_content(cell))


def _linked(
    book: Book,
    typed_at: Mapping[Address, Address],
    moves: Moves,
    own: Set[str],
    alone: bool,
    notes: list[str],
) -> Iterator[tuple[Address, Write]]:
    """The formulas of theirs in those cells; one that reads what is gone becomes its value."""
    for old, new in typed_at.items():
        cell = book.cell(*old)
        if cell.kind == "blank" or not cell.formula:
            continue
        text = following(whole_formula(book, cell), cell.sheet, moves, own)
        if text is None or (alone and "!" in text):
            notes.append(f"{cell.where}: its formula ={cell.formula_text} is its value now")
        else:
            yield new, Write(_content(cell), formula=text, live=True)


def _pictures(
    book: Book, ours: Mapping[str, str], after: Model, alone: bool, letterhead: bool
) -> dict[str, list[Picture]]:
    """The pictures that go along; what else hangs on our sheets and does not is refused."""
    if alone:
        # A copy takes the letterhead along, no picture of that job.
        pages = [ours[page.sheet] for page in after.pages if page.sheet in ours]
        return {title: pictures_on(book, title) for title in pages if letterhead}
    found = {title: pictures_on(book, title) for title in ours.values()}
    refuse_hanging(book, set(found), {one.part for some in found.values() for one in some})
    return found


def _put_again(
    fresh: Book,
    pictures: Mapping[str, list[Picture]],
    titles: Mapping[str, str],
    moves: Moves,
    naming: Naming,
) -> Iterator[str]:
    """The pictures that people put on our sheets, beside the rows beside which they were."""
    called = {naming.sheets.get(title, title): title for title in fresh.sheets}
    lost = [title for title, found in pictures.items() if found and titles[title] not in called]
    if lost:
        yield f"pictures left in the copy: those on {', '.join(lost)}"
    for title, found in pictures.items():
        there = called.get(titles[title])
        placed = [(one, moves.beside((title, one.row, one.column))) for one in found]
        if there is not None:
            put_pictures(
                fresh, there, [replace(one, row=at[1] if at else one.row) for one, at in placed]
            )


def _show(fresh: Book, states: Mapping[str, str]) -> None:
    """Hide and show sheets as they were; before any was hidden nobody had shown them all."""
    if any(state != "visible" for state in states.values()):
        lists = fresh.package.read(fresh.workbook_part)
        fresh.package.replace(fresh.workbook_part, with_states(lists, prefix_of(lists), states))


def _long_enough(fresh: Book, book: Book, after: Model) -> Book:
    """Today's sheets with a row for each row that a book has."""
    areas = {t.name: book.tables[t.name].area for t in after.tables if t.name in book.tables}
    typed = [table.name for table in after.tables if not table.keys and table.name in areas]
    rows = {name: areas[name].last_row - areas[name].first_row + 1 for name in typed}
    return lengthened(fresh, after, rows)


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
    there = {table.name for table in before.tables}
    for table in after.tables:
        made = fresh.tables[table.name]
        records = [] if table.name in there else picked.rows.get(table.name, [])
        for row, record in zip(range(made.area.first_row, made.area.last_row + 1), records):
            for typed in table.fields:
                if typed.name in record:
                    at = (made.area.sheet, row, made.columns[typed.label])
                    yield at, Write(in_unit(typed, record[typed.name], system))
    new = [one for one in picked.brought if one.key not in known]
    yield from brought_writes(fresh, [*brought(book, after.today), *new])
    if after.accepted:
        yield from revision_writes(fresh, revisions(book, after.today))


def _system(book: Book, model: Model) -> str:
    """The system of units that most of a book is in."""
    votes = []
    for name, item in units_picked(model):
        cell, metric, us = book.named(f"{name}_unit"), item.unit("metric"), item.unit("us")
        if cell is not None and metric != us and cell.value in (metric, us):
            votes.append(cell.value == us)
    return "us" if sum(votes) * 2 > len(votes) else "metric"


def _as_known_areas(fresh: Book, writes: Mapping[Address, Write]) -> dict[Address, Write]:
    """The shape of each surface whose area was told."""
    table = fresh.tables["areas"]
    known = (table.area.sheet, table.columns[KNOWN])
    shape = table.columns[BASE.column_item("areas", "shape").label]
    told = [at for at, write in writes.items() if (at[0], at[2]) == known and write.value]
    return {(sheet, row, shape): Write(KNOWN_AREA) for sheet, row, _ in told}


def _content(cell: CellRead) -> Content:
    """A truth value goes along as the text that it shows."""
    return str(cell.value).upper() if cell.kind == "bool" else content_of(cell)


def _told_now(book: Book, before: Model, after: Model) -> Iterator[str]:
    """What was typed into inputs that are results now."""
    now = {result_key(item) for item in after.outcomes()}
    found = [book.named(item.name) for item in before.fields() if item.name in now]
    if told_areas(before, after):
        # These are known areas now.
        now.discard("areas.measured_area")
    for table in before.tables:
        read = book.tables.get(table.name)
        if read is None or table.keys:
            continue
        for item in table.fields:
            if f"{table.name}.{item.name}" in now and item.label in read.columns:
                column = read.columns[item.label]
                rows = range(read.area.first_row, read.area.last_row + 1)
                found += [book.cell(read.area.sheet, row, column) for row in rows]
    told = [_said(cell) for cell in found if cell is not None and cell.kind != "blank"]
    if told:
        yield f"worked out from now on, and in the copy as typed: {_some(told)}"


def _moves(
    book: Book,
    fresh: Book,
    before: Model,
    naming: Naming,
    pairs: Mapping[Address, Address],
    titles: Mapping[str, str],
) -> Moves:
    """Where cells of a book stand on today's sheets, and what of ours these do not have."""
    then = template(before)
    gone = {*then.names, *then.tables} - {*fresh.names, *fresh.tables}
    there = {naming.sheets.get(title, title) for title in fresh.sheets}
    return Moves(
        {old: _called(new, naming) for old, new in pairs.items()},
        {now: title for now, title in titles.items() if title in there},
        {book.prefix + name for name in gone},
    )


def _gone(ours: Mapping[str, str]) -> set[str]:
    return {ours[title] for title in FORMER_SHEETS if title in ours}


def _followed(
    ours: Mapping[str, str], apart: Mapping[str, str], laid: Mapping[str, str], naming: Naming
) -> dict[str, str]:
    """The sheet of today on which what stood on each of ours stands, by its title there."""
    on = {**laid, **FORMER_SHEETS}
    stand = {now: on.get(title, title) for title, now in ours.items() if title in apart}
    # A sheet on which others stand beside it goes with its own.
    stand |= {now: on.get(title, title) for title, now in ours.items() if title not in apart}
    return {now: naming.sheets.get(host, host) for now, host in stand.items()}


def _beside(
    looks: Looks,
    cells: list[CellRead],
    titles: Mapping[str, str],
    moves: Moves,
    own: Set[str],
    written: Mapping[Address, Write],
    notes: list[str],
) -> Iterator[tuple[Address, Write]]:
    """What people typed beside what is ours, with its format; what has no room is told."""
    lost, fresh = [], looks.fresh
    for cell in cells:
        text = whole_formula(looks.book, cell) if cell.formula else ""
        followed = following(text, cell.sheet, moves, own)
        # What stands on another sheet now has no room beside it.
        title = titles[cell.sheet]
        at = moves.beside((cell.sheet, cell.row, cell.column)) if title not in ON else None
        target = (FORMER_SHEETS.get(title, title), *at[1:]) if at else None
        free = target is not None and target[0] in fresh.sheets and target not in written
        if target is None or not free or not fresh.is_blank(*target) or followed is None:
            lost.append(_said(cell))
            continue
        style = looks.style(cell.style)
        yield target, Write(_content(cell), formula=followed, live=bool(followed), style=style)
    if lost:
        notes.append(f"left in the copy: {_some(lost)}")


def _theirs(book: Book, before: Model) -> list[CellRead]:
    """What people typed on our sheets beside what is ours.

    Of this version all else is known. In a job of another version what is ours has one of our
    cell styles.
    """
    today = made_by(book) == __version__
    blank = template(before)
    styled = set() if today else ours_by_name(book.package.read(book.styles_part))
    if not before.parts or not (today or styled):
        return []
    ours: set[Address] = {old for old, _ in places(book, blank, before, before)}
    if today:
        fill_book(book, before, write=lambda _, writes, __: ours.update(writes))
    found = []
    for sheet, title in _titles(before, book).items():
        if title in HIDDEN:
            continue
        for row, column in sorted(book.scan(sheet).cells):
            cell = book.cell(sheet, row, column)
            if cell.kind == "blank" or (sheet, row, column) in ours or cell.style in styled:
                continue
            if not today or blank.is_blank(title, row, column):
                found.append(cell)
    return found


def _titles(before: Model, book: Book) -> dict[str, str]:
    """What each sheet of ours in a book is called in a template, by its title there."""
    ours = our_sheets(before, book)
    laid = {**hosts(before), **FORMER_SHEETS}
    apart = {there: title for title, there in ours.items() if title in laid}
    return apart | {there: title for title, there in ours.items() if title not in laid}


def _said(cell: CellRead) -> str:
    return f"{cell.where} '{cell.value}'"


def _some(found: list[str]) -> str:
    """The first of many, and how many more there are."""
    more = f" and {len(found) - NAMED} more" if len(found) > NAMED else ""
    return f"{', '.join(found[:NAMED])}{more}"


def known_names(book: Book, before: Model) -> Known:
    """Which names of a book are ours."""
    return Known(frozenset(template(before).names), made_by(book) != __version__)
