"""What was drawn from drums that were weighed or read before and after."""

from __future__ import annotations

from .inputs import require


def mass_drawn(opening_mass: float, closing_mass: float) -> float:
    """Mass that left a drum between two weighings.

        Δm = m_open - m_close

    Parameters
    ----------
    opening_mass : float
        Drum and content when it was put on, 0 or more. [kg]
    closing_mass : float
        The same when it was taken off, 0 to the opening one. [kg]

    Returns
    -------
    float
        Mass drawn. [kg]

    Source
    ------
    Mass balance.

    Example
    -------
    >>> mass_drawn(248.0, 26.0)
    222.0
    """
    require("opening_mass", opening_mass, at_least=0)
    require("closing_mass", closing_mass, at_least=0, at_most=opening_mass)
    return opening_mass - closing_mass


def volume_drawn(opening_volume: float, closing_volume: float) -> float:
    """Volume that left a drum between two readings of what it holds.

        ΔV = V_open - V_close

    Parameters
    ----------
    opening_volume : float
        Content when it was put on, 0 or more. [m³]
    closing_volume : float
        Content when it was taken off, 0 to the opening one. [m³]

    Returns
    -------
    float
        Volume drawn. [m³]

    Source
    ------
    Volume balance.

    Example
    -------
    >>> round(volume_drawn(0.205, 0.005), 6)
    0.2
    """
    require("opening_volume", opening_volume, at_least=0)
    require("closing_volume", closing_volume, at_least=0, at_most=opening_volume)
    return opening_volume - closing_volume


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
