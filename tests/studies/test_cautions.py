"""Cautions: each is raised by its own condition, names its cell, and defers to what comes first."""

from pathlib import Path
from typing import Any

import pytest

from tests.workbook.day import SPRAYING, WEATHER, cell_of, day
from twodrum.core.takeoff import SHAPE_NAMES
from twodrum.studies.cautions import CAPACITY, ENCLOSED, EXPOSURE_LIMITS, FIRST

ALWAYS = {
    "Isocyanate",
    "Injection under the skin",
    "Wet iso drum never resealed",
    "Iso and resin waste apart",
    "Noise",
}
FLOOR = {"areas.shape@1": "rectangle", "areas.height@1": None}


def found(
    tmp_path: Path, names: dict[str, Any], readings: Any = None
) -> dict[str, tuple[str, ...]]:
    rows = day(tmp_path, {**FLOOR, **names}, readings or []).values.studies["cautions"]
    return {row[0]: row[1:] for row in rows}


def test_some_stand_on_every_job_and_every_one_defers(tmp_path: Path) -> None:
    rows = found(tmp_path, {})
    assert set(rows) >= ALWAYS
    for where, why, precaution, source in rows.values():
        assert where
        assert why
        assert source
        assert precaution.endswith(FIRST)
    assert FIRST == "Data sheet, local code and licensed practice come first."


def test_a_confined_space__not_asked_for_where_answered_and_open(tmp_path: Path) -> None:
    assert "Confined space" not in found(tmp_path, {"confined_space": "no"})


@pytest.mark.parametrize(
    ("answer", "words"),
    [("yes", "answered with yes"), (None, "was not answered")],
)
def test_a_confined_space__ticked_or_unanswered(
    tmp_path: Path, answer: str | None, words: str
) -> None:
    where, why, *_ = found(tmp_path, {"confined_space": answer})["Confined space"]
    assert where == f"{cell_of('confined_space')} (Work in a confined space)"
    assert words in why


@pytest.mark.parametrize("shape", ["pit", "pipe", "tank shell", "manhole", "sphere"])
def test_a_confined_space__by_shape_even_where_the_answer_is_no(tmp_path: Path, shape: str) -> None:
    where, why, *_ = found(tmp_path, {"areas.shape@1": shape})["Confined space"]
    assert where == cell_of("areas.shape@1")
    assert shape in why


def test_every_shape_that_closes_people_in_is_a_shape() -> None:
    assert set(ENCLOSED) <= set(SHAPE_NAMES)


@pytest.mark.parametrize("country", EXPOSURE_LIMITS)
def test_exposure_limits_are_those_of_the_country(tmp_path: Path, country: str) -> None:
    rows = found(tmp_path, {"exposure_country": country})
    assert [name for name in rows if name.startswith("Exposure")] == [f"Exposure limit, {country}"]


@pytest.mark.parametrize("country", [None, "elsewhere"])
def test_exposure_limits__all_are_told_where_the_country_is_not_known(
    tmp_path: Path, country: str | None
) -> None:
    rows = found(tmp_path, {"exposure_country": country})
    assert len([name for name in rows if name.startswith("Exposure")]) == len(EXPOSURE_LIMITS)


@pytest.mark.parametrize(
    ("country", "numbers"),
    [
        # Reference rows SF-OSHA, SF-NIOSH-TWA, SF-NIOSH-C (published, seen).
        ("United States", ("MDI", "0.02 ppm", "0.2 mg/m³", "0.005 ppm", "0.05 mg/m³", "0.020 ppm")),
        # SF-EU-8H, SF-EU-ST, SF-EU-TR (published, seen).
        ("European Union", ("NCO", "6 µg/m³", "12 µg/m³", "10 and 20 µg/m³", "31 December 2028")),
        # SF-UK (from memory).
        ("United Kingdom", ("NCO", "0.02 mg/m³", "0.07 mg/m³")),
    ],
)
def test_exposure_limits_say_substance_and_numbers__reference(
    country: str, numbers: tuple[str, ...]
) -> None:
    for number in numbers:
        assert number in EXPOSURE_LIMITS[country][0]


def test_heat__above_touch_only(tmp_path: Path) -> None:
    cold = {"iso_set_point": 40, "resin_set_point": 40, "hose_set_point": 40}
    cold |= {"iso_hand_back": 30, "resin_hand_back": 30}
    rows = found(tmp_path, cold)
    assert "Hot liquid and surfaces" not in rows
    assert "Pressure trapped in a hot hose" not in rows
    rows = found(tmp_path, {"resin_set_point": 78})
    where, why, *_ = rows["Hot liquid and surfaces"]
    assert where == f"{cell_of('resin_set_point')} (Resin set point while warming)"
    assert "78 °C" in why


def test_trapped_pressure__reference_sf_trap(tmp_path: Path) -> None:
    # 8e-4 1/K times 1.6 GPa: 12.8 bar for each kelvin, an upper bound.
    rows = found(tmp_path, {"materials.thermal_expansion@0": 0.0008})
    assert "12.8 bar for each kelvin" in rows["Pressure trapped in a hot hose"][1]


def test_injection_counts_the_highest_pressure_there_is(tmp_path: Path) -> None:
    reading = [{"time": 0.4, **SPRAYING, **WEATHER, "resin_pressure": 245, "iso_pressure": 240}]
    where, why, precaution, _ = found(tmp_path, {}, reading)["Injection under the skin"]
    assert where == "Readings!E7 (Resin pressure)"
    assert why == "245 bar are about 35 times what breaches skin."
    assert "surgical emergency" in precaution


@pytest.mark.parametrize(
    ("solvent", "raised"),
    [("none", False), ("acetone", True), ("another solvent", True), (None, True)],
)
def test_solvent(tmp_path: Path, solvent: str | None, raised: bool) -> None:
    rows = found(tmp_path, {"cleaning_solvent": solvent})
    assert ("Solvent vapour" in rows) == raised
    if solvent == "acetone":
        assert "Acetone boils at 56 °C, 133 °F" in rows["Solvent vapour"][1]
        assert cell_of("iso_set_point") in rows["Solvent vapour"][0]


def test_dew_margin__from_the_forecast_and_from_the_worst_reading(tmp_path: Path) -> None:
    assert "Too near the dew point" not in found(tmp_path, {})
    where, *_ = found(tmp_path, {"surface_temperature": 8})["Too near the dew point"]
    assert where.startswith("Quantities!")
    rows = [{"time": 0.4, **SPRAYING, "air": 20, "humidity": 90, "surface_reading": 19}]
    where, why, *_ = found(tmp_path, {}, rows)["Too near the dew point"]
    assert where == "Readings!M7 (Surface)"
    assert "0.692 K" in why


@pytest.mark.parametrize("sign", ["pinholes", "blisters", "crystals in the iso", "spent dryer"])
def test_signs_of_moisture__typed_once_or_as_an_event(tmp_path: Path, sign: str) -> None:
    assert "Signs of moisture" not in found(tmp_path, {})
    rows = found(tmp_path, {"moisture_sign": sign})
    where = f"{cell_of('moisture_sign')} (Sign of moisture seen)"
    assert rows["Signs of moisture"][0] == rows["Wet iso drum never resealed"][0] == where
    event = [{"time": 0.4, "phase": "standing", "event": sign}]
    assert found(tmp_path, {}, event)["Signs of moisture"][0] == "Readings!C7 (Event)"


def test_load_above_the_supply(tmp_path: Path) -> None:
    supply = {"supply_voltage": 230, "supply_current": 50}
    where, why, precaution, _ = found(tmp_path, supply)["Load above the supply"]
    assert "Warm-up" in where
    assert why == "All loads together are 14.4 kW, the supply carries 11.5 kW."
    assert "licensed electrician" in precaution
    enough = {"supply_voltage": 230, "supply_current": 63}
    assert "Load above the supply" not in found(tmp_path, enough)


def test_all_cautions_at_once_fit_on_the_sheet(tmp_path: Path) -> None:
    names = {
        "confined_space": None,
        "exposure_country": None,
        "cleaning_solvent": "acetone",
        "moisture_sign": "pinholes",
        "surface_temperature": 8,
        "supply_voltage": 230,
        "supply_current": 40,
    }
    assert len(found(tmp_path, names)) <= CAPACITY - 4


@pytest.mark.parametrize("key", ["hose_set_point", "iso_heater_power", "least_dew_margin"])
def test_a_refused_cell_hides_no_caution_in_silence(tmp_path: Path, key: str) -> None:
    where, why, precaution, _ = found(tmp_path, {key: "x"})["Not all could be looked at"]
    assert cell_of(key) in where
    assert "may be missing" in why
    assert precaution.startswith("Mend them; until then take the worst for true.")
    assert "Not all could be looked at" not in found(tmp_path, {})
