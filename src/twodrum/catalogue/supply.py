"""Worksheet functions of supply, cable and generator."""

from __future__ import annotations

from ..core import electricity
from .declaration import Function, arguments

CATEGORY = "Electricity"

FUNCTIONS: tuple[Function, ...] = (
    Function(
        "TD_SINGLE_PHASE_CURRENT",
        CATEGORY,
        electricity.single_phase_current,
        arguments("power:power voltage:voltage power_factor:share"),
        "current",
        "{power}/({voltage}*{power_factor})",
        example=(("15 kW", "230 V", "1"), "65.2173913043478 A"),
    ),
    Function(
        "TD_THREE_PHASE_CURRENT",
        CATEGORY,
        electricity.three_phase_current,
        arguments("power:power voltage:voltage power_factor:share"),
        "current",
        "{power}/({voltage}*{power_factor})/SQRT(3)",
        example=(("15 kW", "400 V", "1"), "21.6506350946110 A"),
    ),
    Function(
        "TD_SUPPLY_POWER",
        CATEGORY,
        electricity.supply_power,
        arguments("voltage:voltage current:current phases:phases"),
        "power",
        example=(
            (
                "400 V",
                "32 A",
                "three phase",
            ),
            "22.17025033688163 kW",
        ),
    ),
    Function(
        "TD_CABLE_VOLTAGE_DROP",
        CATEGORY,
        electricity.cable_voltage_drop,
        arguments(
            "current:current length:length conductor_area:conductor_area"
            " power_factor:share phases:phases"
        ),
        "voltage",
        example=(
            (
                "50 A",
                "50 m",
                "16 mm²",
                "0.95",
                "single phase",
            ),
            "6.804587459967967 V",
        ),
    ),
)
