"""Worksheet functions of safety: numbers beside a caution, none of them a permission."""

from __future__ import annotations

from ..core import safety
from .declaration import Function, arguments

CATEGORY = "Safety"

FUNCTIONS: tuple[Function, ...] = (
    Function(
        "TD_DILUTION_AIR",
        CATEGORY,
        safety.dilution_air,
        arguments(
            "liquid_volume:volume density:density molar_mass:molar_mass"
            " air_temperature:temperature volume_fraction:volume_fraction mixing_factor:factor"
        ),
        "volume",
        example=(
            ("1 L", "790 kg/m³", "58.08 g/mol", "20 °C", "2500 ppm", "1"),
            "130.87839066315 m³",
        ),
    ),
    Function(
        "TD_NOISE_TIME",
        CATEGORY,
        safety.noise_time,
        arguments("sound_level:number criterion_level:number exchange_rate:number"),
        "time",
        "28800/2^(({sound_level}-{criterion_level})/{exchange_rate})",
        example=(("100", "90", "5"), "2 h"),
    ),
    Function(
        "TD_HOSE_ENERGY",
        CATEGORY,
        safety.hose_energy,
        arguments("pressure:pressure volume:volume bulk_modulus:pressure"),
        "energy",
        "{pressure}^2*{volume}/(2*{bulk_modulus})",
        example=(("200 bar", "4 L", "1.6 GPa"), "0.000138888888888889 kWh"),
    ),
    Function(
        "TD_COOL_DOWN_TIME",
        CATEGORY,
        safety.cool_down_time,
        arguments(
            "heat_capacity:heat_capacity heat_loss:heat_rate air_temperature:temperature"
            " start_temperature:temperature target_temperature:temperature"
        ),
        "time",
        example=(
            ("411.707 kJ/K", "12 W/K", "15 °C", "65 °C", "43 °C"),
            "5.525817898729 h",
        ),
    ),
)
