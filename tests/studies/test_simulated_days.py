"""A slice of the simulated days: `python -m tests.simulated_days` runs all of them."""

from tests import made
from tests.simulated_days import Found, days, held, simulate, table

COUNT = 40


def forty() -> list[Found]:
    return simulate(days(COUNT))


def found() -> list[Found]:
    return made.found(forty)


def test_a_fast_creep_is_always_found_and_before_it_is_worth_a_look() -> None:
    own = [day for day in found() if day.planted.creep == 0.5]
    assert len(own) == COUNT // 5
    for day in own:
        assert day.creeps_at is not None
        # A change that passes its limit in the last reading waits for the next one.
        assert day.worth_at is None or day.creeps_at < day.worth_at
    assert sum(day.worth_at is not None for day in own) >= len(own) / 2


def test_most_creeps_are_of_the_side_that_was_planted() -> None:
    told = [day for day in found() if day.planted.creep >= 0.2 and day.creeps_at is not None]
    assert len(told) >= 20
    assert sum(day.side == "resin" for day in told) >= 0.8 * len(told)


def test_intervals_hold_the_truth() -> None:
    # Of 40 intervals at 95 % fewer than 33 hold it once in 5000 slices.
    for what in ("off_ratio", "power", "loss"):
        inside, count = held(found(), what)
        assert count == COUNT, what
        assert inside >= 33, what


def test_quiet_days_hardly_warn() -> None:
    quiet = simulate(days(30, (0.0,), seed=7))
    # About one in ten days of twenty readings; of 30 more than 10 would come once in 2000 slices.
    assert sum(day.creeps_at is not None for day in quiet) <= 10
    assert all(day.worth_at is None for day in quiet)


def test_the_report_has_a_line_for_each_creep_and_each_result() -> None:
    lines = list(table(found()))
    assert len(lines) == 2 + 5 + 1 + 2 + 3
