"""A page through Excel, against a stand-in that takes what the pinned library takes."""

import inspect
import sys
from pathlib import Path
from types import SimpleNamespace
from typing import Any

import pytest
import xlwings

from tests.workbook.test_issue import made, today
from twodrum.cli import main
from twodrum.commands import excel_pdf, paper
from twodrum.commands.excel_pdf import excel_may_be_there, page_by_excel


def takes(real: Any, *args: Any, **named: Any) -> None:
    """The library's own function takes such a call."""
    inspect.signature(real).bind(None, *args, **named)


class Excel:
    """Of an application what is asked of it, and what was."""

    def __init__(self, fails: str = "") -> None:
        self.fails = fails
        self.asked: list[str] = []
        self.display_alerts = True

    def App(self, **named: Any) -> "Excel":  # noqa: N802 (the library's name)
        takes(xlwings.App.__init__, **named)
        assert named == {"visible": False, "add_book": False}
        if self.fails == "start":
            raise OSError("Invalid class string")
        return self

    @property
    def books(self) -> SimpleNamespace:
        return SimpleNamespace(open=self._open)

    def _open(self, path: str, **named: Any) -> SimpleNamespace:
        takes(xlwings.main.Books.open, path, **named)
        assert Path(path).is_absolute() and named["read_only"] and not named["update_links"]
        assert not self.display_alerts
        self.asked.append(Path(path).name)
        return SimpleNamespace(sheets={"Quote": SimpleNamespace(to_pdf=self._to_pdf)})

    def _to_pdf(self, **named: Any) -> None:
        takes(xlwings.Sheet.to_pdf, **named)
        if self.fails == "print":
            raise RuntimeError("No printers\n are installed")
        if self.fails != "silent":
            Path(named["path"]).write_bytes(b"%PDF-1.7")

    def quit(self) -> None:
        self.asked.append("quit")


def test_the_page_is_made_by_excel_where_there_is_no_libreoffice(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    path = made(tmp_path / "tank.xlsx", quote_date=today())
    excel = Excel()
    monkeypatch.setattr(paper.shutil, "which", lambda _: None)
    assert not excel_may_be_there() or sys.platform == excel_pdf.SYSTEM
    monkeypatch.setattr(excel_pdf, "SYSTEM", sys.platform)
    monkeypatch.setitem(sys.modules, "xlwings", excel)  # type: ignore[arg-type]
    monkeypatch.setattr(excel_pdf, "find_spec", lambda _: True)
    assert main(["issue", str(path)]) == 0
    target = tmp_path / "tank revision 1.pdf"
    assert f"{target}: made by Excel" in capsys.readouterr().out
    assert target.read_bytes().startswith(b"%PDF")
    assert excel.asked == ["tank.xlsx", "quit"]


@pytest.mark.parametrize(
    ("fails", "why"),
    [
        ("start", "Invalid class string"),
        ("print", "No printers are installed"),
        ("silent", "it made none"),
    ],
)
def test_whatever_excel_says_ends_in_one_sentence_and_it_is_closed(
    fails: str, why: str, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    excel = Excel(fails)
    monkeypatch.setitem(sys.modules, "xlwings", excel)  # type: ignore[arg-type]
    assert page_by_excel(tmp_path / "tank.xlsx", "Quote", tmp_path / "tank.pdf") == why
    assert excel.asked[-1:] == ([] if fails == "start" else ["quit"])


def test_where_neither_is_there_it_says_what_to_do(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    path = made(tmp_path / "tank.xlsx", quote_date=today())
    monkeypatch.setattr(paper.shutil, "which", lambda _: None)
    assert main(["issue", str(path)]) == 0
    said = capsys.readouterr().out
    assert "neither LibreOffice nor Excel is on this machine: print the sheet Quote" in said
