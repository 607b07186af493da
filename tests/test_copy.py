"""A job copied: its quote goes along, what belongs to that day or that customer's yes does not."""

from datetime import date
from pathlib import Path
from typing import Any

import pytest
from openpyxl import load_workbook

from tests.office import an_office
from tests.workbook.typing import QUOTED, accept_on, address, small_job
from twodrum.books.office import OFFICE
from twodrum.books.parts import DAY, QUOTE
from twodrum.cli import main
from twodrum.commands.fill import check_file, fill_file
from twodrum.workbook.issued import revisions
from twodrum.xlsx.book import Book
from twodrum.xlsx.write import Write, write_cells


def typed(path: Path, **cells: Any) -> Path:
    book = Book.open(path)
    writes = {address(book, key.replace("__", ".")): Write(value) for key, value in cells.items()}
    assert not write_cells(book, writes)
    path.write_bytes(book.package.to_bytes())
    return path


def test_the_quote_goes_along_and_the_day_and_the_yes_do_not(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    first = typed(
        small_job(tmp_path / "a.xlsx", (QUOTE, DAY)),
        **QUOTED,
        readings__time=0.4,
        readings__phase="spraying",
    )
    accepted = fill_file(first, deal=accept_on(date(2026, 11, 29)))
    before = first.read_bytes()
    assert main(["new", str(tmp_path / "b.xlsx"), "--from", str(first)]) == 0
    assert capsys.readouterr().out.splitlines() == [
        f"{tmp_path}/b.xlsx: made from {tmp_path}/a.xlsx",
        "note: left out: date, number, revisions and acceptance of the quote, areas measured after "
        "the job, what was typed for day",
    ]
    assert first.read_bytes() == before
    copy = check_file(tmp_path / "b.xlsx")
    assert copy.model.parts == (QUOTE,)
    assert copy.values.names["customer"].si == "Example Works (invented)"
    assert copy.values.names["quote_date"].blank and copy.values.names["quote_number"].blank
    assert revisions(Book.open(first)) and not revisions(Book.open(tmp_path / "b.xlsx"))
    assert copy.values.names["net_price"].si == accepted.values.names["net_price"].si
    kept = Book.open(tmp_path / "b.xlsx").named("accepted_date")
    assert kept is not None and kept.kind == "blank"
    # What is seen before anything calculates is what follows from what was carried.
    shown = Book.open(tmp_path / "b.xlsx").named("net_price")
    assert shown is not None
    assert shown.value == pytest.approx(float(copy.values.names["net_price"].si))


def prices(office: Path, rates: dict[str, Any], price: float, row: int = 0) -> None:
    book = Book.open(office)
    cells = {address(book, f"rates.{k}", row, OFFICE): Write(v) for k, v in rates.items()}
    for side in (0, 1):
        cells[address(book, "materials.volume_price", side, OFFICE)] = Write(price - side)
    assert not write_cells(book, cells)
    office.write_bytes(book.package.to_bytes())


def test_with_the_office_rates_and_prices_are_those_of_today(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    office = an_office(tmp_path / "office.xlsx")
    rates = {"rates_name": "2026 (invented)", "labour_rate": 50, "margin_share": 30}
    prices(office, rates, 9.5)
    job = tmp_path / "a.xlsx"
    assert main(["new", str(job), "--office", str(office)]) == 0
    before = check_file(job).values
    prices(office, {"labour_rate": 55}, 12.34)
    capsys.readouterr()
    target = tmp_path / "b.xlsx"
    assert main(["new", str(target), "--from", str(job), "--office", str(office)]) in (0, 1)
    said = capsys.readouterr().out
    assert (
        "note: Lining A iso (invented): Price is that of the office today: 12.34 per L "
        "(before 9.5 per L)" in said
    )
    assert "note: Labour rate is that of the office today: 55 per h (before 50 per h)" in said
    assert "Margin" not in said
    after = check_file(target).values
    rows = after.tables["materials"].rows
    assert rows[0]["volume_price"].si == pytest.approx(12340)
    assert rows[1]["volume_price"].si == pytest.approx(11340)
    assert after.names["labour_rate"].si == pytest.approx(55 / 3600)
    assert after.names["margin_share"].si == before.names["margin_share"].si
    # The shelf is that of today, so that nothing tells to take the old price again.
    assert not [p for p in check_file(target).problems if p.code == "unlike-shelf"]


def test_the_rates_that_were_named_are_those_of_the_next_copy_and_what_is_kept_is_told(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    office = an_office(tmp_path / "office.xlsx")
    prices(office, {"rates_name": "2026", "labour_rate": 50, "currency": "EUR"}, 9.5)
    second = {"rates_name": "2027", "labour_rate": 99, "currency": "USD"}
    prices(office, second, 9.5, row=1)
    # More systems than one: only rates and prices are asked for.
    book = Book.open(office)
    other = {"system": "Lining B (invented)", "component": "iso", "material": "B iso (invented)"}
    cells = {address(book, f"materials.{k}", 2, OFFICE): Write(v) for k, v in other.items()}
    assert not write_cells(book, cells)
    office.write_bytes(book.package.to_bytes())
    a, b, c = (tmp_path / f"{name}.xlsx" for name in "abc")
    first = ["new", str(a), "--office", str(office), "--rates", "2026"]
    assert main([*first, "--system", "Lining A (invented)"]) == 0
    typed(a, margin_share=30.0)
    capsys.readouterr()
    assert main(["new", str(b), "--from", str(a), "--office", str(office), "--rates", "2027"]) == 0
    said = capsys.readouterr().out
    assert "Labour rate is that of the office today: 99 per h (before 50 per h)" in said
    assert "note: blank in the office and kept as it was: Margin, share of the price" in said
    assert "note: the currency is USD now: amounts that no line here names" in said
    assert main(["new", str(c), "--from", str(b), "--office", str(office)]) == 0
    assert "Labour rate" not in capsys.readouterr().out
    assert check_file(c).values.names["labour_rate"].si == pytest.approx(99 / 3600)


def test_a_link_to_a_sheet_that_stays_behind_is_its_value(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    job = small_job(tmp_path / "a.xlsx")
    opened = load_workbook(job)
    opened.create_sheet("Take-off")["A1"] = 12
    opened.save(job)
    book = Book.open(job)
    length = address(book, "areas.length")
    assert not write_cells(book, {length: Write(12.0, formula="'Take-off'!A1", live=True)})
    job.write_bytes(book.package.to_bytes())
    assert main(["new", str(tmp_path / "b.xlsx"), "--from", str(job)]) == 0
    assert "Areas!D7: its formula ='Take-off'!A1 is its value now" in capsys.readouterr().out
    copy = Book.open(tmp_path / "b.xlsx")
    cell = copy.cell(*address(copy, "areas.length"))
    assert (cell.value, cell.formula) == (12.0, False)
    assert "Take-off" not in copy.all_sheets()


def test_what_can_not_be_copied_is_refused(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    office = an_office(tmp_path / "office.xlsx")
    target = str(tmp_path / "b.xlsx")
    assert main(["new", target, "--from", str(office)]) == 2
    assert f"{office}: it is no job with a quote to copy" in capsys.readouterr().err
    assert main(["new", target, "--from", str(tmp_path / "nope.xlsx")]) == 2
    assert "nope.xlsx: there is no such file" in capsys.readouterr().err
    job = small_job(tmp_path / "a.xlsx")
    assert main(["new", target, "--from", str(job), "--surface", "steel"]) == 2
    assert "--from takes --office and --rates" in capsys.readouterr().err
    assert main(["new", target, "--from", str(job), "--office", str(office), "--machine", "X"]) == 2
    assert "beside --with day" in capsys.readouterr().err
    assert not Path(target).exists()
    assert main(["new", target, "--from", str(job), "--with", "day"]) == 0
    assert check_file(Path(target)).model.parts == (QUOTE, DAY)
    assert main(["new", target, "--from", str(job)]) == 2
    assert "there already" in capsys.readouterr().err or Path(target).exists()
