"""Run the tests; arguments go to pytest."""

import sys
from pathlib import Path

sys.path.insert(0, str(Path(__file__).resolve().parents[1] / "src"))

from twodrum.starter import run

if __name__ == "__main__":
    raise SystemExit(run(["-m", "pytest", "-n", "auto", *sys.argv[1:]], extras="test"))
