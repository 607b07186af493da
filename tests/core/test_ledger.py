"""Drums weighed or read before and after; the start of a warm-up fitted with the rest."""

import random

import numpy as np
import pytest
from scipy.optimize import curve_fit

from twodrum.core.inputs import InputError
from twodrum.core.ledger import drum_content
from twodrum.core.ratio import detectable_difference, off_ratio, off_ratio_uncertainty
from twodrum.core.spots import spot_mean
from twodrum.core.warm_up_fit import fit_warm_up, fit_warm_up_and_start


def test_a_drum_by_weight__by_hand() -> None:
    # 26.5 kg off, 1110 kg/m³, empty drum 18.1 kg: 7.5676 L are left.
    assert drum_content(26.5, 18.1, 1110.0) == pytest.approx(0.0075676, abs=1e-7)


def test_off_ratio__by_hand_and_its_uncertainty__reference_pp_rat_lu() -> None:
    assert off_ratio(0.21, 0.20, 1.0, 1.0) == pytest.approx(0.05)
    assert off_ratio(0.42, 0.20, 2.0, 1.0) == pytest.approx(0.05)
    # Reference PP-RAT-LU, computed with the package uncertainties: drops of 100 and 98 mm read
    # to 1.5 mm at each end in drums of 573 ± 1 mm give a ratio of 1.0204 ± 0.0313.
    area = np.pi / 4 * 0.573**2
    volumes = (0.100 * area, 0.098 * area)
    uncertainties = [
        volume * np.hypot(np.sqrt(2) * 0.0015 / drop, 2 * 0.001 / 0.573)
        for volume, drop in zip(volumes, (0.100, 0.098), strict=True)
    ]
    assert off_ratio(*volumes, 1.0, 1.0) + 1 == pytest.approx(1.0204082, rel=1e-6)
    found = off_ratio_uncertainty(*volumes, 1.0, 1.0, *map(float, uncertainties))
    assert found == pytest.approx(0.031333685, rel=1e-3)
    # 1.96 + 1.2816 standard uncertainties: tables of the normal law.
    assert detectable_difference(found, 0.95, 0.9) == pytest.approx(3.2415 * found, rel=1e-4)


def test_a_spot_is_the_mean_of_what_was_read() -> None:
    assert spot_mean(0.002) == 0.002
    assert spot_mean(0.002, None, 0.003) == pytest.approx(0.0025)


CAPACITY, AIR = 4.1e5, 285.15


def heating(time: np.ndarray, power: float, loss: float, start: float) -> np.ndarray:
    end = AIR + power / loss
    return end - (end - start) * np.exp(-loss * time / CAPACITY)


@pytest.mark.parametrize("seed", range(6))
def test_fit_with_its_start__scipy_curve_fit(seed: int) -> None:
    chance = random.Random(seed)
    times = np.arange(0.0, 3601.0, 300.0)
    truth = heating(times, chance.uniform(4000, 6500), chance.uniform(8, 20), 287.15)
    read = [float(value) + chance.gauss(0, 0.3) for value in truth]
    fit = fit_warm_up_and_start(CAPACITY, AIR, list(times), read)
    best, covariance = curve_fit(heating, times, read, p0=(5000, 12, 287), xtol=1e-12, ftol=1e-12)
    errors = np.sqrt(np.diag(covariance))
    assert (fit.power, fit.heat_loss) == pytest.approx((best[0], best[1]), rel=1e-4)
    assert (fit.power_error, fit.heat_loss_error) == pytest.approx((errors[0], errors[1]), rel=1e-3)
    assert fit.degrees_of_freedom == len(read) - 3


def test_a_start_that_is_known_sharpens_the_fit() -> None:
    chance = random.Random(3)
    times = np.arange(0.0, 3601.0, 300.0)
    read = [float(v) + chance.gauss(0, 0.3) for v in heating(times, 5000, 12, 287.15)]
    known = fit_warm_up(CAPACITY, AIR, 287.15, list(times), read)
    fitted = fit_warm_up_and_start(CAPACITY, AIR, list(times), read)
    assert known.power_error < fitted.power_error


def test_a_log_that_does_not_rise_is_refused() -> None:
    with pytest.raises(InputError):
        fit_warm_up_and_start(CAPACITY, AIR, [0, 300, 600, 900, 1200], [290.0] * 5)
