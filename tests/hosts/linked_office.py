"""A LibreOffice of its own with the built add-in in it, and a driver that answers tasks."""

import json
import os
import shutil
import subprocess
import tempfile
from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import dataclass
from pathlib import Path
from typing import Any

from tests.libreoffice import calc
from twodrum.hosts import calc as addin

RECALCULATE = """<?xml version="1.0" encoding="UTF-8"?>
<oor:items xmlns:oor="http://openoffice.org/2001/registry">
<item oor:path="/org.openoffice.Office.Calc/Formula/Load"><prop oor:name="OOXMLRecalcMode"
 oor:op="fuse"><value>0</value></prop></item></oor:items>
"""


def as_nobody(command: list[str], home: str, **more: Any) -> "subprocess.CompletedProcess[str]":
    """Run as a user without rights where this runs as root: extensions refuse root."""
    if os.geteuid() == 0:
        command = ["setpriv", "--reuid=65534", "--regid=65534", "--clear-groups", *command]
    return subprocess.run(
        command,
        env={**os.environ, "HOME": home},
        cwd=home,
        capture_output=True,
        text=True,
        timeout=300,
        check=False,
        **more,
    )


@dataclass(frozen=True)
class Office:
    """A folder that LibreOffice may read, with its profile and the driver."""

    home: Path
    python: str

    def run(self, task: dict[str, Any]) -> dict[str, Any]:
        """The driver's answers to one task."""
        for path in self.home.glob("*.xlsx"):
            os.chmod(path, 0o666)
        given = json.dumps({**task, "profile": str(self.home / "profile")})
        done = as_nobody([self.python, str(self.home / "driver.py")], str(self.home), input=given)
        assert done.returncode == 0, done.stderr
        answers: dict[str, Any] = json.loads(done.stdout)
        return answers


@contextmanager
def linked_office() -> Iterator[Office]:
    """The add-in, built and installed; skips, or fails where LibreOffice must be there."""
    python = calc.require()
    with tempfile.TemporaryDirectory() as folder:
        home = Path(folder)
        addin.build(home / "twodrum.oxt")
        shutil.copy(Path(__file__).with_name("calc_driver.py"), home / "driver.py")
        profile = home / "profile"
        (profile / "user").mkdir(parents=True)
        (profile / "user" / "registrymodifications.xcu").write_text(RECALCULATE)
        for path in (home, *home.rglob("*")):
            os.chmod(path, 0o777)
        done = as_nobody(
            [
                "unopkg",
                "add",
                "--force",
                "--suppress-license",
                str(home / "twodrum.oxt"),
                f"-env:UserInstallation=file://{profile}",
            ],
            folder,
        )
        assert done.returncode == 0, done.stderr
        yield Office(home, python)
