"""Litres used, by everything that tells of them: taken together, and whether it agrees."""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import Any, NamedTuple

from ..core.density import density_at_temperature
from ..core.mix import LINING
from ..core.reconcile import Combined, combined
from ..engine.evaluate import Reader, Refused, Value, waits_for
from ..problems import sentence
from .linings import FIRST_LINING, named, of_lining
from .mix import OWN_DRIVES
from .moments import fed_with
from .strokes import SPRAYED, strokes_sprayed
from .usage import changes_drum
from .used_uncertainty import DRUMS, NEEDS, NEEDS_OF_SIDE, REACH, used_uncertainty
from .words import rounded, said

SOURCE = (
    "Mean weighted by inverse variances, chi-square test of agreement, Birge ratio where it "
    "fails; JCGM 100 for the uncertainty of each"
)
CAPACITY = 10
# What disagrees by more than chance would in so many cases of 100 is told.
CHANCE = 0.05
BY_SCALE, BY_LEVELS = "Scale or drums", "Levels on Readings"
BY_STROKES, BY_PURCHASE = "Strokes " + SPRAYED, "Drums taken and brought back"
TOGETHER = "all together"
ALONE = "One source only; weigh, count strokes or keep the papers of the drums."

READINGS = (
    *("lining", "phase", "event", "strokes", "resin_strokes"),
    *(f"{side}_drum" for side in LINING),
)
OF_SIDE = (
    *("scaled", "levels", "measured", "taken", "returned", "drum_volume", "ratio"),
    *("thermal_expansion", "density_temperature"),
)
# What the uncertainty of either side follows from.
SHARED = (
    *NEEDS,
    *("stroke_volume", "resin_stroke_volume", "pump_drive", "readings_whole"),
    *("taken_uncertainty", "stroke_uncertainty", "density_uncertainty"),
)
SINGLES = (
    *(f"{side}_{name}" for side in LINING for name in (*NEEDS_OF_SIDE, *OF_SIDE)),
    *SHARED,
)
READS = (
    *(f"readings.{name}" for name in READINGS),
    *(f"drums.{name}" for name in DRUMS),
    *("second_volume", *(f"second_{side}_measured" for side in LINING)),
    *(named(name, FIRST_LINING) for name in SINGLES),
)


class Source(NamedTuple):
    """What one source says of the volume used."""

    evidence_source: Any
    evidence_volume: Any
    evidence_uncertainty: Any
    evidence_weight: Any
    evidence_words: Any


@dataclass(frozen=True)
class Told:
    """What one source says of a side: volume and its standard uncertainty."""

    source: str
    volume: float
    uncertainty: float


def evidence(reader: Reader) -> list[Source]:
    """Rows of (source, volume, known to within, counts for, words), iso before resin.

    What was used of a second lining is told by its drums, else by the levels.
    """
    values = {name: reader.cell(name) for name in READS if "." not in name}
    reader.give("second_used", _of_second(values))
    values = of_lining(values, SINGLES, FIRST_LINING)
    rows = reader.rows("readings", READINGS)
    first = fed_with(rows, FIRST_LINING)
    drums = list(zip(*(reader.column("drums", name) for name in DRUMS)))
    table: list[Source] = []
    for side in LINING:
        needed = [values[f"{side}_{name}"] for name in ("scaled", "levels", "taken", "returned")]
        refused = waits_for(*needed, *(values[name] for name in SHARED)) or _more_came_back(
            reader, side, values
        )
        found = [] if refused else _told(side, values, rows, first, drums)
        if refused or not found:
            reader.give(f"{side}_combined", refused)
            reader.give(f"{side}_uncertainty", refused)
            continue
        together, agree, words = _together(reader, side, found, values)
        reader.give(f"{side}_combined", together.volume)
        reader.give(f"{side}_uncertainty", together.uncertainty * REACH)
        weights = [1 / told.uncertainty**2 for told in found] if agree else [1.0] + [0.0] * 3
        name = side.capitalize()
        for told, weight in zip(found, weights):
            counts = weight / math.fsum(weights)
            row = Source(
                f"{name}: {told.source.lower()}", told.volume, told.uncertainty * REACH, counts, ""
            )
            table.append(row)
        last = Source(
            f"{name}, all together", together.volume, together.uncertainty * REACH, None, words
        )
        table.append(last)
    return table


def _of_second(values: dict[str, Value]) -> Any:
    """Litres drawn of a second lining; none without one, blank while they are not known."""
    asked = values["second_volume"]
    sides = [values[f"second_{side}_measured"] for side in LINING]
    waiting = waits_for(asked, *sides)
    if waiting or None not in [side.si for side in sides]:
        return waiting or math.fsum(side.si for side in sides)
    # One side alone tells half of it.
    return 0.0 if asked.si == 0 and all(side.si is None for side in sides) else None


def _more_came_back(reader: Reader, side: str, values: dict[str, Value]) -> Refused | None:
    taken, returned = values[f"{side}_taken"], values[f"{side}_returned"]
    if returned.si is None:
        return None
    if taken.si is None:
        text = sentence(f"{returned.label} is {said(returned)}", f"{taken.label} is blank: type it")
        return reader.refuse("missing", returned, text)
    if returned.si <= taken.si:
        return None
    found = f"{returned.label} is {said(returned)}"
    expected = f"it must be at most {taken.label}, {rounded(taken.si, returned)}"
    return reader.refuse("impossible", returned, sentence(found, expected))


def _told(
    side: str,
    values: dict[str, Value],
    rows: list[dict[str, Value]],
    first: list[dict[str, Value]],
    drums: list[tuple[Any, ...]],
) -> list[Told]:
    found = []
    scaled = values[f"{side}_scaled"].si
    uncertainty = used_uncertainty(drums, values, side, values["density_uncertainty"].si or 0.0)
    if scaled is not None and uncertainty:
        found.append(Told(BY_SCALE, scaled, uncertainty))
    whole = values["readings_whole"].si != "no" or scaled is None
    warm = _warm(side, values, first)
    levels, level_uncertainty = values[f"{side}_levels"].si, values["level_uncertainty"].si
    if levels is not None and level_uncertainty and whole:
        # A drum that was changed counts as emptied and full.
        changes = sum(changes_drum(str(row["event"].si or ""), side) for row in first)
        full = (values[f"{side}_drum_volume"].si or 0.0) * (values["taken_uncertainty"].si or 0.0)
        uncertainty = math.hypot(level_uncertainty * math.sqrt(2), full * math.sqrt(2 * changes))
        found.append(Told(BY_LEVELS, levels * warm, uncertainty))
    counted = _by_strokes(side, values, rows)
    if counted is not None and whole:
        volume, uncertainty = counted
        found.append(Told(BY_STROKES, volume * warm, uncertainty))
    taken, returned = values[f"{side}_taken"].si, values[f"{side}_returned"].si
    taken_uncertainty = values["taken_uncertainty"].si
    # Until it is typed what came back, nothing is known of what stayed.
    if taken and taken_uncertainty and returned is not None and taken > returned:
        found.append(Told(BY_PURCHASE, taken - returned, taken * taken_uncertainty))
    return found


def _warm(side: str, values: dict[str, Value], rows: list[dict[str, Value]]) -> float:
    """What a volume at the drum's temperature is at that of the density."""
    expansion = values[f"{side}_thermal_expansion"].si
    cold = values[f"{side}_density_temperature"].si
    known = [row[f"{side}_drum"].si for row in rows if row[f"{side}_drum"].si is not None]
    spraying = [
        row[f"{side}_drum"].si
        for row in rows
        if row[f"{side}_drum"].si is not None and row["phase"].si == "spraying"
    ]
    if not known or expansion is None or cold is None:
        return 1.0
    drum = math.fsum(spraying) / len(spraying) if spraying else known[-1]
    return density_at_temperature(1.0, expansion, drum, cold)


def _by_strokes(
    side: str, values: dict[str, Value], rows: list[dict[str, Value]]
) -> tuple[float, float] | None:
    """Volume and uncertainty by the strokes that were use; None where they do not tell of all."""
    is_iso = side == LINING[0]
    stroke = values["stroke_volume" if is_iso else "resin_stroke_volume"]
    volume, share = stroke.si, values["stroke_uncertainty"].si
    if volume is None or share is None:
        return None
    own = values["pump_drive"].si == OWN_DRIVES and not is_iso
    unequal = values["iso_ratio"].si != values["resin_ratio"].si
    if not own and not is_iso and unequal and stroke.assumed:
        # Pumps of other sizes on one drive, and that of resin is not typed.
        return None
    counted = strokes_sprayed(rows, ("resin_strokes" if own else "strokes",))
    count = counted.totals[0]
    if not count or not counted.whole:
        return None
    used = count * volume
    return used, math.hypot(used * share, volume * math.sqrt(counted.stretches))


def _together(
    reader: Reader, side: str, found: list[Told], values: dict[str, Value]
) -> tuple[Told, bool, str]:
    """All that tells of a side taken together, whether it agrees, and what to say of that."""
    if len(found) == 1:
        return found[0], True, ALONE
    result = combined([told.volume for told in found], [told.uncertainty for told in found])
    at = values[f"{side}_measured"]
    if result.probability >= CHANCE:
        return Told(TOGETHER, result.value, result.uncertainty), True, "What tells of it agrees."
    told = _apart(found, result, at)
    reader.warn(
        "disagree", at, sentence(f"what tells of the {side} used does not agree", told, MEND)
    )
    # A part of the day does not pull what was weighed: the first source counts.
    uncertainty = max(found[0].uncertainty, result.uncertainty * result.birge_ratio)
    words = f"Does not agree: {told}; {found[0].source.lower()} counts."
    return Told(TOGETHER, found[0].volume, uncertainty), False, words


MEND = "look there first; where readings are of a part of the job, say so on Job"


def _apart(found: list[Told], result: Combined, like: Value) -> str:
    if len(found) == 2:
        both = " and ".join(f"{one.source} {rounded(one.volume, like)}" for one in found)
        return f"{both} stand too far apart for their uncertainty, a third source would tell which"
    outlier = found[result.outlier]
    others = [one for one in found if one is not outlier]
    rest = (
        combined([one.volume for one in others], [one.uncertainty for one in others]).value
        if len(others) > 1
        else others[0].volume
    )
    way = "above" if outlier.volume > rest else "below"
    told = f"{outlier.source}, {rounded(outlier.volume, like)}, stands"
    return f"{told} {rounded(abs(outlier.volume - rest), like)} {way} the others"
