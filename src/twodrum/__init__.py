"""Quantities, price and proof for sprayed two-component linings, in spreadsheets.

From Python: `call` and `functions` for worksheet functions; `new`, `check`, `fill`, `issue`,
`accept`, `choose` and `month` for workbooks. They take paths as texts and give plain data: texts,
numbers, lists, dicts.
"""

from __future__ import annotations

TYPE_CHECKING = False
if TYPE_CHECKING:
    from typing import Any

__version__ = "0.22.0"
__all__ = ["accept", "call", "check", "choose", "fill", "functions", "issue", "month", "new"]


def call(name: str, *given: Any) -> Any:
    """A worksheet function from Python; see `twodrum.worksheet.call.call`."""
    from .worksheet.call import call as worksheet_call

    return worksheet_call(name, *given)


def functions() -> list[str]:
    """Names of all worksheet functions, by family."""
    from .catalogue import FUNCTIONS

    return [function.name for function in FUNCTIONS]


def check(path: str) -> dict[str, Any]:
    """What a job says: problems, results by name, tables and studies; nothing is written.

    As `twodrum check --json` gives it: each result with its value in the unit on the sheet,
    that unit, its value in SI, why it is refused, and where it comes from. A file that can't
    be read has its reason under "refused".
    """
    from pathlib import Path

    from .commands.fill import check_file
    from .commands.report import as_json

    return as_json(check_file(Path(path)))


def fill(path: str, out: str | None = None) -> dict[str, Any]:
    """Fill a job in place, or into another file; the same data as `check`.

    "changed" says whether anything was to be written.
    """
    from pathlib import Path

    from .commands.fill import fill_file
    from .commands.report import as_json

    filled = fill_file(Path(path), None if out is None else Path(out))
    return {**as_json(filled), "changed": filled.changed}


def issue(path: str) -> dict[str, Any]:
    """Issue the quote of a job as a revision; the same data as `check`, and "revision", "said".

    What is missing stands under "problems", and why nothing was written under "refused".
    """
    from datetime import date

    from .commands.deal import Deal

    return _dealt(path, Deal(date.today(), issue=True))


def accept(path: str, revision: int = 0, withdraw: bool = False) -> dict[str, Any]:
    """Accept a revision as it was issued, 0 the last one, or withdraw that; as `issue`."""
    from datetime import date

    from .commands.deal import Deal

    accepted = None if withdraw else revision
    return _dealt(path, Deal(date.today(), accept=accepted, withdraw=withdraw))


def choose(path: str, option: str) -> dict[str, Any]:
    """Make an option of a job the job itself, by its number or its words; as `issue`."""
    from datetime import date

    from .commands.deal import Deal

    return _dealt(path, Deal(date.today(), option=option))


def _dealt(path: str, deal: Any) -> dict[str, Any]:
    from pathlib import Path

    from .commands.fill import fill_file
    from .commands.report import as_json

    filled = fill_file(Path(path), deal=deal)
    return {**as_json(filled), "revision": filled.revision, "said": filled.said}


def new(
    path: str,
    office: str | None = None,
    units: str = "metric",
    parts: tuple[str, ...] = (),
    **picks: str,
) -> dict[str, Any]:
    """Make a job, with what was picked of an office: system, machine, crew, rates by name.

    It has the quote, and of "day", "proof" and "account" the ``parts`` that are named.
    ValueError says why none was made: the file is there already, a name is not in the office.
    """
    from pathlib import Path

    from .books.parts import PARTS, with_needed
    from .commands.new import new_job

    unknown = sorted(picks.keys() - {"system", "machine", "crew", "rates"})
    if unknown:
        raise TypeError(f"new() takes system, machine, crew and rates, not {', '.join(unknown)}")
    if not set(parts) <= set(PARTS):
        raise ValueError(f"parts are of {', '.join(PARTS)}, not {', '.join(parts)}")
    named = with_needed(("quote", *parts))
    typed = new_job(Path(path), None if office is None else Path(office), picks, units, parts=named)
    return {
        "file": str(path),
        "picked": list(typed.picked),
        "problems": [{"where": p.where, "text": p.text} for p in typed.problems],
    }


def month(folder: str, out: str | None = None, units: str = "metric") -> dict[str, Any]:
    """Roll the jobs of a folder up into a month workbook; what it found, in words and rows.

    ValueError says why none was made: no folder, no workbook in it, more than there is room for.
    """
    from pathlib import Path

    from .commands.month import roll_up
    from .commands.report import as_json

    rolled = roll_up(Path(folder), Path(out) if out else Path(folder) / "month.xlsx", system=units)
    assert rolled.filled is not None
    return {**as_json(rolled.filled), "said": [*rolled.notes, *rolled.lines]}
