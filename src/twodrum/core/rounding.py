"""Rounding of money: amounts are Decimal."""

from __future__ import annotations

from decimal import ROUND_HALF_EVEN, ROUND_HALF_UP, Context, Decimal

from .inputs import InputError, require

# A worksheet calculates with 15 significant digits, then rounds half away from zero.
WORKSHEET = Context(prec=15, rounding=ROUND_HALF_EVEN)
EXACT = Context(prec=40)


def exact(argument: str, value: float | Decimal) -> Decimal:
    if isinstance(value, Decimal):
        if not value.is_finite():
            raise InputError(argument, value, "a finite number")
        require(argument, float(value))
        return value
    require(argument, value)
    return Decimal(repr(float(value)))


def _quantized(argument: str, amount: float | Decimal, decimals: float, rounding: str) -> Decimal:
    require("money_decimals", decimals, at_least=-9, at_most=9)
    if decimals != int(decimals):
        raise InputError("money_decimals", decimals, "a whole number")
    digits = WORKSHEET.plus(exact(argument, amount))
    return digits.quantize(Decimal(1).scaleb(-int(decimals)), rounding=rounding, context=EXACT)


def worksheet_round(amount: float | Decimal, money_decimals: float) -> Decimal:
    """Round as a worksheet's ROUND does: half away from zero, on 15 significant digits.

        round(x, n), ties away from zero

    Parameters
    ----------
    amount : float or Decimal
        Any finite amount. [money]
    money_decimals : float
        Whole number of decimals, -9 to 9. [1]

    Returns
    -------
    Decimal
        Rounded amount. [money]

    Source
    ------
    Documented examples of the worksheet function ROUND.

    Example
    -------
    >>> worksheet_round(2.675, 2)
    Decimal('2.68')
    """
    return _quantized("amount", amount, money_decimals, ROUND_HALF_UP)
