"""What stock with free access eat: the share of appetite that a kilogram of each source takes.

Every forage has an intake at which it fills an animal when nothing else is offered, and shares of
fill add up to one. Concentrate takes up the fill of the forage that it puts aside.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import Final, Literal

import numpy as np

from rickyard.farm import Farm, FeedKind
from rickyard.program.inputs.needs import NeedTable
from rickyard.program.inputs.sources import SourceTable
from rickyard.quantities import is_some
from rickyard.stock.equations import appetite_kg
from rickyard.stock.fill import put_aside_rate
from rickyard.types import BoolArray, FloatArray, IntArray

#: A supplement of so much protein and more counts as a protein feed; distillers grains, which have
#: a little less, as fiber. Common practice. [% DM]
PROTEIN_FEED_PCT: Final = 34.0

#: Concentrate puts aside this much at least, so that what it does has a place in every row. [-]
LEAST_RATE: Final = 1e-4

#: Amounts of concentrate at which its rate is first read, percent of body weight.
FIRST_PCT_BW: Final = 0.3

#: Less than this is no amount, kg DM per head and day.
NOTHING_KG: Final = 1e-6


@dataclass(frozen=True, slots=True)
class FillTable:
    """What fills stock with free access, (groups, sources, periods) but for ``free``.

    ``free`` marks the groups and periods with free access, (groups, periods). ``alone_kg`` is what
    is eaten of a forage that is offered alone, NaN for what is no forage; ``per_kg`` the share of
    appetite that a kilogram of dry matter takes; ``appetite_kg`` an ordinary appetite by group,
    which only sets the scale of what is missed.
    """

    free: BoolArray
    alone_kg: FloatArray
    per_kg: FloatArray
    appetite_kg: FloatArray

    def shares(self, eaten: FloatArray) -> FloatArray:
        """Return the share of appetite that amounts take, (groups, periods)."""
        return np.asarray((np.nan_to_num(self.per_kg) * eaten).sum(axis=1))


def fill_of(
    farm: Farm,
    needs: NeedTable,
    sources: SourceTable,
    free: BoolArray,
    eaten: FloatArray | None = None,
    before: FillTable | None = None,
) -> FillTable:
    """Return what fills the stock of a farm.

    Parameters
    ----------
    farm : Farm
        Its feeds are read.
    needs : NeedTable
        Weights, milk and rules of appetite.
    sources : SourceTable
        What lots and feeds hold.
    free : array of bool
        The groups with free access.
    eaten : array, optional
        What is eaten of each source, (groups, sources, periods): concentrate then takes up the
        fill of the forage beside it, at the rate of its amount. [kg DM per head and day]
    before : FillTable, optional
        The same stock with other amounts: what they eat of a forage alone is taken from there.

    Returns
    -------
    FillTable
        Free where the group has free access, is here and has an equation of appetite.
    """
    here = free[:, None] & needs.here & ~needs.stated
    alone = _alone(needs, sources, here) if before is None else before.alone_kg
    known = np.isfinite(alone) & sources.allowed
    count = known.sum(axis=1, keepdims=True)
    usual = np.where(known, alone, 0.0).sum(axis=1, keepdims=True) / np.maximum(count, 1)
    here &= is_some(count)[:, 0, :]
    tdn = np.array([value.tdn_pct for value in sources.values])
    weight = np.isfinite(alone) if eaten is None else np.isfinite(alone) * eaten
    whole = weight.sum(axis=1, keepdims=True)
    fed = whole > NOTHING_KG
    safe = np.where(fed, whole, np.inf)
    eats = (np.nan_to_num(alone) * weight).sum(axis=1, keepdims=True) / safe
    beside = np.where(fed, eats, np.where(is_some(usual), usual, np.inf))
    quality = np.where(fed, (tdn[None, :, None] * weight).sum(axis=1, keepdims=True) / safe, 55.0)
    per_kg = 1.0 / alone
    for i, feed in enumerate(farm.feeds, start=sources.lot_count):
        kind = _kind_of(feed.kind, sources.values[i].cp_pct)
        if kind is None:
            continue
        pct = np.full(needs.head_days.shape, FIRST_PCT_BW)
        if eaten is not None:
            fed_pct = 100.0 * eaten[:, i, :] / needs.full_weight_kg
            pct = np.where(eaten[:, i, :] > NOTHING_KG, fed_pct, pct)
        rate = np.maximum(put_aside_rate(kind, pct, quality[:, 0, :]), LEAST_RATE)
        per_kg[:, i, :] = rate / beside[:, 0, :]
    per_kg = np.where(here[:, None, :], np.nan_to_num(per_kg), 0.0)
    weeks = np.maximum(here.sum(axis=1), 1)
    ordinary = np.where(here, usual[:, 0, :], 0.0).sum(axis=1) / weeks
    return FillTable(here, alone, per_kg, np.where(is_some(ordinary), ordinary, 1.0))


def _alone(needs: NeedTable, sources: SourceTable, here: BoolArray) -> FloatArray:
    """Return what is eaten of each forage alone: by its energy, and no more than fiber allows."""
    alone = np.full((*needs.head_days.shape[:1], len(sources.values), here.shape[1]), np.nan)
    rules = np.array(needs.intake_rule)
    for i, value in enumerate(sources.values):
        if not value.is_forage:
            continue
        for rule in np.unique(rules[here]).tolist():
            at = here & (rules == rule)
            alone[:, i, :][at] = appetite_kg(
                str(rule),
                needs.shrunk_weight_kg[at],
                value.nem_mcal_per_kg,
                needs.milk_kg[at],
                needs.intake_factor[at],
            )
        if is_some(value.ndf_pct):
            filled = needs.most_ndf_kg / (value.ndf_pct / 100.0)
            alone[:, i, :] = np.fmin(alone[:, i, :], np.where(here, filled, np.nan))
    return alone


def _kind_of(kind: FeedKind, cp_pct: float) -> Literal["protein", "fibre", "starch"] | None:
    """Return what a feed is for the forage it puts aside; ``None`` for forage and mineral."""
    if kind is FeedKind.GRAIN:
        return "starch"
    if kind is FeedKind.SUPPLEMENT:
        return "protein" if cp_pct >= PROTEIN_FEED_PCT else "fibre"
    return None


def held_steady(fill: FillTable, number: IntArray, weights: FloatArray) -> FillTable:
    """Return the mean of what fills over the weeks of each ration.

    Parameters
    ----------
    fill : FillTable
        By week.
    number : array of int, shape (groups, periods)
        The ration of each week, -1 where there is none.
    weights : array, shape (groups, periods)
        Head days.

    Returns
    -------
    FillTable
        The same in every week of a ration.
    """
    per_kg = fill.per_kg.copy()
    for g in range(len(number)):
        for one in set(number[g].tolist()) - {-1}:
            at = (number[g] == one) & fill.free[g]
            if at.any():
                mean = np.average(fill.per_kg[g][:, at], axis=1, weights=weights[g, at])
                per_kg[g][:, at] = mean[:, None]
    return replace(fill, per_kg=per_kg)
