"""Drive one LibreOffice process over UNO; run by the Python that has the uno module.

Reads JSON tasks from standard input, one a line, and writes a JSON answer to each; LibreOffice
ends with the input:
``{"path": ..., "cases": [{"set": [[sheet, cell, value], ...], "read": [[sheet, cell], ...],
"save": path or null}, ...], "reset": true}``. With "reset" the document is loaded anew
for every case. A value of null clears the cell; numbers and texts are typed as such.
"""

from __future__ import annotations

import contextlib
import json
import os
import shutil
import signal
import subprocess
import sys
import tempfile
import time

import uno
from com.sun.star.beans import PropertyValue
from com.sun.star.connection import NoConnectException
from com.sun.star.lang import IllegalArgumentException

RECALCULATE = """<?xml version="1.0" encoding="UTF-8"?>
<oor:items xmlns:oor="http://openoffice.org/2001/registry">
<item oor:path="/org.openoffice.Office.Calc/Formula/Load"><prop oor:name="OOXMLRecalcMode"
 oor:op="fuse"><value>0</value></prop></item></oor:items>
"""


def prop(name: str, value: object) -> PropertyValue:
    result = PropertyValue()
    result.Name, result.Value = name, value
    return result


def connect(pipe: str):  # type: ignore[no-untyped-def]
    local = uno.getComponentContext()
    resolver = local.ServiceManager.createInstanceWithContext(
        "com.sun.star.bridge.UnoUrlResolver", local
    )
    address = f"uno:pipe,name={pipe};urp;StarOffice.ComponentContext"
    for _ in range(600):
        try:
            return resolver.resolve(address)
        except NoConnectException:
            time.sleep(0.1)
    raise SystemExit("LibreOffice did not answer")


def read_all(sheets, wanted):  # type: ignore[no-untyped-def]
    """Many cells by few calls: the data of each sheet's used corner, and its error cells."""
    from com.sun.star.sheet.FormulaResult import ERROR

    corners: dict = {}
    for sheet, address in wanted:
        column, row = position(address)
        last_row, last_column = corners.get(sheet, (0, 0))
        corners[sheet] = (max(row, last_row), max(column, last_column))
    data, errors = {}, {}
    for sheet, (row, column) in corners.items():
        area = sheets.getByName(sheet).getCellRangeByPosition(0, 0, column, row)
        data[sheet] = area.getDataArray()
        errors[sheet] = set()
        for bad in area.queryFormulaCells(ERROR).RangeAddresses:
            for r in range(bad.StartRow, bad.EndRow + 1):
                errors[sheet].update((r, c) for c in range(bad.StartColumn, bad.EndColumn + 1))
    answer = []
    for sheet, address in wanted:
        column, row = position(address)
        if (row, column) in errors[sheet]:
            answer.append({"error": sheets.getByName(sheet).getCellByPosition(column, row).String})
        else:
            answer.append(data[sheet][row][column])
    return answer


def position(address: str) -> tuple:  # type: ignore[type-arg]
    letters = address.rstrip("0123456789")
    column = 0
    for letter in letters:
        column = column * 26 + ord(letter) - 64
    return column - 1, int(address[len(letters) :]) - 1


def runs(changed: dict) -> list:  # type: ignore[type-arg]
    """Cells below each other together: one call over the bridge for each such run."""
    found: list = []  # type: ignore[type-arg]
    for (sheet, column, row), value in sorted(changed.items(), key=lambda item: item[0]):
        if found and found[-1][:2] == [sheet, column] and found[-1][2] + len(found[-1][3]) == row:
            found[-1][3].append(value)
        else:
            found.append([sheet, column, row, [value]])
    return found


def formula(value) -> str:  # type: ignore[no-untyped-def]
    """What typing a value would be: a text stays one, a number keeps all its digits."""
    if isinstance(value, str):
        return value if value == "" or value.startswith("=") else f"'{value}"
    return repr(value)


def run(task: dict, desktop) -> list:  # type: ignore[no-untyped-def, type-arg]
    url = uno.systemPathToFileUrl(os.path.abspath(task["path"]))
    answers, document = [], None
    typed: dict = {}
    for case in task["cases"]:
        if document is None or task.get("reset"):
            if document is not None:
                document.close(True)
            document = desktop.loadComponentFromURL(url, "_blank", 0, (prop("Hidden", True),))
            document.enableAutomaticCalculation(False)
            document.addActionLock()
            document.lockControllers()
            typed = {}
            for sheet in document.Sheets:
                # What the filler writes is set here too; ours have no password.
                with contextlib.suppress(IllegalArgumentException):
                    sheet.unprotect("")
        sheets = document.Sheets
        named = {name: sheets.getByName(name) for name in sheets.ElementNames}
        changed = {}
        for sheet, address, value in case.get("set", []):
            if typed.get((sheet, address), "nothing yet") != value:
                typed[sheet, address] = value
                column, row = position(address)
                changed[sheet, column, row] = "" if value is None else value
        for sheet, column, row, values in runs(changed):
            last = row + len(values) - 1
            area = named[sheet].getCellRangeByPosition(column, row, column, last)
            if any(isinstance(value, str) and value.startswith("=") for value in values):
                # An empty text leaves its cell blank; a number as a formula stays a number.
                area.setFormulaArray(tuple((formula(value),) for value in values))
            else:
                area.setDataArray(tuple((value,) for value in values))
        for old, new, place in case.get("move", []):
            sheets.getByName(old).Name = new
            sheets.moveByName(new, place)
        for sheet, what, at in case.get("insert", []):
            getattr(sheets.getByName(sheet), what).insertByIndex(at, 1)
        # All of a fresh document, then only what follows from the cells that were typed.
        if not answers or task.get("reset"):
            document.calculateAll()
        else:
            document.calculate()
        answers.append(read_all(sheets, case.get("read", [])))
        if case.get("save"):
            target = uno.systemPathToFileUrl(os.path.abspath(case["save"]))
            document.storeToURL(target, (prop("FilterName", "Calc MS Excel 2007 XML"),))
    if document is not None:
        document.close(True)
    return answers


def answer(task: dict, desktop, folder: str) -> list:  # type: ignore[no-untyped-def, type-arg]
    # A copy: two programs at one file at a time keep each other out.
    handle, task["path"] = tempfile.mkstemp(os.path.splitext(task["path"])[1], dir=folder)
    os.close(handle)
    shutil.copy(task["of"], task["path"])
    try:
        return run(task, desktop)
    finally:
        os.remove(task["path"])


def main() -> None:
    with tempfile.TemporaryDirectory() as profile:
        os.makedirs(os.path.join(profile, "user"))
        with open(os.path.join(profile, "user", "registrymodifications.xcu"), "w") as settings:
            settings.write(RECALCULATE)
        pipe = f"td{os.getpid()}"
        office = subprocess.Popen(
            [
                "soffice",
                f"-env:UserInstallation=file://{profile}",
                "--headless",
                "--norestore",
                "--nologo",
                f"--accept=pipe,name={pipe};urp;",
            ],
            stdout=subprocess.DEVNULL,
            stderr=subprocess.DEVNULL,
            # A group of its own: the program starts others, and all of them have to end.
            start_new_session=True,
        )
        try:
            context = connect(pipe)
            desktop = context.ServiceManager.createInstanceWithContext(
                "com.sun.star.frame.Desktop", context
            )
            for line in sys.stdin:
                task = json.loads(line)
                task["of"] = task["path"]
                print(json.dumps(answer(task, desktop, profile)), flush=True)
            # The bridge closes under our feet: LibreOffice is gone, as asked.
            with contextlib.suppress(Exception):
                desktop.terminate()
        finally:
            with contextlib.suppress(subprocess.TimeoutExpired):
                office.wait(20)
            with contextlib.suppress(ProcessLookupError):
                os.killpg(office.pid, signal.SIGKILL)


main()
