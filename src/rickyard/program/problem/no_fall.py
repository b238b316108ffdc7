"""No fall of feed at birth or weaning, and none of forage in one night: what ties two periods."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from datetime import date
from typing import Final

import numpy as np

from rickyard.farm import Farm, Group
from rickyard.program.inputs import NeedTable, SourceTable
from rickyard.program.problem.step_schedule import Step
from rickyard.quantities import DAYS_PER_WEEK, is_some
from rickyard.safety import Rule, amount_of, births, diet_rule
from rickyard.types import BoolArray

#: A new period that begins fewer days than this before the event, or at most so many after it,
#: falls in its week. [d] Common practice, no published source.
EVENT_DAYS: Final = DAYS_PER_WEEK


@dataclass(frozen=True, slots=True)
class Hold:
    """Feed that does not fall: ``sum v x >= part sum v x_before`` in a period of a group.

    ``v`` is what a kilogram holds of ``supply``, energy or protein. ``slow`` holds the sources of
    each feed that the group is raised on slowly: of what begins in the period only a part is there,
    whether the program counts its steps or hay makes up for them day by day.
    """

    rule_id: str
    group: int
    period: int
    supply: str
    part: float
    slow: tuple[tuple[int, ...], ...] = ()


def holds_of(farm: Farm, needs: NeedTable, steps: Iterable[Step]) -> tuple[Hold, ...]:
    """Return the periods in which a group is fed no less than in the period before.

    Parameters
    ----------
    farm : Farm
        Its groups and season are read.
    needs : NeedTable
        Periods, and in which energy each group is counted.
    steps : iterable of Step
        The feeds that are raised slowly.

    Returns
    -------
    tuple of Hold
        Of energy and of protein, around each birth and in the week of weaning.
    """
    slow: dict[int, list[tuple[int, ...]]] = {}
    for step in steps:
        if step.days:
            slow.setdefault(step.group, []).append(step.sources)
    return tuple(
        Hold(rule.rule_id, g, t, supply, (rule.amount or 0.0) / 100.0, tuple(slow.get(g, ())))
        for g, group in enumerate(farm.groups)
        for rule, t in _periods_held(farm, group, g, needs)
        for supply in ("tdn" if np.isfinite(needs.least["tdn"][g, t]) else "nem", "cp")
    )


def _periods_held(farm: Farm, group: Group, g: int, needs: NeedTable) -> Iterator[tuple[Rule, int]]:
    for rule_id, days in (
        ("no-fall-birth", births(group)),
        ("no-fall-weaning", () if group.weaning_on is None else (group.weaning_on,)),
    ):
        rule = diet_rule((rule_id,), group, farm)
        if rule is None:
            continue
        for t in range(1, len(needs.periods)):
            here = needs.here[g, t - 1] and needs.here[g, t]
            start = needs.periods[t].start
            last = EVENT_DAYS if rule_id == "no-fall-birth" else 0
            if here and any(_in_week(start, day, last) for day in days):
                yield rule, t


def stage_begins(group: Group, starts: Iterable[date]) -> frozenset[int]:
    """Return which periods, by their first days, begin in the week of a birth or of weaning.

    Parameters
    ----------
    group : Group
        The days of its births and of weaning are read.
    starts : iterable of date
        The first day of each period.

    Returns
    -------
    frozenset of int
        Their numbers, from 0.
    """
    weaned = () if group.weaning_on is None else (group.weaning_on,)
    return frozenset(
        number
        for number, start in enumerate(starts)
        if any(_in_week(start, day, EVENT_DAYS) for day in (*births(group), *weaned))
    )


def _in_week(start: date, event: date, last: int) -> bool:
    """Say whether a period begins in the week of an event, or up to some days after it.

    Examples
    --------
    >>> event = date(2027, 3, 10)
    >>> [_in_week(date(2027, 3, day), event, 7) for day in (3, 4, 10, 17, 18)]
    [False, True, True, True, False]
    """
    return -EVENT_DAYS < (start - event).days <= last


@dataclass(frozen=True, slots=True)
class Descent:
    """Forage that falls by degrees: ``sum x >= sum x_before - part (all x_before)`` of a group.

    ``now`` and ``before`` mark the forages that count in the period and in the one before it, (i,).
    """

    rule_id: str
    group: int
    period: int
    now: BoolArray
    before: BoolArray
    part: float


#: The rule by which forage falls from one night to the next.
FORAGE_FALL: Final = "forage-fall"

#: Of that so much is left to the mean of a period, as on its days hay makes up for feed that climbs
#: and gives way to it. Judgement, no published source.
LEFT_TO_MEANS: Final = 0.85


def descents_of(needs: NeedTable, sources: SourceTable) -> tuple[Descent, ...]:
    """Return how far the forage of each group may fall from one period to the next.

    Parameters
    ----------
    needs : NeedTable
        Periods and who is here.
    sources : SourceTable
        What is forage, and who may have it when.

    Returns
    -------
    tuple of Descent
        One for each group and period after its first. Forage that can no longer be fed, as grass
        that is gone, counts in the period before it only where hay can be bought without limit.
    """
    forage = np.array([value.is_forage for value in sources.values], dtype=bool)
    endless = np.zeros(len(forage), dtype=bool)
    endless[sources.lot_count :] = np.isinf(sources.most_buy_kg_dm)
    open_to = sources.allowed & is_some(sources.most_kg_dm) & forage[None, :, None]
    found = []
    for g, t in np.argwhere(needs.here[:, 1:] & needs.here[:, :-1]).tolist():
        now, was = open_to[g, :, t + 1], open_to[g, :, t]
        before = was if (now & endless).any() else was & now
        if before.any():
            part = LEFT_TO_MEANS * amount_of(FORAGE_FALL) / 100.0
            found.append(Descent(FORAGE_FALL, g, t + 1, now, before, part))
    return tuple(found)
