"""Pull-off tests: each one, and what those of a surface say together."""

from __future__ import annotations

import math
from typing import Any

from ..core.adhesion import characteristic_value_factor
from ..evaluate import Reader, Value, waits_for
from .readings import NOTHING
from .words import rounded, said

GLUE = "in the glue"
BROKE = ("in the lining", "between coats", "at the surface", "in the concrete or steel below", GLUE)
SOURCE = "Mean less k s with the factor of EN 1990, Annex D; a break in the glue is a lower bound"
CAPACITY = 20
COLUMNS = ("pull_surface", "stress", "broke")
READS = (*(f"pulls.{name}" for name in COLUMNS), "least_adhesion")


def adhesion(reader: Reader) -> list[tuple[Any, ...]]:
    """Rows of (surface, words, tests, mean, lowest, 5 % value); a verdict beside each test."""
    columns = {name: reader.cells("pulls", name) for name in COLUMNS}
    rows = [dict(zip(columns, cells)) for cells in zip(*columns.values())]
    least = reader.cell("least_adhesion")
    reader.give("pulls.verdict", [_verdict(row, least) for row in rows])
    groups: dict[str, list[dict[str, Value]]] = {}
    for row in rows:
        if row["pull_surface"].si is not None:
            groups.setdefault(str(row["pull_surface"].si), []).append(row)
    return [_surface(name, own, least) for name, own in groups.items()]


def _verdict(row: dict[str, Value], least: Value) -> Any:
    stress, broke = row["stress"], row["broke"].si
    refused = waits_for(*row.values(), least)
    if refused:
        return refused
    if stress.si is None:
        return "No stress: type what the gauge shows, or force and dolly"
    in_glue = broke == GLUE
    if least.si is not None and stress.si < least.si * (1 - 1e-12):
        if in_glue:
            return f"Came off in the glue before {said(least)}: says nothing of the lining, repeat"
        return f"Below the {said(least)} asked for"
    if in_glue:
        return f"{NOTHING}; came off in the glue, the lining holds at least this"
    return NOTHING if least.si is not None else f"{NOTHING}; no least strength on Job"


def _surface(name: str, rows: list[dict[str, Value]], least: Value) -> tuple[Any, ...]:
    tests = [row for row in rows if row["stress"].si is not None]
    values = [row["stress"].si for row in tests]
    if not values:
        return (name, "No test with a stress.", 0, None, None, None)
    like = tests[0]["stress"]
    mean = math.fsum(values) / len(values)
    low = None
    if len(values) > 1:
        squares = math.fsum((value - mean) ** 2 for value in values)
        deviation = math.sqrt(squares / (len(values) - 1))
        low = max(0.0, mean - characteristic_value_factor(float(len(values))) * deviation)
    glued = sum(row["broke"].si == GLUE for row in tests)
    words = f"Mean {rounded(mean, like)}, lowest {rounded(min(values), like)}"
    if low is not None:
        words += f"; 5 of 100 further tests are expected below {rounded(low, like)}"
    if glued:
        words += f"; {glued} came off in the glue, so the lining holds at least this"
    if least.si is not None:
        below = sum(value < least.si * (1 - 1e-12) for value in values)
        words += f". {below} of {len(values)} are below the {said(least)} asked for"
    return (name, words + ".", len(values), mean, min(values), low)
