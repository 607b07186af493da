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


def component_mass(volume: float, density: float) -> float:
    """Mass of a volume.

        m = ρ V

    Parameters
    ----------
    volume : float
        0 or more. [m³]
    density : float
        At the temperature of the volume, above 0. [kg/m³]

    Returns
    -------
    float
        Mass. [kg]

    Source
    ------
    Mass balance.

    Example
    -------
    >>> component_mass(0.2, 1120.0)
    224.0
    """
    require("volume", volume, at_least=0)
    require("density", density, above=0)
    return volume * density


def mean_expansion(
    density_1: float, temperature_1: float, density_2: float, temperature_2: float
) -> float:
    """Expansion of a liquid from its densities at two temperatures.

        β = (ρ_1/ρ_2 - 1) / (T_2 - T_1)

    Parameters
    ----------
    density_1 : float
        At the first temperature, above 0. [kg/m³]
    temperature_1 : float
        200 to 500. [K]
    density_2 : float
        At the second temperature, above 0. [kg/m³]
    temperature_2 : float
        Above the first, to 500. [K]

    Returns
    -------
    float
        Mean volumetric expansion, referred to the first temperature. [1/K]

    Source
    ------
    Definition.

    Example
    -------
    >>> round(mean_expansion(1120.0, 293.15, 1089.5, 333.15), 5)
    0.0007
    """
    require("density_1", density_1, above=0)
    require("density_2", density_2, above=0)
    require("temperature_1", temperature_1, at_least=200, at_most=500)
    require("temperature_2", temperature_2, above=temperature_1, at_most=500)
    return (density_1 / density_2 - 1) / (temperature_2 - temperature_1)
