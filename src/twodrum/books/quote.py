"""What a job costs and what the customer reads: cost build-up, price, the quote as a page."""

from __future__ import annotations

from collections.abc import Sequence

from ..core.mix import LINING
from ..engine.model import Cell, Field, Line, Listing, Page, ResultBlock, Study
from ..engine.references import Agg, Lookup, Name
from ..studies import missing
from ..studies.systems import FURTHER
from .inputs import ALTERNATES, EXCLUSIONS, OPTION_NUMBERS

DECIMALS = Name("money_decimals")
# The lines of the quote that add up to the price before tax.
LINES = ("lining_price", "preparation_price", "masking_price", "site_price", "minimum_top_up")
# What the price of the lining stands as on the quote.
SPLIT = {"lining_price": ("primers_line", "lining_line", "top_coat_line")}
TAXED = ("the lining", "surface preparation", "masking", "the site", "the minimum charge")

SITE = {
    "mobilisation_cost": "Mobilisation",
    "access_cost": "Access",
    "travel_cost": "Travel",
    "disposal_cost": "Disposal",
    "other_cost": "Other costs",
}


def _typed(name: str, label: str) -> Cell:
    args = (Name(name), DECIMALS)
    return Cell(f"{name}_rounded", label, "money", "worksheet_round", args, "From Job.")


def _sum(name: str, label: str, of: tuple[str, ...], guide: str = "") -> Cell:
    return Cell(name, label, "money", " + ".join(of), guide=guide)


def _share(name: str, label: str, amount: str, share: str) -> Cell:
    return Cell(name, label, "money", f"round_money({amount} * {share})")


def _coats(name: str, label: str, of: tuple[str, ...]) -> Cell:
    """What coats of their own cost: their material, and labour by their share of the time."""
    material, hours = (
        " + ".join(f"zero_if_blank({coat}_{what})" for coat in of) for what in ("cost", "time")
    )
    line = f"({material}) * (1 + consumables_share + rework_share)"
    line += f" + labour_cost * ({hours}) / working_time * (1 + rework_share)"
    return Cell(name, label, "money", line, guide="In the sum of the lining above.")


PRIMED = "primer_area + second_primer_area"
# Lines of the quote whose price for an area is told, and the area: a coat has its own.
FOR_AREA = {
    "primers": ("primers_line", "primed"),
    "lining": ("lining_line", "billed_area_total"),
    "top_coat": ("top_coat_line", "top_coated"),
    "preparation": ("preparation_price", "billed_area_total"),
}


def _coated(name: str, label: str, area: str) -> Cell:
    """The area that a coat goes on; all of it where it goes on none, as nothing divides by 0."""
    line = f"{area} + measured_area_total * (1 - round_up({area} / measured_area_total))"
    return Cell(name, f"{label}, else all of it", "area", line, working=True)


def _price(name: str, label: str, cost: str, guide: str = "") -> Cell:
    args = (Name(cost), Name("margin_share"), DECIMALS)
    return Cell(name, label, "money", "price_at_margin", args, guide)


COST_BLOCKS = (
    (
        "Lining, supplied and sprayed",
        (
            Cell(
                "material_cost_total",
                "Material",
                "money",
                "",
                (Agg("order", "material_cost"),),
                "Sum of the rounded lines on Order. Priced by whole drums, what comes from part "
                "drums is in no line.",
            ),
            Cell(
                "lining_material_cost",
                "of it iso and resin",
                "money",
                'order["iso"].material_cost + order["resin"].material_cost'
                " + zero_if_blank(second_iso_cost) + zero_if_blank(second_resin_cost)",
            ),
            Cell(
                "other_material_cost",
                "of it primers and top coats",
                "money",
                "material_cost_total - lining_material_cost",
            ),
            Cell(
                "labour_cost",
                "Labour",
                "money",
                "round_money(paid_time * labour_rate)",
            ),
            _sum("sprayed_cost", "Material and labour", ("material_cost_total", "labour_cost")),
            _share("consumables_cost", "Consumables", "material_cost_total", "consumables_share"),
            _share("rework_cost", "Rework allowance", "sprayed_cost", "rework_share"),
            _sum(
                "lining_cost",
                "Lining, sum",
                ("sprayed_cost", "consumables_cost", "rework_cost"),
            ),
            _coats("primers_part", "of it primers", ("primer", "second_primer")),
            _coats("top_coat_part", "of it top coat", ("top_coat",)),
        ),
    ),
    (
        "Surface",
        (
            Cell(
                "preparation_cost",
                "Surface preparation",
                "money",
                "round_money(measured_area_total * preparation_rate)",
                guide="By the measured area.",
            ),
            _typed("masking_cost", "Masking"),
            _sum("surface_cost", "Surface, sum", ("preparation_cost", "masking_cost_rounded")),
        ),
    ),
    (
        "Site",
        (
            *(_typed(name, label) for name, label in SITE.items()),
            Cell(
                "days_cost",
                "Days on site",
                "money",
                "round_money(daily_cost * working_days)",
            ),
            _sum("site_typed", "Site, beside its days", tuple(f"{name}_rounded" for name in SITE)),
            _sum("site_cost", "Site, sum", ("site_typed", "days_cost")),
        ),
    ),
    (
        "Price",
        (
            _sum("cost_total", "Cost", ("lining_cost", "surface_cost", "site_cost")),
            _price("lining_price", "Lining, supplied and sprayed", "lining_cost"),
            *(
                _price(f"{coat}_share", f"{label}, price of their part", f"{coat}_part")
                for coat, label in (("primers", "Primers"), ("top_coat", "Top coat"))
            ),
            *(
                Cell(
                    f"{coat}_line",
                    f"{label}, on a line of the quote",
                    "money",
                    f'{coat}_share if coats_apart == "yes" else 0',
                )
                for coat, label in (("primers", "Primers"), ("top_coat", "Top coat"))
            ),
            Cell(
                "lining_line",
                "Lining, less what has lines of its own",
                "money",
                "lining_price - primers_line - top_coat_line",
            ),
            _price("preparation_price", "Surface preparation", "preparation_cost"),
            _price("masking_price", "Masking", "masking_cost_rounded"),
            _price("site_price", "Mobilisation, access, travel, disposal, other", "site_cost"),
            _sum("price_of_lines", "Price of these", LINES[:4]),
            _share(
                "discount_by_share", "Discount, by its share", "price_of_lines", "discount_share"
            ),
            Cell(
                "rounded_off",
                "Taken off to a round price",
                "money",
                "rounding_off(price_of_lines - discount_by_share, round_step, money_decimals,"
                " ceiling_guard)",
            ),
            Cell("discount", "Discount", "money", "discount_by_share + rounded_off"),
            Cell("discount_off", "Less discount", "money", "0 - discount"),
            Cell(
                "minimum_top_up",
                "Up to the minimum charge",
                "money",
                "max(0, round_money(minimum_price) - price_of_lines + discount)",
            ),
            Cell(
                "net_price",
                "Price before tax",
                "money",
                "price_of_lines - discount + minimum_top_up",
            ),
            *(
                Cell(
                    f"tax_{number}",
                    f"Tax on {words}",
                    "money",
                    " + ".join(
                        f"round_money({one} * tax_share)" for one in SPLIT.get(line, (line,))
                    ),
                )
                for number, (line, words) in enumerate(zip(LINES, TAXED), 1)
            ),
            _share("tax_off_discount", "Tax on the discount, taken off", "discount", "tax_share"),
            Cell(
                "tax_on_lines",
                "Tax of the lines",
                "money",
                " + ".join(f"tax_{n}" for n in range(1, len(LINES) + 1)) + " - tax_off_discount",
            ),
            Cell(
                "tax_on_total",
                "Tax on the total",
                "money",
                "round_money(net_price * tax_share)",
            ),
            Cell(
                "tax",
                "Tax",
                "money",
                'tax_on_total if tax_rule == "on the total" else tax_on_lines',
                guide="By the rule on Job; local law decides.",
            ),
            Cell(
                "total_price",
                "Price with tax",
                "money",
                "net_price + tax",
            ),
            Cell(
                "price_for_area",
                "Price before tax for each billed area",
                "price_per_area",
                "net_price / billed_area_total",
            ),
            Cell(
                "margin_amount",
                "Left above the cost",
                "money",
                "net_price - cost_total",
            ),
            Cell(
                "margin_of_price",
                "Margin reached",
                "share",
                "margin_reached",
                (Name("net_price"), Name("cost_total")),
                "More than asked for where the minimum charge counts.",
            ),
        ),
    ),
    (
        "On the quote",
        (
            Cell(
                "valid_until",
                "Quote valid until",
                "date",
                "quote_date + valid_days",
                guide="Blank without a date of the quote.",
            ),
            *(
                Cell(
                    f"{key}_for_area",
                    f"{key.replace('_', ' ').capitalize()}, price for the area",
                    "price_per_area",
                    f'{price} / {area} if unit_prices == "yes" else 0',
                )
                for key, (price, area) in FOR_AREA.items()
            ),
            *(
                _price(f"alternate_{n}_price", f"Optional extra {n}, price", f"alternate_{n}_cost")
                for n in ALTERNATES
            ),
        ),
    ),
)


SIDES = tuple(
    Cell(f"{side}_{name}", f"{side.capitalize()} {label}", kind, "", (Lookup("order", side, of),))
    for side in LINING
    for name, label, kind, of in (
        ("residue", "residue in a drum", "volume", "residue"),
        ("part_drums", "in part drums", "volume", "part_drum_volume"),
        ("price", "price", "price_per_volume", "volume_price"),
        ("drums", "drums opened", "drums", "drums_opened"),
    )
)
COST = tuple(
    ResultBlock(heading, cells, "Cost")
    for heading, cells in (*COST_BLOCKS, ("Iso and resin", SIDES))
)

ROUNDING = ResultBlock(
    "Of a round price, and of coats",
    (
        Cell("primed_area", "Area with a primer", "area", PRIMED, working=True),
        _coated("primed", "Area with a primer", "primed_area"),
        _coated("top_coated", "Area with a top coat", "top_coat_area"),
        Cell(
            "round_step",
            "Step of a round price, in whole amounts",
            "money",
            "round_money(round_to)",
            working=True,
        ),
    ),
    "Sums",
)

# What is measured against when the job is done.
ACCEPTED_VALUES = (
    *("film_thickness", "loss_share", "measured_area_total", "billed_area_total"),
    *("lining_volume", "drum_sets", "material_cost_total", "labour_cost", "cost_total"),
    *LINES,
    *("net_price", "tax", "total_price"),
    *(
        "film_volume_total",
        "film_volume_aimed",
        "profile_volume_total",
        "fixed_volume",
        "further_fixed",
    ),
    *("iso_price", "resin_price", "second_there", "second_mix_price"),
    *("rework_litres", "primers_line", "top_coat_line"),
)


def _was(name: str, label: str, of: str, kind: str = "money") -> Cell:
    return Cell(f"was_{name}", f"{label}, as accepted", kind, f"{of} - change_{name}")


def _change(name: str, label: str, of: str, kind: str = "money") -> Cell:
    return Cell(f"change_{name}", label, kind, f"{of} - accepted_{of}")


# What the job is now against what was accepted, as the customer is told it.
CHANGES = ResultBlock(
    "Change of what was accepted",
    (
        _was("area", "Billed area", "billed_area_total", "area"),
        _change("area", "Billed area, change", "billed_area_total", "area"),
        *(_change(line, f"Price of {words}, change", line) for line, words in zip(LINES, TAXED)),
        # Older revisions keep one line for all that is sprayed.
        *(
            Cell(
                f"change_{line}",
                f"{label}, change",
                "money",
                f"{line} - zero_if_blank(accepted_{line})",
            )
            for line, label in (("primers_line", "Primers"), ("top_coat_line", "Top coat"))
        ),
        Cell(
            "change_lining_line",
            "Lining less these, change",
            "money",
            "change_lining_price - change_primers_line - change_top_coat_line",
        ),
        Cell(
            "change_work",
            "Lining, preparation and masking, change",
            "money",
            "change_lining_price + change_preparation_price + change_masking_price",
            working=True,
        ),
        Cell(
            "change_discount",
            "Discount, change",
            "money",
            "change_net - change_work - change_site_price - change_minimum_top_up",
            guide="Below 0 where more is taken off.",
        ),
        _was("net", "Price before tax", "net_price"),
        _change("net", "Price before tax, change", "net_price"),
        _change("tax", "Tax, change", "tax"),
        _was("total", "Price with tax", "total_price"),
        _change("total", "Price with tax, change", "total_price"),
    ),
    "Sums",
)

TAX = ("tax_share",)
EACH = "for the area below, rounded"
SENDER = (
    Line("From", "contractor", needs=("contractor",)),
    Line("Address", "contractor_address", needs=("contractor_address",)),
    Line("Contact", "contractor_contact", needs=("contractor_contact",)),
    Line("Tax number", "tax_number", needs=("tax_number",)),
)


def _offers(
    heading: str, names: Sequence[str], words: str = "", asked: str = ""
) -> tuple[Line, ...]:
    """Lines of what could be had, in the words of the office and with a price, where it is asked.

    ``words`` and ``asked`` end the names of the cells that say so.
    """
    return (
        Line(heading, look="heading", any_of=tuple(f"{name}{asked}" for name in names)),
        *(
            Line(f"={name}{words}", f"{name}_price", needs=(f"{name}{asked}", f"{name}_price"))
            for name in names
        ),
    )


QUOTE = Page(
    "Quote",
    (
        Line("Quote", "quote_word", look="title"),
        Line("Number", "quote_number", needs=("quote_number",)),
        Line("Revision", "quote_revision"),
        *SENDER,
        Line("For", "customer"),
        Line("Address", "customer_address", needs=("customer_address",)),
        Line("Site", "site"),
        Line("Job", "job_title"),
        Line("Date", "quote_date"),
        Line("Holds until", "valid_until"),
        Line("What is offered", look="heading"),
        Line("Scope", "quote_scope", needs=("quote_scope",)),
        Line("Lining", "quote_system"),
        Line("Dry film, unless a surface below says another", "film_thickness"),
        Line("The film is meant as", "film_basis"),
        Line("Area, as listed below", "billed_area_total"),
        *(
            line
            for n in FURTHER
            for line in (
                Line(f"System {n}", f"system_{n}_words", needs=(f"system_{n}_words",)),
                Line("of the area", f"system_{n}_billed", needs=(f"system_{n}_words",)),
                Line("Dry film of it", f"system_{n}_film", needs=(f"system_{n}_words",)),
            )
        ),
        Line("Price", look="heading"),
        Line("Primer", "primers_line", unless_zero=True),
        Line("for the area that is primed, rounded", "primers_for_area", unless_zero=True),
        Line("Lining, supplied and sprayed", "lining_line"),
        Line(EACH, "lining_for_area", unless_zero=True),
        Line("Top coat", "top_coat_line", unless_zero=True),
        Line("for the area that has it, rounded", "top_coat_for_area", unless_zero=True),
        Line("Surface preparation", "preparation_price", unless_zero=True),
        Line(EACH, "preparation_for_area", unless_zero=True),
        Line("Masking", "masking_price", unless_zero=True),
        Line("Mobilisation, access, travel, disposal, other", "site_price", unless_zero=True),
        Line("Discount", "discount_share", needs=("discount_share",), unless_zero=True),
        Line("Less discount, rounding", "discount_off", any_of=("discount_share", "round_to")),
        Line("Minimum charge", "minimum_top_up", unless_zero=True),
        Line("Price before tax", "net_price", look="sum"),
        Line("Rate of tax", "tax_share", needs=TAX),
        Line("Tax", "tax", needs=TAX),
        Line("Price with tax", "total_price", look="total", needs=TAX),
        Line("Tax is added as the law asks.", lacks=TAX),
        Line("Material prices as expected on", "rise_day", needs=("rise_day", "price_rise")),
        *_offers(
            "Optional extras, not in the price, before tax",
            [f"alternate_{n}" for n in ALTERNATES],
        ),
        *_offers(
            "Instead of the price above, before tax",
            [f"option_{n}" for n in OPTION_NUMBERS],
            words="_words",
            asked="_offered",
        ),
        Line(
            "Not in the price", look="heading", any_of=tuple(f"exclusion_{n}" for n in EXCLUSIONS)
        ),
        *(Line(f"=exclusion_{n}") for n in EXCLUSIONS),
        Line("Terms", look="heading", any_of=("payment_terms", "warranty_words", "quote_notes")),
        Line("Payment", "payment_terms", needs=("payment_terms",)),
        Line("Warranty", "warranty_words", needs=("warranty_words",)),
        Line("Notes", "quote_notes", needs=("quote_notes",)),
        Line("Accepted: date, name, signature", look="sign"),
        Line(
            "The data sheet of the material, local code and licensed practice come before anything "
            "written here.",
            look="small",
        ),
        Line("Surfaces", look="heading"),
        Listing(
            "areas",
            ("surface", "description", "film_here", "billed_area"),
            16,
            "More surfaces than stand here: twodrum fill lists all.",
            ("description", "system"),
        ),
    ),
    letter=True,
)

CHANGE_ORDER = Page(
    "Change order",
    (
        Line("Change order", look="title"),
        Line("To quote", "accepted_number"),
        Line("Revision", "accepted_revision"),
        Line("Accepted on", "accepted_date"),
        Line("Date", "quote_date"),
        *SENDER,
        Line("For", "customer"),
        Line("Site", "site"),
        Line("Job", "job_title"),
        Line("What changes", look="heading"),
        Line("In words", "change_words", needs=("change_words",)),
        Line("Area that was accepted", "was_area"),
        Line("More area, or less below 0", "change_area"),
        Line("Price, more or less below 0", look="heading"),
        Line("Primer", "change_primers_line", any_of=("change_primers_line",)),
        Line("Lining, supplied and sprayed", "change_lining_line"),
        Line("Top coat", "change_top_coat_line", any_of=("change_top_coat_line",)),
        Line("Surface preparation", "change_preparation_price"),
        Line("Masking", "change_masking_price"),
        Line("Mobilisation, access, travel, disposal, other", "change_site_price"),
        Line("Discount", "change_discount"),
        Line("Minimum charge", "change_minimum_top_up"),
        Line("Change before tax", "change_net", look="sum"),
        Line("Rate of tax", "tax_share", needs=TAX),
        Line("Tax of the change", "change_tax"),
        Line("Change with tax", "change_total", look="total"),
        Line("Price before tax that was accepted", "was_net"),
        Line("Price before tax with the change", "net_price"),
        Line("Price with tax that was accepted", "was_total"),
        Line("Price with tax with the change", "total_price"),
        Line("Accepted: date, name, signature", look="sign"),
        Line(
            "The data sheet of the material, local code and licensed practice come before anything "
            "written here.",
            look="small",
        ),
    ),
    letter=True,
)

RECONCILE = (
    ResultBlock(
        "Against the accepted quote",
        (
            Cell(
                "area_over_quote",
                "Billed area above the quoted one",
                "area",
                "billed_area_total - accepted_billed_area_total",
                guide="Surfaces that were added or left out since.",
            ),
            Cell(
                "volume_over_quote",
                "Litres used above the quoted ones",
                "volume",
                "used_volume - accepted_lining_volume",
                guide="As drawn; below 0 where less was used.",
            ),
            Cell(
                "quoted_per_area",
                "Quoted for each billed area",
                "volume_per_area",
                "accepted_lining_volume / accepted_billed_area_total",
            ),
            Cell(
                "use_over_quote",
                "Use for each area above the quoted one",
                "share",
                "used_per_area / quoted_per_area - 1",
                guide="Over-build, loss and mix together; what part each has is told below.",
            ),
            Cell(
                "hours_over_plan",
                "Hours worked above the labour time",
                "time",
                "hours_worked - labour_time",
                guide="As that stands now; below 0 where less was worked.",
            ),
            Cell(
                "cost_over_quote",
                "Cost as it stands, above the quoted one",
                "money",
                "cost_total - accepted_cost_total",
                guide="From prices, areas and litres as they are typed now, not from bills.",
            ),
        ),
        "Reconcile",
    ),
)

MISSING = Study(
    "missing",
    "What is missing, and what it says",
    missing.READS,
    (
        Field("missing_what", "What", "text"),
        Field("missing_words", "In words", "text"),
    ),
    missing.CAPACITY,
    missing.missing,
    missing.SOURCE,
    "Reconcile",
)
