"""The jobs of a month as they were read, and what several of them have in common."""

from __future__ import annotations

import math
from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass, field
from statistics import median_high
from typing import Any

from ..core.inputs import InputError
from ..core.robust import robust_scores, standing_out
from ..core.shrinkage import interval, pooled_deviation, shrunk_means
from ..core.trend import robust_slope, trend_probability
from ..engine.evaluate import Reader, Value, WaitingError, waits_for
from .words import in_percent

CONFIDENCE = 0.95
# A trend that chance makes in fewer than one of so many machines is told.
CHANCE = 0.05
# Fewer jobs show no trend.
FEWEST_FOR_TREND = 6
NOBODY = "not named"

TEXTS = ("file", "job", "crew", "machine", "material", "surface_kind", "not_told")
NUMBERS = (
    *("worked", "billed_area", "used_volume", "quoted_area", "quoted_volume"),
    *(
        "build",
        "build_uncertainty",
        "spread",
        "loss",
        "quoted_loss",
        "off_ratio",
        "off_uncertainty",
    ),
)
CAUSES = (
    *("billed_money", "unbilled_money", "asked_money", "build_money", "loss_money"),
    *("fixed_money", "excess_money", "price_money", "unexplained_money"),
)
MONEY = ("over_money", "quoted_money", *CAUSES)
COLUMNS = (*TEXTS, *NUMBERS, *MONEY)
# How many jobs stand in no row of the workbook.
ELSEWHERE = "jobs_elsewhere"
READS = (*(f"jobs.{name}" for name in COLUMNS), "currency", ELSEWHERE)


@dataclass(frozen=True)
class Job:
    """One row: what is known of a job; None where it is not."""

    at: Value
    texts: dict[str, str]
    numbers: dict[str, float] = field(default_factory=dict)

    def known(self, *names: str) -> bool:
        return all(name in self.numbers for name in names)

    def of(self, name: str) -> float:
        return self.numbers[name]

    @property
    def name(self) -> str:
        return self.texts["job"] or self.texts["file"]

    def group(self, kind: str) -> str:
        return self.texts[kind] or NOBODY


def jobs(reader: Reader) -> list[Job]:
    """The jobs in the order of their dates, those that stand elsewhere too.

    What was refused of a job is not known. WaitingError where those elsewhere are not at hand.
    """
    found, beside = [], reader.cell(ELSEWHERE)
    wait = waits_for(beside)
    if wait is not None:
        raise WaitingError(wait)
    if len(reader.more("jobs")) != (beside.si or 0):
        raise InputError("number of jobs beside", len(reader.more("jobs")), "exactly", beside.si)
    for row in reader.rows("jobs", COLUMNS):
        texts = {name: str(row[name].si or "").strip() for name in TEXTS}
        numbers = {
            name: float(row[name].si)
            for name in (*NUMBERS, *MONEY)
            if row[name].si is not None and not row[name].refused
        }
        found.append(Job(row["file"], texts, numbers))
    for more in reader.more("jobs"):
        texts = {name: str(more.get(name) or "").strip() for name in TEXTS}
        known = {name: more.get(name) for name in (*NUMBERS, *MONEY)}
        numbers = {name: float(value) for name, value in known.items() if value is not None}
        found.append(Job(beside, texts, numbers))
    _one_spelling(found)
    return sorted(found, key=lambda job: (job.numbers.get("worked", math.inf), job.texts["file"]))


def currency(reader: Reader) -> str:
    return str(reader.value("currency") or "")


def amount(value: float, unit: str) -> str:
    """Money in words, in whole units."""
    return f"{value:,.0f} {unit}".strip()


def jobs_said(count: int) -> str:
    return "1 job" if count == 1 else f"{count} jobs"


def grouped(all_jobs: Iterable[Job], kind: str) -> dict[str, list[Job]]:
    """Jobs by crew, machine, material or surface, in the order of the names."""
    found: dict[str, list[Job]] = {}
    for job in all_jobs:
        found.setdefault(job.group(kind), []).append(job)
    return dict(sorted(found.items()))


def _one_spelling(all_jobs: Sequence[Job]) -> None:
    """Names that differ in case or blanks only are written as they were first."""
    for kind in ("crew", "machine", "material", "surface_kind"):
        first: dict[str, str] = {}
        for job in all_jobs:
            key = " ".join(job.texts[kind].split()).casefold()
            job.texts[kind] = first.setdefault(key, job.texts[kind])


def mean_of(own: Sequence[Job], name: str) -> float | None:
    values = [job.of(name) for job in own if job.known(name)]
    return math.fsum(values) / len(values) if values else None


def sum_of(own: Sequence[Job], name: str) -> float | None:
    values = [job.of(name) for job in own if job.known(name)]
    return math.fsum(values) if values else None


def per_area(own: Sequence[Job], volume: str, area: str) -> float | None:
    """Litres for each area over the jobs that tell both."""
    told = [job for job in own if job.known(volume, area)]
    size = math.fsum(job.of(area) for job in told)
    return math.fsum(job.of(volume) for job in told) / size if size else None


@dataclass(frozen=True)
class Expected:
    """What to expect of a group: its mean drawn toward that of all."""

    jobs: int
    value: float
    low: float
    high: float
    # How much of its own mean the group keeps.
    own: float


def expected(
    groups: dict[Any, list[float]], over: dict[Any, list[float]] | None = None
) -> tuple[dict[Any, Expected], Expected | None, float | None]:
    """Each group, all of them, and how far one job scatters; nothing where too little is known.

    ``over`` are the finer groups within which one job scatters.
    """
    told = {name: values for name, values in groups.items() if values}
    scattered = [values for values in (over or told).values() if values]
    if not told or all(len(values) < 2 for values in scattered):
        return {}, None, None
    scatter = pooled_deviation(scattered)
    if scatter == 0:
        return {}, None, None
    freedom = sum(len(values) - 1 for values in scattered)
    means = [math.fsum(values) / len(values) for values in told.values()]
    uncertainties = [scatter / math.sqrt(len(values)) for values in told.values()]
    found = shrunk_means(means, uncertainties)
    rows = zip(told.items(), found.values, found.uncertainties, found.weights)
    result = {
        name: Expected(
            len(values), value, *interval(value, uncertainty, float(freedom), CONFIDENCE), weight
        )
        for (name, values), value, uncertainty, weight in rows
    }
    count = sum(len(values) for values in told.values())
    # A new crew scatters about the common mean as the crews do.
    uncertainty = math.hypot(found.common_uncertainty, found.between)
    ends = interval(found.common, uncertainty, float(max(1, len(told) - 1)), CONFIDENCE)
    return result, Expected(count, found.common, *ends, 1.0), scatter


@dataclass(frozen=True)
class Measure:
    """Something that every job may stand out by."""

    name: str
    label: str
    of: Callable[[Job], float | None]
    # What a job that stands out above and below has.
    above: str
    below: str
    # Within this of the usual one a job says nothing.
    uncertainty: str = ""


def _over_quote(job: Job) -> float | None:
    if not job.known("used_volume", "billed_area", "quoted_volume", "quoted_area"):
        return None
    if not job.of("billed_area") or not job.of("quoted_area") or not job.of("quoted_volume"):
        return None
    used = job.of("used_volume") / job.of("billed_area")
    return used * job.of("quoted_area") / job.of("quoted_volume") - 1


def _plain(name: str) -> Callable[[Job], float | None]:
    return lambda job: job.numbers.get(name)


def over_build(job: Job) -> float | None:
    """Film over the film aimed at, as a share above it."""
    return job.of("build") - 1 if job.known("build") else None


def loss_told(job: Job) -> float | None:
    """The loss where the film was read: else over-build would count as loss."""
    return job.of("loss") if job.known("loss", "build") else None


def _price(job: Job) -> float | None:
    if not job.known("price_money", "quoted_money") or not job.of("quoted_money"):
        return None
    return job.of("price_money") / job.of("quoted_money")


MEASURES = (
    Measure("use", "Litres for each area over the quote", _over_quote, "more", "less"),
    Measure(
        "build",
        "Film over the film aimed at",
        over_build,
        "thicker",
        "thinner",
        "build_uncertainty",
    ),
    Measure("loss", "Loss", loss_told, "more lost", "less lost"),
    Measure(
        "off",
        "Iso above its ratio",
        _plain("off_ratio"),
        "more iso",
        "less iso",
        "off_uncertainty",
    ),
    Measure("price", "Prices paid over the quote", _price, "dearer", "cheaper"),
)


@dataclass(frozen=True)
class Odd:
    """A job that stands apart from the others in one thing."""

    job: Job
    measure: Measure
    value: float
    usual: float
    score: float

    @property
    def words(self) -> str:
        way = self.measure.above if self.score > 0 else self.measure.below
        is_so, usual = in_percent(self.value), in_percent(self.usual)
        return f"{self.measure.label} is {is_so}, usual is {usual}: {way}"


def outlier_jobs(all_jobs: Sequence[Job]) -> list[Odd]:
    """Jobs that stand out in a measure, the farthest first."""
    found = []
    for measure in MEASURES:
        told = [(job, value) for job in all_jobs if (value := measure.of(job)) is not None]
        try:
            scores = robust_scores([value for _, value in told])
        except InputError:
            continue
        usual = median_high(value for _, value in told)
        limit = standing_out(len(told), len(MEASURES) * len(all_jobs), CHANCE)
        found += [
            Odd(job, measure, value, usual, score)
            for (job, value), score in zip(told, scores)
            if abs(score) > limit and abs(value - usual) > job.numbers.get(measure.uncertainty, 0.0)
        ]
    return sorted(found, key=lambda outlier: -abs(outlier.score))


@dataclass(frozen=True)
class Drift:
    """A machine whose ratio moves from job to job."""

    machine: str
    jobs: list[Job]
    first: float
    last: float


def drifting_machines(all_jobs: Sequence[Job]) -> list[Drift]:
    """Machines whose ratio moves one way over their jobs, more than chance allows."""
    machines = grouped((job for job in all_jobs if job.known("off_ratio", "worked")), "machine")
    machines.pop(NOBODY, None)
    found = []
    for machine, own in machines.items():
        if len(own) < FEWEST_FOR_TREND:
            continue
        days, values = [job.of("worked") for job in own], [job.of("off_ratio") for job in own]
        if len(set(days)) < 2 or len(set(values)) < 2:
            continue
        if trend_probability(days, values) >= CHANCE / len(machines):
            continue
        slope = robust_slope(days, values)
        middle = median_high(value - slope * day for day, value in zip(days, values))
        first, last = middle + slope * days[0], middle + slope * days[-1]
        if abs(last) <= abs(first):
            # It comes back to its ratio.
            continue
        uncertainties = [job.of("off_uncertainty") for job in own if job.known("off_uncertainty")]
        if uncertainties and abs(last - first) < median_high(uncertainties):
            continue
        found.append(Drift(machine, own, first, last))
    return found
