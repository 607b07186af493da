"""Heat loss of a drum against the library ht, dew point against metpy, over random sweeps."""

import math
import random

import pytest
from ht import Nu_cylinder_Churchill_Bernstein
from ht.conv_free_immersed import Nu_vertical_plate_Churchill
from ht.radiation import q_rad

from twodrum.core import air, losses

RANDOM = random.Random(11)
SIDES = [
    (RANDOM.uniform(250, 310), RANDOM.uniform(2, 50), RANDOM.uniform(0.3, 1.5)) for _ in range(100)
]


def ideal_air(temperature: float) -> tuple[float, float, float]:
    """Conductivity, kinematic viscosity and Prandtl number of dry air: 250 to 350 K, straight
    lines through Incropera and DeWitt, table A.4 (250, 300, 350 K), from memory."""
    points = ((250.0, 22.3e-3, 11.44e-6, 0.720), (300.0, 26.3e-3, 15.89e-6, 0.707))
    points += ((350.0, 30.0e-3, 20.92e-6, 0.700),)
    low, high = (points[0], points[1]) if temperature < 300 else (points[1], points[2])
    share = (temperature - low[0]) / (high[0] - low[0])
    k, nu, pr = (a + share * (b - a) for a, b in zip(low[1:], high[1:], strict=True))
    return k, nu, pr


def test_bare_drum_heat_loss_in_still_air__100_drums__ht_churchill_chu_and_mcadams() -> None:
    # Air's properties come from two sources, straight lines and Sutherland's laws: 2 %.
    for around, above, size in SIDES:
        wall = around + above
        film = (around + wall) / 2
        k, nu, pr = ideal_air(film)
        diameter, height = 0.6 * size, size
        grashof = 9.80665 / film * above * height**3 / nu**2
        side = Nu_vertical_plate_Churchill(pr, grashof) * k / height
        rayleigh = 9.80665 / film * above * (diameter / 4) ** 3 / nu**2 * pr
        nusselt = 0.54 * rayleigh**0.25 if rayleigh < 1e7 else 0.15 * rayleigh ** (1 / 3)
        radiated = q_rad(0.9, wall, around) / above
        expected = math.pi * diameter * height * (side + radiated)
        expected += math.pi * diameter**2 / 4 * (nusselt * k / (diameter / 4) + radiated)
        found = losses.bare_drum_heat_loss(wall, around, 0.0, 0.9, diameter, height)
        assert found == pytest.approx(expected, rel=0.02)


def test_wind_on_a_drum__ht_churchill_bernstein() -> None:
    # Without top and radiation and with a strong wind only the cross flow is left: 3 %, half of
    # it from the air's properties, half from the free convection that is still joined in.
    for around, above, size in SIDES:
        k, nu, pr = ideal_air(around + above / 2)
        diameter, height = 0.5 * size, 2.0 * size
        expected = Nu_cylinder_Churchill_Bernstein(20.0 * diameter / nu, pr) * k / diameter
        flat = losses.bare_drum_heat_loss(around + above, around, 20.0, 0.0, diameter, height)
        tall = losses.bare_drum_heat_loss(around + above, around, 20.0, 0.0, diameter, 2 * height)
        side = (tall - flat) / (math.pi * diameter * height)
        assert side == pytest.approx(expected, rel=0.03)


def test_a_thin_cover_that_conducts_well_changes_nothing() -> None:
    bare = losses.covered_drum_heat_loss(318.15, 293.15, 0, 0.9, 0.573, 0.851, 30.0, 0.0, 0.04)
    thin = losses.covered_drum_heat_loss(318.15, 293.15, 0, 0.9, 0.573, 0.851, 30.0, 1e-6, 400.0)
    assert thin == pytest.approx(bare, rel=1e-4)


def test_a_thicker_cover_loses_less() -> None:
    def loss(thickness: float) -> float:
        drum = (318.15, 283.15, 1.0, 0.9, 0.573, 0.851, 30.0, thickness, 0.04)
        return losses.covered_drum_heat_loss(*drum)

    found = [loss(thickness) for thickness in (0.0, 0.01, 0.025, 0.05, 0.1)]
    assert found == sorted(found, reverse=True)


def test_dew_point__200_climates__metpy() -> None:
    # It takes a second to load: by the worker that asks.
    from metpy.calc import dewpoint_from_relative_humidity
    from metpy.units import units

    # metpy inverts Bolton 1980, made for up to 35 °C, we WMO-No. 8: 0.1 K over liquid water.
    for _ in range(200):
        celsius, humidity = RANDOM.uniform(0, 35), RANDOM.uniform(0.2, 1.0)
        expected = dewpoint_from_relative_humidity(units.Quantity(celsius, "degC"), humidity)
        found = air.dew_point(celsius + 273.15, humidity) - 273.15
        if expected.to("degC").magnitude > 0:
            assert abs(found - expected.to("degC").magnitude) < 0.1
