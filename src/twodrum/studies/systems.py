"""What each system of a job takes, and systems that nothing names or that lack their materials."""

from __future__ import annotations

from typing import Any, NamedTuple

from ..core.mix import SECOND
from ..engine.evaluate import Reader
from ..problems import sentence

SOURCE = "Sums over Areas by the system that stands beside each surface"
NUMBERS = (1, 2, 3)
CAPACITY = len(NUMBERS)
READS = (
    *("areas.system", "materials.component", "quote_system"),
    *(f"system_{number}_{name}" for number in NUMBERS for name in ("area", "volume")),
    *(f"system_{number}_{name}" for number in NUMBERS[1:] for name in ("words", "lining")),
    *(f"system_{number}_{name}" for number in NUMBERS[1:] for name in ("primer", "top_coat")),
    *("pump_output", "spraying_share"),
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
    components = reader.column("materials", "component")
    output, share = reader.value("pump_output"), reader.value("spraying_share")
    rows = []
    for number in NUMBERS:
        name = f"system {number}" if number > 1 else None
        words = reader.value(f"system_{number}_words" if name else "quote_system")
        area, mixed = (reader.value(f"system_{number}_{what}") for what in ("area", "volume"))
        if name:
            _look_at(reader, number, name in named, components)
        if named.count(name):
            known = None not in (mixed, output, share)
            at_gun = mixed / (output * share) if known else None
            label = name or "of the job"
            rows.append(OneSystem(label, words, named.count(name), area, mixed, at_gun))
    return rows if any(named) else []


def _look_at(reader: Reader, number: int, used: bool, components: list[Any]) -> None:
    """Tell what a system asks of Materials and is not there, or that no area names it."""
    lining = reader.cell(f"system_{number}_lining")
    coats = [reader.cell(f"system_{number}_{what}") for what in ("primer", "top_coat")]
    words = reader.cell(f"system_{number}_words")
    if not used:
        typed = [cell for cell in (words, lining, *coats) if not cell.blank and cell.si is not None]
        if typed:
            found = f"system {number} is described"
            told = sentence(found, "no area names it", "name it on Areas, or clear what is typed")
            reader.warn("unused-system", typed[0], told)
        return
    if lining.si is not None and lining.si.startswith("second"):
        for word in (word for word in SECOND if word not in components):
            found = f"system {number} is sprayed with '{lining.si}'"
            told = sentence(found, f"Materials has no row of {word}", "add it there")
            reader.refuse("lacks-material", lining, told)
    for coat in coats:
        if coat.si not in (None, "none", *components):
            found = f"system {number} has '{coat.si}'"
            told = sentence(
                found, f"Materials has no row of {coat.si}", "add it there, or pick none"
            )
            reader.refuse("lacks-material", coat, told)
