"""Writing into a workbook: only the cells asked for change, every other byte survives."""

import os
import re
import subprocess
import sys
import zipfile
from pathlib import Path
from typing import Any
from xml.etree import ElementTree

import openpyxl
import pytest

from tests.workbook.typing import small_job
from twodrum.commands import fill
from twodrum.commands.fill import fill_file
from twodrum.resources import resource
from twodrum.xlsx import files as files_module
from twodrum.xlsx.book import Book
from twodrum.xlsx.files import write_whole
from twodrum.xlsx.package import OLE, Package, PackageError
from twodrum.xlsx.write import Write, recalculate_on_load, write_cells

# Workbooks made by real Excel, where the checkout stands beside them; they are not ours to ship.
CORPUS = Path(os.environ.get("TWODRUM_CORPUS", Path(__file__).parents[3] / "shared" / "corpus"))
FILES = sorted(CORPUS.glob("*.xls[xm]")) if CORPUS.is_dir() else []
REFUSED = {
    "duplicate-filename.xlsx": "two of its parts have the same name",
    "ms-office-2010-signed.xlsx": "it is signed",
    "protected_passtika.xlsx": "it needs a password to open",
}
with_corpus = pytest.mark.skipif(not FILES, reason="no corpus of Excel-made workbooks here")


def parts(data: bytes) -> dict[str, bytes]:
    package = Package(data)
    return {name: package.read(name) for name in package.names()}


def spans(data: bytes) -> dict[str, bytes]:
    """Every zip entry with its header and data, as it stands in the file."""
    package = Package(data)
    entries = sorted(package._entries, key=lambda entry: entry.header_offset)
    ends = [entry.header_offset for entry in entries[1:]] + [package._zip.start_dir]
    return {
        entry.filename: data[entry.header_offset : end]
        for entry, end in zip(entries, ends, strict=True)
    }


@with_corpus
@pytest.mark.parametrize("path", [f for f in FILES if f.name not in REFUSED], ids=lambda p: p.name)
def test_writing_a_number_loses_nothing_of_an_excel_workbook(path: Path) -> None:
    book = Book.open(path)
    before = {
        sheet: {where: book.cell(sheet, *where) for where in book.scan(sheet).cells}
        for sheet in book.sheets
    }
    targets = {}
    for sheet in book.sheets:
        free = [
            where
            for where, raw in book.scan(sheet).cells.items()
            if raw.formula is None and not any(_inside(m, where) for m in book.scan(sheet).merges)
        ]
        for row, column in [*free[:2], *free[-2:], (3000, 300)]:
            targets[sheet, row, column] = Write(1234.5)
    assert not write_cells(book, targets)
    data = book.package.to_bytes()
    again = Book(Package(data))
    changed = {Package.normal(book.sheets[sheet]) for sheet in book.sheets}
    changed.add(Package.normal(book.workbook_part))
    old, new = spans(path.read_bytes()), spans(data)
    assert list(old) == list(new)
    for name, span in old.items():
        if Package.normal(name) not in changed:
            assert new[name] == span, name
    for sheet, cells in before.items():
        for where, cell in cells.items():
            expected = cell
            if (sheet, *where) in targets:
                place = (sheet, *where)
                written = ("number", 1234.5, False, cell.sheet_index, "", cell.style)
                expected = type(cell)(*place, *written)
            assert again.cell(sheet, *where) == expected
        assert again.cell(sheet, 3000, 300).value == 1234.5
    assert zipfile.ZipFile(_file(data)).testzip() is None


def _file(data: bytes) -> Any:
    from io import BytesIO

    return BytesIO(data)


def _inside(merge: tuple[int, int, int, int], where: tuple[int, int]) -> bool:
    return merge[0] <= where[0] <= merge[2] and merge[1] <= where[1] <= merge[3]


@with_corpus
@pytest.mark.parametrize("name", REFUSED)
def test_a_file_that_would_break_is_refused_with_its_reason(name: str) -> None:
    with pytest.raises(PackageError, match=REFUSED[name]):
        Book.open(CORPUS / name)


@with_corpus
@pytest.mark.parametrize(
    ("name", "reason"),
    [
        ("date.xls", "the old kind"),
        ("date.xlsb", "it is an .xlsb"),
        ("date.ods", "it is an OpenDocument file"),
    ],
)
def test_another_format_is_refused_with_the_mend(name: str, reason: str) -> None:
    with pytest.raises(PackageError, match=f"{reason}.*save it as .xlsx"):
        Package.open(CORPUS / name)


@pytest.mark.parametrize(
    ("data", "reason"),
    [
        (b"", "it is empty; restore it from a copy"),
        (
            b"Surface,Length\n",
            "it is plain text, such as .csv, under the name of",
        ),
        (b"<html><table><tr><td>1</td></tr></table></html>", "it is a web page under the name"),
        (b"%PDF-1.7\x00\x01\x02", "it is not an .xlsx workbook, or damaged"),
        (OLE + "Workbook".encode("utf-16-le"), "it is of the old kind, such as .xls; save it"),
        (OLE + "EncryptedPackage".encode("utf-16-le"), "it needs a password to open; save it"),
        (b"PK\x03\x04 and then nothing", "it is damaged"),
    ],
    ids=["empty", "a text file", "a page", "a pdf", "an old one", "a password", "a torn zip"],
)
def test_what_is_no_workbook_is_refused(data: bytes, reason: str, tmp_path: Path) -> None:
    path = tmp_path / "job.xlsx"
    path.write_bytes(data)
    filled = fill_file(path)
    assert filled.refused.startswith(f"{path}: {reason}")
    assert path.read_bytes() == data


def test_a_workbook_without_our_names_is_refused_and_left_alone(tmp_path: Path) -> None:
    import openpyxl

    path = tmp_path / "holiday.xlsx"
    openpyxl.Workbook().save(path)
    before = path.read_bytes()
    assert "it has none of the names of a twodrum job" in fill_file(path).refused
    assert path.read_bytes() == before


def job(tmp_path: Path) -> Path:
    return small_job(tmp_path / "job.xlsx")


def test_filling_changes_only_sheets_that_hold_our_cells(tmp_path: Path) -> None:
    path = job(tmp_path)
    before = parts(path.read_bytes())
    fill_file(path)
    after = parts(path.read_bytes())
    assert list(before) == list(after)
    book = Book.open(path)
    ours = {Package.normal(part) for part in book.sheets.values()}
    changed = {name for name in before if before[name] != after[name]}
    # Beside them only how much of our tables is printed, and that it was filled.
    assert changed - ours == {"xl/workbook.xml"}
    lists = [
        re.sub(rb"(Print_Area|filled_mark)[^<]*<", b"<", book["xl/workbook.xml"])
        for book in (before, after)
    ]
    assert lists[0] == lists[1]


def test_every_formula_has_a_cached_value_after_filling(tmp_path: Path) -> None:
    path = job(tmp_path)
    fill_file(path)
    book = Book.open(path)
    empty = [
        book.cell(sheet, *where).where
        for sheet in book.sheets
        for where in book.scan(sheet).cells
        if book.cell(sheet, *where).kind == "uncalculated"
    ]
    assert empty == []


def test_a_formula_in_a_cell_of_ours_is_told_and_kept(tmp_path: Path) -> None:
    path = job(tmp_path)
    book = Book.open(path)
    note = book.area("film_thickness_note")
    assert note is not None
    raw = book.scan("Job").cells[note.first_row, note.first_column]
    formula = b'<c r="E%d"><f>1+1</f><v>2</v></c>' % note.first_row
    data = book.scan("Job").data
    book.package.replace(book.sheets["Job"], data[: raw.start] + formula + data[raw.end :])
    path.write_bytes(book.package.to_bytes())
    filled = fill_file(path)
    assert [str(problem) for problem in filled.problems] == [
        "Job!E17: a formula stands in a cell that twodrum fills; the cell must be free; remove it"
    ]
    assert Book.open(path).cell("Job", note.first_row, note.first_column).formula


def test_a_merged_away_cell_is_told(tmp_path: Path) -> None:
    path = job(tmp_path)
    book = Book.open(path)
    data = book.scan("Job").data
    merge = b'</sheetData><mergeCells count="1"><mergeCell ref="D17:E17"/></mergeCells>'
    book.package.replace(book.sheets["Job"], data.replace(b"</sheetData>", merge, 1))
    path.write_bytes(book.package.to_bytes())
    told = [str(problem) for problem in fill_file(path).problems]
    assert told == ["Job!E17: the cell is merged away; it must be a cell of its own; unmerge it"]


@pytest.mark.parametrize(
    ("before", "after"),
    [
        (b'<calcPr calcId="1"/>', b'<calcPr calcId="1" fullCalcOnLoad="1"/>'),
        (b'<calcPr fullCalcOnLoad="0" />', b'<calcPr fullCalcOnLoad="1" />'),
        (
            b'<x:calcPr iterate="1"></x:calcPr>',
            b'<x:calcPr iterate="1" fullCalcOnLoad="1"></x:calcPr>',
        ),
        (
            b"<workbook><sheets></sheets></workbook>",
            b'<workbook><sheets></sheets><calcPr fullCalcOnLoad="1"/></workbook>',
        ),
        (
            b"<x:workbook><x:sheets></x:sheets><x:definedNames></x:definedNames></x:workbook>",
            b"<x:workbook><x:sheets></x:sheets><x:definedNames></x:definedNames>"
            b'<x:calcPr fullCalcOnLoad="1"/></x:workbook>',
        ),
    ],
)
def test_a_changed_book_asks_to_be_calculated_when_opened(before: bytes, after: bytes) -> None:
    assert recalculate_on_load(before) == after
    assert recalculate_on_load(after) == after


def test_a_book_open_elsewhere_is_left_alone(tmp_path: Path) -> None:
    path = job(tmp_path)
    before = path.read_bytes()
    for lock, program in (("~$job.xlsx", "Excel"), (".~lock.job.xlsx#", "LibreOffice")):
        (tmp_path / lock).touch()
        assert fill_file(path).refused == (
            f"{path}: it is open in {program}; close it there and try again"
        )
        (tmp_path / lock).unlink()
    assert path.read_bytes() == before


def test_a_read_only_book_is_left_alone(tmp_path: Path) -> None:
    path = job(tmp_path)
    before = path.read_bytes()
    path.chmod(0o444)
    assert fill_file(path).refused == (
        f"{path}: it is read-only; allow writing to it, or work on a copy, which fill --out makes"
    )
    assert path.read_bytes() == before


STEPS = ("mkstemp", "fdopen", "fsync", "chmod", "replace", "open")


class BrokenDiskError(OSError):
    """A disk that fails."""


@pytest.mark.parametrize("count", [1, 2])
@pytest.mark.parametrize("step", STEPS)
def test_a_disk_that_fails_at_any_step_leaves_a_whole_book(
    step: str, count: int, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    path = job(tmp_path)
    old = path.read_bytes()
    twin = small_job(tmp_path / "twin.xlsx", filled=True)
    new = twin.read_bytes()
    twin.unlink()
    home = files_module.tempfile if step == "mkstemp" else files_module.os
    original = getattr(home, step)
    calls = []

    def failing(*args: Any, **keywords: Any) -> Any:
        mine = step != "open" or args[0] == tmp_path
        calls.extend([step] * mine)
        if mine and len(calls) == count:
            raise BrokenDiskError(5, "Input/output error")
        return original(*args, **keywords)

    monkeypatch.setattr(home, step, failing)
    filled = fill_file(path)
    monkeypatch.undo()
    assert path.read_bytes() in (old, new)
    assert [file.name for file in tmp_path.iterdir()] == ["job.xlsx"]
    if len(calls) >= count:
        assert filled.refused == f"{path}: it cannot be written (Input/output error)"


def test_a_write_that_fails_halfway_leaves_the_old_book(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    path = job(tmp_path)
    old = path.read_bytes()
    real = files_module.os.fdopen

    class Torn:
        def __init__(self, file: Any) -> None:
            self.file = file

        def __enter__(self) -> "Torn":
            return self

        def __exit__(self, *_: object) -> None:
            self.file.close()

        def write(self, data: bytes) -> None:
            self.file.write(data[: len(data) // 2])
            raise BrokenDiskError(28, "No space left on device")

    monkeypatch.setattr(files_module.os, "fdopen", lambda *a: Torn(real(*a)))
    assert fill_file(path).refused == f"{path}: it cannot be written (No space left on device)"
    assert path.read_bytes() == old
    assert [file.name for file in tmp_path.iterdir()] == ["job.xlsx"]


KILLED = """
import os, sys, time
from pathlib import Path
from twodrum.commands import fill
step, path = sys.argv[1], Path(sys.argv[2])
original = getattr(os, step)
def waiting(*args, **keywords):
    if step == "replace" and len(sys.argv) > 3:
        original(*args, **keywords)
    print("here", flush=True)
    time.sleep(60)
setattr(os, step, waiting)
fill.fill_file(path)
"""


@pytest.mark.parametrize("step", [["fsync"], ["replace"], ["replace", "after"]])
def test_a_process_killed_while_writing_leaves_the_old_or_the_new_book(
    step: list[str], tmp_path: Path
) -> None:
    path = job(tmp_path)
    old = path.read_bytes()
    source = str(Path(fill.__file__).parents[2])
    process = subprocess.Popen(
        [sys.executable, "-c", KILLED, step[0], str(path), *step[1:]],
        stdout=subprocess.PIPE,
        env={**os.environ, "PYTHONPATH": source},
    )
    assert process.stdout is not None
    assert process.stdout.readline().strip() == b"here"
    process.kill()
    process.wait()
    process.stdout.close()
    now = path.read_bytes()
    if len(step) == 1:
        assert now == old
    else:
        assert now != old
        assert Book.open(path).named("problem_count").value == 0  # type: ignore[union-attr]
    left = fill_file(path)
    assert left.state == "OK"


def test_write_whole_keeps_the_permissions_of_the_file(tmp_path: Path) -> None:
    path = tmp_path / "job.xlsx"
    path.write_bytes(b"old")
    path.chmod(0o640)
    write_whole(path, b"new", b"old")
    assert path.read_bytes() == b"new"
    assert path.stat().st_mode & 0o777 == 0o640


def test_writing_through_a_link_keeps_the_link(tmp_path: Path) -> None:
    path, link = tmp_path / "job.xlsx", tmp_path / "link.xlsx"
    path.write_bytes(b"old")
    link.symlink_to(path)
    write_whole(link, b"new", b"old")
    assert link.is_symlink()
    assert path.read_bytes() == b"new"


def spoil(tmp_path: Path, sheet: str, old: bytes, new: bytes) -> Path:
    path = job(tmp_path)
    book = Book.open(path)
    data = book.scan(sheet).data
    assert old in data
    book.package.replace(book.sheets[sheet], data.replace(old, new, 1))
    path.write_bytes(book.package.to_bytes())
    return path


def all_parts_parse(path: Path) -> bool:
    found = parts(path.read_bytes())
    return all(ElementTree.fromstring(d) is not None for n, d in found.items() if n[-4:] == ".xml")


def test_a_row_inside_a_control_is_no_row_of_the_sheet(tmp_path: Path) -> None:
    control = (
        b'<controls><anchor><xdr:row xmlns:xdr="u">2</xdr:row></anchor></controls></worksheet>'
    )
    path = spoil(tmp_path, "Workings", b"</worksheet>", control)
    assert fill_file(path).state == "OK"
    assert control in Book.open(path).scan("Workings").data


@pytest.mark.parametrize(
    "text", ["_xFFFE_", "_xD83D__xDE00_", "_xD83D_", "\N{GRINNING FACE}", "_x0001_"]
)
def test_any_text_of_a_cell_is_kept_and_leaves_whole_parts(text: str, tmp_path: Path) -> None:
    path = job(tmp_path)
    book = Book.open(path)
    cell = book.scan("Job").cells[8, 2]
    made = f'<c r="B8" t="inlineStr"><is><t>{text}</t></is></c>'.encode()
    data = book.scan("Job").data
    book.package.replace(book.sheets["Job"], data[: cell.start] + made + data[cell.end :])
    path.write_bytes(book.package.to_bytes())
    assert fill_file(path).state == "OK"
    assert all_parts_parse(path)
    after = Book.open(path)
    kept = after.area("job_kept")
    assert kept is not None
    at = (kept.sheet, kept.first_row + 1, kept.first_column)
    assert after.cell(*at).value == after.cell("Job", 8, 2).value
    assert not fill_file(path).changed


def test_a_sheet_in_another_encoding_is_written_in_it(tmp_path: Path) -> None:
    path = job(tmp_path)
    book = Book.open(path)
    text = book.scan("Job").data.decode("utf-8")
    head = '<?xml version="1.0" encoding="us-ascii"?>'
    data = (head + text).encode("ascii", "xmlcharrefreplace")
    book.package.replace(book.sheets["Job"], data)
    path.write_bytes(book.package.to_bytes())
    fill_file(path)
    assert all_parts_parse(path)
    assert "°C" not in Book.open(path).scan("Job").data.decode("ascii")


def test_a_sheet_without_a_place_for_cells_is_refused(tmp_path: Path) -> None:
    path = job(tmp_path)
    book = Book.open(path)
    book.package.replace(book.sheets["Job"], b"<x/>")
    path.write_bytes(book.package.to_bytes())
    before = path.read_bytes()
    assert "has no place for cells" in fill_file(path).refused
    assert path.read_bytes() == before


@pytest.mark.parametrize("text", [b"1E+400", b"1_0", b"NaN", b"abc", b"1,5"])
def test_what_only_looks_like_a_number_is_refused_at_its_cell(text: bytes, tmp_path: Path) -> None:
    path = spoil(tmp_path, "Job", b"<v>4</v>", b"<v>" + text + b"</v>")
    told = [str(problem) for problem in fill_file(path).problems]
    assert len(told) == 1
    assert told[0].startswith(f"Job!B27: Output while spraying is the text '{text.decode()}'")
    assert all_parts_parse(path)


def test_a_name_of_ours_that_points_at_an_input_overwrites_nothing(tmp_path: Path) -> None:
    path = job(tmp_path)
    package = Package.open(path)
    workbook = package.read("xl/workbook.xml")
    moved = re.sub(rb'(name="note_count">)[^<]*', rb"\g<1>Job!$B$17", workbook)
    package.replace("xl/workbook.xml", moved)
    path.write_bytes(package.to_bytes())
    filled = fill_file(path)
    assert filled.state == "CHECK"
    told = [str(problem) for problem in filled.problems]
    assert len(told) == 1
    assert told[0].startswith("Job!B17: a name of twodrum points at this input")
    assert Book.open(path).cell("Job", 17, 2).value == 2


def test_an_order_with_its_keys_swapped_is_told_and_refuses_the_price(tmp_path: Path) -> None:
    path = spoil(tmp_path, "Order", b"<t>iso</t>", b"<t>top coat</t>")
    filled = fill_file(path)
    assert [str(problem).split(";")[0] for problem in filled.problems] == [
        "Order!A7: 'top coat' stands here"
    ]
    assert filled.values.names["total_price"].refused


def test_what_was_saved_while_a_fill_ran_is_not_overwritten(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    path = job(tmp_path)
    filled = fill.fill_book

    def slow(*given: Any, **named: Any) -> Any:
        done = filled(*given, **named)
        path.write_bytes(path.read_bytes() + b"")
        saved = Package.open(path)
        part = Book(saved).workbook_part
        saved.replace(part, saved.read(part) + b" ")
        path.write_bytes(saved.to_bytes())
        return done

    monkeypatch.setattr(fill, "fill_book", slow)
    refused = fill_file(path).refused
    assert refused == f"{path}: it was saved while this ran; nothing was written; run it again"
    assert Package.open(path).read("xl/workbook.xml").endswith(b" ")


def test_what_a_killed_write_left_is_removed_by_the_next_and_one_that_runs_is_not(
    tmp_path: Path,
) -> None:
    path = job(tmp_path)
    prefix = files_module.own_prefix()
    ended = subprocess.run(
        [sys.executable, "-c", "import os; print(os.getpid())"],
        capture_output=True,
        text=True,
        check=True,
    ).stdout.strip()
    machine = prefix.removesuffix(f"-{os.getpid()}-")
    left, running = (tmp_path / f"{machine}-{number}-abc.tmp" for number in (ended, os.getpid()))
    other = tmp_path / ".twodrum-00000000-1-abc.tmp"
    for file in (left, running, other):
        file.write_bytes(b"a customer's workbook")
    assert fill_file(path).changed
    assert not left.exists() and running.exists() and other.exists()


CHAIN = (
    b'<calcChain xmlns="http://schemas.openxmlformats.org/spreadsheetml/2006/main">'
    b'<c r="A1" i="1"/><c r="A2"/><c r="B7" i="2" l="1"/><c r="B8"/><c r="A3" i="1"/></calcChain>'
)


def test_a_formula_that_goes_leaves_the_chain_of_calculation(tmp_path: Path) -> None:
    book = openpyxl.Workbook()
    sheet = book.active
    sheet.title = "One"
    for row in (1, 2, 3):
        sheet[f"A{row}"] = "=1+1"
    other = book.create_sheet("Two")
    other["B7"], other["B8"] = "=2+2", "=3+3"
    path = tmp_path / "chained.xlsx"
    book.save(path)
    with zipfile.ZipFile(path) as old:
        entries = {name: old.read(name) for name in old.namelist()}
    relations = "xl/_rels/workbook.xml.rels"
    link = (
        b'<Relationship Id="rId99" Type="http://schemas.openxmlformats.org/officeDocument/2006/'
        b'relationships/calcChain" Target="calcChain.xml"/></Relationships>'
    )
    entries[relations] = entries[relations].replace(b"</Relationships>", link)
    entries["xl/calcChain.xml"] = CHAIN
    with zipfile.ZipFile(path, "w") as new:
        for name, data in entries.items():
            new.writestr(name, data)
    opened = Book.open(path)
    write_cells(opened, {("Two", 7, 2): Write(4, formula="2+2")})
    chain = opened.package.read("xl/calcChain.xml")
    assert b'r="B7"' not in chain
    assert b'<c r="B8" i="2"/>' in chain
    assert b'<c r="A1" i="1"/><c r="A2"/>' in chain and b'<c r="A3" i="1"/>' in chain


def test_no_line_of_a_chart_has_a_fill_and_none_at_once() -> None:
    for name in ("job", "office", "month", "functions"):
        opened = Package.open(resource("workbook_templates", f"{name}.xlsx"))
        for part in opened.names():
            if "charts/chart" in part:
                for line in re.findall(rb"<a:ln\b.*?</a:ln>", opened.read(part), re.DOTALL):
                    assert not (b"noFill" in line and b"solidFill" in line), part


AS_ROOT = pytest.mark.skipif(
    not hasattr(os, "geteuid") or os.geteuid() != 0, reason="only root gives files away"
)


@AS_ROOT
def test_owner_group_mode_and_attributes_are_kept(tmp_path: Path) -> None:
    path = job(tmp_path)
    os.chown(path, 1234, 2345)
    path.chmod(0o640)
    marked = True
    try:
        os.setxattr(path, "user.office", b"quote 7")
    except OSError:
        marked = False
    assert fill_file(path).changed
    state = path.stat()
    assert (state.st_uid, state.st_gid, state.st_mode & 0o777) == (1234, 2345, 0o640)
    assert not marked or os.getxattr(path, "user.office") == b"quote 7"


@AS_ROOT
def test_a_file_that_the_caller_may_not_write_is_left_though_its_folder_is_open(
    tmp_path: Path,
) -> None:
    path = job(tmp_path)
    path.chmod(0o644)
    before = path.read_bytes()
    code = (
        "import os, sys; from pathlib import Path; from twodrum.xlsx import files\n"
        "path = Path(sys.argv[1]); os.setgroups([]); os.setgid(65534); os.setuid(65534)\n"
        "try:\n    files.refuse_open_file(path)\n"
        "except files.PackageError as error:\n    print(error)"
    )
    for folder in (tmp_path, *tmp_path.parents):
        if str(folder).startswith("/tmp/"):
            folder.chmod(0o777)
    done = subprocess.run(
        [sys.executable, "-c", code, str(path)], capture_output=True, text=True, check=False
    )
    if "PermissionError" in done.stderr or "ModuleNotFoundError" in done.stderr:
        pytest.skip("another user can't reach this folder or this Python")
    assert done.stdout.strip() == (
        "it belongs to another user and may not be written; work on a copy, which fill --out makes"
    ), done.stderr
    assert path.read_bytes() == before


def test_a_second_name_of_a_file_is_told(tmp_path: Path) -> None:
    path = job(tmp_path)
    os.link(path, tmp_path / "second.xlsx")
    assert "it has a second name in the file system" in fill_file(path).refused
