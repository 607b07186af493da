"""Worksheet functions of statistics."""

from __future__ import annotations

from ..core import comparison, control, quantiles, reconcile, trend
from .declaration import Function, arguments

CATEGORY = "Statistics"

FUNCTIONS: tuple[Function, ...] = (
    Function(
        "TD_T_PROBABILITY",
        CATEGORY,
        quantiles.t_probability,
        arguments("value:number degrees_of_freedom:number"),
        "share",
        example=(("2.100922", "18"), "97.50000 %"),
    ),
    Function(
        "TD_T_QUANTILE",
        CATEGORY,
        quantiles.t_quantile,
        arguments("probability:share degrees_of_freedom:number"),
        "number",
        example=(("97.5 %", "18"), "2.100922 –"),
    ),
    Function(
        "TD_PREDICTION_LIMIT_FACTOR",
        CATEGORY,
        quantiles.prediction_limit_factor,
        arguments("count:number probability:share"),
        "number",
        example=(("20", "99.73 %"), "3.532329 –"),
    ),
    Function(
        "TD_CHI_SQUARE_TAIL",
        CATEGORY,
        reconcile.chi_square_tail,
        arguments("value:number degrees_of_freedom:number"),
        "share",
        example=(
            (
                "5.991465",
                "2",
            ),
            "5.00000 %",
        ),
    ),
    Function(
        "TD_SAMPLE_DEVIATION",
        CATEGORY,
        comparison.sample_deviation,
        arguments("values:number*"),
        "number",
        example=(("5.1 4.7 5.6 4.9 5.2",), "0.339116499156263 –"),
    ),
    Function(
        "TD_DIFFERENCE_OF_MEANS",
        CATEGORY,
        comparison.difference_of_means,
        arguments("values:number* others:number*"),
        "",
        example=(
            (
                "27.1 22 20.8 23.4",
                "17 17.9 16.9 20.1",
            ),
            "5.35 –; 3.44059154370312 –; 4.63309463607506 –; 2.08032660794387 %",
        ),
        parts=arguments(
            "difference:number statistic:number degrees_of_freedom:number probability:share"
        ),
        pairs=(("values",), ("others",)),
    ),
    Function(
        "TD_WEIGHTED_MEANS",
        CATEGORY,
        control.weighted_means,
        arguments("values:number* start:number weight:factor"),
        "number",
        example=(
            (
                "52 47 53",
                "50",
                "0.3",
            ),
            "50.6 –; 49.52 –; 50.564 –",
        ),
        listed=True,
        whole=True,
    ),
    Function(
        "TD_WEIGHTED_MEAN_REACH",
        CATEGORY,
        control.weighted_mean_reach,
        arguments("standard_deviation:number weight:factor width:factor count:number?"),
        "number",
        example=(
            (
                "2.0539",
                "0.3",
                "3",
                "5",
            ),
            "2.55161146007396 –",
        ),
    ),
    Function(
        "TD_CUMULATIVE_SUMS",
        CATEGORY,
        control.cumulative_sums,
        arguments("values:number* target:number slack:number"),
        "",
        example=(
            (
                "102 94.8 98.3",
                "99",
                "1",
            ),
            "2 –; 0 –; 0 –; 3.2 –; 0 –; 2.90000000000001 –",
        ),
        parts=arguments("upper:number lower:number"),
        listed=True,
        whole=True,
    ),
    Function(
        "TD_ROBUST_SLOPE",
        CATEGORY,
        trend.robust_slope,
        arguments("times:number* values:number*"),
        "number",
        example=(
            (
                "0 1 2 3",
                "0 1 9 3",
            ),
            "1 –",
        ),
    ),
    Function(
        "TD_TREND_PROBABILITY",
        CATEGORY,
        trend.trend_probability,
        arguments("times:number* values:number*"),
        "share",
        example=(
            (
                "0 1 2 3 4 5",
                "3 5 4 9 8 10",
            ),
            "5.55555555555556 %",
        ),
    ),
)
