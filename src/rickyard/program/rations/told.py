"""Rations in the words and numbers of a result: what, how much, from when, and why it changes."""

from __future__ import annotations

from collections.abc import Collection, Mapping
from dataclasses import replace
from datetime import timedelta
from typing import Final

import numpy as np

from rickyard.display import listed
from rickyard.farm import Assumption, Farm, Feed
from rickyard.program.inputs import assumed
from rickyard.program.problem import Problem
from rickyard.program.rations.offered import offered_to
from rickyard.program.result import Ration, RationThing
from rickyard.program.runs import Spans, usual_rations
from rickyard.types import FloatArray

#: Less than this is not fed, kg DM per head and day.
NOTHING_KG: Final = 1e-6


def rations_told(
    farm: Farm,
    problem: Problem,
    spans: Spans,
    eaten: FloatArray,
    weighed: Mapping[str, Collection[str]],
) -> tuple[Ration, ...]:
    """Return the rations of every group, in the order of the farm and of their days.

    Parameters
    ----------
    farm : Farm
        Its measures are read.
    problem : Problem
        The season as plain arrays.
    spans : Spans
        How the weeks are cut.
    eaten : array, shape (groups, sources, periods)
        What is eaten. [kg DM per head and day]
    weighed : mapping of str to collection of str
        The hays that each group gets weighed out and mixed every day: never by the bale.

    Returns
    -------
    tuple of Ration
        Neighbours that are fed the same are one.
    """
    measures = {one.feed_id: one for one in farm.feeds if one.measure_kg is not None}
    found = []
    for g in range(len(problem.needs.groups)):
        before: Ration | None = None
        for number, span in enumerate(_unlike(spans.of_group(g), eaten[g]), start=1):
            before = _ration(problem, eaten, (g, number, span), before)
            by_mass = weighed.get(before.group_id, ())
            found.append(_measured_out(before, measures, by_mass))
    return tuple(found)


def many_rations(
    farm: Farm, problem: Problem, rations: tuple[Ration, ...]
) -> tuple[Assumption, ...]:
    """Say which groups have more rations than one a month, and why.

    Parameters
    ----------
    farm : Farm
        Its settings are read; who asks for so many is not told of it.
    problem : Problem
        The season as plain arrays.
    rations : tuple of Ration
        The rations of every group.

    Returns
    -------
    tuple of Assumption
        One for each such group.
    """
    usual, asked = usual_rations(problem), farm.season.rations_at_most
    return tuple(
        assumed("many_rations", group=group.name)
        for group in farm.groups
        if (group.rations_at_most or asked) is None
        and sum(one.group_id == group.group_id for one in rations) > usual
    )


def _measured_out(ration: Ration, measures: dict[str, Feed], by_mass: Collection[str]) -> Ration:
    """Say in what a ration is put out: the farm's own measures, bales, or only the scale."""

    def told(thing: RationThing) -> RationThing:
        feed = measures.get(thing.source_id)
        if feed is not None:
            count = thing.put_out_kg_per_day / (feed.measure_kg or 1.0)
            return replace(thing, measure=feed.measure, measures_per_day=count)
        if thing.source_id in by_mass:
            # A whole bale of what may only be part of a mix can kill.
            return replace(thing, bales_per_feeding=None)
        return thing

    return replace(ration, things=tuple(told(one) for one in ration.things))


def _unlike(spans: list[range], eaten: FloatArray) -> list[range]:
    """Join neighbours that are fed the same."""
    found: list[range] = []
    for span in spans:
        if found:
            change = np.abs(eaten[:, span.start] - eaten[:, found[-1].start])
            if float(change.max(initial=0.0)) <= NOTHING_KG:
                found[-1] = range(found[-1].start, span.stop)
                continue
        found.append(span)
    return found


def _ration(
    problem: Problem,
    eaten: FloatArray,
    at: tuple[int, int, range],
    before: Ration | None,
) -> Ration:
    g, number, span = at
    group, periods = problem.needs.groups[g], problem.needs.periods
    first, last = periods[span.start], periods[span.stop - 1]
    start = max(first.start, group.from_on or first.start)
    end = last.start + timedelta(days=last.days)
    if group.to_on is not None:
        end = min(end, group.to_on)
    things = tuple(
        _thing(problem, g, int(i), span, eaten)
        for i in np.flatnonzero(eaten[g, :, span.start] > NOTHING_KG)
    )
    stage = problem.needs.stage[g]
    into = stage[span.start] if number > 1 and stage[span.start] != stage[span.start - 1] else ""
    why = _why(problem, things, before, into)
    told = Ration(group.group_id, number, start, end, offered_to(group), things, why)
    fill = problem.fill
    if fill is None or not fill.free[g, span.start]:
        return told
    share = float(fill.shares(eaten)[g, span.start : span.stop].mean())
    return replace(told, appetite_pct=100.0 * share)


def _thing(problem: Problem, g: int, i: int, span: range, eaten: FloatArray) -> RationThing:
    value = problem.sources.values[i]
    amount = float(eaten[g, i, span.start])
    loss = float(problem.sources.feeding_loss_frac[g, i])
    put_out = amount / (1.0 - loss) / (value.dm_pct / 100.0)
    group = problem.needs.groups[g]
    bales = None
    if value.bale_weight_kg is not None and value.is_hay:
        bales = put_out * group.head * (group.feed_every_days or 1) / value.bale_weight_kg
    return RationThing(value.source_id, amount, put_out, put_out * group.head, bales)


def _why(
    problem: Problem, things: tuple[RationThing, ...], before: Ration | None, into: str
) -> str:
    """Say why a ration begins: another stage, other things, or what they need by then."""
    if before is None:
        return "The first ration."
    names = {value.source_id: value.name for value in problem.sources.values}
    mine = {one.source_id: one.eaten_kg_dm_per_head_day for one in things}
    other = {one.source_id: one.eaten_kg_dm_per_head_day for one in before.things}
    new = listed([names[one] for one in mine if one not in other])
    gone = listed([names[one] for one in other if one not in mine])
    parts = [f"by then they are {into}"] if into else []
    if new and gone:
        parts.append(f"{new} in place of {gone}")
    elif new:
        parts.append(f"{new} beside the rest")
    elif gone:
        parts.append(f"no more {gone}")
    elif not into:
        more = sum(mine.values()) >= sum(other.values())
        parts.append("they need more by now" if more else "they need less by now")
    said = "; ".join(parts)
    return f"{said[:1].upper()}{said[1:]}."
