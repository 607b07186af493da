"""How cells show a number: whether as a percentage, a time or a date; and which are locked."""

from __future__ import annotations

import re
from dataclasses import dataclass
from xml.etree import ElementTree

PLAIN, PERCENT, TIME, DURATION, DATE = "plain", "percent", "time", "duration", "date"

# Number formats that a file names by number alone (ECMA-376 part 1, 18.8.30).
BUILT_IN = {
    **dict.fromkeys((9, 10), PERCENT),
    **dict.fromkeys((14, 15, 16, 17, 22, *range(27, 32), 36, *range(50, 59)), DATE),
    **dict.fromkeys((18, 19, 20, 21, 32, 33, 34, 35, 45, 47), TIME),
    46: DURATION,
}
# And what two of them say.
USUAL = {3: "#,##0", 4: "#,##0.00"}
ELAPSED = re.compile(r"\[(h+|m+|s+)\]")
# What a format only prints: quoted words, escaped letters, padding, colours, conditions, locales.
PRINTED = re.compile(r'"[^"]*"|\\.|_.|\*.|\[[^\]]*\]')


@dataclass(frozen=True)
class Look:
    """What matters of a cell's style: the shape of its number, and its lock."""

    shape: str = PLAIN
    locked: bool = True
    code: str = ""
    # What its number stands for without a code of its own.
    usual: str = ""


def shape_of(code: str) -> str:
    """The shape that a format code gives a number; its first section decides."""
    lowered = code.lower().replace("general", "").replace("am/pm", "").replace("a/p", "")
    elapsed = ELAPSED.search(lowered)
    plain = PRINTED.sub("", ELAPSED.sub(r"\1", lowered)).split(";")[0]
    if "%" in plain:
        return PERCENT
    if elapsed:
        return DURATION
    if "e+" in plain or "e-" in plain:
        return PLAIN
    if "y" in plain or "d" in plain:
        return DATE
    if "h" in plain or "s" in plain:
        return TIME
    return DATE if "m" in plain else PLAIN


def looks(root: ElementTree.Element) -> list[Look]:
    """The cell formats of a styles part, by their number."""
    codes: dict[int, str] = {}
    found: list[Look] = []
    for element in root:
        tag = element.tag.rsplit("}", 1)[-1]
        if tag == "numFmts":
            codes = {_number(item, "numFmtId"): item.get("formatCode", "") for item in element}
        elif tag == "cellXfs":
            found = [_look(item, codes) for item in element]
    return found


def _look(item: ElementTree.Element, codes: dict[int, str]) -> Look:
    number = _number(item, "numFmtId")
    code = codes.get(number, "")
    shape = shape_of(code) if number in codes else BUILT_IN.get(number, PLAIN)
    locked = True
    for child in item:
        if child.tag.rsplit("}", 1)[-1] == "protection":
            locked = child.get("locked", "1") not in ("0", "false")
    return Look(shape, locked, code, USUAL.get(number, "") if not code else "")


def _number(item: ElementTree.Element, name: str) -> int:
    text = item.get(name, "0")
    return int(text) if text.isdecimal() else 0
