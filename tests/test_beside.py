"""Parts of a job in a workbook of others: put in, linked, filled, brought up to date, taken out."""

from __future__ import annotations

import re
import subprocess
from datetime import date
from pathlib import Path
from typing import Any

import pytest
from openpyxl import Workbook, load_workbook
from openpyxl.chart import BarChart, Reference
from openpyxl.comments import Comment
from openpyxl.workbook.defined_name import DefinedName
from openpyxl.worksheet.formula import ArrayFormula
from openpyxl.worksheet.hyperlink import Hyperlink
from openpyxl.worksheet.table import Table

from tests.office import MACHINE, an_office
from tests.workbook.recalculated import live_cells_that_change
from tests.workbook.test_open_xml import errors
from tests.workbook.test_write import FILES, parts, spans, with_corpus
from tests.workbook.typing import PLAIN, ROWS, accept_on, address, small_job
from twodrum.books.parts import DAY, PROOF, QUOTE, WHAT_IFS, job_of, parts_of
from twodrum.cli import main
from twodrum.commands.beside import Known, called, our_names, put_in, taken_out
from twodrum.commands.fill import check_file, fill_file
from twodrum.commands.month import roll_up
from twodrum.commands.remake import Wish, add, remove, upgrade
from twodrum.workbook.pattern import our_sheets
from twodrum.xlsx.book import Book
from twodrum.xlsx.package import KINDS, Package, PackageError
from twodrum.xlsx.write import Write, write_cells

# The parts that list others: all that changes of a workbook into which ours are put.
LISTS = ("xl/workbook.xml", "xl/_rels/workbook.xml.rels", "xl/styles.xml", KINDS)
UNFIT = {
    "1904.xlsx": "counts its days from 1904",
    "duplicate-filename.xlsx": "two of its parts have the same name",
    "ms-office-2010-signed.xlsx": "it is signed",
    "protected_passtika.xlsx": "it needs a password",
    "simple-cell-changes.xlsx": "it is shared with a history of changes",
    "workbookProtection-workbook_password_user_range-2010.xlsx": "has its list of sheets locked",
}


@pytest.fixture(scope="module")
def quote(tmp_path_factory: pytest.TempPathFactory) -> Book:
    """The small job, filled."""
    job = small_job(tmp_path_factory.mktemp("quote") / "job.xlsx")
    fill_file(job)
    return Book.open(job)


def known(quote: Book) -> Known:
    return Known(frozenset(quote.names), older=False)


def grafted(path: Path, quote: Book) -> Book:
    book = Book.open(path)
    return put_in(book, quote, called(quote, "td_", {}, book.all_sheets(), "td"))


@with_corpus
@pytest.mark.parametrize("path", FILES, ids=lambda path: path.name)
def test_a_foreign_workbook_gets_the_quote_and_gives_it_back_byte_for_byte(
    path: Path, quote: Book, tmp_path: Path
) -> None:
    if path.name in UNFIT:
        with pytest.raises(PackageError, match=UNFIT[path.name]):
            grafted(path, quote)
        return
    whole = path.read_bytes()
    before, bytes_before = parts(whole), spans(whole)
    book = grafted(path, quote)
    data = book.package.to_bytes()
    after, bytes_after = parts(data), spans(data)
    assert {name: after[name] for name in before if name not in LISTS} == {
        name: text for name, text in before.items() if name not in LISTS
    }
    touched = {name for name in bytes_before if bytes_after[name] != bytes_before[name]}
    assert {Package.normal(name) for name in touched} <= set(LISTS)
    # A fill finds everything in its place and nothing to do.
    target = tmp_path / path.name
    target.write_bytes(data)
    filled = fill_file(target)
    assert (filled.state, filled.problem_count, filled.refused) == ("OK", 0, "")
    assert not [p for p in filled.problems if p.code in ("put-back", "lost", "older-book")]
    assert target.read_bytes() == data
    book = Book.open(target)
    back = taken_out(book, set(our_sheets(job_of((QUOTE,)), book).values()), known(quote))
    given = back.package.to_bytes()
    assert parts(given) == before
    assert list(spans(given)) == list(bytes_before)


SOME = ["SimpleStrict.xlsx", "macro04.xlsm"]


@with_corpus
@pytest.mark.parametrize("name", SOME)
def test_in_a_foreign_workbook_every_live_cell_is_what_the_engine_says(
    name: str, quote: Book, tmp_path: Path
) -> None:
    path = next(path for path in FILES if path.name == name)
    target = tmp_path / name
    target.write_bytes(grafted(path, quote).package.to_bytes())
    fill_file(target)
    wrong, looked_at = live_cells_that_change(target)
    assert wrong == []
    assert looked_at > 2_500
    assert [error for error in errors(target) if error not in errors(path)] == []


@with_corpus
def test_a_second_time_no_cell_format_is_added(quote: Book) -> None:
    path = next(path for path in FILES if path.name == SOME[0])
    once = grafted(path, quote)
    styles = once.package.read(once.styles_part)
    ours = set(our_sheets(job_of((QUOTE,)), once).values())
    # With a byte more in its list of sheets it is no more what it was.
    once.package.replace(once.workbook_part, once.package.read(once.workbook_part) + b"\n")
    alone = taken_out(once, ours, known(quote))
    assert alone.package.read(alone.styles_part) == styles
    twice = put_in(alone, quote, called(quote, "td_", {}, alone.all_sheets(), "td"))
    assert twice.package.read(twice.styles_part) == styles


# Sheets of the workbook below with formulas that no spreadsheet program calculated yet.
NEVER_CALCULATED = {"Summary", "'Take-off'"}


def theirs(target: Path) -> Path:
    """A workbook of an office: a take-off, prices, a summary that reads ours."""
    book = Workbook()
    sheet = book.active
    assert sheet is not None
    sheet.title = "Take-off"
    for row in (["What", "Length", "Width"], ["Floor", 12, 5], ["Sump", 6, 4]):
        sheet.append(row)
    sheet["B5"] = "=SUM(B2:B3)"
    chart = BarChart()
    chart.add_data(Reference(sheet, min_col=2, min_row=1, max_row=3), titles_from_data=True)
    sheet.add_chart(chart, "E2")
    prices = book.create_sheet("Prices")
    prices["B1"] = 9
    prices["B1"].comment = Comment("since May", "the office")
    book.create_sheet("Summary")["A1"] = "tax"
    # A name of theirs that is one of our words.
    book.defined_names["tax_share"] = DefinedName("tax_share", attr_text="Prices!$B$1")
    book.save(target)
    return target


def linked(target: Path, names: dict[str, Any]) -> Path:
    """The same with the quote in it, what is typed, and links to the take-off and the prices."""
    add(theirs(target), (QUOTE,))
    book = Book.open(target)
    cells: dict[tuple[str, int, int], Write] = {
        address(book, key): Write(value) for key, value in {**PLAIN, **names}.items()
    }
    for table, rows in ROWS.items():
        for index, row in enumerate(rows):
            for column, value in row.items():
                cells[address(book, f"{table}.{column}", index)] = Write(value)
    cells[address(book, "areas.length")] = Write(12.0, formula="'Take-off'!B2", live=True)
    cells[address(book, "areas.width")] = Write(5.0, formula="'Take-off'!$C$2", live=True)
    price = address(book, "materials.volume_price")
    cells[price] = Write(9.0, formula="Prices!B1", live=True)
    cells["Summary", 2, 2] = Write(1.0, formula="td_net_price*2", live=True)
    cells["Summary", 3, 2] = Write(1.0, formula="SUM(td_areas[Measured area])", live=True)
    film = address(book, "film_thickness")
    cells["Summary", 4, 2] = Write(1.0, formula=f"Job!B{film[1]}", live=True)
    assert not write_cells(book, cells)
    target.write_bytes(book.package.to_bytes())
    return target


def summary(path: Path) -> list[str]:
    book = Book.open(path)
    return [book.cell("Summary", row, 2).formula_text for row in (2, 3, 4)]


def test_a_take_off_and_prices_of_their_own_are_linked_filled_and_brought_up_to_date(
    tmp_path: Path,
) -> None:
    book = linked(tmp_path / "plant.xlsx", {})
    filled = fill_file(book)
    assert (filled.state, filled.problem_count) == ("OK", 0)
    typed_so = check_file(small_job(tmp_path / "plain.xlsx", (QUOTE,))).values.names
    for name in ("net_price", "mixed_volume", "drum_sets"):
        if name in typed_so:
            assert filled.values.names[name].si == typed_so[name].si
    changes, _ = live_cells_that_change(book)
    # Only what reads ours and was never calculated.
    assert {change[0].split("!")[0] for change in changes} == NEVER_CALCULATED
    found = {change[0]: change[2] for change in changes}
    assert found["Summary!B2"] == pytest.approx(2 * float(typed_so["net_price"].si))
    before = summary(book)
    # With the day its inputs stand elsewhere on the sheet Job; what reads them follows.
    made = add(book, (DAY,))
    assert (made.state, made.parts) == ("OK", (QUOTE, DAY))
    grown = Book.open(book)
    row = address(grown, "film_thickness")[1]
    assert summary(book) == [*before[:2], f"Job!B{row}"]
    assert grown.cell(*address(grown, "areas.length")).formula_text == "'Take-off'!B2"
    assert grown.names["net_price"] and grown.prefix == "td_"
    assert check_file(book).values.names["net_price"].si == typed_so["net_price"].si
    assert set(errors(book)) <= set(errors(theirs(tmp_path / "as it was.xlsx")))
    # Made by an older version it is made anew, and nothing of theirs changes.
    start = grown.area("state_start")
    assert start is not None
    version = next(r for r in range(1, 20) if grown.cell(start.sheet, r, 1).value)
    for r in range(1, 20):
        if grown.cell(start.sheet, r, 1).value == "Template version":
            version = r
    write_cells(grown, {(start.sheet, version, 2): Write("0.10.0")})
    book.write_bytes(grown.package.to_bytes())
    kept = {n: t for n, t in parts(book.read_bytes()).items() if "comment" in n or "chart1." in n}
    assert upgrade(book).before == "0.10.0"
    assert parts_of(Book.open(book)) == (QUOTE, DAY)
    assert check_file(book).values.names["net_price"].si == typed_so["net_price"].si
    now = parts(book.read_bytes())
    assert kept and {name: now[name] for name in kept} == kept
    changes, _ = live_cells_that_change(book)
    assert {change[0].split("!")[0] for change in changes} <= NEVER_CALCULATED


def test_a_fill_reads_no_sheet_of_theirs(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    target = theirs(tmp_path / "plant.xlsx")
    add(target, (QUOTE,))
    scanned: set[str] = set()
    scan = Book.scan

    def noted(book: Book, sheet: str) -> Any:
        scanned.add(sheet)
        return scan(book, sheet)

    monkeypatch.setattr(Book, "scan", noted)
    fill_file(target)
    ours = set(our_sheets(job_of((QUOTE,)), Book.open(target)).values())
    # What the template is made of is read too, under its own titles.
    assert scanned and scanned <= ours | {title for title, _ in job_of((QUOTE,)).sheets}
    assert set(Book.open(target).sheets) - ours


def test_what_their_sheets_read_is_not_taken_out(tmp_path: Path) -> None:
    book = linked(tmp_path / "plant.xlsx", {})
    before = book.read_bytes()
    with pytest.raises(PackageError, match=r"Summary!B2 \(=td_net_price\*2\), Summary!B3 "):
        remove(book, (QUOTE,))
    assert book.read_bytes() == before
    opened = load_workbook(book)
    for row in (2, 3, 4):
        opened["Summary"].cell(row, 2).value = None
    opened.save(book)
    assert remove(book, (QUOTE,)).gone
    again = Book.open(book)
    assert again.all_sheets() == ["Take-off", "Prices", "Summary"]
    assert again.all_names() == {"tax_share"}


def test_after_libreoffice_saved_the_book_ours_are_still_known_and_taken_out(
    quote: Book, tmp_path: Path
) -> None:
    book = theirs(tmp_path / "plant.xlsx")
    add(book, (QUOTE,))
    (tmp_path / "saved").mkdir()
    subprocess.run(
        [
            *("soffice", f"-env:UserInstallation=file://{tmp_path}/profile", "--headless"),
            *("--convert-to", "xlsx", "--outdir", str(tmp_path / "saved"), str(book)),
        ],
        check=True,
        capture_output=True,
        timeout=300,
    )
    saved = tmp_path / "saved" / "plant.xlsx"
    filled = fill_file(saved)
    assert not filled.refused
    assert [p for p in filled.problems if p.code in ("put-back", "lost")] == []
    assert remove(saved, (QUOTE,)).gone
    alone = Book.open(saved)
    assert alone.all_sheets() == ["Take-off", "Prices", "Summary"]
    assert not [name for name in alone.all_names() if name.startswith("td_")]
    assert alone.cell("Take-off", 5, 2).value == 18


def test_what_is_called_alike_is_told_and_gets_the_word_that_is_picked(tmp_path: Path) -> None:
    book = theirs(tmp_path / "plant.xlsx")
    opened = load_workbook(book)
    opened["Summary"].title = "Quote"
    opened.defined_names["td_film_thickness"] = DefinedName(
        "td_film_thickness", attr_text="Prices!$B$1"
    )
    opened.save(book)
    before, wrong = book.read_bytes(), errors(book)
    with pytest.raises(PackageError, match="a sheet Quote, a name td_film_thickness already"):
        add(book, (QUOTE,))
    assert book.read_bytes() == before
    made = add(book, (QUOTE,), Wish(word="tank 2"))
    assert "names of ours begin with tank_2_, such as tank_2_film_thickness" in made.notes
    there = Book.open(book)
    assert {"Quote", "Quote tank 2"} <= set(there.sheets)
    assert there.prefix == "tank_2_"
    filled = fill_file(book)
    assert not [p for p in filled.problems if p.code in ("put-back", "lost")]
    assert errors(book) == wrong


@pytest.mark.parametrize(
    ("where", "old", "new", "why"),
    [
        ("xl/workbook.xml", b"<calcPr ", b'<calcPr fullPrecision="0" ', "as they are shown"),
        ("xl/workbook.xml", b"<workbookPr", b'<workbookPr date1904="1"', "from 1904"),
        (
            "xl/workbook.xml",
            b"<workbookProtection/>",
            b'<workbookProtection lockStructure="1"/>',
            "list of sheets locked",
        ),
        (
            "xl/workbook.xml",
            b"<workbookPr",
            b'<fileSharing reservationPassword="CC1A"/><workbookPr',
            "reserved by a password",
        ),
    ],
)
def test_what_would_change_what_a_workbook_says_is_refused(
    where: str, old: bytes, new: bytes, why: str, tmp_path: Path
) -> None:
    book = theirs(tmp_path / "plant.xlsx")
    package = Package.open(book)
    data = package.read(where)
    assert old in data
    package.replace(where, data.replace(old, new, 1))
    book.write_bytes(package.to_bytes())
    before = book.read_bytes()
    with pytest.raises(PackageError, match=why):
        add(book, (QUOTE,))
    assert book.read_bytes() == before


def test_sheets_of_their_own_in_a_job_stay_when_a_part_is_added(tmp_path: Path) -> None:
    job = small_job(tmp_path / "tank.xlsx")
    fill_file(job)
    price = check_file(job).values.names["net_price"].si
    opened = load_workbook(job)
    notes = opened.create_sheet("Notes", 2)
    notes["A1"] = "ask Anna"
    film = address(Book.open(job), "film_thickness")
    notes["A2"] = f"=Job!$B${film[1]}+1"
    notes["A3"] = "=net_price"
    opened.defined_names["my_film"] = DefinedName("my_film", attr_text=f"Job!$B${film[1]}")
    opened["Workings"].sheet_state = "visible"
    opened["Job"].cell(film[1], 2).comment = Comment("as Anna said", "the office")
    notes["A1"].comment = Comment("of their own", "the office")
    opened.save(job)
    wrong = errors(job)
    made = add(job, (PROOF,))
    assert made.state == "OK"
    book = Book.open(job)
    film = address(book, "film_thickness")
    assert book.cell("Notes", 1, 1).value == "ask Anna"
    assert book.cell("Notes", 2, 1).formula_text == f"Job!$B${film[1]}+1"
    assert book.names["my_film"] in (f"Job!$B${film[1]}", f"'Job'!$B${film[1]}")
    assert book.sheet_states()["Workings"] == "visible"
    assert check_file(job).values.names["net_price"].si == price
    after = load_workbook(job)
    assert after["Job"].cell(film[1], 2).comment.text == "as Anna said"
    assert after["Notes"]["A1"].comment.text == "of their own"
    changes, _ = live_cells_that_change(job)
    assert {change[0].split("!")[0] for change in changes} <= {"Notes"}
    assert set(errors(job)) <= set(wrong)


def test_a_formula_of_theirs_whose_cell_is_gone_is_refused_and_nothing_written(
    tmp_path: Path,
) -> None:
    job = small_job(tmp_path / "tank.xlsx", (QUOTE, DAY))
    opened = load_workbook(job)
    sheet = opened.create_sheet("Mine")
    crew = address(Book.open(job), "readings.event")
    sheet["A1"] = ArrayFormula("A1", f"='{crew[0]}'!B{crew[1]}")
    opened.save(job)
    before = job.read_bytes()
    with pytest.raises(PackageError, match=r"Mine!A1 \(=.*\) reads what of ours"):
        remove(job, (DAY,))
    assert job.read_bytes() == before


def test_a_part_is_taken_out_of_a_job_and_another_needs_its_own(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    job = small_job(tmp_path / "tank.xlsx", (QUOTE, DAY))
    price = check_file(job).values.names["net_price"].si
    assert main(["remove", str(job), "quote"]) == 2
    assert "its part day takes from quote; nothing was written" in capsys.readouterr().err
    assert main(["remove", str(job), "proof"]) == 2
    assert "it has no part proof; it has quote, day" in capsys.readouterr().err
    assert main(["remove", str(job), "all"]) == 2
    assert "nothing but the job; nothing was written; delete the file" in capsys.readouterr().err
    assert main(["remove", str(job), "day"]) == 0
    assert parts_of(Book.open(job)) == (QUOTE,)
    assert check_file(job).values.names["net_price"].si == price


@pytest.mark.parametrize("word", ["2nd", "a/b", "x" * 13, "tank!", "ä"])
def test_a_word_that_no_name_can_hold_is_refused(
    word: str, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    book = theirs(tmp_path / "plant.xlsx")
    before = book.read_bytes()
    assert main(["add", str(book), "quote", "--as", word]) == 2
    assert f"'{word}' can't stand in a name; --as takes up to 12 letters" in (
        capsys.readouterr().err
    )
    assert book.read_bytes() == before


def test_picks_of_an_office_need_the_office(capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["add", "plant.xlsx", "quote", "--crew", "X"]) == 2
    assert "pick from --office FILE" in capsys.readouterr().err


def test_a_link_that_was_filled_down_is_carried_cell_by_cell(tmp_path: Path) -> None:
    book = linked(tmp_path / "plant.xlsx", {})
    opened = Book.open(book)
    place = address(opened, "areas.length")
    part = opened.sheets[place[0]]
    data = opened.package.read(part)
    for row, old in ((7, b"'Take-off'!B2"), (8, b"")):
        found = re.search(rb'<c r="D%d"[^>]*?(?:/>|>.*?</c>)' % row, data)
        assert found is not None
        head = b'<f t="shared" ref="D7:D8" si="0">%b</f>' if old else b'<f t="shared" si="0"/>%b'
        made = b'<c r="D%d">%b<v>%d</v></c>' % (row, head % old, 12 if row == 7 else 6)
        data = data[: found.start()] + made + data[found.end() :]
    opened.package.replace(part, data)
    book.write_bytes(opened.package.to_bytes())
    price = check_file(book).values.names["net_price"].si
    add(book, (DAY,))
    grown = Book.open(book)
    texts = [grown.cell(*address(grown, "areas.length", row)).formula_text for row in (0, 1)]
    assert texts == ["'Take-off'!B2", "'Take-off'!B3"]
    assert check_file(book).values.names["net_price"].si == price


def test_links_to_any_sheet_stay_what_they_are(tmp_path: Path) -> None:
    book = linked(tmp_path / "plant.xlsx", {})
    price = address(Book.open(book), "materials.volume_price")
    opened = load_workbook(book)
    opened["Prices"].title = "Übersicht"
    opened[price[0]].cell(*price[1:]).value = 9
    opened.save(book)
    there = Book.open(book)
    film, pace = address(there, "film_thickness"), address(there, "pump_output")
    cells = {
        film: Write(2.0, formula=f"Übersicht!B{film[1]}", live=True),
        pace: Write(4.0, formula=f"[1]Preise!B{pace[1]}", live=True),
    }
    assert not write_cells(there, cells)
    book.write_bytes(there.package.to_bytes())
    add(book, (DAY,))
    grown = Book.open(book)
    for key, old, text in (
        ("film_thickness", film, "Übersicht!B{}"),
        ("pump_output", pace, "[1]Preise!B{}"),
    ):
        assert grown.cell(*address(grown, key)).formula_text == text.format(old[1])


def test_names_of_theirs_that_begin_like_ours_stay_theirs(tmp_path: Path) -> None:
    book = theirs(tmp_path / "plant.xlsx")
    opened = load_workbook(book)
    for name in ("td_rate", "state_start", "a_state_start"):
        opened.defined_names[name] = DefinedName(name, attr_text="Prices!$B$1")
    opened["Summary"]["B9"] = "=td_rate*2"
    opened.save(book)
    add(book, (QUOTE,))
    assert check_file(book).model.parts == (QUOTE,)
    package = Package.open(book)
    # A byte more, and its lists are not what they were when ours came.
    package.replace("xl/workbook.xml", package.read("xl/workbook.xml") + b"\n")
    book.write_bytes(package.to_bytes())
    add(book, (DAY,))
    assert {"td_rate", "state_start", "a_state_start"} <= Book.open(book).all_names()
    assert remove(book, (QUOTE, DAY)).gone
    left = {"tax_share", "td_rate", "state_start", "a_state_start"}
    assert Book.open(book).all_names() == left


def test_ours_are_taken_out_of_a_job_that_got_a_sheet_of_its_own(tmp_path: Path) -> None:
    job = small_job(tmp_path / "tank.xlsx")
    opened = load_workbook(job)
    opened.create_sheet("Own")["A1"] = "kept"
    opened.save(job)
    assert remove(job, (QUOTE,)).gone
    left = Book.open(job)
    assert left.all_sheets() == ["Own"] and left.all_names() == set()


def test_a_workbook_with_a_table_or_a_name_of_one_of_our_words_is_no_job(tmp_path: Path) -> None:
    book = theirs(tmp_path / "plant.xlsx")
    opened = load_workbook(book)
    opened["Take-off"].add_table(Table(displayName="areas", ref="A1:C3"))
    opened.save(book)
    assert add(book, (QUOTE,)).parts == (QUOTE,)
    assert check_file(book).model.parts == (QUOTE,)


def test_a_workbook_is_not_left_without_a_sheet_to_see(tmp_path: Path) -> None:
    book = theirs(tmp_path / "plant.xlsx")
    add(book, (QUOTE,))
    package = Package.open(book)
    data = package.read("xl/workbook.xml")
    for title in (b"Take-off", b"Prices", b"Summary"):
        shown = b'name="' + title + b'" sheetId="%d" state="visible"'
        number = next(n for n in range(1, 9) if shown % n in data)
        data = data.replace(shown % number, (shown % number).replace(b"visible", b"hidden"))
    package.replace("xl/workbook.xml", data)
    book.write_bytes(package.to_bytes())
    before = book.read_bytes()
    with pytest.raises(PackageError, match="every other sheet of it is hidden"):
        remove(book, (QUOTE,))
    assert book.read_bytes() == before


@pytest.mark.parametrize("formula", ["SUM('Order:Film and loss'!B2)", "cost!B57", "SUM(COST!5:6)"])
def test_a_use_written_in_another_way_is_found(formula: str, tmp_path: Path) -> None:
    book = theirs(tmp_path / "plant.xlsx")
    add(book, (QUOTE,))
    opened = Book.open(book)
    assert not write_cells(opened, {("Summary", 5, 2): Write(1.0, formula=formula, live=True)})
    book.write_bytes(opened.package.to_bytes())
    with pytest.raises(PackageError, match=r"Summary!B5"):
        remove(book, (QUOTE,))


def test_a_link_that_leads_to_ours_follows_its_cell_and_is_a_use(tmp_path: Path) -> None:
    path = theirs(tmp_path / "plant.xlsx")
    add(path, (QUOTE,))
    row = address(Book.open(path), "pump_output")[1]
    opened = load_workbook(path)
    link = Hyperlink(ref="B6", location=f"'Job'!B{row}", display="output")
    opened["Summary"]["B6"].hyperlink = link
    opened.save(path)
    with pytest.raises(PackageError, match=r"Summary \(a link to 'Job'!B"):
        remove(path, (QUOTE,))
    add(path, (DAY,))
    now = address(Book.open(path), "pump_output")[1]
    assert now != row
    assert load_workbook(path)["Summary"]["B6"].hyperlink.location in (
        f"Job!B{now}",
        f"'Job'!B{now}",
    )


def test_a_whole_row_of_ours_is_followed(tmp_path: Path) -> None:
    book = theirs(tmp_path / "plant.xlsx")
    add(book, (QUOTE,))
    opened = Book.open(book)
    row = address(opened, "pump_output")[1]
    text = f"SUM(Job!{row}:${row + 1})"
    assert not write_cells(opened, {("Summary", 5, 2): Write(1.0, formula=text, live=True)})
    book.write_bytes(opened.package.to_bytes())
    add(book, (DAY,))
    grown = Book.open(book)
    now = address(grown, "pump_output")[1]
    assert now != row
    assert grown.cell("Summary", 5, 2).formula_text == f"SUM(Job!{now}:${now + 1})"


def beside_their_quote(target: Path) -> Path:
    """The proof beside the take-off of an office, linked to it."""
    add(theirs(target), (PROOF,))
    book = Book.open(target)
    cells = {
        address(book, "film_thickness"): Write(0.002 * 1000),
        address(book, "areas_measured_area_unit"): Write("ft²"),
        address(book, "areas.surface"): Write("Floor", formula="'Take-off'!A2", live=True),
        address(book, "areas.measured_area"): Write(
            60.0, formula="'Take-off'!B2*'Take-off'!C2", live=True
        ),
        address(book, "film.film_surface"): Write("Floor"),
        address(book, "film.reading_1"): Write(2.1),
        address(book, "film.reading_2"): Write(2.2),
        address(book, "film.reading_3"): Write(2.3),
        ("Summary", 2, 2): Write(1.0, formula="SUM(td_areas[Measured area])", live=True),
    }
    assert not write_cells(book, cells)
    target.write_bytes(book.package.to_bytes())
    return target


def test_a_part_alone_takes_as_inputs_what_the_quote_would_say(tmp_path: Path) -> None:
    book = beside_their_quote(tmp_path / "plant.xlsx")
    filled = fill_file(book)
    assert (filled.state, filled.model.parts, filled.problem_count) == ("OK", (PROOF,), 0)
    (row,) = filled.values.studies["film_check"]
    assert row[0] == "Floor" and row[2] == 3
    changes, looked_at = live_cells_that_change(book)
    assert {change[0].split("!")[0] for change in changes} <= NEVER_CALCULATED
    assert looked_at > 1_000
    # With a quote of ours the area that was told is a known area, in its unit, linked as before.
    area = filled.values.tables["areas"].rows[0]["measured_area"].si
    made = add(book, (QUOTE,))
    assert (made.parts, made.notes) == ((QUOTE, PROOF), [])
    grown = Book.open(book)
    known = grown.cell(*address(grown, "areas.known_area"))
    assert known.formula_text == "'Take-off'!B2*'Take-off'!C2"
    assert grown.cell(*address(grown, "areas_known_area_unit")).value == "ft²"
    assert grown.cell(*address(grown, "areas.shape")).value == "known area"
    (row,) = check_file(book).values.tables["areas"].rows
    assert row["measured_area"].si == pytest.approx(area)
    assert row["measured_area"].si == pytest.approx(60 * 0.3048**2)
    assert grown.cell(*address(grown, "areas.surface")).formula_text == "'Take-off'!A2"
    assert grown.cell(*address(grown, "film.reading_3")).value == 2.3


def test_what_rests_on_a_quote_says_so_without_one(tmp_path: Path) -> None:
    book = beside_their_quote(tmp_path / "plant.xlsx")
    before = book.read_bytes()
    accepted = fill_file(book, deal=accept_on(date(2026, 11, 29)))
    assert accepted.refused.endswith(
        "it has no quote; nothing was written; twodrum add gives it one"
    )
    assert book.read_bytes() == before
    rolled = roll_up(tmp_path, tmp_path / "month.xlsx")
    assert rolled.jobs == []
    assert rolled.unread[0]["unread_why"] == (
        "it has no quote to hold its use against; add the part quote"
    )


def test_the_day_alone_takes_materials_and_machine_of_the_office_and_keeps_what_it_taught(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    office = an_office(tmp_path / "office.xlsx")
    book = theirs(tmp_path / "plant.xlsx")
    add(book, (PROOF,))
    add(book, (DAY,), Wish(office=office))
    values = check_file(book).values
    assert [row["component"].si for row in values.tables["materials"].rows] == ["iso", "resin"]
    assert values.names["machine_name"].si == MACHINE
    assert main(["keep", str(book), "--office", str(office)]) in (0, 1)
    assert "nothing was learned" in capsys.readouterr().out


@pytest.mark.parametrize("alone", [(DAY,), (PROOF,), (DAY, PROOF)])
def test_the_quote_comes_later_to_what_asked_for_it_on_one_sheet(
    alone: tuple[str, ...], tmp_path: Path
) -> None:
    theirs = tmp_path / "theirs.xlsx"
    book = Workbook()
    book.active.title = "Take-off"  # type: ignore[union-attr]
    book.save(theirs)
    add(theirs, alone)
    add(theirs, (QUOTE,))
    titles = list(Book.open(theirs).all_sheets())
    assert len(set(titles)) == len(titles)
    assert {"Job", "Areas", "Materials"} <= set(titles)
    checked = check_file(theirs)
    assert not [p for p in checked.problems if p.code in ("lost", "unknown-unit")]


def test_names_that_their_formulas_read_stay_when_an_older_version_is_caught_up_with(
    tmp_path: Path,
) -> None:
    job = small_job(tmp_path / "job.xlsx")
    book = load_workbook(job)
    sheet = book.create_sheet("Mine")
    for name, text in (("my_vat", "0.19"), ("my_area", "Areas!$D$7")):
        book.defined_names[name] = DefinedName(name, attr_text=text)
    sheet["A1"], sheet["A2"] = "=my_vat*2", "=my_area"
    book.save(job)
    opened = Book.open(job)
    ours = set(our_sheets(job_of((QUOTE,)), opened).values())
    gone = our_names(opened, ours, Known(frozenset(), older=True))
    assert "film_thickness" in gone and not gone & {"my_vat", "my_area"}


def test_a_part_that_theirs_read_stays__each_cell_is_named_at_once(tmp_path: Path) -> None:
    path = theirs(tmp_path / "plant.xlsx")
    came = add(path, (WHAT_IFS,))
    assert came.parts == (QUOTE, WHAT_IFS)
    assert came.notes[0] == "its part quote came too: what-ifs takes from it"
    book = Book.open(path)
    price = book.tables["options"]
    stands = f"Options!A{price.area.first_row}"
    readers = {
        2: "td_option_1_price*2",
        3: "MAX(td_options[Price before tax])",
        4: stands,
        5: "COUNTA(Options!A:A)",
        6: "td_net_price",
    }
    cells = {("Summary", row, 2): Write(1.0, formula=f, live=True) for row, f in readers.items()}
    cells["Summary", 9, 1] = Write("to the options")
    kept = address(book, "crew_size")
    cells[kept] = Write(1.0, formula=f"IF({stands}=1,2,3)", live=True)
    assert not write_cells(book, cells)
    path.write_bytes(book.package.to_bytes())
    opened = load_workbook(path)
    link = Hyperlink(ref="A9", location="'Options'!A7", display="to the options")
    opened["Summary"]["A9"].hyperlink = link
    opened.defined_names["first_option"] = DefinedName("first_option", attr_text="Options!$A$7")
    opened.save(path)
    before = path.read_bytes()
    with pytest.raises(PackageError) as told:
        remove(path, (WHAT_IFS,))
    cells_told = [f"Summary!B{row} (={readers[row]})" for row in (2, 3, 4, 5)]
    others = ["the name first_option (=Options!$A$7)", "Summary (a link to 'Options'!A7)"]
    assert str(told.value).startswith(
        ", ".join([others[0], *cells_told, others[1]]) + " read what of "
    ), told.value
    assert path.read_bytes() == before
    opened = load_workbook(path)
    for row in (2, 3, 4, 5):
        opened["Summary"].cell(row, 2).value = None
    opened["Summary"]["A9"].hyperlink = None
    del opened.defined_names["first_option"]
    opened.save(path)
    done = remove(path, (WHAT_IFS,))
    again = Book.open(path)
    assert again.cell("Summary", 6, 2).formula_text == "td_net_price"
    # What stands in an input becomes the value that it has, and that is told.
    crew = again.named("crew_size")
    assert crew is not None and not crew.formula
    assert any(f"=IF({stands}=1,2,3) is its value now" in note for note in done.notes), done.notes
