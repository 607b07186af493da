"""Fetch Pyodide, a Python for browsers, from the registry of npm into a folder.

    python3 tests/browser/fetch.py FOLDER

One archive of 6 MB, known by its sum; what is there already is not fetched again.
"""

import hashlib
import io
import sys
import tarfile
import urllib.request
from base64 import b64encode
from pathlib import Path
from typing import Any

PYODIDE = (
    "pyodide",
    "314.0.7",
    "0YvXxEhfEdpLfb/XkM2BFAeMROq0iMUX2bzzH9pOttyMcWkwq+HbE5uyuGD82LN7y2q+SNvi/6V5JEsOlD2R1A==",
)


def package_of(name: str, version: str, known_sum: str, folder: Path) -> Path:
    """The folder of a package of npm, which is fetched where it is not there."""
    found = folder / name / version / "package"
    if not found.is_dir():
        source = f"https://registry.npmjs.org/{name}/-/{name}-{version}.tgz"
        with urllib.request.urlopen(source, timeout=120) as answer:
            data = answer.read()
        if b64encode(hashlib.sha512(data).digest()).decode() != known_sum:
            raise SystemExit(f"{source} is another file than it was")
        # Older Pythons know no filters; the sum says what is in it.
        safe: dict[str, Any] = {"filter": "data"} if hasattr(tarfile, "data_filter") else {}
        found.parent.mkdir(parents=True, exist_ok=True)
        with tarfile.open(fileobj=io.BytesIO(data)) as archive:
            archive.extractall(found.parent, **safe)
    return found


if __name__ == "__main__":
    print(package_of(*PYODIDE, Path(sys.argv[1])))
