"""The machine learned from how its drums warmed: power, loss, uncertainty; plan against day."""

from __future__ import annotations

from dataclasses import dataclass, field
from typing import Any, Union

from ..core.heating import drum_heat_capacity
from ..core.inputs import InputError
from ..core.mix import LINING
from ..core.warm_up_fit import FEWEST, WarmUpFit, fit_warm_up_and_start
from ..engine.evaluate import Reader, Refused, Value, waits_for
from ..problems import sentence
from .linings import PLANNED, of_planned, with_second
from .moments import WHEN, day_shown, moments, tell_missing, work_days
from .words import in_percent, rounded, said

SOURCE = (
    "Least squares on the drum temperatures while warming, before the set point limits the "
    "heater; a stretch of cooling right after sharpens the loss; JCGM 100 for the intervals"
)
COLUMNS = (*WHEN, "phase", "event", "air")
SINGLES = with_second(
    (
        *(
            f"{side}_{name}"
            for side in LINING
            for name in (
                *("drum_volume", "density", "specific_heat", "heating", "flow_heat_rate"),
                *("set_point", "drum_target", "warm_up_time", "heater_power"),
            )
        ),
        *("drum_steel", "air_temperature", "work_date", "shown_date", "learned_date"),
    )
)
READS = (
    *(f"readings.{name}" for name in COLUMNS),
    *(f"readings.{side}_{name}" for side in LINING for name in ("drum", "left")),
    *SINGLES,
)
RESULTS = (
    *("learned_power", "learned_power_low", "learned_power_high"),
    *("learned_loss", "learned_loss_low", "learned_loss_high"),
    *("learned_share", "warmed_in", "warm_up_off"),
)
# More than so far from the plan is told.
WORTH_TELLING = 0.15
# An interval wider than so much of its value teaches nothing.
TOO_WIDE = 0.5
# Standard deviation of a specific heat, over its value; our choice.
CAPACITY_DOUBT = 0.03
# How far the air moves during a warm-up where it was read less often than so; our choice.
AIR_MOVES, OFTEN = 4.0, 3
# How well the air at a drum is known, at best; our choice.
AIR_READ = 2.0
# More than its rated power reaches no drum.
MOST_OF_RATED = 1.1
Result = Union[float, Refused, None]  # noqa: UP007 (Python 3.9 evaluates it)


@dataclass
class Log:
    """Drum temperatures of one side while warming, and while cooling right after."""

    heating: list[tuple[float, Value]] = field(default_factory=list)
    cooling: list[tuple[float, Value]] = field(default_factory=list)
    air: list[float] = field(default_factory=list)
    level: Value | None = None
    refused: Refused | None = None


def learn(reader: Reader) -> list[Any]:
    """No rows; what the warm-up of each side taught, of the lining that is planned."""
    values = of_planned(reader, SINGLES)
    names = (*COLUMNS, *(f"{side}_{what}" for side in LINING for what in ("drum", "left")))
    rows = reader.rows("readings", names)
    first_day = values["work_date"].si
    times = moments(None, rows, first_day)
    planned = str(values[PLANNED].si)
    days = [day for day in work_days(rows, times, first_day) if day.lining == planned]
    wanted = values["shown_date"] if values["learned_date"].blank else values["learned_date"]
    shown = day_shown(days, wanted.si, planned)
    if wanted is values["learned_date"]:
        tell_missing(reader, wanted, days, shown)
    reader.give("learned_day", shown.date if shown else None)
    rows, times = (shown.of(rows), shown.of(times)) if shown else ([], [])
    for side in LINING:
        found: dict[str, Result] = dict.fromkeys(RESULTS)
        found.update(_learned(reader, values, side, _log(rows, times, side)))
        for name, result in found.items():
            reader.give(f"{side}_{name}", result)
    return []


def _log(rows: list[dict[str, Value]], times: list[float | None], side: str) -> Log:
    log, ended = Log(), False
    for row, now in zip(rows, times):
        drum, phase = row[f"{side}_drum"], row["phase"].si
        if phase == "warming" and not log.cooling and not ended:
            log.refused = log.refused or waits_for(drum, row["time"], row[f"{side}_left"])
            level = row[f"{side}_left"]
            log.level = log.level if level.si is None else level
            if drum.si is not None and now is not None:
                log.heating.append((now, drum))
        elif phase == "cooling" and log.heating and not ended:
            if drum.si is not None and now is not None:
                log.cooling.append((now, drum))
        elif log.heating:
            # What is drawn or stands between is no part of the log.
            if (
                not ended
                and log.level is None
                and not str(row["event"].si or "").startswith("drum")
            ):
                log.level = row[f"{side}_left"] if row[f"{side}_left"].si is not None else None
            ended = ended or phase == "spraying"
        air = row["air"].si
        if air is not None and not ended:
            log.air.append(air)
    return log


def _learned(reader: Reader, values: dict[str, Value], side: str, log: Log) -> dict[str, Result]:
    def of(name: str) -> Value:
        return values[f"{side}_{name}"]

    if not log.heating:
        return {}
    if log.refused:
        return dict.fromkeys(RESULTS, log.refused)
    found: dict[str, Result] = _against_plan(reader, of("drum_target"), of("warm_up_time"), log)
    first = log.heating[0][1]
    usable, cut = _before_the_set_point(log, of("heating"), of("flow_heat_rate"), of("set_point"))
    if len(usable) < FEWEST:
        many = f"{len(usable)} drum temperatures while the heater works at full power"
        text = sentence(many, f"{FEWEST} or more are needed to learn the machine")
        reader.warn("cannot-learn", first, text)
        return found
    capacity = _capacity(values, side, log.level.si if log.level else None)
    air = sum(log.air) / len(log.air) if log.air else values["air_temperature"].si
    if capacity is None or air is None:
        text = "density of the material and air temperature are needed to learn the machine"
        reader.warn("cannot-learn", first, text)
        return found
    start = usable[0][0]
    heating = [(now - start, drum.si) for now, drum in usable]
    cooling = [] if cut else [(now - usable[-1][0], drum.si) for now, drum in log.cooling]
    try:
        fit = fit_warm_up_and_start(capacity, air, *_apart(heating), *_apart(cooling))
    except InputError:
        text = sentence("these drum temperatures are too flat, or rise and fall", "a steady rise")
        reader.warn("cannot-learn", first, f"{text} is needed to learn the machine")
        return found
    reach = fit.reach(CAPACITY_DOUBT, _air_moved(log.air))
    return {**found, **_told(reader, first, of("heater_power"), fit, reach)}


def _air_moved(air: list[float]) -> float:
    """How far the air may have moved: as far as it was read to, else our choice."""
    return max(AIR_READ, max(air) - min(air)) if len(air) >= OFTEN else AIR_MOVES


def _apart(log: list[tuple[float, float]]) -> tuple[list[float], list[float]]:
    return [time for time, _ in log], [temperature for _, temperature in log]


def _capacity(values: dict[str, Value], side: str, level: float | None) -> float | None:
    """Heat for each kelvin of a drum and what it held."""
    needed = [values[f"{side}_{name}"].si for name in ("drum_volume", "density", "specific_heat")]
    steel = values["drum_steel"].si
    if None in needed or steel is None:
        return None
    volume, density, specific_heat = needed
    held = volume if level is None else level
    return drum_heat_capacity(held, density, specific_heat, steel)


def _before_the_set_point(
    log: Log, power: Value, flow: Value, point: Value
) -> tuple[list[tuple[float, Value]], bool]:
    """The readings in which the heater gives all it has, and whether others were left out."""
    if None in (power.si, flow.si, point.si) or not flow.si:
        return log.heating, False
    limit = point.si - power.si / flow.si
    usable = [(now, drum) for now, drum in log.heating if drum.si <= limit]
    return usable, len(usable) < len(log.heating)


def _told(
    reader: Reader, first: Value, rated: Value, fit: WarmUpFit, reach: tuple[float, float]
) -> dict[str, Result]:
    half, half_loss = reach
    if not fit.power > 0 or half > TOO_WIDE * fit.power:
        found = "these drum temperatures scatter too much"
        text = sentence(found, "more readings or a longer warm-up are needed to learn the machine")
        reader.warn("cannot-learn", first, text)
        return {}
    if rated.si and fit.power > MOST_OF_RATED * rated.si:
        found = f"the drum warmed as if {rounded(fit.power, rated)} reached it"
        words = f"its heater is rated {said(rated)}"
        mend = "was it part full? type what it held in a warming row"
        reader.warn("cannot-learn", first, sentence(found, words, mend))
        return {}
    found_now: dict[str, Result] = {
        "learned_power": fit.power,
        "learned_power_low": fit.power - half,
        "learned_power_high": fit.power + half,
        "learned_loss": fit.heat_loss,
        "learned_loss_low": fit.heat_loss - half_loss,
        "learned_loss_high": fit.heat_loss + half_loss,
    }
    if rated.si:
        found_now["learned_share"] = fit.power / rated.si
    return found_now


def _against_plan(
    reader: Reader, drum_target: Value, planned: Value, log: Log
) -> dict[str, Result]:
    """How long the drum took to where it is warmed to, by the straight line between readings."""
    if drum_target.si is None:
        return {}
    start, first = log.heating[0]
    before_time, before = start, first.si
    if before >= drum_target.si:
        return {}
    for now, drum in log.heating[1:]:
        if drum.si >= drum_target.si:
            share = (drum_target.si - before) / (drum.si - before)
            took = before_time + share * (now - before_time) - start
            if not planned.si:
                return {"warmed_in": took}
            off = took / planned.si - 1
            if abs(off) > WORTH_TELLING:
                way = "longer" if off > 0 else "less"
                words = f"the drum took {rounded(took, planned)} to where it is warmed to"
                plan = f"{rounded(planned.si, planned)} were planned: {in_percent(abs(off))} {way}"
                mend = "if it was full, type what was learned on Equipment for the next job"
                if log.level is not None:
                    mend = f"the plan is for a full drum, it held {said(log.level)}"
                reader.warn("warm-up-off", drum, sentence(words, plan, mend))
            return {"warmed_in": took, "warm_up_off": off}
        before_time, before = now, drum.si
    return {}
