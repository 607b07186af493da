"""Worksheet functions of statistics."""

from __future__ import annotations

from ..core import (
    comparison,
    control,
    estimates,
    quantiles,
    reconcile,
    regression,
    run_lengths,
    run_rules,
    trend,
)
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
    Function(
        "TD_THREE_POINT_QUANTILE",
        CATEGORY,
        estimates.three_point_quantile,
        arguments("least:number likeliest:number most:number probability:share"),
        "number",
        example=(
            (
                "8",
                "10",
                "15",
                "80 %",
            ),
            "11.6258796407529 –",
        ),
    ),
    Function(
        "TD_RANGE_DEVIATION",
        CATEGORY,
        estimates.range_deviation,
        arguments("least:number most:number"),
        "number",
        example=(
            (
                "8",
                "15",
            ),
            "1.16666666666667 –",
        ),
    ),
    Function(
        "TD_TRIANGULAR_DEVIATION",
        CATEGORY,
        estimates.triangular_deviation,
        arguments("least:number likeliest:number most:number"),
        "number",
        example=(
            (
                "8",
                "10",
                "15",
            ),
            "1.47196014438797 –",
        ),
    ),
    Function(
        "TD_TOLERANCE_FACTOR",
        CATEGORY,
        quantiles.tolerance_factor,
        arguments("count:number share:share confidence:share"),
        "number",
        example=(
            (
                "10",
                "95 %",
                "95 %",
            ),
            "2.91096341307822 –",
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
        "TD_LOWEST_MEAN",
        CATEGORY,
        comparison.lowest_mean,
        arguments("values:number* probability:share"),
        "number",
        example=(
            (
                "5.1 4.7 5.6 4.9 5.2",
                "95 %",
            ),
            "4.77668942706967 –",
        ),
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
        "TD_EFFECTIVE_READING_COUNT",
        CATEGORY,
        comparison.effective_reading_count,
        arguments("count:number autocorrelation:factor"),
        "number",
        example=(
            (
                "20",
                "0.5",
            ),
            "6.66666666666667 –",
        ),
    ),
    Function(
        "TD_STRAIGHT_LINE",
        CATEGORY,
        regression.straight_line,
        arguments("places:number* values:number*"),
        "",
        example=(
            (
                "0 1 2 3",
                "1 3.1 4.9 7",
            ),
            (
                "1.03 –; 0.0793725393319377 –; 1.98 –; 0.0424264068711928 –; 0.0948683298050513 –;"
                " 99.9082568807339 %; 2 –"
            ),
        ),
        parts=arguments(
            "intercept:number intercept_error:number slope:number slope_error:number"
            " scatter:number determination:share degrees_of_freedom:number"
        ),
    ),
    Function(
        "TD_MEAN_MOVING_RANGE",
        CATEGORY,
        control.mean_moving_range,
        arguments("values:number*"),
        "number",
        example=(("49.6 47.6 49.9 51.3 47.8",), "2.3 –"),
    ),
    Function(
        "TD_INDIVIDUALS_LIMITS",
        CATEGORY,
        control.individuals_limits,
        arguments("values:number* width:factor?"),
        "",
        example=(
            (
                "49.6 47.6 49.9 51.3 47.8",
                "3",
            ),
            "43.1229787234043 –; 55.3570212765957 –",
        ),
        parts=arguments("lower:number upper:number"),
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
        "TD_RUN_RULE_SIGNALS",
        CATEGORY,
        run_rules.run_rule_signals,
        arguments("values:number* centre:number standard_deviation:number"),
        "number",
        example=(
            (
                "0.1 2.3 0.4 2.2 -3.5",
                "0",
                "1",
            ),
            "0 –; 0 –; 0 –; 2 –; 1 –",
        ),
        listed=True,
        whole=True,
    ),
    Function(
        "TD_BASELINE_ADVICE",
        CATEGORY,
        run_rules.baseline_advice,
        arguments("count:number"),
        "text",
        example=(("20",), "few"),
    ),
    Function(
        "TD_FALSE_ALARM_PROBABILITY",
        CATEGORY,
        run_lengths.false_alarm_probability,
        arguments("width:factor count:number"),
        "share",
        example=(
            (
                "3",
                "40",
            ),
            "10.2496162999202 %",
        ),
    ),
    Function(
        "TD_INDIVIDUALS_RUN_LENGTH",
        CATEGORY,
        run_lengths.individuals_run_length,
        arguments("width:factor shift:number"),
        "number",
        example=(
            (
                "3",
                "1",
            ),
            "43.8946817185395 –",
        ),
    ),
    Function(
        "TD_WEIGHTED_MEAN_RUN_LENGTH",
        CATEGORY,
        run_lengths.weighted_mean_run_length,
        arguments("weight:factor width:factor shift:number"),
        "number",
        example=(
            (
                "0.3",
                "2.7",
                "1",
            ),
            "8.90172929952434 –",
        ),
    ),
    Function(
        "TD_CUMULATIVE_SUM_RUN_LENGTH",
        CATEGORY,
        run_lengths.cumulative_sum_run_length,
        arguments("slack:factor limit:factor shift:number"),
        "number",
        example=(
            (
                "0.5",
                "4",
                "1",
            ),
            "8.38313187049513 –",
        ),
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
        "TD_ROBUST_SLOPE_INTERVAL",
        CATEGORY,
        trend.robust_slope_interval,
        arguments("times:number* values:number* probability:share"),
        "",
        example=(
            (
                "0 1 2 3 4 5",
                "0 1 9 3 4 5",
                "95 %",
            ),
            "-2.5 –; 4.5 –",
        ),
        parts=arguments("lower:number upper:number"),
    ),
    Function(
        "TD_KENDALL_TAU",
        CATEGORY,
        trend.kendall_tau,
        arguments("times:number* values:number*"),
        "number",
        example=(
            (
                "0 1 2 3",
                "3 5 4 9",
            ),
            "0.666666666666667 –",
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
