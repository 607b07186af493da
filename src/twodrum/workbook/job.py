"""A job workbook: every input and result, declared once."""

from __future__ import annotations

from ..catalogue import CHOICES
from ..model import Model
from .job_inputs import BLOCKS
from .job_results import AREA_COLUMNS, CONSTANTS, DRUM_PLAN, HINTS, ORDER_COLUMNS, RESULTS
from .job_tables import AREAS, MATERIALS, ORDER

JOB = Model(
    name="job",
    title="Job: quantities, drums and price",
    purpose="One spray-lining job, from the take-off to litres, drums and a price.",
    steps=(
        "Type the job on Job, its surfaces on Areas, its products on Materials.",
        "Quantities and Order follow by themselves, as live formulas.",
        "Run twodrum check to hear every problem, twodrum fill to have Record filled in.",
        "A wrong input gives #N/A, so that no total can hide it; the note beside it says why.",
        "Any unit on its list may be picked; the number then counts in that unit.",
        "Data sheet, local code and licensed practice come before anything here.",
    ),
    sheets=(
        ("Start", "What this workbook is for, where things are, its state"),
        ("Job", "Single values: film, loss, weather, crew, prices"),
        ("Areas", "Take-off: one row for each surface"),
        ("Materials", "One row for each component, from its data sheet"),
        ("Quantities", "Area, litres, time and price"),
        ("Order", "Litres and drums of each component, and where each drum set opens"),
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
    ),
    blocks=BLOCKS,
    tables=(AREAS, MATERIALS, ORDER),
    results=RESULTS,
    columns=(*AREA_COLUMNS, *ORDER_COLUMNS),
    constants=CONSTANTS,
    choices={
        "shape": CHOICES["shape"],
        "pricing_basis": CHOICES["pricing_basis"],
        "component": CHOICES["component"],
        "film_basis": ("nominal", "minimum"),
    },
    studies=(DRUM_PLAN, HINTS),
)
