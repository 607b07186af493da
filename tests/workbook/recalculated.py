"""Whether opening a filled workbook changes any of its live cells."""

from pathlib import Path
from typing import Any

from tests.libreoffice.calc import recalculate
from twodrum.xlsx.book import Book
from twodrum.xlsx.scan import column_letters


def live_cells_that_change(path: Path) -> tuple[list[Any], int]:
    """(where, cached, recalculated, formula) of each that differs in LibreOffice; of how many."""
    book = Book.open(path)
    cells = [
        book.cell(sheet, *where)
        for sheet in book.sheets
        for where, raw in sorted(book.scan(sheet).cells.items())
        if raw.formula is not None
    ]
    read = [[c.sheet, f"{column_letters(c.column)}{c.row}"] for c in cells]
    answers = recalculate(path, [{"set": [], "read": read}])[0]
    wrong = []
    for cell, found in zip(cells, answers, strict=True):
        value: Any = {"error": cell.value} if cell.kind == "error" else cell.value
        if isinstance(value, float) and isinstance(found, float):
            if abs(found - value) <= 1e-9 * max(1.0, abs(value)):
                continue
        elif found == value:
            continue
        wrong.append((cell.where, value, found, cell.formula_text[:60]))
    return wrong, len(cells)
