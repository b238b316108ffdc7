"""Where the hay goes and what it costs: lots, purchases, sales and the money of a season."""

from __future__ import annotations

from typing import Final

import numpy as np

from rickyard.farm import Farm
from rickyard.program.model import KG_PER_ROW_UNIT, Model, take_or_zero
from rickyard.program.problem import Problem, feed_left_share
from rickyard.program.result import Costs, LotBalance, Purchase, Sale
from rickyard.quantities import is_some
from rickyard.types import FloatArray

#: Amounts smaller than this, kg DM, are solver dust.
DUST_KG: Final = 1e-7

#: So little of a lot, kg DM, is nothing left: what is drawn of it is counted to a few grams.
LEFT_DUST_KG: Final = 1e-2

#: A load that is needed for less than this share of itself is not needed: rounding.
LOAD_DUST: Final = 1e-6


def drawn_kg(problem: Problem, eaten: FloatArray) -> FloatArray:
    """Return kg DM offered by group, source and period, waste included."""
    head_days = problem.needs.head_days[:, None, :]
    loss = problem.sources.feeding_loss_frac[:, :, None]
    return np.asarray(eaten * head_days / (1.0 - loss))


def sold_kg(model: Model, x: FloatArray) -> FloatArray:
    """Return kg DM of each lot sold on the first day, (lots,)."""
    sold = take_or_zero(x, model.columns.sold) * KG_PER_ROW_UNIT
    return np.asarray(np.where(is_some(sold - DUST_KG), sold, 0.0))


def lot_balances(problem: Problem, eaten: FloatArray, sold: FloatArray) -> tuple[LotBalance, ...]:
    """Follow each lot's dry matter from the first day to the last, period by period."""
    sources = problem.sources
    drawn = drawn_kg(problem, eaten).sum(axis=0)
    swallowed = (eaten * problem.needs.head_days[:, None, :]).sum(axis=0)
    rows = []
    for i in range(sources.lot_count):
        standing, lost = _left(float(sources.start_kg_dm[i] - sold[i])), 0.0
        for t, kept in enumerate(sources.kept[i].tolist()):
            lost += standing * (1.0 - kept)
            standing = _left(standing * kept - float(drawn[i, t]))
        eaten_kg, drawn_total = float(swallowed[i].sum()), float(drawn[i].sum())
        value = sources.values[i]
        bale_dm = (
            None if value.bale_weight_kg is None else value.bale_weight_kg * value.dm_pct / 100.0
        )
        rows.append(
            LotBalance(
                lot_id=value.source_id,
                name=value.name,
                start_t=float(sources.start_kg_dm[i]) / 1000.0,
                eaten_t=eaten_kg / 1000.0,
                feeding_loss_t=(drawn_total - eaten_kg) / 1000.0,
                storage_loss_t=lost / 1000.0,
                left_t=standing / 1000.0,
                start_bales=_bales(float(sources.start_kg_dm[i]), bale_dm),
                fed_bales=_bales(drawn_total, bale_dm),
                sold_t=float(sold[i]) / 1000.0,
                kept_from=_kept_from(problem, i),
            )
        )
    return tuple(rows)


def _kept_from(problem: Problem, source: int) -> tuple[str, ...]:
    """Return the groups that may be fed none of a source on any day they are here."""
    sources, here = problem.sources, problem.needs.here
    most = np.minimum(sources.share_limit[:, source], sources.most_kg_dm[:, source])
    may = sources.allowed[:, source] & here & is_some(most)
    groups = problem.needs.groups
    return tuple(one.group_id for g, one in enumerate(groups) if here[g].any() and not may[g].any())


def _left(kg_dm: float) -> float:
    return kg_dm if is_some(abs(kg_dm) - LEFT_DUST_KG) else 0.0


def _bales(kg_dm: float, bale_kg_dm: float | None) -> float | None:
    return None if bale_kg_dm is None else kg_dm / bale_kg_dm


def purchases(problem: Problem, eaten: FloatArray) -> tuple[Purchase, ...]:
    """Return what is bought of each feed, in whole loads where it comes in loads."""
    sources = problem.sources
    drawn = drawn_kg(problem, eaten).sum(axis=(0, 2))
    rows = []
    for i in range(sources.lot_count, len(sources.values)):
        fed = float(drawn[i])
        if not is_some(fed - DUST_KG):
            continue
        value, load = sources.values[i], float(sources.load_kg_dm[i])
        loads = None if np.isnan(load) else max(1, int(np.ceil(fed / load - LOAD_DUST)))
        dm = fed if loads is None else max(fed, loads * load)
        rows.append(
            Purchase(
                feed_id=value.source_id,
                name=value.name,
                as_fed_kg=dm / (value.dm_pct / 100.0),
                dm_kg=dm,
                cost_usd=dm * value.usd_per_kg_dm,
                loads=loads,
                left_kg=(dm - fed) / (value.dm_pct / 100.0),
            )
        )
    return tuple(rows)


def sales(problem: Problem, sold: FloatArray) -> tuple[Sale, ...]:
    """Return what is sold of each lot on the first day."""
    rows = []
    for i in np.flatnonzero(is_some(sold)).tolist():
        value = problem.sources.values[i]
        as_fed = float(sold[i]) / (value.dm_pct / 100.0)
        rows.append(
            Sale(
                lot_id=value.source_id,
                name=value.name,
                as_fed_kg=as_fed,
                dm_kg=float(sold[i]),
                bales=None if value.bale_weight_kg is None else as_fed / value.bale_weight_kg,
                revenue_usd=float(sold[i] * problem.sources.sale_usd_per_kg_dm[i]),
            )
        )
    return tuple(rows)


def run_starts(problem: Problem, eaten: FloatArray) -> int:
    """Return how often a group begins a hay after its own first period."""
    fed = is_some(eaten) & problem.sources.is_hay[None, :, None]
    here = problem.needs.here
    begins = fed[:, :, 1:] & ~fed[:, :, :-1] & here[:, None, :-1]
    return int(begins.sum())


def costs(
    farm: Farm,
    problem: Problem,
    lots: tuple[LotBalance, ...],
    bought: tuple[Purchase, ...],
    sold: tuple[Sale, ...],
    changes: int,
) -> Costs:
    """Return the cost of the season by kind."""
    price = [value.usd_per_kg_dm * 1000.0 for value in problem.sources.values]
    end_worth = farm.season.carry_over_value_pct / 100.0
    pairs = list(zip(lots, price, strict=False))
    left_usd = sum(one.cost_usd * one.left_kg / one.as_fed_kg for one in bought)
    given_up = sum(lot.sold_t * usd for lot, usd in pairs)
    return Costs(
        hay_eaten=sum(lot.eaten_t * usd for lot, usd in pairs),
        hay_feeding_loss=sum(lot.feeding_loss_t * usd for lot, usd in pairs),
        hay_storage_loss=sum(lot.storage_loss_t * usd for lot, usd in pairs),
        carry_over_discount=sum((1.0 - end_worth) * lot.left_t * usd for lot, usd in pairs),
        purchases=sum(purchase.cost_usd for purchase in bought),
        feed_left=0.0 - feed_left_share(end_worth) * left_usd,
        hay_sold=given_up - sum(one.revenue_usd for one in sold),
        changes=changes * farm.season.change_usd,
    )
