"""Worksheet functions of ratio, density and drums."""

from __future__ import annotations

from ..core import density, drums, mix
from .declaration import Function, arguments

CATEGORY = "Mix and drums"
PARTS = "iso_part:ratio resin_part:ratio"
DRUM = "drum_volume:volume heel_volume:volume"
HEEL_GUARD = "{heel_volume}<{drum_volume}"
WARM = "thermal_expansion:expansion temperature:temperature reference_temperature:temperature"
WARMING = "(1+{thermal_expansion}*({temperature}-{reference_temperature}))"

FUNCTIONS: tuple[Function, ...] = (
    Function(
        "TD_RATIO_TOTAL",
        CATEGORY,
        mix.ratio_total,
        arguments(PARTS),
        "ratio",
        "{iso_part}+{resin_part}",
        guards=("{iso_part}>0", "{resin_part}>0"),
        example=(("1", "1"), "2 parts"),
    ),
    Function(
        "TD_COMPONENT_VOLUME",
        CATEGORY,
        mix.component_volume,
        arguments("mixed_volume:volume ratio_part:ratio ratio_total:ratio"),
        "volume",
        "{mixed_volume}*{ratio_part}/{ratio_total}",
        guards=("{ratio_part}<={ratio_total}",),
        example=(("1000 L", "1", "2"), "500 L"),
    ),
    Function(
        "TD_MASS_RATIO",
        CATEGORY,
        mix.mass_ratio,
        arguments(f"{PARTS} iso_density:density resin_density:density"),
        "ratio",
        "{iso_part}/{resin_part}*{iso_density}/{resin_density}",
        example=(("1", "1", "1120 kg/m³", "1020 kg/m³"), "1.09803921568627 parts"),
    ),
    Function(
        "TD_MIXED_DENSITY",
        CATEGORY,
        mix.mixed_density,
        arguments(f"{PARTS} iso_density:density resin_density:density"),
        "density",
        "({iso_part}*{iso_density}+{resin_part}*{resin_density})/({iso_part}+{resin_part})",
        example=(("1", "1", "1120 kg/m³", "1020 kg/m³"), "1070 kg/m³"),
    ),
    Function(
        "TD_MIXED_VOLUME_SOLIDS",
        CATEGORY,
        mix.mixed_volume_solids,
        arguments(f"{PARTS} iso_solids:share resin_solids:share"),
        "share",
        "({iso_part}*{iso_solids}+{resin_part}*{resin_solids})/({iso_part}+{resin_part})",
        guards=("{iso_part}>0", "{resin_part}>0"),
        example=(("1", "1", "100 %", "96 %"), "98 %"),
    ),
    Function(
        "TD_DENSITY_AT_TEMPERATURE",
        CATEGORY,
        density.density_at_temperature,
        arguments(f"density:density {WARM}"),
        "density",
        "{density}/" + WARMING,
        example=(("1120 kg/m³", "7e-4 1/K", "70 °C", "20 °C"), "1082.12560386473 kg/m³"),
    ),
    Function(
        "TD_VOLUME_AT_TEMPERATURE",
        CATEGORY,
        density.volume_at_temperature,
        arguments(f"volume:volume {WARM}"),
        "volume",
        "{volume}*" + WARMING,
        example=(("100 L", "7e-4 1/K", "70 °C", "20 °C"), "103.5 L"),
    ),
    Function(
        "TD_COMPONENT_MASS",
        CATEGORY,
        density.component_mass,
        arguments("volume:volume density:density"),
        "mass",
        "{volume}*{density}",
        example=(("200 L", "1120 kg/m³"), "224 kg"),
    ),
    Function(
        "TD_NEEDED_VOLUME",
        CATEGORY,
        mix.needed_volume,
        arguments("lining_part:volume coat_volume:volume"),
        "volume",
        "{lining_part}+{coat_volume}",
        example=(("500 L", "0 L"), "500 L"),
    ),
    Function(
        "TD_MIXED_YIELD",
        CATEGORY,
        mix.mixed_yield,
        arguments(f"iso_volume:volume resin_volume:volume {PARTS}"),
        "volume",
        "({iso_part}+{resin_part})*MIN({iso_volume}/{iso_part},{resin_volume}/{resin_part})",
        example=(("600 L", "500 L", "1", "1"), "1000 L"),
    ),
    Function(
        "TD_DRUMS_OPENED",
        CATEGORY,
        drums.drums_opened,
        arguments(f"volume:volume {DRUM} ceiling_guard:factor"),
        "drums",
        "MAX(0,-INT({ceiling_guard}-{volume}/({drum_volume}-{heel_volume})))",
        guards=(HEEL_GUARD,),
        example=(("500 L", "205 L", "5 L", "1e-9"), "3 drums"),
    ),
    Function(
        "TD_DRUM_SETS",
        CATEGORY,
        drums.drum_sets,
        arguments("iso_drums:drums resin_drums:drums"),
        "drums",
        "MAX({iso_drums},{resin_drums})",
        example=(("3", "4"), "4 drums"),
    ),
    Function(
        "TD_STOCK_VOLUME",
        CATEGORY,
        drums.stock_volume,
        arguments(f"drums_on_hand:drums part_drum_volume:volume {DRUM}"),
        "volume",
        "{drums_on_hand}*({drum_volume}-{heel_volume})+{part_drum_volume}",
        guards=(HEEL_GUARD,),
        example=(("2", "30 L", "205 L", "5 L"), "430 L"),
    ),
    Function(
        "TD_DRUMS_TO_BUY",
        CATEGORY,
        drums.drums_to_buy,
        arguments(f"volume:volume stock_volume:volume {DRUM} ceiling_guard:factor"),
        "drums",
        "MAX(0,-INT({ceiling_guard}-({volume}-{stock_volume})/({drum_volume}-{heel_volume})))",
        guards=(HEEL_GUARD,),
        example=(("500 L", "150 L", "205 L", "5 L", "1e-9"), "2 drums"),
    ),
    Function(
        "TD_LEFT_OVER",
        CATEGORY,
        drums.left_over,
        arguments(f"volume:volume stock_volume:volume drums_bought:drums {DRUM}"),
        "volume",
        "MAX(0,{stock_volume}+{drums_bought}*({drum_volume}-{heel_volume})-{volume})",
        guards=(HEEL_GUARD,),
        example=(("500 L", "0 L", "3", "205 L", "5 L"), "100 L"),
    ),
)
