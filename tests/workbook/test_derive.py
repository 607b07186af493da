"""What-ifs follow from the chain: nothing of it is declared a second time."""

import pytest

from twodrum.books.whatif import DERIVED, SHOWN
from twodrum.engine.derive import Chain, Shown, derived
from twodrum.engine.model import Cell, Column, Field, Table
from twodrum.engine.references import Agg, Lookup, Name, Row

PARTS = Table("parts", "Parts", "Parts", 2, keys=("oak", "ash"), key="part", must_have=("oak",))
WALLS = Table("walls", "Walls", "Walls", 9, (Field("size", "Size", "area"),))
FIELDS = [Field(name, name, "number") for name in ("length", "rate", "discount")]
SHOWS = {"price": Shown("shown_price", "Price")}


def chain(*more: Cell, price: str = "cost * rate") -> Chain:
    results = (
        Cell("cost", "Cost", "number", "length + length"),
        *more,
        Cell("price", "Price", "number", price),
    )
    return Chain(FIELDS, results, ())


def lines(found: tuple[Column, ...]) -> dict[str, str]:
    return {column.name: column.function for column in found}


def test_what_lies_between_follows_and_a_working_read_once_is_nested() -> None:
    _, found = derived(chain(), "ifs", {"length": "own * row.factor"}, SHOWS)
    assert lines(found) == {
        "if_length": "length * row.factor",
        "shown_price": "(row.if_length + row.if_length) * rate",
    }


def test_a_new_input_in_the_chain_needs_no_line_in_a_what_if() -> None:
    dearer = chain(Cell("net", "Net", "number", "cost - discount"), price="net * rate")
    _, found = derived(dearer, "ifs", {"length": "own * row.factor"}, SHOWS)
    assert lines(found)["shown_price"] == "(row.if_length + row.if_length - discount) * rate"


def test_a_varied_value_that_reaches_nothing_shown_is_an_error() -> None:
    with pytest.raises(ValueError, match="discount is varied and reaches nothing"):
        derived(chain(), "ifs", {"length": "own * row.factor", "discount": "own"}, SHOWS)


def keyed(weight: Column, total: Cell) -> Chain:
    columns = (weight, Column("parts", "cost", "Cost", "number", "row.weight * row.each"))
    return Chain(
        FIELDS,
        (*columns, Column("parts", "each", "Each", "number", "rate * rate"), total),
        (PARTS, WALLS),
    )


def test_a_row_of_a_key_is_followed_and_one_that_may_lack_counts_as_nothing() -> None:
    weight = Column("parts", "weight", "Weight", "number", "length * length")
    total = Cell("price", "Price", "number", "", (Agg("parts", "cost"),))
    cells, found = derived(keyed(weight, total), "ifs", {"length": "own * row.factor"}, SHOWS)
    assert lines(found) == {
        "if_length": "length * row.factor",
        "if_ash_cost": "row.if_length * row.if_length * ash_each",
        "shown_price": "row.if_length * row.if_length * oak_each + zero_if_blank(row.if_ash_cost)",
    }
    assert [cell.args for cell in cells] == [
        (Lookup("parts", "oak", "each"),),
        (Lookup("parts", "ash", "each", True),),
    ]


def test_a_sum_over_typed_rows_has_to_be_varied_itself() -> None:
    film = Column("walls", "film", "Film", "number", "row.size * length")
    total = Cell("price", "Price", "number", "", (Agg("walls", "film"),))
    held = Chain(FIELDS, (film, total), (WALLS,))
    with pytest.raises(ValueError, match=r"the sum of walls\.film moves"):
        derived(held, "ifs", {"length": "own * row.factor"}, SHOWS)
    both = {"length": "own", "price": "own * row.factor"}
    with pytest.raises(ValueError, match="length is varied and reaches nothing"):
        derived(held, "ifs", both, SHOWS)
    _, found = derived(held, "ifs", {"price": "own * row.factor"}, SHOWS)
    assert [(c.name, c.function, c.args) for c in found] == [
        ("shown_price", "price * row.factor", (Name("price"), Row("factor")))
    ]


def test_the_job_shows_what_it_names_and_no_amount_is_nested() -> None:
    names = [column.name for column in DERIVED if not column.working]
    assert sorted(names) == sorted(shown.name for shown in SHOWN.values())
    assert "if_preparation_cost" in {column.name for column in DERIVED}
