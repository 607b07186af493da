"""A sheet part split into what its cells hold, by one pattern over all of it.

Where the bytes of a cell stand is looked for only when it is to be changed. What is written in
any other way than spreadsheet programs write it goes to the careful scanner instead, whole.
"""

from __future__ import annotations

import re
from collections.abc import Collection, Iterable, Iterator, Mapping, Set
from functools import cached_property, lru_cache
from operator import lt
from typing import cast

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
# Anything else in the cells that these patterns do not follow.
UNUSUAL = (b"extLst", b"\r")
PAIRS = r'(?: [\w:.-]+="[^"&<\s]*")*'
ATTRIBUTES = PAIRS.encode()
ROW = re.compile(rb"<row(" + ATTRIBUTES + rb")\s*(/?)>")
ROW_NUMBER = re.compile(rb'<row r="([0-9]+)"')
CELL = re.compile(
    rb'<c r="([A-Z]+)([0-9]+)"(' + ATTRIBUTES + rb")\s*(?:/>|(>)"
    rb"(<f(" + ATTRIBUTES + rb")(?:/>|>([^<]*)</f>))?"
    rb"(?:<v>([^<]*)</v>|<v/>()"
    rb'|<is><t(?: xml:space="preserve")?>([^<]*)</t></is>)?</c>)'
)
# What a cell holds, written in the one order in which programs write it: its place, its style and
# kind, a formula and its text, a value and its text, a text of its own.
HELD = re.compile(
    r'<c r="([A-Z]{1,3}[1-9][0-9]*)"(?: s="([0-9]+)")?(?: t="([a-zA-Z]+)")?\s*(?:/>|>'
    r"(?:(<f)" + PAIRS + r"(?:/>|>([^<]*)</f>))?"
    r"(?:(<v)(?:/>|>([^<]*)</v>)"
    r'|(<is)><t(?: xml:space="preserve")?>([^<]*)</t></is>)?</c>)'
)
Held = tuple[str, ...]
END = b"</worksheet>"
# Kinds that are as good as none: a number.
SAID = {"n": ""}
PLACE = re.compile("([A-Z]+)([0-9]+)")
STYLE, KIND, FORMULA, FORMULA_TEXT, VALUE, VALUE_TEXT, INLINE, INLINE_TEXT = range(1, 9)
ATTRIBUTE = re.compile(r'([\w:.-]+)="([^"]*)"')
ENTITY = re.compile(r"&(?:#x([0-9A-Fa-f]+)|#([0-9]+)|(?:amp|lt|gt|quot|apos));")
# The sign that begins them all comes last.
CHARACTERS = {"&lt;": "<", "&gt;": ">", "&quot;": '"', "&apos;": "'", "&amp;": "&"}


class UnusualError(Exception):
    """A cell or row that the patterns do not follow."""


def scan_sheet(data: bytes) -> Scan:
    """Scan one sheet part."""
    if not refuse_damaged(data):
        return scan_carefully(data)
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
    try:
        found = HELD.findall(body.decode())
    except UnicodeDecodeError:
        raise UnusualError from None
    held = {cell[0]: cell for cell in found}
    count = body.count(b"<c")
    odd: frozenset[str] = frozenset()
    if len(found) != count:
        # Some are written in another way: those are read one by one.
        places = [place.decode() for place in START.findall(body)]
        odd = frozenset(places) - held.keys()
    if len(held) + len(odd) != count:
        raise UnusualError
    refuse_too_many(count)
    # What stands around the cells is short; behind them only merged cells are looked for.
    tail = data[last:]
    if b"mergeCell" not in tail and tail.rstrip().endswith(END):
        tail = b"</sheetData>" + END
    around = scan_carefully(data[:head_end] + tail)
    if around.sheet_data[1] != head_end or (around.dimension and around.dimension[1] > head_end):
        raise UnusualError
    cells, rows = Cells(data, head_end, held, odd), Rows(data, head_end, last)
    scan = SplitScan(data, "", cells, rows, around.column_styles, around.merges)
    scan.sheet_data, scan.dimension = (around.sheet_data[0], head_end, last), around.dimension
    scan.held, scan.odd = held, odd
    return scan


class SplitScan(Scan):
    """What a sheet part holds, as its bytes say it."""

    # What each cell holds by its reference, and the references of those that say it otherwise.
    held: dict[str, Held]
    odd: Set[str]

    def is_blank(self, place: tuple[int, int]) -> bool:
        """Whether the part holds neither value nor formula there."""
        reference = f"{LETTERS[place[1]]}{place[0]}"
        held = self.held.get(reference)
        if held is None:
            return reference not in self.odd or super().is_blank(place)
        return not (held[FORMULA] or held[VALUE] or held[INLINE])

    def filled(self, rows: Iterable[int], columns: Collection[int]) -> set[tuple[int, int]]:
        """The places in some rows and columns in which a value or a formula stands."""
        if self.odd:
            return super().filled(rows, columns)
        held, found = self.held, set()
        lettered = [(column, LETTERS[column]) for column in columns]
        for row in rows:
            for column, letters in lettered:
                cell = held.get(f"{letters}{row}")
                if cell and (cell[FORMULA] or cell[VALUE] or cell[INLINE]):
                    found.add((row, column))
        return found

    def style(self, place: tuple[int, int]) -> str:
        """What the cell of a row and column says of its style; "0" where it says nothing."""
        reference = f"{LETTERS[place[1]]}{place[0]}"
        held = self.held.get(reference)
        if held is None:
            return super().style(place) if reference in self.odd else "0"
        return held[STYLE] or "0"

    def has_formula(self, place: tuple[int, int]) -> bool | None:
        """Whether a formula stands there; None where only reading the cell tells."""
        reference = f"{LETTERS[place[1]]}{place[0]}"
        held = self.held.get(reference)
        if held is None:
            return None if reference in self.odd else False
        # A constant may be saved as a formula that begins like this.
        return bool(held[FORMULA]) and (None if held[FORMULA_TEXT][:1] in "#= " else True)

    def has_formulas(self, wanted: Mapping[str, str]) -> bool:
        """Whether its bytes say at once that these formulas stand at these references."""
        nothing = ("",) * (INLINE_TEXT + 1)
        found = (
            (self.held.get(place, nothing)[FORMULA_TEXT], text) for place, text in wanted.items()
        )
        return all(there == text or _text(there) == text for there, text in found)

    def shows(self, place: tuple[int, int], kind: str, value: str, live: bool) -> bool:
        """Whether its bytes say at once that it has this result; else it is read.

        ``kind`` is what the cell says of its type, "" for a number; ``live`` says whether a
        formula of it has that result.
        """
        held = self.held.get(f"{LETTERS[place[1]]}{place[0]}")
        if held is None or SAID.get(held[KIND], held[KIND]) != kind or bool(held[FORMULA]) != live:
            return False
        # Text of its own is no result.
        sign, text = (INLINE, INLINE_TEXT) if kind == "inlineStr" else (VALUE, VALUE_TEXT)
        return bool(held[sign]) and held[text] == value

    def glance(self, place: tuple[int, int]) -> Glance | None:
        """What the cell of a row and column holds; None where the part has no such cell."""
        reference = f"{LETTERS[place[1]]}{place[0]}"
        held = self.held.get(reference)
        if held is None:
            return super().glance(place) if reference in self.odd else None
        _, style, kind, formula, text, value, number, inline, words = held
        shown = number if value else words if inline else None
        return (
            style or "0",
            kind or "n",
            _text(text) if formula else None,
            None if shown is None else _text(shown),
        )

    def bottom(self, columns: Iterable[int], above: int = 0) -> int:
        """The last row of some columns that have a cell; 0, or a row not below one, for none."""
        if self.odd or not self._ascending:
            return super().bottom(columns)
        if above:
            wanted = frozenset(columns)
            for reference in reversed(self.held):
                row, column = _place(reference)
                if row <= above:
                    break
                if column in wanted:
                    return row
            return 0
        bottoms = self._bottoms
        return max((int(bottoms.get(LETTERS[column], 0)) for column in columns), default=0)

    @cached_property
    def _bottoms(self) -> dict[str, str]:
        """The last row of each column, by its letters."""
        return dict(PLACE.findall(" ".join(self.held)))

    @cached_property
    def _ascending(self) -> bool:
        """Whether the rows stand in their order and each says its number."""
        _, first, last = self.sheet_data
        numbers = [int(number) for number in ROW_NUMBER.findall(self.data, first, last)]
        whole = len(numbers) == self.data.count(b"<row", first, last)
        return whole and all(map(lt, numbers, numbers[1:]))


class Cells(Mapping[tuple[int, int], RawCell]):
    """The cells of a part by row and column, each read where its bytes stand."""

    def __init__(self, data: bytes, first: int, held: Mapping[str, Held], odd: Set[str]) -> None:
        self.data = data
        self.first = first
        self.held = held
        self.odd = odd
        self.decoded: dict[tuple[int, int], RawCell] = {}
        # Where the one that was asked for last stands: the next one stands behind it, mostly.
        self._behind = first

    def __getitem__(self, place: tuple[int, int]) -> RawCell:
        found = self.get(place)
        if found is None:
            raise KeyError(place)
        return found

    def get(self, place: tuple[int, int], default: object = None) -> RawCell | None:  # type: ignore[override]
        """The cell at a place; None where there is none."""
        found = self.decoded.get(place)
        if found is None and place in self:
            start = self._start(f"{LETTERS[place[1]]}{place[0]}")
            found = self.decoded[place] = self._decoded(start)
        return found

    def __contains__(self, place: object) -> bool:
        row, column = cast("tuple[int, int]", place)
        reference = f"{LETTERS[column]}{row}"
        return reference in self.held or reference in self.odd

    def __iter__(self) -> Iterator[tuple[int, int]]:
        return map(_place, self.starts if self.odd else self.held)

    def __len__(self) -> int:
        return len(self.held) + len(self.odd)

    def _start(self, reference: str) -> int:
        if "starts" not in self.__dict__:
            start = self.data.find(b'<c r="%b"' % reference.encode(), self._behind)
            if start >= 0:
                self._behind = start
                return start
        return self.starts[reference]

    @cached_property
    def starts(self) -> Mapping[str, int]:
        """Where each cell begins, in the order of the part."""
        found = START.finditer(self.data, self.first)
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
            return self.careful[_place(place[1].decode())]
        letters, row, attributes, opened, formula, told, text, value, empty, inline = found.groups()
        known = {"r": (letters + row).decode()}
        if attributes:
            known.update(ATTRIBUTE.findall(attributes.decode()))
        head_end = found.end(4) if opened else found.end()
        column = _column(letters.decode())
        raw = RawCell(int(row), column, known, start, head_end, found.end())
        if formula is not None:
            raw.formula = _text(text.decode()) if text else ""
            raw.formula_span = found.span(5)
            if told:
                raw.formula_attributes = dict(ATTRIBUTE.findall(told.decode()))
        for held in (value, empty, inline):
            if held is not None:
                raw.value = _text(held.decode())
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


def _place(reference: str) -> tuple[int, int]:
    letters = reference.rstrip("0123456789")
    return int(reference[len(letters) :]), _column(letters)


def _text(written: str) -> str:
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
