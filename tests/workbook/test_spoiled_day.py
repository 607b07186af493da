"""Bad workbooks of a day at the machine: the right cell is named, nothing else is lost."""

from pathlib import Path

import pytest

from tests.workbook.day import day_cells
from tests.workbook.spoiling import Spoiled, judge

SPOILED = (
    Spoiled(
        "heater power with its unit",
        {"iso_heater_power": "6 kW"},
        (
            "Equipment!B8: Iso heater is the text '6 kW'; it must be a number, its unit stands "
            "in C8; type 6 as a number",
        ),
        (
            "iso_heating",
            "resin_heating",
            "iso_limit",
            "resin_limit",
            "iso_warm_up_time",
            "resin_warm_up_time",
            "preparation_needed",
            "switch_on",
            "power_drawn",
        ),
        (
            "passes",
            "iso_energy",
            "resin_energy",
            "energy_drawn",
            "total_price",
            "iso_gauge",
            "used_per_area",
            "resin_trim",
        ),
    ),
    Spoiled(
        "heater power negative",
        {"iso_heater_power": -6},
        ("Equipment!B8: Iso heater is -6 kW; it must be from 0 to 100 kW",),
        (
            "iso_heating",
            "resin_heating",
            "iso_limit",
            "resin_limit",
            "iso_warm_up_time",
            "resin_warm_up_time",
            "preparation_needed",
            "switch_on",
            "power_drawn",
        ),
        (
            "passes",
            "iso_energy",
            "resin_energy",
            "energy_drawn",
            "total_price",
            "iso_gauge",
            "used_per_area",
            "resin_trim",
        ),
    ),
    Spoiled(
        "heater power in watts typed as kilowatts",
        {"iso_heater_power": 6000},
        ("Equipment!B8: Iso heater is 6000 kW; it must be from 0 to 100 kW",),
        (
            "iso_heating",
            "resin_heating",
            "iso_limit",
            "resin_limit",
            "iso_warm_up_time",
            "resin_warm_up_time",
            "preparation_needed",
            "switch_on",
            "power_drawn",
        ),
        (
            "passes",
            "iso_energy",
            "resin_energy",
            "energy_drawn",
            "total_price",
            "iso_gauge",
            "used_per_area",
            "resin_trim",
        ),
    ),
    Spoiled(
        "set point in Fahrenheit under Celsius",
        {"iso_set_point": 167},
        ("Equipment!B9: Iso set point while warming is 167 °C; it must be from 0 to 120 °C",),
        (
            "iso_limit",
            "iso_warm_up_time",
            "preparation_needed",
            "switch_on",
        ),
        (
            "passes",
            "iso_energy",
            "energy_drawn",
            "total_price",
            "iso_gauge",
            "used_per_area",
            "resin_trim",
        ),
    ),
    Spoiled(
        "set point a decimal comma",
        {"resin_set_point": "72,5"},
        (
            "Equipment!B12: Resin set point while warming is the text '72,5'; it must be a "
            "number, its unit stands in C12; write 72.5",
        ),
        (
            "resin_limit",
            "resin_warm_up_time",
            "preparation_needed",
            "switch_on",
            "iso_warm_up_time",
        ),
        (
            "passes",
            "resin_energy",
            "energy_drawn",
            "total_price",
            "iso_gauge",
            "used_per_area",
            "resin_trim",
        ),
    ),
    Spoiled(
        "drum never warm: too little power",
        {"iso_heater_power": 0.4},
        (
            "Equipment!B10: Iso drum target temperature is 50 °C; never reached, it stops at "
            "42.7 °C "
            "because the 0.36 kW that reach the liquid then only cover what the drum loses to "
            "the air; more power, a higher set point inside the data sheet, a cover, or less "
            "warming",
            "Equipment!B13: Resin drum target temperature is 50 °C; never reached, it stops at "
            "42.7 °C "
            "because the 0.36 kW that reach the liquid then only cover what the drum loses to "
            "the air; more power, a higher set point inside the data sheet, a cover, or less "
            "warming",
        ),
        (
            "iso_warm_up_time",
            "resin_warm_up_time",
            "preparation_needed",
            "switch_on",
        ),
        (
            "passes",
            "iso_energy",
            "resin_energy",
            "energy_drawn",
            "total_price",
            "iso_gauge",
            "used_per_area",
            "resin_trim",
        ),
    ),
    Spoiled(
        "drum never warm: set point below it",
        {"resin_set_point": 45},
        (
            "Equipment!B13: Resin drum target temperature is 50 °C; never reached, it stops at "
            "42.4 °C "
            "because the set point of 45 °C then only covers what the drum loses to the air; "
            "more power, a higher set point inside the data sheet, a cover, or less warming",
        ),
        (
            "resin_warm_up_time",
            "preparation_needed",
            "switch_on",
        ),
        (
            "passes",
            "resin_energy",
            "energy_drawn",
            "total_price",
            "iso_gauge",
            "used_per_area",
            "iso_warm_up_time",
            "resin_trim",
        ),
    ),
    Spoiled(
        "drum never warm: supply too small",
        {"supply_voltage": 230, "supply_current": 13},
        (
            "Equipment!B10: Iso drum target temperature is 50 °C; never reached, it stops at "
            "35.4 °C "
            "because the supply has no more for both heaters than the drums lose to the air; "
            "more power, a higher set point inside the data sheet, a cover, or less warming",
            "Equipment!B13: Resin drum target temperature is 50 °C; never reached, it stops at "
            "35.4 °C "
            "because the supply has no more for both heaters than the drums lose to the air; "
            "more power, a higher set point inside the data sheet, a cover, or less warming",
            "Equipment!B8: all loads together are 14.4 kW; the supply carries 2.99 kW; have a "
            "competent electrician look at it",
        ),
        (
            "iso_warm_up_time",
            "resin_warm_up_time",
            "preparation_needed",
            "switch_on",
        ),
        (
            "passes",
            "iso_energy",
            "resin_energy",
            "energy_drawn",
            "total_price",
            "iso_gauge",
            "used_per_area",
            "resin_trim",
        ),
    ),
    Spoiled(
        "drum target as a text",
        {"iso_drum_target": "fifty"},
        (
            "Equipment!B10: Iso drum target temperature is the text 'fifty'; it must be a "
            "number, its "
            "unit stands in C10",
        ),
        (
            "iso_warm_up_time",
            "iso_energy",
            "preparation_needed",
            "switch_on",
            "energy_drawn",
        ),
        (
            "passes",
            "total_price",
            "iso_gauge",
            "used_per_area",
            "resin_trim",
        ),
    ),
    Spoiled(
        "efficiency as 0.9 beside %",
        {"heating_efficiency": 0.9},
        (
            "Equipment!B14: Share of the power that reaches the liquid is 0.9 %; less than 1 % "
            "is surely not meant; write 90 for 90 %, or pick fraction and write 0.009 for 0.9 %",
        ),
        (
            "iso_heating",
            "resin_heating",
            "iso_limit",
            "resin_limit",
            "iso_warm_up_time",
            "resin_warm_up_time",
            "preparation_needed",
            "switch_on",
            "energy_drawn",
        ),
        (
            "passes",
            "iso_energy",
            "resin_energy",
            "total_price",
            "iso_gauge",
            "used_per_area",
            "resin_trim",
        ),
    ),
    Spoiled(
        "efficiency above 100 %",
        {"heating_efficiency": 120},
        (
            "Equipment!B14: Share of the power that reaches the liquid is 120 %; it must be from "
            "10 to 100 %",
        ),
        (
            "iso_heating",
            "resin_heating",
            "iso_limit",
            "resin_limit",
            "iso_warm_up_time",
            "resin_warm_up_time",
            "preparation_needed",
            "switch_on",
            "energy_drawn",
        ),
        (
            "passes",
            "iso_energy",
            "resin_energy",
            "total_price",
            "iso_gauge",
            "used_per_area",
            "resin_trim",
        ),
    ),
    Spoiled(
        "recirculation flow nought",
        {"recirculation_flow": 0},
        (
            "Equipment!B15: Recirculation flow of each side is 0 L/min; it must be from 0.06 to "
            "60 L/min",
        ),
        (
            "iso_flow_heat_rate",
            "resin_flow_heat_rate",
            "iso_limit",
            "resin_limit",
            "iso_warm_up_time",
            "resin_warm_up_time",
            "preparation_needed",
            "switch_on",
        ),
        (
            "passes",
            "iso_energy",
            "resin_energy",
            "energy_drawn",
            "total_price",
            "iso_gauge",
            "used_per_area",
            "resin_trim",
        ),
    ),
    Spoiled(
        "heat loss negative",
        {"drum_heat_loss": -13},
        ("Equipment!B17: Heat lost by a drum is -13 W/K; it must be from 0 to 200 W/K",),
        (
            "iso_limit",
            "resin_limit",
            "iso_warm_up_time",
            "resin_warm_up_time",
            "preparation_needed",
            "switch_on",
        ),
        (
            "passes",
            "iso_energy",
            "resin_energy",
            "energy_drawn",
            "total_price",
            "iso_gauge",
            "used_per_area",
            "resin_trim",
        ),
    ),
    Spoiled(
        "specific heat in J beside kJ",
        {"iso_specific_heat": 1850},
        (
            "Processing!B8: Iso specific heat is 1850 kJ/(kg·K); it must be from 0.8 to 4.2 "
            "kJ/(kg·K)",
        ),
        (
            "iso_heat_capacity",
            "iso_flow_heat_rate",
            "hose_capacity",
            "iso_limit",
            "iso_warm_up_time",
            "iso_energy",
            "preparation_needed",
            "switch_on",
            "energy_drawn",
            "hose_warm_up",
        ),
        (
            "passes",
            "total_price",
            "iso_gauge",
            "used_per_area",
            "resin_trim",
        ),
    ),
    Spoiled(
        "voltage too low",
        {"supply_voltage": 24, "supply_current": 32},
        ("Equipment!B20: Voltage is 24 V; it must be from 50 to 1000 V",),
        (
            "supply",
            "iso_warm_up_time",
            "resin_warm_up_time",
            "preparation_needed",
            "switch_on",
        ),
        (
            "passes",
            "iso_energy",
            "resin_energy",
            "energy_drawn",
            "total_price",
            "iso_gauge",
            "used_per_area",
            "resin_trim",
        ),
    ),
    Spoiled(
        "phases misspelt",
        {"supply_voltage": 400, "supply_current": 32, "supply_phases": "3-phase"},
        ("Equipment!B22: Phases is '3-phase'; it must be one of: single phase, three phase",),
        (
            "supply",
            "iso_warm_up_time",
            "resin_warm_up_time",
            "preparation_needed",
            "switch_on",
        ),
        (
            "passes",
            "iso_energy",
            "resin_energy",
            "energy_drawn",
            "total_price",
            "iso_gauge",
            "used_per_area",
            "resin_trim",
        ),
    ),
    Spoiled(
        "hose bore in millimetres beside inches",
        {"hose_bore": 9.525, "hose_bore_unit": "in"},
        ("Equipment!B26: Bore of each hose is 9.525 in; it must be from 0.0787402 to 1.9685 in",),
        (
            "hose_fill",
            "iso_resistance",
            "resin_resistance",
            "hose_capacity",
            "iso_hose_delay",
            "iso_reynolds",
            "iso_friction",
            "resin_hose_delay",
            "resin_reynolds",
            "resin_friction",
            "viscosity_part",
            "hose_warm_up",
            "iso_gauge",
            "resin_gauge",
            "gauge_difference",
        ),
        (
            "passes",
            "total_price",
            "switch_on",
            "used_per_area",
            "iso_warm_up_time",
        ),
    ),
    Spoiled(
        "hose length unit of another kind",
        {"hose_length_unit": "L"},
        ("Equipment!C25: unit is 'L'; a length is wanted: m, cm, mm, ft, in, yd",),
        (
            "hose_heating_power",
            "hose_fill",
            "iso_resistance",
            "resin_resistance",
            "iso_hose_delay",
            "iso_friction",
            "resin_hose_delay",
            "resin_friction",
            "viscosity_part",
            "power_drawn",
            "hose_warm_up",
            "iso_gauge",
            "resin_gauge",
            "gauge_difference",
        ),
        (
            "passes",
            "iso_warm_up_time",
            "iso_energy",
            "resin_warm_up_time",
            "resin_energy",
            "preparation_needed",
            "switch_on",
            "energy_drawn",
            "total_price",
            "used_per_area",
        ),
    ),
    Spoiled(
        "hose heater too weak",
        {"hose_heating": 5},
        (
            "Equipment!B30: the hose at rest is never at 65 °C; its heater stops at 23.3 °C; "
            "recirculate warm liquid through it",
        ),
        (),
        (
            "passes",
            "total_price",
            "iso_gauge",
            "switch_on",
            "used_per_area",
            "iso_warm_up_time",
            "resin_trim",
        ),
        "OK",
    ),
    Spoiled(
        "orifice of a millimetre typed in inches",
        {"port_diameter": 0.6, "port_diameter_unit": "in"},
        (
            "Equipment!B34: Mixing chamber port, each side is 0.6 in; it must be from "
            "0.00393701 to "
            "0.393701 in",
        ),
        (
            "iso_resistance",
            "resin_resistance",
            "iso_friction",
            "iso_orifice",
            "resin_friction",
            "resin_orifice",
            "viscosity_part",
            "iso_gauge",
            "resin_gauge",
            "density_part",
            "gauge_difference",
        ),
        (
            "passes",
            "total_price",
            "switch_on",
            "used_per_area",
            "iso_warm_up_time",
        ),
    ),
    Spoiled(
        "discharge coefficient above one",
        {"discharge_coefficient": 150},
        ("Equipment!B36: Discharge coefficient is 150 %; it must be from 30 to 100 %",),
        (
            "iso_orifice",
            "resin_orifice",
            "iso_gauge",
            "resin_gauge",
            "density_part",
            "gauge_difference",
        ),
        (
            "passes",
            "total_price",
            "switch_on",
            "used_per_area",
            "iso_warm_up_time",
            "resin_trim",
        ),
    ),
    Spoiled(
        "viscosity rises with temperature",
        {"iso_viscosity_2": 900},
        ("Processing!B17: Iso viscosity point 2 is 900 mPa·s; it must be less than 800 mPa·s",),
        (
            "iso_viscosity",
            "iso_reynolds",
            "iso_friction",
            "viscosity_part",
            "iso_gauge",
            "gauge_difference",
            "iso_trim",
            "resin_trim",
        ),
        (
            "passes",
            "total_price",
            "switch_on",
            "used_per_area",
            "iso_warm_up_time",
        ),
    ),
    Spoiled(
        "viscosity points in the wrong order",
        {"resin_temperature_1": 70},
        ("Processing!B30: Resin viscosity point 2: at is 65 °C; it must be more than 70 °C",),
        (
            "resin_viscosity",
            "resin_reynolds",
            "resin_friction",
            "viscosity_part",
            "resin_gauge",
            "gauge_difference",
            "iso_trim",
            "resin_trim",
        ),
        (
            "passes",
            "total_price",
            "iso_gauge",
            "switch_on",
            "used_per_area",
            "iso_warm_up_time",
        ),
    ),
    Spoiled(
        "third viscosity without its temperature",
        {"iso_viscosity_3": 30},
        (
            "Processing!B18: Iso viscosity point 3: at is blank; it is needed beside the third "
            "viscosity",
        ),
        (
            "iso_viscosity",
            "iso_reynolds",
            "iso_friction",
            "viscosity_part",
            "iso_gauge",
            "gauge_difference",
            "iso_trim",
            "resin_trim",
        ),
        (
            "passes",
            "total_price",
            "switch_on",
            "used_per_area",
            "iso_warm_up_time",
        ),
    ),
    Spoiled(
        "viscosity with its unit",
        {"iso_viscosity_1": "800 mPas"},
        (
            "Processing!B15: Iso viscosity point 1 is the text '800 mPas'; it must be a number, "
            "its unit stands in C15; type 800 as a number",
        ),
        (
            "iso_viscosity",
            "iso_reynolds",
            "iso_friction",
            "viscosity_part",
            "iso_gauge",
            "gauge_difference",
            "iso_trim",
            "resin_trim",
        ),
        (
            "passes",
            "total_price",
            "switch_on",
            "used_per_area",
            "iso_warm_up_time",
        ),
    ),
    Spoiled(
        "pressure window upside down",
        {"iso_pressure_low": 250},
        (
            "Processing!B13: Iso pressure to is 240 bar; it must not be below Iso pressure from, "
            "250 bar",
        ),
        (),
        (
            "passes",
            "total_price",
            "iso_gauge",
            "switch_on",
            "used_per_area",
            "iso_warm_up_time",
            "resin_trim",
        ),
    ),
    Spoiled(
        "drum window upside down",
        {"resin_drum_low": 60},
        (
            "Processing!B24: Resin drum to is 55 °C; it must not be below Resin drum from, 60 °C",
            "Equipment!B13: Resin drum target temperature is 50 °C; it is below the 60 °C of "
            "the data sheet",
        ),
        (),
        (
            "passes",
            "total_price",
            "iso_gauge",
            "switch_on",
            "used_per_area",
            "iso_warm_up_time",
            "resin_trim",
        ),
    ),
    Spoiled(
        "ready time as a number",
        {"ready_time": 9},
        ("Job!B103: Ready to spray at is 9; it must be a time of day such as 08:30",),
        ("switch_on",),
        (
            "passes",
            "total_price",
            "iso_gauge",
            "used_per_area",
            "iso_warm_up_time",
            "resin_trim",
        ),
    ),
    Spoiled(
        "ready time as a text",
        {"ready_time": "9:00"},
        (
            "Job!B103: Ready to spray at is the text '9:00'; it must be a time of day such as "
            "08:30; type 09:00",
        ),
        ("switch_on",),
        (
            "passes",
            "total_price",
            "iso_gauge",
            "used_per_area",
            "iso_warm_up_time",
            "resin_trim",
        ),
    ),
    Spoiled(
        "confined space maybe",
        {"confined_space": "maybe"},
        ("Job!B109: Work in a confined space is 'maybe'; it must be one of: no, yes",),
        (),
        (
            "passes",
            "total_price",
            "iso_gauge",
            "switch_on",
            "used_per_area",
            "iso_warm_up_time",
            "resin_trim",
        ),
    ),
    Spoiled(
        "country unknown",
        {"exposure_country": "Atlantis"},
        (
            "Job!B110: Exposure limits of is 'Atlantis'; it must be one of: United States, "
            "European Union, United Kingdom, Australia, elsewhere",
        ),
        (),
        (
            "passes",
            "total_price",
            "iso_gauge",
            "switch_on",
            "used_per_area",
            "iso_warm_up_time",
            "resin_trim",
        ),
    ),
    Spoiled(
        "least dew margin negative",
        {"least_dew_margin": -1},
        ("Job!B108: Least distance to the dew point is -1 K; it must be from 0 to 20 K",),
        (),
        (
            "passes",
            "total_price",
            "iso_gauge",
            "switch_on",
            "used_per_area",
            "iso_warm_up_time",
            "resin_trim",
        ),
    ),
    Spoiled(
        "stirring time as a clock text",
        {"stirring_time": "1:00"},
        (
            "Job!B105: Stirring the resin is the text '1:00'; it must be a number, its unit "
            "stands in C105",
        ),
        (
            "preparation_needed",
            "switch_on",
        ),
        (
            "passes",
            "total_price",
            "iso_gauge",
            "used_per_area",
            "iso_warm_up_time",
            "resin_trim",
        ),
    ),
    Spoiled(
        "reading without a time",
        {"readings.time@1": None},
        ("Readings!B8: Time is blank; it must be a time of day such as 08:30",),
        (),
        (
            "passes",
            "total_price",
            "iso_gauge",
            "switch_on",
            "used_per_area",
            "iso_warm_up_time",
            "resin_trim",
        ),
    ),
    Spoiled(
        "reading without a phase",
        {"readings.phase@1": None},
        ("Readings!C8: Phase is blank; pick one of: warming, standing, spraying, cooling",),
        (),
        (
            "passes",
            "total_price",
            "iso_gauge",
            "switch_on",
            "used_per_area",
            "iso_warm_up_time",
            "resin_trim",
        ),
    ),
    Spoiled(
        "phase misspelt",
        {"readings.phase@1": "sprayin"},
        (
            "Readings!C8: Phase is 'sprayin'; it must be one of: warming, standing, spraying, "
            "cooling",
        ),
        (),
        (
            "passes",
            "total_price",
            "iso_gauge",
            "switch_on",
            "used_per_area",
            "iso_warm_up_time",
            "resin_trim",
        ),
    ),
    Spoiled(
        "event misspelt",
        {"readings.event@1": "drum"},
        (
            "Readings!D8: Event is 'drum'; it must be one of: test panel, drum change iso, drum "
            "change resin, drum change both, level set right, filter cleaned iso, filter cleaned "
            "resin, filter cleaned both, tip change, air purge, primer on, top coat on, pinholes, "
            "blisters, crystals in "
            "the iso, spent dryer",
        ),
        (
            "iso_used",
            "resin_used",
            "used_volume",
            "used_per_area",
        ),
        (
            "passes",
            "total_price",
            "iso_gauge",
            "switch_on",
            "iso_warm_up_time",
            "resin_trim",
        ),
    ),
    Spoiled(
        "time before the row above",
        {"readings.time@2": 0.38},
        (
            "Readings!B9: Time is 09:07; it must fit between the rows beside it; the one above "
            "is 09:36; put the rows in their order; type the date where a new day begins; where a "
            "clock was set back, go on with the old time",
        ),
        (),
        (
            "passes",
            "total_price",
            "iso_gauge",
            "switch_on",
            "used_per_area",
            "iso_warm_up_time",
            "resin_trim",
        ),
    ),
    Spoiled(
        "time as a text",
        {"readings.time@1": "09:36"},
        (
            "Readings!B8: Time is the text '09:36'; it must be a time of day such as 08:30; type "
            "09:36",
        ),
        (),
        (
            "passes",
            "total_price",
            "iso_gauge",
            "switch_on",
            "used_per_area",
            "iso_warm_up_time",
            "resin_trim",
        ),
    ),
    Spoiled(
        "time as hundreds",
        {"readings.time@1": 936},
        ("Readings!B8: Time is 936; it must be a time of day such as 08:30",),
        (),
        (
            "passes",
            "total_price",
            "iso_gauge",
            "switch_on",
            "used_per_area",
            "iso_warm_up_time",
            "resin_trim",
        ),
    ),
    Spoiled(
        "pressure with its unit",
        {"readings.iso_pressure@1": "2300 psi"},
        (
            "Readings!E8: Iso pressure is the text '2300 psi'; it must be a number, its unit "
            "stands in E5; type 158.579 (2300 psi in bar)",
        ),
        (),
        (
            "passes",
            "total_price",
            "iso_gauge",
            "switch_on",
            "used_per_area",
            "iso_warm_up_time",
            "resin_trim",
        ),
    ),
    Spoiled(
        "pressure negative",
        {"readings.resin_pressure@1": -140},
        ("Readings!F8: Resin pressure is -140 bar; it must be from 0 to 600 bar",),
        (),
        (
            "passes",
            "total_price",
            "iso_gauge",
            "switch_on",
            "used_per_area",
            "iso_warm_up_time",
            "resin_trim",
        ),
    ),
    Spoiled(
        "pressure in psi beside bar",
        {"readings.iso_pressure@1": 2300},
        ("Readings!E8: Iso pressure is 2300 bar; it must be from 0 to 600 bar",),
        (),
        (
            "passes",
            "total_price",
            "iso_gauge",
            "switch_on",
            "used_per_area",
            "iso_warm_up_time",
            "resin_trim",
        ),
    ),
    Spoiled(
        "temperature of a reading an absurd one",
        {"readings.iso_temperature@1": 650},
        ("Readings!G8: Iso heater outlet is 650 °C; it must be from -50 to 150 °C",),
        (),
        (
            "passes",
            "total_price",
            "iso_gauge",
            "switch_on",
            "used_per_area",
            "iso_warm_up_time",
            "resin_trim",
        ),
    ),
    Spoiled(
        "unit of a readings column of another kind",
        {"readings_iso_pressure_unit": "°C"},
        ("Readings!E5: unit is '°C'; a pressure is wanted: bar, MPa, GPa, kPa, Pa, hPa, psi",),
        (),
        (
            "passes",
            "total_price",
            "iso_gauge",
            "switch_on",
            "used_per_area",
            "iso_warm_up_time",
            "resin_trim",
        ),
    ),
    Spoiled(
        "humidity as a fraction beside %",
        {"readings.humidity@0": 0.7, "readings.air@0": 15, "readings.surface_reading@0": 15},
        (
            "Readings!M7: Humidity is 0.7 %; less than 1 % is surely not meant; write 70 for 70 "
            "%, or pick fraction and write 0.007 for 0.7 %",
        ),
        (),
        (
            "passes",
            "total_price",
            "iso_gauge",
            "switch_on",
            "used_per_area",
            "iso_warm_up_time",
            "resin_trim",
        ),
    ),
    Spoiled(
        "level rises without an event",
        {"readings.iso_left@2": 220},
        ("Readings!O9: Iso remaining is 220 L; a full drum holds 205 L",),
        (
            "iso_used",
            "used_volume",
            "used_per_area",
        ),
        (
            "passes",
            "total_price",
            "iso_gauge",
            "switch_on",
            "iso_warm_up_time",
            "resin_trim",
        ),
    ),
    Spoiled(
        "level above any drum",
        {"readings.iso_left@0": 20500},
        ("Readings!O7: Iso remaining is 20500 L; it must be from 0 to 2000 L",),
        (
            "iso_used",
            "used_volume",
            "used_per_area",
        ),
        (
            "passes",
            "total_price",
            "iso_gauge",
            "switch_on",
            "iso_warm_up_time",
            "resin_trim",
        ),
    ),
    Spoiled(
        "difference limit nought",
        {"difference_limit": 0},
        ("Equipment!B52: Pressure difference, at most is 0 bar; it must be from 0.1 to 200 bar",),
        (),
        (
            "passes",
            "total_price",
            "iso_gauge",
            "switch_on",
            "used_per_area",
            "iso_warm_up_time",
            "resin_trim",
        ),
    ),
    Spoiled(
        "five mistakes of the day at once",
        {
            "iso_heater_power": "six",
            "hose_length": -60,
            "iso_viscosity_2": 900,
            "readings.time@1": "09:36",
            "readings.iso_pressure@2": "2300 psi",
        },
        (
            "Processing!B17: Iso viscosity point 2 is 900 mPa·s; it must be less than 800 mPa·s",
            "Equipment!B8: Iso heater is the text 'six'; it must be a number, its unit stands in "
            "C8",
            "Equipment!B25: Heated hose is -60 m; it must be from 0 to 200 m",
            "Readings!B8: Time is the text '09:36'; it must be a time of day such as 08:30; type "
            "09:36",
            "Readings!E9: Iso pressure is the text '2300 psi'; it must be a number, its unit "
            "stands in E5; type 158.579 (2300 psi in bar)",
        ),
        (
            "iso_heating",
            "resin_heating",
            "hose_heating_power",
            "hose_fill",
            "iso_resistance",
            "resin_resistance",
            "iso_viscosity",
            "iso_limit",
            "resin_limit",
            "iso_hose_delay",
            "iso_reynolds",
            "iso_friction",
            "resin_hose_delay",
            "resin_friction",
            "viscosity_part",
            "iso_warm_up_time",
            "resin_warm_up_time",
            "preparation_needed",
            "switch_on",
            "power_drawn",
            "hose_warm_up",
            "iso_gauge",
            "resin_gauge",
            "gauge_difference",
            "iso_trim",
            "resin_trim",
        ),
        (
            "passes",
            "iso_energy",
            "resin_energy",
            "energy_drawn",
            "total_price",
            "used_per_area",
        ),
    ),
)


@pytest.mark.parametrize("spoiled", SPOILED, ids=lambda one: one.name)
def test_it_names_the_cell_refuses_what_depends_on_it_and_fills_the_rest(
    spoiled: Spoiled, tmp_path: Path
) -> None:
    judge(day_cells(), spoiled, tmp_path)


def test_at_least_forty_more_workbooks_are_spoiled() -> None:
    assert len({one.name for one in SPOILED}) == len(SPOILED) >= 40
