"""Make and fill the invented demo jobs into demo/out and say what to open."""

import sys
from pathlib import Path

sys.path.insert(0, str(Path(__file__).resolve().parents[1] / "src"))

from twodrum.starter import run

if __name__ == "__main__":
    raise SystemExit(run(["-m", "twodrum", "demo", "--out", "demo/out", *sys.argv[1:]]))
