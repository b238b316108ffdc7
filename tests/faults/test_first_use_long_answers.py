"""What took a ranch long: answers go on from the season that stands instead of solving anew."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest

from rickyard.display import display_for
from rickyard.farm import Farm
from rickyard.forage.plausibility import lot_profile
from rickyard.program.ask import on_request, sensitivity
from rickyard.program.ask.price_ranges import leaving_price
from rickyard.program.ask.sensitivity import Inquiry
from rickyard.program.ask.without_hay import weeks_of, with_swap
from rickyard.program.ask.worth_by_planning import STEPS, _costs, _other_hay
from rickyard.program.model import Tangents, build_model
from rickyard.program.planning.season import plan_season
from rickyard.program.problem import problem_of
from rickyard.program.result import PlanOptions, SeasonProgram
from rickyard.program.solver import SparseRows
from rickyard.program.solver.highs import rounded
from rickyard.safety import bindings
from rickyard.types import FloatArray
from support.farms import random_farm
from support.rows import few

#: Two ways to the same optimum stop within the curves' tolerance, which prices of shortages weigh.
SAME_SHARE = 1e-5


@pytest.mark.parametrize(("name", "seed"), few([("cp", 6), ("cp", 21), ("tdn", 5)], [("tdn", 5)]))
def test_first_use_slow_why_hay_of_other_value_goes_on_from_the_season_that_stands(
    name: str, seed: int
) -> None:
    farm = random_farm(seed, lots=4, groups=3, weeks=8)
    program = plan_season(farm, options=PlanOptions(effort=0.0, weekly=True))
    inquiry = Inquiry.of(farm, problem_of(farm), program)
    source = max(
        (at for at in range(len(farm.lots)) if len(inquiry.columns_of(at))),
        key=lambda at: program.lots[at].eaten_t,
    )
    mean = float(getattr(inquiry.problem.sources.values[source], f"{name}_pct"))
    percent = mean * (1.0 + 0.05 * np.array(STEPS))

    before = inquiry.meter.work
    goes_on = _costs(inquiry, source, name, percent)
    work = inquiry.meter.work - before

    before = inquiry.meter.work
    anew = [
        inquiry.like(_other_hay(inquiry.problem, source, name, float(one))).base.whole_usd
        for one in percent
    ]
    assert goes_on == pytest.approx(anew, rel=SAME_SHARE, abs=1.0)
    assert work < 0.75 * (inquiry.meter.work - before)
    assert np.ptp(goes_on) > 0.5
    assert inquiry.ask().whole_usd == pytest.approx(inquiry.base.whole_usd, rel=1e-9)


def test_first_use_slow_why_what_binds_and_what_a_lot_holds_are_worked_out_once() -> None:
    farm = random_farm(3, lots=4, groups=3, weeks=8)
    assert bindings(farm) is bindings(random_farm(3, lots=4, groups=3, weeks=8))
    lot = farm.lots[0]
    once = lot_profile(lot, farm.reports_of(lot.lot_id))
    assert lot_profile(lot, farm.reports) is once
    assert lot_profile(replace(lot, dm_pct=71.0), farm.reports) is not once


def test_first_use_slow_why_another_protein_moves_no_tangent(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    farm = random_farm(6, lots=4, groups=3, weeks=8)
    problem = problem_of(farm)
    inquiry = Inquiry.of(
        farm, problem, plan_season(farm, options=PlanOptions(effort=0.0, weekly=True))
    )
    laid: list[str] = []
    whole = Tangents._curved

    def counted(self, name, cells, touch):  # type: ignore[no-untyped-def]
        laid.append(name)
        return whole(self, name, cells, touch)

    monkeypatch.setattr(Tangents, "_curved", counted)
    for name, moves in (("cp", False), ("tdn", True)):
        other = build_model(_other_hay(problem, 0, name, 9.5 if name == "cp" else 58.5))
        laid.clear()
        inquiry.tangents.over(other)
        assert bool(laid) is moves


def ruled(seed: int) -> tuple[Farm, SeasonProgram]:
    """Return a farm of which only the hays in use may be fed, and its program."""
    farm = random_farm(seed, lots=6, groups=3, weeks=8)
    farm = replace(farm, season=replace(farm.season, hays_at_once=1))
    return farm, plan_season(farm, options=PlanOptions(effort=0.0, weekly=True))


def dense(rows: SparseRows, count: int, width: int) -> FloatArray:
    """Return the first rows of a program in full."""
    here = (rows.row < count) & (rows.column < width)
    found = np.zeros((count, width))
    np.add.at(found, (rows.row[here], rows.column[here]), rows.value[here])
    return found


@pytest.mark.parametrize("at_the_floor", [False, True])
@pytest.mark.parametrize(("name", "percent"), [("cp", 9.5), ("tdn", 58.5)])
def test_first_use_slow_why_another_analysis_writes_only_what_it_changes(
    monkeypatch: pytest.MonkeyPatch, name: str, percent: float, at_the_floor: bool
) -> None:
    problem = problem_of(random_farm(6, lots=4, groups=3, weeks=8))
    floor = problem.needs.cp_floor_frac
    if at_the_floor:
        # A coefficient of nothing stands in no row, and has to be written where it was not.
        floor = 100.0 * float(floor[np.isfinite(floor)][0])
        problem = _other_hay(problem, 0, "cp", floor)
        assert 0.0 in next(one for one in build_model(problem).given if one.supply == "cp").value
    inquiry = Inquiry(problem).beside()
    count, width = len(inquiry.model.rows.lower), inquiry.model.columns.count
    other = _other_hay(problem, 0, name, percent)
    wanted = build_model(other)
    built: list[object] = []
    changed: list[int] = []
    change = inquiry.session.change

    def counted(row, column, value):  # type: ignore[no-untyped-def]
        changed.append(len(row))
        change(row, column, value)

    monkeypatch.setattr(sensitivity, "build_model", built.append)
    with inquiry.other_hay(0) as ask, monkeypatch.context() as unsolved:
        unsolved.setattr(inquiry.session, "change", counted)
        unsolved.setattr(inquiry, "ask", lambda: inquiry.base)
        ask(other)
        stands = dense(inquiry.session.all_rows(), count, width)
        assert np.array_equal(stands, rounded(dense(wanted.rows, count, width)))
    assert built == []
    # A row for each cell of a few families, and tangents where energy moves; never the program.
    assert 0 < sum(changed) <= 8 * np.count_nonzero(inquiry.model.columns.source == 0)
    stands = dense(inquiry.session.all_rows(), count, width)
    assert np.array_equal(stands, rounded(dense(build_model(problem).rows, count, width)))


def test_first_use_slow_why_what_is_fed_nowhere_is_left_out_of_the_program() -> None:
    farm, program = ruled(6)
    whole = Inquiry.of(farm, problem_of(farm), program)
    small = whole.beside()
    fed = np.count_nonzero(whole.upper[: whole.model.columns.amounts] > 0.0)
    assert small.model.columns.amounts == fed < 0.8 * whole.model.columns.amounts
    assert small.ask().whole_usd == pytest.approx(whole.base.whole_usd, rel=1e-9)
    with whole.stocked(0, -1000.0), small.stocked(0, -1000.0):
        assert small.ask().whole_usd == pytest.approx(whole.ask().whole_usd, rel=SAME_SHARE)


@pytest.mark.more
def test_first_use_slow_why_a_hay_is_let_in_where_it_is_asked_about() -> None:
    farm, program = ruled(12)
    problem, display = problem_of(farm), display_for(farm.units)
    whole = Inquiry.of(farm, problem, program)
    priced = 0
    for one in program.reasons:
        small = whole.beside(weeks_of(problem, one))
        assert small.model.columns.amounts < whole.model.columns.amounts
        told, wanted = with_swap(small, one, display), with_swap(whole, one, display)
        assert (told.sentence, told.next_best_id) == (wanted.sentence, wanted.next_best_id)
        priced += told.usd_over_run is not None
    assert priced > 1


@pytest.mark.more
def test_first_use_slow_why_answers_do_not_depend_on_how_many_are_worked_on_at_once(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    farm, program = ruled(9)
    question = on_request.Question(effort=0.05)
    two = on_request.with_answers(farm, program, question)
    assert two != program
    monkeypatch.setattr(on_request, "ANSWERED_AT_ONCE", 1)
    assert on_request.with_answers(farm, program, question) == two


def test_first_use_slow_why_a_leaving_price_goes_on_from_the_price_before(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    farm = random_farm(7, lots=4, groups=3, weeks=8)
    problem = problem_of(farm)
    inquiry = Inquiry.of(
        farm, problem, plan_season(farm, options=PlanOptions(effort=0.0, weekly=True))
    )
    costs: list[FloatArray] = []
    charge = Inquiry._charge

    def noted(self: Inquiry, cost: FloatArray) -> None:
        costs.append(cost.copy())
        charge(self, cost)

    monkeypatch.setattr(Inquiry, "_charge", noted)
    before = inquiry.meter.work
    columns = inquiry.columns_of(problem.sources.lot_count + 2)
    with inquiry.at_most(columns, np.zeros(len(columns))):
        inquiry.ask()
    without = inquiry.meter.work - before

    before = inquiry.meter.work
    assert leaving_price(inquiry, problem.sources.lot_count + 2) == pytest.approx(0.3271, abs=1e-4)
    goes_on = inquiry.meter.work - before - without

    before = inquiry.meter.work
    for cost in costs[1:-1]:
        with inquiry.costing(cost):
            inquiry.ask()
    anew = inquiry.meter.work - before
    assert len(costs[1:-1]) >= 4
    assert goes_on < 0.75 * anew
