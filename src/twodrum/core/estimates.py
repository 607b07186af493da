"""Estimates from three values: the least, the likeliest, the most."""

from __future__ import annotations

from .inputs import require


def percentile_contingency(base: float, quantile: float) -> float:
    """Share to add to a base so that it reaches a quantile of the estimate.

        c = Q/B - 1

    Parameters
    ----------
    base : float
        Above 0. [1]
    quantile : float
        0 or more; below the base the share is negative. [1]

    Returns
    -------
    float
        Share of the base. [1]

    Source
    ------
    Definition.

    Example
    -------
    >>> round(percentile_contingency(17000.0, 18068.27), 4)
    0.0628
    """
    require("base", base, above=0)
    require("quantile", quantile, at_least=0)
    return quantile / base - 1
