"""How many live formulas of a filled job other programs calculate alike.

    python3 tests/engines/compare.py [BOOK] [--folder FOLDER]

Gnumeric (`ssconvert`, Debian has it) and HyperFormula (from the registry of npm, run by Node)
calculate a copy anew in which no formula names a table, as neither knows any. The demo job is
made where no book is named. What is left out is said; nothing is asserted.
"""

import argparse
import json
import re
import shutil
import subprocess
import sys
import tempfile
from collections.abc import Iterator
from pathlib import Path
from typing import Any

ROOT = Path(__file__).resolve().parents[2]
sys.path[:0] = [str(ROOT / "src"), str(ROOT)]

from tests.browser.fetch import package_of  # noqa: E402
from tests.engines.plain_ranges import copy_without_tables  # noqa: E402
from twodrum.xlsx.book import Book, CellRead  # noqa: E402

HYPERFORMULA = (
    "hyperformula",
    "3.5.0",
    "wV0IpiVEG1L36UGUR2vAROEWNVgOQDlTUyZTL67v75JuzSWh0ANEONuoKqdhHdhd94Uo2A1EVk9q8LZabYNDkw==",
)
# Of HyperFormula INT cuts off where others round down, and COUNTBLANK passes "" over.
BLANK = re.compile(r"COUNTBLANK\(([$A-Za-z_0-9!]+)\)")


def formulas(book: Book) -> Iterator[CellRead]:
    for title in book.sheets:
        for (row, column), raw in sorted(book.scan(title).cells.items()):
            if raw.formula:
                yield book.cell(title, row, column)


def alike(cell: CellRead, other: Any) -> bool:
    """Whether another program gives what the file holds."""
    if cell.kind == "number":
        number = isinstance(other, (int, float)) and not isinstance(other, bool)
        return number and abs(other - cell.value) <= 1e-9 * max(1.0, abs(cell.value))
    if cell.kind == "error":
        return isinstance(other, dict)
    return (cell.value or "") == ("" if other is None else other)


def told(name: str, book: Book, found: dict[tuple[str, int, int], Any]) -> None:
    numbers, words, wrong = [0, 0], [0, 0], []
    for cell in formulas(book):
        at = cell.sheet, cell.row, cell.column
        same = alike(cell, found.get(at))
        count = numbers if cell.kind == "number" else words
        count[0] += same
        count[1] += 1
        if not same and cell.kind == "number":
            wrong.append(f"  {cell.where}: {cell.value} here, {found.get(at)} there")
    print(f"{name}: {numbers[0]} of {numbers[1]} numbers, {words[0]} of {words[1]} words, errors")
    print("\n".join(wrong[:20]))


def by_gnumeric(plain: Path) -> dict[tuple[str, int, int], Any]:
    target = plain.with_name("gnumeric.xlsx")
    command = ["ssconvert", "--recalc", str(plain), str(target)]
    subprocess.run(command, check=True, capture_output=True, timeout=600)
    return {
        (cell.sheet, cell.row, cell.column): {} if cell.kind == "error" else cell.value
        for cell in formulas(Book.open(target))
    }


def by_hyperformula(plain: Path, module: Path) -> dict[tuple[str, int, int], Any]:
    book, sheets = Book.open(plain), {}
    for title in book.sheets:
        cells = []
        for row, column in book.scan(title).cells:
            cell = book.cell(title, row, column)
            content = cell.value if cell.kind != "text" else f"'{cell.value}"
            if cell.formula:
                text = BLANK.sub(r'(--(\1=""))', cell.formula_text).replace("INT(", "FLOOR.MATH(")
                content = f"={text}"
            if content is not None:
                cells.append((row - 1, column - 1, content))
        sheets[title] = cells
    task = plain.with_name("task.json")
    task.write_text(json.dumps({"sheets": sheets, "names": book.names}), encoding="utf-8")
    script = str(Path(__file__).with_name("hyperformula.cjs"))
    command = ["node", script, str(module), str(task)]
    done = subprocess.run(command, check=True, capture_output=True, timeout=900)
    return {
        (title, row, column): value
        for title, rows in json.loads(done.stdout).items()
        for row, line in enumerate(rows, 1)
        for column, value in enumerate(line, 1)
    }


def main() -> None:
    options = argparse.ArgumentParser(description=__doc__)
    options.add_argument("book", nargs="?", type=Path)
    options.add_argument("--folder", type=Path, help="where HyperFormula is kept")
    asked = options.parse_args()
    with tempfile.TemporaryDirectory() as place:
        folder = Path(place)
        book = asked.book
        if book is None:
            from twodrum.commands.demo import make_demo

            make_demo(folder / "demo")
            book = folder / "demo" / "job-metric.xlsx"
        plain = folder / "plain.xlsx"
        copy_without_tables(book, plain)
        read = Book.open(plain)
        if shutil.which("ssconvert"):
            told("Gnumeric", read, by_gnumeric(plain))
        else:
            print("Gnumeric is not installed")
        if shutil.which("node"):
            kept = asked.folder or folder
            module = package_of(*HYPERFORMULA, kept) / "dist" / "hyperformula.full.js"
            told("HyperFormula", read, by_hyperformula(plain, module))
        else:
            print("Node is not installed")


if __name__ == "__main__":
    main()
