"""Every live formula alone, recalculated by LibreOffice, against its Python twin."""

import random
import re
from decimal import Decimal
from pathlib import Path
from typing import Any

import pytest
from openpyxl import Workbook
from openpyxl.workbook.defined_name import DefinedName

from tests.catalogue.test_functions import example
from tests.grouped import of_each
from tests.libreoffice.calc import recalculate
from twodrum.books.whole import JOB
from twodrum.catalogue import CHOICES, FUNCTIONS, Function
from twodrum.core.flow import LAMINAR_UP_TO
from twodrum.core.inputs import InputError
from twodrum.core.takeoff import SHAPE_NAMES, sizes_needed
from twodrum.units import KINDS

NATIVE = [function for function in FUNCTIONS if function.native]
TRIES = 25


def argument_sets(function: Function) -> list[dict[str, Any]]:
    """The example, and seeded neighbours of it; some lie outside the domain."""
    chance = random.Random(function.name)
    sets = [example(function)]
    for _ in range(TRIES):
        again = dict(sets[0])
        for item in function.arguments:
            if item.kind in CHOICES:
                again[item.name] = chance.choice(CHOICES[item.kind])
            elif item.kind == "decimals":
                again[item.name] = float(chance.choice([0, 1, 2, 3, 2.5]))
            elif again.get(item.name) is not None:
                again[item.name] = float(again[item.name]) * chance.uniform(0.5, 1.6)
            elif item.kind in KINDS and chance.random() < 0.7:
                again[item.name] = chance.uniform(0.2, 3.0)
            if item.kind == "temperature" and again[item.name] is not None:
                again[item.name] = chance.uniform(260.0, 330.0)
        sets.append(again)
    return sets


def python(function: Function, given: dict[str, Any]) -> Any:
    """The result of a call; None where it is refused."""
    try:
        return function.call(**given)
    except InputError:
        return None


@pytest.fixture(scope="module")
def recalculated(tmp_path_factory: pytest.TempPathFactory) -> dict[str, list[tuple[Any, Any]]]:
    """For each function, (Python result, live result) of every argument set."""
    book = Workbook()
    sheet = book.worksheets[0]
    sheet.title = "F"
    lists = book.create_sheet("L")
    for column, (name, words) in enumerate(
        (
            ("shape_list", SHAPE_NAMES),
            ("shape_sizes", [sizes_needed(word) for word in SHAPE_NAMES]),
            ("pricing_basis_list", CHOICES["pricing_basis"]),
            ("tax_rule_list", CHOICES["tax_rule"]),
        ),
        1,
    ):
        letter = "ABCD"[column - 1]
        for row, word in enumerate(words, 1):
            lists.cell(row, column).value = word
        area = f"L!${letter}$1:${letter}${len(words)}"
        book.defined_names[name] = DefinedName(name, attr_text=area)
    constants = {constant.name: constant.value for constant in JOB.constants}
    constants["laminar_up_to"] = LAMINAR_UP_TO
    for row, (name, number) in enumerate(constants.items(), 1):
        lists.cell(row, 5).value = number
        book.defined_names[name] = DefinedName(name, attr_text=f"L!$E${row}")
    row, plan = 0, []
    for function in NATIVE:
        for given in argument_sets(function):
            row += 1
            cells = {}
            for column, item in enumerate(function.arguments, 2):
                value = given.get(item.name)
                cell = sheet.cell(row, column)
                # A blank stands as "" in the SI cells of our workbooks.
                cell.value = '=""' if value is None else value
                cells[item.name] = cell.coordinate
            guards = [guard.format(**cells) for guard in function.guards]
            text = function.native.format(**cells)
            guarded = f"({text})/AND({','.join(guards)})" if guards else text
            sheet.cell(row, 1).value = f"=IFERROR({guarded},NA())"
            plan.append((function, given, row))
    path: Path = tmp_path_factory.mktemp("native") / "functions.xlsx"
    book.save(path)
    read = [["F", f"A{number}"] for _, _, number in plan]
    (answers,) = recalculate(path, [{"set": [], "read": read}])
    found: dict[str, list[tuple[Any, Any]]] = {}
    for (function, given, _), live in zip(plan, answers, strict=True):
        found.setdefault(function.name, []).append((python(function, given), live))
    return found


every_native = of_each(
    NATIVE, lambda function: function.call.__module__, lambda function: function.name
)


@every_native
def test_live_formula_equals_python(
    function: Function, recalculated: dict[str, list[tuple[Any, Any]]]
) -> None:
    computed = 0
    for expected, live in recalculated[function.name]:
        if expected is None:
            # Bounds of single arguments are kept by the cell that holds them, not here.
            continue
        computed += 1
        if isinstance(expected, str):
            assert live == expected
        else:
            assert isinstance(live, float), (function.name, expected, live)
            assert abs(live - float(expected)) <= 1e-9 * max(1.0, abs(float(expected)))
    assert computed >= 5


@every_native
def test_live_formula_names_every_argument_once_declared(function: Function) -> None:
    text = function.native + "".join(function.guards)
    used = set(re.findall(r"\{(\w+)\}", text))
    assert used == {item.name for item in function.arguments}


ROUNDING_TIES = [
    ("1.005", "100"),
    ("2.675", "1"),
    ("1.15", "50.1"),
    ("0.615", "1"),
    ("10.075", "3"),
    ("0.145", "7"),
    ("1234.565", "1"),
    ("8.325", "1"),
    ("0.285", "1"),
    ("33.335", "3"),
    ("4.35", "0.3"),
    ("1.1", "1.15"),
]


def test_rounding_ties__a_worksheet_and_python_agree(tmp_path: Path) -> None:
    book = Workbook()
    sheet = book.worksheets[0]
    sheet.title = "R"
    for row, (quantity, rate) in enumerate(ROUNDING_TIES, 1):
        sheet.cell(row, 1).value = float(quantity)
        sheet.cell(row, 2).value = float(rate)
        sheet.cell(row, 3).value = f"=ROUND(A{row}*B{row},2)"
    path = tmp_path / "ties.xlsx"
    book.save(path)
    read = [["R", f"C{row}"] for row in range(1, len(ROUNDING_TIES) + 1)]
    (answers,) = recalculate(path, [{"set": [], "read": read}])
    for (quantity, rate), live in zip(ROUNDING_TIES, answers, strict=True):
        exact = (Decimal(quantity) * Decimal(rate)).quantize(Decimal("0.01"), "ROUND_HALF_UP")
        assert Decimal(repr(live)) == exact
