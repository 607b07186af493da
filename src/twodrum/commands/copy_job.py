"""A job copied: what was typed into its quote, with today's prices of the office or its own."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import replace
from pathlib import Path
from typing import Any

from ..books.parts import QUOTE, job_of, model_of, with_needed
from ..engine.model import Field, Model
from ..problems import count_problems
from ..units import KINDS, shown
from ..workbook.brought import brought
from ..workbook.read import Inputs
from ..xlsx.book import Book
from ..xlsx.files import refuse_target, write_whole
from ..xlsx.package import Package, PackageError
from ..xlsx.write import Address, Write, write_cells
from .carry import carried
from .fill import is_job, with_cached_values
from .new import Typed, in_chosen_unit, pick

# What belongs to the quote that was made, not to the next one.
OF_THAT_QUOTE = ("quote_date",)
PRICE = "volume_price"


def copied(
    source: Path,
    target: Path,
    office: Path | None,
    picks: Mapping[str, str],
    parts: tuple[str, ...] = (QUOTE,),
) -> tuple[list[str], bool]:
    """Write a new job with what was typed into the quote of another; what to tell of it.

    The second says whether the office has problems. PackageError or PickError says why not.
    """
    refuse_target(target)
    book = Book.open(source)
    if not is_job(book) or QUOTE not in model_of(book).parts:
        raise PackageError(f"{source} is no job with a quote to copy")
    before, after = model_of(book), job_of((QUOTE,))
    fresh, said = carried(book, before, replace(after, accepted=()), alone=True)
    said.append(_left_out(before))
    writes: dict[Address, Write] = {}
    for name in OF_THAT_QUOTE:
        area = fresh.area(name)
        if area is not None:
            writes[area.first] = Write(None)
    typed = Typed()
    if office is not None:
        typed = _of_today(office, picks, book, after)
        for address, write, line in _prices(fresh, after, typed):
            writes[address] = write
            said.append(line)
    said += [str(problem) for problem in [*write_cells(fresh, writes), *typed.problems]]
    fresh = Book(Package(fresh.package.to_bytes()))
    model = job_of(with_needed((QUOTE, *parts)))
    if model is not after:
        machine = pick(office, picks, ("machines",)) if office else Typed()
        fresh, more = carried(fresh, after, replace(model, accepted=()), machine, alone=True)
        said += more
    with_cached_values(fresh, model)
    write_whole(target, fresh.package.to_bytes())
    return said, count_problems(typed.problems) > 0


def _left_out(before: Model) -> str:
    others = [part for part in before.parts if part != QUOTE]
    more = f", what was typed for {', '.join(others)}" if others else ""
    return f"left out: the date of the quote, its acceptance{more}"


def _of_today(office: Path, picks: Mapping[str, str], book: Book, after: Model) -> Typed:
    """The rates of the office by the name that the job came with, and its materials."""
    came = {one.name for one in brought(book, after.today) if one.what == "rates"}
    name = picks.get("rates", "") or (next(iter(came)) if len(came) == 1 else "")
    return pick(office, {"rates": name}, ("rates",))


def _prices(book: Book, model: Model, typed: Typed) -> Iterator[tuple[Address, Write, str]]:
    """Each rate and price that is another today."""
    inputs = Inputs(model, book)
    values = inputs.read()
    for item in model.fields():
        area = book.area(item.name)
        if item.name in typed.names and area is not None:
            now = values.names[item.name]
            yield from _price(area.first, item, now.si, typed.names[item.name], now.unit, "")
    today = {str(row.get("material")).casefold(): row.get(PRICE) for row in typed.rows["shelf"]}
    table, field = book.tables["materials"], model.column_item("materials", PRICE)
    assert isinstance(field, Field)
    for row in values.tables["materials"].rows:
        price = today.get(str(row["material"].si).casefold())
        now = row[PRICE]
        if price is not None:
            _, number, _ = now.position
            address = (table.area.sheet, number, table.columns[field.label])
            label = f"{row['material'].si}: "
            yield from _price(address, field, now.si, price, now.unit, label)


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
