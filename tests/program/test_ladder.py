"""The ladder against hay that is lacking: measured behind each other, and adding up."""

from __future__ import annotations

from dataclasses import replace
from datetime import date, timedelta
from functools import cache

import pytest

from rickyard.display import display_for
from rickyard.farm import (
    AnimalClass,
    Farm,
    Feed,
    Feeder,
    FeedKind,
    Forage,
    Group,
    Lot,
    Offered,
    Package,
    Season,
    Storage,
)
from rickyard.program.ask import Question
from rickyard.program.planning import ladder_steps, plan_season, with_ladder
from rickyard.program.result import PlanOptions, Remedy, SeasonProgram

START = date(2026, 11, 2)
METRIC = display_for("metric")


def herd(**more: object) -> Group:
    cows = Group("cows", "Cows", AnimalClass.COW, 40, 590.0, condition_score=5.5)
    return replace(cows, calving_on=date(2027, 3, 20), feeder=Feeder.OPEN_RING, **more)


def farm_of(*groups: Group, bales: float = 90.0) -> Farm:
    lot = Lot(
        "l", "Meadow", Forage.COOL_GRASS, Package.ROUND, Storage.ENCLOSED_BARN, bales,
        date(2026, 6, 10), date(2026, 6, 15), bale_weight_kg=500.0, value_usd_per_kg=0.11,
    )  # fmt: skip
    corn = Feed(
        "corn", "Corn", FeedKind.GRAIN, 0.2, table_id="corn_grain_cracked_nrc2001", most_kg=800.0
    )
    return Farm(
        name="F",
        season=Season(START, START + timedelta(days=140), period_days=14),
        lots=(lot,),
        reports=(),
        groups=groups,
        feeds=(corn,),
    )


@cache
def short() -> tuple[Farm, SeasonProgram]:
    farm = farm_of(herd())
    return farm, plan_season(farm, options=PlanOptions(effort=0.0))


@cache
def rungs() -> tuple[Remedy, ...]:
    farm, program = short()
    return tuple(one for one in with_ladder(farm, program, Question()).remedies if one.rung)


def test_what_takes_off_the_lack_adds_up_to_it() -> None:
    assert short()[1].hay_to_buy is not None
    ladder = [one for one in rungs() if one.left_kg is not None]
    lacking = sum(one.removes_kg or 0.0 for one in ladder)
    left = lacking
    for one in ladder:
        assert one.removes_kg is not None
        assert one.removes_kg > 0.0
        left -= one.removes_kg
        assert one.left_kg == pytest.approx(left, abs=1.0)
    assert ladder[-1].kind == "better_hay"
    assert ladder[-1].left_kg == 0.0
    # The least that is lacking is no more than what the cheapest season buys.
    assert lacking <= 1.02 * short()[1].hay_to_buy.as_fed_kg  # type: ignore[union-attr]


def test_an_adviser_begins_with_what_is_there_and_ends_with_selling() -> None:
    kinds = [one.kind for one in rungs()]
    assert [one.rung for one in rungs()] == list(range(1, len(kinds) + 1))
    assert kinds[:2] == ["weigh", "other_feeder"]
    assert kinds.index("other_feeder") < kinds.index("better_hay")
    instead = [one for one in rungs() if one.left_kg is None and one.kind != "weigh"]
    assert [one.kind for one in instead][:1] == ["fewer_head"]
    assert all(one.sentence.startswith("In place of buying.") for one in instead)


def test_less_waste_spares_what_it_does_not_waste() -> None:
    # An open ring loses 20 % of what is put out, a cone ring 6 %: hay that lasted for 80 parts
    # of a hundred lasts for 94, so of 45 tonnes that stand there about 6.7 more are eaten, and
    # of what has to be bought less is lost too.
    waste = next(one for one in rungs() if one.kind == "other_feeder")
    assert waste.removes_kg is not None
    assert waste.removes_kg > 0.14 * 45_000.0
    assert "wastes about 6% in place of 20%" in waste.sentence


def test_done_means_lacking_no_more() -> None:
    """What the ladder says of hay to buy holds where that farm is planned again."""
    farm, _ = short()
    waste = next(ladder_steps.wasting_less(farm))
    bought = next(one for one in rungs() if one.kind == "better_hay")
    again = waste.done(farm)
    for step in ladder_steps.limiting_hay(again, METRIC):
        again = step.done(again)
    lot = again.lots[0]
    more = replace(lot, lot_id="b", name="Bought", bales=1.1 * (bought.amount_kg or 0.0) / 500.0)
    program = plan_season(
        replace(again, lots=(lot, more)), options=PlanOptions(effort=0.0, weekly=True)
    )
    assert not [one for one in program.shortages if one.nutrient in ("fill", "forage")]


def test_calves_are_weaned_early_only_where_they_are_old_enough() -> None:
    late = START + timedelta(days=120)
    old = herd(weaning_on=late)
    old = replace(old, calving_on=START - timedelta(days=90))
    step = next(ladder_steps.weaning_early(farm_of(old), METRIC))
    # Ninety days on the first day: in two weeks they are over a hundred.
    assert step.on == START + timedelta(days=14)
    assert step.done(farm_of(old)).groups[0].weaning_on == step.on
    young = replace(old, calving_on=START - timedelta(days=10))
    step = next(ladder_steps.weaning_early(farm_of(young), METRIC))
    assert step.on == START + timedelta(days=90)
    soon = replace(old, weaning_on=START + timedelta(days=30))
    assert not list(ladder_steps.weaning_early(farm_of(soon), METRIC))
    assert not list(ladder_steps.weaning_early(farm_of(herd()), METRIC))


def test_of_a_feed_so_much_is_bought_as_it_is_worth() -> None:
    farm, program = short()

    def bought(usd_per_kg: float) -> float:
        corn = replace(farm.feeds[0], price_usd_per_kg=usd_per_kg)
        told = with_ladder(replace(farm, feeds=(corn,)), program, Question()).remedies
        return sum(one.amount_kg or 0.0 for one in told if one.kind == "feed")

    # Hay costs about 0.11 a kilogram: corn for less takes its place, dear corn what hay lacks.
    assert bought(0.05) > 1.2 * bought(0.4) > 0.0


def test_thin_cows_are_not_limited_and_nothing_is_limited_twice() -> None:
    assert list(ladder_steps.limiting_hay(farm_of(herd()), METRIC))
    thin = replace(herd(), condition_score=4.0)
    assert not list(ladder_steps.limiting_hay(farm_of(thin), METRIC))
    already = replace(herd(), offered=Offered.LIMITED)
    assert not list(ladder_steps.limiting_hay(farm_of(already), METRIC))


def test_stock_for_sale_goes_last_and_mothers_by_the_tenth() -> None:
    steers = Group("s", "Steers", AnimalClass.STOCKER, 20, 270.0, gain_kg_per_day=0.7)
    step = next(ladder_steps.selling_a_class(farm_of(steers), METRIC))
    assert step.on == START + timedelta(days=14)
    assert step.done(farm_of(steers)).groups[0].to_on == step.on
    assert not list(ladder_steps.selling_a_class(farm_of(herd()), METRIC))
    assert next(ladder_steps.fewer_mothers(farm_of(herd()))).head == 4
    assert not list(ladder_steps.fewer_mothers(farm_of(replace(herd(), head=4))))
    assert "nitrate" in next(ladder_steps.grass_elsewhere(farm_of(herd()), METRIC)).told


def test_what_is_weighed_and_tested_need_not_be() -> None:
    farm = farm_of(herd())
    told = ladder_steps.weighing_words(farm)
    assert told is not None
    assert told[0] == "First core and test Meadow"
    guessed = replace(farm, lots=(replace(farm.lots[0], bale_weight_kg=None),))
    told = ladder_steps.weighing_words(guessed)
    assert told is not None
    assert told[0] == "First weigh some bales of Meadow and core and test Meadow"


def test_one_group_or_day_is_no_matter_of_the_whole_farm() -> None:
    farm, program = short()
    assert with_ladder(farm, program, Question(group_id="cows")) is program
    assert with_ladder(farm, replace(program, hay_to_buy=None), Question()).remedies == ()


def test_what_is_told_once_is_not_told_again() -> None:
    farm, program = short()
    season = (program.start, program.end)
    before = Remedy("cows", *season, "", "other_feeder", "", None, None, 1.0, "A cone ring.")
    kept = replace(before, kind="cash", sentence="Money.")
    told = with_ladder(farm, replace(program, remedies=(before, kept)), Question()).remedies
    assert kept in told
    assert before not in told
