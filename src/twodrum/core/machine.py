"""Drum and machine as two bodies, a band heater, and whether a drum mixes by itself."""

from __future__ import annotations

import math

from .inputs import require


def band_heater_flux(power: float, diameter: float, width: float) -> float:
    """Heat that a band around a drum presses through its wall.

        q = P / (π D w)

    Parameters
    ----------
    power : float
        0 or more. [W]
    diameter : float
        Of the drum, above 0. [m]
    width : float
        Of the band, above 0. [m]

    Returns
    -------
    float
        Heat flux. [W/m²]

    Valid for
    ---------
    The wall stands q/h above the liquid, 60 to 120 K for 1 kW on a narrow band: local
    overheating of isocyanate is to be avoided.

    Source
    ------
    Definition.

    Example
    -------
    >>> round(band_heater_flux(1000.0, 0.573, 0.15), 1)
    3703.4
    """
    require("power", power, at_least=0)
    require("diameter", diameter, above=0)
    require("width", width, above=0)
    return power / (math.pi * diameter * width)
