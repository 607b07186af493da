"""Worksheet functions of warming drums, hose and supply."""

from __future__ import annotations

from ..core import heating, hose, losses, machine, schedule, supply, warm_up_fit
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
            " other_heat_capacity:heat_capacity? other_heat_loss:heat_rate?"
            " other_heater_power:power? other_flow_heat_rate:heat_rate? supply_power:power?"
            f" set_point:temperature air_temperature:temperature {TARGET}"
            " other_set_point:temperature? other_target_temperature:temperature?"
            " other_later_set_point:temperature?"
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
            "1.072786 h",
        ),
    ),
    Function(
        "TD_WARM_UP_ENERGY",
        CATEGORY,
        supply.warm_up_energy,
        arguments(f"heat_capacity:heat_capacity {TARGET}"),
        "energy",
        "{heat_capacity}*MAX(0,{target_temperature}-{start_temperature})",
        example=(("824.214 kJ/K", "10 °C", "50 °C"), "9.15793333333333 kWh"),
    ),
    Function(
        "TD_SWITCH_ON",
        CATEGORY,
        schedule.switch_on,
        arguments("ready_time:number set_up_time:time panel_time:time preparation_needed:time"),
        "number",
        example=(("0.375", "30 min", "15 min", "1 h"), "0.302083333333333 –"),
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
    Function(
        "TD_RADIATION_COEFFICIENT",
        CATEGORY,
        losses.radiation_coefficient,
        arguments(
            "surface_temperature:temperature surrounding_temperature:temperature emissivity:share"
        ),
        "heat_transfer",
        example=(
            (
                "45 °C",
                "20 °C",
                "0.9",
            ),
            "5.838660149865231 W/(m²·K)",
        ),
    ),
    Function(
        "TD_BARE_DRUM_HEAT_LOSS",
        CATEGORY,
        losses.bare_drum_heat_loss,
        arguments(
            "surface_temperature:temperature air_temperature:temperature"
            " wind_speed:speed emissivity:share diameter:length height:length"
        ),
        "heat_rate",
        example=(
            (
                "45 °C",
                "20 °C",
                "0 m/s",
                "0.9",
                "0.573 m",
                "0.851 m",
            ),
            "18.185058391561647 W/K",
        ),
    ),
    Function(
        "TD_COVERED_DRUM_HEAT_LOSS",
        CATEGORY,
        losses.covered_drum_heat_loss,
        arguments(
            "liquid_temperature:temperature air_temperature:temperature"
            " wind_speed:speed emissivity:share diameter:length height:length"
            " film_coefficient:heat_transfer insulation_thickness:length"
            " insulation_conductivity:conductivity"
        ),
        "heat_rate",
        example=(
            (
                "45 °C",
                "20 °C",
                "0 m/s",
                "0.9",
                "0.573 m",
                "0.851 m",
                "29.82 W/(m²·K)",
                "25 mm",
                "0.04 W/(m·K)",
            ),
            "2.384260312388283 W/K",
        ),
    ),
    Function(
        "TD_BAND_HEATER_FLUX",
        CATEGORY,
        machine.band_heater_flux,
        arguments("power:power diameter:length width:length"),
        "heat_flux",
        "{power}/(PI()*{diameter}*{width})",
        example=(
            (
                "1 kW",
                "0.573 m",
                "0.15 m",
            ),
            "3.703430903825372 kW/m²",
        ),
    ),
    Function(
        "TD_HOSE_HEAT_CAPACITY",
        CATEGORY,
        hose.hose_heat_capacity,
        arguments(
            "iso_density:density iso_specific_heat:specific_heat"
            " resin_density:density resin_specific_heat:specific_heat bore:length"
            " wall_mass_per_length:mass_per_length"
        ),
        "heat_capacity_per_length",
        example=(
            (
                "1100 kg/m³",
                "1.8 kJ/(kg·K)",
                "1000 kg/m³",
                "2 kJ/(kg·K)",
                "9.525 mm",
                "0.7 kg/m",
            ),
            "1333.5978422073808 J/(m·K)",
        ),
    ),
    Function(
        "TD_HOSE_WARM_UP_TIME",
        CATEGORY,
        hose.hose_warm_up_time,
        arguments(
            "heat_capacity_per_length:heat_capacity_per_length"
            " heating_per_length:power_per_length"
            " heat_loss_per_length:heat_rate_per_length air_temperature:temperature"
            " start_temperature:temperature target_temperature:temperature"
        ),
        "time",
        example=(
            (
                "668.65157 J/(m·K)",
                "40 W/m",
                "0.6 W/(m·K)",
                "10 °C",
                "10 °C",
                "60 °C",
            ),
            "1544.9131684082697 s",
        ),
    ),
    Function(
        "TD_FIT_WARM_UP",
        CATEGORY,
        warm_up_fit.fit_warm_up,
        arguments(
            "heat_capacity:heat_capacity air_temperature:temperature"
            " start_temperature:temperature heating_times:time* heating_temperatures:temperature*"
            " cooling_times:time?* cooling_temperatures:temperature?*"
        ),
        "",
        example=(
            (
                "411.707 kJ/K",
                "12 °C",
                "14 °C",
                "0 600 1200 1800 2400 3000 s",
                "13.9 21.9 29.2 36.2 44.1 51.2 °C",
                "3600 14400 28800 s",
                "51 38 27 °C",
            ),
            (
                "5.51994369183758 kW; 0.134134194144449 kW; 5.20276672339576 kW; 5.8371206602794"
                " kW; 12.9418013709774 W/K; 1.08658994124086 W/K; 10.3724244443824 W/K;"
                " 15.5111782975723 W/K; 1.44139183352203 K"
            ),
        ),
        parts=arguments(
            "power:power power_error:power power_low:power power_high:power heat_loss:heat_rate"
            " heat_loss_error:heat_rate heat_loss_low:heat_rate heat_loss_high:heat_rate"
            " scatter:temperature_difference"
        ),
        pairs=(
            ("heating_times", "heating_temperatures"),
            ("cooling_times", "cooling_temperatures"),
        ),
    ),
)
