"""When the rows of a day were read: times of day counted on past midnight, odd ones refused."""

from __future__ import annotations

import math
from dataclasses import replace

from ..engine.evaluate import Reader, Value
from ..problems import sentence
from .words import DAY, clock

MEND = "put the rows in the order of the day; where a clock was set back, go on with the old time"


def moments(reader: Reader | None, rows: list[dict[str, Value]]) -> list[float | None]:
    """Seconds since the first midnight of every row; None where its time is refused.

    Without a reader nothing is told: the study that judges the rows does.

    A time before the one above is refused there, or above where that one is the odd one out;
    a jump back of half a day or more is the next midnight.
    """
    moments: list[float | None] = []
    kept: list[tuple[int, float]] = []
    for index, row in enumerate(rows):
        time = row["time"]
        moments.append(None)
        if time.si is None:
            continue
        now = time.si * DAY
        if kept and len(kept) > 1 and _outlier(kept, now):
            _refuse_time(rows[kept[-1][0]], kept[-2][1], reader)
            moments[kept.pop()[0]] = None
        if kept:
            now += math.floor(kept[-1][1] / DAY) * DAY
            if now < kept[-1][1] - DAY / 2:
                now += DAY
            elif now < kept[-1][1]:
                _refuse_time(row, kept[-1][1], reader)
                continue
        moments[index] = now
        kept.append((index, now))
    return moments


def _outlier(kept: list[tuple[int, float]], now: float) -> bool:
    """Whether the last time stands out: this one follows the one before it, not the last."""
    before, last = kept[-2][1], kept[-1][1]
    now += math.floor(before / DAY) * DAY
    return before <= now < last and last - before > DAY / 4


def _refuse_time(row: dict[str, Value], other: float, reader: Reader | None) -> None:
    time = row["time"]
    if reader is None:
        row["time"] = replace(time, si=None, why=f"see {time.where}", roots=(time.where,))
        return
    found = f"Time is {clock(time.si)}"
    expected = f"it must fit between the rows beside it; the one above is {clock(other / DAY % 1)}"
    refused = reader.refuse("bad-reading", time, sentence(found, expected, MEND))
    row["time"] = replace(time, si=None, why=refused.why, roots=refused.roots)
