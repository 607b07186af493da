"""What the office types once: materials, machines, crews, rates.

A column that carries the name of a field of the job is copied into it by ``new``.
"""

from __future__ import annotations

from dataclasses import replace

from ..catalogue import CHOICES
from ..core.mix import LINING
from ..engine.model import DAYS, Field, Model, Order, Table
from ..problems import with_capital
from ..studies.mix import PUMP_DRIVES
from ..workbook.entry import ENTRY_CONSTANTS
from .former import FORMER_HEADS, FORMER_NAMES
from .inputs import DATE_ORDERS, EXCLUSIONS, LABOUR_BASES, PAPERS
from .job import BASE
from .process import BETWEEN_COATS, EQUIPMENT, PROCESSING, SECOND_IN_MACHINE
from .tables import MATERIALS, PRICED_ON

STOCK = ("drums_on_hand", "part_drum_volume")


def _kept(field: Field) -> Field:
    """A field of the job as the office keeps it: blank stays blank."""
    return replace(field, default=None, required=False, reason="", offered=("", ""))


def _of_job(*names: str) -> tuple[Field, ...]:
    return tuple(replace(_kept(BASE.item(name)), width=15) for name in names)  # type: ignore[arg-type]


def _named(name: str, label: str, guide: str) -> Field:
    return Field(name, label, "text", required=True, guide=guide, width=28)


NOTE = Field("remark", "Remark", "text", width=44)

OFFICE_MATERIALS = Table(
    "materials",
    "Materials",
    "Materials",
    40,
    (
        _named("system", "System", "Products that belong together share this name."),
        replace(MATERIALS.fields[0], default=None),
        *(_kept(f) for f in MATERIALS.fields[1:] if f.name not in (*STOCK, "remark")),
        PRICED_ON,
        # A lining has its own in the row of its iso.
        *(
            replace(
                _kept(field),
                name=field.name.removeprefix("primer_"),
                label=with_capital(field.label.removeprefix("Primer: ")),
                guide="Of a primer, or in the row of iso of the lining.",
                width=13,
            )
            for field in BETWEEN_COATS.fields[:2]
        ),
        _kept(MATERIALS.fields[-1]),
    ),
    orders=(Order("spray_low", "spray_high"),),
)


def _of_side(name: str) -> Field:
    """A field of the job that iso and resin each have, without its side."""
    item = _kept(BASE.item(f"{LINING[0]}_{name}"))  # type: ignore[arg-type]
    label = item.label.removeprefix("Iso ")
    return replace(item, name=name, label=with_capital(label), width=13)


# Each side ends with its own: iso with its NCO content, resin with its equivalent weight.
*SHARED, _ = PROCESSING[0].fields
OF_SIDE = tuple(field.name.removeprefix("iso_") for field in SHARED)
OWN = tuple(replace(_kept(block.fields[-1]), width=15) for block in PROCESSING[: len(LINING)])

OFFICE_PROCESSING = Table(
    "processing",
    "Processing",
    "Processing",
    40,
    (
        _named("system", "System", "As on Materials."),
        Field("component", "Side", "side", required=True, width=14),
        *(_of_side(name) for name in OF_SIDE),
        *(replace(item, name=item.name.split("_", 1)[1]) for item in OWN),
        NOTE,
    ),
    orders=(Order("drum_low", "drum_high"), Order("pressure_low", "pressure_high")),
)

MACHINES = Table(
    "machines",
    "Machines",
    "Machines",
    20,
    (
        _named("machine", "Machine", "Your own name for it."),
        *_of_job("pump_output", "fixed_volume"),
        *_of_job(
            *(f.name for block in EQUIPMENT if block is not SECOND_IN_MACHINE for f in block.fields)
        ),
        NOTE,
    ),
)

CREWS = Table(
    "crews",
    "Crews",
    "Crews",
    20,
    (
        _named("crew", "Crew", "Your own name for it."),
        *_of_job("crew_size", "day_length", "spraying_share", "loss_share", "preparation_time"),
        NOTE,
    ),
)

RATES = Table(
    "rates",
    "Rates",
    "Rates",
    20,
    (
        _named("rates_name", "Rates", "A name for this set, such as the year or the region."),
        *_of_job(
            "currency",
            "labour_rate",
            "labour_basis",
            "daily_cost",
            "pricing_basis",
            "consumables_share",
            "rework_share",
            "rework_litres",
            "preparation_rate",
            "margin_share",
            "minimum_price",
            "round_to",
            "tax_share",
            "tax_rule",
            "money_decimals",
            "valid_days",
            "contractor",
            "contractor_address",
            "contractor_contact",
            "tax_number",
            "payment_terms",
            "warranty_words",
            "coats_apart",
            "unit_prices",
            "paper",
            "date_order",
            *(f"exclusion_{number}" for number in EXCLUSIONS),
        ),
        Field(
            "quote_pattern",
            "Quote numbers",
            "text",
            guide="Such as Q-YYYY-###: the year, and a number counted on by twodrum issue.",
            width=18,
        ),
        NOTE,
    ),
)

QUOTES = Table(
    "quotes",
    "Quotes",
    "Quotes",
    200,
    (
        Field(
            "quoted_number",
            "Number",
            "text",
            required=True,
            guide="twodrum issue --office adds rows; type the last one of before to count on.",
            width=22,
        ),
        Field("quoted_revision", "Revision", "count", 0, 1e6, width=10),
        Field("quoted_on", "Issued on", "date", *DAYS, width=13),
        Field("quoted_job", "Job", "text", width=30),
        Field("quoted_customer", "Customer", "text", width=30),
        Field("quoted_price", "Price before tax", "money", 0.0, 1e12, width=15),
        Field("quoted_currency", "Currency", "text", width=10),
        NOTE,
    ),
)


def _taught(name: str, label: str, kind: str) -> Field:
    return Field(name, label, kind, -1e6, 1e6, width=14)


LEARNED = Table(
    "learned",
    "Learned",
    "Learned",
    200,
    (
        Field(
            "learned_machine",
            "Machine",
            "text",
            required=True,
            guide="As on Machines; twodrum keep adds rows, you may strike out odd ones.",
            width=28,
        ),
        Field("learned_on", "Day", "date", *DAYS, width=13),
        Field("learned_side", "Side", "side", width=10),
        _taught("power", "Power that arrives", "power"),
        _taught("power_low", "Power at least", "power"),
        _taught("power_high", "Power at most", "power"),
        _taught("heat_loss", "Heat lost", "heat_rate"),
        _taught("heat_loss_low", "Lost at least", "heat_rate"),
        _taught("heat_loss_high", "Lost at most", "heat_rate"),
        NOTE,
    ),
)

OFFICE = Model(
    name="office",
    title="Office: what every job starts from",
    purpose="Data sheets, machines, crews and rates, typed once and picked by name.",
    steps=(
        "One row for each product; products of one lining share the name of their system.",
        "twodrum new copies a system, a machine, a crew and a set of rates into a job.",
        "Leave blank what you do not know: the job then lists what it assumed instead.",
    ),
    sheets=(
        ("Start", "What this workbook is for, where things are, its state"),
        ("Materials", "One row for each product, from its data sheet"),
        ("Processing", "Temperatures, pressures, viscosity of iso and resin of each system"),
        ("Machines", "Output, heaters, supply, hose and gun of each machine"),
        ("Crews", "Size, hours and habits of each crew"),
        ("Rates", "Labour rate, margin, tax, letterhead; your logo as a picture, for the quote"),
        ("Quotes", "What was issued: twodrum issue --office adds rows, and counts on from them"),
        ("Learned", "What warm-ups taught of each machine; twodrum keep adds rows"),
        ("Workings", "What is worked out on the way"),
        ("Record", "Checks and versions"),
        ("Units", "Every number's unit, conversion and limits"),
        ("Lists", "Units and words to pick from"),
    ),
    tables=(OFFICE_MATERIALS, OFFICE_PROCESSING, MACHINES, CREWS, RATES, QUOTES, LEARNED),
    former_heads=FORMER_HEADS,
    former_names=FORMER_NAMES,
    constants=ENTRY_CONSTANTS,
    choices={
        "component": CHOICES["component"],
        "side": LINING,
        "pricing_basis": CHOICES["pricing_basis"],
        "labour_basis": LABOUR_BASES,
        "paper": PAPERS,
        "yes_no": BASE.choices["yes_no"],
        "date_order": DATE_ORDERS,
        "tax_rule": CHOICES["tax_rule"],
        "phases": CHOICES["phases"],
        "pump_drive": PUMP_DRIVES,
    },
)
