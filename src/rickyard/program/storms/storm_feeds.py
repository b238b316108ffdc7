"""The hay and the grain of a farm by which more is fed in a storm."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date, timedelta

from rickyard.animals import HORSES
from rickyard.farm import Farm, FeedKind, Group, Lot
from rickyard.forage.energy import horse_de_from_tdn
from rickyard.forage.plausibility import lot_profile
from rickyard.forage.reading import read_lot
from rickyard.forage.values import feed_row
from rickyard.program.inputs import LOOK_BACK_DAYS, feed_values
from rickyard.quantities import is_some
from rickyard.safety import bindings, may_stand_in


@dataclass(frozen=True, slots=True)
class StormFeed:
    """A source by which more is fed: what a kilogram of it as fed brings, Mcal/kg."""

    source_id: str
    name: str
    mcal_per_kg: float

    def kg_for(self, mcal: float) -> float:
        """Return how much of it brings an energy, kg as fed.

        >>> StormFeed("A1", "Barn hay", 1.2).kg_for(3.0)
        2.5
        """
        return mcal / self.mcal_per_kg


def storm_feeds(farm: Farm, group: Group, first: date) -> tuple[StormFeed | None, StormFeed | None]:
    """Return the hay and the grain to add for a group, ``None`` where there is none fit.

    The hay is what the log says that they eat, else the largest lot, without a danger in its report
    or past and without a limit for them. Grain is added only where the log says that they eat it:
    cold is no time to begin, and hay warms them. Horses are given no more grain in any case.

    Parameters
    ----------
    farm : Farm
        Its lots, feeds, rules and feeding log are read.
    group : Group
        The group.
    first : date
        The first day looked at.

    Returns
    -------
    tuple of StormFeed or None
        The hay, then the grain that brings energy at the least price.
    """
    horse = group.animal_class in HORSES
    eaten = _eaten_on(farm, group, first)
    free = may_stand_in(group, farm)
    fit = [lot for lot in farm.lots if lot.lot_id in free and _is_fit(farm, lot)]
    hays = sorted(
        fit,
        key=lambda lot: (
            -eaten.get(lot.lot_id, date.min).toordinal(),
            -lot.bales * (lot.bale_weight_kg or 0.0),
            lot.lot_id,
        ),
    )
    hay = _hay(farm, hays[0], horse=horse) if hays else None
    if horse:
        return hay, None
    mine = [one for one in bindings(farm) if one.group_id == group.group_id]
    barred = {one.source_id for one in mine if one.bars}
    grains = [
        feed
        for feed in farm.feeds
        if feed.kind is FeedKind.GRAIN and feed.feed_id in eaten.keys() - barred
    ]
    told = [(feed, feed_values(feed, farm.season)[0]) for feed in grains]
    priced = [
        (one.usd_per_kg_dm / one.nem_mcal_per_kg, feed.feed_id, one)
        for feed, one in told
        if is_some(one.nem_mcal_per_kg)
        and (
            feed.tdn_pct is not None
            or (feed.table_id and feed_row(feed.table_id).recommended_tdn_pct)
        )
    ]
    if not priced:
        return hay, None
    best = min(priced, key=lambda entry: entry[:2])[2]
    return hay, StormFeed(best.source_id, best.name, best.nem_mcal_per_kg * best.dm_pct / 100.0)


def _eaten_on(farm: Farm, group: Group, first: date) -> dict[str, date]:
    """Return what a group was fed in the days before a day, each with the last of them."""
    since = first - timedelta(days=LOOK_BACK_DAYS)
    rows = [one for one in farm.fed if one.group_id == group.group_id and since <= one.day < first]
    return {one.source_id: one.day for one in sorted(rows, key=lambda row: row.day)}


def _is_fit(farm: Farm, lot: Lot) -> bool:
    cautions = read_lot(lot, farm.reports_of(lot.lot_id)).cautions
    return is_some(lot.bales) and not any(one.level == "danger" for one in cautions)


def _hay(farm: Farm, lot: Lot, *, horse: bool) -> StormFeed:
    profile = lot_profile(lot, farm.reports_of(lot.lot_id))
    energy = profile.nem_mcal_per_kg
    if horse:
        energy = float(horse_de_from_tdn(profile.tdn_pct))
    return StormFeed(lot.lot_id, lot.name, energy * profile.dm_pct / 100.0)
