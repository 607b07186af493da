"""Film accepted or not by its readings, and the film to aim at for a spread."""

from __future__ import annotations

import math
from collections.abc import Callable, Sequence
from statistics import NormalDist

from .inputs import InputError, require, require_one_of, require_series
from .roots import root

SMALLEST_SHARE = 0.8
MOST_READINGS = 10_000
# What a gauge reads too much on a blasted profile, by grade of the comparator. [m]
PROFILE_CORRECTIONS = {"fine": 10e-6, "medium": 25e-6, "coarse": 40e-6}
PROFILE_GRADES = tuple(PROFILE_CORRECTIONS)


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
        Readings. [1]

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


MOST_READINGS = 10_000


def readings_judged(area: float) -> float:
    """Film readings of a job taken as one inspection area, as many as can be worked with.

        min(10 000, reading_count(A))

    Parameters
    ----------
    area : float
        Above 0. [m²]

    Returns
    -------
    float
        Readings. [1]

    Source
    ------
    `reading_count`; more readings change an aim by nothing that a gauge shows.

    Example
    -------
    >>> readings_judged(250.0), readings_judged(900000.0)
    (50.0, 10000.0)
    """
    return float(min(MOST_READINGS, reading_count(area)))


FILM_BASES = ("nominal", "minimum")


def allowed_low_by_basis(count: float, film_basis: str) -> int:
    """How many readings may lie below a film that is asked for as nominal or as minimum.

        fewer than a fifth of all, or none

    Parameters
    ----------
    count : float
        Readings, at least 1. [1]
    film_basis : str
        "nominal" or "minimum".

    Returns
    -------
    int
        Readings. [1]

    Source
    ------
    `allowed_low_readings`; a minimum is meant everywhere.

    Example
    -------
    >>> allowed_low_by_basis(20, "nominal"), allowed_low_by_basis(20, "minimum")
    (3, 0)
    """
    require_one_of("film_basis", film_basis, FILM_BASES)
    allowed = allowed_low_readings(count)
    return allowed if film_basis == FILM_BASES[0] else 0


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
    require_series("readings", readings, 1)
    for reading in readings:
        require("readings", reading, at_least=0)
    require("nominal_film", nominal_film, above=0)
    if maximum_film is not None:
        require("maximum_film", maximum_film, at_least=nominal_film)
    # A reading that is nominal up to float noise is nominal.
    nominal = nominal_film * (1 - 1e-12)
    low = sum(reading < nominal for reading in readings)
    return (
        math.fsum(readings) / len(readings) >= nominal
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
        Readings, 1 to 10 000. [1]
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
    _require_readings(mean_factor, spread, count, allowed_low)
    readings = NormalDist(mean_factor, spread * mean_factor)
    below, far_below = readings.cdf(1.0), readings.cdf(SMALLEST_SHARE)
    return _few_are_low(below - far_below, 1 - below, count, allowed_low)


def _require_readings(mean_factor: float, spread: float, count: float, allowed_low: float) -> None:
    require("mean_factor", mean_factor, above=0)
    require("spread", spread, above=0, at_most=1)
    require("count", count, at_least=1, at_most=MOST_READINGS)
    require("allowed_low", allowed_low, at_least=0, at_most=count)
    # There is no half of a reading.
    for name, number in (("count", count), ("allowed_low", allowed_low)):
        if number != int(number):
            raise InputError(name, number, "a whole number")


def _few_are_low(low: float, good: float, count: float, allowed_low: float) -> float:
    if good <= 0:
        return 0.0
    n = round(count)
    term = total = good**n
    if term < 1e-290:
        # So many readings that the terms underflow: sum them by their logarithms.
        logs = [
            math.lgamma(n + 1)
            - math.lgamma(j + 1)
            - math.lgamma(n - j + 1)
            + (j * math.log(low) if j else 0.0)
            + (n - j) * math.log(good)
            for j in range(round(allowed_low) + 1 if low > 0 else 1)
        ]
        return min(1.0, math.fsum(math.exp(log) for log in logs))
    for j in range(round(allowed_low)):
        term *= (n - j) / (j + 1) * low / good
        total += term
    return min(1.0, total)


def _aim(passes: Callable[[float], float], probability: float) -> float:
    """Mean factor at which a probability that rises with it reaches another."""
    low, high = 0.5, 1.0
    while passes(low) >= probability:
        low /= 2
    while passes(high) < probability:
        if high > 1e3:
            raise InputError("probability", probability, "one that such a spread can reach")
        low, high = high, 2 * high
    return root(lambda factor: passes(factor) - probability, low, high)


def aim_film_factor(spread: float, count: float, allowed_low: float, probability: float) -> float:
    """Mean film to aim at, over the nominal one, so that the readings pass.

        P(mean factor) = p, solved

    Parameters
    ----------
    spread : float
        Coefficient of variation of the readings, above 0, at most 0.3. [1]
    count : float
        Readings, 1 to 10 000. [1]
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
    `acceptance_probability`, solved.

    Example
    -------
    >>> round(aim_film_factor(0.1, 10, 1, 0.95), 4)
    1.2195
    """
    require("spread", spread, above=0, at_most=0.3)
    require("probability", probability, above=0, below=1)
    return _aim(
        lambda factor: acceptance_probability(factor, spread, count, allowed_low), probability
    )


def film_keeps_nine_tenths(readings: Sequence[float], nominal_film: float) -> bool:
    """Whether nine readings of ten reach a nominal film and none lies far below it.

        at least 90 % of x >= N, every x >= 0.9 N

    Parameters
    ----------
    readings : sequence of float
        At least 1, each 0 or more. [m]
    nominal_film : float
        Above 0. [m]

    Returns
    -------
    bool
        True where both rules hold.

    Valid for
    ---------
    Ballast tanks and specifications that take this rule over.

    Source
    ------
    IMO resolution MSC.215(82), 2.7.

    Example
    -------
    >>> film_keeps_nine_tenths([330e-6] * 9 + [290e-6], 320e-6)
    True
    """
    require_series("readings", readings, 1)
    for reading in readings:
        require("readings", reading, at_least=0)
    require("nominal_film", nominal_film, above=0)
    nominal = nominal_film * (1 - 1e-12)
    reached = sum(reading >= nominal for reading in readings)
    return reached >= 0.9 * len(readings) - 1e-9 and min(readings) >= 0.9 * nominal


def profile_correction(grade: str) -> float:
    """What to take off a reading on a blasted profile, where the gauge was set on smooth steel.

        10, 25 or 40 µm

    Parameters
    ----------
    grade : str
        "fine", "medium" or "coarse", by the surface comparator.

    Returns
    -------
    float
        Correction. [m]

    Valid for
    ---------
    Where the profile itself was not measured.

    Source
    ------
    ISO 19840:2012, Table 1 (from memory, not verified).

    Example
    -------
    >>> profile_correction("medium") * 1e6
    25.0
    """
    require_one_of("grade", grade, PROFILE_GRADES)
    return PROFILE_CORRECTIONS[grade]
