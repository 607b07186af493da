"""Worksheet functions of labour, cost and price."""

from __future__ import annotations

from ..core import cause_split, cost, estimates, labour, money, rounding, variances
from .declaration import Function, arguments

CATEGORY = "Money and time"
ROUNDED = "money_decimals:decimals"
WHOLE_DECIMALS = "{money_decimals}=INT({money_decimals})"

FUNCTIONS: tuple[Function, ...] = (
    Function(
        "TD_SPRAYING_TIME",
        CATEGORY,
        labour.spraying_time,
        arguments("volume:volume pump_output:volume_flow spraying_share:share"),
        "time",
        "{volume}/({pump_output}*{spraying_share})",
        example=(("1000 L", "4 L/min", "50 %"), "8.33333333333333 h"),
    ),
    Function(
        "TD_WORKING_TIME",
        CATEGORY,
        labour.working_time,
        arguments("spraying_time:time preparation_time:time"),
        "time",
        "{spraying_time}+{preparation_time}",
        example=(("1 h", "30 min"), "1.5 h"),
    ),
    Function(
        "TD_LABOUR_TIME",
        CATEGORY,
        labour.labour_time,
        arguments("working_time:time crew_size:people"),
        "time",
        "{working_time}*{crew_size}",
        example=(("1 h", "3"), "3 h"),
    ),
    Function(
        "TD_WORKING_DAYS",
        CATEGORY,
        labour.working_days,
        arguments("working_time:time day_length:time ceiling_guard:factor"),
        "days",
        "MAX(0,-INT({ceiling_guard}-{working_time}/{day_length}))",
        example=(("10 h", "8 h", "1e-9"), "2 days"),
    ),
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
        "TD_ROUND_HALF_EVEN",
        CATEGORY,
        rounding.round_half_even,
        arguments(f"amount:money {ROUNDED}"),
        "money",
        example=(("2.665", "2"), "2.66 money"),
    ),
    Function(
        "TD_ROUND_DOWN",
        CATEGORY,
        rounding.round_down,
        arguments(f"amount:money {ROUNDED}"),
        "money",
        "ROUNDDOWN({amount},{money_decimals})",
        guards=(WHOLE_DECIMALS,),
        example=(("2.679", "2"), "2.67 money"),
    ),
    Function(
        "TD_LABOUR_AMOUNT",
        CATEGORY,
        cost.labour_amount,
        arguments(f"labour_time:time labour_rate:price_per_time {ROUNDED}"),
        "money",
        "ROUND({labour_time}*{labour_rate},{money_decimals})",
        guards=(WHOLE_DECIMALS,),
        example=(("10 h", "42 per h", "2"), "420 money"),
    ),
    Function(
        "TD_MATERIAL_AMOUNT",
        CATEGORY,
        cost.material_amount,
        arguments(
            "volume:volume drum_count:drums drum_volume:volume volume_price:price_per_volume"
            f" pricing_basis:pricing_basis {ROUNDED}"
        ),
        "money",
        "ROUND(CHOOSE(MATCH({pricing_basis},pricing_basis_list,0),{volume},"
        "{drum_count}*{drum_volume})*{volume_price},{money_decimals})",
        # A refused volume refuses the amount even where it is priced by drums, and the other way.
        guards=("ISNUMBER({volume}+{drum_count})", WHOLE_DECIMALS),
        example=(("500 L", "3", "205 L", "9 per L", "whole drums", "2"), "5535 money"),
    ),
    Function(
        "TD_TOTAL_AMOUNT",
        CATEGORY,
        cost.total_amount,
        arguments("material_cost:money labour_cost:money other_cost:money"),
        "money",
        "{material_cost}+{labour_cost}+{other_cost}",
        example=(("10.10", "5.05", "0"), "15.15 money"),
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
        "TD_PRICE_WITH_TAX",
        CATEGORY,
        money.price_with_tax,
        arguments("net_price:money tax:money"),
        "money",
        "{net_price}+{tax}",
        example=(("3.39", "0.68"), "4.07 money"),
    ),
    Function(
        "TD_PRICE_PER_AREA",
        CATEGORY,
        money.price_per_area,
        arguments("net_price:money area:area"),
        "price_per_area",
        "{net_price}/{area}",
        example=(("1200", "48 m²"), "25 per m²"),
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
        "TD_TAX_BY_LINES",
        CATEGORY,
        money.tax_by_lines,
        arguments(f"net_lines:money* tax_share:share {ROUNDED}"),
        "money",
        example=(
            (
                "1.13 1.13 1.13",
                "20 %",
                "2",
            ),
            "0.69 money",
        ),
    ),
    Function(
        "TD_MATERIAL_VARIANCES",
        CATEGORY,
        variances.material_variances,
        arguments(
            "standard_quantities:number* standard_prices:number* standard_output:number"
            " actual_quantities:number* actual_prices:number* actual_output:number"
        ),
        "",
        example=(
            (
                "35 65",
                "25 36",
                "95",
                "125 275",
                "27 34",
                "365",
            ),
            (
                "300 money; -165 money; -507.631578947368 money; -672.631578947368 money;"
                " -372.631578947368 money"
            ),
        ),
        parts=arguments("price:money mix:money yield_:money usage:money total:money"),
    ),
    Function(
        "TD_SPLIT_AMOUNT",
        CATEGORY,
        variances.split_amount,
        arguments(f"amount:money shares:number* {ROUNDED}"),
        "money",
        example=(
            (
                "100",
                "1 1 1",
                "2",
            ),
            "33.34 money; 33.33 money; 33.33 money",
        ),
        listed=True,
        whole=True,
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
        "TD_LOG_MEAN_SPLIT",
        CATEGORY,
        cause_split.log_mean_split,
        arguments("before:number* after:number*"),
        "number",
        example=(
            (
                "10 50",
                "12 70",
            ),
            "119.487415032233 –; 220.512584967767 –",
        ),
        listed=True,
        whole=True,
    ),
    Function(
        "TD_SUM_QUANTILE",
        CATEGORY,
        estimates.sum_quantile,
        arguments("means:number* deviations:number* correlation:factor probability:share"),
        "number",
        example=(
            (
                "10500 4000 2500",
                "1166.667 300 400",
                "0",
                "80 %",
            ),
            "18068.2663171854 –",
        ),
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
