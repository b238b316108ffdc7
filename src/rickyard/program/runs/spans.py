"""How the weeks of each group are cut into rations: the first week of each, and what may be cut."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from math import ceil
from typing import Final

import numpy as np

from rickyard.program.problem import Problem
from rickyard.program.result import HayUse
from rickyard.program.solver import is_placed, nowhere
from rickyard.quantities import is_some
from rickyard.types import BoolArray, FloatArray, IntArray

#: One ration a month, unless the farm says otherwise.
DAYS_OF_A_RATION: Final = 30.4

#: The shortest ration. Common practice.
LEAST_DAYS: Final = 21

#: Where the hays of one ration do not last a group so long, it may have twice as many rations, of
#: two weeks at least, if there are lots to fill them: a large herd goes through its lots one after
#: another. Judgement, no published source.
LASTS_DAYS: Final = 60.0
LEAST_DAYS_OF_MANY: Final = 14

#: Such rations are no longer than so many times their mean length. Judgement, no published source.
LONGEST_OF_MANY: Final = 3.0

#: Amounts that differ by less are the same. [kg DM per head and day]
SAME_KG: Final = 1e-6

#: Hay that stock eat in a day, as a share of live weight. Common practice.
HAY_PER_DAY: Final = 0.02


@dataclass(frozen=True, slots=True)
class SpanRules:
    """What a cut must keep to, by group: how many rations at most, and least periods of one.

    ``first`` and ``last`` are the first and the last period of each group, -1 where it never is
    here. ``soon_gone`` says which groups go through their lots one after another, if any.
    """

    most: tuple[int, ...]
    least: tuple[int, ...]
    first: tuple[int, ...]
    last: tuple[int, ...]
    soon_gone: tuple[bool, ...] = ()

    def longest(self, group: int) -> int:
        """Return how many periods a ration of a group may have at most."""
        whole = self.last[group] + 1 - self.first[group]
        if not any(self.soon_gone[group : group + 1]):
            return whole
        of_many = int(LONGEST_OF_MANY * whole / self.most[group]) + 1
        return min(whole, max(self.least[group], of_many))


def span_rules(
    problem: Problem,
    most: tuple[int, ...],
    least_days: tuple[int, ...],
    soon_gone: tuple[bool, ...] = (),
) -> SpanRules:
    """Return the rules of a season's cuts.

    Parameters
    ----------
    problem : Problem
        The season as plain arrays.
    most : tuple of int
        Rations a group may have, by group.
    least_days : tuple of int
        The shortest ration, by group. [d]
    soon_gone : tuple of bool
        Which groups go through their lots one after another; none where it is empty.

    Returns
    -------
    SpanRules
        First and last week, and how many rations of what length there may be, by group.
    """
    here = problem.needs.here
    at = [np.flatnonzero(row) for row in here]
    usual = max((period.days for period in problem.needs.periods), default=7)
    return SpanRules(
        most=most,
        least=tuple(max(1, ceil(days / usual)) for days in least_days),
        first=tuple(int(one[0]) if len(one) else -1 for one in at),
        last=tuple(int(one[-1]) if len(one) else -1 for one in at),
        soon_gone=soon_gone,
    )


def usual_rations(problem: Problem) -> int:
    """Return how many rations a group has where nobody says, one a month.

    Parameters
    ----------
    problem : Problem
        The season as plain arrays.

    Returns
    -------
    int
        The rations, at least one.
    """
    days = sum(period.days for period in problem.needs.periods)
    return max(1, ceil(days / DAYS_OF_A_RATION))


def lots_soon_gone(problem: Problem, hays: IntArray) -> BoolArray:
    """Say of each group whether the hays of one ration are used up too soon.

    Parameters
    ----------
    problem : Problem
        The season as plain arrays.
    hays : array of int
        How many hays a ration of each group may hold.

    Returns
    -------
    array of bool
        Where so many lots of the usual size last it less than 60 days, and there are as many lots
        as twice as many rations hold.
    """
    stood = problem.sources.start_kg_dm
    lots = stood[is_some(stood)]
    if not len(lots):
        return np.zeros(len(hays), dtype=bool)
    needs = problem.needs
    eats = HAY_PER_DAY * (needs.head * needs.full_weight_kg).max(axis=1, initial=0.0)
    enough = 2 * usual_rations(problem) * hays <= len(lots)
    return np.asarray(enough & (hays * np.median(lots) < LASTS_DAYS * eats))


@dataclass(frozen=True, slots=True)
class Spans:
    """The first period of every ration of every group, in order; empty where a group is not here.

    The last ration of a group ends with the group's last period, ``last``.
    """

    starts: tuple[tuple[int, ...], ...]
    last: tuple[int, ...]

    def of_group(self, group: int) -> list[range]:
        """Return the periods of each ration of a group."""
        starts = self.starts[group]
        ends = (*starts[1:], self.last[group] + 1) if starts else ()
        return [range(start, end) for start, end in zip(starts, ends, strict=True)]

    def numbers(self, periods: int) -> IntArray:
        """Return the number of the ration in each period, (groups, periods), -1 where none is."""
        found = nowhere((len(self.starts), periods))
        for g in range(len(self.starts)):
            for number, span in enumerate(self.of_group(g)):
                found[g, span.start : span.stop] = number
        return found

    def with_group(self, group: int, starts: tuple[int, ...]) -> Spans:
        """Return the same cuts but for one group."""
        changed = (*self.starts[:group], starts, *self.starts[group + 1 :])
        return Spans(changed, self.last)


def allowed_cut(rules: SpanRules, group: int, starts: tuple[int, ...]) -> bool:
    """Say whether a group may be cut so.

    A ration is shorter than the least only where all of the group's weeks are.
    """
    if not starts:
        return rules.first[group] < 0
    whole = rules.last[group] + 1 - rules.first[group]
    ends = (*starts[1:], rules.last[group] + 1)
    lengths = [end - start for start, end in zip(starts, ends, strict=True)]
    enough = min(lengths) >= min(rules.least[group], whole)
    enough &= max(lengths) <= rules.longest(group)
    return starts[0] == rules.first[group] and enough and len(starts) <= rules.most[group]


def cut_finely(rules: SpanRules, spans: Spans, groups: BoolArray) -> Spans:
    """Return cuts in which some groups have as many rations as may be, of like length.

    Parameters
    ----------
    rules : SpanRules
        How weeks may be cut.
    spans : Spans
        The cuts of all groups.
    groups : array of bool
        Which are cut finely.

    Returns
    -------
    Spans
        The cuts of all groups, those of the others as they were.
    """
    for group in np.flatnonzero(groups).tolist():
        first, weeks = rules.first[group], rules.last[group] + 1 - rules.first[group]
        if is_placed(first):
            count = max(1, min(rules.most[group], weeks // rules.least[group]))
            starts = tuple(first + round(one * weeks / count) for one in range(count))
            spans = spans.with_group(group, starts) if allowed_cut(rules, group, starts) else spans
    return spans


def other_cuts(rules: SpanRules, spans: Spans, group: int) -> Iterator[tuple[int, ...]]:
    """Yield the cuts of a group that differ by one step: a border moved, taken away or added.

    Parameters
    ----------
    rules : SpanRules
        How weeks may be cut.
    spans : Spans
        The cuts of all groups.
    group : int
        The group whose cuts are changed.

    Yields
    ------
    tuple of int
        The periods in which rations of the group begin.
    """
    starts = spans.starts[group]
    seen = {starts}
    for other in _neighbours(rules, starts, group):
        if other not in seen and allowed_cut(rules, group, other):
            seen.add(other)
            yield other


def _neighbours(rules: SpanRules, starts: tuple[int, ...], group: int) -> Iterator[tuple[int, ...]]:
    for at in range(1, len(starts)):
        for by in (-1, 1, -2, 2):
            yield tuple(sorted((*starts[:at], starts[at] + by, *starts[at + 1 :])))
    for new in range(rules.first[group] + 1, rules.last[group] + 1):
        yield tuple(sorted({*starts, new}))
    for at in range(1, len(starts)):
        yield (*starts[:at], *starts[at + 1 :])


def spans_like(rules: SpanRules, eaten: FloatArray) -> Spans | None:
    """Return the cuts of a program that was made before; nothing where these rules forbid them.

    Parameters
    ----------
    rules : SpanRules
        How weeks may be cut.
    eaten : array, shape (groups, sources, periods)
        What that program feeds. [kg DM per head and day]

    Returns
    -------
    Spans or None
        The cuts of all groups.
    """
    change = np.abs(np.diff(eaten, axis=2)).max(axis=1, initial=0.0)
    found = []
    for group, (first, last) in enumerate(zip(rules.first, rules.last, strict=True)):
        begun = (int(at) + 1 for at in np.flatnonzero(change[group] > SAME_KG))
        starts = () if first < 0 else (first, *(at for at in begun if first < at <= last))
        if not allowed_cut(rules, group, starts):
            return None
        found.append(starts)
    return Spans(tuple(found), rules.last)


def eaten_before(problem: Problem, uses: Iterable[HayUse]) -> FloatArray:
    """Return what another program feeds in the periods of a season.

    Parameters
    ----------
    problem : Problem
        The season as plain arrays; what it has no group or source of is left out.
    uses : iterable of HayUse
        What that program feeds.

    Returns
    -------
    array, shape (groups, sources, periods)
        Amounts. [kg DM per head and day]
    """
    group_at = {group.group_id: g for g, group in enumerate(problem.needs.groups)}
    source_at = {value.source_id: i for i, value in enumerate(problem.sources.values)}
    period_at = {period.start: t for t, period in enumerate(problem.needs.periods)}
    eaten = np.zeros(problem.shape)
    for use in uses:
        at = (group_at.get(use.group_id), source_at.get(use.source_id), period_at.get(use.start))
        if None not in at:
            eaten[at] += use.kg_dm_per_head_day
    return eaten
