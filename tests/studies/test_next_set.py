"""Where the next drum set opens, held against jobs typed on either side of it."""

from __future__ import annotations

import re
from typing import Any

import pytest

from tests.workbook.job_values import evaluated
from twodrum.engine.evaluate import Values

OTHER: list[dict[str, Any]] = [
    {},
    {"surface": "Sump", "shape": "pit", "film_override": 3},
    {"surface": "Wall", "shape": "rectangle", "length": 9, "width": 4},
]


def job(area: float = 0.0, **names: Any) -> Values:
    rows = [*OTHER, {"surface": "More", "shape": "rectangle", "length": area, "width": 1}]
    rows = rows if area else OTHER
    told = {"fixed_volume": 12, "profile_height": 0, **names}
    return evaluated(told, [], [], areas=rows)


def sets(values: Values) -> int:
    return int(values.names["drum_sets"].si)


def said(values: Values) -> dict[str, str]:
    return {row.next_what: row.next_words for row in values.studies["next_set"]}


def first_number(text: str) -> float:
    found = re.search(r"[\d,]+\.?\d*", text)
    assert found is not None
    return float(found[0].replace(",", ""))


def test_the_drums_open_where_it_says() -> None:
    plain = job()
    told, now = said(plain), sets(plain)
    # Of three digits the last may be off by half.
    film = first_number(told["Film of the job"])
    assert told["Film of the job"].endswith(", now 2 mm")
    assert sets(job(film_thickness=film * 0.995)) == now
    assert sets(job(film_thickness=film * 1.005)) == now + 1
    loss = first_number(told["Loss"])
    assert told["Loss"].endswith(", now 25.0 %")
    assert sets(job(loss_share=loss - 0.1)) == now
    assert sets(job(loss_share=loss + 0.1)) == now + 1
    area = first_number(told["Area with the film of the job"])
    assert sets(job(area * 0.995)) == now
    assert sets(job(area * 1.005)) == now + 1


def test_what_is_left_is_what_the_drums_hold_less_what_is_mixed__hand_worked() -> None:
    """Two drums of 205 L, of which 5 L stay in each, hold 400 L of mix for each drum set."""
    plain = job()
    left = sets(plain) * 400 - float(plain.names["first_volume"].si) * 1000
    told = said(plain)["Left in the last drums"]
    assert first_number(told) == pytest.approx(left, rel=5e-3)
    # A litre of mix costs 9, half a litre of each side.
    assert first_number(told.split("worth ")[1]) == pytest.approx(left * 9, rel=1e-6)
    assert told.endswith("EUR; not in the price, which is by volume")
    assert said(job(pricing_basis="whole drums"))["Left in the last drums"].endswith("in the price")


@pytest.mark.parametrize("names", [{"film_thickness": None}, {"loss_share": "much"}])
def test_without_a_value_it_says_nothing(names: dict[str, Any]) -> None:
    assert job(**names).studies["next_set"] == []
