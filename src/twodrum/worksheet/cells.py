"""What one cell or word means to an argument of a worksheet function.

- A number is in the argument's default unit, a text brings its own: 2 or "80 mil". In a call
  that asks for its result in SI, numbers are in SI too.
  A share is a fraction, as a cell that shows 70 % holds 0.7.
- Dates and times of day are the numbers of days that cells hold.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date, datetime, time, timedelta
from decimal import Decimal
from functools import lru_cache
from numbers import Real
from typing import Any

from ..catalogue import CHOICES, Argument
from ..problems import sentence
from ..units import KINDS, UnitError, bare_share, conversion, mistaken_prefix, parse, split_unit

# Day 0 of a spreadsheet's dates.
EPOCH = datetime(1899, 12, 30)


@dataclass(frozen=True)
class ErrorValue:
    """An error that a cell holds, such as #DIV/0!."""

    text: str


class WrongError(Exception):
    """One argument that cannot be read: what was found; what is expected; how to mend it."""


@dataclass(frozen=True)
class Read:
    """One argument as the formula takes it, and the unit in which the reader sees it.

    A series has the place and the unit of each of its values too.
    """

    si: Any
    unit: str = ""
    places: tuple[tuple[int, str], ...] = ()


def default_unit(kind: str) -> str:
    """The unit that a number without one is in."""
    if kind == "share":
        return "fraction"
    return KINDS[kind].metric if kind in KINDS else ""


def listed(raw: Any) -> Any:
    """Arrays and columns of other packages as lists."""
    if not isinstance(raw, (str, list, tuple)) and hasattr(raw, "tolist"):
        return raw.tolist()
    return raw


def table(raw: Sequence[Any]) -> list[Sequence[Any]]:
    """A range as rows of one length; a flat list is one row."""
    if not raw:
        return [[None]]
    rows = [listed(row) for row in raw]
    if not any(isinstance(row, (list, tuple)) for row in rows):
        return [rows]
    lengths = {len(row) if isinstance(row, (list, tuple)) else 1 for row in rows}
    if len(lengths) > 1 or lengths == {0}:
        raise WrongError(
            sentence("a range has rows of different lengths", "rows of one length are wanted")
        )
    return [row if isinstance(row, (list, tuple)) else [row] for row in rows]


def is_blank(raw: Any) -> bool:
    return raw is None or (isinstance(raw, str) and not raw.strip())


def is_number(text: str) -> bool:
    """Whether a text is a bare number."""
    try:
        float(text)
    except ValueError:
        return False
    return True


def unit_of(kind: str, text: str) -> str:
    """A unit as its kind spells it, or nothing where the kind has no such unit."""
    if kind not in KINDS or mistaken_prefix(kind, text):
        return ""
    entry = KINDS[kind].by_spelling.get(" ".join(text.split()).casefold())
    return entry.text if entry else ""


def found_words(raw: Any) -> str:
    """What was found in a cell, for a message."""
    if is_blank(raw):
        return "blank"
    if isinstance(raw, ErrorValue):
        return f"the error {raw.text}"
    if isinstance(raw, bool):
        return str(raw).upper()
    if isinstance(raw, (list, tuple)):
        return "a range"
    return f"'{raw}'" if isinstance(raw, str) else f"{raw}"


@lru_cache(maxsize=8192)
def _from_text(kind: str, text: str) -> tuple[float, str]:
    """A text such as "80 mil" as SI and its unit; UnitError where it is none."""
    value = parse(text, kind)
    unit = split_unit(text)[1]
    return value, unit_of(kind, unit) or default_unit(kind)


@lru_cache(maxsize=256)
def factors(kind: str) -> tuple[float, float, str]:
    unit = default_unit(kind)
    return *conversion(kind, unit), unit


def number(item: Argument, raw: Any, in_si: bool = False) -> Read:
    """One number of an argument: in the default unit, in SI, or a text with its own unit."""
    if isinstance(raw, (datetime, date, time, timedelta)):
        raw = serial(raw)
    if isinstance(raw, (Real, Decimal)) and not isinstance(raw, bool):
        raw = as_float(raw)
        if not math.isfinite(raw):
            raise WrongError(sentence(f"{item.noun} is {raw}", "a finite number is wanted"))
        add, times, unit = factors(item.kind)
        if in_si:
            return Read(raw, unit)
        try:
            value = bare_share(raw) if item.kind == "share" else (raw + add) * times
        except UnitError as error:
            raise WrongError(f"{item.noun}: {error}") from None
        return Read(value, unit)
    if isinstance(raw, str) and raw.strip():
        try:
            return Read(*_from_text(item.kind, raw))
        except UnitError as error:
            raise WrongError(f"{item.noun}: {error}") from None
    expected = "a number is wanted" if item.kind in ("number", "money") else _wanted(item)
    raise WrongError(sentence(f"{item.noun} is {found_words(raw)}", expected))


def as_float(raw: Any) -> float:
    """A number of any sort as a float; what is none or too large is no number."""
    try:
        return float(raw)
    except (OverflowError, ValueError):
        return math.inf


def _wanted(item: Argument) -> str:
    if item.kind == "share":
        return "a fraction is wanted, or a text with %"
    return f"a number in {default_unit(item.kind)} is wanted, or a text with its unit"


def serial(moment: Any) -> float:
    """A date or a time of day as the number of days that a cell holds."""
    if isinstance(moment, timedelta):
        return moment / timedelta(days=1)
    if isinstance(moment, time):
        moment = datetime.combine(EPOCH.date(), moment)
    elif not isinstance(moment, datetime):
        moment = datetime(moment.year, moment.month, moment.day)
    since: timedelta = moment.replace(tzinfo=None) - EPOCH
    return since / timedelta(days=1)


def single(item: Argument, raw: Any, in_si: bool = False) -> Read:
    """An argument that is one value."""
    if isinstance(raw, ErrorValue):
        text = sentence(f"{item.noun} is {found_words(raw)}", "a value is wanted", "mend that cell")
        raise WrongError(text)
    if is_blank(raw):
        if item.optional:
            return Read(None)
        raise WrongError(sentence(f"{item.noun} is blank", "it is needed"))
    if item.kind == "truth":
        return Read(_truth(item, raw))
    if item.kind in CHOICES:
        return Read(_choice(item, raw))
    return number(item, raw, in_si)


def _truth(item: Argument, raw: Any) -> bool:
    if isinstance(raw, (bool, int, float)) and raw in (0, 1):
        return bool(raw)
    if isinstance(raw, str) and raw.strip().upper() in ("TRUE", "FALSE"):
        return raw.strip().upper() == "TRUE"
    raise WrongError(sentence(f"{item.noun} is {found_words(raw)}", "TRUE or FALSE is wanted"))


def _choice(item: Argument, raw: Any) -> str:
    words = CHOICES[item.kind]
    number = isinstance(raw, (int, float)) and not isinstance(raw, bool)
    text = f"{as_float(raw):g}" if number else "" if isinstance(raw, bool) else str(raw)
    for word in words:
        if word.casefold() == " ".join(text.split()).casefold():
            return word
    raise WrongError(
        sentence(f"{item.noun} is {found_words(raw)}", f"it must be one of: {', '.join(words)}")
    )
