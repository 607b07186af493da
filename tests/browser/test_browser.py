"""Every worksheet function in a browser's Python, against the one that runs the tests."""

import json
import os
import shutil
import subprocess
import sys
from pathlib import Path
from typing import Any

import pytest

from tests.browser.fetch import PYODIDE, package_of
from tests.hosts.test_calc_addin import plain_calls
from twodrum.worksheet.call import Refused, answer

HERE = Path(__file__).parent
# The folder in which Pyodide is; where it is not named these tests are left out.
FOLDER = os.environ.get("TWODRUM_BROWSER_PYTHON", "")
# The error function is that of another library of C there: these may end in another last digit.
LAST_DIGIT = {"TD_LEFT_OVER_EXPECTED", "TD_ACCEPTANCE_PROBABILITY", "TD_AIM_FILM_FACTOR"}
CALLS: list[tuple[str, list[Any]]] = [
    *plain_calls(),
    ("TD_DEW_POINT", [[[20.0], [25.0], ["warm"], [None]], "70 %"]),
    ("TD_DEW_POINT", [99, 0.7]),
    ("TD_WHY", ["TD_DEW_POINT", 99, 0.7]),
    ("TD_CONVERT", [80, "mil", "mm"]),
]


def told(cell: Any) -> Any:
    if isinstance(cell, Refused):
        return list(cell.reasons)
    return cell.hex() if isinstance(cell, float) else cell


@pytest.fixture(scope="module")
def browser(tmp_path_factory: pytest.TempPathFactory) -> dict[str, Any]:
    if not FOLDER or not shutil.which("node"):
        pytest.skip("TWODRUM_BROWSER_PYTHON names no folder for Pyodide, or Node is missing")
    folder = tmp_path_factory.mktemp("browser")
    pip = [sys.executable, "-m", "pip", "wheel", "--quiet", "--no-deps", "-w", str(folder)]
    subprocess.run([*pip, str(HERE.parents[1])], check=True, timeout=300)
    (wheel,) = folder.glob("*.whl")
    calls = folder / "calls.json"
    calls.write_text(json.dumps(CALLS), encoding="utf-8")
    module = package_of(*PYODIDE, Path(FOLDER)) / "pyodide.mjs"
    command = ["node", str(HERE / "run.mjs"), str(module), str(wheel), str(calls)]
    done = subprocess.run(command, capture_output=True, text=True, timeout=300, check=False)
    assert done.returncode == 0, done.stderr[-2000:]
    found: dict[str, Any] = json.loads(done.stdout)
    print(f"wheel {wheel.stat().st_size / 1e6:.1f} MB, import {found['seconds']:.2f} s")
    return found


def test_it_is_a_browsers_python_with_nothing_but_its_standard_library(
    browser: dict[str, Any],
) -> None:
    assert browser["platform"] == "emscripten"
    assert browser["others"] == []


def test_every_function_gives_the_same_bits_and_the_same_reasons(browser: dict[str, Any]) -> None:
    other = set()
    for (name, given), found in zip(CALLS, browser["found"], strict=True):
        expected = [[told(cell) for cell in row] for row in answer(name, given)]
        if found != expected:
            other.add(name)
            numbers, wanted = (
                [float.fromhex(cell) for row in rows for cell in row] for rows in (found, expected)
            )
            assert numbers == pytest.approx(wanted, rel=5e-16), name
    assert other <= LAST_DIGIT
