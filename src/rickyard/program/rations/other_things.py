"""Other things for rations: exchanged one for another, or chosen by a small search.

At the prices of a program every thing that is not in a ration has a worth there. What is worth
most is tried in place of each thing of the ration, or beside them where there is room, by solving
the linear program again from where it stands, which takes a moment. A small search with whole
numbers finds the best of all things of one ration, with the amounts of all others moving. And two
rations at a time are opened to anything, and the least of what they then hold is left out until
they hold few things again: that lets two of them trade a hay.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from typing import Final

import numpy as np

from rickyard.program.rations.few_things import ration_of, too_many
from rickyard.program.rations.held import HeldRations
from rickyard.program.solver import (
    NOWHERE,
    Entries,
    Optimum,
    SearchLimits,
    Session,
    SolveError,
    SparseRows,
    is_placed,
    placed,
)
from rickyard.quantities import is_some
from rickyard.types import BoolArray, FloatArray, IntArray

#: So many hays, the cheapest at the prices of the program, are looked at in each ration.
HAYS_LOOKED_AT: Final = 7

#: Less than this is not fed, kg DM per head and day.
NOTHING_KG: Final = 1e-6

#: So many things that are worth most are tried in each ration.
TRIED: Final = 4

#: A program must be cheaper by this share of its cost.
BETTER: Final = 1e-5

#: So many times something is left out of opened rations, before they are left as they were; and
#: what comes to this share of its least is raised to it rather than left out.
MOST_STEPS: Final = 40
RAISED_FROM: Final = 0.5

#: All rations are opened in turn until so many rounds gained nothing.
IDLE_ROUNDS: Final = 2


@dataclass(frozen=True, slots=True)
class Choice:
    """What a ration has in use, by tied amount, and the whole loads that go with it."""

    used: BoolArray
    loads: FloatArray


def looked_at(held: HeldRations, group: int, used: BoolArray, prices: Optimum) -> BoolArray:
    """Return the amounts of a group among which its things are chosen.

    Parameters
    ----------
    held : HeldRations
        The rations.
    group : int
        The group.
    used : array of bool
        What is in use now, by tied amount.
    prices : Optimum
        A tied answer; hays that would add least to its cost are looked at.
    """
    drop = prices.reduced_cost[held.at]
    mine = (held.group == group) & held.counts & (held.most >= held.least)
    hay = held.limits.is_hay[held.source]
    chosen = mine & (~hay | used | held.must | (prices.x[held.at] > NOTHING_KG))
    for span in np.unique(held.span[mine]).tolist():
        here = np.flatnonzero(mine & hay & (held.span == span))
        order = here[np.argsort(drop[here], kind="stable")]
        chosen[order[:HAYS_LOOKED_AT]] = True
    return np.asarray(chosen)


def choose_things(
    held: HeldRations,
    candidates: BoolArray,
    limits: SearchLimits,
    others: BoolArray,
    changes: bool = True,
) -> Choice | None:
    """Return what rations have in use when their things are chosen anew.

    Parameters
    ----------
    held : HeldRations
        The rations.
    candidates : array of bool
        Among which amounts is chosen, all that may be in use of each ration.
    limits : SearchLimits
        When the search ends.
    others : array of bool
        What else is in use, by other groups or in other rations, whose amounts move too.
    changes : bool
        Whether what the change of a hay costs is counted. With many rations that takes far longer.

    Returns
    -------
    Choice or None
        ``None`` where nothing was found.
    """
    session, columns = held.opened(others, candidates)
    at = np.flatnonzero(candidates)
    x_at = columns[held.at[at]]
    count = len(at)
    must = held.must[at]
    y = session.add_columns(np.zeros(count), must.astype(np.float64), np.ones(count))
    rows = np.arange(count)
    most, least = held.most[at], held.least[at]
    session.add_rows(SparseRows.of(-np.inf, np.zeros(count), (rows, x_at, 1.0), (rows, y, -most)))
    session.add_rows(SparseRows.of(np.zeros(count), np.inf, (rows, x_at, 1.0), (rows, y, -least)))
    ration = ration_of(held)[at]
    hay = held.limits.is_hay[held.source[at]]
    for which, most_of in ((hay | ~hay, held.limits.things), (hay, held.limits.hays)):
        _at_most(session, y, ration, which, most_of[held.group[at]], must)
    if changes:
        _begun(session, held, at, y, others)
    loads = columns[held.loads]
    session.require_whole(np.concatenate([y, loads[placed(loads)]]))
    point = session.minimise_whole(limits)
    if point.x is None:
        return None
    found = np.zeros(len(held.at), dtype=bool)
    found[at] = point.x[y] > 0.5
    whole = np.array([np.round(point.x[one]) if is_placed(one) else 0.0 for one in loads])
    return Choice(found, whole)


def _at_most(
    session: Session,
    y: IntArray,
    ration: IntArray,
    which: BoolArray,
    most: IntArray,
    must: BoolArray,
) -> None:
    """Write that no more than so many are in use in each ration, or as many as have to be."""
    at = np.flatnonzero(which)
    rations, first, row = np.unique(ration[at], return_index=True, return_inverse=True)
    if len(rations):
        wished = np.bincount(row, must[at], minlength=len(rations))
        upper = np.maximum(wished, most[at][first].astype(np.float64))
        session.add_rows(SparseRows.of(-np.inf, upper, (row, y[at], 1.0)))


def _begun(
    session: Session, held: HeldRations, at: IntArray, y: IntArray, others: BoolArray
) -> None:
    """Price the beginning of a hay after the first ration.

    A hay of the ration before that is in use in any case is not begun.
    """
    price = held.limits.change_usd
    place = {_of_hay(held, k): n for n, k in enumerate(at.tolist())}
    on = {_of_hay(held, k) for k in np.flatnonzero(others).tolist()}
    begins, before = [], []
    for n, k in enumerate(at.tolist()):
        earlier = _of_hay(held, k, before=1)
        if held.limits.is_hay[held.source[k]] and is_placed(earlier[2]) and earlier not in on:
            begins.append(n)
            before.append(place.get(earlier, NOWHERE))
    if not is_some(price) or not begins:
        return
    count, first = len(begins), np.array(before, dtype=np.int64)
    z = session.add_columns(np.full(count, price), np.zeros(count), np.ones(count))
    rows, there = np.arange(count), placed(first)
    blocks: list[Entries] = [(rows, y[begins], 1.0), (rows, z, -1.0)]
    blocks.append((rows[there], y[first[there]], -1.0))
    session.add_rows(SparseRows.of(-np.inf, np.zeros(count), *blocks))


def _of_hay(held: HeldRations, k: int, before: int = 0) -> tuple[int, int, int]:
    """Return group, source and ration of a tied amount, or of the same in a ration before it."""
    return int(held.group[k]), int(held.source[k]), int(held.span[k]) - before


class _Trials:
    """Programs with given cuts and loads, tried one after another by what they have in use."""

    def __init__(self, held: HeldRations, used: BoolArray, loads: FloatArray) -> None:
        self.held, self.used, self.loads = held, used & held.counts, loads
        self.ration = ration_of(held)
        self.hay = held.limits.is_hay[held.source]

    @property
    def possible(self) -> BoolArray:
        """Return which amounts could be in use."""
        return np.asarray(self.held.counts & (self.held.most >= self.held.least))

    def _begun(self) -> bool:
        """Solve the program to begin with, and say whether that can be."""
        now = self._solved(self.used)
        if now is not None:
            self.now, self.usd = now, self._usd(now, self.used)
        return now is not None

    def _solved(self, used: BoolArray, free: BoolArray | None = None) -> Optimum | None:
        self.held.hold_with(used, self.loads, free)
        try:
            return self.held.session.inner.minimise()
        except SolveError:
            return None

    def _usd(self, at: Optimum, used: BoolArray) -> float:
        held = self.held
        return held.cost_of(held.session.expand(at.x), held.weekly_use(used))

    def _enough(self) -> float:
        """Return what a program must cost less than."""
        return self.usd - BETTER * max(1.0, abs(self.usd))

    def _kept(self, used: BoolArray, found: Optimum) -> bool:
        """Keep a program if it is cheaper."""
        if found.objective >= self._enough() or self._usd(found, used) >= self._enough():
            return False
        self.used, self.now, self.usd = used, found, self._usd(found, used)
        return True


class Exchange(_Trials):
    """Exchanges of things in rations with given cuts and given loads.

    Parameters
    ----------
    held : HeldRations
        The rations.
    used : array of bool
        What is in use, by tied amount.
    loads : array
        Whole loads.
    most : int
        How many programs are tried.
    """

    def __init__(self, held: HeldRations, used: BoolArray, loads: FloatArray, most: int) -> None:
        super().__init__(held, used, loads)
        self.left = most

    def run(self) -> BoolArray:
        """Return the things of the cheapest program found."""
        gained = self._begun()
        while gained and is_some(self.left):
            gained = False
            for one in self._in_order():
                gained |= self._change(one)
        return self.used

    def _in_order(self) -> list[int]:
        """Return the rations, those first in which something is worth most."""
        worth = self._worth(self.now)
        most = np.zeros(int(self.ration.max(initial=-1)) + 1)
        np.maximum.at(most, self.ration, np.where(self.used, 0.0, worth))
        there = np.unique(self.ration[self.held.counts])
        return [int(one) for one in there[np.argsort(-most[there], kind="stable")]]

    def _worth(self, at: Optimum) -> FloatArray:
        """Return what the least of each thing would save, by tied amount."""
        held = self.held
        saved = -at.reduced_cost[held.at] * np.maximum(held.least, NOTHING_KG)
        return np.asarray(np.where(self.possible, saved, -np.inf))

    def _change(self, ration: int) -> bool:
        """Try exchanges in a ration until none is better."""
        gained = False
        while is_some(self.left) and self._once(np.flatnonzero(self.ration == ration)):
            gained = True
        return gained

    def _once(self, here: IntArray) -> bool:
        mine = here[self.used[here]]
        fixed = self.held.must[mine]
        worth = self._worth(self.now)
        for out in mine[~fixed & is_some(self.now.reduced_cost[self.held.at[mine]])].tolist():
            if self._take(out, -1):
                return True
        closed = here[~self.used[here] & is_some(worth[here])]
        for new in closed[np.argsort(-worth[closed], kind="stable")][:TRIED].tolist():
            for out in [-1, *mine[~fixed].tolist()]:
                if self._room(mine, new, out) and self._take(out, new):
                    return True
        return False

    def _room(self, mine: IntArray, new: int, out: int) -> bool:
        limits, group = self.held.limits, int(self.held.group[new])
        after = np.append(mine[mine != out], new)
        hays = int(self.hay[after].sum())
        within = hays <= limits.hays[group] or hays <= int(self.hay[mine].sum())
        return within and len(after) <= max(int(limits.things[group]), len(mine))

    def _take(self, out: int, new: int) -> bool:
        if not is_some(self.left):
            return False
        self.left -= 1
        at = np.arange(len(self.used))
        used = (self.used & (at != out)) | (at == new)
        found = self._solved(used)
        return found is not None and self._kept(used, found)


class Reopening(_Trials):
    """Rations of a program opened two at a time, and given few things anew.

    Parameters
    ----------
    held : HeldRations
        The rations.
    used : array of bool
        What is in use, by tied amount.
    loads : array
        Whole loads.
    seed : int
        Decides which rations are opened together.
    """

    def __init__(self, held: HeldRations, used: BoolArray, loads: FloatArray, seed: int) -> None:
        super().__init__(held, used, loads)
        self._chance = np.random.default_rng(seed)

    def run(self, over: Callable[[], bool]) -> BoolArray:
        """Return the things of the cheapest program found until it is over.

        Parameters
        ----------
        over : callable
            Says whether to end.
        """
        idle = 0 if self._begun() else IDLE_ROUNDS
        rations = np.unique(self.ration[self.held.counts])
        while idle < IDLE_ROUNDS:
            gained = False
            for one in self._chance.permutation(rations).tolist():
                if over():
                    return self.used
                gained |= self._again((self.ration == one) | (self.ration == self._beside(one)))
            idle = 0 if gained else idle + 1
        return self.used

    def _beside(self, ration: int) -> int:
        """Return another ration: of the same group, of the same weeks, or one that shares a hay."""
        held, mine = self.held, self.ration == ration
        other = held.counts & ~mine
        apart = np.abs(held.week - held.week[mine][0]).astype(np.float64)
        which = self._chance.integers(3)
        if which == 0:
            apart[held.group != held.group[mine][0]] += len(mine)
        elif which == 1:
            apart[held.group == held.group[mine][0]] += len(mine)
        else:
            hays = held.source[mine & self.used & self.hay]
            apart[~(self.used & np.isin(held.source, hays))] += len(mine)
        apart = np.where(other, apart + self._chance.random(len(mine)), np.inf)
        return int(self.ration[np.argmin(apart)])

    def _again(self, some: BoolArray) -> bool:
        """Give some rations few things anew, and keep them if that is cheaper."""
        used = self.used & (~some | self.held.must)
        free = some & self.possible & ~used
        for _ in range(MOST_STEPS):
            at = self._solved(used, free)
            if at is None or at.objective >= self._enough():
                return False
            x = at.x[self.held.at]
            size = x / np.maximum(self.held.least, NOTHING_KG)
            # What must be fed takes a place though there is none of it here: there may be later.
            fed = used | ((x > NOTHING_KG) & free)
            out = too_many(self.held, fed, size, kept=self.held.must) & some
            if not out.any():
                small = free & fed & (size < 1.0 - NOTHING_KG)
                if not small.any():
                    used = used | (fed & some)
                    found = self._solved(used)
                    return found is not None and self._kept(used, found)
                raised, out = self._raised(small, size)
                used = used | raised
            free = free & ~out & ~used
        return False

    def _raised(self, small: BoolArray, size: FloatArray) -> tuple[BoolArray, BoolArray]:
        """Return of each ration what is raised to its least or else left out.

        The largest is raised where it is not far from its least; else the smallest is left out.
        """
        raised, out = np.zeros_like(small), np.zeros_like(small)
        for one in np.unique(self.ration[small]).tolist():
            here = np.flatnonzero(small & (self.ration == one))
            largest = here[np.argmax(size[here])]
            if size[largest] >= RAISED_FROM:
                raised[largest] = True
            else:
                out[here[np.argmin(size[here])]] = True
        return raised, out
