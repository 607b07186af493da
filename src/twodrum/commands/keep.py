"""Keep what jobs taught of a machine in the office workbook, row by row."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field
from pathlib import Path
from typing import Any

from ..books.office import LEARNED, OFFICE
from ..core.mix import LINING
from ..engine.evaluate import Values
from ..problems import sentence
from ..workbook.in_units import in_chosen_unit
from ..workbook.read import Inputs
from ..workbook.version import is_office
from ..xlsx.book import Book
from ..xlsx.files import at_work, refuse_open_file, write_whole
from ..xlsx.package import PackageError
from ..xlsx.write import Write, write_cells
from .fill import check_file

# What a row of the office keeps, and the result of the job behind it.
RESULTS = {
    "power": "learned_power",
    "power_low": "learned_power_low",
    "power_high": "learned_power_high",
    "heat_loss": "learned_loss",
    "heat_loss_low": "learned_loss_low",
    "heat_loss_high": "learned_loss_high",
}
NO_DAY = "nothing was learned; it has no part day"
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
    with at_work(office):
        return _keep(jobs, office)


def _keep(jobs: Sequence[Path], office: Path) -> Kept:
    book = Book.open(office)
    if not is_office(book):
        raise PackageError(f"{office} is not an office workbook; make one with twodrum office")
    office_rows = Learned(book, office)
    kept = Kept([str(problem) for problem in office_rows.problems])
    for job in jobs:
        filled = check_file(job)
        if filled.refused:
            kept.refused = True
            kept.lines.append(filled.refused)
            continue
        found, why = taught(filled.values) if "day" in filled.model.parts else ([], NO_DAY)
        told = [office_rows.take(row) for row in found]
        kept.lines.append(f"{job}: {why or '; '.join(told)}")
    kept.added = office_rows.write()
    if kept.added:
        write_whole(office, book.package.to_bytes(), book.package.data)
    kept.lines.append(f"{office}: {kept.added} rows added to Learned")
    return kept


def taught(values: Values) -> tuple[list[dict[str, Any]], str]:
    """Rows for the office, or why there are none."""
    machine, day = values.names["machine_name"], values.names["work_date"]
    sides = [side for side in LINING if values.names[f"{side}_learned_power"].si is not None]
    if not sides:
        return [], sentence("nothing was learned", "Warm-up says why")
    for needed in (machine, day):
        if needed.refused:
            return [], sentence("nothing is kept", f"mend {', '.join(needed.roots)} first")
        if needed.si is None:
            return [], sentence("nothing is kept", f"type {needed.label} at {needed.where}")
    rows = []
    for side in sides:
        row = {"learned_machine": machine.si, "learned_on": day.si, "learned_side": side}
        row |= {name: values.names[f"{side}_{result}"].si for name, result in RESULTS.items()}
        rows.append(row)
    return rows, ""


class Learned:
    """The rows of the office, and those that are added to them."""

    def __init__(self, book: Book, office: Path) -> None:
        self.book, self.office = book, office
        self.inputs = Inputs(OFFICE, book)
        values = self.inputs.read()
        read = book.tables.get(LEARNED.name)
        if read is None:
            raise PackageError(f"{office} has no table Learned; undo what removed it")
        self.read = read
        self.problems = [p for p in values.problems if p.where.startswith(LEARNED.sheet)]
        self.known: dict[tuple[str, ...], tuple[str, Any]] = {}
        for row in values.tables[LEARNED.name].rows:
            plain = {name: value.si for name, value in row.items()}
            self.known[_same(plain)] = (row["learned_machine"].where, plain["power"])
        taken = set(self.inputs.rows[LEARNED.name])
        area = read.area
        self.free = [n for n in range(area.first_row, area.last_row + 1) if n not in taken]
        self.added: list[dict[str, Any]] = []

    def take(self, row: dict[str, Any]) -> str:
        """Add a row, unless one of the same machine, day and side is there; says what was done."""
        side = row["learned_side"]
        known = self.known.get(_same(row))
        if known is not None:
            where, power = known
            if power is not None and abs(power - row["power"]) <= 1e-6 * abs(row["power"]):
                return f"{side} is kept already, see {where}"
            return f"{side} is not kept, {where} says another power of that day: delete that row"
        if len(self.added) == len(self.free):
            raise PackageError(f"Learned of {self.office} is full: insert rows inside its table")
        place = self.free[len(self.added)]
        self.known[_same(row)] = (f"{LEARNED.sheet}!A{place}", row["power"])
        self.added.append(row)
        return f"{side} kept"

    def write(self) -> int:
        """Write the new rows in the units of the office; how many."""
        writes = {}
        for place, row in zip(self.free, self.added):
            for item in LEARNED.fields:
                if row.get(item.name) is not None:
                    unit = self.inputs.units[f"{LEARNED.name}.{item.name}"]
                    content = in_chosen_unit(item, row[item.name], unit)
                    column = self.read.columns[item.label]
                    writes[self.read.area.sheet, place, column] = Write(content)
        write_cells(self.book, writes)
        return len(self.added)


def _same(row: Mapping[str, Any]) -> tuple[str, ...]:
    return tuple(str(row.get(name)).casefold() for name in SAME)
