"""What if film, loss, area or a price were another: steps from the job's own values."""

from __future__ import annotations

from .inputs import require

MOST_LOSS = 0.9


def stepped_factor(step: float, steps: float, swing: float, swings: float) -> float:
    """Factor on a quantity of the job, so many steps or swings away from it.

        f = 1 + a n + b m

    Parameters
    ----------
    step : float
        One step as a share of the quantity, 0 <= a <= 1. [1]
    steps : float
        How many, -10 to 10. [1]
    swing : float
        One swing as a share of the quantity, 0 <= b <= 1. [1]
    swings : float
        How many, -10 to 10. [1]

    Returns
    -------
    float
        Factor, above 0. [1]

    Source
    ------
    Definition.

    Example
    -------
    >>> stepped_factor(0.1, -2.0, 0.1, 0.0)
    0.8
    """
    require("step", step, at_least=0, at_most=1)
    require("steps", steps, at_least=-10, at_most=10)
    require("swing", swing, at_least=0, at_most=1)
    require("swings", swings, at_least=-10, at_most=10)
    factor = 1 + step * steps + swing * swings
    if factor <= 0:
        require("step", step, below=1 / max(abs(steps), 1))
        require("swing", swing, below=(1 + min(0.0, step * steps)) / max(abs(swings), 1))
    return factor


def stepped_share(share: float, step: float, steps: float, swing: float, swings: float) -> float:
    """Share of the job, such as a loss, so many points or swings away from it.

        s = max(0, min(0.9, s_0 (1 + b m) + a n))

    Parameters
    ----------
    share : float
        Of the job, 0 <= s_0 <= 0.9. [1]
    step : float
        One step in points of the share, 0 <= a <= 1. [1]
    steps : float
        How many, -10 to 10. [1]
    swing : float
        One swing as a share of the share, 0 <= b <= 1. [1]
    swings : float
        How many, -10 to 10. [1]

    Returns
    -------
    float
        Share, 0 to 0.9. [1]

    Source
    ------
    Definition.

    Example
    -------
    >>> round(stepped_share(0.2, 0.05, 2.0, 0.1, 0.0), 12)
    0.3
    """
    require("share", share, at_least=0, at_most=MOST_LOSS)
    require("step", step, at_least=0, at_most=1)
    require("steps", steps, at_least=-10, at_most=10)
    require("swing", swing, at_least=0, at_most=1)
    require("swings", swings, at_least=-10, at_most=10)
    return max(0.0, min(MOST_LOSS, share * (1 + swing * swings) + step * steps))


def scaled_thickness(film_thickness: float, factor: float) -> float:
    """A film times a factor.

        d = d_0 f

    Parameters
    ----------
    film_thickness : float
        0 or more. [m]
    factor : float
        0 or more. [1]

    Returns
    -------
    float
        Film. [m]

    Source
    ------
    Definition.

    Example
    -------
    >>> scaled_thickness(0.002, 1.5)
    0.003
    """
    require("film_thickness", film_thickness, at_least=0)
    require("factor", factor, at_least=0)
    return film_thickness * factor


def scaled_volume(volume: float, factor: float, other_factor: float) -> float:
    """A volume in a film when area and film change together.

        V = V_0 f g

    Parameters
    ----------
    volume : float
        0 or more. [m³]
    factor : float
        0 or more. [1]
    other_factor : float
        0 or more. [1]

    Returns
    -------
    float
        Volume. [m³]

    Source
    ------
    Definition.

    Example
    -------
    >>> scaled_volume(0.5, 2.0, 1.5)
    1.5
    """
    require("volume", volume, at_least=0)
    require("factor", factor, at_least=0)
    require("other_factor", other_factor, at_least=0)
    return volume * factor * other_factor
