"""Who is on the farm on some days, what they graze, and what stands there and is kept from them."""

from __future__ import annotations

from collections.abc import Collection, Mapping, Sequence
from dataclasses import dataclass
from datetime import date, timedelta

from rickyard.farm import Farm, FeedKind
from rickyard.program.result import SeasonProgram
from rickyard.safety import rule_of


def is_here(program: SeasonProgram, group_id: str, days: Sequence[date]) -> bool:
    """Say whether a group is on the farm on any of some days that follow each other.

    Parameters
    ----------
    program : SeasonProgram
        The program, with where its groups are.
    group_id : str
        The group.
    days : sequence of date
        The days, in order.

    Returns
    -------
    bool
        Whether it is there.
    """
    return bool(days) and any(
        one.group_id == group_id
        and one.start <= days[-1]
        and days[0] < one.start + timedelta(days=program.periods[one.period].days)
        for one in program.groups
    )


def grazed_by(program: SeasonProgram, farm: Farm, group_id: str, days: Sequence[date]) -> list[str]:
    """Return what a group is on, on some days that follow each other, which nobody puts out."""
    grazing = {feed.feed_id for feed in farm.feeds if feed.kind is FeedKind.GRAZING}
    return list(
        dict.fromkeys(
            row.source_id
            for row in program.feeding
            if row.group_id == group_id
            and row.source_id in grazing
            and row.start <= days[-1]
            and days[0] < row.start + timedelta(days=row.days)
        )
    )


@dataclass(frozen=True, slots=True)
class KeptAway:
    """What is on the farm and kept from groups: the hazards, by group and lot or feed."""

    by_group: Mapping[str, Mapping[str, tuple[str, ...]]]
    everybody: frozenset[str]
    name_of: Mapping[str, str]

    def names(self, sources: Collection[str], group_id: str | None = None) -> list[str]:
        """Return names with why: "Sudan rounds (nitrate)"."""
        found = []
        for source_id in self.name_of:
            if source_id in sources:
                of = self.by_group.values() if group_id is None else [self.by_group[group_id]]
                why = dict.fromkeys(one for mine in of for one in mine.get(source_id, ()))
                found.append(f"{self.name_of[source_id]} ({'; '.join(why)})")
        return found


def kept_away(program: SeasonProgram, farm: Farm, days: Sequence[date]) -> KeptAway:
    """Return what stands in the yard, or is fed to others, and is kept from groups on some days."""
    hand = {one.lot_id for one in program.lots if one.start_t > 0.0}
    hand |= {one.source_id for one in program.feeding}
    here = [one.group_id for one in farm.groups if is_here(program, one.group_id, days)]
    by_group: dict[str, dict[str, tuple[str, ...]]] = {one: {} for one in here}
    for one in program.rules:
        rule = rule_of(one.rule_id)
        holds = bool(days) and one.start <= days[-1] and days[0] < one.end
        if one.demand == "none" and holds and one.source_id in hand and one.group_id in by_group:
            mine = by_group[one.group_id]
            mine[one.source_id] = (*mine.get(one.source_id, ()), rule.hazard)
    everybody = frozenset(hand if by_group else ())
    for mine in by_group.values():
        everybody &= frozenset(mine)
    names = {one.source_id: one.name for one in program.sources}
    return KeptAway(by_group, everybody, names)
