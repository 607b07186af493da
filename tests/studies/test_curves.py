"""Curves of viscosity: through the points of the data sheet, marked where it is sprayed."""

from pathlib import Path

import numpy as np
import pytest

from tests.workbook.day import day


def test_curves_go_through_the_points_and_bend_as_andrade_says(tmp_path: Path) -> None:
    rows = day(tmp_path).values.studies["curves"]
    curve = [row for row in rows if row[1] is not None]
    temperatures = np.array([row[0] for row in curve])
    assert temperatures[[0, -1]] == pytest.approx([298.15, 338.15])
    assert [curve[0][1], curve[-1][1]] == pytest.approx([0.8, 0.08])
    assert [curve[0][2], curve[-1][2]] == pytest.approx([0.6, 0.045])
    # Two points make a straight line of ln(viscosity) over 1/T: numpy's fit leaves nothing.
    for side in (1, 2):
        logs = np.log([row[side] for row in curve])
        _, residuals, *_ = np.polyfit(1 / temperatures, logs, 1, full=True)
        assert residuals.sum() < 1e-20


def test_each_side_has_one_mark_where_it_is_sprayed(tmp_path: Path) -> None:
    filled = day(tmp_path)
    marks = [row for row in filled.values.studies["curves"] if row[1] is None]
    names = filled.values.names
    assert marks == [
        (names["iso_spray_temperature"].si, None, None, names["iso_viscosity"].si, None),
        (names["resin_spray_temperature"].si, None, None, None, names["resin_viscosity"].si),
    ]


@pytest.mark.parametrize("name", ["iso_viscosity_1", "resin_temperature_2"])
def test_no_points_no_curves(tmp_path: Path, name: str) -> None:
    assert day(tmp_path, {name: None}).values.studies["curves"] == []


def test_points_that_rise_draw_nothing_and_are_told(tmp_path: Path) -> None:
    filled = day(tmp_path, {"iso_viscosity_2": 900})
    assert filled.values.studies["curves"] == []
    assert filled.problem_count > 0
