"""Which hays are in use, counted again run by run and cell by cell, and what a repair begins with.

The search keeps its hays in flat tables; here they are dictionaries of weeks.
"""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest

from rickyard.program.model.rows import Model, build_model
from rickyard.program.model.use_binaries import LotUse, _at_once, largest_intake, uses_of
from rickyard.program.problem.problem import problem_of
from rickyard.program.problem.use_rules import use_rules_of
from rickyard.program.result.options import HayUse
from rickyard.program.search.first_solution import NEAR, _smoothed, cheapest_hays, uses_like
from rickyard.program.search.repair import Gap, gaps_of, keeps_rules, lack_usd
from rickyard.program.search.smooth import TRIFLE_SHARE, _change_rows, _trifles, _Work
from rickyard.program.solver import Optimum, is_placed, placed
from rickyard.program.solver.points import NOWHERE
from rickyard.types import BoolArray
from support.ruled_farms import ruled

SEEDS = (1, 4, 8)


def season(seed: int, least_run: int = 2, at_once: int = 2) -> tuple[Model, LotUse]:
    farm = ruled(seed)
    farm = replace(
        farm,
        season=replace(
            farm.season,
            hays_at_once=at_once,
            least_run_days=7 * least_run,
            change_usd=12.0,
            least_serving_pct_bw=0.2,
        ),
        groups=tuple(
            replace(one, hays_at_once=None, from_on=None, to_on=None) for one in farm.groups
        ),
    )
    problem = problem_of(farm)
    model = build_model(problem)
    return model, uses_of(model, use_rules_of(farm, problem))


def by_run(uses: LotUse) -> dict[tuple[int, int], dict[int, int]]:
    """Return the position of each group's hay in each period."""
    found: dict[tuple[int, int], dict[int, int]] = {}
    keys = zip(uses.group.tolist(), uses.source.tolist(), uses.period.tolist(), strict=True)
    for at, (group, source, period) in enumerate(keys):
        found.setdefault((group, source), {})[period] = at
    return found


def drawn(uses: LotUse, seed: int) -> list[BoolArray]:
    """Return hays in use by chance, some in long runs."""
    chance = np.random.default_rng(seed)
    found = [chance.random(len(uses.column)) < share for share in (0.1, 0.3, 0.5)]
    weeks = chance.integers(0, uses.period.max() + 1, 8)
    for first in weeks:
        inside = (uses.period >= first) & (uses.period < first + 3)
        found.append(inside & (uses.source == chance.integers(0, uses.source.max() + 1)))
    found.append(np.zeros(len(uses.column), dtype=bool))
    found.append(np.ones(len(uses.column), dtype=bool))
    return found


@pytest.mark.parametrize("seed", SEEDS)
def test_the_weeks_of_a_hay_are_linked_to_those_beside_them(seed: int) -> None:
    model, uses = season(seed)
    columns = model.columns
    last = model.problem.shape[2] - 1
    for (group, source), weeks in by_run(uses).items():
        for period, at in weeks.items():
            assert columns.group[uses.column[at]] == group
            assert columns.source[uses.column[at]] == source
            assert columns.period[uses.column[at]] == period
            assert uses.before[at] == weeks.get(period - 1, NOWHERE)
            assert uses.after[at] == weeks.get(period + 1, NOWHERE)
            assert uses.cell[at] == group * (last + 1) + period
            assert uses.may_end[at] or period + 1 in weeks
            assert uses.may_end[at] == (period == last or period + 1 not in weeks)
    assert placed(uses.before).any()
    assert not is_placed(NOWHERE)


@pytest.mark.parametrize("seed", SEEDS)
@pytest.mark.parametrize("least_run", [1, 2, 3])
def test_where_a_run_begins_and_whether_it_lasts(seed: int, least_run: int) -> None:
    _, uses = season(seed, least_run)
    runs = by_run(uses)
    for used in drawn(uses, seed):
        begins = uses.starts(used)
        lasting = uses.may_begin(used)
        usd = 0.0
        for weeks in runs.values():
            for period, at in weeks.items():
                earlier = weeks.get(period - 1)
                begun = used[at] and not (earlier is not None and used[earlier])
                assert begins[at] == (begun and uses.is_start[at])
                usd += uses.start_usd[at] if begins[at] else 0.0
                lasts, week = True, period
                for _ in range(least_run - 1):
                    if week + 1 not in weeks:
                        break
                    week += 1
                    lasts &= bool(used[weeks[week]])
                    if not lasts:
                        break
                assert lasting[at] == ((lasts and uses.turn[at]) or uses.must[at])
        assert uses.changes_usd(used) == pytest.approx(usd)


def must_have_beside(model: Model, uses: LotUse) -> BoolArray:
    """Return the hays that go only with another forage, where that is hay whose use is counted."""
    problem = model.problem
    found = np.zeros(len(uses.column), dtype=bool)
    for at in range(len(found)):
        g, i, t = uses.group[at], uses.source[at], uses.period[at]
        for one in problem.besides:
            if one.group == g and one.of[i] and uses.least_kg[at] > 0.0:
                others = np.flatnonzero(one.beside & problem.sources.allowed[g, :, t])
                found[at] |= all(uses.rules.is_hay[other] for other in others)
    return found


@pytest.mark.parametrize("seed", SEEDS)
@pytest.mark.parametrize("at_once", [1, 2, 3])
def test_rules_are_kept_where_no_week_has_too_many_and_every_run_lasts(
    seed: int, at_once: int
) -> None:
    model, uses = season(seed, 2, at_once)
    only_beside = must_have_beside(model, uses)
    assert np.array_equal(uses.not_alone, only_beside)
    kept = []
    for used in drawn(uses, seed):
        crowded = False
        for cell in np.unique(uses.cell):
            here = uses.cell == cell
            most = max(at_once, int(uses.must[here].sum()))
            crowded |= int(used[here].sum()) > most
        short = bool((uses.starts(used) & ~uses.may_begin(used)).any())
        safe = set(uses.cell[used & ~only_beside].tolist())
        alone = [one for one in np.flatnonzero(used & only_beside) if uses.cell[one] not in safe]
        assert np.flatnonzero(uses.alone(used)).tolist() == alone
        kept.append(keeps_rules(uses, used))
        assert kept[-1] == (not crowded and not short and not alone)
    assert True in kept
    assert False in kept


@pytest.mark.parametrize("seed", SEEDS)
def test_changes_cost_only_after_the_first_week_of_a_group(seed: int) -> None:
    model, uses = season(seed)
    here = model.problem.needs.head_days > 0
    for at in range(len(uses.column)):
        group, period = uses.group[at], uses.period[at]
        opening = period == 0 or not here[group, period - 1]
        assert uses.start_usd[at] == (0.0 if opening else 12.0)
    assert np.all(uses.least_kg[~uses.must] >= 0.0)
    assert np.array_equal(uses.possible, (uses.most_kg >= uses.least_kg) & (uses.most_kg > 0.0))


@pytest.mark.parametrize("seed", SEEDS)
def test_no_diet_holds_more_of_a_hay_than_the_most_that_is_counted(seed: int) -> None:
    """The most is the least of what a head eats, its share, its own limit and its fiber."""
    model, uses = season(seed)
    needs, problem = model.problem.needs, model.problem
    intake = largest_intake(model).reshape(needs.head_days.shape)
    for at, column in enumerate(uses.column.tolist()):
        group, source, period = uses.group[at], uses.source[at], uses.period[at]
        most = min(
            float(model.upper[column]),
            float(problem.sources.share_limit[group, source, period] * intake[group, period]),
        )
        fiber, ceiling = problem.per_kg["room"][source], needs.most_ndf_kg[group, period]
        if fiber > 0.0 and np.isfinite(ceiling):
            most = min(most, float(ceiling / fiber))
        assert uses.most_kg[at] == pytest.approx(most)


@pytest.mark.parametrize("seed", SEEDS)
def test_what_is_short_is_added_up_at_its_price_by_group_and_week(seed: int) -> None:
    model, _ = season(seed)
    x = np.random.default_rng(seed).uniform(0.0, 1.0, len(model.cost))
    groups, _, periods = model.problem.shape
    usd = np.zeros((groups, periods))
    for index in model.columns.shortage.values():
        for cell, column in enumerate(index.tolist()):
            if is_placed(column):
                usd[cell // periods, cell % periods] += model.cost[column] * x[column]
    assert lack_usd(model, x) == pytest.approx(usd)


def test_gaps_are_runs_of_weeks_that_are_shorter_than_need_be_the_greatest_first() -> None:
    least = np.zeros((2, 6))
    lack = np.array([[0.0, 5.0, 7.0, 0.5, 0.0, 9.0], [1.0, 0.0, 1.01, 0.0, 40.0, 0.0]])
    assert gaps_of(lack, least) == [
        Gap(1, 4, 4, 40.0),
        Gap(0, 1, 2, 12.0),
        Gap(0, 5, 5, 9.0),
        Gap(1, 2, 2, 1.01),
    ]
    assert gaps_of(lack, lack) == []
    one = np.zeros((1, 3))
    one[0, 1] = 1.0
    assert gaps_of(one, np.zeros((1, 3))) == []
    one[0, 1] = 1.01
    assert gaps_of(one, np.zeros((1, 3))) == [Gap(0, 1, 1, 1.01)]
    # More is short in one week and as much less in another: nothing to gain on the whole.
    assert gaps_of(np.array([[0.0, 5.0]]), np.array([[5.0, 0.0]])) == []


def test_changes_are_counted_up_and_down_and_from_and_to_nothing() -> None:
    now, before = np.array([0, NOWHERE, 2]), np.array([1, 0, NOWHERE])
    change = np.array([3, 4, 5])
    for sign in (1.0, -1.0):
        rows = _change_rows(now, before, change, sign)
        dense = np.zeros((3, 6))
        dense[rows.row, rows.column] = rows.value
        assert dense.tolist() == [
            [sign, -sign, 0.0, -1.0, 0.0, 0.0],
            [-sign, 0.0, 0.0, 0.0, -1.0, 0.0],
            [0.0, 0.0, sign, 0.0, 0.0, -1.0],
        ]
        assert rows.upper.tolist() == [0.0] * 3
        assert np.all(np.isinf(rows.lower))


def test_trifles_are_runs_of_small_amounts_the_smallest_first() -> None:
    model, _ = season(1)
    columns = model.columns
    soft = np.full(columns.amounts, 1.0 / TRIFLE_SHARE)
    none = np.zeros(0, dtype=np.int64)
    work = _Work(model, None, None, none, none, none, soft, soft)  # type: ignore[arg-type]
    x = np.full(columns.count, 1.0)
    at = {
        key: number
        for number, key in enumerate(
            zip(
                columns.group.tolist(),
                columns.source.tolist(),
                columns.period.tolist(),
                strict=True,
            )
        )
    }
    (group, source) = next(
        (g, s) for g, s, t in at if all((g, s, week) in at for week in range(t, t + 5)) and t == 0
    )
    assert _trifles(work, x) == []
    for week, amount in ((0, 1e-4), (1, 2e-4), (3, 1e-4), (4, 0.0)):
        x[at[group, source, week]] = amount
    runs = [run.tolist() for run in _trifles(work, x)]
    wanted = [[at[group, source, 3]], [at[group, source, 0], at[group, source, 1]]]
    assert runs == wanted


@pytest.mark.parametrize("seed", SEEDS)
@pytest.mark.parametrize("count", [1, 2, 5])
def test_the_cheapest_hays_of_a_week_are_those_that_add_least_to_the_cost(
    seed: int, count: int
) -> None:
    model, uses = season(seed)
    drop = np.random.default_rng(seed).normal(size=len(model.cost))
    prices = Optimum(0.0, 0.0, np.zeros(len(drop)), np.zeros(1), drop)
    chosen = cheapest_hays(uses, prices, count)
    for cell in np.unique(uses.cell):
        here = np.flatnonzero(uses.cell == cell)
        mine = sorted(drop[uses.column[here]])[:count]
        assert sorted(drop[uses.column[here[chosen[here]]]]) == pytest.approx(mine)


@pytest.mark.parametrize("seed", SEEDS)
def test_amounts_are_smoothed_with_the_weeks_beside_them(seed: int) -> None:
    _, uses = season(seed)
    x = np.random.default_rng(seed).uniform(0.0, 5.0, len(uses.column))
    found = _smoothed(uses, x)
    for weeks in by_run(uses).values():
        for period, at in weeks.items():
            total = NEAR[0] * x[at]
            for way in (-1, 1):
                for far, weight in enumerate(NEAR[1:], start=1):
                    if not all(period + way * one in weeks for one in range(1, far + 1)):
                        break
                    total += weight * x[weeks[period + way * far]]
            assert found[at] == pytest.approx(total / (NEAR[0] + 2.0 * sum(NEAR[1:])))


@pytest.mark.parametrize("seed", SEEDS)
def test_hays_like_those_of_another_program_are_fed_on_its_days(seed: int) -> None:
    """What the other program feeds in a week is in use there; where it is silent, the cheapest."""
    model, uses = season(seed, least_run=1)
    needs, values = model.problem.needs, model.problem.sources.values
    relaxed = Optimum(0.0, 0.0, np.zeros(len(model.cost)), np.zeros(1), model.cost)
    runs = by_run(uses)
    (group, source), weeks = next(
        (key, weeks) for key, weeks in runs.items() if all(uses.possible[list(weeks.values())])
    )
    period = needs.periods[2]
    row = HayUse(
        needs.groups[group].group_id, values[source].source_id, period.start, period.days, 5.0
    )
    strangers = (replace(row, group_id="nobody"), replace(row, source_id="nothing"))
    used = uses_like(uses, model, (row, *strangers), relaxed)
    assert used[weeks[2]]
    assert keeps_rules(uses, used)


def test_a_row_counts_hays_only_where_there_are_more_than_may_be() -> None:
    """Three hays in the first week and two in the second; one of a second group, which must be."""
    _, whole = season(1)
    chosen = np.array([0, 1, 2, 3, 4, 5, 6])
    uses = replace(
        whole,
        rules=replace(whole.rules, hays_at_once=np.array([2, 1])),
        group=np.array([0, 0, 0, 0, 0, 1, 1]),
        cell=np.array([0, 0, 0, 1, 1, 4, 4]),
        must=np.array([False] * 5 + [True] * 2),
    )
    rows = _at_once(uses, np.arange(10, 17), chosen)
    assert rows.upper.tolist() == [2.0]
    assert rows.column.tolist() == [10, 11, 12]
    assert rows.value.tolist() == [1.0] * 3
    one_must = replace(uses, must=np.array([False] * 6 + [True]))
    rows = _at_once(one_must, np.arange(10, 17), chosen)
    assert rows.upper.tolist() == [2.0, 1.0]
    assert rows.row.tolist() == [0, 0, 0, 1, 1]


def test_what_must_be_in_use_asks_for_its_own_least_alone() -> None:
    model, uses = season(1)
    must = np.zeros(model.problem.shape, dtype=bool)
    must[:, 0, 0] = True
    asked = uses_of(model, replace(uses.rules, must=must))
    mine = (asked.source == 0) & (asked.period == 0)
    assert mine.any()
    assert not asked.least_kg[mine].any()
    assert np.array_equal(asked.least_kg[~mine], uses.least_kg[~mine])
    assert asked.least_kg[~mine].all()


@pytest.mark.parametrize("seed", SEEDS)
def test_hay_that_cannot_give_everybody_the_least_is_named(seed: int) -> None:
    model, uses = season(seed)
    sources, problem = model.problem.sources, model.problem
    asked = np.zeros(len(sources.values))
    used = np.ones(len(uses.column), dtype=bool)
    for at in np.flatnonzero(used).tolist():
        g, i, t = int(uses.group[at]), int(uses.source[at]), int(uses.period[at])
        kept = problem.keep[i, t] if i < sources.lot_count else 1.0
        offered = uses.least_kg[at] / (1.0 - sources.feeding_loss_frac[g, i])
        asked[i] += offered * problem.needs.head_days[g, t] / kept
    there = np.concatenate([sources.start_kg_dm, sources.most_buy_kg_dm])
    there[np.isfinite(sources.load_kg_dm)] = np.inf
    assert uses.too_little_of(used).tolist() == np.flatnonzero(asked > there).tolist()
    assert not len(uses.too_little_of(~used))
