"""A quote issued, revised, accepted as it was issued, withdrawn; what its page says meanwhile."""

from __future__ import annotations

import json
import shutil
import subprocess
from datetime import date
from pathlib import Path
from typing import Any

import pytest

import twodrum
from tests.libreoffice import calc
from tests.workbook.job_values import model_template
from tests.workbook.recalculated import live_cells_that_change
from tests.workbook.typing import QUOTED, accept_on, address, plain_cells, typed
from twodrum.books.parts import QUOTE, job_of
from twodrum.books.quote import ACCEPTED_VALUES
from twodrum.cli import main
from twodrum.commands import paper
from twodrum.commands.deal import LATEST, Deal
from twodrum.commands.fill import Filled, check_file, fill_book, fill_file
from twodrum.workbook.issued import MOST_REVISIONS, revisions
from twodrum.xlsx.book import Book
from twodrum.xlsx.write import Write, write_cells

MODEL = job_of((QUOTE,))
ON = date(2026, 11, 25)
ISSUE, ACCEPT = Deal(ON, issue=True), Deal(date(2026, 11, 30), accept=LATEST)
SAID = ("quote_quote_word_said", "quote_quote_revision_said")


def made(target: Path, **names: Any) -> Path:
    """The small job with all that a quote needs, typed in a workbook of the quote alone."""
    book = model_template(MODEL)
    told = {address(book, key): value for key, value in {**QUOTED, **names}.items()}
    return typed({**plain_cells(book), **told}, target, MODEL)


def change(path: Path, **names: Any) -> None:
    book = model_template(MODEL)
    typed({address(book, key): value for key, value in names.items()}, path, source=path)


def done(path: Path, deal: Deal) -> Filled:
    filled = fill_file(path, deal=deal)
    assert not filled.refused, (filled.refused, filled.problems)
    return filled


def cell(path: Path, name: str) -> Any:
    found = Book.open(path).named(name)
    assert found is not None
    return found.value if found.kind != "blank" else None


def page(path: Path) -> tuple[Any, Any]:
    word, revision = (cell(path, name) for name in SAID)
    return word, revision


def accepted(path: Path) -> dict[str, Any]:
    return {name: cell(path, f"accepted_{name}_si") for name in ACCEPTED_VALUES}


def si(filled: Filled, name: str) -> float:
    return float(filled.values.names[name].si)


def test_a_page_is_a_draft_until_it_is_issued_and_again_when_anything_is_typed(
    tmp_path: Path,
) -> None:
    path = made(tmp_path / "job.xlsx")
    fill_file(path)
    assert page(path) == ("DRAFT", "")
    first = done(path, ISSUE)
    assert first.said == "quote 2026-014 (invented) issued as revision 1"
    assert page(path) == ("", 1)
    # A remark of a material is part of what was offered, too.
    change(path, **{"materials.remark": "with accelerator"})
    fill_file(path)
    assert page(path) == ("DRAFT", "")
    change(path, **{"materials.remark": None})
    fill_file(path)
    assert page(path) == ("", 1)


def test_each_revision_keeps_what_was_quoted(tmp_path: Path) -> None:
    path = made(tmp_path / "job.xlsx")
    first = done(path, ISSUE)
    change(path, labour_rate=55, **{"areas.length": 14})
    second = done(path, Deal(date(2026, 11, 27), issue=True))
    assert second.said.endswith("issued as revision 2")
    kept = revisions(Book.open(path))
    assert [(one.revision, one.issued_on, one.currency) for one in kept] == [
        (1, 46351.0, "EUR"),
        (2, 46353.0, "EUR"),
    ]
    for one, filled in zip(kept, (first, second)):
        assert dict(one.values) == {name: si(filled, name) for name in ACCEPTED_VALUES}
        assert one.holds_until == QUOTED["quote_date"] + 30
    assert kept[0].values["net_price"] != kept[1].values["net_price"]
    # Issued once more without a change it stays what it is.
    before = path.read_bytes()
    again = done(path, Deal(date(2026, 11, 28), issue=True))
    assert again.said == "revision 2 as it was issued"
    assert path.read_bytes() == before


def test_what_is_accepted_is_what_was_sent_and_not_what_the_file_says_now(tmp_path: Path) -> None:
    path = made(tmp_path / "job.xlsx")
    first = done(path, ISSUE)
    # A what-if that was left in the file, filled or not.
    change(path, labour_rate=80)
    fill_file(path)
    change(path, crew_size=5)
    filled = done(path, ACCEPT)
    assert filled.said == "revision 1 of quote 2026-014 (invented) is accepted"
    assert accepted(path) == {name: si(first, name) for name in ACCEPTED_VALUES}
    assert si(filled, "net_price") > si(first, "net_price")
    assert si(filled, "accepted_net_price") == si(first, "net_price")
    shown, now = cell(path, "accepted_net_price"), cell(path, "accepted_net_price_now")
    assert (shown, now) == (si(first, "net_price"), si(filled, "net_price"))
    assert [cell(path, f"accepted_{what}") for what in ("date", "number", "revision")] == [
        46356,
        QUOTED["quote_number"],
        1,
    ]
    # And through later fills.
    kept = accepted(path)
    change(path, labour_rate=20)
    assert fill_file(path).problem_count == 0
    assert accepted(path) == kept


def test_an_older_revision_may_be_the_one_that_is_accepted(tmp_path: Path) -> None:
    path = made(tmp_path / "job.xlsx")
    first = done(path, ISSUE)
    change(path, margin_share=45)
    done(path, ISSUE)
    filled = fill_file(path, deal=Deal(ON, accept=3))
    assert filled.refused.endswith("it has no revision 3; it has 1, 2; nothing was written")
    done(path, Deal(ON, accept=1))
    assert accepted(path)["net_price"] == si(first, "net_price")


def test_an_acceptance_is_withdrawn_and_leaves_its_trace(tmp_path: Path) -> None:
    path = made(tmp_path / "job.xlsx")
    refused = fill_file(path, deal=Deal(ON, withdraw=True))
    assert refused.refused.endswith("no quote of it is accepted; nothing was written")
    done(path, ISSUE)
    plain = {name: value.si for name, value in check_file(path).values.names.items()}
    done(path, ACCEPT)
    before = path.read_bytes()
    twice = fill_file(path, deal=ACCEPT)
    assert twice.refused.endswith(
        "revision 1 of it is accepted already; nothing was written; twodrum accept --withdraw "
        "takes that back"
    )
    assert path.read_bytes() == before
    withdrawn = done(path, Deal(date(2026, 12, 2), withdraw=True))
    assert {name: value.si for name, value in withdrawn.values.names.items()} == plain
    assert set(accepted(path).values()) == {None} and cell(path, "accepted_date") is None
    done(path, Deal(date(2026, 12, 4), accept=1))
    assert revisions(Book.open(path))[0].became == (
        "accepted 2026-11-30; withdrawn 2026-12-02; accepted 2026-12-04"
    )


def test_what_was_never_issued_is_not_accepted(tmp_path: Path) -> None:
    path = made(tmp_path / "job.xlsx")
    before = path.read_bytes()
    assert fill_file(path, deal=ACCEPT).refused.endswith(
        "no quote of it was issued, and what is accepted is what the customer was sent; nothing "
        "was written; run twodrum issue first"
    )
    assert path.read_bytes() == before


def test_everything_that_is_missing_is_told_at_once_and_nothing_is_written(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    names = dict.fromkeys(("contractor", "customer", "quote_number", "quote_date", "tax_share"))
    path = made(tmp_path / "job.xlsx", **names, crew_size="three")
    before = path.read_bytes()
    assert main(["issue", str(path)]) == 2
    told = capsys.readouterr().out.splitlines()
    assert told[0] == f"{path}: its quote is not issued: 6 things are missing; nothing was written"
    for words in (
        "Customer is blank; a quote says for whom it is; type it",
        "Date of quote is blank; a quote has a date, and holds from it; type it",
        "Crew size is the text 'three'; it must be a number",
        "Tax is blank; a quote says what tax comes to; 0 where there is none; type it",
        "Your company is blank; a quote says whose it is; type it",
        "Number of the quote is blank; a quote is known by its number; type it",
    ):
        assert [line for line in told if line.startswith("Job!B") and words in line], words
    assert len(told) == 7
    assert path.read_bytes() == before
    assert main(["issue", "--json", str(path)]) == 2
    data = json.loads(capsys.readouterr().out)
    assert {problem["code"] for problem in data["problems"]} == {"quote-lacks", "no-number"}


def test_a_quote_whose_last_day_is_past_is_not_issued_and_one_that_was_says_expired(
    tmp_path: Path,
) -> None:
    path = made(tmp_path / "job.xlsx", quote_date=45000)
    refused = fill_file(path, deal=ISSUE)
    assert [problem.text for problem in refused.problems] == [
        "the last day of the quote is past; it is issued on 2026-11-25; type another date of the "
        "quote, or more days on Job"
    ]
    done(path, Deal(date(2023, 3, 20), issue=True))
    assert page(path) == ("EXPIRED", 1)
    late = done(path, Deal(ON, accept=LATEST))
    assert late.said.endswith("is accepted, after its last day")


def test_the_words_of_the_page_are_live(tmp_path: Path) -> None:
    """Without a fill the page of an issued quote is stale as soon as something is typed."""
    path = made(tmp_path / "job.xlsx")
    book = Book.open(path)
    word = book.area(SAID[0])
    assert word is not None
    read = [[word.sheet, f"B{word.first_row}"]]
    sheet, row, _ = address(book, "crew_size")
    cases = [{"set": [], "read": read}, {"set": [[sheet, f"B{row}", 4]], "read": read}]
    assert calc.recalculate(path, cases) == [["DRAFT"], ["DRAFT"]]
    done(path, ISSUE)
    assert calc.recalculate(path, cases) == [[""], ["STALE"]]
    wrong, count = live_cells_that_change(path)
    assert wrong == [] and count > 1000


def test_money_stays_in_its_currency(tmp_path: Path) -> None:
    path = made(tmp_path / "job.xlsx")
    done(path, accept_on(ON))
    change(path, currency="USD")
    fill_file(path)
    units = (cell(path, "accepted_net_price_unit"), cell(path, "net_price_unit"))
    assert units == ("EUR", "USD")


def test_there_is_room_for_so_many_revisions_and_no_more(tmp_path: Path) -> None:
    path = made(tmp_path / "job.xlsx")
    done(path, ISSUE)
    book = Book.open(path)
    area = book.area("issued_rows")
    assert area is not None
    cells = {}
    for number in range(2, MOST_REVISIONS + 1):
        row = area.first_row + number
        cells[area.sheet, row, area.first_column] = number
        cells[area.sheet, row, area.first_column + 2] = 46351.0
    typed(cells, path, source=path)
    before = path.read_bytes()
    refused = fill_file(path, deal=ISSUE)
    assert "it has 40 revisions and no room for another; nothing was written" in refused.refused
    assert path.read_bytes() == before


def test_a_name_that_is_gone_is_told_before_anything_is_kept(tmp_path: Path) -> None:
    path = made(tmp_path / "job.xlsx")
    book = Book.open(path)
    data = book.package.read(book.workbook_part)
    start = data.index(b'<definedName name="accepted_tax_si"')
    end = data.index(b"</definedName>", start) + len(b"</definedName>")
    book.package.replace(book.workbook_part, data[:start] + data[end:])
    path.write_bytes(book.package.to_bytes())
    assert "its sheet Accepted lacks accepted_tax_si; nothing was written" in (
        fill_file(path, deal=accept_on(ON)).refused
    )


def test_issue_prints_the_page_and_only_it__text_of_the_pdf_held_against_the_workbook(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    calc.require()
    path = made(tmp_path / "tank.xlsx", quote_date=today(), tax_share=19)
    assert main(["issue", str(path)]) == 0
    pdf = tmp_path / "tank revision 1.pdf"
    assert f"quote 2026-014 (invented) issued as revision 1; {pdf}: made" in capsys.readouterr().out
    assert b"/Count 1" in pdf.read_bytes()
    words = ["pdftotext", "-layout", str(pdf), "-"]
    text = subprocess.run(words, check=True, capture_output=True, text=True).stdout
    filled = check_file(path)
    for name in ("net_price", "tax", "total_price"):
        assert f"{si(filled, name):,.2f}" in text
    for word in ("Example Works (invented)", "2026-014 (invented)", "Floor", "Sump"):
        assert word in text
    assert "DRAFT" not in text and "Margin" not in text
    # The same revision again leaves what was printed as it is.
    assert main(["issue", str(path)]) == 0
    said = capsys.readouterr().out
    assert "revision 1 as it was issued" in said and "is there already and stays as it is" in said
    # What is issued after another revision was accepted goes with a change order.
    done(path, Deal(date.today(), accept=1))
    change(path, **{"areas.length": 15})
    assert main(["issue", str(path)]) == 0
    assert f"{tmp_path / 'tank change order 2.pdf'}: made" in capsys.readouterr().out


def test_a_hundred_and_twenty_surfaces_stand_on_as_many_pages_as_they_take(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    calc.require()
    path = made(tmp_path / "tank.xlsx", quote_date=today())
    book, words = Book.open(path), {}
    for row in range(120):
        told = {"surface": f"Wall {row + 1}", "shape": "rectangle", "width": 2, "height": None}
        told |= {"length": 3 + row / 10, "description": f"Invented wall {row + 1} of the works"}
        words.update({address(book, f"areas.{name}", row): told[name] for name in told})
    typed(words, path, source=path)
    assert main(["issue", str(path)]) == 0
    capsys.readouterr()
    pdf = str(tmp_path / "tank revision 1.pdf")
    text = subprocess.run(
        ["pdftotext", "-layout", pdf, "-"], check=True, capture_output=True, text=True
    ).stdout
    pages = text.rstrip("\f").split("\f")
    assert len(pages) in (3, 4)
    for number, said in enumerate(pages, 1):
        # The heads of the list are repeated where it goes on.
        assert "Billed area" in said and f"Page {number} of {len(pages)}" in said
    for row in range(120):
        line = next(line for line in text.splitlines() if f"wall {row + 1} of the works" in line)
        assert line.split()[-1] == f"{2 * (3 + row / 10):.2f}"
    # All of it is live, and once more there is nothing to do.
    wrong, _ = live_cells_that_change(path)
    assert wrong == []
    fill_file(path)
    assert not fill_file(path).changed
    # With fewer surfaces the page is shorter again.
    typed({address(book, "areas.surface", row): None for row in range(110, 120)}, path, source=path)
    clear = [f"areas.{name}" for name in ("shape", "length", "width", "description")]
    gone = {address(book, key, row): None for key in clear for row in range(110, 120)}
    typed(gone, path, source=path)
    fill_file(path)
    area = Book.open(path).area("quote_areas_listed")
    assert area is not None
    data = Book.open(path).package.read(book.workbook_part).decode()
    assert f"$D${area.first_row + 109}</" in data


def today() -> int:
    return date.today().toordinal() - date(1899, 12, 30).toordinal()


def test_without_libreoffice_it_says_so_and_the_quote_is_issued(
    tmp_path: Path, capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(shutil, "which", lambda name: None)
    path = made(tmp_path / "tank.xlsx", quote_date=today())
    assert main(["issue", str(path)]) == 0
    said = paper.NO_OFFICE.format(sheet="Quote")
    assert f"issued as revision 1; {said}" in capsys.readouterr().out
    assert page(path) == ("", 1)


def test_accept_on_the_command_line(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    path = made(tmp_path / "tank.xlsx", quote_date=today())
    done(path, Deal(date.today(), issue=True))
    assert main(["accept", str(path), "1", "--withdraw"]) == 2
    assert "name no revision" in capsys.readouterr().err
    assert main(["accept", str(path), "2"]) == 2
    assert "it has no revision 2; it has 1" in capsys.readouterr().out
    assert main(["accept", str(path)]) == 0
    assert "revision 1 of quote 2026-014 (invented) is accepted" in capsys.readouterr().out
    assert main(["accept", str(path), "--withdraw", "--json"]) == 0
    assert json.loads(capsys.readouterr().out)["refused"] == ""


CHANGED = ("change_lining_price", "change_net", "change_tax", "change_total")


def test_a_change_order_says_line_by_line_what_is_other_than_accepted(tmp_path: Path) -> None:
    path = made(tmp_path / "job.xlsx", tax_share=19, preparation_rate=8.5)
    first = done(path, ISSUE)
    assert Book.open(path).sheet_states()["Change order"] == "hidden"
    assert all(first.values.names[name].si is None for name in CHANGED)
    done(path, ACCEPT)
    assert Book.open(path).sheet_states()["Change order"] == "visible"
    words = "The floor is longer than drawn"
    change(path, change_words=words, discount_share=5, **{"areas.length": 15})
    now = fill_file(path)
    assert now.state == "OK"
    changes = {
        f"change_{line}": si(now, line) - si(first, line)
        for line in ("lining_price", "preparation_price", "masking_price", "site_price")
    }
    for name, expected in changes.items():
        assert si(now, name) == pytest.approx(expected, abs=1e-9), name
    off = si(now, "price_of_lines") * 0.05
    assert si(now, "change_discount") == pytest.approx(-off, abs=0.005)
    expected = sum(changes.values()) + si(now, "change_discount")
    assert si(now, "change_net") == pytest.approx(expected, abs=1e-9)
    # Three metres of a floor five metres wide, prepared at 8.50 and sold at a margin of 30 %.
    assert si(now, "change_area") == pytest.approx(15)
    assert si(now, "change_preparation_price") == pytest.approx(15 * 8.5 / 0.7, abs=0.02)
    said = {
        name: cell(path, f"change_order_{name}_said")
        for name in ("accepted_number", "accepted_revision", "accepted_date", "change_words")
    }
    assert list(said.values()) == [
        QUOTED["quote_number"],
        1,
        46356,
        "The floor is longer than drawn",
    ]
    wrong, _ = live_cells_that_change(path)
    assert wrong == []
    done(path, Deal(ON, withdraw=True))
    assert Book.open(path).sheet_states()["Change order"] == "hidden"


def test_issue_and_accept_from_python(tmp_path: Path) -> None:
    path = str(made(tmp_path / "job.xlsx", quote_date=today()))
    refused = twodrum.accept(path)
    assert "run twodrum issue first" in refused["refused"]
    issued = twodrum.issue(path)
    assert (issued["revision"], issued["refused"]) == (1, "")
    accepted = twodrum.accept(path, 1)
    assert accepted["said"] == "revision 1 of quote 2026-014 (invented) is accepted"
    assert twodrum.accept(path, withdraw=True)["said"] == "its acceptance is withdrawn"


def test_in_a_workbook_of_0_16_a_page_keeps_what_it_lists(tmp_path: Path) -> None:
    """Another head above a column of the list: its cells keep what their formulas gave."""
    path = made(tmp_path / "job.xlsx")
    fill_file(path)
    book = Book.open(path)
    area = book.area("quote_areas_listed")
    assert area is not None
    head = (area.sheet, area.first_row - 1, area.first_column + 1)
    first = (area.sheet, area.first_row, area.first_column + 1)
    at = area.first_row
    shape = f'IF($A{at}="","",INDEX(areas[Shape],ROWS(A${at}:A{at})))'
    write_cells(book, {head: Write("Shape"), first: Write("rectangle", formula=shape, live=True)})
    path.write_bytes(book.package.to_bytes())
    filled = check_file(path)
    assert not filled.refused
    kept: dict[Any, Any] = {}
    fill_book(Book.open(path), MODEL, write=lambda _, writes, __: kept.update(writes))
    assert first not in kept
