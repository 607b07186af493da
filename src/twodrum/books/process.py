"""Inputs of the day at the machine: processing data of iso and resin, the machine, the day."""

from __future__ import annotations

from ..core.electricity import PHASES
from ..core.mix import LINING, SECOND
from ..engine.model import DAYS, Block, Field, Order
from ..engine.references import Name
from ..studies import recoats
from ..studies.linings import FIRST_LINING
from ..studies.mix import ONE_DRIVE
from ..studies.readings import MOISTURE_SIGNS as MOISTURE_SIGNS

NOT_GIVEN = "none was given; the data sheet says how long"
# What a side holds as heat where its data sheet says nothing, with where that comes from.
HEATS = {
    "iso": (1800.0, "polymeric MDI, published as 0.43 cal/(g·°C); see the data sheet"),
    "resin": (2000.0, "published: 1800 for MDI to 2496 for propanediol; see the data sheet"),
}

YES_NO = ("no", "yes")
SOLVENTS = ("none", "acetone", "another solvent")
COUNTRIES = ("United States", "European Union", "United Kingdom", "Australia", "elsewhere")

# Each on the sheet that shows it.
PICKS = (
    Block(
        "The day that is planned",
        (
            Field(
                "planned_date",
                "Day",
                "date",
                *DAYS,
                guide="The lining of it is picked on Job.",
            ),
        ),
        "Day sheet",
    ),
    Block(
        "The day whose warm-up is told",
        (
            Field(
                "learned_date",
                "Day that the plan is held against",
                "date",
                *DAYS,
                guide="Blank: the one that Balance shows.",
            ),
        ),
        "Warm-up",
    ),
    Block(
        "The day in the charts",
        (
            Field(
                "shown_date",
                "Day that is shown",
                "date",
                *DAYS,
                guide="Blank: the last one with readings.",
            ),
        ),
        "Balance",
    ),
)
DAY = Block(
    "The day",
    (
        Field(
            "work_date",
            "Day of the readings",
            "date",
            *DAYS,
            guide="Of the first reading; rows of later days carry their date on Readings.",
        ),
        Field(
            "planned_lining",
            "Lining that is planned",
            "lining",
            default=FIRST_LINING,
            reason="the lining of the job",
            guide="Warm-up, Balance and Day sheet are of it.",
        ),
        Field("ready_time", "Ready to spray at", "clock", guide="Time of day, such as 08:30."),
        Field(
            "next_break",
            "Next break at",
            "clock",
            guide="Until then the drums should last; told on Batches.",
        ),
        Field(
            "stirring_time",
            "Stirring the resin",
            "time",
            0.0,
            36000.0,
            default=0.0,
            reason=NOT_GIVEN,
            guide="As the data sheet says; stirring and heating run side by side.",
            metric="min",
            us="min",
        ),
        Field(
            "set_up_time",
            "Set-up once all is warm",
            "time",
            0.0,
            36000.0,
            default=0.0,
            reason=NOT_GIVEN,
            guide="Set points down, pressures up and balanced.",
            metric="min",
            us="min",
        ),
        Field(
            "panel_time",
            "Test panel",
            "time",
            0.0,
            36000.0,
            default=0.0,
            reason=NOT_GIVEN,
            guide="Spray it, look at it, note it on Readings as an event.",
            metric="min",
            us="min",
        ),
        Field(
            "least_dew_margin",
            "Least distance to the dew point",
            "temperature_difference",
            0.0,
            20.0,
            default=3.0,
            reason="ISO 8502-4:2017, from memory; the data sheet decides",
            guide="How far the surface has to stand above the dew point.",
        ),
        Field(
            "confined_space",
            "Work in a confined space",
            "yes_no",
            guide="Blank counts as not yet answered, and is told on Cautions.",
        ),
        Field(
            "exposure_country",
            "Exposure limits of",
            "country",
            guide="Blank: those of every country on the list are told.",
        ),
        Field("cleaning_solvent", "Solvent for cleaning", "solvent", guide="What is on site."),
        Field(
            "moisture_sign",
            "Sign of moisture seen",
            "moisture_sign",
            guide="Blank where none was seen; signs of the day may stand on Readings too.",
        ),
        Field(
            "iso_weighed",
            "Iso used, weighed",
            "volume",
            0.0,
            1000.0,
            guide="Blank: counted from the levels on Readings.",
        ),
        Field(
            "resin_weighed",
            "Resin used, weighed",
            "volume",
            0.0,
            1000.0,
            guide="Blank: counted from the levels on Readings.",
        ),
    ),
)


def _groups(component: str) -> Field:
    """What an index is worked out from: reactive groups of one side."""
    prefix, name = component.replace(" ", "_"), component.capitalize()
    if component.endswith("iso"):
        return Field(
            f"{prefix}_nco_share",
            f"{name}, NCO content",
            "share",
            0.01,
            0.6,
            guide="By mass. Blank: no index is worked out.",
        )
    return Field(
        f"{prefix}_equivalent_weight",
        f"{name}, equivalent weight",
        "molar_mass",
        0.01,
        10.0,
        guide="Of the blend; amine groups count once. Blank: no index.",
    )


def _side(component: str) -> Block:
    side = component.replace(" ", "_")
    # What a second lining says of it stands folded away.
    kind_of = component.rsplit(maxsplit=1)[-1]
    specific_heat, published = HEATS[kind_of]
    name = component.capitalize()
    points = []
    for number, word in enumerate(("coldest", "warmer", "warmest"), 1):
        optional = "" if number < 3 else " May stay blank."
        points += [
            Field(
                f"{side}_temperature_{number}",
                f"{name} viscosity point {number}: at",
                "temperature",
                223.15,
                423.15,
                guide=f"Temperature of the {word} viscosity of the data sheet.{optional}",
            ),
            Field(
                f"{side}_viscosity_{number}",
                f"{name} viscosity point {number}",
                "viscosity",
                1e-4,
                100.0,
                guide="Dynamic viscosity there; it falls from point to point.",
            ),
        ]
    return Block(
        f"{name}, from its data sheet",
        (
            Field(
                f"{side}_specific_heat",
                f"{name} specific heat",
                "specific_heat",
                800.0,
                4200.0,
                default=specific_heat,
                reason=published,
                guide="10 % more takes 10 % more time to warm.",
            ),
            Field(
                f"{side}_drum_low",
                f"{name} drum from",
                "temperature",
                223.15,
                423.15,
                guide="Window of the drum's temperature before spraying.",
            ),
            Field(f"{side}_drum_high", f"{name} drum to", "temperature", 223.15, 423.15),
            Field(
                f"{side}_heat_limit",
                f"{name} never warmer than",
                "temperature",
                223.15,
                423.15,
                guide="Highest temperature of the data sheet, in heater and drum.",
            ),
            Field(
                f"{side}_pressure_low",
                f"{name} pressure from",
                "pressure",
                1e5,
                6e7,
                guide="Window of the gauge while spraying.",
            ),
            Field(f"{side}_pressure_high", f"{name} pressure to", "pressure", 1e5, 6e7),
            *points,
            # No index is worked out for a second lining.
            *(() if component in SECOND else (_groups(component),)),
        ),
        "Processing",
        seldom=component in SECOND,
    )


_PREFIXES = tuple(component.replace(" ", "_") for component in (*LINING, *SECOND))


def _between(coat: str, name: str) -> tuple[Field, Field]:
    """When the next coat may follow on one, by its data sheet."""
    label = coat.capitalize()
    return (
        Field(
            f"{name}_recoat_from",
            f"{label}: next coat after",
            "time",
            0.0,
            2592000.0,
            guide="Blank: not looked at. Readings says when a coat went on, as an event.",
            metric="h",
            us="h",
        ),
        Field(
            f"{name}_recoat_to",
            f"{label}: next coat within",
            "time",
            0.0,
            2592000.0,
            guide="After that its data sheet asks for more before another coat.",
            metric="h",
            us="h",
        ),
    )


BETWEEN_COATS = Block(
    "From coat to coat",
    tuple(field for coat, name in recoats.COATS.items() for field in _between(coat, name)),
    "Processing",
    seldom=True,
)
FILMS = (Order("film_thickness", "film_most"),)
WINDOWS = tuple(
    Order(f"{side}_{what}_low", f"{side}_{what}_high")
    for side in _PREFIXES
    for what in ("drum", "pressure")
) + tuple(Order(*pair, True) for pair in recoats.WINDOWS.values())

# No set point may stand above the highest temperature of a data sheet.
HEAT_LIMITS = tuple(
    Order(name, f"{lining}{side}_heat_limit", True)
    for lining in ("", "second_")
    for side in LINING
    for name in (
        *(f"{lining}{side}_{what}" for what in ("set_point", "drum_target")),
        f"{lining}hose_set_point",
    )
)

PROCESSING = tuple(map(_side, (*LINING, *SECOND)))


AS_SAID = "As data sheet and machine manual say."
WARMED = f"{AS_SAID} Blank: no warm-up is planned."
TARGET = "As the data sheet says; there the set point goes back to spray temperature."


def _of_side(side: str) -> tuple[Field, ...]:
    name = side.capitalize()
    power = Field(
        f"{side}_heater_power",
        f"{name} heater",
        "power",
        0.0,
        1e5,
        default=None if side == "iso" else Name("iso_heater_power"),
        reason="" if side == "iso" else "as the iso heater",
        guide="Rated power. Blank: no warm-up is planned.",
    )
    return (
        power,
        Field(
            f"{side}_set_point",
            f"{name} set point while warming",
            "temperature",
            273.15,
            393.15,
            guide=WARMED,
        ),
        Field(
            f"{side}_drum_target",
            f"{name} drum target temperature",
            "temperature",
            273.15,
            373.15,
            guide=TARGET,
        ),
    )


SECOND_IN_MACHINE = Block(
    "While the second lining is in the machine",
    (
        *(
            Field(
                f"second_{side}_{what}",
                f"Second {side} {words}",
                "temperature",
                273.15,
                most,
                guide=guide,
            )
            for side in LINING
            for what, words, most, guide in (
                ("set_point", "set point while warming", 393.15, WARMED),
                ("drum_target", "drum target temperature", 373.15, TARGET),
            )
        ),
        Field(
            "second_hose_set_point",
            "Hose set point, second lining",
            "temperature",
            273.15,
            373.15,
            guide=AS_SAID,
        ),
        Field(
            "second_stirring_time",
            "Stirring the second resin",
            "time",
            0.0,
            36000.0,
            default=0.0,
            reason=NOT_GIVEN,
            guide="As its data sheet says.",
            metric="min",
            us="min",
        ),
    ),
    "Equipment",
    seldom=True,
)

EQUIPMENT = (
    Block(
        "Heaters and drums",
        (
            *_of_side("iso"),
            *_of_side("resin"),
            Field(
                "heating_efficiency",
                "Share of the power that reaches the liquid",
                "share",
                0.1,
                1.0,
                default=1.0,
                reason="resistance turns all power to heat; losses count apart",
            ),
            Field(
                "recirculation_flow",
                "Recirculation flow of each side",
                "volume_flow",
                1e-6,
                1e-3,
            ),
            Field(
                "drum_start",
                "Drums before warming",
                "temperature",
                253.15,
                333.15,
                default=Name("air_temperature"),
                reason="as cold as the air",
                guide="Measured after stirring, at half depth.",
            ),
            Field(
                "drum_heat_loss",
                "Heat lost by a drum",
                "heat_rate",
                0.0,
                200.0,
                default=13.0,
                reason="a bare drum in still air: 11 to 15 W/K, worked out from handbook laws",
                guide="Bare in 3 m/s of wind about 29, under 25 mm of cover about 2.4 to 5.",
            ),
            Field(
                "drum_steel",
                "Empty drum",
                "mass",
                0.0,
                100.0,
                default=18.1,
                reason="a 205 L steel drum of a specification",
            ),
        ),
        "Equipment",
    ),
    Block(
        "Supply",
        (
            Field(
                "supply_voltage",
                "Voltage",
                "voltage",
                50.0,
                1000.0,
                guide="Between lines where there are three. Blank: no limit is looked at.",
            ),
            Field(
                "supply_current",
                "Current that the supply may carry",
                "current",
                1.0,
                2000.0,
                guide="A licensed electrician says how much it is.",
            ),
            Field(
                "supply_phases",
                "Phases",
                "phases",
                default=PHASES[0],
                reason="the weaker of the two",
            ),
            Field(
                "other_power",
                "Other loads at the same time",
                "power",
                0.0,
                1e6,
                default=0.0,
                reason="none were given",
                guide="Compressor, transfer pumps, lights.",
            ),
        ),
        "Equipment",
    ),
    Block(
        "Hose",
        (
            Field(
                "hose_length",
                "Heated hose",
                "length",
                0.0,
                200.0,
                guide="Without the whip hose. Blank: nothing is said of hose and pressures.",
            ),
            Field(
                "hose_bore",
                "Bore of each hose",
                "length",
                0.002,
                0.05,
                metric="mm",
                us="in",
            ),
            Field(
                "whip_length",
                "Whip hose",
                "length",
                0.0,
                20.0,
                default=0.0,
                reason="none was given",
            ),
            Field(
                "whip_bore",
                "Bore of the whip hose",
                "length",
                0.002,
                0.05,
                metric="mm",
                us="in",
            ),
            Field(
                "hose_set_point",
                "Hose set point",
                "temperature",
                273.15,
                373.15,
                guide=AS_SAID,
            ),
            Field(
                "hose_heating",
                "Heating of the pair",
                "power_per_length",
                0.0,
                500.0,
            ),
            Field(
                "hose_heat_loss",
                "Heat lost by the pair",
                "heat_rate_per_length",
                0.0,
                10.0,
            ),
            Field(
                "hose_wall",
                "Walls of the pair",
                "mass_per_length",
                0.0,
                20.0,
            ),
        ),
        "Equipment",
    ),
    Block(
        "Gun",
        (
            Field(
                "port_diameter",
                "Mixing chamber port, each side",
                "length",
                1e-4,
                0.01,
                guide="Blank: no pressures are predicted.",
                metric="mm",
                us="in",
            ),
            Field(
                "port_length",
                "Length of the port",
                "length",
                0.0,
                0.05,
                default=0.0,
                reason="the coefficient holds its friction",
                metric="mm",
                us="in",
            ),
            Field(
                "discharge_coefficient",
                "Discharge coefficient",
                "share",
                0.3,
                1.0,
                default=0.82,
                reason="short tube, EB 1911 Hydraulics; 0.62 for a sharp edge",
            ),
            Field(
                "pattern_width",
                "Spray pattern width",
                "length",
                0.01,
                2.0,
                guide="Full width at the distance sprayed from. Blank: no gun speed.",
                metric="mm",
                us="in",
            ),
            Field(
                "overlap",
                "Overlap of strokes",
                "share",
                0.0,
                0.9,
                default=0.5,
                reason="MIL-HDBK-1110 (1995), 9.6.8; the data sheet decides",
                guide="Share of the spray pattern that the next stroke covers again.",
            ),
        ),
        "Equipment",
    ),
    Block(
        "Pump and scale",
        (
            Field(
                "stroke_volume",
                "One stroke of each side delivers",
                "volume",
                1e-6,
                0.01,
                guide="Up and down. Blank: strokes are not looked at.",
                metric="mL",
                us="mL",
            ),
            Field(
                "pump_drive",
                "Pumps of iso and resin",
                "pump_drive",
                default=ONE_DRIVE,
                reason="the stricter of the two: strokes then tell no ratio",
                guide="On one drive strokes tell no ratio, but what each side delivers.",
            ),
            Field(
                "level_uncertainty",
                "Level reading, standard deviation",
                "volume",
                0.0,
                0.1,
                default=0.002,
                reason="a dip stick read to 1 in, JCGM 100, 4.3.7",
                guide="A drum of 571.5 mm holds 0.26 L for each millimetre.",
            ),
            Field(
                "scale_uncertainty",
                "Weighing a drum, standard deviation",
                "mass",
                0.0,
                20.0,
                default=0.5,
                reason="class III scale of 0.5 kg, OIML R 76-1, from memory",
                guide="Of one weighing; 95 in 100 err by less than twice as much.",
            ),
            Field(
                "ratio_tolerance",
                "Mix off its ratio by at most",
                "share",
                0.001,
                0.5,
            ),
        ),
        "Equipment",
    ),
    Block(
        "Resin side, where it differs",
        (
            *(
                Field(
                    f"resin_{name}",
                    f"Resin: {label}",
                    "length",
                    least,
                    most,
                    default=Name(name),
                    reason="as on the iso side",
                    metric="mm",
                    us="in",
                )
                for name, label, least, most in (
                    ("hose_bore", "bore of its hose", 0.002, 0.05),
                    ("whip_bore", "bore of its whip hose", 0.002, 0.05),
                    ("port_diameter", "mixing chamber port", 1e-4, 0.01),
                    ("port_length", "length of the port", 0.0, 0.05),
                )
            ),
            Field(
                "resin_stroke_volume",
                "Resin: one stroke delivers",
                "volume",
                1e-6,
                0.01,
                default=Name("stroke_volume"),
                reason="as on the iso side",
                metric="mL",
                us="mL",
            ),
        ),
        "Equipment",
    ),
    Block(
        "Limits of the office",
        (
            Field(
                "difference_limit",
                "Pressure difference, at most",
                "pressure",
                1e4,
                2e7,
                guide="Iso against resin at the gauges, whatever explains it.",
            ),
            Field(
                "change_limit",
                "Change from the baseline, action limit",
                "pressure",
                1e4,
                2e7,
                guide="Difference less what viscosity explains, against the last good panel.",
            ),
            Field(
                "gauge_scatter",
                "Pressure difference, scatter of a reading",
                "pressure",
                1e3,
                5e6,
                default=2e5,
                reason="two gauges read to 5 bar, JCGM 100, 4.3.7",
                guide="Readings that scatter more count with their own scatter.",
            ),
        ),
        "Equipment",
    ),
    SECOND_IN_MACHINE,
)
