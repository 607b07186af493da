"""Worksheet functions of viscosity, pressure and passes."""

from __future__ import annotations

from ..core import balance, flow, overlap, passes, viscosity
from .declaration import Function, arguments

CATEGORY = "Flow and pressure"
PASSES = "Passes"
TWO = (
    "temperature_1:temperature viscosity_1:viscosity"
    " temperature_2:temperature viscosity_2:viscosity"
)
THREE = f"{TWO} temperature_3:temperature viscosity_3:viscosity"
LIQUID = "density:density viscosity:viscosity volume_flow:volume_flow"
GUN = "pump_output:volume_flow transfer_share:share volume_solids:share pattern_width:length"
SLOPE = "(LN({viscosity_1}/{viscosity_2})/(1/{temperature_1}-1/{temperature_2}))"
RISING = ("{temperature_2}>{temperature_1}", "{viscosity_2}<{viscosity_1}")
RESIN = ("25 °C", "600 mPa·s", "65 °C", "45 mPa·s")

FUNCTIONS: tuple[Function, ...] = (
    Function(
        "TD_VISCOSITY_FROM_TWO_POINTS",
        CATEGORY,
        viscosity.viscosity_from_two_points,
        arguments(f"temperature:temperature {TWO}"),
        "viscosity",
        "{viscosity_1}*EXP(" + SLOPE + "*(1/{temperature}-1/{temperature_1}))",
        guards=RISING,
        example=(("55 °C", *RESIN), "81.046875 mPa·s"),
    ),
    Function(
        "TD_VISCOSITY_FROM_THREE_POINTS",
        CATEGORY,
        viscosity.viscosity_from_three_points,
        arguments(f"temperature:temperature {THREE}"),
        "viscosity",
        example=(
            (
                "50 °C",
                "20 °C",
                "1410 mPa·s",
                "40 °C",
                "284 mPa·s",
                "60 °C",
                "81.3 mPa·s",
            ),
            "146.53544 mPa·s",
        ),
    ),
    Function(
        "TD_EQUAL_VISCOSITY_TEMPERATURE",
        CATEGORY,
        viscosity.equal_viscosity_temperature,
        arguments(f"viscosity:viscosity {TWO}"),
        "temperature",
        example=(("80 mPa·s", *RESIN), "55.214575 °C"),
    ),
    Function(
        "TD_REYNOLDS_NUMBER",
        CATEGORY,
        flow.reynolds_number,
        arguments(f"{LIQUID} bore:length"),
        "number",
        "4*{density}*{volume_flow}/(PI()*{bore}*{viscosity})",
        example=(("1120 kg/m³", "80 mPa·s", "2 L/min", "9.525 mm"), "62.38094 –"),
    ),
    Function(
        "TD_LAMINAR_PRESSURE_DROP",
        CATEGORY,
        flow.laminar_pressure_drop,
        arguments(f"{LIQUID} length:length bore:length"),
        "pressure",
        "128*{viscosity}*{length}*{volume_flow}/(PI()*{bore}^4)",
        guards=("4*{density}*{volume_flow}/(PI()*{bore}*{viscosity})<laminar_up_to",),
        example=(
            ("1120 kg/m³", "80 mPa·s", "2 L/min", "60 m", "9.525 mm"),
            "0.79199081 MPa",
        ),
    ),
    Function(
        "TD_ORIFICE_PRESSURE_DROP",
        CATEGORY,
        flow.orifice_pressure_drop,
        arguments(
            "density:density volume_flow:volume_flow port_diameter:length"
            " discharge_coefficient:share"
        ),
        "pressure",
        "{density}/2*({volume_flow}/({discharge_coefficient}*PI()*{port_diameter}^2/4))^2",
        example=(("1120 kg/m³", "2 L/min", "0.6 mm", "0.75"), "138.36882 bar"),
    ),
    Function(
        "TD_FILM_PER_PASS",
        PASSES,
        passes.film_per_pass,
        arguments(f"{GUN} gun_speed:speed overlap:share"),
        "thickness",
        "{pump_output}*{transfer_share}*{volume_solids}/({pattern_width}*{gun_speed}*(1-{overlap}))",
        example=(("4 L/min", "90 %", "100 %", "0.3 m", "0.8 m/s", "50 %"), "0.5 mm"),
    ),
    Function(
        "TD_GUN_SPEED",
        PASSES,
        passes.gun_speed,
        arguments(f"{GUN} pass_build:thickness overlap:share"),
        "speed",
        "{pump_output}*{transfer_share}*{volume_solids}/({pattern_width}*{pass_build}*(1-{overlap}))",
        example=(("4 L/min", "90 %", "100 %", "0.3 m", "0.4 mm", "50 %"), "1 m/s"),
    ),
    Function(
        "TD_OVERLAP_UNEVENNESS",
        PASSES,
        overlap.overlap_unevenness,
        arguments("fan:fan overlap:share"),
        "share",
        example=(("parabolic", "50 %"), "11.1803398874989 %"),
    ),
    Function(
        "TD_VISCOSITY_SLOPE",
        CATEGORY,
        viscosity.viscosity_slope,
        arguments(
            "temperature_1:temperature viscosity_1:viscosity"
            " temperature_2:temperature viscosity_2:viscosity"
        ),
        "temperature_difference",
        "LN({viscosity_1}/{viscosity_2})/(1/{temperature_1}-1/{temperature_2})",
        guards=(
            "{temperature_2}>{temperature_1}",
            "{viscosity_2}<{viscosity_1}",
        ),
        example=(
            (
                "25 °C",
                "600 mPa·s",
                "65 °C",
                "45 mPa·s",
            ),
            "6528.730993524002 K",
        ),
    ),
    Function(
        "TD_VISCOSITY_AT",
        CATEGORY,
        viscosity.viscosity_at,
        arguments(
            "temperature:temperature temperature_1:temperature viscosity_1:viscosity"
            " temperature_2:temperature viscosity_2:viscosity"
            " temperature_3:temperature? viscosity_3:viscosity?"
        ),
        "viscosity",
        example=(
            (
                "55 °C",
                "25 °C",
                "600 mPa·s",
                "65 °C",
                "45 mPa·s",
            ),
            "81.04687452174885 mPa·s",
        ),
    ),
    Function(
        "TD_FLOW_RESISTANCE",
        CATEGORY,
        balance.flow_resistance,
        arguments(
            "hose_length:length hose_bore:length whip_length:length whip_bore:length"
            " port_length:length port_diameter:length"
        ),
        "flow_resistance",
        "128/PI()*({hose_length}/{hose_bore}^4+{whip_length}/{whip_bore}^4"
        "+{port_length}/{port_diameter}^4)",
        example=(
            (
                "60 m",
                "9.525 mm",
                "3 m",
                "6.35 mm",
                "1.5 mm",
                "0.6 mm",
            ),
            "843744008180.4312 1/m³",
        ),
    ),
    Function(
        "TD_FRICTION_PRESSURE",
        CATEGORY,
        balance.friction_pressure,
        arguments("flow_resistance:flow_resistance viscosity:viscosity volume_flow:volume_flow"),
        "pressure",
        "{flow_resistance}*{viscosity}*{volume_flow}",
        example=(
            (
                "8.4374387e11 1/m³",
                "80 mPa·s",
                "2 L/min",
            ),
            "22.499836533333333 bar",
        ),
    ),
    Function(
        "TD_VISCOSITY_DIFFERENCE",
        CATEGORY,
        balance.viscosity_difference,
        arguments(
            "flow_resistance:flow_resistance iso_viscosity:viscosity"
            " iso_flow:volume_flow resin_viscosity:viscosity resin_flow:volume_flow"
        ),
        "pressure",
        "{flow_resistance}*({iso_viscosity}*{iso_flow}-{resin_viscosity}*{resin_flow})",
        example=(
            (
                "8.4374387e11 1/m³",
                "80 mPa·s",
                "2 L/min",
                "45 mPa·s",
                "2 L/min",
            ),
            "9.843678483333331 bar",
        ),
    ),
    Function(
        "TD_TRIM_TEMPERATURE",
        CATEGORY,
        balance.trim_temperature,
        arguments(
            "viscosity:viscosity low_temperature:temperature"
            " high_temperature:temperature temperature_1:temperature"
            " viscosity_1:viscosity temperature_2:temperature viscosity_2:viscosity"
            " temperature_3:temperature? viscosity_3:viscosity?"
        ),
        "temperature",
        example=(
            (
                "80 mPa·s",
                "45 °C",
                "70 °C",
                "25 °C",
                "600 mPa·s",
                "65 °C",
                "45 mPa·s",
            ),
            "55.2145746308031 °C",
        ),
    ),
    Function(
        "TD_AREA_RATE",
        PASSES,
        passes.area_rate,
        arguments(
            "pump_output:volume_flow transfer_share:share volume_solids:share"
            " film_thickness:thickness"
        ),
        "area_rate",
        example=(
            (
                "4 L/min",
                "90 %",
                "100 %",
                "1.5 mm",
            ),
            "2.4 m²/min",
        ),
    ),
    Function(
        "TD_BEST_OVERLAP",
        PASSES,
        overlap.best_overlap,
        arguments("fan:fan"),
        "share",
        example=(("parabolic",), "30.1329455517252 %"),
    ),
)
