"""What is wrong with an option that could be typed so: it is told beside it, and not offered."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from typing import Any

from ..engine.evaluate import Reader, Value, Values
from ..problems import sentence
from ..units import shown

SOURCE = "What is typed, held against the surfaces and the limits of the job"
OF_OPTION = (
    *("option", "option_words", "option_system", "option_film", "option_loss"),
    *("option_offered", "option_film_here", "option_most", "option_price"),
)
READS = (
    *(f"options.{name}" for name in OF_OPTION),
    *("areas.system", "areas.film_override"),
)
# What an option says of the surfaces that name no system.
OF_SURFACES = ("option_system", "option_film", "option_loss")
Row = Mapping[str, Value]


def options(reader: Reader) -> list[Any]:
    """No rows; what is wrong with an option is a note at its cell."""
    areas = list(zip(*(reader.cells("areas", name) for name in ("system", "film_override"))))
    for cells in zip(*(reader.cells("options", name) for name in OF_OPTION)):
        row = dict(zip(OF_OPTION, cells))
        for at, words in _faults(row, areas):
            reader.warn("odd-option", at, words)
    return []


def faults_of(values: Values, row: Row, on_quote: bool) -> list[tuple[Value, str]]:
    """The same of one option of a job, with the cell of each; on the quote it needs words."""
    rows = values.tables["areas"].rows
    found = list(_faults(row, [(area["system"], area["film_override"]) for area in rows]))
    found = [one for one in found if on_quote or one[0] is not row["option_offered"]]
    price = row["option_price"]
    if row["option"].si is None:
        words = ("which option it is stands nowhere", "the quote tells it by that", "pick it")
        found.append((row["option"], sentence(*words)))
    elif price.si is None:
        why = price.why or "something that it needs is blank"
        found.append((row["option"], sentence("it has no price", why)))
    return found


def _faults(row: Row, areas: list[tuple[Value, Value]]) -> Iterator[tuple[Value, str]]:
    own = [film for system, film in areas if system.blank]
    typed = [row[name] for name in OF_SURFACES if not row[name].blank]
    if areas and typed and not own:
        yield (
            typed[0],
            sentence("it changes nothing", "every area names a system, and it is about the others"),
        )
    elif own and not row["option_film"].blank and not any(film.blank for film in own):
        yield (
            row["option_film"],
            sentence("it changes nothing", "every area without a system has a film of its own"),
        )
    film, most = row["option_film_here"], row["option_most"]
    if film.si is not None and most.si is not None and film.si > most.si * (1 + 1e-12):
        at = row["option_film"]
        most_said = shown(most.si, at.kind, at.unit)
        yield (
            at,
            sentence(
                f"its film is {shown(film.si, at.kind, at.unit)}",
                f"it may never be more than {most_said}",
            ),
        )
    if not row["option_offered"].blank and row["option_words"].blank:
        yield (
            row["option_offered"],
            sentence(
                "it has no words", "the quote tells them", "type what the customer is to read"
            ),
        )
