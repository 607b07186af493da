"""A copy of a workbook whose formulas name no tables: for programs that know none."""

from __future__ import annotations

import re
from html import unescape
from pathlib import Path
from xml.sax.saxutils import escape

from twodrum.xlsx.book import Book, TableRead, quoted
from twodrum.xlsx.scan import column_letters

FORMULA = re.compile(rb"(<(f|definedName)\b[^>]*>)([^<]*)(</\2>)")
# Cells of the row in which a formula stands, said so that a cut can't drag them along.
CELL = re.compile(rb"<c r=\"[A-Z]+([0-9]+)\"[^>]*><f\b[^>]*>[^<]*</f>")
OWN_ROW = re.compile(rb"INDEX\((\$[A-Z]+):(\$[A-Z]+),ROW\(\),0\)")
OWN_CELL = re.compile(rb"INDEX\((\$[A-Z]+):\1,ROW\(\)\)")
# How many cells of a column are on a list, which some programs count one word at a time only.
LISTED = re.compile(r"SUMPRODUCT\(COUNTIF\((?P<list>[a-z_]+_list),(?P<cells>[^()]+)\)\)")
PARTS = re.compile(rb"<tableParts\b.*?</tableParts>", re.DOTALL)
# A table, and in brackets one column or the first and the last of some.
PIECE = re.compile(
    r"(?P<text>\"[^\"]*\")|\b(?P<table>[a-z_]+)\[(?P<inner>\[[^\[\]]*\]:\[[^\[\]]*\]|[^\[\]]*)\]"
)


def copy_without_tables(source: Path, target: Path) -> None:
    """Write the copy; a table that a formula names is the range that it is there."""
    book = Book.open(source)

    def formula(found: re.Match[bytes]) -> bytes:
        text = PIECE.sub(lambda piece: _plain(book, piece), unescape(found[3].decode()))
        text = LISTED.sub(lambda one: _counted(book, one), text)
        return found[1] + escape(text).encode() + found[4]

    def own_row(found: re.Match[bytes]) -> bytes:
        several = OWN_ROW.sub(rb"\g<1>%b:\g<2>%b" % (found[1], found[1]), found[0])
        return OWN_CELL.sub(rb"\g<1>%b" % found[1], several)

    for part in (*book.sheets.values(), book.workbook_part):
        data = FORMULA.sub(formula, CELL.sub(own_row, book.package.read(part)))
        book.package.replace(part, PARTS.sub(b"", data))
    target.write_bytes(book.package.to_bytes())


def _counted(book: Book, found: re.Match[str]) -> str:
    words = book.area(found["list"])
    assert words is not None
    column, counted = column_letters(words.first_column), found["cells"]
    cells = (
        f"{quoted(words.sheet)}!${column}${row}"
        for row in range(words.first_row, words.last_row + 1)
    )
    return "(" + "+".join(f"COUNTIF({counted},{cell})" for cell in cells) + ")"


def _plain(book: Book, piece: re.Match[str]) -> str:
    table = book.tables.get(piece["table"] or "")
    if piece["text"] or table is None:
        return piece[0]
    names = re.findall(r"\[([^\[\]]*)\]", piece["inner"]) or [piece["inner"]]
    return _range(table, names[0], names[-1]) if names[0] else _whole(table)


def _range(table: TableRead, first: str, last: str) -> str:
    left, right = (column_letters(table.columns[_unescaped(name)]) for name in (first, last))
    area = table.area
    return f"{quoted(area.sheet)}!${left}${area.first_row}:${right}${area.last_row}"


def _whole(table: TableRead) -> str:
    left, *_, right = sorted(table.columns.values())
    area = table.area
    ends = f"${column_letters(left)}${area.first_row}:${column_letters(right)}${area.last_row}"
    return f"{quoted(area.sheet)}!{ends}"


def _unescaped(name: str) -> str:
    """A heading without the marks that a formula puts before some of its letters."""
    return re.sub(r"'(.)", r"\1", name)
