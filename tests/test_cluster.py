"""Many workbooks on the workers of a scheduler: each whole, counted in order, none lost."""

import os
import shutil
import signal
import subprocess
import sys
import time
from collections.abc import Iterator
from dataclasses import dataclass, field
from pathlib import Path

import pytest

from tests.test_batch import FILES, KILLERS, deadly, gone
from tests.workbook.typing import small_job
from twodrum.books.parts import QUOTE
from twodrum.cli import main
from twodrum.commands import cluster
from twodrum.commands.already import UNCHANGED
from twodrum.commands.batch import each
from twodrum.commands.month import roll_up
from twodrum.commands.one_of_many import Task, died
from twodrum.xlsx.files import at_work, freed_from, own_prefix
from twodrum.xlsx.package import PackageError

ROOT = Path(__file__).resolve().parents[1]
# Seconds until all must have started.
PATIENCE = 60


@dataclass
class Machines:
    """A scheduler and its workers, on this machine and for its own eyes only."""

    place: Path
    workers: list[subprocess.Popen[bytes]] = field(default_factory=list)
    scheduler: subprocess.Popen[bytes] | None = None

    @property
    def address(self) -> str:
        return str(self.place / "scheduler.json")

    def start(self, workers: int, *options: str) -> None:
        """Start them; ``options`` go to the workers."""
        self.scheduler = self._run("scheduler", "--host=127.0.0.1", "--port=0")
        until = time.monotonic() + PATIENCE
        while not Path(self.address).exists() and time.monotonic() < until:
            time.sleep(0.1)
        if workers:
            self.add(workers, *options)

    def add(self, workers: int, *options: str) -> None:
        """Start so many more workers."""
        kept = ("--host=127.0.0.1", "--nthreads=1", f"--local-directory={self.place}", *options)
        self.workers += [self._run("worker", *kept) for _ in range(workers)]
        distributed = pytest.importorskip("distributed")
        with distributed.Client(scheduler_file=self.address, timeout=PATIENCE) as client:
            client.wait_for_workers(len(self.workers), timeout=PATIENCE)

    def _run(self, what: str, *options: str) -> subprocess.Popen[bytes]:
        module = f"distributed.cli.dask_{what}"
        command = [sys.executable, "-m", module, f"--scheduler-file={self.address}", *options]
        paths = {"PYTHONPATH": os.pathsep.join([str(ROOT / "src"), str(ROOT)])}
        # One book that ends its worker is told at once, not after three more.
        settings = {"DASK_DISTRIBUTED__SCHEDULER__ALLOWED_FAILURES": "0"}
        with (self.place / f"{what}.log").open("ab") as log:
            return subprocess.Popen(
                [*command, "--no-dashboard"],
                env={**os.environ, **paths, **settings},
                stdout=log,
                stderr=subprocess.STDOUT,
            )

    def stop(self) -> None:
        # A nanny ends its worker when it is asked to end; the rest has nothing to keep.
        for process in self.workers:
            process.terminate()
        for process in (*self.workers, self.scheduler):
            if process is not None:
                try:
                    process.wait(3 if process is not self.scheduler else 0)
                except subprocess.TimeoutExpired:
                    process.kill()
                    process.wait(PATIENCE)


@pytest.fixture
def machines(tmp_path: Path) -> Iterator[Machines]:
    place = tmp_path / "machines"
    place.mkdir()
    made = Machines(place)
    try:
        yield made
    finally:
        made.stop()


def quotes(folder: Path, count: int) -> list[Path]:
    folder.mkdir()
    first = small_job(folder / "tank-00.xlsx", (QUOTE,))
    for number in range(1, count):
        shutil.copy(first, folder / f"tank-{number:02}.xlsx")
    return sorted(folder.iterdir())


def test_a_worker_that_is_killed_takes_no_workbook_with_it(
    machines: Machines, tmp_path: Path
) -> None:
    # Each job has an area of its own, so that none can stand for another.
    files, alike = quotes(tmp_path / "jobs", 12), quotes(tmp_path / "alike", 12)
    (tmp_path / "jobs" / "damaged.xlsx").write_bytes(files[0].read_bytes()[:20_000])
    machines.start(2, "--no-nanny")
    found = []
    for one in each(Task("fill"), sorted(files[0].parent.iterdir()), 1, died, machines.address):
        found.append(one)
        if len(found) == 2:
            machines.workers[0].send_signal(signal.SIGKILL)
    assert [one.file.name for one in found] == ["damaged.xlsx", *(file.name for file in files)]
    assert [one.refused for one in found] == [True, *[False] * 12]
    # One that was filled, and of which nobody heard, is found filled.
    assert {one.did for one in found[1:]} <= {"filled", UNCHANGED}
    assert [one.did for one in found].count("filled") > 8 and not found[1].problems
    list(each(Task("fill"), alike, 1, died))
    assert [file.read_bytes() for file in files] == [file.read_bytes() for file in alike]
    assert len(list(files[0].parent.iterdir())) == 13
    # A month reads them the same way.
    month = roll_up(files[0].parent, tmp_path / "m.xlsx", cluster=machines.address)
    assert [row["file"] for row in month.jobs] == ["tank-00.xlsx"]
    assert sum("copy of tank-00.xlsx" in line for line in month.lines) == 11


def test_a_workbook_that_ends_its_workers_is_named_and_the_others_are_done(
    machines: Machines, tmp_path: Path
) -> None:
    machines.start(2, "--nanny")
    files = [tmp_path / file.name for file in FILES[6:10]]
    for file in files:
        file.touch()
    expected = [f"{f.name} is gone" if f.name in KILLERS else f.name for f in files]
    assert list(each(deadly, files, 1, gone, machines.address)) == expected


def test_what_stops_a_cluster_is_one_sentence(
    machines: Machines,
    tmp_path: Path,
    capsys: pytest.CaptureFixture[str],
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    (job,) = quotes(tmp_path / "jobs", 1)
    before = job.read_bytes()

    def told(address: str, *files: Path) -> str:
        assert main(["fill", *map(str, files or [job.parent]), "--cluster", address]) == 2
        return capsys.readouterr().err

    monkeypatch.setattr(cluster, "PATIENCE", 1)
    assert "no scheduler answers at tcp://127.0.0.1:9" in told("tcp://127.0.0.1:9")
    assert "no scheduler answers at nonsense:nowhere" in told("nonsense:nowhere")
    monkeypatch.setattr(cluster, "PATIENCE", PATIENCE)
    machines.start(0)
    assert "has no workers; start some" in told(machines.address)
    machines.add(1, "--no-nanny")
    assert "does not see" in told(machines.address, tmp_path / "nowhere.xlsx")
    monkeypatch.setattr(cluster, "__version__", "9.9")
    said = told(machines.address)
    assert "and this is 9.9; install the same on all machines" in said
    monkeypatch.setattr(cluster, "find_spec", lambda _: None)
    assert "pip install 'twodrum[cluster]'" in told(machines.address)
    assert job.read_bytes() == before


def test_the_mark_of_a_worker_that_is_lost_is_taken_away_and_no_other(tmp_path: Path) -> None:
    (job,) = quotes(tmp_path / "jobs", 1)
    lost = ".twodrum-0badcafe-17-"
    mark = job.parent / f".twodrum-{job.name}.at-work"
    mark.write_text(lost)
    with pytest.raises(PackageError, match="another twodrum command is at work"), at_work(job):
        pass
    assert not freed_from(job, {own_prefix()}) and mark.exists()
    assert freed_from(job, {lost}) and not mark.exists()
    assert not freed_from(job, {lost})
