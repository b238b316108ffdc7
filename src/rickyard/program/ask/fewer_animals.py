"""How many animals fewer, or for how long, so that nothing is short: found by solving again."""

from __future__ import annotations

from dataclasses import replace
from typing import Final

import numpy as np

from rickyard.program.ask.sensitivity import Inquiry
from rickyard.program.problem import Problem

#: Nothing is short that is less, in its unit per head and day.
GONE: Final = 1e-5

#: Who is here for so short a time eats nothing to speak of. [days]
NO_TIME_DAYS: Final = 1e-6


def fewer_head(inquiry: Inquiry, group_id: str) -> tuple[int, float] | None:
    """Return how many head fewer of a group would leave none of it short, and what that changes.

    ``inquiry``: the solved season; the hays that it may feed are kept. Returns head, and US dollars
    more than the season costs now (less, as a rule, and so negative); ``None`` where even one head
    alone would be short, or no season could be solved.
    """
    groups = inquiry.problem.needs.groups
    group = next(g for g, one in enumerate(groups) if one.group_id == group_id)
    now = round(float(inquiry.problem.needs.head[group].max()))
    season = inquiry.problem
    too_few, enough = 0, now - 1
    with inquiry.other_seasons() as ask:
        if enough < 1:
            return None
        answer = ask(_with_head(season, group, now - enough))
        if inquiry.short_of_group(answer, group) > GONE:
            return None
        usd = answer.usd - inquiry.base.usd
        while enough - too_few > 1:
            fewer = (too_few + enough) // 2
            answer = ask(_with_head(season, group, now - fewer))
            if inquiry.short_of_group(answer, group) > GONE:
                too_few = fewer
            else:
                enough, usd = fewer, answer.usd - inquiry.base.usd
    return enough, usd


def leave_earlier(inquiry: Inquiry, group_id: str) -> tuple[int, float] | None:
    """Return from which period on a group would have to be gone so that none of it is short.

    ``inquiry``: the solved season; the hays that it may feed are kept. Returns the first period
    without it, the latest that will do, and US dollars more than the season costs now; ``None``
    where it would have to leave before half of its time is over.
    """
    groups = inquiry.problem.needs.groups
    group = next(g for g, one in enumerate(groups) if one.group_id == group_id)
    season = inquiry.problem
    here = np.flatnonzero(season.needs.head_days[group] > 0)
    if len(here) < 2:
        return None
    gone, late = int(here[len(here) // 2]), int(here[-1]) + 1
    with inquiry.other_seasons() as ask:
        answer = ask(_gone_from(season, group, gone))
        if inquiry.short_of_group(answer, group, before=gone) > GONE:
            return None
        usd = answer.usd - inquiry.base.usd
        while late - gone > 1:
            middle = (gone + late) // 2
            answer = ask(_gone_from(season, group, middle))
            if inquiry.short_of_group(answer, group, before=middle) > GONE:
                late = middle
            else:
                gone, usd = middle, answer.usd - inquiry.base.usd
    return gone, usd


def _gone_from(problem: Problem, group: int, period: int) -> Problem:
    """Let a group be here for next to no time from a period on, so that the rows stay."""
    days = problem.needs.days.copy()
    days[group, period:] = np.minimum(days[group, period:], NO_TIME_DAYS)
    return replace(problem, needs=replace(problem.needs, days=days))


def _with_head(problem: Problem, group: int, head: int) -> Problem:
    heads = problem.needs.head.copy()
    heads[group] = np.minimum(heads[group], head)
    return replace(problem, needs=replace(problem.needs, head=heads))
