"""How sure the litres of a job are, with uncertainty about area, film and loss."""

from __future__ import annotations

import math
from statistics import NormalDist

from .inputs import require
from .quadrature import gauss_points
from .roots import root

# No loss above this share is worked out; our choice.
MOST_LOSS = 0.9


normal_probability = NormalDist().cdf

# Beyond so many standard deviations of the loss nothing is counted.
REACH = 6.0


def _weights(loss_share: float, loss_deviation: float) -> list[tuple[float, float]]:
    """Losses and their shares: a normal law, cut at 0 and 0.9."""
    if loss_deviation == 0:
        return [(loss_share, 1.0)]
    low = max(0.0, loss_share - REACH * loss_deviation)
    high = min(MOST_LOSS, loss_share + REACH * loss_deviation)
    middle, half = (low + high) / 2, (high - low) / 2
    found = []
    for place, weight in gauss_points():
        loss = middle + half * place
        z = (loss - loss_share) / loss_deviation
        found.append((loss, weight * math.exp(-z * z / 2)))
    total = math.fsum(weight for _, weight in found)
    return [(loss, weight / total) for loss, weight in found]


def _spread(area_deviation: float, film_deviation: float) -> float:
    """Standard deviation of the logarithm of area times film."""
    return math.sqrt(math.log1p(area_deviation**2) + math.log1p(film_deviation**2))


def _guard(
    film_volume: float,
    fixed_volume: float,
    loss_share: float,
    area_deviation: float,
    film_deviation: float,
    loss_deviation: float,
) -> None:
    require("film_volume", film_volume, at_least=0)
    require("fixed_volume", fixed_volume, at_least=0)
    require("loss_share", loss_share, at_least=0, at_most=MOST_LOSS)
    require("area_deviation", area_deviation, at_least=0, at_most=1)
    require("film_deviation", film_deviation, at_least=0.001, at_most=1)
    require("loss_deviation", loss_deviation, at_least=0, at_most=0.5)


def volume_suffices(
    volume: float,
    film_volume: float,
    fixed_volume: float,
    loss_share: float,
    area_deviation: float,
    film_deviation: float,
    loss_deviation: float,
) -> float:
    """Probability that a volume of mixed lining is enough for a job.

        P = ∫ φ(L) Φ((ln((V - V_fix)(1 - L)/V_film) + s²/2) / s) dL,
        s² = ln(1 + c_A²) + ln(1 + c_F²)

    Parameters
    ----------
    volume : float
        Mixed volume at hand, 0 or more. [m³]
    film_volume : float
        Expected in film and profile, above 0. [m³]
    fixed_volume : float
        Needed whatever the area, 0 or more. [m³]
    loss_share : float
        Expected loss as a share of the volume supplied, 0 to 0.9. [1]
    area_deviation : float
        Standard deviation of the area over the area, 0 to 1. [1]
    film_deviation : float
        Standard deviation of the mean film over the film, 0.001 to 1. [1]
    loss_deviation : float
        Standard deviation of the loss, 0 to 0.5. [1]

    Returns
    -------
    float
        Probability. [1]

    Valid for
    ---------
    Area and film with logarithmic normal laws around their mean, loss with a normal law cut
    at 0 and 0.9, none knowing of the others (our choice).

    Source
    ------
    Logarithmic normal law, integrated over the loss by a Gauss-Legendre rule.

    Example
    -------
    >>> round(volume_suffices(1.4, 1.0, 0.0, 0.25, 0.03, 0.08, 0.05), 3)
    0.681
    """
    require("volume", volume, at_least=0)
    uncertainties = (area_deviation, film_deviation, loss_deviation)
    _guard(film_volume, fixed_volume, loss_share, *uncertainties)
    left = volume - fixed_volume
    if film_volume == 0:
        # Nothing of it is in doubt.
        return float(left >= 0)
    if left <= 0:
        return 0.0
    s = _spread(area_deviation, film_deviation)
    total = 0.0
    for loss, weight in _weights(loss_share, loss_deviation):
        z = math.log(left * (1 - loss) / film_volume) / s + s / 2
        total += weight * normal_probability(z)
    return min(1.0, total)


def volume_for_probability(
    probability: float,
    film_volume: float,
    fixed_volume: float,
    loss_share: float,
    area_deviation: float,
    film_deviation: float,
    loss_deviation: float,
) -> float:
    """Volume of mixed lining that is enough for a job with a probability.

        P(V) = p, solved for V

    Parameters
    ----------
    probability : float
        0.001 to 0.999. [1]
    film_volume : float
        Expected in film and profile, above 0. [m³]
    fixed_volume : float
        Needed whatever the area, 0 or more. [m³]
    loss_share : float
        Expected loss as a share of the volume supplied, 0 to 0.9. [1]
    area_deviation : float
        Standard deviation of the area over the area, 0 to 1. [1]
    film_deviation : float
        Standard deviation of the mean film over the film, 0.001 to 1. [1]
    loss_deviation : float
        Standard deviation of the loss, 0 to 0.5. [1]

    Returns
    -------
    float
        Volume. [m³]

    Valid for
    ---------
    As `volume_suffices`.

    Source
    ------
    `volume_suffices`, solved by bisection and secants.

    Example
    -------
    >>> round(volume_for_probability(0.8, 1.0, 0.0, 0.25, 0.03, 0.08, 0.05), 3)
    1.458
    """
    require("probability", probability, at_least=0.001, at_most=0.999)
    uncertainties = (area_deviation, film_deviation, loss_deviation)
    _guard(film_volume, fixed_volume, loss_share, *uncertainties)
    if film_volume == 0:
        return fixed_volume
    reach = math.exp(8 * _spread(area_deviation, film_deviation))

    def missing(volume: float) -> float:
        found = volume_suffices(volume, film_volume, fixed_volume, loss_share, *uncertainties)
        return found - probability

    high = fixed_volume + film_volume * reach / (1 - MOST_LOSS)
    return root(missing, fixed_volume + film_volume / reach, high)


def left_over_expected(
    volume: float,
    film_volume: float,
    fixed_volume: float,
    loss_share: float,
    area_deviation: float,
    film_deviation: float,
    loss_deviation: float,
) -> float:
    """Mixed lining that is left on average when a volume was opened; 0 where it was too little.

        E = ∫ φ(L) (k Φ(d) - m Φ(d - s)) dL,   k = V - V_fix,   m = V_film/(1 - L),
        d = (ln(k/m) + s²/2)/s

    Parameters
    ----------
    volume : float
        Mixed volume opened, 0 or more. [m³]
    film_volume : float
        Expected in film and profile, above 0. [m³]
    fixed_volume : float
        Needed whatever the area, 0 or more. [m³]
    loss_share : float
        Expected loss as a share of the volume supplied, 0 to 0.9. [1]
    area_deviation : float
        Standard deviation of the area over the area, 0 to 1. [1]
    film_deviation : float
        Standard deviation of the mean film over the film, 0.001 to 1. [1]
    loss_deviation : float
        Standard deviation of the loss, 0 to 0.5. [1]

    Returns
    -------
    float
        Volume. [m³]

    Valid for
    ---------
    As `volume_suffices`.

    Source
    ------
    Partial mean of the logarithmic normal law, integrated over the loss.

    Example
    -------
    >>> round(left_over_expected(1.6, 1.0, 0.0, 0.25, 0.03, 0.08, 0.05), 3)
    0.264
    """
    require("volume", volume, at_least=0)
    uncertainties = (area_deviation, film_deviation, loss_deviation)
    _guard(film_volume, fixed_volume, loss_share, *uncertainties)
    left = volume - fixed_volume
    if left <= 0 or film_volume == 0:
        return max(0.0, left)
    s = _spread(area_deviation, film_deviation)
    total = 0.0
    for loss, weight in _weights(loss_share, loss_deviation):
        mean = film_volume / (1 - loss)
        d = math.log(left / mean) / s + s / 2
        part = left * normal_probability(d) - mean * normal_probability(d - s)
        total += weight * max(0.0, part)
    return total


def mix_of_sets(
    sets: float,
    iso_drum: float,
    iso_residue: float,
    iso_part_drums: float,
    iso_ratio: float,
    resin_drum: float,
    resin_residue: float,
    resin_part_drums: float,
    resin_ratio: float,
) -> float:
    """Mixed lining that so many drums of each side give, with what is open already.

        V = (r_iso + r_resin) min((n (D - H) + B)/r)

    Parameters
    ----------
    sets : float
        Drums of each side, 0 or more. [1]
    iso_drum : float
        Filled volume of a drum, above its residue. [m³]
    iso_residue : float
        What stays in it, 0 or more. [m³]
    iso_part_drums : float
        Usable volume in drums that are open, 0 or more. [m³]
    iso_ratio : float
        Parts by volume, above 0. [1]
    resin_drum : float
        Filled volume of a drum, above its residue. [m³]
    resin_residue : float
        What stays in it, 0 or more. [m³]
    resin_part_drums : float
        Usable volume in drums that are open, 0 or more. [m³]
    resin_ratio : float
        Parts by volume, above 0. [1]

    Returns
    -------
    float
        Mixed volume. [m³]

    Source
    ------
    Volume balance; the side that ends first decides.

    Example
    -------
    >>> round(mix_of_sets(2, 0.205, 0.005, 0.0, 1.0, 0.205, 0.005, 0.0, 1.0), 12)
    0.8
    """
    require("sets", sets, at_least=0)
    found = []
    for side, drum, residue, part, ratio in (
        ("iso", iso_drum, iso_residue, iso_part_drums, iso_ratio),
        ("resin", resin_drum, resin_residue, resin_part_drums, resin_ratio),
    ):
        require(f"{side}_residue", residue, at_least=0)
        require(f"{side}_drum", drum, above=residue)
        require(f"{side}_part_drums", part, at_least=0)
        require(f"{side}_ratio", ratio, above=0)
        found.append((sets * (drum - residue) + part) / ratio)
    return (iso_ratio + resin_ratio) * min(found)
