"""A job from an office workbook: processing data, equipment by side and name; what is doubtful "
"told."""

from pathlib import Path
from typing import Any

import openpyxl
import pytest

from tests.office import MACHINE, SYSTEM, an_office
from tests.workbook.typing import typed
from twodrum.books.office import OFFICE
from twodrum.commands.fill import check_file, fill_file
from twodrum.commands.new import PickError, new_job, pick
from twodrum.xlsx.book import Book


@pytest.fixture
def office(tmp_path: Path) -> Path:
    path = tmp_path / "office.xlsx"
    an_office(path)
    return path


def changed(office: Path, cells: dict[tuple[str, str, int], Any]) -> Path:
    """The office with some cells typed otherwise: (table, column, row)."""
    book = Book.open(office)
    places = {}
    for (table, column, row), value in cells.items():
        read = book.tables[table]
        label = OFFICE.column_item(table, column).label
        places[read.area.sheet, read.area.first_row + row, read.columns[label]] = value
    return typed(places, office.with_name("changed.xlsx"), OFFICE, office)


def test_processing_data_comes_to_its_side_and_equipment_by_the_machine(
    office: Path, tmp_path: Path
) -> None:
    taken = new_job(tmp_path / "job.xlsx", office)
    assert taken.problems == []
    assert taken.names["iso_viscosity_1"] == pytest.approx(0.8)
    assert taken.names["resin_viscosity_1"] == pytest.approx(0.6)
    assert taken.names["iso_heater_power"] == pytest.approx(6000)
    assert taken.names["port_diameter"] == pytest.approx(0.00055)


def test_one_side_twice_is_told(office: Path) -> None:
    taken = pick(changed(office, {("processing", "component", 1): "iso"}), {})
    assert [str(problem) for problem in taken.problems] == [
        "Processing!B8: Side is 'iso' a second time; each may stand in one row only; the first is "
        "in Processing!B7"
    ]


def test_a_system_that_processing_does_not_know_is_told(office: Path) -> None:
    cells = {("processing", "system", row): "Another" for row in (0, 1)}
    taken = pick(changed(office, cells), {})
    assert [str(problem) for problem in taken.problems] == [
        f"Materials!A7: Processing has no row for the system '{SYSTEM}'; its temperatures, "
        "pressures and viscosities are left blank"
    ]
    assert "iso_viscosity_1" not in taken.names


def test_a_system_is_the_same_whatever_its_case(office: Path) -> None:
    cells = {("processing", "system", row): SYSTEM.upper() for row in (0, 1)}
    assert pick(changed(office, cells), {}).names["resin_viscosity_1"] == pytest.approx(0.6)


def test_two_machines_of_one_name_are_told(office: Path) -> None:
    name = MACHINE
    taken = pick(changed(office, {("machines", "machine", 1): name}), {})
    assert [problem.where for problem in taken.problems] == ["Machines!A8"]


def test_another_name_is_told_what_still_came_with_the_old_one(
    office: Path, tmp_path: Path
) -> None:
    job = tmp_path / "job.xlsx"
    new_job(job, office)
    assert not [p for p in check_file(job).problems if "is picked" in p.text]
    book = openpyxl.load_workbook(job)
    columns = Book.open(job).tables["materials"].columns
    book["Job"]["B15"].value = "Machine 9"
    book["Materials"].cell(7, columns["Material"]).value = "Iso 9"
    book["Job"]["B31"].value = 5
    book.save(job)
    told = [str(p) for p in check_file(job).problems if "is picked" in p.text]
    assert len(told) == 2
    machine, material = sorted(told)
    assert machine.startswith(
        "Job!B15: 'Machine 9' is picked, and these still stand as they came with 'Machine A "
        "(invented)': "
    )
    # Output was typed anew for the new machine, the heater was not.
    assert "Iso heater" in machine and "Output while spraying" not in machine
    assert machine.endswith("type those of 'Machine 9'")
    assert "came with 'Lining A iso (invented)': Iso specific heat, Iso drum from" in material
    # All of it stands on Record, with where it came from.
    area = Book.open(job).area("record_brought")
    assert area is not None


def test_a_converted_number_is_kept_whole_and_shown_short(office: Path, tmp_path: Path) -> None:
    job = tmp_path / "job.xlsx"
    new_job(job, office, system="us")
    book = Book.open(job)
    cell = book.named("pump_output")
    assert cell is not None
    # 4 L/min; the factor by NIST SP 811: 1 US gal is 3.785411784 L exactly.
    assert cell.value == pytest.approx(4 / 3.785411784, rel=1e-12)
    look = book.look(cell)
    assert (look.code, look.locked) == ("0.000", False)
    short = book.named("crew_size")
    assert short is not None and book.look(short).code == "General;-General"
    # A fill leaves it so.
    fill_file(job)
    again = Book.open(job)
    kept = again.named("pump_output")
    assert kept is not None and again.look(kept).code == "0.000"


def second_system(office: Path) -> Path:
    """The office with the products of another system below its own."""
    book = Book.open(office)
    materials = book.tables["materials"]
    used = [row for row in range(40) if office_cell(book, "system", row) == SYSTEM]
    cells: dict[tuple[str, str, int], Any] = {}
    for place, (component, price) in enumerate((("iso", 12), ("resin", 14), ("primer", 22))):
        row = len(used) + place
        cells |= {
            ("materials", "system", row): "Harder floor",
            ("materials", "component", row): component,
            ("materials", "material", row): f"Other {component}",
            ("materials", "ratio_part", row): None if component == "primer" else 1,
            ("materials", "coat_film", row): 90 if component == "primer" else None,
            ("materials", "volume_solids", row): 100,
            ("materials", "drum_volume", row): 200,
            ("materials", "residue", row): 5,
            ("materials", "volume_price", row): price,
            ("materials", "recoat_from", row): place + 2,
        }
    assert materials.area.last_row >= materials.area.first_row + len(used) + 2
    processing = book.tables["processing"]
    label = OFFICE.column_item("processing", "system").label
    column = processing.columns[label]
    free = next(
        row
        for row in range(40)
        if book.is_blank(processing.area.sheet, processing.area.first_row + row, column)
    )
    for place, side in enumerate(("iso", "resin")):
        cells |= {
            ("processing", "system", free + place): "Harder floor",
            ("processing", "component", free + place): side,
            ("processing", "heat_limit", free + place): 71 + place,
        }
    return changed(office, cells)


def office_cell(book: Book, column: str, row: int) -> Any:
    read = book.tables["materials"]
    label = OFFICE.column_item("materials", column).label
    return book.cell(read.area.sheet, read.area.first_row + row, read.columns[label]).value


def test_a_second_system_of_the_office_stands_beside_the_first(
    office: Path, tmp_path: Path
) -> None:
    job = tmp_path / "job.xlsx"
    picks = {"system": SYSTEM, "second": "harder floor"}
    taken = new_job(job, second_system(office), picks)
    assert taken.problems == []
    rows = {row["component"]: row for row in taken.rows["materials"]}
    assert rows["second iso"]["material"] == "Other iso"
    assert rows["second primer"]["volume_price"] == pytest.approx(22_000)
    names = check_file(job).values.names
    assert names["system_2_words"].si == "Harder floor"
    assert names["system_2_lining"].si == "second iso and resin"
    assert names["system_2_primer"].si == "second primer"
    # What its data sheets say is that of the second iso and resin.
    limits = [names[f"second_{side}_heat_limit"].si for side in ("iso", "resin")]
    assert limits == pytest.approx([344.15, 345.15])
    assert names["iso_heat_limit"].si != names["second_iso_heat_limit"].si
    # The window of a lining stands in the row of its iso; resin has none.
    windows = [names[f"second_{coat}_recoat_from"].si for coat in ("lining", "primer")]
    assert windows == pytest.approx([2 * 3600, 4 * 3600])
    assert names["lining_recoat_from"].si is None


def test_a_second_system_that_the_office_does_not_have_is_told(office: Path) -> None:
    with pytest.raises(PickError, match="the office workbook has no system 'Roof'"):
        pick(second_system(office), {"system": SYSTEM, "second": "Roof"})
