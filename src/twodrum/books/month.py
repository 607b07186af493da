"""A month workbook: one row for each job, and what they say together."""

from __future__ import annotations

from ..catalogue import CHOICES
from ..engine.model import DAYS, Block, Cell, Chart, Column, Field, Model, ResultBlock, Study, Table
from ..studies import assume, month_findings, month_tables

MOST_MONEY = 1e12
MOST_ELSEWHERE = 1e6


def _text(name: str, label: str, width: float = 16, required: bool = False) -> Field:
    return Field(name, label, "text", required=required, width=width)


def _volume(name: str, label: str) -> Field:
    return Field(name, label, "volume", 0.0, 1000.0, width=11)


def _money(name: str, label: str) -> Field:
    return Field(name, label, "money", -MOST_MONEY, MOST_MONEY, width=12)


def _share(name: str, label: str) -> Field:
    return Field(name, label, "found_share", -10.0, 10.0, width=10)


MONEY_LABELS = {
    "over_money": "Material above the quote",
    "quoted_money": "Material as quoted",
    "billed_money": "More area billed",
    "unbilled_money": "Sprayed, not billed",
    "asked_money": "More film asked",
    "build_money": "Over-build",
    "loss_money": "Loss beyond",
    "fixed_money": "Panels, purge, hose",
    "excess_money": "Off the ratio",
    "price_money": "Prices paid",
    "unexplained_money": "Not explained",
}
JOBS = Table(
    "jobs",
    "Jobs",
    "Jobs",
    400,
    (
        _text("file", "File", 26, required=True),
        _text("job", "Job", 22),
        Field("worked", "Done on", "date", *DAYS, width=12),
        _text("crew", "Crew"),
        _text("machine", "Machine"),
        _text("material", "Material", 20),
        _text("surface_kind", "Substrate"),
        Field("billed_area", "Billed", "area", 0.0, 1e7, width=10),
        _volume("used_volume", "Used"),
        Field("quoted_area", "Billed, quoted", "area", 0.0, 1e7, width=10),
        _volume("quoted_volume", "Quoted"),
        *(_money(name, label) for name, label in MONEY_LABELS.items()),
        Field("build", "Film found", "factor", 0.0, 100.0, width=9),
        _share("build_uncertainty", "Film known to"),
        _share("spread", "Film spread"),
        _share("loss", "Loss found"),
        _share("quoted_loss", "Loss quoted"),
        _share("off_ratio", "Iso over ratio"),
        _share("off_uncertainty", "Ratio known to"),
        Field("problem_count", "Problems", "count", 0.0, 1e6, width=9),
        _text("not_told", "What is not told, and why", 44),
    ),
)
UNREAD = Table(
    "unread",
    "Unread",
    "Files that could not be read",
    60,
    (
        _text("unread_file", "File", 40, required=True),
        _text("unread_why", "Why", 90),
        Field("unread_size", "Bytes", "count", 0.0, 1e12, width=12),
    ),
)
BATCHES = Table(
    "batches",
    "Stock",
    "Drums by batch",
    120,
    (
        _text("batch", "Batch", 18, required=True),
        Field("holds", "Holds", "component", width=10),
        Field("drum_count", "Drums", "count", 0.0, 1e5, width=8),
        _volume("held", "Held when new"),
        _volume("printed", "Printed on them"),
        Field("held_count", "Drums that were new", "count", 0.0, 1e5, width=10),
        _volume("drawn", "Drawn"),
        _volume("left", "Left above the residue"),
        Field("expiry", "Use before", "date", *DAYS, width=12),
        _text("last_job", "Seen last on", 26),
    ),
)
COLUMNS = (
    Column(
        "jobs",
        "per_area",
        "For each billed",
        "volume_per_area",
        "row.used_volume / row.billed_area",
        width=12,
    ),
    Column("jobs", "verdict", "Verdict", "text", "", study="month_outliers", width=44),
)


def _total(name: str, label: str, kind: str, guide: str = "") -> Cell:
    return Cell(name, label, kind, "", guide=guide, study="month_totals")


TOTALS = (
    ResultBlock(
        "What this month covers",
        (
            _total("jobs_read", "Jobs read", "count"),
            _total("jobs_unread", "Files that could not be read", "count", "Listed on Unread."),
            _total("jobs_used", "Jobs with litres used and billed area", "count"),
            _total("jobs_quoted", "Jobs with an accepted quote", "count"),
            _total("jobs_film", "Jobs with film readings", "count"),
        ),
        "Totals",
    ),
    ResultBlock(
        "Litres, over the jobs with litres used and billed area",
        (
            _total("used_total", "Used", "volume"),
            _total("billed_total", "Billed area", "area"),
            _total("month_per_area", "Used for each billed area", "volume_per_area"),
            _total(
                "month_quoted_per_area",
                "Quoted for each billed area",
                "volume_per_area",
                "Of those with a quote.",
            ),
        ),
        "Totals",
    ),
    ResultBlock(
        "Film, loss and mix, mean of the jobs that tell",
        (
            _total("build_mean", "Film found for the film aimed at", "factor"),
            _total("loss_mean", "Loss found", "share"),
            _total("quoted_loss_mean", "Loss quoted", "share"),
            _total("off_mean", "Iso above its ratio", "share"),
        ),
        "Totals",
    ),
    ResultBlock(
        "Money, over the jobs with an accepted quote",
        (
            *(_total(f"{name}_total", label, "money") for name, label in MONEY_LABELS.items()),
            _total("over_share", "Above the quoted material by", "share"),
        ),
        "Totals",
    ),
)

FINDINGS = Study(
    "month_findings",
    "What the month says",
    month_findings.READS,
    (
        Field("finding", "What", "text", width=30),
        Field("finding_words", "In words", "text", width=120),
        Field("finding_money", "Money", "money", width=14),
    ),
    month_findings.CAPACITY,
    month_findings.month_findings,
    month_findings.SOURCE,
    "Month",
)
SUMS = Study(
    "month_totals",
    "Where the money went",
    month_tables.TOTAL_READS,
    (
        Field("month_cause", "Cause", "text"),
        Field("month_cause_money", "Money", "money"),
        Field("month_cause_jobs", "Jobs", "count"),
        Field("month_cause_largest", "Largest", "money"),
        Field("month_cause_words", "In words", "text"),
    ),
    month_tables.CAUSE_CAPACITY,
    month_tables.totals,
    month_tables.SOURCE,
    "Totals",
    {},
    (
        Chart(
            "Where the money went",
            "A level bar for each cause, the largest first: to the right what cost more than "
            "quoted over all jobs with an accepted quote, to the left what cost less.",
            ("month_cause_money",),
            (),
            "Money above the quotes",
            "",
            look="bars",
        ),
    ),
)
GROUPS = Study(
    "month_groups",
    "By crew, machine, material and surface",
    month_tables.READS,
    (
        Field("group_kind", "By", "text", width=14),
        Field("group_name", "Name", "text", width=24),
        Field("group_jobs", "Jobs", "count", width=8),
        Field("group_area", "Billed area", "area", width=12),
        Field("group_per_area", "Used for each", "volume_per_area", width=12),
        Field("group_build", "Film found", "factor", width=10),
        Field("group_loss", "Loss found", "share", width=10),
        Field("group_off", "Iso over ratio", "share", width=10),
        Field("group_money", "Above the quotes", "money", width=14),
        Field("group_words", "In words", "text", width=70),
    ),
    month_tables.GROUP_CAPACITY,
    month_tables.groups,
    month_tables.SOURCE,
    "Groups",
)
TREND = Study(
    "month_trend",
    "Job by job, in the order of their dates",
    month_tables.READS,
    (
        Field("trend_number", "Number", "count", width=9),
        Field("trend_day", "Done on", "date", width=12),
        Field("trend_job", "Job", "text", width=26),
        Field("trend_used", "Used for each billed area", "volume_per_area", width=14),
        Field("trend_quoted", "Quoted for each", "volume_per_area", width=14),
        Field("trend_loss", "Loss found", "found_share", width=12),
        Field("trend_allowed", "Loss quoted", "found_share", width=12),
        Field("trend_build", "Film above what was asked for", "found_share", width=14),
        Field("trend_off", "Iso above its ratio", "found_share", width=14),
        Field("trend_money", "Money above the quote, so far", "money", width=16),
    ),
    month_tables.TREND_CAPACITY,
    month_tables.trend,
    month_tables.SOURCE,
    "Trend",
    {},
    (
        Chart(
            "Litres for each billed area",
            "Two lines over the jobs in order: litres used for each billed area, and those quoted.",
            ("trend_used", "trend_quoted"),
            (),
            "Jobs in the order of their dates",
            "For each billed area, in the unit of Trend",
            decimals=1,
        ),
        Chart(
            "Loss",
            "Two lines over the jobs in order: the share that was lost, and the share that was "
            "quoted.",
            ("trend_loss", "trend_allowed"),
            (),
            "Jobs in the order of their dates",
            "Loss, in the unit of Trend",
        ),
        Chart(
            "Film and mix",
            "Two lines over the jobs in order: how much more film lies there than was asked for, "
            "and how much more iso was used than its ratio.",
            ("trend_build", "trend_off"),
            (),
            "Jobs in the order of their dates",
            "Above what was asked for, in the unit of Trend",
        ),
        Chart(
            "Money above the quotes",
            "A line over the jobs in order: what iso and resin cost above the quotes, added up.",
            ("trend_money",),
            (),
            "Jobs in the order of their dates",
            "Money",
        ),
    ),
)
ODD_ONES = Study(
    "month_outliers",
    "Jobs that stand out",
    month_tables.READS,
    (
        Field("outlier_job", "Job", "text", width=28),
        Field("outlier_what", "What", "text", width=26),
        Field("outlier_words", "In words", "text", width=80),
        Field("outlier_score", "Score", "number", width=10),
    ),
    month_tables.ODD_CAPACITY,
    month_tables.outliers,
    month_tables.ODD_SOURCE,
    "Outliers",
)
ASSUME = Study(
    "month_assume",
    "What the next quote should assume",
    assume.READS,
    (
        Field("assume_crew", "Crew", "text", width=20),
        Field("assume_surface", "Substrate", "text", width=18),
        Field("assume_jobs", "Jobs", "count", width=8),
        Field("assume_loss", "Loss", "share", width=10),
        Field("assume_loss_low", "at least", "share", width=10),
        Field("assume_loss_high", "at most", "share", width=10),
        Field("assume_uncertainty", "One job scatters by", "share", width=11),
        Field("assume_spread_jobs", "Jobs with film", "count", width=9),
        Field("assume_spread", "Film spread", "share", width=10),
        Field("assume_spread_low", "from", "share", width=10),
        Field("assume_spread_high", "to", "share", width=10),
        Field("assume_words", "In words", "text", width=64),
    ),
    assume.CAPACITY,
    assume.assume,
    assume.SOURCE,
    "Assume",
)

MONTH = Model(
    name="month",
    title="Month: where litres and money went, and what to quote next",
    purpose="All jobs of a folder, one row each; made anew by twodrum month.",
    steps=(
        "Read Month first: it says in words what the jobs have in common and which stand out.",
        "Totals, Groups, Trend and Outliers show the numbers behind each sentence.",
        "Assume says what the next quote should assume: twodrum new --assume takes it.",
        "A job that could not be read stands on Unread with its reason; it is in no total.",
        "Each sum says over how many jobs it goes; a blank is not known, and is in no sum.",
        "Mend the jobs rather than their rows here; twodrum fill works this out anew.",
        "The jobs themselves are only read.",
    ),
    sheets=(
        ("Start", "What this workbook is for, where things are, its state"),
        ("Month", "What the jobs say, in words"),
        ("Totals", "Litres and money over all jobs, and over how many each sum goes"),
        ("Groups", "The same by crew, machine, material and surface"),
        ("Trend", "Job by job in the order of their dates, as charts"),
        ("Outliers", "Jobs that stand apart from the others"),
        ("Assume", "Loss and film spread to assume next, by crew and surface"),
        ("Stock", "Drums by batch: what they held when new, what is left above the residue"),
        ("Jobs", "One row for each job"),
        ("Unread", "Files that could not be read, and why"),
        ("About", "Which jobs these are"),
        ("Workings", "What is worked out on the way"),
        ("Record", "Checks, problems, assumed values, sources, versions"),
        ("Units", "Every number's unit, conversion, limits and default"),
        ("Lists", "Units and words to pick from, constants"),
        ("Snapshot", "The rows as they were when last filled"),
    ),
    headlines=(
        "jobs_read",
        "jobs_unread",
        "month_per_area",
        "loss_mean",
        "over_money_total",
        "over_share",
    ),
    blocks=(
        Block(
            "These jobs",
            (
                Field("folder", "Folder", "text", guide="Where the jobs were read."),
                Field(
                    "currency",
                    "Currency",
                    "text",
                    default="EUR",
                    reason="our choice",
                    guide="Of all amounts; jobs in another one have their amounts left out.",
                ),
                Field(
                    "jobs_elsewhere",
                    "Jobs only in the store",
                    "count",
                    0.0,
                    MOST_ELSEWHERE,
                    default=0.0,
                    reason="all have a row",
                    guide="Jobs without a row here are in all sums: month-store.parquet has them.",
                ),
            ),
            "About",
        ),
    ),
    tables=(BATCHES, JOBS, UNREAD),
    results=TOTALS,
    columns=COLUMNS,
    choices={"component": CHOICES["component"]},
    studies=(FINDINGS, SUMS, GROUPS, TREND, ODD_ONES, ASSUME),
)
