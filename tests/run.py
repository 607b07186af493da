"""Run the tests; arguments go to pytest."""

import os
import sys
from pathlib import Path

sys.path.insert(0, str(Path(__file__).resolve().parents[1] / "src"))

from twodrum.starter import run

# One more than there are cores: tests in a real window wait more than they work.
WORKERS = str((os.cpu_count() or 1) + 1)

if __name__ == "__main__":
    raise SystemExit(run(["-m", "pytest", "-n", WORKERS, *sys.argv[1:]], extras="test"))
