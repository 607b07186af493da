"""Sides that differ: ratio, hose, port and pump of their own, by laws written out here."""

import math
from pathlib import Path
from typing import Any

import pytest

from tests.workbook.day import SPRAYING, readings_of, si, told, whole_day

# Two parts of iso to one of resin; resin through a wider hose and a port of its own.
SIDES: dict[str, Any] = {
    "materials.ratio_part@0": 2,
    "materials.ratio_part@1": 1,
    "resin_hose_bore": 12.7,
    "resin_whip_bore": 8,
    "resin_port_diameter": 0.45,
    "resin_port_length": 2,
}
BORES = {
    "iso": ((60, 9.525e-3), (3, 6.35e-3), (1.5e-3, 0.6e-3)),
    "resin": ((60, 12.7e-3), (3, 8e-3), (2e-3, 0.45e-3)),
}
# Litres in a minute of the four that leave the gun.
FLOW = {"iso": 4e-3 / 60 * 2 / 3, "resin": 4e-3 / 60 / 3}


def friction(side: str, viscosity: float) -> float:
    """Hagen and Poiseuille, bore by bore."""
    return sum(
        128 * viscosity * length * FLOW[side] / (math.pi * bore**4) for length, bore in BORES[side]
    )


def orifice(side: str, density: float) -> float:
    """Bernoulli through the port, coefficient 0.75."""
    area = math.pi / 4 * BORES[side][2][1] ** 2
    return density / 2 * (FLOW[side] / (0.75 * area)) ** 2


def test_each_side_has_its_own_pressure__hagen_poiseuille_and_bernoulli(tmp_path: Path) -> None:
    filled = whole_day(tmp_path, SIDES)
    assert [line for line in told(filled) if "mixed" in line] == []
    # At 65 °C both viscosities are points of the data sheet.
    for side, viscosity, density in (("iso", 0.08, 1120), ("resin", 0.045, 1010)):
        assert si(filled, f"{side}_flow") == pytest.approx(FLOW[side])
        assert si(filled, f"{side}_friction") == pytest.approx(friction(side, viscosity))
        assert si(filled, f"{side}_orifice") == pytest.approx(orifice(side, density))
    viscous = friction("iso", 0.08) - friction("resin", 0.045)
    assert si(filled, "viscosity_part") == pytest.approx(viscous)
    # What levels both: the friction of the other side at the own flow.
    level = friction("resin", 0.045) / (friction("iso", 1.0))
    assert si(filled, "iso_level_viscosity") == pytest.approx(level)
    # A reading at those temperatures is freed of just that.
    assert readings_of(filled, "by_viscosity") == pytest.approx([viscous] * 4)


def test_unequal_parts_without_the_port_of_resin_are_not_worked_out(tmp_path: Path) -> None:
    parts = {name: value for name, value in SIDES.items() if name.startswith("materials")}
    filled = whole_day(tmp_path, parts)
    assert [line for line in told(filled) if "is mixed 2 to 1" in line]
    assert readings_of(filled, "by_viscosity") == [None] * 4
    assert "type the port of resin" in readings_of(filled, "verdict")[1]


def test_what_is_blank_is_as_on_the_iso_side(tmp_path: Path) -> None:
    alike = {"resin_hose_bore": 9.525, "resin_whip_bore": 6.35}
    alike |= {"resin_port_diameter": 0.6, "resin_port_length": 1.5}
    blank, typed = whole_day(tmp_path, {}), whole_day(tmp_path, alike)
    for name in ("iso_gauge", "resin_gauge", "iso_trim", "resin_trim", "viscosity_part"):
        assert si(blank, name) == pytest.approx(si(typed, name), rel=1e-12)
    assert blank.values.names["resin_port_diameter"].assumed == "as on the iso side"


def test_strokes_of_pumps_of_two_sizes_tell_the_ratio_of_their_volumes(tmp_path: Path) -> None:
    rows = [
        {"time": 0.40, **SPRAYING, "event": "test panel", "strokes": 0, "resin_strokes": 0},
        {"time": 0.45, **SPRAYING, "strokes": 500, "resin_strokes": 500},
        {"time": 0.50, **SPRAYING, "strokes": 1000, "resin_strokes": 1000},
    ]
    names = {
        **SIDES,
        "stroke_volume": 100,
        "resin_stroke_volume": 50,
        "pump_drive": "each on its own",
        "stroke_uncertainty": 2,
    }
    filled = whole_day(tmp_path, names, rows)
    by_strokes = [row for row in filled.values.studies["mix"] if "Strokes" in row.mix_period]
    assert len(by_strokes) == 1
    # 100 L of iso to 50 L of resin are just two parts to one.
    assert by_strokes[0].mix_off == pytest.approx(0, abs=1e-12)
    assert "100 L of iso and 50 L of resin" in by_strokes[0].mix_words
