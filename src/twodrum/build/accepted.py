"""What was accepted and what was issued, among the workings."""

from __future__ import annotations

from typing import TYPE_CHECKING

from openpyxl.utils import get_column_letter

from ..units import KINDS
from ..workbook.issued import (
    ACCEPTANCE,
    AS_ISSUED,
    BLOCK,
    EXPIRED,
    FORMULAS,
    HEADS,
    ISSUED_AS,
    MOST_REVISIONS,
    SHOWN,
    WORD,
)
from ..workbook.layout import FIRST_ROW, HEADER_ROW, UNIT_ROW, accepted_name, unit_choices
from .pages import value_said
from .styles import mark_rule, number_format, page_format

if TYPE_CHECKING:
    from .builder import Builder

ACCEPTED = "Accepted"
ACCEPTED_HOW = "Written by twodrum issue and twodrum accept; a fill leaves it as it is."
# What is kept of an acceptance besides its values.
OF_ACCEPTANCE = ("Accepted on", "Number of that quote", "Its revision")
OF_PAGE = {
    EXPIRED: "Past its last day",
    AS_ISSUED: "Where it was issued",
    WORD: "What the page says",
    SHOWN: "Its revision there",
}


def add_accepted(builder: Builder) -> None:
    """What was quoted when the customer said yes, beside what the workbook says now."""
    worksheet = builder.sheets[ACCEPTED]
    for letter, width in zip("ABCDE", (40, 20, 14, 18, 20)):
        worksheet.column_dimensions[letter].width = width
    builder.put(ACCEPTED, f"A{UNIT_ROW}", ACCEPTED_HOW, "td_guide")
    for letter, text in zip("ABCDE", ("What", "Accepted", "Unit", "In SI", "Now")):
        builder.put(ACCEPTED, f"{letter}{HEADER_ROW}", text, "td_header")
    for row, (name, label) in enumerate(zip(ACCEPTANCE, OF_ACCEPTANCE), FIRST_ROW):
        builder.put(ACCEPTED, f"A{row}", label, "td_label")
        builder.put(ACCEPTED, f"B{row}", None, "td_filled")
        builder.name(name, ACCEPTED, f"B{row}")
    worksheet[f"B{FIRST_ROW}"].number_format = number_format("date")
    first = FIRST_ROW + len(ACCEPTANCE)
    last = first + len(builder.model.accepted) - 1
    for what, letter in (("unit", "C"), ("now", "E")):
        builder.column("accepted", what, ACCEPTED, f"{letter}{first}:{letter}{last}")
    for row, name in enumerate(builder.model.accepted, first):
        _accepted(builder, row, name)
    _issued(builder, last + 2)


def _accepted(builder: Builder, row: int, name: str) -> None:
    item, own = builder.model.item(name), accepted_name(name)
    worksheet = builder.sheets[ACCEPTED]
    builder.put(ACCEPTED, f"A{row}", item.label, "td_label")
    builder.put(ACCEPTED, f"D{row}", None, "td_filled")
    builder.name(f"{own}_si", ACCEPTED, f"D{row}")
    shown = builder.native.carried(f"D{row}")
    if unit_choices(item):
        shown = builder.native.shown(name, f"D{row}")
    unit = f"={builder.place_of(f'{name}_unit')}" if unit_choices(item) else KINDS[item.kind].metric
    # Money stays in the currency in which it was accepted.
    money = item.kind == "money"
    builder.put(ACCEPTED, f"C{row}", None if money else unit, "td_filled" if money else "td_unit")
    builder.name(f"{own}_unit", ACCEPTED, f"C{row}")
    for letter, text in (("B", shown), ("E", value_said(builder, name))):
        builder.put(ACCEPTED, f"{letter}{row}", text, "td_output")
        worksheet[f"{letter}{row}"].number_format = page_format(item)
    rule = mark_rule(f'AND(B{row}<>"",ROUND(B{row}-E{row},1)<>0)')
    worksheet.conditional_formatting.add(f"E{row}", rule)
    builder.name(own, ACCEPTED, f"B{row}")
    builder.name(f"{own}_now", ACCEPTED, f"E{row}")


def _issued(builder: Builder, row: int) -> None:
    """What the page says of itself, and a row for each revision that was issued."""
    builder.put(ACCEPTED, f"A{row}", "Revision that this workbook is", "td_label")
    builder.put(ACCEPTED, f"B{row}", None, "td_filled")
    builder.name(ISSUED_AS, ACCEPTED, f"B{row}")
    for name, label in OF_PAGE.items():
        row += 1
        builder.put(ACCEPTED, f"A{row}", label, "td_label")
        builder.put(ACCEPTED, f"B{row}", FORMULAS[name], "td_calculation")
        builder.name(name, ACCEPTED, f"B{row}")
    row += 2
    builder.put(ACCEPTED, f"A{row}", "Issued, one row for each revision", "td_heading")
    heads = (*HEADS, *builder.model.accepted)
    for column, head in enumerate(heads, 1):
        letter = get_column_letter(column)
        builder.put(ACCEPTED, f"{letter}{row + 1}", head, "td_header")
    last = f"{get_column_letter(len(heads))}{row + 1 + MOST_REVISIONS}"
    builder.name(BLOCK, ACCEPTED, f"A{row + 1}:{last}")
