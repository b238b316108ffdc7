"""Weeks tied together by hand: which variables are one, and what becomes of their rows."""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import Any

import numpy as np
import pytest

from rickyard.program.model.hay_for_rises import RisingModel
from rickyard.program.model.variables import KG_PER_ROW_UNIT
from rickyard.program.rations import held, pricing
from rickyard.program.rations.held import HeldRations
from rickyard.program.rations.tied import TiedSession, Ties, ties_of
from rickyard.program.runs.mixed import cheapest_cuts
from rickyard.program.runs.span_costs import SpanCosts
from rickyard.program.runs.spans import SpanRules, Spans
from rickyard.program.solver.points import Optimum, SolveError, SparseRows
from support.by_hand import ints, one
from support.rows import each_row

INF = np.inf
NO_ROWS = SparseRows.of(np.zeros(0), np.zeros(0), (np.zeros(0), 0, 1.0))


class Rising(RisingModel):
    """A model of nothing but what it is given."""

    def __init__(self, **what: Any) -> None:
        for name, value in what.items():
            object.__setattr__(self, name, value)


#: Two groups, two feeds, three weeks: the first group is cut before its third week, the second
#: comes in the second week. The second feed is not to be had in the second week.
SPANS = Spans(((0, 2), (1,)), (2, 2))
COLUMNS = {
    "amounts": 8,
    "group": ints(0, 0, 0, 0, 0, 1, 1, 1),
    "source": ints(0, 0, 0, 1, 1, 0, 0, 1),
    "period": ints(0, 1, 2, 0, 2, 1, 2, 2),
    "total": ints(8, 9, 10, -1, 11, 12),
    "shortage": {"cp": ints(13, 14, -1, -1, 15, -1), "nem": ints(-1, 16, 17, -1, -1, 18)},
}
OWNERS = [*[0] * 5, *[1] * 3, 0, 0, 0, 1, 1, 0, 0, 1, 0, 0, 1, -1]
TO = [*(0, 0, 1, -1, 2, 3, 3, -1), *(4, 4, 5, 6, 6), *(7, 7, 8), *(9, 10, 11), 12]


def test_amounts_and_what_is_lacking_are_one_within_a_ration() -> None:
    model = one(
        columns=one(count=20, **COLUMNS), problem=one(shape=(2, 2, 3)), owners=lambda: ints(*OWNERS)
    )
    ties = ties_of(model, SPANS)
    assert ties.to.tolist() == TO
    assert ties.count == 13
    assert ties.amounts().tolist() == [0, 1, 2, 3]
    assert ties.group.tolist()[:5] == [0, 0, 0, 1, -1]
    assert ties.source.tolist()[:5] == [0, 0, 1, 0, -1]
    assert ties.span.tolist()[:5] == [0, 1, 1, 0, -1]
    assert ties.owner.tolist() == [0, 0, 0, 1, 0, 0, 1, 0, 1, 0, 0, 1, -1]


def test_feeds_are_raised_where_rations_begin_and_nowhere_else() -> None:
    model = Rising(
        columns=one(count=25, **COLUMNS),
        problem=one(shape=(2, 2, 3)),
        owners=lambda: ints(*OWNERS, 0, 0, 0, 1, 1),
        more_group=ints(0, 0, 0, 1, 1),
        more_period=ints(0, 1, 2, 1, 2),
    )
    assert ties_of(model, SPANS).to.tolist() == [*TO, 13, -1, 14, 15, -1]


TIES = Ties(ints(0, 0, 1, -1), ints(0, 0), ints(0, 0), ints(0, 1), ints(0, 0))


def tied(lower: Any = (0.0, 1.0, 0.0, 0.0), upper: Any = (9.0, 8.0, 6.0, 9.0)) -> TiedSession:
    """Return two weeks of one feed that are one, a second feed, and one that is not to be had."""
    written = ((0, 0, 1.0), (0, 2, 2.0), (1, 1, 1.0), (1, 2, 2.0), (2, 0, 1.0), (2, 1, 1.0),
               (3, 3, 1.0))  # fmt: skip
    row, column, value = (np.array(part) for part in zip(*written, strict=True))
    rows = SparseRows(
        row, column, value, np.array([10.0, 12.0, -INF, -INF]), np.array([INF, INF, 14.0, 3.0])
    )
    model: Any = one(
        columns=one(count=4),
        cost=np.array([1.0, 2.0, 5.0, 7.0]),
        lower=np.array(lower),
        upper=np.array(upper),
        rows=rows,
    )
    return TiedSession(model, TIES)


def test_rows_that_become_the_same_are_one_and_share_their_price() -> None:
    session = tied()
    assert (session.lower.tolist(), session.upper.tolist()) == ([1.0, 0.0], [8.0, 6.0])
    assert session.inner.costs().tolist() == [3.0, 5.0]
    rows = session.inner.all_rows()
    assert (len(rows.lower), rows.lower[0], rows.upper[1]) == (3, 12.0, 14.0)
    assert sorted(zip(rows.row, rows.column, rows.value, strict=True)) == [
        (0, 0, 1.0), (0, 1, 2.0), (1, 0, 2.0)]  # fmt: skip
    # At 3 for one and 5 for two the second feed is cheaper: all but the least of the first.
    best = session.minimise()
    assert best.objective == pytest.approx(30.5)
    assert best.x == pytest.approx([1.0, 1.0, 5.5, 0.0])
    assert best.row_dual == pytest.approx([1.25, 1.25, 0.0, 0.0])
    assert best.reduced_cost == pytest.approx([-0.25, 0.75, 0.0, 7.0])
    assert session.inner_rows(ints(0, 1, 2, 3, -1)).tolist() == [0, 0, 1, 2]
    charges = session.charges(np.array([1.0, 2.0, 3.0, 4.0]), ints(0, 0, 1, 1), 2)
    assert charges.tolist() == [[-1.0, -2.0, -6.0, 0.0], [-3.0, -3.0, 0.0, -4.0]]


def test_where_a_week_has_a_most_below_the_least_of_another_the_most_counts() -> None:
    session = tied((0.0, 9.0, 0.0, 0.0), (8.0, 20.0, 6.0, 9.0))
    assert (session.lower.tolist(), session.upper.tolist()) == ([8.0, 0.0], [8.0, 6.0])


def row_of(column: int, lower: float, upper: float) -> SparseRows:
    """Return a row of one variable."""
    return SparseRows(ints(0), ints(column), np.array([1.0]), np.array([lower]), np.array([upper]))


def test_rows_put_in_later_are_numbered_and_changed_like_the_first() -> None:
    session = tied()
    assert session.add_rows(row_of(1, 3.0, INF)) == 4
    assert session.minimise().objective == pytest.approx(31.5)
    session.change(ints(4), ints(1), np.array([2.0]))
    best = session.minimise()
    assert best.objective == pytest.approx(30.75)
    assert best.row_dual == pytest.approx([1.25, 1.25, 0.0, 0.0, 0.25])
    assert best.reduced_cost == pytest.approx([-0.25, 0.25, 0.0, 7.0])
    assert session.add_rows(NO_ROWS) == 5
    assert session.add_rows(row_of(2, -INF, 5.0)) == 5
    assert session.inner_rows(ints(4, 5)).tolist() == [3, 4]
    assert session.minimise().objective == pytest.approx(31.0)
    session.change(ints(5), ints(2), np.array([2.0]))
    best = session.minimise()
    assert best.x == pytest.approx([7.0, 7.0, 2.5, 0.0])
    family = ints(0, 0, 0, 0, 1, 1)
    charges = session.charges(np.array([0.0, 0.0, 0.0, 0.0, 3.0, 4.0]), family, 2)
    assert charges.tolist() == [[0.0] * 4, [0.0, -6.0, -8.0, 0.0]]
    # So is the second of two that are put in together.
    session, many = tied(), np.array([1.0, 1.0])
    two = SparseRows(ints(0, 1), ints(1, 2), many, np.array([3.0, -INF]), np.array([INF, 5.0]))
    assert session.add_rows(two) == 4
    session.change(ints(5), ints(2), np.array([2.0]))
    charges = session.charges(np.array([0.0, 0.0, 0.0, 0.0, 3.0, 4.0]), family, 2)
    assert charges.tolist() == [[0.0] * 4, [0.0, -3.0, -8.0, 0.0]]


def test_what_is_held_has_its_least_as_far_as_that_can_be_given() -> None:
    session = tied()
    session.hold(np.array([True, True]), np.array([2.0, 7.0]))
    assert [one.tolist() for one in session.inner.bounds()] == [[2.0, 6.0], [8.0, 6.0]]
    session.hold(np.array([False, True]), np.array([5.0, 1.0]))
    assert [one.tolist() for one in session.inner.bounds()] == [[0.0, 1.0], [0.0, 6.0]]
    session.hold(np.array([True, True]), np.array([0.5, 0.0]))
    session.set_cost(np.array([2.0, 2.0, 9.0, 7.0]))
    # Four for one and nine for two: as much of the first as its row allows.
    assert session.minimise().x == pytest.approx([7.0, 7.0, 2.5, 0.0])


def costs(**usd: float) -> SpanCosts:
    """Return costs of runs by their first period and the one after their last."""
    found = np.full((5, 5), INF)
    for name, value in usd.items():
        found[int(name[1]), int(name[2])] = value
    return SpanCosts(found)


THREE = costs(_14=10.0, _12=2.0, _24=5.0, _13=5.0, _34=3.0, _23=1.0)


@each_row(
    ("most", "further_usd", "total", "starts"),
    [
        (1, 0.0, 10.0, (1,)),
        (2, 0.0, 7.0, (1, 2)),
        (2, 2.9, 9.9, (1, 2)),
        (2, 3.1, 10.0, (1,)),
        (3, 0.0, 6.0, (1, 2, 3)),
        (3, 0.6, 7.2, (1, 2, 3)),
        (3, 1.4, 8.4, (1, 2)),
        (9, 0.0, 6.0, (1, 2, 3)),
    ],
)
def test_weeks_are_cut_where_that_is_cheapest(
    most: int, further_usd: float, total: float, starts: tuple[int, ...]
) -> None:
    rules = SpanRules(most=(1, most), least=(1, 1), first=(-1, 1), last=(-1, 3))
    found = cheapest_cuts(THREE, rules, 1, further_usd)
    assert found == (pytest.approx(total), starts)
    assert cheapest_cuts(THREE, rules, 0) == (0.0, ())


@pytest.mark.parametrize(("saves", "starts"), [(9.9, (1,)), (10.1, (1, 2)), (10.9, (1, 2))])
def test_a_further_ration_has_to_save_ten_dollars(saves: float, starts: Any) -> None:
    rules = SpanRules(most=(2, 2), least=(1, 1), first=(1, -1), last=(3, -1))
    runs: Any = [one(costs=lambda _: costs(_14=50.0, _12=20.0, _24=30.0 - saves))] * 2
    bound, spans = pricing._at_prices(one(constant=3.0, cost=None), runs, rules)
    assert bound == pytest.approx(53.0 - saves)
    assert spans == Spans((starts, ()), (3, -1))


@pytest.mark.parametrize(
    ("bounds", "mixes", "known", "found"),
    [
        # Rounds are spent, and the best bound is kept.
        ((90.0, 95.0, 93.0, 94.0), (120.0, 110.0, 105.0), (120.0, -np.inf), (95.0, 1, 4, 3)),
        # What is known is near enough at once, by its own bound or by one there is.
        ((99.95,), (), (100.04, -np.inf), (99.95, 0, 1, 0)),
        ((95.0,), (), (100.04, 99.95), (95.0, 0, 1, 0)),
        ((0.5,), (), (0.50095, -np.inf), (0.5, 0, 1, 0)),
        # Runs mixed come near enough to it.
        ((99.0, 99.95), (100.04,), (120.0, -np.inf), (99.95, 1, 2, 1)),
        # They cannot be mixed: what is known stays.
        ((99.0,), (SolveError("none"),), (120.0, -np.inf), (99.0, 0, 1, 1)),
    ],
)
def test_what_is_shared_is_priced_anew_until_that_helps_no_more(
    bounds: Any, mixes: Any, known: Any, found: Any, monkeypatch: pytest.MonkeyPatch
) -> None:
    given, mixed, asked, taken = iter(bounds), iter(mixes), [], []
    monkeypatch.setattr(pricing, "priced", lambda *_: one(cost=None))

    def at_prices(*_: Any) -> Any:
        asked.append(len(asked))
        return next(given), asked[-1]

    def mix() -> Any:
        usd = next(mixed)
        if isinstance(usd, SolveError):
            raise usd
        return usd, np.array([0.0])

    monkeypatch.setattr(pricing, "_at_prices", at_prices)
    runs: Any = one(take_cheapest=lambda _, spans: taken.append(spans), priced=mix)
    nothing: Any = None
    begin = Optimum(0.0, 0.0, np.zeros(1), np.array([1.0]), np.zeros(1))
    best = pricing._price(nothing, nothing, begin, nothing, nothing, runs, 4, known)
    assert (best.bound, best.spans, len(asked), len(taken)) == found


def test_next_prices_keep_to_the_best_ones(monkeypatch: pytest.MonkeyPatch) -> None:
    given, asked = iter((90.0, 80.0, 95.0, 95.0)), []
    monkeypatch.setattr(
        pricing, "priced", lambda _, __, at: asked.append(at.row_dual[0]) or one(cost=None)
    )
    monkeypatch.setattr(pricing, "_at_prices", lambda *_: (next(given), None))
    duals = iter((6.0, 11.0, 0.0))
    runs: Any = one(take_cheapest=lambda *_: None, priced=lambda: (120.0, np.array([next(duals)])))
    nothing: Any = None
    begin = Optimum(0.0, 0.0, np.zeros(1), np.array([1.0]), np.zeros(1))
    pricing._price(nothing, nothing, begin, nothing, nothing, runs, 4, (120.0, -np.inf))
    # The second bound is no better than the first, so the third prices stand by the first.
    assert asked == pytest.approx([1.0, 2.0, 3.0, 2.4])


def test_tangents_keep_their_prices_behind_the_rows_of_another_model() -> None:
    def rows(lower: list[float], *written: tuple[int, int, float]) -> SparseRows:
        row, column, value = (np.array(part) for part in zip(*written, strict=True))
        return SparseRows(row, column, value, np.array(lower), np.array(lower) + 10.0)

    first, second, tangent = (0, 0, 1.0), (1, 1, 2.0), (2, 0, 3.0)
    relaxed: Any = one(
        model=one(rows=rows([1.0, 2.0], first, second)),
        session=one(all_rows=lambda: rows([1.0, 2.0, 3.0], first, second, tangent)),
        optimum=replace(tied().minimise(), row_dual=np.array([5.0, 6.0, 7.0])),
    )
    model: Any = one(rows=rows([1.0, 2.0, 8.0, 9.0], first, second, (2, 1, 4.0), (3, 1, 5.0)))
    found, prices = pricing._with_tangents(relaxed, model)
    assert found.row.tolist() == [0, 1, 2, 3, 4]
    assert found.column.tolist() == [0, 1, 1, 1, 0]
    assert found.value.tolist() == [1.0, 2.0, 4.0, 5.0, 3.0]
    assert found.lower.tolist() == [1.0, 2.0, 8.0, 9.0, 3.0]
    assert found.upper.tolist() == [11.0, 12.0, 18.0, 19.0, 13.0]
    assert prices.row_dual.tolist() == [5.0, 6.0, 0.0, 0.0, 7.0]
    again = pricing._priced_by(prices, one(rows=one(lower=[0, 0])), 4)
    assert again.row_dual.tolist() == [5.0, 6.0, 0.0, 0.0]


def rations(**what: Any) -> HeldRations:
    """Return rations of nothing but what is given: three feeds, the third in two rations."""
    found = HeldRations.__new__(HeldRations)
    given = {
        "group": ints(0, 1, 1, 1),
        "source": ints(0, 0, 1, 1),
        "span": ints(0, 0, 0, 1),
        "week": ints(0, 1, 1, 2),
        "spans": SPANS.with_group(1, (1, 2)),
        "must": np.array([False, True, False, False]),
        "counts": np.array([True, True, False, True]),
        **what,
    }
    for name, value in given.items():
        setattr(found, name, value)
    return found


def test_use_by_week_is_use_by_ration() -> None:
    found = rations(model=one(problem=one(shape=(2, 2, 3))))
    used = np.zeros((2, 2, 3), dtype=bool)
    used[1, 1, 2] = True
    assert found.used_of(used).tolist() == [False, True, True, True]
    assert found.used_of(~used & False).tolist() == [False, True, True, False]
    back = found.weekly_use(np.array([True, False, False, True]))
    assert np.argwhere(back).tolist() == [[0, 0, 0], [0, 0, 1], [1, 1, 2]]
    marks = np.zeros((2, 2, 3), dtype=bool)
    marks[0, 0, 1] = marks[1, 1, 0] = marks[1, 1, 2] = True
    assert found._somewhere(marks, found.spans.numbers(3)).tolist() == [True, False, False, True]


def test_a_diet_holds_no_more_of_a_feed_than_half_as_much_again_as_its_first_week(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    monkeypatch.setattr(held, "largest_intake", lambda _: np.array([8.0, 0, 0, 0, 6.0, np.nan]))
    session = one(upper=np.array([20.0, 5.0, 11.0, 30.0]))
    found = rations(model=one(problem=one(shape=(2, 2, 3))), session=session, at=np.arange(4))
    assert found._most().tolist() == [12.0, 5.0, 9.0, 30.0]


def test_what_cannot_have_its_least_is_out_of_use_unless_it_is_free() -> None:
    asked: list[Any] = []
    inner = one(set_column_bounds=lambda *what: asked.append([one.tolist() for one in what]))
    session = one(
        inner=inner,
        lower=np.array([0.0] * 4 + [1.0] * 3),
        upper=np.array([9.0] * 4 + [5.0, 6.0, 7.0]),
        hold=lambda *what: asked.append([one.tolist() for one in what]),
    )
    found = rations(
        session=session,
        most=np.array([2.0, 1.9, 5.0, 5.0]),
        least=np.array([2.0, 2.0, 0.0, 1.0]),
        loads=ints(4),
        aside=ints(5, 6),
        aside_of=ints(0, -1),
    )
    on = np.array([True, True, False, False])
    found.hold(on)
    assert asked == [
        [[4], [1.0], [5.0]],
        [[True, False, True, False], [2.0, 2.0, 0.0, 1.0]],
        [[5, 6], [0.0, 0.0], [6.0, 0.0]],
    ]
    asked.clear()
    found.hold(~on & False, np.array([False, False, False, True]))
    assert asked[1:] == [
        [[False, False, True, True], [2.0, 2.0, 0.0, 0.0]],
        [[5, 6], [0.0, 0.0], [0.0, 0.0]],
    ]
    asked.clear()
    found.hold_with(on, np.array([3.0]))
    assert asked[-1] == [[4], [3.0], [3.0]]


@pytest.mark.parametrize(
    ("breach", "holds"),
    [((2e-6, 5e-7), True), ((2.1e-6, 0.0), False), ((0.0, 5.1e-7), False)],
)
def test_curved_rows_hold_when_both_are_near_enough(breach: Any, holds: bool) -> None:
    assert rations(tangents=one(breach=lambda _: breach)).near_enough(np.zeros(1)) is holds


def test_curved_rows_settle_with_a_second_tangent_where_a_rough_answer_will_do(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    asked: dict[str, Any] = {}
    monkeypatch.setattr(held, "settle", lambda *_, **how: asked.update(how) or (one(x=None), 1))
    session = one(minimise=None, last=one(x=7))
    found = rations(tangents=one(again=lambda: None, improve=None), session=session)
    assert found.tied_answer(rough=True) is session.last
    assert asked["moving"] == range(1, 3)
    assert [asked["enough"](number, 0.0) for number in (0, 1, 2)] == [False, False, True]
    found.settled()
    assert asked["moving"] == range(1, 3)
    assert not any(asked["enough"](number, 0.0) for number in (0, 1, 2))


@pytest.mark.parametrize("answered", [True, False])
def test_loads_are_whole_as_the_search_says_or_else_rounded_up(
    answered: bool, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(held, "loads_of", lambda _: ints(0, 2, 3))
    whole: list[Any] = []
    session = one(
        require_whole=lambda at: whole.append(at.tolist()),
        minimise_whole=lambda _: one(x=np.array([1.999, 5.0, 3.001]) if answered else None),
    )
    found: Any = rations(loads=ints(1, 2, 3), model=None)
    found.opened = lambda used: (session, ints(9, 0, -1, 2))
    found.settled = lambda: one(x=np.array([2.5e-7, 9.0, 1.5, 3.0]))
    loads = found.whole_loads(np.ones(4, dtype=bool))
    assert loads.tolist() == ([2.0, 0.0, 3.0] if answered else [0.0, 2.0, 3.0])
    assert whole == [[0, 2]]
    assert rations(loads=ints()).whole_loads(np.ones(4, dtype=bool)).shape == (0,)


def test_what_is_short_and_what_changes_of_hay_cost(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(held, "lack_usd", lambda *_: np.array([[1.0, 2.0, 4.0], [8.0, 16.0, 32.0]]))
    columns = one(first_shortage=1, group=ints(0, 0), source=ints(0, 0), period=ints(0, 2))
    model = one(columns=columns, cost=np.array([3.0, 5.0, 7.0]))
    uses = one(column=ints(1), changes_usd=lambda hays: 40.0 if hays.tolist() == [True] else 0.0)
    found = rations(model=model, uses=uses)
    assert found.short_usd(np.array([1.0, 2.0, 3.0])) == 31.0
    assert found.short_by_ration(np.zeros(3)) == {
        (0, 0): 3.0, (0, 1): 4.0, (1, 0): 16.0, (1, 1): 32.0}  # fmt: skip
    used = np.zeros((1, 1, 3), dtype=bool)
    used[0, 0, 2] = True
    assert found.cost_of(np.ones(3), used) == 55.0


@dataclass(frozen=True)
class Plain:
    """A model with rows of the whole farm."""

    rows: SparseRows
    farm_row: dict[str, int]
    problem: Any


def test_a_share_of_the_money_and_of_the_reserve_is_kept_free() -> None:
    none, most = np.zeros(0), np.array([5.0, 100.0, 7.0])
    rows = SparseRows(none, none, none, np.zeros(3), most)
    model: Any = Plain(rows, {"cash": 1, "reserve": 2}, one(reserve_kg_dm=KG_PER_ROW_UNIT * 30.0))
    assert held._with_margin(model, 0.02).rows.upper == pytest.approx([5.0, 98.0, 6.4])
    alone: Any = replace(model, farm_row={})
    assert held._with_margin(alone, 0.02).rows.upper.tolist() == most.tolist()


def test_what_was_laid_or_written_after_the_last_solution_has_no_price() -> None:
    def rows(*row: int) -> SparseRows:
        size = max(row) + 1
        at = np.array(row)
        return SparseRows(at, at, np.ones(len(row)), np.zeros(size), np.ones(size))

    every, own = rows(0, 1, 2, 3), one(rows=rows(0, 1))
    optimum = Optimum(
        objective=0.0,
        bound=0.0,
        x=np.zeros(1),
        row_dual=np.array([5.0, 6.0, 7.0]),
        reduced_cost=np.zeros(1),
    )
    relaxation: Any = one(model=own, optimum=optimum, session=one(all_rows=lambda: every))
    whole, priced = pricing._with_tangents(relaxation, one(rows=rows(0, 1, 2)))  # type: ignore[arg-type]
    assert priced.row_dual.tolist() == [5.0, 6.0, 0.0, 7.0, 0.0]
    assert len(whole.lower) == len(priced.row_dual)
