"""Strokes that were use: made while spraying or purging; recirculated ones go back to the drum."""

from __future__ import annotations

from dataclasses import dataclass

from ..engine.evaluate import Value
from .linings import FIRST_LINING
from .moments import in_machine

SPRAYED = "while spraying or purging"


@dataclass
class Strokes:
    """Strokes of some counters over the stretches in which all of them are known."""

    totals: list[float]
    # Whether no counter was set back: then they cover all from the first to the last count.
    whole: bool = True
    stretches: int = 0


def strokes_sprayed(
    rows: list[dict[str, Value]], columns: tuple[str, ...], lining: str = FIRST_LINING
) -> Strokes:
    """Sums of the steps of counters over the stretches in which a lining was used.

    A stretch is use where all its readings before the last are of spraying, or where it ends
    with a purge. One in which a counter falls, because it was set back, counts for nothing.
    """
    found = Strokes([0.0] * len(columns))
    last: list[float] | None = None
    spraying: list[bool] = []
    for row, fed in zip(rows, in_machine(rows)):
        if fed != lining:
            last, spraying = None, []
            continue
        counts = [row[column].si for column in columns]
        if None not in counts:
            purged = row["event"].si == "air purge"
            steps = [now - then for now, then in zip(counts, last or counts)]
            if min(steps) < 0:
                found.whole = False
            elif last is not None and (purged or (spraying and all(spraying))):
                found.totals = [total + step for total, step in zip(found.totals, steps)]
                found.stretches += 1
            last, spraying = counts, []
        spraying.append(row["phase"].si == "spraying")
    return found
