"""When the machine is switched on, and what it then draws."""

from __future__ import annotations

import math

from .inputs import require

DAY = 86400.0
MINUTES = 1440.0
# Smallest share of a minute that is not taken for rounding.
MINUTE_GUARD = 1e-6


def preparation_needed(
    iso_warm_up_time: float, resin_warm_up_time: float, stirring_time: float
) -> float:
    """Time until both drums are warm and the resin is stirred; the three run side by side.

        t = max(t_iso, t_resin, t_stir)

    Parameters
    ----------
    iso_warm_up_time : float
        0 or more. [s]
    resin_warm_up_time : float
        0 or more. [s]
    stirring_time : float
        0 or more. [s]

    Returns
    -------
    float
        Time. [s]

    Source
    ------
    Definition.

    Example
    -------
    >>> preparation_needed(3000.0, 3600.0, 1800.0)
    3600.0
    """
    require("iso_warm_up_time", iso_warm_up_time, at_least=0)
    require("resin_warm_up_time", resin_warm_up_time, at_least=0)
    require("stirring_time", stirring_time, at_least=0)
    return max(iso_warm_up_time, resin_warm_up_time, stirring_time)


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


def connected_power(
    iso_heater_power: float,
    resin_heater_power: float,
    hose_power: float | None,
    other_power: float,
) -> float:
    """Rated power of heaters, hose and other loads, all on at once.

        P = P_iso + P_resin + P_hose + P_other

    Parameters
    ----------
    iso_heater_power : float
        0 or more. [W]
    resin_heater_power : float
        0 or more. [W]
    hose_power : float, optional
        0 or more; left out where no hose is heated. [W]
    other_power : float
        Compressor, pumps, lights, 0 or more. [W]

    Returns
    -------
    float
        Power. [W]

    Source
    ------
    Sum of the loads.

    Example
    -------
    >>> connected_power(6000.0, 6000.0, 2400.0, 0.0)
    14400.0
    """
    require("iso_heater_power", iso_heater_power, at_least=0)
    require("resin_heater_power", resin_heater_power, at_least=0)
    require("other_power", other_power, at_least=0)
    hose = 0.0 if hose_power is None else hose_power
    require("hose_power", hose, at_least=0)
    return iso_heater_power + resin_heater_power + hose + other_power


def power_for_heaters(
    supply_power: float, hose_power: float | None, other_power: float, heating_efficiency: float
) -> float:
    """Power that a supply leaves for the liquid of both sides.

        P = max(0, P_supply - P_hose - P_other) η

    Parameters
    ----------
    supply_power : float
        What the supply carries, 0 or more. [W]
    hose_power : float, optional
        0 or more; left out where no hose is heated. [W]
    other_power : float
        0 or more. [W]
    heating_efficiency : float
        Share that reaches the liquid, 0 <= η <= 1. [1]

    Returns
    -------
    float
        Power that reaches the liquid; 0 where the other loads take all. [W]

    Source
    ------
    Balance of the loads.

    Example
    -------
    >>> round(power_for_heaters(13856.0, 2400.0, 0.0, 0.9), 1)
    10310.4
    """
    require("supply_power", supply_power, at_least=0)
    require("other_power", other_power, at_least=0)
    require("heating_efficiency", heating_efficiency, at_least=0, at_most=1)
    hose = 0.0 if hose_power is None else hose_power
    require("hose_power", hose, at_least=0)
    return max(0.0, supply_power - hose - other_power) * heating_efficiency


def energy_to_draw(iso_energy: float, resin_energy: float, heating_efficiency: float) -> float:
    """Energy that both drums take up, as the supply delivers it; losses to the air on top.

        E = (E_iso + E_resin) / η

    Parameters
    ----------
    iso_energy : float
        Heat that the iso drum takes up, 0 or more. [J]
    resin_energy : float
        Heat that the resin drum takes up, 0 or more. [J]
    heating_efficiency : float
        Share that reaches the liquid, 0 < η <= 1. [1]

    Returns
    -------
    float
        Energy. [J]

    Source
    ------
    Heat balance.

    Example
    -------
    >>> energy_to_draw(9e6, 9e6, 0.9)
    20000000.0
    """
    require("iso_energy", iso_energy, at_least=0)
    require("resin_energy", resin_energy, at_least=0)
    require("heating_efficiency", heating_efficiency, above=0, at_most=1)
    return (iso_energy + resin_energy) / heating_efficiency


def valid_until(quote_date: float, valid_days: float) -> float:
    """Last day on which a quote holds.

        d = d_quote + n

    Parameters
    ----------
    quote_date : float
        Day number of a spreadsheet, 0 or more. [1]
    valid_days : float
        Days, 0 or more. [1]

    Returns
    -------
    float
        Day number. [1]

    Source
    ------
    Definition.

    Example
    -------
    >>> valid_until(46351.0, 30)
    46381.0
    """
    require("quote_date", quote_date, at_least=0)
    require("valid_days", valid_days, at_least=0)
    return quote_date + valid_days
