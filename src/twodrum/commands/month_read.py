"""What a month keeps of a workbook: its row, its drums, or why it has none."""

from __future__ import annotations

import hashlib
from dataclasses import dataclass, field
from pathlib import Path
from typing import Any

from .fill import read_file
from .month_row import job_row
from .month_stock import Seen, drums_seen

NO_QUOTE = "it has no quote to hold its use against; add the part quote"
ENDED = "its process ended twice while it was read"


@dataclass(frozen=True)
class JobRead:
    """One workbook of a folder; small enough to be kept of thousands."""

    name: str
    row: dict[str, Any] = field(default_factory=dict)
    currency: str = ""
    digest: str = ""
    # The first problem and how many more there are, in words.
    told: str = ""
    drums: tuple[Seen, ...] = ()
    # Why it could not be read, or that it is a workbook of another kind.
    unread: str = ""
    left_alone: str = ""
    # The size of the file and when it was changed, before it was read.
    mark: tuple[int, int] = (0, 0)


def mark_of(file: Path) -> tuple[int, int]:
    """How large a file is and when it was changed, in nanoseconds; zeros where it is gone."""
    try:
        found = file.stat()
    except OSError:
        return 0, 0
    return found.st_size, found.st_mtime_ns


@dataclass(frozen=True)
class Reading:
    """Read the workbooks of a folder, each by itself: in any process."""

    folder: Path

    def __call__(self, file: Path) -> JobRead:
        """What one of them says."""
        name, mark = self.name(file), mark_of(file)
        filled = read_file(file)
        if filled.left_alone:
            return JobRead(name, left_alone=filled.left_alone, mark=mark)
        if filled.refused:
            return JobRead(name, unread=filled.refused.removeprefix(f"{file}: "))
        if not filled.model.accepted:
            return JobRead(name, unread=NO_QUOTE)
        values, told = filled.values, ""
        if filled.problem_count:
            more = f" and {filled.problem_count - 1} more" if filled.problem_count > 1 else ""
            told = f"{filled.first_problem}{more}"
        return JobRead(
            name,
            job_row(filled, name),
            str(values.names["currency"].si or ""),
            hashlib.sha256(file.read_bytes()).hexdigest(),
            told,
            drums_seen(values),
            mark=mark,
        )

    def name(self, file: Path) -> str:
        """What a file is called in the month."""
        return str(file.relative_to(self.folder))

    def died(self, file: Path) -> JobRead:
        """What to say of one that ended its process twice."""
        return JobRead(self.name(file), unread=ENDED)
