"""Of what can hurt when it is new, one thing begins in a week: the others wait for their turn."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Final

import numpy as np

from rickyard.program.problem import APART_DAYS, KINDS
from rickyard.safety import Binding
from rickyard.types import BoolArray, FloatArray

#: Less is not fed, kg as fed for the group.
NOTHING_KG: Final = 1e-9


def waiting(
    asked: Mapping[str, FloatArray], rules: list[Binding], known: frozenset[str]
) -> dict[str, BoolArray]:
    """Return the days on which a source that is asked for waits for its turn.

    Parameters
    ----------
    asked : mapping
        Kilograms of each source on each day.
    rules : list of Binding
        The rules of safety that bind on one group.
    known : frozenset of str
        Sources that the group was fed just before the first day.

    Returns
    -------
    dict
        By source, of those that may have to wait. What begins with another on a day, or within the
        week after another, waits until a week after it: nitrate hay first, then grain, then urea.
    """
    members = _kinds(rules, frozenset(asked))
    begun: list[tuple[int, int, str]] = []
    for number, kind in enumerate(KINDS):
        mine = members.get(kind, frozenset())
        if not mine:
            continue
        fed = np.sum([asked[one] for one in sorted(mine)], axis=0) > NOTHING_KG
        before = np.concatenate([[bool(mine & known)], fed[:-1]])
        begun += [(int(day), number, kind) for day in np.flatnonzero(fed & ~before)]
    count = len(next(iter(asked.values()), np.zeros(0)))
    closed = {kind: np.zeros(count, dtype=bool) for kind in members}
    last, last_kind = -APART_DAYS, ""
    for day, _, kind in sorted(begun):
        opens = max(day, last + APART_DAYS) if kind != last_kind else day
        closed[kind][day:opens] = True
        last, last_kind = opens, kind
    return {one: closed[kind] for kind, mine in members.items() for one in mine}


def _kinds(rules: list[Binding], fed: frozenset[str]) -> dict[str, frozenset[str]]:
    """Return the sources of each danger; a feed with urea goes by its urea."""
    npn = frozenset(one.source_id for one in rules if one.found.finding == "begin_npn")
    steps = frozenset(one.source_id for one in rules if one.rule.demand == "step")
    found = {
        "nitrate": frozenset(one.source_id for one in rules if one.rule.demand == "begin"),
        "grain": steps - npn,
        "npn": steps & npn,
    }
    return {kind: mine & fed for kind, mine in found.items() if mine & fed}
