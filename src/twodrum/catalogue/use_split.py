"""Worksheet functions that split what was used above the quote among its causes."""

from __future__ import annotations

from ..core import use_split
from .declaration import Function, arguments

CATEGORY = "Reconciliation"
PARTS = "iso_part:ratio resin_part:ratio"
WHOLE_DECIMALS = "{money_decimals}=INT({money_decimals})"


def _part(name: str, mean_names: str) -> str:
    means = "".join(f"*{{mean_{mean}}}" for mean in mean_names.split())
    return f"({{{name}}}-{{quoted_{name}}}){means}"


FUNCTIONS: tuple[Function, ...] = (
    Function(
        "TD_ACCOUNTED_VOLUME",
        CATEGORY,
        use_split.accounted_volume,
        arguments("surface_volume:volume sprayed_volume:volume lost_volume:volume?"),
        "volume",
        "CHOOSE(1+COUNTBLANK({lost_volume}),{surface_volume}+{lost_volume},{sprayed_volume})",
        guards=(
            "{sprayed_volume}>=0",
            "{surface_volume}>=0",
            "N({lost_volume})>=0",
            "N({lost_volume})<={sprayed_volume}",
        ),
        example=(("500 L", "700 L", "150 L"), "650 L"),
    ),
)
