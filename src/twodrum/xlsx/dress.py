"""What people made of the looks of a sheet: formats, widths of columns, how it is printed."""

from __future__ import annotations

import re
from collections import Counter
from collections.abc import Hashable, Iterable, Mapping

PREFIX = rb"(?:[\w.-]+:)?"
COLS = re.compile(rb"<(" + PREFIX + rb")cols>(.*?)</\1cols>", re.DOTALL)
COL = re.compile(rb"<" + PREFIX + rb"col\b[^<>]*>")
VALUE = re.compile(rb"\b(min|max|width|hidden)\s*=\s*[\"']([^\"']*)[\"']")
# How a sheet is printed; its header and footer are ours, and name the version.
PRINT = (b"pageMargins", b"pageSetup")
# Behind so many columns only their default width stands.
LAST = 1_000


def unusual(looks: Iterable[tuple[Hashable, Hashable]]) -> set[tuple[Hashable, Hashable]]:
    """Of things in groups, each with a look: those that look otherwise than most of their group.

    A group in which no two look alike says nothing.
    """
    seen: dict[Hashable, Counter[Hashable]] = {}
    pairs = list(looks)
    for group, look in pairs:
        seen.setdefault(group, Counter())[look] += 1
    usual = {group: counts.most_common(1)[0] for group, counts in seen.items()}
    return {
        (group, look) for group, look in pairs if usual[group][1] > 1 and look != usual[group][0]
    }


def widths(part: bytes) -> dict[int, bytes]:
    """The width of each column that a sheet part says one of and shows."""
    found: dict[int, bytes] = {}
    cols = COLS.search(part)
    for col in COL.findall(cols[2]) if cols else ():
        said = dict(VALUE.findall(col))
        if b"width" in said and said.get(b"hidden") not in (b"1", b"true"):
            last = min(int(said.get(b"max", b"0")), LAST)
            found.update(
                dict.fromkeys(range(int(said.get(b"min", b"1")), last + 1), said[b"width"])
            )
    return found


def with_widths(part: bytes, wanted: Mapping[int, bytes]) -> bytes:
    """A sheet part of ours, each column by itself, with other widths of columns that it shows."""

    def put(found: re.Match[bytes]) -> bytes:
        said = dict(VALUE.findall(found[0]))
        alone = said.get(b"min") == said.get(b"max") and b"hidden" not in said
        width = wanted.get(int(said.get(b"min", b"0")))
        if not alone or width is None:
            return found[0]
        return re.sub(rb"\bwidth=\"[^\"]*\"", b'width="%b"' % width, found[0])

    cols = COLS.search(part)
    if cols is None:
        return part
    return part[: cols.start(2)] + COL.sub(put, cols[2]) + part[cols.end(2) :]


def with_paper_of(part: bytes, other: bytes) -> bytes:
    """A sheet part of ours that is printed on the paper of another."""
    size = re.compile(rb"(<" + PREFIX + rb"pageSetup\b[^<>]*\spaperSize=[\"'])(\d+)")
    said = size.search(other)
    return size.sub(rb"\g<1>" + said[2], part) if said else part


def with_print_of(part: bytes, other: bytes) -> bytes:
    """A sheet part of ours that is printed as another: its margins, its paper, its scale."""
    for name in PRINT:
        element = re.compile(
            rb"<" + PREFIX + name + rb"\b([^<>]*?)\s*(?:/>|></" + PREFIX + name + rb">)"
        )
        said, own = element.search(other), element.search(part)
        if said and own:
            # The settings of a printer of theirs hang on a part that stays behind.
            kept = re.sub(rb"\s[\w.-]+:id=[\"'][^\"']*[\"']", b"", said[1])
            part = part[: own.start(1)] + kept + part[own.end(1) :]
    return part
