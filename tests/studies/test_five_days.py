"""A job of five days, two systems, 120 surfaces, 400 readings, 15 drums and 900 film readings.

What is right is worked out here by a script that knows nothing of the program: an invented
plant whose drums empty at a steady rate while somebody sprays. It is typed through LibreOffice.
"""

import math
import random
from pathlib import Path
from typing import Any

import pytest

from tests.libreoffice.calc import recalculate
from tests.workbook.day import day_cells
from tests.workbook.typing import Cells, typed
from twodrum.commands.already import already
from twodrum.commands.fill import fill_file
from twodrum.engine.evaluate import Values
from twodrum.xlsx.book import Book
from twodrum.xlsx.scan import column_letters

MONDAY, DAYS, IN_A_DAY = 46349, 5, 80
FULL, RESIDUE = 205.0, 5.0
# Litres of each side for each reading of spraying, to whole litres as a machine shows them.
STEPS = {"iso": 4.0, "resin": 4.0, "second iso": 2.0, "second resin": 4.0}
# The last two days are of the second lining.
SECOND_FROM = 3


class Side:
    """The drums of one side as they are emptied, one after the other."""

    def __init__(self, name: str) -> None:
        self.name, self.left, self.used = name, FULL, 0.0
        self.drums: list[list[Any]] = [[SECOND_FROM if name.startswith("second") else 0, 0.3]]

    def draw(self, day: int, time: float) -> bool:
        """Spray one step, or connect a new drum where the old one is empty; whether it was."""
        step = STEPS[self.name]
        if self.left - step < RESIDUE:
            self.used += self.left - RESIDUE
            self.left = FULL
            self.drums.append([day, time])
            return True
        self.left -= step
        self.used += step
        return False


def story() -> tuple[list[dict[str, Any]], list[Side], list[dict[str, float]]]:
    """Readings every three minutes, the sides, and what each day came to."""
    rng = random.Random(20261129)
    every = [Side(name) for name in STEPS]
    rows: list[dict[str, Any]] = []
    days: list[dict[str, float]] = []
    for number in range(DAYS):
        second = number >= SECOND_FROM
        sides = every[2:] if second else every[:2]
        before = [side.used for side in sides]
        start, spans = 8 / 24, 0.0
        for place in range(IN_A_DAY):
            time = start + place * 5 / 1440
            spraying = place % 8 != 7
            row: dict[str, Any] = {
                "time": time,
                "phase": "spraying" if spraying else "standing",
                "iso_pressure": 160 + rng.choice((-1, 0, 1)),
                "resin_pressure": 140 + rng.choice((-1, 0, 1)),
                "iso_temperature": 65,
                "resin_temperature": 65,
            }
            if place == 0:
                row |= {"date": MONDAY + number, "event": "test panel"}
                row |= {"place": "Bay 4" if second else "Bay 1"}
            if place == 0 and number == SECOND_FROM:
                row["lining"] = "second iso and resin"
            if place % 12 == 0:
                row |= {"air": 15, "humidity": 60, "surface_reading": 16}
            changed = [side.draw(number, time) for side in sides] if spraying and place else []
            if any(changed):
                # In equal parts both are empty together.
                word = "both" if all(changed) else "iso" if changed[0] else "resin"
                row["event"] = f"drum change {word}"
            row |= {f"{fed}_left": side.left for fed, side in zip(("iso", "resin"), sides)}
            rows.append(row)
            if place < IN_A_DAY - 1 and spraying:
                spans += 5 * 60
        drawn = [(side.used - had) / 1000 for side, had in zip(sides, before)]
        days.append({"each_iso": drawn[0], "each_resin": drawn[1], "each_spraying": spans})
    return rows, every, days


def drums_of(sides: list[Side]) -> list[dict[str, Any]]:
    rows = []
    for side in sides:
        for number, (day, time) in enumerate(side.drums, 1):
            row = {"holds": side.name, "drum_number": f"{side.name}{number}", "batch": "7"}
            row |= {"on_date": MONDAY + day, "on_at": time}
            if number < len(side.drums):
                until, at = side.drums[number]
                row |= {"off_date": MONDAY + until, "off_at": at}
            rows.append({**row, "stirred": 60} if side.name.endswith("resin") else row)
    return rows


def surfaces() -> list[dict[str, Any]]:
    rng = random.Random(4)
    return [
        {
            "surface": f"Bay {n + 1}",
            "shape": "rectangle",
            "length": round(rng.uniform(2, 9), 2),
            "width": round(rng.uniform(1, 4), 2),
            "height": None,
            "group": f"Hall {n % 4 + 1}",
            # The last hall gets another lining on a primer.
            "system": "system 2" if n % 4 == 3 else None,
        }
        for n in range(120)
    ]


# Of the second system: film in mm, loss; parts, price and drum of either side; its primer.
FLOOR: dict[str, Any] = {"film": 3.0, "loss": 0.1, "iso": (1, 12.0), "resin": (2, 14.0)}
PRIMER = {"film": 100.0, "solids": 0.5, "price": 22.0, "loss": 0.3, "pace": 50.0}
CAN, REST = 20.0, 0.5


def second_system() -> tuple[dict[str, Any], list[dict[str, Any]]]:
    """What is typed of it on Job and on Materials."""
    names = {
        "system_2_words": "A harder floor",
        "system_2_film": FLOOR["film"],
        "system_2_loss": FLOOR["loss"] * 100,
        "system_2_lining": "second iso and resin",
        "system_2_primer": "second primer",
    }
    rows: list[dict[str, Any]] = [
        {
            "component": f"second {side}",
            "ratio_part": FLOOR[side][0],
            "volume_solids": 100,
            "drum_volume": FULL,
            "residue": RESIDUE,
            "volume_price": FLOOR[side][1],
        }
        for side in ("iso", "resin")
    ]
    primer = {"component": "second primer", "coat_film": PRIMER["film"], "residue": REST}
    primer |= {"volume_solids": PRIMER["solids"] * 100, "drum_volume": CAN}
    primer |= {"volume_price": PRIMER["price"], "coat_loss": PRIMER["loss"] * 100}
    return names, [*rows, {**primer, "coat_pace": PRIMER["pace"]}]


def typed_through_calc(cells: Cells, job: Path) -> Path:
    """The cells typed into a new job by LibreOffice, which saves it."""
    new = typed({}, job.with_name("new.xlsx"))
    places = [
        [sheet, f"{column_letters(column)}{row}", value]
        for (sheet, row, column), value in cells.items()
        if value is not None
    ]
    recalculate(new, [{"set": places, "save": str(job)}])
    return job


def test_five_days_come_to_what_a_script_says(tmp_path: Path) -> None:
    readings, sides, days = story()
    areas = surfaces()
    rng = random.Random(8)
    film = [
        {
            "film_surface": areas[n % 120]["surface"],
            "reading_1": round(rng.gauss(3.4 if n % 4 == 3 else 2.3, 0.1), 2),
        }
        for n in range(900)
    ]
    typed_of_second, materials = second_system()
    names = {"work_date": MONDAY, "readings_whole": "yes", **typed_of_second}
    cells = day_cells(
        names,
        readings,
        drums=drums_of(sides),
        areas=areas,
        film=film,
        materials=[{}, {}, *materials],
    )
    job = typed_through_calc(cells, tmp_path / "job.xlsx")
    filled = fill_file(job)
    assert (filled.refused, filled.problem_count) == ("", 0), [str(p) for p in filled.problems][:4]
    values = filled.values
    _is_ordered_as_by_hand(values, areas)
    # Each surface is held against the film of its own system.
    verdicts = {row.checked_surface: row.checked_words for row in values.studies["film_check"]}
    assert len(verdicts) == 120 and all(words.startswith("Passes") for words in verdicts.values())
    assert len(values.tables["readings"].rows) == DAYS * IN_A_DAY
    assert len(values.tables["drums"].rows) == len(drums_of(sides)) == 15
    found = values.studies["usage"]
    assert [one.each_date for one in found] == [MONDAY + n for n in range(DAYS)]
    for one, wanted in zip(found, days):
        assert one.each_readings == IN_A_DAY
        for name, value in wanted.items():
            assert getattr(one, name) == pytest.approx(value), (one, name)
    linings = ["iso and resin"] * SECOND_FROM + ["second iso and resin"] * (DAYS - SECOND_FROM)
    assert [one.each_lining for one in found] == linings
    for side in sides:
        levels = values.names[f"{side.name.replace(' ', '_')}_levels"].si
        assert levels == pytest.approx(side.used / 1000), side.name
    of_second = math.fsum(side.used for side in sides[2:]) / 1000
    assert values.names["second_used"].si == pytest.approx(of_second)
    # No period of the mix reaches over a night or a drum change.
    changes = sum("drum change" in str(row.get("event")) for row in readings)
    periods = [row for row in values.studies["mix"] if "by levels" in str(row.mix_period)]
    assert DAYS <= len(periods) <= DAYS + changes
    assert all(abs(row.mix_off) < 1e-9 for row in periods)
    # Areas by hand.
    measured = math.fsum(row["length"] * row["width"] for row in areas)
    assert values.names["measured_area_total"].si == pytest.approx(measured)
    groups = values.studies["groups"]
    halls = [f"Hall {n}" for n in range(1, 5)]
    assert [row.group_name for row in groups] == [*halls, "all"]
    for hall, row in zip(halls, groups):
        own = [one for one in areas if one["group"] == hall]
        by_hand = math.fsum(one["length"] * one["width"] for one in own)
        assert row.group_measured == pytest.approx(by_hand)
    assert Book.open(job).tables["readings"].end_row >= 6 + DAYS * IN_A_DAY
    # That rows were taken in is told once; then a fill writes nothing.
    assert already(job) is None and fill_file(job).changed
    before = job.read_bytes()
    assert not fill_file(job).changed and job.read_bytes() == before


def _is_ordered_as_by_hand(values: Values, areas: list[dict[str, Any]]) -> None:
    """Litres, drums, hours and cost of both systems from areas and films."""
    square = {
        second: math.fsum(
            one["length"] * one["width"] for one in areas if (one["system"] is not None) == second
        )
        for second in (False, True)
    }
    # The system of the job: 2 mm, a quarter lost, in equal parts at 9 a litre.
    first = square[False] * 2 / 0.75
    second = square[True] * FLOOR["film"] / (1 - FLOOR["loss"])
    needed = {"iso": first / 2, "resin": first / 2}
    needed |= {f"second {side}": second * FLOOR[side][0] / 3 for side in ("iso", "resin")}
    on_floor = square[True] * PRIMER["film"] / 1000 / PRIMER["solids"] / (1 - PRIMER["loss"])
    needed["second primer"] = on_floor
    prices = {"iso": 9.0, "resin": 9.0, "second primer": PRIMER["price"]}
    prices |= {f"second {side}": FLOOR[side][1] for side in ("iso", "resin")}
    order = {str(row["component"].si): row for row in values.tables["order"].rows}
    for component, litres in needed.items():
        usable = CAN - REST if component == "second primer" else FULL - RESIDUE
        assert order[component]["needed_volume"].si * 1000 == pytest.approx(litres), component
        assert order[component]["drums_opened"].si == math.ceil(litres / usable), component
        cost = round(litres * prices[component], 2)
        assert float(order[component]["material_cost"].si) == pytest.approx(cost, abs=0.011)
    hours = (first + second) / (4 * 60 * 0.5) + square[True] / PRIMER["pace"] + 6
    assert values.names["working_time"].si / 3600 == pytest.approx(hours)
    material = sum(round(litres * prices[word], 2) for word, litres in needed.items())
    cost = material + round(hours * 3 * 40, 2)
    assert float(values.names["net_price"].si) == pytest.approx(cost / 0.7, abs=0.03)
