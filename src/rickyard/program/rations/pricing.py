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
from rickyard.program.runs import (
    RATION_USD,
    Mixed,
    Runs,
    SpanRules,
    Spans,
    WeeklyPrices,
    cheapest_cuts,
    not_long,
    priced,
)
from rickyard.program.search import Relaxation
from rickyard.program.solver import Meter, Optimum, SolveError, SparseRows
from rickyard.types import FloatArray

#: How often what is shared is priced anew: for cuts, where rates are not settled yet, and for a
#: bound alone.
PRICINGS: Final = 7
PRICINGS_BEGUN: Final = 1
PRICINGS_OF_BOUND: Final = 2

#: The next prices are so much the best ones so far, and for the rest those of the runs taken in:
#: those alone swing far to and fro while few runs are known. [-]
STEADY: Final = 0.8

#: Pricing ends when cuts are this near to their bound, as a share of it.
NEAR_ENOUGH: Final = 1e-3

#: Parts of the price of what is short at which the money of those who are short is bound. [-]
SHORT_PARTS: Final = (0.1, 0.01)


@dataclass(frozen=True, slots=True)
class PricedCuts:
    """Cuts with the weekly amounts of their cheapest rations, few things or many.

    ``bound`` is a proven least cost of the season in rations, without what no decision changes;
    ``simple`` the cuts that were cheapest for each group at the first prices.
    """

    spans: Spans
    x: FloatArray
    bound: float
    simple: Spans


def priced_cuts(
    relaxation: Relaxation,
    model: Model,
    uses: LotUse,
    limits: Limits,
    rules: SpanRules,
    meter: Meter,
    *,
    pricings: int = PRICINGS,
    begun: PricedCuts | None = None,
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
    pricings : int
        How often what is shared is priced anew.
    begun : PricedCuts, optional
        Cuts to begin with, as of the same season before rates were settled.
    """
    rows, optimum = _with_tangents(relaxation, model)
    prices = priced(model, rows, optimum)
    runs = _runs(model, prices, limits, rules, meter)
    if begun is None:
        (bound, spans), near = _at_prices(prices, runs, rules), relaxation.optimum.x
    else:
        bound, spans, near = -np.inf, begun.spans, begun.x

    def opened(spans: Spans) -> Optimum:
        held = HeldRations(model, uses, limits, spans, meter, near)
        nothing = np.zeros(len(held.at), dtype=bool)
        held.hold(nothing, ~nothing)
        return held.settled(moving=8)

    simple, answer = spans, opened(spans)
    found = [(answer.objective + RATION_USD * _rations(spans), spans, answer.x)]
    mixed = Mixed(model, prices, runs, rules, meter)
    mixed.take_program(spans, answer.x)
    begin = _priced_by(answer, model, len(rows.lower))
    shared = _price(model, rows, begin, runs, rules, mixed, pricings, (answer.objective, bound))
    for other in dict.fromkeys((shared.spans, mixed.cuts())):
        if other not in {one[1] for one in found}:
            answer = opened(other)
            usd = answer.objective + RATION_USD * _rations(other)
            found.append((usd, other, answer.x))
    _, spans, x = min(found, key=lambda one: one[0])
    return PricedCuts(spans, x, max(bound, shared.bound), simple)


@dataclass(frozen=True, slots=True)
class _Shared:
    """The best bound at prices of what is shared, and cuts that are cheapest at those prices."""

    bound: float
    spans: Spans


def _price(
    model: Model,
    rows: SparseRows,
    begin: Optimum,
    runs: list[Runs],
    rules: SpanRules,
    mixed: Mixed,
    pricings: int,
    known: tuple[float, float],
) -> _Shared:
    """Price what is shared time after time, each time with more runs to mix.

    ``begin``: prices to begin with. ``known``: what some program costs, and a bound there is.
    """
    least, bound = known
    best: _Shared | None = None
    dual = kept = begin.row_dual
    for number in range(pricings):
        prices = priced(model, rows, replace(begin, row_dual=dual))
        one, spans = _at_prices(prices, runs, rules)
        if best is None or one > best.bound:
            best, kept = _Shared(one, spans), dual
        near = NEAR_ENOUGH * max(1.0, abs(best.bound))
        if least - max(bound, best.bound) <= near or number + 1 == pricings:
            break
        mixed.take_cheapest(prices.cost, spans)
        try:
            least, other = mixed.priced()
        except SolveError:
            break  # What is known so far is as sound as ever.
        dual = STEADY * kept + (1.0 - STEADY) * other
    assert best is not None
    return best


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
        optimum = held.settled(moving=8)
        answer = _priced_by(optimum, weekly, len(self._rows.lower))
        prices = priced(weekly, self._rows, answer)
        if self._runs is None:
            self._runs = _runs(weekly, prices, self._limits, self._rules, Meter())
        mixed = Mixed(weekly, prices, self._runs, self._rules, Meter())
        mixed.take_program(held.spans, optimum.x)
        known, pricings = (optimum.objective, -np.inf), PRICINGS_OF_BOUND if cost is None else 1
        rows, rules = self._rows, self._rules
        return _price(weekly, rows, answer, self._runs, rules, mixed, pricings, known).bound


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
        starts.append(cheapest_cuts(not_long(costs, rules, group), rules, group, RATION_USD)[1])
    return bound, Spans(tuple(starts), rules.last)


def _priced_by(answer: Optimum, model: Model, count: int) -> Optimum:
    """Return an answer of rations in the numbering of the weekly rows; tangents have no price."""
    own = len(model.rows.lower)
    dual = np.zeros(count)
    dual[:own] = answer.row_dual[:own]
    return replace(answer, row_dual=dual)


def _rations(spans: Spans) -> int:
    return sum(len(one) for one in spans.starts)
