"""The cell formats of one book put behind those of another; none of either is changed."""

from __future__ import annotations

import re
from collections.abc import Mapping
from dataclasses import dataclass
from xml.etree import ElementTree

from .package import RESTORE, PackageError

MAIN = "http://schemas.openxmlformats.org/spreadsheetml/2006/main"
STRICT = "http://purl.oclc.org/ooxml/spreadsheetml/main"
# Lists of a styles part, in the order of the standard.
LISTS = ("numFmts", "fonts", "fills", "borders", "cellStyleXfs", "cellXfs", "cellStyles", "dxfs")
# What stands behind each that may be absent.
BEHIND = ("tableStyles", "colors", "extLst")
# How the names of our cell styles begin.
OURS = "td_"
# Number formats below are known by number alone.
OWN_FORMATS = 164


@dataclass(frozen=True)
class Merged:
    """The styles part, and what a cell format and a conditional format are numbered there."""

    data: bytes
    formats: Mapping[int, int]
    conditional: Mapping[int, int]


def merged(theirs: bytes, ours: bytes) -> Merged:
    """Formats of ours behind those that are there; what is there alike is taken as it is."""
    there, add = _Lists(theirs), _Lists(ours)
    fonts = {n: there.place("fonts", plain(font)) for n, font in enumerate(add.items["fonts"])}
    fills = {n: there.place("fills", fill) for n, fill in enumerate(add.items["fills"])}
    borders = {n: there.place("borders", border) for n, border in enumerate(add.items["borders"])}
    numbers = {int(item.get("numFmtId", "0")): there.number(item) for item in add.items["numFmts"]}
    formats = {}
    for place, item in enumerate(add.items["cellXfs"]):
        made = _copied(item)
        made.set("fontId", str(fonts[int(item.get("fontId", "0"))]))
        made.set("fillId", str(fills[int(item.get("fillId", "0"))]))
        made.set("borderId", str(borders[int(item.get("borderId", "0"))]))
        number = int(item.get("numFmtId", "0"))
        made.set("numFmtId", str(numbers.get(number, number)))
        # The named style behind it is theirs: each format says of itself all that it has.
        made.attrib.pop("xfId", None)
        if there.items["cellStyleXfs"]:
            made.set("xfId", "0")
        for part in ("Font", "Fill", "Border", "NumberFormat", "Alignment", "Protection"):
            made.set(f"apply{part}", "1")
        formats[place] = there.place("cellXfs", made)
    conditional = {n: there.place("dxfs", item) for n, item in enumerate(add.items["dxfs"])}
    return Merged(there.data(), formats, conditional)


def ours_by_name(data: bytes, names: str = OURS) -> set[int]:
    """The cell formats of a styles part behind which a named style of ours begins with these."""
    lists = _Lists(data)
    named = {
        item.get("xfId")
        for item in lists.items["cellStyles"]
        if item.get("name", "").startswith(names)
    }
    return {n for n, item in enumerate(lists.items["cellXfs"]) if item.get("xfId") in named}


def appearances(data: bytes) -> list[str]:
    """What each cell format of a styles part looks like, whatever its parts are numbered."""
    lists = _Lists(data)
    codes = {str(number): code for code, number in lists.numbers.items()}
    found = []
    for item in lists.items["cellXfs"]:
        pieces = [_key(child, lists.main) for child in item]
        for name in ("font", "fill", "border"):
            pieces.append(
                _key(lists.items[f"{name}s"][int(item.get(f"{name}Id", "0"))], lists.main)
            )
        number = item.get("numFmtId", "0")
        found.append(" ".join((*pieces, codes.get(number, number))))
    return found


def plain(font: ElementTree.Element) -> ElementTree.Element:
    """A font that looks the same under any theme."""
    made = _copied(font)
    for child in list(made):
        tag = child.tag.rsplit("}", 1)[-1]
        if tag == "scheme":
            made.remove(child)
        if tag == "color" and "theme" in child.attrib:
            child.attrib.clear()
            child.set("rgb", "FF000000")
    return made


def _copied(item: ElementTree.Element) -> ElementTree.Element:
    return ElementTree.fromstring(ElementTree.tostring(item))


def _key(item: ElementTree.Element, main: str) -> str:
    """A text that is the same for items that say the same."""
    text = ElementTree.tostring(item, encoding="unicode").replace(MAIN, main)
    return ElementTree.canonicalize(text, rewrite_prefixes=True)


class _Lists:
    """The lists of one styles part, and what is put behind each."""

    def __init__(self, data: bytes) -> None:
        self.raw = data
        try:
            root = ElementTree.fromstring(data)
        except ElementTree.ParseError as error:
            raise PackageError(f"its cell formats are damaged ({error}); {RESTORE}") from None
        self.main = root.tag[1:].partition("}")[0]
        self.prefix = self._prefix()
        self.items: dict[str, list[ElementTree.Element]] = {name: [] for name in LISTS}
        for element in root:
            tag = element.tag.rsplit("}", 1)[-1]
            if tag in self.items and element.tag.startswith(f"{{{self.main}}}"):
                self.items[tag] = list(element)
        self.known = {
            name: {_key(item, self.main): place for place, item in reversed(list(enumerate(items)))}
            for name, items in self.items.items()
        }
        self.fresh: dict[str, list[str]] = {name: [] for name in LISTS}
        self.numbers = {
            one.get("formatCode", ""): int(one.get("numFmtId", "0"))
            for one in self.items["numFmts"]
        }

    def _prefix(self) -> bytes:
        root = re.search(rb"<((?:[\w.-]+:)?)styleSheet\b", self.raw)
        return root[1] if root else b""

    def _written(self, item: ElementTree.Element) -> str:
        text = ElementTree.tostring(item, encoding="unicode")
        text = re.sub(r'\sxmlns(:\w+)?="[^"]*"', "", text)
        return re.sub(r"(?<=<)(/?)ns\d+:", rf"\g<1>{self.prefix.decode()}", text)

    def place(self, name: str, item: ElementTree.Element) -> int:
        """The number of an item in a list; behind the others where there is none like it."""
        key, known = _key(item, self.main), self.known[name]
        if key not in known:
            known[key] = len(self.items[name]) + len(self.fresh[name])
            self.fresh[name].append(self._written(item))
        return known[key]

    def number(self, item: ElementTree.Element) -> int:
        """The number of a number format."""
        code = item.get("formatCode", "")
        if code not in self.numbers:
            made = _copied(item)
            self.numbers[code] = max([OWN_FORMATS - 1, *self.numbers.values()]) + 1
            made.set("numFmtId", str(self.numbers[code]))
            self.place("numFmts", made)
        return self.numbers[code]

    def data(self) -> bytes:
        """The part with what was put behind its lists."""
        data = self.raw
        for name in LISTS:
            fresh = "".join(self.fresh[name]).encode()
            if fresh:
                count = len(self.items[name]) + len(self.fresh[name])
                data = self._behind(data, name.encode(), fresh, count)
        return data

    def _behind(self, data: bytes, name: bytes, fresh: bytes, count: int) -> bytes:
        p = self.prefix
        head = re.search(rb"<" + p + name + rb"\b[^>]*?(/?)>", data)
        if head is not None:
            tag = re.sub(rb'\scount=(["\'])\d+\1', b"", head[0].removesuffix(b">").rstrip(b"/"))
            tag = tag.rstrip() + b' count="%d">' % count
            close = b"</" + p + name + b">"
            if head[1]:
                return data[: head.start()] + tag + fresh + close + data[head.end() :]
            end = data.index(close, head.end())
            inside = data[head.end() : end]
            return data[: head.start()] + tag + inside + fresh + data[end:]
        made = b'<%b%b count="%d">%b</%b%b>' % (p, name, count, fresh, p, name)
        at = self._place_of(data, name.decode())
        return data[:at] + made + data[at:]

    def _place_of(self, data: bytes, name: str) -> int:
        """Where a list begins that is not there: before the first that follows it."""
        p = self.prefix.decode()
        for later in (*LISTS[LISTS.index(name) + 1 :], *BEHIND):
            found = re.search(f"<{p}{later}\\b".encode(), data)
            if found:
                return found.start()
        return data.rindex(b"</" + self.prefix + b"styleSheet>")
