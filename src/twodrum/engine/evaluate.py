"""Run declarations: SI values in, results out; refused inputs worded in the shown unit."""

from __future__ import annotations

import math
from collections.abc import Callable, Iterable, Iterator, Mapping, Sequence, Set
from dataclasses import dataclass, field
from decimal import Decimal
from functools import lru_cache
from typing import Any

from ..core.inputs import InputError
from ..problems import PROBLEM, WARNING, Problem, sentence
from ..units import KINDS, shown
from .expressions import Expression
from .model import Cell, Column, Model, Study, result_key
from .order import Formula, depends, function_of, order, takes_turns
from .references import Agg, Lookup, Name, Reference, Row


@dataclass(frozen=True)
class Value:
    """One value on its way: SI, where it stands, and why there is none.

    ``si`` is None for a blank (``why`` empty) and for a refused value (``why`` says it).
    """

    name: str
    label: str
    kind: str
    unit: str
    si: Any
    where: str
    why: str = ""
    function: str = ""
    source: str = ""
    depends: tuple[str, ...] = ()
    assumed: str = ""
    # The value behind one that was only carried here.
    origin: Value | None = None
    # Nothing was typed.
    blank: bool = False
    # Whether it has a cell of its own; a working value has none.
    placed: bool = True
    # The cells that have to be mended before there can be a value.
    roots: tuple[str, ...] = ()
    position: tuple[int, int, int] = (0, 0, 0)

    @property
    def refused(self) -> bool:
        return bool(self.why)

    def but(self, **changed: Any) -> Value:
        """The same value with some of it otherwise; thousands are made for each book."""
        made = object.__new__(Value)
        made.__dict__.update(self.__dict__, **changed)
        return made


@dataclass
class TableValues:
    """The rows in use of one table, and each row's values by column."""

    rows: list[dict[str, Value]] = field(default_factory=list)
    # Cells that make every total of the table refuse: a live formula gone, a row without a key.
    broken: tuple[str, ...] = ()


@dataclass
class Values:
    """Everything known about one workbook: inputs, then results beside them."""

    names: dict[str, Value] = field(default_factory=dict)
    tables: dict[str, TableValues] = field(default_factory=dict)
    studies: dict[str, Sequence[Any]] = field(default_factory=dict)
    # What the studies gave for cells and columns: one value, or a list of a value for each row.
    given: dict[str, Any] = field(default_factory=dict)
    problems: list[Problem] = field(default_factory=list)
    # Rows of a table that stand elsewhere than in the workbook, in SI by column.
    more: dict[str, Sequence[Mapping[str, Any]]] = field(default_factory=dict)


def word_refusal(error: InputError, value: Value) -> str:
    """A refused input as "found; expected", in the unit that its reader sees."""
    bound = error.bound
    if error.requirement == "given":
        return sentence(f"{value.label} is blank", f"it is needed {bound}")
    if isinstance(bound, tuple):
        words = ", ".join(bound)
        return sentence(f"{value.label} is '{error.value}'", f"it must be one of: {words}")

    def in_unit(number: Any) -> str:
        if value.kind in KINDS and isinstance(number, (int, float, Decimal)):
            return shown(float(number), value.kind, value.unit)
        return str(number)

    expected = f"it must be {error.requirement}"
    if bound is not None:
        expected += f" {in_unit(bound)}"
    return sentence(f"{value.label} is {in_unit(error.value)}", expected)


def run_function(
    function: Formula | None, args: Sequence[Value], target: Value
) -> tuple[Value, Problem | None]:
    """One function on values: the target filled, absent or refused, and a new problem if any."""
    if isinstance(function, Expression) and function.picks:
        # What the word picks is carried; the other is not looked at.
        says, then, other = args
        args = (says,) if says.si is None else (then if says.si == function.picks else other,)
        function = None
    by_turns = takes_turns(function)
    if by_turns:
        args = _up_to_the_first_known(args)
    # A blank that may stay blank asks for no result, whatever is wrong beside it.
    for arg, argument in zip(args, function.arguments if function else ()):
        if arg.si is None and not arg.refused and not argument.optional:
            return target, None
    if by_turns and all(a.si is None and not a.refused for a in args):
        return target, None
    roots = tuple(dict.fromkeys(root for arg in args if arg.refused for root in arg.roots))
    if any(arg.refused for arg in args):
        return target.but(why=not_computed(roots), roots=roots), None
    if function is None:
        only = args[0]
        return target.but(si=only.si, origin=only.origin or only), None
    return _computed(function, [arg.si for arg in args], args, target)


Run = Callable[[Sequence[Value], Value], "tuple[Value, Problem | None]"]


def runner(function: Formula | None) -> Run:
    """`run_function` of one function, made once for all rows of a column.

    Where all is known, as mostly, nothing else is asked of an argument.
    """

    def carefully(args: Sequence[Value], target: Value) -> tuple[Value, Problem | None]:
        return run_function(function, args, target)

    if function is None or takes_turns(function):
        return carefully
    if isinstance(function, Expression) and function.picks:
        return carefully

    def run(args: Sequence[Value], target: Value) -> tuple[Value, Problem | None]:
        known = []
        for arg in args:
            if arg.si is None or arg.why:
                return run_function(function, args, target)
            known.append(arg.si)
        return _computed(function, known, args, target)

    return run


def _computed(
    function: Formula, known: list[Any], args: Sequence[Value], target: Value
) -> tuple[Value, Problem | None]:
    """One function on values of which each is known or may be left out."""
    try:
        si = function.run_on(known)
    except InputError as error:
        named = {argument.name: arg for argument, arg in zip(function.arguments, args)}
        culprit = named.get(error.argument, target)
        culprit = culprit.origin or culprit
        text = word_refusal(error, culprit)
        problem = Problem("impossible", culprit.where, text, PROBLEM, culprit.position)
        return target.but(why=f"not computed: {problem}", roots=(culprit.where,)), problem
    except ArithmeticError:
        si = math.inf
    if si is None:
        return target, None
    if not isinstance(si, str) and not math.isfinite(si):
        text = sentence(f"{target.label} is too large to compute", "a finite number is wanted")
        problem = Problem("too-large", target.where, text, PROBLEM, target.position)
        return target.but(why=f"not computed: {problem}", roots=(target.where,)), problem
    if not target.placed:
        # Where it is only passed on, its input has a cell.
        for arg in args:
            if arg.kind == target.kind and arg.si == si:
                return target.but(si=si, origin=arg.origin or arg), None
    return target.but(si=si), None


def _up_to_the_first_known(args: Sequence[Value]) -> Sequence[Value]:
    """What comes after the first that is known, or refused, is not looked at."""
    for place, arg in enumerate(args, 1):
        if arg.si is not None or arg.refused:
            return args[:place]
    return args


NAMED_ROOTS = 4


def not_computed(roots: Sequence[str]) -> str:
    """The note of a result that waits for other cells to be mended."""
    more = f" and {len(roots) - NAMED_ROOTS} more" if len(roots) > NAMED_ROOTS else ""
    return f"not computed: see {', '.join(roots[:NAMED_ROOTS])}{more}"


def resolve(
    model: Model, values: Values, reference: Reference, row: Mapping[str, Value] | None
) -> Value:
    """The value that an argument stands for."""
    if isinstance(reference, Name):
        return values.names[reference.name]
    if isinstance(reference, Row):
        assert row is not None
        return row[reference.column]
    if isinstance(reference, Agg):
        return _aggregate(model, values, reference)
    key = reference.key
    if isinstance(key, Row) and row is not None and row[key.column].refused:
        item = model.column_item(reference.table, reference.column)
        roots = row[key.column].roots
        base = Value(item.name, item.label, item.kind, item.unit("metric"), None, "")
        return base.but(why=not_computed(roots), roots=roots)
    word = row[key.column].si if isinstance(key, Row) and row is not None else key
    return _found(model, values, reference, word)


def _aggregate(model: Model, values: Values, reference: Agg) -> Value:
    table = model.table(reference.table)
    item = model.column_item(reference.table, reference.column)
    base = Value(item.name, item.label, item.kind, item.unit("metric"), None, table.label)
    every = rows = values.tables[reference.table].rows
    column, word = reference.where
    if column:
        rows = [row for row in rows if row[column].si == word]
    if reference.or_none or reference.blank:
        # A row that may be meant or not is wanted mended first.
        asked = [row[n] for row in every for n in (column, reference.blank) if n]
        roots = tuple(dict.fromkeys(root for cell in asked if cell.refused for root in cell.roots))
        if roots:
            return base.but(why=not_computed(roots), roots=roots)
    kept = rows
    if reference.typed:
        kept = [row for row in kept if not row[reference.typed].blank]
    if reference.blank:
        kept = [row for row in kept if row[reference.blank].blank]
    cells = [row[reference.column] for row in kept]
    unknown = any(cell.si is None and not cell.refused for cell in cells)
    if column and not reference.or_none and (not rows or unknown):
        return base
    if not rows and not column:
        return base.but(why=f"{table.label} has no row in use", roots=(table.label,))
    broken = values.tables[reference.table].broken
    if table.used_by:
        broken += values.tables[table.used_by].broken
    if broken:
        return base.but(why=not_computed(broken), roots=broken)
    roots = tuple(dict.fromkeys(root for cell in cells if cell.refused for root in cell.roots))
    if any(cell.refused for cell in cells):
        return base.but(why=not_computed(roots), roots=roots)
    present = [cell.si for cell in cells if cell.si is not None]
    return base.but(si=sum(present[1:], present[0]) if present else 0.0)


def _found(model: Model, values: Values, reference: Lookup, word: Any) -> Value:
    table = model.table(reference.table)
    item = model.column_item(reference.table, reference.column)
    base = Value(item.name, item.label, item.kind, item.unit("metric"), None, table.label)
    found = [row for row in values.tables[table.name].rows if row[table.key].si == word]
    if len(found) == 1:
        return found[0][reference.column]
    # A key that is refused may be the one that was meant.
    lost = [root for row in values.tables[table.name].rows for root in row[table.key].roots]
    if not found and lost:
        return base.but(why=not_computed(lost), roots=tuple(lost))
    if not found and reference.may_lack:
        return base
    many = "more than one row" if found else "no row"
    return base.but(why=f"{table.label} has {many} for {word}", roots=(table.label,))


@dataclass(frozen=True)
class Refused:
    """A result that a study could not give: the cells to mend, and why in words."""

    roots: tuple[str, ...]
    why: str = ""


class WaitingError(Exception):
    """A study has nothing to give before something is mended, which is told already."""

    def __init__(self, why: Refused) -> None:
        super().__init__(why)
        self.why = why


class Reader:
    """What a study sees of the values and where it gives its results; both are noted by name."""

    def __init__(self, values: Values) -> None:
        self._values = values
        self.seen: set[str] = set()
        self.problems: list[Problem] = []
        self.given: dict[str, Any] = {}

    def give(self, key: str, value: Any) -> None:
        """The result of a cell in SI (None: blank, or `Refused`), or a list for a column."""
        self.given[key] = value

    def value(self, name: str) -> Any:
        """A single value in SI; None where it is blank or refused."""
        self.seen.add(name)
        return self._values.names[name].si

    def column(self, table: str, column: str) -> list[Any]:
        """A column's values in SI over the rows in use."""
        self.seen.add(f"{table}.{column}")
        return [row[column].si for row in self._values.tables[table].rows]

    def cell(self, name: str) -> Value:
        """A single value with its place."""
        self.seen.add(name)
        return self._values.names[name]

    def cells(self, table: str, column: str) -> list[Value]:
        """A column's values with their places."""
        self.seen.add(f"{table}.{column}")
        return [row[column] for row in self._values.tables[table].rows]

    def more(self, table: str) -> Sequence[Mapping[str, Any]]:
        """Rows of a table that stand elsewhere, in SI by column."""
        return self._values.more.get(table, ())

    def rows(self, table: str, columns: Sequence[str]) -> list[dict[str, Value]]:
        """The rows in use of a table, each with the values of these columns by name."""
        cells = zip(*(self.cells(table, column) for column in columns))
        return [dict(zip(columns, row)) for row in cells]

    def warn(self, code: str, at: Value, text: str) -> None:
        """Note something at a value; nothing is refused for it."""
        self.problems.append(Problem(code, at.where, text, WARNING, at.position))

    def refuse(self, code: str, at: Value, text: str) -> Refused:
        """Tell a problem at a value; returns what to give for the results that need it."""
        problem = Problem(code, at.where, text, PROBLEM, at.position)
        self.problems.append(problem)
        return Refused((at.where,), f"not computed: {problem}")


def waits_for(*needed: Value) -> Refused | None:
    """What to give while values are refused or blank: `Refused`, or None for a blank."""
    roots = tuple(dict.fromkeys(root for value in needed if value.refused for root in value.roots))
    return Refused(roots) if roots else None


def evaluate(
    model: Model, values: Values, targets: Targets, blank: Set[str] = frozenset()
) -> Values:
    """Fill in every result of a model, in the order in which they follow from each other.

    Results in ``blank``, by their keys, stay without a value, and no study is run with them:
    that is what live formulas see before a workbook was ever filled.
    """
    known = _provenances(model)
    for item in order(model):
        if isinstance(item, Study):
            if blank:
                values.studies[item.name] = []
            else:
                _run_study(model, item, values)
        elif isinstance(item, Cell):
            target = targets.cell(item)
            target = target.but(**known[item.name])
            if item.name not in blank:
                target = _run(model, values, item, target, None)
            values.names[item.name] = target
        else:
            rows = values.tables[item.table].rows
            made: Iterable[Value] = targets.rows(item, len(rows), known[result_key(item)])
            if result_key(item) not in blank:
                made = _run_rows(model, values, item, made)
            for row, target in zip(rows, made):
                row[item.name] = target
    return values


def _run_rows(
    model: Model, values: Values, item: Column, targets: Iterable[Value]
) -> Iterator[Value]:
    """The values of one column; what is the same in all rows is looked up once."""
    rows = values.tables[item.table].rows
    if item.study or not rows:
        for index, (row, target) in enumerate(zip(rows, targets)):
            yield _run(model, values, item, target, row, index)
        return
    columns = [ref.column if isinstance(ref, Row) else "" for ref in item.args]
    run = runner(function_of(item))
    of_row = [isinstance(ref, Lookup) and isinstance(ref.key, Row) for ref in item.args]
    same = [
        None if column or varies else resolve(model, values, ref, None)
        for ref, column, varies in zip(item.args, columns, of_row)
    ]
    parts = list(zip(columns, same, item.args))
    for row, target in zip(rows, targets):
        args = [
            row[column] if column else once or resolve(model, values, ref, row)
            for column, once, ref in parts
        ]
        result, problem = run(args, target)
        if problem is not None and not item.told_by:
            values.problems.append(problem)
        yield result


def _run(
    model: Model,
    values: Values,
    item: Cell | Column,
    target: Value,
    row: Mapping[str, Value] | None,
    index: int = 0,
) -> Value:
    if item.study:
        given = values.given.get(result_key(item))
        return _given(given[index] if isinstance(given, list) else given, target)
    args = [resolve(model, values, reference, row) for reference in item.args]
    result, problem = runner(function_of(item))(args, target)
    if problem is not None and not item.told_by:
        values.problems.append(problem)
    return result


def _given(given: Any, target: Value) -> Value:
    if isinstance(given, Refused):
        why = given.why or not_computed(given.roots)
        return target.but(why=why, roots=given.roots)
    return target.but(si=given)


def _run_study(model: Model, study: Study, values: Values) -> None:
    reader = Reader(values)
    try:
        rows = study.run(reader)
    except WaitingError as error:
        reader.given = {k: _everywhere(values, k, error.why) for k in model.outputs(study.name)}
        rows = []
    except (InputError, ArithmeticError) as error:
        # A study words what it expects to be refused; whatever else is refused is told here.
        text = sentence(f"it could not be worked out ({error})", "possible values are wanted")
        problem = Problem("not-worked-out", study.label, text, PROBLEM, (999, 0, 0))
        reader.problems = [problem]
        why = Refused((study.label,), f"not computed: {problem}")
        reader.given = {key: _everywhere(values, key, why) for key in model.outputs(study.name)}
        rows = []
    if len(rows) > study.capacity:
        found = f"{study.label} has more than {study.capacity} rows"
        text = sentence(found, f"there is room for {study.capacity}", "the rest is left out")
        found_here = Problem("too-many-rows", study.sheet, text, WARNING, (999, 0, 0))
        reader.problems.append(found_here)
    values.problems.extend(reader.problems)
    values.given.update(reader.given)
    values.studies[study.name] = rows[: study.capacity]


def _everywhere(values: Values, key: str, refused: Refused) -> Any:
    """A refusal for a cell, or for every row of a column."""
    table, dot, _ = key.partition(".")
    return [refused] * len(values.tables[table].rows) if dot else refused


@lru_cache(maxsize=8)
def _provenances(model: Model) -> Mapping[str, Mapping[str, Any]]:
    """What is known of each result before it is worked out, by its key."""
    return {result_key(item): _provenance(model, item) for item in model.outcomes()}


def _provenance(model: Model, item: Cell | Column) -> Mapping[str, Any]:
    function = function_of(item)
    source = function.source if function else "carried from its input"
    if item.study:
        study = model.study(item.study)
        source = f"{source}; {study.source}" if function else study.source
    return {
        "function": function.name if function else "",
        "source": source,
        "depends": model.study(item.study).reads if item.study else depends(item),
    }


class Targets:
    """Where each result stands; the workbook layer says it, plain evaluation need not."""

    def cell(self, item: Cell) -> Value:
        return unplaced(item, item.unit("metric"))

    def rows(self, item: Column, count: int, known: Mapping[str, Any]) -> Sequence[Value]:
        """The same for each row of a column, with what is ``known`` of all of them."""
        return [unplaced(item, item.unit("metric")).but(**known)] * count


def unplaced(item: Cell | Column, unit: str) -> Value:
    """A result without a value, and without a cell that it stands in."""
    return Value(item.name, item.label, item.kind, unit, None, item.label, placed=False)
