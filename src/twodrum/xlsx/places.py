"""Where the cells and rows of a sheet part stand in its bytes, looked for when they are changed."""

from __future__ import annotations

import re
from collections.abc import Collection, Iterator, Mapping, Set
from functools import cached_property, lru_cache
from typing import cast

from .scan import RawCell, RawRow, column_letters, column_number, scan_carefully

PAIRS = r'(?: [\w:.-]+="[^"&<\s]*")*'
ATTRIBUTES = PAIRS.encode()
START = re.compile(rb'<c r="([A-Z]{1,3}[1-9][0-9]*)"')
ROW = re.compile(rb"<row(" + ATTRIBUTES + rb")\s*(/?)>")
CELL = re.compile(
    rb'<c r="([A-Z]+)([0-9]+)"(' + ATTRIBUTES + rb")\s*(?:/>|(>)"
    rb"(<f(" + ATTRIBUTES + rb")(?:/>|>([^<]*)</f>))?"
    rb"(?:<v>([^<]*)</v>|<v/>()"
    rb'|<is><t(?: xml:space="preserve")?>([^<]*)</t></is>)?</c>)'
)
ATTRIBUTE = re.compile(r'([\w:.-]+)="([^"]*)"')
ENTITY = re.compile(r"&(?:#x([0-9A-Fa-f]+)|#([0-9]+)|(?:amp|lt|gt|quot|apos));")
# The sign that begins them all comes last.
CHARACTERS = {"&lt;": "<", "&gt;": ">", "&quot;": '"', "&apos;": "'", "&amp;": "&"}


class Cells(Mapping[tuple[int, int], RawCell]):
    """The cells of a part by row and column, each read where its bytes stand."""

    def __init__(
        self, data: bytes, within: tuple[int, int], held: Collection[str], odd: Set[str]
    ) -> None:
        self.data = data
        self.within = within
        self.held = held
        self.odd = odd
        self.decoded: dict[tuple[int, int], RawCell] = {}
        # Where the one that was asked for last stands: the next one stands behind it, mostly.
        self._behind = within[0]

    def __getitem__(self, place: tuple[int, int]) -> RawCell:
        found = self.get(place)
        if found is None:
            raise KeyError(place)
        return found

    def get(self, place: tuple[int, int], default: object = None) -> RawCell | None:  # type: ignore[override]
        """The cell at a place; None where there is none."""
        found = self.decoded.get(place)
        if found is None and place in self:
            start = self.start(f"{LETTERS[place[1]]}{place[0]}")
            found = self.decoded[place] = self._decoded(start)
        return found

    def __contains__(self, place: object) -> bool:
        row, column = cast("tuple[int, int]", place)
        reference = f"{LETTERS[column]}{row}"
        return reference in self.held or reference in self.odd

    def __iter__(self) -> Iterator[tuple[int, int]]:
        return map(place_of, self.starts if self.odd else self.held)

    def __len__(self) -> int:
        return len(self.held) + len(self.odd)

    def start(self, reference: str) -> int:
        """Where the cell of a reference begins."""
        if "starts" not in self.__dict__:
            named = b'<c r="%b"' % reference.encode()
            start = self.data.find(named, self._behind, self.within[1])
            if start >= 0:
                self._behind = start
                return start
        return self.starts[reference]

    @cached_property
    def starts(self) -> Mapping[str, int]:
        """Where each cell begins, in the order of the part."""
        found = START.finditer(self.data, *self.within)
        return {cell[1].decode(): cell.start() for cell in found}

    @cached_property
    def careful(self) -> Mapping[tuple[int, int], RawCell]:
        """The same cells, read by the careful scanner."""
        return scan_carefully(self.data).cells

    def _decoded(self, start: int) -> RawCell:
        found = CELL.match(self.data, start)
        if found is None:
            place = START.match(self.data, start)
            assert place is not None
            return self.careful[place_of(place[1].decode())]
        letters, row, attributes, opened, formula, told, text, value, empty, inline = found.groups()
        known = {"r": (letters + row).decode()}
        if attributes:
            known.update(ATTRIBUTE.findall(attributes.decode()))
        head_end = found.end(4) if opened else found.end()
        column = _column(letters.decode())
        raw = RawCell(int(row), column, known, start, head_end, found.end())
        if formula is not None:
            raw.formula = unescaped_text(text.decode()) if text else ""
            raw.formula_span = found.span(5)
            if told:
                raw.formula_attributes = dict(ATTRIBUTE.findall(told.decode()))
        for held in (value, empty, inline):
            if held is not None:
                raw.value = unescaped_text(held.decode())
        return raw


class Rows(Mapping[int, RawRow]):
    """The rows of a part by their numbers, found when the first is asked for."""

    def __init__(self, data: bytes, first: int, last: int) -> None:
        self.data = data
        self.first = first
        self.last = last

    @cached_property
    def found(self) -> Mapping[int, RawRow]:
        rows: dict[int, RawRow] = {}
        number, count = 0, self.data.count(b"<row", self.first, self.last)
        for head in ROW.finditer(self.data, self.first, self.last):
            count -= 1
            attributes = dict(ATTRIBUTE.findall(head[1].decode()))
            number = int(attributes.get("r", number + 1))
            row = rows[number] = RawRow(number, attributes, head.start(), head.end(), head.end())
            row.body_end = head.end()
            if not head[2]:
                row.body_end = self.data.index(b"</row>", head.end())
                row.end = row.body_end + len(b"</row>")
        if count:
            return scan_carefully(self.data).rows
        return rows

    def __getitem__(self, number: int) -> RawRow:
        return self.found[number]

    def __iter__(self) -> Iterator[int]:
        return iter(self.found)

    def __len__(self) -> int:
        return len(self.found)


class _Letters(dict[int, str]):
    """The letters of each column by its number."""

    def __missing__(self, column: int) -> str:
        self[column] = letters = column_letters(column)
        return letters


LETTERS = _Letters()


@lru_cache(maxsize=1 << 12)
def _column(letters: str) -> int:
    return column_number(letters)


def place_of(reference: str) -> tuple[int, int]:
    """Row and column of a reference such as B7."""
    letters = reference.rstrip("0123456789")
    return int(reference[len(letters) :]), _column(letters)


def unescaped_text(written: str) -> str:
    """A text as it reads, from how a part writes it."""
    if "&" not in written:
        return written
    text = written
    if "&#" in text:
        return ENTITY.sub(_character, text)
    for name, character in CHARACTERS.items():
        text = text.replace(name, character)
    return text


def _character(found: re.Match[str]) -> str:
    sixteen, ten = found.groups()
    if not sixteen and not ten:
        return CHARACTERS[found.group()]
    return chr(int(sixteen, 16) if sixteen else int(ten))
