"""What a person saw in Excel, as typed beside its steps in the workbook of the functions."""

from __future__ import annotations

import re
from pathlib import Path

from .. import __version__
from ..books.excel_steps import FIRST, FUNCTIONS, SHEET, STEPS
from ..problems import sentence
from ..xlsx.book import Book
from ..xlsx.package import PackageError
from .installed import GOOD, HINT, MEND, Finding

# The part in which a program says what it is.
PROGRAM = "docProps/app.xml"


def steps_tried(path: Path) -> list[Finding]:
    """What a person saw in Excel, as typed into the workbook of the functions.

    PackageError says why it can't be read, or that it is another workbook.
    """
    book = Book.open(path)
    if not {SHEET, FUNCTIONS} <= book.sheets.keys():
        raise PackageError(
            f"it has no sheet {SHEET}; take functions.xlsx of {__version__} from workbook_templates"
        )
    said = book.package.read(PROGRAM).decode(errors="replace") if book.package.has(PROGRAM) else ""
    name, number = (
        "".join(re.findall(f"<{tag}>([^<]*)</{tag}>", said))
        for tag in ("Application", "AppVersion")
    )
    agree = book.cell(FUNCTIONS, 2, 1)
    found = [Finding("saved by", HINT, f"{name or 'a program that does not say'} {number}".strip())]
    found.append(Finding("functions", HINT, str(agree.value or "not calculated yet")))
    for count, (what, seen) in enumerate(STEPS, 1):
        word, instead = (book.cell(SHEET, FIRST + count - 1, column).value for column in (4, 5))
        state = {"yes": GOOD, "no": MEND}.get(str(word or "").strip().casefold(), HINT)
        text = {GOOD: "seen", MEND: "not seen", HINT: "not tried"}[state]
        if word and state == HINT:
            state, text = MEND, sentence(f"Seen is '{word}'", "yes or no is wanted")
        text += f": {seen}" if state == MEND else ""
        found.append(Finding(f"step {count}", state, f"{text}{_instead(instead)} ({what})"))
    return found


def _instead(words: object) -> str:
    return f" What stood there: {words}" if words else ""
