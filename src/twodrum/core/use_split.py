"""What was used above the quote, split step by step among its causes.

What is sprayed is a product: billed area, what is sprayed for each billed area, film asked for on
it, what really lies there, what is supplied for it. At each step both factors changed, and each
gets its change times the mean of the other: no order among causes is preferred and the parts add
up exactly. That is the Shapley value of two causes, taken group by group.
"""

from __future__ import annotations

from typing import Optional

from .inputs import require


def accounted_volume(
    surface_volume: float, sprayed_volume: float, lost_volume: Optional[float] = None
) -> float:
    """What can be accounted for: on the surface and lost, or all where the loss was not measured.

        S = N + V_lost where it was measured, else S = V

    Parameters
    ----------
    surface_volume : float
        On the surface, 0 or more. [m³]
    sprayed_volume : float
        Mixed and sprayed, 0 or more. [m³]
    lost_volume : float, optional
        Lost, where it was measured, 0 to what was sprayed. [m³]

    Returns
    -------
    float
        Volume. [m³]

    Source
    ------
    Volume balance.

    Example
    -------
    >>> round(accounted_volume(0.5, 0.7, 0.15), 6)
    0.65
    """
    require("surface_volume", surface_volume, at_least=0)
    require("sprayed_volume", sprayed_volume, at_least=0)
    if lost_volume is None:
        return sprayed_volume
    require("lost_volume", lost_volume, at_least=0, at_most=sprayed_volume)
    return surface_volume + lost_volume
