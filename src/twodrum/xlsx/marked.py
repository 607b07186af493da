"""A mark by which a filled workbook is known again, without reading what is in it.

A name of ours holds a digest of every stored byte of the file but its own. What a spreadsheet
program stores anew, or a damaged byte, gives another digest: then the mark says nothing.
"""

from __future__ import annotations

import re
import struct
import zipfile
import zlib
from hashlib import sha256
from io import BytesIO
from typing import NamedTuple

from .records import CENTRAL, END, central_records

TYPE_CHECKING = False
if TYPE_CHECKING:
    # A workbook that is known again is not read.
    from .package import Package

# The name that holds the mark, behind what stands before our names.
FILLED_MARK = "filled_mark"
NAMED = FILLED_MARK.encode()
HELD = re.compile(
    rb"(<(?:[\w.-]+:)?definedName\b[^<>]*\bname=[\"'][\w.]*"
    + NAMED
    + rb"[\"'][^<>]*>)((?:\"|&quot;)[^<\"&]*(?:\"|&quot;))(?=</)"
)
WORKBOOK = "xl/workbook.xml"
# A part of the workbook that is larger is read each time.
LARGEST = 1 << 24


class Mark(NamedTuple):
    """What a fill found, with what it was filled by."""

    version: str
    state: str
    notes: int
    cautions: int
    # Whether results are calls of worksheet functions.
    live: bool

    def text(self, digest: str) -> str:
        """The mark as it is written."""
        return "|".join((*map(str, self[:4]), str(int(self.live)), digest))


def known_again(data: bytes) -> Mark | None:
    """The mark of a file where it holds for each byte of it; None where it says nothing."""
    try:
        with zipfile.ZipFile(BytesIO(data)) as archive:
            small = archive.getinfo(WORKBOOK).file_size <= LARGEST
            found = _held(archive.read(WORKBOOK)) if small else None
            if found is None:
                return None
            text = re.sub(rb'"|&quot;', b"", found[2]).decode()
            *said, digest = text.split("|")
            if len(said) != len(Mark._fields) or digest != _digest(data, archive):
                return None
        version, state, notes, cautions, live = said
        return Mark(version, state, int(notes), int(cautions), live == "1")
    except (
        zipfile.BadZipFile,
        zlib.error,
        LookupError,
        ValueError,
        OSError,
        RuntimeError,
        struct.error,
    ):
        # Whatever is wrong with it, reading it says so.
        return None


def _held(workbook: bytes) -> re.Match[bytes] | None:
    """Where a workbook part holds its mark."""
    at = workbook.find(NAMED)
    while at >= 0:
        found = HELD.match(workbook, workbook.rfind(b"<", 0, at))
        if found is not None:
            return found
        at = workbook.find(NAMED, at + 1)
    return None


def _digest(data: bytes, archive: zipfile.ZipFile) -> str:
    """A digest of all parts as they are stored; of the workbook's own without the mark.

    ValueError where more stands in the file than they and their list.
    """
    order = sorted(archive.infolist(), key=lambda entry: entry.header_offset)
    ends = [*(entry.header_offset for entry in order[1:]), archive.start_dir]
    whole = sha256()
    for entry, end in zip(order, ends):
        if entry.filename == WORKBOOK:
            there = archive.read(WORKBOOK)
            found = _held(there)
            whole.update(there if found is None else there[: found.end(1)] + there[found.end() :])
        else:
            whole.update(data[entry.header_offset : end])
    if order[0].header_offset:
        raise ValueError("something stands before the first part")
    # The list of the parts, but for what says where and how large they are.
    at = archive.start_dir
    for record in central_records(data, at):
        fields, rest = list(CENTRAL.unpack_from(record)), record[CENTRAL.size :]
        fields[18] = 0
        fields[9:12] = (0, 0, 0) if rest[: fields[12]] == WORKBOOK.encode() else fields[9:12]
        whole.update(CENTRAL.pack(*fields) + rest)
        at += len(record)
    tail = data[at:]
    if len(tail) != END.size or END.unpack(tail)[5:7] != (
        at - archive.start_dir,
        archive.start_dir,
    ):
        raise ValueError("more stands behind the list of the parts")
    whole.update(tail[:12])
    return whole.hexdigest()


def marked(package: Package, data: bytes, mark: Mark | None) -> bytes:
    """The whole file, which is ``data`` so far, with its mark; blank where there is none."""
    if not package.has(WORKBOOK) or _held(package.read(WORKBOOK)) is None:
        return data
    text = ""
    if mark is not None:
        with zipfile.ZipFile(BytesIO(data)) as archive:
            try:
                text = mark.text(_digest(data, archive))
            except ValueError:
                # A file that is laid out otherwise is read each time.
                text = ""
    held = f"&quot;{text}&quot;".encode()
    there = package.read(WORKBOOK)
    found = _held(there)
    if found is not None and found[2].replace(b'"', b"&quot;") != held:
        package.replace(WORKBOOK, there[: found.start(2)] + held + there[found.end(2) :])
    return package.to_bytes()
