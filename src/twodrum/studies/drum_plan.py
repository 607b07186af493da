"""Where in the take-off each drum is opened."""

from __future__ import annotations

from typing import Any, NamedTuple

from ..core.mix import LINING, SECOND
from ..engine.evaluate import Reader
from .systems import FURTHER

SOURCE = (
    "Volume balance: surfaces sprayed in the order of the take-off, fixed volumes first, "
    "opened drums used up before full ones; each lining by itself"
)
CAPACITY = 200
OF_AREAS = ("surface", "film_volume", "profile_volume", "measured_area")
OF_ORDER = ("component", "ratio_part", "drum_volume", "residue", "part_drum_volume", "drums_opened")
# What a system has of its own; of the job's own its loss and fixed volume.
OWN = tuple(f"system_{n}_{name}" for n in FURTHER for name in ("loss", "fixed"))
LININGS = tuple(f"system_{n}_lining" for n in FURTHER)

READS = (
    *(f"areas.{name}" for name in (*OF_AREAS, "system")),
    *(f"order.{name}" for name in OF_ORDER),
    *("acceptance_share", "loss_share", "fixed_volume", "lining_volume"),
    *(*OWN, *LININGS),
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
    surfaces, films, profiles, areas = (reader.column("areas", name) for name in OF_AREAS)
    systems = reader.column("areas", "system")
    aimed = reader.value("acceptance_share")
    own = {name: reader.value(name) for name in ("loss_share", "fixed_volume", *OWN)}
    linings = [reader.value(name) for name in LININGS]
    columns = [reader.column("order", name) for name in OF_ORDER]
    drums = {row[0]: row[1:] for row in zip(*columns)}
    needed = [aimed, reader.value("lining_volume"), *own.values(), *linings]
    needed += [*films, *profiles, *areas, *(drums.get(LINING[0]) or (None,))]
    needed += drums.get(LINING[1]) or (None,)
    if not films or any(value is None for value in needed):
        return []
    rows: list[Opened] = []
    for sides in (LINING, SECOND):
        is_second = sides == SECOND
        mine = [n for n, word in zip(FURTHER, linings) if word.startswith("second") == is_second]
        names: list[str | None] = [f"system {n}" for n in mine]
        losses: dict[str | None, float]
        losses = {f"system {n}": own[f"system_{n}_loss"] for n in mine}
        fixed = sum(own[f"system_{n}_fixed"] for n in mine if f"system {n}" in systems)
        if not is_second:
            names.append(None)
            losses, fixed = {**losses, None: own["loss_share"]}, fixed + own["fixed_volume"]
        known = [drums.get(side) for side in sides]
        if any(row is None or None in row for row in known):
            continue
        volumes = [
            (film * (1 + aimed) + profile) / (1 - losses[system]) if system in names else 0.0
            for film, profile, system in zip(films, profiles, systems)
        ]
        if sum(volumes) <= 0:
            continue
        rows += _of_lining(sides, drums, fixed, volumes, surfaces, areas)
    rows.sort(key=lambda row: (row.finished_area, row.drum_number, row.plan_component))
    return rows


def _of_lining(
    sides: tuple[str, ...],
    drums: dict[Any, Any],
    fixed: float,
    volumes: list[float],
    surfaces: list[Any],
    areas: list[float],
) -> list[Opened]:
    """The drums of both sides of one lining."""
    total = sum(drums[side][0] for side in sides)
    rows = []
    for side in sides:
        part, drum, residue, opened_before, count = drums[side]
        share = part / total
        # One row too many is enough to tell that there is no room for all.
        for number in range(1, min(int(count), CAPACITY + 1) + 1):
            before = (opened_before + (number - 1) * (drum - residue)) / share
            rows.append(Opened(side, *_place(before - fixed, volumes, surfaces, areas, number)))
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
