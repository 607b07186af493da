"""Every worksheet function, declared once."""

from __future__ import annotations

from ..core.acceptance import FILM_BASES, PROFILE_GRADES
from ..core.cost import PRICING_BASES, TAX_RULES
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
    safety,
    scenarios,
    shapes,
    statistics,
    supply,
)
from .declaration import Argument, Function

# The words that an argument of a choice kind accepts.
CHOICES: dict[str, tuple[str, ...]] = {
    "shape": SHAPE_NAMES,
    "pricing_basis": PRICING_BASES,
    "tax_rule": TAX_RULES,
    "film_basis": FILM_BASES,
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
    *scenarios.FUNCTIONS,
    *statistics.FUNCTIONS,
    *reconciliation.FUNCTIONS,
    *acceptance.FUNCTIONS,
    *safety.FUNCTIONS,
)

BY_CALL: dict[str, Function] = {function.formula_name: function for function in FUNCTIONS}

__all__ = ["BY_CALL", "CHOICES", "FUNCTIONS", "Argument", "Function"]
