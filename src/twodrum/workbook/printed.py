"""What of a sheet is printed: the rows in use of a long table, and no chart without a line."""

from __future__ import annotations

import re
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from functools import lru_cache
from html import unescape

from ..engine.evaluate import Values
from ..engine.model import Cell, Field, Listing, Model
from ..xlsx.book import Book, TableRead, quoted, unquoted
from ..xlsx.markup import escape
from .layout import CHART_ROWS, ON_DEMAND, UNIT_ROW, hosts, listing_name, make_layout
from .pattern import our_sheets, template_book
from .unused_rows import study_blocks

PRINTED = re.compile(
    rb"(<(?:[\w.-]+:)?definedName\b[^>]*\bname=[\"']_xlnm\.Print_Area[\"'][^>]*>)([^<]*)(?=</)"
)
PIECE = re.compile(r"(?P<sheet>.+)!\$A\$(?P<top>\d+):\$(?P<column>[A-Z]+)\$(?P<bottom>\d+)")
Rows = tuple[int, int]


@dataclass(frozen=True)
class Printed:
    """The rows of a sheet that are printed, from column A to another."""

    sheet: str
    column: str
    rows: tuple[Rows, ...]

    def text(self) -> str:
        """As a workbook writes it."""
        title = quoted(self.sheet)
        return ",".join(f"{title}!$A${top}:${self.column}${end}" for top, end in self.rows)


def _printed(text: str) -> Printed | None:
    """The same read; None where it is none that we write."""
    found = [PIECE.fullmatch(piece) for piece in text.split(",")]
    pieces = [piece for piece in found if piece is not None]
    alike = {(piece["sheet"], piece["column"]) for piece in pieces}
    if len(pieces) < len(found) or len(alike) != 1:
        return None
    sheet, column = alike.pop()
    rows = tuple((int(piece["top"]), int(piece["bottom"])) for piece in pieces)
    return Printed(unquoted(sheet), column, rows)


def with_print_areas(book: Book, model: Model, values: Values) -> Book:
    """A book whose print of each sheet with a table or a study's block ends behind its last row.

    Of a table without a row the heads are printed and one row; what people set otherwise stays.
    """
    ours = our_sheets(model, book)
    ends: dict[str, tuple[range, int]] = _of_seldom(model, values, ours)
    on_demand: dict[str, int] = {}
    for table in model.tables:
        read, blank = book.tables.get(table.name), template_book(model.name).tables[table.name]
        if table.keys or read is None or ours.get(table.sheet) != read.area.sheet:
            continue
        typed = [read.columns[f.label] for f in table.fields if f.label in read.columns]
        used = last_used(book, read, typed)
        if table.sheet in ON_DEMAND:
            # By what is used of it: 0 where nothing is.
            on_demand[read.area.sheet] = used
        end = max(read.area.first_row, used)
        ends[read.area.sheet] = range(blank.area.first_row, read.end_row + 1), end
    ends.update(_of_letters(model, book, ours))
    apart = {table.sheet for table in model.tables if not table.keys} | hosts(model).keys()
    lowest = _last_results(model)
    for sheet, places in study_blocks(book, model, values, apart).items():
        # To the last row of the lowest that has one, of those below whatever else is there.
        below = [block for block in places if block[0].area.first_row > lowest.get(sheet, 0)]
        if below:
            read, count = next((block for block in reversed(below) if block[1]), below[0])
            bottoms = range(below[0][0].area.first_row, below[-1][0].end_row + 1)
            ends[sheet] = bottoms, read.area.first_row - 1 + max(1, count)
    usual = {ours[title]: printed for title, printed in _usual(model).items() if title in ours}
    charts = _charts(model, book, ours, values)
    data = book.package.read(book.workbook_part)

    def put(found: re.Match[bytes]) -> bytes:
        now = _printed(unescape(found[2].decode()))
        of_template = usual.get(now.sheet) if now else None
        if now is None or of_template is None or now.column != of_template.column:
            return found[0]
        if now.sheet in on_demand:
            rows = ((1, end),) if (end := on_demand[now.sheet]) else of_template.rows
            if len(now.rows) > 1 or now.rows[0][0] not in (1, of_template.rows[0][0]):
                return found[0]
            return found[1] + escape(Printed(now.sheet, now.column, rows).text()).encode()
        first = of_template.rows[0][0]
        tops = {first, *(bottom + 1 for _, bottom, _ in charts.get(now.sheet, ()))}
        last = now.rows[-1][1]
        bottoms, end = ends.get(now.sheet, (range(last, last + 1), last))
        if last not in bottoms or not tops.issuperset(top for top, _ in now.rows):
            return found[0]
        rows = _without_empty(charts.get(now.sheet, ()), first, end)
        if rows == now.rows:
            return found[0]
        return found[1] + escape(Printed(now.sheet, now.column, rows).text()).encode()

    book.package.replace(book.workbook_part, PRINTED.sub(put, data))
    return book


def _of_seldom(
    model: Model, values: Values, ours: Mapping[str, str]
) -> dict[str, tuple[range, int]]:
    """Sheets whose last blocks are printed where something is typed into one of them."""
    found = {}
    for sheet, often in make_layout(model).often_to.items():
        blocks = [block for block in model.blocks if block.sheet == sheet]
        names = [field.name for block in blocks if block.seldom for field in block.fields]
        places = (template_book(model.name).area(name) for name in names)
        last = max(place.first_row for place in places if place is not None)
        used = any(not values.names[name].blank for name in names)
        if sheet in ours:
            found[ours[sheet]] = range(often, last + 1), last if used else often
    return found


def _of_letters(model: Model, book: Book, ours: Mapping[str, str]) -> dict[str, tuple[range, int]]:
    """Letters, which end with the last row of what they list."""
    found = {}
    for page in model.pages:
        line = page.lines[-1]
        if not page.letter or not isinstance(line, Listing) or page.sheet not in ours:
            continue
        area, read = book.area(listing_name(page.sheet, line.table)), book.tables.get(line.table)
        if area is not None and read is not None:
            last = last_used(book, read, [read.area.first_column])
            down = max(0, last - read.area.first_row)
            end = min(area.first_row + down, area.last_row)
            found[area.sheet] = range(area.first_row, area.last_row + 1), end
    return found


def _without_empty(charts: Sequence[tuple[int, int, bool]], top: int, end: int) -> tuple[Rows, ...]:
    """The rows from a first one down to an end, without those of charts that draw nothing."""
    rows = []
    for first, last, empty in charts:
        if empty and last < end:
            # The head of the sheet is repeated on each page.
            rows += [(top, first - 1)] if first > max(top, UNIT_ROW) else []
            top = last + 1
    return (*rows, (top, end))


def _charts(
    model: Model, book: Book, ours: Mapping[str, str], values: Values
) -> dict[str, list[tuple[int, int, bool]]]:
    """The rows of the charts of each sheet, and whether they draw nothing.

    Where rows were inserted their places are not known, and all are printed.
    """
    found: dict[str, list[tuple[int, int, bool]]] = {}
    layout = make_layout(model)
    tops = layout.chart_tops
    for study in model.studies:
        read, blank = book.tables.get(study.name), template_book(model.name).tables.get(study.name)
        if study.name not in tops or study.sheet in hosts(model) or read is None or blank is None:
            continue
        if read.area.first_row != blank.area.first_row:
            return {}
        first = tops[study.name]
        last = first + len(study.charts) * CHART_ROWS - 1
        if first == layout.input_rows.get(study.sheet, (0, 0))[1] + 2:
            # What is picked above them goes with them.
            first = UNIT_ROW
        empty = not values.studies.get(study.name)
        found.setdefault(ours.get(study.sheet, ""), []).append((first, last, empty))
    return {sheet: sorted(charts) for sheet, charts in found.items()}


@lru_cache(maxsize=8)
def _last_results(model: Model) -> dict[str, int]:
    """The last row of single values on each sheet of a template."""
    found: dict[str, int] = {}
    items: list[Field | Cell] = [*model.fields(), *model.cells]
    for item in items:
        area = template_book(model.name).area(item.name)
        if area is not None:
            found[area.sheet] = max(found.get(area.sheet, 0), area.first_row)
    return found


@lru_cache(maxsize=8)
def _usual(model: Model) -> dict[str, Printed]:
    """What a template prints of each sheet."""
    blank = template_book(model.name)
    texts = PRINTED.findall(blank.package.read(blank.workbook_part))
    areas = [_printed(unescape(text.decode())) for _, text in texts]
    return {area.sheet: area for area in areas if area is not None and len(area.rows) == 1}


def last_used(book: Book, read: TableRead, columns: list[int]) -> int:
    """The last row of a table in which something is typed; 0 where none is."""
    rows = range(read.area.first_row, read.end_row + 1)
    filled = book.filled(read.area.sheet, rows, columns)
    return max((row for row, _ in filled), default=0)
