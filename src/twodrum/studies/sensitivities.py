"""Which input moves the price most when it is a little less or more than thought."""

from __future__ import annotations

from typing import Any, NamedTuple

from ..engine.evaluate import Reader

SOURCE = "Price of the what-ifs with one input swung at a time, the widest first"
READS = ("scenarios.scenario", "scenarios.scenario_price", "net_price", "sensitivity")
LESS, MORE = "less ", "more "


class Sensitivity(NamedTuple):
    """What one uncertainty does to the price."""

    sensitivity_of: Any
    sensitivity_low: Any
    sensitivity_high: Any
    sensitivity_width: Any
    sensitivity_words: Any


def sensitivities(reader: Reader) -> list[Sensitivity]:
    """Rows of (input, change when less, change when more, width, words)."""
    names = reader.column("scenarios", "scenario")
    prices = dict(zip(names, reader.column("scenarios", "scenario_price")))
    net, sensitivity = reader.value("net_price"), reader.value("sensitivity")
    if net is None or sensitivity is None:
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
        step = f"{sensitivity * 100:g} %"
        words = f"{step} less {what} makes it {low:,.2f}, {step} more "
        words += f"{high:,.2f}."
        if width == 0:
            words = f"{step} more or less {what} leaves the price as it is."
        found.append(Sensitivity(what, low - net, high - net, width, words))
    return sorted(found, key=lambda row: -row.sensitivity_width)
