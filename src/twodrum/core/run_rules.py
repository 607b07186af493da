"""Patterns in a row of readings that chance hardly makes, and whether there are enough of them."""

from __future__ import annotations

from collections.abc import Sequence

from .inputs import require, require_series

# Rule: of so many readings in a row so many beyond so many standard deviations, on one side.
RULES = ((1, 1, 3.0), (3, 2, 2.0), (5, 4, 1.0), (8, 8, 0.0))
FEWEST, ENOUGH = 10, 40


def run_rule_signals(
    values: Sequence[float], centre: float, standard_deviation: float
) -> list[int]:
    """Which run rule each reading completes.

        1: one beyond 3 σ; 2: two of three beyond 2 σ; 3: four of five beyond 1 σ;
        4: eight in a row; each on one side of the centre; 0: none

    Parameters
    ----------
    values : sequence of float
        At least 1. [any]
    centre : float
        That is expected, any number. [as the values]
    standard_deviation : float
        Of single readings, above 0. [as the values]

    Returns
    -------
    list of int
        The first rule that holds at each reading, or 0. [1]

    Valid for
    ---------
    A hint to look, never a proof: with all four rules the first false signal comes after about
    92 good readings, and about one good reading in 60 is marked.

    Source
    ------
    Run rules of Western Electric, Statistical Quality Control Handbook 1956 (from memory).

    Example
    -------
    >>> run_rule_signals([0.1, 2.3, 0.4, 2.2, -3.5], 0.0, 1.0)
    [0, 0, 0, 2, 1]
    """
    require_series("values", values, 1)
    require("centre", centre)
    require("standard_deviation", standard_deviation, above=0)
    steps = [(value - centre) / standard_deviation for value in values]
    return [_signal(steps[: index + 1]) for index in range(len(steps))]


def _signal(steps: Sequence[float]) -> int:
    for number, (window, wanted, distance) in enumerate(RULES, 1):
        last = steps[-window:]
        # The newest reading is one of those that count, else an old pattern would go on warning.
        for side in (1, -1):
            # What stands on a limit up to float noise is not beyond it.
            beyond = distance * (1 + 1e-12)
            counted = sum(side * step > beyond for step in last)
            if side * steps[-1] > beyond and counted >= wanted:
                return number
    return 0


def baseline_advice(count: float) -> str:
    """Whether so many readings are enough to set limits by.

        below 10 "too few", below 40 "few", else "enough"

    Parameters
    ----------
    count : float
        Readings of a good, steady period, 0 or more. [1]

    Returns
    -------
    str
        "too few", "few" or "enough". Limits from a moving range of 10 readings alarm falsely in
        24 of 100 runs of 20 good ones, of 20 in 16, of 40 in 10, against 5 where σ is known.

    Valid for
    ---------
    Normal, independent readings.

    Source
    ------
    Simulated false alarms of limits from a moving range; use `prediction_limit_factor` for few.

    Example
    -------
    >>> baseline_advice(8.0), baseline_advice(20.0), baseline_advice(40.0)
    ('too few', 'few', 'enough')
    """
    require("count", count, at_least=0)
    if count < FEWEST:
        return "too few"
    return "few" if count < ENOUGH else "enough"
