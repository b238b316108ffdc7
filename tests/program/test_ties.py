"""The program of rations, tied together, against the weekly program with its weeks held equal.

What the tied program answers is compared with the weekly program to which one row is added for
every amount that has to be the same as that of the week before: another way to the same optimum.
"""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest

from rickyard.program.model.rows import Model, build_model
from rickyard.program.problem.problem import Problem, problem_of
from rickyard.program.rations.tied import TiedSession, ties_of
from rickyard.program.runs.span_costs import Runs, priced
from rickyard.program.runs.spans import (
    SpanRules,
    Spans,
    allowed_cut,
    other_cuts,
    span_rules,
)
from rickyard.program.runs.steady_needs import steady_needs, with_needs_of
from rickyard.program.search.relax import relax
from rickyard.program.solver import Meter, Optimum, Session, SparseRows
from rickyard.types import FloatArray
from support.rows import each_row
from support.ruled_farms import ruled

SEEDS = (1, 4)


def season(seed: int, cuts: int = 2) -> tuple[Problem, Model, Spans]:
    """Return a season whose needs are held steady over rations cut by chance."""
    problem = problem_of(ruled(seed))
    rules = span_rules(problem, *(one * problem.shape[0] for one in ((3,), (7,))))
    chance = np.random.default_rng(seed)
    starts = []
    for first, last in zip(rules.first, rules.last, strict=True):
        inner = np.arange(first + 1, last + 1)
        more = chance.choice(inner, min(cuts, len(inner)), replace=False) if len(inner) else []
        starts.append((first, *sorted(int(one) for one in more)) if first >= 0 else ())
    spans = Spans(tuple(starts), rules.last)
    steady = steady_needs(problem, spans, np.full(problem.shape[0], 0.03))
    return steady, with_needs_of(build_model(problem), steady), spans


def equal_weeks(to: np.ndarray) -> SparseRows:
    """Return rows that hold every weekly variable to the first that is tied with it."""
    order = np.argsort(to, kind="stable")
    order = order[to[order] >= 0]
    same = np.flatnonzero(to[order][1:] == to[order][:-1])
    rows = np.arange(len(same))
    return SparseRows.of(
        *(np.zeros(len(same)), np.zeros(len(same))),
        (rows, order[same], 1.0),
        (rows, order[same + 1], -1.0),
    )


def weekly(
    model: Model, to: np.ndarray, *more: SparseRows, cost: FloatArray | None = None
) -> Session:
    out = to < 0
    lower, upper = np.where(out, 0.0, model.lower), np.where(out, 0.0, model.upper)
    session = Session(model.cost if cost is None else cost, lower, upper, model.rows)
    for rows in (*more, equal_weeks(to)):
        session.add_rows(rows)
    return session


def holds(rows: SparseRows, x: FloatArray) -> bool:
    total = np.bincount(rows.row, rows.value * x[rows.column], minlength=len(rows.lower))
    room = 1e-6 * (1.0 + np.abs(total))
    return bool(np.all(total >= rows.lower - room) and np.all(total <= rows.upper + room))


@pytest.mark.parametrize("seed", SEEDS)
def test_the_tied_program_is_the_weekly_one_with_equal_weeks(seed: int) -> None:
    problem, model, spans = season(seed)
    ties = ties_of(model, spans)
    tied = TiedSession(model, ties)
    found = tied.minimise()
    assert found.objective == pytest.approx(weekly(model, ties.to).minimise().objective, rel=1e-7)
    assert holds(model.rows, found.x)
    x = found.x[: model.columns.amounts]
    number = spans.numbers(problem.shape[2])
    columns = model.columns
    for g, i in {(g, i) for g, i in zip(columns.group, columns.source, strict=True)}:
        mine = (columns.group == g) & (columns.source == i)
        for one in range(number[g].max() + 1):
            weeks = x[mine & (number[columns.group, columns.period] == one)]
            here = (number[g] == one).sum()
            assert len(weeks) == here or np.all(weeks == 0.0)
            assert np.ptp(weeks) == 0.0 if len(weeks) else True


@pytest.mark.parametrize("seed", SEEDS)
def test_the_prices_of_the_tied_program_are_prices_of_the_weekly_one(seed: int) -> None:
    """Costs less what rows charge are the reduced costs, added up over what is tied."""
    _, model, spans = season(seed)
    ties = ties_of(model, spans)
    tied = TiedSession(model, ties)
    found = tied.minimise()
    rows = model.rows
    paid = np.bincount(
        rows.column, found.row_dual[rows.row] * rows.value, minlength=len(model.cost)
    )
    assert found.reduced_cost == pytest.approx(model.cost - paid, abs=1e-9)
    family = np.arange(len(rows.lower)) % 3
    charges = tied.charges(found.row_dual, family, 3)
    assert charges.sum(axis=0) == pytest.approx(-paid, abs=1e-9)
    for one in range(3):
        mine = np.where(family == one, found.row_dual, 0.0)
        part = np.bincount(rows.column, mine[rows.row] * rows.value, minlength=len(model.cost))
        assert charges[one] == pytest.approx(-part, abs=1e-9)
    together = np.bincount(
        ties.to[ties.to >= 0], found.reduced_cost[ties.to >= 0], minlength=ties.count
    )
    assert tied.last is not None
    assert together == pytest.approx(tied.last.reduced_cost, abs=1e-5)


@pytest.mark.parametrize("seed", SEEDS)
def test_rows_coefficients_costs_and_bounds_are_changed_as_in_the_weekly_program(seed: int) -> None:
    _, model, spans = season(seed)
    ties = ties_of(model, spans)
    tied = TiedSession(model, ties)
    first = tied.minimise()
    columns = model.columns
    eaten = np.flatnonzero(first.x[: columns.amounts] > 0.5)[:4]
    rows = SparseRows.of(-np.inf, 0.6 * first.x[eaten], (np.arange(len(eaten)), eaten, 1.0))
    assert tied.add_rows(rows) == len(model.rows.lower)
    second = tied.minimise()
    assert second.objective > first.objective
    assert second.objective == pytest.approx(
        weekly(model, ties.to, rows).minimise().objective, rel=1e-7
    )
    assert holds(rows, second.x)
    assert len(second.row_dual) == len(model.rows.lower) + len(eaten)
    at = len(model.rows.lower)
    tied.change(np.array([at]), eaten[:1], np.array([2.0]))
    harder = replace(rows, value=np.array([2.0, *rows.value[1:]]))
    third = tied.minimise()
    assert third.objective == pytest.approx(
        weekly(model, ties.to, harder).minimise().objective, rel=1e-7
    )
    paid = np.bincount(
        harder.column, third.row_dual[at:][harder.row] * harder.value, minlength=len(model.cost)
    ) + np.bincount(
        model.rows.column,
        third.row_dual[:at][model.rows.row] * model.rows.value,
        minlength=len(model.cost),
    )
    assert third.reduced_cost == pytest.approx(model.cost - paid, abs=1e-9)
    cost = model.cost * np.random.default_rng(seed).uniform(0.9, 1.1, len(model.cost))
    tied.set_cost(cost)
    assert tied.minimise().objective == pytest.approx(
        weekly(model, ties.to, harder, cost=cost).minimise().objective, rel=1e-7
    )
    assert tied.add_rows(SparseRows.of(np.zeros(0), np.zeros(0), (np.zeros(0), 0, 1.0))) == (
        at + len(eaten)
    )


@pytest.mark.parametrize("seed", SEEDS)
def test_what_is_held_out_of_use_is_not_fed_and_what_is_in_use_has_its_least(seed: int) -> None:
    _, model, spans = season(seed)
    ties = ties_of(model, spans)
    tied = TiedSession(model, ties)
    free = tied.minimise()
    at = ties.amounts()
    assert tied.last is not None
    fed_kg = tied.last.x[at]
    fed = fed_kg > 1e-3
    lots = np.flatnonzero(fed & (ties.source[at] < model.problem.sources.lot_count))
    used, nothing = np.ones(len(at), dtype=bool), np.zeros(len(at))
    used[lots[0]] = False
    tied.hold(used, nothing)
    assert tied.minimise().objective > free.objective
    assert tied.last.x[at[lots[0]]] == 0.0
    least, one = nothing.copy(), lots[1]
    least[one] = fed_kg[one] + 0.001
    tied.hold(np.ones(len(at), dtype=bool), least)
    assert tied.minimise().objective >= free.objective - 1e-9 * abs(free.objective)
    assert tied.last.x[at[one]] >= min(least[one], tied.upper[at[one]]) - 1e-9
    tied.hold(np.ones(len(at), dtype=bool), np.zeros(len(at)))
    assert tied.minimise().objective == pytest.approx(free.objective, rel=1e-7)


def free_prices(model: Model) -> Optimum:
    count = len(model.rows.lower)
    return Optimum(0.0, 0.0, np.zeros(len(model.cost)), np.zeros(count), model.cost)


@pytest.mark.parametrize("seed", SEEDS)
def test_what_is_shared_is_paid_for_at_its_price_and_bounds_the_season(seed: int) -> None:
    """By weak duality prices of shared rows, of the right sign, leave a bound."""
    problem = problem_of(ruled(seed))
    model = build_model(problem)
    best = Session(model.cost, model.lower, model.upper, model.rows).minimise()
    prices = priced(model, model.rows, best)
    owner = model.owners()
    for one in range(len(model.rows.lower)):
        columns = model.rows.column[model.rows.row == one]
        owners = set(owner[columns].tolist())
        amounts = bool((columns[owner[columns] >= 0] < model.columns.amounts).all())
        weeks = set(model.columns.period[columns[columns < model.columns.amounts]].tolist())
        shared = amounts and len(weeks) > 1  # what rises from one week to the next is paid for
        assert bool(prices.local[one]) is (len(owners) == 1 and owners != {-1} and not shared)
    local = SparseRows(
        model.rows.row,
        model.rows.column,
        model.rows.value,
        np.where(prices.local, model.rows.lower, -np.inf),
        np.where(prices.local, model.rows.upper, np.inf),
    )
    mine = np.where(owner < 0, 0.0, prices.cost)
    alone = Session(mine, model.lower, model.upper, local).minimise().objective
    assert alone + prices.constant == pytest.approx(best.objective, rel=1e-5)
    nothing = priced(model, model.rows, free_prices(model))
    assert nothing.cost == pytest.approx(model.cost)
    assert nothing.constant <= 0.0


@pytest.mark.parametrize("seed", SEEDS)
def test_a_run_costs_no_more_than_its_weeks_tied_and_as_much_as_a_week_alone(seed: int) -> None:
    """Runs of one week at the prices of the season add up to the bound by week."""
    problem = problem_of(ruled(seed))
    relaxation = relax(problem, str)
    model, best = relaxation.model, relaxation.optimum
    prices = priced(model, relaxation.session.all_rows(), best)
    rules = span_rules(problem, *((one,) * problem.shape[0] for one in (problem.shape[2], 1)))
    total = prices.constant
    for group in range(problem.shape[0]):
        costs = Runs(model, prices, rules, group, 0.0, Meter()).costs(prices.cost).usd
        first, last = rules.first[group], rules.last[group]
        weeks = [costs[one, one + 1] for one in range(first, last + 1)]
        total += sum(weeks)
        for start in range(first, last + 1):
            for stop in range(start + 1, last + 2):
                apart = sum(weeks[start - first : stop - first])
                assert costs[start, stop] >= apart - 1e-4 * (1.0 + abs(apart))
        assert np.all(np.isinf(costs[: max(first, 0)]))
    assert total <= best.objective + 1e-5 * abs(best.objective)
    # Growth is laid between tangents, so that the bound is a little below.
    assert total == pytest.approx(best.objective, rel=0.05)


def test_needs_of_a_ration_are_the_mean_or_the_most_of_its_weeks() -> None:
    problem = problem_of(ruled(1))
    rules = span_rules(problem, *(one * problem.shape[0] for one in ((2,), (7,))))
    spans = Spans(tuple((one,) if one >= 0 else () for one in rules.first), rules.last)
    steady = steady_needs(problem, spans, np.full(problem.shape[0], 0.03))
    days = problem.needs.head_days
    for name, value in problem.needs.least.items():
        for g in range(len(value)):
            known = np.isfinite(value[g])
            if not known.any() or (name == "nem" and problem.needs.growing[g].any()):
                continue
            most = value[g][known].max()
            mean = (value[g] * days[g])[known].sum() / days[g][known].sum()
            kind = name in ("nem", "tdn", "de", "cp", "mp", "gain_energy")
            wanted = max(mean, 0.97 * most) if kind else most
            assert steady.needs.least[name][g][known] == pytest.approx(wanted), name
    known = np.isfinite(problem.needs.most_dm_kg)
    for g in range(len(known)):
        if known[g].any():
            least = problem.needs.most_dm_kg[g][known[g]].min()
            assert steady.needs.most_dm_kg[g][known[g]] == pytest.approx(least)


RULES = SpanRules(most=(3, 3), least=(3, 3), first=(2, -1), last=(11, -1))


@each_row(
    ("starts", "allowed"),
    [
        ((2,), True),
        ((2, 5), True),
        ((2, 4), False),
        ((2, 9), True),
        ((2, 10), False),
        ((3,), False),
        ((2, 5, 8), True),
        ((2, 5, 8, 9), False),
        ((), False),
    ],
)
def test_a_cut_keeps_its_least_its_number_and_its_first_week(
    starts: tuple[int, ...], allowed: bool
) -> None:
    assert allowed_cut(RULES, 0, starts) is allowed
    assert allowed_cut(RULES, 1, ())
    short = replace(RULES, last=(3, -1))
    assert allowed_cut(short, 0, (2,))
    assert not allowed_cut(short, 0, (2, 3))


def test_other_cuts_are_all_that_differ_by_one_step() -> None:
    starts = (2, 6)
    spans = Spans((starts, ()), RULES.last)
    moved = [(2, one) for one in (4, 5, 7, 8)]
    added = [tuple(sorted({*starts, one})) for one in range(3, 12) if one not in starts]
    wanted = {one for one in [*moved, *added, (2,)] if allowed_cut(RULES, 0, one)}
    assert set(other_cuts(RULES, spans, 0)) == wanted
    assert list(other_cuts(RULES, spans, 1)) == []
    assert spans.with_group(0, (2, 5)).starts == ((2, 5), ())
    assert spans.of_group(0) == [range(2, 6), range(6, 12)]
    assert spans.numbers(13).tolist() == [
        [-1, -1, 0, 0, 0, 0, 1, 1, 1, 1, 1, 1, -1],
        [-1] * 13,
    ]
