"""Worksheet functions of statistics."""

from __future__ import annotations

from ..core import estimates, quantiles, reconcile
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
        "TD_THREE_POINT_MEAN",
        CATEGORY,
        estimates.three_point_mean,
        arguments("least:number likeliest:number most:number"),
        "number",
        example=(
            (
                "8",
                "10",
                "15",
            ),
            "10.5 –",
        ),
    ),
    Function(
        "TD_THREE_POINT_DEVIATION",
        CATEGORY,
        estimates.three_point_deviation,
        arguments("least:number likeliest:number most:number"),
        "number",
        example=(
            (
                "8",
                "10",
                "15",
            ),
            "1.267731 –",
        ),
    ),
    Function(
        "TD_TRIANGULAR_MEAN",
        CATEGORY,
        estimates.triangular_mean,
        arguments("least:number likeliest:number most:number"),
        "number",
        example=(
            (
                "8",
                "10",
                "15",
            ),
            "11 –",
        ),
    ),
    Function(
        "TD_TRIANGULAR_QUANTILE",
        CATEGORY,
        estimates.triangular_quantile,
        arguments("least:number likeliest:number most:number probability:share"),
        "number",
        example=(
            (
                "8",
                "10",
                "15",
                "80 %",
            ),
            "12.354249 –",
        ),
    ),
    Function(
        "TD_NORMALISED_ERROR",
        CATEGORY,
        reconcile.normalised_error,
        arguments("value:number uncertainty:number other_value:number other_uncertainty:number"),
        "number",
        example=(
            (
                "412",
                "12",
                "398",
                "10",
            ),
            "0.896258 –",
        ),
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
)
