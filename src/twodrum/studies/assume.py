"""What the next quote should assume: loss and film spread by crew and surface."""

from __future__ import annotations

import math
from collections.abc import Callable
from typing import Any, NamedTuple

from ..engine.evaluate import Reader
from .month_jobs import NOBODY, READS, Expected, Job, expected, jobs, jobs_said, loss_told
from .words import in_percent

SOURCE = (
    "Means of the groups drawn toward that of all jobs (empirical Bayes after Morris 1983); "
    "intervals are meant for 95 cases of 100 and hold fewer where crews are few"
)
CAPACITY = 120
ANY = "any"
# A group that keeps less of its own mean is told to follow the others.
MOSTLY = 0.5
# One film reading more spreads nothing: spreads are compared by their logarithms.
KEYS: tuple[tuple[str, Callable[[Job], tuple[str, str]]], ...] = (
    ("pair", lambda job: (job.group("crew"), job.group("surface_kind"))),
    ("crew", lambda job: (job.group("crew"), ANY)),
    ("surface", lambda job: (ANY, job.group("surface_kind"))),
)
Key = tuple[str, str]

__all__ = ["ANY", "CAPACITY", "READS", "SOURCE", "assume"]


class Assumed(NamedTuple):
    """What the next quote of a crew should assume."""

    assume_crew: Any
    assume_surface: Any
    assume_jobs: Any
    assume_loss: Any
    assume_loss_low: Any
    assume_loss_high: Any
    assume_uncertainty: Any
    assume_spread_jobs: Any
    assume_spread: Any
    assume_spread_low: Any
    assume_spread_high: Any
    assume_words: Any


def _loss(job: Job) -> float | None:
    loss = loss_told(job)
    return loss if loss is not None and 0 <= loss < 1 else None


def _spread(job: Job) -> float | None:
    spread = job.numbers.get("spread")
    return math.log(spread) if spread else None


def assume(reader: Reader) -> list[Assumed]:
    """Rows of (crew, surface, jobs, loss, low, high, scatter, jobs, spread, low, high, words)."""
    all_jobs = jobs(reader)
    losses, scatter = _by_key(all_jobs, _loss)
    spreads, _ = _by_key(all_jobs, _spread)
    rows = []
    for key in sorted(losses.keys() | spreads.keys(), key=_place):
        if NOBODY in key:
            continue
        loss, spread = losses.get(key), spreads.get(key)
        rows.append(
            Assumed(
                *key,
                loss.jobs if loss else 0,
                *_ends(loss, lambda value: min(0.95, max(0.0, value))),
                scatter if loss else None,
                spread.jobs if spread else 0,
                *_ends(spread, math.exp),
                _words(key, loss, spread),
            )
        )
    return rows


def _ends(
    found: Expected | None, of: Callable[[float], float]
) -> tuple[float | None, float | None, float | None]:
    if found is None:
        return None, None, None
    return of(found.value), of(found.low), of(found.high)


def _place(key: Key) -> tuple[bool, bool, Key]:
    """All jobs first, then crews, then surfaces, then crews on surfaces."""
    return key[1] != ANY, key[0] != ANY, key


def _by_key(
    all_jobs: list[Job], of: Callable[[Job], float | None]
) -> tuple[dict[Key, Expected], float | None]:
    """What to expect of each crew, surface, both and all; how far one job scatters."""
    told = [(job, value) for job in all_jobs if (value := of(job)) is not None]
    groups: dict[str, dict[Key, list[float]]] = {}
    for name, key in KEYS:
        own = groups.setdefault(name, {})
        for job, value in told:
            own.setdefault(key(job), []).append(value)
    found: dict[Key, Expected] = {}
    scatter = None
    for name, _ in KEYS:
        results, everyone, scatter = expected(groups[name], groups["pair"])
        found.update(results)
        if everyone is not None and name == "crew":
            found[ANY, ANY] = everyone
    return found, scatter


def _words(key: Key, loss: Expected | None, spread: Expected | None) -> str:
    crew, surface = key
    who = "All crews" if crew == ANY else crew
    on = "" if surface == ANY else f" on {surface}"
    if loss is None:
        return f"{who}{on}: no job with film readings tells of the loss."
    words = f"{who}{on}: {in_percent(max(0.0, loss.value))} lost, by {jobs_said(loss.jobs)}"
    if loss.own < MOSTLY:
        words += "; taken mostly from all jobs"
    return f"{words}."
