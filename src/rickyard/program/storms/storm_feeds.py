"""The hay and the grain of a farm by which more is fed in a storm."""

from __future__ import annotations

from dataclasses import dataclass

from rickyard.animals import HORSES
from rickyard.farm import Farm, FeedKind, Group, Lot
from rickyard.forage.energy import horse_de_from_tdn
from rickyard.forage.plausibility import lot_profile
from rickyard.forage.reading import read_lot
from rickyard.forage.values import feed_row
from rickyard.program.inputs import feed_values
from rickyard.quantities import is_some


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


def storm_feeds(farm: Farm, group: Group) -> tuple[StormFeed | None, StormFeed | None]:
    """Return the hay and the grain to add for a group, ``None`` where there is none fit.

    The hay is the largest lot without a danger in its report or past, the grain brings energy at
    the least price. Horses are given no more grain in cold: hay warms them, and grain founders.
    """
    horse = group.animal_class in HORSES
    fit = [lot for lot in farm.lots if _is_fit(farm, lot)]
    hays = sorted(fit, key=lambda lot: (-lot.bales * (lot.bale_weight_kg or 0.0), lot.lot_id))
    hay = _hay(farm, hays[0], horse=horse) if hays else None
    if horse:
        return hay, None
    grains = [feed for feed in farm.feeds if feed.kind is FeedKind.GRAIN]
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


def _is_fit(farm: Farm, lot: Lot) -> bool:
    cautions = read_lot(lot, farm.reports_of(lot.lot_id)).cautions
    return is_some(lot.bales) and not any(one.level == "danger" for one in cautions)


def _hay(farm: Farm, lot: Lot, *, horse: bool) -> StormFeed:
    profile = lot_profile(lot, farm.reports_of(lot.lot_id))
    energy = profile.nem_mcal_per_kg
    if horse:
        energy = float(horse_de_from_tdn(profile.tdn_pct))
    return StormFeed(lot.lot_id, lot.name, energy * profile.dm_pct / 100.0)
