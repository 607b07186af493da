"""Cell formats that are added to a book; those that are there stay as they are."""

from __future__ import annotations

import re

from .book import Book
from .package import PackageError


class Styles:
    """Cell formats appended to the styles of a book; those that are there stay as they are."""

    def __init__(self, book: Book) -> None:
        self.book = book
        self.made: dict[tuple[int, str, bool], str] = {}
        self.data = book.package.read(book.styles_part) if book.styles_part else b""
        found = re.search(
            rb"<((?:[\w.-]+:)?)cellXfs\b[^>]*>(.*?)</\1cellXfs>", self.data, re.DOTALL
        )
        if found is None:
            raise PackageError("its list of styles is damaged; restore it from a copy")
        self.prefix = found[1]
        element = b"<" + self.prefix + rb"xf\b[^>]*?(?:/>|>.*?</" + self.prefix + rb"xf>)"
        self.formats = re.findall(element, found[2], re.DOTALL)
        self.count = len(self.formats)

    def like(self, base: int, code: str, unlocked: bool = True) -> str:
        """The number of a format as an existing one, with a number format, and unlocked or not."""
        key = (base, code, unlocked)
        if key not in self.made:
            number = self._format_number(code)
            old = self.formats[base if base < self.count else 0]
            head = re.match(rb"<[^>]*?(?=/?>)", old)
            assert head is not None
            attributes = re.sub(
                rb"\s(numFmtId|applyNumberFormat|applyProtection)=(\"[^\"]*\"|'[^']*')",
                b"",
                head[0],
            )
            attributes += b' numFmtId="%d" applyNumberFormat="1" applyProtection="1"' % number
            aligned = re.search(
                b"<"
                + self.prefix
                + rb"alignment\b[^>]*?(?:/>|>.*?</"
                + self.prefix
                + rb"alignment>)",
                old,
                re.DOTALL,
            )
            p = self.prefix
            made = attributes + b">" + (aligned[0] if aligned else b"")
            made += b"<" + p + b'protection locked="%d"/></' % (not unlocked) + p + b"xf>"
            if made in self.formats:
                self.made[key] = str(self.formats.index(made))
            else:
                self.formats.append(made)
                self.made[key] = str(len(self.formats) - 1)
        return self.made[key]

    def _format_number(self, code: str) -> int:
        """The number of a number format; a new one where the book has none like it."""
        if code == "General":
            return 0
        listed = {
            found[2]: int(found[1])
            for found in re.finditer(rb'numFmtId="(\d+)"\s+formatCode="([^"]*)"', self.data)
        }
        listed |= {
            found[1]: int(found[2])
            for found in re.finditer(rb'formatCode="([^"]*)"\s+numFmtId="(\d+)"', self.data)
        }
        wanted = [code.encode(), code.replace("-G", "\\-G").encode()]
        for text in wanted:
            if text in listed:
                return listed[text]
        number = max([200, *listed.values()]) + 1
        p = self.prefix
        made = b"<" + p + b'numFmt numFmtId="%d" formatCode="%s"/>' % (number, code.encode())
        block = re.search(rb"<" + p + rb"numFmts\b[^>]*?(/?)>", self.data)
        if block and not block[1]:
            count = len(listed) + 1
            head = re.sub(rb'count="\d+"', b'count="%d"' % count, block[0])
            self.data = self.data[: block.start()] + head + made + self.data[block.end() :]
        else:
            made = b"<" + p + b'numFmts count="1">' + made + b"</" + p + b"numFmts>"
            if block:
                self.data = self.data[: block.start()] + made + self.data[block.end() :]
            else:
                root = re.search(rb"<" + p + rb"styleSheet\b[^>]*>", self.data)
                assert root is not None
                self.data = self.data[: root.end()] + made + self.data[root.end() :]
        return number

    def keep(self) -> None:
        """Write the formats that were made."""
        fresh = self.formats[self.count :]
        if fresh:
            p = self.prefix
            close = self.data.index(b"</" + p + b"cellXfs>")
            data = self.data[:close] + b"".join(fresh) + self.data[close:]
            data = re.sub(
                rb"(<" + p + rb"cellXfs\b[^>]*?count=)([\"'])\d+\2",
                rb'\1"%d"' % len(self.formats),
                data,
                count=1,
            )
            self.book.package.replace(self.book.styles_part, data)
