"""Options side by side: what differs from the job is typed, all else of it follows the chain.

An option is about the surfaces that name no system: another system, film or loss for them, and
another crew, rate, margin, price basis or mobilisation for the whole job. What is blank is as
in the job.
"""

from __future__ import annotations

from dataclasses import replace

from ..engine.derive import Shown, derived, derived_again
from ..engine.model import Cell, Column, Field, ResultBlock, Study, Table
from ..engine.references import Lookup
from ..studies import options
from ..studies.systems import FURTHER
from .chances import CHANCES, OF_CHANCES
from .inputs import OPTION_NUMBERS, OPTIONS
from .systems import PLACE
from .whatif import CARRIED, price_chain

LITRES_AT_P80 = "option_first_at_good"
AS_JOB = "Blank: as the job."

OPTION_TABLE = Table(
    "options",
    "Options",
    "Options",
    len(OPTIONS),
    (
        Field("option", "Option", "option", required=True, width=11),
        Field("option_words", "In words", "text", guide="As a customer may read it.", width=30),
        Field(
            "option_system",
            "Other system",
            "further_system",
            guide="Of the surfaces that name none.",
            width=11,
        ),
        Field(
            "option_film",
            "Other DFT",
            "thickness",
            5e-5,
            0.05,
            guide="Of the surfaces that name no system.",
            width=9.5,
        ),
        Field(
            "option_loss",
            "Other loss",
            "share",
            0.0,
            0.9,
            guide="Of the system that they have then; coats keep theirs.",
            width=9.5,
        ),
        Field("option_crew", "Other crew", "people", 1, 50, guide=AS_JOB, width=9.5),
        Field(
            "option_rate", "Other labour rate", "price_per_time", 0.0, 1e12, guide=AS_JOB, width=11
        ),
        Field("option_margin", "Other margin", "share", 0.0, 0.95, guide=AS_JOB, width=9.5),
        Field("option_basis", "Material priced", "pricing_basis", guide=AS_JOB, width=14),
        Field(
            "option_mobilisation",
            "Other mobilisation",
            "money",
            0.0,
            1e12,
            guide=AS_JOB,
            width=13,
        ),
        Field(
            "option_offered",
            "On the quote",
            "offered",
            guide="Offered instead of the job, with its price.",
            width=11,
        ),
    ),
    key="option",
)


def _of_option(name: str, label: str, kind: str, line: str) -> Column:
    return Column("options", name, label, kind, line, working=True)


def _by_system(of_job: str, *further: str) -> str:
    """A line of an option: what holds for the system that its surfaces have."""
    return f"[{', '.join((of_job, *further))}][row.option_place]"


def _of_systems(name: str, of_job: str) -> str:
    return _by_system(of_job, *(f"system_{n}_{name}" for n in FURTHER))


def _there(system: int) -> str:
    """1 where the surfaces of an option have this system, 0 where they have another."""
    ones = ["1" if system == n else "0" for n in (1, *FURTHER)]
    return _by_system(ones[0], *ones[1:])


# What the surfaces that name no system take in each option.
WORKINGS = (
    _of_option(
        "option_place",
        "Number of its system",
        "number",
        PLACE.replace("row.system", "row.option_system"),
    ),
    *(
        _of_option(f"option_in_{n}", f"1 where it is system {n}", "factor", _there(n))
        for n in (1, *FURTHER)
    ),
    _of_option(
        "option_own_film", "Film of its system", "thickness", _of_systems("film", "film_thickness")
    ),
    _of_option("option_most", "Film at most", "thickness", _of_systems("most", "film_most")),
    _of_option(
        "option_film_here",
        "Film of the option",
        "thickness",
        "first_known(row.option_film, row.option_own_film)",
    ),
    _of_option(
        "option_solids",
        "Volume solids over those of the job",
        "factor",
        f"{_of_systems('solids', 'lining_solids')} / lining_solids",
    ),
    _of_option(
        "option_film_volume",
        "In the film of the option",
        "volume",
        "((system_1_film_volume - system_1_own_film) * row.option_film_here / film_thickness"
        " + system_1_own_film) / row.option_solids",
    ),
    _of_option(
        "option_profile",
        "In the profile of the option",
        "volume",
        "system_1_profile / row.option_solids",
    ),
    _of_option("option_own_loss", "Loss of its system", "share", _of_systems("loss", "loss_share")),
    _of_option(
        "option_loss_here",
        "Loss of the option",
        "share",
        "first_known(row.option_loss, row.option_own_loss)",
    ),
)


def _loss(system: int) -> str:
    losses = ["row.option_loss_here" if system == n else "own" for n in (1, *FURTHER)]
    return _by_system(losses[0], *losses[1:])


VARIED = {
    "system_1_area": "own * row.option_in_1",
    "system_1_film_volume": "row.option_film_volume * row.option_in_1",
    "system_1_profile": "row.option_profile * row.option_in_1",
    "loss_share": _loss(1),
    **{
        key: line
        for n in FURTHER
        for key, line in (
            (f"system_{n}_area", f"own + system_1_area * row.option_in_{n}"),
            (f"system_{n}_film_volume", f"own + row.option_film_volume * row.option_in_{n}"),
            (f"system_{n}_profile", f"own + row.option_profile * row.option_in_{n}"),
            (f"system_{n}_loss", _loss(n)),
        )
    },
    # Coats keep their loss, also where it is that of the job.
    "order.coat_loss": "own",
    "crew_size": "first_known(row.option_crew, own)",
    "labour_rate": "first_known(row.option_rate, own)",
    "margin_share": "first_known(row.option_margin, own)",
    "pricing_basis": "first_known(row.option_basis, own)",
    "mobilisation_cost": "first_known(row.option_mobilisation, own)",
}
SHOWN = {
    "lining_volume": Shown("option_volume", "Mixed lining"),
    "drum_sets": Shown("option_sets", "Drum sets"),
    "labour_time": Shown("option_hours", "Labour time"),
    "working_days": Shown("option_days", "Days"),
    "cost_total": Shown("option_cost", "Cost"),
    "net_price": Shown("option_price", "Price before tax"),
    "margin_of_price": Shown("option_margin_reached", "Margin reached"),
    "volume_at_good": Shown(LITRES_AT_P80, "Iso and resin at P80"),
}


READ, DERIVED = derived(
    price_chain(*CARRIED, *OF_CHANCES.cells, *CHANCES), "options", VARIED, SHOWN
)
# The price that would be asked for as many litres as are enough in eight jobs of ten.
AT_P80 = derived_again(
    DERIVED,
    {"if_first_volume": LITRES_AT_P80},
    {
        "option_volume": Shown("option_litres_at_good", "Lining at P80"),
        "option_price": Shown("option_price_at_good", "Price at P80"),
    },
    "p80",
)
OPTION_COLUMNS = (
    *WORKINGS,
    *(replace(c, working=c.working or c.name == LITRES_AT_P80) for c in DERIVED),
    Column(
        "options",
        "option_against",
        "Against the job",
        "money",
        "row.option_price - net_price",
        width=12,
    ),
    *AT_P80,
)


def _carried(number: int, name: str, label: str, kind: str, column: str) -> Cell:
    found = Lookup("options", f"option {number}", column, True)
    return Cell(f"option_{number}_{name}", f"Option {number}: {label}", kind, "", (found,))


# What the quote tells of those that are offered.
OFFERS = tuple(
    _carried(number, *what)
    for number in OPTION_NUMBERS
    for what in (
        ("words", "in words", "text", "option_words"),
        ("offered", "on the quote", "text", "option_offered"),
        ("price", "price before tax", "money", "option_price"),
    )
)
OPTION_HINTS = Study(
    "option_hints", "Hints on options", options.READS, (), 0, options.options, options.SOURCE
)
OF_OPTIONS = ResultBlock("Of the options", (*READ, *OFFERS), "Sums")
