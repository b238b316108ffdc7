"""A season with few hays in use is solved without the others, and to the same end."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest

from rickyard.program.model import uses_of
from rickyard.program.problem import problem_of, use_rules_of
from rickyard.program.search import relax
from rickyard.program.search.first_solution import READINGS, first_uses
from rickyard.program.search.held_model import HeldModel
from rickyard.program.solver import Optimum, Session, SolveError, SparseRows
from rickyard.program.solver.highs import rounded
from rickyard.types import BoolArray
from support.farms import random_farm


def standing(seed: int = 3) -> tuple[HeldModel, Optimum]:
    """Return a season of which one hay at once may be fed, however little, and its relaxation."""
    farm = random_farm(seed, lots=14, groups=2, weeks=5)
    farm = replace(farm, season=replace(farm.season, hays_at_once=1))
    problem = problem_of(farm)
    found = relax(problem, lambda _: None, rough=True)
    rules = use_rules_of(farm, problem)
    uses = uses_of(found.model, replace(rules, least_kg=np.zeros_like(rules.least_kg)))
    return HeldModel(found.model, found.session, found.tangents, uses), found.optimum


def counted(monkeypatch: pytest.MonkeyPatch) -> list[int]:
    """Return a list that grows by the number of variables of every program that is solved."""
    widths: list[int] = []
    minimise = Session.minimise

    def wide(self: Session) -> Optimum:
        widths.append(len(self.bounds()[0]))
        return minimise(self)

    monkeypatch.setattr(Session, "minimise", wide)
    return widths


def readings(held: HeldModel, relaxed: Optimum) -> list[BoolArray]:
    """Return the hays in use of the first programs."""
    return [first_uses(held, relaxed, one) for one in READINGS[:3]]


def test_what_is_not_in_use_is_left_out_and_changes_nothing(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    held, relaxed = standing()
    choices = readings(held, relaxed)
    whole, _ = standing()
    widths = counted(monkeypatch)
    for used in choices:
        widths.clear()
        held.hold(used)
        found = held.settled()
        assert max(widths) < 0.8 * held.model.columns.count
        whole.hold(used, whole=True)
        wanted = whole.settled()
        assert found.objective == pytest.approx(wanted.objective, rel=1e-8)
        assert held.model.cost @ found.x == pytest.approx(found.objective, rel=1e-9)
        assert found.bound == pytest.approx(wanted.bound, rel=1e-7)
        assert not found.x[held.uses.column[~used]].any()


def test_rows_laid_to_a_part_stand_in_the_whole_and_in_the_parts_after_it() -> None:
    held, relaxed = standing()
    before = len(held.rows.lower)
    for used in readings(held, relaxed):
        held.hold(used)
        held.settled()
    assert len(held.rows.lower) > before
    whole = held.session.all_rows().in_order()
    # The solver leaves out coefficients of next to nothing.
    told = np.abs(held.rows.value) > 1e-9
    assert np.array_equal(held.rows.row[told], whole.row)
    assert np.array_equal(held.rows.column[told], whole.column)
    assert np.array_equal(rounded(held.rows.value[told]), whole.value)
    assert np.array_equal(held.rows.lower, whole.lower)
    assert np.array_equal(held.rows.upper, whole.upper)
    held.hold(used, whole=True)
    again = held.settled()
    held.hold(used)
    assert held.settled().objective == pytest.approx(again.objective, rel=1e-8)


def test_it_goes_on_after_hays_that_cannot_all_get_their_least() -> None:
    held, relaxed = standing()
    used = readings(held, relaxed)[0]
    held.hold(used)
    wanted = held.settled().objective
    held.bound(np.where(used, 1000.0, 0.0), np.where(used, np.inf, 0.0))
    with pytest.raises(SolveError):
        held.settled()
    held.hold(used)
    assert held.settled().objective == pytest.approx(wanted, rel=1e-7)


def test_reading_a_first_program_off_costs_the_same_whatever_was_solved_before() -> None:
    held, relaxed = standing()
    before = held.session.work
    used = first_uses(held, relaxed, READINGS[1])
    alone = held.session.work - before
    for one in readings(held, relaxed):
        held.hold(one)
    before = held.session.work
    assert np.array_equal(first_uses(held, relaxed, READINGS[1]), used)
    assert held.session.work - before == pytest.approx(alone)


def test_rows_that_hold_in_any_case_are_left_out_of_a_part(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    held, relaxed = standing()
    used = readings(held, relaxed)[0]
    heights: list[int] = []
    minimise = Session.minimise

    def high(self: Session) -> Optimum:
        found = minimise(self)
        heights.append(len(found.row_dual))
        return found

    monkeypatch.setattr(Session, "minimise", high)
    held.hold(used)
    found = held.settled()
    assert max(heights) < 0.9 * len(held.rows.lower)
    assert len(found.row_dual) == len(held.rows.lower)
    rows = held.rows
    sums = np.bincount(rows.row, rows.value * found.x[rows.column], minlength=len(rows.lower))
    assert np.all(sums >= rows.lower - 1e-6)
    assert np.all(sums <= rows.upper + 1e-6)


def test_a_row_that_was_left_out_is_taken_in_when_it_is_changed() -> None:
    held, relaxed = standing()
    used = readings(held, relaxed)[0]
    held.hold(used)
    before = held.settled()
    fed = int(held.uses.column[used][np.argmax(before.x[held.uses.column[used]])])
    most = 0.5 * float(before.x[fed])
    loose = SparseRows.of(-np.inf, most, (np.array([0]), np.array([fed]), np.array([1e-6])))
    first = held.add_rows(loose)
    held.hold(used)
    assert held.settled().objective == pytest.approx(before.objective, rel=1e-8)
    held.change(np.array([first]), np.array([fed]), np.array([1.0]))
    assert held.settled().x[fed] == pytest.approx(most, abs=1e-6)


def test_a_row_can_bind_where_some_amounts_within_their_bounds_break_it() -> None:
    rows = SparseRows.of(
        np.array([-np.inf, -np.inf, 1.0, -np.inf, -np.inf]),
        np.array([3.0, 2.9, np.inf, 5.0, 0.0]),
        (np.array([0, 0, 1, 1, 2, 3]), np.array([0, 1, 0, 1, 0, 2]), np.ones(6)),
    )
    lower, upper = np.array([0.0, 0.0, 0.0]), np.array([1.0, 2.0, np.inf])
    assert rows.that_can_bind(lower, upper).tolist() == [False, True, True, True, False]
    some = rows.only(np.array([1, 3]))
    assert some.row.tolist() == [0, 0, 1]
    assert some.column.tolist() == [0, 1, 2]
    assert some.upper.tolist() == [2.9, 5.0]


def test_a_coefficient_of_nothing_weighs_nothing_of_what_has_no_end() -> None:
    rows = SparseRows(
        np.array([0, 0]),
        np.array([0, 1]),
        np.array([0.0, 1.0]),
        np.array([-np.inf]),
        np.array([5.0]),
    )
    assert not rows.that_can_bind(np.array([0.0, 0.0]), np.array([np.inf, 4.0]))[0]
    assert rows.that_can_bind(np.array([0.0, 0.0]), np.array([np.inf, 6.0]))[0]
