"""Write cells by splicing bytes into sheet parts; everything else survives as it is."""

from __future__ import annotations

import re
from bisect import bisect_right
from collections.abc import Iterable, Mapping, Sequence, Set
from dataclasses import dataclass
from decimal import Decimal
from typing import NamedTuple

from ..problems import Problem, sentence
from .book import Book, CellRead
from .markup import escape, quoteattr
from .package import PackageError
from .scan import RawCell, RawRow, Scan, column_letters, refuse_damaged, tag_end


@dataclass(frozen=True)
class Error:
    """An error value of a cell, such as #N/A."""

    text: str = "#N/A"


NOT_AVAILABLE = Error()


Content = float | int | str | Decimal | Error | None


class Write(NamedTuple):
    """What a cell is to hold: the cached result of its formula, or a plain value.

    A plain write never replaces a formula but ``formula``, which is ours to put there and to
    take away; with ``live`` it is put there and the value is its cached result. A cached write
    keeps whatever formula there is. With a ``style``, the number of a cell format, the cell
    takes that too, and with ``keep`` nothing else of it changes.
    """

    value: Content
    cached: bool = False
    formula: str = ""
    live: bool = False
    style: str = ""
    keep: bool = False


def content_of(cell: CellRead) -> Content:
    """What a cell holds, as it is written again; nothing for what is no content of ours."""
    if cell.kind == "error":
        return Error(str(cell.value))
    return cell.value if isinstance(cell.value, (float, str)) else None


Address = tuple[str, int, int]
Edit = tuple[int, int, bytes]


def write_cells(book: Book, writes: Mapping[Address, Write]) -> list[Problem]:
    """Splice values into the sheets of a book; cells that may not be written are told."""
    changes = differing(book, writes)
    barred = troubles(book, changes)
    splice_cells(book, changes, set(barred))
    return list(barred.values())


def splice_cells(book: Book, writes: Mapping[Address, Write], barred: Set[Address]) -> None:
    """The same where it is known already which cells may not be written."""
    by_sheet: dict[str, dict[tuple[int, int], Write]] = {}
    for address, write in writes.items():
        sheet, row, column = address
        if address not in barred and not same(book.cell(*address), write):
            by_sheet.setdefault(sheet, {})[row, column] = write
    for sheet, cells in by_sheet.items():
        part = book.sheets[sheet]
        edited = _Splice(book.scan(sheet)).apply(cells)
        # A backstop: what is written must read back as a sheet before it replaces anything.
        refuse_damaged(edited)
        book.package.replace(part, edited)
    gone = {
        (sheet, *place)
        for sheet, cells in by_sheet.items()
        for place, write in cells.items()
        if not write.cached and not write.live and not write.keep
        if book.cell(sheet, *place).formula
    }
    if gone:
        drop_from_calc_chain(book, gone)
    if by_sheet:
        data = book.package.read(book.workbook_part)
        book.package.replace(book.workbook_part, recalculate_on_load(data))


CHAINED = re.compile(rb"<(?:[\w.-]+:)?c\s[^>]*?/>")
CHAIN_PLACE = re.compile(rb'\sr="([A-Za-z]+\d+)"')
CHAIN_SHEET = re.compile(rb'\si="(\d+)"')


def drop_from_calc_chain(book: Book, gone: Set[Address]) -> None:
    """Take cells that hold no formula any more out of the chain of calculation.

    An entry without a formula makes a spreadsheet program offer to repair the book. An entry
    without a sheet is of the same one as the entry before it.
    """
    part = book.chain_part
    if not part:
        return
    data = book.package.read(part)
    numbers = book.sheet_numbers()
    left = {(numbers.get(sheet), f"{column_letters(c)}{r}") for sheet, r, c in gone}
    pieces, position, sheet, dropped = [], 0, 0, False
    for found in CHAINED.finditer(data):
        named, place = CHAIN_SHEET.search(found[0]), CHAIN_PLACE.search(found[0])
        sheet = int(named[1]) if named else sheet
        pieces.append(data[position : found.start()])
        position = found.end()
        if place and (sheet, place[1].decode().upper()) in left:
            dropped = True
            continue
        # What said its sheet may be gone: each entry that follows says it itself.
        entry = found[0] if named or not dropped else _with_sheet(found[0], sheet)
        pieces.append(entry)
    if dropped:
        book.package.replace(part, b"".join([*pieces, data[position:]]))


def _with_sheet(entry: bytes, sheet: int) -> bytes:
    return entry[:-2] + b' i="%d"/>' % sheet


def differing(book: Book, writes: Mapping[Address, Write]) -> dict[Address, Write]:
    """What is not written so already, what would replace a formula, what may be merged away."""
    found = {}
    # Sheets to which nothing is written may be large, and are never looked at.
    scans = {sheet: book.scan(sheet) for sheet in {address[0] for address in writes}}
    shows = {sheet: scan.shows for sheet, scan in scans.items()}
    merged = {sheet for sheet, scan in scans.items() if scan.merges}
    for address, write in writes.items():
        value, cached, formula, live, style, keep = write
        sheet, row, column = address
        if not (formula or live or style or keep or sheet in merged):
            # Most of all stands already: its bytes say so at once.
            kind, text = _said(value, cached)
            if shows[sheet]((row, column), kind, text, cached):
                continue
        cell = book.cell(sheet, row, column)
        if (cell.formula and not cached) or sheet in merged or not same(cell, write):
            found[address] = write
    return found


def rows_without(
    book: Book, sheet: str, rows: Sequence[int], column: int, write: Write
) -> Iterable[int]:
    """The rows of a column of which it is not said at once that they hold a value already."""
    scan = book.scan(sheet)
    if scan.merges:
        return rows
    return scan.not_showing(rows, column, *_said(write.value, write.cached), write.cached)


def _said(value: Content, cached: bool) -> tuple[str, str | None]:
    """How a cell says that it holds a value: its kind, "" for a number, and its text."""
    if isinstance(value, str):
        return "str" if cached else "inlineStr", _written(value)
    if value is None or isinstance(value, Error):
        return ("e", value.text) if value else ("", None)
    return "", number_text(value)


def troubles(book: Book, writes: Mapping[Address, Write]) -> dict[Address, Problem]:
    """Cells that may not be written, and why; of those that differ."""
    found = {}
    for address, write in writes.items():
        cell = book.cell(*address)
        if not (cell.formula and not write.cached) and not book.scan(cell.sheet).merges:
            # A formula that is there keeps its place.
            continue
        trouble = _trouble(book, cell, write)
        if trouble:
            found[address] = Problem("not-free", cell.where, trouble, position=cell.position)
    return found


def _trouble(book: Book, cell: CellRead, write: Write) -> str:
    if cell.formula and not write.cached and not is_ours(cell, write):
        return sentence(
            "a formula stands in a cell that twodrum fills", "the cell must be free", "remove it"
        )
    for first_row, first_column, last_row, last_column in book.scan(cell.sheet).merges:
        inside = first_row <= cell.row <= last_row and first_column <= cell.column <= last_column
        if inside and (cell.row, cell.column) != (first_row, first_column):
            return sentence("the cell is merged away", "it must be a cell of its own", "unmerge it")
    return ""


# How a spreadsheet program may write where a function comes from.
QUALIFIER = re.compile(r"(_XLL\.|_XLUDF\.|('[^']*'|[\w.\[\]]+)!)(?=TD_)")


def is_ours(cell: CellRead, write: Write) -> bool:
    """Whether the formula of a cell is the one that we put there."""
    there, ours = (
        QUALIFIER.sub("", "".join(text.split()).upper())
        for text in (cell.formula_text, write.formula)
    )
    return bool(ours) and there == ours


def _written(text: str) -> str:
    """A text as we write it into a part."""
    escaped = _escaped(text)
    return escaped if escaped.isascii() else _ascii(escaped).decode()


def same(cell: CellRead, write: Write) -> bool:
    """Whether a cell holds already what is to be written."""
    if write.formula and cell.formula != write.live:
        return False
    if write.live and not is_ours(cell, write):
        return False
    if write.style and write.style != str(cell.style):
        return False
    if write.keep:
        return True
    value = write.value
    if value is None:
        return cell.kind == "blank"
    if isinstance(value, Error):
        return cell.kind == "error" and cell.value == value.text
    if isinstance(value, str):
        return cell.kind == "text" and cell.value == value
    return cell.kind == "number" and cell.value == float(value)


def number_text(value: float | int | Decimal) -> str:
    """A number as a sheet part writes it: the shortest text that reads back the same."""
    number = value if type(value) is float else float(value)
    text = repr(number)
    if text.endswith(".0") and abs(number) < 1e15:
        return text[:-2] if number else "0"
    return text


# Characters that XML forbids, and halves of a pair.
UNWRITABLE = re.compile("[\x00-\x08\x0b-\x1f\ud800-\udfff\ufffe\uffff]")


# Whatever of a text is not written as it is.
SPECIAL = re.compile("[&<>\x00-\x08\x0b-\x1f\ud800-\udfff\ufffe\uffff]|_x")


def _escaped(text: str) -> str:
    if not SPECIAL.search(text):
        return text
    text = re.sub(r"_(?=x[0-9A-Fa-f]{4}_)", "_x005F_", text)
    text = UNWRITABLE.sub(lambda m: f"_x{ord(m.group()):04X}_", text)
    return escape(text)


def _ascii(text: str) -> bytes:
    """Bytes that mean the same whatever encoding the part declares."""
    return text.encode("ascii", "xmlcharrefreplace")


class _Splice:
    """Edits of one sheet part."""

    def __init__(self, scan: Scan) -> None:
        self.scan = scan
        self.prefix = scan.prefix
        head = scan.data[:200].lower()
        if scan.data[:2] in (b"\xff\xfe", b"\xfe\xff") or b"utf-16" in head:
            raise PackageError("a sheet of it is stored as UTF-16; save it anew as .xlsx")

    def apply(self, cells: Mapping[tuple[int, int], Write]) -> bytes:
        edits: list[Edit] = []
        missing: dict[int, list[tuple[int, Write]]] = {}
        for (row, column), write in sorted(cells.items()):
            raw = self.scan.cells.get((row, column))
            if raw is not None:
                edits.append((raw.start, raw.end, self._existing(raw, write)))
            elif write.value is not None or write.live or write.style:
                missing.setdefault(row, []).append((column, write))
        here: dict[int, list[int]] = {row: [] for row in missing if row in self.scan.rows}
        for row, column in self.scan.cells if here else ():
            if row in here:
                here[row].append(column)
        for row, columns in here.items():
            edits += self._into_row(self.scan.rows[row], missing[row], sorted(columns))
        edits += self._new_rows({r: n for r, n in missing.items() if r not in self.scan.rows})
        edits += self._dimension(missing)
        return _spliced(self.scan.data, edits)

    def _existing(self, raw: RawCell, write: Write) -> bytes:
        style = write.style or raw.attributes.get("s")
        if write.keep:
            return self._restyled(raw, write.style)
        reference = f"{column_letters(raw.column)}{raw.row}"
        if raw.formula_span is None or not write.cached:
            return self._cell(reference, style, write.value, self._formula(write), {})
        start, end = raw.formula_span
        kept = {k: v for k, v in raw.attributes.items() if k in ("cm", "ph")}
        return self._cell(reference, style, write.value, self.scan.data[start:end], kept)

    def _restyled(self, raw: RawCell, style: str) -> bytes:
        head, rest = (
            self.scan.data[raw.start : raw.head_end],
            self.scan.data[raw.head_end : raw.end],
        )
        plain = re.sub(rb'\ss=(["\'])[^"\']*\1', b"", head)
        # Behind its place, where programs write it.
        named = rb"(<(?:[\w.-]+:)?c\b(?:\s+r=[\"'][^\"']*[\"'])?)"
        return re.sub(named, rb"\1 s=" + quoteattr(style).encode(), plain, count=1) + rest

    def _formula(self, write: Write) -> bytes:
        if not write.live:
            return b""
        return _ascii(f"<{self.prefix}f>{escape(write.formula)}</{self.prefix}f>")

    def _cell(
        self,
        reference: str,
        style: str | None,
        value: Content,
        formula: bytes,
        kept: Mapping[str, str],
    ) -> bytes:
        p = self.prefix
        kind, body = "", ""
        if isinstance(value, Error):
            kind, body = "e", f"<{p}v>{escape(value.text)}</{p}v>"
        elif isinstance(value, str) and formula:
            kind, body = "str", f"<{p}v>{_escaped(value)}</{p}v>"
        elif isinstance(value, str):
            kind = "inlineStr"
            text = f'<{p}t xml:space="preserve">{_escaped(value)}</{p}t>'
            body = f"<{p}is>{text}</{p}is>"
        elif value is not None:
            body = f"<{p}v>{number_text(value)}</{p}v>"
        attributes = f' r="{reference}"'
        attributes += _style(style) if style else ""
        attributes += f' t="{kind}"' if kind else ""
        attributes += "".join(f" {name}={quoteattr(text)}" for name, text in kept.items())
        if not body and not formula:
            return _ascii(f"<{p}c{attributes}/>")
        return _ascii(f"<{p}c{attributes}>") + formula + _ascii(f"{body}</{p}c>")

    def _new_cell(self, row: int, column: int, write: Write, row_style: str | None) -> bytes:
        style = row_style
        if style is None:
            for first, last, column_style in self.scan.column_styles:
                if first <= column <= last:
                    style = column_style
        reference = f"{column_letters(column)}{row}"
        return self._cell(reference, write.style or style, write.value, self._formula(write), {})

    def _into_row(
        self, row: RawRow, new: list[tuple[int, Write]], columns: Sequence[int]
    ) -> list[Edit]:
        """New cells of a row that has cells in these columns."""
        row_style = row.attributes.get("s") if row.attributes.get("customFormat") else None
        existing = [(column, self.scan.start_of((row.number, column))) for column in columns]
        made = [(c, self._new_cell(row.number, c, w, row_style)) for c, w in new]
        data = self.scan.data
        head = _with_spans(data[row.start : row.head_end], [c for c, _ in new])
        if row.empty:
            opened = re.sub(rb"\s*/>$", b">", head)
            close = f"</{self.prefix}row>".encode()
            return [(row.start, row.end, opened + b"".join(t for _, t in made) + close)]
        edits: list[Edit] = [(row.start, row.head_end, head)]
        for column, text in made:
            before = next((start for c, start in existing if c > column), row.body_end)
            edits.append((before, before, text))
        return edits

    def _new_rows(self, rows: Mapping[int, list[tuple[int, Write]]]) -> list[Edit]:
        if not rows:
            return []
        start, head_end, body_end = self.scan.sheet_data
        numbers = sorted(self.scan.rows)
        made: list[tuple[int, bytes]] = []
        for number, new in sorted(rows.items()):
            cells = b"".join(self._new_cell(number, c, w, None) for c, w in new)
            head = f'<{self.prefix}row r="{number}">'.encode()
            text = head + cells + f"</{self.prefix}row>".encode()
            place = bisect_right(numbers, number)
            after = numbers[place] if place < len(numbers) else None
            made.append((self.scan.rows[after].start if after else body_end, text))
        if self.scan.data[head_end - 2 : head_end] == b"/>":
            opened = re.sub(rb"\s*/>$", b">", self.scan.data[start:head_end])
            close = f"</{self.prefix}sheetData>".encode()
            return [(start, head_end, opened + b"".join(t for _, t in made) + close)]
        return [(position, position, text) for position, text in made]

    def _dimension(self, missing: Mapping[int, list[tuple[int, Write]]]) -> list[Edit]:
        if not missing or self.scan.dimension is None:
            return []
        start, end, _ = self.scan.dimension
        rows = [*self.scan.rows, *missing]
        columns = [c for _, c in self.scan.cells]
        columns += [c for new in missing.values() for c, _ in new]
        first = f"{column_letters(min(columns))}{min(rows)}"
        last = f"{column_letters(max(columns))}{max(rows)}"
        text = re.sub(
            rb'ref=(["\'])[^"\']*\1', f'ref="{first}:{last}"'.encode(), self.scan.data[start:end]
        )
        return [(start, end, text)]


def _style(style: str) -> str:
    return f' s="{style}"' if style.isdecimal() else f" s={quoteattr(style)}"


def _with_spans(head: bytes, columns: list[int]) -> bytes:
    found = re.search(rb'spans=(["\'])(\d+):(\d+)\1', head)
    if not found:
        return head
    low = min([int(found.group(2)), *columns])
    high = max([int(found.group(3)), *columns])
    return head[: found.start()] + f'spans="{low}:{high}"'.encode() + head[found.end() :]


def _spliced(data: bytes, edits: list[Edit]) -> bytes:
    pieces, position = [], 0
    for start, end, text in sorted(edits, key=lambda edit: (edit[0], edit[1])):
        pieces += [data[position:start], text]
        position = max(position, end)
    return b"".join([*pieces, data[position:]])


def recalculate_on_load(data: bytes) -> bytes:
    """workbook.xml asking the spreadsheet program to calculate everything when it opens."""
    found = re.search(rb"<((?:[\w.-]+:)?)calcPr\b", data)
    if found:
        end = tag_end(data, found.start())
        tag = re.sub(rb'\s+fullCalcOnLoad=(["\'])[^"\']*\1', b"", data[found.start() : end])
        tag = re.sub(rb"(\s*/?>)$", rb' fullCalcOnLoad="1"\1', tag)
        return data[: found.start()] + tag + data[end:]
    root = re.search(rb"<((?:[\w.-]+:)?)workbook\b", data)
    prefix = root.group(1) if root else b""
    for name in (b"definedNames", b"externalReferences", b"functionGroups", b"sheets"):
        close = data.rfind(b"</" + prefix + name + b">")
        if close >= 0:
            at = close + len(b"</" + prefix + name + b">")
            return data[:at] + b"<" + prefix + b'calcPr fullCalcOnLoad="1"/>' + data[at:]
    return data


__all__ = ["NOT_AVAILABLE", "Error", "Write", "number_text", "write_cells"]
