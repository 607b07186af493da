"""Worksheet functions of ratio, density and drums."""

from __future__ import annotations

from ..core import density, drums, ledger, mix
from .declaration import Function, arguments

CATEGORY = "Mix and drums"
PARTS = "iso_part:ratio resin_part:ratio"
DRUM = "drum_volume:volume residue_volume:volume"
RESIDUE_GUARD = "{residue_volume}<{drum_volume}"
WARM = "thermal_expansion:expansion temperature:temperature reference_temperature:temperature"
WARMING = "(1+{thermal_expansion}*({temperature}-{reference_temperature}))"
A_COAT = f"OR({','.join(f'{{component}}={chr(34)}{word}{chr(34)}' for word in mix.COATS)})"
FUNCTIONS: tuple[Function, ...] = (
    Function(
        "TD_LINING_RATIO",
        CATEGORY,
        mix.lining_ratio,
        arguments("component:component ratio_part:ratio"),
        "ratio",
        "{ratio_part}",
        guards=(
            "{ratio_part}>=0",
            f"({{ratio_part}}=0)={A_COAT}",
        ),
        example=(("iso", "1"), "1 parts"),
    ),
    Function(
        "TD_OWN_COAT_FILM",
        CATEGORY,
        mix.own_coat_film,
        arguments("component:component coat_film:thickness"),
        "thickness",
        "{coat_film}",
        guards=("{coat_film}>=0", f"({{coat_film}}>0)={A_COAT}"),
        example=(("primer", "75 µm"), "75 µm"),
    ),
    Function(
        "TD_COAT_IS_THERE",
        CATEGORY,
        mix.coat_is_there,
        arguments("area:area coat_film:thickness"),
        "factor",
        "1",
        guards=("{area}>=0", "({area}=0)+({coat_film}>0)"),
        example=(("40 m²", "75 µm"), "1 ×"),
    ),
    Function(
        "TD_LOSS_OVER_ALL",
        CATEGORY,
        mix.loss_over_all,
        arguments("on_surface:volume supplied:volume"),
        "share",
        "MAX(0,({supplied}>0)-{on_surface}/({supplied}+({supplied}=0)))",
        guards=("{on_surface}>=0", "{supplied}>=0"),
        example=(("300 L", "400 L"), "25 %"),
    ),
    Function(
        "TD_VOLUME_FOR_EACH_PART",
        CATEGORY,
        mix.volume_for_each_part,
        arguments("volume:volume parts:ratio"),
        "volume",
        "{volume}/({parts}+({volume}=0))",
        guards=("{volume}>=0", "({parts}>0)+({volume}=0)"),
        example=(("300 L", "2"), "150 L"),
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
        arguments(f"volume:volume part_drum_volume:volume {DRUM} ceiling_guard:factor"),
        "drums",
        "MAX(0,-INT({ceiling_guard}-({volume}-{part_drum_volume})/({drum_volume}-{residue_volume})))",
        guards=(RESIDUE_GUARD,),
        example=(("500 L", "0 L", "205 L", "5 L", "1e-9"), "3 drums"),
    ),
    Function(
        "TD_DRUM_CONTENT",
        CATEGORY,
        ledger.drum_content,
        arguments("gross_mass:mass empty_mass:mass density:density"),
        "volume",
        "({gross_mass}-{empty_mass})/{density}",
        guards=("{gross_mass}>={empty_mass}",),
        example=(("129.1 kg", "18.1 kg", "1110 kg/m³"), "100 L"),
    ),
)
