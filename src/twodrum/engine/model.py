"""What a workbook is made of: fields that the office types, cells and columns that follow.

One line, ``Cell(name, label, kind, "lining_cost + surface_cost")``, gives the engine's order,
the native formula, the dependencies and the words on Record (`expressions.py`). What has a name
in the catalogue is named instead, with what it reads: a `Name`, a `Row` (same row), an `Agg` (a
whole column) or a `Lookup` (a row found by its key).
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping, Sequence
from dataclasses import dataclass, field
from functools import cached_property
from itertools import chain
from typing import Any, Union

from ..units import KINDS
from .expressions import expression, is_expression
from .references import Reference

# What a value that was accepted is called, before its own name.
ACCEPTED = "accepted_"
# The first and last day that may be typed, 2000-01-01 and 2099-12-31 as a spreadsheet counts them.
DAYS = (36526, 73050)


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

    ``kind`` is a kind of quantity, or "text", "date", "clock" (a time of day as a share of
    the day), or a list of words (a choice).
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
    # Table and column that offer words to pick from; others may be typed.
    offered: tuple[str, str] = ("", "")

    @property
    def may_be_absent(self) -> bool:
        return self.default is None and not self.required

    def unit(self, system: str) -> str:
        return _unit(self, system)


@dataclass(frozen=True)
class Cell:
    """One single result, by an expression or a function of the catalogue that reads ``args``.

    With a ``study`` that study gives it, by the function it names.

    Its ``args`` then say which call of that function gives the same.
    """

    name: str
    label: str
    kind: str
    function: str
    args: tuple[Reference, ...] = ()
    guide: str = ""
    metric: str = ""
    us: str = ""
    study: str = ""
    # An intermediate value: it stands in SI among the workings only.
    working: bool = False
    # The study that tells, in words of its own, why it is refused.
    told_by: str = ""

    def __post_init__(self) -> None:
        _read_expression(self)

    def unit(self, system: str) -> str:
        return _unit(self, system)


@dataclass(frozen=True)
class Column:
    """One result in every row of a table; without a function its only argument is carried.

    With a ``study`` that study gives it.
    """

    table: str
    name: str
    label: str
    kind: str
    function: str
    args: tuple[Reference, ...] = ()
    metric: str = ""
    us: str = ""
    width: float = 11
    study: str = ""
    # An intermediate value: it stands in SI among the workings only.
    working: bool = False
    # The study that tells, in words of its own, why it is refused.
    told_by: str = ""

    def __post_init__(self) -> None:
        _read_expression(self)

    def unit(self, system: str) -> str:
        return _unit(self, system)


def _read_expression(item: Cell | Column) -> None:
    """What a line of arithmetic reads are the arguments of its result."""
    if is_expression(item.function) and not item.args:
        read = expression(item.function, item.kind).references
        object.__setattr__(item, "args", read)


def _unit(item: Field | Cell | Column, system: str) -> str:
    if item.kind not in KINDS:
        return ""
    kind = KINDS[item.kind]
    return (item.us or kind.us) if system == "us" else (item.metric or kind.metric)


@dataclass(frozen=True)
class Order:
    """A low value that may not stand above a high one, in the same row or block.

    The high one is refused then, or with ``limit`` the low one: it is an order that a limit
    of the data sheet forbids, and never a default.
    """

    low: str
    high: str
    limit: bool = False


@dataclass(frozen=True)
class Block:
    """Single inputs that stand together under one heading."""

    heading: str
    fields: tuple[Field, ...]
    sheet: str = "Job"
    # Printed only where something is typed into it; it stands last on its sheet.
    seldom: bool = False


@dataclass(frozen=True)
class ResultBlock:
    """Single results that stand together under one heading."""

    heading: str
    cells: tuple[Cell, ...]
    sheet: str = "Quantities"


@dataclass(frozen=True)
class Table:
    """A table of inputs, or of results where ``keys`` fixes its rows.

    ``key`` is the column whose words name the rows; each may stand once. ``must_have``
    are words that have to be there. A table with ``keys`` uses a row when ``used_by``
    (a table) has its key, or the key is in ``must_have``; without ``used_by`` every row.
    """

    name: str
    sheet: str
    label: str
    capacity: int
    fields: tuple[Field, ...] = ()
    key: str = ""
    keys: tuple[str, ...] = ()
    # Numbers of ours that stand beside the keys, by the name of a field of the kind "fixed".
    fixed: Mapping[str, tuple[float, ...]] = field(default_factory=dict)
    used_by: str = ""
    must_have: tuple[str, ...] = ()
    orders: tuple[Order, ...] = ()
    at_least_one: bool = False

    @property
    def derived(self) -> bool:
        """Whether nothing in it is typed or taken from rows that are."""
        return bool(self.keys) and not self.used_by

    @property
    def key_field(self) -> Field:
        """The field that names the rows: the key, else the first that every row needs."""
        named = (item for item in self.fields if item.name == self.key)
        needed = (item for item in self.fields if item.required)
        return next(chain(named, needed), self.fields[0])


@dataclass(frozen=True)
class Chart:
    """Columns of a study's block drawn against its first one, and limits as level lines.

    ``words`` say what there is to see, for readers who do not see it. As "bars" its first
    column names level bars, one for each row. With two lines, limits belong to the first
    and the second in turn, and each pair of them has a dash of its own.
    """

    title: str
    words: str
    lines: tuple[str, ...]
    limits: tuple[str, ...]
    x_title: str
    y_title: str
    look: str = "lines"
    # Columns of single points, drawn with their mark only.
    points: tuple[str, ...] = ()
    # Columns of two rows at one place, drawn as an upright line.
    uprights: tuple[str, ...] = ()
    # Whether the upright axis goes by powers of ten.
    by_tens: bool = False
    # Decimals on the upright axis.
    decimals: int = 0


@dataclass(frozen=True)
class Study:
    """What one function can't say: named values and columns in, results and a block of rows out.

    ``reads`` are names and "table.column"s; ``run`` gets a `Reader`, gives it the results of
    the cells and columns that name this study, and returns the rows of the block: records
    whose fields are the columns. ``units``
    says whose unit a column of the block takes; without it the office picks one.
    """

    name: str
    label: str
    reads: tuple[str, ...]
    columns: tuple[Field, ...]
    capacity: int
    run: Callable[[Any], Sequence[Any]]
    source: str = ""
    sheet: str = "Order"
    units: Mapping[str, str] = field(default_factory=dict)
    charts: tuple[Chart, ...] = ()


@dataclass(frozen=True)
class Line:
    """One line of a page to print: words, and a named value beside them.

    Words that begin with "=" are those of a text that the office typed. ``look`` is "plain",
    "title", "heading", "sum", "total", "small", "box" (to be ticked) or "sign". A line is there
    when all that it ``needs`` is typed, one of ``any_of``, nothing that it ``lacks``, and its
    value is above 0 where it says ``unless_zero``.
    """

    words: str
    name: str = ""
    look: str = "plain"
    needs: tuple[str, ...] = ()
    any_of: tuple[str, ...] = ()
    lacks: tuple[str, ...] = ()
    unless_zero: bool = False

    @property
    def conditional(self) -> bool:
        return bool(self.needs or self.any_of or self.lacks or self.unless_zero)

    @property
    def key(self) -> str:
        """What names its words where they may change."""
        own = self.name or (self.words[1:] if self.words.startswith("=") else "")
        if own:
            return own
        return f"no_{self.lacks[0]}" if self.lacks else f"with_{(*self.needs, *self.any_of)[0]}"


@dataclass(frozen=True)
class Listing:
    """The first rows of a table as they are, on a page, and a word where there are more."""

    table: str
    columns: tuple[str, ...]
    rows: int
    more: str
    # Behind the words of a column those of another, in brackets.
    behind: tuple[str, str] = ("", "")


@dataclass(frozen=True)
class Grid:
    """One column of a table with fixed keys, laid out as so many rows of so many cells.

    ``across`` and ``down`` are the columns that name them. A cell is marked where it is above
    (or "below" it, or "other" than it) the one in the middle; ``words`` say what the mark means.
    """

    table: str
    column: str
    down: str
    across: str
    wide: int
    high: int
    words: str = ""
    mark: str = ""
    # The column of another grid of the page by which its cells are marked, where not their own.
    marked_by: str = ""


@dataclass(frozen=True)
class Page:
    """A sheet to print and hand over: live lines that say what stands elsewhere."""

    sheet: str
    lines: tuple[Union[Line, Listing, Grid], ...]
    # Whether it leaves the office: then it says nothing of the workbook.
    handed: bool = True
    # Whether it is a letter: words over its width, numbers at its right, no line that says nothing.
    letter: bool = False


@dataclass(frozen=True, eq=False)
class Model:
    """All declarations of one workbook."""

    name: str
    title: str = ""
    purpose: str = ""
    steps: tuple[str, ...] = ()
    # Words of the trade that a newcomer would ask for, each with its meaning.
    words: tuple[tuple[str, str], ...] = ()
    # Sheets in order, each with what it is for.
    sheets: tuple[tuple[str, str], ...] = ()
    # The parts that it is composed from, where it is.
    parts: tuple[str, ...] = ()
    # Results that stand on the first sheet too.
    headlines: tuple[str, ...] = ()
    blocks: tuple[Block, ...] = ()
    tables: tuple[Table, ...] = ()
    results: tuple[ResultBlock, ...] = ()
    columns: tuple[Column, ...] = ()
    constants: tuple[Constant, ...] = ()
    choices: Mapping[str, tuple[str, ...]] = field(default_factory=dict)
    # Words of a list in older workbooks, and those that stand for them now.
    former_words: Mapping[str, str] = field(default_factory=dict)
    # Headings of tables by what they are called now: what older versions called them.
    former_heads: Mapping[str, str] = field(default_factory=dict)
    # Pieces of names: what older versions called them, and what they are called now.
    former_names: tuple[tuple[str, str], ...] = ()
    studies: tuple[Study, ...] = ()
    pages: tuple[Page, ...] = ()
    # Single values that are kept as they were when the customer accepted the quote.
    accepted: tuple[str, ...] = ()
    orders: tuple[Order, ...] = ()

    def today(self, name: str) -> str:
        """What a name of an older version is called now."""
        for then, now in self.former_names:
            name = name.replace(then, now)
        return name

    @cached_property
    def cells(self) -> tuple[Cell, ...]:
        return tuple(cell for block in self.results for cell in block.cells)

    def fields(self) -> Iterator[Field]:
        for block in self.blocks:
            yield from block.fields

    @property
    def works_out(self) -> bool:
        """Whether results follow from what is typed into it."""
        return bool(self.results or self.studies)

    def input_sheets(self) -> tuple[str, ...]:
        """Sheets of single inputs, in the order of their blocks."""
        return tuple(dict.fromkeys(block.sheet for block in self.blocks))

    @cached_property
    def result_sheets(self) -> tuple[str, ...]:
        """Sheets of single results, in the order of their blocks."""
        return tuple(dict.fromkeys(block.sheet for block in self.results))

    def fields_on(self, sheet: str) -> tuple[Field, ...]:
        return tuple(f for block in self.blocks if block.sheet == sheet for f in block.fields)

    def cells_on(self, sheet: str) -> tuple[Cell, ...]:
        return tuple(c for block in self.results if block.sheet == sheet for c in block.cells)

    def study(self, name: str) -> Study:
        return next(study for study in self.studies if study.name == name)

    def outputs(self, study: str) -> tuple[str, ...]:
        """Keys of the results that a study gives."""
        return tuple(result_key(item) for item in self.outcomes() if item.study == study)

    def outcomes(self) -> Iterator[Cell | Column]:
        """Every single result and every result column."""
        yield from self.cells
        yield from self.columns

    def table(self, name: str) -> Table:
        return self._tables[name]

    def columns_of(self, table: str) -> tuple[Column, ...]:
        return self._of_tables[table]

    @cached_property
    def _tables(self) -> dict[str, Table]:
        return {table.name: table for table in self.tables}

    @cached_property
    def _of_tables(self) -> dict[str, tuple[Column, ...]]:
        found: dict[str, list[Column]] = {table.name: [] for table in self.tables}
        for column in self.columns:
            found[column.table].append(column)
        return {name: tuple(columns) for name, columns in found.items()}

    @cached_property
    def spelled(self) -> dict[str, dict[str, str]]:
        """The words of each list by how they may be typed: in any case, or in an older word."""
        return {
            choice: {
                **{old: new for old, new in self.former_words.items() if new in words},
                **{word.casefold(): word for word in words},
            }
            for choice, words in self.choices.items()
        }

    @cached_property
    def _singles(self) -> dict[str, Field | Cell]:
        cells: dict[str, Field | Cell] = {cell.name: cell for cell in self.cells}
        return {**cells, **{item.name: item for item in self.fields()}}

    @cached_property
    def _columns(self) -> dict[str, Field | Column]:
        found: dict[str, Field | Column] = {result_key(item): item for item in self.columns}
        for table in self.tables:
            found |= {f"{table.name}.{item.name}": item for item in table.fields}
        return found

    def column_item(self, table: str, name: str) -> Field | Column:
        """The declaration behind one column of a table."""
        return self._columns[f"{table}.{name}"]

    def item(self, name: str) -> Field | Cell:
        """The declaration behind one single value."""
        if name in self._singles:
            return self._singles[name]
        kept = name.removeprefix(ACCEPTED)
        if kept != name and kept in self.accepted:
            now = self.item(kept)
            return Field(name, f"{now.label}, accepted", now.kind, metric=now.metric, us=now.us)
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


def result_key(item: Cell | Column) -> str:
    """The key of a result: "name" or "table.column"."""
    return f"{item.table}.{item.name}" if isinstance(item, Column) else item.name
