"""A second look at whose week it is: of what can hurt when new, one thing begins in a week."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Mapping
from datetime import date, timedelta
from typing import Final

from rickyard.safety import Binding

#: What begins waits so long after another danger. [d]
APART: Final = timedelta(days=7)

#: Who goes first where several begin on a day.
FIRST_COME: Final = ("nitrate", "grain", "urea")


def waits(
    asked: Mapping[str, Mapping[date, float]],
    days: list[date],
    rules: list[Binding],
    known: frozenset[str],
) -> set[tuple[str, date]]:
    """Return each source and day on which it is asked for and has to wait for another.

    Parameters
    ----------
    asked : mapping
        What the program asks for, by source and day.
    days : list of date
        The days of the group, in order.
    rules : list of Binding
        The rules that bind on it.
    known : frozenset of str
        Sources that it was fed in the days before the season.

    Returns
    -------
    set of (str, date)
        Empty where nothing has to wait.
    """
    urea = {one.source_id for one in rules if one.found.finding == "begin_npn"}
    kinds: dict[str, set[str]] = defaultdict(set)
    for one in rules:
        if one.rule.demand == "begin":
            kinds["nitrate"].add(one.source_id)
        elif one.rule.demand == "step":
            kinds["urea" if one.source_id in urea else "grain"].add(one.source_id)
    fed_before = {kind: bool(mine & known & asked.keys()) for kind, mine in kinds.items()}
    held: set[tuple[str, date]] = set()
    last, opened = "", date.min
    until: dict[str, date] = {}
    for day in days:
        for kind in FIRST_COME:
            fed = any(asked.get(one, {}).get(day, 0.0) > 1e-9 for one in kinds[kind])
            if fed and not fed_before.get(kind, False):
                soon = kind != last and last != "" and day < opened + APART
                until[kind] = opened + APART if soon else day
                last, opened = kind, until[kind]
            fed_before[kind] = fed
            if day < until.get(kind, date.min):
                held |= {(one, day) for one in kinds[kind]}
    return held
