"""One sheet of a workbook as a PDF by Excel, where no LibreOffice is there to make it."""

from __future__ import annotations

import sys
from contextlib import suppress
from importlib.util import find_spec
from pathlib import Path
from typing import Any

# Elsewhere an Excel that is asked may be the one in which somebody works.
SYSTEM = "win32"


def excel_may_be_there() -> bool:
    """Whether this system may have Excel, and the library is there that asks it."""
    return sys.platform == SYSTEM and find_spec("xlwings") is not None


def page_by_excel(job: Path, sheet: str, target: Path) -> str:
    """Write one sheet of a job as a PDF; "", or why not.

    The job is opened for reading in an Excel of its own, out of sight, and closed unsaved.
    """
    import xlwings

    app: Any = None
    try:
        app = xlwings.App(visible=False, add_book=False)
        app.display_alerts = False
        book = app.books.open(str(job.absolute()), update_links=False, read_only=True)
        book.sheets[sheet].to_pdf(path=str(target.absolute()))
    except Exception as error:
        return " ".join(str(error).split())[:200] or type(error).__name__
    finally:
        if app is not None:
            with suppress(Exception):
                app.quit()
    return "" if target.exists() else "it made none"
