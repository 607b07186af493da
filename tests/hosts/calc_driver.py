"""Drive a LibreOffice with the add-in; run by the Python that has the uno module.

Reads a JSON task with "profile" and either "gallery", "first", "cells", "formulas", "arrays",
"count" and "timed", or "book", "rounds" (of typing) and "read"; writes a JSON answer.
"""

import json
import os
import signal
import subprocess
import sys
import time
from contextlib import suppress

import uno
from com.sun.star.beans import PropertyValue
from com.sun.star.connection import NoConnectException
from com.sun.star.sheet.FillDirection import TO_BOTTOM

PIPE = f"twodrum{os.getpid()}"


def prop(name, value):  # type: ignore[no-untyped-def]
    result = PropertyValue()
    result.Name, result.Value = name, value
    return result


def connect(pipe):  # type: ignore[no-untyped-def]
    local = uno.getComponentContext()
    resolver = local.ServiceManager.createInstanceWithContext(
        "com.sun.star.bridge.UnoUrlResolver", local
    )
    for _ in range(600):
        try:
            return resolver.resolve(f"uno:pipe,name={pipe};urp;StarOffice.ComponentContext")
        except NoConnectException:
            time.sleep(0.1)
    raise SystemExit("LibreOffice did not answer")


def read(cell):  # type: ignore[no-untyped-def]
    """A number, a text, or {"error": its number}."""
    if cell.getError():
        return {"error": cell.getError()}
    text = cell.FormulaResultType2 == 2 if cell.Formula.startswith(("=", "{")) else False
    return cell.String if text or cell.Type.value == "TEXT" else cell.Value


def functions(manager, context, desktop, hidden, task):  # type: ignore[no-untyped-def]
    """The gallery, the wizard, formulas and arrays in a book of their own, and times."""
    answer = {}
    book = desktop.loadComponentFromURL(f"file://{task['gallery']}", "_blank", 0, hidden)
    sheet = book.Sheets.getByIndex(0)
    cursor = sheet.createCursor()
    cursor.gotoEndOfUsedArea(False)
    rows = range(task["first"] - 1, cursor.RangeAddress.EndRow + 1)
    answer["state"] = sheet.getCellRangeByName("A2").String
    answer["gallery"] = [read(sheet.getCellByPosition(3, row)) for row in rows]
    book.close(True)

    found = manager.createInstanceWithContext("com.sun.star.sheet.FunctionDescriptions", context)
    wizard = {}
    for index in range(found.Count):
        entry = {one.Name: one.Value for one in found.getByIndex(index)}
        if entry["Name"].startswith("TD_"):
            wizard[entry["Name"]] = {
                "description": entry["Description"],
                "arguments": [[a.Name, a.Description, a.IsOptional] for a in entry["Arguments"]],
            }
    answer["wizard"] = wizard

    book = desktop.loadComponentFromURL("private:factory/scalc", "_blank", 0, hidden)
    sheet = book.Sheets.getByIndex(0)
    for address, value in task["cells"]:
        cell = sheet.getCellRangeByName(address)
        if isinstance(value, str):
            if value.startswith("="):
                cell.Formula = value
            else:
                cell.String = value
        else:
            cell.Value = value
    answer["formulas"] = []
    for number, formula in enumerate(task["formulas"], 1):
        cell = sheet.getCellRangeByName(f"H{number}")
        cell.Formula = formula
        answer["formulas"].append(read(cell))
    answer["arrays"] = []
    for place, formula in task["arrays"]:
        block = sheet.getCellRangeByName(place)
        block.setArrayFormula(formula)
        size = block.RangeAddress
        answer["arrays"].append(
            [
                [
                    read(block.getCellByPosition(c, r))
                    for c in range(size.EndColumn - size.StartColumn + 1)
                ]
                for r in range(size.EndRow - size.StartRow + 1)
            ]
        )
    book.close(True)

    answer["seconds"] = {}
    count = task["count"]
    for name, formula in task["timed"].items():
        book = desktop.loadComponentFromURL("private:factory/scalc", "_blank", 0, hidden)
        sheet = book.Sheets.getByIndex(0)
        numbers = tuple((20.0 + n / count, 0.5) for n in range(count))
        sheet.getCellRangeByName(f"A1:B{count}").setDataArray(numbers)
        if formula.startswith("{"):
            # One call over all of them.
            sheet.getCellRangeByName(f"C1:C{count}").setArrayFormula(formula[1:-1])
        else:
            sheet.getCellRangeByName("C1").Formula = formula
            sheet.getCellRangeByName(f"C1:C{count}").fillAuto(TO_BOTTOM, 1)
        book.calculateAll()
        start = time.perf_counter()
        book.calculateAll()
        answer["seconds"][name] = time.perf_counter() - start
        answer[f"last {name}"] = sheet.getCellRangeByName(f"C{count}").Value
        book.close(True)
    return answer


def rounds(desktop, hidden, task):  # type: ignore[no-untyped-def]
    """Cells of one book after each round of typing; what is typed stays."""
    book = desktop.loadComponentFromURL(f"file://{task['book']}", "_blank", 0, hidden)
    found = []
    for typed in task["rounds"]:
        for sheet, row, column, value in typed:
            cell = book.Sheets.getByName(sheet).getCellByPosition(column - 1, row - 1)
            if value is None:
                cell.String = ""
            elif isinstance(value, str):
                cell.String = value
            else:
                cell.Value = value
        book.calculateAll()
        cells = [
            book.Sheets.getByName(sheet).getCellByPosition(column - 1, row - 1)
            for sheet, row, column in task["read"]
        ]
        found.append([read(cell) for cell in cells])
    book.close(True)
    return found


def main():  # type: ignore[no-untyped-def]
    task = json.load(sys.stdin)
    office = subprocess.Popen(
        [
            "soffice",
            "--headless",
            "--norestore",
            f"--accept=pipe,name={PIPE};urp",
            f"-env:UserInstallation=file://{task['profile']}",
        ],
        stdout=subprocess.DEVNULL,
        stderr=subprocess.DEVNULL,
        # A group of its own: the program starts others, and all of them have to end.
        start_new_session=True,
    )
    answer = {}
    try:
        context = connect(PIPE)
        manager = context.ServiceManager
        desktop = manager.createInstanceWithContext("com.sun.star.frame.Desktop", context)
        hidden = (prop("Hidden", True),)

        if "gallery" in task:
            answer.update(functions(manager, context, desktop, hidden, task))
        if "book" in task:
            answer["rounds"] = rounds(desktop, hidden, task)
    finally:
        with suppress(Exception):
            desktop.terminate()
        with suppress(Exception):
            office.wait(20)
        with suppress(ProcessLookupError):
            os.killpg(office.pid, signal.SIGKILL)
    json.dump(answer, sys.stdout)


main()
