"""The film as it was measured, pull-off tests, and what they say."""

from __future__ import annotations

from ..engine.model import Column, Field, Study, Table
from ..engine.references import Row
from ..studies import adhesion, film_check

THICKEST = 0.05


def _reading(number: int, guide: str, required: bool = False) -> Field:
    return Field(
        f"reading_{number}",
        f"Reading {number}",
        "thickness",
        0.0,
        THICKEST,
        guide=guide,
        required=required,
        width=10,
    )


FILM = Table(
    "film",
    "Film",
    "Film",
    200,
    (
        Field(
            "film_surface",
            "Surface",
            "text",
            required=True,
            guide="As it stands on Areas; copy it down beside a pasted list.",
            width=24,
        ),
        Field("film_place", "Where", "text", guide="So that it is found again.", width=22),
        _reading(1, "As the gauge shows it; a pasted list goes here.", True),
        _reading(2, "Of the same spot; blank where readings are single."),
        _reading(3, "Of the same spot."),
        Field("remark", "Remark", "text", width=20),
    ),
)
PULLS = Table(
    "pulls",
    "Adhesion",
    "Adhesion",
    40,
    (
        Field(
            "pull_surface",
            "Surface",
            "text",
            required=True,
            guide="Tests of one surface are taken together.",
            width=24,
        ),
        Field("pull_place", "Where", "text", width=20),
        Field(
            "stress_read",
            "Stress read",
            "pressure",
            0.0,
            1e8,
            guide="As the tester shows it; or else force and dolly.",
            metric="MPa",
        ),
        Field("pull_force", "Force", "force", 0.0, 1e6),
        Field("dolly", "Dolly", "length", 0.005, 0.2, metric="mm", us="in"),
        Field("broke", "Failure", "broke", guide="Where most of it broke.", width=30),
        Field("remark", "Remark", "text", width=20),
    ),
)

FILM_COLUMNS = (
    Column(
        "film",
        "spot",
        "Film",
        "thickness",
        "spot_mean",
        tuple(map(Row, ("reading_1", "reading_2", "reading_3"))),
    ),
    Column("film", "verdict", "Verdict", "text", "", study="film_check", width=56),
    Column(
        "pulls",
        "stress_pulled",
        "From force",
        "pressure",
        "pull_off_stress",
        (Row("pull_force"), Row("dolly")),
        working=True,
    ),
    Column(
        "pulls",
        "stress",
        "Stress",
        "pressure",
        "first_known(row.stress_read, row.stress_pulled)",
        metric="MPa",
    ),
    Column("pulls", "verdict", "Verdict", "text", "", study="adhesion", width=56),
)

FILM_CHECK = Study(
    "film_check",
    "Surface by surface",
    film_check.READS,
    (
        Field("checked_surface", "Surface", "text", width=32),
        Field("checked_words", "In words", "text", width=76),
        Field("checked_count", "Counted", "count", width=18),
        Field("checked_mean", "Mean", "thickness", width=14),
        Field("checked_low", "Lowest", "thickness", width=14),
        Field("checked_high", "Highest", "thickness", width=14),
        Field("checked_spread", "Spread", "share", width=14),
        Field("checked_owed", "Still to take", "count", width=14),
    ),
    film_check.CAPACITY,
    film_check.film_check,
    film_check.SOURCE,
    "Film check",
    {
        **dict.fromkeys(("checked_mean", "checked_low", "checked_high"), "film.reading_1"),
        "checked_spread": "loss_share",
    },
)
SPRAY_AGAIN = Study(
    "spray_again",
    "Where to go back to",
    film_check.AGAIN_READS,
    (
        Field("again_surface", "Surface", "text"),
        Field("again_words", "In words", "text"),
        Field("again_place", "Where", "text"),
    ),
    film_check.SPRAY_AGAIN_CAPACITY,
    film_check.spray_again,
    film_check.SOURCE,
    "Film check",
)
ADHESION = Study(
    "adhesion",
    "Pull-off tests",
    adhesion.READS,
    (
        Field("tested_surface", "Surface", "text"),
        Field("tested_words", "In words", "text"),
        Field("tested_count", "Tests", "count"),
        Field("tested_mean", "Mean", "pressure"),
        Field("tested_low", "Lowest", "pressure"),
        Field("tested_five", "5 of 100 below", "pressure"),
    ),
    adhesion.CAPACITY,
    adhesion.adhesion,
    adhesion.SOURCE,
    "Film check",
    dict.fromkeys(("tested_mean", "tested_low", "tested_five"), "pulls.stress"),
)
VOLTAGES = Study(
    "voltages",
    "Holiday test: candidates at the film of each system",
    film_check.VOLTAGE_READS,
    (
        Field("voltage_rule", "Rule", "text"),
        Field("voltage_film", "At a film of", "thickness"),
        Field("voltage_words", "In words", "text"),
        Field("voltage", "Voltage", "voltage"),
    ),
    film_check.VOLTAGE_CAPACITY,
    film_check.voltages,
    film_check.VOLTAGE_SOURCE,
    "Film check",
    {"voltage_film": "film_thickness"},
)
FILM_STUDIES = (FILM_CHECK, SPRAY_AGAIN, ADHESION, VOLTAGES)
