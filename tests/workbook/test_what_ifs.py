"""What-ifs hold the same price chain as the quote: whatever is typed, wherever it enters."""

from decimal import Decimal
from functools import lru_cache
from typing import Any

import pytest
from openpyxl import load_workbook

from tests.workbook.day import MATERIALS, NAMES
from tests.workbook.job_values import evaluated
from tests.workbook.test_quote import PRICED
from tests.workbook.typing import LINING, PLAIN, ROWS
from twodrum.books.parts import QUOTE, WHAT_IFS, job_of
from twodrum.books.quote import LINES
from twodrum.books.whole import JOB
from twodrum.engine.evaluate import Values
from twodrum.engine.model import result_key
from twodrum.engine.order import depends
from twodrum.resources import resource
from twodrum.units import KINDS
from twodrum.xlsx.scan import column_letters, parse_area

OF_PRICE = job_of((QUOTE, WHAT_IFS))
ASKED = {item.name for item in OF_PRICE.fields()}
COMPONENTS = ("iso", "resin", "primer", "top coat", "second iso", "second resin", "second primer")
COAT = {"volume_solids": 60, "coat_film": 75, "drum_volume": 20, "residue": 0.5}
COAT |= {"coat_loss": 30, "coat_pace": 35}
MATERIAL_ROWS: list[dict[str, Any]] = [
    {"component": "iso", **LINING, **MATERIALS[0], "part_drum_volume": 20},
    {"component": "resin", **LINING, **MATERIALS[1], "volume_price": 8.45},
    {"component": "primer", **COAT, "volume_price": 15.15},
    {"component": "top coat", **COAT, "volume_price": 22.2},
    {"component": "second iso", **LINING, "volume_price": 11.3, "part_drum_volume": 15},
    {"component": "second resin", **LINING, "ratio_part": 2, "volume_solids": 95},
    {"component": "second primer", **COAT, "volume_price": 17.7},
]
AREA_ROWS: list[dict[str, Any]] = [
    {**ROWS["areas"][0], "film_override": 3, "piece_count": 2, "profile_factor": 1.1},
    {**ROWS["areas"][1], "opening_area": 1.5},
    {
        "surface": "Head",
        "shape": "torispherical head",
        "diameter": 2,
        "other_size": 2,
        "corner_radius": 0.2,
    },
    {"surface": "Roof", "shape": "known area", "known_area": 30},
    {"surface": "Deck", "shape": "known area", "known_area": 90, "system": "system 2"},
    {"surface": "Ramp", "shape": "known area", "known_area": 25, "system": "system 3"},
    {
        "surface": "Stair",
        "shape": "known area",
        "known_area": 12,
        "system": "system 2",
        "film_override": 4,
    },
]
TYPED: dict[str, Any] = {
    **{name: value for name, value in NAMES.items() if name in ASKED},
    **PLAIN,
    **PRICED,
    "fixed_volume": 12.5,
    "loss_share": 25,
    "profile_fill": 50,
    "money_decimals": 2,
    "minimum_price": 1000,
    "spraying_share": 45,
    "acceptance_share": 4,
    "tax_rule": "on each line",
    "labour_basis": "by the started day",
    "day_length": 7.5,
    "daily_cost": 210.55,
    "discount_share": 3.5,
    "round_to": 0.05,
    "coats_apart": "yes",
    "rework_litres": 2.5,
    "rework_time": 3.5,
    "price_rise": 4.5,
    "system_1_primer": "primer",
    "system_1_top_coat": "top coat",
    "system_2_film": 2.6,
    "system_2_loss": 12,
    "system_2_fixed": 8,
    "system_2_lining": "second iso and resin",
    "system_2_primer": "second primer",
    "system_2_top_coat": "none",
    "system_3_film": 1.4,
    "system_3_loss": 19,
    "system_3_fixed": 4,
    "system_3_lining": "iso and resin",
    "system_3_primer": "none",
    "system_3_top_coat": "top coat",
}
# What is picked instead where a word is moved.
SITE_COSTS = [
    name
    for name in TYPED
    if name in ("mobilisation_cost", "access_cost", "travel_cost", "disposal_cost")
    or name in ("other_cost", "daily_cost")
]
OTHER_WORDS = {
    "yes": "no",
    **{"whole drums": "by volume", "on each line": "on the total"},
    "by the started day": "by the hour",
    **{"second iso and resin": "iso and resin", "iso and resin": "second iso and resin"},
    **{"second primer": "primer", "primer": "none", "top coat": "none", "none": "primer"},
}


def job(
    names: dict[str, Any] | None = None,
    cells: dict[tuple[str, int, str], Any] | None = None,
    **more: list[dict[str, Any]],
) -> Values:
    """The job with these names, and cells by table, row and column, typed otherwise.

    ``more`` are rows of other tables.
    """
    tables = {"materials": MATERIAL_ROWS, "areas": AREA_ROWS}
    rows = {
        table: [
            {**row, **{c: v for (t, n, c), v in (cells or {}).items() if (t, n) == (table, place)}}
            for place, row in enumerate(records)
        ]
        for table, records in tables.items()
    }
    names = {**TYPED, **(names or {})}
    return evaluated(names, rows["materials"], [], model=OF_PRICE, areas=rows["areas"], **more)


def reached() -> set[str]:
    """Every name and "table.column" that the price follows from."""
    # A film that was not typed is that of the job.
    found: set[str] = set()
    results = {result_key(item): item for item in JOB.outcomes()}
    queue = ["total_price", "film_thickness"]
    while queue:
        key = queue.pop()
        if key in found:
            continue
        found.add(key)
        if key in results:
            queue += depends(results[key])
    return found


@lru_cache(maxsize=1)
def moves() -> list[tuple[dict[str, Any], dict[tuple[str, int, str], Any]]]:
    """Each typed input that the price follows from, moved by itself."""
    keys = reached()
    found: list[tuple[dict[str, Any], dict[tuple[str, int, str], Any]]] = []
    for name, value in TYPED.items():
        if name in keys:
            moved = OTHER_WORDS.get(value)
            if name.endswith("top_coat") and value == "none":
                moved = "top coat"
            if moved is None and isinstance(value, (int, float)):
                moved = value + 1 if name in ("crew_size", "money_decimals") else value * 1.07
            assert moved is not None, name
            found.append(({name: moved}, {}))
    for table, rows in (("materials", MATERIAL_ROWS), ("areas", AREA_ROWS)):
        for place, row in enumerate(rows):
            for column, value in row.items():
                if f"{table}.{column}" in keys and isinstance(value, (int, float)):
                    whole = JOB.column_item(table, column).kind not in KINDS
                    grown = value + 1 if whole or column.endswith("count") else value * 0.93
                    found.append(({}, {(table, place, column): grown}))
    return found


def films(factor: float) -> dict[str, Any]:
    """The films of all systems by a factor."""
    names = ("film_thickness", "system_2_film", "system_3_film")
    return {name: {"film_thickness": 2, **TYPED}[name] * factor for name in names}


def losses(
    factor: float, more: float = 0
) -> tuple[dict[str, Any], dict[tuple[str, int, str], Any]]:
    """The losses of all systems, and of coats of their own, by a factor or so many points more."""
    names = {n: TYPED[n] * factor + more for n in ("loss_share", "system_2_loss", "system_3_loss")}
    coats = {
        ("materials", place, "coat_loss"): row["coat_loss"] * factor + more
        for place, row in enumerate(MATERIAL_ROWS)
        if "coat_loss" in row
    }
    return names, coats


def rows_of(values: Values) -> dict[str, dict[str, Any]]:
    rows = values.tables["scenarios"].rows
    return {row["scenario"].si: {key: value.si for key, value in row.items()} for row in rows}


def of(values: Values, name: str) -> Any:
    value = values.names[name]
    assert not value.refused, f"{name}: {value.why}"
    return value.si


def hold_the_middle(values: Values) -> None:
    row = rows_of(values)["film +0, loss +0"]
    for shown, quoted in (
        ("scenario_price", "net_price"),
        ("scenario_cost", "cost_total"),
        ("scenario_sets", "drum_sets"),
        ("scenario_material", "material_cost_total"),
    ):
        assert row[shown] == of(values, quoted), shown
    assert row["scenario_volume"] == pytest.approx(of(values, "lining_volume"), rel=1e-12)
    lines = [of(values, name) for name in LINES]
    assert sum(lines) - of(values, "discount") == of(values, "net_price")
    assert of(values, "total_price") == of(values, "net_price") + of(values, "tax")
    on_total = of(values, "net_price") * Decimal(str(of(values, "tax_share")))
    assert abs(of(values, "tax") - on_total) <= Decimal("0.005") * (len(lines) + 2)


def test_the_moves_reach_all_that_the_price_follows_from() -> None:
    moved = {name for names, _ in moves() for name in names}
    moved |= {f"{table}.{column}" for _, cells in moves() for table, _, column in cells}
    typed = {item.name for item in JOB.fields()}
    typed |= {f"{table.name}.{item.name}" for table in JOB.tables for item in table.fields}
    words = {"areas.shape", "areas.system", "order.component"}
    assert (reached() & typed) - moved == words


def test_the_middle_of_every_what_if_is_the_quote_whatever_is_moved() -> None:
    first = job()
    hold_the_middle(first)
    still = []
    for names, cells in moves():
        values = job(names, cells)
        hold_the_middle(values)
        if of(values, "total_price") == of(first, "total_price"):
            still.append((names, cells))
    # With whole drums or a least price some inputs leave the price; most have to move it.
    assert len(still) < len(moves()) / 2, still


BASES: list[dict[str, Any]] = [
    {"pricing_basis": "by volume"},
    {"pricing_basis": "whole drums"},
    {"labour_basis": "by the hour", "discount_share": None},
]


@pytest.mark.parametrize("basis", BASES, ids=lambda basis: next(iter(basis.values())))
@pytest.mark.parametrize("way", [-1, 1])
def test_swings_are_the_job_typed_so_to_the_cent__own_films_stay(
    basis: dict[str, Any], way: int
) -> None:
    factor = 1 + 0.1 * way
    row = rows_of(job(basis))
    which = "more" if way > 0 else "less"
    typed: dict[str, tuple[dict[str, Any], dict[tuple[str, int, str], Any]]] = {
        "film": (films(factor), {}),
        "loss": losses(factor),
        "labour": ({"labour_rate": 40 * factor}, {}),
        "site costs": ({name: TYPED[name] * factor for name in SITE_COSTS}, {}),
        "material price": (
            {},
            {
                ("materials", place, "volume_price"): record["volume_price"] * factor
                for place, record in enumerate(MATERIAL_ROWS)
            },
        ),
    }
    for what, (names, cells) in typed.items():
        same = job({**basis, **names}, cells)
        shown = row[f"{which} {what}"]
        assert shown["scenario_volume"] == pytest.approx(of(same, "lining_volume"), rel=1e-12)
        # Site costs are rounded one by one where they are typed, and in the what-if together.
        reach = Decimal("0.05") if what == "site costs" else Decimal(0)
        assert abs(shown["scenario_cost"] - of(same, "cost_total")) <= reach, what
        assert abs(shown["scenario_price"] - of(same, "net_price")) <= 2 * reach, what


@pytest.mark.parametrize("steps", [-2, 1, 2])
def test_a_step_of_film_leaves_surfaces_with_a_film_of_their_own(steps: int) -> None:
    row = rows_of(job())[f"film {steps:+d}, loss +1"]
    names, cells = losses(1, 5)
    same = job({**films(1 + 0.1 * steps), **names}, cells)
    assert row["scenario_price"] == of(same, "net_price")
    all_own = {("areas", place, "film_override"): 3.0 for place in range(len(AREA_ROWS))}
    still = rows_of(job(cells=all_own))
    assert still[f"film {steps:+d}, loss +0"]["scenario_price"] == of(
        job(cells=all_own), "net_price"
    )


def test_a_price_is_marked_where_other_drum_sets_are_opened_than_quoted() -> None:
    book = load_workbook(resource("workbook_templates", "quote-what-ifs.xlsx"))
    names = {name.lower(): one.attr_text for name, one in book.defined_names.items()}
    price, sets = (
        names[f"scenarios_scenario_{grid}_body"].split("!")[1].replace("$", "")
        for grid in ("price", "sets")
    )
    first_row, first_column, last_row, last_column = parse_area(sets)
    middle = f"${column_letters((first_column + last_column) // 2)}${(first_row + last_row) // 2}"
    rules = book["Film and loss"].conditional_formatting
    found = [rule.formula for one in rules for rule in one.rules if str(one.sqref) == price]
    assert found == [[f"{sets.split(':')[0]}<>{middle}"]]
