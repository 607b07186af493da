"""When the rows of a log were read: dates and times counted on past midnight, odd ones refused.

A date holds for the rows below it until another is typed; rows above the first one are of the
day that stands on Job.
"""

from __future__ import annotations

import math
from dataclasses import replace
from typing import NamedTuple, TypeVar

from ..engine.evaluate import Reader, Value
from ..engine.model import DAYS
from ..problems import sentence
from .linings import FIRST_LINING
from .words import DAY, clock, on_day

MEND = (
    "put the rows in their order; type the date where a new day begins; where a clock was set "
    "back, go on with the old time"
)
# What of a reading says when it was.
WHEN = ("date", "time", "lining")
# After less rest than so the same shift goes on; our choice: a break is shorter, a night longer.
REST = 6 * 3600.0
# Rows above the first date, where Job has no day either, are of a day that nobody knows.
UNKNOWN = -10_000 * DAY
FIRST_DATE = DAYS[0]
Row = dict[str, Value]
T = TypeVar("T")


class WorkDay(NamedTuple):
    """The rows of one day at the machine, a night past midnight with it."""

    # Day numbers of its first and its last row; None where no date is known.
    date: float | None
    until: float | None
    # Its midnight, counted as the moments are.
    midnight: float
    rows: range
    # The lining that was in the machine.
    lining: str = FIRST_LINING

    def of(self, values: list[T]) -> list[T]:
        """What of a list of the whole log is of this day."""
        return values[self.rows.start : self.rows.stop]


def moments(
    reader: Reader | None, rows: list[Row], first_day: float | None = None
) -> list[float | None]:
    """Seconds since midnight of ``first_day`` of every row; None where its time is refused.

    Without ``first_day`` they count from the first date that is typed, and rows above it are of
    a day long before. Without a reader nothing is told: the study that judges the rows does.

    A time before the one above is refused there, or above where that one is the odd one out;
    a jump back of half a day or more is the next midnight.
    """
    origin = _origin(rows, first_day)
    below = first_day is None and origin is not None
    moments: list[float | None] = []
    kept: list[tuple[int, float]] = []
    date: float | None = None
    dated, lost = False, None
    for index, row in enumerate(rows):
        time, typed = row["time"], _day(row["date"])
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
        elif below:
            now += UNKNOWN
        if kept and now < kept[-1][1]:
            _refuse_time(row, kept[-1][1], reader)
            continue
        moments[index], dated = now, False
        kept.append((index, now))
    return moments


def _day(date: Value) -> float | None:
    """A date without a time of day that a list may have pasted with it."""
    return None if date.si is None else float(math.floor(date.si))


def _origin(rows: list[Row], first_day: float | None) -> float | None:
    typed = (day for day in (_day(row["date"]) for row in rows) if day is not None)
    return next(typed, None) if first_day is None else float(math.floor(first_day))


def work_days(
    rows: list[Row], times: list[float | None], first_day: float | None = None
) -> list[WorkDay]:
    """The days of a log, in their order; none where it has no row.

    Where another lining goes into the machine a day of its own begins.

    Where dates are typed a new one begins behind a rest on another date, and at a date when
    the one before has lasted a whole day: a shift past midnight stays one day.
    """
    if not rows:
        return []
    dated = any(row["date"].si is not None for row in rows)
    linings = in_machine(rows)
    starts, last, began = [0], None, None
    date: float | None = None
    for index, (row, now) in enumerate(zip(rows, times)):
        typed = _day(row["date"])
        newly, date = typed is not None and typed != date, date if typed is None else typed
        if index and linings[index] != linings[index - 1]:
            starts.append(index)
            last, began = now, now
            continue
        if now is None:
            # A date without a time begins a day where all above it is of another one.
            if index and newly and last is not None:
                starts.append(index)
                last, began = None, None
            continue
        if last is not None and began is not None and dated:
            another = math.floor(now / DAY) != math.floor(began / DAY)
            if another and (now - last >= REST or (newly and now - began >= DAY)):
                starts.append(index)
                began = now
        last, began = now, now if began is None else began
    origin = _origin(rows, first_day)
    found = []
    for start, end in zip(starts, [*starts[1:], len(rows)]):
        known = [now for now in times[start:end] if now is not None]
        typed = _day(rows[start]["date"])
        midnight = math.floor(known[0] / DAY) * DAY if known else 0.0
        day = typed if origin is None or not known else origin + midnight / DAY
        until = day if origin is None or not known else origin + math.floor(known[-1] / DAY)
        there = day is not None and day >= FIRST_DATE
        found.append(
            WorkDay(
                day if there else None,
                until if there else None,
                midnight,
                range(start, end),
                linings[start],
            )
        )
    return found


def in_machine(rows: list[Row]) -> list[str]:
    """The lining that was in the machine at each row, where one is typed from there on.

    Rows below a lining that was refused wait for it.
    """
    found: list[str] = []
    lining, lost = FIRST_LINING, None
    for row in rows:
        typed = row["lining"]
        if typed.refused or typed.si is not None:
            lining, lost = str(typed.si or lining), typed if typed.refused else None
        elif lost is not None:
            row["lining"] = replace(typed, why=f"see {lost.where}", roots=lost.roots)
        found.append(lining)
    return found


def fed_with(rows: list[Row], lining: str) -> list[Row]:
    """The rows at which a lining was in the machine."""
    return [row for row, fed in zip(rows, in_machine(rows)) if fed == lining]


def day_shown(days: list[WorkDay], wanted: float | None, lining: str) -> WorkDay | None:
    """The day that is asked for, else the last one; None where it has no reading.

    Of a date on which both linings were in the machine it is the day of ``lining``.
    """
    if wanted is None:
        return days[-1] if days else None
    number = math.floor(wanted)
    known = [day for day in days if day.date is not None and day.until is not None]
    of_date = [day for day in known if day.date == number]
    own = [day for day in of_date if day.lining == lining] or of_date
    # The date behind midnight is that of the shift that began before.
    night = [day for day in known if day.date <= number <= day.until]  # type: ignore[operator]
    return next(iter(own or night), None)


def tell_missing(reader: Reader, wanted: Value, days: list[WorkDay], shown: WorkDay | None) -> None:
    """A day that is picked and of which nothing was read."""
    if days and shown is None and wanted.si is not None:
        found = f"Readings has no row of {on_day(wanted.si)}"
        reader.warn("unusual", wanted, sentence(found, "a day with readings, or a blank"))


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
