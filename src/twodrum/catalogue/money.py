"""Worksheet functions of labour, cost and price."""

from __future__ import annotations

from ..core import cause_split, cost, estimates, money, rounding
from .declaration import Function, arguments

CATEGORY = "Money and time"
ROUNDED = "money_decimals:decimals"
WHOLE_DECIMALS = "{money_decimals}=INT({money_decimals})"

FUNCTIONS: tuple[Function, ...] = (
    Function(
        "TD_WORKSHEET_ROUND",
        CATEGORY,
        rounding.worksheet_round,
        arguments(f"amount:money {ROUNDED}"),
        "money",
        "ROUND({amount},{money_decimals})",
        guards=(WHOLE_DECIMALS,),
        example=(("2.675", "2"), "2.68 money"),
    ),
    Function(
        "TD_MARGIN_REACHED",
        CATEGORY,
        cost.margin_reached,
        arguments("net_price:money cost:money"),
        "share",
        "(1-{cost}/({net_price}+({net_price}=0)))*({net_price}<>0)",
        example=(("1500", "1200"), "20 %"),
    ),
    Function(
        "TD_PRICE_AT_MARGIN",
        CATEGORY,
        money.price_at_margin,
        arguments(f"cost:money margin_share:share {ROUNDED}"),
        "money",
        "ROUND({cost}/(1-{margin_share}),{money_decimals})",
        guards=(WHOLE_DECIMALS,),
        example=(("1000", "30 %", "2"), "1428.57 money"),
    ),
    Function(
        "TD_PRICE_AT_MARKUP",
        CATEGORY,
        money.price_at_markup,
        arguments(f"cost:money markup_share:share {ROUNDED}"),
        "money",
        "ROUND({cost}*(1+{markup_share}),{money_decimals})",
        guards=(WHOLE_DECIMALS,),
        example=(("2.30", "30 %", "2"), "2.99 money"),
    ),
    Function(
        "TD_MARGIN_OF_MARKUP",
        CATEGORY,
        money.margin_of_markup,
        arguments("markup_share:share"),
        "share",
        "{markup_share}/(1+{markup_share})",
        example=(("100 %",), "50 %"),
    ),
    Function(
        "TD_MARKUP_OF_MARGIN",
        CATEGORY,
        money.markup_of_margin,
        arguments("margin_share:share"),
        "share",
        "{margin_share}/(1-{margin_share})",
        example=(("30 %",), "42.8571428571429 %"),
    ),
    Function(
        "TD_ROUNDING_OFF",
        CATEGORY,
        money.rounding_off,
        arguments(f"amount:money step:money {ROUNDED} ceiling_guard:factor"),
        "money",
        "ROUND({amount}-INT({amount}/({step}+({step}=0))+{ceiling_guard})*{step},{money_decimals})"
        "*({step}<>0)*({step}<={amount})",
        guards=(WHOLE_DECIMALS,),
        example=(("1234.56", "50", "2", "1e-9"), "34.56 money"),
    ),
    Function(
        "TD_TAX_AMOUNT",
        CATEGORY,
        money.tax_amount,
        arguments(f"net_price:money tax_share:share {ROUNDED}"),
        "money",
        "ROUND({net_price}*{tax_share},{money_decimals})",
        guards=(WHOLE_DECIMALS,),
        example=(("3.39", "20 %", "2"), "0.68 money"),
    ),
    Function(
        "TD_TAX_INSIDE",
        CATEGORY,
        money.tax_inside,
        arguments(f"gross_price:money tax_share:share {ROUNDED}"),
        "money",
        "ROUND({gross_price}*{tax_share}/(1+{tax_share}),{money_decimals})",
        guards=(WHOLE_DECIMALS,),
        example=(("100", "20 %", "2"), "16.67 money"),
    ),
    Function(
        "TD_NET_INSIDE",
        CATEGORY,
        money.net_inside,
        arguments(f"gross_price:money tax_share:share {ROUNDED}"),
        "money",
        example=(
            (
                "100",
                "20 %",
                "2",
            ),
            "83.33 money",
        ),
    ),
    Function(
        "TD_PRODUCT_SPLIT",
        CATEGORY,
        cause_split.product_split,
        arguments("before:number* after:number*"),
        "number",
        example=(
            (
                "10 50",
                "12 70",
            ),
            "120 –; 220 –",
        ),
        listed=True,
        whole=True,
    ),
    Function(
        "TD_PERCENTILE_CONTINGENCY",
        CATEGORY,
        estimates.percentile_contingency,
        arguments("base:number quantile:number"),
        "share",
        example=(
            (
                "17000",
                "18068.27",
            ),
            "6.2839411764706 %",
        ),
    ),
)
