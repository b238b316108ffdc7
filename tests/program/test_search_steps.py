"""The steps of a search one at a time: what counts as better, when it ends, and what is kept."""

from __future__ import annotations

import time
from dataclasses import replace
from types import SimpleNamespace
from typing import Any

import numpy as np
import pytest

from rickyard.program.model.use_binaries import uses_of
from rickyard.program.problem import problem_of, use_rules_of
from rickyard.program.result import PlanOptions
from rickyard.program.search import repair, search
from rickyard.program.search.first_solution import READINGS, Look
from rickyard.program.search.relax import relax
from rickyard.program.search.repair import Gap
from rickyard.program.search.search import Search, _both_ways, _whole
from rickyard.program.search.subproblem import HayChoice
from rickyard.program.solver import SolveError
from support.farms import random_farm
from support.rows import each_row

NONE = np.zeros(0, dtype=bool)


def bare(
    cost: float = 1000.0, bound: float = 1000.0, *, spent: float = 0.0, worked: float = 0.0
) -> Any:
    """Return a search that stands at one program, with money that is its cost."""
    one: Any = object.__new__(Search)
    one.best, one.bound = HayChoice(NONE, np.zeros(0), cost), bound
    one._options = PlanOptions(effort=2.0, threads=1, weekly=True)
    one._spent, one._first_work, one._groups = spent, 0.0, 3
    one._standing = SimpleNamespace(
        session=SimpleNamespace(work=worked),
        tangents=SimpleNamespace(improve=lambda x, *, move: 0),
    )
    one._end, one._fixed = time.perf_counter() + 1000.0, 0.0
    one.said = []
    one._say = one.said.append
    one._money = lambda: cost
    return one


def at_cost(cost: float, used: Any = NONE) -> HayChoice:
    return HayChoice(used, np.zeros(0), cost)


def test_a_program_is_better_when_it_saves_more_than_a_trifle_of_its_cost() -> None:
    one = bare(1000.0)
    trifle = search.BETTER * 1000.0
    assert one._is_better(at_cost(1000.0 - 2.0 * trifle))
    assert not one._is_better(at_cost(1000.0 - trifle))
    assert not one._is_better(at_cost(1000.0 + 2.0 * trifle))


@each_row(
    ("cost", "bound", "money", "gap"),
    [
        (1000.0, 990.0, 1000.0, 0.01),
        (1000.0, 1000.0, 1000.0, 0.0),
        (1000.0, 1010.0, 1000.0, 0.0),
        # A season that earns is measured by what it earns, and a trifle of money by a dollar.
        (-500.0, -510.0, -500.0, 0.02),
        (0.5, 0.25, 0.5, 0.25),
        # What is short is in the cost and in the bound, and in neither's money.
        (5000.0, 4990.0, 100.0, 0.1),
    ],
)
def test_the_gap_is_a_share_of_the_money(
    cost: float, bound: float, money: float, gap: float
) -> None:
    one = bare(cost, bound)
    one._money = lambda: money
    assert one._gap() == pytest.approx(gap)


@pytest.mark.parametrize(
    ("gap", "said"),
    [
        (0.005, "0.5%"),
        (0.5, "50%"),
        (0.51, "how far from the least possible is not yet known"),
    ],
)
def test_a_gap_is_told_in_percent_as_far_as_it_tells_anything(gap: float, said: str) -> None:
    one = bare(1000.0)
    one._gap = lambda: gap
    one._tell("A first program")
    assert one.said[0].startswith("A first program: $1,000, ")
    assert said in one.said[0]
    assert ("above the least possible" in one.said[0]) == (gap <= 0.5)


def test_effort_is_spent_by_searches_and_by_settling_since_the_first_program() -> None:
    one = bare(spent=0.5, worked=0.7)
    one._first_work = 0.3
    assert one._left() == pytest.approx(2.0 - 0.5 - (0.7 - 0.3))
    assert not one._ended()
    # What is left must be more than a trifle of the whole effort.
    one._spent = 2.0 - 0.4 - 1.01 * search.TRIFLE_SHARE * 2.0
    assert not one._ended()
    one._spent = 2.0 - 0.4 - 0.99 * search.TRIFLE_SHARE * 2.0
    assert one._ended()
    one._spent = 0.0
    one._end = time.perf_counter() - 1.0
    assert one._ended()


def test_no_effort_at_all_has_ended() -> None:
    one = bare()
    one._options = PlanOptions(effort=0.0, threads=1, weekly=True)
    assert one._left() == 0.0
    assert one._ended()
    one._options = PlanOptions(effort=5.0, stop=lambda: True, threads=1, weekly=True)
    assert one._time_left() == 0.0
    assert one._ended()


def test_a_program_near_enough_to_the_bound_is_enough() -> None:
    near = search.NEAR_ENOUGH * 1000.0
    assert bare(1000.0, 1000.0 - 0.99 * near)._over()
    assert not bare(1000.0, 1000.0 - 1.01 * near)._over()


def test_repair_ends_with_its_own_work_or_the_clock() -> None:
    one = bare(spent=1.0, worked=2.0)
    one._repair_end = 3.5
    assert not one._repaired_enough()
    one._repair_end = 3.0
    assert one._repaired_enough()
    one._repair_end = 3.5
    one._options = PlanOptions(effort=2.0, stop=lambda: True, threads=1, weekly=True)
    assert one._repaired_enough()


def test_every_group_is_freed_once_with_as_many_as_are_freed_together() -> None:
    one = bare()
    one._groups = 5
    sets = one._neighbours(np.random.default_rng(3), 2)
    assert [int(freed.sum()) for freed in sets] == [2, 2, 1]
    assert np.sum(sets, axis=0).tolist() == [1] * 5
    assert [freed.shape for freed in sets] == [(5,)] * 3


@pytest.mark.parametrize(
    ("wanted", "nearer"),
    [(2.3, (0.0, 2.0)), (2.5, (0.0, 2.0)), (2.51, (3.0, 9.0)), (2.9, (3.0, 9.0))],
)
def test_a_broken_load_is_held_from_both_sides_the_nearer_last(
    wanted: float, nearer: tuple[float, float]
) -> None:
    lower, upper = np.zeros(2), np.full(2, 9.0)
    ways = _both_ways(lower, upper, 1, np.array([5.0, wanted]))
    assert (ways[-1][0][1], ways[-1][1][1]) == nearer
    assert sorted((float(low[1]), float(high[1])) for low, high in ways) == [(0.0, 2.0), (3.0, 9.0)]
    for low, high in ways:
        assert (low[0], high[0]) == (0.0, 9.0), "the other load stays free"
    assert lower.tolist() == [0.0, 0.0]
    assert upper.tolist() == [9.0, 9.0]


def test_loads_are_whole_but_for_rounding() -> None:
    assert _whole(np.zeros(0))
    assert _whole(np.array([1.0, 3.0 - 9e-8]))
    assert not _whole(np.array([1.0, 3.0 - 2e-7]))
    assert not _whole(np.array([0.5]))


def together(first: float, second: float, both: float | None) -> Any:
    """Take the hays of two groups together, each found alone at a cost."""
    one = bare(1000.0)
    one._uses = SimpleNamespace(group=np.array([0, 1]))
    one.best = at_cost(1000.0, np.array([False, False]))
    one.settled = []

    def settle(used: Any) -> HayChoice:
        one.settled.append(used.tolist())
        if both is None:
            raise SolveError("not enough")
        return at_cost(both, used)

    one._settle = settle
    one.gained = one._take_together(
        [
            (at_cost(first, np.array([True, True])), np.array([True, False])),
            (at_cost(second, np.array([False, True])), np.array([False, True])),
        ]
    )
    return one


def test_what_two_groups_found_apart_is_taken_together_where_that_is_better_still() -> None:
    one = together(990.0, 980.0, 970.0)
    assert one.gained
    assert one.best.cost == 970.0
    assert one.settled == [[True, True]], "each with the hays of its own group"
    worse = together(990.0, 980.0, 985.0)
    assert worse.best.cost == 980.0
    assert worse.gained
    none = together(990.0, 980.0, None)
    assert none.best.cost == 980.0
    assert none.gained


def test_one_gain_is_taken_alone_and_none_is_no_gain() -> None:
    one = bare(1000.0)
    one._uses = SimpleNamespace(group=np.array([0, 1]))
    one._settle = None  # nothing is put together of one
    assert one._take_together([(at_cost(990.0), np.array([True, False]))])
    assert one.best.cost == 990.0
    assert not one._take_together([])


def test_a_program_whose_curves_are_broken_is_settled_before_it_is_kept() -> None:
    one = bare(1000.0)
    one._standing.tangents.improve = lambda x, *, move: 1
    one._settle = lambda used: at_cost(995.0)
    assert one._take(at_cost(990.0))
    assert one.best.cost == 995.0
    one._settle = lambda used: at_cost(1001.0)
    assert not one._take(at_cost(990.0))
    assert one.best.cost == 995.0

    def fails(used: Any) -> HayChoice:
        raise SolveError("not enough")

    one._settle = fails
    assert not one._take(at_cost(990.0))
    assert not one._take(at_cost(1500.0))
    assert one.best.cost == 995.0


def test_a_sweep_takes_a_few_groups_at_a_time_and_tells_of_any_gain() -> None:
    one = bare()
    asked = []

    def try_(apart: Any, hays: Any, steps: int, pool: Any) -> bool:
        asked.append(list(apart))
        return len(asked) == 1

    one._try = try_
    assert one._sweep(NONE, 5, ["a", "b", "c"], None)
    assert asked == [["a", "b"], ["c"]]
    assert not one._sweep(NONE, 5, [], None)


def repaired(
    least: float, lacks: list[float], *, effort: float = 2.0, before: float = 0.0
) -> tuple[Any, float]:
    """Repair a season that costs a unit of work a try; return it and where repair ends."""
    one = bare(spent=0.25, worked=1.0)
    one._options = PlanOptions(effort=effort, threads=1, weekly=True)
    one._first_work, one._repaired = 0.125, before
    session = one._standing.session
    one._standing.model = SimpleNamespace(lacks=iter([least, *lacks]))
    one._optimum = SimpleNamespace(x=None)
    one.filled = []

    def fill(gap: Gap) -> bool:
        session.work += 0.5
        one.filled.append(gap.usd)
        return len(one.filled) < len(lacks)

    one._fill = fill
    return one, 1.0 + 0.25


@pytest.mark.parametrize(
    ("effort", "least", "most"),
    [(2.0, 0.0, 8.0), (0.1, 0.0, 1.0), (2.0, 500.0, 1.0), (2.0, 1.0, 8.0)],
)
def test_repair_may_take_some_times_the_effort_and_little_where_all_are_short(
    effort: float, least: float, most: float, monkeypatch: pytest.MonkeyPatch
) -> None:
    one, now = repaired(least, [least], effort=effort, before=0.75)
    monkeypatch.setattr(repair, "lack_usd", lambda model, x: np.array([[next(model.lacks)]]))
    one._repair(searching=False)
    assert one._repair_end == pytest.approx(now + most - 0.75)
    assert one.filled == []
    assert one._repaired == 0.75


def test_the_work_of_a_repair_is_no_part_of_the_effort(monkeypatch: pytest.MonkeyPatch) -> None:
    one, _ = repaired(0.0, [50.0, 20.0, 0.0])
    monkeypatch.setattr(repair, "lack_usd", lambda model, x: np.array([[next(model.lacks)]]))
    left = one._left()
    one._repair(searching=False)
    assert one.filled == [50.0, 20.0]
    assert one._repaired == pytest.approx(2 * 0.5)
    assert one._left() == pytest.approx(left)
    assert one._spent == 0.25


@pytest.mark.parametrize(
    ("least", "searching", "searched"), [(0.0, True, 1), (0.0, False, 0), (30.0, True, 0)]
)
def test_a_gap_that_cannot_be_filled_is_searched_for_unless_all_are_short(
    least: float, searching: bool, searched: int, monkeypatch: pytest.MonkeyPatch
) -> None:
    one, _ = repaired(least, [80.0])
    tried = []

    def search_for(gap: Gap) -> bool:
        tried.append(gap.usd)
        one._spent += 0.25
        return False

    one._search_for = search_for
    monkeypatch.setattr(repair, "lack_usd", lambda model, x: np.array([[next(model.lacks)]]))
    left = one._left()
    one._repair(searching=searching)
    assert len(tried) == searched
    assert one._repaired == pytest.approx(0.5 + 0.25 * searched)
    assert one._left() == pytest.approx(left)


@pytest.fixture(scope="module")
def small() -> Search:
    """Return the first program of a small farm with loads and costs of changing."""
    farm = random_farm(2, lots=4, groups=2, weeks=6)
    season = replace(farm.season, hays_at_once=1, least_run_days=14, change_usd=10.0)
    feeds = tuple(replace(one, load_kg=800.0) for one in farm.feeds)
    farm = replace(farm, season=season, feeds=feeds)
    problem = problem_of(farm)
    relaxation = relax(problem, str)
    uses = uses_of(relaxation.model, use_rules_of(farm, problem))
    return Search(relaxation, uses, PlanOptions(effort=0.0, threads=1, weekly=True), str, 123.0)


def test_money_is_what_is_paid_and_lost_without_the_price_of_what_is_short(small: Search) -> None:
    model, x = small._standing.model, small.best.x
    short = model.columns.first_shortage
    paid = sum(float(model.cost[at] * x[at]) for at in range(short))
    changes = small._uses.changes_usd(small.best.used)
    assert small._money() == pytest.approx(paid + changes + 123.0)
    prices = sum(float(model.cost[at] * x[at]) for at in range(short, len(x)))
    assert small.best.cost == pytest.approx(paid + prices + changes)


def test_what_is_found_has_the_cost_of_its_amounts_and_no_higher_bound(small: Search) -> None:
    found = small._found()
    cost = float(small._standing.model.cost @ found.choice.x)
    changes = small._uses.changes_usd(found.choice.used)
    assert found.choice.cost == pytest.approx(cost + changes)
    assert found.choice.cost == pytest.approx(small.best.cost)
    assert found.optimum.objective == pytest.approx(cost)
    assert found.bound == min(small.bound, found.choice.cost)
    assert _whole(found.choice.x[model_loads(small)])


def model_loads(one: Search) -> Any:
    loads = one._standing.model.columns.loads
    return loads[loads >= 0]


def test_hays_are_better_when_they_save_with_the_cost_of_their_changes(small: Search) -> None:
    used = small.best.used
    now = small.best
    split = small._standing
    split.hold(used)
    cost = split.settled().objective + small._uses.changes_usd(used)
    for above, better in ((1.0, True), (-1.0, False)):
        small.best = replace(now, cost=cost + above)
        assert small._may_be_better(used) == better
    small.best = now


def test_a_large_season_is_read_again_from_its_best_program(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    farm = random_farm(15, lots=14, groups=2, weeks=5)
    farm = replace(farm, season=replace(farm.season, hays_at_once=1))
    problem = problem_of(farm)

    def read(large: int, effort: float = 10.0) -> tuple[Search, list[Any]]:
        found = relax(problem, lambda _: None, rough=True)
        uses = uses_of(found.model, use_rules_of(farm, problem))
        from_best: list[Any] = []
        amounts = Look.amounts

        def noted(self: Look, begin: Any = None) -> Any:
            from_best.append(begin is not None and bool(np.array_equal(begin, one.best.x)))
            return amounts(self, begin)

        one = Search(found, uses, PlanOptions(effort=effort, weekly=True), lambda _: None, 0.0)
        with monkeypatch.context() as patch:
            patch.setattr(Look, "amounts", noted)
            patch.setattr(search, "LARGE", large)
            patch.setattr(search, "NEAR_ENOUGH", -1.0)
            one._read_again()
        return one, from_best

    size = len(uses_of(relax(problem, lambda _: None).model, use_rules_of(farm, problem)).column)
    small, alone = read(size)
    large, nearer = read(size - 1)
    assert alone == [False] * (len(READINGS) - 1)
    assert nearer == [False, True, True]
    # Here all readings of the relaxation are short of hay, and what is near the best is not.
    assert large.best.cost < 0.5 * small.best.cost
    assert large._left() < 10.0, "what it takes is counted"
    assert read(size - 1, 0.0)[1] == []


# --- rounds of a search, each with what it may spend --------------------------------------------


def in_one_piece(
    choice: HayChoice | None, bound: float, *, ruled: bool = True, narrow: bool = False
) -> tuple[Any, list[Any]]:
    """Return a search that finds a choice whenever it looks at the whole, and what it looked at."""
    one = bare(1000.0, 900.0)
    one._uses = SimpleNamespace(rules=SimpleNamespace(any=ruled), column=np.zeros(5))
    one._narrow, asked = narrow, list[Any]()

    def part(best: HayChoice, freedom: Any) -> Any:
        def search_(limits: Any) -> Any:
            asked.append((freedom, limits))
            return SimpleNamespace(work=0.25), choice

        def steps_for(work: float) -> int:
            return round(1000.0 * work)

        return SimpleNamespace(steps_for=steps_for, search=search_, bound=lambda point: bound)

    one._part = part
    return one, asked


def test_a_season_in_one_piece_is_searched_with_a_share_of_what_is_left() -> None:
    one, asked = in_one_piece(None, 950.0)
    one._search_whole(0.5)
    ((freedom, limits),) = asked
    assert (limits.gap, limits.nodes, limits.steps) == (0.0, 1_000_000, 1000)
    assert freedom.groups.tolist() == [True] * 3
    assert freedom.hays.tolist() == [True] * 5
    assert freedom.others_move
    assert (one._spent, one.bound, one.best.cost) == (0.25, 950.0, 1000.0)
    one, asked = in_one_piece(None, 850.0, ruled=False)
    one._search_whole()
    assert (asked[0][1].steps, asked[0][0].groups.tolist()) == (2000, [False] * 3)
    assert one.bound == 900.0
    one, _ = in_one_piece(None, 950.0, narrow=True)
    one._search_whole()
    assert one.bound == 900.0, "what was left out might still matter"


@pytest.mark.parametrize(
    ("found", "bound", "settled", "times"),
    [
        (990.0, 990.0, 990.0, 1),
        (990.0, 989.9901, 995.0, 6),
        (990.0, 989.9899, 995.0, 1),
        (990.0, 990.0, 990.0099, 1),
        (990.0, 990.0, 990.0101, 6),
    ],
)
def test_a_season_is_searched_again_while_its_best_breaks_a_curve(
    found: float, bound: float, settled: float, times: int
) -> None:
    one, asked = in_one_piece(at_cost(found), bound)
    one._standing.tangents.improve = lambda x, *, move: 1
    one._settle = lambda used: at_cost(settled)
    one._money = lambda: 1000.0
    one._search_whole()
    assert len(asked) == times
    assert one.best.cost == settled
    one, asked = in_one_piece(at_cost(990.0), 985.0)
    one._options = PlanOptions(effort=0.27, threads=1, weekly=True)
    one._money = lambda: 1e9
    one._search_whole()
    assert len(asked) == 1, "no effort is left"


def test_parts_are_searched_wider_as_long_as_nothing_is_gained(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    one = bare(1000.0, 900.0)
    one._uses = None
    monkeypatch.setattr(search.first_solution, "cheapest_hays", lambda uses, best, count: count)
    one._optimum = None
    asked: list[Any] = []
    gains = iter([True, False, True])

    def sweep(hays: int, steps: int, groups: int, pool: Any) -> bool:
        asked.append((hays, groups, steps))
        return next(gains, False)

    one._sweep, one._neighbours = sweep, lambda chance, together: together
    one._in_parts(None)
    four = [(4, 1, 12), (4, 1, 12), (4, 2, 12), (4, 1, 12), (4, 2, 12), (4, 2, 60)]
    assert asked == [*four, *((count, *sets) for count in (6, 10) for sets in search.SWEEPS)]
    asked.clear()
    one._over = lambda: len(asked) >= 2
    one._in_parts(None)
    assert asked == [(4, 1, 12), (4, 2, 12)]


def test_a_bound_is_raised_beside_the_first_part(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(search.first_solution, "cheapest_hays", lambda uses, best, count: count)
    for raised, bound in ((950.0, 950.0), (850.0, 900.0)):
        one = bare(1000.0, 900.0, spent=0.5)
        one._uses = one._optimum = None
        one._whole = SimpleNamespace(bound=lambda point, raised=raised: raised)
        one._neighbours = lambda chance, together: ["a", "b", "c"]
        one._bound_beside = lambda pool: SimpleNamespace(result=lambda: SimpleNamespace(work=0.25))
        tried: list[Any] = []
        one._try = lambda *what, tried=tried: tried.append(what)
        one._over = lambda: True
        one._in_parts("pool", bound_beside=True)
        assert tried == [(["a"], 4, 12, None)]
        assert (one._spent, one.bound) == (0.75, bound)


@pytest.mark.parametrize(
    ("hays", "narrow", "begin", "begun"),
    [
        (15_000, False, 0.6, True),
        (15_001, False, 0.0, False),
        (5, True, 0.0, False),
        (5, False, 0.601, False),
    ],
)
def test_the_whole_is_searched_beside_where_a_third_of_the_effort_is_enough_to_begin(
    hays: int, narrow: bool, begin: float, begun: bool
) -> None:
    """Three tenths of two units of work."""
    one = bare()
    one._uses, one._narrow = SimpleNamespace(column=np.zeros(hays)), narrow
    one._part = lambda best, freedom: SimpleNamespace(
        work_to_begin=lambda: begin, steps_for=lambda work: round(1000.0 * work), minimise=None
    )
    limits: list[Any] = []
    pool = SimpleNamespace(submit=lambda search_, limit: limits.append(limit) or "begun")
    assert one._bound_beside(pool) == ("begun" if begun else None)
    if begun:
        assert (limits[0].gap, limits[0].nodes, limits[0].steps) == (search.NEAR_ENOUGH, 1, 600)


def test_a_small_season_is_searched_whole_before_and_after_its_parts() -> None:
    def order(hays: int, *, narrow: bool = False, over_after: int = 99) -> list[str]:
        one, done = bare(), list[str]()
        one._uses, one._narrow = SimpleNamespace(column=np.zeros(hays)), narrow
        one._search_whole = lambda share=1.0: done.append(f"whole {share}")
        one._read_again = lambda *_: done.append("read")
        one._in_parts = lambda pool, *, bound_beside=False: done.append(f"parts {bound_beside}")
        one._over = lambda: len(done) >= over_after
        one._improve(None)
        return done

    assert order(400) == ["whole 0.5", "read", "parts False", "whole 1.0"]
    assert order(401) == order(400, narrow=True) == ["read", "parts True"]
    assert order(400, over_after=1) == ["whole 0.5"]
    assert order(400, over_after=3) == ["whole 0.5", "read", "parts False"]


def test_two_parts_share_what_is_left_and_both_are_taken_together() -> None:
    one = bare(1000.0, 900.0)
    one.best = at_cost(1000.0, np.zeros(4, dtype=bool))
    one._uses = SimpleNamespace(group=np.array([0, 0, 1, 1]))
    asked: list[Any] = []
    found = iter([at_cost(990.0), None, at_cost(999.99995), at_cost(980.0)])

    def part(best: HayChoice, freedom: Any) -> Any:
        def search_(limits: Any) -> Any:
            asked.append((freedom, limits.gap, limits.nodes, limits.steps))
            return SimpleNamespace(work=0.25), next(found)

        return SimpleNamespace(steps_for=lambda work: round(100.0 * work), search=search_)

    one._part = part
    taken: list[list[float]] = []
    one._take_together = lambda better: (
        taken.append([one.cost for one, _ in better]) or bool(better)
    )
    hays = np.array([True, False, False, False])
    groups = [np.array([True, False, False]), np.array([False, True, False])]
    assert one._try(groups, hays, 120, None)
    assert [steps for *_, steps in asked] == [100, 100], "half of two units of work"
    assert {(gap, nodes) for _, gap, nodes, _ in asked} == {(search.PART_GAP, 1)}
    assert one._spent == 0.5
    assert all(freedom.others_move for freedom, *_ in asked)
    pool = SimpleNamespace(submit=lambda work, limits: SimpleNamespace(result=lambda: work(limits)))
    assert one._try(groups, hays, 12, pool)
    assert [steps for *_, steps in asked[2:]] == [12, 12]
    assert taken == [[990.0], [980.0]]
    one._over = lambda: True
    assert not one._try(groups, hays, 12, None)
    assert len(asked) == 4


@pytest.mark.parametrize(("used", "moving"), [(1500, True), (1501, False)])
def test_others_move_where_few_hays_are_in_use(used: int, moving: bool) -> None:
    one = bare(1000.0, 900.0)
    one.best = at_cost(1000.0, np.ones(used, dtype=bool))
    freed: list[Any] = []

    def part(best: HayChoice, freedom: Any) -> Any:
        freed.append(freedom.others_move)
        point = SimpleNamespace(work=0.0)
        return SimpleNamespace(steps_for=lambda work: 1, search=lambda limits: (point, None))

    one._part = part
    assert not one._try([np.ones(3, dtype=bool)], np.zeros(used, dtype=bool), 1, None)
    assert freed == [moving]


def loading(split: float, ways: dict[float, float | None]) -> Any:
    """Return a search for whole loads: what each number of them costs, ``None`` where it fails."""
    one = bare()
    one.held, one.settled = [], 0
    now = SimpleNamespace(lower=0.0, upper=9.0)

    def bound_loads(lower: Any, upper: Any) -> None:
        now.lower, now.upper = float(lower[0]), float(upper[0])

    def hold(used: Any, x: Any) -> None:
        one.held.append(x.tolist())
        now.lower = now.upper = float(x[0])

    def settled() -> Any:
        one.settled += 1
        loads = min(max(split, now.lower), now.upper)
        usd = ways.get(loads, 100.0)
        if usd is None:
            raise SolveError("not enough")
        return SimpleNamespace(x=np.array([loads, 5.0]), objective=usd)

    one._standing = SimpleNamespace(
        model=SimpleNamespace(
            lower=np.zeros(2),
            upper=np.full(2, 9.0),
            columns=SimpleNamespace(loads=np.array([-1, 0])),
        ),
        bound_loads=bound_loads,
        hold=hold,
        settled=settled,
    )
    return one


@each_row(
    ("split", "ways", "loads", "tries"),
    [
        (2.3, {2.0: 103.0, 3.0: 107.0}, 2.0, 3),
        (2.3, {2.0: 107.0, 3.0: 103.0}, 3.0, 3),
        (2.7, {2.0: 103.0, 3.0: 103.0}, 3.0, 3),
        # A millionth cheaper is no cheaper.
        (2.3, {2.0: 100.0, 3.0: 99.99995}, 2.0, 3),
        (2.3, {2.0: 100.0, 3.0: 99.99985}, 3.0, 3),
        (2.3, {2.0: None, 3.0: 107.0}, 3.0, 3),
        # Where neither can be, the loads are rounded up.
        (2.3, {2.0: None, 3.0: None}, None, 3),
    ],
)
def test_loads_are_made_whole_in_the_cheaper_way(
    split: float, ways: dict[float, float | None], loads: float | None, tries: int
) -> None:
    one = loading(split, ways)
    x = np.array([split, 5.0])
    if loads is None:
        with pytest.raises(SolveError):
            one._in_whole_loads(NONE, x)
        assert one.held == [[3.0, 5.0]]
        tries += 1
    else:
        assert one._in_whole_loads(NONE, x)[0] == loads
        assert one.held == []
    assert one.settled == tries


def test_loads_are_rounded_up_but_for_rounding() -> None:
    one = loading(2.0000005, {2.0: None, 3.0: None})
    with pytest.raises(SolveError):
        one._in_whole_loads(NONE, np.array([2.0000005, 5.0]))
    assert one.held == [[2.0, 5.0]]


@pytest.mark.parametrize("fails", [0, 1, 12, 13])
def test_hays_that_cannot_all_get_their_least_are_fewer_twelve_times(
    fails: int, monkeypatch: pytest.MonkeyPatch
) -> None:
    one = bare()
    one._uses = SimpleNamespace(rules=SimpleNamespace(any=True), must="must", possible="all")
    monkeypatch.setattr(search.first_solution, "first_uses", lambda standing, best, reading: 0)
    one._optimum, asked, parts = None, list[Any](), list[float]()

    def with_enough(used: int, reading: Any, part: float) -> int:
        parts.append(part)
        return used + 1

    one._with_enough = with_enough

    def settle(used: Any) -> Any:
        asked.append(used)
        if len(asked) <= fails:
            raise SolveError("not enough")
        return used

    one._settle = settle
    if fails == 13:
        with pytest.raises(SolveError):
            one._first(None)
    else:
        assert one._first(None) == (fails if fails < 12 else "must")
    assert asked == [*range(12), "must"][: fails + 1]
    # Each time a tenth more than the least must be left of a hay.
    assert parts == pytest.approx([1.0 + 0.1 * tried for tried in range(min(fails, 12))])
    one._uses.rules.any = False
    asked.extend([None] * 5)
    assert one._first(None) == "all"


def test_the_whole_is_searched_where_no_rule_counts_hays() -> None:
    def done(*, ruled: bool = True, groups: int = 2, left: float = 1.0) -> list[str]:
        one, found = bare(), list[str]()
        one._uses = SimpleNamespace(rules=SimpleNamespace(any=ruled))
        one._groups = groups
        one._time_left = lambda: left
        one._search_whole = lambda: found.append("whole")
        one._improve = lambda pool: found.append("improve")
        one._repair = lambda *, searching: found.append(f"repair {searching}")
        one._found = lambda: found.append("found")
        one.run()
        return found

    assert done(ruled=False) == ["whole", "found"]
    assert done() == ["repair False", "improve", "repair True", "found"]
    assert done(groups=0) == done(left=0.0) == ["found"]


def test_a_part_is_searched_wider_until_a_gap_is_filled(monkeypatch: pytest.MonkeyPatch) -> None:
    one = bare(1000.0, 900.0)
    one._repair_end, one._optimum = 99.0, None
    monkeypatch.setattr(repair, "freedom_for", lambda standing, best, relaxed, gap, part: part)
    asked: list[Any] = []
    found = iter([None, at_cost(999.99995), at_cost(990.0)])

    def part(best: HayChoice, freedom: Any) -> Any:
        def search_(limits: Any) -> Any:
            asked.append((freedom, limits.steps, limits.nodes))
            return SimpleNamespace(work=0.25), next(found)

        return SimpleNamespace(search=search_)

    one._part = part
    assert one._search_for(None)
    assert asked == [(each, each[2], 1) for each in repair.PARTS[:3]]
    assert one._spent == 0.75
    one._repair_end = 0.75
    assert not one._search_for(None)
    assert len(asked) == 3
