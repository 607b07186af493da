"""From Python: plain data in and out, the same as the commands give."""

import json
import os
import subprocess
import sys
from pathlib import Path

import pytest

import twodrum
from tests.office import MACHINE, an_office
from tests.workbook.typing import address, small_job
from twodrum.xlsx.book import Book
from twodrum.xlsx.write import Write, write_cells


def test_the_names_are_functions_whatever_was_imported() -> None:
    import twodrum.commands.fill
    import twodrum.commands.month
    import twodrum.commands.new

    assert all(callable(getattr(twodrum, name)) for name in twodrum.__all__)


def test_functions_are_those_that_call_knows() -> None:
    names = twodrum.functions()
    assert len(names) == len(set(names)) > 100
    # WMO-No. 8: saturated air has its own temperature as dew point.
    assert twodrum.call("TD_DEW_POINT", 20, 1) == pytest.approx(20, abs=1e-6)
    assert "TD_DEW_POINT" in names


def test_a_job_is_made_checked_and_filled(tmp_path: Path) -> None:
    office, made = tmp_path / "office.xlsx", tmp_path / "made.xlsx"
    an_office(office)
    told = twodrum.new(str(made), str(office), machine=MACHINE)
    assert told["file"] == str(made) and told["problems"] == []
    with pytest.raises(ValueError, match="exists already"):
        twodrum.new(str(made), str(office))
    with pytest.raises(TypeError, match="not colour"):
        twodrum.new(str(made), str(office), colour="blue")
    with pytest.raises(ValueError, match="parts are of quote, what-ifs, day"):
        twodrum.new(str(tmp_path / "night.xlsx"), parts=("night",))
    twodrum.new(str(tmp_path / "day.xlsx"), parts=("day",))
    assert "power_drawn" in twodrum.check(str(tmp_path / "day.xlsx"))["results"]
    assert "power_drawn" not in twodrum.check(str(made))["results"]
    job = small_job(tmp_path / "job.xlsx")
    before = job.read_bytes()
    checked = twodrum.check(str(job))
    assert job.read_bytes() == before
    assert checked["refused"] == "" and checked["results"]["net_price"]["value"] > 0
    filled = twodrum.fill(str(job))
    assert filled["changed"] and filled["results"] == checked["results"]
    assert not twodrum.fill(str(job))["changed"]
    assert json.loads(json.dumps(filled)) == filled


def test_an_option_becomes_the_job(tmp_path: Path) -> None:
    job = small_job(tmp_path / "job.xlsx", ("quote", "what-ifs"))
    assert "it has no option 1; it has none" in twodrum.choose(str(job), "1")["refused"]
    book = Book.open(job)
    typed = {"options.option": "option 1", "options.option_film": 3}
    write_cells(book, {address(book, key): Write(value) for key, value in typed.items()})
    job.write_bytes(book.package.to_bytes())
    told = twodrum.check(str(job))["tables"]["options"][0]["option_price"]["value"]
    chosen = twodrum.choose(str(job), "option 1")
    assert chosen["said"].startswith("option 1 is the job now")
    assert chosen["results"]["net_price"]["value"] == told
    assert twodrum.check(str(job))["results"]["net_price"]["value"] == told


def test_a_file_that_cant_be_read_is_refused_with_its_reason(tmp_path: Path) -> None:
    path = tmp_path / "job.xlsx"
    path.write_text("no workbook")
    assert "job.xlsx" in twodrum.check(str(path))["file"]
    assert twodrum.check(str(path))["refused"]


def test_a_month_is_rolled_up(tmp_path: Path) -> None:
    small_job(tmp_path / "job.xlsx")
    rolled = twodrum.month(str(tmp_path))
    assert (tmp_path / "month.xlsx").exists()
    assert [row["file"] for row in rolled["tables"]["jobs"]] == ["job.xlsx"]
    with pytest.raises(ValueError, match="is not a folder"):
        twodrum.month(str(tmp_path / "none"))


def test_the_example_for_python_prints_what_the_functions_and_the_job_say() -> None:
    root = Path(__file__).resolve().parents[1]
    done = subprocess.run(
        [sys.executable, str(root / "demo" / "from_python.py")],
        env={**os.environ, "PYTHONPATH": str(root / "src")},
        capture_output=True,
        text=True,
        check=True,
        timeout=300,
    )
    lines = done.stdout.splitlines()
    # psychrometric tables: 20 °C and 70 % have a dew point of 14.4 °C.
    assert lines[0] == "Dew point of air at 68 °F and 70 %: 14.4 °C"
    assert [line.split()[0] for line in lines[1:4]] == ["08:00", "12:00", "16:00"]
    assert lines[-1].split()[:2] == ["net_price", "30350.21"]
