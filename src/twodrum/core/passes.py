"""Spraying in passes: film of a pass, gun speed, and how even overlapping passes are."""

from __future__ import annotations

import math

from .inputs import require, require_one_of

FANS = ("triangular", "parabolic", "uniform", "elliptical", "bell")
# Power of 1 - x² in the profile of a fan.
POWERS = {"uniform": 0.0, "elliptical": 0.5, "parabolic": 1.0, "bell": 2.0}


def film_per_pass(
    pump_output: float,
    transfer_share: float,
    volume_solids: float,
    fan_width: float,
    gun_speed: float,
    overlap: float,
) -> float:
    """Mean film that one coverage in one direction builds.

        t = q η VS / (w v (1 - o))

    Parameters
    ----------
    pump_output : float
        Both sides together, 0 or more. [m³/s]
    transfer_share : float
        Share that lands on the surface, 0 < η <= 1. [1]
    volume_solids : float
        0 < VS <= 1. [1]
    fan_width : float
        Full width of the fan on the surface, above 0. [m]
    gun_speed : float
        Above 0. [m/s]
    overlap : float
        Share of the width that the next stroke covers again, 0 <= o < 1. [1]

    Returns
    -------
    float
        Dry film. [m]

    Valid for
    ---------
    A flat surface, steady speed and distance.

    Source
    ------
    Volume balance.

    Example
    -------
    >>> round(film_per_pass(4e-3 / 60, 0.9, 1.0, 0.30, 0.8, 0.5) * 1000, 6)
    0.5
    """
    require("pump_output", pump_output, at_least=0)
    require("transfer_share", transfer_share, above=0, at_most=1)
    require("volume_solids", volume_solids, above=0, at_most=1)
    require("fan_width", fan_width, above=0)
    require("gun_speed", gun_speed, above=0)
    require("overlap", overlap, at_least=0, below=1)
    landed = pump_output * transfer_share * volume_solids
    return landed / (fan_width * gun_speed * (1 - overlap))


def gun_speed(
    pump_output: float,
    transfer_share: float,
    volume_solids: float,
    fan_width: float,
    pass_build: float,
    overlap: float,
) -> float:
    """Speed of the gun that builds a wanted film in one pass.

        v = q η VS / (w t (1 - o))

    Parameters
    ----------
    pump_output : float
        Both sides together, 0 or more. [m³/s]
    transfer_share : float
        Share that lands on the surface, 0 < η <= 1. [1]
    volume_solids : float
        0 < VS <= 1. [1]
    fan_width : float
        Full width of the fan on the surface, above 0. [m]
    pass_build : float
        Dry film of one pass, above 0. [m]
    overlap : float
        Share of the width that the next stroke covers again, 0 <= o < 1. [1]

    Returns
    -------
    float
        Gun speed. [m/s]

    Valid for
    ---------
    A flat surface, steady speed and distance.

    Source
    ------
    Volume balance.

    Example
    -------
    >>> round(gun_speed(4e-3 / 60, 0.9, 1.0, 0.30, 0.0004, 0.5), 9)
    1.0
    """
    require("pass_build", pass_build, above=0)
    # The balance is symmetric in film and speed.
    return film_per_pass(pump_output, transfer_share, volume_solids, fan_width, pass_build, overlap)


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


def _gauss_points(count: int) -> list[tuple[float, float]]:
    """Places and weights of the Gauss-Legendre rule on -1 to 1."""
    points = []
    for index in range(count):
        x = math.cos(math.pi * (index + 0.75) / (count + 0.5))
        for _ in range(100):
            before, now = 1.0, x
            for n in range(2, count + 1):
                before, now = now, ((2 * n - 1) * x * now - (n - 1) * before) / n
            slope = count * (x * now - before) / (x * x - 1)
            step = now / slope
            x -= step
            if abs(step) < 1e-15:
                break
        points.append((x, 2 / ((1 - x * x) * slope * slope)))
    return points


POINTS = _gauss_points(48)
SAMPLES = 60


def overlap_unevenness(fan: str, overlap: float) -> float:
    """Spread of the film under many parallel strokes, as a share of its mean.

        CV² = mean of g² / (mean of g)² - 1,   g(x) = Σ_k f(x + k S),   S = 2 (1 - o)

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
    Integrals over one stroke spacing, by the Gauss-Legendre rule on each smooth stretch.

    Example
    -------
    >>> round(overlap_unevenness("parabolic", 0.5), 6)
    0.111803
    """
    require_one_of("fan", fan, FANS)
    require("overlap", overlap, at_least=0, at_most=0.9)
    spacing = 2 * (1 - overlap)
    first = second = length = 0.0
    for a, b in _pieces(spacing):
        half, middle = (b - a) / 2, (a + b) / 2
        for x, weight in POINTS:
            film = _strokes(fan, spacing, middle + half * x)
            first += half * weight * film
            second += half * weight * film * film
        length += b - a
    square = second * length / (first * first) - 1
    # Rounding leaves about 1e-14 where the true value is 0.
    return math.sqrt(square) if square > 1e-13 else 0.0


def crossed_unevenness(fan: str, overlap: float) -> float:
    """Spread of the film under two equal layers of strokes that cross at a right angle.

        CV / sqrt(2)

    Parameters
    ----------
    fan : str
        As in `overlap_unevenness`.
    overlap : float
        0 to 0.9. [1]

    Returns
    -------
    float
        Coefficient of variation of the film. [1]

    Valid for
    ---------
    A what-if, as in `overlap_unevenness`. The thinnest places stay as thin.

    Source
    ------
    Variances of independent layers add.

    Example
    -------
    >>> round(crossed_unevenness("parabolic", 0.5), 6)
    0.079057
    """
    return overlap_unevenness(fan, overlap) / math.sqrt(2)


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
    found, total, length = [], 0.0, 0.0
    for a, b in _pieces(spacing):
        # Just inside where a uniform fan jumps at the ends.
        inside = 1e-13 * spacing if fan == "uniform" else 0.0
        low, high = a + inside, b - inside
        found += [_turning(fan, spacing, low, high, sign) for sign in (1.0, -1.0)]
        half, middle = (b - a) / 2, (a + b) / 2
        total += sum(half * w * _strokes(fan, spacing, middle + half * x) for x, w in POINTS)
        length += b - a
    return min(found) * length / total, max(found) * length / total


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
