"""Values in words, in the unit of their cell."""

from __future__ import annotations

from ..evaluate import Value
from ..units import from_si, shown
from ..units import said as number_said

DAY = 86400.0


def clock(share: float) -> str:
    """A share of the day as "08:30"."""
    minutes = round(share * 1440)
    return f"{minutes // 60 % 24:02d}:{minutes % 60:02d}"


def said(value: Value, si: float | None = None) -> str:
    """A value, or another one of its kind, in the unit of its cell."""
    number = value.si if si is None else si
    return shown(round(number, 9), value.kind, value.unit)


def rounded(si: float, like: Value) -> str:
    """A computed value in the unit of a cell, to three digits."""
    return number_said(float(f"{from_si(si, like.kind, like.unit):.3g}"), like.unit)


def to_a_tenth(like: Value, si: float) -> str:
    """A computed value in the unit of a cell, to one decimal."""
    return number_said(round(from_si(si, like.kind, like.unit), 1), like.unit)
