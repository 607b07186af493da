"""Fill one workbook: read, evaluate, write back what belongs to us."""

from __future__ import annotations

from collections.abc import Callable, Mapping, Set
from dataclasses import dataclass
from datetime import date
from pathlib import Path
from typing import Any

from .evaluate import Values, evaluate
from .model import Model
from .problems import Problem, count_problems, in_order, sentence
from .workbook.book import Book, CellRead
from .workbook.contents import Contents
from .workbook.job import JOB
from .workbook.package import PackageError, refuse_open_file, refuse_target, write_whole
from .workbook.read import RESTORE, BookTargets, Inputs
from .workbook.write import Address, Write, splice_cells, troubles
from .worksheet_cells import serial


class OfficeBookError(PackageError):
    """An office workbook where a job is wanted."""


@dataclass
class Filled:
    """What became of one workbook."""

    path: Path | None
    values: Values
    problems: list[Problem]
    state: str = ""
    changed: bool = False
    refused: str = ""
    office: bool = False

    @property
    def assumed(self) -> int:
        """How many blanks were taken at a usual value."""
        rows = [row for table in self.values.tables.values() for row in table.rows]
        values = [*self.values.names.values(), *(v for row in rows for v in row.values())]
        return sum(bool(value.assumed) for value in values)

    @property
    def problem_count(self) -> int:
        return count_problems(self.problems)


def check_file(path: Path, model: Model = JOB) -> Filled:
    """Read and evaluate a workbook; nothing is written."""
    try:
        filled = fill_book(Book.open(path), model)
    except PackageError as error:
        return _refused(path, error)
    filled.path = path
    return filled


def fill_file(
    path: Path,
    out: Path | None = None,
    model: Model = JOB,
    by_functions: bool = False,
    accepted_on: date | None = None,
) -> Filled:
    """Fill a workbook in place or into another file; it is replaced whole or not at all.

    ``accepted_on`` keeps the quote as it stands, once.

    With ``by_functions`` the results that no live formula gives become calls of worksheet
    functions, with the values of this fill as their cached results.
    """
    target = out or path
    try:
        if target != path:
            refuse_target(target)
        refuse_open_file(target)
        book = Book.open(path)
        filled = fill_book(book, model, by_functions=by_functions, accepted_on=accepted_on)
        data = book.package.to_bytes()
        if data != book.package.data or target != path:
            try:
                write_whole(target, data)
            except OSError as error:
                raise PackageError(f"it cannot be written ({error.strerror})") from None
            filled.changed = True
    except PackageError as error:
        return _refused(path, error)
    filled.path = target
    return filled


def _refused(path: Path, error: PackageError) -> Filled:
    office = isinstance(error, OfficeBookError)
    return Filled(path, Values(), [], "REFUSED", refused=f"{path}: {error}", office=office)


def is_job(book: Book) -> bool:
    """Whether a book has the names of a job."""
    return book.area("film_thickness") is not None or "areas" in book.tables


def is_office(book: Book) -> bool:
    """Whether a book has the tables of an office."""
    return {"crews", "machines", "rates"} <= set(book.tables)


def _evaluated(
    model: Model, book: Book, accepted: Mapping[str, float] | None = None
) -> tuple[Inputs, Values]:
    if is_office(book):
        raise OfficeBookError("it is an office workbook; pick from it with twodrum new --office")
    if not is_job(book):
        raise PackageError("it has none of the names of a twodrum job; make one with twodrum new")
    inputs = Inputs(model, book, accepted)
    values = inputs.read()
    return inputs, evaluate(model, values, BookTargets(inputs))


Writer = Callable[[Any, Mapping[Address, Write], Set[Address]], object]


def fill_book(
    book: Book,
    model: Model = JOB,
    write: Writer = splice_cells,
    by_functions: bool = False,
    accepted_on: date | None = None,
) -> Filled:
    """Write results, cached values and Record into a book; it need not be a file."""
    inputs, values = _evaluated(model, book)
    kept = _to_keep(book, model, values, accepted_on)
    if kept is not None:
        # What is held against the quote follows at once.
        quote = {name: float(values.names[name].si) for name in model.accepted}
        inputs, values = _evaluated(model, book, quote)
    problems = in_order(values.problems)
    typed = inputs.typed_cells()
    contents = Contents(model, book, inputs, values, problems, by_functions, kept)
    writes = contents.writes()
    barred = troubles(book, writes)
    found = [_overlap(cell) for where, cell in typed.items() if where in writes]
    found += barred.values()
    if found:
        # Record and state have to know of them too.
        problems = in_order([*problems, *found])
        contents = Contents(model, book, inputs, values, problems, by_functions, kept)
        writes = contents.writes()
    write(book, writes, {*typed, *barred})
    return Filled(None, values, problems, contents.state)


def _to_keep(book: Book, model: Model, values: Values, accepted_on: date | None) -> float | None:
    """The day number under which the quote is to be kept; None, and why, where it is not."""
    if accepted_on is None:
        return None
    cell = book.named("accepted_date")
    if cell is None:
        text = sentence("there is no sheet Accepted", "a job of this version has one")
        values.problems.append(Problem("Accepted", text))
        return None
    if cell.kind != "blank":
        text = sentence(
            "a quote was accepted already",
            "what was accepted stays as it is",
            "start a new job for another quote",
        )
        values.problems.append(Problem(cell.where, text, position=cell.position))
        return None
    wrong = [values.names[name] for name in model.accepted if values.names[name].refused]
    if wrong:
        roots = list(dict.fromkeys(root for value in wrong for root in value.roots))
        text = sentence(f"the quote is not complete: see {', '.join(roots[:4])}", "mend it first")
        values.problems.append(Problem(cell.where, text, position=cell.position))
        return None
    return serial(accepted_on)


def _overlap(cell: CellRead) -> Problem:
    text = sentence("a name of twodrum points at this input", "inputs are yours", RESTORE)
    return Problem(cell.where, text, position=cell.position)
