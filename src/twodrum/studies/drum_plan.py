"""Where in the take-off each drum set is opened."""

from __future__ import annotations

from ..evaluate import Reader

SOURCE = (
    "Volume balance: surfaces sprayed in the order of the take-off, fixed volumes first, "
    "loss spread evenly, full drums of both components opened together"
)

READS = (
    "areas.surface",
    "areas.film_volume",
    "areas.profile_volume",
    "areas.measured_area",
    "lining_volume",
    "fixed_volume",
    "iso_ratio",
    "resin_ratio",
    "order.component",
    "order.drum_volume",
    "order.heel_volume",
)


def drum_plan(reader: Reader) -> list[tuple[object, ...]]:
    """Rows of (set number, surface in work when it opens, area finished by then).

    Empty while a value that it needs is blank or refused.
    """
    surfaces = reader.column("areas", "surface")
    films = reader.column("areas", "film_volume")
    profiles = reader.column("areas", "profile_volume")
    areas = reader.column("areas", "measured_area")
    lining, fixed = reader.value("lining_volume"), reader.value("fixed_volume")
    iso, resin = reader.value("iso_ratio"), reader.value("resin_ratio")
    components = reader.column("order", "component")
    drums = dict(zip(components, reader.column("order", "drum_volume")))
    heels = dict(zip(components, reader.column("order", "heel_volume")))
    needed = [lining, fixed, iso, resin, *films, *profiles, *areas]
    needed += [drums.get("iso"), heels.get("iso"), drums.get("resin"), heels.get("resin")]
    if not films or any(value is None for value in needed):
        return []
    placed = sum(films) + sum(profiles)
    set_volume = (iso + resin) * min(
        (drums["iso"] - heels["iso"]) / iso, (drums["resin"] - heels["resin"]) / resin
    )
    if placed <= 0 or set_volume <= 0:
        return []
    gross = (lining - fixed) / placed
    rows: list[tuple[object, ...]] = [(1, surfaces[0], 0.0)]
    used, finished = fixed, 0.0
    for surface, film, profile, area in zip(surfaces, films, profiles, areas):
        volume = (film + profile) * gross
        while volume > 0 and used + volume > len(rows) * set_volume * (1 + 1e-9):
            share = max(0.0, (len(rows) * set_volume - used) / volume)
            rows.append((len(rows) + 1, surface, finished + share * area))
        used += volume
        finished += area
    return rows
