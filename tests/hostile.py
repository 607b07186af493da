"""Files that would break a program: what each is answered with, how long it takes and its memory.

    python -m tests.hostile

prints a table: the file, the exit status, seconds, MB, the sentence.
"""

from __future__ import annotations

import gzip
import io
import os
import re
import resource
import struct
import sys
import tempfile
import time
import zipfile
from collections.abc import Callable
from pathlib import Path

Change = Callable[[dict[str, bytes]], None]
CPU_SECONDS = 60
OLE = b"\xd0\xcf\x11\xe0\xa1\xb1\x1a\xe1"
SHEET = "xl/worksheets/sheet3.xml"


def packed(parts: dict[str, bytes], method: int = zipfile.ZIP_DEFLATED) -> bytes:
    out = io.BytesIO()
    with zipfile.ZipFile(out, "w", method) as book:
        for name, data in parts.items():
            book.writestr(name, data)
    return out.getvalue()


def parts_of(data: bytes) -> dict[str, bytes]:
    with zipfile.ZipFile(io.BytesIO(data)) as book:
        return {name: book.read(name) for name in book.namelist()}


def with_parts(change: Change) -> Callable[[bytes], bytes]:
    """The book with its parts changed and stored anew, with right checksums."""

    def made(data: bytes) -> bytes:
        parts = parts_of(data)
        before = dict(parts)
        change(parts)
        assert parts != before
        return packed(parts)

    return made


def swapped(name: str, pattern: bytes, new: bytes) -> Callable[[bytes], bytes]:
    """The first place of a pattern in the parts whose name begins so, put otherwise."""

    def change(parts: dict[str, bytes]) -> None:
        for key in sorted(key for key in parts if key.startswith(name)):
            if re.search(pattern, parts[key]):
                parts[key] = re.sub(pattern, new, parts[key], count=1)
                return
        raise AssertionError(f"{pattern!r} is not in {name}")

    return with_parts(change)


def put(name: str, data: bytes) -> Callable[[bytes], bytes]:
    return with_parts(lambda parts: parts.update({name: data}))


def gone(name: str) -> Callable[[bytes], bytes]:
    def change(parts: dict[str, bytes]) -> None:
        del parts[name]

    return with_parts(change)


def bytes_at(find: bytes, offset: int, new: bytes, last: bool = False) -> Callable[[bytes], bytes]:
    """Bytes put at a place counted from a mark of the stored file."""

    def made(data: bytes) -> bytes:
        at = (data.rindex(find) if last else data.index(find)) + offset
        return data[:at] + new + data[at + len(new) :]

    return made


def entry_field(offset: int, new: bytes) -> Callable[[bytes], bytes]:
    """A field of every record in the list of parts."""

    def made(data: bytes) -> bytes:
        spoiled = bytearray(data)
        for mark in re.finditer(b"PK\x01\x02", data):
            spoiled[mark.start() + offset : mark.start() + offset + len(new)] = new
        return bytes(spoiled)

    return made


def damaged_sheet(data: bytes) -> bytes:
    with zipfile.ZipFile(io.BytesIO(data)) as book:
        entry = book.getinfo(SHEET)
    middle = entry.header_offset + 30 + len(entry.filename) + entry.compress_size // 2
    return data[:middle] + bytes([data[middle] ^ 0xFF]) + data[middle + 1 :]


def twice(data: bytes) -> bytes:
    out = io.BytesIO(data)
    with zipfile.ZipFile(out, "a") as book:
        book.writestr(SHEET.upper(), b"<worksheet/>")
    return out.getvalue()


def bomb(data: bytes) -> bytes:
    """Some 1.5 MB that unpack to 1.6 GB, each part of a lawful size."""
    out = io.BytesIO(data)
    with zipfile.ZipFile(out, "a", zipfile.ZIP_DEFLATED) as book:
        for number in range(8):
            book.writestr(f"xl/media/{number}.bin", bytes(200 << 20))
    return out.getvalue()


def many_cells(data: bytes) -> bytes:
    row = b"".join(b"<c><v>%d</v></c>" % number for number in range(100))
    rows = b"<sheetData>" + b"<row>" + row.join((b"", b"</row><row>")) + row + b"</row>"
    sheet = rows + (b"<row>" + row + b"</row>") * 10_000
    return swapped(SHEET, rb"<sheetData>", sheet)(data)


def names(count: int) -> Callable[[bytes], bytes]:
    more = b"".join(b'<definedName name="n%d">Start!$A$1</definedName>' % n for n in range(count))
    return swapped("xl/workbook.xml", rb"<definedNames>", b"<definedNames>" + more)


LAUGHS = (
    b'<!DOCTYPE w [<!ENTITY a "ha">'
    + b"".join(b'<!ENTITY %c "%s">' % (98 + n, b"&%c;" % (97 + n) * 20) for n in range(10))
    + b"]>"
)
OUTSIDE = b'<!DOCTYPE w [<!ENTITY a SYSTEM "file:///etc/passwd">]>'

LONG = b'<sheetData a="' + b"x" * (20 << 20) + b'">'
SHARED = b'<c r="A1" t="s"><v>99999999</v></c>'
TO_ROW = rb'ref="A6:([A-Z]+)\d+"'
# What harms no number of ours is done and told as any other job.
DONE = "^: filled"
# Made and answered by the script alone: they take long.
LARGE = ("1.6 GB packed small", "a million cells on a sheet", "600,000 names")

# Name, how it is made of a good job, what its sentence says.
FILES: tuple[tuple[str, Callable[[bytes], bytes], str], ...] = (
    ("nothing", lambda _: b"", "it is empty"),
    ("zeros", lambda _: bytes(5000), "it is empty"),
    ("one letter", lambda _: b"x", "plain text"),
    ("text", lambda _: b"name,area\nFloor,20\n", "plain text"),
    ("web page", lambda _: b"<html><body>20</body></html>", "a web page"),
    ("picture", lambda _: b"\x89PNG\r\n\x1a\n" + bytes(range(256)), "not an .xlsx workbook"),
    ("packed with gzip", gzip.compress, "not an .xlsx workbook"),
    (".xls", lambda _: OLE + bytes(2000), "the old kind"),
    ("password", lambda _: OLE + "EncryptedPackage".encode("utf-16-le"), "needs a password"),
    ("OpenDocument", put("mimetype", b"application/vnd.oasis"), "OpenDocument"),
    (".xlsb", put("xl/workbook.bin", b"\x83\x01"), "an .xlsb"),
    ("another zip", lambda _: packed({"a.txt": b"a"}), "it is not a workbook"),
    ("zip of nothing", lambda _: packed({}), "not an .xlsx|empty|damaged"),
    ("signed", put("_xmlsignatures/sig1.xml", b"<Signature/>"), "signed"),
    ("half of it", lambda data: data[: len(data) // 2], "damaged"),
    ("its end lost", lambda data: data[:-30], "damaged"),
    ("its start lost", lambda data: data[100:], "damaged|not an .xlsx"),
    ("something before it", lambda data: b"PK\x03\x04" + data, "damaged"),
    ("the 64-bit kind", lambda data: data[:-22] + b"PK\x06\x07" + data[-22:], "64-bit|damaged"),
    ("a sheet damaged", damaged_sheet, "damaged"),
    ("parts encrypted", entry_field(8, b"\x01\x00"), "encrypted"),
    ("packed in an unknown way", entry_field(10, b"\x63\x00"), "damaged"),
    ("a size of 4 GB", entry_field(24, b"\xf0\xff\xff\xff"), "larger than"),
    ("a size of 1 byte", entry_field(24, struct.pack("<L", 1)), "damaged"),
    ("two parts of one name", twice, "same name"),
    ("1.6 GB packed small", bomb, "larger than"),
    ("no list of kinds", gone("[Content_Types].xml"), "missing|damaged"),
    ("no workbook part", gone("xl/workbook.xml"), "missing|damaged"),
    ("no relations", gone("xl/_rels/workbook.xml.rels"), "missing|damaged"),
    ("a sheet lost", gone(SHEET), "missing"),
    ("workbook part is no XML", put("xl/workbook.xml", b"<workbook"), "damaged|cannot be read"),
    ("sheet is no XML", put(SHEET, b"\x00\x01"), "damaged|cannot be read"),
    ("sheet is empty", put(SHEET, b""), "damaged|cannot be read"),
    ("a cell not closed", swapped(SHEET, rb"</c>", b""), "damaged|cannot be read"),
    (
        "entities that multiply",
        swapped("xl/workbook.xml", rb"(?=<workbook)", LAUGHS),
        "a document type",
    ),
    ("an entity from outside", swapped(SHEET, rb"(?=<worksheet)", OUTSIDE), "a document type"),
    ("a depth of 200,000", put(SHEET, b"<a>" * 200_000 + b"</a>" * 200_000), "no place for cells"),
    ("an attribute of 20 MB", swapped(SHEET, rb"<sheetData>", LONG), DONE),
    ("a million cells on a sheet", many_cells, "more than 500,000 cells"),
    ("600,000 names", names(600_000), DONE),
    ("row 2,000,000,000", swapped(SHEET, rb'<row r="\d+"', b'<row r="2000000000"'), DONE),
    ("column ZZZZ", swapped(SHEET, rb'<c r="[A-Z]+', b'<c r="ZZZZ'), "not an area of cells"),
    ("shared text out of range", swapped(SHEET, rb'<c r="A1"[^>]*>.*?</c>', SHARED), DONE),
    (
        "a table of a million rows",
        swapped("xl/tables/", TO_ROW, rb'ref="A6:\g<1>1048576"'),
        "reaches over",
    ),
    (
        "a table of 2,000,000,000 rows",
        swapped("xl/tables/", TO_ROW, rb'ref="A6:\g<1>2000000000"'),
        "reaches over",
    ),
    (
        "a table to the last column",
        swapped("xl/tables/", rb'ref="A6:[A-Z]+(\d+)"', rb'ref="A6:XFD\g<1>"'),
        DONE,
    ),
    (
        "none of our names",
        swapped("xl/workbook.xml", rb"<definedNames>.*</definedNames>", b""),
        "lacks 241 of the inputs",
    ),
    ("shared with revisions", put("xl/revisions/revisionHeaders.xml", b"<headers/>"), DONE),
)


def answered(data: bytes, name: str = "job.xlsx") -> tuple[int, float, int, str, bool]:
    """Status, seconds, MB, what was told, and whether the file is as before, of one fill."""
    from twodrum.cli import main

    with tempfile.TemporaryDirectory() as folder:
        path, told = Path(folder) / name, Path(folder) / "told"
        path.write_bytes(data)
        begin = time.monotonic()
        child = os.fork()
        if child == 0:
            resource.setrlimit(resource.RLIMIT_CPU, (CPU_SECONDS, CPU_SECONDS))
            status = 99
            try:
                with told.open("w") as file:
                    sys.stdout = sys.stderr = file
                    status = main(["fill", str(path)])
                    file.flush()
            finally:
                os._exit(status)
        _, ended, used = os.wait4(child, 0)
        status = os.WEXITSTATUS(ended) if os.WIFEXITED(ended) else -os.WTERMSIG(ended)
        seconds, memory = time.monotonic() - begin, used.ru_maxrss // 1024
        words = " ".join(told.read_text().replace(str(path), "").split()) if told.exists() else ""
        return status, seconds, memory, words, path.read_bytes() == data


if __name__ == "__main__":
    from tests.workbook.typing import small_job

    with tempfile.TemporaryDirectory() as made:
        job = small_job(Path(made) / "job.xlsx").read_bytes()
    for title, make, expected in FILES:
        status, seconds, memory, words, same = answered(make(job))
        unlike = "" if re.search(expected, words) and same == (status == 2) else "UNEXPECTED "
        print(f"{title:30} {status} {seconds:5.1f} s {memory:5} MB  {unlike}{words[:230]}")
