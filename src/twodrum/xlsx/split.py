"""A sheet part split into what its cells hold, by one pattern over all of it.

Where the bytes of a cell stand is looked for only when it is to be changed. What is written in
any other way than spreadsheet programs write it goes to the careful scanner instead, whole.
"""

from __future__ import annotations

import re
from collections import defaultdict
from collections.abc import Collection, Iterable, Mapping, Set
from functools import cached_property
from operator import lt

from .places import LETTERS, PAIRS, START, Cells, Rows, place_of, unescaped_text
from .scan import Glance, Scan, refuse_damaged, refuse_too_many, scan_carefully

ENCODING = re.compile(rb"""<\?xml[^>]*?encoding=["']([^"']*)""")
# Anything else in the cells that these patterns do not follow.
UNUSUAL = (b"extLst", b"\r")
ROW_NUMBER = re.compile(rb'<row r="([0-9]+)"')
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
# How a formula begins that may be a constant which was saved as one.
BARE = ("", "#", "=", " ")
NO_ROWS: frozenset[int] = frozenset()
WITHOUT_DIGITS = str.maketrans("", "", "0123456789")
WITHOUT_LETTERS = str.maketrans("", "", "ABCDEFGHIJKLMNOPQRSTUVWXYZ")
STYLE, KIND, FORMULA, FORMULA_TEXT, VALUE, VALUE_TEXT, INLINE, INLINE_TEXT = range(1, 9)


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
    cells, rows = Cells(data, (head_end, last), held, odd), Rows(data, head_end, last)
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

    def start_of(self, place: tuple[int, int]) -> int:
        """Where a cell that is there begins."""
        assert isinstance(self.cells, Cells)
        return self.cells.start(f"{LETTERS[place[1]]}{place[0]}")

    def filled(self, rows: Iterable[int], columns: Collection[int]) -> set[tuple[int, int]]:
        """The places in some rows and columns in which a value or a formula stands."""
        if self.odd:
            return super().filled(rows, columns)
        asked, found = frozenset(rows), set()
        for column in columns:
            there = self._holding.get(LETTERS[column])
            if there:
                found |= {(row, column) for row in asked & there}
        return found

    @cached_property
    def _holding(self) -> dict[str, set[int]]:
        """The rows of each column in which a value or a formula stands, by its letters."""
        found: dict[str, set[int]] = defaultdict(set)
        rows = map(int, " ".join(self.held).translate(WITHOUT_LETTERS).split())
        for letters, row, cell in zip(self._letters, rows, self.held.values()):
            if cell[FORMULA] or cell[VALUE] or cell[INLINE]:
                found[letters].add(row)
        return dict(found)

    @cached_property
    def _letters(self) -> list[str]:
        """The letters of the column of each cell."""
        return " ".join(self.held).translate(WITHOUT_DIGITS).split()

    def live(
        self, rows: Iterable[int], columns: Collection[int]
    ) -> tuple[set[tuple[int, int]], set[tuple[int, int]]]:
        """Those in which a formula stands, and those of which only reading the cell tells."""
        if self.odd:
            return super().live(rows, columns)
        held, asked = self.held, frozenset(rows)
        sure: set[tuple[int, int]] = set()
        unsure: set[tuple[int, int]] = set()
        for column in columns:
            letters = LETTERS[column]
            for row in asked & self._holding.get(letters, NO_ROWS):
                cell = held[f"{letters}{row}"]
                if cell[FORMULA]:
                    (unsure if cell[FORMULA_TEXT][:1] in BARE else sure).add((row, column))
        return sure, unsure

    def filled_in(self, rows: Set[int]) -> set[tuple[int, int]]:
        """The same for all of some rows."""
        if self.odd:
            return super().filled_in(rows)
        filled = (at for at, c in self.held.items() if c[FORMULA] or c[VALUE] or c[INLINE])
        return {place for place in map(place_of, filled) if place[0] in rows}

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
        return bool(held[FORMULA]) and (None if held[FORMULA_TEXT][:1] in BARE else True)

    def has_formulas(self, wanted: Mapping[str, str]) -> bool:
        """Whether these formulas, in the letters of a part, stand at these references."""
        nothing = ("",) * (INLINE_TEXT + 1)
        get = self.held.get
        unlike = (
            (there, text)
            for place, text in wanted.items()
            if (there := get(place, nothing)[FORMULA_TEXT]) != text
        )
        # Another program may write the same text otherwise.
        return all(unescaped_text(there) == unescaped_text(text) for there, text in unlike)

    def styles(self, rows: Iterable[int], column: int) -> set[str]:
        """What the cells of a column say of their styles in some rows."""
        if self.odd:
            return super().styles(rows, column)
        held, letters = self.held, LETTERS[column]
        found = (held.get(f"{letters}{row}") for row in rows)
        return {cell[STYLE] or "0" if cell else "0" for cell in found}

    def shows(self, place: tuple[int, int], kind: str, value: str | None, live: bool) -> bool:
        """Whether its bytes say at once that it holds a value, or nothing; else it is read.

        ``kind`` is what the cell says of its type, "" for a number; ``live`` says whether a
        formula of it has that result.
        """
        held = self.held.get(f"{LETTERS[place[1]]}{place[0]}")
        if held is None:
            return value is None and not (live or self.odd)
        return _shows(held, kind, value, live)

    def not_showing(
        self, rows: Iterable[int], column: int, kind: str, value: str | None, live: bool
    ) -> Iterable[int]:
        """The rows of a column of which its bytes do not say so."""
        found, letters = self.held.get, LETTERS[column]
        cells = ((row, found(f"{letters}{row}")) for row in rows)
        absent = value is None and not (live or self.odd)
        return [
            row
            for row, held in cells
            if (not absent if held is None else not _shows(held, kind, value, live))
        ]

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
            unescaped_text(text) if formula else None,
            None if shown is None else unescaped_text(shown),
        )

    def bottom(self, columns: Iterable[int]) -> int:
        """The last row of some columns that have a cell; 0 for none."""
        if self.odd or not self._ascending:
            return super().bottom(columns)
        lasts = (self._lasts.get(LETTERS[column]) for column in columns)
        return max((place_of(last)[0] for last in lasts if last), default=0)

    @cached_property
    def _lasts(self) -> dict[str, str]:
        """The last cell of each column, by its letters."""
        return dict(zip(self._letters, self.held))

    @cached_property
    def _ascending(self) -> bool:
        """Whether the rows stand in their order and each says its number."""
        _, first, last = self.sheet_data
        numbers = [int(number) for number in ROW_NUMBER.findall(self.data, first, last)]
        whole = len(numbers) == self.data.count(b"<row", first, last)
        return whole and all(map(lt, numbers, numbers[1:]))


def _shows(held: Held, kind: str, value: str | None, live: bool) -> bool:
    """Whether a cell holds a value, or nothing, in so many letters."""
    _, _, said, formula, _, there, text, inline, words = held
    if value is None or (formula != "") != live:
        return value is None and not (live or formula or there or inline)
    if said != kind and (said, kind) != ("n", ""):
        return False
    # Text of its own is no result.
    return words == value and inline != "" if kind == "inlineStr" else text == value and there != ""
