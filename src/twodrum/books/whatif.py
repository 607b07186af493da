"""What-ifs: film and loss in a grid, what matters most."""

from __future__ import annotations

from dataclasses import replace

from ..core.odds import MOST_LOSS
from ..engine.derive import Chain, Shown, derived
from ..engine.model import (
    Cell,
    Chart,
    Column,
    Constant,
    Field,
    Grid,
    Line,
    Page,
    Study,
    Table,
)
from ..engine.references import Name, Row
from ..studies import sensitivities
from ..studies.systems import FURTHER
from .inputs import BLOCKS, OF_WHAT_IFS, PRICING
from .plan import OF_DRUMS, ORDER_CARRIED
from .quote import COST
from .results import AREA_COLUMNS, ORDER_COLUMNS, RESULTS
from .systems import FURTHER_SYSTEMS, SYSTEMS_HERE
from .tables import AREAS, MATERIALS, ORDER

STEPS = (-2, -1, 0, 1, 2)
WIDE = len(STEPS)
# What is swung down and up, and the column of its sensitivities.
SWUNG = {
    "area": "area_changes",
    "film": "film_changes",
    "loss": "loss_changes",
    "material price": "price_changes",
    "labour": "labour_changes",
    "site costs": "site_changes",
}


def _keys() -> tuple[str, ...]:
    grid = [f"film {film:+d}, loss {loss:+d}" for film in STEPS for loss in STEPS]
    return (*grid, *(f"{way} {what}" for what in SWUNG for way in ("less", "more")))


def _fixed() -> dict[str, tuple[float, ...]]:
    grid = [(float(film), float(loss)) for film in STEPS for loss in STEPS]
    rest = [0.0] * (2 * len(SWUNG))
    found = {
        "film_steps": (*(film for film, _ in grid), *rest),
        "loss_steps": (*(loss for _, loss in grid), *rest),
    }
    for number, column in enumerate(SWUNG.values()):
        own = [0.0] * len(grid) + rest
        own[len(grid) + 2 * number : len(grid) + 2 * number + 2] = [-1.0, 1.0]
        found[column] = tuple(own)
    return found


KEYS = _keys()
HEADS = {
    "film_steps": "Steps of film",
    "loss_steps": "Steps of loss",
    "area_changes": "Changes of area",
    "film_changes": "Changes of film",
    "loss_changes": "Changes of loss",
    "price_changes": "Changes of material price",
    "labour_changes": "Changes of labour",
    "site_changes": "Changes of site costs",
}

SCENARIOS = Table(
    "scenarios",
    "Workings",
    "Film and loss, sensitivities",
    len(KEYS),
    (
        Field("scenario", "What if", "scenario", width=20),
        *(Field(name, label, "fixed", width=10) for name, label in HEADS.items()),
    ),
    key="scenario",
    keys=KEYS,
    fixed=_fixed(),
)


# What each value is in a row of the what-ifs, by its name; all else follows from the chain.
# Surfaces with a film of their own keep it.
LOSS_HERE = (
    "max(0, min(most_loss, own * (1 + sensitivity * row.loss_changes)"
    " + loss_step * row.loss_steps))"
)
VARIED = {
    "film_thickness": "own * row.film_factor",
    **{
        f"system_{n}_film_volume": f"((own - system_{n}_own_film) * row.film_factor"
        f" + system_{n}_own_film) * row.area_factor"
        for n in (1, *FURTHER)
    },
    **{f"system_{n}_profile": "own * row.area_factor" for n in (1, *FURTHER)},
    **dict.fromkeys(("order.coat_theory", "coats_time"), "own * row.area_factor"),
    "measured_area_total": "own * row.area_factor",
    "loss_share": LOSS_HERE,
    **{f"system_{n}_loss": LOSS_HERE for n in FURTHER},
    "order.coat_loss": LOSS_HERE,
    "order.volume_price": "own * row.price_factor",
    "labour_rate": "own * (1 + sensitivity * row.labour_changes)",
    # Days on site follow from what is sprayed in the row.
    "site_typed": "round_money(own * (1 + sensitivity * row.site_changes))",
    "daily_cost": "own * (1 + sensitivity * row.site_changes)",
}
SHOWN = {
    "film_thickness": Shown("scenario_film", "DFT"),
    "loss_share": Shown("scenario_loss", "Loss"),
    "lining_volume": Shown("scenario_volume", "Mixed lining"),
    "drum_sets": Shown("scenario_sets", "Drum sets"),
    "material_cost_total": Shown("scenario_material", "Material"),
    "cost_total": Shown("scenario_cost", "Cost"),
    "net_price": Shown("scenario_price", "Price before tax"),
}


def _factor(name: str, label: str, line: str) -> Column:
    return Column("scenarios", name, label, "factor", line, working=True)


def price_chain(*more: Cell) -> Chain:
    """The chain from what is typed to the price, and single values that carry of it."""
    return Chain(
        (
            field
            for block in (*BLOCKS, *PRICING, OF_WHAT_IFS, *FURTHER_SYSTEMS)
            for field in block.fields
        ),
        (
            *(cell for block in (*RESULTS, SYSTEMS_HERE, *COST) for cell in block.cells),
            *more,
            *AREA_COLUMNS,
            *ORDER_COLUMNS,
            *ORDER_CARRIED,
        ),
        (AREAS, MATERIALS, ORDER),
    )


CARRIED, DERIVED = derived(price_chain(), "scenarios", VARIED, SHOWN)
OF_COMPONENTS = replace(OF_DRUMS, cells=CARRIED)
SCENARIO_COLUMNS = (
    _factor(
        "film_factor",
        "Factor on film",
        "1 + film_step * row.film_steps + sensitivity * row.film_changes",
    ),
    *(
        _factor(f"{what}_factor", f"Factor on {words}", f"1 + sensitivity * row.{what}_changes")
        for what, words in (
            ("area", "area"),
            ("price", "material price"),
        )
    ),
    *DERIVED,
    Column(
        "scenarios",
        "margin_kept",
        "Margin kept at the quoted price",
        "share",
        "margin_reached",
        (Name("net_price"), Row("scenario_cost")),
        width=12,
    ),
)

WHATIF_CONSTANTS = (
    Constant("most_loss", MOST_LOSS, "fraction", "our choice: no loss above this is worked out"),
)

SWINGS = Study(
    "sensitivities",
    "What moves the price most",
    sensitivities.READS,
    (
        Field("sensitivity_of", "Input", "text"),
        Field("sensitivity_low", "Change when it is less", "money"),
        Field("sensitivity_high", "Change when it is more", "money"),
        Field("sensitivity_width", "Moves the price by", "money"),
        Field("sensitivity_words", "In words", "text"),
    ),
    len(SWUNG),
    sensitivities.sensitivities,
    sensitivities.SOURCE,
    "Chances",
    {},
    (
        Chart(
            "What moves the price most",
            "Level bars around the quoted price, the longest on top: for each input how far the "
            "price before tax moves when it is less and when it is more by the change typed on "
            "Job.",
            ("sensitivity_low", "sensitivity_high"),
            (),
            "Change of the price before tax",
            "Input",
            "bars",
        ),
    ),
)


MORE_SETS = "Marked: more drum sets than quoted."
OTHER_SETS = "Marked: other drum sets than quoted."


def _grid(column: str, words: str, mark: str, by: str = "") -> Grid:
    return Grid("scenarios", column, "scenario_film", "scenario_loss", WIDE, WIDE, words, mark, by)


WHATIF_PAGE = Page(
    "Film and loss",
    (
        Line("Film down, loss across", look="title"),
        Line("Film of the job; surfaces with their own film keep it", "film_thickness"),
        Line("Loss of the job", "loss_share"),
        Line("Price before tax, as quoted", "net_price"),
        Line("Drum sets, as quoted", "drum_sets"),
        Line("Chance that the litres of iso and resin suffice", "volume_odds"),
        Line("Iso and resin, litres for eight jobs of ten", "volume_at_good"),
        Line("Mean film to aim at, so that it is accepted", "aim_film"),
        Line("Price before tax at the margin asked for", look="heading"),
        _grid("scenario_price", OTHER_SETS, "other", "scenario_sets"),
        Line("Drum sets opened", look="heading"),
        _grid("scenario_sets", MORE_SETS, "above"),
        Line("Margin kept when the quoted price stands", look="heading"),
        _grid("margin_kept", "Marked: less margin than quoted.", "below"),
        Line("Each step is set on Job; the boxed cell is the job as it stands.", look="small"),
    ),
    handed=False,
)
