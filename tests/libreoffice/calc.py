"""LibreOffice for tests: recalculates workbooks; missing is a skip, or a failure in CI."""

import json
import os
import shutil
import subprocess
import tempfile
from functools import lru_cache
from pathlib import Path
from typing import Any

import pytest

DRIVER = Path(__file__).with_name("driver.py")
NEEDED = os.environ.get("TWODRUM_NEEDS_LIBREOFFICE") == "1"


def _python_with_uno() -> str:
    for candidate in ("/usr/bin/python3", "python3", "python"):
        path = shutil.which(candidate)
        if path:
            found = subprocess.run([path, "-c", "import uno"], capture_output=True, check=False)
            if found.returncode == 0:
                return path
    return ""


def require() -> str:
    """The Python that can talk to LibreOffice; skips, or fails where it must be there."""
    python = _python_with_uno() if shutil.which("soffice") else ""
    if not python:
        text = "LibreOffice with its Python module uno is not installed"
        if NEEDED:
            pytest.fail(text)
        pytest.skip(text)
    return python


@lru_cache(maxsize=1)
def _driver() -> "subprocess.Popen[str]":
    """One LibreOffice for all tests of a worker; it ends with its input, at the latest at exit."""
    log = tempfile.TemporaryFile("w+")  # noqa: SIM115 (it is read when the driver is gone)
    driver = subprocess.Popen(
        [require(), str(DRIVER)],
        stdin=subprocess.PIPE,
        stdout=subprocess.PIPE,
        stderr=log,
        text=True,
    )
    driver.log = log  # type: ignore[attr-defined]
    return driver


def ended() -> None:
    """Let LibreOffice go, where it runs."""
    if _driver.cache_info().currsize:
        driver = _driver()
        _driver.cache_clear()
        assert driver.stdin is not None
        driver.stdin.close()
        driver.wait(60)


def recalculate(path: Path, cases: list[dict[str, Any]], reset: bool = False) -> list[list[Any]]:
    """Set cells, recalculate and read cells, case by case, of a copy of a workbook."""
    driver = _driver()
    assert driver.stdin is not None and driver.stdout is not None
    task = {"path": str(path), "cases": cases, "reset": reset}
    driver.stdin.write(json.dumps(task) + "\n")
    driver.stdin.flush()
    line = driver.stdout.readline()
    if not line:
        _driver.cache_clear()
        driver.wait(60)
        driver.log.seek(0)  # type: ignore[attr-defined]
        raise AssertionError(driver.log.read())  # type: ignore[attr-defined]
    answers: list[list[Any]] = json.loads(line)
    return answers
