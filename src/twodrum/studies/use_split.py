"""Each cause of what was used above the quote, with its money and how sure it is."""

from __future__ import annotations

import math
from collections.abc import Callable, Mapping
from typing import Any, NamedTuple

from ..core.mix import LINING
from ..core.used_volume import accounted_volume
from ..engine.evaluate import Reader, Value
from ..engine.expressions import expression
from ..engine.references import Name
from .used_uncertainty import REACH
from .words import in_percent, rounded, said

SOURCE = (
    "Shapley value of two causes, group by group; JCGM 100 for the intervals, which hold the truth "
    "in 95 cases of 100 where what is typed of scatter is right and film readings lie apart"
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
# From what is known of quote and job to the parts, in their order; "accounted" comes between.
BEFORE_LOSS = {"found_surface": "film_volume_total * film_build + profile_volume_total"}
AFTER_LOSS = {
    "found_cover": "measured_area_total / billed_area_total",
    "found_film_per_area": "film_volume_total / measured_area_total",
    "found_build": "found_surface / film_volume_total",
    "found_surface_per_area": "found_surface / measured_area_total",
    "found_supply": "accounted / found_surface",
    "mean_billed": "mean(accepted_billed_area_total, billed_area_total)",
    "mean_sprayed": "mean(accepted_measured_area_total, measured_area_total)",
    "mean_cover": "mean(quoted_cover, found_cover)",
    "mean_film_asked": "mean(quoted_film_per_area, found_film_per_area)",
    "mean_build": "mean(quoted_build, found_build)",
    "mean_per_area": "mean(quoted_surface_per_area, found_surface_per_area)",
    "mean_surface": "mean(quoted_surface, found_surface)",
    "mean_supply": "mean(quoted_supply, found_supply)",
}
# What is sprayed is a product: billed area, what is sprayed for each billed area, film asked for on
# it, what really lies there, what is supplied for it. At each step both factors changed, and each
# gets its change times the mean of the other: no order is preferred and the parts add up exactly.
PARTS = {
    "billed_part": "(billed_area_total - accepted_billed_area_total)"
    " * mean_cover * mean_per_area * mean_supply",
    "unbilled_part": "(found_cover - quoted_cover) * mean_billed * mean_per_area * mean_supply",
    "asked_part": "(found_film_per_area - quoted_film_per_area)"
    " * mean_build * mean_sprayed * mean_supply",
    "build_part": "(found_build - quoted_build) * mean_film_asked * mean_sprayed * mean_supply",
    "loss_part": "(found_supply - quoted_supply) * mean_surface",
    "unexplained_part": "sprayed_volume - accounted",
}
CHAIN = {**BEFORE_LOSS, **AFTER_LOSS, **PARTS}
STEPS = (
    *("quoted_supply", "quoted_cover", "quoted_film_per_area", "quoted_build"),
    *("quoted_surface_per_area", "quoted_surface"),
)
READS = (
    *VOLUMES,
    *VOLUMES.values(),
    *STEPS,
    *(f"{side}_{name}" for side in LINING for name in ("used", "uncertainty", "ratio", "price")),
    *(f"accepted_{side}_price" for side in LINING),
    *(
        "price_money",
        "lining_money",
        "second_used",
        "quoted_mix_price",
        "sprayed_volume",
        "lost_volume",
        "used_volume",
    ),
    *(
        "film_volume_total",
        "profile_volume_total",
        "film_build",
        "measured_build",
        "build_uncertainty",
    ),
    *("quoted_film_build", "money_decimals"),
    *("measured_area_total", "billed_area_total", "measure_uncertainty", "read_area"),
    *("accepted_billed_area_total", "accepted_measured_area_total"),
    *("loss_found", "accepted_rework_litres"),
)
MAY_LACK = (
    *("lost_volume", "measured_build", "build_uncertainty", "read_area", "loss_found"),
    "accepted_rework_litres",
    *(f"{side}_uncertainty" for side in LINING),
)
Found = dict[str, float]


class Cause(NamedTuple):
    """One cause of the difference to the quote."""

    cause: Any
    cause_money: Any
    cause_money_low: Any
    cause_money_high: Any
    cause_words: Any
    cause_volume: Any
    cause_volume_low: Any
    cause_volume_high: Any


def use_split(reader: Reader) -> list[Cause]:
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
    known["film_per_area"] = known["film_volume_total"] / known["measured_area_total"]
    uncertainties = _uncertainties(known)
    price, decimals = known["quoted_mix_price"], int(known["money_decimals"])
    rows: list[Cause] = []
    labels = {name: values[name].label for name in needed}
    for name, money in VOLUMES.items():
        volume, amount = known[name], float(values[money].si)
        uncertainty = uncertainties.get(name, 0.0)
        low, high = volume - uncertainty, volume + uncertainty
        low_money, high_money = amount - uncertainty * price, amount + uncertainty * price
        if name == "excess_part":
            (low, high), (low_money, high_money) = _excess(known)
        words = (
            f"{_litres(values['used_volume'], volume, low, high)} {_words(name, values)}".strip()
        )
        ends = (round(low_money, decimals), round(high_money, decimals))
        rows.append(Cause(labels[name], amount, *ends, words, volume, low, high))
    amount = float(values["price_money"].si)
    reach = _price_uncertainty(known)
    words = "Prices on Materials now against the accepted ones."
    rows.append(
        Cause(
            labels["price_money"],
            amount,
            round(amount - reach, decimals),
            round(amount + reach, decimals),
            words,
            *(None, None, None),
        )
    )
    if known["second_used"]:
        amount, words = float(values["lining_money"].si), "Against the shares that were quoted."
        label = values["lining_money"].label
        rows.append(Cause(label, amount, amount, amount, words, *(None, None, None)))
    return sorted(rows, key=lambda row: -abs(row.cause_money))


def _litres(like: Value, volume: float, low: float, high: float) -> str:
    """A part with its interval; nothing where it is none for sure."""
    if max(abs(low), abs(high)) < 1e-6:
        return ""
    return f"{rounded(volume, like)}, from {rounded(low, like)} to {rounded(high, like)}."


def _uncertainties(known: Found) -> Found:
    """Half the width of the interval of each part of the litres."""
    if any(f"{side}_uncertainty" not in known for side in LINING):
        return {}
    short = min(LINING, key=lambda side: known[f"{side}_used"] / known[f"{side}_ratio"])
    parts = sum(known[f"{side}_ratio"] for side in LINING)
    moved = {
        "sprayed_volume": known[f"{short}_uncertainty"] * parts / known[f"{short}_ratio"],
        "measured_area_total": REACH * known["measure_uncertainty"] * known["measured_area_total"],
        "film_build": known.get("build_uncertainty", 0.0),
    }
    ends = {
        cause: [_parts({**known, cause: max(0.0, known[cause] + sign * reach)}) for sign in (1, -1)]
        for cause, reach in moved.items()
    }
    return {
        name: math.hypot(*((more[name] - less[name]) / 2 for more, less in ends.values()))
        for name in PARTS
    }


def _parts(known: Found) -> Found:
    """The chain anew, where one of the values at its start is another one."""
    film = known["film_per_area"] * known["measured_area_total"]
    profile = known["profile_volume_total"] * film / known["film_volume_total"]
    found = {**known, "film_volume_total": film, "profile_volume_total": profile}
    _follow(BEFORE_LOSS, found)
    surface, sprayed = found["found_surface"], found["sprayed_volume"]
    found["accounted"] = accounted_volume(surface, sprayed, found.get("lost_volume"))
    _follow({**AFTER_LOSS, **PARTS}, found)
    return found


def _follow(chain: Mapping[str, str], found: Found) -> None:
    """Each line of a chain from what stands before it; its values join what is known."""
    for name, text in chain.items():
        line = expression(text, "number")
        given = zip(line.arguments, line.references)
        found[name] = line.run({a.name: found[r.name] for a, r in given if isinstance(r, Name)})


def _excess(known: Found) -> tuple[tuple[float, float], tuple[float, float]]:
    """Intervals of the litres beyond the ratio and of their money."""
    iso, resin = LINING
    off = known["iso_used"] / known["iso_ratio"] - known["resin_used"] / known["resin_ratio"]
    reach = math.hypot(
        *(known.get(f"{side}_uncertainty", 0.0) / known[f"{side}_ratio"] for side in LINING)
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


def _price_uncertainty(known: Found) -> float:
    return math.hypot(
        *(
            (known[f"{side}_price"] - known[f"accepted_{side}_price"])
            * known.get(f"{side}_uncertainty", 0.0)
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
        if si["loss_found"] is None:
            return ""
        # Over all systems of the job; in a job of one it is the loss that was typed.
        allowed = 1 - 1 / si["quoted_supply"]
        words = f"{in_percent(si['loss_found'])} were lost, "
        words += f"{in_percent(allowed)} were allowed"
        rework = si["accepted_rework_litres"]
        words += f", rework of {in_percent(rework)} with it." if rework else "."
        if si["loss_found"] < 0:
            words += " More lies on the surface than was used: the job is not finished, or film,"
            words += " area or litres are wrong."
        return words
    if name == "excess_part":
        return "One side beyond the ratio, with the uncertainty of densities, which Mix leaves out."
    if name == "fixed_part":
        return "As typed on Job."
    if si["lost_volume"] is None:
        return "The loss was not measured by itself: what is missing counts as loss."
    if si["unexplained_part"] < 0:
        return "More lies on the surface and was lost than was used: look at film, area and litres."
    return "Used, but neither on the surface nor among what was measured as lost."
