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
        "TD_AREA_RATIO",
        CATEGORY,
        use_split.area_ratio,
        arguments("area:area other_area:area"),
        "factor",
        "{area}/{other_area}",
        example=(("312 m²", "300 m²"), "1.04 ×"),
    ),
    Function(
        "TD_VOLUME_RATIO",
        CATEGORY,
        use_split.volume_ratio,
        arguments("volume:volume other_volume:volume"),
        "factor",
        "{volume}/{other_volume}",
        guards=("{volume}>=0", "{other_volume}>0"),
        example=(("600 L", "500 L"), "1.2 ×"),
    ),
    Function(
        "TD_FIRST_KNOWN_FACTOR",
        CATEGORY,
        use_split.first_known_factor,
        arguments("first_factor:factor? second_factor:factor?"),
        "factor",
        "CHOOSE(1+COUNTBLANK({first_factor}),{first_factor},{second_factor})",
        example=(("", "1.05"), "1.05 ×"),
        by_turns=True,
    ),
    Function(
        "TD_SURFACE_VOLUME",
        CATEGORY,
        use_split.surface_volume,
        arguments("film_volume:volume build_factor:factor profile_volume:volume"),
        "volume",
        "{film_volume}*{build_factor}+{profile_volume}",
        example=(("500 L", "1.1", "20 L"), "570 L"),
    ),
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
    Function(
        "TD_LOSS_SHARE_FOUND",
        CATEGORY,
        use_split.loss_share_found,
        arguments("surface_volume:volume supplied_volume:volume"),
        "share",
        "1-{surface_volume}/{supplied_volume}",
        guards=("{supplied_volume}>0",),
        example=(("450 L", "600 L"), "25 %"),
    ),
    Function(
        "TD_MEAN_FACTOR",
        CATEGORY,
        use_split.mean_factor,
        arguments("quoted_factor:factor factor:factor"),
        "factor",
        "AVERAGE({quoted_factor},{factor})",
        example=(("1", "1.2"), "1.1 ×"),
    ),
    Function(
        "TD_MEAN_AREA",
        CATEGORY,
        use_split.mean_area,
        arguments("quoted_area:area area:area"),
        "area",
        "AVERAGE({quoted_area},{area})",
        example=(("100 m²", "110 m²"), "105 m²"),
    ),
    Function(
        "TD_MEAN_VOLUME",
        CATEGORY,
        use_split.mean_volume,
        arguments("quoted_volume:volume volume:volume"),
        "volume",
        "AVERAGE({quoted_volume},{volume})",
        example=(("500 L", "700 L"), "600 L"),
    ),
    Function(
        "TD_MEAN_VOLUME_PER_AREA",
        CATEGORY,
        use_split.mean_volume_per_area,
        arguments("quoted_volume_per_area:volume_per_area volume_per_area:volume_per_area"),
        "volume_per_area",
        "AVERAGE({quoted_volume_per_area},{volume_per_area})",
        example=(("2 L/m²", "4 L/m²"), "3 L/m²"),
    ),
    Function(
        "TD_BILLED_AREA_PART",
        CATEGORY,
        use_split.billed_area_part,
        arguments(
            "quoted_area:area area:area mean_cover:factor mean_per_area:volume_per_area"
            " mean_supply:factor"
        ),
        "volume",
        _part("area", "cover per_area supply"),
        example=(("100 m²", "110 m²", "1", "2 L/m²", "1.25"), "25 L"),
    ),
    Function(
        "TD_UNBILLED_AREA_PART",
        CATEGORY,
        use_split.unbilled_area_part,
        arguments(
            "quoted_cover:factor cover:factor mean_billed:area mean_per_area:volume_per_area"
            " mean_supply:factor"
        ),
        "volume",
        _part("cover", "billed per_area supply"),
        example=(("1", "1.1", "100 m²", "2 L/m²", "1.25"), "25 L"),
    ),
    Function(
        "TD_FILM_ASKED_PART",
        CATEGORY,
        use_split.film_asked_part,
        arguments(
            "quoted_film:volume_per_area film:volume_per_area mean_build:factor"
            " mean_sprayed:area mean_supply:factor"
        ),
        "volume",
        _part("film", "build sprayed supply"),
        example=(("2 L/m²", "2.2 L/m²", "1", "100 m²", "1.25"), "25 L"),
    ),
    Function(
        "TD_OVER_BUILD_PART",
        CATEGORY,
        use_split.over_build_part,
        arguments(
            "quoted_build:factor build:factor mean_film:volume_per_area mean_sprayed:area"
            " mean_supply:factor"
        ),
        "volume",
        _part("build", "film sprayed supply"),
        example=(("1", "1.1", "2 L/m²", "100 m²", "1.25"), "25 L"),
    ),
    Function(
        "TD_LOSS_PART",
        CATEGORY,
        use_split.loss_part,
        arguments("quoted_supply:factor supply:factor mean_surface:volume"),
        "volume",
        _part("supply", "surface"),
        example=(("1.25", "1.5", "200 L"), "50 L"),
    ),
    Function(
        "TD_EXCESS_OF_SIDE",
        CATEGORY,
        use_split.excess_of_side,
        arguments("volume:volume matched_volume:volume part:ratio ratio_total:ratio"),
        "volume",
        "MAX(0,{volume}-{matched_volume}*{part}/{ratio_total})",
        example=(("420 L", "800 L", "1 parts", "2 parts"), "20 L"),
    ),
    Function(
        "TD_MIXED_PRICE",
        CATEGORY,
        use_split.mixed_price,
        arguments(f"iso_price:price_per_volume resin_price:price_per_volume {PARTS}"),
        "price_per_volume",
        "({iso_part}*{iso_price}+{resin_part}*{resin_price})/({iso_part}+{resin_part})",
        example=(("8 per L", "10 per L", "1 parts", "1 parts"), "9 per L"),
    ),
    Function(
        "TD_PART_AMOUNT",
        CATEGORY,
        use_split.part_amount,
        arguments("volume_part:volume volume_price:price_per_volume money_decimals:decimals"),
        "money",
        "ROUND({volume_part}*{volume_price},{money_decimals})",
        guards=(WHOLE_DECIMALS,),
        example=(("-25 L", "9 per L", "2"), "-225 money"),
    ),
    Function(
        "TD_PRICE_PART_AMOUNT",
        CATEGORY,
        use_split.price_part_amount,
        arguments(
            "iso_volume:volume resin_volume:volume"
            " quoted_iso_price:price_per_volume iso_price:price_per_volume"
            " quoted_resin_price:price_per_volume resin_price:price_per_volume"
            " money_decimals:decimals"
        ),
        "money",
        "ROUND({iso_volume}*({iso_price}-{quoted_iso_price})"
        "+{resin_volume}*({resin_price}-{quoted_resin_price}),{money_decimals})",
        guards=(WHOLE_DECIMALS,),
        example=(
            ("400 L", "400 L", "8 per L", "8.2 per L", "10 per L", "10 per L", "2"),
            "80 money",
        ),
    ),
)
