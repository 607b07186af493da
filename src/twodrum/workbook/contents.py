"""What each of our cells is to hold: results, cached values, notes, Record, snapshot."""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, field, replace
from decimal import Decimal
from functools import cached_property, lru_cache

from .. import __version__
from ..engine.evaluate import Value, Values, not_computed
from ..engine.model import (
    Cell,
    Column,
    Field,
    Grid,
    Line,
    Listing,
    Model,
    Page,
    Study,
    Table,
    declared,
)
from ..engine.order import depends, filled
from ..engine.references import Name
from ..problems import WARNING, Problem, count_problems, sentence, with_capital
from ..units import KINDS, UNIT_TABLE, shown
from ..xlsx.book import Area, Book, CellRead, TableRead
from ..xlsx.write import NOT_AVAILABLE, Address, Content, Error, Write, rows_without
from .checks import (
    BETWEEN,
    CHANGED_SAID,
    NEVER_FILLED,
    NEXT,
    PROBE,
    TYPE_FIRST,
    Outcome,
    notes_said,
    states,
    to_type,
)
from .issued import ACCEPTANCE, ISSUED_AS, page_words
from .layout import (
    FIELD_COLUMNS,
    GRID_HEADS,
    LATER,
    UNIT_ROW,
    InputBlock,
    Layout,
    accepted_name,
    below_name,
    grid_name,
    guide,
    has_field_row,
    in_workings,
    input_blocks,
    limits_of,
    listing_name,
    make_layout,
    more_name,
    own_units,
    said_name,
    slug,
    titles,
    unit_choices,
    value_header,
    words_name,
)
from .native import Native
from .pattern import naming, our_sheets
from .read import Inputs, bounds, written_headers


def si_content(value: Value) -> Content:
    """What an SI cell holds: a number, "" for a blank, #N/A for a refused value."""
    if value.refused:
        return "" if value.kind == "text" and value.depends else NOT_AVAILABLE
    return "" if value.si is None else value.si


def shown_content(value: Value) -> Content:
    """The same in the unit of the value."""
    content = si_content(value)
    if value.kind not in KINDS or not isinstance(content, (int, float, Decimal)):
        return content
    add, times = UNIT_TABLE[value.kind][value.unit]
    if isinstance(content, Decimal):
        return content
    return content / times - add


# Kinds of cells that a live comparison finds to be an error, and those that it finds unlike their
# snapshot whatever that holds.
ERROR = ("error",)
UNLIKE = ("error", "uncalculated", "bool")


@dataclass(frozen=True)
class Kept:
    """Of the quote: the revision that the workbook is, 0 for none; cells of those kept."""

    issued_as: int = 0
    writes: Mapping[Address, Write] = field(default_factory=dict)


class Contents:
    """All cells that belong to us in one book, and what each is to hold."""

    def __init__(
        self,
        model: Model,
        book: Book,
        inputs: Inputs,
        values: Values,
        problems: list[Problem],
        by_functions: bool = False,
        kept: Kept | None = None,
        never_filled: bool = False,
        every: bool = False,
    ) -> None:
        self.model = model
        self.book = book
        self.inputs = inputs
        self.values = values
        self.problems = problems
        self.layout: Layout = make_layout(model)
        self.results = frozenset(cell.name for cell in model.cells)
        self.filled = filled(model)
        self.native = Native(self.layout)
        # Whether results that no live formula gives become calls of worksheet functions.
        self.by_functions = by_functions
        # What is kept of the quote as it was issued.
        self.kept = kept or Kept()
        # Whether it is what live formulas show before anything was ever filled.
        self.never_filled = never_filled
        # Whether blank rows that stand as they are to be are told too.
        self.every = every
        self.state, self.stale = "", False
        # Rows of letters, by the title of their sheet in a template: whether they say nothing.
        self.unseen: dict[str, dict[int, bool]] = {}
        self.still_to_type = 0
        self._writes: dict[Address, Write] = {}

    def writes(self) -> dict[Address, Write]:
        """Every write; the snapshot comes late, because a unit may be a formula of ours."""
        parts = [self._inputs(), self._results()]
        parts += [self._table(table.name) for table in self.model.tables]
        parts += [self._study(study) for study in self.model.studies]
        parts += [self._page(page) for page in self.model.pages]
        parts += [self._accepted(), self._to_do()]
        parts += [self._fields(), self._record(), self._snapshot(), self._states()]
        for part in parts:
            self._writes.update(part)
        return self._writes

    def _named(self, name: str, value: Content, cached: bool) -> Iterator[tuple[Address, Write]]:
        area = self.book.area(name)
        if area is not None:
            address = area.first
            if not cached or self.book.has_formula(*address):
                yield address, Write(value, cached)

    def _inputs(self) -> Iterator[tuple[Address, Write]]:
        for item in self.model.fields():
            value = self.values.names[item.name]
            if has_field_row(item):
                yield from self._named(f"{item.name}_si", si_content(value), True)
            yield from self._named(f"{item.name}_note", self._input_note(item, value), False)
            if item.kind == "money":
                yield from self._named(f"{item.name}_unit", self._currency(), True)

    def _currency(self) -> Content:
        return si_content(self.values.names["currency"])

    def _input_note(self, item: Field, value: Value) -> str:
        if value.refused:
            return value.why
        if value.blank and value.assumed:
            return f"{item.guide} Blank: {value_said(value)}, {value.assumed}.".strip()
        return guide(item)

    def _results(self) -> Iterator[tuple[Address, Write]]:
        for cell in self.model.cells:
            value = self.values.names[cell.name]
            yield from self._si(cell, value)
            yield from self._named(cell.name, self._shown(cell.name, value), True)
            note = value.why or cell.guide or None
            yield from self._named(f"{cell.name}_note", note, False)
            if cell.kind == "money":
                yield from self._named(f"{cell.name}_unit", self._currency(), True)
        for name in self.model.headlines:
            value = self.values.names[name]
            yield from self._named(f"start_{name}", self._shown(name, value), True)
            unit = self._unit_said(name, value)
            yield from self._named(f"start_{name}_unit", unit, True)

    def _si(self, cell: Cell, value: Value) -> Iterator[tuple[Address, Write]]:
        content = si_content(value)
        if cell.name not in self.filled:
            yield from self._named(f"{cell.name}_si", content, True)
            return
        formula = self._by_function(cell)
        live = self.by_functions and bool(formula)
        plain = None if content == "" and not live else content
        for address, _ in self._named(f"{cell.name}_si", plain, False):
            yield address, Write(plain, formula=formula, live=live)

    def _by_function(self, cell: Cell) -> str:
        """The call of a cell's worksheet function, where the book has all that it reads."""
        names = [self.native.value_name(name) for name in depends(cell) if "." not in name]
        known = all(self.book.area(name) is not None for name in names)
        formula = self.native.by_function(cell) if known else ""
        return naming(self.model.name, self.book.prefix).formula(formula)

    def _shown(self, key: str, value: Value) -> Content:
        if key in self.inputs.bad_units:
            return NOT_AVAILABLE
        return shown_content(value)

    def _unit_said(self, key: str, value: Value) -> Content:
        """What stands beside a number: its unit, or the currency."""
        return self._currency() if value.kind == "money" else self._unit_text(key, value)

    def _unit_text(self, key: str, value: Value) -> Content:
        cell = self.book.named(f"{key}_unit")
        if cell is None:
            return value.unit
        return cell.value if isinstance(cell.value, (str, float)) else 0

    def _table(self, name: str) -> Iterator[tuple[Address, Write]]:
        read = self.book.tables.get(name)
        if read is None or name in self.inputs.behind:
            return
        used = dict(zip(self.inputs.rows[name], self.values.tables[name].rows))
        written = {"Note", *written_headers(self.model, name)}
        table = self.model.table(name)
        shown = [column for column in self.model.columns_of(name) if not column.working]
        items: list[Field | Column] = [*table.fields, *shown]
        for item in items:
            if item.kind == "money":
                unit = f"{name}_{item.name}_unit"
                yield from self._named(unit, self._currency(), True)
        typed = () if table.keys else tuple(item for item in table.fields if in_workings(item))
        kept = _kept_columns(self.model, name)
        # Rows without an entry hold all the same.
        blank = self._row(table, typed, kept, None)
        places = {header: read.columns[header] for header in blank if header in read.columns}
        sheet, rows = read.area.sheet, range(read.area.first_row, read.area.last_row + 1)
        unused = [row for row in rows if row not in used]
        for header, column in places.items():
            yield from self._unused(sheet, unused, column, blank[header], header in written)
        live = self.book.live(sheet, used, places.values())
        for row, values in used.items():
            contents = self._row(table, typed, kept, values)
            for header, column in places.items():
                content = contents[header]
                if header in written:
                    yield (sheet, row, column), Write(None if content == "" else content)
                # A formula that was typed over is told as a problem, never papered over.
                elif (row, column) in live:
                    yield (sheet, row, column), Write(content, True)

    def _unused(
        self, sheet: str, rows: Sequence[int], column: int, content: Content, written: bool
    ) -> Iterator[tuple[Address, Write]]:
        """A column in rows without an entry, which hold all the same: most of them stand so."""
        write = Write(None if content == "" else content) if written else Write(content, True)
        asked = rows if self.every else rows_without(self.book, sheet, rows, column, write)
        for row in asked:
            if written or self.book.has_formula(sheet, row, column):
                yield (sheet, row, column), write

    def _row(
        self,
        table: Table,
        typed: Iterable[Field],
        kept: Iterable[_KeptColumn],
        values: Mapping[str, Value] | None,
    ) -> dict[str, Content]:
        """What a row of a table holds, by the headings of its columns; None: it has no entry."""
        told = [self._row_note(values), *self._row_warnings(values)]
        contents: dict[str, Content] = {"Note": ". ".join(t for t in told if t) or None}
        contents["In use"] = self._used(table, values)
        if table.used_by:
            contents["Row"] = self._source_row(table, values)
        for item in typed:
            contents[value_header(item)] = self._input_si(item, values)
        for name, key, header, label in kept:
            value = values[name] if values else None
            if header:
                contents[header] = si_content(value) if value else ""
            if label:
                contents[label] = self._shown(key, value) if value else ""
        return contents

    def _input_si(self, item: Field, values: Mapping[str, Value] | None) -> Content:
        if values is not None:
            return si_content(values[item.name])
        if isinstance(item.default, Name):
            return si_content(self.values.names[item.default.name])
        return "" if item.default is None else item.default

    @cached_property
    def _warnings(self) -> dict[str, list[int]]:
        """Notes by the cell at which each is told, by their places among the problems."""
        found: dict[str, list[int]] = {}
        for place, problem in enumerate(self.problems):
            if problem.severity == WARNING:
                found.setdefault(problem.where, []).append(place)
        return found

    def _row_warnings(self, values: Mapping[str, Value] | None) -> list[str]:
        """Notes told at a cell of this row, but for those of its verdict."""
        cells = {value.where for value in (values or {}).values()}
        places = sorted(place for where in cells for place in self._warnings.get(where, ()))
        verdict = str(values["verdict"].si).casefold() if values and "verdict" in values else ""
        told = [self.problems[place].text for place in places]
        return [with_capital(t) for t in told if t.split("; ")[0].casefold() not in verdict]

    def _row_note(self, values: Mapping[str, Value] | None) -> str | None:
        if values is None:
            return None
        refused = [value for value in values.values() if value.refused]
        own = dict.fromkeys(v.why for v in refused if not v.why.startswith("not computed"))
        if own:
            return ". ".join(own)
        roots = dict.fromkeys(root for value in refused for root in value.roots)
        return not_computed(list(roots)) if roots else None

    def _used(self, table: Table, values: Mapping[str, Value] | None) -> Content:
        if not table.used_by:
            return int(values is not None)
        if values is None:
            return 0
        count = self._source_count(table, values)
        return max(count, int(values[table.key].si in table.must_have))

    def _source_count(self, table: Table, values: Mapping[str, Value]) -> int:
        source = self.model.table(table.used_by)
        rows = self.values.tables[source.name].rows
        return sum(row[source.key].si == values[table.key].si for row in rows)

    def _source_row(self, table: Table, values: Mapping[str, Value] | None) -> Content:
        if values is None or self._source_count(table, values) != 1:
            return ""
        source = self.model.table(table.used_by)
        read = self.book.tables[source.name]
        for row, candidate in zip(
            self.inputs.rows[source.name], self.values.tables[source.name].rows
        ):
            if candidate[source.key].si == values[table.key].si:
                return row - read.area.first_row + 1
        return ""

    def _study(self, study: Study) -> Iterator[tuple[Address, Write]]:
        read = self.book.tables.get(study.name)
        if read is None or not self._has_columns(study, read):
            return
        rows = self.values.studies[study.name]
        units = {
            c.name: self.inputs.unit(c, f"{study.name}.{c.name}", self._study_unit(study, c))
            for c in study.columns
            if c.name not in study.units
        }
        own = [c.name for c in own_units(study)]
        for item in study.columns:
            if item.kind == "money":
                unit = f"{study.name}_{item.name}_unit"
                yield from self._named(unit, self._currency(), True)
        for name, key in study.units.items():
            units[name] = self.inputs.units.get(key, declared(self.model, key).unit("metric"))
            yield from self._named(f"{study.name}_{name}_in", units[name], False)
        sheet, every = read.area.sheet, range(read.area.first_row, read.area.last_row + 1)
        plain = [read.columns[value_header(i) if i.name in own else i.label] for i in study.columns]
        for row, contents in zip(every, rows):
            for item, place, content in zip(study.columns, plain, contents):
                if item.name in own:
                    add, times = UNIT_TABLE[item.kind][units[item.name]]
                    text: Content = "" if content is None else content / times - add
                    if f"{study.name}.{item.name}" in self.inputs.bad_units and text != "":
                        text = NOT_AVAILABLE
                    yield (sheet, row, read.columns[item.label]), Write(text, True)
                there = content
                if item.name in study.units and content is not None:
                    add, times = UNIT_TABLE[item.kind][units[item.name]]
                    there = content / times - add
                yield (sheet, row, place), Write(there)
        unused = every[len(rows) :]
        # Most of a block is blank and stays so.
        for row, place in self.book.filled(sheet, unused, plain):
            yield (sheet, row, place), Write(None)
        for item in study.columns:
            if item.name in own:
                place = read.columns[item.label]
                yield from (((sheet, row, place), Write("", True)) for row in unused)

    def _has_columns(self, study: Study, read: TableRead) -> bool:
        wanted = {item.label for item in study.columns}
        wanted |= {value_header(item) for item in own_units(study)}
        return wanted <= set(read.columns)

    def _study_unit(self, study: Study, item: Field):  # type: ignore[no-untyped-def]
        return self.book.named(f"{study.name}_{item.name}_unit") if unit_choices(item) else None

    def _to_do(self) -> Iterator[tuple[Address, Write]]:
        """How much is still to type, sheet by sheet; what to do next is written with the state."""
        area = self.book.area("to_type_now")
        if area is None:
            return
        self.still_to_type = 0
        for row, needed in enumerate(to_type(self.model).values(), area.first_row):
            count = 0
            for name in needed:
                if name.endswith("."):
                    count += int(not self.values.tables[name[:-1]].rows)
                else:
                    cell = self.book.named(name)
                    count += int(cell is None or cell.kind == "blank" or cell.value == "")
            self.still_to_type += count
            yield (area.sheet, row, area.first_column), Write(count, True)

    def _accepted(self) -> Iterator[tuple[Address, Write]]:
        if not self.model.accepted:
            return
        yield from self.kept.writes.items()
        yield from self._named(ISSUED_AS, self.kept.issued_as or None, False)
        for name in self.model.accepted:
            value, own = self.values.names[name], accepted_name(name)
            si = self.values.names[own].si
            yield from self._named(own, self._shown(name, replace(value, si=si, why="")), True)
            yield from self._named(f"{own}_now", self._shown(name, value), True)
            if value.kind != "money":
                yield from self._named(f"{own}_unit", self._unit_text(name, value), True)

    def _of_page(self) -> Iterator[tuple[Address, Write]]:
        """What the page of the quote says of itself."""
        if not self.model.accepted:
            return
        until = si_content(self.values.names["valid_until"])
        said = page_words(self.kept.issued_as, until, self.stale)
        pages = [page.sheet for page in self.model.pages]
        for name, content in said.items():
            yield from self._named(name, content, True)
        for name in ACCEPTANCE:
            area = self.book.area(name)
            now = self.kept.writes.get(area.first) if area else None
            accepted = now.value if now else self._typed(name)
            said[name] = "" if accepted is None else accepted
        for name, content in said.items():
            for sheet in pages:
                yield from self._named(said_name(sheet, name), content, True)

    def _page(self, page: Page) -> Iterator[tuple[Address, Write]]:
        unseen = self.unseen.setdefault(page.sheet, {}) if page.letter else None
        for line in page.lines:
            if isinstance(line, Grid):
                yield from self._grid(page.sheet, line)
                continue
            if isinstance(line, Listing):
                found = dict(self._listing(page.sheet, line))
            else:
                found = dict(self._page_line(page.sheet, line))
            yield from found.items()
            if unseen is not None and found:
                unseen.update(self._silent(line, found))
        if page.sheet in LATER and unseen:
            # LibreOffice prints a hidden sheet: it has nothing to print before its time.
            sheet = our_sheets(self.model, self.book).get(page.sheet, page.sheet)
            accepted = any(self.values.names[accepted_name(n)].si for n in self.model.accepted)
            rows = range(UNIT_ROW, self.book.bottom(sheet, range(1, 5)) + 1)
            silent = dict.fromkeys(rows, False) | unseen if accepted else dict.fromkeys(rows, True)
            unseen.update(silent)

    def _silent(
        self, line: Line | Listing, found: Mapping[Address, Write]
    ) -> Iterator[tuple[int, bool]]:
        """The rows of a line of a letter, and whether they say nothing."""
        rows: dict[int, bool] = {}
        for (_, row, _), write in found.items():
            rows[row] = rows.get(row, True) and write.value == ""
        if isinstance(line, Line) and line.look == "heading":
            # A heading goes with the blank row above it.
            rows |= {row - 1: silent for row, silent in rows.items()}
        yield from rows.items() if not isinstance(line, Line) or line.look != "title" else ()

    def _page_line(self, sheet: str, line: Line) -> Iterator[tuple[Address, Write]]:
        there = self._there(line)
        if line.words.startswith("=") or line.conditional:
            words: Content = line.words
            if line.words.startswith("="):
                words = self._typed(line.words[1:])
            yield from self._named(words_name(sheet, line.key), _if(there, words), True)
        # The state of the workbook is written with the other states.
        if not line.name or line.name not in self.values.names:
            return
        value = self.values.names[line.name]
        said, content = said_name(sheet, line.name), _if(there, self._shown(line.name, value))
        yield from self._named(said, content, True)
        unit = self._unit_said(line.name, value)
        yield from self._named(f"{said}_unit", "" if content == "" else unit, True)

    def _typed(self, name: str) -> Content:
        """A text as it was typed, or as it follows; or nothing."""
        if name in self.results:
            return self._shown(name, self.values.names[name])
        cell = self.book.named(name)
        return "" if cell is None or cell.kind == "blank" else cell.value

    def _there(self, line: Line) -> Content:
        """Whether a line of a page is there: 1 or 0, or the error that keeps it from saying so."""
        there = all(self._typed(name) != "" for name in line.needs)
        there &= not line.any_of or any(self._typed(name) != "" for name in line.any_of)
        there &= all(self._typed(name) == "" for name in line.lacks)
        if line.unless_zero:
            content = self._shown(line.name, self.values.names[line.name])
            if isinstance(content, Error):
                return content
            there &= isinstance(content, (int, float, Decimal)) and content > 0
        return int(there)

    def _grid(self, sheet: str, grid: Grid) -> Iterator[tuple[Address, Write]]:
        if grid.table in self.inputs.behind:
            return
        rows = self.values.tables[grid.table].rows
        keys = [*range(grid.wide * grid.high)]
        parts = (
            ("body", grid.column, keys),
            ("down", grid.down, keys[:: grid.wide]),
            ("across", grid.across, keys[: grid.wide]),
        )
        for part, column, places in parts:
            area = self.book.area(grid_name(sheet, grid, part))
            if area is None:
                continue
            cells = [
                (area.sheet, row, place)
                for row in range(area.first_row, area.last_row + 1)
                for place in range(area.first_column, area.last_column + 1)
            ]
            for address, key in zip(cells, places):
                if self.book.has_formula(*address):
                    content = self._shown(f"{grid.table}.{column}", rows[key][column])
                    yield address, Write(content, True)
        for letter, column in (("a", grid.down), ("b", grid.across), ("c", grid.column)):
            item = self.model.column_item(grid.table, column)
            unit = self._currency()
            if item.kind != "money":
                cell = self.book.named(f"{grid.table}_{column}_unit")
                unit = self._raw(cell) if cell else item.unit("metric")
            said = grid_name(sheet, grid, f"{letter}_head")
            yield from self._named(said, f"{item.label}{GRID_HEADS[letter]}{unit}", True)

    def _listing(self, sheet: str, listing: Listing) -> Iterator[tuple[Address, Write]]:
        area = self.book.area(listing_name(sheet, listing.table))
        read = self.book.tables.get(listing.table)
        if area is None or read is None:
            return
        used = dict(zip(self.inputs.rows[listing.table], self.values.tables[listing.table].rows))
        key = self.model.table(listing.table).key_field.name
        for index, column in enumerate(listing.columns):
            head = self.book.cell(area.sheet, area.first_row - 1, area.first_column + index)
            if head.value != self.model.column_item(listing.table, column).label:
                # An older version lists something else there.
                continue
            unit = self.book.named(f"{listing.table}_{column}_unit")
            above = (head.sheet, head.row - 1, head.column)
            if unit is not None and self.book.has_formula(*above):
                yield above, Write(self._raw(unit), True)
            for offset in range(area.last_row - area.first_row + 1):
                row = used.get(read.area.first_row + offset)
                named = row is not None and row[key].si is not None
                content: Content = ""
                address = (area.sheet, area.first_row + offset, area.first_column + index)
                if named and row is not None:
                    content = self._shown(f"{listing.table}.{column}", row[column])
                    item = self.model.column_item(listing.table, column)
                    if item.kind not in KINDS and item.label in read.columns:
                        # Words are listed as they were typed, whatever is wrong with them.
                        at = read.area.first_row + offset
                        typed = self.book.cell(read.area.sheet, at, read.columns[item.label])
                        content = "" if typed.kind == "blank" else typed.value
                        if column == listing.behind[0]:
                            content = self._with_words(content, at, address, listing)
                if self.book.has_formula(*address):
                    yield address, Write(content, True)
        rows = [n - read.area.first_row for n, row in used.items() if row[key].si is not None]
        more = sum(offset < area.last_row - area.first_row + 1 for offset in rows) < len(used)
        said = more_name(sheet, listing.table)
        yield from self._named(said, listing.more if more else "", True)

    def _with_words(
        self, content: Content, row: int, shown_at: Address, listing: Listing
    ) -> Content:
        """A text of a listing with what stands behind it; a page of before has only the text."""
        read = self.book.tables[listing.table]
        label = self.model.column_item(listing.table, listing.behind[1]).label
        if label not in read.columns or f"[{label}]" not in self.book.cell(*shown_at).formula_text:
            return content
        cell = self.book.cell(read.area.sheet, row, read.columns[label])
        words = content if cell.kind == "blank" else f"{content} ({cell.value})"
        # As the formula trims it.
        return " ".join(word for word in str(words).split(" ") if word)

    def _fields(self) -> Iterator[tuple[Address, Write]]:
        read = self.book.tables.get("fields")
        if read is None or not set(FIELD_COLUMNS) <= set(read.columns):
            return
        for row in range(read.area.first_row, read.area.last_row + 1):
            key = self.book.cell(read.area.sheet, row, read.columns["Name"]).value
            key = self.model.today(key) if isinstance(key, str) else ""
            if key not in self.layout.field_rows:
                continue
            contents = self._field(key)
            for header in contents.keys() & read.columns.keys():
                content, at = contents[header], (read.area.sheet, row, read.columns[header])
                if not self.book.has_formula(*at):
                    continue
                if header == "If blank in SI":
                    # An older version may have another default.
                    text = self.book.cell(*at).formula_text
                    default = self.values.names.get(self.model.today(text).removesuffix("_si"))
                    content = content if default is None else si_content(default)
                yield at, Write(content, True)

    def _field(self, key: str) -> dict[str, Content]:
        item = declared(self.model, key)
        contents: dict[str, Content] = {}
        if item.kind in KINDS:
            cell = self.book.named(key.replace(".", "_") + "_unit")
            # Of a table without a row no unit was read yet.
            unit = self.inputs.units.get(key) or self.inputs.unit(item, key, cell)
            bad = key in self.inputs.bad_units
            # Older versions have it in a column.
            contents["Unit now"] = unit if not bad else self._raw(cell)
            most = math.inf
            if isinstance(item, Field):
                known = [self.values.names[name].si for name in limits_of(self.model, key)]
                most = min([item.most, *(limit for limit in known if limit is not None)])
            numbers = _unit_numbers(self.model, key, unit, most)
            for header, number in zip(("Add", "Times", "From", "To"), numbers):
                contents[header] = NOT_AVAILABLE if bad else number
            contents["None below"] = int(unit == "%" and not bad)
        if isinstance(item, Field):
            contents["If blank in SI"] = self._if_blank(item, key)
        return contents

    def _raw(self, cell: CellRead | None) -> Content:
        if cell is None or cell.kind == "blank":
            return 0
        return cell.value

    def _if_blank(self, item: Field, key: str) -> Content:
        if isinstance(item.default, Name):
            return si_content(self.values.names[item.default.name])
        if item.default is not None:
            return item.default  # type: ignore[no-any-return]
        return NOT_AVAILABLE if item.required and "." not in key else ""

    def _record(self) -> Iterator[tuple[Address, Write]]:
        count = count_problems(self.problems)
        yield from self._named("problem_count", count, False)
        yield from self._named("note_count", len(self.problems) - count, False)
        yield from self._named("filled_by", f"twodrum {__version__}", False)
        lines = [(p.where, p.severity, p.text) for p in self.problems]
        yield from self._list("record_problems", lines)
        yield from self._list("record_assumed", list(self.assumed()))

    def _changed(self, outcome: Outcome) -> Iterator[tuple[Address, Write]]:
        """Which blocks of inputs were typed into since the last fill, told on every sheet."""
        joined = ""
        for block in input_blocks(self.layout):
            said = f"{block.label}{BETWEEN}" if block.name in outcome.error_blocks else ""
            joined += said
            yield from self._named(f"{block.name}_changed_said", said, True)
        blocks = joined.removesuffix(BETWEEN)
        notes = notes_said(outcome.problem_count, len(self.problems) - outcome.problem_count)
        notes = "" if self.never_filled else notes
        told = CHANGED_SAID + blocks if blocks else notes
        beside = NEVER_FILLED if self.never_filled else told
        for name, content in (
            ("changed_joined", joined),
            ("changed_blocks", blocks),
            ("notes_said", notes),
            ("filled_said", told),
            ("functions_said", told),
            ("beside_said", beside),
        ):
            yield from self._named(name, content, True)
        for sheet in titles(self.model):
            yield from self._named(f"notes_{slug(sheet)}", beside, True)
        live = self.by_functions
        for address, _ in self._named("live_probe", None, False):
            yield address, Write(1.0 if live else None, formula=PROBE, live=live)

    def assumed(self) -> Iterator[tuple[str, str, str]]:
        """(what, value, why) of every default that was used."""
        for item in self.model.fields():
            value = self.values.names[item.name]
            if value.assumed:
                yield item.label, value_said(value), value.assumed
        for table in self.model.tables:
            for item in () if table.keys else table.fields:
                cells = [row[item.name] for row in self.values.tables[table.name].rows]
                blanks = [cell for cell in cells if cell.assumed]
                if blanks:
                    what = f"{table.label}: {item.label}, {rows_said(blanks)}"
                    yield what, value_said(blanks[0]), blanks[0].assumed

    def _list(
        self, name: str, lines: list[tuple[str, str, str]]
    ) -> Iterator[tuple[Address, Write]]:
        area = self.book.area(name)
        if area is None:
            return
        room = area.last_row - area.first_row + 1
        if len(lines) > room:
            rest = sentence(f"{len(lines) - room + 1} more", "twodrum check tells them all")
            lines = [*lines[: room - 1], ("", "", rest)]
        for index in range(room):
            line = lines[index] if index < len(lines) else (None, None, None)
            for offset, text in enumerate(line):
                address = (area.sheet, area.first_row + index, area.first_column + offset)
                yield address, Write(text or None)

    def _snapshot(self) -> Iterator[tuple[Address, Write]]:
        for block in input_blocks(self.layout):
            source, kept = self._block_area(block.name), self.book.area(f"{block.name}_kept")
            if source is None or kept is None:
                continue
            sheet, first_row, first_column, rows, columns = source
            room = kept.last_row - kept.first_row + 1
            there = self._places(sheet, first_row, first_column, min(rows, room), columns)
            down, right = kept.first_row - first_row, kept.first_column - first_column
            found = {
                (row + down, column + right): self._kept((sheet, row, column))
                for row, column in there
            }
            # Most of the room is blank and stays so.
            used = min(room, max(rows, self._bottom(kept) - kept.first_row + 1))
            beside = range(kept.first_column, kept.first_column + columns)
            of_before = self.book.filled(
                kept.sheet, range(kept.first_row, kept.first_row + used), beside
            )
            for row, column in of_before | found.keys():
                yield (kept.sheet, row, column), Write(found.get((row, column)))

    def _kept(self, at: Address) -> Content:
        ours = self._writes.get(at)
        if ours is not None:
            return ours.value if not isinstance(ours.value, Error) else None
        cell = self.book.cell(*at)
        if cell.kind == "bool":
            return "TRUE" if cell.value else "FALSE"
        if cell.kind in ("error", "uncalculated"):
            return None
        return cell.value

    def _places(
        self, sheet: str, first_row: int, first_column: int, rows: int, columns: int
    ) -> set[tuple[int, int]]:
        """The places of a block in which something stands, or is to stand."""
        down, right = (
            range(first_row, first_row + rows),
            range(first_column, first_column + columns),
        )
        ours = self._written_on.get(sheet, ())
        there = self.book.filled(sheet, down, right)
        return there | {(row, column) for row, column in ours if row in down and column in right}

    @cached_property
    def _written_on(self) -> dict[str, list[tuple[int, int]]]:
        """Where something is written, by the sheets that are typed into."""
        typed = {
            source[0] for b in input_blocks(self.layout) if (source := self._block_area(b.name))
        }
        found: dict[str, list[tuple[int, int]]] = {sheet: [] for sheet in typed}
        for sheet, row, column in self._writes:
            if sheet in found:
                found[sheet].append((row, column))
        return found

    def _block_area(self, name: str) -> tuple[str, int, int, int, int] | None:
        table = self.book.tables.get(name)
        if table is not None and name in {t.name for t in self.model.tables}:
            heads = [table.columns.get(item.label) for item in self.model.table(name).fields]
            known = [column for column in heads if column is not None]
            rows = table.area.last_row - table.area.first_row + 1
            if not known:
                return None
            return table.area.sheet, table.area.first_row, min(known), rows, len(known)
        area = self.book.area(f"{name}_in")
        if area is None:
            return None
        rows, columns = area.last_row - area.first_row + 1, area.last_column - area.first_column + 1
        return area.sheet, area.first_row, area.first_column, rows, columns

    def _counts(self) -> dict[str, int]:
        """How many cells of each block of inputs a live comparison finds unlike its snapshot."""
        found = {}
        for block in input_blocks(self.layout):
            source = self._block_area(block.name)
            if source is None:
                continue
            sheet, first_row, first_column, rows, columns = source
            places = self._places(sheet, first_row, first_column, rows, columns)
            cells = [(sheet, row, column) for row, column in places]
            if self.never_filled:
                count = sum(self.book.cell(*at).kind != "blank" for at in cells)
                found[block.name] = 1 if self._any(cells, ERROR) else count
            else:
                found[block.name] = int(self._any(cells, UNLIKE))
            # An error among its own cells hides what is below.
            if not self._any(cells, ERROR):
                found[block.name] += self._below(block)
        return found

    def _below(self, block: InputBlock) -> int:
        """How many cells below a table hold something."""
        area = self.book.area(below_name(block.name)) if block.name == block.table else None
        if area is None:
            return 0
        last = min(area.last_row, self._bottom(area))
        return sum(
            not self.book.is_blank(area.sheet, row, column)
            for row in range(area.first_row, last + 1)
            for column in range(area.first_column, area.last_column + 1)
        )

    def _bottom(self, area: Area) -> int:
        """The last row in the columns of an area in which anything may stand."""
        return self.book.bottom(area.sheet, range(area.first_column, area.last_column + 1))

    def _any(self, cells: Iterable[Address], kinds: tuple[str, ...]) -> bool:
        """Whether one of these cells will hold an error of ours, or is of these kinds."""
        for at in cells:
            ours = self._writes.get(at)
            if self.book.cell(*at).kind in kinds if ours is None else isinstance(ours.value, Error):
                return True
        return False

    def _states(self) -> Iterator[tuple[Address, Write]]:
        # Before the first fill they are told nowhere in the workbook.
        count = 0 if self.never_filled else count_problems(self.problems)
        counts = self._counts()
        unlike = frozenset(block for block, cells in counts.items() if cells)
        picked = (key for key in self.inputs.bad_units if self.book.area(f"{key}_unit"))
        unknown = frozenset(picked)
        outcome = Outcome(self.values, count, unlike, unknown)
        found = states(self.layout, outcome)
        self.state, self.stale = found["overall_state"], found["stale_state"] != "OK"
        for name, state in found.items():
            yield from self._named(name, state, True)
        for block in input_blocks(self.layout):
            yield from self._named(f"{block.name}_changed", counts.get(block.name, 0), True)
        for sheet in titles(self.model):
            yield from self._named(f"state_{slug(sheet)}", self.state, True)
        for page in self.model.pages:
            yield from self._named(said_name(page.sheet, "overall_state"), self.state, True)
        yield from self._of_page()
        yield from self._changed(outcome)
        next_step = TYPE_FIRST if self.still_to_type else dict(NEXT)[self.state]
        yield from self._named("next_step", next_step, True)


# Of a result column: its name and key, and the headings of its value in SI and of the one shown,
# "" where it has no such column.
_KeptColumn = tuple[str, str, str, str]


@lru_cache(maxsize=1 << 12)
def _unit_numbers(model: Model, key: str, unit: str, most: float) -> tuple[Content, ...]:
    """What Units says of a unit of an input or result: what is added, the factor, the bounds."""
    item = declared(model, key)
    add, times = UNIT_TABLE[item.kind][unit]
    if not isinstance(item, Field):
        return add, times
    return (add, times, *bounds(item.least, most, add, times))


@lru_cache(maxsize=1 << 8)
def _kept_columns(model: Model, table: str) -> tuple[_KeptColumn, ...]:
    return tuple(
        (
            column.name,
            f"{table}.{column.name}",
            value_header(column) if in_workings(column) else "",
            "" if column.working else column.label,
        )
        for column in model.columns_of(table)
    )


def _if(there: Content, content: Content) -> Content:
    """What a conditional cell holds: its content, nothing, or the error of its condition."""
    if isinstance(there, Error):
        return there
    return content if there else ""


def value_said(value: Value) -> str:
    """A value as people say it."""
    if value.kind in KINDS and isinstance(value.si, (int, float)):
        return shown(float(value.si), value.kind, value.unit)
    return str(value.si)


def rows_said(cells: list[Value]) -> str:
    """How many rows, and where the first is."""
    if len(cells) == 1:
        return cells[0].where.split("!")[-1]
    return f"{len(cells)} rows from {cells[0].where.split('!')[-1]}"
