"""What is installed, on machines of every kind: what is told, and how it is mended."""

from dataclasses import replace

import pytest

from twodrum.cli import main
from twodrum.commands.installed import GOOD, HINT, MEND, Machine, findings, this_machine

PACKAGES = {"openpyxl": "3.1", "pandas": "2.2", "pint": "0.24", "rich": "13", "xlwings": "0.37.8"}
LINUX = Machine("linux", "/usr/bin/python3", (3, 12), 64, PACKAGES, "LibreOffice 25.2.3.2")
WINDOWS = replace(
    LINUX, platform="win32", executable=r"C:\Python312\python.exe", trust=True, library=True
)


def told(machine: Machine, state: str) -> list[str]:
    return [f"{one.topic}: {one.text}" for one in findings(machine) if one.state == state]


def test_a_good_machine_has_nothing_to_mend() -> None:
    for machine in (LINUX, WINDOWS):
        assert told(machine, MEND) == []
    assert told(WINDOWS, HINT) == []
    assert told(LINUX, HINT) == ["Excel: Excel does not run here; LibreOffice Calc does"]


@pytest.mark.parametrize(
    ("change", "state", "text"),
    [
        (
            {"python": (3, 9)},
            MEND,
            "Python: it is 3.9; 3.11 or newer is wanted; install it from python.org",
        ),
        (
            {"executable": r"C:\Users\a\AppData\Local\Microsoft\WindowsApps\python.exe"},
            MEND,
            "Python: it is the Python of the Microsoft Store; Excel cannot start that one;"
            " install Python from python.org and twodrum with it",
        ),
        (
            {"packages": {**PACKAGES, "pint": ""}},
            MEND,
            "pint: it is not installed; it is wanted for checking units;",
        ),
        (
            {"packages": {**PACKAGES, "xlwings": "0.36.1"}},
            HINT,
            "xlwings: it is 0.36.1; the add-in for Excel is made for 0.37.8;",
        ),
        ({"templates": False}, MEND, "twodrum: a template is missing;"),
        ({"encoding": "cp1252"}, HINT, "terminal: it shows cp1252; UTF-8 is wanted"),
        ({"office": ""}, HINT, "LibreOffice: it was not found;"),
        ({"office": "LibreOffice 7.4.7.2"}, HINT, "LibreOffice: it is LibreOffice 7.4.7.2; older"),
        ({"bits": 32}, HINT, "Excel: Python is a 32 bit one;"),
        ({"library": False}, MEND, "Excel: xlwings' library for Excel is not beside Python;"),
        ({"trust": False}, HINT, "Excel: Excel lets no program at its VBA projects;"),
        (
            {"executable": r"\\server\share\python.exe"},
            MEND,
            "Excel: Python stands on a network drive,",
        ),
        (
            {"executable": r"C:\Users\a\OneDrive\py\python.exe"},
            HINT,
            "Excel: Python stands in a OneDrive folder;",
        ),
        ({"platform": "darwin"}, HINT, "Excel: Excel on a Mac runs no functions in Python;"),
    ],
)
def test_a_machine_with_something_wrong(change: dict[str, object], state: str, text: str) -> None:
    machine = replace(WINDOWS, **change)  # type: ignore[arg-type]
    assert any(line.startswith(text) for line in told(machine, state))


def test_command__says_what_it_found(capsys: pytest.CaptureFixture[str]) -> None:
    expected = 1 if any(one.state == MEND for one in findings(this_machine())) else 0
    assert main(["installed"]) == expected
    said = capsys.readouterr().out
    assert f"{GOOD}  Python: " in said
    assert "twodrum: " in said
