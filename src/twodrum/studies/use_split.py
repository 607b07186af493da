"""Each cause of what was used above the quote, with its money and how sure it is."""

from __future__ import annotations

import math
from collections.abc import Callable
from typing import Any

from ..core.mix import LINING
from ..core.use_split import (
    accounted_volume,
    billed_area_part,
    film_asked_part,
    loss_part,
    mean_factor,
    over_build_part,
    surface_volume,
    unbilled_area_part,
)
from ..evaluate import Reader, Value
from .used_doubt import REACH
from .words import in_percent, rounded, said

SOURCE = (
    "Shapley value of two causes, group by group; JCGM 100 for the intervals, which hold the truth "
    "in 95 cases of 100 where what is typed of scatter is right"
)
CAPACITY = 10

# Causes by their litres and money, largest first where nothing else decides.
VOLUMES = {
    "billed_part": "billed_money",
    "unbilled_part": "unbilled_money",
    "asked_part": "asked_money",
    "build_part": "build_money",
    "loss_part": "loss_money",
    "fixed_part": "fixed_money",
    "excess_part": "excess_money",
    "unexplained_part": "unexplained_money",
}
STEPS = (
    *("quoted_supply", "found_supply", "quoted_cover", "found_cover"),
    *("quoted_film_per_area", "found_film_per_area", "quoted_build", "found_build"),
    *("quoted_surface_per_area", "found_surface_per_area", "quoted_surface", "found_surface"),
)
READS = (
    *VOLUMES,
    *VOLUMES.values(),
    *STEPS,
    *(f"{side}_{name}" for side in LINING for name in ("used", "doubt", "ratio", "price")),
    *(f"accepted_{side}_price" for side in LINING),
    *("price_money", "quoted_mix_price", "sprayed_volume", "lost_volume", "used_volume"),
    *("film_volume_total", "profile_volume_total", "film_build", "measured_build", "build_doubt"),
    *("quoted_film_build", "money_decimals"),
    *("measured_area_total", "billed_area_total", "measure_doubt", "read_area"),
    *("accepted_billed_area_total", "accepted_measured_area_total", "accepted_loss_share"),
    "loss_found",
)
MAY_LACK = (
    *("lost_volume", "measured_build", "build_doubt", "read_area", "loss_found"),
    *(f"{side}_doubt" for side in LINING),
    "accepted_loss_share",
)
Found = dict[str, float]


def use_split(reader: Reader) -> list[tuple[Any, ...]]:
    """Rows of (cause, money, from, to, words, litres, from, to), the most money first."""
    values = {name: reader.cell(name) for name in READS}
    needed = (*VOLUMES, *VOLUMES.values(), "price_money")
    if any(values[name].si is None for name in READS if name not in MAY_LACK):
        return []
    known = {
        name: float(value.si)
        for name, value in values.items()
        if isinstance(value.si, (int, float)) and not isinstance(value.si, bool)
    }
    doubts = _doubts(known)
    price, decimals = known["quoted_mix_price"], int(known["money_decimals"])
    rows: list[tuple[Any, ...]] = []
    labels = {name: values[name].label for name in needed}
    for name, money in VOLUMES.items():
        volume, amount = known[name], float(values[money].si)
        doubt = doubts.get(name, 0.0)
        low, high = volume - doubt, volume + doubt
        low_money, high_money = amount - doubt * price, amount + doubt * price
        if name == "excess_part":
            (low, high), (low_money, high_money) = _excess(known)
        words = (
            f"{_litres(values['used_volume'], volume, low, high)} {_words(name, values)}".strip()
        )
        ends = (round(low_money, decimals), round(high_money, decimals))
        rows.append((labels[name], amount, *ends, words, volume, low, high))
    amount = float(values["price_money"].si)
    reach = _price_doubt(known)
    words = "Prices on Materials now against the accepted ones."
    rows.append(
        (
            labels["price_money"],
            amount,
            round(amount - reach, decimals),
            round(amount + reach, decimals),
            words,
            *(None, None, None),
        )
    )
    return sorted(rows, key=lambda row: -abs(row[1]))


def _litres(like: Value, volume: float, low: float, high: float) -> str:
    """A part with its interval; nothing where it is none for sure."""
    if max(abs(low), abs(high)) < 1e-6:
        return ""
    return f"{rounded(volume, like)}, from {rounded(low, like)} to {rounded(high, like)}."


def _doubts(known: Found) -> Found:
    """Half the width of the interval of each part of the litres."""
    if any(f"{side}_doubt" not in known for side in LINING):
        return {}
    short = min(LINING, key=lambda side: known[f"{side}_used"] / known[f"{side}_ratio"])
    parts = sum(known[f"{side}_ratio"] for side in LINING)
    moved = {
        "sprayed_volume": known[f"{short}_doubt"] * parts / known[f"{short}_ratio"],
        "measured_area_total": REACH * known["measure_doubt"] * known["measured_area_total"],
        "film_build": known.get("build_doubt", 0.0),
    }
    result: Found = {}
    for name, part in PARTS.items():
        steps = []
        for cause, reach in moved.items():
            more, less = (
                part(_stepped({**known, cause: max(0.0, known[cause] + sign * reach)}))
                for sign in (1, -1)
            )
            steps.append((more - less) / 2)
        result[name] = math.hypot(*steps)
    return result


def _stepped(known: Found) -> Found:
    """The steps anew, where one of the values behind them is another one."""
    area = known["measured_area_total"]
    film = known["found_film_per_area"] * area
    profile = known["profile_volume_total"] * film / known["film_volume_total"]
    surface = surface_volume(film, known["film_build"], profile)
    accounted = accounted_volume(surface, known["sprayed_volume"], known.get("lost_volume"))
    return {
        **known,
        "found_cover": area / known["billed_area_total"],
        "found_surface": surface,
        "found_build": surface / film,
        "found_surface_per_area": surface / area,
        "found_supply": accounted / surface,
        "accounted": accounted,
    }


def _middle(quoted: str, found: str) -> Callable[[Found], float]:
    return lambda known: mean_factor(known[quoted], known[found])


COVER, SUPPLY = ("quoted_cover", "found_cover"), ("quoted_supply", "found_supply")
BUILD, SURFACE = ("quoted_build", "found_build"), ("quoted_surface", "found_surface")
FILM = ("quoted_film_per_area", "found_film_per_area")
PER_AREA = ("quoted_surface_per_area", "found_surface_per_area")
BILLED = ("accepted_billed_area_total", "billed_area_total")
SPRAYED = ("accepted_measured_area_total", "measured_area_total")


def _by(
    function: Callable[..., float], changed: tuple[str, str], *others: tuple[str, str]
) -> Callable[[Found], float]:
    """A part from the step that changed and the middles of the others."""
    return lambda known: function(
        *(known[name] for name in changed), *(_middle(*other)(known) for other in others)
    )


def _unexplained(known: Found) -> float:
    return known["sprayed_volume"] - known["accounted"]


PARTS: dict[str, Callable[[Found], float]] = {
    "billed_part": _by(billed_area_part, BILLED, COVER, PER_AREA, SUPPLY),
    "unbilled_part": _by(unbilled_area_part, COVER, BILLED, PER_AREA, SUPPLY),
    "asked_part": _by(film_asked_part, FILM, BUILD, SPRAYED, SUPPLY),
    "build_part": _by(over_build_part, BUILD, FILM, SPRAYED, SUPPLY),
    "loss_part": _by(loss_part, SUPPLY, SURFACE),
    "unexplained_part": _unexplained,
}


def _excess(known: Found) -> tuple[tuple[float, float], tuple[float, float]]:
    """Intervals of the litres beyond the ratio and of their money."""
    iso, resin = LINING
    off = known["iso_used"] / known["iso_ratio"] - known["resin_used"] / known["resin_ratio"]
    reach = math.hypot(
        *(known.get(f"{side}_doubt", 0.0) / known[f"{side}_ratio"] for side in LINING)
    )

    def volume(difference: float) -> float:
        side = iso if difference > 0 else resin
        return abs(difference) * known[f"{side}_ratio"]

    def money(difference: float) -> float:
        side = iso if difference > 0 else resin
        return volume(difference) * known[f"accepted_{side}_price"]

    ends = (off - reach, off + reach)
    return _ends(volume, ends), _ends(money, ends)


def _ends(of: Callable[[float], float], ends: tuple[float, float]) -> tuple[float, float]:
    found = sorted(of(end) for end in ends)
    return (0.0 if ends[0] < 0 < ends[1] else found[0]), found[1]


def _price_doubt(known: Found) -> float:
    return math.hypot(
        *(
            (known[f"{side}_price"] - known[f"accepted_{side}_price"])
            * known.get(f"{side}_doubt", 0.0)
            for side in LINING
        )
    )


def _words(name: str, values: dict[str, Value]) -> str:
    """What stands behind a part."""
    si = {key: value.si for key, value in values.items()}
    if name == "billed_part":
        now, then = values["billed_area_total"], values["accepted_billed_area_total"]
        return f"{said(now)} are billed, {said(now, then.si)} were quoted."
    if name == "unbilled_part":
        now = values["measured_area_total"]
        return f"{said(now)} were sprayed for {said(now, si['billed_area_total'])} billed."
    if name == "asked_part":
        return "Film asked for, on average over the area, against the quote."
    if name == "build_part":
        if si["measured_build"] is None:
            return "Not told: no film readings of a surface; counts as loss."
        words = f"The film is {in_percent(si['measured_build'])} of the film asked for"
        if si["quoted_film_build"] is not None and abs(si["quoted_film_build"] - 1) > 0.0005:
            words += f", {in_percent(si['quoted_film_build'])} were aimed at"
        if si["read_area"] is not None and si["read_area"] < si["measured_area_total"] * 0.999:
            now = values["measured_area_total"]
            words += f", read on {rounded(si['read_area'], now)} of {said(now)}"
        return f"{words}."
    if name == "loss_part":
        if si["loss_found"] is None or si["accepted_loss_share"] is None:
            return ""
        words = f"{in_percent(si['loss_found'])} were lost, "
        words += f"{in_percent(si['accepted_loss_share'])} were allowed."
        if si["loss_found"] < 0:
            words += " More lies on the surface than was used: the job is not finished, or film,"
            words += " area or litres are wrong."
        return words
    if name == "excess_part":
        return "One side beyond the ratio, with the doubt of densities, which Mix leaves out."
    if name == "fixed_part":
        return "As typed on Job."
    if si["lost_volume"] is None:
        return "The loss was not measured by itself: what is missing counts as loss."
    if si["unexplained_part"] < 0:
        return "More lies on the surface and was lost than was used: look at film, area and litres."
    return "Used, but neither on the surface nor among what was measured as lost."
