"""Film accepted or not by the means of spots, and the film to aim at for a spread."""

from __future__ import annotations

import math
from collections.abc import Sequence
from typing import Optional

from .inputs import require, require_one_of, require_series

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
