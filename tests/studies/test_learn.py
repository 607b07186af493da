"""A warm-up log typed into the day: power and loss with their uncertainty, plan against day."""

import math
from pathlib import Path
from typing import Any

import pytest

from tests.core.test_warm_up_fit import COOLING, READ
from tests.workbook.day import SPRAYING, WEATHER, day, si, told
from twodrum.commands.fill import Filled
from twodrum.core.warm_up_fit import fit_warm_up_and_start

PANEL = {"time": 0.5, **SPRAYING, **WEATHER, "event": "test panel"}
# A drum of 411707 J/K as in the reference: 200 L of 1120 kg/m³ and 1.8 kJ/(kg K), 18.1 kg steel.
CAPACITY = 0.2 * 1120 * 1800 + 18.1 * 470
NAMES = {
    "air_temperature": 12,
    "recirculation_flow": 20,
    "iso_drum_target": 50,
    "materials.drum_volume@0": 200,
    "materials.drum_volume@1": 200,
}


def log(temperatures: list[float], step: float = 300.0, side: str = "iso") -> list[dict[str, Any]]:
    return [
        {"time": 0.2 + index * step / 86400, "phase": "warming", f"{side}_drum": temperature}
        for index, temperature in enumerate(temperatures)
    ]


def cooling(side: str = "iso") -> list[dict[str, Any]]:
    return [
        {"time": 0.2 + (3600 + time) / 86400, "phase": "cooling", f"{side}_drum": kelvin - 273.15}
        for time, kelvin in COOLING
    ]


def test_a_log_typed_in__reference_cal_a_with_its_start_fitted(tmp_path: Path) -> None:
    filled = day(tmp_path, NAMES, log(READ))
    times = [300.0 * n for n in range(len(READ))]
    fit = fit_warm_up_and_start(CAPACITY, 285.15, times, [t + 273.15 for t in READ])
    # The reference holds the start at 14 °C: 5353 ± 55 W.
    assert si(filled, "iso_learned_power") == pytest.approx(fit.power, rel=1e-6)
    assert si(filled, "iso_learned_power") == pytest.approx(5353, abs=2 * 55)
    low, high = (si(filled, f"iso_learned_power_{end}") for end in ("low", "high"))
    # Wider than of the scatter alone: 3 % for the specific heat, 4 K for air that was not read.
    half = fit.reach(0.03, 4.0)[0]
    assert half > (fit.power_high - fit.power_low) / 2
    assert (low, high) == pytest.approx((fit.power - half, fit.power + half), rel=1e-6)
    # Heating alone hardly tells the loss.
    assert si(filled, "iso_learned_loss_high") - si(filled, "iso_learned_loss_low") > 10
    assert si(filled, "iso_learned_share") == pytest.approx(fit.power / 6000)
    assert si(filled, "resin_learned_power") is None


def test_a_stretch_of_cooling_sharpens_it__reference_cal_b(tmp_path: Path) -> None:
    filled = day(tmp_path, NAMES, [*log(READ), *cooling()])
    # Reference, start known: 5390 ± 13 W and 14.09 ± 0.10 W/K.
    assert si(filled, "iso_learned_power") == pytest.approx(5390, abs=40)
    assert si(filled, "iso_learned_loss") == pytest.approx(14.09, abs=0.3)
    # What the specific heat and air that was not read leave open: 6 % and 4 K of 44 K.
    width = si(filled, "iso_learned_loss_high") - si(filled, "iso_learned_loss_low")
    assert width / 2 == pytest.approx(14.09 * math.hypot(0.0588, 4 / 44.2), rel=0.05)


def test_air_that_was_read_all_along_leaves_less_open(tmp_path: Path) -> None:
    rows = [*log(READ), *cooling()]
    steady = day(tmp_path, NAMES, [{**row, "air": 12} for row in rows])
    once = day(tmp_path, NAMES, rows)

    def width(filled: Filled) -> float:
        return float(si(filled, "iso_learned_loss_high") - si(filled, "iso_learned_loss_low"))

    assert width(steady) < 0.8 * width(once)


def test_how_long_it_took_stands_against_the_plan(tmp_path: Path) -> None:
    filled = day(tmp_path, NAMES, log(READ))
    # 50 °C between 47.8 °C at 45 min and 51.2 °C at 50 min.
    took = 2700 + (50 - 47.8) / (51.2 - 47.8) * 300
    assert si(filled, "iso_warmed_in") == pytest.approx(took)
    planned = si(filled, "iso_warm_up_time")
    assert si(filled, "iso_warm_up_off") == pytest.approx(took / planned - 1)


def test_a_drum_that_took_far_longer_is_told(tmp_path: Path) -> None:
    slow = log(READ, 600.0)
    # The drum itself, above its window, is told by the verdict of its row.
    lines = [line for line in told(day(tmp_path, NAMES, slow)) if "the verdict" not in line]
    assert len(lines) == 1
    assert "the drum took 96.5 min to where it is warmed to" in lines[0]
    assert lines[0].endswith("if it was full, type what was learned on Equipment for the next job")


@pytest.mark.parametrize(
    ("temperatures", "words"),
    [
        (READ[:4], "4 drum temperatures while the heater works at full power; 5 or more"),
        ([14.0] * 8, "these drum temperatures are too flat"),
        ([14, 45, 12, 50, 11, 48, 13, 49], "these drum temperatures"),
    ],
)
def test_a_log_that_teaches_nothing_says_why(
    temperatures: list[float], words: str, tmp_path: Path
) -> None:
    filled = day(tmp_path, {**NAMES, "iso_drum_target": 54}, log(temperatures))
    assert si(filled, "iso_learned_power") is None
    assert words in told(filled)[0]


def test_readings_where_the_set_point_limits_are_left_out(tmp_path: Path) -> None:
    # At 4 L/min the heater works at full power up to 75 °C less 5400 W/(134.4 W/K): 34.8 °C.
    filled = day(tmp_path, {**NAMES, "recirculation_flow": 4}, log(READ))
    below = [t for t in READ if t <= 34.8]
    times = [300.0 * n for n in range(len(below))]
    fit = fit_warm_up_and_start(CAPACITY, 285.15, times, [t + 273.15 for t in below])
    assert si(filled, "iso_learned_power") == pytest.approx(fit.power, rel=1e-6)


def test_what_is_read_after_spraying_is_no_part_of_the_log(tmp_path: Path) -> None:
    rows = [*log(READ), PANEL, {"time": 0.8, "phase": "cooling", "iso_drum": 20}]
    plain = day(tmp_path, NAMES, log(READ))
    filled = day(tmp_path, NAMES, rows)
    assert si(filled, "iso_learned_power") == si(plain, "iso_learned_power")


def test_a_refused_drum_temperature_refuses_what_would_be_learned(tmp_path: Path) -> None:
    rows = log(READ)
    rows[3]["iso_drum"] = "25,7"
    filled = day(tmp_path, NAMES, rows)
    assert filled.values.names["iso_learned_power"].refused
    assert filled.values.names["iso_learned_power"].roots[0].startswith("Readings!")


def test_a_drum_that_warmed_too_fast_is_asked_about(tmp_path: Path) -> None:
    # Half a drum warms as if twice the power reached a full one.
    fast = [14 + 2 * (t - 14) for t in READ[:8]]
    lines = told(day(tmp_path, {**NAMES, "iso_drum_target": 54}, log(fast)))
    assert any("was it part full? type what it held in a warming row" in line for line in lines)


def test_the_level_of_the_first_spraying_row_says_what_was_warmed(tmp_path: Path) -> None:
    rows = [*log(READ), {**PANEL, "iso_left": 100}]
    full, part = (si(day(tmp_path, NAMES, own), "iso_learned_power") for own in (log(READ), rows))
    assert part == pytest.approx(full * (0.1 * 1120 * 1800 + 18.1 * 470) / CAPACITY, rel=1e-3)
