"""From coat to coat: how long after one the next came, against what its data sheet asks for."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from typing import Any, NamedTuple

from ..engine.evaluate import Reader, Value
from ..problems import sentence, with_capital
from .batches import is_coat
from .linings import FIRST_LINING, PRIMED, SECOND_LINING
from .moments import WHEN, Row, WorkDay, moments, work_days
from .systems import FURTHER
from .words import DAY, name_key, rounded, said

SOURCE = "Times as they were typed, against the data sheet of the coat below"
CAPACITY = 120
# What of Processing a coat has of its own, by its words.
COATS = {
    "primer": "primer",
    "second primer": "second_primer",
    FIRST_LINING: "lining",
    SECOND_LINING: "second_lining",
}
WINDOWS = {coat: (f"{name}_recoat_from", f"{name}_recoat_to") for coat, name in COATS.items()}
COLUMNS = (*WHEN, "phase", "event", "place")
# Where the primer of each system stands; surfaces that name none have that of the job.
PRIMERS: dict[str | None, str] = {
    None: "system_1_primer",
    **{f"system {n}": f"system_{n}_primer" for n in FURTHER},
}
READS = (
    *(f"readings.{name}" for name in COLUMNS),
    *("areas.surface", "areas.system", "work_date", *PRIMERS.values()),
    *(name for pair in WINDOWS.values() for name in pair),
)


class Recoat(NamedTuple):
    """One coat on another."""

    recoat_place: Any
    recoat_day: Any
    recoat_at: Any
    recoat_after: Any
    recoat_words: Any


@dataclass
class Coat:
    """A coat on a surface, from when to when in seconds, and the cell that says so."""

    words: str
    start: float
    end: float
    date: float | None
    place: Value
    at: Value


def recoats(reader: Reader) -> list[Recoat]:
    """Rows of (surface, day, time of the next coat, time since, words)."""
    rows = reader.rows("readings", COLUMNS)
    first_day = reader.value("work_date")
    surfaces = map(name_key, reader.cells("areas", "surface"))
    systems = dict(zip(surfaces, reader.column("areas", "system")))
    primer_of = {system: reader.value(name) for system, name in PRIMERS.items()}
    windows = {coat: tuple(reader.cell(name) for name in pair) for coat, pair in WINDOWS.items()}
    times = moments(None, rows, first_day)
    coats: dict[str, list[Coat]] = {}
    for day in work_days(rows, times, first_day):
        for coat in _coats(reader, day, day.of(rows), day.of(times)):
            key = name_key(coat.place)
            primer = primer_of.get(systems.get(key))
            if coat.words == PRIMED and primer in WINDOWS:
                coat.words = str(primer)
            coat.words = coat.words.removesuffix(" on")
            coats.setdefault(key, []).append(coat)
    found: list[tuple[float, Recoat]] = []
    for on_surface in coats.values():
        below: Coat | None = None
        for coat in on_surface:
            told = None if below is None else _judged(reader, below, coat, windows)
            found += [] if told is None else [(coat.start, told)]
            below = coat
    return [told for _, told in sorted(found, key=lambda pair: pair[0])]


def _coats(
    reader: Reader, day: WorkDay, rows: list[Row], times: list[float | None]
) -> Iterator[Coat]:
    """What went on which surface on one day: events, and every run of spraying on one surface."""
    place: Value | None = None
    run: Coat | None = None
    for row, now in zip(rows, times):
        event, typed = row["event"], row["place"]
        if is_coat(row) and typed.si is None:
            found = f"{event.si} without its surface"
            reader.warn("recoat", event, sentence(found, "type it in Spraying on of that row"))
        if now is None or row["lining"].refused:
            continue
        if is_coat(row):
            if typed.si is not None:
                yield Coat(str(event.si), now, now, day.date, typed, event)
            run = None
            continue
        place = place if typed.si is None else typed
        if row["phase"].si != "spraying" or place is None:
            run = None
            continue
        if run is None or name_key(run.place) != name_key(place):
            run = Coat(day.lining, now, now, day.date, place, place if typed.si else row["time"])
            yield run
        run.end = now


def _judged(
    reader: Reader, below: Coat, above: Coat, windows: dict[str, tuple[Value, ...]]
) -> Recoat | None:
    """One coat on another; None where nothing is asked for between them."""
    least, most = windows.get(below.words, (None, None))
    if least is None or most is None or least.si is most.si is None:
        return None
    after = above.start - below.end
    like = most if least.si is None else least
    found = f"{above.words} {rounded(after, like)} after the {below.words}"
    place = str(above.place.si)
    wrong = ""
    if most.si is not None and after > most.si:
        wrong = f"its data sheet allows {said(most)} at most"
    elif above.words == below.words:
        # The same lining again is another pass, of which only the end of its window tells.
        return None
    elif least.si is not None and after < least.si:
        wrong = f"its data sheet asks for {said(least)} at least"
    if wrong:
        text = sentence(f"{place}: {found}", wrong, "do what it asks for then")
        reader.warn("recoat", above.at, text)
    words = f"{with_capital(found)}{f': {wrong}' if wrong else ', as its data sheet asks for'}."
    return Recoat(place, above.date, above.start / DAY % 1, after, words)
