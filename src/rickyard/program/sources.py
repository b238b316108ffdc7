"""The lots and feeds as the season program counts them, and who may eat what, when."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import timedelta
from typing import Final

import numpy as np
from numpy.typing import NDArray

from rickyard.farm import Assumption, Caution, Farm, Feed, Feeder, FeedKind, Group, Lot
from rickyard.forage.energy import neg_from_tdn, nem_from_tdn
from rickyard.forage.feed_table import feed_row
from rickyard.forage.hazards import is_nitrate_suspect, lot_cautions
from rickyard.forage.nitrate import nitrate_share_limit
from rickyard.forage.profile import LotProfile, lot_profile
from rickyard.hay.feeding import planning_feeding_loss_pct
from rickyard.program.needs import NeedTable
from rickyard.program.result import Period, SourceValues
from rickyard.program.yard import YardLot, yard_lot
from rickyard.stock.small.bars import bars

FloatArray = NDArray[np.float64]
BoolArray = NDArray[np.bool_]

#: Feeder taken for a group that names none: the commonest in print, and not the thriftiest.
USUAL_FEEDER: Final = Feeder.OPEN_RING

#: Most starch grain with hay: 0.5 % of body weight a day, acidosis above (Illinois Extension
#: 2015, feeds chapter 2).
MOST_GRAIN_PCT_BW: Final = 0.5

#: Most of a free-choice mineral, kg as fed per head and day: 4 oz (Clemson BC-3001).
MOST_MINERAL_KG: Final = 0.113398

#: A smaller share than this of what stock would take of a mineral is none. Common practice.
LEAST_SHARE_OFFERED: Final = 0.001

#: No urea below this live weight, kg: 450 lb (Ohio State, Little 2019; Alberta).
LEAST_WEIGHT_FOR_UREA_KG: Final = 204.117


@dataclass(frozen=True, slots=True)
class SourceTable:
    """Sources as arrays: lots first, then feeds.

    ``kept`` is what storage leaves of each lot in each period, shape (lots, t);
    ``feeding_loss_frac`` what is wasted of what is offered, (g, i); ``allowed`` who may eat
    what when, (g, i, t); ``share_limit`` the most of the ration dry matter, (g, i, t);
    ``most_kg_dm`` the most and ``least_kg_dm`` the least per head and day, (g, i, t).
    """

    values: tuple[SourceValues, ...]
    lot_count: int
    is_mineral: BoolArray
    start_kg_dm: FloatArray
    kept: FloatArray
    most_buy_kg_dm: FloatArray
    feeding_loss_frac: FloatArray
    allowed: BoolArray
    share_limit: FloatArray
    most_kg_dm: FloatArray
    least_kg_dm: FloatArray
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
    """
    profiles = [lot_profile(lot, farm.reports_of(lot.lot_id)) for lot in farm.lots]
    yard = [
        yard_lot(farm, lot, profile.dm_pct, needs.periods)
        for lot, profile in zip(farm.lots, profiles, strict=True)
    ]
    prices, price_notes = _lot_prices(farm.lots, profiles)
    feeds = [_feed_values(feed) for feed in farm.feeds]
    values = (
        *(
            _lot_values(profile, one, price)
            for profile, one, price in zip(profiles, yard, prices, strict=True)
        ),
        *(value for value, _ in feeds),
    )
    loss, loss_notes = _feeding_losses(farm)
    share, allowed = _limits(farm, profiles, values, needs)
    most_buy = np.array(
        [
            np.inf if feed.most_kg is None else feed.most_kg * value.dm_pct / 100.0
            for feed, (value, _) in zip(farm.feeds, feeds, strict=True)
        ]
    )
    due = allowed * needs.head_days[:, None, :] / (1.0 - loss[:, :, None])
    least, scarce = _least(farm, values, needs, due, most_buy)
    notes = [
        *price_notes,
        *loss_notes,
        *(note for profile in profiles for note in profile.assumptions),
        *(note for one in yard for note in one.assumptions),
        *(note for _, feed_notes in feeds for note in feed_notes),
    ]
    cautions = [
        *(
            caution
            for lot, profile in zip(farm.lots, profiles, strict=True)
            for caution in lot_cautions(lot, profile)
        ),
        *(caution for one in yard for caution in one.cautions),
        *scarce,
    ]
    periods = len(needs.periods)
    return SourceTable(
        values=values,
        lot_count=len(farm.lots),
        is_mineral=np.array(
            [False] * len(farm.lots) + [feed.kind is FeedKind.MINERAL for feed in farm.feeds],
            dtype=bool,
        ),
        start_kg_dm=np.array([one.start_kg_dm for one in yard]),
        kept=np.array([one.kept for one in yard]).reshape(len(yard), periods),
        most_buy_kg_dm=most_buy,
        feeding_loss_frac=loss,
        allowed=allowed,
        share_limit=share,
        most_kg_dm=_most(farm, values, needs),
        least_kg_dm=least,
        cautions=tuple(dict.fromkeys(cautions)),
        assumptions=tuple(dict.fromkeys(notes)),
    )


def _lot_values(profile: LotProfile, one: YardLot, usd_per_kg_dm: float) -> SourceValues:
    return SourceValues(
        source_id=one.lot.lot_id,
        kind="lot",
        name=one.lot.name,
        is_forage=True,
        dm_pct=profile.dm_pct,
        tdn_pct=profile.tdn_pct,
        nem_mcal_per_kg=profile.nem_mcal_per_kg,
        neg_mcal_per_kg=profile.neg_mcal_per_kg,
        cp_pct=profile.cp_pct,
        ndf_pct=profile.ndf_pct,
        ca_pct=profile.ca_pct,
        p_pct=profile.p_pct,
        nitrate_no3n_ppm=profile.nitrate_no3n_ppm,
        usd_per_kg_dm=usd_per_kg_dm,
        bale_weight_kg=one.bale_weight_kg,
        origins=dict(profile.origins),
    )


def _lot_prices(
    lots: Sequence[Lot], profiles: Sequence[LotProfile]
) -> tuple[list[float], list[Assumption]]:
    known = [
        None if lot.value_usd_per_kg is None else lot.value_usd_per_kg * 100.0 / profile.dm_pct
        for lot, profile in zip(lots, profiles, strict=True)
    ]
    stated = [price for price in known if price is not None]
    usual = float(np.mean(stated)) if stated else 0.0
    notes = []
    for lot, price in zip(lots, known, strict=True):
        if price is None:
            as_what = (
                "the mean value of the other lots" if stated else "nothing, as no lot has a value"
            )
            notes.append(
                Assumption(
                    f"No value is given for {lot.name}; its dry matter is counted at {as_what}.",
                    "common practice, no published source",
                )
            )
    return [usual if price is None else price for price in known], notes


#: Nutrients a feed may leave to the table, and what a mineral lacks by its nature.
_FROM_TABLE: Final = ("dm_pct", "tdn_pct", "cp_pct", "ndf_pct", "ca_pct", "p_pct")


def _feed_values(feed: Feed) -> tuple[SourceValues, tuple[Assumption, ...]]:
    row = feed_row(feed.table_id) if feed.table_id else None
    values: dict[str, float] = {}
    origins: dict[str, str] = {}
    missing: list[str] = []
    for name in _FROM_TABLE:
        stated = getattr(feed, name)
        tabled = (
            None
            if row is None
            else getattr(row, "recommended_tdn_pct" if name == "tdn_pct" else name)
        )
        if stated is not None:
            values[name], origins[name] = float(stated), "stated"
        elif tabled is not None:
            values[name], origins[name] = float(tabled), "table"
        else:
            values[name], origins[name] = (100.0 if name == "dm_pct" else 0.0), "book"
            missing.append(name)
    dm_frac = values["dm_pct"] / 100.0
    tdn = values["tdn_pct"]
    value = SourceValues(
        source_id=feed.feed_id,
        kind="feed",
        name=feed.name,
        is_forage=feed.kind is FeedKind.FORAGE,
        dm_pct=values["dm_pct"],
        tdn_pct=tdn,
        nem_mcal_per_kg=float(nem_from_tdn(tdn)) if tdn > 0 else 0.0,
        neg_mcal_per_kg=float(neg_from_tdn(tdn)) if tdn > 0 else 0.0,
        cp_pct=values["cp_pct"],
        ndf_pct=values["ndf_pct"],
        ca_pct=values["ca_pct"],
        p_pct=values["p_pct"],
        nitrate_no3n_ppm=feed.nitrate_no3n_ppm,
        usd_per_kg_dm=feed.price_usd_per_kg / dm_frac,
        bale_weight_kg=feed.bale_weight_kg,
        origins=origins,
    )
    return value, _feed_notes(feed, row is not None, missing)


_PLAIN: Final = {
    "dm_pct": "dry matter",
    "tdn_pct": "TDN",
    "cp_pct": "protein",
    "ndf_pct": "fiber (NDF)",
    "ca_pct": "calcium",
    "p_pct": "phosphorus",
}


def _feed_notes(feed: Feed, tabled: bool, missing: Sequence[str]) -> tuple[Assumption, ...]:
    notes = []
    if tabled:
        notes.append(
            Assumption(
                f"What the folder does not state of {feed.name} comes from the feed table, row "
                f"{feed.table_id}; the tag of the bag is better.",
                "NASEM 2016 Table 18-1 and the other sources named in the feed table",
            )
        )
    # A mineral has no energy, protein or fiber by its nature; that is no assumption.
    worth_saying = [
        name for name in missing if feed.kind is not FeedKind.MINERAL or name == "dm_pct"
    ]
    if worth_saying:
        names = ", ".join(_PLAIN[name] for name in worth_saying if name != "dm_pct")
        if names:
            notes.append(
                Assumption(
                    f"Nothing is known of {names} in {feed.name}, so none is counted on from it; "
                    "write the value of the tag into feeds.csv.",
                    "the cautious side: an unknown supply is not relied on",
                )
            )
        if "dm_pct" in worth_saying:
            notes.append(
                Assumption(
                    f"{feed.name} is counted as dry (100 % dry matter): none is stated.",
                    "common practice, no published source",
                )
            )
    return tuple(notes)


def _feeding_losses(farm: Farm) -> tuple[FloatArray, list[Assumption]]:
    count = len(farm.lots) + len(farm.feeds)
    loss = np.zeros((len(farm.groups), count))
    notes: list[Assumption] = []
    for g, group in enumerate(farm.groups):
        for i, lot in enumerate(farm.lots):
            loss[g, i] = _hay_loss_pct(group, lot) / 100.0
        for i, feed in enumerate(farm.feeds, start=len(farm.lots)):
            loss[g, i] = _feed_loss_pct(group, feed) / 100.0
        if group.feeding_loss_pct is None and group.feeder is None:
            notes.append(
                Assumption(
                    f"No feeder is named for {group.name}; the loss of an open ring is taken.",
                    "Oklahoma State University and University of Missouri, open rings about 20 %",
                )
            )
    if any(
        feed.feeding_loss_pct is None and feed.kind is not FeedKind.FORAGE for feed in farm.feeds
    ):
        notes.append(
            Assumption(
                "Supplements, grain and minerals are fed in troughs and none is wasted, unless "
                "feeds.csv states a loss.",
                "common practice, no published source",
            )
        )
    return loss, notes


def _hay_loss_pct(group: Group, lot: Lot) -> float:
    if group.feeding_loss_pct is not None:
        return group.feeding_loss_pct
    return planning_feeding_loss_pct(group.feeder or USUAL_FEEDER, lot.storage)


def _feed_loss_pct(group: Group, feed: Feed) -> float:
    if feed.feeding_loss_pct is not None:
        return feed.feeding_loss_pct
    if feed.kind is not FeedKind.FORAGE:
        return 0.0
    if group.feeding_loss_pct is not None:
        return group.feeding_loss_pct
    return planning_feeding_loss_pct(group.feeder or USUAL_FEEDER)


def _limits(
    farm: Farm,
    profiles: Sequence[LotProfile],
    values: Sequence[SourceValues],
    needs: NeedTable,
) -> tuple[FloatArray, BoolArray]:
    """Return shares of the ration and who may eat what, from hazards and dates."""
    shape = (len(farm.groups), len(values), len(needs.periods))
    share = np.ones(shape)
    allowed = np.ones(shape, dtype=bool)
    for i, (lot, profile) in enumerate(zip(farm.lots, profiles, strict=True)):
        allowed[:, i, :] &= _in_time(lot, needs.periods)
        nitrate = profile.nitrate_no3n_ppm
        if nitrate is not None:
            pregnant = nitrate_share_limit(nitrate, pregnant=True)
            other = nitrate_share_limit(nitrate, pregnant=False)
            share[:, i, :] = np.where(needs.pregnant, pregnant, other)
        elif is_nitrate_suspect(lot) or profile.nitrate_unstated_ppm is not None:
            # At risk and untested, or tested in a form nobody named: no pregnant animal eats it
            # before a test says it is safe.
            share[:, i, :] = np.where(needs.pregnant, 0.0, 1.0)
    for i, feed in enumerate(farm.feeds, start=len(farm.lots)):
        if feed.npn_cp_pct:
            allowed[:, i, :] &= needs.full_weight_kg >= LEAST_WEIGHT_FOR_UREA_KG
    group_at = {group.group_id: g for g, group in enumerate(farm.groups)}
    source_at = {value.source_id: i for i, value in enumerate(values)}
    for bar in bars(farm):
        allowed[group_at[bar.group_id], source_at[bar.source_id], :] = False
    return share, allowed & (share > 0)


def _in_time(lot: Lot, periods: Sequence[Period]) -> BoolArray:
    return np.array(
        [
            (lot.feed_from is None or period.start >= lot.feed_from)
            and (
                lot.feed_by is None or period.start + timedelta(days=period.days - 1) <= lot.feed_by
            )
            for period in periods
        ],
        dtype=bool,
    )


def _least(
    farm: Farm,
    values: Sequence[SourceValues],
    needs: NeedTable,
    due: FloatArray,
    most_buy_kg_dm: FloatArray,
) -> tuple[FloatArray, list[Caution]]:
    """Return what each head takes of a mineral on offer, kg DM; nothing where needs are stated.

    ``due`` is what has to be offered in each period for one kilogram a head and day. Where less
    can be bought than all of them take, every head gets its even share, and a caution says so.
    """
    least = np.zeros((len(farm.groups), len(values), len(needs.periods)))
    scarce = []
    for number, feed in enumerate(farm.feeds):
        if feed.least_kg_per_head_day is None:
            continue
        i = len(farm.lots) + number
        taken = feed.least_kg_per_head_day * values[i].dm_pct / 100.0
        least[:, i, :] = np.where(needs.stated, 0.0, taken)
        wanted = float((least[:, i, :] * due[:, i, :]).sum())
        if wanted <= most_buy_kg_dm[number]:
            continue
        share = float(most_buy_kg_dm[number]) / wanted
        least[:, i, :] *= share if share > LEAST_SHARE_OFFERED else 0.0
        scarce.append(_too_little_on_offer(feed, share))
    return least, scarce


def _too_little_on_offer(feed: Feed, share: float) -> Caution:
    return Caution(
        "warning",
        feed.feed_id,
        f"{feed.name} is to be on offer all season, but no more can be bought than "
        f"{100.0 * share:.0f} % of what the stock would take: raise most_kg in feeds.csv, or "
        "expect to run out.",
        "least_kg_per_head_day and most_kg of feeds.csv",
    )


def _most(farm: Farm, values: Sequence[SourceValues], needs: NeedTable) -> FloatArray:
    """Return the most of each source per head and day, kg DM."""
    most = np.full((len(farm.groups), len(values), len(needs.periods)), np.inf)
    for i, feed in enumerate(farm.feeds, start=len(farm.lots)):
        dm_frac = values[i].dm_pct / 100.0
        if feed.most_kg_per_head_day is not None:
            most[:, i, :] = feed.most_kg_per_head_day * dm_frac
        elif feed.kind is FeedKind.MINERAL:
            # One who says that stock take more than is published has seen them do it.
            most[:, i, :] = max(MOST_MINERAL_KG, feed.least_kg_per_head_day or 0.0) * dm_frac
        elif feed.kind is FeedKind.GRAIN:
            most[:, i, :] = MOST_GRAIN_PCT_BW / 100.0 * needs.full_weight_kg
    return most
