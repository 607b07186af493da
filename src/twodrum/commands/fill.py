"""Fill one workbook: read, evaluate, write back what belongs to us."""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence, Set
from dataclasses import dataclass, field
from pathlib import Path
from typing import Any

from ..books.job import BASE
from ..books.parts import model_of
from ..engine.evaluate import Values, evaluate
from ..engine.model import Model
from ..engine.order import filled
from ..problems import PROBLEM, Problem, count_problems, in_order, sentence
from ..workbook.brought import still_of_another
from ..workbook.contents import Contents, Kept
from ..workbook.grow import grown
from ..workbook.issued import Revision
from ..workbook.listed import with_listings
from ..workbook.mend import put_right
from ..workbook.printed import with_print_areas
from ..workbook.read import RESTORE, BookTargets, Inputs
from ..workbook.setting import with_setting
from ..workbook.unused_rows import with_unused_rows_hidden
from ..workbook.version import know_former
from ..xlsx.book import Book, CellRead
from ..xlsx.files import at_work, refuse_open_file, refuse_target, write_whole
from ..xlsx.marked import marked
from ..xlsx.package import PackageError
from ..xlsx.write import Address, Write, differing, splice_cells, troubles
from .already import mark_of
from .deal import Deal, NotIssuedError, issued_as, settled, with_change_order
from .refusals import OtherBookError, refuse_others, refuse_unlike


@dataclass
class Filled:
    """What became of one workbook."""

    path: Path | None
    values: Values
    problems: list[Problem]
    state: str = ""
    changed: bool = False
    # How many files of commands that were stopped in the middle were removed beside it.
    leftovers: int = 0
    refused: str = ""
    # Which other workbook of ours it is, where it is no job.
    left_alone: str = ""
    # Of what it is made.
    model: Model = BASE
    # Rows of letters that say nothing, and those that do, by sheet.
    unseen: Mapping[str, Mapping[int, bool]] = field(default_factory=dict)
    # What was done with its quote, in words.
    said: str = ""
    # The revision that it is; 0: none that was issued.
    revision: int = 0
    # The one that was issued, and whether that is new.
    issued: Revision | None = None
    new: bool = False

    @property
    def assumed(self) -> int:
        """How many blanks were taken at a usual value."""
        rows = [row for table in self.values.tables.values() for row in table.rows]
        values = [*self.values.names.values(), *(v for row in rows for v in row.values())]
        return sum(bool(value.assumed) for value in values)

    @property
    def problem_count(self) -> int:
        return count_problems(self.problems)

    @property
    def first_problem(self) -> Problem:
        """The first in the order of the sheets that is no mere note; there has to be one."""
        return next(problem for problem in self.problems if problem.severity == PROBLEM)


def _job_model(book: Book) -> Model:
    """The same of a book that has to be a job."""
    refuse_others(book)
    return model_of(book)


def check_file(path: Path, model: Model | None = None) -> Filled:
    """Read and evaluate a workbook; nothing is written."""
    try:
        book, put, model = opened(path, model)
        if not model.results:
            # A workbook of inputs only, such as the office: nothing follows from them.
            _, values = _evaluated(model, book)
            return Filled(path, values, in_order([*put, *values.problems]), model=model)
        filled = fill_book(book, model, put=put)
    except PackageError as error:
        return _refused(path, error)
    filled.path = path
    return filled


def opened(path: Path, model: Model | None) -> tuple[Book, list[Problem], Model]:
    """The book of a file with everything of ours in its place, what was put right, its model.

    Without a model it is a job, of the parts that it has.
    """
    book = Book.open(path)
    model = model or _job_model(book)
    know_former(book, model)
    refuse_unlike(model, book)
    book, taken = grown(book, model)
    book = with_listings(book, model)
    book, put = put_right(book, model)
    return book, [*taken, *put], model


def read_file(path: Path, model: Model | None = None, complete: Completed | None = None) -> Filled:
    """Read and evaluate a workbook without looking at what a fill would write."""
    try:
        book, _, model = opened(path, model)
        _, values = _evaluated(model, book, complete=complete)
    except PackageError as error:
        return _refused(path, error)
    return Filled(path, values, in_order(values.problems), model=model)


def fill_file(
    path: Path,
    out: Path | None = None,
    model: Model | None = None,
    by_functions: bool = False,
    deal: Deal | None = None,
    complete: Completed | None = None,
) -> Filled:
    """Fill a workbook in place or into another file; it is replaced whole or not at all.

    ``deal`` is what is to be done with its quote.
    With ``by_functions`` the results that no live formula gives become calls of worksheet
    functions, with the values of this fill as their cached results.
    """
    target = out or path
    try:
        if target != path:
            refuse_target(target)
        refuse_open_file(target)
        with at_work(target) as removed:
            book, put, model = opened(path, model)
            book = deal.begun(book, model) if deal is not None else book
            filled = fill_book(
                book, model, by_functions=by_functions, deal=deal, put=put, complete=complete
            )
            filled.leftovers = removed
            book = with_unused_rows_hidden(book, model, filled.values, filled.unseen)
            book = with_print_areas(book, model, filled.values)
            package = with_setting(book, model, filled.values).package
            data, read = package.to_bytes(), package.data
            if filled.issued is not None and deal is not None and deal.enter is not None:
                deal.enter(filled.issued, filled.values, filled.new)
            if data != read or target != path:
                # What was put right now is told no more the next time.
                data = marked(package, data, None if put else mark_of(filled, by_functions))
                write_whole(target, data, read if target == path else None)
                filled.changed = True
    except PackageError as error:
        return _refused(path, error)
    filled.path = target
    return filled


def _refused(path: Path, error: PackageError) -> Filled:
    kind = error.kind if isinstance(error, OtherBookError) else ""
    lacks = error.problems if isinstance(error, NotIssuedError) else []
    return Filled(path, Values(), lacks, "REFUSED", refused=f"{path}: {error}", left_alone=kind)


# What adds to the values read of a workbook what stands elsewhere.
Completed = Callable[[Values], None]


def _evaluated(
    model: Model,
    book: Book,
    accepted: Mapping[str, float | None] | None = None,
    blank: Set[str] = frozenset(),
    complete: Completed | None = None,
) -> tuple[Inputs, Values]:
    refuse_unlike(model, book)
    inputs = Inputs(model, book, accepted)
    read = inputs.read()
    if complete is not None:
        complete(read)
    values = evaluate(model, read, BookTargets(inputs), blank)
    values.problems += inputs.of_older()
    return inputs, values


Writer = Callable[[Any, Mapping[Address, Write], Set[Address]], object]


def fill_book(
    book: Book,
    model: Model | None = None,
    write: Writer | None = None,
    by_functions: bool = False,
    deal: Deal | None = None,
    put: Sequence[Problem] = (),
    complete: Completed | None = None,
) -> Filled:
    """Write results, cached values and Record into a book; it need not be a file.

    ``put`` tells what was put right in it beforehand; ``write`` takes what would be written
    instead. ``complete`` adds to what was read what stands elsewhere.
    """
    model = model or _job_model(book)
    inputs, values = _evaluated(model, book, complete=complete)
    done = settled(deal, book, model, values)
    if done.accepted is not None:
        # What is held against the quote follows at once.
        inputs, values = _evaluated(model, book, done.accepted, complete=complete)
    values.problems += [*put, *still_of_another(model, book, values)]
    problems = in_order(values.problems)
    typed = inputs.typed_cells()
    revision = issued_as(model, values, done.kept)
    kept = Kept(revision, done.writes)
    every = write is not None
    contents = Contents(model, book, inputs, values, problems, by_functions, kept, every=every)
    writes = contents.writes()
    changes = differing(book, writes)
    barred = troubles(book, changes)
    found = [_overlap(book.cell(*where)) for where in sorted(typed & writes.keys())]
    found += barred.values()
    if found:
        # Record and state have to know of them too.
        problems = in_order([*problems, *found])
        contents = Contents(model, book, inputs, values, problems, by_functions, kept, every=every)
        writes = contents.writes()
        changes = differing(book, writes)
    if write is None:
        splice_cells(book, changes, {*typed, *barred})
    else:
        write(book, writes, {*typed, *barred})
    if done.accepted is not None:
        with_change_order(book, model, any(si is not None for si in done.accepted.values()))
    filled = Filled(None, values, problems, contents.state, model=model, said=done.said)
    filled.revision, filled.issued, filled.new = revision, done.issued, done.new
    filled.unseen = contents.unseen
    return filled


def with_cached_values(book: Book, model: Model) -> None:
    """Give the live formulas of a book that was never filled the values that they will show."""
    inputs, values = _evaluated(model, book, blank=filled(model))
    contents = Contents(model, book, inputs, values, [], never_filled=True)
    cached = {at: write for at, write in contents.writes().items() if write.cached}
    splice_cells(book, differing(book, cached), set())


def _overlap(cell: CellRead) -> Problem:
    text = sentence("a name of twodrum points at this input", "inputs are yours", RESTORE)
    return Problem("name-on-input", cell.where, text, position=cell.position)
