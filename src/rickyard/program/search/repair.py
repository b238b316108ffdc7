"""Shortages that only the rules about hays in use cause, and how they are taken away.

The season without whole numbers is the measure: what is short there, no search can supply. What is
short beyond it is repaired where it is short. The hays that would be fed there if no rule held are
put in use for the weeks in question, others make room where too many are in use, and what became
shorter than a run may be is dropped.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from typing import Final

import numpy as np

from rickyard.program.model import LotUse, Model
from rickyard.program.search.first_solution import cheapest_hays
from rickyard.program.search.held_model import HeldModel
from rickyard.program.search.subproblem import FreeSet, HayChoice
from rickyard.program.solver import Optimum, is_placed, placed
from rickyard.quantities import is_some
from rickyard.types import BoolArray, FloatArray, IntArray

#: A shortage priced at less than this is nothing, about a tenth of a megacalorie. [USD]
NOTHING_SHORT_USD: Final = 1.0

#: So many hays are tried for the weeks of a shortage, those that would be fed most if none of the
#: rules held there.
HAYS_TRIED: Final = 6

#: So many times the effort for a better program may be spent on shortages besides.
REPAIR_TIMES: Final = 4.0

#: Where the farm is short in any case, only so much: what is missing is then shared out anew, and
#: little of it goes away. [units of work]
SHORT_REPAIR_EFFORT: Final = 1.0

#: So many gaps are looked into before the next is counted anew, the greatest first.
GAPS_TRIED: Final = 8

#: How a part is searched for a program without a shortage: hays for each week, how many weeks
#: before and after it, steps, and whether the other groups' amounts may move.
PARTS: Final = ((20, 4, 60, False), (20, 4, 120, False), (20, 4, 60, True), (45, 8, 120, True))


@dataclass(frozen=True, slots=True)
class Gap:
    """Neighbouring periods in which a group is short of what it need not be."""

    group: int
    first: int
    last: int
    usd: float


def lack_usd(model: Model, x: FloatArray) -> FloatArray:
    """Return what is short in each group and period, at its price.

    Parameters
    ----------
    model : Model
        The linear program.
    x : array
        A program in it.

    Returns
    -------
    array, shape (groups, periods)
        The prices of what is short. [USD]
    """
    groups, _, periods = model.problem.shape
    found = np.zeros(groups * periods)
    for column in model.columns.shortage.values():
        cell = np.flatnonzero(placed(column))
        found[cell] += model.cost[column[cell]] * x[column[cell]]
    return found.reshape(groups, periods)


def gaps_of(lack: FloatArray, least: FloatArray) -> list[Gap]:
    """Return where more is short than without whole numbers, the greatest first."""
    over = lack - least
    if float(lack.sum() - least.sum()) <= NOTHING_SHORT_USD:
        return []
    found = []
    for group in range(len(over)):
        weeks = np.flatnonzero(over[group] > NOTHING_SHORT_USD)
        for run in np.split(weeks, np.flatnonzero(np.diff(weeks) > 1) + 1):
            if len(run):
                usd = float(over[group, run].sum())
                found.append(Gap(group, int(run[0]), int(run[-1]), usd))
    return sorted(found, key=lambda one: -one.usd)


def keeps_rules(uses: LotUse, used: BoolArray) -> bool:
    """Return whether no more hays are in use than may be, every run lasts and none is alone."""
    broken = (_too_many(uses, used), _cut_short(uses, used), uses.alone(used))
    return not any(one.any() for one in broken)


def _too_many(uses: LotUse, used: BoolArray) -> BoolArray:
    """Return the hays in use where more are than may be."""
    count, must = (np.bincount(uses.cell, one) for one in (used, uses.must))
    limit = uses.rules.hays_at_once[uses.group]
    most = np.maximum(limit, must[uses.cell])
    return np.asarray(used & (count[uses.cell] > most))


def _cut_short(uses: LotUse, used: BoolArray) -> BoolArray:
    """Return where runs begin that do not last."""
    return np.asarray(uses.starts(used) & ~uses.may_begin(used))


def choices_for(
    standing: HeldModel, now: HayChoice, relaxed: Optimum, gap: Gap
) -> Iterator[BoolArray]:
    """Yield hays in use, all within the rules, that may do away with a gap.

    ``standing``: the season's linear program. ``relaxed``: the season without whole numbers.
    """
    uses = standing.uses
    spans = [(gap.first, gap.last)]
    if gap.last > gap.first:
        spans += [(week, week) for week in range(gap.first, gap.last + 1)]
    wanted = _wanted(standing, now, relaxed, gap)
    seen = {now.used.tobytes()}
    for source in wanted:
        for first, last in spans:
            for used in _placed(uses, now, gap.group, source, first, last):
                key = used.tobytes()
                if key not in seen:
                    seen.add(key)
                    yield used


def _wanted(standing: HeldModel, now: HayChoice, relaxed: Optimum, gap: Gap) -> list[int]:
    """Return the hays that would be fed in a gap if no rule held there, most of it first."""
    uses, model = standing.uses, standing.model
    there = (uses.group == gap.group) & (uses.period >= gap.first) & (uses.period <= gap.last)
    there &= uses.possible
    open_ = now.used | there
    lower = np.where(now.used & ~there, uses.least_kg, 0.0)
    upper = np.where(open_, model.upper[uses.column], 0.0)
    standing.bound(lower, upper)
    x = standing.minimise().x[uses.column]
    sources = model.problem.shape[1]
    fed = np.bincount(uses.source[there], x[there], minlength=sources).astype(np.float64)
    cheap = cheapest_hays(uses, relaxed, HAYS_TRIED) & there
    fed = fed + 1e-6 * np.bincount(uses.source[cheap], minlength=sources)
    order = np.argsort(-fed, kind="stable")[:HAYS_TRIED]
    return [int(one) for one in order if is_some(fed[one])]


def _placed(
    uses: LotUse, now: HayChoice, group: int, source: int, first: int, last: int
) -> Iterator[BoolArray]:
    """Yield the hays in use with one more in some weeks, and as many more as a run must last."""
    mine = np.flatnonzero((uses.group == group) & (uses.source == source) & uses.possible)
    at = dict(zip(uses.period[mine].tolist(), mine.tolist(), strict=True))
    spare = max(0, uses.rules.least_run - (last - first + 1))
    for before in range(spare + 1):
        span = range(first - before, last + spare - before + 1)
        added = np.array([at[week] for week in span if week in at], dtype=np.int64)
        if len(added) and any(first <= uses.period[one] <= last for one in added):
            used = _with_room(uses, now, added)
            if used is not None:
                yield used


def _with_room(uses: LotUse, now: HayChoice, added: IntArray) -> BoolArray | None:
    """Return the hays in use with some more, others dropped as the rules ask."""
    used = now.used.copy()
    used[added] = True
    kept = uses.must.copy()
    kept[added] = True
    for _ in range(len(added) + 2 * uses.rules.least_run):
        crowd = np.flatnonzero(_too_many(uses, used) & ~kept)
        short = np.flatnonzero(_cut_short(uses, used))
        alone = np.flatnonzero(uses.alone(used))
        if len(crowd):
            used[crowd[np.argmin(now.x[uses.column[crowd]])]] = False
        elif len(short):
            if not _drop_run(uses, used, int(short[0]), kept):
                return None
        elif len(alone):
            if kept[alone].any():
                return None
            used[alone] = False
        else:
            return used if keeps_rules(uses, used) else None
    return None


def _drop_run(uses: LotUse, used: BoolArray, first: int, kept: BoolArray) -> bool:
    """Take a run out of use, unless something of it is to stay."""
    at = first
    while is_placed(at) and used[at]:
        if kept[at]:
            return False
        used[at] = False
        at = int(uses.after[at])
    return True


def freedom_for(
    standing: HeldModel,
    now: HayChoice,
    relaxed: Optimum,
    gap: Gap,
    part: tuple[int, int, int, bool],
) -> FreeSet:
    """Return what a part may decide that is searched for a program without a gap.

    The group may change its hays some weeks before and after the gap, and elsewhere leave out what
    it has.
    """
    hays, weeks, _, others_move = part
    uses = standing.uses
    near = (uses.period >= gap.first - weeks) & (uses.period <= gap.last + weeks)
    groups = np.zeros(standing.model.problem.shape[0], dtype=bool)
    groups[gap.group] = True
    allowed = (cheapest_hays(uses, relaxed, hays) & near) | now.used
    return FreeSet(groups, allowed, others_move)
