"""What is installed, what is missing, and how to mend it; nothing is changed."""

from __future__ import annotations

import re
import shutil
import subprocess
import sys
from collections.abc import Mapping
from dataclasses import dataclass, field
from importlib.metadata import PackageNotFoundError, version
from pathlib import Path, PureWindowsPath

from .. import __version__
from ..problems import sentence

GOOD, HINT, MEND = "good", "hint", "mend"
# (package, what it is for, whether everything needs it)
PACKAGES = (
    ("openpyxl", "building templates", True),
    ("pandas", "the month", True),
    ("pint", "checking units", True),
    ("rich", "tables at the terminal", True),
    ("xlwings", "worksheet functions in Excel", False),
)
# The version whose add-in ours was made against; its library names its file by it too.
XLWINGS = "0.37.8"
OLDEST_OFFICE = (25, 2)
TRUST_KEY = r"Software\Microsoft\Office\16.0\Excel\Security"


@dataclass(frozen=True)
class Machine:
    """What is looked at; tests make their own."""

    platform: str
    executable: str
    python: tuple[int, int]
    bits: int
    packages: Mapping[str, str] = field(default_factory=dict)
    # Words with which LibreOffice names itself, empty where it is not found.
    office: str = ""
    templates: bool = True
    encoding: str = "utf-8"
    # Whether Excel lets programs at its VBA projects; None where that is not known.
    trust: bool | None = None
    library: bool | None = None


@dataclass(frozen=True)
class Finding:
    """One thing looked at: good, a hint, or something to mend."""

    topic: str
    state: str
    text: str

    def __str__(self) -> str:
        return f"{self.state:4}  {self.topic}: {self.text}"


def findings(machine: Machine) -> list[Finding]:
    """Everything that was looked at, in the order in which one would mend it."""
    found = [_python(machine), _templates(machine), _terminal(machine)]
    found += [_package(machine, *package) for package in PACKAGES]
    found.append(_libreoffice(machine))
    if machine.platform in ("win32", "darwin"):
        found += _excel(machine)
    else:
        found.append(Finding("Excel", HINT, "Excel does not run here; LibreOffice Calc does"))
    return found


def _python(machine: Machine) -> Finding:
    number = ".".join(map(str, machine.python))
    if machine.python < (3, 11):
        return Finding(
            "Python",
            MEND,
            sentence(f"it is {number}", "3.11 or newer is wanted", "install it from python.org"),
        )
    if "WindowsApps" in machine.executable:
        text = sentence(
            "it is the Python of the Microsoft Store",
            "Excel cannot start that one",
            "install Python from python.org and twodrum with it",
        )
        return Finding("Python", MEND, text)
    return Finding("Python", GOOD, f"{number}, {machine.bits} bit, {machine.executable}")


def _templates(machine: Machine) -> Finding:
    if machine.templates:
        return Finding("twodrum", GOOD, f"{__version__}, with its templates")
    return Finding(
        "twodrum",
        MEND,
        sentence("a template is missing", "all of them are wanted", "install twodrum again"),
    )


def _terminal(machine: Machine) -> Finding:
    if "utf" in machine.encoding.lower():
        return Finding("terminal", GOOD, f"shows every letter ({machine.encoding})")
    mend = "set PYTHONUTF8=1" if machine.platform == "win32" else "set LANG to a UTF-8 one"
    text = sentence(
        f"it shows {machine.encoding}", "UTF-8 is wanted for ° and ²; codes are shown instead", mend
    )
    return Finding("terminal", HINT, text)


def _package(machine: Machine, name: str, purpose: str, needed: bool) -> Finding:
    found = machine.packages.get(name, "")
    if found and name == "xlwings" and found != XLWINGS:
        text = sentence(
            f"it is {found}",
            f"the add-in for Excel is made for {XLWINGS}",
            f"{Path(machine.executable).name} -m pip install xlwings=={XLWINGS}, then "
            "twodrum addin excel again",
        )
        return Finding(name, HINT, text)
    if found:
        return Finding(name, GOOD, f"{found}, for {purpose}")
    mend = f"{Path(machine.executable).name} -m pip install {name}"
    text = sentence("it is not installed", f"it is wanted for {purpose}", mend)
    return Finding(name, MEND if needed else HINT, text)


def _libreoffice(machine: Machine) -> Finding:
    if not machine.office:
        return Finding(
            "LibreOffice",
            HINT,
            sentence(
                "it was not found",
                "it is wanted for worksheet functions in Calc only",
                "install LibreOffice 25.2 or newer, then twodrum addin calc",
            ),
        )
    number = re.search(r"(\d+)\.(\d+)", machine.office)
    if number and (int(number.group(1)), int(number.group(2))) < OLDEST_OFFICE:
        return Finding(
            "LibreOffice",
            HINT,
            sentence(
                f"it is {machine.office}",
                "older ones than 25.2 do not know the functions in an .xlsx file",
                "install a newer one",
            ),
        )
    return Finding("LibreOffice", GOOD, f"{machine.office}; install the functions: addin calc")


def _excel(machine: Machine) -> list[Finding]:
    found = []
    path = machine.executable
    if machine.platform == "win32" and PureWindowsPath(path).drive.startswith("\\\\"):
        found.append(
            Finding(
                "Excel",
                MEND,
                sentence(
                    f"Python stands on a network drive, {path}",
                    "Excel starts one from this machine",
                    "install Python on this machine",
                ),
            )
        )
    if "onedrive" in path.lower():
        found.append(
            Finding(
                "Excel",
                HINT,
                sentence(
                    "Python stands in a OneDrive folder",
                    "files there may be away when Excel wants them",
                    "install it outside of OneDrive",
                ),
            )
        )
    if machine.platform == "darwin":
        text = sentence(
            "Excel on a Mac runs no functions in Python",
            "the workbooks and twodrum fill work there",
            "use LibreOffice Calc for the functions",
        )
        return [*found, Finding("Excel", HINT, text)]
    if machine.bits == 32:
        text = sentence(
            "Python is a 32 bit one",
            "it has to be as Excel is, mostly 64 bit",
            "see Excel, File, Account, About; install the same kind of Python",
        )
        found.append(Finding("Excel", HINT, text))
    if machine.library is False:
        text = sentence(
            "xlwings' library for Excel is not beside Python",
            "Excel looks for it there",
            "install xlwings again with pip, and allow it in the virus scanner",
        )
        found.append(Finding("Excel", MEND, text))
    if machine.trust is False:
        text = sentence(
            "Excel lets no program at its VBA projects",
            "only xlwings' own import button needs that, twodrum addin excel does not",
            "File, Options, Trust Center, Macro Settings, if you want it",
        )
        found.append(Finding("Excel", HINT, text))
    if not any(finding.state == MEND for finding in found):
        found.append(Finding("Excel", GOOD, "nothing stands in its way; see twodrum addin excel"))
    return found


def this_machine() -> Machine:
    """The machine that this runs on."""
    packages = {}
    for name, _, _ in PACKAGES:
        try:
            packages[name] = version(name)
        except PackageNotFoundError:
            continue
    return Machine(
        platform=sys.platform,
        executable=sys.executable,
        python=sys.version_info[:2],
        bits=64 if sys.maxsize > 2**32 else 32,
        packages=packages,
        office=_office_version(),
        templates=_has_templates(),
        encoding=sys.stdout.encoding or "",
        trust=_trust(),
        library=_library(packages.get("xlwings", "")),
    )


def _office_version() -> str:
    soffice = shutil.which("soffice") or shutil.which("libreoffice")
    if not soffice:
        return ""
    try:
        done = subprocess.run(
            [soffice, "--version"], capture_output=True, text=True, timeout=60, check=False
        )
    except (OSError, subprocess.TimeoutExpired):
        return ""
    found = re.search(r"LibreOffice [\d.]+", done.stdout)
    return found.group(0) if found else ""


def _has_templates() -> bool:
    from ..resources import resource

    try:
        for name in ("job.xlsx", "office.xlsx", "functions.xlsx"):
            resource("workbook_templates", name)
    except FileNotFoundError:
        return False
    return True


def _trust() -> bool | None:
    """What the registry of Windows says about access to VBA projects."""
    if sys.platform != "win32":
        return None
    import winreg

    try:
        with winreg.OpenKey(winreg.HKEY_CURRENT_USER, TRUST_KEY) as key:
            return bool(winreg.QueryValueEx(key, "AccessVBOM")[0])
    except OSError:
        return None


def _library(xlwings_version: str) -> bool | None:
    """Whether xlwings' library for Excel lies where Excel looks for it."""
    if sys.platform != "win32" or not xlwings_version:
        return None
    folders = (Path(sys.prefix), Path(sys.prefix) / "Scripts")
    bits = "64" if sys.maxsize > 2**32 else "32"
    return any((f / f"xlwings{bits}-{xlwings_version}.dll").is_file() for f in folders)
