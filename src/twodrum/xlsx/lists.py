"""The parts of a package that list others: sheets and names, relations, kinds of parts."""

from __future__ import annotations

import posixpath
import re
from collections.abc import Callable, Iterator, Mapping, Sequence, Set
from html import unescape

from .merge import MAIN, STRICT
from .package import KINDS, RESTORE, Package, PackageError

OFFICE = "http://schemas.openxmlformats.org/officeDocument/2006/relationships"
STRICT_OFFICE = "http://purl.oclc.org/ooxml/officeDocument/relationships"
# The strict form of the standard names its elements otherwise.
FAMILIES = (
    (MAIN, STRICT),
    (OFFICE, STRICT_OFFICE),
    (
        "http://schemas.openxmlformats.org/drawingml/2006/",
        "http://purl.oclc.org/ooxml/drawingml/",
    ),
)
NO_RELATIONS = (
    b'<Relationships xmlns="http://schemas.openxmlformats.org/package/2006/relationships">'
    b"</Relationships>"
)
RELATIONS_KIND = "application/vnd.openxmlformats-package.relationships+xml"
# One element without contents, whatever stands in its attributes.
TAG = rb"\b(?:[^>\"']|\"[^\"]*\"|'[^']*')*"


def relations_of(part: str) -> str:
    """The part of the relations of a part."""
    folder, name = posixpath.split(part)
    return posixpath.join(folder, "_rels", f"{name}.rels")


def office_of(strict: bool) -> str:
    """The family of relations of a workbook."""
    return STRICT_OFFICE if strict else OFFICE


def overrides(kinds: bytes) -> Iterator[tuple[str, str]]:
    """Of what kind each part is that the list of kinds names."""
    for tag in re.findall(rb"<(?:[\w.-]+:)?Override\b[^>]*>", kinds):
        said = {
            name: double or single
            for name, double, single in re.findall(
                r"(\w+)\s*=\s*(?:\"([^\"]*)\"|'([^']*)')", tag.decode()
            )
        }
        yield Package.normal(said["PartName"]), said["ContentType"]


def prefix_of(data: bytes) -> str:
    """What stands before the elements of workbook.xml."""
    root = re.search(rb"<((?:[\w.-]+:)?)workbook\b", data)
    if root is None:
        raise PackageError(f"its list of sheets is damaged; {RESTORE}")
    return root[1].decode()


def listed(data: bytes, prefix: str) -> list[re.Match[bytes]]:
    """The elements of the sheets in the list of sheets."""
    return list(re.finditer(b"<" + prefix.encode() + rb"sheet" + TAG + rb">", data))


def with_states(data: bytes, prefix: str, states: Mapping[str, str]) -> bytes:
    """The list of sheets with each of these seen or hidden."""
    for found in reversed(listed(data, prefix)):
        name = re.search(rb'\sname="([^"]*)"', found[0])
        state = states.get(unescape(name[1].decode())) if name else None
        if state is not None:
            plain = re.sub(rb'\sstate="[^"]*"', b"", found[0])
            hidden = b"" if state == "visible" else b' state="%b"' % state.encode()
            tag = re.sub(rb"\s*/?>$", hidden + rb"\g<0>", plain, count=1)
            data = data[: found.start()] + tag + data[found.end() :]
    return data


def counted(data: bytes, prefix: str, place: Callable[[int], int]) -> bytes:
    """What counts the sheets of a workbook, where each is at another place now."""
    p = prefix.encode()

    def number(found: re.Match[bytes]) -> bytes:
        return b"%b%d%b" % (found[1], place(int(found[2])), found[3])

    local = rb"(<" + p + rb'definedName\b[^>]*?\slocalSheetId=["\'])([0-9]+)(["\'])'
    data = re.sub(local, number, data)
    for name in (rb"activeTab", rb"firstSheet"):
        view = rb"(<" + p + rb"workbookView\b[^>]*?\s" + name + rb'=["\'])([0-9]+)(["\'])'
        data = re.sub(view, number, data)
    return data


def with_sheets(data: bytes, prefix: str, at: int, made: str) -> bytes:
    """The list of sheets with more of them at a place."""
    p = prefix.encode()
    there = listed(data, prefix)
    close = data.index(b"</" + p + b"sheets>")
    place = there[at].start() if at < len(there) else close
    return data[:place] + made.encode("ascii", "xmlcharrefreplace") + data[place:]


def with_names(data: bytes, prefix: str, made: str) -> bytes:
    """The list of names with more of them."""
    p, text = prefix.encode(), made.encode("ascii", "xmlcharrefreplace")
    close = data.rfind(b"</" + p + b"definedNames>")
    if close >= 0:
        return data[:close] + text + data[close:]
    whole = b"<%bdefinedNames>%b</%bdefinedNames>" % (p, text, p)
    empty = re.search(rb"<" + p + rb"definedNames\s*/>", data)
    if empty:
        return data[: empty.start()] + whole + data[empty.end() :]
    at = -1
    for name in (b"externalReferences", b"functionGroups", b"sheets"):
        end = b"</" + p + name + b">"
        if at < 0 and end in data:
            at = data.rindex(end) + len(end)
    return data[:at] + whole + data[at:]


def goes_with(head: bytes, names: Set[str], places: Set[int]) -> bool:
    """Whether a name goes with the sheets at these places or is one of these; by its head."""
    local = re.search(rb'\slocalSheetId=["\']([0-9]+)', head)
    if local:
        return int(local[1]) in places
    named = re.search(rb'\sname=["\']([^"\']*)', head)
    return named is not None and unescape(named[1].decode()).casefold() in names


def next_key(relations: bytes) -> int:
    """The first number that no key of a part of relations has."""
    return max([0, *map(int, re.findall(rb'\sId="rId([0-9]+)"', relations))]) + 1


def related(package: Package, part: str, kind: str, target: str) -> str:
    """A new relation of a part to another, by its key; its list is made where it has none."""
    source = relations_of(part)
    if not package.has(source):
        package.add(source, NO_RELATIONS)
    relations = package.read(source)
    key = f"rId{next_key(relations)}"
    made = f'<Relationship Id="{key}" Type="{kind}" Target="/{target}"/>'
    package.replace(source, before_end(relations, b"Relationships", made))
    return key


def put_tag(sheet: bytes, tag: str, behind: re.Pattern[bytes], office: str, key: str) -> bytes:
    """A sheet part with an element that leads to another part, before what comes ``behind`` it."""
    root = re.search(rb"<((?:[\w.-]+:)?)worksheet\b", sheet)
    prefix = root[1].decode() if root else ""
    made = f'<{prefix}{tag} xmlns:r="{office}" r:id="{key}"/>'.encode()
    found = behind.search(sheet, max(0, sheet.rfind(b"sheetData>")))
    at = found.start() if found else sheet.rindex(b"</")
    return sheet[:at] + made + sheet[at:]


def before_end(data: bytes, name: bytes, made: str) -> bytes:
    """A list of parts with more entries behind those that are there."""
    close = re.search(rb"</((?:[\w.-]+:)?)" + name + rb">\s*$", data)
    if close is None:
        raise PackageError(f"one of its lists of parts is damaged; {RESTORE}")
    text = re.sub(r"<(?=[A-Z])", f"<{close[1].decode()}", made)
    return data[: close.start()] + text.encode() + data[close.start() :]


def with_kinds(package: Package, kinds: Sequence[tuple[str, str]]) -> None:
    """Say of what kind new parts are."""
    made = "".join(f'<Override PartName="/{name}" ContentType="{kind}"/>' for name, kind in kinds)
    data = package.read(KINDS)
    for name, kind in (("rels", RELATIONS_KIND), ("xml", "application/xml")):
        if not re.search(rb'\sExtension=["\']' + name.encode() + rb'["\']', data, re.IGNORECASE):
            made = f'<Default Extension="{name}" ContentType="{kind}"/>{made}'
    package.replace(KINDS, before_end(data, b"Types", made))


def dropped(data: bytes, name: bytes, gone: Callable[[bytes], bool]) -> bytes:
    """A list of parts without the entries that go."""
    element = rb"<(?:[\w.-]+:)?" + name + TAG + rb"/>"
    return re.sub(element, lambda found: b"" if gone(found[0]) else found[0], data)


def without_names(data: bytes, p: bytes, names: Set[str], places: Set[int]) -> bytes:
    """The list of names without ours, and without those of the sheets at these places."""

    def put(found: re.Match[bytes]) -> bytes:
        return b"" if goes_with(found[0], names, places) else found[0]

    element = rb"<" + p + rb"definedName\b[^>]*?(?:/>|>[^<]*</" + p + rb"definedName>)"
    data = re.sub(element, put, data)
    empty = rb"<" + p + rb"definedNames\b[^>]*>\s*</" + p + rb"definedNames>"
    return re.sub(empty, b"", data)
