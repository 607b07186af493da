"""What was used above the quote, split step by step among its causes.

What is sprayed is a product: billed area, what is sprayed for each billed area, film asked for on
it, what really lies there, what is supplied for it. At each step both factors changed, and each
gets its change times the mean of the other: no order among causes is preferred and the parts add
up exactly. That is the Shapley value of two causes, taken group by group.
"""

from __future__ import annotations

import math
from decimal import Decimal
from typing import Optional

from .inputs import first_known, require
from .mix import ratio_total
from .rounding import worksheet_round


def area_ratio(area: float, other_area: float) -> float:
    """What is sprayed for each billed area.

        m = A / A_other

    Parameters
    ----------
    area : float
        0 or more. [m²]
    other_area : float
        Above 0. [m²]

    Returns
    -------
    float
        Ratio. [1]

    Source
    ------
    Definition.

    Example
    -------
    >>> area_ratio(312.0, 300.0)
    1.04
    """
    require("area", area, at_least=0)
    require("other_area", other_area, above=0)
    return area / other_area


def volume_ratio(volume: float, other_volume: float) -> float:
    """How many times another volume a volume is.

        r = V / V_other

    Parameters
    ----------
    volume : float
        0 or more. [m³]
    other_volume : float
        Above 0. [m³]

    Returns
    -------
    float
        Ratio. [1]

    Source
    ------
    Definition.

    Example
    -------
    >>> volume_ratio(0.6, 0.5)
    1.2
    """
    require("volume", volume, at_least=0)
    require("other_volume", other_volume, above=0)
    return volume / other_volume


def first_known_factor(
    first_factor: Optional[float] = None, second_factor: Optional[float] = None
) -> float:
    """The first of two factors where it is known, else the second.

        f_1, else f_2

    Parameters
    ----------
    first_factor : float, optional
        The one that is trusted more, 0 or more. [1]
    second_factor : float, optional
        Taken where the first is not known, 0 or more. [1]

    Returns
    -------
    float
        Factor. [1]

    Errors
    ------
    InputError where neither is known.

    Source
    ------
    Our order: what was measured before what was meant.

    Example
    -------
    >>> first_known_factor(None, 1.05)
    1.05
    """
    return first_known({"first_factor": first_factor, "second_factor": second_factor})


def surface_volume(film_volume: float, build_factor: float, profile_volume: float) -> float:
    """Volume that lies on the surface: the film as it really is, and what fills the profile.

        N = f F + P

    Parameters
    ----------
    film_volume : float
        Of the film asked for, 0 or more. [m³]
    build_factor : float
        Film there over film asked for, 0 or more. [1]
    profile_volume : float
        In the valleys of the profile, 0 or more. [m³]

    Returns
    -------
    float
        Volume. [m³]

    Source
    ------
    Volume balance.

    Example
    -------
    >>> round(surface_volume(0.5, 1.1, 0.02), 6)
    0.57
    """
    require("film_volume", film_volume, at_least=0)
    require("build_factor", build_factor, at_least=0)
    require("profile_volume", profile_volume, at_least=0)
    return film_volume * build_factor + profile_volume


def accounted_volume(
    surface_volume: float, sprayed_volume: float, lost_volume: Optional[float] = None
) -> float:
    """What can be accounted for: on the surface and lost, or all where the loss was not measured.

        S = N + V_lost where it was measured, else S = V

    Parameters
    ----------
    surface_volume : float
        On the surface, 0 or more. [m³]
    sprayed_volume : float
        Mixed and sprayed, 0 or more. [m³]
    lost_volume : float, optional
        Lost, where it was measured, 0 to what was sprayed. [m³]

    Returns
    -------
    float
        Volume. [m³]

    Source
    ------
    Volume balance.

    Example
    -------
    >>> round(accounted_volume(0.5, 0.7, 0.15), 6)
    0.65
    """
    require("surface_volume", surface_volume, at_least=0)
    require("sprayed_volume", sprayed_volume, at_least=0)
    if lost_volume is None:
        return sprayed_volume
    require("lost_volume", lost_volume, at_least=0, at_most=sprayed_volume)
    return surface_volume + lost_volume


def loss_share_found(surface_volume: float, supplied_volume: float) -> float:
    """Share of what was supplied that is not on the surface.

        L = 1 - N/S

    Parameters
    ----------
    surface_volume : float
        On the surface, 0 or more. [m³]
    supplied_volume : float
        For it, without hose fill, panels and purging, above 0. [m³]

    Returns
    -------
    float
        Share; below 0 one of the two is wrong. [1]

    Source
    ------
    Definition of a loss as a share of the supplied volume.

    Example
    -------
    >>> round(loss_share_found(0.45, 0.6), 6)
    0.25
    """
    require("surface_volume", surface_volume, at_least=0)
    require("supplied_volume", supplied_volume, above=0)
    return 1 - surface_volume / supplied_volume


def _mean(**both: float) -> float:
    for name, value in both.items():
        require(name, value, at_least=0)
    return sum(both.values()) / 2


def _part(**steps: float) -> float:
    """The change of the first two times the means that follow."""
    for name, value in steps.items():
        require(name, value, at_least=0)
    before, after, *means = steps.values()
    return math.prod(means, start=after - before)


def mean_factor(quoted_factor: float, factor: float) -> float:
    """A factor in the middle of quoted and found.

        x̄ = (x_0 + x_1)/2

    Parameters
    ----------
    quoted_factor : float
        As quoted, 0 or more. [1]
    factor : float
        As found, 0 or more. [1]

    Returns
    -------
    float
        Mean. [1]

    Source
    ------
    Definition.

    Example
    -------
    >>> mean_factor(1.0, 1.2)
    1.1
    """
    return _mean(quoted_factor=quoted_factor, factor=factor)


def mean_area(quoted_area: float, area: float) -> float:
    """An area in the middle of quoted and found.

        x̄ = (x_0 + x_1)/2

    Parameters
    ----------
    quoted_area : float
        As quoted, 0 or more. [m²]
    area : float
        As found, 0 or more. [m²]

    Returns
    -------
    float
        Mean. [m²]

    Source
    ------
    Definition.

    Example
    -------
    >>> mean_area(100.0, 110.0)
    105.0
    """
    return _mean(quoted_area=quoted_area, area=area)


def mean_volume(quoted_volume: float, volume: float) -> float:
    """A volume in the middle of quoted and found.

        x̄ = (x_0 + x_1)/2

    Parameters
    ----------
    quoted_volume : float
        As quoted, 0 or more. [m³]
    volume : float
        As found, 0 or more. [m³]

    Returns
    -------
    float
        Mean. [m³]

    Source
    ------
    Definition.

    Example
    -------
    >>> mean_volume(0.5, 0.7)
    0.6
    """
    return _mean(quoted_volume=quoted_volume, volume=volume)


def mean_volume_per_area(quoted_volume_per_area: float, volume_per_area: float) -> float:
    """A volume for each area in the middle of quoted and found.

        x̄ = (x_0 + x_1)/2

    Parameters
    ----------
    quoted_volume_per_area : float
        As quoted, 0 or more. [m³/m²]
    volume_per_area : float
        As found, 0 or more. [m³/m²]

    Returns
    -------
    float
        Mean. [m³/m²]

    Source
    ------
    Definition.

    Example
    -------
    >>> mean_volume_per_area(0.002, 0.004)
    0.003
    """
    return _mean(quoted_volume_per_area=quoted_volume_per_area, volume_per_area=volume_per_area)


def billed_area_part(
    quoted_area: float, area: float, mean_cover: float, mean_per_area: float, mean_supply: float
) -> float:
    """Volume used more because more area is billed than was quoted.

        ΔB m̄ n̄ ḡ

    Parameters
    ----------
    quoted_area : float
        Billed area as quoted, 0 or more. [m²]
    area : float
        Billed area now, 0 or more. [m²]
    mean_cover : float
        Sprayed for each billed area, mean of quoted and found, 0 or more. [1]
    mean_per_area : float
        On each sprayed area, mean of quoted and found, 0 or more. [m³/m²]
    mean_supply : float
        Supplied for each volume on the surface, mean of both, 0 or more. [1]

    Returns
    -------
    float
        Volume; below 0 where less is billed. [m³]

    Source
    ------
    L. S. Shapley 1953 for two causes (from memory), group by group.

    Example
    -------
    >>> round(billed_area_part(100, 110, 1, 0.002, 1.25), 6)
    0.025
    """
    return _part(
        quoted_area=quoted_area,
        area=area,
        mean_cover=mean_cover,
        mean_per_area=mean_per_area,
        mean_supply=mean_supply,
    )


def unbilled_area_part(
    quoted_cover: float, cover: float, mean_billed: float, mean_per_area: float, mean_supply: float
) -> float:
    """Volume used more because more is sprayed for each billed area.

        Δm B̄ n̄ ḡ

    Parameters
    ----------
    quoted_cover : float
        Sprayed for each billed area as quoted, 0 or more. [1]
    cover : float
        Sprayed for each billed area, 0 or more. [1]
    mean_billed : float
        Billed area, mean of quoted and found, 0 or more. [m²]
    mean_per_area : float
        On each sprayed area, mean of quoted and found, 0 or more. [m³/m²]
    mean_supply : float
        Supplied for each volume on the surface, mean of both, 0 or more. [1]

    Returns
    -------
    float
        Volume; below 0 where less is sprayed for each billed area. [m³]

    Source
    ------
    L. S. Shapley 1953 for two causes (from memory), group by group.

    Example
    -------
    >>> round(unbilled_area_part(1, 1.1, 100, 0.002, 1.25), 6)
    0.025
    """
    return _part(
        quoted_cover=quoted_cover,
        cover=cover,
        mean_billed=mean_billed,
        mean_per_area=mean_per_area,
        mean_supply=mean_supply,
    )


def film_asked_part(
    quoted_film: float, film: float, mean_build: float, mean_sprayed: float, mean_supply: float
) -> float:
    """Volume used more because more film is asked for on each sprayed area.

        Δa f̄ M̄ ḡ

    Parameters
    ----------
    quoted_film : float
        Film asked for on each sprayed area as quoted, 0 or more. [m³/m²]
    film : float
        Film asked for on each sprayed area now, 0 or more. [m³/m²]
    mean_build : float
        On the surface for each film asked for, mean of both, 0 or more. [1]
    mean_sprayed : float
        Sprayed area, mean of quoted and found, 0 or more. [m²]
    mean_supply : float
        Supplied for each volume on the surface, mean of both, 0 or more. [1]

    Returns
    -------
    float
        Volume; below 0 where less film is asked for. [m³]

    Source
    ------
    L. S. Shapley 1953 for two causes (from memory), group by group.

    Example
    -------
    >>> round(film_asked_part(0.002, 0.0022, 1, 100, 1.25), 6)
    0.025
    """
    return _part(
        quoted_film=quoted_film,
        film=film,
        mean_build=mean_build,
        mean_sprayed=mean_sprayed,
        mean_supply=mean_supply,
    )


def over_build_part(
    quoted_build: float, build: float, mean_film: float, mean_sprayed: float, mean_supply: float
) -> float:
    """Volume used more because more lies on the surface than was asked for.

        Δf ā M̄ ḡ

    Parameters
    ----------
    quoted_build : float
        On the surface for each film asked for, as quoted, 0 or more. [1]
    build : float
        On the surface for each film asked for, 0 or more. [1]
    mean_film : float
        Film asked for, mean of quoted and found, 0 or more. [m³/m²]
    mean_sprayed : float
        Sprayed area, mean of quoted and found, 0 or more. [m²]
    mean_supply : float
        Supplied for each volume on the surface, mean of both, 0 or more. [1]

    Returns
    -------
    float
        Volume; below 0 where the film is thinner. [m³]

    Source
    ------
    L. S. Shapley 1953 for two causes (from memory), group by group.

    Example
    -------
    >>> round(over_build_part(1, 1.1, 0.002, 100, 1.25), 6)
    0.025
    """
    return _part(
        quoted_build=quoted_build,
        build=build,
        mean_film=mean_film,
        mean_sprayed=mean_sprayed,
        mean_supply=mean_supply,
    )


def loss_part(quoted_supply: float, supply: float, mean_surface: float) -> float:
    """Volume used more because more was lost than the quote allowed.

        Δg N̄

    Parameters
    ----------
    quoted_supply : float
        Supplied for each volume on the surface as quoted, 0 or more. [1]
    supply : float
        Supplied for each volume on the surface, 0 or more. [1]
    mean_surface : float
        Volume on the surface, mean of quoted and found, 0 or more. [m³]

    Returns
    -------
    float
        Volume; below 0 where less was lost. [m³]

    Source
    ------
    L. S. Shapley 1953 for two causes (from memory).

    Example
    -------
    >>> round(loss_part(1.25, 1.5, 0.2), 6)
    0.05
    """
    return _part(quoted_supply=quoted_supply, supply=supply, mean_surface=mean_surface)


def excess_of_side(volume: float, matched_volume: float, part: float, ratio_total: float) -> float:
    """What was used of a side beyond what the other one could set with.

        max(0, V - V_matched a/(a + b))

    Parameters
    ----------
    volume : float
        Used of this side, 0 or more. [m³]
    matched_volume : float
        Mix at the ratio of the data sheet that both sides give, 0 or more. [m³]
    part : float
        Parts of this side, above 0. [1]
    ratio_total : float
        Parts of both sides, above 0. [1]

    Returns
    -------
    float
        Volume. [m³]

    Source
    ------
    Volume balance.

    Example
    -------
    >>> round(excess_of_side(0.42, 0.8, 1.0, 2.0), 6)
    0.02
    """
    require("volume", volume, at_least=0)
    require("matched_volume", matched_volume, at_least=0)
    require("part", part, above=0)
    require("ratio_total", ratio_total, above=0)
    return max(0.0, volume - matched_volume * part / ratio_total)


def mixed_price(iso_price: float, resin_price: float, iso_part: float, resin_part: float) -> float:
    """Price of the mix.

        p = (a p_a + b p_b) / (a + b)

    Parameters
    ----------
    iso_price : float
        0 or more. [money/m³]
    resin_price : float
        0 or more. [money/m³]
    iso_part : float
        Parts of iso by volume, above 0. [1]
    resin_part : float
        Parts of resin by volume, above 0. [1]

    Returns
    -------
    float
        Price. [money/m³]

    Source
    ------
    Definition.

    Example
    -------
    >>> mixed_price(8000.0, 10000.0, 1.0, 1.0)
    9000.0
    """
    require("iso_price", iso_price, at_least=0)
    require("resin_price", resin_price, at_least=0)
    total = ratio_total(iso_part, resin_part)
    return (iso_part * iso_price + resin_part * resin_price) / total


def part_amount(volume_part: float, volume_price: float, money_decimals: float) -> Decimal:
    """Money of a part of the difference.

        round(ΔV p, n)

    Parameters
    ----------
    volume_part : float
        Any finite volume, below 0 where less was used. [m³]
    volume_price : float
        Price as quoted, 0 or more. [money/m³]
    money_decimals : float
        Whole number of decimals, -9 to 9. [1]

    Returns
    -------
    Decimal
        Amount. [money]

    Source
    ------
    Definition; rounded as a worksheet rounds.

    Example
    -------
    >>> part_amount(-0.025, 9000.0, 2)
    Decimal('-225.00')
    """
    require("volume_part", volume_part)
    require("volume_price", volume_price, at_least=0)
    return worksheet_round(volume_part * volume_price, money_decimals)


def price_part_amount(
    iso_volume: float,
    resin_volume: float,
    quoted_iso_price: float,
    iso_price: float,
    quoted_resin_price: float,
    resin_price: float,
    money_decimals: float,
) -> Decimal:
    """Money spent more because prices changed, on what was really used.

        round(V_a Δp_a + V_b Δp_b, n)

    Parameters
    ----------
    iso_volume : float
        Used, 0 or more. [m³]
    resin_volume : float
        Used, 0 or more. [m³]
    quoted_iso_price : float
        0 or more. [money/m³]
    iso_price : float
        As paid, 0 or more. [money/m³]
    quoted_resin_price : float
        0 or more. [money/m³]
    resin_price : float
        As paid, 0 or more. [money/m³]
    money_decimals : float
        Whole number of decimals, -9 to 9. [1]

    Returns
    -------
    Decimal
        Amount; below 0 where prices fell. [money]

    Source
    ------
    Price variance of standard costing, with the sign of a cost.

    Example
    -------
    >>> price_part_amount(0.4, 0.4, 8000.0, 8200.0, 10000.0, 10000.0, 2)
    Decimal('80.00')
    """
    require("iso_volume", iso_volume, at_least=0)
    require("resin_volume", resin_volume, at_least=0)
    require("quoted_iso_price", quoted_iso_price, at_least=0)
    require("iso_price", iso_price, at_least=0)
    require("quoted_resin_price", quoted_resin_price, at_least=0)
    require("resin_price", resin_price, at_least=0)
    more = iso_volume * (iso_price - quoted_iso_price)
    more += resin_volume * (resin_price - quoted_resin_price)
    return worksheet_round(more, money_decimals)
