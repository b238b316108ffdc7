"""What one more ton of each lot is worth, at which price a feed enters, what a unit costs."""

from __future__ import annotations

from math import isnan
from typing import Final, Literal

import numpy as np

from rickyard.display import Display, money_text
from rickyard.farm import Farm
from rickyard.program.model import KG_PER_ROW_UNIT, Model, Prices, on_loads
from rickyard.program.problem import Problem
from rickyard.program.result import FeedWorth, LotWorth, UnitWorth
from rickyard.program.solver import Optimum
from rickyard.quantities import is_some
from rickyard.types import BoolArray, FloatArray

#: Below this many US dollars per tonne one more tonne of a lot is called worth nothing extra.
WORTH_DUST: Final = 0.01

#: Below this many US dollars a unit of energy or protein is worth nothing.
UNIT_DUST: Final = 1e-3

#: A feed worth less than this share of its price is worth nothing.
PRICE_DUST: Final = 1e-6


def lots_worth(
    farm: Farm, problem: Problem, model: Model, prices: Prices, display: Display
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
                _lot_worth_sentence(value.name, saved, extra, value.dm_pct, display),
            )
        )
    return tuple(found)


def _lot_worth_sentence(
    name: str, saved: float, extra: float, dm_pct: float, display: Display
) -> str:
    if isnan(saved):
        return f"{name}: all used; more of it would cover part of what is short."
    if saved <= WORTH_DUST:
        return f"{name}: some is left; one more {display.ton_word} would only be left over."
    if extra <= WORTH_DUST:
        return f"{name}: all used, but one more {display.ton_word} would not pay for itself."
    as_fed = extra / 1000.0 * dm_pct / 100.0
    return (
        f"{name}: all used; one more {display.ton_word} as fed would save "
        f"{money_text(as_fed * display.kg_per_ton)} above its own value."
    )


def feeds_worth(
    problem: Problem, model: Model, optimum: Optimum, eaten: FloatArray, display: Display
) -> tuple[FeedWorth, ...]:
    """Say which feeds are worth buying, and at which price the others would be."""
    sources, source = problem.sources, model.columns.source
    # Feed that comes in loads has part of its price on the load.
    drop = optimum.reduced_cost[: len(source)] + on_loads(model, optimum)
    drop /= model.columns.offered_kg(problem)
    found = []
    for i in range(sources.lot_count, len(sources.values)):
        value = sources.values[i]
        price = value.usd_per_kg_dm * value.dm_pct / 100.0
        bought = bool(eaten[:, i, :].any())
        at = np.flatnonzero(source == i)
        entry: float | None = None
        if not bought and len(at):
            entry = price - max(0.0, float(np.min(drop[at]))) * value.dm_pct / 100.0
            entry = entry if entry > PRICE_DUST * price else None
        sentence = _feed_sentence(
            value.name, price, entry, bought=bought, barred=not len(at), display=display
        )
        found.append(FeedWorth(value.source_id, bought, price, entry, sentence))
    return tuple(found)


def _feed_sentence(
    name: str, price: float, entry: float | None, *, bought: bool, barred: bool, display: Display
) -> str:
    if bought:
        return f"{name}: worth buying at {display.price_a_ton(price)}."
    if barred:
        return f"{name}: not allowed for any group here: its caution or its dates say why."
    if entry is None:
        return f"{name}: not bought; not worth buying at any price."
    return (
        f"{name}: not bought at {display.price_a_ton(price)}; worth buying under "
        f"{display.price_a_ton(entry)}."
    )


#: The needs that a unit of energy or of protein serves.
_SERVED: Final[dict[Literal["energy", "protein"], tuple[str, ...]]] = {
    "energy": ("nem", "gain_energy", "tdn"),
    "protein": ("cp", "cp_floor"),
}


def units_worth(
    problem: Problem, prices: dict[str, FloatArray], display: Display
) -> tuple[UnitWorth, ...]:
    """Say what one more unit of energy and of protein is worth, by group and for the farm.

    ``prices``: by nutrient what one more unit of need costs over the period, (groups, periods), NaN
    where a shortage sets it [US dollars for a unit per head and day].
    """
    here = np.asarray(problem.needs.here.any(axis=1))
    in_tdn = np.asarray(np.isfinite(problem.needs.least["tdn"]).any(axis=1))
    in_tdn &= ~np.isfinite(problem.needs.least["nem"]).any(axis=1)
    found = []
    for what in _SERVED:
        served = [prices[name] for name in _SERVED[what] if name in prices]
        price = sum(served, np.zeros(problem.needs.head_days.shape))
        kinds: tuple[BoolArray, ...] = (here,)
        if what == "energy":
            kinds = (here & ~in_tdn, here & in_tdn)
        for mine in kinds:
            unit = "kg CP" if what == "protein" else "kg TDN" if in_tdn[mine].any() else "Mcal NEm"
            for g in np.flatnonzero(mine).tolist():
                alone = np.arange(len(mine)) == g
                found.append(_unit_worth(problem, g, what, unit, price[alone], display))
            if mine.any():
                found.append(_unit_worth(problem, None, what, unit, price[mine], display, mine))
    return tuple(found)


def _unit_worth(
    problem: Problem,
    group: int | None,
    what: Literal["energy", "protein"],
    unit: str,
    price: FloatArray,
    display: Display,
    mine: BoolArray | None = None,
) -> UnitWorth:
    needs = problem.needs
    named = None if group is None else needs.groups[group]
    head_days = needs.head_days[mine if group is None else [group]]
    known = np.isfinite(price) & is_some(head_days)
    group_id = "" if named is None else named.group_id
    who = "the farm" if named is None else named.name
    if not known.any():
        sentence = f"What more {what} is worth to {who} cannot be said while it is short."
        return UnitWorth(group_id, what, unit, None, None, None, sentence)
    mean = float(price[known].sum() / head_days[known].sum())
    each = np.divide(price, head_days, out=np.full_like(price, -np.inf), where=known)
    most = float(each.max())
    start = needs.periods[int(np.argmax(each.max(axis=0)))].start
    sentence = f"More {what} for {who} is worth next to nothing."
    if most > UNIT_DUST:
        usual, dearest = (display.price_of_one_more(usd, unit) for usd in (mean, most))
        tightest = f" on average and {dearest} in the tightest week, from {display.day_text(start)}"
        sentence = (
            f"A little more {what} for {who} is worth {usual}"
            f"{' throughout' if usual == dearest else tightest}."
        )
    return UnitWorth(group_id, what, unit, mean, most, start, sentence)
