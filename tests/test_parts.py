"""Parts of a job: each set of them is whole, fills, and is live as the engine says."""

from collections import Counter
from pathlib import Path

import pytest

from tests.workbook.recalculated import live_cells_that_change
from tests.workbook.typing import PLAIN, ROWS, address
from twodrum.books.job import JOB
from twodrum.books.parts import (
    ACCOUNT,
    DAY,
    PARTS,
    PROOF,
    QUOTE,
    SETS,
    job_of,
    lacking,
    with_needed,
)
from twodrum.commands.fill import check_file, fill_file, parts_of
from twodrum.commands.new import new_job, template
from twodrum.engine.model import Model, result_key
from twodrum.xlsx.book import Book
from twodrum.xlsx.write import Write, write_cells

BY_PARTS = pytest.mark.parametrize("parts", SETS, ids="-".join)


def test_there_are_five_sets_of_parts() -> None:
    assert SETS == (
        (QUOTE,),
        (QUOTE, DAY),
        (QUOTE, PROOF),
        (QUOTE, DAY, PROOF),
        (QUOTE, DAY, PROOF, ACCOUNT),
    )
    assert with_needed((ACCOUNT,)) == PARTS
    assert with_needed((PROOF,)) == (QUOTE, PROOF)


def keys(model: Model) -> list[str]:
    inputs = [f"{t.name}.{f.name}" for t in model.tables for f in t.fields]
    return [*(f.name for f in model.fields()), *inputs, *map(result_key, model.outcomes())]


@BY_PARTS
def test_a_set_reads_nothing_that_it_does_not_have_and_names_nothing_twice(
    parts: tuple[str, ...],
) -> None:
    model = job_of(parts)
    assert lacking(model) == {}
    assert [key for key, count in Counter(keys(model)).items() if count > 1] == []


def test_what_a_part_lacks_would_be_found() -> None:
    from twodrum.books.parts import composed

    lost = lacking(composed(JOB, (DAY,)))
    assert "order.density" in lost["iso_density"]
    assert lost["Day sheet"] >= {"film_thickness"}


def test_every_declaration_belongs_to_a_part() -> None:
    everything = {key for parts in SETS for key in keys(job_of(parts))}
    assert everything == set(keys(JOB))


def plain(parts: tuple[str, ...], target: Path) -> Path:
    """The small job in a workbook of these parts."""
    book = template(job_of(parts))
    cells = {address(book, name): value for name, value in PLAIN.items()}
    for table, rows in ROWS.items():
        for index, row in enumerate(rows):
            for name, value in row.items():
                cells[address(book, f"{table}.{name}", index)] = value
    assert not write_cells(book, {where: Write(value) for where, value in cells.items()})
    target.write_bytes(book.package.to_bytes())
    return target


@BY_PARTS
def test_a_job_of_these_parts_fills_to_the_price_of_the_whole_and_stays_live(
    parts: tuple[str, ...], tmp_path: Path
) -> None:
    job = plain(parts, tmp_path / "job.xlsx")
    filled = fill_file(job)
    assert (filled.state, filled.problem_count, filled.model.parts) == ("OK", 0, parts)
    assert parts_of(Book.open(job)) == parts
    whole = check_file(plain(PARTS, tmp_path / "whole.xlsx")).values.names
    for cell in filled.model.cells:
        assert filled.values.names[cell.name].si == whole[cell.name].si, cell.name
    wrong, looked_at = live_cells_that_change(job)
    assert wrong == []
    assert looked_at > 4_000
    assert not fill_file(job).changed


def test_a_job_that_lost_what_it_says_of_its_parts_is_known_by_its_inputs(tmp_path: Path) -> None:
    job = tmp_path / "job.xlsx"
    new_job(job, parts=(QUOTE, PROOF))
    book = Book.open(job)
    where = book.named("parts_here")
    assert where is not None
    write_cells(book, {(where.sheet, where.row, where.column): Write("quote, something")})
    job.write_bytes(book.package.to_bytes())
    assert parts_of(Book.open(job)) == (QUOTE, PROOF)
