"""The seasons of a farm side by side: what hay came and went, what it cost, how good it was."""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from datetime import date, timedelta
from typing import Any, Final
from uuid import UUID

from rickyard.book import records
from rickyard.book.acting import allow, heard_of, held_or_read
from rickyard.book.looking import Costs, HayOfLot, costs_of, dated, hay_of, put_out
from rickyard.book.services import Count, read_counts, read_farm, read_things
from rickyard.book.years.quality import HayTested, mean_by_mass, quality_of, values_tested
from rickyard.farm import Farm, Lot
from rickyard.forage.plausibility import lot_profile
from rickyard.service import Held, worked_out
from rickyard.service.sections import as_shown

#: Lines of a lot's book by what they are to the whole yard; what is moved from lot to lot is none.
_PUT_UP: Final = ("opening", "put_up")
_LOST: Final = ("lost", "correction", "count", "missing")


#: A season: the farm in it, what became of each lot, which were left over, and their counts.
_Known = tuple[Farm, Sequence[HayOfLot], set[str], Mapping[str, Sequence[Count]]]


@dataclass(frozen=True, slots=True)
class Hay:
    """Hay of a season as fed, each lot at its own dry matter. [kg].

    ``over`` came from the season before, ``put_up`` was put up or stood there when its book began,
    ``odd`` is lost, corrected, or explained by no line: more where it is above zero. ``fed`` is
    ``None`` where nothing is noted.
    """

    over: float
    put_up: float
    bought: float
    fed: float | None
    sold: float
    odd: float
    storage: float
    left: float


@dataclass(frozen=True, slots=True)
class SeasonFacts:
    """A season up to a day. ``costs`` is ``None`` for who may not see them, or of nothing noted.

    ``feed_kg`` is bought feed as it was fed. Means are of the hay that came in the season and is
    tested, by its dry matter; ``tested_pct`` says how much of it that is. [% DM]
    """

    season: UUID
    start: date
    end: date
    until: date
    hay: Hay
    feed_kg: float
    costs: Costs | None
    cp_pct: float | None
    tdn_pct: float | None
    tested_pct: float | None


@dataclass(frozen=True, slots=True)
class Years:
    """The seasons of a farm, the newest first, and what its hay tested over all of them."""

    farm: Farm
    seasons: tuple[SeasonFacts, ...]
    quality: tuple[HayTested, ...]


def years_of(person: Any, farm_id: UUID, day: date) -> Years:
    """Return the seasons of a farm side by side.

    Parameters
    ----------
    person : records.Person or None
        Who asks; money is left out for who may not see it.
    farm_id : UUID
        The farm.
    day : date
        The last day that is looked at.

    Returns
    -------
    Years
        Every season that has begun to be written, worked out from its ledgers.

    Raises
    ------
    CannotWorkOut
        If neither weight nor size of a lot's bales is known.
    """
    allow("read farm", person, farm_id)
    seasons = tuple(records.Season.objects.filter(farm_id=farm_id).values_list("id", flat=True))
    heard = heard_of("read farm", person, seasons[0])
    priced = heard.may("read costs")
    return held_or_read(
        _held,
        (farm_id, heard.line, day, priced),
        lambda: _side_by_side(person, seasons, day, priced=priced),
    )


#: Years by the newest line of the trail and the day, with and without costs.
_held: Final = Held[tuple[UUID, UUID, date, bool], Years](32)


def _side_by_side(person: Any, seasons: Sequence[UUID], day: date, *, priced: bool) -> Years:
    rows = [(as_shown(read_farm(person, one)).farm, one) for one in seasons]
    rows.sort(key=lambda one: one[0].season.start)
    found: list[SeasonFacts] = []
    lots: dict[UUID, tuple[Farm, Lot]] = {}
    with worked_out():
        for farm, season in rows:
            there = read_things(person, season, "lot")
            things = [(thing, farm.lot(lot.lot_id)) for thing, _, lot in there]
            over = {lot.lot_id for thing, lot in things if thing in lots}
            counts = read_counts(person, season)
            until = min(day, farm.season.end - timedelta(days=1))
            hay = [hay_of(farm, lot, counts[lot.lot_id], until) for _, lot in things]
            found.append(_season(season, (farm, hay, over, counts), until, priced=priced))
            # A lot that was left over is this year's hay no more; its first season has all of it.
            lots |= {thing: (farm, lot) for thing, lot in things if thing not in lots}
        quality = quality_of(lots)
    return Years(rows[-1][0], tuple(found[::-1]), quality)


def _season(season: UUID, known: _Known, until: date, *, priced: bool) -> SeasonFacts:
    farm, hay, over, counts = known
    lots = {lot.lot_id for lot in farm.lots}
    lines = [one for one in put_out(farm, until) if one.row.day >= farm.season.start]
    prices = {**dated(season, "lot"), **dated(season, "feed")} if priced else {}
    values = []
    for one in hay:
        came = math.fsum(
            kg for kind, kg in one.account.dry_kg.items() if kind in (*_PUT_UP, "bought")
        )
        if one.lot.lot_id not in over and came > 0.0:
            profile = lot_profile(one.lot, farm.reports_of(one.lot.lot_id))
            values.append((came, values_tested(profile)))
    whole = math.fsum(kg for kg, _ in values)
    tested = math.fsum(kg for kg, found in values if found)
    return SeasonFacts(
        season,
        farm.season.start,
        farm.season.end,
        until,
        _hay(farm, hay, over, counts, is_noted=any(one.row.source_id in lots for one in lines)),
        math.fsum(one.as_fed_kg or 0.0 for one in lines if one.row.source_id not in lots),
        costs_of(farm, prices, dated(season, "group"), None, until) if priced else None,
        mean_by_mass((found["cp_pct"], kg) for kg, found in values if "cp_pct" in found),
        mean_by_mass((found["tdn_pct"], kg) for kg, found in values if "tdn_pct" in found),
        100.0 * tested / whole if whole > 0.0 else None,
    )


def _hay(
    farm: Farm,
    hay: Sequence[HayOfLot],
    over: set[str],
    counts: Mapping[str, Sequence[Count]],
    *,
    is_noted: bool,
) -> Hay:
    """Return what became of all hay of a season; what goes is told as it is, without a sign."""
    sums: dict[str, float] = {}
    for one in hay:
        dm = lot_profile(one.lot, farm.reports_of(one.lot.lot_id)).dm_pct / 100.0
        is_over = one.lot.lot_id in over
        kinds = _by_kind(one.account.dry_kg, is_over=is_over)
        kinds["storage"] = one.account.storage_loss_kg
        if is_over:
            # What storage took before its count is the loss of the season before.
            before = _lost_before(one, counts[one.lot.lot_id])
            kinds["over"] = kinds.get("over", 0.0) - before
            kinds["storage"] -= before
        kinds["left"] = one.account.closing_dry_kg
        for name, kg in kinds.items():
            sums[name] = sums.get(name, 0.0) + kg / dm
    return Hay(
        over=sums.get("over", 0.0),
        put_up=sums.get("put_up", 0.0),
        bought=sums.get("bought", 0.0),
        fed=-sums.get("fed", 0.0) if is_noted else None,
        sold=-sums.get("sold", 0.0),
        odd=sums.get("odd", 0.0),
        storage=sums.get("storage", 0.0),
        left=sums.get("left", 0.0),
    )


def _lost_before(one: HayOfLot, counts: Sequence[Count]) -> float:
    """Return what storage took of a lot between baling and its first count. [kg DM]."""
    opening = one.account.dry_kg.get("opening", 0.0)
    return opening - one.account.bales.get("opening", 0.0) * one.book.dry_per_bale(counts[0].day)


def _by_kind(dry_kg: Mapping[str, float], *, is_over: bool) -> dict[str, float]:
    found: dict[str, float] = {}
    for kind, kg in dry_kg.items():
        name = kind
        if kind in _PUT_UP:
            name = "over" if is_over else "put_up"
        elif kind in _LOST:
            name = "odd"
        found[name] = found.get(name, 0.0) + kg
    return found
