"""A job copied: what was typed into its quote, with today's prices of the office or its own."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import replace
from pathlib import Path
from typing import Any

from ..books.office import OFFICE
from ..books.parts import QUOTE, WHAT_IFS, job_of, model_of, with_needed
from ..engine.evaluate import Value, Values
from ..engine.model import Field, Model
from ..problems import count_problems
from ..units import KINDS, shown
from ..workbook.brought import BLOCK, brought, brought_writes
from ..workbook.grow import lengthened
from ..workbook.in_units import in_chosen_unit
from ..workbook.pattern import our_sheets
from ..workbook.read import Inputs
from ..workbook.version import is_job
from ..xlsx.book import Book
from ..xlsx.files import refuse_target, write_whole
from ..xlsx.package import Package, PackageError
from ..xlsx.pictures import pictures_on
from ..xlsx.write import Address, Write, write_cells
from .carry import carried
from .fill import with_cached_values
from .logo import logo_of_file, put_logo
from .new import Typed, pick

# What belongs to the quote that was made, not to the next one.
OF_THAT_QUOTE = ("quote_date", "quote_number")
# Parts that go along with it.
OF_THE_QUOTE = (QUOTE, WHAT_IFS)
ON_THAT_QUOTE = (("areas", "area_after"), ("options", "option_offered"))
PRICE, RATES = "volume_price", "rates"


def quote_of(source: Path) -> Book:
    """The job that is to be copied; PackageError where it is none."""
    book = Book.open(source)
    if not is_job(book) or QUOTE not in model_of(book).parts:
        raise PackageError("it is no job with a quote to copy")
    return book


def copied(
    book: Book,
    target: Path,
    office: Path | None,
    picks: Mapping[str, str],
    parts: tuple[str, ...] = (QUOTE,),
) -> tuple[list[str], bool]:
    """Write a new job with what was typed into the quote of another; what to tell of it.

    The second says whether the office has problems. PackageError or PickError says why not.
    """
    refuse_target(target)
    before = model_of(book)
    after = job_of(tuple(part for part in OF_THE_QUOTE if part in before.parts))
    logo = None if office is None else logo_of_file(office)
    alone = replace(after, accepted=())
    fresh, said = carried(book, before, alone, alone=True, letterhead=logo is None)
    if logo is not None:
        put_logo(fresh, after, logo)
        fresh = Book(Package(fresh.package.to_bytes()))
    said.append(_left_out(book, before))
    areas = [area for area in map(fresh.area, OF_THAT_QUOTE) if area is not None]
    writes: dict[Address, Write] = {area.first: Write(None) for area in areas}
    writes.update((at, Write(None)) for at in _of_that_job(fresh, after))
    typed = Typed()
    if office is not None:
        typed = _of_today(office, picks, fresh, after)
        fresh = lengthened(fresh, after, {"shelf": len(typed.rows["shelf"])})
        values = Inputs(after, fresh)
        rows = values.read()
        for address, write, line in _prices(fresh, after, rows, typed):
            writes[address] = write
            said.append(line)
        said += _kept(after, rows, typed)
        writes.update(_shelf(fresh, after, values, typed))
        writes.update(_came_with(fresh, after, typed))
    said += [str(problem) for problem in [*write_cells(fresh, writes), *typed.problems]]
    fresh = Book(Package(fresh.package.to_bytes()))
    model = job_of(with_needed((*after.parts, *parts)))
    if model is not after:
        tables = ("materials", "machines") if picks.get("system") else ("machines",)
        machine = pick(office, picks, tables) if office else Typed()
        fresh, more = carried(fresh, after, replace(model, accepted=()), machine, alone=True)
        said += more
    with_cached_values(fresh, model)
    write_whole(target, fresh.package.to_bytes())
    return said, count_problems(typed.problems) > 0


def _of_that_job(book: Book, model: Model) -> Iterator[Address]:
    """What was measured when the other job was done, and what its customer was offered."""
    for table, name in ON_THAT_QUOTE:
        read = book.tables.get(table)
        if read is not None:
            column = read.columns[model.column_item(table, name).label]
            for row in range(read.area.first_row, read.end_row + 1):
                yield read.area.sheet, row, column


def _left_out(book: Book, before: Model) -> str:
    letters = {page.sheet for page in before.pages}
    drawn = [
        title
        for title, there in our_sheets(before, book).items()
        if title not in letters and pictures_on(book, there)
    ]
    pictures = f", pictures on {', '.join(drawn)}" if drawn else ""
    others = [part for part in before.parts if part not in OF_THE_QUOTE]
    more = f", what was typed for {', '.join(others)}" if others else ""
    left = "date, number, revisions and acceptance of the quote, areas measured after the job"
    marks = ", what of Options was offered" if WHAT_IFS in before.parts else ""
    return f"left out: {left}{marks}{pictures}{more}"


def _of_today(office: Path, picks: Mapping[str, str], book: Book, after: Model) -> Typed:
    """The rates of the office by the name that the job came with, its machine, its materials."""
    came = {one.name for one in brought(book, after.today) if one.what == RATES}
    name = picks.get("rates", "") or (next(iter(came)) if len(came) == 1 else "")
    tables = ("rates", "machines") if picks.get("machine") else ("rates",)
    return pick(office, {**picks, "rates": name}, tables)


def _prices(
    book: Book, model: Model, values: Values, typed: Typed
) -> Iterator[tuple[Address, Write, str]]:
    """Each rate and price that is another today."""
    for item in model.fields():
        area = book.area(item.name)
        if item.name in typed.names and area is not None:
            now = values.names[item.name]
            yield from _price(area.first, item, now.si, typed.names[item.name], now.unit, "")
    table, field = book.tables["materials"], model.column_item("materials", PRICE)
    assert isinstance(field, Field)
    for row, price in _materials(values, typed):
        if price is not None:
            now = row[PRICE]
            address = (table.area.sheet, now.position[1], table.columns[field.label])
            label = f"{row['material'].si}: "
            yield from _price(address, field, now.si, price, now.unit, label)


def _materials(values: Values, typed: Typed) -> Iterator[tuple[Mapping[str, Value], Any]]:
    """The materials of a job that the office has, with the price of today."""
    today = {str(row.get("material")).casefold(): row.get(PRICE) for row in typed.rows["shelf"]}
    for row in values.tables["materials"].rows:
        name = str(row["material"].si).casefold()
        if name in today:
            yield row, today[name]


def _kept(model: Model, values: Values, typed: Typed) -> Iterator[str]:
    """What the office leaves blank and the job had, and what another currency leaves alone."""
    rates = {item.name for item in OFFICE.table("rates").fields}
    single = [item for item in model.fields() if item.name in rates - typed.names.keys()]
    kept = [item.label for item in single if not values.names[item.name].blank]
    for row, price in _materials(values, typed):
        if price is None and not row[PRICE].blank:
            kept.append(f"price of {row['material'].si}")
    if kept:
        yield f"blank in the office and kept as it was: {', '.join(kept)}"
    then, now = values.names["currency"].si, typed.names.get("currency")
    if now is not None and then is not None and now != then:
        yield (
            f"the currency is {now} now: amounts that no line here names are the numbers that "
            f"they were in {then}; look at each"
        )


def _shelf(
    book: Book, model: Model, inputs: Inputs, typed: Typed
) -> Iterator[tuple[Address, Write]]:
    """The shelf of the office today."""
    table, rows = book.tables["shelf"], typed.rows["shelf"]
    for index in range(table.area.last_row - table.area.first_row + 1):
        row = rows[index] if index < len(rows) else {}
        for item in model.table("shelf").fields:
            address = (table.area.sheet, table.area.first_row + index, table.columns[item.label])
            unit = inputs.units.get(f"shelf.{item.name}", item.unit("metric"))
            known = row.get(item.name) is not None
            yield address, Write(in_chosen_unit(item, row[item.name], unit) if known else None)


def _came_with(book: Book, model: Model, typed: Typed) -> Iterator[tuple[Address, Write]]:
    """What Record says of where values came from, with the rates and the machine of today."""
    area = book.area(BLOCK)
    today = {one.what for one in typed.brought}
    here = {item.name for item in model.fields()}
    came = [one for one in brought(book, model.today) if one.what not in today]
    came += [one for one in typed.brought if one.key in here]
    if area is not None:
        for row in range(area.first_row, area.last_row + 1):
            yield from (((area.sheet, row, area.first_column + n), Write(None)) for n in range(3))
    yield from brought_writes(book, came)


def _price(
    address: Address, item: Field, then: Any, today: Any, unit: str, label: str
) -> Iterator[tuple[Address, Write, str]]:
    number = isinstance(then, (int, float)) and isinstance(today, (int, float))
    if then == today or (number and abs(then - today) <= 1e-9 * abs(today)):
        return

    def words(si: Any) -> str:
        known = isinstance(si, (int, float)) and item.kind in KINDS
        return shown(float(si), item.kind, unit) if known else str(si or "blank")

    line = f"{label}{item.label} is that of the office today: {words(today)} (before {words(then)})"
    yield address, Write(in_chosen_unit(item, today, unit)), line
