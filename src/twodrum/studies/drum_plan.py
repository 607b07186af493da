"""Where in the take-off each drum is opened."""

from __future__ import annotations

from typing import Any, NamedTuple

from ..core.mix import LINING
from ..engine.evaluate import Reader

SOURCE = (
    "Volume balance: surfaces sprayed in the order of the take-off, fixed volumes first, "
    "loss spread evenly, opened drums used up before full ones"
)
CAPACITY = 24

READS = (
    "areas.surface",
    "areas.film_volume",
    "areas.profile_volume",
    "areas.measured_area",
    "lining_volume",
    "fixed_volume",
    "ratio_total",
    "order.component",
    "order.ratio_part",
    "order.drum_volume",
    "order.residue",
    "order.part_drum_volume",
    "order.drums_opened",
)


class Opened(NamedTuple):
    """Where one drum of a component is opened."""

    plan_component: Any
    opened_at: Any
    drum_number: Any
    finished_area: Any


def drum_plan(reader: Reader) -> list[Opened]:
    """Every drum of iso and resin, in the order in which they are opened.

    Empty while a value that it needs is blank or refused.
    """
    surfaces = reader.column("areas", "surface")
    films = reader.column("areas", "film_volume")
    profiles = reader.column("areas", "profile_volume")
    areas = reader.column("areas", "measured_area")
    lining, fixed = reader.value("lining_volume"), reader.value("fixed_volume")
    total = reader.value("ratio_total")
    names = ("ratio_part", "drum_volume", "residue", "part_drum_volume", "drums_opened")
    columns = [reader.column("order", name) for name in names]
    drums = dict(zip(reader.column("order", "component"), zip(*columns)))
    needed = [lining, fixed, total, *films, *profiles, *areas]
    needed += [value for name in LINING for value in drums.get(name, (None,))]
    if not films or any(value is None for value in needed):
        return []
    placed = sum(films) + sum(profiles)
    if placed <= 0:
        return []
    gross = (lining - fixed) / placed
    volumes = [(film + profile) * gross for film, profile in zip(films, profiles)]
    rows: list[Opened] = []
    for name in LINING:
        part, drum, residue, opened_before, count = drums[name]
        share = part / total
        # One row too many is enough to tell that there is no room for all.
        for number in range(1, min(int(count), CAPACITY + 1) + 1):
            before = (opened_before + (number - 1) * (drum - residue)) / share
            rows.append(Opened(name, *_place(before - fixed, volumes, surfaces, areas, number)))
    rows.sort(key=lambda row: (row.finished_area, row.drum_number, row.plan_component))
    return rows


def _place(
    sprayed: float, volumes: list[float], surfaces: list[Any], areas: list[float], number: int
) -> tuple[Any, ...]:
    """Surface in work, drum number and finished area when a mixed volume has been sprayed."""
    finished = 0.0
    for volume, surface, area in zip(volumes, surfaces, areas):
        if volume > 0 and sprayed < volume:
            return surface, number, finished + max(0.0, sprayed / volume) * area
        sprayed -= volume
        finished += area
    return surfaces[-1], number, finished
