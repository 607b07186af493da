"""Kill fills at random moments: the old file or the new one, whole, and nothing left behind.

    python -m tests.kills 500

Each kill hits `fill` of a job that was just typed into; after every ten the next command runs
through and the folder is looked at.
"""

from __future__ import annotations

import os
import random
import subprocess
import sys
import tempfile
import time
from pathlib import Path

from tests.workbook.typing import small_job
from twodrum.commands.fill import fill_file

LONGEST = 4.0


def run(count: int, seed: int = 5) -> dict[str, int]:
    """How many kills left the old book, the new one, something else; leftovers after a command."""
    draw = random.Random(seed)
    found = {"old": 0, "new": 0, "torn": 0, "ended before": 0, "left behind": 0, "left after": 0}
    with tempfile.TemporaryDirectory() as folder:
        path = Path(folder) / "job.xlsx"
        old = small_job(path).read_bytes()
        fill_file(path)
        new = path.read_bytes()
        env = {**os.environ, "PYTHONPATH": os.pathsep.join(sys.path)}
        for number in range(count):
            path.write_bytes(old)
            process = subprocess.Popen(
                [sys.executable, "-m", "twodrum", "fill", str(path)],
                env=env,
                stdout=subprocess.DEVNULL,
            )
            time.sleep(draw.uniform(0.2, LONGEST))
            found["ended before"] += process.poll() is not None
            process.kill()
            process.wait()
            now = path.read_bytes()
            found["old" if now == old else "new" if now == new else "torn"] += 1
            found["left behind"] += len(list(Path(folder).iterdir())) > 1
            if number % 10 == 9:
                path.write_bytes(old)
                fill_file(path)
                found["left after"] += len(list(Path(folder).iterdir())) > 1
    return found


if __name__ == "__main__":
    print(run(int(sys.argv[1])))
