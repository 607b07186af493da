"""One call of a worksheet function: what cells or a person gave in, numbers or reasons out.

Every host comes through here, so that each gives the same numbers and says the same.
A range for an argument that is one value makes an array, as a spreadsheet user expects; a
range for a series is one series.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass
from datetime import date, datetime, time, timedelta
from decimal import Decimal
from difflib import get_close_matches
from functools import lru_cache
from numbers import Real
from typing import Any, List, Union

from ..catalogue import FUNCTIONS, Function
from ..core.inputs import InputError
from ..engine.evaluate import Value, word_refusal
from ..problems import sentence
from ..units import KINDS, conversion, from_si, said, to_si
from .cells import (
    Read,
    WrongError,
    as_float,
    default_unit,
    factors,
    found_words,
    is_blank,
    listed,
    serial,
    single,
    table,
    unit_of,
)
from .others import like, plain
from .series import kept_places, series

BY_NAME: dict[str, Function] = {function.name: function for function in FUNCTIONS}
# As many reasons as a cell is read for.
MOST_REASONS = 12
# From here on whole numbers are no exact floats.
MOST_INT = 1 << 53
# Instead of a unit of the result: it and every number that is given are in SI.
SI = "SI"
# What a spreadsheet shows for a place that an array does not reach.
BEYOND = "this place lies beyond one of the ranges; ranges of one size are wanted"


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


def function_named(name: str) -> Function:
    """A worksheet function by its name, in any case; CallError where there is none."""
    found = BY_NAME.get(str(name).strip().upper())
    if found is None:
        near = get_close_matches(str(name).strip().upper(), BY_NAME, 1, 0.8)
        mend = f"; {near[0]} is near to it" if near else ""
        shown = name or "a blank name"
        raise CallError(f"{shown}: there is no such function; twodrum functions lists them{mend}")
    return found


def call(name: str, *given: Any) -> Any:
    """A worksheet function from Python: numbers, texts with units, lists for ranges.

    Parameters
    ----------
    name : str
        Such as "TD_DEW_POINT".
    given : float, str, bool, list or None
        The arguments in their order, None for one that is left out; after the last one may
        come the unit of the result. Quantities of pint and series of pandas are taken too.

    Returns
    -------
    float, str or list of list
        One value, or rows of them where a range was given or the function gives several.
        A quantity, or a series, where one was given.

    Errors
    ------
    CallError with every reason where a number is refused.

    Example
    -------
    >>> round(call("TD_DEW_POINT", 20, "70 %"), 2)
    14.36
    """
    function = BY_NAME.get(str(name).strip().upper())
    try:
        told = given if function is None else plain(function, given)
    except WrongError as wrong:
        raise CallError(f"{name}: {wrong}") from None
    rows = answer(name, told)
    reasons = reasons_of(rows)
    if reasons:
        raise CallError("\n".join(reasons))
    value = rows[0][0] if len(rows) == 1 and len(rows[0]) == 1 else rows
    return value if function is None else like(function, given, value, units_of(function, told))


def reasons_of(rows: Rows) -> list[str]:
    """Every reason why a cell of an answer is not there, once."""
    refused = [cell for row in rows for cell in row if isinstance(cell, Refused)]
    return list(dict.fromkeys(reason for cell in refused for reason in cell.reasons))


def why(name: str, given: Sequence[Any]) -> str:
    """What has to be mended in a call, or that it gives a number."""
    rows = answer(name, given)
    reasons = reasons_of(rows)
    if reasons:
        more = len(reasons) - MOST_REASONS
        return "\n".join([*reasons[:MOST_REASONS], *([f"and {more} more"] if more > 0 else [])])
    first = rows[0][0]
    gives = said(first, "").strip() if isinstance(first, float) else first
    return f"nothing to mend; it gives {gives}"


def answer(name: str, given: Sequence[Any]) -> Rows:
    """The cells that a call fills: values in the result's unit, or reasons."""
    plain = _plain(name, given) if isinstance(name, str) else None
    if plain is not None:
        return [[plain]]
    own = str(name).strip().upper()
    if own in ("TD_CONVERT", "TD_WHY"):
        return _about(own, given)
    try:
        function = function_named(name)
    except CallError as error:
        return [[Refused((str(error),))]]
    try:
        return _answer(function, given)
    except WrongError as wrong:
        return [[_refused(function, str(wrong).split("\n"))]]


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
    scales = [(item.name, item.kind == "share", *factors(item.kind)[:2]) for item in items]
    add, times, _ = factors(function.kind)
    required = sum(not item.optional for item in items)
    return _Plan(function, tuple(scales), required, add, times)


def _in_si(raw: Any, share: bool, add: float, times: float) -> float | None:
    """A plain finite number in SI; None for all else, which the long way reads."""
    if type(raw) is int and abs(raw) < MOST_INT:
        number = float(raw)
    elif type(raw) is float and math.isfinite(raw):
        number = raw
    else:
        return None
    if share:
        return None if number > 1 else number
    return (number + add) * times


def _plain(name: str, given: Sequence[Any]) -> float | None:
    """The result of a call on plain numbers in default units; None sends it the long way."""
    plan = _plan(name)
    if plan is None or not plan.required <= len(given) <= len(plan.arguments) + 1:
        return None
    values: dict[str, Any] = {}
    for raw, (argument, share, add, times) in zip(given, plan.arguments):
        value = _in_si(raw, share, add, times)
        if value is None:
            return None
        values[argument] = value
    if len(given) > len(plan.arguments) and given[-1] is not None:
        return None
    for argument, *_ in plan.arguments[len(given) :]:
        values[argument] = None
    try:
        number = float(plan.function.run(values))
    except (InputError, ArithmeticError):
        return None
    return number / plan.times - plan.add if math.isfinite(number) else None


def _about(name: str, given: Sequence[Any]) -> Rows:
    """The functions about the others, by the same way as those."""
    if name == "TD_WHY":
        return [[why(str(given[0]) if given else "", given[1:])]]
    if len(given) > 3:
        text = sentence(f"{len(given)} arguments were given", "a number and two units are wanted")
        return [[Refused((f"TD_CONVERT: {text}",))]]
    return in_unit(*given, *[None] * (3 - len(given)))


def _refused(function: Function, reasons: Iterable[str]) -> Refused:
    return Refused(tuple(f"{function.name}: {reason}" for reason in reasons))


def _answer(function: Function, given: Sequence[Any]) -> Rows:
    arguments = function.arguments
    if len(given) > len(arguments) + 1:
        raise WrongError(
            sentence(
                f"{len(given)} arguments were given",
                f"{len(arguments)} and the unit of the result are wanted",
            )
        )
    padded = [listed(raw) for raw in given]
    padded += [None] * (len(arguments) + 1 - len(given))
    wanted, told = padded.pop(), ""
    try:
        units = _result_units(function, wanted)
    except WrongError as wrong:
        units, told = _result_units(function, None), str(wrong)
    if told:
        # What else is wrong is told with it; a number in a unit that was not asked for is none.
        unit_reason = _refused(function, [told]).reasons
        return [
            [
                Refused((*(cell.reasons if isinstance(cell, Refused) else ()), *unit_reason))
                for cell in row
            ]
            for row in _answered(function, padded, units)
        ]
    return _answered(function, padded, units)


def _answered(function: Function, padded: Sequence[Any], units: Sequence[str]) -> Rows:
    arguments = function.arguments
    wide = [
        index
        for index, (item, raw) in enumerate(zip(arguments, padded))
        if not item.series and isinstance(raw, (list, tuple))
    ]
    if not wide:
        return _once(function, padded, units)
    if function.listed or function.parts:
        raise WrongError(
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
    ranges = {index: table(given[index]) for index in wide}
    quick = _quick(function, given, wide, units)
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
                here[index] = None if is_blank(rows[r][c]) else rows[r][c]
            number = quick(here) if inside and quick is not None else None
            if number is not None:
                line.append(number)
            elif inside:
                try:
                    line.append(_once(function, here, units)[0][0])
                except WrongError as wrong:
                    line.append(_refused(function, str(wrong).split("\n")))
            else:
                line.append(_refused(function, [BEYOND]))
        found.append(line)
    return found


def _quick(
    function: Function, given: Sequence[Any], wide: Sequence[int], units: Sequence[str]
) -> Callable[[Sequence[Any]], float | None] | None:
    """For places that hold plain numbers: what is the same for all is read once.

    None where nothing is the same, and from what is returned where a place has to go the long way.
    """
    plan = _plan(function.name)
    if plan is None:
        return None
    read: dict[str, Any] = {}
    in_si = SI in units
    for index, (item, raw) in enumerate(zip(function.arguments, given)):
        try:
            if index not in wide:
                read[item.name] = single(item, raw, in_si).si
        except WrongError:
            return None
    same = {k: v for k, v in read.items() if v is not None or k not in function.with_default}
    taken = [(index, *plan.arguments[index]) for index in wide]
    scales = [(*one[:3], *((0.0, 1.0) if in_si else one[3:])) for one in taken]
    add, times = (0.0, 1.0) if in_si else conversion(function.kind, units[0])
    run = function.call

    def of(here: Sequence[Any]) -> float | None:
        values = same
        for index, name, share, plus, factor in scales:
            value = _in_si(here[index], share, plus, factor)
            if value is None:
                return None
            values[name] = value
        try:
            number = float(run(**values))
        except (InputError, ArithmeticError):
            return None
        return number / times - add if math.isfinite(number) else None

    return of


def _once(function: Function, given: Sequence[Any], units: Sequence[str]) -> Rows:
    """One call on single values and series; every argument that is wrong is told."""
    wrong: list[str] = []
    read: dict[str, Read] = {}
    in_si = SI in units
    kept = kept_places(function, given, wrong)
    for item, raw in zip(function.arguments, given):
        try:
            if item.series:
                if item.name in kept or is_blank(raw):
                    read[item.name] = series(item, raw, kept.get(item.name, ()), in_si)
            else:
                read[item.name] = single(item, raw, in_si)
        except WrongError as error:
            wrong.append(str(error))
    if wrong:
        return [[_refused(function, [text for one in wrong for text in one.split("\n")])]]
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


def _worded(function: Function, error: InputError, read: dict[str, Read]) -> str:
    """A refusal in the unit in which its argument was given."""
    name = error.argument
    item = next((one for one in function.arguments if one.name == name), None)
    noun = name.replace("_", " ")
    if item is None:
        # A quantity on the way has no unit that was given; its digits end somewhere.
        return word_refusal(error, Value(name, noun, "number", "–", None, "")).replace(" –", "")
    one = read[name]
    unit = one.unit or default_unit(item.kind)
    if item.series and isinstance(one.si, list) and error.value in one.si:
        place, unit = one.places[one.si.index(error.value)]
        noun = f"{noun} at place {place}"
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
    return number if unit == SI else from_si(number, kind, unit)


def _result_units(function: Function, wanted: Any) -> list[str]:
    """The unit of each value of the result: the wanted one where it is of that kind."""
    defaults = [default_unit(kind) for kind in function.kinds]
    # A blank cell comes as 0 from a spreadsheet.
    if is_blank(wanted) or (isinstance(wanted, (int, float)) and wanted == 0):
        return defaults
    if not isinstance(wanted, str):
        raise WrongError(
            sentence(f"the unit of the result is {found_words(wanted)}", "a text is wanted")
        )
    if wanted.strip().upper() == SI:
        return [SI] * len(defaults)
    found, hit = [], False
    for kind, default in zip(function.kinds, defaults):
        text = unit_of(kind, wanted)
        hit = hit or bool(text)
        found.append(text or default)
    if not hit:
        kinds = [kind for kind in function.kinds if kind in KINDS]
        expected = KINDS[kinds[0]].wanted() if kinds else "no unit is wanted"
        raise WrongError(sentence(f"the unit of the result is '{wanted}'", expected))
    return found


def units_of(function: Function, given: Sequence[Any]) -> list[str]:
    """The unit of each value of a row of the result."""
    wanted = given[len(function.arguments)] if len(given) > len(function.arguments) else None
    try:
        return _result_units(function, wanted)
    except WrongError:
        return [default_unit(kind) for kind in function.kinds]


def in_unit(value: Any, unit: Any, wanted: Any) -> Rows:
    """A number, or each of a range, in another unit of its kind, such as 80, "mil", "mm"."""
    value = listed(value)
    if isinstance(value, (list, tuple)):
        try:
            cells = table(value)
        except WrongError as wrong:
            return [[Refused((f"TD_CONVERT: {wrong}",))]]
        return [[in_unit(cell, unit, wanted)[0][0] for cell in row] for row in cells]
    try:
        return [[_in_unit(value, unit, wanted)]]
    except WrongError as wrong:
        return [[Refused((f"TD_CONVERT: {wrong}",))]]


def _in_unit(value: Any, unit: Any, wanted: Any) -> float:
    if isinstance(value, (datetime, date, time, timedelta)):
        value = serial(value)
    if not isinstance(value, (Real, Decimal)) or isinstance(value, bool):
        raise WrongError(sentence(f"value is {found_words(value)}", "a number is wanted"))
    value = as_float(value)
    if not math.isfinite(value):
        raise WrongError(sentence(f"value is {value}", "a finite number is wanted"))
    kinds = [kind for kind in KINDS if unit_of(kind, str(unit))]
    if not kinds:
        raise WrongError(
            sentence(f"unit is {found_words(unit)}", "a unit is wanted, such as mm or psi")
        )
    for kind in kinds:
        if unit_of(kind, str(wanted)):
            number = from_si(to_si(value, kind, str(unit)), kind, str(wanted))
            if math.isfinite(number):
                return number
            raise WrongError(sentence(f"value is {value}", "a smaller number is wanted"))
    raise WrongError(sentence(f"wanted unit is {found_words(wanted)}", KINDS[kinds[0]].wanted()))
