"""Arguments of worksheet functions from texts, as hosts will read them."""

from typing import Any

from twodrum.catalogue import BY_CALL, CHOICES, Argument, Function
from twodrum.units import KINDS, UNIT_TABLE, from_si, parse


def argument(item: Argument, text: str) -> Any:
    """An argument in SI from a text with its unit; "5.1 4.7 MPa" is a series of two."""
    kind = item.kind
    if kind == "truth":
        return {"TRUE": True, "FALSE": False}[text]
    if kind in CHOICES or kind not in KINDS:
        return text
    if not item.series:
        return float(text) if kind == "factor" else parse(text, kind)
    words = text.split()
    unit = "" if _is_number(words[-1]) else words.pop()
    return [parse(f"{word} {unit}".strip(), kind) for word in words]


def _is_number(text: str) -> bool:
    try:
        float(text)
    except ValueError:
        return False
    return True


def call(name: str, texts: dict[str, str]) -> Any:
    """A function of the catalogue on texts; its result, or one part of it, in SI.

    "combined.value" is a part, "weighted_means.20" the twentieth of a list,
    "cumulative_sums.20.upper" a part of it.
    """
    formula, *path = name.split(".")
    function = BY_CALL[formula]
    items = {item.name: item for item in function.arguments}
    found = function.run({key: argument(items[key], text) for key, text in texts.items()})
    for step in path:
        found = found[int(step) - 1] if step.isdigit() else function.part(found, step)
    return found


def kind_of(function: Function, path: list[str]) -> str:
    """Kind of a result, or of the part that a path names."""
    parts = {item.name: item.kind for item in function.parts}
    return parts[path[-1]] if path and not path[-1].isdigit() else function.kind


def in_unit(name: str, value: Any, unit: str) -> float:
    """A result of a function in a unit of its kind."""
    formula, *path = name.split(".")
    kind = kind_of(BY_CALL[formula], path)
    if kind == "truth":
        return float(value)
    if unit == "fraction" or unit in UNIT_TABLE[kind]:
        return from_si(float(value), kind, unit)
    raise AssertionError(f"{unit} is no unit of {kind}")
