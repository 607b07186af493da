"""A job held against its accepted quote, and what is missing for it."""

from datetime import date
from pathlib import Path
from typing import Any

import pytest

from tests.workbook.day import day_cells
from tests.workbook.job_values import job_template
from tests.workbook.typing import QUOTED, accept_on, address, typed
from twodrum.commands.fill import Filled, check_file, fill_file
from twodrum.xlsx.book import Book
from twodrum.xlsx.scan import column_letters
from twodrum.xlsx.write import Write, write_cells


def accepted(folder: Path, **names: Any) -> Path:
    path = typed(day_cells({**QUOTED, **names}), folder / "job.xlsx")
    fill_file(path, deal=accept_on(date(2026, 11, 25)))
    return path


def said(filled: Filled) -> dict[str, str]:
    return dict(filled.values.studies["missing"])


def test_without_a_quote_and_without_use_both_are_missing(tmp_path: Path) -> None:
    cells = day_cells({}, [])
    filled = check_file(typed(cells, tmp_path / "job.xlsx"))
    assert set(said(filled)) == {"Accepted quote", "Litres used"}
    for name in ("area_over_quote", "volume_over_quote", "use_over_quote"):
        value = filled.values.names[name]
        assert value.si is None and not value.refused


def test_against_the_quote__hand_worked(tmp_path: Path) -> None:
    path = accepted(tmp_path)
    # 124 m² at 2 mm and 25 % loss are 330.7 L; the levels fell by 50 L a side.
    book = job_template()
    typed({address(book, "areas.agreed_area", 0): 80}, path, source=path)
    names = check_file(path).values.names
    assert names["area_over_quote"].si == pytest.approx(20)
    assert names["volume_over_quote"].si == pytest.approx(0.1 - 124 * 0.002 / 0.75)
    quoted = 0.002 / 0.75
    assert names["quoted_per_area"].si == pytest.approx(quoted)
    assert names["use_over_quote"].si == pytest.approx(0.1 / 144 / quoted - 1)
    assert names["cost_over_quote"].si == 0
    words = said(check_file(path))["Against the quote"]
    assert words.startswith("231 L less than quoted was drawn")
    assert "74.0 % less" in words


def test_the_fill_that_accepts_holds_against_it_at_once(tmp_path: Path) -> None:
    path = accepted(tmp_path)
    cell = Book.open(path).named("area_over_quote_si")
    assert cell is not None and cell.value == 0
    assert not fill_file(path).changed


def test_an_accepted_value_that_was_typed_over_with_words_is_told(tmp_path: Path) -> None:
    path = accepted(tmp_path)
    book = Book.open(path)
    where = address(book, "accepted_lining_volume_si")
    write_cells(book, {where: Write("about 300")})
    path.write_bytes(book.package.to_bytes())
    filled = check_file(path)
    told = [str(problem) for problem in filled.problems if problem.severity == "problem"]
    assert len(told) == 1
    cell = f"Workings!{column_letters(where[2])}{where[1]}"
    assert told[0].startswith(
        f"{cell}: Mixed lining to supply, accepted is about 300; it was written once as a number; "
    )
    assert filled.values.names["volume_over_quote"].refused
