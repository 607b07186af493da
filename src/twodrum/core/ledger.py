"""What was drawn from drums that were weighed or read before and after."""

from __future__ import annotations

from .inputs import require


def drum_content(gross_mass: float, empty_mass: float, density: float) -> float:
    """What a drum still holds, by its weight.

        V = (m - m_empty) / ρ

    Parameters
    ----------
    gross_mass : float
        Drum and content, at least the empty one. [kg]
    empty_mass : float
        Empty drum, 0 or more. [kg]
    density : float
        Of the liquid, above 0. [kg/m³]

    Returns
    -------
    float
        Content. [m³]

    Source
    ------
    Mass balance.

    Example
    -------
    >>> drum_content(129.1, 18.1, 1110.0)
    0.1
    """
    require("empty_mass", empty_mass, at_least=0)
    require("gross_mass", gross_mass, at_least=empty_mass)
    require("density", density, above=0)
    return (gross_mass - empty_mass) / density
