"""What-ifs out of the chain itself: what is varied is named, all between it and what is shown
follows."""

from __future__ import annotations

import ast
import re
from collections.abc import Iterable, Mapping
from dataclasses import dataclass, replace
from functools import cached_property, lru_cache

from .expressions import expression, is_expression
from .model import Cell, Column, Field, Table
from .references import Agg, Lookup, Name, Reference, Row

# How a varied value calls what it is without the what-if.
OWN = "own"
# What a line reads of a row: the names behind its dots are among these.
COLUMN = re.compile(r"\.(\w+)")
# A line of more letters stands in a column of its own, and so does one that would make its reader
# longer than that.
LONGEST, WITH_READER = 130, 230


@dataclass(frozen=True)
class Shown:
    """A value of the chain that the what-ifs show, by its name and label there."""

    name: str
    label: str


@dataclass(frozen=True)
class _At:
    """A value of the chain: single, or a column in the row of a key."""

    name: str
    table: str = ""
    key: str = ""

    @property
    def cut(self) -> str:
        """What a what-if calls it, whatever its row."""
        return f"{self.table}.{self.name}" if self.table else self.name

    @property
    def column(self) -> str:
        return "_".join(filter(None, ("if", self.key.replace(" ", "_"), self.name)))


class Chain:
    """Fields, results and tables that a what-if may go along."""

    def __init__(
        self,
        fields: Iterable[Field],
        results: Iterable[Cell | Column],
        tables: Iterable[Table],
    ) -> None:
        self.tables = {table.name: table for table in tables}
        self.singles: dict[str, Field | Cell] = {item.name: item for item in fields}
        self.columns: dict[str, Field | Column] = {
            f"{table.name}.{item.name}": item
            for table in self.tables.values()
            for item in table.fields
        }
        for item in results:
            if isinstance(item, Column):
                self.columns[f"{item.table}.{item.name}"] = item
            else:
                self.singles[item.name] = item

    def item(self, at: _At) -> Field | Cell | Column:
        return self.columns[at.cut] if at.table else self.singles[at.name]

    @cached_property
    def carried(self) -> dict[Reference, Name]:
        """Single values that hold what stands in a row, as they are."""
        return {
            item.args[0]: Name(name)
            for name, item in self.singles.items()
            if isinstance(item, Cell) and not item.function and not item.study
            if len(item.args) == 1 and isinstance(item.args[0], Lookup)
        }

    def may_lack(self, table: str, key: str) -> bool:
        return key not in self.tables[table].must_have


def derived(
    chain: Chain, table: str, varied: Mapping[str, str], shown: Mapping[str, Shown]
) -> tuple[tuple[Cell, ...], tuple[Column, ...]]:
    """Columns of a table of what-ifs, each after what it reads; and single values for them.

    A single value holds what stands still in the row of a key, so that each what-if reads it
    by its name.
    ``varied`` says of values of the chain ("name" or "table.column") what they are in a row:
    a line of arithmetic that calls the value itself ``own``. ``shown`` are the values looked
    for, by name. ValueError where a varied value reaches none of them, and where a sum over
    rows that are typed would move with what is varied and is not varied itself.
    """
    walk = _Walk(chain, table, varied, shown)
    for name in shown:
        walk.reference(_At(name))
    idle = sorted(set(varied) - walk.used)
    if idle:
        raise ValueError(f"{', '.join(idle)} is varied and reaches nothing that is shown")
    return tuple(walk.cells.values()), _told_apart(_nested(tuple(walk.made.values())))


def derived_again(
    columns: Iterable[Column], moved: Mapping[str, str], shown: Mapping[str, Shown], mark: str
) -> tuple[Column, ...]:
    """Columns of what-ifs once more, with another column in the place of some of them.

    ``moved`` says by the name of a column which one stands for it; what reads it follows under
    a name with ``mark`` behind it, as far as it leads to what is ``shown``.
    """
    names = {name: f"row.{other}" for name, other in moved.items()}
    found: dict[str, Column] = {}
    for column in columns:
        read = {one.column for one in column.args if isinstance(one, Row)}
        if column.name in moved or not names.keys() & read:
            continue
        asked = shown.get(column.name, Shown(f"{column.name}_{mark}", f"{column.label}, {mark}"))
        line, args = column.function, tuple(_twin(one, names) for one in column.args)
        if is_expression(line):
            line, args = _Inside(names, {}).written(line), ()
        names[column.name] = f"row.{asked.name}"
        found[asked.name] = replace(
            column,
            name=asked.name,
            label=asked.label,
            function=line,
            args=args,
            working=column.name not in shown,
        )
    needed = _leading_to(found, {one.name for one in shown.values()})
    return _nested(tuple(column for name, column in found.items() if name in needed))


def _twin(reference: Reference, names: Mapping[str, str]) -> Reference:
    if isinstance(reference, Row) and reference.column in names:
        return Row(names[reference.column].removeprefix("row."))
    return reference


def _leading_to(columns: Mapping[str, Column], last: set[str]) -> set[str]:
    """What these columns read, among themselves."""
    found: set[str] = set()
    queue = [*last]
    while queue:
        name = queue.pop()
        if name in columns and name not in found:
            found.add(name)
            queue += [one.column for one in columns[name].args if isinstance(one, Row)]
    return found


def _told_apart(columns: tuple[Column, ...]) -> tuple[Column, ...]:
    """Where two columns have one label, a working one says its name besides."""
    labels = [column.label for column in columns]
    return tuple(
        replace(column, label=f"{column.label}, {column.name[3:].replace('_', ' ')}")
        if column.working and labels.count(column.label) > 1
        else column
        for column in columns
    )


def _nested(columns: tuple[Column, ...]) -> tuple[Column, ...]:
    """A working that one other line alone reads stands inside that line."""
    plain = {column.name: column for column in columns}
    columns = tuple(_as_line(column) for column in columns)
    lines = {column.name for column in columns if is_expression(column.function)}
    readers: dict[str, list[str]] = {column.name: [] for column in columns}
    for column in columns:
        read = [one.column for one in column.args if isinstance(one, Row)]
        if column.name in lines:
            read = _read(column.function)
        for name in read:
            if name in readers:
                readers[name].append(column.name)
    texts = {column.name: column.function for column in columns}
    inside: dict[str, str] = {}
    found = []
    for column in columns:
        of, line = readers[column.name], column.function
        if column.name in lines and not inside.keys().isdisjoint(COLUMN.findall(line)):
            line = _Inside(inside, {}).written(line)
        # What takes turns stands alone.
        may = column.working and len(line) <= LONGEST and not line.startswith("first_known(")
        may = may and len(of) == 1 and {column.name, *of} <= lines
        if may and len(line) + len(texts[of[0]]) <= WITH_READER:
            inside[column.name] = line
        elif line != column.function:
            found.append(replace(column, function=line, args=()))
        else:
            # What nothing went into stays the function that it was.
            found.append(plain[column.name])
    return tuple(found)


def _as_line(column: Column) -> Column:
    """A column that a function of the catalogue makes, as a line that names it."""
    function = column.function
    args = column.args
    if not function or is_expression(function) or not column.working:
        return column
    if not all(isinstance(one, (Name, Row)) for one in args):
        return column
    said = ", ".join(ast.unparse(_written(one)) for one in args)
    return replace(column, function=f"{function}({said})", args=())


def _read(line: str) -> list[str]:
    """Columns that a line reads, as often as it does; twice where only a column will do."""
    if "zero_if_blank" not in line:
        return COLUMN.findall(line)
    found = []
    for node in ast.walk(ast.parse(line, mode="eval")):
        if isinstance(node, ast.Attribute):
            found.append(node.attr)
        if isinstance(node, ast.Call) and ast.unparse(node.func) == "zero_if_blank":
            found += _read(ast.unparse(node.args[0]))
    return found


class _Inside(ast.NodeTransformer):
    """A line with other lines in the place of the columns, and of the names, that they were."""

    def __init__(self, columns: Mapping[str, str], names: Mapping[str, str]) -> None:
        self.columns, self.names = columns, names

    def written(self, text: str) -> str:
        return ast.unparse(self.visit(_parsed(text)))

    def visit_Name(self, node: ast.Name) -> ast.expr:
        return _parsed(self.names[node.id]) if node.id in self.names else node

    def visit_Attribute(self, node: ast.Attribute) -> ast.expr:
        of_row = isinstance(node.value, ast.Name) and node.value.id == "row"
        if of_row and node.attr in self.columns:
            return _parsed(self.columns[node.attr])
        return node


def _parsed(line: str) -> ast.expr:
    return ast.parse(line, mode="eval").body


class _Walk:
    def __init__(
        self, chain: Chain, table: str, varied: Mapping[str, str], shown: Mapping[str, Shown]
    ) -> None:
        self.chain, self.table, self.varied, self.shown = chain, table, varied, shown
        self.made: dict[_At, Column] = {}
        self.cells: dict[Reference, Cell] = {}
        self.used: set[str] = set()
        self._moved: dict[_At, bool] = {}

    # What moves with what is varied.

    def moves(self, at: _At) -> bool:
        if at.cut in self.varied:
            return True
        if at not in self._moved:
            self._moved[at] = False
            item = self.chain.item(at)
            if isinstance(item, Field):
                found = isinstance(item.default, Name) and self.moves(_At(item.default.name))
            else:
                found = any(self._moves_with(one, at) for one in self._reads(item, at))
            self._moved[at] = found
        return self._moved[at]

    def _line(self, item: Cell | Column, at: _At) -> str:
        """The line of a result, of values by words that of this row's key alone."""
        if not at.table or "{" not in item.function:
            return item.function
        return _of_key(f"row.{self.chain.tables[at.table].key}", at.key, item.function)

    def _reads(self, item: Cell | Column, at: _At) -> tuple[Reference, ...]:
        """What a result reads in this row."""
        line = self._line(item, at)
        return item.args if line == item.function else expression(line, item.kind).references

    def _moves_with(self, reference: Reference, at: _At) -> bool:
        if isinstance(reference, Agg):
            rows = self.chain.tables[reference.table].keys or ("",)
            return any(self.moves(_At(reference.column, reference.table, key)) for key in rows)
        found = self._found(reference, at)
        return found is not None and self.moves(found)

    def _found(self, reference: Name | Row | Lookup, at: _At) -> _At | None:
        """The value that one in a row refers to; None for a constant, which is in no chain."""
        if isinstance(reference, Name):
            return _At(reference.name) if reference.name in self.chain.singles else None
        if isinstance(reference, Row):
            return replace(at, name=reference.column)
        key = at.key if isinstance(reference.key, Row) else reference.key
        return _At(reference.column, reference.table, key)

    # What stands for it in the row of a what-if.

    def reference(self, at: _At) -> Reference:
        if not self.moves(at):
            return self._still(at)
        if at not in self.made:
            self.made[at] = self._column(at)
        made = self.made[at]
        # What is only carried is what it comes from.
        first = made.args[0]
        if not made.function and isinstance(first, (Name, Row)) and at.name not in self.shown:
            del self.made[at]
            return first
        return Row(made.name)

    def _still(self, at: _At) -> Reference:
        if not at.table:
            return Name(at.name)
        found = Lookup(at.table, at.key, at.name, self.chain.may_lack(at.table, at.key))
        if found in self.chain.carried:
            return self.chain.carried[found]
        item = self.chain.item(at)
        name, label = (
            f"{at.key.replace(' ', '_')}_{at.name}",
            f"{at.key.capitalize()}: {item.label}",
        )
        self.cells[found] = Cell(name, label, item.kind, "", (found,), working=True)
        return Name(name)

    def _column(self, at: _At) -> Column:
        item = self.chain.item(at)
        if at.cut in self.varied:
            self.used.add(at.cut)
            # What a varied value says of itself reads the job as it stands.
            still = self._still(at)
            if self.varied[at.cut] == OWN:
                return self._made(at, item, "", (still,))
            own = {OWN: ast.unparse(_written(still))}
            return self._made(at, item, _Inside({}, own).written(self.varied[at.cut]), ())
        if isinstance(item, Field):
            raise ValueError(f"{at.cut} is typed and moves with what is varied: vary it itself")
        if item.study:
            raise ValueError(f"{at.cut} comes from a study and can't be derived")
        line = self._line(item, at)
        if is_expression(line):
            told = _parsed(_Line(self, at).written(line))
            if isinstance(told, ast.Attribute):
                return self._made(at, item, "", (Row(told.attr),))
            return self._made(at, item, ast.unparse(told), ())
        if line != item.function:
            # In the row of this key it is one single value.
            return self._made(at, item, "", (self.of(Name(line), at),))
        first = item.args[0]
        if not item.function and isinstance(first, Agg):
            return self._made(at, item, ast.unparse(self.total(first)), ())
        return self._made(at, item, item.function, tuple(self.of(one, at) for one in item.args))

    def of(self, reference: Reference, at: _At) -> Reference:
        if isinstance(reference, Agg):
            if self._moves_with(reference, at):
                raise ValueError(f"a sum over {reference.table} is no argument of a function here")
            return reference
        found = self._found(reference, at)
        return reference if found is None else self.reference(found)

    def total(self, reference: Agg) -> ast.expr:
        """The sum over rows with fixed keys; one that may lack its row counts as nothing."""
        keys = self.chain.tables[reference.table].keys
        if not keys:
            cut = f"{reference.table}.{reference.column}"
            raise ValueError(f"the sum of {cut} moves with what is varied: vary it itself")
        parts = []
        for key in keys:
            at = _At(reference.column, reference.table, key)
            part = _written(self.reference(at))
            # A sum passes over what is blank.
            if self.chain.may_lack(reference.table, key) or not self.moves(at):
                part = ast.Call(ast.Name("zero_if_blank"), [part], [])
            parts.append(part)
        total = parts[0]
        for part in parts[1:]:
            total = ast.BinOp(total, ast.Add(), part)
        return total

    def _made(
        self, at: _At, item: Field | Cell | Column, function: str, args: tuple[Reference, ...]
    ) -> Column:
        name, label, working = at.column, item.label, True
        if at.key:
            label = f"{at.key.capitalize()}: {label}"
        if not at.table and at.name in self.shown:
            asked = self.shown[at.name]
            name, label, working = asked.name, asked.label, False
        told_by = "" if isinstance(item, Field) else item.told_by
        made = Column(self.table, name, label, item.kind, function, args, width=12)
        return replace(made, working=working, told_by=told_by)


def _written(reference: Reference) -> ast.expr:
    if isinstance(reference, Name):
        return ast.Name(reference.name)
    if isinstance(reference, Row):
        return ast.Attribute(ast.Name("row"), reference.column)
    raise ValueError(f"{reference} can't be written in a line")


@lru_cache(maxsize=1 << 12)
def _of_key(column: str, key: str, line: str) -> str:
    return _OfKey(column, key).written(line)


class _OfKey(ast.NodeTransformer):
    """A line in the row of a key: of values by the words of that column its own."""

    def __init__(self, column: str, key: str) -> None:
        self.column, self.key = column, key

    def written(self, text: str) -> str:
        return ast.unparse(self.visit(_parsed(text.strip())))

    def visit_Subscript(self, node: ast.Subscript) -> ast.expr:
        values = node.value
        if not isinstance(values, ast.Dict) or ast.unparse(node.slice) != self.column:
            return node
        words = [ast.literal_eval(word) for word in values.keys if word]
        return values.values[words.index(self.key)]


class _Line(ast.NodeTransformer):
    """A line of arithmetic with what moves in the place of what stood still."""

    def __init__(self, walk: _Walk, at: _At) -> None:
        self.walk, self.at = walk, at

    def written(self, text: str) -> str:
        return ast.unparse(self.visit(_parsed(text.strip())))

    def visit_Name(self, node: ast.Name) -> ast.expr:
        return _written(self.walk.of(Name(node.id), self.at))

    def visit_Attribute(self, node: ast.Attribute) -> ast.expr:
        if isinstance(node.value, ast.Name) and node.value.id == "row":
            return _written(self.walk.of(Row(node.attr), self.at))
        if isinstance(node.value, ast.Subscript) and isinstance(node.value.value, ast.Name):
            key = node.value.slice
            word = str(key.value) if isinstance(key, ast.Constant) else self.at.key
            return _written(self.walk.of(Lookup(node.value.value.id, word, node.attr), self.at))
        raise ValueError(f"{ast.unparse(node)} can't be derived")

    def visit_Call(self, node: ast.Call) -> ast.expr:
        if isinstance(node.func, ast.Name) and node.func.id == "sum":
            column = node.args[0]
            assert isinstance(column, ast.Attribute) and isinstance(column.value, ast.Name)
            asked = Agg(column.value.id, column.attr)
            return self.walk.total(asked) if self.walk._moves_with(asked, self.at) else node
        return ast.Call(node.func, [self.visit(one) for one in node.args], [])
