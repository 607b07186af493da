"""Litres used of each side, from the levels on Readings; what each day came to."""

from __future__ import annotations

from dataclasses import dataclass, field
from typing import Any, NamedTuple

from ..core.mix import LINING
from ..engine.evaluate import Reader, Refused, Value, waits_for
from ..problems import sentence
from .linings import FED, named
from .moments import WHEN, WorkDay, in_machine, moments, work_days
from .words import DAY, NOTHING, rounded, said

SOURCE = (
    "Volume balance of the levels; a drum that was changed keeps what Drums says was left in it, "
    "else its residue; a new one is full until its level is typed"
)
# A level that is true from this row on, whatever stood before.
LEVEL_SET = "level set right"
# How far a full drum may be from its printed volume.
SLACK = 0.05

# Days that have a row.
CAPACITY = 60
COLUMNS = (*WHEN, "phase", "event", "verdict", *(f"{side}_left" for side in LINING))
READS = (
    *(f"readings.{name}" for name in COLUMNS),
    "work_date",
    "crew_days.person_time",
    "order.component",
    "order.drum_volume",
    "order.residue",
    "drums.holds",
    "drums.drum_left",
)


class OneDay(NamedTuple):
    """What one day at the machine came to, with one lining."""

    each_date: Any
    each_lining: Any
    each_from: Any
    each_to: Any
    each_readings: Any
    each_found: Any
    each_spraying: Any
    each_iso: Any
    each_resin: Any


def usage(reader: Reader) -> list[OneDay]:
    """A row for each day; the volume used of each side by its levels."""
    rows = reader.rows("readings", COLUMNS)
    linings = in_machine(rows)
    components = reader.column("order", "component")
    drums = dict(zip(components, reader.cells("order", "drum_volume")))
    residues = dict(zip(components, reader.cells("order", "residue")))
    # What was used up to each row, by its number; of one lining at a time.
    after: dict[str, dict[int, float]] = {side: {} for side in LINING}
    closed = list(zip(reader.column("drums", "holds"), reader.cells("drums", "drum_left")))
    # What was in the machine below a word that was refused is not known.
    lost = waits_for(*(row["lining"] for row in rows))
    for lining, fed in FED.items():
        own = [index for index, there in enumerate(linings) if there == lining]
        typed = [rows[index]["event"] for index in own]
        for side, component in zip(LINING, fed):
            left = [value for holds, value in closed if holds == component]
            held = drums.get(component), residues.get(component)
            levels = [rows[index][f"{side}_left"] for index in own]
            tally = _from_levels(reader, component, typed, levels, held, left)
            # An event that was refused may have been a drum change.
            used = (
                lost or waits_for(*typed) or (tally.result() if isinstance(tally, Tally) else tally)
            )
            reader.give(named(f"{side}_levels", lining), used)
            if isinstance(tally, Tally) and isinstance(used, float):
                after[side].update(zip(own, tally.after))
    worked = reader.cells("crew_days", "person_time")
    known = [cell.si for cell in worked if cell.si is not None]
    total = sum(known) if known and len(known) == len(worked) else None
    reader.give("hours_worked", waits_for(*worked) or total)
    return _each(reader, rows, after)


def _each(
    reader: Reader, rows: list[dict[str, Value]], after: dict[str, dict[int, float]]
) -> list[OneDay]:
    first_day = reader.value("work_date")
    times = moments(None, rows, first_day)
    read = {
        side: [index for index, row in enumerate(rows) if row[f"{side}_left"].si is not None]
        for side in LINING
    }
    return [
        OneDay(
            day.date,
            day.lining,
            *_ends(day, times),
            len(day.rows),
            sum(not str(rows[index]["verdict"].si).startswith(NOTHING) for index in day.rows),
            _spraying(day, rows, times),
            *(_of_day(after[side], read[side], day) for side in LINING),
        )
        for day in work_days(rows, times, first_day)
    ]


def _ends(day: WorkDay, times: list[float | None]) -> tuple[float | None, float | None]:
    """The times of day of its first and its last reading."""
    known = [now for now in (times[index] for index in day.rows) if now is not None]
    return (known[0] / DAY % 1, known[-1] / DAY % 1) if known else (None, None)


def _spraying(
    day: WorkDay, rows: list[dict[str, Value]], times: list[float | None]
) -> float | None:
    """How long it was sprayed: from each reading of spraying to the next one of the day."""
    spans: list[float] = []
    since: float | None = None
    for row, now in ((rows[index], times[index]) for index in day.rows):
        if now is not None:
            spans += [] if since is None else [now - since]
            since = now if row["phase"].si == "spraying" else None
    return sum(spans) if spans else None


def _of_day(after: dict[int, float], read: list[int], day: WorkDay) -> float | None:
    """What was used from its first level to its last; None where it has no two."""
    own = [index for index in read if index in day.rows and index in after]
    return after[own[-1]] - after[own[0]] if len(own) > 1 else None


def _from_levels(
    reader: Reader,
    side: str,
    typed: list[Value],
    levels: list[Value],
    held: tuple[Value | None, Value | None],
    left: list[Value],
) -> Tally | Refused | None:
    """The levels of one component, with what its drum holds and what stays in it."""
    drum, residue = held
    if drum is None or residue is None:
        return None
    events = [str(event.si or "") for event in typed]
    # What was left in a drum counts only where that drum was changed.
    emptied = left[: sum(changes_drum(event, side) for event in events)]
    waiting = waits_for(drum, residue, *levels, *emptied)
    if waiting or drum.si is None or residue.si is None:
        return waiting
    tally = Tally(reader, side, drum.si)
    changes = 0
    for event, level in zip(events, levels):
        changed = changes_drum(event, side)
        if changed:
            # The drums stand in the order in which they were on.
            known = left[changes].si if changes < len(left) else None
            tally.change(residue.si if known is None else known)
            changes += 1
        if level.si is not None:
            tally.read(level, changed, event == LEVEL_SET)
        tally.after.append(tally.used)
    return tally


def levels_begin_anew(event: str) -> bool:
    """Whether levels are not counted on from the rows before."""
    return event.startswith("drum change") or event == LEVEL_SET


def changes_drum(event: str, side: str) -> bool:
    """Whether an event is a drum change of this side, or of what feeds it."""
    return event.startswith("drum change") and event.endswith((side.rsplit(maxsplit=1)[-1], "both"))


@dataclass
class Tally:
    """Volume drawn from the drums of one side, level by level."""

    reader: Reader
    side: str
    drum: float
    used: float = 0.0
    last: float | None = None
    # Level of the old drum while that of the new one is not known.
    old: float | None = None
    known: int = 0
    forgotten: Value | None = None
    # What was used up to each row.
    after: list[float] = field(default_factory=list)
    refused: Refused | None = None

    def change(self, remaining: float) -> None:
        """So much stays in the old drum; the new one is full until its level is typed."""
        if self.last is not None:
            self.used += max(0.0, self.last - remaining)
        self.old = self.last if self.last is not None else 0.0
        self.last, self.forgotten = self.drum, None
        self.known += 1

    def read(self, level: Value, changed: bool, set_right: bool) -> None:
        """A level that was typed."""
        if level.si > self.drum * (1 + SLACK):
            found = f"{level.label} is {said(level)}"
            text = sentence(found, f"a full drum holds {rounded(self.drum, level)}")
            self.refused = self.reader.refuse("bad-reading", level, text)
            return
        # A counter that goes on below the old drum's level was not set right; a drum that was
        # changed while more than half full may well be followed by a lower level.
        goes_on = self.old is not None and level.si <= self.old <= self.drum / 2
        if goes_on and not changed and not set_right:
            if self.forgotten is None:
                self._tell_forgotten(level)
            self.forgotten = level
            return
        self.known += 1
        if changed:
            self._tell_short(level)
        elif self.last is not None and level.si > self.last and not set_right:
            found = f"{level.label} rises from {said(level, self.last)} to {said(level)}"
            expected = "a level only rises at a drum change"
            text = sentence(found, expected, "type the event in that row")
            self.refused = self.reader.refuse("bad-reading", level, text)
        elif self.last is not None:
            self.used += max(0.0, self.last - level.si)
        self.last, self.old, self.forgotten = level.si, None, None

    def _tell_forgotten(self, level: Value) -> None:
        found = f"{level.label} is {said(level)} after a drum change"
        expected = f"a new drum holds {rounded(self.drum, level)}: its level was not set right"
        mend = f"type the true level in a row with the event {LEVEL_SET}"
        self.reader.warn("level-not-set", level, sentence(found, expected, mend))

    def _tell_short(self, level: Value) -> None:
        if level.si < self.drum * (1 - SLACK):
            found = f"the new {self.side} drum starts at {said(level)}"
            full, missing = rounded(self.drum, level), rounded(self.drum - level.si, level)
            self.reader.warn(
                "short-drum",
                level,
                sentence(found, f"a full one holds {full}: it is {missing} short"),
            )

    def result(self) -> float | Refused | None:
        """The volume; `Refused` where a level cannot be true, None where nothing was told."""
        if self.refused:
            return self.refused
        if self.forgotten:
            where = self.forgotten.where
            why = f"not computed: the {self.side} level was not set right after a drum change, "
            return Refused((where,), f"{why}see {where}")
        return self.used if self.known > 1 else None
