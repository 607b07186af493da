"""The readings of the day: what is typed, and the judgement beside each row."""

from __future__ import annotations

from ..engine.model import DAYS, Cell, Chart, Column, Field, ResultBlock, Study, Table
from ..engine.references import Name
from ..studies import readings
from .process import MOISTURE_SIGNS

PHASES_OF_DAY = readings.PHASES
EVENTS = (*readings.EVENTS, *MOISTURE_SIGNS)


READINGS = Table(
    "readings",
    "Readings",
    "Readings",
    60,
    (
        Field(
            "date",
            "Date",
            "date",
            *DAYS,
            guide="Where a new day begins; blank: as above, at first that of Job.",
            width=11,
        ),
        Field(
            "time",
            "Time",
            "clock",
            required=True,
            guide="Of the reading, such as 08:30; past midnight goes on.",
            width=8,
        ),
        Field(
            "phase",
            "Phase",
            "phase",
            required=True,
            guide="What the machine does: windows count while spraying.",
            width=10,
        ),
        Field(
            "event",
            "Event",
            "event",
            guide="What happened just before; a second event takes a row of its own.",
            width=15,
        ),
        Field(
            "iso_pressure",
            "Iso pressure",
            "pressure",
            0.0,
            6e7,
            guide="Gauge of the iso side at the machine.",
            width=9.5,
        ),
        Field(
            "resin_pressure",
            "Resin pressure",
            "pressure",
            0.0,
            6e7,
            guide="Gauge of the resin side at the machine.",
            width=9.5,
        ),
        Field(
            "iso_temperature",
            "Iso heater outlet",
            "temperature",
            223.15,
            423.15,
            guide="Iso as it leaves the heater.",
            width=8,
        ),
        Field(
            "resin_temperature",
            "Resin heater outlet",
            "temperature",
            223.15,
            423.15,
            guide="Resin as it leaves the heater.",
            width=8,
        ),
        Field(
            "iso_drum",
            "Iso drum temperature",
            "temperature",
            223.15,
            423.15,
            guide="At half depth, while warming or cooling: the machine is learned from it.",
            width=8,
        ),
        Field(
            "resin_drum",
            "Resin drum temperature",
            "temperature",
            223.15,
            423.15,
            guide="At half depth, while warming or cooling.",
            width=8,
        ),
        Field(
            "hose_temperature",
            "Hose",
            "temperature",
            223.15,
            423.15,
            guide="As the hose shows it.",
            width=8,
        ),
        Field(
            "air",
            "Air",
            "temperature",
            228.15,
            333.15,
            guide="Blank: the last one counts on, and its age is shown.",
            width=7,
        ),
        Field(
            "humidity",
            "Humidity",
            "share",
            0.01,
            1.0,
            guide="Blank: the last one counts on.",
            width=9.5,
        ),
        Field(
            "surface_reading",
            "Surface",
            "temperature",
            223.15,
            423.15,
            guide="Of what is sprayed; blank: the last one counts on.",
            width=8.5,
        ),
        Field(
            "iso_left",
            "Iso remaining",
            "volume",
            0.0,
            2.0,
            guide="What the iso drum still holds.",
            width=8,
        ),
        Field(
            "resin_left",
            "Resin remaining",
            "volume",
            0.0,
            2.0,
            guide="What the resin drum still holds.",
            width=8,
        ),
        Field(
            "strokes",
            "Strokes",
            "count",
            0,
            1e9,
            guide="Counter of the pumps; of the iso pump where each has its own drive.",
            width=8,
        ),
        Field(
            "resin_strokes",
            "Resin strokes",
            "count",
            0,
            1e9,
            guide="Only where the resin pump has its own drive.",
            width=8,
        ),
        Field(
            "place",
            "Spraying on",
            "text",
            guide="A surface of Areas; it goes on until another is typed.",
            width=15,
        ),
        Field(
            "lining",
            "Lining",
            "lining",
            guide="Where another one goes in; blank: as above, at first iso and resin.",
            width=15,
        ),
        Field("remark", "Remark", "text", width=15),
    ),
)

JUDGED = "judge"
# Ends of the data sheet's windows, in the order of the sides.
WINDOWS_OF_DAY = {
    "iso_low": "Iso from",
    "resin_low": "Resin from",
    "iso_high": "Iso to",
    "resin_high": "Resin to",
}

READING_COLUMNS = (
    Column(
        "readings",
        "difference",
        "Pressure difference",
        "pressure",
        "row.iso_pressure - row.resin_pressure",
        width=9.5,
    ),
    Column(
        "readings",
        "by_viscosity",
        "Explained by viscosity",
        "pressure",
        "viscosity_difference",
        study=JUDGED,
        width=9.5,
    ),
    Column(
        "readings",
        "unexplained",
        "Unexplained difference",
        "pressure",
        "row.difference - row.by_viscosity",
        width=9.5,
    ),
    Column("readings", "change", "Since baseline", "pressure", "", study=JUDGED, width=9.5),
    Column(
        "readings",
        "change_allowed",
        "Action limit",
        "pressure",
        "",
        (Name("change_limit"),),
        width=9.5,
    ),
    Column(
        "readings",
        "reading_dew_margin",
        "Above dew point",
        "temperature_difference",
        "dew_margin",
        study=JUDGED,
        width=9.5,
    ),
    Column("readings", "weather_age", "Age of weather", "time", "", study=JUDGED, width=9.5),
    Column("readings", "verdict", "Verdict", "text", "", study=JUDGED, width=56),
)

JUDGE = Study(
    JUDGED,
    "The day in figures",
    readings.READS,
    (
        Field("day_time", "At", "clock"),
        Field("day_iso", "Iso", "pressure"),
        Field("day_resin", "Resin", "pressure"),
        Field("day_difference", "Pressure difference", "pressure"),
        Field("day_limit", "Largest", "pressure"),
        Field("day_limit_below", "Largest the other way", "pressure"),
        *(Field(f"day_{name}", label, "pressure") for name, label in WINDOWS_OF_DAY.items()),
        Field("day_change", "Since baseline", "pressure"),
        Field("day_worth", "Action limit", "pressure"),
        Field("day_worth_below", "Worth a look the other way", "pressure"),
        Field("day_warned", "First seen to creep", "pressure"),
    ),
    122,
    readings.judge,
    readings.SOURCE,
    "Balance",
    dict.fromkeys(
        (
            *("day_iso", "day_resin", "day_difference", "day_limit", "day_limit_below"),
            *(f"day_{name}" for name in WINDOWS_OF_DAY),
            *("day_change", "day_worth", "day_worth_below", "day_warned"),
        ),
        "readings.iso_pressure",
    ),
    (
        Chart(
            "Pressures through the day",
            "Two lines over the time of day: the pressure of iso and that of resin at the gauges, "
            "as typed on Readings, with the ends of each data sheet's window as dashed lines. Side "
            "by side they are in balance; a line that leaves the other shows which side changes.",
            ("day_iso", "day_resin"),
            tuple(f"day_{name}" for name in WINDOWS_OF_DAY),
            "Time of day",
            "Pressure, in the unit of Readings",
        ),
        Chart(
            "Iso above resin through the day",
            "One line over the time of day: iso pressure less resin pressure, between two dashed "
            "lines for the largest difference that the office allows either way.",
            ("day_difference",),
            ("day_limit", "day_limit_below"),
            "Time of day",
            "Difference, in the unit of Readings",
        ),
        Chart(
            "Difference since its baseline, viscosity left out",
            "One line over the time of day: what is left of the difference once viscosity and the "
            "baseline are taken off, between two dashed lines for the action limit, with an "
            "upright line where it first was seen to creep.",
            ("day_change",),
            ("day_worth", "day_worth_below"),
            "Time of day",
            "Change, in the unit of Readings",
            uprights=("day_warned",),
        ),
    ),
)

DRIFT = ResultBlock(
    "The difference through the day",
    (
        Cell(
            "charted_day",
            "Day that the charts are of",
            "date",
            "",
            guide="Picked above; blank there: the last one with readings.",
            study=JUDGED,
        ),
        Cell("charted_lining", "Lining that was in the machine", "text", "", study=JUDGED),
        Cell(
            "drift_first",
            "Seen to creep first at",
            "clock",
            "",
            guide="Before any limit; the words stand beside the row on Readings.",
            study=JUDGED,
        ),
        Cell(
            "drift_reaches",
            "Action limit reached, going on so, at about",
            "clock",
            "",
            guide="By the last reading that warns; blank where no trend is sure.",
            study=JUDGED,
        ),
    ),
    "Balance",
)
