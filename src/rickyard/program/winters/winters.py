"""Mild, normal or severe: what to do in autumn before anybody knows which winter it will be."""

from __future__ import annotations

import time
from collections.abc import Callable
from dataclasses import replace
from typing import Final

from rickyard.farm import Assumption, Farm, Winter
from rickyard.program.explain import explain
from rickyard.program.problem import RESERVE_PCT_BW, Problem, farm_from
from rickyard.program.result import (
    Bought,
    NoWinters,
    PlanOptions,
    SeasonProgram,
    WinterProgram,
    WinterPrograms,
)
from rickyard.program.solver import SolveError
from rickyard.program.winters.two_stage import FirstStage, Scenario, later, two_stages
from rickyard.program.winters.winter_farms import (
    LATER_ID,
    Given,
    farm_for_winter,
    need_winters,
    split_farm,
    sunk_usd,
    winter_chances,
    winter_problem,
    with_stock,
)
from rickyard.quantities import is_some

__all__ = ["NoWinters", "WinterPrograms", "farm_for_winter", "plan_winters", "winter_chances"]

#: A purchase smaller than this is none, kg as fed.
NOTHING_KG: Final = 0.5

SOURCE: Final = "derived, see plan_winters: the winters share the decisions of autumn"


def plan_winters(
    farm: Farm,
    options: PlanOptions = PlanOptions(),  # noqa: B008 - frozen, so one will do for all
    progress: Callable[[str], None] | None = None,
) -> WinterPrograms:
    """Plan mild, normal and severe winters together, with one autumn for all.

    Parameters
    ----------
    farm : Farm
        A farm with weather. Its ``mild_chance_pct``, ``severe_chance_pct``, ``winter_known_on`` and
        ``late_price_pct`` are read.
    options : PlanOptions
        The day to plan from and the wishes are read.
    progress : callable, optional
        Called with a short sentence as the work goes on.

    Returns
    -------
    WinterPrograms
        Hays may be mixed at will; `farm_for_winter` gives a farm whose own program can be
        followed.

    Raises
    ------
    NoWinters
        If the folder has no weather, or counts no cold.
    OutOfRange
        If the chances are more than certain, or the winter is known before the season.
    SolveError
        If the solver fails.
    """
    say = progress or (lambda _: None)
    farm = farm_from(farm, options.from_on).farm
    need_winters(farm)
    chances = winter_chances(farm.season)
    given = split_farm(farm, options.wishes)
    say("Working out what each winter asks for")
    problems = {
        winter: winter_problem(
            given, replace(given.farm, season=replace(given.farm.season, winter=winter))
        )
        for winter in {**chances, Winter.NORMAL: 1.0}
    }
    say("Planning the autumn for all winters")
    scenarios = [Scenario(problems[winter], chance) for winter, chance in chances.items()]
    autumn = two_stages(scenarios, given.split, say)
    say("Planning the autumn for a normal winter alone")
    alone = two_stages([Scenario(problems[Winter.NORMAL], 1.0)], given.split, say)
    found = []
    for winter, chance in chances.items():
        say(f"Planning a {winter.value} winter")
        found.append(_winter(given, winter, chance, (autumn, alone), say))
    return _together(farm, given, autumn, tuple(found), problems[Winter.NORMAL])


def _winter(
    given: Given,
    winter: Winter,
    chance: float,
    plans: tuple[FirstStage, FirstStage],
    say: Callable[[str], None],
) -> WinterProgram:
    autumn, alone = plans
    started = time.perf_counter()
    farm = with_stock(given, winter, autumn)
    problem = winter_problem(given, farm)
    found = later(problem, given.split, autumn, say)
    program = explain(
        farm,
        problem,
        found.model,
        found.optimum,
        found.optimum.x,
        found.prices,
        time.perf_counter() - started,
    )
    other = _normal_only(given, winter, alone, say)
    return WinterProgram(
        winter=winter,
        chance_pct=100.0 * chance,
        cost_usd=program.cost + sunk_usd(given, autumn),
        penalty_usd=program.penalty + found.cash_penalty_usd,
        normal_only_usd=None if other is None else other[0],
        normal_only_penalty_usd=None if other is None else other[1],
        cash_short_usd=found.cash_short_usd,
        bought_later=_bought_later(program),
        hay_after_kg_dm=_hay_after(program, given.split.early),
        hay_left_kg_dm=1000.0 * sum(lot.left_t for lot in program.lots),
        program=program,
        farm=farm,
    )


def _normal_only(
    given: Given, winter: Winter, alone: FirstStage, say: Callable[[str], None]
) -> tuple[float, float] | None:
    """Return cost and penalty of a winter met by one who planned for the normal one alone."""
    farm = with_stock(given, winter, alone)
    problem = winter_problem(given, farm)
    try:
        found = later(problem, given.split, alone, say)
    except SolveError:
        return None
    first, x = found.model.columns.first_shortage, found.optimum.x
    money = float(found.model.cost[:first] @ x[:first]) + problem.fixed_usd
    penalty = float(found.model.cost[first:] @ x[first:])
    return money + sunk_usd(given, alone), penalty + found.cash_penalty_usd


def _bought_later(program: SeasonProgram) -> tuple[Bought, ...]:
    return tuple(
        Bought(one.feed_id, one.name, one.as_fed_kg, one.cost_usd)
        for one in program.purchases
        if one.feed_id.endswith(LATER_ID) and one.as_fed_kg > NOTHING_KG
    )


def _hay_after(program: SeasonProgram, early: int) -> float:
    """Return the hay in the yard, and bought in autumn, that is fed later. [kg DM]."""
    dry = {one.source_id: one.dm_pct / 100.0 for one in program.sources if one.is_hay}
    return sum(
        row.offered_kg * dry[row.source_id]
        for row in program.feeding
        if row.period >= early and row.source_id in dry and not row.source_id.endswith(LATER_ID)
    )


def _together(
    farm: Farm,
    given: Given,
    autumn: FirstStage,
    winters: tuple[WinterProgram, ...],
    normal: Problem,
) -> WinterPrograms:
    usual = next((one for one in winters if one.winter is Winter.NORMAL), winters[0])
    hold_back = max(0.0, winters[-1].hay_after_kg_dm - usual.hay_after_kg_dm)
    last = normal.needs.here[:, -1]
    weight = (normal.needs.head * normal.needs.full_weight_kg)[last, -1].sum()
    a_day = RESERVE_PCT_BW / 100.0 * float(weight)
    others = [
        None
        if one.normal_only_usd is None
        else one.chance_pct / 100.0 * (one.normal_only_usd + (one.normal_only_penalty_usd or 0.0))
        for one in winters
    ]
    return WinterPrograms(
        farm=farm,
        known_on=given.known_on,
        known_on_stated=farm.season.winter_known_on is not None,
        expected_usd=sum(one.chance_pct / 100.0 * one.cost_usd for one in winters),
        expected_penalty_usd=sum(one.chance_pct / 100.0 * one.penalty_usd for one in winters),
        bound_usd=autumn.bound,
        normal_only_usd=None if None in others else sum(one for one in others if one is not None),
        autumn=_bought_in_autumn(given, autumn),
        hold_back_kg_dm=hold_back,
        reserve_days=hold_back / a_day if is_some(a_day) else 0.0,
        winters=winters,
        assumptions=_assumptions(farm, winters),
    )


def _bought_in_autumn(given: Given, autumn: FirstStage) -> tuple[Bought, ...]:
    lots = len(given.farm.lots)
    found = []
    for i, kg_dm in zip(given.split.autumn.tolist(), autumn.bought_kg_dm.tolist(), strict=True):
        feed, as_fed = given.farm.feeds[i - lots], kg_dm / float(given.dm_frac[i])
        if as_fed > NOTHING_KG:
            found.append(Bought(feed.feed_id, feed.name, as_fed, as_fed * feed.price_usd_per_kg))
    return tuple(found)


def _assumptions(farm: Farm, winters: tuple[WinterProgram, ...]) -> tuple[Assumption, ...]:
    season = farm.season
    said = [
        "What is fed before the winter is known is the same in every winter, and enough for "
        "the hardest of them that can be met.",
        "Feed bought in autumn keeps without loss until it is fed, and what is left of it keeps "
        f"{min(season.carry_over_value_pct, 100.0):g}% of its price.",
        "Hays may be mixed at will here: rules on how many are fed at once, on runs and on the "
        "price of a change are for the program of the winter that comes.",
    ]
    told = [
        one
        for winter in winters
        for one in winter.program.assumptions
        if "winter is" in one.sentence
    ]
    return (*(Assumption(one, SOURCE) for one in said), *dict.fromkeys(told))
