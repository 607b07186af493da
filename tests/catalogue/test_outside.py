"""Every function that may be typed is held against something outside of this house."""

import re
from pathlib import Path

from tests.catalogue.test_functions import every_function
from tests.check_tables import rows
from twodrum.catalogue import FUNCTIONS, Function

TESTS = Path(__file__).parents[1]
TABLED = {row.function.split(":")[0] for name in ("quantities", "process") for row in rows(name)}
# Regression and wide inputs prove nothing by themselves.
PROVING = [
    path.read_text(encoding="utf-8")
    for path in sorted((TESTS / "core").glob("test_*.py"))
    if path.name not in ("test_guards.py", "test_docstrings.py", "test_wide_inputs.py")
]
# Steps of the job that refuse what arithmetic would take; jobs recomputed by hand hold them.
STEPS = {
    *("lining_ratio", "mixed_volume_solids", "accounted_volume"),
    *("coat_is_there", "loss_over_all", "volume_for_each_part"),
    *("dew_point_at_vapour_pressure", "hose_heat_capacity", "friction_pressure"),
    *("margin_reached", "readings_judged", "allowed_low_by_basis"),
}


def is_held(function: Function) -> bool:
    called = re.compile(rf"\b{function.formula_name}\b(?!_)")
    return function.formula_name in TABLED or any(called.search(text) for text in PROVING)


@every_function
def test_every_function_has_an_outside_value_or_a_second_route(function: Function) -> None:
    assert function.formula_name in STEPS or is_held(function)


def test_no_step_is_excused_that_is_held_or_gone() -> None:
    names = {function.formula_name: function for function in FUNCTIONS}
    assert names.keys() >= STEPS
    assert not [name for name in STEPS if name in TABLED]


def test_there_are_no_more_functions_than_a_person_would_type() -> None:
    assert 100 <= len(FUNCTIONS) <= 160
