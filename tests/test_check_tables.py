"""Outside values through the formulas."""

import csv
from fnmatch import fnmatchcase
from pathlib import Path

from tests.check_tables import Row, rows
from tests.given import call, in_unit
from tests.grouped import of_each

ROWS = [*rows("quantities"), *rows("process")]


@of_each(ROWS, lambda row: row.function, lambda row: row.id)
def test_outside_value_is_reproduced_within_its_tolerance(row: Row) -> None:
    found = in_unit(row.function, call(row.function, row.arguments), row.unit)
    # A value printed with 15 digits is itself off by up to half of its last one.
    printed = abs(row.expected) * 1e-14
    assert abs(found - row.expected) <= row.tolerance + printed, row.source


def test_there_are_at_least_120_outside_values() -> None:
    assert len({row.id for row in ROWS}) == len(ROWS) >= 120


def test_reference_rows_that_are_left_out_have_a_reason_and_are_not_also_tested() -> None:
    path = Path(__file__).parent / "check_tables" / "left_out.csv"
    ids = {row.id for row in ROWS}
    for line in csv.DictReader(path.open(encoding="utf-8")):
        assert line["reason"]
        for pattern in line["ids"].split():
            assert not [name for name in ids if fnmatchcase(name, pattern)], pattern
