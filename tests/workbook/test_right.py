"""Wrong numbers found by trying, each kept mended: a test that failed before."""

from pathlib import Path
from typing import Any

import openpyxl
import pytest
from openpyxl.formula.translate import Translator

from tests.libreoffice.calc import recalculate
from tests.workbook.day import day, told
from tests.workbook.recalculated import live_cells_that_change
from tests.workbook.typing import address, small_job, typed
from twodrum.books.parts import DAY, PARTS, PROOF, QUOTE
from twodrum.books.whole import JOB
from twodrum.build.styles import page_format
from twodrum.cli import main
from twodrum.commands.fill import check_file, fill_file
from twodrum.commands.new import new_job
from twodrum.core.heating import warm_up_temperature
from twodrum.core.inputs import InputError
from twodrum.core.ratio import detectable_difference
from twodrum.plainly import plain
from twodrum.units import UNIT_TABLE, UnitError, bare_share
from twodrum.workbook.version import know_former
from twodrum.xlsx.book import Book


def said(problems: list[Any]) -> str:
    return "\n".join(str(problem) for problem in problems)


@pytest.mark.parametrize("system", ["metric", "us"])
def test_units_of_empty_tables_are_cached_as_they_are_picked(system: str, tmp_path: Path) -> None:
    job = tmp_path / "job.xlsx"
    new_job(job, system=system)
    fill_file(job)
    book = Book.open(job)
    know_former(book, JOB)
    fields = book.tables["fields"]
    seen = 0
    for row in range(fields.area.first_row, fields.area.last_row + 1):
        sheet, columns = fields.area.sheet, fields.columns
        key = str(book.cell(sheet, row, columns["Name"]).value)
        picked = book.named(key.replace(".", "_") + "_unit")
        add, times = (book.cell(sheet, row, columns[head]).value for head in ("Add", "Times"))
        if picked is None or not isinstance(picked.value, str) or picked.formula:
            continue
        kinds = [units for units in UNIT_TABLE.values() if picked.value in units]
        assert (add, times) in [units[picked.value] for units in kinds], key
        seen += 1
    assert seen > 150


def test_a_wildcard_is_no_shape(tmp_path: Path) -> None:
    path = small_job(tmp_path / "job.xlsx")
    place = Book.open(path).tables["areas"].columns
    read = [["Areas", f"{_letter(place['Area of one'])}7"], ["Cost", "B8"]]
    words = ("rect*", "r?ctangle", "*")
    cases = [{"set": [["Areas", "B7", word]], "read": read} for word in words]
    assert recalculate(path, cases) == [[{"error": "#N/A"}] * 2] * 3
    for word in words:
        typed({("Areas", 7, 2): word}, path, source=path)
        told = said(check_file(path).problems)
        assert f"Areas!B7: Shape is '{word}'; it must be one of" in told


def _letter(number: int) -> str:
    from twodrum.xlsx.scan import column_letters

    return column_letters(number)


def test_a_tax_prints_as_it_was_typed() -> None:
    tax = next(item for item in JOB.fields() if item.name == "tax_share")
    assert page_format(tax) == "#,##0.0###"


def test_without_a_tax_the_terminal_does_not_call_it_a_price_with_tax(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    path = small_job(tmp_path / "job.xlsx")
    main(["check", str(path)])
    assert "Price with tax, no tax typed" in " ".join(capsys.readouterr().out.split())


@pytest.mark.parametrize(
    ("text", "address", "mend"),
    [
        ("0,2", "B24", "type 20 for 20 %"),
        ("42'6\"", "B17", "type 12954 (42'6\" in mm)"),
        ("7 1/2", "B17", "type 7.5 as a number"),
        ("1/4", "B17", "type 0.25 as a number"),
    ],
)
def test_what_people_write_gets_a_mend_that_works(
    text: str, address: str, mend: str, tmp_path: Path
) -> None:
    path = small_job(tmp_path / "job.xlsx")
    book = openpyxl.load_workbook(path)
    book["Job"][address].value = text
    book.save(path)
    assert mend in said(check_file(path).problems)


@pytest.mark.parametrize(
    ("name", "value", "told_there"),
    [
        ("iso_set_point", 88, "Iso set point while warming is 88 °C; it must not be above Iso"),
        (
            "resin_drum_target",
            81,
            "Resin drum target temperature is 81 °C; it must not be above Resin",
        ),
        ("hose_set_point", 90, "Hose set point is 90 °C; it must not be above Iso never warmer"),
    ],
)
def test_a_set_point_above_the_data_sheet_is_refused_and_never_printed(
    name: str, value: float, told_there: str, tmp_path: Path
) -> None:
    filled = day(tmp_path, {name: value})
    assert told_there in said(filled.problems)
    assert filled.problem_count >= 1
    assert filled.values.names[name].refused
    steps = [str(row[-1]) for row in filled.values.studies["warm_up"]]
    assert not any(f"set to {value} °C" in words or f"at {value} °C" in words for words in steps)


def test_no_default_can_stand_above_a_limit_of_the_data_sheet() -> None:
    fields = {item.name: item for item in JOB.fields()}
    limited = [order.low for order in JOB.orders if order.limit]
    assert len(limited) >= 6
    assert all(fields[name].default is None for name in limited)


def test_live_formulas_refuse_a_set_point_above_the_data_sheet(tmp_path: Path) -> None:
    path = small_job(tmp_path / "job.xlsx", (QUOTE, DAY))
    book = Book.open(path)
    places = {n: book.named(n) for n in ("iso_heat_limit", "iso_set_point", "iso_set_point_si")}
    at = {name: cell.where.split("!") for name, cell in places.items() if cell}
    limit, point, si = (at[name] for name in places)
    cases = [
        {"set": [[*limit, 80], [*point, 88]], "read": [si]},
        {"set": [[*limit, 80], [*point, 80]], "read": [si]},
        {"set": [[*limit, 70], [*point, 71]], "read": [si]},
        {"set": [[*limit, None], [*point, 88]], "read": [si]},
    ]
    answers = [answer[0] for answer in recalculate(path, cases)]
    assert answers[0] == answers[2] == {"error": "#N/A"}
    assert answers[1] == pytest.approx(353.15) and answers[3] == pytest.approx(361.15)


def test_gauges_beyond_the_data_sheet_are_a_problem(tmp_path: Path) -> None:
    filled = day(tmp_path, {"iso_pressure_high": 125, "resin_pressure_high": 125})
    text = said(filled.problems)
    assert "the data sheet allows 125 bar" in text and "do not spray so" in text
    assert filled.problem_count >= 1


def test_at_unequal_parts_nothing_is_to_be_trimmed(tmp_path: Path) -> None:
    filled = day(tmp_path, {"materials.ratio_part@0": 2})
    rows = filled.values.studies["balance"]
    assert [row[0] for row in rows] == ["Not worked out"]
    assert "nothing is to be trimmed by them" in rows[0][-1]
    assert "the lining is mixed 2 to 1" in "\n".join(told(filled))


def test_the_plan_says_when_to_stop_recirculating(tmp_path: Path) -> None:
    filled = day(tmp_path)
    steps = {row[0]: row[-1] for row in filled.values.studies["warm_up"]}
    words = steps["Stop recirculating"]
    assert "stop recirculating: left alone it is at about" in words
    assert "recirculated on at" in words


def test_a_drum_above_its_set_point_cools_to_it_and_is_held__ode() -> None:
    """Against scipy's DOP853 of C dT/dt = min(P, K (Ts - T)) - UA (T - Ta), no heat above Ts."""
    from scipy.integrate import solve_ivp

    for start, power, flow, loss, point, air, time in (
        (348.15, 6000.0, 134.4, 13.0, 323.15, 273.15, 2e5),
        (348.15, 300.0, 134.4, 30.0, 323.15, 273.15, 2e5),
        (330.15, 6000.0, 134.4, 13.0, 323.15, 273.15, 3000.0),
    ):

        def rate(_: float, y: Any, p: Any = (power, flow, loss, point, air)) -> list[float]:
            heat = min(p[0], max(0.0, p[1] * (p[3] - y[0])))
            return [(heat - p[2] * (y[0] - p[4])) / 411707.0]

        truth = solve_ivp(rate, (0, time), [start], method="DOP853", rtol=1e-10, atol=1e-9)
        found = warm_up_temperature(411707.0, loss, power, flow, point, air, start, time)
        assert found == pytest.approx(truth.y[0][-1], abs=1e-3)


def test_a_share_above_the_whole_may_be_meant_and_far_above_may_not() -> None:
    assert bare_share(1.5) == 1.5
    with pytest.raises(UnitError):
        bare_share(15)


def test_next_to_certainty_is_refused_and_no_error_of_python() -> None:
    with pytest.raises(InputError):
        detectable_difference(0.03, 1 - 1e-16, 0.9)


def test_what_was_left_in_a_weighed_drum_is_not_counted_as_used(tmp_path: Path) -> None:
    rows = [
        {"time": 0.4, "phase": "standing", "iso_left": 200, "resin_left": 200},
        {"time": 0.5, "phase": "standing", "iso_left": 60, "resin_left": 150},
        {"time": 0.51, "phase": "standing", "event": "drum change iso", "iso_left": 205},
        {"time": 0.6, "phase": "standing", "iso_left": 155, "resin_left": 100},
    ]
    plain = day(tmp_path, {}, rows)
    assert plain.values.names["iso_levels"].si == pytest.approx(0.140 + 0.055 + 0.050)
    names = {
        "drums.holds@0": "iso",
        "drums.drum_number@0": "I-1",
        "drums.opening_level@0": 200,
        "drums.closing_level@0": 35,
    }
    known = day(tmp_path, names, rows)
    assert known.values.names["iso_levels"].si == pytest.approx(0.140 + 0.025 + 0.050)


def test_one_drum_cannot_give_more_than_it_held(tmp_path: Path) -> None:
    names = {
        "drums.holds@0": "iso",
        "drums.drum_number@0": "I-1",
        "drums.opening_level@0": 300,
        "drums.closing_level@0": 5,
    }
    filled = day(tmp_path, names)
    assert "a full one holds 205 L" in said(filled.problems)
    assert filled.problem_count >= 1


def test_a_table_longer_than_the_snapshot_is_not_stale_for_ever(tmp_path: Path) -> None:
    path = small_job(tmp_path / "job.xlsx", (QUOTE, PROOF))
    book = openpyxl.load_workbook(path)
    sheet = book["Film"]
    table = sheet.tables["film"]
    last = 7 + 450 - 1
    letters = table.ref.split(":")[1].rstrip("0123456789")
    for row in range(8, last + 1):
        for cell in sheet[7]:
            if isinstance(cell.value, str) and cell.value.startswith("="):
                moved = Translator(cell.value, cell.coordinate).translate_formula(
                    f"{cell.column_letter}{row}"
                )
                sheet[f"{cell.column_letter}{row}"].value = moved
    table.ref = f"A6:{letters}{last}"
    sheet[f"A{last}"].value, sheet[f"C{last}"].value = "Floor", 2.1
    book.save(path)
    assert fill_file(path).state == "OK"
    answers = recalculate(
        path,
        [
            {"read": [["Start", "B2"], ["Start", "C2"]]},
            {"set": [["Film", f"C{last}", 2.3]], "read": [["Start", "B2"], ["Start", "C2"]]},
        ],
    )
    assert answers[0][0] == "OK"
    assert answers[1] == ["STALE", "Changed since the last fill: Film"]


@pytest.mark.parametrize(
    ("value", "told_there"),
    [
        (True, "Customer is TRUE, a truth value; a text is wanted; type 'TRUE"),
        (" ", "Customer is a text of blanks only; a text or nothing is wanted; delete it"),
        ("#N/A ", ""),
    ],
)
def test_a_text_that_says_nothing_is_told(value: Any, told_there: str, tmp_path: Path) -> None:
    path = small_job(tmp_path / "job.xlsx")
    book = openpyxl.load_workbook(path)
    book["Job"]["B9"].value = value
    book.save(path)
    filled = fill_file(path)
    assert told_there in said(filled.problems)
    assert filled.state == ("CHECK" if told_there else "OK")


def test_no_cell_or_file_name_moves_the_cursor() -> None:
    assert plain("a\x1b[2Jb\u202ec\u0007") == "a\\u001b[2Jb\\u202ec\\u0007"
    assert plain("Größe 20 °C") == "Größe 20 °C"


@pytest.mark.parametrize(
    ("blank", "parts"),
    [
        (("materials.volume_price", 0), (QUOTE,)),
        (("film_thickness", 0), PARTS),
        (("areas.shape", 1), (QUOTE,)),
    ],
)
def test_what_waits_for_a_blank_is_cached_as_it_is_recalculated(
    blank: tuple[str, int], parts: tuple[str, ...], tmp_path: Path
) -> None:
    path = small_job(tmp_path / "job.xlsx", parts)
    typed({address(Book.open(path), *blank): None}, path, source=path)
    assert fill_file(path).problems
    wrong, count = live_cells_that_change(path)
    assert not wrong and count > 2_500, wrong[:10]
