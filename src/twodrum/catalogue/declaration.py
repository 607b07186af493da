"""What one worksheet function is: declared once, read by every host."""

from __future__ import annotations

import inspect
from collections.abc import Callable
from dataclasses import dataclass
from typing import Any


@dataclass(frozen=True)
class Argument:
    """One argument: its kind of quantity, and whether it may be left out."""

    name: str
    kind: str
    optional: bool = False

    @property
    def noun(self) -> str:
        return self.name.replace("_", " ")


@dataclass(frozen=True)
class Function:
    """One worksheet function.

    ``native`` is the same formula in the words of a spreadsheet, on SI values, with
    ``{argument}`` where a cell goes; ``guards`` are the conditions under which the
    Python function refuses and the native one would not do so by itself.
    """

    name: str
    category: str
    call: Callable[..., Any]
    arguments: tuple[Argument, ...]
    kind: str
    native: str = ""
    guards: tuple[str, ...] = ()
    example: tuple[tuple[str, ...], str] = ((), "")

    @property
    def help(self) -> str:
        return _docstring(self.call).split("\n", 1)[0]

    @property
    def equation(self) -> str:
        return " ".join(_docstring(self.call).split("\n\n")[1].split())

    @property
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
    """Arguments from "area:area film_thickness:thickness agreed_area:area?"."""
    parsed = []
    for word in text.split():
        name, kind = word.split(":")
        parsed.append(Argument(name, kind.rstrip("?"), kind.endswith("?")))
    return tuple(parsed)
