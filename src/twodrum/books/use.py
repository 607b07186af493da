"""When the job is done: litres used by all that is known, and what stands behind each litre."""

from __future__ import annotations

from ..core.mix import LINING
from ..engine.model import Block, Cell, Chart, Field, ResultBlock, Study
from ..engine.references import Name
from ..studies import evidence, film_found, use_split


def _of_sides(name: str, label: str, guide: str) -> tuple[Field, ...]:
    return tuple(
        Field(f"{side}_{name}", f"{side.capitalize()} {label}", "volume", 0.0, 100.0, guide=guide)
        for side in LINING
    )


def _uncertainty(name: str, label: str, default: float, reason: str, guide: str) -> Field:
    guide += " 95 in 100 err by less than twice as much."
    return Field(name, label, "share", 0.0001, 0.3, default=default, reason=reason, guide=guide)


CLOSING = Block(
    "When the job is done",
    (
        *_of_sides("taken", "taken to the job", "As printed on the drums. Blank: not looked at."),
        *_of_sides("returned", "brought back", "With what stayed in drums; 0: nothing."),
        Field(
            "lost_volume",
            "Lost, where it was measured",
            "volume",
            0.0,
            100.0,
            guide="Iso and resin, without panels, purge and hose fill. Blank: what is missing.",
        ),
        Field(
            "readings_whole",
            "Readings cover the whole job",
            "yes_no",
            default="yes",
            reason="a job of one day",
            guide="No: levels and strokes are not held against drums and scale.",
        ),
        _uncertainty(
            "taken_uncertainty",
            "Filling of drums, standard deviation",
            0.01,
            "NIST Handbook 133 allows 2 %, from memory",
            "Of what is printed on them.",
        ),
        _uncertainty(
            "stroke_uncertainty",
            "Volume of a stroke, standard deviation",
            0.03,
            "slip of reciprocating pumps, 1 to 5 %, from memory",
            "Slip, wear and air.",
        ),
        _uncertainty(
            "density_uncertainty",
            "Densities, standard deviation",
            0.01,
            "ASTM D1475, two laboratories within 1.8 %, from memory",
            "Of the data sheet.",
        ),
        _uncertainty(
            "measure_uncertainty",
            "Measured area, standard deviation",
            0.01,
            "OIML R 35 tapes err by less; surfaces are no plain shapes",
            "Of the measured area.",
        ),
        _uncertainty(
            "gauge_uncertainty",
            "Film gauge, standard deviation",
            0.01,
            "gauges are rated at 1 to 3 %, from memory; see its certificate",
            "Of every reading alike.",
        ),
    ),
)

EVIDENCE = Study(
    "evidence",
    "What says how much was used",
    evidence.READS,
    (
        Field("evidence_source", "Told by", "text"),
        Field("evidence_volume", "Used", "volume"),
        Field("evidence_uncertainty", "Uncertainty ±", "volume"),
        Field("evidence_weight", "Counts for", "share"),
        Field("evidence_words", "In words", "text"),
    ),
    evidence.CAPACITY,
    evidence.evidence,
    evidence.SOURCE,
    "Reconcile",
    {
        **dict.fromkeys(("evidence_volume", "evidence_uncertainty"), "used_volume"),
        "evidence_weight": "loss_share",
    },
)


def _names(*names: str) -> tuple[Name, ...]:
    return tuple(map(Name, names))


def _cell(name: str, label: str, kind: str, function: str, args: str = "", guide: str = "") -> Cell:
    return Cell(name, label, kind, function, _names(*args.split()), guide)


# The parts of the difference: name, label, what it means.
PARTS = (
    ("billed_part", "More area billed than quoted", "Surfaces added or left out; paid for."),
    ("unbilled_part", "More area sprayed than billed", "Sprayed for each billed area."),
    ("asked_part", "More film asked for, on average", "Other films, or other surfaces."),
    ("build_part", "Over-build", "More on the surface than asked for; profile counts in."),
    ("loss_part", "Loss beyond the allowance", "Of what was supplied for spraying."),
    ("fixed_part", "Panels, purge and hose fill", "As typed on Job, against the quote."),
    ("excess_part", "Off the ratio", "What one side had beyond what the other could set with."),
    ("unexplained_part", "Not explained", "Nothing unless the loss was measured by itself."),
)
# The lines that the study of uncertainties goes along too.
CHAIN = use_split.CHAIN
# What is off the ratio is priced side by side.
MONEY = tuple((money, part) for part, money in use_split.VOLUMES.items() if part != "excess_part")
LABELS = {name: label for name, label, _ in PARTS}
GUIDES = {name: guide for name, _, guide in PARTS}
PRICE_LABEL = "Prices paid"
LINING_LABEL = "Shares of both linings"

USE = (
    ResultBlock(
        "What could set, and what was too much of one side",
        (
            *(
                Cell(
                    f"{side}_uncertainty",
                    f"{side.capitalize()} used, uncertainty ±",
                    "volume",
                    "",
                    guide="Either way, in 95 cases of 100.",
                    study="evidence",
                )
                for side in LINING
            ),
            _cell(
                "matched_volume",
                "Used at the ratio of the data sheet",
                "volume",
                "mixed_yield",
                "iso_used resin_used iso_ratio resin_ratio",
                "The side that had less decides.",
            ),
            *(
                _cell(
                    f"{side}_excess",
                    f"{side.capitalize()} beyond the ratio",
                    "volume",
                    f"max(0, {side}_used - matched_volume * {side}_ratio / ratio_total)",
                )
                for side in LINING
            ),
            _cell(
                "sprayed_volume",
                "Of it sprayed at the surface",
                "volume",
                "matched_volume - fixed_volume - further_fixed + second_used",
                guide="Without panels, purge and hose fill; all linings together.",
            ),
        ),
        "Reconcile",
    ),
    ResultBlock(
        "What lies on the surface",
        (
            Cell(
                "measured_build",
                "Film found for the film asked for",
                "factor",
                "",
                guide="From Film, by area; blank without readings.",
                study="film_found",
            ),
            Cell(
                "build_uncertainty",
                "Uncertainty ±",
                "factor",
                "",
                guide="Either way, in 95 cases of 100 where readings lie apart; in clusters fewer.",
                study="film_found",
            ),
            Cell(
                "read_area",
                "Area of the surfaces that were read",
                "area",
                "",
                study="film_found",
            ),
            Cell(
                "mean_film",
                "Mean film found",
                "thickness",
                "",
                guide="Of the surfaces that were read, by area.",
                study="film_found",
            ),
            Cell(
                "found_spread",
                "Spread of the readings",
                "share",
                "",
                guide="Standard deviation over the mean, within surfaces.",
                study="film_found",
            ),
            _cell(
                "quoted_film_build",
                "Film aimed at for that asked for, quoted",
                "factor",
                "accepted_film_volume_aimed / accepted_film_volume_total",
            ),
            _cell(
                "film_build",
                "Film for the film asked for, found",
                "factor",
                "first_known(measured_build, quoted_film_build)",
                guide="Without readings as quoted: then over-build counts as loss.",
            ),
            _cell(
                "quoted_surface",
                "On the surface, quoted",
                "volume",
                "accepted_film_volume_total * quoted_film_build + accepted_profile_volume_total",
            ),
            _cell(
                "found_surface",
                "On the surface, found",
                "volume",
                CHAIN["found_surface"],
            ),
            _cell(
                "solids_used",
                "Solids of all that was used",
                "volume",
                "lining_solids * (used_volume - second_used) + second_solids_known * second_used",
            ),
            _cell(
                "film_yield",
                "Of what was used, in the film",
                "share",
                "measured_area_total * mean_film / solids_used",
                guide="Blank without film readings.",
            ),
        ),
        "Reconcile",
    ),
    ResultBlock(
        "Step by step, quoted and found",
        (
            _cell(
                "quoted_cover",
                "Sprayed for each billed area, quoted",
                "factor",
                "accepted_measured_area_total / accepted_billed_area_total",
            ),
            _cell(
                "found_cover",
                "Sprayed for each billed area, found",
                "factor",
                CHAIN["found_cover"],
            ),
            _cell(
                "quoted_film_per_area",
                "Film asked for, quoted",
                "volume_per_area",
                "accepted_film_volume_total / accepted_measured_area_total",
            ),
            _cell(
                "found_film_per_area",
                "Film asked for, found",
                "volume_per_area",
                CHAIN["found_film_per_area"],
            ),
            _cell(
                "quoted_build",
                "On the surface for that film, quoted",
                "factor",
                "quoted_surface / accepted_film_volume_total",
            ),
            _cell(
                "found_build",
                "On the surface for that film, found",
                "factor",
                CHAIN["found_build"],
            ),
            _cell(
                "quoted_surface_per_area",
                "On each sprayed area, quoted",
                "volume_per_area",
                "quoted_surface / accepted_measured_area_total",
            ),
            _cell(
                "found_surface_per_area",
                "On each sprayed area, found",
                "volume_per_area",
                CHAIN["found_surface_per_area"],
            ),
            _cell(
                "quoted_sprayed",
                "To be sprayed, quoted",
                "volume",
                "accepted_lining_volume - accepted_fixed_volume"
                " - zero_if_blank(accepted_further_fixed)",
            ),
            _cell(
                "accounted",
                "On the surface and lost",
                "volume",
                "accounted_volume",
                "found_surface sprayed_volume lost_volume",
                "All that was sprayed, unless the loss was measured.",
            ),
            _cell(
                "quoted_supply",
                "Supplied for each litre there, quoted",
                "factor",
                "quoted_sprayed / quoted_surface",
            ),
            _cell(
                "found_supply",
                "Supplied for each litre there, found",
                "factor",
                CHAIN["found_supply"],
            ),
            _cell(
                "loss_found",
                "Loss found",
                "share",
                "1 - found_surface / accounted",
                guide="Of what was supplied for spraying; the quote allowed the accepted one.",
            ),
        ),
        "Reconcile",
    ),
    ResultBlock(
        "In the middle of quoted and found",
        (
            _cell(
                "mean_billed",
                "Billed area, middle",
                "area",
                CHAIN["mean_billed"],
            ),
            _cell(
                "mean_sprayed",
                "Sprayed area, middle",
                "area",
                CHAIN["mean_sprayed"],
            ),
            _cell(
                "mean_cover",
                "Sprayed for each billed area, middle",
                "factor",
                CHAIN["mean_cover"],
            ),
            _cell(
                "mean_film_asked",
                "Film asked for, middle",
                "volume_per_area",
                CHAIN["mean_film_asked"],
            ),
            _cell(
                "mean_build",
                "On the surface for that film, middle",
                "factor",
                CHAIN["mean_build"],
            ),
            _cell(
                "mean_per_area",
                "On each sprayed area, middle",
                "volume_per_area",
                CHAIN["mean_per_area"],
            ),
            _cell(
                "mean_surface",
                "On the surface, middle",
                "volume",
                CHAIN["mean_surface"],
            ),
            _cell(
                "mean_supply",
                "Supplied for each litre there, middle",
                "factor",
                CHAIN["mean_supply"],
            ),
        ),
        "Reconcile",
    ),
    ResultBlock(
        "Litres used above the quoted ones",
        (
            _cell(
                "billed_part",
                LABELS["billed_part"],
                "volume",
                CHAIN["billed_part"],
                guide=GUIDES["billed_part"],
            ),
            _cell(
                "unbilled_part",
                LABELS["unbilled_part"],
                "volume",
                CHAIN["unbilled_part"],
                guide=GUIDES["unbilled_part"],
            ),
            _cell(
                "asked_part",
                LABELS["asked_part"],
                "volume",
                CHAIN["asked_part"],
                guide=GUIDES["asked_part"],
            ),
            _cell(
                "build_part",
                LABELS["build_part"],
                "volume",
                CHAIN["build_part"],
                guide=GUIDES["build_part"],
            ),
            _cell(
                "loss_part",
                LABELS["loss_part"],
                "volume",
                CHAIN["loss_part"],
                guide=GUIDES["loss_part"],
            ),
            _cell(
                "fixed_part",
                LABELS["fixed_part"],
                "volume",
                "fixed_volume + further_fixed - accepted_fixed_volume"
                " - zero_if_blank(accepted_further_fixed)",
                guide=GUIDES["fixed_part"],
            ),
            _cell(
                "excess_part",
                LABELS["excess_part"],
                "volume",
                "iso_excess + resin_excess",
                guide=GUIDES["excess_part"],
            ),
            _cell(
                "unexplained_part",
                LABELS["unexplained_part"],
                "volume",
                CHAIN["unexplained_part"],
                guide=GUIDES["unexplained_part"],
            ),
        ),
        "Reconcile",
    ),
    ResultBlock(
        "Money of these litres, at the quoted prices",
        (
            _cell(
                "first_mix_price",
                "Price of iso and resin, mixed, quoted",
                "price_per_volume",
                "(iso_ratio * accepted_iso_price + resin_ratio * accepted_resin_price)"
                " / (iso_ratio + resin_ratio)",
            ),
            # What was accepted before it was kept is as it is now.
            _cell(
                "second_quoted",
                "Second lining, quoted",
                "volume",
                "first_known(accepted_second_there, second_there)",
            ),
            _cell(
                "second_price_quoted",
                "Price of a second lining, mixed, quoted",
                "price_per_volume",
                "first_known(accepted_second_mix_price, second_mix_price)",
                guide="0 without one.",
            ),
            _cell(
                "quoted_mix_price",
                "Price of all that was quoted, mixed",
                "price_per_volume",
                "first_mix_price + second_quoted / accepted_lining_volume"
                " * (second_price_quoted - first_mix_price)",
            ),
            *(
                _cell(
                    name,
                    LABELS[part],
                    "money",
                    f"round_money({part} * quoted_mix_price)",
                )
                for name, part in MONEY
            ),
            *(
                _cell(
                    f"{side}_excess_money",
                    f"{side.capitalize()} beyond the ratio",
                    "money",
                    f"round_money({side}_excess * accepted_{side}_price)",
                )
                for side in LINING
            ),
            _cell(
                "excess_money",
                LABELS["excess_part"],
                "money",
                "iso_excess_money + resin_excess_money",
            ),
            _cell(
                "lining_money",
                LINING_LABEL,
                "money",
                "round_money(matched_volume * (first_mix_price - quoted_mix_price)"
                " + second_used * (second_price_quoted - quoted_mix_price))",
                guide="More of the dearer one than was quoted; nothing in a job of one.",
            ),
            _cell(
                "second_price_money",
                f"{PRICE_LABEL}, of a second lining",
                "money",
                "round_money(second_used * (second_mix_price - second_price_quoted))",
            ),
            _cell(
                "price_money",
                PRICE_LABEL,
                "money",
                "round_money(iso_used * (iso_price - accepted_iso_price)"
                " + resin_used * (resin_price - accepted_resin_price)) + second_price_money",
                guide="Prices on Materials now, as billed, against the accepted ones; on all used.",
            ),
            _cell(
                "area_and_film_money",
                "Area, film and over-build",
                "money",
                "billed_money + unbilled_money + asked_money + build_money",
            ),
            _cell(
                "other_money",
                "Loss, panels, ratio, linings, not explained",
                "money",
                "loss_money + fixed_money + excess_money + unexplained_money + lining_money",
            ),
            _cell(
                "material_over_quote",
                "Material used, above the quoted one",
                "money",
                "area_and_film_money + other_money + price_money",
                guide="Sum of the rounded lines; by litres, whatever the pricing basis.",
            ),
        ),
        "Reconcile",
    ),
)

FILM_FOUND = Study(
    "film_found",
    "Film found",
    film_found.READS,
    (),
    0,
    film_found.film_found,
    film_found.SOURCE,
    "Reconcile",
)
USE_SPLIT = Study(
    "use_split",
    "Where it went",
    use_split.READS,
    (
        Field("cause", "Cause", "text"),
        Field("cause_money", "Money", "money"),
        Field("cause_money_low", "at least", "money"),
        Field("cause_money_high", "at most", "money"),
        Field("cause_words", "In words", "text"),
        Field("cause_volume", "Litres", "volume"),
        Field("cause_volume_low", "from", "volume"),
        Field("cause_volume_high", "to", "volume"),
    ),
    use_split.CAPACITY,
    use_split.use_split,
    use_split.SOURCE,
    "Reconcile",
    dict.fromkeys(("cause_volume", "cause_volume_low", "cause_volume_high"), "used_volume"),
    (
        Chart(
            "Where the money went",
            "A level bar for each cause: to the right what cost more than quoted, to the left "
            "what cost less.",
            ("cause_money",),
            (),
            "Money above the quote",
            "",
            look="bars",
        ),
    ),
)
