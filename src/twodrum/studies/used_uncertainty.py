"""How well the litres drawn from drums are known, by how they were measured."""

from __future__ import annotations

import math
from collections.abc import Mapping
from statistics import NormalDist
from typing import Any

from ..engine.evaluate import Value

# An interval holds the truth in so many cases; so many standard uncertainties are half of it.
CONFIDENCE = 0.95
REACH = NormalDist().inv_cdf((1 + CONFIDENCE) / 2)
DRUMS = ("holds", "by_weight", "by_level", "drawn")
# What is needed of the single values, and of each side.
NEEDS = ("level_uncertainty", "scale_uncertainty")
NEEDS_OF_SIDE = ("weighed", "ledger", "density")
# What a drum holds, and what was drawn from it by weight and by level.
Drawn = tuple[Any, ...]


def used_uncertainty(
    drums: list[Drawn], values: Mapping[str, Value], side: str, density_uncertainty: float = 0.0
) -> float | None:
    """Standard uncertainty of what was used of a side; None where nothing is known of it."""
    level, scale = values["level_uncertainty"].si, values["scale_uncertainty"].si
    density = values[f"{side}_density"].si
    if level is None or scale is None:
        return None
    by_scale = None if density is None else math.sqrt(2) * scale / density
    weighed = values.get(f"{side}_weighed")
    if weighed is not None and weighed.si is not None:
        return None if by_scale is None else math.hypot(by_scale, weighed.si * density_uncertainty)
    if values[f"{side}_ledger"].si is not None:
        own = [drum for drum in drums if drum[0] == side]
        squares = [2 * level**2 if drum[1] is None else (by_scale or 0.0) ** 2 for drum in own]
        # One density stands behind all the drums that were weighed.
        together = sum(drum[1] for drum in own if drum[1] is not None) * density_uncertainty
        return math.sqrt(sum(squares) + together**2)
    return float(level) * math.sqrt(2)
