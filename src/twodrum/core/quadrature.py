"""Integrals of smooth functions."""

from __future__ import annotations

import math
from functools import lru_cache

POINTS = 40


@lru_cache(maxsize=64)
def gauss_points(count: int = POINTS) -> tuple[tuple[float, float], ...]:
    """Places and weights of a rule that integrates from -1 to 1.

        ∫ f dx = Σ w_i f(x_i),   exact for polynomials up to degree 2 n - 1

    Parameters
    ----------
    count : int
        n, at least 1; 40 where nothing is said. [1]

    Returns
    -------
    tuple of (float, float)
        n places and their weights. [1]

    Source
    ------
    Gauss-Legendre rule; roots of the Legendre polynomial by Newton's method.

    Example
    -------
    >>> round(sum(w * x**4 for x, w in gauss_points()), 12)
    0.4
    """
    points = []
    for index in range(count):
        x = math.cos(math.pi * (index + 0.75) / (count + 0.5))
        step = 1.0
        while abs(step) > 1e-15:
            before, now = 1.0, x
            for n in range(2, count + 1):
                before, now = now, ((2 * n - 1) * x * now - (n - 1) * before) / n
            slope = count * (x * now - before) / (x * x - 1)
            step = now / slope
            x -= step
        points.append((x, 2 / ((1 - x * x) * slope * slope)))
    return tuple(points)
