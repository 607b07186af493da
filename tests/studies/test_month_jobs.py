"""Whom a month accuses: quiet offices nobody, planted ones whoever it was."""

import random
from collections.abc import Callable

import pytest

from twodrum.engine.evaluate import Value
from twodrum.studies.month_findings import _different
from twodrum.studies.month_jobs import Job, drifting_machines, outlier_jobs

MONTHS = 300


def month(
    draw: random.Random,
    count: int,
    crews: int,
    rigs: int,
    changed: Callable[[Job], None] = lambda job: None,
) -> list[Job]:
    """Jobs of crews and machines that are all alike, but for what is changed."""
    found = []
    for number in range(count):
        texts = {
            "file": f"{number}.xlsx",
            "job": f"Job {number}",
            "crew": f"Crew {draw.randrange(crews)}",
            "machine": f"Rig {draw.randrange(rigs)}",
            "material": "Lining",
            "surface_kind": "steel",
            "not_told": "",
        }
        numbers = {
            "worked": 46000.0 + number,
            "billed_area": 200.0,
            "used_volume": 0.5 * draw.gauss(1, 0.05),
            "quoted_area": 200.0,
            "quoted_volume": 0.5,
            "build": draw.gauss(1.03, 0.04),
            "loss": draw.gauss(0.21, 0.03),
            "quoted_loss": 0.2,
            "off_ratio": draw.gauss(0.0, 0.005),
            "off_uncertainty": 0.01,
            "price_money": draw.gauss(0, 50),
            "quoted_money": 5000.0,
        }
        where = f"Jobs!A{7 + number}"
        job = Job(Value("file", "File", "text", "", texts["file"], where), texts, numbers)
        changed(job)
        found.append(job)
    return found


@pytest.mark.parametrize(("count", "crews", "rigs"), [(6, 2, 2), (20, 4, 3), (40, 4, 3)])
def test_quiet_offices_accuse_nobody(count: int, crews: int, rigs: int) -> None:
    """Each of the three is meant to be wrong in one quiet month of twenty; two are allowed."""
    draw = random.Random(count)
    wrong = {"differs": 0, "outlier": 0, "drifts": 0}
    for _ in range(MONTHS):
        jobs = month(draw, count, crews, rigs)
        wrong["differs"] += bool(_different(jobs))
        wrong["outlier"] += bool(outlier_jobs(jobs))
        wrong["drifts"] += bool(drifting_machines(jobs))
    assert max(wrong.values()) <= 0.1 * MONTHS, wrong


def thick(job: Job) -> None:
    if job.texts["crew"] == "Crew 1":
        job.numbers["build"] += 0.12


def test_a_crew_that_over_builds_by_three_scatters_is_nearly_always_found() -> None:
    draw = random.Random(1)
    found = 0
    for _ in range(MONTHS):
        culprits = _different(month(draw, 40, 4, 3, thick))
        found += any(
            (one.kind, one.name, one.difference.measure) == ("crew", "Crew 1", "build")
            for one in culprits
        )
    assert found >= 0.9 * MONTHS


def drifting(job: Job) -> None:
    if job.texts["machine"] == "Rig 1":
        job.numbers["off_ratio"] += (job.numbers["worked"] - 46000) / 40 * 0.06


def test_a_machine_that_drifts_is_nearly_always_found() -> None:
    draw = random.Random(2)
    found = 0
    for _ in range(100):
        found += [
            drift.machine for drift in drifting_machines(month(draw, 40, 4, 3, drifting))
        ] == ["Rig 1"]
    assert found >= 90


def mended(job: Job) -> None:
    if job.texts["machine"] == "Rig 1":
        job.numbers["off_ratio"] += (46040 - job.numbers["worked"]) / 40 * 0.06


def test_a_machine_that_comes_back_to_its_ratio_is_not_said_to_drift_off() -> None:
    jobs = month(random.Random(3), 40, 4, 3, mended)
    assert [drift.machine for drift in drifting_machines(jobs)] == []


def thin(job: Job) -> None:
    job.numbers["build"] -= 0.2 if job.texts["crew"] != "Crew 1" else 0.12


def test_a_crew_below_what_was_aimed_at_does_not_over_build() -> None:
    jobs = month(random.Random(4), 40, 4, 3, thin)
    assert [one for one in _different(jobs) if one.difference.measure == "build"] == []


def test_a_price_paid_once_stands_out_where_all_the_others_are_the_same() -> None:
    jobs = month(random.Random(5), 12, 2, 2)
    for job in jobs:
        job.numbers["price_money"] = 0.0
    jobs[4].numbers["price_money"] = 2500.0
    outlier = [one for one in outlier_jobs(jobs) if one.measure.name == "price"]
    assert [one.job.name for one in outlier] == ["Job 4"]
