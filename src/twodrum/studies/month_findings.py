"""The front page of a month: what the jobs say, in words, the most money first."""

from __future__ import annotations

import math
from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass
from typing import Any

from ..evaluate import Reader
from ..units import from_si
from .month_jobs import (
    CAUSES,
    NOBODY,
    Expected,
    Job,
    Odd,
    amount,
    currency,
    drifting_machines,
    expected,
    grouped,
    jobs,
    jobs_said,
    odd_jobs,
    sum_of,
)
from .month_jobs import (
    READS as JOBS_READS,
)
from .month_tables import MONEY_WORDS
from .words import in_percent

SOURCE = (
    "Means of groups drawn toward all jobs (Morris 1983), rank correlation for drifts, distances "
    "from the median for single jobs"
)
CAPACITY = 40
BATCHES = (*("batch", "holds", "drum_count", "held", "printed", "held_count", "left", "expiry"),)
READS = (
    *JOBS_READS,
    *(f"batches.{name}" for name in BATCHES),
    "unread.unread_file",
    "unread.unread_why",
)
# New drums that hold so much less than printed on them are short.
SHORT = 0.02
FEWEST_DRUMS = 2
# A group of fewer jobs is not said to differ.
FEWEST_JOBS = 3
# So many jobs that stand out are named; the others stand on Odd ones.
NAMED = 8
Finding = tuple[str, str, Any]


def month_findings(reader: Reader) -> list[tuple[Any, ...]]:
    """Rows of (what, words, money): coverage and sum first, then causes, then single jobs."""
    all_jobs = jobs(reader)
    unit = currency(reader)
    unread = list(
        zip(reader.column("unread", "unread_file"), reader.column("unread", "unread_why"))
    )
    rows: list[Finding] = [_covered(all_jobs, len(unread))]
    rows += _sum(all_jobs, unit)
    causes: list[Finding] = []
    for kind, who in (("crew", "Crew"), ("machine", "Machine")):
        causes += _groups_that_differ(all_jobs, kind, who, unit)
    causes += _drifts(all_jobs, unit)
    rows += sorted(causes, key=lambda row: -(row[2] or 0.0))
    rows += _batches(reader)
    rows += [("Could not be read", f"{file}: {why}", None) for file, why in unread]
    rows += _not_told(all_jobs)
    # What a machine that drifts or a crew that differs has told already is not told again.
    told = _explained(all_jobs)
    odd = [one for one in odd_jobs(all_jobs) if not told & _reasons(one)]
    rows += [
        ("Stands out", f"{one.job.name}: {one.words}.", one.job.numbers.get("over_money"))
        for one in odd[:NAMED]
    ]
    if len(odd) > NAMED:
        rows.append(("Stands out", f"{len(odd) - NAMED} more stand on Odd ones.", None))
    return rows


Reason = tuple[str, str, str]


def _explained(all_jobs: Sequence[Job]) -> set[Reason]:
    found = {("off", "machine", drift.machine) for drift in drifting_machines(all_jobs)}
    for kind in ("crew", "machine"):
        found |= {(measure, kind, name) for measure, name, _, _ in _different(all_jobs, kind)}
    return found


def _reasons(odd: Odd) -> set[Reason]:
    measures = {odd.measure.name} if odd.measure.name != "use" else {"use", "build", "loss", "off"}
    return {(m, kind, odd.job.group(kind)) for m in measures for kind in ("crew", "machine")}


def _covered(all_jobs: Sequence[Job], unread: int) -> Finding:
    counts = {
        "litres": sum(job.known("used_volume", "billed_area") for job in all_jobs),
        "money": sum(job.known("over_money") for job in all_jobs),
        "film": sum(job.known("build") for job in all_jobs),
    }
    said = ", ".join(f"{what} of {count}" for what, count in counts.items())
    words = f"{jobs_said(len(all_jobs))} read: {said}."
    if unread:
        files = f"{unread} files" if unread > 1 else "1 file"
        words += f" {files} could not be read: in no sum."
    return ("Covered", words, None)


def _sum(all_jobs: Sequence[Job], unit: str) -> list[Finding]:
    quoted = [job for job in all_jobs if job.known("over_money", "quoted_money")]
    material = sum_of(quoted, "quoted_money")
    if not quoted or not material:
        return [("Money", "No job has both an accepted quote and litres used.", None)]
    over = math.fsum(job.of("over_money") for job in quoted)
    way = "more" if over > 0 else "less"
    words = f"Iso and resin of {jobs_said(len(quoted))} cost {amount(abs(over), unit)} {way} "
    words += f"than quoted, {in_percent(abs(over) / material)} of the quoted material"
    sums = [(sum_of(quoted, cause) or 0.0, label) for cause, label in zip(CAUSES, MONEY_WORDS[2:])]
    largest = [
        f"{label[0].lower()}{label[1:]} {amount(value, unit)}"
        for value, label in sorted(sums, key=lambda item: -abs(item[0]))[:3]
        if abs(value) >= 0.5
    ]
    if largest:
        words += f": {', '.join(largest)}"
    return [("Money", f"{words}.", over)]


def _build(job: Job) -> float | None:
    return job.of("build") - 1 if job.known("build") else None


def _loss(job: Job) -> float | None:
    return job.of("loss") if job.known("loss", "build") else None


@dataclass(frozen=True)
class Difference:
    """Something in which a crew or a machine may differ from the others."""

    measure: str
    what: str
    of: Callable[[Job], float | None]
    money: str
    words: str


DIFFERENCES = (
    Difference("build", "over-builds", _build, "build_money", "sprays {} more film than asked for"),
    Difference("loss", "loses more", _loss, "loss_money", "loses {} of what is supplied"),
)


def _different(all_jobs: Sequence[Job], kind: str) -> Iterator[tuple[str, str, Expected, float]]:
    """What differs, by which group, what to expect of it and what the others have."""
    groups = grouped(all_jobs, kind)
    groups.pop(NOBODY, None)
    for difference in DIFFERENCES:
        told = {
            name: [value for job in own if (value := difference.of(job)) is not None]
            for name, own in groups.items()
        }
        found, everyone, _ = expected(told)
        if everyone is None or len(found) < 2:
            continue
        for name, one in found.items():
            others = _of_others(told, name)
            if one.jobs >= FEWEST_JOBS and one.low > others:
                yield difference.measure, name, one, others


def _groups_that_differ(
    all_jobs: Sequence[Job], kind: str, who: str, unit: str
) -> Iterator[Finding]:
    """Groups whose film or loss is surely above that of the others."""
    groups, by_measure = grouped(all_jobs, kind), {one.measure: one for one in DIFFERENCES}
    for measure, name, one, others in _different(all_jobs, kind):
        difference = by_measure[measure]
        cost = sum_of(groups[name], difference.money)
        words = f"{who} {name} {difference.words.format(in_percent(one.value))}, the others "
        words += f"{in_percent(others)}, by {jobs_said(one.jobs)}"
        if cost is not None:
            words += f": {amount(cost, unit)} above the quotes"
        yield (f"{who}: {difference.what}", f"{words}.", cost)


def _of_others(told: dict[str, list[float]], name: str) -> float:
    others = [value for other, values in told.items() if other != name for value in values]
    return math.fsum(others) / len(others) if others else math.inf


def _drifts(all_jobs: Sequence[Job], unit: str) -> Iterator[Finding]:
    for drift in drifting_machines(all_jobs):
        cost = sum_of(drift.jobs, "excess_money")
        side = "iso" if drift.last > 0 else "resin"
        words = f"Machine {drift.machine} drifts off its ratio: iso over its ratio went from "
        words += f"{in_percent(drift.first)} to {in_percent(drift.last)} over {len(drift.jobs)} "
        words += f"jobs, there is too much {side} now; look at its pumps and their inlets"
        if cost is not None:
            words += f"; {amount(cost, unit)} went beyond the ratio"
        yield ("Machine: drifts", f"{words}.", cost)


def _batches(reader: Reader) -> Iterator[Finding]:
    like = reader.cells("batches", "held")
    for row, cell in zip(reader.rows("batches", BATCHES), like):
        name, holds = row["batch"].si, row["holds"].si
        held, printed, count = (row[key].si for key in ("held", "printed", "held_count"))
        if not held or not printed or not count or count < FEWEST_DRUMS:
            continue
        short = 1 - held / printed
        if short < SHORT:
            continue
        missing = from_si(printed - held, "volume", cell.unit)
        words = f"Batch {name} ({holds}) is short: {count:.0f} new drums held {missing:,.0f} "
        words += (
            f"{cell.unit} less than is printed on them, {in_percent(short)}; tell the supplier."
        )
        yield ("Batch: short", words, None)


def _not_told(all_jobs: Sequence[Job]) -> list[Finding]:
    return [
        ("Not told", f"{job.texts['file']}, {job.name}: {job.texts['not_told']}.", None)
        for job in all_jobs
        if job.texts["not_told"]
    ]
