"""Where templates and the demo stand: inside an installed package, or in the checkout."""

from __future__ import annotations

from pathlib import Path


def resource(folder: str, name: str) -> Path:
    """A file of ``workbook_templates``, ``demo`` or, with "", beside them."""
    here = Path(__file__).parent
    for root in (here, here.parents[1]):
        path = root / folder / name
        if path.is_file():
            return path
    raise FileNotFoundError(f"{folder}/{name} is missing; install twodrum again")
