"""A quote from scratch: few cells are typed, and a spreadsheet alone makes the price."""

from pathlib import Path
from typing import Any

import pytest

from tests.libreoffice.calc import recalculate
from tests.workbook.job_values import job_template
from tests.workbook.typing import address, typed
from twodrum.commands.demo import office_typed
from twodrum.commands.fill import check_file, fill_file
from twodrum.commands.new import new_job, new_office
from twodrum.xlsx.book import Book
from twodrum.xlsx.scan import column_letters

TYPED: dict[str, Any] = {
    "job_title": "Sump 4 (invented)",
    "customer": "Example Waterworks (invented)",
    "site": "Anytown (invented)",
    "quote_date": 46351,
    "film_thickness": 2.5,
    "areas.surface": "Sump",
    "areas.shape": "four walls",
    "areas.length": 6,
    "areas.width": 4,
    "areas.height": 3,
}


def made(folder: Path, system: str = "metric") -> Path:
    """A job as `twodrum new` makes it with the invented office."""
    new_office(folder / "office.xlsx", "metric", office_typed())
    new_job(folder / "job.xlsx", folder / "office.xlsx", None, system, None)
    return folder / "job.xlsx"


def place(name: str) -> list[Any]:
    sheet, row, column = address(job_template(), name)
    return [sheet, f"{column_letters(column)}{row}"]


def test_a_job_of_one_area_takes_ten_cells_and_no_python(tmp_path: Path) -> None:
    path = made(tmp_path)
    assert len(TYPED) < 12
    read = [place(name) for name in ("net_price", "total_price", "drum_sets", "next_step")]
    read += [place("quote_total_price_said"), place("quote_customer_said")]
    before, after = recalculate(
        path,
        [
            {"set": [], "read": read},
            {"set": [[*place(name), value] for name, value in TYPED.items()], "read": read},
        ],
    )
    # Before anything is typed there is no price, and Start says what to do.
    assert before[0] == {"error": "#N/A"}
    assert before[3] == "Type what is needed: the sheets are below"
    cells = {address(job_template(), name): value for name, value in TYPED.items()}
    engine = check_file(typed(cells, tmp_path / "typed.xlsx", source=path)).values.names
    assert after[0] == pytest.approx(float(engine["net_price"].si), abs=1e-9)
    assert after[1] == after[4] == pytest.approx(float(engine["total_price"].si), abs=1e-9)
    assert after[2] == engine["drum_sets"].si
    assert after[5] == TYPED["customer"]
    assert after[3] != before[3]


def test_start_counts_what_is_still_to_type_and_says_what_next(tmp_path: Path) -> None:
    path = made(tmp_path)
    fill_file(path)
    book = Book.open(path)
    area = book.area("to_type_now")
    assert area is not None
    counts = {
        str(book.cell("Start", row, 1).value).split(":")[0]: book.cell("Start", row, 2).value
        for row in range(area.first_row, area.last_row + 1)
    }
    assert counts == {"Job": 1.0, "Areas": 1.0, "Materials": 0.0}
    cells = {address(job_template(), name): value for name, value in TYPED.items()}
    fill_file(typed(cells, path, source=path))
    step = Book.open(path).named("next_step")
    assert step is not None
    assert step.value == "Nothing: filled and up to date"
    fill_file(typed({address(job_template(), "film_thickness"): "thick"}, path, source=path))
    step = Book.open(path).named("next_step")
    assert step is not None
    assert step.value == "Read the foot of this sheet: it names each cell and how to mend it"
