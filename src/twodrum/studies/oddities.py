"""Readings that look mistyped or missing: gaps, stuck gauges, swapped sides, another unit."""

from __future__ import annotations

from dataclasses import dataclass, field

from ..core.mix import LINING, OTHER_SIDE
from ..engine.evaluate import Value
from ..units import KINDS, UNIT_TABLE, from_si
from .words import said

# Longer than this between two readings of one stretch of spraying is told.
LONGEST_GAP = 1.5 * 3600.0
# So many equal readings of a gauge, while the temperature moves so far, are no gauge that works.
STUCK = 4
MOVED = 3.0
# Swapped sides: they fit so much better the other way round, and stand so far apart.
BETTER = 0.25
APART = {"pressure": 5e5, "temperature": 4.0}
# Another unit: the number fits the row before so well in it, and so badly as it is.
FITS, OFF = 0.1, 0.5
NEAR, FAR = 5.0, 15.0
# A digit misread: with another one the number is so near, and as it is so far.
MISREAD_FITS, MISREAD_OFF = 0.03, 0.15


@dataclass(frozen=True)
class Oddity:
    """What looks outlier, where, and a key for runs of it."""

    key: str
    at: Value
    text: str


Row = dict[str, Value]


def oddities(rows: list[Row], times: list[float | None]) -> list[list[Oddity]]:
    """For each row what looks mistyped or missing in it, against the spraying rows before."""
    found: list[list[Oddity]] = []
    standing = {side: Standing() for side in OTHER_SIDE}
    before: int | None = None
    for index, row in enumerate(rows):
        told: list[Oddity] = []
        if row["phase"].si == "spraying" and before is not None:
            other = rows[before]
            told += _swapped(row, other) or _other_unit(row, other)
            told += [] if told else _misread(row, other, rows[index - 1])
            if before == index - 1:
                told += _gap(row, times[before], times[index])
        # What looks wrong is nothing to compare the next row with.
        mistyped = any(one.key.startswith(("swapped", "unit", "misread")) for one in told)
        if row["phase"].si != "spraying":
            standing = {side: Standing() for side in OTHER_SIDE}
        elif not mistyped:
            before = index
            told += _stuck(row, standing)
        found.append(told)
    return found


def _gap(row: Row, then: float | None, now: float | None) -> list[Oddity]:
    if then is None or now is None or now - then <= LONGEST_GAP:
        return []
    words = (
        f"no reading for {(now - then) / 3600:.1f} h before this one: what happened is not known"
    )
    return [Oddity("gap", row["time"], words)]


@dataclass
class Standing:
    """Spraying rows in a row in which one gauge shows one value, and what moves about it."""

    count: int = 0
    shown: float | None = None
    warm: list[float | None] = field(default_factory=list)
    other: list[float | None] = field(default_factory=list)

    def take(self, shown: float | None, warm: float | None, other: float | None) -> None:
        if not shown or shown != self.shown:
            self.count, self.shown, self.warm, self.other = 0, shown or None, [], []
        if not shown:
            return
        self.count += 1
        # Least and most say how far they moved; a blank among them stays.
        self.warm, self.other = _ends([*self.warm, warm]), _ends([*self.other, other])

    @property
    def stuck(self) -> bool:
        """Whether all about it moves: a machine that holds both pressures is no fault."""
        known = [value for value in (*self.warm, *self.other) if value is not None]
        if self.count < STUCK or len(known) < len(self.warm) + len(self.other):
            return False
        warm, other = known[: len(self.warm)], known[len(self.warm) :]
        return max(warm) - min(warm) > MOVED and max(other) > min(other)


def _ends(values: list[float | None]) -> list[float | None]:
    known = [value for value in values if value is not None]
    return [min(known), max(known)] if len(known) == len(values) else [None]


def _stuck(row: Row, standing: dict[str, Standing]) -> list[Oddity]:
    """A gauge that shows one value in the last rows while all about it moves.

    Its side's temperature and the other gauge.
    """
    found = []
    for side, other in OTHER_SIDE.items():
        cell, one = row[f"{side}_pressure"], standing[side]
        one.take(cell.si, row[f"{side}_temperature"].si, row[f"{other}_pressure"].si)
        if one.stuck:
            words = f"{side} pressure stands at {said(cell)} in {one.count} readings while its "
            words += "temperature and the other gauge move: look whether it works"
            found.append(Oddity(f"{side} stuck", cell, words))
    return found


def _swapped(row: Row, other: Row) -> list[Oddity]:
    found = []
    for what, apart in APART.items():
        cells = [row[f"{side}_{what}"] for side in LINING]
        now = [cell.si for cell in cells]
        then = [other[f"{side}_{what}"].si for side in LINING]
        if None in now or None in then or abs(then[0] - then[1]) < apart:
            continue
        as_typed = abs(now[0] - then[0]) + abs(now[1] - then[1])
        other_way = abs(now[0] - then[1]) + abs(now[1] - then[0])
        if other_way < BETTER * as_typed:
            words = f"{what}s of iso and resin look swapped: the row before has them the other "
            words += "way round"
            found.append(Oddity(f"swapped {what}", cells[0], words))
    return found


def _misread(row: Row, other: Row, above: Row) -> list[Oddity]:
    """One digit away from what would fit the row before: 116 for 186."""
    found = []
    for side, across in OTHER_SIDE.items():
        cell, reference = row[f"{side}_pressure"], other[f"{side}_pressure"].si
        now, then = row[f"{across}_pressure"].si, other[f"{across}_pressure"].si
        if not now or not then or abs(now / then - 1) > FITS:
            # Where both moved, a slip of one digit is not what happened.
            continue
        last = above[f"{side}_pressure"].si
        if cell.si is None or not reference or abs(cell.si / reference - 1) < MISREAD_OFF:
            continue
        if last is not None and abs(cell.si - last) < MISREAD_FITS * reference:
            # Read twice so, it is no slip.
            continue
        number = f"{from_si(cell.si, cell.kind, cell.unit):.10g}"
        if not number.isdecimal() or len(number) < 2:
            continue
        add, times = UNIT_TABLE[cell.kind][cell.unit]
        fitting = [
            text
            for place in range(len(number) - 1)
            for text in (number[:place] + digit + number[place + 1 :] for digit in "0123456789")
            if abs((float(text) + add) * times / reference - 1) < MISREAD_FITS
        ]
        if fitting:
            words = f"{side} pressure is {said(cell)}: {fitting[0]} would fit the row before; "
            words += "read it again"
            found.append(Oddity(f"misread {side}", cell, words))
    return found


def _other_unit(row: Row, other: Row) -> list[Oddity]:
    found = []
    for what in APART:
        for side in LINING:
            cell, reference = row[f"{side}_{what}"], other[f"{side}_{what}"].si
            if cell.si is None or reference is None or not reference:
                continue
            number = from_si(cell.si, cell.kind, cell.unit)
            for unit in KINDS[cell.kind].unit_texts:
                add, times = UNIT_TABLE[cell.kind][unit]
                meant = (number + add) * times
                if what == "pressure":
                    fits = abs(meant / reference - 1) < FITS and abs(cell.si / reference - 1) > OFF
                else:
                    fits = abs(meant - reference) < NEAR and abs(cell.si - reference) > FAR
                if fits and unit != cell.unit:
                    words = f"{side} {what} is {said(cell)}: it looks as if it was read in {unit}"
                    found.append(Oddity(f"unit {side} {what}", cell, words))
                    break
    return found
