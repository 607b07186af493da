"""What people made of the looks of our sheets, carried into today's."""

from __future__ import annotations

from collections.abc import Mapping, MutableMapping
from functools import cached_property

from ..xlsx.book import Book
from ..xlsx.dress import unusual, widths, with_paper_of, with_print_of, with_widths
from ..xlsx.merge import Merged, appearances, merged
from ..xlsx.write import Address, Write, content_of


class Looks:
    """The cell formats of a book, put behind those of today's sheets when one is asked for."""

    def __init__(self, book: Book, fresh: Book) -> None:
        self.book = book
        self.fresh = fresh

    @cached_property
    def _merged(self) -> Merged:
        ours, theirs = (each.package.read(each.styles_part) for each in (self.fresh, self.book))
        found = merged(ours, theirs)
        self.fresh.package.replace(self.fresh.styles_part, found.data)
        return found

    def style(self, number: int) -> str:
        """A cell format of the book, as it is numbered in today's sheets."""
        return str(self._merged.formats.get(number, 0))

    def keep_odd_formats(
        self, pairs: Mapping[Address, Address], writes: MutableMapping[Address, Write]
    ) -> None:
        """Keep the format of cells of ours that look otherwise than most that were made alike."""
        looks = appearances(self.book.package.read(self.book.styles_part))
        found = {
            new: (self.fresh.cell(*new).style, self.book.cell(*old).style)
            for old, new in pairs.items()
        }
        odd = unusual((group, looks[style]) for group, style in found.values())
        for at, (group, style) in found.items():
            if (group, looks[style]) in odd:
                cell = self.fresh.cell(*at)
                plain = Write(content_of(cell), cached=True) if cell.formula else Write(None)
                writes[at] = writes.get(at, plain)._replace(style=self.style(style))


def keep_dress(
    book: Book,
    fresh: Book,
    seen: Mapping[str, str],
    pairs: Mapping[Address, Address],
    same: bool,
) -> None:
    """Keep widths of columns and how sheets are printed, by title here and there.

    Those of another version may be its own: of it stays what is wider, and the paper.
    """
    for title, there in seen.items():
        part = fresh.package.read(fresh.sheets[title])
        other = book.package.read(book.sheets[there])
        moved = {old[2]: new[2] for old, new in pairs.items() if (old[0], new[0]) == (there, title)}
        wanted = {moved.get(at, at): width for at, width in widths(other).items()}
        if not same:
            now = widths(part)
            wanted = {at: w for at, w in wanted.items() if float(w) > float(now.get(at, w))}
        printed = with_print_of if same else with_paper_of
        fresh.package.replace(fresh.sheets[title], printed(with_widths(part, wanted), other))
