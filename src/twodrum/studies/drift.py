"""Whether the difference of the gauges creeps, before any limit is reached, and on which side."""

from __future__ import annotations

import math
from dataclasses import dataclass, field
from statistics import median

from ..core.control import cumulative_sums, weighted_mean_reach, weighted_means
from ..core.mix import LINING
from ..core.trend import robust_slope, trend_probability

# Weight of the newest reading and width of its limits; slack and limit of the sums. They are
# narrower than for one alarm of independent readings, because it takes two in a row.
WEIGHT, WIDTH = 0.3, 2.4
SLACK, LIMIT = 0.5, 4.4
IN_A_ROW = 2
# One alarm by itself warns where it is so many times its limit.
STRONG = 1.3
# A step of more than so many scatters counts as this many: one wild reading is no creep.
WILD = 2.5
# Fewer readings say nothing of their own scatter, or of a trend.
FEWEST = 5
# Median of the moving range of two quiet readings over their scatter, 0.6745 times the root of 2,
# and its mean, 2 over the root of pi.
MEDIAN_RANGE, MEAN_RANGE = 0.9539, 1.1284
# So many readings say whether they follow each other, and how much of that is believed.
FEWEST_TO_FOLLOW, MOST_FOLLOWED = 8, 0.8
# Seen in the latest readings: more of them tell little more, and cost their square.
LATEST = 60
# Of a longer log the latest readings judge, so that its time grows with its length.
JUDGED_BY = 240
LINE_TAKES = 1.3
# Steps in which a gauge may be read, in what its unit counts, and the largest in Pa.
GAUGE_STEPS = (100.0, 50.0, 20.0, 10.0, 5.0, 2.0, 1.0, 0.5, 0.2, 0.1)
LARGEST_STEP = 7e5
# Of fewer readings it is chance that all are whole.
FEW_TO_ROUND = 2
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
    Once it alarms the mean is kept, so that it does not follow what it alarmed of; it warns once
    it alarms twice in a row.
    """

    scatter: float
    rows: list[Reading] = field(default_factory=list)
    # The sum of the differences up to each row.
    sums: list[float] = field(default_factory=list)
    steps: list[float] = field(default_factory=list)
    kept: int | None = None
    alarms: int = 0
    warned: bool = False
    # What the gauges said, in what their unit counts, with that unit in Pa.
    gauges: list[tuple[tuple[float, float], ...]] = field(default_factory=list)
    # What the readings up to now scatter, once asked.
    found: float | None = None

    def restart(self) -> None:
        self.rows, self.sums, self.steps, self.gauges = [], [], [], []
        self.kept, self.alarms, self.warned, self.found = None, 0, False, None

    def add(
        self,
        time: float,
        sides: dict[str, float],
        gauges: tuple[tuple[float, float], ...] = (),
    ) -> bool:
        """Take a reading in; whether it warns."""
        row, self.found = Reading(time, dict(sides)), None
        self.gauges.append(gauges)
        before = len(self.rows[: self.kept])
        self.rows.append(row)
        self.sums.append(row.difference + (self.sums[-1] if self.sums else 0.0))
        if not before:
            return False
        mean = self.sums[before - 1] / before
        step = (row.difference - mean) * math.sqrt(before / (before + 1))
        self.steps.append(step)
        size = self._size()
        self.alarms = 0 if size <= 1 else self.alarms + 1 if size <= STRONG else IN_A_ROW
        if not self.alarms:
            # A mean that is kept for a warning stays; one alarm by itself is forgotten.
            self.kept = self.kept if self.warned else None
            return False
        if self.kept is None:
            self.kept = len(self.rows) - 1
        self.warned = self.warned or self.alarms >= IN_A_ROW
        return self.alarms >= IN_A_ROW

    @property
    def used_scatter(self) -> float:
        """The scatter that readings up to now are held against."""
        if self.found is None:
            self.found = self.scatter_with()
        return self.found

    def scatter_with(self, *fresh: tuple[tuple[float, float], ...]) -> float:
        """The scatter of the office or that of the readings, whichever is more, and the gauges'.

        By the median of their moving ranges and by the mean of all but the largest: a single jump
        does not hide itself. A gauge read in steps adds what rounding scatters, though readings
        that stick to a step do not show it.
        """
        values = [row.difference for row in self.rows[-JUDGED_BY:]]
        ranges = sorted(abs(value - values[place]) for place, value in enumerate(values[1:]))
        own = self.scatter
        if ranges:
            own = max(own, median(ranges) / MEDIAN_RANGE)
        if len(ranges) > 1:
            own = max(own, math.fsum(ranges[:-1]) / (len(ranges) - 1) / MEAN_RANGE)
        rounded = [_read_in(one) for one in zip(*self.gauges[-JUDGED_BY:], *fresh)]
        return math.sqrt(own**2 + sum(step**2 for step in rounded) / 12)

    def _wandering(self, scatter: float) -> float:
        """How much further than independent ones readings wander that follow each other; 1 or more.

        Measured beside a straight line; what is small beside the scatter wanders nowhere.
        """
        rows = self.rows[-LATEST:]
        count = len(rows)
        if count < FEWEST_TO_FOLLOW:
            return 1.0
        values, places = [row.difference for row in rows], [float(n) for n in range(count)]
        slope = robust_slope(places, values)
        level = median([value - slope * place for place, value in zip(places, values)])
        left = [value - level - slope * place for place, value in zip(places, values)]
        square = math.fsum(value * value for value in left)
        if square == 0 or scatter == 0:
            return 1.0
        found = math.fsum(left[n] * left[n + 1] for n in range(count - 1)) / square
        # Taken of few readings it comes out too small by about so much.
        follow = max(0.0, min(MOST_FOLLOWED, found + 1.5 / count))
        own = math.sqrt(square / (count - 2))
        # A line takes some of what wanders; what is left is small beside it.
        share = min(1.0, LINE_TAKES * own / scatter)
        return max(1.0, math.sqrt((1 + follow) / (1 - follow)) * share)

    def _size(self) -> float:
        """How far the readings stand out, over the limit of an alarm."""
        if len(self.rows) < FEWEST:
            return 0.0
        scatter = self.used_scatter
        wild = WILD * scatter
        steps = [max(-wild, min(wild, step)) for step in self.steps[-JUDGED_BY:]]
        wider = self._wandering(scatter)
        smoothed = weighted_means(steps, 0.0, WEIGHT)[-1]
        if scatter == 0:
            return math.inf if smoothed else 0.0
        reach = weighted_mean_reach(scatter, WEIGHT, WIDTH, len(steps))
        summed = max(cumulative_sums(steps, 0.0, SLACK * scatter)[-1])
        return max(abs(smoothed) / reach, summed / (LIMIT * scatter)) / wider

    def began(self) -> int:
        """Row since which it goes one way: after the sum was last empty."""
        steps = self.steps[-JUDGED_BY:]
        sums = cumulative_sums(steps, 0.0, SLACK * self.used_scatter)
        side = 0 if sums[-1][0] >= sums[-1][1] else 1
        empty = [place for place, pair in enumerate(sums) if pair[side] == 0]
        # Steps begin at the second reading.
        return len(self.steps) - len(steps) + (empty[-1] + 2 if empty else 1)

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
        rows = (rows if len(rows) >= FEWEST else self.rows)[-LATEST:]
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


def _read_in(readings: tuple[tuple[float, float], ...]) -> float:
    """The step that a gauge was read in, in Pa: the largest of which all its readings are whole."""
    if len(readings) < FEW_TO_ROUND:
        return 0.0
    for step in GAUGE_STEPS:
        if all(abs(value / step - round(value / step)) < 1e-6 for value, _ in readings):
            wide = step * readings[0][1]
            if wide <= LARGEST_STEP:
                return wide
    return 0.0
