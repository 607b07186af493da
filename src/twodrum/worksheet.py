"""One call of a worksheet function: what a cell or a person gave in, numbers or reasons out.

Every host comes through here, so that each gives the same numbers and says the same.

- A number is in the argument's default unit, a text brings its own: 2 or "80 mil".
  A share is a fraction, as a cell that shows 70 % holds 0.7.
- A range for an argument that is one value makes an array, as a spreadsheet user expects;
  a range for a series is one series. In a series a place that is blank in every range of the
  call is passed over.
- Dates and times of day are the numbers of days that cells hold.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from datetime import date, datetime, time, timedelta
from decimal import Decimal
from functools import lru_cache
from typing import Any, List, Union

from .catalogue import CHOICES, FUNCTIONS, Argument, Function
from .core.inputs import InputError
from .evaluate import Value, word_refusal
from .problems import sentence
from .units import KINDS, UNIT_TABLE, UnitError, bare_share, conversion, parse, said, split_unit

BY_NAME: dict[str, Function] = {function.name: function for function in FUNCTIONS}
# Day 0 of a spreadsheet's dates.
EPOCH = datetime(1899, 12, 30)
# What a spreadsheet shows for a place that an array does not reach.
BEYOND = "this place lies beyond one of the ranges; ranges of one size are wanted"


@dataclass(frozen=True)
class ErrorValue:
    """An error that a cell holds, such as #DIV/0!."""

    text: str


@dataclass(frozen=True)
class Refused:
    """A number that is not there: the sentences that say why."""

    reasons: tuple[str, ...]

    def __str__(self) -> str:
        return "\n".join(self.reasons)


Cell = Union[float, str, Refused]
Rows = List[List[Cell]]


class CallError(ValueError):
    """A call that was refused: the sentences that say what to mend."""


class _WrongError(Exception):
    """One argument that cannot be read: what was found; what is expected; how to mend it."""


@dataclass(frozen=True)
class _Read:
    """One argument as the formula takes it, and the unit in which the reader sees it."""

    si: Any
    unit: str = ""


def default_unit(kind: str) -> str:
    """The unit that a number without one is in."""
    if kind == "share":
        return "fraction"
    return KINDS[kind].metric if kind in KINDS else ""


def function_named(name: str) -> Function:
    """A worksheet function by its name, in any case; CallError where there is none."""
    found = BY_NAME.get(name.strip().upper())
    if found is None:
        raise CallError(f"{name}: there is no such function; twodrum functions lists them")
    return found


def call(name: str, *given: Any) -> Any:
    """A worksheet function from Python: numbers, texts with units, lists for ranges.

    Parameters
    ----------
    name : str
        Such as "TD_DEW_POINT".
    given : float, str, bool, list or None
        The arguments in their order, None for one that is left out; after the last one may
        come the unit of the result.

    Returns
    -------
    float, str or list of list
        One value, or rows of them where a range was given or the function gives several.

    Errors
    ------
    CallError with every reason where a number is refused.

    Example
    -------
    >>> round(call("TD_DEW_POINT", 20, "70 %"), 2)
    14.36
    """
    rows = answer(name, given)
    refused = [cell for row in rows for cell in row if isinstance(cell, Refused)]
    if refused:
        raise CallError("\n".join(dict.fromkeys(map(str, refused))))
    return rows[0][0] if len(rows) == 1 and len(rows[0]) == 1 else rows


def why(name: str, given: Sequence[Any]) -> str:
    """What has to be mended in a call, or that it gives a number."""
    rows = answer(name, given)
    reasons = [str(cell) for row in rows for cell in row if isinstance(cell, Refused)]
    if reasons:
        return "\n".join(dict.fromkeys(reasons))
    first = rows[0][0]
    gives = said(first, "").strip() if isinstance(first, float) else first
    return f"nothing to mend; it gives {gives}"


def answer(name: str, given: Sequence[Any]) -> Rows:
    """The cells that a call fills: values in the result's unit, or reasons."""
    plain = _plain(name, given)
    if plain is not None:
        return [[plain]]
    try:
        function = function_named(name)
    except CallError as error:
        return [[Refused((str(error),))]]
    try:
        return _answer(function, given)
    except _WrongError as wrong:
        return [[_refused(function, [str(wrong)])]]


@dataclass(frozen=True)
class _Plan:
    """What a call on plain numbers needs, worked out once: nothing is parsed on the way."""

    function: Function
    # Name, whether it is a share, and the factors of its default unit.
    arguments: tuple[tuple[str, bool, float, float], ...]
    required: int
    add: float
    times: float


@lru_cache(maxsize=1024)
def _plan(name: str) -> _Plan | None:
    function = BY_NAME.get(name)
    if function is None or function.parts or function.listed or function.kind not in KINDS:
        return None
    items = function.arguments
    if any(item.series or item.kind not in KINDS for item in items):
        return None
    factors = [(item.name, item.kind == "share", *_factors(item.kind)[:2]) for item in items]
    add, times, _ = _factors(function.kind)
    required = sum(not item.optional for item in items)
    return _Plan(function, tuple(factors), required, add, times)


def _plain(name: str, given: Sequence[Any]) -> float | None:
    """The result of a call on plain numbers in default units; None sends it the long way."""
    plan = _plan(name)
    if plan is None or not plan.required <= len(given) <= len(plan.arguments) + 1:
        return None
    values: dict[str, Any] = {}
    for raw, (argument, share, add, times) in zip(given, plan.arguments):
        if type(raw) is not float or (share and raw > 1):
            return None
        values[argument] = raw if share else (raw + add) * times
    if len(given) > len(plan.arguments) and given[-1] is not None:
        return None
    for argument, *_ in plan.arguments[len(given) :]:
        values[argument] = None
    try:
        number = float(plan.function.run(values))
    except (InputError, ArithmeticError):
        return None
    return number / plan.times - plan.add if math.isfinite(number) else None


def _refused(function: Function, reasons: Iterable[str]) -> Refused:
    return Refused(tuple(f"{function.name}: {reason}" for reason in reasons))


def _answer(function: Function, given: Sequence[Any]) -> Rows:
    arguments = function.arguments
    if len(given) > len(arguments) + 1:
        raise _WrongError(
            sentence(
                f"{len(given)} arguments were given",
                f"{len(arguments)} and the unit of the result are wanted",
            )
        )
    padded = [*given, *[None] * (len(arguments) + 1 - len(given))]
    units = _result_units(function, padded.pop())
    wide = [
        index
        for index, (item, raw) in enumerate(zip(arguments, padded))
        if not item.series and isinstance(raw, (list, tuple))
    ]
    if not wide:
        return _once(function, padded, units)
    if function.listed or function.parts:
        raise _WrongError(
            sentence(
                f"{arguments[wide[0]].noun} is a range",
                "one value is wanted where a function gives several",
                "give one cell and fill the formula down",
            )
        )
    return _for_each(function, padded, wide, units)


def _for_each(
    function: Function, given: Sequence[Any], wide: Sequence[int], units: Sequence[str]
) -> Rows:
    """One call for every place of the ranges, which stretch where they are one wide or high."""
    ranges = {index: _table(given[index]) for index in wide}
    height = max(len(rows) for rows in ranges.values())
    width = max(len(rows[0]) for rows in ranges.values())
    found: Rows = []
    for row in range(height):
        line: list[Cell] = []
        for column in range(width):
            here = list(given)
            inside = True
            for index, rows in ranges.items():
                r = 0 if len(rows) == 1 else row
                c = 0 if len(rows[0]) == 1 else column
                if r >= len(rows) or c >= len(rows[0]):
                    inside = False
                    break
                here[index] = None if _is_blank(rows[r][c]) else rows[r][c]
            if inside:
                try:
                    line.append(_once(function, here, units)[0][0])
                except _WrongError as wrong:
                    line.append(_refused(function, [str(wrong)]))
            else:
                line.append(_refused(function, [BEYOND]))
        found.append(line)
    return found


def _table(raw: Sequence[Any]) -> list[Sequence[Any]]:
    """A range as rows; a flat list is one row."""
    rows = [row if isinstance(row, (list, tuple)) else None for row in raw]
    if not raw:
        return [[None]]
    if any(row is None for row in rows):
        return [list(raw)]
    return [row if row else [None] for row in rows if row is not None]


def _is_blank(raw: Any) -> bool:
    return raw is None or (isinstance(raw, str) and not raw.strip())


def _once(function: Function, given: Sequence[Any], units: Sequence[str]) -> Rows:
    """One call on single values and series; every argument that is wrong is told."""
    wrong: list[str] = []
    read: dict[str, _Read] = {}
    kept = _kept(function, given, wrong)
    for item, raw in zip(function.arguments, given):
        try:
            if item.series:
                read[item.name] = _series(item, raw, kept.get(item.name))
            else:
                read[item.name] = _single(item, raw)
        except _WrongError as error:
            wrong.append(str(error))
    if wrong:
        return [[_refused(function, wrong)]]
    try:
        result = function.run({name: one.si for name, one in read.items()})
    except InputError as error:
        return [[_refused(function, [_worded(function, error, read)])]]
    except ArithmeticError:
        return [[_refused(function, [sentence("the result is too large", "a number is wanted")])]]
    kinds = function.kinds
    rows: Rows = []
    for row in function.rows(result):
        rows.append(
            [_shown(function, value, kind, unit) for value, kind, unit in zip(row, kinds, units)]
        )
    return rows


def _worded(function: Function, error: InputError, read: dict[str, _Read]) -> str:
    """A refusal in the unit in which its argument was given."""
    name = error.argument
    item = next((one for one in function.arguments if one.name == name), None)
    noun = name.replace("_", " ")
    if item is None:
        return word_refusal(error, Value(name, noun, "", "", None, ""))
    unit = read[name].unit or default_unit(item.kind)
    return word_refusal(error, Value(name, noun, item.kind, unit, None, ""))


def _shown(function: Function, value: Any, kind: str, unit: str) -> Cell:
    """A result in its unit; yes and no are 1 and 0, which every host adds up alike."""
    if isinstance(value, str):
        return value
    if kind == "truth":
        return 1.0 if value else 0.0
    number = float(value)
    if not math.isfinite(number):
        return _refused(function, [sentence("the result is too large", "a number is wanted")])
    return _shown_number(number, kind, unit)


def _result_units(function: Function, wanted: Any) -> list[str]:
    """The unit of each value of the result: the wanted one where it is of that kind."""
    defaults = [default_unit(kind) for kind in function.kinds]
    if _is_blank(wanted):
        return defaults
    if not isinstance(wanted, str):
        raise _WrongError(
            sentence(f"the unit of the result is {_said(wanted)}", "a text is wanted")
        )
    found, hit = [], False
    for kind, default in zip(function.kinds, defaults):
        text = _unit_of(kind, wanted)
        hit = hit or bool(text)
        found.append(text or default)
    if not hit:
        kinds = [kind for kind in function.kinds if kind in KINDS]
        expected = KINDS[kinds[0]].wanted() if kinds else "no unit is wanted"
        raise _WrongError(sentence(f"the unit of the result is '{wanted}'", expected))
    return found


def units_of(function: Function, given: Sequence[Any]) -> list[str]:
    """The unit of each value of a row of the result."""
    wanted = given[len(function.arguments)] if len(given) > len(function.arguments) else None
    try:
        return _result_units(function, wanted)
    except _WrongError:
        return [default_unit(kind) for kind in function.kinds]


def _unit_of(kind: str, text: str) -> str:
    """A unit as its kind spells it, or nothing where the kind has no such unit."""
    if kind not in KINDS:
        return ""
    if kind == "share" and text.strip().casefold() == "fraction":
        return "fraction"
    entry = KINDS[kind].by_spelling.get(" ".join(text.split()).casefold())
    return entry.text if entry else ""


def _said(raw: Any) -> str:
    """What was found in a cell, for a message."""
    if _is_blank(raw):
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
    return value, _unit_of(kind, unit) or default_unit(kind)


@lru_cache(maxsize=256)
def _factors(kind: str) -> tuple[float, float, str]:
    unit = default_unit(kind)
    add, times = (0.0, 1.0) if unit == "fraction" else UNIT_TABLE[kind][unit]
    return add, times, unit


def _number(item: Argument, raw: Any) -> _Read:
    """One number of an argument, from a number in the default unit or a text with its own."""
    if isinstance(raw, (datetime, date, time, timedelta)):
        raw = serial(raw)
    if isinstance(raw, (int, float)) and not isinstance(raw, bool):
        if not math.isfinite(raw):
            raise _WrongError(sentence(f"{item.noun} is {raw}", "a finite number is wanted"))
        add, times, unit = _factors(item.kind)
        try:
            value = bare_share(raw) if item.kind == "share" else (raw + add) * times
        except UnitError as error:
            raise _WrongError(f"{item.noun}: {error}") from None
        return _Read(value, unit)
    if isinstance(raw, Decimal):
        return _number(item, float(raw))
    if isinstance(raw, str) and raw.strip():
        try:
            return _Read(*_from_text(item.kind, raw))
        except UnitError as error:
            raise _WrongError(f"{item.noun}: {error}") from None
    expected = "a number is wanted" if item.kind in ("number", "money") else _wanted(item)
    raise _WrongError(sentence(f"{item.noun} is {_said(raw)}", expected))


def _wanted(item: Argument) -> str:
    if item.kind == "share":
        return "a fraction is wanted, or a text with %"
    return f"a number in {default_unit(item.kind)} is wanted, or a text with its unit"


def in_unit(value: Any, unit: Any, wanted: Any) -> Rows:
    """A number in another unit of the same kind, such as 80, "mil", "mm"."""
    try:
        return [[_in_unit(value, unit, wanted)]]
    except _WrongError as wrong:
        return [[Refused((f"TD_CONVERT: {wrong}",))]]


def _in_unit(value: Any, unit: Any, wanted: Any) -> float:
    if isinstance(value, (datetime, date, time, timedelta)):
        value = serial(value)
    if not isinstance(value, (int, float)) or isinstance(value, bool):
        raise _WrongError(sentence(f"value is {_said(value)}", "a number is wanted"))
    kinds = [kind for kind in KINDS if _unit_of(kind, str(unit))]
    if not kinds:
        raise _WrongError(sentence(f"unit is {_said(unit)}", "a unit is wanted, such as mm or psi"))
    for kind in kinds:
        if _unit_of(kind, str(wanted)):
            number = _shown_number(_si(value, kind, str(unit)), kind, _unit_of(kind, str(wanted)))
            if math.isfinite(number):
                return number
            raise _WrongError(sentence(f"value is {value}", "a smaller number is wanted"))
    raise _WrongError(sentence(f"wanted unit is {_said(wanted)}", KINDS[kinds[0]].wanted()))


def _si(value: float, kind: str, unit: str) -> float:
    add, times = (0.0, 1.0) if unit == "fraction" else conversion(kind, unit)
    return (value + add) * times


def _shown_number(value: float, kind: str, unit: str) -> float:
    add, times = (0.0, 1.0) if unit == "fraction" else conversion(kind, unit)
    return value / times - add


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


def _single(item: Argument, raw: Any) -> _Read:
    """An argument that is one value."""
    if isinstance(raw, ErrorValue):
        text = sentence(f"{item.noun} is {_said(raw)}", "a value is wanted", "mend that cell")
        raise _WrongError(text)
    if _is_blank(raw):
        if item.optional:
            return _Read(None)
        raise _WrongError(sentence(f"{item.noun} is blank", "it is needed"))
    if item.kind == "truth":
        return _Read(_truth(item, raw))
    if item.kind in CHOICES:
        return _Read(_choice(item, raw))
    return _number(item, raw)


def _truth(item: Argument, raw: Any) -> bool:
    if isinstance(raw, (bool, int, float)) and raw in (0, 1):
        return bool(raw)
    if isinstance(raw, str) and raw.strip().upper() in ("TRUE", "FALSE"):
        return raw.strip().upper() == "TRUE"
    raise _WrongError(sentence(f"{item.noun} is {_said(raw)}", "TRUE or FALSE is wanted"))


def _choice(item: Argument, raw: Any) -> str:
    words = CHOICES[item.kind]
    text = f"{raw:g}" if isinstance(raw, (int, float)) else str(raw)
    for word in words:
        if word.casefold() == " ".join(text.split()).casefold():
            return word
    raise _WrongError(
        sentence(f"{item.noun} is {_said(raw)}", f"it must be one of: {', '.join(words)}")
    )


def _flat(raw: Any) -> list[Any]:
    """The cells of a range, row by row; a text such as "5.1 4.7 MPa" is a series too."""
    if isinstance(raw, (list, tuple)):
        return [cell for row in _table(raw) for cell in row]
    if isinstance(raw, str) and raw.strip():
        words = raw.replace(";", " ").split()
        count = 0
        while count < len(words) and _is_number(words[count]):
            count += 1
        unit = " ".join(words[count:])
        if count > 1:
            return [f"{word} {unit}".strip() if unit else float(word) for word in words[:count]]
    return [] if _is_blank(raw) else [raw]


def _is_number(text: str) -> bool:
    try:
        float(text)
    except ValueError:
        return False
    return True


def _kept(function: Function, given: Sequence[Any], wrong: list[str]) -> dict[str, Sequence[int]]:
    """For each series of a function that pairs them, the places that are not blank everywhere."""
    if not function.paired:
        return {}
    cells = {
        item.name: _flat(raw)
        for item, raw in zip(function.arguments, given)
        if item.series and not _is_blank(raw)
    }
    kept: dict[str, Sequence[int]] = {}
    for length in {len(series) for series in cells.values()}:
        group = {name: series for name, series in cells.items() if len(series) == length}
        places = []
        for place in range(length):
            blank = [name for name, series in group.items() if _is_blank(series[place])]
            if len(blank) < len(group):
                places.append(place)
                wrong += [
                    sentence(
                        f"{name.replace('_', ' ')} is blank at place {place + 1}",
                        "a value is wanted beside the others",
                    )
                    for name in blank
                ]
        kept.update(dict.fromkeys(group, places))
    return kept


def _series(item: Argument, raw: Any, kept: Sequence[int] | None) -> _Read:
    """An argument that is a series of values; blanks are passed over."""
    cells = _flat(raw)
    if not cells and item.optional:
        return _Read(None)
    places = range(len(cells)) if kept is None else kept
    values, wrong, unit = [], [], ""
    for place in places:
        if _is_blank(cells[place]):
            continue
        try:
            if isinstance(cells[place], ErrorValue):
                text = sentence(f"{item.noun} is {_said(cells[place])}", "mend that cell")
                raise _WrongError(text)
            one = _number(item, cells[place])
        except _WrongError as error:
            wrong.append(f"place {place + 1}: {error}")
            continue
        values.append(one.si)
        unit = unit or one.unit
    if wrong:
        raise _WrongError("\n".join(wrong))
    return _Read(values, unit)
