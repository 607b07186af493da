"""Isocyanate in the air: the same amount as parts of the air, as MDI and as NCO groups."""

from __future__ import annotations

from .inputs import require
from .isocyanate import NCO_MOLAR_MASS

GAS_CONSTANT = 8.314462618
ATMOSPHERE = 101325.0
MDI_MOLAR_MASS = 0.25025


def vapour_concentration(
    volume_fraction: float, molar_mass: float, air_temperature: float
) -> float:
    """Mass of a vapour in a volume of air, from its share of the volume.

        c = x M p / (R T),   p = 101 325 Pa

    Parameters
    ----------
    volume_fraction : float
        0 to 1; 1 ppm is 1e-6. [1]
    molar_mass : float
        Above 0. [kg/mol]
    air_temperature : float
        200 to 500; limits are printed for 298.15. [K]

    Returns
    -------
    float
        Concentration. [kg/m³]

    Valid for
    ---------
    Vapour. Spray mist is no vapour: it needs sampling, and the safety data sheet decides.

    Source
    ------
    Ideal-gas law.

    Example
    -------
    0.02 ppm of MDI at 25 °C, in mg/m³:

    >>> round(vapour_concentration(0.02e-6, 0.25025, 298.15) * 1e6, 4)
    0.2046
    """
    require("volume_fraction", volume_fraction, at_least=0, at_most=1)
    require("molar_mass", molar_mass, above=0)
    require("air_temperature", air_temperature, at_least=200, at_most=500)
    return volume_fraction * molar_mass * ATMOSPHERE / (GAS_CONSTANT * air_temperature)


def mdi_concentration(nco_concentration: float) -> float:
    """A concentration counted as NCO groups, counted as MDI.

        c_MDI = c_NCO M_MDI / (2 M_NCO)

    Parameters
    ----------
    nco_concentration : float
        Mass of NCO groups in a volume of air, 0 or more. [kg/m³]

    Returns
    -------
    float
        Mass of MDI with as many groups. [kg/m³]

    Valid for
    ---------
    MDI alone; prepolymers and oligomers carry NCO groups too.

    Source
    ------
    Molar masses: 250.25 g/mol with two groups of 42.017 g/mol.

    Example
    -------
    0.02 mg NCO/m³ is about three times as much counted as MDI:

    >>> round(mdi_concentration(0.02e-6) * 1e6, 4)
    0.0596
    """
    require("nco_concentration", nco_concentration, at_least=0)
    return nco_concentration * MDI_MOLAR_MASS / (2 * NCO_MOLAR_MASS)


def nco_concentration(mdi_concentration: float) -> float:
    """A concentration counted as MDI, counted as NCO groups.

        c_NCO = c_MDI 2 M_NCO / M_MDI

    Parameters
    ----------
    mdi_concentration : float
        Mass of MDI in a volume of air, 0 or more. [kg/m³]

    Returns
    -------
    float
        Mass of its NCO groups. [kg/m³]

    Valid for
    ---------
    MDI alone.

    Source
    ------
    Molar masses: 250.25 g/mol with two groups of 42.017 g/mol.

    Example
    -------
    >>> round(nco_concentration(0.2e-6) * 1e6, 4)
    0.0672
    """
    require("mdi_concentration", mdi_concentration, at_least=0)
    return mdi_concentration * 2 * NCO_MOLAR_MASS / MDI_MOLAR_MASS
