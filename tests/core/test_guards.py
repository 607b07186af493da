"""Each guard of each formula: which argument it names, and its whole sentence."""

import csv
from pathlib import Path

import pytest

from tests.catalogue.test_functions import example
from tests.grouped import of_each
from twodrum.catalogue import BY_CALL
from twodrum.core.inputs import InputError, ceiling, require, require_one_of
from twodrum.core.takeoff import surface_area
from twodrum.engine.evaluate import Value, word_refusal

TABLE = Path(__file__).parents[1] / "check_tables" / "guards.csv"
ROWS = list(csv.DictReader(TABLE.open(encoding="utf-8")))
SIZES = {
    "length": 6.0,
    "width": 4.0,
    "height": 2.0,
    "diameter": 3.0,
    "other_size": 2.0,
    "corner_radius": 0.3,
}
VALUES = {"nan": float("nan"), "None": None, "'no such word'": "no such word"}


every_guard = of_each(
    ROWS, lambda row: BY_CALL[row["function"].partition(":")[0]].call.__module__, str
)


@every_guard
def test_guard_names_its_argument_and_says_what_must_hold(row: dict[str, str]) -> None:
    text = row["value"]
    value = VALUES[text] if text in VALUES else float(text)
    function, _, shape = row["function"].partition(":")
    with pytest.raises(InputError) as refused:
        if shape:
            surface_area(shape, None, **{**SIZES, row["argument"]: value})  # type: ignore[arg-type]
        else:
            declared = BY_CALL[function]
            given = example(declared)
            item = next(item for item in declared.arguments if item.name == row["argument"])
            if item.series:
                value = [value, *given[item.name][1:]]
            declared.run({**given, item.name: value})
    assert str(refused.value) == row["message"]


# Quantities that are computed on the way.
ON_THE_WAY = ("reynolds_number",)


@every_guard
def test_guard_names_an_argument_that_the_caller_knows(row: dict[str, str]) -> None:
    function = row["function"].partition(":")[0]
    named = row["message"].split(" is ")[0].removeprefix("number of ")
    assert named in ON_THE_WAY or named in {item.name for item in BY_CALL[function].arguments}


def refusal(error: InputError, kind: str, unit: str) -> str:
    return word_refusal(error, Value("x", "Film", kind, unit, None, "Job!C12"))


def test_a_refusal_is_worded_in_the_unit_of_its_reader() -> None:
    error = InputError("film_thickness", -0.002, "more than", 0)
    assert refusal(error, "thickness", "mm") == "Film is -2 mm; it must be more than 0 mm"
    assert refusal(error, "thickness", "mil") == "Film is -78.7402 mil; it must be more than 0 mil"


def test_a_refused_word_is_told_with_the_words_that_may_stand() -> None:
    error = InputError("shape", "blob", "one of", ("pit", "ring"))
    assert refusal(error, "shape", "") == "Film is 'blob'; it must be one of: pit, ring"


def test_require_takes_its_bounds_as_said() -> None:
    require("x", 1.0, above=0, at_least=1, below=2, at_most=1)
    for bad in ({"above": 1}, {"at_least": 1.1}, {"below": 1}, {"at_most": 0.9}):
        with pytest.raises(InputError):
            require("x", 1.0, **bad)  # type: ignore[arg-type]
    require_one_of("x", "a", ("a", "b"))


@pytest.mark.parametrize(
    ("value", "whole"),
    [(2.0, 2), (2.0000000005, 2), (2.00000001, 3), (1.9999999999, 2), (0.0, 0), (1e-10, 0)],
)
def test_ceiling__guard_of_a_billionth(value: float, whole: int) -> None:
    assert ceiling(value, 1e-9) == whole
