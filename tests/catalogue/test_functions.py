"""The catalogue: examples run, names are safe, docstrings and declarations agree."""

import inspect
import re
from decimal import Decimal
from typing import Any

import pytest

from tests.given import argument
from tests.grouped import of_each
from twodrum.catalogue import CHOICES, FUNCTIONS, Function
from twodrum.catalogue.declaration import docstring_section
from twodrum.core.inputs import InputError
from twodrum.units import KINDS, from_si, parse

every_function = of_each(
    FUNCTIONS, lambda function: function.call.__module__, lambda function: function.name
)


def example(function: Function) -> dict[str, Any]:
    texts, _ = function.example
    return {
        item.name: argument(item, text) if text else None
        for item, text in zip(function.arguments, texts, strict=False)
    }


@every_function
def test_example_gives_its_expected_value(function: Function) -> None:
    found = function.run(example(function))
    cells = [
        (kind, value)
        for row in function.rows(found)
        for kind, value in zip(function.kinds, row, strict=True)
    ]
    for (kind, value), expected in zip(cells, function.example[1].split("; "), strict=True):
        if kind == "text":
            assert value == expected
        elif kind == "truth":
            assert expected == str(value).upper()
        else:
            number, unit = expected.split(" ", 1)
            # A value with many decimals is right to its last one, a short one exactly.
            decimals = len(number.partition(".")[2])
            printed = 0.6 * 10.0**-decimals if decimals >= 5 else 0.0
            tolerance = max(printed, 1e-13 * max(1, abs(float(number))))
            assert abs(from_si(float(value), kind, unit) - float(number)) <= tolerance


@every_function
def test_name_is_a_function_name_and_no_cell(function: Function) -> None:
    assert re.fullmatch(r"TD(_[A-Z0-9]+)+", function.name)
    assert not re.fullmatch(r"[A-Z]{1,3}\d+", function.name)
    assert function.name == f"TD_{function.formula_name.upper()}"


def test_names_are_unique() -> None:
    assert len({function.name for function in FUNCTIONS}) == len(FUNCTIONS)


@every_function
def test_declared_arguments_are_those_of_the_formula(function: Function) -> None:
    parameters = inspect.signature(function.call).parameters
    assert [item.name for item in function.arguments] == list(parameters)
    for item in function.arguments:
        assert item.kind in KINDS or item.kind in CHOICES or item.kind == "truth"


@every_function
def test_docstring_has_sentence_equation_units_source_and_example(function: Function) -> None:
    text = inspect.getdoc(function.call) or ""
    assert function.help.endswith(".")
    assert function.source
    assert "common knowledge" not in function.source.lower()
    assert ">>> " in docstring_section(function.call, "Example")
    for section in ("Parameters", "Returns", "Source", "Example"):
        assert f"\n{section}\n---" in text, section


@every_function
def test_docstring_units_are_the_si_units_of_the_declared_kinds(function: Function) -> None:
    text = docstring_section(function.call, "Parameters")
    names = [item.name for item in function.arguments]
    parts = re.split(r"\b(" + "|".join(names) + r") : ", text)[1:]
    units = dict(zip(parts[::2], parts[1::2], strict=True))
    for item in function.arguments:
        if item.kind in KINDS:
            unit = re.search(r"\[([^\]]+)\]\s*$", units[item.name].strip())
            assert unit, item.name
            assert says(unit.group(1), item.kind), item.name
    if function.kind in KINDS:
        result = re.search(r"\[([^\]]+)\]\s*$", docstring_section(function.call, "Returns"))
        assert result
        assert says(result.group(1), function.kind)


# A number may be of any unit, or of one that follows from other arguments.
ANY_NUMBER = re.compile(r"1|any|(as|square of|values over|result over|money over) .+")


def says(unit: str, kind: str) -> bool:
    """Whether a docstring's unit is that of a kind."""
    if kind == "money":
        return unit == "money"
    if kind == "number":
        return ANY_NUMBER.fullmatch(unit) is not None
    return unit == KINDS[kind].si


@every_function
def test_result_does_not_depend_on_the_units_of_its_arguments(function: Function) -> None:
    given = example(function)
    expected = function.rows(function.run(given))
    for item in function.arguments:
        if item.kind not in KINDS or given.get(item.name) is None or item.kind in BARE:
            continue
        for unit in KINDS[item.kind].unit_texts:
            again = {**given, item.name: in_other_unit(given[item.name], item.kind, unit)}
            found = function.rows(function.run(again))
            for row, wanted in zip(found, expected, strict=True):
                for value, other in zip(row, wanted, strict=True):
                    if isinstance(other, (bool, str)):
                        assert value == other
                    elif isinstance(other, (Decimal, int)):
                        assert abs(float(value) - float(other)) <= 1e-9
                    else:
                        assert value == pytest.approx(other, rel=1e-6, abs=1e-12)


def in_other_unit(value: Any, kind: str, unit: str) -> Any:
    """A value in SI, or a series of them, said in a unit and read again."""
    if isinstance(value, list):
        return [in_other_unit(one, kind, unit) for one in value]
    return parse(f"{from_si(float(value), kind, unit)!r} {unit}", kind)


BARE = ("factor", "number")
BAD = (float("nan"), float("inf"), -float("inf"), None, "2 mm", True)


@every_function
def test_no_impossible_argument_passes_silently(function: Function) -> None:
    given = example(function)
    for item in function.arguments:
        for bad in BAD:
            if item.kind not in KINDS and not isinstance(bad, str):
                continue
            if item.kind == "truth" or (item.optional and bad is None):
                continue
            if function.formula_name == "surface_area" and given.get(item.name) is None:
                continue
            wrong = [*given[item.name][:-1], bad] if item.series else bad
            with pytest.raises(InputError):
                function.run({**given, item.name: wrong})


@every_function
def test_a_series_without_values_is_refused(function: Function) -> None:
    given = example(function)
    for item in function.arguments:
        if item.series and not item.optional:
            with pytest.raises(InputError):
                function.run({**given, item.name: []})
