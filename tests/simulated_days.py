"""Days whose truth is known, typed into a job and judged: ``python -m tests.simulated_days``.

Each day has twenty readings while spraying, levels of both drums and the log of a warm-up. What
is planted: a creeping resin pressure, a mix off its ratio, a heater and a loss of heat. What is
counted: how soon the creep is found, how often a quiet day warns, how far off the results are,
and how often the intervals hold the truth.
"""

from __future__ import annotations

import argparse
import math
import random
from collections.abc import Iterator
from concurrent.futures import ProcessPoolExecutor
from dataclasses import dataclass, replace
from statistics import mean, median
from typing import Any

from tests.workbook.day import MATERIALS, NAMES, SPRAYING, WEATHER
from tests.workbook.job_values import evaluated
from twodrum.core.balance import flow_resistance, friction_pressure
from twodrum.core.heating import drum_heat_capacity
from twodrum.core.viscosity import viscosity_at

BAR = 1e5
ROWS, STARTS_AT = 20, 5
SCATTER, LEVEL, THERMOMETER = 1.0, 2.0, 0.3
FLOW = 2e-3 / 60
POINTS = {"iso": (298.15, 0.8, 338.15, 0.08), "resin": (298.15, 0.6, 338.15, 0.045)}
RESISTANCE = flow_resistance(60.0, 0.009525, 3.0, 0.00635, 0.0015, 0.0006)


@dataclass(frozen=True)
class Gauges:
    """How both gauges scatter and are read, in bar, and what the office says of it."""

    noise: str = "normal"
    scatter: float = SCATTER
    step: float = 0.0
    told: float = SCATTER

    def __str__(self) -> str:
        read = f"read to {self.step:g} bar" if self.step else "read finely"
        return f"{self.noise}, {self.scatter:g} bar, {read}, told {self.told:g} bar"


QUIET = Gauges()
# What the program does not assume; its own default is 2 bar.
OTHERS = (
    Gauges(scatter=2.0, told=2.0),
    Gauges("skewed", 2.0, told=2.0),
    Gauges("heavy-tailed", 2.0, told=2.0),
    Gauges("following by 0.3", 2.0, told=2.0),
    Gauges("following by 0.6", 2.0, told=2.0),
    Gauges(scatter=3.0, told=2.0),
    Gauges(scatter=2.0, step=1.0, told=2.0),
    Gauges(scatter=2.0, step=2.0, told=2.0),
    Gauges(scatter=2.0, step=5.0, told=2.0),
    Gauges(scatter=1.0, step=5.0, told=1.0),
)


def noise(kind: str, count: int, chance: random.Random) -> list[float]:
    """So many values of mean 0 and standard deviation 1."""
    if kind == "skewed":
        return [chance.expovariate(1.0) - 1 for _ in range(count)]
    if kind == "heavy-tailed":
        # Student's t of three degrees of freedom, of variance 3.
        squares = [sum(chance.gauss(0, 1) ** 2 for _ in range(3)) / 3 for _ in range(count)]
        return [chance.gauss(0, 1) / math.sqrt(3 * square) for square in squares]
    if kind.startswith("following"):
        follow = float(kind.rsplit(maxsplit=1)[-1])
        values = [chance.gauss(0, 1)]
        while len(values) < count:
            fresh = math.sqrt(1 - follow**2) * chance.gauss(0, 1)
            values.append(follow * values[-1] + fresh)
        return values
    return [chance.gauss(0, 1) for _ in range(count)]


@dataclass(frozen=True)
class WarmUp:
    """How a warm-up differs from what the program takes for true."""

    words: str = "as the program takes it"
    # Standard deviation of the specific heat over that of the data sheet.
    heat: float = 0.0
    # How far each reading follows the one before.
    follows: float = 0.0
    # How far the air goes up or down during the log, in kelvin.
    air: float = 0.0


OTHER_WARM_UPS = (
    WarmUp(),
    WarmUp("specific heat 3 % off (one standard deviation)", heat=0.03),
    WarmUp("readings follow by 0.6", follows=0.6),
    WarmUp("both", heat=0.03, follows=0.6),
    WarmUp("air moves by 4 K, read once", air=4.0),
    WarmUp("air moves by 6 K, read once", air=6.0),
)


@dataclass(frozen=True)
class Planted:
    """The truth of a day."""

    seed: int
    # Fall of the resin pressure from one reading to the next, in standard deviations.
    creep: float
    off_ratio: float
    power: float
    loss: float
    gauges: Gauges = QUIET
    warm_up: WarmUp = OTHER_WARM_UPS[0]


@dataclass(frozen=True)
class Found:
    """What the job said of a day."""

    planted: Planted
    # First row that warns of a creep, of a change worth a look; None where none does.
    creeps_at: int | None
    worth_at: int | None
    side: str
    off_ratio: float
    uncertainty: float
    power: tuple[float, float, float] | None
    loss: tuple[float, float, float] | None


def readings(planted: Planted) -> list[dict[str, Any]]:
    """What the crew would type."""
    chance = random.Random(planted.seed)
    rows = _warm_up(planted, chance)
    drawn = 150.0 / (ROWS - 1)
    gauges = planted.gauges
    off = {side: noise(gauges.noise, ROWS, chance) for side in POINTS}
    for row in range(ROWS):
        warm = {side: 65 + chance.uniform(-1.5, 1.5) for side in POINTS}
        pressures = {}
        for side, level in (("iso", 150.0), ("resin", 135.0)):
            viscosity = viscosity_at(warm[side] + 273.15, *POINTS[side])
            friction = friction_pressure(RESISTANCE, viscosity, FLOW) / BAR
            pressures[side] = level + friction
            pressures[side] += off[side][row] * gauges.scatter / math.sqrt(2)
        pressures["resin"] -= planted.creep * gauges.scatter * max(0, row - STARTS_AT + 1)
        if gauges.step:
            pressures = {s: round(p / gauges.step) * gauges.step for s, p in pressures.items()}
        typed: dict[str, Any] = {
            **SPRAYING,
            **(WEATHER if row % 6 == 0 else {}),
            "time": 0.30 + row / 48,
            **{f"{side}_pressure": pressures[side] for side in POINTS},
            **{f"{side}_temperature": warm[side] for side in POINTS},
        }
        if row == 0:
            typed["event"] = "test panel"
        if row in (0, ROWS - 1):
            used = drawn * row
            resin = used / (1 + planted.off_ratio)
            typed["iso_left"] = 195 - used + chance.gauss(0, LEVEL)
            typed["resin_left"] = 195 - resin + chance.gauss(0, LEVEL)
        rows.append(typed)
    return rows


STEP = 10.0
HEATED = [180.0 * index for index in range(12)]
COOLED = [HEATED[-1] + hours * 3600 for hours in (0.5, 1.0, 1.5, 2.0)]


def _warm_up(planted: Planted, chance: random.Random) -> list[dict[str, Any]]:
    """The log of a drum, by small steps of its balance of heat: no formula of the program."""
    other = planted.warm_up
    capacity = drum_heat_capacity(0.205, 1120, 1800, 18.1) * (1 + chance.gauss(0, other.heat))
    moved = other.air * chance.choice((-1, 1)) / COOLED[-1]
    kind = f"following by {other.follows}" if other.follows else "normal"
    errors = iter(noise(kind, len(HEATED) + len(COOLED), chance))
    rows: list[dict[str, Any]] = []
    drum = 288.15
    for number in range(int(COOLED[-1] / STEP) + 1):
        now = number * STEP
        air = 288.15 + moved * now
        if now in HEATED or now in COOLED:
            phase = "warming" if now in HEATED else "cooling"
            read = drum - 273.15 + THERMOMETER * next(errors)
            rows.append({"time": 0.15 + now / 86400, "phase": phase, "iso_drum": read})
            if phase == "warming" and not other.air:
                rows[-1]["air"] = 15
        power = planted.power if now < HEATED[-1] else 0.0
        drum += STEP / capacity * (power - planted.loss * (drum - air))
    # It was full; what was drawn before the first reading is in no level.
    rows[0]["iso_left"] = 205
    rows[0]["air"] = 15
    return rows


def judged(planted: Planted) -> Found:
    """A day through the job: typed, read, judged."""
    names = {
        **NAMES,
        "gauge_scatter": planted.gauges.told,
        "change_limit": 7,
        "level_uncertainty": LEVEL,
    }
    names |= {"difference_limit": 60, "recirculation_flow": 20, "pump_output": 4}
    values = evaluated(names, MATERIALS, readings(planted))
    rows = [row for row in values.tables["readings"].rows if row["phase"].si == "spraying"]
    verdicts = [str(row["verdict"].si) for row in rows]
    creeps = [
        n for n, words in enumerate(verdicts) if "no limit is reached yet" in words.casefold()
    ]
    worth = [n for n, words in enumerate(verdicts) if "since the baseline" in words]
    side = ""
    if creeps:
        side = verdicts[creeps[0]].split("most likely it is the ")[1].split()[0]
    # The last row of the mix is the period by levels.
    _, off, uncertainty, _, _ = values.studies["mix"][-1]
    fits = []
    for name in ("power", "loss"):
        ends = [values.names[f"iso_learned_{name}{end}"].si for end in ("", "_low", "_high")]
        fits.append(None if None in ends else (ends[0], ends[1], ends[2]))
    return Found(
        planted,
        creeps[0] if creeps else None,
        worth[0] if worth else None,
        side,
        off,
        uncertainty,
        *fits,
    )


CREEPS = (0.0, 0.1, 0.2, 0.3, 0.5)


def days(count: int, creeps: tuple[float, ...] = CREEPS, seed: int = 1) -> list[Planted]:
    """So many days, the creeps in turn."""
    chance = random.Random(seed)
    return [
        Planted(
            seed * 1_000_000 + number,
            creeps[number % len(creeps)],
            chance.choice((-0.06, -0.03, 0.0, 0.03, 0.06)),
            chance.uniform(4000, 6000),
            chance.uniform(8, 20),
        )
        for number in range(count)
    ]


def simulate(planted: list[Planted], workers: int = 1) -> list[Found]:
    """All of these days judged."""
    if workers == 1:
        return [judged(day) for day in planted]
    with ProcessPoolExecutor(workers) as pool:
        return list(pool.map(judged, planted, chunksize=8))


def held(found: list[Found], what: str) -> tuple[int, int]:
    """How many intervals hold the truth, of how many."""
    if what == "off_ratio":
        inside = [abs(day.off_ratio - day.planted.off_ratio) <= day.uncertainty for day in found]
        return sum(inside), len(inside)
    ends = [(getattr(day, what), getattr(day.planted, what)) for day in found]
    inside = [fit[1] <= truth <= fit[2] for fit, truth in ends if fit is not None]
    return sum(inside), len(inside)


def table(found: list[Found]) -> Iterator[str]:
    """Lines of the report."""
    yield "| creep per reading | days | creep told | after readings | change told after | side |"
    yield "|---|---|---|---|---|---|"
    for creep in sorted({day.planted.creep for day in found}):
        own = [day for day in found if day.planted.creep == creep]
        told = [day for day in own if day.creeps_at is not None]
        after = [day.creeps_at - STARTS_AT + 1 for day in told if day.creeps_at is not None]
        worth = [day.worth_at - STARTS_AT + 1 for day in own if day.worth_at is not None]
        right = sum(day.side == "resin" for day in told)
        yield (
            f"| {creep:g} σ | {len(own)} | {len(told)} | {median(after) if after else '–'} | "
            f"{median(worth) if worth else '–'} ({len(worth)} days) | "
            f"{f'resin {right} of {len(told)}' if creep else '–'} |"
        )
    yield ""
    yield "| what | bias | 95 % interval holds the truth |"
    yield "|---|---|---|"
    off = mean(day.off_ratio - day.planted.off_ratio for day in found)
    inside, count = held(found, "off_ratio")
    yield f"| mix off its ratio | {off * 100:+.2f} points | {inside} of {count} |"
    for what, unit in (("power", "W"), ("loss", "W/K")):
        fits = [
            (getattr(day, what), getattr(day.planted, what))
            for day in found
            if getattr(day, what) is not None
        ]
        bias = mean(fit[0] - truth for fit, truth in fits)
        inside, count = held(found, what)
        yield f"| {what} of the warm-up | {bias:+.2f} {unit} | {inside} of {count} |"


def warm_ups(count: int, workers: int) -> Iterator[str]:
    """Lines of the report on logs that differ from what the program takes for true."""
    yield "| warm-up | days | power, bias | held | loss, bias | held |"
    yield "|---|---|---|---|---|---|"
    for number, other in enumerate(OTHER_WARM_UPS):
        planted = [replace(day, warm_up=other) for day in days(count, (0.0,), 30 + number)]
        found = simulate(planted, workers)
        said = []
        for what in ("power", "loss"):
            ends = [(getattr(day, what), getattr(day.planted, what)) for day in found]
            off = mean(fit[0] / truth - 1 for fit, truth in ends if fit is not None)
            inside, told = held(found, what)
            said.append(f"{off:+.1%} | {inside} of {told}")
        yield f"| {other.words} | {count} | {' | '.join(said)} |"


def main() -> None:
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("--days", type=int, default=500)
    parser.add_argument("--quiet", type=int, default=1000)
    parser.add_argument("--others", type=int, default=200)
    parser.add_argument("--workers", type=int, default=2)
    asked = parser.parse_args()
    for line in table(simulate(days(asked.days), asked.workers)):
        print(line)
    quiet = simulate(days(asked.quiet, (0.0,), seed=2), asked.workers)
    creeps = sum(day.creeps_at is not None for day in quiet)
    worth = sum(day.worth_at is not None for day in quiet)
    print(f"\nOf {len(quiet)} quiet days {creeps} warned of a creep, {worth} of a change.\n")
    print("| gauges | days | creep told | change told | 0.5 σ a reading told | after readings |")
    print("|---|---|---|---|---|---|")
    for number, gauges in enumerate(OTHERS):
        quiet, planted = (
            simulate(
                [replace(day, gauges=gauges) for day in days(asked.others, (creep,), 3 + number)],
                asked.workers,
            )
            for creep in (0.0, 0.5)
        )
        first = [min(day.creeps_at or ROWS, day.worth_at or ROWS) for day in planted]
        told = [row - STARTS_AT + 1 for row in first if row < ROWS]
        creeps, worth = (
            sum(getattr(day, name) is not None for day in quiet)
            for name in ("creeps_at", "worth_at")
        )
        after = median(told) if told else "–"
        print(f"| {gauges} | {len(quiet)} | {creeps} | {worth} | {len(told)} | {after} |")
    print()
    for line in warm_ups(asked.others, asked.workers):
        print(line)


if __name__ == "__main__":
    main()
