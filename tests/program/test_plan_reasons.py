"""Why a lot is fed, what holds each ration, what a unit is worth: every number perturbed."""

from __future__ import annotations

from dataclasses import replace
from datetime import timedelta

import numpy as np
import pytest

from rickyard.farm import Farm, Group
from rickyard.program.ask.sensitivity import Inquiry
from rickyard.program.planning.season import plan_season, solve_season
from rickyard.program.problem.problem import problem_of
from rickyard.program.result.result import SeasonProgram
from support.farms import START, random_farm
from support.season_farms import CAKE, CORN, LIME, cows, farm_of, hay, report_on, steers
from support.shipped import demo_farm
from support.weekly import WEEKLY


@pytest.fixture(scope="module")
def demo() -> tuple[Farm, SeasonProgram]:
    farm = demo_farm(0.0)
    return farm, plan_season(farm, options=WEEKLY)


@pytest.mark.parametrize("seed", [2, 4])
def test_cost_and_charges_add_up_to_the_reduced_cost(seed: int) -> None:
    solved = solve_season(problem_of(random_farm(seed)), lambda _: None)
    amounts = len(solved.model.columns.group)
    total = solved.model.cost[:amounts] + sum(solved.prices.charged.values())
    reduced = solved.optimum.reduced_cost[:amounts]
    assert np.abs(reduced).max() > 1.0
    assert total == pytest.approx(reduced, abs=1e-6)
    assert {"stock", "buying", "appetite", "gain_energy", "cp"} <= set(solved.prices.charged)


@pytest.mark.parametrize("seed", [None, 1, 4])
def test_every_week_of_every_group_has_an_answer(seed: int | None) -> None:
    farm = demo_farm(1.0) if seed is None else random_farm(seed)
    program = plan_season(farm, options=WEEKLY)
    told: dict[str, list[tuple[object, object]]] = {}
    for one in program.held_by:
        told.setdefault(one.group_id, []).append((one.start, one.end))
        assert farm.group(one.group_id).name in one.sentence
    for cell in program.groups:
        end = cell.start + timedelta(days=cell.days)
        here = [one for one in told[cell.group_id] if one[0] <= cell.start and end <= one[1]]  # type: ignore[operator]
        assert len(here) == 1


def test_what_is_short_is_what_holds_the_ration() -> None:
    program = plan_season(random_farm(1), options=WEEKLY)
    assert program.shortages
    for short in program.shortages:
        found = [
            one
            for one in program.held_by
            if one.group_id == short.group_id and one.start < short.end and short.start < one.end
        ]
        assert found
        assert all(short.nutrient in one.nutrients for one in found)
        assert all("short of" in one.sentence for one in found)


def test_every_run_of_hay_has_its_reason(demo: tuple[Farm, SeasonProgram]) -> None:
    farm, program = demo
    lots = {lot.lot_id for lot in farm.lots}
    fed = {
        (row.group_id, row.source_id, row.start) for row in program.feeding if row.source_id in lots
    }
    reasons = [one for one in program.reasons if one.source_id in lots]
    told = {
        (one.group_id, one.source_id, period.start)
        for one in reasons
        for period in program.periods
        if one.start <= period.start < one.end
    }
    assert told == fed
    for one in reasons:
        if one.decides != "steady":
            assert one.usd_per_t_dm is None or one.usd_per_t_dm >= -0.05
        assert one.next_best_id != one.source_id


def dearer_with(inquiry: Inquiry, names: tuple[str, ...], groups: list[int], more: float) -> float:
    """Return what the season costs more when the rows of some needs ask for more."""
    rows, model = inquiry.model.rows, inquiry.model
    mine = np.isin(np.arange(model.problem.needs.head_days.size) // model.problem.shape[2], groups)
    changed = [model.row_of[name][mine & (model.row_of[name] >= 0)] for name in names]
    for row in np.concatenate(changed).tolist():
        inquiry.session.set_row_bounds(row, float(rows.lower[row]) + more, np.inf)
    cost = inquiry.ask(settle=False).whole_usd - inquiry.base.whole_usd
    for row in np.concatenate(changed).tolist():
        inquiry.session.set_row_bounds(row, float(rows.lower[row]), np.inf)
    inquiry.back()
    return cost


def poor_in_protein() -> Farm:
    """Cows in milk, dry cows and steers, with hay that does for the dry cows alone."""
    milking = replace(cows(START - timedelta(days=40)), group_id="milking", name="Milking")
    plain, better = hay("plain", 58.0, 7.0, 250.0, 70.0), hay("better", 56.0, 9.0, 9.0, 75.0)
    pairs = [(plain, report_on(plain, 58.0, 7.0)), (better, report_on(better, 56.0, 9.0))]
    return farm_of(pairs, [milking, cows(), steers(0.5)], [CAKE, CORN, LIME])


@pytest.mark.parametrize(
    ("farm", "worth"),
    [
        (demo_farm(0.0), {"energy"}),  # what is fed for energy brings protein enough
        (poor_in_protein(), {"energy", "protein"}),
    ],
    ids=["demo", "poor in protein"],
)
def test_a_unit_more_of_protein_or_energy_costs_what_is_said(farm: Farm, worth: set[str]) -> None:
    program = plan_season(farm, options=WEEKLY)
    inquiry = Inquiry(problem_of(farm))
    head_days = inquiry.problem.needs.head_days
    growing = inquiry.problem.needs.growing.any(axis=1)
    more, seen = 1e-4, list[str]()
    for one in program.unit_worth:
        groups = [g for g, group in enumerate(farm.groups) if one.group_id in ("", group.group_id)]
        if one.what == "energy" and growing[groups].any():
            continue  # their energy stands on tangents, held to below
        names = ("nem",) if one.what == "energy" else ("cp", "cp_floor")
        units = more * float(head_days[groups].sum())
        assert one.usd_per_unit is not None
        assert one.most_usd_per_unit is not None
        assert one.most_usd_per_unit >= one.usd_per_unit * (1 - 1e-9)
        cost = dearer_with(inquiry, names, groups, more)
        assert cost / units == pytest.approx(one.usd_per_unit, rel=2e-3, abs=1e-5)
        seen += [one.what] if one.usd_per_unit > 1e-3 else []
    assert set(seen) == worth
    assert len(seen) >= 2
    for g in np.flatnonzero(growing).tolist():
        told = next(
            one
            for one in program.unit_worth
            if one.what == "energy" and one.group_id == farm.groups[g].group_id
        )
        needs = inquiry.problem.needs
        wanted = needs.least["nem"].copy()
        wanted[g] += 1e-3
        dearer = Inquiry(
            replace(inquiry.problem, needs=replace(needs, least={**needs.least, "nem": wanted}))
        )
        cost = dearer.base.whole_usd - inquiry.base.whole_usd
        assert cost / (1e-3 * head_days[g].sum()) == pytest.approx(told.usd_per_unit, rel=0.01)


def test_where_the_farm_is_short_no_price_is_told() -> None:
    """Every group of it is short all season: money says nothing."""
    farm = random_farm(5, lots=10, groups=4, weeks=8)
    groups = tuple(replace(one, head=30 * one.head) for one in farm.groups)
    program = plan_season(replace(farm, groups=groups), options=WEEKLY)
    assert program.status == "short"
    hidden = [one for one in program.unit_worth if one.usd_per_unit is None]
    assert hidden
    assert all("cannot be said" in one.sentence for one in hidden)
    assert all(one.most_start is None for one in hidden)
    some = [one for one in program.reasons if one.next_best_id and one.usd_per_t_dm is None]
    assert some
    assert all("$" not in one.sentence for one in some)


def decided(lots: list[tuple[str, float, float, float, float]], group: Group) -> dict[str, str]:
    """Return by hay what speaks for it: name, TDN, protein, tonnes and dollars a tonne of each."""
    made = [hay(name, tdn, cp, tonnes, usd) for name, tdn, cp, tonnes, usd in lots]
    pairs = [
        (lot, report_on(lot, tdn, cp)) for lot, (_, tdn, cp, _, _) in zip(made, lots, strict=True)
    ]
    program = plan_season(farm_of(pairs, [group], [CAKE, CORN, LIME]), options=WEEKLY)
    assert program.status == "complete"
    return {one.source_id: one.decides for one in program.reasons}


def test_what_speaks_for_a_hay_is_named() -> None:
    milking = cows(START - timedelta(days=40))
    rich, plain = ("rich", 58.0, 14.0, 90.0, 92.0), ("plain", 58.0, 7.0, 90.0, 90.0)
    assert decided([rich, plain], milking) == {"rich": "protein", "plain": "price"}
    strong, weak = ("strong", 64.0, 12.0, 90.0, 92.0), ("weak", 52.0, 12.0, 90.0, 90.0)
    assert decided([strong, weak], steers(0.7))["strong"] == "energy"
    cheap, dear = ("cheap", 56.0, 10.0, 90.0, 60.0), ("dear", 56.0, 10.0, 90.0, 80.0)
    assert decided([cheap, dear], cows()) == {"cheap": "price"}
    assert decided([cheap], cows()) == {"cheap": "only"}
    twins = [("one", 56.0, 10.0, 90.0, 60.0), ("two", 56.0, 10.0, 90.0, 60.0)]
    fed = decided(twins, cows())
    assert set(fed.values()) == {"same"} or len(fed) == 2


def test_the_hay_that_others_need_more_is_left_to_them() -> None:
    """Cows in milk need the rich hay, and there is just enough of it; dry cows get the other."""
    rich, plain = hay("rich", 60.0, 14.0, 9.0, 70.0), hay("plain", 56.0, 9.0, 90.0, 70.0)
    milking = replace(cows(START - timedelta(days=40)), group_id="milking", name="Milking")
    pairs = [(rich, report_on(rich, 60.0, 14.0)), (plain, report_on(plain, 56.0, 9.0))]
    program = plan_season(farm_of(pairs, [milking, cows()], [CAKE, LIME]), options=WEEKLY)
    told = {(one.group_id, one.source_id): one for one in program.reasons}
    reason = told["cows", "plain"]
    assert (reason.decides, reason.next_best_id) == ("scarcity", "rich")
    assert "Rich is worth more to other stock" in reason.sentence
    assert reason.usd_per_t_dm is not None
    assert reason.usd_per_t_dm > 0.0
