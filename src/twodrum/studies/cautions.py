"""What can hurt people on this job, from its own data: a caution, its cause, what is usual."""

from __future__ import annotations

from dataclasses import dataclass, replace

from ..core.hose import trapped_pressure_rise
from ..core.mix import LINING
from ..evaluate import Reader, Value
from ..problems import with_capital
from .words import rounded, said

SOURCE = "Each caution names its own source; none is a permission"
CAPACITY = 24
FIRST = "Data sheet, local code and licensed practice come first."

ENCLOSED = (
    *("pit", "sloped pit", "pipe", "tank shell", "tank shell and floor", "cone", "frustum"),
    *("sphere", "hemispherical head", "2:1 ellipsoidal head", "torispherical head", "manhole"),
)
WARM_TO_TOUCH = 316.15
BURNS_AT_ONCE = 333.15
ACETONE_BOILS = 329.2
SKIN_BREACHED = 7e5
BULK_MODULUS = 1.6e9

# Limits of exposure by country: substance, numbers, source.
EXPOSURE_LIMITS = {
    "United States": (
        "MDI: OSHA ceiling 0.02 ppm, 0.2 mg/m³; NIOSH recommends 0.005 ppm, 0.05 mg/m³, over a "
        "shift and 0.020 ppm, 0.2 mg/m³, over 10 min",
        "29 CFR 1910.1000 Z-1; NIOSH page of CAS 101-68-8",
    ),
    "European Union": (
        "Diisocyanates, counted as NCO: 6 µg/m³ over 8 h and 12 µg/m³ over 15 min; 10 and 20 µg/m³ "
        "until 31 December 2028; skin and sensitisation",
        "Directive 98/24/EC as amended by (EU) 2024/869",
    ),
    "United Kingdom": (
        "Isocyanates, counted as NCO: 0.02 mg/m³ over 8 h and 0.07 mg/m³ over 15 min",
        "EH40 (from memory)",
    ),
    "Australia": (
        "Isocyanates, counted as NCO: 0.02 mg/m³ over 8 h and 0.07 mg/m³ over 15 min",
        "exposure standards for isocyanates",
    ),
}
COUNTED = (
    "Counted as NCO a limit is about a third of the same limit counted as MDI. Spray mist counts "
    "too and is not vapour: it needs sampling of all NCO. A limit is never a permission."
)

SINGLES = (
    *("confined_space", "exposure_country", "cleaning_solvent", "moisture_sign"),
    *("iso_set_point", "resin_set_point", "hose_set_point", "iso_hand_back", "resin_hand_back"),
    *("iso_pressure_high", "resin_pressure_high", "iso_gauge", "resin_gauge", "hose_length"),
    *("dew_margin", "least_dew_margin", "pump_output", "power_drawn", "supply"),
    *("iso_thermal_expansion", "resin_thermal_expansion", "iso_heater_power"),
    "resin_heater_power",
)
READS = (
    *SINGLES,
    "areas.shape",
    "materials.component",
    "readings.event",
    "readings.time",
    "readings.surface_reading",
    "readings.reading_dew_margin",
    "readings.iso_pressure",
    "readings.resin_pressure",
)

Row = tuple[str, str, str, str, str]


@dataclass
class Job:
    """What the cautions look at."""

    values: dict[str, Value]
    columns: dict[str, list[Value]]

    def highest(self, *keys: str) -> Value | None:
        """The highest value given among names and columns."""
        found: list[Value] = []
        for key in keys:
            found += self.columns[key] if "." in key else [self.values[key]]
        given = [value for value in found if value.si is not None]
        return max(given, key=lambda value: value.si, default=None)


def cautions(reader: Reader) -> list[Row]:
    """Rows of (caution, raised by, why here, precaution, source)."""
    values = {name: reader.cell(name) for name in SINGLES}
    columns = {key: reader.cells(*key.split(".")) for key in READS if "." in key}
    job = Job(values, columns)
    rows: list[Row] = _not_known(job)
    for find in (
        # What today brings comes before what every day brings.
        *(_dew, _moisture, _confined, _electricity, _solvent, _isocyanate, _injection, _hot),
        *(_trapped, _drums, _wet_iso, _waste, _noise, _limits),
    ):
        rows += find(job)
    return [(what, by, why, f"{do} {FIRST}", source) for what, by, why, do, source in rows]


def _not_known(job: Job) -> list[Row]:
    """Cautions that may be missing because a cell that raises them is refused."""
    values = [*job.values.values(), *(v for column in job.columns.values() for v in column)]
    roots = list(dict.fromkeys(root for value in values for root in value.roots))
    if not roots:
        return []
    where = ", ".join(roots[:6]) + (f" and {len(roots) - 6} more" if len(roots) > 6 else "")
    why = "These cells are refused: cautions that follow from them may be missing."
    precaution = "Mend them; until then take the worst for true."
    return [("Not all could be looked at", where, why, precaution, "our choice")]


def at(value: Value) -> str:
    """The cell that raised a caution, and what it holds."""
    return f"{value.where} ({value.label})"


def _isocyanate(job: Job) -> list[Row]:
    iso = [c for c in job.columns["materials.component"] if c.si == "iso"]
    by = at(iso[0] if iso else job.values["pump_output"])
    precaution = (
        "Supplied air, gloves, covered skin and eyes for everyone near the spray; nobody else "
        "within reach of the mist; eye wash and first aid at hand; no work for anyone sensitised; "
        "trained people only; know the safety data sheet of this product."
    )
    source = "REACH Annex XVII entry 74 (training); safety data sheets of isocyanates"
    return [("Isocyanate", by, "Iso is sprayed as a fine mist.", precaution, source)]


def _limits(job: Job) -> list[Row]:
    country = job.values["exposure_country"]
    known = [country.si] if country.si in EXPOSURE_LIMITS else list(EXPOSURE_LIMITS)
    rows = []
    for name in known:
        limit, source = EXPOSURE_LIMITS[name]
        if country.si in EXPOSURE_LIMITS:
            why = f"{name} is picked."
        elif country.si is None:
            why = "No country is picked: those known here are told."
        else:
            why = "The country is not on the list: ask its authority."
        rows.append((f"Exposure limit, {name}", at(country), why, f"{limit}. {COUNTED}", source))
    return rows


def _confined(job: Job) -> list[Row]:
    answer = job.values["confined_space"]
    shapes = [shape for shape in job.columns["areas.shape"] if shape.si in ENCLOSED]
    raised: list[tuple[str, str]] = []
    if answer.si == "yes":
        raised.append((at(answer), "A confined space was answered with yes."))
    elif answer.si is None:
        raised.append((at(answer), "Whether this is a confined space was not answered."))
    if shapes:
        where = ", ".join(shape.where for shape in shapes[:4])
        where += f" and {len(shapes) - 4} more" if len(shapes) > 4 else ""
        names = ", ".join(dict.fromkeys(str(shape.si) for shape in shapes))
        raised.append((where, f"Shapes that close people in: {names}."))
    if not raised:
        return []
    precaution = (
        "Entry permit, tested air (oxygen 19.5 to 23.5 %, vapour below 10 % of the lower explosion "
        "limit, toxic gas), forced ventilation, a watch outside, rescue that is ready. Meeting the "
        "numbers is not a permit."
    )
    where, why = (" and ".join(r[0] for r in raised), " ".join(r[1] for r in raised))
    return [("Confined space", where, why, precaution, "29 CFR 1910.146 definitions; local code")]


def _injection(job: Job) -> list[Row]:
    highest = job.highest(
        *("iso_pressure_high", "resin_pressure_high", "iso_gauge", "resin_gauge"),
        *("readings.iso_pressure", "readings.resin_pressure"),
    )
    by = at(job.values["pump_output"])
    why = "The machine sprays at high pressure."
    if highest is not None and highest.si > SKIN_BREACHED:
        times = highest.si / SKIN_BREACHED
        by = at(highest)
        why = f"{rounded(highest.si, highest)} are about {times:.0f} times what breaches skin."
    precaution = (
        "Never a hand before the gun or over a leak; pressure off and locked before any fitting is "
        "opened. Any injection is a surgical emergency, even if it hardly hurts: hospital at once, "
        "with the safety data sheet."
    )
    source = "100 psi, 7 bar, may breach skin: hand-surgery outlines; 29 CFR 1910.147 (lockout)"
    return [("Injection under the skin", by, why, precaution, source)]


def _hot(job: Job) -> list[Row]:
    hottest = job.highest("iso_set_point", "resin_set_point", "hose_set_point")
    if hottest is None or hottest.si <= WARM_TO_TOUCH:
        return []
    why = f"{hottest.label} is {said(hottest)}"
    why += ": burns in seconds." if hottest.si >= BURNS_AT_ONCE else ": burns within minutes."
    precaution = "Gloves and sleeves at heaters, hose and gun; let them cool before servicing."
    source = "ISO 13732-1: 43 °C for hours, 51 °C for a minute (from memory), 65 °C at once"
    return [("Hot liquid and surfaces", at(hottest), why, precaution, source)]


def _trapped(job: Job) -> list[Row]:
    hose = job.highest("hose_set_point")
    if hose is None or hose.si <= WARM_TO_TOUCH:
        return []
    expansions = [job.values[f"{side}_thermal_expansion"].si for side in LINING]
    expansion = max([e for e in expansions if e], default=8e-4)
    rise = trapped_pressure_rise(expansion, BULK_MODULUS, 1.0)
    like = job.values["iso_gauge"]
    each = rounded(rise, like)
    by = at(hose)
    if job.values["hose_length"].si is not None:
        by += f" and {at(job.values['hose_length'])}"
    why = f"A shut, full hose would gain up to {each} for each kelvin, if it could not stretch."
    precaution = (
        "Never heat a hose that is shut and full; open it to the drums or release it first, and "
        "release pressure before leaving it overnight."
    )
    source = "Expansion times bulk modulus of about 1.6 GPa (from memory): an upper bound"
    return [("Pressure trapped in a hot hose", by, why, precaution, source)]


def _drums(job: Job) -> list[Row]:
    power = job.highest("iso_heater_power", "resin_heater_power")
    warmest = job.highest("iso_hand_back", "resin_hand_back")
    if power is None or power.si == 0 or warmest is None:
        return []
    why = f"Drums are warmed, {warmest.label.lower()} {said(warmest)}."
    precaution = (
        "Watch the drums while they warm; no local overheating, no band on a closed drum, dryer on "
        "the iso; a bulged drum stays where it is, trained staff relieve it."
    )
    source = "DGUV information 213-078, 10.11 and 10.15.1"
    return [("Warming drums", at(warmest), why, precaution, source)]


def _solvent(job: Job) -> list[Row]:
    solvent = job.values["cleaning_solvent"]
    if solvent.si == "none":
        return []
    hottest = job.highest("iso_set_point", "resin_set_point", "hose_set_point")
    why = "Which solvent cleans the machine was not answered."
    if solvent.si is not None:
        why = f"{with_capital(solvent.si)} is on site."
    by = at(solvent)
    if solvent.si != "another solvent" and hottest is not None and hottest.si > ACETONE_BOILS:
        why += f" Acetone boils at 56 °C, 133 °F; {hottest.label.lower()} is {said(hottest)}: "
        why += "hot vapour."
        by += f" and {at(hottest)}"
    precaution = (
        "No flame, spark or hot heater near it; earth the cans; air changed; never into a hot "
        "machine. Acetone burns from 2.5 % of vapour in air and flashes below -17 °C; its limits "
        "are OSHA 1000 ppm, NIOSH 250 ppm, 2500 ppm for danger to life (United States)."
    )
    return [("Solvent vapour", by, why, precaution, "OSHA and NIOSH pages of acetone")]


def _dew(job: Job) -> list[Row]:
    least = job.values["least_dew_margin"]
    found = [job.values["dew_margin"]]
    margins = job.columns["readings.reading_dew_margin"]
    surfaces, times = job.columns["readings.surface_reading"], job.columns["readings.time"]
    found += [
        margin if surface.si is None else _at(margin, surface, time)
        for margin, surface, time in zip(margins, surfaces, times)
    ]
    if least.si is None:
        return []
    low = [value for value in found if value.si is not None and value.si < least.si]
    if not low:
        return []
    lowest = min(low, key=lambda value: value.si)
    far = rounded(abs(lowest.si), least)
    why = f"The surface is {far} above the dew point, less than {said(least)}."
    if lowest.si < 0:
        why = f"The surface is {far} below the dew point: wet."
    precaution = "Do not spray: water under the film lifts it. Wait, warm or dry; measure again."
    source = "Common practice, no source, 3 K; WMO-No. 8 for the dew point"
    return [("Too near the dew point", at(lowest), why, precaution, source)]


def _at(margin: Value, surface: Value, time: Value) -> Value:
    return replace(margin, where=surface.where or time.where, label=surface.label)


SIGNS = {
    "pinholes": "Gas in the film",
    "blisters": "Gas or water under the film",
    "crystals in the iso": "Iso has met water or cold",
    "spent dryer": "The dryer no longer keeps water out of the iso drum",
}


def _signs(job: Job) -> list[Value]:
    signs = [job.values["moisture_sign"], *job.columns["readings.event"]]
    return [sign for sign in signs if sign.si in SIGNS]


def _moisture(job: Job) -> list[Row]:
    signs = _signs(job)
    if not signs:
        return []
    where = ", ".join(at(sign) for sign in signs[:4])
    why = " ".join(f"{SIGNS[word]}: {word}." for word in dict.fromkeys(s.si for s in signs))
    precaution = (
        "Stop and find where water comes in: dryer, open bungs, wet surface, wet air line. Do "
        "not spray from a drum that is in doubt."
    )
    return [("Signs of moisture", where, why, precaution, "common practice, no source")]


def _wet_iso(job: Job) -> list[Row]:
    signs = _signs(job)
    iso = [c for c in job.columns["materials.component"] if c.si == "iso"]
    by = at((signs or iso or [job.values["pump_output"]])[0])
    why = "Water in iso makes carbon dioxide: 10 g of water under 20 L of gas at 30 °C "
    why += "about 0.7 bar."
    precaution = (
        "Never shut a drum of iso that has met water: leave it vented and apart, as the supplier "
        "says; keep a dryer on every iso drum in use; dips open it to moist air."
    )
    source = "Stoichiometry and gas law; DGUV information 213-078, 10.15.1"
    return [("Wet iso drum never resealed", by, why, precaution, source)]


def _waste(job: Job) -> list[Row]:
    parts = [c.where for c in job.columns["materials.component"] if c.si in LINING]
    by = " and ".join(parts[:2]) or at(job.values["pump_output"])
    precaution = (
        "Iso waste and resin waste in containers of their own, labelled, never in one: they react, "
        "heat and foam. Flushings of one side are no rinse for the other."
    )
    why = "Both components are on site."
    return [("Iso and resin waste apart", by, why, precaution, "safety data sheets of both")]


def _electricity(job: Job) -> list[Row]:
    drawn, supply = job.values["power_drawn"], job.values["supply"]
    if drawn.si is None or supply.si is None or drawn.si <= supply.si:
        return []
    why = f"All loads together are {rounded(drawn.si, drawn)}, the supply carries "
    why += f"{rounded(supply.si, drawn)}."
    precaution = (
        "A licensed electrician sizes supply, cables, earthing and residual-current protection; "
        "never bridge a breaker. Start motors before heaters."
    )
    by = f"{at(drawn)} and {at(supply)}"
    return [("Load above the supply", by, why, precaution, "local electrical code")]


def _noise(job: Job) -> list[Row]:
    precaution = "Hearing protection at machine, compressor and gun; measure where in doubt."
    source = "29 CFR 1910.95 and NIOSH: 85 dBA (from memory)"
    by = at(job.values["pump_output"])
    return [("Noise", by, "Air motors, compressor and gun are loud.", precaution, source)]
