"""How sure the litres are: against simulation and against general numerical libraries."""

import math

import numpy as np
import pytest
from scipy import integrate, stats

from twodrum.core.odds import (
    left_over_expected,
    mix_of_sets,
    volume_for_probability,
    volume_suffices,
)

CASES = [
    (1.0, 0.0, 0.25, 0.03, 0.08, 0.05),
    (0.5, 0.04, 0.10, 0.0, 0.2, 0.08),
    (2.0, 0.1, 0.4, 0.1, 0.02, 0.1),
    (1.0, 0.0, 0.25, 0.0, 0.001, 0.0),
    (0.8, 0.02, 0.0, 0.05, 0.15, 0.03),
]


def spread(area: float, film: float) -> float:
    return math.sqrt(math.log1p(area**2) + math.log1p(film**2))


def by_quad(volume: float, *case: float) -> float:
    """P(V <= volume) by scipy's adaptive quadrature over the cut normal law of the loss."""
    film_volume, fixed, loss, area, film, uncertainty = case
    s = spread(area, film)

    def given(share: float) -> float:
        return float(
            stats.lognorm.cdf(
                (volume - fixed) * (1 - share) / film_volume, s, scale=math.exp(-s * s / 2)
            )
        )

    if uncertainty == 0:
        return given(loss)
    low, high = max(0.0, loss - 6 * uncertainty), min(0.9, loss + 6 * uncertainty)
    law = stats.norm(loss, uncertainty)
    weight = law.cdf(high) - law.cdf(low)
    value, _ = integrate.quad(
        lambda share: given(share) * law.pdf(share), low, high, points=[loss], limit=200
    )
    return float(value / weight)


@pytest.mark.parametrize("case", CASES)
@pytest.mark.parametrize("factor", [0.8, 1.0, 1.1, 1.5])
def test_volume_suffices__scipy_quad_and_lognorm(case: tuple[float, ...], factor: float) -> None:
    volume = case[1] + factor * case[0] / (1 - case[2])
    assert volume_suffices(volume, *case) == pytest.approx(by_quad(volume, *case), abs=2e-6)


@pytest.mark.parametrize("case", CASES)
def test_quantile_and_left_over__simulated_2_million_jobs(case: tuple[float, ...]) -> None:
    film_volume, fixed, loss, area, film, uncertainty = case
    random = np.random.default_rng(20261125)
    count = 2_000_000
    s = spread(area, film)
    on_surface = film_volume * np.exp(random.normal(-s * s / 2, s, count))
    low, high = max(0.0, loss - 6 * uncertainty), min(0.9, loss + 6 * uncertainty)
    losses = np.full(count, loss)
    if uncertainty:
        losses = stats.truncnorm.rvs(
            (low - loss) / uncertainty,
            (high - loss) / uncertainty,
            loc=loss,
            scale=uncertainty,
            size=count,
            random_state=random,
        )
    volumes = fixed + on_surface / (1 - losses)
    for probability in (0.5, 0.8, 0.9):
        found = volume_for_probability(probability, *case)
        assert found == pytest.approx(np.quantile(volumes, probability), rel=2e-3)
        assert volume_suffices(found, *case) == pytest.approx(probability, abs=1e-9)
    for factor in (0.9, 1.2):
        volume = fixed + factor * film_volume / (1 - loss)
        left = np.maximum(0.0, volume - volumes)
        doubtful = 5 * left.std() / math.sqrt(count)
        assert left_over_expected(volume, *case) == pytest.approx(left.mean(), abs=doubtful + 1e-9)


def test_left_over_is_the_integral_of_the_chance__scipy_quad() -> None:
    case = CASES[0]
    value, _ = integrate.quad(lambda volume: volume_suffices(volume, *case), 0.0, 1.6, limit=200)
    assert left_over_expected(1.6, *case) == pytest.approx(value, rel=1e-7)


def test_mix_of_sets__the_side_that_ends_first_decides__hand_worked() -> None:
    # 2:1 from drums of 200 L usable: 3 sets are 600 L of each; iso ends at 900 L of mix.
    assert mix_of_sets(3, 0.205, 0.005, 0, 2, 0.205, 0.005, 0, 1) == pytest.approx(0.9)
    assert mix_of_sets(0, 0.205, 0.005, 0.05, 1, 0.205, 0.005, 0.2, 1) == pytest.approx(0.1)
