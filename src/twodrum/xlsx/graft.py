"""Our sheets put into another workbook by splicing.

What the workbook holds stays byte for byte: its lists get our entries behind their own, its
parts are copied as they are.
"""

from __future__ import annotations

import posixpath
import re
from collections.abc import Callable, Iterator, Mapping, Sequence
from html import unescape

from .book import Book
from .lists import (
    FAMILIES,
    before_end,
    counted,
    next_key,
    office_of,
    overrides,
    prefix_of,
    relations_of,
    with_kinds,
    with_names,
    with_sheets,
)
from .markup import escape, quoteattr
from .merge import MAIN, STRICT, Merged, merged
from .naming import Naming
from .package import KINDS, PackageError
from .pictures import IMAGES
from .takeout import keep_journal, list_parts
from .write import recalculate_on_load

SHEET_KIND = "application/vnd.openxmlformats-officedocument.spreadsheetml.worksheet+xml"
STYLES_KIND = "application/vnd.openxmlformats-officedocument.spreadsheetml.styles+xml"
FORMULA = re.compile(
    rb"<((?:c:)?(?:f|formula|formula1|formula2|calculatedColumnFormula))((?:\s[^<>]*)?)>([^<]*)</\1>"
)
LOCATION = re.compile(rb'(\slocation=")([^"]*)"')
STYLED = re.compile(rb'<c r="([A-Z]+[0-9]+)"(?: s="([0-9]+)")?')
STYLED_ROW = re.compile(rb'(<row\b[^>]*?\ss=")([0-9]+)"')
STYLED_COLUMN = re.compile(rb'(<col\b[^>]*?\sstyle=")([0-9]+)"')
CONDITIONAL = re.compile(rb'(\sdxfId=")([0-9]+)"')
TARGET = re.compile(rb'(<Relationship\b[^>]*?\sTarget=")([^"]*)"')
# Why our sheets do not go into a workbook, and what its list of sheets says then.
UNFIT = (
    (rb'<(?:\w+:)?workbookPr\b[^>]*\sdate1904="(?:1|true)"', "counts its days from 1904"),
    (
        rb'<(?:\w+:)?calcPr\b[^>]*\sfullPrecision="(?:0|false)"',
        "calculates with numbers as they are shown, which changes prices",
    ),
    (
        rb'<(?:\w+:)?workbookProtection\b[^>]*\slockStructure="(?:1|true)"',
        "has its list of sheets locked; unprotect the workbook first",
    ),
    (rb"<(?:\w+:)?fileSharing\b[^>]*(?:[pP]assword|hashValue)=", "is reserved by a password"),
)


def refuse_unfit(book: Book) -> None:
    """Refuse a workbook into which our sheets can't go without changing what it says."""
    data = book.package.read(book.workbook_part)
    if data[:2] in (b"\xff\xfe", b"\xfe\xff"):
        raise PackageError("its list of sheets is stored as UTF-16; save it anew as .xlsx")
    for sign, words in UNFIT:
        if re.search(sign, data):
            raise PackageError(f"it {words}; nothing was written")
    if any("/revisions/" in name for name in book.package.names()):
        raise PackageError("it is shared with a history of changes; end that first")


def graft(
    book: Book,
    ours: Book,
    naming: Naming,
    at: int | None = None,
    states: Mapping[str, str] | None = None,
) -> None:
    """Put the sheets of one book into the package of another, at a place in its list of sheets.

    ``naming`` says what our names, tables and sheets are called there, ``states`` which of them
    are hidden otherwise than in our book.
    """
    refuse_unfit(book)
    _refuse_taken(book, ours, naming)
    package = book.package
    before = {part: package.read(part) for part in list_parts(book)}
    work = _Graft(book, ours, naming)
    work.states = {**ours.sheet_states(), **(states or {})}
    work.run(len(book.all_sheets()) if at is None else at)
    keep_journal(book, before)


def _refuse_taken(book: Book, ours: Book, naming: Naming) -> None:
    """Refuse where sheets, names or tables of ours are called as others that are there."""
    titles = {title.casefold() for title in book.all_sheets()}
    taken = [naming.sheets.get(title, title) for title in ours.sheets]
    found = [f"a sheet {title}" for title in taken if title.casefold() in titles]
    there = book.all_names() | {name.casefold() for name in book.all_tables()}
    own = [naming.name(name) for name in (*ours.names, *ours.tables)]
    found += [f"a name {name}" for name in own if name.casefold() in there]
    if found:
        more = f" and {len(found) - 3} more" if len(found) > 3 else ""
        raise PackageError(
            f"it has {', '.join(found[:3])}{more} already; nothing was written; name ours "
            "otherwise with --as WORD"
        )


class _Graft:
    """One book on its way into another."""

    def __init__(self, book: Book, ours: Book, naming: Naming) -> None:
        self.book = book
        self.package = book.package
        self.ours = ours
        self.naming = naming
        self.strict = STRICT.encode() in self.package.read(book.workbook_part)
        self.states: Mapping[str, str] = {}
        self.called: dict[str, str] = {}
        self.kinds: list[tuple[str, str]] = []
        self.relations: list[tuple[str, str, str]] = []
        self.table_ids = iter(range(max([0, *book.all_tables().values()]) + 1, 1 << 31))

    def run(self, at: int) -> None:
        styles = self._styles()
        kinds = dict(overrides(self.ours.package.read(KINDS)))
        parts = list(self.ours.sheets.values())
        closure = list(dict.fromkeys([*parts, *self._behind(parts)]))
        for part in closure:
            self.called[part] = self._free(part)
        for part in closure:
            data = self._part(self.ours.package.read(part), styles if part in parts else None)
            self.package.add(self.called[part], data)
            # A picture is of the kind that its name ends with.
            usual = IMAGES.get(posixpath.splitext(part)[1].lower(), "")
            kind = kinds.get(self.ours.package.normal(part), usual)
            self.kinds.append((self.called[part], kind))
            relations = relations_of(part)
            if self.ours.package.has(relations):
                made = TARGET.sub(self._target(part), self.ours.package.read(relations))
                self.package.add(relations_of(self.called[part]), self._strictly(made))
        self._list(at)

    def _behind(self, parts: Sequence[str]) -> Iterator[str]:
        for part in parts:
            targets = [target for _, target in self.ours.relations(part).values()]
            yield from targets
            yield from self._behind(targets)

    def _free(self, part: str) -> str:
        """A name for a part that nothing has there."""
        stem, kind = posixpath.splitext(part)
        stem = stem.rstrip("0123456789")
        taken = set(self.called.values())
        for number in range(1, 1 << 20):
            name = f"{stem}{number}{kind}"
            if not self.package.has(name) and name not in taken:
                return name
        raise PackageError("it has too many parts")

    def _target(self, part: str) -> Callable[[re.Match[bytes]], bytes]:
        folder = posixpath.dirname(part)

        def put(found: re.Match[bytes]) -> bytes:
            target = found[2].decode()
            whole = target.lstrip("/") if target.startswith("/") else posixpath.join(folder, target)
            return found[1] + b"/" + self.called[posixpath.normpath(whole)].encode() + b'"'

        return put

    def _strictly(self, data: bytes) -> bytes:
        if self.strict:
            for usual, strict in FAMILIES:
                data = data.replace(usual.encode(), strict.encode())
        return data

    def _styles(self) -> Merged:
        ours = self.ours.package.read(self.ours.styles_part)
        part = self.book.styles_part
        if part:
            found = merged(self.package.read(part), ours)
            self.package.replace(part, found.data)
            return found
        empty = f'<styleSheet xmlns="{STRICT if self.strict else MAIN}"></styleSheet>'
        found = merged(empty.encode(), ours)
        name = posixpath.join(posixpath.dirname(self.book.workbook_part), "styles.xml")
        self.package.add(name, found.data)
        self.kinds.append((name, STYLES_KIND))
        self.relations.append(("styles", name, self._next_relation()))
        return found

    def _part(self, data: bytes, styles: Merged | None) -> bytes:
        """A part of ours as it reads there."""
        if styles is not None:
            data = _restyled(data, styles)
            data = re.sub(rb'\stabSelected="[^"]*"', b"", data)
            data = re.sub(rb'(<sheetView\b[^>]*?\sworkbookViewId=")[^"]*"', rb'\g<1>0"', data)
        if re.match(rb"(?:<\?xml[^>]*>\s*)?<table\b", data):
            data = self._table(data)
        if not self.naming.same:
            data = FORMULA.sub(self._formula, data)
            data = LOCATION.sub(self._location, data)
        return self._strictly(data)

    def _table(self, data: bytes) -> bytes:
        end = data.index(b">")
        head = re.sub(rb'(<table\b[^>]*?\sid=")[^"]*"', self._table_number, data[:end])

        def named(found: re.Match[bytes]) -> bytes:
            return found[1] + self.naming.name(found[2].decode()).encode() + b'"'

        return re.sub(rb'(\s(?:name|displayName)=")([^"]*)"', named, head) + data[end:]

    def _table_number(self, found: re.Match[bytes]) -> bytes:
        return b'%b%d"' % (found[1], next(self.table_ids))

    def _formula(self, found: re.Match[bytes]) -> bytes:
        text = escape(self.naming.formula(unescape(found[3].decode())))
        made = text.encode("ascii", "xmlcharrefreplace")
        return b"<%b%b>%b</%b>" % (found[1], found[2], made, found[1])

    def _location(self, found: re.Match[bytes]) -> bytes:
        text = self.naming.formula(unescape(found[2].decode()))
        return found[1] + quoteattr(text)[1:-1].encode("ascii", "xmlcharrefreplace") + b'"'

    def _next_relation(self) -> str:
        data = self.package.read(relations_of(self.book.workbook_part))
        return f"rId{next_key(data) + len(self.relations)}"

    def _list(self, at: int) -> None:
        """Our sheets and names in its list, its relations and its kinds of parts."""
        data = self.package.read(self.book.workbook_part)
        prefix = prefix_of(data)
        sheets = []
        number = max([0, *self.book.sheet_numbers().values()])
        for title, part in self.ours.sheets.items():
            number += 1
            key = self._next_relation()
            self.relations.append(("worksheet", self.called[part], key))
            there = self.naming.sheets.get(title, title)
            state = self.states[title]
            hidden = f' state="{state}"' if state != "visible" else ""
            sheets.append(
                f"<{prefix}sheet name={quoteattr(there)} sheetId={quoteattr(str(number))}{hidden} "
                f'xmlns:r="{office_of(self.strict)}" r:id="{key}"/>'
            )
        data = counted(data, prefix, lambda old: old + len(sheets) if old >= at else old)
        data = with_sheets(data, prefix, at, "".join(sheets))
        data = with_names(data, prefix, self._names(prefix, at))
        self.package.replace(self.book.workbook_part, recalculate_on_load(data))
        part = relations_of(self.book.workbook_part)
        made = "".join(
            f'<Relationship Id="{key}" Type="{office_of(self.strict)}/{kind}" Target="/{name}"/>'
            for kind, name, key in self.relations
        )
        self.package.replace(part, before_end(self.package.read(part), b"Relationships", made))
        with_kinds(self.package, self.kinds)

    def _names(self, prefix: str, at: int) -> str:
        made = []
        source = self.ours.package.read(self.ours.workbook_part).decode()
        for head, text in re.findall(r"<definedName\b([^>]*)>([^<]*)</definedName>", source):
            attributes = dict(re.findall(r'(\w+)="([^"]*)"', head))
            name = attributes.pop("name")
            if "localSheetId" in attributes:
                attributes["localSheetId"] = str(int(attributes["localSheetId"]) + at)
            else:
                name = self.naming.name(name)
            said = "".join(f' {key}="{value}"' for key, value in attributes.items())
            there = escape(self.naming.formula(unescape(text)))
            made.append(f'<{prefix}definedName name="{name}"{said}>{there}</{prefix}definedName>')
        return "".join(made)


def _restyled(data: bytes, styles: Merged) -> bytes:
    formats = {str(n).encode(): str(there).encode() for n, there in styles.formats.items()}
    rules = {str(n).encode(): str(there).encode() for n, there in styles.conditional.items()}

    def styled(found: re.Match[bytes]) -> bytes:
        return b'<c r="%b" s="%b"' % (found[1], formats[found[2] or b"0"])

    def other(found: re.Match[bytes]) -> bytes:
        return found[1] + formats[found[2]] + b'"'

    def rule(found: re.Match[bytes]) -> bytes:
        return found[1] + rules[found[2]] + b'"'

    data = STYLED.sub(styled, data)
    data = STYLED_COLUMN.sub(other, STYLED_ROW.sub(other, data))
    return CONDITIONAL.sub(rule, data)
