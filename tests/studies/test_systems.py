"""Several systems in one job: every litre and cent against a script that knows nothing of it."""

import math
from pathlib import Path
from typing import Any

import pytest

from tests.libreoffice import calc
from tests.workbook.job_values import checked, job_template
from tests.workbook.recalculated import live_cells_that_change
from tests.workbook.typing import Cells, address, plain_cells, small_job, typed
from twodrum.books.parts import PARTS, QUOTE
from twodrum.commands.fill import Filled, fill_file
from twodrum.commands.month_stock import DrumStock, drums_seen
from twodrum.engine.evaluate import Value, Values
from twodrum.xlsx.book import Book

# Name, length, width, own film in mm, system.
AREAS: list[tuple[str, float, float, float | None, int]] = [
    ("Floor", 12, 5, None, 1),
    ("Sump", 8, 8, 4, 1),
    ("Deck", 20, 10, None, 2),
    ("Roof", 8, 5, 1, 3),
    ("Wall", 8, 5, None, 3),
    ("Ramp", 9, 4, 2.5, 2),
]
# The system of the job: film in mm, loss, fixed litres.
OF_JOB = {"film": 2.0, "loss": 0.25, "fixed": 15.0}
SYSTEMS = {
    2: {"film": 3.0, "loss": 0.1, "fixed": 20.0, "lining": 2, "primer": "second primer"},
    3: {"film": 1.5, "loss": None, "fixed": 0.0, "lining": 1, "primer": "primer", "top": True},
}
# Parts, solids, drum in litres, residue in litres, price of a litre.
LININGS = {
    1: (("iso", 1, 1.0, 205, 5, 9.0), ("resin", 1, 1.0, 205, 5, 9.0)),
    2: (("second iso", 1, 1.0, 200, 4, 12.0), ("second resin", 2, 0.9, 190, 6, 14.0)),
}
# Film in micrometres, solids, can, residue, price, own loss, square metres in an hour.
COATS: dict[str, tuple[float, float, float, float, float, float | None, float | None]] = {
    "primer": (75, 0.5, 20, 0.5, 20.0, 0.3, 40),
    "top coat": (60, 0.45, 10, 0.2, 31.0, None, None),
    "second primer": (100, 0.6, 20, 0.5, 22.0, None, 25),
}
ACCEPTANCE = 0.05
RATES = {"output": 4.0, "share": 0.5, "preparation": 6.0, "crew": 3, "wage": 40.0, "margin": 0.3}


def cells(film: float = 1.0, loss: float = 0.0) -> Cells:
    """What is typed; the films of all systems by a factor, points on every loss."""
    book = job_template()
    found = plain_cells(book)
    names: dict[str, Any] = {
        "film_thickness": OF_JOB["film"] * film,
        "loss_share": (OF_JOB["loss"] + loss) * 100,
        "fixed_volume": OF_JOB["fixed"],
        "acceptance_share": ACCEPTANCE * 100,
    }
    for number, system in SYSTEMS.items():
        own = system["loss"]
        names |= {
            f"system_{number}_film": system["film"] * film,
            f"system_{number}_loss": None if own is None else (own + loss) * 100,
            f"system_{number}_fixed": system["fixed"],
            f"system_{number}_lining": ("iso and resin", "second iso and resin")[
                system["lining"] - 1
            ],
            f"system_{number}_primer": system["primer"],
            f"system_{number}_top_coat": "top coat" if system.get("top") else "none",
            f"system_{number}_words": f"System {number} for the customer",
        }
    rows: dict[str, list[dict[str, Any]]] = {"areas": [], "materials": []}
    for name, length, width, own_film, system in AREAS:
        rows["areas"].append(
            {
                "surface": name,
                "shape": "rectangle",
                "length": length,
                "width": width,
                "height": None,
                "film_override": own_film,
                "system": f"system {system}" if system > 1 else None,
            }
        )
    for pair in LININGS.values():
        for component, parts, solids, drum, residue, price in pair:
            rows["materials"].append(
                {
                    "component": component,
                    "ratio_part": parts,
                    "volume_solids": solids * 100,
                    "drum_volume": drum,
                    "residue": residue,
                    "volume_price": price,
                }
            )
    for component, (coat, solids, drum, residue, price, lost, pace) in COATS.items():
        rows["materials"].append(
            {
                "component": component,
                "coat_film": coat,
                "volume_solids": solids * 100,
                "drum_volume": drum,
                "residue": residue,
                "volume_price": price,
                # A blank one is the loss of the job.
                "coat_loss": None if lost is None else (lost + loss) * 100,
                "coat_pace": pace,
            }
        )
    found |= {address(book, name): value for name, value in names.items()}
    for table, records in rows.items():
        for index, record in enumerate(records):
            for name, value in record.items():
                found[address(book, f"{table}.{name}", index)] = value
    return found


def by_hand(film: float = 1.0, loss: float = 0.0) -> dict[str, Any]:
    """Litres, drums and money of that job, from areas and films."""
    mixed = {1: 0.0, 2: 0.0}
    of_system = {}
    areas = {1: 0.0, 2: 0.0, 3: 0.0}
    for number in (1, 2, 3):
        system: dict[str, Any] = {**OF_JOB, "lining": 1} if number == 1 else SYSTEMS[number]
        pair = LININGS[system["lining"]]
        solids = sum(part * share for _, part, share, *_ in pair) / sum(row[1] for row in pair)
        litres = 0.0
        for _, length, width, own, of in AREAS:
            if of == number:
                areas[number] += length * width
                litres += length * width * (own or system["film"] * film) / solids
        lost = (OF_JOB["loss"] if system["loss"] is None else system["loss"]) + loss
        supplied = litres * (1 + ACCEPTANCE) / (1 - lost) + system["fixed"]
        of_system[number] = supplied
        mixed[system["lining"]] += supplied
    needed: dict[str, float] = {}
    prices: dict[str, float] = {}
    drums: dict[str, int] = {}
    for number, pair in LININGS.items():
        for component, parts, _, drum, residue, price in pair:
            needed[component] = mixed[number] * parts / sum(row[1] for row in pair)
            drums[component] = math.ceil(needed[component] / (drum - residue) - 1e-9)
            prices[component] = price
    coated = {"primer": areas[1] + areas[3], "top coat": areas[1] + areas[3]}
    coated["second primer"] = areas[2]
    hours = 0.0
    for component, (coat, solids, can, residue, price, lost, pace) in COATS.items():
        gone = (OF_JOB["loss"] if lost is None else lost) + loss
        needed[component] = coated[component] * coat / 1000 / solids / (1 - gone)
        drums[component] = math.ceil(needed[component] / (can - residue) - 1e-9)
        prices[component] = price
        hours += coated[component] / pace if pace else 0.0
    material = sum(round(needed[word] * prices[word], 2) for word in needed)
    at_gun = sum(mixed.values()) / (RATES["output"] * 60 * RATES["share"])
    labour = round((at_gun + hours + RATES["preparation"]) * RATES["crew"] * RATES["wage"], 2)
    return {
        "of_system": of_system,
        "mixed": mixed,
        "needed": needed,
        "drums": drums,
        "hours": hours,
        "sets": max(drums["iso"], drums["resin"]) + max(drums["second iso"], drums["second resin"]),
        "price": round((material + labour) / (1 - RATES["margin"]), 2),
    }


def order_of(values: Values) -> dict[str, Any]:
    return {str(row["component"].si): row for row in values.tables["order"].rows}


def test_litres_drums_hours_and_price_follow_by_system__by_hand() -> None:
    found, hand = checked(cells()), by_hand()
    assert [str(problem) for problem in found.problems] == []
    names = found.values.names
    for number, litres in hand["of_system"].items():
        assert names[f"system_{number}_volume"].si * 1000 == pytest.approx(litres, rel=1e-12)
    assert names["lining_volume"].si * 1000 == pytest.approx(sum(hand["mixed"].values()), rel=1e-12)
    order = order_of(found.values)
    for component, litres in hand["needed"].items():
        row = order[component]
        assert row["needed_volume"].si * 1000 == pytest.approx(litres, rel=1e-12), component
        assert row["drums_opened"].si == hand["drums"][component], component
    assert names["coats_time"].si / 3600 == pytest.approx(hand["hours"], rel=1e-12)
    assert names["drum_sets"].si == hand["sets"]
    assert float(names["net_price"].si) == pytest.approx(hand["price"], abs=0.011)


def test_film_and_loss_move_every_system_as_a_job_typed_so__by_hand() -> None:
    rows = checked(cells()).values.tables["scenarios"].rows
    looked_at = 0
    for row in rows:
        name = str(row["scenario"].si)
        if name.startswith("film "):
            film, loss = (int(word.split()[-1]) for word in name.split(","))
            # The template steps by a tenth of the film, five points of the loss.
            hand = by_hand(1 + 0.1 * film, 0.05 * loss)
            assert row["scenario_sets"].si == hand["sets"], name
            litres = sum(hand["mixed"].values())
            assert row["scenario_volume"].si * 1000 == pytest.approx(litres, rel=1e-12), name
            assert float(row["scenario_price"].si) == pytest.approx(hand["price"], abs=0.011), name
            looked_at += 1
    assert looked_at == 25


def test_a_what_if_is_the_job_typed_so() -> None:
    typed_so = checked(cells(1.1, 0.05)).values.names
    rows = {str(r["scenario"].si): r for r in checked(cells()).values.tables["scenarios"].rows}
    row = rows["film +1, loss +1"]
    assert row["scenario_price"].si == typed_so["net_price"].si
    assert row["scenario_volume"].si == pytest.approx(typed_so["lining_volume"].si, rel=1e-14)


def test_drums_open_where_their_lining_has_used_up_the_ones_before__by_hand() -> None:
    opened = checked(cells()).values.studies["drum_plan"]
    hand = by_hand()
    for component in ("iso", "resin", "second iso", "second resin"):
        rows = [row for row in opened if row.plan_component == component]
        assert [row.drum_number for row in rows] == list(range(1, hand["drums"][component] + 1))
    of_second = [row.opened_at for row in opened if row.plan_component.startswith("second")]
    assert set(of_second) == {"Deck", "Ramp"}
    assert not {row.opened_at for row in opened if row.plan_component == "iso"} & {"Deck", "Ramp"}


def test_each_system_has_a_row_where_a_further_one_is_named() -> None:
    found = checked(cells()).values.studies["systems"]
    told = [(row.system_name, row.system_surfaces, row.system_area) for row in found]
    assert told == [
        ("of the job", 2, pytest.approx(124)),
        ("system 2", 2, pytest.approx(236)),
        ("system 3", 2, pytest.approx(80)),
    ]
    assert checked(plain_cells(job_template())).values.studies["systems"] == []


def mistaken(**wrong: Any) -> Filled:
    """The same with other values in some cells, by their names; rows of a table by "table.name"."""
    book = job_template()
    found = cells()
    for key, value in wrong.items():
        name, _, row = key.replace("__", ".").partition("_at_")
        found[address(book, name, int(row or 0))] = value
    return checked(found)


def test_a_second_lining_without_its_materials_is_told_and_gives_no_price() -> None:
    found = mistaken(
        materials__component_at_2=None,
        materials__ratio_part_at_2=None,
        materials__volume_solids_at_2=None,
        materials__drum_volume_at_2=None,
        materials__residue_at_2=None,
        materials__volume_price_at_2=None,
    )
    told = [problem for problem in found.problems if problem.code == "lacks-material"]
    assert len(told) == 1 and "Materials has no row of second iso" in str(told[0])
    # One side alone is no mix.
    assert found.values.names["net_price"].si is None


def test_a_primer_that_is_not_on_materials_is_told() -> None:
    found = mistaken(system_2_primer="primer", materials__component_at_4="second primer")
    texts = [str(problem) for problem in found.problems if problem.code == "lacks-material"]
    assert any("system 2 has 'primer'; Materials has no row of primer" in text for text in texts)


def test_an_area_of_an_unknown_system_is_refused_and_all_totals_with_it() -> None:
    found = mistaken(areas__system_at_3="roofing")
    told = [str(problem) for problem in found.problems]
    assert any("Areas!" in text and "'roofing'" in text and "system 2" in text for text in told)
    assert found.values.names["lining_volume"].refused
    assert found.values.names["net_price"].refused


def test_a_system_that_is_described_and_named_by_no_area_is_told() -> None:
    found = mistaken(areas__system_at_3=None, areas__system_at_4=None)
    told = [problem for problem in found.problems if problem.code == "unused-system"]
    assert len(told) == 1 and "no area names it" in str(told[0])


def test_films_are_held_against_the_data_sheet_of_their_own_lining() -> None:
    of_job = {"film_most": 3.0, "system_2_most": 5.0}
    film = [("Floor", 3.4), ("Deck", 3.4), ("Deck", 5.2)]
    wrong: dict[str, Any] = dict(of_job)
    for row, (surface, read) in enumerate(film):
        wrong[f"film__film_surface_at_{row}"] = surface
        wrong[f"film__reading_1_at_{row}"] = read
    # The sump has a film of its own above what the data sheet of the first lining allows.
    wrong["areas__film_override_at_1"] = 2.5
    verdicts = [str(row["verdict"].si) for row in mistaken(**wrong).values.tables["film"].rows]
    assert "Too thick" in verdicts[0]
    assert "Too thick" not in verdicts[1]
    assert "Too thick" in verdicts[2]


def test_used_litres_of_a_second_lining_are_those_of_its_drums() -> None:
    used: dict[str, Any] = {"iso_weighed": 300, "resin_weighed": 300}
    for row, (holds, drawn) in enumerate((("second iso", 190), ("second resin", 180))):
        used |= {
            f"drums__holds_at_{row}": holds,
            f"drums__drum_number_at_{row}": str(row),
            f"drums__opening_level_at_{row}": 200,
            f"drums__closing_level_at_{row}": 200 - drawn,
        }
    assert mistaken(**used).values.names["used_volume"].si == pytest.approx(0.97)
    open_drum = {**used, "drums__closing_level_at_1": None}
    names = mistaken(**open_drum).values.names
    assert names["used_volume"].si is None
    assert mistaken(iso_weighed=300, resin_weighed=300).values.names["used_volume"].si is None


@pytest.mark.parametrize("parts", [(QUOTE,), PARTS], ids=["quote", "whole"])
def test_live_formulas_give_the_same_by_system(parts: tuple[str, ...], tmp_path: Path) -> None:
    calc.require()
    whole, job = job_template(), small_job(tmp_path / "job.xlsx", parts)
    book = Book.open(job)
    moved: Cells = {}
    for (sheet, row, column), value in cells().items():
        area = whole.area("film_thickness")
        assert area is not None
        if sheet in book.sheets and (sheet != area.sheet or parts == PARTS):
            moved[sheet, row, column] = value
    for name in NAMES:
        where = address(whole, name)
        moved[address(book, name)] = cells()[where]
    fill_file(typed(moved, job, source=job))
    changed, count = live_cells_that_change(job)
    assert (changed[:5], count > 2500) == ([], True)


NAMES = (
    *("film_thickness", "loss_share", "fixed_volume", "acceptance_share"),
    *(
        f"system_{number}_{name}"
        for number in SYSTEMS
        for name in ("film", "loss", "fixed", "lining", "primer", "top_coat", "words")
    ),
)


def grid(found: Filled) -> list[Value]:
    return [row["scenario_price"] for row in found.values.tables["scenarios"].rows]


@pytest.mark.parametrize(
    "component", ["second iso", "second resin", "primer", "top coat", "second primer"]
)
def test_without_a_material_neither_the_price_nor_a_what_if_is_given(component: str) -> None:
    book = job_template()
    order = [row for pair in LININGS.values() for row, *_ in pair] + list(COATS)
    place = order.index(component)
    found = cells()
    for column in ("component", "ratio_part", "volume_solids", "coat_film", "drum_volume"):
        found[address(book, f"materials.{column}", place)] = None
    for column in ("residue", "volume_price", "coat_loss", "coat_pace"):
        found[address(book, f"materials.{column}", place)] = None
    result = checked(found)
    assert result.values.names["net_price"].refused
    assert all(price.refused for price in grid(result))
    told = [problem for problem in result.problems if problem.code == "lacks-material"]
    assert told and all(component in str(problem) for problem in told)
    # It is told where it is picked, and nowhere else.
    assert {problem.where.split("!")[0] for problem in result.problems} == {"Job"}


def test_panels_of_a_system_that_no_area_names_are_not_priced() -> None:
    bare = {"areas__system_at_3": None, "areas__system_at_4": None}
    with_panels = mistaken(**bare, system_3_fixed=100)
    assert with_panels.values.names["net_price"].si == mistaken(**bare).values.names["net_price"].si
    assert [p.code for p in with_panels.problems].count("unused-system") == 1


def test_a_second_lining_that_no_system_picks_is_told() -> None:
    found = mistaken(system_2_lining="iso and resin")
    told = [str(p) for p in found.problems if p.code == "unused-material"]
    assert len(told) == 2 and all("no area asks for the second" in text for text in told)


def test_a_coat_that_was_left_blank_is_none_and_says_so() -> None:
    found = mistaken(system_2_primer=None)
    assert found.values.names["second_primer_area"].si == 0
    texts = [str(p) for p in found.problems if p.code == "unusual"]
    assert any("System 2: primer is blank: system 2 gets none" in text for text in texts)


def test_a_top_coat_may_be_of_a_further_system_alone() -> None:
    found = mistaken(system_1_top_coat="none")
    hand = 80.0
    assert found.values.names["top_coat_area"].si == pytest.approx(hand)


def test_no_loss_and_panels_leave_the_chances_known() -> None:
    book = job_template()
    for length, width in ((5.0, 10.0), (3.3, 10.0), (7.7, 3.1), (0.1, 0.3)):
        found = plain_cells(book)
        names = {"loss_share": 0, "fixed_volume": 15}
        names |= {"area_uncertainty": 3, "film_uncertainty": 8, "loss_uncertainty": 5}
        for name, value in names.items():
            found[address(book, name)] = value
        for row in range(2):
            found[address(book, "areas.length", row)] = length
            found[address(book, "areas.width", row)] = width
        result = checked(found)
        assert result.problem_count == 0
        assert result.values.names["first_loss"].si == pytest.approx(0, abs=1e-12)


def test_a_limit_that_nobody_typed_is_told_where_the_film_stands() -> None:
    found = mistaken(film_most=2.5, areas__film_override_at_1=2.4, areas__film_override_at_5=2.2)
    told = [str(p) for p in found.problems if p.code == "wrong-order"]
    assert len(told) == 1 and "System 2: dry film thickness is 3 mm" in told[0]
    assert "is blank, and so 2.5 mm; type the one of its data sheet there" in told[0]


def test_drums_of_one_side_of_a_second_lining_are_half_of_what_was_used() -> None:
    half: dict[str, Any] = {
        "iso_weighed": 300,
        "resin_weighed": 300,
        "drums__holds_at_0": "second iso",
        "drums__drum_number_at_0": "1",
        "drums__opening_level_at_0": 200,
        "drums__closing_level_at_0": 70,
    }
    assert mistaken(**half).values.names["used_volume"].si is None


def test_a_month_counts_drums_of_a_second_lining_like_those_of_the_first() -> None:
    typed_drums: dict[str, Any] = {}
    for row, (holds, full) in enumerate((("iso", 205), ("second iso", 200))):
        typed_drums |= {
            f"drums__holds_at_{row}": holds,
            f"drums__drum_number_at_{row}": str(row),
            f"drums__opening_level_at_{row}": full,
            f"drums__closing_level_at_{row}": 60,
        }
    values, stock = mistaken(**typed_drums).values, DrumStock()
    for drum in drums_seen(values):
        stock.take(drum, {"file": "job.xlsx"})
    found = {row["holds"]: row for row in stock.rows()}
    assert found["iso"]["left"] == pytest.approx(0.055)
    assert found["second iso"]["left"] == pytest.approx(0.056)
    assert found["second iso"]["held"] == pytest.approx(0.2)
