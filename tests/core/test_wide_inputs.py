"""Whatever numbers come in: a finite result, or a refusal that names its argument."""

import math
from typing import Any

import pytest
from hypothesis import HealthCheck, Phase, given, settings
from hypothesis import strategies as st

from tests.catalogue.test_functions import example
from twodrum.catalogue import CHOICES, FUNCTIONS, Argument, Function
from twodrum.core.film import coating_volume
from twodrum.core.inputs import InputError

# Every size that a float has, and those that the formulas are about.
ANY = st.floats(allow_nan=True, allow_infinity=True)
USUAL = st.one_of(
    st.floats(0, 1), st.floats(200, 500), st.floats(1e-6, 1e6), st.sampled_from([0.0, 1.0, -1.0])
)


def values(item: Argument, usual: Any) -> st.SearchStrategy[Any]:
    """What one argument may be: mostly as in the example, else anything."""
    number = st.one_of(USUAL, ANY)
    if item.kind == "truth":
        found: st.SearchStrategy[Any] = st.booleans()
    elif item.kind in CHOICES:
        found = st.one_of(st.sampled_from(CHOICES[item.kind]), st.just("no such word"))
    elif item.series:
        found = st.lists(number, max_size=8)
        if usual:
            found |= st.lists(number, min_size=len(usual), max_size=len(usual))
    else:
        found = number
    return st.one_of(st.just(usual), found)


@pytest.mark.parametrize("function", FUNCTIONS, ids=lambda function: function.name)
@settings(
    max_examples=30,
    deadline=None,
    derandomize=True,
    database=None,
    phases=[Phase.generate],
    suppress_health_check=[HealthCheck.too_slow],
)
@given(data=st.data())
def test_no_exception_but_a_refusal_and_no_result_that_is_not_finite(
    function: Function, data: st.DataObject
) -> None:
    usual = example(function)
    chosen = {
        item.name: data.draw(values(item, usual.get(item.name)), label=item.name)
        for item in function.arguments
    }
    try:
        found = function.run(chosen)
    except InputError as refused:
        assert refused.argument
        return
    for row in function.rows(found):
        for cell in row:
            assert isinstance(cell, (str, bool)) or math.isfinite(cell)


def test_the_refusal_of_a_number_that_nothing_is_as_large_as_says_so() -> None:
    with pytest.raises(InputError) as refused:
        coating_volume(1e40, 0.002, 1.0)
    assert str(refused.value) == "area is 1e+40; it must be at most 1e+30"
    with pytest.raises(InputError) as refused:
        coating_volume(10.0, 0.002, 1e-40)
    assert str(refused.value) == "volume_solids is 1e-40; it must be at least 1e-30"
