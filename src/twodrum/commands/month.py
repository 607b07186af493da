"""Roll the jobs of a folder up into a month workbook, job by job."""

from __future__ import annotations

import os
from collections import Counter
from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass, field
from pathlib import Path
from typing import Any, NamedTuple

from ..books.month import BATCHES, JOBS, MONTH, UNREAD
from ..problems import sentence
from ..studies.month_jobs import ELSEWHERE
from ..workbook.grow import lengthened
from ..workbook.layout import MOST_ROWS
from ..workbook.version import is_month
from ..xlsx.book import Book
from ..xlsx.files import (
    at_work,
    is_workbook,
    open_in,
    refuse_open_file,
    refuse_target,
    write_whole,
)
from ..xlsx.marked import known_again, marked
from ..xlsx.package import Package, PackageError
from ..xlsx.write import write_cells
from .already import mark_of as filled_mark
from .batch import each, processes
from .fill import Filled, fill_book
from .month_read import JobRead, Reading
from .month_row import OF_MONEY, joined
from .month_stock import DrumStock
from .month_store import Store, can_keep, store_beside
from .new import Typed, template, typed_writes

# The workbooks as they are read, and how many will be.
Watch = Callable[[Iterator[JobRead], int], Iterator[JobRead]]


def _unwatched(found: Iterator[JobRead], total: int) -> Iterator[JobRead]:
    return found


@dataclass
class Rolled:
    """What became of a folder."""

    target: Path
    jobs: list[dict[str, Any]] = field(default_factory=list)
    unread: list[dict[str, Any]] = field(default_factory=list)
    notes: list[str] = field(default_factory=list)
    stock: DrumStock = field(default_factory=DrumStock)
    lines: list[str] = field(default_factory=list)
    currencies: list[str] = field(default_factory=list)
    # Contents of the files that were read, each once.
    seen: dict[str, str] = field(default_factory=dict)
    filled: Filled | None = None
    # How many were known from the store, and not read again.
    known: int = 0


LINKED = "a linked folder is not followed; roll it up by itself"


def job_files(
    folder: Path, target: Path, only: str = ""
) -> tuple[list[Path], list[tuple[Path, str]]]:
    """Every workbook of a folder and of the folders in it, but for the one to write.

    With ``only``, a pattern, those whose path ends so.

    With them what is there and cannot be read, and why.
    """
    found: list[Path] = []
    closed: list[tuple[Path, str]] = []

    def not_open(error: OSError) -> None:
        closed.append((Path(error.filename), f"the folder cannot be read ({error.strerror})"))

    for place, folders, files in os.walk(folder, onerror=not_open):
        linked = [Path(place, name) for name in folders if Path(place, name).is_symlink()]
        closed += [(path, LINKED) for path in linked]
        for name in files:
            path = Path(place, name)
            if not is_workbook(path) or not path.match(only or "*"):
                continue
            if path.resolve() == target.resolve():
                continue
            if path.is_file():
                found.append(path)
            else:
                closed.append((path, "it is no file that can be read"))
    return sorted(found), sorted(closed)


def roll_up(
    folder: Path,
    target: Path,
    watch: Watch = _unwatched,
    system: str = "metric",
    jobs: int = 1,
    cluster: str = "",
    room: int = 0,
    only: str = "",
) -> Rolled:
    """Read every job of a folder and write the month; PackageError says why it cannot be.

    Jobs that this version read before, and that are the same files still, are taken from the
    store beside the month. ``jobs`` are the processes to read in, 0: one for each core;
    ``cluster`` is the address of a scheduler whose workers read instead. Of more jobs than
    ``room``, or than is usual, the latest and dearest have a row in the month, and all count.
    ``only`` takes those whose path ends as a pattern says.
    """
    if not folder.is_dir():
        raise PackageError(f"{folder} is not a folder; name the folder of the jobs")
    if room > MOST_ROWS:
        raise PackageError(f"a month has at most {MOST_ROWS:,} rows, not {room:,}; name fewer")
    before = _refuse(target)
    rolled = Rolled(target)
    files, closed = job_files(folder, target, only)
    if not files and not closed:
        called = f" that is called {only}" if only else ""
        raise PackageError(f"{folder} has no workbook in it{called}")
    if len(files) > MOST_ROWS and not can_keep():
        found = f"{folder} holds {len(files)} workbooks"
        raise PackageError(sentence(found, f"a month alone has room for {MOST_ROWS:,}", STORE))
    for file, why in closed:
        _unread(rolled, file, str(file.relative_to(folder)), why)
    spread = _Spread(jobs, cluster)
    read = list(_read(rolled, folder, files, store := store_beside(target), watch, spread))
    for file, one in zip(files, read):
        # Of each job only its row stays.
        _take(rolled, file, one)
    typed = Typed(names={"folder": folder.resolve().name, "currency": _one_currency(rolled)})
    rest = _beside(rolled.jobs, (room or ROOM) if can_keep() else MOST_ROWS)
    shown = [row for row in rolled.jobs if row["file"] not in rest]
    typed.rows["jobs"] = shown
    if rest:
        typed.names[ELSEWHERE] = len(rest)
        found = f"Jobs has rows of the {len(shown):,} latest and dearest"
        rolled.notes.append(f"{found}; {len(rest):,} more are counted, and in {store.path.name}")
    typed.rows["unread"] = _shortened(rolled.unread)
    batches = rolled.stock.rows()
    if len(batches) > BATCHES.capacity:
        more = len(batches) - BATCHES.capacity
        rolled.lines.append(f"{more} batches more than Stock has room for are left out of it")
    typed.rows["batches"] = batches[: BATCHES.capacity]
    book = lengthened(template(MONTH), MONTH, {"jobs": len(shown)})
    write_cells(book, dict(typed_writes(book, MONTH, typed, system)))
    made = Book(Package(book.package.to_bytes()))
    rolled.filled = fill_book(
        made, MONTH, complete=lambda values: values.more.update(jobs=list(rest.values()))
    )
    rolled.filled.path = target
    data = marked(made.package, made.package.to_bytes(), filled_mark(rolled.filled, False))
    with at_work(target) as removed:
        write_whole(target, data, before)
        rolled.filled.leftovers = removed
        if can_keep():
            kept = (one for one in read if not one.unread)
            counted = {row["file"]: row for row in rolled.jobs}
            why = store.keep(kept, [item.name for item in JOBS.fields], counted)
            rolled.notes += [why] if why else []
    return rolled


class _Spread(NamedTuple):
    """Over how many processes here, or over which cluster."""

    jobs: int
    cluster: str


def _read(
    rolled: Rolled,
    folder: Path,
    files: Sequence[Path],
    store: Store,
    watch: Watch,
    spread: _Spread,
) -> Iterator[JobRead]:
    """What each workbook says, in the order of the files; those that are known are not opened."""
    # A cluster is told whole paths.
    reading = Reading(Path(os.path.abspath(folder)) if spread.cluster else folder)
    here = Reading(folder)
    known = {file: one for file in files if (one := store.known(here.name(file), file))}
    rolled.known = len(known)
    left = [file for file in files if file not in known]
    jobs = processes(spread.jobs, len(left))
    found = each(reading, left, jobs, reading.died, spread.cluster)
    fresh = watch(found, len(left))
    for file in files:
        yield known[file] if file in known else next(fresh)


def _one_currency(rolled: Rolled) -> str:
    """The currency of most jobs; the money of the others is left out, and that is said."""
    if not rolled.currencies:
        return "EUR"
    usual = Counter(rolled.currencies).most_common(1)[0][0]
    for row, currency in zip(rolled.jobs, rolled.currencies):
        if currency == usual:
            continue
        told = [row.pop(key, None) for key in OF_MONEY]
        if any(value is not None for value in told):
            why = f"money is in {currency}, this month counts in {usual}"
            row["not_told"] = joined(why, row.get("not_told", ""))[:200]
    return usual


STORE = "pip install 'twodrum[month]' lets it count more; nothing was read"
# Rows of Jobs that people look at, and how many of them are kept for the dearest.
ROOM, DEAREST = 1_000, 100


def _beside(rows: Sequence[dict[str, Any]], room: int) -> dict[str, dict[str, Any]]:
    """The jobs that get no row, by their files: neither among the latest nor the dearest."""
    if len(rows) <= room:
        return {}
    dearest = sorted(rows, key=lambda row: -abs(row.get("over_money", 0.0)))[: min(DEAREST, room)]
    kept = {row["file"] for row in dearest}
    for row in sorted(rows, key=lambda row: -row.get("worked", 0.0)):
        if len(kept) == room:
            break
        kept.add(row["file"])
    return {row["file"]: row for row in rows if row["file"] not in kept}


def _refuse(target: Path) -> bytes | None:
    """What is there: a month that nobody changed since it was made, or nothing.

    PackageError where the month can't be written, before anything is read.
    """
    before = _as_made(target)
    try:
        if before is None:
            refuse_target(target)
        else:
            refuse_open_file(target)
    except PackageError as error:
        raise PackageError(f"{target}: {error}") from None
    if target.suffix.lower() != ".xlsx":
        raise PackageError(f"{target}: a month is an .xlsx workbook; name it so")
    if not os.access(target.parent, os.W_OK):
        raise PackageError(f"{target.parent} cannot be written to; name another place with --out")
    return before


def _as_made(target: Path) -> bytes | None:
    """The bytes of a month that is byte for byte as it was made; None of anything else."""
    try:
        data = target.read_bytes() if target.is_file() else b""
        return data if known_again(data) and is_month(Book(Package(data))) else None
    except (OSError, PackageError):
        return None


def _shortened(rows: list[dict[str, Any]]) -> list[dict[str, Any]]:
    """As many as there is room for, the last one saying how many more."""
    room = UNREAD.capacity
    if len(rows) <= room:
        return rows
    left = len(rows) - room + 1
    why = "they were told when this was made; the same reasons as above may hold"
    return [*rows[: room - 1], {"unread_file": f"{left} more files", "unread_why": why}]


def _unread(rolled: Rolled, file: Path, name: str, why: str) -> None:
    size = file.stat().st_size if file.is_file() else 0
    rolled.unread.append({"unread_file": name, "unread_why": why[:200], "unread_size": size})
    rolled.lines.append(f"{name}: {why}")


def _take(rolled: Rolled, file: Path, read: JobRead) -> None:
    if read.left_alone:
        rolled.notes.append(f"{read.name}: {read.left_alone}, left alone")
        return
    if read.unread:
        _unread(rolled, file, read.name, read.unread)
        return
    first = rolled.seen.setdefault(read.digest, read.name)
    if first != read.name:
        why = f"it is a copy of {first}, which is counted; take one away"
        _unread(rolled, file, read.name, why)
        return
    rolled.currencies.append(read.currency)
    # Money of another currency is taken out of a row of the month, not of what was read.
    row = dict(read.row)
    rolled.jobs.append(row)
    program = open_in(file)
    if program:
        rolled.notes.append(f"{read.name}: it is open in {program}; what is not saved is missing")
    if read.told:
        rolled.lines.append(f"{read.name}: {read.told}")
    for drum in read.drums:
        rolled.stock.take(drum, row)
