"""Texts as XML writes them; the standard library's own way loads all of its network first."""

from __future__ import annotations

import html

# What a reader of XML would take for a blank inside an attribute.
BLANKS = {"\n": "&#10;", "\r": "&#13;", "\t": "&#9;"}


def escape(text: str) -> str:
    """A text between tags."""
    return html.escape(text, quote=False)


def quoteattr(text: str) -> str:
    """A value of an attribute with its quotes."""
    text = escape(text)
    for blank, written in BLANKS.items():
        text = text.replace(blank, written)
    if '"' not in text:
        return f'"{text}"'
    if "'" not in text:
        return f"'{text}'"
    return '"' + text.replace('"', "&quot;") + '"'
