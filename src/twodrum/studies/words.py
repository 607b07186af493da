"""Values in words, in the unit of their cell."""

from __future__ import annotations

import math
from datetime import date, timedelta

from ..core.schedule import DAY as DAY
from ..core.schedule import MINUTE_GUARD, MINUTES
from ..engine.evaluate import Value
from ..units import from_si
from ..units import said as number_said

# Less than "in order": only what was typed was looked at.
NOTHING = "Nothing found"
DAY_ZERO = date(1899, 12, 30)


def clock(share: float) -> str:
    """A share of the day as "08:30", cut to the minute as a spreadsheet shows it."""
    minutes = math.floor(share * MINUTES + MINUTE_GUARD)
    return f"{minutes // 60 % 24:02d}:{minutes % 60:02d}"


def on_day(number: float) -> str:
    """A day number of a spreadsheet as "2026-11-24"."""
    return (DAY_ZERO + timedelta(days=math.floor(number))).isoformat()


def said(value: Value, si: float | None = None) -> str:
    """A value, or another one of its kind, in the unit of its cell, to four digits."""
    return _digits(value, value.si if si is None else si, 4)


def rounded(si: float, like: Value) -> str:
    """A computed value in the unit of a cell, to three digits."""
    return _digits(like, si, 3)


def _digits(like: Value, si: float, digits: int) -> str:
    # A conversion leaves 1e-14 of a degree where 0 was typed.
    number = float(f"{round(from_si(si, like.kind, like.unit), 6):.{digits}g}")
    return number_said(number, _spoken(like.unit))


def _spoken(unit: str) -> str:
    """A difference of 5 Δ°F is said as 5 °F."""
    return unit.replace("Δ", "")


def to_a_tenth(like: Value, si: float) -> str:
    """A computed value in the unit of a cell, to one decimal."""
    return number_said(round(from_si(si, like.kind, like.unit), 1), _spoken(like.unit))


def in_percent(share: float) -> str:
    """A share as "2.5 %"."""
    return f"{share * 100:.1f} %"


def name_key(name: Value) -> str:
    """A name that was typed, as it is held against others: without case and blanks around it."""
    return str(name.si or "").strip().casefold()
