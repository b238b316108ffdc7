"""The solver's sessions on a program of two amounts that is solved by hand.

Four units at least of two things at three and two dollars, of which no more than three can be
had of either: three of the cheap one and one of the dear one, for nine dollars. One unit more
costs three, and one more of the cheap one to be had saves one.
"""

from __future__ import annotations

from types import SimpleNamespace
from typing import Any

import highspy
import numpy as np
import pytest

from rickyard.program.solver.highs import LOWER, UPPER, ZERO, Session, _priced
from rickyard.program.solver.points import (
    IN_BASIS,
    Basis,
    Meter,
    Optimum,
    SearchLimits,
    SolveError,
    SparseRows,
)

INF = np.inf
#: What a run costs before its first step, for each root of a row. [units of work]
BEGUN = 50 * 6e-6


def rows(*each: tuple[float, float, dict[int, float]]) -> SparseRows:
    found = [(r, c, v) for r, (_, _, given) in enumerate(each) for c, v in given.items()]
    row, column, value = (np.array(part) for part in zip(*found, strict=True))
    return SparseRows.of(
        np.array([low for low, _, _ in each]),
        np.array([high for _, high, _ in each]),
        (row, column, value),
    )


FOUR = (4.0, INF, {0: 1.0, 1: 1.0})
#: Rows that hold in any case.
LOOSE = [(-INF, 9.0, {0: 1.0}), (-9.0, INF, {1: 1.0}), (-INF, 9.0, {0: 1.0, 1: 1.0})]


def session(*more: Any, least: Any = FOUR, **given: Any) -> Session:
    return Session(np.array([3.0, 2.0]), np.zeros(2), np.full(2, 3.0), rows(least, *more), **given)


def test_the_least_cost_has_its_prices_and_its_bound() -> None:
    best = session().minimise()
    assert best.x == pytest.approx([1.0, 3.0])
    assert (best.objective, best.bound) == pytest.approx((9.0, 9.0))
    assert best.row_dual == pytest.approx([3.0])
    assert best.reduced_cost == pytest.approx([0.0, -1.0])
    with pytest.raises(SolveError):
        session((-INF, 3.0, {0: 1.0, 1: 1.0})).minimise()


def test_bounds_rows_and_costs_are_replaced_and_taken_back() -> None:
    one = session()
    one.minimise()
    mark = one.mark()
    assert one.add_rows(rows((2.0, INF, {0: 1.0}), LOOSE[0])) == 1
    assert one.minimise().objective == pytest.approx(10.0)
    assert one.add_rows(rows(LOOSE[1])) == 3
    assert one.add_rows(rows(FOUR).only(np.zeros(0, dtype=np.int64))) == 4
    one.back_to(mark)
    assert len(one.all_rows().lower) == 1
    assert one.minimise().objective == one.minimise().bound == pytest.approx(9.0)
    one.back_to(mark)
    one.set_row_bounds(0, 5.0, INF)
    assert one.minimise().objective == pytest.approx(12.0)
    one.set_row_bounds(0, -INF, INF)
    assert one.minimise().objective == pytest.approx(0.0)
    one.set_row_bounds(0, 4.0, INF)
    assert one.column_upper(np.array([1])).tolist() == [3.0]
    one.set_column_upper(np.array([1]), np.array([2.0]))
    best = one.minimise()
    assert (best.objective, best.bound) == pytest.approx((10.0, 10.0))
    one.set_cost(np.array([1.0, 2.0]))
    assert one.costs().tolist() == [1.0, 2.0]
    assert one.minimise().objective == pytest.approx(5.0)
    one.change(np.array([0]), np.array([0]), np.array([2.0]))
    assert one.minimise().objective == pytest.approx(2.0)
    assert one.add_columns(np.array([0.1]), np.zeros(1), np.full(1, INF)).tolist() == [2]
    assert one.bounds()[1].tolist() == [3.0, 2.0, INF]
    one.change(np.array([0]), np.array([2]), np.array([1.0]))
    best = one.minimise()
    assert (best.objective, best.bound) == pytest.approx((0.4, 0.4))
    stands = one.all_rows()
    assert (stands.lower.tolist(), stands.upper.tolist()) == ([4.0], [INF])


def test_variables_come_with_the_rows_in_which_they_stand() -> None:
    one = session()
    entries = np.array([0, 0]), np.array([0, 1]), np.array([1.0, 4.0])
    new = one.add_columns(np.array([9.0, 2.0]), np.zeros(2), np.full(2, INF), entries)
    assert one.minimise().x[new].tolist() == pytest.approx([0.0, 1.0])


def test_a_run_costs_what_its_steps_and_the_root_of_its_rows_say() -> None:
    one, left = session(), session(left_out=3)
    one.minimise()
    left.minimise()
    first = one.work
    assert BEGUN <= first <= 1.1 * BEGUN
    assert left.work == pytest.approx(2.0 * first)
    one.minimise()
    assert one.work - first == pytest.approx(BEGUN), "what stands at its best takes no step"
    four = session(*LOOSE, meter=one.meter)
    assert four.work_to_begin() == pytest.approx(6e-6 * 2.0 * 2.0)
    before = one.work
    four.minimise()
    assert one.work - before >= 2.0 * BEGUN, "one meter counts for both"
    inner = session()
    inner._highs.setOptionValue("solver", "ipm")
    inner._highs.setOptionValue("presolve", "off")
    inner.minimise()
    assert inner.work > 1.01 * BEGUN, "other ways of solving count too"


@pytest.mark.parametrize(
    ("work", "more", "steps"),
    [
        (0.0, 0, 1),
        (10.5 * 2.4e-5, 0, 10),
        (10.5 * 2.4e-5, 3, 2),
        (1e9, 0, 10**9),
        (1e4, 1, 208333333),
    ],
)
def test_steps_are_what_some_work_is_enough_for(work: float, more: int, steps: int) -> None:
    assert session(*LOOSE[:more]).steps_for(work) == steps
    none = Session(np.ones(1), np.zeros(1), np.ones(1), rows(FOUR).only(np.zeros(0, dtype=int)))
    assert none.steps_for(3.5 * 2.4e-5) == 3


def test_a_basis_is_where_amounts_and_rows_stand() -> None:
    one = session(*LOOSE)
    one.minimise()
    stands = one.basis()
    assert stands is not None
    assert stands.column.tolist() == [IN_BASIS, UPPER]
    assert stands.row.tolist() == [LOWER, IN_BASIS, IN_BASIS, IN_BASIS]
    other = session(*LOOSE)
    other.start_from(stands)
    begun = other.basis()
    assert begun is not None
    assert (begun.column.tolist(), begun.row.tolist()) == (
        stands.column.tolist(),
        stands.row.tolist(),
    )
    other.minimise()
    assert other.work == pytest.approx(2.0 * BEGUN), "no step is left to take"
    free = Session(np.zeros(2), np.array([-INF, 1.0]), np.array([INF, 2.0]), rows(LOOSE[1]))
    free.minimise()
    found = free.basis()
    assert found is not None
    assert found.column.tolist() == [ZERO, LOWER]
    beside = one.beside(np.array([1, 0]), np.array([2.0, 3.0]), rows(FOUR, *LOOSE), Meter())
    assert beside.minimise().objective == pytest.approx(9.0)


def test_rows_charge_amounts_by_family() -> None:
    one = session((-INF, 9.0, {0: 3.0}), least=(4.0, INF, {0: 1.0, 1: 2.0}))
    found = one.charges(np.array([5.0, 7.0]), np.array([1, 0]), 3)
    assert found.tolist() == [[-21.0, 0.0], [-5.0, -10.0], [0.0, 0.0]]


def whole(*more: Any, least: Any = (3.5, INF, {0: 1.0, 1: 1.0})) -> Session:
    one = session(*more, least=least)
    one.require_whole(np.arange(2))
    return one


def test_whole_numbers_have_their_least_and_its_proof() -> None:
    one = whole()
    point = one.minimise_whole(SearchLimits(gap=0.0))
    assert point.x == pytest.approx([1.0, 3.0])
    assert (point.objective, point.bound) == pytest.approx((9.0, 9.0))
    assert point.proven
    assert 0.0 < point.work == pytest.approx(one.work)
    given = whole().minimise_whole(SearchLimits(gap=0.0), np.array([3.0, 1.0]))
    assert given.objective == pytest.approx(9.0)
    none = whole((0.4, 0.6, {0: 1.0})).minimise_whole(SearchLimits())
    assert (none.x, none.objective, none.proven) == (None, INF, False)


def test_each_step_of_a_search_counts_with_its_rows(monkeypatch: pytest.MonkeyPatch) -> None:
    plain = whole(*LOOSE).minimise_whole(SearchLimits()).work
    one = whole(*LOOSE)

    class Ten:
        def __enter__(self) -> list[None]:
            return [None] * 10

        def __exit__(self, *_: object) -> None:
            return None

    monkeypatch.setattr(one, "_ending_when", lambda limits: Ten(), raising=False)
    more = one.minimise_whole(SearchLimits()).work - plain
    assert more == pytest.approx(10 * 4 * 1.2e-5, rel=0.3)


def test_a_search_ends_after_its_steps_or_when_it_is_asked_to() -> None:
    class Callback:
        def subscribe(self, ask: Any) -> None:
            self.ask = ask

        def unsubscribe(self, ask: Any) -> None:
            assert self.ask is ask

    ended: list[int] = []
    seen: list[None] = []
    for limits in (SearchLimits(steps=3), SearchLimits(stop=lambda: len(seen) >= 2)):
        one = session()
        seen.clear()
        inner = one._highs
        one._highs = SimpleNamespace(cbMipInterrupt=Callback())
        with one._ending_when(limits) as taken:
            for number in range(1, 5):
                seen.append(None)
                event = SimpleNamespace(interrupt=lambda number=number: ended.append(number))
                one._highs.cbMipInterrupt.ask(event)
            assert len(taken) == 4
        one._highs = inner
    assert ended == [3, 4, 2, 3, 4]


def test_a_price_on_a_bound_that_is_not_there_is_dust_or_no_proof() -> None:
    lower, upper = np.array([2.0, -INF, 5.0]), np.array([4.0, 7.0, INF])
    assert _priced(np.array([3.0, -2.0, 0.0]), lower, upper) == 3.0 * 2.0 - 2.0 * 7.0
    assert _priced(np.array([-3.0, 1e-6, -1e-6]), lower, upper) == -12.0
    assert _priced(np.array([0.0, 1.1e-6, 0.0]), lower, upper) == -INF
    assert _priced(np.array([0.0, 0.0, -1.1e-6]), lower, upper) == -INF


def test_rows_are_put_in_order_moved_and_picked() -> None:
    mixed = SparseRows.of(
        np.array([1.0, 2.0]),
        np.array([3.0, 4.0]),
        (np.array([1, 0, 0]), np.array([0, 2, 1]), np.array([5.0, 6.0, 7.0])),
    )
    told = mixed.in_order()
    assert (told.row.tolist(), told.column.tolist(), told.value.tolist()) == (
        [0, 0, 1],
        [1, 2, 0],
        [7.0, 6.0, 5.0],
    )
    assert told.in_order() is told
    moved = told.at(np.array([-1, 0, 4]))
    assert (moved.row.tolist(), moved.column.tolist()) == ([0, 0], [0, 4])
    second = told.only(np.array([1]))
    assert (second.row.tolist(), second.lower.tolist(), second.upper.tolist()) == (
        [0],
        [2.0],
        [4.0],
    )
    both = second.and_then(told)
    assert both.row.tolist() == [0, 1, 1, 2]
    assert both.lower.tolist() == [2.0, 1.0, 2.0]
    # A row with as much at most as it may have cannot be broken.
    edge = told.that_can_bind(np.array([0.4, 0.0, 0.0]), np.array([0.8, 0.0, 0.5]))
    assert edge.tolist() == [True, False]
    reach = told.that_can_bind(np.array([0.0, 0.1, 0.05]), np.array([0.81, 0.1, 0.3]))
    assert reach.tolist() == [False, True]
    assert session().minimise().of(np.array([1])).x.tolist() == [3.0]


def test_a_basis_of_fewer_or_more_has_what_is_new_in_it() -> None:
    whole_basis = Basis(np.array([0, 1, 2]), np.array([1, 0]))
    assert whole_basis.columns_in.tolist() == [False, True, False]
    assert whole_basis.rows_in.tolist() == [True, False]
    some = whole_basis.of(np.array([2, 0]), 4)
    assert (some.column.tolist(), some.row.tolist()) == ([2, 0], [1, 0, 1, 1])
    assert whole_basis.of_rows(np.array([1])).row.tolist() == [0]
    part = Basis(np.array([1]), np.array([2]))
    back = whole_basis.with_part(part, np.array([2]), np.array([1]), 3)
    assert (back.column.tolist(), back.row.tolist()) == ([0, 1, 1], [1, 2, 1])
    best = Optimum(1.0, 1.0, np.array([5.0]), np.array([6.0]), np.array([7.0]))
    among = best.among(np.array([1]), 3, np.array([2]), 4)
    assert (among.x.tolist(), among.reduced_cost.tolist()) == ([0.0, 5.0, 0.0], [0.0, 7.0, 0.0])
    assert among.row_dual.tolist() == [0.0, 0.0, 6.0, 0.0]
    assert highspy.HighsBasisStatus(IN_BASIS) == highspy.HighsBasisStatus.kBasic


def test_the_last_digits_do_not_reach_the_solver() -> None:
    # Three and a little of it more or less is the same price, bound and coefficient.
    for off in (-4e-16, 0.0, 4e-16):
        near = 3.0 * (1.0 + off)
        found = Session(np.array([near, 2.0]), np.zeros(2), np.array([near, 3.0]), rows(FOUR))
        found.set_column_bounds(np.array([1]), np.zeros(1), np.array([near]))
        found.set_row_upper(0, 4.0 * (1.0 + off))
        found.change(np.array([0]), np.array([1]), np.array([near]))
        low, high = found.bounds()
        assert (low.tolist(), high.tolist(), found.costs().tolist()) == ([0, 0], [3, 3], [3, 2])
        assert found.all_rows().value.tolist() == [1.0, 3.0]
        assert found.all_rows().upper.tolist() == [4.0]
