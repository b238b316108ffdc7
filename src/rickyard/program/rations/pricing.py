"""Cuts by prices, and the bound of the season in rations.

The weekly relaxation prices what groups share. At those prices every group is cut as is cheapest
for it, which bounds what rations can cost; rations cut so, with anything in use in any amount,
price it anew, and so on while that helps.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import Final

import numpy as np

from rickyard.program.model import LotUse, Model
from rickyard.program.rations.held import HeldRations, Limits
from rickyard.program.rations.span_costs import Runs, SpanCosts, WeeklyPrices, priced
from rickyard.program.rations.spans import SpanRules, Spans
from rickyard.program.search import Relaxation
from rickyard.program.solver import Meter, Optimum, SparseRows, is_placed
from rickyard.types import FloatArray

#: How often what is shared is priced anew.
PRICINGS: Final = 4

#: A further ration must save at least this much: a helper has to learn it. [USD]
RATION_USD: Final = 10.0

#: The search begins with runs of no more than so many times the mean length of a ration. [-]
LONGEST_BEGUN: Final = 3.0

#: Pricing ends when cuts are this near to their bound, as a share of it.
NEAR_ENOUGH: Final = 1e-3

#: Parts of the price of what is short at which the money of those who are short is bound. [-]
SHORT_PARTS: Final = (0.1, 0.01)


@dataclass(frozen=True, slots=True)
class PricedCuts:
    """Cuts with the weekly amounts of their cheapest rations, few things or many.

    ``bound`` is a proven least cost of the season in rations, without what no decision changes.
    """

    spans: Spans
    x: FloatArray
    bound: float


def priced_cuts(
    relaxation: Relaxation,
    model: Model,
    uses: LotUse,
    limits: Limits,
    rules: SpanRules,
    meter: Meter,
) -> PricedCuts:
    """Cut a season by prices.

    Parameters
    ----------
    relaxation : Relaxation
        The weekly program without whole numbers.
    model : Model
        That program, with the hay that rises take.
    uses : LotUse
        Its hays.
    limits : Limits
        What a ration may hold.
    rules : SpanRules
        How weeks may be cut.
    meter : Meter
        Counts the work.
    """
    rows, optimum = _with_tangents(relaxation, model)
    bound = -np.inf
    least, best = np.inf, None
    prices = priced(model, rows, optimum)
    runs = _runs(model, prices, limits, rules, meter)
    for _ in range(PRICINGS):
        one_bound, spans = _at_prices(prices, runs, rules)
        bound = max(bound, one_bound)
        held = HeldRations(model, uses, limits, spans, meter, relaxation.optimum.x)
        nothing = np.zeros(len(held.at), dtype=bool)
        held.hold(nothing, ~nothing)
        answer = held.settled(moving=8)
        if answer.objective < least:
            least, best = answer.objective, PricedCuts(spans, answer.x, bound)
        if least - bound <= NEAR_ENOUGH * max(1.0, abs(bound)):
            break
        prices = priced(model, rows, _priced_by(answer, model, len(rows.lower)))
    assert best is not None
    return replace(best, bound=bound)


class RationBound:
    """The bound of the season at the prices of rations with anything in use.

    Parameters
    ----------
    relaxation : Relaxation
        The weekly program without whole numbers, for its rows.
    weekly : Model
        The weekly program; what fills stock may be other than in the relaxation.
    limits : Limits
        What a ration may hold.
    rules : SpanRules
        How weeks may be cut.
    """

    def __init__(
        self, relaxation: Relaxation, weekly: Model, limits: Limits, rules: SpanRules
    ) -> None:
        self._weekly, self._limits, self._rules = weekly, limits, rules
        self._rows, _ = _with_tangents(relaxation, weekly)
        # What runs may hold has nothing to do with prices: they are written once.
        self._runs: list[Runs] | None = None

    def by(self, held: HeldRations, cost: FloatArray | None = None) -> float:
        """Return the bound at the prices of rations with these cuts.

        Parameters
        ----------
        held : HeldRations
            Rations of the same weekly program by their cuts.
        cost : array, optional
            What every weekly variable costs, where that is something else.
        """
        weekly = self._weekly if cost is None else replace(self._weekly, cost=cost)
        held.session.set_cost(weekly.cost)
        free = np.ones(len(held.at), dtype=bool)
        held.hold(~free, free)
        answer = _priced_by(held.settled(moving=8), weekly, len(self._rows.lower))
        prices = priced(weekly, self._rows, answer)
        if self._runs is None:
            self._runs = _runs(weekly, prices, self._limits, self._rules, Meter())
        return _at_prices(prices, self._runs, self._rules)[0]


@dataclass(frozen=True, slots=True)
class Apart:
    """What is proven of a season that is short, of what is short and of the money.

    ``short_usd`` is the least that any rations are short of, at its price; ``money_usd`` the least
    money of rations that are no shorter than those given.
    """

    short_usd: float
    money_usd: float


def bounds_apart(of: RationBound, held: HeldRations, short_usd: float, bound: float) -> Apart:
    """Return bounds of what is short and of the money, each for itself.

    Whoever is short by no more than ``short_usd`` pays at least the bound of money and of any part
    of the price of what is short, less that part of what is short.

    Parameters
    ----------
    of : RationBound
        The bound of the season, at any costs.
    held : HeldRations
        Rations by their cuts.
    short_usd : float
        What the program is short of, at its price.
    bound : float
        The bound of money and of what is short together.
    """

    def least(money: float, short: float) -> float:
        cost, first = held.weekly.cost * money, held.weekly.columns.first_shortage
        cost[first:] = held.weekly.cost[first:] * short
        return of.by(held, cost)

    by_part = [least(1.0, part) - part * short_usd for part in SHORT_PARTS]
    return Apart(max(0.0, least(0.0, 1.0)), max(bound - short_usd, *by_part))


def _with_tangents(relaxation: Relaxation, model: Model) -> tuple[SparseRows, Optimum]:
    """Return the rows of a model with the tangents of the relaxation after them, and its prices.

    The rows of the relaxation come first; what the model has beside them has no price yet.
    """
    own, every = len(relaxation.model.rows.lower), relaxation.session.all_rows()
    more, curved = len(model.rows.lower) - own, every.row >= own
    rows = SparseRows(
        np.concatenate([model.rows.row, every.row[curved] + more]),
        np.concatenate([model.rows.column, every.column[curved]]),
        np.concatenate([model.rows.value, every.value[curved]]),
        np.concatenate([model.rows.lower, every.lower[own:]]),
        np.concatenate([model.rows.upper, every.upper[own:]]),
    )
    dual = relaxation.optimum.row_dual
    # Tangents laid after the last solution have no price either.
    later = np.zeros(len(every.lower) - len(dual))
    dual = np.concatenate([dual[:own], np.zeros(more), dual[own:], later])
    return rows, replace(relaxation.optimum, row_dual=dual)


def _runs(
    model: Model, prices: WeeklyPrices, limits: Limits, rules: SpanRules, meter: Meter
) -> list[Runs]:
    """Return the runs of every group."""
    return [
        Runs(model, prices, rules, group, float(limits.leeway[group]), meter)
        for group in range(len(rules.first))
    ]


def _at_prices(prices: WeeklyPrices, runs: list[Runs], rules: SpanRules) -> tuple[float, Spans]:
    """Return the bound of the season at some prices, and the cuts that are cheapest at them."""
    bound, starts = prices.constant, []
    for group, one in enumerate(runs):
        costs = one.costs(prices.cost)
        bound += cheapest_cuts(costs, rules, group)[0]
        starts.append(cheapest_cuts(_not_long(costs, rules, group), rules, group, RATION_USD)[1])
    return bound, Spans(tuple(starts), rules.last)


def _not_long(costs: SpanCosts, rules: SpanRules, group: int) -> SpanCosts:
    """Return costs of runs to begin with: few things last no group through a very long one.

    Prices know of no few things; the search may join runs later, and the bound holds for all.
    """
    whole = rules.last[group] + 1 - rules.first[group]
    mean = int(LONGEST_BEGUN * whole / rules.most[group]) + 1
    at = np.arange(len(costs.usd))
    length = at[None, :] - at[:, None]
    long = length > max(mean, min(rules.least[group], whole))
    return SpanCosts(np.where(long, np.inf, costs.usd))


def _priced_by(answer: Optimum, model: Model, count: int) -> Optimum:
    """Return an answer of rations in the numbering of the weekly rows; tangents have no price."""
    own = len(model.rows.lower)
    dual = np.zeros(count)
    dual[:own] = answer.row_dual[:own]
    return replace(answer, row_dual=dual)


def cheapest_cuts(
    costs: SpanCosts, rules: SpanRules, group: int, ration_usd: float = 0.0
) -> tuple[float, tuple[int, ...]]:
    """Return what the cheapest sequence of runs of a group costs, and where it is cut.

    Parameters
    ----------
    costs : SpanCosts
        What the best ration of every run costs.
    rules : SpanRules
        How many rations there may be.
    group : int
        The group.
    ration_usd : float
        What a further ration must save. [USD]

    Returns
    -------
    tuple of (float, tuple of int)
        The cost with that price of further rations, and the first period of each ration.
    """
    first, last = rules.first[group], rules.last[group]
    if not is_placed(first):
        return 0.0, ()
    least = np.full(len(costs.usd), np.inf)
    least[first] = 0.0
    best, came, end = [least], [], last + 1
    for used in range(rules.most[group]):
        through = best[-1][:, None] + costs.usd + (ration_usd if used else 0.0)
        best.append(through.min(axis=0))
        came.append(through.argmin(axis=0))
    totals = [float(one[end]) for one in best]
    total, stop, starts = min(totals), end, []
    for back in reversed(came[: totals.index(total)]):
        stop = int(back[stop])
        starts.append(stop)
    return total, tuple(reversed(starts))
