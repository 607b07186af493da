"""How many drum sets are enough, how surely, and what is then left over."""

from __future__ import annotations

from typing import Any, NamedTuple

from ..core.cost import PRICING_BASES
from ..core.mix import LINING
from ..core.odds import left_over_expected, mix_of_sets, volume_suffices
from ..engine.evaluate import Reader
from ..problems import sentence
from .words import rounded

SOURCE = (
    "Area and film with logarithmic normal laws, loss with a normal law, none knowing of the "
    "others (our choice); integrated by a Gauss-Legendre rule"
)
CAPACITY = 5
# Below this chance a quote says so; our choice.
LIKELY = 0.6
OF_ORDER = ("component", "drum_volume", "residue", "part_drum_volume")
DOUBTS = (
    *("first_on_surface", "first_fixed", "first_loss"),
    *("area_uncertainty", "film_uncertainty", "loss_uncertainty"),
)
READS = (
    *DOUBTS,
    *("volume_odds", "volume_at_good", "first_volume", "pricing_basis"),
    *("first_sets", "iso_ratio", "resin_ratio"),
    *(f"order.{n}" for n in OF_ORDER),
)


class Sets(NamedTuple):
    """So many drum sets, and how sure their litres are."""

    litres_sets: Any
    litres_volume: Any
    litres_chance: Any
    litres_left: Any
    litres_words: Any


def litres(reader: Reader) -> list[Sets]:
    """Rows of (drum sets, mixed volume, chance, left over, words), for iso and resin."""
    odds, mean = reader.cell("volume_odds"), reader.cell("first_volume")
    good, basis = reader.value("volume_at_good"), reader.value("pricing_basis")
    uncertainties = [reader.value(name) for name in DOUBTS]
    sets, ratios = reader.value("first_sets"), [reader.value(f"{side}_ratio") for side in LINING]
    columns = [reader.column("order", name) for name in OF_ORDER]
    drums = {row[0]: row[1:] for row in zip(*columns)}
    sides = [value for side in LINING for value in drums.get(side, (None,))]
    if None in (*uncertainties, sets, *ratios, *sides) or not all(ratios) or uncertainties[0] <= 0:
        return []
    iso, resin = ((*drums[side], ratio) for side, ratio in zip(LINING, ratios))
    rows: list[Sets] = []
    first = max(0, int(sets) - 2)
    for count in range(first, first + CAPACITY):
        volume = mix_of_sets(count, *iso, *resin)
        chance = volume_suffices(volume, *uncertainties)
        left = left_over_expected(volume, *uncertainties)
        rows.append(Sets(count, volume, chance, left, _words(count, chance, int(sets))))
    if odds.si is not None and good is not None:
        what, chance = "litres", odds.si
        more = rounded(good - mean.si, odds.but(kind=mean.kind, unit=mean.unit))
        more = f"{more} more suffice in 80 of 100"
        if basis != PRICING_BASES[0]:
            what, more = "drums", "the rows below say what further ones come to"
            chance = next(row.litres_chance for row in rows if row.litres_sets == int(sets))
        if chance < LIKELY:
            found = f"the quoted {what} of iso and resin suffice in {chance * 100:.0f} jobs of 100"
            reader.warn("unusual", odds, sentence(found, more))
    return rows


def _words(count: int, chance: float, quoted: int) -> str:
    sets = {0: "no further drum set is", 1: "one drum set is"}.get(count, f"{count} drum sets are")
    if chance > 0.995:
        said = f"{sets} as good as surely enough"
    elif chance < 0.005:
        said = f"{sets} hardly ever enough"
    else:
        said = f"{sets} enough in about {chance * 100:.0f} jobs of 100"
    mark = "; so many are quoted" if count == quoted else ""
    return f"{said[0].upper()}{said[1:]}{mark}."
