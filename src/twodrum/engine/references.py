"""What a result may read: a name, a row, a column taken together, a row found by its key."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Union


@dataclass(frozen=True)
class Name:
    """A single value of the workbook."""

    name: str


@dataclass(frozen=True)
class Row:
    """The value of another column in the same row."""

    column: str


@dataclass(frozen=True)
class Agg:
    """A whole column taken together: "sum" of the rows in use.

    Where no row is in use it is refused. With ``where``, a column and a word, only rows that
    say so count; then it is blank where there is none, and where one of them has no value yet.
    With ``or_none`` it is 0 where none says so.
    With ``typed``, a field, only rows in which it was typed count; with ``blank``, the others.
    """

    table: str
    column: str
    how: str = "sum"
    where: tuple[str, str] = ("", "")
    typed: str = ""
    blank: str = ""
    or_none: bool = False


@dataclass(frozen=True)
class Lookup:
    """The value of a column in the row whose key is the word, or is this row's key.

    With ``may_lack`` it is blank where the table does not use that row.
    """

    table: str
    key: str | Row
    column: str
    may_lack: bool = False


Reference = Union[Name, Row, Agg, Lookup]
