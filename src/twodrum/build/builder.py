"""Lays out the sheets of a model, one after the other, and saves them as a template."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from copy import copy
from datetime import datetime
from pathlib import Path

from openpyxl import Workbook
from openpyxl.formatting.rule import CellIsRule, FormulaRule
from openpyxl.styles import Font, PatternFill
from openpyxl.styles.cell_style import StyleArray
from openpyxl.utils import get_column_letter, range_boundaries
from openpyxl.workbook.defined_name import DefinedName
from openpyxl.worksheet.datavalidation import DataValidation
from openpyxl.worksheet.hyperlink import Hyperlink
from openpyxl.worksheet.pagebreak import Break
from openpyxl.worksheet.table import Table as SheetTable
from openpyxl.worksheet.table import TableColumn, TableFormula, TableStyleInfo
from openpyxl.worksheet.worksheet import Worksheet

from ..engine.expressions import Expression
from ..engine.model import Cell, Column, Field, Listing, Model, Study, Table
from ..engine.order import function_of
from ..engine.references import (
    Agg,
    Lookup,
    Name,
    Reference,
    Row,
)
from ..studies.words import NOTHING
from ..units import KINDS
from ..workbook.entry import (
    Rule,
    default_unit,
    entry_format,
    offered_name,
    rule_of,
    unit_rule,
)
from ..workbook.layout import (
    CHART_ROWS,
    FIRST_ROW,
    HEADER_ROW,
    HIDDEN,
    LABEL,
    LATER,
    MOST_ROWS,
    NOTE,
    ON_DEMAND,
    SI,
    SOURCE,
    UNIT,
    UNIT_ROW,
    VALUE,
    Place,
    below_name,
    guide,
    hosts,
    in_workings,
    inputs_key,
    make_layout,
    own_units,
    picked_on,
    slug,
    unit_choices,
)
from ..workbook.native import Native
from ..workbook.validations import mark_condition
from ..xlsx.book import COLUMN, quoted
from ..xlsx.marked import FILLED_MARK
from ..xlsx.moved import shifted
from . import charts, control, pages
from .accepted import ACCEPTED, add_accepted
from .fold import fold
from .names import drop_spare_names
from .save import save_book
from .styles import MARK, add_styles, mark_rule, number_format

CHARTS_ON_A_PAGE = 3
# So many rows of single values are read on one page.
ON_A_PAGE = 90
STATE_COLOURS = {"OK": "FFCDE8D8", "STALE": MARK, "CHECK": "FFFFC9C2"}


# A number format that shows nothing, and columns of a table that only formulas read.
NOT_SHOWN = ";;;"
OUT_OF_SIGHT = ("used", "row", "si")
# What stands beside a value and is found by its row.
BESIDE = (("unit", UNIT), ("note", NOTE))


class Builder:
    """One workbook on its way from declarations to openpyxl."""

    def __init__(self, model: Model, version: str, date: str) -> None:
        self.model = model
        self.version = version
        self.date = date
        self.layout = make_layout(model)
        self.native = Native(self.layout)
        self.book = Workbook()
        add_styles(self.book)
        self.book.remove(self.book.worksheets[0])
        self.sheets: dict[str, Worksheet] = {
            name: self.book.create_sheet(name) for name, _ in model.sheets
        }
        # Rows of the first sheet that say what stands on a sheet with others.
        self.told: dict[str, int] = {}
        self._styles: dict[str, StyleArray] = {}
        # Last row of the first sheet that is printed.
        self.start_ends = 0
        # What the charts of each sheet show, in words.
        self.words: dict[str, list[str]] = {name: [] for name, _ in model.sheets}

    def put(self, sheet: str, address: str, value: object, style: str) -> None:
        """One cell with its style."""
        cell = self.sheets[sheet][address]
        cell.value = value
        if style not in self._styles:
            cell.style = style
            self._styles[style] = copy(cell._style)
        # To look a style up by its name takes longest of all.
        cell._style = copy(self._styles[style])

    def name(self, name: str, sheet: str, address: str) -> None:
        """A defined name for an address such as "B7" or "B7:C9"."""
        absolute = ":".join(
            "$" + part.rstrip("0123456789") + "$" + part.lstrip("ABCDEFGHIJKLMNOPQRSTUVWXYZ")
            for part in address.split(":")
        )
        self.define(name, f"{quoted(sheet)}!{absolute}")

    def place_of(self, name: str) -> str:
        """Where a name points, as a formula of any sheet reads it."""
        return str(self.book.defined_names[name].attr_text)

    def define(self, name: str, text: str) -> None:
        self.book.defined_names[name] = DefinedName(name, attr_text=text)

    def table(self, name: str, sheet: str, ref: str) -> None:
        """An Excel table over cells that are there already."""
        table = SheetTable(displayName=name, ref=ref)
        table.tableStyleInfo = TableStyleInfo(name="TableStyleLight1", showRowStripes=False)
        # Filter buttons would lie over the headings; openpyxl adds them with the columns.
        heads = self.sheets[sheet][ref][0]
        table.tableColumns = [
            TableColumn(id=number, name=str(head.value), calculatedColumnFormula=made)
            for number, (head, made) in enumerate(zip(heads, self._calculated(name, sheet, ref)), 1)
        ]
        self.sheets[sheet].add_table(table)

    def _calculated(self, name: str, sheet: str, ref: str) -> Iterator[TableFormula | None]:
        """The formula that a spreadsheet program gives each new row of a table, by column."""
        left, top, right, bottom = range_boundaries(ref)
        # Rows that people type are made alike; to look at the first and the last is enough.
        alike = any(table.name == name and not table.keys for table in self.model.tables)
        for _, first, *rest in self.sheets[sheet].iter_cols(left, right, top, bottom):
            formula = first.value if first.data_type == "f" else ""
            looked_at = rest[-1:] if alike else rest
            same = formula and all(
                cell.value == shifted(formula, cell.row - first.row, 0) for cell in looked_at
            )
            yield TableFormula(attr_text=str(formula)[1:]) if same else None

    def build(self) -> Workbook:
        """The whole workbook."""
        for sheet, purpose in self.model.sheets:
            self._head(sheet, purpose)
        self._inputs()
        self._results()
        for table in self.model.tables:
            self._table(table)
        for study in self.model.studies:
            if study.columns:
                self._study(study)
        for page in self.model.pages:
            pages.add_page(self, page)
        if self.model.accepted:
            add_accepted(self)
        control.add_start(self)
        control.add_record(self)
        control.add_units(self)
        control.add_lists(self)
        if self.model.works_out:
            control.add_snapshot(self)
        self._finish()
        fold(self)
        drop_spare_names(self)
        if self.model.works_out:
            self.book.defined_names[FILLED_MARK] = DefinedName(
                FILLED_MARK, attr_text='""', hidden=True
            )
        return self.book

    def _head(self, sheet: str, purpose: str) -> None:
        title = self.model.title if sheet == "Start" else sheet
        self.put(sheet, "A1", title, "td_title")
        narrow = any(t.sheet == sheet and t.fields[0].width < 20 for t in self.model.tables)
        self.put(sheet, "A2", "State" if narrow else "State of this workbook", "td_label")
        self.put(sheet, "B2", "=overall_state", "td_state")
        self.name(f"state_{slug(sheet)}", sheet, "B2")
        if self.model.works_out:
            self.put(sheet, "C2", "=beside_said", "td_notes")
            self.name(f"notes_{slug(sheet)}", sheet, "C2")
        self.put(sheet, "A3", purpose, "td_guide")
        for word, colour in STATE_COLOURS.items():
            rule = CellIsRule(
                operator="equal",
                formula=[f'"{word}"'],
                fill=PatternFill("solid", bgColor=colour),
                font=Font(bold=True),
            )
            self.sheets[sheet].conditional_formatting.add("B2", rule)

    def _record_head(self, sheet: str, source: bool) -> None:
        heads = [(LABEL, "What"), (VALUE, "Value"), (UNIT, "Unit"), (SI, None), (NOTE, "Note")]
        if self._alone(sheet):
            heads[3] = (SI, "In SI")
            self.sheets[sheet].column_dimensions[SI].hidden = True
        if source:
            heads.append((SOURCE, "Formula and source"))
        header = self.layout.first_rows[sheet] - 1
        for letter, text in heads:
            self.put(sheet, f"{letter}{header}", text, "td_header")
        widths = {LABEL: 44, VALUE: 22, UNIT: 15, SI: 17, NOTE: 56, SOURCE: 64}
        if not source:
            widths[VALUE] = 32
        for letter, width in widths.items():
            self.sheets[sheet].column_dimensions[letter].width = width
        for row, heading in self.layout.headings[sheet]:
            self._heading(sheet, row, heading, [letter for letter, _ in heads])

    def _heading(self, sheet: str, row: int, heading: str, letters: Iterable[str]) -> None:
        for letter in letters:
            self.put(sheet, f"{letter}{row}", None, "td_heading")
        self.put(sheet, f"{LABEL}{row}", heading, "td_heading")

    def _alone(self, sheet: str) -> bool:
        """Whether single values have the columns of a sheet for themselves."""
        tables = {table.sheet for table in self.model.tables}
        return sheet not in tables | {study.sheet for study in self.model.studies if study.columns}

    def _in_si(self, sheet: str, row: int, value: object, style: str) -> None:
        """A value for formulas: out of sight, where its column can't be hidden too."""
        self.put(sheet, f"{SI}{row}", value, style)
        if not self._alone(sheet):
            self.sheets[sheet][f"{SI}{row}"].number_format = NOT_SHOWN

    def _inputs(self) -> None:
        for sheet in self.model.input_sheets():
            if not picked_on(self.model, sheet):
                self._record_head(sheet, source=False)
            else:
                for row, heading in self.layout.headings[sheet]:
                    self._heading(sheet, row, heading, (LABEL, VALUE, UNIT, SI))
                if sheet not in self.layout.first_rows:
                    # Beside a page stands nothing else in the column of notes.
                    self.sheets[sheet].column_dimensions[NOTE].width = 56
            for item in self.model.fields_on(sheet):
                self._input(item)
            first, last = self.layout.input_rows[sheet]
            key = inputs_key(self.model, sheet)
            self.name(f"{key}_in", sheet, f"{VALUE}{first}:{UNIT}{last}")
            self.name(f"{key}_si", sheet, f"{SI}{first}:{SI}{last}")
            for what, letter in BESIDE:
                self.column(key, what, sheet, f"{letter}{first}:{letter}{last}")

    def _input(self, item: Field) -> None:
        sheet, row = self.layout.records[item.name]
        address = f"{VALUE}{row}"
        text = item.kind not in KINDS
        self.put(sheet, f"{LABEL}{row}", item.label, "td_label")
        self.put(sheet, address, None, "td_input_text" if text else "td_input")
        self.sheets[sheet][address].number_format = entry_format(item.kind)
        self.name(item.name, sheet, address)
        self.put(sheet, f"{UNIT}{row}", None, "td_unit")
        self._in_si(sheet, row, None, "td_calculation")
        self._unit_cell(item, sheet, f"{UNIT}{row}", f"{item.name}_unit")
        self._note(item.name, sheet, row, guide(item))
        if item.name in self.layout.field_rows:
            self._in_si(sheet, row, self.native.input_si(item), "td_calculation")
            self.name(f"{item.name}_si", sheet, f"{SI}{row}")
            self._mark(sheet, address, mark_condition(f"{SI}{row}", address))
        self.validate(sheet, address, item, item.name)

    def _mark(self, sheet: str, cells: str, wrong: str) -> None:
        """What was typed and is refused stands out, in grey print too."""
        rule = mark_rule(wrong, STATE_COLOURS["CHECK"])
        self.sheets[sheet].conditional_formatting.add(cells, rule)

    def _note(self, name: str, sheet: str, row: int, text: str) -> None:
        self.put(sheet, f"{NOTE}{row}", text or None, "td_note")
        self.name(f"{name}_note", sheet, f"{NOTE}{row}")

    def _unit_cell(self, item: Field | Cell | Column, sheet: str, address: str, name: str) -> None:
        if item.kind not in KINDS:
            return
        if item.kind == "money":
            known = any(field.name == "currency" for field in self.model.fields())
            text = "=currency_si" if known else KINDS["money"].metric
            self.put(sheet, address, text, "td_unit")
            self.name(name, sheet, address)
            return
        choices = unit_choices(item)
        self.put(sheet, address, item.unit("metric"), "td_unit_input" if choices else "td_unit")
        if not choices:
            return
        self.name(name, sheet, address)
        self._rule(sheet, address, unit_rule(item.kind))

    def validate(self, sheet: str, cells: str, item: Field, key: str) -> None:
        """What may be typed into an input, told before and after typing."""
        place = self.layout.field_rows.get(key, FIRST_ROW) - FIRST_ROW + 1
        self._rule(sheet, cells, rule_of(item, key, place, default_unit(item)))

    def _rule(self, sheet: str, cells: str, rule: Rule) -> None:
        first = cells.split(":", maxsplit=1)[0]
        made = DataValidation(
            type=rule.type,
            operator=rule.operator or None,
            formula1=rule.first.format(cell=first),
            formula2=rule.second or None,
            allow_blank=rule.allow_blank,
            showErrorMessage=True,
            showInputMessage=bool(rule.prompt),
            errorTitle=rule.error_title,
            error=rule.error,
            errorStyle=None if rule.stop else "information",
            promptTitle=rule.prompt_title or None,
            prompt=rule.prompt or None,
        )
        made.add(cells)
        self.sheets[sheet].add_data_validation(made)

    def _results(self) -> None:
        for sheet in self.model.result_sheets:
            self._record_head(sheet, source=True)
            cells = self.model.cells_on(sheet)
            for cell in cells:
                self._result(cell)
            first = self.layout.first_rows[sheet]
            last = max(self.layout.records[cell.name][1] for cell in cells)
            self.name(f"{slug(sheet)}_values", sheet, f"{VALUE}{first}:{SI}{last}")
            for what, letter in BESIDE:
                self.column(slug(sheet), what, sheet, f"{letter}{first}:{letter}{last}")

    def column(self, key: str, what: str, sheet: str, cells: str) -> None:
        """One name for what stands beside the named values of a block."""
        self.name(f"{key}_{what}{COLUMN}", sheet, cells)

    def _result(self, cell: Cell) -> None:
        sheet, row = self.layout.records[cell.name]
        si = f"{SI}{row}"
        self.put(sheet, f"{LABEL}{row}", cell.label, "td_label")
        if cell.name in self.native.filled:
            self._in_si(sheet, row, None, "td_filled")
            value = self.native.carried(si)
        elif cell.name in self.native.apart:
            self._in_si(sheet, row, self.native.cell(cell), "td_calculation")
            value = f"={si}"
        else:
            self._in_si(sheet, row, None, "td_calculation")
            value = self.native.cell(cell)
        if cell.name in self.native.apart:
            self.name(f"{cell.name}_si", sheet, si)
        if cell.working:
            kind = KINDS[cell.kind]
            alone = kind.metric if len(kind.units) == 1 else kind.si
            self.put(sheet, f"{UNIT}{row}", alone if alone != "1" else "fraction", "td_unit")
            self._note(cell.name, sheet, row, cell.guide)
            self.put(sheet, f"{SOURCE}{row}", source_text(cell, self.model), "td_note")
            return
        if unit_choices(cell):
            value = self.native.shown(cell.name, si)
        style = "td_output_text" if cell.kind == "text" else "td_output"
        self.put(sheet, f"{VALUE}{row}", value, style)
        self.sheets[sheet][f"{VALUE}{row}"].number_format = number_format(cell.kind)
        self.name(cell.name, sheet, f"{VALUE}{row}")
        self._unit_cell(cell, sheet, f"{UNIT}{row}", f"{cell.name}_unit")
        self._note(cell.name, sheet, row, cell.guide)
        self.put(sheet, f"{SOURCE}{row}", source_text(cell, self.model), "td_note")

    def _table(self, table: Table) -> None:
        sheet, last = table.sheet, self.layout.last_row(table.name)
        worksheet = self.sheets[sheet]
        for place in self.layout.places[table.name]:
            self.put(sheet, f"{place.letter}{HEADER_ROW}", place.header, "td_header")
            width = 13.0 if place.item is None or place.role == "si" else place.item.width
            worksheet.column_dimensions[place.letter].width = 34 if place.role == "note" else width
            unseen = place.role in OUT_OF_SIGHT and sheet not in HIDDEN
            worksheet.column_dimensions[place.letter].hidden = unseen
            self._table_unit(table.name, sheet, place)
            for row in range(FIRST_ROW, last + 1):
                self._table_cell(table, place, row)
            if place.role == "input" and isinstance(place.item, Field):
                cells = f"{place.letter}{FIRST_ROW}:{place.letter}{last}"
                self.validate(sheet, cells, place.item, f"{table.name}.{place.item.name}")
                if in_workings(place.item):
                    si = self.layout.place(table.name, place.item.name, "si").letter
                    wrong = mark_condition(f"{si}{FIRST_ROW}", f"{place.letter}{FIRST_ROW}")
                    self._mark(sheet, cells, wrong)
                if self._offers(table.name, place.item.name):
                    self.name(offered_name(table.name, place.item.name), sheet, cells)
        self.put(sheet, f"A{UNIT_ROW}", "Units", "td_unit")
        self._marked(table)
        self.table(table.name, sheet, self.layout.ref(table.name))
        inputs = [p for p in self.layout.places[table.name] if p.role == "input"]
        if inputs:
            first, final = inputs[0], inputs[-1]
            self.define(f"{table.name}_in", f"{table.name}[[{first.header}]:[{final.header}]]")
            units = f"{first.letter}{UNIT_ROW}:{final.letter}{UNIT_ROW}"
            self.name(f"{table.name}_units_in", sheet, units)
            below = f"{first.letter}{last + 1}:{final.letter}{last + MOST_ROWS}"
            self.name(below_name(table.name), sheet, below)

    def _offers(self, table: str, column: str) -> bool:
        """Whether a field lets the office pick from this column."""
        fields = [field for other in self.model.tables for field in other.fields]
        return any(field.offered == (table, column) for field in fields)

    def _marked(self, table: Table) -> None:
        """Verdicts that found something stand out, in grey print too."""
        for place in self.layout.places[table.name]:
            if isinstance(place.item, Column) and place.item.name == "verdict":
                cells = (
                    f"{place.letter}{FIRST_ROW}:{place.letter}{self.layout.last_row(table.name)}"
                )
                first = f"${place.letter}{FIRST_ROW}"
                plain = f'LEFT({first},{len(NOTHING)})="{NOTHING}"'
                rule = FormulaRule(
                    formula=[f'AND({first}<>"",NOT({plain}))'],
                    font=Font(bold=True),
                    fill=PatternFill("solid", bgColor=STATE_COLOURS["STALE"]),
                )
                self.sheets[table.sheet].conditional_formatting.add(cells, rule)
                # The verdict may be out of sight: the first cell of its row is marked too.
                beside = f"A{FIRST_ROW}:A{self.layout.last_row(table.name)}"
                self.sheets[table.sheet].conditional_formatting.add(beside, rule)

    def _table_unit(self, table: str, sheet: str, place: Place) -> None:
        if place.item is None or place.item.kind not in KINDS:
            return
        address = f"{place.letter}{UNIT_ROW}"
        if place.role == "si":
            self.put(sheet, address, KINDS[place.item.kind].si, "td_unit")
        else:
            self._unit_cell(place.item, sheet, address, f"{table}_{place.item.name}_unit")

    def _table_cell(self, table: Table, place: Place, row: int) -> None:
        address, item = f"{place.letter}{row}", place.item
        if place.role == "note":
            self.put(table.sheet, address, None, "td_note")
        elif place.role == "used":
            self.put(table.sheet, address, self.native.used(table.name, row), "td_calculation")
        elif place.role == "row":
            formula = self.native.source_row(table.name, row)
            self.put(table.sheet, address, formula, "td_calculation")
        elif place.role == "key":
            ours = table.fixed.get(item.name, table.keys) if item else table.keys
            style = "td_constant" if item and item.name in table.fixed else "td_label"
            self.put(table.sheet, address, ours[row - FIRST_ROW], style)
        elif isinstance(item, Field):
            if place.role == "input":
                style = "td_input" if item.kind in KINDS else "td_input_text"
                self.put(table.sheet, address, None, style)
                self.sheets[table.sheet][address].number_format = entry_format(item.kind)
            else:
                typed = self.layout.place(table.name, item.name, "input").letter
                formula = self.native.column_si(table.name, item, typed, row)
                self.put(table.sheet, address, formula, "td_calculation")
        elif isinstance(item, Column):
            self._result_cell(table, place, item, row)

    def _result_cell(self, table: Table, place: Place, item: Column, row: int) -> None:
        address = f"{place.letter}{row}"
        by_engine = f"{table.name}.{item.name}" in self.native.filled
        formula = None if by_engine else self.native.column(item, row)
        if place.role == "si":
            style = "td_filled" if by_engine else "td_calculation"
            self.put(table.sheet, address, formula, style)
            return
        if unit_choices(item):
            si = self.layout.place(table.name, item.name, "si").letter
            formula = self.native.shown(f"{table.name}.{item.name}", f"{si}{row}", "$")
        elif by_engine:
            style = "td_filled" if item.kind in KINDS else "td_filled_text"
            self.put(table.sheet, address, None, style)
            return
        style = "td_output" if item.kind in KINDS else "td_calculation"
        self.put(table.sheet, address, formula, style)
        if item.kind in KINDS:
            self.sheets[table.sheet][address].number_format = number_format(item.kind)
        else:
            self.sheets[table.sheet][address].style = "td_output_text"

    def _study(self, study: Study) -> None:
        sheet, top = study.sheet, self.layout.study_tops[study.name]
        # The only thing on its sheet: nothing else says how wide the columns are.
        taken = {*self.layout.first_rows, *(table.sheet for table in self.model.tables)}
        alone = sheet not in taken
        header = top + 2
        last = header + study.capacity
        self.put(sheet, f"A{top}", study.label, "td_heading")
        self.put(sheet, f"{'C' if alone else 'B'}{top}", "Filled by twodrum fill.", "td_guide")
        for place in self.layout.places[study.name]:
            item = place.item
            assert isinstance(item, Field)
            # A value for formulas, out of sight where its column can't be hidden.
            unseen = place.role == "si"
            style = "td_guide" if unseen else "td_header"
            self.put(sheet, f"{place.letter}{header}", place.header, style)
            if unseen:
                self.sheets[sheet][f"{place.letter}{header}"].number_format = NOT_SHOWN
            if alone:
                # Blocks below each other share their columns: the widest counts.
                column = self.sheets[sheet].column_dimensions[place.letter]
                known = column.width if column.customWidth else 0.0
                column.width = max(known, item.width)
            if item.kind in KINDS and unseen:
                at = f"{place.letter}{header - 1}"
                self.put(sheet, at, KINDS[item.kind].si, "td_guide")
                self.sheets[sheet][at].number_format = NOT_SHOWN
            elif item.name in study.units:
                self.put(sheet, f"{place.letter}{header - 1}", None, "td_unit")
                self.name(f"{study.name}_{item.name}_in", sheet, f"{place.letter}{header - 1}")
            elif item.kind in KINDS:
                name = f"{study.name}_{item.name}_unit"
                self._unit_cell(item, sheet, f"{place.letter}{header - 1}", name)
            for row in range(header + 1, last + 1):
                address = f"{place.letter}{row}"
                text = item.kind not in KINDS
                style = "td_filled_text" if text else "td_filled"
                style, value = "td_guide" if unseen else style, None
                if place.role == "result" and item in own_units(study):
                    si = self.layout.place(study.name, item.name, "si").letter
                    value = self.native.shown(f"{study.name}.{item.name}", f"{si}{row}", "$")
                    style = "td_output"
                self.put(sheet, address, value, style)
                if not text or item.kind in ("clock", "date"):
                    self.sheets[sheet][address].number_format = number_format(item.kind)
                if unseen:
                    self.sheets[sheet][address].number_format = NOT_SHOWN
        final = self.layout.places[study.name][-1].letter
        self.table(study.name, sheet, f"A{header}:{final}{last}")
        if study.charts:
            charts.add_charts(self, study)

    def _unused_rows(self) -> None:
        """Blocks follow each other without their blank rows, until a fill writes into them."""
        for sheet in self.sheets:
            blocks = [s for s in self.model.studies if s.columns and s.sheet == sheet]
            blocks.sort(key=lambda study: self.layout.study_tops[study.name])
            for study in blocks[:-1] if sheet not in hosts(self.model) else ():
                top = self.layout.study_tops[study.name]
                for row in range(top + 4, top + 3 + study.capacity):
                    self.sheets[sheet].row_dimensions[row].hidden = True

    def _finish(self) -> None:
        self._unused_rows()
        input_sheets = {table.sheet for table in self.model.tables if not table.keys}
        handed = {page.sheet for page in self.model.pages if page.handed}
        pages_kept = {page.sheet for page in self.model.pages} - handed
        for name, worksheet in self.sheets.items():
            worksheet.sheet_view.showGridLines = False
            worksheet.sheet_state = "hidden" if name in (*HIDDEN, *LATER) else "visible"
            with_blocks = {study.sheet for study in self.model.studies if study.columns}
            if name in handed:
                worksheet.freeze_panes = "A5"
            elif (
                name in ("Start", "Record", "Snapshot", ACCEPTED)
                or name in with_blocks | pages_kept
            ):
                worksheet.freeze_panes = "A5"
                worksheet.print_title_rows = "1:4"
            else:
                worksheet.freeze_panes = f"B{FIRST_ROW}"
                worksheet.print_title_rows = f"{UNIT_ROW}:{HEADER_ROW}"
            self._page(name, worksheet)
            if name not in input_sheets:
                worksheet.protection.sheet = True
                worksheet.protection.formatColumns = False
                worksheet.protection.formatRows = False
        self.book.active = 0
        properties = self.book.properties
        properties.title, properties.version = self.model.title, self.version
        properties.creator = "twodrum"
        properties.created = properties.modified = datetime.fromisoformat(self.date)
        self.book.calculation.fullCalcOnLoad = True

    def _page(self, name: str, worksheet: Worksheet) -> None:
        wide = name in {table.sheet for table in self.model.tables}
        wide = wide or name in ("Lists", "Snapshot", "Cautions")
        worksheet.page_setup.orientation = "landscape" if wide else "portrait"
        worksheet.page_setup.paperSize = 9
        margins = worksheet.page_margins
        margins.left = margins.right = 0.4
        margins.top, margins.bottom = 0.4, 0.6
        margins.footer = 0.3
        worksheet.page_setup.fitToWidth, worksheet.page_setup.fitToHeight = 1, 0
        worksheet.sheet_properties.pageSetUpPr.fitToPage = True
        footer = worksheet.oddFooter
        page = next((page for page in self.model.pages if page.sheet == name), None)
        if page and page.handed:
            # What is handed over says nothing of a workbook or its state, and is one page.
            worksheet.page_setup.fitToHeight = 1
            # What is picked above the page is for the screen.
            top = self.layout.page_rows[name][0]
            worksheet.print_area = f"A{top}:D{worksheet.max_row}"
            if name in LATER:
                for row in range(UNIT_ROW, worksheet.max_row + 1):
                    worksheet.row_dimensions[row].hidden = True
            if page.letter:
                worksheet.print_options.horizontalCentered = True
                # Rows that grow with their words may reach below where a page was to end.
                margins.top, margins.bottom = 0.6, 1.0
            if page.letter and isinstance(page.lines[-1], Listing):
                footer.right.text = "Page &P of &N"
                heads = self.layout.page_rows[name][-1]
                worksheet.print_title_rows = f"{heads}:{heads + 1}"
            return
        footer.left.text = "&F"
        footer.center.text = f"&A, template {self.version}"
        footer.right.text = "Page &P of &N"
        last = self.layout.often_to.get(name, worksheet.max_row)
        letter = get_column_letter(worksheet.max_column)
        for table in self.model.tables:
            if table.sheet == name:
                letter = self.layout.place(table.name, "", "note").letter
        if name in self.layout.first_rows and name in self.model.result_sheets:
            # Formulas and sources are for the screen: without them the print is large enough.
            letter = NOTE
            if self._alone(name):
                worksheet.page_setup.fitToHeight = 1
        blocks = [study for study in self.model.studies if study.sheet == name and study.columns]
        if len(blocks) > 1 and name in {table.sheet for table in self.model.tables if table.keys}:
            # What a fill alone gives is printed from then on.
            last = self.layout.study_tops[blocks[1].name] - 2
        for study in self.model.studies:
            if study.charts and study.sheet == name:
                # The figures of a chart begin a page of their own.
                top = self.layout.study_tops[study.name]
                worksheet.row_breaks.append(Break(id=top - 1))
        for top in self._cut_charts(name):
            worksheet.row_breaks.append(Break(id=top - 2))
        if name in self.model.input_sheets() and self._alone(name) and last <= ON_A_PAGE:
            worksheet.page_setup.fitToHeight = 1
        if name == "Start":
            # What a fill tells is for the screen.
            letter, last = "D", self.start_ends
            worksheet.page_setup.fitToHeight = 1
        if name not in HIDDEN:
            worksheet.print_area = self._print_area(name, letter, last)

    def _print_area(self, sheet: str, letter: str, last: int) -> str:
        """What is printed of a sheet; a blank row of one of which nothing is at first."""
        if sheet not in ON_DEMAND:
            return f"A1:{letter}{last}"
        tables = (table.name for table in self.model.tables if table.sheet == sheet)
        blank = self.layout.blank_row(next(tables))
        return f"A{blank}:{letter}{blank}"

    def _cut_charts(self, sheet: str) -> list[int]:
        """First rows of the charts that would be cut by the foot of a page."""
        charts = [study for study in self.model.studies if study.sheet == sheet and study.charts]
        tops = [
            self.layout.chart_tops[study.name] + index * CHART_ROWS
            for study in charts
            for index in range(len(study.charts))
        ]
        return tops[CHARTS_ON_A_PAGE::CHARTS_ON_A_PAGE]


def source_text(item: Cell | Column, model: Model) -> str:
    """Formula name, equation and source of a result, for the column beside it."""
    function = function_of(item)
    if function is None and item.study:
        return model.study(item.study).source
    if function is None:
        reference = item.args[0]
        if isinstance(reference, Agg):
            return f"Sum of the rows of {reference.table.capitalize()}"
        if isinstance(reference, Lookup):
            return f"Carried from {reference.table.capitalize()}"
        return f"Carried from {_called(reference, item, model)}"
    if isinstance(function, Expression):
        called = [_called(reference, item, model) for reference in function.references]
        # A label with a comma in it is not to be taken for two.
        called = [f"'{word}'" if "," in word else word for word in called]
        words = function.words.format(**{f"a{n}": word for n, word in enumerate(called)})
        return words[:1].upper() + words[1:]
    equation = function.equation.rstrip(".")
    return f"{function.formula_name}: {equation}. {function.source}"


def _called(reference: Reference, item: Cell | Column, model: Model) -> str:
    """What a reader calls what a reference stands for."""
    if isinstance(reference, Name):
        constant = any(reference.name == one.name for one in model.constants)
        return reference.name.replace("_", " ") if constant else model.item(reference.name).label
    if isinstance(reference, Row) and isinstance(item, Column):
        return model.column_item(item.table, reference.column).label
    assert isinstance(reference, (Agg, Lookup))
    label = model.column_item(reference.table, reference.column).label
    if isinstance(reference, Agg):
        told = model.table(reference.table).fields
        named = {item.name: item.label for item in told}
        which = f" where {named[reference.typed]} is typed" if reference.typed else ""
        which += f" where {named[reference.blank]} is blank" if reference.blank else ""
        return f"sum of '{label}'{which}"
    return label if isinstance(reference.key, Row) else f"{label} of {reference.key}"


def link(worksheet: Worksheet, address: str, target: str, text: str) -> None:
    """A link to another sheet of the same workbook."""
    cell = worksheet[address]
    cell.value = text
    cell.hyperlink = Hyperlink(ref=address, location=f"'{target}'!A1", display=text)
    cell.style = "td_link"


def main(folder: Path | None = None) -> None:
    """Write every template into a folder."""
    from ..books.month import MONTH
    from ..books.office import OFFICE
    from ..books.parts import SETS, job_of
    from ..changelog import newest
    from .gallery import build_gallery

    target = folder or Path(__file__).parents[3] / "workbook_templates"
    version, date = newest()
    for model in (*map(job_of, SETS), OFFICE, MONTH):
        builder = Builder(model, version, date)
        builder.build()
        # Drawings are numbered in the order of the sheets that have any.
        words = [texts for texts in builder.words.values() if texts]
        save_book(builder.book, date, words, target / f"{model.name}.xlsx")
    save_book(build_gallery(version, date), date, [], target / "functions.xlsx")
