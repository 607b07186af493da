"""What one worksheet function is: declared once, read by every host."""

from __future__ import annotations

import inspect
from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass
from functools import cached_property
from typing import Any


@dataclass(frozen=True)
class Argument:
    """One argument: its kind of quantity, whether it may be left out, whether it is a series."""

    name: str
    kind: str
    optional: bool = False
    series: bool = False

    @property
    def noun(self) -> str:
        return self.name.replace("_", " ")


@dataclass(frozen=True)
class Function:
    """One worksheet function.

    ``native`` is the same formula in the words of a spreadsheet, on SI values, with
    ``{argument}`` where a cell goes; ``guards`` are the conditions under which the
    Python function refuses and the native one would not do so by itself.
    A result of several values names its ``parts``; a ``listed`` one has such a result for
    every value of its series.
    """

    name: str
    category: str
    call: Callable[..., Any]
    arguments: tuple[Argument, ...]
    kind: str
    native: str = ""
    guards: tuple[str, ...] = ()
    example: tuple[tuple[str, ...], str] = ((), "")
    parts: tuple[Argument, ...] = ()
    listed: bool = False
    # Series that belong together place by place; left out: all of them do.
    pairs: tuple[tuple[str, ...], ...] | None = None
    # Whether a blank inside a series is told instead of passed over.
    whole: bool = False

    def run(self, given: Mapping[str, Any]) -> Any:
        """The formula on SI values by argument; None leaves an optional one out."""
        left_out = [
            name for name, value in given.items() if value is None and name in self.with_default
        ]
        if not left_out:
            return self.call(**given)
        return self.call(**{k: v for k, v in given.items() if k not in left_out})

    def run_on(self, given: Sequence[Any]) -> Any:
        """The same on values in the order of the arguments."""
        named = dict(zip(self.names, given))
        return self.run(named) if None in given else self.call(**named)

    @cached_property
    def names(self) -> tuple[str, ...]:
        """The names of its arguments."""
        return tuple(argument.name for argument in self.arguments)

    @cached_property
    def with_default(self) -> frozenset[str]:
        """The optional arguments that the formula itself has a value for."""
        parameters = inspect.signature(self.call).parameters
        empty = inspect.Parameter.empty
        return frozenset(
            item.name
            for item in self.arguments
            if item.optional and parameters[item.name].default is not empty
        )

    @cached_property
    def groups(self) -> tuple[tuple[str, ...], ...]:
        """The series that belong together place by place."""
        if self.pairs is not None:
            return self.pairs
        series = tuple(item.name for item in self.arguments if item.series)
        return (series,) if series else ()

    def part(self, result: Any, name: str) -> Any:
        """One value of a result of several."""
        if hasattr(result, name):
            return getattr(result, name)
        return result[[item.name for item in self.parts].index(name)]

    def rows(self, result: Any) -> list[list[Any]]:
        """A result as the cells that it fills: a row of its parts, for a list one row each."""
        items = result if self.listed else [result]
        if not self.parts:
            return [[item] for item in items]
        return [[self.part(item, part.name) for part in self.parts] for item in items]

    @property
    def kinds(self) -> list[str]:
        """Kind of each cell of a row of the result."""
        return [part.kind for part in self.parts] or [self.kind]

    @property
    def help(self) -> str:
        return _docstring(self.call).split("\n", 1)[0]

    @property
    def equation(self) -> str:
        return " ".join(_docstring(self.call).split("\n\n")[1].split()).replace("`", "")

    @cached_property
    def source(self) -> str:
        return docstring_section(self.call, "Source").replace("`", "")

    @property
    def formula_name(self) -> str:
        return self.call.__name__


def _docstring(call: Callable[..., Any]) -> str:
    return inspect.getdoc(call) or ""


def docstring_section(call: Callable[..., Any], title: str) -> str:
    """The text under one heading of a docstring, in one line."""
    lines = _docstring(call).split("\n")
    for index, line in enumerate(lines[:-1]):
        if line == title and set(lines[index + 1]) == {"-"}:
            text: list[str] = []
            for following, after in zip(lines[index + 2 :], [*lines[index + 3 :], ""]):
                if after and set(after) == {"-"}:
                    break
                text.append(following)
            return " ".join(" ".join(text).split())
    return ""


def arguments(text: str) -> tuple[Argument, ...]:
    """Arguments from "area:area readings:thickness* agreed_area:area?"; * marks a series."""
    parsed = []
    for word in text.split():
        name, kind = word.split(":")
        parsed.append(Argument(name, kind.rstrip("?*"), "?" in kind, "*" in kind))
    return tuple(parsed)
