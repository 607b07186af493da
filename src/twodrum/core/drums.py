"""Drums: how many a job opens, what the stock gives, what stays."""

from __future__ import annotations

from .inputs import ceiling, require


def _require_drum(drum_volume: float, heel_volume: float) -> None:
    require("drum_volume", drum_volume, above=0)
    require("heel_volume", heel_volume, at_least=0, below=drum_volume)


def drums_opened(
    volume: float,
    part_drum_volume: float,
    drum_volume: float,
    heel_volume: float,
    ceiling_guard: float,
) -> int:
    """Full drums that a volume opens after the opened ones are used up.

        n = max(0, ceil((V - V_part) / (V_drum - V_heel) - guard))

    Parameters
    ----------
    volume : float
        Volume needed, 0 or more. [m³]
    part_drum_volume : float
        Usable volume in drums opened before, 0 or more. [m³]
    drum_volume : float
        Filled volume of a drum, above 0. [m³]
    heel_volume : float
        What stays in an emptied drum, 0 or more, less than the drum. [m³]
    ceiling_guard : float
        Smallest excess that opens one more drum, as a share of a drum. [1]

    Returns
    -------
    int
        Number of drums. [1]

    Source
    ------
    Volume balance.

    Example
    -------
    >>> drums_opened(0.500, 0.0, 0.205, 0.005, 1e-9)
    3
    """
    require("volume", volume, at_least=0)
    require("part_drum_volume", part_drum_volume, at_least=0)
    _require_drum(drum_volume, heel_volume)
    require("ceiling_guard", ceiling_guard, at_least=0, below=1)
    usable = drum_volume - heel_volume
    return max(0, ceiling((volume - part_drum_volume) / usable, ceiling_guard))


def stock_volume(
    drums_on_hand: float, part_drum_volume: float, drum_volume: float, heel_volume: float
) -> float:
    """Volume that the stock on hand can give.

        V = n (V_drum - V_heel) + V_part

    Parameters
    ----------
    drums_on_hand : float
        Unopened drums, 0 or more. [1]
    part_drum_volume : float
        Usable volume in opened drums, 0 or more. [m³]
    drum_volume : float
        Filled volume of a drum, above 0. [m³]
    heel_volume : float
        What stays in an emptied drum, 0 or more, less than the drum. [m³]

    Returns
    -------
    float
        Usable stock. [m³]

    Source
    ------
    Volume balance.

    Example
    -------
    >>> round(stock_volume(2, 0.030, 0.205, 0.005), 6)
    0.43
    """
    require("drums_on_hand", drums_on_hand, at_least=0)
    require("part_drum_volume", part_drum_volume, at_least=0)
    _require_drum(drum_volume, heel_volume)
    return drums_on_hand * (drum_volume - heel_volume) + part_drum_volume


def drums_to_buy(
    volume: float,
    stock_volume: float,
    drum_volume: float,
    heel_volume: float,
    ceiling_guard: float,
) -> int:
    """Full drums to buy beyond the stock.

        n = max(0, ceil((V - V_stock) / (V_drum - V_heel) - guard))

    Parameters
    ----------
    volume : float
        Volume needed, 0 or more. [m³]
    stock_volume : float
        Usable stock on hand, 0 or more. [m³]
    drum_volume : float
        Filled volume of a drum, above 0. [m³]
    heel_volume : float
        What stays in an emptied drum, 0 or more, less than the drum. [m³]
    ceiling_guard : float
        Smallest excess that asks for one more drum, as a share of a drum. [1]

    Returns
    -------
    int
        Number of drums. [1]

    Source
    ------
    Volume balance.

    Example
    -------
    >>> drums_to_buy(0.500, 0.150, 0.205, 0.005, 1e-9)
    2
    """
    require("volume", volume, at_least=0)
    require("stock_volume", stock_volume, at_least=0)
    _require_drum(drum_volume, heel_volume)
    require("ceiling_guard", ceiling_guard, at_least=0, below=1)
    usable = drum_volume - heel_volume
    return max(0, ceiling((volume - stock_volume) / usable, ceiling_guard))


def left_over(
    volume: float,
    stock_volume: float,
    drums_bought: float,
    drum_volume: float,
    heel_volume: float,
) -> float:
    """Usable volume that stays after the job; 0 where the guard rounded a need away.

        V_left = max(0, V_stock + n (V_drum - V_heel) - V)

    Parameters
    ----------
    volume : float
        Volume needed, 0 or more. [m³]
    stock_volume : float
        Usable stock on hand, 0 or more. [m³]
    drums_bought : float
        Drums bought, 0 or more. [1]
    drum_volume : float
        Filled volume of a drum, above 0. [m³]
    heel_volume : float
        What stays in an emptied drum, 0 or more, less than the drum. [m³]

    Returns
    -------
    float
        Left-over. [m³]

    Source
    ------
    Volume balance.

    Example
    -------
    >>> round(left_over(0.500, 0.0, 3, 0.205, 0.005), 6)
    0.1
    """
    require("volume", volume, at_least=0)
    require("stock_volume", stock_volume, at_least=0)
    require("drums_bought", drums_bought, at_least=0)
    _require_drum(drum_volume, heel_volume)
    return max(0.0, stock_volume + drums_bought * (drum_volume - heel_volume) - volume)
