"""The sheets around inputs and results: Start, Record, Units, Lists, Snapshot."""

from __future__ import annotations

from typing import TYPE_CHECKING

from openpyxl.utils import get_column_letter

from ..changelog import entries
from ..core.inputs import TOLERANCE
from ..core.takeoff import SHAPE_NAMES, sizes_needed
from ..engine.model import (
    Cell,
    Column,
    Field,
    Model,
    declared,
)
from ..units import KINDS, UNIT_TABLE
from ..workbook.brought import BLOCK as BROUGHT
from ..workbook.checks import (
    BESIDE,
    BETWEEN,
    CHANGED_BLOCKS,
    FILLED_SAID,
    FUNCTIONS_SAID,
    NEXT,
    NOTES,
    OVERALL,
    OVERALL_WITHOUT_RESULTS,
    STALE,
    TYPE_FIRST,
    changed_formula,
    checks,
    to_type,
)
from ..workbook.entry import FROM_NAME, GAP_NAME, TO_NAME
from ..workbook.layout import (
    ADD,
    ASSUMED_ROWS,
    FIELD_COLUMNS,
    FIRST_ROW,
    FROM,
    GAP,
    HEADER_ROW,
    HIDDEN,
    IF_BLANK,
    LEAST,
    MOST,
    PARTS_HERE,
    PROBLEM_ROWS,
    TIMES,
    TO,
    UNIT,
    UNIT_ROW,
    VALUE,
    WHY,
    choice_list,
    hosts,
    input_blocks,
    limits_of,
    unit_choices,
    unit_list,
)
from ..xlsx.book import SAID, quoted
from .styles import number_format

if TYPE_CHECKING:
    from .builder import Builder

FIRST_OF_ALL = "Data sheets, machine manual, local law and a competent person come before all here."
HIDDEN_COLUMNS = "Hidden columns and rows"
TO_SEE_COLUMNS = (
    "Columns in SI units, for formulas; blank rows between results, until a fill needs them. "
    "Mark what stands beside them, right-click: Show."
)
TO_SEE = "Right-click the name of any sheet: Unhide; in LibreOffice: Show Sheet."
LEGEND = (
    ("td_input", "Typed by you: pale yellow, boxed, unlocked"),
    ("td_calculation", "Live formula on the way: grey, slanted"),
    ("td_output", "Result, a live formula: pale green, bold"),
    ("td_filled", "Written by twodrum fill: pale blue"),
    ("td_check", "A check: it says OK, STALE or CHECK"),
)


def add_start(builder: Builder) -> None:
    """Steps, purpose, main results, sheets, words, legend, and what the last fill told."""
    sheet = "Start"
    worksheet = builder.sheets[sheet]
    for letter, width in zip("ABCD", (36, 22, 14, 56)):
        worksheet.column_dimensions[letter].width = width
    row = _add_steps(builder, 5)
    facts: tuple[tuple[str, str], ...] = (
        ("Purpose", builder.model.purpose),
        ("Owner", "the office that uses it"),
        ("Template version", builder.version),
        ("Template date", builder.date),
    )
    if builder.model.parts:
        facts += (("Parts", ", ".join(builder.model.parts)),)
    for label, text in facts:
        builder.put(sheet, f"A{row}", label, "td_label")
        builder.put(sheet, f"B{row}", text, "td_guide")
        if label == "Parts":
            builder.name(PARTS_HERE, sheet, f"B{row}")
        row += 1
    row = _add_headlines(builder, row + 1)
    if builder.model.works_out:
        row = _add_to_do(builder, row)
    row = _add_sheets(builder, row)
    if builder.model.words:
        builder.put(sheet, f"A{row}", "Words", "td_heading")
        for word, meaning in builder.model.words:
            row += 1
            builder.put(sheet, f"A{row}", word, "td_label")
            builder.put(sheet, f"B{row}", meaning, "td_guide")
        row += 2
    builder.put(sheet, f"A{row}", "How cells look", "td_heading")
    looks = [look for look in LEGEND if builder.model.works_out or look[0] not in OF_RESULTS]
    for style, meaning in looks:
        row += 1
        builder.put(sheet, f"A{row}", "like this", style if style != "td_check" else "td_label")
        builder.put(sheet, f"B{row}", meaning, "td_guide")
        # An example of a look, not an input or a result.
        worksheet[f"A{row}"].style = LOOKS[style]
    builder.start_ends = row
    if builder.model.works_out:
        _add_problems(builder, row + 2)


def _add_steps(builder: Builder, row: int) -> int:
    """How to use the workbook, first of all."""
    sheet = "Start"
    builder.put(sheet, f"A{row}", "How to use it", "td_heading")
    for number, step in enumerate(builder.model.steps, 1):
        row += 1
        builder.put(sheet, f"A{row}", f"{number}.", "td_label")
        builder.put(sheet, f"B{row}", step, "td_guide")
    if builder.model.works_out:
        row += 1
        builder.put(sheet, f"A{row}", "First of all", "td_label")
        builder.put(sheet, f"B{row}", FIRST_OF_ALL, "td_guide")
    return row + 2


def _add_headlines(builder: Builder, row: int) -> int:
    """The results that an office looks for first."""
    sheet = "Start"
    if not builder.model.headlines:
        return row
    builder.put(sheet, f"A{row}", "At a glance", "td_heading")
    for name in builder.model.headlines:
        row += 1
        place, source = builder.layout.records[name]
        item = builder.model.item(name)
        builder.put(sheet, f"A{row}", item.label, "td_label")
        builder.put(sheet, f"B{row}", f"={quoted(place)}!{VALUE}{source}", "td_output")
        unit = f"={quoted(place)}!{UNIT}{source}" if item.kind in KINDS else None
        builder.put(sheet, f"C{row}", unit, "td_unit")
        builder.sheets[sheet][f"B{row}"].number_format = number_format(item.kind)
        builder.name(f"start_{name}", sheet, f"B{row}")
        builder.name(f"start_{name}_unit", sheet, f"C{row}")
    last = len(builder.model.headlines) - 1
    builder.column("start", "unit", sheet, f"C{row - last}:C{row}")
    return row + 2


def _add_sheets(builder: Builder, row: int) -> int:
    """Every sheet with what it is for; a link to each that is seen."""
    from .builder import link

    sheet = "Start"
    worksheet = builder.sheets[sheet]
    builder.put(sheet, f"A{row}", "Sheets", "td_heading")
    laid = hosts(builder.model)
    for name, purpose in builder.model.sheets:
        row += 1
        if name in laid:
            builder.told[name] = row
        if name in HIDDEN:
            builder.put(sheet, f"A{row}", name, "td_label")
            told = purpose if name in laid else f"Hidden. {purpose}"
            builder.put(sheet, f"B{row}", told, "td_guide")
        else:
            link(worksheet, f"A{row}", name, name)
            builder.put(sheet, f"B{row}", purpose, "td_guide")
    row += 1
    builder.put(sheet, f"A{row}", "To see a hidden sheet", "td_label")
    builder.put(sheet, f"B{row}", TO_SEE, "td_guide")
    row += 1
    builder.put(sheet, f"A{row}", HIDDEN_COLUMNS, "td_label")
    builder.put(sheet, f"B{row}", TO_SEE_COLUMNS, "td_guide")
    return row + 2


def _add_to_do(builder: Builder, row: int) -> int:
    """What is still to type, sheet by sheet, and what to do next."""
    from .builder import link

    sheet = "Start"
    builder.put(sheet, f"A{row}", "What next", "td_heading")
    row += 1
    builder.put(sheet, f"A{row}", "Next", "td_label")
    by_state = "INDEX(next_words,MATCH(overall_state,next_states,0))"
    needed = to_type(builder.model)
    formula = f'=IF(SUM(to_type_now)>0,"{TYPE_FIRST}",{by_state})' if needed else f"={by_state}"
    builder.put(sheet, f"B{row}", formula, "td_calculation")
    builder.sheets[sheet][f"B{row}"].style = "td_next"
    builder.name("next_step", sheet, f"B{row}")
    first = row + 1
    for name, items in needed.items():
        row += 1
        link(builder.sheets[sheet], f"A{row}", name, f"{name}: needed and still blank")
        parts = [
            f"(1-SIGN(SUM({item[:-1]}[In use])))" if item.endswith(".") else f"COUNTBLANK({item})"
            for item in items
        ]
        builder.put(sheet, f"B{row}", f"={'+'.join(parts)}", "td_output")
    if needed:
        builder.name("to_type_now", sheet, f"B{first}:B{row}")
    return row + 2


OF_RESULTS = ("td_output", "td_filled")
LOOKS = {
    "td_input": "td_look_input",
    "td_calculation": "td_look_calculation",
    "td_output": "td_look_output",
    "td_filled": "td_look_filled",
    "td_check": "td_look_check",
}


def add_record(builder: Builder) -> None:
    """Checks, problems, assumed values, sources of columns, versions."""
    sheet = "Record"
    worksheet = builder.sheets[sheet]
    for letter, width in zip("ABC", (44, 24, 110)):
        worksheet.column_dimensions[letter].width = width
    row = UNIT_ROW
    if builder.model.works_out:
        row = _add_assumed(builder, row)
    builder.put(sheet, f"A{row}", "Checks", "td_heading")
    row += 1
    first = row + 1
    for letter, text in zip("AB", ("Check", "State")):
        builder.put(sheet, f"{letter}{row}", text, "td_header")
    for check in checks(builder.layout):
        row += 1
        builder.put(sheet, f"A{row}", check.label, "td_label")
        builder.put(sheet, f"B{row}", check.formula, "td_check")
        builder.name(check.name, sheet, f"B{row}")
    builder.name("check_states", sheet, f"B{first}:B{row}")
    summary = [("All checks together", "overall_state", OVERALL_WITHOUT_RESULTS)]
    if builder.model.works_out:
        summary = [
            ("Filled since the last change", "stale_state", STALE),
            ("All checks together", "overall_state", OVERALL),
        ]
    for label, name, formula in summary:
        row += 1
        builder.put(sheet, f"A{row}", label, "td_label")
        builder.put(sheet, f"B{row}", formula, "td_check")
        builder.name(name, sheet, f"B{row}")
    row += 2
    if builder.model.works_out:
        row = _add_changes(builder, row)
    builder.put(sheet, f"A{row}", "Version of the template", "td_heading")
    row += 1
    for letter, text in zip("ABC", ("Version", "Date", "What changed")):
        builder.put(sheet, f"{letter}{row}", text, "td_header")
    # CHANGELOG.md has all of them.
    version, date, lines = entries()[0]
    row += 1
    builder.put(sheet, f"A{row}", version, "td_text")
    builder.put(sheet, f"B{row}", date, "td_text")
    builder.put(sheet, f"C{row}", " ".join(lines), "td_text")


def _add_problems(builder: Builder, row: int) -> int:
    """What the last fill told, at the foot of the first sheet."""
    sheet = "Start"
    for label, name in (
        ("Problems at the last fill", "problem_count"),
        ("Notes at the last fill", "note_count"),
        ("Filled by", "filled_by"),
    ):
        builder.put(sheet, f"A{row}", label, "td_label")
        builder.put(sheet, f"B{row}", None, "td_filled")
        builder.name(name, sheet, f"B{row}")
        row += 1
    row += 1
    builder.put(sheet, f"A{row}", "Problems and notes of the last fill", "td_heading")
    heads = ("Where", "Kind", "What")
    return _filled_list(builder, sheet, row + 1, "record_problems", heads, PROBLEM_ROWS)


def _add_assumed(builder: Builder, row: int) -> int:
    """What was taken for blanks, and what came from the office."""
    sheet = "Record"
    builder.put(sheet, f"A{row}", "Values assumed because a cell was blank", "td_heading")
    heads = ("What", "Value", "Why")
    row = _filled_list(builder, sheet, row + 1, "record_assumed", heads, ASSUMED_ROWS)
    if not builder.model.parts:
        return row
    builder.put(sheet, f"A{row}", "Values that came from the office with a name", "td_heading")
    heads = ("Value", "Came with", "In SI")
    # Each single input may have come so.
    rows = len(list(builder.model.fields()))
    return _filled_list(builder, sheet, row + 1, BROUGHT, heads, rows)


def _add_changes(builder: Builder, row: int) -> int:
    """What changed since the last fill, and what stands beside the state of every sheet."""
    from .builder import source_text

    sheet = "Record"
    first = row
    for block in input_blocks(builder.layout):
        label = f"{block.label}: cells changed since the last fill"
        builder.put(sheet, f"A{row}", label, "td_label")
        builder.put(sheet, f"B{row}", changed_formula(block), "td_calculation")
        builder.name(f"{block.name}_changed", sheet, f"B{row}")
        said = f'=IF({block.name}_changed>0,"{block.label}{BETWEEN}","")'
        builder.put(sheet, f"C{row}", said, "td_calculation")
        builder.name(f"{block.name}_changed_said", sheet, f"C{row}")
        row += 1
    builder.column("record", SAID[1:], sheet, f"C{first}:C{row - 1}")
    joined = "&".join(f"C{at}" for at in range(first, row))
    for label, name, formula in (
        ("Blocks changed since the last fill, joined", "changed_joined", f"={joined}"),
        ("Blocks changed since the last fill", "changed_blocks", CHANGED_BLOCKS),
        ("Problems and notes", "notes_said", NOTES),
        ("What a filled workbook says beside its state", "filled_said", FILLED_SAID),
        ("A call, where results are calls of worksheet functions", "live_probe", None),
        ("What it says of these", "functions_said", FUNCTIONS_SAID),
        ("What stands beside the state", "beside_said", BESIDE),
    ):
        builder.put(sheet, f"A{row}", label, "td_label")
        builder.put(sheet, f"B{row}", formula, "td_calculation")
        builder.name(name, sheet, f"B{row}")
        row += 1
    row += 1
    builder.put(sheet, f"A{row}", "Where the columns come from", "td_heading")
    row += 1
    for letter, text in zip("ABC", ("Column", "Sheet", "Formula and source")):
        builder.put(sheet, f"{letter}{row}", text, "td_header")
    for column in builder.model.columns:
        if builder.model.table(column.table).fixed and column.working:
            # A what-if goes along the chain that stands on Order and Cost.
            continue
        row += 1
        table = builder.model.table(column.table)
        builder.put(sheet, f"A{row}", column.label, "td_text")
        builder.put(sheet, f"B{row}", table.label, "td_text")
        builder.put(sheet, f"C{row}", source_text(column, builder.model), "td_text")
    for study in builder.model.studies:
        row += 1
        builder.put(sheet, f"A{row}", study.label, "td_text")
        builder.put(sheet, f"B{row}", study.sheet, "td_text")
        builder.put(sheet, f"C{row}", study.source, "td_text")
    return row + 2


def _filled_list(
    builder: Builder, sheet: str, row: int, name: str, heads: tuple[str, str, str], rows: int
) -> int:
    for letter, text in zip("ABC", heads):
        builder.put(sheet, f"{letter}{row}", text, "td_header")
    for index in range(row + 1, row + rows + 1):
        for letter in "ABC":
            builder.put(sheet, f"{letter}{index}", None, "td_filled_text")
    builder.name(name, sheet, f"A{row + 1}:C{row + rows}")
    return row + rows + 2


def add_units(builder: Builder) -> None:
    """One row for every number: conversion of the unit picked, limits, default."""
    sheet = "Units"
    worksheet = builder.sheets[sheet]
    widths = (30, 38, 10, 12, 12, 12, 12, 12, 14, 62, 12)
    for index, (text, width) in enumerate(zip(FIELD_COLUMNS, widths), 1):
        letter = get_column_letter(index)
        builder.put(sheet, f"{letter}{HEADER_ROW}", text, "td_header")
        worksheet.column_dimensions[letter].width = width
    builder.put(sheet, f"A{UNIT_ROW}", "SI value = (typed + add) × times", "td_guide")
    row = FIRST_ROW
    for key, row in builder.layout.field_rows.items():
        _field_row(builder, key, row)
    builder.table("fields", sheet, f"A{HEADER_ROW}:{GAP}{row}")
    for name, letter in ((FROM_NAME, FROM), (TO_NAME, TO), (GAP_NAME, GAP)):
        builder.name(name, sheet, f"{letter}{FIRST_ROW}:{letter}{row}")


def _field_row(builder: Builder, key: str, row: int) -> None:
    sheet, model = "Units", builder.model
    item, unit = _item(builder, key)
    builder.put(sheet, f"A{row}", key, "td_label")
    label = (
        item.label
        if "." not in key
        else f"{key.split('.', maxsplit=1)[0].capitalize()}: {item.label}"
    )
    builder.put(sheet, f"B{row}", label, "td_label")
    for letter in (ADD, TIMES, LEAST, MOST, FROM, TO, IF_BLANK, WHY, GAP):
        builder.put(sheet, f"{letter}{row}", None, "td_calculation")
    if item.kind in KINDS:
        of_kind = f'MATCH("{item.kind}",unit_table[Kind],0)'
        position = f"{of_kind}+MATCH({unit},{unit_list(item.kind)},0)-1"
        known = UNIT_TABLE[item.kind][KINDS[item.kind].metric]
        for letter, what, number in zip((ADD, TIMES), ("Add", "Times"), known):
            picked = f"=INDEX(unit_table[{what}],{position})"
            _calculated(builder, f"{letter}{row}", picked if unit_choices(item) else number)
    if not isinstance(item, Field) or key.split(".", maxsplit=1)[0] in {
        s.name for s in model.studies
    }:
        return
    if item.kind in KINDS:
        least, most = item.least * (1 - TOLERANCE), item.most * (1 + TOLERANCE)
        for letter, bound in ((LEAST, least), (MOST, most)):
            builder.put(sheet, f"{letter}{row}", bound, "td_constant")
        if item.kind == "share":
            builder.put(sheet, f"{GAP}{row}", f'=IF({unit}="%",1,0)', "td_calculation")
        highest = most_cell = f"{MOST}{row}"
        # One that is refused leaves the others in force.
        limits = [
            f"IFERROR(MIN({most_cell},{name}_si),{most_cell})" for name in limits_of(model, key)
        ]
        if limits:
            highest = f"MIN({','.join(limits)})" if len(limits) > 1 else limits[0]
        for letter, end in ((FROM, f"{LEAST}{row}"), (TO, highest)):
            shown = f"={end}/{TIMES}{row}-{ADD}{row}"
            builder.put(sheet, f"{letter}{row}", shown, "td_calculation")
    if item.default is not None:
        name = getattr(item.default, "name", "")
        _calculated(builder, f"{IF_BLANK}{row}", f"={name}_si" if name else item.default)
    elif item.required and "." not in key:
        builder.put(sheet, f"{IF_BLANK}{row}", "=NA()", "td_calculation")
    else:
        builder.put(sheet, f"{IF_BLANK}{row}", '=""', "td_calculation")
    builder.put(sheet, f"{WHY}{row}", item.reason or None, "td_note")


def _calculated(builder: Builder, address: str, content: object) -> None:
    """A formula or a constant of Units, each with its look."""
    formula = isinstance(content, str) and content.startswith("=")
    builder.put("Units", address, content, "td_calculation" if formula else "td_constant")


def _item(builder: Builder, key: str) -> tuple[Field | Cell | Column, str]:
    layout, model = builder.layout, builder.model
    item = declared(model, key)
    if "." not in key:
        sheet, row = layout.records[key]
        return item, f"{quoted(sheet)}!{UNIT}{row}"
    table, name = key.split(".")
    if table in {study.name for study in model.studies}:
        letter = layout.place(table, name, "result").letter
        unit_row = layout.study_tops[table] + 1
        return item, f"{quoted(model.study(table).sheet)}!{letter}{unit_row}"
    role = "input" if isinstance(item, Field) else "result"
    letter = layout.place(table, name, role).letter
    return item, f"{quoted(model.table(table).sheet)}!{letter}{UNIT_ROW}"


def kinds_in_use(model: Model) -> set[str]:
    """Kinds of quantity that a workbook has a number of."""
    items: list[Field | Cell | Column] = [*model.fields(), *model.cells, *model.columns]
    items += [item for table in model.tables for item in table.fields]
    items += [item for study in model.studies for item in study.columns]
    return {item.kind for item in items}


def add_lists(builder: Builder) -> None:
    """Units by kind, words to pick from, constants; each a table, with names for its parts."""
    sheet = "Lists"
    worksheet = builder.sheets[sheet]
    kinds = [kind for kind in KINDS.values() if kind.name in kinds_in_use(builder.model)]
    rows = [(k.name, u, *UNIT_TABLE[k.name][u]) for k in kinds for u in k.unit_texts]
    last = _list_table(builder, "unit_table", 1, ("Kind", "Unit", "Add", "Times"), rows)
    row = FIRST_ROW
    for kind in kinds:
        end = row + len(kind.units) - 1
        if len(kind.units) > 1:
            builder.name(unit_list(kind.name), sheet, f"B{row}:B{end}")
        row = end + 1
    column = 6
    must_have = {word for table in builder.model.tables for word in table.must_have}
    for choice, words in builder.model.choices.items():
        heads: tuple[str, ...] = (choice.replace("_", " ").capitalize(),)
        data: list[tuple[object, ...]] = [(word,) for word in words]
        if choice == "shape":
            heads, data = (*heads, "Sizes to type"), [(w, sizes_needed(w)) for w in SHAPE_NAMES]
        if choice == "component":
            heads, data = (*heads, "Always"), [(w, int(w in must_have)) for w in words]
        last = max(last, _list_table(builder, f"{choice}_words", column, heads, data))
        first, second = get_column_letter(column), get_column_letter(column + 1)
        end = FIRST_ROW + len(words) - 1
        builder.name(choice_list(choice), sheet, f"{first}{FIRST_ROW}:{first}{end}")
        if len(heads) > 1:
            part = "shape_sizes" if choice == "shape" else f"{choice}_always"
            builder.name(part, sheet, f"{second}{FIRST_ROW}:{second}{end}")
        column += len(heads) + 1
    if builder.model.works_out:
        heads = ("In the state", "To do next")
        last = max(last, _list_table(builder, "next_steps", column, heads, list(NEXT)))
        for offset, name in enumerate(("next_states", "next_words")):
            letter = get_column_letter(column + offset)
            end = FIRST_ROW + len(NEXT) - 1
            builder.name(name, sheet, f"{letter}{FIRST_ROW}:{letter}{end}")
        column += len(heads) + 1
    if builder.model.constants:
        data = [(c.name, c.value, c.unit, c.source) for c in builder.model.constants]
        heads = ("Constant", "Number", "In", "Where from")
        _list_table(builder, "constants", column, heads, data)
        letter = get_column_letter(column + 1)
        for index, constant in enumerate(builder.model.constants):
            builder.name(constant.name, sheet, f"{letter}{FIRST_ROW + index}")
    for index in range(1, worksheet.max_column + 1):
        cells = [worksheet.cell(r, index).value for r in range(HEADER_ROW, last + 1)]
        longest = max((len(str(v)) for v in cells if v is not None), default=2)
        letter = get_column_letter(index)
        worksheet.column_dimensions[letter].width = max(34 if index == 1 else 4, longest + 3)


def _list_table(
    builder: Builder,
    name: str,
    column: int,
    heads: tuple[str, ...],
    rows: list,  # type: ignore[type-arg]
) -> int:
    for offset, text in enumerate(heads):
        letter = get_column_letter(column + offset)
        builder.put("Lists", f"{letter}{HEADER_ROW}", text, "td_header")
        for index, row in enumerate(rows):
            value = row[offset]
            number = isinstance(value, (int, float))
            style = "td_constant" if number else "td_label"
            builder.put("Lists", f"{letter}{FIRST_ROW + index}", value, style)
    last = FIRST_ROW + len(rows) - 1
    first, final = get_column_letter(column), get_column_letter(column + len(heads) - 1)
    builder.table(name, "Lists", f"{first}{HEADER_ROW}:{final}{last}")
    return last


def add_snapshot(builder: Builder) -> None:
    """Room for the inputs as they were when last filled, one block beside the other."""
    sheet, column = "Snapshot", 1
    for block in input_blocks(builder.layout):
        first, last = get_column_letter(column), get_column_letter(column + block.width - 1)
        # A row of units stands above the table that it belongs to.
        units = block.name.endswith("_units")
        top = UNIT_ROW if units else FIRST_ROW
        kept = f"{first}{top}:{last}{top + block.rows - 1}"
        builder.name(f"{block.name}_kept", sheet, kept)
        builder.define(f"{block.name}_was", _part(f"{block.name}_kept", f"{block.name}_in"))
        if not units:
            builder.put(sheet, f"{first}{HEADER_ROW}", block.label, "td_heading")
            for offset in range(block.width):
                letter = get_column_letter(column + offset)
                builder.sheets[sheet].column_dimensions[letter].width = 13
        if units or not block.table:
            column += block.width + 1
    builder.sheets[sheet].column_dimensions["A"].width = 24


def _part(kept: str, now: str) -> str:
    return f"INDEX({kept},1,1):INDEX({kept},ROWS({now}),COLUMNS({now}))"
