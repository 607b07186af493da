"""What may be typed: every rule of every template against the declaration of its field."""

import re
from collections.abc import Iterator
from pathlib import Path

import pytest

from tests.office import an_office
from tests.workbook.typing import small_job
from twodrum.books.month import MONTH
from twodrum.books.office import OFFICE
from twodrum.books.whole import JOB
from twodrum.commands.fill import fill_file
from twodrum.commands.new import new_job
from twodrum.engine.model import Field, Model
from twodrum.resources import resource
from twodrum.units import KINDS, UNIT_TABLE, WHOLE
from twodrum.workbook.entry import entries, is_time_of_day
from twodrum.workbook.layout import units_picked
from twodrum.workbook.mend import put_right
from twodrum.workbook.read import bounds
from twodrum.workbook.validations import Standing, standing
from twodrum.workbook.version import know_former
from twodrum.xlsx.book import Book
from twodrum.xlsx.package import Package

OPERATORS = {
    *("between", "notBetween", "equal", "notEqual", "greaterThan", "lessThan"),
    *("greaterThanOrEqual", "lessThanOrEqual"),
}


def books(folder: Path) -> Iterator[tuple[str, Model, Path]]:
    """Every kind of book of ours, as made in both systems and as filled."""
    for model in (JOB, OFFICE, MONTH):
        yield f"template {model.name}", model, resource("workbook_templates", f"{model.name}.xlsx")
    for system in ("metric", "us"):
        job, office = folder / f"job-{system}.xlsx", folder / f"office-{system}.xlsx"
        an_office(office, system)
        new_job(job, office, system=system)
        yield f"new {system}", JOB, job
        yield f"office {system}", OFFICE, office
    filled = folder / "filled.xlsx"
    fill_file(job, out=filled)
    yield "filled", JOB, filled


@pytest.fixture(scope="module")
def all_books(tmp_path_factory: pytest.TempPathFactory) -> list[tuple[str, Model, Path]]:
    return list(books(tmp_path_factory.mktemp("books")))


def at(book: Book, sheet: str, row: int, column: int) -> list[Standing]:
    """The rules over one cell."""
    rules = standing(book.package.read(book.sheets[sheet]))
    inside = lambda a: a[0] <= row <= a[2] and a[1] <= column <= a[3]  # noqa: E731
    return [rule for rule in rules if any(inside(area) for area in rule.areas)]


def places(model: Model, book: Book) -> Iterator[tuple[Field, str, str, int, int, int, int]]:
    """Each input: field, key, sheet, first and last cell; then the row of its table's units."""
    for entry in entries(model):
        if entry.table:
            read = book.tables[entry.table]
            column = read.columns[entry.item.label]
            area = read.area
            yield entry.item, entry.key, area.sheet, area.first_row, area.last_row, column, 0
        else:
            named = book.area(entry.item.name)
            assert named is not None
            row = named.first_row
            yield entry.item, entry.key, named.sheet, row, row, named.first_column, 1


def unit_of(book: Book, key: str) -> str:
    cell = book.named(key.replace(".", "_") + "_unit")
    assert cell is not None
    return str(cell.value)


def limit(book: Book, text: str, name: str) -> tuple[str, str]:
    """The key and the heading of the number on Units that a limit reads."""
    inside = text.removeprefix("INDEX(").removesuffix(")")
    named, number = inside.split(",")
    assert named == name
    area = book.area(name)
    fields = book.tables["fields"]
    assert area is not None and area.first_row == fields.area.first_row
    assert area.last_row == fields.area.last_row
    row = area.first_row + int(number) - 1
    heads = {column: head for head, column in fields.columns.items()}
    key = book.cell(area.sheet, row, fields.columns["Name"]).value
    return str(key), heads[area.first_column]


def test_every_rule_has_the_type_operator_and_both_limits_of_its_field(
    all_books: list[tuple[str, Model, Path]],
) -> None:
    counted = 0
    for name, model, path in all_books:
        book = Book.open(path)
        know_former(book, model)
        for item, key, sheet, first, last, column, _ in places(model, book):
            where = (name, key)
            over = at(book, sheet, first, column)
            assert len(over) == 1, where
            assert over[0].areas == ((first, column, last, column),), where
            rule = over[0].rule
            kind, operator, low, high = rule.limits
            if item.kind in ("share", "time"):
                letter = f"{chr(64 + column)}{first}" if column <= 26 else ""
                assert kind == "custom", where
                pieces = low.split(",")
                assert pieces[0] == f"AND(ISNUMBER({letter})" or not letter, where
                read = [p for p in low.replace("<=", ">=").split(">=") if p.startswith("INDEX")]
                found = [text[: text.index(")") + 1] for text in read]
                assert limit(book, found[0], "limits_from") == (key, "From"), where
                assert limit(book, found[1], "limits_to") == (key, "To"), where
            elif item.kind in KINDS:
                assert kind == ("whole" if item.kind in WHOLE else "decimal"), where
                assert operator in ("", "between"), where
                assert limit(book, low, "limits_from") == (key, "From"), where
                assert limit(book, high, "limits_to") == (key, "To"), where
            elif item.kind == "date":
                assert (kind, float(low), float(high)) == ("date", item.least, item.most), where
                assert operator in ("", "between"), where
            elif item.kind == "clock":
                assert (kind, float(low)) == ("time", 0), where
                assert 1 - 1 / 86400 <= float(high) < 1, where
            elif item.offered[0]:
                assert (kind, low) == ("list", f"{item.offered[0]}_{item.offered[1]}_offered")
                assert not rule.stop, where
            elif item.kind == "text":
                assert (kind, operator, low) == ("textLength", "lessThanOrEqual", "200"), where
            else:
                assert (kind, low) == ("list", f"{item.kind}_list"), where
            assert low not in OPERATORS and high not in OPERATORS
            counted += 1
        for unit, picked in units_picked(model):
            area = book.area(f"{unit}_unit")
            assert area is not None
            rules = at(book, area.sheet, area.first_row, area.first_column)
            assert [r.rule.limits[2] for r in rules] == [f"unit_{picked.kind}"], (name, unit)
    assert counted > 1300


def test_the_error_text_says_the_limits_in_the_unit_picked(
    all_books: list[tuple[str, Model, Path]],
) -> None:
    for name, _, path in all_books:
        if "filled" not in name:
            continue
        book = Book.open(path)
        item = JOB.item("film_thickness")
        unit = unit_of(book, "film_thickness")
        add, times = UNIT_TABLE["thickness"][unit]
        low, high = bounds(item.least, item.most, add, times)  # type: ignore[arg-type]
        cell = book.named("film_thickness")
        assert cell is not None
        text = at(book, cell.sheet, cell.row, cell.column)[0].rule.error
        assert f"from {low:.6g} to {high:.6g} {unit}" in text


def test_a_filled_book_is_right_already(all_books: list[tuple[str, Model, Path]]) -> None:
    for name, model, path in all_books:
        if "filled" in name:
            book = Book.open(path)
            again, notes = put_right(book, model)
            assert (again is book, notes) == (True, [])


def test_a_book_with_wrong_rules_is_mended_in_place_and_says_so(tmp_path: Path) -> None:
    job = small_job(tmp_path / "job.xlsx")
    package = Package.open(job)
    for part in Book(package).sheets.values():
        data = package.read(part)
        start = data.find(b"<dataValidations")
        if start >= 0:
            end = data.index(b"</dataValidations>")
            rules = data[start:end].replace(b'type="decimal"', b'type="whole"')
            package.replace(part, data[:start] + rules + data[end:])
    own = b'<dataValidation type="whole" sqref="Z90" showErrorMessage="1"><formula1>7</formula1>'
    own += b"<formula2>9</formula2></dataValidation>"
    part = Book(package).sheets["Job"]
    data = package.read(part)
    at_end = data.index(b"</dataValidations>")
    package.replace(part, data[:at_end] + own + data[at_end:])
    job.write_bytes(package.to_bytes())
    told = [str(problem) for problem in fill_file(job).problems]
    assert len(told) == 1 and "the rules of what may be typed were damaged or old at" in told[0]
    book = Book.open(job)
    cell = book.named("film_thickness")
    assert cell is not None
    assert at(book, cell.sheet, cell.row, cell.column)[0].rule.type == "decimal"
    # A rule of the office's own stays byte for byte.
    assert own in book.package.read(book.sheets["Job"])
    assert fill_file(job).problems == []


def test_no_first_limit_is_the_name_of_an_operator_in_any_template() -> None:
    operators = {operator.casefold().encode() for operator in OPERATORS}
    for path in resource("workbook_templates", "job.xlsx").parent.glob("*.xlsx"):
        package = Package.open(path)
        for name in package.names():
            first = re.findall(rb"<formula1>([^<]*)<", package.read(name))
            assert not operators & {text.lower() for text in first}, (path.name, name)


@pytest.mark.parametrize(
    ("number", "expected"),
    [
        (16 / 24, True),
        (0.666666666666667, True),  # as a spreadsheet keeps it, with 15 digits
        (1.5 / 24, True),
        (0.5, False),
        (1.25, False),
        (0.375, False),
        (2.675, False),
        (0.3333, False),
        (0.333333, False),
        (8.0, False),
        (0.0, False),
    ],
)
def test_a_long_share_of_a_day_in_whole_minutes_is_a_time_of_day(
    number: float, expected: bool
) -> None:
    assert is_time_of_day(number) is expected
