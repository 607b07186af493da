"""Worksheet functions of what-ifs and of how sure the litres are."""

from __future__ import annotations

from ..core import odds
from .declaration import Function, arguments

CATEGORY = "Film and loss"
DOUBTS = (
    "film_volume:volume fixed_volume:volume loss_share:share area_deviation:share"
    " film_deviation:share loss_deviation:share"
)
JOB = ("1000 L", "0 L", "25 %", "3 %", "8 %", "5 %")

FUNCTIONS: tuple[Function, ...] = (
    Function(
        "TD_VOLUME_SUFFICES",
        CATEGORY,
        odds.volume_suffices,
        arguments(f"volume:volume {DOUBTS}"),
        "share",
        example=(("1400 L", *JOB), "68.05798564701 %"),
    ),
    Function(
        "TD_VOLUME_FOR_PROBABILITY",
        CATEGORY,
        odds.volume_for_probability,
        arguments(f"probability:share {DOUBTS}"),
        "volume",
        example=(("80 %", *JOB), "1458.2738982724 L"),
    ),
    Function(
        "TD_LEFT_OVER_EXPECTED",
        CATEGORY,
        odds.left_over_expected,
        arguments(f"volume:volume {DOUBTS}"),
        "volume",
        example=(("1600 L", *JOB), "264.27578255110 L"),
    ),
    Function(
        "TD_MIX_OF_SETS",
        CATEGORY,
        odds.mix_of_sets,
        arguments(
            "sets:sets iso_drum:volume iso_residue:volume iso_part_drums:volume iso_ratio:ratio"
            " resin_drum:volume resin_residue:volume resin_part_drums:volume resin_ratio:ratio"
        ),
        "volume",
        "({iso_ratio}+{resin_ratio})*MIN("
        "({sets}*({iso_drum}-{iso_residue})+{iso_part_drums})/{iso_ratio},"
        "({sets}*({resin_drum}-{resin_residue})+{resin_part_drums})/{resin_ratio})",
        guards=("{iso_drum}>{iso_residue}", "{resin_drum}>{resin_residue}"),
        example=(("2", "205 L", "5 L", "0 L", "1", "205 L", "5 L", "0 L", "1"), "800 L"),
    ),
)
