"""Drums held against the day: fit to use, how long they last, which batch went where."""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import Any, NamedTuple

from ..core.mix import LINING
from ..engine.evaluate import Reader, Value, waits_for
from ..problems import sentence, with_capital
from .linings import COAT_EVENTS, FED, FIRST_LINING
from .moments import WHEN, Row, WorkDay, moments, work_days
from .systems import FURTHER
from .usage import LEVEL_SET, SLACK, changes_drum
from .words import DAY, NOTHING, clock, name_key, rounded, said

SOURCE = "Drums, levels and places as they were typed; rates by the levels since the last change"
CAPACITY = 300
# A rate from less than this says nothing.
SHORTEST = 600.0
DRUM_COLUMNS = (
    *("drum_number", "holds", "batch", "expiry", "stirred"),
    *("on_date", "on_at", "off_date", "off_at", "opening_level", "drawn"),
)
LASTING_COLUMNS = (*WHEN, "phase", "event", "iso_left", "resin_left")
FED_COLUMNS = ("drum_number", "holds", "batch", "on_date", "on_at", "off_date", "off_at")
STIRRED = {"resin": "stirring_time", "second resin": "second_stirring_time"}
LASTING_READS = (
    *(f"drums.{name}" for name in DRUM_COLUMNS),
    *(f"readings.{name}" for name in LASTING_COLUMNS),
    *("order.component", "order.drum_volume", "order.residue"),
    *("work_date", "next_break", *STIRRED.values()),
)
# The lining of each system: surfaces that name none have that of the job.
SYSTEMS = {f"system {n}": f"system_{n}_lining" for n in FURTHER}
BATCH_READS = (
    *(f"drums.{name}" for name in FED_COLUMNS),
    *(f"readings.{name}" for name in (*WHEN, "phase", "event", "place")),
    *("areas.surface", "areas.system", "work_date", *SYSTEMS.values()),
)
# A drum that is on for longer, in days, was surely not.
LONGEST_ON = 0.75
RESIN_UNSTIRRED = "resin that settled sprays off its ratio"


class Lasting(NamedTuple):
    """How long the drum of a side lasts."""

    lasting_side: Any
    lasting_left: Any
    lasting_rate: Any
    lasting_until: Any
    lasting_words: Any


class Sprayed(NamedTuple):
    """From which drums a surface was sprayed."""

    batch_place: Any
    batch_day: Any
    batch_from: Any
    batch_to: Any
    batch_iso: Any
    batch_resin: Any


def ledger(reader: Reader) -> list[Lasting]:
    """Rows of (side, left, rate, until, words); a verdict beside each drum."""
    drums = reader.rows("drums", DRUM_COLUMNS)
    values = {name: reader.cell(name) for name in LASTING_READS if "." not in name}
    components = reader.column("order", "component")
    held = dict(zip(components, reader.cells("order", "drum_volume")))
    residues = dict(zip(components, reader.cells("order", "residue")))
    readings = reader.rows("readings", LASTING_COLUMNS)
    first_day = values["work_date"].si
    times = moments(None, readings, first_day)
    days = work_days(readings, times, first_day)
    fed = _times(drums, times, days)
    verdicts = []
    for drum, one in zip(drums, fed):
        issues = _issues(one, values, held, fed)
        for at, words in issues:
            reader.warn("drum", at, words)
        told = [with_capital(words) for _, words in issues]
        waiting = waits_for(*drum.values())
        if waiting:
            told.append(f"Not fully judged: see {', '.join(waiting.roots[:4])}")
        if not told and drum["expiry"].si is None:
            told = [f"{NOTHING}; no date to use it before"]
        verdicts.append(". ".join(told or [NOTHING]))
        _refuse_more_than_full(reader, drum, held.get(str(drum["holds"].si)))
    reader.give("drums.verdict", verdicts)
    found = []
    # What was drawn on a day before says nothing of today's rate.
    last = (days[-1].of(readings), days[-1].of(times)) if days else ([], [])
    for side, component in zip(LINING, FED[days[-1].lining] if days else ()):
        if component in residues and residues[component].si is not None:
            residue, pause = residues[component].si, values["next_break"]
            row = _lasting(*last, side, component, residue, pause)
            found += [row] if row else []
    return found


def _refuse_more_than_full(reader: Reader, drum: dict[str, Value], full: Value | None) -> None:
    """One drum can't give more than it held: what rests on it has to wait."""
    drawn = drum["drawn"]
    if full is None or full.si is None or drawn.si is None:
        return
    if drawn.si > full.si * (1 + SLACK):
        found = f"drawn from this drum are {rounded(drawn.si, drawn)}"
        expected = f"a full one holds {rounded(full.si, drawn)}"
        mend = "look at its weights and levels, or give the second drum a row of its own"
        reader.refuse("impossible", drum["drum_number"], sentence(found, expected, mend))


Issue = tuple[Value, str]


class Fed(NamedTuple):
    """A drum, and when it was on and off, in days since the midnight that moments count from."""

    drum: Row
    start: float | None
    end: float | None
    # The day that stands in its row or above it.
    day: float | None


def _issues(
    one: Fed, values: dict[str, Value], held: dict[str, Value], fed: list[Fed]
) -> list[Issue]:
    issues: list[Issue] = []
    drum, start, end, on_day = one
    number, side = drum["drum_number"], drum["holds"].si
    twin = next(other.drum for other in fed if other.drum["drum_number"].si == number.si)
    if number.si and twin is not drum:
        where = twin["drum_number"].where
        issues.append((number, f"drum {number.si} stands here a second time; the first is {where}"))
    day, expiry = values["work_date"].si if on_day is None else on_day, drum["expiry"].si
    if on_day is None and day is not None and start is not None:
        day += math.floor(start)
    if day is not None and expiry is not None and expiry < day:
        late = "1 day" if day - expiry == 1 else f"{day - expiry:.0f} days"
        late += " past its date on the day that it was on"
        issues.append((drum["expiry"], f"{late}: ask the supplier before it is used"))
    stirred, planned = drum["stirred"], STIRRED.get(str(side))
    wanted = values[planned] if planned else None
    if wanted is not None and wanted.si:
        if stirred.si is None and drum["on_at"].si is not None and not stirred.refused:
            issues.append(
                (stirred, f"no stirring noted, {said(wanted)} planned; {RESIN_UNSTIRRED}")
            )
        elif stirred.si is not None and stirred.si < wanted.si * (1 - 1e-9):
            found = f"stirred {said(stirred)}, {said(wanted)} planned"
            issues.append((stirred, f"{found}; {RESIN_UNSTIRRED}"))
    if side is not None and side.endswith("iso") and stirred.si:
        issues.append((stirred, "iso was stirred: look for moisture, never in an open drum"))
    on, off = drum["on_at"], drum["off_at"]
    if on.si is None and off.si is not None and not on.refused:
        issues.append((on, "taken off without a time when it was put on"))
    issues += _at_once(one, fed)
    if start is not None and end is not None and not 0 <= end - start <= _longest(drum):
        words = f"taken off before it was put on, or {abs(end - start) * 24:.0f} h later"
        issues.append((off, words))
    if off.si is not None and drum["drawn"].si is None and not drum["drawn"].refused:
        issues.append((off, "taken off, but neither its weights nor its levels say what was drawn"))
    opening, full = drum["opening_level"], held.get(str(side))
    if full is not None and full.si is not None:
        for what, amount in (("it held", opening), ("drawn from it are", drum["drawn"])):
            if amount.si is not None and amount.si > full.si * (1 + SLACK):
                words = f"{what} {rounded(amount.si, amount)}, a full drum holds "
                issues.append((opening, words + rounded(full.si, amount)))
    return issues


def _longest(drum: Row) -> float:
    """How long a drum may be on, in days: where its day of removal is typed, as long as it says."""
    return LONGEST_ON if drum["off_date"].si is None else math.inf


def _at_once(one: Fed, fed: list[Fed]) -> list[Issue]:
    """What is odd about a drum and the next one of its side."""
    drum, start, end, _ = one
    if start is None:
        return []
    for other in fed:
        later, number = other.start, other.drum["drum_number"].si
        if other is one or other.drum["holds"].si != drum["holds"].si or later is None:
            continue
        if later > start and end is None:
            words = f"no time when it was taken off, but drum {number} was put on"
            return [(drum["off_at"], f"{words} at {clock(later % 1)}")]
        if start <= later and end is not None and later < end:
            words = f"still on when drum {number} was put on: one drum feeds a side"
            return [(drum["off_at"], words)]
    return []


def _times(drums: list[Row], times: list[float | None], days: list[WorkDay]) -> list[Fed]:
    """When each drum was on and off, in days since the midnight that moments count from.

    A day holds for the drums below it; without any a time of day far before the first reading
    is that of the next day. A drum is taken off on the day that it was put on, or in the night
    behind it, unless its day of removal is typed.
    """
    known = [time for time in times if time is not None]
    first = known[0] / DAY if known else None
    origin = next((d.date - d.midnight / DAY for d in days if d.date is not None), None)
    found: list[Fed] = []
    date: float | None = None
    for drum in drums:
        date = _whole(drum["on_date"].si, date)
        origin = date if origin is None else origin
        on = _counted(drum["on_at"].si, date, origin, first)
        off = _counted(drum["off_at"].si, _whole(drum["off_date"].si, date), origin, first)
        if on is not None and off is not None and off < on and drum["off_date"].si is None:
            off += 1
        found.append(Fed(drum, on, off, date))
    return found


def _whole(day: float | None, above: float | None) -> float | None:
    return above if day is None else float(math.floor(day))


def _counted(
    share: float | None, date: float | None, origin: float | None, first: float | None
) -> float | None:
    if share is None:
        return None
    if date is not None and origin is not None:
        return share + date - origin
    return share + 1 if first is not None and share < first - 0.5 else share


def _lasting(
    rows: list[dict[str, Value]],
    times: list[float | None],
    side: str,
    component: str,
    residue: float,
    pause: Value,
) -> Lasting | None:
    """How long the drum of a side lasts, at the rate since its last change."""
    levels: list[tuple[float, float]] = []
    like: Value | None = None
    for row, now in zip(rows, times):
        event = str(row["event"].si or "")
        if event == LEVEL_SET or changes_drum(event, side):
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
    usable = max(0.0, left - residue)
    until = now + usable / rate
    words = f"{with_capital(component)}: {rounded(left, like)} left at {clock(now / DAY % 1)}, "
    words += f"{rounded(residue, like)} of it stay; at this rate it lasts until about "
    words += f"{clock(until / DAY % 1)}"
    if pause.si is not None:
        stop = pause.si * DAY + now // DAY * DAY
        # A break long over is that of the next day.
        stop += DAY if now - stop > DAY / 2 else 0.0
        at = clock(pause.si)
        if until < stop:
            words += f", before the break at {at}: have the next one warm"
            words += " and stirred" if side == "resin" else ", its dryer ready"
        elif stop >= now:
            words += f", past the break at {at}"
    return Lasting(component, left, rate, until / DAY % 1, words + ".")


@dataclass
class Stretch:
    """One surface, from its first reading to the last before the next one."""

    place: str
    start: float
    end: float


def batches(reader: Reader) -> list[Sprayed]:
    """Rows of (surface, day, from, to, iso drums, resin drums)."""
    drums = reader.rows("drums", FED_COLUMNS)
    rows = reader.rows("readings", (*WHEN, "phase", "event", "place"))
    first_day = reader.value("work_date")
    times = moments(None, rows, first_day)
    days = work_days(rows, times, first_day)
    _tell_places(reader, rows, days)
    if not drums:
        return []
    fed = _times(drums, times, days)
    found = []
    for day in days:
        for stretch in _stretches(day.of(rows), day.of(times)):
            told = [_told(fed, component, stretch) for component in FED[day.lining]]
            ends = (stretch.start / DAY % 1, stretch.end / DAY % 1)
            found.append(Sprayed(stretch.place, day.date, *ends, *told))
    if not found:
        told = [_told(fed, side, None) for side in LINING]
        nothing = "The day, no surface noted on Readings"
        found.append(Sprayed(nothing, None, None, None, *told))
    return found


def is_coat(row: Row) -> bool:
    """Whether a row says that a coat of its own went on the surface that it names."""
    return row["event"].si in COAT_EVENTS


def _tell_places(reader: Reader, rows: list[Row], days: list[WorkDay]) -> None:
    """Surfaces that Areas does not have, or on which another lining belongs."""
    of_system = {system: reader.value(name) for system, name in SYSTEMS.items()}
    systems = reader.column("areas", "system")
    names = map(name_key, reader.cells("areas", "surface"))
    known = {name: of_system.get(system, FIRST_LINING) for name, system in zip(names, systems)}
    told: set[tuple[str, str]] = set()
    for day in days:
        at: Value | None = None
        for row in day.of(rows):
            place = row["place"]
            if place.si is not None and name_key(place) not in known:
                reader.warn("unknown-surface", place, f"Areas has no surface '{place.si}'")
            at = at if place.si is None or is_coat(row) else place
            if at is None or row["phase"].si != "spraying" or row["lining"].refused:
                continue
            wanted, place = known.get(name_key(at)), at
            if wanted not in (None, day.lining) and (str(place.si), day.lining) not in told:
                told.add((str(place.si), day.lining))
                found = f"{place.si} is sprayed while {day.lining} are in the machine"
                expected = f"its system on Job asks for {wanted}"
                mend = "type the lining in the row where it went into the machine"
                reader.warn("other-lining", place, sentence(found, expected, mend))


def _stretches(rows: list[Row], times: list[float | None]) -> list[Stretch]:
    """One for each run of readings on a surface, up to where the spraying of it ended."""
    found: list[Stretch] = []
    place, goes_on = "", False
    for row, now in zip(rows, times):
        # Where a coat of its own went on is not where the gun is.
        typed = "" if is_coat(row) else str(row["place"].si or "").strip()
        moved = bool(typed) and typed.casefold() != place.casefold()
        place = typed if moved else place
        if now is None:
            continue
        if goes_on:
            # What stood above ends with the first row that is something else.
            found[-1].end = now
        spraying = row["phase"].si == "spraying" and bool(place)
        if spraying and (moved or not found or found[-1].place.casefold() != place.casefold()):
            found.append(Stretch(place, now, now))
        goes_on = spraying
    return found


def _told(fed: list[Fed], side: str, stretch: Stretch | None) -> str:
    """The drums of a side that were on during a stretch, with their batches."""
    own = [one for one in fed if one.drum["holds"].si == side]
    if stretch is not None:
        untimed = [one for one in own if one.drum["on_at"].si is None]
        starts = sorted(one.start for one in own if one.start is not None)
        on = [one for one in own if _on(one, stretch, starts)]
        if untimed and len(own) > 1:
            number = untimed[0].drum["drum_number"].si
            return f"not known: 'Connected' of drum {number} is blank"
        own = on or untimed
    if not own:
        return "no drum noted"
    return ", ".join(_named(one.drum) for one in own)


def _on(one: Fed, stretch: Stretch, starts: list[float]) -> bool:
    """Whether a drum was on; without an end it was until the next one of its side."""
    start, end = one.start, one.end
    if start is None:
        return False
    if end is None:
        end = next((later for later in starts if later > start), None)
    return start * DAY <= stretch.end and (end is None or end * DAY >= stretch.start)


def _named(drum: Row) -> str:
    batch = drum["batch"].si
    return f"{drum['drum_number'].si} (batch {batch})" if batch else f"{drum['drum_number'].si}"
