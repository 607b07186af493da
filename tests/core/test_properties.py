"""What must hold for any input: conservation, monotony, limits, inverse pairs."""

import math

from hypothesis import given
from hypothesis import strategies as st

from twodrum.core import (
    acceptance,
    air,
    balance,
    cause_split,
    coverage,
    drums,
    film,
    heating,
    isocyanate,
    money,
    passes,
    quantiles,
    ratio,
    reconcile,
    rounding,
    shapes,
    spots,
    takeoff,
    trend,
    used_volume,
    vessels,
    viscosity,
)

size = st.floats(0.01, 100)
volume = st.floats(0, 100)
share = st.floats(0.01, 1)
loss = st.floats(0, 0.9)
part = st.floats(0.1, 10)


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
    need: float, drum: float, residue: float
) -> None:
    count = drums.drums_opened(need, 0.0, drum, residue, 1e-9)
    usable = drum - residue
    assert count * usable >= need - 2e-9 * usable * max(1, count)
    assert count == 0 or (count - 1) * usable < need


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


output = st.floats(1e-6, 1e-3)
warm = st.floats(280, 350)
LIQUID = (298.15, 0.6, 338.15, 0.045)


@given(output, share, share, st.floats(0.05, 1), st.floats(0.05, 3), st.floats(0, 0.9))
def test_gun_speed_and_pass_build_are_an_inverse_pair(
    flow: float, landed: float, solids: float, width: float, speed: float, lap: float
) -> None:
    build = passes.film_per_pass(flow, landed, solids, width, speed, lap)
    assert math.isclose(
        passes.gun_speed(flow, landed, solids, width, build, lap), speed, rel_tol=1e-9
    )
    # What a pass covers in a time, by its film, is what lands: overlap does not change it.
    rate = passes.area_rate(flow, landed, solids, build)
    assert math.isclose(rate, width * speed * (1 - lap), rel_tol=1e-9)


@given(output, share, st.floats(0.05, 1), st.floats(0.05, 3), st.floats(0, 0.8))
def test_a_faster_gun_builds_less_and_more_overlap_more(
    flow: float, landed: float, width: float, speed: float, lap: float
) -> None:
    build = passes.film_per_pass(flow, landed, 1.0, width, speed, lap)
    assert passes.film_per_pass(flow, landed, 1.0, width, speed * 1.1, lap) < build
    assert passes.film_per_pass(flow, landed, 1.0, width, speed, lap + 0.05) > build


@given(warm)
def test_viscosity_and_its_temperature_are_an_inverse_pair(temperature: float) -> None:
    found = viscosity.viscosity_from_two_points(temperature, *LIQUID)
    back = viscosity.equal_viscosity_temperature(found, *LIQUID)
    assert math.isclose(back, temperature, rel_tol=1e-9)


@given(st.floats(0.001, 2), warm, st.floats(0, 40))
def test_a_trim_never_leaves_its_window(wanted: float, low: float, width: float) -> None:
    found = balance.trim_temperature(wanted, low, low + width, *LIQUID)
    assert low <= found <= low + width


@given(st.floats(1e5, 6e5), st.floats(0, 30), st.floats(1e3, 1e4), st.floats(260, 300))
def test_more_power_warms_no_slower_and_no_time_warms_nothing(
    capacity: float, loss: float, power: float, around: float
) -> None:
    def reached(watts: float, time: float) -> float:
        drum = (capacity, loss, watts, 134.4, 348.15, around, around)
        return heating.warm_up_temperature(*drum, time)

    assert math.isclose(reached(power, 0.0), around, rel_tol=1e-12)
    assert reached(power * 1.2, 1800.0) >= reached(power, 1800.0) - 1e-9
    assert reached(power, 3600.0) >= reached(power, 1800.0) - 1e-9


amounts = st.lists(st.floats(0.1, 1e3), min_size=3, max_size=3)


@given(st.lists(st.floats(-1e3, 1e3), min_size=2, max_size=6), st.data())
def test_a_weighted_mean_lies_among_its_values_and_is_surer_than_each(
    values: list[float], data: st.DataObject
) -> None:
    uncertainties = [data.draw(st.floats(0.01, 100)) for _ in values]
    found = reconcile.combined(values, uncertainties)
    slack = 1e-9 * max(1.0, *map(abs, values))
    assert min(values) - slack <= found.value <= max(values) + slack
    assert found.uncertainty <= min(uncertainties) * (1 + 1e-12)
    assert 0 <= found.probability <= 1
    # Twice the uncertainty: the same mean.
    again = reconcile.combined(values, [2 * uncertainty for uncertainty in uncertainties])
    assert math.isclose(again.value, found.value, rel_tol=1e-9, abs_tol=slack)


@given(st.lists(st.floats(0, 0.01), min_size=1, max_size=40), st.floats(0.0005, 0.004))
def test_a_film_made_thicker_never_loses_its_acceptance(
    readings: list[float], nominal: float
) -> None:
    thicker = [reading + 0.0001 for reading in readings]
    for judged in (
        acceptance.film_is_accepted,
        acceptance.film_keeps_nine_tenths,
        spots.spots_are_accepted,
    ):
        assert judged(thicker, nominal) >= judged(readings, nominal)


@given(st.floats(0.001, 0.999), st.floats(1, 200))
def test_t_quantile_and_probability_are_an_inverse_pair(chance: float, freedom: float) -> None:
    value = quantiles.t_quantile(chance, freedom)
    assert math.isclose(quantiles.t_probability(value, freedom), chance, rel_tol=1e-9)


@given(st.lists(st.floats(-100, 100), min_size=3, max_size=25), st.floats(-5, 5))
def test_a_trend_added_to_readings_is_added_to_their_slope(
    values: list[float], drift: float
) -> None:
    times = [float(index) for index in range(len(values))]
    plain = trend.robust_slope(times, values)
    moved = [value + drift * time for value, time in zip(values, times, strict=True)]
    assert math.isclose(trend.robust_slope(times, moved), plain + drift, abs_tol=1e-9)
    # Another zero changes nothing.
    shifted = [value + 7.0 for value in values]
    assert math.isclose(trend.robust_slope(times, shifted), plain, abs_tol=1e-9)


@given(part, part, st.floats(1000, 1250), st.floats(900, 1100))
def test_ratio_by_weights_and_its_inverse(
    iso: float, resin: float, heavy: float, light: float
) -> None:
    found = ratio.ratio_from_weights(iso * heavy, heavy, resin * light, light)
    assert math.isclose(found, iso / resin, rel_tol=1e-9)
    back = ratio.ratio_from_weights(resin * light, light, iso * heavy, heavy)
    assert math.isclose(found * back, 1, rel_tol=1e-9)


@given(size, st.floats(0.0001, 0.01), share, loss)
def test_what_a_loss_supplies_has_the_yield_that_is_left(
    area: float, film_thickness: float, solids: float, lost: float
) -> None:
    needed = film.coating_volume(area, film_thickness, solids)
    supplied = coverage.supplied_volume(needed, lost)
    found = used_volume.transfer_yield(area, film_thickness, solids, supplied)
    assert math.isclose(found, 1 - lost, rel_tol=1e-9)


@given(st.decimals(0, 10**6, places=2), st.floats(0, 0.5))
def test_net_and_tax_inside_are_the_gross_price(gross: object, rate: float) -> None:
    amount = float(str(gross))
    inside, net = money.tax_inside(amount, rate, 2), money.net_inside(amount, rate, 2)
    assert math.isclose(float(inside + net), amount, abs_tol=1e-9)


@given(st.floats(0.05, 0.3), st.floats(0.05, 0.6), st.floats(0.5, 2))
def test_index_is_in_proportion_to_the_ratio(nco: float, weight: float, parts: float) -> None:
    one = isocyanate.isocyanate_index(1.0, 1.0, 1120, 1010, nco, weight)
    other = isocyanate.isocyanate_index(parts, 1.0, 1120, 1010, nco, weight)
    assert math.isclose(other, one * parts, rel_tol=1e-9)


@given(size, st.integers(1, 50))
def test_pieces_of_an_area_add_up(length: float, count: int) -> None:
    one = takeoff.surface_area("known area", length)
    assert math.isclose(
        takeoff.measured_area(one, 0.0, float(count), 1.0), count * one, rel_tol=1e-12
    )


@given(size, st.integers(1, 9), size)
def test_small_openings_are_not_taken_off_and_large_ones_whole(
    opening: float, count: int, threshold: float
) -> None:
    found = takeoff.deducted_area(opening, float(count), threshold)
    assert found == (count * opening if opening > threshold else 0)
    assert takeoff.deducted_area(opening, float(count), 0.0) == count * opening
    assert takeoff.deducted_area(threshold, float(count), threshold) == 0


@given(warm, st.floats(0.1, 20))
def test_hotter_is_thinner(temperature: float, more: float) -> None:
    cold = viscosity.viscosity_from_two_points(temperature, *LIQUID)
    hot = viscosity.viscosity_from_two_points(temperature + more, *LIQUID)
    assert hot < cold


@given(st.lists(st.floats(0.5, 20), min_size=1, max_size=5), st.data())
def test_parts_of_a_product_add_up(before: list[float], data: st.DataObject) -> None:
    after = [data.draw(st.floats(0.5, 20)) for _ in before]
    total = math.prod(after) - math.prod(before)
    parts = cause_split.product_split(before, after)
    size = max(map(abs, parts))
    assert math.isclose(sum(parts), total, rel_tol=1e-8, abs_tol=1e-9 * (1 + size))
    # What did not change takes no part.
    assert cause_split.product_split(before, before) == [0.0] * len(before)


@given(st.integers(0, 10**9), st.integers(0, 10**6))
def test_what_is_taken_off_is_the_remainder_in_whole_cents(cents: int, step: int) -> None:
    """Against the remainder of whole numbers."""
    off = money.rounding_off(cents / 100, step / 100, 2, 1e-12)
    assert off * 100 == (cents % step if 0 < step <= cents else 0)
