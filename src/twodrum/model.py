"""What a workbook is made of: fields that the office types, cells and columns that follow.

One line, ``Cell(name, label, kind, function, args)``, gives the engine's order, the
native formula, the worksheet function and the dependencies. An argument is a `Name`,
a `Row` (same row), an `Agg` (a whole column) or a `Lookup` (a row found by its key);
nothing nests: intermediate values are cells of their own.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping
from dataclasses import dataclass, field
from graphlib import TopologicalSorter
from typing import Any, Union

from .catalogue import BY_CALL, Function
from .units import KINDS


@dataclass(frozen=True)
class Name:
    """A single value of the workbook."""

    name: str


@dataclass(frozen=True)
class Row:
    """The value of another column in the same row."""

    column: str


@dataclass(frozen=True)
class Agg:
    """A whole column taken together: "sum" of the rows in use."""

    table: str
    column: str
    how: str = "sum"


@dataclass(frozen=True)
class Lookup:
    """The value of a column in the row whose key is the word, or is this row's key."""

    table: str
    key: Union[str, Row]
    column: str


Reference = Union[Name, Row, Agg, Lookup]


@dataclass(frozen=True)
class Constant:
    """A number of the model that stands in the workbook once, with its source."""

    name: str
    value: float
    unit: str
    source: str


@dataclass(frozen=True)
class Field:
    """One value that the office types, alone or in every row of a table.

    ``kind`` is a kind of quantity, or "text", "date", or a list of words (a choice).
    ``least`` and ``most`` are in SI, inclusive. ``default`` is in SI, or a `Name` whose
    value is taken; ``reason`` says why, and the value is listed as assumed when used.
    """

    name: str
    label: str
    kind: str
    least: float = 0.0
    most: float = 0.0
    default: Any = None
    reason: str = ""
    guide: str = ""
    required: bool = False
    metric: str = ""
    us: str = ""
    width: float = 13

    @property
    def may_be_absent(self) -> bool:
        return self.default is None and not self.required

    def unit(self, system: str) -> str:
        return _unit(self, system)


@dataclass(frozen=True)
class Cell:
    """One single result."""

    name: str
    label: str
    kind: str
    function: str
    args: tuple[Reference, ...]
    guide: str = ""
    metric: str = ""
    us: str = ""

    def unit(self, system: str) -> str:
        return _unit(self, system)


@dataclass(frozen=True)
class Column:
    """One result in every row of a table; without a function its only argument is carried."""

    table: str
    name: str
    label: str
    kind: str
    function: str
    args: tuple[Reference, ...]
    metric: str = ""
    us: str = ""
    width: float = 11
    # An intermediate value: it stands in SI among the workings only.
    working: bool = False

    def unit(self, system: str) -> str:
        return _unit(self, system)


def _unit(item: Field | Cell | Column, system: str) -> str:
    if item.kind not in KINDS:
        return ""
    kind = KINDS[item.kind]
    return (item.us or kind.us) if system == "us" else (item.metric or kind.metric)


@dataclass(frozen=True)
class Order:
    """A low value that may not stand above a high one, in the same row or block."""

    low: str
    high: str


@dataclass(frozen=True)
class Block:
    """Single inputs that stand together under one heading."""

    heading: str
    fields: tuple[Field, ...]


@dataclass(frozen=True)
class ResultBlock:
    """Single results that stand together under one heading."""

    heading: str
    cells: tuple[Cell, ...]


@dataclass(frozen=True)
class Table:
    """A table of inputs, or of results where ``keys`` fixes its rows.

    ``key`` is the column whose words name the rows; each may stand once. ``must_have``
    are words that have to be there. A table with ``keys`` uses a row when ``used_by``
    (a table) has its key, or the key is in ``must_have``.
    """

    name: str
    sheet: str
    label: str
    capacity: int
    fields: tuple[Field, ...] = ()
    key: str = ""
    keys: tuple[str, ...] = ()
    used_by: str = ""
    must_have: tuple[str, ...] = ()
    orders: tuple[Order, ...] = ()
    at_least_one: bool = False

    @property
    def key_field(self) -> Field:
        """The field that names the rows: the key, or else the first one."""
        return next((item for item in self.fields if item.name == self.key), self.fields[0])


@dataclass(frozen=True)
class Study:
    """What one function can't say: named values and columns in, a block of rows out.

    ``reads`` are names and "table.column"s; ``run`` gets a `Reader` and returns rows.
    """

    name: str
    label: str
    reads: tuple[str, ...]
    columns: tuple[Field, ...]
    capacity: int
    run: Callable[[Any], list[tuple[Any, ...]]]
    source: str = ""


@dataclass(frozen=True)
class Model:
    """All declarations of one workbook."""

    name: str
    title: str = ""
    purpose: str = ""
    steps: tuple[str, ...] = ()
    # Sheets in order, each with what it is for.
    sheets: tuple[tuple[str, str], ...] = ()
    # Results that stand on the first sheet too.
    headlines: tuple[str, ...] = ()
    blocks: tuple[Block, ...] = ()
    tables: tuple[Table, ...] = ()
    results: tuple[ResultBlock, ...] = ()
    columns: tuple[Column, ...] = ()
    constants: tuple[Constant, ...] = ()
    choices: Mapping[str, tuple[str, ...]] = field(default_factory=dict)
    studies: tuple[Study, ...] = ()
    orders: tuple[Order, ...] = ()

    @property
    def cells(self) -> tuple[Cell, ...]:
        return tuple(cell for block in self.results for cell in block.cells)

    def fields(self) -> Iterator[Field]:
        for block in self.blocks:
            yield from block.fields

    def table(self, name: str) -> Table:
        return next(table for table in self.tables if table.name == name)

    def columns_of(self, table: str) -> tuple[Column, ...]:
        return tuple(column for column in self.columns if column.table == table)

    def column_item(self, table: str, name: str) -> Field | Column:
        """The declaration behind one column of a table."""
        items: list[Field | Column] = [*self.table(table).fields, *self.columns_of(table)]
        for item in items:
            if item.name == name:
                return item
        raise KeyError(f"{table}.{name}")

    def item(self, name: str) -> Field | Cell:
        """The declaration behind one single value."""
        items: list[Field | Cell] = [*self.fields(), *self.cells]
        for item in items:
            if item.name == name:
                return item
        raise KeyError(name)


def declared(model: Model, key: str) -> Field | Cell | Column:
    """The declaration behind "name", "table.column" or "study.column"."""
    if "." not in key:
        return model.item(key)
    table, name = key.split(".")
    for study in model.studies:
        if study.name == table:
            return next(column for column in study.columns if column.name == name)
    return model.column_item(table, name)


def function_of(item: Cell | Column) -> Function | None:
    """The catalogue's declaration of a cell's function; None where a value is carried."""
    return BY_CALL[item.function] if item.function else None


def depends(item: Cell | Column) -> tuple[str, ...]:
    """Names and "table.column"s that a result follows from, in the order of its arguments."""
    return tuple(dict.fromkeys(_argument_names(item)))


def order(model: Model) -> list[Cell | Column | Study]:
    """Results in an order in which each comes after what it follows from."""
    items: dict[str, Cell | Column | Study] = {cell.name: cell for cell in model.cells}
    items.update({f"{column.table}.{column.name}": column for column in model.columns})
    graph: dict[str, set[str]] = {
        key: {name for name in depends(item) if name in items}  # type: ignore[arg-type]
        for key, item in items.items()
    }
    for study in model.studies:
        items[study.name] = study
        graph[study.name] = {name for name in study.reads if name in items}
    return [items[key] for key in TopologicalSorter(graph).static_order()]


def may_be_absent(model: Model) -> set[str]:
    """Names and "table.column"s that can stay blank because an input may stay blank."""
    absent = {item.name for item in model.fields() if item.may_be_absent}
    for table in model.tables:
        absent |= {f"{table.name}.{item.name}" for item in table.fields if item.may_be_absent}
    for item in order(model):
        if isinstance(item, Study) or any(isinstance(arg, Agg) for arg in item.args):
            continue
        function = function_of(item)
        for position, name in enumerate(_argument_names(item)):
            optional = function is not None and function.arguments[position].optional
            if name in absent and not optional:
                key = f"{item.table}.{item.name}" if isinstance(item, Column) else item.name
                absent.add(key)
    return absent


def _argument_names(item: Cell | Column) -> list[str]:
    names = []
    for reference in item.args:
        if isinstance(reference, Name):
            names.append(reference.name)
        elif isinstance(reference, Row):
            assert isinstance(item, Column)
            names.append(f"{item.table}.{reference.column}")
        else:
            names.append(f"{reference.table}.{reference.column}")
    return names
