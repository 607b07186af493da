"""Readings judged row by row: windows by phase, baseline and restarts, weather, words."""

from pathlib import Path
from typing import Any

import pytest

from tests.workbook.day import SPRAYING, WEATHER, day, readings_of, told

PANEL = {"time": 0.375, **SPRAYING, **WEATHER, "event": "test panel"}


def spraying(time: float, iso: float, resin: float, **more: Any) -> dict[str, Any]:
    return {"time": time, **SPRAYING, "iso_pressure": iso, "resin_pressure": resin, **more}


def verdicts(tmp_path: Path, *rows: dict[str, Any], **names: Any) -> list[str]:
    return readings_of(day(tmp_path, names, [PANEL, *rows]), "verdict")


def test_a_quick_row_is_enough(tmp_path: Path) -> None:
    filled = day(tmp_path)
    assert told(filled) == []
    assert readings_of(filled, "verdict") == [
        "Nothing found. Baseline starts here",
        *["Nothing found"] * 3,
    ]
    assert readings_of(filled, "difference") == [2e6] * 4


def test_the_part_by_viscosity_follows_the_temperatures_of_the_row(tmp_path: Path) -> None:
    # Equal viscosity at iso 65 °C and resin 55.2146 °C (reference VISC-EQ), 9.84 bar at 65/65.
    rows = [PANEL, spraying(0.4, 160, 140, resin_temperature=55.214575)]
    found = readings_of(day(tmp_path, {}, rows), "by_viscosity")
    assert found[0] == pytest.approx(984368, rel=1e-5)
    assert found[1] == pytest.approx(0, abs=1)


def test_a_change_that_viscosity_explains_is_no_change(tmp_path: Path) -> None:
    # Resin cools from 65 to 55.2146 °C: its pressure rises by 9.84 bar, and nothing is wrong.
    rows = [PANEL, spraying(0.4, 160, 149.84368, resin_temperature=55.214575)]
    filled = day(tmp_path, {"change_limit": 2}, rows)
    assert readings_of(filled, "change")[1] == pytest.approx(0, abs=200)
    assert readings_of(filled, "verdict")[1] == "Nothing found"


def test_a_slow_fall_of_one_side_is_told_at_the_first_row_that_passes(tmp_path: Path) -> None:
    rows = [PANEL, *(spraying(0.4 + i / 100, 160, 140 - 2 * i) for i in range(8))]
    filled = day(tmp_path, {}, rows)
    # Baseline 20, 20, 22 bar: 20.67. Then 24, 26, 28: the last is 7.33 away and passes 7 bar, by
    # less than gauges scatter, so the next one has to say so too; 32 bar then pass the absolute
    # limit of 30 bar.
    changes = [round(change / 1e5, 2) for change in readings_of(filled, "change")]
    assert changes[3:] == [3.33, 5.33, 7.33, 9.33, 11.33, 13.33]
    pressures = [line for line in told(filled) if "Weather" not in line]
    assert [line.split(":")[0] for line in pressures] == ["Readings!F13", "Readings!E14"]
    again = readings_of(filled, "verdict")[5]
    assert again == ("Read both gauges again: the difference stands 7.33 bar from the baseline")
    assert "it is the resin side that fell, look first at its supply" in pressures[0]


def test_the_absolute_limit_applies_whatever_the_baseline_and_the_phase(tmp_path: Path) -> None:
    found = verdicts(tmp_path, spraying(0.4, 180, 140), spraying(0.41, 180, 140, phase="standing"))
    assert "Iso stands 40 bar above the other side, more than 30 bar" in found[1]
    assert found[2] == (
        "Iso stands 40 bar above the other side, more than 30 bar: look first downstream of the "
        "iso gauge, and at the supply of the resin side"
    )


@pytest.mark.parametrize(
    "event", ["filter cleaned iso", "filter cleaned both", "tip change", "drum change resin"]
)
def test_an_event_without_a_panel_keeps_the_baseline_and_asks(tmp_path: Path, event: str) -> None:
    rows = [PANEL, spraying(0.4, 160, 140), spraying(0.41, 160, 131)]
    rows += [{"time": 0.42, "phase": "standing", "event": event}, spraying(0.43, 160, 131)]
    filled = day(tmp_path, {}, rows)
    verdict = readings_of(filled, "verdict")
    asks = f"Held against the baseline before the {event}: spray a test panel and note it"
    assert verdict[3] == f"Nothing found for standing. {asks}"
    # The fall of the resin side by 9 bar is not forgiven by the event: it is above 1.25 times 7.
    assert readings_of(filled, "change")[4] == pytest.approx(9e5)
    assert "Difference moved 9 bar since the baseline" in verdict[4]
    assert verdict[4].endswith(asks)
    rows += [spraying(0.44, 160, 128), spraying(0.45, 160, 131, event="test panel")]
    filled = day(tmp_path, {}, rows)
    verdict = readings_of(filled, "verdict")
    assert "it is the resin side that fell" in verdict[5]
    assert readings_of(filled, "change")[6] == 0
    assert verdict[6] == "Nothing found. Baseline starts here"


def test_a_row_with_a_finding_is_no_baseline(tmp_path: Path) -> None:
    rows = [spraying(0.4, 160, 150), spraying(0.41, 160, 150), spraying(0.42, 160, 100)]
    rows += [spraying(0.43, 160, 150), spraying(0.44, 160, 150)]
    filled = day(tmp_path, {}, rows)
    changes = readings_of(filled, "change")
    assert changes[3:] == pytest.approx([0, 0])
    # Iso 60 bar above resin passes the absolute limit; its change is shown, not judged again.
    assert changes[2] == pytest.approx(50e5)
    assert "since the baseline" not in readings_of(filled, "verdict")[2]


def test_a_cold_side_is_told_before_anything_is_said_of_its_pressure(tmp_path: Path) -> None:
    # Gauges as on the panel, resin far too cold: viscosity would have had it rise.
    rows = [PANEL, spraying(0.4, 160, 140, resin_temperature=48)]
    verdict = readings_of(day(tmp_path, {}, rows), "verdict")[1]
    assert verdict == "Resin temperature 48 °C is below 50 °C of the data sheet"


def test_the_baseline_does_not_hold_the_row_that_it_judges(tmp_path: Path) -> None:
    rows = [PANEL, spraying(0.4, 160, 127), spraying(0.41, 160, 125)]
    filled = day(tmp_path, {"difference_limit": 100}, rows)
    assert readings_of(filled, "change") == pytest.approx([0, 13e5, 15e5])
    assert "since the baseline" in readings_of(filled, "verdict")[1]


def test_a_row_without_a_temperature_is_not_held_against_the_baseline(tmp_path: Path) -> None:
    rows = [PANEL, spraying(0.4, 160, 140, iso_temperature=None), spraying(0.41, 160, 140)]
    filled = day(tmp_path, {}, rows)
    assert readings_of(filled, "change") == [0, None, 0]
    assert readings_of(filled, "verdict")[1] == "Iso temperature is missing"


def test_the_highest_temperature_counts_while_spraying_too_and_for_the_hose(tmp_path: Path) -> None:
    names = {
        f"materials.{end}@{row}": None for end in ("spray_low", "spray_high") for row in (0, 1)
    }
    rows = [PANEL, spraying(0.4, 160, 140, iso_temperature=95), spraying(0.41, 160, 140)]
    rows[2]["hose_temperature"] = 120
    found = readings_of(day(tmp_path, names, rows), "verdict")
    assert found[1].startswith("Iso temperature 95 °C is above 80 °C, the highest")
    assert found[2].startswith("Hose temperature 120 °C is above 80 °C, the highest")
    assert "No spray window on Materials: temperatures not judged" in found[0]


def test_a_surface_below_the_dew_point_is_called_wet(tmp_path: Path) -> None:
    found = verdicts(tmp_path, spraying(0.4, 160, 140, air=20, humidity=90, surface_reading=16))
    assert found[1] == "Do not spray: surface is 2.31 K below the dew point, wet"


def test_no_reading_is_held_against_a_window_that_cannot_be(tmp_path: Path) -> None:
    names = {"iso_pressure_low": 240, "iso_pressure_high": 120}
    found = readings_of(day(tmp_path, names, [PANEL]), "verdict")[0]
    assert found.startswith("Not fully judged: see Processing!B13")
    assert "below 240" not in found


def test_the_side_is_named_by_what_viscosity_leaves(tmp_path: Path) -> None:
    # Resin cools inside its window, which alone would lift its gauge by 9.84 bar; it stays:
    # less flows through that side, and it is the resin side that fell.
    rows = [PANEL, *(spraying(at, 160, 140, resin_temperature=55.214575) for at in (0.4, 0.41))]
    verdict = readings_of(day(tmp_path, {}, rows), "verdict")[2]
    assert "Difference moved 9.84 bar since the baseline, viscosity left out" in verdict
    assert "it is the resin side that fell" in verdict


def test_an_air_purge_does_not_restart_the_baseline(tmp_path: Path) -> None:
    rows = [PANEL, spraying(0.4, 160, 131, event="air purge")]
    assert readings_of(day(tmp_path, {}, rows), "change")[1] != 0


def test_windows_count_while_spraying_only(tmp_path: Path) -> None:
    hot = {"iso_temperature": 78, "iso_pressure": 250, "resin_pressure": 250}
    found = verdicts(
        tmp_path,
        {**spraying(0.4, 250, 250), **hot},
        {"time": 0.41, "phase": "warming", **hot},
        {"time": 0.42, "phase": "cooling", **hot},
    )
    assert found[1].startswith("Iso temperature 78 °C is above 75 °C of the data sheet")
    assert "Iso pressure 250 bar is above 240 bar of the data sheet" in found[1]
    assert found[2:] == ["Nothing found for warming", "Nothing found for cooling"]


def test_warming_is_held_against_the_highest_temperature_of_the_data_sheet(tmp_path: Path) -> None:
    found = verdicts(tmp_path, {"time": 0.4, "phase": "warming", "resin_temperature": 82})
    assert found[1] == (
        "Resin temperature 82 °C is above 80 °C, the highest that the data sheet allows"
    )


def test_weather_is_carried_forward_with_its_age(tmp_path: Path) -> None:
    rows = [PANEL, spraying(0.375 + 1 / 24, 160, 140), spraying(0.375 + 5 / 24, 160, 140)]
    filled = day(tmp_path, {}, rows)
    assert readings_of(filled, "weather_age") == pytest.approx([0, 3600, 18000])
    # 15 °C and 60 %: dew point 7.30 °C by WMO-No. 8, computed by hand; surface at 16 °C.
    assert readings_of(filled, "reading_dew_margin") == pytest.approx([8.70] * 3, abs=0.01)
    assert readings_of(filled, "verdict")[2] == (
        "Weather was read 5.0 h ago: read it again. No reading for 4.0 h before this one: what "
        "happened is not known"
    )


def test_the_oldest_part_of_the_weather_counts(tmp_path: Path) -> None:
    rows = [PANEL, spraying(0.375 + 2 / 24, 160, 140, humidity=65)]
    assert readings_of(day(tmp_path, {}, rows), "weather_age")[1] == pytest.approx(7200)


def test_below_the_dew_margin_means_do_not_spray(tmp_path: Path) -> None:
    rows = [PANEL, spraying(0.4, 160, 140, air=20, humidity=90, surface_reading=19)]
    filled = day(tmp_path, {}, rows)
    # 20 °C and 90 %: dew point 18.31 °C (psychrolib 18.31).
    assert readings_of(filled, "verdict")[1] == (
        "Do not spray: surface is 0.692 K above the dew point, less than 3 K"
    )
    assert told(filled)[0].startswith("Readings!N8: Do not spray: surface is 0.692 K above")


def test_without_weather_that_is_said_and_not_passed_over(tmp_path: Path) -> None:
    filled = day(tmp_path, {}, [{"time": 0.375, **SPRAYING}])
    assert readings_of(filled, "verdict") == [
        "Nothing found. Baseline starts here, no test panel noted: spray one and note it. "
        "Weather incomplete: dew point not judged"
    ]


def test_a_missing_pressure_while_spraying_is_said(tmp_path: Path) -> None:
    found = verdicts(tmp_path, spraying(0.4, 160, 140, resin_pressure=None))
    assert found[1] == "Resin pressure is missing"


def test_no_pressure_while_spraying_is_said(tmp_path: Path) -> None:
    names = {"iso_pressure_low": None, "resin_pressure_low": None}
    found = verdicts(tmp_path, spraying(0.4, 0, 0), **names)
    assert found[1] == "Iso has no pressure. Resin has no pressure"


def test_a_day_may_pass_midnight(tmp_path: Path) -> None:
    rows = [{**PANEL, "time": 0.98}, spraying(0.02, 160, 140)]
    filled = day(tmp_path, {}, rows)
    assert told(filled) == []
    assert readings_of(filled, "weather_age")[1] == pytest.approx(0.04 * 86400)


def test_a_run_of_one_issue_is_told_once_and_stands_beside_every_row(tmp_path: Path) -> None:
    rows = [PANEL, *(spraying(0.4 + i / 100, 250, 240) for i in range(4))]
    filled = day(tmp_path, {}, rows)
    assert len(told(filled)) == 1
    above = [line for line in readings_of(filled, "verdict") if "above 240 bar" in line]
    assert len(above) == 4


def test_the_day_in_figures_has_the_rows_with_both_pressures(tmp_path: Path) -> None:
    rows = [PANEL, {"time": 0.4, "phase": "standing"}, spraying(0.41, 150, 140)]
    found = day(tmp_path, {}, rows).values.studies["judge"]
    assert [row[0] for row in found] == [0.375, 0.41]
    assert found[1][1:6] == pytest.approx((1.5e7, 1.4e7, 1e6, 3e6, -3e6))
    # Windows of the data sheets, low and high; the change since the baseline and its limits.
    assert found[1][6:10] == (1.2e7, 1.2e7, 2.4e7, 2.4e7)
    assert found[1][11:] == (7e5, -7e5, None)


def test_the_day_in_figures_counts_on_past_midnight(tmp_path: Path) -> None:
    rows = [{**PANEL, "time": 0.98}, spraying(0.02, 160, 140)]
    found = day(tmp_path, {}, rows).values.studies["judge"]
    assert [row[0] for row in found] == pytest.approx([0.98, 1.02])


def test_no_row_is_silent_while_something_of_it_is_refused(tmp_path: Path) -> None:
    for name in ("iso_left", "hose_temperature", "humidity", "iso_temperature", "event"):
        rows = [PANEL, {**spraying(0.4, 160, 140), name: "x"}]
        verdict = readings_of(day(tmp_path, {}, rows), "verdict")[1]
        assert verdict.startswith("Not fully judged: see Readings!"), name


@pytest.mark.parametrize(
    "key", ["iso_viscosity_1", "hose_bore", "pump_output", "iso_pressure_high", "least_dew_margin"]
)
def test_no_row_is_silent_while_a_limit_or_a_curve_is_refused(tmp_path: Path, key: str) -> None:
    verdict = readings_of(day(tmp_path, {key: "x"}, [PANEL]), "verdict")[0]
    assert "Not fully judged: see" in verdict


def test_a_material_that_is_misspelt_takes_its_window_with_it(tmp_path: Path) -> None:
    verdict = readings_of(day(tmp_path, {"materials.component@0": "isso"}, [PANEL]), "verdict")[0]
    assert verdict.startswith("Not fully judged: see Materials!A7")


def test_a_refused_event_or_phase_makes_the_baseline_unknown(tmp_path: Path) -> None:
    for name in ("event", "phase"):
        rows = [PANEL, {**spraying(0.4, 160, 140), name: "x"}, spraying(0.41, 160, 140)]
        rows += [spraying(0.42, 160, 140, event="tip change"), spraying(0.43, 160, 140)]
        filled = day(tmp_path, {}, rows)
        changes = [row["change"] for row in filled.values.tables["readings"].rows]
        assert changes[2].refused, name
        assert changes[3].si == changes[4].si == 0, name


def test_a_time_that_is_refused_leaves_the_age_of_the_weather_unknown(tmp_path: Path) -> None:
    rows = [{**PANEL, "time": "9h"}, spraying(0.6, 160, 140)]
    ages = [row["weather_age"] for row in day(tmp_path, {}, rows).values.tables["readings"].rows]
    assert [age.refused for age in ages] == [True, True]
    assert ages[1].roots == ("Readings!L7", "Readings!M7", "Readings!N7")


def test_one_late_time_is_named_and_the_rows_after_it_are_not(tmp_path: Path) -> None:
    # 20:24 typed for 08:24.
    times = (0.33, 0.85, 0.37, 0.39, 0.41)
    rows = [{**PANEL, "time": times[0]}, *(spraying(time, 160, 140) for time in times[1:])]
    filled = day(tmp_path, {}, rows)
    assert told(filled) == [
        "Readings!B8: Time is 20:24; it must fit between the rows beside it; the one above is "
        "07:55; put the rows in their order; type the date where a new day begins; where a clock "
        "was set back, go on with the old time"
    ]
    assert readings_of(filled, "verdict")[1].startswith("Not fully judged: see Readings!B8")
    assert len(filled.values.studies["judge"]) == 4


def test_a_sign_of_moisture_stands_in_its_verdict(tmp_path: Path) -> None:
    found = verdicts(tmp_path, spraying(0.4, 160, 140, event="spent dryer"))
    assert found[1] == "A sign of moisture: spent dryer, see Cautions"


def test_missing_temperatures_while_spraying_are_said(tmp_path: Path) -> None:
    rows = spraying(0.4, 160, 140, iso_temperature=None, resin_temperature=None)
    assert verdicts(tmp_path, rows)[1] == "Iso temperature is missing. Resin temperature is missing"


def test_air_that_is_very_cold_and_dry_is_judged(tmp_path: Path) -> None:
    rows = [spraying(0.4, 160, 140, air=-40, humidity=1, surface_reading=20)]
    filled = day(tmp_path, {}, rows)
    assert readings_of(filled, "reading_dew_margin")[0] > 80


def test_a_side_that_rises_is_looked_for_downstream(tmp_path: Path) -> None:
    found = verdicts(tmp_path, spraying(0.4, 160, 140), spraying(0.41, 173, 140))
    assert found[2].endswith(
        "it is the iso side that rose, look first downstream of its gauge: debris past a split "
        "mesh at gun or tip, a blocked gun filter"
    )


def test_a_drum_is_judged_in_every_phase(tmp_path: Path) -> None:
    names = {"iso_drum_low": 40, "iso_drum_high": 50, "iso_heat_limit": 82}
    found = verdicts(
        tmp_path,
        {"time": 0.4, "phase": "warming", "iso_drum": 85},
        {"time": 0.41, "phase": "warming", "iso_drum": 20},
        {"time": 0.42, "phase": "standing", "iso_drum": 60},
        spraying(0.43, 160, 140, iso_drum=30),
        spraying(0.44, 160, 140, iso_temperature=83),
        **names,
    )
    assert found[1].startswith("Iso drum 85 °C is above 82 °C, the highest")
    assert found[2] == "Nothing found for warming"
    assert found[3] == "Iso drum 60 °C is above 50 °C of the data sheet"
    assert found[4].startswith("Iso drum 30 °C is below 40 °C of the data sheet")
    assert found[5].startswith("Iso temperature 83 °C is above 82 °C, the highest")


def test_the_worst_message_leads(tmp_path: Path) -> None:
    wet = spraying(0.4, 250, 140, air=20, humidity=90, surface_reading=19, iso_temperature=95)
    found = verdicts(tmp_path, wet)[1]
    order = ["Iso temperature 95 °C", "Do not spray", "Iso stands 110 bar", "Iso pressure 250 bar"]
    places = [found.index(words) for words in order]
    assert places == sorted(places)


def test_no_baseline_begins_on_a_row_that_says_do_not_spray(tmp_path: Path) -> None:
    wet = {**PANEL, "humidity": 99}
    dry = spraying(0.4, 160, 140, air=15, humidity=60, surface_reading=16)
    found = readings_of(day(tmp_path, {}, [wet, dry]), "verdict")
    assert "Baseline" not in found[0]
    assert "Baseline starts here" in found[1]


def test_levels_that_fall_unequally_are_told_while_it_sprays(tmp_path: Path) -> None:
    rows = [
        {**PANEL, "iso_left": 200, "resin_left": 200},
        spraying(0.4, 160, 140, iso_left=110, resin_left=130),
        spraying(0.42, 160, 140, iso_left=20, resin_left=60),
    ]
    found = readings_of(day(tmp_path, {}, rows), "verdict")
    assert found[2].startswith("Off the ratio: levels fell since 09:00: iso by 180 L and resin by ")
    assert "iso 28.6 % above its ratio" in found[2]
    rows[2] = spraying(0.42, 160, 140, iso_left=20, resin_left=22)
    assert readings_of(day(tmp_path, {}, rows), "verdict")[2] == "Nothing found"


def test_both_gauges_falling_together_are_told(tmp_path: Path) -> None:
    found = verdicts(tmp_path, spraying(0.4, 160, 140), spraying(0.41, 140, 120))
    assert found[2].startswith("Both pressures fell together by 20 bar and more since the baseline")


def test_pressure_on_the_row_of_an_open_filter_is_told(tmp_path: Path) -> None:
    row = {"time": 0.4, "phase": "standing", "event": "filter cleaned iso", "iso_pressure": 150}
    found = verdicts(tmp_path, row, {**row, "time": 0.41, "iso_pressure": 0})
    assert found[1].startswith(
        "150 bar stands in the row of a filter: a filter is opened only when"
    )
    assert "150 bar" not in found[2]


def test_a_misread_digit_is_named_and_a_real_fall_is_not(tmp_path: Path) -> None:
    found = verdicts(tmp_path, spraying(0.4, 186, 170), spraying(0.41, 116, 170))
    assert "Iso pressure is 116 bar: 186 would fit the row before; read it again" in found[2]
    rows = [spraying(0.4, 186, 170), spraying(0.41, 116, 170), spraying(0.42, 116, 170)]
    assert "would fit the row before" not in verdicts(tmp_path, *rows)[3]


def test_unequal_parts_are_not_judged_by_the_viscosity_of_one_port(tmp_path: Path) -> None:
    found = verdicts(tmp_path, spraying(0.4, 160, 140), **{"materials.ratio_part@0": 2})
    assert (
        "Unequal parts: type the port of resin on Equipment for what viscosity explains" in found[1]
    )


def test_weather_of_two_hours_ago_is_read_again(tmp_path: Path) -> None:
    rows = [PANEL, spraying(0.375 + 2 / 24, 160, 140)]
    assert readings_of(day(tmp_path, {}, rows), "verdict")[1].startswith("Weather was read 2.0 h")
