"""Worksheet functions of film acceptance, pull-off and holiday tests."""

from __future__ import annotations

from ..core import acceptance, adhesion, spots
from .declaration import Function, arguments

CATEGORY = "Film acceptance"

FUNCTIONS: tuple[Function, ...] = (
    Function(
        "TD_READING_COUNT",
        CATEGORY,
        acceptance.reading_count,
        arguments("area:area"),
        "number",
        example=(("500 m²",), "70.0 –"),
    ),
    Function(
        "TD_SPOT_AREA_COUNT",
        CATEGORY,
        spots.spot_area_count,
        arguments("area:area metric:truth?"),
        "number",
        example=(("12500 ft²", "FALSE"), "15 –"),
    ),
    Function(
        "TD_LOWEST_SPOT",
        CATEGORY,
        spots.lowest_spot,
        arguments("minimum_film:thickness level:level"),
        "thickness",
        example=(
            (
                "8 mil",
                "3",
            ),
            "6.4 mil",
        ),
    ),
    Function(
        "TD_HIGHEST_SPOT",
        CATEGORY,
        spots.highest_spot,
        arguments("maximum_film:thickness level:level"),
        "thickness",
        example=(
            (
                "12 mil",
                "3",
            ),
            "14.4 mil",
        ),
    ),
    Function(
        "TD_ACCEPTANCE_PROBABILITY",
        CATEGORY,
        acceptance.acceptance_probability,
        arguments("mean_factor:factor spread:share count:number allowed_low:number"),
        "share",
        example=(
            (
                "1.05",
                "5 %",
                "10",
                "1",
            ),
            "47.14011074192818 %",
        ),
    ),
    Function(
        "TD_AIM_FILM_FACTOR",
        CATEGORY,
        acceptance.aim_film_factor,
        arguments("spread:share count:number allowed_low:number probability:share"),
        "factor",
        example=(
            (
                "10 %",
                "10",
                "1",
                "95 %",
            ),
            "1.219547409987619 ×",
        ),
    ),
    Function(
        "TD_SPOT_MEAN",
        CATEGORY,
        spots.spot_mean,
        arguments("first_reading:thickness second_reading:thickness? third_reading:thickness?"),
        "thickness",
        "AVERAGE({first_reading},{second_reading},{third_reading})",
        example=(("2 mm", "2.2 mm", "2.4 mm"), "2.2 mm"),
    ),
    Function(
        "TD_PULL_OFF_STRESS",
        CATEGORY,
        adhesion.pull_off_stress,
        arguments("force:force dolly_diameter:length"),
        "pressure",
        "4*{force}/(PI()*{dolly_diameter}^2)",
        example=(
            (
                "2000 N",
                "20 mm",
            ),
            "6.366197723675813 MPa",
        ),
    ),
    Function(
        "TD_CHARACTERISTIC_VALUE_FACTOR",
        CATEGORY,
        adhesion.characteristic_value_factor,
        arguments("count:number"),
        "number",
        example=(("10",), "1.922585063464994 –"),
    ),
    Function(
        "TD_SPARK_VOLTAGE_BY_ROOT",
        CATEGORY,
        adhesion.spark_voltage_by_root,
        arguments("film_thickness:thickness"),
        "voltage",
        example=(("2 mm",), "11180.339887498949 V"),
    ),
    Function(
        "TD_SPARK_VOLTAGE_OF_PIPELINE",
        CATEGORY,
        adhesion.spark_voltage_of_pipeline,
        arguments("film_thickness:thickness"),
        "voltage",
        example=(("2 mm",), "11091.676969692186 V"),
    ),
    Function(
        "TD_SPARK_VOLTAGE_BY_THICKNESS",
        CATEGORY,
        adhesion.spark_voltage_by_thickness,
        arguments("film_thickness:thickness volts_per_thickness:voltage_per_thickness"),
        "voltage",
        "{film_thickness}*{volts_per_thickness}",
        example=(
            (
                "2 mm",
                "100 V/mil",
            ),
            "7874.015748031496 V",
        ),
    ),
    Function(
        "TD_SPARK_VOLTAGE_OF_LINE_PIPE",
        CATEGORY,
        adhesion.spark_voltage_of_line_pipe,
        arguments("film_thickness:thickness"),
        "voltage",
        example=(("2 mm",), "15000.0 V"),
    ),
    Function(
        "TD_ALLOWED_LOW_READINGS",
        CATEGORY,
        acceptance.allowed_low_readings,
        arguments("count:number strict:truth?"),
        "number",
        example=(
            (
                "20",
                "TRUE",
            ),
            "3 –",
        ),
    ),
    Function(
        "TD_READINGS_JUDGED",
        CATEGORY,
        acceptance.readings_judged,
        arguments("area:area"),
        "number",
        example=(("250 m²",), "50 –"),
    ),
    Function(
        "TD_ALLOWED_LOW_BY_BASIS",
        CATEGORY,
        acceptance.allowed_low_by_basis,
        arguments("count:number film_basis:film_basis"),
        "number",
        example=(("20", "nominal"), "3 –"),
    ),
    Function(
        "TD_FILM_IS_ACCEPTED",
        CATEGORY,
        acceptance.film_is_accepted,
        arguments(
            "readings:thickness* nominal_film:thickness maximum_film:thickness? strict:truth?"
        ),
        "truth",
        example=(
            (
                "1900 2200 2200 2200 2200 2200 2200 2200 2200 2200 µm",
                "2 mm",
                "6 mm",
                "TRUE",
            ),
            "TRUE",
        ),
    ),
    Function(
        "TD_FILM_KEEPS_NINE_TENTHS",
        CATEGORY,
        acceptance.film_keeps_nine_tenths,
        arguments("readings:thickness* nominal_film:thickness"),
        "truth",
        example=(
            (
                "330 330 330 330 330 330 330 330 330 290 µm",
                "320 µm",
            ),
            "TRUE",
        ),
    ),
    Function(
        "TD_PROFILE_CORRECTION",
        CATEGORY,
        acceptance.profile_correction,
        arguments("grade:profile_grade"),
        "thickness",
        example=(("medium",), "25 µm"),
    ),
    Function(
        "TD_SPOTS_ARE_ACCEPTED",
        CATEGORY,
        spots.spots_are_accepted,
        arguments("spots:thickness* minimum_film:thickness maximum_film:thickness? level:level?"),
        "truth",
        example=(
            (
                "6.5 8.2 8.0 9.1 9.0 mil",
                "8 mil",
                "12 mil",
                "3",
            ),
            "TRUE",
        ),
    ),
)
