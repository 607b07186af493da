"""The day sheet: one page for the crew, with boxes to tick.

How the machine is run stands in its manual and how a lining is sprayed in its data sheet: here
is only what has a public source, or what holds whatever they say.
"""

from __future__ import annotations

from ..core.mix import LINING
from ..engine.model import Line, Listing, Page

FIRST = "Data sheet, machine manual, local code and licensed practice come before this page."
BEFORE = (
    "Suits, gloves, eye protection and supplied air on before a drum is opened; others kept away",
    "Ventilation runs, eye wash and first aid at hand, number for emergencies known",
    "Confined space: permit, air tested, watch and rescue in place; otherwise nobody goes in",
    "Solvents away from heaters and sparks",
    "Iso dryers fitted to drum and tank, desiccant not spent; threads and caps greased",
    "Resin stirred as its data sheet says; iso never stirred in an open drum",
    "Drums read after stirring; iso through its bung for moments only, dryer back on at once",
    "Set points down to spray temperature, pressures raised and balanced",
    "Panel good, noted on Readings; passes laid as the data sheet says",
)
DURING = (
    "A reading every half hour, the weather every hour",
    "Drum levels watched: change a drum before it runs dry, note it",
    "Something found: stop the gun first, then look",
)
STOPS = (
    "Surface nearer to the dew point than the least distance above, rain, wind that drifts mist",
    "A temperature or pressure outside the data sheet; gauges apart by more than the limit above",
    "Pinholes, blisters, streaks in the film; crystals in the iso; a spent dryer",
)
# 29 CFR 1910.147(d): shut down, isolate, lock, relieve what is stored, verify; then work.
OPENED = (
    "Everybody who works there told; machine shut down as its manual says, liquid cooled",
    "Power and air isolated and locked off, valves to the drums closed",
    "Pressure relieved on both sides, and shown to be gone: gauges at zero, gun triggered",
    "Gloves, goggles and breathing protection; a bucket for each side, never both liquids in one",
    "Parts of iso and resin kept apart, cleaned, looked at and put back as the manual says",
    "Air worked out as the manual says before the gun is used again",
)
END = (
    "Trigger locked, gun shut off, relieved and cleaned as its manual says",
    "Heaters off, machine and hose cooled as the manual says: a drum stays warm for long",
    "Pumps stopped where the manual has them stand, both sides relieved, power off",
    "Drums closed dry; an iso drum with signs of moisture never sealed tight",
)


def _boxes(texts: tuple[str, ...]) -> tuple[Line, ...]:
    return tuple(Line(text, look="box") for text in texts)


def _side(side: str) -> tuple[Line, ...]:
    name = side.capitalize()
    return (
        Line(f"{name}: set point while warming", f"planned_{side}_set_point"),
        Line(f"{name}: drum warmed to, then set point down", f"planned_{side}_drum_target"),
        Line(f"{name}: sprayed at", f"{side}_spray_temperature"),
        Line(f"{name}: gauge to expect", f"{side}_gauge"),
    )


DAY_SHEET = Page(
    "Day sheet",
    (
        Line("Day sheet", look="title"),
        Line("Job", "job_title"),
        Line("Site", "site"),
        Line("Day", "planned_date", needs=("planned_date",)),
        Line("State of the workbook when printed", "overall_state"),
        Line("Plan", look="heading"),
        Line("Ready to spray at", "ready_time"),
        Line("Switch on and start stirring at", "switch_on"),
        Line("Lining in the machine", "planned_lining"),
        Line("Resin stirred for", "planned_stirring_time"),
        *(line for side in LINING for line in _side(side)),
        Line("Hose, open to the drums, never shut and full", "planned_hose_set_point"),
        Line("Mixing chamber port, iso", "port_diameter"),
        Line("Mixing chamber port, resin", "resin_port_diameter"),
        Line("Film asked for, unless a surface below says another", "film_thickness"),
        Line("Film never more than", "film_most", needs=("film_most",)),
        Line("Film of one pass", "pass_build"),
        Line("Overlap of strokes", "overlap"),
        Line("Speed of the gun for it", "gun_speed", needs=("pattern_width",)),
        Line("Gauges apart by at most", "difference_limit"),
        Line("Surface above the dew point by at least", "least_dew_margin"),
        *(Line(f"{side.capitalize()}: drums to open", f"planned_{side}_drums") for side in LINING),
        *(
            Line(
                f"{side.capitalize()}: and from part drums",
                f"planned_{side}_part_drums",
                unless_zero=True,
            )
            for side in LINING
        ),
        Listing(
            "areas",
            ("surface", "shape", "film_here", "area_passes"),
            10,
            "Further surfaces stand on Areas.",
        ),
        Line("Before spraying", look="heading"),
        *_boxes(BEFORE),
        Line("While spraying", look="heading"),
        *_boxes(DURING),
        Line("Do not spray, or stop", look="heading"),
        *(Line(text) for text in STOPS),
        Line("Before a filter, pump or gun is opened", look="heading"),
        *_boxes(OPENED),
        Line("At the end", look="heading"),
        *_boxes(END),
        Line(f"{FIRST} Locking off: 29 CFR 1910.147.", look="small"),
        Line("Read the sheet Cautions aloud before the day.", look="small"),
    ),
)
