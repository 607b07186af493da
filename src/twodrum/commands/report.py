"""What the command line says: short tables for people, JSON for programs."""

from __future__ import annotations

from collections.abc import Iterator
from decimal import Decimal
from typing import TYPE_CHECKING, Any, TextIO, TypeVar

from ..engine.evaluate import Value
from ..plainly import plain
from ..studies.words import clock
from ..units import KINDS, from_si
from .fill import Filled

if TYPE_CHECKING:
    from .month import Rolled

Item = TypeVar("Item")


def in_words(value: Value, currency: str = "") -> str:
    """A result as "1,234.5 L", or why there is none."""
    if value.refused:
        return "#N/A"
    if value.si is None:
        return ""
    if value.kind == "money":
        return f"{value.si:,.2f} {currency}".strip()
    if value.kind == "clock":
        return clock(value.si)
    if value.kind not in KINDS:
        return str(value.si)
    number = from_si(float(value.si), value.kind, value.unit)
    return f"{number:,.{KINDS[value.kind].decimals}f} {value.unit}"


def as_json(filled: Filled) -> dict[str, Any]:
    """One workbook for a program: problems, and results by name."""
    problems = [
        {"code": p.code, "where": p.where, "text": p.text, "severity": p.severity}
        for p in filled.problems
    ]
    results: dict[str, Any] = {}
    for name, value in filled.values.names.items():
        if value.function or value.depends:
            results[name] = _result(value)
    tables: dict[str, Any] = {}
    for table, rows in filled.values.tables.items():
        tables[table] = [
            {
                name: _result(value) if value.function or value.depends else _number(value.si)
                for name, value in row.items()
            }
            for row in rows.rows
        ]
    return {
        "file": str(filled.path),
        "refused": filled.refused,
        "problems": problems,
        "results": results,
        "tables": tables,
        "studies": {
            name: [{key: _number(one) for key, one in row._asdict().items()} for row in rows]
            for name, rows in filled.values.studies.items()
        },
    }


def _number(si: Any) -> Any:
    return float(si) if isinstance(si, Decimal) else si


def _result(value: Value) -> dict[str, Any]:
    shown = None
    if value.si is not None and value.kind in KINDS:
        shown = from_si(float(value.si), value.kind, value.unit)
    elif value.si is not None:
        shown = value.si
    return {
        "value": shown,
        "unit": value.unit,
        "si": _number(value.si),
        "si_unit": KINDS[value.kind].si if value.kind in KINDS else "",
        "why": value.why,
        "function": value.function,
        "source": value.source,
        "depends": list(value.depends),
    }


LEFTOVERS = "{} hidden files that a stopped command had left in this folder were removed."


def print_filled(filled: Filled, did: str, file: TextIO | None = None) -> None:
    """One workbook as a short table and its problems."""
    from rich import box
    from rich.console import Console
    from rich.table import Table

    console = Console(highlight=False, soft_wrap=True, file=file)
    if filled.refused:
        for line in (filled.refused, *filled.problems):
            console.print(plain(line), markup=False)
        return
    console.print(f"{plain(filled.path)}: {did}", markup=False)
    table = Table(box=box.SIMPLE, show_header=False, pad_edge=False)
    table.add_column()
    table.add_column(justify="right")
    picked = filled.values.names.get("currency")
    currency = str(picked.si or "") if picked else ""
    for name in filled.model.headlines:
        value = filled.values.names[name]
        if value.si is None and not value.refused:
            continue
        label = filled.model.item(name).label
        if name == "total_price" and filled.values.names["tax_share"].blank:
            label += ", no tax typed"
        table.add_row(label, in_words(value, currency))
    if table.row_count:
        console.print(table)
    for problem in filled.problems:
        mark = "" if problem.severity == "problem" else "note: "
        console.print(f"{mark}{plain(problem)}", markup=False)
    if filled.leftovers:
        console.print(LEFTOVERS.format(filled.leftovers))
    if filled.assumed:
        console.print(
            f"{filled.assumed} blank cells were taken at a usual value; fill lists them on Record."
        )
    if "cautions" in filled.values.studies:
        cautions = len(filled.values.studies["cautions"])
        console.print(f"{cautions} cautions stand on the sheet Cautions: read them first.")
    count = filled.problem_count
    notes = len(filled.problems) - count
    said = f"{count} problem{'s' * (count > 1)}." if count else "No problem in what was typed."
    said += f" {notes} note{'s' * (notes > 1)} to read." if notes else ""
    console.print(said)


def watched(items: Iterator[Item], total: int, what: str) -> Iterator[Item]:
    """The items one by one, with a bar, the rate and the time left where somebody looks at it."""
    from rich.console import Console
    from rich.progress import (
        BarColumn,
        MofNCompleteColumn,
        Progress,
        TextColumn,
        TimeRemainingColumn,
    )

    errors = Console(stderr=True)
    rate = TextColumn("{task.fields[rate]}")
    columns = (TextColumn(what), BarColumn(), MofNCompleteColumn(), rate, TimeRemainingColumn())
    bar = Progress(*columns, console=errors, disable=not errors.is_terminal, transient=True)
    with bar:
        task = bar.add_task(what, total=total, rate="")
        for item in items:
            yield item
            speed = bar.tasks[0].speed
            bar.update(task, advance=1, rate=f"{speed:.1f} a second" if speed else "")


def month_said(rolled: Rolled) -> list[str]:
    """A month in a few lines: the front page, then where it stands."""
    from ..studies.month_findings import UNREAD

    assert rolled.filled is not None
    rows = rolled.filled.values.studies["month_findings"]
    # Each file that could not be read was told already.
    lines = [f"{what}: {words}" for what, words, _ in rows if what != UNREAD]
    return [*lines, f"{rolled.target}: made; read its sheet Month first"]
