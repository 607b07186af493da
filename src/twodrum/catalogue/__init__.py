"""Every worksheet function, declared once."""

from __future__ import annotations

from ..core.acceptance import PROFILE_GRADES
from ..core.cost import PRICING_BASES
from ..core.electricity import PHASES
from ..core.mix import COMPONENTS
from ..core.overlap import FANS
from ..core.spots import LEVELS
from ..core.takeoff import SHAPE_NAMES
from . import (
    acceptance,
    air,
    film,
    flow,
    heating,
    isocyanate,
    mix,
    money,
    reconciliation,
    shapes,
    statistics,
    supply,
)
from .declaration import Argument, Function

# The words that an argument of a choice kind accepts.
CHOICES: dict[str, tuple[str, ...]] = {
    "shape": SHAPE_NAMES,
    "pricing_basis": PRICING_BASES,
    "fan": FANS,
    "level": LEVELS,
    "profile_grade": PROFILE_GRADES,
    "phases": PHASES,
    "component": COMPONENTS,
}

FUNCTIONS: tuple[Function, ...] = (
    *film.FUNCTIONS,
    *shapes.FUNCTIONS,
    *mix.FUNCTIONS,
    *isocyanate.FUNCTIONS,
    *air.FUNCTIONS,
    *heating.FUNCTIONS,
    *supply.FUNCTIONS,
    *flow.FUNCTIONS,
    *money.FUNCTIONS,
    *statistics.FUNCTIONS,
    *reconciliation.FUNCTIONS,
    *acceptance.FUNCTIONS,
)

BY_CALL: dict[str, Function] = {function.formula_name: function for function in FUNCTIONS}

__all__ = ["BY_CALL", "CHOICES", "FUNCTIONS", "Argument", "Function"]
