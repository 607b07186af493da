"""Quantities of pint and series of pandas, in and out of a call; neither is imported here.

A quantity is known by its magnitude and its conversion, a series by its index: whoever hands one
over has the package that made it.
"""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any

from ..catalogue import Function
from ..problems import sentence
from ..units import KINDS
from .cells import WrongError, default_unit, found_words


def is_quantity(raw: Any) -> bool:
    return hasattr(raw, "magnitude") and hasattr(raw, "m_as")


def is_column(raw: Any) -> bool:
    return hasattr(raw, "index") and hasattr(raw, "to_numpy")


def plain(function: Function, given: Sequence[Any]) -> list[Any]:
    """The arguments with each quantity as numbers in its default unit.

    WrongError says which one is of another kind than is wanted.
    """
    known = len(function.arguments)
    items = [*function.arguments, *[None] * max(0, len(given) - known)]
    return [
        _number(item.noun, item.kind, raw) if item is not None and is_quantity(raw) else raw
        for item, raw in zip(items, given)
    ]


def _number(noun: str, kind: str, quantity: Any) -> Any:
    try:
        found = quantity.m_as(_expression(kind, default_unit(kind)) or "dimensionless")
    except Exception:
        # Of another dimension, or of a registry that does not know the unit.
        wanted = KINDS[kind].wanted() if kind in KINDS else "no unit is wanted"
        raise WrongError(sentence(f"{noun} is {found_words(str(quantity))}", wanted)) from None
    return found.tolist() if hasattr(found, "tolist") else found


def _expression(kind: str, unit: str) -> str:
    """A unit of a kind as pint knows it; "" where it is none."""
    entry = KINDS[kind].by_spelling.get(unit.casefold()) if kind in KINDS else None
    return entry.expression if entry is not None else ""


def like(function: Function, given: Sequence[Any], value: Any, units: Sequence[str]) -> Any:
    """A result as quantities where one was given, or as a series where one was."""
    for quantity in filter(is_quantity, given):
        return _quantities(function, quantity, value, units)
    for column in filter(is_column, given):
        flat = isinstance(value, list) and len(value) == 1 and not function.listed
        if flat and len(value[0]) == len(column.index):
            return type(column)(value[0], index=column.index)
    return value


def _quantities(function: Function, quantity: Any, value: Any, units: Sequence[str]) -> Any:
    def of(one: Any, place: int) -> Any:
        unit = units[place % len(units)]
        expression = _expression(function.kinds[place % len(units)], unit)
        return type(quantity)(one, expression) if expression and not isinstance(one, str) else one

    if not isinstance(value, list):
        return of(value, 0)
    if len(units) == 1:
        # A range in one unit is one quantity, as flat as it came.
        return of(value[0] if len(value) == 1 else value, 0)
    return [[of(one, place) for place, one in enumerate(row)] for row in value]
