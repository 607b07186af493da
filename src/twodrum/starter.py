"""Starts the demo and the tests from a fresh checkout; standard library only.

Makes ``.venv`` in the checkout, installs the package there once, and runs commands
with its Python, so that neither a missing package nor an externally managed Python
stops a newcomer.
"""

import hashlib
import os
import subprocess
import sys
from pathlib import Path

ROOT = Path(__file__).resolve().parents[2]
LEAST = (3, 11)


def run(arguments: list[str], extras: str = "") -> int:
    """Run ``python ARGUMENTS`` in the environment of the checkout; returns its exit status."""
    if sys.version_info < LEAST:
        found = ".".join(str(part) for part in sys.version_info[:3])
        print(f"Python {found} is too old; 3.11 or newer is wanted", file=sys.stderr)
        return 2
    try:
        python = ready(extras)
    except (OSError, subprocess.CalledProcessError) as error:
        print(f"The environment {ROOT / '.venv'} could not be made: {error}", file=sys.stderr)
        print("On Debian and Ubuntu: apt install python3-venv. Then try again.", file=sys.stderr)
        return 2
    # Many processes of the same modules follow: they are compiled once, and kept in the
    # environment's own folder.
    kept = {"PYTHONPYCACHEPREFIX": str(ROOT / ".venv" / "compiled"), **os.environ}
    kept.pop("PYTHONDONTWRITEBYTECODE", None)
    return subprocess.call([str(python), *arguments], cwd=ROOT, env=kept)


def ready(extras: str) -> Path:
    """Path of a Python that has the package and its extras."""
    folder = ROOT / ".venv"
    python = folder / ("Scripts/python.exe" if os.name == "nt" else "bin/python")
    if not python.exists():
        print(f"Making {folder} (once) ...", flush=True)
        _make(folder)
    wanted = f"{ROOT}[{extras}]" if extras else str(ROOT)
    text = (ROOT / "pyproject.toml").read_bytes() + wanted.encode() + sys.version.encode()
    stamp = folder / f"twodrum-{extras or 'plain'}.stamp"
    mark = hashlib.sha256(text).hexdigest()
    if not stamp.exists() or stamp.read_text() != mark:
        print("Installing twodrum and what it needs (once) ...", flush=True)
        command = [*_pip(python), "install", "--quiet", "--editable", wanted]
        subprocess.run(command, check=True, cwd=ROOT)
        stamp.write_text(mark)
    return python


def _make(folder: Path) -> None:
    command = [sys.executable, "-m", "venv", str(folder)]
    made = subprocess.run(command, check=False, capture_output=True)
    if made.returncode != 0:
        # Debian's Python has venv without ensurepip: borrow the pip outside, if there is one.
        subprocess.run([*command, "--clear", "--without-pip"], check=True)


def _pip(python: Path) -> list[str]:
    asked = [str(python), "-m", "pip", "--version"]
    has_pip = subprocess.run(asked, check=False, capture_output=True)
    if has_pip.returncode == 0:
        return [str(python), "-m", "pip", "--disable-pip-version-check"]
    return [sys.executable, "-m", "pip", "--python", str(python), "--disable-pip-version-check"]
