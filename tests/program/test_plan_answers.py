"""The longer answers about a program, each held to the season planned again."""

from __future__ import annotations

from dataclasses import replace
from datetime import timedelta

import numpy as np
import pytest

from rickyard.display import Display, display_for
from rickyard.farm import Farm
from rickyard.program.ask.allowance import Allowance
from rickyard.program.ask.avoid_shortage import remedies
from rickyard.program.ask.hay_to_buy import with_hay_to_look_for
from rickyard.program.ask.on_request import Question, with_answers
from rickyard.program.ask.price_ranges import HOLDS_SHARE, holds_for_t
from rickyard.program.ask.sensitivity import Inquiry, eaten_in
from rickyard.program.ask.without_hay import with_swap
from rickyard.program.planning.season import plan_season
from rickyard.program.problem.problem import problem_of
from rickyard.program.result.options import PlanOptions, Wish
from rickyard.program.result.result import LotReason, Remedy, SeasonProgram
from rickyard.program.solver.points import SparseRows
from support.farms import START, random_farm
from support.season_farms import CAKE, CORN, LIME, cows, farm_of, hay, report_on, steers
from support.shipped import SHORT, demo_farm, shipped_farm
from support.weekly import WEEKLY

AMPLE = 60.0  # enough for every answer


def asked(farm: Farm, program: SeasonProgram | None = None) -> tuple[SeasonProgram, Inquiry]:
    program = program or plan_season(farm, options=WEEKLY)
    return with_answers(farm, program, Question(effort=AMPLE)), Inquiry.of(
        farm, problem_of(farm), program
    )


@pytest.fixture(scope="module")
def plain() -> tuple[Farm, SeasonProgram]:
    farm = demo_farm(0.0)
    return farm, plan_season(farm, options=WEEKLY)


@pytest.fixture(scope="module")
def demo(plain: tuple[Farm, SeasonProgram]) -> tuple[Farm, SeasonProgram, Inquiry]:
    farm, program = plain
    return farm, *asked(farm, program)


@pytest.fixture(scope="module")
def tight() -> tuple[Farm, SeasonProgram, Inquiry]:
    """A farm where several lots are used up and feed is bought."""
    farm = random_farm(4, lots=6, groups=3, weeks=10)
    return farm, *asked(farm)


def test_the_inquiry_begins_at_the_program(demo: tuple[Farm, SeasonProgram, Inquiry]) -> None:
    _, program, inquiry = demo
    assert inquiry.base.usd == pytest.approx(program.cost, rel=1e-9)
    assert inquiry.base.short_usd == pytest.approx(0.0, abs=1e-6)


def test_a_little_more_of_a_lot_changes_the_cost_by_its_worth(
    tight: tuple[Farm, SeasonProgram, Inquiry],
) -> None:
    farm, program, inquiry = tight
    end_worth = farm.season.carry_over_value_pct / 100.0
    seen = 0
    for number, worth in enumerate(program.lot_worth):
        value = inquiry.problem.sources.values[number]
        row = int(inquiry.model.stock_row[number])
        with inquiry.stocked(number, 0.2):
            more = inquiry.ask(settle=False)
        own = value.usd_per_kg_dm * (1.0 - end_worth * float(inquiry.problem.keep[number, -1]))
        saved = 1000.0 * (inquiry.base.whole_usd - more.whole_usd) / 0.2
        price = -float(inquiry.base.optimum.row_dual[row])
        assert saved == pytest.approx(price, rel=1e-6, abs=1e-5)
        assert worth.usd_per_t_dm is not None
        # The program settles its curved rows in rounds of its own.
        assert worth.usd_per_t_dm == pytest.approx(price - 1000.0 * own, rel=1e-4, abs=1e-3)
        seen += abs(worth.usd_per_t_dm + 1000.0 * own) > 1.0
    assert seen >= 2


def test_answers_leave_no_trace(tight: tuple[Farm, SeasonProgram, Inquiry]) -> None:
    """Each question begins where the program stands, whatever was asked before."""
    _, _, inquiry = tight
    columns = inquiry.columns_of(0)
    with inquiry.at_most(columns, np.zeros(len(columns))):
        first = inquiry.ask()
    with inquiry.stocked(1, 5000.0):
        inquiry.ask()
    with inquiry.at_most(columns, np.zeros(len(columns))):
        again = inquiry.ask()
    assert first.whole_usd > inquiry.base.whole_usd + 1.0
    assert again.whole_usd == pytest.approx(first.whole_usd, rel=1e-12)
    assert inquiry.ask().whole_usd == pytest.approx(inquiry.base.whole_usd, rel=1e-12)


def test_a_worth_holds_for_as_long_as_it_says(tight: tuple[Farm, SeasonProgram, Inquiry]) -> None:
    _, program, inquiry = tight
    seen = 0
    for number, worth in enumerate(program.lot_worth):
        row = int(inquiry.model.stock_row[number])
        first = -float(inquiry.base.optimum.row_dual[row])
        assert worth.holds_for_t_dm == pytest.approx(holds_for_t(inquiry, number), rel=0.02)
        if first < 1.0 or worth.holds_for_t_dm is None:
            continue
        reach = worth.holds_for_t_dm
        most = max(float(inquiry.problem.sources.start_kg_dm[number]) / 1000.0, 10.0)
        for share, holds in ((1.0, True), (1.05, False)):
            with inquiry.stocked(number, 1000.0 * share * reach):
                saved = inquiry.base.whole_usd - inquiry.ask(settle=False).whole_usd
            enough = saved >= HOLDS_SHARE * first * share * reach * (1.0 - 1e-9)
            if reach < most:
                assert enough is holds
                seen += 1
    assert seen >= 2


def forced(inquiry: Inquiry, reason: LotReason, eaten: np.ndarray, share: float) -> float:
    """Return what feeding a share of the next best in place of a hay costs in the linear program.

    The hay itself may be fed less of; rows demand so much of the next best in each period.
    """
    problem, columns = inquiry.problem, inquiry.model.columns
    group = next(g for g, one in enumerate(problem.needs.groups) if one.group_id == reason.group_id)
    values = [one.source_id for one in problem.sources.values]
    mine, other = values.index(reason.source_id), values.index(reason.next_best_id)
    inside = [one.index for one in problem.needs.periods if reason.start <= one.start < reason.end]
    at = np.flatnonzero(
        (columns.group == group) & (columns.source == other) & np.isin(columns.period, inside)
    )
    least = share * eaten[group, mine, columns.period[at]]
    ones = np.ones(len(at))
    inquiry.session.add_rows(
        SparseRows(np.arange(len(at)), at, ones, least, np.full(len(at), np.inf))
    )
    cost = inquiry.ask(settle=False).whole_usd - inquiry.base.whole_usd
    inquiry.back()
    kg = float(least @ problem.needs.head_days[group, columns.period[at]])
    return 1000.0 * cost / kg


def test_the_next_best_costs_what_is_said(demo: tuple[Farm, SeasonProgram, Inquiry]) -> None:
    _, program, inquiry = demo
    eaten = eaten_in(program, inquiry.problem)
    seen = 0
    for reason in program.reasons:
        if reason.usd_per_t_dm is None or reason.usd_per_t_dm < 0.2:
            continue
        small, large = (forced(inquiry, reason, eaten, share) for share in (1e-4, 0.05))
        assert small == pytest.approx(reason.usd_per_t_dm, rel=2e-3, abs=1e-3)
        assert large >= small * (1 - 1e-3)
        seen += 1
    assert seen >= 5


def test_doing_without_a_hay_costs_what_a_wish_to_keep_it_off_does(
    demo: tuple[Farm, SeasonProgram, Inquiry],
) -> None:
    farm, program, _ = demo
    dear = sorted(
        (one for one in program.reasons if one.usd_over_run is not None),
        key=lambda one: -float(one.usd_over_run or 0.0),
    )
    for reason in dear[:2]:
        wish = Wish("keep_off", reason.source_id, reason.group_id, reason.start, reason.end)
        without = plan_season(farm, options=PlanOptions(wishes=(wish,), weekly=True))
        assert reason.usd_over_run is not None
        assert reason.usd_over_run > 10.0
        assert without.cost - program.cost == pytest.approx(reason.usd_over_run, rel=5e-3, abs=0.5)
        assert "Leaving out" in reason.sentence


@pytest.mark.parametrize(("which", "least_seen"), [("demo", 1), ("tight", 1)])
def test_a_feed_leaves_at_the_price_that_is_said(
    which: str, least_seen: int, request: pytest.FixtureRequest
) -> None:
    farm, program, _ = request.getfixturevalue(which)
    bought = {one.feed_id: one.as_fed_kg for one in program.purchases}
    seen = 0
    for number, worth in enumerate(program.feed_worth):
        if worth.leave_usd_per_kg is None:
            continue
        assert worth.leave_usd_per_kg > worth.price_usd_per_kg
        for share, kept in ((0.99, True), (1.01, False)):
            dear = replace(farm.feeds[number], price_usd_per_kg=share * worth.leave_usd_per_kg)
            feeds = (*farm.feeds[:number], dear, *farm.feeds[number + 1 :])
            again = plan_season(replace(farm, feeds=feeds), options=WEEKLY)
            left = {one.feed_id: one.as_fed_kg for one in again.purchases}.get(worth.feed_id, 0.0)
            assert (left > 1e-6 * bought[worth.feed_id]) is kept, (worth.feed_id, share)
        seen += 1
    assert seen >= least_seen


def test_a_feed_that_is_always_on_offer_never_leaves(
    demo: tuple[Farm, SeasonProgram, Inquiry],
) -> None:
    _, program, _ = demo
    mineral = next(one for one in program.feed_worth if one.feed_id.startswith("mineral"))
    assert mineral.leave_usd_per_kg is None
    assert "always offered" in mineral.sentence


def test_a_lot_sold_whole_at_its_price_leaves_the_farm_as_well_off(
    tight: tuple[Farm, SeasonProgram, Inquiry],
) -> None:
    farm, program, inquiry = tight
    seen = 0
    for number, worth in enumerate(program.lot_worth):
        if worth.sell_all_usd_per_kg is None or worth.sell_first_usd_per_kg is None:
            continue
        assert worth.sell_all_usd_per_kg >= worth.sell_first_usd_per_kg - 1e-6
        value = inquiry.problem.sources.values[number]
        kg_dm = float(inquiry.problem.sources.start_kg_dm[number])
        without = plan_season(
            replace(farm, lots=(*farm.lots[:number], *farm.lots[number + 1 :])), options=WEEKLY
        )
        per_kg_dm = value.usd_per_kg_dm + (without.cost - program.cost) / kg_dm
        as_fed = per_kg_dm * value.dm_pct / 100.0
        assert worth.sell_all_usd_per_kg == pytest.approx(as_fed, rel=2e-3)
        seen += 1
    assert seen >= 3


def more_of(farm: Farm, program: SeasonProgram, remedy: Remedy, share: float) -> Farm:
    assert remedy.amount_kg is not None
    more = remedy.amount_kg * share
    if remedy.kind == "feed":
        feeds = [
            replace(one, most_kg=(one.most_kg or 0.0) + more)
            if one.feed_id == remedy.source_id
            else one
            for one in farm.feeds
        ]
        return replace(farm, feeds=tuple(feeds))
    lots = [
        replace(one, bales=one.bales + more / (one.bale_weight_kg or 1.0))
        if one.lot_id == remedy.source_id
        else one
        for one in farm.lots
    ]
    return replace(farm, lots=tuple(lots))


def short_of_hay(feeds: bool) -> Farm:
    good = hay("good", 58.0, 12.0, 6.0, 90.0)
    corn = replace(CORN, most_kg=100.0)
    return farm_of(
        [(good, report_on(good, 58.0, 12.0))], [cows()], [LIME, corn] if feeds else [LIME]
    )


@pytest.mark.parametrize("feeds", [True, False])
def test_a_remedy_removes_what_is_short_and_a_little_less_does_not(feeds: bool) -> None:
    farm = short_of_hay(feeds)
    program, _ = asked(farm)
    assert program.status == "short"
    kinds = {one.kind for one in program.remedies}
    assert "fewer_head" in kinds
    assert "hay" in kinds
    several = len(program.shortages) > 1
    whole = [one for one in program.remedies if one.amount_kg and several == (not one.group_id)]
    assert whole
    for remedy in whole:
        assert (
            plan_season(more_of(farm, program, remedy, 1.002), options=WEEKLY).status == "complete"
        )
        assert plan_season(more_of(farm, program, remedy, 0.97), options=WEEKLY).status == "short"
        assert remedy.usd is not None
        assert remedy.usd > 0.0


def test_so_many_head_fewer_are_enough_and_one_less_is_not() -> None:
    farm = short_of_hay(feeds=False)
    program, _ = asked(farm)
    remedy = next(one for one in program.remedies if one.kind == "fewer_head")
    assert remedy.head is not None
    for fewer, status in ((remedy.head, "complete"), (remedy.head - 1, "short")):
        group = replace(farm.groups[0], head=farm.groups[0].head - fewer)
        assert plan_season(replace(farm, groups=(group,)), options=WEEKLY).status == status


def test_a_group_that_leaves_when_it_is_said_is_not_short() -> None:
    farm = short_of_hay(feeds=False)
    program, _ = asked(farm)
    remedy = next(one for one in program.remedies if one.kind == "leave_earlier")
    assert remedy.on is not None
    assert remedy.usd is not None
    for on, status in ((remedy.on, "complete"), (remedy.on + timedelta(days=7), "short")):
        group = replace(farm.groups[0], to_on=on)
        again = plan_season(replace(farm, groups=(group,)), options=WEEKLY)
        assert again.status == status
        if status == "complete":
            assert again.cost - program.cost == pytest.approx(remedy.usd, abs=0.5)


def greedy(gain: float) -> Farm:
    """Steers that are to gain more than this hay allows, however much of it there is."""
    poor = hay("poor", 50.0, 8.0, 60.0, 60.0)
    return farm_of([(poor, report_on(poor, 50.0, 8.0))], [steers(gain)], [LIME])


def test_where_nothing_listed_helps_the_hay_that_would_is_told() -> None:
    farm = greedy(0.6)
    program, _ = asked(farm)
    remedy = next(one for one in program.remedies if one.nutrient == "gain_energy")
    assert remedy.kind == "better_hay"
    assert remedy.tdn_pct is not None
    assert remedy.cp_pct is not None
    assert remedy.amount_kg is not None
    assert f"{remedy.tdn_pct:.0f}% TDN" in remedy.sentence
    assert "Test it before you buy" in remedy.sentence
    bought = with_hay_to_look_for(farm).feeds[-1]

    def is_short(tdn: float, cp: float, kg: float) -> bool:
        feed = replace(bought, tdn_pct=tdn, cp_pct=cp, most_kg=kg)
        again = plan_season(replace(farm, feeds=(*farm.feeds, feed)), options=WEEKLY)
        return "gain_energy" in {one.nutrient for one in again.shortages}

    tdn, cp, enough = remedy.tdn_pct, remedy.cp_pct, 1.002 * remedy.amount_kg
    assert not is_short(tdn, cp, enough)
    assert is_short(tdn, cp, 0.97 * remedy.amount_kg)
    assert is_short(tdn - 1.0, cp, 1e6)


def test_where_no_hay_helps_that_is_said() -> None:
    program, _ = asked(greedy(2.5))
    energy = [one for one in program.remedies if one.nutrient == "gain_energy"]
    assert [one.kind for one in energy] == ["none"]
    assert "no feed listed can remove it" in energy[0].sentence


def test_a_question_about_one_group_and_day_is_answered_for_them_alone(
    plain: tuple[Farm, SeasonProgram],
) -> None:
    farm, program = plain
    day = START + timedelta(days=15)
    told = with_answers(farm, program, Question(farm.groups[0].group_id, day, 0.3))
    answered = [one for one in told.reasons if one.usd_over_run is not None]
    assert answered
    for one in answered:
        assert one.group_id == farm.groups[0].group_id
        assert one.start <= day < one.end


def test_no_effort_gives_the_program_as_it_was() -> None:
    farm = random_farm(1)
    program = plan_season(farm, options=WEEKLY)
    told = with_answers(farm, program, Question(effort=0.0))
    assert replace(told, remedies=()) == program


def test_a_program_with_rules_is_asked_with_the_hays_it_uses() -> None:
    farm = shipped_farm()
    program = plan_season(farm, options=SHORT)
    inquiry = Inquiry.of(farm, problem_of(farm), program)
    x = inquiry.model.eaten(inquiry.base.optimum.x)
    fed = eaten_in(program, inquiry.problem) > 0.0
    lots = inquiry.problem.sources.lot_count
    assert not np.any((x[:, :lots] > 1e-7) & ~fed[:, :lots])
    free = Inquiry(inquiry.problem)
    assert free.base.usd < inquiry.base.usd <= program.cost * (1 + 1e-9)


@pytest.mark.parametrize("units", ["us", "metric"])
def test_sentences_are_whole(units: str) -> None:
    farm = replace(short_of_hay(feeds=True), units=units)
    program, _ = asked(farm)
    said = [one.sentence for one in (*program.remedies, *program.reasons, *program.held_by)]
    said += [one.sentence for one in (*program.feed_worth, *program.lot_worth)]
    assert all(one.endswith(".") and "nan" not in one and ".." not in one for one in said)
    assert display_for(units).ton_word in " ".join(said)
    assert CAKE.name not in " ".join(said)


@pytest.mark.more
def test_under_rules_the_inquiry_is_the_program_without_its_changes() -> None:
    farm = random_farm(4, weeks=8)
    season = replace(farm.season, hays_at_once=2, least_run_days=21, change_usd=20.0)
    farm = replace(farm, season=season)
    program = plan_season(farm, options=PlanOptions(effort=0.1, weekly=True))
    inquiry = Inquiry.of(farm, problem_of(farm), program)
    # Answers leave the least of a hay in use aside, which the program must feed.
    without = program.cost - program.costs.changes
    assert 0.995 * without <= inquiry.base.usd <= without * (1.0 + 1e-9)
    told = [with_swap(inquiry, one, Display("us")) for one in program.reasons[:6]]
    dear = [one for one in told if (one.usd_over_run or 0.0) > 1.0]
    assert dear
    for one in dear:
        assert one.next_best_id != one.source_id


#: Less than that farm would like to spend. [$]
CASH_USD = 1900.0


def test_money_beyond_the_cash_limit_is_a_remedy() -> None:
    farm = random_farm(3, lots=4, groups=3, weeks=6)
    assert plan_season(farm, options=WEEKLY).status == "complete"
    farm = replace(farm, season=replace(farm.season, cash_limit_usd=CASH_USD))
    program = plan_season(farm, options=WEEKLY)
    inquiry = Inquiry.of(farm, problem_of(farm), program)
    first = remedies(inquiry, program.shortages[:1], Display("us"), Allowance(inquiry.meter, AMPLE))
    money = [one for one in first if one.kind == "cash"]
    assert money
    usd = money[0].usd
    assert usd is not None
    assert usd > 1.0
    assert "more to spend on feed" in money[0].sentence
    for share, gone in ((1.001, True), (0.8, False)):
        limit = CASH_USD + share * usd
        again = plan_season(
            replace(farm, season=replace(farm.season, cash_limit_usd=limit)), options=WEEKLY
        )
        assert (again.status == "complete") is gone


def test_a_mineral_is_asked_for_where_a_mineral_is_short() -> None:
    lot = hay("hay", 60.0, 12.0, 60.0, 90.0)
    poor = report_on(lot, 60.0, 12.0)
    values = [replace(one, value=0.1) if one.name == "p" else one for one in poor.analytes]
    farm = farm_of([(lot, replace(poor, analytes=tuple(values)))], [cows()], [])
    program, _ = asked(farm)
    assert {one.nutrient for one in program.shortages} == {"p"}
    assert [one.kind for one in program.remedies] == ["none"]
    assert "List a mineral" in program.remedies[0].sentence
