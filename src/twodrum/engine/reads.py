"""What the declarations of a model read, by name; one walk for all that ask."""

from collections.abc import Iterable

from .model import ACCEPTED, Grid, Line, Listing, Model, Page, result_key
from .order import depends
from .references import Name

# What pages say of the workbook itself.
ON_PAGES = (
    *("overall_state", "quote_word", "quote_revision"),
    *("accepted_date", "accepted_number", "accepted_revision"),
)


def reads(model: Model) -> dict[str, Iterable[str]]:
    """Names and "table.column"s by what reads them: results, studies, defaults, pages."""
    found: dict[str, Iterable[str]] = {result_key(i): depends(i) for i in model.outcomes()}
    found.update((study.name, study.reads) for study in model.studies)
    fields = [*model.fields(), *(item for table in model.tables for item in table.fields)]
    found.update((f.name, [f.default.name]) for f in fields if isinstance(f.default, Name))
    found.update((page.sheet, _on_page(page)) for page in model.pages)
    found["accepted"] = model.accepted
    return found


def keys(model: Model) -> set[str]:
    """Names and "table.column"s of all that is typed or results."""
    typed = {f"{table.name}.{item.name}" for table in model.tables for item in table.fields}
    results = {result_key(item) for item in model.outcomes()}
    return {*typed, *results, *(item.name for item in model.fields())}


def lacking(model: Model) -> dict[str, set[str]]:
    """What a model reads that it does not have, by what reads it; nothing where it is whole."""
    there = {*ON_PAGES, *keys(model)}
    there.update(constant.name for constant in model.constants)
    there.update(f"{ACCEPTED}{name}" for name in model.accepted)
    by_study = {item.study for item in model.outcomes()} - {""}
    lost = {
        key: set(names) - there for key, names in reads(model).items() if not set(names) <= there
    }
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
