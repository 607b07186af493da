"""Drive one LibreOffice process over UNO; run by the Python that has the uno module.

Reads one JSON task from standard input, writes one JSON answer to standard output:
``{"path": ..., "cases": [{"set": [[sheet, cell, value], ...], "read": [[sheet, cell], ...],
"save": path or null}, ...], "reset": true}``. With "reset" the document is loaded anew
for every case. A value of null clears the cell; numbers and texts are typed as such.
"""

from __future__ import annotations

import json
import os
import subprocess
import sys
import tempfile
import time

import uno
from com.sun.star.beans import PropertyValue
from com.sun.star.connection import NoConnectException

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


def read(cell) -> object:  # type: ignore[no-untyped-def]
    from com.sun.star.table.CellContentType import EMPTY, TEXT, VALUE

    if cell.getError():
        return {"error": cell.String}
    kind = cell.Type
    if kind == EMPTY:
        return None
    if kind == VALUE:
        return cell.Value
    if kind == TEXT:
        return cell.String
    return cell.String if cell.FormulaResultType2 == 2 else cell.Value


def run(task: dict, desktop) -> list:  # type: ignore[no-untyped-def, type-arg]
    url = uno.systemPathToFileUrl(os.path.abspath(task["path"]))
    answers, document = [], None
    for case in task["cases"]:
        if document is None or task.get("reset"):
            if document is not None:
                document.close(True)
            document = desktop.loadComponentFromURL(url, "_blank", 0, (prop("Hidden", True),))
        sheets = document.Sheets
        for sheet, address, value in case.get("set", []):
            cell = sheets.getByName(sheet).getCellRangeByName(address)
            if value is None:
                cell.setFormula("")
            elif isinstance(value, str):
                cell.setString(value)
            else:
                cell.setValue(value)
        for old, new, position in case.get("move", []):
            sheets.getByName(old).Name = new
            sheets.moveByName(new, position)
        document.calculateAll()
        answers.append(
            [read(sheets.getByName(s).getCellRangeByName(a)) for s, a in case.get("read", [])]
        )
        if case.get("save"):
            target = uno.systemPathToFileUrl(os.path.abspath(case["save"]))
            document.storeToURL(target, (prop("FilterName", "Calc MS Excel 2007 XML"),))
    if document is not None:
        document.close(True)
    return answers


def main() -> None:
    task = json.load(sys.stdin)
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
        )
        try:
            context = connect(pipe)
            desktop = context.ServiceManager.createInstanceWithContext(
                "com.sun.star.frame.Desktop", context
            )
            answers = run(task, desktop)
            try:
                desktop.terminate()
            except Exception:  # the bridge closes under our feet: LibreOffice is gone, as asked
                pass
        finally:
            try:
                office.wait(20)
            except subprocess.TimeoutExpired:
                office.kill()
    json.dump(answers, sys.stdout)


main()
