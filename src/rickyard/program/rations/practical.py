"""Amounts that can be measured, and whole loads: the last step of a program of rations."""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import Final

import numpy as np

from rickyard.farm import Farm, FeedKind
from rickyard.kinds import Offered
from rickyard.program.problem import Problem
from rickyard.program.rations.held import HeldRations, Program
from rickyard.program.rations.offered import offered_to
from rickyard.program.solver import SearchLimits, SparseRows, placed
from rickyard.quantities import KG_PER_LB, is_some
from rickyard.types import BoolArray, FloatArray

#: What a scoop and a scale tell apart, as fed per head and day: a quarter pound for animals of
#: 250 lb and more, a tenth for smaller ones; in metric units 100 and 50 grams. Common practice.
STEP_LB: Final = (0.25, 0.1)
STEP_KG: Final = (0.1, 0.05)
SMALL_KG: Final = 113.398

#: A group is fed together: what is weighed for all of it goes in steps of no more than so much, out
#: of a bucket on a hanging scale and, from so many head on, out of a wagon. Common practice.
GROUP_STEP_LB: Final = (2.0, 5.0)
GROUP_STEP_KG: Final = (1.0, 2.0)
WAGON_HEAD: Final = 40

#: A measure of the farm's own may be so many times as coarse. Judgement, no published source.
COARSEST: Final = 2.0

#: Rounds in which the curved rows must come to hold with amounts that can be measured.
ROUNDS: Final = 10

#: Into how many parts a step is cut, time after time, where coarser ones leave something short that
#: need not be: in rations that are short, or in all where others took the hay that those lack. No
#: parts at all: amounts are not rounded. And what is nothing, in the price of what is short. [USD]
FINER: Final = (
    *((1, True), (5, False), (0, False), (5, True), (0, False)),
    *((25, True), (0, True)),
)
NOTHING_SHORT_USD: Final = 1.0

#: The same of one ration: what is told as short is worth more than this, and where it is short in
#: any case, more than this share of that. [USD, -]
SHORT_DUST_USD: Final = 0.01
SHORT_DUST: Final = 1e-3

#: So many amounts are rounded at a time.
TOGETHER: Final = 12

#: Where the first rounding costs more than this share of a program or leaves something short,
#: amounts of the same weeks are rounded anew while all others stay. [-]
DEAR: Final = 1e-3

#: How hard measured amounts are looked for, and where something is short in any case: the price of
#: that is far above what rounding costs.
MEASURED: Final = SearchLimits(gap=5e-4, nodes=500, steps=200)
MEASURED_SHORT: Final = SearchLimits(gap=1e-3, nodes=50, steps=40)


def steps_of(farm: Farm, problem: Problem) -> FloatArray:
    """Return by how much the amounts of a source go up, kg DM eaten, by group and source.

    A step is one of the animal, or one of the whole group where that is the smaller.
    Zero where an amount need not be measured: minerals, which are taken at will, what is grazed,
    and hay that is not put out by hand every day.

    Parameters
    ----------
    farm : Farm
        Its feeders and units are read.
    problem : Problem
        The season as plain arrays.

    Returns
    -------
    array, shape (groups, sources)
        Steps. [kg DM per head and day]
    """
    sources, lots = problem.sources, problem.sources.lot_count
    weight = problem.needs.full_weight_kg.max(axis=1, initial=0.0)
    us = farm.units == "us"
    usual, small = (one * KG_PER_LB for one in STEP_LB) if us else STEP_KG
    of_group = tuple(one * KG_PER_LB for one in GROUP_STEP_LB) if us else GROUP_STEP_KG
    step = np.where(weight < SMALL_KG, small, usual)
    together = np.array([of_group[one.head >= WAGON_HEAD] / one.head for one in farm.groups]) / step
    factor = np.repeat(np.minimum(1.0, together)[:, None], len(sources.values), axis=1)
    for i, feed in enumerate(farm.feeds, start=lots):
        if feed.kind in (FeedKind.MINERAL, FeedKind.GRAZING):
            factor[:, i] = 0.0
        elif feed.measure_kg is not None:
            each = [feed.measure_kg / group.head for group in farm.groups]
            parts = [_of_measure(*one) for one in zip(each, step, strict=True)]
            factor[:, i] = [
                factor[g, i] if part is None else part / step[g] for g, part in enumerate(parts)
            ]
    by_hand = np.array([offered_to(one) is not Offered.FREE_CHOICE for one in farm.groups])
    factor[:, sources.is_hay] *= by_hand[:, None]
    dry = np.array([value.dm_pct / 100.0 for value in sources.values])
    return np.asarray(step[:, None] * factor * dry * (1.0 - sources.feeding_loss_frac))


def _of_measure(each_kg: float, step_kg: float) -> float | None:
    """Return the step of a feed of which a full measure for the group is so much a head.

    It is a full measure, or a half or a quarter of one where that would be coarse; where even a
    quarter is, amounts are weighed out as without a measure, and nothing is returned.
    """
    parts = (each_kg / part for part in (1.0, 2.0, 4.0))
    return next((one for one in parts if one <= COARSEST * step_kg), None)


@dataclass(frozen=True, slots=True)
class Measured:
    """What a person measures.

    ``step_kg`` is by group and source, 0 where nothing is measured.
    """

    step_kg: FloatArray

    def least(self, least_kg: FloatArray) -> FloatArray:
        """Return leasts that are whole steps."""
        step = np.where(is_some(self.step_kg), self.step_kg, 1.0)
        return np.where(is_some(self.step_kg), np.ceil(least_kg / step - 1e-9) * step, least_kg)


def practical(held: HeldRations, program: Program, measured: Measured) -> Program | None:
    """Return a cheap program whose amounts can be measured and whose loads are whole.

    A few rations at a time are given amounts in whole steps, those of the largest group first,
    while those of later ones may still be anything; loads are whole throughout.

    Parameters
    ----------
    held : HeldRations
        The rations, with the cuts of the program.
    program : Program
        What is in use in each.
    measured : Measured
        The steps.

    Returns
    -------
    Program or None
        ``None`` where none was found.
    """
    work = _Stepping(held, program, measured)
    rations = [
        (group, number)
        for group in eaters(held.model.problem)
        for number in range(len(held.spans.starts[group]))
    ]
    weekly = best = program.x
    before = held.short_by_ration(weekly)
    may_lack = {one: (1.0 + SHORT_DUST) * lack + SHORT_DUST_USD for one, lack in before.items()}
    short_ones, least = rations, np.inf
    for finer, every in FINER:
        for some in work.together(rations if every else short_ones):
            found = work.round_rations(some, finer)
            if found is None:
                return None
            weekly = found
        if finer == 1:
            weekly = work.anew(weekly, program, rations)
        # Where coarse steps leave something short that need not be, finer ones are taken.
        short, whole = held.short_by_ration(weekly), held.short_usd(weekly)
        if whole < least - SHORT_DUST_USD:
            best, least = weekly, whole
        of_farm = whole - held.short_usd(program.x)
        of_farm -= sum(short.values()) - sum(before.values())
        short_ones = [one for one in rations if short[one] > may_lack[one]]
        if of_farm > NOTHING_SHORT_USD:
            short_ones = rations
        if not short_ones:
            break
    return replace(program, x=best, cost=held.cost_of(best, program.used))


def eaters(problem: Problem) -> list[int]:
    """Return the groups that are here at some time, those that eat most first."""
    needs = problem.needs
    eats = (needs.head_days * needs.full_weight_kg).sum(axis=1)
    return [int(g) for g in np.argsort(-eats, kind="stable") if is_some(eats[g])]


class _Stepping:
    """Amounts given in whole steps so far: ``fixed`` by tied amount, NaN where still free."""

    def __init__(self, held: HeldRations, program: Program, measured: Measured) -> None:
        self.held = held
        short = held.short_usd(program.x) > NOTHING_SHORT_USD
        self.limits = MEASURED_SHORT if short else MEASURED
        self.tied = held.used_of(program.used) & held.counts
        self.whole_step = measured.step_kg[held.group, held.source]
        self.step = self.whole_step.copy()
        # A wish says how much itself, and what is fixed has been measured.
        given = held.wished | (held.session.lower == held.session.upper)[held.at]
        self.stepped = self.tied & is_some(self.whole_step) & ~given
        self.fixed = np.full(len(held.at), np.nan)

    def together(self, rations: list[tuple[int, int]]) -> list[BoolArray]:
        """Return the amounts of rations that are rounded at a time, as few as are looked for.

        Rations in which nothing is measured are left out, but for one, for loads that are whole.
        """
        found, count = [np.zeros_like(self.stepped)], 0
        for group, number in rations:
            mine = self.stepped & (self.held.group == group) & (self.held.span == number)
            many = int(mine.sum())
            if count and count + many > TOGETHER:
                found.append(np.zeros_like(self.stepped))
                count = 0
            found[-1] |= mine
            count += many
        return found

    def round_rations(self, mine: BoolArray, finer: int) -> FloatArray | None:
        """Give amounts in steps, or in finer parts of them; return the weekly program.

        With no parts at all, amounts are whatever is cheapest.
        """
        self.fixed[mine] = np.nan
        if not finer:
            mine = np.zeros_like(mine)
        self.step[mine] = self.whole_step[mine] / max(1, finer)
        for _ in range(ROUNDS):
            x = self._round(mine)
            if x is None:
                return None
            weekly = self.held.session.expand(x)
            near = self.held.near_enough(weekly)
            if near or not self.held.tangents.improve(weekly, move=False):
                self.fixed[mine] = x[self.held.at[mine]]
                return weekly
        return None

    def anew(
        self, weekly: FloatArray, program: Program, rations: list[tuple[int, int]]
    ) -> FloatArray:
        """Round amounts of the same weeks anew while all others stay, if rounding was dear.

        Returns what is cheaper, where what is short has its price.
        """
        cost, starts = self.held.model.cost, self.held.spans.starts
        if cost @ weekly <= cost @ program.x + DEAR * abs(float(cost @ program.x)):
            return weekly
        best, fixed = weekly, self.fixed.copy()
        for some in self.together(sorted(rations, key=lambda one: (starts[one[0]][one[1]], one))):
            found = self.round_rations(some, 1)
            if found is None:
                self.fixed = fixed.copy()
            elif cost @ found < cost @ best:
                best, fixed = found, self.fixed.copy()
        self.fixed = fixed
        return best

    def _round(self, mine: BoolArray) -> FloatArray | None:
        held, step = self.held, self.step
        session, place = held.opened(self.tied)
        done = np.flatnonzero(np.isfinite(self.fixed))
        columns = place[held.at[done]]
        session.set_column_bounds(columns, self.fixed[done], self.fixed[done])
        at = np.flatnonzero(mine & placed(place[held.at]))
        count = len(at)
        most = np.minimum(held.session.upper[held.at[at]], 1e6)
        units = session.add_columns(
            np.zeros(count),
            np.ceil(held.least[at] / step[at] - 1e-9),
            np.floor(most / step[at] + 1e-9),
        )
        rows = np.arange(count)
        amount = (rows, place[held.at[at]], 1.0)
        session.add_rows(
            SparseRows.of(np.zeros(count), np.zeros(count), amount, (rows, units, -step[at]))
        )
        loads = place[held.loads]
        session.require_whole(np.concatenate([units, loads[placed(loads)]]))
        session.count_closely()
        point = session.minimise_whole(self.limits)
        if point.x is None:
            return None
        x = np.zeros(held.ties.count)
        kept = placed(place)
        x[kept] = point.x[place[kept]]
        x[held.at[at]] = np.round(point.x[units]) * step[at]
        return x
