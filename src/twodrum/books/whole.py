"""The whole job: the job with what its what-ifs add, each in its place.

To derive the what-ifs takes longer than all other declarations together; a job without them
does not ask for this.
"""

from __future__ import annotations

from dataclasses import replace
from typing import Any, TypeVar

from ..workbook.entry import ENTRY_CONSTANTS
from .chances import (
    BY_CHANCE,
    BY_CHANCE_COLUMNS,
    CHANCE_CONSTANTS,
    LITRES,
    NEXT_SET,
    ODDS,
    OF_CHANCES,
    SURE,
)
from .inputs import FILM_CHECK, OF_WHAT_IFS
from .job import BASE
from .options import OF_OPTIONS, OPTION_COLUMNS, OPTION_HINTS, OPTION_TABLE
from .parts import PARTS
from .plan import OF_DRUMS, OF_PLANNED, PLAN_STUDIES
from .results import DAY_HINTS
from .tables import ORDER
from .whatif import (
    OF_COMPONENTS,
    SCENARIO_COLUMNS,
    SCENARIOS,
    SWINGS,
    WHATIF_CONSTANTS,
    WHATIF_PAGE,
)

Item = TypeVar("Item")


def _before(items: tuple[Item, ...], one: Any, *more: Item) -> tuple[Item, ...]:
    """More items before one of them."""
    place = items.index(one)
    return (*items[:place], *more, *items[place:])


_RESULTS = tuple(OF_COMPONENTS if block is OF_DRUMS else block for block in BASE.results)
_STUDIES = _before(BASE.studies, DAY_HINTS, OPTION_HINTS)

JOB = replace(
    BASE,
    parts=PARTS,
    blocks=_before(BASE.blocks, FILM_CHECK, OF_WHAT_IFS),
    tables=(*_before(BASE.tables, ORDER, OPTION_TABLE), SCENARIOS, BY_CHANCE),
    results=_before(_RESULTS, OF_PLANNED, OF_OPTIONS, *ODDS, SURE, OF_CHANCES),
    columns=(*BASE.columns, *SCENARIO_COLUMNS, *OPTION_COLUMNS, *BY_CHANCE_COLUMNS),
    constants=_before(BASE.constants, ENTRY_CONSTANTS[0], *WHATIF_CONSTANTS, *CHANCE_CONSTANTS),
    pages=(*BASE.pages, WHATIF_PAGE),
    studies=_before(_STUDIES, PLAN_STUDIES[0], LITRES, NEXT_SET, SWINGS),
)
