"""What each system of a job takes, and systems that nothing names or that lack their materials."""

from __future__ import annotations

from typing import Any, NamedTuple

from ..core.mix import COATS, SECOND
from ..engine.evaluate import Reader, Value
from ..problems import sentence

SOURCE = "Sums over Areas by the system that stands beside each surface"
NUMBERS = (1, 2, 3)
# All but that of the job.
FURTHER = NUMBERS[1:]
CAPACITY = len(NUMBERS)
FIELDS = ("words", "lining", "film", "most", "pass", "loss", "fixed", "primer", "top_coat")
# What a material has only where it is a coat of its own.
OF_COATS = ("coat_loss", "coat_pace")
READS = (
    *("areas.system", "quote_system", "pump_output", "spraying_share"),
    *(f"materials.{name}" for name in ("component", *OF_COATS)),
    *("order.component", "order.needed_volume"),
    *(f"system_{number}_{name}" for number in NUMBERS for name in ("area", "volume")),
    *(f"system_{number}_{name}" for number in NUMBERS[1:] for name in FIELDS),
)


class OneSystem(NamedTuple):
    """One system of a job."""

    system_name: Any
    system_words: Any
    system_surfaces: Any
    system_area: Any
    system_mixed: Any
    system_gun_time: Any


def systems(reader: Reader) -> list[OneSystem]:
    """A row for each system that areas name; none where no further one is named."""
    named = [cell.si for cell in reader.cells("areas", "system")]
    components = reader.cells("materials", "component")
    there = [cell.si for cell in components]
    output, share = reader.value("pump_output"), reader.value("spraying_share")
    rows = []
    for number in NUMBERS:
        name = f"system {number}" if number > 1 else None
        words = reader.value(f"system_{number}_words" if name else "quote_system")
        area, mixed = (reader.value(f"system_{number}_{what}") for what in ("area", "volume"))
        if name:
            cells = {one: reader.cell(f"system_{number}_{one}") for one in FIELDS}
            if name in named:
                _look_at(reader, name, cells, there)
            else:
                _unused(reader, name, cells)
        if named.count(name):
            known = None not in (mixed, output, share)
            at_gun = mixed / (output * share) if known else None
            label = name or "of the job"
            rows.append(OneSystem(label, words, named.count(name), area, mixed, at_gun))
    _idle(reader, components)
    return rows if any(named) else []


def _unused(reader: Reader, name: str, cells: dict[str, Value]) -> None:
    typed = [cell for cell in cells.values() if not cell.blank and cell.si is not None]
    if typed:
        told = sentence(
            f"{name} is described", "no area names it", "name it on Areas, or clear what is typed"
        )
        reader.warn("unused-system", typed[0], told)


def _look_at(reader: Reader, name: str, cells: dict[str, Value], there: list[Any]) -> None:
    """Tell what a system asks of Materials and is not there, and what it leaves unsaid."""
    lining = cells["lining"]
    lost = [word for word in SECOND if word not in there]
    if lining.si is not None and lining.si.startswith("second") and lost:
        lacks = f"Materials has no row of {' and '.join(lost)}"
        told = sentence(f"{name} is sprayed with '{lining.si}'", lacks, "add what lacks there")
        reader.refuse("lacks-material", lining, told)
    for what in ("primer", "top_coat"):
        coat = cells[what]
        if coat.si not in (None, "none", *there):
            lacks = f"Materials has no row of {coat.si}"
            told = sentence(f"{name} has '{coat.si}'", lacks, "add it there, or pick none")
            reader.refuse("lacks-material", coat, told)
        listed = any(str(word).endswith(what.replace("_", " ")) for word in there)
        if coat.blank and listed:
            left = f"{coat.label} is blank: {name} gets none"
            reader.warn("unusual", coat, sentence(left, "pick one, or none"))
    if cells["words"].blank:
        left = f"{name} has no words: the quote does not tell it"
        reader.warn("unusual", cells["words"], sentence(left, "type what the customer is to read"))


def _idle(reader: Reader, components: list[Value]) -> None:
    """Materials that no area asks for, and what only a coat of its own may have."""
    order = zip(reader.column("order", "component"), reader.column("order", "needed_volume"))
    needed = dict(order)
    for cell in components:
        if cell.si in (*SECOND, *COATS) and needed.get(cell.si) == 0:
            told = sentence(f"no area asks for the {cell.si}", "a system on Job picks it")
            reader.warn("unused-material", cell, told)
    for name in OF_COATS:
        for cell, of in zip(reader.cells("materials", name), components):
            if of.si is not None and of.si not in COATS and not cell.blank and cell.si is not None:
                told = sentence(
                    f"{cell.label} is given", f"{of.si} is no coat of its own: clear it"
                )
                reader.warn("unused-size", cell, told)
