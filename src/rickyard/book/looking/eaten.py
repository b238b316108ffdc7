"""What stock with free access really ate, from the feeding log, beside what the equation gives.

What is put out is not what is eaten: the waste of the feeder goes off, and hay counts for the days
until hay is put out again. What nobody noted is left out, never taken for nothing.
"""

from __future__ import annotations

import math
from collections import defaultdict
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from datetime import date, timedelta
from itertools import pairwise
from statistics import median
from typing import Final

from rickyard.book.looking.dated import Dated, held_on
from rickyard.book.looking.put_out import PutOut, put_out
from rickyard.book.looking.weights import WITHIN_90
from rickyard.farm import Farm, FeedKind, Group, Lot
from rickyard.forage.plausibility import lot_profile
from rickyard.forage.uncertainty import lot_measured
from rickyard.hay.storage import bale_weight_error_frac
from rickyard.kinds import Offered
from rickyard.program.inputs import feed_values, feeding_losses, season_days
from rickyard.program.rations import offered_to
from rickyard.quantities import OutOfRange
from rickyard.stock.common import NeedSeries
from rickyard.stock.equations import RULES, appetite_kg

#: Hay that lasted more than so many times its usual days was followed by hay that nobody noted, or
#: by grass. Judgement, no published source.
LONGEST: Final = 2.0

#: From so many days and times hay was put out on something can be said of appetite. Judgement, no
#: published source.
LEAST_DAYS: Final = 14
LEAST_TIMES: Final = 5

#: Nine times in ten the waste of a feeder lies within so much of itself: open rings are printed
#: from 6 to 20 %, Buskirk et al. 2003 and an Oklahoma State trial. Derived; that other feeders vary
#: alike is judgement.
WASTE_WITHIN: Final = 0.5

#: Standard error of the weight of stock, and how appetite follows weight (W^0.75). The first is
#: judgement, no published source. [-]
WEIGHT_ERROR: Final = 0.03
WEIGHT_POWER: Final = 0.75

_DAYS_PER_MONTH: Final = 365.25 / 12.0
_COW_RULES: Final = {one for one in RULES if one.startswith("cow")}


@dataclass(frozen=True, slots=True)
class Eaten:
    """What a group ate, over the days that can be told: dry matter per head and day. [kg].

    ``days`` are told and ``left_out`` are not: hay lasted too long to have been all, something had
    no weight, or there was grass. ``times`` is how often hay was put out. ``pct`` is
    what was eaten in percent of what the equation gives for the same stock and diet;
    ``sampling_pct`` its standard error by how evenly it was fed, ``shared_pct`` by what the weights
    of bales and stock, dry matter and waste may be off. All three are ``None`` where the group is
    not fed as much as it likes, or has no such equation; ``why`` says what is missing for it.
    ``nursing`` is the share of days in milk, ``is_cow`` whether it counts by the equation of cows.
    """

    group: Group
    days: int
    left_out: int
    times: int
    eaten_kg: float
    expected_kg: float | None
    pct: float | None
    sampling_pct: float | None
    shared_pct: float | None
    nursing: float
    is_cow: bool = False
    why: str = ""


@dataclass(frozen=True, slots=True)
class _Span:
    """Hay of a day until hay is put out again: what was eaten and what the equation gives [kg]."""

    eaten_kg: float
    expected_kg: float
    head_days: int
    days: int
    nursing_days: int


def eaten_of(farm: Farm, heads: Mapping[str, Sequence[Dated]], until: date) -> tuple[Eaten, ...]:
    """Return what each group ate of which hay is noted often enough.

    Parameters
    ----------
    farm : Farm
        The season; how much it says that stock eat is not counted.
    heads : mapping of str to sequence of Dated
        Head and weight of each group by the days from which they hold.
    until : date
        The last day that is looked at.

    Returns
    -------
    tuple of Eaten
        Groups in the order of the farm.

    Raises
    ------
    OutOfRange
        If neither weight nor size of a lot's bales is known.
    """
    bare = replace(farm, season=replace(farm.season, intake_pct=100.0))
    start, last = farm.season.start, min(until, farm.season.end - timedelta(days=1))
    lines = [one for one in put_out(farm, last) if one.row.day >= start]
    loss, _ = feeding_losses(farm)
    energy = _energy(farm)
    found = []
    for g, group in enumerate(farm.groups):
        mine = [one for one in lines if one.row.group_id == group.group_id]
        known = heads.get(group.group_id) or (Dated(None, (group.head, group.weight_kg)),)
        hay = _Hay(bare, energy, dict(zip(energy, loss[g].tolist(), strict=True)))
        found.append(_eaten(hay, _Stock(bare, group, known), mine))
    return tuple(one for one in found if one is not None)


@dataclass(frozen=True, slots=True)
class _Hay:
    """What a group is fed of: energy [Mcal NEm/kg DM] and waste [-] by source."""

    farm: Farm
    energy: Mapping[str, float]
    wasted: Mapping[str, float]

    def is_grazed(self, first: date, last: date) -> bool:
        """Return whether there is something to graze on any of some days."""
        return any(
            feed.kind is FeedKind.GRAZING
            and (feed.from_on is None or feed.from_on <= last)
            and (feed.to_on is None or first < feed.to_on)
            for feed in self.farm.feeds
        )

    def eaten(self, lines: Sequence[PutOut]) -> dict[str, float]:
        """Return the dry matter that was eaten of each source. [kg]."""
        ate: dict[str, float] = defaultdict(float)
        for one in lines:
            source = one.row.source_id
            ate[source] += (one.dry_kg or 0.0) * (1.0 - self.wasted.get(source, 0.0))
        return ate


def _eaten(hay: _Hay, stock: _Stock, lines: Sequence[PutOut]) -> Eaten | None:
    days = sorted({one.row.day for one in lines if one.is_forage})
    gaps = [(after - day).days for day, after in pairwise(days)]
    if len(gaps) < LEAST_TIMES:
        return None
    usual = median(gaps)
    spans = []
    for day, gap in zip(days[:-1], gaps, strict=True):
        span = None if gap > LONGEST * usual else _span(hay, stock, lines, (day, gap))
        if span is not None:
            spans.append(span)
    told = sum(one.days for one in spans)
    if told < LEAST_DAYS or len(spans) < LEAST_TIMES:
        return None
    eaten = math.fsum(one.eaten_kg for one in spans)
    head_days = sum(one.head_days for one in spans)
    ate = Eaten(
        stock.group,
        told,
        sum(gaps) - told,
        len(spans),
        eaten / head_days,
        None,
        None,
        None,
        None,
        sum(one.nursing_days for one in spans) / told,
        stock.is_cow,
        stock.why,
    )
    if offered_to(stock.group) is not Offered.FREE_CHOICE or not stock.has_equation:
        return ate
    expected = math.fsum(one.expected_kg for one in spans)
    ratio = eaten / expected
    off = math.fsum((one.eaten_kg - ratio * one.expected_kg) ** 2 for one in spans)
    # A ratio of sums: Cochran 1977, Sampling Techniques, 3rd ed., section 6.4; from memory.
    sampling = math.sqrt(off * len(spans) / (len(spans) - 1)) / expected
    shared = ratio * _may_be_off(hay, lines)
    return replace(
        ate,
        expected_kg=expected / head_days,
        pct=100.0 * ratio,
        sampling_pct=100.0 * sampling,
        shared_pct=100.0 * shared,
    )


class _Stock:
    """A group through time: how many, how heavy, and how much the equation gives each."""

    def __init__(self, farm: Farm, group: Group, known: Sequence[Dated]) -> None:
        self._farm, self.group, self._known = farm, group, known
        self._kept: dict[date, NeedSeries] = {}
        self.why = ""
        rules: set[str] = set()
        try:
            for day in {farm.season.start, *(one.day for one in known if one.day is not None)}:
                if day < farm.season.end:
                    rules |= set(self._series(day).intake_rule)
        except OutOfRange as problem:
            self.why = str(problem)
        self.has_equation = bool(rules) and rules <= set(RULES)
        self.is_cow = self.has_equation and rules <= _COW_RULES

    def _weighed(self, day: date) -> date:
        """Return the day from which the weight of a day holds."""
        at = held_on(self._known, day)
        kg = None if at is None else at.values[1]
        same = [one.day for one in self._known if one.values[1] == kg and one.day is not None]
        # Who is counted anew was not weighed anew.
        first = self._known[0].values[1] == kg
        earlier = [one for one in same if one <= day]
        return self._farm.season.start if first or not earlier else min(earlier)

    def _series(self, day: date) -> NeedSeries:
        weighed = max(self._weighed(day), self._farm.season.start)
        if weighed not in self._kept:
            self._kept[weighed] = season_days(*self._from(weighed))
        return self._kept[weighed]

    def _from(self, weighed: date) -> tuple[Farm, Group]:
        farm, group = self._farm, self.group
        at = held_on(self._known, weighed)
        kg = group.weight_kg if at is None else at.values[1]
        if weighed == farm.season.start:
            return farm, replace(group, weight_kg=kg)
        older = (weighed - (farm.season.weighed_on or farm.season.start)).days / _DAYS_PER_MONTH
        age = None if group.age_months is None else group.age_months + older
        season = replace(farm.season, start=weighed, weighed_on=weighed)
        return replace(farm, season=season), replace(group, weight_kg=kg, age_months=age)

    def _at(self, day: date) -> tuple[NeedSeries, int]:
        series = self._series(day)
        begun = max(self._weighed(day), self._farm.season.start)
        return series, (day - begun).days

    def head(self, day: date) -> int:
        """Return how many there are; nobody where the group is not here."""
        held = held_on(self._known, day)
        many = self.group.head if held is None else int(held.values[0])
        if self.why:
            return many
        series, at = self._at(day)
        return many if series.present[at] else 0

    def is_nursing(self, day: date) -> bool:
        """Return whether they are in milk."""
        if self.why:
            return False
        series, at = self._at(day)
        return bool(series.lactating[at])

    def expected_kg(self, day: date, nem: float) -> float:
        """Return the dry matter that the equation gives a head of a diet of an energy."""
        series, at = self._at(day)
        return float(
            appetite_kg(
                series.intake_rule[at],
                float(series.shrunk_weight_kg[at]),
                nem,
                float(series.milk_kg[at]),
                float(series.intake_factor[at]),
            )
        )


def _span(
    hay: _Hay, stock: _Stock, lines: Sequence[PutOut], when: tuple[date, int]
) -> _Span | None:
    """Return what was eaten until hay is put out again; ``None`` where that is not known."""
    begun, gap = when
    days = [begun + timedelta(days=one) for one in range(gap)]
    heads = [stock.head(day) for day in days]
    its = [one for one in lines if days[0] <= one.row.day <= days[-1]]
    if hay.is_grazed(days[0], days[-1]) or not all(heads):
        return None
    if any(one.dry_kg is None for one in its):
        return None
    ate = hay.eaten(its)
    whole = math.fsum(ate.values())
    if whole <= 0.0:
        return None
    nem = math.fsum(hay.energy[source] * kg for source, kg in ate.items()) / whole
    given = [stock.expected_kg(day, nem) if stock.has_equation else 0.0 for day in days]
    return _Span(
        whole,
        math.fsum(one * many for one, many in zip(given, heads, strict=True)),
        sum(heads),
        gap,
        sum(stock.is_nursing(day) for day in days),
    )


def _energy(farm: Farm) -> dict[str, float]:
    """Return the energy of every lot and feed, lots first. [Mcal NEm/kg DM]."""
    lots = {
        lot.lot_id: lot_profile(lot, farm.reports_of(lot.lot_id)).nem_mcal_per_kg
        for lot in farm.lots
    }
    return lots | {
        feed.feed_id: feed_values(feed, farm.season)[0].nem_mcal_per_kg for feed in farm.feeds
    }


def _may_be_off(hay: _Hay, lines: Sequence[PutOut]) -> float:
    """Return the standard error, as a share, of what is the same in every feeding of a group.

    Bale weights and dry matter are a lot's own; the waste of a feeder is off the same way for all
    hay; the weight of the stock moves what the equation gives.
    """
    ate, by_bales = hay.eaten(lines), hay.eaten([one for one in lines if one.row.mass_kg is None])
    whole = math.fsum(ate.values())
    squares = [(WEIGHT_POWER * WEIGHT_ERROR) ** 2]
    for lot in hay.farm.lots:
        if ate.get(lot.lot_id):
            bales = by_bales.get(lot.lot_id, 0.0) / whole * bale_weight_error_frac(lot)[0]
            dry = ate[lot.lot_id] / whole * _dry_matter_error(hay.farm, lot)
            squares += [bales**2, dry**2]
    waste = math.fsum(
        kg / whole * WASTE_WITHIN / WITHIN_90 * hay.wasted[source] / (1.0 - hay.wasted[source])
        for source, kg in ate.items()
        if kg
    )
    return math.sqrt(math.fsum(squares) + waste**2)


def _dry_matter_error(farm: Farm, lot: Lot) -> float:
    """Return the standard error of a lot's dry matter as a share of it."""
    reports = farm.reports_of(lot.lot_id)
    found = lot_measured(lot, reports, lot_profile(lot, reports))["dm_pct"]
    return found.sd / found.value
