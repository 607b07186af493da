"""Roll the jobs of a folder up into a month workbook, job by job."""

from __future__ import annotations

import math
from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass, field
from pathlib import Path
from typing import Any

from .core.mix import LINING
from .evaluate import Value, Values
from .fill import Filled, fill_file, read_file
from .new import Typed, template, typed_writes
from .problems import sentence
from .studies.assume import ANY
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
    "build": "measured_build",
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
    currency: str = ""
    filled: Filled | None = None


def job_files(folder: Path, target: Path) -> list[Path]:
    """Every workbook of a folder and of the folders in it, but for the one to write."""
    return sorted(
        file
        for file in folder.rglob("*")
        if file.suffix.lower() in SUFFIXES
        and file.name[0] not in "~."
        and file.is_file()
        and file.resolve() != target.resolve()
    )


def roll_up(folder: Path, target: Path, progress: Progress = iter) -> Rolled:
    """Read every job of a folder and write the month; PackageError says why it cannot be."""
    try:
        refuse_target(target)
    except PackageError as error:
        raise PackageError(f"{target}: {error}") from None
    if not folder.is_dir():
        raise PackageError(f"{folder} is not a folder; name the folder of the jobs")
    rolled = Rolled(target)
    files = job_files(folder, target)
    if not files:
        raise PackageError(f"{folder} has no workbook in it")
    for file in progress(files):
        # One job at a time: only its row stays.
        _take(rolled, file, str(file.relative_to(folder)))
    typed = Typed(names={"folder": str(folder), "currency": rolled.currency or "EUR"})
    typed.rows["jobs"] = _room(rolled.jobs, JOBS.capacity, "jobs", folder)
    typed.rows["unread"] = _room(
        rolled.unread, UNREAD.capacity, "files that could not be read", folder
    )
    typed.rows["batches"] = _batches(rolled)[: BATCHES.capacity]
    book = template(MONTH)
    write_cells(book, dict(typed_writes(book, MONTH, typed, "metric")))
    write_whole(target, book.package.to_bytes())
    rolled.filled = fill_file(target, model=MONTH)
    return rolled


def _room(rows: list[dict[str, Any]], room: int, what: str, folder: Path) -> list[dict[str, Any]]:
    if len(rows) > room:
        found = f"{folder} holds {len(rows)} {what}"
        raise PackageError(
            sentence(found, f"a month has room for {room}", "roll up parts of it, nothing was cut")
        )
    return rows


def _take(rolled: Rolled, file: Path, name: str) -> None:
    filled = read_file(file)
    if filled.left_alone:
        rolled.left_alone.append(f"{name}: {filled.left_alone}, left alone")
        return
    if filled.refused:
        why = filled.refused.removeprefix(f"{file}: ")
        size = file.stat().st_size if file.exists() else 0
        rolled.unread.append({"unread_file": name, "unread_why": why[:200], "unread_size": size})
        rolled.lines.append(f"{name}: {why}")
        return
    values = filled.values
    row = _row(filled, name)
    currency = str(values.names["currency"].si or "")
    rolled.currency = rolled.currency or currency
    if currency != rolled.currency:
        told = [key for key in ("quoted_money", *MONEY) if row.pop(key, None) is not None]
        if told:
            row["not_told"] = _joined(
                f"money is in {currency}, this month counts in {rolled.currency}",
                row.get("not_told", ""),
            )
    rolled.jobs.append(row)
    if filled.problem_count:
        first = next(p for p in filled.problems if p.severity == "problem")
        more = f" and {filled.problem_count - 1} more" if filled.problem_count > 1 else ""
        rolled.lines.append(f"{name}: {first}{more}")
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
    key = (str(holds), batch.casefold(), str(number).casefold())
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
NEW_FROM = 0.8


def _batches(rolled: Rolled) -> list[dict[str, Any]]:
    """Rows of Stock: the drums of each batch together."""
    found: dict[tuple[str, str], list[Drum]] = {}
    for drum in rolled.drums.values():
        found.setdefault((drum.holds, drum.batch), []).append(drum)
    rows = []
    for (holds, batch), drums in sorted(found.items()):
        new = [d for d in drums if d.held is not None and d.held >= NEW_FROM * (d.printed or 0.0)]
        last = max(drums, key=lambda drum: drum.last_day)
        left = [drum.left for drum in drums if drum.left is not None]
        row: dict[str, Any] = {
            "batch": batch or "no batch typed",
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
    book = Book.open(path)
    if not {"jobs", "unread"} <= set(book.tables):
        raise PackageError(f"{path} is not a month workbook; make one with twodrum month FOLDER")
    filled = read_file(path, MONTH)
    if filled.refused:
        raise PackageError(filled.refused)
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
    names = {"loss_share": loss, "loss_doubt": min(0.3, max(0.01, doubt))}
    words = f"loss {loss * 100:.1f} % ({low * 100:.1f} to {high * 100:.1f} %) "
    if spread is not None:
        names["film_spread"] = min(0.3, max(0.01, spread))
        words += f"and film spread {spread * 100:.0f} % "
    who = "all crews" if found[0] == ANY else str(found[0])
    on = "all surfaces" if found[1] == ANY else str(found[1])
    return Assumed(names, f"{words}of {who} on {on}, by {jobs:.0f} jobs")


def _key(crew: str, surface: str) -> tuple[str, str]:
    return crew.casefold(), surface.casefold()
