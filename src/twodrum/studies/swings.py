"""Which input moves the price most when it is a little less or more than thought."""

from __future__ import annotations

from typing import Any, NamedTuple

from ..engine.evaluate import Reader

SOURCE = "Price of the what-ifs with one input swung at a time, the widest first"
READS = ("scenarios.scenario", "scenarios.scenario_price", "net_price", "swing")
LESS, MORE = "less ", "more "


class Swing(NamedTuple):
    """What one doubt does to the price."""

    swing_of: Any
    swing_low: Any
    swing_high: Any
    swing_width: Any
    swing_words: Any


def swings(reader: Reader) -> list[Swing]:
    """Rows of (input, change when less, change when more, width, words)."""
    names = reader.column("scenarios", "scenario")
    prices = dict(zip(names, reader.column("scenarios", "scenario_price")))
    net, swing = reader.value("net_price"), reader.value("swing")
    if net is None or swing is None:
        return []
    found = []
    for name in names:
        if not name.startswith(LESS):
            continue
        what = name.removeprefix(LESS)
        low, high = prices[name], prices[MORE + what]
        if low is None or high is None:
            continue
        width = abs(high - low)
        words = f"{swing * 100:g} % less {what} makes it {low:,.2f}, {swing * 100:g} % more "
        words += f"{high:,.2f}."
        if width == 0:
            words = f"{swing * 100:g} % more or less {what} leaves the price as it is."
        found.append(Swing(what, low - net, high - net, width, words))
    return sorted(found, key=lambda row: -row.swing_width)
