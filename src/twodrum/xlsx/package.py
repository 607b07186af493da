"""The zip around a workbook: read parts, replace some, keep every other byte.

An entry that is not replaced keeps its local header, data and descriptor byte for byte;
its central record is copied with only the offset changed.
"""

from __future__ import annotations

import os
import posixpath
import stat
import zipfile
import zlib
from collections.abc import Iterator
from io import BytesIO
from pathlib import Path
from urllib.parse import unquote

from .records import CENTRAL, END, LOCAL, MOST_FILE, central_records

# Bytes of all that was unpacked of a file, and of its largest part.
MOST_UNPACKED = 768 * 1024 * 1024
MOST_PART = 256 * 1024 * 1024
PIECE = 1 << 20
OLE = b"\xd0\xcf\x11\xe0\xa1\xb1\x1a\xe1"


KINDS = "[content_types].xml"
RESTORE = "restore it from a copy"
TOO_LARGE = "{} is larger than {} MB, which no job needs; move what is not of the job out of it"


class PackageError(ValueError):
    """A file that is not read or written, with the reason and the mend."""


class Package:
    """The parts of one workbook file."""

    def __init__(self, data: bytes) -> None:
        self.data = data
        self.replaced: dict[str, bytes] = {}
        # New parts by their normal names, as they are called in the file; and those that go.
        self.added: dict[str, tuple[str, bytes]] = {}
        self.removed: set[str] = set()
        self._unpacked = 0
        # Replaced parts that were packed already, with what was packed.
        self._squeezed: dict[str, tuple[bytes, bytes, int]] = {}
        self._whole: set[str] = set()
        self._unpacked_parts: dict[str, bytes] = {}
        self._refuse_other_formats()
        try:
            self._zip = zipfile.ZipFile(BytesIO(data))
        except (zipfile.BadZipFile, NotImplementedError, ValueError) as error:
            why = "its list of parts cannot be read"
            raise PackageError(f"it is damaged ({why}); {RESTORE}") from error
        self._entries = self._zip.infolist()
        self._names = {self.normal(entry.filename): entry for entry in self._entries}
        self._refuse()

    @classmethod
    def open(cls, path: str | Path) -> Package:
        """The package of a file; PackageError says why a file is refused."""
        try:
            state = os.stat(path)
            # A pipe or a device would be waited for, for ever.
            if stat.S_ISDIR(state.st_mode):
                raise PackageError("it is a folder; name a workbook in it")
            if not stat.S_ISREG(state.st_mode):
                raise PackageError("it is no ordinary file; name a workbook")
            if state.st_size > MOST_FILE:
                raise PackageError(TOO_LARGE.format("it", MOST_FILE >> 20))
            return cls(Path(path).read_bytes())
        except FileNotFoundError:
            raise PackageError("there is no such file; check the name") from None
        except OSError as error:
            raise PackageError(f"it cannot be read ({error.strerror})") from None

    @staticmethod
    def normal(name: str) -> str:
        """One spelling for a part name: slashes, no leading slash, no escapes, lower case."""
        return posixpath.normpath(unquote(name.replace("\\", "/")).lstrip("/")).lower()

    def _refuse_other_formats(self) -> None:
        if self.data.startswith(OLE):
            if "EncryptedPackage".encode("utf-16-le") in self.data:
                raise PackageError("it needs a password to open; save it without one")
            raise PackageError("it is of the old kind, such as .xls; save it as .xlsx")
        if self.data.startswith(b"PK\x03\x04"):
            return
        if not self.data.strip(b"\x00"):
            raise PackageError(f"it is empty; {RESTORE}")
        text = self.data[:4096].lstrip(b"\xef\xbb\xbf \t\r\n")
        if text.startswith(b"<"):
            raise PackageError(
                "it is a web page under the name of a workbook; open it in a spreadsheet program "
                "and save it as .xlsx"
            )
        if text and not any(byte < 9 or 13 < byte < 32 for byte in text):
            raise PackageError(
                "it is plain text, such as .csv, under the name of a workbook; open it in a "
                "spreadsheet program and save it as .xlsx"
            )
        raise PackageError("it is not an .xlsx workbook, or damaged; save it as .xlsx")

    def _refuse(self) -> None:
        if len(self._names) != len(self._entries):
            raise PackageError("two of its parts have the same name; save it anew as .xlsx")
        if "mimetype" in self._names:
            raise PackageError("it is an OpenDocument file; save it as .xlsx")
        if any(name.endswith("workbook.bin") for name in self._names):
            raise PackageError("it is an .xlsb; save it as .xlsx")
        if any(name.startswith("_xmlsignatures/") for name in self._names):
            raise PackageError("it is signed, and writing would break the signature; use a copy")
        if "xl/workbook.xml" in self._names and KINDS not in self._names:
            raise PackageError(f"its part {KINDS} is missing; {RESTORE}")
        for entry in self._entries:
            if entry.flag_bits & 1:
                raise PackageError("a part of it is encrypted; save it without a password")
            if entry.file_size > MOST_PART or entry.compress_size == 0xFFFFFFFF:
                raise PackageError(TOO_LARGE.format("a part of it", MOST_PART >> 20))
        if not self._entries or b"PK\x06\x07" in self.data[-4096:]:
            raise PackageError("its zip is empty or of the 64-bit kind; save it anew as .xlsx")
        if min(entry.header_offset for entry in self._entries) != 0:
            raise PackageError(f"it is damaged (its parts are not where it says); {RESTORE}")

    def has(self, name: str) -> bool:
        key = self.normal(name)
        return key in self.added or (key in self._names and key not in self.removed)

    def names(self) -> list[str]:
        """Names of all parts, normalised."""
        return [*(key for key in self._names if key not in self.removed), *self.added]

    def read(self, name: str) -> bytes:
        """One part as it is, or as it was replaced."""
        key = self.normal(name)
        if key in self.replaced:
            return self.replaced[key]
        if key in self.added:
            return self.added[key][1]
        if key in self.removed:
            raise PackageError(f"its part {name} is missing; {RESTORE}")
        if key not in self._unpacked_parts:
            self._unpacked_parts[key] = b"".join(self._pieces(key, name))
        return self._unpacked_parts[key]

    def _pieces(self, key: str, name: str) -> Iterator[bytes]:
        """A part as it is stored, counted as it is unpacked whatever the file says of its size."""
        try:
            with self._zip.open(self._names[key]) as part:
                while piece := part.read(PIECE):
                    self._unpacked += 0 if key in self._whole else len(piece)
                    if self._unpacked > MOST_UNPACKED:
                        raise PackageError(TOO_LARGE.format("it, unpacked,", MOST_UNPACKED >> 20))
                    yield piece
        except KeyError:
            raise PackageError(f"its part {name} is missing; {RESTORE}") from None
        except (zipfile.BadZipFile, zlib.error, NotImplementedError, EOFError, OSError) as error:
            raise PackageError(f"its part {name} is damaged ({error}); {RESTORE}") from None
        self._whole.add(key)

    def replace(self, name: str, data: bytes) -> None:
        """Replace a part; the same bytes as before change nothing."""
        key = self.normal(name)
        if key in self.added:
            self.added[key] = (self.added[key][0], data)
        elif data != self.read(name):
            self.replaced[key] = data

    def add(self, name: str, data: bytes) -> None:
        """Add a part behind all others; one of that name must not be there."""
        key = self.normal(name)
        if self.has(name):
            raise PackageError(f"it has a part {name} already; {RESTORE}")
        self.added[key] = (name, data)

    def remove(self, name: str) -> None:
        """Take a part out."""
        key = self.normal(name)
        self.replaced.pop(key, None)
        if self.added.pop(key, None) is None:
            self.removed.add(key)

    def to_bytes(self) -> bytes:
        """The whole file with its replaced parts."""
        if not (self.replaced or self.added or self.removed):
            return self.data
        # What is only copied is held against its checksum too: damage is not handed on.
        for key in self._names.keys() - self._whole - self.replaced.keys():
            for _ in self._pieces(key, key):
                pass
        start = self._zip.start_dir
        records = self._central_records(start)
        order = sorted(self._entries, key=lambda entry: entry.header_offset)
        ends = [entry.header_offset for entry in order[1:]] + [start]
        out, offsets, fresh = bytearray(), {}, {}
        for entry, end in zip(order, ends):
            key = self.normal(entry.filename)
            if key in self.removed:
                continue
            offsets[key] = len(out)
            if key in self.replaced:
                local, values = self._local(entry, key)
                fresh[key] = values
                out += local
            else:
                out += self.data[entry.header_offset : end]
        made = bytearray()
        for name, data in self.added.values():
            central, local = _new_entry(name, data, len(out))
            out += local
            made += central
        directory = len(out)
        for entry in self._entries:
            key = self.normal(entry.filename)
            if key not in self.removed:
                out += self._central(records[entry.header_offset], offsets[key], fresh.get(key))
        out += made
        size = len(out) - directory
        tail = self.data.rindex(b"PK\x05\x06")
        fields = list(END.unpack_from(self.data, tail))
        count = len(self._entries) - len(self.removed & self._names.keys()) + len(self.added)
        fields[3:7] = count, count, size, directory
        return bytes(out + END.pack(*fields) + self.data[tail + END.size :])

    def _central_records(self, start: int) -> dict[int, bytes]:
        records = central_records(self.data, start)
        return {CENTRAL.unpack_from(record)[18]: record for record in records}

    def _local(self, entry: zipfile.ZipInfo, key: str) -> tuple[bytes, tuple[int, int, int]]:
        data = self.replaced[key]
        if key not in self._squeezed or self._squeezed[key][0] is not data:
            self._squeezed[key] = (data, *_packed(data))
        _, packed, crc = self._squeezed[key]
        old = LOCAL.unpack_from(self.data, entry.header_offset)
        name_at = entry.header_offset + LOCAL.size
        name = self.data[name_at : name_at + old[10]]
        flags = old[3] & ~0x0008
        head = LOCAL.pack(
            old[0], 20, old[2], flags, 8, old[5], old[6], crc, len(packed), len(data), len(name), 0
        )
        return head + name + packed, (crc, len(packed), len(data))

    @staticmethod
    def _central(record: bytes, offset: int, fresh: tuple[int, int, int] | None) -> bytes:
        fields = list(CENTRAL.unpack_from(record))
        rest = record[CENTRAL.size :]
        fields[18] = offset
        if fresh is not None:
            name, extra = fields[12], fields[13]
            fields[5] &= ~0x0008
            fields[6] = 8
            fields[9:12] = fresh
            fields[13] = 0
            rest = rest[:name] + rest[name + extra :]
        return CENTRAL.pack(*fields) + rest


def _packed(data: bytes) -> tuple[bytes, int]:
    squeeze = zlib.compressobj(6, zlib.DEFLATED, -15)
    return squeeze.compress(data) + squeeze.flush(), zlib.crc32(data)


def _new_entry(name: str, data: bytes, offset: int) -> tuple[bytes, bytes]:
    """The central record and the local one of a part that the file did not have."""
    packed, crc = _packed(data)
    called = name.encode()
    # The first day that a zip can say.
    sizes = (0, 0, 8, 0, 0x21, crc, len(packed), len(data), len(called), 0)
    local = LOCAL.pack(b"PK\x03\x04", 20, *sizes)
    central = CENTRAL.pack(b"PK\x01\x02", 20, 0, 20, *sizes, 0, 0, 0, 0, offset)
    return central + called, local + called + packed
