"""From the weekly relaxation to a program of rations: the way in to this room."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, replace
from math import ceil
from typing import Final

import numpy as np

from rickyard.farm import Farm
from rickyard.program.model import Model, Prices, prices_of, uses_of
from rickyard.program.problem import Problem, UseRules
from rickyard.program.rations.held import HeldRations, Limits, Program
from rickyard.program.rations.practical import Measured, practical, steps_of
from rickyard.program.rations.pricing import priced_cuts
from rickyard.program.rations.search import RationSearch
from rickyard.program.rations.spans import Spans, span_rules
from rickyard.program.result import PlanOptions
from rickyard.program.search import Relaxation
from rickyard.program.solver import Meter, Optimum
from rickyard.types import FloatArray

#: One ration a month, unless the farm says otherwise.
DAYS_OF_A_RATION: Final = 30.4

#: The shortest ration, and how far a single week may fall short of energy and protein while the
#: mean of the ration is met. Common practice.
LEAST_DAYS: Final = 21
LEEWAY: Final = 0.03

#: Things in a ration beside mineral.
THINGS: Final = 4

#: The share of the money and of the reserve that is kept free until amounts are rounded.
MARGIN: Final = 0.005

#: Nothing under this is fed of a feed, percent of live weight. Common practice.
LEAST_FEED_PCT_BW: Final = 0.05


@dataclass(frozen=True, slots=True)
class RationsFound:
    """A program of rations with what it takes to explain it.

    ``model`` is the weekly program with the needs of the rations, ``optimum`` the least cost with
    these things in use, with its prices and the proven bound of any rations, and ``x`` the program
    itself, in amounts that can be measured.
    """

    model: Model
    optimum: Optimum
    x: FloatArray
    prices: Prices
    spans: Spans


def plan_rations(
    farm: Farm,
    problem: Problem,
    relaxation: Relaxation,
    rules: UseRules,
    options: PlanOptions,
    say: Callable[[str], None],
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

    Returns
    -------
    RationsFound
        The program with what it takes to explain it.

    Raises
    ------
    SolveError
        If the solver fails.
    """
    weekly = relaxation.model
    most = (max(1, ceil(_days(problem) / DAYS_OF_A_RATION)),) * problem.shape[0]
    cuts = span_rules(problem, most, max(LEAST_DAYS, rules.least_run * _period_days(problem)))
    measured = Measured(steps_of(farm, problem))
    limits = _limits(problem, rules, measured)
    uses = uses_of(weekly, rules)
    say("Looking for the days on which rations change")
    first = priced_cuts(relaxation, uses, limits, cuts, Meter())
    search = RationSearch(weekly, uses, limits, cuts, options, say)
    program, held = search.run(first.spans, first.x)
    say("Rounding to what can be measured")
    return _finished(held, program, measured, first.bound)


def _finished(
    held: HeldRations, program: Program, measured: Measured, bound: float
) -> RationsFound:
    rounded = practical(held, program, measured) or program
    optimum = held.at_prices(rounded)
    prices = prices_of(held.model, held.session, held.tangents, optimum)
    optimum = replace(optimum, objective=rounded.cost, bound=min(bound, rounded.cost))
    return RationsFound(held.model, optimum, rounded.x, prices, program.spans)


def _limits(problem: Problem, rules: UseRules, measured: Measured) -> Limits:
    weight = problem.needs.full_weight_kg.max(axis=1, initial=0.0)
    hay = rules.least_kg.max(axis=1, initial=0.0)
    feed = LEAST_FEED_PCT_BW / 100.0 * weight
    least = np.where(problem.sources.is_hay[None], hay[:, None], feed[:, None])
    return Limits(
        leeway=LEEWAY,
        things=np.full(problem.shape[0], THINGS),
        hays=rules.hays_at_once,
        least_kg=measured.least(least),
        change_usd=rules.change_usd,
        counts=~problem.sources.is_mineral,
        is_hay=problem.sources.is_hay,
        margin=MARGIN,
    )


def _days(problem: Problem) -> int:
    return sum(period.days for period in problem.needs.periods)


def _period_days(problem: Problem) -> int:
    return max((period.days for period in problem.needs.periods), default=7)
