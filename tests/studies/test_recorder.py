"""A study reads what it declares and nothing else; a hand-worked plan."""

from functools import lru_cache
from typing import get_args, get_type_hints

import pytest

from tests.workbook.job_values import evaluated
from tests.workbook.typing import ROWS
from twodrum.books.month import MONTH
from twodrum.books.whole import JOB
from twodrum.engine.evaluate import Reader, Value, Values
from twodrum.engine.model import Study
from twodrum.studies.drum_plan import CAPACITY, READS, drum_plan


@lru_cache(maxsize=1)
def plain_values() -> Values:
    return evaluated({}, ROWS["materials"], [])


@pytest.mark.parametrize("study", JOB.studies, ids=lambda study: study.name)
def test_study_reads_the_names_that_it_declares(study: Study) -> None:
    reader = Reader(plain_values())
    study.run(reader)
    assert reader.seen == set(study.reads)


@pytest.mark.parametrize(
    "study",
    [study for model in (JOB, MONTH) for study in model.studies if study.columns],
    ids=lambda study: study.name,
)
def test_rows_of_a_study_are_records_whose_fields_are_the_columns_of_its_block(
    study: Study,
) -> None:
    (row,) = get_args(get_type_hints(study.run)["return"])
    assert row._fields == tuple(column.name for column in study.columns)


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
    "areas.system": [None, None],
    "acceptance_share": 0.0,
    "loss_share": 0.2,
    **{f"system_{n}_{name}": 0.0 for n in (2, 3) for name in ("loss", "fixed")},
    **{f"system_{n}_lining": "iso and resin" for n in (2, 3)},
    "order.component": ["iso", "resin"],
    "order.ratio_part": [1.0, 1.0],
    "order.drum_volume": [0.205, 0.205],
    "order.residue": [0.005, 0.005],
    "order.part_drum_volume": [0.0, 0.0],
    "order.drums_opened": [3, 3],
}


def opened(told: dict[str, object], component: str) -> list[tuple[object, ...]]:
    return [row[1:] for row in drum_plan(Told(told)) if row[0] == component]


def test_drum_plan__hand_worked__volume_balance() -> None:
    # 1.25 times the film leaves the drums: 375 L on the floor, 625 L on the walls. A drum of
    # each gives 400 L of mix, so the second opens 25 L into the walls (10 m²) and the third
    # 425 L into them (170 m²).
    for component in ("iso", "resin"):
        rows = opened(PLAN, component)
        assert [row[:2] for row in rows] == [("Floor", 1), ("Walls", 2), ("Walls", 3)]
        assert [row[2] for row in rows] == pytest.approx([0.0, 160.0, 320.0])


def test_drum_plan__fixed_volumes_come_first() -> None:
    rows = opened({**PLAN, "lining_volume": 1.4, "fixed_volume": 0.4}, "iso")
    assert rows[1][:2] == ("Floor", 2)
    assert rows[1][2] == pytest.approx(0.0)


def test_drum_plan__two_to_one_with_small_resin_drums__hand_worked() -> None:
    # 2:1: an iso drum of 200 L lasts 300 L of mix, a resin drum of 50 L lasts 150 L.
    told = {
        **PLAN,
        "order.ratio_part": [2.0, 1.0],
        "order.drum_volume": [0.205, 0.055],
        "order.drums_opened": [4, 7],
    }
    # 300 L of mix are 120 m² of the floor, 150 L are 60 m².
    assert opened(told, "iso")[1] == ("Floor", 2, pytest.approx(120.0))
    assert opened(told, "resin")[1] == ("Floor", 2, pytest.approx(60.0))


def test_drum_plan__an_opened_drum_is_used_up_first() -> None:
    told = {**PLAN, "order.part_drum_volume": [0.1, 0.1]}
    # 100 L of each side are 200 L of mix: 80 m² of the floor.
    assert opened(told, "iso")[0] == ("Floor", 1, pytest.approx(80.0))


def test_drum_plan__two_hundred_drums_each_have_a_row() -> None:
    # 100 of each side, 200 L of each with the 80 % that lands: 40 m³ of mix, 32 in the film.
    told = {
        **PLAN,
        "areas.film_volume": [12.0, 20.0],
        "areas.measured_area": [6000.0, 10000.0],
        "lining_volume": 40.0,
        "order.drums_opened": [100, 100],
    }
    rows = drum_plan(Told(told))
    assert len(rows) == 200 <= CAPACITY
    # A set of 0.4 m³ is 160 m².
    assert [row.finished_area for row in rows[::2]] == pytest.approx(
        [160.0 * n for n in range(100)]
    )


@pytest.mark.parametrize("name", READS)
def test_drum_plan__a_value_that_is_missing_gives_no_plan(name: str) -> None:
    found = PLAN[name]
    missing = [None for _ in found] if isinstance(found, list) else None
    if name in ("areas.surface", "areas.system"):
        # A surface may have no name, and that of the job is a system too.
        return
    assert drum_plan(Told({**PLAN, name: missing})) == []


def test_a_refused_value_reads_as_none() -> None:
    values = Values()
    values.names["x"] = Value("x", "X", "volume", "L", None, "Job!B1", "Job!B1: it is bad")
    assert Reader(values).value("x") is None
