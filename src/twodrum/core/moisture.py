"""Water in the iso: what it uses up, the carbon dioxide that it makes, how it gets in."""

from __future__ import annotations

from .air import absolute_humidity
from .exposure import GAS_CONSTANT
from .heating import COLDEST, HOTTEST
from .inputs import require
from .isocyanate import isocyanate_equivalent_weight

WATER_MOLAR_MASS = 0.018015


def iso_used_by_water(water_mass: float, nco_share: float) -> float:
    """Mass of an isocyanate that a mass of water uses up.

        m = 2 m_water EW / 18.015 g/mol

    Parameters
    ----------
    water_mass : float
        0 or more. [kg]
    nco_share : float
        NCO content of the isocyanate by mass, 0 < NCO <= 0.6. [1]

    Returns
    -------
    float
        Mass of isocyanate. [kg]

    Source
    ------
    Stoichiometry: one water takes two NCO groups and gives one carbon dioxide.

    Example
    -------
    1 g of water takes 30 g of an isocyanate with 15.5 % NCO:

    >>> round(iso_used_by_water(0.001, 0.155) * 1000, 2)
    30.09
    """
    require("water_mass", water_mass, at_least=0)
    return 2 * water_mass * isocyanate_equivalent_weight(nco_share) / WATER_MOLAR_MASS


def sealed_drum_pressure(water_mass: float, headspace_volume: float, temperature: float) -> float:
    """Pressure that water builds up in an iso drum that was shut over it.

        Δp = m_water R T / (18.015 g/mol V)

    Parameters
    ----------
    water_mass : float
        0 or more. [kg]
    headspace_volume : float
        Gas above the liquid, above 0. [m³]
    temperature : float
        200 to 500. [K]

    Returns
    -------
    float
        Pressure above the air's. [Pa]

    Valid for
    ---------
    Never reseal a wet drum; this says why. The reaction takes hours to days. Carbon dioxide
    alone: warmer air and liquid that expands add to it, so the true pressure can be higher.

    Source
    ------
    Stoichiometry and the ideal-gas law; what dissolves is left out.

    Example
    -------
    10 g of water under 20 L at 30 °C, in kPa:

    >>> round(sealed_drum_pressure(0.010, 0.020, 303.15) / 1000)
    70
    """
    require("water_mass", water_mass, at_least=0)
    require("headspace_volume", headspace_volume, above=0)
    require("temperature", temperature, at_least=COLDEST, at_most=HOTTEST)
    moles = water_mass / WATER_MOLAR_MASS
    return moles * GAS_CONSTANT * temperature / headspace_volume


def desiccant_life(
    desiccant_mass: float,
    working_capacity: float,
    air_temperature: float,
    relative_humidity: float,
) -> float:
    """Air that a dryer on an iso drum can take the water out of.

        V = m q / ρ_v

    Parameters
    ----------
    desiccant_mass : float
        0 or more. [kg]
    working_capacity : float
        Water taken up as a share of the mass, 0 < q <= 0.4; 0.2 is usual for silica gel. [1]
    air_temperature : float
        228.15 to 333.15. [K]
    relative_humidity : float
        0 < rh <= 1. [1]

    Returns
    -------
    float
        Air, about the volume of iso pumped. [m³]

    Valid for
    ---------
    Fresh desiccant and slow flow. Change it when its indicator says so, and earlier than this:
    air finds the easiest way through.

    Source
    ------
    Mass balance with the absolute humidity of WMO-No. 8; capacity from public data pages.

    Example
    -------
    1 kg of silica gel at 30 °C and 80 %, in m³:

    >>> round(desiccant_life(1.0, 0.2, 303.15, 0.8), 2)
    8.26
    """
    require("desiccant_mass", desiccant_mass, at_least=0)
    require("working_capacity", working_capacity, above=0, at_most=0.4)
    return desiccant_mass * working_capacity / absolute_humidity(air_temperature, relative_humidity)
