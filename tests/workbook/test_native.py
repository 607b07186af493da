"""Engine against live formulas: the same numbers, the same refusals, in both unit systems."""

import os
import random
from collections.abc import Callable
from typing import Any

import pytest

from tests.libreoffice.calc import recalculate
from tests.workbook.job_values import TypedBook
from tests.workbook.typing import address
from twodrum.books.systems import SYSTEMS
from twodrum.books.whole import JOB
from twodrum.commands.new import template
from twodrum.core.takeoff import KNOWN_AREA, SHAPE_NAMES, SHAPES
from twodrum.engine.evaluate import Value, Values, evaluate
from twodrum.engine.model import Field
from twodrum.engine.order import filled as filled_keys
from twodrum.resources import resource
from twodrum.units import KINDS, from_si
from twodrum.workbook.contents import shown_content, si_content
from twodrum.workbook.layout import accepted_name, apart, in_workings, units_picked, value_header
from twodrum.workbook.read import BookTargets, Inputs
from twodrum.xlsx.book import Book
from twodrum.xlsx.scan import column_letters
from twodrum.xlsx.write import Error

# So many in every run; `TWODRUM_SEEDED_JOBS=150` and more before a release.
CASES = int(os.environ.get("TWODRUM_SEEDED_JOBS", "12"))
AREA_ROWS, MATERIAL_ROWS, READING_ROWS = 6, 5, 4
OTHER_TABLES, OTHER_ROWS = ("drums", "film", "pulls"), 3


class Story:
    """One seeded job: what is typed where."""

    def __init__(self, seed: int, book: Book) -> None:
        self.random = random.Random(seed)
        self.book = book
        self.system = ("metric", "us")[seed % 2]
        # A job of which all is known, so that it can be held against its quote.
        self.whole = seed % 4 == 1
        self.mistakes = seed % 3 == 0 and not self.whole
        # A second lining beside the first.
        self.second = seed % 8 in (2, 3, 6)
        self.cells: dict[tuple[str, int, int], Any] = {}
        self.units: dict[str, str] = {}
        for name, item in units_picked(JOB):
            unit = item.unit(self.system)
            if self.random.random() < 0.15:
                unit = self.random.choice(KINDS[item.kind].unit_texts)
            self.units[name] = unit
            self.cells[address(book, f"{name}_unit")] = unit
        for item in JOB.fields():
            self.put(item.name, item, self.single(item))
        for row in range(AREA_ROWS):
            self.area(row, used=row < self.random.randint(1, AREA_ROWS))
        for row in range(MATERIAL_ROWS):
            self.material(row)
        for row in range(READING_ROWS):
            self.reading(row, used=row < self.random.randint(0, READING_ROWS))
        for table in OTHER_TABLES:
            rows = self.random.randint(0, OTHER_ROWS)
            for row in range(OTHER_ROWS):
                self.other(table, row, used=row < rows)

    def put(self, key: str, item: Field, value: Any, row: int = 0) -> None:
        where = address(self.book, key, row)
        if isinstance(value, float) and item.kind in KINDS:
            unit = self.units.get(key.replace(".", "_"), KINDS[item.kind].metric)
            value = float(f"{from_si(value, item.kind, unit):.6g}")
        self.cells[where] = value

    def number(self, item: Field, low: float, high: float) -> Any:
        chance = self.random.random()
        if self.whole and item.kind == "share":
            low = max(low, 0.02)
        if chance < 0.25 and not item.required and not self.whole:
            return None
        if self.mistakes and chance > 0.97:
            return self.random.choice([-1e9, "0,5", "text", 1e15, "12 mm"])
        value = self.random.uniform(low, high)
        return float(round(value)) if item.kind in WHOLE else value

    def single(self, item: Field) -> Any:
        if item.kind in ("lining", "primer_of", "top_coat_of") and not self.second:
            # What Materials does not have refuses the price, most of the time.
            return None if self.whole or self.random.random() < 0.9 else JOB.choices[item.kind][-1]
        if item.kind in JOB.choices:
            return self.random.choice([*JOB.choices[item.kind], None])
        if item.kind == "text":
            return self.random.choice(["Some words", None])
        if item.kind == "date":
            return 46351.0
        if item.kind == "clock":
            return self.random.choice([0.375, None])
        low, high = RANGES.get(item.name, (item.least, item.most))
        return self.number(item, low, high)

    def reading(self, row: int, used: bool) -> None:
        for item in JOB.table("readings").fields:
            value: Any = None
            if used and item.name == "time":
                value = 0.25 + row / 48
            elif used and item.kind in JOB.choices:
                value = self.random.choice(JOB.choices[item.kind])
            elif used and item.kind in KINDS and not (self.whole and item.kind == "volume"):
                value = self.number(item, item.least, item.most)
            self.put(f"readings.{item.name}", item, value, row)

    def other(self, table: str, row: int, used: bool) -> None:
        for item in JOB.table(table).fields:
            value: Any = None
            if used and item.kind == "text" and item.required:
                value = f"Row {row}" if self.random.random() > 0.03 else None
            elif used and item.kind in JOB.choices:
                value = self.random.choice(JOB.choices[item.kind])
            elif used and item.kind in KINDS:
                low, high = OTHER_RANGES.get(item.name, (item.least, item.most))
                value = self.number(item, low, high)
            self.put(f"{table}.{item.name}", item, value, row)

    def area(self, row: int, used: bool) -> None:
        shape = self.random.choice(SHAPE_NAMES)
        sizes = ("known_area",) if shape == KNOWN_AREA else tuple(SHAPES[shape][1])
        for item in JOB.table("areas").fields:
            value: Any = None
            if used and item.name == "surface":
                value = f"Surface {row}"
            elif used and item.name == "shape":
                value = shape if self.random.random() > 0.03 else None
            elif used and item.name in sizes:
                low, high = SIZES.get((shape, item.name), (0.5, 20.0))
                value = self.random.uniform(low, high)
                if item.name in ("other_size", "corner_radius") and self.random.random() < 0.15:
                    value = 0.0
                if self.mistakes and self.random.random() < 0.05:
                    value = self.random.choice([None, "two", -3.0])
            elif used and item.name in AREA_RANGES:
                value = self.number(item, *AREA_RANGES[item.name])
            elif used and item.name == "system":
                some = [None, None, *SYSTEMS, *(["none"] * self.mistakes)]
                value = None if self.whole else self.random.choice(some)
            self.put(f"areas.{item.name}", item, value, row)

    def material(self, row: int) -> None:
        words = ("iso", "resin", "primer", "top coat", "iso")
        if self.second:
            words = ("iso", "resin", "second iso", "second resin", "second primer")
        used = row < 2 or (row < 4 and (self.second or self.random.random() < 0.5))
        used = used or (row == 4 and self.mistakes and self.random.random() < 0.1)
        used = used or (row == 4 and self.second and not self.mistakes)
        for item in JOB.table("materials").fields:
            value: Any = None
            if used and item.name == "component":
                value = words[row]
            elif used and item.name == "material":
                value = f"Material {row}"
            elif used and item.name == "ratio_part":
                mixed = words[row].endswith(("iso", "resin"))
                value = self.random.choice([1.0, 1.0, 2.0, 0.5]) if mixed else None
            elif used and item.name == "coat_film":
                mixed = words[row].endswith(("iso", "resin"))
                value = None if mixed else self.random.uniform(0.0, 0.0005)
            elif used and item.name in MATERIAL_RANGES:
                value = self.number(item, *MATERIAL_RANGES[item.name])
            self.put(f"materials.{item.name}", item, value, row)


WHOLE = ("people", "decimals", "count", "drums")
RANGES = {
    "film_thickness": (0.0005, 0.005),
    "pass_build": (0.0002, 0.001),
    "profile_height": (0.0, 0.0001),
    "loss_share": (0.0, 0.5),
    "fixed_volume": (0.0, 0.1),
    **{
        f"system_{n}_{name}": ends
        for n in (2, 3)
        for name, ends in (
            ("film", (0.0005, 0.004)),
            ("most", (0.004, 0.006)),
            ("pass", (0.0002, 0.001)),
            ("loss", (0.0, 0.5)),
            ("fixed", (0.0, 0.1)),
        )
    },
    "air_temperature": (260.0, 310.0),
    "pump_output": (2e-5, 2e-4),
    "preparation_time": (0.0, 2e5),
    "crew_size": (1, 8),
    "day_length": (20000.0, 40000.0),
    "labour_rate": (0.005, 0.03),
    "other_cost": (0.0, 5000.0),
    # A remainder of a billion times a thousand has no cents in fifteen digits.
    **dict.fromkeys(
        ("mobilisation_cost", "masking_cost", "access_cost", "travel_cost", "disposal_cost"),
        (0.0, 50000.0),
    ),
    "minimum_price": (0.0, 50000.0),
    "preparation_rate": (0.0, 60.0),
    **dict.fromkeys(("iso_weighed", "resin_weighed"), (0.3, 0.9)),
    **dict.fromkeys(("iso_taken", "resin_taken"), (0.6, 1.2)),
    **dict.fromkeys(("iso_returned", "resin_returned"), (0.0, 0.3)),
    "lost_volume": (0.0, 0.4),
    "margin_share": (0.0, 0.6),
    "tax_share": (0.0, 0.3),
    "discount_share": (0.0, 0.3),
    "price_rise": (0.0, 0.2),
    "round_to": (0, 100),
    "daily_cost": (0.0, 800.0),
    "money_decimals": (0, 3),
}
SIZES = {
    ("ring", "diameter"): (10.0, 20.0),
    ("ring", "other_size"): (1.0, 11.0),
    ("torispherical head", "diameter"): (1.0, 4.0),
    ("torispherical head", "other_size"): (1.5, 5.0),
    ("torispherical head", "corner_radius"): (0.05, 0.6),
    ("I or H section", "other_size"): (0.005, 0.6),
    ("I or H section", "corner_radius"): (0.0, 0.3),
    ("hollow section", "corner_radius"): (0.0, 0.3),
}
AREA_RANGES = {
    "piece_count": (0, 12),
    "opening_area": (0.0, 3.0),
    "profile_factor": (1.0, 1.5),
    "film_override": (0.0005, 0.004),
    "agreed_area": (0.0, 400.0),
}
MATERIAL_RANGES = {
    "volume_solids": (0.5, 1.0),
    "coat_loss": (0.0, 0.5),
    "coat_pace": (1e-3, 0.1),
    "density": (900.0, 1250.0),
    "density_temperature": (288.15, 298.15),
    "thermal_expansion": (0.0, 0.001),
    "spray_temperature": (323.15, 353.15),
    "spray_low": (313.15, 333.15),
    "spray_high": (330.15, 353.15),
    "drum_volume": (0.15, 0.25),
    "residue": (0.0, 0.02),
    "volume_price": (2000.0, 20000.0),
    "drums_on_hand": (0, 4),
    "part_drum_volume": (0.0, 0.15),
}


OTHER_RANGES = {
    "opening_weight": (100.0, 260.0),
    "closing_weight": (15.0, 120.0),
    "opening_level": (0.1, 0.21),
    "closing_level": (0.0, 0.12),
    **{f"reading_{number}": (0.001, 0.004) for number in (1, 2, 3)},
}


def by_the_filler(result: Values, book: Book) -> list[tuple[str, int, int, Any]]:
    """Cells that the filler writes and live formulas read, with the engine's values."""

    def plain(value: Value) -> Any:
        return "=NA()" if value.refused else value.si

    found = []
    for key in filled_keys(JOB):
        if "." not in key:
            found.append((*address(book, f"{key}_si"), plain(result.names[key])))
            continue
        table, name = key.split(".")
        column = JOB.column_item(table, name)
        if table not in LOOKED_AT or not in_workings(column):
            continue
        read = book.tables[table]
        place = read.columns[value_header(column)]
        used = dict(zip(USED[table](result), result.tables[table].rows, strict=True))
        for row in LOOKED_AT[table]:
            value = plain(used[row][name]) if row in used else None
            found.append((read.area.sheet, read.area.first_row + row, place, value))
    return found


def expected_results(
    result: Values, book: Book, shown: bool = True
) -> dict[tuple[str, int, int], tuple[str, Value | None, Any]]:
    """Every result cell: what it is, its value, and the content that the engine gives it."""
    found: dict[tuple[str, int, int], tuple[str, Value | None, Any]] = {}
    by_engine = filled_keys(JOB)
    for cell in JOB.cells:
        if cell.name in by_engine:
            continue
        value = result.names[cell.name]
        found[address(book, f"{cell.name}_si")] = (f"{cell.name} SI", value, si_content(value))
        if shown and cell.name in apart(JOB) and not cell.working:
            found[address(book, cell.name)] = (cell.name, value, shown_content(value))
    for table, looked_at in LOOKED_AT.items():
        read = book.tables[table]
        used = dict(zip(USED[table](result), result.tables[table].rows, strict=True))
        for row in looked_at:
            values = used.get(row)
            for column in JOB.columns_of(table):
                if f"{table}.{column.name}" in by_engine:
                    continue
                value = values[column.name] if values else None
                where = (read.area.sheet, read.area.first_row + row)
                name = f"{table}[{row}].{column.name}"
                if in_workings(column):
                    content = si_content(value) if value else ""
                    found[(*where, read.columns[value_header(column)])] = (name, value, content)
                if not column.working and shown:
                    content = shown_content(value) if value else ""
                    found[(*where, read.columns[column.label])] = (name, value, content)
    return found


def _area_rows(result: Values) -> list[int]:
    rows = result.tables["areas"].rows
    return [int(row["surface"].where.split("!")[1][1:]) - 7 for row in rows]


def _order_rows(result: Values) -> list[int]:
    keys = JOB.table("order").keys
    return [keys.index(row["component"].si) for row in result.tables["order"].rows]


def _typed_rows(table: str) -> Callable[[Values], list[int]]:
    first = JOB.table(table).fields[0].name

    def found(result: Values) -> list[int]:
        rows = result.tables[table].rows
        return [int(row[first].where.split("!")[1][1:]) - 7 for row in rows]

    return found


def _scenario_rows(result: Values) -> list[int]:
    return list(range(len(result.tables["scenarios"].rows)))


USED = {
    "areas": _area_rows,
    "order": _order_rows,
    **{name: _typed_rows(name) for name in ("readings", *OTHER_TABLES)},
    "scenarios": _scenario_rows,
}
LOOKED_AT = {
    "areas": range(AREA_ROWS),
    "readings": range(READING_ROWS),
    **dict.fromkeys(OTHER_TABLES, range(OTHER_ROWS)),
    "order": range(7),
    # Corners and middle of the grid, and each sensitivity down.
    "scenarios": (0, 4, 12, 20, 24, *range(25, 37, 2)),
}


def differs(found: Any, content: Any) -> bool:
    """Whether a live cell is unlike the engine's content, within the promise of 1e-9."""
    if isinstance(content, Error):
        return not (isinstance(found, dict) and found["error"] == "#N/A")
    if isinstance(content, str):
        return found != content
    if not isinstance(found, float):
        return True
    return abs(found - float(content)) > 1e-9 * max(1.0, abs(float(content)))


@pytest.fixture(scope="module")
def job_template() -> Book:
    return template(JOB)


def judged(story: Story, book: Book) -> tuple[Values, dict[str, float | None]]:
    """A job evaluated, held against a quote near it where it has one."""
    inputs = Inputs(JOB, TypedBook(book, story.cells))
    result = evaluate(JOB, inputs.read(), BookTargets(inputs))
    quote = {name: result.names[name].si for name in JOB.accepted}
    if None in quote.values() or (not story.whole and story.random.random() < 0.3):
        return result, dict.fromkeys((accepted_name(name) for name in quote), None)
    kept = {name: float(si) * story.random.uniform(0.8, 1.2) for name, si in quote.items()}
    inputs = Inputs(JOB, TypedBook(book, story.cells), kept)
    result = evaluate(JOB, inputs.read(), BookTargets(inputs))
    return result, {accepted_name(name): si for name, si in kept.items()}


@pytest.mark.parametrize("half", [0, 1])
def test_live_formulas_equal_the_engine__seeded_jobs(job_template: Book, half: int) -> None:
    # Each core of a machine takes one half.
    seeds = range(half * CASES // 2, (half + 1) * CASES // 2)
    stories = [Story(seed, job_template) for seed in seeds]
    wanted, written = [], []
    reconciled = 0
    for story in stories:
        result, accepted = judged(story, job_template)
        reconciled += result.names["material_over_quote"].si is not None
        # What is shown is one conversion of what stands in SI: every third job looks at it.
        shown = len(wanted) % 3 == 0
        wanted.append(expected_results(result, job_template, shown))
        kept = [(*address(job_template, f"{n}_si"), v) for n, v in accepted.items()]
        written.append([*by_the_filler(result, job_template), *kept])
    cases = [
        {
            "set": [
                *([s, f"{column_letters(c)}{r}", v] for (s, r, c), v in story.cells.items()),
                *([s, f"{column_letters(c)}{r}", v] for s, r, c, v in ours),
            ],
            "read": [[s, f"{column_letters(c)}{r}"] for s, r, c in results],
        }
        for story, results, ours in zip(stories, wanted, written, strict=True)
    ]
    answers = recalculate(resource("workbook_templates", "job.xlsx"), cases)
    unlike = []
    compared = refused = 0
    for seed, results, answer in zip(seeds, wanted, answers, strict=True):
        for (name, value, content), found in zip(results.values(), answer, strict=True):
            compared += 1
            refused += isinstance(content, Error)
            if differs(found, content):
                unlike.append(f"job {seed} {name}: live {found}, engine {content} {value}")
    assert not unlike, f"{len(unlike)} of {compared}:\n" + "\n".join(unlike[:40])
    # The seeds must exercise both numbers and refusals, and jobs held against their quote.
    assert reconciled > CASES / 20
    assert compared > 200 * CASES
    assert 10 * CASES < refused < compared / 2
