"""A job evaluated without a file: values typed over the template in memory."""

from __future__ import annotations

from collections.abc import Collection, Iterable
from functools import lru_cache
from typing import Any

from tests.workbook.typing import address, plain_cells
from twodrum.books.whole import JOB
from twodrum.commands.fill import Filled
from twodrum.engine.evaluate import Values, evaluate
from twodrum.engine.model import Model
from twodrum.problems import in_order
from twodrum.resources import resource
from twodrum.workbook.read import BookTargets, Inputs
from twodrum.xlsx.book import Book, CellRead
from twodrum.xlsx.write import Error


class TypedBook(Book):
    """A template with values typed over its cells, without writing a file for each job."""

    def __init__(self, template_book: Book, typed: dict[tuple[str, int, int], Any]) -> None:
        self.__dict__.update(template_book.__dict__)
        self.typed = typed

    def is_blank(self, sheet: str, row: int, column: int) -> bool:
        if (sheet, row, column) in self.typed:
            return self.typed[sheet, row, column] is None
        return super().is_blank(sheet, row, column)

    def has_formula(self, sheet: str, row: int, column: int) -> bool:
        return self.cell(sheet, row, column).formula

    def bottom(self, sheet: str, columns: Iterable[int]) -> int:
        wanted = set(columns)
        typed = [row for there, row, column in self.typed if there == sheet and column in wanted]
        return max([super().bottom(sheet, wanted), *typed])

    def filled(
        self, sheet: str, rows: Iterable[int], columns: Collection[int]
    ) -> set[tuple[int, int]]:
        rows = list(rows)
        return self._typed_among(super().filled(sheet, rows, columns), sheet, rows, columns)

    def live(
        self, sheet: str, rows: Iterable[int], columns: Collection[int]
    ) -> set[tuple[int, int]]:
        there = super().live(sheet, rows, columns)
        return {(row, column) for row, column in there if (sheet, row, column) not in self.typed}

    def _typed_among(
        self, there: set[tuple[int, int]], sheet: str, rows: list[int], columns: Collection[int]
    ) -> set[tuple[int, int]]:
        for (titled, row, column), value in self.typed.items():
            if titled == sheet and row in rows and column in columns:
                there = there - {(row, column)} if value is None else there | {(row, column)}
        return there

    def cell(self, sheet: str, row: int, column: int) -> CellRead:
        found = super().cell(sheet, row, column)
        if (sheet, row, column) not in self.typed:
            return found
        value = self.typed[sheet, row, column]
        typed_over: dict[str, Any] = {"formula": False, "formula_text": ""}
        if isinstance(value, Error):
            return found._replace(kind="error", value=value.text, **typed_over)
        if value is None:
            return found._replace(kind="blank", value=None, **typed_over)
        if isinstance(value, bool):
            return found._replace(kind="bool", value=value, **typed_over)
        if isinstance(value, str):
            return found._replace(kind="text", value=value, **typed_over)
        return found._replace(kind="number", value=float(value), **typed_over)


@lru_cache(maxsize=8)
def _template(name: str) -> Book:
    return Book.open(resource("workbook_templates", f"{name}.xlsx"))


def model_template(model: Model) -> Book:
    """The template of a model, opened once."""
    return _template(model.name)


def job_template() -> Book:
    return model_template(JOB)


def checked(cells: dict[tuple[str, int, int], Any], model: Model = JOB) -> Filled:
    """A job of these cells, evaluated in memory: its values and its problems."""
    inputs = Inputs(model, TypedBook(model_template(model), cells))
    values = evaluate(model, inputs.read(), BookTargets(inputs))
    return Filled(None, values, in_order(values.problems), model=model)


def evaluated(
    names: dict[str, Any],
    materials: list[dict[str, Any]],
    readings: list[dict[str, Any]],
    accepted: dict[str, float] | None = None,
    model: Model = JOB,
    **tables: list[dict[str, Any]],
) -> Values:
    """The small job with these values, and rows of these tables, evaluated.

    ``accepted`` is the quote that the customer accepted, in SI.
    """
    book = model_template(model)
    cells = plain_cells(book)
    for name, value in names.items():
        cells[address(book, name, model=model)] = value
    rows = {"materials": materials, "readings": readings, **tables}
    for table, records in rows.items():
        for index, record in enumerate(records):
            for name, value in record.items():
                cells[address(book, f"{table}.{name}", index, model)] = value
    inputs = Inputs(model, TypedBook(book, cells), accepted)
    return evaluate(model, inputs.read(), BookTargets(inputs))
