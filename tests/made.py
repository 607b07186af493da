"""What takes long to make and is only read or copied: once for all workers of a run."""

import fcntl
import os
import pickle
import shutil
import tempfile
from collections.abc import Callable
from functools import lru_cache
from pathlib import Path
from typing import TypeVar

from twodrum.build import builder
from twodrum.commands.demo import make_demo

# The number of the run, the same in each of its workers.
RUN = "PYTEST_XDIST_TESTRUNUID"

Made = TypeVar("Made")


def _place(run: str) -> Path:
    return Path(tempfile.gettempdir()) / f"twodrum-made-{run}"


def _once(name: str, make: Callable[[Path], object]) -> Path:
    """A folder that the first worker who asks for it makes; the others wait for it."""
    place = _place(os.environ.get(RUN, str(os.getpid())))
    place.mkdir(exist_ok=True)
    with (place / f"{name}.lock").open("w") as lock:
        fcntl.flock(lock, fcntl.LOCK_EX)
        folder = place / name
        if not folder.exists():
            half = place / f"{name}.half"
            half.mkdir()
            make(half)
            half.rename(folder)
    return folder


def templates() -> Path:
    """A folder of every template as the declarations build it today."""
    return _once("templates", builder.main)


def demo(target: Path) -> Path:
    """The demo's workbooks, copied into a folder."""
    shutil.copytree(_once("demo", make_demo), target, dirs_exist_ok=True)
    return target


@lru_cache(maxsize=8)
def found(make: Callable[[], Made]) -> Made:
    """What a function without arguments of a test module gives."""
    name = f"{make.__module__}.{make.__qualname__}"
    folder = _once(name, lambda here: (here / "found").write_bytes(pickle.dumps(make())))
    result: Made = pickle.loads((folder / "found").read_bytes())
    return result


def removed(run: str) -> None:
    """Take away what a run made."""
    shutil.rmtree(_place(run), ignore_errors=True)
