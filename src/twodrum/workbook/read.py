"""Read a workbook's inputs as SI values; every problem is told, none stops the reading."""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping, Sequence
from typing import Any

from ..core.inputs import TOLERANCE
from ..engine.evaluate import TableValues, Targets, Value, Values, not_computed, unplaced
from ..engine.model import DAYS, Cell, Column, Field, Line, Model, Order, Study, Table
from ..engine.order import filled
from ..engine.references import Name
from ..problems import PROBLEM, WARNING, Problem, sentence
from ..units import (
    KINDS,
    UNIT_TABLE,
    WHOLE,
    UnitError,
    from_si,
    parse,
    parse_number,
    said,
    shown,
    shown_range,
    split_unit,
)
from ..xlsx.book import Book, CellRead, TableRead, quoted
from ..xlsx.merge import ours_by_name
from ..xlsx.scan import column_letters
from .grow import rows_below
from .layout import (
    accepted_name,
    apart,
    has_field_row,
    in_workings,
    said_name,
    unit_choices,
    value_header,
    words_name,
)
from .seen import FOOT, as_written, seen
from .version import know_former, older_version

RESAVE = "open it in your spreadsheet program, save it there and try again"
# Names without which Record cannot say what is wrong.
CONTROL = ("overall_state", "stale_state", "problem_count", "record_problems", "record_assumed")
TIME_OF_DAY = "it must be a time of day such as 08:30"
# A time of day as people write it where a colon is wanted.
HOURS_AND_MINUTES = re.compile(r"([01]?[0-9]|2[0-3])[.,hH: ]([0-5][0-9])")
ERROR_TEXTS = ("#N/A", "#REF!", "#VALUE!", "#NAME?", "#DIV/0!", "#NUM!", "#NULL!")
FIRST_DATE, LAST_DATE = DAYS
FILLED_STYLE = "td_filled"
RESTORE = "undo what removed it, or start from a new job"


class Inputs:
    """Reads the inputs of one workbook against its model."""

    def __init__(
        self, model: Model, book: Book, accepted: Mapping[str, float | None] | None = None
    ) -> None:
        self.model = model
        # What is being accepted now, where the book does not hold it yet.
        self.accepted = accepted or {}
        self.book = book
        self.values = Values()
        # Sheet rows of the rows in use, and the unit of every column.
        self.rows: dict[str, list[int]] = {}
        self.units: dict[str, str] = {}
        self.bad_units: set[str] = set()
        # The older version that made the book, and what of today it has no place for.
        self.older = older_version(book)
        # Formats of cells that a fill wrote when the book was made; some are live today.
        self.filled_then: set[int] = set()
        if self.older and book.styles_part:
            # A damaged list of formats is refused in words.
            book.xml(book.styles_part)
            self.filled_then = ours_by_name(book.package.read(book.styles_part), FILLED_STYLE)
        know_former(book, model)
        self.not_there: list[str] = []
        # Every result by its key, without a value: its unit, and its cell where it has one.
        self.results: dict[str, Value] = {}
        # Tables of results that keep what the older version put there.
        self.behind: set[str] = set()

    def lacks(self, where: str, label: str, text: str) -> None:
        """A place of a result that is lost, or was never there in an older book."""
        if self.older:
            self.not_there.append(label)
        else:
            self.problem("lost", None, where, text)

    def may_lack(self, item: Field | Cell | Column) -> bool:
        """Whether an older book need not have an input: it may stay blank, and does there."""
        return bool(self.older) and isinstance(item, Field) and not item.required

    def of_older(self) -> list[Problem]:
        """What an older book has no place for, as one note."""
        lost = list(dict.fromkeys(self.not_there))
        if not lost:
            return []
        found = f"it was made by twodrum {self.older} and has no place for {len(lost)} inputs and "
        found += "results"
        kept = "what stands there in their stead is left as it is"
        text = sentence(f"{found} of today, such as {lost[0]}", kept, "twodrum upgrade brings them")
        return [Problem("older-book", "Start", text, WARNING)]

    def read(self) -> Values:
        """Everything that the office typed."""
        for name in CONTROL:
            if self.model.works_out and self.book.area(name) is None:
                text = sentence(f"the name {name} is lost", "Record carries it", RESTORE)
                self.problem("lost", None, "Record", text)
        for constant in self.model.constants:
            self.values.names[constant.name] = Value(
                constant.name, constant.name, "factor", "×", constant.value, "Lists"
            )
        for item in self.model.fields():
            self.values.names[item.name] = self._single(item)
        for name in self.model.accepted:
            self.values.names[accepted_name(name)] = self._kept(name)
        self._accepted_whole()
        self._orders(self.model.orders, self.values.names)
        for table in self.model.tables:
            if not table.keys:
                self._table(table)
        for table in self.model.tables:
            if table.keys:
                self._keyed(table)
        for study in self.model.studies:
            self._filled_table(study)
        for name in self._live_names():
            self.formula_stands(name)
        for cell in self.model.cells:
            self.results[cell.name] = self._result(cell)
        for column in self.model.columns:
            key = f"{column.table}.{column.name}"
            unit = self.unit(column, key, self.book.named(f"{column.table}_{column.name}_unit"))
            self.results[key] = unplaced(column, unit)
        return self.values

    def _result(self, item: Cell) -> Value:
        """Where a result stands; a lost name, or one typed over its formula, is told."""
        live = item.name not in filled(self.model)
        shown = () if item.working else (item.name,)
        # An older book has a cell for formulas beside each.
        has_si = item.name in apart(self.model) or self.book.named_itself(f"{item.name}_si")
        beside = (f"{item.name}_si",) if has_si else ()
        for name in (*shown, *beside) if live else shown:
            self.formula_stands(name)
        for name in (*shown, *beside):
            if self.book.area(name) is None:
                text = sentence(f"the name {name} is lost", "one cell carries it", RESTORE)
                self.lacks(item.label, item.label, text)
        base = unplaced(item, self.unit(item, item.name, self.book.named(f"{item.name}_unit")))
        area = self.book.area(f"{item.name}_si" if item.working else item.name)
        if area is None:
            return base
        sheet, row, column = area.first
        where = f"{quoted(sheet)}!{column_letters(column)}{row}"
        return base.but(
            where=where, position=(self.book.sheet_order[sheet], row, column), placed=True
        )

    def _live_names(self) -> Iterator[str]:
        """Cells beside inputs and on pages in which a live formula belongs."""
        for item in self.model.fields():
            if has_field_row(item):
                yield f"{item.name}_si"
            if item.kind == "money":
                yield f"{item.name}_unit"
        for page in self.model.pages:
            for line in page.lines:
                if isinstance(line, Line):
                    if line.words.startswith("=") or line.conditional:
                        yield words_name(page.sheet, line.key)
                    if line.name:
                        yield said_name(page.sheet, line.name)
        for name in self.model.accepted:
            yield accepted_name(name)

    def formula_stands(self, name: str) -> None:
        """Tell where something was typed over the live formula of a name."""
        area = self.book.area(name)
        if area is None or self.book.has_formula(*area.first):
            return
        cell = self.book.cell(*area.first)
        if cell.style not in self.filled_then:
            found = f"{held(cell)} stands where a live formula belongs"
            mend = "undo what was typed, or start from a new job"
            self.problem("formula-gone", cell, "", sentence(found, "the formula must stand", mend))

    def _kept(self, name: str) -> Value:
        """A value as it was accepted; blank where no quote was."""
        own = accepted_name(name)
        item, cell = self.model.item(own), self.book.named(f"{own}_si")
        unit = item.unit("metric")
        if name in self.accepted:
            where = cell.where if cell else item.label
            return Value(own, item.label, item.kind, unit, self.accepted[name], where)
        if cell is None or cell.kind == "blank":
            where = cell.where if cell else item.label
            return Value(own, item.label, item.kind, unit, None, where)
        base = Value(own, item.label, item.kind, unit, None, cell.where, position=cell.position)
        if cell.kind != "number":
            text = sentence(
                f"{item.label} is {typed_text(cell)}", "it was written once as a number", RESTORE
            )
            found = Problem("accepted-damaged", cell.where, text, position=cell.position)
            self.values.problems.append(found)
            return self._refused(base, found)
        return base.but(si=cell.value)

    def _accepted_whole(self) -> None:
        """Tell where a part of an accepted quote is gone."""
        kept = [self.values.names[accepted_name(name)] for name in self.model.accepted]
        gone = [value for value in kept if value.si is None and not value.refused]
        if gone and len(gone) < len(kept):
            found = f"{gone[0].label} is gone"
            if len(gone) > 1:
                found += f", and {len(gone) - 1} more"
            text = sentence(found, "a quote is kept whole when it is accepted", RESTORE)
            cell = self.book.named(f"{gone[0].name}_si")
            self.problem("accepted-damaged", cell, "Accepted", text)

    def _filled_table(self, study: Study) -> None:
        read = self.book.tables.get(study.name)
        for item in study.columns:
            if read is None or item.label not in read.columns:
                text = sentence(f"the column '{item.label}' is lost", "it is filled", RESTORE)
                self.lacks(study.label, study.label, text)

    def typed_cells(self) -> set[tuple[str, int, int]]:
        """The place of every input cell; nothing of ours may be written there."""
        areas = [self.book.area(item.name) for item in self.model.fields()]
        found = {area.first for area in areas if area is not None}
        for table in self.model.tables:
            read = self.book.tables.get(table.name)
            if read is None or table.keys:
                continue
            columns = [read.columns[i.label] for i in table.fields if i.label in read.columns]
            for row in range(read.area.first_row, read.area.last_row + 1):
                found |= {(read.area.sheet, row, column) for column in columns}
        return found

    def problem(self, code: str, cell: CellRead | None, where: str, text: str) -> Problem:
        """Note a problem at a cell."""
        position = cell.position if cell else (0, 0, 0)
        found = Problem(code, cell.where if cell else where, text, PROBLEM, position)
        self.values.problems.append(found)
        return found

    def _single(self, item: Field) -> Value:
        cell = self.book.named(item.name)
        unit = self.unit(item, item.name, self.book.named(f"{item.name}_unit"))
        base = Value(item.name, item.label, item.kind, unit, None, f"the value {item.label}")
        if cell is None and self.may_lack(item):
            self.not_there.append(item.label)
            return self._blank(item, base, None)
        if cell is None:
            text = sentence(f"the name {item.name} is lost", "one cell carries it", RESTORE)
            return self._refused(base, self.problem("lost", None, item.label, text))
        return self._value(item, item.name, cell, unit)

    def unit(self, item: Field | Cell | Column, key: str, cell: CellRead | None) -> str:
        """The unit text of an item; a wrong one is a problem, and the metric one stands in."""
        if not unit_choices(item):
            unit = item.unit("metric")
        else:
            unit = self._picked_unit(item, key, cell)
        self.units[key] = unit
        return unit

    def _picked_unit(self, item: Field | Cell | Column, key: str, cell: CellRead | None) -> str:
        kind = KINDS[item.kind]
        if cell is None and self.may_lack(item):
            return item.unit("metric")
        if cell is None:
            self.bad_units.add(key)
        if cell is None and not self._stands(item, key):
            # Without its cell, or the column of its table, it has no unit either.
            return item.unit("metric")
        if cell is None:
            text = sentence(f"the name {key}_unit is lost", "one cell carries it", RESTORE)
            if isinstance(item, Field):
                self.problem("lost", None, item.label, text)
            else:
                self.lacks(item.label, item.label, text)
            return item.unit("metric")
        found = str(cell.value) if cell.kind == "text" else ""
        for text in kind.unit_texts:
            if text.casefold() == found.casefold():
                return text
        self.bad_units.add(key)
        typed = "blank" if cell.kind == "blank" else f"'{cell.value}'"
        self.problem("unknown-unit", cell, "", sentence(f"unit is {typed}", kind.wanted()))
        return item.unit("metric")

    def _stands(self, item: Field | Cell | Column, key: str) -> bool:
        """Whether a single value has its cell, or a column its head."""
        table, _, name = key.rpartition(".")
        if not name or not table:
            return self.book.area(key) is not None
        return table in self.book.tables and item.label in self.book.tables[table].columns

    def _value(self, item: Field, key: str, cell: CellRead, unit: str) -> Value:
        base = Value(
            item.name, item.label, item.kind, unit, None, cell.where, position=cell.position
        )
        if cell.kind == "blank":
            return self._blank(item, base, cell)
        if cell.kind == "error":
            return self._refuse(
                "no-result", base, cell, f"is the error {cell.value}", self._wanted(item, key)
            )
        if cell.kind == "uncalculated":
            found = "holds a formula without a result"
            return self._refuse("no-result", base, cell, found, self._wanted(item, key), RESAVE)
        if item.kind == "text":
            return self._text(item, key, base, cell)
        if item.kind in self.model.choices:
            return self._choice(item, base, cell)
        if not isinstance(cell.value, float) or cell.kind != "number":
            typed = f"the text '{cell.value}'" if cell.kind == "text" else str(cell.value).upper()
            mend = self._typing_mend(item, key, str(cell.value))
            return self._refuse(
                "no-number", base, cell, f"is {typed}", self._wanted(item, key), mend
            )
        if item.kind == "date":
            return self._date(item, base, cell)
        if item.kind == "clock":
            return self._clock(base, cell)
        return self._number(item, key, base, cell)

    def _text(self, item: Field, key: str, base: Value, cell: CellRead) -> Value:
        """A text that says something; TRUE and "#N/A" are none, and a blank is blank."""
        text = typed_text(cell)
        if cell.kind == "bool":
            found = f"is {text.upper()}, a truth value"
            return self._refuse(
                "no-text", base, cell, found, "a text is wanted", f"type '{text.upper()}"
            )
        if text in ERROR_TEXTS:
            return self._refuse("no-text", base, cell, f"is the text {text}", "a text is wanted")
        if not text.strip() and not cell.formula:
            found = "is a text of blanks only"
            return self._refuse(
                "no-text", base, cell, found, "a text or nothing is wanted", "delete it"
            )
        return base.but(si=text)

    def _refuse(
        self, code: str, base: Value, cell: CellRead, found: str, expected: str, mend: str = ""
    ) -> Value:
        text = sentence(f"{base.label} {found}", expected, mend)
        return self._refused(base, self.problem(code, cell, "", text))

    def _refused(self, base: Value, problem: Problem, blank: bool = False) -> Value:
        return base.but(why=str(problem), roots=(problem.where,), blank=blank)

    def _typing_mend(self, item: Field, key: str, text: str) -> str:
        """How to type a number that was typed as a text."""
        if item.kind == "clock":
            found = HOURS_AND_MINUTES.fullmatch(text.strip())
            return f"type {int(found[1]):02d}:{found[2]}" if found else ""
        try:
            return f"type {parse_number(text):g} as a number"
        except UnitError as error:
            if error.mend and self.units.get(key) == "%":
                number = float(error.mend.split()[-1])
                if 0 < number < 1:
                    return f"type {number * 100:g} for {number * 100:g} %"
                return f"{error.mend} for {number:g} %"
            if error.mend or item.kind not in KINDS:
                return error.mend
        written = as_written(text)
        if written is not None and written[1] and item.kind in ("length", "thickness"):
            unit = self.units[key]
            return f"type {from_si(written[0] * FOOT, item.kind, unit):.6g} ({text} in {unit})"
        if written is not None and not written[1]:
            return f"type {written[0]:.6g} as a number"
        return self._converted_mend(item, key, text)

    def _converted_mend(self, item: Field, key: str, text: str) -> str:
        """A text with a unit of its own as the number to type; no column unit is touched."""
        try:
            si = parse(text, item.kind)
        except UnitError:
            return ""
        unit = self.units[key]
        number = from_si(si, item.kind, unit)
        typed = split_unit(text)[1].casefold()
        if KINDS[item.kind].by_spelling[typed].text == unit:
            return f"type {number:.6g} as a number"
        return f"type {number:.6g} ({text.strip()} in {unit})"

    def _unit_where(self, key: str) -> str:
        cell = self.book.named(key.replace(".", "_") + "_unit")
        return cell.where if cell else f"the unit of {key}"

    def _unit_address(self, key: str) -> str:
        return self._unit_where(key).split("!")[-1]

    def _wanted(self, item: Field, key: str) -> str:
        if item.kind == "date":
            return "it must be a date"
        if item.kind == "clock":
            return TIME_OF_DAY
        if item.kind == "text" or item.kind in self.model.choices:
            return "a word is wanted"
        if not unit_choices(item):
            return "it must be a number"
        return f"it must be a number, its unit stands in {self._unit_address(key)}"

    def _blank(self, item: Field, base: Value, cell: CellRead | None) -> Value:
        if isinstance(item.default, Name):
            other = self.values.names[item.default.name]
            if other.si is None and not other.refused:
                return base.but(blank=True)
            if other.refused:
                why = not_computed(other.roots)
                return base.but(why=why, roots=other.roots, blank=True)
            return base.but(si=other.si, assumed=item.reason, blank=True)
        if item.default is not None:
            return base.but(si=item.default, assumed=item.reason, blank=True)
        if item.required:
            text = sentence(f"{base.label} is blank", self._expected_range(item, base.unit))
            return self._refused(base, self.problem("missing", cell, "", text), blank=True)
        return base.but(blank=True)

    def _expected_range(self, item: Field, unit: str) -> str:
        if item.kind in ("date", "clock"):
            return self._wanted(item, "")
        if item.kind not in KINDS:
            words = self.model.choices.get(item.kind, ())
            return f"pick one of: {', '.join(words)}" if words else "a text is wanted"
        return f"it must be {shown_range(item.least, item.most, item.kind, unit)}"

    def _choice(self, item: Field, base: Value, cell: CellRead) -> Value:
        word = self.model.spelled[item.kind].get(str(cell.value).casefold())
        if word is not None:
            return base.but(si=word)
        words = self.model.choices[item.kind]
        return self._refuse(
            "unknown-word",
            base,
            cell,
            f"is '{typed_text(cell)}'",
            f"it must be one of: {', '.join(words)}",
        )

    def _date(self, item: Field, base: Value, cell: CellRead) -> Value:
        assert isinstance(cell.value, float)
        serial = cell.value + (1462 if self.book.date_1904 else 0)
        if item.least <= serial <= item.most:
            return base.but(si=cell.value)
        return self._refuse(
            "out-of-range", base, cell, f"is {cell.value:g}", f"it must be a date {_lowered(item)}"
        )

    def _clock(self, base: Value, cell: CellRead) -> Value:
        assert isinstance(cell.value, float)
        # A date with a time of day is taken for its time; 8 or 830 is no time of day.
        if 0 <= cell.value < 1 or FIRST_DATE <= cell.value <= LAST_DATE:
            return base.but(si=cell.value % 1)
        return self._refuse("out-of-range", base, cell, f"is {cell.value:g}", TIME_OF_DAY)

    def _number(self, item: Field, key: str, base: Value, cell: CellRead) -> Value:
        assert isinstance(cell.value, float)
        if key in self.bad_units:
            where = self._unit_where(key)
            return base.but(why=not_computed((where,)), roots=(where,))
        as_seen = seen(self.book.look(cell).shape, item.kind, base.unit, cell.value)
        if as_seen.number != cell.value:
            # What is sure is put right in the file beforehand; a formula of theirs is not ours.
            found = as_seen.found if as_seen.number is None else f"is shown as {as_seen.found}"
            expected, mend = self._wanted(item, key), as_seen.mend
            if as_seen.number is not None:
                mend = f"have the cell hold {as_seen.number:g}, in a plain number format"
            return self._refuse("shown-otherwise", base, cell, found, expected, mend)
        add, times = UNIT_TABLE[item.kind][base.unit]
        # The same comparison as the live formula: in the unit typed, bounds converted to it.
        low, high = bounds(item.least, item.most, add, times)
        gap = item.kind == "share" and base.unit == "%" and 0 < cell.value < 1
        if gap:
            found = f"is {said(cell.value, base.unit)}"
            mend = f"write {cell.value * 100:g} for {cell.value * 100:g} %"
            mend += f", or pick fraction and write {cell.value / 100:g} for {cell.value:g} %"
            return self._refuse(
                "tiny-percent", base, cell, found, "less than 1 % is surely not meant", mend
            )
        if item.kind in WHOLE and cell.value != int(cell.value):
            found = f"is {said(cell.value, base.unit)}"
            return self._refuse("not-whole", base, cell, found, "it must be a whole number")
        if low <= cell.value <= high:
            return base.but(si=(cell.value + add) * times)
        mend = ""
        if item.kind == "share" and base.unit == "fraction" and cell.value > 1:
            mend = f"write {cell.value:g} with the unit %, or {cell.value / 100:g}"
        found = f"is {said(cell.value, base.unit)}"
        return self._refuse(
            "out-of-range", base, cell, found, self._expected_range(item, base.unit), mend
        )

    def _orders(self, orders: tuple[Order, ...], row: dict[str, Value]) -> None:
        for order in orders:
            low, high = row[order.low], row[order.high]
            slack = 1 + TOLERANCE if order.limit else 1.0
            if low.si is None or high.si is None or low.si <= high.si * slack:
                continue
            if order.limit:
                wanted = f"it must not be above {high.label}, {shown(high.si, high.kind, low.unit)}"
                label = f"{low.label} is {shown(low.si, low.kind, low.unit)}"
                found = Problem(
                    "wrong-order", low.where, sentence(label, wanted), PROBLEM, low.position
                )
                self.values.problems.append(found)
                row[order.low] = self._refused(low.but(si=None), found)
                continue
            if low.blank and high.blank:
                # What they are taken from is told already.
                default = self.model.item(order.high).default  # type: ignore[union-attr]
                told = row[getattr(default, "name", order.high)]
                row[order.high] = high.but(si=None, why=told.why, roots=told.roots)
                continue
            at = high
            text = sentence(
                f"{high.label} is {shown(high.si, high.kind, high.unit)}",
                f"it must not be below {low.label}, {shown(low.si, low.kind, low.unit)}",
            )
            if high.blank:
                # The bound is one that nobody typed here.
                at = low
                text = sentence(
                    f"{low.label} is {shown(low.si, low.kind, low.unit)}",
                    f"{high.label} is blank, and so {shown(high.si, high.kind, low.unit)}",
                    "type the one of its data sheet there",
                )
            found = Problem("wrong-order", at.where, text, PROBLEM, at.position)
            self.values.problems.append(found)
            row[order.high] = self._refused(high.but(si=None), found)

    def _table(self, table: Table) -> None:
        rows = self.values.tables.setdefault(table.name, TableValues()).rows
        sheet_rows = self.rows.setdefault(table.name, [])
        read = self.book.tables.get(table.name)
        if read is None and self.older and not table.at_least_one:
            self.not_there.append(table.label)
            return
        if read is None:
            text = sentence(f"the table {table.name} is lost", "it holds the rows", RESTORE)
            self.problem("lost", None, table.label, text)
            return
        columns = self._columns(table, read)
        for item in table.fields:
            self.unit(item, f"{table.name}.{item.name}", self._unit_cell(table, item))
        sheet, rows_there = read.area.sheet, range(read.area.first_row, read.area.last_row + 1)
        used = self.book.filled(sheet, rows_there, columns.values())
        for row in sorted({row for row, _ in used}):
            cells = {name: self.book.cell(sheet, row, column) for name, column in columns.items()}
            if all(cell.kind == "blank" for cell in cells.values()):
                continue
            sheet_rows.append(row)
            rows.append(self._row(table, cells))
        self._below(table, read, columns)
        self._formulas(table, read)
        self._keys(table, read)

    def _unit_cell(self, table: Table, item: Field | Column) -> CellRead | None:
        return self.book.named(f"{table.name}_{item.name}_unit")

    def _columns(self, table: Table, read: TableRead) -> dict[str, int]:
        found = {}
        for item in table.fields:
            if item.label in read.columns:
                found[item.name] = read.columns[item.label]
            elif self.may_lack(item):
                self.not_there.append(item.label)
            else:
                head = self.book.cell(
                    read.area.sheet, read.area.first_row - 1, read.area.first_column
                )
                text = sentence(
                    f"the table {table.name} has no column '{item.label}'",
                    "its heading must stand as in the template",
                    RESTORE,
                )
                self.problem("lost", head, "", text)
        return found

    def _row(self, table: Table, cells: Mapping[str, CellRead]) -> dict[str, Value]:
        row: dict[str, Value] = {}
        for item in table.fields:
            key = f"{table.name}.{item.name}"
            if item.name in cells:
                row[item.name] = self._value(item, key, cells[item.name], self.units[key])
            elif self.may_lack(item):
                unit = self.units[key]
                base = Value(item.name, item.label, item.kind, unit, None, table.label)
                row[item.name] = self._blank(item, base, None)
            else:
                why = f"not computed: the column {item.label} is lost"
                lost = Value(
                    item.name, item.label, item.kind, self.units[key], None, table.label, why
                )
                row[item.name] = lost.but(roots=(table.label,))
        self._orders(table.orders, row)
        pasted = cells.get("time")
        if "date" in row and row["date"].blank and pasted is not None:
            # A list may hold date and time of day in one.
            number = pasted.value if pasted.kind == "number" else 0.0
            if isinstance(number, float) and FIRST_DATE <= number <= LAST_DATE:
                row["date"] = row["date"].but(si=float(int(number)), blank=False)
        return row

    def _below(self, table: Table, read: TableRead, columns: Mapping[str, int]) -> None:
        """Tell what was typed below a table as one thing, however many rows there are."""
        first: CellRead | None = None
        last, count, places = 0, 0, sorted(columns.values())
        for row in rows_below(self.book, read, places):
            cells = [self.book.cell(read.area.sheet, row, column) for column in places]
            first = first or next(cell for cell in cells if cell.kind != "blank" or cell.formula)
            last, count = row, count + 1
        if first is None:
            return
        found = f"'{first.value}' stands below the table {read.name}"
        if count > 1:
            found = f"{count} rows down to row {last} stand below the table {read.name}"
        expected = "only rows inside the table are read"
        needed = ", ".join(item.label.lower() for item in table.fields if item.required)
        mend = f"type in the same row what each row needs ({needed})"
        listed = [f for f in table.fields if f.required and f.kind in self.model.choices]
        mend += ", words as their lists have them," if listed else ""
        mend += " and fill takes it in"
        self.problem("below-table", first, "", sentence(found, expected, mend))

    def _formulas(self, table: Table, read: TableRead) -> None:
        """Tell every row in which a live formula was typed over or never copied down."""
        headers = formula_headers(self.model, table)
        for header in [*headers, *written_headers(self.model, table.name), "Note"]:
            if header not in read.columns:
                text = sentence(
                    f"the table {table.name} has no column '{header}'",
                    "its heading must stand as in the template",
                    RESTORE,
                )
                if self.older and table.derived:
                    self.behind.add(table.name)
                elif not self.older:
                    self._break(table, f"{table.label} ({header})")
                self.lacks(table.label, header.removesuffix(" SI"), text)
        columns = sorted(read.columns[header] for header in headers if header in read.columns)
        run: list[list[CellRead]] = []
        sheet, rows = read.area.sheet, range(read.area.first_row, read.area.last_row + 1)
        live = self.book.live(sheet, rows, columns)
        for row in rows:
            lost = [column for column in columns if (row, column) not in live]
            gone = [self.book.cell(sheet, row, column) for column in lost]
            if run and len(gone) != len(run[-1]):
                self._gone(table, run)
                run = []
            if gone:
                run.append(gone)
        if run:
            self._gone(table, run)

    def _gone(self, table: Table, run: Sequence[Sequence[CellRead]]) -> None:
        """Tell rows below each other that miss as many live formulas as one thing."""
        first = run[0][0]
        found = f"{len(run[0])} live formulas are missing in this row"
        if len(run) > 1:
            rows = f"rows {first.row} to {run[-1][0].row}"
            found = f"{len(run[0])} live formulas are missing in each of {rows}"
        elif len(run[0]) == 1:
            found = f"{held(first)} stands where a live formula belongs"
        mend = "copy the cells of another row over " + ("them" if len(run) > 1 else "it")
        self._break(table, first.where)
        self.problem("formula-gone", first, "", sentence(found, "the formula must stand", mend))

    def _break(self, table: Table, where: str) -> None:
        values = self.values.tables[table.name]
        values.broken = (*values.broken, where)

    def _keys(self, table: Table, read: TableRead) -> None:
        rows = self.values.tables[table.name].rows
        head = self.book.cell(*read.area.first)
        if table.at_least_one and not rows:
            self.problem(
                "no-row", head, "", sentence(f"{table.label} has no row", "at least one is wanted")
            )
        seen: dict[str, Value] = {}
        for row in rows:
            value = row[table.key_field.name]
            if value.si is None:
                self._break(table, value.where)
            if value.si is None or not table.key:
                continue
            first = seen.setdefault(value.si, value)
            if first is not value:
                text = sentence(
                    f"{value.label} is '{value.si}' a second time",
                    "each may stand in one row only",
                    f"the first is in {first.where}",
                )
                self.values.problems.append(
                    Problem("repeated", value.where, text, PROBLEM, value.position)
                )
        for word in table.must_have:
            if word not in seen:
                text = sentence(f"{table.label} has no row for {word}", "one row is wanted")
                self.problem("no-row", head, "", text)

    def _keyed(self, table: Table) -> None:
        rows = self.values.tables.setdefault(table.name, TableValues()).rows
        sheet_rows = self.rows.setdefault(table.name, [])
        present = set(table.keys)
        if table.used_by:
            source = self.model.table(table.used_by)
            present = {row[source.key].si for row in self.values.tables[source.name].rows}
        read = self.book.tables.get(table.name)
        if read is None and self.older and table.derived:
            self.behind.add(table.name)
            self.not_there.append(table.label)
        elif read is None:
            text = sentence(f"the table {table.name} is lost", "it holds results", RESTORE)
            self.problem("lost", None, table.label, text)
        else:
            self._formulas(table, read)
        first = read.area.first_row if read else 0
        for index, key in enumerate(table.keys):
            if key in present or key in table.must_have:
                label = table.fields[0].label
                where = f"{table.label} row {first + index}"
                numbers = {
                    item.name: Value(
                        item.name, item.label, item.kind, "", table.fixed[item.name][index], where
                    )
                    for item in table.fields[1:]
                }
                rows.append({table.key: Value(table.key, label, "text", "", key, where), **numbers})
                sheet_rows.append(first + index)
            elif self.older and read is not None and first + index > read.area.last_row:
                # An older version had no such row, and nothing asks for it.
                continue
            ours: dict[str, str | float] = {table.key_field.label: key}
            ours |= {item.label: table.fixed[item.name][index] for item in table.fields[1:]}
            for head, content in ours.items():
                if read is None or head not in read.columns:
                    continue
                cell = self.book.cell(read.area.sheet, first + index, read.columns[head])
                if cell.value != content:
                    wanted = f"{content:g}" if isinstance(content, float) else content
                    mend = f"type {wanted} there"
                    text = sentence(f"{held(cell)} stands here", f"it must be {wanted}", mend)
                    self.problem("label-changed", cell, "", text)
                    self._break(table, cell.where)


def held(cell: CellRead) -> str:
    """What stands in a cell, for a message."""
    return "nothing" if cell.kind == "blank" else f"'{typed_text(cell)}'"


def typed_text(cell: CellRead) -> str:
    """What was typed, as a text; a number without float noise."""
    return f"{cell.value:g}" if isinstance(cell.value, float) else str(cell.value)


def _lowered(item: Field) -> str:
    return item.guide[:1].lower() + item.guide[1:].rstrip(".")


def bounds(least: float, most: float, add: float, times: float) -> tuple[float, float]:
    """Limits in SI in a unit, a hair wider, so that a bound itself is inside in any unit."""
    low, high = least * (1 - TOLERANCE), most * (1 + TOLERANCE)
    return low / times - add, high / times - add


def formula_headers(model: Model, table: Table) -> list[str]:
    """Headers of the columns of a table in which every row holds a live formula."""
    headers = ["In use"]
    headers += ["Row"] if table.used_by else []
    fields = () if table.keys else table.fields
    headers += [value_header(item) for item in fields if in_workings(item)]
    for column in model.columns_of(table.name):
        headers += [value_header(column)] if in_workings(column) else []
        headers += [] if column.working else [column.label]
    written = written_headers(model, table.name)
    return [header for header in headers if header not in written]


def written_headers(model: Model, table: str) -> list[str]:
    """Headers of the columns of a table that the filler writes: the engine's values in SI."""
    by_engine = filled(model)
    columns = [c for c in model.columns_of(table) if f"{table}.{c.name}" in by_engine]
    return [value_header(column) for column in columns]


class BookTargets(Targets):
    """Where results stand in a book, as `Inputs.read` found them."""

    def __init__(self, inputs: Inputs) -> None:
        self.inputs = inputs

    def cell(self, item: Cell) -> Value:
        return self.inputs.results[item.name]

    def rows(self, item: Column, count: int, known: Mapping[str, Any]) -> Sequence[Value]:
        base = self.inputs.results[f"{item.table}.{item.name}"].but(**known)
        book = self.inputs.book
        read = book.tables.get(item.table)
        if read is None or item.working or item.label not in read.columns:
            return [base] * count
        sheet, column = read.area.sheet, read.columns[item.label]
        order, letters = book.sheet_order[sheet], f"{quoted(sheet)}!{column_letters(column)}"
        return [
            base.but(where=f"{letters}{row}", position=(order, row, column), placed=True)
            for row in self.inputs.rows[item.table]
        ]
