"""Overlapping strokes against sums of many strokes, place by place."""

import math
import random
from collections.abc import Callable

import numpy as np
import pytest

from twodrum.core import overlap as overlapping
from twodrum.core import overlap_extremes

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
        assert overlapping.overlap_unevenness(fan, overlap) == pytest.approx(
            float(film.std()) / mean, abs=2e-4
        )
        assert overlap_extremes.thinnest_share(fan, overlap) == pytest.approx(
            float(film.min()) / mean, abs=3e-3
        )
        assert overlap_extremes.thickest_share(fan, overlap) == pytest.approx(
            float(film.max()) / mean, abs=3e-3
        )


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


def test_beta_fan__named_fans_and_60_sums_of_many_strokes() -> None:
    for beta, fan in ((1, "uniform"), (1.5, "elliptical"), (2, "parabolic"), (3, "bell")):
        for overlap in (0.0, 0.2, 0.45, 0.8):
            found = overlapping.beta_fan_unevenness(beta, overlap)
            assert found == pytest.approx(
                overlapping.overlap_unevenness(fan, overlap), rel=1e-9, abs=1e-9
            )
    draw = random.Random(3)
    for _ in range(60):
        beta, overlap = draw.uniform(1.3, 8), draw.uniform(0, 0.85)
        spacing = 2 * (1 - overlap)
        places = (np.arange(100_000) + 0.5) / 100_000 * spacing
        reach = math.ceil(2 / spacing) + 1
        film = np.zeros_like(places)
        for k in range(-reach, reach + 1):
            film += np.clip(1 - (places - k * spacing) ** 2, 0, None) ** (beta - 1)
        expected = float(film.std() / film.mean())
        found = overlapping.beta_fan_unevenness(beta, overlap)
        assert found == pytest.approx(expected, abs=2e-5)


def test_staggered_layers__sums_of_strokes_and_the_finer_overlap() -> None:
    for fan in ("triangular", "parabolic", "bell"):
        spacing = 2 * (1 - 0.25)
        places = (np.arange(50_000) + 0.5) / 50_000 * spacing
        film = np.zeros_like(places)
        for k in range(-6, 7):
            film += PROFILES[fan](places - k * spacing / 2)
        finer = overlapping.staggered_overlap(0.25)
        found = overlapping.overlap_unevenness(fan, finer)
        assert found == pytest.approx(float(film.std() / film.mean()), abs=1e-5)


def test_layered_unevenness__crossed_layers_summed_on_a_square() -> None:
    spacing = 2 * (1 - 0.3)
    places = (np.arange(2000) + 0.5) / 2000 * spacing
    layer = np.zeros_like(places)
    for k in range(-4, 5):
        layer += PROFILES["parabolic"](places - k * spacing)
    crossed = layer[:, None] + layer[None, :]
    one = float(layer.std() / layer.mean())
    expected = float(crossed.std() / crossed.mean())
    assert overlapping.layered_unevenness(one, 2) == pytest.approx(expected, rel=1e-9)
    found = overlapping.crossed_unevenness("parabolic", 0.3)
    assert found == pytest.approx(expected, rel=1e-4)
