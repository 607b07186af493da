"""Kinds of quantity, their closed unit lists, and texts such as "80 mil" read as SI floats.

The factors stand in `unit_table`, made with pint by ``python -m twodrum.units`` and
tested against it; at run time neither the engine nor a spreadsheet host needs pint.
A value in SI is ``(value + add) * times``.
"""

from __future__ import annotations

import math
import re
from dataclasses import dataclass, field
from typing import Any

from .unit_table import UNIT_TABLE as UNIT_TABLE

NUMBER = re.compile(
    r"[+-]?(?:(?:[0-9]{1,3}(?:,[0-9]{3})+|[0-9]+)(?:\.[0-9]*)?|\.[0-9]+)(?:[eE][+-]?[0-9]+)?"
)
LEADING_NUMBER = re.compile(r"[+-]?[\d.,]*(?:(?<=[\d.])[eE][+-]?[0-9]+(?![\w]))?")
DECIMAL_COMMA = re.compile(r"[+-]?\d+,\d+")


class UnitError(ValueError):
    """A text that is not a quantity of the wanted kind: what was found, expected, the mend."""

    def __init__(self, found: str, expected: str, mend: str = "") -> None:
        self.found = found
        self.expected = expected
        self.mend = mend
        super().__init__("; ".join(part for part in (found, expected, mend) if part))


@dataclass(frozen=True)
class Unit:
    """One unit of a kind: the text on the list, the expression pint knows, other spellings."""

    text: str
    expression: str
    spellings: tuple[str, ...] = ()


@dataclass(frozen=True)
class Kind:
    """A kind of quantity and the closed list of its units."""

    name: str
    si: str
    metric: str
    us: str
    units: tuple[Unit, ...]
    decimals: int = 2
    noun: str = ""
    by_spelling: dict[str, Unit] = field(default_factory=dict, compare=False, repr=False)

    def __post_init__(self) -> None:
        for unit in self.units:
            for spelling in (unit.text, *unit.spellings):
                self.by_spelling[spelling.casefold()] = unit

    @property
    def unit_texts(self) -> tuple[str, ...]:
        return tuple(unit.text for unit in self.units)

    def wanted(self) -> str:
        """How a message names this kind: "a volume: L, mL, ..."."""
        noun = self.noun or self.name.replace("_", " ")
        article = "an" if noun[0] in "aeiou" else "a"
        return f"{article} {noun} is wanted: {', '.join(self.unit_texts)}"


def _kind(name: str, si: str, metric: str, us: str, *units: Unit, decimals: int = 2) -> Kind:
    return Kind(name, si, metric, us, units, decimals)


def _plain(name: str, text: str, decimals: int = 0) -> Kind:
    return Kind(name, "1", text, text, (Unit(text, "dimensionless"),), decimals)


_GALLONS = (
    Unit("US gal", "US_liquid_gallon", ("US gallon", "US gallons", "usgal")),
    Unit("imp gal", "imperial_gallon", ("imp gallon", "imp gallons", "imperial gallon")),
)

KINDS: dict[str, Kind] = {
    kind.name: kind
    for kind in (
        _kind(
            "length",
            "m",
            "m",
            "ft",
            Unit("m", "meter"),
            Unit("cm", "centimeter"),
            Unit("mm", "millimeter"),
            Unit("ft", "foot", ("feet",)),
            Unit("in", "inch", ("inch",)),
            Unit("yd", "yard", ("yard",)),
        ),
        _kind(
            "thickness",
            "m",
            "mm",
            "mil",
            Unit("mm", "millimeter"),
            Unit("µm", "micrometer", ("um", "micron")),
            Unit("mil", "thou", ("mils", "thou")),
            Unit("in", "inch", ("inch",)),
        ),
        _kind(
            "area",
            "m²",
            "m²",
            "ft²",
            Unit("m²", "meter**2", ("m2", "sq m", "sqm")),
            Unit("ft²", "foot**2", ("ft2", "sq ft", "sqft")),
            Unit("yd²", "yard**2", ("yd2", "sq yd")),
        ),
        _kind(
            "volume",
            "m³",
            "L",
            "US gal",
            Unit("L", "liter", ("litre", "liter", "litres", "liters")),
            Unit("mL", "milliliter"),
            Unit("m³", "meter**3", ("m3",)),
            *_GALLONS,
            decimals=1,
        ),
        _kind(
            "volume_per_area",
            "m³/m²",
            "L/m²",
            "US gal/100 ft²",
            Unit("L/m²", "liter/meter**2", ("L/m2",)),
            Unit("mL/m²", "milliliter/meter**2", ("mL/m2",)),
            Unit("m³/m²", "meter", ("m3/m2",)),
            Unit("US gal/100 ft²", "US_liquid_gallon/decafoot**2", ("US gal/100 ft2",)),
        ),
        _kind(
            "spreading_rate",
            "m²/m³",
            "m²/L",
            "ft²/US gal",
            Unit("m²/L", "meter**2/liter", ("m2/L",)),
            Unit("m²/m³", "1/meter", ("m2/m3",)),
            Unit("ft²/US gal", "foot**2/US_liquid_gallon", ("ft2/US gal",)),
            Unit("ft²/imp gal", "foot**2/imperial_gallon", ("ft2/imp gal",)),
        ),
        _kind(
            "mass",
            "kg",
            "kg",
            "lb",
            Unit("kg", "kilogram"),
            Unit("g", "gram"),
            Unit("t", "metric_ton", ("tonne",)),
            Unit("lb", "pound", ("lbs",)),
            decimals=1,
        ),
        _kind(
            "density",
            "kg/m³",
            "kg/m³",
            "lb/US gal",
            Unit("kg/m³", "kilogram/meter**3", ("kg/m3",)),
            Unit("kg/L", "kilogram/liter", ("g/mL",)),
            Unit("g/cm³", "gram/centimeter**3", ("g/cm3",)),
            Unit("g/m³", "gram/meter**3", ("g/m3",)),
            Unit("lb/US gal", "pound/US_liquid_gallon"),
            Unit("lb/ft³", "pound/foot**3", ("lb/ft3",)),
            decimals=1,
        ),
        _kind(
            "temperature",
            "K",
            "°C",
            "°F",
            Unit("°C", "degC", ("degC", "C", "deg C")),
            Unit("°F", "degF", ("degF", "F", "deg F")),
            Unit("K", "kelvin"),
            decimals=1,
        ),
        _kind(
            "temperature_difference",
            "K",
            "K",
            "Δ°F",
            Unit("K", "kelvin"),
            Unit("Δ°C", "delta_degC", ("delta degC", "delta_degC")),
            Unit("Δ°F", "delta_degF", ("delta degF", "delta_degF")),
            decimals=1,
        ),
        _kind(
            "expansion",
            "1/K",
            "1/K",
            "1/°F",
            Unit("1/K", "1/kelvin", ("1/°C", "1/degC")),
            Unit("1/°F", "1/delta_degF", ("1/degF",)),
            decimals=5,
        ),
        _kind(
            "share",
            "1",
            "%",
            "%",
            Unit("%", "percent", ("percent",)),
            Unit("fraction", "dimensionless"),
            decimals=1,
        ),
        # One that was worked out: it may be small, and below 0.
        _kind(
            "found_share",
            "1",
            "%",
            "%",
            Unit("%", "percent", ("percent",)),
            Unit("fraction", "dimensionless"),
            decimals=1,
        ),
        _kind(
            "pressure",
            "Pa",
            "bar",
            "psi",
            Unit("bar", "bar"),
            Unit("MPa", "megapascal"),
            Unit("GPa", "gigapascal"),
            Unit("kPa", "kilopascal"),
            Unit("Pa", "pascal"),
            Unit("hPa", "hectopascal"),
            Unit("psi", "psi"),
            decimals=1,
        ),
        _kind(
            "time",
            "s",
            "h",
            "h",
            Unit("h", "hour", ("hour", "hours")),
            Unit("min", "minute", ("minute", "minutes")),
            Unit("s", "second", ("seconds",)),
            decimals=1,
        ),
        _kind(
            "volume_flow",
            "m³/s",
            "L/min",
            "US gal/min",
            Unit("L/min", "liter/minute"),
            Unit("mL/s", "milliliter/second"),
            Unit("m³/s", "meter**3/second", ("m3/s",)),
            Unit("US gal/min", "US_liquid_gallon/minute"),
            Unit("imp gal/min", "imperial_gallon/minute"),
        ),
        _kind(
            "price_per_volume",
            "money/m³",
            "per L",
            "per US gal",
            Unit("per L", "1/liter"),
            Unit("per m³", "1/meter**3", ("per m3",)),
            Unit("per US gal", "1/US_liquid_gallon"),
            Unit("per imp gal", "1/imperial_gallon"),
        ),
        _kind(
            "price_per_area",
            "money/m²",
            "per m²",
            "per ft²",
            Unit("per m²", "1/meter**2", ("per m2",)),
            Unit("per ft²", "1/foot**2", ("per ft2",)),
        ),
        _kind(
            "price_per_time",
            "money/s",
            "per h",
            "per h",
            Unit("per h", "1/hour", ("per hour",)),
            Unit("per min", "1/minute"),
            Unit("per s", "1/second"),
        ),
        _kind(
            "speed",
            "m/s",
            "m/s",
            "ft/min",
            Unit("m/s", "meter/second"),
            Unit("m/min", "meter/minute"),
            Unit("km/h", "kilometer/hour"),
            Unit("ft/min", "foot/minute"),
            Unit("ft/s", "foot/second"),
            Unit("mph", "mile/hour"),
        ),
        _kind(
            "viscosity",
            "Pa·s",
            "mPa·s",
            "cP",
            Unit("mPa·s", "millipascal*second", ("mPas", "mPa s")),
            Unit("Pa·s", "pascal*second", ("Pas", "Pa s")),
            Unit("cP", "centipoise"),
            decimals=1,
        ),
        _kind("power", "W", "kW", "kW", Unit("kW", "kilowatt"), Unit("W", "watt")),
        _kind(
            "energy",
            "J",
            "kWh",
            "kWh",
            Unit("kWh", "kilowatt_hour"),
            Unit("MJ", "megajoule"),
            Unit("J", "joule"),
        ),
        _kind(
            "heat_capacity",
            "J/K",
            "kJ/K",
            "kJ/K",
            Unit("kJ/K", "kilojoule/kelvin"),
            Unit("J/K", "joule/kelvin"),
        ),
        _kind("heat_rate", "W/K", "W/K", "W/K", Unit("W/K", "watt/kelvin")),
        _kind(
            "specific_heat",
            "J/(kg·K)",
            "kJ/(kg·K)",
            "kJ/(kg·K)",
            Unit("kJ/(kg·K)", "kilojoule/kilogram/kelvin", ("kJ/kgK", "kJ/(kg K)")),
            Unit("J/(kg·K)", "joule/kilogram/kelvin", ("J/kgK", "J/(kg K)")),
        ),
        _kind("power_per_length", "W/m", "W/m", "W/m", Unit("W/m", "watt/meter")),
        _kind(
            "heat_rate_per_length",
            "W/(m·K)",
            "W/(m·K)",
            "W/(m·K)",
            Unit("W/(m·K)", "watt/meter/kelvin", ("W/mK", "W/(m K)")),
        ),
        _kind("current", "A", "A", "A", Unit("A", "ampere"), decimals=1),
        _kind("voltage", "V", "V", "V", Unit("V", "volt"), Unit("kV", "kilovolt"), decimals=0),
        _kind(
            "voltage_per_thickness",
            "V/m",
            "V/µm",
            "V/mil",
            Unit("V/µm", "volt/micrometer", ("V/um",)),
            Unit("V/mil", "volt/thou"),
            Unit("V/m", "volt/meter"),
        ),
        _kind(
            "force",
            "N",
            "N",
            "lbf",
            Unit("N", "newton"),
            Unit("kN", "kilonewton"),
            Unit("lbf", "pound_force"),
        ),
        _kind(
            "heat_transfer",
            "W/(m²·K)",
            "W/(m²·K)",
            "W/(m²·K)",
            Unit("W/(m²·K)", "watt/meter**2/kelvin", ("W/m2K", "W/(m2 K)")),
        ),
        _kind(
            "conductivity",
            "W/(m·K)",
            "W/(m·K)",
            "W/(m·K)",
            Unit("W/(m·K)", "watt/meter/kelvin", ("W/mK", "W/(m K)")),
            decimals=3,
        ),
        _kind(
            "heat_flux",
            "W/m²",
            "kW/m²",
            "kW/m²",
            Unit("kW/m²", "kilowatt/meter**2", ("kW/m2",)),
            Unit("W/m²", "watt/meter**2", ("W/m2",)),
        ),
        _kind(
            "heat_capacity_per_length",
            "J/(m·K)",
            "J/(m·K)",
            "J/(m·K)",
            Unit("J/(m·K)", "joule/meter/kelvin", ("J/mK", "J/(m K)")),
            decimals=0,
        ),
        _kind(
            "mass_per_length",
            "kg/m",
            "kg/m",
            "lb/ft",
            Unit("kg/m", "kilogram/meter"),
            Unit("lb/ft", "pound/foot"),
        ),
        _kind(
            "kinematic_viscosity",
            "m²/s",
            "mm²/s",
            "cSt",
            Unit("mm²/s", "millimeter**2/second", ("mm2/s",)),
            Unit("cSt", "centistokes"),
            Unit("m²/s", "meter**2/second", ("m2/s",)),
        ),
        _kind(
            "flow_resistance",
            "1/m³",
            "1/m³",
            "1/m³",
            Unit("1/m³", "1/meter**3", ("1/m3",)),
            decimals=0,
        ),
        _kind(
            "pressure_per_temperature",
            "Pa/K",
            "bar/K",
            "psi/Δ°F",
            Unit("bar/K", "bar/kelvin"),
            Unit("psi/Δ°F", "psi/delta_degF", ("psi/degF",)),
            Unit("Pa/K", "pascal/kelvin"),
        ),
        _kind(
            "concentration",
            "kg/m³",
            "mg/m³",
            "mg/m³",
            Unit("mg/m³", "milligram/meter**3", ("mg/m3",)),
            Unit("µg/m³", "microgram/meter**3", ("ug/m3",)),
            Unit("g/m³", "gram/meter**3", ("g/m3",)),
            decimals=3,
        ),
        _kind(
            "volume_fraction",
            "1",
            "ppm",
            "ppm",
            Unit("ppm", "milliliter/meter**3"),
            Unit("ppb", "microliter/meter**3"),
            Unit("vol %", "percent"),
            decimals=3,
        ),
        _kind("molar_mass", "kg/mol", "g/mol", "g/mol", Unit("g/mol", "gram/mole", ("g/eq",))),
        _kind(
            "hydroxyl_value",
            "kg/kg",
            "mg KOH/g",
            "mg KOH/g",
            Unit("mg KOH/g", "milligram/gram", ("mgKOH/g",)),
        ),
        _kind(
            "conductor_area", "m²", "mm²", "mm²", Unit("mm²", "millimeter**2", ("mm2",)), decimals=1
        ),
        _kind(
            "apparent_power",
            "VA",
            "kVA",
            "kVA",
            Unit("kVA", "kilovolt_ampere"),
            Unit("VA", "volt_ampere"),
        ),
        _kind(
            "area_rate",
            "m²/s",
            "m²/min",
            "ft²/min",
            Unit("m²/min", "meter**2/minute", ("m2/min",)),
            Unit("m²/h", "meter**2/hour", ("m2/h",)),
            Unit("ft²/min", "foot**2/minute", ("ft2/min",)),
            Unit("ft²/h", "foot**2/hour", ("ft2/h",)),
            Unit("m²/s", "meter**2/second", ("m2/s",)),
        ),
        _kind(
            "fuel_rate",
            "m³/J",
            "L/kWh",
            "US gal/kWh",
            Unit("L/kWh", "liter/kilowatt_hour"),
            Unit("US gal/kWh", "US_liquid_gallon/kilowatt_hour"),
            decimals=3,
        ),
        _plain("number", "–", 2),
        _plain("money", "money", 2),
        _plain("count", "pcs"),
        _plain("people", "persons"),
        _plain("passes", "passes"),
        _plain("days", "days"),
        _plain("drums", "drums"),
        _plain("sets", "sets"),
        _plain("ratio", "parts", 2),
        _plain("factor", "×", 3),
        _plain("decimals", "places"),
    )
}


# Kinds of which there is no half.
WHOLE = ("count", "people", "drums", "sets", "passes", "days", "decimals")


def conversion(kind: str, unit: str) -> tuple[float, float]:
    """(add, times) of a unit on the list of a kind; SI = (value + add) * times.

    Raises UnitError when the unit is not on the list.
    """
    wanted = KINDS[kind]
    entry = wanted.by_spelling.get(" ".join(unit.split()).casefold())
    if entry is None:
        raise UnitError(f"unit is '{unit}'", wanted.wanted())
    return UNIT_TABLE[kind][entry.text]


def to_si(value: float, kind: str, unit: str) -> float:
    """A number in a unit as an SI float."""
    add, times = conversion(kind, unit)
    return (value + add) * times


def from_si(value: float, kind: str, unit: str) -> float:
    """An SI float as a number in a unit."""
    add, times = conversion(kind, unit)
    return value / times - add


def parse_number(text: str) -> float:
    """A number as people type it, with or without thousands commas; never a decimal comma."""
    stripped = text.strip()
    has_digits = any(character.isdigit() for character in stripped)
    grouped = NUMBER.fullmatch(stripped) and not stripped.lstrip("+-").startswith("0,")
    if has_digits and grouped:
        value = float(stripped.replace(",", ""))
        if math.isfinite(value):
            return value
        raise UnitError(f"'{text}' is too large a number", "a finite number is wanted")
    if DECIMAL_COMMA.match(stripped):
        point = stripped.replace(",", ".", 1)
        mend = f"write {point}" if NUMBER.fullmatch(point) else ""
        raise UnitError(f"'{text}' has a decimal comma", "a decimal point is wanted", mend)
    raise UnitError(f"'{text}' is not a number", "a number is wanted")


def split_unit(text: str) -> tuple[str, str]:
    """The number and the unit of a text, both as typed; either may be empty."""
    stripped = text.strip()
    match = LEADING_NUMBER.match(stripped)
    number = match.group(0) if match else ""
    return number, stripped[len(number) :].strip()


def parse(text: str, kind: str) -> float:
    """A text such as "80 mil", "2,500 psi" or "65 degC" as an SI float.

    A text without a unit is refused, except for a share from 0 to 1 and for kinds
    that only count. Raises UnitError with what was found, what is expected, the mend.
    """
    wanted = KINDS[kind]
    number, unit = split_unit(text)
    value = parse_number(number if number else text)
    if unit:
        mistaken = mistaken_prefix(kind, unit)
        if mistaken or " ".join(unit.split()).casefold() not in wanted.by_spelling:
            expected = mistaken or wanted.wanted()
            raise UnitError(f"'{text}' has the unit '{unit}'", expected)
        return to_si(value, kind, unit)
    if kind == "share":
        return bare_share(value)
    if len(wanted.units) == 1:
        return to_si(value, kind, wanted.metric)
    example = f"write {number} {wanted.metric} or {number} {wanted.us}"
    raise UnitError(f"'{text}' has no unit", wanted.wanted(), example)


def mistaken_prefix(kind: str, unit: str) -> str:
    """What is wanted where mPa is typed for MPa or MPa·s for mPa·s, a factor of 1e9; else empty."""
    entry = KINDS[kind].by_spelling.get(" ".join(unit.split()).casefold())
    if entry is None or entry.text[:1] not in ("m", "M") or entry.text[1:3] != "Pa":
        return ""
    if unit.strip()[:1] == entry.text[:1]:
        return ""
    return f"{entry.text} is wanted, with the letter {entry.text[0]}"


MOST_BARE_SHARE = 3.0


def bare_share(value: float) -> float:
    """A share given as a bare number; well above 1 it is refused, because 15 may mean 15 %.

    A markup of 1.5 or an index of 1.05 is one: where no more than the whole is possible, the
    formula itself refuses it.
    """
    if value > MOST_BARE_SHARE:
        mend = f"write {value:g} % or {value / 100:g}"
        raise UnitError(f"the share is {value:g}", "a share from 0 to 1 is wanted", mend)
    return value


def said(number: float, unit: str) -> str:
    """A number and its unit in words, for messages; without float noise."""
    if number != 0 and (abs(number) >= 1e6 or abs(number) < 1e-4):
        text = f"{number:,.0f}" if 1e6 <= abs(number) < 1e12 else f"{number:.6g}"
    else:
        text = f"{number:.6g}"
    return text if unit in ("fraction", "money") else f"{text} {unit}"


def shown(value: float, kind: str, unit: str) -> str:
    """An SI float as "2 mm": the number in a unit and the unit, for messages."""
    return said(from_si(value, kind, unit), unit)


def shown_range(least: float, most: float, kind: str, unit: str) -> str:
    """Two SI floats as "from 0.05 to 50 mm"."""
    low = shown(least, kind, unit).removesuffix(unit).strip()
    return f"from {low} to {shown(most, kind, unit)}"


def make_unit_table() -> str:
    """Source text of `unit_table`, every factor computed exactly by pint."""
    from fractions import Fraction

    import pint

    registry: Any = pint.UnitRegistry(non_int_type=Fraction)
    lines = [
        '"""Factors of every unit: SI = (value + add) * times.',
        "",
        "Made with pint by ``python -m twodrum.units``; not to be edited by hand.",
        '"""',
        "",
        "from __future__ import annotations",
        "",
        "UNIT_TABLE: dict[str, dict[str, tuple[float, float]]] = {",
    ]
    for kind in KINDS.values():
        lines.append(f'    "{kind.name}": {{')
        for unit in kind.units:
            zero = registry.Quantity(Fraction(0), unit.expression).to_base_units().magnitude
            one = registry.Quantity(Fraction(1), unit.expression).to_base_units().magnitude
            times = one - zero
            lines.append(f'        "{unit.text}": ({float(zero / times)!r}, {float(times)!r}),')
        lines.append("    },")
    return "\n".join([*lines, "}", ""])


def main() -> None:
    """Write `unit_table` beside this file."""
    from pathlib import Path

    Path(__file__).with_name("unit_table.py").write_text(make_unit_table(), encoding="utf-8")


if __name__ == "__main__":
    main()
