"""How sure a quote is: litres, drum sets and price by their chance, the film to aim at."""

from __future__ import annotations

from ..engine.derive import Shown, derived
from ..engine.model import Cell, Chart, Constant, Field, ResultBlock, Study, Table
from ..engine.references import Lookup, Name
from ..studies import litres, next_set
from .whatif import CARRIED, price_chain

CHANCE_CONSTANTS = (
    Constant("even_odds", 0.5, "fraction", "the middle of what may come"),
    Constant("good_odds", 0.8, "fraction", "our choice: four jobs of five"),
    Constant("best_odds", 0.9, "fraction", "our choice: nine jobs of ten"),
)

DOUBTS = (
    Name("first_on_surface"),
    Name("first_fixed"),
    Name("first_loss"),
    Name("area_uncertainty"),
    Name("film_uncertainty"),
    Name("loss_uncertainty"),
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
            Cell(
                "film_priced",
                "Mean film that is priced",
                "thickness",
                "film_thickness * (1 + acceptance_share)",
                guide="Below the film to aim at, litres are missing in the price.",
            ),
        ),
        "Chances",
    ),
    ResultBlock(
        "Mixed lining that is enough",
        (
            *(
                Cell(
                    f"volume_at_{odds}",
                    label,
                    "volume",
                    "volume_for_probability",
                    (Name(f"{odds}_odds"), *DOUBTS),
                    "Of iso and resin, with the uncertainty of area, film and loss on Job.",
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
                (Name("first_volume"), *DOUBTS),
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

NEXT_SET = Study(
    "next_set",
    "Where the next drum set opens",
    next_set.READS,
    (
        Field("next_what", "What opens it", "text"),
        Field("next_words", "In words", "text"),
    ),
    next_set.CAPACITY,
    next_set.next_set,
    next_set.SOURCE,
    "Chances",
)

CHANCES = tuple(cell for block in ODDS for cell in block.cells)
KEYS = ("P50", "P80", "P90")
AT = dict(zip(("even", "good", "best"), KEYS))

BY_CHANCE = Table(
    "odds",
    "Odds",
    "Price by chance",
    len(KEYS),
    (Field("odds", "Chance", "odds", width=20),),
    key="odds",
    keys=KEYS,
)
_volumes = ", ".join(f'"{key}": volume_at_{odds}' for odds, key in AT.items())
# The whole chain for as many litres of iso and resin as are enough with each chance.
READ, BY_CHANCE_COLUMNS = derived(
    price_chain(*CARRIED),
    "odds",
    {"first_volume": f"{{{_volumes}}}[row.odds]"},
    {
        "drum_sets": Shown("odds_sets", "Drum sets"),
        "cost_total": Shown("odds_cost", "Cost"),
        "net_price": Shown("odds_price", "Price before tax"),
    },
)
OF_CHANCES = ResultBlock("Of the price by chance", READ, "Sums")


def _at(odds: str, name: str, label: str, column: str) -> Cell:
    found = Lookup("odds", AT[odds], column)
    return Cell(f"{name}_at_{odds}", label, "money", "", (found,), "As of the last fill.")


SURE = ResultBlock(
    "How sure the price is, as of the last fill",
    (
        _at("even", "price", "Price before tax, litres of P50", "odds_price"),
        _at("good", "price", "Price before tax, litres of P80", "odds_price"),
        _at("best", "price", "Price before tax, litres of P90", "odds_price"),
        _at("best", "cost", "Cost, litres of P90", "odds_cost"),
        Cell(
            "margin_at_best",
            "Margin left at the quoted price, P90",
            "share",
            "margin_reached",
            (Name("net_price"), Name("cost_at_best")),
            "Where the litres of nine jobs of ten are used; as of the last fill.",
        ),
    ),
    "Cost",
)
