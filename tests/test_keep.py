"""What a job learned of its machine, kept in the office and taken into the next job."""

from pathlib import Path
from typing import Any

import pytest

from tests.core.test_warm_up_fit import READ
from tests.office import MACHINE, an_office
from tests.studies.test_learn import NAMES, log
from tests.workbook.day import day_cells
from tests.workbook.typing import typed
from twodrum.books.office import OFFICE
from twodrum.cli import main
from twodrum.commands.fill import check_file
from twodrum.commands.keep import keep
from twodrum.commands.new import new_job, pick
from twodrum.workbook.read import Inputs
from twodrum.xlsx.book import Book
from twodrum.xlsx.package import PackageError

DAY: dict[str, Any] = {**NAMES, "machine_name": MACHINE, "work_date": 46350}


def job(folder: Path, name: str = "job.xlsx", shift: float = 0.0, **names: Any) -> Path:
    warm = [temperature + shift * index for index, temperature in enumerate(READ)]
    return typed(day_cells({**DAY, **names}, log(warm)), folder / name)


@pytest.fixture
def office(tmp_path: Path) -> Path:
    path = tmp_path / "office.xlsx"
    an_office(path)
    return path


def learned(office: Path) -> list[dict[str, Any]]:
    rows = Inputs(OFFICE, Book.open(office)).read().tables["learned"].rows
    return [{name: value.si for name, value in row.items()} for row in rows]


def test_a_warm_up_is_kept_once(office: Path, tmp_path: Path) -> None:
    path = job(tmp_path)
    before = path.read_bytes()
    assert keep([path], office).added == 1
    row = learned(office)[0]
    values = check_file(path).values.names
    assert (row["learned_machine"], row["learned_side"]) == (MACHINE, "iso")
    assert row["learned_on"] == 46350
    assert row["power"] == pytest.approx(values["iso_learned_power"].si, rel=1e-9)
    assert row["heat_loss_high"] == pytest.approx(values["iso_learned_loss_high"].si, rel=1e-9)
    kept = office.read_bytes()
    again = keep([path, path], office)
    assert again.added == 0
    assert again.lines[0] == f"{path}: iso is kept already, see Learned!A7"
    other = keep([job(tmp_path, "other.xlsx", 0.5)], office)
    assert other.lines[0].endswith(
        "iso is not kept, Learned!A7 says another power of that day: delete that row"
    )
    assert office.read_bytes() == kept
    assert path.read_bytes() == before


def test_a_new_job_starts_from_what_was_learned(office: Path, tmp_path: Path) -> None:
    keep([job(tmp_path)], office)
    power = learned(office)[0]["power"]
    taken = pick(office, {})
    # Rated 6 kW; the loss of a log of heating alone says too little to be taken.
    assert taken.names["heating_efficiency"] == pytest.approx(power / 6000)
    assert "drum_heat_loss" not in taken.names
    assert "power learned from 1 of 1 drums that were warmed" in taken.picked


def test_several_warm_ups_count_by_their_intervals(office: Path, tmp_path: Path) -> None:
    jobs = [job(tmp_path, "one.xlsx"), job(tmp_path, "two.xlsx", 0.05, work_date=46351)]
    assert keep(jobs, office).added == 2
    one, two = learned(office)
    halves = [(row["power_high"] - row["power_low"]) / 2 for row in (one, two)]
    weights = [half**-2 for half in halves]
    mean = (one["power"] * weights[0] + two["power"] * weights[1]) / sum(weights)
    assert pick(office, {}).names["heating_efficiency"] == pytest.approx(mean / 6000)


@pytest.mark.parametrize(
    ("names", "words"),
    [
        ({"machine_name": None}, "nothing is kept; type Machine at Job!B15"),
        ({"work_date": None}, "nothing is kept; type Day of the readings at Job!B101"),
        ({"materials.density@0": None}, "nothing was learned; Warm-up says why"),
    ],
)
def test_a_job_that_says_too_little_is_named(
    names: dict[str, Any], words: str, office: Path, tmp_path: Path
) -> None:
    before = office.read_bytes()
    kept = keep([job(tmp_path, **names)], office)
    assert kept.added == 0
    assert kept.lines[0].endswith(words)
    assert office.read_bytes() == before


def test_keep_wants_an_office(tmp_path: Path) -> None:
    path = job(tmp_path)
    with pytest.raises(PackageError, match="is not an office workbook"):
        keep([path], path)


def test_the_command_says_what_it_did(
    office: Path, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    path = job(tmp_path)
    assert main(["keep", str(path), "--office", str(office)]) == 0
    said = capsys.readouterr().out.splitlines()
    assert said == [
        f"{path}: iso kept",
        f"{office}: 1 rows added to Learned",
    ]
    assert main(["keep", str(tmp_path / "none.xlsx"), "--office", str(office)]) == 2


def test_the_materials_of_the_office_stand_on_the_shelf(office: Path, tmp_path: Path) -> None:
    target = tmp_path / "tank.xlsx"
    new_job(target, office)
    rows = check_file(target).values.tables["shelf"].rows
    assert [row["material"].si for row in rows] == [
        "Lining A iso (invented)",
        "Lining A resin (invented)",
    ]
    assert rows[0]["density"].si == pytest.approx(1110)


def test_another_name_with_the_old_numbers_is_told(office: Path, tmp_path: Path) -> None:
    cells = day_cells({"materials.material@0": "Iso 9"})
    shelf = {"material": "iso 9", "density": 1050, "residue": 5, "spray_low": 55}
    cells |= day_cells({f"shelf.{name}@0": value for name, value in shelf.items()})
    cells |= day_cells({"materials.material@0": "Iso 9"})
    told = [str(problem) for problem in check_file(typed(cells, tmp_path / "j.xlsx")).problems]
    assert told == [
        "Materials!B7: 'Iso 9' has other data on Shelf: Density, Spray from; copy them from there "
        "if it is meant"
    ]
