"""From kilograms a head and day to what a helper loads: dated deliveries of whole bales.

Bales are rounded with the remainder carried forward, ``floor(x + 0.5)`` of all that is needed so
far, so that a group is never far from the program. Where that would leave a
group without hay before the next delivery, its next bale comes early.
"""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import dataclass, replace
from typing import Final

import numpy as np

from rickyard.farm import Assumption, Farm, Feed, FeedKind
from rickyard.program.days import BaleStock, GroupDays, bale_stocks, group_days, hay_ids
from rickyard.program.feedout.delivery_cautions import delivery_cautions
from rickyard.program.feedout.delivery_totals import delivery_totals, lots_in_bales
from rickyard.program.feedout.diet_cautions import GRAVEST_FIRST
from rickyard.program.feedout.feeding_days import (
    Span,
    feed_spans,
    forked_out,
    hay_every_days,
    hay_spans,
    rhythm_of,
)
from rickyard.program.feedout.transitions import change_cautions, change_overs
from rickyard.program.inputs import assumed
from rickyard.program.result import Delivery, SeasonProgram
from rickyard.quantities import is_some
from rickyard.types import FloatArray

#: A group may be short by this many days of hay before the next delivery; more, and a bale comes
#: early. Common practice: what is left in the feeder is cleaned up.
DAYS_SHORT: Final = 0.5

#: Nor by more than this of a bale: what one visit brings is as near as whole bales come to what is
#: asked for. Judgement.
HALF_A_BALE: Final = 0.5

#: Rounding of sums of days.
DUST: Final = 1e-9

#: Less of a bale than this is not worth opening one, kg of dry matter.
LEAST_PART_KG: Final = 0.5

#: A hay is never put out a whole bale before it is due. [bales]
NOT_QUITE_ONE: Final = 0.99

#: What is weighed out once the whole bales of a group are fed, where no more is due. [bales]
A_BALE: Final = 1.0

#: Less than this is not worth a scoop, kg as fed for the group.
LEAST_LOAD_KG: Final = 1e-6


@dataclass(slots=True)
class _Yard:
    """Whole bales each group will have been given of a lot by the end, and how many are over."""

    stocks: dict[str, BaleStock]
    due: dict[tuple[str, str], int]
    spare: dict[str, int | None]

    def may_give_another(self, group_id: str, source_id: str, given: int) -> bool:
        spare = self.spare[source_id]
        return given < self.due[group_id, source_id] or spare is None or is_some(spare)

    def give_another(self, group_id: str, source_id: str, given: int) -> None:
        """Count a bale that comes early; one beyond what was due is taken from what is over."""
        spare = self.spare[source_id]
        if given < self.due[group_id, source_id]:
            return
        self.due[group_id, source_id] += 1
        if spare is not None:
            self.spare[source_id] = spare - 1


def with_deliveries(program: SeasonProgram, farm: Farm, *, counted: bool = True) -> SeasonProgram:
    """Return a program with its dated deliveries, their totals and what they take for granted.

    Parameters
    ----------
    program : SeasonProgram
        A finished program.
    farm : Farm
        The farm it is for.
    counted : bool
        Whether the program counts with the days on which feeds are raised, so that each period
        keeps its amounts; else what is raised is held back, and hay makes up for it.

    Returns
    -------
    SeasonProgram
        The same program with whole bales and days. [kg as fed, bales]
    """
    hays, stocks = hay_ids(farm), bale_stocks(program, farm)
    everybody = [
        replace(days, forked=forked_out(farm, days, hays, stocks))
        for days in group_days(program, farm, counted=counted)
    ]
    yard = _yard(everybody, stocks)
    deliveries: list[Delivery] = []
    notes: list[Assumption] = []
    for days in everybody:
        every, note = hay_every_days(farm, days, hays, days.by_bale(stocks))
        notes += [] if note is None else [note]
        notes += _thrice(program, farm, days, every)
        deliveries += _Hay(program, farm, days, hays, yard).deliveries(every)
        deliveries += _feeds(program, farm, days, every)
    deliveries.sort(key=lambda one: one.day)
    program = replace(program, change_overs=change_overs(program, farm, everybody))
    cautions = (
        *program.cautions,
        *delivery_cautions(program, farm, everybody, stocks),
        *change_cautions(program, farm),
    )
    totals = delivery_totals(everybody, stocks, deliveries)
    return replace(
        program,
        lots=lots_in_bales(program.lots, everybody, stocks, totals),
        deliveries=tuple(deliveries),
        delivery_totals=totals,
        cautions=tuple(
            sorted(dict.fromkeys(cautions), key=lambda one: GRAVEST_FIRST.index(one.level))
        ),
        assumptions=tuple(dict.fromkeys((*program.assumptions, *notes))),
    )


def _yard(everybody: list[GroupDays], stocks: dict[str, BaleStock]) -> _Yard:
    """Share out the whole bales of each lot, so that the last go to whom they are due."""
    due: dict[tuple[str, str], int] = {}
    spare: dict[str, int | None] = {}
    for source_id, stock in stocks.items():
        asked = {
            days.group.group_id: float((days.asked[source_id] / stock.kg[days.period]).sum())
            for days in everybody
            if source_id in days.asked
        }
        weighed = {
            days.group.group_id for days in everybody if source_id in (days.weighed | days.forked)
        }
        wanted = {one: bales for one, bales in asked.items() if one not in weighed}
        taken = sum(asked.values()) - sum(wanted.values())
        stand = None if stock.bales is None else max(0, math.floor(stock.bales - taken + DUST))
        whole = whole_shares(wanted, stand)
        due |= {(group_id, source_id): bales for group_id, bales in whole.items()}
        spare[source_id] = None if stand is None else stand - sum(whole.values())
    return _Yard(stocks, due, spare)


def whole_shares(wanted: dict[str, float], bales: int | None) -> dict[str, int]:
    """Round what groups want of a lot to whole bales, no more together than there are.

    Those round up whose remainder is half a bale or more; where that takes more than stands, the
    smallest remainders are rounded down.

    Examples
    --------
    >>> whole_shares({"cows": 10.5, "bulls": 2.7, "heifers": 4.4}, 17)
    {'cows': 10, 'bulls': 3, 'heifers': 4}
    """
    whole = {group_id: math.floor(amount + 0.5 + DUST) for group_id, amount in wanted.items()}
    if bales is None:
        return whole
    up = [one for one in wanted if whole[one] > wanted[one] + DUST]
    for group_id in sorted(up, key=lambda one: wanted[one] - whole[one]):
        if sum(whole.values()) <= bales:
            break
        whole[group_id] -= 1
    return whole


class _Hay:
    """Puts out the hay of one group, delivery by delivery."""

    def __init__(
        self,
        program: SeasonProgram,
        farm: Farm,
        days: GroupDays,
        hays: frozenset[str],
        yard: _Yard,
    ) -> None:
        self.days, self.yard = days, yard
        self.grazing = _grazing(farm, days)
        self.stocks = days.by_bale(yard.stocks)
        self.asked = {one: kg for one, kg in days.asked.items() if one in hays}
        dry = {one.source_id: one.dm_pct / 100.0 for one in program.sources}
        self.dry = {one: dry[one] for one in self.asked}
        self.opens = {lot.lot_id: lot.feed_from for lot in farm.lots}
        self.opens |= {feed.feed_id: feed.from_on for feed in farm.feeds}
        self.given = dict.fromkeys(self.asked, 0)
        self.wanted = dict.fromkeys(self.asked, 0.0)
        self.broken = dict.fromkeys(self.asked, 0.0)  # bales that others share
        self.lying_kg = 0.0  # dry matter
        self.fed_before: set[str] = set()

    def deliveries(self, every: int) -> Iterator[Delivery]:
        spans = hay_spans(self.days.count, every)
        starts = [span.first for span in spans]
        in_bales = {
            one: np.add.reduceat(self.asked[one] / stock.kg[self.days.period], starts).tolist()
            for one, stock in self.stocks.items()
            if one in self.asked
        }
        in_kg = {one: np.add.reduceat(kg, starts).tolist() for one, kg in self.asked.items()}
        hunger = self.days.hunger_kg_dm
        hungry = [0.0] * len(spans) if hunger is None else np.add.reduceat(hunger, starts).tolist()
        for number, span in enumerate(spans):
            wants = {one: kg[number] for one, kg in in_kg.items() if is_some(kg[number])}
            for one in wants:
                if one in in_bales:
                    self.wanted[one] += in_bales[one][number]
            yield from self._delivery(wants, span, hungry[number])

    def _delivery(self, wants: dict[str, float], span: Span, hungry: float) -> Iterator[Delivery]:
        """Yield the loads of one visit; ``wants`` is what is asked for until the next, kg.

        ``hungry`` is the dry matter that those days lack of a fill, which is eaten of what lies.
        """
        arrives = {one: self._arrival(one, span) for one in wants}
        load = {one: self._due(one) for one in wants if one in self.stocks}
        self.fed_before = set(wants)
        needed = sum(kg * self.dry[one] for one, kg in wants.items())
        loose = sum(kg * self.dry[one] for one, kg in wants.items() if one not in load)
        period = self.days.period
        weight = {one: float(self.stocks[one].kg[period[arrives[one].first]]) for one in load}
        bale = {one: kg * self.dry[one] for one, kg in weight.items()}

        def lies() -> float:
            return self.lying_kg + loose + sum(load[one] * bale[one] for one in load)

        least = needed * (1.0 - DAYS_SHORT / span.days) - DUST
        grazed = bool(self.grazing[span.first : span.end].any())
        while not grazed:
            early = self._most_due(load)
            if early is None or lies() >= max(least, needed - HALF_A_BALE * bale[early] - DUST):
                break
            given = self.given[early] + load[early]
            self.yard.give_another(self.days.group.group_id, early, given)
            load[early] += 1
        parts = {} if grazed else self._parts(load, bale, self._lacks(load, needed, least, lies()))
        # What is not there cannot be owed: animals that ran short do not eat it later.
        self.lying_kg = max(0.0, lies() - needed - hungry)
        for one, bales in load.items():
            self.given[one] += bales
            if is_some(bales):
                yield self._load(one, arrives[one], bales, bales * weight[one])
        for one, part in parts.items():
            yield self._load(one, arrives[one], None, part * weight[one])
        for one in wants:
            if one not in load:
                yield from self._by_mass(one, arrives[one])

    def _lacks(self, load: dict[str, int], needed: float, least: float, lies: float) -> float:
        """Return what is weighed out of opened bales: all that is needed where no whole one comes.

        Where one is still due it comes sooner if the days until then run low.
        """
        due, group_id = self.yard.due, self.days.group.group_id
        comes = any(self.given[one] + bales < due[group_id, one] for one, bales in load.items())
        return needed - lies if lies < least and not comes else least - lies

    def _parts(
        self, load: dict[str, int], bale_kg_dm: dict[str, float], lack_kg_dm: float
    ) -> dict[str, float]:
        """Return parts of bales that are opened where no whole one is left, so that hay is there.

        What is due of a hay beyond whole bales, or is eaten before its next bale, is weighed out of
        an opened one and counted against the bales that are due later.
        """
        parts: dict[str, float] = {}
        if lack_kg_dm <= DUST:
            return parts
        behind = {
            one: self.wanted[one] - self.given[one] - bales - self.broken[one]
            for one, bales in load.items()
        }
        # Of what comes in whole bales too, no more than is due, or not quite one bale too early.
        spare = 0.0 if any(not bales for bales in load.values()) else NOT_QUITE_ONE
        most = {
            one: max(behind[one] + (spare if bales else 0.0), 0.0) for one, bales in load.items()
        }
        order = sorted(load, key=lambda one: (not load[one], -behind[one]))
        for one in order:
            part = lack_kg_dm / bale_kg_dm[one]
            if load[one] or one != order[-1]:
                part = min(most[one], part)
            elif self.given[one] >= self.yard.due[self.days.group.group_id, one]:
                # Their last whole bale is fed: no more than one that others left is there.
                part = min(part, max(most[one], A_BALE))
            if part * bale_kg_dm[one] > LEAST_PART_KG:
                parts[one] = part
                self.broken[one] += part
                lack_kg_dm -= part * bale_kg_dm[one]
        return parts

    def _due(self, source_id: str) -> int:
        """Return the whole bales of a hay that are due at a visit."""
        wanted = self.wanted[source_id] - self.broken[source_id]
        through = math.floor(wanted + 0.5 + DUST)
        if source_id not in self.fed_before and wanted > self.given[source_id] + DUST:
            # The first bale of a hay comes on the day on which its ration begins.
            through = max(through, self.given[source_id] + 1)
        due = min(through, self.yard.due[self.days.group.group_id, source_id])
        return max(0, due - self.given[source_id])

    def _by_mass(self, source_id: str, span: Span) -> Iterator[Delivery]:
        """Yield loose hay for as long as it is fed of a span, and what must be mixed day by day."""
        asked = self.asked[source_id]
        fed = np.flatnonzero(is_some(asked[span.first : span.end]))
        spans = [Span(span.first + int(fed[0]), span.first + int(fed[-1]) + 1)] if len(fed) else []
        if source_id in self.days.weighed | self.days.forked:
            spans = [Span(day, day + 1) for day in range(span.first, span.end)]
        for one in spans:
            mass = float(asked[one.first : one.end].sum())
            if mass > LEAST_LOAD_KG:
                yield self._load(source_id, one, None, mass)

    def _load(self, source_id: str, span: Span, bales: int | None, mass: float) -> Delivery:
        day, group_id = self.days.day(span.first), self.days.group.group_id
        return Delivery(day, group_id, source_id, bales, mass, span.days)

    def _arrival(self, source_id: str, span: Span) -> Span:
        """Return the days a load is for; it comes on the first that it may be fed, no sooner."""
        opens = self.opens[source_id]
        if opens is None or self.days.day(span.first) >= opens:
            return span
        fed = np.flatnonzero(is_some(self.asked[source_id][span.first : span.end]))
        return Span(span.first + int(fed[0]), span.end) if len(fed) else span

    def _most_due(self, load: dict[str, int]) -> str | None:
        """Return the hay of which the next bale is due first; never a whole bale too early."""
        group_id = self.days.group.group_id
        behind = {}
        for one, bales in load.items():
            given = self.given[one] + bales
            late = self.wanted[one] - self.broken[one] - given
            if late > DUST and self.yard.may_give_another(group_id, one, given):
                behind[one] = late
        return max(behind, key=lambda one: behind[one], default=None)


def _grazing(farm: Farm, days: GroupDays) -> FloatArray:
    """Return what a group grazes on each day, which no one delivers. [kg]."""
    grazed = [feed.feed_id for feed in farm.feeds if feed.kind is FeedKind.GRAZING]
    return sum((days.asked[one] for one in grazed if one in days.asked), np.zeros(days.count))


def _put_out(farm: Farm, days: GroupDays) -> list[Feed]:
    """Return what a group is given beside hay and pasture."""
    beside = (one for one in farm.feeds if one.kind not in (FeedKind.FORAGE, FeedKind.GRAZING))
    return [one for one in beside if one.feed_id in days.asked]


def _feeds(
    program: SeasonProgram, farm: Farm, days: GroupDays, hay_every: int
) -> Iterator[Delivery]:
    protein = {one.source_id: one.cp_pct for one in program.sources}
    for feed in _put_out(farm, days):
        given = days.asked[feed.feed_id]
        rhythm = rhythm_of(feed, days.group.animal_class, protein[feed.feed_id], hay_every)
        for week in feed_spans(days.count, rhythm):
            together = float(given[week[0].first : week[-1].end].sum())
            spans = _while_fed(week, given) if together > LEAST_LOAD_KG else []
            for span in spans:
                each = together / len(spans)
                day = days.day(span.first)
                yield Delivery(day, days.group.group_id, feed.feed_id, None, each, span.days)


def _while_fed(week: list[Span], given: FloatArray) -> list[Span]:
    """Return the loads of a week without the days before and after those on which it is fed."""
    fed = np.flatnonzero(is_some(given[week[0].first : week[-1].end])) + week[0].first
    first, end = int(fed[0]), int(fed[-1]) + 1
    clipped = (Span(max(span.first, first), min(span.end, end)) for span in week)
    return [span for span in clipped if is_some(span.days)]


def _thrice(
    program: SeasonProgram, farm: Farm, days: GroupDays, hay_every: int
) -> Iterator[Assumption]:
    """Say of each protein feed that it goes to cows three times a week."""
    protein = {one.source_id: one.cp_pct for one in program.sources}
    kind = days.group.animal_class
    for feed in _put_out(farm, days):
        if rhythm_of(feed, kind, protein[feed.feed_id], hay_every) == "thrice":
            yield assumed("thrice_a_week", feed=feed.name, group=days.group.name)
