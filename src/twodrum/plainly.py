"""Texts of others as they may be printed."""

from __future__ import annotations

import unicodedata

# Control and format characters: they move the cursor, or turn the direction of words.
CONTROL = ("Cc", "Cf")


def plain(text: object) -> str:
    """A text in which no cell or file name can move the cursor, or turn words round."""
    return "".join(
        character if unicodedata.category(character) not in CONTROL else escaped(character)
        for character in str(text)
    )


def escaped(character: str) -> str:
    """One character by its number."""
    return f"\\u{ord(character):04x}"
