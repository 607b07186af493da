"""Our sheets taken out of a workbook of others again.

What its list parts were before ours went in is kept in a part of its own: while nothing else
changed, taking our sheets out gives back every byte.
"""

from __future__ import annotations

import base64
import hashlib
import posixpath
import re
import zlib
from collections.abc import Iterator, Mapping, Sequence, Set
from html import unescape

from .book import Book
from .lists import (
    before_end,
    counted,
    dropped,
    listed,
    next_key,
    office_of,
    prefix_of,
    relations_of,
    without_names,
)
from .markup import quoteattr
from .merge import STRICT
from .package import KINDS, MOST_PART, Package
from .write import recalculate_on_load

# The numbers of sheets in the chain of calculation.
CHAINED = re.compile(rb'\si="([0-9]+)"')
# What the part says that keeps what a workbook was.
JOURNAL = "urn:twodrum:before:1"


def list_parts(book: Book) -> list[str]:
    """The parts of a workbook in which our sheets leave something."""
    parts = [book.workbook_part, relations_of(book.workbook_part), KINDS]
    return [*parts, *([book.styles_part] if book.styles_part else [])]


def keep_journal(book: Book, before: Mapping[str, bytes]) -> None:
    """Keep what the parts were, and how to know that only we changed them."""
    package = book.package
    name = next(f"customXml/item{n}.xml" for n in range(1, 1 << 20) if not _has(package, n))
    part = relations_of(book.workbook_part)
    relations = package.read(part)
    key = next_key(relations)
    strict = STRICT.encode() in package.read(book.workbook_part)
    made = f'<Relationship Id="rId{key}" Type="{office_of(strict)}/customXml" Target="/{name}"/>'
    package.replace(part, before_end(relations, b"Relationships", made))
    lines = []
    for part, data in before.items():
        after = hashlib.sha256(package.read(part)).hexdigest()
        packed = base64.b64encode(zlib.compress(data, 9)).decode()
        lines.append(f"<part name={quoteattr(part)} after={quoteattr(after)}>{packed}</part>")
    package.add(name, f'<before xmlns="{JOURNAL}">{"".join(lines)}</before>'.encode())


def _has(package: Package, number: int) -> bool:
    return package.has(f"customXml/item{number}.xml")


def journal_part(package: Package) -> str:
    """The part that keeps what a workbook was; "" where there is none."""
    for name in package.names():
        if name.startswith("customxml/") and JOURNAL.encode() in package.read(name)[:400]:
            return name
    return ""


def take_out(book: Book, ours: Set[str], names: Set[str]) -> None:
    """Take sheets of ours and names of ours out of the package of a book."""
    package = book.package
    journal = journal_part(package)
    lists = {package.normal(part) for part in list_parts(book)}
    before = dict(_kept(package, journal, lists)) if journal else {}
    ends = [book.sheets[title] for title in book.sheets if title in ours]
    gone = set(closure(book, ends)) - set(_others(book, ours))
    for part in gone:
        package.remove(part)
        if package.has(relations_of(part)):
            package.remove(relations_of(part))
    if journal:
        package.remove(journal)
    if before:
        for part, data in before.items():
            package.replace(part, data)
        for part in [p for p in (book.styles_part,) if p and p not in before]:
            package.remove(part)
        return
    _take_from_lists(book, ours, names, gone | ({journal} if journal else set()))


def _kept(package: Package, journal: str, lists: Set[str]) -> Iterator[tuple[str, bytes]]:
    """What the journal keeps of each part, where nothing but us changed any."""
    found = re.findall(
        rb'<part name="([^"]*)" after="([^"]*)">([^<]*)</part>', package.read(journal)
    )
    parts = [(unescape(name.decode()), after.decode(), packed) for name, after, packed in found]
    same = all(
        package.has(name) and hashlib.sha256(package.read(name)).hexdigest() == after
        for name, after, _ in parts
    )
    if same and {package.normal(name) for name, *_ in parts} <= lists:
        for name, _, packed in parts:
            yield name, zlib.decompressobj().decompress(base64.b64decode(packed), MOST_PART)


def closure(book: Book, parts: Sequence[str]) -> Iterator[str]:
    """Parts and all that they lead to."""
    for part in parts:
        yield part
        yield from closure(book, [target for _, target in book.relations(part).values()])


def _others(book: Book, ours: Set[str]) -> Iterator[str]:
    """Parts that other sheets of a book need too."""
    own = {book.sheets[title] for title in ours if title in book.sheets}
    for _, target in book.relations(book.workbook_part).values():
        if target not in own:
            yield from closure(book, [target])


def _take_from_lists(book: Book, ours: Set[str], names: Set[str], gone: Set[str]) -> None:
    package = book.package
    data = package.read(book.workbook_part)
    prefix = prefix_of(data)
    titles = book.all_sheets()
    numbers = {str(book.sheet_numbers()[title]).encode() for title in titles if title in ours}
    places = [place for place, title in enumerate(titles) if title in ours]
    there = listed(data, prefix)
    data = without_names(data, prefix.encode(), names, set(places))
    for place in reversed(places):
        found = there[place]
        data = data[: found.start()] + data[found.end() :]
    # A sheet of ours that was looked at gives way to the first that stays.
    left = [place for place in range(len(titles)) if place not in places]
    now = {old: new for new, old in enumerate(left)}
    states = list(book.sheet_states().values())
    seen = next((now[old] for old in left if states[old] == "visible"), 0)
    data = counted(data, prefix, lambda old: now.get(old, seen))
    package.replace(book.workbook_part, recalculate_on_load(data))
    normal = {package.normal(part) for part in gone}
    chain = book.chain_part
    if chain and numbers & set(CHAINED.findall(package.read(chain))):
        # A spreadsheet program makes it anew.
        normal.add(package.normal(chain))
        package.remove(chain)
    part = relations_of(book.workbook_part)
    folder = posixpath.dirname(book.workbook_part)

    def leads(tag: bytes) -> bool:
        said = re.search(rb'\sTarget=["\']([^"\']*)', tag)
        target = said[1].decode() if said else ""
        whole = target if target.startswith("/") else posixpath.join(folder, target)
        return package.normal(posixpath.normpath(whole)) in normal

    package.replace(part, dropped(package.read(part), b"Relationship", leads))

    def kind(tag: bytes) -> bool:
        said = re.search(rb'\sPartName=["\']([^"\']*)', tag)
        return said is not None and package.normal(said[1].decode()) in normal

    package.replace(KINDS, dropped(package.read(KINDS), b"Override", kind))
