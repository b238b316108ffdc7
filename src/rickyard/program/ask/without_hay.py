"""What doing without a hay over a whole run would cost, and what would be fed instead."""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import Final

import numpy as np

from rickyard.display import Display, money_text
from rickyard.program.ask.sensitivity import SHORT_DUST_USD, Inquiry, Sensitivity
from rickyard.program.problem import Problem
from rickyard.program.result import LotReason
from rickyard.program.solver import NOWHERE, is_placed
from rickyard.quantities import DAYS_PER_WEEK, is_some
from rickyard.types import BoolArray, IntArray

#: Less than this is no difference, US dollars and kilograms of dry matter.
NO_USD: Final = 0.5
NO_KG: Final = 50.0

#: So many hays are tried in the place of one, the next best first.
MOST_TRIED: Final = 4


@dataclass(frozen=True, slots=True)
class _Instead:
    """What is taken more of, by source: kilograms of dry matter over the season, and dollars."""

    hay_kg: dict[int, float]
    feed_usd: dict[int, float]


def with_swap(inquiry: Inquiry, reason: LotReason, display: Display) -> LotReason:
    """Return a reason with what doing without its hay over the run would cost.

    ``inquiry``: the solved season. ``reason``: its group, hay and days are read. Where only the
    hays in use may be fed, some others are let in one at a time, and the best of them is the next
    best. ``display``: units of the sentence.
    """
    group, source, periods = _place(inquiry.problem, reason)
    at = inquiry.model.columns
    in_run = (at.group == group) & (at.period >= periods[0]) & (at.period <= periods[-1])
    shut = np.flatnonzero(in_run & (at.source == source))
    tried: list[tuple[Sensitivity, int]] = [
        (_without(inquiry, shut, np.flatnonzero(in_run & (at.source == other))), other)
        for other in _instead_of(
            inquiry, in_run, source, _number(inquiry.problem, reason.next_best_id)
        )
    ]
    answer, other = min(tried, key=lambda one: one[0].whole_usd)
    days = (reason.end - reason.start).days
    values = inquiry.problem.sources.values
    name = values[source].name
    if answer.is_shorter_than(inquiry.base):
        what = "more" if inquiry.base.short_usd > SHORT_DUST_USD else "something"
        sentence = f"{reason.sentence} Without {name} then, {what} would be short."
        return replace(reason, sentence=sentence)
    usd = answer.usd - inquiry.base.usd
    told = _told(name, usd, days, _instead(inquiry, answer, in_run), inquiry, display)
    next_best = reason.next_best_id if not is_placed(other) else values[other].source_id
    sentence = f"{reason.sentence} {told}"
    return replace(reason, usd_over_run=usd, sentence=sentence, next_best_id=next_best)


def weeks_of(problem: Problem, reason: LotReason) -> BoolArray:
    """Return in which group and periods a hay is fed, shape (groups, periods).

    ``problem``: the season. ``reason``: its group and days are read.
    """
    weeks = np.zeros(problem.needs.head_days.shape, dtype=bool)
    group, _, periods = _place(problem, reason)
    weeks[group, periods] = True
    return weeks


def _without(inquiry: Inquiry, shut: IntArray, opened: IntArray) -> Sensitivity:
    """Solve without a hay over its run, with another let in."""
    upper = np.concatenate([np.zeros(len(shut)), inquiry.model.upper[opened]])
    with inquiry.at_most(np.concatenate([shut, opened]), upper):
        return inquiry.ask()


def _instead_of(inquiry: Inquiry, in_run: BoolArray, source: int, next_best: int) -> list[int]:
    """Return the hays to let in, one at a time: those that are shut and would cost least.

    Where every hay may be fed anyway, none has to be let in: -1.
    """
    at = inquiry.model.columns
    count = len(at.group)
    shut = (inquiry.upper[:count] == 0.0) & is_some(inquiry.model.upper[:count]) & in_run
    candidates = np.unique(at.source[shut & (at.source != source)])
    if not len(candidates):
        return [-1]
    reduced = inquiry.base.optimum.reduced_cost[:count]
    cost = {int(i): float(reduced[shut & (at.source == i)].sum()) for i in candidates}
    order = sorted(cost, key=lambda i: (i != next_best, cost[i]))
    return order[:MOST_TRIED]


def _place(problem: Problem, reason: LotReason) -> tuple[int, int, list[int]]:
    needs = problem.needs
    group = next(g for g, one in enumerate(needs.groups) if one.group_id == reason.group_id)
    inside = [one.index for one in needs.periods if reason.start <= one.start < reason.end]
    return group, _number(problem, reason.source_id), inside


def _number(problem: Problem, source_id: str) -> int:
    values = problem.sources.values
    return next((i for i, one in enumerate(values) if one.source_id == source_id), NOWHERE)


def _instead(inquiry: Inquiry, answer: Sensitivity, in_run: BoolArray) -> _Instead:
    """Return which hays the group is fed more of in the run, and which feeds the farm buys."""
    at, problem = inquiry.model.columns, inquiry.problem
    count = len(at.group)
    more = answer.optimum.x[:count] - inquiry.base.optimum.x[:count]
    loss = problem.sources.feeding_loss_frac[at.group, at.source]
    kg = more * problem.needs.head_days[at.group, at.period] / (1.0 - loss)
    sources, lots = problem.shape[1], problem.sources.lot_count
    hers = np.bincount(at.source, np.where(in_run, kg, 0.0), minlength=sources)
    whole = np.bincount(at.source, kg, minlength=sources)
    price = np.array([value.usd_per_kg_dm for value in problem.sources.values])
    forage = [i for i in range(sources) if problem.sources.values[i].is_forage]
    return _Instead(
        {i: float(hers[i]) for i in forage if hers[i] > NO_KG},
        {i: float(whole[i] * price[i]) for i in range(lots, sources)},
    )


def _told(
    name: str, usd: float, days: int, instead: _Instead, inquiry: Inquiry, display: Display
) -> str:
    values = inquiry.problem.sources.values
    parts = []
    if instead.hay_kg:
        most = max(instead.hay_kg, key=lambda i: instead.hay_kg[i])
        parts.append(
            f"{display.amount_text(instead.hay_kg[most])} more of {values[most].name} (dry matter)"
        )
    bought = sum(instead.feed_usd.values())
    if bought > NO_USD:
        most = max(instead.feed_usd, key=lambda i: instead.feed_usd[i])
        parts.append(f"{money_text(bought)} more spent on feed, mostly {values[most].name}")
    with_what = f", with {' and '.join(parts)}" if parts else ""
    if usd < -NO_USD:
        return (
            f"Leaving out {name} then may save about {money_text(-usd)}{with_what}, where the "
            "rules about hays in use allow it; rerun with more effort."
        )
    if usd <= NO_USD:
        return f"Leaving out {name} then would cost next to nothing{with_what}."
    weekly = ""
    if days > DAYS_PER_WEEK:
        weekly = f" ({money_text(usd * DAYS_PER_WEEK / days)} a week)"
    return f"Leaving out {name} then would cost {money_text(usd)}{weekly}{with_what}."
