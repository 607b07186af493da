"""The gallery: every worksheet function once, its live result beside the expected one."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass

from openpyxl import Workbook
from openpyxl.worksheet.datavalidation import DataValidation
from openpyxl.worksheet.worksheet import Worksheet

from ..books import excel_steps
from ..catalogue import FUNCTIONS, Function
from ..worksheet.call import Refused, answer
from ..worksheet.help import answer_of_example, example_call
from .styles import add_styles

FIRST = 8
HEADERS = (
    "Function",
    "What it gives",
    "Call",
    "Live result",
    "Expected",
    "Unit",
    "Difference",
    "Agrees",
    "Equation",
    "Source",
)
WIDTHS = (44, 46, 60, 18, 18, 10, 12, 9, 60, 60)
ABOUT = (
    "Each row calls one worksheet function. Without the add-in the live results are #NAME? and none"
    " agrees; install it with: twodrum addin",
    "A row agrees where the live result is the expected one within a billionth, a text letter by"
    " letter, and a refused call is #N/A.",
)


@dataclass(frozen=True)
class Line:
    """One row: the formula without its equals sign, and what it is to give."""

    name: str
    gives: str
    formula: str
    expected: float | str | None
    unit: str
    equation: str = ""
    source: str = ""


def lines() -> list[Line]:
    """Every row of the gallery."""
    found: list[Line] = []
    for function in FUNCTIONS:
        found += _of(function)
    found += [
        Line(
            "TD_DEW_POINT",
            "A refused call is #N/A: no air is that warm",
            "TD_DEW_POINT(99,0.7)",
            None,
            "",
        ),
        Line(
            "TD_WHY",
            "Says what to mend in that call",
            'TD_WHY("TD_DEW_POINT",99,0.7)',
            "TD_DEW_POINT: air temperature is 99 °C; it must be at most 60 °C",
            "",
        ),
        Line(
            "TD_CONVERT",
            "Gives a number in another unit of the same kind",
            'TD_CONVERT(80,"mil","mm")',
            2.032,
            "mm",
        ),
        Line(
            "TD_DEW_POINT",
            "An array where an argument is one: the sum of two dew points",
            "SUM(TD_DEW_POINT({20,25},0.7))",
            _sum("TD_DEW_POINT", [[20.0, 25.0]], 0.7),
            "°C",
        ),
    ]
    return found


def _sum(name: str, *given: object) -> float:
    return sum(cell for row in answer(name, given) for cell in row if isinstance(cell, float))


def _of(function: Function) -> list[Line]:
    """The rows of one function: one for each value that it gives."""
    rows, units = answer_of_example(function)
    call = example_call(function)
    many = len(rows) > 1 or len(rows[0]) > 1
    found = []
    for r, row in enumerate(rows, 1):
        for c, value in enumerate(row, 1):
            assert not isinstance(value, Refused), (function.name, value)
            formula = f"INDEX({call},{r},{c})" if many else call
            part = f" · {function.parts[c - 1].noun.strip()}" if function.parts else ""
            place = f" · {r}" if function.listed else ""
            found.append(
                Line(
                    f"{function.name}{part}{place}",
                    function.help,
                    formula,
                    value,
                    "" if units[c - 1] in ("–", "fraction") else units[c - 1],
                    function.equation,
                    function.source,
                )
            )
    return found


def _putting(sheet: Worksheet) -> Callable[[str, object, str], None]:
    """What puts a value and its style into a cell of a sheet."""

    def put(address: str, value: object, style: str) -> None:
        sheet[address].value = value
        sheet[address].style = style

    return put


def _put_line(put: Callable[[str, object, str], None], row: int, line: Line) -> None:
    """One row: the call as a text and live, what is expected, whether they agree."""
    put(f"A{row}", line.name, "td_label")
    put(f"B{row}", line.gives, "td_text")
    # A leading apostrophe would show; without its equals sign the call is a text.
    put(f"C{row}", line.formula, "td_text")
    put(f"D{row}", f"={line.formula}", "td_output")
    put(f"F{row}", line.unit, "td_unit")
    put(f"I{row}", line.equation, "td_note")
    put(f"J{row}", line.source, "td_note")
    if line.expected is None:
        put(f"E{row}", "#N/A", "td_constant")
        put(f"G{row}", None, "td_calculation")
        put(f"H{row}", f"=IF(ISNA(D{row}),1,0)", "td_check")
    elif isinstance(line.expected, str):
        put(f"D{row}", f"={line.formula}", "td_output_text")
        put(f"E{row}", line.expected, "td_text")
        put(f"G{row}", None, "td_calculation")
        put(f"H{row}", f"=IF(ISERROR(D{row}),0,IF(EXACT(D{row},E{row}),1,0))", "td_check")
    else:
        put(f"E{row}", line.expected, "td_constant")
        put(f"G{row}", f"=D{row}-E{row}", "td_calculation")
        near = f"ABS(G{row})<=0.000000001*MAX(1,ABS(E{row}))"
        put(f"H{row}", f"=IF(ISNUMBER(G{row}),IF({near},1,0),0)", "td_check")


def _steps(book: Workbook, version: str) -> None:
    """A sheet for what only a person with Excel can see."""
    sheet = book.create_sheet(excel_steps.SHEET)

    put = _putting(sheet)
    put("A1", "A quarter of an hour with Excel on Windows", "td_title")
    put("A2", excel_steps.ABOUT, "td_guide")
    for letter, head, width in zip("ABCDE", excel_steps.HEADS, (6, 60, 52, 10, 44)):
        put(f"{letter}{excel_steps.FIRST - 1}", head, "td_header")
        sheet.column_dimensions[letter].width = width
    for number, (what, seen) in enumerate(excel_steps.STEPS, 1):
        row = excel_steps.FIRST + number - 1
        put(f"A{row}", number, "td_constant")
        put(f"B{row}", what, "td_text")
        put(f"C{row}", seen, "td_text")
        put(f"D{row}", None, "td_input_text")
        put(f"E{row}", None, "td_input_text")
    last = excel_steps.FIRST + len(excel_steps.STEPS) - 1
    words = DataValidation(
        type="list", formula1=f'"{",".join(excel_steps.SEEN)}"', allow_blank=True
    )
    words.add(f"D{excel_steps.FIRST}:D{last}")
    sheet.add_data_validation(words)
    sheet.sheet_view.showGridLines = False
    _printed(sheet, f"A1:E{last}", version)


def _printed(sheet: Worksheet, area: str, version: str) -> None:
    """How a sheet prints: across, as wide as a page."""
    sheet.print_area = area
    sheet.page_setup.orientation = "landscape"
    sheet.page_setup.paperSize = 9
    sheet.page_setup.fitToWidth, sheet.page_setup.fitToHeight = 1, 0
    sheet.sheet_properties.pageSetUpPr.fitToPage = True
    sheet.oddFooter.left.text, sheet.oddFooter.right.text = "&F", "&P of &N"
    sheet.oddFooter.center.text = f"version {version}"


def build_gallery(version: str, date: str) -> Workbook:
    """The gallery as a workbook."""
    book = Workbook()
    add_styles(book)
    sheet = book.active
    assert isinstance(sheet, Worksheet)
    sheet.title = excel_steps.FUNCTIONS
    listed = lines()
    last = FIRST + len(listed) - 1

    put = _putting(sheet)
    put("A1", "Worksheet functions", "td_title")
    put("A2", f'=SUM(H{FIRST}:H{last})&" of "&ROWS(H{FIRST}:H{last})&" agree"', "td_state")
    for row, text in enumerate(ABOUT, 3):
        put(f"A{row}", text, "td_guide")
    put("A5", f"Template version {version}, {date}", "td_guide")
    for letter, header, width in zip("ABCDEFGHIJ", HEADERS, WIDTHS):
        put(f"{letter}{FIRST - 1}", header, "td_header")
        sheet.column_dimensions[letter].width = width
    for row, line in enumerate(listed, FIRST):
        _put_line(put, row, line)
    sheet.freeze_panes = f"B{FIRST}"
    sheet.sheet_view.showGridLines = False
    sheet.print_title_rows = f"{FIRST - 1}:{FIRST - 1}"
    _printed(sheet, f"A1:H{last}", version)
    _steps(book, version)
    book.properties.creator, book.properties.title = "twodrum", "Worksheet functions"
    book.properties.version = version
    book.calculation.fullCalcOnLoad = True
    return book
