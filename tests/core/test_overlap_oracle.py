"""Overlapping strokes against sums of many strokes, place by place."""

import math
import random
from collections.abc import Callable

import numpy as np
import pytest

from twodrum.core import overlap as overlapping

PROFILES: dict[str, Callable[[np.ndarray], np.ndarray]] = {
    "triangular": lambda x: np.clip(1 - np.abs(x), 0, None),
    "parabolic": lambda x: np.clip(1 - x * x, 0, None),
    "elliptical": lambda x: np.sqrt(np.clip(1 - x * x, 0, None)),
    "bell": lambda x: np.clip(1 - x * x, 0, None) ** 2,
    "uniform": lambda x: (np.abs(x) < 1).astype(float),
}


@pytest.mark.parametrize("fan", PROFILES)
def test_best_overlap__no_other_of_5001_is_evener(fan: str) -> None:
    best = overlapping.best_overlap(fan)
    least = overlapping.overlap_unevenness(fan, best)
    assert 0 <= best <= 0.5
    for step in range(5001):
        assert overlapping.overlap_unevenness(fan, step / 10000) >= least - 1e-7


def test_best_overlap_of_a_parabolic_fan__literature_0_29_to_0_31() -> None:
    # An abstract on robot spraying: least variance at an overlap of 0.29 to 0.31.
    assert 0.29 < overlapping.best_overlap("parabolic") < 0.31


@pytest.mark.parametrize("fan", PROFILES)
def test_unevenness__40_overlaps__brute_force(fan: str) -> None:
    # A hundred thousand places over one spacing: 1e-4, more where the profile jumps or is steep.
    draw = random.Random(fan)
    for _ in range(40):
        overlap = draw.uniform(0, 0.85)
        spacing = 2 * (1 - overlap)
        places = (np.arange(100_000) + 0.5) / 100_000 * spacing
        reach = math.ceil(2 / spacing) + 1
        film = sum(PROFILES[fan](places - k * spacing) for k in range(-reach, reach + 1))
        assert isinstance(film, np.ndarray)
        mean = float(film.mean())
        assert overlapping.overlap_unevenness(fan, overlap) == pytest.approx(
            float(film.std()) / mean, abs=2e-4
        )
