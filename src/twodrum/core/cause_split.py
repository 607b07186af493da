"""A difference split among its causes so that the parts add up."""

from __future__ import annotations

import math
from collections.abc import Callable, Mapping, Sequence
from itertools import combinations

from .inputs import InputError, require


def shapley_split(
    result: Callable[[Mapping[str, float]], float],
    before: Mapping[str, float],
    after: Mapping[str, float],
) -> dict[str, float]:
    """A difference split among its causes so that the parts add up, whatever their order.

        φ_i = Σ_S |S|! (n - |S| - 1)!/n! (f(S and i after) - f(S after))

    Parameters
    ----------
    result : function of a mapping to float
        What the causes make together.
    before, after : mapping of str to float
        The same causes, at least 1 and at most 12, before and after.

    Returns
    -------
    dict of str to float
        Part of each cause; their sum is result(after) - result(before). [as the result]

    Source
    ------
    L. S. Shapley 1953 (from memory).

    Example
    -------
    >>> parts = shapley_split(lambda x: x["a"] * x["b"], {"a": 2.0, "b": 3.0}, {"a": 3.0, "b": 5.0})
    >>> parts
    {'a': 4.0, 'b': 5.0}
    """
    names = list(before)
    if set(names) != set(after):
        raise InputError("after", ", ".join(after), "one of", tuple(names))
    require("number of causes", len(names), at_least=1, at_most=12)
    for value in (*before.values(), *after.values()):
        require("cause", value)
    count = len(names)
    parts = {}
    for name in names:
        others = [other for other in names if other != name]
        part = 0.0
        for size in range(count):
            weight = math.factorial(size) * math.factorial(count - size - 1)
            for chosen in combinations(others, size):
                moved = {**before, **{other: after[other] for other in chosen}}
                step = result({**moved, name: after[name]}) - result(moved)
                part += weight * step
        parts[name] = part / math.factorial(count)
    return parts


def _require_factors(before: Sequence[float], after: Sequence[float], above: float) -> None:
    require("number of before", len(before), at_least=1, at_most=12)
    require("number of after", len(after), at_least=len(before), at_most=len(before))
    for name, series in (("before", before), ("after", after)):
        for value in series:
            require(name, value, **({"above": 0} if above else {"at_least": 0}))
        require(name, math.prod(series), **({"above": 0} if above else {"at_least": 0}))


def product_split(before: Sequence[float], after: Sequence[float]) -> list[float]:
    """How much each factor moved a product, whatever the order in which they changed.

        φ_i of `shapley_split` for Π x_i

    Parameters
    ----------
    before : sequence of float
        1 to 12 factors, each 0 or more; one that divides is given as its reciprocal. [any]
    after : sequence of float
        The same factors afterwards, as many, each 0 or more. [as before]

    Returns
    -------
    list of float
        Part of each factor; their sum is the difference of the products. [as the product]

    Source
    ------
    L. S. Shapley 1953 (from memory).

    Example
    -------
    >>> product_split([10.0, 50.0], [12.0, 70.0])
    [120.0, 220.0]
    """
    _require_factors(before, after, 0)
    names = [str(index) for index in range(len(before))]
    parts = shapley_split(
        lambda x: math.prod(x.values()), dict(zip(names, before)), dict(zip(names, after))
    )
    return [parts[name] for name in names]
