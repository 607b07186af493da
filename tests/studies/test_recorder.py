"""A study reads what it declares and nothing else; a hand-worked plan."""

import pytest

from tests.workbook.typing import plain_cells, typed
from twodrum.evaluate import Reader, Value, Values
from twodrum.fill import check_file
from twodrum.model import Study
from twodrum.new import template
from twodrum.studies.drum_plan import READS, drum_plan
from twodrum.workbook.job import JOB


@pytest.mark.parametrize("study", JOB.studies, ids=lambda study: study.name)
def test_study_reads_the_names_that_it_declares(study: Study, tmp_path) -> None:  # type: ignore[no-untyped-def]
    values = check_file(typed(plain_cells(template(JOB)), tmp_path / "job.xlsx")).values
    reader = Reader(values)
    study.run(reader)
    assert reader.seen == set(study.reads)


class Told(Reader):
    """A reader of values told by hand."""

    def __init__(self, told: dict[str, object]) -> None:
        super().__init__(Values())
        self.told = told

    def value(self, name: str) -> object:
        return self.told[name]

    def column(self, table: str, column: str) -> list[object]:
        found = self.told[f"{table}.{column}"]
        assert isinstance(found, list)
        return found


PLAN: dict[str, object] = {
    "areas.surface": ["Floor", "Walls"],
    "areas.film_volume": [0.300, 0.500],
    "areas.profile_volume": [0.0, 0.0],
    "areas.measured_area": [150.0, 250.0],
    "lining_volume": 1.0,
    "fixed_volume": 0.0,
    "iso_ratio": 1.0,
    "resin_ratio": 1.0,
    "order.component": ["iso", "resin"],
    "order.drum_volume": [0.205, 0.205],
    "order.heel_volume": [0.005, 0.005],
}


def test_drum_plan__hand_worked__volume_balance() -> None:
    # 1.25 times the film leaves the drums: 375 L on the floor, 625 L on the walls. A set gives
    # 400 L, so the second opens 25 L into the walls (10 m2) and the third 425 L into them (170 m2).
    rows = drum_plan(Told(PLAN))
    assert [row[:2] for row in rows] == [(1, "Floor"), (2, "Walls"), (3, "Walls")]
    assert [row[2] for row in rows] == pytest.approx([0.0, 160.0, 320.0])


def test_drum_plan__exact_fit_opens_no_further_set() -> None:
    rows = drum_plan(Told({**PLAN, "lining_volume": 0.8}))
    assert [row[0] for row in rows] == [1, 2]


def test_drum_plan__fixed_volumes_come_first() -> None:
    told = {**PLAN, "lining_volume": 1.4, "fixed_volume": 0.4}
    rows = drum_plan(Told(told))
    assert rows[1][:2] == (2, "Floor")
    assert rows[1][2] == pytest.approx(0.0)


@pytest.mark.parametrize("name", READS)
def test_drum_plan__a_value_that_is_missing_gives_no_plan(name: str) -> None:
    found = PLAN[name]
    missing = [None for _ in found] if isinstance(found, list) else None
    if name == "areas.surface":
        return
    assert drum_plan(Told({**PLAN, name: missing})) == []


def test_a_refused_value_reads_as_none() -> None:
    values = Values()
    values.names["x"] = Value("x", "X", "volume", "L", None, "Job!B1", "Job!B1: it is bad")
    assert Reader(values).value("x") is None
