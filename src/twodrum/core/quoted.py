"""What was used against what was quoted."""

from __future__ import annotations

from .inputs import require


def volume_over(volume: float, compared_volume: float) -> float:
    """Volume above another one, such as the one that was quoted.

        ΔV = V - V_compared

    Parameters
    ----------
    volume : float
        0 or more. [m³]
    compared_volume : float
        0 or more. [m³]

    Returns
    -------
    float
        Volume; below 0 where it is less. [m³]

    Source
    ------
    Definition.

    Example
    -------
    >>> round(volume_over(0.554, 0.5), 12)
    0.054
    """
    require("volume", volume, at_least=0)
    require("compared_volume", compared_volume, at_least=0)
    return volume - compared_volume


def share_over(volume_per_area: float, quoted_per_area: float) -> float:
    """Share by which the use for each area stands above the quoted one.

        s = v / v_quoted - 1

    Parameters
    ----------
    volume_per_area : float
        Used for each billed area, 0 or more. [m³/m²]
    quoted_per_area : float
        Quoted for each billed area, above 0. [m³/m²]

    Returns
    -------
    float
        Share; below 0 where less was used. [1]

    Source
    ------
    Definition.

    Example
    -------
    >>> round(share_over(0.0022, 0.002), 12)
    0.1
    """
    require("volume_per_area", volume_per_area, at_least=0)
    require("quoted_per_area", quoted_per_area, above=0)
    return volume_per_area / quoted_per_area - 1


def area_over(area: float, quoted_area: float) -> float:
    """Area above the one that was quoted.

        ΔA = A - A_quoted

    Parameters
    ----------
    area : float
        0 or more. [m²]
    quoted_area : float
        0 or more. [m²]

    Returns
    -------
    float
        Area; below 0 where it is less. [m²]

    Source
    ------
    Definition.

    Example
    -------
    >>> area_over(312.0, 300.0)
    12.0
    """
    require("area", area, at_least=0)
    require("quoted_area", quoted_area, at_least=0)
    return area - quoted_area
