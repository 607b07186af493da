"""Drums of a month by batch: what they held when new, what was drawn, what is left."""

from __future__ import annotations

import math
from dataclasses import dataclass, field
from typing import Any, NamedTuple

from ..core.ledger import drum_content
from ..core.mix import LINING, SECOND
from ..engine.evaluate import Value, Values
from ..studies.month_findings import NO_BATCH
from .month_row import known, rounded

# A drum that held less than this share of what is printed on it was not new.
NEW_FROM = 0.9


@dataclass
class Drum:
    """What is known of one drum over all the jobs that had it."""

    batch: str
    holds: str
    held: float | None = None
    printed: float | None = None
    drawn: float = 0.0
    left: float | None = None
    expiry: float | None = None
    last_job: str = ""
    last_day: float = -math.inf
    first_day: float = math.inf


class Seen(NamedTuple):
    """One row of Drums, as a month needs it."""

    holds: str
    number: str
    batch: str
    drawn: float
    expiry: float | None
    # What it held when it was put on, what is printed on it, what is left above the residue.
    held: float | None
    printed: float | None
    left: float | None


def drums_seen(values: Values) -> tuple[Seen, ...]:
    """The drums that a job tells of by what they hold and their number."""
    rows = values.tables["drums"].rows if "drums" in values.tables else ()
    found = []
    for row in rows:
        holds, number = known(row["holds"]), known(row["drum_number"])
        if holds is None or number is None:
            continue
        left = known(row["drum_left"])
        residue = _of_component(values, str(holds), "residue") or 0.0
        found.append(
            Seen(
                str(holds),
                str(number),
                str(known(row["batch"]) or ""),
                known(row["drawn"]) or 0.0,
                known(row["expiry"]),
                _opening(row, values),
                _of_component(values, str(holds), "drum_volume"),
                None if left is None else max(0.0, left - residue),
            )
        )
    return tuple(found)


def _of_component(values: Values, holds: str, name: str) -> float | None:
    """What a job says of the drums of either lining; None for a coat of its own."""
    if holds in LINING:
        return known(values.names[f"{holds}_{name}"])  # type: ignore[no-any-return]
    for row in values.tables["order"].rows if holds in SECOND else ():
        if row["component"].si == holds:
            return known(row[name])  # type: ignore[no-any-return]
    return None


@dataclass
class DrumStock:
    """Every drum that the jobs had, by component, batch and number."""

    drums: dict[tuple[str, str, str], Drum] = field(default_factory=dict)

    def take(self, seen: Seen, job: dict[str, Any]) -> None:
        """What a job says of a drum."""
        # Without a batch the drums of two jobs are not known to be one.
        place = seen.batch.casefold() or job["file"]
        key = (seen.holds, place, seen.number.casefold())
        drum = self.drums.setdefault(key, Drum(seen.batch, seen.holds))
        day = job.get("worked", -math.inf)
        drum.drawn += seen.drawn
        drum.expiry = seen.expiry if drum.expiry is None else drum.expiry
        if day < drum.first_day or drum.held is None:
            drum.first_day = min(day, drum.first_day)
            if seen.held is not None and seen.printed:
                drum.held, drum.printed = seen.held, seen.printed
        if day >= drum.last_day:
            drum.last_day, drum.last_job = day, job.get("job") or job["file"]
            drum.left = seen.left

    def rows(self) -> list[dict[str, Any]]:
        """The drums of each batch together."""
        found: dict[tuple[str, str], list[Drum]] = {}
        for drum in self.drums.values():
            found.setdefault((drum.holds, drum.batch.casefold()), []).append(drum)
        rows = []
        for (holds, _), drums in sorted(found.items()):
            batch = drums[0].batch
            new = [
                d for d in drums if d.held is not None and d.held >= NEW_FROM * (d.printed or 0.0)
            ]
            last = max(drums, key=lambda drum: drum.last_day)
            left = [drum.left for drum in drums if drum.left is not None]
            row: dict[str, Any] = {
                "batch": batch or NO_BATCH,
                "holds": holds,
                "drum_count": len(drums),
                "held_count": len(new),
                "drawn": math.fsum(drum.drawn for drum in drums),
                "last_job": last.last_job,
            }
            if new:
                row["held"] = math.fsum(drum.held or 0.0 for drum in new)
                row["printed"] = math.fsum(drum.printed or 0.0 for drum in new)
            if left:
                row["left"] = math.fsum(left)
            expiries = [drum.expiry for drum in drums if drum.expiry is not None]
            if expiries:
                row["expiry"] = min(expiries)
            rows.append(rounded(row))
        return rows


def _opening(row: dict[str, Value], values: Values) -> float | None:
    """What a drum held when it was put on, by its weight or its level."""
    weight, density, steel = (
        known(row["opening_weight"]),
        known(row["drum_density"]),
        known(values.names["drum_steel"]),
    )
    if weight is not None and density and steel is not None and weight > steel:
        return drum_content(weight, steel, density)
    level = known(row["opening_level"])
    return None if level is None else float(level)
