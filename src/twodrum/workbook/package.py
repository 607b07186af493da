"""The zip around a workbook: read parts, replace some, keep every other byte.

An entry that is not replaced keeps its local header, data and descriptor byte for byte;
its central record is copied with only the offset changed.
"""

from __future__ import annotations

import os
import platform
import posixpath
import shutil
import stat
import struct
import tempfile
import time
import zipfile
import zlib
from io import BytesIO
from pathlib import Path
from urllib.parse import unquote

LIMIT = 512 * 1024 * 1024
# Older than this, in seconds, a temporary file of ours belongs to no write that still runs.
LEFT_BEHIND = 600.0
OLE = b"\xd0\xcf\x11\xe0\xa1\xb1\x1a\xe1"
CENTRAL = struct.Struct("<4s4B4HL2L5H2L")
LOCAL = struct.Struct("<4s2B4HL2L2H")
END = struct.Struct("<4s4H2LH")


class PackageError(ValueError):
    """A file that is not read or written, with the reason and the mend."""


class Package:
    """The parts of one workbook file."""

    def __init__(self, data: bytes) -> None:
        self.data = data
        self.replaced: dict[str, bytes] = {}
        self._refuse_other_formats()
        try:
            self._zip = zipfile.ZipFile(BytesIO(data))
        except (zipfile.BadZipFile, NotImplementedError, ValueError) as error:
            raise PackageError(f"it is damaged ({error}); restore it from a copy") from None
        self._entries = self._zip.infolist()
        self._names = {self.normal(entry.filename): entry for entry in self._entries}
        self._refuse()

    @classmethod
    def open(cls, path: str | Path) -> Package:
        """The package of a file; PackageError says why a file is refused."""
        try:
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
            raise PackageError(
                "it needs a password to open, or is an old .xls; save it as .xlsx without one"
            )
        if not self.data.startswith(b"PK\x03\x04"):
            raise PackageError("it is not an .xlsx workbook; save it as .xlsx")

    def _refuse(self) -> None:
        if len(self._names) != len(self._entries):
            raise PackageError("two of its parts have the same name; save it anew as .xlsx")
        if "mimetype" in self._names:
            raise PackageError("it is an OpenDocument file; save it as .xlsx")
        if any(name.endswith("workbook.bin") for name in self._names):
            raise PackageError("it is an .xlsb; save it as .xlsx")
        if any(name.startswith("_xmlsignatures/") for name in self._names):
            raise PackageError("it is signed, and writing would break the signature; use a copy")
        for entry in self._entries:
            if entry.flag_bits & 1:
                raise PackageError("a part of it is encrypted; save it without a password")
            if entry.file_size > LIMIT or entry.compress_size == 0xFFFFFFFF:
                raise PackageError("a part of it is too large")
        if not self._entries or b"PK\x06\x07" in self.data[-4096:]:
            raise PackageError("its zip is empty or of the 64-bit kind; save it anew as .xlsx")
        if min(entry.header_offset for entry in self._entries) != 0:
            raise PackageError("something stands before its zip data; save it anew as .xlsx")

    def has(self, name: str) -> bool:
        return self.normal(name) in self._names

    def names(self) -> list[str]:
        """Names of all parts, normalised."""
        return list(self._names)

    def read(self, name: str) -> bytes:
        """One part as it is, or as it was replaced."""
        key = self.normal(name)
        if key in self.replaced:
            return self.replaced[key]
        try:
            data = self._zip.read(self._names[key])
        except KeyError:
            raise PackageError(f"its part {name} is missing; restore it from a copy") from None
        except (zipfile.BadZipFile, zlib.error, NotImplementedError, EOFError, OSError) as error:
            raise PackageError(f"its part {name} is damaged ({error})") from None
        return data

    def replace(self, name: str, data: bytes) -> None:
        """Replace a part; the same bytes as before change nothing."""
        if data != self.read(name):
            self.replaced[self.normal(name)] = data

    def to_bytes(self) -> bytes:
        """The whole file with its replaced parts."""
        if not self.replaced:
            return self.data
        start = self._zip.start_dir
        records = self._central_records(start)
        order = sorted(self._entries, key=lambda entry: entry.header_offset)
        ends = [entry.header_offset for entry in order[1:]] + [start]
        out, offsets, fresh = bytearray(), {}, {}
        for entry, end in zip(order, ends):
            key = self.normal(entry.filename)
            offsets[key] = len(out)
            if key in self.replaced:
                local, values = self._local(entry, self.replaced[key])
                fresh[key] = values
                out += local
            else:
                out += self.data[entry.header_offset : end]
        directory = len(out)
        for entry in self._entries:
            key = self.normal(entry.filename)
            out += self._central(records[entry.header_offset], offsets[key], fresh.get(key))
        size = len(out) - directory
        tail = self.data.rindex(b"PK\x05\x06")
        fields = list(END.unpack_from(self.data, tail))
        fields[5], fields[6] = size, directory
        return bytes(out + END.pack(*fields) + self.data[tail + END.size :])

    def _central_records(self, start: int) -> dict[int, bytes]:
        found, position = {}, start
        while self.data[position : position + 4] == b"PK\x01\x02":
            fields = CENTRAL.unpack_from(self.data, position)
            end = position + CENTRAL.size + sum(fields[12:15])
            found[fields[18]] = self.data[position:end]
            position = end
        return found

    def _local(self, entry: zipfile.ZipInfo, data: bytes) -> tuple[bytes, tuple[int, int, int]]:
        squeeze = zlib.compressobj(6, zlib.DEFLATED, -15)
        packed = squeeze.compress(data) + squeeze.flush()
        crc = zlib.crc32(data)
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


def refuse_open_file(path: Path) -> None:
    """Refuse a file that a spreadsheet program holds open, or that may not be written."""
    if path.exists():
        _refuse_without_right(path)
    program = open_in(path)
    if program:
        raise PackageError(f"it is open in {program}; close it there and try again")


def _refuse_without_right(path: Path) -> None:
    """Refuse what the caller may not write, whatever the folder allows, and a second name."""
    state = path.stat()
    if not state.st_mode & stat.S_IWUSR:
        raise PackageError("it is read-only; allow writing to it, or use --out")
    if not os.access(path, os.W_OK):
        raise PackageError("it belongs to another user and may not be written; use --out")
    if state.st_nlink > 1:
        raise PackageError(
            "it has a second name in the file system, which would keep the old contents; copy it "
            "first, or use --out"
        )


def refuse_changed_file(path: Path, data: bytes) -> None:
    """Refuse to replace a file that is another one than was read: somebody saved meanwhile."""
    refuse_open_file(path)
    try:
        now = path.read_bytes()
    except FileNotFoundError:
        raise PackageError("it was moved or removed while this ran; run it again") from None
    except OSError as error:
        raise PackageError(f"it cannot be read again ({error.strerror})") from None
    if now != data:
        raise PackageError("it was saved while this ran; nothing was written; run it again")


def _own_prefix() -> str:
    """How the temporary files of this process begin: the machine, then the process."""
    return f".twodrum-{zlib.crc32(platform.node().encode()):08x}-{os.getpid()}-"


def remove_leftovers(folder: Path) -> int:
    """Remove what killed writes of ours left behind, copies of somebody's workbook; how many."""
    machine = _own_prefix().rsplit("-", 2)[0]
    count = 0
    for path in folder.glob(".twodrum-*.tmp"):
        process = path.name.removeprefix(machine).split("-")[1:2]
        try:
            here = path.name.startswith(f"{machine}-") and process[0].isdecimal()
            old = time.time() - path.stat().st_mtime > LEFT_BEHIND
            if old or (here and not _runs(int(process[0]))):
                path.unlink()
                count += 1
        except OSError:
            continue
    return count


def _runs(process: int) -> bool:
    """Whether a process of this machine still runs; where that can't be asked, it does."""
    if os.name != "posix":
        return True
    try:
        os.kill(process, 0)
    except ProcessLookupError:
        return False
    except OSError:
        return True
    return True


def open_in(path: Path) -> str:
    """The spreadsheet program that holds a file open; "" where none does."""
    locks = {f"~${path.name}": "Excel", f".~lock.{path.name}#": "LibreOffice"}
    return next((name for lock, name in locks.items() if (path.parent / lock).exists()), "")


def refuse_target(path: Path) -> None:
    """Refuse a new file that would replace another, or has no folder or no .xlsx to its name."""
    if path.exists():
        raise PackageError("it exists already; choose another name")
    if not path.parent.is_dir():
        raise PackageError(f"there is no folder {path.parent}; make it first")
    if path.suffix.lower() not in (".xlsx", ".xlsm"):
        raise PackageError("its name must end in .xlsx; choose such a name")


def _keep_rights(path: Path, fresh: Path) -> None:
    """Owner, group, mode, access list and attributes of a file for the one that replaces it."""
    before = path.stat()
    if os.name == "posix":
        own = fresh.stat()
        if (own.st_uid, own.st_gid) != (before.st_uid, before.st_gid):
            try:
                os.chown(fresh, before.st_uid, before.st_gid)
            except PermissionError:
                raise PackageError(
                    "it belongs to another user or group, and replacing it would change that; "
                    "use --out"
                ) from None
    shutil.copystat(path, fresh)
    os.utime(fresh)


def write_whole(path: Path, data: bytes) -> None:
    """Replace a file so that after a crash the old or the new one is there, whole."""
    path = Path(os.path.realpath(path))
    handle, temporary = tempfile.mkstemp(prefix=_own_prefix(), suffix=".tmp", dir=path.parent)
    try:
        with os.fdopen(handle, "wb") as file:
            file.write(data)
            file.flush()
            os.fsync(file.fileno())
        if path.exists():
            _keep_rights(path, Path(temporary))
        else:
            umask = os.umask(0)
            os.umask(umask)
            os.chmod(temporary, 0o666 & ~umask)
        os.replace(temporary, path)
    except BaseException:
        Path(temporary).unlink(missing_ok=True)
        raise
    if os.name == "posix":
        folder = os.open(path.parent, os.O_RDONLY)
        try:
            os.fsync(folder)
        finally:
            os.close(folder)
