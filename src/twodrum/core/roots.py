"""Where a function of one number changes its sign."""

from __future__ import annotations

import math
from collections.abc import Callable

from .inputs import InputError, require

STEPS = 200


def root(function: Callable[[float], float], low: float, high: float) -> float:
    """Place between two others at which a function passes 0.

        f(x) = 0,   low <= x <= high, f(low) and f(high) of different signs

    Parameters
    ----------
    function : function of float to float
        Without jumps.
    low : float
        Any number. [any]
    high : float
        At least low. [as low]

    Returns
    -------
    float
        Place, to about the last digit. [as low]

    Errors
    ------
    InputError where the function has the same sign at both ends.

    Valid for
    ---------
    One crossing; of several one is found.

    Source
    ------
    T. R. Chandrupatla 1997 (from memory): inverse quadratic interpolation where it is safe,
    else halving.

    Example
    -------
    >>> round(root(lambda x: x**3 - 2, 0.0, 2.0), 12)
    1.259921049895
    """
    require("low", low)
    require("high", high, at_least=low)
    a, b = low, high
    fa, fb = function(a), function(b)
    if fa == 0 or fb == 0:
        return a if fa == 0 else b
    if (fa > 0) == (fb > 0):
        raise InputError("function", fa, "of different signs at both ends")
    share = 0.5
    for _ in range(STEPS):
        x = a + share * (b - a)
        fx = function(x)
        # c, a: the old pair of which one end was replaced; a is always the newest place.
        if (fx > 0) == (fa > 0):
            c, fc = a, fa
        else:
            c, fc, b, fb = b, fb, a, fa
        a, fa = x, fx
        best, value = (a, fa) if abs(fa) < abs(fb) else (b, fb)
        limit = 2 * math.ulp(max(abs(a), abs(b))) / abs(b - a) if b != a else 1.0
        if limit >= 0.5 or value == 0:
            return best
        share = 0.5
        xi = (a - b) / (c - b) if c != b else 0.0
        phi = (fa - fb) / (fc - fb) if fc != fb else 1.0
        if phi**2 < xi and (1 - phi) ** 2 < 1 - xi and fa != fc:
            share = fa / (fb - fa) * fc / (fb - fc)
            share += (c - a) / (b - a) * fa / (fc - fa) * fb / (fc - fb)
        share = min(1 - limit, max(limit, share))
    return best
