"""Excel as far as it goes without Excel: xlwings' own conversion, wrappers, VBA compiled."""

import ast
import json
import os
import re
import shutil
import subprocess
import sys
import xml.etree.ElementTree as ET
import zipfile
from pathlib import Path
from typing import Any

import pytest
import xlwings
from oletools.olevba import VBA_Parser

from tests.catalogue.test_functions import example
from tests.hosts.test_calc_addin import plain_calls
from tests.libreoffice import calc
from tests.workbook.typing import small_job
from twodrum.catalogue import BY_CALL, FUNCTIONS
from twodrum.cli import main
from twodrum.commands.already import already
from twodrum.commands.fill import check_file, fill_file
from twodrum.commands.installed import XLWINGS
from twodrum.hosts import LinkError, excel_link
from twodrum.hosts.excel_macro import FILLER
from twodrum.hosts.excel_wrapper import (
    LONGEST_HELP,
    RESERVED,
    Declared,
    declared,
    module_text,
    place_name,
    plain,
    wrapper,
)
from twodrum.units import KINDS, parse
from twodrum.worksheet.call import Refused, answer
from twodrum.xlsx.book import Book

HERE = Path(__file__).parent
MISSING = {"missing": True}
MAIN = "{http://schemas.openxmlformats.org/spreadsheetml/2006/main}"


def macros(path: Path) -> str:
    """The VBA of a workbook, read by a parser that knows nothing of us."""
    parser = VBA_Parser(str(path))
    found = "\n".join(code for *_, code in parser.extract_macros())
    parser.close()
    return found.replace("\r\n", "\n")


def value(raw: Any) -> dict[str, Any]:
    return MISSING if raw is None else {"value": raw}


def cell_or_range(raw: Any) -> dict[str, Any]:
    if isinstance(raw, list):
        return {"range": [[one] for one in raw]}
    return value(raw)


CASES: list[tuple[str, list[dict[str, Any]], Any]] = [
    ("TD_DEW_POINT", [value(20.0), value(0.7), value("°F")], [[57.846529791988644]]),
    ("TD_DEW_POINT", [value("20 °C"), value("70 %"), MISSING], None),
    # A refused number leaves with the mark of #N/A; an error that comes in goes out.
    ("TD_DEW_POINT", [value(99.0), value(0.7), MISSING], [["#ERR:#N/A"]]),
    ("TD_DEW_POINT", [value({"error": "#DIV/0!"}), value(0.7), MISSING], [["#ERR:#DIV/0!"]]),
    (
        "TD_DEW_POINT",
        [{"range": [[20.0], [{"error": "#REF!"}]]}, value(0.7), MISSING],
        [["#ERR:#VALUE!"]],
    ),
    # A blank cell by itself is 0, in a range it is missing.
    ("TD_DEW_POINT", [{"range": [[None]]}, value(0.7), MISSING], None),
    (
        "TD_DEW_POINT",
        [{"range": [[20.0], [None], ["warm"]]}, value(0.7), MISSING],
        [[14.359183217771545], ["#ERR:#N/A"], ["#ERR:#N/A"]],
    ),
    ("TD_DEW_POINT", [value(20.0), MISSING, MISSING], [["#ERR:#N/A"]]),
    (
        "TD_ROBUST_SLOPE",
        [
            {"range": [[{"date": "2026-01-01"}], [{"date": "2026-01-02"}], [None]]},
            {"range": [[1.0], [3.0], [None]]},
            MISSING,
        ],
        [[2.0]],
    ),
    (
        "TD_WHY",
        [value("TD_DEW_POINT"), value(99.0), value(0.7), *[MISSING] * 14],
        [["TD_DEW_POINT: air temperature is 99 °C; it must be at most 60 °C"]],
    ),
    ("TD_CONVERT", [value(80.0), value("mil"), value("mm")], [[2.032]]),
    ("TD_CONVERT", [value(80.0), value("mil"), value("bar")], [["#ERR:#N/A"]]),
    (
        "TD_COMBINED",
        [cell_or_range([412.0, 405.0, 398.0]), cell_or_range([6.0, 3.0, 5.0]), MISSING],
        None,
    ),
]


@pytest.fixture(scope="module")
def spoken() -> dict[str, Any]:
    """What xlwings' own code makes of every call, in a process that stands in for Windows."""
    most = {one.name: len(one.arguments) for one in declared()}
    calls = [
        [name, [*given, *[MISSING] * (most[name] - len(given))][: most[name]]]
        for name, given, _ in CASES
    ]
    for name, given in plain_calls():
        padded = [cell_or_range(raw) for raw in given]
        calls.append([name, [*padded, *[MISSING] * (most[name] - len(padded))]])
    done = subprocess.run(
        [sys.executable, str(HERE / "xlwings_driver.py")],
        input=json.dumps(calls),
        capture_output=True,
        text=True,
        timeout=120,
        check=False,
        env={"PYTHONPATH": str(HERE.parents[1] / "src"), "PYTHONUTF8": "1"},
    )
    assert done.returncode == 0, done.stderr
    found: dict[str, Any] = json.loads(done.stdout)
    return found


@pytest.mark.parametrize("index", range(len(CASES)), ids=[name for name, *_ in CASES])
def test_call__through_xlwings(spoken: dict[str, Any], index: int) -> None:
    name, given, expected = CASES[index]
    if expected is None:
        plain_values = [
            raw.get("value", [row[0] for row in raw.get("range", [])] or None) for raw in given
        ]
        plain_values = [0.0 if raw == [None] else raw for raw in plain_values]
        expected = answer(name, plain_values)
    found = spoken["found"][index]
    assert found == expected


def test_every_function_is_pythons_to_the_last_bit(spoken: dict[str, Any]) -> None:
    for (name, given), found in zip(plain_calls(), spoken["found"][len(CASES) :], strict=True):
        expected = [
            ["#ERR:#N/A" if isinstance(cell, Refused) else cell for cell in row]
            for row in answer(name, given)
        ]
        assert found == expected, name


def test_every_function_is_registered_with_its_help(spoken: dict[str, Any]) -> None:
    registered = spoken["registered"]
    assert set(registered) == {one.name for one in declared()}
    for one in declared():
        told = registered[one.name]
        assert told["category"] == one.category
        assert told["volatile"] is False
        assert told["doc"] == one.help
        assert [tuple(argument) for argument in told["arguments"]] == list(one.arguments)


def test_xlwings_own_wrappers_know_every_function_and_argument(spoken: dict[str, Any]) -> None:
    for one in declared():
        places = [f"Optional {key}" if may else key for key, _, may in one.arguments]
        assert f"Function {one.name}({', '.join(places)})\n" in spoken["stock"]


def test_wrapper__odd_names_and_left_out_arguments() -> None:
    arguments = (
        (place_name("Width"), "", False),
        (place_name("film_thickness"), "", False),
        (place_name("time"), "", True),
    )
    assert wrapper(Declared("TD_ODD", "", "", arguments)) == (
        "\n"
        "Public Function TD_ODD(Width_, film_thickness, Optional time_) As Variant\n"
        "    On Error GoTo failed\n"
        '    TD_ODD = TDCells(XLPy.CallUDF("twodrum.hosts.excel", "TD_ODD", _\n'
        "        Array(Width_, film_thickness, time_), ThisWorkbook, Application.Caller))\n"
        "    Exit Function\n"
        "failed:\n"
        "    TD_ODD = CVErr(2015)\n"
        "End Function\n"
    )


def test_module__keeps_what_vba_asks_for() -> None:
    text = module_text()
    assert text.isascii()
    assert max(map(len, text.splitlines())) < 1000
    run = 0
    for line in text.splitlines():
        run = run + 1 if line.endswith(" _") else 0
        assert run <= 24, line
    for one in declared():
        assert text.count(f"Public Function {one.name}(") == 1
        assert text.count(f'Macro:="{one.name}"') == 1
        names = [key for key, _, _ in one.arguments]
        assert len({name.lower() for name in names}) == len(names)
        assert not RESERVED & {name.lower() for name in names}
        assert all(len(words) <= LONGEST_HELP for _, words, _ in one.arguments)


def test_units_are_understood_as_the_wizard_spells_them_in_plain_letters() -> None:
    for kind in KINDS.values():
        for unit in kind.units:
            if len(kind.units) > 1:
                expected = parse(f"1 {unit.text}", kind.name)
                assert parse(f"1 {plain(unit.text)}", kind.name) == expected, unit.text


CASES_OF_A_FILL = ("", "no", "read only", "disk full", "not run", "no python")


@pytest.fixture(scope="module")
def in_basic(tmp_path_factory: pytest.TempPathFactory) -> tuple[list[str], dict[str, Path]]:
    """What the module does in LibreOffice's Basic, in its VBA mode: Excel's own was not at hand.

    The answer to marked texts; then of each case of a fill what was said, which workbook was
    asked for, and which workbook, sheet and cell are shown in the end.
    """
    python, folder = calc.require(), tmp_path_factory.mktemp("basic")
    module = folder / "module.bas"
    module.write_text(module_text(), encoding="ascii")
    jobs = {case: folder / f"J\u00fcrgen {case or 'plain'}.xlsx" for case in CASES_OF_A_FILL}
    made = small_job(folder / "made.xlsx")
    fill_file(made)
    for path in jobs.values():
        shutil.copy(made, path)
    given = [word for case, path in jobs.items() for word in (str(path), case)]
    environment = {
        **os.environ,
        "TEMP": str(folder),
        "TWODRUM_PYTHON": sys.executable,
        "TWODRUM_FILL": f"-X utf8 -m {FILLER}",
        "PYTHONPATH": str(HERE.parents[1] / "src"),
    }
    done = subprocess.run(
        [python, str(HERE / "vba_driver.py"), str(module), str(folder / "profile"), *given],
        env=environment,
        capture_output=True,
        text=True,
        timeout=240,
        check=False,
    )
    assert done.returncode == 0, done.stderr
    return done.stdout.splitlines(), jobs


Basic = tuple[list[str], dict[str, Path]]


def test_module__compiles_and_turns_marks_into_errors(in_basic: Basic) -> None:
    assert in_basic[0][0] == "1.5 True a text True True plain 2"


@pytest.mark.parametrize(
    ("case", "said", "film"),
    [
        ("", " bytes were said.", 0.0025),
        ("no", "", 0.002),
        ("read only", ": it is open for reading only, perhaps because somebody else has", 0.002),
        ("disk full", ": it could not be saved, so it was not filled: ", 0.002),
        ("not run", "Python could not be called: ", 0.0025),
        ("no python", "no interpreter is named in this add-in. Run twodrum addin excel", 0.002),
    ],
)
def test_macro__saves_closes_fills_and_opens_again_or_says_why_not(
    in_basic: Basic, case: str, said: str, film: float
) -> None:
    lines, jobs = in_basic
    found = lines[1 + CASES_OF_A_FILL.index(case)].split("|")
    assert said in found[0] and bool(said) == bool(found[0])
    # Asked before anything is saved; the same sheet and cell are shown in the end.
    asked = jobs[case].name if case not in ("read only", "no python") else ""
    assert found[1:] == [asked, jobs[case].name, "Quote", "$C$3"]
    # A file that a fill left is known by its bytes; one saved since is not.
    assert (already(jobs[case]) is None) == (case == "not run")
    read = check_file(jobs[case])
    assert read.values.names["film_thickness"].si == pytest.approx(film, abs=1e-12)


def test_link_excel__makes_the_folder_once_and_says_what_to_click(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    folder = tmp_path / "excel"
    assert main(["addin", "excel", "--build", str(folder)]) == 0
    said = capsys.readouterr().out
    assert "choose File, Import File" in said
    assert sorted(path.name for path in folder.iterdir()) == [
        "twodrum.xlam",
        "twodrum_functions.bas",
    ]
    assert b"\r\n" in (folder / "twodrum_functions.bas").read_bytes()
    assert main(["addin", "excel", "--build", str(folder)]) == 2
    assert "is there already; a new folder is wanted" in capsys.readouterr().err


def test_addin__its_settings_stand_on_the_sheet_that_its_macros_read(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    # A path that no file in the machine's own small character set can hold.
    python = "C:\\Users\\J\u00fcrgen & S\u00f8n\\python.exe"
    monkeypatch.setattr(sys, "executable", python)
    source = excel_link.xlwings_folder() / excel_link.BOOK
    parts = excel_link.addin(source)
    code = macros(source)
    project = re.search(r'PROJECT_NAME As String = "(\w+)"', code)
    assert project is not None
    book = ET.fromstring(parts["xl/workbook.xml"])
    assert [sheet.get("name") for sheet in book.iter(f"{MAIN}sheet")] == [f"{project[1]}.conf"]
    sheet = ET.fromstring(parts["xl/worksheets/sheet1.xml"])
    texts = {c.get("r"): "".join(c.itertext()) for c in sheet.iter(f"{MAIN}c")}
    rows = {texts[f"A{row}"]: texts[f"B{row}"] for row in range(1, len(texts) // 2 + 1)}
    assert rows == excel_link.settings()
    assert rows["INTERPRETER_WIN"] == python
    # What is asked of the sheet stands on it as it is asked, in capitals.
    assert "d.Add UCase(cell.Value), cell.Offset(0, 1).Value" in code
    for key in rows:
        assert f'GetConfig("{key}"' in code
    with zipfile.ZipFile(source) as before:
        changed = {name for name in before.namelist() if before.read(name) != parts[name]}
    assert changed == {"xl/workbook.xml", "xl/worksheets/sheet1.xml"}


def test_addin__is_that_of_the_version_it_was_read_against() -> None:
    code = macros(excel_link.xlwings_folder() / excel_link.BOOK)
    assert f'XLWINGS_VERSION As String = "{XLWINGS}"' in code
    assert xlwings.__version__ == XLWINGS
    pins = re.findall(r"xlwings==([\d.]+)", (HERE.parents[1] / "pyproject.toml").read_text())
    assert pins == [XLWINGS] * 2


def test_addin__another_library_is_refused_in_a_sentence(tmp_path: Path) -> None:
    other = tmp_path / "other.xlam"
    with zipfile.ZipFile(other, "w") as book:
        book.writestr("xl/workbook.xml", "<workbook/>")
        book.writestr("xl/worksheets/sheet1.xml", "<worksheet/>")
    with pytest.raises(LinkError, match=r"is another one than that of 0\.37\.8; install that one"):
        excel_link.addin(other)


def test_module__what_it_calls_is_there_with_these_arguments() -> None:
    code, ours = macros(excel_link.xlwings_folder() / excel_link.BOOK), module_text()
    assert "\nFunction XLPy()\n" in code
    assert re.search(
        r"^Function GetConfig\(configKey As String, Optional default", code, re.MULTILINE
    )
    server = (excel_link.xlwings_folder() / "com_server.py").read_text()
    called = next(
        node
        for node in ast.walk(ast.parse(server))
        if isinstance(node, ast.FunctionDef) and node.name == "CallUDF"
    )
    assert [one.arg for one in called.args.args] == [
        "self",
        "script",
        "fname",
        "args",
        "this_workbook",
        "caller",
    ]
    # Nothing else of it is used, and no name of ours is one of its own.
    theirs = set(re.findall(r"(?:Sub|Function) (\w+)\(", code))
    assert not theirs & set(re.findall(r"(?:Sub|Function) (\w+)\(", ours))
    bare = re.sub(r'"[^"\n]*"', "", ours)
    used = {name for name in theirs if re.search(rf"\b{name}\b", bare)}
    assert used == {"XLPy", "GetConfig"}


def test_module__a_missing_python_is_told_where_one_asks_why() -> None:
    text = module_text()
    why = text[text.index("Public Function TD_WHY(") :]
    assert "    TD_WHY = TDTrouble(Err.Description)\nEnd Function" in why
    assert text.count("TDTrouble(Err.Description)") == 2


def test_fill_for_excel__leaves_its_words_for_the_macro(tmp_path: Path) -> None:
    job, answer = tmp_path / "J\u00fcrgen 100 %.xlsx", tmp_path / "answer.txt"
    small_job(job)
    command = [sys.executable, "-X", "utf8", "-m", FILLER, str(job), str(answer)]
    environment = {**os.environ, "PYTHONPATH": str(HERE.parents[1] / "src")}
    done = subprocess.run(command, env=environment, capture_output=True, timeout=120, check=False)
    assert (done.returncode, done.stdout, done.stderr) == (0, b"", b"")
    said = answer.read_bytes().decode("utf-16")
    assert said.startswith(f"{job}: filled")
    assert said.endswith("No problem in what was typed.")
    assert Book.open(job).named("state_start") is not None
    gone = [*command[:5], str(tmp_path / "none.xlsx"), str(answer)]
    done = subprocess.run(gone, env=environment, capture_output=True, timeout=120, check=False)
    assert done.returncode == 2
    assert "none.xlsx" in answer.read_bytes().decode("utf-16")


def test_link_calc__builds_the_same_bytes_twice(tmp_path: Path) -> None:
    for name in ("one.oxt", "two.oxt"):
        assert main(["addin", "calc", "--build", str(tmp_path / name)]) == 0
    assert (tmp_path / "one.oxt").read_bytes() == (tmp_path / "two.oxt").read_bytes()


def test_examples_have_arguments_for_every_function() -> None:
    assert len(plain_calls()) == len(FUNCTIONS) == len(BY_CALL)
    assert all(example(function) for function in FUNCTIONS)
