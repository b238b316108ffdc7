"""Wishes are kept where the farm's rules leave it, priced, and never quietly dropped."""

from __future__ import annotations

from dataclasses import replace
from datetime import date, timedelta

import numpy as np
import pytest

from rickyard.farm import AnimalClass, Farm, Feed, FeedKind, Group, Wanted, WishRow
from rickyard.program.audit.audit import recheck
from rickyard.program.planning.season import plan_season, using
from rickyard.program.problem.problem import problem_of
from rickyard.program.problem.wishes import with_wishes
from rickyard.program.result.options import PlanOptions, Wish
from rickyard.program.result.result import SeasonProgram, WishOutcome
from support.farms import START, random_farm
from support.weekly import WEEKLY

WEEKS = 6
LATE = START + timedelta(days=21)


@pytest.fixture(scope="module")
def farm() -> Farm:
    """Return a farm with hay to spare, no nitrate, and lots that may be fed at any time."""
    farm = random_farm(11, lots=4, groups=3, weeks=WEEKS)
    calm = tuple(
        replace(one, analytes=tuple(a for a in one.analytes if a.name != "nitrate_no3n"))
        for one in farm.reports
    )
    lots = tuple(replace(lot, bales=200.0, forage=farm.lots[0].forage) for lot in farm.lots)
    return replace(farm, lots=lots, reports=calm)


@pytest.fixture(scope="module")
def free(farm: Farm) -> SeasonProgram:
    return plan_season(farm, options=WEEKLY)


def planned(farm: Farm, *wishes: Wish) -> SeasonProgram:
    program = plan_season(farm, options=PlanOptions(wishes=wishes, effort=0.3, weekly=True))
    assert [str(breach) for breach in recheck(program, farm)] == []
    assert len(program.wishes) == len(wishes)
    return program


def fed(program: SeasonProgram, source: str, group: str = "") -> dict[int, float]:
    return {
        row.period: row.eaten_kg_dm_per_head_day
        for row in program.feeding
        if row.source_id == source and group in ("", row.group_id)
    }


def unused(program: SeasonProgram, group: str) -> str:
    used = {row.source_id for row in program.feeding if row.group_id == group}
    return next(lot.lot_id for lot in program.lots if lot.lot_id not in used)


def only(program: SeasonProgram) -> WishOutcome:
    (outcome,) = program.wishes
    return outcome


def test_a_program_without_wishes_has_none(farm: Farm, free: SeasonProgram) -> None:
    assert free.wishes == ()
    assert planned(farm).feeding == free.feeding


def test_a_hay_that_is_wished_is_fed_on_those_days_and_its_cost_is_told(
    farm: Farm, free: SeasonProgram
) -> None:
    lot = unused(free, "group-0")
    wish = Wish("feed", lot, "group-0", LATE, LATE + timedelta(days=14))
    program = planned(farm, wish)
    assert {3, 4} <= set(fed(program, lot, "group-0"))
    least = 0.0025 * next(one.full_weight_kg for one in program.groups if one.group_id == "group-0")
    assert fed(program, lot, "group-0")[3] == pytest.approx(least, rel=0.01)
    outcome = only(program)
    assert outcome.kept == "kept"
    assert outcome.cost_usd == pytest.approx(program.cost - free.cost, abs=0.01)
    assert outcome.cost_usd is not None
    assert outcome.cost_usd > 0
    assert "from Nov 23 to Dec 6: kept. It costs" in outcome.sentence


def test_a_hay_that_is_kept_off_is_not_fed(farm: Farm, free: SeasonProgram) -> None:
    lot = max(free.lots, key=lambda one: one.eaten_t).lot_id
    program = planned(farm, Wish("keep_off", lot))
    assert fed(program, lot) == {}
    assert only(program).kept == "kept"
    assert only(program).sentence.startswith(f"No {farm.lot(lot).name} to every group all season")
    assert program.cost > free.cost


def test_a_hay_kept_off_for_some_days_is_off_in_every_period_they_touch(
    farm: Farm, free: SeasonProgram
) -> None:
    lot = max(free.lots, key=lambda one: one.eaten_t).lot_id
    last_of_week_2 = START + timedelta(days=20)
    program = planned(farm, Wish("keep_off", lot, "", last_of_week_2, LATE + timedelta(days=1)))
    assert set(fed(program, lot)).isdisjoint({2, 3})
    assert fed(program, lot)


@pytest.mark.parametrize("kilograms", [0.0, 1.5])
def test_an_amount_is_fed_to_the_gram(farm: Farm, kilograms: float) -> None:
    wish = Wish("amount", "lot-1", "group-2", kg_dm_per_head_day=kilograms)
    program = planned(farm, wish)
    amounts = fed(program, "lot-1", "group-2")
    assert [amounts.get(t, 0.0) for t in range(WEEKS)] == pytest.approx([kilograms] * WEEKS)
    assert only(program).kept == "kept"


def test_an_earlier_wish_goes_before_a_later_one(farm: Farm) -> None:
    pin = Wish("feed", "lot-1", "group-0")
    off = Wish("keep_off", "lot-1", "group-0", end=LATE)
    first, second = planned(farm, pin, off).wishes
    assert (first.kept, second.kept) == ("kept", "not")
    assert "an earlier wish says otherwise" in second.sentence
    program = planned(farm, off, pin)
    assert [one.kept for one in program.wishes] == ["kept", "part"]
    assert "on 21 of 42 days" in program.wishes[1].sentence
    assert set(fed(program, "lot-1", "group-0")) == {3, 4, 5}


def test_two_amounts_cannot_both_be(farm: Farm) -> None:
    wishes = [Wish("amount", "lot-1", "group-0", kg_dm_per_head_day=kg) for kg in (2.0, 3.0)]
    program = planned(farm, *wishes)
    assert [one.kept for one in program.wishes] == ["kept", "not"]
    assert fed(program, "lot-1", "group-0")[0] == pytest.approx(2.0)


def test_feeding_and_an_amount_go_together(farm: Farm) -> None:
    feed, amount = Wish("feed", "lot-1", "group-0"), Wish("amount", "lot-1", "group-0")
    amount = replace(amount, kg_dm_per_head_day=0.2)
    for wishes in ((feed, amount), (amount, feed)):
        program = planned(farm, *wishes)
        assert [one.kept for one in program.wishes] == ["kept", "kept"]
        assert fed(program, "lot-1", "group-0")[0] == pytest.approx(0.2)


def test_more_than_there_is_is_fed_as_far_as_it_goes(farm: Farm) -> None:
    small = replace(farm.lots[1], bales=1.0)
    short = replace(farm, lots=(farm.lots[0], small, *farm.lots[2:]))
    program = planned(short, Wish("amount", "lot-1", "group-0", kg_dm_per_head_day=4.0))
    outcome = only(program)
    assert outcome.kept in ("part", "not")
    assert "there is not enough of it" in outcome.sentence
    balance = next(one for one in program.lots if one.lot_id == "lot-1")
    assert balance.left_t == pytest.approx(0.0, abs=1e-6)


def test_more_than_anybody_can_eat_is_cut_to_the_appetite(farm: Farm) -> None:
    program = planned(farm, Wish("amount", "lot-1", "group-0", kg_dm_per_head_day=60.0))
    assert only(program).kept == "not"
    assert "are at full appetite" in only(program).sentence


def test_a_date_goes_before_a_wish(farm: Farm) -> None:
    by = LATE - timedelta(days=1)
    old = replace(farm.lots[1], feed_by=by)
    dated = replace(farm, lots=(farm.lots[0], old, *farm.lots[2:]))
    program = planned(dated, Wish("feed", "lot-1", "group-0"))
    assert only(program).kept == "part"
    assert "on 21 of 42 days only, because Lot 1 must be fed by Nov 22" in only(program).sentence
    assert set(fed(program, "lot-1", "group-0")) == {0, 1, 2}


def test_a_bar_goes_before_a_wish_and_says_why(farm: Farm) -> None:
    ewes = Group("ewes", "Ewes", AnimalClass.EWE, 20, 70.0)
    mineral = Feed("cow-mineral", "Cow mineral", FeedKind.MINERAL, 1.2, copper_ppm=1500.0)
    both = replace(farm, groups=(*farm.groups, ewes), feeds=(*farm.feeds, mineral))
    program = planned(both, Wish("feed", "cow-mineral", "ewes"))
    assert only(program).kept == "not"
    assert "copper" in only(program).sentence
    assert fed(program, "cow-mineral", "ewes") == {}


def test_nitrate_goes_before_a_wish(farm: Farm) -> None:
    from support.farms import analyte

    bad = replace(
        farm.reports[0],
        report_id="bad",
        lot_id="lot-1",
        analytes=(analyte("dm", 87.0), analyte("nitrate_no3n", 6000.0, "ppm")),
    )
    reports = (*(one for one in farm.reports if one.lot_id != "lot-1"), bad)
    program = planned(replace(farm, reports=reports), Wish("feed", "lot-1"))
    assert only(program).kept == "not"
    assert "nitrate" in only(program).sentence
    assert fed(program, "lot-1") == {}


def test_a_limit_of_feeds_goes_before_a_wish(farm: Farm) -> None:
    program = planned(farm, Wish("amount", "hulls", "group-0", kg_dm_per_head_day=6.0))
    assert only(program).kept == "not"
    assert "no more than 6 lb dry matter of Soybean hulls is fed to a head" in (
        only(program).sentence
    )


def test_hays_at_once_go_before_a_wish(farm: Farm) -> None:
    one_hay = replace(farm, season=replace(farm.season, hays_at_once=1))
    wishes = (
        Wish("feed", "lot-1", "group-0"),
        Wish("feed", "lot-2", "group-0", start=LATE),
        Wish("amount", "lot-3", "group-0", kg_dm_per_head_day=2.0),
        Wish("feed", "lot-2", "group-1"),
    )
    first, second, third, elsewhere = with_wishes(one_hay, problem_of(one_hay), wishes).claims
    assert first.why_less == elsewhere.why_less == ()
    assert second.why_less == third.why_less == ("no more hays are fed to a group at once",)
    assert not second.left.any()
    assert elsewhere.left.any()


def test_less_of_a_hay_than_a_serving_is_not_fed_where_hays_are_counted(farm: Farm) -> None:
    counted = replace(farm, season=replace(farm.season, hays_at_once=2))
    wish = Wish("amount", "lot-1", "group-0", kg_dm_per_head_day=0.1)
    (claim,) = with_wishes(counted, problem_of(counted), [wish]).claims
    assert not claim.left.any()
    assert claim.why_less[0].startswith("less than 3.")


@pytest.mark.parametrize(
    ("wish", "words"),
    [
        (Wish("feed", "lot-99"), 'the farm has no lot or feed "lot-99"'),
        (Wish("feed", "lot-1", "geese"), 'the farm has no group "geese"'),
        (Wish("feed", "lot-1", start=date(2030, 1, 1)), "no animals are here to be fed"),
    ],
)
def test_a_wish_about_nothing_is_told_and_changes_nothing(
    farm: Farm, free: SeasonProgram, wish: Wish, words: str
) -> None:
    program = planned(farm, wish)
    assert only(program).kept == "not"
    assert words in only(program).sentence
    assert program.cost == pytest.approx(free.cost)


def test_a_wish_that_leaves_others_short_says_so(farm: Farm) -> None:
    program = planned(farm, *(Wish("keep_off", lot.lot_id) for lot in farm.lots))
    assert program.status == "short"
    assert "more is short with it than without" in program.wishes[0].sentence


def test_a_wish_asked_for_now_is_priced_by_the_plan_without_it(farm: Farm) -> None:
    """With hays mixed at will a wish seemed to cost $30 where the plan with it cost $3,950 more."""
    ruled = replace(farm, season=replace(farm.season, hays_at_once=1, least_run_days=14))
    wish = Wish("feed", "lot-1", "group-0", START, LATE)
    options = PlanOptions(wishes=(wish,), effort=0.3, planned_without=1, weekly=True)
    program = plan_season(ruled, options=options)
    without = plan_season(ruled, options=replace(options, wishes=(), begin_from=using(program)))
    assert only(program).cost_usd == pytest.approx(program.cost - without.cost, abs=0.01)
    assert "against the plan without it" in only(program).sentence
    mixed = only(plan_season(ruled, options=replace(options, planned_without=0)))
    assert "counted with hays mixed freely" in mixed.sentence
    assert mixed.cost_usd != pytest.approx(only(program).cost_usd, abs=0.01)


def test_a_search_that_is_stopped_leaves_wishes_without_a_price(farm: Farm) -> None:
    options = PlanOptions(
        wishes=(Wish("feed", "lot-1", "group-0"),), stop=lambda: True, weekly=True
    )
    outcome = only(plan_season(farm, options=options))
    assert outcome.kept == "kept"
    assert outcome.cost_usd is None
    assert outcome.sentence.endswith("Its cost was not worked out.")


@pytest.mark.parametrize("kind", ["feed", "keep_off", "amount"])
def test_a_program_that_breaks_a_wish_it_calls_kept_fails_its_re_check(
    farm: Farm, kind: str
) -> None:
    wish = Wish(kind, "lot-1", "group-0", kg_dm_per_head_day=1.0)  # type: ignore[arg-type]
    program = planned(farm, wish)
    other = {"feed": "keep_off", "keep_off": "feed", "amount": "keep_off"}[kind]
    turned = replace(wish, kind=other)
    lying = replace(program, wishes=(replace(only(program), wish=turned),))
    assert any("wish" in breach.what for breach in recheck(lying, farm))


def test_everything_of_a_wish_stands_in_the_json(farm: Farm) -> None:
    from rickyard.sheets.data_files.plan_json import plan_to_dict

    wish = Wish("amount", "lot-1", "group-0", LATE, None, 1.5)
    (row,) = plan_to_dict(planned(farm, wish))["wishes"]
    assert row["source"] == "lot-1"
    assert row["group"] == "group-0"
    assert (row["start"], row["end"]) == (LATE.isoformat(), None)
    assert (row["kind"], row["kept"], row["kg_dm_per_head_day"]) == ("amount", "kept", 1.5)


def test_wishes_of_the_folder_are_what_is_put_out(farm: Farm) -> None:
    """An amount of the folder is what goes into the feeder, with its water and its waste."""
    rows = (
        WishRow(Wanted.AMOUNT, "lot-1", as_fed_kg_per_head_day=3.0),
        WishRow(Wanted.KEEP_OFF, "lot-2", "group-0", end=LATE),
    )
    program = plan_season(replace(farm, wishes=rows), options=WEEKLY)
    assert recheck(program, farm) == ()
    assert [one.wish.group_id for one in program.wishes] == [
        "group-0",
        "group-1",
        "group-2",
        "group-0",
    ]
    assert [one.kept for one in program.wishes] == ["kept"] * 4
    heads = {one.group_id: one.head for one in program.groups}
    for row in program.feeding:
        if row.source_id == "lot-1":
            assert row.offered_kg / heads[row.group_id] / row.days == pytest.approx(3.0)
    assert program.wishes[0].sentence.startswith("6.6 lb of Lot 1 a head and day to Group 0")


def test_a_wish_asked_for_now_goes_before_one_of_the_folder(farm: Farm) -> None:
    rows = (WishRow(Wanted.KEEP_OFF, "lot-1"),)
    now = PlanOptions(wishes=(Wish("feed", "lot-1", "group-0"),), weekly=True)
    program = plan_season(replace(farm, wishes=rows), options=now)
    assert [one.kept for one in program.wishes] == ["kept", "part"]


def wishes_of_a_seed(seed: int, farm: Farm) -> tuple[Wish, ...]:
    """Return wishes as different as they come: possible, impossible, and against each other."""
    chance = np.random.default_rng(seed)
    sources = [*(lot.lot_id for lot in farm.lots), *(feed.feed_id for feed in farm.feeds)]
    who = ["", *(group.group_id for group in farm.groups)]
    found = []
    for _ in range(int(chance.integers(1, 9))):
        start, length = (int(chance.integers(-7, 60)), int(chance.integers(1, 70)))
        first = START + timedelta(days=start)
        found.append(
            Wish(
                ("feed", "keep_off", "amount")[int(chance.integers(3))],
                sources[int(chance.integers(len(sources)))],
                who[int(chance.integers(len(who)))],
                None if chance.random() < 0.4 else first,
                None if chance.random() < 0.4 else first + timedelta(days=length),
                float(chance.choice([0.0, 0.05, 1.0, 4.0, 30.0])),
            )
        )
    return tuple(found)


@pytest.mark.parametrize(
    "seed",
    [pytest.param(seed, marks=() if seed in (0, 2) else pytest.mark.long) for seed in range(14)],
)
def test_any_wishes_of_any_farm_give_a_program_that_passes(seed: int) -> None:
    """With and without rules about the hays in use."""
    farm = random_farm(seed, lots=4, groups=3, weeks=6)
    if seed % 2:
        ruled = replace(farm.season, hays_at_once=2, least_run_days=14, change_usd=15.0)
        farm = replace(farm, season=ruled)
    program = planned(farm, *wishes_of_a_seed(seed, farm))
    for outcome in program.wishes:
        assert outcome.sentence.endswith(".")
        assert (outcome.kept == "kept") == (": kept." in outcome.sentence)
        assert outcome.kept == "kept" or ", because " in outcome.sentence


def test_a_hazard_of_the_whole_diet_goes_before_a_wish(farm: Farm) -> None:
    """Sulfur beyond what kills is not fed, however much of the feed is wished."""
    sour = Feed(
        "sour",
        "Sour distillers grains",
        FeedKind.SUPPLEMENT,
        0.2,
        dm_pct=90.0,
        tdn_pct=85.0,
        cp_pct=30.0,
        ca_pct=0.1,
        p_pct=0.8,
        sulfur_pct=1.5,
    )
    wish = Wish("amount", "sour", "group-0", kg_dm_per_head_day=7.0)
    program = planned(replace(farm, feeds=(*farm.feeds, sour)), wish)
    assert only(program).kept == "not"
    assert max(fed(program, "sour", "group-0").values(), default=0.0) < 6.0
    assert not any(one.nutrient == "sulfur" for one in program.shortages)
