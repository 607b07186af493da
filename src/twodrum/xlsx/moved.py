"""Formulas that follow the cells they point at to where those stand now."""

from __future__ import annotations

import re
from collections.abc import Mapping, Set
from functools import cached_property, lru_cache

from .book import Book, CellRead, quoted, unquoted
from .naming import PIECE
from .scan import column_letters, column_number
from .write import Address

# Pieces of a formula in which no address stands: texts, and columns of tables.
APART = re.compile(r'("[^"]*"|\w+\[(?:[^\[\]]|\[[^\]]*\])*\])')
PLACE = re.compile(
    r"(?<![\w.$\]!])(?:(?P<sheet>'(?:[^']|'')+'|[^\W\d][\w.]*)!)?"
    r"(?:(?P<first>\$?[A-Z]{1,3}\$?\d+)(?::(?P<last>\$?[A-Z]{1,3}\$?\d+))?"
    r"|(?P<from>\$?[A-Z]{1,3}):(?P<to>\$?[A-Z]{1,3})"
    r"|(?P<top>\$?\d+):(?P<bottom>\$?\d+))(?![\w(!\[.])"
)
CORNER = re.compile(r"(\$?)([A-Z]{1,3})(\$?)(\d+)")


class Moves:
    """Where cells of some sheets stand now: each by itself, or by what else is in its row."""

    def __init__(
        self,
        pairs: Mapping[Address, Address],
        titles: Mapping[str, str],
        gone: Set[str] = frozenset(),
    ) -> None:
        self.pairs = pairs
        # What each of those sheets is called now.
        self.titles = titles
        # Names and tables that nothing has any more, in lower case.
        self.gone = gone

    @cached_property
    def none(self) -> bool:
        """Whether every cell stands where it stood, and is called so."""
        pairs = all(then == now for then, now in self.pairs.items())
        return pairs and all(then == now for then, now in self.titles.items()) and not self.gone

    @cached_property
    def _rows(self) -> dict[tuple[str, int], set[tuple[str, int]]]:
        found: dict[tuple[str, int], set[tuple[str, int]]] = {}
        for then, now in self.pairs.items():
            found.setdefault(then[:2], set()).add(now[:2])
        return found

    @cached_property
    def _swapped(self) -> set[str]:
        """Sheets of which a column stands elsewhere."""
        return {then[0] for then, now in self.pairs.items() if then[2] != now[2]}

    def place(self, address: Address) -> Address | None:
        """Where a cell stands now; None where that is not sure."""
        if address in self.pairs:
            return self.pairs[address]
        rows = self._rows.get(address[:2], set())
        if len(rows) != 1 or address[0] in self._swapped:
            return None
        return (*next(iter(rows)), address[2])

    def beside(self, address: Address) -> Address | None:
        """Where a cell beside those belongs: in their row, or as far below the last above it."""
        sheet, row, column = address
        if sheet not in self.titles:
            return None
        above = [n for s, n in self._rows if s == sheet and n <= row]
        first = max(above, default=0)
        now = self.row(sheet, first) if first else 0
        return None if now is None else (self.titles[sheet], now + row - first, column)

    def row(self, sheet: str, number: int) -> int | None:
        """Where a whole row of a sheet stands now; None where that is not sure."""
        rows = self._rows.get((sheet, number), set())
        return next(iter(rows))[1] if len(rows) == 1 else None

    def columns_stand(self, sheet: str) -> bool:
        """Whether whole columns of a sheet are what they were."""
        return sheet in self.titles and sheet not in self._swapped


def following(text: str, own: str, moves: Moves, ours: Set[str]) -> str | None:
    """A formula of a sheet, pointing at where the cells of our sheets stand now.

    What it reads of other sheets stays as it is; None where one of our cells or names is gone.
    """
    named = (piece["word"] or piece["table"] or "" for piece in PIECE.finditer(text))
    lost = bool(moves.gone) and any(name.casefold() in moves.gone for name in named)
    known = {title.casefold(): title for title in ours}

    def place(found: re.Match[str]) -> str:
        nonlocal lost
        named = found["sheet"]
        title = unquoted(named) if named else own
        sheet = known.get(title.casefold())
        if sheet is None:
            # A range of sheets begins or ends with ours: what is between may be others now.
            ends = title.casefold().split(":")
            lost |= len(ends) > 1 and not known.keys().isdisjoint(ends)
            return found[0]
        if found["top"]:
            rows = [moves.row(sheet, int(found[end].lstrip("$"))) for end in ("top", "bottom")]
            lost |= None in rows
            marks = ["$" if found[end].startswith("$") else "" for end in ("top", "bottom")]
            cells = ":".join(f"{mark}{row}" for mark, row in zip(marks, rows))
            there = moves.titles.get(sheet, sheet)
        elif found["from"]:
            lost |= not moves.columns_stand(sheet)
            cells = f"{found['from']}:{found['to']}"
            there = moves.titles.get(sheet, sheet)
        else:
            corners = [corner for corner in (found["first"], found["last"]) if corner]
            now = [_corner(corner, sheet, moves) for corner in corners]
            there, cells = sheet, found[0]
            if any(one is None for one in now) or len({one[0] for one in now if one}) != 1:
                lost = True
            else:
                there = next(one[0] for one in now if one)
                cells = ":".join(one[1] for one in now if one)
        beside = not named and there == moves.titles.get(own, own)
        return cells if beside else f"{quoted(there)}!{cells}"

    pieces = (p if APART.fullmatch(p) else PLACE.sub(place, p) for p in APART.split(text))
    followed = "".join(pieces)
    return None if lost else followed


def _corner(text: str, sheet: str, moves: Moves) -> tuple[str, str] | None:
    found = CORNER.fullmatch(text)
    assert found is not None
    now = moves.place((sheet, int(found[4]), column_number(found[2])))
    if now is None:
        return None
    return now[0], f"{found[1]}{column_letters(now[2])}{found[3]}{now[1]}"


def shifted(text: str, rows: int, columns: int) -> str:
    """A formula as it reads so many rows and columns further on."""
    return "".join(
        piece if isinstance(piece, str) else _shifted(piece, rows, columns)
        for piece in _taken_apart(text)
    )


@lru_cache(maxsize=1 << 12)
def _taken_apart(text: str) -> tuple[str | tuple[str, str, str, int], ...]:
    """A formula in pieces: its corners apart, as marks, column and row, from all between them."""
    pieces: list[str | tuple[str, str, str, int]] = []
    for piece in APART.split(text):
        end = 0
        for found in () if APART.fullmatch(piece) else PLACE.finditer(piece):
            for name in ("first", "last"):
                corner = CORNER.fullmatch(found[name] or "")
                if corner:
                    pieces.append(piece[end : found.start(name)])
                    pieces.append((corner[1], corner[2], corner[3], int(corner[4])))
                    end = found.end(name)
        pieces.append(piece[end:])
    return tuple(pieces)


def _shifted(corner: tuple[str, str, str, int], rows: int, columns: int) -> str:
    at, column, mark, row = corner
    if columns and not at:
        column = column_letters(column_number(column) + columns)
    return f"{at}{column}{mark}{row if mark else row + rows}"


def whole_formula(book: Book, cell: CellRead) -> str:
    """The formula of a cell, also where it stands written once for a run of cells."""
    raw = book.scan(cell.sheet).cells[cell.row, cell.column]
    shared = raw.formula_attributes.get("t") == "shared"
    if cell.formula_text or not shared:
        return cell.formula_text
    number = raw.formula_attributes.get("si")
    for (row, column), first in book.scan(cell.sheet).cells.items():
        if first.formula and first.formula_attributes.get("si") == number:
            return shifted(first.formula, cell.row - row, cell.column - column)
    return ""
