"""Warm-up against an independent integration of the same balance; flow against fluids."""

import math
import random

import pytest
from fluids import Reynolds, one_phase_dP
from scipy.integrate import solve_ivp

from twodrum.core import flow, heating, supply
from twodrum.core.inputs import InputError


def cases(count: int, seed: int) -> list[dict[str, float]]:
    """Drums, heaters and targets: power alone, set point alone, both, warm already."""
    chance = random.Random(seed)
    found = []
    while len(found) < count:
        case = {
            "heat_capacity": chance.uniform(1e5, 6e5),
            "heat_loss": chance.choice([0.0, chance.uniform(1.0, 40.0)]),
            "heater_power": chance.uniform(800.0, 12000.0),
            "flow_heat_rate": chance.uniform(30.0, 300.0),
            "set_point": chance.uniform(313.0, 358.0),
            "air_temperature": chance.uniform(263.0, 308.0),
            "start_temperature": chance.uniform(263.0, 318.0),
        }
        drum = {k: v for k, v in case.items() if k not in ("heat_capacity", "start_temperature")}
        limit = heating.warm_up_limit(**drum)
        case["target_temperature"] = chance.uniform(270.0, 345.0)
        if abs(case["target_temperature"] - limit) > 0.5 and limit > case["air_temperature"]:
            found.append({**case, "limit": limit})
    return found


def integrated_time(case: dict[str, float]) -> float:
    """Time to the target by DOP853; inf where it is never reached."""

    def slope(_: float, state: list[float]) -> list[float]:
        heat = max(
            0.0,
            min(
                case["heater_power"],
                case["flow_heat_rate"] * (case["set_point"] - state[0]),
            ),
        )
        loss = case["heat_loss"] * (state[0] - case["air_temperature"])
        return [(heat - loss) / case["heat_capacity"]]

    def reached(_: float, state: list[float]) -> float:
        return state[0] - case["target_temperature"]

    reached.terminal = True  # type: ignore[attr-defined]
    if case["target_temperature"] <= case["start_temperature"]:
        return 0.0
    done = solve_ivp(
        slope,
        (0.0, 3e6),
        [case["start_temperature"]],
        method="DOP853",
        rtol=1e-11,
        atol=1e-9,
        events=reached,
        max_step=2000.0,
    )
    return float(done.t_events[0][0]) if len(done.t_events[0]) else math.inf


def test_warm_up_time__90_cases__scipy_dop853() -> None:
    never = already = reached = 0
    for case in cases(90, 11):
        limit = case.pop("limit")
        expected = integrated_time(case)
        if case["target_temperature"] > max(limit, case["start_temperature"]):
            with pytest.raises(InputError) as refused:
                heating.warm_up_time(**case)
            assert refused.value.bound == pytest.approx(limit)
            assert expected == math.inf
            never += 1
            continue
        found = heating.warm_up_time(**case)
        assert found == pytest.approx(expected, rel=1e-6, abs=1e-6)
        already += found == 0
        reached += found > 0
    # The cases must cover all three ends.
    assert min(never, already, reached) >= 6


def test_warm_up_temperature_at_the_warm_up_time_is_the_target() -> None:
    for case in cases(200, 12):
        limit = case.pop("limit")
        if case["start_temperature"] < case["target_temperature"] < limit:
            time = heating.warm_up_time(**case)
            target = case.pop("target_temperature")
            assert heating.warm_up_temperature(time=time, **case) == pytest.approx(target, rel=1e-9)


def test_warm_up_temperature_never_passes_the_limit() -> None:
    for case in cases(100, 13):
        limit = case.pop("limit")
        case.pop("target_temperature")
        late = heating.warm_up_temperature(time=1e7, **case)
        assert late <= max(limit, case["start_temperature"]) + 1e-6


def integrated_shared(one: dict[str, float], target: float) -> float:
    def slope(_: float, state: list[float]) -> list[float]:
        wants = [
            max(0.0, min(one[f"p{i}"], one[f"k{i}"] * (one["set"] - state[i]))) for i in (0, 1)
        ]
        share = min(1.0, one["cap"] / sum(wants)) if sum(wants) > 0 else 0.0
        return [
            (wants[i] * share - one[f"u{i}"] * (state[i] - one["air"])) / one[f"c{i}"]
            for i in (0, 1)
        ]

    def reached(_: float, state: list[float]) -> float:
        return state[0] - target

    reached.terminal = True  # type: ignore[attr-defined]
    done = solve_ivp(
        slope,
        (0.0, 1e6),
        [one["air"]] * 2,
        method="DOP853",
        rtol=1e-11,
        atol=1e-9,
        events=reached,
        max_step=100.0,
    )
    return float(done.t_events[0][0])


def test_shared_warm_up_time__30_cases__scipy_dop853() -> None:
    chance = random.Random(5)
    for _ in range(30):
        one = {"set": chance.uniform(335.0, 355.0), "air": chance.uniform(273.0, 298.0)}
        for i in (0, 1):
            one[f"c{i}"] = chance.uniform(2e5, 5e5)
            one[f"u{i}"] = chance.uniform(2.0, 20.0)
            one[f"p{i}"] = chance.uniform(4000.0, 9000.0)
            one[f"k{i}"] = chance.uniform(80.0, 200.0)
        one["cap"] = chance.uniform(5000.0, 16000.0)
        target = one["air"] + chance.uniform(5.0, 25.0)
        found = supply.shared_warm_up_time(
            one["c0"],
            one["u0"],
            one["p0"],
            one["k0"],
            one["c1"],
            one["u1"],
            one["p1"],
            one["k1"],
            one["cap"],
            one["set"],
            one["air"],
            one["air"],
            target,
        )
        assert found == pytest.approx(integrated_shared(one, target), rel=1e-6)


def test_shared_supply_that_is_large_enough_changes_nothing() -> None:
    alone = heating.warm_up_time(4e5, 12.0, 6000.0, 134.4, 348.15, 288.15, 288.15, 323.15)
    shared = supply.shared_warm_up_time(
        4e5, 12.0, 6000.0, 134.4, 4e5, 12.0, 6000.0, 134.4, 1e6, 348.15, 288.15, 288.15, 323.15
    )
    assert shared == pytest.approx(alone, rel=1e-7)


def test_shared_supply_that_never_reaches_says_where_it_stops() -> None:
    with pytest.raises(InputError) as refused:
        supply.shared_warm_up_time(
            4e5,
            20.0,
            6000.0,
            134.4,
            4e5,
            20.0,
            6000.0,
            134.4,
            800.0,
            348.15,
            288.15,
            288.15,
            323.15,
        )
    assert refused.value.argument == "target_temperature"
    assert 300 < refused.value.bound < 323


def test_laminar_pressure_drop_and_reynolds_number__200_flows__fluids() -> None:
    chance = random.Random(3)
    compared = 0
    for _ in range(400):
        density, viscosity = chance.uniform(950, 1200), chance.uniform(0.02, 0.5)
        bore, length = chance.uniform(0.004, 0.013), chance.uniform(1, 90)
        volume_flow = chance.uniform(5e-6, 1e-4)
        speed = volume_flow / (math.pi * bore**2 / 4)
        reynolds = Reynolds(V=speed, D=bore, rho=density, mu=viscosity)
        assert flow.reynolds_number(density, viscosity, volume_flow, bore) == pytest.approx(
            reynolds
        )
        if reynolds < 2040:
            expected = one_phase_dP(density * volume_flow, density, viscosity, bore, L=length)
            found = flow.laminar_pressure_drop(density, viscosity, volume_flow, length, bore)
            assert found == pytest.approx(expected, rel=1e-9)
            compared += 1
    assert compared >= 200


def test_a_turbulent_flow_is_refused_by_its_reynolds_number() -> None:
    with pytest.raises(InputError) as refused:
        flow.laminar_pressure_drop(998.2, 0.0010016, 1e-4, 60.0, 0.009525)
    assert refused.value.argument == "reynolds_number"
    assert refused.value.value == pytest.approx(13322, rel=1e-3)
