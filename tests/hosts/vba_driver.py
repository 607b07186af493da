"""Compile a VBA module in LibreOffice's Basic and call a function of it; prints its answer.

Run by the Python that has the uno module: ``vba_driver.py MODULE.bas PROFILE [JOB.xlsx CASE]...``.
Each workbook is opened, another film typed, the cell C3 of its last sheet chosen, and filled by
the macro, as far as a machine without Windows goes: what stands alone there is done by others.
"""

import os
import re
import signal
import subprocess
import sys
import time
from contextlib import suppress

import uno
from com.sun.star.beans import PropertyValue
from com.sun.star.connection import NoConnectException

PIPE = f"twodrumvba{os.getpid()}"
TRY = """
Public Function TDTry() As String
    Dim a(0, 3) As Variant
    a(0, 0) = 1.5
    a(0, 1) = "#ERR:#N/A"
    a(0, 2) = "a text"
    a(0, 3) = "#ERR:#DIV/0!"
    Dim b As Variant
    b = TDCells(a)
    TDTry = b(0, 0) & " " & IsError(b(0, 1)) & " " & b(0, 2) & " " & IsError(b(0, 3)) & " "
    TDTry = TDTry & IsError(TDCells("#ERR:#N/A")) & " " & TDCells("plain") & " " & TDCells(2)
End Function
"""

# In the place of what only Windows has: the program by a shell, its words, boxes to click.
INSTEAD = {
    "TDPython": """
Private Function TDPython() As String
    If TDCase <> "no python" Then TDPython = Environ("TWODRUM_PYTHON")
End Function
""",
    "TDReadOnly": """
Private Function TDReadOnly(ByVal book As Variant) As Boolean
    TDReadOnly = TDCase = "read only"
End Function
""",
    "TDSaveAndClose": """
Private Sub TDSaveAndClose(ByVal book As Variant)
    If TDCase = "disk full" Then Kill "/nowhere/at/all"
    StarDesktop.CurrentComponent.store
    StarDesktop.CurrentComponent.close True
End Sub
""",
    "TDRun": """
Private Sub TDRun(ByVal python As String, ByVal path As String, ByVal answer As String)
    Dim quote As String
    If TDCase = "not run" Then Kill "/nowhere/at/all"
    quote = Chr$(34)
    Shell python, 0, Environ("TWODRUM_FILL") & " " & quote & path & quote & " " _
        & quote & answer & quote, True
End Sub
""",
    "TDAnswer": """
Private Function TDAnswer(ByVal answer As String) As String
    TDAnswer = FileLen(answer) & " bytes were said."
End Function
""",
    "TDSay": """
Private Sub TDSay(ByVal words As String)
    TDSaid = words
End Sub
""",
    "TDMaySave": """
Private Function TDMaySave(ByVal file As String) As Boolean
    TDAsked = file
    TDMaySave = TDCase <> "no"
End Function
""",
}
FILLED = """
Public Function TDFilled(ByVal wanted As String) As String
    On Error GoTo failed
    TDSaid = ""
    TDAsked = ""
    TDCase = wanted
    TwodrumFill
    TDFilled = TDSaid & "|" & TDAsked & "|" & ActiveWorkbook.Name & "|" & ActiveSheet.Name
    TDFilled = TDFilled & "|" & ActiveCell.Address
    Exit Function
failed:
    TDFilled = "failed: " & Err.Description
End Function
"""


def prop(name, value):  # type: ignore[no-untyped-def]
    result = PropertyValue()
    result.Name, result.Value = name, value
    return result


def stood_in(code):  # type: ignore[no-untyped-def]
    """The module with what only Windows has done by others."""
    for name, text in INSTEAD.items():
        found = re.findall(rf"\nPrivate (?:Sub|Function) {name}\(.*?\nEnd \w+\n", code, re.DOTALL)
        assert len(found) == 1, name
        code = code.replace(found[0], text)
    return code.replace(
        "Option Explicit\n",
        "Option Explicit\n"
        "Public TDSaid As String\nPublic TDAsked As String\nPublic TDCase As String\n",
    )


def filled(desktop, macros, path, case):  # type: ignore[no-untyped-def]
    """What the macro does to a workbook that is open and changed."""
    job = desktop.loadComponentFromURL(uno.systemPathToFileUrl(path), "_blank", 0, ())
    controller = job.CurrentController
    last = job.Sheets.getByIndex(job.Sheets.Count - 1)
    controller.setActiveSheet(last)
    controller.select(last.getCellRangeByName("C3"))
    place = job.NamedRanges.getByName("film_thickness").getReferredCells()
    place.getCellByPosition(0, 0).setValue(2.5)
    script = macros.getScriptProvider().getScript(
        "vnd.sun.star.script:Standard.Module1.TDFilled?language=Basic&location=document"
    )
    said = script.invoke((case,), (), ())[0]
    desktop.CurrentComponent.close(True)
    return said


def main():  # type: ignore[no-untyped-def]
    with open(sys.argv[1], encoding="ascii") as file:
        code = file.read()
    head, code = code.split("\n", 1)
    assert head.startswith("Attribute VB_Name"), head
    office = subprocess.Popen(
        [
            "soffice",
            "--headless",
            "--norestore",
            f"--accept=pipe,name={PIPE};urp",
            f"-env:UserInstallation=file://{sys.argv[2]}",
        ],
        stdout=subprocess.DEVNULL,
        stderr=subprocess.DEVNULL,
        # A group of its own: the program starts others, and all of them have to end.
        start_new_session=True,
    )
    try:
        local = uno.getComponentContext()
        resolver = local.ServiceManager.createInstanceWithContext(
            "com.sun.star.bridge.UnoUrlResolver", local
        )
        context = None
        for _ in range(600):
            with suppress(NoConnectException):
                address = f"uno:pipe,name={PIPE};urp;StarOffice.ComponentContext"
                context = resolver.resolve(address)
                break
            time.sleep(0.1)
        desktop = context.ServiceManager.createInstanceWithContext(
            "com.sun.star.frame.Desktop", context
        )
        book = desktop.loadComponentFromURL(
            "private:factory/scalc",
            "_blank",
            0,
            (prop("Hidden", True), prop("MacroExecutionMode", 4)),
        )
        libraries = book.BasicLibraries
        if not libraries.hasByName("Standard"):
            libraries.createLibrary("Standard")
        libraries.getByName("Standard").insertByName(
            "Module1", f"Option VBASupport 1\n{stood_in(code)}\n{TRY}\n{FILLED}"
        )
        script = book.getScriptProvider().getScript(
            "vnd.sun.star.script:Standard.Module1.TDTry?language=Basic&location=document"
        )
        print(script.invoke((), (), ())[0])
        for path, case in zip(sys.argv[3::2], sys.argv[4::2]):
            print(filled(desktop, book, path, case))
    finally:
        with suppress(ProcessLookupError):
            os.killpg(office.pid, signal.SIGKILL)


main()
