"""Changes that are asked about, at the ends of what is possible, and what is said of them."""

from __future__ import annotations

from dataclasses import replace
from datetime import timedelta
from types import SimpleNamespace
from typing import Any

import numpy as np
import pytest

from rickyard.farm import AnimalClass, Farm, Feed, FeedKind, MoveKind, Wanted, WishRow
from rickyard.program.model.rows import build_model
from rickyard.program.planning.changes import (
    Bought,
    Cash,
    Change,
    Condition,
    HeadCount,
    Intake,
    LotLoss,
    Price,
    SalePrice,
    SeasonEnd,
    changed,
)
from rickyard.program.planning.season import with_proof
from rickyard.program.planning.what_if import answer, short_weeks
from rickyard.program.problem.problem import problem_of
from rickyard.program.result.result import SeasonProgram, Shortage
from rickyard.quantities import OutOfRange
from support.farms import START
from support.laid_programs import laid_program
from support.rows import each_row
from support.season_farms import cows, farm_of, hay, report_on, steers

DAY = timedelta(days=1)
CORN = Feed("corn", "Corn", FeedKind.GRAIN, 0.3, dm_pct=88.0, tdn_pct=88.0, cp_pct=9.0)


def a_farm() -> Farm:
    lots = [(one := hay(name, 55.0, 9.0, 50.0, 60.0), report_on(one, 55.0, 9.0)) for name in "ab"]
    scored = replace(cows(), condition_score=4.5)
    return farm_of(lots, [scored, steers()], [CORN])


FARM = a_farm()
PLAIN = replace(FARM, lots=tuple(replace(one, counted_on=START - 9 * DAY) for one in FARM.lots))


@each_row(
    ("change", "possible"),
    [
        (Intake(0.5), True),
        (Intake(-0.5), True),
        (Intake(0.501), False),
        (Intake(-0.501), False),
        (Cash(0.0), True),
        (Cash(-0.01), False),
        (Cash(None), True),
        (SalePrice("a", 0.0), True),
        (SalePrice("a", -0.01), False),
        (SalePrice("a", None), True),
        (SalePrice("c", 0.1), False),
        (Bought("a", 0.0), True),
        (Bought("a", -0.01), False),
        (Bought("corn", 0.0), True),
        (Bought("salt", 1.0), False),
        (HeadCount("cows", 0), True),
        (HeadCount("cows", -1), False),
        (HeadCount("ewes", 1), False),
        (Price("a", 0.0), True),
        (Price("corn", 0.0), True),
        (Price("a", -0.01), False),
        (LotLoss("a", 1.0), True),
        (LotLoss("a", 1.001), False),
        (LotLoss("a", 0.001), True),
        (LotLoss("a", 0.0), False),
        (SeasonEnd(START + DAY), True),
        (SeasonEnd(START), False),
        (Condition("cows", 1.0), True),
        (Condition("cows", 9.0), True),
        (Condition("cows", 0.9), False),
        (Condition("cows", 9.1), False),
        (Condition("steers", 5.0), False),
    ],
)
def test_a_change_is_possible_up_to_its_ends(change: Change, possible: bool) -> None:
    if possible:
        changed(FARM, [change])
    else:
        with pytest.raises(OutOfRange):
            changed(FARM, [change])


def test_each_change_changes_what_it_names_and_nothing_else() -> None:
    assert changed(FARM, [Intake(0.1)]).season.intake_pct == pytest.approx(110.0)
    assert [one.sale_usd_per_kg for one in changed(FARM, [SalePrice("b", 0.1)]).lots] == [None, 0.1]
    dear = changed(FARM, [Price("b", 0.2), Price("corn", 0.4)])
    assert [one.value_usd_per_kg for one in dear.lots] == [FARM.lots[0].value_usd_per_kg, 0.2]
    assert [one.price_usd_per_kg for one in dear.feeds] == [0.4]
    assert [one.head for one in changed(FARM, [HeadCount("steers", 7)]).groups] == [30, 7]
    assert [one.most_kg for one in changed(FARM, [Bought("corn", 500.0)]).feeds] == [500.0]
    assert changed(FARM, [Condition("cows", 5.0)]).groups[0].target_condition_score == 5.0
    for farm in (dear, changed(FARM, [Intake(0.1)])):
        assert replace(farm, lots=FARM.lots, feeds=FARM.feeds, season=FARM.season) == FARM


def test_a_group_that_is_sold_out_takes_its_wishes_with_it() -> None:
    wishes = (WishRow(Wanted.FEED, "a", "cows"), WishRow(Wanted.FEED, "b", "steers"))
    farm = changed(replace(FARM, wishes=wishes), [HeadCount("cows", 0)])
    assert [one.group_id for one in farm.groups] == ["steers"]
    assert farm.wishes == wishes[1:]


def test_hay_bought_and_lost_is_counted_in_bales_or_booked_before_the_first_day() -> None:
    counted = changed(FARM, [Bought("a", 5000.0), LotLoss("b", 0.25)])
    assert [one.bales for one in counted.lots] == pytest.approx([110.0, 75.0])
    assert counted.moves == ()
    booked = changed(PLAIN, [Bought("a", 5000.0), LotLoss("b", 0.25), LotLoss("b", 0.5)])
    assert [one.bales for one in booked.lots] == [100.0, 100.0]
    assert [(row.lot_id, row.kind, row.bales) for row in booked.moves] == [
        ("a", MoveKind.BOUGHT, pytest.approx(10.0)),
        ("b", MoveKind.LOST, pytest.approx(25.0)),
        ("b", MoveKind.LOST, pytest.approx(37.5)),
    ]
    assert {row.day for row in booked.moves} == {START - DAY}


@pytest.mark.parametrize(
    ("calving", "stated", "day"),
    [
        (None, None, FARM.season.end),
        (START + 10 * DAY, None, START + 10 * DAY),
        (START, None, FARM.season.end),
        (FARM.season.end, None, FARM.season.end),
        (START + 10 * DAY, START + 20 * DAY, START + 20 * DAY),
    ],
)
def test_condition_is_wanted_at_calving_in_the_season_or_at_its_end(
    calving: Any, stated: Any, day: Any
) -> None:
    group = replace(FARM.groups[0], calving_on=calving, target_on=stated)
    farm = changed(replace(FARM, groups=(group,)), [Condition("cows", 5.0)])
    assert farm.groups[0].target_on == day
    assert farm.groups[0].animal_class is AnimalClass.COW


def program() -> SeasonProgram:
    return replace(laid_program(FARM, 3), cost=1000.0, gap=0.0, penalty=0.0, shortages=())


def short(group: str = "cows", nutrient: str = "cp", total: float = 10.0) -> Shortage:
    return Shortage(group, START, START + 7 * DAY, nutrient, "kg CP", 0.1, total, "")


@pytest.mark.parametrize(
    ("before", "after", "said"),
    [
        ((), (short(),), "leaves Cows short of"),
        ((short(),), (), "and nothing is short anymore"),
        ((short(),), (short(),), "more."),
        ((short(),), (short(total=20.0),), "leaves Cows shorter than before of"),
        ((short(total=20.0),), (short(),), "less is short than before for Cows"),
        ((short(), short("steers")), (short(total=20.0),), "while less is short for Steers"),
        ((), (short(), short("steers")), "1 other need is met less well"),
        ((), (short(), short("steers"), short("steers", "ca")), "2 other needs are met less well"),
        ((), (replace(short(), nutrient="sulfur"),), "gives Cows too much"),
        ((), (replace(short(""), most_per_head_day=None, nutrient="cash"),), "misses"),
    ],
)
def test_what_is_short_with_a_change_is_told_beside_its_cost(
    before: tuple[Shortage, ...], after: tuple[Shortage, ...], said: str
) -> None:
    base = replace(program(), shortages=before)
    other = replace(program(), shortages=after, cost=1100.0)
    found = answer(FARM, base, [HeadCount("cows", 40)], other)
    assert said in found.sentence
    assert "$100 more" in found.sentence
    assert found.cost_usd == pytest.approx(100.0)


@pytest.mark.parametrize(
    ("more", "said"),
    [
        (0.4, "costs the same"),
        (0.6, "$0.60 more"),
        (-0.4, "costs the same"),
        (-0.6, "$0.60 less"),
        (50.0, "$50 more"),
        (-50.0, "$50 less"),
    ],
)
def test_half_a_dollar_is_no_difference(more: float, said: str) -> None:
    found = answer(FARM, program(), [Cash(None)], replace(program(), cost=1000.0 + more))
    assert said in found.sentence


def test_hay_that_is_lost_or_bought_is_told_at_its_value() -> None:
    base = program()
    price = {one.source_id: one.usd_per_kg_dm for one in base.sources}
    dry = {one.source_id: one.dm_pct / 100.0 for one in base.sources}
    stood = {one.lot_id: 1000.0 * one.start_t for one in base.lots}
    lost = answer(FARM, base, [LotLoss("a", 0.25), LotLoss("b", 0.5)], base).sentence
    worth = 0.25 * stood["a"] * price["a"] + 0.5 * stood["b"] * price["b"]
    assert f"${worth:,.0f}" in lost
    bought = answer(FARM, base, [Bought("a", 3000.0), Bought("corn", 100.0)], base).sentence
    assert f"${3000.0 * dry['a'] * price['a']:,.0f}" in bought
    paid = replace(base, costs=replace(base.costs, purchases=base.costs.purchases + 30.0))
    assert "what sales bring: $30 more" in answer(FARM, base, [Price("a", 0.1)], paid).sentence
    assert "what sales bring: $30 less" in answer(FARM, paid, [Price("a", 0.1)], base).sentence
    assert "what sales bring: the same" in answer(FARM, base, [Price("a", 0.1)], base).sentence
    assert "what sales bring" not in answer(FARM, base, [Cash(None)], paid).sentence


def test_weeks_that_are_short_are_those_of_told_shortages_in_order() -> None:
    base = laid_program(FARM, 3)
    rows = tuple(replace(one, shortage=0.1 * (one.period % 2)) for one in base.needs)
    told = replace(base, needs=rows, shortages=(short(), short("steers", "ca")))
    found = short_weeks(told)
    assert {(one.group_id, one.nutrient) for one in found} <= {("cows", "cp"), ("steers", "ca")}
    assert len(found) >= 2
    assert all(one.period % 2 for one in found)
    keys = [(one.start, one.group_id) for one in found]
    assert keys == sorted(keys)


def test_a_shortage_is_proven_where_half_of_it_is_there_without_whole_numbers() -> None:
    """Judgement; minerals follow from the hay where that is proven short."""
    model = build_model(problem_of(FARM))
    places = model.columns.shortage
    x = np.zeros(len(model.cost))
    for name in ("cp", "ca"):
        x[places[name][places[name] >= 0][0]] = 1.0

    def proven(share: float, of_ca: float, *shortages: Shortage) -> list[bool]:
        relaxed = np.zeros(len(x))
        for name, part in (("cp", share), ("ca", of_ca)):
            relaxed[places[name][places[name] >= 0][0]] = part
        told = replace(program(), shortages=shortages)
        return [one.proven for one in with_proof(told, model, x, relaxed).shortages]

    both = (short(), short("steers", "ca"))
    assert proven(0.5, 0.0, *both) == [True, True]
    assert proven(0.49, 0.0, *both) == [False, False]
    assert proven(0.49, 0.5, *both) == [False, True]
    assert proven(0.9, 0.0, both[1]) == [False]
    assert proven(0.0, 0.51, both[1]) == [True]
    assert proven(0.9, 0.0, both[0], replace(both[1], group_id="")) == [True, False]


@pytest.mark.parametrize(
    ("before", "after", "said"),
    [
        ((), (short(total=0.05),), "leaves Cows short of"),
        ((short(total=10.0),), (short(total=10.1),), "more."),
        ((short(total=10.0),), (short(total=10.11),), "shorter than before"),
        ((short(total=10.0), short("steers")), (short(total=9.9), short("steers")), "more."),
        (
            (short(total=10.0), short("steers")),
            (short(total=9.89), short("steers")),
            "; less is short than before for Cows.",
        ),
        ((short(total=0.05), short("steers")), (short("steers"),), "than before for Cows."),
        # What the whole farm misses is told after what a group does.
        ((), (replace(short(""), nutrient="cash"), short()), "leaves Cows short of"),
        ((), (short("steers"), replace(short(), start=START - DAY)), "leaves Cows short of"),
        ((), (short(), replace(short(), most_per_head_day=0.3)), "by up to 0.66 lb"),
    ],
)
def test_a_hundredth_more_or_less_is_as_short_as_before(
    before: tuple[Shortage, ...], after: tuple[Shortage, ...], said: str
) -> None:
    base = replace(program(), shortages=before)
    other = replace(program(), shortages=after, cost=1100.0, penalty=900.0)
    assert said in answer(FARM, base, [HeadCount("cows", 40)], other).sentence


def test_three_groups_are_named_that_are_better_supplied() -> None:
    groups = tuple(replace(steers(), group_id=name, name=name.upper()) for name in "abcd")
    farm = replace(FARM, groups=(*groups, *FARM.groups))
    other = replace(program(), shortages=(short(),))
    for names, said in (("abc", "for A, B and C"), ("abcd", "for A, B and C and others")):
        base = replace(program(), shortages=(short(), *(short(one) for one in names)))
        told = answer(farm, base, [Cash(None)], other).sentence
        assert f"less is short than before {said}." in told


@pytest.mark.parametrize(("more", "gap", "unclear"), [
    (10.0, 0.01, True), (10.2, 0.01, False), (-10.0, 0.01, True), (-10.2, 0.01, False),
    (0.5, 0.01, False), (0.51, 0.01, True),
])  # fmt: skip
def test_a_change_smaller_than_what_is_left_open_is_none(
    more: float, gap: float, unclear: bool
) -> None:
    """The dearer of the two may be too dear by a hundredth of its cost."""
    base = replace(program(), gap=gap)
    found = answer(FARM, base, [Cash(None)], replace(base, cost=base.cost + more))
    assert found.unclear is unclear
    assert ("no clear change in cost" in found.sentence) is unclear


def test_what_a_longer_search_may_remove_is_told_so() -> None:
    base = replace(program(), penalty=100.0)
    for penalty, doubt in ((109.0, True), (111.1, False)):
        other = replace(base, shortages=(short(),), cost=1100.0, gap=0.01, penalty=penalty)
        told = answer(FARM, base, [HeadCount("cows", 40)], other).sentence
        assert ("a longer search may remove it" in told) is doubt


def test_hay_worth_half_a_dollar_is_not_told() -> None:
    base = program()
    sources = tuple(replace(one, usd_per_kg_dm=0.25, dm_pct=100.0) for one in base.sources)
    lots = tuple(replace(one, start_t=1.0) for one in base.lots)
    base = replace(base, sources=sources, lots=lots)
    for kg, told in ((2.0, False), (2.05, True)):
        bought = answer(FARM, base, [Bought("a", kg)], base).sentence
        assert ("The hay bought is worth" in bought) is told
        assert "Plus the lost hay" not in bought
        lost = answer(FARM, base, [LotLoss("a", kg / 1000.0)], base).sentence
        assert ("Plus the lost hay" in lost) is told
    assert "is worth" not in answer(FARM, base, [Bought("corn", 5000.0)], base).sentence
    half = answer(FARM, base, [Cash(None)], replace(base, cost=base.cost + 0.5))
    assert "the season costs the same" in half.sentence


def test_cash_that_is_short_is_proven_by_what_it_costs() -> None:
    columns = SimpleNamespace(shortage={}, farm_short={"cash": 1})
    model: Any = SimpleNamespace(cost=np.array([9.0, 2.0]), columns=columns)
    told = replace(program(), shortages=(replace(short(""), nutrient="cash"),))
    for part, proven in ((1.0, False), (1.9, False), (2.0, True)):
        (found,) = with_proof(told, model, np.array([0.0, 4.0]), np.array([0.0, part])).shortages
        assert found.proven is proven
