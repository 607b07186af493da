"""What pytest leaves alone: scripts that are run, not imported."""

import gc
from functools import lru_cache

import pytest
from xdist.scheduler import LoadScopeScheduling

from tests.libreoffice import calc
from twodrum.cli import FEW_LOOKS
from twodrum.xlsx import book
from twodrum.xlsx.scan import scan_sheet

# As the program itself does.
gc.set_threshold(FEW_LOOKS)
# Most tests read the same sheets again; what a sheet part holds follows from its bytes alone.
book.scan_sheet = lru_cache(maxsize=256)(scan_sheet)

collect_ignore = [
    "libreoffice/driver.py",
    "run.py",
    "hosts/calc_driver.py",
    "hosts/xlwings_driver.py",
    "hosts/vba_driver.py",
]

# Files whose tests share what takes long to set up: one worker has all of them.
TOGETHER = ("tests/test_month.py", "tests/hosts/test_live.py", "tests/window/test_typing.py")


class BySetUp(LoadScopeScheduling):
    """Each test by itself, those of a file of `TOGETHER` on one worker and first of all."""

    def _split_scope(self, nodeid: str) -> str:
        file = nodeid.split("::", maxsplit=1)[0]
        return file if file in TOGETHER else nodeid


@pytest.hookimpl
def pytest_xdist_make_scheduler(config: pytest.Config, log: object) -> BySetUp:
    return BySetUp(config, log)


def pytest_sessionfinish() -> None:
    """What the tests started ends with them."""
    calc.ended()
