"""Keep what jobs taught of a machine in the office workbook, row by row."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field
from pathlib import Path
from typing import Any

from .core.mix import LINING
from .evaluate import Values
from .fill import check_file, is_office
from .new import in_chosen_unit
from .problems import sentence
from .workbook.book import Book
from .workbook.office import LEARNED, OFFICE
from .workbook.package import PackageError, refuse_open_file, write_whole
from .workbook.read import Inputs
from .workbook.write import Write, write_cells

# What a row of the office keeps, and the result of the job behind it.
RESULTS = {
    "power": "learned_power",
    "power_low": "learned_power_low",
    "power_high": "learned_power_high",
    "heat_loss": "learned_loss",
    "heat_loss_low": "learned_loss_low",
    "heat_loss_high": "learned_loss_high",
}
# Rows that say the same of one day.
SAME = ("learned_machine", "learned_on", "learned_side")


@dataclass
class Kept:
    """What to say of each job, and whether all could be read."""

    lines: list[str] = field(default_factory=list)
    refused: bool = False
    added: int = 0


def keep(jobs: Sequence[Path], office: Path) -> Kept:
    """Add what these jobs learned to the office workbook; PackageError says why it cannot be."""
    refuse_open_file(office)
    book = Book.open(office)
    if not is_office(book):
        raise PackageError(f"{office} is not an office workbook; make one with twodrum office")
    kept = Kept()
    rows: list[dict[str, Any]] = []
    for job in jobs:
        filled = check_file(job)
        if filled.refused:
            kept.refused = True
            kept.lines.append(filled.refused)
            continue
        found, why = taught(filled.values)
        kept.lines.append(f"{job}: {why or 'what its warm-up taught is kept'}")
        rows += found
    kept.added = _append(book, rows)
    if kept.added:
        write_whole(office, book.package.to_bytes())
    kept.lines.append(f"{office}: {kept.added} rows added to Learned")
    return kept


def taught(values: Values) -> tuple[list[dict[str, Any]], str]:
    """Rows for the office, or why there are none."""
    machine, day = values.names["machine_name"], values.names["work_date"]
    sides = [side for side in LINING if values.names[f"{side}_learned_power"].si is not None]
    if not sides:
        return [], sentence("nothing was learned", "Warm-up says why")
    for needed in (machine, day):
        if needed.si is None:
            return [], sentence(f"{needed.where}: {needed.label} is blank", "it is kept with it")
    rows = []
    for side in sides:
        row = {"learned_machine": machine.si, "learned_on": day.si, "learned_side": side}
        row |= {name: values.names[f"{side}_{result}"].si for name, result in RESULTS.items()}
        rows.append(row)
    return rows, ""


def _append(book: Book, rows: list[dict[str, Any]]) -> int:
    """Write rows below those in use that say nothing of the same day; how many."""
    inputs = Inputs(OFFICE, book)
    known = inputs.read().tables[LEARNED.name].rows
    said = {_same({name: value.si for name, value in row.items()}) for row in known}
    new = []
    for row in rows:
        if _same(row) not in said:
            said.add(_same(row))
            new.append(row)
    read = book.tables.get(LEARNED.name)
    if read is None:
        raise PackageError("the office workbook has no table Learned: make a new one")
    taken = set(inputs.rows[LEARNED.name])
    free = [n for n in range(read.area.first_row, read.area.last_row + 1) if n not in taken]
    if len(free) < len(new):
        raise PackageError("Learned in the office workbook is full: insert rows inside its table")
    writes = {}
    for place, row in zip(free, new):
        for item in LEARNED.fields:
            if row.get(item.name) is not None:
                unit = inputs.units[f"{LEARNED.name}.{item.name}"]
                content = in_chosen_unit(item, row[item.name], unit)
                writes[read.area.sheet, place, read.columns[item.label]] = Write(content)
    write_cells(book, writes)
    return len(new)


def _same(row: Mapping[str, Any]) -> tuple[str, ...]:
    return tuple(str(row.get(name)).casefold() for name in SAME)
