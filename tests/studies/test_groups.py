"""Subtotals of a pasted take-off, and what was measured after the job, by hand."""

from pathlib import Path
from typing import Any

import pytest

from tests.workbook.typing import address, plain_cells, small_job, typed
from twodrum.books.parts import QUOTE
from twodrum.commands.copy_job import copied
from twodrum.commands.fill import Filled, check_file, fill_file
from twodrum.xlsx.book import Book

# Name, length, width, pieces, group, measured after.
PASTED: list[tuple[str, float, float, int, str | None, float | None]] = [
    ("Floor", 12, 5, 1, "Basin", 61.5),
    ("North wall", 12, 2, 2, "basin ", 47),
    ("Hatch", 1.5, 2, 4, "Shaft", None),
    ("Step", 0.5, 2, 1, None, None),
]


def take_off(path: Path, rows: list[tuple[Any, ...]]) -> Filled:
    job = small_job(path)
    book = Book.open(job)
    heads = ("surface", "length", "width", "piece_count", "group", "area_after")
    cells = plain_cells(book)
    cells = {at: value for at, value in cells.items() if at[0] != "Areas"}
    for index, row in enumerate(rows):
        cells[address(book, "areas.shape", index)] = "rectangle"
        cells[address(book, "areas.height", index)] = None
        for head, value in zip(heads, row):
            cells[address(book, f"areas.{head}", index)] = value
    typed(cells, job, source=job)
    return check_file(job)


def test_groups_add_up_whatever_case_they_are_typed_in__by_hand(tmp_path: Path) -> None:
    filled = take_off(tmp_path / "job.xlsx", PASTED)
    assert [str(p) for p in filled.problems] == []
    found = filled.values.studies["groups"]
    assert [row.group_name for row in found] == ["Basin", "Shaft", "in no group", "all"]
    assert [row.group_surfaces for row in found] == [2, 1, 1, 4]
    assert [row.group_measured for row in found] == pytest.approx([60 + 48, 12, 1, 121])
    # Film 2 mm of a material without solvent.
    assert [row.group_lining for row in found] == pytest.approx([0.216, 0.024, 0.002, 0.242])
    assert [row.group_after for row in found] == [pytest.approx(108.5), None, None, 108.5]
    assert [row.group_more for row in found] == [pytest.approx(0.5), None, None, 0.5]
    total = filled.values.names["measured_area_total"].si
    assert found[-1].group_measured == pytest.approx(total)


def test_without_a_group_there_is_no_row_and_with_an_area_after_one_of_all(tmp_path: Path) -> None:
    bare = [(*row[:4], None, None) for row in PASTED]
    assert take_off(tmp_path / "a.xlsx", bare).values.studies["groups"] == []
    after = [(*bare[0][:5], 70), *bare[1:]]
    found = take_off(tmp_path / "b.xlsx", after).values.studies["groups"]
    assert [(row.group_name, row.group_more) for row in found] == [("all", pytest.approx(10))]


def test_a_refused_surface_leaves_its_group_and_the_sum_blank(tmp_path: Path) -> None:
    spoiled = [PASTED[0], ("North wall", -12, 2, 2, "Basin", None), *PASTED[2:]]
    found = take_off(tmp_path / "job.xlsx", spoiled).values.studies["groups"]
    sums = [row.group_measured for row in found]
    assert sums == [None, pytest.approx(12), pytest.approx(1), None]


def test_it_stands_on_order_and_goes_along_to_a_copy_but_for_what_was_measured_after(
    tmp_path: Path,
) -> None:
    job = tmp_path / "job.xlsx"
    take_off(job, PASTED)
    fill_file(job)
    book = Book.open(job)
    read = book.tables["groups"]
    assert read.area.sheet == "Order"
    assert book.cell("Order", read.area.first_row, read.columns["Group"]).value == "Basin"
    copied(book, tmp_path / "next.xlsx", None, {}, (QUOTE,))
    values = check_file(tmp_path / "next.xlsx").values.tables["areas"].rows
    assert [row["group"].si for row in values] == ["Basin", "basin ", "Shaft", None]
    assert {row["area_after"].si for row in values} == {None}
