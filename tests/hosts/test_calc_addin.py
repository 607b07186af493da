"""The add-in in a real LibreOffice: every function to the last bit, errors, arrays, wizard."""

import os
import re
import shutil
import tempfile
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest

from tests.catalogue.test_functions import example
from tests.hosts.linked_office import as_nobody, linked_office
from tests.libreoffice import calc
from twodrum.build.gallery import FIRST, lines
from twodrum.catalogue import FUNCTIONS
from twodrum.commands.installed import OLDEST_OFFICE
from twodrum.hosts import LinkError
from twodrum.hosts import calc as addin
from twodrum.resources import resource
from twodrum.units import from_si
from twodrum.worksheet.call import Refused, answer
from twodrum.worksheet.cells import default_unit
from twodrum.worksheet.help import SPECIALS

NOT_AVAILABLE = {"error": 32767}
GALLERY = "functions.xlsx"
NATIVE = "=243.12*(LN(B1)+17.62*A1/(243.12+A1))/(17.62-LN(B1)-17.62*A1/(243.12+A1))"
# A1 20 °C, A2 25 °C, A3 blank, A4 a text, A5 an error, A6 too warm; B1 a humidity.
CELLS: list[list[Any]] = [
    ["A1", 20.0],
    ["A2", 25.0],
    ["A4", "warm"],
    ["A5", "=1/0"],
    ["A6", 99.0],
    ["B1", 0.7],
    ["C1", 5.1],
    ["C2", 4.7],
    ["C4", 5.6],
    ["D1", "80 mil"],
    ["D2", 70.0],
]
FORMULAS: dict[str, Any] = {
    "=TD_DEW_POINT(A1;B1)": answer("TD_DEW_POINT", [20.0, 0.7])[0][0],
    '=TD_DEW_POINT(A1;B1;"°F")': answer("TD_DEW_POINT", [20.0, 0.7, "°F"])[0][0],
    '=TD_DEW_POINT("68 °F";"70 %")': answer("TD_DEW_POINT", ["68 °F", "70 %"])[0][0],
    "=TD_COATING_VOLUME(12;D1;1)": answer("TD_COATING_VOLUME", [12.0, "80 mil", 1.0])[0][0],
    # A refused number is an error, so that a total refuses too.
    "=TD_DEW_POINT(A6;B1)": NOT_AVAILABLE,
    "=SUM(TD_DEW_POINT(A6;B1);1)": NOT_AVAILABLE,
    "=TD_DEW_POINT(A4;B1)": NOT_AVAILABLE,
    "=TD_DEW_POINT(A1;D2)": NOT_AVAILABLE,
    "=TD_DEW_POINT(A1)": NOT_AVAILABLE,
    '=TD_DEW_POINT(A1;B1;"bar")': NOT_AVAILABLE,
    # An error that comes in goes out.
    "=TD_DEW_POINT(A5;B1)": {"error": 532},
    # The reason is one call away.
    '=TD_WHY("TD_DEW_POINT";A6;B1)': (
        "TD_DEW_POINT: air temperature is 99 °C; it must be at most 60 °C"
    ),
    '=TD_WHY("TD_DEW_POINT";A4;D2)': (
        "TD_DEW_POINT: air temperature: 'warm' is not a number; a number is wanted\n"
        "TD_DEW_POINT: relative humidity: the share is 70; a share from 0 to 1 is wanted;"
        " write 70 % or 0.7"
    ),
    '=TD_WHY("TD_DEW_POINT";A1;B1)': "nothing to mend; it gives 14.3592",
    '=TD_WHY("TD_NO_SUCH";1)': (
        "TD_NO_SUCH: there is no such function; twodrum functions lists them"
    ),
    # A blank cell by itself is 0, as in any formula of a spreadsheet.
    "=TD_DEW_POINT(A3;B1)": answer("TD_DEW_POINT", [0.0, 0.7])[0][0],
    # In a series blanks are passed over.
    "=TD_SAMPLE_DEVIATION(C1:C4)": answer("TD_SAMPLE_DEVIATION", [[5.1, 4.7, 5.6]])[0][0],
    "=TD_FILM_IS_ACCEPTED(C1:C4;4;;TRUE())": 1.0,
    '=TD_CONVERT(80;"mil";"mm")': 2.032,
    '=TD_SURFACE_AREA("pit";;6;4;2)': answer("TD_SURFACE_AREA", ["pit", None, 6.0, 4.0, 2.0])[0][0],
    # A date is the number of its days.
    "=TD_SAMPLE_DEVIATION(DATE(2026;1;1))": NOT_AVAILABLE,
}
ARRAYS: list[tuple[str, str, Any]] = [
    (
        "K1:K6",
        "=TD_DEW_POINT(A1:A6;B1)",
        "the error of A5 in the range refuses the whole call, as LibreOffice does",
    ),
    (
        "L1:L4",
        "=TD_DEW_POINT(A1:A4;B1)",
        [
            [answer("TD_DEW_POINT", [20.0, 0.7])[0][0]],
            [answer("TD_DEW_POINT", [25.0, 0.7])[0][0]],
            [NOT_AVAILABLE],
            [NOT_AVAILABLE],
        ],
    ),
    (
        "M1:R1",
        "=TD_COMBINED({412;405;398};{6;3;5})",
        answer("TD_COMBINED", [[412, 405, 398], [6, 3, 5]]),
    ),
    (
        "M3:N5",
        "=TD_CUMULATIVE_SUMS({102;94.8;98.3};99;1)",
        answer("TD_CUMULATIVE_SUMS", [[102, 94.8, 98.3], 99, 1]),
    ),
]


def plain_calls() -> list[tuple[str, list[Any]]]:
    """Every function with the numbers of its example in default units."""
    calls = []
    for function in FUNCTIONS:
        given: list[Any] = []
        for item in function.arguments:
            value = example(function).get(item.name)
            if value is None or isinstance(value, (str, bool)):
                given.append(value)
            elif item.series:
                given.append([_number(one, item.kind) for one in value])
            else:
                given.append(_number(value, item.kind))
        calls.append((function.name, given))
    return calls


def _number(value: float, kind: str) -> float:
    return from_si(float(value), kind, default_unit(kind))


def formula(name: str, given: list[Any]) -> str:
    """A call as LibreOffice's formula language writes it."""
    words = []
    for value in given:
        if value is None:
            words.append("")
        elif isinstance(value, bool):
            words.append("TRUE()" if value else "FALSE()")
        elif isinstance(value, str):
            words.append(f'"{value}"')
        elif isinstance(value, list):
            words.append("{" + ";".join(repr(one) for one in value) + "}")
        else:
            words.append(repr(value))
    return f"={name}({';'.join(words)})"


@pytest.fixture(scope="module")
def answers() -> Iterator[dict[str, Any]]:
    with linked_office() as office:
        shutil.copy(resource("workbook_templates", "functions.xlsx"), office.home / GALLERY)
        yield office.run(
            {
                "gallery": str(office.home / GALLERY),
                "first": FIRST,
                "cells": CELLS,
                "formulas": [*FORMULAS, *(formula(*one) for one in plain_calls())],
                "arrays": [[place, text] for place, text, _ in ARRAYS],
                "count": 20000,
                "timed": {
                    "add-in": "=TD_DEW_POINT(A1;B1)",
                    "array": "{=TD_DEW_POINT(A1:A20000;B1:B20000)}",
                    "native": NATIVE,
                },
            }
        )


def test_gallery__every_row_agrees(answers: dict[str, Any]) -> None:
    count = len(lines())
    assert answers["state"] == f"{count} of {count} agree"


def test_gallery__every_number_is_pythons_to_the_last_bit(answers: dict[str, Any]) -> None:
    wrong = []
    for line, found in zip(lines(), answers["gallery"], strict=True):
        expected = NOT_AVAILABLE if line.expected is None else line.expected
        if found != expected:
            wrong.append((line.formula, found, expected))
    assert wrong == []


def test_plain_numbers__every_function_is_pythons_to_the_last_bit(answers: dict[str, Any]) -> None:
    wrong = []
    calls = plain_calls()
    assert len(calls) == len(FUNCTIONS)
    for (name, given), found in zip(calls, answers["formulas"][len(FORMULAS) :], strict=True):
        expected = answer(name, given)[0][0]
        if isinstance(expected, Refused):
            # A share above 1 is only taken as a text with %.
            assert found == NOT_AVAILABLE and "share" in str(expected)
        elif found != expected:
            wrong.append((name, given, found, expected))
    assert wrong == []


@pytest.mark.parametrize("index", range(len(FORMULAS)), ids=list(FORMULAS))
def test_formula__gives_its_number_error_or_reason(answers: dict[str, Any], index: int) -> None:
    assert answers["formulas"][index] == list(FORMULAS.values())[index]


def test_arrays__come_out_cell_by_cell_with_their_errors(answers: dict[str, Any]) -> None:
    first, *others = answers["arrays"]
    assert all("error" in row[0] for row in first)
    for (_, _, expected), found in zip(ARRAYS[1:], others, strict=True):
        assert found == expected


def test_wizard__name_help_and_arguments_of_every_function(answers: dict[str, Any]) -> None:
    wizard = answers["wizard"]
    assert set(wizard) == {f.name for f in FUNCTIONS} | {special.name for special in SPECIALS}
    for function in FUNCTIONS:
        entry = wizard[function.name]
        assert entry["description"] == f"{function.category}: {function.help}"
        names = [name for name, _, _ in entry["arguments"]]
        assert len(names) == len(function.arguments) + 1
        for item, name in zip(function.arguments, names, strict=False):
            assert name.startswith(item.noun)
        assert all(text for _, text, _ in entry["arguments"])


def test_speed__20000_cells_agree_with_the_native_formula_and_the_times_are_told(
    answers: dict[str, Any], record_property: Any
) -> None:
    for name, seconds in answers["seconds"].items():
        record_property(f"seconds of 20000 cells, {name}", seconds)
        print(f"20000 cells, {name}: {seconds:.3f} s")
    assert answers["last add-in"] == pytest.approx(answers["last native"], rel=1e-9)
    assert answers["last array"] == answers["last add-in"]


def test_an_office_that_is_too_old_does_not_take_the_addin(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    calc.require()
    text = addin.DESCRIPTION
    assert ".".join(map(str, OLDEST_OFFICE)) == addin.OLDEST
    assert f'minimal-version value="{addin.OLDEST}"' in text
    later = text.replace(f'value="{addin.OLDEST}"', 'value="99.2"')
    monkeypatch.setattr(addin, "DESCRIPTION", later)
    with tempfile.TemporaryDirectory() as folder:
        addin.build(Path(folder) / "later.oxt")
        os.chmod(folder, 0o777)
        command = ["unopkg", "add", "--suppress-license", f"{folder}/later.oxt"]
        done = as_nobody([*command, f"-env:UserInstallation=file://{folder}/profile"], folder)
    assert done.returncode != 0
    assert "unsatisfied dependencies" in done.stderr
    # What is said of it in our words.
    monkeypatch.setattr(addin.subprocess, "run", lambda *_, **__: done)
    monkeypatch.setattr(addin.os, "geteuid", lambda: 1000)
    with pytest.raises(LinkError, match=f"it is older than {re.escape(addin.OLDEST)}; "):
        addin.install()
