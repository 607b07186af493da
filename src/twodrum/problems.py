"""Problems: where, what was found, what is expected, how to mend it; told all at once."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass

PROBLEM = "problem"
WARNING = "warning"

# What each code stands for. A code never changes its meaning; one that goes is not given again.
CODES: Mapping[str, str] = {
    # What was typed.
    "missing": "an input that is needed is blank",
    "no-number": "something else stands where a number is wanted",
    "no-text": "something else stands where a text is wanted",
    "no-result": "a formula typed in an input gives an error, or has no result yet",
    "out-of-range": "a number, date or time lies outside what is possible",
    "not-whole": "a part of a whole number where things are counted",
    "tiny-percent": "a share below 1 % that was surely meant as a fraction of 1",
    "shown-otherwise": "a cell shows another number than it holds",
    "unknown-word": "a word that its list does not have",
    "unknown-unit": "a unit that its list does not have",
    "wrong-order": "a low value stands above its high one, or a set point above its limit",
    "repeated": "a name that may stand in one row only stands in two",
    "no-row": "a row that is needed is not there",
    "below-table": "rows stand below their table and are not read",
    "quote-lacks": "what a quote needs before it is issued is blank or not worked out",
    "accepted-damaged": "a part of the accepted quote is gone or is no number",
    # What belongs to the workbook.
    "lost": "a name, table or column of the workbook is lost",
    "formula-gone": "something else stands where a live formula belongs",
    "label-changed": "a word or number of the workbook itself was typed over",
    "not-free": "a cell that is filled holds a formula, or is merged",
    "name-on-input": "a name of a result points at an input",
    "older-book": "an older version made the workbook: what it lacks, or what is today's now",
    # What was worked out.
    "impossible": "values that are possible by themselves are not possible together",
    "too-large": "a result is too large to be a number",
    "not-worked-out": "a sheet of results could not be worked out",
    "too-many-rows": "there are more rows to show than room for them",
    "bad-reading": "a reading, a level or a time that cannot be true",
    # Notes.
    "put-back": "a name, format, word, formula or rule was put right",
    "taken-in": "rows that were typed below a table were taken into it",
    "unit-changed": "a unit was changed and its number stayed",
    "other-pick": "data still belong to what was picked before",
    "unlike-shelf": "a material has other data than on Shelf",
    "other-lining": "a surface sprayed with another lining than its system asks for",
    "recoat": "a coat that came too soon or too late after the one below",
    "unknown-surface": "a surface that Areas does not have",
    "unused-size": "a value that the shape, or the material, does not use",
    "unused-system": "a further system is described and no area names it",
    "unused-material": "a material that no area asks for",
    "lacks-material": "a system needs a lining or a coat that Materials does not have",
    "unusual": "a value that is possible and worth a second look",
    "odd-option": "an option that changes nothing, passes a limit or has no words",
    "outside-data-sheet": "a value outside what the data sheet allows, or that will pass it",
    "power-short": "the supply carries less than all loads together",
    "hose-never-warm": "the hose at rest never reaches its temperature",
    "outside-model": "a computed value rests on more than is known",
    "reading": "a reading outside what was asked, or that should be looked at",
    "off-ratio": "the mix is off its ratio by more than the uncertainty of what was measured",
    "level-not-set": "a level was not set right after a drum change",
    "short-drum": "a new drum starts below full",
    "drum": "a drum out of date, not warmed, not stirred, or noted in a way that cannot be",
    "disagree": "what tells of the used volume does not agree",
    "film-fails": "the film of a surface fails its rule",
    "pull-fails": "a pull-off test below what was asked",
    "cannot-learn": "a warm-up from which nothing can be learned, and why",
    "warm-up-off": "a warm-up took another time than was planned",
    "left-out": "a coat of a second system for which a job has no room",
    "store-differs": "the store beside a month has other jobs than the month counts",
    "no-processing": "the office has no processing data for the system that was picked",
}


@dataclass(frozen=True)
class Problem:
    """One thing to mend: its code, "Sheet!Cell" and "found; expected; mend"."""

    code: str
    where: str
    text: str
    severity: str = PROBLEM
    # Where it stands in the workbook, so that problems come in the order of the sheets.
    position: tuple[int, int, int] = (0, 0, 0)

    def __post_init__(self) -> None:
        assert self.code in CODES, self.code

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
