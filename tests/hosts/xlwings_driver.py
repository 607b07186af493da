"""Call worksheet functions through xlwings' own conversion, as Excel on Windows would.

Run in a process of its own: it stands in for the modules of Windows that xlwings imports.
Reads JSON [[name, [arguments]], ...] from standard input; an argument is {"missing": true},
{"value": x} or {"range": rows}, where {"error": number} is an error cell and {"date": text} a
date. Writes what each call gives back.
"""

import ctypes
import datetime as dt
import io
import json
import sys
import types
from unittest import mock

MISSING = -2147352572


def stand_in() -> None:
    """Modules of pywin32 that are only imported, never called for what is tried here."""
    names = (
        "pywintypes pythoncom win32api win32con win32gui win32event win32process win32timezone"
        " win32com win32com.client win32com.client.dynamic win32com.server win32com.server.util"
        " win32com.server.dispatcher win32com.server.policy win32com.universal winerror"
    )
    for name in names.split():
        module = mock.MagicMock(name=name)
        module.__spec__ = types.SimpleNamespace(name=name)
        module.__file__ = f"{name}.dll"
        sys.modules[name] = module
    sys.modules["pywintypes"].com_error = type("com_error", (Exception,), {})
    sys.modules["pywintypes"].TimeType = dt.datetime
    for library in ("oledll", "windll", "PyDLL", "WinDLL", "WINFUNCTYPE"):
        setattr(ctypes, library, mock.MagicMock(name=library))


def main() -> None:
    calls = json.load(sys.stdin)
    stand_in()
    with mock.patch.object(sys, "platform", "win32"):
        from xlwings import _xlwindows, udfs

        import twodrum.hosts.excel  # noqa: F401
    errors = dict(_xlwindows.cell_errors)

    def cell(raw):  # type: ignore[no-untyped-def]
        if isinstance(raw, dict) and "error" in raw:
            return next(n for n, text in errors.items() if text == raw["error"])
        if isinstance(raw, dict):
            return dt.datetime.fromisoformat(raw["date"])
        return raw

    def value(raw):  # type: ignore[no-untyped-def]
        if "missing" in raw:
            return MISSING
        if "range" in raw:
            return tuple(tuple(cell(one) for one in row) for row in raw["range"])
        return cell(raw["value"])

    found = []
    with (
        mock.patch.object(udfs, "Range", mock.MagicMock()),
        mock.patch.object(_xlwindows, "is_range_instance", lambda _: False),
    ):
        for name, arguments in calls:
            given = tuple(value(raw) for raw in arguments)
            found.append(udfs.call_udf("twodrum.hosts.excel", name, given))
    from twodrum.hosts import excel

    registered = {
        name: {
            "doc": one.__doc__,
            "category": one.__xlfunc__["category"],
            "volatile": one.__xlfunc__["volatile"],
            "arguments": [[a["name"], a["doc"], "optional" in a] for a in one.__xlfunc__["args"]],
        }
        for name, one in vars(excel).items()
        if hasattr(one, "__xlfunc__")
    }
    written = io.StringIO()
    book = types.SimpleNamespace(Name="book.xlsm")
    udfs.generate_vba_wrapper("twodrum.hosts.excel", excel, written, book)
    answer = {"found": found, "registered": registered, "stock": written.getvalue()}
    json.dump(answer, sys.stdout, default=str)


main()
