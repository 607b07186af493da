"""The plan of the warm-up in words, held against supply and data sheet, and its course."""

from __future__ import annotations

import math
from typing import Any, NamedTuple

from ..core.heating import drum_heat_capacity, warm_up_temperature, warm_up_time
from ..core.inputs import InputError
from ..core.mix import LINING
from ..core.supply import Drum, shared_course
from ..engine.evaluate import Reader
from ..problems import sentence, with_capital
from ..units import shown
from .linings import PLANNED, SECOND_LINING, of_planned, with_second
from .warm_up_times import OF_SIDE, SHARED, SOURCE, Drums
from .words import DAY, clock, said, to_a_tenth

__all__ = ["COURSE_CAPACITY", "COURSE_READS", "READS", "SOURCE", "course", "warm_up"]

COURSE_POINTS = 25
# Besides, each side before and after its set point goes back, and the ready time twice.
COURSE_CAPACITY = COURSE_POINTS + 2 * len(LINING) + 2
PART = ("part_drums", "drum_volume", "density", "specific_heat")
READS = with_second(
    (
        *(f"{side}_{name}" for side in LINING for name in OF_SIDE),
        *(f"{side}_{name}" for side in LINING for name in ("heat_limit", "drum_low", "drum_high")),
        *(f"{side}_{name}" for side in LINING for name in ("warm_up_time", "heater_power")),
        *SHARED,
        *("supply", "power_for_heaters", "power_drawn", "hose_set_point", "hose_warm_up"),
        *("stirring_time", "set_up_time", "panel_time", "ready_time"),
        *("preparation_needed", "switch_on"),
        *(f"{side}_{name}" for side in LINING for name in PART),
        "drum_steel",
    )
)
COURSE_READS = with_second(
    (
        *(f"{side}_{name}" for side in LINING for name in OF_SIDE),
        *(f"{side}_warm_up_time" for side in LINING),
        *SHARED,
        *("power_for_heaters", "preparation_needed", "set_up_time", "panel_time"),
    )
)

SAME_FOR_ALL = (
    "Pump output, heaters, hose, gun, supply, set-up, panel and limits of the office stay as typed "
    "for every lining; hose, machine and gun hold the other one until they were flushed as the "
    "machine manual says."
)
# More than this share of the supply leaves no room for a lamp or a fan.
NEARLY_ALL = 0.95


class Step(NamedTuple):
    """One step of the plan, or what stands against it."""

    step: Any
    step_time: Any
    step_side: Any
    step_temperature: Any
    step_words: Any


class Point(NamedTuple):
    """Both drums at one time, beside what they are warmed to."""

    course_time: float
    course_iso: Any = None
    course_resin: Any = None
    course_iso_target: Any = None
    course_resin_target: Any = None
    course_iso_set: Any = None
    course_resin_set: Any = None
    course_ready: Any = None


def warm_up(reader: Reader) -> list[Step]:
    """Rows of (step, time of day, side, temperature, words)."""
    drums = Drums(of_planned(reader, READS))
    steps: list[Step] = []
    if drums.values[PLANNED].si == SECOND_LINING:
        steps.append(Step("Second lining", None, "both", None, SAME_FOR_ALL))
    for side in LINING:
        if not drums.blank(side):
            _against_data_sheet(reader, drums, side, steps)
            if drums.of(side, "warm_up_time").refused and not drums.waits(side):
                never = str(drums.time_or_why(side))
                drum_target = drums.of(side, "drum_target")
                steps.append(Step("Never reached", None, side, drum_target.si, with_capital(never)))
    _power(reader, drums, steps)
    on = drums.values["switch_on"]
    if on.si is not None:
        steps += _times_of_day(drums, on.si)
    elif on.refused:
        where = ", ".join(on.roots[:4])
        steps.append(
            Step("No plan", None, "both", None, f"No plan before this is mended: {where}.")
        )
    return steps


def _against_data_sheet(reader: Reader, drums: Drums, side: str, steps: list[Step]) -> None:
    drum_target = drums.of(side, "drum_target")
    limit, spray = drums.of(side, "heat_limit"), drums.of(side, "spray_temperature")
    start = drums.values["drum_start"]
    for value in (start,):
        if limit.si is not None and value.si is not None and value.si > limit.si:
            found = f"{value.label} is {said(value)}"
            words = f"the data sheet allows {said(value, limit.si)} at most"
            reader.warn("outside-data-sheet", value, sentence(found, words, "lower it"))
            steps.append(Step("Too hot", None, side, value.si, f"{found}; {words}: lower it."))
    warmest = max((drum_target, start), key=lambda value: value.si)
    if spray.si is not None and warmest.si > spray.si:
        found = f"{warmest.label} is {said(warmest)}"
        words = f"it will pass its spray set point of {said(warmest, spray.si)}, and a heater "
        words += "cannot cool"
        reader.warn(
            "outside-data-sheet", warmest, sentence(found, words, "set its target at or below it")
        )
        words = f"The {side} drum{words[2:]}: set its target at or below it."
        steps.append(Step("Passes its set point", None, side, spray.si, words))
    for end, wrong, how in (("drum_low", -1, "below"), ("drum_high", 1, "above")):
        window = drums.of(side, end)
        if window.si is None or drum_target.si is None:
            continue
        if (drum_target.si - window.si) * wrong > 0:
            found = f"{drum_target.label} is {said(drum_target)}"
            words = f"it is {how} the {said(drum_target, window.si)} of the data sheet"
            reader.warn("outside-data-sheet", drum_target, sentence(found, words))
            steps.append(Step("Outside the window", None, side, window.si, f"{found}; {words}."))


def _power(reader: Reader, drums: Drums, steps: list[Step]) -> None:
    values = drums.values
    heater, drawn, supply = (values[name] for name in ("iso_heater_power", "power_drawn", "supply"))
    if drawn.si is None:
        return
    unit = heater.unit
    if supply.si is None and not supply.refused:
        words = "Voltage and current on Equipment are blank: whether the supply carries "
        words += f"{_power_said(drawn.si, unit)} was not looked at."
        steps.append(Step("Supply unknown", None, "both", None, words))
    if supply.si is not None and drawn.si > supply.si:
        found = f"all loads together are {_power_said(drawn.si, unit)}"
        words = f"the supply carries {_power_said(supply.si, unit)}"
        one = min(values[f"{side}_heater_power"].si or 0.0 for side in LINING)
        # Only where the smaller heater's share of the load makes room enough.
        fits = one > 0 and drawn.si - one <= supply.si
        mend = "have a competent electrician look at it"
        mend = f"warm one side after the other, or {mend}" if fits else mend
        reader.warn("power-short", heater, sentence(found, words, mend))
        text = f"All loads together are {_power_said(drawn.si, unit)}, {words}. Do not switch "
        text += "all on at once: ask a licensed electrician. Times below hold only where the "
        text += "machine itself shares the power between its heaters."
        text += _one_after_the_other(drums) if fits else ""
        steps.append(Step("Supply too small", None, "both", None, text))
    elif supply.si is not None and drawn.si > NEARLY_ALL * supply.si:
        words = f"All loads together are {_power_said(drawn.si, unit)} of the "
        words += f"{_power_said(supply.si, unit)} that the supply carries: next to nothing is left."
        steps.append(Step("Supply nearly used up", None, "both", None, words))


def _one_after_the_other(drums: Drums) -> str:
    """How long both drums take by turns, and when to begin; "" where that is not known."""
    times = [_by_itself(drums, side, drums.of(side, "heat_capacity").si) for side in LINING]
    later = [drums.values[name].si for name in ("set_up_time", "panel_time", "ready_time")]
    if None in times or None in later:
        return ""
    set_up, panel, ready = later
    both = sum(time for time in times if time is not None)
    begin = ready - (max(both, drums.values["stirring_time"].si or 0.0) + set_up + panel) / DAY
    day = _which_day(begin)
    each = " and ".join(_minutes(time) for time in times if time is not None)
    begin_by = f"{clock(begin % 1)} {day}".rstrip()
    text = f" One after the other they take {each}: begin by {begin_by}, and look after the first "
    return text + "one, which cools meanwhile."


def _which_day(at: float) -> str:
    """How many days before the one on which it is to be ready; "" for that day itself."""
    before = -math.floor(at + 1e-9)
    return {0: "", 1: "the day before"}.get(before, f"{before} days before")


def _minutes(time: float) -> str:
    return f"{time / 3600:.1f} h" if time >= 5400 else f"{time / 60:.0f} min"


def _by_itself(drums: Drums, side: str, heat_capacity: float | None) -> float | None:
    """Time to warm a drum with nothing else on the supply; None where it is not known."""
    drum = drums.drum(side)
    air, start = drums.values["air_temperature"].si, drums.values["drum_start"].si
    if heat_capacity is None or None in (*drum[1:6], air, start):
        return None
    try:
        return warm_up_time(heat_capacity, *drum[1:5], air, start, drum.target)
    except InputError:
        return None


def _part_drum(drums: Drums, side: str) -> tuple[float, str] | None:
    """When a part drum is warm, and what to say of it; None where none is on hand."""
    part, whole, density, specific_heat = (drums.of(side, name).si for name in PART)
    steel = drums.values["drum_steel"].si
    if not part or None in (whole, density, specific_heat, steel) or part >= whole:
        return None
    time = _by_itself(drums, side, drum_heat_capacity(part, density, specific_heat, steel))
    if not time:
        return None
    amount = said(drums.of(side, "part_drums"))
    words = f"a part drum with {amount} of {side} would be warm by now: stop recirculating it, "
    return time, words + "a part-full drum overheats first."


def _power_said(power: float, unit: str) -> str:
    return shown(float(f"{power:.4g}"), "power", unit)


def _times_of_day(drums: Drums, on: float) -> list[Step]:
    values = drums.values
    steps: list[tuple[float, Step]] = []
    needed, set_up, panel = (
        values[name].si for name in ("preparation_needed", "set_up_time", "panel_time")
    )
    # Whole days before the one on which it is to be ready.
    ready = values["ready_time"].si
    days_before = round(on - ready + (needed + set_up + panel) / DAY)
    # The heaters go on at a whole minute: what is left of it is waited for, so that it is ready
    # when Processing says.
    needed += max(0.0, (ready + days_before - on) * DAY - (needed + set_up + panel))

    def add(after: float, step: str, side: str, temperature: Any, words: str) -> None:
        at = on - days_before + after / DAY
        day = _which_day(at)
        told = f"{day and f'{day}, '}{clock(at % 1)}: {words}"
        steps.append((after, Step(step, at % 1, side, temperature, with_capital(told))))

    for side in LINING:
        time = drums.of(side, "warm_up_time").si
        drum_target, spray = drums.of(side, "drum_target"), drums.of(side, "spray_temperature")
        point = drums.of(side, "set_point")
        if time == 0:
            add(0.0, "Warm already", side, spray.si, f"the {side} drum is warm already.")
            continue
        words = f"recirculate {side} with its set point at {said(point)}."
        add(0.0, "Switch on", side, point.si, words)
        part = _part_drum(drums, side)
        if part is not None and part[0] < time:
            add(part[0], "Part drum", side, drum_target.si, part[1])
        back = (
            f"to {said(drum_target, spray.si)}" if spray.si is not None else "to spray temperature"
        )
        raised = spray.si is not None and point.si is not None and spray.si > point.si
        words = f"the {side} drum is at {said(drum_target)}: bring its set point {back}"
        words += f"{', which is up,' if raised else ''} and stop recirculating"
        words += f"{_afterwards(drums, side, time, needed + set_up + panel)}."
        add(time, "Stop recirculating", side, spray.si, words)
    stirring = values["stirring_time"]
    add(
        0.0,
        "Stir",
        "resin",
        None,
        f"stir the resin for {said(stirring)}; never stir iso in an open drum.",
    )
    add(needed, "Set up", "both", None, "all is warm: set points down, pressures up and balanced.")
    add(needed + set_up, "Test panel", "both", None, "spray the panel, look at it, note it.")
    add(
        needed + set_up + panel,
        "Ready",
        "both",
        None,
        "ready to spray, if panel and weather are good.",
    )
    point, hose = values["hose_set_point"], values["hose_warm_up"].si
    if hose is not None:
        words = f"hose on, set to {said(point)}, open to the drums, never shut and full."
        add(needed - hose, "Hose", "both", point.si, words)
    return [step for _, step in sorted(steps, key=lambda pair: pair[0])]


def _afterwards(drums: Drums, side: str, time: float, ready: float) -> str:
    """What becomes of a warm drum until all is ready, left alone and still recirculated."""
    drum, air = drums.drum(side), drums.values["air_temperature"].si
    drum_target, low = drums.of(side, "drum_target"), drums.of(side, "drum_low")
    left = ready - time
    later = drum.later_set_point
    if left <= 0 or later is None or air is None:
        return ""
    alone = _alone(drum, air, drum.target, left)
    words = f": left alone it is at about {to_a_tenth(drum_target, alone)} when all is ready"
    on = warm_up_temperature(*drum[:4], later, air, drum.target, left)
    if on > drum.target + 1.0:
        words += f", recirculated on at {to_a_tenth(drum_target, on)}"
    if low.si is not None and alone < low.si:
        words += f"; recirculate again before it falls below {said(drum_target, low.si)}"
    return words


def course(reader: Reader) -> list[Point]:
    """Rows for the chart: time, both drums, what they are warmed to, both set points, ready."""
    drums = Drums(of_planned(reader, COURSE_READS))
    ends = {side: drums.of(side, "warm_up_time").si for side in LINING}
    if any(drums.waits(side) or drums.blank(side) or ends[side] is None for side in LINING):
        return []
    longest = max(ends.values())
    if longest <= 0:
        return []
    needed = [drums.values[name] for name in ("preparation_needed", "set_up_time", "panel_time")]
    known = all(value.si is not None for value in needed)
    ready = sum(value.si for value in needed) if known else longest
    last_shown = max(longest, ready)
    steps = [last_shown * index / (COURSE_POINTS - 1) for index in range(COURSE_POINTS)]
    times = sorted({*steps, *ends.values()})
    targets = {f"course_{side}_target": drums.of(side, "drum_target").si for side in LINING}
    rows: list[Point] = []
    for time, temperatures in zip(times, _drums_at(drums, times)):
        # A drum that is warm is left alone from then on.
        shown_now = {
            f"course_{side}": temperature
            if time <= ends[side] * (1 + 1e-12)
            else _left_alone(drums, side, time)
            for side, temperature in zip(LINING, temperatures)
        }
        before, after = (
            {f"course_{side}_set": _set_point(drums, side, on[side]) for side in LINING}
            for on in (
                {side: time <= end for side, end in ends.items()},
                {side: time < end for side, end in ends.items()},
            )
        )
        rows.append(Point(time, **shown_now, **targets, **before))
        if after != before:
            rows.append(Point(time, **targets, **after))
    if known:
        last = {**targets, **after}
        lowest = min(drums.values["drum_start"].si, *last.values())
        levels = [getattr(row, name) for row in rows for name in last]
        rows += [Point(ready, **last, course_ready=end) for end in (lowest, max(levels))]
    return rows


def _alone(drum: Drum, air: float, start: float, time: float) -> float:
    """A drum that nothing heats, after a time."""
    capacity, loss, point = drum.heat_capacity, drum.heat_loss, drum.set_point
    return warm_up_temperature(capacity, loss, 0.0, 0.0, point, air, start, time)


def _left_alone(drums: Drums, side: str, time: float) -> float:
    """A drum that was warmed and is not recirculated any more."""
    drum, air = drums.drum(side), drums.values["air_temperature"].si
    since = time - drums.of(side, "warm_up_time").si
    start = max(drum.target, drums.values["drum_start"].si)
    return _alone(drum, air, start, since)


def _set_point(drums: Drums, side: str, warming: bool) -> float:
    """Where a side is set to; where its spray temperature is not known it stays."""
    point, later = drums.of(side, "set_point").si, drums.of(side, "spray_temperature").si
    return float(point if warming or later is None else later)


def _drums_at(drums: Drums, times: list[float]) -> list[tuple[float, float]]:
    """Temperatures of both drums at rising times."""
    pair = [drums.drum(side) for side in LINING]
    start, air = drums.values["drum_start"].si, drums.values["air_temperature"].si
    if drums.shares(LINING[0]):
        supply = drums.values["power_for_heaters"].si
        return list(shared_course(pair[0], pair[1], supply, air, start, times))
    iso, resin = ((*drum[:5], air, start) for drum in pair)
    return [(warm_up_temperature(*iso, time), warm_up_temperature(*resin, time)) for time in times]
