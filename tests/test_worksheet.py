"""One call of a worksheet function: numbers, texts, ranges, blanks, errors, dates, reasons."""

import json
import math
from datetime import date, datetime, time, timedelta
from decimal import Decimal
from typing import Any

import pytest

import twodrum
from twodrum.catalogue import FUNCTIONS
from twodrum.cli import main
from twodrum.worksheet import BY_NAME, CallError, ErrorValue, Refused, answer, in_unit, serial, why
from twodrum.worksheet_help import explained

DEW = "TD_DEW_POINT"


def reasons(name: str, *given: Any) -> list[str]:
    return why(name, given).split("\n")


def test_numbers_are_in_default_units_and_texts_bring_their_own() -> None:
    plain = twodrum.call(DEW, 20, 0.7)
    # WMO-No. 8, Annex 4.B: 14.36 °C.
    assert plain == pytest.approx(14.36, abs=0.005)
    assert twodrum.call(DEW, "20 °C", "70 %") == pytest.approx(plain, abs=1e-9)
    assert twodrum.call(DEW, "68 degF", "70%") == pytest.approx(plain, abs=1e-9)
    assert twodrum.call("td_dew_point", Decimal("20"), 0.7) == plain


def test_the_last_argument_picks_the_unit_of_the_result() -> None:
    found = twodrum.call(DEW, 20, 0.7, "°F")
    assert found == pytest.approx(twodrum.call(DEW, 20, 0.7) * 1.8 + 32)
    assert twodrum.call(DEW, 20, 0.7, "") == twodrum.call(DEW, 20, 0.7)
    # Of several values each that has such a unit takes it.
    texts = BY_NAME["TD_FIT_WARM_UP"].example[0]
    watts = twodrum.call("TD_FIT_WARM_UP", *texts, "W")[0]
    kilowatts = twodrum.call("TD_FIT_WARM_UP", *texts)[0]
    assert watts[0] == pytest.approx(1000 * kilowatts[0])
    assert watts[4] == kilowatts[4]


def test_a_short_way_and_the_long_way_give_the_same_bits() -> None:
    for humidity in (0.1, 0.333, 0.7, 1.0):
        short = answer(DEW, [20.0, humidity])
        assert answer(DEW, [20, humidity]) == short
        assert answer(DEW, [20.0, humidity, "°C"]) == short


def test_ranges_stretch_like_a_spreadsheets() -> None:
    rows = twodrum.call(DEW, [[20], [25]], [[0.5, 0.6, 0.7]])
    assert [len(row) for row in rows] == [3, 3]
    assert rows[1][2] == twodrum.call(DEW, 25, 0.7)
    found = answer(DEW, [[[20], [25], [30]], [[0.5], [0.6]]])
    assert isinstance(found[2][0], Refused)
    assert "beyond one of the ranges" in str(found[2][0])
    # A flat list is a row.
    assert twodrum.call(DEW, [20, 25], 0.7)[0] == [
        row[0] for row in (twodrum.call(DEW, [[20], [25]], 0.7))
    ]


def test_one_bad_cell_of_a_range_refuses_only_its_place() -> None:
    found = answer(DEW, [[[20], ["warm"], [None], [ErrorValue("#REF!")], [99]], 0.7])
    assert isinstance(found[0][0], float)
    assert [str(row[0]) for row in found[1:]] == [
        "TD_DEW_POINT: air temperature: 'warm' is not a number; a number is wanted",
        "TD_DEW_POINT: air temperature is blank; it is needed",
        "TD_DEW_POINT: air temperature is the error #REF!; a value is wanted; mend that cell",
        "TD_DEW_POINT: air temperature is 99 °C; it must be at most 60 °C",
    ]


@pytest.mark.parametrize(
    ("given", "text"),
    [
        (
            (20, 70),
            "relative humidity: the share is 70; a share from 0 to 1 is wanted; write 70 % or 0.7",
        ),
        (
            ("20", 0.7),
            "air temperature: '20' has no unit; a temperature is wanted: °C, °F, K;"
            " write 20 °C or 20 °F",
        ),
        (
            ("20 bar", 0.7),
            "air temperature: '20 bar' has the unit 'bar'; a temperature is wanted: °C, °F, K",
        ),
        ((True, 0.7), "air temperature is TRUE; a number in °C is wanted, or a text with its unit"),
        (
            (20, "0,7"),
            "relative humidity: '0,7' has a decimal comma; a decimal point is wanted; write 0.7",
        ),
        ((math.nan, 0.7), "air temperature is nan; a finite number is wanted"),
        ((20, 0.7, "bar"), "the unit of the result is 'bar'; a temperature is wanted: °C, °F, K"),
        ((20, 0.7, 5), "the unit of the result is 5; a text is wanted"),
        ((20, 0.7, "°C", 1), "4 arguments were given; 2 and the unit of the result are wanted"),
        (("150 °F", 0.7), "air temperature is 150 °F; it must be at most 140 °F"),
    ],
)
def test_reason__found_expected_mend(given: tuple[Any, ...], text: str) -> None:
    assert reasons(DEW, *given) == [f"TD_DEW_POINT: {text}"]
    with pytest.raises(CallError) as refused:
        twodrum.call(DEW, *given)
    assert str(refused.value) == f"TD_DEW_POINT: {text}"


def test_every_wrong_argument_is_told_at_once() -> None:
    assert reasons("TD_COATING_VOLUME", None, "thick", 120) == [
        "TD_COATING_VOLUME: area is blank; it is needed",
        "TD_COATING_VOLUME: film thickness: 'thick' is not a number; a number is wanted",
        "TD_COATING_VOLUME: volume solids: the share is 120; a share from 0 to 1 is wanted;"
        " write 120 % or 1.2",
    ]


def test_words_and_yes_or_no() -> None:
    assert twodrum.call("TD_OVERLAP_UNEVENNESS", " Parabolic ", 0.5) == pytest.approx(
        0.111803, abs=1e-6
    )
    assert reasons("TD_OVERLAP_UNEVENNESS", "round", 0.5) == [
        "TD_OVERLAP_UNEVENNESS: fan is 'round'; it must be one of:"
        " triangular, parabolic, uniform, elliptical, bell"
    ]
    # A level that a cell holds as a number.
    assert twodrum.call("TD_LOWEST_SPOT", 1, 3) == pytest.approx(0.8)
    readings = [[1.9], [2.2], [2.2], [2.2], [2.2]]
    for strict, verdict in ((True, 0), (False, 1), (0, 1), ("true", 0)):
        assert twodrum.call("TD_FILM_IS_ACCEPTED", readings, 2, None, strict) == verdict
    assert reasons("TD_FILM_IS_ACCEPTED", readings, 2, None, "maybe") == [
        "TD_FILM_IS_ACCEPTED: strict is 'maybe'; TRUE or FALSE is wanted"
    ]


def test_a_series_passes_over_blanks_and_tells_each_bad_place() -> None:
    values = [[5.1], [None], [4.7], [""], [5.6]]
    assert twodrum.call("TD_SAMPLE_DEVIATION", values) == twodrum.call(
        "TD_SAMPLE_DEVIATION", [[5.1, 4.7, 5.6]]
    )
    assert twodrum.call("TD_SAMPLE_DEVIATION", "5.1 4.7 5.6") == twodrum.call(
        "TD_SAMPLE_DEVIATION", values
    )
    assert reasons("TD_SAMPLE_DEVIATION", [[5.1], ["x"], [ErrorValue("#N/A")]]) == [
        "TD_SAMPLE_DEVIATION: place 2: values: 'x' is not a number; a number is wanted",
        "place 3: values is the error #N/A; mend that cell",
    ]
    assert reasons("TD_SAMPLE_DEVIATION", [[5.1], [None]]) == [
        "TD_SAMPLE_DEVIATION: number of values is 1; it must be at least 2"
    ]


def test_series_that_belong_together_stay_side_by_side() -> None:
    times, values = [[0], [1], [None], [3]], [[1], [3], [None], [7]]
    assert twodrum.call("TD_ROBUST_SLOPE", times, values) == pytest.approx(2)
    values[1] = [None]
    assert reasons("TD_ROBUST_SLOPE", times, values) == [
        "TD_ROBUST_SLOPE: values is blank at place 2; a value is wanted beside the others"
    ]
    # Two samples of the same length are no pairs.
    one, other = [[5.0], [None], [5.2], [5.1]], [[6.0], [6.1], [6.3], [None]]
    assert twodrum.call("TD_DIFFERENCE_OF_MEANS", one, other)[0][0] == pytest.approx(
        -1.0333, abs=1e-4
    )


def test_a_range_where_a_function_gives_several_values_is_refused() -> None:
    assert reasons("TD_INDIVIDUALS_LIMITS", [[1, 2, 4]], [[2, 3]]) == [
        "TD_INDIVIDUALS_LIMITS: width is a range; one value is wanted where a function gives"
        " several; give one cell and fill the formula down"
    ]


def test_dates_and_times_are_numbers_of_days() -> None:
    assert serial(datetime(2026, 1, 1, 12)) == 46023.5
    assert serial(date(2026, 1, 1)) == 46023
    assert serial(time(6)) == 0.25
    assert serial(timedelta(hours=36)) == 1.5
    days = [[datetime(2026, 1, 1)], [datetime(2026, 1, 2)], [datetime(2026, 1, 3)]]
    assert twodrum.call("TD_ROBUST_SLOPE", days, [[1], [3], [5]]) == pytest.approx(2)


def test_convert() -> None:
    assert in_unit(80, "mil", "mm")[0][0] == pytest.approx(2.032, rel=1e-12)
    assert in_unit(2500, "psi", "bar")[0][0] == pytest.approx(172.3689, rel=1e-6)
    assert in_unit(65.0, "degC", "°F")[0][0] == pytest.approx(149)
    assert str(in_unit(80, "mil", "bar")[0][0]) == (
        "TD_CONVERT: wanted unit is 'bar'; a thickness is wanted: mm, µm, mil, in"
    )
    assert str(in_unit(80, "furlong", "m")[0][0]) == (
        "TD_CONVERT: unit is 'furlong'; a unit is wanted, such as mm or psi"
    )
    assert str(in_unit("80", "mil", "mm")[0][0]) == "TD_CONVERT: value is '80'; a number is wanted"


def test_an_unknown_function_says_so() -> None:
    assert reasons("TD_SOUP", 1) == [
        "TD_SOUP: there is no such function; twodrum functions lists them"
    ]


@pytest.mark.parametrize("function", FUNCTIONS, ids=lambda function: function.name)
def test_every_example_gives_its_value_as_a_cell_would_call_it(function: Any) -> None:
    texts, _ = function.example
    rows = answer(function.name, [text or None for text in texts])
    assert not any(isinstance(cell, Refused) for row in rows for cell in row)
    assert explained(function).startswith(f"{function.name}(")


def test_command__list_explain_evaluate(capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["functions"]) == 0
    listed = capsys.readouterr().out
    assert all(f"  {function.name}  " in listed for function in FUNCTIONS)
    assert main(["functions", "td_dew_point"]) == 0
    text = capsys.readouterr().out
    for part in ("air_temperature: a number in °C", "WMO-No. 8", "gives 9.25517459898126 °C"):
        assert part in text
    assert main(["functions", DEW, "-5", "70 %"]) == 0
    assert capsys.readouterr().out == "-9.62925971327 °C\n"
    assert main(["functions", DEW, "99", "70 %"]) == 1
    assert capsys.readouterr().out == (
        "TD_DEW_POINT: air temperature is 99 °C; it must be at most 60 °C\n"
    )
    assert main(["functions", "TD_SOUP"]) == 2
    assert "there is no such function" in capsys.readouterr().err


def test_command__json(capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["functions", "--json"]) == 0
    catalogue = json.loads(capsys.readouterr().out)
    assert [entry["name"] for entry in catalogue] == [function.name for function in FUNCTIONS]
    assert main(["functions", DEW, "20", "70 %", "--json"]) == 0
    found = json.loads(capsys.readouterr().out)
    assert found["rows"] == [[twodrum.call(DEW, 20, "70 %")]]
    assert found["units"] == ["°C"]
    assert main(["functions", "--json", DEW, "99", "0.7"]) == 1
    found = json.loads(capsys.readouterr().out)
    assert found["rows"] == [[None]]
    assert found["problems"]
