"""The next season of a farm, begun from its last: what is left of the hay, stock a year older."""

from __future__ import annotations

from collections.abc import Collection, Mapping
from dataclasses import dataclass, replace
from datetime import date, timedelta
from typing import Any, Final
from uuid import UUID, uuid4

from rickyard import farm as plain
from rickyard.book import records
from rickyard.book.acting import NotTaken, NotThere, acting, allow
from rickyard.book.folders import farm_of, store_season
from rickyard.book.services.done import Done, season_there
from rickyard.book.services.rules import look_at
from rickyard.display import clean, count_text, display_for, listed
from rickyard.farm import AnimalClass
from rickyard.forage.plausibility import lot_profile
from rickyard.hay.sampling import UNKNOWN_RAIN_MM
from rickyard.hay.storage import (
    dry_per_bale,
    lot_book,
    mean_bale_kg,
)

#: Less of a lot is nothing that could be fed. [bales]
_NOTHING: Final = 0.01

_DAYS_PER_YEAR: Final = 365.25
_DAYS_PER_MONTH: Final = _DAYS_PER_YEAR / 12.0

#: What they have become when they are a year older and have had their first young.
_GROWN_UP: Final[Mapping[AnimalClass, AnimalClass]] = {
    AnimalClass.BRED_HEIFER: AnimalClass.COW,
    AnimalClass.FIRST_CALF_HEIFER: AnimalClass.COW,
    AnimalClass.EWE_LAMB: AnimalClass.EWE,
}

#: Stock that grows: last year's weight and pace say nothing of this year's, nor who they are.
_GROWS: Final = frozenset(
    {
        AnimalClass.REPLACEMENT_HEIFER,
        AnimalClass.STOCKER,
        AnimalClass.FEEDER_LAMB,
        AnimalClass.KID,
        AnimalClass.YOUNG_HORSE,
        AnimalClass.DAIRY_HEIFER,
    }
)


@dataclass(frozen=True, slots=True)
class Next:
    """A season as it would be begun from the last.

    ``asks`` are sentences about what is to be looked at again; ``prices`` what each feed cost last
    time, by its short name [US dollars per kg].
    """

    farm: plain.Farm
    asks: tuple[str, ...]
    prices: dict[str, float]


def next_season(person: Any, season_id: UUID, start: date, end: date, counted_on: date) -> Next:
    """Return the season that would be begun from one, without writing anything.

    Parameters
    ----------
    person : records.Person or None
        Who asks.
    season_id : UUID
        The last season.
    start, end : date
        The first day fed of the new one, and the first no longer fed.
    counted_on : date
        The morning on which what is left of the hay stands as the book says.

    Returns
    -------
    Next
        The farm in that season, and what is asked.

    Raises
    ------
    NotTaken
        If the days do not follow the last season, or something is noted in it after the count.
    """
    season = season_there(person, season_id)
    allow("begin season", person, season.farm_id)
    farm = farm_of(season)
    _refuse_days(farm, start, end, counted_on)
    years = round((start - farm.season.start).days / _DAYS_PER_YEAR)
    lots, gone = _lots(farm, start, counted_on)
    groups, left_out = _groups(farm, start, years)
    there = {lot.lot_id for lot in lots}
    known = _moved(farm.season.winter_known_on, years)
    begun = replace(
        farm,
        season=replace(farm.season, start=start, end=end, weighed_on=None, winter_known_on=known),
        lots=lots,
        reports=tuple(one for one in farm.reports if one.lot_id in there),
        groups=groups,
        feeds=tuple(_feed(one, years) for one in farm.feeds),
        needs=(),
        # What a month is like holds each year; what a day was like does not.
        weather=tuple(one for one in farm.weather if one.monthly),
        fed=(),
        moves=(),
        wishes=(),
        stacks=tuple(one for one in farm.stacks if one.lot_id in there),
    )
    asks = _asks(farm, begun, gone, left_out)
    return Next(begun, asks, {one.feed_id: one.price_usd_per_kg for one in farm.feeds})


def begin_season(
    person: Any,
    season_id: UUID,
    start: date,
    end: date,
    counted_on: date,
    prices: Mapping[str, float],
    *,
    without: Collection[str] = (),
    fact: UUID | None = None,
) -> Done:
    """Begin a season from the last, which stays as it was.

    Parameters
    ----------
    person : records.Person or None
        Who begins it.
    season_id : UUID
        The last season.
    start, end : date
        The first day fed, and the first no longer fed.
    counted_on : date
        The morning on which what is left of the hay stands as the book says.
    prices : mapping of str to float
        What each feed costs now, by its short name. [US dollars per kg]
    without : collection of str
        Short names of feeds that are not offered any more.
    fact : UUID, optional
        The id of the new season, so that it is begun once however often it is asked for.

    Returns
    -------
    Done
        The new season is the thing; questions say what is to be looked at again.

    Raises
    ------
    NotTaken
        If a price is not said again, a season begins on that day already, or a rule of the farm
        folder is broken.
    """
    last = season_there(person, season_id)
    with acting("begin season", person, last.farm_id, f"{start} to {end}") as act:
        sent = None if fact is None else records.Season.objects.filter(id=fact).first()
        if sent is not None:
            if sent.farm_id != last.farm_id:
                raise NotThere
            return Done(sent.id, sent.id, is_new=False)
        _refuse_same(last, start)
        found = next_season(person, season_id, start, end, counted_on)
        wanted = replace(found.farm, feeds=_priced(found, prices, without))
        looked = look_at(wanted, "labs")
        season = store_season(
            replace(looked.farm, weather=wanted.weather), last, fact or uuid4(), act.line
        )
    return Done(season.id, season.id, questions=(*found.asks, *looked.questions))


def _refuse_days(farm: plain.Farm, start: date, end: date, counted_on: date) -> None:
    day = display_for(farm.units).day_year_text
    if start <= farm.season.start or end <= start:
        raise NotTaken(
            f"A season from {day(start)} to {day(end)} does not follow the one that began on "
            f"{day(farm.season.start)}. Name a later first day, and a last day after it."
        )
    noted = [*(row.day for row in farm.fed), *(row.day for row in farm.moves)]
    lines = [one for one in noted if one >= counted_on]
    counts = [lot.counted_on for lot in farm.lots if lot.counted_on > counted_on]
    if lines or counts:
        raise NotTaken(
            f"The last season says what became of hay on {day(max((*lines, *counts)))}, and what "
            f"is left would be taken as of the morning of {day(counted_on)}. Name a later day "
            "for that."
        )


def _refuse_same(last: Any, start: date) -> None:
    same = records.SeasonState.objects.filter(thing__farm_id=last.farm_id, start=start)
    if same.exists():
        raise NotTaken(
            f"This farm has a season that begins on {start}. Look at its list of years, or name "
            "another first day."
        )


def _lots(
    farm: plain.Farm, start: date, counted_on: date
) -> tuple[tuple[plain.Lot, ...], list[str]]:
    """Return the lots of which something is left, and the names of those that are gone."""
    kept, gone = [], []
    for lot in farm.lots:
        left = _left(farm, lot, counted_on)
        if left is None:
            gone.append(lot.name)
        else:
            late = left.feed_by is not None and left.feed_by <= start
            kept.append(replace(left, feed_by=None) if late else left)
    return tuple(kept), gone


def _left(farm: plain.Farm, lot: plain.Lot, counted_on: date) -> plain.Lot | None:
    """Return a lot with what stands of it on a morning; its bales weigh what storage left them."""
    dm_pct = lot_profile(lot, farm.reports_of(lot.lot_id)).dm_pct
    rain = farm.season.rainfall_mm_per_year
    dry = dry_per_bale(lot, dm_pct, UNKNOWN_RAIN_MM if rain is None else rain)
    bales = lot_book(lot, farm.moves, farm.fed, dry, dm_pct).bales_on(counted_on - timedelta(1))
    if bales < _NOTHING:
        return None
    kept = dry(counted_on) / dry(lot.counted_on)
    weight, spread, weighed = lot.bale_weight_kg, lot.bale_weight_sd_kg, lot.bales_weighed
    if weight is None:
        # The size of a bale says what it weighed when it was counted, and not that storage has
        # taken of it since. It stays as unsure as a size.
        weight, spread, weighed = mean_bale_kg(lot, dm_pct), None, 0
    reachable = lot.bales_reachable
    return replace(
        lot,
        bales=bales,
        counted_on=counted_on,
        bale_weight_kg=weight * kept,
        bale_weight_sd_kg=None if spread is None else spread * kept,
        bales_weighed=weighed,
        bales_reachable=None if reachable is None else min(reachable, bales),
        # What hay brings is another price each year.
        value_usd_per_kg=None,
        sale_usd_per_kg=None,
    )


def _groups(farm: plain.Farm, start: date, years: int) -> tuple[tuple[plain.Group, ...], list[str]]:
    """Return the groups a year older, and the names of those that are to be written anew."""
    kept, left_out = [], []
    for group in farm.groups:
        if group.animal_class in _GROWS or group.target_weight_kg is not None:
            left_out.append(group.name)
        else:
            kept.append(_older(group, farm.season, start, years))
    return tuple(kept), left_out


def _older(group: plain.Group, last: plain.Season, start: date, years: int) -> plain.Group:
    known_on = group.from_on or last.weighed_on or last.start
    months = group.age_months
    if months is not None:
        begins = _moved(group.from_on, years) or start
        months = round(months + (begins - known_on).days / _DAYS_PER_MONTH, 1)
    had_young = group.calving_on is not None and group.calving_on < start
    grown = _GROWN_UP.get(group.animal_class) if had_young else None
    return replace(
        group,
        animal_class=grown or group.animal_class,
        age_months=months,
        # How they look is seen anew; what they weighed grown-up holds until they are weighed.
        condition_score=None,
        calving_on=_moved(group.calving_on, years),
        weaning_on=_moved(group.weaning_on, years),
        breeding_on=_moved(group.breeding_on, years),
        target_on=_moved(group.target_on, years),
        from_on=_moved(group.from_on, years),
        to_on=_moved(group.to_on, years),
    )


def _feed(feed: plain.Feed, years: int) -> plain.Feed:
    return replace(feed, from_on=_moved(feed.from_on, years), to_on=_moved(feed.to_on, years))


def _moved(day: date | None, years: int) -> date | None:
    """Return the same day of a later year; of a leap day the day before."""
    if day is None:
        return None
    at = day.year + years
    try:
        return day.replace(year=at)
    except ValueError:
        return day.replace(year=at, day=day.day - 1)


def _priced(
    found: Next, prices: Mapping[str, float], without: Collection[str]
) -> tuple[plain.Feed, ...]:
    """Return the feeds at what they cost now; each must be said again."""
    known = {one.feed_id for one in found.farm.feeds}
    other = sorted({*prices, *without} - known)
    if other:
        raise NotTaken(
            f"The last season has no feed {listed(other)}. Its feeds: {listed(sorted(known))}."
        )
    kept = [one for one in found.farm.feeds if one.feed_id not in without]
    missing = [one for one in kept if one.feed_id not in prices]
    if missing:
        price = display_for(found.farm.units).price_per_ton_text
        told = listed([f"{one.feed_id} ({price(one.price_usd_per_kg)})" for one in missing])
        raise NotTaken(
            f"Prices are asked again each year. Say what each of these costs now, or that it is "
            f"not offered any more, with last time's in brackets: {told}."
        )
    return tuple(replace(one, price_usd_per_kg=prices[one.feed_id]) for one in kept)


def _asks(
    farm: plain.Farm, begun: plain.Farm, gone: list[str], left_out: list[str]
) -> tuple[str, ...]:
    day = display_for(farm.units).day_year_text
    asks = []
    if begun.lots:
        asks.append(
            f"{count_text(len(begun.lots), 'lot')} left over, as the book says: count the bales, "
            "and test again what has stood outside. What hay would bring is asked anew."
        )
    unweighed = {lot.lot_id for lot in farm.lots if lot.bale_weight_kg is None}
    if by_size := [lot.name for lot in begun.lots if lot.lot_id in unweighed]:
        asks.append(
            f"Bales of {_told(by_size)} were never weighed: they stand at the weight of their "
            "size less what storage took since, give or take 10%. Weigh three."
        )
    if gone:
        asks.append(f"Nothing is left of {_told(gone)}.")
    if begun.groups:
        weighed = day(farm.season.weighed_on or farm.season.start)
        asks.append(
            f"Heads and weights are those of {weighed}, and days of calving a year on: look at "
            "each group again, and score condition."
        )
    if left_out:
        asks.append(f"Stock that grows is written anew, with its weight now: {_told(left_out)}.")
    dropped = [
        word
        for word, rows in (("needs that were stated", farm.needs), ("wishes", farm.wishes))
        if rows
    ]
    if dropped:
        asks.append(f"Left behind: {listed(dropped)} of the last season.")
    if begun.labs:
        asks.append("Prices of laboratories are those of the last season.")
    return tuple(asks)


def _told(names: list[str]) -> str:
    return listed([clean(one) for one in names])
