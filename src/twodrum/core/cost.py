"""What a job costs: labour, material, the sum. Amounts are Decimal, rates are floats."""

from __future__ import annotations

from decimal import Decimal

from .inputs import InputError, require
from .rounding import exact, worksheet_round


def line_amount(quantity: float, rate: float, money_decimals: float) -> Decimal:
    """One line of a bill: quantity times rate, rounded.

        amount = round(q r, n)

    Parameters
    ----------
    quantity : float
        Any finite quantity in SI, 0 or more. [1]
    rate : float
        Money for one SI unit of the quantity, 0 or more. [money]
    money_decimals : float
        Whole number of decimals, -9 to 9. [1]

    Returns
    -------
    Decimal
        Amount. [money]

    Source
    ------
    Definition; rounding as `worksheet_round`.

    Example
    -------
    >>> line_amount(3.0, 1.135, 2)
    Decimal('3.41')
    """
    require("quantity", quantity, at_least=0)
    require("rate", rate, at_least=0)
    return worksheet_round(quantity * rate, money_decimals)


def labour_amount(labour_time: float, labour_rate: float, money_decimals: float) -> Decimal:
    """Pay for the hours of all persons.

        amount = round(t r, n)

    Parameters
    ----------
    labour_time : float
        Working time of all persons together, 0 or more. [s]
    labour_rate : float
        Money for one person's second, 0 or more. [money/s]
    money_decimals : float
        Whole number of decimals, -9 to 9. [1]

    Returns
    -------
    Decimal
        Amount. [money]

    Source
    ------
    Definition; rounding as `worksheet_round`.

    Example
    -------
    10 h at 42 for an hour:

    >>> labour_amount(36000.0, 42.0 / 3600.0, 2)
    Decimal('420.00')
    """
    require("labour_time", labour_time, at_least=0)
    require("labour_rate", labour_rate, at_least=0)
    return worksheet_round(labour_time * labour_rate, money_decimals)


def material_amount(
    volume: float,
    drum_count: float,
    drum_volume: float,
    volume_price: float,
    pricing_basis: str,
    money_decimals: float,
) -> Decimal:
    """Price of one component by the volume used or by the whole drums opened.

        amount = round(V p, n)   or   round(N V_drum p, n)

    Parameters
    ----------
    volume : float
        Volume needed, 0 or more. [m³]
    drum_count : float
        Drums opened, 0 or more. [1]
    drum_volume : float
        Filled volume of a drum, above 0. [m³]
    volume_price : float
        Money for one cubic metre, 0 or more. [money/m³]
    pricing_basis : str
        "by volume" or "whole drums".
    money_decimals : float
        Whole number of decimals, -9 to 9. [1]

    Returns
    -------
    Decimal
        Amount. [money]

    Source
    ------
    Definition; rounding as `worksheet_round`.

    Example
    -------
    >>> material_amount(0.5, 3, 0.205, 9000.0, "whole drums", 2)
    Decimal('5535.00')
    """
    require("volume", volume, at_least=0)
    require("drum_count", drum_count, at_least=0)
    require("drum_volume", drum_volume, above=0)
    require("volume_price", volume_price, at_least=0)
    if pricing_basis not in PRICING_BASES:
        raise InputError("pricing_basis", pricing_basis, "one of", PRICING_BASES)
    priced = volume if pricing_basis == PRICING_BASES[0] else drum_count * drum_volume
    return worksheet_round(priced * volume_price, money_decimals)


PRICING_BASES = ("by volume", "whole drums")


def total_amount(
    material_cost: float | Decimal, labour_cost: float | Decimal, other_cost: float | Decimal
) -> Decimal:
    """Sum of rounded amounts.

        total = material + labour + other

    Parameters
    ----------
    material_cost : float or Decimal
        Any finite amount. [money]
    labour_cost : float or Decimal
        Any finite amount. [money]
    other_cost : float or Decimal
        Any finite amount. [money]

    Returns
    -------
    Decimal
        Sum. [money]

    Source
    ------
    Definition.

    Example
    -------
    >>> total_amount(Decimal("10.10"), Decimal("5.05"), Decimal("0"))
    Decimal('15.15')
    """
    parts = (("material_cost", material_cost), ("labour_cost", labour_cost))
    total = exact("other_cost", other_cost)
    for argument, amount in parts:
        total += exact(argument, amount)
    return total
