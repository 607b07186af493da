"""When the rows of a log were read: dates and times counted on past midnight, odd ones refused.

A date holds for the rows below it until another is typed; rows above the first one are of the
day that stands on Job.
"""

from __future__ import annotations

import math
from dataclasses import replace
from typing import NamedTuple

from ..engine.evaluate import Reader, Value
from ..problems import sentence
from .words import DAY, clock, on_day

MEND = (
    "put the rows in their order; type the date where a new day begins; where a clock was set "
    "back, go on with the old time"
)
# What of a reading says when it was.
WHEN = ("date", "time")
# A date behind less rest than so goes on with the same shift; our choice.
REST = 3 * 3600.0
Row = dict[str, Value]


class WorkDay(NamedTuple):
    """The rows of one day at the machine, a night past midnight with it."""

    # Day number; None where no date is known.
    date: float | None
    # Its midnight, counted as the moments are.
    midnight: float
    rows: range


def moments(
    reader: Reader | None, rows: list[Row], first_day: float | None = None
) -> list[float | None]:
    """Seconds since midnight of ``first_day`` of every row; None where its time is refused.

    Without ``first_day`` they count from the first date that is typed. Without a reader nothing
    is told: the study that judges the rows does.

    A time before the one above is refused there, or above where that one is the odd one out;
    a jump back of half a day or more is the next midnight.
    """
    origin = _origin(rows, first_day)
    moments: list[float | None] = []
    kept: list[tuple[int, float]] = []
    date: float | None = None
    dated, lost = False, None
    for index, row in enumerate(rows):
        time, typed = row["time"], row["date"].si
        moments.append(None)
        # A date in a row without a time counts from the next one on.
        dated = dated or (typed is not None and typed != date)
        if row["date"].refused or typed is not None:
            date, lost = typed, row["date"] if typed is None else None
        if lost is not None:
            row["time"] = replace(time, si=None, why=f"see {lost.where}", roots=lost.roots)
            continue
        if time.si is None:
            continue
        now = time.si * DAY
        # A date says itself which day it is.
        guessed = not dated and len(kept) > 1 and rows[kept[-1][0]]["date"].si is None
        if guessed and _outlier(kept, now):
            _refuse_time(rows[kept[-1][0]], kept[-2][1], reader)
            moments[kept.pop()[0]] = None
        if dated and date is not None and origin is not None:
            now += (date - origin) * DAY
        elif kept:
            now += math.floor(kept[-1][1] / DAY) * DAY
            if now < kept[-1][1] - DAY / 2:
                now += DAY
        if kept and now < kept[-1][1]:
            _refuse_time(row, kept[-1][1], reader)
            continue
        moments[index], dated = now, False
        kept.append((index, now))
    return moments


def _origin(rows: list[Row], first_day: float | None) -> float | None:
    typed = (row["date"].si for row in rows if row["date"].si is not None)
    return next(typed, None) if first_day is None else first_day


def work_days(
    rows: list[Row], times: list[float | None], first_day: float | None = None
) -> list[WorkDay]:
    """The days of a log, in their order; none where it has no row.

    A new one begins at a date behind a rest: a shift past midnight stays one day.
    """
    starts, last, date = [0], None, None
    for index, (row, now) in enumerate(zip(rows, times)):
        typed = row["date"].si
        rested = last is None or now is None or now - last >= REST
        if index and typed is not None and typed != date and rested:
            starts.append(index)
        date = date if typed is None else typed
        last = last if now is None else now
    origin = _origin(rows, first_day)
    found = []
    for start, end in zip(starts, [*starts[1:], len(rows)]):
        known = [now for now in times[start:end] if now is not None]
        number = math.floor(known[0] / DAY) if known else 0
        day = None if origin is None else origin + number
        found.append(WorkDay(day, number * DAY, range(start, end)))
    return found if rows else []


def day_shown(days: list[WorkDay], wanted: float | None) -> WorkDay | None:
    """The day that is asked for, else the last one; None where it has no reading."""
    if wanted is None:
        return days[-1] if days else None
    return next((day for day in days if day.date == wanted), None)


def _outlier(kept: list[tuple[int, float]], now: float) -> bool:
    """Whether the last time stands out: this one follows the one before it, not the last."""
    before, last = kept[-2][1], kept[-1][1]
    now += math.floor(before / DAY) * DAY
    return before <= now < last and last - before > DAY / 4


def _refuse_time(row: Row, other: float, reader: Reader | None) -> None:
    time, date = row["time"], row["date"]
    if reader is None:
        row["time"] = replace(time, si=None, why=f"see {time.where}", roots=(time.where,))
        return
    found = f"Time is {clock(time.si)}"
    if date.si is not None:
        found += f" on {on_day(date.si)}"
    expected = f"it must fit between the rows beside it; the one above is {clock(other / DAY % 1)}"
    refused = reader.refuse("bad-reading", time, sentence(found, expected, MEND))
    row["time"] = replace(time, si=None, why=refused.why, roots=refused.roots)
