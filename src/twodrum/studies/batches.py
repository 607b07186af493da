"""Drums held against the day: fit to use, how long they last, which batch went where."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

from ..core.mix import LINING
from ..evaluate import Reader, Value
from ..problems import with_capital
from .moments import moments
from .readings import NOTHING
from .usage import SLACK
from .words import DAY, clock, rounded, said

SOURCE = "Drums, levels and places as they were typed; rates by the levels since the last change"
CAPACITY = 40
# A rate from less than this says nothing.
SHORTEST = 600.0
DRUM_COLUMNS = (
    *("drum_number", "holds", "batch", "expiry", "stirred", "on_at", "off_at"),
    *("opening_level", "drawn"),
)
LASTING_COLUMNS = ("time", "phase", "event", "iso_left", "resin_left")
LASTING_READS = (
    *(f"drums.{name}" for name in DRUM_COLUMNS),
    *(f"readings.{name}" for name in LASTING_COLUMNS),
    *("order.component", "order.drum_volume", "order.heel_volume"),
    *("work_date", "stirring_time", "next_break"),
)
BATCH_READS = (
    *(f"drums.{name}" for name in ("drum_number", "holds", "batch", "on_at", "off_at")),
    *("readings.time", "readings.phase", "readings.place"),
)
RESIN_UNSTIRRED = "resin that settled sprays off its ratio"


def ledger(reader: Reader) -> list[tuple[Any, ...]]:
    """Rows of (side, left, rate, until, words); a verdict beside each drum."""
    drums = _rows(reader, "drums", DRUM_COLUMNS)
    values = {name: reader.cell(name) for name in LASTING_READS if "." not in name}
    components = reader.column("order", "component")
    held = dict(zip(components, reader.cells("order", "drum_volume")))
    heels = dict(zip(components, reader.cells("order", "heel_volume")))
    verdicts = []
    for index, drum in enumerate(drums):
        issues = _issues(drum, values, held, drums[:index])
        for at, words in issues:
            reader.warn(at, words)
        told = [with_capital(words) for _, words in issues]
        if not told and drum["expiry"].si is None:
            told = [f"{NOTHING}; no date to use it before"]
        verdicts.append(". ".join(told or [NOTHING]))
    reader.give("drums.verdict", verdicts)
    readings = _rows(reader, "readings", LASTING_COLUMNS)
    times = moments(None, readings)
    found = []
    for side in LINING:
        if side in heels and heels[side].si is not None:
            row = _lasting(readings, times, side, heels[side].si, values["next_break"])
            found += [row] if row else []
    return found


def _rows(reader: Reader, table: str, names: tuple[str, ...]) -> list[dict[str, Value]]:
    columns = {name: reader.cells(table, name) for name in names}
    return [dict(zip(columns, cells)) for cells in zip(*columns.values())]


Issue = tuple[Value, str]


def _issues(
    drum: dict[str, Value],
    values: dict[str, Value],
    held: dict[str, Value],
    before: list[dict[str, Value]],
) -> list[Issue]:
    issues: list[Issue] = []
    number, side = drum["drum_number"], drum["holds"].si
    twins = [other for other in before if number.si and other["drum_number"].si == number.si]
    if twins:
        first = twins[0]["drum_number"].where
        issues.append((number, f"drum {number.si} stands here a second time; the first is {first}"))
    day, expiry = values["work_date"].si, drum["expiry"].si
    if day is not None and expiry is not None and expiry < day:
        late = "1 day" if day - expiry == 1 else f"{day - expiry:.0f} days"
        late += " past its date on the day of the readings"
        issues.append((drum["expiry"], f"{late}: ask the supplier before it is used"))
    stirred, wanted = drum["stirred"], values["stirring_time"]
    if side == "resin" and wanted.si:
        if stirred.si is None and drum["on_at"].si is not None and not stirred.refused:
            issues.append(
                (stirred, f"no stirring noted, {said(wanted)} planned; {RESIN_UNSTIRRED}")
            )
        elif stirred.si is not None and stirred.si < wanted.si * (1 - 1e-9):
            found = f"stirred {said(stirred)}, {said(wanted)} planned"
            issues.append((stirred, f"{found}; {RESIN_UNSTIRRED}"))
    if side == "iso" and stirred.si:
        issues.append((stirred, "iso was stirred: look for moisture, never in an open drum"))
    on, off = drum["on_at"], drum["off_at"]
    if on.si is not None:
        for other in before:
            same = other["holds"].si == side and other["on_at"].si is not None
            if same and _overlap(other, drum):
                words = f"on while drum {other['drum_number'].si} was: one drum feeds a side"
                issues.append((on, words))
    elif off.si is not None and not on.refused:
        issues.append((on, "taken off without a time when it was put on"))
    opening, full = drum["opening_level"], held.get(str(side))
    if full is not None and full.si is not None:
        for what, amount in (("it held", opening), ("drawn from it are", drum["drawn"])):
            if amount.si is not None and amount.si > full.si * (1 + SLACK):
                words = f"{what} {rounded(amount.si, amount)}, a full drum holds "
                issues.append((opening, words + rounded(full.si, amount)))
    return issues


def _overlap(one: dict[str, Value], other: dict[str, Value]) -> bool:
    """Whether two drums of one side were on at once; one that is still on has no end."""
    starts = [drum["on_at"].si for drum in (one, other)]
    ends = [drum["off_at"].si for drum in (one, other)]
    first = 0 if starts[0] <= starts[1] else 1
    end = ends[first]
    if end is None:
        # Only the last one may be still on.
        return starts[0] != starts[1] and first == 1
    return bool(end > starts[1 - first])


def _lasting(
    rows: list[dict[str, Value]],
    times: list[float | None],
    side: str,
    heel: float,
    pause: Value,
) -> tuple[Any, ...] | None:
    """How long the drum of a side lasts, at the rate since its last change."""
    levels: list[tuple[float, float]] = []
    like: Value | None = None
    for row, now in zip(rows, times):
        event = str(row["event"].si or "")
        if event == "level reset" or (
            event.startswith("drum change") and event.endswith((side, "both"))
        ):
            levels = []
        level = row[f"{side}_left"]
        if level.si is not None and now is not None:
            if levels and level.si > levels[-1][1]:
                # The rise is told on Readings.
                return None
            levels.append((now, level.si))
            like = level
    if like is None or len(levels) < 2 or levels[-1][0] - levels[0][0] < SHORTEST:
        return None
    (start, full), (now, left) = levels[0], levels[-1]
    rate = (full - left) / (now - start)
    if rate <= 0:
        return None
    usable = max(0.0, left - heel)
    until = now + usable / rate
    words = f"{with_capital(side)}: {rounded(left, like)} left at {clock(now / DAY % 1)}, "
    words += f"{rounded(heel, like)} of it stay; at this rate it lasts until about "
    words += f"{clock(until / DAY % 1)}"
    if pause.si is not None:
        stop = pause.si * DAY + now // DAY * DAY
        stop += DAY if stop < now else 0.0
        at = clock(pause.si)
        if until < stop:
            words += f", before the break at {at}: have the next one warm"
            words += " and stirred" if side == "resin" else ", its dryer ready"
        else:
            words += f", past the break at {at}"
    return (side, left, rate, until / DAY % 1, words + ".")


@dataclass
class Stretch:
    """One surface, from its first reading to the last before the next one."""

    place: str
    start: float
    end: float


def batches(reader: Reader) -> list[tuple[Any, ...]]:
    """Rows of (surface, from, to, iso drums, resin drums)."""
    drums = _rows(reader, "drums", ("drum_number", "holds", "batch", "on_at", "off_at"))
    rows = _rows(reader, "readings", ("time", "phase", "place"))
    if not drums:
        return []
    times = moments(None, rows)
    found = []
    for stretch in _stretches(rows, times):
        told = [_told(drums, side, stretch) for side in LINING]
        ends = (stretch.start / DAY % 1, stretch.end / DAY % 1)
        found.append((stretch.place, *ends, *told))
    if not found:
        told = [_told(drums, side, None) for side in LINING]
        found.append(("The day, no surface noted on Readings", None, None, *told))
    return found


def _stretches(rows: list[dict[str, Value]], times: list[float | None]) -> list[Stretch]:
    found: list[Stretch] = []
    place = ""
    for row, now in zip(rows, times):
        typed = str(row["place"].si or "").strip()
        moved = bool(typed) and typed.casefold() != place.casefold()
        place = typed if moved else place
        if now is None or row["phase"].si != "spraying" or not place:
            continue
        if found and found[-1].place == place and not moved:
            found[-1].end = now
        else:
            if found and moved:
                # Until the next surface began.
                found[-1].end = now
            found.append(Stretch(place, now, now))
    return found


def _told(drums: list[dict[str, Value]], side: str, stretch: Stretch | None) -> str:
    """The drums of a side that were on during a stretch, with their batches."""
    own = [drum for drum in drums if drum["holds"].si == side]
    if stretch is not None:
        untimed = [drum for drum in own if drum["on_at"].si is None]
        on = [drum for drum in own if drum["on_at"].si is not None and _on(drum, stretch)]
        if untimed and len(own) > 1:
            return f"not known: 'On at' of drum {untimed[0]['drum_number'].si} is blank"
        own = on or untimed
    if not own:
        return "no drum noted"
    return ", ".join(_named(drum) for drum in own)


def _on(drum: dict[str, Value], stretch: Stretch) -> bool:
    """Whether a drum was on; both count on past midnight from the day of the stretch."""
    midnight = stretch.start // DAY * DAY
    start = drum["on_at"].si * DAY + midnight
    end = None if drum["off_at"].si is None else drum["off_at"].si * DAY + midnight
    if end is not None and end < start:
        end += DAY
    return start <= stretch.end and (end is None or end >= stretch.start)


def _named(drum: dict[str, Value]) -> str:
    batch = drum["batch"].si
    return f"{drum['drum_number'].si} (batch {batch})" if batch else f"{drum['drum_number'].si}"
