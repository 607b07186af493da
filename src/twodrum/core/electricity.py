"""What cables, a supply and a generator have to carry; a licensed electrician decides."""

from __future__ import annotations

import math

from .inputs import require, require_one_of

COPPER_RESISTIVITY = 0.0225e-6
CABLE_REACTANCE = 8e-5
PHASES = ("single phase", "three phase")


def single_phase_current(power: float, voltage: float, power_factor: float) -> float:
    """Current of a single-phase load.

        I = P / (U cos φ)

    Parameters
    ----------
    power : float
        0 or more. [W]
    voltage : float
        Above 0. [V]
    power_factor : float
        0 < cos φ <= 1. [1]

    Returns
    -------
    float
        Current. [A]

    Valid for
    ---------
    A steady load; what a circuit may carry is for a licensed electrician to say.

    Source
    ------
    Definition of power and power factor.

    Example
    -------
    >>> round(single_phase_current(15000.0, 230.0, 1.0), 4)
    65.2174
    """
    require("power", power, at_least=0)
    require("voltage", voltage, above=0)
    require("power_factor", power_factor, above=0, at_most=1)
    return power / (voltage * power_factor)


def three_phase_current(power: float, voltage: float, power_factor: float) -> float:
    """Current in each line of a balanced three-phase load.

        I = P / (√3 U cos φ)

    Parameters
    ----------
    power : float
        0 or more. [W]
    voltage : float
        Between two lines, above 0. [V]
    power_factor : float
        0 < cos φ <= 1. [1]

    Returns
    -------
    float
        Current. [A]

    Valid for
    ---------
    A steady, balanced load; what a circuit may carry is for a licensed electrician to say.

    Source
    ------
    Definition of power and power factor.

    Example
    -------
    >>> round(three_phase_current(15000.0, 400.0, 1.0), 4)
    21.6506
    """
    return single_phase_current(power, voltage, power_factor) / math.sqrt(3)


def supply_power(voltage: float, current: float, phases: str) -> float:
    """Power of resistive heaters that a supply of this voltage and current carries.

        P = U I,   three phase: P = √3 U I

    Parameters
    ----------
    voltage : float
        Between two lines where there are three, above 0. [V]
    current : float
        That the supply may carry, 0 or more. [A]
    phases : str
        "single phase" or "three phase".

    Returns
    -------
    float
        Power. [W]

    Valid for
    ---------
    Resistive loads; what a circuit may carry is for a licensed electrician to say.

    Source
    ------
    Definition of power.

    Example
    -------
    >>> supply_power(230.0, 32.0, "single phase")
    7360.0
    """
    require("voltage", voltage, above=0)
    require("current", current, at_least=0)
    require_one_of("phases", phases, PHASES)
    return voltage * current * (math.sqrt(3) if phases == PHASES[1] else 1.0)


def cable_voltage_drop(
    current: float, length: float, conductor_area: float, power_factor: float, phases: str
) -> float:
    """Voltage lost in a copper cable, out and back.

        ΔU = b I L (ρ cos φ/S + λ sin φ),   b = 2 or √3,   ρ = 0.0225 Ω mm²/m,   λ = 0.08 mΩ/m

    Parameters
    ----------
    current : float
        0 or more. [A]
    length : float
        One way, 0 or more. [m]
    conductor_area : float
        Cross-section of one conductor, above 0. [m²]
    power_factor : float
        0 < cos φ <= 1. [1]
    phases : str
        "single phase" or "three phase".

    Returns
    -------
    float
        Voltage drop. [V]

    Valid for
    ---------
    Warm copper; local code says how much may be lost.

    Source
    ------
    IEC 60364-5-52, informative annex (from memory).

    Example
    -------
    >>> round(cable_voltage_drop(50.0, 50.0, 16e-6, 0.95, "single phase"), 4)
    6.8046
    """
    require("current", current, at_least=0)
    require("length", length, at_least=0)
    require("conductor_area", conductor_area, above=0)
    require("power_factor", power_factor, above=0, at_most=1)
    require_one_of("phases", phases, PHASES)
    both_ways = math.sqrt(3) if phases == PHASES[1] else 2.0
    resistance = COPPER_RESISTIVITY / conductor_area * power_factor
    reactance = CABLE_REACTANCE * math.sqrt(1 - power_factor**2)
    return both_ways * current * length * (resistance + reactance)
