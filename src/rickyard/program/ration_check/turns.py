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
FIRST_COME: Final = ("nitrate", "feared", "grain", "urea")

#: What is one danger with another.
DANGER: Final = {"feared": "nitrate"}


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
    kinds = _kinds(rules)
    fed_before = {
        kind: any(one in known and one in asked for one in used_to)
        for kind, (_, used_to) in kinds.items()
    }
    held: set[tuple[str, date]] = set()
    last, opened = "", date.min
    until: dict[str, date] = {}
    for day in days:
        fed = {one for one, kg in asked.items() if kg.get(day, 0.0) > 1e-9}
        for kind in (one for one in FIRST_COME if one in kinds):
            mine, used_to = kinds[kind]
            if mine & fed and not fed_before[kind]:
                danger = DANGER.get(kind, kind)
                other = last not in ("", danger)
                until[kind] = max(day, opened + APART) if other else max(day, opened)
                last, opened = danger, until[kind]
            fed_before[kind] = bool(used_to & fed)
            if day < until.get(kind, date.min):
                held |= {(one, day) for one in mine}
    return held


def _kinds(rules: list[Binding]) -> dict[str, tuple[set[str], set[str]]]:
    """Return the sources of each kind, and those that make stock used to it.

    Hay with nitrate that nobody measured may hold none: it makes nobody used to what holds some.
    """
    urea = {one.source_id for one in rules if one.found.finding == "begin_npn"}
    kinds: dict[str, set[str]] = defaultdict(set)
    for one in rules:
        if one.rule.demand == "begin":
            kinds["feared" if one.found.assumed else "nitrate"].add(one.source_id)
        elif one.rule.demand == "step":
            kinds["urea" if one.source_id in urea else "grain"].add(one.source_id)
    either = kinds["nitrate"] | kinds["feared"]
    return {one: (mine, either if one == "feared" else mine) for one, mine in kinds.items()}
