"""What holds for the lining that is in the machine: one at a time, each with data of its own."""

from __future__ import annotations

from collections.abc import Iterable, Mapping

from ..core.mix import LINING, SECOND
from ..engine.evaluate import Reader, Value

FIRST_LINING, SECOND_LINING = LININGS = ("iso and resin", "second iso and resin")
# The components that the sides of the machine are fed with.
FED = dict(zip(LININGS, (LINING, SECOND)))
PLANNED = "planned_lining"
# Events that say that a coat of its own went on a surface.
COAT_EVENTS = PRIMED, TOP_COATED = ("primer on", "top coat on")


def _of_sides(*names: str) -> tuple[str, ...]:
    return tuple(f"{side}_{name}" for side in LINING for name in names)


# Single values that another lining has of its own, and what they are called of the second one:
# what is typed from its data sheet, what the quote has of it, what was drawn of it.
TYPED = {
    name: f"second_{name}"
    for name in (
        *_of_sides("specific_heat", "drum_low", "drum_high", "heat_limit"),
        *_of_sides("pressure_low", "pressure_high", "set_point", "drum_target"),
        *_of_sides(*(f"{what}_{n}" for n in (1, 2, 3) for what in ("temperature", "viscosity"))),
        *("hose_set_point", "stirring_time"),
    )
}
QUOTED = {
    f"{side}_{first}": f"second_{side}_{second}"
    for side in LINING
    for first, second in (
        *(("ratio", "ratio"), ("drums", "drums")),
        *(("drum_volume", "drum"), ("part_drums", "held")),
    )
}
DRAWN = {
    f"{side}_{first}": f"second_{side}_{second}"
    for side in LINING
    for first, second in (
        *(("ledger", "ledger"), ("scaled", "ledger")),
        *(("levels", "levels"), ("measured", "measured")),
    )
}
OF_LINING = {**TYPED, **QUOTED}
NAMED_SECOND = {**OF_LINING, **DRAWN}
# Of these the plan shows that of its own lining; first and second stand beside them.
CARRIED = _of_sides(
    *("density", "thermal_expansion", "density_temperature"),
    *("spray_temperature", "spray_low", "spray_high", "flow"),
)
# Typed for the first lining alone.
WEIGHED = _of_sides("weighed")


def with_second(names: Iterable[str]) -> tuple[str, ...]:
    """Names that are read where either lining may be planned."""
    names = tuple(names)
    return (PLANNED, *names, *(OF_LINING[name] for name in names if name in OF_LINING))


def of_planned(reader: Reader, names: Iterable[str]) -> dict[str, Value]:
    """Single values by their names, those of a lining from the one that is planned.

    ``names`` are those of `with_second`; what a second lining has of its own stands under the
    name that it has for the first one.
    """
    values = {name: reader.cell(name) for name in names}
    second = values[PLANNED].si == SECOND_LINING
    own = {name: values[other] for name, other in OF_LINING.items() if other in values}
    return {**values, **own} if second else values


def named(name: str, lining: str) -> str:
    """What a single value is called of a lining; "" where only the first one has it."""
    second = lining == SECOND_LINING
    if name in CARRIED:
        return f"{'second' if second else 'first'}_{name}"
    if second and name in WEIGHED:
        return ""
    return NAMED_SECOND.get(name, name) if second else name


def of_both(names: Iterable[str]) -> tuple[str, ...]:
    """What these values are called of each lining."""
    names = tuple(names)
    both = (named(name, lining) for lining in LININGS for name in names)
    return tuple(dict.fromkeys(name for name in both if name))


def of_lining(values: Mapping[str, Value], names: Iterable[str], lining: str) -> dict[str, Value]:
    """Of the values of both linings those of one, by the names that the first one has."""
    found = ((name, named(name, lining)) for name in names)
    return {name: values[own] for name, own in found if own}
