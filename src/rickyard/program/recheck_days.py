"""What a program asks for on each day, added up again for the second look at deliveries."""

from __future__ import annotations

from collections import defaultdict
from datetime import date, timedelta

from rickyard.farm import Farm, FeedKind, Group
from rickyard.program.result import SeasonProgram

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


def asked_by_day(program: SeasonProgram, farm: Farm, group: Group) -> Asked:
    """Return what the program asks for, spread over the days of each period.

    Where the group changes hay over some days, the new hay comes in by even steps.
    """
    by_period: dict[int, list[date]] = defaultdict(list)
    for day, period in days_here(program, group).items():
        by_period[period].append(day)
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
        parts = _parts(here, new, farm, group.change_over_days or 1, len(days))
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
    here: dict[str, float], new: set[str], farm: Farm, over: int, days: int
) -> dict[str, list[float]]:
    """Return the part of a period's amount of each source that falls on each of its days."""
    hay = {one: kilograms for one, kilograms in here.items() if is_hay(farm, one)}
    whole, fresh = sum(hay.values()), sum(hay[one] for one in new)
    steps = [min(1.0, (number + 1) / over) for number in range(days)]
    even = {one: [1.0 / days] * days for one in here}
    if not 0.0 < fresh < whole or fresh / whole * days > sum(steps):
        return even
    for one in hay:
        if one in new:
            even[one] = [step / sum(steps) for step in steps]
        else:
            even[one] = [
                (whole / days - fresh * step / sum(steps)) / (whole - fresh) for step in steps
            ]
    return even
