"""Isocyanate and what it reacts with: equivalent weights, index, ratio."""

from __future__ import annotations

import math
from collections.abc import Sequence

from .inputs import require, require_series

NCO_MOLAR_MASS = 0.042017


def isocyanate_equivalent_weight(nco_share: float) -> float:
    """Mass of an isocyanate that carries one mole of NCO groups.

        EW = 42.017 g/mol / NCO

    Parameters
    ----------
    nco_share : float
        NCO content by mass, 0 < NCO <= 0.6. [1]

    Returns
    -------
    float
        Equivalent weight. [kg/mol]

    Source
    ------
    Definition; molar mass of NCO from atomic weights.

    Example
    -------
    >>> round(isocyanate_equivalent_weight(0.155) * 1000, 3)
    271.077
    """
    require("nco_share", nco_share, above=0, at_most=0.6)
    return NCO_MOLAR_MASS / nco_share


def nco_content(molar_mass: float, groups: float) -> float:
    """NCO content of an isocyanate of known molar mass.

        NCO = f 42.017 g/mol / M

    Parameters
    ----------
    molar_mass : float
        Above 0. [kg/mol]
    groups : float
        NCO groups of a molecule, above 0. [1]

    Returns
    -------
    float
        NCO content by mass. [1]

    Source
    ------
    Definition.

    Example
    -------
    >>> round(nco_content(0.25025, 2.0) * 100, 2)
    33.58
    """
    require("groups", groups, above=0)
    # Nothing holds more than six tenths of its mass in NCO groups.
    require("molar_mass", molar_mass, above=0, at_least=groups * NCO_MOLAR_MASS / 0.6)
    return groups * NCO_MOLAR_MASS / molar_mass


def isocyanate_index(
    iso_part: float,
    resin_part: float,
    iso_density: float,
    resin_density: float,
    nco_share: float,
    resin_equivalent_weight: float,
) -> float:
    """NCO groups for each group that they can react with.

        I = (a ρ_iso / EW_iso) / (b ρ_resin / EW_resin)

    Parameters
    ----------
    iso_part : float
        Parts of iso by volume, above 0. [1]
    resin_part : float
        Parts of resin by volume, above 0. [1]
    iso_density : float
        At the temperature of metering, above 0. [kg/m³]
    resin_density : float
        At the temperature of metering, above 0. [kg/m³]
    nco_share : float
        NCO content of the iso by mass, 0 < NCO <= 0.6. [1]
    resin_equivalent_weight : float
        Of the resin blend, above 0; count amine groups, not their hydrogens. [kg/mol]

    Returns
    -------
    float
        Index; 1.05 is usually written 105. [1]

    Valid for
    ---------
    What the data sheet aims at decides; an index is no proof of a good mix.

    Source
    ------
    Definition.

    Example
    -------
    >>> round(isocyanate_index(1.0, 1.0, 1120.0, 1010.0, 0.155, 0.2567) * 100, 2)
    105.01
    """
    require("iso_part", iso_part, above=0)
    require("resin_part", resin_part, above=0)
    require("iso_density", iso_density, above=0)
    require("resin_density", resin_density, above=0)
    require("resin_equivalent_weight", resin_equivalent_weight, above=0)
    iso = iso_part * iso_density / isocyanate_equivalent_weight(nco_share)
    return iso / (resin_part * resin_density / resin_equivalent_weight)


def blend_equivalent_weight(
    mass_shares: Sequence[float], equivalent_weights: Sequence[float]
) -> float:
    """Equivalent weight of a blend of partners of the isocyanate.

        1/EW = Σ w_i/EW_i

    Parameters
    ----------
    mass_shares : sequence of float
        Share of each by mass, at least 1, each 0 or more, together 1. [1]
    equivalent_weights : sequence of float
        Of each, as many, each above 0; count amine groups, not their hydrogens. [kg/mol]

    Returns
    -------
    float
        Equivalent weight. [kg/mol]

    Source
    ------
    Moles of groups add.

    Example
    -------
    >>> round(blend_equivalent_weight([0.65, 0.25, 0.10], [1.0, 0.08914, 1.66667]) * 1000, 2)
    284.53
    """
    _require_blend("mass_shares", mass_shares, equivalent_weights)
    require("mass_shares", math.fsum(mass_shares), at_least=1 - 1e-9, at_most=1 + 1e-9)
    return 1 / math.fsum(share / weight for share, weight in zip(mass_shares, equivalent_weights))


def _require_blend(name: str, amounts: Sequence[float], weights: Sequence[float]) -> None:
    require_series(name, amounts, 1)
    require(
        "number of equivalent_weights", len(weights), at_least=len(amounts), at_most=len(amounts)
    )
    for amount in amounts:
        require(name, amount, at_least=0)
    for weight in weights:
        require("equivalent_weights", weight, above=0)
