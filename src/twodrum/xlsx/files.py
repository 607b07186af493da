"""The file of a workbook: who may write it, and that it is replaced whole or not at all."""

from __future__ import annotations

import os
import platform
import re
import shutil
import stat
import tempfile
import time
import zlib
from collections.abc import Iterator, Set
from contextlib import contextmanager
from glob import glob
from pathlib import Path

from .package import PackageError

# Older than this, in seconds, what was left by another machine belongs to no command that runs.
LEFT_BEHIND = 600.0
# Not every command has an option for it.
ON_A_COPY = "work on a copy, which fill --out makes"


def refuse_open_file(path: Path) -> None:
    """Refuse a file that a spreadsheet program holds open, or that may not be written."""
    if path.is_file():
        _refuse_without_right(path)
    program = open_in(path)
    if program:
        raise PackageError(f"it is open in {program}; close it there and try again")


def _refuse_without_right(path: Path) -> None:
    """Refuse what the caller may not write, whatever the folder allows, and a second name."""
    state = path.stat()
    if not state.st_mode & stat.S_IWUSR:
        raise PackageError(f"it is read-only; allow writing to it, or {ON_A_COPY}")
    if not os.access(path, os.W_OK):
        raise PackageError(f"it belongs to another user and may not be written; {ON_A_COPY}")
    if state.st_nlink > 1:
        raise PackageError(
            "it has a second name in the file system, which would keep the old contents; "
            f"{ON_A_COPY}"
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


def own_prefix() -> str:
    """How the temporary files of this process begin: the machine, then the process."""
    return f".twodrum-{zlib.crc32(platform.node().encode()):08x}-{os.getpid()}-"


def _is_left(owner: str, path: Path) -> bool:
    """Whether a file that begins with the prefix of a process outlived that process."""
    machine = own_prefix().rsplit("-", 2)[0]
    process = owner.removeprefix(machine).split("-")[1:2]
    if owner.startswith(f"{machine}-") and process and process[0].isdecimal():
        return not _runs(int(process[0]))
    return time.time() - path.stat().st_mtime > LEFT_BEHIND


def remove_leftovers(folder: Path) -> int:
    """Remove what killed writes of ours left behind, copies of somebody's workbook; how many."""
    count = 0
    for path in folder.glob(".twodrum-*.tmp"):
        try:
            if _is_left(path.name, path):
                path.unlink()
                count += 1
        except OSError:
            continue
    return count


@contextmanager
def at_work(path: Path) -> Iterator[int]:
    """Only one command of ours at a time on a file; gives how many leftovers it removed.

    PackageError where another command is at work on it, on this machine or on another one that
    shares the folder.
    """
    path = Path(os.path.realpath(path))
    mark = _mark_of(path)
    removed = remove_leftovers(path.parent)
    for _ in range(2):
        try:
            handle = os.open(mark, os.O_CREAT | os.O_EXCL | os.O_WRONLY, 0o644)
            break
        except FileExistsError:
            removed += _take_over(mark)
        except FileNotFoundError:
            raise PackageError(f"there is no folder {path.parent}; make it first") from None
        except OSError as error:
            raise PackageError(f"{path.parent} cannot be written to ({error.strerror})") from None
    else:
        raise PackageError(AT_WORK)
    try:
        os.write(handle, own_prefix().encode())
        os.close(handle)
        yield removed
    finally:
        mark.unlink(missing_ok=True)


def _mark_of(path: Path) -> Path:
    return path.parent / f".twodrum-{path.name}.at-work"


def freed_from(path: Path, lost: Set[str]) -> bool:
    """Whether a file still bore the mark of a process that was lost, by the prefix of that one.

    The mark is taken away.
    """
    mark = _mark_of(Path(os.path.realpath(path)))
    try:
        if not lost or mark.read_text(errors="replace") not in lost:
            return False
        mark.unlink()
    except OSError:
        return False
    return True


AT_WORK = "another twodrum command is at work on it; wait until it is done and run this again"


def _take_over(mark: Path) -> int:
    """Remove the mark of a command that was killed; 1, and PackageError where it still runs."""
    try:
        if not _is_left(mark.read_text(errors="replace"), mark):
            raise PackageError(AT_WORK)
        mark.unlink()
    except FileNotFoundError:
        return 0
    except OSError as error:
        raise PackageError(f"{mark.name} beside it cannot be removed ({error.strerror})") from None
    return 1


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


# What a copy of a workbook is called that a command left beside it.
COPY = " before {}{}"
_COPIED = re.compile(r" before (add|upgrade)( \d+)?$")


def workbooks_in(folder: Path) -> list[Path]:
    """Every workbook in a folder; copies that a command left beside one are none."""
    return sorted(file for file in folder.iterdir() if is_workbook(file))


def workbooks_like(pattern: Path) -> list[Path]:
    """Every workbook that a pattern such as ``jobs/2026-*.xlsx`` means."""
    return sorted(file for file in map(Path, glob(str(pattern))) if is_workbook(file))


def is_workbook(file: Path) -> bool:
    """Whether a file of a folder is a workbook of the office: no lock, and no copy of ours."""
    known = file.suffix.lower() in (".xlsx", ".xlsm")
    return known and file.name[0] not in "~." and not _COPIED.search(file.stem)


def copy_beside(path: Path, command: str, data: bytes) -> Path:
    """Write a workbook as it was, under a name that is free."""
    for number in range(1, 1000):
        name = path.stem + COPY.format(command, f" {number}" if number > 1 else "")
        copy = path.with_name(name + path.suffix)
        if not copy.exists():
            write_whole(copy, data)
            return copy
    raise PackageError("there are a thousand copies of it beside it; move them away")


def refuse_target(path: Path) -> None:
    """Refuse a new workbook that would replace another, or has no folder or no .xlsx."""
    _refuse_taken(path)
    if path.suffix.lower() not in (".xlsx", ".xlsm"):
        raise PackageError("its name must end in .xlsx; choose such a name")


def _refuse_taken(path: Path) -> None:
    if path.exists():
        raise PackageError("it exists already; choose another name")
    if not path.parent.is_dir():
        raise PackageError(f"there is no folder {path.parent}; make it first")


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
                    f"{ON_A_COPY}"
                ) from None
    shutil.copystat(path, fresh)
    os.utime(fresh)


def write_whole(path: Path, data: bytes, instead_of: bytes | None = None) -> None:
    """Write a file so that after a crash the old or the new one is there, whole.

    ``instead_of`` is what was read of the file that is replaced: another one is left alone.
    Without it the file is new, and one that is there already is left alone.
    """
    try:
        _write(Path(os.path.realpath(path)), data, instead_of)
    except OSError as error:
        raise PackageError(f"it cannot be written ({error.strerror})") from None


def _write(path: Path, data: bytes, instead_of: bytes | None) -> None:
    handle, temporary = tempfile.mkstemp(prefix=own_prefix(), suffix=".tmp", dir=path.parent)
    try:
        with os.fdopen(handle, "wb") as file:
            file.write(data)
            file.flush()
            os.fsync(file.fileno())
        if instead_of is None:
            _refuse_taken(path)
            umask = os.umask(0)
            os.umask(umask)
            os.chmod(temporary, 0o666 & ~umask)
        else:
            _keep_rights(path, Path(temporary))
            refuse_changed_file(path, instead_of)
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
