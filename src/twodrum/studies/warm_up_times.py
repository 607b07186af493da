"""How long each drum and the hose need, and why one of them never gets there."""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import Any

from ..core.heating import warm_up_limit
from ..core.hose import hose_warm_up_time
from ..core.inputs import InputError
from ..core.mix import LINING, OTHER_SIDE
from ..core.supply import Drum, shared_warm_up_time
from ..engine.evaluate import Reader, Refused, Value, waits_for
from ..problems import sentence
from ..units import shown
from .linings import of_planned, with_second
from .words import said, to_a_tenth

SOURCE = (
    "Heat balance of a mixed drum, in closed form by phases; where the supply is too small for "
    "both heaters, integrated by the Runge-Kutta method of fourth order"
)
HEATED = ("heat_capacity", "heating", "flow_heat_rate", "set_point")
SHARED = ("drum_start", "drum_heat_loss", "air_temperature")
HOSE = ("hose_capacity", "hose_heating", "hose_heat_loss", "air_temperature", "drum_start")
OF_SIDE = (*HEATED, "drum_target", "spray_temperature")
READS = with_second(
    (
        *(f"{side}_{name}" for side in LINING for name in OF_SIDE),
        *SHARED,
        "power_for_heaters",
        *HOSE[:3],
        *("hose_set_point", "hose_length"),
    )
)


@dataclass
class Drums:
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
            self.of(side, "drum_target").si,
            # Where the spray temperature is not known the set point stays.
            self.of(side, "spray_temperature").si,
        )

    def shares(self, side: str) -> bool:
        """Whether the supply is too small for both heaters at once."""
        limit, other = self.values["power_for_heaters"].si, self.drum(OTHER_SIDE[side])
        if limit is None or None in other[:4]:
            return False
        return bool(self.drum(side).heater_power + other.heater_power > limit)

    def waits(self, side: str) -> Refused | None:
        """What a time waits for: both heaters may be on one supply."""
        other = OTHER_SIDE[side]
        needed = [*self.own(side), *(self.of(other, name) for name in OF_SIDE)]
        return waits_for(*needed, *(self.values[n] for n in (*SHARED, "power_for_heaters")))

    def own(self, side: str) -> list[Value]:
        return [self.of(side, name) for name in (*HEATED, "drum_target")]

    def needed(self, side: str) -> list[Value]:
        """What its own time can't do without."""
        return [*self.own(side), *(self.values[name] for name in SHARED)]

    def blank(self, side: str) -> bool:
        return any(value.si is None for value in self.needed(side))

    def time(self, side: str) -> float:
        """Time to the hand-back temperature; InputError where it is never reached."""
        drum, other = self.drum(side), self.drum(OTHER_SIDE[side])
        return shared_warm_up_time(
            *drum[:4],
            *other[:4],
            self.values["power_for_heaters"].si,
            drum.set_point,
            self.values["air_temperature"].si,
            self.values["drum_start"].si,
            drum.target,
            other.set_point,
            other.target,
            other.later_set_point,
        )

    def time_or_why(self, side: str) -> float | str:
        """Time to the hand-back temperature, or why a drum never gets there."""
        try:
            return self.time(side)
        except InputError as error:
            if error.argument != "target_temperature":
                # A guard of the laws: none is known that the limits of the fields do not keep.
                raise
            stops = to_a_tenth(self.of(side, "drum_target"), error.bound)
            return f"never reached, it stops at {stops} because {self._because(side)}"

    def _because(self, side: str) -> str:
        drum, air = self.drum(side), self.values["air_temperature"].si
        if drum.heater_power == 0 or drum.flow_heat_rate == 0:
            return "nothing heats it"
        alone = warm_up_limit(*drum[1:5], air)
        if self.shares(side) and alone > drum.target:
            return "the supply has no more for both heaters than the drums lose to the air"
        by_power = air + drum.heater_power / drum.heat_loss if drum.heat_loss else math.inf
        if by_power <= alone:
            heat = shown(float(f"{drum.heater_power:.3g}"), "power", "kW")
            return (
                f"the {heat} that reach the liquid then only cover what the drum loses to the air"
            )
        at = said(self.of(side, "set_point"))
        return f"the set point of {at} then only covers what the drum loses to the air"


def warm_up_times(reader: Reader) -> list[Any]:
    """The times of both drums and of the hose; no rows."""
    drums = Drums(of_planned(reader, READS))
    for side in LINING:
        reader.give(f"{side}_warm_up_time", _time(reader, drums, side))
    reader.give("hose_warm_up", _hose(reader, drums.values))
    return []


def _time(reader: Reader, drums: Drums, side: str) -> float | Refused | None:
    # A blank asks for nothing, whatever is wrong beside it.
    if any(value.si is None and not value.refused for value in drums.needed(side)):
        return None
    refused = drums.waits(side)
    if refused:
        return refused
    found_time = drums.time_or_why(side)
    if isinstance(found_time, float):
        return found_time
    drum_target = drums.of(side, "drum_target")
    found = f"{drum_target.label} is {said(drum_target)}"
    mend = "more power, a higher set point inside the data sheet, a cover, or less warming"
    return reader.refuse("impossible", drum_target, sentence(found, found_time, mend))


def _hose(reader: Reader, values: dict[str, Value]) -> Any:
    """Time in which the hose at rest is warm; blank where it is not heated or never warm."""
    needed = [values[name] for name in (*HOSE, "hose_set_point", "hose_length")]
    refused = waits_for(*needed)
    if refused or any(value.si is None for value in needed) or needed[1].si == 0:
        return refused
    try:
        return hose_warm_up_time(*(value.si for value in needed[:6]))
    except InputError as error:
        stops = to_a_tenth(needed[5], error.bound)
        found = f"the hose at rest is never at {said(needed[5])}"
        words = f"its heater stops at {stops}"
        reader.warn(
            "hose-never-warm",
            needed[1],
            sentence(found, words, "recirculate warm liquid through it"),
        )
        return None
