"""Worksheet functions of warming drums, hose and supply."""

from __future__ import annotations

from ..core import heating, hose, supply
from .declaration import Function, arguments

CATEGORY = "Heating"
DRUM = "heat_capacity:heat_capacity heat_loss:heat_rate"
HEATER = (
    "heater_power:power flow_heat_rate:heat_rate set_point:temperature air_temperature:temperature"
)
START = "start_temperature:temperature"
TARGET = f"{START} target_temperature:temperature"
WARM = ("411.707 kJ/K", "12 W/K", "6 kW", "134.4 W/K", "75 °C", "15 °C", "15 °C")

FUNCTIONS: tuple[Function, ...] = (
    Function(
        "TD_DRUM_HEAT_CAPACITY",
        CATEGORY,
        heating.drum_heat_capacity,
        arguments("volume:volume density:density specific_heat:specific_heat steel_mass:mass"),
        "heat_capacity",
        example=(("200 L", "1120 kg/m³", "1.8 kJ/(kg·K)", "18.1 kg"), "411.707 kJ/K"),
    ),
    Function(
        "TD_RECIRCULATION_HEAT_RATE",
        CATEGORY,
        heating.recirculation_heat_rate,
        arguments("density:density specific_heat:specific_heat volume_flow:volume_flow"),
        "heat_rate",
        "{density}*{specific_heat}*{volume_flow}",
        example=(("1120 kg/m³", "1.8 kJ/(kg·K)", "4 L/min"), "134.4 W/K"),
    ),
    Function(
        "TD_WARM_UP_LIMIT",
        CATEGORY,
        heating.warm_up_limit,
        arguments(f"heat_loss:heat_rate {HEATER}"),
        "temperature",
        example=(("12 W/K", "400 W", "134.4 W/K", "75 °C", "5 °C"), "38.3333333333333 °C"),
    ),
    Function(
        "TD_WARM_UP_TIME",
        CATEGORY,
        heating.warm_up_time,
        arguments(f"{DRUM} {HEATER} {TARGET}"),
        "time",
        example=((*WARM, "50 °C"), "0.8301816 h"),
    ),
    Function(
        "TD_WARM_UP_TEMPERATURE",
        CATEGORY,
        heating.warm_up_temperature,
        arguments(f"{DRUM} {HEATER} {START} time:time"),
        "temperature",
        example=((*WARM, "15 min"), "27.945586 °C"),
    ),
    Function(
        "TD_COOL_DOWN_TEMPERATURE",
        CATEGORY,
        heating.cool_down_temperature,
        arguments(
            f"{DRUM} hose_heat_loss:heat_rate flow_heat_rate:heat_rate"
            f" air_temperature:temperature {START} time:time"
        ),
        "temperature",
        example=(
            ("411.707 kJ/K", "12 W/K", "15 W/K", "134.4 W/K", "20 °C", "45 °C", "15 min"),
            "43.608737 °C",
        ),
    ),
    Function(
        "TD_POWER_FOR_WARM_UP",
        CATEGORY,
        heating.power_for_warm_up,
        arguments(f"{DRUM} air_temperature:temperature {TARGET} time:time"),
        "power",
        example=(
            ("411.707 kJ/K", "12 W/K", "15 °C", "15 °C", "50 °C", "1 h"),
            "4.2163788 kW",
        ),
    ),
    Function(
        "TD_SHARED_WARM_UP_TIME",
        CATEGORY,
        supply.shared_warm_up_time,
        arguments(
            f"{DRUM} heater_power:power flow_heat_rate:heat_rate"
            " other_heat_capacity:heat_capacity other_heat_loss:heat_rate"
            " other_heater_power:power other_flow_heat_rate:heat_rate supply_power:power"
            f" set_point:temperature air_temperature:temperature {TARGET}"
        ),
        "time",
        example=(
            (
                "411.707 kJ/K",
                "12 W/K",
                "7 kW",
                "134.4 W/K",
                "412.507 kJ/K",
                "12 W/K",
                "7 kW",
                "134.66667 W/K",
                "9.5 kW",
                "75 °C",
                "10 °C",
                "10 °C",
                "50 °C",
            ),
            "1.0727860 h",
        ),
    ),
    Function(
        "TD_WARM_UP_ENERGY",
        CATEGORY,
        supply.warm_up_energy,
        arguments(f"heat_capacity:heat_capacity {TARGET}"),
        "energy",
        "{heat_capacity}*({target_temperature}-{start_temperature})",
        guards=("{target_temperature}>={start_temperature}",),
        example=(("824.214 kJ/K", "10 °C", "50 °C"), "9.15793333333333 kWh"),
    ),
    Function(
        "TD_SINGLE_PHASE_CURRENT",
        CATEGORY,
        supply.single_phase_current,
        arguments("power:power voltage:voltage power_factor:share"),
        "current",
        "{power}/({voltage}*{power_factor})",
        example=(("15 kW", "230 V", "1"), "65.2173913043478 A"),
    ),
    Function(
        "TD_THREE_PHASE_CURRENT",
        CATEGORY,
        supply.three_phase_current,
        arguments("power:power voltage:voltage power_factor:share"),
        "current",
        "{power}/({voltage}*{power_factor})/SQRT(3)",
        example=(("15 kW", "400 V", "1"), "21.6506350946110 A"),
    ),
    Function(
        "TD_HOSE_VOLUME",
        CATEGORY,
        hose.hose_volume,
        arguments("length:length bore:length"),
        "volume",
        "PI()*{bore}^2/4*{length}",
        example=(("1 m", "9.525 mm"), "71.2557393 mL"),
    ),
    Function(
        "TD_RESIDENCE_TIME",
        CATEGORY,
        hose.residence_time,
        arguments("length:length bore:length volume_flow:volume_flow"),
        "time",
        "PI()*{bore}^2/4*{length}/{volume_flow}",
        example=(("60 m", "9.525 mm", "2 L/min"), "128.26033 s"),
    ),
    Function(
        "TD_HOSE_OUTLET_TEMPERATURE",
        CATEGORY,
        hose.hose_outlet_temperature,
        arguments(
            "inlet_temperature:temperature air_temperature:temperature"
            " heating_per_length:power_per_length heat_loss_per_length:heat_rate_per_length"
            " flow_heat_rate:heat_rate length:length"
        ),
        "temperature",
        example=(
            ("65 °C", "20 °C", "0 W/m", "0.6 W/(m·K)", "67.2 W/K", "60 m"),
            "46.33630 °C",
        ),
    ),
    Function(
        "TD_TRAPPED_PRESSURE_RISE",
        CATEGORY,
        hose.trapped_pressure_rise,
        arguments(
            "thermal_expansion:expansion bulk_modulus:pressure"
            " temperature_difference:temperature_difference"
        ),
        "pressure",
        "{thermal_expansion}*{bulk_modulus}*{temperature_difference}",
        example=(("8e-4 1/K", "1.6 GPa", "1 K"), "1.28 MPa"),
    ),
)
