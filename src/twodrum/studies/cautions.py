"""What can hurt people on this job, from its own data: a caution, its cause, what is usual."""

from __future__ import annotations

import math
from dataclasses import dataclass, replace
from typing import Any, NamedTuple

from ..core.hose import trapped_pressure_rise
from ..core.mix import COATS, LINING
from ..core.safety import cool_down_time, dilution_air, hose_energy, noise_time
from ..engine.evaluate import Reader, Value
from ..problems import with_capital
from ..units import shown
from .caution_words import (
    ATMOSPHERES,
    BREATHING_AIR,
    CAPACITY,
    COUNTED,
    EXPOSURE_LIMITS,
    FIRE,
    FIRST,
    FIRST_AID,
    HEALTH,
    ISOCYANATE,
    LEAVING,
    NEIGHBOURS,
    PEOPLE_FIRST,
    SOURCE,
    Usual,
)
from .linings import TYPED
from .words import rounded, said

__all__ = ["CAPACITY", "ENCLOSED", "EXPOSURE_LIMITS", "FIRST", "READS", "SOURCE", "cautions"]

ENCLOSED = (
    *("pit", "sloped pit", "pipe", "tank shell", "tank shell and floor", "cone", "frustum"),
    *("sphere", "hemispherical head", "2:1 ellipsoidal head", "torispherical head", "manhole"),
    *("four walls", "bund walls"),
)
# A known area says nothing of its shape: what it is called does.
CLOSED_NAMES = (
    *("tank", "pit", "room", "sump", "vessel", "silo", "digester", "sewer", "manhole", "chamber"),
    *("basin", "pipe", "tunnel", "cellar", "basement", "hold", "vault", "shaft", "well"),
)
GASSY_NAMES = ("digester", "sewer", "manhole", "sump", "silo", "sludge", "manure", "septic")
WARM_TO_TOUCH = 316.15
BURNS_AT_ONCE = 333.15
ACETONE_BOILS = 329.2
SKIN_BREACHED = 7e5
BULK_MODULUS = 1.6e9
# Acetone: density, molar mass, a tenth of its lower explosive limit of 2.5 %.
ACETONE = (790.0, 0.05808)
TENTH_OF_LIMIT = 0.0025
FULL_DRUM = 230.0
# Joule in a foot-pound; cubic feet for a gallon in a cubic metre for a litre.
FOOT_POUND, FEET_FOR_A_GALLON = 1.355818, 35.31467 * 3.785412

OF_JOB = (
    *("confined_space", "exposure_country", "cleaning_solvent", "moisture_sign"),
    *("iso_set_point", "resin_set_point", "hose_set_point", "iso_drum_target", "resin_drum_target"),
    *("iso_pressure_high", "resin_pressure_high", "iso_gauge", "resin_gauge", "hose_length"),
    *("dew_margin", "least_dew_margin", "pump_output", "power_drawn", "supply"),
    *("iso_thermal_expansion", "resin_thermal_expansion", "iso_heater_power"),
    *("resin_heater_power", "hose_bore", "resin_hose_bore", "air_temperature", "drum_heat_loss"),
    *("iso_heat_capacity", "resin_heat_capacity"),
)
SINGLES = (*OF_JOB, *(TYPED[name] for name in OF_JOB if name in TYPED))
READS = (
    *SINGLES,
    *("areas.shape", "areas.surface"),
    *("materials.component", "materials.volume_solids"),
    "readings.event",
    "readings.time",
    "readings.surface_reading",
    "readings.reading_dew_margin",
    "readings.iso_pressure",
    "readings.resin_pressure",
)


class Row(NamedTuple):
    """One caution: what, raised by, why, precaution, source."""

    caution: Any
    raised_by: Any
    caution_reason: Any
    precaution: Any
    caution_source: Any


@dataclass
class Job:
    """What the cautions look at."""

    values: dict[str, Value]
    columns: dict[str, list[Value]]

    @property
    def in_us_units(self) -> bool:
        """Whether what is said here besides the job's own values is said in feet and pounds."""
        return self.values["air_temperature"].unit == "°F"

    def highest(self, *keys: str) -> Value | None:
        """The highest value given among names and columns, of either lining."""
        found: list[Value] = []
        for key in (*keys, *(TYPED[key] for key in keys if key in TYPED)):
            found += self.columns[key] if "." in key else [self.values[key]]
        given = [value for value in found if value.si is not None]
        return max(given, key=lambda value: value.si, default=None)


def cautions(reader: Reader) -> list[Row]:
    """Rows of (caution, raised by, why here, precaution, source), what kills first."""
    values = {name: reader.cell(name) for name in SINGLES}
    columns = {key: reader.cells(*key.split(".")) for key in READS if "." in key}
    job = Job(values, columns)
    rows: list[Row] = [
        Row("Who decides", "every job", "It stands above all others.", FIRST, SOURCE)
    ]
    for find in (
        *(_not_known, PEOPLE_FIRST, _confined, _injection, ISOCYANATE, BREATHING_AIR, LEAVING),
        *(FIRE, _solvent, _electricity, _hose, _drums, _wet_iso, _hot, FIRST_AID, HEALTH),
        *(_spills, _dew, _moisture, _body, _noise, NEIGHBOURS, _limits),
    ):
        rows += [_usual(job, find)] if isinstance(find, Usual) else find(job)
    return rows


def _usual(job: Job, caution: Usual) -> Row:
    by = _iso(job) if caution.of_iso else _always(job)
    return Row(caution.what, by, caution.why, caution.precaution, caution.source)


def _not_known(job: Job) -> list[Row]:
    """Cautions that may be missing because a cell that raises them is refused."""
    values = [*job.values.values(), *(v for column in job.columns.values() for v in column)]
    roots = list(dict.fromkeys(root for value in values for root in value.roots))
    if not roots:
        return []
    where = ", ".join(roots[:6]) + (f" and {len(roots) - 6} more" if len(roots) > 6 else "")
    why = "These cells are refused: cautions that follow from them may be missing."
    precaution = "Mend them; until then take the worst for true."
    return [Row("Not all could be looked at", where, why, precaution, "our choice")]


def at(value: Value) -> str:
    """The cell that raised a caution, and what it holds."""
    return f"{value.where} ({value.label})"


def _always(job: Job) -> str:
    """What raises a caution that stands on every job."""
    return at(job.values["pump_output"])


def _iso(job: Job) -> str:
    iso = [c for c in job.columns["materials.component"] if c.si == "iso"]
    return at(iso[0]) if iso else _always(job)


def _limits(job: Job) -> list[Row]:
    country = job.values["exposure_country"]
    if country.si in EXPOSURE_LIMITS:
        limit, source = EXPOSURE_LIMITS[country.si]
        words, why = f"{limit}. {COUNTED}", f"{country.si} is picked."
        return [Row(f"Exposure limit, {country.si}", at(country), why, words, source)]
    why = "The country is not on the list: ask its authority."
    if country.si is None:
        why = "No country is picked: those known here are told."
    words = " ".join(f"{name}: {limit}." for name, (limit, _) in EXPOSURE_LIMITS.items())
    source = "; ".join(source for _, source in EXPOSURE_LIMITS.values())
    return [Row("Exposure limits", at(country), why, f"{words} {COUNTED}", source)]


def _confined(job: Job) -> list[Row]:
    answer, country = job.values["confined_space"], job.values["exposure_country"].si
    names, shapes = job.columns["areas.surface"], job.columns["areas.shape"]
    closed = [shape for shape in shapes if shape.si in ENCLOSED]
    closed += [name for name in names if _says(name, CLOSED_NAMES)]
    raised: list[tuple[str, str]] = []
    if answer.si == "yes":
        raised.append((at(answer), "A confined space was answered with yes."))
    elif answer.si is None:
        raised.append((at(answer), "Whether this is a confined space was not answered."))
    if closed:
        where = ", ".join(cell.where for cell in closed[:4])
        where += f" and {len(closed) - 4} more" if len(closed) > 4 else ""
        called = ", ".join(dict.fromkeys(str(cell.si) for cell in closed))
        raised.append((where, f"Shapes and names that may close people in: {called}."))
    if not raised:
        return []
    known = country if country in ATMOSPHERES else next(iter(ATMOSPHERES))
    limit, source = ATMOSPHERES[known]
    if known != country:
        limit += f", the strictest known here ({known})"
    precaution = (
        "Entry permit; inflows, pipes and drives shut off and locked; air tested from outside, at "
        "top, middle and bottom, before and all the time: first oxygen, 19.5 to 23.5 % and the "
        f"reason found where it is not 20.9 %; then {limit}; then toxic gas. Forced ventilation, a "
        "watch outside, rescue that is ready and never goes in without air. Meeting the numbers "
        "is not a permit."
    )
    if any(_says(name, GASSY_NAMES) for name in names):
        precaution += " Digesters, sewers and sumps make hydrogen sulphide and methane again and "
        precaution += "again: gas comes back after it was tested."
    where, why = (" and ".join(r[0] for r in raised), " ".join(r[1] for r in raised))
    return [Row("Confined space", where, why, precaution, source)]


def _says(name: Value, words: tuple[str, ...]) -> bool:
    """Whether a name holds one of these words, whole or as a plural."""
    said_words = {word.strip(".,;:()-'\"").rstrip("s") for word in str(name.si).lower().split()}
    return name.si is not None and not said_words.isdisjoint(word.rstrip("s") for word in words)


def _injection(job: Job) -> list[Row]:
    highest = job.highest(
        *("iso_pressure_high", "resin_pressure_high", "iso_gauge", "resin_gauge"),
        *("readings.iso_pressure", "readings.resin_pressure"),
    )
    by = _always(job)
    why = "The machine sprays at high pressure."
    if highest is not None and highest.si > SKIN_BREACHED:
        times = highest.si / SKIN_BREACHED
        by = at(highest)
        why = f"{rounded(highest.si, highest)} are about {times:.0f} times what breaches skin."
    precaution = (
        "Never a hand before the gun or over a leak; pressure off, gauges at zero and power locked "
        "off before any fitting is opened. Any injection is a surgical emergency, even if it "
        "hardly hurts: hospital at once, with the safety data sheet."
    )
    source = (
        "100 psi, 7 bar, may breach skin: hand-surgery outlines; 29 CFR 1910.147 and 1926.302(b)"
    )
    return [Row("Injection under the skin", by, why, precaution, source)]


def _hot(job: Job) -> list[Row]:
    hottest = job.highest("iso_set_point", "resin_set_point", "hose_set_point")
    if hottest is None or hottest.si <= WARM_TO_TOUCH:
        return []
    why = f"{hottest.label} is {said(hottest)}"
    why += ": burns in seconds." if hottest.si >= BURNS_AT_ONCE else ": burns within minutes."
    precaution = "Gloves and sleeves at heaters, hose and gun; let them cool before servicing."
    source = (
        "ISO 13732-1: 43 °C (109 °F) for hours, 51 °C (124 °F) a minute (memory), 65 °C (149 °F)"
    )
    return [Row("Hot liquid and surfaces", at(hottest), why, precaution, source)]


def _hose(job: Job) -> list[Row]:
    """What a hose under pressure holds, and what shuts it in when it is warmed."""
    highest = job.highest("iso_pressure_high", "resin_pressure_high", "iso_gauge", "resin_gauge")
    length, wide = job.values["hose_length"], job.highest("hose_bore", "resin_hose_bore")
    by, why = _always(job), "Hoses are under pressure for their whole length."
    if highest is not None and length.si is not None and wide is not None:
        volume = math.pi / 4 * wide.si**2 * length.si
        energy = hose_energy(highest.si, volume, BULK_MODULUS)
        by = f"{at(highest)} and {at(length)}"
        held = f"{energy:.0f} J, as {energy / 98.1:.0f} kg falling 10 m"
        if job.in_us_units:
            pounds = energy / FOOT_POUND
            held = f"{pounds:.0f} ft·lbf, as {pounds / 30:.0f} lb falling 30 ft"
        why = f"At {said(highest)} the liquid of one hose holds about {held}; the hose itself more."
    hose = job.highest("hose_set_point")
    if hose is not None and hose.si > WARM_TO_TOUCH:
        expansions = [job.values[f"{side}_thermal_expansion"].si for side in LINING]
        expansion = max([e for e in expansions if e], default=8e-4)
        rise = trapped_pressure_rise(expansion, BULK_MODULUS, 1.0)
        like = job.values["iso_gauge"]
        unit = "°F" if hose.unit == "°F" else "K"
        each = rounded(rise / 1.8 if unit == "°F" else rise, like)
        why += f" Shut and full it would gain up to {each} for each {unit} warmer, if it could not "
        why += "stretch."
    precaution = (
        "Whip checks on couplings, no sharp bends, no trips and wheels over it, look it over every "
        "day; never heat a hose that is shut and full; pressure off before leaving it."
    )
    source = "Work of compression and expansion at a bulk modulus of about 1.6 GPa (from memory)"
    return [Row("Hose: whip, burst, trapped pressure", by, why, precaution, source)]


def _drums(job: Job) -> list[Row]:
    warmest = job.highest("iso_drum_target", "resin_drum_target")
    power = job.highest("iso_heater_power", "resin_heater_power")
    by, why = _iso(job), "Drums on site may be cold, warmed or in the sun."
    if power is not None and power.si > 0 and warmest is not None:
        by, why = at(warmest), f"Drums are warmed, {warmest.label.lower()} {said(warmest)}."
        why += _cooling(job, warmest)
    precaution = (
        "A bulged or hissing drum: everyone away at once, nobody opens or moves it, call the "
        "supplier and the fire service. Watch drums while they warm; no local overheating, no band "
        "on a closed drum, dryer on the iso. Iso that was cold may hold crystals: thaw it as the "
        "supplier says, never with a flame."
    )
    source = "DGUV information 213-078, 10.11 and 10.15.1; safety data sheets"
    return [Row("Drums: bulged, warm, cold", by, why, precaution, source)]


def _cooling(job: Job, warmest: Value) -> str:
    """How long a warm drum stays too warm to touch; "" where that is not known."""
    side = "iso" if "iso" in warmest.name else "resin"
    capacity, loss = job.values[f"{side}_heat_capacity"].si, job.values["drum_heat_loss"].si
    air = job.values["air_temperature"].si
    known = None not in (capacity, loss, air) and loss > 0 and air < WARM_TO_TOUCH
    if not known or warmest.si <= WARM_TO_TOUCH:
        return ""
    hours = cool_down_time(capacity, loss, air, warmest.si, WARM_TO_TOUCH) / 3600
    return f" Left alone it takes about {hours:.0f} h to where it can be touched for long."


def _solvent(job: Job) -> list[Row]:
    solvent = job.values["cleaning_solvent"]
    thinned = _thinned(job)
    if solvent.si == "none" and not thinned:
        return []
    hottest = job.highest("iso_set_point", "resin_set_point", "hose_set_point")
    acetone = solvent.si not in (None, "none", "another solvent")
    why, by = [], at(solvent)
    if solvent.si is None:
        why.append("Which solvent cleans the machine was not answered.")
    elif solvent.si != "none":
        why.append(f"{with_capital(solvent.si)} is on site.")
    if thinned:
        why.append("A coat of less than 100 % solids gives off its solvent, see its data sheet.")
        by += f" and {', '.join(value.where for value in thinned[:3])}"
    if acetone and hottest is not None and hottest.si > ACETONE_BOILS:
        why.append(f"Acetone boils at 56 °C, 133 °F; {hottest.label.lower()} is {said(hottest)}.")
        by += f" and {at(hottest)}"
    precaution = (
        "No flame, spark or hot heater near it; earth the cans; air changed; never into a hot "
        "machine; rags in a shut metal can; nothing chlorinated in parts of aluminium: it may "
        "explode. Limits are those of its own safety data sheet."
    )
    source = "Safety data sheet of the solvent; general dilution law"
    if acetone:
        precaution += f" {_of_acetone(job)}"
        source = "NIOSH and OSHA pages of acetone; general dilution law"
    return [Row("Solvent vapour", by, " ".join(why), precaution, source)]


def _thinned(job: Job) -> list[Value]:
    """Solids of primers and top coats that hold solvent."""
    solids = zip(job.columns["materials.component"], job.columns["materials.volume_solids"])
    return [share for what, share in solids if what.si in COATS and (share.si or 1.0) < 1.0]


def _of_acetone(job: Job) -> str:
    """What is known of acetone, with the limits of the country that is picked."""
    air = job.values["air_temperature"].si or 293.15
    cubic = dilution_air(0.001, *ACETONE, air, TENTH_OF_LIMIT, 1.0)
    amount = f"{cubic:.0f} m³ of air for each litre"
    if job.in_us_units:
        amount = f"{cubic * FEET_FOR_A_GALLON:,.0f} ft³ of air for each gallon"
    words = "Vapour of acetone burns from 2.5 % in air and ignites at any temperature of a site "
    words += f"(flash point about -18 °C, 0 °F). {amount} that evaporates thin it to a tenth of "
    words += "that, 3 to 10 times as much where air mixes badly: that is against fire only, it is "
    words += "no air to breathe and not enough in a confined space."
    if job.values["exposure_country"].si == "United States":
        words += " OSHA 1000 ppm, NIOSH 250 ppm, 2500 ppm for danger to life."
    return words


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
    precaution = (
        "Do not spray: water under the film lifts it. Wait, or warm and dry without open flame or "
        "exhaust; measure again."
    )
    source = "ISO 8502-4:2017, 3 K at least (from memory); WMO-No. 8 for the dew point"
    return [Row("Too near the dew point", at(lowest), why, precaution, source)]


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
    source = "DGUV information 213-078 on iso and water; sections 7 and 10 of safety data sheets"
    return [Row("Signs of moisture", where, why, precaution, source)]


def _wet_iso(job: Job) -> list[Row]:
    signs = _signs(job)
    by = at(signs[0]) if signs else _iso(job)
    why = "Water in iso makes carbon dioxide: 10 g (0.35 oz) of water under 20 L (5 gal) of gas "
    why += "at 30 °C (86 °F) about 0.7 bar (10 psi)."
    precaution = (
        "Never shut a drum of iso that has met water: leave it vented and apart, as the supplier "
        "says; keep a dryer on every iso drum in use; dips open it to moist air."
    )
    source = "Stoichiometry and gas law; DGUV information 213-078, 10.15.1"
    return [Row("Wet iso drum never resealed", by, why, precaution, source)]


def _spills(job: Job) -> list[Row]:
    parts = [c.where for c in job.columns["materials.component"] if c.si in LINING]
    by = " and ".join(parts[:2]) or _always(job)
    precaution = (
        "Spilled iso: people off, supplied air, absorb, cover with the neutraliser of the supplier "
        "(such as water with 5 to 10 % of washing soda and a little detergent; no ammonia in "
        "closed spaces), collect in open drums outdoors, vented until it has reacted, two days at "
        "least. Iso waste and resin waste apart, labelled: together they heat and foam. Flushings "
        "of one side are no rinse for the other."
    )
    why = "Both components are on site."
    source = "ISOPA and safety data sheets, section 6 (from memory); DGUV information 213-078"
    return [Row("Spills and waste", by, why, precaution, source)]


def _electricity(job: Job) -> list[Row]:
    drawn, supply = job.values["power_drawn"], job.values["supply"]
    over = drawn.si is not None and supply.si is not None and drawn.si > supply.si
    what, by = "Electricity", _always(job)
    why = "Heaters and motors draw much, on a wet site, by long cables."
    if over:
        what, by = "Load above the supply", f"{at(drawn)} and {at(supply)}"
        why = f"All loads together are {rounded(drawn.si, drawn)}, the supply carries "
        why += f"{rounded(supply.si, drawn)}."
    precaution = (
        "A licensed electrician sizes supply, cables, earthing and residual-current protection; "
        "never bridge a breaker; generators outside, their exhaust away from people and intakes."
    )
    if over:
        precaution = f"Do not switch all on until an electrician has cleared it. {precaution}"
    return [Row(what, by, why, precaution, "local electrical code; 29 CFR 1926 subpart K")]


def _body(job: Job) -> list[Row]:
    air = job.values["air_temperature"]
    mass = shown(FULL_DRUM, "mass", "lb" if job.in_us_units else "kg")
    why = f"A full drum is about {mass}; whoever sprays wears a suit."
    if air.si is not None:
        why += f" The air is {said(air)}."
    precaution = (
        "Drums by drum lifter or truck, never by hand; feet out from under. Work at height from a "
        "scaffold or lift, not from a ladder with a gun; holes covered. In suits drink, rest, take "
        "turns: confusion, collapse or fainting, sweating or not, may be heat stroke, an "
        "emergency: call, cool with cold water at once."
    )
    source = "29 CFR 1926 subparts L and M; NIOSH 2016-106 on heat (2016)"
    return [Row("Lifting, heights, heat", at(air), why, precaution, source)]


def _noise(job: Job) -> list[Row]:
    at_100 = [noise_time(100.0, *rule) / 60 for rule in ((85.0, 3.0), (90.0, 5.0))]
    why = "Air motors, compressor, blasting and gun are loud; at 100 dBA a day's dose of noise is "
    why += f"full after {at_100[0]:.0f} minutes by NIOSH, {at_100[1]:.0f} by OSHA."
    precaution = "Hearing protection at machine, compressor and gun; measure where in doubt."
    source = "NIOSH 98-126 (1998); 29 CFR 1910.95 Appendix A, construction 1926.52"
    return [Row("Noise", _always(job), why, precaution, source)]
