"""The validations of one sheet part, and the marks on what is refused: ours in their place.

Rules of the office on cells of its own stay byte for byte.
"""

from __future__ import annotations

import re
from collections.abc import Sequence, Set
from dataclasses import dataclass
from functools import lru_cache
from html import unescape

from ..xlsx.markup import escape, quoteattr
from ..xlsx.scan import column_letters, parse_area
from .entry import Rule

Rect = tuple[int, int, int, int]

BLOCK = re.compile(
    rb"<(?!x14:)((?:[\w.-]+:)?)dataValidations\b[^>]*?(?:/>|>(.*?)</\1dataValidations>)", re.DOTALL
)
RULE = re.compile(
    rb"<((?:[\w.-]+:)?)dataValidation\b(?P<head>(?:[^>\"']|\"[^\"]*\"|'[^']*')*?)"
    rb"(?:/>|>(?P<body>.*?)</\1dataValidation>)",
    re.DOTALL,
)
ATTRIBUTE = re.compile(r"([\w:.-]+)\s*=\s*(?:\"([^\"]*)\"|'([^']*)')")
# The same rules as a newer kind of part keeps them, where they look at another sheet.
EXTENDED = re.compile(
    rb"<x14:dataValidation\b(?:(?!</x14:dataValidation>).)*?<xm:sqref>([^<]*)</xm:sqref>"
    rb"\s*</x14:dataValidation>",
    re.DOTALL,
)
EXTENSION = re.compile(
    rb"<((?:[\w.-]+:)?)ext\b[^>]*>\s*<x14:dataValidations\b[^>]*>\s*</x14:dataValidations>\s*</\1ext>"
)
EMPTY_LIST = re.compile(rb"<((?:[\w.-]+:)?)extLst\b[^>]*>\s*</\1extLst>")
# What follows the validations in a sheet part, in the order of the standard.
BEHIND = (
    *("hyperlinks", "printOptions", "pageMargins", "pageSetup", "headerFooter", "rowBreaks"),
    *("colBreaks", "customProperties", "cellWatches", "ignoredErrors", "smartTags", "drawing"),
    *("legacyDrawing", "legacyDrawingHF", "picture", "oleObjects", "controls", "webPublishItems"),
    *("tableParts", "extLst"),
)


@dataclass(frozen=True)
class Standing:
    """One validation of a sheet: where, what, and its bytes."""

    areas: tuple[Rect, ...]
    rule: Rule
    data: bytes


@dataclass(frozen=True)
class Wanted:
    """One of our rules and the cells that it is for."""

    area: Rect
    rule: Rule

    @property
    def first(self) -> str:
        return f"{column_letters(self.area[1])}{self.area[0]}"


def standing(data: bytes) -> tuple[Standing, ...]:
    """The validations of a sheet part."""
    block = BLOCK.search(data, _behind_cells(data))
    return () if block is None or block[2] is None else _rules(block[2])


@lru_cache(maxsize=64)
def _rules(block: bytes) -> tuple[Standing, ...]:
    """The same of their block: books of one template have the same."""
    return tuple(_standing(found) for found in RULE.finditer(block))


def _behind_cells(data: bytes) -> int:
    """Where the cells of a sheet part end: rules and marks stand behind them."""
    return max(0, data.rfind(b"sheetData>"))


def _standing(found: re.Match[bytes]) -> Standing:
    attributes = {
        name: unescape(double or single)
        for name, double, single in ATTRIBUTE.findall(found["head"].decode("utf-8", "replace"))
    }
    body = found["body"] or b""
    rule = Rule(
        attributes.get("type", "none"),
        _formula(body, b"formula1"),
        _formula(body, b"formula2"),
        attributes.get("operator", ""),
        attributes.get("error", ""),
        attributes.get("errorTitle", ""),
        attributes.get("promptTitle", ""),
        attributes.get("prompt", ""),
        _true(attributes, "allowBlank"),
        attributes.get("errorStyle", "stop") == "stop",
    )
    if not _true(attributes, "showErrorMessage"):
        rule = Rule("none", "")
    return Standing(_areas(attributes.get("sqref", "")), rule, found[0])


def _areas(text: str) -> tuple[Rect, ...]:
    areas = []
    for part in text.split():
        try:
            areas.append(parse_area(part))
        except ValueError:
            continue
    return tuple(areas)


def _formula(body: bytes, name: bytes) -> str:
    found = re.search(
        rb"<((?:[\w.-]+:)?)" + name + rb"\b[^>]*>(.*?)</\1" + name + rb">", body, re.S
    )
    return unescape(found[2].decode("utf-8", "replace")).removeprefix("=") if found else ""


def _true(attributes: dict[str, str], name: str) -> bool:
    return attributes.get(name, "0") in ("1", "true")


@lru_cache(maxsize=256)
def wrong(rules: tuple[Standing, ...], wanted: tuple[Wanted, ...]) -> tuple[int, bool]:
    """How many of ours have other limits than they should; whether anything differs at all."""
    count, differs = 0, False
    by_area: dict[Rect, list[Standing]] = {}
    for rule in rules:
        for area in rule.areas:
            by_area.setdefault(area, []).append(rule)
    for one in wanted:
        over = by_area.get(one.area, [])
        if len(over) != 1:
            over = [rule for rule in rules if any(_meet(one.area, area) for area in rule.areas)]
        if len(over) != 1 or not any(_within(one.area, area) for area in over[0].areas):
            count, differs = count + 1, True
            continue
        count += _limits(over[0].rule, one.first) != _limits(one.rule, one.first)
        differs |= _words(over[0].rule) != _words(one.rule)
    return count, differs or count > 0


def _limits(rule: Rule, cell: str) -> tuple[str, ...]:
    kind, operator, first, second = rule.limits
    operator = operator or "between"
    if kind in ("list", "custom"):
        operator, second = "", ""
    first, second = ("".join(text.split()).upper() for text in (first, second))
    first = first.replace("{CELL}", cell)
    return kind, operator, first, second if operator.endswith("etween") else ""


def _words(rule: Rule) -> tuple[object, ...]:
    prompt = (rule.prompt_title, rule.prompt) if rule.prompt else ("", "")
    return rule.error_title, rule.error, *prompt, rule.allow_blank, rule.stop


def _meet(one: Rect, other: Rect) -> bool:
    return one[0] <= other[2] and other[0] <= one[2] and one[1] <= other[3] and other[1] <= one[3]


def _within(inner: Rect, outer: Rect) -> bool:
    return (
        outer[0] <= inner[0]
        and outer[1] <= inner[1]
        and inner[2] <= outer[2]
        and inner[3] <= outer[3]
    )


def _without(area: Rect, hole: Rect) -> list[Rect]:
    """What is left of an area where another is taken out."""
    if not _meet(area, hole):
        return [area]
    top, left, bottom, right = area
    first, last = max(top, hole[0]), min(bottom, hole[2])
    parts = [(top, left, first - 1, right), (last + 1, left, bottom, right)]
    parts += [(first, left, last, hole[1] - 1), (first, hole[3] + 1, last, right)]
    return [part for part in parts if part[0] <= part[2] and part[1] <= part[3]]


def put_in(data: bytes, prefix: str, wanted: Sequence[Wanted]) -> bytes:
    """The sheet part with ours as they should be, and the office's own as they were."""
    kept: list[bytes] = []
    for rule in standing(data):
        areas = list(rule.areas)
        for one in wanted:
            areas = [part for area in areas for part in _without(area, one.area)]
        if areas == list(rule.areas):
            kept.append(rule.data)
        elif areas:
            sqref = " ".join(map(_address, areas)).encode()
            kept.append(re.sub(rb"sqref=([\"'])[^\"']*\1", b'sqref="' + sqref + b'"', rule.data))
    made = [_element(prefix, one) for one in wanted]
    rules = kept + made
    p = prefix.encode()
    text = b""
    if rules:
        head = b"<" + p + b'dataValidations count="%d">' % len(rules)
        text = head + b"".join(rules) + b"</" + p + b"dataValidations>"
    block = BLOCK.search(data, _behind_cells(data))
    if block:
        data = data[: block.start()] + text + data[block.end() :]
    else:
        at = _behind(data, p)
        data = data[:at] + text + data[at:]
    return _without_extended(data, wanted)


def _behind(data: bytes, prefix: bytes) -> int:
    close = data.rfind(b"</" + prefix + b"sheetData>")
    start = max(close, data.find(b"<" + prefix + b"sheetData"))
    names = "|".join(BEHIND).encode()
    found = re.compile(b"<" + prefix + b"(?:" + names + rb")\b").search(data, start)
    return found.start() if found else data.rindex(b"</" + prefix + b"worksheet>")


def _without_extended(data: bytes, wanted: Sequence[Wanted]) -> bytes:
    def left(found: re.Match[bytes]) -> bytes:
        areas = _areas(found[1].decode("ascii", "replace"))
        ours = areas and all(any(_within(a, one.area) for one in wanted) for a in areas)
        return b"" if ours else found[0]

    changed = EXTENDED.sub(left, data)
    if changed == data:
        return data
    number = len(EXTENDED.findall(changed))
    changed = re.sub(
        rb"(<x14:dataValidations\b[^>]*?count=)([\"'])\d+\2", rb'\1"%d"' % number, changed
    )
    return EMPTY_LIST.sub(b"", EXTENSION.sub(b"", changed))


def _address(area: Rect) -> str:
    first = f"{column_letters(area[1])}{area[0]}"
    last = f"{column_letters(area[3])}{area[2]}"
    return first if first == last else f"{first}:{last}"


def _element(prefix: str, wanted: Wanted) -> bytes:
    rule = wanted.rule
    attributes = {
        "type": rule.type,
        "errorStyle": "" if rule.stop else "information",
        "operator": rule.operator,
        "allowBlank": "1" if rule.allow_blank else "0",
        "showInputMessage": "1" if rule.prompt else "0",
        "showErrorMessage": "1",
        "errorTitle": rule.error_title,
        "error": rule.error,
        "promptTitle": rule.prompt_title,
        "prompt": rule.prompt,
        "sqref": _address(wanted.area),
    }
    said = "".join(f" {name}={quoteattr(text)}" for name, text in attributes.items() if text)
    formulas = "".join(
        f"<{prefix}{name}>{escape(text.format(cell=wanted.first))}</{prefix}{name}>"
        for name, text in (("formula1", rule.first), ("formula2", rule.second))
        if text
    )
    element = f"<{prefix}dataValidation{said}>{formulas}</{prefix}dataValidation>"
    return element.encode("ascii", "xmlcharrefreplace")


MARK = re.compile(
    rb"<(?!x14:)((?:[\w.-]+:)?)conditionalFormatting\b(?P<head>[^>]*)>(?P<body>.*?)"
    rb"</\1conditionalFormatting>",
    re.DOTALL,
)
# The condition of a mark, whatever cells it names.
CONDITION = re.compile(r"AND\(ISERROR\(\$[A-Z]+\d+\),NOT\(ISBLANK\([A-Z]+\d+\)\)\)")
LOOK = re.compile(rb"\bdxfId=([\"'])(\d+)\1")
PRIORITY = re.compile(rb"\bpriority=([\"'])(\d+)\1")


def mark_condition(si: str, first: str) -> str:
    """When an input is marked: its value in SI is refused, and it is not blank."""
    return f"AND(ISERROR(${si}),NOT(ISBLANK({first})))"


def marked_again(data: bytes, prefix: str, marks: Sequence[tuple[Rect, str]]) -> bytes:
    """The sheet part with a mark on each area that lost its own; cut and paste takes marks along.

    A mark that is still there is kept as it is; without one to copy the look from nothing is done.
    """
    there, look, last = _marks(data[_behind_cells(data) :])
    lost = [mark for mark in marks if mark not in there]
    if not lost or not look:
        return data
    p = prefix.encode()
    made = b""
    for number, (area, condition) in enumerate(lost, last + 1):
        made += b'<%sconditionalFormatting sqref="%s">' % (p, _address(area).encode())
        made += b'<%scfRule type="expression" dxfId="%s" priority="%d">' % (p, look, number)
        made += b"<%sformula>%s</%sformula>" % (p, escape(condition).encode(), p)
        made += b"</%scfRule></%sconditionalFormatting>" % (p, p)
    block = BLOCK.search(data, _behind_cells(data))
    at = block.start() if block else _behind(data, p)
    return data[:at] + made + data[at:]


@lru_cache(maxsize=64)
def _marks(behind: bytes) -> tuple[Set[tuple[Rect, str]], bytes, int]:
    """The marks behind the cells of a sheet part, how they look, and the last of all priorities."""
    there: set[tuple[Rect, str]] = set()
    look, last = b"", 0
    for found in MARK.finditer(behind):
        formula = _formula(found["body"], b"formula")
        last = max([last, *(int(number) for _, number in PRIORITY.findall(found["body"]))])
        if not CONDITION.fullmatch(formula):
            continue
        dxf = LOOK.search(found["body"])
        look = dxf[2] if dxf and not look else look
        attributes = ATTRIBUTE.findall(found["head"].decode("utf-8", "replace"))
        named = {name: double or single for name, double, single in attributes}
        there |= {(area, formula) for area in _areas(named.get("sqref", ""))}
    return there, look, last
