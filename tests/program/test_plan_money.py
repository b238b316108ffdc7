"""Whole loads, sales, a cash limit, a reserve, dates and grazing, worked out by hand."""

from __future__ import annotations

from dataclasses import replace
from datetime import timedelta

import pytest

from rickyard.farm import Farm, Feed, FeedKind, Group, Lot, Report, StatedNeed
from rickyard.forage.values.nitrate import nitrate_share_limit
from rickyard.program.audit.audit import recheck
from rickyard.program.planning.season import plan_season
from rickyard.program.problem.problem import problem_of
from rickyard.program.result.result import SeasonProgram, Shortage
from rickyard.sheets.data_files.plan_json import plan_json
from rickyard.sheets.data_files.plan_load import program_from_json
from support.farms import START
from support.season_farms import cows, farm_of, hay, report_on
from support.weekly import WEEKLY

#: Ten cows eat ten kilograms each for four weeks: 2,800 kg of dry matter.
HEAD, KG, DAYS = 10, 10.0, 28
EATEN_KG = HEAD * KG * DAYS

#: Hay to be bought: 80 % dry matter, nothing wasted.
BOUGHT = Feed(
    "bought",
    "Bought hay",
    FeedKind.FORAGE,
    0.10,
    dm_pct=80.0,
    tdn_pct=55.0,
    cp_pct=9.0,
    ndf_pct=60.0,
    ca_pct=0.5,
    p_pct=0.2,
    feeding_loss_pct=0.0,
)


def ten_cows() -> Group:
    return replace(cows(), head=HEAD, name="Ten cows")


def farm_with(lots: list[tuple[Lot, Report]], *feeds: Feed, **season: object) -> Farm:
    """A farm whose cows need dry matter and nothing else, so that a pencil is enough."""
    farm = farm_of(lots, [ten_cows()], list(feeds))
    need = StatedNeed("cows", farm.season.start, farm.season.end, least_dm_kg=KG, most_dm_kg=KG)
    keeps = {"carry_over_value_pct": 100.0, **season}
    changed = replace(farm.season, **keeps)  # type: ignore[arg-type]
    return replace(farm, needs=(need,), season=changed)


def planned(farm: Farm) -> SeasonProgram:
    program = plan_season(farm, options=WEEKLY)
    read_back = program_from_json(plan_json(program))
    assert [str(one) for one in recheck(read_back, farm)] == []
    return program


def lot(tonnes: float, usd_per_t: float, **more: object) -> tuple[Lot, Report]:
    one = hay("lot", 55.0, 9.0, tonnes, usd_per_t, **more)
    return one, report_on(one, 55.0, 9.0)


def short(program: SeasonProgram, nutrient: str) -> Shortage:
    return next(one for one in program.shortages if one.nutrient == nutrient)


# Whole loads: 2,800 kg of dry matter are 3,500 kg of this hay, so four loads of a tonne.


@pytest.mark.parametrize(
    ("keeps", "total"), [(150.0, 350.0), (100.0, 350.0), (80.0, 360.0), (0.0, 400.0)]
)
def test_loads_are_whole_and_what_is_left_keeps_its_share(keeps: float, total: float) -> None:
    farm = farm_with([], replace(BOUGHT, load_kg=1000.0), carry_over_value_pct=keeps)
    program = planned(farm)
    (bought,) = program.purchases
    assert bought.loads == 4
    assert bought.as_fed_kg == pytest.approx(4000.0)
    assert bought.left_kg == pytest.approx(500.0)
    assert bought.cost_usd == pytest.approx(400.0)
    assert program.costs.purchases == pytest.approx(400.0)
    assert program.costs.feed_left == pytest.approx(-min(keeps / 100.0, 1.0) * 50.0)
    assert program.cost == pytest.approx(total)


def test_a_feed_without_loads_is_bought_by_the_kilogram() -> None:
    (bought,) = planned(farm_with([], BOUGHT)).purchases
    assert (bought.loads, bought.left_kg) == (None, 0.0)
    assert bought.as_fed_kg == pytest.approx(3500.0)


def test_the_most_that_can_be_bought_is_cut_to_whole_loads() -> None:
    farm = farm_with([], replace(BOUGHT, load_kg=1000.0, most_kg=3900.0))
    program = planned(farm)
    assert program.purchases[0].loads == 3
    # Three loads hold 2,400 kg of dry matter.
    assert short(program, "least_dm").total == pytest.approx(EATEN_KG - 2400.0)


def test_a_load_larger_than_what_can_be_bought_is_not_bought() -> None:
    program = planned(farm_with([], replace(BOUGHT, load_kg=1000.0, most_kg=900.0)))
    assert program.purchases == ()


# Sales: 20 t at 88 % dry matter, worth $100 a tonne to the farm.


def test_hay_is_sold_where_another_costs_less_than_it_brings() -> None:
    farm = farm_with([lot(20.0, 100.0, sale_usd_per_kg=0.15)], BOUGHT)
    program = planned(farm)
    (sale,) = program.sales
    # Bought hay is $125 a tonne of dry matter, the lot brings 150 / 0.88 = $170: all of it goes.
    assert sale.as_fed_kg == pytest.approx(20000.0)
    assert sale.bales == pytest.approx(40.0)
    assert sale.revenue_usd == pytest.approx(3000.0)
    assert program.lots[0].sold_t == pytest.approx(17.6)
    assert program.lots[0].storage_loss_t == pytest.approx(0.0, abs=1e-9)
    assert program.costs.hay_sold == pytest.approx(2000.0 - 3000.0)
    assert program.cost == pytest.approx(350.0 - 1000.0)


def test_hay_that_is_needed_is_not_sold_for_less_than_it_saves() -> None:
    dear = replace(BOUGHT, price_usd_per_kg=0.20)
    farm = farm_with([lot(20.0, 100.0, sale_usd_per_kg=0.15)], dear)
    program = planned(farm)
    (balance,) = program.lots
    assert program.purchases == ()
    assert balance.eaten_t == pytest.approx(EATEN_KG / 1000.0)
    assert balance.left_t == pytest.approx(0.0, abs=1e-6)
    # Only hay that stays is lost in storage.
    assert balance.sold_t == pytest.approx(17.6 - 2.8 - balance.storage_loss_t)


def test_hay_worth_more_than_it_brings_stays() -> None:
    farm = farm_with([lot(20.0, 100.0, sale_usd_per_kg=0.09)], BOUGHT)
    program = planned(farm)
    assert program.sales == ()
    assert program.lots[0].sold_t == 0.0


# Money.


def test_no_more_is_spent_than_there_is() -> None:
    program = planned(farm_with([], BOUGHT, cash_limit_usd=200.0))
    (cash,) = program.farm_limits
    assert (cash.nutrient, cash.bound, cash.shortage) == ("cash", "at_most", 0.0)
    assert cash.supplied == pytest.approx(200.0)
    # $200 buys two tonnes, 1,600 kg of dry matter.
    assert short(program, "least_dm").total == pytest.approx(EATEN_KG - 1600.0)


def test_hay_sold_pays_for_feed() -> None:
    farm = farm_with([lot(20.0, 100.0, sale_usd_per_kg=0.15)], BOUGHT, cash_limit_usd=0.0)
    program = planned(farm)
    assert program.status == "complete"
    assert program.farm_limits[0].supplied == pytest.approx(350.0 - 3000.0)


def test_whole_loads_are_paid_in_full() -> None:
    farm = farm_with([], replace(BOUGHT, load_kg=1000.0), cash_limit_usd=400.0)
    program = planned(farm)
    assert program.status == "complete"
    assert program.farm_limits[0].supplied == pytest.approx(400.0)


def test_what_must_be_on_offer_comes_before_the_cash_limit() -> None:
    salt = Feed("salt", "Salt", FeedKind.MINERAL, 0.5, dm_pct=100.0, least_kg_per_head_day=0.05)
    farm = farm_with([lot(20.0, 100.0)], salt, cash_limit_usd=0.0)
    farm = replace(farm, needs=())
    program = planned(farm)
    # 10 cows, 28 days, 50 g a day: 14 kg, $7.
    missing = short(program, "cash")
    assert missing.group_id == ""
    assert missing.most_per_head_day is None
    assert missing.total == pytest.approx(7.0)
    assert "$7.00 more is needed" in missing.sentence


def test_no_limit_is_no_row() -> None:
    program = planned(farm_with([lot(20.0, 100.0)], BOUGHT))
    assert program.farm_limits == ()


# A reserve: 30 days of 2.5 % of live weight.


def reserve_t(program: SeasonProgram, days: float) -> float:
    weight = max(cell.full_weight_kg for cell in program.groups if cell.period == 3)
    return days * HEAD * 0.025 * weight / 1000.0


def test_hay_is_left_for_the_reserve_and_other_feed_bought() -> None:
    some = [lot(6.0, 100.0)]
    dear = replace(BOUGHT, price_usd_per_kg=0.20)
    assert planned(farm_with(some, dear)).purchases == ()
    program = planned(farm_with(some, dear, reserve_days=30.0))
    wanted = reserve_t(program, 30.0)
    (balance,) = program.lots
    assert program.status == "complete"
    assert balance.left_t == pytest.approx(wanted)
    assert program.farm_limits[0].need == pytest.approx(wanted)
    bought = program.purchases[0].dm_kg / 1000.0
    assert bought + balance.eaten_t == pytest.approx(2.8)


def test_a_reserve_that_cannot_be_kept_is_named() -> None:
    program = planned(farm_with([lot(3.0, 100.0)], BOUGHT, reserve_days=30.0))
    missing = short(program, "reserve")
    left = program.lots[0].left_t
    assert program.lots[0].eaten_t == pytest.approx(0.0, abs=1e-9)
    assert missing.group_id == ""
    assert missing.total == pytest.approx(reserve_t(program, 30.0) - left)
    assert "needed in reserve for a late spring" in missing.sentence


def test_animals_come_before_the_reserve() -> None:
    program = planned(farm_with([lot(3.0, 100.0)], reserve_days=30.0))
    assert [one.nutrient for one in program.shortages if one.nutrient != "reserve"] == ["least_dm"]
    assert program.lots[0].left_t == pytest.approx(0.0, abs=1e-6)


def test_no_reserve_is_asked_for_those_who_have_left() -> None:
    farm = farm_with([lot(6.0, 100.0)], reserve_days=30.0)
    gone = replace(farm.groups[0], to_on=START + timedelta(days=14))
    assert problem_of(replace(farm, groups=(gone,))).reserve_kg_dm == 0.0


def test_the_price_of_a_reserve_is_what_hay_saves() -> None:
    """A tonne less to leave saves a tonne bought at $250 and costs the lot's $114."""
    dear = replace(BOUGHT, price_usd_per_kg=0.20)
    program = planned(farm_with([lot(6.0, 100.0)], dear, reserve_days=30.0))
    price = program.farm_limits[0].usd_per_unit
    assert price is not None
    less = planned(farm_with([lot(6.0, 100.0)], dear, reserve_days=29.0))
    tonnes = program.farm_limits[0].need - less.farm_limits[0].need
    assert (program.cost - less.cost) / tonnes == pytest.approx(price, rel=1e-3)
    assert price == pytest.approx(250.0 - 100.0 / 0.88, rel=0.02)
    assert "smaller would save" in program.farm_limits[0].sentence
    free = planned(farm_with([lot(60.0, 100.0)], dear, reserve_days=1.0))
    assert free.farm_limits[0].usd_per_unit == 0.0
    assert free.farm_limits[0].sentence.endswith("needed in reserve.")


def test_the_price_of_money_is_what_a_dearer_feed_costs_more() -> None:
    """Bought hay is cheaper than the farm's own, and money for it is scarce."""
    own = lot(20.0, 200.0)
    program = planned(farm_with([own], BOUGHT, cash_limit_usd=100.0))
    price = program.farm_limits[0].usd_per_unit
    assert price is not None
    more = planned(farm_with([own], BOUGHT, cash_limit_usd=120.0))
    assert (program.cost - more.cost) / 20.0 == pytest.approx(price, rel=1e-3)
    # A dollar buys 8 kg of dry matter, which of the own hay is worth 8 * 0.2 / 0.88.
    assert price == pytest.approx(8.0 * 0.2 / 0.88 - 1.0, rel=0.02)
    assert "more to spend would save" in program.farm_limits[0].sentence


# Dates and grazing.


def test_a_feed_is_fed_between_its_dates_only() -> None:
    cheap = replace(
        BOUGHT,
        feed_id="cheap",
        price_usd_per_kg=0.05,
        from_on=START + timedelta(days=7),
        to_on=START + timedelta(days=20),
    )
    program = planned(farm_with([], BOUGHT, cheap))
    # The week from day 14 would end on day 20, when it is no longer there.
    assert {row.period for row in program.feeding if row.source_id == "cheap"} == {1}


STANDING = replace(
    BOUGHT,
    feed_id="standing",
    name="Stockpiled fescue",
    kind=FeedKind.GRAZING,
    price_usd_per_kg=0.01,
    feeding_loss_pct=None,
    most_kg=1000.0,
)


def test_standing_forage_is_eaten_where_it_grew() -> None:
    program = planned(farm_with([], BOUGHT, STANDING))
    rows = [row for row in program.feeding if row.source_id == "standing"]
    offered = sum(row.offered_kg for row in rows)
    eaten = sum(row.eaten_kg_dm_per_head_day * HEAD * row.days for row in rows)
    assert offered == pytest.approx(1000.0)
    # The group wastes nothing at its feeder; of what is grazed two fifths are trampled.
    assert eaten == pytest.approx(0.6 * 1000.0 * 0.8)
    assert {one.level for one in program.cautions if one.about == "standing"} == {"warning", "note"}
    assert any("trampled" in one.sentence for one in program.assumptions)


def test_standing_forage_wastes_what_is_stated() -> None:
    program = planned(farm_with([], BOUGHT, replace(STANDING, feeding_loss_pct=10.0)))
    rows = [row for row in program.feeding if row.source_id == "standing"]
    eaten = sum(row.eaten_kg_dm_per_head_day * HEAD * row.days for row in rows)
    assert eaten == pytest.approx(0.9 * 1000.0 * 0.8)


def test_standing_forage_is_long_forage_and_no_hay_in_use() -> None:
    problem = problem_of(farm_with([lot(6.0, 100.0)], BOUGHT, STANDING))
    assert problem.sources.is_hay.tolist() == [True, True, False]
    assert problem.per_kg["forage"].tolist() == [1.0, 1.0, 1.0]


@pytest.mark.parametrize(
    ("name", "word"), [("Standing sudan", "prussic acid"), ("Clover", "bloat")]
)
def test_what_is_grazed_is_warned_of(name: str, word: str) -> None:
    program = planned(farm_with([], BOUGHT, replace(STANDING, name=name)))
    told = [one for one in program.cautions if one.about == "standing" and one.level == "danger"]
    assert any(word in one.sentence for one in told)


def test_untested_standing_sudan_is_kept_from_pregnant_cows() -> None:
    sudan = replace(STANDING, name="Standing sudan")
    farm = farm_with([], BOUGHT, sudan)
    pregnant = replace(farm.groups[0], calving_on=START + timedelta(days=60))
    farm = replace(farm, groups=(pregnant,))
    assert all(row.source_id != "standing" for row in planned(farm).feeding)
    tested = replace(farm, feeds=(BOUGHT, replace(sudan, nitrate_no3n_ppm=100.0)))
    assert any(row.source_id == "standing" for row in planned(tested).feeding)


@pytest.mark.parametrize(
    ("no3n_ppm", "most"), [(200.0, 1.0), (800.0, 0.5), (1500.0, 0.25), (5000.0, 0.0)]
)
def test_bought_hay_with_nitrate_is_held_by_class_like_a_lot(no3n_ppm: float, most: float) -> None:
    own = [lot(20.0, 300.0)]
    farm = farm_with(own, replace(BOUGHT, nitrate_no3n_ppm=no3n_ppm))
    pregnant = replace(farm.groups[0], calving_on=START + timedelta(days=60))
    program = planned(replace(farm, groups=(pregnant,)))
    share = nitrate_share_limit(no3n_ppm, pregnant=True)
    assert share == most
    rows = [row for row in program.feeding if row.source_id == "bought"]
    assert all(row.eaten_kg_dm_per_head_day <= share * KG + 1e-9 for row in rows)
    told = [one for one in program.cautions if one.about == "bought" and one.level == "danger"]
    assert bool(told) == (0.0 < share < 1.0)
