"""Results of a job: what follows from its inputs, by which function."""

from __future__ import annotations

from ..core import air
from ..engine.model import Cell, Column, Constant, Field, ResultBlock, Study
from ..engine.references import Agg, Lookup, Name, Row
from ..studies import drum_plan, groups, hints
from .inputs import LABOUR_BASES
from .systems import PLACE, by_component, by_system

CONSTANTS = (
    Constant("ceiling_guard", 1e-9, "×", "our choice: an excess this small opens no drum"),
    Constant("kelvin_at_0_c", air.KELVIN_AT_0_C, "K", "definition of the Celsius scale"),
    Constant("magnus_pressure", air.MAGNUS_PRESSURE, "Pa", "WMO-No. 8, Annex 4.B"),
    Constant("magnus_factor", air.MAGNUS_FACTOR, "×", "WMO-No. 8, Annex 4.B"),
    Constant("magnus_temperature", air.MAGNUS_TEMPERATURE, "K", "WMO-No. 8, Annex 4.B"),
)


def _carried(name: str, label: str, kind: str) -> Column:
    key = Lookup("materials", Row("component"), name)
    return Column("order", name, label, kind, "", (key,), working=True)


def _of_area(name: str, label: str, kind: str, line: str) -> Column:
    return Column("areas", name, label, kind, line, working=True)


AREA_COLUMNS = (
    Column(
        "areas",
        "sizes_needed",
        "Sizes to type",
        "text",
        "sizes_needed",
        (Row("shape"),),
        width=28,
    ),
    Column(
        "areas",
        "unit_area",
        "Area of one",
        "area",
        "surface_area",
        (
            Row("shape"),
            Row("known_area"),
            Row("length"),
            Row("width"),
            Row("height"),
            Row("diameter"),
            Row("other_size"),
            Row("corner_radius"),
        ),
    ),
    Column(
        "areas",
        "measured_area",
        "Measured area",
        "area",
        "measured_area",
        (Row("unit_area"), Row("opening_area"), Row("piece_count"), Row("profile_factor")),
    ),
    Column(
        "areas",
        "billed_area",
        "Billed area",
        "area",
        "first_known(row.agreed_area, row.measured_area)",
    ),
    _of_area("system_place", "Number of its system", "number", PLACE),
    _of_area("system_film", "Film of its system", "thickness", by_system("film_thickness", "film")),
    _of_area("system_most", "Film at most", "thickness", by_system("film_most", "most")),
    _of_area("system_pass", "Pass of its system", "thickness", by_system("pass_build", "pass")),
    _of_area(
        "system_solids",
        "Volume solids of its lining",
        "share",
        by_system("lining_solids", "solids"),
    ),
    Column(
        "areas",
        "film_here",
        "DFT",
        "thickness",
        "first_known(row.film_override, row.system_film)",
    ),
    Column(
        "areas",
        "area_passes",
        "Passes",
        "passes",
        "pass_count",
        (Row("film_here"), Row("system_pass"), Name("ceiling_guard")),
    ),
    Column(
        "areas",
        "film_volume",
        "In the film",
        "volume",
        "coating_volume",
        (Row("measured_area"), Row("film_here"), Row("system_solids")),
    ),
    Column(
        "areas",
        "profile_volume",
        "In the profile",
        "volume",
        "profile_volume",
        (
            Row("measured_area"),
            Name("profile_height"),
            Name("profile_fill"),
            Row("system_solids"),
        ),
    ),
)


ORDER_COLUMNS = (
    Column(
        "order",
        "material",
        "Material",
        "text",
        "",
        (Lookup("materials", Row("component"), "material"),),
        width=26,
    ),
    Column(
        "order",
        "ratio_part",
        "Ratio by volume",
        "ratio",
        "lining_ratio",
        (Row("component"), Lookup("materials", Row("component"), "ratio_part")),
        working=True,
    ),
    Column(
        "order",
        "coat_film",
        "Own coat DFT",
        "thickness",
        "own_coat_film",
        (Row("component"), Lookup("materials", Row("component"), "coat_film")),
        working=True,
    ),
    _carried("volume_solids", "Volume solids", "share"),
    _carried("drum_volume", "Drum", "volume"),
    _carried("residue", "Residue in drum", "volume"),
    _carried("part_drum_volume", "In part drums", "volume"),
    _carried("density", "Density", "density"),
    _carried("spray_temperature", "Spray at", "temperature"),
    Column(
        "order",
        "lining_part",
        "For the lining",
        "volume",
        f"{by_component('first_per_part', 'second_per_part', '0')} * row.ratio_part",
    ),
    _carried("coat_loss", "Loss of own coat", "share"),
    Column(
        "order",
        "coat_area",
        "Own coat on",
        "area",
        by_component("0", "0", "", "{}_area"),
    ),
    Column(
        "order",
        "coat_theory",
        "Own coat in the film",
        "volume",
        "coating_volume",
        (Row("coat_area"), Row("coat_film"), Row("volume_solids")),
        working=True,
    ),
    Column(
        "order",
        "coat_volume",
        "For own coat",
        "volume",
        "supplied_volume",
        (Row("coat_theory"), Row("coat_loss")),
    ),
    _carried("coat_pace", "Own coat in an hour", "area_rate"),
    Column(
        "order",
        "coat_time",
        "Crew time for own coat",
        "time",
        "row.coat_area / row.coat_pace",
        working=True,
    ),
    Column(
        "order",
        "needed_volume",
        "Needed",
        "volume",
        by_component("row.lining_part", "row.lining_part", "row.coat_volume"),
    ),
    Column(
        "order",
        "needed_mass",
        "Mass",
        "mass",
        "row.needed_volume * row.density",
    ),
    Column(
        "order",
        "warm_volume",
        "At spray temperature",
        "volume",
        "volume_at_temperature",
        (
            Row("needed_volume"),
            Lookup("materials", Row("component"), "thermal_expansion"),
            Row("spray_temperature"),
            Lookup("materials", Row("component"), "density_temperature"),
        ),
    ),
    Column(
        "order",
        "drums_opened",
        "Drums opened",
        "drums",
        "drums_opened",
        (
            Row("needed_volume"),
            Row("part_drum_volume"),
            Row("drum_volume"),
            Row("residue"),
            Name("ceiling_guard"),
        ),
    ),
    Column(
        "order",
        "usable_volume",
        "Usable in a drum",
        "volume",
        "row.drum_volume - row.residue if row.residue < row.drum_volume else refuse",
        working=True,
    ),
    Column(
        "order",
        "stock_volume",
        "On hand",
        "volume",
        "materials[row.component].drums_on_hand * row.usable_volume + row.part_drum_volume",
    ),
    Column(
        "order",
        "drums_to_buy",
        "Drums to buy",
        "drums",
        "max(0, round_up((row.needed_volume - row.stock_volume) / row.usable_volume))",
    ),
    Column(
        "order",
        "left_over",
        "Left over",
        "volume",
        "max(0, row.stock_volume + row.drums_to_buy * row.usable_volume - row.needed_volume)",
    ),
    Column(
        "order",
        "material_cost",
        "Cost",
        "money",
        'round_money((row.needed_volume if pricing_basis == "by volume"'
        " else row.drums_opened * row.drum_volume) * row.volume_price)",
    ),
)


def _of(component: str, column: str) -> Lookup:
    return Lookup("order", component, column)


RESULTS = (
    ResultBlock(
        "Areas",
        (
            Cell(
                "measured_area_total",
                "Measured area",
                "area",
                "",
                (Agg("areas", "measured_area"),),
                "What is sprayed.",
            ),
            Cell(
                "billed_area_total",
                "Billed area",
                "area",
                "",
                (Agg("areas", "billed_area"),),
                "For the rates only; the price follows from what is sprayed.",
            ),
        ),
        "Cost",
    ),
    ResultBlock(
        "Lining",
        (
            Cell("iso_ratio", "Iso in the mix", "ratio", "", (_of("iso", "ratio_part"),)),
            Cell("resin_ratio", "Resin in the mix", "ratio", "", (_of("resin", "ratio_part"),)),
            Cell(
                "ratio_total",
                "Parts of the mix",
                "ratio",
                "iso_ratio + resin_ratio",
            ),
            Cell(
                "lining_solids",
                "Volume solids of the mix",
                "share",
                "mixed_volume_solids",
                (
                    Name("iso_ratio"),
                    Name("resin_ratio"),
                    _of("iso", "volume_solids"),
                    _of("resin", "volume_solids"),
                ),
            ),
            Cell(
                "film_volume_total",
                "In the film",
                "volume",
                "",
                (Agg("areas", "film_volume"),),
                "Area times film, before any loss.",
            ),
            Cell(
                "acceptance_volume",
                "Extra film for acceptance",
                "volume",
                "film_volume_total * acceptance_share",
                guide="None unless Job asks for it.",
            ),
            Cell(
                "film_volume_aimed",
                "In the film, with the extra",
                "volume",
                "film_volume_total * (1 + acceptance_share)",
            ),
            Cell(
                "profile_volume_total",
                "In the surface profile",
                "volume",
                "",
                (Agg("areas", "profile_volume"),),
                "Valleys below the peaks.",
            ),
            Cell(
                "rework_volume",
                "For rework, on the surface",
                "volume",
                "(film_volume_aimed + profile_volume_total) * rework_litres",
                guide="None unless Job asks for it.",
            ),
            Cell(
                "lining_volume",
                "Mixed lining to supply",
                "volume",
                "first_volume + second_there",
                guide="Iso and resin together, at the temperature of their densities.",
            ),
            Cell(
                "lining_per_area",
                "Supplied for each billed area",
                "volume_per_area",
                "lining_volume / billed_area_total",
            ),
            Cell(
                "drum_sets",
                "Drum sets opened",
                "sets",
                "first_sets"
                " + max(zero_if_blank(second_iso_drums), zero_if_blank(second_resin_drums))",
                guide="The side that opens more drums decides; a second lining on top.",
            ),
            Cell(
                "passes",
                "Passes at the film of the job",
                "passes",
                "pass_count",
                (Name("film_thickness"), Name("pass_build"), Name("ceiling_guard")),
                "How they are laid the data sheet says.",
            ),
            Cell(
                "transfer_efficiency",
                "Transfer efficiency",
                "share",
                "1 - loss_share",
                guide="What the loss leaves.",
            ),
            Cell(
                "gun_speed",
                "Speed of the gun for one pass",
                "speed",
                "gun_speed",
                (
                    *(
                        Name(name)
                        for name in ("pump_output", "transfer_efficiency", "lining_solids")
                    ),
                    *(Name(name) for name in ("pattern_width", "pass_build", "overlap")),
                ),
                "Blank without a spray pattern width; a test panel decides.",
            ),
        ),
        "Cost",
    ),
    ResultBlock(
        "Weather",
        (
            Cell(
                "vapour_pressure",
                "Vapour pressure",
                "pressure",
                "vapour_pressure",
                (Name("air_temperature"), Name("relative_humidity")),
                metric="hPa",
            ),
            Cell(
                "dew_point",
                "Dew point",
                "temperature",
                "dew_point_at_vapour_pressure",
                (Name("vapour_pressure"),),
            ),
            Cell(
                "dew_margin",
                "Surface above the dew point",
                "temperature_difference",
                "dew_margin",
                (Name("surface_temperature"), Name("dew_point")),
                "3 K, 5.4 °F, at least in ISO 8502-4:2017, from memory; data sheets decide.",
            ),
        ),
    ),
    ResultBlock(
        "Time",
        (
            Cell(
                "spraying_time",
                "Time at the gun",
                "time",
                "lining_volume / (pump_output * spraying_share)",
            ),
            Cell(
                "coats_time",
                "Time for primers and top coat",
                "time",
                "sum(order.coat_time) * primer_there * second_primer_there * top_coat_there",
                guide="Where Materials says what is done in an hour.",
            ),
            Cell(
                "working_time",
                "Time on the job",
                "time",
                "spraying_time + coats_time + preparation_time + rework_time",
            ),
            Cell(
                "labour_time",
                "Labour time",
                "time",
                "working_time * crew_size",
                guide="All persons together.",
            ),
            Cell(
                "working_days",
                "Working days",
                "days",
                "max(0, round_up(working_time / day_length))",
            ),
            Cell(
                "paid_time",
                "Labour time that is paid",
                "time",
                f'labour_time if labour_basis == "{LABOUR_BASES[0]}"'
                " else working_days * day_length * crew_size",
                guide="Whole days of the crew where labour is paid by the started day.",
            ),
        ),
        "Cost",
    ),
)

GROUPS = Study(
    "groups",
    "Areas by group",
    groups.READS,
    (
        Field("group_name", "Group", "text", width=24),
        Field("group_surfaces", "Surfaces", "count"),
        Field("group_measured", "Measured area", "area"),
        Field("group_billed", "Billed area", "area"),
        Field("group_lining", "In film and profile", "volume"),
        Field("group_after", "Measured after", "area"),
        Field("group_more", "More than before", "area"),
    ),
    groups.CAPACITY,
    groups.groups,
    groups.SOURCE,
    "Order",
    {
        **dict.fromkeys(("group_measured", "group_after", "group_more"), "areas.measured_area"),
        "group_billed": "areas.billed_area",
        "group_lining": "areas.film_volume",
    },
)

DRUM_PLAN = Study(
    "drum_plan",
    "Drums through the job",
    drum_plan.READS,
    (
        Field("plan_component", "Opens", "text", width=24),
        Field("opened_at", "While spraying", "text", width=26),
        Field("drum_number", "Drum", "drums"),
        Field("finished_area", "Area done by then", "area"),
    ),
    drum_plan.CAPACITY,
    drum_plan.drum_plan,
    drum_plan.SOURCE,
)

HINTS = Study("hints", "Hints", hints.READS, (), 0, hints.hints, hints.SOURCE)
DAY_HINTS = Study(
    "day_hints", "Hints for the day", hints.DAY_READS, (), 0, hints.day_hints, hints.SOURCE
)
