"""How thick iso and resin are over the temperature, and where they are sprayed."""

from __future__ import annotations

from typing import Any, NamedTuple

from ..core.inputs import InputError
from ..core.mix import LINING
from ..core.viscosity import viscosity_at
from ..engine.evaluate import Reader
from .balance import POINTS
from .linings import of_planned, with_second

SOURCE = "Viscosity from the points of the data sheet, with `viscosity_at`"
STEPS = 24
# Curve, then the two points at which the sides are sprayed.
CAPACITY = STEPS + 1 + len(LINING)
READS = with_second(
    (
        *(f"{side}_{name}" for side in LINING for name in POINTS),
        *(f"{side}_{name}" for side in LINING for name in ("spray_temperature", "viscosity")),
    )
)


class Point(NamedTuple):
    """Viscosity of both sides at one temperature."""

    curve_temperature: Any
    curve_iso: Any = None
    curve_resin: Any = None
    curve_iso_sprayed: Any = None
    curve_resin_sprayed: Any = None


def curves(reader: Reader) -> list[Point]:
    """Both curves over the temperatures, and the two points that are sprayed at."""
    values = {name: value.si for name, value in of_planned(reader, READS).items()}
    points = {side: [values[f"{side}_{name}"] for name in POINTS] for side in LINING}
    if any(None in side[:4] for side in points.values()):
        return []
    sprayed = {side: values[f"{side}_spray_temperature"] for side in LINING}
    known = [t for side in points.values() for t in side[::2] if t is not None]
    known += [t for t in sprayed.values() if t is not None]
    low, high = min(known), max(known)
    rows: list[Point] = []
    for index in range(STEPS + 1):
        temperature = low + (high - low) * index / STEPS
        try:
            both = {f"curve_{side}": viscosity_at(temperature, *points[side]) for side in LINING}
        except InputError:
            # The points themselves are told where they stand.
            return []
        rows.append(Point(temperature, **both))
    for side in LINING:
        if sprayed[side] is not None and values[f"{side}_viscosity"] is not None:
            at = {f"curve_{side}_sprayed": values[f"{side}_viscosity"]}
            rows.append(Point(sprayed[side], **at))
    return rows
