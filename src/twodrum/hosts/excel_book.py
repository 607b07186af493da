"""The workbook that is open in Excel, read and filled as a file is.

It answers what `workbook.book.Book` answers, from xlwings' objects; formulas are Excel's own to
calculate, so only plain values are written.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Set
from datetime import date, datetime, time, timedelta
from typing import Any

from ..commands.fill import Filled, fill_book
from ..problems import with_capital
from ..worksheet.cells import serial
from ..xlsx.book import Area, Book, CellRead, TableRead, prefix_of, without
from ..xlsx.formats import DATE, DURATION, TIME, Look
from ..xlsx.package import PackageError
from ..xlsx.scan import Scan
from ..xlsx.write import Address, Content, Error, Write, same
from .excel_wrapper import ERRORS


class OpenBook(Book):
    """The cells of an open workbook, each sheet read once."""

    def __init__(self, book: Any) -> None:
        self._book = book
        self._areas: dict[str, Area | None] = {}
        self._tables: dict[str, TableRead] | None = None
        self._grids: dict[str, dict[tuple[int, int], CellRead]] = {}
        # xlwings hands dates over as dates, whatever day the workbook counts from.
        self.date_1904 = False
        self.sheets = {sheet.name: sheet.name for sheet in book.sheets}
        self.sheet_order = {name: index for index, name in enumerate(self.sheets)}
        names = {
            name.name.casefold(): (name.refers_to or "").removeprefix("=")
            for name in book.names
            if "!" not in name.name
        }
        self.aliases = {}
        self.head_aliases = set()
        self.prefix = prefix_of(names)
        self.names = without(self.prefix, names)

    def look(self, cell: CellRead) -> Look:
        """The shape that its number came in; percentages come as plain numbers."""
        return SHAPES[cell.style]

    def scan(self, sheet: str) -> Scan:
        """Nothing is known of merged cells: Excel itself refuses to write inside one."""
        return Scan(b"")

    def bottom(self, sheet: str, columns: Iterable[int]) -> int:
        """The last row of some columns of a sheet in which anything stands."""
        self._known(sheet)
        wanted = set(columns)
        return max((row for row, column in self._grids[sheet] if column in wanted), default=0)

    def is_blank(self, sheet: str, row: int, column: int) -> bool:
        """Whether the sheet holds neither value nor formula there."""
        self._known(sheet)
        return (row, column) not in self._grids[sheet]

    def has_formula(self, sheet: str, row: int, column: int) -> bool:
        """Whether a live formula stands there."""
        return self.cell(sheet, row, column).formula

    def _known(self, sheet: str) -> None:
        if sheet not in self._grids:
            self._grids[sheet] = self._grid(sheet)

    def cell(self, sheet: str, row: int, column: int) -> CellRead:
        """One cell; blank where the sheet holds nothing."""
        self._known(sheet)
        found = self._grids[sheet].get((row, column))
        return found or CellRead(sheet, row, column, sheet_index=self.sheet_order[sheet])

    def _grid(self, sheet: str) -> dict[tuple[int, int], CellRead]:
        used = self._book.sheets[sheet].used_range
        values = used.options(ndim=2, err_to_str=True).value
        formulas = used.formula
        if not isinstance(formulas, (list, tuple)):
            formulas = [[formulas]]
        grid = {}
        for r, (line, texts) in enumerate(zip(values, formulas)):
            for c, (value, text) in enumerate(zip(line, texts)):
                formula = isinstance(text, str) and text.startswith("=") and text != "=#N/A"
                if value is None and not formula:
                    continue
                row, column = used.row + r, used.column + c
                kind, content = _read(value)
                shape = _shape(value)
                order = self.sheet_order[sheet]
                written = text.removeprefix("=") if formula else ""
                grid[row, column] = CellRead(
                    sheet, row, column, kind, content, formula, order, written, shape
                )
        return grid

    @property
    def tables(self) -> dict[str, TableRead]:
        """Every table of every sheet, by its name in lower case."""
        if self._tables is None:
            self._tables = {}
            for sheet in self._book.sheets:
                for table in sheet.tables:
                    self._tables[table.name.casefold()] = _table(sheet.name, table)
            self._tables = without(self.prefix, self._tables)
        return self._tables

    def put(self, writes: Mapping[Address, Write], barred: Set[Address]) -> int:
        """Write the plain values that differ; how many cells that were."""
        count = 0
        for (sheet, row, column), write in writes.items():
            cell = self.cell(sheet, row, column)
            skip = write.cached or cell.formula or (sheet, row, column) in barred
            # An empty text is a blank cell in Excel.
            empty = write.value == "" and cell.kind == "blank"
            if skip or empty or same(cell, write):
                continue
            self._book.sheets[sheet].range((row, column)).value = _content(write.value)
            count += 1
        self._grids.clear()
        return count


SHAPES = (Look(), Look(TIME), Look(DURATION), Look(DATE))
# Excel hands a time of day over as one of the first day that it counts.
FIRST_YEARS = 1901


def _shape(value: Any) -> int:
    """Place of the shape of a value in `SHAPES`."""
    if isinstance(value, timedelta):
        return 2
    if isinstance(value, time) or (isinstance(value, datetime) and value.year < FIRST_YEARS):
        return 1
    return 3 if isinstance(value, date) else 0


def _read(value: Any) -> tuple[str, Any]:
    if value is None:
        return "text", ""
    if isinstance(value, bool):
        return "bool", value
    if isinstance(value, (datetime, date, time, timedelta)):
        return "number", serial(value)
    if isinstance(value, (int, float)):
        return "number", float(value)
    return ("error" if value in ERRORS else "text"), value


def _content(value: Content) -> Any:
    """A value as xlwings writes it; an error is typed as its own text."""
    if isinstance(value, Error):
        return value.text
    if isinstance(value, str):
        # Excel would take such a text for a formula.
        return f"'{value}" if value[:1] in ("=", "+", "-", "@", "'") else value
    return None if value is None else float(value)


def _table(sheet: str, table: Any) -> TableRead:
    whole, heads = table.range, table.header_row_range
    header = 0 if heads is None else 1
    columns: dict[str, int] = {}
    if heads is not None:
        for index, head in enumerate(heads.options(ndim=1).value):
            columns[" ".join(str(head).split())] = whole.column + index
    rows, wide = whole.shape
    last = whole.row + rows - 1
    area = Area(
        sheet,
        whole.row + header,
        whole.column,
        last - (1 if table.show_totals else 0),
        whole.column + wide - 1,
    )
    return TableRead(table.name, area, columns, last)


def fill_open(book: Any) -> tuple[Filled | None, str]:
    """Fill an open job through the same studies as a file; what to tell the user."""
    try:
        opened = OpenBook(book)
        filled = fill_book(opened, write=lambda _, writes, barred: opened.put(writes, barred))
    except PackageError as error:
        return None, with_capital(f"{book.name}: {error}")
    count = filled.problem_count
    said = "nothing to mend" if not count else f"{count} to mend, see the sheet Start"
    return filled, f"{book.name} is filled: {said}. Save it when you are content."
