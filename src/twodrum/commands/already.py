"""A workbook in which nothing changed since it was filled, known without reading it."""

from __future__ import annotations

from pathlib import Path

from .. import __version__
from ..plainly import plain
from ..xlsx.marked import Mark, known_again
from ..xlsx.records import MOST_FILE

TYPE_CHECKING = False
if TYPE_CHECKING:
    from .fill import Filled

UNCHANGED = "already filled, nothing changed"


def asks_more(command: str, out: object, as_json: bool) -> bool:
    """Whether more is wanted of a workbook than that it is filled."""
    return command != "fill" or out is not None or as_json


def already(file: Path, live: bool = False) -> str | None:
    """What to say of a workbook that this version filled so; None where it has to be read."""
    try:
        # A pipe would be waited for, for ever; what is too large is refused where it is read.
        if not file.is_file() or file.stat().st_size > MOST_FILE:
            return None
        known = known_again(file.read_bytes())
    except OSError:
        return None
    if known is None or (known.version, known.live) != (__version__, live):
        return None
    said = [f"{plain(file)}: {UNCHANGED}; state {known.state}"]
    if known.notes:
        said.append(f"{known.notes} note{'s' * (known.notes > 1)} on Start")
    if known.cautions:
        said.append(f"{known.cautions} cautions on the sheet Cautions: read them first")
    return "; ".join(said)


def mark_of(filled: Filled, live: bool) -> Mark | None:
    """By what a workbook in which nothing is wrong is known again."""
    cautions = len(filled.values.studies.get("cautions", ()))
    mark = Mark(__version__, filled.state, len(filled.problems), cautions, live)
    return mark if filled.state == "OK" and not filled.problem_count else None
