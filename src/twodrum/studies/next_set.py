"""How far a quote is from its next drum set, and what is left in the last one."""

from __future__ import annotations

from typing import Any, NamedTuple

from ..core.cost import PRICING_BASES
from ..core.mix import LINING
from ..engine.evaluate import Reader
from .words import in_percent, rounded, said

SOURCE = (
    "Volume balance: what the drums hold less what is mixed, taken up by film or area of the "
    "surfaces with the film of the job, or by its loss; each by itself"
)
CAPACITY = 4
OF_AREAS = ("film_volume", "profile_volume", "measured_area", "film_override", "system")
OF_ORDER = (
    *("component", "ratio_part", "drum_volume", "residue", "part_drum_volume", "drums_opened"),
    "volume_price",
)
NEEDED = ("first_volume", "acceptance_share", "film_thickness", "loss_share")
READS = (
    *(f"areas.{name}" for name in OF_AREAS),
    *(f"order.{name}" for name in OF_ORDER),
    *NEEDED,
    *("measured_area_total", "pricing_basis", "currency"),
)


class Next(NamedTuple):
    """One way to open the next drum set, or what the last one leaves."""

    next_what: str
    next_words: str


def next_set(reader: Reader) -> list[Next]:
    """Rows of (what, in words), for iso and resin; empty while a value is blank or refused."""
    volume, aimed, film, loss = (reader.value(name) for name in NEEDED)
    columns = [reader.column("order", name) for name in OF_ORDER]
    drums = {row[0]: row[1:] for row in zip(*columns)}
    sides = [drums.get(side, (None,)) for side in LINING]
    areas = list(zip(*(reader.column("areas", name) for name in OF_AREAS)))
    known = [volume, aimed, film, loss, *(value for side in sides for value in side[:5])]
    if None in known or not volume or any(None in row[:3] for row in areas):
        return []
    total = sum(side[0] for side in sides)
    held = min(
        ((drum - residue) * count + part_drum) * total / part
        for part, drum, residue, part_drum, count, *_ in sides
    )
    left = max(0.0, held - volume)
    mean = reader.cell("first_volume")
    over = f"{rounded(left, mean)} mixed{_worth(reader, sides, left)}"
    rows = [Next("Left in the last drums", over)]
    own = [row for row in areas if row[4] is None]
    plain = [row for row in own if row[3] is None]
    growing = sum(row[0] for row in plain) * (1 + aimed) / (1 - loss)
    if growing > 0:
        more = film * left / growing
        cell = reader.cell("film_thickness")
        rows.append(
            Next("Film of the job", f"above {rounded(film + more, cell)}, now {said(cell)}")
        )
        each = growing + sum(row[1] for row in plain) / (1 - loss)
        area = sum(row[2] for row in plain) * left / each
        told = f"with more than {rounded(area, reader.cell('measured_area_total'))} in addition"
        rows.append(Next("Area with the film of the job", told))
    sprayed = sum(row[0] * (1 + aimed) + row[1] for row in own) / (1 - loss)
    if sprayed > 0:
        least = 1 - sprayed * (1 - loss) / (sprayed + left)
        rows.append(Next("Loss", f"above {in_percent(least)}, now {in_percent(loss)}"))
    return rows


def _worth(reader: Reader, sides: list[Any], left: float) -> str:
    """What is left in money, where both sides have a price."""
    prices = [side[5] for side in sides]
    if None in prices:
        return ""
    total = sum(side[0] for side in sides)
    worth = sum(left * side[0] / total * float(side[5]) for side in sides)
    priced = reader.value("pricing_basis") != PRICING_BASES[0]
    where = "in the price" if priced else "not in the price, which is by volume"
    return f", worth {worth:,.2f} {reader.value('currency')}; {where}"
