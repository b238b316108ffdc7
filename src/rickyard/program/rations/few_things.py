"""Few things a ration, by leaving out the least of too many, time after time.

With everything free the cheapest amounts of a ration already hold few things. Where they hold more
than may be, or less of one than is worth carrying out, the least of them is left out and all
amounts are found anew, until every ration keeps to its limits. Another way to begin is a price on
each thing of rations that hold too many, by what there is of it, that rises until they hold few.
"""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import suppress
from dataclasses import dataclass
from typing import Final

import numpy as np

from rickyard.program.rations.held import HeldRations
from rickyard.program.solver import SolveError, nowhere, placed
from rickyard.quantities import is_some
from rickyard.types import BoolArray, FloatArray, IntArray

#: Less than this is not fed, kg DM per head and day.
NOTHING_KG: Final = 1e-6

#: Amounts under their leasts are raised to them as far as they make up this share of one more, the
#: largest first, and the others left out.
RAISED_FROM: Final = 0.6

#: Rounds after which what is in use then is held, whatever it is.
MOST_ROUNDS: Final = 20

#: The price of a thing in a ration that holds too many: at first, as a share of what a ration costs
#: in the mean, and how it rises. A thing is counted as no less than a part of its least, and rounds
#: end after so many.
FIRST_PRICE: Final = 5e-4
PRICE_RISES: Final = 1.2
LEAST_PART: Final = 0.3
PRICE_ROUNDS: Final = 60


def dear_things(held: HeldRations) -> BoolArray:
    """Return few things for every ration, or nearly, by a price on each of what are too many.

    A thing costs its price for what there is of it, so that what there is little of goes first,
    and as others take its place the price stands on what is left.

    Parameters
    ----------
    held : HeldRations
        The rations with their cuts; anything may be in use in them afterwards.

    Returns
    -------
    array of bool
        Among which tied amounts to look for few things.
    """
    session, usd = held.session.inner, held.session.inner.costs()
    held.hold(np.zeros_like(held.counts), held.counts)
    now = held.tied_answer(moving=8)
    ration = ration_of(held)
    price = np.zeros(int(ration.max(initial=0)) + 1)
    first = FIRST_PRICE * max(1.0, abs(now.objective)) / len(price)
    least, dear = np.maximum(held.least, NOTHING_KG), np.zeros(len(ration))
    loose = held.counts & ~held.must
    for _ in range(PRICE_ROUNDS):
        x = now.x[held.at]
        fed = (x > NOTHING_KG) & held.counts
        small = fed & (x < least * (1.0 - NOTHING_KG))
        out = too_many(held, fed, x / least, kept=held.must) | (small & loose)
        if not out.any():
            break
        wrong = np.unique(ration[out])
        price[wrong] = np.where(is_some(price[wrong]), price[wrong] * PRICE_RISES, first)
        each = price[ration] / np.where(fed, np.maximum(x, LEAST_PART * least), least)
        dear = np.where(loose, np.where(fed, each, np.maximum(dear, each)), 0.0)
        session.set_cost(_with(usd, held.at, dear))
        now = session.minimise()
    session.set_cost(usd)
    return np.asarray((now.x[held.at] > NOTHING_KG) & held.counts)


def _with(usd: FloatArray, at: IntArray, more: FloatArray) -> FloatArray:
    found = usd.copy()
    found[at] += more
    return found


def few_things(held: HeldRations, among: BoolArray | None = None) -> BoolArray:
    """Return things in use that keep to the limits of every ration, by tied amount.

    Parameters
    ----------
    held : HeldRations
        The rations with their cuts; held to what is returned.
    among : array of bool, optional
        Among which tied amounts; anything where it is not given.

    Returns
    -------
    array of bool
        What is in use. What must be fed is.
    """
    free, must = held.counts.copy(), held.must & held.counts
    if among is not None:
        free &= among | must
    used = must
    raised = np.zeros_like(used)
    needed, out = np.zeros_like(used), np.zeros_like(used)
    fed, size = used, np.ones(len(used))
    yard = _yard_of(held)
    for number in range(MOST_ROUNDS):
        held.hold(used | raised, free & ~(used | raised))
        try:
            x = held.tied_answer(moving=8, rough=bool(number)).x[held.at]
        except SolveError:
            # There is not as much hay as all who were raised would have to get of it, or what must
            # be fed does not go without what was left out, just now or before.
            gone = held.counts & ~free & ~needed
            if raised.any():
                free = free & ~raised
            elif out.any() or gone.any():
                back = out if out.any() else gone
                needed, free = needed | back, free | back
                out = np.zeros_like(out)
            elif (used & ~must).any():
                used = must
            else:
                raise
            raised = np.zeros_like(raised)
            continue
        used = used | raised
        fed = (x > NOTHING_KG) & held.counts
        size = x / np.maximum(held.least, NOTHING_KG)
        out = too_many(held, fed, size, kept=must | needed)
        small = free & ~used & fed & (x < held.least * (1.0 - NOTHING_KG))
        small &= ~np.isin(ration_of(held), ration_of(held)[out])
        raised = yard.enough_for(held.least, used, _largest(held, small, size, fed & ~small), size)
        out = (out | small & ~raised) & ~needed
        free = free & ~out
        if not out.any() and not raised.any():
            break
    kept = yard.enough_for(held.least, must, (used | fed) & held.counts & free, size)
    return _within(held, _possible(held, kept | must))


@dataclass(frozen=True, slots=True)
class Yard:
    """What the leasts of tied amounts take of the stock of each lot and of feeds sold by weight.

    ``lot`` numbers the lot of each tied amount, -1 where there is no end of it; ``takes`` is what
    a kilogram a head and day takes of it, and ``there`` what there is.
    """

    lot: IntArray
    takes: FloatArray
    there: FloatArray

    def enough_for(
        self, least: FloatArray, used: BoolArray, wanted: BoolArray, size: FloatArray
    ) -> BoolArray:
        """Return what of the wanted can get its least beside what is in use, the largest first."""
        taken = self.takes * least
        mine = used & placed(self.lot)
        left = self.there - np.bincount(self.lot[mine], taken[mine], minlength=len(self.there))
        kept = wanted & ~placed(self.lot)
        at = np.flatnonzero(wanted & ~used & placed(self.lot))
        for one in at[np.argsort(-size[at], kind="stable")].tolist():
            if taken[one] <= left[self.lot[one]]:
                kept[one] = True
                left[self.lot[one]] -= taken[one]
        return np.asarray(kept | (wanted & used))


def _yard_of(held: HeldRations) -> Yard:
    rows = held.session.inner.all_rows()
    limits = held.session.inner_rows(np.concatenate([held.model.stock_row, held.model.buy_row]))
    in_loads = np.zeros(len(rows.lower), dtype=bool)
    in_loads[rows.row[rows.value < 0.0]] = True
    wanted = np.zeros(len(rows.lower), dtype=bool)
    wanted[limits] = True
    amount = nowhere(held.ties.count)
    amount[held.at] = np.arange(len(held.at))
    mine = wanted[rows.row] & ~in_loads[rows.row] & placed(amount[rows.column])
    lot, takes = nowhere(len(held.at)), np.zeros(len(held.at))
    lot[amount[rows.column[mine]]] = rows.row[mine]
    takes[amount[rows.column[mine]]] = rows.value[mine]
    return Yard(lot, takes, rows.upper)


def _possible(held: HeldRations, used: BoolArray) -> BoolArray:
    """Leave out what cannot get its least until there is enough for all that is left.

    With the leasts lifted, what gets the smallest part of its own is what stands in the way.
    """
    while True:
        held.hold(used)
        try:
            held.tied_answer(rough=True)
        except SolveError:
            left_out = np.flatnonzero(used & ~held.must)
            if not len(left_out):
                raise
            held.hold(used & held.must, used & ~held.must)
            x = held.tied_answer(rough=True).x[held.at]
            part = x / np.maximum(held.least, NOTHING_KG)
            used = used.copy()
            used[left_out[np.argmin(part[left_out])]] = False
            continue
        return used


def _within(held: HeldRations, used: BoolArray) -> BoolArray:
    """Leave out of rations that still hold too many what they do best without.

    Where nothing that may be left out goes without the rest, a ration keeps what it holds.
    """
    while True:
        held.hold(used)
        x = held.tied_answer(rough=True).x[held.at]
        size = x / np.maximum(held.least, NOTHING_KG)
        out = too_many(held, used, size, kept=held.must)
        other = next((one for one in _without(held, used, out, size) if _goes(held, one)), None)
        if other is None:
            held.hold(used)
            return used
        used = other


def _without(
    held: HeldRations, used: BoolArray, out: BoolArray, size: FloatArray
) -> Iterator[BoolArray]:
    """Yield what is in use without one thing of a ration that holds too many, the least first."""
    ration = ration_of(held)
    here = np.flatnonzero(used & ~held.must & np.isin(ration, ration[out]))
    for one in here[np.argsort(size[here], kind="stable")].tolist():
        other = used.copy()
        other[one] = False
        yield other


def _goes(held: HeldRations, used: BoolArray) -> bool:
    held.hold(used)
    with suppress(SolveError):
        held.tied_answer(rough=True)
        return True
    return False


def too_many(held: HeldRations, fed: BoolArray, size: FloatArray, kept: BoolArray) -> BoolArray:
    """Return the least of each ration that holds too many hays or things, of what is not kept."""
    out = np.zeros_like(fed)
    ration, hay = ration_of(held), held.limits.is_hay[held.source]
    for which, most in ((hay, held.limits.hays), (~hay | hay, held.limits.things)):
        here = fed & which & ~out
        over = np.bincount(ration[here], minlength=int(ration.max(initial=0)) + 1)[ration]
        loose = here & ~kept & (over > np.asarray(most)[held.group])
        for one in np.unique(ration[loose]).tolist():
            left_out = np.flatnonzero(loose & (ration == one))
            out[left_out[np.argmin(size[left_out])]] = True
    return out


def _largest(held: HeldRations, small: BoolArray, size: FloatArray, beside: BoolArray) -> BoolArray:
    """Return of small amounts of a ration as many of the largest as they make up together.

    One is kept where there is nothing else beside it.
    """
    kept, ration = np.zeros_like(small), ration_of(held)
    for one in np.unique(ration[small]).tolist():
        here = np.flatnonzero(small & (ration == one))
        alone = not (beside & (ration == one)).any()
        count = max(int(alone), int(size[here].sum() + 1.0 - RAISED_FROM))
        kept[here[np.argsort(-size[here], kind="stable")[:count]]] = True
    return kept


def ration_of(held: HeldRations) -> IntArray:
    """Return a number of the ration of each tied amount."""
    return np.asarray(held.group * (int(held.span.max(initial=0)) + 1) + held.span)
