"""The formulas that belong into a book: those of its template, at the places of today.

Rows may have been inserted, columns of a table may have changed places, sheets may have been
renamed: names and tables that cannot be dragged along tell by how much each place moved.
"""

from __future__ import annotations

import re
from bisect import bisect_right
from collections.abc import Callable, Iterator
from dataclasses import dataclass, field
from functools import cached_property, lru_cache
from html import unescape

from ..engine.model import Model
from ..resources import resource
from ..xlsx.book import Area, Book, TableRead, quoted, unquoted
from ..xlsx.moved import APART, CORNER, PLACE, shifted
from ..xlsx.naming import Naming
from ..xlsx.places import place_of
from ..xlsx.scan import column_letters, column_number
from .entry import entries
from .layout import slug, titles
from .version import older_version

Address = tuple[str, int, int]
FORMULA = re.compile(rb'<c r="([A-Z]+)(\d+)"[^>]*><f>(.*?)</f>', re.DOTALL)
# Stands in a formula for the number of the row that it is in.
OWN_ROW = "\x00"


@dataclass
class Shift:
    """How places of one sheet moved: pairs of then and now, in order."""

    rows: list[tuple[int, int]] = field(default_factory=list)
    columns: list[tuple[int, int]] = field(default_factory=list)
    # Columns of tables that changed places.
    swapped: dict[int, int] = field(default_factory=dict)

    @property
    def none(self) -> bool:
        """Whether nothing moved."""
        pairs = [*self.rows, *self.columns, *self.swapped.items()]
        return all(then == now for then, now in pairs)

    def row(self, number: int) -> int:
        return _moved(self.rows, number)

    def column(self, number: int) -> int:
        return self.swapped.get(number) or _moved(self.columns, number)


def _moved(pairs: list[tuple[int, int]], number: int) -> int:
    if not pairs:
        return number
    at = max(0, bisect_right(pairs, (number, 1 << 30)) - 1)
    then, now = pairs[at]
    return number + now - then


@lru_cache(maxsize=8)
def template_book(name: str) -> Book:
    """The template of a model."""
    return Book.open(resource("workbook_templates", f"{name}.xlsx"))


@lru_cache(maxsize=8)
def _as_written(name: str) -> dict[str, dict[str, str]]:
    """Every formula of a template in the letters of its part, by sheet and reference."""
    book = template_book(name)
    return {
        sheet: {
            (letters + row).decode(): text.decode()
            for letters, row, text in FORMULA.findall(book.package.read(part))
        }
        for sheet, part in book.sheets.items()
    }


@lru_cache(maxsize=8)
def template_formulas(name: str) -> dict[str, dict[tuple[int, int], str]]:
    """The same as they read, by sheet and place."""
    return {
        sheet: {place_of(reference): unescape(text) for reference, text in found.items()}
        for sheet, found in _as_written(name).items()
    }


def has_its_own(model: Model, book: Book) -> bool:
    """Whether each formula of a template stands in a book where it was built; a quick look only."""
    wanted = _as_written(model.name).items()
    return all(s in book.sheets and book.scan(s).has_formulas(found) for s, found in wanted)


def rows_beyond(model: Model, book: Book) -> Iterator[tuple[Address, str]]:
    """The formulas of rows that a table has more than its template, where nothing else moved."""
    blank = template_book(model.name)
    for table in model.tables:
        read = book.tables.get(table.name)
        if read is None:
            continue
        then, now = blank.tables[table.name].area, read.area
        for row in range(then.last_row + 1, now.last_row + 1):
            for column in range(then.first_column, then.last_column + 1):
                text = template_formulas(model.name)[then.sheet].get((then.first_row, column))
                if text is not None:
                    yield (now.sheet, row, column), shifted(text, row - then.first_row, 0)


@lru_cache(maxsize=8)
def naming(name: str, prefix: str) -> Naming:
    """What the names and tables of a model are called behind a prefix."""
    book = template_book(name)
    return Naming(prefix, frozenset({*book.names, *book.tables}))


def our_sheets(model: Model, book: Book) -> dict[str, str]:
    """What each sheet of a model is called in a book: known by its state, never by its title.

    Sheets that an older version had are among them.
    """
    anchors = {sheet: book.area(f"state_{slug(sheet)}") for sheet in titles(model)}
    return {sheet: anchor.sheet for sheet, anchor in anchors.items() if anchor is not None}


@lru_cache(maxsize=8)
def _laid(model: Model) -> dict[str, list[tuple[int, str]]]:
    """Sheets of a model by the sheet of its template that they stand on, and by first column."""
    found: dict[str, list[tuple[int, str]]] = {}
    for sheet, _ in model.sheets:
        anchor = template_book(model.name).area(f"state_{slug(sheet)}")
        if anchor is not None:
            found.setdefault(anchor.sheet, []).append((anchor.first_column - 1, sheet))
    return {host: sorted(laid) for host, laid in found.items()}


class Pattern:
    """What belongs where in one book; each sheet of its model by itself, wherever it stands."""

    def __init__(self, model: Model, book: Book) -> None:
        self.book = book
        self.model, self.today = model.name, model.today
        self.naming = naming(model.name, book.prefix)
        self.template = template_book(model.name)
        self.formulas = template_formulas(model.name)
        self.laid = _laid(model)
        self._known: dict[tuple[str, int], str] = {}
        self.hosts = {sheet: host for host, laid in self.laid.items() for _, sheet in laid}
        there = our_sheets(model, book)
        self.sheets = {sheet: now for sheet, now in there.items() if sheet in self.hosts}
        of_rows = [table.name for table in model.tables]
        of_rows += [study.name for study in model.studies if study.columns]
        self.tables = {
            name: (self.template.tables[name], book.tables[name])
            for name in of_rows
            if name in book.tables
        }
        # Heads of today that the tables of an older book lack, as formulas write them.
        self.lacking = {
            f"[{head}]"
            for then, now in self.tables.values()
            for head in then.columns.keys() - now.columns.keys()
        }
        fields = book.tables.get("fields")
        self.fields = (self.template.tables["fields"], fields) if fields else None
        dragged = {entry.key.replace(".", "_") for entry in entries(model)}
        dragged |= {f"{name}_unit" for name in dragged}
        self.named: dict[Address, Address] = {}
        # Rows of the template whose value another version has on another sheet.
        self.elsewhere: set[tuple[str, int]] = set()
        # Cells of the template that an older version does not have.
        self.older = older_version(book)
        self.newer: set[Address] = set()
        self._pairs(dragged)
        pairs: dict[str, list[tuple[Address, Address]]] = {}
        for then, now in self.named.items():
            pairs.setdefault(self._sheet(then[0], then[2]), []).append((then, now))
        self.shifts = {sheet: self._shift(sheet, pairs.get(sheet, [])) for sheet in self.sheets}
        self.unmoved = all(
            self.hosts[sheet] == now and self.shifts[sheet].none
            for sheet, now in self.sheets.items()
        )

    def _sheet(self, host: str, column: int) -> str:
        """The sheet of the model to which a column of the template belongs."""
        if (host, column) not in self._known:
            laid = reversed(self.laid.get(host, []))
            found = next((sheet for first, sheet in laid if first <= column), host)
            self._known[host, column] = found
        return self._known[host, column]

    def _own(self, area: Area) -> str:
        return self._sheet(area.sheet, area.first_column)

    def _pairs(self, dragged: set[str]) -> None:
        """Every name that nobody drags along: where it stood and where it stands."""
        for name in self.template.names:
            if name in dragged:
                continue
            then, now = self.template.area(name), self.book.area(name)
            if then is not None and now is None and self.older:
                self.newer.add(then.first)
            if then is None or now is None:
                continue
            if now.sheet == self.sheets.get(self._own(then)):
                self.named[then.first] = now.first
            else:
                self.elsewhere.add(then.first[:2])

    def _shift(self, sheet: str, pairs: list[tuple[Address, Address]]) -> Shift:
        shift = Shift()
        rows = {then[1]: now[1] for then, now in pairs}
        columns = {then[2]: now[2] for then, now in pairs}
        of_units = [pair for pair in (self.fields,) if pair is not None]
        for then_table, now_table in (*self.tables.values(), *of_units):
            own = self._own(then_table.area) == sheet
            if own and now_table.area.sheet == self.sheets[sheet]:
                rows[then_table.area.first_row - 1] = now_table.area.first_row - 1
                rows[then_table.end_row + 1] = now_table.end_row + 1
                for head, column in then_table.columns.items():
                    if head in now_table.columns:
                        shift.swapped[column] = now_table.columns[head]
        if sheet == "Units":
            rows |= self.field_rows
        shift.rows, shift.columns = sorted(rows.items()), sorted(columns.items())
        return shift

    @cached_property
    def field_rows(self) -> dict[int, int]:
        """Rows of Units by the key that stands in each."""
        then, now = template_rows(self.model), keyed_rows(self.book, self.today)
        return {row: now[key] for key, row in then.items() if key in now}

    @cached_property
    def units_are_older(self) -> bool:
        """Whether Units is of another version, so that its formulas are others too."""
        if self.older:
            return True
        return self.fields is None or self.fields[0].columns.keys() != self.fields[1].columns.keys()

    def expected(self) -> Iterator[tuple[Address, str]]:
        """Every place in which a formula of ours belongs, and that formula."""
        return ((at, self.naming.formula(text)) for at, text in self._expected())

    def _expected(self) -> Iterator[tuple[Address, str]]:
        inside: set[tuple[str, int, int]] = set()
        for then, now in self.tables.values():
            sheet = then.area.sheet
            for row in range(then.area.first_row, then.end_row + 1):
                inside |= {(sheet, row, column) for column in then.columns.values()}
            # A table that an older version made otherwise keeps its formulas.
            kept = not then.columns.keys() <= now.columns.keys()
            if self._own(then.area) in self.sheets and not kept:
                yield from self._rows(then, now)
        lacking = set(template_rows(self.model).values()) - self.field_rows.keys()
        for host, formulas in self.formulas.items():
            for (row, column), text in formulas.items():
                sheet = self._sheet(host, column)
                if sheet not in self.sheets or (host, row, column) in inside:
                    continue
                if sheet == "Units" and (row in lacking or self.units_are_older):
                    continue
                if self.unmoved or sheet == "Units":
                    shift = self.shifts[sheet]
                    at = (self.sheets[sheet], shift.row(row), shift.column(column))
                elif (host, row, column) in self.named:
                    # Between names of a book of another version nothing is sure.
                    at = self.named[host, row, column]
                else:
                    continue
                if any(head in text for head in self.lacking):
                    continue
                if not self._reads_elsewhere(host, text):
                    unmoved = self.unmoved or not PLACE.search(text)
                    slotted = text if unmoved else self.moved(host, text, row)
                    yield at, slotted.replace(OWN_ROW, str(at[1]))

    def _reads_elsewhere(self, host: str, text: str) -> bool:
        """Whether a formula reads what stands on another sheet in the book, or is not there."""
        for found in PLACE.finditer(text) if self.elsewhere or self.newer else ():
            named = found["sheet"]
            sheet = unquoted(named) if named else host
            corner = CORNER.fullmatch(found["first"] or "")
            if corner and (sheet, int(corner[4])) in self.elsewhere:
                return True
            if corner and (sheet, int(corner[4]), column_number(corner[2])) in self.newer:
                return True
        return False

    def _rows(self, then: TableRead, now: TableRead) -> Iterator[tuple[Address, str]]:
        sheet, first = then.area.sheet, then.area.first_row
        for head, column in then.columns.items():
            text = self.formulas[sheet].get((first, column))
            if text is None or head not in now.columns:
                continue
            place, slotted = now.columns[head], self.moved(sheet, text, first)
            for row in range(now.area.first_row, now.area.last_row + 1):
                yield (now.area.sheet, row, place), slotted.replace(OWN_ROW, str(row))

    def moved(self, sheet: str, text: str, then: int) -> str:
        """A formula of a row of the template at the places of today, its own row left open."""

        def place(match: re.Match[str]) -> str:
            named = match["sheet"]
            host = unquoted(named) if named else sheet
            if match["top"]:
                return match.group()
            first = (match["first"] or match["from"]).replace("$", "").rstrip("0123456789")
            other = self._sheet(host, column_number(first))
            if other not in self.shifts:
                return match.group()
            shift = self.shifts[other]
            prefix = f"{quoted(self.sheets[other])}!" if named else ""
            if match["from"]:
                ends = [_column(match[end], shift) for end in ("from", "to")]
                return prefix + ":".join(ends)
            corners = [corner for corner in (match["first"], match["last"]) if corner]
            own = 0 if named else then
            return prefix + ":".join(_corner(corner, shift, own) for corner in corners)

        return "".join(
            piece if APART.fullmatch(piece) else PLACE.sub(place, piece)
            for piece in APART.split(text)
        )


def _column(text: str, shift: Shift) -> str:
    absolute = "$" if text.startswith("$") else ""
    return absolute + column_letters(shift.column(column_number(text.lstrip("$"))))


def _corner(text: str, shift: Shift, own: int) -> str:
    found = CORNER.fullmatch(text)
    assert found is not None
    row = int(found[4])
    # A place in the formula's own row goes with it.
    moved = OWN_ROW if row == own and not found[3] else str(shift.row(row))
    return f"{_column(found[1] + found[2], shift)}{found[3]}{moved}"


@lru_cache(maxsize=8)
def template_rows(name: str) -> dict[str, int]:
    return keyed_rows(template_book(name))


def keyed_rows(book: Book, today: Callable[[str], str] = str) -> dict[str, int]:
    """The rows of Units by their keys, as those are called now."""
    table = book.tables.get("fields")
    if table is None or "Name" not in table.columns:
        return {}
    rows = range(table.area.first_row, table.area.last_row + 1)
    keys = {book.cell(table.area.sheet, row, table.columns["Name"]).value: row for row in rows}
    return {today(str(key)): row for key, row in keys.items() if key is not None}


def same_formula(found: str, expected: str) -> bool:
    """Whether two formulas say the same; blanks and capitals outside words do not count."""
    return found == expected or _plain(found) == _plain(expected)


def _plain(text: str) -> str:
    return "".join(
        piece if piece.startswith('"') else "".join(piece.split()).upper()
        for piece in re.split(r'("[^"]*")', text.removeprefix("="))
    )
