"""What came with a name from the office, and what still belongs to another name.

``new`` writes each value that it brought on Record, with the machine, crew or material that it
came with. Where another name is picked later, the values that still stand as they were brought
are told in one sentence.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass

from ..core.mix import LINING
from ..engine.evaluate import Value, Values
from ..engine.model import Model
from ..problems import WARNING, Problem, sentence
from ..xlsx.book import Book
from ..xlsx.write import Address, Write

BLOCK = "record_brought"
# The single inputs that hold what was picked.
PICKED = {"machine": "machine_name", "crew": "crew_name"}
# So many labels are named in one sentence.
NAMED = 8


@dataclass(frozen=True)
class Brought:
    """One value: the input, what it came with ("machine", "crew" or a component), its name."""

    key: str
    what: str
    name: str
    si: float | str


def brought_writes(book: Book, came: Sequence[Brought]) -> Iterator[tuple[Address, Write]]:
    """Cells of Record that remember what was brought."""
    area = book.area(BLOCK)
    if area is None:
        return
    room = area.last_row - area.first_row + 1
    for row, one in enumerate(came[:room], area.first_row):
        for column, content in enumerate((one.key, f"{one.what}: {one.name}", one.si)):
            yield (area.sheet, row, area.first_column + column), Write(content)


def brought(book: Book, today: Callable[[str], str] = str) -> Iterator[Brought]:
    """What a book says that came with a name."""
    area = book.area(BLOCK)
    if area is None:
        return
    for row in range(area.first_row, area.last_row + 1):
        cells = [book.cell(area.sheet, row, area.first_column + n) for n in range(3)]
        key, source, si = (cell.value for cell in cells)
        if isinstance(key, str) and isinstance(source, str) and isinstance(si, (float, str)):
            what, _, name = source.partition(": ")
            yield Brought(today(key), what, name, si)


def still_of_another(model: Model, book: Book, values: Values) -> list[Problem]:
    """For each name that is another than the one brought, what still belongs to the old one."""
    found: dict[tuple[str, str], list[Value]] = {}
    for one in brought(book, model.today):
        now = values.names.get(one.key)
        if now is not None and now.si is not None and not now.blank and _same(now.si, one.si):
            found.setdefault((one.what, one.name), []).append(now)
    picked = {what: values.names[name] for what, name in PICKED.items() if name in values.names}
    for row in values.tables["materials"].rows if "materials" in values.tables else []:
        if row["component"].si in LINING and "material" in row:
            picked[str(row["component"].si)] = row["material"]
    problems = []
    for (what, name), kept in found.items():
        cell = picked.get(what)
        if cell is None or cell.si is None or str(cell.si).casefold() == name.casefold():
            continue
        labels = [value.label for value in kept[:NAMED]]
        if len(kept) > NAMED:
            labels.append(f"and {len(kept) - NAMED} more, see Record")
        told = f"'{cell.si}' is picked, and these still stand as they came with '{name}'"
        text = sentence(f"{told}: {', '.join(labels)}", f"type those of '{cell.si}'")
        problems.append(Problem("other-pick", cell.where, text, WARNING, cell.position))
    return problems


def _same(now: object, then: float | str) -> bool:
    if isinstance(now, (int, float)) and isinstance(then, float):
        return abs(float(now) - then) <= 1e-9 * abs(then)
    return str(now) == str(then)
