"""A job workbook: every input and result, declared once."""

from __future__ import annotations

from ..catalogue import CHOICES
from ..engine.model import Model
from ..studies import film_check
from ..studies.adhesion import BROKE
from ..studies.linings import LININGS
from ..studies.mix import PUMP_DRIVES
from ..studies.usage import LEVEL_SET
from ..workbook.entry import ENTRY_CONSTANTS
from .chances import (
    BY_CHANCE,
    BY_CHANCE_COLUMNS,
    CHANCE_CONSTANTS,
    LITRES,
    NEXT_SET,
    ODDS,
    OF_CHANCES,
    SURE,
)
from .day import DAY_SHEET
from .drums import (
    BATCHES,
    CREW_COLUMNS,
    CREW_DAYS,
    DRUM_COLUMNS,
    DRUMS,
    LASTING,
    MIX,
    MIXED,
    RECOATS,
    USAGE,
    USED,
    WORKED,
)
from .film import FILM, FILM_COLUMNS, FILM_STUDIES, PULLS
from .former import FORMER_HEADS, FORMER_NAMES
from .inputs import BLOCKS, DATE_ORDERS, FILM_CHECK, LABOUR_BASES, PAPERS, PRICING, SUBSTRATES
from .options import OF_OPTIONS, OFFERED, OPTION_COLUMNS, OPTION_HINTS, OPTION_TABLE, OPTIONS
from .plan import OF_PLANNED, ORDER_CARRIED, PLAN_RESULTS, PLAN_STUDIES
from .process import (
    BETWEEN_COATS,
    COUNTRIES,
    DAY,
    EQUIPMENT,
    FILMS,
    HEAT_LIMITS,
    MOISTURE_SIGNS,
    PICKS,
    PROCESSING,
    SOLVENTS,
    WINDOWS,
    YES_NO,
)
from .quote import ACCEPTED_VALUES, CHANGE_ORDER, CHANGES, COST, MISSING, QUOTE, RECONCILE, ROUNDING
from .readings import DRIFT, EVENTS, JUDGE, PHASES_OF_DAY, READING_COLUMNS, READINGS
from .results import (
    AREA_COLUMNS,
    CONSTANTS,
    DAY_HINTS,
    DRUM_PLAN,
    GROUPS,
    HINTS,
    ORDER_COLUMNS,
    RESULTS,
)
from .systems import (
    BY_SYSTEM,
    FILMS_OF_SYSTEMS,
    FURTHER_SYSTEMS,
    PRIMERS,
    SYSTEMS,
    SYSTEMS_HERE,
    TOP_COATS,
)
from .tables import AREAS, MATERIALS, ORDER, SHELF
from .use import CLOSING, EVIDENCE, FILM_FOUND, USE, USE_SPLIT
from .whatif import (
    OF_COMPONENTS,
    SCENARIO_COLUMNS,
    SCENARIOS,
    SWINGS,
    WHATIF_CONSTANTS,
    WHATIF_PAGE,
)

TYPE_IT = "Type what is pale yellow: Job, surfaces on Areas, products on Materials."
READ_IT = "Order, Cost, Quote, Film and loss follow at once; #N/A: mend what its note names."
TYPE_THE_DAY = "Type Processing and Equipment, then readings as they come."
FILL_IT = "Run twodrum check to hear every problem, twodrum fill for the rest."
WORDS = (
    ("Dry film thickness (DFT)", "How thick the lining is when it has set."),
    ("Wet film thickness (WFT)", "How thick it is just sprayed, before anything leaves it."),
    ("Volume solids", "The share of the liquid that stays as film; the rest evaporates."),
    ("Loss", "The share of the material supplied that never becomes film: overspray, hose, gun."),
    ("Substrate", "What the lining is sprayed on: steel, concrete."),
    ("Surface profile", "The roughness of a blasted substrate; its valleys take lining first."),
    ("Iso and resin", "The two liquids that set when they meet; always called by these names."),
    ("Ratio by volume", "So many parts of iso to so many parts of resin."),
    ("Drum set", "One drum of iso and one of resin, opened together."),
    ("Residue in drum", "What no pump gets out of an emptied drum."),
    ("Pass", "One coverage of the surface in one direction, overlap included."),
    ("Measured, billed area", "What is sprayed; what the customer pays for."),
    ("Margin", "A share of the price, not of the cost: 20 % of 125 is 25."),
    ("P80", "Enough in eight jobs of ten; P50 in five."),
    ("Dew point", "The surface temperature at which moisture of the air settles on it."),
)

JOB = Model(
    name="job",
    parts=("quote", "day", "proof", "account"),
    title="Job: quantities, price, the day at the machine",
    purpose="One spray-lining job, from the take-off to a price, the warm-up and the readings.",
    steps=(TYPE_IT, READ_IT, TYPE_THE_DAY, FILL_IT),
    words=WORDS,
    sheets=(
        ("Start", "What this workbook is for, where things are, its state"),
        ("Job", "Single values: film, loss, crew, rates, margin, tax, words of the quote, the day"),
        ("Areas", "Take-off: one row for each surface"),
        ("Materials", "One row for each component, from its data sheet"),
        ("Shelf", "The office's materials when this job was made, to pick from"),
        ("Processing", "Temperatures, pressures and viscosity of iso and resin"),
        ("Equipment", "Heaters, supply, hose and gun"),
        ("Readings", "The day: a row for each reading, its judgement beside it"),
        ("Drums", "One row for each drum: batch, dates, weights; what was drawn from it"),
        ("Hours", "One row for each day: how long the crew was on site"),
        ("Film", "What the film gauge shows, surface by surface; a pasted list will do"),
        ("Adhesion", "Pull-off tests, where the specification asks for them"),
        ("Quantities", "The weather, and the litres that were used"),
        ("Order", "Litres and drums of each component, and where each drum set opens"),
        ("Cost", "Areas, litres and time, what they cost, and the price; not for the customer"),
        ("Quote", "One page for the customer"),
        (
            "Change order",
            "Hidden until a quote is accepted: what changed since, a page for the customer",
        ),
        ("Accepted", "The quote as the customer accepted it, beside what holds now"),
        (
            "Options",
            "Up to six other ways to do the job, their prices; P80 follows at a fill",
        ),
        ("Film and loss", "Price, drum sets and margin for other films and losses"),
        ("Chances", "How sure the litres are, what moves the price most"),
        ("Day sheet", "One page for the crew: the plan, and what to tick off"),
        ("Cautions", "What can hurt people on this job, and what is usual against it"),
        ("Warm-up", "When to switch on and to stop recirculating, power against the supply"),
        ("Balance", "Pressures to expect, why they differ, the day in charts"),
        ("Days", "What each day at the machine came to, by its readings"),
        ("Mix", "Iso to resin: the ratio of the day and of each period, and its uncertainty"),
        ("Batches", "Whether the drums last, and which batch went where"),
        ("Film check", "Each surface against its rule, where to go back to, tests"),
        ("Reconcile", "Where the litres and the money went, against the accepted quote"),
        ("Workings", "What is worked out on the way: first one row for each what-if"),
        ("Odds", "The price for litres that are enough with a chance"),
        ("Sums", "What is carried and added up on the way: components, systems, linings"),
        ("Record", "Checks, problems, assumed values, sources, versions"),
        ("Units", "Every number's unit, conversion, limits and default"),
        ("Lists", "Units and words to pick from, constants"),
        ("Snapshot", "The inputs as they were when last filled"),
    ),
    headlines=(
        "measured_area_total",
        "lining_volume",
        "drum_sets",
        "working_days",
        "net_price",
        "total_price",
        "volume_odds",
        "price_at_good",
        "margin_at_best",
        "switch_on",
        "used_per_area",
    ),
    blocks=(
        *BLOCKS,
        *PRICING,
        FILM_CHECK,
        DAY,
        CLOSING,
        *FURTHER_SYSTEMS,
        *PICKS,
        *PROCESSING,
        BETWEEN_COATS,
        *EQUIPMENT,
    ),
    tables=(
        *(AREAS, MATERIALS, SHELF, READINGS, DRUMS, CREW_DAYS, FILM, PULLS, OPTION_TABLE),
        *(ORDER, SCENARIOS, BY_CHANCE),
    ),
    results=(
        *RESULTS,
        SYSTEMS_HERE,
        CHANGES,
        ROUNDING,
        USED,
        WORKED,
        *COST,
        OF_COMPONENTS,
        OF_OPTIONS,
        *ODDS,
        SURE,
        OF_CHANCES,
        OF_PLANNED,
        *PLAN_RESULTS,
        DRIFT,
        MIXED,
        *RECONCILE,
        *USE,
    ),
    columns=(
        *AREA_COLUMNS,
        *ORDER_COLUMNS,
        *ORDER_CARRIED,
        *READING_COLUMNS,
        *DRUM_COLUMNS,
        *CREW_COLUMNS,
        *FILM_COLUMNS,
        *SCENARIO_COLUMNS,
        *OPTION_COLUMNS,
        *BY_CHANCE_COLUMNS,
    ),
    constants=(*CONSTANTS, *WHATIF_CONSTANTS, *CHANCE_CONSTANTS, *ENTRY_CONSTANTS),
    former_words={"level reset": LEVEL_SET},
    former_heads=FORMER_HEADS,
    former_names=FORMER_NAMES,
    choices={
        "shape": CHOICES["shape"],
        "pricing_basis": CHOICES["pricing_basis"],
        "labour_basis": LABOUR_BASES,
        "paper": PAPERS,
        "date_order": DATE_ORDERS,
        "tax_rule": CHOICES["tax_rule"],
        "component": CHOICES["component"],
        "further_system": SYSTEMS,
        "option": OPTIONS,
        "offered": OFFERED,
        "lining": LININGS,
        "primer_of": PRIMERS,
        "top_coat_of": TOP_COATS,
        "film_basis": CHOICES["film_basis"],
        "phases": CHOICES["phases"],
        "phase": PHASES_OF_DAY,
        "event": EVENTS,
        "yes_no": YES_NO,
        "solvent": SOLVENTS,
        "country": COUNTRIES,
        "moisture_sign": MOISTURE_SIGNS,
        "substrate": SUBSTRATES,
        "pump_drive": PUMP_DRIVES,
        "film_rule": film_check.RULES,
        "low_readings": film_check.LOW_READINGS,
        "restriction_level": film_check.LEVEL_WORDS,
        "profile_grade_or_none": film_check.GRADES,
        "broke": BROKE,
    },
    orders=(*FILMS, *FILMS_OF_SYSTEMS, *WINDOWS, *HEAT_LIMITS),
    accepted=ACCEPTED_VALUES,
    pages=(QUOTE, CHANGE_ORDER, DAY_SHEET, WHATIF_PAGE),
    studies=(
        *(
            DRUM_PLAN,
            BY_SYSTEM,
            GROUPS,
            HINTS,
            OPTION_HINTS,
            DAY_HINTS,
            LITRES,
            NEXT_SET,
            SWINGS,
            *PLAN_STUDIES,
            JUDGE,
            USAGE,
        ),
        *(MIX, LASTING, BATCHES, RECOATS, *FILM_STUDIES),
        *(USE_SPLIT, MISSING, EVIDENCE, FILM_FOUND),
    ),
)
