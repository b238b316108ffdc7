"""From the weekly relaxation to a program of rations: the way in to this room."""

from __future__ import annotations

from collections.abc import Callable
from contextlib import suppress
from dataclasses import dataclass, replace
from typing import Final

import numpy as np

from rickyard.farm import Farm
from rickyard.program.model import (
    FILLED,
    KG_PER_ROW_UNIT,
    LotUse,
    Model,
    Prices,
    RisingModel,
    prices_of,
    uses_of,
    with_hay_for_rises,
)
from rickyard.program.problem import Problem, UseRules, set_aside_kg_dm
from rickyard.program.rations.held import HeldRations, Limits, Program
from rickyard.program.rations.offered import with_free_choice
from rickyard.program.rations.practical import NOTHING_SHORT_USD, Measured, practical, steps_of
from rickyard.program.rations.pricing import (
    PRICINGS_BEGUN,
    Apart,
    PricedCuts,
    RationBound,
    bounds_apart,
    priced_cuts,
)
from rickyard.program.rations.search import RationSearch
from rickyard.program.result import NEEDS_OF_HAY, PlanOptions
from rickyard.program.runs import (
    LEAST_DAYS,
    LEAST_DAYS_OF_MANY,
    SpanRules,
    Spans,
    cut_finely,
    lots_soon_gone,
    span_rules,
    steady_needs,
    usual_rations,
)
from rickyard.program.search import Relaxation
from rickyard.program.solver import Meter, Optimum, SolveError, placed
from rickyard.quantities import is_some
from rickyard.types import BoolArray, FloatArray, IntArray

#: Things in a ration beside mineral.
THINGS: Final = 4

#: The share of the money and of the reserve that is kept free until amounts are rounded.
MARGIN: Final = 0.005

#: Rounds in which concentrate and the forage that it puts aside come to agree: with anything in
#: use, and with few things.
FREE_ROUNDS: Final = 3
FILL_ROUNDS: Final = 8

#: So often those who are short at the rates that come of it are given other things.
MENDINGS: Final = 2

#: So often amounts are rounded anew while a ration is further than this from filling them, and
#: as near the rates at which concentrate puts forage aside need be before. Of what fills them as
#: nearly as the second look asks, with a little to spare, the cheapest is taken. [-]
ROUNDINGS: Final = 5
NEAR_FILLED: Final = 0.04
WELL_FILLED: Final = 0.048
RATES_AGREE: Final = 0.03

#: Amounts that come no nearer than to this share of how far they were do not come to rest; nor do
#: those that have not in so many roundings. [-]
COMES_NEARER: Final = 0.9
IN_ROUNDINGS: Final = 3

#: Rations further than this from their bound are looked for in one more way, or in two. [-]
FAR: Final = 0.01
VERY_FAR: Final = 0.04

#: A share of appetite is met to this. [-]
NOTHING: Final = 1e-6

#: Nothing under this is fed of a feed, percent of live weight. Common practice.
LEAST_FEED_PCT_BW: Final = 0.05


@dataclass(frozen=True, slots=True)
class RationsFound:
    """A program of rations with what it takes to explain it.

    ``model`` is the weekly program with the needs of the rations, ``optimum`` the least cost with
    these things in use, with its prices and the proven bound of any rations, and ``x`` the program
    itself, in amounts that can be measured. ``least`` is a proven least cost of rations in which
    concentrate puts forage aside as in the weekly program. ``apart`` is what is proven of what is
    short and of the money, each for itself, where something is short.
    """

    model: Model
    optimum: Optimum
    x: FloatArray
    prices: Prices
    spans: Spans
    least: float
    apart: Apart | None = None


def plan_rations(
    farm: Farm,
    problem: Problem,
    relaxation: Relaxation,
    rules: UseRules,
    options: PlanOptions,
    say: Callable[[str], None],
    raised: Problem,
) -> RationsFound:
    """Return a program of rations.

    Parameters
    ----------
    farm : Farm
        Its feeders and settings are read.
    problem : Problem
        The season as plain arrays.
    relaxation : Relaxation
        The weekly program without whole numbers; its session is left changed.
    rules : UseRules
        The rules about hays in use.
    options : PlanOptions
        How much to search.
    say : callable
        Told of each step.
    raised : Problem
        The same season with its rules of what is raised by degrees, for the hay that they take.

    Returns
    -------
    RationsFound
        The program with what it takes to explain it.

    Raises
    ------
    SolveError
        If the solver fails.
    """
    plain = relaxation.model
    cuts = _cuts(farm, problem, rules)
    measured = Measured(steps_of(farm, problem))
    limits = _limits(farm, problem, rules, measured, _hungry(relaxation))
    uses = uses_of(plain, rules)
    say("Looking for the days on which rations change")
    weekly = with_hay_for_rises(plain, raised)
    first, now, enough, near = _first_cuts(farm, relaxation, weekly, uses, limits, cuts, raised)
    soon_gone = lots_soon_gone(problem, _hays(farm, rules))
    begin = [cut_finely(cuts, one, soon_gone) for one in (now.spans, now.simple, first.spans)]

    # Where something is raised, rations are searched twice, each time with half of the effort.
    twice = bool(raised.steps or raised.begins)
    each = replace(options, effort=options.effort / 2.0) if twice else options

    def search(model: Model) -> RationSearch:
        return RationSearch(model, uses, limits, cuts, each, say)

    program, held = search(enough).run(*begin, near=near)

    def full(program: Program, held: HeldRations) -> tuple[Program, HeldRations]:
        return _full(farm, program, held, search)

    program, held = full(program, held)
    told = replace(weekly, problem=held.weekly.problem)
    if twice:
        program, held = _with_set_aside(plain, raised, program, held, search)
        for far, dear in ((FAR, False), (VERY_FAR, True)):
            if program.cost - now.bound > far * abs(program.cost):
                program, held = _of_less_kept(
                    plain, raised, program, held, search(told), full, dear
                )
    program, held = full(program, held)
    told = replace(weekly, problem=held.weekly.problem)
    least = HeldRations(told, uses, limits, now.spans, Meter(), program.x)
    of = RationBound(relaxation, told, limits, cuts)
    bound = now.bound if problem.fill is None else of.by(least)
    say("Rounding to what can be measured")
    found = _finished(farm, held, program, measured, bound)
    short = held.short_usd(found.x)
    if short <= NOTHING_SHORT_USD:
        return replace(found, least=first.bound)
    apart = bounds_apart(of, least, short, bound)
    return replace(found, least=first.bound, apart=apart)


def _first_cuts(
    farm: Farm,
    relaxation: Relaxation,
    weekly: Model,
    uses: LotUse,
    limits: Limits,
    cuts: SpanRules,
    raised: Problem,
) -> tuple[PricedCuts, PricedCuts, Model, FloatArray]:
    """Cut the season by prices, where stock have free access once more at settled rates.

    Returns
    -------
    tuple of (PricedCuts, PricedCuts, Model, array)
        The cuts at the first rates and at settled ones, the weekly program with all the hay that
        rises may take, at those, and amounts to begin with.
    """
    enough = with_hay_for_rises(relaxation.model, raised, in_full=True)
    if weekly.problem.fill is None:
        first = priced_cuts(relaxation, weekly, uses, limits, cuts, Meter())
        return first, first, enough, first.x
    first = priced_cuts(relaxation, weekly, uses, limits, cuts, Meter(), pricings=PRICINGS_BEGUN)
    enough, near = _rates_settled(farm, enough, uses, limits, first)
    weekly, begun = replace(weekly, problem=enough.problem), replace(first, x=near)
    now = priced_cuts(relaxation, weekly, uses, limits, cuts, Meter(), begun=begun)
    return first, now, enough, near


def _cuts(farm: Farm, problem: Problem, rules: UseRules) -> SpanRules:
    """Return how weeks may be cut, as the group or the farm says or else as is usual."""
    season, usual = farm.season, usual_rations(problem)
    run = rules.least_run * _period_days(problem)
    soon_gone = lots_soon_gone(problem, _hays(farm, rules))
    most, least = [], []
    for group, many in zip(farm.groups, soon_gone.tolist(), strict=True):
        own = group.rations_at_most or season.rations_at_most
        most.append(own or usual * (2 if many else 1))
        days = group.least_ration_days or season.least_ration_days
        shortest = LEAST_DAYS_OF_MANY if many and not own else LEAST_DAYS
        least.append(max(days or shortest, run))
    return span_rules(problem, tuple(most), tuple(least), tuple(soon_gone.tolist()))


def _hays(farm: Farm, rules: UseRules) -> IntArray:
    """Return how many hays a ration of each group may hold."""
    return np.minimum(rules.hays_at_once, _things(farm))


def _things(farm: Farm) -> list[int]:
    """Return how many things beside mineral a ration of each group may hold."""
    usual = farm.season.things_in_ration or THINGS
    return [one.things_in_ration or usual for one in farm.groups]


def _rates_settled(
    farm: Farm, weekly: Model, uses: LotUse, limits: Limits, first: PricedCuts
) -> tuple[Model, FloatArray]:
    """Read what concentrate puts aside at the amounts of rations with anything in use."""
    x = first.x
    if weekly.problem.fill is None:
        return weekly, x
    for _ in range(FREE_ROUNDS):
        filled = with_free_choice(farm, weekly.problem, weekly.eaten(x))
        weekly = replace(weekly, problem=_half_way(weekly.problem, filled))
        held = HeldRations(weekly, uses, limits, first.spans, Meter(), x)
        free = np.ones(len(held.at), dtype=bool)
        held.hold(~free, free)
        x = held.settled(moving=8, rough=True).x
    return weekly, x


def _full(
    farm: Farm,
    program: Program,
    held: HeldRations,
    search: Callable[[Model], RationSearch],
) -> tuple[Program, HeldRations]:
    """Settle what concentrate puts aside; who is short for it is given other things.

    Things that were chosen while a kilogram of grain put half as much forage aside may not feed
    them when it puts aside what it does at the amounts that they then get.
    """
    short = held.short_usd(program.x)
    for _ in range(MENDINGS):
        program, held = _filled(farm, program, held)
        if held.short_usd(program.x) <= short + NOTHING_SHORT_USD:
            break
        program, held = search(held.weekly).mended(program)
    return program, held


def _filled(farm: Farm, program: Program, held: HeldRations) -> tuple[Program, HeldRations]:
    """Settle what concentrate puts aside of forage at the amounts of the program."""
    weekly = held.weekly
    if weekly.problem.fill is None:
        return program, held
    for _ in range(FILL_ROUNDS):
        eaten = weekly.eaten(program.x)
        filled = with_free_choice(farm, weekly.problem, eaten)
        if _off(held, filled, eaten) <= RATES_AGREE:
            break
        weekly = replace(weekly, problem=_half_way(weekly.problem, filled))
        held = HeldRations(
            weekly, held.uses, held.limits, program.spans, held.session.meter, program.x
        )
        program = held.program(held.used_of(program.used) & held.counts, program.loads)
    return program, held


def _with_set_aside(
    plain: Model,
    raised: Problem,
    program: Program,
    held: HeldRations,
    search: Callable[[Model], RationSearch],
) -> tuple[Program, HeldRations]:
    """Keep the hay of the days on which feeds are raised out of what there is to feed.

    Where somebody would then be shorter than with what the rows of rises ask for, they ask for as
    much more, and things are searched anew. Where that does not help, what is left is kept: who is
    short may as well be on those days.
    """
    plain = replace(plain, problem=held.weekly.problem)
    exact = set_aside_kg_dm(raised, plain.eaten(program.x))
    found = _with_kept(plain, exact, program, held)
    if found is not None:
        return found
    rising = held.weekly
    if isinstance(rising, RisingModel):
        exact = np.maximum(0.0, exact - rising.set_aside_kg(program.x))
    program, held = search(_keeping(rising, exact)).run_from(program)
    exact = set_aside_kg_dm(raised, plain.eaten(program.x))
    for kept in (exact, np.minimum(exact, _left_kg(plain, program.x)), np.zeros_like(exact)):
        found = _with_kept(plain, kept, program, held)
        if found is not None:
            return found
    raise SolveError("Rations cannot be fed as they were found to be.")


def _of_less_kept(
    plain: Model,
    raised: Problem,
    program: Program,
    held: HeldRations,
    search: RationSearch,
    full: Callable[[Program, HeldRations], tuple[Program, HeldRations]],
    dear: bool,
) -> tuple[Program, HeldRations]:
    """Look for rations with the least hay that rises take; return them if they are cheaper.

    Rows that count rises in full keep from what is scarce more than those days may need.
    """
    with suppress(SolveError):
        other = search.anew(program, dear=dear)
        plain = replace(plain, problem=held.weekly.problem)
        model = _keeping(plain, set_aside_kg_dm(raised, plain.eaten(other.x)))
        x = other.x[: plain.columns.count]
        now = HeldRations(model, held.uses, held.limits, other.spans, held.session.meter, x)
        other, now = full(now.program(now.used_of(other.used) & now.counts), now)
        if other.cost < program.cost:
            return other, now
    return program, held


def _with_kept(
    plain: Model, kg_dm: FloatArray, program: Program, held: HeldRations
) -> tuple[Program, HeldRations] | None:
    """Return a program with some hay left where it is; nothing if somebody is shorter for it."""
    model, x = _keeping(plain, kg_dm), program.x[: plain.columns.count]
    now = HeldRations(model, held.uses, held.limits, program.spans, held.session.meter, x)
    with suppress(SolveError):
        other = now.program(now.used_of(program.used) & now.counts)
        if now.short_usd(other.x) <= held.short_usd(program.x) + NOTHING_SHORT_USD:
            return other, now
    return None


def _left_kg(weekly: Model, x: FloatArray) -> FloatArray:
    """Return what a program leaves of each source, endless where there is no end. [kg DM]."""
    x = x[: weekly.columns.count]
    rows, of_source = weekly.rows, np.concatenate([weekly.stock_row, weekly.buy_row])
    taken = np.bincount(rows.row, rows.value * x[rows.column], minlength=len(rows.lower))
    left = np.full(len(of_source), np.inf)
    there = placed(of_source)
    at = of_source[there]
    left[there] = np.maximum(0.0, rows.upper[at] - taken[at]) * KG_PER_ROW_UNIT
    return left


def _keeping(weekly: Model, kg_dm: FloatArray) -> Model:
    """Return the weekly model with so much of each source left where it is."""
    upper = weekly.rows.upper.copy()
    of_source = np.concatenate([weekly.stock_row, weekly.buy_row])
    there = placed(of_source) & is_some(kg_dm)
    upper[of_source[there]] -= kg_dm[there] / KG_PER_ROW_UNIT
    stock = weekly.stock_row[placed(weekly.stock_row)]
    upper[stock] = np.maximum(0.0, upper[stock])
    return replace(weekly, rows=replace(weekly.rows, upper=upper))


def _finished(
    farm: Farm, held: HeldRations, program: Program, measured: Measured, bound: float
) -> RationsFound:
    rounded, held = _rounded(farm, held, program, measured)
    optimum = held.at_prices(rounded)
    prices = prices_of(held.model, held.session, held.tangents, optimum)
    optimum = replace(optimum, objective=rounded.cost, bound=min(bound, rounded.cost))
    model, told = held.model, held.weekly.problem.fill
    if told is not None:
        # What is told is what fills them at the very amounts.
        filled = with_free_choice(farm, held.weekly.problem, held.model.eaten(rounded.x))
        model = replace(model, problem=_steady(held, filled))
    return RationsFound(model, optimum, rounded.x, prices, program.spans, bound)


def _rounded(
    farm: Farm, held: HeldRations, program: Program, measured: Measured
) -> tuple[Program, HeldRations]:
    """Round to what can be measured, until stock with free access are filled by what is rounded."""
    best: tuple[tuple[float, float], Program, HeldRations] | None = None
    before = np.inf
    for number in range(1, ROUNDINGS + 1):
        rounded = practical(held, program, measured) or program
        eaten = held.model.eaten(rounded.x)
        problem = with_free_choice(farm, held.weekly.problem, eaten)
        far = _how_far(held, problem, eaten)
        off = float(far.max(initial=0.0))
        # What fills them well enough is the better the cheaper it is.
        worth = max(off, WELL_FILLED), rounded.cost
        if best is None or worth < best[0]:
            best = (worth, rounded, held)
        if off <= NEAR_FILLED:
            break
        model = replace(held.weekly, problem=_half_way(held.weekly.problem, problem))
        held = HeldRations(
            model, held.uses, held.limits, program.spans, held.session.meter, rounded.x
        )
        if off > COMES_NEARER * before or number >= IN_ROUNDINGS:
            # Amounts that chase the rates at which they put forage aside come to rest so.
            restless = _puts_aside(held) & (far > NEAR_FILLED)[held.group, held.week]
            held.session.fix(held.at[restless], rounded.x)
        before = off
    assert best is not None
    return best[1], best[2]


def _puts_aside(held: HeldRations) -> BoolArray:
    """Return which tied amounts are of what puts forage aside."""
    forage = np.array([value.is_forage for value in held.model.problem.sources.values])
    return np.asarray(held.counts & ~forage[held.source])


def _half_way(before: Problem, after: Problem) -> Problem:
    """Return a season whose rates lie between two others, so that they come to rest."""
    if before.fill is None or after.fill is None:
        return after
    mean = (before.fill.per_kg + after.fill.per_kg) / 2.0
    return replace(after, fill=replace(after.fill, per_kg=mean))


def _off(held: HeldRations, problem: Problem, eaten: FloatArray) -> float:
    """Return how far a ration is from filling stock with free access, at most. [-]."""
    return float(_how_far(held, problem, eaten).max(initial=0.0))


def _how_far(held: HeldRations, problem: Problem, eaten: FloatArray) -> FloatArray:
    """Return how far rations are from filling stock with free access, by group and week. [-].

    Who is short of feed is not filled and need not be.
    """
    planned, steady = held.model.problem.fill, _steady(held, problem).fill
    if planned is None or steady is None:
        return np.zeros((len(held.spans.starts), problem.shape[2]))
    shares = steady.shares(eaten)
    enough = planned.shares(eaten) >= FILLED[0] - NOTHING
    off = np.where(enough, np.abs(shares - 1.0), np.maximum(0.0, shares - 1.0))
    return np.where(steady.free, off, 0.0)


def _steady(held: HeldRations, problem: Problem) -> Problem:
    return steady_needs(problem, held.spans, held.limits.leeway)


def _hungry(relaxation: Relaxation) -> BoolArray:
    """Return which groups lack what hay gives in any program."""
    model, x = relaxation.model, relaxation.optimum.x
    groups, _, periods = model.problem.shape
    short = np.zeros(groups)
    for name in sorted(NEEDS_OF_HAY & model.columns.shortage.keys()):
        column = model.columns.shortage[name]
        cell = np.flatnonzero(placed(column))
        np.add.at(short, cell // periods, model.cost[column[cell]] * x[column[cell]])
    return np.asarray(short > NOTHING_SHORT_USD)


def _limits(
    farm: Farm, problem: Problem, rules: UseRules, measured: Measured, hungry: BoolArray
) -> Limits:
    weight = problem.needs.full_weight_kg.max(axis=1, initial=0.0)
    feed = LEAST_FEED_PCT_BW / 100.0 * weight
    # A little hay every day is better than a least serving in some months and none in others.
    hay = np.where(hungry, feed, rules.least_kg.max(axis=1, initial=0.0))
    least = np.where(problem.sources.is_hay[None], hay[:, None], feed[:, None])
    season = farm.season
    lack = [
        season.week_may_lack_pct if one.week_may_lack_pct is None else one.week_may_lack_pct
        for one in farm.groups
    ]
    return Limits(
        leeway=np.array(lack) / 100.0,
        things=np.array(_things(farm)),
        hays=rules.hays_at_once,
        least_kg=measured.least(least),
        change_usd=rules.change_usd,
        counts=~problem.sources.is_mineral,
        is_hay=problem.sources.is_hay,
        margin=MARGIN,
    )


def _period_days(problem: Problem) -> int:
    return max((period.days for period in problem.needs.periods), default=7)
