"""Worksheet functions of used volumes, and of answers combined with their doubt."""

from __future__ import annotations

from ..core import quoted, reconcile, uncertainty, used_volume
from .declaration import Function, arguments

CATEGORY = "Reconciliation"

FUNCTIONS: tuple[Function, ...] = (
    Function(
        "TD_VOLUME_OVER",
        CATEGORY,
        quoted.volume_over,
        arguments("volume:volume compared_volume:volume"),
        "volume",
        "{volume}-{compared_volume}",
        example=(("554 L", "500 L"), "54 L"),
    ),
    Function(
        "TD_SHARE_OVER",
        CATEGORY,
        quoted.share_over,
        arguments("volume_per_area:volume_per_area quoted_per_area:volume_per_area"),
        "share",
        "{volume_per_area}/{quoted_per_area}-1",
        example=(("2.2 L/m²", "2 L/m²"), "10 %"),
    ),
    Function(
        "TD_AREA_OVER",
        CATEGORY,
        quoted.area_over,
        arguments("area:area quoted_area:area"),
        "area",
        "{area}-{quoted_area}",
        example=(("312 m²", "300 m²"), "12 m²"),
    ),
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
            " odd_position:number birge_ratio:number"
        ),
        whole=True,
    ),
    Function(
        "TD_COMBINED_CORRELATED",
        CATEGORY,
        reconcile.combined_correlated,
        arguments("values:number* covariances:number*"),
        "",
        example=(
            (
                "412 405 398",
                "36 9 0 9 9 0 0 0 25",
            ),
            "403.147058823529 –; 2.57247877713763 –",
        ),
        parts=arguments("value:number uncertainty:number"),
        pairs=(("values",), ("covariances",)),
        whole=True,
    ),
    Function(
        "TD_PROPAGATED_UNCERTAINTY",
        CATEGORY,
        uncertainty.propagated_uncertainty,
        arguments("sensitivities:number* uncertainties:number* correlations:number?*"),
        "number",
        example=(
            (
                "1 1",
                "3 4",
                "0.5",
            ),
            "6.08276253029822 –",
        ),
        pairs=(("sensitivities", "uncertainties"), ("correlations",)),
        whole=True,
    ),
    Function(
        "TD_PROPAGATED_COVARIANCE",
        CATEGORY,
        uncertainty.propagated_covariance,
        arguments(
            "sensitivities:number* other_sensitivities:number* uncertainties:number*"
            " correlations:number?*"
        ),
        "number",
        example=(
            (
                "1 1",
                "1 -1",
                "3 4",
                "0.5",
            ),
            "-7 –",
        ),
        pairs=(
            ("sensitivities", "other_sensitivities", "uncertainties"),
            ("correlations",),
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
        "TD_VOLUME_UNCERTAINTY_FROM_LEVEL",
        CATEGORY,
        used_volume.volume_uncertainty_from_level,
        arguments(
            "drum_diameter:length level_drop:length diameter_uncertainty:length"
            " level_uncertainty:length"
        ),
        "volume",
        example=(
            (
                "571.5 mm",
                "640 mm",
                "1 mm",
                "2 mm",
            ),
            "0.92547968548592 L",
        ),
    ),
    Function(
        "TD_VOLUME_FROM_WEIGHT",
        CATEGORY,
        used_volume.volume_from_weight,
        arguments("mass:mass density:density"),
        "volume",
        "{mass}/{density}",
        guards=("{density}>0", "{mass}>=0"),
        example=(
            (
                "450 kg",
                "1100 kg/m³",
            ),
            "409.090909090909 L",
        ),
    ),
    Function(
        "TD_VOLUME_UNCERTAINTY_FROM_WEIGHT",
        CATEGORY,
        used_volume.volume_uncertainty_from_weight,
        arguments("mass:mass density:density mass_uncertainty:mass density_uncertainty:density"),
        "volume",
        example=(
            (
                "450 kg",
                "1100 kg/m³",
                "0.5 kg",
                "5 kg/m³",
            ),
            "1.91425368957033 L",
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
        "TD_VOLUME_UNCERTAINTY_FROM_STROKES",
        CATEGORY,
        used_volume.volume_uncertainty_from_strokes,
        arguments(
            "strokes:number stroke_volume:volume strokes_uncertainty:number"
            " stroke_volume_uncertainty:volume"
        ),
        "volume",
        example=(
            (
                "1600",
                "0.25 L",
                "1",
                "0.004 L",
            ),
            "6.40488095127458 L",
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
        "TD_TRANSFER_YIELD_UNCERTAINTY",
        CATEGORY,
        used_volume.transfer_yield_uncertainty,
        arguments(
            "area:area film_thickness:thickness volume_solids:share used_volume:volume"
            " area_uncertainty:area film_uncertainty:thickness used_volume_uncertainty:volume"
        ),
        "share",
        example=(
            (
                "180 m²",
                "2.05 mm",
                "100 %",
                "404.52173913 L",
                "2 m²",
                "0.06 mm",
                "2.3643312187 L",
            ),
            "2.90507405473802 %",
        ),
    ),
)
