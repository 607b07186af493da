"""A folder of jobs rolled up: forty invented ones with planted stories, and small ones."""

import gc
import hashlib
import json
import random
import shutil
from collections.abc import Iterator
from datetime import date
from decimal import Decimal
from functools import partial
from pathlib import Path
from typing import Any

import pandas
import pytest

from tests.workbook.day import day_cells
from tests.workbook.recalculated import live_cells_that_change
from tests.workbook.typing import QUOTED, accept_on, address, typed
from twodrum.books.month import MONTH
from twodrum.cli import main
from twodrum.commands import demo_month, month_read, month_store
from twodrum.commands import month as month_command
from twodrum.commands.fill import Filled, check_file, fill_file, read_file
from twodrum.commands.month import Rolled, _one_currency, roll_up
from twodrum.commands.month_assume import assumed
from twodrum.commands.month_read import JobRead, Reading
from twodrum.commands.one_of_many import Task
from twodrum.xlsx.book import Book
from twodrum.xlsx.package import PackageError


def books_alive() -> int:
    gc.collect()
    return sum(isinstance(thing, Book) for thing in gc.get_objects())


class Watch:
    """Progress that counts the workbooks in memory at every tenth one."""

    def __init__(self) -> None:
        self.alive: list[int] = []

    def __call__(self, found: Iterator[JobRead], _: int) -> Iterator[JobRead]:
        for index, one in enumerate(found):
            if index % 10 == 9:
                self.alive.append(books_alive())
            yield one


@pytest.fixture(scope="module")
def month(tmp_path_factory: pytest.TempPathFactory) -> tuple[Path, Rolled, Watch, dict[str, str]]:
    out = tmp_path_factory.mktemp("month")
    demo_month.make_month(out)
    folder, watch = out / demo_month.FOLDER, Watch()
    before = _digests(folder)
    rolled = roll_up(folder, folder / "month.xlsx", watch)
    return folder, rolled, watch, before


def _digests(folder: Path) -> dict[str, str]:
    return {
        file.name: hashlib.sha256(file.read_bytes()).hexdigest()
        for file in folder.glob("job-*.xlsx")
    }


def rows(rolled: Rolled, study: str) -> list[tuple[Any, ...]]:
    assert rolled.filled is not None
    return rolled.filled.values.studies[study]


Made = tuple[Path, Rolled, Watch, dict[str, str]]


def test_the_front_page_tells_each_planted_story_in_words(month: Made) -> None:
    found = [(what, words) for what, words, _ in rows(month[1], "month_findings")]
    words = dict(found)
    assert "39 jobs read: litres of 39, money of 38, film of 39" in words["Covered"]
    assert "1 file could not be read" in words["Covered"]
    crew = words["Crew: over-builds"]
    assert crew.startswith("Crew Badger sprays 1") and "by 10 jobs" in crew
    drift = words["Machine: off its ratio"]
    assert drift.startswith("Machine Rig 2 drifts off its ratio") and "too much iso" in drift
    short = words["Batch: short"]
    assert short.startswith("Batch R-517 (resin) is short") and "6.0 %" in short
    assert words["Could not be read"].startswith("job-13.xlsx: it is damaged")
    assert words["Not told"].startswith("job-27.xlsx (Basin 27 (invented)): no accepted quote")


def test_nothing_is_told_that_was_not_planted(month: Made) -> None:
    told = [what for what, _, _ in rows(month[1], "month_findings")]
    single = ("Crew: over-builds", "Machine: off its ratio", "Batch: short", "Could not be read")
    assert all(told.count(what) == 1 for what in single)
    crews = [words for what, words, _ in rows(month[1], "month_findings") if "over" in what]
    assert not any("Heron" in words or "Otter" in words for words in crews)


def test_every_file_is_a_job_or_told_as_unread(month: Made) -> None:
    _, rolled, _, before = month
    names = {row["file"] for row in rolled.jobs} | {row["unread_file"] for row in rolled.unread}
    assert names == set(before)
    assert rolled.filled is not None
    values = rolled.filled.values
    assert values.names["jobs_read"].si == len(rolled.jobs) == 39
    assert values.names["jobs_unread"].si == 1
    assert rolled.filled.problem_count == 0
    assert rolled.filled.state == "OK"


def test_rows_are_those_of_the_jobs_and_sums_those_of_the_rows(month: Made) -> None:
    folder, rolled, _, _ = month
    for row in rolled.jobs[::6]:
        names = read_file(folder / row["file"]).values.names
        assert row["used_volume"] == pytest.approx(names["used_volume"].si, abs=1e-6)
        assert row["billed_area"] == pytest.approx(names["billed_area_total"].si, abs=1e-3)
        over = float(names["material_over_quote"].si or 0)
        assert float(row.get("over_money", 0)) == pytest.approx(over, abs=0.01)
    used = sum(row["used_volume"] for row in rolled.jobs)
    billed = sum(row["billed_area"] for row in rolled.jobs)
    over = sum(float(row.get("over_money", 0)) for row in rolled.jobs)
    assert rolled.filled is not None
    names = rolled.filled.values.names
    assert names["used_total"].si == pytest.approx(used, abs=1e-4)
    assert names["month_per_area"].si == pytest.approx(used / billed, rel=1e-4)
    assert float(names["over_money_total"].si) == pytest.approx(over, abs=0.01)
    causes = rows(rolled, "month_totals")
    assert sum(row[1] for row in causes) == pytest.approx(over, abs=0.01)
    assert {row[2] for row in causes} == {38}


def test_the_jobs_are_only_read(month: Made) -> None:
    folder, _, _, before = month
    assert _digests(folder) == before


def test_no_workbook_stays_in_memory(month: Made) -> None:
    alive = month[2].alive
    assert len(alive) == 4
    # The one before may still be held by the loop.
    assert max(alive) - min(alive) <= 1


def test_opening_the_month_in_calc_changes_nothing(month: Made) -> None:
    wrong, count = live_cells_that_change(month[0] / "month.xlsx")
    assert not wrong, (len(wrong), wrong[:10])
    assert count > 5000


def test_the_trend_is_in_the_order_of_the_dates(month: Made) -> None:
    days = [row[1] for row in rows(month[1], "month_trend")]
    assert len(days) == 39
    assert days == sorted(days)


def test_assumptions_are_near_what_was_planted(month: Made) -> None:
    found = {(row[0], row[1]): row for row in rows(month[1], "month_assume")}
    for crew, (_, loss) in demo_month.CREWS.items():
        row = found[crew, "any"]
        # Of walls of concrete and steel as they came, 2 points more and less.
        assert row[4] - 0.02 <= loss <= row[5] + 0.02, crew
        assert row[2] >= 9
    assert found["any", "any"][2] == 39
    assert found["Badger", "concrete"][3] > found["Badger", "steel"][3]
    # 10 % was planted as the spread of the film readings.
    assert found["any", "any"][8] == pytest.approx(0.1, abs=0.01)


def test_a_new_job_takes_what_the_month_says(month: Made, tmp_path: Path) -> None:
    job = tmp_path / "next.xlsx"
    book = str(month[0] / "month.xlsx")
    more = ["--with", "what-ifs", "--surface", "steel"]
    assert main(["new", str(job), "--assume", book, *more]) == 0
    names = check_file(job).values.names
    row = next(r for r in rows(month[1], "month_assume") if r[:2] == ("any", "steel"))
    assert names["loss_share"].si == pytest.approx(row[3], abs=5e-5)
    assert names["loss_uncertainty"].si == pytest.approx(max(0.01, row[6]), abs=5e-5)
    assert names["film_spread"].si == pytest.approx(row[8], abs=5e-5)
    assert names["substrate"].si == "steel"
    pair = next(r for r in rows(month[1], "month_assume") if r[:2] == ("Otter", "steel"))
    assert assumed(Path(book), "otter", "Steel").names["loss_share"] == pytest.approx(
        pair[3], abs=5e-5
    )
    unknown = assumed(Path(book), "a crew that never was", "timber")
    everyone = next(r for r in rows(month[1], "month_assume") if r[:2] == ("any", "any"))
    assert unknown.names["loss_share"] == pytest.approx(everyone[3], abs=5e-5)


def small(path: Path, **names: Any) -> Path:
    return typed(day_cells(names), path)


def test_a_problem_file_is_one_line_and_stays_listed(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    small(tmp_path / "a.xlsx")
    small(tmp_path / "b.xlsx", loss_share="a fifth", iso_weighed="much")
    (tmp_path / "c.xlsx").write_bytes(b"no workbook")
    deep = tmp_path / "inside"
    deep.mkdir()
    small(deep / "d.xlsx", loss_share=22)
    assert main(["month", str(tmp_path)]) == 1
    out, err = capsys.readouterr()
    assert "Traceback" not in out + err
    lines = out.splitlines()
    assert sum(line.startswith("b.xlsx: ") for line in lines) == 1
    assert sum(line.startswith("c.xlsx: ") for line in lines) == 1
    values = check_file(tmp_path / "month.xlsx", MONTH).values
    files = [row["file"].si for row in values.tables["jobs"].rows]
    assert files == ["a.xlsx", "b.xlsx", str(Path("inside") / "d.xlsx")]
    told = values.tables["jobs"].rows[1]["not_told"].si
    assert "2 problems" in told and "litres used wait for" in told
    assert [row["unread_file"].si for row in values.tables["unread"].rows] == ["c.xlsx"]


def test_money_in_another_currency_than_that_of_most_jobs_is_left_out_and_said(
    tmp_path: Path,
) -> None:
    rolled = Rolled(tmp_path / "month.xlsx")
    rolled.currencies = ["USD", "EUR", "EUR"]
    rolled.jobs = [{"file": f"{n}.xlsx", "over_money": 10.0, "used_volume": 0.5} for n in "abc"]
    assert _one_currency(rolled) == "EUR"
    assert [row.get("over_money") for row in rolled.jobs] == [None, 10.0, 10.0]
    assert rolled.jobs[0]["not_told"] == "money is in USD, this month counts in EUR"
    assert rolled.jobs[0]["used_volume"] == 0.5


def test_a_copy_is_counted_once_and_what_cannot_be_opened_is_listed(tmp_path: Path) -> None:
    small(tmp_path / "a.xlsx")
    (tmp_path / "b.xlsx").write_bytes((tmp_path / "a.xlsx").read_bytes())
    (tmp_path / "gone.xlsx").symlink_to(tmp_path / "nowhere.xlsx")
    (tmp_path / ".~lock.a.xlsx#").touch()
    elsewhere = tmp_path / "jobs"
    elsewhere.mkdir()
    (elsewhere / "loop").symlink_to(tmp_path, target_is_directory=True)
    rolled = roll_up(tmp_path, tmp_path / "month.xlsx")
    assert [row["file"] for row in rolled.jobs] == ["a.xlsx"]
    assert rolled.notes == ["a.xlsx: it is open in LibreOffice; what is not saved is missing"]
    told = {row["unread_file"]: row["unread_why"] for row in rolled.unread}
    assert told == {
        "b.xlsx": "it is a copy of a.xlsx, which is counted; take one away",
        "gone.xlsx": "it is no file that can be read",
        str(Path("jobs") / "loop"): "a linked folder is not followed; roll it up by itself",
    }


def test_a_job_on_which_more_lies_than_was_used_tells_no_money(tmp_path: Path) -> None:
    path = small(tmp_path / "a.xlsx", **QUOTED, iso_weighed=50, resin_weighed=50)
    fill_file(path, deal=accept_on(date(2026, 11, 25)))
    rolled = roll_up(tmp_path, tmp_path / "month.xlsx")
    assert "over_money" not in rolled.jobs[0] and "loss" not in rolled.jobs[0]
    assert "more lies on the surface than was used" in rolled.jobs[0]["not_told"]
    assert rolled.jobs[0]["used_volume"] == pytest.approx(0.1)


def test_more_workbooks_than_there_is_room_for_are_refused_before_they_are_read(
    tmp_path: Path, capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(month_command, "MOST_ROWS", 5)
    monkeypatch.setattr(month_command, "can_keep", lambda: False)
    for number in range(6):
        (tmp_path / f"{number}.xlsx").touch()
    assert main(["month", str(tmp_path)]) == 2
    err = capsys.readouterr().err
    assert "holds 6 workbooks; a month alone has room for 5; pip install 'twodrum[month]'" in err
    assert main(["month", str(tmp_path), "--rows", "6"]) == 2
    assert "a month has at most 5 rows, not 6" in capsys.readouterr().err


def invented(number: int) -> dict[str, Any]:
    """A row of a job: one machine that drifts, one crew that loses more, scatter of its own."""
    draw = random.Random(number)
    off = (0.0004 * number if number % 3 == 0 else 0.0) + draw.gauss(0, 0.004)
    loss = (0.22 if number % 4 == 0 else 0.15) + draw.gauss(0, 0.02)
    return {
        "job": f"Job {number}",
        "worked": 45000.0 + number,
        "crew": f"Crew {number % 4}",
        "machine": f"Rig {number % 3}",
        "surface_kind": ("steel", "concrete")[number % 2],
        "billed_area": 100.0 + number % 50,
        "used_volume": round(draw.gauss(0.3, 0.02), 5),
        "quoted_area": 100.0,
        "quoted_volume": 0.28,
        "build": draw.gauss(1.05, 0.05),
        "loss": loss,
        "quoted_loss": 0.15,
        "off_ratio": off,
        "quoted_money": 4000.0,
        "over_money": round(draw.gauss(150, 200), 2),
        "loss_money": round(draw.gauss(80, 60), 2),
        "problem_count": 0,
    }


def many(folder: Path, count: int, monkeypatch: pytest.MonkeyPatch) -> None:
    """A folder of so many files, each of which says an invented row when it is read."""

    def read(reading: Reading, file: Path) -> JobRead:
        number = int(file.stem)
        # Every tenth is of another currency, one is a copy.
        currency = "USD" if number % 10 == 9 else "EUR"
        row, digest = invented(number), str(2 if number == 3 else number)
        mark = month_read.mark_of(file)
        return JobRead(file.name, {"file": file.name, **row}, currency, digest, mark=mark)

    monkeypatch.setattr(Reading, "__call__", read)
    folder.mkdir(exist_ok=True)
    for number in range(count):
        (folder / f"{number:04}.xlsx").touch()


def told(filled: Filled) -> list[Any]:
    """What a month says of all its jobs, its rows left out; numbers to 8 digits.

    A number that stood in a cell went through the unit of that cell.
    """
    found = [filled.values.names[cell.name].si for cell in filled.model.cells]
    found += [cell for study in filled.values.studies.values() for row in study for cell in row]
    return [f"{one:.8g}" if isinstance(one, (int, float, Decimal)) else one for one in found]


def test_jobs_without_a_row_count_like_those_that_have_one(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    folder, target = tmp_path / "jobs", tmp_path / "jobs" / "month.xlsx"
    many(folder, 150, monkeypatch)
    every = roll_up(folder, tmp_path / "every.xlsx")
    few = roll_up(folder, target, room=40)
    assert every.filled is not None and few.filled is not None
    assert (every.filled.state, few.filled.state) == ("OK", "OK")
    assert told(few.filled) == told(every.filled) and len(every.jobs) == 149
    assert few.filled.values.studies["month_findings"]
    table = few.filled.values.tables["jobs"].rows
    files = {row["file"].si for row in table}
    # The latest have a row, and those that cost most above or below their quotes.
    dearest = sorted(every.jobs, key=lambda row: -abs(row.get("over_money", 0.0)))
    assert len(table) == 40 and {row["file"] for row in dearest[:40]} == files
    monkeypatch.setattr(month_command, "DEAREST", 10)
    target.unlink()
    few = roll_up(folder, target, room=40)
    assert few.filled is not None
    files = {row["file"].si for row in few.filled.values.tables["jobs"].rows}
    assert {f"{number:04}.xlsx" for number in range(122, 150)} <= files
    # A fill takes the others from the store, as pandas reads it.
    assert fill_month(target) == told(every.filled)
    store = pandas.read_parquet(folder / month_store.NAME)
    counted = store[store[month_store.COUNTED]]
    assert len(counted) == 149 and len(store) == 150
    assert counted["used_volume"].sum() == pytest.approx(
        every.filled.values.names["used_total"].si, rel=1e-12
    )
    assert counted["over_money"].count() == 134
    # Without the store nothing is said that would go over too few of them.
    (folder / month_store.NAME).rename(tmp_path / "elsewhere")
    renamed(target)
    done = Task("fill", named=frozenset([target]))(target)
    assert done.problems == 1 and "state CHECK" in done.text
    filled = read_file(target, MONTH, partial(month_store.complete, target))
    (problem,) = (one for one in filled.problems if one.severity == "problem")
    assert str(problem) == (
        "About!B10: 0 jobs are only in month-store.parquet beside it; 109 are wanted; put its "
        "store beside it again, or make the month anew with twodrum month"
    )
    assert filled.values.names["used_total"].refused
    assert not filled.values.studies["month_findings"]
    # Nor by whoever forgets to look there.
    assert read_file(target, MONTH).values.names["used_total"].refused


def renamed(month: Path) -> None:
    """Type another name of the folder, so that the month is another file."""
    area = Book.open(month).area("folder")
    assert area is not None
    typed({area.first: "our jobs"}, month, source=month)


def fill_month(target: Path) -> list[Any]:
    filled = fill_file(target, model=MONTH, complete=partial(month_store.complete, target))
    return told(filled)


def test_a_month_that_nobody_changed_is_made_anew_in_its_place(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    folder, target = tmp_path / "jobs", tmp_path / "jobs" / "month.xlsx"
    many(folder, 4, monkeypatch)
    roll_up(folder, target)
    first = target.read_bytes()
    roll_up(folder, target)
    assert target.read_bytes() == first
    (folder / "0004.xlsx").touch()
    again = roll_up(folder, target)
    assert len(again.jobs) == 4 and again.known == 4 and target.read_bytes() != first
    book = Book.open(target)
    typed({book.tables["jobs"].area.first: "our own name"}, target, source=target)
    changed = target.read_bytes()
    with pytest.raises(PackageError, match="exists already"):
        roll_up(folder, target)
    assert target.read_bytes() == changed


def test_a_thousand_jobs_have_a_row_each_and_the_latest_are_drawn(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    many(tmp_path / "jobs", 1001, monkeypatch)
    rolled = roll_up(tmp_path / "jobs", tmp_path / "month.xlsx")
    assert rolled.filled is not None and rolled.filled.state == "OK"
    assert len(rolled.filled.values.tables["jobs"].rows) == 1000
    assert rolled.filled.values.names["jobs_read"].si == 1000
    trend = rows(rolled, "month_trend")
    assert [row[0] for row in trend] == list(range(601, 1001))


def test_only_new_and_changed_jobs_are_read_again(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    for name, litres in (("a", 200), ("b", 210), ("c", 220)):
        drum = {"drums.holds": "iso", "drums.drum_number": "1", "drums.batch": name}
        path = small(tmp_path / f"{name}.xlsx", iso_weighed=litres, resin_weighed=litres)
        book = Book.open(path)
        told = {address(book, key): word for key, word in drum.items()}
        typed(told, path, source=path)
    target = tmp_path / "month.xlsx"
    opened: list[str] = []
    read_file = month_read.read_file

    def counted(file: Path) -> Any:
        opened.append(file.name)
        return read_file(file)

    monkeypatch.setattr(month_read, "read_file", counted)

    def rolled_up() -> Rolled:
        target.unlink(missing_ok=True)
        return roll_up(tmp_path, target)

    def again() -> list[str]:
        opened.clear()
        assert rolled_up().known + len(opened) == 3
        return sorted(opened)

    assert again() == ["a.xlsx", "b.xlsx", "c.xlsx"]
    first = rolled_up()
    whole = {"jobs": first.jobs, "stock": first.stock.rows(), "lines": first.lines}
    assert again() == []
    second = rolled_up()
    assert whole == {"jobs": second.jobs, "stock": second.stock.rows(), "lines": second.lines}
    small(tmp_path / "b.xlsx", iso_weighed=150, resin_weighed=150)
    assert again() == ["b.xlsx"]
    # What another version read, and what is no store, is read anew.
    monkeypatch.setattr(month_store, "__version__", "0.1.0")
    assert again() == ["a.xlsx", "b.xlsx", "c.xlsx"]
    (tmp_path / month_store.NAME).write_bytes(b"no store")
    assert again() == ["a.xlsx", "b.xlsx", "c.xlsx"]
    # So is a row that somebody else wrote, and a file that changed while it was read.
    table = pandas.read_parquet(tmp_path / month_store.NAME)
    table.loc[table["file"] == "a.xlsx", month_store.REST] = "{"
    table.to_parquet(tmp_path / month_store.NAME, index=False)
    assert again() == ["a.xlsx"]
    (tmp_path / month_store.NAME).unlink()
    monkeypatch.setattr(month_read, "read_file", lambda file: (counted(file), file.touch())[0])
    assert again() == again() == ["a.xlsx", "b.xlsx", "c.xlsx"]
    monkeypatch.setattr(month_read, "read_file", counted)
    # A store that can't be written is a note; the month is there.
    (tmp_path / month_store.NAME).unlink()
    (tmp_path / month_store.NAME).mkdir()
    assert any("not kept, all jobs are read" in note for note in rolled_up().notes)
    (tmp_path / month_store.NAME).rmdir()
    monkeypatch.setattr(month_command, "can_keep", lambda: False)
    assert again() == ["a.xlsx", "b.xlsx", "c.xlsx"]
    assert not (tmp_path / month_store.NAME).exists()


def test_a_month_read_in_two_processes_is_that_of_one(tmp_path: Path) -> None:
    for name, litres in (("a", 200), ("b", 210)):
        small(tmp_path / f"{name}.xlsx", iso_weighed=litres, resin_weighed=litres)
    one = roll_up(tmp_path, tmp_path / "one.xlsx")
    (tmp_path / month_store.NAME).unlink()
    (tmp_path / "one.xlsx").unlink()
    two = roll_up(tmp_path, tmp_path / "two.xlsx", jobs=2)
    assert one.jobs == two.jobs and one.lines == two.lines


def test_us_units_and_a_fill_of_the_month(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    small(tmp_path / "a.xlsx", iso_weighed=200, resin_weighed=200)
    assert main(["month", str(tmp_path), "--units", "us"]) == 0
    month = tmp_path / "month.xlsx"
    names = check_file(month, MONTH).values.names
    assert names["used_total"].unit == "US gal"
    assert names["used_total"].si == pytest.approx(0.4)
    capsys.readouterr()
    assert main(["fill", str(month)]) == 0
    assert "already filled, nothing changed; state OK" in capsys.readouterr().out
    renamed(month)
    assert main(["fill", str(month)]) == 0
    assert "filled, state OK" in capsys.readouterr().out
    assert main(["fill", "--json", str(tmp_path / "month.xlsx")]) == 0
    said = capsys.readouterr()
    answer = json.loads(said.out)
    assert answer["problems"] == [] and "state OK" in said.err
    assert main(["month", str(tmp_path), "--out", str(tmp_path / "m.xlsm")]) == 2
    assert "name it so" in capsys.readouterr().err


def test_a_workbook_that_is_there_is_not_written_over(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    small(tmp_path / "a.xlsx")
    before = shutil.copy(tmp_path / "a.xlsx", tmp_path / "month.xlsx").read_bytes()
    assert main(["month", str(tmp_path)]) == 2
    assert "month.xlsx" in capsys.readouterr().err
    assert (tmp_path / "month.xlsx").read_bytes() == before
    (tmp_path / "month.xlsx").unlink()
    assert main(["month", str(tmp_path)]) == 0
    # With another target the first one is no job, and is left alone.
    rolled = roll_up(tmp_path, tmp_path / "again.xlsx")
    assert rolled.notes == ["month.xlsx: a month workbook, left alone"]
    assert [row["file"] for row in rolled.jobs] == ["a.xlsx"]


@pytest.mark.parametrize("arguments", [["nowhere"], ["empty"], ["file.txt"]])
def test_a_folder_without_jobs_is_told(
    tmp_path: Path, capsys: pytest.CaptureFixture[str], arguments: list[str]
) -> None:
    (tmp_path / "empty").mkdir()
    (tmp_path / "file.txt").write_text("no folder")
    assert main(["month", *(str(tmp_path / name) for name in arguments)]) == 2
    err = capsys.readouterr().err
    assert err.count("\n") == 1 and "Traceback" not in err


def test_a_month_that_tells_too_little_assumes_nothing(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    small(tmp_path / "a.xlsx")
    roll_up(tmp_path, tmp_path / "month.xlsx")
    with pytest.raises(PackageError, match="too little"):
        assumed(tmp_path / "month.xlsx", "", "")
    job = str(tmp_path / "next.xlsx")
    assert main(["new", job, "--assume", str(tmp_path / "a.xlsx")]) == 2
    assert "not a month workbook" in capsys.readouterr().err
    assert not Path(job).exists()


def test_a_surface_that_is_not_on_the_list_is_told_with_those_that_are(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    job = tmp_path / "next.xlsx"
    assert main(["new", str(job), "--surface", "glass"]) == 2
    assert "--surface 'glass' is not one of: steel, concrete" in capsys.readouterr().err
    assert not job.exists()
