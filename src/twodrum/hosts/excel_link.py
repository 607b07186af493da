"""Linking Excel: what goes into a folder of the user's, and what is still to be clicked."""

from __future__ import annotations

import shutil
import sys
from importlib.util import find_spec
from pathlib import Path

from . import LinkError
from .excel_wrapper import CALLED, MODULE, module_text

BOOK = "quickstart_standalone.xlsm"
NAME = "twodrum.xlsm"


def xlwings_folder() -> Path:
    """Where xlwings is installed; LinkError where it is not."""
    found = find_spec("xlwings")
    if found is None or found.origin is None:
        raise LinkError(
            "xlwings is not installed; it calls Python from Excel;"
            f" install it with: {Path(sys.executable).name} -m pip install xlwings"
        )
    return Path(found.origin).parent


def settings() -> str:
    """What xlwings reads beside the workbook: this Python, and our functions."""
    pairs = {
        "INTERPRETER_WIN": sys.executable,
        "INTERPRETER_MAC": sys.executable,
        "UDF MODULES": CALLED,
        "ADD_WORKBOOK_TO_PYTHONPATH": "False",
    }
    return "".join(f'"{key}","{value}"\n' for key, value in pairs.items())


STEPS = f"""Open {NAME} in Excel on Windows and allow its macros.
Press Alt+F11, choose File, Import File, and take {MODULE}.bas from the same folder.
Save the workbook, close it and open it again; =TD_DEW_POINT(20,70%) now gives 14.36.
To have the functions in every workbook, save it as an add-in (.xlam) and tick it under Add-ins."""


def make(folder: Path) -> list[str]:
    """Write the workbook, its settings and the VBA module; what is left to do, line by line."""
    source = xlwings_folder() / BOOK
    if not source.is_file():
        raise LinkError(
            f"xlwings has no {BOOK}; version 0.31 or newer brings it; update xlwings with pip"
        )
    target = folder / NAME
    if folder.exists() and not folder.is_dir():
        raise LinkError(f"{folder} is a file; the name of a folder is wanted; name another")
    for name in (NAME, "xlwings.conf", f"{MODULE}.bas"):
        if (folder / name).exists():
            raise LinkError(
                f"{folder / name} is there already; a new folder is wanted; move it or name another"
            )
    folder.mkdir(parents=True, exist_ok=True)
    shutil.copy(source, target)
    (folder / "xlwings.conf").write_text(settings(), encoding="utf-8")
    # VBA files end their lines as Windows does.
    (folder / f"{MODULE}.bas").write_text(module_text(), encoding="ascii", newline="\r\n")
    made = [f"{folder}: made {NAME}, xlwings.conf and {MODULE}.bas", *STEPS.splitlines()]
    if sys.platform != "win32":
        made.append("Made on another machine than Windows: make it again where Excel is, it names")
        made.append(f"the Python of this one, {sys.executable}.")
    return made
