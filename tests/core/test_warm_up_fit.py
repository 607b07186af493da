"""A log of a warm-up: the reference example, a simulation, logs that say nothing."""

import math
import random
from collections.abc import Sequence

import pytest

from twodrum.core.heating import warm_up_temperature
from twodrum.core.inputs import InputError
from twodrum.core.warm_up_fit import WarmUpFit, fit_warm_up

CAPACITY, AIR, START = 411707.0, 285.15, 287.15
# Reference rows CAL-A and CAL-B: computed with scipy.optimize.curve_fit from this log.
READ = [13.9, 17.6, 21.9, 25.7, 29.2, 33.1, 36.2, 40.2, 44.1, 47.8, 51.2, 54.5, 58.1]
HEATING = [(300.0 * index, 273.15 + celsius) for index, celsius in enumerate(READ)]
LATER = (3600, 7200, 14400, 21600, 28800, 36000, 43200)
COOLING = [
    (float(time), 273.15 + celsius)
    for time, celsius in zip(LATER, (53.0, 47.8, 40.7, 34.1, 29.1, 25.3, 22.3), strict=True)
]
Log = Sequence[tuple[float, float]]


def unzipped(log: Log) -> tuple[list[float], list[float]]:
    return [time for time, _ in log], [temperature for _, temperature in log]


def test_fit__heating_alone__reference_cal_a() -> None:
    fit = fit_warm_up(CAPACITY, AIR, START, *unzipped(HEATING))
    assert fit.power == pytest.approx(5353.484, rel=1e-3)
    assert fit.power_error == pytest.approx(54.690809, rel=1e-2)
    assert fit.heat_loss == pytest.approx(12.53, abs=0.02)
    assert fit.heat_loss_error == pytest.approx(2.69, abs=0.02)


def test_fit__heating_and_cooling__reference_cal_b() -> None:
    fit = fit_warm_up(CAPACITY, AIR, START, *unzipped(HEATING), *unzipped(COOLING))
    assert fit.power == pytest.approx(5390.4637, rel=1e-3)
    assert fit.power_error == pytest.approx(13.392853, rel=1e-2)
    assert fit.heat_loss == pytest.approx(14.088, abs=0.001)
    assert fit.heat_loss_error == pytest.approx(0.10025794, rel=1e-2)
    assert fit.power_interval() == pytest.approx((5362.3263, 5418.601), rel=1e-2)
    low, high = fit.heat_loss_interval()
    assert low == pytest.approx(13.877231, rel=1e-2)
    assert high == pytest.approx(14.30, abs=0.01)


def test_a_short_noisy_log_is_not_refused__reference_by_curve_fit() -> None:
    # scipy.optimize.curve_fit: 4889.4 W and -7.77 W/K, too short to tell the loss.
    read = [283.21, 286.82, 290.90, 294.30, 297.62, 301.67, 305.71]
    times = [300.0 * index for index in range(7)]
    fit = fit_warm_up(4e5, 283.15, 283.15, times, read)
    assert fit.power == pytest.approx(4889.414, abs=0.05)
    assert fit.heat_loss == pytest.approx(-7.766, abs=0.002)
    with pytest.raises(InputError):
        fit_warm_up(4e5, 283.15, 283.15, times[::-1], read[::-1])


def test_a_drum_of_no_heat_capacity_is_refused() -> None:
    with pytest.raises(InputError) as refused:
        fit_warm_up(1e-6, AIR, START, *unzipped(HEATING), *unzipped(COOLING))
    assert "of a log that one power and loss explain" in str(refused.value)


def simulated(seed: int) -> WarmUpFit:
    draw = random.Random(seed)

    def read(time: float) -> float:
        drum = (CAPACITY, 14.0, 5400.0, 1e6, 400.0, AIR, START)
        return warm_up_temperature(*drum, time) + draw.gauss(0, 0.3)

    log = [(300.0 * index, read(300.0 * index)) for index in range(1, 13)]
    return fit_warm_up(CAPACITY, AIR, START, *unzipped(log))


def test_intervals_hold_the_truth_about_as_often_as_they_say__300_logs() -> None:
    # Binomial: 285 of 300 expected, 4 standard deviations of 3.8 either way.
    held = [fit.power_interval() for fit in map(simulated, range(300))]
    assert 270 <= sum(low <= 5400 <= high for low, high in held) <= 300
    held = [fit.heat_loss_interval() for fit in map(simulated, range(300))]
    assert 270 <= sum(low <= 14 <= high for low, high in held) <= 300


@pytest.mark.parametrize(
    "log",
    [
        HEATING[:4],
        [(0.0, 300.0)] * 6,
        [(300.0 * index, 287.15) for index in range(8)],
        [(300.0 * index, 287.15 - index) for index in range(8)],
        [(300.0 * index, float("nan")) for index in range(8)],
        list(zip((8e3, 23e3, 34e3, 37e3, 58e3), (371, 398, 266, 253, 370), strict=True)),
        list(zip((0, 2e3, 4e3, 6e3, 19e3), (387, 258, 300, 354, 324), strict=True)),
    ],
    ids=["too few", "one time", "flat", "falling", "not a number", "up and down", "at random"],
)
def test_a_log_that_says_nothing_is_refused(log: Log) -> None:
    with pytest.raises(InputError):
        fit_warm_up(CAPACITY, AIR, START, *unzipped(log))


def test_uncertainties_that_no_reading_shows_are_added_as_squares__jcgm_100() -> None:
    times = [float(time) for time in range(0, 3601, 600)]
    read = [283.15 + 5000 / 12 * -math.expm1(-12 * time / 4e5) for time in times]
    fit = fit_warm_up(4e5, 283.15, 283.15, times, read)
    power, loss = fit.reach(0.03, 0.0)
    assert (power, loss) == pytest.approx((0.03 * 1.959964 * 5000, 0.03 * 1.959964 * 12), rel=1e-5)
    # Air that goes up with the drum by 4 K hides 4 K of its rise.
    _, wider = fit.reach(0.0, 4.0)
    assert wider == pytest.approx(12 * 4 / (read[-1] - read[0]), rel=1e-5)
