"""Strokes that were use: made while spraying or purging; recirculated ones go back to the drum."""

from __future__ import annotations

from ..evaluate import Value

SPRAYED = "while spraying or purging"


def strokes_sprayed(rows: list[dict[str, Value]], column: str) -> float | None:
    """Sum of the steps of a counter over the stretches that were use; None where unknown.

    A stretch is use where all its readings before the last are of spraying, or where it ends
    with a purge. A counter that falls was set back: that stretch counts for nothing.
    """
    total: float | None = None
    last: float | None = None
    spraying: list[bool] = []
    for row in rows:
        count = row[column].si
        if count is not None:
            purged = row["event"].si == "air purge"
            if last is not None and count >= last and (purged or (spraying and all(spraying))):
                total = (total or 0.0) + count - last
            last, spraying = count, []
        spraying.append(row["phase"].si == "spraying")
    return total
