"""Quantities, price and proof for sprayed two-component linings, in spreadsheets."""

__version__ = "0.2.0"
