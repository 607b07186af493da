"""The row of a job in a month: what it tells, rounded, and what it does not and why."""

from __future__ import annotations

from typing import Any

from ..books.month import MONEY_LABELS
from ..core.mix import LINING
from ..engine.evaluate import Value
from .fill import Filled

# The money of a job behind each column of the month.
MONEY = {
    "over_money": "material_over_quote",
    **{name: name for name in MONEY_LABELS if name not in ("over_money", "quoted_money")},
}
OF_MONEY = ("quoted_money", *MONEY)
NUMBERS = {
    "worked": "work_date",
    "billed_area": "billed_area_total",
    "used_volume": "used_volume",
    "quoted_area": "accepted_billed_area_total",
    "quoted_volume": "accepted_lining_volume",
    "build_uncertainty": "build_uncertainty",
    "spread": "found_spread",
    "loss": "loss_found",
    "quoted_loss": "accepted_loss_share",
    "off_ratio": "off_ratio",
    "off_uncertainty": "ratio_uncertainty",
}
TEXTS = {
    "job": "job_title",
    "crew": "crew_name",
    "machine": "machine_name",
    "surface_kind": "substrate",
}
# To so many decimals in SI a row keeps its numbers: millilitres, cents, hundredths of a percent.
DECIMALS = {
    **dict.fromkeys(("used_volume", "quoted_volume", "held", "printed", "drawn", "left"), 6),
    **dict.fromkeys(("billed_area", "quoted_area"), 3),
    **dict.fromkeys(("build", "build_uncertainty", "off_ratio", "off_uncertainty"), 5),
    **dict.fromkeys(("spread", "loss", "quoted_loss"), 5),
    **dict.fromkeys(OF_MONEY, 4),
}


def known(value: Value | None) -> Any:
    """A value in SI; None where it is blank or refused, or of a part that a job does not have."""
    return None if value is None or value.refused else value.si


def job_row(filled: Filled, name: str) -> dict[str, Any]:
    """The row of a job: what it tells; what is blank is not known."""
    names = filled.values.names
    row: dict[str, Any] = {"file": name, "problem_count": filled.problem_count}
    for key, own in {**TEXTS, **NUMBERS, **MONEY}.items():
        value = known(names.get(own))
        if value is not None:
            row[key] = float(value) if key in MONEY else value
    supply = known(names.get("quoted_supply"))
    if supply:
        # Over all systems of the job.
        row["quoted_loss"] = 1 - 1 / supply
    materials = filled.values.tables["materials"].rows
    used = [known(item["material"]) for item in materials if known(item["component"]) in LINING]
    material = " + ".join(dict.fromkeys(str(word) for word in used if word))
    if material:
        row["material"] = material
    volume, price = (
        known(names.get(key)) for key in ("accepted_lining_volume", "quoted_mix_price")
    )
    if volume is not None and price is not None:
        row["quoted_money"] = float(volume) * float(price)
    # Against the film that was aimed at, which may be more than the film asked for.
    build, aimed = known(names.get("measured_build")), known(names.get("quoted_film_build"))
    if build is not None:
        row["build"] = build / (aimed or 1.0)
    if row.get("loss", 0.0) < 0:
        for key in ("loss", *OF_MONEY):
            row.pop(key, None)
    elif known(names.get("second_volume")):
        row.pop("loss", None)
    why = _not_told(filled)
    if why:
        row["not_told"] = why
    return rounded(row)


def rounded(row: dict[str, Any]) -> dict[str, Any]:
    """A row with its numbers to the decimals that they are kept to."""
    return {key: round(v, DECIMALS[key]) if key in DECIMALS else v for key, v in row.items()}


def _not_told(filled: Filled) -> str:
    """Why a job is not in every sum."""
    names = filled.values.names
    used = names.get("used_volume")
    found = []
    if names["accepted_lining_volume"].si is None:
        found.append("no accepted quote, so no money")
    if used is not None and used.refused:
        found.append(f"litres used wait for {', '.join(used.roots[:2])}")
    elif known(used) is None:
        found.append("litres used are not known")
    if known(names.get("measured_build")) is None:
        found.append("no film readings, so over-build counts as loss")
    loss = known(names.get("loss_found"))
    if loss is not None and loss < 0:
        found.append("more lies on the surface than was used: unfinished or wrong, so no money")
    if known(names.get("second_volume")):
        found.append("two linings, so no loss of one")
    if filled.problem_count:
        where = filled.first_problem.where
        found.append(f"{filled.problem_count} problems, the first at {where}")
    return joined(*found)[:200]


def joined(*texts: str) -> str:
    """Reasons one after the other; what is blank is none."""
    return "; ".join(text for text in texts if text)
