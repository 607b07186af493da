"""Parts of a job in a workbook that has more than ours: put in, replaced, taken out."""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping, Sequence, Set
from dataclasses import dataclass
from html import unescape

from ..xlsx.book import Book, quoted
from ..xlsx.graft import graft
from ..xlsx.lists import goes_with
from ..xlsx.markup import escape
from ..xlsx.moved import Moves, following
from ..xlsx.naming import PIECE, Naming
from ..xlsx.package import Package, PackageError
from ..xlsx.scan import column_letters
from ..xlsx.takeout import closure, take_out

# Parts of a package that are never ours, and what people call them.
FOREIGN = {
    "vbaproject": "macros",
    "/threadedcomments": "comments in threads",
    "/externallinks/": "links to other workbooks",
    "/pivot": "pivot tables",
    "/media/": "pictures",
    "/querytables/": "queries",
    "connections.xml": "connections",
    "/slicer": "slicers",
    "/embeddings/": "embedded files",
}
# Where formulas stand in the parts of a workbook.
FORMULA = re.compile(
    rb"<((?:[\w.-]+:)?(?:f|formula|formula1|formula2|calculatedColumnFormula|definedName))"
    rb"((?:\s[^<>]*)?)>([^<]*)</\1>"
)
# Where a link of a sheet leads inside the workbook.
LINK = re.compile(rb"(<(?:[\w.-]+:)?hyperlink\b[^<>]*\blocation=)(?:\"([^\"<>]*)\"|'([^'<>]*)')")
WORD = re.compile(r"[A-Za-z_][\w.]*")
# The cell in which a formula of a sheet stands.
CELL = re.compile(rb"[<:]c\s[^<>]*?\br=[\"']([A-Z]+\d+)[\"']")
# What a defined name is called.
NAME = re.compile(rb'\sname="([^"]*)"')
# So many uses are named.
NAMED = 20


@dataclass(frozen=True)
class Known:
    """Our names, in lower case; whether an older version may have had others."""

    names: Set[str]
    older: bool


def has_more(book: Book, ours: Set[str]) -> bool:
    """Whether a workbook holds sheets, macros or anything else that is none of ours."""
    own = {book.package.normal(part) for part in closure(book, _parts(book, ours))}
    parts = [f"/{name}" for name in book.package.names() if name not in own]
    foreign = any(mark in part for part in parts for mark in FOREIGN)
    return foreign or any(title not in ours for title in book.all_sheets())


def _parts(book: Book, titles: Set[str]) -> list[str]:
    return [part for title, part in book.sheets.items() if title in titles]


def refuse_hanging(book: Book, ours: Set[str], kept: Set[str] = frozenset()) -> None:
    """Refuse what hangs on sheets of ours and would go with them, but for parts that are kept."""
    found: dict[str, str] = {}
    for title in ours:
        for part in closure(book, [book.sheets[title]]):
            for mark, word in FOREIGN.items():
                if mark in f"/{part.lower()}" and part not in kept:
                    found.setdefault(word, title)
    if found:
        word, title = next(iter(found.items()))
        raise PackageError(
            f"its sheet {title} has {word}, which would be lost; move them to a sheet of your own "
            "first; nothing was written"
        )


def put_in(
    book: Book,
    fresh: Book,
    naming: Naming,
    at: int | None = None,
    states: Mapping[str, str] | None = None,
) -> Book:
    """A workbook with the sheets of ours in it, read anew."""
    graft(book, fresh, naming, at, states)
    return Book(Package(book.package.to_bytes()))


def taken_out(book: Book, ours: Set[str], known: Known, moves: Moves | None = None) -> Book:
    """A workbook without our sheets; its own formulas follow their cells if they come back."""
    names = our_names(book, ours, known)
    if moves is not None and not moves.none:
        _repoint(book, ours, names, moves)
    take_out(book, ours, names)
    return Book(Package(book.package.to_bytes()))


def our_names(book: Book, ours: Set[str], known: Known) -> set[str]:
    """Names of ours: those of the template; of another version those too that read our sheets."""
    sheets = {quoted(title) for title in ours}
    sheets |= {"'" + title.replace("'", "''") + "'" for title in ours}
    tables = tuple(
        f"{book.prefix}{name}[" for name, table in book.tables.items() if table.area.sheet in ours
    )

    def points(text: str) -> bool:
        sheet, mark, _ = text.rpartition("!")
        return sheet in sheets if mark else text.casefold().startswith(tables)

    names = set(book.names) & known.names
    if known.older:
        # What their formulas read is theirs, if it was never one of ours.
        read = _words(book, ours)
        names |= {n for n, text in book.names.items() if points(text) and n.casefold() not in read}
    return {book.prefix + name for name in names}


def _words(book: Book, ours: Set[str]) -> set[str]:
    """Every word in the formulas of their sheets, in lower case."""
    found: set[str] = set()
    for part in _theirs(book, ours):
        for formula in FORMULA.finditer(book.package.read(part)):
            found |= {word.casefold() for word in WORD.findall(unescape(formula[3].decode()))}
    return found


def _repoint(book: Book, ours: Set[str], names: Set[str], moves: Moves) -> None:
    places = {place for place, title in enumerate(book.all_sheets()) if title in ours}
    titles = {part: quoted(title) for title, part in book.sheets.items()}
    lost: list[str] = []
    missed: list[re.Match[bytes]] = []
    links: list[str] = []
    for part in [book.workbook_part, *_theirs(book, ours)]:
        data = book.package.read(part)

        def put(found: re.Match[bytes]) -> bytes:
            head, text = found[2], unescape(found[3].decode())
            now = following(text, "", moves, ours)
            if now == text:
                return found[0]
            if goes_with(head, names, places):
                return found[0]
            if now is None or b't="shared"' in head or b't="array"' in head:
                missed.append(found)
                return found[0]
            said = escape(now).encode("ascii", "xmlcharrefreplace")
            return b"<%b%b>%b</%b>" % (found[1], head, said, found[1])

        def lead(found: re.Match[bytes]) -> bytes:
            text = unescape((found[2] or found[3]).decode())
            now = following(text, "", moves, ours)
            if now is None and moves.gone:
                links.append(text)
            said = escape(now or "").replace('"', "&quot;").encode("ascii", "xmlcharrefreplace")
            return found[1] + b'"' + said + b'"' if now else found[0]

        book.package.replace(part, LINK.sub(lead, FORMULA.sub(put, data)))
        title = titles.get(part, part)
        lost += [f"{_where(title, one)} (={unescape(one[3].decode())})" for one in missed]
        lost += [f"{title} (a link to {text})" for text in links]
        missed.clear()
        links.clear()
    _refuse(lost)


def _where(title: str, formula: re.Match[bytes]) -> str:
    """The cell of a sheet in which a formula stands, or the name that it is, or its part."""
    name = NAME.search(formula[2])
    if name is not None and formula[1].endswith(b"definedName"):
        return f"the name {unescape(name[1].decode())}"
    data, place = formula.string, formula.start()
    start = max(data.rfind(b"<c ", 0, place), data.rfind(b":c ", 0, place), 0)
    cell = CELL.match(data, start)
    return f"{title}!{cell[1].decode()}" if cell and b"</" not in data[start:place] else title


def _theirs(book: Book, ours: Set[str]) -> list[str]:
    """The parts behind sheets that are none of ours."""
    parts = [part for title, part in book.sheets.items() if title not in ours]
    found = dict.fromkeys(closure(book, parts))
    return [part for part in found if part.endswith(".xml") and book.package.has(part)]


def _refuse(readers: list[str]) -> None:
    """Refuse what formulas of theirs would lose."""
    if readers:
        more = f" and {len(readers) - NAMED} more" if len(readers) > NAMED else ""
        raise PackageError(
            f"{', '.join(readers[:NAMED])}{more} {'read' if readers[1:] else 'reads'} what of ours "
            "would not be there any more; nothing was written; put values there, or point them "
            "elsewhere first"
        )


def refuse_used(book: Book, ours: Set[str], known: Known) -> None:
    """Refuse to take out what other sheets of a workbook read."""
    _refuse(list(_uses(book, ours, our_names(book, ours, known))))


def _uses(book: Book, ours: Set[str], names: Set[str]) -> Iterator[str]:
    tables = {name for name, table in book.tables.items() if table.area.sheet in ours}
    known = names | {book.prefix + name for name in tables}
    for title in book.sheets:
        if title in ours:
            continue
        for (row, column), raw in book.scan(title).cells.items():
            if raw.formula and reads(raw.formula, ours, known):
                yield f"{quoted(title)}!{column_letters(column)}{row} (={raw.formula})"
        for _, *ends in LINK.findall(book.package.read(book.sheets[title])):
            text = unescape(b"".join(ends).decode())
            if reads(text, ours, known):
                yield f"{quoted(title)} (a link to {text})"
    for part in _theirs(book, ours):
        if part in book.sheets.values():
            continue
        for _, _, text in FORMULA.findall(book.package.read(part)):
            if reads(unescape(text.decode()), ours, known):
                yield f"{part} ({unescape(text.decode())})"
    places = {place for place, title in enumerate(book.all_sheets()) if title in ours}
    for _, head, text in FORMULA.findall(book.package.read(book.workbook_part)):
        if not goes_with(head, known, places) and reads(unescape(text.decode()), ours, known):
            name = NAME.search(head)
            yield f"the name {unescape(name[1].decode()) if name else ''}"


def reads(text: str, ours: Set[str], known: Set[str]) -> bool:
    """Whether a formula reads a sheet, a name or a table of ours."""
    titles = {title.casefold() for title in ours}
    for piece in PIECE.finditer(text):
        title = piece["sheet"] or (piece["quoted"] or "")[1:-1].replace("''", "'")
        word = (piece["word"] or piece["table"] or "").casefold()
        # A range of sheets names two of them.
        if not titles.isdisjoint(title.casefold().split(":")) or word in known:
            return True
    return False


def called(
    fresh: Book, prefix: str, present: Mapping[str, str], taken: Sequence[str], word: str
) -> Naming:
    """What our sheets and names are called beside others.

    ``present`` are titles that stay; ``word`` stands behind a title that others have.
    """
    there = {title.casefold() for title in taken}
    titles = dict(present)
    for title in fresh.sheets:
        if title not in titles and title.casefold() in there and word:
            titles[title] = f"{title} {word}"[:31]
    known = frozenset({*fresh.names, *fresh.tables})
    return Naming(prefix, known, titles)
