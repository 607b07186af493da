"""Uncertainty: both examples of the guide, and the library uncertainties over random sweeps."""

import math
import random

import pytest
from uncertainties import covariance_matrix, ufloat
from uncertainties.core import correlated_values

from twodrum.core import quantiles, ratio, reconcile, uncertainty, used_volume
from twodrum.core.inputs import InputError

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


def test_h_2__values_uncertainties_and_correlations_of_the_guide() -> None:
    assert Z * math.cos(PHASE) == pytest.approx(127.732, abs=0.006)
    assert Z * math.sin(PHASE) == pytest.approx(219.85, abs=0.006)
    assert pytest.approx(254.26, abs=0.006) == Z
    u = {
        name: uncertainty.propagated_uncertainty(slopes, UNCERTAIN, TOGETHER)
        for name, slopes in SLOPES.items()
    }
    assert u["R"] == pytest.approx(0.07, abs=0.005)
    assert u["X"] == pytest.approx(0.30, abs=0.005)
    assert u["Z"] == pytest.approx(0.24, abs=0.005)
    # -0.588, -0.485 and 0.993 in the guide's table (from memory), -0.59, -0.49 and 0.99 seen.
    for pair, expected in (("RX", -0.588), ("RZ", -0.485), ("XZ", 0.993)):
        first, second = SLOPES[pair[0]], SLOPES[pair[1]]
        together = uncertainty.propagated_covariance(first, second, UNCERTAIN, TOGETHER)
        assert together / (u[pair[0]] * u[pair[1]]) == pytest.approx(expected, abs=0.01)


def test_h_1__end_gauge__length_uncertainty_and_expanded_uncertainty() -> None:
    # Means: l = l_s + d, expansion and temperature differences 0. Lengths in nm (l_s 50 mm).
    standard, difference = 50_000_623.0, 215.0
    assert standard + difference == 50_000_838
    # Sensitivities to l_s, d, δα and δθ: 1, 1, -l_s θ, -l_s α; θ = -0.1 K, α = 11.5e-6/K.
    slopes = [1.0, 1.0, -standard * -0.1, -standard * 11.5e-6]
    inputs = [25.0, 9.7, 0.58e-6, 0.029]
    found = uncertainty.propagated_uncertainty(slopes, inputs)
    assert found == pytest.approx(32, abs=0.5)
    parts = [abs(slope) * u for slope, u in zip(slopes, inputs, strict=True)]
    freedom = uncertainty.effective_degrees_of_freedom(parts, [18, 25.6, 50, 2])
    assert freedom == pytest.approx(16.75, abs=0.1)
    # Truncated to 16; expanded for 99 %: 93 nm (from memory).
    assert quantiles.t_quantile(0.995, 16) * found == pytest.approx(93, abs=1)


def test_propagated_uncertainty__200_products__library_uncertainties() -> None:
    for _ in range(200):
        values = [DRAW.uniform(1, 9) for _ in range(3)]
        u = [DRAW.uniform(0.001, 0.3) for _ in range(3)]
        a, b = DRAW.uniform(-0.5, 0.5), DRAW.uniform(-0.5, 0.5)
        r = [[1, a, b], [a, 1, a * b], [b, a * b, 1]]
        covariance = [[r[i][k] * u[i] * u[k] for k in range(3)] for i in range(3)]
        x, y, z = correlated_values(values, covariance)
        first, second = x * y / z, x - 2 * z
        slopes = [values[1] / values[2], values[0] / values[2]]
        slopes.append(-values[0] * values[1] / values[2] ** 2)
        correlations = [a, b, a * b]
        found = uncertainty.propagated_uncertainty(slopes, u, correlations)
        assert found == pytest.approx(first.std_dev, rel=1e-7)
        together = uncertainty.propagated_covariance(slopes, [1, 0, -2], u, correlations)
        expected = covariance_matrix([first, second])[0][1]
        assert together == pytest.approx(expected, rel=1e-6, abs=1e-12)


def test_correlations_that_contradict_each_other_are_refused() -> None:
    with pytest.raises(InputError) as refused:
        uncertainty.propagated_uncertainty([1, 1, 1], [1, 1, 1], [-1, -1, -1])
    for contradicting in ([1, 1, -1], [0.9, 0.9, -0.9]):
        with pytest.raises(InputError):
            uncertainty.propagated_covariance([1, 1, 1], [1, 0, 1], [1, 1, 1], contradicting)
    assert uncertainty.propagated_uncertainty([1, 1, 1], [1, 1, 1], [1, 1, 1]) == 3.0
    assert "in agreement with each other" in str(refused.value)
    with pytest.raises(InputError):
        reconcile.combined_correlated([1, 2, 3], [1, 2, 0, 2, 1, 0, 0, 0, 1])
    with pytest.raises(InputError):
        reconcile.combined_correlated([1, 2], [1, 0.5, 0.4, 1])


def test_combined_correlated__without_correlation_it_is_the_weighted_mean() -> None:
    for _ in range(50):
        values = [DRAW.uniform(390, 420) for _ in range(3)]
        u = [DRAW.uniform(1, 9) for _ in range(3)]
        matrix = [u[i] ** 2 if i == k else 0.0 for i in range(3) for k in range(3)]
        mean, error = reconcile.combined_correlated(values, matrix)
        plain = reconcile.combined(values, u)
        assert mean == pytest.approx(plain.value, rel=1e-12)
        assert error == pytest.approx(plain.uncertainty, rel=1e-12)


def test_combined_correlated__sizes_play_no_part() -> None:
    mean, error = reconcile.combined_correlated([1.0, 2.0], [1e-8, 0.0, 0.0, 1e8])
    assert mean == pytest.approx(1.0)
    assert error == pytest.approx(1e-4)


def test_combined_correlated__a_shared_part_covers_the_truth__4000_sets() -> None:
    held = 0
    for _ in range(4000):
        shared = DRAW.gauss(0, 3)
        values = [400 + shared + DRAW.gauss(0, 4), 400 + shared + DRAW.gauss(0, 2)]
        values.append(400 + DRAW.gauss(0, 5))
        matrix = [25.0, 9.0, 0.0, 9.0, 13.0, 0.0, 0.0, 0.0, 25.0]
        mean, error = reconcile.combined_correlated(values, matrix)
        held += abs(mean - 400) <= 1.959964 * error
    # Exact: 3800 expected, the standard deviation is 14.
    assert abs(held - 3800) <= 60


def test_used_volumes_and_their_doubt__200_cases__library_uncertainties() -> None:
    for _ in range(200):
        diameter, drop = DRAW.uniform(0.3, 0.9), DRAW.uniform(0.05, 0.8)
        u_d, u_h = DRAW.uniform(1e-4, 3e-3), DRAW.uniform(1e-4, 3e-3)
        top, bottom = ufloat(drop + 0.1, u_h), ufloat(0.1, u_h)
        expected = math.pi / 4 * ufloat(diameter, u_d) ** 2 * (top - bottom)
        found = used_volume.volume_from_level(diameter, drop)
        assert found == pytest.approx(expected.nominal_value, rel=1e-12)
        found = used_volume.volume_uncertainty_from_level(diameter, drop, u_d, u_h)
        assert found == pytest.approx(expected.std_dev, rel=1e-9)

        mass, density = DRAW.uniform(10, 900), DRAW.uniform(900, 1300)
        weighed = ufloat(mass, 0.5) / ufloat(density, 5)
        found = used_volume.volume_uncertainty_from_weight(mass, density, 0.5, 5)
        assert found == pytest.approx(weighed.std_dev, rel=1e-9)

        strokes, stroke = DRAW.uniform(10, 3000), DRAW.uniform(5e-5, 4e-4)
        counted = ufloat(strokes, 1) * ufloat(stroke, 4e-6)
        found = used_volume.volume_uncertainty_from_strokes(strokes, stroke, 1, 4e-6)
        assert found == pytest.approx(counted.std_dev, rel=1e-9)
        assert used_volume.volume_from_strokes(strokes, stroke) == pytest.approx(
            counted.nominal_value
        )


def test_ratio_and_yield_and_their_doubt__200_cases__library_uncertainties() -> None:
    for _ in range(200):
        iso, resin = DRAW.uniform(50, 250), DRAW.uniform(50, 250)
        densities = DRAW.uniform(1080, 1250), DRAW.uniform(950, 1100)
        u_m, share = DRAW.uniform(0.01, 2), DRAW.uniform(1e-4, 0.01)
        expected = (ufloat(iso, u_m) / ufloat(densities[0], share * densities[0])) / (
            ufloat(resin, u_m) / ufloat(densities[1], share * densities[1])
        )
        args = (iso, densities[0], resin, densities[1])
        assert ratio.ratio_from_weights(*args) == pytest.approx(expected.nominal_value)
        found = ratio.ratio_uncertainty_from_weights(*args, u_m, share)
        assert found == pytest.approx(expected.std_dev, rel=1e-9)

        drops = DRAW.uniform(0.05, 0.6), DRAW.uniform(0.05, 0.6)
        levels = [ufloat(drop + 0.1, 0.0015) - ufloat(0.1, 0.0015) for drop in drops]
        wide = [ufloat(0.573, 0.001) for _ in range(2)]
        measured = levels[0] * wide[0] ** 2 / (levels[1] * wide[1] ** 2)
        args = (drops[0], 0.573, drops[1], 0.573)
        found = ratio.ratio_uncertainty_from_levels(*args, 0.0015, 0.001)
        assert found == pytest.approx(measured.std_dev, rel=1e-9)

        strokes = DRAW.uniform(100, 3000), DRAW.uniform(100, 3000)
        moved = (ufloat(strokes[0], 1) * ufloat(0.25, 0.016 * 0.25)) / (
            ufloat(strokes[1], 1) * ufloat(0.25, 0.016 * 0.25)
        )
        args = (strokes[0], 0.25e-3, strokes[1], 0.25e-3)
        assert ratio.ratio_from_strokes(*args) == pytest.approx(moved.nominal_value)
        found = ratio.ratio_uncertainty_from_strokes(*args, 1, 0.016)
        assert found == pytest.approx(moved.std_dev, rel=1e-9)

        parts = ufloat(180, 2), ufloat(0.00205, 6e-5), ufloat(0.4, 0.002)
        share_left = parts[0] * parts[1] / parts[2]
        found = used_volume.transfer_yield_uncertainty(180, 0.00205, 1, 0.4, 2, 6e-5, 0.002)
        assert found == pytest.approx(share_left.std_dev, rel=1e-9)
        assert used_volume.transfer_yield(180, 0.00205, 1, 0.4) == pytest.approx(
            share_left.nominal_value
        )


def test_detectable_difference_is_found_as_often_as_it_says__20000_measurements() -> None:
    true = ratio.detectable_difference(0.03, 0.95, 0.9)
    # Reference, section on the ratio: 3.24 times the uncertainty.
    assert true == pytest.approx(3.2415 * 0.03, rel=1e-4)
    found = sum(abs(DRAW.gauss(true, 0.03)) > 1.959964 * 0.03 for _ in range(20000))
    assert found / 20000 == pytest.approx(0.9, abs=0.009)
