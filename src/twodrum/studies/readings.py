"""Each reading judged: by its phase, its events, the data sheet's windows, the last baseline."""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import Any, NamedTuple

from ..core.balance import friction_pressure
from ..core.inputs import InputError
from ..core.mix import LINING
from ..core.ratio import off_ratio, off_ratio_uncertainty
from ..core.viscosity import viscosity_at
from ..engine.evaluate import Reader, Refused, Value, waits_for
from ..problems import sentence, with_capital
from ..units import to_si
from .baseline import PANEL, Baseline
from .drift import Drift
from .linings import COAT_EVENTS, LININGS, PLANNED, SECOND_LINING, of_both, of_lining
from .moments import REST, WHEN, day_shown, moments, tell_missing, work_days
from .oddities import Oddity, oddities
from .usage import LEVEL_SET, levels_begin_anew
from .used_uncertainty import REACH
from .weather import Weather
from .words import DAY, NOTHING, clock, in_percent, rounded, said

PHASES = ("warming", "standing", "spraying", "cooling")
EVENTS = (
    PANEL,
    "drum change iso",
    "drum change resin",
    "drum change both",
    LEVEL_SET,
    "filter cleaned iso",
    "filter cleaned resin",
    "filter cleaned both",
    "tip change",
    "air purge",
    *COAT_EVENTS,
)
MOISTURE_SIGNS = ("pinholes", "blisters", "crystals in the iso", "spent dryer")
RESTARTS = (PANEL, "drum change", "filter cleaned", "tip change")
# Weather changes within a morning; our choice.
OLD_WEATHER = 2 * 3600.0
# So near its baseline, in scatters, a difference has come back.
BACK = 2.0
# One reading so many scatters from the baseline is told at once, even of gauges with wild ones.
SURELY = 3.5
# Said beside its row only: the next reading tells.
AGAIN = "again"
# What stops the gun comes first, what asks for a look last; all else keeps its order between.
FIRST_TOLD = ("hottest", "dew", "mix", "open filter", "difference")
# Of what these say the pressures can be judged all the same, and a baseline be taken.
PLAIN = ("gap", "age", "iso stuck", "resin stuck")
# Of these the pressures can be judged, but no baseline be taken.
NO_BASELINE = ("difference", "dew", "mix", "open filter", "drum")

SOURCE = (
    "Hagen-Poiseuille for viscosity, WMO-No. 8 for the dew point; baseline: mean of three good "
    "readings (our choice); creep: EWMA 0.3, 2.7 and CUSUM 0.5, 5 of each good reading against "
    "the mean of those before it; way by Theil-Sen where Kendall is below 5 %"
)

POINTS = ("temperature_1", "viscosity_1", "temperature_2", "viscosity_2")
THIRD = ("temperature_3", "viscosity_3")
ENDS = ("low", "high")
WINDOWS = tuple(f"{what}_{end}" for what in ("pressure", "spray") for end in ENDS)
# Endings of the values that only say what viscosity explains.
CURVE = (*POINTS, *THIRD, "_flow", "resistance", "port_diameter")
RESULTS = ("by_viscosity", "change", "reading_dew_margin", "weather_age", "verdict")
COLUMNS = (
    *("hose_temperature", "iso_left", "resin_left", "iso_drum", "resin_drum"),
    *(*WHEN, "phase", "event", "iso_pressure", "resin_pressure", "iso_temperature"),
    *("resin_temperature", "air", "humidity", "surface_reading", "difference"),
)
GIVEN = (
    *(f"{side}_{name}" for side in LINING for name in (*POINTS, *THIRD)),
    *(f"{side}_{name}" for side in LINING for name in WINDOWS),
    *(f"{side}_{name}" for side in LINING for name in ("heat_limit", "drum_low", "drum_high")),
    *(f"{side}_ratio" for side in LINING),
    *("level_uncertainty", "ratio_tolerance"),
    *(f"{side}_{name}" for side in LINING for name in ("flow", "resistance")),
    "resin_port_diameter",
    "difference_limit",
    "change_limit",
    "gauge_scatter",
    "least_dew_margin",
    "work_date",
    "shown_date",
)
READS = (*(f"readings.{name}" for name in COLUMNS), *of_both(GIVEN), PLANNED)


class Moment(NamedTuple):
    """One reading while spraying as its charts draw it."""

    day_time: float
    day_iso: Any = None
    day_resin: Any = None
    day_difference: Any = None
    day_limit: Any = None
    day_limit_below: Any = None
    day_iso_low: Any = None
    day_resin_low: Any = None
    day_iso_high: Any = None
    day_resin_high: Any = None
    day_change: Any = None
    day_worth: Any = None
    day_worth_below: Any = None
    day_warned: Any = None


@dataclass
class Given:
    """What the rows are judged by."""

    values: dict[str, Value]

    def viscosity(self, side: str, temperature: float | None) -> float | None:
        points = [self.values[f"{side}_{name}"].si for name in POINTS]
        if temperature is None or None in points:
            return None
        third = [self.values[f"{side}_{name}"].si for name in THIRD]
        try:
            return viscosity_at(temperature, *points, *third)
        except InputError:
            # The points themselves are told on Balance.
            return None

    def unknown(self, row: dict[str, Value]) -> list[str]:
        """Cells for which a row cannot be judged: its own refused ones, and refused limits."""
        cells = [value for name, value in row.items() if name != "difference"]
        limits = [v for name, v in self.values.items() if not name.endswith((*CURVE, "_date"))]
        return [root for value in (*cells, *limits) for root in value.roots]

    def friction(self, side: str, row: dict[str, Value]) -> float | None:
        """What one side loses to viscosity at the temperature of a row; None where unknown."""
        viscosity = self.viscosity(side, row[f"{side}_temperature"].si)
        resistance, flow = (self.values[f"{side}_{name}"].si for name in ("resistance", "flow"))
        if None in (viscosity, resistance, flow):
            return None
        return friction_pressure(resistance, viscosity, flow)  # type: ignore[arg-type]

    @property
    def knows_viscosity(self) -> bool:
        """Whether a row with both temperatures can be freed of what viscosity explains."""
        needed = [f"{side}_{n}" for side in LINING for n in (*POINTS, "flow", "resistance")]
        return all(self.values[name].si is not None for name in needed) and self.known_sides

    @property
    def known_sides(self) -> bool:
        """Whether it is known through what each side flows: unequal parts have other ports."""
        iso, resin = (self.values[f"{side}_ratio"].si for side in LINING)
        equal = iso is None or resin is None or abs(iso - resin) <= 1e-9 * max(iso, resin)
        return equal or not self.values["resin_port_diameter"].assumed

    def by_viscosity(self, row: dict[str, Value]) -> float | Refused | None:
        """The part of the difference that viscosity makes at the temperatures of a row.

        Unknown where the sides are mixed in unequal parts and no port of resin is typed.
        """
        if not self.known_sides:
            return None
        curve = [value for name, value in self.values.items() if name.endswith(CURVE)]
        refused = waits_for(row["iso_temperature"], row["resin_temperature"], *curve)
        if refused:
            return refused
        iso, resin = (self.friction(side, row) for side in LINING)
        return None if iso is None or resin is None else iso - resin


@dataclass(frozen=True)
class Issue:
    """One thing wrong with a reading: a key for runs of it, the cell, the words."""

    key: str
    at: Value
    text: str
    # When a limit is reached, where that can be said.
    when: float | None = None


@dataclass(frozen=True)
class Judged:
    """What stands beside one row."""

    by_viscosity: float | Refused | None
    change: float | Refused | None
    reading_dew_margin: float | Refused | None
    weather_age: float | Refused | None
    verdict: str
    issues: list[Issue]


def judge(reader: Reader) -> list[Moment]:
    """The readings of the day that is shown for the charts; judgements stand beside each row."""
    rows = reader.rows("readings", COLUMNS)
    values = {name: reader.cell(name) for name in of_both(GIVEN)}
    linings = {lining: Given(of_lining(values, GIVEN, lining)) for lining in LININGS}
    first_day = values["work_date"].si
    times = moments(reader, rows, first_day)
    days = work_days(rows, times, first_day)
    wanted, planned = values["shown_date"], reader.cell(PLANNED)
    shown = day_shown(days, wanted.si, str(planned.si))
    tell_missing(reader, wanted, days, shown)
    judged: list[Judged] = []
    figures: list[Moment] = []
    warned: list[tuple[float, float | None]] = []
    _tell_lacking(reader, rows, planned, linings[SECOND_LINING])
    weather, fed = Weather(), ""
    until: float | None = None
    for day in days:
        own, when, given = day.of(rows), day.of(times), linings[day.lining]
        known = [now for now in when if now is not None]
        # Another lining goes in during a shift: it is sprayed in the same weather.
        shift = until is not None and known and known[0] - until < REST
        weather = weather if shift and day.lining != fed else Weather()
        fed, until = day.lining, known[-1] if known else until
        of_day = _judged_day(reader, own, when, given, weather)
        judged += of_day
        if day is shown:
            since = [None if now is None else now - day.midnight for now in when]
            warned = [
                (now or 0.0, issue.when)
                for one, now in zip(of_day, since)
                for issue in one.issues
                if issue.key == "drift"
            ]
            figures = _figures(own, since, of_day, given)
            figures += _uprights(warned, given)
    reader.give("charted_day", shown.date if shown else None)
    reader.give("charted_lining", shown.lining if shown else None)
    reader.give("drift_first", warned[0][0] / DAY % 1 if warned else None)
    reach = next((when for _, when in reversed(warned)), None)
    reader.give("drift_reaches", None if reach is None else reach / DAY % 1)
    for name in RESULTS:
        reader.give(f"readings.{name}", [getattr(one, name) for one in judged])
    return figures


def _tell_lacking(
    reader: Reader, rows: list[dict[str, Value]], planned: Value, second: Given
) -> None:
    """A second lining that is in the machine or planned, and not on Materials."""
    cells = (planned, *(row["lining"] for row in rows))
    at = next((cell for cell in cells if cell.si == SECOND_LINING), None)
    if at is not None and None in [second.values[f"{side}_ratio"].si for side in LINING]:
        found = f"{at.label} is {SECOND_LINING}"
        expected = "Materials has no second iso and second resin with their parts of the mix"
        reader.warn("lacks-material", at, sentence(found, expected, "type them there"))


def _judged_day(
    reader: Reader,
    rows: list[dict[str, Value]],
    times: list[float | None],
    given: Given,
    weather: Weather,
) -> list[Judged]:
    """The rows of one day: baseline and levels of the day before say nothing of it."""
    baseline, levels = Baseline(), Levels(given)
    drift = Drift(given.values["gauge_scatter"].si or 0.0)
    judged: list[Judged] = []
    running: set[str] = set()
    for row, now, outlier in zip(rows, times, oddities(rows, times)):
        weather.note(row, now)
        mixed = levels.note(row, now)
        judged.append(_judged(row, given, weather, baseline, drift, now, outlier, mixed))
        _tell(reader, judged[-1].issues, running)
    return judged


def _figures(
    rows: list[dict[str, Value]], since: list[float | None], judged: list[Judged], given: Given
) -> list[Moment]:
    """The readings of a day with both pressures, by seconds since its midnight."""
    limit, most = (given.values[f"{name}_limit"].si for name in ("difference", "change"))
    windows = {
        f"day_{side}_{end}": given.values[f"{side}_pressure_{end}"].si
        for end in ENDS
        for side in LINING
    }
    figures: list[Moment] = []
    for row, now, one in zip(rows, since, judged):
        pressures = (row["iso_pressure"].si, row["resin_pressure"].si, row["difference"].si)
        if now is not None and None not in pressures:
            # Counted on past midnight, or a line would run back.
            moment = Moment(
                now / DAY,
                *pressures,
                day_limit=limit,
                day_limit_below=None if limit is None else -limit,
                day_change=one.change if isinstance(one.change, float) else None,
                day_worth=most,
                day_worth_below=None if most is None else -most,
                **windows,
            )
            figures.append(moment)
    return figures


def _uprights(warned: list[tuple[float, float | None]], given: Given) -> list[Moment]:
    """The upright line of a chart where a creep was told first."""
    most = given.values["change_limit"].si
    if not warned or most is None:
        return []
    return [Moment(warned[0][0] / DAY, day_warned=end) for end in (-most, most)]


def _judged(
    row: dict[str, Value],
    given: Given,
    weather: Weather,
    baseline: Baseline,
    drift: Drift,
    now: float | None,
    odd: list[Oddity],
    mixed: list[Issue],
) -> Judged:
    event = str(row["event"].si or "")
    if event.startswith(RESTARTS):
        baseline.restart(event)
        # A difference that was warned of is not forgiven by an event.
        if event == PANEL or not drift.warned:
            drift.restart()
    margin, age = weather.dew_margin(), weather.age(row["time"], now)
    issues = [Issue(one.key, one.at, one.text) for one in odd]
    issues += [*mixed, *_limits(row, given), *_open_filter(row, event)]
    if event in MOISTURE_SIGNS:
        issues.append(Issue("moisture", row["event"], f"a sign of moisture: {event}, see Cautions"))
    unknown = given.unknown(row)
    # What these may have been, a restart or a baseline, is not known from here on.
    baseline.uncertainty(waits_for(row["event"], row["phase"]))
    if isinstance(margin, Refused):
        unknown += margin.roots
    if row["phase"].refused:
        lost = waits_for(row["phase"])
        verdict = _verdict(issues, [], row["phase"], unknown)
        return Judged(lost, lost, margin, age, verdict, issues)
    if row["phase"].si != "spraying":
        notes = [baseline.restarted()] if event.startswith(RESTARTS) else []
        verdict = _verdict(issues, notes, row["phase"], unknown)
        return Judged(None, None, margin, age, verdict, issues)
    explained = given.by_viscosity(row)
    issues = [*_dew(row, given, margin, age), *issues]
    keys = {issue.key for issue in issues}
    doubtful = not keys <= {*PLAIN, *NO_BASELINE} or bool(unknown)
    change, notes, moved = _change(
        row, given, baseline, explained, doubtful, keys <= {*PLAIN}, drift
    )
    if isinstance(change, float) and not doubtful and now is not None:
        creeps = drift.add(now, _sides(row, given, explained), _gauges(row))
        # What has come back to its baseline is no fault any more.
        back = creeps and drift.stepped and abs(change) <= BACK * drift.used_scatter
        if creeps and not back:
            moved = moved or _creeping(row, given, drift, explained, baseline.wider)
    issues = [*issues, *moved]
    unknown += [
        root for one in (explained, change) if isinstance(one, Refused) for root in one.roots
    ]
    if margin is None:
        notes.append("Weather incomplete: dew point not judged")
    if not any(given.values[f"{side}_spray_{end}"].si for side in LINING for end in ENDS):
        notes.append("No spray window on Materials: temperatures not judged")
    if not given.known_sides:
        notes.append(
            "Unequal parts: type the port of resin on Equipment for what viscosity explains"
        )
    verdict = _verdict(issues, notes, row["phase"], unknown)
    return Judged(explained, change, margin, age, verdict, issues)


def _limits(row: dict[str, Value], given: Given) -> list[Issue]:
    issues: list[Issue] = []
    phase = row["phase"].si
    for side in LINING:
        warm, pressure = row[f"{side}_temperature"], row[f"{side}_pressure"]
        hottest = given.values[f"{side}_heat_limit"]
        hose, drum = row["hose_temperature"], row[f"{side}_drum"]
        for what, cell in ((f"{side} temperature", warm), ("hose temperature", hose)):
            if not any(issue.at is cell for issue in issues):
                issues += _too_hot(what, cell, hottest)
        issues += _too_hot(f"{side} drum", drum, hottest)
        if not any(issue.at is drum for issue in issues):
            low, high = (given.values[f"{side}_drum_{end}"] for end in ENDS)
            # A drum that is being warmed starts below its window.
            issues += _outside(f"{side} drum", drum, low if phase == "spraying" else None, high)
        if phase == "spraying":
            low, high = (given.values[f"{side}_spray_{end}"] for end in ENDS)
            if not any(issue.at is warm for issue in issues):
                issues += _outside(f"{side} temperature", warm, low, high)
            low, high = (given.values[f"{side}_pressure_{end}"] for end in ENDS)
            issues += _outside(f"{side} pressure", pressure, low, high)
    difference, limit = row["difference"], given.values["difference_limit"]
    if difference.si is not None and limit.si is not None and abs(difference.si) > limit.si:
        side, other = LINING if difference.si > 0 else LINING[::-1]
        more = rounded(abs(difference.si), difference)
        text = f"{side} stands {more} above the other side, more than {said(limit)}: look first "
        text += f"downstream of the {side} gauge, and at the supply of the {other} side"
        issues.append(Issue("difference", row["iso_pressure"], text))
    if phase == "spraying":
        for side in LINING:
            warm = row[f"{side}_temperature"]
            if warm.si is None and not warm.refused:
                issues.append(Issue(f"{side} unmeasured", warm, f"{side} temperature is missing"))
            pressure = row[f"{side}_pressure"]
            if pressure.si is None and not pressure.refused:
                issues.append(Issue(f"{side} blank", pressure, f"{side} pressure is missing"))
            elif pressure.si == 0:
                issues.append(Issue(f"{side} none", pressure, f"{side} has no pressure"))
    return issues


def _too_hot(what: str, found: Value, most: Value) -> list[Issue]:
    """Above the highest temperature of the data sheet, which no phase and no window excuses."""
    if found.si is None or most.si is None or found.si <= most.si:
        return []
    text = f"{what} {said(found)} is above {said(found, most.si)}, the highest that the data "
    text += "sheet allows"
    return [Issue("hottest", found, text)]


def _open_filter(row: dict[str, Value], event: str) -> list[Issue]:
    """Pressure in the row of a filter that was opened while nothing was sprayed."""
    if not event.startswith("filter cleaned") or row["phase"].si == "spraying":
        return []
    sides = [side for side in LINING if event.endswith((side, "both"))]
    cells = [row[f"{side}_pressure"] for side in sides]
    under = [cell for cell in cells if cell.si]
    if not under:
        return []
    text = f"{said(under[0])} stands in the row of a filter: a filter is opened only when its "
    text += "side has no pressure; the machine manual says how it is relieved"
    return [Issue("open filter", under[0], text)]


@dataclass
class Levels:
    """What both levels fell by since the last that was put right, held against the ratio."""

    given: Given
    start: dict[str, Value] | None = None
    began: float | None = None

    def note(self, row: dict[str, Value], now: float | None) -> list[Issue]:
        """A row's levels; what they say of the mix so far, where that is sure."""
        event = str(row["event"].si or "")
        if levels_begin_anew(event):
            self.start = None
        cells = {side: row[f"{side}_left"] for side in LINING}
        if row["lining"].refused or any(cell.si is None for cell in cells.values()):
            return []
        if self.start is None:
            self.start, self.began = cells, now
            return []
        drops = [self.start[side].si - cells[side].si for side in LINING]
        parts = [self.given.values[f"{side}_ratio"].si for side in LINING]
        uncertainty, most = (
            self.given.values[n].si for n in ("level_uncertainty", "ratio_tolerance")
        )
        if min(drops) <= 0 or not all(parts) or uncertainty is None or most is None:
            return []
        off = off_ratio(drops[0], drops[1], parts[0], parts[1])
        of_drop = math.sqrt(2) * uncertainty
        standard = off_ratio_uncertainty(drops[0], drops[1], parts[0], parts[1], of_drop, of_drop)
        if abs(off) - REACH * standard <= most:
            return []
        fell = " and ".join(
            f"{side} by {rounded(drop, cells[side])}" for side, drop in zip(LINING, drops)
        )
        since = "" if self.began is None else f" since {clock(self.began / DAY % 1)}"
        way = "above" if off > 0 else "below"
        text = f"off the ratio: levels fell{since}: {fell}, iso {in_percent(abs(off))} {way} its "
        text += f"ratio, {in_percent(most)} are allowed; stop and look at both sides"
        return [Issue("mix", cells["iso"], text)]


def _outside(what: str, found: Value, low: Value | None, high: Value | None) -> list[Issue]:
    if found.si is None or any(end is not None and end.refused for end in (low, high)):
        return []
    if low is not None and low.si is not None and found.si < low.si:
        text = f"{what} {said(found)} is below {said(low)} of the data sheet"
        return [Issue(f"{what} low", found, text)]
    if high is not None and high.si is not None and found.si > high.si:
        text = f"{what} {said(found)} is above {said(high)} of the data sheet"
        return [Issue(f"{what} high", found, text)]
    return []


def _change(
    row: dict[str, Value],
    given: Given,
    baseline: Baseline,
    explained: float | Refused | None,
    doubtful: bool,
    sound: bool,
    drift: Drift,
) -> tuple[float | Refused | None, list[str], list[Issue]]:
    """How far the difference, less what viscosity explains, stands from the baseline.

    Only a ``sound`` row is taken into a baseline; the change of a ``doubtful`` one is shown but
    not judged: what is wrong with it is to be mended first.
    """
    refused = explained if isinstance(explained, Refused) else waits_for(row["difference"])
    if refused or isinstance(explained, Refused):
        if not baseline.complete:
            baseline.uncertainty(refused)
        return refused, [], []
    if row["difference"].si is None:
        return None, [], []
    if baseline.refused:
        return baseline.refused, [], []
    if explained is None and given.knows_viscosity:
        return None, [], []
    sides = _sides(row, given, explained)
    if not baseline.rows:
        if doubtful or not sound:
            return None, [], []
        notes = [baseline.words()]
        baseline.add(sides)
        return 0.0, notes, []
    moves = {side: sides[side] - baseline.mean(side) for side in LINING}
    change = moves["iso"] - moves["resin"]
    limit = given.values["change_limit"]
    most = None if limit.si is None else limit.si * baseline.wider
    found = most is not None and abs(change) > most
    if not found and not doubtful and sound and not baseline.asks:
        baseline.add(sides)
    notes = [baseline.asks] if baseline.asks else []
    if doubtful or most is None:
        return change, notes, []
    again = baseline.count(change, most)
    if not found:
        return change, notes, _together(row, moves, most)
    # One reading by itself has to stand further out than gauges scatter; two need not.
    scatter = drift.scatter_with(_gauges(row))
    if again < 2 and abs(change) <= SURELY * scatter * math.sqrt(1 + 1 / len(baseline.rows)):
        moved = rounded(abs(change), row["difference"])
        text = f"read both gauges again: the difference stands {moved} from the baseline"
        return change, notes, [Issue(AGAIN, row["iso_pressure"], text)]
    side = max(moves, key=lambda name: abs(moves[name]))
    way = "rose" if moves[side] > 0 else "fell"
    text = f"difference moved {rounded(abs(change), row['difference'])} since the baseline, "
    text += f"{_without(explained)}; it is the {side} side that {way}, {HINTS[way]}"
    return change, notes, [Issue("change", row[f"{side}_pressure"], text)]


def _together(row: dict[str, Value], moves: dict[str, float], most: float) -> list[Issue]:
    """Both gauges moved one way by more than a change is worth: their difference hides it."""
    if min(moves.values()) <= most and max(moves.values()) >= -most:
        return []
    way, look = "rose", "set pressure, both guns' filters, a blocked gun"
    if max(moves.values()) < 0:
        way, look = "fell", "pump and its drive, set pressure, both supplies, empty or cold drums"
    by = min(moves.values(), key=abs)
    text = f"both pressures {way} together by {rounded(abs(by), row['difference'])} and more since "
    text += f"the baseline: look first at {look}; was the set pressure changed, spray a test panel "
    text += "and note it"
    return [Issue("both", row["iso_pressure"], text)]


def _sides(
    row: dict[str, Value], given: Given, explained: float | Refused | None
) -> dict[str, float]:
    """The pressures of both sides, less what viscosity takes where that is known."""
    sides: dict[str, float] = {side: row[f"{side}_pressure"].si for side in LINING}
    if explained is None:
        return sides
    return {side: sides[side] - (given.friction(side, row) or 0.0) for side in LINING}


def _gauges(row: dict[str, Value]) -> tuple[tuple[float, float], ...]:
    """Both pressures as they were typed, each with what its unit is in Pa."""
    found = []
    for side in LINING:
        value = row[f"{side}_pressure"]
        unit = to_si(1.0, value.kind, value.unit)
        found.append((round(value.si / unit, 6), unit))
    return tuple(found)


def _without(explained: float | Refused | None) -> str:
    """Whether what viscosity explains was taken off."""
    if explained is None:
        return "not freed of what viscosity and temperature make, which are not known"
    return "viscosity left out"


def _creeping(
    row: dict[str, Value],
    given: Given,
    drift: Drift,
    explained: float | Refused | None,
    wider: float,
) -> list[Issue]:
    """The difference goes one way, though no limit is reached yet."""
    side, moved = drift.side()
    way = "rose" if moved > 0 else "fell"
    since = clock(drift.rows[min(drift.began(), len(drift.rows) - 1)].time / DAY % 1)
    how = "has stepped" if drift.stepped else "creeps"
    text = f"no limit is reached yet, but the difference {how}, {_without(explained)}: most likely "
    text += f"it is the {side} side that {way} by {rounded(abs(moved), row['difference'])} since "
    text += f"about {since}; {HINTS[way]}"
    limit, when = given.values["change_limit"], None
    if limit.si is not None:
        when = drift.reaches(limit.si * wider)
        if when is not None:
            at = clock(when / DAY % 1)
            far = rounded(limit.si * wider, limit)
            text += f"; going on so it is {far} from its baseline at about {at}"
    return [Issue("drift", row[f"{side}_pressure"], text, when)]


# A hint, never certainty.
HINTS = {
    "rose": "look first downstream of its gauge: debris past a split mesh at gun or tip, a blocked "
    "gun filter",
    "fell": "look first at its supply: blocked inlet filter, valve left shut, empty or cold drum, "
    "air, transfer pump",
}


def _dew(
    row: dict[str, Value],
    given: Given,
    margin: float | Refused | None,
    age: float | Refused | None,
) -> list[Issue]:
    issues = []
    wanted = given.values["least_dew_margin"]
    if isinstance(margin, float) and wanted.si is not None and margin < wanted.si:
        where = row["surface_reading"] if row["surface_reading"].si is not None else row["time"]
        found = rounded(abs(margin), wanted)
        how = f"{found} above the dew point, less than {said(wanted)}"
        how = how if margin >= 0 else f"{found} below the dew point, wet"
        text = f"do not spray: surface is {how}"
        issues.append(Issue("dew", where, text))
    if isinstance(age, float) and age >= OLD_WEATHER:
        text = f"weather was read {age / 3600:.1f} h ago: read it again"
        issues.append(Issue("age", row["time"], text))
    return issues


def _verdict(issues: list[Issue], notes: list[str], phase: Value, unknown: list[str]) -> str:
    if phase.si is None:
        return f"Not judged: see {phase.where}"
    parts = [with_capital(issue.text) for issue in sorted(issues, key=_rank)]
    if unknown:
        where = list(dict.fromkeys(unknown))
        parts.append(f"Not fully judged: see {', '.join(where[:4])}")
    if not parts:
        parts.append(NOTHING if phase.si == "spraying" else f"{NOTHING} for {phase.si}")
    return ". ".join([*parts, *notes])


def _rank(issue: Issue) -> int:
    """The worst leads."""
    return FIRST_TOLD.index(issue.key) if issue.key in FIRST_TOLD else len(FIRST_TOLD)


def _tell(reader: Reader, issues: list[Issue], running: set[str]) -> None:
    """Note the first row of every run of an issue; the others stand beside their rows."""
    for issue in issues:
        if issue.key not in running and issue.key != AGAIN:
            found = with_capital(issue.text)
            reader.warn("reading", issue.at, sentence(found, "the verdict stands beside its row"))
    running.clear()
    running.update(issue.key for issue in issues)
