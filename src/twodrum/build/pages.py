"""Pages to print and hand over: live cells that say what stands elsewhere."""

from __future__ import annotations

from typing import TYPE_CHECKING

from openpyxl.utils import get_column_letter

from ..engine.model import (
    Field,
    Grid,
    Line,
    Listing,
    Model,
    Page,
)
from ..units import KINDS
from ..workbook.issued import ACCEPTANCE, SHOWN, WORD
from ..workbook.layout import (
    FIRST_ROW,
    GRID_HEADS,
    USED_HEADER,
    grid_name,
    has_field_row,
    listing_name,
    more_name,
    said_name,
    slug,
    unit_choices,
    words_name,
)
from ..xlsx.book import WORDS, quoted
from .styles import mark_rule, number_format, page_format

if TYPE_CHECKING:
    from .builder import Builder

WIDTHS = {"A": 42, "B": 24, "C": 16, "D": 14}
LETTER_WIDTHS = {"A": 24, "B": 44, "C": 16, "D": 13}
OFFICE_WIDTHS = {"A": 34, **dict.fromkeys("BCDEF", 18)}
# Looks of the words, the value and its unit.
LOOKS = {
    "plain": ("td_page_words", "td_page_value", "td_page_unit"),
    "sum": ("td_page_sum_words", "td_page_sum", "td_page_sum_words"),
    "total": ("td_page_total_words", "td_page_total", "td_page_total_words"),
    "title": ("td_page_title", "td_page_title", "td_page_title"),
    "heading": ("td_heading", "td_heading", "td_heading"),
    "small": ("td_page_small", "td_page_small", "td_page_small"),
    "box": ("td_page_words", "td_page_value", "td_page_unit"),
}
# The same of a letter, whose lines have no rules: those that say nothing are out of sight.
LETTER_LOOKS = {
    **dict.fromkeys(("plain", "box"), ("td_page_typed", "td_page_amount", "td_page_typed")),
    "sum": LOOKS["sum"],
    "total": LOOKS["total"],
    "title": LOOKS["title"],
    "heading": LOOKS["heading"],
    "small": LOOKS["small"],
    "sign": ("td_page_sign",) * 3,
}
# Values of a page that are no results.
STATES = ("overall_state", WORD, SHOWN, *ACCEPTANCE)
BOX = "\u2610  "


def add_page(builder: Builder, page: Page) -> None:
    """Lay out one page and name what the filler has to keep up to date."""
    worksheet = builder.sheets[page.sheet]
    widths = WIDTHS if page.handed else OFFICE_WIDTHS
    for letter, width in (LETTER_WIDTHS if page.letter else widths).items():
        worksheet.column_dimensions[letter].width = width
    for row, line in zip(builder.layout.page_rows[page.sheet], page.lines):
        if isinstance(line, Line):
            _line(builder, page, row, line)
        elif isinstance(line, Grid):
            _grid(builder, page, row, line)
        else:
            _listing(builder, page.sheet, row, line)
    # Words and units of the lines are found by their row.
    rows = builder.layout.page_rows[page.sheet]
    for what, letter in ((WORDS, "A"), ("unit", "D" if page.letter else "C")):
        cells = f"{letter}{rows[0]}:{letter}{rows[-1]}"
        builder.column(slug(page.sheet), what, page.sheet, cells)


def words_of(name: str) -> str:
    """A text that the office typed; nothing where it typed none."""
    return f'=IF(ISBLANK({name}),"",{name})'


def condition(line: Line, model: Model) -> str:
    """When a line is there, in the words of a spreadsheet."""
    parts = [f"COUNTBLANK({name})=0" for name in line.needs]
    if line.any_of and all(isinstance(model.item(name), Field) for name in line.any_of):
        parts.append(f"COUNTA({','.join(line.any_of)})>0")
    elif line.any_of:
        # What is worked out is never empty.
        parts.append("*".join(f"COUNTBLANK({name})" for name in line.any_of) + "=0")
    parts += [f"ISBLANK({name})" for name in line.lacks]
    parts += [f"{line.name}>0"] if line.unless_zero else []
    return f"AND({','.join(parts)})"


def _line(builder: Builder, page: Page, row: int, line: Line) -> None:
    words, value, unit = LETTER_LOOKS[line.look] if page.letter else _looks(line)
    text, sheet, typed = line.words, page.sheet, line.words.startswith("=")
    if line.look == "box":
        text = BOX + text
    # Words of a letter that somebody typed may be long.
    at = "B" if page.letter and typed else "A"
    if typed or line.conditional:
        said = text[1:] if typed else f'"{text}"'
        text = (
            f'=IF({condition(line, builder.model)},{said},"")'
            if line.conditional
            else words_of(text[1:])
        )
        builder.name(words_name(sheet, line.key), sheet, f"{at}{row}")
    styles = (words, words, value, unit) if page.letter else (words, value, unit)
    for letter, style in zip("ABCD", styles):
        builder.put(sheet, f"{letter}{row}", None, style)
    builder.put(sheet, f"{at}{row}", text, "td_page_line" if at == "B" else words)
    if line.name:
        _said(builder, page, row, line, (value, unit))


def _looks(line: Line) -> tuple[str, str, str]:
    """Styles of words, value and unit; what may be missing has no rule of its own."""
    words, value, unit = LOOKS[line.look]
    if line.look == "heading" and line.conditional:
        return ("td_page_heading",) * 3
    if line.look == "plain" and (line.conditional or line.words.startswith("=")):
        return "td_page_typed", "td_page_amount", "td_page_typed"
    if line.look in ("plain", "box") and not line.name:
        # Words run on over the columns beside them.
        return ("td_page_text",) * 3
    return words, value, unit


def _said(builder: Builder, page: Page, row: int, line: Line, looks: tuple[str, str]) -> None:
    sheet, (value, unit) = page.sheet, looks
    said, state = said_name(sheet, line.name), line.name in STATES
    number = not state and builder.model.item(line.name).kind in KINDS
    at, beside = ("C", "D") if page.letter and number else ("B", "C")
    builder.name(said, sheet, f"{at}{row}")
    if state:
        words = "td_page_line" if page.letter else "td_page_text"
        style = value if line.look == "title" else words
        text = words_of(line.name) if line.name in ACCEPTANCE else f"={line.name}"
        builder.put(sheet, f"B{row}", text, style)
        if line.name == ACCEPTANCE[0]:
            builder.sheets[sheet][f"B{row}"].number_format = number_format("date")
        return
    item = builder.model.item(line.name)
    formula = value_said(builder, line.name)
    if line.conditional:
        formula = f'=IF({condition(line, builder.model)},{_bare(builder, line.name)},"")'
    # Words run on into the column of the units.
    words = "td_page_line" if page.letter else "td_page_text"
    builder.put(sheet, f"{at}{row}", formula, value if number else words)
    builder.sheets[sheet][f"{at}{row}"].number_format = page_format(item)
    if not number:
        return
    known = item.kind == "money" or unit_choices(item)
    source = "currency_si" if item.kind == "money" else f'"{KINDS[item.kind].metric}"'
    if known and item.kind != "money":
        source = builder.place_of(f"{line.name}_unit")
    builder.put(sheet, f"{beside}{row}", f'=IF(COUNTBLANK({said})>0,"",{source})', unit)
    builder.name(f"{said}_unit", sheet, f"{beside}{row}")


def value_said(builder: Builder, name: str) -> str:
    item = builder.model.item(name)
    if not isinstance(item, Field):
        return f"={name}"
    if not has_field_row(item):
        return words_of(name)
    if item.kind in KINDS:
        return builder.native.shown(name, f"{name}_si")
    return f"={name}_si"


def _bare(builder: Builder, name: str) -> str:
    """The same where its line already asks whether it is there."""
    item = builder.model.item(name)
    if isinstance(item, Field) and has_field_row(item) and item.kind in KINDS:
        return builder.native.converted(name, f"{name}_si")
    return name


def _grid(builder: Builder, page: Page, row: int, grid: Grid) -> None:
    """Unit and head, then one row for each of the names down; each cell says its row's value."""
    sheet = page.sheet
    table, worksheet = builder.model.table(grid.table), builder.sheets[sheet]

    def put(column: str, letter: str, at: int, key: int, style: str) -> None:
        item = builder.model.column_item(grid.table, column)
        place = builder.layout.place(grid.table, column, "result")
        source = f"{quoted(table.sheet)}!{place.letter}{FIRST_ROW + key}"
        builder.put(sheet, f"{letter}{at}", f"={source}", style)
        worksheet[f"{letter}{at}"].number_format = page_format(item)

    for letter, column in (("A", grid.down), ("B", grid.across), ("C", grid.column)):
        item = builder.model.column_item(grid.table, column)
        known = item.kind == "money" or unit_choices(item)
        unit = "currency_si"
        if known and item.kind != "money":
            unit = builder.place_of(f"{grid.table}_{column}_unit")
        text = f'="{item.label}{GRID_HEADS[letter.lower()]}"&{unit}' if known else item.label
        builder.put(sheet, f"{letter}{row}", text, "td_page_small")
        if known:
            builder.name(grid_name(sheet, grid, f"{letter.lower()}_head"), sheet, f"{letter}{row}")
    builder.put(sheet, f"A{row + 1}", grid.words or None, "td_page_small")
    first, last = row + 2, row + 1 + grid.high
    letters = [get_column_letter(2 + index) for index in range(grid.wide)]
    for index, letter in enumerate(letters):
        put(grid.across, letter, row + 1, index, "td_page_head")
    for down in range(grid.high):
        put(grid.down, "A", first + down, down * grid.wide, "td_page_side")
        for index, letter in enumerate(letters):
            base = (down, index) == (grid.high // 2, grid.wide // 2)
            style = "td_page_middle" if base else "td_page_value"
            put(grid.column, letter, first + down, down * grid.wide + index, style)
    body = f"{letters[0]}{first}:{letters[-1]}{last}"
    builder.name(grid_name(sheet, grid, "body"), sheet, body)
    builder.name(grid_name(sheet, grid, "down"), sheet, f"A{first}:A{last}")
    across = f"{letters[0]}{row + 1}:{letters[-1]}{row + 1}"
    builder.name(grid_name(sheet, grid, "across"), sheet, across)
    if grid.mark:
        placed = zip(builder.layout.page_rows[page.sheet], page.lines)
        told = (at + 2 for at, other in placed if _says(other, grid.marked_by or grid.column))
        by = next(told)
        middle = f"${letters[grid.wide // 2]}${by + grid.high // 2}"
        sign = {"above": ">", "below": "<", "other": "<>"}[grid.mark]
        rule = mark_rule(f"{letters[0]}{by}{sign}{middle}")
        worksheet.conditional_formatting.add(body, rule)


def _says(line: Line | Listing | Grid, column: str) -> bool:
    return isinstance(line, Grid) and line.column == column


def _listing(builder: Builder, sheet: str, row: int, listing: Listing) -> None:
    table = builder.model.table(listing.table)
    first, last = row + 2, row + 1 + listing.rows
    for index, name in enumerate(listing.columns, 1):
        item, letter = builder.model.column_item(table.name, name), get_column_letter(index)
        if unit_choices(item):
            unit = builder.place_of(f"{table.name}_{name}_unit")
            builder.put(sheet, f"{letter}{row}", f"={unit}", "td_unit")
        builder.put(sheet, f"{letter}{row + 1}", item.label, "td_header")
        for at in range(first, last + 1):
            place = f"INDEX({table.name}[{item.label}],ROWS(A${first}:A{at}))"
            # A blank cell is no 0.
            place += "" if item.kind in KINDS else '&""'
            if name == listing.behind[0]:
                other = builder.model.column_item(table.name, listing.behind[1]).label
                words = f"INDEX({table.name}[{other}],ROWS(A${first}:A{at}))"
                place = f'TRIM({place}&REPT(" ("&{words}&")",--({words}<>"")))'
            text = f'=IFERROR({place},"")' if index == 1 else f'=IF($A{at}="","",{place})'
            style = "td_page_amount" if item.kind in KINDS else "td_page_line"
            builder.put(sheet, f"{letter}{at}", text, style)
            builder.sheets[sheet][f"{letter}{at}"].number_format = page_format(item)
    letter = get_column_letter(len(listing.columns))
    builder.name(listing_name(sheet, table.name), sheet, f"A{first}:{letter}{last}")
    shown = f'SUMPRODUCT(--(INDEX({listing_name(sheet, table.name)},0,1)<>""))'
    more = f'=IF(SUM({table.name}[{USED_HEADER}])>{shown},"{listing.more}","")'
    # Above the heads: below the last row a fill adds those that have no room.
    builder.put(sheet, f"A{row}", more, "td_page_small")
    builder.name(more_name(sheet, table.name), sheet, f"A{row}")
