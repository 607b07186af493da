"""Edges of the formulas: nothing heats, no losses, warm already, ends of a window."""

import math
from decimal import Decimal

import pytest
from scipy.integrate import solve_ivp

from twodrum.core import air, balance, density, heating, hose, mix, supply, takeoff, viscosity
from twodrum.core.inputs import InputError
from twodrum.core.rounding import exact

CAPACITY, RATE = 411707.0, 134.4
RESIN = (298.15, 0.6, 338.15, 0.045)


def test_warm_up_limit__nothing_heats_no_losses_and_warm_air() -> None:
    assert heating.warm_up_limit(12.0, 0.0, RATE, 348.15, 288.15) == 288.15
    assert heating.warm_up_limit(12.0, 6000.0, 0.0, 348.15, 288.15) == 288.15
    assert heating.warm_up_limit(0.0, 6000.0, RATE, 348.15, 288.15) == 348.15
    assert heating.warm_up_limit(12.0, 6000.0, RATE, 293.15, 303.15) == 303.15


@pytest.mark.parametrize("power", [0.0, 500.0, 6000.0])
def test_air_warmer_than_the_set_point__scipy_dop853(power: float) -> None:
    drum = (CAPACITY, 12.0, power, RATE, 293.15, 303.15, 278.15)

    def slope(_time: float, t: list[float]) -> list[float]:
        heat = max(0.0, min(power, RATE * (293.15 - t[0])))
        return [(heat - 12.0 * (t[0] - 303.15)) / CAPACITY]

    def reached(_time: float, t: list[float]) -> float:
        return t[0] - 299.15

    solved = solve_ivp(
        slope,
        (0, 3e5),
        [278.15],
        "DOP853",
        rtol=1e-11,
        atol=1e-10,
        max_step=50,
        events=reached,
        dense_output=True,
    )
    expected = float(solved.t_events[0][0])
    assert heating.warm_up_time(*drum, 299.15) == pytest.approx(expected, rel=1e-6)
    for time in (100.0, 2000.0, 20000.0, 100000.0):
        found = heating.warm_up_temperature(*drum, time)
        assert found == pytest.approx(float(solved.sol(time)[0]), abs=2e-5)


def test_a_drum_without_heater_and_losses_never_warms() -> None:
    with pytest.raises(InputError) as refused:
        heating.warm_up_time(CAPACITY, 0.0, 0.0, RATE, 348.15, 303.15, 280.15, 290.15)
    assert refused.value.bound == 280.15
    assert heating.warm_up_temperature(
        CAPACITY, 0.0, 0.0, RATE, 348.15, 303.15, 280.15, 1e6
    ) == pytest.approx(280.15)


def test_warm_already_takes_no_time() -> None:
    drum = (CAPACITY, 12.0, 6000.0, RATE)
    assert heating.warm_up_time(*drum, 348.15, 288.15, 330.0, 323.15) == 0
    shared = (*drum, *drum, 5000.0, 348.15, 288.15, 330.0, 323.15)
    assert supply.shared_warm_up_time(*shared) == 0
    assert hose.hose_warm_up_time(700.0, 40.0, 0.6, 288.15, 330.0, 323.15) == 0


def test_without_losses_power_over_capacity() -> None:
    assert heating.power_for_warm_up(1000.0, 0.0, 290.0, 290.0, 300.0, 10.0) == 1000.0
    assert hose.hose_warm_up_time(700.0, 35.0, 0.0, 290.0, 290.0, 300.0) == 200.0
    assert heating.cool_down_temperature(1000.0, 0.0, 5.0, 0.0, 290.0, 300.0, 10.0) == 300.0


def test_shared_course_ends_at_the_shared_time() -> None:
    drum = supply.Drum(CAPACITY, 12.0, 7000.0, RATE, 348.15)
    other = supply.Drum(412507.0, 12.0, 7000.0, 134.66667, 348.15)
    time = supply.shared_warm_up_time(*drum[:4], *other[:4], 9500.0, 348.15, 283.15, 283.15, 323.15)
    course = supply.shared_course(drum, other, 9500.0, 283.15, 283.15, [0.0, time / 2, time])
    assert course[0] == (283.15, 283.15)
    assert course[2][0] == pytest.approx(323.15, abs=2e-3)


def test_a_drum_handed_back_leaves_more_for_the_other() -> None:
    drum = (CAPACITY, 12.0, 7000.0, RATE)
    common = (*drum, *drum, 7000.0, 348.15, 283.15, 283.15, 323.15)
    both = supply.shared_warm_up_time(*common)
    early = supply.shared_warm_up_time(*common, 348.15, 293.15, 200.0)
    alone = heating.warm_up_time(*drum, 348.15, 283.15, 283.15, 323.15)
    assert alone < early < both


def test_viscosity_at__three_points_and_half_a_point() -> None:
    three = viscosity.viscosity_at(323.15, 293.15, 1.41, 313.15, 0.284, 333.15, 0.0813)
    # Reference VISC-VFT-50.
    assert three == pytest.approx(0.14653544, rel=1e-5)
    for half in ((348.15, None), (None, 0.03)):
        with pytest.raises(InputError) as refused:
            viscosity.viscosity_at(328.15, *RESIN, *half)
        assert refused.value.requirement == "given"
    # Points that bend the other way: the outer two serve.
    bent = viscosity.viscosity_at(313.15, 293.15, 1.0, 313.15, 0.9, 333.15, 0.1)
    outer = viscosity.viscosity_from_two_points(313.15, 293.15, 1.0, 333.15, 0.1)
    assert bent == outer


def test_below_freezing_frost_decides_about_the_weather() -> None:
    # -10 °C and 80 %: dew point -12.80 °C, frost point -11.39 °C.
    given = (263.15, 0.80, 263.65, 3.0, 0.85)
    assert not air.weather_keeps_limits(*given)
    assert air.weather_keeps_limits(263.15, 0.80, 264.85, 3.0, 0.85)


def test_no_liquid_shrinks_to_nothing() -> None:
    with pytest.raises(InputError):
        density.density_at_temperature(1000.0, 0.005, 200.0, 450.0)


def test_trim_temperature_stays_inside_its_window() -> None:
    assert balance.trim_temperature(0.08, 330.0, 343.15, *RESIN) == 330.0
    assert balance.trim_temperature(0.08, 310.0, 320.0, *RESIN) == 320.0
    inside = balance.trim_temperature(0.08, 310.0, 343.15, *RESIN)
    assert viscosity.viscosity_from_two_points(inside, *RESIN) == pytest.approx(0.08, rel=1e-12)


def test_what_needs_no_computing() -> None:
    assert takeoff.surface_area("known area", 12.5) == 12.5
    with pytest.raises(InputError):
        takeoff.surface_area("known area", None)
    assert takeoff.sizes_needed("known area") == "Known area"
    assert mix.own_coat_film("iso", 0.0) == 0.0
    with pytest.raises(InputError):
        exact("amount", Decimal("NaN"))
    assert math.isclose(float(exact("amount", 1.5)), 1.5)


def test_viscosity_beyond_the_reach_of_its_points() -> None:
    # Colder than where the curve through three points rises without end: the outer two serve.
    three = (303.15, 1.0, 308.15, 0.4, 333.15, 0.1)
    cold = viscosity.viscosity_from_three_points(290.0, *three)
    assert cold == viscosity.viscosity_from_two_points(290.0, 303.15, 1.0, 333.15, 0.1)
    # So thin that no temperature to 500 K gives it.
    with pytest.raises(InputError) as refused:
        viscosity.equal_viscosity_temperature(1e-9, *RESIN)
    assert refused.value.requirement == "more than"
    assert viscosity.equal_viscosity_temperature(
        refused.value.bound * 1.001, *RESIN
    ) == pytest.approx(500, abs=0.1)
