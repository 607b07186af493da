"""Sheets that nobody needs as a tab of their own, laid beside each other on one."""

from __future__ import annotations

import re
from copy import copy
from typing import TYPE_CHECKING, Any

from openpyxl.utils import column_index_from_string, get_column_letter
from openpyxl.worksheet.cell_range import CellRange, MultiCellRange

from ..workbook.layout import TAKEN_ON, hosts, slug
from ..xlsx.book import quoted, unquoted
from ..xlsx.moved import APART, PLACE

if TYPE_CHECKING:
    from openpyxl.worksheet.worksheet import Worksheet

    from .builder import Builder

# Blank columns between two of them.
BETWEEN = 1
# Sheets with their host, and by how many columns they moved there.
Laid = dict[str, tuple[str, int]]
COLUMN = re.compile(r"(?<![A-Z])[A-Z]{1,3}(?![A-Z])")


def fold(builder: Builder) -> None:
    """Lay each sheet that has a host beside what stands there; every formula follows."""
    book = builder.book
    laid: Laid = {}
    for sheet, host in hosts(builder.model).items():
        if sheet in builder.sheets:
            laid[sheet] = host, builder.sheets[host].max_column + BETWEEN
            _tell(builder, sheet, *laid[sheet])
            _lay(builder.sheets[sheet], builder.sheets[host], laid[sheet][1])
            builder.words[host] += builder.words.pop(sheet)
            if host in TAKEN_ON.values():
                _print_too(builder.sheets[sheet], builder.sheets[host], laid[sheet][1])
    for name in book.defined_names.values():
        name.attr_text = _moved(name.attr_text, "", laid)
    for title, worksheet in builder.sheets.items():
        if title not in laid:
            _follow(worksheet, laid)
    for sheet in laid:
        book.remove(builder.sheets.pop(sheet))


def cells_of(sheet: Worksheet) -> list[Any]:
    """The cells that were made; to ask for rows would make all between them too."""
    return list(sheet._cells.values())


def _tell(builder: Builder, sheet: str, host: str, by: int) -> None:
    """Say on the first sheet where it stands now, and lead there if that can be seen."""
    start, row, first = builder.sheets["Start"], builder.told[sheet], get_column_letter(by + 1)
    told = start[f"B{row}"]
    told.value = f"On {host}, from column {first}. {told.value}"
    to_it = start[f"A{row}"].hyperlink
    if to_it is not None:
        to_it.location = f"'{host}'!{first}1"
    # Its notes stand on its host already.
    builder.sheets[sheet]["C2"].value = None
    builder.book.defined_names.pop(f"notes_{slug(sheet)}", None)


def _lay(sheet: Worksheet, host: Worksheet, by: int) -> None:
    """The cells of a sheet with their looks, rules, tables and charts, on the columns behind."""
    own = {sheet.title: (sheet.title, by)}
    for cell in cells_of(sheet):
        there = host.cell(cell.row, cell.column + by)
        there._style = copy(cell._style)
        formula = cell.data_type == "f"
        there.value = _moved_here(cell.value, sheet.title, own) if formula else cell.value
        if cell.hyperlink:
            there.hyperlink = copy(cell.hyperlink)
    for letter, dimension in sheet.column_dimensions.items():
        there = host.column_dimensions[get_column_letter(column_index_from_string(letter) + by)]
        there.width, there.hidden = dimension.width, dimension.hidden
    for rules in sheet.conditional_formatting:
        for rule in rules.rules:
            rule.formula = [_moved_here(text, sheet.title, own) for text in rule.formula]
            host.conditional_formatting.add(str(_ranges(rules.sqref, by)), rule)
    for rule in sheet.data_validations.dataValidation:
        rule.sqref = _ranges(rule.sqref, by)
        rule.formula1 = _moved_here(rule.formula1, sheet.title, own)
        rule.formula2 = _moved_here(rule.formula2, sheet.title, own)
        host.add_data_validation(rule)
    tables = list(sheet.tables.values())
    # A workbook has one table of a name.
    sheet.tables.clear()
    for table in tables:
        table.ref = _columns(table.ref, by)
        for column in table.tableColumns:
            made = column.calculatedColumnFormula
            if made is not None:
                made.attr_text = _moved_here(made.attr_text, sheet.title, own)
        host.add_table(table)
    for chart in sheet._charts:
        for corner in (chart.anchor._from, chart.anchor.to):
            corner.col += by
        host.add_chart(chart)


def _print_too(sheet: Worksheet, host: Worksheet, by: int) -> None:
    """Print what moved on a page of its own, as long as it was; people type there now."""
    own = sheet.print_area.rpartition("!")[2].replace("$", "")
    before = [area.rpartition("!")[2] for area in host.print_area.split(",")]
    host.print_area = ",".join([*before, _columns(own, by)])
    host.page_setup.orientation = sheet.page_setup.orientation
    host.protection.sheet = False


def _follow(worksheet: Worksheet, laid: Laid) -> None:
    """What a sheet reads of those that were laid elsewhere."""
    for cell in cells_of(worksheet):
        if cell.data_type == "f":
            cell.value = _moved(cell.value, worksheet.title, laid)
    for rules in worksheet.conditional_formatting:
        for rule in rules.rules:
            rule.formula = [_moved(text, "", laid) for text in rule.formula]
    for rule in worksheet.data_validations.dataValidation:
        rule.formula1, rule.formula2 = (
            text and _moved(text, "", laid) for text in (rule.formula1, rule.formula2)
        )
    for table in worksheet.tables.values():
        for column in table.tableColumns:
            made = column.calculatedColumnFormula
            if made is not None:
                made.attr_text = _moved(made.attr_text, worksheet.title, laid)
    for chart in worksheet._charts:
        for series in chart.series:
            for read in _read_by(series):
                read.f = _moved(read.f, "", laid)


def _read_by(series: Any) -> list[Any]:
    """The references of a series: its title, what is across, what is up."""
    found = []
    for part in (series.tx, series.cat, series.val, series.xVal, series.yVal):
        found += [getattr(part, kind, None) for kind in ("strRef", "numRef")]
    return [reference for reference in found if reference is not None]


def _moved_here(value: Any, title: str, own: Laid) -> Any:
    """A content that may be a formula, or the text of one, with its own sheet's columns moved."""
    return _moved(value, title, own, beside=True) if isinstance(value, str) else value


def _moved(text: str, own: str, laid: Laid, beside: bool = False) -> str:
    """A formula whose addresses follow the sheets that were laid elsewhere.

    With ``beside`` it is one of the sheet ``own``: what names no sheet moves with it, and what
    names a sheet is left to a later pass.
    """

    def place(found: re.Match[str]) -> str:
        named = found["sheet"]
        if beside:
            return found[0] if named else _columns(found[0], laid[own][1])
        title = unquoted(named) if named else ""
        if title not in laid:
            return found[0]
        host, by = laid[title]
        moved = _columns(found[0][len(named) + 1 :], by)
        return moved if host == own else f"{quoted(host)}!{moved}"

    pieces = (p if APART.fullmatch(p) else PLACE.sub(place, p) for p in APART.split(text))
    return "".join(pieces)


def _columns(cells: str, by: int) -> str:
    """An address or a range with its columns moved; whole rows stay."""
    return COLUMN.sub(lambda at: get_column_letter(column_index_from_string(at[0]) + by), cells)


def _ranges(cells: MultiCellRange, by: int) -> MultiCellRange:
    moved = []
    for one in cells.ranges:
        moved.append(CellRange(_columns(one.coord, by)))
    return MultiCellRange(moved)
