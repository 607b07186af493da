"""Quantities, price and proof for sprayed two-component linings, in spreadsheets."""

from typing import Any

__version__ = "0.10.0"


def call(name: str, *given: Any) -> Any:
    """A worksheet function from Python; see `twodrum.worksheet.call`."""
    from .worksheet import call as worksheet_call

    return worksheet_call(name, *given)
