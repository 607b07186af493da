"""Formulas that a table row only repeats, by another way: integration, matrices, libraries."""

import cmath
import math
import random
from typing import Any

import numpy as np
import pytest
from fluids import one_phase_dP
from ht.radiation import q_rad
from pint import UnitRegistry
from scipy import optimize
from scipy.integrate import quad, solve_ivp

from twodrum.core import (
    adhesion,
    air,
    balance,
    coverage,
    density,
    electricity,
    exposure,
    film,
    heating,
    hose,
    isocyanate,
    losses,
    machine,
    mix,
    moisture,
    sections,
    supply,
    uncertainty,
    viscosity,
)
from twodrum.core.losses import _Air

DRAW = random.Random(51)


def PropsSI(*given: Any) -> float:  # noqa: N802 (its own name)
    """Of CoolProp, which takes seconds to load: by the worker that asks."""
    from CoolProp import CoolProp

    return float(CoolProp.PropsSI(*given))


def HAPropsSI(*given: Any) -> float:  # noqa: N802
    from CoolProp import HumidAirProp

    return float(HumidAirProp.HAPropsSI(*given))


UNITS = UnitRegistry()


def test_viscosity_through_three_points__50_liquids__scipy_root() -> None:
    for _ in range(50):
        a, b, rest = DRAW.uniform(-12, -8), DRAW.uniform(800, 2500), DRAW.uniform(150, 220)
        places = [DRAW.uniform(280, 295), DRAW.uniform(305, 320), DRAW.uniform(335, 350)]
        values = [math.exp(a + b / (t - rest)) for t in places]
        t_array, m_array = np.array(places), np.log(values)

        def missed(x: np.ndarray, t: np.ndarray = t_array, m: np.ndarray = m_array) -> np.ndarray:
            return x[0] + x[1] / (t - x[2]) - m

        solved = optimize.root(missed, [a * 1.1, b * 1.2, rest * 0.9], tol=1e-13)
        if not solved.success:
            continue
        for t in (290.0, 312.0, 345.0):
            expected = math.exp(solved.x[0] + solved.x[1] / (t - solved.x[2]))
            points = [number for pair in zip(places, values, strict=True) for number in pair]
            found = viscosity.viscosity_from_three_points(t, *points)
            assert found == pytest.approx(expected, rel=1e-6)


def test_hose__outlet_and_warm_up__100_hoses__scipy_dop853() -> None:
    for _ in range(100):
        heat, loss = DRAW.uniform(0, 60), DRAW.uniform(0.1, 1.5)
        inlet, around = DRAW.uniform(310, 345), DRAW.uniform(263, 303)
        rate, length = DRAW.uniform(20, 150), DRAW.uniform(5, 90)
        solved = solve_ivp(
            lambda _, t, q=heat, u=loss, a=around, k=rate: [(q - u * (t[0] - a)) / k],
            (0, length),
            [inlet],
            "DOP853",
            rtol=1e-11,
            atol=1e-11,
        )
        found = hose.hose_outlet_temperature(inlet, around, heat, loss, rate, length)
        assert found == pytest.approx(float(solved.y[0][-1]), rel=1e-9)

        capacity, warm = DRAW.uniform(400, 1500), around + heat / loss * DRAW.uniform(0.05, 0.9)
        if warm > around + 0.5 and warm < 480:
            needed, _ = quad(
                lambda t, c=capacity, q=heat, u=loss, a=around: c / (q - u * (t - a)),
                around,
                warm,
                epsabs=0,
                epsrel=1e-12,
            )
            found = hose.hose_warm_up_time(capacity, heat, loss, around, around, warm)
            assert found == pytest.approx(needed, rel=1e-9)


def test_power_for_warm_up_and_cool_down__100_drums__scipy_dop853() -> None:
    for _ in range(100):
        capacity, loss, around = DRAW.uniform(2e5, 5e5), DRAW.uniform(2, 30), DRAW.uniform(263, 303)
        start, warm, time = around + DRAW.uniform(0, 5), DRAW.uniform(310, 335), 3600.0
        power = heating.power_for_warm_up(capacity, loss, around, start, warm, time)
        solved = solve_ivp(
            lambda _, t, p=power, c=capacity, u=loss, a=around: [(p - u * (t[0] - a)) / c],
            (0, time),
            [start],
            rtol=1e-10,
            atol=1e-10,
        )
        assert float(solved.y[0][-1]) == pytest.approx(warm, abs=1e-4)

        # Heaters off: the hose takes its share from what flows through it and comes back.
        hose_loss, rate = DRAW.uniform(0, 40), DRAW.uniform(20, 150)
        lost = rate * (1 - math.exp(-hose_loss / rate))
        solved = solve_ivp(
            lambda _, t, c=capacity, u=loss + lost, a=around: [-u * (t[0] - a) / c],
            (0, time),
            [warm],
            rtol=1e-10,
            atol=1e-10,
        )
        found = heating.cool_down_temperature(capacity, loss, hose_loss, rate, around, warm, time)
        assert found == pytest.approx(float(solved.y[0][-1]), abs=1e-4)


def test_drum_heat_capacity_and_flow__integrals_and_units_of_pint() -> None:
    litres, rho, c, steel = 205.0, 1120.0, 1.8, 18.1
    liquid = UNITS.Quantity(litres, "L") * UNITS.Quantity(rho, "kg/m^3")
    liquid = liquid * UNITS.Quantity(c, "kJ/kg/K")
    shell = UNITS.Quantity(steel, "kg") * UNITS.Quantity(0.47, "kJ/kg/K")
    expected = (liquid + shell).to("J/K").magnitude
    found = heating.drum_heat_capacity(litres / 1000, rho, c * 1000, steel)
    assert found == pytest.approx(expected, rel=1e-12)
    carried = UNITS.Quantity(4, "L/min") * UNITS.Quantity(rho, "kg/m^3")
    carried = (carried * UNITS.Quantity(c, "kJ/kg/K")).to("W/K").magnitude
    found = heating.recirculation_heat_rate(rho, c * 1000, 4e-3 / 60)
    assert found == pytest.approx(carried, rel=1e-12)


def test_currents__mean_power_over_a_period__numpy() -> None:
    angle = np.linspace(0, 2 * np.pi, 20001)[:-1]
    for cosine in (1.0, 0.9, 0.5):
        lag = math.acos(cosine)
        current = electricity.single_phase_current(15e3, 230.0, cosine)
        power = 2 * 230 * np.sin(angle) * current * np.sin(angle - lag)
        assert float(power.mean()) == pytest.approx(15e3, rel=1e-9)
        current = electricity.three_phase_current(15e3, 400.0, cosine)
        # Three lines against the star point.
        power = sum(
            2 * 400 / math.sqrt(3) * np.sin(angle - turn) * current * np.sin(angle - turn - lag)
            for turn in (0, 2 * math.pi / 3, 4 * math.pi / 3)
        )
        assert float(np.mean(power)) == pytest.approx(15e3, rel=1e-9)
    for phases, current in (("single phase", 32.0), ("three phase", 32.0)):
        carried = electricity.supply_power(400.0, current, phases)
        back = {
            "single phase": electricity.single_phase_current,
            "three phase": electricity.three_phase_current,
        }[phases](carried, 400.0, 1.0)
        assert back == pytest.approx(current, rel=1e-12)


def test_cable_voltage_drop__phasors() -> None:
    for _ in range(100):
        current, length = DRAW.uniform(5, 100), DRAW.uniform(5, 100)
        area, cosine = DRAW.uniform(1.5e-6, 50e-6), DRAW.uniform(0.7, 1)
        found = electricity.cable_voltage_drop(current, length, area, cosine, "single phase")
        impedance = 2 * length * complex(0.0225e-6 / area, 0.08e-3)
        load = cmath.rect(current, -math.acos(cosine))
        # The usual formula takes the part of the drop along the voltage.
        assert found == pytest.approx((impedance * load).real, rel=1e-9)
        three = electricity.cable_voltage_drop(current, length, area, cosine, "three phase")
        assert three == pytest.approx(found / 2 * math.sqrt(3), rel=1e-12)


def test_frost_point__100_climates__coolprop() -> None:
    for _ in range(100):
        kelvin, humidity = 273.15 + DRAW.uniform(-25, -1), DRAW.uniform(0.4, 0.8)
        # Ours is relative to water, the library's below freezing to ice.
        pressure = air.vapour_pressure(kelvin, humidity)
        expected = HAPropsSI("D", "T", kelvin, "P", 101325, "P_w", pressure)
        assert air.frost_point(kelvin, humidity) == pytest.approx(expected, abs=0.1)


def test_air_at_a_drum__properties__coolprop() -> None:
    for celsius in range(-20, 90, 5):
        kelvin = 273.15 + celsius
        ours = _Air(kelvin)
        found = (ours.conductivity, ours.viscosity, ours.prandtl)
        expected = [PropsSI(key, "T", kelvin, "P", 101325, "Air") for key in ("L", "V", "PRANDTL")]
        # Sutherland's laws are off by up to 1.6 % for the conductivity in the cold.
        assert found == pytest.approx(tuple(expected), rel=0.02)


def test_trapped_pressure__water_in_a_shut_hose__coolprop() -> None:
    # Small steps: density stays while the liquid warms.
    for celsius in (30, 50):
        kelvin = 273.15 + celsius
        fixed = PropsSI("D", "T", kelvin, "P", 5e6, "Water")
        rise = PropsSI("P", "T", kelvin + 1, "D", fixed, "Water") - 5e6
        beta = PropsSI("ISOBARIC_EXPANSION_COEFFICIENT", "T", kelvin + 0.5, "P", 5e6, "Water")
        bulk = 1 / PropsSI("ISOTHERMAL_COMPRESSIBILITY", "T", kelvin + 0.5, "P", 5e6, "Water")
        assert hose.trapped_pressure_rise(beta, bulk, 1.0) == pytest.approx(rise, rel=0.01)


def test_trapezoidal_sheet__length_of_its_outline__numpy() -> None:
    for pitch, top, bottom, depth in ((0.2, 0.06, 0.06, 0.04), (0.25, 0.1, 0.03, 0.06)):
        run = (pitch - top - bottom) / 2
        x = np.cumsum([0, top, run, bottom, run])
        y = np.array([depth, depth, 0, 0, depth])
        outline = float(np.hypot(np.diff(x), np.diff(y)).sum())
        found = sections.trapezoidal_sheet_factor(pitch, top, bottom, depth)
        assert found == pytest.approx(outline / pitch, rel=1e-12)


def test_mixture__mass_and_volume_counted() -> None:
    for _ in range(100):
        a, b, left, right = (DRAW.uniform(0.5, 4) for _ in range(4))
        mass = a * 1120 + b * 1020
        assert mix.mixed_density(a, b, 1120, 1020) == pytest.approx(mass / (a + b), rel=1e-12)
        # Mix cup by cup until one side is empty.
        cup = 1e-4
        cups = min(left / (a * cup), right / (b * cup))
        assert mix.mixed_yield(left, right, a, b) == pytest.approx(cups * cup * (a + b), rel=1e-9)


def test_profile__valleys_filled_on_a_grid_of_cones() -> None:
    # Peaks that are cones on square cells leave 1 - π/12 of the height to fill.
    x, y = np.meshgrid(np.linspace(-1, 1, 2001), np.linspace(-1, 1, 2001))
    empty = float(np.mean(1 - np.clip(1 - np.hypot(x, y), 0, None)))
    assert empty == pytest.approx(1 - math.pi / 12, abs=1e-3)
    found = coverage.profile_volume(10.0, 75e-6, empty, 1.0)
    assert found == pytest.approx(10.0 * 75e-6 * (1 - math.pi / 12), rel=2e-3)


def test_supply__sprayed_litre_by_litre() -> None:
    # Of every litre a share lands; spray until film and profile are there, then the panels.
    for _ in range(20):
        film_volume, profile = DRAW.uniform(50, 200), DRAW.uniform(0, 20)
        lost, fixed = DRAW.uniform(0, 0.5), DRAW.uniform(0, 15)
        step, sprayed, landed = 1e-3, 0, 0.0
        while landed < film_volume + profile:
            sprayed += 1
            landed += step * (1 - lost)
        expected = sprayed * step + fixed
        found = coverage.lining_volume(film_volume / 1e3, profile / 1e3, lost, fixed / 1e3)
        assert found * 1e3 == pytest.approx(expected, abs=2 * step)


def test_pass_count__coat_upon_coat() -> None:
    for _ in range(100):
        wanted, build = DRAW.uniform(0.5, 6), DRAW.uniform(0.2, 0.8)
        film_now, passes_made = 0.0, 0
        while film_now < wanted:
            film_now, passes_made = film_now + build, passes_made + 1
        assert film.pass_count(wanted / 1000, build / 1000, 1e-9) == passes_made


def test_blend__groups_counted_in_a_heap() -> None:
    for _ in range(50):
        weights = [DRAW.uniform(0.05, 2) for _ in range(3)]
        masses = [DRAW.uniform(0.1, 5) for _ in range(3)]
        groups = sum(mass / weight for mass, weight in zip(masses, weights, strict=True))
        shares = [mass / sum(masses) for mass in masses]
        found = isocyanate.blend_equivalent_weight(shares, weights)
        assert found == pytest.approx(sum(masses) / groups, rel=1e-9)


def test_viscosity_difference__both_sides_by_fluids() -> None:
    for _ in range(50):
        hose_side = (DRAW.uniform(10, 90), 0.009525, 3.0, 0.00635, 0.0015, 0.001)
        liquids = [(DRAW.uniform(0.05, 0.2), DRAW.uniform(1e-5, 3e-5)) for _ in range(2)]
        drops = [
            sum(
                one_phase_dP(q * 1050, 1050, mu, hose_side[n + 1], L=hose_side[n])
                for n in (0, 2, 4)
            )
            for mu, q in liquids
        ]
        resistance = balance.flow_resistance(*hose_side)
        (mu, q), (nu, r) = liquids
        found = balance.viscosity_difference(resistance, mu, q, nu, r)
        assert found == pytest.approx(drops[0] - drops[1], rel=1e-3, abs=abs(drops[0]) * 2e-3)


def test_effective_degrees_of_freedom__variance_of_simulated_variances() -> None:
    # ν is twice the squared mean of the combined variance over its variance.
    parts, freedoms = [2.0, 3.0, 1.0], [5, 12, 8]
    generator = np.random.default_rng(4)
    total = np.zeros(400_000)
    for part, freedom in zip(parts, freedoms, strict=True):
        total += part**2 * generator.chisquare(freedom, total.size) / freedom
    expected = 2 * total.mean() ** 2 / total.var()
    found = uncertainty.effective_degrees_of_freedom(parts, freedoms)
    assert found == pytest.approx(float(expected), rel=0.02)


def test_viscosity_between_two_points__100_liquids__straight_line_by_numpy() -> None:
    for _ in range(100):
        t1, t2 = sorted((DRAW.uniform(270, 300), DRAW.uniform(310, 360)))
        m1, m2 = DRAW.uniform(0.5, 3), DRAW.uniform(0.02, 0.3)
        slope, height = np.polyfit([1 / t1, 1 / t2], np.log([m1, m2]), 1)
        assert viscosity.viscosity_slope(t1, m1, t2, m2) == pytest.approx(slope, rel=1e-9)
        for t in (t1, 305.0, t2, 350.0):
            expected = math.exp(height + slope / t)
            found = viscosity.viscosity_from_two_points(t, t1, m1, t2, m2)
            assert found == pytest.approx(expected, rel=1e-8)
            back = viscosity.equal_viscosity_temperature(found, t1, m1, t2, m2)
            assert back == pytest.approx(t, rel=1e-9)


def test_gas_in_a_drum__coolprop() -> None:
    # Real carbon dioxide is 0.5 % denser than the ideal gas.
    for celsius in (5, 20, 40):
        # In a shut headspace: the pressure at which so much gas has so little room.
        packed = 0.010 * 44.0095 / 18.01528 / 0.5
        expected = PropsSI("P", "T", 273.15 + celsius, "D", packed, "CO2")
        found = moisture.sealed_drum_pressure(0.010, 0.5, 273.15 + celsius)
        assert found == pytest.approx(expected, rel=0.007)


def test_moist_air__200_climates__coolprop() -> None:
    # Dew point to 0.1 K, water in the air to 1 % (the enhancement factor of real air is 0.5 %).
    compared = 0
    for _ in range(200):
        kelvin, humidity = 273.15 + DRAW.uniform(1, 50), DRAW.uniform(0.2, 1)
        expected = HAPropsSI("D", "T", kelvin, "P", 101325, "R", humidity)
        if expected > 273.2:
            assert air.dew_point(kelvin, humidity) == pytest.approx(expected, abs=0.1)
            compared += 1
        mixing = HAPropsSI("W", "T", kelvin, "P", 101325, "R", humidity)
        volume = HAPropsSI("V", "T", kelvin, "P", 101325, "R", humidity)
        found = air.absolute_humidity(kelvin, humidity)
        assert found == pytest.approx(mixing / volume, rel=0.01)
        life = moisture.desiccant_life(1.0, 0.2, kelvin, humidity)
        assert life * mixing / volume == pytest.approx(0.2, rel=0.01)
    assert compared > 150


def test_radiation__ht() -> None:
    for _ in range(100):
        wall, around = DRAW.uniform(290, 345), DRAW.uniform(250, 289)
        expected = q_rad(0.9, wall, around) / (wall - around)
        found = losses.radiation_coefficient(wall, around, 0.9)
        # The library has the constant of CODATA 2014.
        assert found == pytest.approx(expected, rel=3e-6)


def test_expansion_and_density__toluene_and_water__coolprop() -> None:
    for liquid, error in (("Toluene", 0.001), ("Water", 0.004)):
        cold = PropsSI("D", "T", 293.15, "P", 101325, liquid)
        hot = PropsSI("D", "T", 333.15, "P", 101325, liquid)
        beta = (cold / hot - 1) / 40
        found = density.density_at_temperature(cold, beta, 333.15, 293.15)
        assert found == pytest.approx(hot, rel=1e-12)
        # Half way the line is off by little.
        middle = PropsSI("D", "T", 313.15, "P", 101325, liquid)
        found = density.density_at_temperature(cold, beta, 313.15, 293.15)
        assert found == pytest.approx(middle, rel=error)


def test_isocyanate__moles_counted_one_by_one() -> None:
    # 4,4'-MDI, C15H10N2O2: two groups of 42.017 in 250.25 g/mol.
    assert isocyanate.nco_content(0.25025, 2) == pytest.approx(2 * 42.017 / 250.25, rel=1e-4)
    for _ in range(100):
        iso, resin = DRAW.uniform(0.5, 2), DRAW.uniform(0.5, 2)
        nco, weight = DRAW.uniform(0.1, 0.33), DRAW.uniform(0.08, 0.5)
        groups = iso * 1120 * nco / 0.042017
        partners = resin * 1010 / weight
        found = isocyanate.isocyanate_index(iso, resin, 1120, 1010, nco, weight)
        assert found == pytest.approx(groups / partners, rel=1e-9)


def test_exposure__ideal_gas_of_coolprop_and_inverse_pairs() -> None:
    gas = PropsSI("DMOLAR", "T", 298.15, "P", 101325, "Nitrogen")
    found = exposure.vapour_concentration(1e-6, 0.25025, 298.15)
    assert found == pytest.approx(1e-6 * gas * 0.25025, rel=1e-3)
    for concentration in (2e-8, 7e-8):
        back = exposure.nco_concentration(exposure.mdi_concentration(concentration))
        assert back == pytest.approx(concentration, rel=1e-12)


def test_energies_volumes_and_stresses__units_counted_by_pint() -> None:
    def q(value: float, unit: str):  # type: ignore[no-untyped-def]
        return UNITS.Quantity(value, unit)

    for _ in range(50):
        capacity, warmer = DRAW.uniform(100, 600), DRAW.uniform(1, 60)
        expected = (q(capacity, "kJ/K") * q(warmer, "delta_degC")).to("kWh").magnitude
        found = supply.warm_up_energy(capacity * 1000, 290.0, 290.0 + warmer)
        assert found / 3.6e6 == pytest.approx(expected, rel=1e-9)

        length, bore, flow_rate = DRAW.uniform(5, 90), DRAW.uniform(4, 16), DRAW.uniform(0.5, 8)
        inside = math.pi / 4 * q(bore, "mm") ** 2 * q(length, "m")
        assert hose.hose_volume(length, bore / 1000) == pytest.approx(inside.to("m^3").magnitude)
        waits = (inside / q(flow_rate, "L/min")).to("s").magnitude
        found = hose.residence_time(length, bore / 1000, flow_rate / 60000)
        assert found == pytest.approx(waits, rel=1e-9)

        power = DRAW.uniform(300, 2000)
        band = math.pi * q(57.3, "cm") * q(150, "mm")
        expected = (q(power, "W") / band).to("W/cm^2").magnitude
        assert machine.band_heater_flux(power, 0.573, 0.15) / 1e4 == pytest.approx(expected)

        force, dolly = DRAW.uniform(100, 9000), DRAW.uniform(14, 50)
        expected = (q(force, "N") / (math.pi * (q(dolly, "mm") / 2) ** 2)).to("psi").magnitude
        found = adhesion.pull_off_stress(force, dolly / 1000)
        assert q(found, "Pa").to("psi").magnitude == pytest.approx(expected, rel=1e-9)
