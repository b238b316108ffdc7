"""From an optimum to a season program: numbers, prices, reasons and cautions in sentences."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from datetime import date, timedelta
from math import isnan
from typing import Final

import numpy as np
from numpy.typing import NDArray

from rickyard.farm import Assumption, Farm
from rickyard.program import account
from rickyard.program.cautions import program_cautions
from rickyard.program.model import KG_PER_ROW_UNIT, Model, picked
from rickyard.program.prices import Prices
from rickyard.program.problem import UNITS, Problem
from rickyard.program.result import (
    FeedWorth,
    GroupPeriod,
    Limit,
    LotWorth,
    NeedRow,
    Period,
    SeasonProgram,
    Shortage,
)
from rickyard.program.solve import Optimum
from rickyard.program.words import NUTRIENT_WORDS, Words, dollars, span

FloatArray = NDArray[np.float64]

#: A price below this, US dollars per unit, head and day, is solver dust.
PRICE_DUST: Final = 1e-6

#: A limit is measured by what a tenth more of the need would cost.
TENTH: Final = 0.1

#: A limit that costs less than this share of the season is left out.
LEAST_LIMIT_SHARE: Final = 0.0005

#: Below this many US dollars per tonne one more tonne of a lot is called worth nothing extra.
WORTH_DUST: Final = 0.01

#: Nutrients whose row is a ceiling: the price is of one unit more room.
CEILINGS: Final = ("most_dm", "ndf", "appetite")

#: How a sentence about a limit begins. {group} and {when} are filled in.
_LIMIT_SENTENCE: Final = {
    "nem": "Energy decides what {group} are fed {when}",
    "gain_energy": "Energy for the wanted gain decides what {group} are fed {when}",
    "tdn": "Energy (TDN) decides what {group} are fed {when}",
    "cp": "Protein decides what {group} are fed {when}",
    "cp_floor": "The least protein a rumen works with decides what {group} are fed {when}",
    "ca": "Calcium decides what {group} are fed {when}",
    "p": "Phosphorus decides what {group} are fed {when}",
    "ca_to_p": "Calcium must keep up with phosphorus in what {group} are fed {when}",
    "forage": "Long forage decides what {group} are fed {when}",
    "least_dm": "The least dry matter decides what {group} are fed {when}",
    "most_dm": "{group} can eat no more {when}",
    "appetite": "{group} can eat no more {when}",
    "ndf": "{group} can hold no more forage fiber {when}",
}


@dataclass(frozen=True, slots=True)
class _Run:
    """Neighbouring periods of one group that belong together."""

    group: int
    first: int
    last: int


def explain(
    farm: Farm,
    problem: Problem,
    model: Model,
    optimum: Optimum,
    x: FloatArray,
    prices: Prices,
    seconds: float,
) -> SeasonProgram:
    """Turn an optimum into a season program.

    Parameters
    ----------
    farm : Farm
        The farm the program is for.
    problem : Problem
        The season as plain arrays.
    model : Model
        The linear program that was solved.
    optimum : Optimum
        Its optimum, with prices.
    x : array
        The program: the optimum, or a simpler point near it.
    prices : Prices
        What one more unit of each row is worth.
    seconds : float
        Time taken so far. [s]
    """
    words = Words(farm.units)
    eaten = account.eaten_of(model, x)
    needs = account.need_rows(problem, model, eaten)
    groups = account.group_periods(problem, model, eaten)
    lots = account.lot_balances(problem, eaten)
    bought = account.purchases(problem, eaten)
    costs = account.costs(farm, problem, lots, bought)
    shortages = _shortages(farm, problem, needs, groups, words)
    by_need = _need_prices(problem, model, optimum, prices)
    count = len(model.columns.group)
    penalty = float(model.cost[count:] @ x[count:])
    bound = optimum.bound + problem.fixed_usd
    total = costs.total + penalty
    return SeasonProgram(
        farm_name=farm.name,
        start=farm.season.start,
        end=farm.season.end,
        status="short" if shortages else "complete",
        cost=costs.total,
        penalty=penalty,
        bound=bound,
        gap=max(0.0, total - bound) / max(abs(total), 1.0),
        seconds=seconds,
        costs=costs,
        periods=problem.needs.periods,
        sources=problem.sources.values,
        groups=groups,
        feeding=account.feeding_rows(problem, eaten),
        needs=needs,
        shortages=shortages,
        purchases=bought,
        lots=lots,
        limits=_limits(problem, needs, by_need, LEAST_LIMIT_SHARE * costs.total, words),
        lot_worth=_lot_worth(farm, problem, model, prices, words),
        feed_worth=_feed_worth(problem, model, optimum, eaten, words),
        cautions=program_cautions(farm, problem, eaten, groups, words),
        assumptions=_assumptions(farm, problem),
    )


def _shortages(
    farm: Farm,
    problem: Problem,
    needs: Sequence[NeedRow],
    groups: Sequence[GroupPeriod],
    words: Words,
) -> tuple[Shortage, ...]:
    heads = {(row.group_id, row.period): row for row in groups}
    short: dict[tuple[str, str], list[NeedRow]] = {}
    for row in needs:
        if row.shortage > 0:
            short.setdefault((row.group_id, row.nutrient), []).append(row)
    found = []
    for (group_id, nutrient), rows in short.items():
        for run in _neighbours(rows):
            total = sum(
                row.shortage
                * heads[row.group_id, row.period].head
                * heads[row.group_id, row.period].days
                for row in run
            )
            most = max(row.shortage for row in run)
            end = run[-1].start + timedelta(days=run[-1].days)
            found.append(
                Shortage(
                    group_id=group_id,
                    start=run[0].start,
                    end=end,
                    nutrient=nutrient,
                    unit=run[0].unit,
                    most_per_head_day=most,
                    total=total,
                    sentence=_shortage_sentence(
                        farm.group(group_id).name, nutrient, most, run, heads, words
                    ),
                )
            )
    found.sort(key=lambda one: (one.start, one.group_id, one.nutrient))
    return tuple(found)


def _neighbours(rows: list[NeedRow]) -> Iterator[list[NeedRow]]:
    run: list[NeedRow] = []
    for row in sorted(rows, key=lambda row: row.period):
        if run and row.period != run[-1].period + 1:
            yield run
            run = []
        run.append(row)
    if run:
        yield run


def _shortage_sentence(
    name: str,
    nutrient: str,
    most: float,
    run: list[NeedRow],
    heads: dict[tuple[str, int], GroupPeriod],
    words: Words,
) -> str:
    when = span(run[0].start, run[-1].start + timedelta(days=run[-1].days))
    amount = words.amount(most, UNITS[nutrient])
    sentence = (
        f"{name} are short of {NUTRIENT_WORDS[nutrient]} {when}, by up to {amount} per head and day"
    )
    if nutrient == "gain_energy":
        cells = [heads[row.group_id, row.period] for row in run]
        least = min(cell.expected_gain_kg_per_day or 0.0 for cell in cells)
        wanted = max(cell.wanted_gain_kg_per_day or 0.0 for cell in cells)
        return f"{sentence}: expect {words.mass(least)} of gain a day, not {words.mass(wanted)}."
    return f"{sentence}."


def _limits(
    problem: Problem,
    needs: Sequence[NeedRow],
    prices: dict[str, FloatArray],
    least_usd: float,
    words: Words,
) -> tuple[Limit, ...]:
    """Say what holds the cost up, the dearest first, leaving out what hardly matters."""
    head_days = problem.needs.head_days
    level = {(row.group_id, row.period, row.nutrient): abs(row.need) for row in needs}
    found = []
    for name, price in prices.items():
        per_head_day = np.divide(price, head_days, out=np.zeros_like(price), where=head_days > 0)
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
            start, end = _run_dates(problem.needs.periods, run)
            sentence = _limit_sentence(group.name, name, mean, start, end, words)
            found.append(
                Limit(group.group_id, start, end, name, UNITS[name], mean, tenth, sentence)
            )
    found.sort(key=lambda one: (-one.usd_per_tenth, one.group_id, one.start, one.nutrient))
    return tuple(found)


def _need_prices(
    problem: Problem, model: Model, optimum: Optimum, found: Prices
) -> dict[str, FloatArray]:
    """Return by nutrient what one more unit of need costs over the period, (groups, periods).

    Where a group is short of anything, or the hay for it is taken from one that is, the prices
    are those set for shortages and say nothing of money: zero.
    """
    shape = problem.needs.head_days.shape
    prices: dict[str, FloatArray] = {}
    for name, row_of in model.row_of.items():
        if name == "nitrate":
            continue  # its row is a share of the ration, not an amount with a price per unit
        prices[name] = picked(found.row, row_of).reshape(shape)
    for name, price in found.curved.items():
        prices[name] = price.reshape(shape)
    short = np.zeros(problem.needs.head_days.size, dtype=bool)
    for index in model.columns.shortage.values():
        short |= picked(optimum.x, index) > account.DUST_KG
    hidden = short.reshape(shape)
    return {name: np.where(hidden | np.isnan(price), 0.0, price) for name, price in prices.items()}


def _runs(wanted: NDArray[np.bool_]) -> Iterator[_Run]:
    for group in range(wanted.shape[0]):
        first = None
        for period in range(wanted.shape[1] + 1):
            on = period < wanted.shape[1] and bool(wanted[group, period])
            if on and first is None:
                first = period
            elif not on and first is not None:
                yield _Run(group, first, period - 1)
                first = None


def _run_dates(periods: Sequence[Period], run: _Run) -> tuple[date, date]:
    last = periods[run.last]
    return periods[run.first].start, last.start + timedelta(days=last.days)


def _limit_sentence(group: str, name: str, usd: float, start: date, end: date, words: Words) -> str:
    opening = _LIMIT_SENTENCE[name].format(group=group, when=span(start, end))
    price = words.usd_per_unit(usd, UNITS[name])
    if name in CEILINGS:
        return f"{opening}; room for more would save {price}."
    return f"{opening}; more of it would cost {price}."


def _lot_worth(
    farm: Farm, problem: Problem, model: Model, prices: Prices, words: Words
) -> tuple[LotWorth, ...]:
    """Say what one more tonne of each lot would save beyond its own value."""
    end_worth = farm.season.carry_over_value_pct / 100.0
    found = []
    for i in range(problem.sources.lot_count):
        value = problem.sources.values[i]
        saved = -float(prices.row[model.stock_row[i]]) * 1000.0 / KG_PER_ROW_UNIT
        own = value.usd_per_kg_dm * 1000.0 * (1.0 - end_worth * float(problem.keep[i, -1]))
        extra = saved - own
        found.append(
            LotWorth(
                value.source_id,
                None if isnan(extra) else extra,
                _lot_worth_sentence(value.name, saved, extra, value.dm_pct, words),
            )
        )
    return tuple(found)


def _lot_worth_sentence(name: str, saved: float, extra: float, dm_pct: float, words: Words) -> str:
    if isnan(saved):
        return f"{name}: all of it is used, and more of it would make up part of what is short."
    if saved <= WORTH_DUST:
        return f"{name}: does not run out; one more {words.ton} would only be left over."
    if extra <= WORTH_DUST:
        return f"{name}: all of it is used, but one more {words.ton} would not pay its own value."
    as_fed = extra / 1000.0 * dm_pct / 100.0
    return (
        f"{name}: all of it is used; one more {words.ton} as fed would save "
        f"{dollars(as_fed * words.kg_per_ton)} beyond its own value."
    )


def _feed_worth(
    problem: Problem, model: Model, optimum: Optimum, eaten: FloatArray, words: Words
) -> tuple[FeedWorth, ...]:
    sources, needs = problem.sources, problem.needs
    group, source, period = model.columns.group, model.columns.source, model.columns.period
    loss = sources.feeding_loss_frac[group, source]
    offered = needs.head_days[group, period] / (1.0 - loss)
    drop = optimum.reduced_cost[: len(source)] / offered
    found = []
    for i in range(sources.lot_count, len(sources.values)):
        value = sources.values[i]
        price = value.usd_per_kg_dm * value.dm_pct / 100.0
        bought = bool(eaten[:, i, :].any())
        at = np.flatnonzero(source == i)
        entry: float | None = None
        if not bought and len(at):
            entry = price - max(0.0, float(np.min(drop[at]))) * value.dm_pct / 100.0
            entry = entry if entry > 0 else None
        sentence = _feed_sentence(
            value.name, price, entry, bought=bought, barred=not len(at), words=words
        )
        found.append(FeedWorth(value.source_id, bought, price, entry, sentence))
    return tuple(found)


def _feed_sentence(
    name: str, price: float, entry: float | None, *, bought: bool, barred: bool, words: Words
) -> str:
    if bought:
        return f"{name}: worth buying at {words.usd_per_ton(price)}."
    if barred:
        return f"{name}: not allowed for any group here."
    if entry is None:
        return f"{name}: not bought; it would not enter the program at any price."
    return (
        f"{name}: not bought at {words.usd_per_ton(price)}; it would enter the program below "
        f"{words.usd_per_ton(entry)}."
    )


def _assumptions(farm: Farm, problem: Problem) -> tuple[Assumption, ...]:
    carry = farm.season.carry_over_value_pct
    own = [
        Assumption(
            "Net energy is worked out from TDN (DE 4.409 Mcal per kg, ME 0.82 DE, the cubic "
            "equations), and a mixed diet is the sum of its parts.",
            "NRC, Nutrient Requirements of Beef Cattle, 1984 to 2016",
        ),
        Assumption(
            "Hay in the yard is charged at its value when it is fed, wasted or lost in storage; "
            f"what is left at the end keeps {carry:g} % of its value.",
            "common practice, no published source",
        ),
        Assumption(
            "What cannot be supplied is priced far above any feed, so nothing is left short that "
            "a feed on this farm could supply. Those prices are not part of the cost: "
            + dollars(problem.shortage_usd["nem"])
            + " a megacalorie, "
            + dollars(problem.shortage_usd["cp"])
            + " a kilogram of protein.",
            "common practice, no published source",
        ),
    ]
    return tuple(dict.fromkeys([*own, *problem.needs.assumptions, *problem.sources.assumptions]))
