"""Pressures of one side at the machine's gauge: hose, whip, gun bore and orifice."""

from __future__ import annotations

import math

from .inputs import require

LAMINAR_UP_TO = 2300.0
TURBULENT_ABOVE = 4000.0


def reynolds_number(density: float, viscosity: float, volume_flow: float, bore: float) -> float:
    """Ratio that says whether a flow is laminar.

        Re = 4 ρ q / (π d μ)

    Parameters
    ----------
    density : float
        Above 0. [kg/m³]
    viscosity : float
        Dynamic, above 0. [Pa·s]
    volume_flow : float
        0 or more. [m³/s]
    bore : float
        Inside diameter, above 0. [m]

    Returns
    -------
    float
        Reynolds number. [1]

    Valid for
    ---------
    Round bores; laminar below about 2300.

    Source
    ------
    Definition.

    Example
    -------
    >>> round(reynolds_number(1120.0, 0.08, 2e-3 / 60, 0.009525), 3)
    62.381
    """
    require("density", density, above=0)
    require("viscosity", viscosity, above=0)
    require("volume_flow", volume_flow, at_least=0)
    require("bore", bore, above=0)
    return 4 * density * volume_flow / (math.pi * bore * viscosity)


def laminar_pressure_drop(
    density: float, viscosity: float, volume_flow: float, length: float, bore: float
) -> float:
    """Pressure lost in a smooth round bore while the flow is laminar.

        Δp = 128 μ L q / (π d⁴)

    Parameters
    ----------
    density : float
        Above 0; it only decides whether the flow is laminar. [kg/m³]
    viscosity : float
        Dynamic, above 0. [Pa·s]
    volume_flow : float
        0 or more. [m³/s]
    length : float
        0 or more. [m]
    bore : float
        Inside diameter, above 0. [m]

    Returns
    -------
    float
        Pressure drop. [Pa]

    Valid for
    ---------
    A Reynolds number below 2300; a thin flushing fluid may exceed it and is refused.

    Source
    ------
    Hagen-Poiseuille law.

    Example
    -------
    >>> round(laminar_pressure_drop(1120.0, 0.08, 2e-3 / 60, 60.0, 0.009525))
    791991
    """
    reynolds = reynolds_number(density, viscosity, volume_flow, bore)
    require("length", length, at_least=0)
    require("reynolds_number", reynolds, below=LAMINAR_UP_TO)
    return 128 * viscosity * length * volume_flow / (math.pi * bore**4)


def orifice_pressure_drop(
    density: float, volume_flow: float, orifice_diameter: float, discharge_coefficient: float
) -> float:
    """Pressure that drives a flow through an orifice.

        Δp = (ρ/2) (q / (C_d A))²

    Parameters
    ----------
    density : float
        Above 0. [kg/m³]
    volume_flow : float
        0 or more. [m³/s]
    orifice_diameter : float
        Above 0. [m]
    discharge_coefficient : float
        0 < C_d <= 1; 0.6 to 0.85 is usual (from memory), fitted from readings for each side. [1]

    Returns
    -------
    float
        Pressure drop. [Pa]

    Valid for
    ---------
    A coefficient known for this gun: at the Reynolds numbers of a gun it is not constant.

    Source
    ------
    Bernoulli's law with a discharge coefficient.

    Example
    -------
    >>> round(orifice_pressure_drop(1120.0, 2e-3 / 60, 0.0006, 0.75) / 1e5, 2)
    138.37
    """
    require("density", density, above=0)
    require("volume_flow", volume_flow, at_least=0)
    require("orifice_diameter", orifice_diameter, above=0)
    require("discharge_coefficient", discharge_coefficient, above=0, at_most=1)
    area = math.pi * orifice_diameter**2 / 4
    return density / 2 * (volume_flow / (discharge_coefficient * area)) ** 2


def gauge_pressure(
    density: float,
    viscosity: float,
    volume_flow: float,
    hose_length: float,
    hose_bore: float,
    whip_length: float,
    whip_bore: float,
    orifice_length: float,
    orifice_diameter: float,
    discharge_coefficient: float,
) -> float:
    """Pressure to expect at the machine's gauge of one side while it sprays.

        p = Δp_hose + Δp_whip + Δp_bore of the orifice + Δp_orifice

    Parameters
    ----------
    density : float
        At spray temperature, above 0. [kg/m³]
    viscosity : float
        At spray temperature, above 0. [Pa·s]
    volume_flow : float
        Of one side, 0 or more. [m³/s]
    hose_length : float
        0 or more. [m]
    hose_bore : float
        Above 0. [m]
    whip_length : float
        0 or more. [m]
    whip_bore : float
        Above 0. [m]
    orifice_length : float
        Length of the narrow bore, 0 or more; 0 where the coefficient holds its friction. [m]
    orifice_diameter : float
        Above 0. [m]
    discharge_coefficient : float
        0 < C_d <= 1. [1]

    Returns
    -------
    float
        Gauge pressure. [Pa]

    Valid for
    ---------
    Laminar flow in the bores; the pressure in the mixing chamber left out.

    Source
    ------
    Hagen-Poiseuille and Bernoulli, summed along the side.

    Example
    -------
    >>> round(gauge_pressure(1120.0, 0.08, 2e-3 / 60, 60.0, 0.009525, 3.0, 0.00635,
    ...     0.0015, 0.0006, 0.75) / 1e5, 2)
    160.87
    """
    for name, length, bore in (
        ("hose", hose_length, hose_bore),
        ("whip", whip_length, whip_bore),
    ):
        require(f"{name}_length", length, at_least=0)
        require(f"{name}_bore", bore, above=0)
    require("orifice_length", orifice_length, at_least=0)
    require("orifice_diameter", orifice_diameter, above=0)
    hose = laminar_pressure_drop(density, viscosity, volume_flow, hose_length, hose_bore)
    whip = laminar_pressure_drop(density, viscosity, volume_flow, whip_length, whip_bore)
    inlet = laminar_pressure_drop(density, viscosity, volume_flow, orifice_length, orifice_diameter)
    orifice = orifice_pressure_drop(density, volume_flow, orifice_diameter, discharge_coefficient)
    return hose + whip + inlet + orifice


def hydraulic_power(pressure: float, volume_flow: float) -> float:
    """Power that a pump puts into a flow.

        P = p q

    Parameters
    ----------
    pressure : float
        0 or more. [Pa]
    volume_flow : float
        0 or more. [m³/s]

    Returns
    -------
    float
        Power. [W]

    Source
    ------
    Definition.

    Example
    -------
    2500 psi and 4 L/min:

    >>> round(hydraulic_power(17236893.2329, 4e-3 / 60), 3)
    1149.126
    """
    require("pressure", pressure, at_least=0)
    require("volume_flow", volume_flow, at_least=0)
    return pressure * volume_flow


def turbulent_pressure_drop(
    density: float, viscosity: float, volume_flow: float, length: float, bore: float
) -> float:
    """Pressure that a thin flushing liquid loses in a smooth round bore.

        1/sqrt(f) = 2 lg(Re sqrt(f)) - 0.8,   Δp = f (L/d) ρ v²/2

    Parameters
    ----------
    density : float
        Above 0. [kg/m³]
    viscosity : float
        Dynamic, above 0. [Pa·s]
    volume_flow : float
        Above 0. [m³/s]
    length : float
        0 or more. [m]
    bore : float
        Inside diameter, above 0. [m]

    Returns
    -------
    float
        Pressure drop. [Pa]

    Valid for
    ---------
    Reynolds numbers above 4000; between 2300 and 4000 nobody knows.

    Source
    ------
    Law of Prandtl and von Kármán for smooth bores (from memory).

    Example
    -------
    Water, 6 L/min through 60 m of 3/8 in:

    >>> round(turbulent_pressure_drop(998.2, 0.0010016, 1e-4, 60.0, 0.009525) / 1e3)
    177
    """
    reynolds = reynolds_number(density, viscosity, volume_flow, bore)
    require("length", length, at_least=0)
    require("reynolds_number", reynolds, above=TURBULENT_ABOVE)
    friction = 0.03
    for _ in range(50):
        friction = (2 * math.log10(reynolds * math.sqrt(friction)) - 0.8) ** -2
    speed = volume_flow / (math.pi * bore**2 / 4)
    return friction * length / bore * density * speed**2 / 2
