"""Worksheet functions of used volumes, and of answers combined with their uncertainty."""

from __future__ import annotations

from ..core import reconcile, uncertainty, used_volume
from .declaration import Function, arguments

CATEGORY = "Reconciliation"

FUNCTIONS: tuple[Function, ...] = (
    Function(
        "TD_COMBINED",
        CATEGORY,
        reconcile.combined,
        arguments("values:number* uncertainties:number*"),
        "",
        example=(
            (
                "412 405 398",
                "6 3 5",
            ),
            (
                "404.521739130435 –; 2.3643312187173 –; 3.28019323671498 –; 19.3961301163203 %; 3"
                " –; 1.28066257006188 –"
            ),
        ),
        parts=arguments(
            "value:number uncertainty:number chi_square:number probability:share"
            " outlier_position:number birge_ratio:number"
        ),
        whole=True,
    ),
    Function(
        "TD_EFFECTIVE_DEGREES_OF_FREEDOM",
        CATEGORY,
        uncertainty.effective_degrees_of_freedom,
        arguments("uncertainties:number* degrees_of_freedom:number*"),
        "number",
        example=(
            (
                "25 9.7 2.9 16.6",
                "18 25.6 50 2",
            ),
            "16.7645539809172 –",
        ),
    ),
    Function(
        "TD_VOLUME_FROM_LEVEL",
        CATEGORY,
        used_volume.volume_from_level,
        arguments("drum_diameter:length level_drop:length"),
        "volume",
        example=(
            (
                "571.5 mm",
                "640 mm",
            ),
            "164.173223227589 L",
        ),
    ),
    Function(
        "TD_VOLUME_FROM_STROKES",
        CATEGORY,
        used_volume.volume_from_strokes,
        arguments("strokes:number stroke_volume:volume"),
        "volume",
        example=(
            (
                "1600",
                "0.25 L",
            ),
            "400 L",
        ),
    ),
    Function(
        "TD_TRANSFER_YIELD",
        CATEGORY,
        used_volume.transfer_yield,
        arguments("area:area film_thickness:thickness volume_solids:share used_volume:volume"),
        "share",
        example=(
            (
                "180 m²",
                "2.05 mm",
                "100 %",
                "404.52173913 L",
            ),
            "91.2188306105881 %",
        ),
    ),
    Function(
        "TD_ACCOUNTED_VOLUME",
        CATEGORY,
        used_volume.accounted_volume,
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
