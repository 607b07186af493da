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
    port_length: float,
    port_diameter: float,
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
    port_length : float
        Length of the narrow bore, 0 or more. [m]
    port_diameter : float
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
    require("port_length", port_length, at_least=0)
    require("port_diameter", port_diameter, above=0)
    hose, whip = hose_length / hose_bore**4, whip_length / whip_bore**4
    return 128 / math.pi * (hose + whip + port_length / port_diameter**4)


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
