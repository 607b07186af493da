"""Parts of a job: each set of them is whole, fills, and is live as the engine says."""

import re
from collections import Counter
from dataclasses import replace
from datetime import date
from pathlib import Path

import pytest
from openpyxl import load_workbook
from openpyxl.comments import Comment
from openpyxl.styles import Font, PatternFill
from openpyxl.workbook.defined_name import DefinedName

from tests import made
from tests.libreoffice.calc import recalculate
from tests.office import an_office
from tests.workbook.job_values import evaluated
from tests.workbook.recalculated import live_cells_that_change
from tests.workbook.test_open_xml import errors
from tests.workbook.typing import ROWS, accept_on, address, small_job
from twodrum import __version__
from twodrum.books.parts import (
    ACCOUNT,
    DAY,
    PARTS,
    PROOF,
    QUOTE,
    SETS,
    WHAT_IFS,
    fitting,
    job_of,
    parts_of,
    with_needed,
)
from twodrum.books.whole import JOB
from twodrum.cli import main
from twodrum.commands.carry import carried
from twodrum.commands.fill import check_file, fill_file
from twodrum.commands.month import roll_up
from twodrum.commands.new import new_job, template
from twodrum.commands.remake import add, upgrade
from twodrum.engine.model import Model, result_key
from twodrum.engine.reads import lacking
from twodrum.resources import resource
from twodrum.workbook.brought import brought
from twodrum.xlsx.book import Book
from twodrum.xlsx.files import workbooks_in
from twodrum.xlsx.lists import before_end, relations_of
from twodrum.xlsx.package import Package, PackageError
from twodrum.xlsx.scan import column_letters
from twodrum.xlsx.write import Write, write_cells

BY_PARTS = pytest.mark.parametrize("parts", SETS, ids="-".join)


def test_there_are_twelve_sets_of_parts() -> None:
    assert SETS == (
        (QUOTE,),
        (QUOTE, WHAT_IFS),
        (QUOTE, DAY),
        (QUOTE, PROOF),
        (QUOTE, WHAT_IFS, DAY),
        (QUOTE, WHAT_IFS, PROOF),
        (QUOTE, DAY, PROOF),
        (QUOTE, WHAT_IFS, DAY, PROOF),
        (QUOTE, WHAT_IFS, DAY, PROOF, ACCOUNT),
        (DAY,),
        (PROOF,),
        (DAY, PROOF),
    )
    assert fitting((DAY,)) == (DAY,)
    assert fitting((ACCOUNT,)) == PARTS
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
    lost = lacking(replace(JOB, blocks=(), columns=()))
    assert "order.density" in lost["first_iso_density"]
    assert lost["Day sheet"] >= {"film_thickness"}


def test_every_declaration_belongs_to_a_part() -> None:
    everything = {key for parts in SETS for key in keys(job_of(parts))}
    assert everything == set(keys(JOB))


@BY_PARTS
def test_a_job_of_these_parts_fills_to_the_price_of_the_whole_and_stays_live(
    parts: tuple[str, ...], tmp_path: Path
) -> None:
    job = small_job(tmp_path / "job.xlsx", parts)
    filled = fill_file(job)
    assert (filled.state, filled.problem_count, filled.model.parts) == ("OK", 0, parts)
    assert parts_of(Book.open(job)) == parts
    whole = evaluated({}, ROWS["materials"], []).names
    # Drums to open are typed where the quote is not there.
    told = {"planned_iso_drums", "planned_resin_drums"} if QUOTE not in parts else set()
    for cell in (cell for cell in filled.model.cells if cell.name not in told):
        assert filled.values.names[cell.name].si == whole[cell.name].si, cell.name
    wrong, looked_at = live_cells_that_change(job)
    assert wrong == []
    assert looked_at > (2_500 if QUOTE in parts else 1_000)
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


def numbers(path: Path) -> dict[str, object]:
    return {name: value.si for name, value in check_file(path).values.names.items()}


def test_new_makes_the_quote_alone_and_with_names_more(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    assert main(["new", str(tmp_path / "a.xlsx")]) == 0
    assert main(["new", str(tmp_path / "b.xlsx"), "--with", "proof, day"]) == 0
    assert main(["new", str(tmp_path / "c.xlsx"), "--with", "all"]) == 0
    assert main(["new", str(tmp_path / "d.xlsx"), "--with", "account"]) == 0
    found = [parts_of(Book.open(tmp_path / f"{name}.xlsx")) for name in "abcd"]
    assert found == [(QUOTE,), (QUOTE, DAY, PROOF), PARTS, PARTS]
    assert main(["new", str(tmp_path / "e.xlsx"), "--with", "days"]) == 2
    said = "'days' is no part; there are: quote, what-ifs, day, proof, account, all\n"
    assert capsys.readouterr().err == said
    assert not (tmp_path / "e.xlsx").exists()


def test_a_part_is_added_with_all_that_was_typed(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    job = small_job(tmp_path / "tank.xlsx")
    book = Book.open(job)
    # A link and a unit of their own, a row with a gap above it, a formula by address.
    first = book.tables["areas"].area.first_row
    length = address(book, "areas.length")
    writes = {
        address(book, "pump_output_unit"): Write("US gal/min"),
        address(book, "pump_output"): Write(1.0566882),
        address(book, "areas.length"): Write(None),
        address(book, "areas.surface", 4): Write("Late"),
        address(book, "areas.shape", 4): Write("rectangle"),
        address(book, "areas.width", 4): Write(2),
    }
    assert not write_cells(book, writes)
    book = Book(Package(book.package.to_bytes()))
    width = f"{column_letters(length[2] + 1)}{first}"
    formulas = {
        length: Write(12.0, formula=f"{width}*2+film_thickness", live=True),
        address(book, "areas.length", 4): Write(7.0, formula=f"Areas!{width}+2", live=True),
    }
    assert not write_cells(book, formulas)
    job.write_bytes(book.package.to_bytes())
    before, bytes_before = numbers(job), job.read_bytes()
    assert main(["add", str(job), "day"]) == 0
    said = capsys.readouterr().out
    copy = tmp_path / "tank before add.xlsx"
    assert f"{job}: has the parts quote, day now; state OK; as it was: {copy}" in said
    assert copy.read_bytes() == bytes_before
    after = numbers(job)
    assert {name: after[name] for name in before} == before
    grown = Book.open(job)
    assert grown.named("pump_output_unit").value == "US gal/min"  # type: ignore[union-attr]
    assert grown.cell(*address(grown, "areas.length")).formula_text == f"{width}*2" + (
        "+film_thickness"
    )
    assert grown.cell(*address(grown, "areas.length", 4)).formula
    wrong, _ = live_cells_that_change(job)
    assert wrong == []
    # Once more there is nothing to do, and a folder leaves the copy alone.
    assert main(["add", str(job), "day"]) == 0
    assert "nothing was written" in capsys.readouterr().out
    assert workbooks_in(tmp_path) == [job]
    assert main(["add", str(job), "all"]) == 0
    assert parts_of(Book.open(job)) == PARTS
    whole = numbers(job)
    assert {name: whole[name] for name in before} == before


def test_an_accepted_quote_and_what_came_from_the_office_go_along(tmp_path: Path) -> None:
    job = made.demo(tmp_path) / "job-metric.xlsx"
    assert not fill_file(job, deal=accept_on(date(2026, 11, 28))).refused
    old = Book.open(job)
    fresh, notes = carried(old, JOB, JOB)
    assert notes == []
    (tmp_path / "fresh.xlsx").write_bytes(fresh.package.to_bytes())
    filled, again = fill_file(job), fill_file(tmp_path / "fresh.xlsx")
    assert again.values.names["accepted_lining_volume"].si is not None
    for name, value in filled.values.names.items():
        assert again.values.names[name].si == value.si, name
    assert [str(p) for p in again.problems] == [str(p) for p in filled.problems]
    for table in JOB.tables:
        rows = zip(
            filled.values.tables[table.name].rows,
            again.values.tables[table.name].rows,
            strict=True,
        )
        for before, after in rows:
            assert {k: v.si for k, v in before.items()} == {k: v.si for k, v in after.items()}
    area = old.area("record_brought")
    assert area is not None
    assert Book.open(tmp_path / "fresh.xlsx").named("record_brought") is not None


def older(path: Path, version: str) -> None:
    """Make a book say that an older version made it."""
    book = Book.open(path)
    start = book.area("state_start")
    assert start is not None
    for row in range(1, 20):
        if book.cell(start.sheet, row, 1).value == "Template version":
            write_cells(book, {(start.sheet, row, 2): Write(version)})
    path.write_bytes(book.package.to_bytes())


def test_an_older_job_that_lacks_what_may_stay_blank_is_filled_as_if_it_were(
    tmp_path: Path,
) -> None:
    job = small_job(tmp_path / "job.xlsx", PARTS)
    whole = fill_file(job)
    older(job, "0.14.0")
    package = Package.open(job)
    lost = "shown_date|resin_hose_bore|resin_hose_bore_si"
    names = re.compile(rf'<definedName name="({lost})"[^>]*>[^<]*</definedName>'.encode())
    data, count = names.subn(b"", package.read("xl/workbook.xml"))
    assert count == 3
    package.replace("xl/workbook.xml", data)
    job.write_bytes(package.to_bytes())
    filled = fill_file(job)
    assert (filled.state, filled.problem_count) == ("OK", 0)
    told = [str(p) for p in filled.problems if p.code == "older-book"]
    assert len(told) == 1 and "such as Resin: bore of its hose" in told[0]
    assert "twodrum upgrade brings them" in told[0]
    values = filled.values.names
    assert values["resin_hose_bore"].si == whole.values.names["resin_hose_bore"].si
    assert values["total_price"].si == whole.values.names["total_price"].si
    # Of this version the same is a problem.
    older(job, __version__)
    assert check_file(job).problem_count > 0


@pytest.mark.parametrize("filled_then", [True, False])
def test_what_was_filled_in_an_older_job_and_is_live_today_is_nothing_typed_over(
    filled_then: bool, tmp_path: Path
) -> None:
    job = tmp_path / "tank.xlsx"
    new_job(job, parts=PARTS)
    book = Book.open(job)
    live, filled_cell = book.area("film_yield_si"), book.named("iso_levels_si")
    assert live is not None and filled_cell is not None
    at = f"{column_letters(live.first_column)}{live.first_row}"
    part = book.sheets[live.sheet]
    style = filled_cell.style if filled_then else book.cell(*live.first).style
    cell = re.compile(rf'<c r="{at}"[^>]*><f>.*?</c>'.encode())
    data, count = cell.subn(
        f'<c r="{at}" s="{style}"><v>1.3</v></c>'.encode(), book.package.read(part)
    )
    assert count == 1
    book.package.replace(part, data)
    job.write_bytes(book.package.to_bytes())
    older(job, "0.12.0")
    told = [p for p in check_file(job).problems if p.code == "formula-gone"]
    assert bool(told) is not filled_then


def test_a_folder_is_upgraded_and_says_what_changed(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    job = small_job(tmp_path / "tank.xlsx", PARTS)
    office = an_office(tmp_path / "office.xlsx")
    older(job, "0.10.0")
    older(office, "0.10.0")
    before = numbers(job)
    assert main(["upgrade", str(tmp_path)]) == 0
    said = capsys.readouterr().out
    parts = ", ".join(PARTS)
    assert f"{job}: has the parts {parts}, of {__version__} now; state OK" in said
    assert f"{office}: is an office workbook, of {__version__} now; as it was:" in said
    assert "What changed since 0.10.0:\n  0.22.0: " in said
    assert "  0.11.0: A job is made of parts" in said
    assert "0.9.0:" not in said
    assert numbers(job) == before
    assert main(["upgrade", str(tmp_path)]) == 0
    assert capsys.readouterr().out.count("nothing was written") == 2


def test_comments_go_along_to_the_cells_that_theirs_became(tmp_path: Path) -> None:
    job = small_job(tmp_path / "tank.xlsx")
    names = ("film_thickness", "pump_output", "labour_rate")
    there = {name: address(Book.open(job), name) for name in names}
    opened = load_workbook(job)
    for name, (sheet, row, column) in there.items():
        opened[sheet].cell(row, column).comment = Comment(f"of {name}, says Anna", "the office")
    opened["Cost"]["H3"].comment = Comment("beside the head", "the office")
    opened.save(job)
    wrong = errors(job)
    assert add(job, (DAY,)).notes == []
    now = {name: address(Book.open(job), name) for name in names}
    assert now["pump_output"] != there["pump_output"]
    book = load_workbook(job)
    found = {
        (sheet.title, cell.row, cell.column): cell.comment.text
        for sheet in book.worksheets
        for row in sheet.iter_rows()
        for cell in row
        if cell.comment
    }
    wanted = {now[name]: f"of {name}, says Anna" for name in names}
    assert found == {**wanted, ("Cost", 3, 8): "beside the head"}
    assert set(errors(job)) <= set(wrong)
    # Once more, and they are still there once.
    older(job, "0.12.0")
    upgrade(job)
    again = load_workbook(job)
    assert again["Cost"]["H3"].comment.text == "beside the head"
    assert fill_file(job).state == "OK"


def test_comments_in_threads_are_refused_and_not_lost(tmp_path: Path) -> None:
    job = small_job(tmp_path / "tank.xlsx")
    package = Package.open(job)
    sheet = Book(package).sheets["Areas"]
    package.add("xl/threadedComments/threadedComment1.xml", b"<ThreadedComments/>")
    rels = relations_of(sheet)
    target = "/xl/threadedComments/threadedComment1.xml"
    made = f'<Relationship Id="rId99" Type="x/threadedComment" Target="{target}"/>'
    package.replace(rels, before_end(package.read(rels), b"Relationships", made))
    job.write_bytes(package.to_bytes())
    before = job.read_bytes()
    with pytest.raises(PackageError, match="its sheet Areas has comments in threads"):
        add(job, (DAY,))
    assert job.read_bytes() == before
    assert workbooks_in(tmp_path) == [job]


@pytest.mark.parametrize("version", [__version__, "0.10.0"])
def test_what_was_typed_beside_ours_goes_along_with_its_format(
    version: str, tmp_path: Path
) -> None:
    job = small_job(tmp_path / "tank.xlsx")
    older(job, version)
    film, rate = (address(Book.open(job), name)[1] for name in ("film_thickness", "labour_rate"))
    opened = load_workbook(job)
    opened["Job"].cell(film, 8).value = "ask Anna"
    opened["Job"].cell(film, 8).font = Font(bold=True, color="FFAA0000")
    opened["Job"].cell(rate, 8).value = f"=B{rate}*2+Job!B{film}"
    opened["Cost"]["H3"].value = "above all rows of ours"
    opened["Workings"].sheet_state, opened["Order"].sheet_state = "visible", "hidden"
    opened.save(job)
    made = add(job, (DAY,))
    assert made.notes == []
    book = load_workbook(job)
    now, row = (address(Book.open(job), name)[1] for name in ("film_thickness", "labour_rate"))
    note = book["Job"].cell(now, 8)
    assert (note.value, note.font.b, note.font.color.rgb) == ("ask Anna", True, "FFAA0000")
    assert book["Job"].cell(row, 8).value == f"=B{row}*2+Job!B{now}"
    assert book["Cost"]["H3"].value == "above all rows of ours"
    states = [book[title].sheet_state for title in ("Workings", "Order", "Cost")]
    assert states == ["visible", "hidden", "visible"]
    assert [str(p) for p in check_file(job).problems] == []


@pytest.mark.parametrize("version", [__version__, "0.10.0"])
def test_formats_widths_and_paper_of_theirs_go_along(version: str, tmp_path: Path) -> None:
    job = small_job(tmp_path / "tank.xlsx", filled=True)
    older(job, version)
    film = address(Book.open(job), "film_thickness")[1]
    price = address(Book.open(job), "net_price")[1]
    opened = load_workbook(job)
    green = PatternFill("solid", fgColor="FFCCFFCC")
    opened["Job"].cell(film, 2).fill = opened["Areas"]["D9"].fill = green
    opened["Cost"].cell(price, 2).number_format = "0"
    opened["Areas"].column_dimensions["A"].width = 61
    setup = opened["Areas"].page_setup
    setup.paperSize, setup.orientation = "1", "portrait"
    opened["Areas"].page_margins.left = 1.1
    opened.save(job)
    assert add(job, (DAY,)).notes == []
    book, read = load_workbook(job), Book.open(job)
    film, price = (address(read, name)[1] for name in ("film_thickness", "net_price"))
    found = book["Job"].cell(film, 2), book["Areas"]["D9"], book["Areas"]["D10"]
    colours = [cell.fill.fgColor.rgb for cell in found]
    assert colours == ["FFCCFFCC", "FFCCFFCC", "FFFFF7E0"]
    assert book["Cost"].cell(price, 2).number_format == "0"
    assert book["Cost"].cell(price - 1, 2).number_format != "0"
    assert book["Areas"].column_dimensions["A"].width == 61
    now = book["Areas"].page_setup
    same = version == __version__
    assert (now.paperSize, now.orientation) == (1, "portrait" if same else "landscape")
    assert book["Areas"].page_margins.left == (1.1 if same else 0.4)
    assert [str(p) for p in check_file(job).problems] == []


def test_an_added_part_is_in_the_units_of_the_job_with_the_machine_of_the_office(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    office = an_office(tmp_path / "office.xlsx")
    job = tmp_path / "tank.xlsx"
    picks = ["--office", str(office)]
    assert main(["new", str(job), *picks, "--units", "us"]) in (0, 1)
    all_at_once = ["new", str(tmp_path / "whole.xlsx"), *picks, "--units", "us", "--with", "all"]
    assert main(all_at_once) in (0, 1)
    assert main(["add", str(job), "all", *picks]) == 0
    grown, whole = Book.open(job), Book.open(tmp_path / "whole.xlsx")
    for item in JOB.fields():
        for name in (item.name, f"{item.name}_unit"):
            one, other = grown.named(name), whole.named(name)
            if one is None or one.formula:
                continue
            assert other is not None and one.value == other.value, name
    power = grown.named("iso_heater_power")
    assert power is not None and power.kind == "number"
    assert set(brought(grown)) == set(brought(whole))
    # A machine is of an office.
    assert main(["add", str(job), "day", "--machine", "X"]) == 2
    assert "--crew and --rates pick from --office FILE" in capsys.readouterr().err


@BY_PARTS
def test_start_tells_four_steps_or_five_and_fifteen_words(parts: tuple[str, ...]) -> None:
    book = template(job_of(parts))
    column = [str(book.cell("Start", row, 1).value) for row in range(1, 120)]
    steps = [text for text in column if text.rstrip(".").isdigit()]
    assert steps == [f"{n}." for n in range(1, len(steps) + 1)]
    assert len(steps) == (5 if DAY in parts and QUOTE in parts and parts != PARTS else 4)
    heads = ["1.", "First of all", "Purpose", *(["At a glance"] if parts != (PROOF,) else [])]
    assert [column.index(head) for head in heads] == sorted(map(column.index, heads))
    # Steps and words are one line each, or their end would not be printed.
    said = [str(book.cell("Start", row, 2).value) for row in range(1, 120)]
    lines = [text for name, text in zip(column, said, strict=True) if name in steps]
    assert max(map(len, lines)) < 100
    words = column[column.index("Words") + 1 : column.index("How cells look") - 1]
    assert len(words) == 15


def test_a_new_quote_shows_seven_sheets_and_says_of_the_others_how_to_see_them() -> None:
    from openpyxl import load_workbook

    book = load_workbook(resource("workbook_templates", "quote.xlsx"))
    shown = [sheet.title for sheet in book.worksheets if sheet.sheet_state == "visible"]
    assert len(shown) == 7 and shown[0] == "Start"
    told = {row[0].value: str(row[1].value) for row in book["Start"].iter_rows(max_col=2)}
    for sheet in book.worksheets:
        assert told[sheet.title].startswith("Hidden") == (sheet.title not in shown)
    assert "Unhide" in told["To see a hidden sheet"]


@pytest.mark.parametrize("parts", [(DAY,), (PROOF,), (DAY, PROOF)])
def test_parts_without_the_quote_ask_on_one_sheet_what_they_take_from_it(
    parts: tuple[str, ...],
) -> None:
    model = job_of(parts)
    book = Book.open(resource("workbook_templates", f"{model.name}.xlsx"))
    taken = [f.name for b in JOB.blocks if b.sheet == "Job" for f in b.fields]
    names = [name for name in taken if name in {field.name for field in model.fields()}]
    areas = [book.area(name) for name in names]
    assert names and {area.sheet for area in areas if area} == {"Job"}
    assert {
        read.area.sheet for name, read in book.tables.items() if name in ("areas", "materials")
    } == {"Job"}


@pytest.mark.parametrize(("parts", "system"), [((QUOTE,), "us"), (PARTS, "metric")])
def test_a_new_job_shows_what_a_recalculation_gives_before_anything_is_filled(
    parts: tuple[str, ...], system: str, tmp_path: Path
) -> None:
    office = an_office(tmp_path / "office.xlsx")
    job = tmp_path / "job.xlsx"
    new_job(job, office, {}, system, parts=parts)
    wrong, looked_at = live_cells_that_change(job)
    assert wrong == []
    assert looked_at > 2_500
    state = Book.open(job).named("beside_said")
    assert state is not None and str(state.value).startswith("Never filled")


def test_a_month_and_the_office_take_a_quote_alone_for_what_it_is(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    jobs = tmp_path / "jobs"
    jobs.mkdir()
    small_job(jobs / "tank.xlsx")
    office = an_office(tmp_path / "office.xlsx")
    rolled = roll_up(jobs, jobs / "month.xlsx")
    (row,) = rolled.jobs
    assert row["billed_area"] == pytest.approx(124.0)
    assert "no accepted quote" in row["not_told"] and "litres used are not known" in row["not_told"]
    assert main(["keep", str(jobs / "tank.xlsx"), "--office", str(office)]) == 0
    assert "nothing was learned; it has no part day" in capsys.readouterr().out
    assert main(["fill", str(jobs / "tank.xlsx")]) == 0
    said = capsys.readouterr().out
    assert "Price" in said and "cautions" not in said


def test_a_job_with_the_headings_and_names_of_an_older_version_is_read_filled_and_upgraded(
    tmp_path: Path,
) -> None:
    job = small_job(tmp_path / "tank.xlsx", (QUOTE, DAY))
    book = Book.open(job)
    cells = {
        address(book, "areas.film_override"): Write(3.0),
        address(book, "readings.time"): Write(0.375),
        address(book, "readings.phase"): Write("spraying"),
        address(book, "readings.iso_left"): Write(100.0),
        address(book, "port_diameter"): Write(1.2),
    }
    start = book.area("state_start")
    assert start is not None
    for row in range(1, 20):
        if book.cell(start.sheet, row, 1).value == "Template version":
            cells[start.sheet, row, 2] = Write("0.11.0")
    assert not write_cells(book, cells)
    for part in [name for name in book.package.names() if name.endswith(".xml")]:
        data = book.package.read(part)
        for then, now in JOB.former_names:
            # Worksheet functions are called as before.
            data = re.sub(rb"(?<![A-Z])" + now.encode() + rb"(?![(])", then.encode(), data)
        for now, then in JOB.former_heads.items():
            for mark in (b'name="%b"', b'name="%b SI"', b"[%b]", b"[%b SI]"):
                data = data.replace(mark % now.encode(), mark % then.encode())
        book.package.replace(part, data)
    job.write_bytes(book.package.to_bytes())
    older = Book.open(job)
    assert "orifice_diameter" in older.names and "port_diameter" not in older.names
    assert "Own film" in older.tables["areas"].columns
    filled = fill_file(job)
    assert not [str(p) for p in filled.problems if p.severity == "problem"]
    assert not [p for p in filled.problems if p.code in ("lost", "put-back")]
    values = filled.values
    assert values.names["port_diameter"].si == pytest.approx(0.0012)
    assert values.tables["areas"].rows[0]["film_override"].si == pytest.approx(0.003)
    assert values.tables["readings"].rows[0]["iso_left"].si == pytest.approx(0.1)
    # Its own formulas stay what they are, and say what the engine says.
    assert live_cells_that_change(job)[0] == []
    price = values.names["net_price"].si
    assert upgrade(job).before == "0.11.0"
    grown = check_file(job).values
    assert grown.names["net_price"].si == price
    assert grown.names["port_diameter"].si == pytest.approx(0.0012)
    now = Book.open(job)
    assert "Own DFT" in now.tables["areas"].columns and "port_diameter" in now.names
    assert live_cells_that_change(job)[0] == []


def test_a_name_that_today_has_no_more_stays_where_a_formula_of_theirs_reads_it(
    tmp_path: Path,
) -> None:
    job = small_job(tmp_path / "tank.xlsx")
    price = fill_file(job).values.names["net_price"].si
    book, read = load_workbook(job), Book.open(job)
    shown, unit = read.area("net_price"), read.area("film_thickness_unit")
    assert shown is not None and unit is not None
    for name, area in (("net_price_si", shown), ("film_thickness_unit", unit)):
        at = f"{area.sheet}!${column_letters(area.first_column)}${area.first_row}"
        book.defined_names[name] = DefinedName(name, attr_text=at)
    own = book.create_sheet("Our sheet")
    own["A1"], own["A2"] = "=net_price_si*2", "=film_thickness_unit"
    book.save(job)
    older(job, "0.21.0")
    assert upgrade(job).changed
    (found,) = recalculate(job, [{"set": [], "read": [["Our sheet", "A1"], ["Our sheet", "A2"]]}])
    assert found == [pytest.approx(2 * float(price)), "mm"]
