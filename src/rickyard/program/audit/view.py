"""A finished program beside its farm, laid out for the second look, and what is wrong with it."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from datetime import date, timedelta
from typing import Final

from rickyard.farm import Farm, Feed, FeedKind, Group, StatedNeed
from rickyard.forage.values import feed_row
from rickyard.hay.feeding import group_loss, package_of_bales
from rickyard.program.inputs import TRAMPLED_PCT, season_series
from rickyard.program.result import GroupPeriod, SeasonProgram
from rickyard.safety import Binding, bindings
from rickyard.stock.common import NeedSeries


class AuditView:
    """What the parts of the second look share.

    ``eaten`` is kilograms of dry matter per head and day by group and period, then by source.
    """

    def __init__(
        self, program: SeasonProgram, farm: Farm, own_needs: Sequence[StatedNeed] = ()
    ) -> None:
        self.program, self.farm, self._own_needs = program, farm, own_needs
        self.bound = bindings(farm)
        self._bars: dict[tuple[str, str], list[Binding]] = defaultdict(list)
        for bar in self.bound:
            if bar.rule.demand == "none":
                self._bars[bar.group_id, bar.source_id].append(bar)
        self.sources = {value.source_id: value for value in program.sources}
        self.cells = {(cell.group_id, cell.period): cell for cell in program.groups}
        self.lots = {lot.lot_id: lot for lot in farm.lots}
        self.feeds = {feed.feed_id: feed for feed in farm.feeds}
        self.eaten: dict[tuple[str, int], dict[str, float]] = defaultdict(dict)
        for row in program.feeding:
            amounts = self.eaten[row.group_id, row.period]
            amounts[row.source_id] = amounts.get(row.source_id, 0.0) + row.eaten_kg_dm_per_head_day
        self._series: dict[str, NeedSeries] = {}
        self.claimed = {(row.group_id, row.period, row.nutrient): row for row in program.needs}

    def series(self, group: Group) -> NeedSeries:
        """Return what a head of a group needs in each period, worked out again."""
        if group.group_id not in self._series:
            self._series[group.group_id] = season_series(self.farm, group, self.program.periods)
        return self._series[group.group_id]

    def is_barred(self, group_id: str, source_id: str, period: int) -> bool:
        """Say whether a group must not be given a lot or feed on some day of a period."""
        one = self.program.periods[period]
        bars = self._bars.get((group_id, source_id), ())
        return any(bar.holds(one.start, one.days) for bar in bars)

    def loss_frac(self, group_id: str, source_id: str) -> float:
        """Return what a group wastes of a lot or feed, from what the farm says of both."""
        group = self.farm.group(group_id)
        feed = self.feeds.get(source_id)
        if feed is not None and feed.feeding_loss_pct is not None:
            return feed.feeding_loss_pct / 100.0
        if feed is not None and feed.kind is FeedKind.GRAZING:
            return TRAMPLED_PCT / 100.0
        if feed is not None and feed.kind is not FeedKind.FORAGE:
            return 0.0
        if group.feeding_loss_pct is not None:
            return group.feeding_loss_pct / 100.0
        if feed is not None:
            return group_loss(group, package_of_bales(feed.bale_weight_kg)).pct / 100.0
        lot = self.lots[source_id]
        return group_loss(group, lot.package, lot.storage).pct / 100.0

    def stated(self, cell: GroupPeriod) -> StatedNeed | None:
        """Return what the folder states of a group's needs in the middle of a period."""
        day = self.middle(cell.period)
        rows = [need for need in self.farm.needs if need.group_id == cell.group_id]
        return next((need for need in rows if need.start <= day < need.end), None)

    def is_own(self, cell: GroupPeriod) -> bool:
        """Say whether the folder itself states what a group needs in the middle of a period."""
        day = self.middle(cell.period)
        return any(
            need.group_id == cell.group_id and need.start <= day < need.end
            for need in self._own_needs
        )

    def middle(self, period: int) -> date:
        """Return the day in the middle of a period."""
        one = self.program.periods[period]
        return one.start + timedelta(days=one.days // 2)

    def in_season(self, source_id: str, period: int) -> bool:
        """Say whether a lot or feed may be fed through the whole of a period, by its dates."""
        one = self.program.periods[period]
        last = one.start + timedelta(days=one.days - 1)
        if source_id in self.lots:
            lot = self.lots[source_id]
            early = lot.feed_from is not None and one.start < lot.feed_from
            return not early and not (lot.feed_by is not None and last > lot.feed_by)
        feed = self.feeds[source_id]
        early = feed.from_on is not None and one.start < feed.from_on
        return not early and not (feed.to_on is not None and last >= feed.to_on)

    def is_forage(self, source_id: str) -> bool:
        """Say whether a source is hay or grass."""
        feed = self.feeds.get(source_id)
        return feed is None or feed.kind in (FeedKind.FORAGE, FeedKind.GRAZING)

    def is_hay(self, source_id: str) -> bool:
        """Say whether rules about hay in use count a source: lots and bought hay."""
        feed = self.feeds.get(source_id)
        return feed is None or feed.kind is FeedKind.FORAGE


def urea_pct(feed: Feed) -> float:
    """Return the protein of a feed that is urea or the like, of its dry matter."""
    if feed.npn_cp_pct is not None:
        return feed.npn_cp_pct
    if not feed.table_id:
        return 0.0
    return feed_row(feed.table_id).npn_cp_pct or 0.0


#: Every balance, need and ceiling must hold to this share.
TOLERANCE: Final = 1e-6

#: Less than this of a feed in a season is held to milligrams instead, kg.
SEASON_KG: Final = 10.0


@dataclass(frozen=True, slots=True)
class Breach:
    """One thing a program claims that does not add up."""

    what: str
    claimed: float
    found: float

    def __str__(self) -> str:
        return f"{self.what}: the program says {self.claimed:.9g}, the re-check {self.found:.9g}."


def is_over(found: float, most: float, scale: float = 0.1) -> bool:
    """Say whether a figure is more than a millionth of it, or of the scale, above another.

    Examples
    --------
    >>> is_over(2.0, 1.0), is_over(1.0, 1.0), is_over(1.0 + 1e-7, 1.0), is_over(1.0, 0.0, 1e6)
    (True, False, False, False)
    """
    return found > most + TOLERANCE * max(abs(most), scale)


def compare(what: str, claimed: float, found: float, scale: float = 0.0) -> Iterator[Breach]:
    """Yield a breach where two figures differ by more than a millionth of the larger.

    Examples
    --------
    >>> [str(one) for one in compare("cost", 1.0, 1.1)]
    ['cost: the program says 1, the re-check 1.1.']
    >>> list(compare("cost", 0.0, 1.0, 1e6))
    []
    """
    if abs(claimed - found) > TOLERANCE * max(abs(claimed), abs(found), scale, 1e-6):
        yield Breach(what, claimed, found)


def at_most(what: str, found: float, most: float, scale: float = 0.1) -> Iterator[Breach]:
    """Yield a breach where a figure is more than a millionth above the most it may be.

    >>> list(at_most("fat", 0.4, 0.4))
    []
    """
    if is_over(found, most, scale):
        yield Breach(what, most, found)
