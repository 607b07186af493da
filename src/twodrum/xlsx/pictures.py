"""Pictures on sheets: read from one, put on another, each as large as it was.

A picture is an anchor in the drawing of its sheet, and the image that it shows.
"""

from __future__ import annotations

import posixpath
import re
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from xml.etree.ElementTree import Element

from .book import Book
from .lists import office_of, put_tag, related, with_kinds
from .markup import quoteattr
from .merge import STRICT
from .package import Package, PackageError

DRAWING_KIND = "application/vnd.openxmlformats-officedocument.drawing+xml"
SHEET_DRAWING = "http://schemas.openxmlformats.org/drawingml/2006/spreadsheetDrawing"
DRAWING = "http://schemas.openxmlformats.org/drawingml/2006/main"
EMPTY = f'<xdr:wsDr xmlns:xdr="{SHEET_DRAWING}" xmlns:a="{DRAWING}"></xdr:wsDr>'
# What an image is, by what its name ends with.
IMAGES = {
    ".png": "image/png",
    ".jpg": "image/jpeg",
    ".jpeg": "image/jpeg",
    ".gif": "image/gif",
    ".bmp": "image/bmp",
    ".tif": "image/tiff",
    ".tiff": "image/tiff",
    ".emf": "image/x-emf",
    ".wmf": "image/x-wmf",
    ".svg": "image/svg+xml",
}
# Behind which a sheet part says where its drawing is.
BEHIND = re.compile(
    rb"<(?:[\w.-]+:)?(?:legacyDrawing|legacyDrawingHF|drawingHF|picture|oleObjects|controls"
    rb"|webPublishItems|tableParts|extLst)\b"
)


@dataclass(frozen=True)
class Picture:
    """An image of a sheet and the cell, both from 1, at whose corner it begins.

    ``wide`` and ``high`` are in EMU, of which 9,525 are a pixel of a screen; ``right`` and
    ``down`` say how far from the corner.
    """

    image: bytes
    kind: str
    row: int
    column: int
    wide: int
    high: int
    right: int = 0
    down: int = 0
    words: str = ""
    # The part of the image in the book that it was read from.
    part: str = ""


def pictures_on(book: Book, title: str) -> list[Picture]:
    """The pictures of a sheet that stand at a cell and say how large they are."""
    found = []
    for kind, part in book.relations(book.sheets[title]).values():
        if kind.endswith("/drawing") and book.package.has(part):
            found += list(_in_drawing(book, part))
    return found


def _in_drawing(book: Book, part: str) -> Iterator[Picture]:
    images = {key: target for key, (_, target) in book.relations(part).items()}
    for anchor in book.xml(part):
        start, shown = _first(anchor, "from"), _first(anchor, "pic")
        blip = None if shown is None else _first(shown, "blip")
        if start is None or shown is None or blip is None:
            continue
        said = {key.rpartition("}")[2]: value for key, value in blip.attrib.items()}
        target = images.get(said.get("embed", ""), "")
        kind = posixpath.splitext(target)[1].lower()
        # Another extent than that of a size is one of what a program keeps beside it.
        sizes = (one.attrib for one in anchor.iter() if _name(one) == "ext" and "cx" in one.attrib)
        wide, high = next(((int(one["cx"]), int(one["cy"])) for one in sizes), (0, 0))
        if kind not in IMAGES or not book.package.has(target) or wide <= 0 or high <= 0:
            continue
        place = {_name(child): int(child.text or 0) for child in start}
        named = _first(shown, "cNvPr")
        yield Picture(
            book.package.read(target),
            kind,
            place.get("row", 0) + 1,
            place.get("col", 0) + 1,
            wide,
            high,
            place.get("colOff", 0),
            place.get("rowOff", 0),
            "" if named is None else named.attrib.get("descr", ""),
            target,
        )


def _first(element: Element, name: str) -> Element | None:
    return next((one for one in element.iter() if _name(one) == name), None)


def _name(element: Element) -> str:
    return element.tag.rpartition("}")[2]


def put_pictures(book: Book, title: str, pictures: Sequence[Picture]) -> None:
    """Put pictures on a sheet, beside what is drawn there; the book has to be read anew."""
    if not pictures:
        return
    package, sheet = book.package, book.sheets[title]
    data = package.read(sheet)
    office = office_of(STRICT.encode() in data)
    part = next((t for kind, t in book.relations(sheet).values() if kind.endswith("/drawing")), "")
    if not part:
        folder = posixpath.dirname(posixpath.dirname(sheet))
        part = _free(package, f"{folder}/drawings/drawing", ".xml")
        package.add(part, EMPTY.encode())
        with_kinds(package, [(part, DRAWING_KIND)])
        key = related(package, sheet, f"{office}/drawing", part)
        package.replace(sheet, put_tag(data, "drawing", BEHIND, office, key))
    made = []
    for picture in pictures:
        folder = posixpath.dirname(posixpath.dirname(part))
        image = _same(package, picture)
        if not image:
            image = _free(package, f"{folder}/media/image", picture.kind)
            package.add(image, picture.image)
            with_kinds(package, [(image, IMAGES[picture.kind])])
        key = related(package, part, f"{office}/image", image)
        made.append(_anchor(picture, key, office))
    drawing = package.read(part)
    close = re.search(rb"</(?:[\w.-]+:)?wsDr>\s*$", drawing)
    if close is None:
        raise PackageError(f"the drawing of its sheet {title} is damaged")
    text = "".join(made).encode("ascii", "xmlcharrefreplace")
    package.replace(part, drawing[: close.start()] + text + drawing[close.start() :])


def _same(package: Package, picture: Picture) -> str:
    """The part of an image that is there already; "" where none is."""
    images = (name for name in package.names() if "/media/" in name)
    alike = (name for name in images if name.endswith(picture.kind))
    return next((name for name in alike if package.read(name) == picture.image), "")


def _free(package: Package, stem: str, kind: str) -> str:
    number = next(n for n in range(1, 1 << 20) if not package.has(f"{stem}{n}{kind}"))
    return f"{stem}{number}{kind}"


def _anchor(picture: Picture, key: str, office: str) -> str:
    start = (
        f"<x:col>{picture.column - 1}</x:col><x:colOff>{picture.right}</x:colOff>"
        f"<x:row>{picture.row - 1}</x:row><x:rowOff>{picture.down}</x:rowOff>"
    )
    size = f'cx="{picture.wide}" cy="{picture.high}"'
    number = 1000 + int(key.removeprefix("rId"))
    return (
        f'<x:oneCellAnchor xmlns:x="{SHEET_DRAWING}" xmlns:d="{DRAWING}" xmlns:o="{office}">'
        f"<x:from>{start}</x:from><x:ext {size}/><x:pic><x:nvPicPr>"
        f'<x:cNvPr id="{number}" name="Picture {number}" descr={quoteattr(picture.words)}/>'
        '<x:cNvPicPr><d:picLocks noChangeAspect="1"/></x:cNvPicPr></x:nvPicPr>'
        f'<x:blipFill><d:blip o:embed="{key}"/><d:stretch><d:fillRect/></d:stretch></x:blipFill>'
        f'<x:spPr><d:xfrm><d:off x="0" y="0"/><d:ext {size}/></d:xfrm>'
        '<d:prstGeom prst="rect"><d:avLst/></d:prstGeom></x:spPr></x:pic><x:clientData/>'
        "</x:oneCellAnchor>"
    )
