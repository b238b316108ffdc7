"""Second look at every feeding: who may have it, when, how much, and what is put out."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import date
from typing import Final

from rickyard.animals import GOATS, HORSES, SMALL_RUMINANTS
from rickyard.farm import Farm, Feed, FeedKind, Group
from rickyard.program.audit.view import AuditView, Breach, at_most, compare, is_over
from rickyard.program.inputs import (
    LEAST_SHARE_OFFERED,
    MOST_GRAIN_PCT_BW,
    MOST_MINERAL_KG,
    SMALL_MINERAL_KG,
)
from rickyard.program.result import FeedingRow, GroupPeriod
from rickyard.quantities import is_some
from rickyard.stock.herd import may_hold_copper
from rickyard.stock.sheep import safe_copper_ppm


def feeding_breaches(look: AuditView) -> Iterator[Breach]:
    """Look for anything fed to an animal it is barred from, too early, late or much."""
    for row in look.program.feeding:
        yield from _row(look, row)
    for feed in look.farm.feeds:
        if feed.least_kg_per_head_day is not None:
            yield from _always_on_offer(look, feed)


def _row(look: AuditView, row: FeedingRow) -> Iterator[Breach]:
    where = f"{row.source_id} to {row.group_id} from {row.start}"
    if look.is_barred(row.group_id, row.source_id, row.period):
        yield Breach(f"{where}, kept from it", row.offered_kg, 0.0)
    cell = look.cells.get((row.group_id, row.period))
    if cell is None or row.eaten_kg_dm_per_head_day < 0:
        yield Breach(f"{where}, fed at all", row.eaten_kg_dm_per_head_day, 0.0)
        return
    eaten = row.eaten_kg_dm_per_head_day * cell.head * cell.days
    left = 1.0 - look.loss_frac(row.group_id, row.source_id)
    value = look.sources[row.source_id]
    offered = eaten / left / (value.dm_pct / 100.0)
    yield from compare(f"{where}, offered", row.offered_kg, offered)
    if row.bales is not None and value.bale_weight_kg is not None:
        yield from compare(f"{where}, bales", row.bales, offered / value.bale_weight_kg)
    if not look.in_season(row.source_id, row.period):
        yield Breach(f"{where}, outside its dates", row.offered_kg, 0.0)
    feed = look.feeds.get(row.source_id)
    if feed is not None:
        most = _most_kg_dm(look, feed, cell)
        yield from at_most(f"{where}, most a head", row.eaten_kg_dm_per_head_day, most)


def _most_kg_dm(look: AuditView, feed: Feed, cell: GroupPeriod) -> float:
    dm_frac = look.sources[feed.feed_id].dm_pct / 100.0
    if feed.most_kg_per_head_day is not None:
        small = look.farm.group(cell.group_id).animal_class in SMALL_RUMINANTS
        held = small and feed.kind is FeedKind.GRAIN
        usual = MOST_GRAIN_PCT_BW / 100.0 * cell.full_weight_kg if held else float("inf")
        return min(feed.most_kg_per_head_day * dm_frac, usual)
    if feed.kind is FeedKind.MINERAL:
        return _most_mineral_kg(look, feed, cell) * dm_frac
    if feed.kind is FeedKind.GRAIN:
        return MOST_GRAIN_PCT_BW / 100.0 * cell.full_weight_kg
    return float("inf")


#: What is eaten of a mineral of untold selenium or copper, by what is written as its intake.
TIMES_WRITTEN: Final = 1.5


def _most_mineral_kg(look: AuditView, feed: Feed, cell: GroupPeriod) -> float:
    """Return what one head may have of a mineral for which no most is written, as fed."""
    written = feed.least_kg_per_head_day
    most = max(MOST_MINERAL_KG, written or MOST_MINERAL_KG)
    if look.farm.group(cell.group_id).animal_class in SMALL_RUMINANTS:
        most = min(most, SMALL_MINERAL_KG)
    untold = feed.copper_ppm is None or feed.selenium_ppm is None
    if written is not None and untold and may_hold_copper(feed):
        most = min(most, TIMES_WRITTEN * _taken_kg(look, feed, cell))
    return most


def _always_on_offer(look: AuditView, feed: Feed) -> Iterator[Breach]:
    """Look for a mineral that every head should get and does not."""
    share = _even_share(look, feed) * look.sources[feed.feed_id].dm_pct / 100.0
    for cell in _due(look, feed):
        least = share * _taken_kg(look, feed, cell)
        got = look.eaten[cell.group_id, cell.period].get(feed.feed_id, 0.0)
        if is_over(least, got):
            name = look.farm.group(cell.group_id).name
            yield Breach(f"{feed.name} to {name}, period {cell.period}", got, least)


def _due(look: AuditView, feed: Feed) -> list[GroupPeriod]:
    """Return who should get a mineral that is always on offer, and when."""
    due = []
    for cell in look.cells.values():
        kept_off = look.is_barred(cell.group_id, feed.feed_id, cell.period)
        away = not look.in_season(feed.feed_id, cell.period)
        # Goats get one that is rich in copper only as far as the copper of their diet bears it.
        goats = look.farm.group(cell.group_id).animal_class in GOATS
        rich = goats and (feed.copper_ppm or 0.0) > safe_copper_ppm(["goat"])
        if not (look.is_own(cell) or kept_off or away or rich):
            due.append(cell)
    return due


def _taken_kg(look: AuditView, feed: Feed, cell: GroupPeriod) -> float:
    """Return what one head takes of a mineral: an ounce at most where sheep or goats do."""
    stated = feed.least_kg_per_head_day or 0.0
    small = look.farm.group(cell.group_id).animal_class in SMALL_RUMINANTS
    return min(stated, SMALL_MINERAL_KG) if small else stated


def _even_share(look: AuditView, feed: Feed) -> float:
    """Return the share of its mineral that every head can get of what can be bought."""
    most = most_kg(feed)
    if most is None:
        return 1.0
    wanted = sum(
        _taken_kg(look, feed, cell)
        * (cell.head * cell.days / (1.0 - look.loss_frac(cell.group_id, feed.feed_id)))
        for cell in _due(look, feed)
    )
    share = min(1.0, most / wanted) if is_some(wanted) else 1.0
    return share if share > LEAST_SHARE_OFFERED else 0.0


def most_kg(feed: Feed) -> float | None:
    """Return the most of a feed that can be bought, as fed: whole loads where it comes in loads.

    Examples
    --------
    >>> most_kg(Feed("C", "Corn", FeedKind.GRAIN, 0.2, most_kg=2500.0, load_kg=1000.0))
    2000.0
    """
    if feed.most_kg is None or feed.load_kg is None:
        return feed.most_kg
    loads = 0
    while (loads + 1) * feed.load_kg <= feed.most_kg * (1.0 + 1e-9):
        loads += 1
    return loads * feed.load_kg


#: A bale lasts horses no longer than this, and baleage any stock; small bales too are weighed out
#: beyond it. Less than the last is no longer. [d]
DAYS_OF_A_BALE: Final = 7.0
DAYS_OF_BALEAGE: Final = 3.0
LASTS_WITHIN: Final = 1e-6


def opened_by_day(farm: Farm, group: Group, bales: dict[str, dict[date, float]]) -> set[str]:
    """Return the hay of which a group gets part of a bale on each day.

    Parameters
    ----------
    farm : Farm
        Its lots are read.
    group : Group
        The group.
    bales : dict
        How many bales of each hay are asked for on each day.

    Returns
    -------
    set of str
        What would lie before them too long, and what is unrolled or lies in a bunk on days with
        less than a bale of any: it is eaten at once, and none would be there on the next.
    """
    kinds = {lot.lot_id: lot.package for lot in farm.lots}
    found = set()
    for hay, asked in bales.items():
        kind = kinds.get(hay)
        by_hand = group.animal_class in HORSES or kind in ("baleage", "small_square")
        fed = sum(1 for each in asked.values() if is_some(each))
        most = DAYS_OF_BALEAGE if kind == "baleage" else DAYS_OF_A_BALE
        if by_hand and fed > (most + LASTS_WITHIN) * sum(asked.values()):
            found.add(hay)
    if group.feeder in ("bunk", "unrolled_daily") and group.feed_every_days in (None, 1):
        for day in {day for asked in bales.values() for day in asked}:
            here = {hay: asked.get(day, 0.0) for hay, asked in bales.items()}
            if max(here.values()) < 1.0 - LASTS_WITHIN:
                found |= {hay for hay, each in here.items() if is_some(each)}
    return found
