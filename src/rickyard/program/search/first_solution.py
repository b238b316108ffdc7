"""A first program that keeps the rules: the relaxation made sparse, and read off in runs."""

from __future__ import annotations

from collections.abc import Sequence
from concurrent.futures import ThreadPoolExecutor
from dataclasses import dataclass
from datetime import timedelta
from typing import Final

import numpy as np

from rickyard.program.model import LotUse, Model, use_rows
from rickyard.program.result import HayUse
from rickyard.program.search.held_model import HeldModel
from rickyard.program.solver import (
    NOWHERE,
    Meter,
    Optimum,
    SearchLimits,
    Session,
    SparseRows,
    is_placed,
    placed,
)
from rickyard.quantities import is_some
from rickyard.types import BoolArray, FloatArray, IntArray

#: So many hays, the cheapest at the relaxation's prices, are looked at in each group and period.
HAYS_LOOKED_AT: Final = 12

#: How often the relaxation is weighed anew before its hays are read off (after Candes, Wakin &
#: Boyd 2008, J. Fourier Anal. Appl. 14:877).
REWEIGHTINGS: Final = 6

#: Keeps the weight of a vanishing amount finite, kg DM per head and day.
SOFT_KG: Final = 0.3

#: Weights of the neighbouring periods by which an amount is judged: it, the next, the one after.
NEAR: Final = (3.0, 2.0, 1.0)

#: A kilogram of hay that no hay in use can give counts as so many that one does.
WITHOUT: Final = 5.0

#: The runs of so many groups are read off at once.
READ_AT_ONCE: Final = 2

#: So many runs are left out of a hay that cannot give all who use it the least.
SHARED_OUT: Final = 40

#: Reading off runs is a small search of its own; its last thousandth does not matter.
READ_OFF: Final = SearchLimits(gap=1e-3, nodes=1000, steps=2000)


@dataclass(frozen=True, slots=True)
class RunReading:
    """One way of reading hays in use off the relaxation.

    ``sparse`` is the share of the mean price of hay by which a vanishing amount is made dearer,
    and beginning a run counts as much as the share ``run`` of a usual amount in one period.
    """

    sparse: float
    run: float


#: Which way is best depends on the farm; the first is most often.
READINGS: Final = (
    RunReading(0.1, 0.3),
    RunReading(0.3, 0.05),
    RunReading(0.2, 0.02),
    RunReading(0.1, 0.02),
    RunReading(0.05, 0.1),
)


def cheapest_hays(uses: LotUse, optimum: Optimum, count: int) -> BoolArray:
    """Return the hays that cost least at the relaxation's prices, by group and period."""
    drop = optimum.reduced_cost[uses.column]
    order = np.lexsort((drop, uses.cell))
    cell = uses.cell[order]
    _, first, hays = np.unique(cell, return_index=True, return_counts=True)
    rank = np.arange(len(cell)) - np.repeat(first, hays)
    chosen = np.zeros(len(drop), dtype=bool)
    chosen[order[rank < count]] = True
    return chosen


#: How a large season is read again from the hays of the best program, and how often it is weighed
#: anew for it: others near it are better, and sooner found.
NEARER: Final = (RunReading(0.05, 0.1), RunReading(0.3, 0.1))
NEARER_REWEIGHTINGS: Final = 2


class Look:
    """What a first program is read off: the relaxation with few hays in long runs.

    It begins with the rows that stand when it is made, in a solver of its own; ``work`` says what
    it took.
    """

    def __init__(self, standing: HeldModel, optimum: Optimum, reading: RunReading) -> None:
        self._uses, self._model, self._reading = standing.uses, standing.model, reading
        self._optimum, self._meter = optimum, Meter()
        uses = self._uses
        self._hays = (cheapest_hays(uses, optimum, HAYS_LOOKED_AT) | uses.must) & uses.possible
        upper = np.where(self._hays, self._model.upper[uses.column], 0.0)
        # The last solve may stand far away, at another reading's program and prices.
        self._held = standing.beside(np.zeros(len(upper)), upper, self._meter)

    def amounts(self, begin: FloatArray | None = None) -> FloatArray:
        """Work out the hay amounts when few hays in long runs are preferred.

        ``begin``: a program whose hays are preferred first, else those of the relaxation are.
        """
        uses, model, share = self._uses, self._model, self._reading.sparse
        head_days = model.problem.needs.head_days.ravel()[uses.cell]
        dear = share * float(np.abs(model.cost[uses.column]).mean()) * head_days
        x = (self._optimum.x if begin is None else begin)[uses.column]
        for _ in range(REWEIGHTINGS if begin is None else NEARER_REWEIGHTINGS):
            cost = model.cost.copy()
            cost[uses.column] += dear / head_days.mean() / (_smoothed(uses, x) + SOFT_KG)
            self._held.charge(cost)
            x = self._held.minimise().x[uses.column]
        return x

    def uses_of(self, amounts: FloatArray) -> BoolArray:
        """Read the hays in use off such amounts."""
        return read_off(self._uses, self._hays, amounts, self._reading.run)

    @property
    def work(self) -> float:
        """Return what the amounts took to work out, in units of work."""
        return self._meter.work


def first_uses(
    standing: HeldModel, optimum: Optimum, reading: RunReading, begin: FloatArray | None = None
) -> BoolArray:
    """Return the hays in use of a first program, or of one near another that they begin from."""
    if not len(standing.uses.column):
        return standing.uses.must
    look = Look(standing, optimum, reading)
    found = look.amounts(begin)
    standing.session.meter.work += look.work
    return look.uses_of(found)


def uses_like(uses: LotUse, model: Model, other: Sequence[HayUse], optimum: Optimum) -> BoolArray:
    """Return the hays in use that are most like those of another program.

    ``uses``: the hay amounts. ``model``: the linear program they are of. ``optimum``: the
    relaxation, which fills the periods of which the other program says nothing. Returns by position
    in ``uses``; the rules about hays in use hold.
    """
    needs = model.problem.needs
    groups = {one.group_id: g for g, one in enumerate(needs.groups)}
    sources = {one.source_id: i for i, one in enumerate(model.problem.sources.values)}
    eaten = np.zeros(model.problem.shape)
    for row in other:
        g, i = groups.get(row.group_id, NOWHERE), sources.get(row.source_id, NOWHERE)
        if not is_placed(g) or not is_placed(i):
            continue
        end = row.start + timedelta(days=row.days)
        for t, period in enumerate(needs.periods):
            last = period.start + timedelta(days=period.days)
            days = (min(end, last) - max(row.start, period.start)).days
            eaten[g, i, t] += row.kg_dm_per_head_day * max(0, days) / period.days
    at = model.columns
    wanted = eaten[at.group, at.source, at.period][uses.column]
    fed = is_some(np.bincount(uses.cell, wanted))
    wanted = np.where(fed[uses.cell], wanted, optimum.x[uses.column])
    return read_off(uses, uses.possible | uses.must, wanted, READINGS[0].run)


def _smoothed(uses: LotUse, x: FloatArray) -> FloatArray:
    """Return every amount averaged with those of the same hay before and after."""
    total = NEAR[0] * x
    for link in (uses.before, uses.after):
        step = np.arange(len(x))
        for weight in NEAR[1:]:
            step = np.where(placed(step), link[step], NOWHERE)
            total = total + weight * np.where(placed(step), x[step], 0.0)
    return np.asarray(total / (2.0 * sum(NEAR) - NEAR[0]))


def read_off(uses: LotUse, hays: BoolArray, x: FloatArray, run: float) -> BoolArray:
    """Return runs that hold as much of the wanted amounts as the rules and the stocks allow."""
    used = _read_off(uses, hays, x, run, np.unique(uses.group))
    for _ in range(SHARED_OUT):
        least_wanted = _least_wanted_run(uses, used, x)
        if not len(least_wanted):
            break
        hays = hays.copy()
        hays[least_wanted] = False
        group = uses.group[least_wanted[:1]]
        mine = uses.group == group
        used[mine] = _read_off(uses, hays, x, run, group)[mine]
    return used


def _least_wanted_run(uses: LotUse, used: BoolArray, x: FloatArray) -> IntArray:
    """Return the run that is wanted least of a hay that cannot give all the least; none if none."""
    for source in uses.too_little_of(used).tolist():
        begins = np.flatnonzero(used & (uses.source == source) & ~_goes_on(uses, used))
        runs = [_run_from(uses, used, at) for at in begins.tolist()]
        free = [one for one in runs if not uses.must[one].any()]
        if free:
            return min(free, key=lambda one: float(x[one].mean()))
    return np.zeros(0, dtype=np.int64)


def _goes_on(uses: LotUse, used: BoolArray) -> BoolArray:
    return np.where(placed(uses.before), used[uses.before], False)


def _run_from(uses: LotUse, used: BoolArray, at: int) -> IntArray:
    run = []
    while is_placed(at) and used[at]:
        run.append(at)
        at = int(uses.after[at])
    return np.array(run, dtype=np.int64)


def _read_off(
    uses: LotUse, hays: BoolArray, x: FloatArray, run: float, groups: IntArray
) -> BoolArray:
    """Return the runs of some groups, whatever others take of the same hay."""
    used = np.zeros(len(x), dtype=bool)
    begins = uses.may_begin(hays)
    each = [np.flatnonzero((uses.group == group) & hays) for group in groups]
    # No group's runs are another's: two are read off at once.
    with ThreadPoolExecutor(max_workers=READ_AT_ONCE) as pool:
        found = pool.map(lambda mine: _runs(uses, mine, x[mine], begins[mine], run), each)
        for mine, runs in zip(each, found, strict=True):
            used[mine] = runs
    return used


def _runs(
    uses: LotUse, mine: IntArray, wanted: FloatArray, begins: BoolArray, run: float
) -> BoolArray:
    count = len(mine)
    if not count:
        return np.zeros(0, dtype=bool)
    usual = float(wanted[is_some(wanted)].mean()) if is_some(wanted).any() else 1.0
    cells, row = np.unique(uses.cell[mine], return_inverse=True)
    each = np.bincount(row, wanted, minlength=len(cells)).astype(np.float64)
    # Hundreds of dollars are the solver's unit; what is wanted here has none.
    session = Session(
        100.0
        * np.concatenate([-wanted, np.full(count, run * usual), np.full(len(cells), WITHOUT)]),
        np.concatenate([uses.must[mine].astype(np.float64), np.zeros(count + len(cells))]),
        np.concatenate([np.ones(count), begins.astype(np.float64), np.full(len(cells), np.inf)]),
        _enough_rows(uses.most_kg[mine], row, each),
    )
    y_at = np.arange(count)
    for rows in use_rows(uses, y_at, y_at + count, mine):
        session.add_rows(rows)
    session.require_whole(y_at)
    point = session.minimise_whole(READ_OFF)
    if point.x is None:
        return uses.must[mine]
    return np.asarray(point.x[:count] > 0.5)


def _enough_rows(most: FloatArray, row: IntArray, each: FloatArray) -> SparseRows:
    """Write that the hays in use can give what is wanted of hay: ``sum most * y + without``."""
    cells, count = np.arange(len(each)), len(row)
    return SparseRows.of(
        each, np.inf, (row, np.arange(count), most), (cells, 2 * count + cells, 1.0)
    )
