"""When the machine is switched on, and what it then draws."""

from __future__ import annotations

import math

from .inputs import require

DAY = 86400.0
MINUTES = 1440.0
# Smallest share of a minute that is not taken for rounding.
MINUTE_GUARD = 1e-6


def switch_on(
    ready_time: float, set_up_time: float, panel_time: float, preparation_needed: float
) -> float:
    """Time of day at which the heaters have to go on, cut to the minute before.

        d = floor((d_ready - (t_set-up + t_panel + t_preparation) / 86 400 s) 1440) / 1440

    Parameters
    ----------
    ready_time : float
        Time of day as a share of the day, 0 or more and below 1. [1]
    set_up_time : float
        0 or more. [s]
    panel_time : float
        0 or more. [s]
    preparation_needed : float
        0 or more. [s]

    Returns
    -------
    float
        Share of the day; of an earlier day where the work does not fit into this one. [1]

    Valid for
    ---------
    A millionth of a minute is taken for rounding.

    Source
    ------
    Definition.

    Example
    -------
    Ready at half past eight after 45 min and an hour:

    >>> round(switch_on(8.5 / 24, 1800.0, 900.0, 3600.0) * 24, 4)
    6.75
    """
    require("ready_time", ready_time, at_least=0, below=1)
    require("set_up_time", set_up_time, at_least=0)
    require("panel_time", panel_time, at_least=0)
    require("preparation_needed", preparation_needed, at_least=0)
    share = ready_time - (set_up_time + panel_time + preparation_needed) / DAY
    minutes = math.floor(share * MINUTES + MINUTE_GUARD)
    return (minutes - MINUTES * math.floor(minutes / MINUTES)) / MINUTES
