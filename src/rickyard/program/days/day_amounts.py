"""What is to be put out for each group on each day, as fed, so that no day breaks a rule.

The program counts periods. Within one, a feed that is raised climbs, a hay with nitrate begins low,
and the other hay makes up for both: the sum of each over the period stays, but for what a feed that
climbs may not come to in it. Hay that is over makes up for that.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace
from datetime import date, timedelta
from typing import Final

import numpy as np

from rickyard.farm import Farm, FeedKind, Group
from rickyard.program.days.bale_stock import BaleStock, hay_ids
from rickyard.program.days.held_rules import nitrate_by_day, only_mixed, weighed_out
from rickyard.program.days.making_up import (
    DUST_KG,
    day_kg_dm,
    kept_for_later,
    room_kg_dm,
    stand_ins,
)
from rickyard.program.days.safe_days import SafeDays
from rickyard.program.days.step_up import (
    asked_by_day,
    free_step_kg,
)
from rickyard.program.problem import (
    OneFeed,
    freely_given,
    stage_begins,
    swapped_by_day,
)
from rickyard.program.result import FeedingRow, SeasonProgram
from rickyard.quantities import is_some
from rickyard.safety import bindings
from rickyard.types import FloatArray, IntArray


@dataclass(frozen=True, slots=True)
class GroupDays:
    """One group's days on the farm in the season, and what the program asks for on each.

    ``period`` is the period of each day and ``weight_kg`` a head's live weight; ``asked`` holds by
    source the kilograms as fed for the whole group on each day. What is ``weighed`` is put out
    every day for its nitrate, and never by the bale; ``forked`` comes out of an opened bale every
    day, as a whole one would lie before them too long. ``raised`` are the feeds that climb.
    ``bare`` are periods for which no hay without nitrate is over to begin hay with it low; in
    ``lean`` ones the limit of nitrate leaves less than the group's fill, in ``short`` ones nothing
    makes up for what is still to be raised. ``hunger_kg_dm`` is the dry matter by which each day
    lacks of the mean of its period: those that lack it eat what lies before them.
    """

    group: Group
    first: date
    period: IntArray
    weight_kg: FloatArray
    asked: dict[str, FloatArray]
    weighed: frozenset[str]
    raised: frozenset[str] = frozenset()
    bare: tuple[int, ...] = ()
    lean: tuple[int, ...] = ()
    short: tuple[int, ...] = ()
    hunger_kg_dm: FloatArray | None = None
    forked: frozenset[str] = frozenset()

    @property
    def count(self) -> int:
        """Return how many days the group is here."""
        return len(self.period)

    def by_bale(self, stocks: dict[str, BaleStock]) -> dict[str, BaleStock]:
        """Return the bales of what this group gets by the bale."""
        by_day = self.weighed | self.forked
        return {one: stocks[one] for one in self.asked if one in stocks and one not in by_day}

    def day(self, index: int) -> date:
        """Return a day by its index."""
        return self.first + timedelta(days=index)


def group_days(program: SeasonProgram, farm: Farm, *, counted: bool = True) -> Iterator[GroupDays]:
    """Yield the days of every group that is here in the season, in the order of the farm.

    Parameters
    ----------
    program : SeasonProgram
        What is fed in each period, and what is left of each hay.
    farm : Farm
        Its groups, feeds and rules are read.
    counted : bool
        Whether the program counts with the days on which feeds are raised.

    Returns
    -------
    iterator of GroupDays
        With what is put out on each day. [kg as fed]
    """
    everybody = list(_lists(program, farm, counted))
    room = room_kg_dm(program, farm)
    over = dict(room)
    every = [one.written(over) for one in everybody]
    if len(everybody) > 1 and any(over[one] <= DUST_KG < kg for one, kg in room.items()):
        # Where a hay runs out, all that want it get their part, and not only those who come first.
        later = kept_for_later([one.wants(room) for one in everybody], room)
        every = [one.written(room, kept) for one, kept in zip(everybody, later, strict=True)]
    yield from every


#: Hay without end, to see what a group would take of it. [kg DM]
PLENTY_KG: Final = 1e9


@dataclass(frozen=True, slots=True)
class _List:
    """What one group's list is written from; ``fill`` is the hay that makes up."""

    safe: SafeDays
    feed: OneFeed
    asked: dict[str, FloatArray]
    fill: frozenset[str]
    weighed: frozenset[str]
    dry: dict[str, float]

    def _with_room(self, room: dict[str, float]) -> SafeDays:
        return replace(self.safe, room=room, bare=[], lean=[], short=[])

    def wants(self, room: dict[str, float]) -> dict[str, float]:
        """Return what the group would take of each hay if there were no end of it. [kg DM]."""
        plenty = {one: PLENTY_KG if kg > DUST_KG else 0.0 for one, kg in room.items()}
        left = dict(plenty)
        self._with_room(left).amounts(self.feed.together(self.asked), self.fill, self.dry)
        return {one: kg - left[one] for one, kg in plenty.items()}

    def written(self, room: dict[str, float], kept: dict[str, float] | None = None) -> GroupDays:
        """Return the days of the group, and take what makes up for what it lacks off the room.

        ``kept`` is what of each hay stays for those who come later. [kg DM]
        """
        mine = {one: max(0.0, kg - (kept or {}).get(one, 0.0)) for one, kg in room.items()}
        safe, before = self._with_room(mine), dict(mine)
        moved, raised = safe.amounts(self.feed.together(self.asked), self.fill, self.dry)
        room.update(
            {one: kg - (before[one] - mine[one]) for one, kg in room.items() if np.isfinite(kg)}
        )
        wanted, asked, period = day_kg_dm(self.asked, self.dry), self.asked, safe.period
        new = {one: moved[one] for one in safe.others if one in moved and one not in asked}
        asked = self.feed.parted(moved, asked) | new
        return GroupDays(
            safe.group, safe.first, period, safe.weight_kg, asked, self.weighed | new.keys(),
            raised, tuple(safe.bare), tuple(safe.lean), tuple(safe.short),
            np.zeros(len(period)) + np.maximum(0.0, wanted - day_kg_dm(asked, self.dry)),
        )  # fmt: skip


def _lists(program: SeasonProgram, farm: Farm, counted: bool) -> Iterator[_List]:
    """Yield what the list of each group that is here is written from."""
    hays = hay_ids(farm)
    dry = {one.source_id: one.dm_pct / 100.0 for one in program.sources}
    weights = {(one.group_id, one.period): one.full_weight_kg for one in program.groups}
    bound, feed = bindings(farm), OneFeed.of(farm)
    bales = hays & {one.source_id for one in program.sources if one.bale_weight_kg is not None}
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
        weighed = weighed_out(program, group)
        asked = asked_by_day(group, period, rows.get(group.group_id, []), hays - weighed, dry)
        begins = stage_begins(group, [one.start for one in program.periods])
        if begins:
            own = [one for one in bound if one.group_id == group.group_id]
            freely = freely_given(farm, own, [program.periods[one].start for one in begins])
            free = group.head * free_step_kg(float(weight.min()))
            asked = swapped_by_day(period, asked, dry, freely, begins, free)
        rules = [
            replace(one, source_id=feed(one.source_id))
            for one in bound
            if one.group_id == group.group_id
        ]
        nitrate = nitrate_by_day(program, farm, group, period, rules)
        others = {}
        if not any(one in asked for one in bales - weighed):
            others = stand_ins(program, farm, group, period, mine[0][0])
        grazed = _eaten_of_grass(farm, group, period, rows.get(group.group_id, []), dry)
        safe = SafeDays(
            farm, group, mine[0][0], period, weight, rules, {}, counted, nitrate, others,
            grazed=grazed,
        )  # fmt: skip
        fill = hays - only_mixed(program, group.group_id)
        yield _List(safe, feed, asked, fill, weighed, dry)


def _eaten_of_grass(
    farm: Farm, group: Group, period: IntArray, rows: list[FeedingRow], dry: dict[str, float]
) -> dict[str, float]:
    """Return which part is eaten of the grass that is offered a group, by its feed. [-]."""
    grass = {one.feed_id for one in farm.feeds if one.kind is FeedKind.GRAZING}
    found = {}
    for row in rows:
        offered = row.offered_kg * dry[row.source_id]
        if row.source_id in grass and is_some(offered):
            days = np.count_nonzero(period == row.period)
            eaten = row.eaten_kg_dm_per_head_day * group.head * days
            found[row.source_id] = min(1.0, eaten / offered)
    return found
