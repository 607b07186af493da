"""A job from an office workbook: processing data and equipment by side and name; doubts told."""

from pathlib import Path
from typing import Any

import pytest

from tests.workbook.typing import typed
from twodrum.new import new_job, new_office, pick, template
from twodrum.workbook.book import Book
from twodrum.workbook.office import OFFICE
from twodrum.workbook.read import Inputs

SYSTEM = "Typical polyurea, 1:1"


@pytest.fixture
def office(tmp_path: Path) -> Path:
    path = tmp_path / "office.xlsx"
    new_office(path)
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
    assert taken.names["orifice_diameter"] == pytest.approx(0.00055)


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
    name = Inputs(OFFICE, template(OFFICE)).read().tables["machines"].rows[0]["machine"].si
    taken = pick(changed(office, {("machines", "machine", 1): name}), {})
    assert [problem.where for problem in taken.problems] == ["Machines!A8"]
