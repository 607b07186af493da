"""Guards: a value that cannot be true is refused before anything is computed."""

from __future__ import annotations

import math
from collections.abc import Iterable, Sequence
from typing import Any

# An inclusive bound is kept within this share of itself: 7 ft times 11 ft is 77 ft² only nearly.
TOLERANCE = 1e-12
# No quantity of a job is larger in SI, none above 0 is smaller: what is would only overflow.
LARGEST, SMALLEST = 1e30, 1e-30


class InputError(ValueError):
    """A refused value, in pieces; the layer that knows the reader's unit words it.

    Attributes
    ----------
    argument : str
        Name of the refused argument.
    value : object
        What was given.
    requirement : str
        What must hold: "more than", "at least", "less than", "at most",
        "a finite number" or "one of".
    bound : float, tuple of str or None
        The bound of the requirement, in SI.
    """

    def __init__(self, argument: str, value: Any, requirement: str, bound: Any = None) -> None:
        self.argument = argument
        self.value = value
        self.requirement = requirement
        self.bound = bound
        super().__init__(argument, value, requirement, bound)

    def __str__(self) -> str:
        bound = "" if self.bound is None else f" {self.bound}"
        return f"{self.argument} is {self.value!r}; it must be {self.requirement}{bound}"


def require(
    argument: str,
    value: float,
    *,
    above: float | None = None,
    at_least: float | None = None,
    below: float | None = None,
    at_most: float | None = None,
) -> None:
    """Refuse a value that is not a finite number within its bounds."""
    number = isinstance(value, (int, float)) and not isinstance(value, bool)
    if not number or not math.isfinite(value):
        raise InputError(argument, value, "a finite number")
    if abs(value) > LARGEST:
        bound = math.copysign(LARGEST, value)
        raise InputError(argument, value, "at most" if value > 0 else "at least", bound)
    if above is not None and not value > above:
        raise InputError(argument, value, "more than", above)
    if above == 0 and value < SMALLEST:
        raise InputError(argument, value, "at least", SMALLEST)
    if at_least is not None and value < at_least - TOLERANCE * abs(at_least):
        raise InputError(argument, value, "at least", at_least)
    if below is not None and not value < below:
        raise InputError(argument, value, "less than", below)
    if at_most is not None and value > at_most + TOLERANCE * abs(at_most):
        raise InputError(argument, value, "at most", at_most)


def require_one_of(argument: str, value: object, allowed: Iterable[str]) -> None:
    """Refuse a word that is not on the list."""
    words = tuple(allowed)
    if value not in words:
        raise InputError(argument, value, "one of", words)


def require_series(name: str, values: Sequence[float], at_least: int = 2) -> None:
    """Refuse a series with too few values or with one that is no number."""
    require(f"number of {name}", len(values), at_least=at_least)
    for value in values:
        require(name, value)


def ceiling(value: float, guard: float) -> int:
    """Smallest whole number not below ``value - guard``.

    The guard keeps float noise from opening one more drum; it is stated where
    it is used and stands in one cell of the workbook.
    """
    return math.ceil(value - guard)
