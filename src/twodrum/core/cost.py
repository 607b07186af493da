"""What a job costs: labour, material, the sum. Amounts are Decimal, rates are floats."""

from __future__ import annotations

from decimal import Decimal

from .inputs import InputError, require, require_one_of
from .rounding import EXACT, exact, worksheet_round


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


def area_amount(area: float, area_rate: float, money_decimals: float) -> Decimal:
    """Cost of work that goes by the area, such as preparing a surface.

        amount = round(A r, n)

    Parameters
    ----------
    area : float
        0 or more. [m²]
    area_rate : float
        Money for one square metre, 0 or more. [money/m²]
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
    >>> area_amount(120.0, 8.5, 2)
    Decimal('1020.00')
    """
    require("area", area, at_least=0)
    require("area_rate", area_rate, at_least=0)
    return worksheet_round(area * area_rate, money_decimals)


def share_amount(amount: float | Decimal, share: float, money_decimals: float) -> Decimal:
    """An allowance as a share of an amount, such as consumables or rework.

        allowance = round(a s, n)

    Parameters
    ----------
    amount : float or Decimal
        0 or more. [money]
    share : float
        0 or more. [1]
    money_decimals : float
        Whole number of decimals, -9 to 9. [1]

    Returns
    -------
    Decimal
        Allowance. [money]

    Source
    ------
    Definition; rounding as `worksheet_round`.

    Example
    -------
    >>> share_amount(1020, 0.03, 2)
    Decimal('30.60')
    """
    base = exact("amount", amount)
    require("amount", float(base), at_least=0)
    require("share", share, at_least=0)
    return worksheet_round(EXACT.multiply(base, exact("share", share)), money_decimals)


def amount_sum(
    amount_1: float | Decimal,
    amount_2: float | Decimal | None = None,
    amount_3: float | Decimal | None = None,
    amount_4: float | Decimal | None = None,
    amount_5: float | Decimal | None = None,
) -> Decimal:
    """Amounts added; where each is rounded, what is shown adds up to what is shown.

        total = Σ a_i

    Parameters
    ----------
    amount_1 : float or Decimal
        Any finite amount. [money]
    amount_2 : float or Decimal, optional
        Any finite amount; left out it adds nothing. [money]
    amount_3 : float or Decimal, optional
        Any finite amount; left out it adds nothing. [money]
    amount_4 : float or Decimal, optional
        Any finite amount; left out it adds nothing. [money]
    amount_5 : float or Decimal, optional
        Any finite amount; left out it adds nothing. [money]

    Returns
    -------
    Decimal
        Sum. [money]

    Source
    ------
    Definition.

    Example
    -------
    >>> amount_sum(1.25, Decimal("2.05"))
    Decimal('3.30')
    """
    total = exact("amount_1", amount_1)
    for number, amount in enumerate((amount_2, amount_3, amount_4, amount_5), 2):
        if amount is not None:
            total += exact(f"amount_{number}", amount)
    return total


def minimum_top_up(
    net_price: float | Decimal, minimum_price: float | Decimal, money_decimals: float
) -> Decimal:
    """What is missing to the least price that the office works for.

        a = max(0, round(P_min, n) - P)

    Parameters
    ----------
    net_price : float or Decimal
        Price before tax without it, 0 or more. [money]
    minimum_price : float or Decimal
        Least price before tax, 0 or more. [money]
    money_decimals : float
        Whole number of decimals, -9 to 9. [1]

    Returns
    -------
    Decimal
        Amount to add, 0 where the price is high enough. [money]

    Source
    ------
    Definition.

    Example
    -------
    >>> minimum_top_up(1020, 1500, 2)
    Decimal('480.00')
    """
    price, least = exact("net_price", net_price), exact("minimum_price", minimum_price)
    require("net_price", float(price), at_least=0)
    require("minimum_price", float(least), at_least=0)
    return max(Decimal(0), worksheet_round(least, money_decimals) - price)


def amount_left(net_price: float | Decimal, cost: float | Decimal) -> Decimal:
    """What a price leaves above a cost.

        a = P - C

    Parameters
    ----------
    net_price : float or Decimal
        Any finite amount. [money]
    cost : float or Decimal
        Any finite amount. [money]

    Returns
    -------
    Decimal
        Amount; below 0 where the cost is not covered. [money]

    Source
    ------
    Definition.

    Example
    -------
    >>> amount_left(1500, Decimal("1020.50"))
    Decimal('479.50')
    """
    return exact("net_price", net_price) - exact("cost", cost)


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


def tax_by_rule(
    tax_on_total: float | Decimal, tax_on_lines: float | Decimal, tax_rule: str
) -> Decimal:
    """Tax of a quote: rounded once on its total, or on each of its lines and then added.

        T = T_total   or   T_lines

    Parameters
    ----------
    tax_on_total : float or Decimal
        0 or more. [money]
    tax_on_lines : float or Decimal
        0 or more. [money]
    tax_rule : str
        "on the total" or "on each line".

    Returns
    -------
    Decimal
        Tax. [money]

    Valid for
    ---------
    Local law says which rule holds.

    Source
    ------
    Definition.

    Example
    -------
    >>> tax_by_rule(0.05, 0.06, "on each line")
    Decimal('0.06')
    """
    require_one_of("tax_rule", tax_rule, TAX_RULES)
    total, lines = exact("tax_on_total", tax_on_total), exact("tax_on_lines", tax_on_lines)
    require("tax_on_total", float(total), at_least=0)
    require("tax_on_lines", float(lines), at_least=0)
    return total if tax_rule == TAX_RULES[0] else lines
