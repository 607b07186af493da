"""Series of a worksheet call: ranges that belong together, place by place.

A place that is blank in every series of its group is passed over; one that is blank in some
is told, as is a range of another size.
"""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any

from ..catalogue import Argument, Function
from ..problems import sentence
from .cells import (
    ErrorValue,
    Read,
    WrongError,
    found_words,
    is_blank,
    is_number,
    listed,
    number,
    table,
)


def _shaped(raw: Any) -> tuple[list[Any], tuple[int, int]]:
    """The cells of a range, row by row, and its shape; rows and columns of one width are alike.

    A text such as "5.1 4.7 MPa" is a series too.
    """
    if isinstance(raw, (list, tuple)):
        rows = table(raw)
        cells = [listed(cell) for row in rows for cell in row]
        if len(rows) == 1 or len(rows[0]) == 1:
            return cells, (len(cells), 1)
        return cells, (len(rows), len(rows[0]))
    if isinstance(raw, str) and raw.strip():
        words = raw.replace(";", " ").replace(", ", " ").split()
        count = 0
        while count < len(words) and is_number(words[count]):
            count += 1
        unit = " ".join(words[count:])
        if count > 1:
            cells = [f"{word} {unit}" if unit else float(word) for word in words[:count]]
            return cells, (count, 1)
    cells = [] if is_blank(raw) else [raw]
    return cells, (len(cells), 1)


def kept_places(
    function: Function, given: Sequence[Any], wrong: list[str]
) -> dict[str, Sequence[int]]:
    """For each series the places that count: those that are not blank in all of its group."""
    shaped = {}
    for item, raw in zip(function.arguments, given):
        if item.series and not is_blank(raw):
            try:
                shaped[item.name] = _shaped(raw)
            except WrongError as error:
                wrong.append(f"{item.noun}: {error}")
    kept: dict[str, Sequence[int]] = {}
    for names in function.groups:
        group = {name: shaped[name] for name in names if name in shaped}
        if not group:
            continue
        if len({shape for _, shape in group.values()}) > 1:
            sizes = ", ".join(
                f"{name.replace('_', ' ')} {_size(shape)}" for name, (_, shape) in group.items()
            )
            wrong.append(sentence(f"the ranges differ: {sizes}", "ranges of one size are wanted"))
            continue
        kept.update(dict.fromkeys(group, _places(function, group, wrong)))
    return kept


def _size(shape: tuple[int, int]) -> str:
    high, wide = shape
    return f"has {high} places" if wide == 1 else f"has {high} rows of {wide}"


def _places(
    function: Function,
    group: dict[str, tuple[list[Any], tuple[int, int]]],
    wrong: list[str],
) -> list[int]:
    length = len(next(iter(group.values()))[0])
    # What is blank in all of them at the end is only room that was left.
    while length and all(is_blank(cells[length - 1]) for cells, _ in group.values()):
        length -= 1
    kept = []
    for place in range(length):
        blank = [name for name, (cells, _) in group.items() if is_blank(cells[place])]
        if not blank:
            kept.append(place)
        elif len(blank) < len(group) or function.whole:
            beside = "beside the others" if len(blank) < len(group) else "at every place"
            wrong += [
                sentence(
                    f"{name.replace('_', ' ')} is blank at place {place + 1}",
                    f"a value is wanted {beside}",
                )
                for name in blank
            ]
    return kept


def series(item: Argument, raw: Any, kept: Sequence[int], in_si: bool = False) -> Read:
    """An argument that is a series of values, at the places that count."""
    if is_blank(raw):
        return Read(None if item.optional else [])
    cells, _ = _shaped(raw)
    values, places, wrong = [], [], []
    for place in kept:
        try:
            if isinstance(cells[place], ErrorValue):
                text = sentence(f"{item.noun} is {found_words(cells[place])}", "mend that cell")
                raise WrongError(text)
            one = number(item, cells[place], in_si)
        except WrongError as error:
            wrong.append(f"place {place + 1}: {error}")
            continue
        values.append(one.si)
        places.append((place + 1, one.unit))
    if wrong:
        raise WrongError("\n".join(wrong))
    if not values and item.optional:
        return Read(None)
    return Read(values, places[0][1] if places else "", tuple(places))
