"""Subtotals of the take-off by the group that stands beside each surface, and in all."""

from __future__ import annotations

from typing import Any, NamedTuple

from ..engine.evaluate import Reader, Value, waits_for
from .words import name_key

SOURCE = "Sums over Areas; what was measured after the job beside what was measured before"
# Groups and the row of all.
CAPACITY = 40
COLUMNS = ("group", "measured_area", "billed_area", "film_volume", "profile_volume", "area_after")
READS = tuple(f"areas.{name}" for name in COLUMNS)
NO_GROUP, ALL = "in no group", "all"


class Group(NamedTuple):
    """One group of surfaces; the last row is of all."""

    group_name: Any
    group_surfaces: Any
    group_measured: Any
    group_billed: Any
    group_lining: Any
    group_after: Any
    group_more: Any


def groups(reader: Reader) -> list[Group]:
    """A row for each group in the order of the take-off, one of all.

    None without a group and without an area that was measured after the job.
    """
    rows = reader.rows("areas", COLUMNS)
    if all(row["group"].si is None and row["area_after"].si is None for row in rows):
        return []
    names: dict[str, str] = {}
    of: dict[str, list[dict[str, Value]]] = {}
    for row in rows:
        key = name_key(row["group"])
        names.setdefault(key, str(row["group"].si).strip() if key else NO_GROUP)
        of.setdefault(key, []).append(row)
    found = [_subtotal(names[key], of[key]) for key in of] if set(of) != {""} else []
    return [*found, _subtotal(ALL, rows)]


def _subtotal(name: str, rows: list[dict[str, Value]]) -> Group:
    measured, billed = (_sum(rows, column) for column in ("measured_area", "billed_area"))
    film, profile = (_sum(rows, column) for column in ("film_volume", "profile_volume"))
    lining = None if film is None or profile is None else film + profile
    # Only what was measured both times is held against each other.
    again = [row for row in rows if row["area_after"].si is not None]
    after, before = _sum(again, "area_after"), _sum(again, "measured_area")
    more = None if not again or after is None or before is None else after - before
    return Group(
        name,
        len(rows),
        measured,
        billed,
        lining,
        after if again else None,
        more,
    )


def _sum(rows: list[dict[str, Value]], column: str) -> float | None:
    """The sum of a column; None where one of it is refused or not known."""
    cells = [row[column] for row in rows]
    if waits_for(*cells) or any(cell.si is None for cell in cells):
        return None
    return sum(float(cell.si) for cell in cells)
