"""Worksheet functions of statistics."""

from __future__ import annotations

from ..core import quantiles
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
)
