"""Commands as people type them: what they say, what they leave, their exit status."""

import json
import subprocess
import sys
from pathlib import Path

import pytest

from tests.office import an_office
from tests.workbook.job_values import job_template
from tests.workbook.typing import QUOTED, address, plain_cells, small_job, typed
from twodrum.books.month import MONTH
from twodrum.books.parts import QUOTE
from twodrum.books.whole import JOB
from twodrum.cli import main
from twodrum.commands import demo
from twodrum.commands.fill import check_file
from twodrum.commands.new import Typed, new_office, typed_from_texts
from twodrum.units import UnitError
from twodrum.xlsx.book import Book
from twodrum.xlsx.write import Write, write_cells


@pytest.fixture
def office(tmp_path: Path) -> Path:
    path = tmp_path / "office.xlsx"
    new_office(path, "metric", demo.office_typed())
    return path


@pytest.fixture
def job(tmp_path: Path) -> Path:
    return small_job(tmp_path / "job.xlsx")


@pytest.fixture
def bad_job(tmp_path: Path) -> Path:
    book = job_template()
    cells = plain_cells(book)
    cells[address(book, "film_thickness")] = -2
    return typed(cells, tmp_path / "bad.xlsx")


def test_new_copies_the_only_system_machine_crew_and_rates(
    office: Path, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    target = tmp_path / "new.xlsx"
    assert main(["new", str(target), "--office", str(office)]) == 0
    said = capsys.readouterr().out
    assert "system Invented lining 11, machine Machine 1 (invented)" in said
    book = Book.open(target)
    assert book.named("labour_rate").value == 46  # type: ignore[union-attr]
    assert book.named("currency").value == "EUR"  # type: ignore[union-attr]
    assert book.cell(*address(book, "materials.material", 1)).value == "Invented lining 11, resin"
    assert book.cell(*address(book, "materials.density", 0)).value == 1115


def test_new_in_us_units_holds_the_same_physical_values(office: Path, tmp_path: Path) -> None:
    target = tmp_path / "new.xlsx"
    assert main(["new", str(target), "--office", str(office), "--units", "us"]) == 0
    book = Book.open(target)
    assert book.named("film_thickness_unit").value == "mil"  # type: ignore[union-attr]
    assert book.cell(*address(book, "materials.drum_volume", 0)).value == 55
    assert book.cell(*address(book, "materials.spray_temperature", 0)).value == 149
    assert book.cell(*address(book, "materials.volume_price", 1)).value == 41


def test_new_keeps_a_file_that_is_there(job: Path, capsys: pytest.CaptureFixture[str]) -> None:
    before = job.read_bytes()
    assert main(["new", str(job)]) == 2
    assert capsys.readouterr().err == f"{job}: it exists already; choose another name\n"
    assert job.read_bytes() == before


def test_new_asks_which_where_the_office_has_several(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    two = demo.office_typed()
    two.rows["crews"].append({**two.rows["crews"][0], "crew": "Crew South (invented)"})
    office = tmp_path / "two.xlsx"
    new_office(office, "metric", two)
    target = tmp_path / "new.xlsx"
    assert main(["new", str(target), "--office", str(office)]) == 2
    assert capsys.readouterr().err == (
        f"{office}: the office workbook has several: Crew North (invented), "
        "Crew South (invented); one is wanted, name it with --crew\n"
    )
    assert not target.exists()
    picks = ["--crew", "crew south (INVENTED)"]
    assert main(["new", str(target), "--office", str(office), *picks]) == 0


def test_new_names_what_the_office_has(
    office: Path, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    target = tmp_path / "new.xlsx"
    assert main(["new", str(target), "--office", str(office), "--crew", "Nobody"]) == 2
    assert capsys.readouterr().err == (
        f"{office}: the office workbook has no crew 'Nobody'; it has: Crew North (invented)\n"
    )


def test_new_with_picks_but_no_office_says_so(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    assert main(["new", str(tmp_path / "new.xlsx"), "--crew", "Crew North"]) == 2
    assert "pick from --office FILE" in capsys.readouterr().err


def test_new_from_an_office_that_is_not_there(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    missing = tmp_path / "no.xlsx"
    assert main(["new", str(tmp_path / "new.xlsx"), "--office", str(missing)]) == 2
    assert "there is no such file; check the name" in capsys.readouterr().err


def test_office_makes_a_book_that_check_of_new_accepts(tmp_path: Path) -> None:
    office = tmp_path / "office.xlsx"
    assert main(["office", str(office), "--units", "us"]) == 0
    # Without a row of its own it gives nothing to a job.
    assert main(["new", str(tmp_path / "bare.xlsx"), "--office", str(office)]) == 0
    an_office(tmp_path / "typed.xlsx")
    assert main(["new", str(tmp_path / "new.xlsx"), "--office", str(tmp_path / "typed.xlsx")]) == 0
    book = Book.open(tmp_path / "new.xlsx")
    assert book.cell(*address(book, "materials.component", 0)).value == "iso"


def test_check_says_the_numbers_and_no_problems(
    job: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    before = job.read_bytes()
    assert main(["check", str(job)]) == 0
    said = capsys.readouterr().out
    assert "Mixed lining to supply" in said
    assert "330.7 L" in said
    assert "5,752.39 EUR" in said
    assert said.rstrip().endswith("No problem in what was typed.")
    assert job.read_bytes() == before


def test_check_of_a_bad_job_ends_with_1_and_names_the_cell(
    bad_job: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    assert main(["check", str(bad_job)]) == 1
    said = capsys.readouterr().out
    assert "Job!B17: Dry film thickness is -2 mm; it must be from 0.05 to 50 mm" in said
    assert said.rstrip().endswith("1 problem.")


def test_fill_fills_in_place_and_says_when_nothing_changed(
    job: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    assert main(["fill", str(job)]) == 0
    assert f"{job}: filled" in capsys.readouterr().out
    assert main(["fill", str(job)]) == 0
    assert f"{job}: already filled, nothing changed" in capsys.readouterr().out


def test_fill_out_leaves_the_source(job: Path, tmp_path: Path) -> None:
    before = job.read_bytes()
    out = tmp_path / "out.xlsx"
    assert main(["fill", str(job), "--out", str(out)]) == 0
    assert job.read_bytes() == before
    assert Book.open(out).named("problem_count").value == 0  # type: ignore[union-attr]


def test_fill_of_a_folder_fills_every_book_and_tells_each(
    job: Path, bad_job: Path, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    (tmp_path / "~$job.txt").touch()
    out = tmp_path / "filled"
    out.mkdir()
    assert main(["fill", str(tmp_path), "--out", str(out)]) == 1
    assert sorted(file.name for file in out.iterdir()) == ["bad.xlsx", "job.xlsx"]
    said = capsys.readouterr().out
    told, counted = said.splitlines()
    assert told.startswith(f"{bad_job}: Job!B17: Dry film thickness is -2 mm; it must be from")
    assert counted.startswith("2 workbooks in") and counted.endswith("2 filled, 1 with problems")


@pytest.fixture
def quote(tmp_path: Path) -> Path:
    book = job_template()
    cells = {address(book, name): value for name, value in QUOTED.items()}
    return typed({**plain_cells(book), **cells}, tmp_path / "quote.xlsx")


def test_fill_live_puts_calls_and_a_plain_fill_takes_them_out(quote: Path) -> None:
    assert main(["fill", "--live", str(quote)]) == 0
    live = Book.open(quote).named("iso_heat_capacity_si")
    assert live is not None
    blank = "COUNTBLANK(planned_iso_drum_volume_si)+COUNTBLANK(iso_density_si)"
    assert live.formula_text.startswith(f"IF({blank}>0")
    # Nothing hides that the functions are not installed.
    assert "TD_" in live.formula_text and "IFERROR" not in live.formula_text
    assert main(["fill", str(quote)]) == 0
    plain = Book.open(quote).named("iso_heat_capacity_si")
    assert plain is not None and not plain.formula


def test_a_file_that_is_no_workbook_ends_with_2(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    path = tmp_path / "notes.xlsx"
    path.write_text("not a workbook")
    assert main(["fill", str(path)]) == 2
    said = capsys.readouterr()
    assert (
        "notes.xlsx: it is plain text, such as .csv, under the name of a workbook"
        in said.out + said.err
    )


def test_an_empty_folder_ends_with_2(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["check", str(tmp_path)]) == 2
    assert capsys.readouterr().err == f"{tmp_path}: no workbook in that folder\n"
    assert main(["check", str(tmp_path / "2026-*.xlsx")]) == 2
    assert "2026-*.xlsx: no workbook is called so" in capsys.readouterr().err


def test_a_pattern_is_a_folder_of_what_it_means(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    for name in ("2026-a", "2026-b", "2025-a", "odd [1]"):
        small_job(tmp_path / f"{name}.xlsx", (QUOTE,))
    (tmp_path / "2026-notes.txt").touch()
    assert main(["fill", str(tmp_path / "2026-*")]) == 0
    assert capsys.readouterr().out.startswith("2 workbooks in")
    # A file is a file whatever its name.
    assert main(["fill", str(tmp_path / "odd [1].xlsx")]) == 0
    assert "odd [1].xlsx: filled" in capsys.readouterr().out
    # One of them is a copy of the other.
    assert main(["month", str(tmp_path), "--only", "2026-*.xlsx"]) == 1
    rows = check_file(tmp_path / "month.xlsx", MONTH).values.tables
    told = [row["file"].si for row in rows["jobs"].rows]
    told += [row["unread_file"].si for row in rows["unread"].rows]
    assert told == ["2026-a.xlsx", "2026-b.xlsx"]
    assert (
        main(["month", str(tmp_path), "--only", "1999-*", "--out", str(tmp_path / "m.xlsx")]) == 2
    )
    assert "has no workbook in it that is called 1999-*" in capsys.readouterr().err


def test_json_of_many_is_a_line_for_each_workbook(
    job: Path, bad_job: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    assert main(["check", str(bad_job.parent), "--json"]) == 1
    lines = capsys.readouterr().out.splitlines()
    told = {answer["file"]: len(answer["problems"]) for answer in map(json.loads, lines)}
    assert told == {str(bad_job): 1, str(job): 0}


def test_json_gives_problems_and_results_with_unit_function_source_and_dependencies(
    bad_job: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    assert main(["check", str(bad_job), "--json"]) == 1
    answer = json.loads(capsys.readouterr().out)
    assert answer["problems"] == [
        {
            "code": "out-of-range",
            "where": "Job!B17",
            "text": "Dry film thickness is -2 mm; it must be from 0.05 to 50 mm",
            "severity": "problem",
        }
    ]
    area = answer["results"]["measured_area_total"]
    assert (area["value"], area["unit"], area["si"]) == (124.0, "m²", 124.0)
    passes = answer["results"]["passes"]
    assert passes["value"] is None
    assert passes["why"] == "not computed: see Job!B17"
    assert passes["function"] == "TD_PASS_COUNT"
    assert passes["source"] == "Volume balance."
    assert passes["depends"] == ["film_thickness", "pass_build", "ceiling_guard"]
    assert answer["tables"]["areas"][0]["measured_area"]["value"] == 60.0


def test_the_program_runs_as_a_module() -> None:
    done = subprocess.run(
        [sys.executable, "-m", "twodrum", "--version"], capture_output=True, text=True, check=True
    )
    assert done.stdout.startswith("twodrum 0.")


def test_a_text_that_is_no_quantity_is_refused_by_its_key() -> None:
    fields = {item.name: item for item in JOB.fields()}
    with pytest.raises(UnitError, match="film_thickness: '2 kg' has the unit 'kg'"):
        typed_from_texts({"film_thickness": "2 kg"}, fields)
    assert Typed().names == {}


def test_fill_out_never_replaces_another_file(
    job: Path, office: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    before = office.read_bytes()
    assert main(["fill", str(job), "--out", str(office)]) == 2
    assert "it exists already; choose another name" in capsys.readouterr().out
    assert office.read_bytes() == before


def test_an_office_workbook_in_a_folder_is_left_alone(
    job: Path, office: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    before = office.read_bytes()
    assert main(["fill", str(job.parent)]) == 0
    assert capsys.readouterr().err == f"{office}: an office workbook, left alone\n"
    assert office.read_bytes() == before
    assert main(["fill", str(office)]) == 2


def test_an_office_that_is_named_is_checked(
    office: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    before = office.read_bytes()
    assert main(["check", str(office)]) == 0
    assert "No problem in what was typed." in capsys.readouterr().out
    book = Book.open(office)
    read = book.tables["materials"]
    at = (read.area.sheet, read.area.first_row, read.columns["Volume solids"])
    assert write_cells(book, {at: Write("nearly all")}) == []
    office.write_bytes(book.package.to_bytes())
    assert main(["check", str(office)]) == 1
    out = capsys.readouterr().out
    assert "Volume solids" in out and "is the text 'nearly all'" in out
    assert office.read_bytes() != before


def test_a_job_is_no_office(job: Path, tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    target = tmp_path / "new.xlsx"
    assert main(["new", str(target), "--office", str(job)]) == 2
    assert "it is not an office workbook" in capsys.readouterr().err
    assert not target.exists()


def test_the_demo_keeps_workbooks_that_are_not_its_own(tmp_path: Path, office: Path) -> None:
    before = office.read_bytes()
    assert main(["demo", "--out", str(tmp_path)]) == 2
    assert office.read_bytes() == before


@pytest.mark.parametrize("name", ["job.csv", "nowhere/job.xlsx"])
def test_a_target_that_cannot_be_is_refused_before_anything_is_made(
    name: str, tmp_path: Path
) -> None:
    assert main(["new", str(tmp_path / name)]) == 2
    assert list(tmp_path.iterdir()) == []
