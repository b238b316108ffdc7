"""A program made simpler, and tangents counted and priced, on a few amounts by hand."""

from __future__ import annotations

from typing import Any

import numpy as np
import pytest

from rickyard.forage.energy import neg_from_tdn, nem_from_tdn
from rickyard.program.model import cutting_planes
from rickyard.program.model.chance_rows import LINEAR
from rickyard.program.model.cutting_planes import ASSURED_GAIN, Tangents, _Laid
from rickyard.program.model.nonlinear_rows import (
    FIRST_DIET_NEM,
    FIRST_RATIOS,
    edge_slopes,
    growth_breach,
)
from rickyard.program.search import first_solution, smooth
from rickyard.program.search.repair import gaps_of
from rickyard.program.search.smooth import _cheapest_alike, simplify
from rickyard.program.solver import SolveError
from support.by_hand import one

INF = np.inf


def work_on(changes: list[Any]) -> Any:
    """Return two hays of two weeks, the first of them a trifle, and one change of each."""
    at = np.array([0, 0, 1, 1]), np.array([0, 1, 0, 1])
    columns = one(
        group=np.zeros(4, int), source=at[0], period=at[1], count=5, first_shortage=4, amounts=4
    )
    return one(
        model=one(columns=columns, cost=np.array([3.0, 3.0, 2.0, 2.0, 90.0]), upper=np.arange(5.0)),
        session=one(
            set_cost=lambda cost: changes.append(("cost", cost.tolist())),
            set_column_upper=lambda at, upper: changes.append((at.tolist(), upper.tolist())),
        ),
        now=np.array([1, 3]),
        before=np.array([0, 2]),
        change=np.array([5, 6]),
        soft_amount=np.full(4, 0.05),
        soft_change=np.full(2, 0.05),
        amounts=4,
    )


@pytest.mark.parametrize("needed", [False, True])
def test_what_is_steady_is_held_and_trifles_are_dropped_where_that_can_be(
    needed: bool, monkeypatch: pytest.MonkeyPatch
) -> None:
    changes: list[Any] = []
    # A change of a fifth of 0.05 kg is none, an amount of six times that is a trifle.
    x = np.array([0.2, 0.2099, 5.0, 5.0101, 0.0])
    answers = iter([x, x + 0.001])

    def settled(work: Any) -> Any:
        found = next(answers)
        if needed and found is not x:
            raise SolveError("it was needed")
        return found

    monkeypatch.setattr(smooth, "_settled", settled)
    found = _cheapest_alike(work_on(changes), x)
    dropped = [([5], [INF]), ([0, 1], [0.0, 0.0])]
    taken_back = [([0, 1], [0.0, 1.0]), ([5], [0.0])] if needed else []
    assert changes == [
        ("cost", [3.0, 3.0, 2.0, 2.0, 90.0, 0.0, 0.0]),
        ([5], [0.0]),
        ([], []),
        *dropped,
        *taken_back,
    ]
    assert found.tolist() == (x if needed else x + 0.001).tolist()


def test_what_is_not_fed_stays_so(monkeypatch: pytest.MonkeyPatch) -> None:
    changes: list[Any] = []
    x = np.array([0.31, 0.5, 0.9e-6, 1.1e-6, 0.0])
    monkeypatch.setattr(smooth, "_settled", lambda work: np.array([0.31, 0.5, 0.0, 0.0, 0.0]))
    _cheapest_alike(work_on(changes), x)
    assert changes[1:] == [([6], [0.0]), ([2], [0.0])], "three tenths of a kilogram are no trifle"


@pytest.mark.parametrize("fails", [False, True])
def test_most_of_a_budget_is_for_changes_and_all_of_it_for_trifles(
    fails: bool, monkeypatch: pytest.MonkeyPatch
) -> None:
    told: list[Any] = []
    session = one(
        add_rows=lambda most: told.append(most) or 7,
        set_column_upper=lambda at, upper: told.append((at.tolist(), upper.tolist())),
        set_cost=lambda cost: None,
        set_row_upper=lambda row, most: told.append((row, most)),
    )
    work = one(session=session)
    rounds: list[int] = []

    def settled(work: Any) -> Any:
        if fails and len(rounds) == 2:
            raise SolveError("no")
        rounds.append(len(rounds))
        return np.array([float(len(rounds))] * 4)

    monkeypatch.setattr(smooth, "_work", lambda *_: work)
    monkeypatch.setattr(smooth, "_budget_row", lambda model, most: most)
    monkeypatch.setattr(smooth, "_weights", lambda work, x: None)
    monkeypatch.setattr(smooth, "_settled", settled)
    monkeypatch.setattr(smooth, "_cheapest_alike", lambda work, x: x + 0.5)
    model: Any = one(columns=one(first_shortage=2, count=3))
    best: Any = one(objective=1000.0, x=np.array([5.0, 6.0, 0.25]))
    found = simplify(model, session, None, best, 50.0)  # type: ignore[arg-type]
    assert told[0] == pytest.approx(1030.0)
    assert told[1] == ([2], [pytest.approx(0.25, abs=1e-7)])
    assert told[1][1][0] > 0.25
    assert found.tolist() == ([2.0] * 3 if fails else [8.5] * 3)
    assert told[2:] == ([] if fails else [(7, pytest.approx(1.05))])


def tangents() -> Any:
    found: Any = object.__new__(Tangents)
    found._assured = None
    return found


def test_every_tangent_that_is_laid_or_moved_is_counted(monkeypatch: pytest.MonkeyPatch) -> None:
    broken = np.array([1e-8, 1.1e-8, 0.5, -1.0])
    monkeypatch.setattr(cutting_planes, "growth_breach", lambda model, x: (broken, np.arange(4.0)))
    over, laid = np.array([9.0, 1e-8, 2e-8, 3e-8]), list[Any]()
    found = tangents()
    found._model, found._free = None, np.ones(4, dtype=bool)
    found._appetite = one(cells=np.array([1, 2, 3]), breach=lambda x: (over, "diet"))
    found._lay_curved = lambda name, cells, touch: laid.append((name, cells.tolist()))
    found._assure, found._move = lambda x: 7, lambda diet: 40
    assert found.improve(None, move=False) == 2 + 2 + 7
    assert laid == [("gain_energy", [1, 2]), ("appetite", [2, 3])]
    assert found._free.tolist() == [True, True, False, False]
    assert found.improve(None, move=True) == 2 + 2 + 7 + 40
    assert found.doubtful == 7


def test_prices_of_tangents_are_those_of_a_unit_of_need_and_room() -> None:
    found = tangents()
    totals = {"dm": np.array([10.0, 0.0]), "nem": np.array([4.0, 8.0])}
    found._model = one(
        totals=lambda x, name: totals[name],
        problem=one(needs=one(head_days=np.zeros(2))),
    )
    found._laid = {
        "gain_energy": [_Laid(np.array([0, 1]), np.array([0, 1])),
                        _Laid(np.array([1]), np.array([2]))],
        "appetite": [_Laid(np.array([0]), np.array([3]))],
        ASSURED_GAIN: [_Laid(np.array([0]), np.array([4]))],
        "cp": [_Laid(np.array([1]), np.array([5]))],
    }  # fmt: skip
    best: Any = one(x=None, row_dual=np.array([2.0, 8.0, 16.0, -30.0, 6.0, 11.0]))
    prices = found.prices(best)
    assert prices["gain_energy"].tolist() == [0.5, 3.0]
    assert prices["appetite"].tolist() == [-3.0, 0.0]
    assert set(prices) == {"gain_energy", "appetite"}
    found._assured = one(nem=lambda x: np.array([2.0, 1.0]))
    sure = found.prices(best)
    assert sure["gain_energy"].tolist() == [0.5 + 3.0, 3.0]
    assert sure["cp"].tolist() == [0.0, 11.0]
    assert set(sure) == {"gain_energy", "appetite", *LINEAR}
    where = found.rows()
    assert where["gain_energy"].tolist() == [0, 1, 2, 4]
    assert ASSURED_GAIN not in where


def test_first_tangents_touch_diets_of_poor_middling_and_good_hay() -> None:
    """Of 45, 55 and 70 % TDN by the equations of NRC 1996, about; appetite that of 55 %."""
    for ratio, tdn in zip(FIRST_RATIOS, (45.0, 55.0, 70.0), strict=True):
        assert ratio == pytest.approx(float(neg_from_tdn(tdn) / nem_from_tdn(tdn)), abs=0.025)
    assert pytest.approx(float(nem_from_tdn(55.0)), abs=0.03) == FIRST_DIET_NEM


def growing(nem: float = 3.0, retained: float = 1.0) -> Any:
    """Return a group that grows for a week, and one beside it that does not."""
    needs = one(
        least={"nem": np.array([[nem], [2.0]])},
        retained_mcal=np.array([[retained], [0.0]]),
        head_days=np.zeros((2, 1)),
    )
    amounts = {"nem": np.array([3.0, 1.0]), "neg": np.array([1.25, 0.5])}
    columns = one(shortage={"gain_energy": np.array([4, -1])})
    return one(
        problem=one(needs=needs), columns=columns, totals=lambda x, name: amounts[name].copy()
    )


def test_a_tangent_of_gain_touches_the_edge_at_its_ratio() -> None:
    # Where half as much NEg as NEm is eaten, 5 and 2.5 Mcal are just enough for 3 and 1.
    on_m, on_g = edge_slopes(growing(), np.array([0.5]), np.array([0]))
    assert (on_m[0], on_g[0]) == pytest.approx((3.0 / 25.0, 1.0 / 6.25))
    assert on_m[0] * 5.0 + on_g[0] * 2.5 == pytest.approx(1.0)
    flat = edge_slopes(growing(), np.array([0.001]), np.array([0]))
    assert [float(one[0]) for one in flat] == pytest.approx([3.0 / 53.0**2, 1.0 / 1.06**2])


def test_growth_is_broken_by_what_is_needed_beyond_what_is_eaten_and_short() -> None:
    x = np.array([0.0, 0.0, 0.0, 0.0, 1.25])
    broken, ratio = growth_breach(growing(), x)
    # Four and a quarter of NEm, and two of NEg with six tenths of what is short.
    assert broken.tolist() == pytest.approx([3.0 / 4.25 + 1.0 / 2.0 - 1.0, 0.0])
    assert ratio[0] == pytest.approx(2.0 / 4.25)


def test_gaps_are_looked_for_where_a_dollar_is_short_in_all() -> None:
    least = np.zeros((1, 3))
    assert gaps_of(np.array([[1.5, 0.0, -0.5]]), least) == []
    (gap,) = gaps_of(np.array([[1.5, 0.0, -0.25]]), least)
    assert (gap.first, gap.last, gap.usd) == (0, 0, 1.5)
    assert gaps_of(np.array([[1.0, 1.0, 0.0]]), least) == []


def test_hays_that_vanish_are_made_dear_by_a_share_of_what_hay_costs(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    """Three dollars on the mean, a tenth of them, by the head days; amounts of 1.7 and 0.7 kg."""
    monkeypatch.setattr(first_solution, "_smoothed", lambda uses, x: np.array([1.7, 0.7]))
    charged = list[Any]()
    first: Any = object.__new__(first_solution.Look)
    first._uses = one(column=np.array([0, 2]), cell=np.array([0, 1]))
    first._model = one(
        cost=np.array([2.0, 77.0, -4.0]),
        problem=one(needs=one(head_days=np.array([[10.0, 30.0]]))),
    )
    first._reading, first._optimum = one(sparse=0.1), one(x=np.zeros(3))
    first._held = one(
        charge=lambda cost: charged.append(cost.tolist()),
        minimise=lambda: one(x=np.array([9.0, float(len(charged)), 7.0])),
    )
    assert first.amounts().tolist() == [9.0, 7.0]
    dear = [pytest.approx(2.0 + 0.15 / 2.0), 77.0, pytest.approx(-4.0 + 0.45)]
    assert charged == [dear] * 6
    charged.clear()
    assert first.amounts(np.ones(3)).tolist() == [9.0, 7.0]
    assert charged == [dear] * 2
