"""Saves a template so that the same declarations give the same bytes."""

from __future__ import annotations

import re
import zipfile
from datetime import datetime
from io import BytesIO
from pathlib import Path

from openpyxl import Workbook

from . import charts


def save_book(book: Workbook, date: str, words: list[list[str]], path: Path) -> None:
    """Save so that the same declarations give the same file: every date is the changelog's."""
    memory = BytesIO()
    book.save(memory)
    moment = datetime.fromisoformat(date)
    with zipfile.ZipFile(memory) as made, zipfile.ZipFile(path, "w") as kept:
        for name in made.namelist():
            data = made.read(name)
            drawing = re.fullmatch(r"xl/drawings/drawing(\d+)\.xml", name)
            if drawing:
                data = charts.with_words(data, words[int(drawing.group(1)) - 1])
            if name.startswith("xl/worksheets/sheet"):
                # A number is what a cell holds if it does not say otherwise.
                data = re.sub(rb"<c ([^<>]*)></c>", rb"<c \1/>", data.replace(b' t="n"', b""))
            if name == "xl/styles.xml":
                data = FONT.sub(_in_order, data)
            if name == "docProps/core.xml":
                # openpyxl 3.1 writes the time of saving whatever the properties say.
                data = re.sub(rb"\d{4}-\d\d-\d\dT[\d:]+Z", f"{date}T00:00:00Z".encode(), data)
            entry = zipfile.ZipInfo(name, (moment.year, moment.month, moment.day, 0, 0, 0))
            entry.compress_type = zipfile.ZIP_DEFLATED
            kept.writestr(entry, data, compresslevel=9)


# Parts of a font in the order of the standard (ECMA-376 part 1, 18.8.22); openpyxl 3.1 has its own.
FONT = re.compile(rb"<font>(.*?)</font>", re.DOTALL)
FONT_PARTS = (
    *(b"b", b"i", b"strike", b"condense", b"extend", b"outline", b"shadow", b"u", b"vertAlign"),
    *(b"sz", b"color", b"name", b"family", b"charset", b"scheme"),
)


def _in_order(font: re.Match[bytes]) -> bytes:
    parts = re.findall(rb"<(\w+)[^>]*/>", font[1]), re.findall(rb"<\w+[^>]*/>", font[1])
    ordered = sorted(zip(*parts), key=lambda part: FONT_PARTS.index(part[0]))
    return b"<font>" + b"".join(text for _, text in ordered) + b"</font>"
