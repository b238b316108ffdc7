"""What the program asks to be put out for each group on each day, as fed."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from datetime import date, timedelta

import numpy as np

from rickyard.farm import Farm, FeedKind, Group
from rickyard.program.feedout.bale_stock import BaleStock
from rickyard.program.feedout.held_rules import weighed_out
from rickyard.program.problem import new_hay_by_day
from rickyard.program.result import FeedingRow, SeasonProgram
from rickyard.types import FloatArray, IntArray


@dataclass(frozen=True, slots=True)
class GroupDays:
    """One group's days on the farm in the season, and what the program asks for on each.

    ``period`` is the period of each day and ``weight_kg`` a head's live weight; ``asked`` holds by
    source the kilograms as fed for the whole group on each day. What is ``weighed`` is put out
    every day for its nitrate, and never by the bale.
    """

    group: Group
    first: date
    period: IntArray
    weight_kg: FloatArray
    asked: dict[str, FloatArray]
    weighed: frozenset[str]

    @property
    def count(self) -> int:
        """Return how many days the group is here."""
        return len(self.period)

    def by_bale(self, stocks: dict[str, BaleStock]) -> dict[str, BaleStock]:
        """Return the bales of what this group gets by the bale."""
        return {one: stocks[one] for one in self.asked if one in stocks and one not in self.weighed}

    def day(self, index: int) -> date:
        """Return a day by its index."""
        return self.first + timedelta(days=index)


def hay_ids(farm: Farm) -> frozenset[str]:
    """Return the ids of the hays: every lot, and every feed bought as forage."""
    bought = (feed.feed_id for feed in farm.feeds if feed.kind is FeedKind.FORAGE)
    return frozenset((*(lot.lot_id for lot in farm.lots), *bought))


def group_days(program: SeasonProgram, farm: Farm) -> Iterator[GroupDays]:
    """Yield the days of every group that is here in the season, in the order of the farm."""
    hays = hay_ids(farm)
    dry = {one.source_id: one.dm_pct / 100.0 for one in program.sources}
    weights = {(one.group_id, one.period): one.full_weight_kg for one in program.groups}
    rows: dict[str, list[FeedingRow]] = {}
    for row in program.feeding:
        rows.setdefault(row.group_id, []).append(row)
    season_days = [
        (period.start + timedelta(days=number), period.index)
        for period in program.periods
        for number in range(period.days)
    ]
    for group in farm.groups:
        mine = [
            (day, period)
            for day, period in season_days
            if (group.from_on is None or day >= group.from_on)
            and (group.to_on is None or day < group.to_on)
        ]
        if not mine:
            continue
        period = np.array([one for _, one in mine], dtype=np.int64)
        weight = np.array(
            [weights.get((group.group_id, one), group.weight_kg) for one in period.tolist()]
        )
        weighed = weighed_out(program, group.group_id)
        asked = _asked(group, period, rows.get(group.group_id, []), hays - weighed, dry)
        yield GroupDays(group, mine[0][0], period, weight, asked, weighed)


def _asked(
    group: Group,
    period: IntArray,
    rows: list[FeedingRow],
    hays: frozenset[str],
    dry: dict[str, float],
) -> dict[str, FloatArray]:
    """Return what is asked for by day; of ``hays`` a new one is mixed in by degrees.

    Hay with a limit to its share is none of them: on the days on which it stood in for the
    hay that is still to come it would be more of the ration than it may.
    """
    asked: dict[str, FloatArray] = {}
    for row in rows:
        days = period == row.period
        each = row.offered_kg / max(int(days.sum()), 1)
        asked.setdefault(row.source_id, np.zeros(len(period)))[days] += each
    if group.change_over_days is not None and group.change_over_days > 1:
        only_hay = {source_id: amounts for source_id, amounts in asked.items() if source_id in hays}
        asked |= new_hay_by_day(period, only_hay, dry, group.change_over_days)
    return asked
