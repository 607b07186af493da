"""What the readings of a day are compared with: the first good ones after a restart."""

from __future__ import annotations

from dataclasses import dataclass, field

from ..evaluate import Refused

BASELINE_ROWS = 3


@dataclass
class Baseline:
    """The first spraying readings after the last restart."""

    since: str = ""
    panel: bool = False
    rows: list[dict[str, float]] = field(default_factory=list)
    refused: Refused | None = None

    def doubt(self, refused: Refused | None) -> None:
        """Something refused may have been a restart, or a row of the baseline."""
        self.refused = self.refused or refused

    @property
    def complete(self) -> bool:
        return len(self.rows) >= BASELINE_ROWS

    def restart(self, event: str) -> None:
        self.since, self.rows, self.refused = event, [], None
        self.panel = event == "test panel"

    def words(self) -> str:
        """What is said at its first row."""
        if self.panel:
            return "Baseline starts here"
        since = f" since the {self.since}" if self.since else ""
        return f"Baseline starts here, no test panel noted{since}"

    def add(self, sides: dict[str, float]) -> None:
        """Take a reading into the baseline while it is short."""
        if not self.complete:
            self.rows.append(sides)

    def mean(self, side: str) -> float:
        return sum(row[side] for row in self.rows) / len(self.rows)
