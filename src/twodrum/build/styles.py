"""How cells look: one named style for each role, told apart by border and weight too."""

from __future__ import annotations

from openpyxl import Workbook
from openpyxl.formatting.rule import FormulaRule
from openpyxl.styles import Alignment, Border, Font, NamedStyle, PatternFill, Protection, Side

from ..engine.model import Cell, Column, Field
from ..units import KINDS

INK = "FF1F2933"
QUIET = "FF52606D"
DARK = "FF1D3C4F"
FONT = "Calibri"

_THIN = Side(style="thin", color="FF9AA5B1")
_HAIR = Side(style="hair", color="FF9AA5B1")
_MEDIUM = Side(style="medium", color=DARK)
_BOX = Border(left=_THIN, right=_THIN, top=_THIN, bottom=_THIN)


UNINDENTED = (
    "td_title",
    "td_heading",
    "td_guide",
    "td_notes",
    "td_page_title",
    "td_page_small",
    "td_page_heading",
)


def _style(
    name: str,
    *,
    bold: bool = False,
    italic: bool = False,
    size: float = 11,
    color: str = INK,
    fill: str = "",
    border: Border | None = None,
    align: str = "left",
    wrap: bool = False,
    unlocked: bool = False,
) -> NamedStyle:
    style = NamedStyle(name)
    style.font = Font(name=FONT, size=size, bold=bold, italic=italic, color=color)
    if fill:
        style.fill = PatternFill("solid", fgColor=fill)
    if border:
        style.border = border
    # LibreOffice 25.2 draws the indent of a number only where the cell on its left is blank.
    indent = 0 if align in ("center", "right") or name in UNINDENTED else 1
    style.alignment = Alignment(horizontal=align, vertical="center", wrap_text=wrap, indent=indent)
    style.protection = Protection(locked=not unlocked)
    return style


def make_styles() -> list[NamedStyle]:
    """All styles of our workbooks."""
    ruled = Border(bottom=_HAIR)
    return [
        _style("td_title", bold=True, size=16, color=DARK),
        _style("td_state", bold=True, size=12, border=_BOX, align="center"),
        _style("td_guide", italic=True, color=QUIET),
        _style("td_next", bold=True, color=DARK),
        _style("td_notes", bold=True, color=DARK),
        _style("td_heading", bold=True, size=12, color=DARK, border=Border(bottom=_MEDIUM)),
        _style("td_header", bold=True, color="FFFFFFFF", fill=DARK, align="center", wrap=True),
        _style("td_label", border=ruled),
        _style("td_input", fill="FFFFF7E0", border=_BOX, align="right", unlocked=True),
        _style("td_input_text", fill="FFFFF7E0", border=_BOX, wrap=True, unlocked=True),
        _style("td_unit_input", fill="FFFFF7E0", border=_BOX, align="center", unlocked=True),
        _style("td_unit", color=QUIET, align="center", border=ruled),
        _style("td_calculation", italic=True, color=QUIET, align="right", border=ruled),
        _style("td_output", bold=True, fill="FFE6F2EC", border=ruled, align="right"),
        _style("td_output_text", fill="FFE6F2EC", border=ruled, wrap=True),
        _style("td_filled", fill="FFF0F4F8", border=ruled, align="right"),
        _style("td_filled_text", fill="FFF0F4F8", border=ruled, wrap=True),
        _style("td_note", color=QUIET, wrap=True, border=ruled),
        _style("td_check", bold=True, border=_BOX, align="center"),
        _style("td_text", wrap=True),
        _style("td_link", color="FF0B5394", border=ruled),
        _style("td_constant", align="right", border=ruled),
        # Pages to print and hand over.
        _style("td_page_title", bold=True, size=20, color=DARK),
        _style("td_page_words", wrap=True, border=ruled),
        _style("td_page_value", align="right", border=ruled),
        _style("td_page_text", border=ruled),
        _style("td_page_heading", bold=True, size=12, color=DARK),
        # What may stay blank has no line of its own.
        _style("td_page_typed"),
        _style("td_page_amount", align="right"),
        _style("td_page_line", wrap=True),
        _style("td_page_sign", border=Border(top=_THIN)),
        _style("td_page_head", bold=True, align="right", border=Border(bottom=_MEDIUM)),
        _style("td_page_side", bold=True, align="right", border=ruled),
        _style("td_page_middle", bold=True, align="right", border=_BOX),
        _style("td_page_unit", color=QUIET, border=ruled),
        _style("td_page_sum", bold=True, align="right", border=Border(top=_MEDIUM)),
        _style("td_page_sum_words", bold=True, border=Border(top=_MEDIUM)),
        _style("td_page_total", bold=True, size=14, fill="FFE6F2EC", align="right"),
        _style("td_page_total_words", bold=True, size=14, fill="FFE6F2EC"),
        _style("td_page_small", italic=True, size=10, color=QUIET),
        # Examples of the looks above for the legend; they are neither input nor result.
        _style("td_look_input", fill="FFFFF7E0", border=_BOX, align="right"),
        _style("td_look_calculation", italic=True, color=QUIET, align="right", border=ruled),
        _style("td_look_output", bold=True, fill="FFE6F2EC", border=ruled, align="right"),
        _style("td_look_filled", fill="FFF0F4F8", border=ruled, align="right"),
        _style("td_look_check", bold=True, border=_BOX, align="center"),
    ]


MARK = "FFFFE3A8"


def mark_rule(formula: str, colour: str = MARK) -> FormulaRule:
    """A mark on cells for which a formula holds; it stands out in grey print too."""
    font, fill = Font(bold=True, underline="single"), PatternFill("solid", bgColor=colour)
    return FormulaRule(formula=[formula], font=font, fill=fill)


INPUT_STYLES = ("td_input", "td_input_text", "td_unit_input")


def add_styles(workbook: Workbook) -> None:
    """Register the styles with a workbook."""
    for style in make_styles():
        workbook.add_named_style(style)


def page_format(item: Field | Cell | Column) -> str:
    """The same on a page: a tax of 6.875 % that was typed may not print as 6.9 %."""
    if item.kind in ("share", "found_share"):
        return "#,##0.0###" if isinstance(item, Field) else "#,##0.0#"
    return number_format(item.kind)


def number_format(kind: str) -> str:
    """How a number of a kind is shown; General for inputs, so that nothing typed is hidden."""
    if kind == "date":
        return "yyyy-mm-dd"
    if kind == "clock":
        return "hh:mm"
    if kind == "money":
        return "#,##0.00##"
    decimals = KINDS[kind].decimals if kind in KINDS else 0
    return "#,##0" + ("." + "0" * decimals if decimals else "")
