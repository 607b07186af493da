"""Worksheet functions of moist air."""

from __future__ import annotations

from ..core import air
from .declaration import Function, arguments

CATEGORY = "Air"
CLIMATE = "air_temperature:temperature relative_humidity:share"

FUNCTIONS: tuple[Function, ...] = (
    Function(
        "TD_VAPOUR_PRESSURE",
        CATEGORY,
        air.vapour_pressure,
        arguments(CLIMATE),
        "pressure",
        "magnus_pressure*{relative_humidity}*EXP(magnus_factor*({air_temperature}-kelvin_at_0_c)"
        "/(magnus_temperature+{air_temperature}-kelvin_at_0_c))",
        example=(("20 °C", "50 %"), "11.662980110489 hPa"),
    ),
    Function(
        "TD_DEW_POINT_AT_VAPOUR_PRESSURE",
        CATEGORY,
        air.dew_point_at_vapour_pressure,
        arguments("vapour_pressure:pressure"),
        "temperature",
        "kelvin_at_0_c+magnus_temperature*LN({vapour_pressure}/magnus_pressure)"
        "/(magnus_factor-LN({vapour_pressure}/magnus_pressure))",
        example=(("6.112 hPa",), "0 °C"),
    ),
    Function(
        "TD_DEW_POINT",
        CATEGORY,
        air.dew_point,
        arguments(CLIMATE),
        "temperature",
        example=(("20 °C", "50 %"), "9.25517459898126 °C"),
    ),
    Function(
        "TD_DEW_MARGIN",
        CATEGORY,
        air.dew_margin,
        arguments("surface_temperature:temperature dew_point:temperature"),
        "temperature_difference",
        "{surface_temperature}-{dew_point}",
        example=(("12 °C", "9 °C"), "3 K"),
    ),
    Function(
        "TD_ABSOLUTE_HUMIDITY",
        CATEGORY,
        air.absolute_humidity,
        arguments(CLIMATE),
        "density",
        example=(("20 °C", "50 %"), "8.6204335908019 g/m³"),
    ),
    Function(
        "TD_FROST_POINT",
        CATEGORY,
        air.frost_point,
        arguments("air_temperature:temperature relative_humidity:share"),
        "temperature",
        example=(
            (
                "-10 °C",
                "80 %",
            ),
            "-11.386539140293849 °C",
        ),
    ),
    Function(
        "TD_HIGHEST_HUMIDITY",
        CATEGORY,
        air.highest_humidity,
        arguments(
            "air_temperature:temperature surface_temperature:temperature"
            " least_margin:temperature_difference"
        ),
        "share",
        example=(
            (
                "20 °C",
                "20 °C",
                "3 K",
            ),
            "82.88074484514607 %",
        ),
    ),
    Function(
        "TD_WEATHER_KEEPS_LIMITS",
        CATEGORY,
        air.weather_keeps_limits,
        arguments(
            "air_temperature:temperature relative_humidity:share surface_temperature:temperature"
            " least_margin:temperature_difference most_humidity:share"
        ),
        "truth",
        example=(
            (
                "10 °C",
                "80 %",
                "9.8 °C",
                "3 K",
                "85 %",
            ),
            "TRUE",
        ),
    ),
)
