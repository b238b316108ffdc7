"""A second look at how fast a group's hay changes, from the feeding and the farm alone."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Collection, Iterator
from datetime import date, timedelta
from typing import Final

from rickyard.farm import Farm, FeedKind, Group
from rickyard.program.audit.violation import Breach
from rickyard.program.result import NeedRow, SeasonProgram

#: Kilograms as fed for the whole group, by source and day.
Asked = dict[str, dict[date, float]]


def days_here(program: SeasonProgram, group: Group) -> dict[date, int]:
    """Return the days of the season on which a group is here, each with its period."""
    found = {}
    for period in program.periods:
        for number in range(period.days):
            day = period.start + timedelta(days=number)
            late = group.to_on is not None and day >= group.to_on
            early = group.from_on is not None and day < group.from_on
            if not (late or early):
                found[day] = period.index
    return found


def is_hay(farm: Farm, source_id: str) -> bool:
    """Return whether a source is a lot or a bought forage."""
    kinds = {feed.feed_id: feed.kind for feed in farm.feeds}
    return kinds.get(source_id, FeedKind.FORAGE) is FeedKind.FORAGE


def asked_by_day(
    program: SeasonProgram, farm: Farm, group: Group, limited: Collection[str]
) -> Asked:
    """Return what the program asks for, spread over the days of each period.

    Where the group changes hay over some days, the new hay comes in by even steps. What is
    ``limited`` to a share of the ration stays even, so that no day has more of it.
    """
    by_period: dict[int, list[date]] = defaultdict(list)
    for day, period in days_here(program, group).items():
        by_period[period].append(day)
    dry = {one.source_id: one.dm_pct / 100.0 for one in program.sources}
    amounts: dict[int, dict[str, float]] = defaultdict(dict)
    for row in program.feeding:
        if row.group_id == group.group_id:
            amounts[row.period][row.source_id] = row.offered_kg
    asked: Asked = defaultdict(dict)
    for period, days in by_period.items():
        here = amounts[period]
        new = _new_hays(
            farm, group, here, amounts.get(period - 1) if period - 1 in by_period else None
        )
        new -= set(limited)
        hays = {one: dry[one] for one in here if is_hay(farm, one) and one not in limited}
        parts = _parts(here, new, hays, group.change_over_days or 1, len(days))
        for source_id, kilograms in here.items():
            for number, day in enumerate(days):
                asked[source_id][day] = kilograms * parts[source_id][number]
    return dict(asked)


def _new_hays(
    farm: Farm, group: Group, here: dict[str, float], before: dict[str, float] | None
) -> set[str]:
    if group.change_over_days is None or before is None:
        return set()
    return {one for one in here if is_hay(farm, one) and before.get(one, 0.0) <= 0.0}


def _parts(
    here: dict[str, float], new: set[str], dry: dict[str, float], over: int, days: int
) -> dict[str, list[float]]:
    """Return the part of a period's amount of each source that falls on each of its days.

    ``dry`` is the dry matter of each hay, by which new and old are weighed against each other.
    """
    even = {one: [1.0 / days] * days for one in here}
    hay = {one: here[one] * dry[one] for one in dry}
    whole, fresh = sum(hay.values()), sum(hay[one] for one in new)
    if not 0.0 < fresh < whole:
        return even
    line = [min(1.0, (number + 1) / over) for number in range(days)]
    share = _to_mean(line, fresh / whole)
    for one in hay:
        mine = share if one in new else [1.0 - part for part in share]
        even[one] = [part / sum(mine) for part in mine]
    return even


def _to_mean(line: list[float], mean: float) -> list[float]:
    """Stretch a line, cut off at one, until its mean is so, by halving the interval."""
    low, high = 0.0, 1.0 / line[0]
    for _ in range(200):
        middle = (low + high) / 2.0
        if sum(min(1.0, middle * one) for one in line) < mean * len(line):
            low = middle
        else:
            high = middle
    return [min(1.0, high * one) for one in line]


#: Amounts must agree to this, kg of dry matter per head and day.
NEAR_KG: Final = 1e-5


def change_breaches(program: SeasonProgram, farm: Farm) -> Iterator[Breach]:
    """Yield where more hay is new than a group's days of change allow, and nothing says so."""
    if any(feed.kind is FeedKind.GRAZING for feed in farm.feeds):
        return
    told = {
        (row.group_id, row.period): row for row in program.needs if row.nutrient == "change_over"
    }
    for group in farm.groups:
        at_once = farm.season.hays_at_once
        if group.hays_at_once is not None:
            at_once = group.hays_at_once
        # One hay at a time leaves nothing to mix it with.
        if at_once != 1 and group.change_over_days is not None and group.change_over_days > 1:
            yield from _of_group(program, farm, group, group.change_over_days, told)


def _of_group(
    program: SeasonProgram,
    farm: Farm,
    group: Group,
    over: int,
    told: dict[tuple[str, int], NeedRow],
) -> Iterator[Breach]:
    eaten: dict[int, dict[str, float]] = defaultdict(dict)
    for row in program.feeding:
        if row.group_id == group.group_id and is_hay(farm, row.source_id):
            eaten[row.period][row.source_id] = row.eaten_kg_dm_per_head_day
    days: dict[int, int] = defaultdict(int)
    for period in days_here(program, group).values():
        days[period] += 1
    for period in sorted(days):
        if period - 1 not in days:
            continue
        line = [min(1.0, number / over) for number in range(1, days[period] + 1)]
        most = sum(line) / len(line) * sum(eaten[period].values())
        before = eaten[period - 1]
        new = sum(
            max(0.0, kilograms - before.get(one, 0.0)) for one, kilograms in eaten[period].items()
        )
        where = f"{group.name}, new hay in period {period}"
        claim = told.get((group.group_id, period))
        if claim is None:
            yield Breach(f"{where}, row", 0.0, most)
            continue
        for what, claimed, found in (
            ("may be", claim.need, most),
            ("is", claim.supplied, new),
            ("too much", claim.shortage, max(0.0, new - most)),
        ):
            if abs(claimed - found) > NEAR_KG * max(1.0, most):
                yield Breach(f"{where}, {what}", claimed, found)
