"""The quote: what the customer reads, what-ifs against jobs typed so, what was accepted."""

import re
from datetime import date
from decimal import Decimal
from pathlib import Path
from typing import Any

import pytest

from tests import made
from tests.libreoffice.calc import recalculate
from tests.workbook.day import told
from tests.workbook.job_values import checked, model_template
from tests.workbook.recalculated import live_cells_that_change
from tests.workbook.typing import Cells, accept_on, address, plain_cells, typed
from twodrum.books import parts
from twodrum.books.parts import job_of
from twodrum.books.quote import LINES, QUOTE
from twodrum.books.whatif import KEYS, SWUNG
from twodrum.commands.fill import Filled, check_file, fill_file
from twodrum.xlsx.book import Book
from twodrum.xlsx.scan import column_letters

PRICED: dict[str, Any] = {
    "customer": "Example Waterworks (invented)",
    "consumables_share": 4,
    "rework_share": 3,
    "preparation_rate": 8.5,
    "mobilisation_cost": 450.255,
    "masking_cost": 120,
    "access_cost": 300,
    "travel_cost": 99.99,
    "disposal_cost": 80,
    "other_cost": 10,
    "tax_share": 19,
    "quote_date": 46351,
    "pricing_basis": "whole drums",
    "fixed_volume": 20,
    "profile_height": 60,
}


MODEL = job_of((parts.QUOTE, parts.WHAT_IFS))


def quoted(names: dict[str, Any]) -> Cells:
    """Cells of the small job in a workbook of the quote alone, priced."""
    book = model_template(MODEL)
    cells = plain_cells(book)
    for key, value in {**PRICED, **names}.items():
        name, _, row = key.partition("@")
        cells[address(book, name, int(row or 0))] = value
    return cells


def made_job(target: Path, **names: Any) -> Path:
    return typed(quoted(names), target, MODEL)


def job(**names: Any) -> Filled:
    return checked(quoted(names), MODEL)


def si(filled: Filled, name: str) -> Any:
    value = filled.values.names[name]
    assert not value.refused, value.why
    return value.si


def what_ifs(filled: Filled) -> dict[str, dict[str, Any]]:
    rows = filled.values.tables["scenarios"].rows
    return {row["scenario"].si: {name: value.si for name, value in row.items()} for row in rows}


def test_cost_and_price__hand_worked() -> None:
    filled = job()
    # 60 m² of floor, 24 + 2 (6 + 4) 2 = 64 m² of sump; 2 mm, 60 µm half filled, 25 % loss.
    assert si(filled, "measured_area_total") == pytest.approx(124)
    assert si(filled, "lining_volume") == pytest.approx(124 * 0.00203 / 0.75 + 0.020)
    # 177.8 L a side: one drum of 205 L each at 9 for the litre.
    assert si(filled, "material_cost_total") == 2 * Decimal("1845.00")
    # 355.6 L at 4 L/min half of the time and 6 h more, three persons at 40.
    hours = (si(filled, "lining_volume") / (4e-3 / 60 * 0.5) + 6 * 3600) / 3600
    assert float(si(filled, "labour_cost")) == pytest.approx(hours * 3 * 40, abs=0.005)
    sprayed = si(filled, "material_cost_total") + si(filled, "labour_cost")
    lining = sprayed + Decimal("147.60") + (sprayed * Decimal("0.03")).quantize(Decimal("0.01"))
    assert si(filled, "lining_cost") == lining
    assert si(filled, "surface_cost") == Decimal("1054.00") + 120
    # 450.255 is rounded before it is added.
    assert si(filled, "site_cost") == Decimal("450.26") + 300 + Decimal("99.99") + 80 + 10
    cost = lining + 1174 + Decimal("940.25")
    assert si(filled, "cost_total") == cost
    assert float(si(filled, "net_price")) == pytest.approx(float(cost) / 0.7, abs=0.016)
    assert si(filled, "valid_until") == 46381


def test_labour_by_the_started_day_and_what_a_day_costs__hand_worked() -> None:
    """8.73 h of work is 2 days of 8 h: 48 h of three persons are paid, and two nights."""
    hours = (355.62667 / (4 * 60 * 0.5)) + 6
    by_hour, by_day = job(daily_cost=310.55), job(labour_basis="by the started day")
    assert si(by_hour, "working_days") == 2
    assert si(by_hour, "paid_time") == pytest.approx(hours * 3 * 3600, rel=1e-6)
    assert si(by_day, "paid_time") == 2 * 8 * 3 * 3600
    assert si(by_day, "labour_cost") == 1920
    assert si(by_hour, "site_cost") - si(by_day, "site_cost") == Decimal("621.10")
    # A day more as soon as it is begun, and none more before.
    longer = job(labour_basis="by the started day", preparation_time=13.0)
    assert (si(longer, "working_days"), si(longer, "labour_cost")) == (2, 1920)
    longer = job(labour_basis="by the started day", preparation_time=13.1)
    assert (si(longer, "working_days"), si(longer, "labour_cost")) == (3, 2880)


@pytest.mark.parametrize("rule", ["on the total", "on each line", None])
@pytest.mark.parametrize("least", [None, 60000])
@pytest.mark.parametrize("discount", [None, 7.5])
def test_lines_add_up_to_the_price_and_tax_follows_its_rule(
    rule: str | None, least: float | None, discount: float | None
) -> None:
    filled = job(tax_rule=rule, minimum_price=least, discount_share=discount)
    lines = [si(filled, name) for name in LINES]
    off = (sum(lines[:4]) * Decimal("0.075")).quantize(Decimal("0.01")) if discount else 0
    assert si(filled, "discount") == off
    lines.append(-off)
    net = si(filled, "net_price")
    assert sum(lines) == net
    # The least price stands whatever is taken off.
    assert (net == 60000) == (least is not None)
    by_hand = [(line * Decimal("0.19")).quantize(Decimal("0.01")) for line in lines]
    total = (net * Decimal("0.19")).quantize(Decimal("0.01"))
    assert si(filled, "tax") == (sum(by_hand) if rule == "on each line" else total)
    assert si(filled, "total_price") == net + si(filled, "tax")
    if least:
        assert si(filled, "margin_of_price") > 0.3


def test_extra_film_for_acceptance_is_off_and_its_own_line() -> None:
    plain, more = job(), job(acceptance_share=10)
    assert si(plain, "acceptance_volume") == 0
    film = si(plain, "film_volume_total")
    assert si(more, "acceptance_volume") == pytest.approx(0.1 * film)
    grown = si(more, "lining_volume") - si(plain, "lining_volume")
    assert grown == pytest.approx(0.1 * film / 0.75)


def test_alternates_carry_the_margin_and_stay_out_of_the_price() -> None:
    plain = job()
    other = job(alternate_1="Thicker floor", alternate_1_cost=700)
    assert si(other, "alternate_1_price") == 1000
    assert si(other, "total_price") == si(plain, "total_price")


def test_the_customers_page_says_nothing_of_cost_margin_loss_or_the_workbook(
    tmp_path: Path,
) -> None:
    path = made_job(tmp_path / "job.xlsx", **{"quote_system": "A lining"})
    fill_file(path)
    book = Book.open(path)
    cells = book.scan("Quote").cells
    texts = [book.cell("Quote", row, column).value for row, column in sorted(cells) if row >= 5]
    said = " ".join(str(text) for text in texts).lower()
    assert "price with tax" in said and "a lining" in said and "floor" in said
    assert not re.search(r"\b(cost|costs|margin|loss|state|stale|fill)\b", said)
    for name in ("cost_total", "margin_share", "loss_share", "lining_cost", "margin_amount"):
        assert not any(getattr(line, "name", "") == name for line in QUOTE.lines)
    sheet = book.package.read(book.workbook_part).decode()
    assert re.search(r"Print_Area[^>]*>\'?Quote\'?!\$A\$5:", sheet)


@pytest.mark.parametrize("key", KEYS[:25:4])
def test_grid__each_cell_is_the_job_typed_so(key: str) -> None:
    filled = job()
    row = what_ifs(filled)[key]
    film, loss = (int(number) for number in re.findall(r"[+-]\d", key))
    same = job(film_thickness=2 * (1 + 0.1 * film), loss_share=25 + 5 * loss)
    assert row["scenario_volume"] == pytest.approx(si(same, "lining_volume"), rel=1e-12)
    assert row["scenario_sets"] == si(same, "drum_sets")
    assert row["scenario_cost"] == si(same, "cost_total")
    assert row["scenario_price"] == si(same, "net_price")
    kept = 1 - si(same, "cost_total") / si(filled, "net_price")
    assert row["margin_kept"] == pytest.approx(float(kept), rel=1e-12)


PRIMED = {
    "materials.component@2": "primer",
    "materials.volume_solids@2": 60,
    "materials.coat_film@2": 75,
    "materials.drum_volume@2": 20,
    "materials.residue@2": 0.5,
    "materials.volume_price@2": 15,
}


@pytest.mark.parametrize("basis", ["by volume", "whole drums"])
def test_grid_and_swings__primer_follows_loss_and_area(basis: str) -> None:
    filled = job(**PRIMED, pricing_basis=basis)
    assert si(filled, "other_material_cost") > 0
    rows = what_ifs(filled)
    lost = job(**PRIMED, pricing_basis=basis, loss_share=35)
    assert rows["film +0, loss +2"]["scenario_price"] == si(lost, "net_price")
    wider = {"areas.length@0": 12 * (1 + 12.4 / 60)}
    larger = job(**PRIMED, pricing_basis=basis, **wider)
    assert si(larger, "measured_area_total") == pytest.approx(1.1 * 124)
    assert float(rows["more area"]["scenario_price"]) == pytest.approx(
        float(si(larger, "net_price")), abs=0.03
    )


def test_tax_that_was_not_typed_is_no_tax_of_nothing(tmp_path: Path) -> None:
    path = made_job(tmp_path / "job.xlsx", **{"tax_share": None})
    fill_file(path)
    book = Book.open(path)
    for name in ("tax", "total_price", "tax_share"):
        cell = book.named(f"quote_{name}_said")
        assert cell is not None and cell.value == "", name
    told_instead = book.named("quote_no_tax_share_words")
    assert told_instead is not None
    assert told_instead.value == "Tax is added as the law asks."


def test_an_alternate_needs_words_and_a_cost(tmp_path: Path) -> None:
    half = {"alternate_1": "Thicker floor", "alternate_2_cost": 500}
    path = made_job(tmp_path / "job.xlsx", **half)
    fill_file(path)
    book = Book.open(path)
    for number in (1, 2):
        for part in ("words", "price_said"):
            cell = book.named(f"quote_alternate_{number}_{part}")
            if part == "words":
                cell = book.named(f"quote_alternate_{number}_price_words")
            assert cell is not None and cell.value == "", (number, part)


def test_swings__each_is_the_job_typed_so() -> None:
    plain = job()
    rows = what_ifs(plain)
    for less, factor in (("less", 0.9), ("more", 1.1)):
        thick = job(film_thickness=2 * factor)
        assert rows[f"{less} film"]["scenario_price"] == si(thick, "net_price")
        lost = job(loss_share=25 * factor)
        assert rows[f"{less} loss"]["scenario_price"] == si(lost, "net_price")
        paid = job(labour_rate=40 * factor)
        assert float(rows[f"{less} labour"]["scenario_price"]) == pytest.approx(
            float(si(paid, "net_price")), abs=0.03
        )
    bought = job(**{f"materials.volume_price@{row}": 9.9 for row in (0, 1)})
    assert rows["more material price"]["scenario_price"] == si(bought, "net_price")


def test_swings__the_widest_stands_first_and_the_words_say_its_prices() -> None:
    filled = job()
    rows = filled.values.studies["sensitivities"]
    assert {row[0] for row in rows} == set(SWUNG)
    widths = [row[3] for row in rows]
    assert widths == sorted(widths, reverse=True)
    net, scenarios = si(filled, "net_price"), what_ifs(filled)
    for what, low, high, width, words in rows:
        assert low == scenarios[f"less {what}"]["scenario_price"] - net
        assert width == abs(high - low)
        assert f"{scenarios[f'more {what}']['scenario_price']:,.2f}" in words or width == 0


def test_chances__the_quoted_sets_are_named_and_the_chance_rises() -> None:
    uncertainties = {"area_uncertainty": 3, "film_uncertainty": 8, "loss_uncertainty": 5}
    filled = job(**{"areas.length@0": 40, **uncertainties})
    rows = filled.values.studies["litres"]
    chances = [row[2] for row in rows]
    assert chances == sorted(chances)
    quoted = [row for row in rows if "so many are quoted" in row[4]]
    assert [row[0] for row in quoted] == [si(filled, "drum_sets")]
    # What the sets hold: drums of 205 L that keep 5 L each.
    assert all(row[1] == pytest.approx(0.4 * row[0]) for row in rows)
    assert 0.3 < si(filled, "volume_odds") < 0.7


ON = date(2026, 11, 25)


@pytest.mark.parametrize("name", ["margin_share_si", "quote_net_price_said", "masking_cost_unit"])
def test_what_was_typed_over_a_live_formula_is_told(tmp_path: Path, name: str) -> None:
    path = made_job(tmp_path / "job.xlsx")
    book = Book.open(path)
    area = book.area(name)
    assert area is not None
    raw = book.scan(area.sheet).cells[area.first_row, area.first_column]
    assert raw.formula_span is not None
    start, end = raw.formula_span
    data = book.scan(area.sheet).data
    book.package.replace(book.sheets[area.sheet], data[:start] + data[end:])
    path.write_bytes(book.package.to_bytes())
    lines = [line for line in told(check_file(path)) if "a live formula belongs" in line]
    assert len(lines) == 1
    assert lines[0].startswith(f"{area.sheet}!{column_letters(area.first_column)}{area.first_row}:")


def test_a_job_of_another_version_is_refused_whole(tmp_path: Path) -> None:
    path = made_job(tmp_path / "job.xlsx")
    book = Book.open(path)
    data = book.package.read(book.workbook_part)
    for name in sorted(item.name for item in MODEL.fields())[:12]:
        data = re.sub(rb'<definedName name="%s">[^<]*</definedName>' % name.encode(), b"", data)
    book.package.replace(book.workbook_part, data)
    path.write_bytes(book.package.to_bytes())
    before = path.read_bytes()
    filled = fill_file(path)
    assert "it lacks 12 of the inputs of this version, such as" in filled.refused
    assert path.read_bytes() == before


@pytest.fixture(scope="module")
def demo(tmp_path_factory: pytest.TempPathFactory) -> Path:
    return made.demo(tmp_path_factory.mktemp("quote"))


@pytest.mark.parametrize("name", ["job-us", "job-to-mend"])
def test_every_cached_value_is_what_a_recalculation_gives(demo: Path, name: str) -> None:
    """Pages, grids, state, every live formula: nothing changes when the book is opened."""
    path = demo / f"{name}.xlsx"
    fill_file(path, deal=accept_on(ON))
    fill_file(path)
    wrong, count = live_cells_that_change(path)
    assert not wrong, (len(wrong), wrong[:20])
    assert count > 5000


def test_a_stale_sheet_names_the_blocks_that_were_typed_into(demo: Path) -> None:
    path = demo / "job-metric.xlsx"
    book = Book.open(path)
    read = [[sheet, "C2"] for sheet in ("Quote", "Cost", "Day sheet")]
    where = [address(book, name) for name in ("film_thickness", "hose_length")]
    cells = [[sheet, f"{column_letters(column)}{row}"] for sheet, row, column in where]
    cases = [
        {"set": [[*cells[0], 2.5]], "read": read},
        {"set": [[*cells[1], 35]], "read": read},
    ]
    found = recalculate(path, cases)
    assert found[0] == ["Changed since the last fill: Job"] * 3
    assert found[1] == ["Changed since the last fill: Job, Equipment"] * 3


@pytest.mark.parametrize("discount", [None, 7.5])
@pytest.mark.parametrize("step", [0.05, 50, 1000])
def test_a_price_is_rounded_down_to_a_whole_step_as_part_of_the_discount(
    step: float, discount: float | None
) -> None:
    plain, filled = job(discount_share=discount), job(discount_share=discount, round_to=step)
    net, of = si(plain, "net_price"), Decimal(str(step))
    assert si(filled, "net_price") == net - net % of
    assert si(filled, "discount") == si(plain, "discount") + net % of
    # The least price stands, whatever step it lies on.
    least = job(discount_share=discount, round_to=step, minimum_price=60000.01)
    assert si(least, "net_price") == Decimal("60000.01")


def test_a_rise_of_prices_makes_every_material_so_much_dearer() -> None:
    plain, dearer = (job(pricing_basis="by volume", price_rise=rise) for rise in (0, 12.5))
    for row, other in zip(*(one.values.tables["order"].rows for one in (plain, dearer))):
        cost = row["needed_volume"].si * row["volume_price"].si
        assert float(other["material_cost"].si) == pytest.approx(1.125 * cost, abs=0.006)
        assert other["volume_price"].si == pytest.approx(1.125 * row["volume_price"].si)
    assert si(dearer, "labour_cost") == si(plain, "labour_cost")


def test_a_step_above_the_price_takes_nothing_off_and_says_so() -> None:
    plain, filled = job(), job(round_to=1e6)
    assert si(filled, "net_price") == si(plain, "net_price")
    told = [problem.text for problem in filled.problems if "nothing is taken off" in problem.text]
    assert len(told) == 1 and told[0].startswith("it is above")
