"""Roll the jobs of a folder up into a month workbook, job by job."""

from __future__ import annotations

import hashlib
import math
import os
from collections import Counter
from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass, field
from pathlib import Path
from typing import Any

from .core.mix import LINING
from .evaluate import Value, Values
from .fill import Filled, fill_file, is_month, read_file
from .new import Typed, template, typed_writes
from .problems import sentence
from .studies.assume import ANY
from .studies.month_findings import NO_BATCH
from .workbook.book import Book
from .workbook.month import BATCHES, JOBS, MONEY_LABELS, MONTH, UNREAD
from .workbook.package import PackageError, refuse_target, write_whole
from .workbook.write import write_cells

SUFFIXES = (".xlsx", ".xlsm")
# The money of a job behind each column of the month.
MONEY = {
    "over_money": "material_over_quote",
    **{name: name for name in MONEY_LABELS if name not in ("over_money", "quoted_money")},
}
NUMBERS = {
    "worked": "work_date",
    "billed_area": "billed_area_total",
    "used_volume": "used_volume",
    "quoted_area": "accepted_billed_area_total",
    "quoted_volume": "accepted_lining_volume",
    "build_doubt": "build_doubt",
    "spread": "found_spread",
    "loss": "loss_found",
    "quoted_loss": "accepted_loss_share",
    "off_ratio": "off_ratio",
    "off_doubt": "ratio_doubt",
}
TEXTS = {
    "job": "job_title",
    "crew": "crew_name",
    "machine": "machine_name",
    "surface_kind": "substrate",
}
# To so many decimals in SI a row keeps its numbers: millilitres, cents, hundredths of a percent.
DECIMALS = {
    **dict.fromkeys(("used_volume", "quoted_volume", "held", "printed", "drawn", "left"), 6),
    **dict.fromkeys(("billed_area", "quoted_area"), 3),
    **dict.fromkeys(("build", "build_doubt", "off_ratio", "off_doubt"), 5),
    **dict.fromkeys(("spread", "loss", "quoted_loss"), 5),
    **dict.fromkeys(("quoted_money", *MONEY), 4),
}
Progress = Callable[[Sequence[Path]], Iterator[Path]]


@dataclass
class Drum:
    """What is known of one drum over all the jobs that had it."""

    batch: str
    holds: str
    held: float | None = None
    printed: float | None = None
    drawn: float = 0.0
    left: float | None = None
    expiry: float | None = None
    last_job: str = ""
    last_day: float = -math.inf
    first_day: float = math.inf


@dataclass
class Rolled:
    """What became of a folder."""

    target: Path
    jobs: list[dict[str, Any]] = field(default_factory=list)
    unread: list[dict[str, Any]] = field(default_factory=list)
    left_alone: list[str] = field(default_factory=list)
    drums: dict[tuple[str, str, str], Drum] = field(default_factory=dict)
    lines: list[str] = field(default_factory=list)
    currencies: list[str] = field(default_factory=list)
    # Contents of the files that were read, each once.
    seen: dict[str, str] = field(default_factory=dict)
    filled: Filled | None = None


LINKED = "a linked folder is not followed; roll it up by itself"


def job_files(folder: Path, target: Path) -> tuple[list[Path], list[tuple[Path, str]]]:
    """Every workbook of a folder and of the folders in it, but for the one to write.

    With them what is there and cannot be read, and why.
    """
    found: list[Path] = []
    closed: list[tuple[Path, str]] = []

    def not_open(error: OSError) -> None:
        closed.append((Path(error.filename), f"the folder cannot be read ({error.strerror})"))

    for place, folders, files in os.walk(folder, onerror=not_open):
        linked = [Path(place, name) for name in folders if Path(place, name).is_symlink()]
        closed += [
            (path, "a linked folder is not followed; roll it up by itself") for path in linked
        ]
        for name in files:
            path = Path(place, name)
            if path.suffix.lower() not in SUFFIXES or name[0] in "~.":
                continue
            if path.resolve() == target.resolve():
                continue
            if path.is_file():
                found.append(path)
            else:
                closed.append((path, "it is no file that can be read"))
    return sorted(found), sorted(closed)


def roll_up(
    folder: Path, target: Path, progress: Progress = iter, system: str = "metric"
) -> Rolled:
    """Read every job of a folder and write the month; PackageError says why it cannot be."""
    if not folder.is_dir():
        raise PackageError(f"{folder} is not a folder; name the folder of the jobs")
    _refuse(target)
    rolled = Rolled(target)
    files, closed = job_files(folder, target)
    if not files and not closed:
        raise PackageError(f"{folder} has no workbook in it")
    if len(files) > JOBS.capacity:
        found = f"{folder} holds {len(files)} workbooks"
        raise PackageError(sentence(found, f"a month has room for {JOBS.capacity}", SMALLER))
    for file, why in closed:
        _unread(rolled, file, str(file.relative_to(folder)), why)
    for file in progress(files):
        # One job at a time: only its row stays.
        _take(rolled, file, str(file.relative_to(folder)))
    typed = Typed(names={"folder": str(folder), "currency": _one_currency(rolled)})
    typed.rows["jobs"] = rolled.jobs
    typed.rows["unread"] = _shortened(rolled.unread)
    batches = _batches(rolled)
    if len(batches) > BATCHES.capacity:
        more = len(batches) - BATCHES.capacity
        rolled.lines.append(f"{more} batches more than Stock has room for are left out of it")
    typed.rows["batches"] = batches[: BATCHES.capacity]
    book = template(MONTH)
    write_cells(book, dict(typed_writes(book, MONTH, typed, system)))
    write_whole(target, book.package.to_bytes())
    rolled.filled = fill_file(target, model=MONTH)
    return rolled


def _one_currency(rolled: Rolled) -> str:
    """The currency of most jobs; the money of the others is left out, and that is said."""
    if not rolled.currencies:
        return "EUR"
    usual = Counter(rolled.currencies).most_common(1)[0][0]
    for row, currency in zip(rolled.jobs, rolled.currencies):
        told = [row.pop(key, None) for key in ("quoted_money", *MONEY)]
        if currency == usual:
            known = zip(("quoted_money", *MONEY), told)
            row.update({key: value for key, value in known if value is not None})
        elif any(value is not None for value in told):
            why = f"money is in {currency}, this month counts in {usual}"
            row["not_told"] = _joined(why, row.get("not_told", ""))[:200]
    return usual


SMALLER = "roll up parts of it; nothing was read"


def _refuse(target: Path) -> None:
    """PackageError where the month can't be written, before anything is read."""
    try:
        refuse_target(target)
    except PackageError as error:
        raise PackageError(f"{target}: {error}") from None
    if target.suffix.lower() != ".xlsx":
        raise PackageError(f"{target}: a month is an .xlsx workbook; name it so")
    if not os.access(target.parent, os.W_OK):
        raise PackageError(f"{target.parent} cannot be written to; name another place with --out")


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


def _take(rolled: Rolled, file: Path, name: str) -> None:
    filled = read_file(file)
    if filled.left_alone:
        rolled.left_alone.append(f"{name}: {filled.left_alone}, left alone")
        return
    if filled.refused:
        _unread(rolled, file, name, filled.refused.removeprefix(f"{file}: "))
        return
    first = rolled.seen.setdefault(hashlib.sha256(file.read_bytes()).hexdigest(), name)
    if first != name:
        _unread(rolled, file, name, f"it is a copy of {first}, which is counted; take one away")
        return
    values = filled.values
    row = _row(filled, name)
    rolled.currencies.append(str(values.names["currency"].si or ""))
    rolled.jobs.append(row)
    if filled.problem_count:
        told = next(p for p in filled.problems if p.severity == "problem")
        more = f" and {filled.problem_count - 1} more" if filled.problem_count > 1 else ""
        rolled.lines.append(f"{name}: {told}{more}")
    for drum in values.tables["drums"].rows:
        _take_drum(rolled, drum, values, row)


def _si(value: Value) -> Any:
    return None if value.refused else value.si


def _row(filled: Filled, name: str) -> dict[str, Any]:
    """The row of a job: what it tells; what is blank is not known."""
    names = filled.values.names
    row: dict[str, Any] = {"file": name, "problem_count": filled.problem_count}
    for key, own in {**TEXTS, **NUMBERS, **MONEY}.items():
        value = _si(names[own])
        if value is not None:
            row[key] = float(value) if key in MONEY else value
    materials = filled.values.tables["materials"].rows
    used = [_si(item["material"]) for item in materials if _si(item["component"]) in LINING]
    material = " + ".join(dict.fromkeys(str(word) for word in used if word))
    if material:
        row["material"] = material
    volume, price = (_si(names[key]) for key in ("accepted_lining_volume", "quoted_mix_price"))
    if volume is not None and price is not None:
        row["quoted_money"] = float(volume) * float(price)
    # Against the film that was aimed at, which may be more than the film asked for.
    build, aimed = _si(names["measured_build"]), _si(names["quoted_film_build"])
    if build is not None:
        row["build"] = build / (aimed or 1.0)
    if row.get("loss", 0.0) < 0:
        for key in (*MONEY, "loss", "quoted_money"):
            row.pop(key, None)
    why = _not_told(filled)
    if why:
        row["not_told"] = why
    return _rounded(row)


def _rounded(row: dict[str, Any]) -> dict[str, Any]:
    return {key: round(v, DECIMALS[key]) if key in DECIMALS else v for key, v in row.items()}


def _not_told(filled: Filled) -> str:
    """Why a job is not in every sum."""
    names = filled.values.names
    found = []
    if names["accepted_lining_volume"].si is None:
        found.append("no accepted quote, so no money")
    if names["used_volume"].refused:
        found.append(f"litres used wait for {', '.join(names['used_volume'].roots[:2])}")
    elif names["used_volume"].si is None:
        found.append("litres used are not known")
    if names["measured_build"].si is None:
        found.append("no film readings, so over-build counts as loss")
    loss = _si(names["loss_found"])
    if loss is not None and loss < 0:
        found.append("more lies on the surface than was used: unfinished or wrong, so no money")
    if filled.problem_count:
        first = next(p for p in filled.problems if p.severity == "problem")
        found.append(f"{filled.problem_count} problems, the first at {first.where}")
    return _joined(*found)[:200]


def _joined(*texts: str) -> str:
    return "; ".join(text for text in texts if text)


def _take_drum(rolled: Rolled, row: dict[str, Value], values: Values, job: dict[str, Any]) -> None:
    holds, number = _si(row["holds"]), _si(row["drum_number"])
    if holds is None or number is None:
        return
    batch = str(_si(row["batch"]) or "")
    # Without a batch the drums of two jobs are not known to be one.
    place = batch.casefold() or job["file"]
    key = (str(holds), place, str(number).casefold())
    drum = rolled.drums.setdefault(key, Drum(batch, str(holds)))
    day = job.get("worked", -math.inf)
    drum.drawn += _si(row["drawn"]) or 0.0
    drum.expiry = _si(row["expiry"]) if drum.expiry is None else drum.expiry
    if day < drum.first_day or drum.held is None:
        drum.first_day = min(day, drum.first_day)
        content = _opening(row, values)
        full = _si(values.names[f"{holds}_drum_volume"]) if holds in LINING else None
        if content is not None and full:
            drum.held, drum.printed = content, full
    if day >= drum.last_day:
        drum.last_day, drum.last_job = day, job.get("job") or job["file"]
        left, heel = _si(row["drum_left"]), None
        if holds in LINING:
            heel = _si(values.names[f"{holds}_heel"])
        drum.left = None if left is None else max(0.0, left - (heel or 0.0))


def _opening(row: dict[str, Value], values: Values) -> float | None:
    """What a drum held when it was put on, by its weight or its level."""
    weight, density, steel = (
        _si(row["opening_weight"]),
        _si(row["drum_density"]),
        _si(values.names["drum_steel"]),
    )
    if weight is not None and density and steel is not None and weight > steel:
        return float((weight - steel) / density)
    level = _si(row["opening_level"])
    return None if level is None else float(level)


# A drum that held less than this share of what is printed on it was not new.
NEW_FROM = 0.9


def _batches(rolled: Rolled) -> list[dict[str, Any]]:
    """Rows of Stock: the drums of each batch together."""
    found: dict[tuple[str, str], list[Drum]] = {}
    for drum in rolled.drums.values():
        found.setdefault((drum.holds, drum.batch.casefold()), []).append(drum)
    rows = []
    for (holds, _), drums in sorted(found.items()):
        batch = drums[0].batch
        new = [d for d in drums if d.held is not None and d.held >= NEW_FROM * (d.printed or 0.0)]
        last = max(drums, key=lambda drum: drum.last_day)
        left = [drum.left for drum in drums if drum.left is not None]
        row: dict[str, Any] = {
            "batch": batch or NO_BATCH,
            "holds": holds,
            "drum_count": len(drums),
            "held_count": len(new),
            "drawn": math.fsum(drum.drawn for drum in drums),
            "last_job": last.last_job,
        }
        if new:
            row["held"] = math.fsum(drum.held or 0.0 for drum in new)
            row["printed"] = math.fsum(drum.printed or 0.0 for drum in new)
        if left:
            row["left"] = math.fsum(left)
        expiries = [drum.expiry for drum in drums if drum.expiry is not None]
        if expiries:
            row["expiry"] = min(expiries)
        rows.append(_rounded(row))
    return rows


@dataclass(frozen=True)
class Assumed:
    """What a month says of a crew on a surface, and in words where it comes from."""

    names: dict[str, float]
    words: str


def assumed(path: Path, crew: str, surface: str) -> Assumed:
    """What a new job should assume; PackageError says why a month workbook does not tell."""
    try:
        book = Book.open(path)
    except PackageError as error:
        raise PackageError(f"{path}: {error}") from None
    if not is_month(book):
        raise PackageError(f"{path} is not a month workbook; make one with twodrum month FOLDER")
    filled = read_file(path, MONTH)
    if filled.refused:
        raise PackageError(filled.refused)
    if filled.problem_count:
        first = next(p for p in filled.problems if p.severity == "problem")
        raise PackageError(f"{path}: {first}; mend it, or make the month anew")
    rows = {
        (str(row[0]).casefold(), str(row[1]).casefold()): row
        for row in filled.values.studies["month_assume"]
    }
    wanted = [(crew, surface), (crew, ANY), (ANY, surface), (ANY, ANY)]
    found = next(
        (rows[key] for one in wanted if (key := _key(*one)) in rows and rows[key][3] is not None),
        None,
    )
    if found is None:
        raise PackageError(f"{path} tells too little to assume anything; it needs more jobs")
    _, _, jobs, loss, low, high, doubt, _, spread, _, _, _ = found
    names = {"loss_share": round(loss, 4), "loss_doubt": round(min(0.3, max(0.01, doubt)), 4)}
    words = f"loss {loss * 100:.1f} % ({low * 100:.1f} to {high * 100:.1f} %) "
    if spread is not None:
        names["film_spread"] = round(min(0.3, max(0.01, spread)), 4)
        words += f"and film spread {spread * 100:.0f} % "
    who = "all crews" if found[0] == ANY else str(found[0])
    on = "all surfaces" if found[1] == ANY else str(found[1])
    return Assumed(names, f"{words}of {who} on {on}, by {jobs:.0f} jobs")


def _key(crew: str, surface: str) -> tuple[str, str]:
    return crew.casefold(), surface.casefold()
