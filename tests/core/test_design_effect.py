"""What a mean of clustered readings is worth: theory of cluster samples, seeded series."""

import math
import random

import pytest

from twodrum.core.comparison import design_effect
from twodrum.core.inputs import InputError


def clusters(count: int, size: int, alike: float, draw: random.Random) -> list[float]:
    found: list[float] = []
    while len(found) < count:
        shared = draw.gauss(0, math.sqrt(alike))
        found += [shared + draw.gauss(0, math.sqrt(1 - alike)) for _ in range(size)]
    return found


@pytest.mark.parametrize(("size", "alike"), [(1, 0.0), (5, 0.5), (3, 0.5), (2, 0.8)])
def test_a_long_row_of_clusters__kish_1965(size: int, alike: float) -> None:
    # Design effect of a cluster sample: 1 + (b - 1) rho (L. Kish, Survey Sampling, from memory).
    row = clusters(60_000, size, alike, random.Random(5))
    assert design_effect([row], 0.0) == pytest.approx(1 + (size - 1) * alike, rel=0.04)


def test_readings_that_lie_apart_count_whole_on_average() -> None:
    draw = random.Random(6)
    found = []
    for _ in range(400):
        row = [draw.gauss(0, 1) for _ in range(30)]
        mean = math.fsum(row) / 30
        found.append(design_effect([[value - mean for value in row]], 1.0))
    # Never below 1, so that chance alone adds a little.
    assert 1.0 < math.fsum(found) / 400 < 1.4


def test_neighbours_of_two_series_are_none() -> None:
    row = [1.0, -1.0]
    # Joined, the end of the first would stand beside the start of the second.
    assert design_effect([row, row], 0.0) == design_effect([row], 0.0) == 1.0


def test_nothing_left_over_is_no_effect() -> None:
    assert design_effect([[0.0, 0.0]], 1.0) == design_effect([], 0.0) == 1.0
    with pytest.raises(InputError):
        design_effect([[1.0]], -1.0)
