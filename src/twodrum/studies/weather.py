"""The weather of a day: the last of each value counts on, with its age."""

from __future__ import annotations

from dataclasses import dataclass, field

from ..core import air
from ..engine.evaluate import Refused, Value, waits_for

WEATHER = ("air", "humidity", "surface_reading")


@dataclass
class Weather:
    """The last of each weather value, and when it was typed; a refused one holds too."""

    values: dict[str, tuple[Value, float | None]] = field(default_factory=dict)

    def note(self, row: dict[str, Value], now: float | None) -> None:
        for name in WEATHER:
            if row[name].si is not None or row[name].refused:
                self.values[name] = (row[name], now)

    def dew_margin(self) -> float | Refused | None:
        refused = waits_for(*(value for value, _ in self.values.values()))
        if refused or len(self.values) < len(WEATHER):
            return refused
        air_temperature, humidity, surface = (self.values[name][0].si for name in WEATHER)
        return air.dew_margin(surface, air.dew_point(air_temperature, humidity))

    def age(self, time: Value, now: float | None) -> float | Refused | None:
        if not self.values:
            return None
        times = [then for _, then in self.values.values()]
        known = [then for then in times if then is not None]
        if now is None or len(known) < len(times):
            untimed = [value.where for value, then in self.values.values() if then is None]
            return Refused(time.roots if now is None else tuple(untimed))
        return now - min(known)
