"""The readings of the day: what is typed, and the judgement beside each row."""

from __future__ import annotations

from ..model import Chart, Column, Field, Row, Study, Table
from ..studies import readings, usage
from .job_process import MOISTURE_SIGNS

PHASES_OF_DAY = readings.PHASES
EVENTS = (*readings.EVENTS, *MOISTURE_SIGNS)


def _temperature(name: str, label: str) -> Field:
    return Field(name, label, "temperature", 223.15, 423.15)


READINGS = Table(
    "readings",
    "Readings",
    "Readings",
    60,
    (
        Field("time", "Time", "clock", required=True, width=8),
        Field("phase", "Phase", "phase", required=True, width=10),
        Field("event", "Event", "event", width=15),
        Field("iso_pressure", "Iso pressure", "pressure", 0.0, 6e7, width=9.5),
        Field("resin_pressure", "Resin pressure", "pressure", 0.0, 6e7, width=9.5),
        Field("iso_temperature", "Iso warm", "temperature", 223.15, 423.15, width=8),
        Field("resin_temperature", "Resin warm", "temperature", 223.15, 423.15, width=8),
        Field("hose_temperature", "Hose warm", "temperature", 223.15, 423.15, width=8),
        Field("air", "Air", "temperature", 228.15, 333.15, width=7),
        Field("humidity", "Humidity", "share", 0.01, 1.0, width=9.5),
        Field("surface_reading", "Surface", "temperature", 223.15, 423.15, width=8.5),
        Field("iso_left", "Iso left", "volume", 0.0, 2.0, width=8),
        Field("resin_left", "Resin left", "volume", 0.0, 2.0, width=8),
        Field("remark", "Remark", "text", width=15),
    ),
)

JUDGED = "judge"

READING_COLUMNS = (
    Column(
        "readings",
        "difference",
        "Iso above resin",
        "pressure",
        "pressure_difference",
        (Row("iso_pressure"), Row("resin_pressure")),
        width=9.5,
    ),
    Column(
        "readings",
        "by_viscosity",
        "By viscosity",
        "pressure",
        "viscosity_difference",
        study=JUDGED,
        width=9.5,
    ),
    Column("readings", "change", "Since baseline", "pressure", "", study=JUDGED, width=9.5),
    Column(
        "readings",
        "reading_dew_margin",
        "Above dew point",
        "temperature_difference",
        "dew_margin",
        study=JUDGED,
        width=9.5,
    ),
    Column("readings", "weather_age", "Weather is old", "time", "", study=JUDGED, width=9.5),
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
        Field("day_difference", "Iso above resin", "pressure"),
        Field("day_limit", "Largest", "pressure"),
        Field("day_limit_below", "Largest the other way", "pressure"),
    ),
    60,
    readings.judge,
    readings.SOURCE,
    "Balance",
    dict.fromkeys(
        ("day_iso", "day_resin", "day_difference", "day_limit", "day_limit_below"),
        "readings.iso_pressure",
    ),
    (
        Chart(
            "Pressures through the day",
            "Two lines over the time of day: the pressure of iso and that of resin at the gauges, "
            "as typed on Readings. Side by side they are in balance; a line that leaves the other "
            "shows which side changes.",
            ("day_iso", "day_resin"),
            (),
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
    ),
)

USAGE = Study("usage", "Litres used", usage.READS, (), 0, usage.usage, usage.SOURCE, "Quantities")
