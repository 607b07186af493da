"""Thinnest and thickest film under overlapping strokes of a fan of known profile."""

from __future__ import annotations

import math

from .inputs import require, require_one_of
from .overlap import FANS, POWERS, profile_area

SAMPLES = 60


def _profile(fan: str, x: float) -> float:
    """Film that one stroke leaves at a place, half of the fan's width being 1."""
    if abs(x) >= 1:
        return 0.0
    if fan == "triangular":
        return 1 - abs(x)
    return float((1 - x * x) ** POWERS[fan])


def _strokes(fan: str, spacing: float, x: float) -> float:
    """Film of all strokes at a place between two of them."""
    reach = math.ceil(2 / spacing) + 1
    return sum(_profile(fan, x + k * spacing) for k in range(-reach, reach + 1))


def _pieces(spacing: float) -> list[tuple[float, float]]:
    """Stretches between a stroke's middle and half way to the next, smooth inside each."""
    edges = {0.0, spacing / 2}
    for k in range(-math.ceil(2 / spacing) - 1, math.ceil(2 / spacing) + 2):
        for edge in (k * spacing - 1, k * spacing, k * spacing + 1):
            if 0 < edge < spacing / 2:
                edges.add(edge)
    marks = sorted(edges)
    # Marks that float noise has parted are one.
    pairs = [(marks[i - 1], marks[i]) for i in range(1, len(marks))]
    return [(a, b) for a, b in pairs if b - a > 1e-12]


def _turning(fan: str, spacing: float, low: float, high: float, sign: float) -> float:
    """Highest film of a stretch (sign 1) or lowest (-1): the best of many places, refined."""
    places = [low + (high - low) * index / SAMPLES for index in range(SAMPLES + 1)]
    best = max(range(SAMPLES + 1), key=lambda n: sign * _strokes(fan, spacing, places[n]))
    a, b = places[max(best - 1, 0)], places[min(best + 1, SAMPLES)]
    for _ in range(60):
        third = (b - a) / 3
        left, right = _strokes(fan, spacing, a + third), _strokes(fan, spacing, b - third)
        a, b = (a + third, b) if sign * left < sign * right else (a, b - third)
    ends = (places[best], (a + b) / 2)
    return sign * max(sign * _strokes(fan, spacing, x) for x in ends)


def _extremes(fan: str, overlap: float) -> tuple[float, float]:
    require_one_of("fan", fan, FANS)
    require("overlap", overlap, at_least=0, at_most=0.9)
    spacing = 2 * (1 - overlap)
    found = []
    for a, b in _pieces(spacing):
        # Just inside where a uniform fan jumps at the ends.
        inside = 1e-13 * spacing if fan == "uniform" else 0.0
        found += [_turning(fan, spacing, a + inside, b - inside, sign) for sign in (1.0, -1.0)]
    mean = profile_area(fan) / spacing
    return min(found) / mean, max(found) / mean


def thinnest_share(fan: str, overlap: float) -> float:
    """Thinnest film under many parallel strokes, as a share of the mean.

        min g / mean of g

    Parameters
    ----------
    fan : str
        As in `overlap_unevenness`.
    overlap : float
        0 to 0.9. [1]

    Returns
    -------
    float
        Share of the mean. [1]

    Valid for
    ---------
    A what-if, as in `overlap_unevenness`.

    Source
    ------
    Ends of the smooth stretches of one stroke spacing.

    Example
    -------
    >>> round(thinnest_share("parabolic", 0.25), 6)
    0.84375
    """
    return _extremes(fan, overlap)[0]


def thickest_share(fan: str, overlap: float) -> float:
    """Thickest film under many parallel strokes, as a share of the mean.

        max g / mean of g

    Parameters
    ----------
    fan : str
        As in `overlap_unevenness`.
    overlap : float
        0 to 0.9. [1]

    Returns
    -------
    float
        Share of the mean. [1]

    Valid for
    ---------
    A what-if, as in `overlap_unevenness`.

    Source
    ------
    Ends and crests of the smooth stretches of one stroke spacing.

    Example
    -------
    >>> round(thickest_share("parabolic", 0.5), 6)
    1.125
    """
    return _extremes(fan, overlap)[1]
