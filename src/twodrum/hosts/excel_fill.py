"""What the macro of the Excel add-in starts: fill a file and leave what was said beside it.

``python -m twodrum.hosts.excel_fill JOB.xlsx ANSWER.txt``. The answer is in UTF-16, which VBA
reads whatever the language of the machine is.
"""

from __future__ import annotations

import sys
from contextlib import redirect_stderr, redirect_stdout
from io import StringIO
from pathlib import Path

from ..cli import main


def fill_and_say(job: str, answer: str) -> int:
    """Fill as ``twodrum fill`` does; its words go into a file, its status comes back."""
    said = StringIO()
    with redirect_stdout(said), redirect_stderr(said):
        status = main(["fill", job])
    Path(answer).write_text(said.getvalue().strip(), encoding="utf-16")
    return status


if __name__ == "__main__":
    raise SystemExit(fill_and_say(*sys.argv[1:]))
