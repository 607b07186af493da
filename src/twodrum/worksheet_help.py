"""What a person reads about the worksheet functions: lists, explanations, wizard texts."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

from .catalogue import CHOICES, FUNCTIONS, Argument, Function
from .catalogue.declaration import docstring_section
from .units import KINDS
from .worksheet import Cell, Refused, Rows, default_unit


@dataclass(frozen=True)
class Special:
    """A worksheet function that is about the others: name, help, (argument, label, text)."""

    name: str
    help: str
    arguments: tuple[tuple[str, str, str], ...]


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
    return "a number"


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
        return "the result is a plain number"
    return f"unit of the result, one of: {', '.join(KINDS[function.kind].unit_texts)}"


def _in(kind: str) -> str:
    unit = default_unit(kind)
    return f" in {unit}" if kind in KINDS and unit not in ("–", "") else ""


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
    texts, expected = function.example
    written = ", ".join(f'"{text}"' for text in texts)
    lines += ["Source", f"  {function.source}", "Example", f"  ={function.name}({written})"]
    lines.append(f"  gives {expected}")
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


def typed(function: Function, index: int, text: str) -> Any:
    """A value typed at a terminal: a number where it is one, else the text."""
    if not text.strip():
        return None
    series = index < len(function.arguments) and function.arguments[index].series
    try:
        return text if series else float(text)
    except ValueError:
        return text


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
        "problems": list(
            dict.fromkeys(
                reason
                for row in rows
                for cell in row
                if isinstance(cell, Refused)
                for reason in cell.reasons
            )
        ),
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
