"""LibreOffice for tests: recalculates workbooks; missing is a skip, or a failure in CI."""

import json
import os
import shutil
import subprocess
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


def recalculate(path: Path, cases: list[dict[str, Any]], reset: bool = False) -> list[list[Any]]:
    """Set cells, recalculate and read cells, case by case, in one LibreOffice process."""
    task = {"path": str(path), "cases": cases, "reset": reset}
    done = subprocess.run(
        [require(), str(DRIVER)],
        input=json.dumps(task),
        capture_output=True,
        text=True,
        timeout=900,
        check=False,
    )
    assert done.returncode == 0, done.stderr
    answers: list[list[Any]] = json.loads(done.stdout)
    return answers
