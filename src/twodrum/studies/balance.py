"""Why the gauges differ, which trims null the part by viscosity, and what stays."""

from __future__ import annotations

from typing import Any, NamedTuple

from ..core.balance import friction_pressure
from ..core.flow import LAMINAR_UP_TO
from ..core.mix import LINING, OTHER_SIDE
from ..core.viscosity import viscosity_at
from ..engine.evaluate import Reader, Value
from ..problems import sentence, with_capital
from .linings import PLANNED, of_planned, with_second
from .moments import fed_with
from .words import rounded, said, to_a_tenth

SOURCE = "Equal friction on both sides, viscosity from the points of the data sheet, its window"
POINTS = tuple(f"{what}_{n}" for n in (1, 2, 3) for what in ("temperature", "viscosity"))
# Range of coefficients that a gun may have, from memory; the uncertainty of what the orifice takes.
COEFFICIENTS = (0.62, 0.82)
# Below this a difference is none, as far as any gauge shows.
SAME = 1e3

OF_DAY = ("phase", "difference", "lining")
SINGLES = with_second(
    (
        *(f"{side}_{name}" for side in LINING for name in POINTS),
        *(f"{side}_{name}" for side in LINING for name in ("viscosity", "flow", "reynolds")),
        *(f"{side}_{name}" for side in LINING for name in ("gauge", "spray_temperature")),
        *(f"{side}_{name}" for side in LINING for name in ("pressure_low", "pressure_high")),
        *(f"{side}_{name}" for side in LINING for name in ("trim", "spray_low")),
        *("gauge_difference", "viscosity_part", "density_part"),
        *(f"{side}_resistance" for side in LINING),
        *("discharge_coefficient", "difference_limit"),
        *(f"{own}{name}" for own in ("", "resin_") for name in ("hose_bore", "whip_bore")),
        *(f"{own}{name}" for own in ("", "resin_") for name in ("port_length", "port_diameter")),
        *(f"{side}_ratio" for side in LINING),
    )
)
READS = (*SINGLES, *(f"readings.{name}" for name in OF_DAY))


class Finding(NamedTuple):
    """One thing that the pressures tell."""

    finding: Any
    finding_pressure: Any
    finding_side: Any
    finding_temperature: Any
    finding_words: Any


def balance(reader: Reader) -> list[Finding]:
    """What the pressures tell, and what to do about it."""
    values = of_planned(reader, SINGLES)
    readings = reader.rows("readings", OF_DAY)
    if values["gauge_difference"].si is None or values["viscosity_part"].si is None:
        return []
    parts = [values[f"{side}_ratio"] for side in LINING]
    unequal = None not in (parts[0].si, parts[1].si) and parts[0].si != parts[1].si
    if unequal and values["resin_port_diameter"].assumed:
        return [_unequal(reader, parts)]
    rows = [*_why(values), *_last_read(values, readings)]
    rows += [_trim_row(values, side) for side in LINING]
    rows += [row for side in LINING for row in _points_left(reader, values, side)]
    rows += _outside(reader, values)
    return rows


def _unequal(reader: Reader, parts: list[Value]) -> Finding:
    """What is said where one port can't stand for both sides."""
    iso, resin = (f"{part.si:g}" for part in parts)
    found = f"the lining is mixed {iso} to {resin}"
    words = "each side then has a mixing chamber port of its own: without that of resin the "
    words += "pressures here do not hold, and nothing is to be trimmed by them"
    mend = "type it on Equipment, and hose and stroke where they differ"
    reader.warn("outside-model", parts[0], sentence(found, words, mend))
    return Finding("Not worked out", None, "both", None, f"{with_capital(found)}; {words}.")


def _after(values: dict[str, Value], side: str, temperature: float) -> float:
    """What viscosity still makes once a side is trimmed."""
    viscosities = {name: values[f"{name}_viscosity"].si for name in LINING}
    points = [values[f"{side}_{name}"].si for name in POINTS]
    viscosities[side] = viscosity_at(temperature, *points)
    iso, resin = (
        friction_pressure(
            values[f"{name}_resistance"].si, viscosities[name], values[f"{name}_flow"].si
        )
        for name in LINING
    )
    return iso - resin


def _why(values: dict[str, Value]) -> list[Finding]:
    total, viscous = values["gauge_difference"], values["viscosity_part"]
    dense = values["density_part"]
    higher = "iso" if total.si >= 0 else "resin"
    words = f"The gauges are expected to differ by {rounded(abs(total.si), total)}, the "
    words += f"{higher} side higher."
    if abs(total.si) < SAME:
        words = "The gauges are expected to stand level."
    rows: list[Finding] = [Finding("Difference to expect", total.si, higher, None, words)]
    thicker = "iso" if viscous.si >= 0 else "resin"
    words = f"{rounded(abs(viscous.si), viscous)} because the {thicker} side takes more pressure "
    words += "through hose, whip and bore: viscosity and flow."
    rows.append(Finding("Explained by viscosity", viscous.si, thicker, None, words))
    heavier = "iso" if dense.si >= 0 else "resin"
    words = f"About {rounded(abs(dense.si), dense)} stay because the {heavier} side is denser or "
    words += "flows faster at its port"
    coefficient = values["discharge_coefficient"]
    if coefficient.assumed:
        # The drop goes with the inverse square of the coefficient.
        low, high = (
            abs(dense.si) * (coefficient.si / other) ** 2 for other in reversed(COEFFICIENTS)
        )
        words += f"; with this gun's coefficient unknown it may be {rounded(low, dense)} to "
        words += f"{rounded(high, dense)}"
    words += ". A prediction: do not trim it away, judge the change from "
    words += "the baseline of a good panel."
    rows.append(Finding("Stays, by density", dense.si, heavier, None, words))
    return rows


def _last_read(values: dict[str, Value], readings: list[dict[str, Value]]) -> list[Finding]:
    own, total = fed_with(readings, str(values[PLANNED].si)), values["gauge_difference"]
    read = [row["difference"] for row in own if row["phase"].si == "spraying"]
    known = [value for value in read if value.si is not None]
    if not known:
        return []
    higher = "iso" if known[-1].si >= 0 else "resin"
    words = f"The last reading while spraying has {rounded(abs(known[-1].si), total)}, the "
    words += f"{higher} side higher; {rounded(abs(total.si), total)} were expected."
    return [Finding("Read last", known[-1].si, higher, None, words)]


def _trim_row(values: dict[str, Value], side: str) -> Finding:
    other, trim = OTHER_SIDE[side], values[f"{side}_trim"].si
    title = f"Trim {side}, leave {other}"
    if trim is None:
        words = f"Needs the viscosity points of both sides and the spray window of {side}."
        return Finding(title, None, side, None, words)
    viscous, now = values["viscosity_part"], values[f"{side}_spray_temperature"]
    if abs(viscous.si) < SAME:
        return Finding(
            title, None, side, None, "Nothing to trim: viscosity is level on both sides."
        )
    left = _after(values, side, trim)
    at = to_a_tenth(now, trim)
    if abs(left) < SAME:
        words = f"{side.capitalize()} at {at} instead of {said(now)} takes the part by viscosity "
        words += "away, inside the data sheet's window. This trim or the other, never both."
        return Finding(title, None, side, trim, words)
    end = "lower" if trim <= values[f"{side}_spray_low"].si else "upper"
    words = f"The window of the data sheet ends first: at its {end} end, {at}, viscosity still "
    words += f"makes {rounded(abs(left), viscous)}. This trim or the other, never both."
    return Finding(title, left, side, trim, words)


def _fastest(values: dict[str, Value], side: str) -> tuple[str, float] | None:
    """The bore with the highest Reynolds number; it goes with the inverse of the bore."""
    own = "" if side == LINING[0] else f"{side}_"
    reynolds, hose = values[f"{side}_reynolds"].si, values[f"{own}hose_bore"].si
    if reynolds is None or hose is None:
        return None
    bores = {"hose": hose, "whip": values[f"{own}whip_bore"].si}
    if values[f"{own}port_length"].si:
        bores["mixing chamber port"] = values[f"{own}port_diameter"].si
    numbers = {name: reynolds * hose / bore for name, bore in bores.items() if bore}
    return max(numbers.items(), key=lambda pair: pair[1])


def _points_left(reader: Reader, values: dict[str, Value], side: str) -> list[Finding]:
    """A spray temperature outside the points of the data sheet is told: a curve guesses there."""
    spray = values[f"{side}_spray_temperature"]
    known = [values[f"{side}_temperature_{n}"].si for n in (1, 2, 3)]
    points = [point for point in known if point is not None]
    if spray.si is None or len(points) < 2 or min(points) <= spray.si <= max(points):
        return []
    found = f"{side} is sprayed at {said(spray)}"
    ends = f"{said(spray, min(points))} to {said(spray, max(points))}"
    words = f"its viscosity is known from {ends} only"
    reader.warn(
        "outside-model", spray, sentence(found, words, "what viscosity makes is a guess there")
    )
    told = f"{with_capital(found)}; {words}: what viscosity makes is a guess there."
    return [Finding("Outside the points", None, side, spray.si, told)]


def _outside(reader: Reader, values: dict[str, Value]) -> list[Finding]:
    rows: list[Finding] = []
    for side in LINING:
        reynolds, gauge = values[f"{side}_reynolds"], values[f"{side}_gauge"]
        fastest = _fastest(values, side)
        if fastest and fastest[1] >= LAMINAR_UP_TO:
            found = f"the {side} flow in the {fastest[0]} has a Reynolds number of {fastest[1]:.0f}"
            words = f"the pressures here hold below {LAMINAR_UP_TO:.0f}"
            reader.warn("outside-model", reynolds, sentence(found, words))
            rows.append(
                Finding("Not laminar", None, side, None, f"{with_capital(found)}; {words}.")
            )
        low, high = values[f"{side}_pressure_low"], values[f"{side}_pressure_high"]
        below = low.si is not None and gauge.si < low.si
        if not below and high.si is not None and gauge.si > high.si:
            most = f"the data sheet allows {said(gauge, high.si)}"
            mend = "another output, port or coefficient; do not spray so"
            text = sentence(f"{gauge.label} is {rounded(gauge.si, gauge)}", most, mend)
            reader.refuse("outside-data-sheet", gauge, text)
        if below or (high.si is not None and gauge.si > high.si):
            window, how = (low, "below") if below else (high, "above")
            words = f"The {side} gauge is expected at {rounded(gauge.si, gauge)}, {how} the "
            words += (
                f"{said(gauge, window.si)} of the data sheet: other output, tip or coefficient."
            )
            rows.append(Finding("Outside the window", gauge.si, side, None, words))
    limit, total = values["difference_limit"], values["gauge_difference"]
    if limit.si is not None and abs(total.si) > limit.si:
        words = f"More than the {said(total, limit.si)} that the office allows, whatever explains "
        words += "it: ask the supplier of the material before spraying so."
        rows.append(Finding("Over the limit", total.si, "both", None, words))
    return rows
