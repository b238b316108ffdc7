"""On which days hay and supplements are put out."""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import Final, Literal

import numpy as np

from rickyard.animals import CLASSES, HORSES, Stock
from rickyard.farm import AnimalClass, Assumption, Farm, Feed, Feeder, FeedKind, Package
from rickyard.hay.feeding import FEEDERS
from rickyard.program.days import BaleStock, GroupDays
from rickyard.program.inputs import assumed
from rickyard.quantities import DAYS_PER_WEEK, is_some
from rickyard.safety import of_feed

#: Hay is put out at least so often where nobody says how often. Common practice.
MOST_DAYS: Final = 7

#: A bale for horses, or of baleage, is eaten within so many days; by sheep and goats, which
#: listeria kills sooner, in fewer. Common practice.
WARM_DAYS: Final = 3.0
SMALL_STOCK_WARM_DAYS: Final = 2.0
COLD_DAYS: Final = 7.0

#: No bale lasts too long by less than this. [d]
LASTS_WITHIN: Final = 1e-6

#: A supplement with this much protein may go three times a week to cows, % of dry matter.
#: Common practice for what is called a protein feed.
PROTEIN_FEED_PCT: Final = 25.0

#: Days of the week, from the group's first, on which a protein feed is put out.
THRICE: Final = (0, 2, 4)


#: A quotient so little under a whole number is that number.
NEARLY: Final = 1e-9

Rhythm = Literal["daily", "thrice", "weekly"]


@dataclass(frozen=True, slots=True)
class Span:
    """The days, by index from ``first`` to before ``end``, that one load is for."""

    first: int
    end: int

    @property
    def days(self) -> int:
        """Return how many days it is for."""
        return self.end - self.first


def hay_spans(days: int, every: int) -> list[Span]:
    """Return what each delivery of hay is for, when it comes every so many days.

    Examples
    --------
    >>> [(span.first, span.days) for span in hay_spans(8, 3)]
    [(0, 3), (3, 3), (6, 2)]
    """
    return [Span(first, min(first + every, days)) for first in range(0, days, every)]


def feed_spans(days: int, rhythm: Rhythm) -> list[list[Span]]:
    """Return the deliveries of a feed, those that share a week's amount evenly in one list.

    Examples
    --------
    >>> [[span.days for span in week] for week in feed_spans(10, "thrice")]
    [[2, 2, 3], [2, 1]]
    """
    if rhythm == "daily":
        return [[Span(day, day + 1)] for day in range(days)]
    starts = THRICE if rhythm == "thrice" else (0,)
    weeks = []
    for week in range(0, days, DAYS_PER_WEEK):
        end = min(week + DAYS_PER_WEEK, days)
        firsts = [week + start for start in starts if week + start < end]
        weeks.append([Span(a, b) for a, b in zip(firsts, [*firsts[1:], end], strict=True)])
    return weeks


def forked_out(
    farm: Farm, days: GroupDays, hays: frozenset[str], stocks: dict[str, BaleStock]
) -> frozenset[str]:
    """Return the hay of which a group never gets a whole bale, as it would last them too long.

    Notes
    -----
    A large bale that lies before horses for more than a week, or baleage for more than three days
    before any stock, spoils and can kill; of a small one that lasts more than a week nobody could
    tell from the list how much a day is for. What is unrolled or lies in a bunk is eaten on its
    day: where less than a bale of every hay is for a day, a whole one would leave the next without
    any, and grain on an empty rumen. Common practice, no published source.
    """
    kinds = {lot.lot_id: lot.package for lot in farm.lots}
    horses = days.group.animal_class in HORSES
    found = _of_less_than_a_bale(days, hays, stocks)
    for source_id, stock in days.by_bale(stocks).items():
        kind = kinds.get(source_id)
        most = WARM_DAYS if kind is Package.BALEAGE else COLD_DAYS
        by_hand = horses or kind in (Package.BALEAGE, Package.SMALL_SQUARE)
        lasts = bale_lasts_days(days, source_id, stock)
        if source_id in hays and by_hand and lasts > most + LASTS_WITHIN:
            found.add(source_id)
    return frozenset(found)


#: What is put out so is eaten on its day.
EATEN_ON_ITS_DAY: Final = frozenset({Feeder.BUNK, Feeder.UNROLLED_DAILY})


def _of_less_than_a_bale(
    days: GroupDays, hays: frozenset[str], stocks: dict[str, BaleStock]
) -> set[str]:
    """Return the hay of days on which less than a whole bale of any is eaten as it is put out."""
    group = days.group
    if group.feeder not in EATEN_ON_ITS_DAY or (group.feed_every_days or 1) > 1:
        return set()
    bales = {
        one: days.asked[one] / stock.kg[days.period]
        for one, stock in days.by_bale(stocks).items()
        if one in hays
    }
    most = np.max([*bales.values(), np.zeros(days.count)], axis=0)
    less = most < 1.0 - LASTS_WITHIN
    return {one for one, each in bales.items() if is_some(each[less]).any()}


def warm_days(group_class: AnimalClass) -> float:
    """Return how many days a bale may last stock once it is warm. [d]."""
    small = CLASSES[group_class].stock in (Stock.SHEEP, Stock.GOATS)
    return SMALL_STOCK_WARM_DAYS if small else WARM_DAYS


def bale_lasts_days(days: GroupDays, source_id: str, stock: BaleStock) -> float:
    """Return how many of the days on which it is fed one bale lasts, on the mean. [d]."""
    asked = days.asked[source_id]
    bales = float((asked / stock.kg[days.period]).sum())
    return float(np.count_nonzero(is_some(asked))) / bales if is_some(bales) else 0.0


def hay_every_days(
    farm: Farm, days: GroupDays, hays: frozenset[str], stocks: dict[str, BaleStock]
) -> tuple[int, Assumption | None]:
    """Return every how many days hay is put out for a group, and what was taken for granted.

    Returns
    -------
    tuple
        Days, and an assumption where the folder does not say. [d]

    Notes
    -----
    Where nobody says: every day from a bunk or on the ground, and where any of the hay is loose,
    in small bales or weighed out for its nitrate; else as long as one bale lasts, in whole days,
    seven at most.
    """
    group = days.group
    if group.feed_every_days is not None:
        return group.feed_every_days, None
    fed = [one for one in days.asked if one in hays]
    if not fed:
        return 1, None
    by_hand = {
        lot.lot_id for lot in farm.lots if lot.package in (Package.LOOSE, Package.SMALL_SQUARE)
    }
    by_the_day = group.feeder is not None and FEEDERS[group.feeder].daily
    daily = by_the_day or any(one in by_hand or one not in stocks for one in fed)
    every = 1 if daily else _days_a_bale_lasts(days, fed, stocks)
    why = (
        "as it lies in a bunk or on the ground, or comes loose, in small bales or weighed"
        if daily
        else "for about as long as one bale lasts them, a week at most"
    )
    how_often = "every day" if every == 1 else f"every {every} days"
    return every, assumed("how_often_hay", group=group.name, how_often=how_often, why=why)


def _days_a_bale_lasts(days: GroupDays, fed: list[str], stocks: dict[str, BaleStock]) -> int:
    bales = sum(float((days.asked[one] / stocks[one].kg[days.period]).sum()) for one in fed)
    on_hay = is_some(sum((days.asked[one] for one in fed), np.zeros(days.count)))
    if not is_some(bales):
        return 1
    return min(MOST_DAYS, max(1, math.floor(float(on_hay.sum()) / bales + NEARLY)))


def rhythm_of(feed: Feed, group_class: AnimalClass, cp_pct: float, hay_every: int) -> Rhythm:
    """Return how often a feed is put out.

    Notes
    -----
    Minerals are always on offer and filled up once a week. Starch, energy and non-protein
    nitrogen go daily. A protein feed goes to cows three times a week where the helper does not
    come every day for the hay.

    References
    ----------
    .. [1] SDSU Extension (2012); Schauer et al. (2005); Shirley (2002): growing steers fed on
       alternate days ate less, so only cows are fed so.
    """
    if feed.kind is FeedKind.MINERAL:
        return "weekly"
    protein = cp_pct >= PROTEIN_FEED_PCT and not is_raised_slowly(feed)
    if protein and group_class is AnimalClass.COW and hay_every > 1:
        return "thrice"
    return "daily"


def is_raised_slowly(feed: Feed) -> bool:
    """Return whether a feed is starchy or holds non-protein nitrogen: daily, and raised slowly."""
    return any(one.finding in ("begin_grain", "begin_npn") for one in of_feed(feed))
