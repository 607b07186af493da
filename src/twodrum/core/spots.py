"""Film accepted or not by the means of spots, and the film to aim at for a spread."""

from __future__ import annotations

import math
from collections.abc import Sequence
from functools import lru_cache
from statistics import NormalDist
from typing import Optional

from .inputs import InputError, require, require_one_of, require_series
from .quadrature import gauss_points
from .roots import root

SQUARE_FOOT = 0.09290304
LEVELS = ("1", "2", "3", "4", "5")
# Share of the specified range that a spot may have, by level; None: no limit.
LEVEL_LOW = {"1": 1.0, "2": 1.0, "3": 0.8, "4": 0.8, "5": 0.8}
LEVEL_HIGH = {"1": 1.0, "2": 1.2, "3": 1.2, "4": 1.5, "5": None}
SPOTS = 5
# Steps of the table of how far the lowest of five spots stands below their mean.
STEPS, FARTHEST = 6000, 12.0


def spot_mean(
    first_reading: float,
    second_reading: Optional[float] = None,
    third_reading: Optional[float] = None,
) -> float:
    """Film of a spot: the mean of the readings within it.

        Σ x / n

    Parameters
    ----------
    first_reading : float
        0 or more. [m]
    second_reading : float, optional
        0 or more. [m]
    third_reading : float, optional
        0 or more. [m]

    Returns
    -------
    float
        Film. [m]

    Valid for
    ---------
    Rules that judge spots want three readings in each; one is a reading by itself.

    Source
    ------
    SSPC-PA 2 (excerpts).

    Example
    -------
    >>> round(spot_mean(0.0020, 0.0022, 0.0024), 6)
    0.0022
    """
    require("first_reading", first_reading, at_least=0)
    readings = [first_reading]
    for name, value in (("second_reading", second_reading), ("third_reading", third_reading)):
        if value is not None:
            require(name, value, at_least=0)
            readings.append(value)
    return math.fsum(readings) / len(readings)


def spot_area_count(area: float, metric: bool = False) -> float:
    """How many areas of about 10 m² are measured, five spots of three readings in each.

        to 300 ft² every 100 ft², to 1000 ft² three, then one more for each 1000 ft² or part

    Parameters
    ----------
    area : float
        Above 0. [m²]
    metric : bool
        The metric text counts 10, 30 and 100 m² instead of 100, 300 and 1000 ft².

    Returns
    -------
    float
        Areas. [1]

    Source
    ------
    SSPC-PA 2 (2004 to 2015, excerpts; metric counts as compared in print).

    Example
    -------
    >>> spot_area_count(12500 * 0.09290304), spot_area_count(500.0, metric=True)
    (15.0, 7.0)
    """
    require("area", area, above=0)
    plots = area / (10.0 if metric else 100 * SQUARE_FOOT)
    if plots <= 3 * (1 + 1e-12):
        return float(max(1, math.ceil(plots - 1e-9)))
    if plots <= 10 * (1 + 1e-12):
        return 3.0
    return 3.0 + math.ceil((plots - 10) / 10 - 1e-9)


def lowest_spot(minimum_film: float, level: str) -> float:
    """Thinnest spot that a level of restriction lets pass.

        100 % of the minimum at levels 1 and 2, 80 % at 3, 4 and 5

    Parameters
    ----------
    minimum_film : float
        Specified, above 0. [m]
    level : str
        "1" to "5"; "3" where nothing is said.

    Returns
    -------
    float
        Film. [m]

    Source
    ------
    SSPC-PA 2 (level 3 from excerpts, the others from memory).

    Example
    -------
    >>> round(lowest_spot(8 * 25.4e-6, "3") / 25.4e-6, 9)
    6.4
    """
    require("minimum_film", minimum_film, above=0)
    require_one_of("level", level, LEVELS)
    return minimum_film * LEVEL_LOW[level]


def highest_spot(maximum_film: float, level: str) -> float:
    """Thickest spot that a level of restriction lets pass.

        100 % of the maximum at level 1, 120 % at 2 and 3, 150 % at 4

    Parameters
    ----------
    maximum_film : float
        Specified, above 0. [m]
    level : str
        "1" to "4"; level "5" has no limit.

    Returns
    -------
    float
        Film. [m]

    Source
    ------
    SSPC-PA 2 (level 3 from excerpts, the others from memory).

    Example
    -------
    >>> round(highest_spot(12 * 25.4e-6, "3") / 25.4e-6, 9)
    14.4
    """
    require("maximum_film", maximum_film, above=0)
    require_one_of("level", level, LEVELS[:4])
    factor = LEVEL_HIGH[level]
    assert factor is not None
    return maximum_film * factor


def spots_are_accepted(
    spots: Sequence[float],
    minimum_film: float,
    maximum_film: float | None = None,
    level: str = "3",
) -> bool:
    """Whether the spots of one area keep a level of restriction.

        minimum <= mean <= maximum, each spot within the level's shares of both

    Parameters
    ----------
    spots : sequence of float
        Means of at least three readings each, at least 1 spot, each 0 or more. [m]
    minimum_film : float
        Specified, above 0. [m]
    maximum_film : float, optional
        Specified, at least the minimum; left out: no upper limit. [m]
    level : str
        "1" to "5"; "3" where nothing is said. Level 5 has no upper limit at all.

    Returns
    -------
    bool
        True where the area passes. Single readings are not judged.

    Valid for
    ---------
    Check the edition that the specification names.

    Source
    ------
    SSPC-PA 2 (level 3 from excerpts, the others from memory).

    Example
    -------
    >>> spots_are_accepted([6.5, 8.2, 8.0, 9.1, 9.0], 8.0, 12.0)
    True
    """
    require_series("spots", spots, 1)
    for spot in spots:
        require("spots", spot, at_least=0)
    lowest = lowest_spot(minimum_film, level)
    if maximum_film is not None:
        require("maximum_film", maximum_film, at_least=minimum_film)
    mean = math.fsum(spots) / len(spots)
    # What stands on a limit up to float noise keeps it.
    below, above = 1 - 1e-12, 1 + 1e-12
    if mean < minimum_film * below or min(spots) < lowest * below:
        return False
    if maximum_film is None or LEVEL_HIGH[level] is None:
        return True
    highest = highest_spot(maximum_film, level)
    return mean <= maximum_film * above and max(spots) <= highest * above


@lru_cache(maxsize=1)
def _lowest_of_five() -> tuple[float, ...]:
    """Probability that none of five normal values stands farther below their mean, by distance.

    F_n(u) = n sqrt(n / (2 π (n - 1))) ∫_0^u exp(-n x² / (2 (n - 1))) F_(n-1)(n x / (n - 1)) dx,
    F_1 = 1 (A. T. McKay 1935, from memory).
    """
    step = FARTHEST / STEPS
    before = [1.0] * (STEPS + 1)
    for n in range(2, SPOTS + 1):
        factor = n * math.sqrt(n / (2 * math.pi * (n - 1)))

        def slope(index: int, n: int = n, table: Sequence[float] = before) -> float:
            x = index * step
            inner = _between(table, n * x / (n - 1))
            return math.exp(-n * x * x / (2 * (n - 1))) * inner

        slopes = [factor * slope(index) for index in range(STEPS + 1)]
        table = [0.0]
        for index in range(STEPS):
            table.append(table[-1] + step / 2 * (slopes[index] + slopes[index + 1]))
        # The trapezium rule's small surplus is taken out: all of it is certain far away.
        before = [value / table[-1] for value in table]
    return tuple(before)


def _between(table: Sequence[float], distance: float) -> float:
    place = distance / FARTHEST * STEPS
    index = math.floor(place)
    if index >= STEPS:
        return 1.0
    return table[index] + (place - index) * (table[index + 1] - table[index])


def spot_acceptance_probability(
    mean_factor: float, spread: float, area_count: float, lowest_share: float
) -> float:
    """Probability that areas of five spots keep the lower limits, both of mean and of spots.

        (∫_(mean >= N) φ(mean) P(lowest spot >= s N | mean) d mean)^areas

    Parameters
    ----------
    mean_factor : float
        Mean film over the specified minimum, above 0, at most 100. [1]
    spread : float
        Coefficient of variation of the spots, above 0, at most 0.3. [1]
    area_count : float
        Areas, at least 1. [1]
    lowest_share : float
        Share of the minimum that each spot must reach, 0 <= s <= 1; 0.8 at level 3. [1]

    Returns
    -------
    float
        Probability. [1]

    Valid for
    ---------
    Spots that scatter normally and independently; no upper limit.

    Source
    ------
    The mean of normal values is independent of how the values stand about it.

    Example
    -------
    >>> round(spot_acceptance_probability(1.0877204, 0.1, 1, 0.8), 5)
    0.95
    """
    require("mean_factor", mean_factor, above=0, at_most=100)
    require("spread", spread, above=0, at_most=0.3)
    require("area_count", area_count, at_least=1)
    require("lowest_share", lowest_share, at_least=0, at_most=1)
    deviation = spread * mean_factor
    means = NormalDist(mean_factor, deviation / math.sqrt(SPOTS))
    low = max(1.0, mean_factor - 9 * means.stdev)
    high = mean_factor + 9 * means.stdev
    if high <= low:
        return 0.0
    table = _lowest_of_five()
    half, middle = (high - low) / 2, (high + low) / 2
    total = sum(
        half * weight * means.pdf(mean) * _between(table, (mean - lowest_share) / deviation)
        for x, weight in gauss_points()
        for mean in [middle + half * x]
    )
    return float(min(1.0, total) ** area_count)


def aim_spot_factor(
    spread: float, area_count: float, lowest_share: float, probability: float
) -> float:
    """Mean film to aim at, over the specified minimum, so that all areas pass.

        P(mean factor) = p, solved

    Parameters
    ----------
    spread : float
        Coefficient of variation of the spots, above 0, at most 0.25. [1]
    area_count : float
        Areas, at least 1. [1]
    lowest_share : float
        Share of the minimum that each spot must reach, 0 <= s <= 1; 0.8 at level 3. [1]
    probability : float
        0 < p < 1; 0.95 is usual. [1]

    Returns
    -------
    float
        Mean over minimum film. [1]

    Valid for
    ---------
    A spread that is known. Above about 15 % cut the spread: do not order thickness.

    Source
    ------
    `spot_acceptance_probability`, solved.

    Example
    -------
    >>> round(aim_spot_factor(0.1, 1, 0.8, 0.95), 3)
    1.088
    """
    require("spread", spread, above=0, at_most=0.25)
    require("probability", probability, above=0, below=1)

    def short(factor: float) -> float:
        chance = spot_acceptance_probability(factor, spread, area_count, lowest_share)
        return chance - probability

    low, high = 0.5, 1.0
    while short(high) < 0:
        if high > 32:
            raise InputError("probability", probability, "one that such a spread can reach")
        low, high = high, 2 * high
    return root(short, low, high)
