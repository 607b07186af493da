"""Formulas that follow the cells they point at to where those stand now."""

from __future__ import annotations

import re
from collections.abc import Mapping

from .book import CellRead
from .scan import column_letters, parse_area
from .write import Address

# A reference in a formula, outside of texts in quotes: a sheet, and one cell.
REFERENCE = re.compile(
    r"\"[^\"]*\"|(?P<sheet>(?:'(?:[^']|'')+'|[^\W\d][\w.]*)!)?"
    r"(?P<cell>\$?[A-Z]{1,3}\$?[0-9]+)(?![\w(])"
)


def pointing(cell: CellRead, moved: Mapping[Address, Address]) -> str | None:
    """A formula of theirs, pointing at where those cells stand now; None where one is gone."""
    lost = False

    def put(found: re.Match[str]) -> str:
        nonlocal lost
        if found["cell"] is None:
            return found[0]
        sheet = (found["sheet"] or "").rstrip("!").strip("'").replace("''", "'") or cell.sheet
        row, column, *_ = parse_area(found["cell"])
        now = moved.get((sheet, row, column))
        if now is None:
            lost = True
            return found[0]
        there = "" if now[0] == cell.sheet and not found["sheet"] else f"'{now[0]}'!"
        return f"{there}${column_letters(now[2])}${now[1]}"

    text = REFERENCE.sub(put, cell.formula_text)
    return None if lost else text
