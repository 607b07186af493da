"""Arguments of worksheet functions from texts, as hosts will read them."""

from typing import Any

from twodrum.catalogue import BY_CALL, CHOICES
from twodrum.units import KINDS, UNIT_TABLE, from_si, parse


def argument(kind: str, text: str) -> Any:
    """An argument in SI from a text with its unit."""
    if kind in CHOICES or kind not in KINDS:
        return text
    if kind == "factor":
        return float(text)
    return parse(text, kind)


def call(name: str, texts: dict[str, str]) -> Any:
    """A function of the catalogue on texts; its result in SI."""
    function = BY_CALL[name]
    kinds = {item.name: item.kind for item in function.arguments}
    return function.call(**{key: argument(kinds[key], text) for key, text in texts.items()})


def in_unit(name: str, value: Any, unit: str) -> float:
    """A result of a function in a unit of its kind."""
    kind = BY_CALL[name].kind
    if unit == "fraction" or unit in UNIT_TABLE[kind]:
        return from_si(float(value), kind, unit)
    raise AssertionError(f"{unit} is no unit of {kind}")
