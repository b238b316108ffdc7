"""Amounts of a ration in whole steps of a scale: what the solver is asked, laid down by hand."""

from __future__ import annotations

from importlib import import_module
from typing import Any

import numpy as np
import pytest

from rickyard.program.rations.practical import Measured, _Stepping
from support.by_hand import INF, NAN, one

practical = import_module("rickyard.program.rations.practical")


def bools(text: str) -> Any:
    return np.array([letter == "x" for letter in text])


def stepping(**what: Any) -> Any:
    """Return four amounts, two of the first ration of the first group."""
    made: Any = object.__new__(_Stepping)
    made.held = one(
        group=np.array([0, 0, 0, 1]),
        span=np.array([0, 0, 1, 0]),
        at=np.arange(4),
        session=one(expand=lambda x: x),
        near_enough=lambda x: True,
        tangents=one(improve=lambda x, move: False),
    )
    made.stepped = bools("x.xx")
    made.whole_step = np.array([0.5, 0.5, 0.25, 1.0])
    made.step = np.zeros(4)
    made.fixed = np.array([7.0, 7.0, NAN, NAN])
    made.limits = practical.MEASURED
    for name, value in what.items():
        setattr(made, name, value)
    return made


def test_what_is_in_use_and_measured_is_stepped_unless_it_is_wished_for() -> None:
    held: Any = one(
        used_of=lambda used: bools("xxx."),
        counts=bools("xx.x"),
        group=np.array([0, 0, 1, 1]),
        source=np.array([0, 1, 0, 1]),
        wished=bools("...."),
        at=np.arange(4),
        session=one(lower=np.zeros(4), upper=np.ones(4)),
        short_usd=lambda x: 1.0,
    )
    measured = Measured(np.array([[0.5, 0.25], [0.0, 1.0]]))
    made = _Stepping(held, one(used=None, x=None), measured)  # type: ignore[arg-type]
    assert made.whole_step.tolist() == [0.5, 0.25, 0.0, 1.0]
    assert made.stepped.tolist() == [True, True, False, False]
    assert made.limits is practical.MEASURED
    held.wished = bools("x...")
    made = _Stepping(held, one(used=None, x=None), measured)  # type: ignore[arg-type]
    assert made.stepped.tolist() == [False, True, False, False]
    held.session.lower[1] = 1.0
    made = _Stepping(held, one(used=None, x=None), measured)  # type: ignore[arg-type]
    assert not made.stepped.any(), "what is fixed has been measured"
    held.short_usd = lambda x: 1.01
    made = _Stepping(held, one(used=None, x=None), measured)  # type: ignore[arg-type]
    assert made.limits is practical.MEASURED_SHORT
    assert np.isnan(made.fixed).all()
    made.step[0] = 9.0
    assert made.whole_step[0] == 0.5


@pytest.mark.parametrize(
    ("finer", "mine", "step", "fixed"),
    [
        (1, "x...", 0.5, [1.0, 7.0, NAN, NAN]),
        (5, "x...", 0.1, [1.0, 7.0, NAN, NAN]),
        (0, "....", 0.0, [NAN, 7.0, NAN, NAN]),
    ],
)
def test_a_ration_is_given_steps_finer_ones_or_none(
    finer: int, mine: str, step: float, fixed: list[float]
) -> None:
    asked: list[str] = []
    x = np.array([1.0, 2.0, 3.0, 4.0])

    def rounded(which: Any) -> Any:
        asked.append("".join("x" if each else "." for each in which))
        return x

    made = stepping(_round=rounded)
    assert made.round_rations(bools("x..."), finer) is x
    assert (asked, made.step[0]) == ([mine], pytest.approx(step))
    assert made.fixed.tolist() == pytest.approx(fixed, nan_ok=True)


def test_a_few_rations_are_rounded_at_a_time_and_those_with_nothing_to_measure_not_at_all() -> None:
    made = stepping()
    made.held.group, made.held.span = np.arange(5) // 2, np.zeros(5)
    made.stepped = bools("xx..x")

    def together(*groups: int) -> list[str]:
        found = made.together([(group, 0) for group in groups])
        return ["".join("x" if each else "." for each in which) for which in found]

    assert together(0, 1, 2) == ["xx..x"]
    assert together(1) == ["....."], "loads are made whole in any case"
    made.held.group, made.held.span = np.arange(26) // 2, np.zeros(26)
    made.stepped = np.ones(26, dtype=bool)
    assert [one.count("x") for one in together(*range(13))] == [12, 12, 2]


def test_a_dear_rounding_is_done_anew_by_weeks_and_the_cheaper_kept() -> None:
    made = stepping()
    made.held.model, made.held.spans = one(cost=np.ones(1)), one(starts=((0, 4), (2,)))
    order: list[Any] = []
    made.together = lambda rations: order.append(rations) or rations
    found = iter([np.array([101.5]), None, np.array([101.2])])

    def rounded(mine: Any, finer: int) -> Any:
        x = next(found)
        made.fixed = np.array([np.nan if x is None else x[0]])
        return x

    made.round_rations = rounded
    rations, first = [(0, 0), (0, 1), (1, 0)], np.array([101.3])
    made.fixed = first.copy()
    assert made.anew(first, one(x=np.array([101.2])), rations) is first
    assert (order, made.fixed[0]) == ([], 101.3), "rounding cost next to nothing"
    assert made.anew(first, one(x=np.array([100.0])), rations).tolist() == [101.2]
    assert (order, made.fixed[0]) == ([[(0, 0), (1, 0), (0, 1)]], 101.2)


def test_curved_rows_are_mended_ten_times_and_no_more() -> None:
    mended: list[int] = []
    made = stepping(_round=lambda mine: np.ones(4))
    made.held.near_enough = lambda x: False
    made.held.tangents.improve = lambda x, move: bool(mended.append(1)) or len(mended) < 3
    assert made.round_rations(bools("x..."), 1) is not None
    assert len(mended) == 3
    mended.clear()
    made.held.tangents.improve = lambda x, move: bool(mended.append(1)) or True
    assert made.round_rations(bools("x..."), 1) is None
    assert len(mended) == 10
    assert stepping(_round=lambda mine: None).round_rations(bools("x..."), 1) is None


def test_amounts_are_whole_steps_between_their_least_and_their_most() -> None:
    noted: dict[str, Any] = {}
    x = np.zeros(60)
    x[[10, 11, 12, 13]], x[[50, 51]] = (1.4, 2.2, 3.0, 6.0), (2.1, 8.9)
    session: Any = one(
        set_column_bounds=lambda *what: noted.update(bounds=[each.tolist() for each in what]),
        add_columns=lambda *what: noted.update(units=what) or np.array([50, 51]),
        add_rows=lambda rows: noted.update(rows=rows),
        require_whole=lambda which: noted.update(whole=which.tolist()),
        count_closely=lambda: noted.update(closely=True),
        minimise_whole=lambda limits: noted.update(limits=limits) or one(x=x),
    )
    place = np.array([10, 11, -1, 12, 13])
    held = one(
        opened=lambda tied: (session, place),
        at=np.arange(4),
        session=one(upper=np.array([4.0, INF, 9.0, 9.0, 9.0])),
        least=np.array([1.0, 0.3, 0.0, 0.0]),
        loads=np.array([4, 2]),
        ties=one(count=5),
    )
    made = stepping(
        held=held,
        tied=None,
        step=np.array([0.5, 0.25, 1.0, 1.0]),
        fixed=np.array([NAN, NAN, NAN, 3.0]),
    )
    found = made._round(bools("xxx."))
    assert noted["bounds"] == [[12], [3.0], [3.0]]
    cost, low, high = (each.tolist() for each in noted["units"])
    assert (cost, low, high) == ([0.0, 0.0], [2.0, 2.0], [8.0, 4e6])
    rows = noted["rows"]
    entries = zip(rows.row.tolist(), rows.column.tolist(), rows.value.tolist(), strict=True)
    assert sorted(entries) == [(0, 10, 1.0), (0, 50, -0.5), (1, 11, 1.0), (1, 51, -0.25)]
    assert rows.lower.tolist() == rows.upper.tolist() == [0.0, 0.0]
    assert (noted["whole"], noted["closely"]) == ([50, 51, 13], True)
    assert noted["limits"] is practical.MEASURED
    assert found.tolist() == [1.0, 2.25, 0.0, 3.0, 6.0]
    session.minimise_whole = lambda limits: one(x=None)
    assert made._round(bools("xxx.")) is None


def test_a_step_without_a_scale_leaves_the_least_as_it_is() -> None:
    assert Measured(np.array([0.0, 0.25])).least(np.array([0.3, 0.5])).tolist() == [0.3, 0.5]
