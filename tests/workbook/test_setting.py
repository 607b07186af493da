"""Pages as the office sets them: its paper, its order of dates, its currency."""

import re
import subprocess
from pathlib import Path

import pytest
from openpyxl import load_workbook

from tests.libreoffice import calc
from tests.test_logo import picture, with_pictures
from tests.workbook.recalculated import live_cells_that_change
from tests.workbook.typing import QUOTED, address, plain_cells, small_job, typed
from twodrum.books.office import OFFICE
from twodrum.books.parts import QUOTE, job_of
from twodrum.cli import main
from twodrum.commands.fill import fill_file
from twodrum.commands.new import new_job, template
from twodrum.workbook.pattern import our_sheets
from twodrum.xlsx.book import Book
from twodrum.xlsx.scan import column_letters

PAGES = {
    "A4, EUR": ("A4", "day.month.year", "EUR", 4, "pts (A4)", "11.11.2099", False),
    "Letter, USD": (
        *("Letter", "month/day/year", "USD", 23, "612 x 792 pts (letter)", "11/11/2099"),
        True,
    ),
}


def sizes(book: Book) -> set[str]:
    """The sizes of paper of our sheets, as they stand in the file."""
    parts = [book.sheets[title] for title in our_sheets(job_of((QUOTE,)), book).values()]
    found = [re.findall(rb'paperSize="(\d+)"', book.package.read(part)) for part in parts]
    return {size.decode() for one in found for size in one}


@pytest.mark.parametrize("case", PAGES)
def test_the_page_has_the_paper_the_dates_and_the_currency_of_the_office(
    case: str, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    calc.require()
    paper, order, currency, surfaces, size, day, logo = PAGES[case]
    model = job_of((QUOTE,))
    book = template(model)
    names = {**QUOTED, "paper": paper, "date_order": order, "currency": currency}
    cells = plain_cells(book) | {address(book, n): v for n, v in names.items()}
    for row in range(surfaces):
        wall = {"surface": f"Wall {row + 1}", "shape": "rectangle", "length": 4 + row, "width": 3}
        cells |= {address(book, f"areas.{n}", row): v for n, v in {**wall, "height": None}.items()}
    path = typed(cells, tmp_path / "tank.xlsx", model)
    if logo:
        with_pictures(path, "Quote", picture(5, 3, 213, 60))
    assert main(["issue", str(path)]) == 0
    assert "made" in capsys.readouterr().out
    pdf = str(tmp_path / "tank revision 1.pdf")
    told = subprocess.run(["pdfinfo", pdf], check=True, capture_output=True, text=True).stdout
    assert size in told
    images = subprocess.run(["pdfimages", "-list", pdf], check=True, capture_output=True, text=True)
    # Two lines of heads, then one image on the first page.
    assert len(images.stdout.splitlines()) == 2 + logo
    words = ["pdftotext", "-layout", pdf, "-"]
    text = subprocess.run(words, check=True, capture_output=True, text=True).stdout
    assert re.search(rf"Date +{re.escape(day)}\n", text)
    lines = {line.strip(): line.split() for line in text.splitlines()}
    walls = [words for line, words in lines.items() if line.startswith("Wall ")]
    assert [float(words[-1].replace(",", "")) for words in walls] == [
        3.0 * (4 + row) for row in range(surfaces)
    ]
    values = fill_file(path).values
    net = next(words for line, words in lines.items() if line.startswith("Price before tax"))
    assert net[-2:] == [f"{values.names['net_price'].si:,.2f}", currency]
    # A date on a page stays a live formula, locked as it was.
    assert live_cells_that_change(path)[0] == []
    cell = Book.open(path).named("quote_quote_date_said")
    assert cell is not None and cell.formula and Book.open(path).look(cell).locked


def test_amounts_have_the_decimals_that_the_job_says_and_a_format_of_theirs_stays(
    tmp_path: Path,
) -> None:
    path = small_job(tmp_path / "job.xlsx")
    book = Book.open(path)

    def codes() -> list[str]:
        found = Book.open(path)
        names = ("net_price", "quote_net_price_said", "quote_total_price_said", "cost_total")
        cells = [found.named(name) for name in names]
        assert all(cell is not None and cell.formula for cell in cells)
        return [found.look(cell).code for cell in cells if cell is not None]

    def at(decimals: int) -> list[str]:
        typed({address(book, "money_decimals"): decimals}, path, source=path)
        assert fill_file(path).changed and not fill_file(path).changed
        return codes()

    assert at(0) == ["#,##0"] * 4
    own = load_workbook(path)
    own[book.area("cost_total").sheet][cell_of(book, "cost_total")].number_format = '0.0 "EUR"'
    own.save(path)
    assert at(1) == [*["#,##0.0"] * 3, '0.0 "EUR"']
    assert at(2) == [*["#,##0.00##"] * 3, '0.0 "EUR"']
    assert live_cells_that_change(path)[0] == []


def cell_of(book: Book, name: str) -> str:
    area = book.area(name)
    assert area is not None
    return f"{column_letters(area.first_column)}{area.first_row}"


def test_what_is_set_once_is_set_and_a_blank_leaves_it(tmp_path: Path) -> None:
    path = small_job(tmp_path / "job.xlsx")
    fill_file(path)
    assert sizes(Book.open(path)) == {"9"}
    book = Book.open(path)
    names = {"paper": "Letter", "date_order": "day/month/year"}
    typed({address(book, n): v for n, v in names.items()}, path, source=path)
    assert fill_file(path).changed
    once = path.read_bytes()
    assert sizes(Book.open(path)) == {"1"}
    assert not fill_file(path).changed and path.read_bytes() == once
    typed({address(book, n): None for n in names}, path, source=path)
    fill_file(path)
    assert sizes(Book.open(path)) == {"1"}


def test_a_job_in_us_units_prints_on_letter_unless_the_office_says_otherwise(
    tmp_path: Path,
) -> None:
    new_job(tmp_path / "us.xlsx", system="us", parts=(QUOTE,))
    fill_file(tmp_path / "us.xlsx")
    assert sizes(Book.open(tmp_path / "us.xlsx")) == {"1"}
    assert {"paper", "date_order"} <= {f.name for f in OFFICE.table("rates").fields}
