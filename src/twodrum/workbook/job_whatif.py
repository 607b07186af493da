"""What-ifs: film and loss in a grid, what matters most, how sure the litres are."""

from __future__ import annotations

from ..core.odds import MOST_LOSS
from ..model import (
    Cell,
    Chart,
    Column,
    Constant,
    Field,
    Grid,
    Line,
    Page,
    ResultBlock,
    Study,
    Table,
)
from ..references import Name, Reference, Row
from ..studies import litres, swings
from .job_quote import COATS, DECIMALS

STEPS = (-2, -1, 0, 1, 2)
WIDE = len(STEPS)
# What is swung down and up, and the column of its swings.
SWUNG = {
    "area": "area_swings",
    "film": "film_swings",
    "loss": "loss_swings",
    "material price": "price_swings",
    "labour": "labour_swings",
    "site costs": "site_swings",
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
    "area_swings": "Swings of area",
    "film_swings": "Swings of film",
    "loss_swings": "Swings of loss",
    "price_swings": "Swings of material price",
    "labour_swings": "Swings of labour",
    "site_swings": "Swings of site costs",
}

SCENARIOS = Table(
    "scenarios",
    "Workings",
    "Film and loss, swings",
    len(KEYS),
    (
        Field("scenario", "What if", "scenario", width=20),
        *(Field(name, label, "fixed", width=10) for name, label in HEADS.items()),
    ),
    key="scenario",
    keys=KEYS,
    fixed=_fixed(),
)


# The film of the job and with it what it fills; surfaces with their own film keep it.
FILM = (
    'sum(areas.film_volume, blank="film_override") * row.film_factor'
    ' + sum(areas.film_volume, typed="film_override")'
)


def _shown(name: str, label: str, kind: str, function: str, *args: Reference) -> Column:
    return Column("scenarios", name, label, kind, function, args, width=12)


def _way(name: str, label: str, kind: str, function: str, *args: Reference) -> Column:
    return Column("scenarios", name, label, kind, function, args, working=True)


def _bought(own: str, name: str, drum: str) -> tuple[Column, ...]:
    """Drums of a component that are opened, and what it costs."""
    return (
        _way(
            f"{own}_opened",
            f"{name} drums",
            "drums",
            "drums_opened",
            Row(f"{own}_need"),
            *(Name(other) for other in (f"{own}_part_drums", drum, f"{own}_heel", "ceiling_guard")),
        ),
        _way(
            f"{own}_amount",
            f"{name} cost",
            "money",
            f'round_money((row.{own}_need if pricing_basis == "by volume"'
            f" else row.{own}_opened * {drum}) * {own}_price * row.price_factor)",
        ),
    )


def _side(side: str) -> tuple[Column, ...]:
    name = side.capitalize()
    need = f"row.scenario_volume * {side}_ratio / ratio_total"
    return (
        _way(f"{side}_need", f"{name} needed", "volume", need),
        *_bought(side, name, f"{side}_drum_volume"),
    )


def _coat(coat: str) -> tuple[Column, ...]:
    """A primer or top coat follows area and loss; blank where the job has none."""
    own, name = coat.replace(" ", "_"), coat.capitalize()
    on_surface = f"{own}_on_surface"
    return (
        _way(on_surface, f"{name} on the surface", "volume", f"{own}_theory * row.area_factor"),
        _way(
            f"{own}_need",
            f"{name} needed",
            "volume",
            "supplied_volume",
            *(Row(on_surface), Row("scenario_loss")),
        ),
        *_bought(own, name, f"{own}_drum"),
    )


def _swung(name: str, label: str, swings: str) -> Column:
    return _way(name, label, "factor", f"1 + swing * row.{swings}")


def _priced(name: str, label: str, cost: Reference) -> Column:
    return _way(
        name,
        label,
        "money",
        "price_at_margin",
        cost,
        Name("margin_share"),
        DECIMALS,
    )


def _times(name: str, label: str, amount: str, factor: str) -> Column:
    return _way(name, label, "money", f"round_money({amount} * {factor})")


AMOUNTS = tuple(f"row.{coat.replace(' ', '_')}_amount" for coat in COATS)
SCENARIO_COLUMNS = (
    _way(
        "film_factor",
        "Factor on film",
        "factor",
        "1 + film_step * row.film_steps + swing * row.film_swings",
    ),
    _swung("area_factor", "Factor on area", "area_swings"),
    _swung("price_factor", "Factor on material price", "price_swings"),
    _swung("labour_factor", "Factor on labour", "labour_swings"),
    _swung("site_factor", "Factor on site costs", "site_swings"),
    _shown(
        "scenario_film",
        "Dry film",
        "thickness",
        "film_thickness * row.film_factor",
    ),
    _shown(
        "scenario_loss",
        "Loss",
        "share",
        "max(0, min(most_loss, loss_share * (1 + swing * row.loss_swings)"
        " + loss_step * row.loss_steps))",
    ),
    _way(
        "scenario_film_volume",
        "In the film",
        "volume",
        f"({FILM}) * row.area_factor * (1 + acceptance_share)",
    ),
    _way(
        "scenario_profile_volume",
        "In the profile",
        "volume",
        "profile_volume_total * row.area_factor",
    ),
    _shown(
        "scenario_volume",
        "Mixed lining",
        "volume",
        "(row.scenario_film_volume + row.scenario_profile_volume) / (1 - row.scenario_loss)"
        " + fixed_volume",
    ),
    *_side("iso"),
    *_side("resin"),
    _shown(
        "scenario_sets",
        "Drum sets",
        "sets",
        "max(row.iso_opened, row.resin_opened)",
    ),
    *(column for coat in COATS for column in _coat(coat)),
    _way(
        "scenario_plain_material",
        "Material at its price",
        "money",
        "row.iso_amount + row.resin_amount"
        + "".join(f" + zero_if_blank({amount})" for amount in AMOUNTS),
    ),
    _way("scenario_material", "Material", "money", "", Row("scenario_plain_material")),
    _way(
        "scenario_gun_time",
        "Time at the gun",
        "time",
        "row.scenario_volume / (pump_output * spraying_share)",
    ),
    _way(
        "scenario_work_time",
        "Time on the job",
        "time",
        "row.scenario_gun_time + preparation_time",
    ),
    _way(
        "scenario_labour_time",
        "Labour time",
        "time",
        "row.scenario_work_time * crew_size",
    ),
    _way(
        "scenario_plain_labour",
        "Labour at its rate",
        "money",
        "round_money(row.scenario_labour_time * labour_rate * row.labour_factor)",
    ),
    _way("scenario_labour", "Labour", "money", "", Row("scenario_plain_labour")),
    _way("scenario_sprayed", "Sprayed", "money", "row.scenario_material + row.scenario_labour"),
    _times("scenario_consumables", "Consumables", "row.scenario_material", "consumables_share"),
    _times("scenario_rework", "Rework", "row.scenario_sprayed", "rework_share"),
    _way(
        "scenario_lining_cost",
        "Lining",
        "money",
        "row.scenario_sprayed + row.scenario_consumables + row.scenario_rework",
    ),
    _way(
        "scenario_preparation",
        "Preparation",
        "money",
        "round_money(measured_area_total * row.area_factor * preparation_rate)",
    ),
    _way(
        "scenario_surface_cost",
        "Surface",
        "money",
        "row.scenario_preparation + masking_cost_rounded",
    ),
    _times("scenario_site_cost", "Site", "site_cost", "row.site_factor"),
    _shown(
        "scenario_cost",
        "Cost",
        "money",
        "row.scenario_lining_cost + row.scenario_surface_cost + row.scenario_site_cost",
    ),
    _priced("scenario_lining_price", "Price of the lining", Row("scenario_lining_cost")),
    _priced("scenario_prepared_price", "Price of preparation", Row("scenario_preparation")),
    _priced("scenario_site_price", "Price of the site", Row("scenario_site_cost")),
    _way(
        "scenario_lines",
        "Price of these",
        "money",
        "row.scenario_lining_price + row.scenario_prepared_price + masking_price"
        " + row.scenario_site_price",
    ),
    _way(
        "scenario_top_up",
        "Up to the least price",
        "money",
        "max(0, round_money(minimum_price) - row.scenario_lines)",
    ),
    _shown(
        "scenario_price",
        "Price before tax",
        "money",
        "row.scenario_lines + row.scenario_top_up",
    ),
    _shown(
        "margin_kept",
        "Margin kept at the quoted price",
        "share",
        "margin_reached",
        Name("net_price"),
        Row("scenario_cost"),
    ),
)

WHATIF_CONSTANTS = (
    Constant("most_loss", MOST_LOSS, "fraction", "our choice: no loss above this is worked out"),
    Constant("even_odds", 0.5, "fraction", "the middle of what may come"),
    Constant("good_odds", 0.8, "fraction", "our choice: four jobs of five"),
    Constant("best_odds", 0.9, "fraction", "our choice: nine jobs of ten"),
)

DOUBTS = (
    Name("volume_on_surface"),
    Name("fixed_volume"),
    Name("loss_share"),
    Name("area_doubt"),
    Name("film_doubt"),
    Name("loss_doubt"),
)

ODDS = (
    ResultBlock(
        "Film to aim at, so that it is accepted",
        (
            Cell(
                "film_reading_count",
                "Readings for the measured area",
                "number",
                "readings_judged",
                (Name("measured_area_total"),),
                "Taken as one inspection area.",
            ),
            Cell(
                "film_low_allowed",
                "of them may lie below the film",
                "number",
                "allowed_low_by_basis",
                (Name("film_reading_count"), Name("film_basis")),
                "None where the film is asked for as a minimum.",
            ),
            Cell(
                "aim_factor",
                "Mean film to aim at over the film asked for",
                "factor",
                "aim_film_factor",
                (
                    Name("film_spread"),
                    Name("film_reading_count"),
                    Name("film_low_allowed"),
                    Name("acceptance_probability"),
                ),
                "Less spread costs less than more film; above 15 % cut the spread.",
            ),
            Cell(
                "aim_film",
                "Mean film to aim at",
                "thickness",
                "film_thickness * aim_factor",
                guide="The extra litres are in the quote only where Job asks for them as a share.",
            ),
        ),
        "Chances",
    ),
    ResultBlock(
        "Mixed lining that is enough",
        (
            Cell(
                "volume_on_surface",
                "In film and profile",
                "volume",
                "film_volume_aimed + profile_volume_total",
                guide="Before any loss.",
            ),
            *(
                Cell(
                    f"volume_at_{odds}",
                    label,
                    "volume",
                    "volume_for_probability",
                    (Name(f"{odds}_odds"), *DOUBTS),
                    "With the doubt about area, film and loss on Pricing.",
                )
                for odds, label in (
                    ("even", "in five jobs of ten (P50)"),
                    ("good", "in eight jobs of ten (P80)"),
                    ("best", "in nine jobs of ten (P90)"),
                )
            ),
            Cell(
                "volume_odds",
                "Chance that the quoted litres suffice",
                "share",
                "volume_suffices",
                (Name("lining_volume"), *DOUBTS),
            ),
        ),
        "Chances",
    ),
)

LITRES = Study(
    "litres",
    "Drum sets that may be enough",
    litres.READS,
    (
        Field("litres_sets", "Drum sets", "sets"),
        Field("litres_volume", "Mixed lining", "volume"),
        Field("litres_chance", "Chance that they are enough", "share"),
        Field("litres_left", "Left over on average", "volume"),
        Field("litres_words", "In words", "text"),
    ),
    litres.CAPACITY,
    litres.litres,
    litres.SOURCE,
    "Chances",
    {
        "litres_volume": "lining_volume",
        "litres_chance": "volume_odds",
        "litres_left": "lining_volume",
    },
    (
        Chart(
            "Chance that the drum sets are enough",
            "A rising line over the number of drum sets: the chance in percent that they are "
            "enough for this job, from few to nearly certain.",
            ("litres_chance",),
            (),
            "Drum sets of iso and resin",
            "Chance, in the unit above",
        ),
    ),
)

SWINGS = Study(
    "swings",
    "What moves the price most",
    swings.READS,
    (
        Field("swing_of", "Input", "text"),
        Field("swing_low", "Change when it is less", "money"),
        Field("swing_high", "Change when it is more", "money"),
        Field("swing_width", "Moves the price by", "money"),
        Field("swing_words", "In words", "text"),
    ),
    len(SWUNG),
    swings.swings,
    swings.SOURCE,
    "Chances",
    {},
    (
        Chart(
            "What moves the price most",
            "Level bars around the quoted price, the longest on top: for each input how far the "
            "price before tax moves when it is less and when it is more by the swing of Pricing.",
            ("swing_low", "swing_high"),
            (),
            "Change of the price before tax",
            "Input",
            "bars",
        ),
    ),
)


def _grid(column: str, words: str, mark: str = "") -> Grid:
    return Grid("scenarios", column, "scenario_film", "scenario_loss", WIDE, WIDE, words, mark)


WHATIF_PAGE = Page(
    "Film and loss",
    (
        Line("Film down, loss across", look="title"),
        Line("Film of the job; surfaces with their own film keep it", "film_thickness"),
        Line("Loss of the job", "loss_share"),
        Line("Price before tax, as quoted", "net_price"),
        Line("Drum sets, as quoted", "drum_sets"),
        Line("Price before tax at the margin asked for", look="heading"),
        _grid("scenario_price", ""),
        Line("Drum sets opened", look="heading"),
        _grid("scenario_sets", "Marked: more drum sets than quoted.", "above"),
        Line("Margin kept when the quoted price stands", look="heading"),
        _grid("margin_kept", "Marked: less margin than quoted.", "below"),
        Line("Each step is set on Pricing; the boxed cell is the job as it stands.", look="small"),
    ),
    handed=False,
)
