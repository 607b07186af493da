"""What takes long to make and is only read or copied: once for each worker."""

import shutil
import tempfile
from functools import lru_cache
from pathlib import Path

from twodrum.build import builder
from twodrum.commands.demo import make_demo

FOLDERS: list[Path] = []


def _folder() -> Path:
    FOLDERS.append(Path(tempfile.mkdtemp(prefix="twodrum-made-")))
    return FOLDERS[-1]


@lru_cache(maxsize=1)
def templates() -> Path:
    """A folder of every template as the declarations build it today."""
    folder = _folder()
    builder.main(folder)
    return folder


@lru_cache(maxsize=1)
def _demo() -> Path:
    folder = _folder()
    make_demo(folder)
    return folder


def demo(target: Path) -> Path:
    """The demo's workbooks, copied into a folder."""
    shutil.copytree(_demo(), target, dirs_exist_ok=True)
    return target


def removed() -> None:
    """Take away what was made."""
    for folder in FOLDERS:
        shutil.rmtree(folder, ignore_errors=True)
    FOLDERS.clear()
