"""Cells that the filler writes: lost names and headings are told, a refused one heals."""

import re
import subprocess
from pathlib import Path
from tempfile import TemporaryDirectory

import pytest

from tests import made
from tests.libreoffice.calc import require
from tests.workbook.day import day_cells, told
from tests.workbook.job_values import job_template
from tests.workbook.typing import address, typed
from twodrum.commands.fill import check_file, fill_file
from twodrum.xlsx.book import Book
from twodrum.xlsx.package import Package


def edited(path: Path, part: str, old: bytes, new: bytes) -> None:
    """Change the bytes of one part, as another program might leave them."""
    package = Package.open(path)
    data = package.read(part)
    assert old in data
    package.replace(part, data.replace(old, new, 1))
    path.write_bytes(package.to_bytes())


def filled_day() -> bytes:
    """A day at the machine, filled."""
    with TemporaryDirectory() as folder:
        path = typed(day_cells(), Path(folder) / "job.xlsx")
        assert fill_file(path).state == "OK"
        return path.read_bytes()


@pytest.fixture
def filled(tmp_path: Path) -> Path:
    path = tmp_path / "job.xlsx"
    path.write_bytes(made.found(filled_day))
    return path


@pytest.mark.parametrize(
    "name", ["iso_warm_up_time_si", "switch_on", "iso_gauge_si", "lining_volume", "overall_state"]
)
def test_a_lost_name_of_a_result_is_told(filled: Path, name: str) -> None:
    data = Package.open(filled).read("xl/workbook.xml")
    element = re.search(rb'<definedName name="%s"[^>]*>[^<]*' % name.encode(), data)
    assert element
    lost = re.sub(rb">[^<]*$", b">#REF!", element.group(0))
    edited(filled, "xl/workbook.xml", element.group(0), lost)
    checked = fill_file(filled)
    assert any(f"the name {name} is lost" in line for line in told(checked))
    assert checked.problem_count


def table_part(path: Path, name: str) -> str:
    package = Package.open(path)
    parts = [p for p in package.names() if p.startswith("xl/tables/")]
    return next(p for p in parts if f'displayName="{name}"'.encode() in package.read(p))


@pytest.mark.parametrize("heading", ["Verdict", "Since baseline SI", "In use", "Note"])
def test_a_lost_heading_of_a_result_is_told(filled: Path, heading: str) -> None:
    part = table_part(filled, "readings")
    edited(filled, part, f'name="{heading}"'.encode(), f'name="My {heading}"'.encode())
    checked = fill_file(filled)
    expected = f"Readings: the table readings has no column '{heading}'"
    assert any(line.startswith(expected) for line in told(checked))
    assert checked.state == "CHECK"


def test_a_lost_table_is_told(filled: Path) -> None:
    part = table_part(filled, "readings")
    edited(filled, part, b'displayName="readings"', b'displayName="mine"')
    edited(filled, part, b' name="readings"', b' name="mine"')
    checked = fill_file(filled)
    assert any("the table readings is lost" in line for line in told(checked))


def test_a_refused_result_heals_after_libreoffice_saved_the_book(tmp_path: Path) -> None:
    require()
    cells = day_cells({"resin_drum_target": "50 C"})
    path = typed(cells, tmp_path / "job.xlsx")
    assert fill_file(path).state == "CHECK"
    out = tmp_path / "saved"
    profile = f"-env:UserInstallation=file://{tmp_path / 'profile'}"
    command = ["soffice", profile, "--headless", "--convert-to", "xlsx", "--outdir", str(out)]
    subprocess.run([*command, str(path)], check=True, capture_output=True, timeout=120)
    where = address(job_template(), "resin_drum_target")
    healed = typed({where: 50}, tmp_path / "healed.xlsx", source=out / "job.xlsx")
    filled = fill_file(healed)
    assert told(filled) == []
    assert filled.state == "OK"
    cell = Book.open(healed).named("resin_warm_up_time_si")
    assert cell is not None
    assert (cell.kind, cell.value) == ("number", filled.values.names["resin_warm_up_time"].si)
    assert not check_file(healed).problem_count
