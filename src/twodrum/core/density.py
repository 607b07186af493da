"""Density and thermal expansion of liquids."""

from __future__ import annotations

from .inputs import require


def density_at_temperature(
    density: float, thermal_expansion: float, temperature: float, reference_temperature: float
) -> float:
    """Density of a liquid that expands by a constant share of its reference volume.

        ρ = ρ₀ / (1 + β (T - T₀))

    Parameters
    ----------
    density : float
        At the reference temperature, above 0. [kg/m³]
    thermal_expansion : float
        Volume change for each kelvin as a share of the reference volume, 0 to 0.005. [1/K]
    temperature : float
        Temperature wanted, 200 to 450. [K]
    reference_temperature : float
        Temperature of the known density, 200 to 450. [K]

    Returns
    -------
    float
        Density. [kg/m³]

    Valid for
    ---------
    A range in which β is constant.

    Source
    ------
    Definition of the volumetric expansion coefficient.

    Example
    -------
    >>> round(density_at_temperature(1120.0, 7e-4, 343.15, 293.15), 4)
    1082.1256
    """
    require("density", density, above=0)
    return density / volume_at_temperature(
        1.0, thermal_expansion, temperature, reference_temperature
    )


def volume_at_temperature(
    volume: float, thermal_expansion: float, temperature: float, reference_temperature: float
) -> float:
    """Volume that a known cold volume takes when warm.

        V = V₀ (1 + β (T - T₀))

    Parameters
    ----------
    volume : float
        At the reference temperature, 0 or more. [m³]
    thermal_expansion : float
        Volume change for each kelvin as a share of the reference volume, 0 to 0.005. [1/K]
    temperature : float
        Temperature wanted, 200 to 450. [K]
    reference_temperature : float
        Temperature of the known volume, 200 to 450. [K]

    Returns
    -------
    float
        Volume at the temperature. [m³]

    Valid for
    ---------
    A range in which β is constant.

    Source
    ------
    Definition of the volumetric expansion coefficient.

    Example
    -------
    100 L dipped at 20 °C are pumped as 103.5 L at 70 °C:

    >>> round(volume_at_temperature(0.100, 7e-4, 343.15, 293.15) * 1000, 4)
    103.5
    """
    require("volume", volume, at_least=0)
    require("thermal_expansion", thermal_expansion, at_least=0, at_most=0.005)
    require("temperature", temperature, at_least=200, at_most=450)
    require("reference_temperature", reference_temperature, at_least=200, at_most=450)
    if thermal_expansion > 0:
        # No liquid shrinks to half of its volume.
        coldest = reference_temperature - 0.5 / thermal_expansion
        require("temperature", temperature, at_least=coldest)
    return volume * (1 + thermal_expansion * (temperature - reference_temperature))
