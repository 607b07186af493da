"""The jobs of a month summed, by groups, in their order, and those that stand out."""

from __future__ import annotations

import math
from typing import Any, NamedTuple

from ..engine.evaluate import Reader
from ..problems import with_small
from .month_jobs import (
    CAUSES,
    MONEY,
    READS,
    Job,
    amount,
    currency,
    grouped,
    jobs,
    jobs_said,
    loss_told,
    mean_of,
    outlier_jobs,
    over_build,
    per_area,
    sum_of,
)

SOURCE = "Sums and means over the jobs that tell; how many those are stands beside each"
ODD_SOURCE = "Distance from the median over the median absolute deviation (Iglewicz and Hoaglin)"
CAUSE_CAPACITY = len(CAUSES)
GROUP_CAPACITY = 80
TREND_CAPACITY = 400
ODD_CAPACITY = 60
TOTAL_READS = (*READS, "unread.unread_file")
KINDS_OF_GROUP = (
    ("crew", "crew"),
    ("machine", "machine"),
    ("material", "material"),
    ("surface_kind", "surface of"),
)

__all__ = ["READS"]


class Outlier(NamedTuple):
    """One job that stands out."""

    outlier_job: Any
    outlier_what: Any
    outlier_words: Any
    outlier_score: Any


class Total(NamedTuple):
    """One cause over all jobs."""

    month_cause: Any
    month_cause_money: Any
    month_cause_jobs: Any
    month_cause_largest: Any
    month_cause_words: Any


class Trend(NamedTuple):
    """One job in the order of the dates."""

    trend_number: Any
    trend_day: Any
    trend_job: Any
    trend_used: Any
    trend_quoted: Any
    trend_loss: Any
    trend_allowed: Any
    trend_build: Any
    trend_off: Any
    trend_money: Any


class Group(NamedTuple):
    """The jobs of one crew, machine, material or surface."""

    group_kind: Any
    group_name: Any
    group_jobs: Any
    group_area: Any
    group_per_area: Any
    group_build: Any
    group_loss: Any
    group_off: Any
    group_money: Any
    group_words: Any


def totals(reader: Reader) -> list[Total]:
    """Rows of (cause, money, jobs, the largest, words), the most money first."""
    all_jobs = jobs(reader)
    used = [job for job in all_jobs if job.known("used_volume", "billed_area")]
    quoted = [job for job in all_jobs if job.known("over_money")]
    told = [job for job in all_jobs if loss_told(job) is not None]
    given: dict[str, Any] = {
        "jobs_read": len(all_jobs),
        "jobs_unread": sum(name is not None for name in reader.column("unread", "unread_file")),
        "jobs_used": len(used),
        "jobs_quoted": len(quoted),
        "jobs_film": sum(job.known("build") for job in all_jobs),
        "used_total": sum_of(used, "used_volume"),
        "billed_total": sum_of(used, "billed_area"),
        "month_per_area": per_area(used, "used_volume", "billed_area"),
        "month_quoted_per_area": per_area(used, "quoted_volume", "quoted_area"),
        "build_mean": mean_of(all_jobs, "build"),
        "loss_mean": mean_of(told, "loss"),
        "quoted_loss_mean": mean_of(all_jobs, "quoted_loss"),
        "off_mean": mean_of(all_jobs, "off_ratio"),
        **{f"{name}_total": sum_of(quoted, name) for name in MONEY},
    }
    over, material = given["over_money_total"], given["quoted_money_total"]
    given["over_share"] = over / material if over is not None and material else None
    for name, value in given.items():
        reader.give(name, value)
    labels = dict(zip(MONEY, MONEY_WORDS))
    rows = []
    for cause in CAUSES:
        told = [job for job in quoted if job.known(cause)]
        if not told:
            continue
        most = max(told, key=lambda job: abs(job.of(cause)))
        total = math.fsum(job.of(cause) for job in told)
        words = f"Over {len(told)} of {jobs_said(len(all_jobs))}"
        if most.of(cause):
            words += f"; most on {most.name}, {amount(most.of(cause), currency(reader))}"
        if cause == "excess_money":
            words += "; small amounts come from noise alone"
        rows.append(Total(labels[cause], total, len(told), most.of(cause), f"{words}."))
    return sorted(rows, key=lambda row: -abs(row.month_cause_money))


MONEY_WORDS = (
    "Material above the quotes",
    "Material as quoted",
    "More area billed than quoted",
    "More area sprayed than billed",
    "More film asked for, on average",
    "Over-build",
    "Loss beyond the allowance",
    "Panels, purge and hose fill",
    "Off the ratio",
    "Prices paid",
    "Not explained",
)


def groups(reader: Reader) -> list[Group]:
    """Rows of (by, name, jobs, area, litres for each, film, loss, off ratio, money, words)."""
    all_jobs = jobs(reader)
    unit = currency(reader)
    rows = []
    for kind, words in KINDS_OF_GROUP:
        for name, own in grouped(all_jobs, kind).items():
            used = [job for job in own if job.known("used_volume", "billed_area")]
            rows.append(
                Group(
                    words,
                    name,
                    len(own),
                    sum_of(used, "billed_area"),
                    per_area(used, "used_volume", "billed_area"),
                    mean_of(own, "build"),
                    mean_of([job for job in own if loss_told(job) is not None], "loss"),
                    mean_of(own, "off_ratio"),
                    sum_of(own, "over_money"),
                    _group_words(own, len(used), unit),
                )
            )
    return rows


def _group_words(own: list[Job], used: int, unit: str) -> str:
    """Over how many jobs the sums go, and what cost most."""
    quoted = [job for job in own if job.known("over_money")]
    words = f"Litres of {used}, money of {len(quoted)} of {jobs_said(len(own))}"
    sums = {label: sum_of(quoted, cause) or 0.0 for cause, label in zip(CAUSES, MONEY_WORDS[2:])}
    label, most = max(sums.items(), key=lambda item: item[1])
    if most > 0:
        words += f"; most by {with_small(label)}, {amount(most, unit)}"
    return f"{words}."


def trend(reader: Reader) -> list[Trend]:
    """Rows of (number, day, job, used, quoted, loss, allowed, film, off ratio, money so far)."""
    rows = []
    so_far = 0.0
    for number, job in enumerate(jobs(reader), 1):
        so_far += job.numbers.get("over_money", 0.0)
        rows.append(
            Trend(
                number,
                job.numbers.get("worked"),
                job.name,
                per_area([job], "used_volume", "billed_area"),
                per_area([job], "quoted_volume", "quoted_area"),
                job.numbers.get("loss"),
                job.numbers.get("quoted_loss"),
                over_build(job),
                job.numbers.get("off_ratio"),
                so_far if job.known("over_money") else None,
            )
        )
    # Of a longer row the latest are drawn.
    return rows[-TREND_CAPACITY:]


def outliers(reader: Reader) -> list[Outlier]:
    """Rows of (job, what, words, score); a verdict stands beside each row of Jobs."""
    all_jobs = jobs(reader)
    outlier = outlier_jobs(all_jobs)
    rows = [Outlier(one.job.name, one.measure.label, f"{one.words}.", one.score) for one in outlier]
    said: dict[str, list[str]] = {}
    for one in outlier:
        said.setdefault(one.job.at.where, []).append(one.words)
    verdicts = []
    for cell in reader.cells("jobs", "file"):
        told = said.get(cell.where)
        verdicts.append("; ".join(told) if told else "Nothing to say")
    reader.give("jobs.verdict", verdicts)
    return rows
