"""Finished jobs whose truth is known, typed in and reconciled: ``python -m tests.simulated_jobs``.

What is planted: more area billed, more sprayed than billed, over-build, loss beyond the
allowance, too much of one side, other prices, litres that are neither on the surface nor among
those measured as lost. Without noise each part has to come out to the cent; with the noise of
scale, density, film gauge and area the bias of each part and how often its interval holds the
truth are counted.
"""

from __future__ import annotations

import argparse
import math
import random
from collections.abc import Iterator
from concurrent.futures import ProcessPoolExecutor
from dataclasses import dataclass, replace
from statistics import mean, stdev
from typing import Any

from tests.workbook.day import MATERIALS
from tests.workbook.job_values import evaluated
from twodrum.books.whole import JOB
from twodrum.core.cause_split import product_split
from twodrum.engine.evaluate import Values

FILM, PRICES = 2.0, (9.0, 11.0)
DENSITIES = (1120.0, 1010.0)
SCALE, DENSITY, AREA, GAUGE, SPREAD = 0.5, 0.01, 0.01, 0.01, 0.12
READINGS = 30
SHAPE = "known area"
BLANK = ("surface", "shape", "length", "width", "height")


@dataclass(frozen=True)
class Truth:
    """What was quoted and what really happened; litres, square metres, shares."""

    quoted_billed: float = 300.0
    quoted_measured: float = 300.0
    billed: float = 300.0
    measured: float = 300.0
    build: float = 1.0
    quoted_loss: float = 0.2
    loss: float = 0.2
    # Litres of one side beyond the ratio.
    iso_excess: float = 0.0
    resin_excess: float = 0.0
    prices: tuple[float, float] = PRICES
    # Litres that are neither on the surface nor lost; None where the loss is not measured.
    vanished: float | None = None

    @property
    def surface(self) -> float:
        return self.measured * FILM * self.build

    @property
    def lost(self) -> float:
        return self.surface * self.loss / (1 - self.loss)

    @property
    def used(self) -> tuple[float, float]:
        half = (self.surface + self.lost + (self.vanished or 0.0)) / 2
        return half + self.iso_excess, half + self.resin_excess

    def parts(self) -> dict[str, float]:
        """The litres of each cause, group by group, by the general split of products."""
        quoted_surface = self.quoted_measured * FILM
        gross = (1 / (1 - self.quoted_loss), 1 / (1 - self.loss))
        _, loss = product_split((quoted_surface, gross[0]), (self.surface, gross[1]))
        middle_gross = sum(gross) / 2
        area, build = product_split(
            (self.quoted_measured, FILM), (self.measured, FILM * self.build)
        )
        cover = (self.quoted_measured / self.quoted_billed, self.measured / self.billed)
        billed, unbilled = product_split((self.quoted_billed, cover[0]), (self.billed, cover[1]))
        of_area = billed + unbilled
        return {
            "billed_part": area * middle_gross * (billed / of_area if of_area else 0.0),
            "unbilled_part": area * middle_gross * (unbilled / of_area if of_area else 0.0),
            "build_part": build * middle_gross,
            "loss_part": loss,
            "excess_part": self.iso_excess + self.resin_excess,
            "unexplained_part": self.vanished or 0.0,
        }

    def money(self) -> dict[str, float]:
        """The same in money, and the prices."""
        parts = self.parts()
        price = sum(PRICES) / 2
        found = {name.replace("_part", "_money"): part * price for name, part in parts.items()}
        found["excess_money"] = self.iso_excess * PRICES[0] + self.resin_excess * PRICES[1]
        found["price_money"] = sum(
            used * (now - then) for used, now, then in zip(self.used, self.prices, PRICES)
        )
        return found


@dataclass(frozen=True)
class Noise:
    """Errors of one job, in standard deviations; none where nothing errs."""

    draw: random.Random | None = None
    # Film readings that lie so many together, and share so much of their variance.
    cluster: int = 1
    alike: float = 0.0
    # The area errs by so many times what is typed of it.
    area: float = 1.0

    def film(self, count: int) -> list[float]:
        """Errors of so many film readings."""
        found: list[float] = []
        while len(found) < count:
            shared = self.of(math.sqrt(self.alike) * SPREAD)
            own = math.sqrt(1 - self.alike) * SPREAD
            found += [shared + self.of(own) for _ in range(self.cluster)]
        return found[:count]

    def of(self, deviation: float) -> float:
        return self.draw.gauss(0.0, deviation) if self.draw else 0.0


def reconciled(truth: Truth, noise: Noise | None = None) -> Values:
    """The job typed in as its office would, reconciled."""
    noise = noise or Noise()
    quoted = evaluated(
        {**NAMES, "loss_share": truth.quoted_loss * 100},
        _materials(PRICES),
        [],
        areas=areas(truth.quoted_measured, truth.quoted_billed),
    )
    accepted = {name: float(quoted.names[name].si) for name in JOB.accepted}
    film = FILM * truth.build * (1 + noise.of(GAUGE))
    names: dict[str, Any] = {**NAMES, "loss_share": truth.quoted_loss * 100}
    for side, used, density in zip(("iso", "resin"), truth.used, DENSITIES):
        volume = used * (1 + noise.of(DENSITY))
        names[f"{side}_weighed"] = volume + noise.of(math.sqrt(2) * SCALE / density * 1000)
    if truth.vanished is not None:
        names["lost_volume"] = truth.lost
    measured = truth.measured * (1 + noise.of(AREA * noise.area))
    return evaluated(
        names,
        _materials(truth.prices),
        [],
        accepted=accepted,
        areas=areas(measured, truth.billed),
        film=[
            {"film_surface": "Floor", "reading_1": max(0.0, film * (1 + error))}
            for error in noise.film(READINGS)
        ],
    )


NAMES: dict[str, Any] = {
    "customer": "Invented Works",
    "quote_date": 46300,
    "fixed_volume": 0,
    "scale_uncertainty": SCALE,
    "density_uncertainty": DENSITY * 100,
    "measure_uncertainty": AREA * 100,
    "gauge_uncertainty": GAUGE * 100,
}


def _materials(prices: tuple[float, float]) -> list[dict[str, Any]]:
    return [{**row, "volume_price": price} for row, price in zip(MATERIALS, prices)]


def areas(measured: float, billed: float) -> list[dict[str, Any]]:
    """Rows of Areas: one floor, the other row of the small job blank."""
    blank: dict[str, Any] = dict.fromkeys(BLANK)
    floor = {
        "surface": "Floor",
        "shape": SHAPE,
        "known_area": measured,
        "agreed_area": billed,
    }
    return [{**blank, **floor}, blank]


def truths(count: int, seed: int = 8) -> Iterator[Truth]:
    """Jobs as they come: every cause moves a little."""
    draw = random.Random(seed)
    for _ in range(count):
        quoted = draw.uniform(100.0, 600.0)
        billed = quoted * draw.uniform(0.9, 1.2)
        excess = draw.choice((0.0, draw.uniform(2.0, 12.0)))
        of_iso = draw.random() < 0.5
        yield Truth(
            quoted_billed=quoted,
            quoted_measured=quoted,
            billed=billed,
            measured=billed * draw.uniform(1.0, 1.1),
            build=draw.uniform(0.95, 1.25),
            loss=draw.uniform(0.15, 0.3),
            iso_excess=excess if of_iso else 0.0,
            resin_excess=0.0 if of_iso else excess,
            vanished=draw.choice((None, draw.uniform(0.0, 20.0))),
        )


MARGINS = ("unbilled_part", "build_part", "loss_part", "excess_part", "unexplained_part")


@dataclass(frozen=True)
class Outcome:
    """Of each part: found less true litres, the true ones, and whether its interval held."""

    errors: dict[str, float]
    held: dict[str, bool]


OTHERS = {
    "film readings in clusters of five, correlation 0.5": Noise(cluster=5, alike=0.5),
    "area errs by twice what is typed": Noise(area=2.0),
}


def _outcome(given: tuple[int, Truth, Noise]) -> Outcome:
    seed, truth, noise = given
    values = reconciled(truth, replace(noise, draw=random.Random(1000 + seed)))
    rows = {row[0]: row for row in values.studies["use_split"]}
    true = truth.parts()
    errors, held = {}, {}
    for name in MARGINS:
        if name == "unexplained_part" and truth.vanished is None:
            continue
        row = rows[JOB.item(name).label]
        errors[name] = row[5] * 1000 - true[name]
        held[name] = row[6] * 1000 - 1e-9 <= true[name] <= row[7] * 1000 + 1e-9
    return Outcome(errors, held)


def simulate(count: int, workers: int = 2, noise: Noise | None = None) -> list[Outcome]:
    """Noisy jobs, each judged."""
    pairs = [(seed, truth, noise or Noise()) for seed, truth in enumerate(truths(count))]
    with ProcessPoolExecutor(workers) as pool:
        return list(pool.map(_outcome, pairs, chunksize=10))


def table(outcomes: list[Outcome]) -> list[str]:
    """What to say of all of them, for the contributor guide."""
    lines = ["| part | jobs | bias | scatter | interval held |", "| --- | --- | --- | --- | --- |"]
    for name in MARGINS:
        own = [o for o in outcomes if name in o.errors]
        errors = [o.errors[name] for o in own]
        held = sum(o.held[name] for o in own)
        lines.append(
            f"| {JOB.item(name).label} | {len(own)} | {mean(errors):+.2f} L "
            f"| {stdev(errors):.2f} L | {held} of {len(own)} |"
        )
    return lines


def main() -> None:
    """Simulate and print the table."""
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("--jobs", type=int, default=1000)
    parser.add_argument("--others", type=int, default=200)
    asked = parser.parse_args()
    print("\n".join(table(simulate(asked.jobs))))
    for words, noise in OTHERS.items():
        print(f"\n{words}:\n")
        print("\n".join(table(simulate(asked.others, noise=noise))))


if __name__ == "__main__":
    main()
