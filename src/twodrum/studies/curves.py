"""How thick iso and resin are over the temperature, and where they are sprayed."""

from __future__ import annotations

from typing import Any

from ..core.inputs import InputError
from ..core.mix import LINING
from ..core.viscosity import viscosity_at
from ..engine.evaluate import Reader
from .balance import POINTS

SOURCE = "Viscosity from the points of the data sheet, with `viscosity_at`"
STEPS = 24
# Curve, then the two points at which the sides are sprayed.
CAPACITY = STEPS + 1 + len(LINING)
READS = (
    *(f"{side}_{name}" for side in LINING for name in POINTS),
    *(f"{side}_{name}" for side in LINING for name in ("spray_temperature", "viscosity")),
)


def curves(reader: Reader) -> list[tuple[Any, ...]]:
    """Rows of (temperature, iso, resin, iso where sprayed, resin where sprayed)."""
    values = {name: reader.value(name) for name in READS}
    points = {side: [values[f"{side}_{name}"] for name in POINTS] for side in LINING}
    if any(None in side[:4] for side in points.values()):
        return []
    sprayed = {side: values[f"{side}_spray_temperature"] for side in LINING}
    known = [t for side in points.values() for t in side[::2] if t is not None]
    known += [t for t in sprayed.values() if t is not None]
    low, high = min(known), max(known)
    rows: list[tuple[Any, ...]] = []
    for index in range(STEPS + 1):
        temperature = low + (high - low) * index / STEPS
        try:
            both = [viscosity_at(temperature, *points[side]) for side in LINING]
        except InputError:
            # The points themselves are told where they stand.
            return []
        rows.append((temperature, *both, None, None))
    for place, side in enumerate(LINING):
        if sprayed[side] is not None and values[f"{side}_viscosity"] is not None:
            at: list[Any] = [None, None]
            at[place] = values[f"{side}_viscosity"]
            rows.append((sprayed[side], None, None, *at))
    return rows
