"""Whether the difference of the gauges creeps, before any limit is reached, and on which side."""

from __future__ import annotations

import math
from dataclasses import dataclass, field
from statistics import median

from ..core.control import cumulative_sums, weighted_mean_reach, weighted_means
from ..core.mix import LINING
from ..core.trend import robust_slope, trend_probability

# Weight of the newest reading and width of its limits; slack and limit of the sums. Over quiet
# readings the one alarms once in 193, the other once in 465.
WEIGHT, WIDTH = 0.3, 2.7
SLACK, LIMIT = 0.5, 5.0
# Fewer readings say nothing of their own scatter, or of a trend.
FEWEST = 5
# Median of the moving range of two quiet readings over their scatter: 0.6745 times the root of 2.
MEDIAN_RANGE = 0.9539
SURE = 0.05
# One jump of so much of the way is a step, no creep.
STEP = 0.7
# Two readings of a quiet day stand so many scatters apart once in two hundred.
LARGE = 4.0
LONGEST_FORECAST = 12 * 3600.0


@dataclass(frozen=True)
class Reading:
    """One good reading: when, and each side's pressure less what viscosity takes."""

    time: float
    sides: dict[str, float]

    @property
    def difference(self) -> float:
        return self.sides["iso"] - self.sides["resin"]


@dataclass
class Drift:
    """The good readings since the last restart; each is held against the mean of those before it.

    So the first ones need no baseline, and in quiet readings what is left scatters as known.
    Once it warns the mean is kept, so that it does not follow what it warned of.
    """

    scatter: float
    rows: list[Reading] = field(default_factory=list)
    steps: list[float] = field(default_factory=list)
    kept: int | None = None

    def restart(self) -> None:
        self.rows, self.steps, self.kept = [], [], None

    def add(self, time: float, sides: dict[str, float]) -> bool:
        """Take a reading in; whether it warns."""
        row = Reading(time, dict(sides))
        before = self.rows[: self.kept]
        self.rows.append(row)
        if not before:
            return False
        mean = math.fsum(one.difference for one in before) / len(before)
        step = (row.difference - mean) * math.sqrt(len(before) / (len(before) + 1))
        self.steps.append(step)
        if not self._warns():
            return False
        if self.kept is None:
            self.kept = len(self.rows) - 1
        return True

    @property
    def used_scatter(self) -> float:
        """The scatter of the office, or that of the readings where they scatter more.

        The median of their moving ranges: a single jump does not hide itself.
        """
        values = [row.difference for row in self.rows]
        ranges = [abs(value - values[place]) for place, value in enumerate(values[1:])]
        return max(self.scatter, median(ranges) / MEDIAN_RANGE) if ranges else self.scatter

    def _warns(self) -> bool:
        if len(self.rows) < FEWEST:
            return False
        scatter = self.used_scatter
        smoothed = weighted_means(self.steps, 0.0, WEIGHT)[-1]
        if abs(smoothed) > weighted_mean_reach(scatter, WEIGHT, WIDTH, len(self.steps)):
            return True
        return max(cumulative_sums(self.steps, 0.0, SLACK * scatter)[-1]) > LIMIT * scatter

    def began(self) -> int:
        """Row since which it goes one way: after the sum was last empty."""
        sums = cumulative_sums(self.steps, 0.0, SLACK * self.used_scatter)
        side = 0 if sums[-1][0] >= sums[-1][1] else 1
        empty = [place for place, pair in enumerate(sums) if pair[side] == 0]
        # Steps begin at the second reading.
        return (empty[-1] + 2) if empty else 1

    def side(self) -> tuple[str, float]:
        """The side that moved more since then, and by how much."""
        began = min(self.began(), len(self.rows) - 1)
        before, after = self.rows[:began], self.rows[began:]
        moves = {
            side: sum(row.sides[side] for row in after) / len(after)
            - sum(row.sides[side] for row in before) / len(before)
            for side in LINING
        }
        found = max(moves, key=lambda name: abs(moves[name]))
        return found, moves[found]

    def slope(self) -> float | None:
        """How fast the difference changes, where a trend is sure; Pa/s."""
        first = max(0, self.began() - 1)
        rows = self.rows[first:]
        rows = rows if len(rows) >= FEWEST else self.rows
        if len(rows) < FEWEST:
            return None
        times, values = [row.time for row in rows], [row.difference for row in rows]
        if len(set(values)) < 2 or trend_probability(times, values) > SURE:
            return None
        return robust_slope(times, values)

    @property
    def stepped(self) -> bool:
        """Whether one jump makes most of the way that the difference went since it began."""
        values = [row.difference for row in self.rows[max(0, self.began() - 1) :]]
        way = values[-1] - values[0]
        jumps = [abs(value - values[place]) for place, value in enumerate(values[1:])]
        if len(jumps) < 2 or max(jumps) < LARGE * self.used_scatter:
            return False
        return max(jumps) > STEP * abs(way)

    def reaches(self, distance: float) -> float | None:
        """When a change of so much from the start is reached if it goes on so; None: not soon."""
        slope = self.slope()
        if not slope or self.stepped:
            return None
        start = [row.difference for row in self.rows[: max(1, self.kept or 1)][:3]]
        now = self.rows[-1]
        gone = now.difference - sum(start) / len(start)
        left = distance - gone if slope > 0 else distance + gone
        wait = max(0.0, left / abs(slope))
        return now.time + wait if wait <= LONGEST_FORECAST else None
