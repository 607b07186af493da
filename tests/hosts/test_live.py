"""A job filled with worksheet functions: one number in the file, in Calc and in Python."""

import random
import shutil
from pathlib import Path
from typing import Any

import pytest

from tests.hosts.linked_office import linked_office
from tests.libreoffice.calc import recalculate
from tests.workbook.day import day_cells, whole_day
from tests.workbook.typing import address, typed
from twodrum import call
from twodrum.books.whole import JOB
from twodrum.commands.fill import fill_file
from twodrum.commands.new import template
from twodrum.engine.evaluate import Values
from twodrum.engine.model import Cell
from twodrum.engine.order import filled, function_of
from twodrum.engine.references import Name
from twodrum.studies.learn import RESULTS
from twodrum.workbook.checks import NO_FUNCTIONS
from twodrum.workbook.contents import si_content
from twodrum.workbook.layout import make_layout
from twodrum.workbook.native import Native
from twodrum.xlsx.book import Book
from twodrum.xlsx.scan import column_letters
from twodrum.xlsx.write import NOT_AVAILABLE, Write, write_cells


def argument_names(cell: Cell) -> list[str]:
    """The names in the order of the arguments: none of these calls reads a table."""
    assert all(isinstance(reference, Name) for reference in cell.args), cell.name
    return [reference.name for reference in cell.args if isinstance(reference, Name)]


# What the engine gives and a worksheet function gives too.
LIVE = [cell for cell in JOB.cells if cell.name in filled(JOB) and function_of(cell) and cell.args]
NATIVE = Native(make_layout(JOB))
ARGUMENTS = {cell.name: [NATIVE.value_name(name) for name in argument_names(cell)] for cell in LIVE}
READ = [f"{cell.name}_si" for cell in LIVE]
READ += sorted({name for names in ARGUMENTS.values() for name in names} - set(READ))
BY_NAME = {cell.name: cell for cell in LIVE}
WEAK = {"supply_voltage": 400, "supply_current": 16, "supply_phases": "three phase"}


def test_live__warm_up_and_balance_are_worksheet_functions() -> None:
    sides = ("iso", "resin")
    wanted = {f"{side}_{name}" for side in sides for name in ("warm_up_time", "limit", "trim")}
    wanted |= {f"{side}_viscosity" for side in sides} | {"switch_on"}
    assert wanted <= set(BY_NAME)
    # What only adds these up is a plain live formula.
    plain = {f"{side}_gauge" for side in sides} | {"preparation_needed", "gauge_difference"}
    assert not plain & filled(JOB)
    # None takes single values: they count levels and readings through the day, or may be blank
    # where a hose never gets warm.
    left = {cell.name for cell in JOB.cells if cell.name in filled(JOB)} - set(BY_NAME)
    learned = {f"{side}_{name}" for side in sides for name in RESULTS}
    levels = {
        f"{side}_{name}"
        for side in sides
        for name in ("levels", "compared", "combined", "uncertainty")
    }
    levels |= {f"second_{side}_levels" for side in sides}
    day = {"hose_warm_up", "drift_first", "drift_reaches", "ratio_uncertainty", "ratio_shown_from"}
    # A sum over days of which there may be none.
    day |= {"hours_worked", "second_used"}
    # Which day is shown.
    day |= {"charted_day", "charted_lining", "learned_day"}
    film = {"measured_build", "build_uncertainty", "read_area", "mean_film", "found_spread"}
    assert left == learned | levels | day | film


def rounds() -> list[dict[str, Any]]:
    """Seeded days: what is typed into one book, round by round, each name back again later."""
    source = random.Random(20261125)
    plain: dict[str, Any] = {
        "air_temperature": 15,
        "iso_heater_power": 6,
        "iso_set_point": 75,
        "resin_drum_target": None,
        "drum_start": None,
        "supply_voltage": None,
        "supply_current": None,
        "supply_phases": None,
        "hose_length": 60,
        "iso_temperature_3": None,
        "iso_viscosity_3": None,
        "ready_time": 0.375,
        "area_uncertainty": 3,
        "film_uncertainty": 8,
        "loss_uncertainty": 5,
        "film_spread": 12,
    }
    days: list[dict[str, Any]] = [dict(plain), {**plain, **WEAK}]
    for _ in range(24):
        one = dict(plain)
        one["air_temperature"] = round(source.uniform(-5, 35), 1)
        one["iso_heater_power"] = source.choice([None, 0.3, round(source.uniform(1, 9), 2)])
        one["iso_set_point"] = source.choice([None, 60, 80])
        one["resin_drum_target"] = source.choice([None, 35, 58.5])
        one["drum_start"] = source.choice([None, 4, 55])
        one["hose_length"] = source.choice([None, 30, 75])
        one["ready_time"] = source.choice([0, 0.1, 0.375, 0.999])
        if source.random() < 0.5:
            one.update(WEAK, supply_current=source.choice([6, 10, 16, 25, 63]))
        if source.random() < 0.5:
            one.update(iso_temperature_3=80, iso_viscosity_3=source.choice([20, 55]))
        days.append(one)
    days += [{**plain, name: text} for name, text in SPOILED]
    return days


SPOILED = [
    ("iso_heater_power", "six"),
    ("air_temperature", 400),
    ("iso_set_point", "hot"),
    ("resin_drum_target", -400),
    ("iso_viscosity_3", 55),
    ("hose_length", -1),
    ("ready_time", "half past"),
]


def engine(folder: Path, names: dict[str, Any]) -> Values:
    """The same book, typed and evaluated as the batch filler does."""
    return whole_day(folder, names).values


def same(there: Any, here: Any) -> bool:
    """Equal as live formulas are: the last digits of what they are reached from may differ."""
    numbers = isinstance(here, (int, float)) and isinstance(there, (int, float))
    return abs(there - here) <= 1e-9 * max(1, abs(here)) if numbers else bool(there == here)


def as_read(content: Any) -> Any:
    return {"error": 32767} if content == NOT_AVAILABLE else content


@pytest.fixture(scope="module")
def recalculated(tmp_path_factory: pytest.TempPathFactory) -> list[dict[str, Any]]:
    folder = tmp_path_factory.mktemp("live")
    source = typed(day_cells(), folder / "job.xlsx")
    assert fill_file(source, by_functions=True).changed
    with linked_office() as office:
        shutil.copy(source, office.home / "job.xlsx")
        book = template(JOB)
        answers = office.run(
            {
                "book": str(office.home / "job.xlsx"),
                "rounds": [
                    [[*address(book, name), value] for name, value in one.items()]
                    for one in rounds()
                ],
                "read": [list(address(book, name)) for name in READ],
            }
        )
    return [dict(zip(READ, found, strict=True)) for found in answers["rounds"]]


def test_live__calc_gives_the_numbers_of_the_batch_filler_through_33_days(
    recalculated: list[dict[str, Any]], tmp_path: Path
) -> None:
    days = rounds()
    assert len(recalculated) == len(days) == 33
    wrong, numbers = [], 0
    for number, (one, found) in enumerate(zip(days, recalculated, strict=True)):
        values = engine(tmp_path, one)
        for cell in LIVE:
            there = found[f"{cell.name}_si"]
            here = as_read(si_content(values.names[cell.name]))
            numbers += isinstance(here, (int, float))
            if not same(there, here):
                wrong.append((number, cell.name, there, here))
    assert not wrong, wrong[:40]
    assert numbers > 400


def test_live__python_gives_the_same_bits_from_the_same_cells(
    recalculated: list[dict[str, Any]],
) -> None:
    """Each call that stands in a cell, made from Python with what the cells before it hold."""
    numbers = 0
    for found in recalculated:
        for cell in LIVE:
            there = found[f"{cell.name}_si"]
            if not isinstance(there, float):
                continue
            function = function_of(cell)
            assert function is not None
            given = [found[name] for name in ARGUMENTS[cell.name]]
            assert call(function.name, *given, "SI") == there, cell.name
            numbers += 1
    assert numbers > 400


def cell_of(path: Path, name: str) -> Any:
    return Book.open(path).named(f"{name}_si")


def test_live__the_file_holds_call_and_value(tmp_path: Path) -> None:
    path = typed(day_cells(WEAK), tmp_path / "job.xlsx")
    plain = typed(day_cells(WEAK), tmp_path / "plain.xlsx")
    fill_file(path, by_functions=True)
    fill_file(plain)
    for cell in LIVE:
        live, value = cell_of(path, cell.name), cell_of(plain, cell.name)
        assert live.formula and not value.formula
        assert f"{function_of(cell).name}(" in live.formula_text  # type: ignore[union-attr]
        # A formula cannot leave its cell blank; it gives an empty text.
        content = ("blank", None) if live.value == "" else (live.kind, live.value)
        assert content == (value.kind, value.value)


def test_live__filling_again_changes_nothing(tmp_path: Path) -> None:
    path = typed(day_cells(), tmp_path / "job.xlsx")
    fill_file(path, by_functions=True)
    assert not fill_file(path, by_functions=True).changed


def test_live__a_plain_fill_gives_the_values_back(tmp_path: Path) -> None:
    path = typed(day_cells(), tmp_path / "job.xlsx")
    plain = typed(day_cells(), tmp_path / "plain.xlsx")
    fill_file(plain)
    fill_file(path, by_functions=True)
    assert fill_file(path).problems == fill_file(plain).problems
    for cell in LIVE:
        assert cell_of(path, cell.name) == cell_of(plain, cell.name)


def test_live__a_call_as_another_program_writes_it_is_known_as_ours(tmp_path: Path) -> None:
    path = typed(day_cells(), tmp_path / "job.xlsx")
    fill_file(path, by_functions=True)
    book = Book.open(path)
    where = address(book, "iso_limit_si")
    part = book.sheets[where[0]]
    data = book.package.read(part)
    assert data.count(b"TD_WARM_UP_LIMIT(drum") == 2
    book.package.replace(
        part, data.replace(b"TD_WARM_UP_LIMIT(drum", b"[1]!TD_WARM_UP_LIMIT( drum")
    )
    path.write_bytes(book.package.to_bytes())
    assert [str(p) for p in fill_file(path).problems if "formula" in p.text] == []
    assert not cell_of(path, "iso_limit").formula


def test_live__a_formula_of_the_office_in_our_cell_stays_and_is_told(tmp_path: Path) -> None:
    path = typed(day_cells(), tmp_path / "job.xlsx")
    book = Book.open(path)
    where = address(book, "iso_limit_si")
    write_cells(book, {where: Write(None, formula="1+1", live=True)})
    path.write_bytes(book.package.to_bytes())
    filled_book = fill_file(path, by_functions=True)
    assert any("a formula stands in a cell" in problem.text for problem in filled_book.problems)
    assert cell_of(path, "iso_limit").formula_text == "1+1"


def test_live__a_name_that_is_gone_leaves_the_value(tmp_path: Path) -> None:
    """A call that could not find its cells would only show an error."""
    path = typed(day_cells(), tmp_path / "job.xlsx")
    book = Book.open(path)
    part = book.workbook_part
    data = book.package.read(part)
    start = data.index(b'<definedName name="planned_iso_drum_volume_si"')
    end = data.index(b"</definedName>", start) + len(b"</definedName>")
    book.package.replace(part, data[:start] + data[end:])
    path.write_bytes(book.package.to_bytes())
    fill_file(path, by_functions=True)
    assert not cell_of(path, "iso_heat_capacity").formula
    assert cell_of(path, "iso_limit").formula


def test_live__where_the_functions_are_missing_the_state_says_that_and_not_that_it_is_stale(
    tmp_path: Path,
) -> None:
    path = typed(day_cells(), tmp_path / "job.xlsx")
    film = address(Book.open(path), "film_thickness")

    def beside(live: bool, film_now: float | None) -> tuple[Any, Any]:
        filled_book = fill_file(path, by_functions=live)
        assert not any("a formula stands in a cell" in p.text for p in filled_book.problems)
        # As LibreOffice without the add-in shows it.
        cell = f"{column_letters(film[2])}{film[1]}"
        typed_now = [[film[0], cell, film_now]] if film_now else []
        read = [["Start", "B2"], ["Start", "C2"]]
        found = recalculate(path, [{"set": typed_now, "read": read}])[0]
        return found[0], found[1]

    assert beside(True, None) == ("CHECK", NO_FUNCTIONS)
    assert beside(True, 2.3) == ("CHECK", NO_FUNCTIONS)
    state, words = beside(False, 2.3)
    assert state == "STALE" and str(words).startswith("Changed since the last fill: Job")
    assert beside(False, None)[0] == "OK"
