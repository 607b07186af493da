"""Nine jobs of three invented offices, to the cent, against a script from first principles.

The script knows nothing of this house: lengths times widths, litres by the balance of volumes,
whole drums, started days, amounts rounded half up as money is.
"""

from __future__ import annotations

import math
from dataclasses import dataclass, field, replace
from datetime import date
from decimal import ROUND_HALF_UP, Decimal
from pathlib import Path
from typing import Any

import pytest

from tests.workbook.job_values import checked, model_template
from tests.workbook.recalculated import live_cells_that_change
from tests.workbook.typing import QUOTED, accept_on, address, typed
from twodrum.books.parts import QUOTE, WHAT_IFS, job_of
from twodrum.commands.fill import fill_file
from twodrum.xlsx.book import Book

CENT = Decimal("0.01")
MODEL = job_of((QUOTE, WHAT_IFS))
# By definition: 1 in is 25.4 mm, 1 ft 12 in, 1 US gal 231 cubic inches (NIST SP 811).
METRIC = {"length": 1.0, "film": 1e-3, "volume": 1e-3, "flow": 1e-3 / 60, "rate": 1.0}
US = {
    **{"length": 0.3048, "film": 25.4e-6, "volume": 231 * 0.0254**3},
    **{"flow": 231 * 0.0254**3 / 60, "rate": 1 / 0.3048**2},
}
UNITS_US = {
    **{"areas.length": "ft", "areas.width": "ft", "areas.film_override": "mil"},
    **{"film_thickness": "mil", "pass_build": "mil", "fixed_volume": "US gal"},
    **{"materials.drum_volume": "US gal", "materials.residue": "US gal"},
    **{"materials.part_drum_volume": "US gal", "materials.volume_price": "per US gal"},
    **{"materials.coat_film": "mil", "materials.coat_pace": "ft²/h"},
    **{"pump_output": "US gal/min", "preparation_rate": "per ft²", "options.option_film": "mil"},
}


@dataclass(frozen=True)
class Office:
    currency: str
    scale: dict[str, float]
    # Iso, then resin: part of the mix, solids, drum, residue, price.
    sides: tuple[tuple[float, float, float, float, float], ...]
    rates: dict[str, Any] = field(default_factory=dict)


OFFICES = {
    "metric": Office(
        "EUR",
        METRIC,
        ((1, 1.0, 205, 4, 9.35), (1, 0.97, 205, 6, 8.9)),
        {
            **{"labour_rate": 41.5, "labour_basis": "by the hour", "pricing_basis": "by volume"},
            **{"consumables": 0.03, "rework": 0.025, "preparation_rate": 7.25, "margin": 0.28},
            **{"minimum": 0, "tax": 0.19, "tax_rule": "on the total", "daily": 0, "rise": 0},
            **{"discount": 0, "round_to": 0},
        },
    ),
    "US": Office(
        "USD",
        US,
        ((1, 1.0, 54, 1.25, 34.1), (1, 1.0, 54, 1.5, 31.85)),
        {
            **{"labour_rate": 63, "labour_basis": "by the started day"},
            **{"pricing_basis": "whole drums", "consumables": 0.045, "rework": 0.03},
            **{"preparation_rate": 1.85, "margin": 0.33, "minimum": 12500, "tax": 0.0725},
            **{"tax_rule": "on each line", "daily": 385.5, "rise": 0.06, "discount": 0},
            **{"round_to": 25},
        },
    ),
    "Swiss": Office(
        "CHF",
        METRIC,
        ((2, 0.95, 205, 3.5, 14.2), (1, 0.9, 205, 5.5, 17.05)),
        {
            **{"labour_rate": 92.4, "labour_basis": "by the started day"},
            **{"pricing_basis": "by volume", "consumables": 0.02, "rework": 0},
            **{"preparation_rate": 13.1, "margin": 0.22, "minimum": 6400, "tax": 0.081},
            **{"tax_rule": "on each line", "daily": 240, "rise": 0.015, "discount": 0.04},
            **{"round_to": 0.05},
        },
    ),
}


@dataclass(frozen=True)
class Job:
    office: str
    # Length, width, pieces, own film.
    areas: tuple[tuple[float, float, int, float | None], ...]
    film: float
    loss: float = 0.24
    fixed: float = 15
    held: float = 0
    crew: int = 3
    output: float = 4.5
    spraying: float = 0.45
    preparation: float = 9.5
    day: float = 8.5
    site: tuple[float, ...] = (450, 220.5, 130.25, 95, 60)
    masking: float = 180.4
    acceptance: float = 0
    rework_litres: float = 0
    rework_time: float = 0
    # Film, solids, loss, can, residue, price and pace of a primer on all areas.
    primer: tuple[float, ...] = ()


ROOM = ((12.4, 5.35, 1, None), (6.1, 3.2, 4, None), (2.75, 2.75, 2, 3.5))
FEET = ((41, 18.5, 1, None), (20.25, 10.5, 2, None), (9, 7.5, 6, 120.0))
JOBS = {
    "basin": Job("metric", ROOM, 2.0),
    "roof": Job(
        *("metric", ((48.2, 21.75, 1, None),), 1.6, 0.31, 22.5, 118, 4),
        **{"acceptance": 0.035, "rework_litres": 0.03, "rework_time": 4.25},
    ),
    "pit": Job("metric", ((3.1, 2.9, 1, None), (2.9, 2.2, 4, None)), 3.2, 0.27, 8, 0, 2, 3.2, 0.35),
    "shop floor": Job("US", FEET, 80.0, 0.22, 4, 0, 3, 1.1, 0.5, 11),
    "tank": Job(
        *("US", ((62.5, 40, 2, None),), 60.0, 0.29, 6.5, 37.5, 4, 1.2, 0.4, 14, 9),
        primer=(3.0, 0.62, 0.15, 5.0, 0.1, 61.5, 400),
    ),
    "sump": Job("US", ((8, 6, 1, None), (8, 5, 4, None)), 100.0, 0.3, 3, 0, 2, 0.9, 0.3, 6),
    "channel": Job(
        *("Swiss", ((118.4, 2.15, 2, None), (118.4, 1.6, 1, 2.6)), 1.8, 0.26, 18, 60),
        **{"rework_litres": 0.015, "primer": (0.12, 0.55, 0.1, 20, 0.4, 21.35, 55)},
    ),
    "silo": Job("Swiss", ((9.7, 7.15, 4, None),), 2.4, 0.33, 12, 0, 5, 3.9, 0.38, 21.5, 7.75),
    "walkway": Job("Swiss", ((31.2, 1.35, 1, None),), 1.2, 0.2, 5, 0, 2, 2.8, 0.3, 4.5, 8),
}
# Columns of an option, and the same of the script.
OPTIONS: tuple[tuple[dict[str, Any], dict[str, Any], dict[str, Any]], ...] = (
    ({"option_loss": 18, "option_crew": 5}, {"loss": 0.18, "crew": 5}, {}),
    (
        {"option_margin": 17.5, "option_basis": "whole drums", "option_rate": 55.25},
        {},
        {"margin": 0.175, "pricing_basis": "whole drums", "labour_rate": 55.25},
    ),
)


def money(amount: Any) -> Decimal:
    """Half up, on fifteen digits as a worksheet has them."""
    value = amount if isinstance(amount, Decimal) else Decimal(f"{amount:.15g}")
    return value.quantize(CENT, ROUND_HALF_UP)


def quoted(job: Job, own: dict[str, Any] | None = None) -> dict[str, Any]:
    """The job from first principles."""
    office = OFFICES[job.office]
    scale, rates = office.scale, {**office.rates, **(own or {})}
    to_m, to_film, to_volume = scale["length"], scale["film"], scale["volume"]
    parts = sum(side[0] for side in office.sides)
    solids = sum(side[0] * side[1] for side in office.sides) / parts
    area, theory = 0.0, 0.0
    for length, width, pieces, film in job.areas:
        this = length * to_m * width * to_m * pieces
        area += this
        theory += this * (job.film if film is None else film) * to_film / solids
    on_surface = theory * (1 + job.acceptance) * (1 + job.rework_litres)
    mixed = on_surface / (1 - job.loss) + job.fixed * to_volume
    material, opened = Decimal(0), []
    for part, _, drum, residue, price in office.sides:
        needed = mixed * part / parts
        from_drums = needed - job.held * to_volume
        drums = max(0, math.ceil(from_drums / ((drum - residue) * to_volume) - 1e-9))
        billed = needed / to_volume if rates["pricing_basis"] == "by volume" else drums * drum
        material += money(billed * price * (1 + rates["rise"]))
        opened.append(drums)
    primer, primed = Decimal(0), 0.0
    if job.primer:
        film, of_solids, lost, can, residue, price, pace = job.primer
        needed = area * film * to_film / of_solids / (1 - lost)
        cans = math.ceil(needed / ((can - residue) * to_volume) - 1e-9)
        billed = needed / to_volume if rates["pricing_basis"] == "by volume" else cans * can
        primer = money(billed * price * (1 + rates["rise"]))
        primed = area * scale["rate"] / pace
        material += primer
    hours = mixed / (job.output * scale["flow"] * job.spraying) / 3600 + job.preparation
    hours += primed + job.rework_time
    days = math.ceil(hours / job.day - 1e-9)
    paid = hours if rates["labour_basis"] == "by the hour" else days * job.day
    labour = money(paid * job.crew * rates["labour_rate"])
    consumables = money(float(material) * rates["consumables"])
    rework = money(float(material + labour) * rates["rework"])
    lining = material + labour + consumables + rework
    surface = money(area * scale["rate"] * rates["preparation_rate"])
    site = sum((money(one) for one in job.site), Decimal(0)) + money(rates["daily"] * days)
    costs = (lining, surface, money(job.masking), site)
    lines = [money(cost / (1 - Decimal(str(rates["margin"])))) for cost in costs]
    # The primer on a line of its own: its material and its share of the labour.
    part = float(primer) * (1 + rates["consumables"] + rates["rework"])
    part += float(labour) * primed / hours * (1 + rates["rework"])
    apart = money(Decimal(f"{part:.15g}") / (1 - Decimal(str(rates["margin"]))))
    told = (lines[0] - apart, apart, *lines[1:])
    discount = money(sum(lines) * Decimal(str(rates["discount"])))
    if rates["round_to"]:
        discount += (sum(lines) - discount) % Decimal(str(rates["round_to"]))
    top_up = max(Decimal(0), money(rates["minimum"]) - sum(lines) + discount)
    net, share = sum(lines) - discount + top_up, Decimal(str(rates["tax"]))
    on_lines = sum(money(one * share) for one in (*told, top_up)) - money(discount * share)
    tax = money(net * share) if rates["tax_rule"] == "on the total" else on_lines
    return {
        **{"measured_area_total": area, "lining_volume": mixed, "drum_sets": max(opened)},
        **{"working_days": days, "material_cost_total": material, "labour_cost": labour},
        **{"cost_total": sum(costs), "discount": discount, "minimum_top_up": top_up},
        **{"net_price": net, "tax": tax, "total_price": net + tax},
        **{"lining_line": told[0], "primers_line": apart},
        "lining_for_area": float(told[0]) / area,
    }


def cells_of(job: Job) -> dict[tuple[str, int, int], Any]:
    """The same as an office types it, with its options."""
    office, book = OFFICES[job.office], model_template(MODEL)
    rates = office.rates
    names: dict[str, Any] = {
        **{"film_thickness": job.film, "loss_share": job.loss * 100, "fixed_volume": job.fixed},
        **{"pass_build": job.film / 2, "crew_size": job.crew, "pump_output": job.output},
        **{"spraying_share": job.spraying * 100, "preparation_time": job.preparation},
        **{"day_length": job.day, "masking_cost": job.masking, "currency": office.currency},
        **{"acceptance_share": job.acceptance * 100, "daily_cost": rates["daily"]},
        **{"labour_rate": rates["labour_rate"], "labour_basis": rates["labour_basis"]},
        **{"pricing_basis": rates["pricing_basis"], "price_rise": rates["rise"] * 100},
        **{"consumables_share": rates["consumables"] * 100, "rework_share": rates["rework"] * 100},
        **{"preparation_rate": rates["preparation_rate"], "margin_share": rates["margin"] * 100},
        **{"minimum_price": rates["minimum"], "round_to": rates["round_to"]},
        **{"discount_share": rates["discount"] * 100, "tax_share": rates["tax"] * 100},
        **{"tax_rule": rates["tax_rule"], "rework_litres": job.rework_litres * 100},
        **{"rework_time": job.rework_time, "coats_apart": "yes", "unit_prices": "yes"},
    }
    sites = ("mobilisation_cost", "access_cost", "travel_cost", "disposal_cost", "other_cost")
    names |= dict(zip(sites, job.site))
    cells = {address(book, name): value for name, value in names.items()}
    units = UNITS_US if office.scale is US else {}
    for key, unit in units.items():
        cells[address(book, f"{key.replace('.', '_')}_unit")] = unit

    def put(table: str, row: int, **values: Any) -> None:
        for name, value in values.items():
            cells[address(book, f"{table}.{name}", row, MODEL)] = value

    for row, (length, width, pieces, film) in enumerate(job.areas):
        put("areas", row, surface=f"Area {row}", shape="rectangle", length=length, width=width)
        put("areas", row, piece_count=pieces, film_override=film)
    for row, (side, told) in enumerate(zip(("iso", "resin"), office.sides)):
        part, solids, drum, residue, price = told
        put("materials", row, component=side, ratio_part=part, volume_solids=solids * 100)
        put("materials", row, drum_volume=drum, residue=residue, volume_price=price)
        put("materials", row, part_drum_volume=job.held)
    if job.primer:
        film, solids, lost, can, residue, price, pace = job.primer
        film *= 1 if office.scale is US else 1000
        put("materials", 2, component="primer", coat_film=film, volume_solids=solids * 100)
        put("materials", 2, coat_loss=lost * 100, drum_volume=can, residue=residue)
        put("materials", 2, volume_price=price, coat_pace=pace)
    for row, (other, _, _) in enumerate(OPTIONS):
        put("options", row, option=f"option {row + 1}", **other)
    film = job.film * 1.25
    put("options", len(OPTIONS), option="option 3", option_film=film, option_mobilisation=99.99)
    return cells


def alike(found: dict[str, Any], expected: dict[str, Any]) -> None:
    for name, value in expected.items():
        wanted = value if isinstance(value, Decimal) else pytest.approx(value, rel=1e-9)
        assert found[name] == wanted, name


@pytest.mark.parametrize("name", JOBS)
def test_a_job_and_its_options_come_to_the_cent(name: str) -> None:
    job = JOBS[name]
    filled = checked(cells_of(job), MODEL)
    assert [str(p) for p in filled.problems if p.severity == "problem"] == []
    values = filled.values
    expected = quoted(job)
    alike({key: values.names[key].si for key in expected}, expected)
    options = values.tables["options"].rows
    shown = {
        **{"lining_volume": "option_volume", "drum_sets": "option_sets"},
        **{"working_days": "option_days", "cost_total": "option_cost"},
        **{"net_price": "option_price"},
    }
    thicker = {"film": job.film * 1.25, "site": (99.99, *job.site[1:])}
    others = [*((changed, own) for _, changed, own in OPTIONS), (thicker, {})]
    prices = []
    for row, (changed, own) in zip(options, others):
        of_option = quoted(replace(job, **changed), own)
        alike({key: row[of].si for key, of in shown.items()}, {k: of_option[k] for k in shown})
        prices.append(of_option["net_price"])
    assert len(prices) == 3 and len({*prices, expected["net_price"]}) > 1


def test_the_nine_jobs_show_what_they_are_there_for() -> None:
    found = {name: quoted(job) for name, job in JOBS.items()}
    assert {job.office for job in JOBS.values()} == OFFICES.keys()
    assert sum(one["minimum_top_up"] > 0 for one in found.values()) >= 2
    assert sum(one["discount"] > 0 for one in found.values()) >= 5
    assert len({one["working_days"] for one in found.values()}) >= 4
    assert sum(one["primers_line"] > 0 for one in found.values()) >= 2
    assert sum(job.rework_litres > 0 for job in JOBS.values()) >= 2


def test_coats_on_their_own_lines_are_live_add_up_and_are_off_where_nobody_asks(
    tmp_path: Path,
) -> None:
    book, told = model_template(MODEL), cells_of(JOBS["channel"])
    told[address(book, "areas.system", 1, MODEL)] = "system 2"
    told[address(book, "areas.description", 1, MODEL)] = "Both  walls"
    told[address(book, "system_2_primer")] = "primer"
    path = typed(told, tmp_path / "channel.xlsx", MODEL)
    names = fill_file(path).values.names
    lines = [names[f"{line}_line"].si for line in ("primers", "lining", "top_coat")]
    assert sum(lines) == names["lining_price"].si and lines[0] > 0 and lines[2] == 0
    assert live_cells_that_change(path)[0] == []
    page = Book.open(path)
    listed = page.area("quote_areas_listed")
    assert listed is not None
    assert page.cell("Quote", listed.first_row + 1, 2).value == "Both walls (system 2)"
    assert page.cell("Quote", listed.first_row, 2).value == ""
    # Without them all is one line, and no price for an area stands beside it.
    for name in ("coats_apart", "unit_prices"):
        told[address(book, name)] = None
    one = checked(told, MODEL).values.names
    assert one["lining_line"].si == one["lining_price"].si == names["lining_price"].si
    assert one["primers_line"].si == one["lining_for_area"].si == 0


def test_rework_in_money_and_in_litres_is_noted_as_twice() -> None:
    notes = [p.text for p in checked(cells_of(JOBS["roof"]), MODEL).problems]
    assert [note for note in notes if note.startswith("rework is in the price twice")]
    notes = [p.text for p in checked(cells_of(JOBS["channel"]), MODEL).problems]
    assert not [note for note in notes if "twice" in note]


def test_a_coat_is_priced_for_its_own_area_and_changed_on_its_own_line(tmp_path: Path) -> None:
    book, told = model_template(MODEL), cells_of(JOBS["channel"])
    told[address(book, "areas.system", 1, MODEL)] = "system 2"
    told[address(book, "system_2_primer")] = "none"
    typed_names = {**QUOTED, "quote_number": "N 1", "quote_date": 46350}
    told |= {address(book, name): word for name, word in typed_names.items()}
    path = typed(told, tmp_path / "channel.xlsx", MODEL)
    names = fill_file(path, deal=accept_on(date(2026, 11, 25))).values.names
    # The wall of 118.4 m by 1.6 m has no primer.
    primed = 118.4 * 2.15 * 2
    assert names["primers_for_area"].si == pytest.approx(float(names["primers_line"].si) / primed)
    every = primed + 118.4 * 1.6
    assert names["lining_for_area"].si == pytest.approx(float(names["lining_line"].si) / every)
    accepted = names["primers_line"].si
    # The wall gets the primer too: what changes stands on the line of the primer.
    typed({address(book, "system_2_primer"): "primer"}, path, source=path)
    names = fill_file(path).values.names
    assert names["change_primers_line"].si == names["primers_line"].si - accepted > 0
    parts = [names[f"change_{line}"].si for line in ("primers_line", "lining_line")]
    parts.append(names["change_top_coat_line"].si)
    assert sum(parts) == names["change_lining_price"].si
    assert live_cells_that_change(path)[0] == []
