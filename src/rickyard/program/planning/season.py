"""From a farm to its season program: problem, model, solve, explain, in that order."""

from __future__ import annotations

import time
from collections.abc import Callable
from contextlib import suppress
from dataclasses import dataclass, replace
from typing import Final

from rickyard.farm import Assumption, Farm
from rickyard.program import result
from rickyard.program.ask import (
    WishCost,
    lacking_hay,
    missed_usd,
    short_of_hay,
    with_outcomes,
)
from rickyard.program.days import weighed_out
from rickyard.program.explain import cost_usd, eaten_of, explain
from rickyard.program.inputs import assumed
from rickyard.program.model import Model, Prices, prices_of, spread_where_short, uses_of
from rickyard.program.problem import (
    Problem,
    UseRules,
    Wished,
    farm_from,
    problem_of,
    use_rules_of,
    wishes_of,
    with_notes,
    with_wishes,
)
from rickyard.program.rations import (
    Apart,
    many_rations,
    plan_rations,
    rations_told,
    with_free_choice,
)
from rickyard.program.runs import Spans
from rickyard.program.search import (
    Relaxation,
    Search,
    can_be_simplified,
    held,
    loads_of,
    relax,
    simplify,
)
from rickyard.program.solver import Optimum, SolveError, placed
from rickyard.quantities import is_some
from rickyard.types import FloatArray

#: What is short is proven when the season without whole numbers lacks at least this share of it:
#: the rest comes from whole weeks and whole loads, which no search does away with. Judgement, no
#: published source.
PROVEN_SHARE: Final = 0.5


def with_proof(
    program: result.SeasonProgram, model: Model, x: FloatArray, relaxed: FloatArray
) -> result.SeasonProgram:
    """Return a program that says of each shortage whether it is proven.

    ``relaxed``: the season without whole numbers.

    Needs that hay meets are judged together and for the whole farm, because hay that one group
    does without can be fed to another. Minerals and what there is too much of follow from the
    hay where that is short, and are judged by themselves elsewhere.
    """
    if not program.shortages:
        return program

    def usd(names: frozenset[str], at: FloatArray) -> float:
        columns = model.columns
        found = 0.0
        for name in sorted(names):
            index = columns.shortage.get(name)
            if index is not None:
                there = index[placed(index)]
                found += float(model.cost[there] @ at[there])
            if name in columns.farm_short:
                found += float(model.cost[columns.farm_short[name]] * at[columns.farm_short[name]])
        return found

    def is_proven(names: frozenset[str]) -> bool:
        return usd(names, relaxed) >= PROVEN_SHARE * usd(names, x)

    of_hay = is_proven(result.NEEDS_OF_HAY)
    hay_is_short = any(one.nutrient in result.NEEDS_OF_HAY for one in program.shortages)

    def proven(one: result.Shortage) -> bool:
        if one.nutrient in result.NEEDS_OF_HAY:
            return of_hay
        own = is_proven(frozenset((one.nutrient,)))
        return own or (bool(one.group_id) and hay_is_short and of_hay)

    return replace(
        program,
        shortages=tuple(replace(one, proven=proven(one)) for one in program.shortages),
    )


def with_distances(
    program: result.SeasonProgram, fixed_usd: float, apart: Apart | None
) -> result.SeasonProgram:
    """Return a program that says how far it is from the least short, and from the least money.

    ``fixed_usd``: what no decision changes. ``apart``: what is proven, where something is short.
    """
    if apart is None or not is_some(program.penalty):
        return program
    money = program.cost - (apart.money_usd + fixed_usd)
    return replace(
        program,
        short_gap=max(0.0, program.penalty - apart.short_usd) / program.penalty,
        money_gap=max(0.0, money) / max(abs(program.cost), 1.0),
    )


#: No more wishes than this are priced by planning without each: every one is a search of its own.
MOST_PLANNED_WITHOUT: Final = 3


@dataclass(frozen=True, slots=True)
class Solved:
    """An optimum of the season with everything needed to explain it.

    ``x`` is the program itself: the optimum, or a simpler point within the budget for that;
    ``relaxed`` is the season without whole numbers.
    ``rounds`` is how often the linear program was solved; ``spans`` are the cuts of a program of
    rations. ``dearer_usd`` is what steadiness and free choice cost in rations at least, and
    ``apart`` what is proven of what they are short of and of their money, each for itself.
    """

    model: Model
    optimum: Optimum
    x: FloatArray
    relaxed: FloatArray
    prices: Prices
    rounds: int
    seconds: float
    spans: Spans | None = None
    dearer_usd: tuple[float, float] | None = None
    apart: Apart | None = None


def plan_season(
    farm: Farm,
    progress: Callable[[str], None] | None = None,
    *,
    options: result.PlanOptions = result.PlanOptions(),  # noqa: B008 - frozen, so one will do for all
) -> result.SeasonProgram:
    """Return the least-cost season program of a farm.

    The least cost without whole numbers is the optimum of a linear program whose growth rows are
    exact and whose appetite rows are tangents at that optimum's own diets; ``bound`` is proven
    for the season so written down. Where the farm has rules about hays in use, or feed comes in
    loads, the program is the best that the search found, and its distance from ``bound`` is told.

    Raises ``SolveError`` if the solver fails, or the curved rows do not settle. Raises
    ``OutOfRange`` if the day to plan from is not in the season.

    Parameters
    ----------
    farm : Farm
        A farm as the folder reader gives it.
    progress : callable, optional
        Called with a short sentence as the work goes on.
    options : PlanOptions
        How to make the program, and what a person wishes of it.

    Returns
    -------
    SeasonProgram
        Always a program: what cannot be supplied is named as a shortage.
    """
    say = progress or _silent
    started = time.perf_counter()
    say("Working out what each group needs")
    mid = farm_from(farm, options.from_on)
    farm = mid.farm
    free = problem_of(farm)
    wished = with_wishes(farm, free, (*options.wishes, *wishes_of(farm, free)))
    problem = wished.problem
    rules = use_rules_of(farm, problem)
    problem, solved = _solved(farm, problem, say, rules, options)
    say("Putting the reasons into words")
    program = explain(
        farm,
        problem,
        solved.model,
        solved.optimum,
        solved.x,
        solved.prices,
        time.perf_counter() - started,
    )
    if solved.spans is not None:
        eaten = eaten_of(solved.model, solved.x)
        weighed = {one.group_id: weighed_out(program, one) for one in farm.groups}
        rations = rations_told(farm, solved.model.problem, solved.spans, eaten, weighed)
        said = (*program.assumptions, *many_rations(farm, problem, rations))
        program = replace(program, rations=rations, assumptions=said)
    elif not options.weekly:
        said = (*program.assumptions, assumed("no_rations"))
        program = replace(program, assumptions=said)
    if solved.dearer_usd is not None and not is_some(program.penalty):
        steady, free_choice = solved.dearer_usd
        program = replace(program, steadiness_usd=steady, free_choice_usd=free_choice)
    program = with_distances(program, problem.fixed_usd, solved.apart)
    program = with_proof(program, solved.model, solved.x, solved.relaxed)
    if is_some(farm.season.simpler_for_pct) and not can_be_simplified(solved.model):
        said = (*program.assumptions, assumed("not_simpler"))
        program = replace(program, assumptions=said)
    if program.shortages and (options.stop is None or not options.stop()):
        say("Looking for the hay that is lacking")
        program = replace(program, hay_to_buy=_hay_to_buy(farm, program, options))
    program = replace(program, assumptions=(*program.assumptions, *_by_weeks(program, wished)))
    told = _against_plans(farm, free, wished, (program, solved), options, say)
    program = with_outcomes(
        program, farm, free, wished, told, options.stop, options.effort, options.seconds
    )
    return with_notes(program, mid)


def _solved(
    farm: Farm,
    problem: Problem,
    say: Callable[[str], None],
    rules: UseRules,
    options: result.PlanOptions,
) -> tuple[Problem, Solved]:
    """Solve a season as is asked, in rations or by weeks; return it as it was solved.

    Where wishes leave no ration that is the same every day, amounts may change every week.
    """
    if not options.weekly:
        # A ration is the same on all of its days: what is raised is held back day by day instead.
        steady = replace(problem, steps=(), begins=())
        with suppress(SolveError):
            return steady, solve_rations(farm, steady, say, rules, options, problem)
        say("No rations keep what is asked: looking week by week")
    return problem, solve_season(problem, say, farm.season.simpler_for_pct, rules, options)


def _by_weeks(program: result.SeasonProgram, wished: Wished) -> list[Assumption]:
    """Say which figures beside rations are worked out by weeks."""
    said = []
    if program.rations and program.hay_to_buy is not None:
        said.append(assumed("by_weeks", what="How much hay to buy"))
    if program.rations and wished.claims:
        said.append(assumed("by_weeks", what="What a wish costs at its price"))
    return said


def using(program: result.SeasonProgram) -> tuple[result.HayUse, ...]:
    """Return which hays a program feeds to whom and when, for another search to begin from.

    Parameters
    ----------
    program : SeasonProgram
        A program.

    Returns
    -------
    tuple of HayUse
        Which hays its groups are on, for a search that begins there.
    """
    return tuple(
        result.HayUse(
            row.group_id, row.source_id, row.start, row.days, row.eaten_kg_dm_per_head_day
        )
        for row in program.feeding
    )


def _against_plans(
    farm: Farm,
    free: Problem,
    wished: Wished,
    made: tuple[result.SeasonProgram, Solved],
    options: result.PlanOptions,
    say: Callable[[str], None],
) -> list[WishCost]:
    """Return what the first wishes cost against the program planned without each of them."""
    found: list[WishCost] = []
    program, solved = made
    mine = program.cost, missed_usd(solved.model, solved.x)
    wishes = [claim.wish for claim in wished.claims]
    for at in range(min(options.planned_without, MOST_PLANNED_WITHOUT, len(wishes))):
        if options.stop is not None and options.stop():
            break
        say("Planning without a wish, for its price")
        others = [wish for other, wish in enumerate(wishes) if other != at]
        problem = with_wishes(farm, free, others).problem
        begun = replace(options, begin_from=using(program))
        rules = use_rules_of(farm, problem)
        problem, without = _solved(farm, problem, _silent, rules, begun)
        other_usd = cost_usd(farm, problem, without.model, without.x)
        short = mine[1] - missed_usd(without.model, without.x)
        found.append(WishCost(mine[0] - other_usd, short, by_planning=True))
    return found


def _hay_to_buy(
    farm: Farm, program: result.SeasonProgram, options: result.PlanOptions
) -> result.HayToBuy | None:
    """Return the hay to buy, each amount checked by planning with it."""

    def wished(other: Farm) -> Problem:
        free = problem_of(other)
        return with_wishes(other, free, (*options.wishes, *wishes_of(other, free))).problem

    def short_usd(other: Farm) -> float:
        problem = wished(other)
        quick = replace(options, effort=0.0)
        rules = use_rules_of(other, problem)
        solved = solve_season(problem, _silent, 0.0, rules, quick, evenly=False)
        short = short_of_hay(problem, solved.model.columns.shortage)
        return float(solved.model.cost[short] @ solved.x[short])

    return lacking_hay(farm, program, wished, short_usd)


def solve_season(
    problem: Problem,
    say: Callable[[str], None],
    simpler_for_pct: float = 0.0,
    rules: UseRules | None = None,
    options: result.PlanOptions = result.PlanOptions(),  # noqa: B008 - frozen, so one will do for all
    *,
    evenly: bool = True,
) -> Solved:
    """Solve a season problem: to optimality, or as well as the effort allows under whole numbers.

    ``problem``: the season as plain arrays. ``say``: told of each round. ``simpler_for_pct``: how
    much dearer than the cheapest the program may be to be simpler. ``rules``: the rules about hays
    in use; without them hays are mixed and loads split at will. ``options``: how much to search
    where whole numbers are asked for. ``evenly``: whether what is short counts more the deeper it
    goes. Raises ``SolveError`` if the solver fails, or the curved rows do not settle.
    """
    started = time.perf_counter()
    rough = rules is not None and rules.any
    relaxation = relax(problem, say, rough=rough)
    if evenly and (even := _spread(relaxation)).spread:
        problem, relaxation = even, relax(even, say, rough=rough)
    model, optimum, bound = relaxation.model, relaxation.optimum, relaxation.optimum.bound
    something_to_feed = bool(len(model.columns.group))
    if rules is not None and something_to_feed and (rules.any or len(loads_of(model))):
        uses = uses_of(model, rules)
        found = Search(relaxation, uses, options, say, problem.fixed_usd).run()
        optimum, bound = found.optimum, found.bound
        model = held(model, uses, found.choice)
    prices = prices_of(model, relaxation.session, relaxation.tangents, optimum)
    x = optimum.x
    if is_some(simpler_for_pct) and can_be_simplified(model):
        say("Making it simpler to follow")
        money = problem.fixed_usd + _money(model, x)
        budget = simpler_for_pct / 100.0 * money
        x = simplify(model, relaxation.session, relaxation.tangents, optimum, budget)
    optimum = replace(optimum, bound=bound)
    seconds = time.perf_counter() - started
    relaxed = relaxation.optimum.x
    return Solved(model, optimum, x, relaxed, prices, relaxation.rounds, seconds)


def solve_rations(
    farm: Farm,
    problem: Problem,
    say: Callable[[str], None],
    rules: UseRules,
    options: result.PlanOptions,
    raised: Problem,
) -> Solved:
    """Solve a season in rations, as well as the effort allows.

    ``farm``: its feeders and settings are read. ``problem``, ``say``, ``rules``, ``options``: as
    ``solve_season`` takes them. Raises ``SolveError`` if the solver fails, or the curved rows do
    not settle.
    """
    started = time.perf_counter()
    by_need = relax(problem, _silent, rough=True).optimum.objective
    problem = with_free_choice(farm, problem)
    relaxation = relax(problem, say, rough=True)
    if (even := _spread(relaxation)).spread:
        problem, relaxation = even, relax(even, say, rough=True)
    relaxed, weekly = relaxation.optimum.x, relaxation.optimum.objective
    found = plan_rations(farm, problem, relaxation, rules, options, say, raised)
    dearer = max(0.0, found.least - weekly), max(0.0, weekly - by_need)
    seconds = time.perf_counter() - started
    return Solved(
        found.model,
        found.optimum,
        found.x,
        relaxed,
        found.prices,
        relaxation.rounds,
        seconds,
        found.spans,
        dearer,
        found.apart,
    )


def _spread(relaxation: Relaxation) -> Problem:
    """Return the season of a relaxation, its shortages spread where it has any."""
    model = relaxation.model
    return spread_where_short(model.problem, model.columns.shortage, relaxation.optimum.x)


def _money(model: Model, x: FloatArray) -> float:
    count = model.columns.first_shortage
    return float(model.cost[:count] @ x[:count])


def _silent(_: str) -> None:
    return None
