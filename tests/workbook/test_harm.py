"""No harm: two commands on one file, what was left behind, files that are none or far too large."""

import io
import os
import re
import subprocess
import sys
import zipfile
from pathlib import Path

import pytest

import twodrum
from tests.office import an_office
from tests.workbook.typing import small_job
from twodrum.books.parts import PROOF, QUOTE
from twodrum.cli import main
from twodrum.commands import month
from twodrum.commands.fill import check_file, fill_file
from twodrum.workbook.layout import MOST_ROWS
from twodrum.xlsx import book as book_module
from twodrum.xlsx import package as package_module
from twodrum.xlsx import scan as scan_module
from twodrum.xlsx import split as split_module
from twodrum.xlsx.book import Book
from twodrum.xlsx.files import at_work, write_whole
from twodrum.xlsx.package import Package, PackageError


def job(folder: Path) -> Path:
    return small_job(folder / "job.xlsx")


def marks(folder: Path) -> list[str]:
    return sorted(path.name for path in folder.iterdir() if path.name.startswith(".twodrum"))


def test_a_second_command_on_one_file_says_so_and_writes_nothing(tmp_path: Path) -> None:
    path = job(tmp_path)
    before = path.read_bytes()
    with at_work(path):
        refused = fill_file(path).refused
        # Looking only is no writing.
        assert check_file(path).state == "OK"
    assert refused == (
        f"{path}: another twodrum command is at work on it; wait until it is done and run this "
        "again"
    )
    assert path.read_bytes() == before
    assert fill_file(path).changed
    assert marks(tmp_path) == []


def test_keep_and_a_fill_of_the_office_do_not_overwrite_each_other(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    office, path = tmp_path / "office.xlsx", job(tmp_path)
    an_office(office)
    before = office.read_bytes()
    with at_work(office):
        assert main(["keep", str(path), "--office", str(office)]) == 2
    assert "another twodrum command is at work on it" in capsys.readouterr().err
    assert office.read_bytes() == before


def test_a_month_is_not_written_over_a_file_that_came_while_it_was_made(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    job(tmp_path)
    target = tmp_path / "month.xlsx"
    made = month.fill_book

    def slow(*given: object, **named: object) -> object:
        target.write_bytes(b"somebody else's")
        return made(*given, **named)

    monkeypatch.setattr(month, "fill_book", slow)
    with pytest.raises(PackageError, match="it exists already"):
        month.roll_up(tmp_path, target)
    assert target.read_bytes() == b"somebody else's"
    assert marks(tmp_path) == []


def test_a_file_that_was_saved_meanwhile_is_not_replaced(tmp_path: Path) -> None:
    path = tmp_path / "office.xlsx"
    path.write_bytes(b"saved meanwhile")
    with pytest.raises(PackageError, match="it was saved while this ran; nothing was written"):
        write_whole(path, b"new", b"what was read")
    assert path.read_bytes() == b"saved meanwhile"
    assert marks(tmp_path) == []


def test_what_a_killed_command_left_is_removed_and_told(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    path = job(tmp_path)
    code = (
        "import os, sys\nfrom pathlib import Path\n"
        "from twodrum.xlsx.files import at_work\n"
        "import twodrum.xlsx.files as files, tempfile\n"
        "with at_work(Path(sys.argv[1])):\n"
        "    tempfile.mkstemp(prefix=files.own_prefix(), suffix='.tmp', dir=sys.argv[2])\n"
        "    os._exit(9)\n"
    )
    env = {**os.environ, "PYTHONPATH": str(Path(twodrum.__file__).parents[1])}
    subprocess.run([sys.executable, "-c", code, path, tmp_path], env=env, check=False)
    assert len(marks(tmp_path)) == 2
    assert main(["fill", str(path)]) == 0
    assert "2 hidden files that a stopped command had left" in capsys.readouterr().out
    assert marks(tmp_path) == []


def test_a_pipe_a_folder_and_a_device_are_refused_at_once(tmp_path: Path) -> None:
    pipe, folder = tmp_path / "pipe.xlsx", tmp_path / "folder.xlsx"
    os.mkfifo(pipe)
    folder.mkdir()
    for path, reason in (
        (pipe, "it is no ordinary file; name a workbook"),
        (folder, "it is a folder; name a workbook in it"),
        (Path("/dev/null"), "it is no ordinary file; name a workbook"),
        (tmp_path / "none.xlsx", "there is no such file; check the name"),
    ):
        for done in (check_file(path), fill_file(path)):
            assert done.refused == f"{path}: {reason}"


@pytest.mark.parametrize("last", [MOST_ROWS + 7, 1_048_576, 2_000_000_000])
def test_a_table_that_reaches_too_far_is_refused_in_one_sentence(last: int, tmp_path: Path) -> None:
    path = job(tmp_path)
    book = Book.open(path)
    for name in book.package.names():
        data = book.package.read(name)
        if name.startswith("xl/tables/") and b'name="areas"' in data:
            far = re.sub(rb'ref="A6:([A-Z]+)\d+"', rb'ref="A6:\g<1>%d"' % last, data)
            book.package.replace(name, far)
    path.write_bytes(book.package.to_bytes())
    before = path.read_bytes()
    assert re.search(
        r"its table areas reaches over [\d,]+ rows and 5,000 are read at most; end it behind its "
        r"last row, or split the job; nothing was written$",
        fill_file(path).refused,
    )
    assert path.read_bytes() == before


def test_rows_without_live_formulas_are_told_as_one_thing(tmp_path: Path) -> None:
    path = small_job(tmp_path / "job.xlsx", (QUOTE, PROOF))
    book = Book.open(path)
    for name in book.package.names():
        data = book.package.read(name)
        if name.startswith("xl/tables/") and b'name="film"' in data:
            book.package.replace(name, re.sub(rb'ref="A6:N\d+"', b'ref="A6:N900"', data))
    path.write_bytes(book.package.to_bytes())
    told = [str(problem) for problem in check_file(path).problems]
    assert told == [
        "Film!A7: the rules of what may be typed were damaged or old at 6 inputs; put right",
        "Film!A207: rows 207 to 900 of the table film had no live formulas; they stand there",
    ]


def test_a_name_stretched_over_whole_columns_is_lost_and_not_walked(tmp_path: Path) -> None:
    path = job(tmp_path)
    package = Package.open(path)
    workbook = package.read("xl/workbook.xml")
    stretched = re.sub(
        rb'(name="(?:record_problems|job_in|areas_kept)">[^<!]*!)[^<]*',
        rb"\g<1>$A$1:$XFD$1048576",
        workbook,
    )
    assert stretched != workbook
    package.replace("xl/workbook.xml", stretched)
    path.write_bytes(package.to_bytes())
    assert fill_file(path).path == path


def test_a_sheet_with_more_cells_than_a_job_needs_is_refused(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    path = job(tmp_path)
    monkeypatch.setattr(book_module, "scan_sheet", split_module.scan_sheet)
    monkeypatch.setattr(scan_module, "MOST_CELLS", 100)
    assert "a sheet of it has more than 100 cells; move what is not of the job" in (
        fill_file(path).refused
    )


def repacked(path: Path, lie: int) -> bytes:
    """The same book with one more part that says another size of itself."""
    out = io.BytesIO()
    with zipfile.ZipFile(path) as old, zipfile.ZipFile(out, "w", zipfile.ZIP_DEFLATED) as new:
        for entry in old.infolist():
            new.writestr(entry.filename, old.read(entry))
        new.writestr("xl/media/large.bin", bytes(3_000_000))
    data = out.getvalue()
    size = (3_000_000).to_bytes(4, "little")
    return data.replace(size, lie.to_bytes(4, "little"))


def test_what_is_unpacked_is_counted_whatever_the_file_says_of_its_size(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    path = job(tmp_path)
    path.write_bytes(repacked(path, 3_000_000))
    monkeypatch.setattr(package_module, "MOST_UNPACKED", 2_500_000)
    assert "unpacked, is larger than 2 MB" in fill_file(path).refused
    monkeypatch.undo()
    monkeypatch.setattr(package_module, "MOST_PART", 2_000_000)
    assert "a part of it is larger than 1 MB, which no job needs" in fill_file(path).refused


def test_damage_in_a_part_that_is_only_copied_is_not_handed_on(tmp_path: Path) -> None:
    path = job(tmp_path)
    path.write_bytes(repacked(path, 3_000_000))
    data = bytearray(path.read_bytes())
    with zipfile.ZipFile(path) as book:
        entry = book.getinfo("xl/media/large.bin")
    middle = entry.header_offset + 30 + len(entry.filename) + entry.compress_size // 2
    data[middle] ^= 0xFF
    path.write_bytes(data)
    assert re.search(
        r"its part xl/media/large.bin is damaged \(.*\); restore it from a copy",
        fill_file(path).refused,
    )
    assert path.read_bytes() == bytes(data)


def test_a_month_holds_no_path_of_the_office(tmp_path: Path) -> None:
    folder = tmp_path / "november"
    folder.mkdir()
    job(folder)
    target = tmp_path / "month.xlsx"
    month.roll_up(folder, target)
    package = Package.open(target)
    for name in package.names():
        assert str(tmp_path).encode() not in package.read(name), name
    cell = Book.open(target).named("folder")
    assert cell is not None and cell.value == "november"
