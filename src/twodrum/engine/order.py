"""What follows from what: the order of the results, which may stay blank, which are written."""

from __future__ import annotations

from functools import lru_cache
from graphlib import TopologicalSorter
from typing import Union

from ..catalogue import BY_CALL, Function
from .expressions import Expression, expression, is_expression
from .model import ACCEPTED, Cell, Column, Model, Study, result_key
from .references import Agg, Lookup, Name, Reference, Row

Formula = Union[Function, Expression]


def function_of(item: Cell | Column) -> Formula | None:
    """A cell's expression or its function in the catalogue; None where a value is carried."""
    if is_expression(item.function):
        return expression(item.function, item.kind)
    return BY_CALL[item.function] if item.function else None


def takes_turns(function: Formula | None) -> bool:
    """Whether one value is the result, by its turn or by a word, whatever the others are."""
    return isinstance(function, Expression) and (function.by_turns or bool(function.picks))


def depends(item: Cell | Column) -> tuple[str, ...]:
    """Names and "table.column"s that a result follows from, in the order of its arguments."""
    return tuple(dict.fromkeys(_argument_names(item)))


@lru_cache(maxsize=8)
def order(model: Model) -> list[Cell | Column | Study]:
    """Results in an order in which each comes after what it follows from."""
    results = {result_key(item): item for item in model.outcomes()}
    items: dict[str, Cell | Column | Study] = dict(results)
    graph: dict[str, set[str]] = {
        key: {name for name in depends(item) if name in items} | ({item.study} - {""})
        for key, item in results.items()
    }
    for study in model.studies:
        items[study.name] = study
        graph[study.name] = {name for name in study.reads if name in items}
    return [items[key] for key in TopologicalSorter(graph).static_order()]


@lru_cache(maxsize=8)
def may_be_absent(model: Model) -> frozenset[str]:
    """Names and "table.column"s that can stay blank because an input may stay blank."""
    absent = {item.name for item in model.fields() if item.may_be_absent}
    absent |= {f"{ACCEPTED}{name}" for name in model.accepted}
    for typed in model.fields():
        if isinstance(typed.default, Name) and typed.default.name in absent:
            absent.add(typed.name)
    for table in model.tables:
        free = [item for item in table.fields if item.name not in table.fixed]
        absent |= {f"{table.name}.{item.name}" for item in free if item.may_be_absent}
    for item in order(model):
        if isinstance(item, Study):
            continue
        if item.study:
            absent.add(result_key(item))
        for arg in item.args:
            lacks = isinstance(arg, Lookup) and arg.may_lack
            if lacks or (isinstance(arg, Agg) and arg.where[0] and not arg.or_none):
                absent.add(result_key(item))
        if any(isinstance(arg, Agg) for arg in item.args):
            continue
        function = function_of(item)
        names = depends(item)
        for position, read in enumerate(_argument_names(item)):
            optional = function is not None and function.arguments[position].optional
            if not optional and read in absent:
                absent.add(result_key(item))
        if isinstance(function, Expression) and function.picks:
            blank = not absent.isdisjoint(names[1:])
        else:
            blank = takes_turns(function) and absent.issuperset(names)
        if blank:
            absent.add(result_key(item))
    return frozenset(absent)


@lru_cache(maxsize=8)
def filled(model: Model) -> frozenset[str]:
    """Keys of the results that no live formula gives: the filler writes their SI values.

    They are those of a study or of a function without a live formula, and those that would
    count one of them as 0 while it is not there yet: a sum of a column, a value that is only
    carried, an argument that may be left out.
    """
    found: set[str] = set()
    for item in order(model):
        if isinstance(item, Study):
            continue
        function = function_of(item)
        by_engine = bool(item.study) or (function is not None and not function.native)
        if by_engine or any(
            _counts_as_nothing(item, place, found) for place in range(len(item.args))
        ):
            found.add(result_key(item))
    return frozenset(found)


def _counts_as_nothing(item: Cell | Column, place: int, found: set[str]) -> bool:
    """Whether a live formula would take a value that is still to come for a blank one."""
    if _argument_names(item)[place] not in found:
        return False
    function = function_of(item)
    if function is None or not isinstance(item.args[place], (Name, Row)):
        return True
    return function.arguments[place].optional and not takes_turns(function)


def _argument_names(item: Cell | Column) -> list[str]:
    """What each argument reads."""
    return [_name(item, arg) for arg in item.args]


def _name(item: Cell | Column, reference: Reference) -> str:
    if isinstance(reference, Name):
        return reference.name
    if isinstance(reference, Row):
        assert isinstance(item, Column)
        return f"{item.table}.{reference.column}"
    return f"{reference.table}.{reference.column}"
