"""Rules that our templates keep, after common spreadsheet standards.

Each rule looks at one built template and returns its breaches in words. Sources: FAST
Standard (1.01, 1.03, 2.01-2.04, 3.03, 3.04, 4.04); ICAEW, Twenty principles for good
spreadsheet practice; DfE spreadsheet standards; GSS accessible spreadsheets checklist;
WCAG 2.2; Broman and Woo, Data organization in spreadsheets, 2018.
"""

import re
import zipfile
from collections.abc import Callable, Iterator
from dataclasses import dataclass
from functools import cached_property, lru_cache
from pathlib import Path

from openpyxl import Workbook, load_workbook
from openpyxl.cell.cell import Cell as SheetCell
from openpyxl.formula import Tokenizer
from openpyxl.formula.tokenizer import Token
from openpyxl.formula.translate import Translator
from openpyxl.utils import column_index_from_string
from openpyxl.worksheet.worksheet import Worksheet

from twodrum.build.control import HIDDEN_COLUMNS
from twodrum.build.styles import INPUT_STYLES, make_styles
from twodrum.changelog import newest
from twodrum.engine.model import Cell, Field, Listing, Model
from twodrum.units import KINDS
from twodrum.workbook.issued import EXPIRED, FORMULAS
from twodrum.workbook.layout import (
    HEADER_ROW,
    LATER,
    ON,
    apart,
    has_field_row,
    inputs_key,
    make_layout,
    slug,
    unit_choices,
)
from twodrum.xlsx.book import Book
from twodrum.xlsx.marked import FILLED_MARK
from twodrum.xlsx.scan import parse_area

STYLES = {style.name for style in make_styles()}
FORMULA_STYLES = {"td_calculation", "td_check", "td_state"}
# Formulas here use names, so they read longer than those of cell addresses.
LONGEST = 330
# The one formula that chooses among all shapes.
SHAPE_FORMULA = "CHOOSE(MATCH(INDEX($B:$B,ROW())"
FORBIDDEN = re.compile(r"\b(OFFSET|INDIRECT|NOW|TODAY|RAND|CELL|VLOOKUP|HLOOKUP)\(")


@dataclass(frozen=True)
class Template:
    """A built template as a file and as openpyxl sees it."""

    model: Model
    path: Path
    book: Workbook

    @classmethod
    def load(cls, model: Model, path: Path) -> "Template":
        return cls(model, path, load_workbook(path))

    def section(self, title: str) -> tuple[Worksheet, int, int]:
        """Where a declared sheet stands: on which sheet, its first column, the next one's."""
        firsts: dict[str, list[int]] = {}
        for name, _ in self.model.sheets:
            sheet, cell = self.book.defined_names[f"state_{slug(name)}"].attr_text.split("!")
            firsts.setdefault(sheet.strip("'"), []).append(parse_area(cell)[1] - 1)
            if name == title:
                host, first = sheet.strip("'"), firsts[sheet.strip("'")][-1]
        behind = [other for other in firsts[host] if other > first]
        return self.book[host], first, min(behind, default=1 << 14)

    def at(self, title: str, address: str) -> SheetCell:
        """A cell of a declared sheet, by its address there."""
        sheet, first, _ = self.section(title)
        row, column, *_ = parse_area(address)
        return sheet.cell(row, column + first - 1)

    @cached_property
    def made(self) -> list[tuple[Worksheet, SheetCell]]:
        """Every cell that the file has, by sheet, row by row."""
        cells = ((sheet, cell) for sheet in self.book.worksheets for cell in sheet._cells.values())
        order = {sheet.title: place for place, sheet in enumerate(self.book.worksheets)}
        return sorted(cells, key=lambda one: (order[one[0].title], one[1].row, one[1].column))

    def cells(self) -> Iterator[tuple[Worksheet, SheetCell]]:
        return ((sheet, cell) for sheet, cell in self.made if cell.value is not None)

    def formulas(self) -> Iterator[tuple[str, str]]:
        for sheet, cell in self.cells():
            if is_formula(cell.value):
                yield f"{sheet.title}!{cell.coordinate}", str(cell.value)


def is_formula(value: object) -> bool:
    return isinstance(value, str) and value.startswith("=")


def sheets_are_those_declared_in_order(template: Template) -> list[str]:
    declared = [name for name, _ in template.model.sheets if name not in ON]
    found = template.book.sheetnames
    return [] if found == declared else [f"{found} is not {declared}"]


def first_sheet_says_purpose_owner_version_and_every_sheet(template: Template) -> list[str]:
    sheet = template.book.worksheets[0]
    said = {row[0].value: row[1].value for row in sheet.iter_rows(max_col=2)}
    wanted = ["Purpose", "Owner", "Template version", "Template date"]
    wanted += [name for name, _ in template.model.sheets]
    breaches = [f"Start says nothing of {label}" for label in wanted if not said.get(label)]
    looks = {cell.style for row in sheet.iter_rows(max_col=1) for cell in row}
    legend = {"td_look_input", "td_look_calculation", "td_look_check"}
    legend |= {"td_look_output", "td_look_filled"} if template.model.results else set()
    return breaches + [f"no example of {style}" for style in legend - looks]


def nothing_is_hidden(template: Template) -> list[str]:
    """But for sheets and columns in SI of which Start says so, and how to see them."""
    breaches = []
    start = template.book["Start"]
    told = {row[0].value: str(row[1].value) for row in start.iter_rows(max_col=2)}
    for sheet in template.book.worksheets:
        hidden = sheet.sheet_state != "visible"
        if hidden != told.get(sheet.title, "").startswith("Hidden"):
            breaches.append(f"{sheet.title} is {sheet.sheet_state}, and Start says otherwise")
        blank = _blank_rows(template, sheet.title) if HIDDEN_COLUMNS in told else set()
        # A sheet that is not seen yet has nothing to print either.
        rows = {n for n, d in sheet.row_dimensions.items() if d.hidden and sheet.title not in LATER}
        breaches += [f"{sheet.title} row {n}" for n in sorted(rows - blank)]
        # Behind the notes of a table stand its workings; of single values, one column in SI.
        notes = [cell.column for row in sheet["5:7"] for cell in row if cell.value == "Note"]
        for letter, dimension in sheet.column_dimensions.items():
            working = column_index_from_string(letter) > min(notes, default=1_000)
            working |= any(sheet[f"{letter}{row}"].value == "In SI" for row in range(4, 8))
            if dimension.hidden and not (working and HIDDEN_COLUMNS in told):
                breaches.append(f"{sheet.title} {letter}")
    return breaches


def _blank_rows(template: Template, title: str) -> set[int]:
    """Rows of the blocks of a sheet but the last that a fill has not yet written into."""
    tables = Book.open(template.path).tables
    named = [s.name for s in template.model.studies if s.columns and s.name in tables]
    areas = [tables[name].area for name in named if tables[name].area.sheet == title]
    blocks = sorted((area.first_row, area.last_row) for area in areas)
    return {row for first, last in blocks[:-1] for row in range(first + 1, last + 1)}


def no_cell_is_merged(template: Template) -> list[str]:
    return [f"{s.title}!{r}" for s in template.book.worksheets for r in s.merged_cells.ranges]


def every_used_cell_has_one_of_our_styles(template: Template) -> list[str]:
    return [
        f"{sheet.title}!{cell.coordinate} is {cell.style}"
        for sheet, cell in template.cells()
        if cell.style not in STYLES
    ]


def styles_tell_the_truth(template: Template) -> list[str]:
    breaches = []
    for sheet, cell in template.cells():
        where = f"{sheet.title}!{cell.coordinate} {cell.style}"
        formula = is_formula(cell.value)
        if cell.style in INPUT_STYLES and formula:
            breaches.append(f"{where} is an input with a formula")
        if cell.style in FORMULA_STYLES and not formula:
            breaches.append(f"{where} has no formula")
        if cell.style == "td_constant" and formula:
            breaches.append(f"{where} is a constant with a formula")
        if cell.style in ("td_output", "td_output_text") and not formula:
            breaches.append(f"{where} is a result without a formula")
    return breaches


def every_number_has_its_unit_beside_it(template: Template) -> list[str]:
    layout, breaches = make_layout(template.model), []
    units = {text for kind in KINDS.values() for text in kind.unit_texts}
    units |= {"fraction", *(kind.si for kind in KINDS.values() if kind.si != "1")}
    for item in [*template.model.fields(), *template.model.cells]:
        if item.kind in KINDS:
            sheet, row = layout.records[item.name]
            unit = template.at(sheet, f"C{row}").value
            if unit not in units and unit != "=currency_si":
                breaches.append(f"{sheet}!C{row} is {unit!r}")
    for table in template.model.tables:
        for place in layout.places[table.name]:
            if place.item is not None and place.item.kind in KINDS and place.role != "key":
                unit = template.at(table.sheet, f"{place.letter}{HEADER_ROW - 1}").value
                if not unit:
                    breaches.append(f"{table.sheet}!{place.letter}{HEADER_ROW - 1} has no unit")
    return breaches


@lru_cache(maxsize=1 << 15)
def tokens(formula: str) -> list[Token]:
    """A formula in its pieces; templates have most of theirs in common."""
    return Tokenizer(formula).items


def formulas_hold_no_number_but_0_and_1(template: Template) -> list[str]:
    breaches = []
    for where, formula in template.formulas():
        allowed = {"0", "1"}
        if SHAPE_FORMULA in formula:
            # Geometry: 2 sides, a quarter of a square, 8 corners.
            allowed |= {"2", "3", "4", "8"}
        elif "PI()" in formula:
            # Laws of round bores: a quarter of a square, half of a density, 128 of Poiseuille.
            allowed |= {"2", "4", "128"}
        for token in tokens(formula):
            if token.type == "OPERAND" and token.subtype == "NUMBER" and token.value not in allowed:
                breaches.append(f"{where} holds {token.value}: {formula}")
    return breaches


def formulas_are_short_and_hold_no_if_in_an_if(template: Template) -> list[str]:
    breaches = []
    for where, formula in template.formulas():
        if len(formula) > LONGEST and SHAPE_FORMULA not in formula:
            breaches.append(f"{where} has {len(formula)} letters")
        depth, ifs = 0, []
        for token in tokens(formula):
            if token.type == "FUNC" and token.subtype == "OPEN":
                depth += 1
                if token.value == "IF(":
                    if ifs and not IF_INSIDE.search(formula):
                        breaches.append(f"{where} has an IF in an IF")
                    ifs.append(depth)
            elif token.type == "FUNC":
                if ifs and ifs[-1] == depth:
                    ifs.pop()
                depth -= 1
    return breaches


# A row in use wraps the one choice between an agreed and a measured area.
IF_INSIDE = re.compile(r'IFERROR\(\(IF\(\$A[A-Z]\d+=""')


def a_column_has_the_same_formula_all_the_way_down(template: Template) -> list[str]:
    breaches = []
    for sheet in template.book.worksheets:
        for table in sheet.tables.values():
            if table.name == "fields":
                continue
            first_row, first_column, last_row, last_column = parse_area(table.ref)
            for column in range(first_column, last_column + 1):
                first = sheet.cell(first_row + 1, column)
                for row in range(first_row + 2, last_row + 1):
                    cell = sheet.cell(row, column)
                    expected = first.value
                    if is_formula(expected):
                        moved = Translator(expected, first.coordinate)
                        expected = moved.translate_formula(cell.coordinate)
                    if is_formula(first.value) != is_formula(cell.value) or (
                        is_formula(expected) and cell.value != expected
                    ):
                        breaches.append(f"{sheet.title}!{cell.coordinate}")
    return breaches


def nothing_volatile_and_nothing_from_outside(template: Template) -> list[str]:
    found = [(where, f) for where, f in template.formulas() if FORBIDDEN.search(f)]
    # One cell alone looks at the day: whether the last day of a quote is past.
    breaches = [f"{where}: {f}" for where, f in found if f != FORMULAS[EXPIRED]]
    with zipfile.ZipFile(template.path) as package:
        for name in package.namelist():
            if re.search("vbaProject|externalLinks|connections.xml", name):
                breaches.append(name)
    return breaches


def _inputs(template: Template) -> Iterator[tuple[Worksheet, SheetCell]]:
    return ((sheet, cell) for sheet, cell in template.made if cell.style in INPUT_STYLES)


def every_input_is_validated_with_an_error_text(template: Template) -> list[str]:
    breaches, covered = [], {}
    for sheet in template.book.worksheets:
        for rule in sheet.data_validations.dataValidation:
            told = rule.error and rule.errorTitle and rule.showErrorMessage
            # Excel shows so many letters; a prompt that says the label again hides cells.
            told = told and len(rule.error) <= 225 and len(rule.prompt or "") <= 255
            told = told and (rule.prompt or "").rstrip(".") != (rule.promptTitle or "no title")
            listed = (
                rule.type != "list" or str(rule.formula1).lstrip("=") in template.book.defined_names
            )
            for area in rule.sqref.ranges:
                for row, column in area.cells:
                    covered[sheet.title, row, column] = bool(told and listed)
    for sheet, cell in _inputs(template):
        if not covered.get((sheet.title, cell.row, cell.column)):
            breaches.append(f"{sheet.title}!{cell.coordinate}")
    return breaches


def every_field_has_a_name_and_every_name_a_place(template: Template) -> list[str]:
    names, breaches = template.book.defined_names, []
    book = Book.open(template.path)
    for item in [*template.model.fields(), *template.model.cells]:
        wanted = [item.name, f"{item.name}_note"]
        if isinstance(item, Cell) and item.working:
            wanted = [f"{item.name}_si"]
        wanted += [f"{item.name}_unit"] if unit_choices(item) else []
        typed = isinstance(item, Field) and has_field_row(item)
        wanted += [f"{item.name}_si"] if typed or item.name in apart(template.model) else []
        breaches += [f"no name {name}" for name in wanted if book.area(name) is None]
    for name, defined in names.items():
        if "#REF" in defined.attr_text:
            breaches.append(f"{name} is lost")
        elif name.endswith(("_was", "_in")) or name == FILLED_MARK:
            continue
        elif len(list(defined.destinations)) != 1:
            breaches.append(f"{name} points at {defined.attr_text}")
    return breaches


def lists_are_tables_with_unique_heads_and_no_blank_row(template: Template) -> list[str]:
    breaches = []
    sheet, start, end = template.section("Lists")
    found = [t for t in sheet.tables.values() if start <= parse_area(t.ref)[1] < end]
    for table in found:
        first_row, first_column, last_row, last_column = parse_area(table.ref)
        heads = [sheet.cell(first_row, c).value for c in range(first_column, last_column + 1)]
        if table.headerRowCount != 1 or len(set(heads)) != len(heads):
            breaches.append(f"{table.name} has heads {heads}")
        for row in range(first_row + 1, last_row + 1):
            if sheet.cell(row, first_column).value is None:
                breaches.append(f"{table.name} row {row} is blank")
    if not found:
        breaches.append("no table on Lists")
    for other in template.book.worksheets:
        for table in other.tables.values():
            names = [column.name.casefold() for column in table.tableColumns]
            breaches += [f"{table.name}: {name} twice" for name in names if names.count(name) > 1]
    return breaches


def dates_look_like_dates(template: Template) -> list[str]:
    layout, breaches = make_layout(template.model), []
    for item in template.model.fields():
        if item.kind == "date":
            sheet, row = layout.records[item.name]
            found = template.book[sheet][f"B{row}"].number_format
            if found != "yyyy-mm-dd":
                breaches.append(f"{sheet}!B{row} looks like {found}")
    return breaches


def headings_stay_in_sight(template: Template) -> list[str]:
    return [sheet.title for sheet in template.book.worksheets if not sheet.freeze_panes]


def every_sheet_prints_one_page_wide_with_titles_and_footer(template: Template) -> list[str]:
    breaches = []
    model = template.model
    shared = {table.sheet for table in model.tables}
    shared |= {study.sheet for study in model.studies if study.columns}
    alone = set(model.result_sheets) - shared
    for sheet in template.book.worksheets:
        footer = "".join(
            str(part.text)
            for part in (sheet.oddFooter.left, sheet.oddFooter.center, sheet.oddFooter.right)
        )
        if sheet.title in {page.sheet for page in template.model.pages if page.handed}:
            # What is handed over is one page, and says nothing of the workbook that it is from.
            fit = (sheet.page_setup.fitToWidth, sheet.page_setup.fitToHeight) == (1, 1)
            letters = {
                page.sheet
                for page in template.model.pages
                if page.letter and isinstance(page.lines[-1], Listing)
            }
            pages = "Page &P of &N" if sheet.title in letters else ""
            said = footer.replace("None", "") == pages
            # What is picked above the page is for the screen.
            top = make_layout(model).page_rows[sheet.title][0]
            starts = str(sheet.print_area).split("!")[-1].startswith(f"$A${top}:")
            if not (fit and said and starts):
                breaches.append(f"{sheet.title}: not one page of its own")
            continue
        # The first sheet is one page, and what holds nothing but single values, while they can be
        # read; others are as long as they need.
        typed = set(model.input_sheets()) - {table.sheet for table in model.tables} - shared
        short = sheet.title in typed and int(str(sheet.print_area).rpartition("$")[2]) <= 85
        high = int(sheet.title == template.book.sheetnames[0] or sheet.title in alone or short)
        holds = {
            # What is hidden is not printed.
            "print area": bool(sheet.print_area) == (sheet.sheet_state == "visible"),
            "titles": bool(sheet.print_title_rows),
            "one page wide": (sheet.page_setup.fitToWidth, sheet.page_setup.fitToHeight)
            == (1, high),
            "A4": str(sheet.page_setup.paperSize) == "9",
            "fit": bool(sheet.sheet_properties.pageSetUpPr.fitToPage),
            "footer": all(part in footer for part in ("&F", "&A", newest()[0], "&P", "&N")),
        }
        breaches += [f"{sheet.title}: {what}" for what, held in holds.items() if not held]
    return breaches


def only_inputs_are_unlocked_and_tables_may_grow(template: Template) -> list[str]:
    breaches = []
    growing = {table.sheet for table in template.model.tables if not table.keys}
    for sheet in template.book.worksheets:
        if sheet.protection.sheet == (sheet.title in growing):
            breaches.append(f"{sheet.title} protected: {sheet.protection.sheet}")
        if sheet.protection.password or sheet.protection.hashValue:
            breaches.append(f"{sheet.title} has a password")
    for sheet, cell in template.made:
        if cell.has_style and cell.protection.locked == (cell.style in INPUT_STYLES):
            breaches.append(f"{sheet.title}!{cell.coordinate} locked: {cell.protection.locked}")
    return breaches


def _luminance(colour: str) -> float:
    parts = [int(colour[-6:][i : i + 2], 16) / 255 for i in (0, 2, 4)]
    linear = [p / 12.92 if p <= 0.04045 else ((p + 0.055) / 1.055) ** 2.4 for p in parts]
    return 0.2126 * linear[0] + 0.7152 * linear[1] + 0.0722 * linear[2]


def text_is_large_and_dark_enough(template: Template) -> list[str]:
    breaches = []
    for sheet, cell in template.cells():
        if cell.font.sz is None or cell.font.sz < 10:
            breaches.append(f"{sheet.title}!{cell.coordinate} has {cell.font.sz} pt")
        paper = cell.fill.fgColor.rgb if cell.fill.fill_type == "solid" else "FFFFFFFF"
        levels = sorted((_luminance(str(cell.font.color.rgb)), _luminance(str(paper))))
        if (levels[1] + 0.05) / (levels[0] + 0.05) < 4.5:
            breaches.append(f"{sheet.title}!{cell.coordinate} is pale")
    return breaches


def colour_never_speaks_alone(template: Template) -> list[str]:
    breaches = [
        f"{sheet.title}!{cell.coordinate}"
        for sheet, cell in template.cells()
        if "[" in cell.number_format
    ]
    checks = [str(c.value) for _, c in template.cells() if c.style == "td_check"]
    breaches += [f for f in checks if "OK" not in f and "state" not in f]
    looks = {
        name: (bool(style.border.left), bool(style.border.bottom), style.font.b, style.font.i)
        for name, style in ((s.name, s) for s in make_styles())
    }
    roles = [looks[name] for name in ("td_input", "td_calculation", "td_output")]
    if len(set(roles)) != 3:
        breaches.append("input, calculation and output differ by colour only")
    return breaches


def pictures_have_words(template: Template) -> list[str]:
    breaches = []
    with zipfile.ZipFile(template.path) as package:
        for name in package.namelist():
            if re.fullmatch(r"xl/drawings/drawing\d+\.xml", name):
                for found in re.findall(rb"<[\w:]*cNvPr [^>]*>", package.read(name)):
                    if b"descr=" not in found:
                        breaches.append(f"{name}: {found!r}")
    return breaches


def one_state_counts_every_check_and_stands_on_every_sheet(template: Template) -> list[str]:
    breaches = [
        sheet.title for sheet in template.book.worksheets if sheet["B2"].value != "=overall_state"
    ]
    names = template.book.defined_names
    area = names["check_states"].attr_text.split("!")[1]
    first_row, _, last_row, _ = parse_area(area)
    for name, defined in names.items():
        if name.startswith("check_") and name != "check_states":
            row = parse_area(defined.attr_text.split("!")[1])[0]
            if not first_row <= row <= last_row:
                breaches.append(f"{name} is not counted")
    sheet, cell = names["overall_state"].attr_text.replace("$", "").split("!")
    if "COUNTIF(check_states" not in str(template.book[sheet][cell].value):
        breaches.append("the state does not count the checks")
    return breaches


def totals_refuse_errors_and_empty_tables(template: Template) -> list[str]:
    breaches = [
        f"{where}: {formula}"
        for where, formula in template.formulas()
        if re.search(r"[(=]SUM\(\w+\[(?!In use)", formula) and "[In use])>0" not in formula
    ]
    record, *_ = template.section("Record")
    checks = " ".join(f for w, f in template.formulas() if w.startswith(f"{record.title}!"))
    for table in template.model.tables:
        if f"ISERROR({table.name}[[" not in checks:
            breaches.append(f"errors of {table.name} are not counted")
    return breaches


def results_say_whether_inputs_changed(template: Template) -> list[str]:
    if not template.model.results:
        return []
    formulas = " ".join(f for _, f in template.formulas())
    blocks = [inputs_key(template.model, sheet) for sheet in template.model.input_sheets()]
    blocks += [t.name for t in template.model.tables if not t.keys]
    blocks += [f"{t.name}_units" for t in template.model.tables if not t.keys]
    return [
        f"{block} is not compared"
        for block in blocks
        if f"({block}_in<>{block}_was)+(ISBLANK({block}_in)<>ISBLANK({block}_was))" not in formulas
    ]


def version_and_date_agree_everywhere(template: Template) -> list[str]:
    version, date = newest()
    start = {r[0].value: r[1].value for r in template.book["Start"].iter_rows(max_col=2)}
    sheet, first, _ = template.section("Record")
    record = [r[0].value for r in sheet.iter_rows(min_col=first, max_col=first)]
    logged = record[record.index("Version") + 1] if "Version" in record else None
    found = {
        "Start": start.get("Template version"),
        "properties": template.book.properties.version,
        "Record": logged,
    }
    breaches = [f"{where} says {said}" for where, said in found.items() if said != version]
    if start.get("Template date") != date:
        breaches.append(f"Start says {start.get('Template date')}")
    return breaches


Rule = Callable[[Template], list[str]]
RULES: tuple[Rule, ...] = (
    sheets_are_those_declared_in_order,
    first_sheet_says_purpose_owner_version_and_every_sheet,
    nothing_is_hidden,
    no_cell_is_merged,
    every_used_cell_has_one_of_our_styles,
    styles_tell_the_truth,
    every_number_has_its_unit_beside_it,
    formulas_hold_no_number_but_0_and_1,
    formulas_are_short_and_hold_no_if_in_an_if,
    a_column_has_the_same_formula_all_the_way_down,
    nothing_volatile_and_nothing_from_outside,
    every_input_is_validated_with_an_error_text,
    every_field_has_a_name_and_every_name_a_place,
    lists_are_tables_with_unique_heads_and_no_blank_row,
    dates_look_like_dates,
    headings_stay_in_sight,
    every_sheet_prints_one_page_wide_with_titles_and_footer,
    only_inputs_are_unlocked_and_tables_may_grow,
    text_is_large_and_dark_enough,
    colour_never_speaks_alone,
    pictures_have_words,
    one_state_counts_every_check_and_stands_on_every_sheet,
    totals_refuse_errors_and_empty_tables,
    results_say_whether_inputs_changed,
    version_and_date_agree_everywhere,
)
