"""What was fed, in money: by group and by lot or feed, a head, a day and a ton as fed."""

from __future__ import annotations

import math
from collections import defaultdict
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from datetime import date, timedelta
from itertools import pairwise
from statistics import median

from rickyard.book.looking.dated import Dated, held_on
from rickyard.book.looking.put_out import PutOut, put_out
from rickyard.farm import Farm, FeedKind, Group
from rickyard.program.compare import NOTHING_KG, FedAgainst


@dataclass(frozen=True, slots=True)
class CostLine:
    """What a group was fed of a source and what that is worth, as fed, in kilograms and US dollars.

    ``usd`` is what is known of it: of ``unpriced_kg`` nobody wrote a price, and ``unweighed`` lines
    of the log have no weight. ``by_program`` marks mineral that nobody noted, counted as the
    program feeds it.
    """

    group_id: str
    source_id: str
    kg: float
    usd: float
    unpriced_kg: float
    unweighed: int
    by_program: bool = False

    @property
    def is_whole(self) -> bool:
        """Return whether all of it has a price and a weight."""
        return not self.unweighed and self.unpriced_kg <= 0.0


@dataclass(frozen=True, slots=True)
class GroupCost:
    """What a group cost: ``days`` from the first day noted until the last hay is eaten.

    ``head`` is the mean of those days. The last hay is taken to last as long as hay usually did.
    [US dollars, kg as fed]
    """

    group_id: str
    days: int
    head: float
    kg: float
    usd: float
    is_whole: bool

    @property
    def usd_a_head(self) -> float:
        """Return what a head cost."""
        return self.usd / self.head

    @property
    def usd_a_day(self) -> float:
        """Return what a head cost a day."""
        return self.usd_a_head / self.days


@dataclass(frozen=True, slots=True)
class Costs:
    """All that was fed of a season up to a day, in money. Mineral stands in the lines."""

    lines: tuple[CostLine, ...]
    groups: tuple[GroupCost, ...]
    has_mineral: bool

    @property
    def usd(self) -> float:
        """Return what is known of all of it."""
        return math.fsum(one.usd for one in self.lines)

    @property
    def kg(self) -> float:
        """Return what was put out, as fed."""
        return math.fsum(one.kg for one in self.lines)

    @property
    def is_whole(self) -> bool:
        """Return whether all of it has a price and a weight."""
        return all(one.is_whole for one in self.lines)

    def of_sources(self) -> tuple[CostLine, ...]:
        """Return what was fed of each source to all groups together."""
        found: dict[str, list[CostLine]] = defaultdict(list)
        for one in self.lines:
            found[one.source_id].append(one)
        return tuple(
            CostLine(
                "",
                source,
                math.fsum(one.kg for one in its),
                math.fsum(one.usd for one in its),
                math.fsum(one.unpriced_kg for one in its),
                sum(one.unweighed for one in its),
                all(one.by_program for one in its),
            )
            for source, its in found.items()
        )


def costs_of(
    farm: Farm,
    prices: Mapping[str, Sequence[Dated]],
    heads: Mapping[str, Sequence[Dated]],
    against: FedAgainst | None,
    until: date,
) -> Costs | None:
    """Return what was fed in a season up to a day, in money.

    Hay counts at the value of its lot on the day it was put out, whoever grew it, and feed at its
    price of that day. What is wasted at the feeder was paid for too.

    Parameters
    ----------
    farm : Farm
        Its feeding log from the first day of the season is read.
    prices : mapping of str to sequence of Dated
        The value of each lot and the price of each feed by the days from which they hold. [US
        dollars per kg as fed]
    heads : mapping of str to sequence of Dated
        Head of each group by the days from which they hold.
    against : FedAgainst or None
        What was fed beside the program: its mineral counts where none is noted.
    until : date
        The last day that is looked at.

    Returns
    -------
    Costs or None
        ``None`` where nothing is noted.

    Raises
    ------
    OutOfRange
        If neither weight nor size of a lot's bales is known.
    """
    rows = [one for one in put_out(farm, until) if one.row.day >= farm.season.start]
    if not rows:
        return None
    fed: dict[tuple[str, str], list[PutOut]] = defaultdict(list)
    for one in rows:
        fed[one.row.group_id, one.row.source_id].append(one)
    lines = [_line(key, its, prices) for key, its in fed.items()]
    minerals = {feed.feed_id for feed in farm.feeds if feed.kind is FeedKind.MINERAL}
    lines += _by_program(minerals, {key for key, _ in fed}, lines, prices, against)
    order = {group.group_id: at for at, group in enumerate(farm.groups)}
    lines.sort(key=lambda one: order.get(one.group_id, len(order)))
    groups = [
        _group(group, [one for one in rows if one.row.group_id == group.group_id], lines, heads)
        for group in farm.groups
        if any(one.row.group_id == group.group_id for one in rows)
    ]
    return Costs(
        tuple(lines),
        tuple(one for one in groups if one is not None),
        any(one.source_id in minerals for one in lines),
    )


def _line(
    key: tuple[str, str], its: Sequence[PutOut], prices: Mapping[str, Sequence[Dated]]
) -> CostLine:
    group, source = key
    kg, usd, unpriced = [], [], []
    for one in its:
        if one.as_fed_kg is None:
            continue
        kg.append(one.as_fed_kg)
        price = _price(prices, source, one.row.day)
        if price is None:
            unpriced.append(one.as_fed_kg)
        else:
            usd.append(one.as_fed_kg * price)
    return CostLine(
        group, source, math.fsum(kg), math.fsum(usd), math.fsum(unpriced), len(its) - len(kg)
    )


def _price(prices: Mapping[str, Sequence[Dated]], source: str, day: date) -> float | None:
    held = held_on(prices.get(source, ()), day)
    return None if held is None else held.values[0]


def _by_program(
    minerals: set[str],
    groups: set[str],
    lines: Sequence[CostLine],
    prices: Mapping[str, Sequence[Dated]],
    against: FedAgainst | None,
) -> list[CostLine]:
    """Return the mineral that the program feeds to groups of which no mineral is noted."""
    if against is None:
        return []
    noted = {one.group_id for one in lines if one.source_id in minerals}
    found = []
    for one in against.lines:
        wanted = one.source_id in minerals and one.group_id in groups - noted
        if wanted and (one.planned_kg or 0.0) > NOTHING_KG:
            kg = one.planned_kg or 0.0
            price = _price(prices, one.source_id, against.end - timedelta(days=1))
            usd, unpriced = (0.0, kg) if price is None else (kg * price, 0.0)
            found.append(CostLine(one.group_id, one.source_id, kg, usd, unpriced, 0, True))
    return found


def _group(
    group: Group,
    rows: Sequence[PutOut],
    lines: Sequence[CostLine],
    heads: Mapping[str, Sequence[Dated]],
) -> GroupCost | None:
    """Return what a group cost; ``None`` where nobody was there."""
    days = sorted({one.row.day for one in rows})
    hay = sorted({one.row.day for one in rows if one.is_forage})
    gaps = [(after - day).days for day, after in pairwise(hay)]
    lasts = round(median(gaps)) if gaps else 1
    end = max(days[-1] + timedelta(days=1), hay[-1] + timedelta(days=lasts) if hay else days[-1])
    span = (end - days[0]).days
    known = heads.get(group.group_id, ())
    many = [_head(group, known, days[0] + timedelta(days=one)) for one in range(span)]
    if not any(many):
        return None
    mine = [one for one in lines if one.group_id == group.group_id]
    return GroupCost(
        group.group_id,
        span,
        sum(many) / span,
        math.fsum(one.kg for one in mine),
        math.fsum(one.usd for one in mine),
        all(one.is_whole for one in mine),
    )


def _head(group: Group, known: Sequence[Dated], day: date) -> int:
    if (group.from_on is not None and day < group.from_on) or (
        group.to_on is not None and day >= group.to_on
    ):
        return 0
    held = held_on(known, day)
    return group.head if held is None else int(held.values[0])
