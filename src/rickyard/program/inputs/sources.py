"""The lots and feeds as the season program counts them, and who may eat what, when."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from rickyard.farm import Assumption, Caution, Farm, FeedKind
from rickyard.forage.plausibility import LotProfile, lot_profiles
from rickyard.forage.reading import hazard_cautions
from rickyard.program.inputs.grain_effects import grain_notes
from rickyard.program.inputs.grazing import grazing_assumptions
from rickyard.program.inputs.needs import NeedTable
from rickyard.program.inputs.opening_stock import YardLot, yard_lot
from rickyard.program.inputs.source_limits import (
    feeding_losses,
    least_on_offer,
    most_a_head,
    shares_and_allowed,
    whole_loads,
)
from rickyard.program.inputs.source_values import feed_values, lot_prices, lot_values
from rickyard.program.result import SourceValues
from rickyard.safety import Binding, bindings, with_rules
from rickyard.types import BoolArray, FloatArray


@dataclass(frozen=True, slots=True)
class SourceTable:
    """Sources as arrays: lots first, then feeds.

    ``is_hay`` marks lots and bought hay, which rules about hay in use count.
    ``kept`` is what storage leaves of each lot in each period, shape (lots, t);
    ``feeding_loss_frac`` what is wasted of what is offered, (g, i); ``allowed`` who may eat
    what when, (g, i, t); ``share_limit`` the most of the ration dry matter, (g, i, t);
    ``most_kg_dm`` the most and ``least_kg_dm`` the least per head and day, (g, i, t); ``bound``
    the rules of safety behind them.
    ``load_kg_dm`` is the dry matter of a load, NaN for what is not bought in loads, (i,);
    ``sale_usd_per_kg_dm`` what a buyer pays, NaN for a lot that is not for sale, (lots,).
    """

    values: tuple[SourceValues, ...]
    lot_count: int
    is_mineral: BoolArray
    is_hay: BoolArray
    start_kg_dm: FloatArray
    kept: FloatArray
    most_buy_kg_dm: FloatArray
    load_kg_dm: FloatArray
    sale_usd_per_kg_dm: FloatArray
    feeding_loss_frac: FloatArray
    allowed: BoolArray
    share_limit: FloatArray
    most_kg_dm: FloatArray
    least_kg_dm: FloatArray
    bound: tuple[Binding, ...]
    cautions: tuple[Caution, ...]
    assumptions: tuple[Assumption, ...]


def sources_of(farm: Farm, needs: NeedTable) -> SourceTable:
    """Return every lot and feed of a farm as the program counts it.

    Parameters
    ----------
    farm : Farm
        Lots, reports, feeds, groups and season are read.
    needs : NeedTable
        Decides who is pregnant or too light for a feed, and the periods.

    Returns
    -------
    SourceTable
        Lots first, then feeds, in kilograms of dry matter and per kilogram of it.
    """
    told = lot_profiles(farm.lots, farm.reports)
    profiles = [told[lot.lot_id] for lot in farm.lots]
    yard = [
        yard_lot(farm, lot, profile.dm_pct, needs.periods)
        for lot, profile in zip(farm.lots, profiles, strict=True)
    ]
    prices, price_notes = lot_prices(farm.lots, profiles)
    feeds = [feed_values(feed, farm.season) for feed in farm.feeds]
    values = (
        *map(lot_values, profiles, yard, prices),
        *(value for value, _ in feeds),
    )
    loss, loss_notes = feeding_losses(farm)
    bound = bindings(farm)
    share, allowed = shares_and_allowed(farm, needs, bound)
    most_buy, load = _purchase_limits(farm, values)
    due = allowed * needs.head_days[:, None, :] / (1.0 - loss[:, :, None])
    least, scarce = least_on_offer(farm, values, needs, due, most_buy)
    notes = [
        *grain_notes(farm.feeds, farm.season),
        *price_notes,
        *loss_notes,
        *(note for profile in profiles for note in profile.assumptions),
        *(note for one in yard for note in one.assumptions),
        *(note for _, feed_notes in feeds for note in feed_notes),
        *(
            note
            for feed in farm.feeds
            if feed.kind is FeedKind.GRAZING
            for note in grazing_assumptions(feed)
        ),
    ]
    return SourceTable(
        values=values,
        lot_count=len(farm.lots),
        is_mineral=_of_kind(farm, FeedKind.MINERAL, lots=False),
        is_hay=_of_kind(farm, FeedKind.FORAGE, lots=True),
        start_kg_dm=np.array([one.start_kg_dm for one in yard]),
        kept=np.array([one.kept for one in yard]).reshape(len(yard), len(needs.periods)),
        most_buy_kg_dm=most_buy,
        load_kg_dm=load,
        sale_usd_per_kg_dm=_sale_prices(farm, profiles),
        feeding_loss_frac=loss,
        allowed=allowed,
        share_limit=share,
        most_kg_dm=most_a_head(farm, values, needs, bound),
        least_kg_dm=least,
        bound=bound,
        cautions=tuple(
            dict.fromkeys(
                [
                    *with_rules(_lot_cautions(farm, profiles, yard), farm, bound),
                    *scarce,
                ]
            )
        ),
        assumptions=tuple(dict.fromkeys(notes)),
    )


def _lot_cautions(farm: Farm, profiles: list[LotProfile], yard: list[YardLot]) -> list[Caution]:
    hazards = map(hazard_cautions, farm.lots, profiles)
    return [one for found in (*hazards, *(lot.cautions for lot in yard)) for one in found]


def _of_kind(farm: Farm, kind: FeedKind, *, lots: bool) -> BoolArray:
    return np.array(
        [lots] * len(farm.lots) + [feed.kind is kind for feed in farm.feeds], dtype=bool
    )


def _purchase_limits(farm: Farm, values: tuple[SourceValues, ...]) -> tuple[FloatArray, FloatArray]:
    """Return the most of each feed that can be bought, and what a load of each source holds."""
    lots = len(farm.lots)
    most = np.full(len(farm.feeds), np.inf)
    load = np.full(len(values), np.nan)
    for number, feed in enumerate(farm.feeds):
        dm_frac = values[lots + number].dm_pct / 100.0
        if feed.load_kg is not None:
            load[lots + number] = feed.load_kg * dm_frac
        if feed.most_kg is not None:
            loads = whole_loads(feed)
            kilograms = feed.most_kg if loads is None else loads * (feed.load_kg or 0.0)
            most[number] = kilograms * dm_frac
    return most, load


def _sale_prices(farm: Farm, profiles: list[LotProfile]) -> FloatArray:
    return np.array(
        [
            np.nan if lot.sale_usd_per_kg is None else lot.sale_usd_per_kg * 100.0 / profile.dm_pct
            for lot, profile in zip(farm.lots, profiles, strict=True)
        ]
    )
