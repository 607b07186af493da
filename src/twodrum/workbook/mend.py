"""Put right what cut, paste and older versions did to a book, before it is read.

Names, styles, formulas and validations of ours go back to where they belong; a number that
was typed the spreadsheet's way, 16:00 beside h, becomes the number that a person sees.
Each is told; nothing else of the book is touched.
"""

from __future__ import annotations

import re
from collections import Counter
from collections.abc import Iterator, Mapping
from dataclasses import dataclass, replace
from functools import cached_property, lru_cache

from ..engine.model import Field, Model, declared
from ..problems import WARNING, Problem, sentence
from ..units import KINDS
from ..xlsx.book import COLUMN, Area, Book, CellRead, TableRead, quoted
from ..xlsx.formats import PLAIN, Look
from ..xlsx.markup import escape
from ..xlsx.restyle import Styles
from ..xlsx.scan import column_letters
from ..xlsx.write import (
    Address,
    Content,
    Write,
    content_of,
    recalculate_on_load,
    splice_cells,
)
from .entry import (
    ENTRY_CONSTANTS,
    FIXED_FORMAT,
    FROM_NAME,
    GAP_NAME,
    TO_NAME,
    Entry,
    Rule,
    default_unit,
    entries,
    entry_format,
    offered_name,
    rule_of,
    unit_rule,
)
from .layout import (
    MOST_ROWS,
    below_name,
    has_field_row,
    in_workings,
    input_blocks,
    inputs_of,
    make_layout,
    slug,
    unit_choices,
    units_picked,
    value_header,
)
from .pattern import (
    Pattern,
    has_its_own,
    keyed_rows,
    naming,
    rows_beyond,
    same_formula,
    template_book,
    template_rows,
)
from .seen import seen
from .validations import Rect, Wanted, mark_condition, marked_again, put_in, standing, wrong
from .version import know_former, older_version

# Changes on more sheets than a person cuts and pastes on come from another version.
FEW_SHEETS = 3
WORD = re.compile(r"[a-z_]\w*")
SHARED = ("shared", "array", "dataTable")


@dataclass(frozen=True)
class Placed:
    """An input and the rectangle of cells that it is typed into."""

    entry: Entry
    sheet: str
    area: Rect


def put_right(book: Book, model: Model) -> tuple[Book, list[Problem]]:
    """The book with everything of ours in its place, and what was put right."""
    mender = _Mender(book, model)
    mender.names()
    mender.cells()
    mender.words()
    mender.units()
    mender.formulas()
    mender.defaults()
    mender.rules()
    return mender.done(), mender.notes


class _Mender:
    def __init__(self, book: Book, model: Model) -> None:
        self.book = book
        self.model = model
        know_former(book, model)
        self.older = older_version(book)
        self.notes: list[Problem] = []
        self.placed = list(self._placed())
        self.fresh: dict[str, str] = {}
        self.fine: dict[tuple[int, bool], bool] = {}
        self.writes: dict[Address, Write] = {}
        self.parts: dict[str, bytes] = {}
        self.styles = Styles(book)
        self.naming = naming(model.name, book.prefix)
        # The row of each key on Units, and its place in the table of them.
        self.rows = keyed_rows(book, model.today)
        first = book.tables["fields"].area.first_row if self.rows else 0
        self.keys = {key: row - first + 1 for key, row in self.rows.items()}

    def _placed(self) -> Iterator[Placed]:
        """Where each input belongs: in the row of its note, or in its column of a table."""
        book = self.book
        for entry in entries(self.model):
            if entry.table:
                table = book.tables.get(entry.table)
                if table is not None and entry.item.label in table.columns:
                    column = table.columns[entry.item.label]
                    area = table.area
                    yield Placed(entry, area.sheet, (area.first_row, column, area.last_row, column))
                continue
            # Neither is typed, so that nobody drags it along.
            beside = (f"{entry.item.name}_{what}" for what in ("note", "si"))
            note = next((book.area(name) for name in beside if book.named_itself(name)), None)
            note = note or book.area(entry.item.name)
            block = book.area(f"{inputs_of(self.model)[entry.item.name]}_in")
            if note is not None and block is not None and note.sheet == block.sheet:
                column = block.first_column
                yield Placed(entry, note.sheet, (note.first_row, column, note.first_row, column))

    def note(self, code: str, cell: CellRead, text: str) -> None:
        self.notes.append(Problem(code, cell.where, text, WARNING, cell.position))

    def names(self) -> None:
        """Names that a cut dragged along, or that a paste over their cell destroyed."""
        for placed in self.placed:
            item, (row, column, *_) = placed.entry.item, placed.area
            if placed.entry.table:
                name = f"{placed.entry.table}_{item.name}_unit"
                if unit_choices(item) and self.book.named_itself(name):
                    self._name(
                        name, placed.sheet, *self._unit_at(placed), f"the unit of {item.label}"
                    )
                continue
            self._name(item.name, placed.sheet, row, column, item.label)
            in_si = self.book.area(f"{inputs_of(self.model)[item.name]}_si")
            if in_si is not None and has_field_row(item):
                at = in_si.first_column
                self._name(f"{item.name}_si", placed.sheet, row, at, f"{item.label} in SI")
            if unit_choices(item) and self.book.named_itself(f"{item.name}_unit"):
                unit = f"the unit of {item.label}"
                self._name(f"{item.name}_unit", placed.sheet, row, column + 1, unit)
        self._columns()
        self._snapshot()
        fields = self.book.tables.get("fields")
        if fields is not None:
            area = fields.area
            for name, head in ((FROM_NAME, "From"), (TO_NAME, "To"), (GAP_NAME, "None below")):
                if head in fields.columns and self.book.area(name) is None:
                    letter = column_letters(fields.columns[head])
                    cells = f"${letter}${area.first_row}:${letter}${area.last_row}"
                    self.fresh[name] = f"{quoted(area.sheet)}!{cells}"
        for constant in self.model.constants:
            # An older book has no cell for it.
            if constant in ENTRY_CONSTANTS and constant.name not in self.book.names:
                self.fresh[constant.name] = f"{constant.value:g}"

    def _columns(self) -> None:
        """The columns of units: last in the area of the inputs of a sheet, before SI in results."""
        of_inputs = {key: (f"{key}_in", 0) for key in inputs_of(self.model).values()}
        of_results = {key: (f"{key}_values", 1) for key in map(slug, self.model.result_sheets)}
        for key, (block, back) in sorted({**of_inputs, **of_results}.items()):
            area, name = self.book.area(block), f"{key}_unit{COLUMN}"
            if area is None or self.older or self.book.named_itself(name):
                continue
            letter = column_letters(area.last_column - back)
            cells = f"${letter}${area.first_row}:${letter}${area.last_row}"
            self.fresh[name] = f"{quoted(area.sheet)}!{cells}"

    def _snapshot(self) -> None:
        """Room in the snapshot for every row of a table or a sheet that the office made longer."""
        for block in input_blocks(make_layout(self.model)):
            table, kept = self.book.tables.get(block.name), self.book.area(f"{block.name}_kept")
            area = table.area if table is not None else self.book.area(f"{block.name}_in")
            if area is None or kept is None:
                continue
            if table is not None:
                self._below(block.name, table)
            rows = area.last_row - area.first_row + 1
            if rows > kept.last_row - kept.first_row + 1:
                first = f"${column_letters(kept.first_column)}${kept.first_row}"
                last = f"${column_letters(kept.last_column)}${kept.first_row + rows - 1}"
                self.fresh[f"{block.name}_kept"] = f"{quoted(kept.sheet)}!{first}:{last}"

    def _below(self, name: str, table: TableRead) -> None:
        """What is below a table begins below its last row, also where it was drawn longer."""
        below = self.book.area(below_name(name))
        if below is not None and below.first_row != table.end_row + 1:
            left, right = (column_letters(n) for n in (below.first_column, below.last_column))
            cells = f"${left}${table.end_row + 1}:${right}${table.end_row + MOST_ROWS}"
            self.fresh[below_name(name)] = f"{quoted(below.sheet)}!{cells}"

    def _name(self, name: str, sheet: str, row: int, column: int, label: str) -> None:
        area = self.book.area(name)
        if area is not None and area.first == (sheet, row, column):
            return
        self.fresh[name] = f"{quoted(sheet)}!${column_letters(column)}${row}"
        place = self.book.cell(sheet, row, column)
        found = f"the name {name} was lost"
        if area is not None:
            moved = self.book.cell(*area.first)
            found = f"the cell of {label} had been moved to {moved.where}"
        blank = "type it here again" if place.kind == "blank" else "look whether it is right"
        self.note("put-back", place, sentence(found, "it was put back here", blank))

    def cells(self) -> None:
        """Locks and number formats of inputs, and numbers typed the spreadsheet's way."""
        guarded = {
            sheet: b"sheetProtection" in self.book.scan(sheet).data
            for sheet in {placed.sheet for placed in self.placed}
        }
        for placed in self.placed:
            kind = placed.entry.item.kind
            first_row, column, last_row, _ = placed.area
            rows = range(first_row, last_row + 1)
            if all(self._as_built(s, kind) for s in self.book.styles(placed.sheet, rows, column)):
                continue
            for row in rows:
                if not self._as_built(self.book.style(placed.sheet, row, column), kind):
                    self._cell(placed, self.book.cell(placed.sheet, row, column), guarded)

    def _as_built(self, style: int, kind: str) -> bool:
        """Whether a style is one that the template gives to inputs of this kind."""
        key = (style, entry_format(kind) == FIXED_FORMAT)
        if key not in self.fine:
            look = self.book.look(CellRead("", 0, 0, style=style))
            plain = look.code == FIXED_FORMAT or not key[1]
            self.fine[key] = not look.locked and look.shape == PLAIN and plain
        return self.fine[key]

    def _cell(self, placed: Placed, cell: CellRead, guarded: dict[str, bool]) -> None:
        item = placed.entry.item
        look = self.book.look(cell)
        address = (cell.sheet, cell.row, cell.column)
        number = self._converted(placed, cell, look)
        lost = look.locked and guarded[placed.sheet]
        # An older book lets 20% leave its format behind.
        sticky = entry_format(item.kind) == FIXED_FORMAT and look.code != FIXED_FORMAT
        sticky &= look.shape == PLAIN and not look.code
        foreign = item.kind in KINDS and look.shape != PLAIN and number is not None
        if not (lost or sticky or foreign):
            return
        base = self._sibling(placed) if lost and cell.style == 0 else cell.style
        style = self.styles.like(base, entry_format(item.kind))
        value: Content = number if number not in (None, cell.value) else None
        self.writes[address] = Write(value, style=style, keep=value is None)

    def _converted(self, placed: Placed, cell: CellRead, look: Look) -> float | None:
        """The number that a person sees in an input cell; None where that is not sure."""
        item = placed.entry.item
        if item.kind not in KINDS or cell.formula or not isinstance(cell.value, float):
            return None
        unit = self._unit(placed)
        found = seen(look.shape, item.kind, unit, cell.value)
        if found.number is not None and found.number != cell.value:
            counts = f"it counts as {found.number:g} {unit} and stands so now"
            self.note(
                "shown-otherwise", cell, sentence(f"{item.label} is shown as {found.found}", counts)
            )
        return found.number

    def _unit_at(self, placed: Placed) -> tuple[int, int]:
        """Where the unit of an input stands: above the heads of its table, or beside it."""
        row, column = placed.area[:2]
        if placed.entry.table:
            return self.book.units_row(self.book.tables[placed.entry.table]), column
        return row, column + 1

    def _unit(self, placed: Placed) -> str:
        """The unit picked for an input; the metric one where the cell names none."""
        item = placed.entry.item
        if not unit_choices(item):
            return default_unit(item)
        at = self._unit_at(placed)
        typed = " ".join(str(self.book.cell(placed.sheet, *at).value).split()).casefold()
        known = KINDS[item.kind].by_spelling.get(typed)
        return known.text if known else item.unit("metric")

    def _sibling(self, placed: Placed) -> int:
        """The style that most other inputs of the same sort have on this sheet."""
        number = placed.entry.item.kind in KINDS
        found: Counter[int] = Counter()
        for other in self.placed:
            if other.sheet == placed.sheet and (other.entry.item.kind in KINDS) == number:
                cell = self.book.cell(other.sheet, *other.area[:2])
                if cell.style and not self.book.look(cell).locked:
                    found[cell.style] += 1
        return found.most_common(1)[0][0] if found else 0

    def words(self) -> None:
        """Units and words of a list as the list spells them: a live look-up knows no other."""
        for placed in self.placed:
            item, (row, column, last, _) = placed.entry.item, placed.area
            if unit_choices(item):
                at = self._unit_at(placed)
                self._word(self.book.cell(placed.sheet, *at), KINDS[item.kind].by_spelling)
            if item.kind in self.model.choices:
                spelled = self.model.spelled[item.kind]
                for number in range(row, last + 1):
                    if not self.book.is_blank(placed.sheet, number, column):
                        self._word(self.book.cell(placed.sheet, number, column), spelled)

    def units(self) -> None:
        """Units that were changed since the last fill while the number stayed."""
        for placed in self.placed:
            item, (row, column, *_) = placed.entry.item, placed.area
            if not unit_choices(item) or self.book.is_blank(placed.sheet, row, column):
                continue
            at = self._unit_at(placed)
            of_table = placed.entry.table
            key = of_table or inputs_of(self.model)[item.name]
            kept = self._kept(f"{key}_units" if of_table else key, placed, *at)
            then = self._kept(key, placed, row, column)
            unit, cell = (
                self.book.cell(placed.sheet, *at),
                self.book.cell(placed.sheet, row, column),
            )
            if kept is None or then is None or cell.kind != "number" or kept.kind != "text":
                continue
            if kept.value != unit.value and then.value == cell.value and unit.kind == "text":
                stayed = f"the unit was changed from {kept.value} to {unit.value}"
                number = f"and the number stayed {cell.value:g}"
                now = f"it counts as {cell.value:g} {unit.value} now; look whether that is meant"
                self.note("unit-changed", unit, sentence(f"{stayed} {number}", now))

    def _kept(self, block: str, placed: Placed, row: int, column: int) -> CellRead | None:
        """What the snapshot holds of a cell."""
        area = self.book.area(f"{block}_kept")
        now = self.book.area(f"{block}_in")
        table = self.book.tables.get(block)
        if table is not None:
            now = replace(table.area, first_column=self._first_column(placed.entry.table))
        if area is None or now is None:
            return None
        at = area.first_row + row - now.first_row, area.first_column + column - now.first_column
        return self.book.cell(area.sheet, *at)

    def _first_column(self, name: str) -> int:
        columns = self.book.tables[name].columns
        heads = [item.label for item in self.model.table(name).fields]
        return min(columns[head] for head in heads if head in columns)

    def _word(self, cell: CellRead, known: Mapping[str, object]) -> None:
        if cell.kind != "text" or cell.formula:
            return
        typed = str(cell.value)
        meant = known.get(" ".join(typed.split()).casefold())
        word = getattr(meant, "text", meant)
        if isinstance(word, str) and word.casefold() != typed.casefold():
            self.writes[cell.sheet, cell.row, cell.column] = Write(word)
            self.note(
                "put-back",
                cell,
                sentence(f"'{typed}' was typed", f"it counts as {word} and stands so now"),
            )

    def formulas(self) -> None:
        """Live formulas that read other cells than those they belong to."""
        changed: dict[str, list[CellRead]] = {}
        if has_its_own(self.model, self.book):
            expected = rows_beyond(self.model, self.book)
        else:
            expected = Pattern(self.model, self.book).expected()
        unknown = set(template_book(self.model.name).names) - set(self.book.names)
        unknown -= {name.casefold() for name in self.fresh}
        unknown = {self.book.prefix + name for name in unknown}
        bare: dict[tuple[str, int], dict[Address, str]] = {}
        whole: set[tuple[str, int]] = set()
        for address, text in expected:
            cell = self.book.cell(*address)
            row = self._row_of_table(address)
            if row and cell.kind == "blank" and not cell.formula:
                bare.setdefault(row, {})[address] = text
            elif row:
                whole.add(row)
            if not cell.formula or same_formula(self.model.today(cell.formula_text), text):
                # What an older version called otherwise says the same.
                continue
            newer = not unknown.isdisjoint(WORD.findall(text.casefold()))
            if newer or any(head in text for head in self.book.head_aliases):
                # The formula of a newer version, for cells that this book does not have.
                continue
            raw = self.book.scan(address[0]).cells[address[1:]]
            if raw.formula_attributes.get("t") in SHARED:
                continue
            self.writes[address] = Write(content_of(cell), formula=text, live=True)
            changed.setdefault(cell.sheet, []).append(cell)
        self._inserted({row: texts for row, texts in bare.items() if row not in whole})
        count = sum(map(len, changed.values()))
        if len(changed) > FEW_SHEETS:
            first = next(iter(changed.values()))[0]
            found = f"{count} live formulas on {len(changed)} sheets were damaged or old"
            self.note("put-back", first, sentence(found, "put right"))
            return
        for cells in changed.values():
            found = "a live formula was dragged along by cut and paste, or changed"
            if len(cells) > 1:
                found = (
                    f"{len(cells)} live formulas were dragged along by cut and paste, or changed"
                )
            self.note("put-back", cells[0], sentence(found, "put back"))

    def _row_of_table(self, address: Address) -> tuple[str, int] | None:
        """The table that people type, and the row, to which a cell belongs."""
        sheet, row, column = address
        for name, area in self._typed_areas:
            inside = area.first_row <= row <= area.last_row
            if sheet == area.sheet and inside and column <= area.last_column:
                return (name, row) if column >= area.first_column else None
        return None

    @cached_property
    def _typed_areas(self) -> list[tuple[str, Area]]:
        tables = self.book.tables
        return [
            (table.name, tables[table.name].area)
            for table in self.model.tables
            if not table.keys and table.name in tables
        ]

    def _inserted(self, rows: Mapping[tuple[str, int], Mapping[Address, str]]) -> None:
        """Rows that were inserted into a table without any of its formulas get them."""
        for texts in rows.values():
            for address, text in texts.items():
                self.writes[address] = Write(None, formula=text, live=True)
        of: dict[str, list[int]] = {}
        for name, row in rows:
            of.setdefault(name, []).append(row)
        for name, found in of.items():
            area, first, last = self.book.tables[name].area, min(found), max(found)
            said = f"row {first}" if len(found) == 1 else f"{len(found)} rows down to row {last}"
            if len(found) > 1 and len(found) == last - first + 1:
                said = f"rows {first} to {last}"
            cell = self.book.cell(area.sheet, first, area.first_column)
            text = sentence(f"{said} of the table {name} had no live formulas", "they stand there")
            self.note("put-back", cell, text)

    def defaults(self) -> None:
        """What an older book takes for a blank cell, where today that is another value or none."""
        made, table = self.older, self.book.tables.get("fields")
        if not made or table is None:
            return
        template = template_book(self.model.name)
        today = template.tables["fields"]
        known = template_rows(self.model.name)
        changed: list[CellRead] = []
        # The formulas of a table that was made otherwise rest on the defaults of then.
        otherwise = {
            name
            for name, read in template.tables.items()
            if name in self.book.tables
            and not read.columns.keys() <= self.book.tables[name].columns.keys()
        }
        for key, row in self.rows.items():
            if key.partition(".")[0] in otherwise:
                continue
            for head in ("If blank in SI", "Why that"):
                if key not in known or head not in table.columns:
                    continue
                wanted = template.cell(today.area.sheet, known[key], today.columns[head])
                there = (table.area.sheet, row, table.columns[head])
                cell = self.book.cell(*there)
                text = self.naming.formula(wanted.formula_text)
                found = self.model.today(cell.formula_text)
                if found == text and (text or cell.value == wanted.value):
                    continue
                content = content_of(wanted)
                live = Write(content, formula=text, live=True)
                self.writes[there] = live if text else Write(content, formula=cell.formula_text)
                changed += [cell] if head == "If blank in SI" else []
        if changed:
            at = changed[0]
            label = self.book.cell(at.sheet, at.row, table.columns["What"]).value
            found = f"{len(changed)} values for blank cells were those of twodrum {made}, such as"
            self.note(
                "older-book", at, sentence(f"{found} {label}", "those of today count now, or none")
            )

    def rules(self) -> None:
        """What may be typed into each input."""
        wanted: dict[str, list[Wanted]] = {}
        for placed in self.placed:
            rule = self._rule(placed)
            if rule is not None:
                wanted.setdefault(placed.sheet, []).append(Wanted(placed.area, rule))
        for name, item in units_picked(self.model):
            area = self.book.area(f"{name}_unit")
            fresh = self.fresh.get(f"{name}_unit")
            if area is not None and fresh is None:
                rect = (area.first_row, area.first_column, area.last_row, area.last_column)
                rule = _unit_rule(self.model, self.book.prefix, item.kind)
                wanted.setdefault(area.sheet, []).append(Wanted(rect, rule))
        total, first = 0, None
        for sheet, rules in wanted.items():
            scan = self.book.scan(sheet)
            count, differs = wrong(standing(scan.data), tuple(rules))
            if (
                not differs
                and marked_again(scan.data, scan.prefix, self._marks(sheet)) == scan.data
            ):
                continue
            if count and first is None:
                first = self.book.cell(sheet, *rules[0].area[:2])
            total += count
            self.parts[sheet] = scan.prefix.encode()
        if first is not None:
            found = f"the rules of what may be typed were damaged or old at {total} inputs"
            self.note("put-back", first, sentence(found, "put right"))
        self.wanted = wanted

    def _marks(self, sheet: str) -> list[tuple[Rect, str]]:
        """Where a refused input of a sheet is marked, and when."""
        found = []
        for placed in self._on_sheets.get(sheet, ()):
            row, column = placed.area[:2]
            si = self._si_cell(placed, row)
            if si:
                first = f"{column_letters(column)}{row}"
                found.append((placed.area, mark_condition(si, first)))
        return found

    @cached_property
    def _on_sheets(self) -> dict[str, list[Placed]]:
        found: dict[str, list[Placed]] = {}
        for placed in self.placed:
            found.setdefault(placed.sheet, []).append(placed)
        return found

    def _si_cell(self, placed: Placed, row: int) -> str:
        """The cell of the value in SI that a mark looks at; "" where there is none."""
        item = placed.entry.item
        if placed.entry.table:
            column = self.book.tables[placed.entry.table].columns.get(value_header(item), 0)
            return f"{column_letters(column)}{row}" if column and in_workings(item) else ""
        area = self.book.area(f"{item.name}_si")
        return f"{column_letters(area.first_column)}{area.first_row}" if area else ""

    def _rule(self, placed: Placed) -> Rule | None:
        item, key = placed.entry.item, placed.entry.key
        if item.kind in KINDS and key not in self.keys:
            return None
        if item.offered[0] and self.book.area(offered_name(*item.offered)) is None:
            return None
        place = self.keys.get(key, 1)
        return _rule(self.model, self.book.prefix, key, place, self._unit(placed))

    def done(self) -> Book:
        """The book as it is now; the same one where nothing was to mend."""
        if not (self.fresh or self.writes or self.parts):
            return self.book
        package = self.book.package
        splice_cells(self.book, self.writes, set())
        self.styles.keep()
        for sheet, prefix in self.parts.items():
            part = self.book.sheets[sheet]
            data = put_in(package.read(part), prefix.decode(), self.wanted[sheet])
            data = marked_again(data, prefix.decode(), self._marks(sheet))
            package.replace(part, data)
        fresh = {self.naming.name(name): text for name, text in self.fresh.items()}
        data = with_names(package.read(self.book.workbook_part), fresh)
        package.replace(self.book.workbook_part, recalculate_on_load(data))
        mended = Book(package)
        mended.keep_scans(self.book)
        know_former(mended, self.model)
        return mended


@lru_cache(maxsize=1 << 12)
def _rule(model: Model, prefix: str, key: str, place: int, unit: str) -> Rule:
    """A rule of ours as it reads in a book with this prefix."""
    item = declared(model, key)
    assert isinstance(item, Field)
    return rule_of(item, key, place, unit).renamed(naming(model.name, prefix).formula)


@lru_cache(maxsize=1 << 9)
def _unit_rule(model: Model, prefix: str, kind: str) -> Rule:
    """The same of a cell in which a unit of a kind is picked."""
    return unit_rule(kind).renamed(naming(model.name, prefix).formula)


def with_names(data: bytes, names: dict[str, str]) -> bytes:
    """workbook.xml with defined names pointing where they should."""
    root = re.search(rb"<((?:[\w.-]+:)?)workbook\b", data)
    prefix = root[1] if root else b""
    for name, text in names.items():
        said = escape(text).encode("ascii", "xmlcharrefreplace")
        head = b"<" + prefix + rb"definedName\b(?![^>]*localSheetId)[^>]*\bname="
        there = re.compile(
            b"("
            + head
            + b"[\"']"
            + re.escape(name.encode())
            + b"[\"'][^>]*?)(?:/>|>[^<]*</"
            + prefix
            + b"definedName>)",
            re.IGNORECASE,
        )
        close = b"</" + prefix + b"definedName>"
        found = there.search(data)
        if found:
            data = data[: found.start()] + found[1] + b">" + said + close + data[found.end() :]
            continue
        made = b"<" + prefix + b'definedName name="' + name.encode() + b'">' + said + close
        end = data.find(b"</" + prefix + b"definedNames>")
        if end >= 0:
            data = data[:end] + made + data[end:]
    return data
