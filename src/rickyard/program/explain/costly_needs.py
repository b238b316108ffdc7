"""Which needs hold the cost up, when, and what one more unit of them costs."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from datetime import date, timedelta
from typing import Final

import numpy as np

from rickyard.display import Display
from rickyard.nutrients import NUTRIENTS
from rickyard.program.explain import solution_tables as account
from rickyard.program.model import Model, Prices, take_or_zero
from rickyard.program.problem import UNITS, Problem
from rickyard.program.result import NeedLimit, NeedRow
from rickyard.program.solver import Optimum
from rickyard.types import BoolArray, FloatArray

#: A price below this, US dollars per unit, head and day, is solver dust.
PRICE_DUST: Final = 1e-6

#: A limit is measured by what a tenth more of the need would cost.
TENTH: Final = 0.1


@dataclass(frozen=True, slots=True)
class _Run:
    """Neighbouring periods of one group that belong together."""

    group: int
    first: int
    last: int


def limits_of(
    problem: Problem,
    needs: Sequence[NeedRow],
    prices: dict[str, FloatArray],
    least_usd: float,
    display: Display,
) -> tuple[NeedLimit, ...]:
    """Say what holds the cost up, the dearest first, leaving out what hardly matters."""
    head_days = problem.needs.head_days
    level = {(row.group_id, row.period, row.nutrient): abs(row.need) for row in needs}
    found = []
    for name, hidden in prices.items():
        price = np.nan_to_num(hidden)
        per_head_day = np.divide(
            price, head_days, out=np.zeros_like(price), where=problem.needs.here
        )
        for run in _runs(np.abs(per_head_day) > PRICE_DUST):
            periods = range(run.first, run.last + 1)
            group = problem.needs.groups[run.group]
            paid = np.abs(price[run.group, run.first : run.last + 1])
            size = [level.get((group.group_id, period, name), 0.0) for period in periods]
            tenth = TENTH * float(paid @ np.array(size))
            if tenth < least_usd:
                continue
            days = head_days[run.group, run.first : run.last + 1]
            mean = float(paid.sum() / days.sum())
            last = problem.needs.periods[run.last]
            start = problem.needs.periods[run.first].start
            end = last.start + timedelta(days=last.days)
            sentence = _limit_sentence(group.name, name, mean, start, end, display)
            found.append(
                NeedLimit(group.group_id, start, end, name, UNITS[name], mean, tenth, sentence)
            )
    found.sort(key=lambda one: (-one.usd_per_tenth, one.group_id, one.start, one.nutrient))
    return tuple(found)


def need_prices(
    problem: Problem, model: Model, optimum: Optimum, found: Prices
) -> dict[str, FloatArray]:
    """Return by nutrient what one more unit of need costs over the period, (groups, periods).

    Where a group is short of anything, or the hay for it is taken from one that is, the prices
    are those set for shortages and say nothing of money: NaN.
    """
    shape = problem.needs.head_days.shape
    prices: dict[str, FloatArray] = {}
    for name, row_of in model.row_of.items():
        if name not in NUTRIENTS or not NUTRIENTS[name].sentence:
            continue  # rows that are shares of the ration have no price per unit
        prices[name] = take_or_zero(found.row, row_of).reshape(shape)
    for name, price in found.curved.items():
        prices[name] = prices.get(name, 0.0) + price.reshape(shape)
    short = np.zeros(problem.needs.head_days.size, dtype=bool)
    for index in model.columns.shortage.values():
        short |= take_or_zero(optimum.x, index) > account.DUST_KG
    hidden = short.reshape(shape)
    return {name: np.where(hidden, np.nan, price) for name, price in prices.items()}


def _runs(wanted: BoolArray) -> Iterator[_Run]:
    for group in range(wanted.shape[0]):
        first = None
        for period in range(wanted.shape[1] + 1):
            on = period < wanted.shape[1] and bool(wanted[group, period])
            if on and first is None:
                first = period
            elif not on and first is not None:
                yield _Run(group, first, period - 1)
                first = None


def _limit_sentence(
    group: str, name: str, usd: float, start: date, end: date, display: Display
) -> str:
    opening = NUTRIENTS[name].sentence.format(group=group, when=display.during_text(start, end))
    price = display.price_of_one_more(usd, UNITS[name])
    if NUTRIENTS[name].room:
        return f"{opening}; room for more would save {price}."
    return f"{opening}; more of it would cost {price}."
