"""The page of a quote as a PDF, by the LibreOffice of this machine, or else by its Excel."""

from __future__ import annotations

import re
import shutil
import subprocess
import tempfile
from pathlib import Path

from ..books.parts import model_of
from ..workbook.pattern import our_sheets
from ..xlsx.book import Book
from ..xlsx.files import write_whole
from ..xlsx.lists import prefix_of, with_states
from ..xlsx.package import PackageError
from .excel_pdf import excel_may_be_there, page_by_excel

QUOTE, CHANGE_ORDER = "Quote", "Change order"
PRINT_AREA = re.compile(
    rb"<(?P<tag>(?:[\w.-]+:)?definedName)\b[^>]*\bname=[\"']_xlnm\.Print_Area[\"'][^>]*>[^<]*</(?P=tag)>"
)
PLACE = re.compile(rb"\slocalSheetId=[\"'](\d+)[\"']")
SHOWN = re.compile(rb"\s(?:activeTab|firstSheet)=[\"']\d+[\"']")
TAB = re.compile(rb"(<(?:[\w.-]+:)?workbookView\b)")
# A page takes seconds; the first start of LibreOffice under load a minute.
PATIENCE = 300
NO_OFFICE = (
    "no PDF, neither LibreOffice nor Excel is on this machine: print the sheet {sheet} from your "
    "spreadsheet program"
)


def printed(job: Path, revision: int, folder: Path) -> str:
    """Write the page of a quote beside its job; what came of it, in words.

    Where another revision was accepted the change order goes with it.
    """
    book = Book.open(job)
    ours = our_sheets(model_of(book), book)
    accepted = book.named("accepted_revision")
    pages = {QUOTE: f"{job.stem} revision {revision}.pdf"}
    if accepted is not None and accepted.value not in (None, revision):
        pages[CHANGE_ORDER] = f"{job.stem} change order {revision}.pdf"
    office = shutil.which("soffice") or shutil.which("libreoffice")
    if office is None and not excel_may_be_there():
        return NO_OFFICE.format(sheet=" and ".join(ours[page] for page in pages))
    made = (_made(office, job, ours[page], folder / name) for page, name in pages.items())
    return "; ".join(made)


def _made(office: str | None, job: Path, sheet: str, target: Path) -> str:
    if target.exists():
        return f"{target}: is there already and stays as it is"
    if office is None:
        why = page_by_excel(job, sheet, target)
        made = f"no PDF, Excel did not make it ({why}): print the sheet {sheet} yourself"
        return made if why else f"{target}: made by Excel"
    data, why = page(office, Book.open(job), sheet)
    if not data:
        return f"no PDF, LibreOffice did not make it ({why}): print the sheet {sheet} yourself"
    try:
        write_whole(target, data)
    except PackageError as error:
        return f"{target}: {error}"
    return f"{target}: made"


def _alone(lists: bytes, titles: list[str], sheet: str) -> bytes:
    """The list of sheets with one of them in front and seen, and only it with an area to print.

    LibreOffice prints hidden sheets that have such an area.
    """
    states = {title: "visible" if title == sheet else "hidden" for title in titles}
    own = titles.index(sheet)

    def of_own(found: re.Match[bytes]) -> bytes:
        place = PLACE.search(found[0])
        return found[0] if place is not None and int(place[1]) == own else b""

    lists = PRINT_AREA.sub(of_own, with_states(lists, prefix_of(lists), states))
    return TAB.sub(b'\\g<1> activeTab="%d"' % own, SHOWN.sub(b"", lists))


def page(office: str, book: Book, sheet: str) -> tuple[bytes, str]:
    """One sheet of a workbook as a PDF; or nothing, and why."""
    lists = book.package.read(book.workbook_part)
    book.package.replace(book.workbook_part, _alone(lists, book.all_sheets(), sheet))
    with tempfile.TemporaryDirectory() as place:
        alone = Path(place) / "page.xlsx"
        alone.write_bytes(book.package.to_bytes())
        # With a profile of its own it does not wait for one that is open.
        profile = (Path(place) / "profile").as_uri()
        try:
            done = subprocess.run(
                [
                    *(office, f"-env:UserInstallation={profile}", "--headless"),
                    *("--convert-to", "pdf", "--outdir", place, str(alone)),
                ],
                capture_output=True,
                text=True,
                timeout=PATIENCE,
                check=False,
            )
        except (OSError, subprocess.TimeoutExpired) as error:
            return b"", type(error).__name__
        made = alone.with_suffix(".pdf")
        if not made.exists():
            return b"", " ".join(done.stderr.split())[:200] or f"it ended with {done.returncode}"
        return made.read_bytes(), ""
