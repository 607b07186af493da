"""Formulas against general reference libraries, over random sweeps."""

import math
import random

import psychrolib
import pytest
from fluids.geometry import SA_ellipsoidal_head, SA_torispheroidal
from scipy.integrate import quad
from scipy.special import ellipe

from twodrum.core import air, heads, sections, vessels

psychrolib.SetUnitSystem(psychrolib.SI)
RANDOM = random.Random(7)
CLIMATES = [(RANDOM.uniform(1, 40), RANDOM.uniform(0.3, 0.99)) for _ in range(200)]


def test_dew_point__200_climates__psychrolib_ashrae_2017() -> None:
    # Above 0 °C both are over liquid water. WMO's Magnus formula and ASHRAE's differ by
    # less than 0.1 K there; below, psychrolib gives the frost point.
    compared = 0
    for celsius, humidity in CLIMATES:
        expected = psychrolib.GetTDewPointFromRelHum(celsius, humidity)
        if expected > 0:
            found = air.dew_point(celsius + 273.15, humidity) - 273.15
            assert abs(found - expected) < 0.1
            compared += 1
    assert compared > 100


def test_vapour_pressure__200_climates__psychrolib_ashrae_2017() -> None:
    # The two approximations of saturation differ by up to 0.3 % between 1 and 40 °C.
    for celsius, humidity in CLIMATES:
        expected = psychrolib.GetSatVapPres(celsius) * humidity
        assert air.vapour_pressure(celsius + 273.15, humidity) == pytest.approx(expected, rel=3e-3)


def test_torispherical_head_area__200_heads__fluids() -> None:
    for _ in range(200):
        diameter = RANDOM.uniform(0.3, 6)
        crown, knuckle = RANDOM.uniform(0.55, 1.2), RANDOM.uniform(0.02, 0.3)
        expected = SA_torispheroidal(diameter, crown, knuckle)
        found = heads.torispherical_head_area(diameter, crown * diameter, knuckle * diameter)
        assert found == pytest.approx(expected, rel=1e-9)


def test_ellipsoidal_head_area__200_heads__fluids() -> None:
    for _ in range(200):
        diameter = RANDOM.uniform(0.3, 6)
        expected = SA_ellipsoidal_head(diameter, diameter / 4)
        assert heads.ellipsoidal_head_area(diameter) == pytest.approx(expected, rel=1e-9)


def test_sinusoidal_sheet_factor__200_sheets__scipy_ellipe() -> None:
    for _ in range(200):
        pitch, depth = RANDOM.uniform(0.01, 1), RANDOM.uniform(0, 0.5)
        k = math.pi * depth / pitch
        expected = 2 / math.pi * math.sqrt(1 + k * k) * ellipe(k * k / (1 + k * k))
        assert sections.sinusoidal_sheet_factor(pitch, depth) == pytest.approx(expected, rel=1e-12)


@pytest.mark.parametrize(("diameter", "other", "height"), [(3.0, 0.8, 1.2), (2.0, 2.0, 1.0)])
def test_frustum_area__surface_integral__scipy_quad(
    diameter: float, other: float, height: float
) -> None:
    slope = (other - diameter) / 2 / height

    def ring(z: float) -> float:
        return 2 * math.pi * (diameter / 2 + slope * z) * math.hypot(1, slope)

    expected, _ = quad(ring, 0, height)
    assert vessels.frustum_area(diameter, other, height) == pytest.approx(expected, rel=1e-12)


def test_dew_margin__hand_worked_from_wmo_dew_points() -> None:
    # Dew point 6.7060 °C at 10 °C and 80 % (WMO-No. 8, computed independently): 9.8 °C is 3.0940 K.
    margin = air.dew_margin(273.15 + 9.8, air.dew_point(283.15, 0.80))
    assert margin == pytest.approx(3.0940, abs=2e-4)
    margin = air.dew_margin(293.15, air.dew_point(293.15, 0.85))
    assert margin == pytest.approx(2.6006, abs=2e-4)
    margin = air.dew_margin(300.15, air.dew_point(303.15, 0.70))
    assert margin == pytest.approx(3.0728, abs=2e-4)
    margin = air.dew_margin(283.15, air.dew_point(278.15, 0.86))
    assert margin == pytest.approx(7.1488, abs=2e-4)


def test_frost_point__100_climates__psychrolib_ashrae_2017() -> None:
    # At the frost point the library's saturation over ice is the vapour pressure that there is.
    for _ in range(100):
        celsius, humidity = RANDOM.uniform(-25, -1), RANDOM.uniform(0.4, 0.8)
        pressure = air.vapour_pressure(celsius + 273.15, humidity)
        found = air.frost_point(celsius + 273.15, humidity) - 273.15
        assert psychrolib.GetSatVapPres(found) == pytest.approx(pressure, rel=1e-3)
