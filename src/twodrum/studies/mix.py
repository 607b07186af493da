"""The mix of iso and resin, period by period, with what the readings could have shown."""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import Any, NamedTuple

from ..core.mix import LINING
from ..core.ratio import detectable_difference, off_ratio, off_ratio_uncertainty
from ..engine.evaluate import Reader, Value, waits_for
from ..problems import sentence
from .linings import FED, FIRST_LINING, LININGS, SECOND_LINING, of_both, of_lining
from .moments import WHEN, WorkDay, moments, work_days
from .strokes import SPRAYED, strokes_sprayed
from .usage import SLACK, levels_begin_anew
from .used_uncertainty import CONFIDENCE, DRUMS, REACH, Drawn, used_uncertainty
from .words import DAY, clock, in_percent, on_day, rounded

ONE_DRIVE, OWN_DRIVES = "on one drive", "each on its own"
PUMP_DRIVES = (ONE_DRIVE, OWN_DRIVES)
POWER = 0.9
CAPACITY = 40
# Less off its ratio than this is on it, as far as words go.
LEVEL = 0.0005

SOURCE = (
    "Volumes drawn; JCGM 100 for their uncertainty; what could not be shown is the smallest "
    "error that "
    "95 % confidence finds in 9 cases of 10"
)
COLUMNS = (*WHEN, "phase", "event", "iso_left", "resin_left", "strokes", "resin_strokes")
RESULTS = ("iso_compared", "resin_compared", "ratio_uncertainty", "ratio_shown_from")
SINGLES = (
    *(
        f"{side}_{name}"
        for side in LINING
        for name in (
            *("weighed", "ledger", "scaled", "levels", "measured", "ratio"),
            *("drum_volume", "density"),
        )
    ),
    *("level_uncertainty", "scale_uncertainty", "ratio_tolerance", "pump_drive"),
    *("stroke_volume", "resin_stroke_volume"),
    "work_date",
)
READS = (
    *(f"readings.{name}" for name in COLUMNS),
    *(f"drums.{name}" for name in DRUMS),
    *of_both(SINGLES),
)
# Volumes of both sides with their standard uncertainties.
Sides = dict[str, tuple[float, float]]


class Told(NamedTuple):
    """What one way of measuring says of the mix."""

    mix_period: Any
    mix_off: Any
    mix_uncertainty: Any
    mix_least: Any
    mix_words: Any


@dataclass(frozen=True)
class Period:
    """What was drawn between two moments, and how well it is known."""

    words: str
    sides: Sides


def mix(reader: Reader) -> list[Told]:
    """Rows of (period, off the ratio, uncertainty, could not show, words)."""
    both = {name: reader.cell(name) for name in of_both(SINGLES)}
    log = Log(reader, both["work_date"].si)
    in_use = {
        lining
        for lining, components in FED.items()
        if any(day.lining == lining for day in log.days) or log.holds(components)
    }
    found: list[Told] = []
    for lining in LININGS:
        values = of_lining(both, SINGLES, lining)
        told, given = _of_lining(reader, log, values, lining)
        if lining == FIRST_LINING:
            for key, result in given.items():
                reader.give(key, result)
        # Nothing is told of a lining that was never in the machine, unless there was none at all.
        if lining in (in_use or {FIRST_LINING}):
            found += told
    return found


class Log:
    """Readings and drums of all days."""

    def __init__(self, reader: Reader, first_day: float | None) -> None:
        self.rows = reader.rows("readings", COLUMNS)
        self.times = moments(None, self.rows, first_day)
        self.days = work_days(self.rows, self.times, first_day)
        self.cells = reader.cells("drums", "holds")
        columns = [reader.column("drums", name) for name in DRUMS]
        self.drums: list[Drawn] = list(zip(*columns))

    def first(self, lining: str) -> Value:
        """The first cell that says of a lining that it was there."""
        typed = (row["lining"] for row in self.rows if row["lining"].si == lining)
        drums = (cell for cell in self.cells if cell.si in FED[lining])
        return [*typed, *drums][0]

    def holds(self, components: tuple[str, ...]) -> bool:
        """Whether a drum holds one of these."""
        return any(drum[0] in components for drum in self.drums)

    def of(self, lining: str) -> tuple[list[WorkDay], list[dict[str, Value]], list[Drawn]]:
        """Days, readings and drums of a lining, drums by the sides that they feed."""
        days = [day for day in self.days if day.lining == lining]
        rows = [row for day in days for row in day.of(self.rows)]
        sides = dict(zip(FED[lining], LINING))
        drums = [(sides[drum[0]], *drum[1:]) for drum in self.drums if drum[0] in sides]
        return days, rows, drums


def _of_lining(
    reader: Reader, log: Log, values: dict[str, Value], lining: str
) -> tuple[list[Told], dict[str, Any]]:
    """Rows of one lining, and what is compared over all its days."""
    days, rows, drums = log.of(lining)
    count = len({day.midnight for day in days})
    whole = "The day" if count < 2 else f"All {count} days"
    second = "Second lining, " if lining == SECOND_LINING else ""
    whole = f"{second}{whole[0].lower() if second else whole[0]}{whole[1:]}"
    day = _day(whole, drums, values, rows)
    parts = [values[f"{side}_ratio"].si for side in LINING]
    found: list[Told] = []
    waiting = waits_for(*(values[f"{side}_measured"] for side in LINING))
    given: dict[str, Any] = dict.fromkeys(RESULTS, waiting)
    if None not in parts and isinstance(day, Period):
        judged = Judged(day, parts, values)
        given = {
            **{f"{side}_compared": day.sides[side][0] for side in LINING},
            "ratio_uncertainty": judged.uncertainty,
            "ratio_shown_from": judged.least,
        }
        found.append(judged.row())
        if judged.surely_off:
            # What was drawn of a second lining stands on no sheet that people look at.
            at = log.first(lining) if second else values["iso_measured"]
            reader.warn("off-ratio", at, sentence(judged.words, "see Mix; the data sheet decides"))
    elif isinstance(day, str):
        found.append(Told(whole, None, None, None, day))
    if None in parts:
        return [], given
    level_uncertainty = values["level_uncertainty"].si
    untrue = waits_for(*(values[f"{side}_levels"] for side in LINING))
    if untrue:
        # What one level of the day gets wrong, the others of it may too.
        words = f"Not judged: see {', '.join(untrue.roots[:4])}."
        found.append(Told("By levels", None, None, None, words))
        level_uncertainty = None
    for one in days:
        dated = f"{on_day(one.date)}, " if count > 1 and one.date is not None else ""
        own = one.of(log.rows), one.of(log.times)
        for period in _periods(f"{second}{dated}", *own, level_uncertainty):
            found.append(Judged(period, parts, values).row())
    return [*found, *_by_strokes(values, log.rows, parts, lining)], given


class Judged:
    """A period against the ratio of the data sheet."""

    def __init__(self, period: Period, parts: list[float], values: dict[str, Value]) -> None:
        self.period, self.tolerance = period, values["ratio_tolerance"]
        self.like = {side: values[f"{side}_measured"] for side in LINING}
        (iso, iso_uncertainty), (resin, resin_uncertainty) = (period.sides[side] for side in LINING)
        self.off = off_ratio(iso, resin, parts[0], parts[1])
        standard = off_ratio_uncertainty(
            iso, resin, parts[0], parts[1], iso_uncertainty, resin_uncertainty
        )
        self.uncertainty = REACH * standard
        self.least = detectable_difference(standard, CONFIDENCE, POWER)

    @property
    def surely_off(self) -> bool:
        most = self.tolerance.si
        return most is not None and abs(self.off) - self.uncertainty > most

    @property
    def words(self) -> str:
        most, off = self.tolerance.si, abs(self.off)
        way = "above" if self.off >= 0 else "below"
        where = f"{in_percent(off)} {way}" if off >= LEVEL else "at"
        told = f"iso is {where} its ratio, uncertainty ± {in_percent(self.uncertainty)}"
        if most is None:
            return told
        allowed = in_percent(most)
        if self.surely_off:
            return f"off its ratio: {told}; {allowed} are allowed"
        if off > most:
            told += f": more than the {allowed} allowed, but its uncertainty reaches inside"
            return f"{told}; weigh"
        if off + self.uncertainty > most:
            shown = in_percent(self.least)
            return f"{told}: inside {allowed}, not proved; less than {shown} could not show"
        return f"{told}: inside the {allowed} allowed"

    def row(self) -> Told:
        amounts = (
            f"{rounded(self.period.sides[side][0], self.like[side])} of {side}" for side in LINING
        )
        words = f"{' and '.join(amounts)}: {self.words}."
        return Told(self.period.words, self.off, self.uncertainty, self.least, words)


SCALE, BY_LEVELS = "by scale or drums", "by levels"


def _day(
    whole: str, drums: list[Drawn], values: dict[str, Value], rows: list[dict[str, Value]]
) -> Period | str:
    """What was used over all days, or why both sides cannot be held against each other."""
    sources: dict[str, str] = {}
    for side in LINING:
        if values[f"{side}_measured"].refused:
            return f"Not computed: see {', '.join(values[f'{side}_measured'].roots[:4])}."
        if not values[f"{side}_measured"].si:
            return "Not judged: the litres used of both sides are not known."
        scaled = values[f"{side}_scaled"].si is not None
        sources[side] = SCALE if scaled else BY_LEVELS
    if len(set(sources.values())) > 1:
        said = ", ".join(f"{side} {source}" for side, source in sources.items())
        return f"Not judged: {said}; they need not cover the same hours."
    if BY_LEVELS in sources.values():
        # A changed drum counts as emptied and full: too rough for a ratio.
        if any(str(row["event"].si or "").startswith("drum change") for row in rows):
            return "Not judged as a whole: drums were changed, see the periods by levels."
        ends = [[row[f"{side}_left"].si is not None for row in rows] for side in LINING]
        if any(_span(end) != _span(ends[0]) for end in ends):
            return "Not judged: the levels of iso and resin do not cover the same hours."
    held = {side: values[f"{side}_drum_volume"].si for side in LINING}
    for drum in drums:
        full = held.get(drum[0])
        if full and drum[3] is not None and drum[3] > full * (1 + SLACK):
            return "Not judged: more was drawn from a drum than it holds, see Drums."
    sides: Sides = {}
    for side in LINING:
        uncertainty = used_uncertainty(drums, values, side)
        if uncertainty is None:
            return "Not judged: without the density nothing is known of its uncertainty."
        sides[side] = (values[f"{side}_measured"].si, uncertainty)
    return Period(whole, sides)


def _span(known: list[bool]) -> tuple[int, int]:
    """The first and the last row of those that are known."""
    places = [place for place, is_known in enumerate(known) if is_known]
    return (places[0], places[-1]) if places else (-1, -1)


def _periods(
    dated: str,
    rows: list[dict[str, Value]],
    times: list[float | None],
    level_uncertainty: float | None,
) -> list[Period]:
    """Stretches of a day without a drum change in which both levels were read twice."""
    if level_uncertainty is None:
        return []
    found: list[Period] = []
    start: int | None = None
    end: int | None = None

    def close() -> None:
        if start is None or end is None or start == end:
            return
        drops = {
            side: rows[start][f"{side}_left"].si - rows[end][f"{side}_left"].si for side in LINING
        }
        if min(drops.values()) > 0:
            uncertainty = math.sqrt(2) * level_uncertainty
            sides = {side: (drop, uncertainty) for side, drop in drops.items()}
            ends = (times[start], times[end])
            said = " to ".join("?" if at is None else clock(at / DAY % 1) for at in ends)
            found.append(Period(f"{dated}{said}, by levels", sides))

    for index, row in enumerate(rows):
        event = str(row["event"].si or "")
        if levels_begin_anew(event):
            close()
            start = end = None
        if all(row[f"{side}_left"].si is not None for side in LINING):
            start = index if start is None else start
            end = index
    close()
    return found


def _by_strokes(
    values: dict[str, Value],
    rows: list[dict[str, Value]],
    parts: list[float],
    lining: str,
) -> list[Told]:
    names = zip(LINING, ("stroke_volume", "resin_stroke_volume"))
    volumes = {side: values[name].si for side, name in names if values[name].si is not None}
    drive = values["pump_drive"].si
    if len(volumes) < len(LINING) or drive is None:
        return []
    if drive == OWN_DRIVES:
        counted = strokes_sprayed(rows, ("strokes", "resin_strokes"), lining)
        if not counted.stretches or not all(counted.totals):
            return []
        # One stroke too many or too few at each end of a stretch.
        ends = math.sqrt(counted.stretches)
        sides = {
            side: (count * volumes[side], volumes[side] * ends)
            for side, count in zip(LINING, counted.totals)
        }
        return [Judged(Period(f"Strokes {SPRAYED}", sides), parts, values).row()]
    counted = strokes_sprayed(rows, ("strokes",), lining)
    count = counted.totals[0]
    # The litres are those of the whole day: strokes of a part of it tell nothing of them.
    if not count or not counted.whole:
        return []
    found: list[Told] = []
    for side in LINING:
        used, volume = values[f"{side}_measured"], volumes[side]
        if not used.si:
            continue
        words = f"{rounded(count * volume, used)} by {count:g} strokes {SPRAYED}: each delivered "
        words += f"{in_percent(used.si / (count * volume))} of a stroke, if the day's litres were "
        words += "drawn by them. One drive: this tells no ratio; a side far from the other hints "
        words += "at slip, air or a worn pump."
        found.append(Told(f"{side.capitalize()}, by strokes", None, None, None, words))
    return found
