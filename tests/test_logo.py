"""The logo of the office on what is sent, and pictures of theirs on our sheets."""

import struct
import subprocess
import zlib
from pathlib import Path

import pytest
from openpyxl import Workbook

from tests.libreoffice import calc
from tests.office import an_office
from tests.test_parts import older
from tests.workbook.test_issue import made, today
from tests.workbook.typing import small_job
from twodrum.books.office import OFFICE
from twodrum.books.parts import DAY, QUOTE, WHAT_IFS
from twodrum.cli import main
from twodrum.commands.fill import fill_file
from twodrum.commands.new import new_job
from twodrum.commands.remake import add, remove, upgrade
from twodrum.xlsx.book import Book
from twodrum.xlsx.package import Package, PackageError
from twodrum.xlsx.pictures import Picture, pictures_on, put_pictures

PIXEL = 9525
LETTERS = ("Quote", "Change order")


def png(wide: int, high: int, shade: int = 120) -> bytes:
    """An image of one colour."""

    def chunk(kind: bytes, data: bytes) -> bytes:
        check = zlib.crc32(kind + data)
        return struct.pack(">I", len(data)) + kind + data + struct.pack(">I", check)

    head = struct.pack(">IIBBBBB", wide, high, 8, 0, 0, 0, 0)
    rows = zlib.compress(b"".join(b"\0" + bytes([shade]) * wide for _ in range(high)))
    return b"\x89PNG\r\n\x1a\n" + chunk(b"IHDR", head) + chunk(b"IDAT", rows) + chunk(b"IEND", b"")


def picture(row: int, column: int, wide: int = 300, high: int = 120, shade: int = 120) -> Picture:
    return Picture(
        png(wide, high, shade), ".png", row, column, wide * PIXEL, high * PIXEL, 0, 0, "A <picture>"
    )


def with_pictures(path: Path, title: str, *pictures: Picture) -> Path:
    book = Book.open(path)
    put_pictures(book, title, pictures)
    path.write_bytes(book.package.to_bytes())
    return path


def saved_by_libreoffice(path: Path, folder: Path) -> Path:
    calc.require()
    profile = f"-env:UserInstallation=file://{folder / 'profile'}"
    kind = "xlsx:Calc MS Excel 2007 XML"
    command = ["soffice", profile, "--headless", "--convert-to", kind, "--outdir", str(folder)]
    subprocess.run([*command, str(path)], check=True, capture_output=True, timeout=300)
    return folder / path.name


def office_with_logo(folder: Path) -> Path:
    return with_pictures(an_office(folder / "office.xlsx"), "Rates", picture(12, 2))


def test_a_picture_on_rates_heads_each_letter_of_a_new_job_no_larger_than_its_room(
    tmp_path: Path,
) -> None:
    office = office_with_logo(tmp_path)
    again = saved_by_libreoffice(office, tmp_path / "saved")
    for number, source in enumerate((office, again)):
        job = tmp_path / f"{number}.xlsx"
        new_job(job, source, parts=(QUOTE,))
        book = Book.open(job)
        for title in LETTERS:
            (logo,) = pictures_on(book, title)
            assert logo.image == png(300, 120) and (logo.row, logo.column) == (5, 3)
            # As wide as the two columns of amounts, and not distorted.
            assert logo.wide == 213 * PIXEL
            assert logo.wide / logo.high == pytest.approx(300 / 120, rel=1e-3)
        # One image for both.
        assert sum("/media/" in name for name in book.package.names()) == 1


def test_a_small_logo_stays_as_small_and_ends_where_the_amounts_end(tmp_path: Path) -> None:
    small = picture(30, 4, 80, 40)
    office = with_pictures(an_office(tmp_path / "office.xlsx"), "Rates", small)
    new_job(tmp_path / "job.xlsx", office, parts=(QUOTE,))
    (logo,) = pictures_on(Book.open(tmp_path / "job.xlsx"), "Quote")
    assert (logo.wide, logo.high) == (80 * PIXEL, 40 * PIXEL)
    assert logo.right + logo.wide == 213 * PIXEL


def test_pictures_go_along_when_a_job_grows_and_when_it_is_caught_up_with(tmp_path: Path) -> None:
    job = small_job(tmp_path / "tank.xlsx", (QUOTE, WHAT_IFS))
    with_pictures(job, "Quote", picture(5, 3))
    # A sketch beside the second surface; a new version may put that row elsewhere.
    with_pictures(job, "Areas", picture(8, 22, 60, 60, 7))
    with_pictures(job, "Film and loss", picture(40, 6, 50, 20, 9))
    assert add(job, (DAY,)).changed
    for _ in range(2):
        book = Book.open(job)
        (logo,) = pictures_on(book, "Quote")
        assert logo.image == png(300, 120) and (logo.row, logo.column) == (5, 3)
        (sketch,) = pictures_on(book, "Areas")
        assert (sketch.image, sketch.row, sketch.column) == (png(60, 60, 7), 8, 22)
        assert (sketch.wide, sketch.words) == (60 * PIXEL, "A <picture>")
        # Beside charts of ours, which stay.
        (other,) = pictures_on(book, "Film and loss")
        assert other.image == png(50, 20, 9)
        kinds = [kind.rpartition("/")[2] for kind, _ in book.relations(drawing(book)).values()]
        assert sorted(kinds) == ["chart", "chart", "image"]
        older(job, "0.12.0")
        assert upgrade(job).changed
    assert fill_file(job).state == "OK"


def drawing(book: Book) -> str:
    found = book.relations(book.sheets["Film and loss"]).values()
    return next(part for kind, part in found if kind.endswith("/drawing"))


def test_the_logo_goes_into_a_workbook_of_others_and_out_again(tmp_path: Path) -> None:
    office = office_with_logo(tmp_path)
    theirs = tmp_path / "theirs.xlsx"
    Workbook().save(theirs)
    before = theirs.read_bytes()
    assert main(["add", str(theirs), "quote", "--office", str(office)]) == 0
    (logo,) = pictures_on(Book.open(theirs), "Quote")
    assert logo.image == png(300, 120)
    older(theirs, "0.12.0")
    upgrade(theirs)
    assert [one.image for one in pictures_on(Book.open(theirs), "Quote")] == [png(300, 120)]
    remove(theirs, (QUOTE,))
    one, other = Package(before), Package.open(theirs)
    assert {name: other.read(name) for name in other.names()} == {
        name: one.read(name) for name in one.names()
    }


def test_a_copied_job_takes_the_logo_along_and_no_other_picture(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    job = small_job(tmp_path / "tank.xlsx")
    with_pictures(with_pictures(job, "Quote", picture(5, 3)), "Areas", picture(8, 22))
    assert main(["new", str(tmp_path / "next.xlsx"), "--from", str(job)]) == 0
    assert "areas measured after the job, pictures on Areas" in capsys.readouterr().out
    book = Book.open(tmp_path / "next.xlsx")
    assert len(pictures_on(book, "Quote")) == 1 and not pictures_on(book, "Areas")
    # The office that is named has one of its own.
    office = with_pictures(an_office(tmp_path / "office.xlsx"), "Rates", picture(30, 4, 90, 30, 3))
    with_pictures(office, "Rates", picture(40, 4, 8, 8, 5))
    given = [str(tmp_path / "third.xlsx"), "--from", str(job), "--office", str(office)]
    assert main(["new", *given, "--with", "day"]) == 0
    (logo,) = pictures_on(Book.open(tmp_path / "third.xlsx"), "Quote")
    assert logo.image == png(90, 30, 3)


def test_pictures_on_sheets_that_go_are_told(tmp_path: Path) -> None:
    job = tmp_path / "tank.xlsx"
    new_job(job, parts=(QUOTE, DAY))
    with_pictures(job, "Readings", picture(30, 4))
    made_now = remove(job, (DAY,))
    assert "pictures left in the copy: those on Readings" in made_now.notes


def test_a_picture_in_a_shape_is_refused_and_not_lost(tmp_path: Path) -> None:
    job = with_pictures(small_job(tmp_path / "tank.xlsx"), "Areas", picture(8, 22))
    book = Book.open(job)
    found = book.relations(book.sheets["Areas"]).values()
    part = next(part for kind, part in found if kind.endswith("/drawing"))
    data = book.package.read(part).replace(b"x:pic>", b"x:sp>").replace(b"d:blip ", b"d:fill ")
    book.package.replace(part, data)
    job.write_bytes(book.package.to_bytes())
    before = job.read_bytes()
    with pytest.raises(PackageError, match="its sheet Areas has pictures"):
        add(job, (DAY,))
    assert job.read_bytes() == before


def test_the_printed_quote_shows_the_logo(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    calc.require()
    job = with_pictures(made(tmp_path / "tank.xlsx", quote_date=today()), "Quote", picture(5, 3))
    assert main(["issue", str(job)]) == 0, capsys.readouterr()
    pdf = str(tmp_path / "tank revision 1.pdf")
    listed = subprocess.run(["pdfimages", "-list", pdf], check=True, capture_output=True, text=True)
    assert " 300   120 " in listed.stdout


def test_the_office_says_where_the_logo_goes() -> None:
    assert any("logo" in purpose for sheet, purpose in OFFICE.sheets if sheet == "Rates")
