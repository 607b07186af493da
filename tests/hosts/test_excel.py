"""Excel as far as it goes without Excel: xlwings' own conversion, wrappers, VBA compiled."""

import json
import subprocess
import sys
from pathlib import Path
from typing import Any

import pytest

from tests.catalogue.test_functions import example
from tests.hosts.test_calc_addin import plain_calls
from tests.libreoffice import calc
from twodrum.catalogue import BY_CALL, FUNCTIONS
from twodrum.cli import main
from twodrum.hosts import excel_link
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

HERE = Path(__file__).parent
MISSING = {"missing": True}


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


def test_module__compiles_and_turns_marks_into_errors(tmp_path: Path) -> None:
    # LibreOffice's Basic in its VBA mode; Excel's own VBA was not at hand.
    python = calc.require()
    path = tmp_path / "module.bas"
    path.write_text(module_text(), encoding="ascii")
    done = subprocess.run(
        [python, str(HERE / "vba_driver.py"), str(path), str(tmp_path / "profile")],
        capture_output=True,
        text=True,
        timeout=120,
        check=False,
    )
    assert done.stdout.strip() == "1.5 True a text True True plain 2", done.stderr


def test_link_excel__makes_the_folder_once_and_says_what_to_click(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    folder = tmp_path / "excel"
    assert main(["addin", "excel", "--build", str(folder)]) == 0
    said = capsys.readouterr().out
    assert "Press Alt+F11, choose File, Import File" in said
    assert sorted(path.name for path in folder.iterdir()) == [
        "twodrum.xlsm",
        "twodrum_functions.bas",
        "xlwings.conf",
    ]
    source = excel_link.xlwings_folder() / excel_link.BOOK
    assert (folder / "twodrum.xlsm").read_bytes() == source.read_bytes()
    assert f'"INTERPRETER_WIN","{sys.executable}"' in (folder / "xlwings.conf").read_text()
    assert b"\r\n" in (folder / "twodrum_functions.bas").read_bytes()
    assert main(["addin", "excel", "--build", str(folder)]) == 2
    assert "is there already; a new folder is wanted" in capsys.readouterr().err


def test_link_calc__builds_the_same_bytes_twice(tmp_path: Path) -> None:
    for name in ("one.oxt", "two.oxt"):
        assert main(["addin", "calc", "--build", str(tmp_path / name)]) == 0
    assert (tmp_path / "one.oxt").read_bytes() == (tmp_path / "two.oxt").read_bytes()


def test_examples_have_arguments_for_every_function() -> None:
    assert len(plain_calls()) == len(FUNCTIONS) == len(BY_CALL)
    assert all(example(function) for function in FUNCTIONS)
