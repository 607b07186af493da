"""What a person reads about the worksheet functions: lists, explanations, wizard texts."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

from ..catalogue import CHOICES, FUNCTIONS, Argument, Function
from ..catalogue.declaration import docstring_section
from ..units import KINDS
from .call import Cell, Refused, Rows, answer, reasons_of, units_of
from .cells import default_unit, is_number


@dataclass(frozen=True)
class Special:
    """A worksheet function that is about the others: name, help, (argument, label, text)."""

    name: str
    help: str
    arguments: tuple[tuple[str, str, str], ...]


# Kinds that only count.
PLAIN_WORDS = "number money count people passes days drums sets ratio factor decimals"
PLAIN = tuple(PLAIN_WORDS.split())

SPECIALS = (
    Special(
        "TD_WHY",
        "Says what to mend in a call that gives #N/A.",
        (
            ("function_name", "function name", 'name of the function, such as "TD_DEW_POINT"'),
            ("given", "arguments", "the same arguments as in the call"),
        ),
    ),
    Special(
        "TD_CONVERT",
        "Gives a number in another unit of the same kind.",
        (
            ("value", "value", "a number"),
            ("unit", "unit", 'its unit, such as "mil"'),
            ("wanted_unit", "wanted unit", 'another one of that kind, such as "mm"'),
        ),
    ),
)


def number_help(kind: str) -> str:
    """What a number of a kind may be in a cell."""
    unit = default_unit(kind)
    if kind == "share":
        return 'a fraction such as 0.7, or a text such as "70 %"'
    if kind in KINDS and len(KINDS[kind].units) > 1:
        return f"a number in {unit}, or a text with one of: {', '.join(KINDS[kind].unit_texts)}"
    return f"a number{_in(kind)}"


def argument_help(item: Argument) -> str:
    """What one argument may be."""
    if item.kind == "truth":
        text = "TRUE or FALSE"
    elif item.kind in CHOICES:
        text = f"one of: {', '.join(CHOICES[item.kind])}"
    else:
        text = number_help(item.kind)
    if item.series:
        text = f"a range; each {text}"
    return f"{text}; may be left out" if item.optional else text


def result_help(function: Function) -> str:
    """What the result is, and in which unit it comes."""
    if function.parts:
        parts = (f"{part.noun.strip()}{_in(part.kind)}" for part in function.parts)
        return f"unit of the result; without one: {', '.join(parts)}"
    if function.kind not in KINDS:
        return "no unit is wanted"
    if len(KINDS[function.kind].units) == 1:
        return f"no unit is wanted, it is a number{_in(function.kind)}"
    units = ", ".join(KINDS[function.kind].unit_texts)
    return f"unit of the result, one of: {units}; with SI plain numbers are in SI too"


def _in(kind: str) -> str:
    return f" in {default_unit(kind)}" if kind in KINDS and kind not in PLAIN else ""


def result_words(function: Function) -> str:
    """What a call fills its cells with."""
    if function.parts:
        parts = ", ".join(f"{part.noun.strip()}{_in(part.kind)}" for part in function.parts)
        text = f"a row of {len(function.parts)}: {parts}"
    elif function.kind == "truth":
        text = "1 for yes, 0 for no"
    elif function.kind == "text":
        text = "a text"
    else:
        text = f"a number{_in(function.kind)}"
    return f"for each value of the series {text}" if function.listed else text


def explained(function: Function) -> str:
    """One function for a person at a terminal."""
    call = f"{function.name}({', '.join(item.name for item in function.arguments)}, result unit)"
    lines = [call, f"  {function.help}", "", f"  {function.equation}", "", "Arguments"]
    for item in function.arguments:
        lines.append(f"  {item.name}: {argument_help(item)}")
    lines += ["Result", f"  {result_words(function)}; {result_help(function)}"]
    valid = docstring_section(function.call, "Valid for").replace("`", "")
    if valid:
        lines += ["Valid for", f"  {valid}"]
    lines += ["Source", f"  {function.source}", "Example", f"  ={example_call(function)}"]
    rows, units = answer_of_example(function)
    shown = ("  ".join(in_words(c, u) for c, u in zip(row, units)) for row in rows)
    lines.append(f"  gives {'; '.join(shown)}")
    return "\n".join(lines)


def example_unit(function: Function) -> str:
    """The unit in which the example shows its first value; empty where it needs none."""
    words = function.example[1].split("; ")[0].split(" ", 1)
    kind = function.kinds[0]
    return words[1] if kind in KINDS and len(words) > 1 and len(KINDS[kind].units) > 1 else ""


def example_call(function: Function) -> str:
    """The example as it stands in a cell, with the unit of its result."""
    arguments = []
    for item, text in zip(function.arguments, function.example[0]):
        bare = not text or item.kind == "truth" or (is_number(text) and item.kind not in CHOICES)
        if bare and (item.kind not in KINDS or len(KINDS[item.kind].units) == 1):
            arguments.append(text)
        else:
            arguments.append(_in_quotes(text))
    unit = example_unit(function)
    if unit:
        arguments += [""] * (len(function.arguments) - len(arguments)) + [_in_quotes(unit)]
    return f"{function.name}({','.join(arguments)})"


def _in_quotes(text: str) -> str:
    return '"' + text.replace('"', '""') + '"'


def answer_of_example(function: Function) -> tuple[Rows, list[str]]:
    """What the example gives, and in which units."""
    given: list[Any] = []
    for text in function.example[0]:
        if text in ("TRUE", "FALSE", ""):
            given.append({"TRUE": True, "FALSE": False}.get(text))
        else:
            given.append(float(text) if is_number(text) else text)
    given += [None] * (len(function.arguments) - len(given)) + [example_unit(function) or None]
    return answer(function.name, given), units_of(function, given)


def explained_special(special: Special) -> str:
    """A function about the others for a person at a terminal."""
    call = f"{special.name}({', '.join(label for _, label, _ in special.arguments)})"
    lines = [call, f"  {special.help}", "", "Arguments"]
    lines += [f"  {label}: {text}" for _, label, text in special.arguments]
    return "\n".join(lines)


def listed() -> str:
    """Every function, by category, a line each."""
    lines = []
    for category in dict.fromkeys(function.category for function in FUNCTIONS):
        lines.append(category)
        lines += [f"  {f.name}  {f.help}" for f in FUNCTIONS if f.category == category]
    lines.append("About the others")
    lines += [f"  {special.name}  {special.help}" for special in SPECIALS]
    return "\n".join(lines)


def typed(text: str) -> Any:
    """A value typed at a terminal: a number where it is one, else the text."""
    if not text.strip():
        return None
    return float(text) if is_number(text) and "_" not in text else text


def in_words(cell: Cell, unit: str) -> str:
    """A result as "14.3592 °C"."""
    if not isinstance(cell, float):
        return str(cell)
    unit = "" if unit in ("–", "fraction") else unit
    return f"{cell:.12g} {unit}".strip()


def answer_data(rows: Rows, units: list[str]) -> dict[str, Any]:
    """A result for a program: rows of values with their units, None where one is refused."""
    return {
        "rows": [[None if isinstance(cell, Refused) else cell for cell in row] for row in rows],
        "units": units,
        "problems": reasons_of(rows),
    }


def as_data(function: Function) -> dict[str, Any]:
    """One function for a program."""
    return {
        "name": function.name,
        "category": function.category,
        "help": function.help,
        "equation": function.equation,
        "source": function.source,
        "arguments": [
            {
                "name": item.name,
                "kind": item.kind,
                "unit": default_unit(item.kind),
                "optional": item.optional,
                "series": item.series,
                "choices": list(CHOICES.get(item.kind, ())),
            }
            for item in function.arguments
        ],
        "result": [
            {"name": part.name.rstrip("_"), "kind": part.kind, "unit": default_unit(part.kind)}
            for part in (function.parts or (Argument("result", function.kind),))
        ],
        "listed": function.listed,
        "example": {"arguments": list(function.example[0]), "expected": function.example[1]},
    }
