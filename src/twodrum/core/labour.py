"""Time and hands that a job takes."""

from __future__ import annotations

from .inputs import ceiling, require


def spraying_time(volume: float, pump_output: float, spraying_share: float) -> float:
    """Time at the gun to spray a volume, pauses of the trigger included.

        t = V / (q s)

    Parameters
    ----------
    volume : float
        Mixed volume to spray, 0 or more. [m³]
    pump_output : float
        Output of both pumps together while the trigger is pulled, above 0. [m³/s]
    spraying_share : float
        Share of the time at the gun with the trigger pulled, 0 < s <= 1. [1]

    Returns
    -------
    float
        Time at the gun. [s]

    Valid for
    ---------
    A steady output.

    Source
    ------
    Volume balance.

    Example
    -------
    1 m³ at 4 L/min and half the time, in hours:

    >>> round(spraying_time(1.0, 4e-3 / 60, 0.5) / 3600, 4)
    8.3333
    """
    require("volume", volume, at_least=0)
    require("pump_output", pump_output, above=0)
    require("spraying_share", spraying_share, above=0, at_most=1)
    return volume / (pump_output * spraying_share)


def labour_time(working_time: float, crew_size: float) -> float:
    """Working time of all persons together.

        t = n t_work

    Parameters
    ----------
    working_time : float
        Time on the job, 0 or more. [s]
    crew_size : float
        Persons, 1 or more. [1]

    Returns
    -------
    float
        Time of all persons. [s]

    Source
    ------
    Definition.

    Example
    -------
    >>> labour_time(3600.0, 3)
    10800.0
    """
    require("working_time", working_time, at_least=0)
    require("crew_size", crew_size, at_least=1)
    return working_time * crew_size


def working_time(spraying_time: float, preparation_time: float) -> float:
    """Time on the job: at the gun and everything else.

        t = t_spray + t_preparation

    Parameters
    ----------
    spraying_time : float
        Time at the gun, 0 or more. [s]
    preparation_time : float
        Preparation, masking, warm-up, cleaning, 0 or more. [s]

    Returns
    -------
    float
        Time on the job. [s]

    Source
    ------
    Definition.

    Example
    -------
    >>> working_time(3600.0, 1800.0)
    5400.0
    """
    require("spraying_time", spraying_time, at_least=0)
    require("preparation_time", preparation_time, at_least=0)
    return spraying_time + preparation_time


def working_days(working_time: float, day_length: float, ceiling_guard: float) -> int:
    """Days that the job takes.

        n = ceil(t / t_day - guard)

    Parameters
    ----------
    working_time : float
        Time on the job, 0 or more. [s]
    day_length : float
        Working time of one day, above 0. [s]
    ceiling_guard : float
        Smallest excess that counts as one more day, as a share of a day. [1]

    Returns
    -------
    int
        Number of days. [1]

    Source
    ------
    Definition.

    Example
    -------
    >>> working_days(36000.0, 28800.0, 1e-9)
    2
    """
    require("working_time", working_time, at_least=0)
    require("day_length", day_length, above=0)
    require("ceiling_guard", ceiling_guard, at_least=0, below=1)
    return max(0, ceiling(working_time / day_length, ceiling_guard))
