"""Overlapping strokes against sums of many strokes, place by place."""

import math
import random
from collections.abc import Callable

import numpy as np
import pytest

from twodrum.core import passes

PROFILES: dict[str, Callable[[np.ndarray], np.ndarray]] = {
    "triangular": lambda x: np.clip(1 - np.abs(x), 0, None),
    "parabolic": lambda x: np.clip(1 - x * x, 0, None),
    "elliptical": lambda x: np.sqrt(np.clip(1 - x * x, 0, None)),
    "bell": lambda x: np.clip(1 - x * x, 0, None) ** 2,
    "uniform": lambda x: (np.abs(x) < 1).astype(float),
}


@pytest.mark.parametrize("fan", PROFILES)
def test_unevenness_thinnest_and_thickest__40_overlaps__brute_force(fan: str) -> None:
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
        assert passes.overlap_unevenness(fan, overlap) == pytest.approx(
            float(film.std()) / mean, abs=2e-4
        )
        assert passes.thinnest_share(fan, overlap) == pytest.approx(
            float(film.min()) / mean, abs=3e-3
        )
        assert passes.thickest_share(fan, overlap) == pytest.approx(
            float(film.max()) / mean, abs=3e-3
        )
