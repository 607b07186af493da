"""The engine: what a workbook is made of, arithmetic as one line of text, and its values."""
