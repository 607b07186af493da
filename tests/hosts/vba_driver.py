"""Compile a VBA module in LibreOffice's Basic and call a function of it; prints its answer.

Run by the Python that has the uno module: ``vba_driver.py MODULE.bas PROFILE``.
"""

import os
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


def prop(name, value):  # type: ignore[no-untyped-def]
    result = PropertyValue()
    result.Name, result.Value = name, value
    return result


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
            "Module1", f"Option VBASupport 1\n{code}\n{TRY}"
        )
        script = book.getScriptProvider().getScript(
            "vnd.sun.star.script:Standard.Module1.TDTry?language=Basic&location=document"
        )
        print(script.invoke((), (), ())[0])
    finally:
        with suppress(ProcessLookupError):
            os.killpg(office.pid, signal.SIGKILL)


main()
