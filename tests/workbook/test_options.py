"""Options: each is the job typed so, and what is chosen becomes the job to the cent."""

from datetime import date
from decimal import Decimal
from pathlib import Path
from typing import Any

import pytest

from tests.workbook.job_values import evaluated
from tests.workbook.recalculated import live_cells_that_change
from tests.workbook.test_what_ifs import AREA_ROWS, MATERIAL_ROWS, OF_PRICE, TYPED, moves
from tests.workbook.test_what_ifs import job as job_moved
from tests.workbook.typing import QUOTED, address, small_job, typed
from twodrum.books.options import SHOWN
from twodrum.books.parts import QUOTE, WHAT_IFS, job_of
from twodrum.cli import main
from twodrum.commands.deal import Deal, digest
from twodrum.commands.fill import check_file, fill_file
from twodrum.commands.new import template
from twodrum.commands.remake import remove
from twodrum.engine.evaluate import Value, Values
from twodrum.xlsx.book import Book
from twodrum.xlsx.write import Write, write_cells

SURE = {"area_uncertainty": 5, "film_uncertainty": 6, "loss_uncertainty": 4}
BY_VOLUME = {**TYPED, **SURE, "pricing_basis": "by volume", "labour_basis": "by the hour"}
Rows = list[dict[str, Any]]

# What an option says, and the same typed into the job: single values, and surfaces.
CASES: dict[str, tuple[dict[str, Any], dict[str, Any], Any]] = {
    "nothing": ({}, {}, None),
    "film": ({"option_film": 3.1}, {"film_thickness": 3.1}, None),
    "loss": ({"option_loss": 31}, {"loss_share": 31}, None),
    "crew": ({"option_crew": 5}, {"crew_size": 5}, None),
    "labour rate": ({"option_rate": 51.5}, {"labour_rate": 51.5}, None),
    "margin": ({"option_margin": 21}, {"margin_share": 21}, None),
    "price basis": ({"option_basis": "whole drums"}, {"pricing_basis": "whole drums"}, None),
    "mobilisation": ({"option_mobilisation": 1234}, {"mobilisation_cost": 1234}, None),
    "system 2": ({"option_system": "system 2"}, {}, {"system": "system 2"}),
    "system 3, film and loss": (
        {"option_system": "system 3", "option_film": 1.9, "option_loss": 17},
        {"system_3_loss": 17},
        {"system": "system 3", "film_override": 1.9},
    ),
    "all of it": (
        {
            **{"option_film": 2.7, "option_loss": 22, "option_crew": 2, "option_rate": 61},
            **{"option_margin": 12, "option_basis": "whole drums", "option_mobilisation": 0},
        },
        {
            **{"film_thickness": 2.7, "loss_share": 22, "crew_size": 2, "labour_rate": 61},
            **{"margin_share": 12, "pricing_basis": "whole drums", "mobilisation_cost": 0},
        },
        None,
    ),
}


def job(names: dict[str, Any], areas: Rows = AREA_ROWS, options: Rows | None = None) -> Values:
    rows = [{"option": f"option {n}", **row} for n, row in enumerate(options or [], 1)]
    return evaluated(names, MATERIAL_ROWS, [], model=OF_PRICE, areas=areas, options=rows)


def surfaces(own: dict[str, Any] | None) -> Rows:
    """The surfaces, with this in those that name no system; a film of their own stays."""
    return [row if "system" in row else {**(own or {}), **row} for row in AREA_ROWS]


def told(values: Values, row: int = 0) -> dict[str, Any]:
    """What an option shows, by the name of the same of the job."""
    shown = values.tables["options"].rows[row]
    found = {name: shown[of.name].si for name, of in SHOWN.items() if name != "volume_at_good"}
    return {**found, "price_at_good": shown["option_price_at_good"].si}


def said(values: Values) -> dict[str, Any]:
    names = [name for name in SHOWN if name != "volume_at_good"]
    return {name: values.names[name].si for name in (*names, "price_at_good")}


def alike(found: dict[str, Any], expected: dict[str, Any]) -> None:
    for name, value in expected.items():
        exact = isinstance(value, Decimal)
        wanted = value if exact else pytest.approx(value, rel=1e-12)
        assert found[name] == wanted, name


@pytest.mark.parametrize("basis", [{}, BY_VOLUME], ids=["drums and days", "litres and hours"])
@pytest.mark.parametrize("case", CASES)
def test_an_option_is_the_job_typed_so(case: str, basis: dict[str, Any]) -> None:
    option, names, own = CASES[case]
    names_here = {**TYPED, **SURE, **basis}
    found = job(names_here, options=[option])
    expected = job({**names_here, **names}, surfaces(own))
    alike(told(found), said(expected))
    assert expected.names["net_price"].si is not None
    against = found.tables["options"].rows[0]["option_against"].si
    assert against == expected.names["net_price"].si - found.names["net_price"].si


def test_an_option_that_says_nothing_moves_as_the_quote_whatever_is_moved() -> None:
    plain = job({**TYPED, **SURE}, options=[{}])
    changed = 0
    for names, cells in moves():
        moved = job_moved({**SURE, **names}, cells, options=[{"option": "option 1"}])
        alike(told(moved), said(moved))
        changed += told(moved) != told(plain)
    assert changed > 40


def test_the_price_by_chance_is_that_of_a_job_that_takes_so_many_litres() -> None:
    """The litres that are missing are given to it as panels and purging."""
    names = {**BY_VOLUME, "discount_share": 0, "round_to": 0}
    values = job(names)
    for odds in ("even", "good", "best"):
        volume = values.names[f"volume_at_{odds}"].si
        more = (volume - values.names["first_volume"].si) * 1000
        expected = job({**names, "fixed_volume": TYPED["fixed_volume"] + more})
        assert values.names[f"price_at_{odds}"].si == expected.names["net_price"].si
    cost, price = (values.names[name].si for name in ("cost_at_best", "net_price"))
    assert values.names["margin_at_best"].si == pytest.approx(float(1 - cost / price), rel=1e-12)
    assert values.names["price_at_best"].si > values.names["price_at_good"].si > price


def test_without_an_uncertainty_nothing_is_said_of_chances_and_options_have_a_price() -> None:
    values = job(TYPED, options=[{"option_film": 3}])
    row = values.tables["options"].rows[0]
    assert row["option_price"].si > values.names["net_price"].si - 1
    blank = [row["option_price_at_good"], values.names["price_at_good"]]
    assert [(value.si, value.why) for value in blank] == [(None, ""), (None, "")]


def test_what_an_option_cannot_be_is_told_and_its_row_alone_is_refused() -> None:
    values = job(TYPED, options=[{"option_film": -3}, {"option_system": "another"}, {}])
    rows = values.tables["options"].rows
    assert [row["option_price"].si is None for row in rows] == [True, True, False]
    told = [problem.text for problem in values.problems if problem.where.startswith("Options!")]
    assert len(told) == 2 and "-3 mm" in told[0] and "another" in told[1], told
    assert values.names["net_price"].si is not None


# A job as a file.
OPTIONS: Rows = [
    {"option": "option 1", "option_words": "thicker", **CASES["film"][0], "option_loss": 20},
    {"option": "option 2", **CASES["system 2"][0], "option_offered": "instead"},
    {"option": "option 4", **CASES["all of it"][0], "option_offered": "instead"},
    {"option": "option 5", **CASES["system 3, film and loss"][0]},
]
WORDS = {"option 2": "with the lining of system 2", "option 4": "with a crew of two"}


def job_file(
    target: Path, options: Rows = OPTIONS, skipped: tuple[str, ...] = (), **more: Any
) -> Path:
    model = job_of((QUOTE, WHAT_IFS))
    book = template(model)
    names = {**TYPED, **SURE, **QUOTED, "currency": "EUR", **more}
    cells = {address(book, n): v for n, v in names.items() if book.area(n) and n not in skipped}
    rows = [{"option_words": WORDS.get(row["option"])} | row for row in options]
    tables = {"materials": MATERIAL_ROWS, "areas": AREA_ROWS, "options": rows}
    for table, records in tables.items():
        for place, row in enumerate(records):
            for name, value in row.items():
                if model.column_item(table, name).label in book.tables[table].columns:
                    cells[address(book, f"{table}.{name}", place, model)] = value
    return typed(cells, target, model)


def row_of(values: Values, option: str) -> dict[str, Value]:
    return next(r for r in values.tables["options"].rows if r["option"].si == option)


def test_options_are_live_and_the_quote_tells_those_that_are_offered(tmp_path: Path) -> None:
    file = job_file(tmp_path / "job.xlsx")
    filled = fill_file(file)
    changed, count = live_cells_that_change(file)
    assert changed == [] and count > 5000
    book = Book.open(file)
    lines = [book.named(f"quote_option_{n}_price_words") for n in range(1, 7)]
    assert [line and line.value for line in lines] == [
        *("", "with the lining of system 2", "", "with a crew of two", "", "")
    ]
    prices = [book.named(f"quote_option_{n}_price_said") for n in (1, 2, 4, 5)]
    assert [cell and cell.value for cell in prices] == [
        "",
        float(row_of(filled.values, "option 2")["option_price"].si),
        float(row_of(filled.values, "option 4")["option_price"].si),
        "",
    ]


def test_only_options_that_are_offered_are_part_of_what_is_issued(tmp_path: Path) -> None:
    model = job_of((QUOTE, WHAT_IFS))
    kept = digest(model, check_file(job_file(tmp_path / "a.xlsx")).values)
    weighed = [{**row, "option_film": 2.2} if n == 0 else row for n, row in enumerate(OPTIONS)]
    offered = [{**row, "option_crew": 4} if n == 1 else row for n, row in enumerate(OPTIONS)]
    assert digest(model, check_file(job_file(tmp_path / "b.xlsx", weighed)).values) == kept
    assert digest(model, check_file(job_file(tmp_path / "c.xlsx", offered)).values) != kept


@pytest.mark.parametrize("option", ["option 1", "2", "with a crew of two", "Option 5"])
@pytest.mark.parametrize("skipped", [(), ("system_2_film", "system_2_loss", "system_3_loss")])
def test_a_chosen_option_is_the_job__to_the_cent(
    option: str, skipped: tuple[str, ...], tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    file = job_file(tmp_path / "job.xlsx", skipped=skipped)
    names = {"2": "option 2", "with a crew of two": "option 4"}
    before = row_of(check_file(file).values, names.get(option, option.lower()))
    assert main(["choose", str(file), option]) == 0
    assert f"is the job now, at {before['option_price'].si:,} EUR" in capsys.readouterr().out
    after = check_file(file).values
    alike(said(after), {n: before[of.name].si for n, of in SHOWN.items() if n in said(after)})
    row = row_of(after, names.get(option, option.lower()))
    assert row["option_against"].si == 0 and row["option_offered"].blank


def test_choosing_what_is_not_there_or_linked_writes_nothing(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    file = job_file(tmp_path / "job.xlsx")
    book = Book.open(file)
    crew = book.area("crew_size")
    assert crew is not None
    write_cells(book, {crew.first: Write(3, formula="1+2", live=True)})
    file.write_bytes(book.package.to_bytes())
    before = file.read_bytes()
    assert main(["choose", str(file), "option 6"]) == 2
    assert main(["choose", str(file), "option 4"]) == 2
    assert main(["choose", str(file), "none"]) == 2
    assert main(["choose", str(file), " "]) == 2
    plain = small_job(tmp_path / "plain.xlsx")
    assert main(["choose", str(plain), "1"]) == 2
    told = capsys.readouterr().out
    assert "it has no option 6; it has option 1, option 2, option 4, option 5" in told
    assert "it has no option none" in told
    assert f"a formula of yours stands in {book.cell(*crew.first).where}" in told
    assert "it has no options; nothing was written; add its part what-ifs" in told
    assert file.read_bytes() == before


def warned(values: Values) -> list[str]:
    return [f"{p.where}: {p.text}" for p in values.problems if p.code == "odd-option"]


def test_an_option_that_changes_nothing_is_told_at_its_cell() -> None:
    options = [{"option_film": 3}, {"option_crew": 4}]
    assert warned(job(TYPED, options=options)) == []
    every = [{**row, "system": row.get("system", "system 3")} for row in AREA_ROWS]
    (told,) = warned(job(TYPED, every, options))
    assert told.startswith("Options!D7: it changes nothing; every area names a system")
    films = [{"film_override": 3, **row} for row in AREA_ROWS]
    (told,) = warned(job(TYPED, films, options))
    assert "every area without a system has a film of its own" in told


def test_an_option_beyond_the_data_sheet_or_without_words_is_told() -> None:
    names = {**TYPED, "film_most": 4, "system_2_most": 3}
    options: Rows = [
        {"option_film": 4.5},
        {"option_system": "system 2", "option_film": 3.5, "option_offered": "instead"},
    ]
    told = warned(job(names, options=options))
    assert told == [
        "Options!D7: its film is 4.5 mm; it may never be more than 4 mm",
        "Options!D8: its film is 3.5 mm; it may never be more than 3 mm",
        "Options!K8: it has no words; the quote tells them; type what the customer is to read",
    ]


@pytest.mark.parametrize(
    ("change", "why"),
    [
        ({"option_words": None}, "it has no words"),
        ({"option_film": 9}, "its film is 9 mm"),
        ({"option_crew": 99}, "it has no price"),
        ({"option": None}, "which option it is stands nowhere"),
        ({"option": "option 22"}, "which option it is stands nowhere"),
    ],
)
def test_what_is_offered_without_price_or_words_is_not_issued(
    change: dict[str, Any], why: str, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    row = {"option": "option 2", "option_words": "thicker", "option_film": 2.5}
    wrong = {**row, "option_offered": "instead", **change}
    file = job_file(tmp_path / "job.xlsx", [wrong], film_most=8)
    before = file.read_bytes()
    assert main(["issue", str(file)]) == 2
    assert why in capsys.readouterr().out
    assert file.read_bytes() == before and not list(tmp_path.glob("*.pdf"))
    assert main(["choose", str(file), "thicker"]) == 2
    assert main(["choose", str(file), "2"]) == (0 if why == "it has no words" else 2)


def test_an_option_of_the_second_lining_alone_has_a_price_and_nothing_in_doubt() -> None:
    """Panels and hose fill of the first lining are sure; chances are of it alone."""
    own = [{k: v for k, v in row.items() if k != "system"} for row in AREA_ROWS]
    values = job({**TYPED, **SURE}, own, [{"option_system": "system 2"}])
    row = values.tables["options"].rows[0]
    assert row["option_price_at_good"].si == row["option_price"].si
    assert [p for p in values.problems if p.severity == "problem"] == []


def test_two_rows_of_one_option_are_refused_and_live_as_filled(tmp_path: Path) -> None:
    row = {"option": "option 2", "option_words": "one of two", "option_offered": "instead"}
    file = job_file(tmp_path / "job.xlsx", [row, {**row, "option_film": 3}])
    fill_file(file)
    assert live_cells_that_change(file)[0] == []
    assert main(["choose", str(file), "2"]) == 2


def test_a_quote_that_offered_an_option_is_a_draft_without_the_part__told(tmp_path: Path) -> None:
    file = job_file(tmp_path / "job.xlsx")
    fill_file(file)
    plain = job_file(tmp_path / "plain.xlsx", OPTIONS[:1], skipped=tuple(SURE))
    for path, told in ((file, True), (plain, False)):
        assert fill_file(path, deal=Deal(date(2026, 11, 25), issue=True)).revision == 1
        notes = remove(path, (WHAT_IFS,)).notes
        assert any("was revision 1 as it was issued and is a DRAFT now" in n for n in notes) == told
        assert check_file(path).revision == (0 if told else 1)


def test_a_copied_job_has_the_options_and_offers_none_of_them(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    file, copy = job_file(tmp_path / "job.xlsx"), tmp_path / "copy.xlsx"
    fill_file(file)
    assert main(["new", str(copy), "--from", str(file)]) == 0
    assert "areas measured after the job, what of Options was offered" in capsys.readouterr().out
    rows = check_file(copy).values.tables["options"].rows
    assert [row["option"].si for row in rows] == [row["option"] for row in OPTIONS]
    assert all(row["option_offered"].blank for row in rows)
