"""The front page of a month: what the jobs say, in words, the most money first."""

from __future__ import annotations

import math
from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass
from typing import Any, NamedTuple

from ..core.comparison import difference_of_means
from ..engine.evaluate import Reader
from ..problems import with_small
from ..units import from_si
from . import month_jobs
from .month_jobs import (
    CAUSES,
    CHANCE,
    NOBODY,
    Drift,
    Job,
    Odd,
    amount,
    currency,
    drifting_machines,
    grouped,
    jobs,
    jobs_said,
    loss_told,
    mean_of,
    outlier_jobs,
    over_build,
    sum_of,
)
from .month_tables import MONEY_WORDS
from .words import in_percent

SOURCE = (
    "Difference of means after Welch for crews and machines, rank correlation for drifts, distance "
    "from the median for single jobs; each allows for the number of questions asked"
)
CAPACITY = 40
UNREAD = "Could not be read"
BATCHES = (*("batch", "holds", "drum_count", "held", "printed", "held_count", "left", "expiry"),)
READS = (
    *month_jobs.READS,
    *(f"batches.{name}" for name in BATCHES),
    "unread.unread_file",
    "unread.unread_why",
)
# New drums that hold so much less than printed on them are short.
SHORT = 0.02
FEWEST_DRUMS = 2
NO_BATCH = "no batch typed"
# A group of fewer jobs is not said to differ.
FEWEST_JOBS = 3
# So many jobs that stand out are named; the others stand on Outliers.
NAMED = 8


class Finding(NamedTuple):
    """One line of the front page."""

    finding: Any
    finding_words: Any
    finding_money: Any


def month_findings(reader: Reader) -> list[Finding]:
    """Rows of (what, words, money): coverage and sum first, then causes, then single jobs."""
    all_jobs = jobs(reader)
    unit = currency(reader)
    unread = list(
        zip(reader.column("unread", "unread_file"), reader.column("unread", "unread_why"))
    )
    rows: list[Finding] = [_covered(all_jobs, len(unread))]
    rows += _sum(all_jobs, unit)
    culprits, drifts = _different(all_jobs), drifting_machines(all_jobs)
    causes = [*_groups_that_differ(culprits, unit), *_drifts(drifts, unit)]
    rows += sorted(causes, key=lambda row: -(row.finding_money or 0.0))
    rows += _batches(reader)
    rows += [Finding(UNREAD, f"{file}: {why}", None) for file, why in unread]
    rows += _not_told(all_jobs)
    # What a machine that drifts or a crew that differs has told already is not told again.
    told = _explained(culprits, drifts)
    outlier = [one for one in outlier_jobs(all_jobs) if not told & _reasons(one)]
    rows += [
        Finding("Stands out", f"{one.job.name}: {one.words}.", one.job.numbers.get("over_money"))
        for one in outlier[:NAMED]
    ]
    if len(outlier) > NAMED:
        rows.append(Finding("Stands out", f"{len(outlier) - NAMED} more stand on Outliers.", None))
    return rows


Reason = tuple[str, str, str]


def _explained(culprits: Sequence[Culprit], drifts: Sequence[Drift]) -> set[Reason]:
    found = {("off", "machine", drift.machine) for drift in drifts}
    return found | {(one.difference.measure, one.kind, one.name) for one in culprits}


def _reasons(outlier: Odd) -> set[Reason]:
    measures = (
        {outlier.measure.name} if outlier.measure.name != "use" else {"use", "build", "loss", "off"}
    )
    return {(m, kind, outlier.job.group(kind)) for m in measures for kind in KINDS}


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
    return Finding("Covered", words, None)


def _sum(all_jobs: Sequence[Job], unit: str) -> list[Finding]:
    quoted = [job for job in all_jobs if job.known("over_money", "quoted_money")]
    material = sum_of(quoted, "quoted_money")
    if not quoted or not material:
        return [Finding("Money", "No job has both an accepted quote and litres used.", None)]
    over = math.fsum(job.of("over_money") for job in quoted)
    way = "more" if over > 0 else "less"
    words = f"Iso and resin of {jobs_said(len(quoted))} cost {amount(abs(over), unit)} {way} "
    words += f"than quoted, {in_percent(abs(over) / material)} of the quoted material, by litres"
    sums = [(sum_of(quoted, cause) or 0.0, label) for cause, label in zip(CAUSES, MONEY_WORDS[2:])]
    largest = [
        f"{with_small(label)} {amount(value, unit)}"
        for value, label in sorted(sums, key=lambda item: -abs(item[0]))[:3]
        if abs(value) >= 0.5
    ]
    if largest:
        words += f": {', '.join(largest)}"
    return [Finding("Money", f"{words}.", over)]


@dataclass(frozen=True)
class Difference:
    """Something in which a crew or a machine may differ from the others."""

    measure: str
    what: str
    of: Callable[[Job], float | None]
    money: str
    words: str
    # What the quotes meant it to be; "": nothing.
    meant: str = ""


KINDS = ("crew", "machine")
DIFFERENCES = (
    Difference(
        "build", "over-builds", over_build, "build_money", "sprays {} more film than aimed at"
    ),
    Difference(
        "loss", "loses more", loss_told, "loss_money", "loses {} of what is supplied", "quoted_loss"
    ),
)


@dataclass(frozen=True)
class Culprit:
    """A group that surely has more of something than the others."""

    difference: Difference
    kind: str
    name: str
    mean: float
    others: float
    jobs: list[Job]


def _different(all_jobs: Sequence[Job]) -> list[Culprit]:
    """Crews and machines that differ from the others by more than chance allows."""
    asked: list[tuple[float, Culprit]] = []
    for difference in DIFFERENCES:
        told = [(job, value) for job in all_jobs if (value := difference.of(job)) is not None]
        for kind in KINDS:
            groups = grouped((job for job, _ in told), kind)
            groups.pop(NOBODY, None)
            for name in groups:
                own = [value for job, value in told if job.group(kind) == name]
                others = [value for job, value in told if job.group(kind) != name]
                if min(len(own), len(others)) < FEWEST_JOBS or max(own) == min(own):
                    continue
                found = difference_of_means(own, others)
                culprit = Culprit(
                    difference,
                    kind,
                    name,
                    math.fsum(own) / len(own),
                    math.fsum(others) / len(others),
                    groups[name],
                )
                surely = found.difference > 0 and culprit.mean > _meant(difference, groups[name])
                asked.append((found.probability if surely else 1.0, culprit))
    # Each question may be wrong by chance: all of them together in one case of twenty.
    return [culprit for probability, culprit in asked if probability < CHANCE / len(asked)]


def _meant(difference: Difference, own: Sequence[Job]) -> float:
    """What the quotes of these jobs meant it to be."""
    return mean_of(own, difference.meant) or 0.0 if difference.meant else 0.0


def _groups_that_differ(found: Sequence[Culprit], unit: str) -> Iterator[Finding]:
    """Crews and machines whose film or loss is surely above that of the others."""
    for culprit in found:
        same = [
            other
            for other in found
            if other.difference is culprit.difference and other.jobs == culprit.jobs
        ]
        if culprit is not same[0]:
            continue
        difference, who = culprit.difference, culprit.kind.capitalize()
        words = f"{who} {culprit.name} {difference.words.format(in_percent(culprit.mean))}"
        words += f", the others {in_percent(culprit.others)}, by {jobs_said(len(culprit.jobs))}"
        cost = sum_of(culprit.jobs, difference.money)
        if cost is not None and cost > 0:
            words += f": {amount(cost, unit)} above the quotes"
        for other in same[1:]:
            words += f"; always with {other.kind} {other.name}: which of them it is, is not told"
        yield Finding(f"{who}: {difference.what}", f"{words}.", cost)


def _drifts(drifts: Sequence[Drift], unit: str) -> Iterator[Finding]:
    for drift in drifts:
        cost = sum_of(drift.jobs, "excess_money")
        side = "iso" if drift.last > 0 else "resin"
        words = f"Machine {drift.machine} drifts off its ratio: iso over its ratio went from "
        words += f"{in_percent(drift.first)} to {in_percent(drift.last)} over {len(drift.jobs)} "
        words += f"jobs, there is too much {side} now; look at its pumps and their inlets"
        if cost is not None:
            words += f"; {amount(cost, unit)} went beyond the ratio"
        yield Finding("Machine: off its ratio", f"{words}.", cost)


def _batches(reader: Reader) -> Iterator[Finding]:
    like = reader.cells("batches", "held")
    for row, cell in zip(reader.rows("batches", BATCHES), like):
        name, holds = row["batch"].si, row["holds"].si
        held, printed, count = (row[key].si for key in ("held", "printed", "held_count"))
        if not held or not printed or not count or count < FEWEST_DRUMS or name == NO_BATCH:
            continue
        short = 1 - held / printed
        if short < SHORT:
            continue
        missing = from_si(printed - held, "volume", cell.unit)
        words = f"Batch {name} ({holds}) is short: {count:.0f} new drums held {missing:,.0f} "
        words += (
            f"{cell.unit} less than is printed on them, {in_percent(short)}; tell the supplier."
        )
        yield Finding("Batch: short", words, None)


def _not_told(all_jobs: Sequence[Job]) -> list[Finding]:
    """Jobs that are not in every sum, those of one reason together."""
    found: dict[str, list[Job]] = {}
    for job in all_jobs:
        if job.texts["not_told"]:
            found.setdefault(job.texts["not_told"], []).append(job)
    rows = []
    for why, own in found.items():
        named = ", ".join(f"{job.texts['file']} ({job.name})" for job in own[:NAMED])
        more = f" and {len(own) - NAMED} more" if len(own) > NAMED else ""
        rows.append(Finding("Not told", f"{named}{more}: {why}.", None))
    return rows
