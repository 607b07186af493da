"""Values far from what is usual: one note each, and nothing is refused for it."""

from __future__ import annotations

import re
from typing import Any

import pytest

from tests.workbook.job_values import evaluated
from twodrum.engine.evaluate import Values
from twodrum.problems import count_problems


def notes(names: dict[str, Any], row: dict[str, Any] | None = None) -> list[str]:
    values: Values = evaluated(names, [], [], areas=[row or {}])
    assert count_problems(values.problems) == 0
    return [p.text for p in values.problems if p.code == "unusual"]


@pytest.mark.parametrize("film, told", [(12, 1), (10, 1), (9.9, 0), (0.5, 0)])
def test_a_film_of_many_times_that_of_the_job(film: float, told: int) -> None:
    found = notes({}, {"film_override": film})
    assert len(found) == told
    assert all("times that of the job; see whether its unit is meant" in text for text in found)


@pytest.mark.parametrize("loss, told", [(2, 1), (4.9, 1), (5, 0), (25, 0)])
def test_a_loss_that_leaves_little_for_overspray(loss: float, told: int) -> None:
    assert len(notes({"loss_share": loss})) == told


@pytest.mark.parametrize(
    "row, told",
    [
        ({"shape": "manhole", "diameter": 35, "length": 0.3, "width": None}, "Diameter of this"),
        ({"shape": "manhole", "diameter": 0.6, "length": 0.3, "width": None}, ""),
        ({"shape": "pipe", "diameter": 300, "length": 12, "width": None}, "Diameter of this pipe"),
    ],
)
def test_a_size_in_another_unit_than_the_one_above_its_column(
    row: dict[str, Any], told: str
) -> None:
    found = notes({}, row)
    assert len(found) == bool(told)
    assert all(text.startswith(told) for text in found)


def test_litres_that_suffice_in_half_of_the_jobs_are_told_before_a_quote_is_issued() -> None:
    uncertain = {"area_uncertainty": 3, "film_uncertainty": 8, "loss_uncertainty": 5}
    (told,) = notes(uncertain)
    assert told.startswith("the quoted litres of iso and resin suffice in 5")
    assert told.endswith(" L more suffice in 80 of 100")
    assert notes({}) == []
    # Whole drums hold more than the litres that are mixed.
    assert notes({**uncertain, "pricing_basis": "whole drums"}) == []
    tight = {**uncertain, "pricing_basis": "whole drums", "film_thickness": 2.4187}
    (told,) = notes(tight)
    assert re.match(r"the quoted drums of iso and resin suffice in 5\d jobs of 100; the rows", told)
