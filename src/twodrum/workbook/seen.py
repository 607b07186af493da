"""What a person sees in a cell whose number format says more than its number.

A spreadsheet keeps 16:00 as 0.6667 of a day, 20% as 0.2 and 8/12 as the number of a day;
only the format of the cell tells them from numbers that were typed as such.
"""

from __future__ import annotations

import re
from dataclasses import dataclass
from datetime import date, timedelta

from ..units import from_si, said
from ..xlsx.formats import DATE, DURATION, PERCENT, PLAIN, TIME
from .entry import is_time_of_day

# A number typed over a date keeps its format; no size of a job comes near the day numbers of now.
FIRST_DAY = 20000
DAY_ZERO = date(1899, 12, 30)
SECONDS_OF_DAY = 86400
FOOT = 0.3048
FEET = re.compile(r"""(\d+(?:\.\d+)?)\s*['′]\s*(?:(\d+(?:\.\d+)?)?\s*(\d+/\d+)?\s*["″]?)?""")
MIXED = re.compile(r"(\d+)?\s*(\d+/\d+)")


@dataclass(frozen=True)
class Seen:
    """``number`` is what counts, where that is sure; else ``found`` and ``mend`` say why not."""

    number: float | None
    found: str = ""
    mend: str = ""


def seen(shape: str, kind: str, unit: str, number: float) -> Seen:
    """What a number of a shape counts as, beside a unit."""
    if shape == PERCENT and kind == "share":
        return Seen(number * 100 if unit == "%" else number, f"{number * 100:g}%")
    if shape == PERCENT:
        return Seen(None, f"is {number * 100:g}%, a percentage", "type it without %")
    typed_over = shape == TIME and number >= 1
    if shape in (TIME, DURATION) and not typed_over:
        hours = clock_said(number)
        if kind == "time":
            return Seen(from_si(number * SECONDS_OF_DAY, kind, unit), hours)
        return Seen(None, f"is {hours}, a time of day", "type a decimal number")
    if shape == DATE and number >= FIRST_DAY:
        day = DAY_ZERO + timedelta(days=min(int(number), 2_000_000))
        mend = f"type a decimal number, such as {day.month / day.day:.4g}"
        mend += f" for {day.month}/{day.day}"
        return Seen(None, f"is the date {day.isoformat()}", mend)
    if shape == PLAIN and kind == "time" and is_time_of_day(number):
        meant = from_si(number * SECONDS_OF_DAY, kind, unit)
        found = f"is {said(number, unit)}, which is {clock_said(number)} typed as a time of day"
        return Seen(None, found, f"type {meant:g} for {said(meant, unit)}")
    return Seen(number)


def as_written(text: str) -> tuple[float, bool] | None:
    """A number as people write it, and whether it is in feet: 42'6" is 42.5, 7 1/2 is 7.5."""
    found = FEET.fullmatch(text.strip())
    if found:
        inches = float(found[2] or 0) + _fraction(found[3])
        return float(found[1]) + inches / 12, True
    found = MIXED.fullmatch(text.strip())
    if found:
        return float(found[1] or 0) + _fraction(found[2]), False
    return None


def _fraction(text: str | None) -> float:
    if not text:
        return 0.0
    over, under = (int(part) for part in text.split("/"))
    return over / under if under else 0.0


def clock_said(days: float) -> str:
    """A share of a day as hours and minutes, 30:00 for a day and a quarter."""
    minutes = round(days * SECONDS_OF_DAY / 60)
    return f"{minutes // 60}:{minutes % 60:02d}"
