"""What changed, version by version; templates carry the newest entries."""

from __future__ import annotations

import re

from .resources import resource


def entries() -> list[tuple[str, str, list[str]]]:
    """(version, date, lines) of every entry, newest first."""
    text = resource("", "CHANGELOG.md").read_text(encoding="utf-8")
    found = []
    for part in re.split(r"^## ", text, flags=re.MULTILINE)[1:]:
        head, *rest = part.strip().splitlines()
        match = re.fullmatch(r"(\S+) \((\d{4}-\d{2}-\d{2})\)", head)
        assert match, f"changelog heading {head!r} is not 'version (date)'"
        lines = [line[2:] for line in rest if line.startswith("- ")]
        found.append((match.group(1), match.group(2), lines))
    return found


def newest() -> tuple[str, str]:
    """Version and date of the newest entry."""
    version, date, _ = entries()[0]
    return version, date
