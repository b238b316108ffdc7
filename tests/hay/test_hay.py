"""Bales, storage and feeding loss, need and money: what must hold for any input."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from rickyard.farm import Feeder, Package, Storage, Wrap
from rickyard.hay.bales import bales, delivery, weathering
from rickyard.hay.common.tables import end_of, find, read_table
from rickyard.hay.feeding import caps, feeding, need, supply
from rickyard.hay.feeding import hand_rations as by_hand
from rickyard.hay.money import investment, money, worth
from rickyard.hay.storage import baleage, storage
from rickyard.quantities import OutOfRange, convert
from support.rows import each_row

STORAGES = st.sampled_from(list(Storage))
WRAPS = st.sampled_from([None, *Wrap])
RAIN = st.floats(0.0, 3000.0)
MONTHS = st.floats(0.0, 36.0)
LOSS = st.floats(0.0, 90.0)
MASS = st.floats(1.0, 1e6)


# Storage ---------------------------------------------------------------------------------------


@given(STORAGES, MONTHS, RAIN, WRAPS)
def test_a_storage_loss_is_a_percentage_that_leaves_something(
    where: Storage, months: float, rain: float, wrap: Wrap | None
) -> None:
    assert 0.0 <= storage.storage_loss_pct(where, months, rain, wrap) <= storage.MOST_LOSS_PCT


@given(STORAGES, MONTHS, MONTHS, RAIN, WRAPS)
def test_hay_does_not_come_back(
    where: Storage, first: float, second: float, rain: float, wrap: Wrap | None
) -> None:
    early, late = sorted((first, second))
    before = storage.storage_loss_pct(where, early, rain, wrap)
    assert before <= storage.storage_loss_pct(where, late, rain, wrap) + 1e-12


@given(STORAGES, MONTHS, RAIN, RAIN)
def test_more_rain_never_loses_less(
    where: Storage, months: float, first: float, second: float
) -> None:
    dry, wet = sorted((first, second))
    kept = storage.storage_loss_pct(where, months, dry)
    assert kept <= storage.storage_loss_pct(where, months, wet) + 1e-12


@given(STORAGES, MONTHS, MONTHS, MONTHS, RAIN)
def test_what_remains_multiplies_over_time(
    where: Storage, first: float, second: float, third: float, rain: float
) -> None:
    a, b, c = sorted((first, second, third))
    whole = storage.remaining_fraction(where, a, c, rain)
    parts = storage.remaining_fraction(where, a, b, rain) * storage.remaining_fraction(
        where, b, c, rain
    )
    assert whole == pytest.approx(parts, rel=1e-12)
    assert 0.0 < whole <= 1.0


@each_row("where", list(Storage))
def test_months_as_an_array_give_what_they_give_one_by_one(where: Storage) -> None:
    months = np.array([[0.0, 4.0, 9.0], [11.5, 15.0, 40.0]])
    together = storage.storage_loss_pct(where, months, 900.0, Wrap.NET)
    one_by_one = [
        storage.storage_loss_pct(where, float(month), 900.0, Wrap.NET) for month in months.flat
    ]
    assert together.shape == months.shape
    assert together.flat == pytest.approx(one_by_one)
    assert isinstance(one_by_one[0], float)


def test_better_storage_loses_less_in_a_wet_year() -> None:
    order = [
        Storage.EXPOSED_GROUND,
        Storage.EXPOSED_ELEVATED,
        Storage.COVERED_GROUND,
        Storage.ROOF_OPEN_SIDES,
        Storage.ENCLOSED_BARN,
    ]
    losses = [storage.storage_loss_pct(where, 9.0, 1200.0) for where in order]
    assert losses == sorted(losses, reverse=True)


def test_a_wrap_counts_only_for_bales_that_stand_exposed() -> None:
    barn = storage.storage_loss_pct(Storage.ENCLOSED_BARN, 9.0, 1200.0, Wrap.SISAL)
    assert barn == storage.storage_loss_pct(Storage.ENCLOSED_BARN, 9.0, 1200.0)
    twine, net, sisal = (
        storage.storage_loss_pct(Storage.EXPOSED_GROUND, 6.0, 1200.0, wrap)
        for wrap in (Wrap.PLASTIC_TWINE, Wrap.NET, Wrap.SISAL)
    )
    assert net < twine < sisal
    # Net over twine: Collins 10.6/18.2 = 0.58 of sisal, Minnesota 0.68, Shinners 7.3/11.3.
    assert 0.58 <= net / twine <= 0.68


def test_wrapped_baleage_loses_five_percent_over_nine_months_and_needs_no_rain() -> None:
    losses = storage.storage_loss_pct(Storage.WRAPPED, np.array([0.0, 4.5, 9.0, 24.0]))
    assert losses == pytest.approx([0.0, 2.5, 5.0, 5.0])


def test_unknown_rain_is_asked_for_not_taken_as_none() -> None:
    with pytest.raises(OutOfRange, match="rainfall"):
        storage.storage_loss_pct(Storage.EXPOSED_GROUND, 6.0)


@pytest.mark.parametrize(
    ("where", "months", "wrap", "word"),
    [
        (Storage.EXPOSED_GROUND, 15.0, Wrap.SISAL, "60%"),
        (Storage.ENCLOSED_BARN, 19.0, None, "18 months"),
        (Storage.WRAPPED, 10.0, None, "9 months"),
        (Storage.ENCLOSED_BARN, 9.0, None, None),
        (Storage.WRAPPED, 8.0, None, None),
    ],
)
def test_what_the_table_does_not_cover_is_said(
    where: Storage, months: float, wrap: Wrap | None, word: str | None
) -> None:
    remark = storage.storage_loss_remark(where, months, 1200.0, wrap)
    assert (remark is None) if word is None else (remark is not None and word in remark)


@pytest.mark.parametrize("months", [-1.0, float("nan"), float("inf")])
def test_a_time_that_is_none_is_refused(months: float) -> None:
    with pytest.raises(OutOfRange, match="months"):
        storage.storage_loss_pct(Storage.ENCLOSED_BARN, months, 900.0)


def test_an_earlier_age_is_refused() -> None:
    with pytest.raises(OutOfRange, match="before"):
        storage.remaining_fraction(Storage.ENCLOSED_BARN, 3.0, 2.0, 900.0)


@pytest.mark.parametrize(
    ("table", "method", "period", "end", "word"),
    [
        ("osu_bae1716", "exposed_ground", "le9", "", "low or its high"),
        ("osu_bae1716", "exposed_ground", "", "high", "more than one"),
        ("tennessee", "silo", "", "", "net_wrap_ground"),
        ("kentucky", "outside_uncovered_ground", "", "high", "no high"),
    ],
)
def test_a_cell_that_is_not_printed_is_not_made_up(
    table: str, method: str, period: str, end: storage.End, word: str
) -> None:
    with pytest.raises(OutOfRange, match=word):
        storage.storage_loss_lookup(table, method, period, end)


@pytest.mark.parametrize(
    ("name", "unit", "keys"),
    [
        ("storage_losses", "pct", ("table", "method", "period")),
        ("feeding_losses", "pct", ("table", "method")),
        ("feeder_space", "in", ("animal", "mode")),
    ],
)
def test_every_published_row_is_ordered_sourced_and_its_own(
    name: str, unit: str, keys: tuple[str, ...]
) -> None:
    rows = read_table(name, unit, keys)
    assert len({row.key for row in rows}) == len(rows)
    for row in rows:
        assert row.source
        assert row.low is not None or row.high is not None
        assert row.low is None or row.high is None or 0.0 <= row.low <= row.high <= 100.0


def test_the_bunker_line_stops_where_its_table_does() -> None:
    assert storage.bunker_loss_pct(convert(15.0, "lb_per_ft3", "kg_per_m3"), 90.0) == pytest.approx(
        15.95 / 2.0
    )
    with pytest.raises(OutOfRange, match="density"):
        storage.bunker_loss_pct(convert(23.0, "lb_per_ft3", "kg_per_m3"))
    with pytest.raises(OutOfRange, match="days"):
        storage.bunker_loss_pct(convert(15.0, "lb_per_ft3", "kg_per_m3"), 400.0)


# Bales -----------------------------------------------------------------------------------------


@pytest.mark.parametrize(("diameter", "width"), [(0.8, 1.5), (1.5, 2.1), (np.nan, 1.5)])
def test_a_round_bale_of_impossible_size_is_refused(diameter: float, width: float) -> None:
    with pytest.raises(OutOfRange, match="round bale"):
        bales.round_volume_m3(diameter, width)


def test_the_book_densities_lie_in_the_published_ranges() -> None:
    rows = read_table("bale_densities", "lb_ft3", ("package", "what", "basis"))
    for package, basis, book_kg_m3 in (
        ("round", "dm", bales.ROUND_DM_DENSITY_KG_M3),
        ("small_square", "as_fed", bales.book_density_as_fed_kg_m3(Package.SMALL_SQUARE, 15.0)),
        ("large_square", "as_fed", bales.book_density_as_fed_kg_m3(Package.LARGE_SQUARE, 15.0)),
    ):
        printed = find(rows, (package, "", basis))
        low, high = end_of(printed, "low"), end_of(printed, "high")
        assert low <= convert(book_kg_m3, "kg_per_m3", "lb_per_ft3") <= high
    with pytest.raises(OutOfRange, match="loose"):
        bales.book_density_as_fed_kg_m3(Package.LOOSE, 15.0)


def test_a_book_bale_weighs_its_volume_by_its_density() -> None:
    """A 5x5 at 10 lb DM/ft3 and 15 % moisture: 1,155 lb (derived table of bale weights)."""
    side = convert(5.0, "ft", "m")
    weight = bales.bale_weight_kg(
        bales.round_volume_m3(side, side), bales.book_density_as_fed_kg_m3(Package.ROUND, 15.0)
    )
    assert convert(weight, "kg", "lb") == pytest.approx(1155.0, abs=0.5)


# Weathering ------------------------------------------------------------------------------------


@given(st.floats(0.0, 0.7), st.floats(1.0, 1.9), st.sampled_from([0, 1, 2]))
def test_a_skin_is_a_share_and_grows_with_its_depth(
    layer: float, diameter: float, ends: int
) -> None:
    share = weathering.weathered_pct(layer, diameter, 1.4, ends)
    assert 0.0 <= share <= 100.0
    assert share <= weathering.weathered_pct(layer + 0.01, diameter, 1.4, ends) + 1e-12


@given(st.floats(0.0, 1.0))
def test_bottom_and_top_make_a_bale(part: float) -> None:
    bottom = weathering.bottom_segment_pct(part * 1.5, 1.5)
    top = weathering.bottom_segment_pct((1.0 - part) * 1.5, 1.5)
    assert bottom + top == pytest.approx(100.0)


def test_a_skin_that_meets_in_the_middle_is_the_whole_bale() -> None:
    assert weathering.weathered_pct(0.8, 1.5) == 100.0
    assert weathering.weathered_ends_pct(0.8, 1.5, 2) == 100.0


def test_ends_need_a_width_and_there_are_two() -> None:
    with pytest.raises(OutOfRange, match="width"):
        weathering.weathered_pct(0.1, 1.5, ends=2)
    with pytest.raises(OutOfRange, match="0, 1 or 2"):
        weathering.weathered_pct(0.1, 1.5, 1.5, ends=3)


# Feeding ---------------------------------------------------------------------------------------


@each_row("feeder", list(Feeder))
def test_every_feeder_has_a_loss_to_plan_with(feeder: Feeder) -> None:
    inside = feeding.feeding_loss_pct(feeder, storage=Storage.ENCLOSED_BARN)
    assert 0.0 < inside < 50.0
    assert feeding.feeding_loss_pct(feeder) == inside
    assert feeding.feeding_loss_pct(feeder, storage=Storage.COVERED_GROUND) == inside
    for outside in (Storage.EXPOSED_GROUND, Storage.EXPOSED_ELEVATED):
        assert feeding.feeding_loss_pct(feeder, storage=outside) == inside + 5.0


@given(MASS, LOSS)
def test_waste_measured_is_waste_applied(offered: float, lost: float) -> None:
    assert feeding.waste_pct(need.lost(offered, lost), offered) == pytest.approx(lost)


# Need and supply -------------------------------------------------------------------------------


def test_the_worked_plan() -> None:
    """60 cows x 1,300 lb x 2.2 % x 135 d; DM 88 %, waste 15 %, loss 12 %, reserve 15 %."""
    eaten = need.herd_dm(60, 1300.0, 2.2, 135)
    assert eaten == pytest.approx(231_660.0)
    as_fed = need.as_fed_from_dm(eaten, 88.0)
    assert as_fed == pytest.approx(263_250.0)
    to_feed = need.before_loss(as_fed, 15.0)
    assert to_feed == pytest.approx(309_706.0, abs=0.5)
    to_store = need.before_loss(to_feed, 12.0)
    assert to_store == pytest.approx(351_939.0, abs=0.5)
    assert to_store * 1.15 / 2000.0 == pytest.approx(202.4, abs=0.05)
    assert supply.bales_rounded_up(to_store * 1.15, 1000.0) == 405.0


@given(MASS, st.floats(20.0, 95.0), LOSS, LOSS)
def test_losses_divide_and_what_is_stored_reaches_the_mouth(
    dm: float, dm_pct: float, waste: float, lost: float
) -> None:
    def stored(mode: need.LossMode) -> float:
        offered = need.before_loss(need.as_fed_from_dm(dm, dm_pct), waste, mode)
        return float(need.before_loss(offered, lost, mode))

    kept = (1.0 - lost / 100.0) * (1.0 - waste / 100.0) * dm_pct / 100.0
    assert stored("divide") * kept == pytest.approx(dm)
    assert stored("multiply") <= stored("divide") * (1.0 + 1e-12)


@given(MASS, LOSS)
def test_a_loss_taken_off_what_it_was_added_to(amount: float, lost: float) -> None:
    gross = need.before_loss(amount, lost)
    assert gross - need.lost(gross, lost) == pytest.approx(amount)


def test_a_half_bale_rounds_up_and_too_many_given_is_none_now() -> None:
    assert delivery.bales_this_feeding(1500.0, 1000.0, 0) == 2.0
    assert delivery.bales_this_feeding(1500.0, 1000.0, 5) == 0.0


@given(st.floats(1.0, 1e5), st.floats(1.0, 400.0))
def test_the_reserve_is_at_least_thirty_days(total: float, days: float) -> None:
    held = supply.reserve(total, days)
    assert held >= 0.15 * total * (1.0 - 1e-12)
    assert held >= 30.0 * total / days * (1.0 - 1e-12)
    assert supply.reserve(total, days, drought_often=True) >= held


def test_whole_bales_round_up_but_not_for_dust() -> None:
    assert supply.bales_rounded_up(1200.0, 0.1) == 12000.0
    assert supply.bales_rounded_up(np.array([1000.0, 1001.0]), 1000.0).tolist() == [1.0, 2.0]


def test_the_hay_runs_out_at_its_reserve() -> None:
    assert supply.days_until_out(100.0, 40.0, 2.0) == 30.0
    assert supply.days_until_out(30.0, 40.0, 2.0) == 0.0


def test_a_change_of_hay_is_whole_on_its_last_day() -> None:
    shares = delivery.new_hay_share_frac(np.arange(1.0, 8.0), 5.0)
    assert shares.tolist() == pytest.approx([0.2, 0.4, 0.6, 0.8, 1.0, 1.0, 1.0])


# Money -----------------------------------------------------------------------------------------


@given(st.floats(10.0, 500.0), st.floats(40.0, 95.0), LOSS, LOSS)
def test_price_eaten_pays_for_everything_stored(
    price: float, dm_pct: float, waste: float, lost: float
) -> None:
    eaten = money.price_eaten(money.dm_price(price, dm_pct), lost, waste)
    to_store = need.before_loss(need.before_loss(need.as_fed_from_dm(1.0, dm_pct), waste), lost)
    assert eaten / to_store == pytest.approx(price)


@given(st.floats(10.0, 500.0), st.floats(1.0, 70.0), st.floats(40.0, 95.0))
def test_hay_is_worth_its_price_at_its_own_cost_of_nutrient(
    price: float, nutrient: float, dm_pct: float
) -> None:
    cost = money.nutrient_cost(price, 1.0, nutrient, dm_pct)
    assert worth.hay_value(cost, nutrient, dm_pct) == pytest.approx(price)


@given(st.floats(1.0, 40.0), st.floats(5.0, 60.0), st.floats(0.0, 4.0))
def test_breakeven_price_and_cost_are_two_sides(
    cost: float, without: float, with_storage: float
) -> None:
    price = investment.breakeven_price(cost, without, with_storage)
    assert investment.breakeven_cost(price, without, with_storage) == pytest.approx(cost)


def test_storage_that_saves_nothing_never_pays() -> None:
    with pytest.raises(OutOfRange, match="saves no hay"):
        investment.breakeven_price(10.0, 5.0, 5.0)


def test_capital_recovery_meets_plain_depreciation_as_interest_vanishes() -> None:
    yearly = investment.capital_recovery(24_000.0, np.array([0.0, 1e-6, 6.0]), 12.0)
    assert yearly[0] == pytest.approx(2000.0)
    assert yearly[1] == pytest.approx(2000.0, rel=1e-6)
    assert yearly[2] > yearly[1]
    # Derived, a barn: $25,000 over 20 years at 6 % with 2 % upkeep is $2,680 a year.
    assert investment.capital_recovery(25_000.0, 6.0, 20.0, 500.0) == pytest.approx(2680, abs=0.5)


def test_the_two_price_feeds_price_themselves() -> None:
    corn, meal = (0.7744, 0.0792, 0.0804), (0.7476, 0.4806, 0.2000)
    prices = worth.nutrient_prices(corn, meal)
    for feed in (corn, meal):
        assert np.dot(prices, feed[:2]) == pytest.approx(feed[2])
    with pytest.raises(OutOfRange, match="less than nothing"):
        worth.nutrient_prices((0.7744, 0.0792, 0.30), (0.7476, 0.4806, 0.05))
    with pytest.raises(OutOfRange, match="one proportion"):
        worth.nutrient_prices((0.8, 0.1, 0.1), (0.4, 0.05, 0.1))


def test_freight_is_spread_over_the_load() -> None:
    """Derived: $3.50 x 300 mi / 21.25 ton = $49.41 a ton."""
    assert money.delivered_price(100.0, 3.5, 300.0, 21.25) == pytest.approx(149.41, abs=0.005)


@pytest.mark.parametrize("dm", [0.88, 0.0, 99.0, float("nan")])
def test_dry_matter_typed_as_a_fraction_is_refused(dm: float) -> None:
    with pytest.raises(OutOfRange, match="dry matter"):
        money.dm_price(100.0, dm)


# By hand ---------------------------------------------------------------------------------------


@given(st.floats(1.0, 40.0), st.floats(1.0, 40.0), st.floats(0.01, 0.99))
def test_a_square_hits_its_target(a: float, b: float, share: float) -> None:
    target = share * a + (1.0 - share) * b
    if not min(a, b) < target < max(a, b):
        with pytest.raises(OutOfRange, match="between"):
            by_hand.pearson_square(target, a, b)
        return
    mix = by_hand.pearson_square(target, a, b)
    assert (mix.pct_a * a + mix.pct_b * b) / 100.0 == pytest.approx(target)


@given(st.floats(0.5, 10.0), st.floats(0.5, 10.0))
def test_two_equations_give_back_their_amounts(x: float, y: float) -> None:
    a, b = (0.10, 0.80), (0.35, 0.50)
    supply_of = (x * a[0] + y * b[0], x * a[1] + y * b[1])
    assert by_hand.two_feeds_two_nutrients(a, b, supply_of) == pytest.approx((x, y))


def test_an_answer_that_no_feed_can_give_is_refused() -> None:
    with pytest.raises(OutOfRange, match="exactly"):
        by_hand.two_feeds_two_nutrients((0.10, 0.80), (0.35, 0.50), (3.0, 0.5))
    with pytest.raises(OutOfRange, match="nutrient in the feed"):
        by_hand.feed_for(4.0, 15.0 - 15.0)


def test_enough_hay_needs_no_supplement() -> None:
    assert by_hand.deficit(2000.0, by_hand.supplied(28.0 * 150, 60.0)) == 0.0
    assert by_hand.deficit(3.0, 4.0) == 0.0


def test_a_feed_under_the_sulfur_limit_is_not_capped() -> None:
    caps_pct = caps.most_feed_for_sulfur_pct(0.18, np.array([0.2, 0.4, 0.9]))
    assert caps_pct == pytest.approx([100.0, 100.0, 100.0 * 0.22 / 0.72])
    with pytest.raises(OutOfRange, match="over the sulfur limit"):
        caps.most_feed_for_sulfur_pct(0.5, 0.9)


def test_a_whole_yard_at_once_is_what_it_is_bale_by_bale() -> None:
    diameters = np.array([1.2, 1.5, 1.8])
    volumes = bales.round_volume_m3(diameters, 1.2)
    weights = bales.bale_weight_kg(volumes, 180.0)
    for diameter, weight in zip(diameters, weights, strict=True):
        volume = bales.round_volume_m3(float(diameter), 1.2)
        alone = bales.bale_weight_kg(volume, 180.0)
        assert isinstance(alone, float)
        assert alone == pytest.approx(weight)


# Feeding by animal and by the days of a delivery --------------------------------------------------


@given(st.sampled_from(list(Feeder)), st.floats(1.0, 10.0), st.floats(1.0, 10.0))
def test_rarer_deliveries_never_waste_less(feeder: Feeder, one: float, other: float) -> None:
    often, rarely = sorted((one, other))
    low = feeding.feeding_loss_pct(feeder, days_per_delivery=often)
    high = feeding.feeding_loss_pct(feeder, days_per_delivery=rarely)
    assert low <= high + 1e-9
    if not feeding.FEEDERS[feeder].on_the_ground:
        assert low == high


def test_hay_for_four_days_on_the_ground_takes_a_quarter_more() -> None:
    daily, fourth = (
        feeding.feeding_loss_pct(Feeder.UNROLLED_DAILY, days_per_delivery=days)
        for days in (1.0, 4.0)
    )
    assert (100.0 - daily) / (100.0 - fourth) == pytest.approx(1.25)
    assert feeding.feeding_loss_pct(Feeder.UNROLLED_DAILY, days_per_delivery=9.0) == fourth


@pytest.mark.parametrize(
    ("feeder", "loss"),
    [
        (Feeder.NONE, 57.0),
        (Feeder.OPEN_RING, 19.0),
        (Feeder.CONE_RING, 19.0),
        (Feeder.CRADLE, 11.0),
    ],
)
def test_horses_waste_what_is_published_for_horses(feeder: Feeder, loss: float) -> None:
    assert feeding.feeding_loss_pct(feeder, "horses") == loss


@pytest.mark.parametrize(("feeder", "animal"), [(Feeder.BUNK, "horses"), (Feeder.BUNK, "sheep")])
def test_a_loss_that_nobody_published_is_refused(feeder: Feeder, animal: feeding.Animal) -> None:
    with pytest.raises(OutOfRange, match="published"):
        feeding.feeding_loss_pct(feeder, animal)


# Baleage ----------------------------------------------------------------------------------------


@each_row(
    ("moisture", "levels"),
    [(50.0, []), (45.0, []), (60.0, []), (42.0, ["note"]), (63.0, ["note"]), (39.0, ["warning"]),
     (66.0, ["danger"])],
)  # fmt: skip
def test_baleage_off_the_mark_is_told(moisture: float, levels: list[str]) -> None:
    assert [one.level for one in baleage.baleage_cautions("A", moisture)] == levels


@pytest.mark.parametrize(("months", "levels"), [(9.0, []), (10.0, ["note"]), (13.0, ["warning"])])
def test_the_age_of_baleage_is_told(months: float, levels: list[str]) -> None:
    assert [one.level for one in baleage.baleage_cautions("A", 50.0, months)] == levels
