"""Film acceptance: the reference verdicts, scipy's binomial, and what must hold of an aim."""

import math
import random

import pytest
from scipy import stats

from twodrum.core import acceptance, adhesion, air, spots
from twodrum.core.inputs import InputError

N = 0.002
# Reference rows DFT-05a, b, c: readings in µm against a nominal film of 2000 µm.
A = [1700, 1900, *[2200] * 8]
B = [1590, *[2300] * 9]
C = [1900, *[2200] * 9]


def accepted(readings: list[int], strict: bool, highest: float | None = None) -> bool:
    films = [reading * 1e-6 for reading in readings]
    return acceptance.film_is_accepted(films, N, highest, strict)


@pytest.mark.parametrize(
    ("readings", "strict", "verdict"),
    [(A, True, False), (A, False, True), (B, True, False), (B, False, False), (C, True, True)],
    ids=[
        "DFT-05a strict",
        "DFT-05a lenient",
        "DFT-05b strict",
        "DFT-05b lenient",
        "DFT-05c strict",
    ],
)
def test_verdict__reference_dft_05(readings: list[int], strict: bool, verdict: bool) -> None:
    assert accepted(readings, strict) == verdict


def test_verdict__mean_and_maximum_count_too() -> None:
    # Every reading above 80 %, one below nominal, but the mean is 1990 µm.
    assert not accepted([1900, *[2000] * 9], True)
    assert accepted([2000] * 10, True)
    assert not accepted([*[2000] * 9, 6100], True, 3 * N)
    assert accepted([*[2000] * 9, 6000], True, 3 * N)


@pytest.mark.parametrize(
    ("count", "strict", "lenient"), [(5, 0, 1), (10, 1, 2), (20, 3, 4), (30, 5, 6)]
)
def test_allowed_low_readings__reference_section_4(count: int, strict: int, lenient: int) -> None:
    assert acceptance.allowed_low_readings(count) == strict
    assert acceptance.allowed_low_readings(count, strict=False) == lenient


def test_levels__reference_dft_03() -> None:
    low = [spots.lowest_spot(1.0, level) for level in spots.LEVELS]
    high = [spots.highest_spot(1.0, level) for level in spots.LEVELS[:4]]
    assert low == [1.0, 1.0, 0.8, 0.8, 0.8]
    assert high == [1.0, 1.2, 1.2, 1.5]
    with pytest.raises(InputError):
        spots.highest_spot(1.0, "5")


def test_acceptance_probability__200_cases__scipy_multinomial() -> None:
    draw = random.Random(3)
    for _ in range(200):
        mean, spread = draw.uniform(0.9, 1.6), draw.uniform(0.02, 0.3)
        count = draw.choice([5, 10, 20, 30])
        allowed = draw.randint(0, count // 5)
        readings = stats.norm(mean, spread * mean)
        low, far = readings.cdf(1.0) - readings.cdf(0.8), readings.cdf(0.8)
        expected = sum(
            stats.multinomial.pmf(
                [far_count, low_count, count - low_count], count, [far, low, 1 - low - far]
            )
            for far_count in [0]
            for low_count in range(allowed + 1)
        )
        found = acceptance.acceptance_probability(mean, spread, count, allowed)
        assert found == pytest.approx(expected, rel=1e-9, abs=1e-12)


def test_the_aim_passes_as_often_as_it_says__20000_simulated_areas() -> None:
    draw = random.Random(8)
    aim = acceptance.aim_film_factor(0.12, 20, 3, 0.95)
    passed = 0
    for _ in range(20000):
        readings = [draw.gauss(aim, 0.12 * aim) for _ in range(20)]
        passed += acceptance.film_is_accepted([max(0.0, x) for x in readings], 1.0)
    # Binomial: 0.95 with a standard deviation of 0.0015.
    assert passed / 20000 == pytest.approx(0.95, abs=0.007)


def test_so_many_readings_that_terms_underflow__scipy_binomial() -> None:
    # Nearly none is far below: what is left is a binomial law.
    readings = stats.norm(1.1, 0.11)
    low, far = readings.cdf(1.0) - readings.cdf(0.8), readings.cdf(0.8)
    found = acceptance.acceptance_probability(1.1, 0.1, 9000, 1650)
    expected = (1 - far) ** 9000 * stats.binom.cdf(1650, 9000, low / (1 - far))
    assert found == pytest.approx(expected, rel=1e-6)
    assert acceptance.acceptance_probability(0.1, 0.01, 10, 10) == 0
    for spread, count, low, factor in (
        (0.075, 8000, 1599, 1.112409832),
        (0.075, 10000, 1999, 1.1231996),
        (0.05, 10000, 1999, 1.079),
        (0.02, 5000, 999, 1.021),
    ):
        law = stats.norm(factor, spread * factor)
        below, far = law.cdf(1.0), law.cdf(0.8)
        share = (below - far) / (1 - far)
        expected = (1 - far) ** count * stats.binom.cdf(low, count, share)
        found = acceptance.acceptance_probability(factor, spread, count, low)
        assert found == pytest.approx(expected, rel=1e-5)
        assert found <= 1


def test_half_a_reading_is_refused() -> None:
    for count, low in ((10.5, 1), (10, 1.5)):
        with pytest.raises(InputError) as refused:
            acceptance.acceptance_probability(1.05, 0.05, count, low)
        assert refused.value.requirement == "a whole number"


def test_nine_tenths__imo_msc_215_82_and_its_edges() -> None:
    good = acceptance.film_keeps_nine_tenths
    assert good([330e-6] * 9 + [288e-6], 320e-6)
    assert not good([330e-6] * 9 + [287e-6], 320e-6)
    assert not good([330e-6] * 8 + [300e-6] * 2, 320e-6)
    assert good([320e-6], 320e-6)


def test_coefficients_of_the_pipeline_rule__reference_hol_02() -> None:
    # 1250 and 525 V for each root of a mil.
    for film, per_mil in ((2e-3, 1250), (0.5e-3, 525)):
        expected = per_mil * math.sqrt(film / 25.4e-6)
        assert adhesion.spark_voltage_of_pipeline(film) == pytest.approx(expected, rel=5e-5)


@pytest.mark.parametrize(
    ("values", "level", "verdict"),
    [
        # A range of 8 to 12: a mean of 8.36, the lowest spot above 6.4.
        ([6.5, 8.2, 8.0, 9.1, 10.0], "3", True),
        ([6.3, 8.2, 8.0, 9.1, 10.2], "3", False),
        ([6.5, 8.2, 8.0, 9.1, 10.0], "2", False),
        ([8.0, 8.0, 8.0, 8.0, 8.0], "1", True),
        ([7.9, 8.0, 8.0, 8.0, 8.0], "5", False),
        ([8.0, 9.0, 14.4, 9.0, 9.0], "3", True),
        ([8.0, 9.0, 14.5, 9.0, 9.0], "3", False),
        ([8.0, 9.0, 14.5, 9.0, 9.0], "4", True),
        ([12.1] * 5, "3", False),
        ([20.0] * 5, "5", True),
    ],
)
def test_spots__levels_of_reference_dft_03(values: list[float], level: str, verdict: bool) -> None:
    assert spots.spots_are_accepted(values, 8.0, 12.0, level) == verdict
    # Without an upper limit only the lower ones count.
    low = spots.lowest_spot(8.0, level)
    expected = sum(values) / 5 >= 8 - 1e-9 and min(values) >= low - 1e-9
    assert spots.spots_are_accepted(values, 8.0, None, level) == expected


def test_the_pipeline_rule_says_nothing_between_its_branches() -> None:
    with pytest.raises(InputError):
        adhesion.spark_voltage_of_pipeline(1.03e-3)


def test_highest_humidity_and_dew_margin_are_inverse() -> None:
    for celsius in (-5, 5, 20, 40):
        temperature = 273.15 + celsius
        humidity = air.highest_humidity(temperature, temperature - 1, 3.0)
        margin = air.dew_margin(temperature - 1, air.dew_point(temperature, humidity))
        assert margin == pytest.approx(3.0, abs=1e-9)
    assert air.highest_humidity(283.15, 303.15, 3.0) == 1


def test_frost_point_is_below_freezing_only() -> None:
    with pytest.raises(InputError):
        air.frost_point(293.15, 0.9)
    # Frost stands above dew where it is cold: ice holds its water harder.
    assert air.frost_point(263.15, 0.8) > air.dew_point(263.15, 0.8)


def test_more_spread_wants_more_film() -> None:
    aims = [acceptance.aim_film_factor(spread, 10, 1, 0.95) for spread in (0.02, 0.05, 0.1, 0.2)]
    assert aims == sorted(aims)
