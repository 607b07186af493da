"""An SI value as a person would type it."""

from __future__ import annotations

from typing import Any

from ..engine.model import Cell, Column, Field
from ..units import KINDS, from_si
from ..xlsx.write import Content


def in_unit(item: Field | Cell | Column, value: Any, system: str) -> Content:
    """An SI value as a person would type it in a system of units."""
    return in_chosen_unit(item, value, item.unit(system))


def in_chosen_unit(item: Field | Cell | Column, value: Any, unit: str) -> Content:
    """An SI value as a person would type it: in the unit, without float noise."""
    if item.kind not in KINDS or isinstance(value, str):
        return value  # type: ignore[no-any-return]
    number = from_si(value, item.kind, unit)
    for digits in range(1, 11):
        rounded = float(f"{number:.{digits}g}")
        if abs(rounded - number) <= 1e-12 * abs(number):
            return rounded
    return number
