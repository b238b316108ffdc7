"""What each wish costs: the season solved again without it, as if hays could be mixed at will."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from contextlib import ExitStack
from dataclasses import dataclass, replace
from math import inf
from typing import Final

import numpy as np

from rickyard.farm import Farm
from rickyard.program.ask.allowance import Allowance
from rickyard.program.ask.sensitivity import Inquiry, QuestionTimeout, Sensitivity
from rickyard.program.model import Model
from rickyard.program.problem import Problem, Wished, with_wishes
from rickyard.program.result import USUAL_EFFORT, Wish
from rickyard.program.solver import Meter, placed
from rickyard.quantities import is_some
from rickyard.types import FloatArray

#: More wishes than this are not priced one by one.
MOST_PRICED: Final = 40

#: So much is spent on pricing wishes at most, and as much more as a search was allowed more than
#: usual; the rest is told without a price. [units of work]
PRICING_EFFORT: Final = 3.0


@dataclass(frozen=True, slots=True)
class WishCost:
    """What the season costs more with a wish than without: money, and the price of shortages.

    ``by_planning`` says that a program was planned without it; else hays are mixed at will.
    """

    money: float
    short: float
    by_planning: bool = False


def missed_usd(model: Model, x: FloatArray) -> float:
    """Return the price of what a program leaves short, wishes that cannot be kept left out.

    Parameters
    ----------
    model : Model
        The season's rows and variables.
    x : array
        The program, a value for each variable.

    Returns
    -------
    float
        The price, which no money is paid for. [US dollars]
    """
    first, count = model.columns.first_shortage, model.columns.count
    unkept = model.columns.unkept[placed(model.columns.unkept)]
    return float(model.cost[first:count] @ x[first:count] - model.cost[unkept] @ x[unkept])


def wish_costs(
    farm: Farm,
    free: Problem,
    wished: Wished,
    stop: Callable[[], bool] | None = None,
    effort: float = 0.0,
    seconds: float = inf,
) -> list[WishCost | None]:
    """Return for each wish what the season costs more with it than with the others alone.

    ``free``: its season without wishes. ``wished``: the season with them, and what the rules left
    of each. ``stop``: asked again and again whether to leave the rest without a price. ``effort``:
    how much a search was allowed [units of work]. ``seconds``: how long the pricing may take by the
    clock [s]. Returns ``None`` where it was not worked out. Raises ``SolveError`` if the solver
    fails.
    """
    wishes = [claim.wish for claim in wished.claims]
    found: list[WishCost | None] = [None] * len(wishes)
    if len(wishes) > MOST_PRICED:
        return found
    more = max(0.0, effort - USUAL_EFFORT)
    meter = Meter()
    allowance = Allowance(meter, PRICING_EFFORT + more, PRICING_EFFORT + seconds, stop)
    try:
        problem = _with_every_amount(free, wished.problem)
        inquiry = Inquiry(problem, enough=allowance.spent, meter=meter)
        whole = _cost(inquiry, inquiry.base)
        for at, claim in enumerate(wished.claims):
            if not claim.left.any():
                found[at] = WishCost(0.0, 0.0)
                continue
            others = [wish for other, wish in enumerate(wishes) if other != at]
            without = _without(inquiry, farm, free, others)
            found[at] = WishCost(whole.money - without.money, whole.short - without.short)
    except QuestionTimeout:
        # The wishes are kept all the same; the rest of their prices is told as not worked out.
        pass
    return found


def _with_every_amount(free: Problem, wished: Problem) -> Problem:
    """Return the wished season with a variable for what is kept off too, held at nothing."""
    most = np.where(wished.sources.allowed, wished.sources.most_kg_dm, 0.0)
    sources = replace(wished.sources, allowed=free.sources.allowed, most_kg_dm=most)
    return replace(wished, sources=sources)


def _without(inquiry: Inquiry, farm: Farm, free: Problem, others: Sequence[Wish]) -> WishCost:
    """Solve again with the other wishes alone."""
    other = _with_every_amount(free, with_wishes(farm, free, others).problem)
    columns = inquiry.model.columns
    cells = (columns.group, columns.source, columns.period)
    before = inquiry.problem.wished_kg_dm[cells]
    after = other.wished_kg_dm[cells]
    if np.any(is_some(after) & (after != before)):
        # Another wish takes over with an amount of its own, for which there is no row yet.
        alone = Inquiry(other, enough=inquiry.enough, meter=inquiry.meter)
        return _cost(alone, alone.base)
    upper = other.sources.most_kg_dm[cells]
    moved = np.flatnonzero(upper != inquiry.upper[: len(upper)])
    dropped = columns.unkept[is_some(before) & (after <= 0.0)]
    with ExitStack() as stack:
        if len(dropped):
            cost = inquiry.cost
            cost[dropped] = 0.0
            stack.enter_context(inquiry.costing(cost))
        if len(moved):
            stack.enter_context(inquiry.at_most(moved, upper[moved]))
        return _cost(inquiry, inquiry.ask())


def _cost(inquiry: Inquiry, answer: Sensitivity) -> WishCost:
    """Return money and the price of what is short, wishes that cannot be kept left out."""
    return WishCost(answer.usd, missed_usd(inquiry.model, answer.optimum.x))
