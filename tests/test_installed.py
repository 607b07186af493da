"""What is installed, on machines of every kind: what is told, and how it is mended."""

import shutil
from dataclasses import replace
from pathlib import Path

import pytest
from openpyxl import Workbook, load_workbook

from twodrum.books.excel_steps import FIRST, SHEET, STEPS
from twodrum.cli import main
from twodrum.commands.installed import GOOD, HINT, MEND, Machine, findings, this_machine
from twodrum.resources import resource

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


def test_what_was_seen_in_excel_is_typed_beside_the_steps_and_read_back(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    path = tmp_path / "functions.xlsx"
    shutil.copy(resource("workbook_templates", "functions.xlsx"), path)
    assert main(["installed", str(path)]) == 0
    said = capsys.readouterr().out
    assert said.count("not tried") == len(STEPS)
    book = load_workbook(path)
    sheet = book[SHEET]
    assert [row[1].value for row in sheet.iter_rows(FIRST, FIRST + len(STEPS) - 1)] == [
        what for what, _ in STEPS
    ]
    sheet[f"D{FIRST}"], sheet[f"D{FIRST + 1}"] = "yes", "No"
    sheet[f"E{FIRST + 1}"], sheet[f"D{FIRST + 2}"] = "Compile error", "perhaps"
    book.save(path)
    assert main(["installed", str(path)]) == 1
    lines = capsys.readouterr().out.splitlines()
    assert lines[0].startswith("hint  saved by: Microsoft Excel")
    assert lines[2].startswith("good  step 1: seen (In a folder of its own")
    assert lines[3].startswith("mend  step 2: not seen: The import shows no message")
    assert "What stood there: Compile error" in lines[3]
    assert lines[4].startswith("mend  step 3: Seen is 'perhaps'; yes or no is wanted")
    assert sum("not tried" in line for line in lines) == len(STEPS) - 3


def test_another_workbook_has_no_such_steps(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    Workbook().save(tmp_path / "other.xlsx")
    assert main(["installed", str(tmp_path / "other.xlsx")]) == 2
    assert "it has no sheet Steps in Excel; take functions.xlsx" in capsys.readouterr().err
    assert main(["installed", str(tmp_path / "gone.xlsx")]) == 2
    assert "Traceback" not in capsys.readouterr().err
