"""Cautions: each is raised by its own condition, names its cell, and defers to what comes first."""

import ast
import inspect
from pathlib import Path
from typing import Any

import pytest

from tests.workbook.day import SPRAYING, WEATHER, cell_of, day
from twodrum.core.takeoff import SHAPE_NAMES
from twodrum.studies import caution_words
from twodrum.studies import cautions as cautions_module
from twodrum.studies.caution_words import Usual
from twodrum.studies.cautions import CAPACITY, ENCLOSED, EXPOSURE_LIMITS, FIRST

ALWAYS = {
    "Who decides",
    "People first: when to stop",
    "Isocyanate",
    "Injection under the skin",
    "Breathing air",
    "Leaving and coming back",
    "Fire, smoke and static",
    "Electricity",
    "Hose: whip, burst, trapped pressure",
    "Drums: bulged, warm, cold",
    "Wet iso drum never resealed",
    "First aid",
    "Symptoms and health checks",
    "Spills and waste",
    "Lifting, heights, heat",
    "Noise",
    "Neighbours, overspray, dust",
}
FLOOR = {
    "areas.surface@1": "Floor B",
    "areas.shape@1": "rectangle",
    "areas.height@1": None,
}


def found(
    tmp_path: Path, names: dict[str, Any], readings: Any = None
) -> dict[str, tuple[str, ...]]:
    rows = day(tmp_path, {**FLOOR, **names}, readings or []).values.studies["cautions"]
    return {row[0]: row[1:] for row in rows}


def test_some_stand_on_every_job_and_who_decides_stands_first(tmp_path: Path) -> None:
    rows = found(tmp_path, {})
    assert set(rows) >= ALWAYS
    for where, why, precaution, source in rows.values():
        assert where
        assert why
        assert precaution
        assert source
    assert list(rows)[:2] == ["Who decides", "People first: when to stop"]
    assert rows["Who decides"][2] == FIRST
    assert FIRST.startswith(
        "Safety data sheet, machine manual, local law and a competent person decide."
    )
    assert FIRST.endswith("permits nothing.")


def test_what_kills_stands_before_what_spoils(tmp_path: Path) -> None:
    names = {"confined_space": "yes", "surface_temperature": 8, "cleaning_solvent": "acetone"}
    order = list(found(tmp_path, names))
    for first, then in (
        ("People first: when to stop", "Confined space"),
        ("Confined space", "Fire, smoke and static"),
        ("Breathing air", "First aid"),
        ("Solvent vapour", "Too near the dew point"),
        ("Drums: bulged, warm, cold", "Noise"),
    ):
        assert order.index(first) < order.index(then)


# What a foreman, a hygienist or a lawyer looks for, and where it stands.
LOOKED_FOR = {
    "People first: when to stop": ("air supply fails", "tight chest", "gas alarm", "injected"),
    "Breathing air": ("carbon monoxide", "EN 12021", "no supplied air"),
    "Leaving and coming back": ("until out of the zone", "re-entry time"),
    "First aid": ("hours later", "Eyes", "no solvent"),
    "Symptoms and health checks": ("Once sensitised, always", "each year", "Amines"),
    "Fire, smoke and static": ("hot work", "hydrogen cyanide", "earth"),
    "Drums: bulged, warm, cold": ("everyone away at once", "fire service", "crystals"),
    "Spills and waste": ("neutraliser", "vented until it has reacted", "apart"),
    "Hose: whip, burst, trapped pressure": ("Whip checks", "bends", "trips"),
    "Lifting, heights, heat": ("never by hand", "height", "heat stroke"),
    "Neighbours, overspray, dust": ("air intakes", "silica"),
    "Electricity": ("licensed electrician", "generators outside"),
}


def test_each_caution_says_what_people_look_for(tmp_path: Path) -> None:
    rows = found(tmp_path, {})
    for caution, words in LOOKED_FOR.items():
        for word in words:
            assert word in rows[caution][2], (caution, word)


def test_no_sentence_permits_anything(tmp_path: Path) -> None:
    rows = found(tmp_path, {"confined_space": "yes", "cleaning_solvent": "acetone"})
    for row in rows.values():
        for word in ("is safe", "may enter", "is allowed", "you may", "no danger"):
            assert word not in " ".join(row).lower()


@pytest.mark.parametrize(
    ("country", "limit"),
    [
        ("United States", "not above 10 % of the lower explosive limit"),
        ("Australia", "below 5 % of the lower explosive limit"),
        ("European Union", "the strictest known here (Australia)"),
        (None, "the strictest known here (Australia)"),
    ],
)
def test_a_confined_space_is_held_against_its_country_or_the_strictest(
    country: str | None, limit: str, tmp_path: Path
) -> None:
    names = {"confined_space": "yes", "exposure_country": country}
    row = found(tmp_path, names)["Confined space"]
    assert limit in row[2]
    assert ("1926" in row[3]) == (country == "United States")


@pytest.mark.parametrize(
    ("surface", "raised"),
    [("Digester 2", True), ("Pump pit, east", True), ("Tanks", True), ("Tankard sign", False)],
)
def test_a_name_that_closes_people_in_is_asked_about(
    surface: str, raised: bool, tmp_path: Path
) -> None:
    names = {"confined_space": "no", "areas.surface@1": surface}
    rows = found(tmp_path, names)
    assert ("Confined space" in rows) == raised
    assert ("hydrogen sulphide" in str(rows.get("Confined space"))) == ("Digester" in surface)


def test_a_coat_with_solvent_raises_solvent_without_another_solvents_numbers(
    tmp_path: Path,
) -> None:
    coat = {
        "cleaning_solvent": "none",
        "materials.component@2": "primer",
        "materials.volume_solids@2": 60,
        "materials.coat_film@2": 75,
        "materials.drum_volume@2": 20,
        "materials.residue@2": 0.5,
        "materials.volume_price@2": 15,
    }
    row = found(tmp_path, coat)["Solvent vapour"]
    assert "less than 100 % solids" in row[1]
    assert "cetone" not in " ".join(row)
    assert "Solvent vapour" not in found(tmp_path, {**coat, "materials.volume_solids@2": 100})


def test_american_limits_of_acetone_stand_on_american_jobs_only(tmp_path: Path) -> None:
    for country, told in (("United States", True), ("European Union", False)):
        names = {"cleaning_solvent": "acetone", "exposure_country": country}
        assert ("OSHA 1000 ppm" in found(tmp_path, names)["Solvent vapour"][2]) == told


def test_air_that_thins_acetone__reference_sf_ac(tmp_path: Path) -> None:
    words = found(tmp_path, {"cleaning_solvent": "acetone", "air_temperature": 20})
    assert "131 m³ of air for each litre" in words["Solvent vapour"][2]


def test_noise_is_told_in_minutes__osha_and_niosh_tables(tmp_path: Path) -> None:
    # 29 CFR 1910.95 table G-16: 2 h at 100 dBA; NIOSH 98-126 table 1-1: 15 min.
    assert "after 15 minutes by NIOSH, 120 by OSHA" in found(tmp_path, {})["Noise"][1]


def test_a_hose_under_pressure_holds_so_much__hand_worked(tmp_path: Path) -> None:
    # 60 m of 9.525 mm hold 4.28 L; at 240 bar (24e6)² 4.275e-3/(2 1.6e9) = 770 J.
    why = found(tmp_path, {})["Hose: whip, burst, trapped pressure"][1]
    assert "At 240 bar the liquid of one hose holds about 770 J" in why


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
    assert [name for name in rows if name.startswith("Exposure")] == ["Exposure limits"]
    for name in EXPOSURE_LIMITS:
        assert f"{name}: " in rows["Exposure limits"][2]


@pytest.mark.parametrize(
    ("country", "numbers"),
    [
        # Reference rows SF-OSHA, SF-NIOSH-TWA, SF-NIOSH-C (published, seen).
        ("United States", ("MDI", "0.02 ppm", "0.2 mg/m³", "0.005 ppm", "0.05 mg/m³", "0.020 ppm")),
        # SF-EU-8H, SF-EU-ST, SF-EU-TR (published, seen).
        (
            "European Union",
            (
                "NCO",
                "6 µg/m³",
                "12 µg/m³",
                "until 31 December 2028 10 µg/m³ over 8 h and 20 µg/m³",
                "31 December 2028",
            ),
        ),
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
    cold |= {"iso_drum_target": 30, "resin_drum_target": 30}
    rows = found(tmp_path, cold)
    assert "Hot liquid and surfaces" not in rows
    assert "Shut and full" not in rows["Hose: whip, burst, trapped pressure"][1]
    rows = found(tmp_path, {"resin_set_point": 78})
    where, why, *_ = rows["Hot liquid and surfaces"]
    assert where == f"{cell_of('resin_set_point')} (Resin set point while warming)"
    assert "78 °C" in why


def test_trapped_pressure__reference_sf_trap(tmp_path: Path) -> None:
    # 8e-4 1/K times 1.6 GPa: 12.8 bar for each kelvin, an upper bound.
    rows = found(tmp_path, {"materials.thermal_expansion@0": 0.0008})
    assert "12.8 bar for each K warmer" in rows["Hose: whip, burst, trapped pressure"][1]


def test_injection_counts_the_highest_pressure_there_is(tmp_path: Path) -> None:
    reading = [{"time": 0.4, **SPRAYING, **WEATHER, "resin_pressure": 245, "iso_pressure": 240}]
    where, why, precaution, _ = found(tmp_path, {}, reading)["Injection under the skin"]
    assert where == "Readings!F7 (Resin pressure)"
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
    assert where == "Readings!N7 (Surface)"
    assert "0.692 K" in why


@pytest.mark.parametrize("sign", ["pinholes", "blisters", "crystals in the iso", "spent dryer"])
def test_signs_of_moisture__typed_once_or_as_an_event(tmp_path: Path, sign: str) -> None:
    assert "Signs of moisture" not in found(tmp_path, {})
    rows = found(tmp_path, {"moisture_sign": sign})
    where = f"{cell_of('moisture_sign')} (Sign of moisture seen)"
    assert rows["Signs of moisture"][0] == rows["Wet iso drum never resealed"][0] == where
    event = [{"time": 0.4, "phase": "standing", "event": sign}]
    assert found(tmp_path, {}, event)["Signs of moisture"][0] == "Readings!D7 (Event)"


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
    names |= {"iso_set_point": 60, "iso_heat_limit": "x"}
    readings = [{"time": 0.4, "phase": "standing", "event": "spent dryer"}]
    assert 22 <= len(found(tmp_path, names, readings)) <= CAPACITY


@pytest.mark.parametrize("key", ["hose_set_point", "iso_heater_power", "least_dew_margin"])
def test_a_refused_cell_hides_no_caution_in_silence(tmp_path: Path, key: str) -> None:
    where, why, precaution, _ = found(tmp_path, {key: "x"})["Not all could be looked at"]
    assert cell_of(key) in where
    assert "may be missing" in why
    assert precaution.startswith("Mend them; until then take the worst for true.")
    assert "Not all could be looked at" not in found(tmp_path, {})


def titles() -> list[str]:
    """What every caution is called, as the source says it; before what a value adds."""
    found = [value.what for value in vars(caution_words).values() if isinstance(value, Usual)]
    for node in ast.walk(ast.parse(inspect.getsource(cautions_module))):
        if isinstance(node, ast.Call) and getattr(node.func, "id", "") == "Row":
            first = node.args[0]
            first = first.values[0] if isinstance(first, ast.JoinedStr) else first
            found += [first.value] if isinstance(first, ast.Constant) else []
    return [str(title) for title in found]


def test_every_caution_is_raised_by_a_test() -> None:
    own = Path(__file__).read_text(encoding="utf-8")
    assert len(titles()) > 20
    assert not [title for title in titles() if title not in own]
