"""The parts of a job: what an office may have of it, and what each part takes from others.

A part is the sheets that belong together, with all that stands on them. A job is composed
from the parts that it has; what stands on a sheet of another part says so here.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import replace
from functools import lru_cache
from itertools import combinations

from ..engine.model import (
    ACCEPTED,
    Grid,
    Line,
    Listing,
    Model,
    Page,
    ResultBlock,
    result_key,
)
from ..engine.order import depends
from ..engine.references import Name
from ..workbook.layout import PARTS_HERE
from ..xlsx.book import Book
from .job import JOB

QUOTE, DAY, PROOF, ACCOUNT = PARTS = ("quote", "day", "proof", "account")
# What each part takes from others: they have to be there too.
TAKES = {QUOTE: (), DAY: (QUOTE,), PROOF: (QUOTE,), ACCOUNT: (QUOTE, DAY, PROOF)}
SHEETS = {
    **dict.fromkeys(("Job", "Pricing", "Areas", "Materials", "Shelf", "Workings"), QUOTE),
    **dict.fromkeys(("Order", "Cost", "Quote", "Accepted", "Film and loss", "Chances"), QUOTE),
    "Quantities": DAY,
    **dict.fromkeys(("Processing", "Equipment", "Readings", "Drums", "Day sheet"), DAY),
    **dict.fromkeys(("Cautions", "Warm-up", "Balance", "Mix", "Batches"), DAY),
    **dict.fromkeys(("Film", "Adhesion", "Film check"), PROOF),
    "Reconcile": ACCOUNT,
}
# What a job is called by the last of its parts, and what it is for.
TITLES = {
    QUOTE: "Quote: quantities and price",
    DAY: "Job: quantities, price, the day at the machine",
    PROOF: "Job: quantities, price, proof of the film",
}
PURPOSES = {
    QUOTE: "One spray-lining job, from the take-off to a price.",
    DAY: "One spray-lining job, from the take-off to a price, the warm-up and the readings.",
    PROOF: "One spray-lining job, from the take-off to a price and the proof of its film.",
}
AND_MORE = ("Print Quote. twodrum add gives this workbook more parts: day, proof, account.",)
# Blocks, results and studies that stand on a sheet of another part.
ELSEWHERE = {
    **dict.fromkeys(("Weather expected", "The day"), DAY),
    **dict.fromkeys(("gun_speed", "day_hints"), DAY),
    "How the film is checked": PROOF,
    **dict.fromkeys(("iso_combined", "resin_combined", "iso_used", "resin_used"), ACCOUNT),
    **dict.fromkeys(("used_volume", "used_per_area", "When the job is done"), ACCOUNT),
}


def with_needed(parts: Iterable[str]) -> tuple[str, ...]:
    """These parts and those that they take from, in their order."""
    wanted = set(parts)
    for part in reversed(PARTS):
        if part in wanted:
            wanted.update(TAKES[part])
    return tuple(part for part in PARTS if part in wanted)


# Every set of parts that a job may have.
SETS = tuple(
    parts
    for count in range(1, len(PARTS) + 1)
    for parts in combinations(PARTS, count)
    if with_needed(parts) == parts
)


@lru_cache(maxsize=16)
def job_of(parts: tuple[str, ...]) -> Model:
    """The model of a job that has these parts; the whole one where it has all of them."""
    return JOB if parts == PARTS else composed(JOB, parts)


def parts_of(book: Book) -> tuple[str, ...]:
    """The parts that a job says it has; of an older one, those of which it has an input."""
    cell = book.named(PARTS_HERE)
    said = tuple(word.strip() for word in str(cell.value if cell else "").split(","))
    if said and with_needed(said) == said:
        return said
    names = ((part, composed(JOB, (part,)).fields()) for part in PARTS)
    there = (part for part, own in names if any(book.area(item.name) for item in own))
    return with_needed(there) or PARTS


def model_of(book: Book) -> Model:
    """The model of the parts that a job has."""
    return job_of(parts_of(book))


def composed(whole: Model, parts: tuple[str, ...]) -> Model:
    """What of a model belongs to these parts."""

    def has(sheet: str, name: str = "") -> bool:
        return ELSEWHERE.get(name, SHEETS.get(sheet, QUOTE)) in parts

    blocks = tuple(b for b in whole.blocks if has(b.sheet, b.heading))
    tables = tuple(t for t in whole.tables if has(t.sheet))
    kept = {table.name for table in tables}
    results = tuple(
        ResultBlock(b.heading, tuple(c for c in b.cells if has(b.sheet, c.name)), b.sheet)
        for b in whole.results
        if has(b.sheet, b.heading)
    )
    columns = tuple(c for c in whole.columns if c.table in kept)
    studies = tuple(s for s in whole.studies if has(s.sheet, s.name))
    pages = tuple(p for p in whole.pages if has(p.sheet))
    made = replace(
        whole,
        name="-".join(parts),
        title=TITLES.get(parts[-1], whole.title),
        purpose=PURPOSES.get(parts[-1], whole.purpose),
        parts=parts,
        steps=tuple(s for s in whole.steps if DAY in parts or "Equipment" not in s) + AND_MORE,
        blocks=blocks,
        tables=tables,
        results=results,
        columns=columns,
        studies=studies,
        pages=pages,
    )
    names = {*(f.name for f in made.fields()), *(c.name for c in made.cells)}
    kinds = {f.kind for f in made.fields()} | {f.kind for t in tables for f in t.fields}
    return replace(
        made,
        sheets=tuple((s, p) for s, p in whole.sheets if s not in SHEETS or has(s)),
        headlines=tuple(name for name in whole.headlines if name in names),
        choices={choice: words for choice, words in whole.choices.items() if choice in kinds},
        orders=tuple(o for o in whole.orders if {o.low, o.high} <= names),
    )


def lacking(model: Model) -> dict[str, set[str]]:
    """What a model reads that it does not have, by what reads it; nothing where it is whole."""
    there: set[str] = {"overall_state", *(item.name for item in model.fields())}
    there.update(constant.name for constant in model.constants)
    there.update(f"{ACCEPTED}{name}" for name in model.accepted)
    there.update(result_key(item) for item in model.outcomes())
    there.update(f"{table.name}.{item.name}" for table in model.tables for item in table.fields)
    reads: dict[str, Iterable[str]] = {result_key(i): depends(i) for i in model.outcomes()}
    reads.update((study.name, study.reads) for study in model.studies)
    fields = [*model.fields(), *(item for table in model.tables for item in table.fields)]
    reads.update((f.name, [f.default.name]) for f in fields if isinstance(f.default, Name))
    reads.update((page.sheet, _on_page(page)) for page in model.pages)
    reads["accepted"] = model.accepted
    by_study = {item.study for item in model.outcomes()} - {""}
    lost = {key: set(names) - there for key, names in reads.items() if not set(names) <= there}
    gone = by_study - {study.name for study in model.studies}
    return {**lost, **({"results of a study": gone} if gone else {})}


def _on_page(page: Page) -> set[str]:
    found: set[str] = set()
    for line in page.lines:
        if isinstance(line, Line):
            said = line.words[1:] if line.words.startswith("=") else ""
            found.update({line.name, said, *line.needs, *line.any_of, *line.lacks} - {""})
        elif isinstance(line, Listing):
            found.update(f"{line.table}.{column}" for column in line.columns)
        elif isinstance(line, Grid):
            found.update(f"{line.table}.{name}" for name in (line.column, line.down, line.across))
    return found
