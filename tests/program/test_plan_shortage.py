"""Where a farm runs short: prices in money only, even shares, and always a program."""

from __future__ import annotations

from dataclasses import replace
from datetime import timedelta

import pytest

from rickyard.farm import Farm, Feed
from rickyard.program.audit.audit import recheck
from rickyard.program.audit.needs import judge
from rickyard.program.audit.view import AuditView, at_most
from rickyard.program.planning.season import plan_season
from rickyard.program.problem.problem import SHORTAGE_USD
from rickyard.sheets.wording.words import worth_sentences
from support.farms import START, random_farm
from support.rows import few
from support.season_farms import CAKE, CORN, LIME, cows, farm_of, hay, report_on, steers
from support.weekly import WEEKLY


def short_farm() -> Farm:
    """Cows and steers beside one lot of hay that lasts for about half of what they need."""
    lot = hay("hay", 56.0, 10.0, 6.0, 80.0)
    return farm_of([(lot, report_on(lot, 56.0, 10.0))], [cows(), steers()], [LIME])


def test_a_lot_that_would_make_up_a_shortage_has_no_price_in_money() -> None:
    """The prices that shortages are given while solving are far above any hay: not to be told."""
    program = plan_season(short_farm(), options=WEEKLY)
    assert program.status == "short"
    assert [one.usd_per_t_dm for one in program.lot_worth] == [None]
    assert "would cover part of what is short" in program.lot_worth[0].sentence
    assert worth_sentences(program)[0] == program.lot_worth[0].sentence


@pytest.mark.parametrize("seed", few([1, 19, 10, 14], 2))
def test_no_price_told_is_that_of_a_shortage(seed: int) -> None:
    farm = random_farm(seed)
    program = plan_season(farm, options=WEEKLY)
    assert program.status == "short"
    told = [one.usd_per_t_dm for one in program.lot_worth if one.usd_per_t_dm is not None]
    assert max(told, default=0.0) < 500.0
    energy = [one.usd_per_unit for one in program.limits if one.unit == "Mcal NEm"]
    assert all(abs(price) < SHORTAGE_USD["nem"] / 4.0 for price in energy)


def test_prices_away_from_a_shortage_stay() -> None:
    """Steers that are short for a week leave the price of the lot that cows run out of."""
    good = hay("good", 60.0, 14.0, 20.0, 90.0)
    poor = hay("poor", 50.0, 7.0, 100.0, 60.0)
    lots = [(good, report_on(good, 60.0, 14.0)), (poor, report_on(poor, 50.0, 7.0))]
    feeds = [CAKE, CORN, LIME]
    herd = cows(START + timedelta(days=10))
    alone = plan_season(farm_of(lots, [herd], feeds, weeks=10), options=WEEKLY)
    greedy = replace(steers(3.0, head=1), to_on=START + timedelta(days=7))
    both = plan_season(farm_of(lots, [herd, greedy], feeds, weeks=10), options=WEEKLY)
    assert (alone.status, both.status) == ("complete", "short")
    worth = {one.lot_id: one.usd_per_t_dm for one in both.lot_worth}
    assert worth["poor"] is not None
    assert any(one.group_id == "cows" for one in both.limits)


def always_on_offer(feed: Feed, most_kg: float | None) -> Feed:
    return replace(feed, least_kg_per_head_day=0.08, most_kg=most_kg)


@pytest.mark.parametrize("most_kg", [0.0, 0.05, 20.0])
def test_a_mineral_that_cannot_be_bought_for_all_is_shared_evenly(most_kg: float) -> None:
    lot = hay("hay", 60.0, 14.0, 60.0, 90.0)
    lime = always_on_offer(LIME, most_kg)
    farm = farm_of([(lot, report_on(lot, 60.0, 14.0))], [cows(), steers(0.3)], [lime, CORN])
    program = plan_season(farm, options=WEEKLY)
    assert [str(one) for one in recheck(program, farm)] == []
    given = {
        (row.group_id, row.period): row.eaten_kg_dm_per_head_day
        for row in program.feeding
        if row.source_id == "lime"
    }
    if most_kg == 20.0:
        assert len(given) == 8
        assert max(given.values()) == pytest.approx(20.0 / (50 * 28))
        assert min(given.values()) == pytest.approx(20.0 / (50 * 28))
    (caution,) = [one for one in program.cautions if one.about == "lime"]
    assert "expect to run out" in caution.sentence


def test_a_mineral_that_is_taken_more_than_is_usual_is_given() -> None:
    lot = hay("hay", 60.0, 14.0, 60.0, 90.0)
    lime = replace(LIME, least_kg_per_head_day=0.2)
    farm = farm_of([(lot, report_on(lot, 60.0, 14.0))], [cows()], [lime])
    program = plan_season(farm, options=WEEKLY)
    assert recheck(program, farm) == ()
    given = [row.eaten_kg_dm_per_head_day for row in program.feeding if row.source_id == "lime"]
    assert given == pytest.approx([0.2] * 4)


@pytest.mark.parametrize("group", [cows(), steers()])
def test_a_season_on_which_nobody_is_here_feeds_nothing(group: object) -> None:
    lot = hay("hay", 56.0, 10.0, 20.0, 80.0)
    away = replace(group, from_on=START + timedelta(days=100))  # type: ignore[type-var]
    program = plan_season(
        farm_of([(lot, report_on(lot, 56.0, 10.0))], [away], [CORN]), options=WEEKLY
    )
    assert (program.status, program.feeding) == ("complete", ())


def test_a_feed_of_which_a_kilogram_can_be_bought_is_planned() -> None:
    """The solver holds tonnes to a milligram; that is no breach of a kilogram."""
    lime = always_on_offer(LIME, 1.0)
    many = [replace(cows(), group_id=f"cows-{n}", head=20_000) for n in range(6)]
    farm = farm_of([], many, [lime], weeks=16)
    assert recheck(plan_season(farm, options=WEEKLY), farm) == ()


def test_a_change_of_hay_is_told_day_by_day_and_not_again_as_one_of_the_diet() -> None:
    good, poor = hay("good", 66.0, 18.0, 9.0, 10.0), hay("poor", 50.0, 8.0, 90.0, 90.0)
    lots = [(good, report_on(good, 66.0, 18.0)), (poor, report_on(poor, 50.0, 8.0))]
    early = replace(good, feed_by=START + timedelta(days=13))
    farm = farm_of([(early, lots[0][1]), lots[1]], [cows()], [LIME], weeks=6)
    program = plan_season(
        replace(farm, season=replace(farm.season, period_days=14)), options=WEEKLY
    )
    assert [one.start for one in program.change_overs] == [START + timedelta(days=14)]
    assert not [one for one in program.cautions if "changes by more" in one.sentence]


def test_a_trifle_over_a_share_of_next_to_nothing_is_no_breach() -> None:
    """Rows are solved to a milligram: a share of ten grams is not held closer than that."""
    most = 0.00948403956338007
    assert list(at_most("share", most + 2.4e-8, most)) == []
    assert list(at_most("share", most + 2e-7, most))


def test_nitrate_of_next_to_no_hay_is_no_breach() -> None:
    program = plan_season(short_farm(), options=WEEKLY)
    look = AuditView(program, short_farm())
    (cows_, _) = short_farm().groups
    trifle = {"nitrate": (2.1008073164946546, 2.1008293213293228)}
    assert list(judge(look, cows_, 1, {}, trifle)) == []
    assert list(judge(look, cows_, 1, {}, {"nitrate": (2000.0, 2000.1)}))
