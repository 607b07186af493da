"""Cost of material against its standard, and an amount split without losing a cent."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from decimal import ROUND_FLOOR, Decimal

from .inputs import InputError, require
from .rounding import exact


@dataclass(frozen=True)
class Variances:
    """What made the cost of material differ from its standard; above 0 is cheaper. [money]"""

    price: float
    mix: float
    yield_: float

    @property
    def usage(self) -> float:
        """Mix and yield together. [money]"""
        return self.mix + self.yield_

    @property
    def total(self) -> float:
        """All of it. [money]"""
        return self.price + self.usage


def material_variances(
    standard_quantities: Sequence[float],
    standard_prices: Sequence[float],
    standard_output: float,
    actual_quantities: Sequence[float],
    actual_prices: Sequence[float],
    actual_output: float,
) -> Variances:
    """Price, mix and yield variance of several materials that go into one output.

        price = Σ AQ (SP - AP),   mix = Σ (RSQ - AQ) SP,   yield = Σ (SQ - RSQ) SP
        SQ the standard for the actual output, RSQ all that was used in standard proportions

    Parameters
    ----------
    standard_quantities : sequence of float
        For the standard output, one for each material, each 0 or more, not all 0. [any]
    standard_prices : sequence of float
        As many, each 0 or more. [money over quantity]
    standard_output : float
        Above 0. [any]
    actual_quantities : sequence of float
        As many, each 0 or more. [as the quantities]
    actual_prices : sequence of float
        As many, each 0 or more. [money over quantity]
    actual_output : float
        0 or more. [as the standard output]

    Returns
    -------
    Variances
        Each above 0 where it was cheaper than standard. [money]

    Source
    ------
    Standard costing as taught (worked textbook and examination answers).

    Example
    -------
    >>> found = material_variances([35, 65], [25, 36], 95, [125, 275], [27, 34], 365)
    >>> round(found.price, 2), round(found.mix, 2), round(found.yield_, 2)
    (300, -165.0, -507.63)
    """
    count = len(standard_quantities)
    require("number of materials", count, at_least=1)
    for name, values in (
        ("standard_prices", standard_prices),
        ("actual_quantities", actual_quantities),
        ("actual_prices", actual_prices),
        ("standard_quantities", standard_quantities),
    ):
        require(f"number of {name}", len(values), at_least=count, at_most=count)
        for value in values:
            require(name, value, at_least=0)
    require("standard_quantities", sum(standard_quantities), above=0)
    require("standard_output", standard_output, above=0)
    require("actual_output", actual_output, at_least=0)
    standard = [q * actual_output / standard_output for q in standard_quantities]
    used = sum(actual_quantities) / sum(standard_quantities)
    revised = [q * used for q in standard_quantities]
    return Variances(
        sum(q * (sp - ap) for q, sp, ap in zip(actual_quantities, standard_prices, actual_prices)),
        sum((r - a) * sp for r, a, sp in zip(revised, actual_quantities, standard_prices)),
        sum((s - r) * sp for s, r, sp in zip(standard, revised, standard_prices)),
    )


def split_amount(
    amount: float | Decimal, shares: Sequence[float], money_decimals: float
) -> list[Decimal]:
    """An amount split by shares so that the rounded parts add up to it.

        each part rounded down, what is left goes to the largest remainders, ties to the first

    Parameters
    ----------
    amount : float or Decimal
        0 to 1e15, itself rounded to the decimals. [money]
    shares : sequence of float
        At least 1, each 0 or more, not all 0. [1]
    money_decimals : float
        0 to 4. [1]

    Returns
    -------
    list of Decimal
        One part for each share; their sum is the amount. [money]

    Source
    ------
    Method of the largest remainder.

    Example
    -------
    >>> [str(part) for part in split_amount(100.0, [1, 1, 1], 2)]
    ['33.34', '33.33', '33.33']
    """
    require("number of shares", len(shares), at_least=1)
    for share in shares:
        require("shares", share, at_least=0)
    require("shares", sum(shares), above=0)
    require("money_decimals", money_decimals, at_least=0, at_most=4)
    whole = exact("amount", amount)
    require("amount", float(whole), at_least=0, at_most=1e15)
    if money_decimals != int(money_decimals):
        raise InputError("money_decimals", money_decimals, "a whole number")
    unit = Decimal(1).scaleb(-int(money_decimals))
    if whole % unit:
        raise InputError("amount", amount, "rounded to", float(unit))
    parts = [exact("share", float(share)) for share in shares]
    total = sum(parts, Decimal(0))
    wanted = [whole * part / total for part in parts]
    found = [(want / unit).to_integral_value(ROUND_FLOOR) * unit for want in wanted]
    left = int((whole - sum(found, Decimal(0))) / unit)
    order = sorted(range(len(parts)), key=lambda n: (found[n] - wanted[n], n))
    for index in order[:left]:
        found[index] += unit
    return found
