"""The linear program itself: every variable has one place, rows stay sparse, money is money."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest

from rickyard.program.model.rows import Model, build_model
from rickyard.program.planning.season import plan_season, solve_season
from rickyard.program.problem.problem import problem_of
from support.farms import random_farm
from support.rows import few
from support.ruled_farms import ruled
from support.weekly import WEEKLY


@pytest.fixture(scope="module", params=[1, 4, 8])
def model(request: pytest.FixtureRequest) -> Model:
    return build_model(problem_of(ruled(request.param)))


def test_every_variable_has_one_place(model: Model) -> None:
    columns = model.columns
    maps = [columns.loads, columns.sold, columns.total, columns.unkept, *columns.shortage.values()]
    places = np.concatenate([index[index >= 0] for index in maps])
    farm = np.array(list(columns.farm_short.values()), dtype=np.int64)
    everything = np.concatenate([np.arange(columns.amounts), places, farm])
    assert sorted(everything.tolist()) == list(range(columns.count))
    assert len(model.cost) == len(model.lower) == len(model.upper) == columns.count


def test_what_is_missing_stands_last_and_is_no_money(model: Model) -> None:
    columns = model.columns
    missing = [*columns.shortage.values(), columns.unkept]
    first = min(int(index[index >= 0].min()) for index in missing if (index >= 0).any())
    assert first == columns.first_shortage
    assert set(columns.farm_short) == {"cash", "reserve"}
    assert min(columns.farm_short.values()) >= first
    assert (model.cost[first:] > 0).all()
    money = [columns.loads, columns.sold, columns.total]
    assert all(int(index.max()) < first for index in money)


def test_every_row_is_bounded_and_every_entry_is_a_number(model: Model) -> None:
    rows = model.rows
    assert np.isfinite(rows.value).all()
    assert (rows.value != 0.0).all()
    assert (np.isfinite(rows.lower) | np.isfinite(rows.upper)).all()
    pairs = set(zip(rows.row.tolist(), rows.column.tolist(), strict=True))
    assert len(pairs) == len(rows.value)


@pytest.mark.parametrize("lots", [5, 40])
def test_rows_of_shares_do_not_grow_with_the_number_of_lots(lots: int) -> None:
    """A limited lot is held against the whole diet, which is counted once for a cell.

    Rows over many lots are otherwise one a period for what is fed only with something beside it;
    what is begun or raised slowly is held against itself before and after, or against the whole,
    and all forage of a period against that of the one before. Of what is put out a limited lot is
    held against all that is put out in its cell, once.
    """
    problem = problem_of(random_farm(1, lots=lots, groups=4, weeks=6))
    model = build_model(problem)
    families = {int(row) for index in model.row_of.values() for row in index[index >= 0]}
    families |= {int(row) for row in (*model.stock_row, *model.buy_row)}
    held = np.array([row not in families for row in range(len(model.rows.lower))])
    per_row = np.bincount(model.rows.row, minlength=len(held))[held]
    totals = int((model.columns.total >= 0).sum())
    beside = len(problem.besides) * problem.shape[2] + len(problem.descents)
    shares = sum(one.free_kg is None and not one.soft for one in problem.besides)
    beside += shares * problem.shape[2]
    columns = model.columns
    share = problem.sources.share_limit[columns.group, columns.source, columns.period]
    beside += int(((share > 0.0) & (share < 1.0)).sum())
    slowly = (len(problem.begins) + len(problem.steps)) * problem.shape[2]
    assert problem.begins
    assert problem.steps
    assert int((per_row > 3).sum()) <= totals + beside
    assert int((per_row > 2).sum()) <= totals + beside + slowly


@pytest.mark.parametrize("seed", few(range(4), 2))
def test_the_cost_of_the_program_is_that_of_its_point(seed: int) -> None:
    """What the variables cost and what does not depend on them is the money of the season."""
    farm = ruled(seed)
    # Whole loads are rounded up from the linear program: without them both must agree.
    farm = replace(farm, feeds=tuple(replace(one, load_kg=None) for one in farm.feeds))
    problem = problem_of(farm)
    solved = solve_season(problem, lambda _: None)
    first = solved.model.columns.first_shortage
    money = problem.fixed_usd + float(solved.model.cost[:first] @ solved.x[:first])
    assert plan_season(farm, options=WEEKLY).cost == pytest.approx(money, rel=1e-6)
