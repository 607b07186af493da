"""Drums: how many a job opens, what the stock gives, what stays."""

from __future__ import annotations

from .inputs import ceiling, require


def _require_drum(drum_volume: float, residue_volume: float) -> None:
    require("drum_volume", drum_volume, above=0)
    require("residue_volume", residue_volume, at_least=0, below=drum_volume)


def drums_opened(
    volume: float,
    part_drum_volume: float,
    drum_volume: float,
    residue_volume: float,
    ceiling_guard: float,
) -> int:
    """Full drums that a volume opens after the opened ones are used up.

        n = max(0, ceil((V - V_part) / (V_drum - V_residue) - guard))

    Parameters
    ----------
    volume : float
        Volume needed, 0 or more. [m³]
    part_drum_volume : float
        Usable volume in drums opened before, 0 or more. [m³]
    drum_volume : float
        Filled volume of a drum, above 0. [m³]
    residue_volume : float
        What stays in an emptied drum, 0 or more, less than the drum. [m³]
    ceiling_guard : float
        Smallest excess that opens one more drum, as a share of a drum. [1]

    Returns
    -------
    int
        Number of drums. [1]

    Source
    ------
    Volume balance.

    Example
    -------
    >>> drums_opened(0.500, 0.0, 0.205, 0.005, 1e-9)
    3
    """
    require("volume", volume, at_least=0)
    require("part_drum_volume", part_drum_volume, at_least=0)
    _require_drum(drum_volume, residue_volume)
    require("ceiling_guard", ceiling_guard, at_least=0, below=1)
    usable = drum_volume - residue_volume
    return max(0, ceiling((volume - part_drum_volume) / usable, ceiling_guard))
