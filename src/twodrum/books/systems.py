"""Systems of a job beside its own: another lining, other coats, another film or loss.

An area that names no system has that of the job. A second lining is mixed from its own iso and
resin; primers and top coat go where a system says so.
"""

from __future__ import annotations

from ..core.mix import COATS, LINING, SECOND
from ..engine.model import Block, Cell, Field, Order, ResultBlock, Study
from ..engine.references import Lookup, Name, Reference
from ..studies import systems
from ..studies.linings import FIRST_LINING, SECOND_LINING
from ..studies.systems import FURTHER

SYSTEMS = tuple(f"system {number}" for number in FURTHER)
NO_COAT = "none"
PRIMERS = (NO_COAT, "primer", "second primer")
TOP_COATS = (NO_COAT, "top coat")


def _system(number: int) -> Block:
    """What another system of the job has of its own."""

    def named(name: str) -> str:
        return f"system_{number}_{name}"

    def label(words: str) -> str:
        return f"System {number}: {words}"

    return Block(
        f"System {number}, where an area names it",
        (
            Field(
                named("words"),
                f"System {number} in words",
                "text",
                guide="As the customer is to read it; the quote tells it then.",
            ),
            Field(
                named("lining"),
                label("sprayed with"),
                "lining",
                default=FIRST_LINING,
                reason="the lining of the job",
                guide="A second lining has its own rows on Materials.",
            ),
            Field(
                named("film"),
                label("dry film thickness"),
                "thickness",
                5e-5,
                0.05,
                default=Name("film_thickness"),
                reason="the film of the job",
                guide="Blank: as the job; an area may have its own.",
            ),
            Field(
                named("most"),
                label("dry film, at most"),
                "thickness",
                5e-5,
                0.1,
                default=Name("film_most"),
                reason="that of the job",
                guide="From the data sheet of its lining.",
            ),
            Field(
                named("pass"),
                label("film built by one pass"),
                "thickness",
                1e-5,
                0.01,
                default=Name("pass_build"),
                reason="that of the job",
                guide="From the data sheet of its lining.",
            ),
            Field(
                named("loss"),
                label("loss"),
                "share",
                0.0,
                0.9,
                default=Name("loss_share"),
                reason="the loss of the job",
                guide="Share of what leaves the drums for this system.",
            ),
            Field(
                named("fixed"),
                label("panels, purging, hose fill"),
                "volume",
                0.0,
                5.0,
                default=0.0,
                reason="none was given",
                guide="Mixed litres beside those of the job.",
            ),
            Field(
                named("primer"),
                label("primer"),
                "primer_of",
                default=NO_COAT,
                reason="none was named",
                guide="One of Materials; areas without a system get the primer.",
            ),
            Field(
                named("top_coat"),
                label("top coat"),
                "top_coat_of",
                default=NO_COAT,
                reason="none was named",
                guide="That of Materials, or none.",
            ),
        ),
        seldom=True,
    )


OF_JOB = Block(
    "Coats of areas that name no system",
    (
        Field(
            "system_1_primer",
            "Primer of the job",
            "primer_of",
            default=PRIMERS[1],
            reason="the primer of Materials, where there is one",
            guide="Of areas that name no system.",
        ),
        Field(
            "system_1_top_coat",
            "Top coat of the job",
            "top_coat_of",
            default=TOP_COATS[1],
            reason="the top coat of Materials, where there is one",
            guide="Of areas that name no system.",
        ),
    ),
    seldom=True,
)
FURTHER_SYSTEMS = (OF_JOB, *(_system(number) for number in FURTHER))


FILMS_OF_SYSTEMS = tuple(Order(f"system_{n}_film", f"system_{n}_most") for n in FURTHER)


# Which system a surface has, from 0 for that of the job.
PLACE = '{None: 0, "system 2": 1, "system 3": 1 + 1}[row.system]'


def by_system(of_job: str, own: str) -> str:
    """A line for each surface: what its system has of its own, else what the job has."""
    return f"[{', '.join((of_job, *(f'system_{n}_{own}' for n in FURTHER)))}][row.system_place]"


def by_component(first: str, second: str, coat: str, coats: str = "") -> str:
    """A line for each component: of the first lining, of the second, of coats of their own."""
    values = {
        **dict.fromkeys(LINING, first),
        **{word: coat or coats.format(word.replace(" ", "_")) for word in COATS},
        **dict.fromkeys(SECOND, second),
    }
    said = ", ".join(f'"{word}": {value}' for word, value in values.items())
    return f"{{{said}}}[row.component]"


def _working(
    name: str,
    label: str,
    kind: str,
    line: str,
    args: tuple[Reference, ...] = (),
    guide: str = "",
    told_by: str = "",
) -> Cell:
    return Cell(name, label, kind, line, args, guide, working=True, told_by=told_by)


def may_lack(component: str, name: str, label: str, kind: str, column: str) -> Cell:
    """What stands in the row of a component that a job need not have."""
    key = f"{component.replace(' ', '_')}_{name}"
    found = Lookup("order", component, column, True)
    return _working(key, f"{component.capitalize()}: {label}", kind, "", (found,))


def _where(condition: str, value: str) -> str:
    """The sum over further systems of a value of those of which something is so."""
    of, _, word = condition.partition("=")
    return " + ".join(
        f'(system_{n}_{value} if system_{n}_{of} == "{word}" else 0)' for n in FURTHER
    )


def _sums(name: str, label: str, kind: str, column: str, also: str = "") -> tuple[Cell, ...]:
    """A sum over the surfaces of each system; those that name none have the job's own."""
    which = {1: 'blank="system"', **{n: f'system="system {n}"' for n in FURTHER}}
    return tuple(
        _working(
            f"system_{n}_{name}",
            f"System {n}: {label}" if n > 1 else f"Of the job: {label}",
            kind,
            f"sum(areas.{column}, {rows}{also})",
        )
        for n, rows in which.items()
    )


OWN_FILM = ', typed="film_override"'
# What each system of the job takes; the job's own is of the areas that name none.
OF_SYSTEMS = (
    *_sums("area", "area", "area", "measured_area"),
    *(
        _working(
            f"system_{n}_named",
            f"System {n}: 1 where an area names it",
            "factor",
            f"round_up(system_{n}_area / measured_area_total)",
        )
        for n in FURTHER
    ),
    *_sums("film_volume", "in the film", "volume", "film_volume"),
    *_sums("own_film", "of it with films of their own", "volume", "film_volume", OWN_FILM),
    *_sums("profile", "in the profile", "volume", "profile_volume"),
    *(
        _working(
            f"system_{n}_on_surface",
            f"System {n}: in film and profile" if n > 1 else "Of the job: in film and profile",
            "volume",
            f"(system_{n}_film_volume * (1 + acceptance_share) + system_{n}_profile)"
            " * (1 + rework_litres)",
        )
        for n in (1, *FURTHER)
    ),
    _working(
        "system_1_volume",
        "Of the job: mixed lining",
        "volume",
        "system_1_on_surface / (1 - loss_share) + fixed_volume",
    ),
    *(
        _working(
            f"system_{n}_volume",
            f"System {n}: mixed lining",
            "volume",
            # Panels and purging count where an area names the system.
            f"system_{n}_on_surface / (1 - system_{n}_loss) + system_{n}_panels",
        )
        for n in FURTHER
    ),
    *(
        _working(
            f"system_{n}_solids",
            f"System {n}: volume solids of the mix",
            "share",
            f'lining_solids if system_{n}_lining == "{FIRST_LINING}" else second_solids_known',
        )
        for n in FURTHER
    ),
)
# What the customer is billed for where a further system is told on the quote.
BILLED = tuple(
    Cell(
        f"system_{n}_billed",
        f"System {n}: billed area",
        "area",
        f'sum(areas.billed_area, system="system {n}")',
    )
    for n in FURTHER
)
# What a what-if reads of the row of a component that a job need not have.
OF_ROW = (
    ("held", "in part drums", "volume", "part_drum_volume"),
    ("drum", "drum or can", "volume", "drum_volume"),
    ("rest", "residue", "volume", "residue"),
    ("price", "price", "price_per_volume", "volume_price"),
)


def _coated(word: str) -> tuple[Cell, ...]:
    """Areas that a coat goes on; one that further systems ask for has to be on Materials."""
    coat, of = word.replace(" ", "_"), "top_coat" if word in TOP_COATS else "primer"
    return (
        may_lack(word, "coat_film", "own coat", "thickness", "coat_film"),
        _working(
            f"{coat}_asked",
            f"{word.capitalize()}: on areas of further systems",
            "area",
            _where(f"{of}={word}", "area"),
        ),
        _working(
            f"{coat}_there",
            f"{word.capitalize()}: 1 where Materials has it",
            "factor",
            f"coat_is_there({coat}_asked, zero_if_blank({coat}_coat_film))",
            told_by="systems",
        ),
        _working(
            f"{coat}_area",
            f"{word.capitalize()}: on areas",
            "area",
            f'(system_1_area if system_1_{of} == "{word}" else 0) + {coat}_asked * {coat}_there',
        ),
    )


# What is mixed of each lining, and where coats of their own go.
OF_LININGS = (
    *(may_lack(component, *what) for component in (*SECOND, *COATS) for what in OF_ROW),
    *(
        may_lack(component, *what)
        for component in COATS
        for what in (
            ("cost", "cost", "money", "material_cost"),
            ("time", "crew time", "time", "coat_time"),
        )
    ),
    *(
        may_lack(component, *what)
        for component in SECOND
        for what in (
            ("ratio", "parts of the mix", "ratio", "ratio_part"),
            ("vs", "volume solids", "share", "volume_solids"),
            ("drums", "drums opened", "drums", "drums_opened"),
            ("cost", "cost", "money", "material_cost"),
        )
    ),
    _working(
        "second_solids",
        "Second lining: volume solids of the mix",
        "share",
        "mixed_volume_solids",
        tuple(
            Name(name)
            for name in (
                *("second_iso_ratio", "second_resin_ratio"),
                *("second_iso_vs", "second_resin_vs"),
            )
        ),
    ),
    _working(
        "second_solids_known",
        "The same, or that of the first lining",
        "share",
        "first_known(second_solids, lining_solids)",
    ),
    _working(
        "second_both",
        "Second lining: parts of both",
        "ratio",
        "second_iso_ratio + second_resin_ratio",
    ),
    _working(
        "second_volume",
        "Second lining: mixed",
        "volume",
        _where(f"lining={SECOND_LINING}", "volume"),
    ),
    *(
        _working(
            f"system_{n}_panels",
            f"System {n}: panels, where it is named",
            "volume",
            f"system_{n}_fixed * system_{n}_named",
        )
        for n in FURTHER
    ),
    Cell(
        "further_fixed",
        "Panels, purging, hose fill of further systems",
        "volume",
        " + ".join(f"system_{n}_panels" for n in FURTHER),
    ),
    _working(
        "first_volume",
        "First lining: mixed",
        "volume",
        f"system_1_volume + {_where(f'lining={FIRST_LINING}', 'volume')}",
    ),
    _working(
        "first_on_surface",
        "First lining: in film and profile",
        "volume",
        f"system_1_on_surface + {_where(f'lining={FIRST_LINING}', 'on_surface')}",
    ),
    _working(
        "first_fixed",
        "First lining: panels, purging, hose fill",
        "volume",
        f"fixed_volume + {_where(f'lining={FIRST_LINING}', 'panels')}",
    ),
    _working(
        "first_loss",
        "First lining: loss, over all its systems",
        "share",
        "loss_over_all(first_on_surface, max(0, first_volume - first_fixed))",
    ),
    _working(
        "first_sets",
        "First lining: drum sets",
        "sets",
        'max(order["iso"].drums_opened, order["resin"].drums_opened)',
    ),
    _working("first_per_part", "First lining: each part", "volume", "first_volume / ratio_total"),
    _working(
        "second_per_part",
        "Second lining: each part",
        "volume",
        "volume_for_each_part(second_volume, zero_if_blank(second_both))",
        guide="Needs second iso and second resin on Materials.",
        told_by="systems",
    ),
    Cell(
        "second_there",
        "Second lining: both sides together",
        "volume",
        "second_per_part * zero_if_blank(second_both)",
    ),
    _working(
        "second_mixed",
        "Second lining: price of its parts, mixed",
        "price_per_volume",
        "(second_iso_ratio * second_iso_price + second_resin_ratio * second_resin_price)"
        " / second_both",
    ),
    Cell(
        "second_mix_price",
        "Second lining: price of the mix",
        "price_per_volume",
        "zero_if_blank(second_mixed)",
        guide="0 without one.",
    ),
    *(cell for coat in COATS for cell in _coated(coat)),
)

SYSTEMS_HERE = ResultBlock("Of each system and lining", (*BILLED, *OF_SYSTEMS, *OF_LININGS), "Sums")

BY_SYSTEM = Study(
    "systems",
    "By system",
    systems.READS,
    (
        Field("system_name", "System", "text", width=24),
        Field("system_words", "In words", "text", width=26),
        Field("system_surfaces", "Surfaces", "count"),
        Field("system_area", "Measured area", "area"),
        Field("system_mixed", "Mixed lining", "volume"),
        Field("system_gun_time", "Time at the gun", "time"),
    ),
    systems.CAPACITY,
    systems.systems,
    systems.SOURCE,
    "Order",
    {
        "system_area": "areas.measured_area",
        "system_mixed": "lining_volume",
        "system_gun_time": "spraying_time",
    },
)
