"""Warm-up through the workbook: against integration, by hand, and in words."""

import math
import random
import re
from pathlib import Path
from typing import Any

import numpy as np
import pytest
from scipy.integrate import solve_ivp

from tests.workbook.day import MATERIALS, NAMES, day, si, told
from tests.workbook.job_values import evaluated
from twodrum.commands.fill import Filled

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
        "after the other, or have a competent electrician look at it"
    ]


def test_one_side_after_the_other_is_advised_only_where_that_fits(tmp_path: Path) -> None:
    names = {"supply_voltage": 400, "supply_current": 10, "supply_phases": "three phase"}
    text = told(day(tmp_path, names))[0]
    # 6.9 kW: one heater of 6 kW with 2.4 kW of hose is more.
    assert text.endswith("the supply carries 6.928 kW; have a competent electrician look at it")


def test_one_side_after_the_other_has_its_own_times__scipy_dop853(tmp_path: Path) -> None:
    names = {"supply_voltage": 400, "supply_current": 16, "supply_phases": "three phase"}
    words = plan(day(tmp_path, names))["Supply too small", "both"][2]
    minutes = [time / 60 for time in integrated(1e9)]
    found = re.search(r"take (\d+) min and (\d+) min: begin by (\d+):(\d+)", words)
    assert found is not None, words
    assert [float(found[1]), float(found[2])] == pytest.approx(minutes, abs=0.51)
    # Ready at 9:00 less an hour of set-up and panel together, as in the plan of both.
    filled = day(tmp_path)
    later = (si(filled, "set_up_time") + si(filled, "panel_time")) / 3600
    begins = 9 - later - sum(minutes) / 60
    assert int(found[3]) + int(found[4]) / 60 == pytest.approx(begins, abs=1 / 60)


def test_a_part_drum_is_warm_sooner_and_must_not_be_left_on__hand_worked(tmp_path: Path) -> None:
    full = day(tmp_path)
    filled = day(tmp_path, {"materials.part_drum_volume@0": 60})
    step = plan(filled)["Part drum", "iso"]
    assert "60 L of iso" in step[2] and "stop recirculating it" in step[2]
    # Its time goes with the heat it takes, to within what the drum loses meanwhile.
    liquid = 1120 * si(filled, "iso_specific_heat")
    steel = si(filled, "drum_steel") * 470
    share = (0.060 * liquid + steel) / (0.205 * liquid + steel)
    begun = plan(filled)["Switch on", "iso"][0]
    after = (step[0] - begun) % 1 * 86400
    assert after == pytest.approx(share * si(filled, "iso_warm_up_time"), rel=0.02)
    assert ("Part drum", "iso") not in plan(full)
    assert si(filled, "iso_warm_up_time") == si(full, "iso_warm_up_time")


def test_a_supply_that_is_nearly_used_up_is_told(tmp_path: Path) -> None:
    names = {"supply_voltage": 400, "supply_current": 21, "supply_phases": "three phase"}
    words = plan(day(tmp_path, names))["Supply nearly used up", "both"][2]
    assert words.startswith(
        "All loads together are 14.4 kW of the 14.55 kW that the supply carries"
    )


def test_switch_on_is_ready_less_panel_set_up_and_the_longest__hand_worked(tmp_path: Path) -> None:
    # Stirring 60 min is longer than both drums (54 min): 09:00 less 15, 30 and 60 min.
    filled = day(tmp_path)
    assert si(filled, "preparation_needed") == 3600
    assert si(filled, "switch_on") * 24 == pytest.approx(7.25)
    # Without stirring the slower drum decides.
    filled = day(tmp_path, {"stirring_time": 0})
    longest = max(si(filled, "iso_warm_up_time"), si(filled, "resin_warm_up_time"))
    assert si(filled, "preparation_needed") == longest
    # 53 min 43 s before 08:15 is 07:21:17, cut to the minute before.
    assert si(filled, "switch_on") * 1440 == pytest.approx(7 * 60 + 21)


def test_switch_on_may_be_the_evening_before(tmp_path: Path) -> None:
    filled = day(tmp_path, {"ready_time": 1 / 24})
    assert si(filled, "switch_on") * 24 == pytest.approx(23.25)
    assert plan(filled)["Switch on", "iso"][2].startswith("The day before, 23:15: recirculate iso")
    assert plan(filled)["Ready", "both"][2].startswith("01:00: ready")


def test_a_warm_up_of_more_than_a_day_says_which_day(tmp_path: Path) -> None:
    names = {"iso_heater_power": 0.45, "air_temperature": 0, "drum_heat_loss": 5, "drum_start": 0}
    filled = day(tmp_path, {**names, "iso_drum_target": 52, "resin_drum_target": 52})
    assert si(filled, "iso_warm_up_time") > 86400
    assert plan(filled)["Switch on", "iso"][2].startswith("The day before, 08:08")


def plan(filled: Filled) -> dict[tuple[str, str], tuple[Any, Any, str]]:
    rows = filled.values.studies["warm_up"]
    return {(step, side): (at, temperature, words) for step, at, side, temperature, words in rows}


def test_plan_says_when_to_drum_target_and_to_what(tmp_path: Path) -> None:
    filled = day(tmp_path)
    steps = plan(filled)
    at, temperature, words = steps["Stop recirculating", "iso"]
    assert (at - si(filled, "switch_on")) * 86400 == pytest.approx(si(filled, "iso_warm_up_time"))
    assert temperature == pytest.approx(338.15)
    assert words.startswith(
        "08:08: the iso drum is at 50 °C: bring its set point to 65 °C and stop recirculating: "
        "left alone it is at about "
    )
    # 51.6 min until 09:00: 15 °C + 35 K exp(-13 W/K t / C) alone, by hand.
    left = 9 * 3600 - (8 * 3600 + 8 * 60 + 43)
    alone = 15 + 35 * math.exp(-13 * left / CAPACITY["iso"])
    assert f"at about {alone:.1f} °C when all is ready, recirculated on at 5" in words
    assert steps["Ready", "both"][0] == pytest.approx(0.375)
    assert steps["Switch on", "resin"][1] == pytest.approx(348.15)


def test_a_drum_that_passes_its_spray_set_point_is_warned_of(tmp_path: Path) -> None:
    filled = day(tmp_path, {"materials.spray_temperature@1": 45, "materials.spray_low@1": 40})
    assert told(filled) == [
        "Equipment!B13: Resin drum target temperature is 50 °C; it will pass its spray set "
        "point of 45 °C, "
        "and a heater cannot cool; set its target at or below it"
    ]
    assert plan(filled)["Passes its set point", "resin"][2] == (
        "The resin drum will pass its spray set point of 45 °C, and a heater cannot cool: set "
        "its target at or below it."
    )


def test_a_set_point_above_the_data_sheet_is_refused(tmp_path: Path) -> None:
    filled = day(tmp_path, {"iso_heat_limit": 70, "iso_drum_high": 45})
    assert told(filled)[0] == (
        "Equipment!B9: Iso set point while warming is 75 °C; it must "
        "not be above Iso never warmer than, 70 °C"
    )
    assert filled.problem_count == 1
    assert plan(filled)["No plan", "both"][2].startswith(
        "No plan before this is mended: Equipment!"
    )


def test_a_drum_that_is_warm_already_takes_no_time(tmp_path: Path) -> None:
    filled = day(tmp_path, {"drum_start": 50})
    assert si(filled, "iso_warm_up_time") == 0
    assert si(filled, "iso_energy") == 0
    assert si(filled, "energy_drawn") == 0
    assert plan(filled)["Warm already", "iso"][2].endswith("the iso drum is warm already.")


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
def test_course_shows_each_drum_until_all_is_ready(tmp_path: Path, current: float | None) -> None:
    names = {"supply_voltage": 400, "supply_current": current, "supply_phases": "three phase"}
    filled = day(tmp_path, names if current else None)
    rows = filled.values.studies["course"]
    assert rows[0][1:3] == pytest.approx((288.15, 288.15))
    ends = [si(filled, f"{side}_warm_up_time") for side in ("iso", "resin")]
    last = []
    for column, end in enumerate(ends, 1):
        drawn = [row for row in rows if row[column] is not None]
        assert drawn[-1][0] == pytest.approx(max(*ends, 3600) + 1800 + 900)
        warming = [row for row in drawn if row[0] <= end * (1 + 1e-9)]
        assert warming[-1][0] == pytest.approx(end)
        last.append(warming[-1][column])
        # Left alone from there on, it falls.
        alone = [row[column] for row in drawn if row[0] >= end * (1 - 1e-9)]
        assert alone == sorted(alone, reverse=True) and alone[-1] < alone[0]
        # The set point goes back there: 75 °C before, 65 °C after.
        points = {row[0]: row[column + 4] for row in warming[:-1]}
        assert set(points.values()) == {348.15}
        assert {row[column + 4] for row in rows if row[0] > end} == {338.15}
    # Ready after the longest of warming and stirring, the set-up and the panel.
    ready = max(*ends, 3600) + 1800 + 900
    assert [row[0] for row in rows[-2:]] == pytest.approx([ready, ready])
    assert rows[-2][7] < rows[-1][7]
    # A drawing, not the answer: steps over the change from power to set point cost 0.4 mK.
    assert last == pytest.approx([323.15, 323.15], abs=2e-3)
    for column, end in enumerate(ends, 1):
        line = [row[column] for row in rows if row[column] is not None and row[0] <= end]
        assert line == sorted(line)


def test_the_hose_is_switched_on_so_that_it_is_warm_with_the_drums(tmp_path: Path) -> None:
    filled = day(tmp_path)
    at, temperature, words = plan(filled)["Hose", "both"]
    before = si(filled, "preparation_needed") - si(filled, "hose_warm_up")
    assert (at - si(filled, "switch_on")) * 86400 == pytest.approx(before)
    assert temperature == pytest.approx(338.15)
    assert words.endswith("hose on, set to 65 °C, open to the drums, never shut and full.")
    # One that needs longer than the drums goes on before them.
    filled = day(tmp_path, {"hose_heating": 32, "hose_wall": 3})
    assert plan(filled)["Hose", "both"][0] < si(filled, "switch_on")


def test_a_supply_that_is_too_small_comes_first_in_the_plan(tmp_path: Path) -> None:
    filled = day(tmp_path, {"supply_voltage": 230, "supply_current": 32})
    step, _, _, _, words = filled.values.studies["warm_up"][0]
    assert step == "Supply too small"
    assert "Do not switch all on at once: ask a licensed electrician" in words


def test_a_supply_that_was_not_told_is_said(tmp_path: Path) -> None:
    assert "was not looked at" in plan(day(tmp_path))["Supply unknown", "both"][2]


def test_without_a_plan_the_cells_to_mend_are_named(tmp_path: Path) -> None:
    filled = day(tmp_path, {"iso_heater_power": "six"})
    assert plan(filled)["No plan", "both"][2] == "No plan before this is mended: Equipment!B8."


NEVER = "never reached, it stops at"


def reasons(filled: Filled) -> list[str]:
    return [line.split("because ")[1].split(";")[0] for line in told(filled) if NEVER in line]


def test_never_reached__by_power(tmp_path: Path) -> None:
    # 0.36 kW over 13 W/K is 27.7 K above air of 15 °C.
    filled = day(tmp_path, {"iso_heater_power": 0.4})
    assert f"{NEVER} 42.7 °C" in told(filled)[0]
    assert reasons(filled)[0].startswith("the 0.36 kW that reach the liquid then only cover")


def test_never_reached__by_set_point_even_where_the_supply_is_small(tmp_path: Path) -> None:
    names = {"supply_voltage": 400, "supply_current": 16, "supply_phases": "three phase"}
    filled = day(tmp_path, {**names, "iso_set_point": 70, "iso_drum_target": 72})
    assert reasons(filled) == [
        "the set point of 70 °C then only covers what the drum loses to the air"
    ]


def test_never_reached__nothing_heats(tmp_path: Path) -> None:
    names = {"iso_heater_power": 0, "resin_heater_power": 8}
    filled = day(tmp_path, {**names, "supply_voltage": 230, "supply_current": 16})
    assert reasons(filled) == ["nothing heats it"]
    assert isinstance(si(filled, "resin_warm_up_time"), float)


def test_a_drum_without_losses_and_heater_stays_as_it_is(tmp_path: Path) -> None:
    names = {"air_temperature": 30, "drum_start": 5, "drum_heat_loss": 0, "iso_heater_power": 0}
    filled = day(tmp_path, {**names, "resin_heater_power": 6, "iso_drum_target": 25})
    assert f"{NEVER} 5 °C" in told(filled)[0]


def test_air_warmer_than_the_set_point_warms_the_rest__scipy_dop853(tmp_path: Path) -> None:
    names = {"air_temperature": 30, "drum_start": 5, "iso_set_point": 20, "iso_drum_target": 25}
    filled = day(tmp_path, names)
    capacity, flow = CAPACITY["iso"], FLOW_RATE["iso"]

    def slope(_time: float, t: Any) -> list[float]:
        heat = max(0.0, min(5400.0, flow * (293.15 - t[0])))
        return [(heat - 13.0 * (t[0] - 303.15)) / capacity]

    def reached(_time: float, t: Any) -> float:
        return float(t[0] - 298.15)

    solved = solve_ivp(
        slope, (0, 1e5), [278.15], "DOP853", rtol=1e-11, atol=1e-9, events=reached, max_step=20
    )
    assert si(filled, "iso_warm_up_time") == pytest.approx(solved.t_events[0][0], rel=1e-6)


def test_a_drum_that_first_cools_is_reached_once_the_other_is_warm(tmp_path: Path) -> None:
    # 1 kW beside 20 kW on 230 V, 14 A: little is left for iso until resin nears its set point.
    names = {
        "air_temperature": 0,
        "drum_start": 30,
        "iso_heater_power": 1,
        "resin_heater_power": 20,
        "supply_voltage": 230,
        "supply_current": 14,
        "hose_length": 0,
    }
    assert isinstance(si(day(tmp_path, names), "iso_warm_up_time"), float)


def test_a_drum_that_is_warm_already_needs_no_power(tmp_path: Path) -> None:
    names = {"drum_start": 55, "supply_voltage": 230, "supply_current": 10, "other_power": 3}
    filled = day(tmp_path, names)
    assert si(filled, "iso_warm_up_time") == si(filled, "resin_warm_up_time") == 0


def test_the_other_drum_gets_more_once_one_is_handed_back__scipy_dop853(tmp_path: Path) -> None:
    # Iso hands back at 40 °C to its spray set point of 65 °C: it then asks for less.
    names = {"iso_heater_power": 12, "resin_heater_power": 6, "iso_drum_target": 40}
    supply = {"supply_voltage": 230, "supply_current": 32, "hose_length": 0}
    filled = day(tmp_path, {**names, **supply})
    limit = 230 * 32 * 0.9

    def slopes(raised: bool) -> Any:
        def of(_time: float, t: Any) -> list[float]:
            points = (348.15 if raised else 338.15, 348.15)
            wanted = [
                max(0.0, min(power, FLOW_RATE[side] * (point - now)))
                for side, power, point, now in zip(
                    CAPACITY, (10800.0, 5400.0), points, t, strict=True
                )
            ]
            share = min(1.0, limit / max(sum(wanted), 1e-9))
            return [
                (want * share - 13.0 * (now - 288.15)) / capacity
                for want, now, capacity in zip(wanted, t, CAPACITY.values(), strict=True)
            ]

        return of

    def iso(_time: float, t: Any) -> float:
        return float(t[0] - 313.15)

    def resin(_time: float, t: Any) -> float:
        return float(t[1] - 323.15)

    iso.terminal = resin.terminal = True  # type: ignore[attr-defined]
    how: dict[str, Any] = {"method": "DOP853", "rtol": 1e-11, "atol": 1e-9, "max_step": 20}
    first = solve_ivp(slopes(True), (0, 1e5), [288.15, 288.15], events=iso, **how)
    second = solve_ivp(slopes(False), (first.t[-1], 1e5), first.y[:, -1], events=resin, **how)
    assert si(filled, "iso_warm_up_time") == pytest.approx(first.t[-1], rel=1e-6)
    assert si(filled, "resin_warm_up_time") == pytest.approx(second.t[-1], rel=1e-6)


def test_a_hose_that_is_off_or_too_weak_is_no_problem(tmp_path: Path) -> None:
    filled = day(tmp_path, {"hose_heating": 0})
    assert si(filled, "hose_warm_up") is None
    assert told(filled) == []
    assert ("Hose", "both") not in plan(filled)
    filled = day(tmp_path, {"hose_heating": 5})
    assert told(filled) == [
        "Equipment!B30: the hose at rest is never at 65 °C; its heater stops at 23.3 °C; "
        "recirculate warm liquid through it"
    ]
    assert si(filled, "switch_on") is not None


def test_drums_that_start_too_warm_are_warned_of(tmp_path: Path) -> None:
    names = {"iso_heat_limit": 55, "iso_set_point": 55, "hose_set_point": 50}
    filled = day(tmp_path, {"drum_start": 60, **names})
    found = "Equipment!B16: Drums before warming is 60 °C; the data sheet allows 55 °C at most"
    assert any(found in line for line in told(filled))


@pytest.mark.parametrize("seed", range(8))
def test_the_plan_in_words_keeps_the_times_of_the_table(seed: int) -> None:
    chance = random.Random(seed)
    names = {
        **NAMES,
        **{f"{side}_heater_power": chance.choice((4, 6, 9)) for side in ("iso", "resin")},
        **{f"{side}_drum_target": chance.uniform(25, 50) for side in ("iso", "resin")},
        **{f"{side}_set_point": chance.uniform(55, 79) for side in ("iso", "resin")},
        "air_temperature": chance.uniform(-5, 30),
        "drum_start": chance.uniform(5, 24),
        "stirring_time": chance.choice((5, 20, 120)),
        "supply_voltage": 400,
        "supply_current": chance.choice((20, 32, 63)),
        "supply_phases": "three phase",
    }
    values = evaluated(names, MATERIALS, [])
    at = {(row[0], row[2]): row[1] for row in values.studies["warm_up"] if row[1] is not None}
    for side in ("iso", "resin"):
        taken = (at["Stop recirculating", side] - at["Switch on", side]) % 1 * 86400
        assert taken == pytest.approx(values.names[f"{side}_warm_up_time"].si % 86400, abs=1)
        assert at["Switch on", side] == pytest.approx(values.names["switch_on"].si, abs=1e-6)
    assert at["Ready", "both"] == pytest.approx(values.names["ready_time"].si, abs=1e-6)


def test_a_blank_asks_for_no_time_whatever_is_wrong_beside_it(tmp_path: Path) -> None:
    # As the live call of the function does: the resin's target is blank, the heater is refused.
    filled = day(tmp_path, {"iso_heater_power": "six", "resin_drum_target": None})
    assert filled.values.names["iso_warm_up_time"].refused
    resin = filled.values.names["resin_warm_up_time"]
    assert resin.si is None and not resin.refused
