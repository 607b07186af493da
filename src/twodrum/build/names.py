"""A name for what a formula reads or a person links to, and no more."""

from __future__ import annotations

import re
from collections.abc import Iterator
from typing import TYPE_CHECKING

from ..workbook.layout import heads_of_units
from ..xlsx.book import COLUMN, SAID, WORDS
from .fold import cells_of

if TYPE_CHECKING:
    from .builder import Builder

WORD = re.compile(r"[A-Za-z_]\w*")


def drop_spare_names(builder: Builder) -> None:
    """Take away the names of cells that are found by their row or column.

    An input that has no value for formulas keeps the name of its note: by that it is found when
    its own was dragged along.
    """
    names = builder.book.defined_names
    read = {word for text in _formulas(builder) for word in WORD.findall(text)}
    columns = [name for name in names if name.endswith(COLUMN)]
    above = heads_of_units(builder.model)
    typed = {item.name for item in builder.model.fields()}
    beside = {name[: -len(COLUMN)].rpartition("_")[2] for name in columns}
    inside = {at for name in columns for at in _cells(names[name].attr_text)}
    for name in list(names):
        if name in above and name not in read:
            del names[name]
            continue
        base, _, what = name.rpartition("_")
        kept = what == WORDS and f"{base}{SAID}" not in names
        kept |= what == "note" and base in typed and f"{base}_si" not in names
        if what in beside and not kept and name not in read and names[name].attr_text in inside:
            del names[name]


def _cells(text: str) -> Iterator[str]:
    sheet, _, cells = text.rpartition("!")
    _, letter, first, _, last = re.split(r"\$|:\$", cells)[0:5]
    for row in range(int(first), int(last) + 1):
        yield f"{sheet}!${letter}${row}"


def _formulas(builder: Builder) -> Iterator[str]:
    for worksheet in builder.sheets.values():
        yield from (str(cell.value) for cell in cells_of(worksheet) if cell.data_type == "f")
        for rules in worksheet.conditional_formatting:
            for rule in rules.rules:
                yield from rule.formula
        for rule in worksheet.data_validations.dataValidation:
            yield from (text for text in (rule.formula1, rule.formula2) if text)
