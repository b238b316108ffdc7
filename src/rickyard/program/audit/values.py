"""Second look at what each lot and feed is said to hold, against reports, tags and tables."""

from __future__ import annotations

from collections.abc import Iterator
from statistics import fmean
from typing import Final

from rickyard.farm import Feed, FeedKind, Forage, Lot
from rickyard.forage.energy import neg_from_tdn, nem_from_tdn
from rickyard.forage.plausibility import lot_profile
from rickyard.forage.uncertainty import typical_values
from rickyard.forage.values import feed_row
from rickyard.nutrients import TAGGED, Tagged
from rickyard.program.audit.view import AuditView, Breach, compare, urea_pct
from rickyard.program.result import SourceValues

#: Starch of a grain of which none is known, that of corn. [% DM]
CORN_STARCH_PCT: Final = 72.1

#: Hay put aside by half a percent of weight of starch or of by-product beside middling hay, and
#: the fiber of that hay.
STARCH_ASIDE: Final = 0.7
BY_PRODUCT_ASIDE: Final = 0.3
HAY_NDF_PCT: Final = 60.0

_MAIN: Final = ("dm_pct", "tdn_pct", "cp_pct", "ndf_pct", "ca_pct", "p_pct")


def value_breaches(look: AuditView) -> Iterator[Breach]:
    """Compare the composition the program counted with the reports and the folder themselves."""
    for lot in look.farm.lots:
        yield from _lot(look, lot)
    for feed in look.farm.feeds:
        yield from _feed(look, feed)


def _lot(look: AuditView, lot: Lot) -> Iterator[Breach]:
    profile = lot_profile(lot, look.farm.reports_of(lot.lot_id))
    value = look.sources[lot.lot_id]
    for name in _MAIN:
        yield from compare(f"{lot.name}, {name}", getattr(value, name), getattr(profile, name))
    for one in TAGGED:
        measured = profile.measured.get(one.analyte)
        found = _typical(lot.forage, one) if measured is None else measured
        yield from _compare_known(f"{lot.name}, {one.field}", getattr(value, one.field), found)
    copper = profile.measured.get("cu")
    yield from _compare_known(f"{lot.name}, copper_ppm", value.copper_ppm, copper)


def _feed(look: AuditView, feed: Feed) -> Iterator[Breach]:
    value = look.sources[feed.feed_id]
    price = value.usd_per_kg_dm * value.dm_pct / 100.0
    yield from compare(f"{feed.name}, price", price, feed.price_usd_per_kg)
    for name in _MAIN:
        stated = getattr(feed, name)
        if stated is not None:
            yield from compare(f"{feed.name}, {name}", getattr(value, name), stated)
    row = feed_row(feed.table_id) if feed.table_id else None
    for one in TAGGED:
        name = one.field
        found = getattr(feed, name)
        if found is None and row is not None:
            found = getattr(row, one.table_field)
        if found is None and feed.kind in (FeedKind.FORAGE, FeedKind.GRAZING):
            found = _typical(None, one)
        if found is None and feed.kind is FeedKind.GRAIN and name == "starch_pct":
            found = CORN_STARCH_PCT
        yield from _compare_known(f"{feed.name}, {name}", getattr(value, name), found)
    yield from _beside_hay(look, feed, value)
    yield from _compare_known(f"{feed.name}, copper_ppm", value.copper_ppm, feed.copper_ppm)
    yield from compare(f"{feed.name}, npn_cp_pct", value.npn_cp_pct or 0.0, urea_pct(feed))
    claimed_nitrate, nitrate = value.nitrate_no3n_ppm, feed.nitrate_no3n_ppm
    yield from _compare_known(f"{feed.name}, nitrate", claimed_nitrate, nitrate)


def _beside_hay(look: AuditView, feed: Feed, value: SourceValues) -> Iterator[Breach]:
    """Compare what a feed is charged for the hay beside it: energy, and the room it takes."""
    if feed.kind in (FeedKind.FORAGE, FeedKind.GRAZING):
        yield from compare(f"{feed.name}, room", value.room_ndf_pct, value.ndf_pct)
        return
    counts = look.farm.season.grain_on_hay
    starchy = min((value.starch_pct or 0.0) / CORN_STARCH_PCT, 1.0) if counts else 0.0
    # 8.06 points of the digestibility of 1.2 % of weight of fiber, for each 1 % of weight.
    tdn = max(value.tdn_pct - 8.06 * 1.2 * starchy, 0.0)
    nem = float(nem_from_tdn(tdn))
    neg = float(neg_from_tdn(tdn))
    yield from compare(f"{feed.name}, nem_mcal_per_kg", value.nem_mcal_per_kg, nem)
    yield from compare(f"{feed.name}, neg_mcal_per_kg", value.neg_mcal_per_kg, neg)
    fibrous = counts and value.cp_pct < 30.0 and value.ndf_pct >= 20.0
    aside = STARCH_ASIDE * starchy + (BY_PRODUCT_ASIDE * (1.0 - starchy) if fibrous else 0.0)
    yield from compare(f"{feed.name}, room", value.room_ndf_pct, HAY_NDF_PCT * aside)


def _compare_known(what: str, claimed: float | None, found: float | None) -> Iterator[Breach]:
    if (claimed is None) != (found is None):
        yield Breach(f"{what}, known", float("nan" if claimed is None else claimed), found or 0.0)
    elif claimed is not None and found is not None:
        yield from compare(what, claimed, found)


def _typical(forage: Forage | None, asked: Tagged) -> float:
    """Return the mean of a forage's typical rows, or the cautious end of those of dry hay."""
    rows = [one for one in typical_values(quantity=asked.analyte) if one.mean is not None]
    means = {
        kind: fmean(one.mean or 0.0 for one in rows if one.forage == kind)
        for kind in {one.forage for one in rows}
    }
    if forage is not None and forage.value in means:
        return means[forage.value]
    dry = [mean for kind, mean in means.items() if kind != Forage.CORN_SILAGE.value]
    return max(dry) if asked.unknown == "most" else min(dry)
