"""What the readings of a day are compared with: the first good ones after a test panel."""

from __future__ import annotations

from dataclasses import dataclass, field

from ..engine.evaluate import Refused

BASELINE_ROWS = 3
PANEL = "test panel"
# An event may move the difference a little without a fault; our choice.
WIDER = 1.25


@dataclass
class Baseline:
    """The first spraying readings after the last panel."""

    since: str = ""
    panel: bool = False
    rows: list[dict[str, float]] = field(default_factory=list)
    refused: Refused | None = None
    # What happened since the panel that may have moved the difference.
    event: str = ""
    # How many good readings in a row stand beyond the limit, below 0 where they fell.
    beyond: int = 0

    def uncertainty(self, refused: Refused | None) -> None:
        """Something refused may have been a restart, or a row of the baseline."""
        self.refused = self.refused or refused

    @property
    def complete(self) -> bool:
        return len(self.rows) >= BASELINE_ROWS

    def restart(self, event: str) -> None:
        """A panel begins a new baseline; any other event keeps the old one, wider, until then."""
        self.since, self.refused, self.beyond = event, None, 0
        self.panel = event == PANEL
        if self.panel or not self.rows:
            self.rows, self.event = [], ""
        else:
            self.event = event

    def count(self, change: float, most: float) -> int:
        """How many readings in a row are beyond a limit on one side, this one with them."""
        way = 1 if change > 0 else -1
        if abs(change) <= most:
            self.beyond = 0
        else:
            self.beyond = self.beyond + way if self.beyond * way > 0 else way
        return abs(self.beyond)

    @property
    def wider(self) -> float:
        """How much more a change has to be before it is told."""
        return WIDER if self.event else 1.0

    @property
    def asks(self) -> str:
        """What is said while an event waits for its panel."""
        if not self.event:
            return ""
        return f"Held against the baseline before the {self.event}: spray a test panel and note it"

    def restarted(self) -> str:
        """What is said at the event itself."""
        return self.asks or "Baseline restarts"

    def words(self) -> str:
        """What is said at its first row."""
        if self.panel:
            return "Baseline starts here"
        since = f" since the {self.since}" if self.since else ""
        return f"Baseline starts here, no test panel noted{since}: spray one and note it"

    def add(self, sides: dict[str, float]) -> None:
        """Take a reading into the baseline while it is short."""
        if not self.complete:
            self.rows.append(sides)

    def mean(self, side: str) -> float:
        return sum(row[side] for row in self.rows) / len(self.rows)
