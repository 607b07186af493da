"""What pytest leaves alone: scripts that are run, not imported."""

import contextlib
import gc
import os
from functools import lru_cache
from pathlib import Path

import pytest
from xdist.scheduler import LoadScopeScheduling

from tests import made
from tests.libreoffice import calc
from twodrum.cli import FEW_LOOKS
from twodrum.xlsx import book
from twodrum.xlsx.split import scan_sheet

# As the program itself does.
gc.set_threshold(FEW_LOOKS)
# Most tests read the same sheets again; what a sheet part holds follows from its bytes alone.
book.scan_sheet = lru_cache(maxsize=256)(scan_sheet)

collect_ignore = [
    "benchmarks/run.py",
    "libreoffice/driver.py",
    "run.py",
    "hosts/calc_driver.py",
    "hosts/xlwings_driver.py",
    "hosts/vba_driver.py",
]

# Files whose tests share what takes long to set up: one worker has all of them.
TOGETHER = (
    "tests/window/test_typing.py",
    "tests/test_month.py",
    "tests/hosts/test_calc_addin.py",
    "tests/hosts/test_excel.py",
    "tests/hosts/test_live.py",
    "tests/workbook/test_entry.py",
    "tests/workbook/test_templates.py",
    "tests/test_demo.py",
    "tests/core/test_second_routes.py",
)


class BySetUp(LoadScopeScheduling):
    """Each test by itself, those of a file of `TOGETHER` on one worker and first of all."""

    def _split_scope(self, nodeid: str) -> str:
        file = nodeid.split("::", maxsplit=1)[0]
        return file if file in TOGETHER else nodeid


@pytest.hookimpl
def pytest_xdist_make_scheduler(config: pytest.Config, log: object) -> BySetUp:
    return BySetUp(config, log)


def pytest_sessionfinish(session: pytest.Session) -> None:
    """What the tests started ends with them; what was left fails the run."""
    calc.ended()
    scheduler = session.config.pluginmanager.getplugin("dsession")
    if made.RUN not in os.environ:
        made.removed(scheduler.nodemanager.testrunuid if scheduler else str(os.getpid()))
    left = _left_of(scheduler.nodemanager.testrunuid) if scheduler is not None else []
    if left:
        session.exitstatus = 1
        print("\nstill running, started by a test: " + "; ".join(left))


def _left_of(run: str) -> list[str]:
    """Commands of the processes that a worker of this run started and that go on without it."""
    mark, found = f"{made.RUN}={run}".encode(), []
    for process in Path("/proc").glob("[0-9]*"):
        with contextlib.suppress(OSError):
            command = (process / "cmdline").read_bytes().replace(b"\0", b" ").decode()
            # The one that tidies up after processes ends with the worker that it belongs to.
            own = "multiprocessing.resource_tracker" in command
            if mark in (process / "environ").read_bytes().split(b"\0") and command and not own:
                found.append(command)
    return found
