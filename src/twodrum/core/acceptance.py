"""Film accepted or not: how many readings, which limits, and the film to aim at for a spread."""

from __future__ import annotations

import math
from collections.abc import Sequence
from statistics import NormalDist

from .inputs import require, require_one_of

SQUARE_FOOT = 0.09290304
LEVELS = ("1", "2", "3", "4", "5")
# Share of the specified range that a spot may have, by level; None: no limit.
LEVEL_LOW = {"1": 1.0, "2": 1.0, "3": 0.8, "4": 0.8, "5": 0.8}
LEVEL_HIGH = {"1": 1.0, "2": 1.2, "3": 1.2, "4": 1.5, "5": None}
SMALLEST_SHARE = 0.8


def reading_count(area: float) -> float:
    """Fewest film readings of an inspection area.

        to 1 m² 5, to 3 m² 10, to 10 m² 15, to 30 m² 20, to 100 m² 30, then 10 for each 100 m²

    Parameters
    ----------
    area : float
        Above 0. [m²]

    Returns
    -------
    float
        Readings. [1]

    Valid for
    ---------
    Check the edition of the standard that the specification names.

    Source
    ------
    ISO 19840:2012 as compared in print (5 readings below 1 m² from memory).

    Example
    -------
    >>> reading_count(500.0)
    70.0
    """
    require("area", area, above=0)
    for largest, count in ((1, 5), (3, 10), (10, 15), (30, 20), (100, 30)):
        if area <= largest * (1 + 1e-12):
            return float(count)
    return 30.0 + 10.0 * math.ceil((area - 100) / 100 - 1e-9)


def spot_area_count(area: float) -> float:
    """How many areas of about 10 m² are measured, five spots of three readings in each.

        to 300 ft² every 100 ft², to 1000 ft² three, then one more for each 1000 ft² or part

    Parameters
    ----------
    area : float
        Above 0. [m²]

    Returns
    -------
    float
        Areas. [1]

    Source
    ------
    SSPC-PA 2 (2004 to 2015, excerpts).

    Example
    -------
    >>> spot_area_count(12500 * 0.09290304)
    15.0
    """
    require("area", area, above=0)
    feet = area / SQUARE_FOOT
    if feet <= 300 * (1 + 1e-12):
        return float(math.ceil(feet / 100 - 1e-9))
    if feet <= 1000 * (1 + 1e-12):
        return 3.0
    return 3.0 + math.ceil((feet - 1000) / 1000 - 1e-9)


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


def allowed_low_readings(count: float, strict: bool = True) -> int:
    """How many readings may lie between 80 % and 100 % of the nominal film.

        fewer than a fifth of all (strict), or at most a fifth

    Parameters
    ----------
    count : float
        Readings, at least 1. [1]
    strict : bool
        The standard is read both ways; strict where nothing is said.

    Returns
    -------
    int
        Readings.

    Source
    ------
    ISO 19840:2012 as explained by an advisory body; some read "at most 20 %".

    Example
    -------
    >>> allowed_low_readings(20), allowed_low_readings(20, strict=False)
    (3, 4)
    """
    require("count", count, at_least=1)
    fifth = count / 5
    return math.ceil(fifth - 1e-9) - 1 if strict else math.floor(fifth + 1e-9)


def film_is_accepted(
    readings: Sequence[float],
    nominal_film: float,
    maximum_film: float | None = None,
    strict: bool = True,
) -> bool:
    """Whether readings of one area keep the four rules of a nominal film.

        mean >= N, every x >= 0.8 N, few x < N, every x <= maximum

    Parameters
    ----------
    readings : sequence of float
        At least 1, each 0 or more. [m]
    nominal_film : float
        Above 0. [m]
    maximum_film : float, optional
        At least the nominal one. [m]
    strict : bool
        Fewer than a fifth may lie below nominal; else at most a fifth.

    Returns
    -------
    bool
        True where all rules hold.

    Source
    ------
    ISO 19840:2012 as explained by an advisory body.

    Example
    -------
    >>> film_is_accepted([0.0019] + [0.0022] * 9, 0.002)
    True
    """
    require("number of readings", len(readings), at_least=1)
    for reading in readings:
        require("reading", reading, at_least=0)
    require("nominal_film", nominal_film, above=0)
    if maximum_film is not None:
        require("maximum_film", maximum_film, at_least=nominal_film)
    # A reading that is nominal up to float noise is nominal.
    nominal = nominal_film * (1 - 1e-12)
    low = sum(reading < nominal for reading in readings)
    return (
        sum(readings) / len(readings) >= nominal
        and min(readings) >= SMALLEST_SHARE * nominal
        and low <= allowed_low_readings(len(readings), strict)
        and (maximum_film is None or max(readings) <= maximum_film * (1 + 1e-12))
    )


def acceptance_probability(
    mean_factor: float, spread: float, count: float, allowed_low: float
) -> float:
    """Probability that readings about a mean keep the rules on single readings.

        P = Σ_(j<=k) C(n, j) p_1^j p_2^(n-j),   p_1 between 0.8 N and N, p_2 above N

    Parameters
    ----------
    mean_factor : float
        Mean film over the nominal one, above 0. [1]
    spread : float
        Coefficient of variation of the readings, above 0, at most 1. [1]
    count : float
        Readings, at least 1. [1]
    allowed_low : float
        Readings that may lie between 80 % and 100 %, 0 or more. [1]

    Returns
    -------
    float
        Probability. [1]

    Valid for
    ---------
    Readings that scatter normally and independently; above 15 % of spread the tail decides.

    Source
    ------
    Binomial law on normal readings; criteria of ISO 19840:2012.

    Example
    -------
    >>> round(acceptance_probability(1.05, 0.05, 10, 1), 6)
    0.471401
    """
    require("mean_factor", mean_factor, above=0)
    require("spread", spread, above=0, at_most=1)
    require("count", count, at_least=1)
    require("allowed_low", allowed_low, at_least=0, at_most=count)
    readings = NormalDist(mean_factor, spread * mean_factor)
    below, far_below = readings.cdf(1.0), readings.cdf(SMALLEST_SHARE)
    low, good = below - far_below, 1 - below
    n = round(count)
    return sum(math.comb(n, j) * low**j * good ** (n - j) for j in range(round(allowed_low) + 1))


def aim_film_factor(spread: float, count: float, allowed_low: float, probability: float) -> float:
    """Mean film to aim at, over the nominal one, so that the readings pass.

        P(mean factor) = p, solved

    Parameters
    ----------
    spread : float
        Coefficient of variation of the readings, above 0, at most 0.3. [1]
    count : float
        Readings, at least 1. [1]
    allowed_low : float
        Readings that may lie between 80 % and 100 %, 0 or more. [1]
    probability : float
        0 < p < 1; 0.95 is usual. [1]

    Returns
    -------
    float
        Mean over nominal film. [1]

    Valid for
    ---------
    A spread that is known. Above about 15 % cut the spread: do not order thickness.

    Source
    ------
    `acceptance_probability`, solved by halving.

    Example
    -------
    >>> round(aim_film_factor(0.1, 10, 1, 0.95), 4)
    1.2195
    """
    require("spread", spread, above=0, at_most=0.3)
    require("probability", probability, above=0, below=1)
    low, high = 0.5, 1.0
    while acceptance_probability(high, spread, count, allowed_low) < probability:
        require("mean_factor", high, at_most=1e3)
        low, high = high, 2 * high
    for _ in range(100):
        middle = (low + high) / 2
        if acceptance_probability(middle, spread, count, allowed_low) < probability:
            low = middle
        else:
            high = middle
    return high


def mean_film_factor(spread: float, count: float, probability: float) -> float:
    """Mean film to aim at, over the nominal one, so that the mean of the readings passes.

        1 / (1 - z c/sqrt(n))

    Parameters
    ----------
    spread : float
        Coefficient of variation of the readings, 0 to 0.5. [1]
    count : float
        Readings, at least 1. [1]
    probability : float
        0 < p < 1. [1]

    Returns
    -------
    float
        Mean over nominal film. [1]

    Source
    ------
    Normal law of a mean.

    Example
    -------
    >>> round(mean_film_factor(0.1, 10, 0.95), 6)
    1.054869
    """
    require("spread", spread, at_least=0, at_most=0.5)
    require("count", count, at_least=1)
    require("probability", probability, above=0, below=1)
    share = NormalDist().inv_cdf(probability) * spread / math.sqrt(count)
    require("spread", share, below=1)
    return 1 / (1 - share)
