"""The things of one group's rations, chosen by a small search with whole numbers.

What the group shares with others, hay in the yard above all, is priced at what it is worth to the
whole farm just now, so that the search holds the group's own rows alone.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Final

import numpy as np

from rickyard.program.rations.held import HeldRations
from rickyard.program.solver import (
    NOWHERE,
    Entries,
    Optimum,
    SearchLimits,
    Session,
    SparseRows,
    is_placed,
    numbered,
    placed,
)
from rickyard.types import BoolArray, FloatArray, IntArray

#: So many hays, the cheapest at the prices of the program, are looked at in each ration.
HAYS_LOOKED_AT: Final = 7

#: Less than this is not fed, kg DM per head and day.
NOTHING_KG: Final = 1e-6


@dataclass(frozen=True, slots=True)
class Choice:
    """What a group has in use, by tied amount, and the whole loads that go with it.

    ``loads`` is ``None`` where what is shared was priced.
    """

    used: BoolArray
    loads: FloatArray | None


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
    group: int,
    candidates: BoolArray,
    prices: Optimum,
    limits: SearchLimits,
    others: BoolArray | None = None,
) -> Choice | None:
    """Return what a group has in use when its things are chosen anew.

    Parameters
    ----------
    held : HeldRations
        The rations.
    group : int
        The group.
    candidates : array of bool
        Among which of the group's amounts is chosen.
    prices : Optimum
        A tied answer, for what is shared with other groups.
    limits : SearchLimits
        When the search ends.
    others : array of bool, optional
        What else is in use, by other groups or in other rations, whose amounts then move too;
        without it what is shared is paid for at the prices.

    Returns
    -------
    Choice or None
        ``None`` where nothing was found.
    """
    if others is None:
        session, columns = _own_program(held, group, candidates, prices)
    else:
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
    span = held.span[at]
    hay = held.limits.is_hay[held.source[at]]
    for which, most_of in ((hay | ~hay, held.limits.things), (hay, held.limits.hays)):
        _at_most(session, y, span, which, int(most_of[group]), must)
    _begun(session, held, at, y, np.zeros_like(candidates) if others is None else others)
    loads = columns[held.loads]
    session.require_whole(np.concatenate([y, loads[placed(loads)]]))
    point = session.minimise_whole(limits)
    if point.x is None:
        return None
    found = np.zeros(len(held.at), dtype=bool)
    found[at] = point.x[y] > 0.5
    whole = np.array([np.round(point.x[one]) if is_placed(one) else 0.0 for one in loads])
    return Choice(found, whole if others is not None else None)


def _own_program(
    held: HeldRations, group: int, candidates: BoolArray, prices: Optimum
) -> tuple[Session, IntArray]:
    """Open a session on a group's own variables, and return where they stand in it.

    Rows of the group alone stay; of the others only those of hay in the yard do, for the group
    alone, and all are paid for at their prices.
    """
    tied = held.session
    rows = tied.inner.all_rows()
    mine = held.ties.owner == group
    closed = held.at[(held.group == group) & held.counts & ~candidates]
    mine[closed] = False
    kept = np.flatnonzero(mine)
    place = numbered(kept, held.ties.count)
    own = placed(place[rows.column])
    others = held.ties.owner[rows.column] != group
    count = len(rows.lower)
    shared = np.bincount(rows.row[others], minlength=count) > 0
    here = np.bincount(rows.row[own], minlength=count) > 0
    cost = tied.inner.costs()
    paid = own & shared[rows.row]
    cost -= np.bincount(
        rows.column[paid],
        prices.row_dual[rows.row[paid]] * rows.value[paid],
        minlength=len(cost),
    )
    yard = np.zeros(count, dtype=bool)
    yard[tied.inner_rows(held.model.stock_row)] = True
    wanted = here & (~shared | yard)
    number = numbered(np.flatnonzero(wanted), count)
    chosen = own & wanted[rows.row]
    session = Session(
        cost[kept],
        np.where(np.isin(kept, held.at[held.counts]), 0.0, tied.lower[kept]),
        tied.upper[kept],
        SparseRows(
            number[rows.row[chosen]],
            place[rows.column[chosen]],
            rows.value[chosen],
            rows.lower[wanted],
            rows.upper[wanted],
        ),
        tied.meter,
    )
    return session, place


def _at_most(
    session: Session, y: IntArray, span: IntArray, which: BoolArray, most: int, must: BoolArray
) -> None:
    """Write that no more than so many are in use in each ration, or as many as have to be."""
    at = np.flatnonzero(which)
    spans, row = np.unique(span[at], return_inverse=True)
    if len(spans):
        wished = np.bincount(row, must[at], minlength=len(spans))
        upper = np.maximum(wished, float(most))
        session.add_rows(SparseRows.of(-np.inf, upper, (row, y[at], 1.0)))


def _begun(
    session: Session, held: HeldRations, at: IntArray, y: IntArray, others: BoolArray
) -> None:
    """Price the beginning of a hay after the first ration.

    A hay of the ration before that is in use in any case is not begun.
    """
    price = held.limits.change_usd
    place = {(int(held.source[k]), int(held.span[k])): n for n, k in enumerate(at.tolist())}
    kept = np.flatnonzero(others & (held.group == held.group[at[0]])) if len(at) else at
    on = set(zip(held.source[kept].tolist(), held.span[kept].tolist(), strict=True))
    begins, before = [], []
    for n, k in enumerate(at.tolist()):
        earlier = (int(held.source[k]), int(held.span[k]) - 1)
        if held.limits.is_hay[held.source[k]] and is_placed(earlier[1]) and earlier not in on:
            begins.append(n)
            before.append(place.get(earlier, NOWHERE))
    if price <= 0.0 or not begins:
        return
    count, first = len(begins), np.array(before, dtype=np.int64)
    z = session.add_columns(np.full(count, price), np.zeros(count), np.ones(count))
    rows, there = np.arange(count), placed(first)
    blocks: list[Entries] = [(rows, y[begins], 1.0), (rows, z, -1.0)]
    blocks.append((rows[there], y[first[there]], -1.0))
    session.add_rows(SparseRows.of(-np.inf, np.zeros(count), *blocks))
