"""A workbook in which nothing changed since it was filled is known without being read."""

import os
import shutil
import zipfile
from pathlib import Path

import pytest
from openpyxl import Workbook, load_workbook
from openpyxl.workbook.defined_name import DefinedName

from tests.libreoffice.calc import recalculate
from tests.workbook.typing import address, plain_cells, small_job, typed
from twodrum.books.parts import PARTS, QUOTE
from twodrum.cli import main
from twodrum.commands.already import UNCHANGED, already
from twodrum.commands.fill import fill_file
from twodrum.commands.remake import add
from twodrum.xlsx.book import Book
from twodrum.xlsx.marked import known_again


@pytest.fixture(scope="module")
def filled(tmp_path_factory: pytest.TempPathFactory) -> Path:
    job = small_job(tmp_path_factory.mktemp("already") / "job.xlsx", PARTS)
    assert main(["fill", str(job)]) == 0
    return job


def test_it_is_told_with_its_state_and_nothing_of_it_is_read(
    filled: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    before = filled.read_bytes()

    def never(*_: object) -> None:
        raise AssertionError("it was read")

    monkeypatch.setattr(Book, "open", never)
    assert main(["fill", str(filled)]) == 0
    said = capsys.readouterr().out
    assert said.startswith(f"{filled}: {UNCHANGED}; state OK")
    assert "cautions on the sheet Cautions: read them first" in said
    assert filled.read_bytes() == before


def test_whatever_changed_in_it_it_is_filled_again(filled: Path, tmp_path: Path) -> None:
    job = tmp_path / "job.xlsx"
    shutil.copy(filled, job)
    assert already(job) is not None
    # Another thing is asked for.
    assert already(job, live=True) is None
    typed({address(Book.open(job), "film_thickness"): 2.5}, job, source=job)
    assert already(job) is None
    assert fill_file(job).changed
    assert already(job) is not None and not fill_file(job).changed


@pytest.mark.parametrize("share", [0.02, 0.3, 0.6, 0.9])
def test_a_damaged_byte_anywhere_is_no_book_that_is_known(filled: Path, share: float) -> None:
    data = bytearray(filled.read_bytes())
    data[int(len(data) * share)] ^= 0xFF
    assert known_again(bytes(data)) is None


def test_one_of_another_version_is_filled_again(
    filled: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr("twodrum.commands.already.__version__", "999.0.0")
    assert already(filled) is None


def test_one_with_a_problem_is_looked_at_each_time(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    job = small_job(tmp_path / "job.xlsx")
    typed({address(Book.open(job), "film_thickness"): -2}, job, source=job)
    for _ in range(2):
        assert main(["fill", str(job)]) == 1
        assert "Dry film thickness is -2 mm" in capsys.readouterr().out
    assert already(job) is None


def test_a_mark_goes_when_a_problem_comes(tmp_path: Path) -> None:
    job = small_job(tmp_path / "job.xlsx")
    fill_file(job)
    assert already(job) is not None
    typed({address(Book.open(job), "film_thickness"): -2}, job, source=job)
    fill_file(job)
    assert already(job) is None


def test_what_libreoffice_saved_is_filled_again_and_known_then(tmp_path: Path) -> None:
    job = small_job(tmp_path / "job.xlsx")
    fill_file(job)
    saved = tmp_path / "saved.xlsx"
    recalculate(job, [{"save": str(saved)}])
    assert already(saved) is None
    fill_file(saved)
    assert already(saved) is not None


def test_in_a_book_of_the_office_it_is_known_too(tmp_path: Path) -> None:
    theirs = tmp_path / "theirs.xlsx"
    Workbook().save(theirs)
    add(theirs, (QUOTE,))
    book = Book.open(theirs)
    typed(plain_cells(book), theirs, source=theirs)
    filled = fill_file(theirs)
    assert (filled.state, filled.problems) == ("OK", [])
    assert already(theirs) is not None


def test_a_folder_that_is_filled_says_so(
    filled: Path, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    for number in range(3):
        shutil.copy(filled, tmp_path / f"job {number}.xlsx")
    typed(
        {address(Book.open(filled), "film_thickness"): 3},
        tmp_path / "job 1.xlsx",
        source=filled,
    )
    assert main(["fill", str(tmp_path), "--jobs", "1"]) == 0
    assert "1 filled, 2 already filled" in capsys.readouterr().out


def test_a_file_that_is_no_workbook_is_not_known(tmp_path: Path) -> None:
    with zipfile.ZipFile(tmp_path / "other.xlsx", "w") as archive:
        archive.writestr("xl/workbook.xml", '<definedName name="filled_mark">"a|b"</definedName>')
    assert already(tmp_path / "other.xlsx") is None
    (tmp_path / "text.xlsx").write_text("nothing")
    assert already(tmp_path / "text.xlsx") is None
    assert already(tmp_path / "none.xlsx") is None


def test_damage_to_the_list_of_the_parts_is_no_book_that_is_known(filled: Path) -> None:
    data = filled.read_bytes()
    with zipfile.ZipFile(filled) as archive:
        start = archive.start_dir
    assert known_again(data) is not None
    # Flags, method and checksum of the first entry; what stands before and behind all of it.
    for field in (8, 10, 16):
        spoiled = bytearray(data)
        spoiled[start + field] ^= 1
        assert known_again(bytes(spoiled)) is None, field
    assert known_again(b"x" + data) is None
    assert known_again(data + b"x") is None


def test_a_name_of_theirs_that_ends_so_is_left_alone(tmp_path: Path) -> None:
    job = small_job(tmp_path / "job.xlsx")
    book = load_workbook(job)
    book.create_sheet("Mine")["B1"] = 5
    name = DefinedName("Not_filled_mark", attr_text="Mine!$B$1")
    book.defined_names["Not_filled_mark"] = name
    book.save(job)
    fill_file(job)
    assert already(job) is not None
    assert load_workbook(job).defined_names["Not_filled_mark"].attr_text == "Mine!$B$1"


def test_a_pipe_is_not_waited_for(tmp_path: Path) -> None:
    os.mkfifo(tmp_path / "pipe.xlsx")
    assert already(tmp_path / "pipe.xlsx") is None
    assert main(["fill", str(tmp_path / "pipe.xlsx")]) == 2
