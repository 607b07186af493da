"""Numbers typed the spreadsheet's way: the format of a cell tells them from plain ones."""

from pathlib import Path
from typing import Any

import openpyxl
import pytest

from tests.libreoffice.calc import recalculate
from tests.workbook.typing import small_job
from twodrum.commands.fill import check_file, fill_file
from twodrum.workbook.seen import seen
from twodrum.xlsx.book import Book
from twodrum.xlsx.formats import DATE, DURATION, PERCENT, PLAIN, TIME, shape_of

# Format codes as ECMA-376 part 1, 18.8.30-31 lists them, and as two spreadsheet programs save them.
CODES = {
    "General": PLAIN,
    "0.00": PLAIN,
    "General;\\-General": PLAIN,
    "#,##0.00_);[Red](#,##0.00)": PLAIN,
    '0.0" min"': PLAIN,
    '0" days"': PLAIN,
    "0.00E+00": PLAIN,
    "[>=100]0;0.0": PLAIN,
    "0%": PERCENT,
    "0.00%": PERCENT,
    "hh:mm": TIME,
    "hh:mm:ss\\ AM/PM": TIME,
    "[$-F400]h:mm:ss\\ AM/PM": TIME,
    "mm:ss": TIME,
    "[hh]:mm:ss": DURATION,
    "[h]:mm": DURATION,
    "[mm]:ss": DURATION,
    "yyyy-mm-dd": DATE,
    "dd/mm/yy": DATE,
    "[$-409]mmmm\\ d\\,\\ yyyy;@": DATE,
    "mmm": DATE,
    "m/d/yy h:mm": DATE,
}


@pytest.mark.parametrize("code", CODES)
def test_shape_of_a_format_code__ecma_376(code: str) -> None:
    assert shape_of(code) == CODES[code]


@pytest.mark.parametrize(
    ("shape", "kind", "unit", "number", "counts"),
    [
        (PERCENT, "share", "%", 0.2, 20),
        (PERCENT, "share", "%", 1.0, 100),
        (PERCENT, "share", "fraction", 0.2, 0.2),
        (TIME, "time", "h", 2 / 3, 16),
        (DURATION, "time", "h", 1.25, 30),
        (TIME, "time", "min", 0.0625, 90),
        (TIME, "time", "h", 16.0, 16),  # typed over a time of day
        (PLAIN, "time", "h", 1.25, 1.25),
        (PLAIN, "thickness", "mm", 2 / 3, 2 / 3),
        (DATE, "length", "m", 12.5, 12.5),  # typed over a date
        (DATE, "length", "ft", 46246.0, None),
        (TIME, "temperature", "°C", 0.5625, None),
        (PERCENT, "length", "m", 0.5, None),
        (PLAIN, "time", "h", 2 / 3, None),
    ],
)
def test_a_number_counts_as_a_person_sees_it_or_is_refused(
    shape: str, kind: str, unit: str, number: float, counts: float | None
) -> None:
    found = seen(shape, kind, unit, number).number
    assert found == (counts if counts is None else pytest.approx(counts, rel=1e-12))


def job_with(tmp_path: Path, cells: dict[str, tuple[Any, str]], sheet: str = "Job") -> Path:
    """A job in which some cells have a value and a number format of their own."""
    path = small_job(tmp_path / "job.xlsx")
    book = openpyxl.load_workbook(path)
    for address, (value, code) in cells.items():
        book[sheet][address].value = value
        book[sheet][address].number_format = code
    book.save(path)
    return path


@pytest.mark.parametrize(
    ("address", "value", "code", "holds", "told"),
    [
        ("B29", 2 / 3, "h:mm", 16.0, "is shown as 16:00; it counts as 16 h and stands so now"),
        ("B29", 1.25, "[h]:mm:ss", 30.0, "is shown as 30:00; it counts as 30 h and stands so now"),
        ("B24", 0.2, "0%", 20.0, "is shown as 20%; it counts as 20 % and stands so now"),
        ("B23", 1, "0%", 100.0, "is shown as 100%; it counts as 100 % and stands so now"),
    ],
)
def test_what_is_sure_is_put_right_and_told(
    address: str, value: float, code: str, holds: float, told: str, tmp_path: Path
) -> None:
    path = job_with(tmp_path, {address: (value, code)})
    checked = check_file(path)
    assert any(told in str(p) for p in checked.problems)
    filled = fill_file(path)
    assert filled.state == "OK"
    book = Book.open(path)
    cell = book.cell("Job", int(address[1:]), 2)
    assert cell.value == pytest.approx(holds, rel=1e-12)
    assert book.look(cell).shape == PLAIN and not book.look(cell).locked
    # It is put right once: the next fill has nothing to say of it.
    assert not any("is shown as" in str(problem) for problem in fill_file(path).problems)


@pytest.mark.parametrize(
    ("sheet", "address", "value", "code", "told"),
    [
        ("Job", "B29", 2 / 3, "General", "is 0.666667 h, which is 16:00 typed as a time of day"),
        ("Job", "B17", 46246, "m/d/yy", "is the date 2026-08-12"),
        ("Job", "B27", 0.5625, "h:mm", "is 13:30, a time of day"),
        ("Job", "B17", 0.02, "0%", "is 2%, a percentage"),
        ("Areas", "D7", 46246, "m/d/yy", "such as 0.6667 for 8/12"),
    ],
)
def test_what_is_not_sure_is_refused_at_its_cell(
    sheet: str, address: str, value: float, code: str, told: str, tmp_path: Path
) -> None:
    path = job_with(tmp_path, {address: (value, code)}, sheet)
    filled = fill_file(path)
    assert filled.state == "CHECK"
    assert [
        told in str(p) for p in filled.problems if str(p).startswith(f"{sheet}!{address}:")
    ] == [True]


def test_a_formula_of_theirs_with_a_time_is_refused_and_kept(tmp_path: Path) -> None:
    path = job_with(tmp_path, {"B29": ("=B31/12", "h:mm")})
    package = Book.open(path).package
    part = Book(package).sheets["Job"]
    data = package.read(part).replace(b"<f>B31/12</f><v />", b"<f>B31/12</f><v>0.5</v>")
    package.replace(part, data.replace(b"<f>B31/12</f><v></v>", b"<f>B31/12</f><v>0.5</v>"))
    path.write_bytes(package.to_bytes())
    filled = fill_file(path)
    told = [str(p) for p in filled.problems if "Job!B29" in str(p)]
    assert told and "have the cell hold 12" in told[0]
    assert Book.open(path).cell("Job", 29, 2).formula_text == "B31/12"


def test_live_formulas_refuse_a_time_of_day_too(tmp_path: Path) -> None:

    path = small_job(tmp_path / "job.xlsx")
    cases = [{"set": [["Job", "B29", value]], "read": [["Job", "D29"]]} for value in (2 / 3, 1.25)]
    refused, taken = recalculate(path, cases)
    assert refused[0] == {"error": "#N/A"}
    assert taken[0] == pytest.approx(4500)
