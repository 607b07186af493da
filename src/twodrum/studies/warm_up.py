"""When to switch on, what to hand back when, and whether supply and data sheet allow it."""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import Any

from ..core.heating import warm_up_limit, warm_up_temperature, warm_up_time
from ..core.hose import hose_warm_up_time
from ..core.inputs import InputError
from ..core.mix import LINING, OTHER_SIDE
from ..core.supply import Drum, shared_course, shared_warm_up_time
from ..evaluate import Reader, Refused, Value, waits_for
from ..problems import sentence, with_capital
from ..units import shown
from .words import DAY, clock, said, to_a_tenth

SOURCE = (
    "Heat balance of a mixed drum, in closed form by phases; where the supply is too small for "
    "both heaters, integrated by the Runge-Kutta method of fourth order"
)
COURSE_POINTS = 25

OF_SIDE = (
    *("heat_capacity", "heating", "flow_heat_rate", "set_point", "hand_back"),
    *("spray_temperature", "heat_limit", "drum_low", "drum_high", "heater_power"),
)
COMMON = (
    *("drum_start", "drum_heat_loss", "air_temperature", "heating_efficiency", "supply"),
    *("hose_heating_power", "other_power", "stirring_time", "set_up_time", "panel_time"),
    *("ready_time", "hose_set_point", "hose_capacity", "hose_heating", "hose_heat_loss"),
    "hose_length",
)
READS = (*(f"{side}_{name}" for side in LINING for name in OF_SIDE), *COMMON)
COURSE_READS = (
    *(
        f"{side}_{name}"
        for side in LINING
        for name in (*OF_SIDE[:4], "hand_back", "warm_up_time", "spray_temperature")
    ),
    *("drum_start", "drum_heat_loss", "air_temperature", "heating_efficiency", "supply"),
    *("hose_heating_power", "other_power"),
)

Step = tuple[str, Any, str, Any, str]


@dataclass
class Plan:
    """The values of both sides and what they share."""

    values: dict[str, Value]

    def of(self, side: str, name: str) -> Value:
        return self.values[f"{side}_{name}"]

    def drum(self, side: str) -> Drum:
        return Drum(
            self.of(side, "heat_capacity").si,
            self.values["drum_heat_loss"].si,
            self.of(side, "heating").si,
            self.of(side, "flow_heat_rate").si,
            self.of(side, "set_point").si,
            self.of(side, "hand_back").si,
            # Where the spray temperature is not known the set point stays.
            self.of(side, "spray_temperature").si,
        )

    def by_itself(self, side: str) -> tuple[float, float, float, float, float, float, float]:
        """A drum whose heater has all the power it asks for, as the laws want it."""
        drum = self.drum(side)
        start, air = self.values["drum_start"].si, self.values["air_temperature"].si
        return (*drum[:5], air, start)

    def shares(self, side: str) -> bool:
        """Whether the supply is too small for both heaters at once."""
        other = OTHER_SIDE[side]
        if self.blank(other):
            return False
        both = self.drum(side).heater_power + self.drum(other).heater_power
        return bool(both > self.for_heaters)

    @property
    def for_heaters(self) -> float:
        """Power that the supply leaves for the liquid of both sides; infinite where unknown."""
        supply = self.values["supply"].si
        if supply is None:
            return math.inf
        rest = supply - (self.values["hose_heating_power"].si or 0.0)
        rest -= self.values["other_power"].si
        return float(max(0.0, rest) * self.values["heating_efficiency"].si)

    def missing(self, side: str) -> Refused | None:
        """`Refused` where a value is refused; raises nothing where one is only blank."""
        needed = [self.of(side, name) for name in (*OF_SIDE[:4], "hand_back")]
        supply = [self.values[name] for name in ("supply", "hose_heating_power", "other_power")]
        if self.values["supply"].si is not None:
            other = OTHER_SIDE[side]
            supply += [self.of(other, name) for name in OF_SIDE[:4]]
        return waits_for(*needed, *self.shared(), *supply)

    def shared(self) -> list[Value]:
        names = ("drum_start", "drum_heat_loss", "air_temperature")
        return [self.values[name] for name in names]

    def blank(self, side: str) -> bool:
        needed = [self.of(side, name) for name in (*OF_SIDE[:4], "hand_back")]
        return any(value.si is None for value in [*needed, *self.shared()])

    def time(self, side: str) -> float:
        """Time to the hand-back temperature; InputError where it is never reached."""
        drum, limit = self.drum(side), self.for_heaters
        if not self.shares(side) or drum.heater_power == 0:
            return warm_up_time(*self.by_itself(side), drum.target)
        start, air = self.values["drum_start"].si, self.values["air_temperature"].si
        if drum.target <= start:
            return 0.0
        if limit <= 0:
            raise InputError("target_temperature", drum.target, "less than", max(start, air))
        other = self.drum(OTHER_SIDE[side])
        return shared_warm_up_time(
            *drum[:4],
            *other[:4],
            limit,
            drum.set_point,
            air,
            start,
            drum.target,
            other.set_point,
            other.target,
            other.later_set_point,
        )


def warm_up(reader: Reader) -> list[Step]:
    """Rows of (step, time of day, side, temperature, words)."""
    plan = Plan({name: reader.cell(name) for name in READS})
    steps: list[Step] = []
    times: dict[str, Any] = {side: _side(reader, plan, side, steps) for side in LINING}
    for side, time in times.items():
        reader.give(f"{side}_warm_up_time", time)
        reader.give(f"{side}_energy", _energy(plan, side, time))
    needed = _longest(plan, times)
    reader.give("preparation_needed", needed)
    hose = _hose(reader, plan)
    reader.give("hose_warm_up", hose)
    on = _switch_on(plan, needed)
    reader.give("switch_on", on % 1 if isinstance(on, float) else on)
    reader.give("energy_drawn", _energy_drawn(plan, times))
    reader.give("power_drawn", _power(reader, plan, steps))
    if isinstance(on, float) and isinstance(needed, float):
        steps += _times_of_day(plan, times, on, needed, hose)
    elif isinstance(on, Refused):
        where = ", ".join(on.roots[:4])
        steps.append(("No plan", None, "both", None, f"No plan before this is mended: {where}."))
    return steps


def _side(reader: Reader, plan: Plan, side: str, steps: list[Step]) -> float | Refused | None:
    refused = plan.missing(side)
    if refused or plan.blank(side):
        return refused
    _against_data_sheet(reader, plan, side, steps)
    hand_back = plan.of(side, "hand_back")
    try:
        time = plan.time(side)
    except InputError as error:
        if error.argument != "target_temperature":
            # A guard of the laws: none is known that the limits of the fields do not keep.
            raise
        stops = to_a_tenth(hand_back, error.bound)
        words = f"never reached, it stops at {stops} because {_because(plan, side)}"
        found = f"{hand_back.label} is {said(hand_back)}"
        mend = "more power, a higher set point inside the data sheet, a cover, or less warming"
        refused = reader.refuse(hand_back, sentence(found, words, mend))
        steps.append(("Never reached", None, side, hand_back.si, with_capital(words)))
        return refused
    return time


def _because(plan: Plan, side: str) -> str:
    drum, air = plan.drum(side), plan.values["air_temperature"].si
    if drum.heater_power == 0 or drum.flow_heat_rate == 0:
        return "nothing heats it"
    alone = warm_up_limit(*drum[1:5], air)
    if plan.shares(side) and alone > drum.target:
        return "the supply has no more for both heaters than the drums lose to the air"
    by_power = air + drum.heater_power / drum.heat_loss if drum.heat_loss else math.inf
    if by_power <= alone:
        heat = shown(float(f"{drum.heater_power:.3g}"), "power", "kW")
        return f"the {heat} that reach the liquid then only cover what the drum loses to the air"
    at = said(plan.of(side, "set_point"))
    return f"the set point of {at} then only covers what the drum loses to the air"


def _against_data_sheet(reader: Reader, plan: Plan, side: str, steps: list[Step]) -> None:
    set_point, hand_back = plan.of(side, "set_point"), plan.of(side, "hand_back")
    limit, spray = plan.of(side, "heat_limit"), plan.of(side, "spray_temperature")
    start = plan.values["drum_start"]
    for value in (set_point, hand_back, start):
        if limit.si is not None and value.si is not None and value.si > limit.si:
            found = f"{value.label} is {said(value)}"
            words = f"the data sheet allows {said(value, limit.si)} at most"
            reader.warn(value, sentence(found, words, "lower it"))
            steps.append(("Too hot", None, side, value.si, f"{found}; {words}: lower it."))
    warmest = max((hand_back, start), key=lambda value: value.si)
    if spray.si is not None and warmest.si > spray.si:
        found = f"{warmest.label} is {said(warmest)}"
        words = f"it will pass its spray set point of {said(warmest, spray.si)}, and a heater "
        words += "cannot cool"
        reader.warn(warmest, sentence(found, words, "hand back at or below it"))
        words = f"The {side} drum{words[2:]}: hand back at or below it."
        steps.append(("Passes its set point", None, side, spray.si, words))
    for end, wrong, how in (("drum_low", -1, "below"), ("drum_high", 1, "above")):
        window = plan.of(side, end)
        if window.si is None or hand_back.si is None:
            continue
        if (hand_back.si - window.si) * wrong > 0:
            found = f"{hand_back.label} is {said(hand_back)}"
            words = f"it is {how} the {said(hand_back, window.si)} of the data sheet"
            reader.warn(hand_back, sentence(found, words))
            steps.append(("Outside the window", None, side, window.si, f"{found}; {words}."))


def _energy(plan: Plan, side: str, time: Any) -> Any:
    if not isinstance(time, float):
        return time
    rise = plan.of(side, "hand_back").si - plan.values["drum_start"].si
    return plan.of(side, "heat_capacity").si * max(0.0, rise)


def _longest(plan: Plan, times: dict[str, Any]) -> Any:
    stirring = plan.values["stirring_time"]
    refused = [time for time in times.values() if isinstance(time, Refused)]
    if refused:
        return Refused(tuple(dict.fromkeys(root for one in refused for root in one.roots)))
    if stirring.refused:
        return waits_for(stirring)
    known = [time for time in times.values() if time is not None]
    return max([*known, stirring.si]) if len(known) == len(LINING) else None


def _switch_on(plan: Plan, needed: Any) -> Any:
    """Time of day as a share of the day; below 0 on a day before."""
    others = [plan.values[name] for name in ("ready_time", "set_up_time", "panel_time")]
    refused = waits_for(*others)
    if isinstance(needed, Refused) or refused:
        return needed if isinstance(needed, Refused) else refused
    ready, set_up, panel = (value.si for value in others)
    if needed is None or ready is None:
        return None
    # Cut to the minute before, so that every time that follows from it is the same everywhere.
    share = ready - (set_up + panel + needed) / DAY
    return math.floor(share * 1440 + 1e-6) / 1440


def _energy_drawn(plan: Plan, times: dict[str, Any]) -> Any:
    energies = [_energy(plan, side, time) for side, time in times.items()]
    refused = [one for one in energies if isinstance(one, Refused)]
    if refused:
        return refused[0]
    if None in energies:
        return None
    efficiency = plan.values["heating_efficiency"]
    return waits_for(efficiency) or sum(energies) / efficiency.si


def _power(reader: Reader, plan: Plan, steps: list[Step]) -> Any:
    heaters = [plan.of(side, "heater_power") for side in LINING]
    other, hose = plan.values["other_power"], plan.values["hose_heating_power"]
    refused = waits_for(*heaters, other, hose)
    if refused or any(heater.si is None for heater in heaters):
        return refused
    drawn = sum(heater.si for heater in heaters) + other.si + (hose.si or 0.0)
    supply = plan.values["supply"]
    unit = heaters[0].unit
    if supply.si is None and not supply.refused:
        words = "Voltage and current on Equipment are blank: whether the supply carries "
        words += f"{_power_said(drawn, unit)} was not looked at."
        steps.append(("Supply unknown", None, "both", None, words))
    if supply.si is not None and drawn > supply.si:
        found = f"all loads together are {_power_said(drawn, unit)}"
        words = f"the supply carries {_power_said(supply.si, unit)}"
        mend = "warm one side after the other, or have a licensed electrician give more"
        reader.warn(heaters[0], sentence(found, words, mend))
        text = f"All loads together are {_power_said(drawn, unit)}, {words}. Do not switch all on "
        text += "at once: ask a licensed electrician. Times below hold only where the machine "
        text += "itself shares the power between its heaters."
        steps.append(("Supply too small", None, "both", None, text))
    return drawn


def _power_said(power: float, unit: str) -> str:
    return shown(float(f"{power:.4g}"), "power", unit)


def _hose(reader: Reader, plan: Plan) -> Any:
    """Time in which the hose at rest is warm; blank where it is not heated or never warm."""
    names = ("hose_capacity", "hose_heating", "hose_heat_loss", "air_temperature", "drum_start")
    needed = [plan.values[name] for name in (*names, "hose_set_point", "hose_length")]
    refused = waits_for(*needed)
    if refused or any(value.si is None for value in needed) or needed[1].si == 0:
        return refused
    try:
        return hose_warm_up_time(*(value.si for value in needed[:6]))
    except InputError as error:
        stops = to_a_tenth(needed[5], error.bound)
        found = f"the hose at rest is never at {said(needed[5])}"
        words = f"its heater stops at {stops}"
        reader.warn(needed[1], sentence(found, words, "recirculate warm liquid through it"))
        return None


def _times_of_day(
    plan: Plan, times: dict[str, float], on: float, needed: float, hose: Any
) -> list[Step]:
    steps: list[tuple[float, Step]] = []

    def add(after: float, step: str, side: str, temperature: Any, words: str) -> None:
        at = on + after / DAY
        before = -math.floor(at + 1e-9)
        days = {0: "", 1: "the day before, "}.get(before, f"{before} days before, ")
        told = f"{days}{clock(at % 1)}: {words}"
        steps.append((after, (step, at % 1, side, temperature, with_capital(told))))

    for side, time in times.items():
        hand_back, spray = plan.of(side, "hand_back"), plan.of(side, "spray_temperature")
        point = plan.of(side, "set_point")
        if time == 0:
            add(0.0, "Warm already", side, spray.si, f"the {side} drum is warm already.")
            continue
        words = f"recirculate {side} with its set point at {said(point)}."
        add(0.0, "Switch on", side, point.si, words)
        back = f"to {said(hand_back, spray.si)}" if spray.si is not None else "to spray temperature"
        words = f"the {side} drum is at {said(hand_back)}: bring its set point {back}."
        add(time, "Hand back", side, spray.si, words)
    stirring = plan.values["stirring_time"]
    add(
        0.0,
        "Stir",
        "resin",
        None,
        f"stir the resin for {said(stirring)}; never stir iso in an open drum.",
    )
    add(needed, "Set up", "both", None, "all is warm: set points down, pressures up and balanced.")
    set_up = plan.values["set_up_time"].si
    add(needed + set_up, "Test panel", "both", None, "spray the panel, look at it, note it.")
    add(
        needed + set_up + plan.values["panel_time"].si,
        "Ready",
        "both",
        None,
        "ready to spray, if panel and weather are good.",
    )
    point = plan.values["hose_set_point"]
    if isinstance(hose, float):
        words = f"hose on, set to {said(point)}, open to the drums, never shut and full."
        add(needed - hose, "Hose", "both", point.si, words)
    return [step for _, step in sorted(steps, key=lambda pair: pair[0])]


def course(reader: Reader) -> list[tuple[Any, ...]]:
    """Rows of (time, iso, resin, iso hand-back, resin hand-back) for the chart."""
    plan = Plan({name: reader.cell(name) for name in COURSE_READS})
    ends = {side: plan.of(side, "warm_up_time").si for side in LINING}
    if any(plan.blank(side) or not isinstance(ends[side], float) for side in LINING):
        return []
    longest = max(ends.values())
    if longest <= 0:
        return []
    times = [longest * index / (COURSE_POINTS - 1) for index in range(COURSE_POINTS)]
    if not plan.shares(LINING[0]):
        alone = [plan.by_itself(side) for side in LINING]
        both = [tuple(warm_up_temperature(*drum, time) for drum in alone) for time in times]
    else:
        drums = [plan.drum(side) for side in LINING]
        start, air = plan.values["drum_start"].si, plan.values["air_temperature"].si
        both = list(shared_course(drums[0], drums[1], plan.for_heaters, air, start, times))
    targets = [plan.of(side, "hand_back").si for side in LINING]
    rows = []
    for time, temperatures in zip(times, both):
        # A line ends where its drum is warm and its set point goes back.
        shown_now = [
            temperature if time <= ends[side] * (1 + 1e-12) else None
            for side, temperature in zip(LINING, temperatures)
        ]
        rows.append((time, *shown_now, *targets))
    return rows
