"""Linking Excel: what goes into a folder of the user's, and what is still to be clicked.

The add-in is the one that xlwings brings for others to build on: it acts on the workbook that is
open, and finds its settings on a sheet of its own, wherever Excel keeps it and whatever letters
are in the path of Python.
"""

from __future__ import annotations

import re
import sys
import zipfile
from html import escape
from importlib.util import find_spec
from pathlib import Path

from ..commands.installed import XLWINGS
from . import LinkError
from .excel_wrapper import CALLED, MODULE, module_text

BOOK = "quickstart_addin.xlam"
NAME = "twodrum.xlam"
# The sheet is idle while a line leads its name.
IDLE, SETTINGS = "_myaddin.conf", "myaddin.conf"
WORKBOOK, SHEET = "xl/workbook.xml", "xl/worksheets/sheet1.xml"


def xlwings_folder() -> Path:
    """Where xlwings is installed; LinkError where it is not."""
    found = find_spec("xlwings")
    if found is None or found.origin is None:
        raise LinkError(
            "xlwings is not installed; it calls Python from Excel;"
            f" install it with: {Path(sys.executable).name} -m pip install xlwings=={XLWINGS}"
        )
    return Path(found.origin).parent


def settings() -> dict[str, str]:
    """What xlwings reads on the sheet: this Python, and our functions."""
    return {
        "INTERPRETER_WIN": sys.executable,
        "INTERPRETER_MAC": sys.executable,
        "UDF MODULES": CALLED,
        "ADD_WORKBOOK_TO_PYTHONPATH": "False",
    }


def addin(source: Path) -> dict[str, bytes]:
    """The parts of our add-in: those of xlwings', with settings on its sheet."""
    with zipfile.ZipFile(source) as book:
        parts = {name: book.read(name) for name in book.namelist()}
    rows = "".join(
        f'<row r="{row}">'
        + "".join(
            f'<c r="{letter}{row}" t="inlineStr"><is><t>{escape(text)}</t></is></c>'
            for letter, text in zip("AB", pair)
        )
        + "</row>"
        for row, pair in enumerate(settings().items(), start=1)
    )
    data = f"<sheetData>{rows}</sheetData>"
    for part, old, new in (
        (WORKBOOK, f'name="{IDLE}"', f'name="{SETTINGS}"'),
        (SHEET, "<sheetData>.*</sheetData>", data),
        (SHEET, r'<dimension ref="[^"]*"', f'<dimension ref="A1:B{len(settings())}"'),
    ):
        there = re.findall(old, parts[part].decode(), flags=re.DOTALL)
        if len(there) != 1:
            raise LinkError(
                f"the {BOOK} of the installed xlwings is another one than that of {XLWINGS}; "
                f"install that one: {Path(sys.executable).name} -m pip install xlwings=={XLWINGS}"
            )
        parts[part] = parts[part].decode().replace(there[0], new).encode()
    return parts


STEPS = f"""Open {NAME} in Excel on Windows and allow its macros; an add-in shows no cells.
Press Alt+F11, click {NAME} in the list, choose File, Import File, and take {MODULE}.bas from the
same folder; press Ctrl+S there, and close Excel.
In Excel choose File, Options, Add-ins, Go, Browse, and take {NAME}: =TD_DEW_POINT(20,70%) now gives
14.36 in every workbook, and Alt+F8, TwodrumFill fills the job that is open."""


def make(folder: Path) -> list[str]:
    """Write the add-in and the VBA module; what is left to do, line by line."""
    source = xlwings_folder() / BOOK
    if not source.is_file():
        raise LinkError(
            f"xlwings has no {BOOK}; version {XLWINGS} brings it; "
            f"{Path(sys.executable).name} -m pip install xlwings=={XLWINGS}"
        )
    if folder.exists() and not folder.is_dir():
        raise LinkError(f"{folder} is a file; the name of a folder is wanted; name another")
    for name in (NAME, f"{MODULE}.bas"):
        if (folder / name).exists():
            raise LinkError(
                f"{folder / name} is there already; a new folder is wanted; move it or name another"
            )
    parts = addin(source)
    folder.mkdir(parents=True, exist_ok=True)
    with zipfile.ZipFile(folder / NAME, "w", zipfile.ZIP_DEFLATED) as book:
        for name, data in parts.items():
            book.writestr(name, data)
    # VBA files end their lines as Windows does.
    (folder / f"{MODULE}.bas").write_text(module_text(), encoding="ascii", newline="\r\n")
    made = [f"{folder}: made {NAME} and {MODULE}.bas", *STEPS.splitlines()]
    if sys.platform != "win32":
        made.append("Made on another machine than Windows: make it again where Excel is, it names")
        made.append(f"the Python of this one, {sys.executable}.")
    return made
