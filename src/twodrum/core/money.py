"""Price, margin, markup and tax. Amounts are Decimal, shares are floats."""

from __future__ import annotations

from decimal import Decimal

from .inputs import ceiling, require
from .rounding import EXACT, exact, worksheet_round


def _share(argument: str, value: float, *, below: float | None = None) -> Decimal:
    require(argument, value, at_least=0, below=below)
    return exact(argument, value)


def price_at_margin(cost: float | Decimal, margin_share: float, money_decimals: float) -> Decimal:
    """Price that leaves the margin as a share of the price.

        P = round(C / (1 - g), n)

    Parameters
    ----------
    cost : float or Decimal
        Cost, 0 or more. [money]
    margin_share : float
        Share of the price that is not cost, 0 <= g < 1. [1]
    money_decimals : float
        Whole number of decimals, -9 to 9. [1]

    Returns
    -------
    Decimal
        Price before tax. [money]

    Source
    ------
    Definition of margin; a markup is another number: `price_at_markup`.

    Example
    -------
    >>> price_at_margin(1000, 0.30, 2)
    Decimal('1428.57')
    """
    share = _share("margin_share", margin_share, below=1)
    amount = exact("cost", cost)
    require("cost", float(amount), at_least=0)
    return worksheet_round(EXACT.divide(amount, 1 - share), money_decimals)


def price_at_markup(cost: float | Decimal, markup_share: float, money_decimals: float) -> Decimal:
    """Price that adds the markup as a share of the cost.

        P = round(C (1 + m), n)

    Parameters
    ----------
    cost : float or Decimal
        Cost, 0 or more. [money]
    markup_share : float
        Share of the cost that is added, 0 or more. [1]
    money_decimals : float
        Whole number of decimals, -9 to 9. [1]

    Returns
    -------
    Decimal
        Price before tax. [money]

    Source
    ------
    Definition of markup.

    Example
    -------
    >>> price_at_markup(2.30, 0.30, 2)
    Decimal('2.99')
    """
    share = _share("markup_share", markup_share)
    amount = exact("cost", cost)
    require("cost", float(amount), at_least=0)
    return worksheet_round(EXACT.multiply(amount, 1 + share), money_decimals)


def margin_of_markup(markup_share: float) -> float:
    """Margin that a markup leaves.

        g = m / (1 + m)

    Parameters
    ----------
    markup_share : float
        Share of the cost that is added, 0 or more. [1]

    Returns
    -------
    float
        Share of the price that is not cost. [1]

    Source
    ------
    Definitions of margin and markup.

    Example
    -------
    >>> margin_of_markup(1.0)
    0.5
    """
    require("markup_share", markup_share, at_least=0)
    return markup_share / (1 + markup_share)


def markup_of_margin(margin_share: float) -> float:
    """Markup that leaves a margin.

        m = g / (1 - g)

    Parameters
    ----------
    margin_share : float
        Share of the price that is not cost, 0 <= g < 1. [1]

    Returns
    -------
    float
        Share of the cost to add. [1]

    Source
    ------
    Definitions of margin and markup.

    Example
    -------
    >>> round(markup_of_margin(0.30), 5)
    0.42857
    """
    require("margin_share", margin_share, at_least=0, below=1)
    return margin_share / (1 - margin_share)


def rounding_off(
    amount: float | Decimal, step: float | Decimal, money_decimals: float, ceiling_guard: float
) -> Decimal:
    """What is taken off an amount so that it ends on a whole step; nothing where there is none.

        r = round(A - s floor(A / s + e), n), 0 where s = 0 or s > A

    Parameters
    ----------
    amount : float or Decimal
        Amount, 0 or more. [money]
    step : float or Decimal
        Step on which the rest ends, 0 or more. [money]
    money_decimals : float
        Whole number of decimals, -9 to 9. [1]
    ceiling_guard : float
        Float noise by which an amount may lie below a whole step, 0 or more. [1]

    Returns
    -------
    Decimal
        What is taken off. [money]

    Source
    ------
    Definition of the remainder of a division.

    Example
    -------
    >>> rounding_off(1234.56, 50, 2, 1e-9)
    Decimal('34.56')
    """
    whole, of = exact("amount", amount), exact("step", step)
    require("amount", float(whole), at_least=0)
    require("step", float(of), at_least=0)
    require("ceiling_guard", ceiling_guard, at_least=0)
    if of == 0 or of > whole:
        return worksheet_round(0, money_decimals)
    steps = -ceiling(-float(EXACT.divide(whole, of)), ceiling_guard)
    return worksheet_round(
        EXACT.subtract(whole, EXACT.multiply(of, Decimal(steps))), money_decimals
    )


def tax_amount(net_price: float | Decimal, tax_share: float, money_decimals: float) -> Decimal:
    """Tax on a net price, rounded once on the total.

        tax = round(P r, n)

    Parameters
    ----------
    net_price : float or Decimal
        Price before tax, any amount. [money]
    tax_share : float
        Tax rate, 0 or more. [1]
    money_decimals : float
        Whole number of decimals, -9 to 9. [1]

    Returns
    -------
    Decimal
        Tax. [money]

    Source
    ------
    Definition; which rounding a tax office wants is local law.

    Example
    -------
    >>> tax_amount(Decimal("3.39"), 0.20, 2)
    Decimal('0.68')
    """
    share = _share("tax_share", tax_share)
    net = exact("net_price", net_price)
    return worksheet_round(EXACT.multiply(net, share), money_decimals)


def tax_inside(gross_price: float | Decimal, tax_share: float, money_decimals: float) -> Decimal:
    """Tax that a price with tax contains.

        tax = round(P r / (1 + r), n)

    Parameters
    ----------
    gross_price : float or Decimal
        Price with tax, any amount. [money]
    tax_share : float
        Tax rate, 0 or more. [1]
    money_decimals : float
        Whole number of decimals, -9 to 9. [1]

    Returns
    -------
    Decimal
        Tax. [money]

    Source
    ------
    Definition.

    Example
    -------
    >>> tax_inside(100, 0.20, 2)
    Decimal('16.67')
    """
    share = _share("tax_share", tax_share)
    gross = exact("gross_price", gross_price)
    return worksheet_round(EXACT.divide(gross * share, 1 + share), money_decimals)


def net_inside(gross_price: float | Decimal, tax_share: float, money_decimals: float) -> Decimal:
    """Price before tax that a price with tax contains; with the tax inside it adds up.

        net = P - tax inside

    Parameters
    ----------
    gross_price : float or Decimal
        Price with tax, any amount. [money]
    tax_share : float
        Tax rate, 0 or more. [1]
    money_decimals : float
        Whole number of decimals, -9 to 9. [1]

    Returns
    -------
    Decimal
        Price before tax. [money]

    Source
    ------
    Definition.

    Example
    -------
    >>> net_inside(100, 0.20, 2)
    Decimal('83.33')
    """
    gross = exact("gross_price", gross_price)
    return gross - tax_inside(gross, tax_share, money_decimals)
