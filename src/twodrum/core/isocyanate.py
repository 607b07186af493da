"""Isocyanate and what it reacts with: equivalent weights, index, ratio."""

from __future__ import annotations

import math

from .inputs import require

NCO_MOLAR_MASS = 0.042017
POTASSIUM_HYDROXIDE_MOLAR_MASS = 0.0561056


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
    require("molar_mass", molar_mass, above=0)
    require("groups", groups, above=0)
    return groups * NCO_MOLAR_MASS / molar_mass


def hydroxyl_equivalent_weight(hydroxyl_value: float) -> float:
    """Mass of a polyol that carries one mole of OH groups.

        EW = 56.1056 g/mol / OHV

    Parameters
    ----------
    hydroxyl_value : float
        Potassium hydroxide for each mass of polyol, above 0. [kg/kg]

    Returns
    -------
    float
        Equivalent weight. [kg/mol]

    Source
    ------
    Definition of the hydroxyl value.

    Example
    -------
    >>> round(hydroxyl_equivalent_weight(1.81) * 1000, 2)
    31.0
    """
    require("hydroxyl_value", hydroxyl_value, above=0)
    return POTASSIUM_HYDROXIDE_MOLAR_MASS / hydroxyl_value


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


def index_at_ratio(index: float, ratio: float) -> float:
    """Index when the ratio of iso to resin is off its nominal value.

        I' = I R

    Parameters
    ----------
    index : float
        At the nominal ratio, above 0. [1]
    ratio : float
        Iso to resin as a share of the nominal ratio, above 0. [1]

    Returns
    -------
    float
        Index. [1]

    Source
    ------
    The index is proportional to the ratio.

    Example
    -------
    >>> round(index_at_ratio(1.05, 1.1111111) * 100, 4)
    116.6667
    """
    require("index", index, above=0)
    require("ratio", ratio, above=0)
    return index * ratio


def ratio_from_levels(
    iso_drop: float, iso_diameter: float, resin_drop: float, resin_diameter: float
) -> float:
    """Ratio iso to resin by volume from how far the levels of two drums fell.

        R = Δh_iso D_iso² / (Δh_resin D_resin²)

    Parameters
    ----------
    iso_drop : float
        Fall of the level, 0 or more. [m]
    iso_diameter : float
        Of the drum inside, above 0. [m]
    resin_drop : float
        Fall of the level, above 0. [m]
    resin_diameter : float
        Of the drum inside, above 0. [m]

    Returns
    -------
    float
        Ratio. [1]

    Valid for
    ---------
    Both drums at the temperature of metering. Dipping opens an iso drum to moisture.

    Source
    ------
    Volume of a cylinder.

    Example
    -------
    >>> round(ratio_from_levels(0.1, 0.573, 0.098, 0.573), 6)
    1.020408
    """
    require("iso_drop", iso_drop, at_least=0)
    require("iso_diameter", iso_diameter, above=0)
    require("resin_drop", resin_drop, above=0)
    require("resin_diameter", resin_diameter, above=0)
    return iso_drop * iso_diameter**2 / (resin_drop * resin_diameter**2)


def ratio_uncertainty_from_levels(
    iso_drop: float,
    iso_diameter: float,
    resin_drop: float,
    resin_diameter: float,
    level_uncertainty: float,
    diameter_uncertainty: float,
) -> float:
    """Standard uncertainty of a ratio that comes from four levels.

        u(R)/R = sqrt(2 u_h²/Δh_iso² + 2 u_h²/Δh_resin² + 4 u_D²/D_iso² + 4 u_D²/D_resin²)

    Parameters
    ----------
    iso_drop : float
        Fall of the level, above 0. [m]
    iso_diameter : float
        Of the drum inside, above 0. [m]
    resin_drop : float
        Fall of the level, above 0. [m]
    resin_diameter : float
        Of the drum inside, above 0. [m]
    level_uncertainty : float
        Standard uncertainty of one reading of a level, 0 or more. [m]
    diameter_uncertainty : float
        Standard uncertainty of a diameter, 0 or more. [m]

    Returns
    -------
    float
        Standard uncertainty of the ratio. [1]

    Valid for
    ---------
    Readings that err independently.

    Source
    ------
    JCGM 100, law of propagation of uncertainty.

    Example
    -------
    >>> round(ratio_uncertainty_from_levels(0.1, 0.573, 0.098, 0.573, 0.0015, 0.001), 4)
    0.0313
    """
    ratio = ratio_from_levels(iso_drop, iso_diameter, resin_drop, resin_diameter)
    require("iso_drop", iso_drop, above=0)
    require("level_uncertainty", level_uncertainty, at_least=0)
    require("diameter_uncertainty", diameter_uncertainty, at_least=0)
    levels = 2 * level_uncertainty**2 * (iso_drop**-2 + resin_drop**-2)
    diameters = 4 * diameter_uncertainty**2 * (iso_diameter**-2 + resin_diameter**-2)
    return ratio * math.sqrt(levels + diameters)


def ratio_from_weights(
    iso_mass: float, iso_density: float, resin_mass: float, resin_density: float
) -> float:
    """Ratio iso to resin by volume from what two drums lost in weight.

        R = (Δm_iso / ρ_iso) / (Δm_resin / ρ_resin)

    Parameters
    ----------
    iso_mass : float
        Lost by the iso drum, 0 or more. [kg]
    iso_density : float
        At the temperature of metering, above 0. [kg/m³]
    resin_mass : float
        Lost by the resin drum, above 0. [kg]
    resin_density : float
        At the temperature of metering, above 0. [kg/m³]

    Returns
    -------
    float
        Ratio. [1]

    Source
    ------
    Mass balance.

    Example
    -------
    >>> round(ratio_from_weights(112.0, 1120.0, 101.0, 1010.0), 6)
    1.0
    """
    require("iso_mass", iso_mass, at_least=0)
    require("iso_density", iso_density, above=0)
    require("resin_mass", resin_mass, above=0)
    require("resin_density", resin_density, above=0)
    return (iso_mass / iso_density) / (resin_mass / resin_density)
