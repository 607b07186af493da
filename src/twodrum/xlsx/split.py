"""A sheet part split into its cells, each decoded only when it is asked for.

A fill asks for a fifth of the cells of a book. What is written in any other way than
spreadsheet programs write it goes to the careful scanner instead, whole.
"""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping
from functools import cached_property, lru_cache

from .scan import (
    Glance,
    RawCell,
    RawRow,
    Scan,
    column_letters,
    column_number,
    refuse_damaged,
    refuse_too_many,
    scan_carefully,
)

ENCODING = re.compile(rb"""<\?xml[^>]*?encoding=["']([^"']*)""")
START = re.compile(rb'<c r="([A-Z]{1,3}[1-9][0-9]*)"')
# Anything in the cells that these patterns do not follow.
UNUSUAL = (b"<!", b"<?", b"extLst", b"\r", b"<c>", b"<c/", b"<c\t", b"<c\n", b"<row\t", b"<row\n")
ATTRIBUTES = rb'(?: [\w:.-]+="[^"&<\s]*")*'
ROW = re.compile(rb"<row(" + ATTRIBUTES + rb")\s*(/?)>")
CELL = re.compile(
    rb'<c r="([A-Z]+)([0-9]+)"(' + ATTRIBUTES + rb")\s*(?:/>|(>)"
    rb"(<f(" + ATTRIBUTES + rb")(?:/>|>([^<]*)</f>))?"
    rb"(?:<v>([^<]*)</v>|<v/>()"
    rb'|<is><t(?: xml:space="preserve")?>([^<]*)</t></is>)?</c>)'
)
# The same in the one order that programs write, and only what a reader asks for.
GLANCE = re.compile(
    rb'<c r="[A-Z]+[0-9]+"(?: s="([0-9]+)")?(?: t="([a-zA-Z]+)")?\s*(?:/>|>'
    rb"(?:(<f)" + ATTRIBUTES + rb"(?:/>|>([^<]*)</f>))?"
    rb"(?:<v>([^<]*)</v>|<v/>()"
    rb'|<is><t(?: xml:space="preserve")?>([^<]*)</t></is>)?</c>)'
)
# A cell with a formula, and how that begins where it may be a constant that was saved as one.
FORMULA = re.compile(rb'<c r="([A-Z]{1,3}[1-9][0-9]*)"[^>]*><f[^>]*>([#= ]?)')
SLASH = ord("/")
ATTRIBUTE = re.compile(r'([\w:.-]+)="([^"]*)"')
ENTITY = re.compile(r"&(?:#x([0-9A-Fa-f]+)|#([0-9]+)|(?:amp|lt|gt|quot|apos));")
# The sign that begins them all comes last.
CHARACTERS = {"&lt;": "<", "&gt;": ">", "&quot;": '"', "&apos;": "'", "&amp;": "&"}


class UnusualError(Exception):
    """A cell or row that the patterns do not follow."""


def scan_sheet(data: bytes) -> Scan:
    """Scan one sheet part."""
    refuse_damaged(data)
    try:
        return _split(data)
    except UnusualError:
        return scan_carefully(data)


def _split(data: bytes) -> Scan:
    declared = ENCODING.match(data, 3 if data.startswith(b"\xef\xbb\xbf") else 0)
    if (declared and declared[1].lower() != b"utf-8") or b"\x00" in data[:4]:
        raise UnusualError
    first, last = data.find(b"<sheetData>"), data.find(b"</sheetData>")
    head_end = first + len(b"<sheetData>")
    if first < 0 or last < head_end or data.count(b"<sheetData") != 1:
        raise UnusualError
    body = data[head_end:last]
    if any(sign in body for sign in UNUSUAL):
        raise UnusualError
    starts = {found[1]: found.start() + head_end for found in START.finditer(body)}
    if len(starts) != body.count(b"<c "):
        raise UnusualError
    refuse_too_many(len(starts))
    # What stands around the cells is short.
    around = scan_carefully(data[:head_end] + data[last:])
    if around.sheet_data[1] != head_end or (around.dimension and around.dimension[1] > head_end):
        raise UnusualError
    cells, rows = Cells(data, starts), Rows(data, head_end, last)
    scan = SplitScan(data, "", cells, rows, around.column_styles, around.merges)
    scan.sheet_data, scan.dimension = (around.sheet_data[0], head_end, last), around.dimension
    return scan


class SplitScan(Scan):
    """What a sheet part holds, found where its bytes stand."""

    def _opened(self, place: tuple[int, int]) -> tuple[int, int] | None:
        """Where the tag of a cell begins and ends; None where it holds nothing."""
        assert isinstance(self.cells, Cells)
        start = self.cells.starts.get(_reference(place))
        if start is None:
            return None
        end = self.data.index(b">", start)
        return None if self.data[end - 1] == SLASH else (start, end)

    def is_blank(self, place: tuple[int, int]) -> bool:
        """Whether the part holds neither value nor formula there."""
        return self._opened(place) is None or super().is_blank(place)

    def has_formula(self, place: tuple[int, int]) -> bool | None:
        """Whether a formula stands there; None where only reading the cell tells."""
        sign = self._formulas.get(_reference(place))
        return False if sign is None else None if sign else True

    @cached_property
    def _formulas(self) -> dict[bytes, bytes]:
        """How each formula begins where that may be a constant, by the place of its cell."""
        _, first, last = self.sheet_data
        return dict(FORMULA.findall(self.data, first, last))

    def shows(self, place: tuple[int, int], kind: bytes, value: bytes) -> bool:
        """Whether its bytes say at once that a formula there has this result; else it is read.

        ``kind`` is what the cell says of its type, b"" for a number.
        """
        tag = self._opened(place)
        if tag is None:
            return False
        head = self.data[slice(*tag)]
        alike = kind in head if kind else b' t="' not in head
        closed = self.data.index(b"</c>", tag[1])
        return alike and self.data.endswith(b"<v>%b</v>" % value, tag[1], closed)

    def glance(self, place: tuple[int, int]) -> Glance | None:
        """What the cell of a row and column holds; None where the part has no such cell."""
        assert isinstance(self.cells, Cells)
        start = self.cells.starts.get(_reference(place))
        if start is None:
            return None
        found = GLANCE.match(self.data, start)
        if found is None:
            return super().glance(place)
        style, kind, formula, text, value, empty, inline = found.groups()
        held = value if value is not None else empty if inline is None else inline
        return (
            style.decode() if style else "0",
            kind.decode() if kind else "n",
            None if formula is None else _text(text or b""),
            None if held is None else _text(held),
        )


class Cells(Mapping[tuple[int, int], RawCell]):
    """The cells of a part by row and column."""

    def __init__(self, data: bytes, starts: Mapping[bytes, int]) -> None:
        self.data = data
        self.starts = starts
        self.decoded: dict[tuple[int, int], RawCell] = {}

    def __getitem__(self, place: tuple[int, int]) -> RawCell:
        found = self.get(place)
        if found is None:
            raise KeyError(place)
        return found

    def get(self, place: tuple[int, int], default: object = None) -> RawCell | None:  # type: ignore[override]
        """The cell at a place; None where there is none."""
        found = self.decoded.get(place)
        if found is None:
            start = self.starts.get(_reference(place))
            if start is None:
                return None
            found = self.decoded[place] = self._decoded(start)
        return found

    def __contains__(self, place: object) -> bool:
        return _reference(place) in self.starts  # type: ignore[arg-type]

    def __iter__(self) -> Iterator[tuple[int, int]]:
        for reference in self.starts:
            letters = reference.rstrip(b"0123456789")
            yield int(reference[len(letters) :]), _column(letters)

    def __len__(self) -> int:
        return len(self.starts)

    @cached_property
    def careful(self) -> Mapping[tuple[int, int], RawCell]:
        """The same cells, read by the careful scanner."""
        return scan_carefully(self.data).cells

    def _decoded(self, start: int) -> RawCell:
        found = CELL.match(self.data, start)
        if found is None:
            place = START.match(self.data, start)
            assert place is not None
            letters = place[1].rstrip(b"0123456789")
            return self.careful[int(place[1][len(letters) :]), _column(letters)]
        letters, row, attributes, opened, formula, told, text, value, empty, inline = found.groups()
        known = {"r": (letters + row).decode()}
        if attributes:
            known.update(ATTRIBUTE.findall(attributes.decode()))
        head_end = found.end(4) if opened else found.end()
        raw = RawCell(int(row), _column(letters), known, start, head_end, found.end())
        if formula is not None:
            raw.formula = _text(text) if text else ""
            raw.formula_span = found.span(5)
            if told:
                raw.formula_attributes = dict(ATTRIBUTE.findall(told.decode()))
        for held in (value, empty, inline):
            if held is not None:
                raw.value = _text(held)
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


@lru_cache(maxsize=1 << 12)
def _letters(column: int) -> bytes:
    return column_letters(column).encode()


@lru_cache(maxsize=1 << 12)
def _column(letters: bytes) -> int:
    return column_number(letters.decode())


def _reference(place: tuple[int, int]) -> bytes:
    return b"%b%d" % (_letters(place[1]), place[0])


def _text(written: bytes) -> str:
    text = written.decode()
    if "&" not in text:
        return text
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
