"""Worksheet functions of isocyanate: equivalents, index, ratio, exposure, moisture."""

from __future__ import annotations

from ..core import exposure, isocyanate, moisture, ratio
from .declaration import Function, arguments

CATEGORY = "Isocyanate"

FUNCTIONS: tuple[Function, ...] = (
    Function(
        "TD_ISOCYANATE_EQUIVALENT_WEIGHT",
        CATEGORY,
        isocyanate.isocyanate_equivalent_weight,
        arguments("nco_share:share"),
        "molar_mass",
        example=(("15.5 %",), "271.0774193548387 g/mol"),
    ),
    Function(
        "TD_NCO_CONTENT",
        CATEGORY,
        isocyanate.nco_content,
        arguments("molar_mass:molar_mass groups:number"),
        "share",
        example=(
            (
                "250.25 g/mol",
                "2",
            ),
            "33.580019980019976 %",
        ),
    ),
    Function(
        "TD_ISOCYANATE_INDEX",
        CATEGORY,
        isocyanate.isocyanate_index,
        arguments(
            "iso_part:ratio resin_part:ratio iso_density:density"
            " resin_density:density nco_share:share"
            " resin_equivalent_weight:molar_mass"
        ),
        "share",
        example=(
            (
                "1 parts",
                "1 parts",
                "1120 kg/m³",
                "1010 kg/m³",
                "15.5 %",
                "256.7 g/mol",
            ),
            "105.00964131208559 %",
        ),
    ),
    Function(
        "TD_OFF_RATIO",
        CATEGORY,
        ratio.off_ratio,
        arguments("iso_volume:volume resin_volume:volume iso_part:ratio resin_part:ratio"),
        "share",
        "{iso_volume}/{resin_volume}*{resin_part}/{iso_part}-1",
        guards=("{resin_volume}>0",),
        example=(("204 L", "200 L", "1", "1"), "2 %"),
    ),
    Function(
        "TD_OFF_RATIO_UNCERTAINTY",
        CATEGORY,
        ratio.off_ratio_uncertainty,
        arguments(
            "iso_volume:volume resin_volume:volume iso_part:ratio resin_part:ratio"
            " iso_uncertainty:volume resin_uncertainty:volume"
        ),
        "share",
        example=(("200 L", "200 L", "1", "1", "3 L", "4 L"), "2.5 %"),
    ),
    Function(
        "TD_RATIO_FROM_LEVELS",
        CATEGORY,
        ratio.ratio_from_levels,
        arguments("iso_drop:length iso_diameter:length resin_drop:length resin_diameter:length"),
        "factor",
        "{iso_drop}*{iso_diameter}^2/({resin_drop}*{resin_diameter}^2)",
        example=(
            (
                "100 mm",
                "0.573 m",
                "98 mm",
                "0.573 m",
            ),
            "1.0204081632653061 ×",
        ),
    ),
    Function(
        "TD_RATIO_FROM_WEIGHTS",
        CATEGORY,
        ratio.ratio_from_weights,
        arguments("iso_mass:mass iso_density:density resin_mass:mass resin_density:density"),
        "factor",
        "{iso_mass}/{iso_density}/({resin_mass}/{resin_density})",
        example=(
            (
                "112 kg",
                "1120 kg/m³",
                "101 kg",
                "1010 kg/m³",
            ),
            "1.0 ×",
        ),
    ),
    Function(
        "TD_VAPOUR_CONCENTRATION",
        CATEGORY,
        exposure.vapour_concentration,
        arguments(
            "volume_fraction:volume_fraction molar_mass:molar_mass air_temperature:temperature"
        ),
        "concentration",
        example=(
            (
                "0.02 ppm",
                "250.25 g/mol",
                "25 °C",
            ),
            "0.20457459284426888 mg/m³",
        ),
    ),
    Function(
        "TD_MDI_CONCENTRATION",
        CATEGORY,
        exposure.mdi_concentration,
        arguments("nco_concentration:concentration"),
        "concentration",
        example=(("0.02 mg/m³",), "0.059559226027560266 mg/m³"),
    ),
    Function(
        "TD_NCO_CONCENTRATION",
        CATEGORY,
        exposure.nco_concentration,
        arguments("mdi_concentration:concentration"),
        "concentration",
        example=(("0.2 mg/m³",), "0.06716003996003997 mg/m³"),
    ),
    Function(
        "TD_ISO_USED_BY_WATER",
        CATEGORY,
        moisture.iso_used_by_water,
        arguments("water_mass:mass nco_share:share"),
        "mass",
        example=(
            (
                "1 g",
                "15.5 %",
            ),
            "30.09463439964904 g",
        ),
    ),
    Function(
        "TD_SEALED_DRUM_PRESSURE",
        CATEGORY,
        moisture.sealed_drum_pressure,
        arguments("water_mass:mass headspace_volume:volume temperature:temperature"),
        "pressure",
        example=(
            (
                "10 g",
                "20 L",
                "30 °C",
            ),
            "69.95640695661116 kPa",
        ),
    ),
    Function(
        "TD_RATIO_FROM_STROKES",
        CATEGORY,
        ratio.ratio_from_strokes,
        arguments(
            "iso_strokes:number iso_stroke_volume:volume resin_strokes:number"
            " resin_stroke_volume:volume"
        ),
        "ratio",
        example=(
            (
                "1600",
                "0.25 L",
                "1580",
                "0.25 L",
            ),
            "1.0126582278481 parts",
        ),
    ),
    Function(
        "TD_DETECTABLE_DIFFERENCE",
        CATEGORY,
        ratio.detectable_difference,
        arguments("uncertainty:number confidence:share power:share"),
        "number",
        example=(
            (
                "0.031",
                "95 %",
                "90 %",
            ),
            "0.100486982052624 –",
        ),
    ),
    Function(
        "TD_DESICCANT_LIFE",
        CATEGORY,
        moisture.desiccant_life,
        arguments(
            "desiccant_mass:mass working_capacity:share air_temperature:temperature"
            " relative_humidity:share"
        ),
        "volume",
        example=(
            (
                "1 kg",
                "20 %",
                "30 °C",
                "80 %",
            ),
            "8261.62680766905 L",
        ),
    ),
    Function(
        "TD_BLEND_EQUIVALENT_WEIGHT",
        CATEGORY,
        isocyanate.blend_equivalent_weight,
        arguments("mass_shares:share* equivalent_weights:molar_mass*"),
        "molar_mass",
        example=(("65 25 10 %", "1000 89.14 1666.67 g/mol"), "284.529266050963 g/mol"),
    ),
)
