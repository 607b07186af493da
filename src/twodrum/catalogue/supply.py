"""Worksheet functions of supply, cable and generator."""

from __future__ import annotations

from ..core import electricity, schedule
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
        "TD_CONNECTED_POWER",
        CATEGORY,
        schedule.connected_power,
        arguments(
            "iso_heater_power:power resin_heater_power:power hose_power:power? other_power:power"
        ),
        "power",
        "{iso_heater_power}+{resin_heater_power}+N({hose_power})+{other_power}",
        example=(("6 kW", "6 kW", "2.4 kW", "0 W"), "14.4 kW"),
    ),
    Function(
        "TD_POWER_FOR_HEATERS",
        CATEGORY,
        schedule.power_for_heaters,
        arguments(
            "supply_power:power hose_power:power? other_power:power heating_efficiency:share"
        ),
        "power",
        "MAX(0,{supply_power}-N({hose_power})-{other_power})*{heating_efficiency}",
        example=(("13.856 kW", "2.4 kW", "0 W", "90 %"), "10.3104 kW"),
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
    Function(
        "TD_STARTING_POWER",
        CATEGORY,
        electricity.starting_power,
        arguments(
            "heater_power:power shaft_power:power efficiency:share"
            " power_factor:share starting_factor:factor starting_power_factor:share"
        ),
        "apparent_power",
        example=(
            (
                "15 kW",
                "3.5 kW",
                "0.88",
                "0.85",
                "6",
                "0.35",
            ),
            "36.16606440560081 kVA",
        ),
    ),
    Function(
        "TD_GENERATOR_FUEL",
        CATEGORY,
        electricity.generator_fuel,
        arguments("energy:energy heating_efficiency:share fuel_per_energy:fuel_rate"),
        "volume",
        "{energy}/{heating_efficiency}*{fuel_per_energy}",
        example=(
            (
                "10 kWh",
                "90 %",
                "0.33 L/kWh",
            ),
            "3.666666666666667 L",
        ),
    ),
)
