"""Pressures of one side at the machine's gauge: hose, whip, gun bore and orifice."""

from __future__ import annotations

import math

from .inputs import require

LAMINAR_UP_TO = 2300.0


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
    density: float, volume_flow: float, port_diameter: float, discharge_coefficient: float
) -> float:
    """Pressure that drives a flow through an orifice.

        Δp = (ρ/2) (q / (C_d A))²

    Parameters
    ----------
    density : float
        Above 0. [kg/m³]
    volume_flow : float
        0 or more. [m³/s]
    port_diameter : float
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
    require("port_diameter", port_diameter, above=0)
    require("discharge_coefficient", discharge_coefficient, above=0, at_most=1)
    area = math.pi * port_diameter**2 / 4
    return density / 2 * (volume_flow / (discharge_coefficient * area)) ** 2
