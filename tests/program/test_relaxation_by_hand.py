"""When a relaxation is near enough, what it lets in, and what it leaves out, in figures by hand."""

from __future__ import annotations

import sys
from types import SimpleNamespace
from typing import Any

import numpy as np
import pytest

from rickyard.program.search.column_pricing import WIDE
from rickyard.program.search.first_solution import SOFT_KG, Look, RunReading
from rickyard.program.search.relax import _missed_usd, _relax_wide, _worth_letting_in, relax
from rickyard.program.solver import NOWHERE

ROOM = sys.modules[relax.__module__]


def one(**what: Any) -> Any:
    return SimpleNamespace(**what)


def ints(*values: int) -> Any:
    return np.array(values, dtype=np.int64)


def enough_of(monkeypatch: pytest.MonkeyPatch, doubtful: int, *, wide: bool, rough: bool) -> Any:
    """Return by which rounds and steps a relaxation ends that has so many promises in doubt."""
    asked: dict[str, Any] = {}

    def settled(solve: Any, improve: Any, **how: Any) -> tuple[str, int]:
        asked.update(how)
        return "optimum", 7

    patch = monkeypatch.setattr
    model = one(columns=one(amounts=WIDE), cost=0, lower=0, upper=np.ones(2), rows=0)
    patch(ROOM, "build_model", lambda problem: model)
    patch(ROOM, "promising", lambda problem, model: np.array([True, False]))
    patch(ROOM, "Session", lambda *what: one(minimise=None))
    patch(ROOM, "Tangents", lambda *what: one(improve=None, doubtful=doubtful))
    patch(ROOM, "settle", settled)
    patch(ROOM, "_narrow", lambda *what, rough: what[5])
    nothing: Any = None
    if wide:
        wide_model: Any = model
        assert _relax_wide(nothing, wide_model, lambda _: None, rough=rough) == 7
        assert (asked["moving"].start, asked["tolerance"]) == (2, 2e-6)
    else:
        assert relax(nothing, str, rough=rough).rounds == 7
        assert asked["moving"].start == 1
    return asked["enough"]


def test_a_bound_may_leave_promises_in_doubt_after_some_rounds(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    """After twelve rounds that move by under 0.03 percent, or after sixteen in any case."""
    enough = enough_of(monkeypatch, 1, wide=False, rough=True)
    rounds = [(11, 0.0), (12, 2.9e-4), (12, 3e-4), (15, 3e-4), (16, 1.0)]
    assert [bool(enough(*each)) for each in rounds] == [False, True, False, False, True]
    sure = enough_of(monkeypatch, 0, wide=False, rough=True)
    assert not any(sure(*each) for each in rounds)
    exact = enough_of(monkeypatch, 1, wide=False, rough=False)
    assert not any(exact(*each) for each in rounds)


def test_a_large_season_ends_when_its_cost_rests_but_not_where_more_is_let_in(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    exact = enough_of(monkeypatch, 1, wide=True, rough=False)
    rounds = [(1, 0.0), (2, 0.0), (2, 2e-6), (2, 2.1e-6), (3, 0.0), (4, 0.0), (16, 1.0)]
    assert [bool(exact(*each)) for each in rounds] == [False, True, True, False, False, True, False]
    rough = enough_of(monkeypatch, 1, wide=True, rough=True)
    rounds = [(2, 2.9e-4), (2, 3e-4), (15, 1.0), (16, 1.0)]
    assert [bool(rough(*each)) for each in rounds] == [True, False, False, True]
    sure = enough_of(monkeypatch, 0, wide=True, rough=True)
    assert not any(sure(*each) for each in rounds)


def test_amounts_are_let_in_after_the_first_and_the_third_round(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    """Of the second and third amount one is worth it in every round but the third."""
    worth = [[1], [2], [], [1], [2]]
    opened: list[Any] = []
    given: list[Any] = []

    def session(cost: Any, lower: Any, upper: Any, rows: Any) -> Any:
        given.extend(upper.tolist())
        return one(
            minimise=lambda: None,
            set_column_bounds=lambda which, low, high: opened.append((which, high.tolist())),
        )

    def settled(solve: Any, improve: Any, **how: Any) -> tuple[Any, int]:
        for _ in range(5):
            solve()
        return None, 5

    upper = np.array([1.0, 2.0, 3.0, 4.0])
    model: Any = one(cost=0, lower=np.zeros(4), upper=upper, rows=0)
    patch = monkeypatch.setattr
    patch(ROOM, "promising", lambda problem, model: np.array([True, False, False]))
    patch(ROOM, "Session", session)
    patch(ROOM, "Tangents", lambda *what: one(improve=None, doubtful=0))
    patch(ROOM, "_worth_letting_in", lambda *what: ints(*worth.pop(0)))
    patch(ROOM, "settle", settled)
    patch(ROOM, "_narrow", lambda *what, rough: what[4].tolist())
    nothing: Any = None
    relaxed: Any = _relax_wide
    left = relaxed(nothing, model, str, rough=False)
    assert given == [1.0, 0.0, 0.0, 4.0]
    assert [(which.tolist(), high) for which, high in opened] == [([1], [2.0])]
    assert left == [False, False, True]
    worth.extend([[], [], [2], [1], [1]])
    assert relaxed(nothing, model, str, rough=False) == [False, True, False]
    assert [which.tolist() for which, _ in opened[1:]] == [[2]]


#: Three amounts of one group: two in the first week of 50 head days and one in the second of 100.
MODEL: Any = one(
    columns=one(group=ints(0, 0, 0), period=ints(0, 0, 1)),
    problem=one(needs=one(head_days=np.array([[50.0, 100.0]]))),
    cells=lambda: ints(0, 0, 1),
)


def test_what_would_save_a_hundredth_of_a_cent_a_kilogram_is_let_in() -> None:
    closed = np.array([True, False, True])
    for prices, found in (
        ((-0.005, -9.0, -0.01), []),
        ((-0.0051, -9.0, -0.0099), [0]),
        ((-0.0049, -9.0, -0.0101), [2]),
        ((9.0, -9.0, 9.0), []),
    ):
        best: Any = one(reduced_cost=np.array([*prices, -99.0]))
        assert _worth_letting_in(MODEL, best, closed).tolist() == found


@pytest.mark.parametrize(
    ("closed", "usd"),
    [((1, 1, 1), 9.0), ((1, 0, 1), 6.0), ((0, 1, 0), 5.0), ((0, 0, 1), 4.0), ((0, 0, 0), 0.0)],
)
def test_what_is_left_out_could_save_the_best_of_each_week_at_most(
    closed: tuple[int, int, int], usd: float, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Ten kilograms of the first week's best, and two of the second's."""
    monkeypatch.setattr(ROOM, "largest_intake", lambda model: np.array([10.0, 2.0]))
    best: Any = one(reduced_cost=np.array([-0.2, -0.5, -2.0, -99.0]))
    assert _missed_usd(MODEL, best, np.array(closed, dtype=bool)) == pytest.approx(usd)
    monkeypatch.setattr(ROOM, "largest_intake", lambda model: np.array([np.nan, 2.0]))
    dear: Any = one(reduced_cost=np.array([-0.2, -0.5, 2.0, -99.0]))
    assert _missed_usd(MODEL, dear, np.array(closed, dtype=bool)) == 0.0


def test_small_amounts_of_a_first_program_are_made_dear() -> None:
    """A tenth of the mean price of three dollars, by the days of the head, on what is near none."""
    charged: list[Any] = []
    look: Any = object.__new__(Look)
    look._reading = RunReading(0.1, 0.3)
    look._uses = one(
        column=ints(0, 2), cell=ints(0, 1), before=ints(NOWHERE, 0), after=ints(1, NOWHERE)
    )
    needs = one(head_days=np.array([[10.0, 30.0]]))
    look._model = one(cost=np.array([4.0, 9.0, -2.0]), problem=one(needs=needs))
    look._optimum = one(x=np.array([3.0, 99.0, 6.0]))
    look._held = one(
        charge=lambda cost: charged.append(cost.tolist()),
        minimise=lambda: one(x=np.array([0.0, 99.0, 9.0])),
    )
    assert look.amounts().tolist() == [0.0, 9.0]
    # Three parts of its own amount and two of its neighbour's, of nine.
    first = [(3.0 * 3.0 + 2.0 * 6.0) / 9.0, (3.0 * 6.0 + 2.0 * 3.0) / 9.0]
    later = [2.0 * 9.0 / 9.0, 3.0 * 9.0 / 9.0]
    for cost, (early, late) in ((charged[0], first), (charged[1], later), (charged[-1], later)):
        dear = [0.3 * 10.0 / 20.0 / (early + SOFT_KG), 0.3 * 30.0 / 20.0 / (late + SOFT_KG)]
        assert cost == pytest.approx([4.0 + dear[0], 9.0, -2.0 + dear[1]])
