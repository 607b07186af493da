"""Uncertainty: both examples of the guide, and the library uncertainties over random sweeps."""

import math
import random

import pytest
from uncertainties import ufloat

from twodrum.core import ratio, used_volume

DRAW = random.Random(31)

# JCGM 100:2008, H.2: means, standard uncertainties and correlations of V, I and φ.
V, CURRENT, PHASE = 4.999, 0.019661, 1.04446
UNCERTAIN = [0.0032, 9.5e-6, 7.5e-4]
TOGETHER = [-0.36, 0.86, -0.65]
Z = V / CURRENT
SLOPES = {
    "R": [math.cos(PHASE) / CURRENT, -Z * math.cos(PHASE) / CURRENT, -Z * math.sin(PHASE)],
    "X": [math.sin(PHASE) / CURRENT, -Z * math.sin(PHASE) / CURRENT, Z * math.cos(PHASE)],
    "Z": [1 / CURRENT, -Z / CURRENT, 0.0],
}


def test_detectable_difference_is_found_as_often_as_it_says__20000_measurements() -> None:
    true = ratio.detectable_difference(0.03, 0.95, 0.9)
    # Reference, section on the ratio: 3.24 times the uncertainty.
    assert true == pytest.approx(3.2415 * 0.03, rel=1e-4)
    found = sum(abs(DRAW.gauss(true, 0.03)) > 1.959964 * 0.03 for _ in range(20000))
    assert found / 20000 == pytest.approx(0.9, abs=0.009)


def test_used_volumes__200_cases__written_out() -> None:
    for _ in range(200):
        diameter, drop = DRAW.uniform(0.3, 0.9), DRAW.uniform(0.05, 0.8)
        expected = math.pi / 4 * diameter**2 * drop
        found = used_volume.volume_from_level(diameter, drop)
        assert found == pytest.approx(expected, rel=1e-12)
        strokes, stroke = DRAW.uniform(10, 3000), DRAW.uniform(5e-5, 4e-4)
        assert used_volume.volume_from_strokes(strokes, stroke) == pytest.approx(strokes * stroke)


def test_ratio_and_yield__200_cases__library_uncertainties() -> None:
    for _ in range(200):
        iso, resin = DRAW.uniform(50, 250), DRAW.uniform(50, 250)
        densities = DRAW.uniform(1080, 1250), DRAW.uniform(950, 1100)
        u_m, share = DRAW.uniform(0.01, 2), DRAW.uniform(1e-4, 0.01)
        expected = (ufloat(iso, u_m) / ufloat(densities[0], share * densities[0])) / (
            ufloat(resin, u_m) / ufloat(densities[1], share * densities[1])
        )
        args = (iso, densities[0], resin, densities[1])
        assert ratio.ratio_from_weights(*args) == pytest.approx(expected.nominal_value)

        drops = DRAW.uniform(0.05, 0.6), DRAW.uniform(0.05, 0.6)
        levels = [ufloat(drop + 0.1, 0.0015) - ufloat(0.1, 0.0015) for drop in drops]
        wide = [ufloat(0.573, 0.001) for _ in range(2)]
        measured = levels[0] * wide[0] ** 2 / (levels[1] * wide[1] ** 2)
        args = (drops[0], 0.573, drops[1], 0.573)
        assert ratio.ratio_from_levels(*args) == pytest.approx(measured.nominal_value)

        strokes = DRAW.uniform(100, 3000), DRAW.uniform(100, 3000)
        moved = (ufloat(strokes[0], 1) * ufloat(0.25, 0.016 * 0.25)) / (
            ufloat(strokes[1], 1) * ufloat(0.25, 0.016 * 0.25)
        )
        args = (strokes[0], 0.25e-3, strokes[1], 0.25e-3)
        assert ratio.ratio_from_strokes(*args) == pytest.approx(moved.nominal_value)

        parts = ufloat(180, 2), ufloat(0.00205, 6e-5), ufloat(0.4, 0.002)
        share_left = parts[0] * parts[1] / parts[2]
        assert used_volume.transfer_yield(180, 0.00205, 1, 0.4) == pytest.approx(
            share_left.nominal_value
        )
