"""Tables of a job: the take-off, the materials, the order that follows from both."""

from __future__ import annotations

from dataclasses import replace

from ..core.mix import COMPONENTS, LINING
from ..engine.model import DAYS, Field, Order, Table
from ..engine.references import Name


def _narrow(*fields: Field) -> tuple[Field, ...]:
    """Numbers close together, so that what a shape needs stands in sight."""
    return tuple(replace(item, width=9.5) if item.width == WIDE else item for item in fields)


WIDE = Field("", "", "").width

AREAS = Table(
    "areas",
    "Areas",
    "Areas",
    20,
    _narrow(
        Field("surface", "Surface", "text", required=True, width=24),
        Field("shape", "Shape", "shape", required=True, width=20),
        Field("known_area", "Known area", "area", 1e-6, 1e6),
        Field("length", "Length", "length", 0.001, 1000.0),
        Field("width", "Width", "length", 0.001, 1000.0),
        Field("height", "Height", "length", 0.001, 1000.0),
        Field("diameter", "Diameter", "length", 0.001, 1000.0),
        Field("other_size", "Other size", "length", 0.0, 1000.0),
        Field("corner_radius", "Corner radius", "length", 0.0, 100.0),
        Field("piece_count", "Pieces", "count", 0, 10000, default=1, reason="one piece"),
        Field(
            "opening_area", "Openings in one", "area", 0.0, 1e6, default=0.0, reason="no openings"
        ),
        Field(
            "profile_factor",
            "Sheet factor",
            "factor",
            1.0,
            3.0,
            default=1.0,
            reason="a flat surface",
        ),
        Field(
            "film_override",
            "Own DFT",
            "thickness",
            5e-5,
            0.05,
            guide="Blank: the film of its system.",
        ),
        Field(
            "system",
            "System",
            "further_system",
            guide="Blank: that of the job; others are described on Job.",
            width=11,
        ),
        Field("agreed_area", "Agreed row area", "area", 0.0, 1e7),
        Field("group", "Group", "text", guide="Subtotals stand on Order.", width=12),
        Field("sketch", "Sketch", "text", guide="Where it stands on a drawing.", width=12),
        Field(
            "area_after",
            "Measured after",
            "area",
            0.0,
            1e7,
            guide="The whole row, measured when the job was done.",
        ),
        Field(
            "description",
            "Description",
            "text",
            guide="In the customer's words; it stands on the quote.",
            width=26,
        ),
    ),
    at_least_one=True,
)

MATERIALS = Table(
    "materials",
    "Materials",
    "Materials",
    7,
    (
        Field("component", "Component", "component", required=True, width=24),
        Field(
            "material",
            "Material",
            "text",
            guide="Pick one of Shelf, or type another name.",
            width=26,
            offered=("shelf", "material"),
        ),
        Field(
            "ratio_part",
            "Ratio by volume",
            "ratio",
            0.0,
            100.0,
            default=0.0,
            reason="no part of the lining's mix",
        ),
        Field(
            "volume_solids",
            "Volume solids",
            "share",
            0.05,
            1.0,
            required=True,
            guide="From the data sheet; 100 % where nothing evaporates.",
        ),
        Field(
            "coat_film",
            "Own coat DFT",
            "thickness",
            0.0,
            0.01,
            default=0.0,
            reason="no coat of its own",
            guide="Primers and top coat only.",
            metric="µm",
            us="mil",
        ),
        Field(
            "coat_loss",
            "Own coat, loss",
            "share",
            0.0,
            0.9,
            default=Name("loss_share"),
            reason="the loss of the job",
            guide="Share of what leaves the cans of a primer or top coat.",
        ),
        Field(
            "coat_pace",
            "Own coat, done in an hour",
            "area_rate",
            1e-6,
            10.0,
            guide="Area that the crew coats; blank: in the non-spraying time.",
            metric="m²/h",
            us="ft²/h",
        ),
        Field("density", "Density", "density", 300.0, 3000.0),
        Field(
            "density_temperature",
            "Density at",
            "temperature",
            223.15,
            423.15,
            default=293.15,
            reason="the usual temperature of data sheets",
        ),
        Field(
            "thermal_expansion",
            "Expansion",
            "expansion",
            0.0,
            0.005,
            default=6.5e-4,
            reason="polymeric MDI, published; confirm on the data sheet",
        ),
        Field("spray_temperature", "Spray at", "temperature", 223.15, 423.15),
        Field("spray_low", "Spray from", "temperature", 223.15, 423.15),
        Field("spray_high", "Spray to", "temperature", 223.15, 423.15),
        Field(
            "drum_volume",
            "Drum",
            "volume",
            0.0005,
            2.0,
            required=True,
            guide="Filled volume of one drum or can.",
        ),
        Field(
            "residue",
            "Residue in drum",
            "volume",
            0.0,
            1.0,
            required=True,
            guide="What stays in an emptied drum; 0 when none does.",
        ),
        Field("volume_price", "Price", "price_per_volume", 0.0, 1e12, required=True),
        Field(
            "drums_on_hand",
            "Full drums on hand",
            "drums",
            0,
            10000,
            default=0,
            reason="none on hand",
        ),
        Field(
            "part_drum_volume",
            "In part drums",
            "volume",
            0.0,
            100.0,
            default=0.0,
            reason="none on hand",
        ),
        Field("remark", "Remark", "text", width=30),
    ),
    key="component",
    must_have=LINING,
    orders=(Order("spray_low", "spray_high"),),
)

# What differs from job to job stays with the job.
OF_JOB = ("component", "material", "drums_on_hand", "part_drum_volume", "remark")

PRICED_ON = Field(
    "priced_on",
    "Price dated",
    "date",
    *DAYS,
    guide="The day of the supplier's price list.",
    width=13,
)

SHELF = Table(
    "shelf",
    "Shelf",
    "Shelf",
    2,
    (
        Field(
            "material",
            "Material",
            "text",
            required=True,
            guide="As the office calls it; Materials offers these names.",
            width=26,
        ),
        Field("component", "Component", "component", width=14),
        *(
            replace(item, default=None, required=False, reason="")
            for item in MATERIALS.fields
            if item.name not in OF_JOB
        ),
        PRICED_ON,
        Field("remark", "Remark", "text", width=30),
    ),
    orders=(Order("spray_low", "spray_high"),),
)

ORDER = Table(
    "order",
    "Order",
    "Order",
    len(COMPONENTS),
    (Field("component", "Component", "component", required=True, width=24),),
    key="component",
    keys=COMPONENTS,
    used_by="materials",
    must_have=LINING,
)
