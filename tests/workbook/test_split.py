"""The quick scanner of sheet parts finds what the careful one finds."""

from __future__ import annotations

from pathlib import Path

import pytest

from tests.workbook.test_write import FILES, with_corpus
from twodrum.resources import resource
from twodrum.xlsx.book import Book
from twodrum.xlsx.package import PackageError
from twodrum.xlsx.scan import Scan, scan_carefully
from twodrum.xlsx.split import SplitScan, scan_sheet

HEAD = b'<?xml version="1.0"?><worksheet xmlns="x">'
ONE = HEAD + b'<sheetData><row r="1">%s</row></sheetData></worksheet>'


def same(quick: Scan, careful: Scan) -> bool:
    """Whether two scans found the same, and say the same at a glance."""
    places = list(careful.cells)
    return (
        list(quick.cells) == places
        and all(quick.cells[place] == careful.cells[place] for place in places)
        and all(quick.glance(place) == careful.glance(place) for place in places)
        and dict(quick.rows) == dict(careful.rows)
        and quick.sheet_data == careful.sheet_data
        and quick.dimension == careful.dimension
        and (quick.merges, quick.column_styles) == (careful.merges, careful.column_styles)
        and quick.prefix == careful.prefix
    )


@pytest.mark.parametrize("name", ["job", "month", "office"])
def test_a_template_is_split_and_holds_what_the_careful_scan_finds(name: str) -> None:
    book = Book.open(resource("workbook_templates", f"{name}.xlsx"))
    for sheet, part in book.sheets.items():
        data = book.package.read(part)
        quick = scan_sheet(data)
        assert isinstance(quick, SplitScan), sheet
        assert same(quick, scan_carefully(data)), sheet


@with_corpus
@pytest.mark.parametrize("path", FILES, ids=lambda path: path.name)
def test_foreign_sheets_are_read_alike(path: Path) -> None:
    try:
        book = Book.open(path)
        parts = [book.package.read(part) for part in book.sheets.values()]
    except PackageError:
        return
    assert all(same(scan_sheet(data), scan_carefully(data)) for data in parts)


@pytest.mark.parametrize(
    "cell",
    [
        b'<c r="A1"/>',
        b'<c r="A1"><v/></c>',
        b'<c r="A1"><v></v></c>',
        b'<c r="A1" t="s"><v>3</v></c>',
        b'<c t="s" r="A1"><v>3</v></c>',
        b'<c r="A1" cm="1" s="2"><f t="array" ref="A1">A2</f><v>3</v></c>',
        b'<c r="A1" s="2" t="str"><f>IF(A2&lt;3,"&amp;lt;","&#65;")</f><v>a &amp;&#x41; b</v></c>',
        b'<c r="A1"><f t="shared" si="0"/><v>1</v></c>',
        b'<c r="A1" t="inlineStr"><is><r><t>two </t></r><r><t>runs</t></r></is></c>',
        b'<c r="A1"><!-- a note --><v>1</v></c>',
        b"<c r='A1'><v>1</v></c>",
        b'<c><v>1</v></c><c r="C1"><v>2</v></c>',
        b'<c r="a1"><v>1</v></c>',
        b'<c r="A1"><v>1</v></c><c r="A1"><v>2</v></c>',
        b'<c r="A1" t="str"><v>two\r\nlines</v></c>',
        b'<c r="A1"><v>1</v><extLst><ext><c r="B1"/></ext></extLst></c>',
    ],
)
def test_a_cell_written_in_any_way_is_read_alike(cell: bytes) -> None:
    assert same(scan_sheet(ONE % cell), scan_carefully(ONE % cell))


def test_a_part_in_another_encoding_is_read_alike() -> None:
    text = '<?xml version="1.0" encoding="iso-8859-1"?><worksheet><sheetData><row r="1">'
    text += '<c r="A1" t="str"><v>Grün</v></c></row></sheetData></worksheet>'
    data = text.encode("iso-8859-1")
    assert same(scan_sheet(data), scan_carefully(data))
    assert scan_sheet(data).cells[1, 1].value == "Grün"


@pytest.mark.parametrize(
    "torn", [b"<row>", b"</row></sheetData>", b'<c r="A1"><v>1</c>', b"&nbsp;"]
)
def test_damage_is_refused_wherever_it_is(torn: bytes) -> None:
    with pytest.raises(PackageError, match="damaged"):
        scan_sheet(ONE % torn)
