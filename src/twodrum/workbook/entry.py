"""What may be typed into an input: one rule for each, as a spreadsheet's validation says it.

The builder writes the rules, the filler compares those of a book with them.
Limits are read by number from two named columns of Units, so that they follow the unit that
the office picks and stay plain rules in a book that a spreadsheet program has saved.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import dataclass, replace

from ..engine.model import Constant, Field, Model
from ..units import KINDS, UNIT_TABLE, WHOLE, from_si, said
from .layout import choice_list, unit_choices, unit_list

FROM_NAME, TO_NAME, GAP_NAME = "limits_from", "limits_to", "limits_gap"
TEXT_LENGTH = 200
# The last minute of a day: a spreadsheet's time of day is a share of the day.
LAST_MINUTE = "0.999988425925926"
NOT_POSSIBLE = "Not possible here"
# What a spreadsheet shows of an error text, and of a prompt.
ERROR_LETTERS, PROMPT_LETTERS = 225, 255


@dataclass(frozen=True)
class Rule:
    """One validation; in a formula of the type "custom", ``{cell}`` is the first cell it is for."""

    type: str
    first: str
    second: str = ""
    operator: str = ""
    error: str = ""
    error_title: str = NOT_POSSIBLE
    prompt_title: str = ""
    prompt: str = ""
    allow_blank: bool = True
    stop: bool = True

    @property
    def limits(self) -> tuple[str, str, str, str]:
        """What makes a value possible or not; all else is words."""
        return self.type, self.operator, self.first, self.second

    def renamed(self, formula: Callable[[str], str]) -> Rule:
        """The same where our names are called otherwise."""
        return replace(self, first=formula(self.first), second=formula(self.second))


def rule_of(item: Field, key: str, place: int, unit: str) -> Rule:
    """The rule of one input, whose limits stand at a place among those of Units.

    ``unit`` is the one that they are said in first.
    """
    title, prompt = _prompt(item, key)
    return replace(_bare_rule(item, place, unit), prompt_title=title, prompt=prompt)


def _bare_rule(item: Field, place: int, unit: str) -> Rule:
    if item.kind in KINDS:
        low, high, gap = (f"INDEX({name},{place})" for name in (FROM_NAME, TO_NAME, GAP_NAME))
        error = _limits_said(item, unit)
        if item.kind == "share":
            inside = f"{{cell}}>={low},{{cell}}<={high},OR({{cell}}=0,{{cell}}>={gap})"
            return Rule("custom", f"AND(ISNUMBER({{cell}}),{inside})", error=error)
        if item.kind == "time":
            inside = f"{{cell}}>={low},{{cell}}<={high},{no_time_of_day('{cell}')}"
            return Rule("custom", f"AND(ISNUMBER({{cell}}),{inside})", error=error)
        kind = "whole" if item.kind in WHOLE else "decimal"
        return Rule(kind, low, high, "between", error=error)
    if item.kind == "date":
        error = "A date is wanted, such as 2026-11-25."
        return Rule("date", f"{item.least:.0f}", f"{item.most:.0f}", "between", error=error)
    if item.kind == "clock":
        error = "A time of day is wanted, such as 08:30."
        return Rule("time", "0", LAST_MINUTE, "between", error=error)
    if item.offered[0]:
        error = "This name is not among those offered; it may stand."
        name = offered_name(*item.offered)
        return Rule("list", name, error=error, error_title="Not on the list", stop=False)
    if item.kind == "text":
        error = f"At most {TEXT_LENGTH} letters."
        return Rule("textLength", f"{TEXT_LENGTH}", "", "lessThanOrEqual", error=error)
    error = "Pick a word from the list: Alt and arrow down opens it."
    return Rule("list", choice_list(item.kind), error=error, error_title="Not on the list")


def unit_rule(kind: str) -> Rule:
    """The rule of a cell in which a unit of a kind is picked."""
    units = ", ".join(KINDS[kind].unit_texts)
    error = f"Pick one of: {units}"[:ERROR_LETTERS]
    return Rule(
        "list", unit_list(kind), error=error, error_title="Not on the list", allow_blank=False
    )


def offered_name(table: str, column: str) -> str:
    """Name of a column that offers words to pick from."""
    return f"{table}_{column}_offered"


MINUTES_OF_DAY, SHORT_DECIMALS, MINUTE_DECIMALS = 1440, 3, 6
ENTRY_CONSTANTS = (
    Constant("minutes_of_day", MINUTES_OF_DAY, "min", "24 hours of 60 minutes"),
    Constant("short_decimals", SHORT_DECIMALS, "places", "our choice: a time with more is none"),
    Constant("minute_decimals", MINUTE_DECIMALS, "places", "our choice: a cell keeps 15 digits"),
)


def no_time_of_day(cell: str) -> str:
    """Whether a number is short or no whole minutes of a day: 16:00 is 0.6667 of a day."""
    minutes = f"ROUND({cell}*minutes_of_day,minute_decimals)"
    return f"OR(ROUND({cell},short_decimals)={cell},MOD({minutes},1)>0)"


def is_time_of_day(number: float) -> bool:
    """The same in Python, the other way round."""
    whole = round(number * MINUTES_OF_DAY, MINUTE_DECIMALS) % 1 == 0
    return whole and round(number, SHORT_DECIMALS) != number


def _prompt(item: Field, key: str) -> tuple[str, str]:
    """A prompt lies over what stands below it: only where no note stands beside the input."""
    if "." not in key or not item.guide:
        return "", ""
    blank = "" if item.default is None else f" Blank: {item.reason}."
    return item.label[:32], f"{item.guide}{blank}"[:PROMPT_LETTERS]


def _limits_said(item: Field, unit: str) -> str:
    """The limits in the unit picked, and in the other system's where that is another one."""
    other = item.us if item.us and unit != item.us else ""
    units = [unit, other or (KINDS[item.kind].us if unit != KINDS[item.kind].us else "")]
    if unit not in (item.metric, KINDS[item.kind].metric):
        units[1] = item.metric or KINDS[item.kind].metric
    first, *rest = [_range_said(item, text) for text in dict.fromkeys(units) if text]
    limits = first + (f" ({rest[0]})" if rest and unit_choices(item) else "")
    if item.kind == "share":
        example = "20 for 20 %, without the sign" if unit == "%" else "0.2 for 20 %"
        return f"Type {example}: {limits}. With the unit %, less than 1 is surely not meant."
    whole = "whole number" if item.kind in WHOLE else "number"
    text = f"A {whole} is wanted, {limits}."
    if unit_choices(item):
        text += " The unit stands in its own cell."
    if item.kind == "time":
        text += " 1.5 h is 1.5, not 1:30."
    return text[:ERROR_LETTERS]


def _range_said(item: Field, unit: str) -> str:
    low, high = (from_si(bound, item.kind, unit) for bound in (item.least, item.most))
    return f"from {said(low, unit).removesuffix(unit).strip()} to {said(high, unit)}"


@dataclass(frozen=True)
class Entry:
    """One input of a workbook: its declaration, its key, and the table it is a column of."""

    item: Field
    key: str
    table: str = ""


def entries(model: Model) -> Iterator[Entry]:
    """Every input that the office types."""
    for item in model.fields():
        yield Entry(item, item.name)
    for table in model.tables:
        if not table.keys:
            for item in table.fields:
                yield Entry(item, f"{table.name}.{item.name}", table.name)


# A number keeps this format whatever is typed: in the general one 20% or 8/12 leaves its own
# format behind, and the next number is taken for a percentage or a date.
FIXED_FORMAT = "General;-General"


def entry_format(kind: str) -> str:
    """Number format of an input; hours stay general, so that 16:00 is seen for what it is."""
    if kind == "date":
        return "yyyy-mm-dd"
    if kind == "clock":
        return "hh:mm"
    return FIXED_FORMAT if kind in KINDS and kind != "time" else "General"


def default_unit(item: Field, system: str = "metric") -> str:
    """The unit of an input in a system; "" where it is no quantity."""
    return item.unit(system) if item.kind in UNIT_TABLE else ""
