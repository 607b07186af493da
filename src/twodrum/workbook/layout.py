"""Where each declared thing stands on its sheet, and what it is called there.

Only the builder uses addresses; reader and writer find everything by the defined
names and table names that this module spells.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, field
from functools import lru_cache

from ..engine.model import ACCEPTED, Cell, Column, Field, Grid, Line, Model, Page, Study
from ..engine.order import filled
from ..units import KINDS
from ..xlsx.book import SAID, WORDS
from ..xlsx.scan import column_letters

UNIT_ROW = 5
HEADER_ROW = 6
FIRST_ROW = 7

# Columns of a single value: label, shown value, unit, SI, note, and for results the source.
LABEL, VALUE, UNIT, SI, NOTE, SOURCE = "ABCDEF"

# Columns of the fields table on Units.
FIELD_COLUMNS = (
    "Name",
    "What",
    "Add",
    "Times",
    "Least in SI",
    "Most in SI",
    "From",
    "To",
    "If blank in SI",
    "Why that",
    "None below",
)
ADD, TIMES, LEAST, MOST, FROM, TO, IF_BLANK, WHY, GAP = "CDEFGHIJK"

USED_HEADER = "In use"
ROW_HEADER = "Row"
NOTE_HEADER = "Note"
SI_SUFFIX = " SI"

SNAPSHOT_ROWS = 400
PROBLEM_ROWS = 40
ASSUMED_ROWS = 40


@dataclass(frozen=True)
class Place:
    """One column of a table: its header, letter, and what it is."""

    item: Field | Column | None
    header: str
    letter: str
    role: str  # "input", "key", "used", "row", "result", "note", "si"


@dataclass
class Layout:
    """Positions of one workbook."""

    model: Model
    records: dict[str, tuple[str, int]] = field(default_factory=dict)
    # First row below the heads of the single values of each sheet.
    first_rows: dict[str, int] = field(default_factory=dict)
    # First and last row of the single inputs of each sheet.
    input_rows: dict[str, tuple[int, int]] = field(default_factory=dict)
    headings: dict[str, list[tuple[int, str]]] = field(default_factory=dict)
    places: dict[str, list[Place]] = field(default_factory=dict)
    # Row of the heading of a study's block, and of its first chart.
    study_tops: dict[str, int] = field(default_factory=dict)
    chart_tops: dict[str, int] = field(default_factory=dict)
    field_rows: dict[str, int] = field(default_factory=dict)
    # Row of each line of a page; of a listing that of its heads.
    page_rows: dict[str, list[int]] = field(default_factory=dict)
    # Last row of a sheet before blocks that are seldom used, which stand last on it.
    often_to: dict[str, int] = field(default_factory=dict)

    def place(self, table: str, name: str, role: str) -> Place:
        for place in self.places[table]:
            if place.role == role and (place.item is None or place.item.name == name):
                return place
        raise KeyError(f"{table}.{name} {role}")

    def last_row(self, table: str) -> int:
        return FIRST_ROW + self.model.table(table).capacity - 1

    def blank_row(self, table: str) -> int:
        """A row below a table in which nothing stands."""
        return self.last_row(table) + 2

    def ref(self, table: str) -> str:
        places = self.places[table]
        return f"A{HEADER_ROW}:{places[-1].letter}{self.last_row(table)}"


# Rows below a table that are looked at, and that a table may have: many times what a job fills.
MOST_ROWS = 5_000

# Sheets that are declared by themselves and stand on another, beside what is there.
ON = {
    "Chances": "Film and loss",
    **dict.fromkeys(
        ("Odds", "Shelf", "Accepted", "Sums", "Record", "Units", "Lists", "Snapshot"), "Workings"
    ),
}
# What nobody types into, decides on or prints: Start lists it and says how to see it.
HIDDEN = ("Workings", *(sheet for sheet, host in ON.items() if host == "Workings"))
# What nobody needs before a quote was accepted: out of sight until then.
LATER = ("Change order",)
# Sheets of one table of which nothing is printed before somebody types into it.
ON_DEMAND = ("Options",)
# Where no part of a job is the quote, what the others take from it stands on one sheet.
TAKEN_ON = dict.fromkeys(("Areas", "Materials"), "Job")
# Sheets that older versions had, and where what stood there stands today.
FORMER_SHEETS = {"Pricing": "Job"}


def hosts(model: Model) -> dict[str, str]:
    """Sheets of a model that stand on another, and on which."""
    alone = model.parts and "quote" not in model.parts
    return {**ON, **TAKEN_ON} if alone else ON


# The cell on Start that names the parts of a job.
PARTS_HERE = "parts_here"

# Sheets that keep the anchors of an older title, by which workbooks made before are read.
ANCHORS = {"Film and loss": "scenarios", "Workings": "what_ifs"}


def titles(model: Model) -> Iterator[str]:
    """The sheets of a model, and those that an older version had."""
    yield from (sheet for sheet, _ in model.sheets)
    yield from FORMER_SHEETS


def slug(sheet: str) -> str:
    """A sheet's name as part of a defined name."""
    if sheet in ANCHORS:
        return ANCHORS[sheet]
    return sheet.lower().replace("-", "_").replace(" ", "_")


def has_si(item: Field | Cell | Column) -> bool:
    """Whether a column needs an SI column beside it: inputs always, results with a unit choice."""
    if item.kind not in KINDS:
        return False
    return isinstance(item, Field) or len(KINDS[item.kind].units) > 1


def in_workings(item: Field | Column) -> bool:
    """Whether an item has a column among the workings of its table."""
    return has_si(item) or (isinstance(item, Column) and item.working)


def value_header(item: Field | Column) -> str:
    """Header of the column that holds the value for formulas: SI where there is a choice."""
    return item.label + SI_SUFFIX if has_si(item) else item.label


@lru_cache(maxsize=1 << 12)
def limits_of(model: Model, name: str) -> tuple[str, ...]:
    """Single values that an input may not be above, such as limits of a data sheet."""
    return tuple(order.high for order in model.orders if order.low == name and order.limit)


def has_field_row(item: Field | Cell | Column) -> bool:
    """Whether an item has a row on Units."""
    if item.kind in KINDS:
        return True
    return isinstance(item, Field) and item.default is not None


def unit_choices(item: Field | Cell | Column) -> bool:
    """Whether the office may pick the unit of an item."""
    if isinstance(item, (Cell, Column)) and item.working:
        return False
    return item.kind in KINDS and len(KINDS[item.kind].units) > 1


@lru_cache(maxsize=32)
def apart(model: Model) -> frozenset[str]:
    """Results that have a cell for formulas beside the one that is shown.

    They are those whose unit the office picks, those that are not shown, and those that no live
    formula gives.
    """
    by_fill = filled(model)
    beside = (c for c in model.cells if c.working or unit_choices(c) or c.name in by_fill)
    return frozenset(cell.name for cell in beside)


def own_units(study: Study) -> list[Field]:
    """Columns of a study's block whose unit the office picks."""
    return [c for c in study.columns if c.name not in study.units and unit_choices(c)]


def units_picked(model: Model) -> Iterator[tuple[str, Field | Cell | Column]]:
    """Everything whose unit the office picks, by the name of its cell of the unit, less "_unit"."""
    singles: list[Field | Cell] = [*model.fields(), *model.cells]
    items: list[tuple[str, Field | Cell | Column]] = [(item.name, item) for item in singles]
    for table in model.tables:
        fields = () if table.keys else table.fields
        columns: list[Field | Column] = [*fields, *model.columns_of(table.name)]
        items += [(f"{table.name}_{column.name}", column) for column in columns]
    for study in model.studies:
        items += [(f"{study.name}_{shown.name}", shown) for shown in own_units(study)]
    return ((name, item) for name, item in items if unit_choices(item))


@lru_cache(maxsize=32)
def heads_of_units(model: Model) -> dict[str, tuple[str, str]]:
    """The cells of the units of columns by their names: the table and the head they stand above."""
    found = {}
    for table in model.tables:
        columns: list[Field | Column] = [*table.fields, *model.columns_of(table.name)]
        for item in columns:
            if item.kind in KINDS and not (isinstance(item, Column) and item.working):
                found[f"{table.name}_{item.name}_unit"] = table.name, item.label
    for study in model.studies:
        for shown in own_units(study):
            found[f"{study.name}_{shown.name}_unit"] = study.name, shown.label
    return found


CHART_ROWS = 22
# A block of so many rows.
LONG = 30


@lru_cache(maxsize=32)
def make_layout(model: Model) -> Layout:
    """Place every declared thing; to be read only, as all who ask have the same."""
    layout = Layout(model)
    free: dict[str, int] = dict.fromkeys(model.result_sheets, UNIT_ROW)
    _place_picks(layout, free)
    shown = [study for study in model.studies if study.columns]
    for study in shown:
        # Charts stand above whatever may grow in height, or they would lie over it.
        for _ in study.charts:
            layout.chart_tops.setdefault(study.name, free.setdefault(study.sheet, UNIT_ROW))
            free[study.sheet] += CHART_ROWS
    for study in shown:
        # What is long stands last, where its print ends with it; a few rows are read first.
        short = study.capacity < LONG and all(chart.look == "bars" for chart in study.charts)
        if study.sheet in free and short:
            _place_study(layout, study, free)
    _place_records(layout, free)
    for table in model.tables:
        _place_table(layout, table.name)
        free[table.sheet] = layout.last_row(table.name) + 3
    for study in shown:
        if study.name not in layout.study_tops:
            _place_study(layout, study, free)
    _place_field_rows(layout)
    for page in model.pages:
        _place_page(layout, page, free.get(page.sheet, UNIT_ROW))
    return layout


def _place_picks(layout: Layout, free: dict[str, int]) -> None:
    """What is picked on a sheet that shows results stands above all of it."""
    for block in layout.model.blocks:
        if picked_on(layout.model, block.sheet):
            row = free.get(block.sheet, UNIT_ROW)
            layout.headings.setdefault(block.sheet, []).append((row, block.heading))
            for index, item in enumerate(block.fields, row + 1):
                layout.records[item.name] = (block.sheet, index)
            last = row + len(block.fields)
            layout.input_rows[block.sheet] = (row + 1, last)
            free[block.sheet] = last + 2


def _place_records(layout: Layout, free: dict[str, int]) -> None:
    rows: dict[str, int] = {}
    typed = [b for b in layout.model.blocks if b.sheet not in layout.input_rows]
    for sheet in (*(block.sheet for block in typed), *layout.model.result_sheets):
        top = free.get(sheet, UNIT_ROW)
        rows[sheet] = layout.first_rows[sheet] = top + 2
    blocks = [(b.sheet, b.heading, [f.name for f in b.fields]) for b in typed]
    blocks += [(b.sheet, b.heading, [c.name for c in b.cells]) for b in layout.model.results]
    seldom = {b.heading for b in layout.model.blocks if b.seldom}
    for sheet, heading, names in blocks:
        row = rows[sheet]
        if heading in seldom:
            layout.often_to.setdefault(sheet, row - 1)
        else:
            layout.often_to.pop(sheet, None)
        layout.headings.setdefault(sheet, []).append((row, heading))
        for name in names:
            row += 1
            layout.records[name] = (sheet, row)
        rows[sheet] = row + 1
        free[sheet] = row + 3
    for block in typed:
        last = max(layout.records[item.name][1] for item in block.fields)
        layout.input_rows[block.sheet] = (layout.first_rows[block.sheet], last)


def _place_table(layout: Layout, name: str) -> None:
    table = layout.model.table(name)
    results = layout.model.columns_of(name)
    wanted: list[tuple[Field | Column | None, str, str]] = []
    if table.keys:
        wanted += [(item, item.label, "key") for item in table.fields]
    else:
        wanted += [(item, item.label, "input") for item in table.fields]
    wanted += [(item, item.label, "result") for item in results if not item.working]
    wanted.append((None, NOTE_HEADER, "note"))
    wanted.append((None, USED_HEADER, "used"))
    if table.used_by:
        wanted.append((None, ROW_HEADER, "row"))
    items: list[Field | Column] = [*([] if table.keys else table.fields), *results]
    wanted += [(item, value_header(item), "si") for item in items if in_workings(item)]
    layout.places[name] = [
        Place(item, header, column_letters(index), role)
        for index, (item, header, role) in enumerate(wanted, 1)
    ]


def _place_study(layout: Layout, study: Study, free: dict[str, int]) -> None:
    top = free.get(study.sheet, UNIT_ROW)
    layout.study_tops[study.name] = top
    free[study.sheet] = top + 2 + study.capacity + 3
    wanted: list[tuple[Field, str, str]] = [(c, c.label, "result") for c in study.columns]
    wanted += [(c, c.label + SI_SUFFIX, "si") for c in own_units(study)]
    layout.places[study.name] = [
        Place(item, header, column_letters(index), role)
        for index, (item, header, role) in enumerate(wanted, 1)
    ]


# Blank rows to sign in, above the line that says so.
SIGNING = 3


def _place_page(layout: Layout, page: Page, row: int) -> None:
    rows = []
    for line in page.lines:
        # A heading stands apart from what is above it.
        apart = isinstance(line, Line) and line.look in ("heading", "small")
        row += SIGNING if isinstance(line, Line) and line.look == "sign" else int(apart)
        rows.append(row)
        if isinstance(line, Line):
            row += 1
        elif isinstance(line, Grid):
            row += 3 + line.high
        else:
            row += 3 + line.rows
    layout.page_rows[page.sheet] = rows


def said_name(sheet: str, name: str) -> str:
    """Name of the cell of a page that says a value."""
    return f"{slug(sheet)}_{name}{SAID}"


def accepted_name(name: str) -> str:
    """Name of the cell that keeps a value as it was accepted."""
    return f"{ACCEPTED}{name}"


def more_name(sheet: str, table: str) -> str:
    """Name of the cell of a page that says that a table has more rows."""
    return f"{slug(sheet)}_{table}_more"


def words_name(sheet: str, key: str) -> str:
    """Name of the words of a line that may change."""
    return f"{slug(sheet)}_{key}_{WORDS}"


# What stands between label and unit at the head of a grid: of its names down, of those across,
# of its cells.
GRID_HEADS = {"a": ", down, in ", "b": ", across, in ", "c": " in "}


def grid_name(sheet: str, grid: Grid, part: str) -> str:
    """Name of a part of a grid on a page: "body", "down" or "across"."""
    return f"{slug(sheet)}_{grid.column}_{part}"


def listing_name(sheet: str, table: str) -> str:
    """Name of the rows of a page that list a table."""
    return f"{slug(sheet)}_{table}_listed"


def _place_field_rows(layout: Layout) -> None:
    model = layout.model
    keys: list[str] = []
    for table in model.tables:
        fields = () if table.keys else table.fields
        items: list[Field | Column] = [*fields, *model.columns_of(table.name)]
        for item in items:
            if has_field_row(item) and (isinstance(item, Field) or unit_choices(item)):
                keys.append(f"{table.name}.{item.name}")
    for study in model.studies:
        keys += [f"{study.name}.{c.name}" for c in own_units(study)]
    keys += [item.name for item in model.fields() if has_field_row(item)]
    keys += [cell.name for cell in model.cells if unit_choices(cell)]
    layout.field_rows = {key: FIRST_ROW + index for index, key in enumerate(keys)}


@dataclass(frozen=True)
class InputBlock:
    """A rectangle of inputs that the snapshot mirrors."""

    name: str
    label: str
    table: str
    width: int
    rows: int


def picked_on(model: Model, sheet: str) -> bool:
    """Whether the inputs of a sheet pick what it shows."""
    return sheet in model.result_sheets or any(page.sheet == sheet for page in model.pages)


def inputs_key(model: Model, sheet: str) -> str:
    """A name of the single inputs of a sheet, beside which results may stand."""
    return f"{slug(sheet)}_picks" if picked_on(model, sheet) else slug(sheet)


@lru_cache(maxsize=32)
def inputs_of(model: Model) -> dict[str, str]:
    """The same by each single input."""
    return {f.name: inputs_key(model, b.sheet) for b in model.blocks for f in b.fields}


def below_name(table: str) -> str:
    """Name of the cells below a table, where rows wait to be taken in."""
    return f"{table}_below"


def input_blocks(layout: Layout) -> list[InputBlock]:
    """The single inputs with their units; each table's cells, and its row of units."""
    model = layout.model
    blocks = []
    for sheet in model.input_sheets():
        first, last = layout.input_rows[sheet]
        key = inputs_key(model, sheet)
        blocks.append(InputBlock(key, sheet, "", 2, last - first + 1))
    for table in model.tables:
        if not table.keys:
            width = len(table.fields)
            blocks.append(InputBlock(table.name, table.label, table.name, width, SNAPSHOT_ROWS))
            label = f"Units of {table.label}"
            blocks.append(InputBlock(f"{table.name}_units", label, table.name, width, 1))
    return blocks


def guide(item: Field) -> str:
    """What stands beside an input while nothing is wrong with it."""
    return f"Needed. {item.guide}" if item.required else item.guide


def choice_list(kind: str) -> str:
    """Name of the list of words of a choice kind."""
    return f"{kind}_list"


def unit_list(kind: str) -> str:
    """Name of the unit texts of a kind."""
    return f"unit_{kind}"
