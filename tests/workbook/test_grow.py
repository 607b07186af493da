"""Rows typed below a table are taken in by the next fill; what is no row is told."""

import math
from decimal import Decimal
from pathlib import Path
from typing import Any

import pytest
from openpyxl import load_workbook
from openpyxl.workbook.defined_name import DefinedName
from openpyxl.worksheet.table import Table, TableColumn

from tests.libreoffice.calc import recalculate
from tests.workbook.recalculated import live_cells_that_change
from tests.workbook.test_open_xml import errors
from tests.workbook.typing import address, small_job
from twodrum.books.parts import DAY, PROOF, QUOTE
from twodrum.commands.fill import check_file, fill_file
from twodrum.commands.new import Typed, new_job, new_office
from twodrum.commands.remake import add
from twodrum.xlsx.book import Book
from twodrum.xlsx.scan import column_letters
from twodrum.xlsx.write import Write, write_cells

CAPACITY = 20


def below(path: Path, rows: dict[int, dict[str, Any]], table: str = "areas") -> Path:
    """Type rows of a table, counted from its first one, as plain cells."""
    book = Book.open(path)
    cells = {
        address(book, f"{table}.{name}", row): Write(value)
        for row, record in rows.items()
        for name, value in record.items()
    }
    assert not write_cells(book, cells)
    path.write_bytes(book.package.to_bytes())
    return path


def wall(number: int) -> dict[str, Any]:
    return {"surface": f"Wall {number}", "shape": "rectangle", "length": 3.0 + number, "width": 0.2}


def test_rows_below_the_table_are_taken_in_and_live(tmp_path: Path) -> None:
    job = small_job(tmp_path / "job.xlsx")
    # A blank row in the middle, and one between what was there and what was pasted.
    rows = {row: wall(row) for row in range(2, 50) if row not in (20, CAPACITY)}
    below(job, rows)
    area = 60 + 64 + sum((3 + row) * 0.2 for row in rows)
    told = check_file(job)
    assert told.values.names["measured_area_total"].si == pytest.approx(area)
    filled = fill_file(job)
    assert (filled.state, filled.problem_count) == ("OK", 0)
    assert [str(p) for p in filled.problems if p.code == "taken-in"] == [
        "Areas!A27: rows 27 to 56 stand below the table areas; counted with its rows; a fill "
        "takes them in"
    ]
    book = Book.open(job)
    assert book.tables["areas"].area.last_row == 56
    wrong, _ = live_cells_that_change(job)
    assert wrong == []
    assert errors(job) == []
    # Told once; then nothing is to do, and a change of a new row is seen.
    assert fill_file(job).problems == []
    assert not fill_file(job).changed
    sheet, row, column = address(book, "areas.length", 48)
    cases = [
        {"read": [["Start", "B2"], ["Cost", "B8"]]},
        {"set": [[sheet, f"D{row}", 100.0]], "read": [["Start", "B2"], ["Cost", "B8"]]},
    ]
    assert column == 4
    before, after = recalculate(job, cases)
    assert (before[0], after[0]) == ("OK", "STALE")
    assert after[1] - before[1] == pytest.approx(0.2 * (100 - 51))


def test_before_the_fill_the_state_says_that_rows_wait(tmp_path: Path) -> None:
    job = small_job(tmp_path / "job.xlsx", filled=True)
    read = [["Start", "B2"], ["Cost", "C2"]]
    waiting = [["Areas", "A28", "Wall"], ["Areas", "B28", "rectangle"]]
    before, after = recalculate(job, [{"read": read}, {"set": waiting, "read": read}])
    assert before == ["OK", ""]
    assert after == ["STALE", "Changed since the last fill: Areas"]


def test_a_row_that_was_taken_in_has_its_list_its_mark_and_its_lock(tmp_path: Path) -> None:
    job = below(small_job(tmp_path / "job.xlsx"), {CAPACITY: wall(1)})
    fill_file(job)
    sheet = load_workbook(job)["Areas"]
    assert sheet.tables["areas"].ref.endswith("27")
    for rules in (sheet.data_validations.dataValidation, sheet.conditional_formatting):
        ends = {str(rule.sqref).rsplit(":", 1)[-1] for rule in rules if "7:" in str(rule.sqref)}
        assert ends and all(end.lstrip("ABCDEFGHIJKLMNOPQRSTUVWXYZ") == "27" for end in ends)
    assert sheet["D27"].style == sheet["D26"].style == "td_input"
    assert sheet["T27"].value == sheet["T26"].value.replace("26", "27")
    assert sheet.print_area.endswith("27")


def test_what_is_no_row_stays_and_is_told(tmp_path: Path) -> None:
    job = small_job(tmp_path / "job.xlsx")
    below(job, {CAPACITY + 1: {"surface": "Sum of mine", "length": 12.0}})
    filled = fill_file(job)
    assert [str(problem) for problem in filled.problems] == [
        "Areas!A28: 'Sum of mine' stands below the table areas; only rows inside the table are "
        "read; type in the same row what each row needs (surface, shape), words as their "
        "lists have them, and fill takes it in"
    ]
    assert Book.open(job).tables["areas"].area.last_row == 26
    wrong, _ = live_cells_that_change(job)
    assert wrong == []
    # The table ends there: a row below it is told too, and above it is taken in.
    below(job, {CAPACITY: wall(1), CAPACITY + 2: wall(2)})
    told = [str(problem) for problem in fill_file(job).problems]
    assert any(text.startswith("Areas!A28: 2 rows down to row 29 stand below") for text in told)
    assert Book.open(job).tables["areas"].area.last_row == 27


def test_a_link_in_the_last_row_is_not_copied_down(tmp_path: Path) -> None:
    job = small_job(tmp_path / "job.xlsx")
    book = Book.open(job)
    last = address(book, "areas.length", CAPACITY - 1)
    cells = {last: Write(12.0, formula="D7", live=True)}
    write_cells(book, cells)
    job.write_bytes(book.package.to_bytes())
    below(job, {CAPACITY - 1: {k: v for k, v in wall(1).items() if k != "length"}})
    below(job, {CAPACITY: wall(2)})
    fill_file(job)
    book = Book.open(job)
    assert book.cell("Areas", 26, 4).formula_text == "D7"
    assert book.cell("Areas", 27, 4).value == 5.0


@pytest.mark.parametrize(
    ("table", "parts", "record"),
    [
        ("readings", (QUOTE, DAY), {"time": 0.4, "phase": "spraying", "iso_pressure": 150.0}),
        ("drums", (QUOTE, DAY), {"holds": "iso", "drum_number": 1.0}),
        ("film", (QUOTE, PROOF), {"film_surface": "Floor", "reading_1": 2.1}),
    ],
)
def test_every_table_that_people_type_grows(
    table: str, parts: tuple[str, ...], record: dict[str, Any], tmp_path: Path
) -> None:
    job = small_job(tmp_path / "job.xlsx", parts)
    capacity = Book.open(job).tables[table].area
    rows = capacity.last_row - capacity.first_row + 1
    below(job, {rows + 2: record}, table)
    filled = fill_file(job)
    assert not [p for p in filled.problems if p.code in ("below-table", "formula-gone", "lost")]
    assert len(filled.values.tables[table].rows) == 1
    assert Book.open(job).tables[table].area.last_row == capacity.last_row + 3


def test_a_long_table_goes_along_when_a_part_is_added(tmp_path: Path) -> None:
    job = below(small_job(tmp_path / "job.xlsx"), {row: wall(row) for row in range(2, 40)})
    price = fill_file(job).values.names["net_price"].si
    assert add(job, (PROOF,)).state == "OK"
    filled = check_file(job)
    assert (filled.problem_count, filled.values.names["net_price"].si) == (0, price)
    assert len(filled.values.tables["areas"].rows) == 40


def test_a_shelf_of_an_office_with_many_materials_stands_in_a_new_job(tmp_path: Path) -> None:
    office = tmp_path / "office.xlsx"
    rows = [{"material": f"Paint {n}", "component": "primer"} for n in range(25)]
    new_office(office, typed=Typed(rows={"materials": rows}))
    new_job(tmp_path / "job.xlsx", office, parts=(QUOTE,))
    shelf = Book.open(tmp_path / "job.xlsx").tables["shelf"].area
    assert shelf.last_row - shelf.first_row == 24
    told = check_file(tmp_path / "job.xlsx")
    assert [row["material"].si for row in told.values.tables["shelf"].rows][-1] == "Paint 24"
    assert not [p for p in told.problems if p.code in ("below-table", "put-back", "lost")]


@pytest.mark.parametrize("count", [300])
def test_three_hundred_surfaces_cost_what_a_script_says(count: int, tmp_path: Path) -> None:
    rows = {row: wall(row) for row in range(2, count)}
    job = below(small_job(tmp_path / "job.xlsx"), rows)
    filled = fill_file(job)
    assert filled.state == "OK"
    area = 60 + 64 + sum((3 + row) * 0.2 for row in rows)
    litres = area * 0.002 / 0.75
    # 200 L of the 205 L of a drum come out; both sides take half.
    sets = math.ceil(litres / 2 / 0.200)
    hours = litres / (0.004 / 60 * 0.5) / 3600 + 6
    assert filled.values.names["lining_volume"].si == pytest.approx(litres)
    assert filled.values.names["drum_sets"].si == sets
    assert filled.values.names["labour_cost"].si == Decimal(f"{hours * 3 * 40:.2f}")
    wrong, _ = live_cells_that_change(job)
    assert wrong == []


def test_nothing_of_theirs_below_is_written_over_or_swallowed(tmp_path: Path) -> None:
    job = small_job(tmp_path / "job.xlsx", filled=True)
    price = check_file(job).values.names["net_price"].si
    opened = load_workbook(job)
    sheet = opened["Areas"]
    # A sum of theirs in a row with a shape's name, a table of theirs, merged cells, a name.
    sheet["A28"], sheet["B28"], sheet["T28"] = "Sum", "rectangle", "=SUM(T7:T26)"
    sheet["A32"], sheet["B32"] = "Zone", "Colour"
    sheet["A33"], sheet["B33"], sheet["U33"] = "One", "grey", "=1+1"
    sheet.add_table(Table(displayName="mine", ref="A32:B33"))
    sheet.merge_cells("A40:F40")
    opened.defined_names["my_rows"] = DefinedName("my_rows", attr_text="Areas!$D$27:$D$28")
    opened.save(job)
    below(job, {CAPACITY: wall(1)})
    filled = fill_file(job)
    assert Book.open(job).tables["areas"].area.last_row == 27
    assert filled.values.names["net_price"].si > price
    sheet = load_workbook(job)["Areas"]
    assert sheet["T28"].value == "=SUM(T7:T26)" and sheet["U33"].value == "=1+1"
    assert sheet.tables["mine"].ref == "A32:B33"
    assert load_workbook(job).defined_names["my_rows"].attr_text == "Areas!$D$27:$D$28"
    assert any(p.code == "below-table" for p in filled.problems)


def test_what_was_typed_in_a_column_of_theirs_stays_in_a_row_that_is_taken_in(
    tmp_path: Path,
) -> None:
    job = small_job(tmp_path / "job.xlsx")
    last = Book.open(job).tables["areas"].area.last_column + 1
    own = column_letters(last)
    opened = load_workbook(job)
    sheet = opened["Areas"]
    table = sheet.tables["areas"]
    table.ref = f"A6:{own}26"
    table.autoFilter = None
    column = TableColumn(id=len(table.tableColumns) + 1, name="My price")
    table.tableColumns.append(column)
    sheet[f"{own}6"] = "My price"
    for row in range(7, 27):
        sheet[f"{own}{row}"] = f"=T{row}*12"
    opened.save(job)
    below(job, {CAPACITY: wall(1), CAPACITY + 1: wall(2)})
    book = Book.open(job)
    assert not write_cells(book, {("Areas", 27, last): Write("agreed by phone")})
    job.write_bytes(book.package.to_bytes())
    fill_file(job)
    sheet = load_workbook(job)["Areas"]
    assert (sheet[f"{own}27"].value, sheet[f"{own}28"].value) == ("agreed by phone", "=T28*12")


def test_a_row_far_below_is_taken_in_too(tmp_path: Path) -> None:
    job = below(small_job(tmp_path / "job.xlsx"), {400: wall(1)})
    assert fill_file(job).state == "OK"
    assert Book.open(job).tables["areas"].area.last_row == 407
