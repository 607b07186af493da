"""Pull-off tests: each one, and what those of a surface say together."""

from __future__ import annotations

import math
from typing import Any, NamedTuple

from ..core.adhesion import characteristic_value_factor
from ..core.comparison import sample_deviation
from ..engine.evaluate import Reader, Value, waits_for
from ..problems import with_capital
from .words import NOTHING, name_key, rounded, said

GLUE = "in the glue"
BROKE = ("in the lining", "between coats", "at the surface", "in the concrete or steel below", GLUE)
SOURCE = "Mean less k s with the factor of EN 1990, Annex D; a break in the glue is a lower bound"
CAPACITY = 20
COLUMNS = ("pull_surface", "stress", "broke")
READS = (*(f"pulls.{name}" for name in COLUMNS), "least_adhesion", "areas.surface")


class Tested(NamedTuple):
    """The pull-off tests of one surface."""

    tested_surface: Any
    tested_words: Any
    tested_count: Any
    tested_mean: Any
    tested_low: Any
    tested_five: Any


def adhesion(reader: Reader) -> list[Tested]:
    """Rows of (surface, words, tests, mean, lowest, 5 % value); a verdict beside each test."""
    rows = reader.rows("pulls", COLUMNS)
    least = reader.cell("least_adhesion")
    reader.give("pulls.verdict", [_verdict(reader, row, least) for row in rows])
    known = {name_key(name) for name in reader.cells("areas", "surface")}
    groups: dict[str, list[dict[str, Value]]] = {}
    for row in rows:
        name = row["pull_surface"]
        if name.si is not None:
            groups.setdefault(name_key(name), []).append(row)
            if name_key(name) not in known:
                reader.warn("unknown-surface", name, f"Areas has no surface '{name.si}'")
    return [_surface(str(own[0]["pull_surface"].si).strip(), own, least) for own in groups.values()]


def _verdict(reader: Reader, row: dict[str, Value], least: Value) -> Any:
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
        words = f"below the {said(least)} asked for"
        reader.warn("pull-fails", stress, words)
        return with_capital(words)
    if in_glue:
        return f"{NOTHING}; came off in the glue, the lining holds at least this"
    return NOTHING if least.si is not None else f"{NOTHING}; no least strength on Job"


def _surface(name: str, rows: list[dict[str, Value]], least: Value) -> Tested:
    tests = [row for row in rows if row["stress"].si is not None]
    values = [row["stress"].si for row in tests]
    waiting = sum(row["stress"].refused for row in rows)
    mend = f" {waiting} rows have something to mend." if waiting else ""
    if not values:
        return Tested(name, f"No test with a stress.{mend}", 0, None, None, None)
    like = tests[0]["stress"]
    mean = math.fsum(values) / len(values)
    low = None
    if len(values) > 1:
        reach = characteristic_value_factor(float(len(values))) * sample_deviation(values)
        low = max(0.0, mean - reach)
    glued = [row["stress"].si for row in tests if row["broke"].si == GLUE]
    words = f"Mean {rounded(mean, like)}, lowest {rounded(min(values), like)}"
    if low is not None:
        words += f"; 5 of 100 further tests are expected below {rounded(low, like)}"
    if least.si is not None:
        held = [value for value in values if value >= least.si * (1 - 1e-12)]
        silent = [value for value in glued if value < least.si * (1 - 1e-12)]
        below = len(values) - len(held) - len(silent)
        words += f". {below} of {len(values)} show less than the {said(least)} asked for"
        if silent:
            words += f", {len(silent)} came off in the glue below it and say nothing: repeat"
    if glued:
        words += f". {len(glued)} came off in the glue: each is a lower bound"
    return Tested(name, f"{words}.{mend}", len(values), mean, min(values), low)
