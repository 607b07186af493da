"""Balance through the workbook: the reference example of two liquids, and in words."""

from pathlib import Path

import pytest

from tests.check_tables import rows
from tests.workbook.day import day, si, told
from twodrum.commands.fill import Filled

REFERENCE = {row.id: row for row in rows("process")}


def test_gauges__reference_example__pr_tot_a_and_b(tmp_path: Path) -> None:
    # The job is the example: equal bores, 2 L/min a side, both sides at 65 °C.
    filled = day(tmp_path)
    # Sums of hose, whip and orifice by hand; hose terms checked with the library fluids.
    for name, expected in (("iso_gauge", 16086866), ("resin_gauge", 13743518)):
        assert si(filled, name) == pytest.approx(expected, rel=1e-6)
    assert si(filled, "viscosity_part") == pytest.approx(REFERENCE["PR-DIFV"].expected, rel=1e-6)
    density = REFERENCE["PR-OR-A"].expected - REFERENCE["PR-OR-B"].expected
    assert si(filled, "density_part") == pytest.approx(density, rel=1e-6)
    total = si(filled, "viscosity_part") + si(filled, "density_part")
    assert si(filled, "gauge_difference") == pytest.approx(total, rel=1e-12)


def test_resin_trim__reference_example__pr_trim1(tmp_path: Path) -> None:
    found = si(day(tmp_path), "resin_trim") - 273.15
    assert found == pytest.approx(REFERENCE["PR-TRIM1"].expected, abs=1e-4)


def findings(filled: Filled) -> dict[str, tuple[float | None, float | None, str]]:
    rows = filled.values.studies["balance"]
    return {row[0]: (row[1], row[3], row[4]) for row in rows}


def test_a_trim_that_the_window_stops_says_what_is_left(tmp_path: Path) -> None:
    # Iso at its upper end of 75 °C is thinner, but not as thin as resin at 65 °C.
    filled = day(tmp_path)
    left, temperature, words = findings(filled)["Trim iso, leave resin"]
    assert temperature == pytest.approx(348.15)
    # 80 exp(5803.63 (1/348.15 - 1/338.15)) mPa s against 45: R q (48.86 - 45) by hand.
    assert left == pytest.approx(1.087e5, rel=2e-3)
    assert words == (
        "The window of the data sheet ends first: at its upper end, 75 °C, viscosity still makes "
        "1.09 bar. This trim or the other, never both."
    )


def test_a_trim_inside_the_window_nulls_the_part_by_viscosity(tmp_path: Path) -> None:
    left, temperature, words = findings(day(tmp_path))["Trim resin, leave iso"]
    assert left is None
    assert temperature == pytest.approx(328.3646, abs=1e-3)
    assert words == (
        "Resin at 55.2 °C instead of 65 °C takes the part by viscosity away, inside the data "
        "sheet's window. This trim or the other, never both."
    )


def test_what_was_read_last_stands_beside_what_was_expected(tmp_path: Path) -> None:
    pressure, _, words = findings(day(tmp_path))["Read last"]
    assert pressure == pytest.approx(20e5)
    assert words == (
        "The last reading while spraying has 20 bar, the iso side higher; 23.4 bar were expected."
    )
    assert "Read last" not in findings(day(tmp_path, {}, []))


def test_the_density_part_is_a_prediction_with_its_uncertainty__hand_worked(tmp_path: Path) -> None:
    # 13.59 bar at a coefficient of 0.75: 11.4 bar at 0.82 (short tube), 19.9 bar at 0.62 (sharp
    # edge), coefficients of the Encyclopaedia Britannica of 1911.
    words = findings(day(tmp_path, {"discharge_coefficient": None}))["Stays, by density"][2]
    assert "About 11.4 bar stay" in words
    assert "11.4 bar to 19.9 bar" in words
    assert "do not trim it away" in words


def test_what_lies_outside_is_said_and_not_refused(tmp_path: Path) -> None:
    names = {"iso_pressure_low": 200, "iso_pressure_high": 260, "difference_limit": 20}
    found = findings(day(tmp_path, names, []))
    assert "below the 200 bar of the data sheet" in found["Outside the window"][2]
    assert found["Over the limit"][2].startswith("More than the 20 bar that the office allows")


def test_a_flow_that_is_not_laminar_is_said(tmp_path: Path) -> None:
    names = {"pump_output": 400, "hose_bore": 5}
    filled = day(tmp_path, names, [])
    assert "Not laminar" in findings(filled)
    assert any("Reynolds number" in line for line in told(filled))


def test_without_a_hose_nothing_is_predicted(tmp_path: Path) -> None:
    filled = day(tmp_path, {"hose_length": None})
    assert si(filled, "iso_gauge") is None
    assert si(filled, "iso_orifice") is not None
    assert filled.values.studies["balance"] == []


def test_the_bore_of_the_orifice_is_looked_at_too(tmp_path: Path) -> None:
    filled = day(tmp_path, {"pump_output": 8, "resin_viscosity_2": 20}, [])
    words = findings(filled)["Not laminar"][2]
    assert words.startswith("The resin flow in the mixing chamber port has a Reynolds number of 7")


def test_a_spray_temperature_outside_the_points_is_a_guess_and_said_so(tmp_path: Path) -> None:
    names = {"iso_temperature_2": 60}
    filled = day(tmp_path, names, [])
    assert told(filled) == [
        "Balance!B119: iso is sprayed at 65 °C; its viscosity is known from 25 °C to 60 °C only; "
        "what viscosity makes is a guess there"
    ]


def test_a_coefficient_that_was_typed_is_not_called_unknown(tmp_path: Path) -> None:
    words = findings(day(tmp_path, {"discharge_coefficient": 50}, []))["Stays, by density"][2]
    assert "unknown" not in words
    assert words.startswith("About 30.6 bar stay")


def test_level_sides_have_nothing_to_trim(tmp_path: Path) -> None:
    names = {
        f"resin_{name}_{n}": value
        for n, t, v in ((1, 25, 800), (2, 65, 80))
        for name, value in (("temperature", t), ("viscosity", v))
    }
    found = findings(day(tmp_path, {**names, "materials.density@1": 1120}, []))
    assert found["Difference to expect"][2] == "The gauges are expected to stand level."
    assert found["Trim iso, leave resin"][2].startswith("Nothing to trim")
