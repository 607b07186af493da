"""What a part takes from the quote where the quote is not there: typed, or linked to another.

Of the declarations of the whole job that is kept on which the part rests. A result that is
told rather than worked out again, such as the measured area of a surface, is an input here.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import replace

from ..engine.model import Block, Field, Model, ResultBlock, result_key
from ..engine.order import depends
from ..engine.reads import keys, lacking
from .job import BASE

TOLD = {
    "areas.measured_area": Field("measured_area", "Measured area", "area", 1e-6, 1e7),
    **{
        f"{component}_drums": Field(
            f"{component}_drums",
            f"{component.replace('_', ' ').capitalize()} drums to open",
            "drums",
            0,
            10_000,
        )
        for component in ("iso", "resin", "second_iso", "second_resin")
    },
}
# What no result reads, and an office keeps what a day taught by.
BESIDE = ("machine_name",)
HEADING = "From the quote"
# Where the results stand that follow from it.
RESULTS_ON = "Quantities"


def with_given(model: Model) -> Model:
    """A model with all of the whole job that it rests on and does not have."""
    there = keys(model)
    beside = BESIDE if "work_date" in there else ()
    needed = _needed({*beside, *set().union(*lacking(model).values())}, there)
    results = tuple(c for b in BASE.results for c in b.cells if c.name in needed)
    columns = tuple(
        replace(c, working=False)
        for c in BASE.columns
        if result_key(c) in needed and result_key(c) not in TOLD
    )
    blocks = tuple(
        Block(b.heading, kept, "Job")
        for b in BASE.blocks
        if (kept := tuple(f for f in b.fields if f.name in needed))
    )
    told = tuple(item for key, item in TOLD.items() if key in needed and "." not in key)
    given = (*blocks, *((Block(HEADING, told, "Job"),) if told else ()))
    tables = tuple(
        replace(table, fields=fields)
        for table in BASE.tables
        if (fields := tuple(_fields(table.name, needed)))
    )
    here = tuple(c for c in results if c.name not in TOLD)
    there |= needed
    # A column that is shown in the unit of an input which is not here has a unit of its own.
    studies = tuple(
        replace(s, units={name: key for name, key in s.units.items() if key in there})
        for s in model.studies
    )
    return replace(
        model,
        blocks=(*given, *model.blocks),
        tables=(*tables, *model.tables),
        results=(*((ResultBlock(HEADING, here, RESULTS_ON),) if here else ()), *model.results),
        columns=(*columns, *model.columns),
        studies=studies,
    )


def _needed(lost: Iterable[str], there: set[str]) -> set[str]:
    """What is lacking, and all that it follows from, down to what is typed, told or there."""
    results = {result_key(item): item for item in BASE.outcomes()}
    found: set[str] = set()
    queue = list(lost)
    while queue:
        key = queue.pop()
        if key not in found and key not in there:
            found.add(key)
            if key in results and key not in TOLD:
                queue += depends(results[key])
    return found


def _fields(table: str, needed: set[str]) -> Iterable[Field]:
    """The columns of a table that are typed."""
    yield from (f for f in BASE.table(table).fields if f"{table}.{f.name}" in needed)
    for key, item in TOLD.items():
        if key in needed and key.startswith(f"{table}."):
            yield item
