"""One pass over a sheet part: every cell's value, and where its bytes stand."""

from __future__ import annotations

import re
from collections.abc import Collection, Iterable, Mapping, Set
from dataclasses import dataclass, field
from functools import lru_cache
from typing import Any
from xml.parsers import expat

from .package import RESTORE, PackageError

TAG = re.compile(rb"""[^"'>]*(?:(?:"[^"]*"|'[^']*')[^"'>]*)*>""")
CELL = re.compile(r"\$?([A-Za-z]{1,3})\$?(\d+)")


@dataclass
class RawCell:
    """One <c> element: its attributes, contents, and byte positions."""

    row: int
    column: int
    attributes: dict[str, str]
    start: int
    head_end: int = 0
    end: int = 0
    formula: str | None = None
    formula_span: tuple[int, int] | None = None
    formula_attributes: dict[str, str] = field(default_factory=dict)
    value: str | None = None


# Of a cell: its style, the kind that it says, its formula, its value; as they are written.
Glance = tuple[str, str, "str | None", "str | None"]


@dataclass
class RawRow:
    """One <row> element and its byte positions."""

    number: int
    attributes: dict[str, str]
    start: int
    head_end: int
    end: int = 0
    body_end: int = 0

    @property
    def empty(self) -> bool:
        """Written as <row/>."""
        return self.end == self.head_end


@dataclass
class Scan:
    """What one sheet part holds."""

    data: bytes
    prefix: str = ""
    cells: Mapping[tuple[int, int], RawCell] = field(default_factory=dict)
    rows: Mapping[int, RawRow] = field(default_factory=dict)
    column_styles: list[tuple[int, int, str]] = field(default_factory=list)
    merges: list[tuple[int, int, int, int]] = field(default_factory=list)
    sheet_data: tuple[int, int, int] = (0, 0, 0)
    dimension: tuple[int, int, str] | None = None

    def bottom(self, columns: Iterable[int]) -> int:
        """The last row of some columns that have a cell; 0 for none."""
        wanted = frozenset(columns)
        return max((row for row, column in self.cells if column in wanted), default=0)

    def is_blank(self, place: tuple[int, int]) -> bool:
        """Whether the part holds neither value nor formula there."""
        seen = self.glance(place)
        return seen is None or (seen[2] is None and seen[3] is None)

    def start_of(self, place: tuple[int, int]) -> int:
        """Where a cell that is there begins."""
        return self.cells[place].start

    def filled(self, rows: Iterable[int], columns: Collection[int]) -> set[tuple[int, int]]:
        """The places in some rows and columns in which a value or a formula stands."""
        places = ((row, column) for row in rows for column in columns)
        return {place for place in places if not self.is_blank(place)}

    def live(
        self, rows: Iterable[int], columns: Collection[int]
    ) -> tuple[set[tuple[int, int]], set[tuple[int, int]]]:
        """Those in which a formula stands, and those of which only reading the cell tells."""
        places = [(row, column) for row in rows for column in columns]
        known = {place: self.has_formula(place) for place in places}
        return {p for p in places if known[p]}, {p for p in places if known[p] is None}

    def filled_in(self, rows: Set[int]) -> set[tuple[int, int]]:
        """The same for all of some rows."""
        return {at for at in self.cells if at[0] in rows and not self.is_blank(at)}

    def style(self, place: tuple[int, int]) -> str:
        """What the cell of a row and column says of its style; "0" where it says nothing."""
        raw = self.cells.get(place)
        return "0" if raw is None else raw.attributes.get("s", "0")

    def styles(self, rows: Iterable[int], column: int) -> set[str]:
        """What the cells of a column say of their styles in some rows."""
        return {self.style((row, column)) for row in rows}

    def has_formula(self, place: tuple[int, int]) -> bool | None:
        """Whether a formula stands there; None where only reading the cell tells."""
        return None

    def has_formulas(self, wanted: Mapping[str, str]) -> bool:
        """Whether its bytes say at once that these formulas stand at these references."""
        return False

    def shows(self, place: tuple[int, int], kind: str, value: str | None, live: bool) -> bool:
        """Whether its bytes say at once that it holds a value, or nothing; else it is read."""
        return False

    def not_showing(
        self, rows: Iterable[int], column: int, kind: str, value: str | None, live: bool
    ) -> Iterable[int]:
        """The rows of a column of which its bytes do not say so."""
        return rows

    def glance(self, place: tuple[int, int]) -> Glance | None:
        """What the cell of a row and column holds; None where the part has no such cell."""
        raw = self.cells.get(place)
        if raw is None:
            return None
        style, kind = raw.attributes.get("s", "0"), raw.attributes.get("t", "n")
        return style, kind, raw.formula, raw.value


def column_number(letters: str) -> int:
    """1 for A, 27 for AA."""
    number = 0
    for letter in letters.upper():
        number = number * 26 + ord(letter) - 64
    return number


def column_letters(number: int) -> str:
    """A for 1, AA for 27."""
    letters = ""
    while number:
        number, rest = divmod(number - 1, 26)
        letters = chr(65 + rest) + letters
    return letters


@lru_cache(maxsize=1 << 16)
def parse_area(text: str) -> tuple[int, int, int, int]:
    """(first row, first column, last row, last column) of "B7" or "$B$7:$C$9"."""
    found = [CELL.fullmatch(part) for part in text.split(":")]
    if not 1 <= len(found) <= 2 or None in found:
        raise ValueError(f"{text!r} is not an area of cells")
    corners = [(int(m.group(2)), column_number(m.group(1))) for m in found if m]
    rows, columns = [r for r, _ in corners], [c for _, c in corners]
    return min(rows), min(columns), max(rows), max(columns)


def tag_end(data: bytes, start: int) -> int:
    """Position behind the tag that starts here; quotes may hold a >."""
    found = TAG.match(data, start)
    if found is None:
        raise PackageError("a sheet of it ends inside a tag")
    return found.end()


def element_end(data: bytes, head_end: int, here: int) -> int:
    """Position behind an element, from its start tag's end and expat's place at its end.

    For an empty element (<c/>) expat reports the end handler behind the tag itself.
    """
    return head_end if data[head_end - 2 : head_end] == b"/>" else tag_end(data, here)


def local(name: str) -> str:
    """A tag name without its prefix."""
    return name.rsplit(":", 1)[-1]


def parser() -> Any:
    """An expat parser that refuses document types."""
    made = expat.ParserCreate()
    made.buffer_text = True

    def refuse(*_: object) -> None:
        raise PackageError(f"it holds a document type, which no workbook needs; {RESTORE}")

    made.StartDoctypeDeclHandler = refuse
    return made


def scan_carefully(data: bytes) -> Scan:
    """Scan one sheet part with a parser of XML that follows every element of it."""
    scanner = _Scanner(data)
    try:
        scanner.expat.Parse(data, True)
    except PackageError:
        raise
    except (expat.ExpatError, ValueError, KeyError, OverflowError) as error:
        raise PackageError(f"a sheet of it is damaged ({error}); {RESTORE}") from None
    if not scanner.scan.sheet_data[1]:
        raise PackageError(f"a sheet of it has no place for cells; {RESTORE}")
    scanner.scan.cells, scanner.scan.rows = scanner.cells, scanner.rows
    return scanner.scan


def refuse_too_many(cells: int) -> None:
    """Refuse a sheet of more cells than memory holds with ease."""
    if cells > MOST_CELLS:
        raise PackageError(
            f"a sheet of it has more than {MOST_CELLS:,} cells; move what is not of the job "
            "to a sheet or file of its own"
        )


def refuse_damaged(data: bytes) -> bool:
    """Refuse a sheet part that is no well-formed XML.

    Whether it has nothing but elements and text: no comments, instructions, marked sections.
    """
    plain, reader = [True], parser()

    def seen(*_: object) -> None:
        plain[0] = False

    reader.CommentHandler = reader.ProcessingInstructionHandler = seen
    reader.StartCdataSectionHandler = seen
    try:
        reader.Parse(data, True)
    except expat.ExpatError as error:
        raise PackageError(f"a sheet of it is damaged ({error}); {RESTORE}") from None
    return plain[0]


# Cells of one sheet: many times what a job fills, and what memory holds with ease.
MOST_CELLS = 500_000

PARENT = {
    "sheetData": "worksheet",
    "dimension": "worksheet",
    "row": "sheetData",
    "c": "row",
    "f": "c",
    "v": "c",
    "col": "cols",
    "mergeCell": "mergeCells",
}


class _Scanner:
    def __init__(self, data: bytes) -> None:
        self.scan = Scan(data)
        self.cells: dict[tuple[int, int], RawCell] = {}
        self.rows: dict[int, RawRow] = {}
        self.data = data
        self.expat = parser()
        self.expat.StartElementHandler = self.begin
        self.expat.EndElementHandler = self.finish
        self.expat.CharacterDataHandler = self.text
        self.row: RawRow | None = None
        self.cell: RawCell | None = None
        self.capture = ""
        self.pieces: list[str] = []
        self.row_number = 0
        self.column_number = 0
        self.phonetic = 0
        self.formula_start = 0
        self.path: list[str] = []

    def begin(self, name: str, attributes: dict[str, str]) -> None:
        tag = local(name)
        parent = self.path[-1] if self.path else ""
        # A control's anchor or an extension may hold a <row> that is none of the sheet.
        if tag in PARENT and parent != PARENT[tag]:
            tag = ""
        self.path.append(tag)
        here = self.expat.CurrentByteIndex
        if tag == "c":
            self._begin_cell(attributes, here)
        elif tag == "row":
            self.row_number = int(attributes.get("r", self.row_number + 1))
            self.column_number = 0
            self.row = RawRow(self.row_number, attributes, here, tag_end(self.data, here))
        elif tag == "rPh":
            self.phonetic += 1
        elif self.cell is not None and tag in ("v", "t", "f"):
            if not self.phonetic:
                self.capture, self.pieces = tag, []
            if tag == "f":
                self.formula_start = here
                self.cell.formula_attributes = attributes
        elif tag == "sheetData":
            if self.scan.sheet_data[1]:
                raise PackageError(f"a sheet of it holds its cells twice; {RESTORE}")
            self.scan.prefix = name[: -len(tag)]
            self.scan.sheet_data = (here, tag_end(self.data, here), 0)
        elif tag == "col" and "style" in attributes:
            span = int(attributes["min"]), int(attributes["max"]), attributes["style"]
            self.scan.column_styles.append(span)
        elif tag == "mergeCell":
            self.scan.merges.append(parse_area(attributes["ref"]))
        elif tag == "dimension":
            self.scan.dimension = (here, tag_end(self.data, here), attributes.get("ref", ""))

    def _begin_cell(self, attributes: dict[str, str], here: int) -> None:
        if "r" in attributes:
            row, column, _, _ = parse_area(attributes["r"])
        else:
            row, column = self.row_number, self.column_number + 1
        self.column_number = column
        refuse_too_many(len(self.cells) + 1)
        self.cell = RawCell(row, column, attributes, here, tag_end(self.data, here))

    def finish(self, _name: str) -> None:
        tag = self.path.pop()
        here = self.expat.CurrentByteIndex
        if tag == "c" and self.cell is not None:
            self.cell.end = element_end(self.data, self.cell.head_end, here)
            self.cells[self.cell.row, self.cell.column] = self.cell
            self.cell = None
        elif tag == "row" and self.row is not None:
            self.row.body_end = here
            self.row.end = element_end(self.data, self.row.head_end, here)
            self.rows[self.row.number] = self.row
        elif tag == "rPh":
            self.phonetic -= 1
        elif tag and tag == self.capture and self.cell is not None and not self.phonetic:
            self._finish_capture(tag, here)
        elif tag == "sheetData":
            start, head_end, _ = self.scan.sheet_data
            self.scan.sheet_data = (start, head_end, here)

    def _finish_capture(self, tag: str, here: int) -> None:
        assert self.cell is not None
        text = "".join(self.pieces)
        if tag == "f":
            self.cell.formula = text
            head_end = tag_end(self.data, self.formula_start)
            end = element_end(self.data, head_end, here)
            self.cell.formula_span = (self.formula_start, end)
        else:
            self.cell.value = (self.cell.value or "") + text
        self.capture = ""

    def text(self, text: str) -> None:
        if self.capture:
            self.pieces.append(text)
