"""A second look at what the helper is told to load, from the program and the farm alone.

Shares nothing with the modules that make the deliveries: what each day asks for is added up
again from the feeding, bales are counted off the yard, and what lies before a group is followed
from visit to visit.
"""

from __future__ import annotations

import math
from collections import Counter, defaultdict
from collections.abc import Iterator
from dataclasses import dataclass
from datetime import date, timedelta
from functools import cached_property, partial
from typing import Final

from rickyard.farm import Farm, Feed, FeedKind, Group
from rickyard.forage.values import feed_row
from rickyard.hay.feeding import FEEDERS
from rickyard.hay.storage import book_of
from rickyard.program.audit.change import Asked, asked_by_day, days_here, hay_over, is_hay
from rickyard.program.audit.fed import opened_by_day
from rickyard.program.audit.view import TOLERANCE, Breach, compare, is_over
from rickyard.program.inputs import UNKNOWN_RAINFALL_MM, yard_lot
from rickyard.program.result import Delivery, SeasonProgram
from rickyard.quantities import is_some
from rickyard.safety import bindings


@dataclass(slots=True)
class Bales:
    """The bales of a source: how many stand, and the weight of one in each period."""

    count: int | None
    weight_kg: list[float]


def count_bales(program: SeasonProgram, farm: Farm) -> Iterator[tuple[str, Bales]]:
    """Yield the bales of every hay that has them, those sold taken off."""
    lots = {lot.lot_id: lot for lot in farm.lots}
    weighed = {feed.feed_id for feed in farm.feeds if feed.kind is not FeedKind.FORAGE}
    most = {feed.feed_id: feed.most_kg for feed in farm.feeds}
    for value in program.sources:
        nominal = value.bale_weight_kg
        if nominal is None or value.source_id in weighed:
            continue
        steady = [nominal] * len(program.periods)
        if value.source_id not in lots:
            limit = most[value.source_id]
            count = None if limit is None else _whole(limit / nominal)
            yield value.source_id, Bales(count, steady)
            continue
        lot = lots[value.source_id]
        yard = yard_lot(farm, lot, value.dm_pct, program.periods)
        rain = farm.season.rainfall_mm_per_year
        rain = UNKNOWN_RAINFALL_MM if rain is None else rain
        book = book_of(lot, farm.moves, farm.fed, value.dm_pct, rain)
        stand = lot.bales + book.since_count(farm.season.start)
        if not is_over(min(stand, yard.start_kg_dm), 0.0):
            yield value.source_id, Bales(0, steady)
            continue
        each = yard.start_kg_dm / stand / (value.dm_pct / 100.0)
        weights = []
        for kept in yard.kept.tolist():
            each *= kept
            weights.append(each)
        sold = sum(one.dm_kg for one in program.sales if one.lot_id == lot.lot_id)
        stand -= sold / (yard.start_kg_dm / stand)
        yield value.source_id, Bales(_whole(stand), weights)


def _whole(bales: float) -> int:
    return math.floor(bales + TOLERANCE)


def bales_taken(program: SeasonProgram, bales: dict[str, Bales]) -> dict[str, float]:
    """Return how many bales of each source are put out, what is weighed out counted in bales."""
    period_of = {
        period.start + timedelta(days=number): period.index
        for period in program.periods
        for number in range(period.days)
    }
    taken: dict[str, float] = defaultdict(float)
    for one in program.deliveries:
        if one.source_id in bales and one.day in period_of:
            weight = bales[one.source_id].weight_kg[period_of[one.day]]
            taken[one.source_id] += one.mass_kg / weight if one.bales is None else one.bales
    return dict(taken)


#: So much of a day's hay may be missing before the next visit, and of one bale.
HALF_A_DAY: Final = 0.5
HALF_A_BALE: Final = 0.5

#: Starch from which a feed counts as starchy, % of dry matter.
STARCHY_PCT: Final = 30.0

#: Where bales are taken apart and weighed, so much of one more may stand that is no whole bale.
SOME_OF_A_BALE: Final = 1.0

#: Masses are the same to a millionth, and less than a kilogram of them to a milligram.
_same_kg: Final = partial(compare, scale=1.0)

#: A quotient so little under a whole number is that number.
NEARLY: Final = 1e-9

#: Hay comes at least so often where the folder does not say.
MOST_DAYS_APART: Final = 7


def delivery_breaches(program: SeasonProgram, farm: Farm) -> Iterator[Breach]:
    """Yield what does not hold in the deliveries of a program."""
    bales = dict(count_bales(program, farm))
    taken = bales_taken(program, bales)
    yield from _yard(program, bales, taken)
    known = {group.group_id for group in farm.groups}
    for stranger in {one.group_id for one in program.deliveries} - known:
        yield Breach(f"deliveries to {stranger}, no group of the farm", 1, 0)
    spoken_for: dict[str, float] = defaultdict(float)
    over, left = (hay_over(program, farm) for _ in range(2))

    def checked(over: dict[str, float], later: list[dict[str, float]]) -> Iterator[_GroupCheck]:
        for group, kept in zip(farm.groups, later, strict=True):
            mine = {one: max(0.0, kg - kept.get(one, 0.0)) for one, kg in over.items()}
            before = dict(mine)
            yield _GroupCheck(program, farm, group, bales, (spoken_for, mine))
            over.update({one: over[one] - before[one] + kg for one, kg in mine.items()
                         if over[one] < ENDLESS})  # fmt: skip

    checks = list(checked(left, [{}] * len(farm.groups)))
    if len(checks) > 1 and any(kg > GONE_KG >= left[one] for one, kg in over.items()):
        checks = list(checked(over, _kept_for_later(program, farm, over)))
    for check in checks:
        for source_id, amount in check.due().items():
            spoken_for[source_id] += amount
    for check in checks:
        yield from check.breaches()


def _kept_for_later(
    program: SeasonProgram, farm: Farm, over: dict[str, float]
) -> list[dict[str, float]]:
    """Return what of each hay stays for the groups after each group, where one hay runs out.

    All get the same part of what they would take if there were no end of it. [kg DM]
    """
    later: list[dict[str, float]] = []
    taken = dict.fromkeys(over, 0.0)
    plenty = {one: MUCH_KG if kg > GONE_KG else 0.0 for one, kg in over.items()}
    for group in reversed(farm.groups):
        later.append(dict(taken))
        left = dict(plenty)
        asked_by_day(program, farm, group, _mixed(program, farm, group), left)
        for one, kg in plenty.items():
            taken[one] += kg - left[one]
    return [
        {one: kg * min(1.0, over[one] / taken[one]) for one, kg in kept.items() if kg > 0.0}
        for kept in reversed(later)
    ]


#: So little of a hay is none, and so much is more than anybody takes. [kg DM]
GONE_KG: Final = 1e-9
MUCH_KG: Final = 1e9
ENDLESS: Final = float("inf")


def _yard(
    program: SeasonProgram, bales: dict[str, Bales], taken: dict[str, float]
) -> Iterator[Breach]:
    broken = {one.source_id for one in program.deliveries if one.bales is None}
    for source_id, amount in taken.items():
        stand = bales[source_id].count
        room = SOME_OF_A_BALE if source_id in broken else TOLERANCE
        if stand is not None and amount > stand + room:
            yield Breach(f"{source_id}, bales put out of those on hand", amount, stand)


class _GroupCheck:
    """The deliveries to one group."""

    def __init__(
        self,
        program: SeasonProgram,
        farm: Farm,
        group: Group,
        bales: dict[str, Bales],
        shared: tuple[dict[str, float], dict[str, float]],
    ) -> None:
        self.program, self.farm, self.group = program, farm, group
        self.mixed = _mixed(program, farm, group)
        self.all_bales = bales
        self.spoken_for, over = shared
        self.period_of = days_here(program, group)
        self.days = sorted(self.period_of)
        self.asked: Asked = asked_by_day(program, farm, group, self.mixed, over)
        rows = {row.source_id for row in program.feeding if row.group_id == group.group_id}
        self.mixed |= self.asked.keys() - rows  # what stands in for a few days is weighed
        self.mixed |= self._forked()
        self.bales = {one: kept for one, kept in bales.items() if one not in self.mixed}
        self.mine = [one for one in program.deliveries if one.group_id == group.group_id]
        self.hay = [one for one in self.mine if is_hay(farm, one.source_id)]
        self.dry = {one.source_id: one.dm_pct / 100.0 for one in program.sources}
        lots = {lot.lot_id: (lot.feed_from, lot.feed_by) for lot in farm.lots}
        # A feed's to_on is the first day it can no longer be fed, a lot's feed_by the last it can.
        feeds = {
            feed.feed_id: (feed.from_on, feed.to_on and feed.to_on - timedelta(days=1))
            for feed in farm.feeds
        }
        self.dates = lots | feeds
        self.given = {one: 0.0 for one in self.asked if is_hay(farm, one)}
        self.wanted = dict.fromkeys(self.given, 0.0)

    def _forked(self) -> set[str]:
        """Return what is forked out day by day, as its bales would last too long or too short."""
        bales = {
            one: {
                day: kg / self.all_bales[one].weight_kg[self.period_of[day]]
                for day, kg in self.asked[one].items()
            }
            for one in self.asked.keys() & self.all_bales.keys() - self.mixed
            if is_hay(self.farm, one)
        }
        return opened_by_day(self.farm, self.group, bales)

    def breaches(self) -> Iterator[Breach]:
        for one in self.mine:
            yield from self._one(one)
        if not self.days:
            return
        yield from self._totals()
        visits = self._visits()
        yield from self._rhythm(visits)
        yield from self._followed(visits)
        yield from self._by_mass(visits)
        for feed in self.farm.feeds:
            if feed.kind not in (FeedKind.FORAGE, FeedKind.GRAZING):
                yield from self._feed(feed)

    def _one(self, one: Delivery) -> Iterator[Breach]:
        where = f"{one.source_id} to {self.group.name} on {one.day}"
        opens, closes = self.dates.get(one.source_id, (None, None))
        if one.day not in self.period_of or one.source_id not in self.asked:
            yield Breach(f"{where}, delivered at all", one.mass_kg, 0)
        elif (opens and one.day < opens) or (closes and one.day > closes):
            yield Breach(f"{where}, delivered outside its dates", one.mass_kg, 0)
        elif (one.bales is None) != (one.source_id not in self.bales) and not self._is_part(one):
            yield Breach(f"{where}, by the bale or not", one.bales or 0, 0)
        elif one.bales is not None:
            if one.bales < 1 or one.bales != int(one.bales):
                yield Breach(f"{where}, whole bales", one.bales, max(1, round(one.bales)))
            weight = self.bales[one.source_id].weight_kg[self.period_of[one.day]]
            yield from _same_kg(f"{where}, weight", one.mass_kg, one.bales * weight)
        elif not is_some(one.mass_kg):
            yield Breach(f"{where}, mass", one.mass_kg, 0)

    def _totals(self) -> Iterator[Breach]:
        claimed = {
            one.source_id: one
            for one in self.program.delivery_totals
            if one.group_id == self.group.group_id
        }
        for source_id, amounts in self.asked.items():
            where = f"{source_id} to {self.group.name}, total"
            row = claimed.get(source_id)
            if row is None:
                yield Breach(f"{where}, row", 0, sum(amounts.values()))
                continue
            mine = [one for one in self.mine if one.source_id == source_id]
            yield from _same_kg(f"{where}, mass", row.mass_kg, sum(one.mass_kg for one in mine))
            yield from _same_kg(f"{where}, asked for", row.planned_kg, sum(amounts.values()))
            bales = sum(one.bales or 0 for one in mine)
            yield from compare(f"{where}, bales", row.bales or 0, bales)

    def _visits(self) -> list[tuple[date, list[date]]]:
        """Return the days on which hay may come, each with the days it is for."""
        every = self.group.feed_every_days or self._usual_interval()
        return [
            (self.days[at], self.days[at : at + every]) for at in range(0, len(self.days), every)
        ]

    def _usual_interval(self) -> int:
        """Return how often hay comes where nobody says: for as long as one bale lasts."""
        small = {lot.lot_id for lot in self.farm.lots if lot.package in ("small_square", "loose")}
        by_hand = any(one not in self.bales or one in small for one in self.given)
        if by_hand or (self.group.feeder is not None and FEEDERS[self.group.feeder].daily):
            return 1
        bales = sum(self._in_bales(one, self.days) for one in self.given)
        fed = sum(
            1 for day in self.days if any(is_some(self._kg(one, [day])) for one in self.given)
        )
        return min(MOST_DAYS_APART, max(1, int(fed / bales + NEARLY))) if is_some(bales) else 1

    def _rhythm(self, visits: list[tuple[date, list[date]]]) -> Iterator[Breach]:
        """Hold every load of bales to its visit, or to the first day on which it may be fed."""
        visit_of = {day: days for _, days in visits for day in days}
        for one in self.hay:
            days = visit_of.get(one.day, [])
            if one.bales is None or not days:
                continue  # what is weighed out is held to the amounts themselves
            opens = self.dates[one.source_id][0]
            late = opens is not None and opens > days[0]
            first = next((day for day in days if is_some(self._kg(one.source_id, [day]))), days[0])
            comes = first if late else days[0]
            lasts = (days[-1] - comes).days + 1
            if (one.day, one.for_days) != (comes, lasts):
                where = f"{one.source_id} to {self.group.name} on {one.day}, at its interval"
                yield Breach(where, one.for_days, lasts if one.day == comes else 0)

    def _by_mass(self, visits: list[tuple[date, list[date]]]) -> Iterator[Breach]:
        """Hold hay that is weighed out to what is asked for; with nitrate, day by day."""
        each_day = [(day, [day]) for day in self.days]
        got: dict[tuple[str, date], float] = defaultdict(float)
        for one in self.hay:
            got[one.source_id, one.day] += one.mass_kg
        for hay in self.given:
            if hay in self.bales:
                continue
            for day, days in each_day if hay in self.mixed else visits:
                wants, has = self._kg(hay, days), sum(got[hay, one] for one in days)
                where = f"{hay} to {self.group.name} on {day}, weighed out"
                yield from _same_kg(where, has, wants)

    def _followed(self, visits: list[tuple[date, list[date]]]) -> Iterator[Breach]:
        """Follow what lies before the group, and every hay's bales, from visit to visit."""
        came: dict[date, list[Delivery]] = defaultdict(list)
        visit_of = {day: first for first, days in visits for day in days}
        loads: dict[date, float] = defaultdict(float)
        for one in self.hay:
            visit = visit_of.get(one.day, one.day)
            came[visit].append(one)
            loads[visit] += one.mass_kg * self.dry[one.source_id]
        lying, before = 0.0, set[str]()
        for day, days in visits:
            here: dict[str, int] = defaultdict(int)
            needed = sum(self._kg(hay, days) * self.dry[hay] for hay in self.given)
            lying += loads[day]
            least = needed * (1.0 - HALF_A_DAY / len(days))
            menu = []
            for load in came.get(day, []):
                here[load.source_id] += load.bales or 0
                if self._is_part(load):
                    self.given[load.source_id] += load.mass_kg / self._bale_kg(load)
            for hay in self.given:
                self.wanted[hay] += self._in_bales(hay, days)
                if hay in self.bales and is_some(self._kg(hay, days)):
                    menu.append(hay)
                    self.given[hay] += here[hay]
            begun = {hay for hay in menu if hay not in before and here[hay] == 1}
            early = [hay for hay in menu if here[hay] and is_over(self._ahead(hay), 0.5)]
            early = [hay for hay in early if hay not in begun]  # the first comes with its ration
            before = {hay for hay in self.given if is_some(self._kg(hay, days))}
            bales = {hay: self._bale_kg_dm(hay, day) for hay in menu}
            without = lying - sum(bales[hay] for hay in early)
            enough = max([least, *(needed - HALF_A_BALE * bales[hay] for hay in early)])
            yield from self._deviations(menu, day, early if is_over(without, enough) else [])
            if not self._grazes(days):
                yield from self._forgotten(bales, day, lying, (least, needed))
            lying -= min(lying, needed + sum(self._hunger(one) for one in days))

    def _forgotten(
        self, bales: dict[str, float], day: date, lying: float, least: tuple[float, float]
    ) -> Iterator[Breach]:
        """Look for a bale that could have been put out early and was not."""
        late = [hay for hay in bales if is_over(-self._ahead(hay), 0.0, 1.0)]
        if all(self._all_gone(hay) for hay in late):
            return
        enough = max(least[0], least[1] - HALF_A_BALE * max(bales[hay] for hay in late))
        if is_over(enough, lying, least[1]):
            yield Breach(f"{self.group.name} on {day}, hay until the next visit", lying, enough)

    def _hunger(self, day: date) -> float:
        """Return the dry matter that a day lacks of the mean of its period. [kg]."""
        here = sum(days.get(day, 0.0) * self.dry[one] for one, days in self.asked.items())
        return max(0.0, self.mean_of[self.period_of[day]] - here)

    @cached_property
    def mean_of(self) -> dict[int, float]:
        """Return the dry matter that is put out on the mean of the days of each period. [kg]."""
        days = Counter(self.period_of.values())
        means = dict.fromkeys(days, 0.0)
        for row in self.program.feeding:
            if row.group_id == self.group.group_id and row.period in means:
                means[row.period] += row.offered_kg * self.dry[row.source_id] / days[row.period]
        return means

    def _ahead(self, source_id: str) -> float:
        return self.given[source_id] - self.wanted[source_id]

    def _bale_kg_dm(self, source_id: str, day: date) -> float:
        return self.bales[source_id].weight_kg[self.period_of[day]] * self.dry[source_id]

    def _deviations(self, menu: list[str], day: date, needless: list[str]) -> Iterator[Breach]:
        """Hold every hay's bales to the program; ``needless`` came early and were not wanted."""
        for one in menu:
            ahead = self._ahead(one)
            where = f"{one} to {self.group.name} on {day}, bales ahead of the program"
            if is_over(abs(ahead), 1.0):
                yield Breach(where, ahead, 0)
            elif is_over(-ahead, 0.5) and not self._all_gone(one):
                yield Breach(where, ahead, -0.5)
            elif one in needless:
                yield Breach(where, ahead, 0.5)

    def due(self) -> dict[str, float]:
        """Return the bales of each lot that this group gets, or is to get where that is more."""
        found = {one: self._weighed_bales(one) for one in self.mixed if one in self.asked}
        for one in self.given:
            if one in self.bales:
                got = sum(load.bales or 0 for load in self.hay if load.source_id == one)
                found[one] = max(got, math.floor(self._in_bales(one, self.days) + 0.5))
        return found

    def _weighed_bales(self, source_id: str) -> float:
        if source_id not in self.all_bales:
            return 0.0
        weight = self.all_bales[source_id].weight_kg
        return sum(kg / weight[self.period_of[day]] for day, kg in self.asked[source_id].items())

    def _all_gone(self, source_id: str) -> bool:
        count = self.bales[source_id].count
        return count is not None and is_over(1.0, count - self.spoken_for.get(source_id, 0.0))

    def _kg(self, source_id: str, days: list[date]) -> float:
        return sum(self.asked.get(source_id, {}).get(day, 0.0) for day in days)

    def _in_bales(self, source_id: str, days: list[date]) -> float:
        if source_id not in self.bales:
            return 0.0
        weight = self.bales[source_id].weight_kg
        return sum(
            self.asked[source_id].get(day, 0.0) / weight[self.period_of[day]] for day in days
        )

    def _grazes(self, days: list[date]) -> bool:
        return any(
            is_some(self._kg(feed.feed_id, days))
            for feed in self.farm.feeds
            if feed.kind is FeedKind.GRAZING
        )

    def _is_part(self, one: Delivery) -> bool:
        """Say whether a load is weighed out of an opened bale, as is done where hay runs short."""
        if one.bales is not None or one.source_id not in self.bales:
            return False
        if one.source_id not in self.given:
            return False
        # A big group that waits for its next bale may open more than one.
        return one.mass_kg <= one.for_days * self._bale_kg(one)

    def _bale_kg(self, one: Delivery) -> float:
        return float(self.bales[one.source_id].weight_kg[self.period_of[one.day]])

    def _feed(self, feed: Feed) -> Iterator[Breach]:
        """Check what is weighed out: all of it, and starch and urea a little more every day."""
        asked = self.asked.get(feed.feed_id, {})
        mine = [one for one in self.mine if one.source_id == feed.feed_id]
        where = f"{feed.name} to {self.group.name}"
        slowly = feed.kind is not FeedKind.MINERAL and _starch_or_npn(feed)
        if not slowly:
            yield from _same_kg(where, sum(one.mass_kg for one in mine), sum(asked.values()))
            return
        got = {one.day: one for one in mine}
        for day in self.days:
            one = got.get(day)
            if one is not None and one.for_days != 1:
                yield Breach(f"{where} on {day}, days at once", one.for_days, 1)
            now = 0.0 if one is None else one.mass_kg
            yield from _same_kg(f"{where} on {day}, as it is raised", now, asked.get(day, 0.0))


def _mixed(program: SeasonProgram, farm: Farm, group: Group) -> set[str]:
    """Return what a group gets only as a share of its ration, and the hay it is mixed into.

    In a mixed ration that is all its hay.
    """
    limited = {
        one.source_id for one in bindings(farm) if one.group_id == group.group_id and one.rule.mixed
    }
    fed: dict[int, set[str]] = defaultdict(set)
    for row in program.feeding:
        if row.group_id == group.group_id and is_some(row.offered_kg):
            fed[row.period].add(row.source_id)
    whole = group.feeder == "mixed_ration"
    beside = {
        one for here in fed.values() if whole or here & limited for one in here if is_hay(farm, one)
    }
    return limited | beside


def _starch_or_npn(feed: Feed) -> bool:
    row = feed_row(feed.table_id) if feed.table_id else None
    npn, starch = feed.npn_cp_pct, feed.starch_pct
    if row is not None:
        npn = row.npn_cp_pct if npn is None else npn
        starch = row.starch_pct if starch is None else starch
    starchy = starch is not None and starch >= STARCHY_PCT
    return feed.kind is FeedKind.GRAIN or bool(npn) or starchy
