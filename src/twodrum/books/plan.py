"""Results of the day at the machine: warm-up, balance of the pressures, cautions, use."""

from __future__ import annotations

from ..core.mix import LINING, OTHER_SIDE
from ..engine.model import Cell, Chart, Column, Field, ResultBlock, Study
from ..engine.references import Agg, Lookup, Name, Row
from ..studies import balance, cautions, curves, learn, warm_up, warm_up_times
from ..studies.balance import POINTS
from ..studies.linings import FIRST_LINING, OF_LINING, PLANNED, TYPED
from .process import DAY, EQUIPMENT, PROCESSING
from .systems import may_lack


def _carried(name: str, label: str, kind: str) -> Column:
    key = Lookup("materials", Row("component"), name)
    return Column("order", name, label, kind, "", (key,), working=True)


ORDER_CARRIED = (
    _carried("thermal_expansion", "Expansion", "expansion"),
    _carried("density_temperature", "Density at", "temperature"),
    Column(
        "order",
        "volume_price",
        "Price",
        "price_per_volume",
        "materials[row.component].volume_price * (1 + price_rise)",
        working=True,
    ),
    _carried("spray_low", "Spray from", "temperature"),
    _carried("spray_high", "Spray to", "temperature"),
)


# What of a component the plan reads, with what it is called of a second one.
OF_COMPONENT = {
    "density": ("density", "density"),
    "thermal_expansion": ("expansion", "expansion"),
    "density_temperature": ("density at", "temperature"),
    "spray_temperature": ("sprayed at", "temperature"),
    "spray_low": ("spray window from", "temperature"),
    "spray_high": ("spray window to", "temperature"),
}
FIELDS = {f.name: f for b in (DAY, *PROCESSING, *EQUIPMENT) for f in b.fields}
OF_QUOTE = {
    "drum_volume": ("drum", "volume"),
    "drums": ("drums opened", "drums"),
    "part_drums": ("in part drums", "volume"),
}
# All else that a lining has of its own is held against readings only.
HELD_AGAINST = ("_low", "_high", "_limit")
ON_DAY_SHEET = ("set_point", "drum_target", "drums", "stirring_time")
IS_FIRST = f'{PLANNED} == "{FIRST_LINING}"'


def _first(side: str, name: str, label: str, kind: str) -> Cell:
    """What stands in the row of iso or resin on Order, whatever is planned."""
    found = Lookup("order", side, name)
    return Cell(f"first_{side}_{name}", f"First {side}: {label}", kind, "", (found,), working=True)


def _of_plan(name: str, label: str, kind: str) -> Cell:
    line = f"{name} if {IS_FIRST} else {OF_LINING[name]}"
    told = name.endswith(ON_DAY_SHEET)
    return Cell(f"planned_{name}", f"{label}, planned", kind, line, working=not told)


def _drawn_of_second(side: str) -> tuple[Cell, ...]:
    """What was drawn of a second iso or resin, by its drums or else by the levels."""
    key, words = f"second_{side}", f"Second {side}"
    drums = Agg("drums", "drawn", where=("holds", f"second {side}"))
    return (
        Cell(f"{key}_ledger", f"{words} by the drums", "volume", "", (drums,), working=True),
        Cell(
            f"{key}_levels",
            f"{words} by the levels",
            "volume",
            "",
            working=True,
            study="usage",
        ),
        Cell(
            f"{key}_measured",
            f"{words} as it was measured",
            "volume",
            f"first_known({key}_ledger, {key}_levels)",
            working=True,
        ),
    )


# What the plan and the account hold drums against; the what-ifs read more of each component.
OF_DRUMS = ResultBlock(
    "Of each component",
    tuple(
        Cell(
            f"{side}_drum_volume",
            f"{side.capitalize()}: Drum",
            "volume",
            "",
            (Lookup("order", side, "drum_volume"),),
            working=True,
        )
        for side in LINING
    ),
    "Sums",
)
# What the plan rests on, from the lining that is planned.
OF_PLANNED = ResultBlock(
    "Of the lining that is planned",
    (
        *(
            cell
            for side in LINING
            for name, (words, kind) in OF_COMPONENT.items()
            for cell in (
                _first(side, name, words, kind),
                # A job need not have a second lining.
                may_lack(f"second {side}", name, words, kind, name),
            )
        ),
        *(
            Cell(
                f"{which}_{side}_flow",
                f"{which.capitalize()} {side}: flow while spraying",
                "volume_flow",
                f"pump_output * {ratio} / {parts}",
                working=True,
            )
            for side in LINING
            for which, ratio, parts in (
                ("first", f"{side}_ratio", "ratio_total"),
                ("second", f"second_{side}_ratio", "second_both"),
            )
        ),
        *(cell for side in LINING for cell in _drawn_of_second(side)),
        *(
            _of_plan(f"{side}_{name}", f"{side.capitalize()} {words}", kind)
            for side in LINING
            for name, (words, kind) in OF_QUOTE.items()
        ),
        *(
            _of_plan(name, FIELDS[name].label, FIELDS[name].kind)
            for name in TYPED
            if not name.endswith(HELD_AGAINST)
        ),
    ),
    "Sums",
)
WITH_PLANNED = {cell.name for cell in OF_PLANNED.cells if cell.name.startswith("planned_")}


def _planned(name: str) -> Name:
    """A value of the lining that is planned, or one that holds for every lining."""
    own = f"planned_{name}"
    return Name(own if own in WITH_PLANNED else name)


def _of_order(side: str, name: str, label: str, kind: str) -> Cell:
    line = f"first_{side}_{name} if {IS_FIRST} else second_{side}_{name}"
    return Cell(f"{side}_{name}", label, kind, line)


def _names(side: str, *names: str) -> tuple[Name, ...]:
    return tuple(_planned(f"{side}_{name}") for name in names)


def _own(side: str, name: str) -> Name:
    """What the resin side may have of its own."""
    return Name(name if side == "iso" else f"{side}_{name}")


def _drum(side: str) -> ResultBlock:
    name = side.capitalize()

    def of(*names: str) -> tuple[Name, ...]:
        return _names(side, *names)

    def heated(of_side: str) -> tuple[Name, ...]:
        return (
            *_names(of_side, "heat_capacity"),
            Name("drum_heat_loss"),
            *_names(of_side, "heating", "flow_heat_rate"),
        )

    return ResultBlock(
        f"{name} drum",
        (
            _of_order(side, "density", f"{name} density", "density"),
            Cell(
                f"{side}_heat_capacity",
                f"{name} drum, heat for each kelvin",
                "heat_capacity",
                "drum_heat_capacity",
                (*of("drum_volume", "density", "specific_heat"), Name("drum_steel")),
                "Liquid and steel; 10 % of uncertainty in the specific heat is 10 % in the time.",
            ),
            Cell(
                f"{side}_flow_heat_rate",
                f"{name} flow, heat for each kelvin",
                "heat_rate",
                f"{side}_density * planned_{side}_specific_heat * recirculation_flow",
            ),
            Cell(
                f"{side}_heating",
                f"{name} heat that reaches the liquid",
                "power",
                f"{side}_heater_power * heating_efficiency",
            ),
            Cell(
                f"{side}_limit",
                f"{name} drum stops warming at",
                "temperature",
                "warm_up_limit",
                (
                    Name("drum_heat_loss"),
                    *of("heating", "flow_heat_rate", "set_point"),
                    Name("air_temperature"),
                ),
                "There the heater only covers what the drum loses.",
            ),
            Cell(
                f"{side}_warm_up_time",
                f"{name} drum is warm after",
                "time",
                "shared_warm_up_time",
                (
                    *heated(side),
                    *heated(OTHER_SIDE[side]),
                    Name("power_for_heaters"),
                    *of("set_point"),
                    Name("air_temperature"),
                    Name("drum_start"),
                    *of("drum_target"),
                    *_names(OTHER_SIDE[side], "set_point", "drum_target", "spray_temperature"),
                ),
                "Both heaters on from the start; the supply shared where it is too small.",
                "min",
                "min",
                "warm_up_times",
            ),
            Cell(
                f"{side}_energy",
                f"{name} heat taken up",
                "energy",
                f"{side}_heat_capacity * max(0, planned_{side}_drum_target - drum_start)",
                guide="From the start to where it is warmed to.",
            ),
        ),
        "Warm-up",
    )


WARM_UP_TOGETHER = ResultBlock(
    "Together",
    (
        Cell(
            "preparation_needed",
            "Longest of iso, resin and stirring",
            "time",
            "max(iso_warm_up_time, resin_warm_up_time, planned_stirring_time)",
            guide="They run side by side.",
            metric="min",
            us="min",
        ),
        Cell(
            "switch_on",
            "Switch on and start stirring at",
            "clock",
            "switch_on",
            (
                Name("ready_time"),
                Name("set_up_time"),
                Name("panel_time"),
                Name("preparation_needed"),
            ),
            "Ready time less the panel, the set-up and the longest of the three.",
        ),
        Cell(
            "hose_heating_power",
            "Hose",
            "power",
            "hose_length * hose_heating",
        ),
        Cell(
            "power_drawn",
            "Heaters, hose and other loads",
            "power",
            "iso_heater_power + resin_heater_power + zero_if_blank(hose_heating_power)"
            " + other_power",
            guide="Rated, all on at once.",
        ),
        Cell(
            "supply",
            "Supply",
            "power",
            "supply_power",
            (Name("supply_voltage"), Name("supply_current"), Name("supply_phases")),
            "Of resistive loads; a licensed electrician says what it may carry.",
        ),
        Cell(
            "power_for_heaters",
            "Left for the liquid of both drums",
            "power",
            "max(0, supply - zero_if_blank(hose_heating_power) - other_power) * heating_efficiency",
            guide="Supply less hose and other loads, times the share that reaches the liquid.",
        ),
        Cell(
            "energy_drawn",
            "Energy to warm both drums",
            "energy",
            "(iso_energy + resin_energy) / heating_efficiency",
            guide="What the drums take up, over the share that reaches them; losses on top.",
        ),
    ),
    "Warm-up",
)

HOSE = ResultBlock(
    "Hose",
    (
        Cell(
            "hose_fill",
            "Each hose holds",
            "volume",
            "hose_volume",
            (Name("hose_length"), Name("hose_bore")),
            "With the bore of the iso side.",
        ),
        *(
            Cell(
                f"{side}_hose_delay",
                f"{side.capitalize()} is in the hose for",
                "time",
                "residence_time",
                (Name("hose_length"), _own(side, "hose_bore"), Name(f"{side}_flow")),
                "A change at the machine reaches the gun that much later.",
                metric="min",
                us="min",
            )
            for side in LINING
        ),
        Cell(
            "hose_capacity",
            "Hose pair, heat for each length and kelvin",
            "heat_capacity_per_length",
            "hose_heat_capacity",
            (
                *_names("iso", "density", "specific_heat"),
                *_names("resin", "density", "specific_heat"),
                Name("hose_bore"),
                Name("hose_wall"),
            ),
        ),
        Cell(
            "hose_warm_up",
            "Hose at rest is warm after",
            "time",
            "hose_warm_up_time",
            (),
            "Never heat a hose that is shut and full. Blank where it is not heated.",
            "min",
            "min",
            "warm_up_times",
        ),
    ),
    "Warm-up",
)


def _pressures(side: str) -> ResultBlock:
    name = side.capitalize()

    def of(*names: str) -> tuple[Name, ...]:
        return _names(side, *names)

    return ResultBlock(
        f"{name} at spray temperature",
        (
            _of_order(side, "spray_temperature", f"{name} sprayed at", "temperature"),
            _of_order(side, "thermal_expansion", f"{name} expansion", "expansion"),
            _of_order(side, "density_temperature", f"{name} density is for", "temperature"),
            Cell(
                f"{side}_warm_density",
                f"{name} density, warm",
                "density",
                "density_at_temperature",
                of("density", "thermal_expansion", "spray_temperature", "density_temperature"),
            ),
            Cell(
                f"{side}_flow",
                f"{name} flow while spraying",
                "volume_flow",
                f"first_{side}_flow if {IS_FIRST} else second_{side}_flow",
            ),
            Cell(
                f"{side}_viscosity",
                f"{name} viscosity",
                "viscosity",
                "viscosity_at",
                of("spray_temperature", *POINTS),
            ),
            Cell(
                f"{side}_reynolds",
                f"{name} Reynolds number in the hose",
                "number",
                "reynolds_number",
                (*of("warm_density", "viscosity", "flow"), _own(side, "hose_bore")),
                "The pressures here hold below 2300.",
            ),
            Cell(
                f"{side}_friction",
                f"{name} lost to viscosity",
                "pressure",
                "friction_pressure",
                of("resistance", "viscosity", "flow"),
                "In hose, whip hose and mixing chamber port.",
            ),
            Cell(
                f"{side}_orifice",
                f"{name} at the mixing chamber port",
                "pressure",
                "orifice_pressure_drop",
                (
                    *of("warm_density", "flow"),
                    _own(side, "port_diameter"),
                    Name("discharge_coefficient"),
                ),
            ),
            Cell(
                f"{side}_gauge",
                f"{name} to expect at the gauge",
                "pressure",
                f"{side}_friction + {side}_orifice",
                guide="A prediction: the coefficient of the gun carries most of the uncertainty.",
            ),
        ),
        "Balance",
    )


def _trim(side: str) -> tuple[Cell, ...]:
    name, other = side.capitalize(), OTHER_SIDE[side]
    return (
        _of_order(side, "spray_low", f"{name} spray window from", "temperature"),
        _of_order(side, "spray_high", f"{name} spray window to", "temperature"),
        Cell(
            f"{side}_level_viscosity",
            f"{name} viscosity that levels both sides",
            "viscosity",
            f"{other}_friction / ({side}_resistance * {side}_flow)",
        ),
        Cell(
            f"{side}_trim",
            f"{name} trimmed to, {other} left alone",
            "temperature",
            "trim_temperature",
            _names(side, "level_viscosity", "spray_low", "spray_high", *POINTS),
            "Nulls the part by viscosity, or comes nearest inside the data sheet's window.",
        ),
    )


DIFFERENCE = ResultBlock(
    "Iso against resin",
    (
        Cell(
            "gauge_difference",
            "Pressure difference",
            "pressure",
            "iso_gauge - resin_gauge",
        ),
        Cell(
            "viscosity_part",
            "of it by viscosity",
            "pressure",
            "iso_friction - resin_friction",
            guide="Temperature trims it.",
        ),
        Cell(
            "density_part",
            "of it by density and flow at the ports",
            "pressure",
            "iso_orifice - resin_orifice",
            guide="It stays: do not trim it away. Judge the change from the baseline.",
        ),
        *(cell for side in LINING for cell in _trim(side)),
    ),
    "Balance",
)

RESISTANCE = ResultBlock(
    "Hose, whip and gun",
    (
        *(
            Cell(
                f"{side}_resistance",
                f"{side.capitalize()}: resistance to a laminar flow",
                "flow_resistance",
                "flow_resistance",
                (
                    Name("hose_length"),
                    _own(side, "hose_bore"),
                    Name("whip_length"),
                    *(_own(side, what) for what in ("whip_bore", "port_length", "port_diameter")),
                ),
            )
            for side in LINING
        ),
    ),
    "Balance",
)


LEARNED_DAY = ResultBlock(
    "The day that the plan is held against",
    (
        Cell(
            "learned_day",
            "Day whose warm-up is told below",
            "date",
            "",
            guide="Picked above; blank there: the last one of the lining that is planned.",
            study="learn",
        ),
    ),
    "Warm-up",
)


def _learned(side: str) -> ResultBlock:
    name = side.capitalize()

    def taught(key: str, label: str, kind: str, guide: str = "", unit: str = "") -> Cell:
        return Cell(f"{side}_{key}", label, kind, "", (), guide, unit, unit, "learn")

    return ResultBlock(
        f"{name} side, learned from the readings",
        (
            taught("warmed_in", f"{name} drum took", "time", "To where it is warmed to.", "min"),
            taught("warm_up_off", "longer than planned by", "share", "Below 0: it took less."),
            taught("learned_power", "Power that reached it", "power"),
            taught(
                "learned_power_low",
                "at least",
                "power",
                "In 95 cases of 100 where the specific heat is right within 6 %.",
            ),
            taught("learned_power_high", "at most", "power"),
            taught("learned_share", "as a share of the rated", "share", "For Equipment."),
            taught(
                "learned_loss",
                "Heat lost",
                "heat_rate",
                "Heating alone hardly tells it; a stretch of cooling right after does.",
            ),
            taught(
                "learned_loss_low",
                "at least",
                "heat_rate",
                "In 95 cases of 100 where the air moved as read, or by up to 4 K.",
            ),
            taught("learned_loss_high", "at most", "heat_rate"),
        ),
        "Warm-up",
    )


PLAN_RESULTS = (
    *(_drum(side) for side in LINING),
    WARM_UP_TOGETHER,
    HOSE,
    LEARNED_DAY,
    *(_learned(side) for side in LINING),
    RESISTANCE,
    *(_pressures(side) for side in LINING),
    DIFFERENCE,
)

WARM_UP_TIMES = Study(
    "warm_up_times",
    "Warm-up",
    warm_up_times.READS,
    (),
    0,
    warm_up_times.warm_up_times,
    warm_up_times.SOURCE,
    "Warm-up",
)

LEARN = Study("learn", "Learned", learn.READS, (), 0, learn.learn, learn.SOURCE, "Warm-up")

WARM_UP = Study(
    "warm_up",
    "The plan in words",
    warm_up.READS,
    (
        Field("step", "Step", "text", width=38),
        Field("step_time", "At", "clock"),
        Field("step_side", "Side", "text"),
        Field("step_temperature", "Set to", "temperature"),
        Field("step_words", "In words", "text"),
    ),
    23,
    warm_up.warm_up,
    warm_up.SOURCE,
    "Warm-up",
    {"step_temperature": "iso_drum_target"},
)

COURSE = Study(
    "course",
    "Temperatures while warming",
    warm_up.COURSE_READS,
    (
        Field("course_time", "After", "time"),
        Field("course_iso", "Iso drum", "temperature"),
        Field("course_resin", "Resin drum", "temperature"),
        Field("course_iso_target", "Iso warmed to", "temperature"),
        Field("course_resin_target", "Resin warmed to", "temperature"),
        Field("course_iso_set", "Iso set point", "temperature"),
        Field("course_resin_set", "Resin set point", "temperature"),
        Field("course_ready", "Ready to spray", "temperature"),
    ),
    warm_up.COURSE_CAPACITY,
    warm_up.course,
    warm_up.SOURCE,
    "Warm-up",
    {
        "course_time": "stirring_time",
        **dict.fromkeys(
            (
                *(f"course_{side}{what}" for what in ("", "_target", "_set") for side in LINING),
                "course_ready",
            ),
            "iso_drum_target",
        ),
    },
    (
        Chart(
            "Both drums while they warm",
            "Two rising lines over the time since switching on: the temperatures of the iso and "
            "of the resin drum, each ending where it is warm; level lines at what each is warmed "
            "to, stepped lines for the set points, an upright line where all is ready to spray.",
            ("course_iso", "course_resin"),
            (
                *("course_iso_target", "course_resin_target"),
                *("course_iso_set", "course_resin_set"),
            ),
            "Time since switching on, in the unit of the stirring time",
            "Temperature, in the unit of Equipment",
            uprights=("course_ready",),
        ),
    ),
)

BALANCE = Study(
    "balance",
    "Why, and what to do",
    balance.READS,
    (
        Field("finding", "Finding", "text", width=38),
        Field("finding_pressure", "Pressure", "pressure"),
        Field("finding_side", "Side", "text"),
        Field("finding_temperature", "Set to", "temperature"),
        Field("finding_words", "In words", "text"),
    ),
    12,
    balance.balance,
    balance.SOURCE,
    "Balance",
    {"finding_pressure": "gauge_difference", "finding_temperature": "iso_trim"},
)

CURVES = Study(
    "curves",
    "How thick both sides are",
    curves.READS,
    (
        Field("curve_temperature", "At", "temperature"),
        Field("curve_iso", "Iso", "viscosity"),
        Field("curve_resin", "Resin", "viscosity"),
        Field("curve_iso_sprayed", "Iso where it is sprayed", "viscosity"),
        Field("curve_resin_sprayed", "Resin where it is sprayed", "viscosity"),
    ),
    curves.CAPACITY,
    curves.curves,
    curves.SOURCE,
    "Balance",
    {
        "curve_temperature": "iso_spray_temperature",
        **dict.fromkeys(
            ("curve_iso", "curve_resin", "curve_iso_sprayed", "curve_resin_sprayed"),
            "iso_viscosity",
        ),
    },
    (
        Chart(
            "How thick both sides are",
            "Two falling curves over the temperature: the viscosity of iso and of resin from the "
            "points of their data sheets, by powers of ten, with a mark on each where it is "
            "sprayed. Marks at one height need the same pressure through the hose.",
            ("curve_iso", "curve_resin"),
            (),
            "Temperature, in the unit of Balance",
            "Viscosity, in the unit of Balance",
            points=("curve_iso_sprayed", "curve_resin_sprayed"),
            by_tens=True,
        ),
    ),
)

CAUTIONS = Study(
    "cautions",
    "What can hurt people on this job",
    cautions.READS,
    (
        Field("caution", "Caution", "text", width=26),
        Field("raised_by", "Raised by", "text", width=20),
        Field("caution_reason", "Why here", "text", width=40),
        Field("precaution", "Usual precaution", "text", width=76),
        Field("caution_source", "Source", "text", width=44),
    ),
    cautions.CAPACITY,
    cautions.cautions,
    cautions.SOURCE,
    "Cautions",
)

PLAN_STUDIES = (WARM_UP_TIMES, LEARN, WARM_UP, COURSE, BALANCE, CURVES, CAUTIONS)
