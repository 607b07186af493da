"""A test of a group fails with each of its items that fails, and is told which."""

import pytest

from tests.grouped import of_each


@of_each(range(6), lambda item: "odd" if item % 2 else "even")
def holds_below_four(item: int) -> None:
    assert item < 4


@of_each([(1, 2), (2, 1)], lambda _: "all", spread=True)
def is_refused_as_it_should_be(first: int, second: int) -> None:
    with pytest.raises(ZeroDivisionError):
        _ = first / (second - 1)


def test_every_item_of_a_group_that_fails_is_named() -> None:
    with pytest.raises(AssertionError, match=r"^4: AssertionError") as even:
        holds_below_four("even")
    assert "2: " not in str(even.value)
    with pytest.raises(AssertionError, match=r"^5: AssertionError"):
        holds_below_four("odd")


def test_a_refusal_that_does_not_come_fails_its_item() -> None:
    with pytest.raises(AssertionError, match=r"\(1, 2\): Failed: DID NOT RAISE") as told:
        is_refused_as_it_should_be("all")
    assert "(2, 1)" not in str(told.value)
