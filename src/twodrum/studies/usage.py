"""Litres used: weighed where that was typed, else from the levels on Readings."""

from __future__ import annotations

from typing import Any

from ..core.mix import LINING
from ..evaluate import Reader, Refused, Value, waits_for
from ..problems import sentence
from .words import rounded, said

SOURCE = (
    "Volume balance of the levels; a drum that was changed is counted as emptied to its heel, a "
    "new one as full until its level is typed"
)
SHORT_SHARE = 0.05

READS = (
    "readings.event",
    "iso_weighed",
    "resin_weighed",
    *(f"readings.{side}_left" for side in LINING),
    "order.component",
    "order.drum_volume",
    "order.heel_volume",
)


def usage(reader: Reader) -> list[tuple[Any, ...]]:
    """No rows; the volume used of each side."""
    events = [str(event.si or "") for event in reader.cells("readings", "event")]
    components = reader.column("order", "component")
    drums = dict(zip(components, reader.cells("order", "drum_volume")))
    heels = dict(zip(components, reader.cells("order", "heel_volume")))
    for side in LINING:
        levels = reader.cells("readings", f"{side}_left")
        drum, heel = drums[side], heels[side]
        weighed = reader.cell(f"{side}_weighed")
        used = _from_levels(reader, side, events, levels, drum, heel)
        if weighed.refused:
            used = waits_for(weighed)
        elif weighed.si is not None:
            used = weighed.si
        reader.give(f"{side}_used", used)
    return []


def _from_levels(
    reader: Reader, side: str, events: list[str], levels: list[Value], drum: Value, heel: Value
) -> float | Refused | None:
    waiting = waits_for(drum, heel, *levels)
    if waiting or drum.si is None or heel.si is None:
        return waiting
    used, last, unset = 0.0, None, None
    refused: Refused | None = None
    forgotten = False
    for event, level in zip(events, levels):
        changed = event.startswith("drum change") and event.endswith((side, "both"))
        if changed:
            used += max(0.0, last - heel.si) if last is not None else 0.0
            unset = last if last is not None else 0.0
            last = drum.si
            forgotten = False
        if level.si is None:
            continue
        if unset is not None:
            if level.si <= unset:
                if not forgotten:
                    found = f"{level.label} is {said(level)} after a drum change"
                    expected = (
                        f"a new drum holds {rounded(drum.si, level)}: its level was not reset"
                    )
                    mend = "type the true level in a row with the event level reset"
                    reader.warn(level, sentence(found, expected, mend))
                forgotten = True
                continue
            if changed and level.si < drum.si * (1 - SHORT_SHARE):
                missing = rounded(drum.si - level.si, level)
                found = f"the new {side} drum starts at {said(level)}"
                full = rounded(drum.si, level)
                text = sentence(found, f"a full one holds {full}: it is {missing} short")
                reader.warn(level, text)
                last = level.si
            elif changed:
                last = level.si
            unset, forgotten = None, False
        if last is not None and level.si > last and event != "level reset" and not changed:
            found = f"{level.label} rises from {said(level, last)} to {said(level)}"
            expected = "a level only rises at a drum change"
            refused = reader.refuse(level, sentence(found, expected, "type the event in that row"))
        elif last is not None and event != "level reset":
            used += last - level.si
        elif last is not None:
            used += max(0.0, last - level.si)
        last = level.si
    if refused:
        return refused
    if forgotten:
        at = next(level for level in reversed(levels) if level.si is not None)
        why = f"not computed: the {side} level was not reset after a drum change, see {at.where}"
        return Refused((at.where,), why)
    known = sum(level.si is not None for level in levels)
    return used if known > 1 or unset is not None else None
