"""Drums one by one: what each held, what was drawn, the mix, which batch went where."""

from __future__ import annotations

from ..core.mix import LINING
from ..engine.model import DAYS, Cell, Column, Field, ResultBlock, Study, Table
from ..engine.references import Agg, Lookup, Name, Row
from ..studies import batches, mix, recoats, usage

DRUMS = Table(
    "drums",
    "Drums",
    "Drums",
    40,
    (
        Field("holds", "Holds", "component", required=True, width=12),
        Field(
            "drum_number",
            "Drum",
            "text",
            required=True,
            guide="The number painted on it, once for each drum.",
            width=12,
        ),
        Field("batch", "Batch", "text", guide="As it stands on the drum.", width=14),
        Field("received", "Received", "date", *DAYS, width=13),
        Field(
            "expiry",
            "Use before",
            "date",
            *DAYS,
            guide="As it stands on the drum.",
            width=13,
        ),
        Field(
            "stirred",
            "Stirred for",
            "time",
            0.0,
            86400.0,
            guide="Resin only; iso is never stirred in an open drum.",
            metric="min",
            us="min",
            width=9,
        ),
        Field(
            "on_date",
            "Connected on",
            "date",
            *DAYS,
            guide="Blank: as above, at first the day of the readings.",
            width=11,
        ),
        Field("on_at", "Connected", "clock", guide="Time of day it was put on.", width=8),
        Field(
            "off_date",
            "Removed on",
            "date",
            *DAYS,
            guide="Where it stayed on for more than one day.",
            width=11,
        ),
        Field("off_at", "Removed", "clock", guide="Time of day it was taken off.", width=8),
        Field(
            "opening_weight",
            "Weight at start",
            "mass",
            0.0,
            2500.0,
            guide="Drum and content when it was put on.",
            width=10,
        ),
        Field(
            "closing_weight",
            "Weight at end",
            "mass",
            0.0,
            2500.0,
            guide="The same when it was taken off.",
            width=10,
        ),
        Field(
            "opening_level",
            "Volume at start",
            "volume",
            0.0,
            2.0,
            guide="As the machine shows it; a dip opens an iso drum to moisture.",
            width=10,
        ),
        Field(
            "closing_level",
            "Volume at end",
            "volume",
            0.0,
            2.0,
            guide="The same when it was taken off.",
            width=10,
        ),
        Field("remark", "Remark", "text", width=18),
    ),
)

CREW_DAYS = Table(
    "crew_days",
    "Hours",
    "Crew of each day",
    31,
    (
        Field("crew_date", "Day", "date", *DAYS, required=True, width=26),
        Field(
            "on_site",
            "On site for",
            "time",
            0.0,
            86400.0,
            required=True,
            guide="Of one person, breaks left out; a day of 7 h 30 is 7.5 h.",
            metric="h",
            us="h",
            width=14,
        ),
        Field(
            "persons",
            "Persons",
            "people",
            0,
            100,
            default=Name("crew_size"),
            reason="the crew of the job",
            width=14,
        ),
        Field("remark", "Remark", "text", width=24),
    ),
)
CREW_COLUMNS = (
    Column(
        "crew_days",
        "person_time",
        "All together",
        "time",
        "row.on_site * row.persons",
        width=14,
    ),
)

LEDGER = "ledger"


def _working(name: str, label: str, kind: str, function: str, *args: Row | Name | Lookup) -> Column:
    return Column("drums", name, label, kind, function, args, working=True)


DRAWN = "row.opening_{0} - row.closing_{0} if row.closing_{0} <= row.opening_{0} else refuse"
DENSITY = Lookup("order", Row("holds"), "density", True)

DRUM_COLUMNS = (
    _working("drum_density", "Density", "density", "", DENSITY),
    _working("drum_mass", "Mass drawn", "mass", DRAWN.format("weight")),
    _working("by_weight", "By weight", "volume", "row.drum_mass / row.drum_density"),
    _working("by_level", "By level", "volume", DRAWN.format("level")),
    Column(
        "drums",
        "drawn",
        "Drawn",
        "volume",
        "first_known(row.by_weight, row.by_level)",
    ),
    _working(
        "left_by_weight",
        "Left by weight",
        "volume",
        "drum_content",
        Row("closing_weight"),
        Name("drum_steel"),
        Row("drum_density"),
    ),
    Column(
        "drums",
        "drum_left",
        "Remaining",
        "volume",
        "first_known(row.left_by_weight, row.closing_level)",
    ),
    Column("drums", "verdict", "Verdict", "text", "", study=LEDGER, width=48),
)


def _used_of(side: str) -> tuple[Cell, ...]:
    name = side.capitalize()
    return (
        Cell(
            f"{side}_ledger",
            f"{name} by the drums",
            "volume",
            "",
            (Agg("drums", "drawn", where=("holds", side)),),
            f"Sum over Drums; blank while one that holds {side} is not closed.",
        ),
        Cell(
            f"{side}_levels",
            f"{name} by the levels",
            "volume",
            "",
            guide="From the levels on Readings.",
            study="usage",
        ),
        Cell(
            f"{side}_scaled",
            f"{name} by a scale or the drums",
            "volume",
            f"first_known({side}_weighed, {side}_ledger)",
        ),
        Cell(
            f"{side}_measured",
            f"{name} as it was measured",
            "volume",
            f"first_known({side}_scaled, {side}_levels)",
            guide="Weighed on Job, else by the drums, else by the levels.",
        ),
        Cell(
            f"{side}_combined",
            f"{name} by all that is known",
            "volume",
            "",
            guide="With strokes, and drums taken and brought back: see Reconcile.",
            study="evidence",
        ),
        Cell(
            f"{side}_used",
            f"{name} used",
            "volume",
            f"first_known({side}_combined, {side}_measured)",
            guide="By all that is known; before it is filled, as it was measured.",
        ),
    )


USED = ResultBlock(
    "Material used",
    (
        *(cell for side in LINING for cell in _used_of(side)),
        Cell(
            "second_used",
            "Of a second lining used, both",
            "volume",
            "",
            guide="By its drums or else its levels; blank where they are wanted, 0 without one.",
            study="evidence",
        ),
        Cell(
            "used_volume",
            "Used, all",
            "volume",
            "iso_used + resin_used + second_used",
            guide="As drawn, at the temperature of the drums.",
        ),
        Cell(
            "used_per_area",
            "Used for each billed area",
            "volume_per_area",
            "used_volume / billed_area_total",
            guide="Beside it stands what was to be supplied for each billed area.",
        ),
    ),
)

WORKED = ResultBlock(
    "Hours worked",
    (
        Cell(
            "hours_worked",
            "Hours worked, all persons together",
            "time",
            "",
            guide="Of the crew of each day on Hours; blank without one.",
            study="usage",
        ),
    ),
)

USAGE = Study(
    "usage",
    "Each day",
    usage.READS,
    (
        Field("each_date", "Day", "date", width=26),
        Field("each_lining", "Lining", "text", width=18),
        Field("each_from", "First reading", "clock", width=14),
        Field("each_to", "Last reading", "clock", width=14),
        Field("each_readings", "Readings", "count", width=12),
        Field("each_found", "Something found in", "count", width=14),
        Field("each_spraying", "Sprayed for", "time", metric="h", us="h", width=14),
        Field("each_iso", "Iso, by the levels", "volume", width=14),
        Field("each_resin", "Resin, by the levels", "volume", width=14),
    ),
    usage.CAPACITY,
    usage.usage,
    usage.SOURCE,
    "Days",
    {"each_iso": "drums.drawn", "each_resin": "drums.drawn"},
)

MIXED = ResultBlock(
    "Iso to resin over the day",
    (
        *(
            Cell(
                f"{side}_compared",
                f"{side.capitalize()} that is compared",
                "volume",
                "",
                guide="Blank where both sides need not cover the same hours.",
                study="mix",
            )
            for side in LINING
        ),
        Cell(
            "off_ratio",
            "Iso above the ratio of the data sheet",
            "share",
            "off_ratio",
            tuple(Name(n) for n in ("iso_compared", "resin_compared", "iso_ratio", "resin_ratio")),
            "Below 0 where there was too little iso.",
        ),
        Cell(
            "ratio_uncertainty",
            "Uncertainty ±",
            "share",
            "",
            guide="Either way, in 95 cases of 100.",
            study="mix",
        ),
        Cell(
            "ratio_shown_from",
            "Could not show less than",
            "share",
            "",
            guide="A smaller error would be found in fewer than 9 cases of 10.",
            study="mix",
        ),
        Cell(
            "mix_index",
            "Index",
            "share",
            "isocyanate_index",
            (
                *(Name(f"{side}_compared") for side in LINING),
                *(Name(f"first_{side}_density") for side in LINING),
                *(Name("iso_nco_share"), Name("resin_equivalent_weight")),
            ),
            "Isocyanate groups for each partner; the supplier says where it should lie.",
        ),
    ),
    "Mix",
)

MIX = Study(
    "mix",
    "The mix, period by period",
    mix.READS,
    (
        Field("mix_period", "Period", "text", width=30),
        Field("mix_off", "Iso above the ratio", "share"),
        Field("mix_uncertainty", "Uncertainty ±", "share"),
        Field("mix_least", "Could not show less than", "share"),
        Field("mix_words", "In words", "text"),
    ),
    mix.CAPACITY,
    mix.mix,
    mix.SOURCE,
    "Mix",
    dict.fromkeys(("mix_off", "mix_uncertainty", "mix_least"), "off_ratio"),
)

LASTING = Study(
    LEDGER,
    "Will it last",
    batches.LASTING_READS,
    (
        Field("lasting_side", "Side", "text", width=34),
        Field("lasting_left", "Left", "volume", width=16),
        Field("lasting_rate", "Used", "volume_flow", width=18),
        Field("lasting_until", "Lasts until about", "clock", width=24),
        Field("lasting_words", "In words", "text", width=60),
    ),
    len(LINING),
    batches.ledger,
    batches.SOURCE,
    "Batches",
    {"lasting_left": "drums.drawn", "lasting_rate": "pump_output"},
)

BATCHES = Study(
    "batches",
    "Which batch went where",
    batches.BATCH_READS,
    (
        Field("batch_place", "Surface", "text", width=34),
        Field("batch_day", "Day", "date", width=16),
        Field("batch_from", "From", "clock", width=18),
        Field("batch_to", "To", "clock", width=24),
        Field("batch_iso", "Iso: drum and batch", "text", width=60),
        Field("batch_resin", "Resin: drum and batch", "text", width=60),
    ),
    batches.CAPACITY,
    batches.batches,
    batches.SOURCE,
    "Batches",
)

RECOATS = Study(
    "recoats",
    "From coat to coat",
    recoats.READS,
    (
        Field("recoat_place", "Surface", "text", width=34),
        Field("recoat_day", "Day", "date", width=16),
        Field("recoat_at", "Next coat at", "clock", width=18),
        Field("recoat_after", "After", "time", metric="h", us="h", width=24),
        Field("recoat_words", "In words", "text", width=60),
    ),
    recoats.CAPACITY,
    recoats.recoats,
    recoats.SOURCE,
    "Batches",
)
