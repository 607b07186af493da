"""Warm-up through the workbook: against integration, by hand, and in words."""

from pathlib import Path
from typing import Any

import numpy as np
import pytest
from scipy.integrate import solve_ivp

from tests.workbook.day import day, si, told
from twodrum.fill import Filled

# Drums of 205 L: liquid and 18.1 kg of steel at 470 J/(kg K); flow 4 L/min; 5.4 kW arrive.
CAPACITY = {"iso": 0.205 * 1120 * 1800 + 18.1 * 470, "resin": 0.205 * 1010 * 2000 + 18.1 * 470}
FLOW_RATE = {"iso": 1120 * 1800 * 4e-3 / 60, "resin": 1010 * 2000 * 4e-3 / 60}


def integrated(supply: float, powers: tuple[float, float] = (5400.0, 5400.0)) -> list[float]:
    """Times at which both drums reach 50 °C from 15 °C, by DOP853 on the same balance."""

    def slopes(_time: float, t: Any) -> list[float]:
        wanted = [
            max(0.0, min(power, FLOW_RATE[side] * (348.15 - now)))
            for side, power, now in zip(CAPACITY, powers, t, strict=True)
        ]
        share = min(1.0, supply / max(sum(wanted), 1e-9))
        return [
            (want * share - 13.0 * (now - 288.15)) / capacity
            for want, now, capacity in zip(wanted, t, CAPACITY.values(), strict=True)
        ]

    def reached(side: int) -> Any:
        return lambda _time, t: t[side] - 323.15

    solved = solve_ivp(
        slopes,
        (0, 1e4),
        [288.15, 288.15],
        "DOP853",
        rtol=1e-11,
        atol=1e-9,
        # The heaters change from power to set point: no step may jump over that.
        max_step=20,
        events=[reached(0), reached(1)],
    )
    return [float(np.asarray(event)[0]) for event in solved.t_events]


def test_both_drums__each_by_itself__scipy_dop853(tmp_path: Path) -> None:
    filled = day(tmp_path)
    times = integrated(1e9)
    assert si(filled, "iso_warm_up_time") == pytest.approx(times[0], rel=1e-6)
    assert si(filled, "resin_warm_up_time") == pytest.approx(times[1], rel=1e-6)


def test_both_drums_on_a_supply_that_is_too_small__scipy_dop853(tmp_path: Path) -> None:
    # 400 V, 16 A, three phases: 11.085 kW less 2.4 kW of hose, 90 % of the rest arrive.
    names = {"supply_voltage": 400, "supply_current": 16, "supply_phases": "three phase"}
    filled = day(tmp_path, names)
    times = integrated((400 * 16 * 3**0.5 - 2400) * 0.9)
    assert si(filled, "iso_warm_up_time") == pytest.approx(times[0], rel=1e-6)
    assert si(filled, "resin_warm_up_time") == pytest.approx(times[1], rel=1e-6)
    assert told(filled) == [
        "Equipment!B8: all loads together are 14.4 kW; the supply carries 11.09 kW; warm one side "
        "after the other, or have a licensed electrician give more"
    ]


def test_switch_on_is_ready_less_panel_set_up_and_the_longest__hand_worked(tmp_path: Path) -> None:
    # Stirring 60 min is longer than both drums (54 min): 09:00 less 15, 30 and 60 min.
    filled = day(tmp_path)
    assert si(filled, "preparation_needed") == 3600
    assert si(filled, "switch_on") * 24 == pytest.approx(7.25)
    # Without stirring the slower drum decides.
    filled = day(tmp_path, {"stirring_time": 0})
    longest = max(si(filled, "iso_warm_up_time"), si(filled, "resin_warm_up_time"))
    assert si(filled, "preparation_needed") == longest
    assert si(filled, "switch_on") * 86400 == pytest.approx(9 * 3600 - 2700 - longest)


def test_switch_on_may_be_the_evening_before(tmp_path: Path) -> None:
    filled = day(tmp_path, {"ready_time": 1 / 24})
    assert si(filled, "switch_on") * 24 == pytest.approx(23.25)


def plan(filled: Filled) -> dict[tuple[str, str], tuple[Any, Any, str]]:
    rows = filled.values.studies["warm_up"]
    return {(step, side): (at, temperature, words) for step, at, side, temperature, words in rows}


def test_plan_says_when_to_hand_back_and_to_what(tmp_path: Path) -> None:
    filled = day(tmp_path)
    steps = plan(filled)
    at, temperature, words = steps["Hand back", "iso"]
    assert (at - si(filled, "switch_on")) * 86400 == pytest.approx(si(filled, "iso_warm_up_time"))
    assert temperature == pytest.approx(338.15)
    assert words == "08:09: the iso drum is at 50 °C: bring its set point back to 65 °C."
    assert steps["Ready", "both"][0] == pytest.approx(0.375)
    assert steps["Switch on", "resin"][1] == pytest.approx(348.15)


def test_a_drum_that_passes_its_spray_set_point_is_warned_of(tmp_path: Path) -> None:
    filled = day(tmp_path, {"materials.spray_temperature@1": 45, "materials.spray_low@1": 40})
    assert told(filled) == [
        "Equipment!B13: Resin drum warmed to is 50 °C; it will pass its spray set point of 45 °C, "
        "and a heater cannot cool; hand back at or below it"
    ]
    assert plan(filled)["Passes its set point", "resin"][2] == (
        "The resin drum will pass its spray set point of 45 °C, and a heater cannot cool: hand "
        "back at or below it."
    )


def test_a_set_point_above_the_data_sheet_is_warned_of(tmp_path: Path) -> None:
    filled = day(tmp_path, {"iso_heat_limit": 70, "iso_drum_high": 45})
    assert told(filled) == [
        "Equipment!B9: Iso set point while warming is 75 °C; the data sheet allows 70 °C at most; "
        "lower it",
        "Equipment!B10: Iso drum warmed to is 50 °C; it is above the 45 °C of the data sheet",
    ]
    assert not filled.problem_count


def test_a_drum_that_is_warm_already_takes_no_time(tmp_path: Path) -> None:
    filled = day(tmp_path, {"drum_start": 50})
    assert si(filled, "iso_warm_up_time") == 0
    assert si(filled, "iso_energy") == 0
    assert si(filled, "energy_drawn") == 0
    assert plan(filled)["Warm already", "iso"][2].endswith(
        "the iso drum is warm enough: no raising."
    )


def test_energy_is_what_the_drums_take_over_the_share_that_arrives__hand_worked(
    tmp_path: Path,
) -> None:
    filled = day(tmp_path)
    expected = sum(CAPACITY.values()) * 35 / 0.9
    assert si(filled, "energy_drawn") == pytest.approx(expected, rel=1e-12)
    assert si(filled, "power_drawn") == pytest.approx(6000 + 6000 + 60 * 40)


def test_without_a_heater_nothing_is_planned_and_nothing_refused(tmp_path: Path) -> None:
    filled = day(tmp_path, {"iso_heater_power": None})
    for name in ("iso_warm_up_time", "preparation_needed", "switch_on", "power_drawn"):
        assert si(filled, name) is None
        assert not filled.values.names[name].refused
    assert told(filled) == []
    assert filled.values.studies["warm_up"] == []
    assert filled.values.studies["course"] == []


@pytest.mark.parametrize("current", [None, 16])
def test_course_ends_where_each_drum_is_warm(tmp_path: Path, current: float | None) -> None:
    names = {"supply_voltage": 400, "supply_current": current, "supply_phases": "three phase"}
    filled = day(tmp_path, names if current else None)
    rows = filled.values.studies["course"]
    assert rows[0][1:3] == pytest.approx((288.15, 288.15))
    longest = max(si(filled, "iso_warm_up_time"), si(filled, "resin_warm_up_time"))
    assert rows[-1][0] == pytest.approx(longest)
    last = [temperature for temperature in rows[-1][1:3] if temperature is not None]
    # A drawing, not the answer: steps over the change from power to set point cost 0.4 mK.
    assert last == pytest.approx([323.15], abs=2e-3)
    for column in (1, 2):
        line = [row[column] for row in rows if row[column] is not None]
        assert line == sorted(line)


def test_the_hose_at_rest_that_takes_longer_is_said(tmp_path: Path) -> None:
    filled = day(tmp_path, {"hose_heating": 32, "hose_wall": 3})
    assert si(filled, "hose_warm_up") > 3600
    assert "the hose at rest takes longer" in plan(filled)["Hose", "both"][2]
