"""Many workbooks at once: in their order, each whole, and none lost with a process that dies."""

import os
import re
import shutil
from pathlib import Path

import pytest

from tests.workbook.typing import small_job
from twodrum.cli import main
from twodrum.commands.batch import each, processes
from twodrum.commands.one_of_many import Task, died

FILES = [Path(f"{number:02}.xlsx") for number in range(30)]
KILLERS = {"07.xlsx", "08.xlsx", "29.xlsx"}


def named(file: Path) -> str:
    return file.name


def deadly(file: Path) -> str:
    """Ends its process on some files, as a crash in a library would."""
    if file.name in KILLERS:
        os._exit(9)
    return file.name


def gone(file: Path) -> str:
    return f"{file.name} is gone"


def test_a_process_that_dies_takes_no_other_workbook_with_it() -> None:
    found = list(each(deadly, FILES, 2, gone))
    expected = [f"{f.name} is gone" if f.name in KILLERS else f.name for f in FILES]
    assert found == expected


def test_results_come_in_the_order_of_the_files_whatever_the_number_of_processes() -> None:
    assert list(each(named, FILES, 3, gone)) == list(each(named, FILES, 1, gone))


def test_a_few_workbooks_start_no_processes_and_many_no_more_than_there_are() -> None:
    assert [processes(0, 3), processes(2, 3), processes(8, 5), processes(1, 100)] == [1, 2, 5, 1]
    assert processes(0, 100) == (os.cpu_count() or 1)


@pytest.fixture(scope="module")
def folder(tmp_path_factory: pytest.TempPathFactory) -> Path:
    place = tmp_path_factory.mktemp("jobs")
    job = small_job(place / "tank-1.xlsx")
    for number in range(2, 5):
        shutil.copy(job, place / f"tank-{number}.xlsx")
    (place / "damaged.xlsx").write_bytes(job.read_bytes()[:20_000])
    return place


def test_a_folder_in_two_processes_is_filled_like_in_one(
    folder: Path, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    texts, books = [], []
    for jobs in ("1", "2"):
        place = tmp_path / jobs
        shutil.copytree(folder, place)
        assert main(["fill", str(place), "--jobs", jobs]) == 2
        texts.append(capsys.readouterr().out.replace(str(place), "FOLDER"))
        books.append({file.name: file.read_bytes() for file in sorted(place.glob("*.xlsx"))})
    assert books[0] == books[1]
    lines = [re.sub(r"in \d+ s", "in 0 s", text).splitlines() for text in texts]
    assert lines[0] == lines[1]
    assert lines[0] == [
        "FOLDER/damaged.xlsx: it is damaged (its list of parts cannot be read); restore it from a "
        "copy",
        "5 workbooks in 0 s: 4 filled, 1 refused",
    ]
    assert main(["fill", str(tmp_path / "1" / "tank-1.xlsx"), str(tmp_path / "1")]) == 2
    # What is named twice is filled once.
    last = capsys.readouterr().out.splitlines()[-1]
    assert last.startswith("5 workbooks in") and last.endswith("4 already filled, 1 refused")


def test_one_line_tells_the_first_problem_and_how_many_more(folder: Path) -> None:
    task = Task("check")
    done = task(folder / "tank-1.xlsx")
    assert (done.problems, done.refused, done.brief) == (0, False, "")
    wrong = done._replace(problems=3, first="Areas!D7: length is 0")
    assert wrong.brief == f"{folder / 'tank-1.xlsx'}: Areas!D7: length is 0 and 2 more"
    assert died(folder / "tank-1.xlsx").refused


@pytest.mark.parametrize("number", ["0", "-1", "two", "65"])
def test_a_number_of_processes_that_cannot_be_is_told(
    number: str, capsys: pytest.CaptureFixture[str]
) -> None:
    with pytest.raises(SystemExit):
        main(["fill", "job.xlsx", f"--jobs={number}"])
    assert f"'{number}' is no number from 1 to 64" in capsys.readouterr().err
