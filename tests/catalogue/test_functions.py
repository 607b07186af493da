"""The catalogue: examples run, names are safe, docstrings and declarations agree."""

import inspect
import re
from decimal import Decimal
from typing import Any

import pytest

from tests.given import argument
from twodrum.catalogue import CHOICES, FUNCTIONS, Function
from twodrum.catalogue.declaration import docstring_section
from twodrum.core.inputs import InputError
from twodrum.units import KINDS, from_si, parse

IDS = [function.name for function in FUNCTIONS]
every_function = pytest.mark.parametrize("function", FUNCTIONS, ids=IDS)


def example(function: Function) -> dict[str, Any]:
    texts, _ = function.example
    return {
        item.name: argument(item.kind, text) if text else None
        for item, text in zip(function.arguments, texts, strict=False)
    }


@every_function
def test_example_gives_its_expected_value(function: Function) -> None:
    found, expected = function.call(**example(function)), function.example[1]
    if function.kind == "text":
        assert found == expected
    else:
        number, unit = expected.split(" ", 1)
        # A value with many decimals is right to its last one, a short one exactly.
        decimals = len(number.partition(".")[2])
        printed = 0.6 * 10.0**-decimals if decimals >= 5 else 0.0
        tolerance = max(printed, 1e-13 * max(1, abs(float(number))))
        assert abs(from_si(float(found), function.kind, unit) - float(number)) <= tolerance


@every_function
def test_name_is_a_function_name_and_no_cell(function: Function) -> None:
    assert re.fullmatch(r"TD(_[A-Z0-9]+)+", function.name)
    assert not re.fullmatch(r"[A-Z]{1,3}\d+", function.name)
    assert function.name == f"TD_{function.formula_name.upper()}"


def test_names_are_unique() -> None:
    assert len(set(IDS)) == len(IDS)


@every_function
def test_declared_arguments_are_those_of_the_formula(function: Function) -> None:
    parameters = inspect.signature(function.call).parameters
    assert [item.name for item in function.arguments] == list(parameters)
    for item in function.arguments:
        assert item.kind in KINDS or item.kind in CHOICES


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
            assert unit.group(1) == SI_NAMES.get(item.kind, KINDS[item.kind].si)
    if function.kind in KINDS:
        result = re.search(r"\[([^\]]+)\]\s*$", docstring_section(function.call, "Returns"))
        assert result
        assert result.group(1) == SI_NAMES.get(function.kind, KINDS[function.kind].si)


SI_NAMES = {"money": "money"}


@every_function
def test_result_does_not_depend_on_the_units_of_its_arguments(function: Function) -> None:
    given = example(function)
    expected = function.call(**given)
    if isinstance(expected, str):
        return
    for item in function.arguments:
        if item.kind not in KINDS or given.get(item.name) is None or item.kind in BARE:
            continue
        for unit in KINDS[item.kind].unit_texts:
            number = from_si(float(given[item.name]), item.kind, unit)
            again = {**given, item.name: parse(f"{number!r} {unit}", item.kind)}
            if isinstance(expected, (Decimal, int)):
                assert abs(float(function.call(**again)) - float(expected)) <= 1e-9
            else:
                assert function.call(**again) == pytest.approx(expected, rel=1e-9, abs=1e-15)


BARE = ("factor", "number")
BAD = (float("nan"), float("inf"), -float("inf"), None, "2 mm", True)


@every_function
def test_no_impossible_argument_passes_silently(function: Function) -> None:
    given = example(function)
    for item in function.arguments:
        for bad in BAD:
            if item.kind not in KINDS and not isinstance(bad, str):
                continue
            if item.optional and bad is None:
                continue
            if function.formula_name == "surface_area" and given.get(item.name) is None:
                continue
            with pytest.raises(InputError):
                function.call(**{**given, item.name: bad})
