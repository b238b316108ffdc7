"""Runs of all groups mixed as is cheapest, for the prices of what they share and for cuts.

The runs of every group that were cheapest at some prices stand side by side: so much of each is
taken that every week is covered once, that there are no more rations than may be, and that what is
shared suffices. That has prices at which other runs may be cheaper; those are taken in, and so on.
The cuts of which most is taken are good ones for all groups together.
"""

from __future__ import annotations

from typing import Final

import numpy as np

from rickyard.program.model import Model
from rickyard.program.runs.span_costs import Runs, SpanCosts, WeeklyPrices
from rickyard.program.runs.spans import SpanRules, Spans
from rickyard.program.solver import (
    Meter,
    Session,
    SparseRows,
    is_placed,
    numbered,
    placed,
)
from rickyard.types import FloatArray, IntArray

#: A further ration must save at least this much: a helper has to learn it. [USD]
RATION_USD: Final = 10.0

#: The search begins with runs of no more than so many times the mean length of a ration. [-]
LONGEST_BEGUN: Final = 3.0

#: So many runs of a group are taken in at a time beside those of its cheapest sequence, and none
#: that would save less. [USD]
TAKEN_IN: Final = 24
SAVES_USD: Final = 1e-2

#: Rows that are shared may be missed by this share of their bounds: what is taken in holds to them
#: as nearly as a solver does.
LOOSE: Final = 1e-6


class Mixed:
    """Runs of all groups, mixed as is cheapest with what is shared.

    Parameters
    ----------
    model : Model
        The weekly program.
    prices : WeeklyPrices
        Its rows, tangents too, and which of them belong to one group alone.
    runs : list of Runs
        The runs of every group.
    rules : SpanRules
        How weeks may be cut.
    meter : Meter
        Counts the work.
    """

    def __init__(
        self,
        model: Model,
        prices: WeeklyPrices,
        runs: list[Runs],
        rules: SpanRules,
        meter: Meter,
    ) -> None:
        self._model, self._runs, self._rules = model, runs, rules
        rows = prices.rows
        self._shared, self._row_count = np.flatnonzero(~prices.local), len(rows.lower)
        row = numbered(self._shared, len(rows.lower))[rows.row]
        there = placed(row)
        row, column, value = row[there], rows.column[there], rows.value[there]
        self._entries = [self._of_group(one, row, column, value) for one in runs]
        fed = np.zeros(model.columns.count, dtype=bool)
        for one in runs:
            fed |= placed(one.kind)
        self._free = np.flatnonzero(~fed)
        at = numbered(self._free, model.columns.count)[column]
        mine = placed(at)
        lower, upper = self._bounds(rows)
        free = SparseRows(row[mine], at[mine], value[mine], lower, upper)
        bounds = model.lower[self._free], model.upper[self._free]
        self._session = Session(model.cost[self._free], *bounds, free, meter)
        self._taken: list[tuple[int, int, int]] = []
        self._x, self._dual = np.zeros(0), np.zeros(0)

    def _bounds(self, rows: SparseRows) -> tuple[FloatArray, FloatArray]:
        """Return the bounds of what is shared, of weeks that follow each other, and of counts."""
        groups, weeks = len(self._runs), self._model.problem.shape[2] + 1
        shared, self._first_count = len(self._shared), len(self._shared) + groups * weeks
        low, high = rows.lower[self._shared], rows.upper[self._shared]
        lower = np.concatenate([low - LOOSE * (1.0 + np.abs(low)), np.zeros(groups * weeks)])
        upper = np.concatenate([high + LOOSE * (1.0 + np.abs(high)), np.zeros(groups * weeks)])
        self._node = shared + weeks * np.arange(groups)
        for node, first, last in zip(self._node, self._rules.first, self._rules.last, strict=True):
            if is_placed(first):
                lower[node + first] = upper[node + first] = 1.0
                lower[node + last + 1] = upper[node + last + 1] = -1.0
        return np.append(lower, np.full(groups, -np.inf)), np.append(upper, self._rules.most)

    def _of_group(
        self, runs: Runs, row: IntArray, column: IntArray, value: FloatArray
    ) -> tuple[IntArray, IntArray, IntArray, FloatArray]:
        """Return what shared rows say of a group: rows, weeks, kinds and coefficients."""
        mine = placed(runs.kind[column])
        mine[mine] = placed(runs.place[runs.kind[column[mine]]])
        column = column[mine]
        return row[mine], runs.week[column], runs.place[runs.kind[column]], value[mine]

    def take_program(self, spans: Spans, x: FloatArray) -> None:
        """Take in the runs of a weekly program that is cut so."""
        for group, one in enumerate(self._runs):
            each = [(span.start, span.stop) for span in spans.of_group(group)]
            self._take(group, each, [one.held_in(x, *span) for span in each])

    def take_cheapest(self, cost: FloatArray, spans: Spans) -> None:
        """Take in runs as they are cheapest at some prices: those of cuts, and what saves most."""
        for group, one in enumerate(self._runs):
            if not one.spans:
                continue
            mine = {(span.start, span.stop) for span in spans.of_group(group)}
            taken = np.array([span in mine for span in one.spans])
            saved = self._saved_usd(group, cost)
            most = np.argsort(-saved, kind="stable")[:TAKEN_IN]
            taken[most[saved[most] > SAVES_USD]] = True
            each = np.flatnonzero(taken).tolist()
            self._take(group, [one.spans[k] for k in each], [one.x[k] for k in each])

    def _saved_usd(self, group: int, cost: FloatArray) -> FloatArray:
        """Return what each run of a group would save; nothing is worth a very long one."""
        one = self._runs[group]
        if not len(self._dual):
            return np.full(len(one.spans), -np.inf)
        so_far, (start, stop) = one.so_far(cost), np.array(one.spans).T
        usd = np.full((len(so_far), len(so_far)), np.inf)
        usd[start, stop] = ((so_far[stop] - so_far[start]) * one.x).sum(axis=1)
        usd = not_long(SpanCosts(usd), self._rules, group).usd
        node = self._node[group]
        worth = self._dual[node + start] - self._dual[node + stop]
        worth += self._dual[self._first_count + group]
        return np.asarray(worth - usd[start, stop] - RATION_USD)

    def _take(self, group: int, spans: list[tuple[int, int]], held: list[FloatArray]) -> None:
        """Take in runs of a group with what each kind is held at."""
        row, week, kind, value = self._entries[group]
        so_far, node = self._runs[group].so_far(self._model.cost), self._node[group]
        cost: list[float] = []
        rows: list[IntArray] = []
        values: list[FloatArray] = []
        for (start, stop), x in zip(spans, held, strict=True):
            inside = (week >= start) & (week < stop)
            each = value[inside] * x[kind[inside]]
            drawn = np.bincount(row[inside], each, minlength=len(self._shared))
            at = np.flatnonzero(drawn)
            own = np.array([node + start, node + stop, self._first_count + group])
            rows.append(np.append(at, own))
            values.append(np.append(drawn[at], [1.0, -1.0, 1.0]))
            cost.append(float((so_far[stop] - so_far[start]) @ x) + RATION_USD)
            self._taken.append((group, start, stop))
        if cost:
            column = np.repeat(np.arange(len(cost)), [len(one) for one in rows])
            entries = np.concatenate(rows), column, np.concatenate(values)
            nothing = np.zeros(len(cost))
            self._session.add_columns(np.array(cost), nothing, nothing + np.inf, entries)

    def priced(self) -> tuple[float, FloatArray]:
        """Mix what was taken in; return its cost, and the price of every weekly row.

        Raises ``SolveError`` if what was taken in cannot be mixed as nearly as a solver asks.
        """
        found = self._session.minimise()
        self._x, self._dual = found.x[len(self._free) :], found.row_dual
        dual = np.zeros(self._row_count)
        dual[self._shared] = found.row_dual[: len(self._shared)]
        return found.objective - RATION_USD * float(self._x.sum()), dual

    def cuts(self) -> Spans:
        """Return the cuts of which most was taken when runs were mixed last."""
        weeks, starts = self._model.problem.shape[2] + 1, []
        part = np.zeros(len(self._taken))
        part[: len(self._x)] = self._x
        for group in range(len(self._runs)):
            usd = np.full((weeks, weeks), np.inf)
            for (whose, start, stop), much in zip(self._taken, part.tolist(), strict=True):
                if whose == group:
                    usd[start, stop] = min(usd[start, stop], 0.0) - much * (stop - start)
            starts.append(cheapest_cuts(SpanCosts(usd), self._rules, group)[1])
        return Spans(tuple(starts), self._rules.last)


def not_long(costs: SpanCosts, rules: SpanRules, group: int) -> SpanCosts:
    """Return costs of runs to begin with: few things last no group through a very long one.

    Prices know of no few things; the search may join runs later, and the bound holds for all.

    Parameters
    ----------
    costs : SpanCosts
        What the best ration of every run costs.
    rules : SpanRules
        How many rations there may be.
    group : int
        The group.

    Returns
    -------
    SpanCosts
        The same, where a run that is very long has no end of cost.
    """
    whole = rules.last[group] + 1 - rules.first[group]
    mean = int(LONGEST_BEGUN * whole / rules.most[group]) + 1
    at = np.arange(len(costs.usd))
    length = at[None, :] - at[:, None]
    long = length > max(mean, min(rules.least[group], whole))
    return SpanCosts(np.where(long, np.inf, costs.usd))


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
