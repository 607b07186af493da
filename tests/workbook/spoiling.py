"""Spoil a good job in one way, and demand that the right cell is told and nothing else lost."""

from dataclasses import dataclass, field
from decimal import Decimal
from pathlib import Path
from typing import Any
from zlib import crc32

from tests.workbook.job_values import checked, job_template
from tests.workbook.typing import Cells, address, typed
from twodrum.commands.fill import check_file, fill_file
from twodrum.engine.model import Cell
from twodrum.workbook.layout import apart
from twodrum.xlsx.book import Book


@dataclass(frozen=True)
class Spoiled:
    """One way to spoil a job: cells, the problems to be told, results refused and kept.

    A key is a name, "table.column" or "table.column@row", rows counted from 0.
    """

    name: str
    cells: dict[str, Any]
    told: tuple[str, ...]
    refused: tuple[str, ...] = ()
    kept: tuple[str, ...] = field(default=("passes",))
    state: str = "CHECK"


def where(book: Book, key: str) -> tuple[str, int, int]:
    """The cell of a key; "below" is the first one under the take-off."""
    if key == "below":
        area = book.tables["areas"].area
        return area.sheet, area.last_row + 1, area.first_column
    name, _, row = key.partition("@")
    return address(book, name, int(row or 0))


def spoil(cells: Cells, spoiled: Spoiled, folder: Path) -> Path:
    """A file of these cells with some of them spoiled."""
    book = job_template()
    changed = {where(book, key): value for key, value in spoiled.cells.items()}
    return typed({**cells, **changed}, folder / "job.xlsx")


def check_names_the_cell(path: Path, spoiled: Spoiled) -> None:
    before = path.read_bytes()
    checked = check_file(path)
    assert [str(problem) for problem in checked.problems] == list(spoiled.told)
    assert path.read_bytes() == before


def fill_refuses_and_fills_the_rest(path: Path, spoiled: Spoiled) -> None:
    filled = fill_file(path)
    book = Book.open(path)
    assert filled.state == spoiled.state
    for name in spoiled.refused:
        beside = f"{name}_si" if name in apart(filled.model) else name
        for cell in (book.named(name), book.named(beside)):
            assert cell is not None
            assert (cell.kind, cell.value) == ("error", "#N/A"), name
        note = book.named(f"{name}_note")
        assert note is not None
        assert str(note.value).startswith("not computed"), name
    for name in spoiled.kept:
        assert name not in spoiled.refused
        item = filled.model.item(name)
        plain = isinstance(item, Cell) and name not in apart(filled.model)
        cell = book.named(name if plain else f"{name}_si")
        assert cell is not None
        assert cell.kind == "number", name
    first = book.area("record_problems")
    assert first is not None
    told = [
        f"{book.cell(first.sheet, row, 1).value}: {book.cell(first.sheet, row, 3).value}"
        for row in range(first.first_row, first.first_row + len(spoiled.told))
    ]
    assert told == list(spoiled.told)


def filling_again_changes_nothing(path: Path) -> None:
    first = path.read_bytes()
    assert not fill_file(path).changed
    assert path.read_bytes() == first


def refuses_in_memory(cells: Cells, spoiled: Spoiled) -> None:
    found = checked(cells)
    assert [str(problem) for problem in found.problems] == list(spoiled.told)
    for name in spoiled.refused:
        assert found.values.names[name].refused, name
    for name in spoiled.kept:
        assert name not in spoiled.refused
        assert isinstance(found.values.names[name].si, (int, float, Decimal)), name


# One in so many goes the whole way as a file too, and each whose state is another one.
ON_FILES = 16


def judge(cells: Cells, spoiled: Spoiled, folder: Path) -> None:
    """The cell is named, what depends on it refused, the rest kept; a file comes to rest."""
    book = job_template()
    spoilt = {**cells, **{where(book, key): value for key, value in spoiled.cells.items()}}
    refuses_in_memory(spoilt, spoiled)
    if spoiled.state != "CHECK" or crc32(spoiled.name.encode()) % ON_FILES == 0:
        path = spoil(cells, spoiled, folder)
        check_names_the_cell(path, spoiled)
        fill_refuses_and_fills_the_rest(path, spoiled)
        filling_again_changes_nothing(path)
