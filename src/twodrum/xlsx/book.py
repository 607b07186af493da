"""A workbook file as names and tables of cells; styles are never looked at."""

from __future__ import annotations

import math
import posixpath
import re
from collections.abc import Collection, Iterable, Mapping
from dataclasses import dataclass
from functools import cached_property, lru_cache
from pathlib import Path
from typing import NamedTuple, TypeVar
from xml.etree import ElementTree
from xml.parsers import expat

from .formats import Look, looks
from .package import RESTORE, Package, PackageError
from .scan import Scan, column_letters, parse_area, parser
from .split import scan_sheet

NUMBER = re.compile(r"[+-]?([0-9]+(\.[0-9]*)?|\.[0-9]+)([eE][+-]?[0-9]+)?")
REFUSED_CONSTANTS = ("#N/A",)
ESCAPE = re.compile(r"_x([0-9A-Fa-f]{4})_")


T = TypeVar("T")
# Cells that a name of ours may stand for.
MOST_NAMED = 500_000


class CellRead(NamedTuple):
    """One cell: what it holds and where it stands.

    ``kind`` is "blank", "number", "text", "bool" or "error"; a formula without a
    cached value is "uncalculated".
    """

    sheet: str
    row: int
    column: int
    kind: str = "blank"
    value: float | str | bool | None = None
    formula: bool = False
    sheet_index: int = 0
    formula_text: str = ""
    style: int = 0

    @property
    def where(self) -> str:
        return f"{quoted(self.sheet)}!{column_letters(self.column)}{self.row}"

    @property
    def position(self) -> tuple[int, int, int]:
        return self.sheet_index, self.row, self.column


@dataclass(frozen=True)
class Area:
    """A rectangle of cells on one sheet."""

    sheet: str
    first_row: int
    first_column: int
    last_row: int
    last_column: int

    @property
    def first(self) -> tuple[str, int, int]:
        """The address of its first cell."""
        return self.sheet, self.first_row, self.first_column


@dataclass(frozen=True)
class TableRead:
    """One table: its sheet, its rows below the header, its columns by header."""

    name: str
    area: Area
    columns: dict[str, int]
    end_row: int


@lru_cache(maxsize=1 << 10)
def quoted(sheet: str) -> str:
    """A sheet name as a formula writes it."""
    plain = re.fullmatch(r"[^\W\d]\w*", sheet)
    return sheet if plain else "'" + sheet.replace("'", "''") + "'"


def unquoted(sheet: str) -> str:
    """The same read back: the sheet that a formula names."""
    return sheet.strip("'").replace("''", "'")


# How the name of a column ends whose cells have no names of their own: "cost_unit_column" holds
# the units of what is named on Cost, and is asked for as "net_price_unit".
COLUMN = "_column"
# What the row of the units above the heads of a table says first, and how many rows higher it is
# looked for where people put some between.
UNITS, MOST_BETWEEN = "units", 5
# What stands before the value that a page says, and how the name of that ends.
WORDS = "words"
SAID = "_said"


class Book:
    """The cells of one workbook, read on demand."""

    def __init__(self, package: Package) -> None:
        self.package = package
        self._scans: dict[str, Scan] = {}
        # What parts lead to, as it was read of these bytes.
        self._related: dict[str, tuple[bytes, dict[str, tuple[str, str]]]] = {}
        self._read: dict[tuple[str, int, int], CellRead] = {}
        self._areas: dict[str, Area | None] = {}
        self._units_rows: dict[Area, int] = {}
        self.workbook_part = self._relation("", "officeDocument", first=True)
        root = self.xml(self.workbook_part)
        relations = self.relations(self.workbook_part)
        self.sheets: dict[str, str] = {}
        self.names: dict[str, str] = {}
        self.date_1904 = False
        for element in root.iterfind(".//{*}sheet"):
            key = next(v for k, v in element.attrib.items() if k.endswith("}id"))
            target = relations[key][1]
            if relations[key][0].endswith("/worksheet"):
                self.sheets[element.attrib["name"]] = target
        for element in root.iterfind(".//{*}definedName"):
            if "localSheetId" not in element.attrib:
                self.names[element.attrib["name"].casefold()] = (element.text or "").strip()
        for element in root.iterfind(".//{*}workbookPr"):
            self.date_1904 = element.attrib.get("date1904") in ("1", "true")
        # What names are called otherwise: by that, their name in the file.
        self.aliases: dict[str, str] = {}
        # Cells above the heads of its tables, by what they are called: table and head.
        self.heads: Mapping[str, tuple[str, str]] = {}
        # Headings that its tables do not have, as a formula writes them.
        self.head_aliases: set[str] = set()
        self.prefix = prefix_of(self.names)
        self.names = without(self.prefix, self.names)
        self.sheet_order = {name: index for index, name in enumerate(self.sheets)}
        self._strings: list[str] | None = None
        self._looks: list[Look] | None = None
        self._tables: dict[str, TableRead] | None = None

    @classmethod
    def open(cls, path: str | Path) -> Book:
        """The book of a file; PackageError says why a file is refused."""
        package = Package.open(path)
        try:
            return cls(package)
        except (KeyError, StopIteration, ValueError) as error:
            if isinstance(error, PackageError):
                raise
            raise PackageError(f"its list of sheets is damaged; {RESTORE}") from None

    def xml(self, part: str) -> ElementTree.Element:
        """A part as a tree; PackageError where it is damaged or declares a document type."""
        data = self.package.read(part)
        try:
            if b"<!" in data or b"\x00" in data[:4]:
                # It may declare a document type.
                parser().Parse(data, True)
            return ElementTree.fromstring(data)
        except (ElementTree.ParseError, expat.ExpatError) as error:
            raise PackageError(f"its part {part} is damaged ({error}); {RESTORE}") from None

    def relations(self, part: str) -> dict[str, tuple[str, str]]:
        """What a part leads to, by its key: of what kind, and which part."""
        folder, name = posixpath.split(part)
        source = posixpath.join(folder, "_rels", f"{name}.rels")
        if not self.package.has(source):
            return {}
        data = self.package.read(source)
        if source in self._related and self._related[source][0] is data:
            return dict(self._related[source][1])
        found = {}
        for element in self.xml(source):
            known = element.attrib.keys() >= {"Id", "Type", "Target"}
            if not known or element.attrib.get("TargetMode") == "External":
                continue
            target = element.attrib["Target"].replace("\\", "/")
            path = target if target.startswith("/") else posixpath.join(folder, target)
            kind = element.attrib["Type"]
            found[element.attrib["Id"]] = (kind, posixpath.normpath(path.lstrip("/")))
        self._related[source] = (data, found)
        return dict(found)

    def _relation(self, part: str, suffix: str, first: bool = False) -> str:
        for kind, target in self.relations(part).values():
            if kind.endswith("/" + suffix):
                return target
        if first:
            raise PackageError("it is not a workbook; save it as .xlsx")
        return ""

    @property
    def strings(self) -> list[str]:
        """The shared strings, phonetic hints left out."""
        if self._strings is None:
            self._strings = []
            part = self._relation(self.workbook_part, "sharedStrings")
            if part:
                for item in self.xml(part):
                    self._strings.append(_string(item))
        return self._strings

    @property
    def styles_part(self) -> str:
        """The part of the cell formats; "" where there is none."""
        return self._relation(self.workbook_part, "styles")

    @property
    def chain_part(self) -> str:
        """The part of the chain of calculation; "" where there is none."""
        return self._relation(self.workbook_part, "calcChain")

    def sheet_numbers(self) -> dict[str, int]:
        """The number that the file itself gives each sheet, by its name."""
        return {
            element.attrib["name"]: int(element.attrib["sheetId"])
            for element in self.xml(self.workbook_part).iter()
            if element.tag.rsplit("}", 1)[-1] == "sheet"
        }

    def all_sheets(self) -> list[str]:
        """The titles of all sheets in their order, those of charts alone among them."""
        return list(self.sheet_states())

    def sheet_states(self) -> dict[str, str]:
        """Whether each sheet is "visible" or hidden, by its title."""
        root = self.xml(self.workbook_part)
        found = (e.attrib for e in root.iter() if e.tag.rsplit("}", 1)[-1] == "sheet")
        return {said["name"]: said.get("state", "visible") for said in found}

    def all_names(self) -> set[str]:
        """Every name that the whole workbook knows, in lower case."""
        root = self.xml(self.workbook_part)
        names = (e for e in root.iter() if e.tag.rsplit("}", 1)[-1] == "definedName")
        return {e.attrib["name"].casefold() for e in names if "localSheetId" not in e.attrib}

    def all_tables(self) -> dict[str, int]:
        """The number of every table by its name, those of others too."""
        found = {}
        for part in self.sheets.values():
            for kind, target in self.relations(part).values():
                if kind.endswith("/table"):
                    said = self.xml(target).attrib
                    found[said.get("displayName", said.get("name", ""))] = int(said.get("id", 0))
        return found

    def look(self, cell: CellRead) -> Look:
        """What matters of a cell's style."""
        if self._looks is None:
            part = self.styles_part
            self._looks = looks(self.xml(part)) if part else []
        return self._looks[cell.style] if cell.style < len(self._looks) else Look()

    def scan(self, sheet: str) -> Scan:
        """The raw cells of a sheet."""
        if sheet not in self._scans:
            self._scans[sheet] = scan_sheet(self.package.read(self.sheets[sheet]))
        return self._scans[sheet]

    def keep_scans(self, other: Book) -> None:
        """Take over the scans of sheets that are the same here as in another book."""
        for sheet, scan in other._scans.items():
            if sheet in self.sheets and self.package.read(self.sheets[sheet]) == scan.data:
                self._scans[sheet] = scan

    def bottom(self, sheet: str, columns: Iterable[int]) -> int:
        """The last row of some columns of a sheet in which anything may stand; 0 for none."""
        return self.scan(sheet).bottom(columns)

    def is_blank(self, sheet: str, row: int, column: int) -> bool:
        """Whether the sheet holds neither value nor formula there."""
        return self.scan(sheet).is_blank((row, column))

    def filled(
        self, sheet: str, rows: Iterable[int], columns: Collection[int]
    ) -> set[tuple[int, int]]:
        """The places in some rows and columns of a sheet in which anything stands."""
        return self.scan(sheet).filled(rows, columns)

    def live(
        self, sheet: str, rows: Iterable[int], columns: Collection[int]
    ) -> set[tuple[int, int]]:
        """The same in which a live formula stands."""
        sure, unsure = self.scan(sheet).live(rows, columns)
        return sure | {place for place in unsure if self.cell(sheet, *place).formula}

    def style(self, sheet: str, row: int, column: int) -> int:
        """The number of the format of a cell; 0 where it has none."""
        found = self.scan(sheet).style((row, column))
        return int(found) if found.isdecimal() else 0

    def styles(self, sheet: str, rows: Iterable[int], column: int) -> set[int]:
        """The numbers of the formats that a column has in some rows."""
        found = self.scan(sheet).styles(rows, column)
        return {int(style) if style.isdecimal() else 0 for style in found}

    def has_formula(self, sheet: str, row: int, column: int) -> bool:
        """Whether a live formula stands there."""
        known = self.scan(sheet).has_formula((row, column))
        return self.cell(sheet, row, column).formula if known is None else known

    def cell(self, sheet: str, row: int, column: int) -> CellRead:
        """One cell; blank where the sheet holds nothing."""
        found = self._read.get((sheet, row, column))
        if found is None:
            found = self._read[sheet, row, column] = self._cell(sheet, row, column)
        return found

    def _cell(self, sheet: str, row: int, column: int) -> CellRead:
        index = self.sheet_order[sheet]
        seen = self.scan(sheet).glance((row, column))
        if seen is None:
            return CellRead(sheet, row, column, sheet_index=index)
        style, said, formula, text = seen
        kind, value = self._value(said, formula is not None, text)
        # LibreOffice 25.2 saves a constant #N/A as a formula; it is no live one.
        live = formula is not None and formula.strip("= ") not in REFUSED_CONSTANTS
        number = int(style) if style.isdecimal() else 0
        return CellRead(sheet, row, column, kind, value, live, index, formula or "", number)

    def _value(
        self, kind: str, formula: bool, text: str | None
    ) -> tuple[str, float | str | bool | None]:
        if text is None or (text == "" and kind == "n"):
            if formula and kind != "str":
                return "uncalculated", None
            return ("text", "") if formula else ("blank", None)
        if kind == "s":
            known = text.isascii() and text.isdecimal() and int(text) < len(self.strings)
            return "text", self.strings[int(text)] if known else text
        if kind in ("str", "inlineStr", "d"):
            return "text", unescaped(text)
        if kind == "b":
            return "bool", text in ("1", "true")
        if kind == "e":
            return "error", text
        if NUMBER.fullmatch(text.strip()) and math.isfinite(float(text)):
            return "number", float(text)
        return "text", text

    def area(self, name: str) -> Area | None:
        """Where a defined name points; None where it is missing or lost its cells."""
        if name not in self._areas:
            self._areas[name] = self._area(name)
        return self._areas[name]

    def know(self, aliases: Mapping[str, str]) -> None:
        """Find names by other words too; those of the file come first."""
        new = {name: there for name, there in aliases.items() if name not in self.names}
        if new != self.aliases:
            self.aliases = new
            self._areas = {name: area for name, area in self._areas.items() if area is not None}

    def know_heads(self, heads: Mapping[str, tuple[str, str]]) -> None:
        """Find cells above the heads of tables by a name; those of the file come first."""
        if heads is not self.heads:
            self.heads = heads
            self._areas = {name: area for name, area in self._areas.items() if area is not None}

    def _area(self, name: str) -> Area | None:
        name = name.casefold()
        text = self.names.get(self.aliases.get(name, name), "")
        if text:
            return self._pointed(text)
        return self._above(name) if name in self.heads else self._in_column(name)

    def _above(self, name: str) -> Area | None:
        """The cell above the head of a column of a table."""
        table, head = self.heads[name]
        read = self.tables.get(table)
        if read is None or head not in read.columns:
            return None
        row, column = self.units_row(read), read.columns[head]
        return Area(read.area.sheet, row, column, row, column)

    def units_row(self, read: TableRead) -> int:
        """The row of the units of a table: the one above its heads, also where some are between."""
        area, beside = read.area, read.area.first_row - 2
        if area not in self._units_rows:
            rows = range(beside, max(beside - MOST_BETWEEN, 1) - 1, -1)
            cells = (self.cell(area.sheet, row, area.first_column) for row in rows)
            found = (c.row for c in cells if str(c.value).strip().casefold() == UNITS)
            self._units_rows[area] = next(found, beside)
        return self._units_rows[area]

    def named_itself(self, name: str) -> bool:
        """Whether a cell has a name of its own and is not found by that of its column alone."""
        name = name.casefold()
        return self.aliases.get(name, name) in self.names

    def _in_column(self, name: str) -> Area | None:
        """A cell that stands beside a named one, in a column that has a name of its own."""
        base, _, what = name.rpartition("_")
        columns = self._named_columns.get(what, ())
        if columns and what == WORDS:
            base += SAID
        one = self.area(base) if columns else None
        if one is None:
            return None
        # Where several blocks stand on a sheet it is the next one to the right; words stand left.
        places = [
            column.first_column
            for column in columns
            if column.sheet == one.sheet
            if (column.first_column < one.first_column) == (what == WORDS)
            if column.first_row <= one.first_row <= column.last_row
        ]
        if not places:
            return None
        place = max(places) if what == WORDS else min(places)
        return Area(one.sheet, one.first_row, place, one.first_row, place)

    @cached_property
    def _named_columns(self) -> dict[str, list[Area]]:
        found: dict[str, list[Area]] = {}
        for name, text in self.names.items():
            if name.endswith(COLUMN):
                area = self._pointed(text)
                what = name[: -len(COLUMN)].rpartition("_")[2]
                found.setdefault(what, []).extend([area] if area else [])
        return found

    def _pointed(self, text: str) -> Area | None:
        sheet, separator, cells = text.rpartition("!")
        if not separator:
            return None
        if sheet.startswith("'"):
            sheet = sheet[1:-1].replace("''", "'")
        if sheet not in self.sheets:
            return None
        try:
            area = Area(sheet, *parse_area(cells))
        except ValueError:
            return None
        rows, columns = area.last_row - area.first_row + 1, area.last_column - area.first_column + 1
        # A name of ours that was stretched over whole columns is as good as lost.
        return area if rows * columns <= MOST_NAMED else None

    def named(self, name: str) -> CellRead | None:
        """The cell of a defined name."""
        area = self.area(name)
        return None if area is None else self.cell(*area.first)

    @property
    def tables(self) -> dict[str, TableRead]:
        """Every table of every sheet, by its name in lower case."""
        if self._tables is None:
            self._tables = {}
            for sheet, part in self.sheets.items():
                for kind, target in self.relations(part).values():
                    if kind.endswith("/table"):
                        try:
                            table = self._table(sheet, target)
                        except PackageError:
                            raise
                        except (KeyError, ValueError) as error:
                            text = f"its part {target} is damaged ({error}); {RESTORE}"
                            raise PackageError(text) from None
                        self._tables[table.name.casefold()] = table
            self._tables = without(self.prefix, self._tables)
        return self._tables

    def _table(self, sheet: str, part: str) -> TableRead:
        root = self.xml(part)
        first_row, first_column, last_row, last_column = parse_area(root.attrib["ref"])
        header = 0 if root.attrib.get("headerRowCount") == "0" else 1
        totals = 0 if root.attrib.get("totalsRowCount", "0") == "0" else 1
        heads = [e.attrib["name"] for e in root.iter() if e.tag.endswith("}tableColumn")]
        columns = {
            " ".join(ESCAPE.sub(" ", head).split()): first_column + index
            for index, head in enumerate(heads)
        }
        area = Area(sheet, first_row + header, first_column, last_row - totals, last_column)
        name = root.attrib.get("displayName", root.attrib["name"])
        return TableRead(name, area, columns, last_row)


# Each workbook of ours has a cell of this name: it tells what stands before all our names.
ANCHOR, BESIDE = "state_start", "overall_state"


def prefix_of(names: Iterable[str]) -> str:
    """What stands before each of our names in a book; "" where they are as in the template."""
    there = set(names)
    found = [name.removesuffix(ANCHOR) for name in there if name.endswith(ANCHOR)]
    return min((one for one in found if one + BESIDE in there), key=len, default="")


def without(prefix: str, names: Mapping[str, T]) -> dict[str, T]:
    """Our names as the template has them; what others named is left out where we can tell."""
    ours = (name for name in names if name.startswith(prefix))
    return {name.removeprefix(prefix): names[name] for name in ours}


def unescaped(text: str) -> str:
    """A text with its _xHHHH_ read; halves of a pair are joined."""
    if "_x" not in text:
        return text
    found = ESCAPE.sub(lambda m: chr(int(m.group(1), 16)), text)
    return found.encode("utf-16", "surrogatepass").decode("utf-16", "surrogatepass")


def _string(item: ElementTree.Element) -> str:
    pieces = []
    for child in item:
        tag = child.tag.rsplit("}", 1)[-1]
        if tag == "t":
            pieces.append(child.text or "")
        elif tag == "r":
            pieces += [t.text or "" for t in child if t.tag.rsplit("}", 1)[-1] == "t"]
    return unescaped("".join(pieces))
