"""Two sides compared: what viscosity, orifice and flow do to their pressures, and trims."""

from __future__ import annotations

import math

from .heating import COLDEST, HOTTEST
from .inputs import require
from .roots import root
from .viscosity import viscosity_at


def flow_resistance(
    hose_length: float,
    hose_bore: float,
    whip_length: float,
    whip_bore: float,
    orifice_length: float,
    orifice_diameter: float,
) -> float:
    """What bores in a row do to a laminar flow: pressure for each viscosity and flow.

        R = 128/π (L_hose/d_hose⁴ + L_whip/d_whip⁴ + L_bore/d_bore⁴)

    Parameters
    ----------
    hose_length : float
        0 or more. [m]
    hose_bore : float
        Above 0. [m]
    whip_length : float
        0 or more. [m]
    whip_bore : float
        Above 0. [m]
    orifice_length : float
        Length of the narrow bore, 0 or more. [m]
    orifice_diameter : float
        Above 0. [m]

    Returns
    -------
    float
        Resistance. [1/m³]

    Valid for
    ---------
    Laminar flow in each bore: see `reynolds_number`.

    Source
    ------
    Hagen-Poiseuille law.

    Example
    -------
    >>> found = flow_resistance(60.0, 0.009525, 3.0, 0.00635, 0.0015, 0.0006)
    >>> round(found * 0.08 * 2e-3 / 60)
    2249984
    """
    require("hose_length", hose_length, at_least=0)
    require("hose_bore", hose_bore, above=0)
    require("whip_length", whip_length, at_least=0)
    require("whip_bore", whip_bore, above=0)
    require("orifice_length", orifice_length, at_least=0)
    require("orifice_diameter", orifice_diameter, above=0)
    hose, whip = hose_length / hose_bore**4, whip_length / whip_bore**4
    return 128 / math.pi * (hose + whip + orifice_length / orifice_diameter**4)


def friction_pressure(flow_resistance: float, viscosity: float, volume_flow: float) -> float:
    """Pressure that a laminar flow loses to viscosity.

        Δp = R μ q

    Parameters
    ----------
    flow_resistance : float
        Of hose, whip and bore, 0 or more. [1/m³]
    viscosity : float
        Dynamic, above 0. [Pa·s]
    volume_flow : float
        Of one side, 0 or more. [m³/s]

    Returns
    -------
    float
        Pressure. [Pa]

    Valid for
    ---------
    Laminar flow in each bore: see `reynolds_number`.

    Source
    ------
    Hagen-Poiseuille law.

    Example
    -------
    >>> round(friction_pressure(8.4374387e11, 0.08, 2e-3 / 60))
    2249984
    """
    require("flow_resistance", flow_resistance, at_least=0)
    require("viscosity", viscosity, above=0)
    require("volume_flow", volume_flow, at_least=0)
    return flow_resistance * viscosity * volume_flow


def side_flow(pump_output: float, ratio_part: float, ratio_total: float) -> float:
    """What one side delivers of the output of both.

        q_a = q a / (a + b)

    Parameters
    ----------
    pump_output : float
        Both sides together, 0 or more. [m³/s]
    ratio_part : float
        Parts of this side by volume, 0 or more. [1]
    ratio_total : float
        Parts of both, above 0, at least this side's. [1]

    Returns
    -------
    float
        Flow of one side. [m³/s]

    Source
    ------
    Volume balance.

    Example
    -------
    >>> side_flow(4.0, 1.0, 2.0)
    2.0
    """
    require("pump_output", pump_output, at_least=0)
    require("ratio_total", ratio_total, above=0)
    require("ratio_part", ratio_part, at_least=0, at_most=ratio_total)
    return pump_output * ratio_part / ratio_total


def unexplained_difference(difference: float, by_viscosity: float) -> float:
    """Part of the difference of two gauges that viscosity does not explain.

        d - d_viscosity

    Parameters
    ----------
    difference : float
        Iso above resin, any number. [Pa]
    by_viscosity : float
        What viscosity makes of it, any number. [Pa]

    Returns
    -------
    float
        Difference that is left. [Pa]

    Valid for
    ---------
    A lasting offset by density is normal; its change from a baseline counts.

    Source
    ------
    Sum of the pressures along one side.

    Example
    -------
    >>> unexplained_difference(12e5, 7e5)
    500000.0
    """
    require("difference", difference)
    require("by_viscosity", by_viscosity)
    return difference - by_viscosity


def pressure_difference(iso_pressure: float, resin_pressure: float) -> float:
    """Iso above resin; negative where resin is above iso.

        Δp = p_iso - p_resin

    Parameters
    ----------
    iso_pressure : float
        0 or more. [Pa]
    resin_pressure : float
        0 or more. [Pa]

    Returns
    -------
    float
        Difference. [Pa]

    Source
    ------
    Definition.

    Example
    -------
    >>> pressure_difference(17.5e6, 17.0e6)
    500000.0
    """
    require("iso_pressure", iso_pressure, at_least=0)
    require("resin_pressure", resin_pressure, at_least=0)
    return iso_pressure - resin_pressure


def viscosity_difference(
    flow_resistance: float,
    iso_viscosity: float,
    iso_flow: float,
    resin_viscosity: float,
    resin_flow: float,
) -> float:
    """The part of the pressure difference that viscosity makes, iso above resin.

        Δp = R (μ_iso q_iso - μ_resin q_resin)

    Parameters
    ----------
    flow_resistance : float
        Of hose, whip and bore, the same on both sides, 0 or more. [1/m³]
    iso_viscosity : float
        Above 0. [Pa·s]
    iso_flow : float
        0 or more. [m³/s]
    resin_viscosity : float
        Above 0. [Pa·s]
    resin_flow : float
        0 or more. [m³/s]

    Returns
    -------
    float
        Difference. [Pa]

    Valid for
    ---------
    Laminar flow and sides of equal bores.

    Source
    ------
    Hagen-Poiseuille law on both sides.

    Example
    -------
    >>> round(viscosity_difference(8.4374387e11, 0.08, 2e-3 / 60, 0.045, 2e-3 / 60))
    984368
    """
    require("iso_viscosity", iso_viscosity, above=0)
    require("iso_flow", iso_flow, at_least=0)
    iso = friction_pressure(flow_resistance, iso_viscosity, iso_flow)
    require("resin_viscosity", resin_viscosity, above=0)
    require("resin_flow", resin_flow, at_least=0)
    return iso - friction_pressure(flow_resistance, resin_viscosity, resin_flow)


def friction_sensitivity(friction_pressure: float, viscosity_sensitivity: float) -> float:
    """Pressure that a side loses at the gauge for each kelvin that its liquid warms.

        -dp/dT = Δp_friction s

    Parameters
    ----------
    friction_pressure : float
        Lost in hose, whip and bore, 0 or more. [Pa]
    viscosity_sensitivity : float
        Share of the viscosity lost for each kelvin, 0 or more. [1/K]

    Returns
    -------
    float
        Pressure for each kelvin. [Pa/K]

    Source
    ------
    Hagen-Poiseuille law, differentiated by the temperature.

    Example
    -------
    >>> round(friction_sensitivity(2249983.65, 0.050755267), 1)
    114198.5
    """
    require("friction_pressure", friction_pressure, at_least=0)
    require("viscosity_sensitivity", viscosity_sensitivity, at_least=0)
    return friction_pressure * viscosity_sensitivity


def flow_at_pressure(volume_flow: float, pressure: float, other_pressure: float) -> float:
    """Flow through the same orifice at another pressure.

        q' = q sqrt(p'/p)

    Parameters
    ----------
    volume_flow : float
        At the first pressure, 0 or more. [m³/s]
    pressure : float
        Above 0. [Pa]
    other_pressure : float
        0 or more. [Pa]

    Returns
    -------
    float
        Flow. [m³/s]

    Valid for
    ---------
    Pressure lost in the orifice alone, with one coefficient.

    Source
    ------
    Bernoulli's law.

    Example
    -------
    >>> round(flow_at_pressure(1.0, 2500.0, 3500.0), 6)
    1.183216
    """
    require("volume_flow", volume_flow, at_least=0)
    require("pressure", pressure, above=0)
    require("other_pressure", other_pressure, at_least=0)
    return volume_flow * math.sqrt(other_pressure / pressure)


def worn_orifice_pressure(pressure: float, orifice_diameter: float, worn_diameter: float) -> float:
    """Pressure that the same flow needs once an orifice has worn.

        p' = p (d/d')⁴

    Parameters
    ----------
    pressure : float
        Of the new orifice, 0 or more. [Pa]
    orifice_diameter : float
        New, above 0. [m]
    worn_diameter : float
        Worn, at least the new one. [m]

    Returns
    -------
    float
        Pressure. [Pa]

    Valid for
    ---------
    Pressure lost in the orifice alone, with one coefficient.

    Source
    ------
    Bernoulli's law.

    Example
    -------
    10 % wider, a third of the pressure gone:

    >>> round(worn_orifice_pressure(1.0, 1.0, 1.1), 6)
    0.683013
    """
    require("pressure", pressure, at_least=0)
    require("orifice_diameter", orifice_diameter, above=0)
    require("worn_diameter", worn_diameter, at_least=orifice_diameter)
    return pressure * (orifice_diameter / worn_diameter) ** 4


def levelling_viscosity(other_viscosity: float, other_flow: float, volume_flow: float) -> float:
    """Viscosity at which a side loses as much pressure as the other one.

        μ = μ_other q_other / q

    Parameters
    ----------
    other_viscosity : float
        Of the other side, above 0. [Pa·s]
    other_flow : float
        Of the other side, above 0. [m³/s]
    volume_flow : float
        Of this side, above 0. [m³/s]

    Returns
    -------
    float
        Dynamic viscosity. [Pa·s]

    Valid for
    ---------
    Laminar flow through equal hoses.

    Source
    ------
    Hagen-Poiseuille law: the drop goes with viscosity times flow.

    Example
    -------
    >>> levelling_viscosity(0.08, 4e-5, 8e-5)
    0.04
    """
    require("other_viscosity", other_viscosity, above=0)
    require("other_flow", other_flow, above=0)
    require("volume_flow", volume_flow, above=0)
    return other_viscosity * other_flow / volume_flow


def trim_temperature(
    viscosity: float,
    low_temperature: float,
    high_temperature: float,
    temperature_1: float,
    viscosity_1: float,
    temperature_2: float,
    viscosity_2: float,
    temperature_3: float | None = None,
    viscosity_3: float | None = None,
) -> float:
    """Temperature inside a window at which a liquid comes nearest to a wanted viscosity.

        μ(T) = μ_wanted, T_low <= T <= T_high; else the nearer end

    Parameters
    ----------
    viscosity : float
        Wanted, above 0. [Pa·s]
    low_temperature : float
        Lower end of the data sheet's window, 200 to 500. [K]
    high_temperature : float
        Upper end, not below the lower one, at most 500. [K]
    temperature_1 : float
        Coldest point, 200 to 500. [K]
    viscosity_1 : float
        There, above 0. [Pa·s]
    temperature_2 : float
        Above the first. [K]
    viscosity_2 : float
        There, below the first. [Pa·s]
    temperature_3 : float, optional
        Above the second. [K]
    viscosity_3 : float, optional
        There, below the second. [Pa·s]

    Returns
    -------
    float
        Temperature, never outside the window. [K]

    Valid for
    ---------
    Between the points.

    Source
    ------
    `viscosity_at` falls with the temperature; solved inside the window.

    Example
    -------
    >>> found = trim_temperature(0.08, 318.15, 343.15, 298.15, 0.6, 338.15, 0.045)
    >>> round(found - 273.15, 4)
    55.2146
    """
    require("viscosity", viscosity, above=0)
    require("low_temperature", low_temperature, at_least=COLDEST, at_most=HOTTEST)
    require("high_temperature", high_temperature, at_least=low_temperature, at_most=HOTTEST)

    def at(temperature: float) -> float:
        points = (temperature_1, viscosity_1, temperature_2, viscosity_2)
        return viscosity_at(temperature, *points, temperature_3, viscosity_3)

    if at(low_temperature) <= viscosity:
        return low_temperature
    if at(high_temperature) >= viscosity:
        return high_temperature
    return root(lambda temperature: at(temperature) - viscosity, low_temperature, high_temperature)


def pressure_sum(friction_pressure: float, orifice_pressure: float) -> float:
    """Pressure to expect at the machine's gauge of one side while it sprays.

        p = Δp_friction + Δp_orifice

    Parameters
    ----------
    friction_pressure : float
        Lost in hose, whip and bore, 0 or more. [Pa]
    orifice_pressure : float
        That drives the flow through the orifice, 0 or more. [Pa]

    Returns
    -------
    float
        Gauge pressure. [Pa]

    Valid for
    ---------
    The pressure in the mixing chamber left out.

    Source
    ------
    Sum along the side.

    Example
    -------
    >>> pressure_sum(2.25e6, 13.75e6)
    16000000.0
    """
    require("friction_pressure", friction_pressure, at_least=0)
    require("orifice_pressure", orifice_pressure, at_least=0)
    return friction_pressure + orifice_pressure
