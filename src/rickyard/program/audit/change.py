"""A second look at how fast a group's hay changes, from the feeding and the farm alone."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterator
from typing import Final

from rickyard.farm import Farm, FeedKind, Group
from rickyard.program.audit.days import days_here, is_hay
from rickyard.program.audit.violation import Breach
from rickyard.program.result import NeedRow, SeasonProgram

#: Amounts must agree to this, kg of dry matter per head and day.
NEAR_KG: Final = 1e-5


def change_breaches(program: SeasonProgram, farm: Farm) -> Iterator[Breach]:
    """Yield where more hay is new than a group's days of change allow, and nothing says so.

    Parameters
    ----------
    program : SeasonProgram
        The program to check.
    farm : Farm
        The farm it was made for.
    """
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
