"""Worksheet functions of film, coverage and the volume to supply."""

from __future__ import annotations

from ..core import coverage, film
from .declaration import Function, arguments

CATEGORY = "Film and quantities"

FUNCTIONS: tuple[Function, ...] = (
    Function(
        "TD_DRY_FILM_THICKNESS",
        CATEGORY,
        film.dry_film_thickness,
        arguments("wet_film_thickness:thickness volume_solids:share"),
        "thickness",
        "{wet_film_thickness}*{volume_solids}",
        example=(("250 µm", "50 %"), "125 µm"),
    ),
    Function(
        "TD_WET_FILM_THICKNESS",
        CATEGORY,
        film.wet_film_thickness,
        arguments("film_thickness:thickness volume_solids:share"),
        "thickness",
        "{film_thickness}/{volume_solids}",
        example=(("125 µm", "50 %"), "250 µm"),
    ),
    Function(
        "TD_SPREADING_RATE",
        CATEGORY,
        film.spreading_rate,
        arguments("film_thickness:thickness volume_solids:share"),
        "spreading_rate",
        "{volume_solids}/{film_thickness}",
        example=(("75 µm", "65 %"), "8.66666666666667 m²/L"),
    ),
    Function(
        "TD_COATING_VOLUME",
        CATEGORY,
        film.coating_volume,
        arguments("area:area film_thickness:thickness volume_solids:share"),
        "volume",
        "{area}*{film_thickness}/{volume_solids}",
        example=(("100 ft²", "80 mil", "100 %"), "4.98701298701299 US gal"),
    ),
    Function(
        "TD_SUPPLIED_VOLUME",
        CATEGORY,
        coverage.supplied_volume,
        arguments("theoretical_volume:volume loss_share:share"),
        "volume",
        "{theoretical_volume}/(1-{loss_share})",
        example=(("1000 L", "25 %"), "1333.33333333333 L"),
    ),
    Function(
        "TD_VOLUME_WITH_ALLOWANCE",
        CATEGORY,
        coverage.volume_with_allowance,
        arguments("theoretical_volume:volume allowance_added:share"),
        "volume",
        "{theoretical_volume}*(1+{allowance_added})",
        example=(("1000 L", "25 %"), "1250 L"),
    ),
    Function(
        "TD_ALLOWANCE_EQUAL_TO_LOSS",
        CATEGORY,
        coverage.allowance_equal_to_loss,
        arguments("loss_share:share"),
        "share",
        "{loss_share}/(1-{loss_share})",
        example=(("30 %",), "42.8571428571429 %"),
    ),
    Function(
        "TD_PROFILE_VOLUME",
        CATEGORY,
        coverage.profile_volume,
        arguments("area:area profile_height:thickness profile_fill:share volume_solids:share"),
        "volume",
        "{area}*{profile_height}*{profile_fill}/{volume_solids}",
        example=(("1 m²", "50 µm", "50 %", "100 %"), "25 mL"),
    ),
    Function(
        "TD_LINING_VOLUME",
        CATEGORY,
        coverage.lining_volume,
        arguments("film_volume:volume profile_volume:volume loss_share:share fixed_volume:volume"),
        "volume",
        "({film_volume}+{profile_volume})/(1-{loss_share})+{fixed_volume}",
        example=(("900 L", "0 L", "25 %", "20 L"), "1220 L"),
    ),
    Function(
        "TD_VOLUME_PER_AREA",
        CATEGORY,
        coverage.volume_per_area,
        arguments("volume:volume area:area"),
        "volume_per_area",
        "{volume}/{area}",
        example=(("300 L", "200 m²"), "1.5 L/m²"),
    ),
    Function(
        "TD_PASS_COUNT",
        CATEGORY,
        film.pass_count,
        arguments("film_thickness:thickness pass_build:thickness ceiling_guard:factor"),
        "passes",
        "-INT({ceiling_guard}-{film_thickness}/{pass_build})",
        example=(("1.5 mm", "0.4 mm", "1e-9"), "4 passes"),
    ),
)
