"""Where hay goes and what it costs, and hay kept for rises, in figures."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any

import numpy as np
import pytest

from rickyard.program.explain import balances
from rickyard.program.problem import feed_left_share
from rickyard.program.problem.set_aside import only_mixed, set_aside_kg_dm
from rickyard.program.winters.winter_farms import sunk_usd
from support.by_hand import one

NAN = np.nan


# --- hay and money -------------------------------------------------------------------------------

HAY = one(source_id="hay", name="Hill", bale_weight_kg=500.0, dm_pct=80.0, usd_per_kg_dm=0.1)
CORN = one(source_id="corn", name="Corn", bale_weight_kg=None, dm_pct=90.0, usd_per_kg_dm=0.3)
EATEN = np.array([[[4.0, 8.0], [0.0, 1.0]]])


def problem(start: float = 1000.0, load: float = NAN, kept: Any = (0.9, 0.8)) -> Any:
    """Return a hay and corn over two periods, of which a fifth of the hay is wasted."""
    sources = one(
        lot_count=1,
        values=[HAY, CORN],
        start_kg_dm=np.array([start]),
        kept=np.array([kept]),
        feeding_loss_frac=np.array([[0.2, 0.0]]),
        load_kg_dm=np.array([NAN, load]),
        sale_usd_per_kg_dm=np.array([0.15]),
        is_hay=np.array([True, False]),
        share_limit=np.ones((1, 2, 2)),
        most_kg_dm=np.ones((1, 2, 2)),
        allowed=np.ones((1, 2, 2), dtype=bool),
    )
    here = np.ones((1, 2), dtype=bool)
    needs = one(head_days=np.array([[10.0, 20.0]]), here=here, groups=[one(group_id="g")])
    return one(sources=sources, needs=needs)


def test_a_lot_is_followed_from_its_first_day_to_its_last() -> None:
    (lot,) = balances.lot_balances(problem(), EATEN, np.array([100.0]))
    assert (lot.start_t, lot.sold_t) == (1.0, 0.1)
    assert (lot.eaten_t, lot.feeding_loss_t) == pytest.approx((0.2, 0.05))
    # A tenth of 900 and a fifth of the 760 left, before 250 are put out.
    assert (lot.storage_loss_t, lot.left_t) == pytest.approx((0.242, 0.408))
    assert (lot.start_bales, lot.fed_bales) == pytest.approx((2.5, 0.625))
    assert lot.kept_from == ()


@pytest.mark.parametrize(("over", "left"), [(5e-3, 0.0), (-5e-3, 0.0), (3e-2, 3e-5)])
def test_what_a_solver_leaves_is_nothing(over: float, left: float) -> None:
    (lot,) = balances.lot_balances(problem(250.0 + over, kept=(1.0, 1.0)), EATEN, np.zeros(1))
    assert lot.left_t == pytest.approx(left, rel=1e-3)


def test_hay_is_kept_from_who_may_have_none_of_it_while_here() -> None:
    four = problem()
    four.needs.groups = [one(group_id=name) for name in "abcd"]
    four.needs.here = np.array([[True, True], [True, True], [False, False], [True, True]])
    ones = np.ones((4, 2, 2))
    most, share, allowed = ones.copy(), ones.copy(), ones.astype(bool)
    most[1, 0] = 0.0
    share[3, 0, 0] = 0.0
    allowed[3, 0, 1] = False
    four.sources.most_kg_dm, four.sources.share_limit, four.sources.allowed = most, share, allowed
    assert balances._kept_from(four, 0) == ("b", "d")
    assert balances._kept_from(four, 1) == ()


@pytest.mark.parametrize(
    ("load", "fed", "loads", "dm"),
    [(NAN, 1.0, None, 20.0), (15.0, 1.0, 2, 30.0), (20.0, 1.0, 1, 20.0), (15.0, 1e-8, 1, 15.0)],
)
def test_feed_is_bought_in_whole_loads(load: float, fed: float, loads: Any, dm: float) -> None:
    eaten = EATEN.copy()
    eaten[0, 1, 1] = fed
    (bought,) = balances.purchases(problem(load=load), eaten)
    assert (bought.loads, bought.dm_kg) == (loads, pytest.approx(dm))
    assert bought.as_fed_kg == pytest.approx(dm / 0.9)
    assert bought.cost_usd == pytest.approx(0.3 * dm)
    assert bought.left_kg == pytest.approx((dm - 20.0 * fed) / 0.9)
    eaten[0, 1, 1] = 4e-9
    assert balances.purchases(problem(load=load), eaten) == ()


def test_hay_sold_is_told_in_bales_and_money() -> None:
    (sale,) = balances.sales(problem(), np.array([100.0]))
    assert (sale.as_fed_kg, sale.dm_kg, sale.bales) == (125.0, 100.0, 0.25)
    assert sale.revenue_usd == pytest.approx(15.0)
    assert balances.sales(problem(), np.zeros(1)) == ()
    model: Any = one(columns=one(sold=np.array([1, -1])))
    assert balances.sold_kg(model, np.array([9.0, 0.1])).tolist() == [100.0, 0.0]


def test_the_season_costs_by_kind() -> None:
    asked = problem(load=15.0)
    lots = balances.lot_balances(asked, EATEN, np.array([100.0]))
    bought = balances.purchases(asked, EATEN)
    sold = balances.sales(asked, np.array([100.0]))
    farm: Any = one(season=one(carry_over_value_pct=60.0, change_usd=25.0))
    found = balances.costs(farm, asked, lots, bought, sold, 2)
    assert found.hay_eaten == pytest.approx(20.0)
    assert found.hay_feeding_loss == pytest.approx(5.0)
    assert found.hay_storage_loss == pytest.approx(24.2)
    assert found.carry_over_discount == pytest.approx(0.4 * 40.8)
    assert found.purchases == pytest.approx(9.0)
    assert found.feed_left == pytest.approx(-3.0 * feed_left_share(0.6))
    assert found.hay_sold == pytest.approx(-5.0)
    assert found.changes == 50.0


def test_a_hay_begins_where_it_was_not_fed_while_the_group_was_here() -> None:
    asked = problem()
    asked.sources.is_hay = np.array([True, True, False])
    asked.needs.here = np.array([[False, True, True, True, True]])
    fed = [[0, 1, 0, 1, 1], [0, 0, 0, 1, 0], [0, 0, 1, 0, 1]]
    assert balances.run_starts(asked, np.array([fed], dtype=float)) == 2


def test_part_of_what_autumn_pays_is_lost_whether_fed_or_not() -> None:
    feeds = [one(price_usd_per_kg=9.0), one(price_usd_per_kg=0.2)]
    split = one(autumn=np.array([2]), end_worth=0.6)
    given: Any = one(
        farm=one(lots=["hay"], feeds=feeds), split=split, dm_frac=np.array([1.0, 1.0, 0.5])
    )
    autumn: Any = one(bought_kg_dm=np.array([100.0]))
    assert sunk_usd(given, autumn) == pytest.approx(16.0)


# --- hay kept for rises --------------------------------------------------------------------------


def aside(
    corn: Sequence[float],
    begins: bool = False,
    days: int = 7,
    hays: Sequence[Sequence[float]] = ((8.0, 8.0, 4.0), (0.0, 0.0, 5.0)),
    free: float = 0.5,
    before: float = 1.0,
) -> list[float]:
    """Return what is kept of two hays for twenty head whose corn begins at a kilogram."""
    step = one(group=0, sources=(2,), days=days, free=np.full(3, free), before_kg=before)
    other = one(group=1, sources=(2,), days=9, free=np.zeros(3), before_kg=0.0)
    asked: Any = one(
        sources=one(
            values=[None] * 3,
            feeding_loss_frac=np.array([[0.2, 0.0, 0.0]]),
            is_hay=np.array([True, True, False]),
            lot_count=2,
            bound=(),
        ),
        keep=np.array([[0.9] * 3, [0.8] * 3]),
        begins=[one(group=0, sources=(1,))] if begins else [],
        steps=[step, other],
        needs=one(groups=[one(head=20)]),
    )
    return set_aside_kg_dm(asked, np.array([[*hays, corn]])).tolist()


def test_hay_is_kept_for_half_of_the_days_of_a_rise_by_the_parts_of_the_hays() -> None:
    # Three kilograms for three days, of twenty head, and a twentieth more.
    assert aside([1.0, 4.0, 4.0]) == pytest.approx([1.05 * 180.0 / 0.9, 0.0, 0.0])
    assert aside([1.0, 4.0, 7.0]) == pytest.approx([315.0, 118.125, 0.0])
    assert aside([1.0, 1.4, 1.9]) == [0.0, 0.0, 0.0]
    assert aside([1.0, 4.0, 4.0], days=2) == pytest.approx([35.0, 0.0, 0.0])
    assert aside([1.0, 4.0, 4.0], days=1) == [0.0, 0.0, 0.0]
    assert aside([3.0, 3.0, 3.0]) == pytest.approx([1.05 * 20.0 * 6.0 / 0.9, 0.0, 0.0])


def test_hay_that_is_only_mixed_never_makes_up() -> None:
    """For horses hay with nitrate was set aside, of which the list then gave nothing."""
    mixed, own = (one(group_id="g", source_id=name, rule=one(mixed=name == "b")) for name in "bc")
    sources = one(is_hay=np.ones(3), values=[one(source_id=name) for name in "abc"],
                  bound=(mixed, own))  # fmt: skip
    problem: Any = one(sources=sources, needs=one(groups=[one(group_id=name) for name in "fg"]))
    assert only_mixed(problem).tolist() == [[False] * 3, [False, True, False]]


def test_one_danger_waits_a_week_for_another() -> None:
    # Five kilograms of hay by thirds for three days; then the rise, three days and seven.
    assert aside([1.0, 4.0, 7.0], begins=True) == pytest.approx([1260.0, 0.0, 0.0])
    # What needs no days beyond its first waits for nothing and keeps nothing waiting.
    assert aside([1.0, 1.0, 4.0], begins=True, days=1) == pytest.approx([350.0, 0.0, 0.0])


def test_a_trace_neither_rises_nor_begins_nor_is_hay() -> None:
    trace, some, none = 1e-6, 2e-6, [0.0] * 3
    assert aside([trace] * 3, free=0.0, before=0.0) == none
    assert aside([some] * 3, free=0.0, before=0.0)[0] > 0.0
    # Of a hay begun by thirds a trace is no beginning, and what comes after it is one.
    for begun in ([trace, 5.0, 5.0], [5.0] * 3):
        found = aside([1.0] * 3, begins=True, hays=([8.0] * 3, begun))
        assert found == pytest.approx([350.0, 0.0, 0.0])
    assert aside([1.0] * 3, begins=True, hays=([8.0] * 3, [trace] * 3)) == none
    assert aside([1.0, 4.0, 4.0], hays=(none, [trace] * 3)) == none
    assert aside([1.0, 4.0, 4.0], hays=(none, [some] * 3))[1] > 0.0
