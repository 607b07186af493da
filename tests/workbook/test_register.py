"""Quotes numbered by the office workbook, and entered there."""

from __future__ import annotations

from datetime import date
from pathlib import Path
from typing import Any

import pytest

from tests.workbook.test_issue import made, today
from tests.workbook.typing import typed
from twodrum.books.office import OFFICE
from twodrum.cli import main
from twodrum.commands.fill import check_file
from twodrum.commands.new import new_office, template
from twodrum.commands.register import Register
from twodrum.workbook.issued import Revision
from twodrum.xlsx.book import Book

YEAR = date.today().year


def office(target: Path, pattern: str | None = "Q-YYYY-###") -> Path:
    new_office(target)
    tell(target, "rates", [{"rates_name": "2026", "quote_pattern": pattern}])
    return target


def tell(path: Path, table: str, rows: list[dict[str, Any]]) -> None:
    read, cells = template(OFFICE).tables[table], {}
    for place, row in enumerate(rows, read.area.first_row):
        for name, value in row.items():
            label = OFFICE.column_item(table, name).label
            cells[read.area.sheet, place, read.columns[label]] = value
    typed(cells, path, OFFICE, source=path)


def entered(path: Path) -> list[list[Any]]:
    rows = check_file(path, OFFICE).values.tables["quotes"].rows
    names = ("quoted_number", "quoted_revision", "quoted_customer", "quoted_price")
    return [[row[name].si for name in names] for row in rows]


def numberless(target: Path, **names: Any) -> Path:
    return made(target, quote_number=None, quote_date=today(), **names)


def test_jobs_are_numbered_one_after_the_other_and_entered(
    tmp_path: Path, capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr("shutil.which", lambda name: None)
    book = office(tmp_path / "office.xlsx")
    (tmp_path / "jobs").mkdir()
    names = ["a", "b", "c", "d"]
    jobs = [numberless(tmp_path / "jobs" / f"{name}.xlsx", customer=name) for name in names]
    typed({("Job", 9, 2): None}, jobs[1], source=jobs[1])
    assert main(["issue", "--office", str(book), str(tmp_path / "jobs")]) == 2
    assert "3 issued, 1 refused" in capsys.readouterr().out
    numbers = [check_file(job).values.names["quote_number"].si for job in jobs]
    # What is refused has no number, and takes none.
    assert numbers == [f"Q-{YEAR}-001", None, f"Q-{YEAR}-002", f"Q-{YEAR}-003"]
    price = float(check_file(jobs[0]).values.names["net_price"].si)
    expected = [[number, 1, name, price] for number, name in zip(numbers, names) if number]
    assert entered(book) == expected
    # A second revision keeps its number, and the same again enters nothing.
    typed({("Job", 9, 2): "another"}, jobs[0], source=jobs[0])
    for _ in range(2):
        assert main(["issue", "--office", str(book), str(jobs[0])]) == 0
    assert entered(book)[3:] == [[f"Q-{YEAR}-001", 2, "another", price]]
    assert check_file(book, OFFICE).problems == []


def test_a_number_that_another_job_has_is_refused_and_an_older_revision_is_entered(
    tmp_path: Path, capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr("shutil.which", lambda name: None)
    book = office(tmp_path / "office.xlsx")
    first = made(tmp_path / "a.xlsx", quote_number="Q-1", quote_date=today(), customer="First")
    # Issued without the office at first.
    assert main(["issue", str(first)]) == 0
    assert entered(book) == []
    for _ in range(2):
        assert main(["issue", "--office", str(book), str(first)]) == 0
        assert [row[:3] for row in entered(book)] == [["Q-1", 1, "First"]]
    other = made(tmp_path / "b.xlsx", quote_number="Q-1", quote_date=today(), customer="Other")
    before = other.read_bytes()
    capsys.readouterr()
    assert main(["issue", "--office", str(book), str(other)]) == 2
    assert "revision 1 of quote Q-1 is entered already, for First; nothing was written" in (
        capsys.readouterr().out
    )
    assert other.read_bytes() == before
    assert len(entered(book)) == 1


def test_numbers_go_on_from_the_last_one_of_before(tmp_path: Path) -> None:
    book = office(tmp_path / "office.xlsx", "YYYY/##-L")
    old = [f"{YEAR - 1}/77-L", f"{YEAR}/098-L", "by hand", f"{YEAR}/12"]
    tell(book, "quotes", [{"quoted_number": number} for number in old])
    assert Register(book).next(date.today()) == f"{YEAR}/99-L"
    tell(book, "quotes", [{"quoted_number": f"{YEAR}/99-L"}])
    assert Register(book).next(date.today()) == f"{YEAR}/100-L"
    assert Register(office(tmp_path / "none.xlsx", None)).next(date.today()) == ""


def test_a_pattern_that_counts_nothing_and_a_book_that_is_no_office_are_refused(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    job = numberless(tmp_path / "job.xlsx")
    before = job.read_bytes()
    book = office(tmp_path / "office.xlsx", "Q-YYYY")
    assert main(["issue", "--office", str(book), str(job)]) == 2
    assert "it has the quote numbers 'Q-YYYY', in which nothing is counted; write # where" in (
        capsys.readouterr().out
    )
    assert main(["issue", "--office", str(job), str(job)]) == 2
    assert "it is not an office workbook" in capsys.readouterr().out
    assert job.read_bytes() == before


def test_there_is_always_room_for_one_more(tmp_path: Path) -> None:
    book = office(tmp_path / "office.xlsx")
    rows = [{"quoted_number": f"N{number}"} for number in range(200)]
    tell(book, "quotes", rows)
    job = check_file(made(tmp_path / "job.xlsx"))
    one = Revision(1, "N200", 46351.0, None, "EUR", "", values={"net_price": 12.5})
    Register(book).enter(one, job.values)
    assert entered(book)[199:] == [
        ["N199", None, None, None],
        ["N200", 1, job.values.names["customer"].si, 12.5],
    ]
    assert Book.open(book).tables["quotes"].area.last_row == 207
