"""Numbers beside a caution: vapour and air, noise, energy in a hose, a hot drum that cools."""

from __future__ import annotations

import math

from .exposure import ATMOSPHERE, GAS_CONSTANT
from .inputs import InputError, require

WORKING_DAY = 8 * 3600.0


def dilution_air(
    liquid_volume: float,
    density: float,
    molar_mass: float,
    air_temperature: float,
    volume_fraction: float,
    mixing_factor: float,
) -> float:
    """Fresh air that thins the vapour of a spilled or sprayed solvent to a fraction of air.

        V = V_liquid ρ R T/(M p) K/f,   p = 101 325 Pa

    Parameters
    ----------
    liquid_volume : float
        Of solvent that evaporates, 0 or more. [m³]
    density : float
        Of the liquid, above 0. [kg/m³]
    molar_mass : float
        Of the solvent, above 0. [kg/mol]
    air_temperature : float
        200 to 500. [K]
    volume_fraction : float
        Vapour in air that is not to be passed, 0 < f < 1. [1]
    mixing_factor : float
        How much more because air mixes badly, 1 to 10. [1]

    Returns
    -------
    float
        Air, in all. [m³]

    Valid for
    ---------
    An ideal gas that mixes everywhere alike; near the source the fraction is always higher.

    Source
    ------
    General dilution law of industrial ventilation; ideal gas.

    Example
    -------
    >>> round(dilution_air(0.001, 790.0, 0.05808, 293.15, 0.0025, 1.0), 3)
    130.878
    """
    require("liquid_volume", liquid_volume, at_least=0)
    require("density", density, above=0)
    require("molar_mass", molar_mass, above=0)
    require("air_temperature", air_temperature, at_least=200.0, at_most=500.0)
    require("volume_fraction", volume_fraction, above=0, below=1)
    require("mixing_factor", mixing_factor, at_least=1, at_most=10)
    amount = liquid_volume * density / molar_mass
    vapour = amount * GAS_CONSTANT * air_temperature / ATMOSPHERE
    return vapour * mixing_factor / volume_fraction


def noise_time(sound_level: float, criterion_level: float, exchange_rate: float) -> float:
    """Time at a sound level that makes a whole day's dose of noise.

        t = 8 h / 2^((L - L_c)/q)

    Parameters
    ----------
    sound_level : float
        A-weighted, where the ear is, 60 to 140. [1]
    criterion_level : float
        Level that makes the dose in 8 h, 70 to 100. [1]
    exchange_rate : float
        Rise of the level that halves the time, 2 to 6. [1]

    Returns
    -------
    float
        Time. [s]

    Valid for
    ---------
    A steady level; what is on the ear otherwise in the day adds to it.

    Source
    ------
    29 CFR 1910.95 Appendix A (90 dBA, 5 dB); NIOSH 98-126 (85 dBA, 3 dB).

    Example
    -------
    >>> noise_time(100.0, 90.0, 5.0)
    7200.0
    """
    require("sound_level", sound_level, at_least=60, at_most=140)
    require("criterion_level", criterion_level, at_least=70, at_most=100)
    require("exchange_rate", exchange_rate, at_least=2, at_most=6)
    return float(WORKING_DAY / 2.0 ** ((sound_level - criterion_level) / exchange_rate))


def hose_energy(pressure: float, volume: float, bulk_modulus: float) -> float:
    """Energy that a liquid under pressure holds, which lets go when a fitting parts.

        E = p² V/(2 β)

    Parameters
    ----------
    pressure : float
        Above the air, 0 or more. [Pa]
    volume : float
        Of the liquid under pressure, 0 or more. [m³]
    bulk_modulus : float
        Of the liquid, above 0. [Pa]

    Returns
    -------
    float
        Energy. [J]

    Valid for
    ---------
    The liquid alone: a hose that stretches, and air in it, hold more.

    Source
    ------
    Work of compression at a constant bulk modulus.

    Example
    -------
    >>> hose_energy(20e6, 0.004, 1.6e9)
    500.0
    """
    require("pressure", pressure, at_least=0)
    require("volume", volume, at_least=0)
    require("bulk_modulus", bulk_modulus, above=0)
    return pressure * pressure * volume / (2.0 * bulk_modulus)


def cool_down_time(
    heat_capacity: float,
    heat_loss: float,
    air_temperature: float,
    start_temperature: float,
    target_temperature: float,
) -> float:
    """Time until a hot drum that nothing heats has cooled to a temperature; 0 where it has.

        t = C/UA ln((T_0 - T_air)/(T_1 - T_air))

    Parameters
    ----------
    heat_capacity : float
        Of drum and liquid, above 0. [J/K]
    heat_loss : float
        Heat lost for each kelvin above the air, above 0. [W/K]
    air_temperature : float
        Around the drum, 200 to 500. [K]
    start_temperature : float
        Of the drum, 200 to 500. [K]
    target_temperature : float
        Wanted, above the air. [K]

    Returns
    -------
    float
        Time. [s]

    Valid for
    ---------
    A drum of one temperature that nothing reacts in; a drum that warms by itself is an emergency.

    Source
    ------
    Newton's law of cooling.

    Example
    -------
    >>> round(cool_down_time(411707.0, 12.0, 288.15, 338.15, 316.15), 3)
    19892.944
    """
    require("heat_capacity", heat_capacity, above=0)
    require("heat_loss", heat_loss, above=0)
    require("air_temperature", air_temperature, at_least=200.0, at_most=500.0)
    require("start_temperature", start_temperature, at_least=200.0, at_most=500.0)
    require("target_temperature", target_temperature, at_least=200.0, at_most=500.0)
    if start_temperature <= target_temperature:
        return 0.0
    if target_temperature <= air_temperature:
        raise InputError("target_temperature", target_temperature, "more than", air_temperature)
    warm, left = start_temperature - air_temperature, target_temperature - air_temperature
    return heat_capacity / heat_loss * math.log(warm / left)
