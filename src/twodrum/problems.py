"""Problems: where, what was found, what is expected, how to mend it; told all at once."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass

PROBLEM = "problem"
WARNING = "warning"


@dataclass(frozen=True)
class Problem:
    """One thing to mend: "Sheet!Cell" and "found; expected; mend"."""

    where: str
    text: str
    severity: str = PROBLEM
    # Where it stands in the workbook, so that problems come in the order of the sheets.
    position: tuple[int, int, int] = (0, 0, 0)

    def __str__(self) -> str:
        return f"{self.where}: {self.text}"


def sentence(found: str, expected: str, mend: str = "") -> str:
    """The three parts of a problem in their fixed order."""
    return "; ".join(part for part in (found, expected, mend) if part)


def with_capital(text: str) -> str:
    """A text that begins a sentence; all but its first letter stays as it is."""
    return text[:1].upper() + text[1:]


def with_small(text: str) -> str:
    """A label inside a sentence; all but its first letter stays as it is."""
    return text[:1].lower() + text[1:]


def count_problems(problems: Iterable[Problem]) -> int:
    """How many are problems and not just warnings."""
    return sum(problem.severity == PROBLEM for problem in problems)


def in_order(problems: Iterable[Problem]) -> list[Problem]:
    """Each problem once, in the order of the sheets, real problems before warnings."""
    unique = {(problem.where, problem.text): problem for problem in problems}
    return sorted(
        unique.values(),
        key=lambda problem: (problem.severity != PROBLEM, problem.position, problem.where),
    )
