"""Offices whose crews' true losses are known: ``python -m tests.simulated_offices``.

Ten crews with 3 to 40 jobs each. Counted: the squared error of what a crew is expected to lose,
by its own mean, by the mean of the office and by the mean drawn toward the office, and how often
the interval of the last holds the truth.
"""

from __future__ import annotations

import argparse
import math
import random
from dataclasses import dataclass
from statistics import mean

from twodrum.core.shrinkage import interval, pooled_deviation, shrunk_means

CREWS, FEWEST, MOST = 10, 3, 40
USUAL, JOBS_SCATTER = 0.22, 0.06
# How far true losses of crews scatter about the usual one.
BETWEEN = (0.005, 0.02, 0.04)
WAYS = ("crew mean", "office mean", "drawn")


@dataclass(frozen=True)
class Office:
    """Squared errors of one office by way, and how many of its intervals held."""

    errors: dict[str, float]
    held: int
    crews: int


def office(between: float, seed: int) -> Office:
    """One office: its crews drawn, their jobs drawn, its crews judged."""
    draw = random.Random(f"{between} {seed}")
    truths = [draw.gauss(USUAL, between) for _ in range(CREWS)]
    jobs = [
        [draw.gauss(truth, JOBS_SCATTER) for _ in range(draw.randint(FEWEST, MOST))]
        for truth in truths
    ]
    own = [mean(losses) for losses in jobs]
    scatter = pooled_deviation(jobs)
    found = shrunk_means(own, [scatter / math.sqrt(len(losses)) for losses in jobs])
    everything = mean(loss for losses in jobs for loss in losses)
    guesses = {"crew mean": own, "office mean": [everything] * CREWS, "drawn": found.values}
    errors = {
        way: math.fsum((guess - truth) ** 2 for guess, truth in zip(guessed, truths)) / CREWS
        for way, guessed in guesses.items()
    }
    held, freedom = 0, sum(map(len, jobs)) - CREWS
    for value, uncertainty, truth in zip(found.values, found.uncertainties, truths):
        low, high = interval(value, uncertainty, freedom, 0.95)
        held += low <= truth <= high
    return Office(errors, held, CREWS)


def simulate(count: int) -> dict[float, list[Office]]:
    """So many offices for each scatter of the crews."""
    return {between: [office(between, seed) for seed in range(count)] for between in BETWEEN}


def root_mean(offices: list[Office], way: str) -> float:
    """Root of the mean squared error of a way, in points of the loss."""
    return 100 * math.sqrt(mean(one.errors[way] for one in offices))


def table(found: dict[float, list[Office]]) -> list[str]:
    """What to say of all of them, for the contributor guide."""
    heads = " | ".join(WAYS)
    lines = [
        f"| crews scatter by | {heads} | interval held |",
        "| --- | --- | --- | --- | --- |",
    ]
    for between, offices in found.items():
        errors = " | ".join(f"{root_mean(offices, way):.2f}" for way in WAYS)
        held, crews = sum(o.held for o in offices), sum(o.crews for o in offices)
        lines.append(f"| {between * 100:.1f} points | {errors} | {held} of {crews} |")
    return lines


def main() -> None:
    """Simulate and print the table."""
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("--offices", type=int, default=1000)
    print("\n".join(table(simulate(parser.parse_args().offices))))


if __name__ == "__main__":
    main()
