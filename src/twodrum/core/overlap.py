"""How even the film is under overlapping strokes of a fan of known profile."""

from __future__ import annotations

import math
from functools import lru_cache

from .inputs import require, require_one_of

FANS = ("triangular", "parabolic", "uniform", "elliptical", "bell")
# Power of 1 - x² in the profile of a fan.
POWERS = {"uniform": 0.0, "elliptical": 0.5, "parabolic": 1.0, "bell": 2.0}
STEPS = 32
GOLDEN = (math.sqrt(5) - 1) / 2


@lru_cache(maxsize=1)
def _double_exponential() -> tuple[tuple[float, float, float], ...]:
    """Weights of the tanh-sinh rule on a stretch of length 1, with the distance to both ends.

    It keeps its accuracy where a profile starts as steeply as a root.
    """
    points = []
    for k in range(-33, 34):
        t = k / 10
        s = math.pi / 2 * math.sinh(t)
        weight = math.pi / 40 * math.cosh(t) / math.cosh(s) ** 2
        points.append((weight, 1 / (1 + math.exp(-2 * s)), 1 / (1 + math.exp(2 * s))))
    return tuple(points)


def _shared(power: float, apart: float) -> float:
    """Integral of the product of two profiles (1 - x²)^p whose middles are so far apart."""
    length = 2 - apart
    total = 0.0
    for weight, from_left, from_right in _double_exponential():
        a, b = length * from_left, length * from_right
        total += weight * (a * (2 - a) * b * (2 - b)) ** power
    return length * total


def _shared_triangles(apart: float) -> float:
    if apart <= 1:
        return 2 / 3 - apart**2 + apart**3 / 2
    return max(0.0, 2 - apart) ** 3 / 6


def _area(power: float) -> float:
    """Integral of (1 - x²)^p, a beta function."""
    return math.sqrt(math.pi) * math.gamma(power + 1) / math.gamma(power + 1.5)


def _square(fan: str, power: float, overlap: float) -> float:
    """Squared spread of the film: the products of every two strokes over the squared mean."""
    spacing = 2 * (1 - overlap)
    apart = [k * spacing for k in range(1, math.ceil(2 / spacing))]
    if fan == "triangular":
        total = _shared_triangles(0.0) + 2 * math.fsum(map(_shared_triangles, apart))
        square = spacing * total - 1
    else:
        total = _area(2 * power) + 2 * math.fsum(_shared(power, distance) for distance in apart)
        square = spacing * total / _area(power) ** 2 - 1
    # Rounding leaves about 1e-14 where the true value is 0.
    return square if square > 1e-13 else 0.0


def overlap_unevenness(fan: str, overlap: float) -> float:
    """Spread of the film under many parallel strokes, as a share of its mean.

        CV² = S Σ_k ∫ f(x) f(x + k S) dx / (∫ f dx)² - 1,   S = 2 (1 - o)

    Parameters
    ----------
    fan : str
        "triangular" 1 - |x|, or (1 - x²)^p: "uniform" p = 0, "elliptical" 1/2, "parabolic" 1,
        "bell" 2.
    overlap : float
        0 to 0.9. [1]

    Returns
    -------
    float
        Coefficient of variation of the film. [1]

    Valid for
    ---------
    A what-if: a flat surface and a fan of just this profile. The data sheet's overlap holds.

    Source
    ------
    Mean and mean square of Σ_k f(x + k S) over one stroke spacing, exact for these profiles.

    Example
    -------
    >>> round(overlap_unevenness("parabolic", 0.5), 6)
    0.111803
    """
    require_one_of("fan", fan, FANS)
    require("overlap", overlap, at_least=0, at_most=0.9)
    return math.sqrt(_square(fan, POWERS.get(fan, 0.0), overlap))


def best_overlap(fan: str) -> float:
    """Overlap up to one half at which a fan leaves the most even film.

        o at which CV(o) is smallest, 0 <= o <= 0.5

    Parameters
    ----------
    fan : str
        As in `overlap_unevenness`.

    Returns
    -------
    float
        Overlap; the least of those that are equally good. [1]

    Valid for
    ---------
    A what-if, as in `overlap_unevenness`. Unevenness goes up and down with the overlap; where a
    uniform fan is best, a stroke off by a hair leaves a bare strip. The data sheet's overlap holds.

    Source
    ------
    `overlap_unevenness`: the best of 33 overlaps, refined by golden section.

    Example
    -------
    >>> round(best_overlap("parabolic"), 5), best_overlap("triangular")
    (0.30133, 0.5)
    """
    require_one_of("fan", fan, FANS)
    power = POWERS.get(fan, 0.0)
    places = [0.5 * step / STEPS for step in range(STEPS + 1)]
    squares = [_square(fan, power, place) for place in places]
    best = squares.index(min(squares))
    if best in (0, STEPS):
        return places[best]
    low, high = places[best - 1], places[best + 1]
    left, right = high - GOLDEN * (high - low), low + GOLDEN * (high - low)
    at_left, at_right = _square(fan, power, left), _square(fan, power, right)
    while high - low > 1e-9:
        if at_left <= at_right:
            high, right, at_right = right, left, at_left
            left = high - GOLDEN * (high - low)
            at_left = _square(fan, power, left)
        else:
            low, left, at_left = left, right, at_right
            right = low + GOLDEN * (high - low)
            at_right = _square(fan, power, right)
    return (low + high) / 2
