"""What a job costs: labour, material, the sum. Amounts are Decimal, rates are floats."""

from __future__ import annotations

from decimal import Decimal

from .inputs import require
from .rounding import exact

PRICING_BASES = ("by volume", "whole drums")


def margin_reached(net_price: float | Decimal, cost: float | Decimal) -> float:
    """Share of a price that is not cost.

        g = 1 - C / P

    Parameters
    ----------
    net_price : float or Decimal
        Price before tax, 0 or more. [money]
    cost : float or Decimal
        0 or more. [money]

    Returns
    -------
    float
        Margin; below 0 where the cost is not covered, 0 for a price of 0. [1]

    Source
    ------
    Definition of margin.

    Example
    -------
    >>> margin_reached(1500, 1200)
    0.2
    """
    price, spent = exact("net_price", net_price), exact("cost", cost)
    require("net_price", float(price), at_least=0)
    require("cost", float(spent), at_least=0)
    if not price:
        return 0.0
    require("net_price", float(price), above=0)
    return float(1 - spent / price)


TAX_RULES = ("on the total", "on each line")
