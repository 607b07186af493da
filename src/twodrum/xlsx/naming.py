"""What our names, tables and sheets are called in a book that has others beside them."""

from __future__ import annotations

import re
from collections.abc import Mapping, Set
from dataclasses import dataclass, field
from functools import cached_property, lru_cache

from .book import quoted

# What a formula is made of, as far as it can name something: a text, a sheet, a table, a word.
PIECE = re.compile(
    r"\"[^\"]*\"|(?P<quoted>'(?:[^']|'')+')!|(?P<sheet>[^\W\d][\w.]*)!"
    r"|(?P<table>[^\W\d][\w.]*)(?=\[)(?P<columns>\[(?:[^\[\]]|\[[^\]]*\])*\])"
    r"|(?P<word>(?<![\w.$!])[^\W\d][\w.]*)(?![\w.(!\[])"
)


# All that a naming is.
_Key = tuple[str, Set[str], tuple[tuple[str, str], ...]]


@dataclass(frozen=True)
class Naming:
    """A prefix before each of our names and tables, and sheets that are called otherwise."""

    prefix: str = ""
    # Our names and tables, in lower case.
    known: Set[str] = frozenset()
    # Titles of ours, by what the template calls them.
    sheets: Mapping[str, str] = field(default_factory=dict)

    @property
    def same(self) -> bool:
        """Whether all is called as in the template."""
        return not self.prefix and all(ours == there for ours, there in self.sheets.items())

    def name(self, ours: str) -> str:
        """What a name or table of ours is called there."""
        return self.prefix + ours

    def formula(self, text: str) -> str:
        """A formula of the template as it reads there."""
        return text if self.same else _named(self._key, text)

    @cached_property
    def _key(self) -> _Key:
        return self.prefix, self.known, tuple(self.sheets.items())

    def _piece(self, found: re.Match[str]) -> str:
        whole = found[0]
        if found["word"]:
            return self._known(found["word"])
        if found["table"]:
            return self._known(found["table"]) + found["columns"]
        if found["quoted"] or found["sheet"]:
            title = found["sheet"] or found["quoted"][1:-1].replace("''", "'")
            there = self.sheets.get(title)
            return whole if there in (None, title) else f"{quoted(str(there))}!"
        return whole

    def _known(self, word: str) -> str:
        return self.prefix + word if word.casefold() in self.known else word


@lru_cache(maxsize=1 << 14)
def _named(key: _Key, text: str) -> str:
    """A formula as it reads there; every workbook of ours has the same ones."""
    prefix, known, sheets = key
    return PIECE.sub(Naming(prefix, known, dict(sheets))._piece, text)
