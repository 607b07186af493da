"""The film as it lies on the surfaces that were read, against the film asked for."""

from __future__ import annotations

import math
from statistics import fmean
from typing import Any

from ..core.comparison import design_effect, sample_deviation
from ..core.quantiles import t_quantile
from ..core.uncertainty import effective_degrees_of_freedom
from ..engine.evaluate import Reader, Value, waits_for
from .film_check import correction
from .used_uncertainty import CONFIDENCE
from .words import name_key

SOURCE = (
    "Means of the readings by area; JCGM 100 with Welch and Satterthwaite for their "
    "uncertainty, wider "
    "where readings typed one after the other are alike"
)
# An uncertainty that no readings stand behind counts as known for sure.
KNOWN = 1e6
FILM = ("film_surface", "reading_1", "reading_2", "reading_3")
AREAS = ("surface", "measured_area", "film_here")
READS = (
    *(f"film.{name}" for name in FILM),
    *(f"areas.{name}" for name in AREAS),
    *("profile_grade", "film_spread", "gauge_uncertainty", "film_uncertainty"),
)
RESULTS = ("measured_build", "build_uncertainty", "mean_film", "found_spread", "read_area")


def film_found(reader: Reader) -> list[Any]:
    """No rows; mean film, its uncertainty and spread over the surfaces that were read."""
    names = ("profile_grade", "film_spread", "gauge_uncertainty", "film_uncertainty")
    grade, spread, gauge, apart = map(reader.cell, names)
    surfaces = reader.rows("areas", AREAS)
    rows = reader.rows("film", FILM)
    refused = waits_for(grade, spread, gauge, apart, *(v for row in surfaces for v in row.values()))
    found = None
    if not refused and gauge.si is not None:
        found = _found(surfaces, rows, grade, spread, gauge, apart)
    for name in RESULTS:
        reader.give(name, refused if refused else found[name] if found else None)
    return []


def _readings(
    surfaces: list[dict[str, Value]], rows: list[dict[str, Value]], less: float
) -> list[tuple[dict[str, Value], list[list[float]]]]:
    """Each surface that was read, with its spots: the readings of a row, less the profile's."""
    by_name: dict[str, list[list[float]]] = {}
    for row in rows:
        if waits_for(*row.values()):
            continue
        typed = [row[name].si for name in FILM[1:] if row[name].si is not None]
        if typed:
            spots = by_name.setdefault(name_key(row["film_surface"]), [])
            spots.append([reading - less for reading in typed])
    found = []
    for surface in surfaces:
        spots = by_name.pop(name_key(surface["surface"]), [])
        size, film = surface["measured_area"].si, surface["film_here"].si
        if spots and size and film and math.fsum(map(fmean, spots)) > 0:
            found.append((surface, spots))
    return found


def _less_mean(values: list[float]) -> list[float]:
    mean = fmean(values)
    return [value - mean for value in values]


def _uncertainty_of_mean(means: list[float], deviation: float, effect: float) -> float:
    """Standard deviation of the mean film of a surface, from its spots: each tells it once."""
    apart = sample_deviation(means) if len(means) > 1 else deviation
    return apart * math.sqrt(effect / len(means))


def _found(
    surfaces: list[dict[str, Value]],
    rows: list[dict[str, Value]],
    grade: Value,
    spread: Value,
    gauge: Value,
    apart: Value,
) -> dict[str, float] | None:
    read = _readings(surfaces, rows, correction(grade))
    if not read:
        return None
    area = math.fsum(surface["measured_area"].si for surface, _ in read)
    asked = math.fsum(surface["measured_area"].si * surface["film_here"].si for surface, _ in read)
    there = 0.0
    uncertainties, freedoms, squares, left = [], [], 0.0, 0
    # Neighbours that are alike count less; all surfaces together tell how alike they are.
    films = [[fmean(spot) for spot in spots] for _, spots in read]
    effect = design_effect([_less_mean(means) for means in films], len(read))
    for (surface, spots), means in zip(read, films):
        readings = [reading for spot in spots for reading in spot]
        size, mean = surface["measured_area"].si, fmean(readings)
        there += size * mean
        deviation = (spread.si or 0.0) * mean
        if len(readings) > 1:
            deviation = sample_deviation(readings)
            squares += (len(readings) - 1) * (deviation / mean) ** 2
            left += len(readings) - 1
        uncertainties.append(size / asked * _uncertainty_of_mean(means, deviation, effect))
        freedoms.append(max(2.0, (len(spots) - 1) / effect) if len(spots) > 1 else KNOWN)
    build = there / asked
    uncertainties.append(build * gauge.si)
    freedoms.append(KNOWN)
    # What was not read may differ by as much as mean films do.
    everything = math.fsum(surface["measured_area"].si or 0.0 for surface in surfaces)
    unread = max(0.0, 1 - area / everything) if everything else 0.0
    uncertainties.append(build * unread * (apart.si or 0.0))
    freedoms.append(KNOWN)
    freedom = effective_degrees_of_freedom(uncertainties, freedoms)
    reach = t_quantile((1 + CONFIDENCE) / 2, min(KNOWN, freedom)) * math.hypot(*uncertainties)
    result = {"measured_build": build, "build_uncertainty": reach, "mean_film": there / area}
    result["read_area"] = area
    if left:
        result["found_spread"] = math.sqrt(squares / left)
    return {name: result.get(name) for name in RESULTS}  # type: ignore[misc]
