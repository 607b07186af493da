"""The invented month: forty jobs with stories planted in them, for ``twodrum month``."""

from __future__ import annotations

import math
import random
from datetime import date
from pathlib import Path
from typing import Any

from ..books.whole import JOB
from ..core.mix import LINING
from ..xlsx.book import Book
from ..xlsx.files import write_whole
from ..xlsx.package import Package, PackageError
from ..xlsx.write import write_cells
from .deal import LATEST, Deal
from .demo import MARK, MARKED
from .fill import fill_file
from .new import Typed, made_job, typed_writes

FOLDER = "month"
COUNT = 40
# Film over the film asked for, and loss, of each crew; the third one over-builds.
CREWS = {
    "Heron": (1.03, 0.20),
    "Otter": (1.02, 0.24),
    "Badger": (1.18, 0.22),
    "Plover": (1.04, 0.21),
}
# The second machine gives ever more iso.
MACHINES, DRIFTS, DRIFT = ("Rig 1", "Rig 2", "Rig 3"), "Rig 2", 0.06
SURFACES = {"concrete": 0.02, "steel": -0.02}
DENSITIES = {"iso": 1120.0, "resin": 1010.0}
PRICES = {"iso": 8600.0, "resin": 11400.0}
DRUM, RESIDUE, STEEL = 0.205, 0.005, 18.0
SHORT_BATCH, SHORT_BY, SHORT_JOBS = "R-517", 0.06, range(18, 22)
UNREADABLE, WITHOUT_QUOTE = 13, 27
FILM, LOSS, PANELS = 0.002, 0.2, 0.015
FIRST_DAY = date(2026, 3, 2)
EPOCH = date(1899, 12, 30)
READINGS = 14


def make_month(out: Path) -> list[str]:
    """Write the forty jobs into a folder; returns what to say about them."""
    folder = out / FOLDER
    if folder.exists() and not (folder / MARK).exists():
        raise PackageError(f"{folder} is not of the demo; choose another folder")
    folder.mkdir(parents=True, exist_ok=True)
    (folder / MARK).write_text(MARKED, encoding="utf-8")
    draw = random.Random(40)
    # One for all: a job with the values that a recalculation gives has few of them to change.
    blank = made_job()[0].package.to_bytes()
    for number in range(1, COUNT + 1):
        path = folder / f"job-{number:02d}.xlsx"
        path.unlink(missing_ok=True)
        _make(path, number, draw, Book(Package(blank)))
    return [
        "Everything here is invented.",
        f"{folder}: {COUNT} jobs of an invented office; one of them cannot be read on purpose",
        f"Run twodrum month {folder}, then open {folder / 'month.xlsx'}, sheet Month.",
    ]


def _make(path: Path, number: int, draw: random.Random, blank: Book) -> None:
    """One job: quoted, accepted, sprayed, typed in."""
    crew, machine = list(CREWS)[number % len(CREWS)], MACHINES[draw.randrange(len(MACHINES))]
    surface = draw.choice(list(SURFACES))
    sizes = [round(draw.uniform(40, 180)) for _ in range(draw.randint(1, 3))]
    day = FIRST_DAY.toordinal() - EPOCH.toordinal() + number * 5
    quoted = _quoted(number, crew, machine, surface, sizes, day)
    write_cells(blank, dict(typed_writes(blank, JOB, quoted, "metric")))
    write_whole(path, blank.package.to_bytes())
    if number != WITHOUT_QUOTE:
        on = date.fromordinal(EPOCH.toordinal() + day - 20)
        fill_file(path, deal=Deal(on, issue=True, accept=LATEST))
    book = Book.open(path)
    done = _done(number, crew, machine, surface, sizes, day, draw)
    write_cells(book, dict(typed_writes(book, JOB, done, "metric")))
    data, read = book.package.to_bytes(), book.package.data
    write_whole(path, data[: len(data) // 3] if number == UNREADABLE else data, read)


def _quoted(
    number: int, crew: str, machine: str, surface: str, sizes: list[int], day: int
) -> Typed:
    names: dict[str, Any] = {
        "job_title": f"Basin {number} (invented)",
        "customer": "Example Works (invented)",
        "contractor": "Example Linings (invented)",
        "quote_number": f"B-{number:02d} (invented)",
        "tax_share": 0.2,
        "quote_date": day - 30,
        "currency": "EUR",
        "substrate": surface,
        "crew_name": crew,
        "machine_name": machine,
        "film_thickness": FILM,
        "loss_share": LOSS,
        "spraying_share": 0.5,
        "ratio_tolerance": 0.05,
        "fixed_volume": PANELS,
        "pump_output": 0.004 / 60,
        "preparation_time": 4 * 3600.0,
        "crew_size": 3,
        "labour_rate": 42 / 3600,
        "margin_share": 0.3,
        "drum_steel": STEEL,
    }
    rows = {
        "areas": [
            {"surface": f"Wall {n}", "shape": "known area", "known_area": float(size)}
            for n, size in enumerate(sizes, 1)
        ],
        "materials": [
            {
                "component": side,
                "material": f"Example lining Q, {side} (invented)",
                "ratio_part": 1,
                "volume_solids": 1.0,
                "density": DENSITIES[side],
                "density_temperature": 293.15,
                "drum_volume": DRUM,
                "residue": RESIDUE,
                "volume_price": PRICES[side],
            }
            for side in LINING
        ],
    }
    return Typed(names=names, rows=rows)


def _done(
    number: int,
    crew: str,
    machine: str,
    surface: str,
    sizes: list[int],
    day: int,
    draw: random.Random,
) -> Typed:
    """What is typed when the job is done: areas, film, drums."""
    build, loss = CREWS[crew]
    loss = loss + SURFACES[surface] + draw.gauss(0, 0.025)
    sprayed = [size * draw.uniform(1.0, 1.05) for size in sizes]
    films = [FILM * build * (1 + draw.gauss(0, 0.02)) for _ in sizes]
    on_surface = math.fsum(area * film for area, film in zip(sprayed, films))
    half = (on_surface / (1 - loss) + PANELS) / 2
    too_much = DRIFT * number / COUNT if machine == DRIFTS else 0.0
    used = {"iso": half * (1 + too_much), "resin": half}
    film = [
        {
            "film_surface": f"Wall {n}",
            "reading_1": round(draw.gauss(mean, 0.1 * mean) * 1e5) / 1e5,
        }
        for n, mean in enumerate(films, 1)
        for _ in range(READINGS)
    ]
    return Typed(
        names={"work_date": day, "readings_whole": "no"},
        rows={
            "areas": [
                {"known_area": round(area, 1), "agreed_area": float(size)}
                for area, size in zip(sprayed, sizes)
            ],
            "film": film,
            "drums": [row for side in LINING for row in _drums(side, used[side], number, draw)],
        },
    )


def _drums(side: str, used: float, number: int, draw: random.Random) -> list[dict[str, Any]]:
    """New drums, each emptied to its residue but the last."""
    short = side == "resin" and number in SHORT_JOBS
    batch = SHORT_BATCH if short else f"{side[0].upper()}-{100 + 17 * (number // 5)}"
    rows: list[dict[str, Any]] = []
    while used > 0:
        full = DRUM * (1 - SHORT_BY * short) + draw.gauss(0, 0.0006)
        taken = min(used, full - RESIDUE)
        weights = (STEEL + full * DENSITIES[side], STEEL + (full - taken) * DENSITIES[side])
        rows.append(
            {
                "holds": side,
                "drum_number": f"{side[0].upper()}{number:02d}-{len(rows) + 1}",
                "batch": batch,
                "opening_weight": round(weights[0], 1),
                "closing_weight": round(weights[1], 1),
            }
        )
        used -= taken
    return rows
