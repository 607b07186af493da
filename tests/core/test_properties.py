"""What must hold for any input: conservation, monotony, limits, inverse pairs."""

import math

from hypothesis import given
from hypothesis import strategies as st

from twodrum.core import air, coverage, density, drums, film, mix, money, rounding, shapes, vessels

size = st.floats(0.01, 100)
volume = st.floats(0, 100)
share = st.floats(0.01, 1)
loss = st.floats(0, 0.9)
part = st.floats(0.1, 10)


@given(volume, part, part)
def test_split_by_ratio_adds_up(total: float, iso: float, resin: float) -> None:
    parts = mix.ratio_total(iso, resin)
    split = [mix.component_volume(total, one, parts) for one in (iso, resin)]
    assert math.isclose(sum(split), total, rel_tol=1e-12, abs_tol=1e-15)


@given(volume, loss)
def test_loss_and_the_allowance_equal_to_it_supply_the_same(theory: float, lost: float) -> None:
    allowance = coverage.allowance_equal_to_loss(lost)
    assert math.isclose(
        coverage.supplied_volume(theory, lost),
        coverage.volume_with_allowance(theory, allowance),
        rel_tol=1e-12,
    )


@given(volume)
def test_no_loss_supplies_what_is_needed(theory: float) -> None:
    assert coverage.supplied_volume(theory, 0) == theory


@given(st.floats(0.00005, 0.01), share)
def test_wet_and_dry_film_are_an_inverse_pair(dry: float, solids: float) -> None:
    wet = film.wet_film_thickness(dry, solids)
    assert math.isclose(film.dry_film_thickness(wet, solids), dry, rel_tol=1e-12)


@given(size, st.floats(0.0001, 0.01), share)
def test_spreading_rate_times_volume_is_the_area(area: float, dry: float, solids: float) -> None:
    needed = film.coating_volume(area, dry, solids)
    assert math.isclose(film.spreading_rate(dry, solids) * needed, area, rel_tol=1e-12)


@given(size, st.floats(0.0001, 0.01), st.floats(1.01, 3), share)
def test_thicker_film_takes_more(area: float, dry: float, more: float, solids: float) -> None:
    thin, thick = (film.coating_volume(area, t, solids) for t in (dry, dry * more))
    assert thick > thin


@given(volume, st.floats(0.05, 0.3), st.floats(0, 0.02))
def test_drums_cover_the_need_and_one_fewer_would_not(
    need: float, drum: float, heel: float
) -> None:
    count = drums.drums_opened(need, 0.0, drum, heel, 1e-9)
    usable = drum - heel
    assert count * usable >= need - 2e-9 * usable * max(1, count)
    assert count == 0 or (count - 1) * usable < need


@given(volume, st.floats(0, 3), st.floats(0.05, 0.3), st.floats(0, 0.02))
def test_need_and_left_over_are_stock_and_drums_bought(
    need: float, stock: float, drum: float, heel: float
) -> None:
    bought = drums.drums_to_buy(need, stock, drum, heel, 1e-9)
    left = drums.left_over(need, stock, bought, drum, heel)
    assert math.isclose(need + left, stock + bought * (drum - heel), rel_tol=1e-6, abs_tol=1e-6)


@given(st.floats(900, 1300), st.floats(0, 0.001), st.floats(250, 400), st.floats(250, 400))
def test_mass_stays_when_a_liquid_warms(
    cold: float, expansion: float, warm: float, reference: float
) -> None:
    grown = density.volume_at_temperature(1.0, expansion, warm, reference)
    thinned = density.density_at_temperature(cold, expansion, warm, reference)
    assert math.isclose(density.component_mass(grown, thinned), cold, rel_tol=1e-12)


@given(st.floats(230, 330), st.floats(0.02, 0.99))
def test_dew_point_lies_below_the_air_and_rises_with_humidity(air_k: float, rh: float) -> None:
    assert air.dew_point(air_k, rh) < air_k
    assert air.dew_point(air_k, rh) < air.dew_point(air_k, rh * 1.01)


@given(st.floats(230, 330))
def test_saturated_air_is_at_its_dew_point(air_k: float) -> None:
    assert math.isclose(air.dew_point(air_k, 1.0), air_k, rel_tol=1e-12)


@given(st.decimals(0, 10**7, places=2), st.floats(0, 0.9))
def test_margin_and_its_markup_give_the_same_price(cost: float, margin: float) -> None:
    markup = money.markup_of_margin(margin)
    one = money.price_at_margin(cost, margin, 2)
    other = money.price_at_markup(cost, markup, 2)
    assert abs(float(one - other)) <= 0.0101


@given(st.floats(-1e6, 1e6), st.integers(0, 4))
def test_rounding_moves_by_at_most_half_a_unit(amount: float, places: int) -> None:
    rounded = rounding.worksheet_round(amount, places)
    assert abs(float(rounded) - amount) <= 0.5 * 10**-places * (1 + 1e-9) + 1e-9
    assert rounding.worksheet_round(rounded, places) == rounded


@given(size, size, size)
def test_a_pit_without_setback_is_a_straight_pit(length: float, width: float, deep: float) -> None:
    straight = shapes.pit_area(length, width, deep)
    assert math.isclose(shapes.sloped_pit_area(length, width, deep, 0), straight, rel_tol=1e-12)


@given(size, size)
def test_a_frustum_to_a_point_is_a_cone(diameter: float, height: float) -> None:
    cone = vessels.cone_area(diameter, height)
    assert math.isclose(vessels.frustum_area(diameter, 0, height), cone, rel_tol=1e-12)


@given(size)
def test_a_ring_without_a_hole_is_a_circle(diameter: float) -> None:
    circle = vessels.circle_area(diameter)
    assert math.isclose(vessels.ring_area(diameter, 0), circle, rel_tol=1e-12)
