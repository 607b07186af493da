"""Comments of people on sheets of ours, carried to the cells that theirs became.

A comment is two parts: its words, and the box in which a spreadsheet program shows them.
"""

from __future__ import annotations

import posixpath
import re
from collections.abc import Callable, Iterator

from .book import Book
from .lists import before_end, office_of, put_tag, related, with_kinds
from .merge import STRICT
from .package import KINDS, Package
from .scan import column_letters, parse_area
from .write import Address

KIND = "application/vnd.openxmlformats-officedocument.spreadsheetml.comments+xml"
BOX_KIND = "application/vnd.openxmlformats-officedocument.vmlDrawing"
COMMENT = re.compile(
    rb"<((?:[\w.-]+:)?)comment\b(?P<head>[^>]*?\bref=[\"'])(?P<at>[^\"']*)(?P<rest>.*?)</\1comment>",
    re.DOTALL,
)
# Behind which a sheet part says where the boxes of its comments are.
BEHIND = re.compile(
    rb"<(?:[\w.-]+:)?(?:legacyDrawingHF|picture|oleObjects|controls|webPublishItems|tableParts|extLst)\b"
)
BOX = (
    '<v:shape id="_x0000_s{number}" type="#_x0000_t202" '
    "style='position:absolute;width:144pt;height:79pt;visibility:hidden' "
    'fillcolor="#ffffe1" o:insetmode="auto"><v:fill color2="#ffffe1"/>'
    '<v:shadow color="black" obscured="t"/><v:path o:connecttype="none"/>'
    '<v:textbox style="mso-direction-alt:auto"/><x:ClientData ObjectType="Note">'
    "<x:MoveWithCells/><x:SizeWithCells/><x:AutoFill>False</x:AutoFill>"
    "<x:Row>{row}</x:Row><x:Column>{column}</x:Column></x:ClientData></v:shape>"
)
BOXES = (
    '<xml xmlns:v="urn:schemas-microsoft-com:vml" '
    'xmlns:o="urn:schemas-microsoft-com:office:office" '
    'xmlns:x="urn:schemas-microsoft-com:office:excel">'
    '<o:shapelayout v:ext="edit"><o:idmap v:ext="edit" data="1"/></o:shapelayout>'
    '<v:shapetype id="_x0000_t202" coordsize="21600,21600" o:spt="202" '
    'path="m,l,21600r21600,l21600,xe"><v:stroke joinstyle="miter"/>'
    '<v:path gradientshapeok="t" o:connecttype="rect"/></v:shapetype>{boxes}</xml>'
)


def of_sheet(book: Book, title: str) -> bytes:
    """The part with the words of the comments on a sheet; nothing where there are none."""
    found = book.relations(book.sheets[title]).values()
    part = next((target for kind, target in found if kind.endswith("/comments")), "")
    return book.package.read(part) if part else b""


def put_on(
    fresh: Book, data: bytes, title: str, there: str, place: Callable[[Address], Address | None]
) -> Iterator[str]:
    """Put the comments of a sheet on today's; those without a cell are told."""
    boxes: list[str] = []
    lost: list[str] = []

    def put(found: re.Match[bytes]) -> bytes:
        row, column, *_ = parse_area(found["at"].decode())
        now = place((title, row, column))
        if now is None:
            lost.append(f"{title}!{found['at'].decode()}")
            return b""
        number = 1025 + len(boxes)
        boxes.append(BOX.format(number=number, row=now[1] - 1, column=now[2] - 1))
        at = f"{column_letters(now[2])}{now[1]}".encode()
        return b"<%bcomment%b%b%b</%bcomment>" % (
            found[1],
            found["head"],
            at,
            found["rest"],
            found[1],
        )

    said = COMMENT.sub(put, data)
    if boxes:
        _add(fresh.package, fresh.sheets[there], said, BOXES.format(boxes="".join(boxes)).encode())
    if lost:
        yield f"comments left in the copy: {', '.join(lost)}"


def _add(package: Package, sheet: str, words: bytes, boxes: bytes) -> None:
    folder = posixpath.dirname(posixpath.dirname(sheet))
    number = 1
    while any(package.has(f"{folder}/{name}") for name in _names(number)):
        number += 1
    said, drawn = (f"{folder}/{name}" for name in _names(number))
    package.add(said, words)
    package.add(drawn, boxes)
    data = package.read(sheet)
    office = office_of(STRICT.encode() in data)
    related(package, sheet, f"{office}/comments", said)
    key = related(package, sheet, f"{office}/vmlDrawing", drawn)
    package.replace(sheet, put_tag(data, "legacyDrawing", BEHIND, office, key))
    with_kinds(package, [(said, KIND)])
    kinds = package.read(KINDS)
    if not re.search(rb"\sExtension=[\"']vml[\"']", kinds, re.IGNORECASE):
        vml = f'<Default Extension="vml" ContentType="{BOX_KIND}"/>'
        package.replace(KINDS, before_end(kinds, b"Types", vml))


def _names(number: int) -> tuple[str, str]:
    return f"comments{number}.xml", f"drawings/vmlDrawing{number}.vml"
