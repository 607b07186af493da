"""An engine behind xlwings' public objects that keeps a workbook in memory with openpyxl.

It holds what Excel would: formulas, and the values that the file has for them.
"""

from __future__ import annotations

from pathlib import Path
from typing import Any

import openpyxl
import xlwings
from openpyxl.utils import get_column_letter, range_boundaries
from xlwings import base_classes

ERROR_TEXTS = ("#N/A", "#DIV/0!", "#VALUE!", "#REF!", "#NAME?", "#NUM!", "#NULL!")


class Engine:
    """What xlwings asks of an engine when it reads and writes values."""

    name = "memory"
    type = "desktop"

    def __init__(self) -> None:
        self.apps = Apps(self)

    @staticmethod
    def clean_value_data(  # type: ignore[no-untyped-def]
        data, datetime_builder, empty_as, number_builder, err_to_str
    ):
        return [[_clean(cell, empty_as, err_to_str) for cell in row] for row in data]

    @staticmethod
    def prepare_xl_data_element(x: Any, date_format: Any) -> Any:
        return "" if x is None else x


def _clean(cell: Any, empty_as: Any, err_to_str: bool) -> Any:
    if cell in ("", None):
        return empty_as
    if isinstance(cell, str) and cell in ERROR_TEXTS and not err_to_str:
        return None
    return cell


class Apps(base_classes.Apps):
    def __init__(self, engine: Engine) -> None:
        self.engine = engine


class App(base_classes.App):
    def __init__(self, engine: Engine) -> None:
        self.engine = engine
        self.said: list[str] = []

    @property
    def api(self) -> Any:
        return self

    @property
    def pid(self) -> int:
        return 1

    def alert(self, prompt, title, buttons, mode, callback):  # type: ignore[no-untyped-def]
        self.said.append(prompt)


class Book(base_classes.Book):
    def __init__(self, path: Path) -> None:
        self.path = path
        self.file = openpyxl.load_workbook(path)
        self.cached = openpyxl.load_workbook(path, data_only=True)
        self._app = App(Engine())

    @property
    def api(self) -> Any:
        return self

    @property
    def name(self) -> str:
        return self.path.name

    @property
    def fullname(self) -> str:
        return str(self.path)

    @property
    def app(self) -> App:
        return self._app

    @property
    def sheets(self) -> Sheets:
        return Sheets(self)

    @property
    def names(self) -> Names:
        return Names(self)


class Sheets(base_classes.Sheets):
    def __init__(self, book: Book) -> None:
        self.book = book

    @property
    def api(self) -> Any:
        return self

    def __call__(self, name_or_index: Any) -> Sheet:
        titles = self.book.file.sheetnames
        title = titles[name_or_index - 1] if isinstance(name_or_index, int) else name_or_index
        return Sheet(self.book, title)

    def __len__(self) -> int:
        return len(self.book.file.sheetnames)

    def __iter__(self):  # type: ignore[no-untyped-def]
        return (Sheet(self.book, title) for title in self.book.file.sheetnames)


class Sheet(base_classes.Sheet):
    def __init__(self, book: Book, title: str) -> None:
        self._book = book
        self.title = title

    @property
    def api(self) -> Any:
        return self

    @property
    def name(self) -> str:
        return self.title

    @property
    def book(self) -> Book:
        return self._book

    @property
    def live(self) -> Any:
        return self._book.file[self.title]

    @property
    def used_range(self) -> Range:
        return Range(self, (1, 1, self.live.max_row, self.live.max_column))

    def range(self, arg1: Any, arg2: Any = None) -> Range:
        if isinstance(arg1, tuple):
            return Range(self, (*arg1, *(arg2 or arg1)))
        left, top, right, bottom = range_boundaries(arg1)
        return Range(self, (top, left, bottom, right))

    @property
    def tables(self) -> Tables:
        return Tables(self)


class Range(base_classes.Range):
    def __init__(self, sheet: Sheet, box: tuple[int, int, int, int]) -> None:
        self.sheet = sheet
        self.box = box

    @property
    def api(self) -> Any:
        return self

    @property
    def coords(self) -> Any:
        top, left, bottom, right = self.box
        return self.sheet.name, top, left, bottom - top + 1, right - left + 1

    @property
    def row(self) -> int:
        return self.box[0]

    @property
    def column(self) -> int:
        return self.box[1]

    @property
    def shape(self) -> tuple[int, int]:
        return self.box[2] - self.box[0] + 1, self.box[3] - self.box[1] + 1

    def __len__(self) -> int:
        return self.shape[0] * self.shape[1]

    @property
    def address(self) -> str:
        top, left, bottom, right = self.box
        return f"${get_column_letter(left)}${top}:${get_column_letter(right)}${bottom}"

    def _cells(self, sheet: Any) -> list[list[Any]]:
        top, left, bottom, right = self.box
        return [
            [sheet.cell(row, column).value for column in range(left, right + 1)]
            for row in range(top, bottom + 1)
        ]

    @property
    def raw_value(self) -> Any:
        values = self._cells(self.sheet.book.cached[self.sheet.name])
        for line, formulas in zip(values, self._cells(self.sheet.live), strict=True):
            for index, formula in enumerate(formulas):
                if not (isinstance(formula, str) and formula.startswith("=")):
                    line[index] = formula
        return values if len(self) > 1 else values[0][0]

    @raw_value.setter
    def raw_value(self, value: Any) -> None:
        while isinstance(value, (list, tuple)):
            value = value[0]
        # Excel keeps no apostrophe that only says "this is a text".
        value = value[1:] if isinstance(value, str) and value.startswith("'") else value
        cell = self.sheet.live.cell(self.row, self.column)
        cell.value = None if value == "" else value

    @property
    def formula(self) -> Any:
        cells = self._cells(self.sheet.live)
        texts = [["" if cell is None else str(cell) for cell in line] for line in cells]
        return texts if len(self) > 1 else texts[0][0]


class Names(base_classes.Names):
    def __init__(self, book: Book) -> None:
        self.found = list(book.file.defined_names.items())

    @property
    def api(self) -> Any:
        return self

    def __len__(self) -> int:
        return len(self.found)

    def __call__(self, index: int) -> Name:
        return Name(*self.found[index - 1])

    def __iter__(self):  # type: ignore[no-untyped-def]
        return (Name(*pair) for pair in self.found)


class Name(base_classes.Name):
    def __init__(self, key: str, defined: Any) -> None:
        self.key = key
        self.text = defined.attr_text

    @property
    def api(self) -> Any:
        return self

    @property
    def name(self) -> str:
        return self.key

    @property
    def refers_to(self) -> str:
        return f"={self.text}"


class Tables(base_classes.Tables):
    def __init__(self, sheet: Sheet) -> None:
        self.sheet = sheet
        self.found = list(sheet.live.tables.values())

    @property
    def api(self) -> Any:
        return self

    def __len__(self) -> int:
        return len(self.found)

    def __call__(self, index: int) -> Table:
        return Table(self.sheet, self.found[index - 1])

    def __iter__(self):  # type: ignore[no-untyped-def]
        return (Table(self.sheet, table) for table in self.found)


class Table(base_classes.Table):
    def __init__(self, sheet: Sheet, table: Any) -> None:
        self.sheet = sheet
        self.table = table

    @property
    def api(self) -> Any:
        return self

    @property
    def name(self) -> str:
        return str(self.table.displayName)

    @property
    def range(self) -> Range:
        return self.sheet.range(self.table.ref)

    @property
    def header_row_range(self) -> Range:
        top, left, _, right = self.range.box
        return Range(self.sheet, (top, left, top, right))

    @property
    def show_totals(self) -> bool:
        return bool(self.table.totalsRowCount)


def open_book(path: Path) -> xlwings.Book:
    """A workbook as xlwings shows one that is open."""
    return xlwings.Book(impl=Book(path))
