"""Uncertainty of what is computed from uncertain numbers."""

from __future__ import annotations

import math
from collections.abc import Sequence

from .inputs import require, require_series


def effective_degrees_of_freedom(
    uncertainties: Sequence[float], degrees_of_freedom: Sequence[float]
) -> float:
    """Degrees of freedom of a combined uncertainty.

        ν = u⁴ / Σ (u_i⁴/ν_i),   u² = Σ u_i²

    Parameters
    ----------
    uncertainties : sequence of float
        Contribution of each input to the result, at least 1, each 0 or more, not all 0.
        [as the result]
    degrees_of_freedom : sequence of float
        Of each, as many, each above 0. [1]

    Returns
    -------
    float
        Degrees of freedom. [1]

    Valid for
    ---------
    Inputs that err independently.

    Source
    ------
    JCGM 100:2008, equation G.2b (Welch and Satterthwaite).

    Example
    -------
    >>> round(effective_degrees_of_freedom([25.0, 9.7, 2.9, 16.6], [18, 25.6, 50, 2]), 2)
    16.76
    """
    count = len(uncertainties)
    require_series("uncertainties", uncertainties, 1)
    require("number of degrees_of_freedom", len(degrees_of_freedom), at_least=count, at_most=count)
    for value in uncertainties:
        require("uncertainties", value, at_least=0)
    for value in degrees_of_freedom:
        require("degrees_of_freedom", value, above=0)
    largest = max(uncertainties)
    require("uncertainties", largest, above=0)
    shares = [u / largest for u in uncertainties]
    fourth = math.fsum(share**4 / freedom for share, freedom in zip(shares, degrees_of_freedom))
    return math.fsum(share**2 for share in shares) ** 2 / fourth
