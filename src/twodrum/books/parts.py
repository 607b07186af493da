"""The parts of a job: what an office may have of it, and what each part takes from others.

A part is the sheets that belong together, with all that stands on them. A job is composed
from the parts that it has; what stands on a sheet of another part says so here.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import replace
from functools import lru_cache
from itertools import combinations
from typing import Any

from ..engine.model import Line, Model, Page
from ..workbook.layout import PARTS_HERE
from ..xlsx.book import Book
from .given import with_given
from .inputs import OF_WHAT_IFS
from .job import BASE, TYPE_THE_DAY

QUOTE, WHAT_IFS, DAY, PROOF, ACCOUNT = PARTS = (
    "quote",
    "what-ifs",
    "day",
    "proof",
    "account",
)
# What each part takes from others: they have to be there too.
TAKES = {
    QUOTE: (),
    WHAT_IFS: (QUOTE,),
    DAY: (QUOTE,),
    PROOF: (QUOTE,),
    # What film was uncertain to come out is held against what it was.
    ACCOUNT: (QUOTE, WHAT_IFS, DAY, PROOF),
}
SHEETS = {
    **dict.fromkeys(("Job", "Areas", "Materials", "Shelf"), QUOTE),
    **dict.fromkeys(("Order", "Cost", "Quote", "Change order", "Accepted"), QUOTE),
    **dict.fromkeys(("Options", "Film and loss", "Chances", "Odds"), WHAT_IFS),
    "Quantities": DAY,
    **dict.fromkeys(("Processing", "Equipment", "Readings", "Drums", "Hours"), DAY),
    **dict.fromkeys(("Cautions", "Warm-up", "Balance", "Days", "Mix"), DAY),
    **dict.fromkeys(("Day sheet", "Batches"), DAY),
    **dict.fromkeys(("Film", "Adhesion", "Film check"), PROOF),
    "Reconcile": ACCOUNT,
}
# What a job is called by the last of its parts, and what it is for.
TITLES = {
    QUOTE: "Quote: quantities and price",
    WHAT_IFS: "Quote: quantities, price, what-ifs",
    DAY: "Job: quantities, price, the day at the machine",
    PROOF: "Job: quantities, price, proof of the film",
}
PURPOSES = {
    QUOTE: "One spray-lining job, from the take-off to a price.",
    WHAT_IFS: "One spray-lining job, from the take-off to a price, and what could come otherwise.",
    DAY: "One spray-lining job, from the take-off to a price, the warm-up and the readings.",
    PROOF: "One spray-lining job, from the take-off to a price and the proof of its film.",
}
TITLES_ALONE = {DAY: "Day: warm-up, readings, mix", PROOF: "Proof of the film"}
PURPOSES_ALONE = {
    DAY: "The day at the machine, beside a quote of your own.",
    PROOF: "The proof of the film, beside a quote of your own.",
}
STEPS_ALONE = (
    "Type what is pale yellow, or link it to cells of your own: begin with Job and Areas.",
    "Then type, paste or link what the other sheets ask for; readings as they come.",
    "Run twodrum check to hear every problem, twodrum fill for the rest.",
    f"twodrum add gives this workbook more parts: {', '.join(PARTS)}.",
)
AND_MORE = (f"Print Quote. twodrum add gives this workbook more parts: {', '.join(PARTS[1:])}.",)
# Blocks, tables, results and studies that stand on a sheet of another part. What belongs to
# the what-ifs is there where they are.
ELSEWHERE = {
    OF_WHAT_IFS.heading: WHAT_IFS,
    **dict.fromkeys(("Weather expected", "The day"), DAY),
    **dict.fromkeys(("gun_speed", "day_hints"), DAY),
    "Of the lining that is planned": DAY,
    "How the film is checked": PROOF,
    **dict.fromkeys(("iso_combined", "resin_combined", "iso_used", "resin_used"), ACCOUNT),
    **dict.fromkeys(
        ("second_used", "used_volume", "used_per_area", "When the job is done"), ACCOUNT
    ),
}


def with_needed(parts: Iterable[str]) -> tuple[str, ...]:
    """These parts and those that they take from, in their order."""
    wanted = set(parts)
    for part in reversed(PARTS):
        if part in wanted:
            wanted.update(TAKES[part])
    return tuple(part for part in PARTS if part in wanted)


# Parts that can stand beside a quote which is none of ours: what they take is typed or linked.
ALONE = ((DAY,), (PROOF,), (DAY, PROOF))
# Every set of parts that a job may have.
SETS = (
    *(
        parts
        for count in range(1, len(PARTS) + 1)
        for parts in combinations(PARTS, count)
        if with_needed(parts) == parts
    ),
    *ALONE,
)


def fitting(parts: Iterable[str]) -> tuple[str, ...]:
    """These parts where they can stand so, or else with those that they take from."""
    asked = tuple(part for part in PARTS if part in set(parts))
    return asked if asked in SETS else with_needed(asked)


def whole() -> Model:
    """The job with all its parts; to derive its what-ifs takes a while."""
    from .whole import JOB

    return JOB


@lru_cache(maxsize=16)
def job_of(parts: tuple[str, ...]) -> Model:
    """The model of a job that has these parts; the whole one where it has all of them."""
    job = whole() if WHAT_IFS in parts else BASE
    if parts == PARTS:
        return job

    def has(sheet: str, *names: str) -> bool:
        return _part(sheet, *names) in parts

    blocks = tuple(b for b in job.blocks if has(b.sheet, b.heading))
    tables = tuple(t for t in job.tables if has(t.sheet, t.name))
    kept = {table.name for table in tables}
    results = tuple(
        replace(b, cells=tuple(c for c in b.cells if has(b.sheet, c.name, b.heading)))
        for b in job.results
        if has(b.sheet, b.heading)
    )
    columns = tuple(c for c in job.columns if c.table in kept)
    studies = tuple(s for s in job.studies if has(s.sheet, s.name))
    singles = {f.name for b in blocks for f in b.fields}
    singles |= {c.name for b in results for c in b.cells}
    pages = tuple(_of_these(p, singles) for p in job.pages if has(p.sheet))
    made = replace(
        job,
        name="-".join(parts),
        title=(TITLES if QUOTE in parts else TITLES_ALONE).get(parts[-1], job.title),
        purpose=(PURPOSES if QUOTE in parts else PURPOSES_ALONE).get(parts[-1], job.purpose),
        parts=parts,
        steps=tuple(s for s in job.steps if DAY in parts or s != TYPE_THE_DAY) + AND_MORE,
        blocks=blocks,
        tables=tables,
        results=results,
        columns=columns,
        studies=studies,
        pages=pages,
    )
    if QUOTE not in parts:
        made = with_given(replace(made, accepted=(), steps=STEPS_ALONE))
    names = {*(f.name for f in made.fields()), *(c.name for c in made.cells)}
    stands: tuple[Any, ...] = (*made.blocks, *made.tables, *made.results)
    used = {item.sheet for item in stands}
    tables = made.tables
    kinds = {f.kind for f in made.fields()} | {f.kind for t in tables for f in t.fields}
    return replace(
        made,
        sheets=tuple((s, p) for s, p in job.sheets if s not in SHEETS or has(s) or s in used),
        headlines=tuple(name for name in job.headlines if name in names),
        choices={choice: words for choice, words in job.choices.items() if choice in kinds},
        orders=tuple(o for o in job.orders if {o.low, o.high} <= names),
    )


def _of_these(page: Page, names: set[str]) -> Page:
    """A page without the lines that ask for what no part here has."""

    def here(line: object) -> bool:
        return not isinstance(line, Line) or names.issuperset((*line.needs, *line.any_of))

    return replace(page, lines=tuple(filter(here, page.lines)))


def parts_of(book: Book) -> tuple[str, ...]:
    """The parts that a job says it has; of an older one, those of which it has an input."""
    cell = book.named(PARTS_HERE)
    said = tuple(word.strip() for word in str(cell.value if cell else "").split(","))
    if QUOTE in said and book.area(OF_WHAT_IFS.fields[0].name) is not None:
        # Until version 0.21 the quote held its what-ifs.
        said = with_needed((*said, WHAT_IFS))
    if said in SETS:
        return said
    there = [
        part
        for part in PARTS
        if any(
            book.area(f.name)
            for b in (*BASE.blocks, OF_WHAT_IFS)
            if _part(b.sheet, b.heading) == part
            for f in b.fields
        )
    ]
    return with_needed(there) or PARTS


def _part(sheet: str, *names: str) -> str:
    """The part of what stands on a sheet under a name of its own, or of the sheet."""
    return next((ELSEWHERE[name] for name in names if name in ELSEWHERE), SHEETS.get(sheet, QUOTE))


def model_of(book: Book) -> Model:
    """The model of the parts that a job has."""
    return job_of(parts_of(book))
