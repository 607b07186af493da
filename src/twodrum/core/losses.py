"""Heat that a drum loses to the air: free and forced convection, radiation, a cover."""

from __future__ import annotations

import math
from dataclasses import dataclass

from .heating import COLDEST, HOTTEST
from .inputs import require
from .roots import root

STEFAN_BOLTZMANN = 5.670374419e-8
GRAVITY = 9.80665


@dataclass(frozen=True)
class _Air:
    """Dry air at 101 325 Pa and its mean film temperature; Sutherland's laws, from memory."""

    temperature: float

    @property
    def viscosity(self) -> float:
        ratio = self.temperature / 273.15
        return 1.716e-5 * math.pow(ratio, 1.5) * (273.15 + 110.4) / (self.temperature + 110.4)

    @property
    def conductivity(self) -> float:
        ratio = self.temperature / 273.15
        return 0.0241 * math.pow(ratio, 1.5) * (273.15 + 194.0) / (self.temperature + 194.0)

    @property
    def kinematic_viscosity(self) -> float:
        return self.viscosity * 287.05 * self.temperature / 101325.0

    @property
    def prandtl(self) -> float:
        return 1006.0 * self.viscosity / self.conductivity

    def rayleigh(self, difference: float, size: float) -> float:
        buoyancy = GRAVITY * difference / self.temperature * size**3
        return buoyancy / self.kinematic_viscosity**2 * self.prandtl


def _upright(rayleigh: float, prandtl: float) -> float:
    """Nusselt number of an upright plate after Churchill and Chu."""
    spread = math.pow(1 + math.pow(0.492 / prandtl, 9 / 16), 8 / 27)
    return (0.825 + 0.387 * math.pow(rayleigh, 1 / 6) / spread) ** 2


def _facing_up(rayleigh: float) -> float:
    """Nusselt number of a warm plate facing up after McAdams."""
    return 0.54 * math.pow(rayleigh, 0.25) if rayleigh < 1e7 else 0.15 * math.pow(rayleigh, 1 / 3)


def _across(reynolds: float, prandtl: float) -> float:
    """Nusselt number of a cylinder in cross flow after Churchill and Bernstein."""
    spread = math.pow(1 + math.pow(0.4 / prandtl, 2 / 3), 0.25)
    rest = math.pow(1 + math.pow(reynolds / 282000, 5 / 8), 4 / 5)
    return 0.3 + 0.62 * math.sqrt(reynolds) * math.pow(prandtl, 1 / 3) / spread * rest


def _along(reynolds: float, prandtl: float) -> float:
    """Nusselt number of a plate along a laminar flow."""
    return 0.664 * math.sqrt(reynolds) * math.pow(prandtl, 1 / 3)


def radiation_coefficient(
    surface_temperature: float, surrounding_temperature: float, emissivity: float
) -> float:
    """Heat that a surface radiates for each area and kelvin.

        h = ε σ (T_s + T_u) (T_s² + T_u²)

    Parameters
    ----------
    surface_temperature : float
        200 to 500. [K]
    surrounding_temperature : float
        200 to 500. [K]
    emissivity : float
        0 to 1; about 0.9 painted, 0.25 bright steel (from memory). [1]

    Returns
    -------
    float
        Heat transfer coefficient. [W/(m²·K)]

    Valid for
    ---------
    A small body in wide surroundings.

    Source
    ------
    Stefan-Boltzmann law.

    Example
    -------
    >>> round(radiation_coefficient(318.15, 293.15, 0.9), 4)
    5.8387
    """
    require("surface_temperature", surface_temperature, at_least=COLDEST, at_most=HOTTEST)
    require("surrounding_temperature", surrounding_temperature, at_least=COLDEST, at_most=HOTTEST)
    require("emissivity", emissivity, at_least=0, at_most=1)
    total = surface_temperature + surrounding_temperature
    squares = surface_temperature**2 + surrounding_temperature**2
    return emissivity * STEFAN_BOLTZMANN * total * squares


def bare_drum_heat_loss(
    surface_temperature: float,
    air_temperature: float,
    wind_speed: float,
    emissivity: float,
    diameter: float,
    height: float,
) -> float:
    """Heat that side and top of a drum lose for each kelvin between wall and air.

        UA = π D H (h_side + h_r) + π D²/4 (h_top + h_r),   h³ = h_free³ + h_wind³

    Parameters
    ----------
    surface_temperature : float
        Of the wall, above the air, at most 500. [K]
    air_temperature : float
        200 to 500. [K]
    wind_speed : float
        0 or more. [m/s]
    emissivity : float
        0 to 1; about 0.9 painted, 0.25 bright steel (from memory). [1]
    diameter : float
        Above 0. [m]
    height : float
        Above 0. [m]

    Returns
    -------
    float
        Heat lost for each kelvin. [W/K]

    Valid for
    ---------
    A drum on a pallet; a cold floor takes more, and is not covered.

    Source
    ------
    Churchill and Chu 1975 (side), McAdams (top), Churchill and Bernstein 1977 and a laminar plate
    (wind), all from memory; free and forced convection joined by their cubes.

    Example
    -------
    >>> round(bare_drum_heat_loss(318.15, 293.15, 0.0, 0.9, 0.573, 0.851), 1)
    18.2
    """
    require("air_temperature", air_temperature, at_least=COLDEST, at_most=HOTTEST)
    require("surface_temperature", surface_temperature, above=air_temperature, at_most=HOTTEST)
    require("wind_speed", wind_speed, at_least=0)
    require("diameter", diameter, above=0)
    require("height", height, above=0)
    radiation = radiation_coefficient(surface_temperature, air_temperature, emissivity)
    side, top = _convection(surface_temperature, air_temperature, wind_speed, diameter, height)
    around, lid = math.pi * diameter * height, math.pi * diameter**2 / 4
    return around * (side + radiation) + lid * (top + radiation)


def _convection(
    surface: float, around: float, wind_speed: float, diameter: float, height: float
) -> tuple[float, float]:
    air = _Air((surface + around) / 2)
    difference = surface - around
    free = _upright(air.rayleigh(difference, height), air.prandtl) * air.conductivity / height
    forced = 0.0
    if wind_speed > 0:
        reynolds = wind_speed * diameter / air.kinematic_viscosity
        forced = _across(reynolds, air.prandtl) * air.conductivity / diameter
    quarter = diameter / 4
    top = _facing_up(air.rayleigh(difference, quarter)) * air.conductivity / quarter
    along = 0.0
    if wind_speed > 0:
        along = _along(reynolds, air.prandtl) * air.conductivity / diameter
    return _joined(free, forced), _joined(top, along)


def _joined(free: float, forced: float) -> float:
    return math.pow(free**3 + forced**3, 1 / 3)


def covered_drum_heat_loss(
    liquid_temperature: float,
    air_temperature: float,
    wind_speed: float,
    emissivity: float,
    diameter: float,
    height: float,
    film_coefficient: float,
    insulation_thickness: float,
    insulation_conductivity: float,
) -> float:
    """Heat that a drum loses for each kelvin between its liquid and the air.

        1/UA = 1/(h_film A) + 1/(2 π k H / ln((D + 2s)/D) + k π D²/(4 s)) + 1/UA_outside

    Parameters
    ----------
    liquid_temperature : float
        Above the air, at most 500. [K]
    air_temperature : float
        200 to 500. [K]
    wind_speed : float
        0 or more. [m/s]
    emissivity : float
        0 to 1, of the outside. [1]
    diameter : float
        Above 0. [m]
    height : float
        Above 0. [m]
    film_coefficient : float
        Of the liquid at the wall, above 0; 20 to 35 is usual. [W/(m²·K)]
    insulation_thickness : float
        0 or more; 0 for a bare drum. [m]
    insulation_conductivity : float
        Above 0; about 0.04 (from memory). [W/(m·K)]

    Returns
    -------
    float
        Heat lost for each kelvin. [W/K]

    Valid for
    ---------
    An ideal cover; a real one with gaps loses 1.5 to 2 times as much (from memory).

    Source
    ------
    Resistances in series; the outside as in `bare_drum_heat_loss`.

    Example
    -------
    >>> round(covered_drum_heat_loss(318.15, 293.15, 0.0, 0.9, 0.573, 0.851, 29.82, 0.0, 0.04), 1)
    13.1
    """
    require("air_temperature", air_temperature, at_least=COLDEST, at_most=HOTTEST)
    require("liquid_temperature", liquid_temperature, above=air_temperature, at_most=HOTTEST)
    require("diameter", diameter, above=0)
    require("height", height, above=0)
    require("film_coefficient", film_coefficient, above=0)
    require("insulation_thickness", insulation_thickness, at_least=0)
    require("insulation_conductivity", insulation_conductivity, above=0)
    lid = math.pi * diameter**2 / 4
    resistance = 1 / (film_coefficient * (math.pi * diameter * height + lid))
    wide, tall = diameter + 2 * insulation_thickness, height + insulation_thickness
    if insulation_thickness > 0:
        around = 2 * math.pi * height / math.log1p(2 * insulation_thickness / diameter)
        resistance += 1 / (insulation_conductivity * (around + lid / insulation_thickness))
    inside = 1 / resistance

    def lost(skin: float) -> float:
        around = (air_temperature, wind_speed, emissivity, wide, tall)
        return bare_drum_heat_loss(skin, *around)

    def left_over(skin: float) -> float:
        # What reaches the outside falls with its temperature, what leaves it rises: one crossing.
        arrives = inside * (liquid_temperature - skin)
        return arrives - (lost(skin) * (skin - air_temperature) if skin > air_temperature else 0.0)

    skin = root(left_over, air_temperature, liquid_temperature)
    return 1 / (1 / inside + 1 / lost(skin))
