"""Bad workbooks: the right cell is named, nothing else is lost, nothing is hidden."""

from pathlib import Path
from typing import Any

import pytest

from tests.workbook.job_values import job_template
from tests.workbook.recalculated import live_cells_that_change
from tests.workbook.spoiling import Spoiled, judge
from tests.workbook.typing import address, plain_cells, small_job, typed
from twodrum.books.whole import JOB
from twodrum.commands.fill import check_file, fill_file
from twodrum.xlsx.book import Book
from twodrum.xlsx.package import Package
from twodrum.xlsx.write import Error

PRICE = ("cost_total", "net_price", "tax", "total_price", "price_for_area")
ALL_LITRES = ("lining_volume", "drum_sets", "labour_cost", *PRICE)
SHAPES = (
    "known area, rectangle, triangle, trapezium, four walls, pit, sloped pit, bund walls, circle,"
    " ring, pipe, tank shell, tank shell and floor, cone, frustum, sphere, hemispherical head,"
    " 2:1 ellipsoidal head, torispherical head, I or H section, hollow section, manhole"
)

SPOILED = (
    Spoiled(
        "negative film",
        {"film_thickness": -2},
        ("Job!B17: Dry film thickness is -2 mm; it must be from 0.05 to 50 mm",),
        ("passes", *ALL_LITRES),
        ("measured_area_total", "ratio_total"),
    ),
    Spoiled(
        "film with its unit",
        {"film_thickness": "80 mil"},
        (
            "Job!B17: Dry film thickness is the text '80 mil'; it must be a number, its unit "
            "stands in C17; type 2.032 (80 mil in mm)",
        ),
        ("passes", *ALL_LITRES),
        ("measured_area_total",),
    ),
    Spoiled(
        "decimal comma",
        {"film_thickness": "0,5"},
        (
            "Job!B17: Dry film thickness is the text '0,5'; it must be a number, its unit stands "
            "in C17; write 0.5",
        ),
        ("passes", *ALL_LITRES),
        ("measured_area_total",),
    ),
    Spoiled(
        "number typed as text",
        {"pump_output": "4"},
        (
            "Job!B31: Output while spraying is the text '4'; it must be a number, its unit stands "
            "in C31; type 4 as a number",
        ),
        ("labour_cost", *PRICE),
        ("lining_volume", "drum_sets", "material_cost_total", "passes"),
    ),
    Spoiled(
        "film blank",
        {"film_thickness": None},
        ("Job!B17: Dry film thickness is blank; it must be from 0.05 to 50 mm",),
        ("passes", *ALL_LITRES),
        ("measured_area_total",),
    ),
    Spoiled(
        "film a hundred times too thick",
        {"film_thickness": 200},
        ("Job!B17: Dry film thickness is 200 mm; it must be from 0.05 to 50 mm",),
        ("passes", *ALL_LITRES),
        ("billed_area_total",),
    ),
    Spoiled(
        "film unit of another kind",
        {"film_thickness_unit": "kg"},
        ("Job!C17: unit is 'kg'; a thickness is wanted: mm, µm, mil, in",),
        ("passes", *ALL_LITRES),
        ("measured_area_total",),
    ),
    Spoiled(
        "film unit blank",
        {"film_thickness_unit": None},
        ("Job!C17: unit is blank; a thickness is wanted: mm, µm, mil, in",),
        ("passes", *ALL_LITRES),
        ("measured_area_total",),
    ),
    Spoiled(
        "humidity above 100 %",
        {"air_temperature": 20, "relative_humidity": 110},
        ("Job!B28: Relative humidity is 110 %; it must be from 1 to 100 %",),
        ("vapour_pressure", "dew_point"),
        ("total_price", "passes"),
    ),
    Spoiled(
        "share as a fraction above 1",
        {"loss_share": 15, "loss_share_unit": "fraction"},
        (
            "Job!B24: Loss, share of what is supplied is 15; it must be from 0 to 0.9; "
            "write 15 with the unit %, or 0.15",
        ),
        ALL_LITRES,
    ),
    Spoiled(
        "loss of everything",
        {"loss_share": 100},
        ("Job!B24: Loss, share of what is supplied is 100 %; it must be from 0 to 90 %",),
        ALL_LITRES,
    ),
    Spoiled(
        "air hotter than the formula reaches",
        {"air_temperature": 90, "relative_humidity": 50},
        ("Job!B27: Air temperature is 90 °C; it must be from -45 to 60 °C",),
        ("vapour_pressure", "dew_point"),
        ("total_price",),
    ),
    Spoiled(
        "crew of nobody",
        {"crew_size": 0},
        ("Job!B34: Crew size is 0 persons; it must be from 1 to 100 persons",),
        ("labour_time", "labour_cost", *PRICE),
        ("lining_volume", "working_days"),
    ),
    Spoiled(
        "margin of everything",
        {"margin_share": 100},
        ("Job!B47: Margin, share of the price is 100 %; it must be from 0 to 95 %",),
        ("net_price", "tax", "total_price", "price_for_area"),
        ("cost_total", "lining_volume"),
    ),
    Spoiled(
        "margin blank",
        {"margin_share": None},
        ("Job!B47: Margin, share of the price is blank; it must be from 0 to 95 %",),
        ("net_price", "total_price"),
        ("cost_total",),
    ),
    Spoiled(
        "half a decimal",
        {"money_decimals": 2.5},
        ("Job!B52: Decimals of an amount is 2.5 places; it must be a whole number",),
        ("labour_cost", *PRICE),
        ("lining_volume", "drum_sets"),
    ),
    Spoiled(
        "pricing basis not on the list",
        {"pricing_basis": "by weight"},
        ("Job!B39: Material is priced is 'by weight'; it must be one of: by volume, whole drums",),
        ("material_cost_total", *PRICE),
        ("lining_volume", "labour_cost"),
    ),
    Spoiled(
        "date as a text",
        {"quote_date": "next week"},
        ("Job!B11: Date of quote is the text 'next week'; it must be a date",),
        (),
        ("total_price",),
    ),
    Spoiled(
        "date before spreadsheets",
        {"quote_date": 12},
        ("Job!B11: Date of quote is 12; it must be a date from 2000-01-01 to 2099-12-31",),
        (),
        ("total_price",),
    ),
    Spoiled(
        "negative other costs",
        {"other_cost": -5},
        ("Job!B60: Other costs of the job is -5; it must be from 0 to 1e+12",),
        ("other_cost_rounded", *PRICE),
        ("labour_cost",),
    ),
    Spoiled(
        "negative length",
        {"areas.length": -12},
        ("Areas!D7: Length is -12 m; it must be from 0.001 to 1000 m",),
        ("measured_area_total", *ALL_LITRES),
    ),
    Spoiled(
        "length blank",
        {"areas.length": None},
        ("Areas!D7: Length is blank; it is needed for the shape rectangle: length",),
        ("measured_area_total", *ALL_LITRES),
    ),
    Spoiled(
        "length as words",
        {"areas.length": "about twelve"},
        (
            "Areas!D7: Length is the text 'about twelve'; it must be a number, its unit stands "
            "in D5",
        ),
        ("measured_area_total", *ALL_LITRES),
    ),
    Spoiled(
        "size that the shape does not use",
        {"areas.diameter": "wide"},
        ("Areas!G7: Diameter is the text 'wide'; it must be a number, its unit stands in G5",),
        ("measured_area_total", *ALL_LITRES),
    ),
    Spoiled(
        "shape unknown",
        {"areas.shape": "blob"},
        (f"Areas!B7: Shape is 'blob'; it must be one of: {SHAPES}",),
        ("measured_area_total", *ALL_LITRES),
    ),
    Spoiled(
        "shape blank",
        {"areas.shape": None},
        (f"Areas!B7: Shape is blank; pick one of: {', '.join(JOB.choices['shape'])}",),
        ("measured_area_total", *ALL_LITRES),
    ),
    Spoiled(
        "surface without a name",
        {"areas.surface": None},
        ("Areas!A7: Surface is blank; a text is wanted",),
        ("measured_area_total", *ALL_LITRES),
        ("passes", "ratio_total"),
    ),
    Spoiled(
        "opening larger than the wall",
        {"areas.opening_area": 61},
        ("Areas!K7: Openings in one is 61 m²; it must be at most 60 m²",),
        ("measured_area_total", *ALL_LITRES),
    ),
    Spoiled(
        "inner ring larger than the outer",
        {
            "areas.shape": "ring",
            "areas.length": None,
            "areas.width": None,
            "areas.diameter": 2,
            "areas.other_size": 3,
        },
        ("Areas!H7: Other size is 3 m; it must be less than 2 m",),
        ("measured_area_total", *ALL_LITRES),
    ),
    Spoiled(
        "crown radius below half the diameter",
        {
            "areas.shape": "torispherical head",
            "areas.length": None,
            "areas.width": None,
            "areas.diameter": 4,
            "areas.other_size": 1,
            "areas.corner_radius": 0.2,
        },
        ("Areas!H7: Other size is 1 m; it must be at least 2 m",),
        ("measured_area_total", *ALL_LITRES),
    ),
    Spoiled(
        "sheet factor below one",
        {"areas.profile_factor": 0.5},
        ("Areas!L7: Sheet factor is 0.5 ×; it must be from 1 to 3 ×",),
        ("measured_area_total", *ALL_LITRES),
    ),
    Spoiled(
        "own film below the limit",
        {"areas.film_override": 0},
        ("Areas!M7: Own DFT is 0 mm; it must be from 0.05 to 50 mm",),
        ALL_LITRES,
        ("measured_area_total", "passes"),
    ),
    Spoiled(
        "column unit wrong",
        {"areas_length_unit": "litre"},
        ("Areas!D5: unit is 'litre'; a length is wanted: m, cm, mm, ft, in, yd",),
        ("measured_area_total", *ALL_LITRES),
    ),
    Spoiled(
        "row below the table",
        {"below": "Forgotten wall"},
        (
            "Areas!A27: 'Forgotten wall' stands below the table areas; only rows inside the table "
            "are read; type in the same row what each row needs (surface, shape), words as "
            "their lists have them, and fill takes "
            "it in",
        ),
        (),
        ("total_price",),
    ),
    Spoiled(
        "iso missing",
        {
            "materials.component": "primer",
            "materials.ratio_part": None,
            "materials.coat_film": 75,
        },
        ("Materials!A7: Materials has no row for iso; one row is wanted",),
        ("iso_ratio", "ratio_total", *ALL_LITRES),
        ("measured_area_total", "passes"),
    ),
    Spoiled(
        "iso twice",
        {"materials.component": "resin"},
        (
            "Materials!A7: Materials has no row for iso; one row is wanted",
            "Materials!A8: Component is 'resin' a second time; each may stand in one row only; "
            "the first is in Materials!A7",
        ),
        ("iso_ratio", "resin_ratio", "ratio_total", *ALL_LITRES),
        ("measured_area_total",),
    ),
    Spoiled(
        "component unknown",
        {"materials.component": "A side"},
        (
            "Materials!A7: Component is 'A side'; it must be one of: iso, resin, primer, top coat, "
            "second iso, second resin, second primer",
            "Materials!A7: Materials has no row for iso; one row is wanted",
        ),
        ("ratio_total", *ALL_LITRES),
        ("measured_area_total",),
    ),
    Spoiled(
        "ratio blank",
        {"materials.ratio_part": None},
        ("Materials!C7: Ratio by volume is 0 parts; it must be more than 0 parts",),
        ("ratio_total", *ALL_LITRES),
        ("measured_area_total",),
    ),
    Spoiled(
        "price blank",
        {"materials.volume_price": None},
        ("Materials!P7: Price is blank; it must be from 0 to 1,000,000,000 per L",),
        ("material_cost_total", *PRICE),
        ("lining_volume", "drum_sets", "labour_cost"),
    ),
    Spoiled(
        "residue larger than the drum",
        {"materials.residue": 300},
        ("Materials!O7: Residue in drum is 300 L; it must be less than 205 L",),
        ("drum_sets", "material_cost_total", *PRICE),
        ("lining_volume", "labour_cost"),
    ),
    Spoiled(
        "window upside down",
        {"materials.spray_low": 70, "materials.spray_high": 60},
        ("Materials!M7: Spray to is 60 °C; it must not be below Spray from, 70 °C",),
        (),
        ("total_price", "drum_sets"),
    ),
    Spoiled(
        "density of a gas",
        {"materials.density": 1.2},
        ("Materials!H7: Density is 1.2 kg/m³; it must be from 300 to 3000 kg/m³",),
        (),
        ("total_price", "drum_sets"),
    ),
    Spoiled(
        "negative stock",
        {"materials.drums_on_hand": -1},
        ("Materials!Q7: Full drums on hand is -1 drums; it must be from 0 to 10000 drums",),
        (),
        ("total_price", "drum_sets"),
    ),
    Spoiled(
        "unit of a result wrong",
        {"lining_volume_unit": "m"},
        ("Cost!C20: unit is 'm'; a volume is wanted: L, mL, m³, US gal, imp gal",),
        (),
        ("total_price", "drum_sets"),
    ),
    Spoiled(
        "28% typed where 28 is wanted",
        {"margin_share": 0.28},
        (
            "Job!B47: Margin, share of the price is 0.28 %; less than 1 % is surely not meant; "
            "write 28 for 28 %, or pick fraction and write 0.0028 for 0.28 %",
        ),
        ("net_price", "total_price"),
        ("cost_total", "lining_volume"),
    ),
    Spoiled(
        "half a piece",
        {"areas.piece_count": 1.5},
        ("Areas!J7: Pieces is 1.5 pcs; it must be a whole number",),
        ("measured_area_total", *ALL_LITRES),
    ),
    Spoiled(
        "lining film typed as a coat of iso",
        {"materials.coat_film": 2000},
        ("Materials!E7: Own coat DFT is 2000 µm; it must be at most 0 µm",),
        ("drum_sets", "material_cost_total", *PRICE),
        ("lining_volume", "labour_cost"),
    ),
    Spoiled(
        "four mistakes at once",
        {
            "film_thickness": "2 mm",
            "crew_size": None,
            "areas.width": "five",
            "materials.volume_price": -9,
        },
        (
            "Job!B17: Dry film thickness is the text '2 mm'; it must be a number, its unit stands "
            "in C17; type 2 as a number",
            "Job!B34: Crew size is blank; it must be from 1 to 100 persons",
            "Areas!E7: Width is the text 'five'; it must be a number, its unit stands in E5",
            "Materials!P7: Price is -9 per L; it must be from 0 to 1,000,000,000 per L",
        ),
        ("passes", "measured_area_total", *ALL_LITRES),
        ("ratio_total", "lining_solids"),
    ),
)


@pytest.mark.parametrize("spoiled", SPOILED, ids=lambda one: one.name)
def test_it_names_the_cell_refuses_what_depends_on_it_and_fills_the_rest(
    spoiled: Spoiled, tmp_path: Path
) -> None:
    judge(plain_cells(job_template()), spoiled, tmp_path)


def test_at_least_forty_workbooks_are_spoiled() -> None:
    assert len({one.name for one in SPOILED}) == len(SPOILED) >= 40


def added(tmp_path: Path, row: dict[str, Any]) -> Path:
    """A small job with one more row of materials."""
    book = job_template()
    cells = plain_cells(book)
    for name, value in row.items():
        cells[address(book, f"materials.{name}", 2)] = value
    return typed(cells, tmp_path / "job.xlsx")


PRIMER = {"volume_solids": 60, "drum_volume": 20, "residue": 0, "volume_price": 20}


@pytest.mark.parametrize(
    ("row", "told"),
    [
        (
            {"component": "primr", "coat_film": 75},
            "Materials!A9: Component is 'primr'; it must be one of: iso, resin, primer, top coat, "
            "second iso, second resin, second primer",
        ),
        (
            {"coat_film": 75},
            "Materials!A9: Component is blank; pick one of: iso, resin, primer, top coat, "
            "second iso, second resin, second primer",
        ),
        (
            {"component": "primer", "coat_film": 75, "ratio_part": 1},
            "Materials!C9: Ratio by volume is 1 parts; it must be at most 0 parts",
        ),
        (
            {"component": "primer"},
            "Materials!E9: Own coat DFT is 0 µm; it must be more than 0 µm",
        ),
    ],
    ids=["misspelt", "unnamed", "primer with a ratio", "primer without a film"],
)
def test_a_row_of_materials_that_cannot_be_priced_refuses_the_price(
    row: dict[str, Any], told: str, tmp_path: Path
) -> None:
    checked = check_file(added(tmp_path, {**PRIMER, **row}))
    assert [str(problem) for problem in checked.problems] == [told]
    assert checked.values.names["total_price"].refused
    assert not checked.values.names["lining_volume"].refused


def without_formulas(path: Path, row: int, kept: int) -> None:
    """Take the live formulas out of a row of the take-off, but for the first ones."""
    book = Book.open(path)
    data = book.scan("Areas").data
    raw_cells = [c for (r, _), c in sorted(book.scan("Areas").cells.items()) if r == row]
    for cell in reversed([c for c in raw_cells if c.formula is not None][kept:]):
        data = data[: cell.start] + data[cell.end :]
    book.package.replace(book.sheets["Areas"], data)
    path.write_bytes(book.package.to_bytes())


def test_a_row_that_lost_some_of_its_formulas_is_told_and_refuses_the_totals(
    tmp_path: Path,
) -> None:
    path = small_job(tmp_path / "job.xlsx")
    without_formulas(path, 8, 1)
    filled = fill_file(path)
    assert [str(problem) for problem in filled.problems] == [
        "Areas!U8: 32 live formulas are missing in this row; the formula must stand; copy the "
        "cells of another row over it"
    ]
    assert filled.values.names["total_price"].refused
    assert filled.state == "CHECK"
    assert Book.open(path).cell("Areas", 8, 17).kind == "blank"


def test_a_row_without_any_formula_as_one_that_was_inserted_gets_them(tmp_path: Path) -> None:
    path = small_job(tmp_path / "job.xlsx")
    price = check_file(path).values.names["net_price"].si
    without_formulas(path, 8, 0)
    filled = fill_file(path)
    assert [str(problem) for problem in filled.problems] == [
        "Areas!A8: row 8 of the table areas had no live formulas; they stand there"
    ]
    assert (filled.state, filled.values.names["net_price"].si) == ("OK", price)
    assert live_cells_that_change(path)[0] == []
    assert not fill_file(path).problems


def test_a_number_typed_over_a_live_formula_is_told_and_kept(tmp_path: Path) -> None:
    path = small_job(tmp_path / "job.xlsx")
    book = Book.open(path)
    cell = book.scan("Areas").cells[8, 21]
    data = book.scan("Areas").data
    number = b'<c r="U8"><v>500</v></c>'
    book.package.replace(book.sheets["Areas"], data[: cell.start] + number + data[cell.end :])
    path.write_bytes(book.package.to_bytes())
    told = [str(problem) for problem in fill_file(path).problems]
    assert told == [
        "Areas!U8: '500' stands where a live formula belongs; the formula must stand; copy the "
        "cells of another row over it"
    ]
    assert Book.open(path).cell("Areas", 8, 21).value == 500


def raw(path: Path, old: bytes, new: bytes) -> None:
    """Change the bytes of a cell of Job, as another program might leave them."""
    package = Package.open(path)
    part = next(
        name
        for name in package.names()
        if name.startswith("xl/worksheets/sheet") and old in package.read(name)
    )
    package.replace(part, package.read(part).replace(old, new, 1))
    path.write_bytes(package.to_bytes())


@pytest.mark.parametrize(
    ("cell", "message"),
    [
        (
            b'<c r="B17" s="%s" t="e"><v>#DIV/0!</v></c>',
            "Job!B17: Dry film thickness is the error #DIV/0!; it must be a number, its unit "
            "stands in C17",
        ),
        (
            b'<c r="B17" s="%s"><f>1+1</f></c>',
            "Job!B17: Dry film thickness holds a formula without a result; it must be a number, "
            "its unit stands in C17; open it in your spreadsheet program, save it there and try "
            "again",
        ),
        (
            b'<c r="B17" s="%s" t="b"><v>1</v></c>',
            "Job!B17: Dry film thickness is TRUE; it must be a number, its unit stands in C17",
        ),
    ],
    ids=["error value", "formula without a result", "true"],
)
def test_a_cell_that_is_no_number_is_named(cell: bytes, message: str, tmp_path: Path) -> None:
    path = small_job(tmp_path / "job.xlsx")
    book = Book.open(path)
    found = book.scan("Job").cells[17, 2]
    style = found.attributes["s"].encode()
    raw(path, book.scan("Job").data[found.start : found.end], cell % style)
    checked = check_file(path)
    assert [str(problem) for problem in checked.problems] == [message]
    filled = fill_file(path)
    assert filled.state == "CHECK"
    assert isinstance(filled.values.names["lining_volume"].si, type(None))
    again = path.read_bytes()
    assert not fill_file(path).changed
    assert path.read_bytes() == again


def test_a_formula_with_a_result_is_a_value_like_any_other(tmp_path: Path) -> None:
    path = small_job(tmp_path / "job.xlsx")
    book = Book.open(path)
    found = book.scan("Job").cells[17, 2]
    cell = b'<c r="B17" s="%s"><f>1+1</f><v>2</v></c>' % found.attributes["s"].encode()
    raw(path, book.scan("Job").data[found.start : found.end], cell)
    filled = fill_file(path)
    assert filled.state == "OK"
    assert Book.open(path).cell("Job", 17, 2).formula


def test_errors_are_error_values_and_not_words() -> None:
    assert Error().text == "#N/A"
