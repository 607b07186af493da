"""An option becomes the job: what it says is typed where the job says it."""

from __future__ import annotations

from ..books.systems import SYSTEMS
from ..core.mix import COATS
from ..engine.evaluate import Value, Values, evaluate
from ..engine.model import Model
from ..studies.options import faults_of
from ..studies.systems import FURTHER
from ..workbook.in_units import in_chosen_unit
from ..workbook.read import BookTargets, Inputs
from ..workbook.version import know_former
from ..xlsx.book import Book
from ..xlsx.package import PackageError
from ..xlsx.write import Address, Write, write_cells

# What of an option is a single value of the job, and which.
SINGLES = {
    "option_crew": "crew_size",
    "option_rate": "labour_rate",
    "option_margin": "margin_share",
    "option_basis": "pricing_basis",
    "option_mobilisation": "mobilisation_cost",
}
NOTHING = "nothing was written"


def chosen(book: Book, model: Model, option: str) -> Book:
    """The book with what an option says typed into the job; PackageError where it cannot be.

    All else stays as it is in the option: what followed the film or loss of the job, because
    it was blank, gets what it had.
    """
    inputs = Inputs(model, book)
    values = evaluate(model, inputs.read(), BookTargets(inputs))
    row = _found(values, option)
    writes = _Writes(model, book, inputs, values)
    # It is no option to itself.
    writes.clear("options", "option_offered", row)
    for name, single in SINGLES.items():
        if not row[name].blank:
            writes.single(single, row[name])
    if row["option_system"].blank:
        _film_and_loss(writes, values, row)
    else:
        _other_system(writes, values, row)
    return writes.done()


def _found(values: Values, option: str) -> dict[str, Value]:
    table = values.tables.get("options")
    if table is None:
        raise PackageError(f"it has no options; {NOTHING}; add its part what-ifs")
    rows = table.rows
    wanted = option.strip().casefold()
    found = [row for row in rows if wanted in _called(row)]
    which = option if wanted.startswith("option") else f"option {option}"
    if not found:
        there = ", ".join(str(row["option"].si) for row in rows if row["option"].si)
        raise PackageError(
            f"it has no {which}; it has {there or 'none'}; {NOTHING}; type it on Options"
        )
    if len(found) > 1:
        raise PackageError(f"it has {which} in {len(found)} rows of Options; {NOTHING}")
    row = found[0]
    faults = [words for _, words in faults_of(values, row, on_quote=False)]
    if faults:
        raise PackageError(f"{which}: {'; '.join(faults)}; {NOTHING}")
    return row


def _called(row: dict[str, Value]) -> set[str]:
    """What an option may be called by: its word, its number, what it says."""
    names = {str(row[n].si).casefold() for n in ("option", "option_words") if row[n].si}
    return {*names, *(name.removeprefix("option ") for name in names)}


def _film_and_loss(writes: _Writes, values: Values, row: dict[str, Value]) -> None:
    names = values.names
    named = [n for n in FURTHER if names[f"system_{n}_area"].si]
    if not row["option_film"].blank:
        for n in named:
            writes.keep(f"system_{n}_film")
        writes.single("film_thickness", row["option_film"])
    if not row["option_loss"].blank:
        for n in named:
            writes.keep(f"system_{n}_loss")
        for place, material in enumerate(values.tables["materials"].rows):
            if material["component"].si in COATS and material["coat_loss"].blank:
                writes.cell("materials", "coat_loss", place, material["coat_loss"])
        writes.single("loss_share", row["option_loss"])


def _other_system(writes: _Writes, values: Values, row: dict[str, Value]) -> None:
    system = row["option_system"]
    for place, area in enumerate(values.tables["areas"].rows):
        if not area["system"].blank:
            continue
        writes.cell("areas", "system", place, system)
        if not row["option_film"].blank and area["film_override"].blank:
            writes.cell("areas", "film_override", place, row["option_film"])
    if not row["option_loss"].blank:
        number = FURTHER[SYSTEMS.index(str(system.si))]
        writes.single(f"system_{number}_loss", row["option_loss"])


class _Writes:
    """Cells to type into, none of which may hold a formula of theirs."""

    def __init__(self, model: Model, book: Book, inputs: Inputs, values: Values) -> None:
        self.model, self.book, self.inputs, self.values = model, book, inputs, values
        self.found: dict[Address, Write] = {}

    def single(self, name: str, value: Value) -> None:
        """A single value of the job gets that of an option."""
        area = self.book.area(name)
        if area is None:
            raise PackageError(f"its input {name} is lost; {NOTHING}")
        content = in_chosen_unit(self.model.item(name), value.si, self.values.names[name].unit)
        self.found[area.first] = Write(content)

    def keep(self, name: str) -> None:
        """A single value that followed another stays what it is."""
        value = self.values.names[name]
        if value.blank and value.si is not None:
            self.single(name, value)

    def cell(self, table: str, name: str, place: int, value: Value) -> None:
        """A cell of a table, in the row at a place among those in use."""
        read, item = self.book.tables[table], self.model.column_item(table, name)
        row = self.inputs.rows[table][place]
        unit = self.values.tables[table].rows[place][name].unit
        at = (read.area.sheet, row, read.columns[item.label])
        self.found[at] = Write(in_chosen_unit(item, value.si, unit))

    def clear(self, table: str, name: str, row: dict[str, Value]) -> None:
        """A cell of a row in use is emptied."""
        place = next(n for n, one in enumerate(self.values.tables[table].rows) if one is row)
        read, item = self.book.tables[table], self.model.column_item(table, name)
        at = (read.area.sheet, self.inputs.rows[table][place], read.columns[item.label])
        self.found[at] = Write(None)

    def done(self) -> Book:
        linked = [cell.where for cell in (self.book.cell(*at) for at in self.found) if cell.formula]
        if linked:
            raise PackageError(
                f"a formula of yours stands in {', '.join(linked)}; {NOTHING}; change what it "
                "reads, or delete it first"
            )
        barred = write_cells(self.book, self.found)
        if barred:
            raise PackageError(f"{barred[0]}; {NOTHING}")
        fresh = Book(self.book.package)
        know_former(fresh, self.model)
        return fresh
