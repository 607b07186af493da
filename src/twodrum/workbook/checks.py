"""The checks behind the state of a workbook: native formula and Python side by side."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass

from ..engine.evaluate import Values
from ..engine.model import Model, Order, Table
from ..engine.references import Name
from .layout import (
    InputBlock,
    Layout,
    below_name,
    choice_list,
    in_workings,
    input_blocks,
    inputs_key,
    slug,
    value_header,
)


@dataclass(frozen=True)
class Outcome:
    """What the filler knows when it writes the states."""

    values: Values
    problem_count: int
    error_blocks: frozenset[str] = frozenset()
    # Keys whose unit is none of their list.
    unknown_units: frozenset[str] = frozenset()


@dataclass(frozen=True)
class Check:
    """One line of the checks: a formula that says OK, CHECK or STALE."""

    name: str
    label: str
    formula: str
    broken: Callable[[Outcome], bool]
    word: str = "CHECK"


def checks(layout: Layout) -> list[Check]:
    """All checks of a workbook, in the order in which they stand on Record."""
    model = layout.model
    found: list[Check] = []
    for sheet in model.input_sheets():
        names = [item.name for item in model.fields_on(sheet)]
        key = inputs_key(model, sheet)
        found.append(_values_check(key, f"{sheet}: every value usable", names, f"{key}_si"))
    for table in model.tables:
        if not table.keys:
            found += _table_checks(layout, table.name)
    for sheet in model.result_sheets:
        names = [cell.name for cell in model.cells_on(sheet)]
        key = slug(sheet)
        found.append(_values_check(key, f"{sheet}: every result computed", names, f"{key}_values"))
    for table in model.tables:
        if table.keys:
            found.append(_result_check(model, table.name))
    if model.works_out:
        found.append(
            Check(
                "check_problems",
                "Problems at the last fill",
                '=IF(problem_count>0,"CHECK","OK")',
                lambda outcome: outcome.problem_count > 0,
            )
        )
        found += [_stale_check(block) for block in input_blocks(layout)]
    return found


def _values_check(key: str, what: str, names: list[str], cells: str) -> Check:
    return Check(
        f"check_{key}",
        what,
        _errors(cells),
        lambda outcome: any(
            outcome.values.names[name].refused or name in outcome.unknown_units for name in names
        ),
    )


def _errors(block: str) -> str:
    return f'=IF(SUMPRODUCT(--ISERROR({block}))>0,"CHECK","OK")'


def _table_checks(layout: Layout, name: str) -> list[Check]:
    model = layout.model
    table = model.table(name)
    headers = [value_header(item) for item in table.fields if in_workings(item)]

    taken = [item.default.name for item in table.fields if isinstance(item.default, Name)]

    def bad_input(outcome: Outcome) -> bool:
        # A blank row too takes what stands for a blank.
        return any(outcome.values.names[name].refused for name in taken) or any(
            row[item.name].refused
            for row in outcome.values.tables[name].rows
            for item in table.fields
            if in_workings(item)
        )

    count = f"SUMPRODUCT(--ISERROR({name}[[{headers[0]}]:[{headers[-1]}]]))"
    found = [
        Check(
            f"check_{name}",
            f"{table.label}: every number usable",
            f'=IF({count}>0,"CHECK","OK")',
            bad_input,
        )
    ]
    found += [_order_check(table, order) for order in table.orders]
    found.append(_named_check(layout, name))
    if table.at_least_one:
        found.append(
            Check(
                f"check_{name}_rows",
                f"{table.label}: at least one row",
                f'=IF(SUM({name}[In use])>0,"OK","CHECK")',
                lambda outcome: not outcome.values.tables[name].rows,
            )
        )
    if model.columns_of(name):
        found.append(_result_check(model, name))
    return found


def _order_check(table: Table, order: Order) -> Check:
    """A refused high value is #N/A only once filled, so the live formula looks at both."""
    low, high = (f"{table.name}[{_si_header(table, side)}]" for side in (order.low, order.high))
    count = f"SUMPRODUCT(ISNUMBER({low})*ISNUMBER({high})*({low}>{high}))"
    label = next(item.label for item in table.fields if item.name == order.high)
    return Check(
        f"check_{table.name}_{order.high}",
        f"{table.label}: {label} not below its other end",
        f'=IF({count}>0,"CHECK","OK")',
        lambda outcome: any(
            row[order.high].refused and row[order.low].si is not None and not row[order.high].blank
            for row in outcome.values.tables[table.name].rows
        ),
    )


def _si_header(table: Table, name: str) -> str:
    return value_header(next(item for item in table.fields if item.name == name))


def _result_check(model: Model, name: str) -> Check:
    results = [column for column in model.columns_of(name) if not column.working]
    columns = [column.name for column in results if column.kind != "text"]
    return Check(
        f"check_{name}_results",
        f"{model.table(name).label}: every row computed",
        _errors(f"{name}[[{results[0].label}]:[{results[-1].label}]]"),
        lambda outcome: any(
            row[column].refused for row in outcome.values.tables[name].rows for column in columns
        ),
    )


def _named_check(layout: Layout, name: str) -> Check:
    table = layout.model.table(name)
    field = table.key_field
    label, known = "every row named and counted", f"COUNTA({name}[{field.label}])"
    if field.kind in layout.model.choices:
        label = f"every row has its {field.label.lower()}"
        known = f"SUMPRODUCT(COUNTIF({choice_list(field.kind)},{name}[{field.label}]))"
    return Check(
        f"check_{name}_named",
        f"{table.label}: {label}",
        f'=IF(SUM({name}[In use])={known},"OK","CHECK")',
        lambda outcome: any(row[field.name].refused for row in outcome.values.tables[name].rows),
    )


def _stale_check(block: InputBlock) -> Check:
    return Check(
        f"check_{block.name}_unchanged",
        f"{block.label}: unchanged since the last fill",
        f'=IF({block.name}_changed>0,"STALE","OK")',
        lambda outcome: block.name in outcome.error_blocks,
        "STALE",
    )


def changed_formula(block: InputBlock) -> str:
    """How many cells of a block of inputs differ from the snapshot, or wait below its table."""
    now, was = f"{block.name}_in", f"{block.name}_was"
    waiting = f"+COUNTA({below_name(block.name)})" if block.name == block.table else ""
    unlike = f"SUMPRODUCT(--(({now}<>{was})+(ISBLANK({now})<>ISBLANK({was}))>0))"
    return f"=IFERROR({unlike}{waiting},1)"


# Beside the state: how much there is to read; what is possible but worth a look leaves it OK.
def notes_said(problems: int, notes: int) -> str:
    """How many problems and notes of the last fill stand on Start."""
    found = [f"{problems} to mend"] if problems else []
    found += [f"{notes} notes to read"] if notes else []
    return " and ".join(found) + " on Start" if found else ""


NOTES = (
    '=IF(problem_count>0,problem_count&" to mend","")'
    '&IF(AND(problem_count>0,note_count>0)," and ","")'
    '&IF(note_count>0,note_count&" notes to read","")'
    '&IF(problem_count+note_count>0," on Start","")'
)
# Beside a state that is stale: which blocks were typed into.
BETWEEN = ", "
CHANGED_SAID = "Changed since the last fill: "
NEVER_FILLED = "Never filled: run twodrum fill when it is typed"
CHANGED_BLOCKS = f'=LEFT(changed_joined,MAX(0,LEN(changed_joined)-LEN("{BETWEEN}")))'
FILLED_SAID = f'=IF(changed_blocks="",notes_said,"{CHANGED_SAID}"&changed_blocks)'
# A call that gives 1 where the functions are there; it stands where other calls do.
PROBE = 'TD_CONVERT(1,"mm","mm")'
NO_FUNCTIONS = "The functions are not installed here: install them, or fill without --live"
FUNCTIONS_SAID = f'=IF(ISERROR(live_probe),"{NO_FUNCTIONS}",filled_said)'
BESIDE = f'=IF(ISBLANK(filled_by),"{NEVER_FILLED}",functions_said)'

OVERALL_WITHOUT_RESULTS = '=IF(COUNTIF(check_states,"CHECK")>0,"CHECK","OK")'
OVERALL = '=IF(COUNTIF(check_states,"CHECK")>0,"CHECK",stale_state)'
STALE = '=IF(COUNTIF(check_states,"STALE")>0,"STALE","OK")'


def states(layout: Layout, outcome: Outcome) -> dict[str, str]:
    """The same states in Python, by the names of their cells."""
    found = {check.name: check.word if check.broken(outcome) else "OK" for check in checks(layout)}
    stale = "STALE" if "STALE" in found.values() else "OK"
    found["stale_state"] = stale
    found["overall_state"] = "CHECK" if "CHECK" in found.values() else stale
    return found


# What to do in each state of a workbook.
NEXT = (
    ("OK", "Nothing: filled and up to date"),
    ("STALE", "Run twodrum fill; all but rows below a table counts without it"),
    ("CHECK", "Read the foot of this sheet: it names each cell and how to mend it"),
)
TYPE_FIRST = "Type what is needed: the sheets are below"


def to_type(model: Model) -> dict[str, list[str]]:
    """For each sheet of inputs the cells that are needed, and the tables that need a row."""
    found = {
        sheet: [item.name for item in model.fields_on(sheet) if item.required]
        for sheet in model.input_sheets()
    }
    for table in model.tables:
        if table.at_least_one or (table.must_have and not table.keys):
            found.setdefault(table.sheet, []).append(f"{table.name}.")
    return {sheet: names for sheet, names in found.items() if names}
