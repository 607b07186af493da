"""One call of a worksheet function: numbers, texts, ranges, blanks, errors, dates, reasons."""

import json
import math
from datetime import date, datetime, time, timedelta
from decimal import Decimal
from typing import Any

import pandas
import pint
import pytest

import twodrum
from tests.catalogue.test_functions import every_function
from twodrum.catalogue import FUNCTIONS, Function
from twodrum.cli import main
from twodrum.units import KINDS, from_si, parse
from twodrum.worksheet import call as calls
from twodrum.worksheet.call import BY_NAME, CallError, Refused, answer, in_unit, why
from twodrum.worksheet.cells import ErrorValue, default_unit, serial
from twodrum.worksheet.help import explained

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


@every_function
def test_an_array_gives_at_each_place_what_the_place_gives_alone(function: Function) -> None:
    given: list[Any] = [text or None for text in function.example[0]]
    single = [n for n, item in enumerate(function.arguments) if not item.series]
    if not single or function.parts or function.listed:
        return
    wide, item = single[0], function.arguments[single[0]]
    own = given[wide]
    if item.kind in KINDS:
        own = from_si(parse(own, item.kind), item.kind, default_unit(item.kind))
    places: list[Any] = [own, None, "no such thing", math.nan, True, 10**400, ErrorValue("#REF!")]
    if isinstance(own, (int, float)) and not isinstance(own, bool):
        places += [own * 1.001, own / 3, int(own) + 1, -own, 0, 1.5, f"{own:.3f}"]
    for last in ([], [None], ["SI"], [KINDS[function.kind].us if function.kind in KINDS else None]):
        full = [*given, *[None] * (len(function.arguments) - len(given)), *last]
        together = answer(
            function.name, [*full[:wide], [[one] for one in places], *full[wide + 1 :]]
        )
        alone = [answer(function.name, [*full[:wide], one, *full[wide + 1 :]]) for one in places]
        assert together == [row for rows in alone for row in rows]


def test_a_whole_number_goes_the_way_of_a_float(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(calls, "_answer", None)
    assert answer(DEW, [20, 1]) == answer(DEW, [20.0, 1.0])


def test_quantities_come_in_and_go_out_in_the_registry_of_their_maker() -> None:
    registry: Any = pint.UnitRegistry()
    quantity = registry.Quantity
    found = twodrum.call(DEW, quantity(68, "degF"), 0.7)
    assert found.units == registry.degC and type(found) is type(quantity(1, "m"))
    assert found.magnitude == pytest.approx(twodrum.call(DEW, 20, 0.7), rel=1e-12)
    assert twodrum.call(DEW, quantity(293.15, "kelvin"), quantity(70, "percent"), "°F").units == (
        registry.degF
    )
    drop = twodrum.call(DEW, quantity([20.0, 25.0], "degC"), 0.7)
    assert list(drop.magnitude) == [twodrum.call(DEW, one, 0.7) for one in (20.0, 25.0)]
    with pytest.raises(CallError, match="air temperature is '3 second'; a temp"):
        twodrum.call(DEW, quantity(3, "second"), 0.7)
    # What gives several values gives each in its own unit.
    texts = BY_NAME["TD_FIT_WARM_UP"].example[0]
    times = quantity([0.0, 10, 20, 30, 40, 50], "minute")
    (row,) = twodrum.call("TD_FIT_WARM_UP", *texts[:3], times, *texts[4:])
    assert row[0].units == registry.kW and row[0].magnitude == pytest.approx(5.51994369183758)
    assert row[4].check("[power] / [temperature]") and row[8].check("[temperature]")


def test_a_series_of_pandas_keeps_its_index() -> None:
    column = pandas.Series([20.0, 25.0], index=["morning", "noon"])
    found = twodrum.call(DEW, column, 0.7)
    assert isinstance(found, pandas.Series) and list(found.index) == ["morning", "noon"]
    assert list(found) == [twodrum.call(DEW, one, 0.7) for one in column]


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
        "TD_SAMPLE_DEVIATION: place 3: values is the error #N/A; mend that cell",
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
    rows = in_unit([[80.0], [None], [40.0]], "mil", "mm")
    assert rows[0][0] == pytest.approx(2.032) and rows[2][0] == pytest.approx(1.016)
    assert str(rows[1][0]) == "TD_CONVERT: value is blank; a number is wanted"
    assert str(in_unit("80", "mil", "mm")[0][0]) == "TD_CONVERT: value is '80'; a number is wanted"


def test_an_unknown_function_says_so() -> None:
    assert reasons("TD_SOUP", 1) == [
        "TD_SOUP: there is no such function; twodrum functions lists them"
    ]


@every_function
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
    for part in ("air_temperature: a number in °C", "WMO-No. 8", "gives 9.25517459898 °C"):
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


def test_the_unit_of_the_result_is_told_beside_the_other_reasons() -> None:
    assert reasons(DEW, "warm", 70, "bar") == [
        "TD_DEW_POINT: air temperature: 'warm' is not a number; a number is wanted",
        "TD_DEW_POINT: relative humidity: the share is 70; a share from 0 to 1 is wanted;"
        " write 70 % or 0.7",
        "TD_DEW_POINT: the unit of the result is 'bar'; a temperature is wanted: °C, °F, K",
    ]
    # A blank cell comes as 0 from a spreadsheet.
    assert twodrum.call(DEW, 20, 0.7, 0.0) == twodrum.call(DEW, 20, 0.7)


def test_a_text_without_its_only_unit_is_in_that_unit() -> None:
    assert twodrum.call("TD_NCO_CONTENT", "250.25", 2) == twodrum.call("TD_NCO_CONTENT", 250.25, 2)
    area = twodrum.call("TD_CABLE_VOLTAGE_DROP", 50, 50, "16", 0.95, "single phase")
    assert area == twodrum.call("TD_CABLE_VOLTAGE_DROP", 50, 50, 16, 0.95, "single phase")


def test_two_logs_of_one_height_do_not_mix() -> None:
    heating = ([0, 600, 1200, 1800, 2400, 3000], [13.9, 21.9, 29.2, 36.2, 44.1, 51.2])
    hours = [[seconds / 3600] for seconds in heating[0]]
    cooling = [[1.0], [4.0], [8.0], [None], [None], [None]]
    cooled = [[51], [38], [27], [None], [None], [None]]
    given = (411.707, 12, 14, hours, [[t] for t in heating[1]])
    padded = twodrum.call("TD_FIT_WARM_UP", *given, cooling, cooled)
    short = twodrum.call("TD_FIT_WARM_UP", *given, cooling[:3], cooled[:3])
    assert padded == short


def test_arrays_and_columns_of_other_packages_are_lists() -> None:
    numpy, pandas = pytest.importorskip("numpy"), pytest.importorskip("pandas")
    assert twodrum.call(DEW, numpy.array([20.0, 21.0]), 0.5)[0][0] == twodrum.call(DEW, 20, 0.5)
    assert twodrum.call(DEW, numpy.int64(20), numpy.float32(0.5)) == twodrum.call(DEW, 20, 0.5)
    column = pandas.Series([5.1, 4.7, 5.6])
    assert twodrum.call("TD_SAMPLE_DEVIATION", column) == twodrum.call(
        "TD_SAMPLE_DEVIATION", [5.1, 4.7, 5.6]
    )


def test_a_near_name_is_said_and_the_two_about_the_others_can_be_called() -> None:
    assert reasons("TD_DEWPOINT", 1) == [
        "TD_DEWPOINT: there is no such function; twodrum functions lists them;"
        " TD_DEW_POINT is near to it"
    ]
    assert twodrum.call("TD_CONVERT", 80, "mil", "mm") == pytest.approx(2.032)
    assert "nothing to mend" in twodrum.call("TD_WHY", DEW, 20, 0.7)


def test_many_reasons_end_somewhere() -> None:
    told = reasons("TD_SAMPLE_DEVIATION", [["x"] for _ in range(100)])
    assert len(told) == 13
    assert told[-1] == "and 88 more"


@pytest.mark.parametrize(
    ("words", "text"),
    [
        (["addin", "lotus"], "'lotus' is not one of: "),
        (["addin"], "host is missing"),
        (["functions", DEW, "20", "--jsn"], "not understood: --jsn"),
    ],
)
def test_command__what_it_did_not_understand_in_plain_words(
    words: list[str], text: str, capsys: pytest.CaptureFixture[str]
) -> None:
    with pytest.raises(SystemExit) as stopped:
        main(words)
    assert stopped.value.code == 2
    said = capsys.readouterr().err
    assert text in said
    assert "invalid" not in said and "error" not in said


def test_command__one_value_of_a_series_and_a_special(capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["functions", "TD_FILM_IS_ACCEPTED", "2.1", "2.0"]) == 0
    assert capsys.readouterr().out == "1\n"
    assert main(["functions", "TD_CONVERT", "80", "mil", "mm"]) == 0
    assert capsys.readouterr().out == "2.032\n"
    assert main(["functions", "TD_WHY"]) == 0
    assert "Says what to mend" in capsys.readouterr().out


def test_command__build_never_replaces_a_file(
    tmp_path: Any, capsys: pytest.CaptureFixture[str]
) -> None:
    kept = tmp_path / "note.oxt"
    kept.write_text("mine")
    for target, text in (
        (kept, "it is there already; a new name is wanted"),
        (tmp_path, "a folder; the name of a file is wanted"),
        (tmp_path / "no" / "x.oxt", "there is no folder"),
    ):
        assert main(["addin", "calc", "--build", str(target)]) == 2
        assert text in capsys.readouterr().err
    assert kept.read_text() == "mine"
    assert [path.name for path in tmp_path.iterdir()] == ["note.oxt"]


def test_a_range_where_a_function_gives_several_values_is_refused() -> None:
    assert reasons("TD_WEIGHTED_MEANS", [[1, 2, 4]], [[2, 3]], 0.3) == [
        "TD_WEIGHTED_MEANS: start is a range; one value is wanted where a function gives"
        " several; give one cell and fill the formula down"
    ]


@pytest.mark.parametrize(
    ("name", "given", "text"),
    [
        # Series of unlike size or shape never pair, whatever blanks would leave.
        (
            "TD_COMBINED",
            ([412.0, None, 398.0], [6.0, 5.0]),
            "the ranges differ: values has 3 places, uncertainties has 2 places;"
            " ranges of one size are wanted",
        ),
        (
            "TD_COMBINED",
            ([[1, 2], [3, 4], [5, 6]], [[0.1, 0.2, 0.3], [0.4, 0.5, 0.6]]),
            "the ranges differ: values has 3 rows of 2, uncertainties has 2 rows of 3;"
            " ranges of one size are wanted",
        ),
        (
            DEW,
            ([[20.0, 21.0], [25.0]], 0.5),
            "a range has rows of different lengths; rows of one length are wanted",
        ),
        (DEW, (10**400, 0.7), "air temperature is inf; a finite number is wanted"),
        (DEW, (Decimal("sNaN"), 0.7), "air temperature is inf; a finite number is wanted"),
        (DEW, ("E5", 0.7), "air temperature: 'E5' is not a number; a number is wanted"),
        # A thousand million lies between a small and a large letter.
        (
            "TD_HOSE_ENERGY",
            ("5 mPa", "4 L", "1.6 GPa"),
            "pressure: '5 mPa' has the unit 'mPa'; MPa is wanted, with the letter M",
        ),
        (
            "TD_FROST_POINT",
            (10.0, 0.6),
            "relative humidity is 0.6; it must be at most 0.49852",
        ),
        (
            "TD_FILM_IS_ACCEPTED",
            (["80 mil", "-5 µm"], 2.0),
            "readings at place 2 is -5 µm; it must be at least 0 µm",
        ),
        ("TD_LOWEST_SPOT", (8.0, True), "level is TRUE; it must be one of: 1, 2, 3, 4, 5"),
    ],
)
def test_what_could_pass_for_something_else_is_refused(
    name: str, given: tuple[Any, ...], text: str
) -> None:
    assert reasons(name, *given) == [f"{name}: {text}"]
